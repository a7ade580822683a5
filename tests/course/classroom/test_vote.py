"""What a room votes on and what a vote says; the file it is kept in: whole, reopened exactly, harmless."""

import csv
import subprocess
import sys

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jetlib.course.banks import registry as bank
from jetlib.course.classroom.vote import (
    MOST_OPTIONS,
    advice,
    gain,
    gain_words,
    is_prediction,
    names,
    question,
    share_right,
    titles,
)
from jetlib.course.classroom.vote_file import COLUMNS, STAGES, VoteFile, begun, unfinished
from jetlib.course.exercises.numeric import Numeric
from jetlib.errors import JetlibError
from jetlib.tables.atomic import Unwritable
from jetlib.units import SYSTEMS

WHEN = "2026-03-02T09:00:00+00:00"
CHOICE, NUMBER, BANDS = "04-twice-the-hose", "02-square-law", "02-double-flow"


# --- questions --------------------------------------------------------------------------------------


def test_every_lesson_has_questions_to_vote_on():
    for lesson in bank.lessons():
        assert len(names(lesson)) >= 5
        assert [name for _, name in titles(lesson)] == list(names(lesson))
    assert len(names()) == len(set(names())) >= 80


@pytest.mark.parametrize("name", names())
def test_options_can_be_told_apart_in_both_systems_and_one_is_right(name):
    for seed in (1, 2, 3) if not is_prediction(name) else (1,):
        asked = question(name, seed)
        assert 2 <= asked.count <= MOST_OPTIONS
        for system in SYSTEMS:
            options = asked.options(system)
            assert len(options) == len(set(options)) == asked.count
            assert asked.ask(system) and asked.why(system)
            assert "counts as right" not in asked.ask(system)
        assert asked.ideas[asked.right] is None


@pytest.mark.parametrize("name", names())
def test_right_option_is_what_the_bank_calls_right(name):
    if is_prediction(name):
        asked, source = question(name), bank.prediction(name)
        if asked.in_bands:
            low = (0.0, *asked.values)[asked.right]
            high = (*asked.values, float("inf"))[asked.right]
            # Well inside: a room that is right within a hundredth must not be called wrong.
            assert low * 1.01 < source.right() < high * 0.99
        else:
            words = dict(source.shown_options("US"))[source.right()]
            assert asked.options("US")[asked.right] == words
        return
    for seed in (1, 5):
        asked, variant = question(name, seed), bank.exercise(name).variant(seed)
        if isinstance(variant.exercise, Numeric):
            assert (
                variant.check(variant.exercise.reply_words(variant, asked.values[asked.right], "US")).status == "right"
            )
            for value, idea in zip(asked.values, asked.ideas, strict=True):
                if idea is not None:  # each wrong option is one of the bank's own mistakes
                    verdict = variant.check(variant.exercise.reply_words(variant, value, "US"))
                    assert verdict.mistake == idea.name
        else:
            assert asked.options("US")[asked.right] == variant.answer_words("US")


def test_the_right_place_is_not_always_the_same():
    places = {question(NUMBER, seed).right for seed in range(1, 30)}
    assert len(places) >= 2
    assert len({question(BANDS, seed).right for seed in range(1, 30)}) >= 2


@pytest.mark.parametrize("name", ["02-gauge-curve", "02-square-table", "99-none", "", None, 7, "x" * 9999])
def test_what_no_room_can_vote_on_is_refused(name):
    with pytest.raises(JetlibError, match="to vote on"):
        question(name)


# --- what a vote says -------------------------------------------------------------------------------


def test_normalised_gain_by_its_definition():
    # Hake, Am. J. Phys. 66 (1998) 64: <g> = (post - pre)/(100 - pre). His mean of 14 traditional courses is 0.23 and
    # of 48 with interactive engagement 0.48 (abstract); 40 % before and 68.8 % after is such a course of 0.48.
    assert gain(0.40, 0.688) == pytest.approx(0.48)
    assert gain(0.5, 1.0) == 1.0
    assert gain(0.5, 0.5) == 0.0
    assert gain(0.5, 0.25) == -0.5
    assert gain(1.0, 1.0) is None
    assert gain(None, 0.5) is None and gain(0.5, None) is None


