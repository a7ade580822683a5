"""A typed rule is read by precedence, its units are checked, and nothing typed can do anything else."""

import time
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jetlib.errors import JetlibError
from jetlib.rig.rules.equation import dimension, kind_of, noun, spellings, unit, work_out
from jetlib.rig.rules.moves import CHANGES
from jetlib.rig.rules.quantities import QUANTITIES, STATES, resolve
from jetlib.rig.rules.reader import DEEPEST, read_equation
from jetlib.rig.rules.rules import read_rule
from jetlib.rig.rules.tokens import LONGEST
from jetlib.units import si
from jetlib.units.kinds import KINDS


def right(typed, gauge=2.0e7):
    """What the right side of "jet count = typed" or of a whole rule comes to, with every name worth `gauge`."""
    equation = read_rule(typed if "=" in typed else f"jet count = {typed}")
    return float(work_out(equation.right, lambda key: gauge))


# --- arithmetic ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        ("2 + 3 * 4", 14),
        ("(2 + 3) * 4", 20),
        ("2 - 3 - 4", -5),
        ("24 / 4 / 2", 3),
        ("-2^2", -4),
        ("2 * -3", -6),
        ("--2", 2),
        ("2^3 * 2", 16),
        ("4^(1/2)", 2),
        ("2^-1", 0.5),
        ("3²", 9),
        ("2**3", 8),
        ("sqrt(16) + √(9)", 7),
        ("min(3, 2, 5) + max(1, 4)", 6),
        ("1.5e2 ÷ 3 × 2", 100),
        ("1/2", 0.5),
        ("[1 + 2] − 1", 2),
        (".5", 0.5),
    ],
)
def test_precedence_is_that_of_schoolbooks(typed, value):
    assert right(typed) == pytest.approx(value)


numbers = st.integers(1, 99).map(str)
sums = st.recursive(
    numbers,
    lambda each: st.one_of(
        st.tuples(each, st.sampled_from(["+", "-", "*", "/"]), each).map(" ".join),
        each.map(lambda words: f"({words})"),
        each.map(lambda words: f"-({words})"),
    ),
    max_leaves=12,
)


@given(sums)
def test_arithmetic_agrees_with_that_of_the_language_itself(typed):
    """Python's own precedence and exact fractions, on text that holds nothing but figures and signs."""
    if len(typed) > 200 or typed.count("(") > 15:
        return
    exact = "".join(f"Fraction({each})" if each.isdigit() else each for each in _pieces(typed))
    try:
        expected = eval(exact, {"Fraction": Fraction, "__builtins__": {}})
    except ZeroDivisionError:
        return
    assert right(typed) == pytest.approx(float(expected), rel=1e-9, abs=1e-9)


def _pieces(typed):
    spaced = typed
    for sign in "()+-*/":
        spaced = spaced.replace(sign, f" {sign} ")
    return spaced.split()


# --- units --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "value", "kind"),
    [
        ("gauge = 3000 psi", "3000 psi", "pressure"),
        ("gauge = 10 MPa", "10 MPa", "pressure"),
        ("hose bore = 3/8 in", "3/8 in", "bore"),
        ("hose bore = 12 mm", "12 mm", "bore"),
        ("rated flow = 8 gpm", "8 gpm", "flow"),
        ("rated flow = 30 L/min", "30 L/min", "flow"),
        ("rated flow = 8 gal/min", "8 gpm", "flow"),
        ("tank time = 2 h", "120 min", "duration"),
        ("jet area = 2 mm^2", "2 mm2", "area"),
        ("jet area = 0.01 in²", "0.01 in2", "area"),
        ("hose weight = 12 lb", "12 lb", "mass"),
        ("engine power = 20 hp", "20 hp", "power"),
        ("warming = 9 °F", "5 degC", "temperature_difference"),
        ("gauge = 3 psi/ft * 100 ft", "300 psi", "pressure"),
        ("gauge = 100 psi / (100 ft) * 50 ft", "50 psi", "pressure"),
        ("pull = 20 lbf", "20 lbf", "force"),
        ("gauge = 40 %  * 100 bar", "40 bar", "pressure"),
    ],
)
def test_units_are_those_of_the_door(typed, value, kind):
    assert right(typed) == pytest.approx(si(value, kind), rel=1e-12)


