"""What an exercise gives is what the machine would do, and what its solution prints can be typed into a calculator."""

import ast
import math
import random
import re
from functools import cache
from itertools import pairwise

import pytest

from jetlib.course.banks import registry as bank
from jetlib.units import SYSTEMS, from_si

EXERCISES = bank.all_exercises()
each_exercise = pytest.mark.parametrize("exercise", EXERCISES, ids=lambda exercise: exercise.id)
LIKE_LESSON_02 = [each for each in EXERCISES if each.id[:2] <= "06"]


@cache
def variants(exercise_id, seeds):
    exercise = bank.exercise(exercise_id)
    return tuple(exercise.variant(seed).in_system(system) for seed in range(seeds) for system in SYSTEMS)


@each_exercise
def test_a_given_is_what_the_engine_says(exercise):
    """Within 5 %: the rest is the step that a gauge is read to. 200 seeds, both unit systems."""
    if exercise.given is None:
        return
    for variant in variants(exercise.id, 200):
        for name, value in exercise.given(variant.parameters).items():
            shown = variant.parameters[name]
            if isinstance(value, float) and name in exercise.shown:
                assert shown == pytest.approx(value, rel=0.05), (variant.seed, name)


def serghides(flow, length, bore):
    """Pressure loss (Pa) of a hose: T.K. Serghides, Chemical Engineering, March 1984, p. 63 (0.003 % of Colebrook).

    Cool water: 999.1 kg/m3 and 1.138 mPa s at 15 degC (IAPWS, from memory); a lining of 0.01 mm, as the yard has.
    """
    speed = flow / (math.pi / 4.0 * bore**2)
    reynolds, rough = 999.1 * speed * bore / 1.138e-3, 1e-5 / bore / 3.7
    a = -2.0 * math.log10(rough + 12.0 / reynolds)
    b = -2.0 * math.log10(rough + 2.51 * a / reynolds)
    c = -2.0 * math.log10(rough + 2.51 * b / reynolds)
    factor = (a - (b - a) ** 2 / (c - 2.0 * b + a)) ** -2
    return factor * length / bore * 999.1 * speed**2 / 2.0


@pytest.mark.parametrize("exercise", LIKE_LESSON_02, ids=lambda exercise: exercise.id)
def test_losses_and_pressures_are_those_of_a_handbook(exercise):
    """Hoses by Serghides; jets by Q = 29.84 Cd d^2 sqrt(p), gpm, in and psi (NFPA 291, annex), Cd 0.72."""
    for variant in variants(exercise.id, 200):
        p = variant.parameters
        flow = p.get("before") or p.get("flow")
        if "loss" in p and "bore" in p and "length" in p:
            assert p["loss"] == pytest.approx(serghides(flow, p["length"], p["bore"]), rel=0.05), (
                variant.seed,
                dict(p),
            )
        bore = p.get("jet_bore") or (p.get("old_bore") or p.get("bore") if exercise.lesson == "02" else None)
        needed = p.get("jets") or (p.get("pressure") if exercise.lesson == "02" else None)
        if bore and needed and "count" in p and "flow" in p:
            gpm = 29.84 * 0.72 * p["count"] * (bore / 0.0254) ** 2 * math.sqrt(from_si(needed, "pressure", "US"))
            assert from_si(p["flow"], "flow", "US") == pytest.approx(gpm, rel=0.05), (variant.seed, dict(p))


@pytest.mark.parametrize("exercise", LIKE_LESSON_02, ids=lambda exercise: exercise.id)
def test_no_loss_is_drawn(exercise):
    """A setting is chosen, and so is the pressure behind a set of jets; every other pressure has to follow."""
    for seed in range(20):
        drawn = exercise.draw(random.Random(seed))
        pressures = {name for name in drawn if exercise.shown.get(name) == "pressure"}
        if exercise.id != "06-what-is-wrong":  # which draws the share of area and takes the rest from the engine
            assert pressures <= {"setting", "pressure"}


# --- arithmetic -------------------------------------------------------------------------------------

UNITS = re.compile(
    r"(?<=[\d )²])\s?(?:gpm|L/min|psi|bar|in²|mm²|in³|ft³|m³|mL|rpm|hp|kW|lbf/ft²|lbf/ft|lbf|N/m|N|lb/ft|kg/m|kg|lb"
    r"|ft/s|m/s|ft/min|m/min|ft|min|mm|in|gal|°F|°C|Pa|kPa|%|°|s|L|m)(?![\w²³/])"
)
NUMBER = re.compile(r"-?\d[\d,]*\.?\d*(?:e-?\d+)?")
NODES = (ast.Expression, ast.BinOp, ast.UnaryOp, ast.Constant, ast.Call, ast.Name, ast.Load, ast.Add, ast.Sub, ast.Mult,
         ast.Div, ast.Pow, ast.USub)  # fmt: skip


def worked_out(words):
    """What a side of a line comes to; None where it is words, not arithmetic."""
    plain = UNITS.sub("", words.strip().rstrip(".").replace("−", "-").replace("×", "*"))
    plain = re.sub(r"√([\d.]+)", r"sqrt(\1)", plain).replace("√(", "sqrt(").replace("²", "**2").replace("π", "pi")
    plain = re.sub(r"cos\(([^)]*)\)", r"cos(\1 * pi / 180)", plain)
    try:
        tree = ast.parse(plain.strip(), mode="eval")
    except SyntaxError:
        return None
    if not all(isinstance(node, NODES) for node in ast.walk(tree)):
        return None
    names = {"sqrt": math.sqrt, "cos": math.cos, "pi": math.pi, "__builtins__": {}}
    try:
        return float(eval(compile(tree, "line", "eval"), names))  # of our own words, numbers and + - * / only
    except NameError:
        return None


def lines_that_fail(text):
    for line in text.splitlines():
        if " = " not in line:
            continue
        left, *others = line.split(" = ")
        sides = [left.rpartition(": ")[2], *others]
        for one, other in pairwise(sides):
            value, printed = worked_out(one), NUMBER.match(other.strip())
            if value is None or printed is None:
                yield line, value
                continue
            shown = float(printed[0].replace(",", ""))
            half = 0.5 * 10.0 ** (math.floor(math.log10(abs(shown))) - 2) if shown else 5e-4
            if abs(value - shown) > 1.001 * half:
                yield line, value


def test_the_reader_of_lines_works():
    """9.5 gpm x 3000 psi / 1714 is 16.6 hp (fluid power formula); without the 1714 the line is caught."""
    assert not list(lines_that_fail("In the water: 9.5 gpm × 3000 psi / 1714 = 16.6 hp"))
    assert not list(lines_that_fail("√(3² + 4²) = 5\nHalf: 5 mm × cos(60°) = 2.5 mm"))
    assert list(lines_that_fail("9.5 gpm × 3000 psi = 16.6 hp"))
    assert list(lines_that_fail("√(2 × 1700/62.4) = 503"))


@each_exercise
def test_every_line_of_a_solution_comes_out_as_printed(exercise):
    """50 seeds, both unit systems."""
    for seed in range(50):
        variant = exercise.variant(seed)
        for system in SYSTEMS:
            assert not list(lines_that_fail(variant.solution(system))), (seed, system)


def test_solutions_have_arithmetic():
    """Most exercises that are answered with numbers show at least one line of it."""
    having = [each for each in EXERCISES if hasattr(each, "tolerance") and " = " in each.variant(1).solution("US")]
    asked = [each for each in EXERCISES if hasattr(each, "tolerance")]
    assert len(having) == len(asked), {each.id for each in asked} - {each.id for each in having}
