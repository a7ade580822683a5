"""Worked solutions print arithmetic that holds; the numbers of a variant are round ones in the reader's own units."""

import pytest

from jetlib.course.exercises.words import chosen
from jetlib.course.exercises.worked import worked
from jetlib.errors import JetlibError
from jetlib.units import from_si, si

KINDS = {"flow": "flow", "gauge": "pressure"}
STEPS = (
    ("In the water: {flow} × {gauge} / [1714|600]", "water", "power"),
    ("The engine: {water} / {efficiency}", "shaft", "power"),
)


def test_a_line_goes_on_with_the_number_that_was_printed():
    """9.5 gpm x 3000 psi / 1714 = 16.63 hp, the fluid power formula of any handbook; over 0.85 it is 19.56 hp."""
    p = {"flow": si("9.5 gpm", "flow"), "gauge": si("3000 psi", "pressure"), "efficiency": 0.85}
    lines = worked(KINDS, *STEPS)(p, "US").splitlines()
    assert lines == [
        "In the water: 9.5 gpm × 3000 psi / 1714 = 16.63 hp",
        "The engine: 16.63 hp / 0.85 = 19.56 hp",
    ]
    right = worked(KINDS, *STEPS, answer=lambda p: p["flow"] * p["gauge"] / p["efficiency"])
    assert right(p, "US").endswith("= 19.6 hp")
    with pytest.raises(JetlibError, match=r"prints 19\.6"):
        worked(KINDS, *STEPS, answer=lambda p: 1.1 * p["flow"] * p["gauge"])(p, "US")


def test_roots_squares_and_cosines_are_worked_out_and_nothing_else():
    """3-4-5, and the cosine of 60 degrees."""
    solution = worked({}, ("√({a}² + {b}²)", "c", None), ("{c} × cos(60°)", "half", None))
    assert solution({"a": 3, "b": 4}, "US") == "√(3² + 4²) = 5\n5 × cos(60°) = 2.5"
    with pytest.raises(JetlibError, match="no arithmetic"):
        worked({}, ("abs({a})", "c", None))({"a": 3}, "US")


@pytest.mark.parametrize(
    ("typed", "kind", "metric", "number"),
    [("150 ft", "length", "m", 45), ("2800 psi", "pressure", "bar", 195), ("9.5 gpm", "flow", "L/min", 36)],
)
def test_what_is_chosen_is_round_in_both_systems(typed, kind, metric, number):
    value = si(typed, kind)
    assert chosen(value, kind, "US") == value
    assert from_si(chosen(value, kind, "metric"), kind, "metric") == pytest.approx(number)


def test_what_is_found_keeps_the_step_of_a_gauge_and_small_things_stay():
    assert from_si(chosen(si("2773 psi", "pressure"), "pressure", "US", "found"), "pressure", "US") == pytest.approx(
        2770
    )
    assert chosen(si("0.01 gpm", "flow"), "flow", "US", "found") == si("0.01 gpm", "flow")
