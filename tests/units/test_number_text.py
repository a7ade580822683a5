"""Typed text taken apart: numbers as people write them, units as products of names, numbers written out."""

from fractions import Fraction
from math import floor, isfinite, log10

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jetlib.units.number_text import LONGEST, Unreadable, figures, parse, tidy, unit_terms


@pytest.mark.parametrize(
    "typed, number, unit",
    [
        ("8 gpm", 8, "gpm"),
        ("+8gpm", 8, "gpm"),
        ("-8.5 m", -8.5, "m"),
        ("1e-3 m", Fraction(1, 1000), "m"),
        ("5 eV", 5, "eV"),
        ("5e V", 5, "e V"),
        ("8. mm", 8, "mm"),
        ("3/8in", Fraction(3, 8), "in"),
        ("1-1/4 in", Fraction(5, 4), "in"),
        ("1½ in", Fraction(3, 2), "in"),
        ("1450 1/min", 1450, "1/min"),
        ("3 000 1/min", 3000, "1/min"),
        ("0,055 in", Fraction(55, 1000), "in"),
        ("1234,567 mm", Fraction(1234567, 1000), "mm"),
        ("1,234.567 mm", Fraction(1234567, 1000), "mm"),
        ("1.234,567 mm", Fraction(1234567, 1000), "mm"),
        ("1 234,5 mm", Fraction(12345, 10), "mm"),
        ("1.500 mm", Fraction(3, 2), "mm"),
    ],
)
def test_number_and_unit(typed, number, unit):
    assert parse(typed)[:2] == (Fraction(number), unit)


@pytest.mark.parametrize("typed", ["1,500 psi", "12,345", "999,000 psi", "-1,500 psi", "1,500e2 psi"])
def test_one_comma_before_three_figures_is_ambiguous(typed):
    with pytest.raises(Unreadable, match="thousands") as caught:
        parse(typed)
    thousands, decimal = (parse(each).number for each in caught.value.instead)
    assert thousands == 1000 * decimal


def test_forms_that_are_not_numbers():
    assert parse("-6", dash=True)[:3] == (6, "", "dash")
    assert parse("-6")[:3] == (-6, "", "number")
    assert parse("1 in 60", slope=True)[:3] == (Fraction(1, 60), "", "slope")
    assert parse("1 in", slope=True)[:2] == (1, "in")
    assert [parse(each).shown for each in ("#54", "No. 54", "54 drill", "letter f", "F drill", "1/16 in drill")] == [
        "#54", "#54", "#54", "letter F", "letter F", "1/16 in",
    ]  # fmt: skip


@pytest.mark.parametrize(
    "typed, terms",
    [
        ("gpm", {("gallon", 1), ("minute", -1)}),
        ("US gal per min", {("gallon", 1), ("minute", -1)}),
        ("kgf/cm²", {("kgf", 1), ("centimeter", -2)}),
        ("kg m⁻¹ s⁻²", {("kilogram", 1), ("m", -1), ("s", -2)}),
        ("cubic feet per minute", {("foot", 3), ("minute", -1)}),
        ("ft H2O", {("foot_H2O", 1)}),
        ("1/s", {("s", -1)}),
        ("mPa", {("mPa", 1)}),
        ("MPa", {("MPa", 1)}),
    ],
)
def test_units_are_products_of_names(typed, terms):
    assert set(unit_terms(typed)) == terms


@pytest.mark.parametrize(
    "typed", ["9**9", "m^10", "m**99", "m//s", "(m)", "m-s", "m^^2", "a b c d e f g", "m 2 3", "/"]
)
def test_anything_else_is_no_unit(typed):
    with pytest.raises(Unreadable):
        unit_terms(typed)


@given(st.text(max_size=LONGEST + 6))
def test_any_text_is_read_or_unreadable(typed):
    for dash in (False, True):
        try:
            found = parse(typed, dash=dash, slope=dash)
        except Unreadable as problem:
            assert problem.reason
        else:
            assert isfinite(found.number)
            assert tidy(typed)


@given(st.floats(-1e9, 1e9).filter(lambda x: abs(x) >= 1e-6), st.integers(1, 8))
def test_significant_figures(number, count):
    shown = figures(number, count)
    assert "e" not in shown and not shown.startswith("-0 ")
    # Half a unit of the last figure that is kept.
    half = 0.5 * 10.0 ** (floor(log10(abs(number))) + 1 - count)
    assert abs(float(shown) - number) <= half * (1 + 1e-9)
    assert len(shown.replace(".", "").lstrip("-0").rstrip("0")) <= count


@pytest.mark.parametrize(
    "number, count, decimals, shown",
    [
        (9.996, 3, None, "10.0"),
        (10, 3, None, "10"),
        (9.62345, 3, None, "9.62"),
        (8.0004, 3, None, "8.00"),
        (8.0, 3, None, "8"),
        (3456.0, 3, None, "3460"),
        (999.9, 3, None, "1000"),
        (1234567.0, 3, None, "1230000"),
        (0.0123, 3, None, "0.0123"),
        (-0.0, 3, None, "0"),
        (-2.5, 3, None, "-2.5"),
        (0.0550, 3, 4, "0.055"),
        (0.05512, 3, 4, "0.0551"),
        (0.12345, 3, 4, "0.1235"),
        (0.00001234, 3, 4, "0.0000123"),  # four decimals would hide it
        (float("nan"), 3, None, "nan"),
        (1.5e12, 3, None, "1.50e+12"),
    ],
)
def test_numbers_written_out(number, count, decimals, shown):
    assert figures(number, count, decimals) == shown
