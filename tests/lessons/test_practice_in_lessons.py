"""Each lesson's notebook offers every exercise and prediction of its bank, each once, in a small cell of its own."""

import re

import nbformat
import pytest

from jetlib.course.banks import registry as bank
from jetlib.course.pages.contents import LESSONS, lessons

NOTEBOOKS = {path.stem[:2]: nbformat.read(path, 4) for path in sorted(LESSONS.glob("[0-9][0-9]_*.ipynb"))}
WITH_BANK = [number for number in NOTEBOOKS if number in bank.lessons()]
each_lesson = pytest.mark.parametrize("number", WITH_BANK)


def cells(number, kind):
    return [cell for cell in NOTEBOOKS[number].cells if cell.cell_type == kind]


def shown(number, maker):
    """The ids that a notebook passes to `practice` or `prediction`, in order."""
    found = (re.findall(rf'^{maker}\("([^"]+)"', cell.source, re.MULTILINE) for cell in cells(number, "code"))
    return [name for names in found for name in names]


def test_every_lesson_has_a_bank_and_every_bank_a_lesson():
    assert {page.number for page in lessons()} - {"00"} == set(bank.lessons())


@each_lesson
def test_every_exercise_and_prediction_is_offered_once(number):
    assert sorted(shown(number, "practice")) == sorted(each.id for each in bank.exercises(number))
    assert sorted(shown(number, "prediction")) == sorted(each.id for each in bank.predictions(number))


@each_lesson
def test_there_is_enough_to_do_and_of_several_kinds(number):
    exercises = [bank.exercise(name) for name in shown(number, "practice")]
    assert len(exercises) >= 6
    assert len({type(exercise) for exercise in exercises}) >= 3
    assert len(shown(number, "prediction")) >= 2


@each_lesson
def test_a_first_prediction_comes_before_anything_is_shown(number):
    """A console or a table of numbers before it could give the answer away; units and what was due before cannot."""
    above = r"^(?:units_choice\(\)|warm_up\(\"\d\d\"\))$"
    first = next(cell.source for cell in cells(number, "code") if not re.search(above, cell.source, re.MULTILINE))
    assert "prediction(" in first


@each_lesson
def test_each_stands_in_a_folded_cell_of_its_own_that_says_what_it_is(number):
    for cell in cells(number, "code"):
        asked = re.findall(r"^(?:practice|prediction)\(", cell.source, re.MULTILINE)
        if asked:
            assert len(asked) == 1
            assert cell.source.startswith("# "), cell.source
            assert len(cell.source.splitlines()) <= 4
            assert cell.metadata.get("jupyter", {}).get("source_hidden")
            assert "nbval-check-output" in cell.metadata.get("tags", [])


@each_lesson
def test_kinds_are_mixed(number):
    """Never six of one kind in a row: each should need a new look."""
    kinds = [type(bank.exercise(name)).__name__ for name in shown(number, "practice")]
    for at in range(len(kinds) - 5):
        assert len(set(kinds[at : at + 6])) > 1, kinds[at : at + 6]
