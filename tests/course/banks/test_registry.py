"""Which numbers a seat of a served room begins with, and how predictions are read."""

from itertools import pairwise

import pytest

from jetlib.course.banks import registry as bank
from jetlib.course.exercises.prediction import prediction_from
from jetlib.errors import JetlibError
from jetlib.screen.learning.practice import practice
from jetlib.tables import DATA
from jetlib.tables.toml_file import read_toml


@pytest.mark.parametrize(
    ("seat", "seed"), [("", 1), ("01", 1001), ("7", 7001), ("99", 99001), ("x", 1), ("-1", 1), ("٣", 1), ("12345", 1)]
)
def test_exercises_begin_with_numbers_of_the_seats_own(monkeypatch, tmp_path, seat, seed):
    monkeypatch.setenv("JETLIB_HOME", str(tmp_path))
    monkeypatch.setenv("JETLIB_SEAT", seat)
    assert bank.first_seed() == seed
    assert practice("02-areas-add").variant.seed == seed
    assert practice("02-areas-add", seed=4).variant.seed == 4


def test_neighbors_have_different_numbers():
    """Thirty seats, a thousand seeds apart, so that new variants at one seat never become those of the next."""
    pairs, alike = 0, []
    for exercise in bank.all_exercises():
        seats = [dict(exercise.variant(1000 * seat + 1).parameters) for seat in range(1, 31)]
        pairs += 29
        alike += [exercise.id for mine, next_one in pairwise(seats) if mine == next_one]
    assert len(alike) < 0.01 * pairs, "with few things to ask, as in which of four, two neighbors may meet the same"
    assert max(map(alike.count, alike), default=0) <= 3, "one exercise alike for a whole room"


GOOD = {"title": "t", "ask": "From {low}?", "because": "So.", "kind": "pressure", "answer": "2 × {low}",
        "given": {"low": {"kind": "pressure", "is": "700"}}}  # fmt: skip


def test_a_prediction_is_read_from_a_table():
    asked = prediction_from("02-double", GOOD, "mine.toml")
    assert asked.question("US") == "From 700 psi?"
    assert asked.right() == pytest.approx(1400 * 6894.757)  # psi, NIST SP 811
    choice = {**GOOD, "options": {"same": "the same", "double": "twice"}, "at": {"same": 1, "double": 2}}
    asked = prediction_from("02-double", choice | {"answer": "1.8"}, "mine.toml")
    assert asked.right() == "double"


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"title": None}, "mine.toml, 02-double: title is None; write a text"),
        ({"ask": ""}, "mine.toml, 02-double has no ask; write"),
        ({"kind": ""}, "mine.toml, 02-double has no kind"),
        ({"answer": None}, "mine.toml, 02-double, answer: is is None"),
        ({"answer": "2 +"}, "is no arithmetic"),
        ({"given": []}, "given is []; write it as a table"),
        ({"strange": 1}, "'strange' is not known"),
        ({"x": ["flow", "flow"], "y": ["loss", "pressure"], "xs": 3, "top": 4}, "xs is 3; write a list of numbers"),
    ],
)
def test_a_prediction_that_cannot_be_read_says_where(change, said):
    with pytest.raises(JetlibError) as refused:
        prediction_from("02-double", GOOD | change, "mine.toml")
    assert said in str(refused.value)


def test_every_prediction_belongs_to_a_lesson():
    written = read_toml(DATA / "predictions.toml", what="file", like="")
    assert set(written) == {each.id for each in bank.all_predictions()}


def test_a_bank_that_does_not_hold_together_is_refused(monkeypatch):
    own = bank.exercises("02")
    ids = tuple(each.id for each in own)
    for exercises, order, predictions, said in [
        (bank.exercises("03"), ids, {}, "stands in the bank of lesson 02; begin its id with 02-"),
        (own, ids[1:], {}, "order does not name the exercises of lesson 02"),
        (own, ids, {ids[0]: {}}, "stands twice in the bank of lesson 02"),
    ]:
        monkeypatch.setattr(bank, "exercises_in", lambda path, held=(exercises, order): held)
        monkeypatch.setattr(bank, "_predictions", lambda held=predictions: held)
        with pytest.raises(JetlibError, match=said):
            bank._bank.__wrapped__("02")
