"""Formulas of exercises: arithmetic in US units, conditions, the course's physics; nothing in them is run as Python."""

import math

import pytest

from jetlib.course.exercises.formulas import FUNCTIONS, formula
from jetlib.course.exercises.worked import step
from jetlib.errors import JetlibError
from jetlib.units import si

P = {"flow": si("8 gpm", "flow"), "gauge": si("2000 psi", "pressure"), "count": 4, "drill": "#60"}
KINDS = {"flow": "flow", "gauge": "pressure"}


def worth(words, kind=None, steps=()):
    return formula(words, KINDS, kind, steps)(P)


@pytest.mark.parametrize(
    ("words", "value"),
    [
        ("{flow} × {gauge} / [1714|600]", 8 * 2000 / 1714),
        ("√({gauge} / 500) + {count}²", 18),
        ("cos(60) + sin(30)", 1),
        ("max({count}, 3) − min(1, 2) + abs(−2) + round(2.6) + round(1.26, 1)", 9.3),
        ("2 ** −1", 0.5),
    ],
)
def test_arithmetic_is_in_us_units(words, value):
    assert worth(words) == pytest.approx(value)


@pytest.mark.parametrize(
    ("words", "holds"),
    [
        ("7 < {flow} < 9", True),
        ("{flow} <= 8 and {flow} >= 8", True),  # 8 gpm went into m3/s and back
        ("{flow} < 8 or {flow} > 8", False),
        ("{drill} == '#60'", True),
        ("not {drill} == '#60'", False),
        ("{count} != 4", False),
    ],
)
def test_conditions(words, holds):
    assert worth(words) is holds


def test_results_of_solve_lines_can_be_used():
    steps = [step("Power: {flow} × {gauge} / 1714 -> water power"), step("{water} / 2 -> half power")]
    assert worth("2 × {half}", "power", steps) == pytest.approx(si("9.335 hp", "power"), rel=1e-3)


@pytest.mark.parametrize(
    "words",
    [
        "__import__('os')", "{flow}.real", "open('x')", "lambda:1", "[1, 2]", "{flow} if 1 else 2", "(1).__class__",
        "{flow} × 'a'", "'a' × 10 ** 9", "9 ** 9 ** 9 ** 9", "1 / 0", "√(−1)", "(−8) ** 0.5", "hose_loss(1)", "x := 1",
        "{nobody}", "hose_bore('9 in')", "drill_bore('#99999')", "{flow} in {drill}", "max()", "cos(60, 1)", "", "×",
        "(" * 500 + ")" * 500, "f'{1}'", "1; 2", "round(1, 2, 3)", "hose_loss(**{1: 2})", "{drill} < 3",
        "9" * 400, "0x" + "f" * 300,
    ],
)  # fmt: skip
def test_nothing_else_is_worked_out(words):
    with pytest.raises(JetlibError):
        worth(words)


def test_what_is_wrong_with_a_function_is_said():
    with pytest.raises(JetlibError, match=r"hose_loss\( \) takes 3 values in a row: flow, length, bore"):
        worth("hose_loss(1)")
    with pytest.raises(JetlibError, match=r"gauge_of\(1\) is no arithmetic"):
        worth("gauge_of(1)")


def test_physics_by_handbooks():
    """From memory: Q = 29.84 Cd d^2 sqrt(p) (NFPA 291, annex), 0.433 psi a foot, F = 0.0526 Q sqrt(p) (momentum in gpm
    and psi), v = 0.40853 Q / d^2 ft/s, drill #60 of 0.040 in (ASME B94.11M), belt friction exp(0.4 x pi/2)."""
    assert worth("drill_bore('#60')") == pytest.approx(0.040)
    assert worth("hole_area(0.04)") == pytest.approx(math.pi / 4 * 0.04**2)
    jets = 29.84 * 0.72 * 4 * 0.04**2
    assert worth("jet_flow(2000, 4 × hole_area(0.04), 0.72)") == pytest.approx(jets * math.sqrt(2000), rel=2e-3)
    assert worth("jet_pressure(8, 4 × hole_area(0.04))") == pytest.approx((8 / jets) ** 2, rel=4e-3)
    assert worth("head(100)") == pytest.approx(43.3, rel=2e-3)
    assert worth("jet_pull(8, 2000, 60)") == pytest.approx(0.0526 * 8 * math.sqrt(2000) / 2, rel=4e-3)
    assert worth("hose_bore('1/2 in')") == pytest.approx(12.9 / 25.4)
    assert worth("hose_loss(8, 200, 0.508)") == pytest.approx(2 * worth("hose_loss(8, 100, 0.508)"))
    assert worth("speed_head(8, 0.508)") == pytest.approx(0.433 / 2 / 32.174 * (8 * 0.40853 / 0.508**2) ** 2, rel=3e-3)
    assert worth("bend(0.4, 90)") == pytest.approx(math.exp(0.4 * math.pi / 2))


def test_every_function_is_used_or_shown():
    """By the course's own exercises and predictions, or in the example's list."""
    from jetlib.tables import DATA

    files = (DATA / "predictions.toml", *(DATA / "exercises").glob("*.toml"))
    texts = "".join(path.read_text("utf-8") for path in files)
    assert not [name for name in FUNCTIONS if f"{name}(" not in texts]