def test_a_name_taken_in_a_unit_is_the_plain_number_in_it():
    assert right("jet count = gauge in psi", gauge=si("3000 psi", "pressure")) == pytest.approx(3000)
    assert right("jet count = (gauge in bar)^2", gauge=1e7) == pytest.approx(1e4)


def test_every_kind_has_a_dimension_and_every_unit_belongs_to_one():
    for kind in KINDS:
        assert len(dimension(kind)) == 4
    assert all(unit(each) for each in spellings())
    assert kind_of(dimension("pressure")) == "pressure"
    assert noun(tuple(a - b for a, b in zip(dimension("pressure"), dimension("length"), strict=True))) == (
        "pressure per length"
    )


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("gauge = hose length", ("pressure", "length", "character 9")),
        ("gauge = 3 psi + 4 ft", ("pressure", "length", "added")),
        ("gauge = max(3 psi, 4 gpm)", ("pressure", "flow", "compared")),
        ("gauge = 3", ("pressure", "plain number")),
        ("gauge in gpm = 3", ("pressure", "flow")),
        ("nozzle flow = gauge^2", ("flow",)),
        ("gauge = hose bore * pump flow", ("pressure", "m^4")),
    ],
)
def test_unlike_kinds_are_refused_by_name(typed, said):
    with pytest.raises(JetlibError) as caught:
        read_rule(typed)
    for words in said:
        assert words in str(caught.value)
    assert "; write " in str(caught.value)


# --- what cannot be read ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("", "empty"),
        ("   ", "empty"),
        ("gauge", "no ="),
        ("gauge = ", "at the end"),
        ("= gauge", "stands where a quantity should"),
        ("gauge = gauge = gauge", "does not go on"),
        ("gauge = 2 setting", "does not go on"),
        ("gauge = 3,000 psi", "does not go on"),
        ("gauge = 1 2 psi", "side by side"),
        ("gauge = (setting", "not shut"),
        ("gauge = setting)", "does not go on"),
        ("gague = setting", "gauge"),
        ("gauge at idel = setting", "at idle"),
        ("gauge with one jet pluged = setting", "with one jet plugged"),
        ("gauge = setting ^ gauge", "power must be a number"),
        ("gauge = setting ^ 9", "too steep"),
        ("jet count = 2^3^4", "power of a power"),
        ("gauge = sqrt setting", "no quantity"),
        ("jet count = sqrt(2, 3)", "sqrt takes one"),
        ("gauge = min(setting)", "two or more"),
        ("3 psi = gauge", "names nothing"),
        ("gauge = setting; import os", "the sign ';'"),
        ("gauge = __import__('os')", "the sign '_'"),
        ("gauge = open(1)", "no quantity"),
        ("gauge = the", "no quantity"),
        ("gauge = 1e99 psi", "beyond any rule"),
        ("jet count = 1.2.3", "two points"),
        ("jet count = " + "(" * 40 + "1" + ")" * 40, f"more than {DEEPEST} deep"),
        ("gauge = gauge with jets worn with no hose with valve shut", "two at most"),
    ],
)
def test_a_rule_that_cannot_be_read_says_what_where_and_what_to_write(typed, said):
    with pytest.raises(JetlibError, match="write") as caught:
        read_rule(typed)
    assert said in str(caught.value)


def test_no_text_and_too_much_text():
    for typed in (None, 5, b"gauge"):
        with pytest.raises(JetlibError, match="not text"):
            read_rule(typed)
    with pytest.raises(JetlibError, match=f"allowed: {LONGEST}"):
        read_rule("gauge = setting " + " " * LONGEST)


