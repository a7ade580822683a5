"""Which numbers a seat of a served room begins with."""

from itertools import pairwise

import pytest

from jetlib.course.banks import registry as bank
from jetlib.course.exercises import PredictedChoice, predicted
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


def test_the_words_of_predictions_are_those_of_predictions_that_there_are():
    """Nothing is written for a prediction that is gone, and one without words says where to write them."""
    written = read_toml(DATA / "predictions.toml", what="file", like="")
    assert set(written) == {each.id for each in bank.all_predictions()}
    with pytest.raises(JetlibError, match=r'write \["02-no-such"\] there'):
        predicted(PredictedChoice, "02-no-such", answer=lambda p: "a")