@given(st.floats(0, 0.999), st.floats(0, 1))
def test_gain_never_passes_one_and_has_the_sign_of_the_change(before, after):
    value = gain(before, after)
    assert value <= 1.0 + 1e-12
    assert (value > 0) == (after > before)


def test_advice_goes_by_the_share_that_is_right():
    told = {0.0: "Explain", 0.29: "Explain", 0.30: "pairs", 0.70: "pairs", 0.71: "go on", 1.0: "go on"}
    assert all(words in advice(share) for share, words in told.items())
    assert len({advice(share) for share in told}) == 3
    assert share_right((3, 1), 1) == 0.25
    assert share_right((0, 0), 1) is None
    assert "nothing was left to gain" in gain_words(1.0, 1.0)
    assert "astray" in gain_words(0.5, 0.25)
    assert gain_words(0.25, 0.75) == "Right before 25 %, after 75 %. Of what could be gained, 67 % was: gain 0.67."


# --- a vote -----------------------------------------------------------------------------------------


def test_the_answer_waits_for_a_vote():
    vote = begun(CHOICE, 1, WHEN)
    with pytest.raises(JetlibError, match="nobody has voted"):
        vote.reveal(WHEN)
    with pytest.raises(JetlibError, match="nobody has voted"):
        vote.talk(WHEN)
    shown = vote.reveal(WHEN, anyway=True)
    assert shown.stage == "answered" and shown.anyway
    assert not vote.counted((1, 0, 0, 0)).reveal(WHEN, anyway=True).anyway


def test_two_votes_and_the_end():
    vote = begun(CHOICE, 1, WHEN).counted((4, 3, 2, 1)).talk(WHEN)
    assert vote.now == (0, 0, 0, 0) and vote.first == (4, 3, 2, 1)
    vote = vote.counted((1, 8, 1, 0))
    assert vote.shares(1) == (0.3, 0.8)
    done = vote.reveal(WHEN)
    assert done.second == (1, 8, 1, 0)
    for refused in (lambda: done.counted((0, 0, 0, 0)), lambda: done.talk(WHEN), lambda: vote.talk(WHEN)):
        with pytest.raises(JetlibError):
            refused()
    assert begun(CHOICE, 1, WHEN).counted((4, 3, 2, 1)).talk(WHEN).reveal(WHEN).second == ()  # never counted


@pytest.mark.parametrize("tally", [(1, 2), (-1, 0, 0, 0), (501, 0, 0, 0), ()])
def test_a_count_that_cannot_be_is_refused(tally):
    with pytest.raises(JetlibError, match="whole number"):
        begun(CHOICE, 1, WHEN).counted(tally)


# --- the file ---------------------------------------------------------------------------------------


@settings(max_examples=30, deadline=None)
@given(
    st.sampled_from((CHOICE, NUMBER, BANDS)),
    st.integers(0, 3),
    st.lists(st.integers(0, 30), min_size=10, max_size=10),
    st.integers(0, 40),
)
def test_a_vote_reopens_exactly(tmp_path_factory, name, steps, hands, people):
    vote = begun(name, 1, WHEN, people)
    count = len(vote.first)
    first, second = tuple(hands[:count]), tuple(hands[5 : 5 + count])
    vote = vote.counted(first)
    if steps > 1 and sum(first):
        vote = vote.talk(WHEN).counted(second)
    if steps > 2:
        vote = vote.reveal(WHEN, anyway=True)
    folder = tmp_path_factory.mktemp("votes")
    file = VoteFile("a class", folder)
    assert file.put(vote) == []
    assert VoteFile("a class", folder).votes() == (vote,)
    found = unfinished(folder)
    assert found is None if vote.stage == STAGES[2] else (found[0].path, found[1]) == (file.path, vote)


