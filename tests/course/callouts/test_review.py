"""What is said after a callout: safety first, the truth, the costs, and three things to do differently."""

import pytest
from callout_players import careful, hasty

from jetlib.course.callouts.deal import deal
from jetlib.course.callouts.kinds import kinds
from jetlib.course.callouts.play import Play
from jetlib.course.callouts.review import reviewed
from jetlib.course.pages.contents import lessons


@pytest.mark.parametrize("name", kinds())
def test_a_review_says_what_was_true_and_what_to_do(name):
    for player in (careful, hasty):
        play = player(deal(name, 3))
        found = reviewed(play)
        assert [what for what, *_ in found.marks] == ["Safety", "Diagnosis", "Work"]
        assert found.marks[0][1] == play.end.safe
        assert len(found.advice) == 3 and all(
            lesson in {each.number for each in lessons()} for _, lesson in found.advice
        )
        assert found.truth.endswith(".")
    assert all(good for _, good, _ in reviewed(careful(deal(name, 3))).marks)


def test_an_estimate_stands_beside_the_truth_in_either_system():
    play = careful(deal("grease", 3))
    (_, guess, truth), *_ = [row for row in reviewed(play, "US").estimates if row[0].startswith("Gauge at the working")]
    assert guess.endswith("psi") and truth.endswith("psi")
    metric = [row for row in reviewed(play, "metric").estimates if row[0].startswith("Flow")]
    assert metric[0][1].endswith("L/min")


def test_an_unsafe_end_is_the_first_advice():
    play = Play(deal("grease", 3))
    play.do("commit", vars(play.dealt.good), {"gauge": 1e6}, "go")
    play.do("act", "valve")
    found = reviewed(play)
    assert "bypass valve" in found.advice[0][0] and found.advice[0][1] == "05"
    assert not found.marks[0][1] and "Ask on the phone" in found.advice[1][0]


def test_speed_is_never_scored():
    quick, slow = Play(deal("grease", 3)), Play(deal("grease", 3))
    for play, waits in ((quick, 0), (slow, 40)):
        play.do("commit", vars(play.dealt.good), {}, "go")
        play.do("put_in")
        for _ in range(waits):
            play.do("wait")
        play.do("take_out")
        play.do("finish", "healthy")
    assert reviewed(quick).marks == reviewed(slow).marks and slow.minutes > quick.minutes
