"""Twist drills by their series and names."""

import math
import operator
from dataclasses import dataclass
from functools import cache

from jetlib.errors import JetlibError
from jetlib.tables.csv_table import brief, column, millimetres, number, one_of, plain_name, rows_of, unknown

SERIES = ("number", "letter", "fraction", "metric")


@dataclass(frozen=True)
class Drill:
    """One twist drill of a standard series; `diameter` in metres."""

    series: str = column(one_of(*SERIES))
    name: str
    diameter: float = column(millimetres(0.1, 100), "diameter_mm")
    diameter_by_inch: float | None = column(number(0.004, 4, times="0.0254", blank=True), "diameter_in")
    source: str
    confidence: str

    @property
    def label(self):
        """The name as it is spoken and typed: #54, letter F, 1/16 in, 1.4 mm."""
        form = {"number": "#{}", "letter": "letter {}", "fraction": "{} in", "metric": "{} mm"}[self.series]
        return form.format(self.name)


def _inch_and_millimetre(row):
    inch = row["diameter_by_inch"]
    if inch is not None and not math.isclose(row["diameter"], inch, rel_tol=1e-9):
        return "diameter_mm", f"25.4 times diameter_in, {inch * 1e3:.9g}"
    return None


@cache
def _drills_of(series):
    if series is not None:
        return tuple(row for row in _drills_of(None) if row.series == series)
    rows = rows_of("drills.csv", Drill, _inch_and_millimetre)
    return tuple(sorted(rows, key=lambda row: row.diameter))


def drills(series=None):
    """Drills, smallest first, of one series (number, letter, fraction, metric) or of all."""
    asked = None if series is None else plain_name(series, "series")
    if asked not in (None, *SERIES):
        raise unknown(series, "series", SERIES)
    return _drills_of(asked)


@cache
def _drills_by_name():
    """Every spelling that finds a drill. A bare whole number is a number drill, never millimetres."""
    spellings = {
        "number": ("#{}", "# {}", "number {}", "no. {}", "no {}", "{}"),
        "letter": ("letter {}", "{}"),
        "fraction": ("{} in", "{}in", "{} inch", '{}"', "{}"),
        "metric": ("{} mm", "{}mm", "{}"),
    }
    names = {}
    for row in drills():
        name = row.name.lower()
        names.update(dict.fromkeys((form.format(name) for form in spellings[row.series]), row))
        if row.series == "metric":
            names.update({f"{row.diameter * 1e3:g} mm": row, f"{row.diameter * 1e3:g}mm": row})
            names.update({f"{row.diameter * 1e3:.2f} mm": row, f"{row.diameter * 1e3:.2f}": row})
    return names


def drill(name):
    """The drill of that name: "#54", "54", "letter F", "F", "1/16", "1.4", "2 mm".

    Raises JetlibError, with close names, when no drill has it.
    """
    asked = plain_name(name, "drill")
    try:
        return _drills_by_name()[asked]
    except KeyError:
        raise unknown(name, "drill", [row.label for row in drills()]) from None


def next_drill(diameter, step=1, *, series="number"):
    """The drill `step` sizes above (below, if negative) the one nearest to `diameter` (m); 0 is the nearest.

    Opening a jet by one drill size is `next_drill(bore)`. Up always means a larger hole, though the numbers
    of number drills run the other way. series=None steps through all series, equal diameters counting once.
    Raises JetlibError past either end of the series.
    """
    try:
        usable = 0 < diameter < 1
    except (TypeError, ValueError):
        usable = False
    if not usable:
        raise JetlibError(f"diameter is {brief(diameter)}; write metres between 0 and 1, e.g. 0.0014")
    try:
        step = operator.index(step)
    except TypeError:
        raise JetlibError(f"step is {brief(step)}; write a whole number of sizes, e.g. 1 or -1") from None
    sizes = list({row.diameter: row for row in drills(series)}.values())
    nearest = min(range(len(sizes)), key=lambda index: abs(sizes[index].diameter - diameter))
    if not 0 <= nearest + step < len(sizes):
        raise JetlibError(
            f"step is {brief(step)} from {sizes[nearest].label}; the drills run from {sizes[0].label} "
            f"to {sizes[-1].label}, so write a step from {-nearest} to {len(sizes) - 1 - nearest}"
        )
    return sizes[nearest + step]
