"""Votes from seats: one a seat, for the question that is up, and nothing that lies in the way is believed."""

import os

import pytest

from jetlib.course.classroom import seat_votes as votes
from jetlib.errors import JetlibError

ASK, OPTIONS = {"US": "How many psi?", "metric": "How many bar?"}, {"US": ["1", "2", "3"], "metric": ["a", "b", "c"]}


@pytest.fixture
def room(tmp_path):
    for name in ("asked", *(f"seat{at:02}" for at in range(1, 6))):
        (tmp_path / name).mkdir()
    return tmp_path


@pytest.fixture
def at(room, monkeypatch):
    def sits(seat):
        monkeypatch.setenv("JETLIB_VOTE_FILE", str(room / seat / "vote.json"))

    return sits


def test_each_seat_counts_once_and_may_change_its_mind(room, at):
    votes.put_up(room, "q1", ASK, OPTIONS)
    for seat, choice in (("seat01", 0), ("seat02", 2), ("seat03", 2), ("seat02", 1)):
        at(seat)
        votes.cast("q1", choice)
    asked, choice = votes.at_seat()
    assert asked.ask == ASK and choice == 1
    assert votes.tally(room, votes.asked_of_seats(room)) == (1, 1, 1)
    assert oct((room / "seat01/vote.json").stat().st_mode & 0o777) == "0o640" or os.name == "nt"


def test_a_vote_is_for_the_question_that_is_up(room, at):
    at("seat01")
    with pytest.raises(JetlibError, match="is over"):
        votes.cast("q1", 0)
    votes.put_up(room, "q1", ASK, OPTIONS)
    votes.cast("q1", 0)
    votes.put_up(room, "q2", ASK, OPTIONS)
    assert votes.at_seat()[1] is None and votes.tally(room, votes.asked_of_seats(room)) == (0, 0, 0)
    for key, choice in (("q1", 0), ("q2", 3), ("q2", -1), ("q2", True), ("q2", "1"), (None, 0), ("q2", None)):
        with pytest.raises(JetlibError):
            votes.cast(key, choice)
    votes.take_down(room)
    assert votes.at_seat() == (None, None)


@pytest.mark.skipif(os.name == "nt", reason="links and pipes are POSIX")
def test_what_learners_lay_in_the_way_is_left_out(room, at):
    votes.put_up(room, "q1", ASK, OPTIONS)
    at("seat01")
    votes.cast("q1", 1)
    os.symlink(room / "seat01/vote.json", room / "seat02/vote.json")
    os.mkfifo(room / "seat03/vote.json")
    (room / "seat04/vote.json").write_text('{"key": "q1", "choice": 1' + " " * 10_000 + "}")
    (room / "seat05/vote.json").write_text("[" * 150)
    asked = votes.asked_of_seats(room)
    assert votes.tally(room, asked) == (0, 1, 0)
    for held in ('{"key": "q1", "choice": 99}', '{"key": "q1"}', "7", '{"key": ["q1"], "choice": 1}', "\xff"):
        (room / "seat05/vote.json").write_bytes(held.encode("latin-1"))
        assert votes.tally(room, asked) == (0, 1, 0)


@pytest.mark.parametrize("held", ["", "{}", "7", '{"key": 1}', '{"key": "a", "ask": {}, "options": {}, "counted": []}'])
def test_a_damaged_question_is_none(room, at, held):
    at("seat01")
    (room / "asked/question.json").write_text(held)
    assert votes.at_seat() == (None, None)


def test_where_there_is_no_room_nothing_is_asked(tmp_path, monkeypatch):
    monkeypatch.setenv("JETLIB_VOTES", str(tmp_path / "none"))
    monkeypatch.delenv("JETLIB_VOTE_FILE", raising=False)
    assert votes.votes_folder() is None and votes.own_vote() is None and votes.at_seat() == (None, None)