def test_one_row_a_question_with_shares_and_gain(tmp_path):
    file = VoteFile("monday", tmp_path)
    vote = begun(CHOICE, 1, WHEN, 12)
    right = question(CHOICE).right
    for tally in ((1, 0, 0, 0), (5, 3, 2, 2)):
        vote = vote.counted(tally)
        file.put(vote)
    vote = vote.talk(WHEN).counted((1, 9, 1, 1))
    file.put(vote)
    file.put(begun(NUMBER, 3, WHEN), "metric")
    with open(file.path, newline="", encoding="utf-8") as lines:
        rows = list(csv.DictReader(lines))
    assert [row["question"] for row in rows] == [CHOICE, NUMBER]
    assert rows[0]["right_share_first"] == "0.25" and rows[0]["right_share_second"] == "0.75"
    assert float(rows[0]["gain"]) == pytest.approx(2 / 3, abs=1e-4)
    assert rows[0]["right_option"] == str(right + 1)
    assert rows[1]["seed"] == "3" and "bar" in rows[1]["option_1"] and rows[1]["units"] == "metric"
    assert rows[0]["option_5"] == "" and rows[0]["people"] == "12"


def test_a_loss_stays_a_number_and_no_cell_is_a_formula(tmp_path):
    file = VoteFile("monday", tmp_path)
    file.put(begun(CHOICE, 1, WHEN).counted((2, 2, 0, 0)).talk(WHEN).counted((3, 1, 0, 0)))
    file.put(begun(NUMBER, 1, WHEN))  # the first row is read and written anew
    row, _ = file.rows()
    assert row["gain"] == "-0.5"
    for cells in file.rows():
        for name, cell in cells.items():
            assert name == "gain" or not cell.startswith(tuple("=+-@"))


@pytest.mark.parametrize(
    "held", [b"", b"\xff\xfe", b"a,b\r\n1,2\r\n", ",".join(COLUMNS).encode() + b"\r\n1,2\r\n", b'"' * 4000]
)
def test_a_file_that_is_none_of_ours_is_kept_aside(tmp_path, held):
    file = VoteFile("monday", tmp_path)
    file.path.write_bytes(held)
    assert file.votes() == ()
    (said,) = file.put(begun(CHOICE, 1, WHEN))
    assert "monday.damaged-1.csv" in said
    assert (tmp_path / "votes_monday.damaged-1.csv").read_bytes() == held
    assert len(file.votes()) == 1


def test_a_row_that_no_vote_can_be_is_kept_and_not_opened(tmp_path):
    file = VoteFile("monday", tmp_path)
    file.put(begun(CHOICE, 1, WHEN))
    changed = file.path.read_text().replace(f",{CHOICE},", ",77-gone,")
    file.path.write_bytes(changed.encode())
    assert file.votes() == ()
    assert unfinished(tmp_path) is None
    file.put(begun(NUMBER, 1, WHEN))
    assert [row["question"] for row in file.rows()] == ["77-gone", NUMBER]


def test_a_link_is_not_followed(tmp_path):
    target = tmp_path / "elsewhere.txt"
    target.write_text("mine")
    file = VoteFile("monday", tmp_path)
    try:
        file.path.symlink_to(target)
    except OSError:
        pytest.skip("no links here")
    file.put(begun(CHOICE, 1, WHEN))
    assert target.read_text() == "mine"
    assert not file.path.is_symlink()


@pytest.mark.parametrize("name", ["", " ", "a/b", "..\\x", "x" * 61, "a\nb", "a:b"])
def test_a_name_that_cannot_be_a_file_is_refused(name):
    with pytest.raises(ValueError, match="write a name"):
        VoteFile(name)


def test_a_folder_that_cannot_be_written_says_so(tmp_path):
    (tmp_path / "taken").write_text("a file")
    with pytest.raises(Unwritable):
        VoteFile("monday", tmp_path / "taken").put(begun(CHOICE, 1, WHEN))


PUT_MANY = """
import sys
from jetlib.course.classroom.vote_file import VoteFile, begun
folder, name = sys.argv[1:]
file, vote = VoteFile("monday", folder), begun(name, 1, "2026-03-02T09:00:00+00:00")
for hands in range(1, 16):
    vote = vote.counted((hands, *vote.first[1:]))
    file.put(vote)
"""


def test_two_notebooks_lose_nothing_of_each_other(tmp_path):
    writers = [subprocess.Popen([sys.executable, "-c", PUT_MANY, tmp_path, name]) for name in (CHOICE, NUMBER)]
    assert [each.wait(60) for each in writers] == [0, 0]
    found = VoteFile("monday", tmp_path).votes()
    assert sorted((vote.question, vote.first[0]) for vote in found) == [(NUMBER, 15), (CHOICE, 15)]
