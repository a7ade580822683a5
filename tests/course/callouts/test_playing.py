"""Every callout can be played to its end, by anybody: nothing hangs, nothing impossible is read, all of it replays.

Two hundred seeds in all, shared among the kinds and three players.
"""

import json
import math

import pytest
from callout_players import at_random, careful, hasty

from jetlib.course.callouts.deal import deal
from jetlib.course.callouts.kinds import kinds
from jetlib.course.callouts.play import MOST_STEPS, Play, replay
from jetlib.errors import JetlibError

SEEDS = 200
EACH = math.ceil(SEEDS / len(kinds()))
each_kind = pytest.mark.parametrize("name", kinds())


def dealt_of(name, at):
    """The callout at place `at` of a kind: each seed with another surprise."""
    return deal(name, at, at % len(kinds()[name].surprises))


def is_possible(play):
    """Whether all that was seen can be: finite, within the gauge's, the tank's and the hose's ends."""
    run = 1e3 if play.plan is None else float(play.plan.job.drain.length)
    for moment in play.moments:
        seen = moment.seen
        assert math.isfinite(seen.gauge) and 0.0 <= seen.gauge < 1e8
        assert seen.throttle is not None or seen.gauge == 0.0  # a burst disc gone leaves nothing to see at idle
        assert 0.0 <= seen.mark <= run + 0.01 and 0.0 < seen.level <= 1.0
        assert all(math.isfinite(each.value) and each.value >= 0.0 for each in moment.readings if each.kind)
    minutes = [moment.minute for moment in play.moments]
    assert minutes == sorted(minutes) and len(play.moments) <= MOST_STEPS


def looks(play):
    return [(moment.action, moment.notes, moment.minute, moment.seen, moment.true) for moment in play.moments]


@each_kind
def test_everybody_comes_to_an_end_that_is_the_same_again(name):
    for at in range(EACH):
        player = (careful, hasty, at_random)[at % 3]
        play = player(dealt_of(name, at), at) if player is at_random else player(dealt_of(name, at))
        assert play.end is not None, (name, at)
        is_possible(play)
        if at % 4 == 0:
            again = replay(json.loads(json.dumps(play.record())))
            assert looks(again) == looks(play) and again.end == play.end and again.named == play.named


@each_kind
def test_each_can_be_finished_safely_whatever_the_surprise(name):
    for at in range(len(kinds()[name].surprises)):
        play = careful(deal(name, 5, at))
        assert play.end.safe and not play.risks, (at, play.end.words, play.risks, play.actions)
        if kinds()[name].right == "go":
            assert play.drained or play.handed_over, (at, play.washed, play.actions)
            assert play.named == play.cause


def under_way(name):
    """A callout with the nozzle in the pipe and the pump at idle, any plan that works."""
    play = Play(dealt_of(name, 0))
    play.do("commit", vars(play.dealt.good), {}, "go")
    play.do("put_in")
    play.do("throttle", 0.0)
    return play


@each_kind
def test_each_unsafe_act_ends_it_at_once_and_says_why(name):
    made = kinds()[name]
    if made.right == "unsafe":
        play = Play(dealt_of(name, 0))
        play.do("commit", vars(play.dealt.good), {}, "go")
        assert play.end.act is made.refusal and not play.end.safe
        return
    common = {act.key for act in kinds()["grease"].acts} if name != "grease" else set()
    for act in made.acts:
        if act.when == "by itself" or act.key in common:
            continue
        play = under_way(name)
        play.do("act", act.key)
        assert not play.end.safe and play.end.act is act and len(act.why) > 20
        with pytest.raises(JetlibError):
            play.do("stop")


