"""The final assessment: the same questions for a seed, marks read as a trainer types them, and what comes of them."""

import pytest

from jetlib.course.banks import registry as bank
from jetlib.course.classroom.assessment import assessment_exercises, keep_marks, letters_of, marks_from
from jetlib.course.classroom.class_progress import PEOPLE_HEADS, read_class
from jetlib.course.exercises.exercise import Verdict
from jetlib.course.progress.progress import Progress
from jetlib.errors import JetlibError

WHEN = "2030-05-06T09:00:00+00:00"


def test_a_seed_draws_a_question_from_each_lesson_and_one_on_safe_work():
    drawn = assessment_exercises(7)
    assert drawn == assessment_exercises(7)
    assert [each.lesson for each in drawn[:-1]] == list(bank.lessons())
    assert "safe working" in drawn[-1].skills
    assert len({tuple(each.id for each in assessment_exercises(seed)) for seed in range(10)}) == 10


def test_marks_become_the_tries_of_a_seat():
    asked = assessment_exercises(7)
    seat, tries = marks_from("Seat 3: r, R m2 w - – r r r r r r m1", 7, WHEN)
    assert seat == 3
    assert [each.exercise for each in tries] == [each.id for at, each in enumerate(asked) if at not in (4, 5)]
    assert [each.status for each in tries] == ["right", "right", "mistake", "wrong", *["right"] * 6, "mistake"]
    assert letters_of(asked[2])[tries[2].mistake] == "M2"
    assert all(each.fits() for each in tries)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("r r r", "has no seat"),
        ("3: r r r", "seat 3 has 3 marks; write one for each of the 13"),
        ("3: r r r r r r r r r r r r x", "question 13: 'x' is no mark"),
        ("3: m9 r r r r r r r r r r r r", "question 1: 'm9' is no mark"),
        ("", "has no seat"),
    ],
)
def test_a_line_that_is_none_is_refused_with_the_place(typed, said):
    with pytest.raises(JetlibError, match=said):
        marks_from(typed, 7, WHEN)


def test_marks_join_the_export_of_their_seat_and_can_be_typed_again(tmp_path):
    folder = tmp_path / "in"
    folder.mkdir()
    progress = Progress(tmp_path / "home")
    progress.attempt("02-areas-add", 1, Verdict("right", ""))
    progress.export(folder, "Seat 3")
    for line in ("3: w w w w w w w w w w w w w", "3: r r r r r r r r r r r w m1", "5: r w w w w w w w w w w w w"):
        seat, tries = marks_from(line, 7, WHEN)
        keep_marks(folder, seat, tries, WHEN)
    held = read_class(folder)
    assert [(each.who, each.assessed) for each in held.members] == [
        ("Seat 3", "11 of 13 right"), ("seat 5", "1 of 13 right"),
    ]  # fmt: skip
    assert held.members[0].attempts() == 14
    rows = [dict(zip(PEOPLE_HEADS, row, strict=True)) for row in held.people()]
    assert [row["who"] for row in rows] == ["Seat 3", "seat 5", "the class"]
    assert rows[-1]["attempts"] == 27
    assert rows[-1]["done"] == sum(row["done"] for row in rows[:-1]) == 13
    assert rows[-1]["assessment"] == "6.0 right on average"
    skills = {skill: counts for skill, *counts in held.skills()}
    assert skills["safe working"] == [2, 0, 2]


def test_no_name_is_kept(tmp_path):
    seat, tries = marks_from("seat 3: r r r r r r r r r r r r r", 7, WHEN)
    text = keep_marks(tmp_path, seat, tries, WHEN).read_text()
    assert '"label": "seat 3"' in text
    with pytest.raises(JetlibError, match="has no seat"):
        marks_from("Maria: r r r r r r r r r r r r r", 7, WHEN)
    with pytest.raises(JetlibError, match="name a folder"):
        keep_marks(tmp_path / "none", 3, tries, WHEN)