def test_case_and_spaces_do_not_matter():
    one, other = (read_rule(typed) for typed in ("GAUGE at Idle=0.5*Gauge", "gauge\tat idle =  0.5 * gauge  at full"))
    assert one.right.names() == other.right.names()


@pytest.mark.parametrize(
    ("typed", "sign"),
    [
        ("hose loss is less than 10% of the gauge", "<"),
        ("the hose loss stays below a tenth of gauge", "<"),
        ("Keep hose loss under 10 percent of gauge", "<"),
        ("hose loss no more than 10 % gauge", "<"),
        ("hose loss must not exceed 10 per cent of gauge", "<"),
        ("hose loss at most 10 % of gauge", "<"),
        ("hose loss <= 10% gauge", "<"),
        ("hose loss at least 10 % of gauge", ">"),
        ("hose loss is never less than 10 % of gauge", ">"),
        ("hose loss above 10 % of gauge", ">"),
        ("hose loss ≥ 10 % of gauge", ">"),
    ],
)
def test_a_limit_is_read_as_a_person_says_it(typed, sign):
    found = read_rule(typed)
    assert found.sign == sign
    assert work_out(found.left, lambda key: 5.0 if key.name == "hose loss" else 90.0) == 5.0
    assert float(work_out(found.right, lambda key: 90.0)) == pytest.approx(9.0)


def test_over_between_two_names_is_no_limit_where_there_is_a_sign():
    with pytest.raises(JetlibError):
        read_rule("hose loss over gauge = 0.1")


def test_every_name_can_be_written():
    for name in QUANTITIES:
        for state in STATES:
            for change in CHANGES:
                words = f"{name} at {state} with {change}"
                assert resolve(words.split())[0] == len(words.split())
        equation = read_rule(f"{name} = {name} at idle with jets worn and valve shut")
        assert {key.name for side in (equation.left, equation.right) for key in side.names()} == {name}


# --- whatever is typed --------------------------------------------------------------------------------

PIECES = [
    *QUANTITIES, "at idle", "at half speed", "with valve shut", "and", "with", "at", "in psi", "in", "psi", "ft", "3",
    "0.5", "3/8 in", "100 ft", "(", ")", "+", "-", "*", "/", "^", "^2", "=", "=", "sqrt(", "min(", ",", "√", "²", "%",
    "°F", "1e12", "eval", "lambda", "import",
]  # fmt: skip


@settings(max_examples=400, deadline=1000)
@given(st.one_of(st.text(max_size=400), st.lists(st.sampled_from(PIECES), max_size=40).map(" ".join)))
def test_whatever_is_typed_is_read_or_refused(typed):
    try:
        equation = read_rule(typed)
    except JetlibError as problem:
        assert len(str(problem)) < 4000
        return
    work_out(equation.left, lambda key: 1.0)
    work_out(equation.right, lambda key: 0.0)


@pytest.mark.parametrize(
    "typed",
    ["x" * 10_000, "(" * 10_000, "9^" * 5_000, "gauge " * 1_700, "-" * 10_000, "=" * 10_000, "1" * 10_000,
     "(" * 299, "-" * 250 + "1", "sqrt(" * 59, "gauge^" * 45, "hose " * 59, "with " * 59, "9^6 * " * 49 + "9 = 1"],
)  # fmt: skip
def test_a_long_or_nested_text_takes_no_time(typed):
    start = time.perf_counter()
    with pytest.raises(JetlibError):
        read_rule(typed)
    assert time.perf_counter() - start < 1.0


def test_the_reader_needs_no_rig():
    """It takes any table of names: here one of a single word."""
    equation = read_equation("x = 2 * x", lambda words: (1, "x", dimension("ratio")))
    assert equation.left.names() == equation.right.names() == {"x"}
    assert equation.with_knob("3") == "x = 3 * x"