def test_each_unsafe_way_of_doing_something_ends_it_too():
    for ways, key in (
        ([["take_out"]], "out"),
        ([["back", 5.0]], "out"),
        ([["finish", "healthy"]], "out"),
        ([["check", "jets"]], "coupling"),
        ([["fix", "hose"]], "coupling"),
        ([["stop"], ["take_out"]], "coupling"),
        ([["stop"], ["fix", "jets"]], "coupling"),
        ([["stop"], ["relieve"], ["take_out"], ["throttle", 0.0]], "open"),
    ):
        play = under_way("truck")
        for step in ways:
            play.do(*step)
        assert not play.end.safe and play.end.act.key == key, ways


@each_kind
def test_what_is_safe_is_not_punished(name):
    if kinds()[name].right == "unsafe":
        return
    play = under_way(name)
    play.do("stop")
    play.do("relieve")
    for act in kinds()[name].acts:
        if act.when in ("running", "pressure"):
            play.do("act", act.key)
            assert play.end is None


def test_an_old_hose_ends_it_before_it_starts():
    play = Play(dealt_of("grease", 0))
    play.do("commit", {"machine": "yard_trailer", "leader": "old", "rigid": "with extension"}, {}, "go")
    assert not play.end.safe and "RATED" in play.end.words


def test_another_try_is_the_same_job_with_another_surprise():
    one, two = deal("grease", 7), deal("grease", 7, 1)
    assert one.drawn == two.drawn and one.surprise is not two.surprise


def test_what_cannot_be_done_changes_nothing():
    play = Play(dealt_of("grease", 0))
    for wrong in (("dance",), ("feed", 1.0), ("ask", "weather"), ("commit", {"machine": "bike"}, {}, "go"),
                  ("commit", {}, {"luck": 1}, "go"), ("commit", {}, {}, "perhaps")):  # fmt: skip
        with pytest.raises(JetlibError):
            play.do(*wrong)
    assert play.actions == [] and play.minutes == 0.0
    for record in ({}, {"callout": "grease", "seed": 1, "again": 0, "actions": [[]]}, {"callout": "x", "seed": 1}):
        with pytest.raises(JetlibError):
            replay(record)


def test_what_cannot_be_done_now_is_noted_or_refused_and_costs_nothing():
    dealt = next(deal(name, 1) for name, kind in kinds().items() if kind.right == "go")
    play = Play(dealt)
    play.do("commit", vars(dealt.good), {}, "go")

    def noted(*action):
        minutes = play.minutes
        notes = play.do(*action).notes
        assert play.end is None and play.minutes == minutes
        return notes

    assert noted("feed", "10 ft") == ("The nozzle is not in the pipe.",)
    play.do("put_in")
    assert noted("put_in") == ("The nozzle is in the pipe.",)
    assert noted("check", "jets") == noted("fix", "jets") == ("The nozzle is in the pipe: take it out first.",)
    assert noted("check", "tachometer") == ("The pump stands still: this is read while it runs.",)
    assert noted("finish", "healthy") == ("The nozzle is still in the pipe: take it out first.",)
    play.do("feed", "10 ft")
    assert noted("take_out") == ("There is hose in the pipe: pull it back first.",)
    play.do("throttle", 0.0)
    assert noted("relieve") == ("The pump runs: stop it first.",)
    assert noted("fill") == ("The pump runs: stop it before you leave it to fill the tank.",)
    assert noted("call", "yard")[0].startswith("The yard says: stop, relieve the pressure")
    taken = len(play.actions)
    for action, said in [
        (("check", "nose"), "there is no check 'nose'; write one of"),
        (("fix", "nose"), "part is 'nose'; write one of"),
        (("call", "nose"), "write yard or owner"),
        (("act", "nose"), "there is no act 'nose'; write one of"),
        (("act", "rating"), "is nothing to choose"),
        (("finish", "nose"), "cause is 'nose'; write one of"),
        (("feed", "10 ft", "more"), "with plain values"),
        (("fly",), "cannot be done now; write one of"),
    ]:
        with pytest.raises(JetlibError, match=said):
            play.do(*action)
    assert len(play.actions) == taken and play.end is None
