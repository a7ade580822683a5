"""A callout for a class: turns, a vote at each fork, and a table as the other class records."""

import csv
import re
from html import unescape

import pytest

from jetlib.course.callouts.play import chosen, forks
from jetlib.course.classroom import seat_votes
from jetlib.screen.classroom.callout_class import HEADS, callout_class


@pytest.fixture
def room(tmp_path, monkeypatch):
    monkeypatch.setenv("JETLIB_HOME", str(tmp_path / "home"))
    made = callout_class("grease", seed=10, system="US")
    made._named.value = "Red, Blue, Green"
    made._wall["rigid"].value = "with extension"
    return made


def test_teams_decide_in_turn_and_a_vote_does_what_most_want(room):
    assert room.team == "Red"
    room.vote("5 1 0")
    assert room.play.plan is not None and room.team == "Blue" and room.results[0][4:6] == ("Red", "5 1 0")
    room.vote("6")
    assert room.play.inside and room.results[1][4] == "Blue" and "Green decides" in room._turn.value
    room.vote("0 0 0 0 7")  # loosen the coupling, with the pump stopped and nothing to relieve
    assert room.play.end is None
    room.vote("1")
    room.vote("0 0 0 0 9")  # the nozzle out with the jets on
    assert not room.play.end.safe and room.results[-1][-1] == "no" and room._ways.value == ""


def test_every_fork_of_a_callout_can_be_taken(room):
    for turn in range(60):
        ways = forks(room.play)
        if not ways:
            break
        assert 3 <= len(ways) <= 5 and len({words for words, _ in ways}) == len(ways)
        room.vote(" ".join("9" if at == (turn % len(ways) if turn else 0) else "1" for at in range(len(ways))))
        assert len(room.play.actions) == turn + 1, ways
    assert room.play.end is not None


def test_no_seed_stays_where_a_class_can_see_it(room):
    room._seed.value = "4711"
    room.take()
    assert room.play.dealt.seed == 4711 and room._seed.value == ""


def test_nonsense_does_nothing(room):
    for typed in ("", "a b", "-1", "1e9", "0 0 0"):
        room.vote(typed)
    room._named.value = "Only one"
    assert room.play.actions == [] and room.teams == ("Red", "Blue", "Green")
    assert chosen([1, 2, 3], [2, 2, 9, 50]) == 2 and chosen([1, 2], []) is None


def test_the_table_is_written_as_others_are(room, tmp_path):
    room.vote("5")
    room.vote("5")
    room.save_csv()
    assert "write the name" in room._said.value
    room._csv.value = str(tmp_path)
    room.save_csv()
    rows = list(csv.reader((tmp_path / "callouts.csv").read_text("utf-8-sig").splitlines()))
    assert tuple(rows[0]) == HEADS and [row[4] for row in rows[1:]] == ["Red", "Blue"]


def test_teams_table_and_callout_go_on_after_the_kernel_has_stopped(room):
    room.vote("5 1 0")
    room.vote("6")
    later = callout_class("grease", seed=11, system="US")
    assert later.teams == ("Red", "Blue", "Green") and later.results == room.results
    later.go_on()
    assert later.play.moments == room.play.moments and later.team == "Green"
    later.begin_anew()
    assert callout_class("grease", seed=11, system="US").results == []


@pytest.mark.parametrize("more", ['{"results": 5, "teams": 5}', '{"results": [[1]], "teams": [1]}', "[]", '"x"'])
def test_a_damaged_file_breaks_no_page(room, tmp_path, more):
    room.vote("5 1 0")
    kept = tmp_path / "home/callouts.json"
    kept.write_text(re.sub(r'"more": \{.*?\}\}\}', f'"more": {more}}}}}', kept.read_text()))
    assert f'"more": {more}' in kept.read_text()
    assert callout_class("grease", system="US").results == []


def shown(room):
    def words(box):
        return [box.value] if hasattr(box, "value") else [word for each in box.children for word in words(each)]

    return unescape(" ".join(map(str, words(room.stage._main))))


def test_a_room_is_shown_fork_by_fork_what_is_seen_and_no_truth(room):
    assert shown(room) == "", "nothing is on the page twice before it is opened"
    room.stage._open()
    seen = [shown(room)]
    for part in ("asked", "plan", "ways"):
        room.stage.next()
        seen.append(shown(room))
        assert room.stage.parts[room.stage.part] == part
    room._votes.value = "5 1 0"
    assert "jl-bar" in shown(room)
    for hands in ("5 1 0", "1", "1"):  # go, the nozzle in, idle
        room.vote(hands)
        seen.append(shown(room))
        assert room.stage.parts[room.stage.part] == "seen"
        room.stage.next()
        seen.append(shown(room))
    seen.append(room.stage._head.value)
    room.stage._other.value = ("check", "engine")
    room.stage._do_other()
    assert room.play.actions[-1] == ["check", "engine"]
    hidden = [room.play.dealt.truth, *(each.words for each in room.play.dealt.kind.surprises), "Advice", "was true"]
    assert not any(words in " ".join(seen) for words in hidden)
    room.do("take_out")
    assert "flies back" in shown(room)
    room.stage.next()
    assert room.play.dealt.truth in shown(room)


def test_seats_vote_at_a_fork_beside_hands(room, tmp_path, monkeypatch):
    for name in ("asked", "seat01", "seat02"):
        (tmp_path / "votes" / name).mkdir(parents=True)
    monkeypatch.setenv("JETLIB_VOTES", str(tmp_path / "votes"))
    room = callout_class("grease", seed=10, system="US")
    room._wall["rigid"].value = "with extension"
    room.seats.press.click()
    asked = seat_votes.asked_of_seats(tmp_path / "votes")
    assert asked.options["metric"][0].startswith("Go") and "10" not in asked.key.split()
    for seat, choice in (("seat01", 0), ("seat02", 0)):
        monkeypatch.setenv("JETLIB_VOTE_FILE", str(tmp_path / "votes" / seat / "vote.json"))
        seat_votes.cast(asked.key, choice)
    room.vote("0 1")
    assert room.play.plan is not None and room.results[0][5] == "2 1 0" and seat_votes.at_seat() == (None, None)
