"""Every line of arithmetic on a page can be typed into a calculator, and gives the number that is printed.

A line of arithmetic is text with "=" and a number on each side of it, outside formulas. Its left side is worked out as
it stands; a left side that is one number with a unit is a conversion. The answer must agree with the printed one in
the last digit that is printed.
"""

import re

import nbformat
import pytest

from jetlib import from_si, si
from jetlib.course.pages.contents import LESSONS

NOTEBOOKS = {path.stem: nbformat.read(path, 4) for path in sorted(LESSONS.glob("[0-9][0-9]_*.ipynb"))}
NUMBER = r"\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+(?:\.\d+)?"
UNITS = {
    "psi": "pressure", "bar": "pressure", "gpm": "flow", "L/min": "flow", "hp": "power", "kW": "power", "lbf": "force",
    "N": "force", "ft": "length", "m": "length", "in": "bore", "mm": "bore", "in²": "area", "mm²": "area",
    "gal": "volume",
    "L": "volume", "min": "duration", "ft/s": "velocity", "m/s": "velocity",
}  # fmt: skip
WORD = "|".join(
    sorted(map(re.escape, [*UNITS, "rpm", "%", "°F", "°C", "lb/ft", "lbf/ft", "N/m", "kg/m", "lb", "kg"]), key=len)[
        ::-1
    ]
)
SIDE = rf"(?:{NUMBER}|[\s()×·/+−√²⁵-]|(?:{WORD})(?![A-Za-z²/]))+"
SUM = re.compile(rf"(?<![\w.,])(?=[\d(√−])({SIDE}(?:=\s*(?:−\s*)?(?:{NUMBER})(?:\s*(?:{WORD})(?![A-Za-z²/]))?\s*)+)")


def lines(markdown):
    """The lines of arithmetic in a text, outside formulas."""
    text = re.sub(r"\$\$.*?\$\$|\$[^$]*\$|`[^`]*`|\]\([^)]*\)", " ; ", markdown, flags=re.DOTALL)
    return [found.strip() for line in text.splitlines() for found in SUM.findall(line)]


def split(side):
    """(what stands there without units, the last unit)."""
    found = re.findall(rf"(?<![A-Za-z])(?:{WORD})(?![A-Za-z²/])", side)
    return re.sub(rf"(?<![A-Za-z])(?:{WORD})(?![A-Za-z²/])", " ", side).strip(), (found[-1] if found else "")


def worked(text):
    """The number that a calculator gives."""
    sums = (
        text.replace(",", "")
        .replace("−", "-")
        .replace("×", "*")
        .replace("·", "*")
        .replace("²", "**2")
        .replace("⁵", "**5")
    )
    sums = re.sub(r"√\s*(\d+(?:\.\d+)?)", r"(\1)**0.5", sums)
    while "√" in sums:
        sums = re.sub(r"√\s*(\([^()]*\))", r"\1**0.5", sums)
    return eval(sums, {"__builtins__": {}})  # digits and signs alone: SUM lets nothing else through


def last_place(number):
    """Half of the last digit that is printed; trailing zeros of a whole number may be rounding."""
    digits = number.replace(",", "").replace("−", "").strip()
    if "." in digits:
        return 0.5 * 10.0 ** -len(digits.split(".")[1])
    return 0.5 * 10.0 ** min(len(digits) - len(digits.rstrip("0")), 2)


def wrong(line):
    """What is wrong with a line of arithmetic, or ""."""
    sides = line.split("=")
    left, unit = split(sides[0])
    value = worked(left)
    for side in sides[1:]:
        text, to = split(side)
        if to != unit and unit and re.fullmatch(NUMBER, left.strip()):
            value = from_si(
                si(f"{value} {unit}", UNITS[unit]),
                UNITS[unit],
                "US" if to in ("psi", "gpm", "hp", "lbf", "ft", "in", "in²", "gal") else "metric",
            )
        if abs(value - float(text.replace(",", "").replace("−", "-"))) > 1.01 * last_place(text) + 1e-9:
            return f"{line}: {value:.6g}"
        left, unit, value = text, to, worked(text)
    return ""


@pytest.mark.parametrize("stem", NOTEBOOKS)
def test_every_line_of_arithmetic_gives_the_number_printed(stem):
    found = [line for cell in NOTEBOOKS[stem].cells if cell.cell_type == "markdown" for line in lines(cell.source)]
    assert [problem for problem in map(wrong, found) if problem] == []


@pytest.mark.parametrize("stem", [stem for stem in NOTEBOOKS if not stem.startswith("00")])
def test_a_worked_example_shows_the_numbers_in_the_formula_in_both_systems(stem):
    (cell,) = (cell for cell in NOTEBOOKS[stem].cells if cell.source.startswith("## Worked example"))
    assert len(lines(cell.source)) >= 6


def test_a_wrong_line_is_found_and_a_right_one_passes():
    assert lines("- Left: 2800 psi − 835 psi = 1965 psi") == ["2800 psi − 835 psi = 1965 psi"]
    right = (
        "2800 psi − 835 psi = 1965 psi",
        "9.03 / (38.0 × √1965) = 0.00536 in²",
        "√(4 × 0.00149 / 3.14) = 0.0436 in",
    )
    assert [wrong(line) for line in (*right, "295 bar − 165 bar = 130 bar = 1890 psi", "0.43 × 0.43 = 0.18")] == [
        ""
    ] * 5
    assert wrong("9.5 × 3000 = 16.6 hp") and wrong("130 bar = 1950 psi") and wrong("√(2 × 1700 / 62.4) = 503")
