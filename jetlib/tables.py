"""Sizes and coefficients from published tables: the rows of the CSV files in data/.

Every row says where its numbers come from (`source`) and how sure that is (`confidence`). Attributes are SI.
"""

import csv
import difflib
import math
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from .errors import JetlibError

DATA = Path(__file__).parents[1] / "data"
INCH = 0.0254  # m, exact by definition
CONFIDENCES = ("quoted from the source", "from memory", "common practice, no source", "definition")
SERIES = ("number", "letter", "fraction", "metric")

_LONGEST_NAME = 60  # characters; nothing in the tables is longer, and error messages stay short


# --- reading a file ---------------------------------------------------------------------------------


def _text(cell):
    if not cell or len(cell) > 400:
        raise ValueError("a text of 1 to 400 characters")
    return cell


def _one_of(*allowed):
    def parse(cell):
        if cell not in allowed:
            raise ValueError("one of: " + "; ".join(allowed))
        return cell

    return parse


def _number(low, high, *, times=1, per=1, blank=False):
    def parse(cell):
        if blank and not cell:
            return None
        try:
            value = float(cell)
        except ValueError:
            value = math.nan
        if not low <= value <= high:  # also turns away nan
            raise ValueError(f"a number from {low:g} to {high:g}" + (", or blank" if blank else ""))
        return value * times / per

    return parse


def _rows(path, columns):
    """Dicts of parsed cells, one a row of the CSV file; `columns` maps each column name to its parser."""
    columns = {**columns, "source": _text, "confidence": _one_of(*CONFIDENCES)}
    try:
        with open(path, newline="", encoding="utf-8") as file:
            lines = csv.reader(file)
            header = next(lines, [])
            if header != list(columns):
                raise JetlibError(
                    f"{path.name}, line 1: the columns are {', '.join(header)}; "
                    f"they must be {', '.join(columns)}"
                )
            rows = [_row(path, lines.line_num, cells, columns) for cells in lines if cells]
    except OSError as error:
        raise JetlibError(
            f"cannot read the table {path} ({error.strerror}); keep data/ beside jetlib/ "
            "and install with: pip install -r requirements.txt"
        ) from error
    if not rows:
        raise JetlibError(f"{path.name} has no rows; restore the file that came with the course")
    return rows


def _row(path, line, cells, columns):
    if len(cells) != len(columns):
        raise JetlibError(
            f"{path.name}, line {line}: {len(cells)} cells; write {len(columns)}: {', '.join(columns)}"
        )
    row = {}
    for (column, parse), cell in zip(columns.items(), cells, strict=True):
        try:
            row[column] = parse(cell.strip())
        except ValueError as error:
            raise JetlibError(
                f"{path.name}, line {line}, column {column}: {cell[:_LONGEST_NAME]!r}; allowed: {error}"
            ) from None
    return row


# --- finding a row ----------------------------------------------------------------------------------


def _asked(name, what):
    """The name in lower case with single spaces."""
    if not isinstance(name, str | int) or isinstance(name, bool):
        raise JetlibError(f'{what} is {type(name).__name__}; write a name in quotes, e.g. "54"')
    text = str(name) if isinstance(name, int) and abs(name) < 1000 else name
    if not isinstance(text, str) or len(text) > _LONGEST_NAME:
        raise JetlibError(f"{what} is too long; a name has at most {_LONGEST_NAME} characters")
    return " ".join(text.lower().split())


def _unknown(name, what, known):
    close = difflib.get_close_matches(_asked(name, what), known, n=4, cutoff=0.4) or list(known)[:8]
    return JetlibError(f"no {what} {name!r} in the table; close ones: {', '.join(close)}")


# --- drills -----------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Drill:
    """One twist drill of a standard series; `diameter` in metres."""

    series: str
    name: str
    diameter: float
    source: str
    confidence: str

    @property
    def label(self):
        """The name as it is spoken and typed: #54, letter F, 1/16 in, 1.4 mm."""
        return {
            "number": f"#{self.name}",
            "letter": f"letter {self.name}",
            "fraction": f"{self.name} in",
            "metric": f"{self.name} mm",
        }[self.series]


@cache
def _all_drills():
    columns = {
        "series": _one_of(*SERIES),
        "name": _text,
        "diameter_mm": _number(0.1, 100.0, per=1000),
        "diameter_in": _number(0.004, 4.0, times=INCH, blank=True),
    }
    found = []
    for row in _rows(DATA / "drills.csv", columns):
        inches = row["diameter_in"]
        if inches is not None and not math.isclose(inches, row["diameter_mm"], rel_tol=1e-9):
            raise JetlibError(
                f"drills.csv, {row['series']} {row['name']}: diameter_mm is {row['diameter_mm'] * 1e3:.6g}; "
                f"allowed: 25.4 times diameter_in, {inches * 1e3:.6g}"
            )
        found.append(Drill(row["series"], row["name"], row["diameter_mm"], row["source"], row["confidence"]))
    return tuple(sorted(found, key=lambda drill: drill.diameter))


@cache
def drills(series=None):
    """Drills, smallest first, of one series (number, letter, fraction, metric) or of all."""
    if series is None:
        return _all_drills()
    if series not in SERIES:
        raise JetlibError(f"series is {str(series)[:_LONGEST_NAME]!r}; write one of: {', '.join(SERIES)}")
    return tuple(drill for drill in _all_drills() if drill.series == series)


@cache
def _drills_by_name():
    """Every spelling that finds a drill. A bare whole number is a number drill, never millimetres."""
    names = {}
    for drill in _all_drills():
        name = drill.name.lower()
        spellings = {
            "number": (f"#{name}", f"number {name}", f"no. {name}", f"no {name}", name),
            "letter": (f"letter {name}", name),
            "fraction": (f"{name} in", f'{name}"', f"{name} inch", name),
            "metric": (
                f"{name} mm",
                f"{name}mm",
                f"{name.removesuffix('.0')} mm",
                f"{name.removesuffix('.0')}mm",
                name,
            ),
        }[drill.series]
        names.update(dict.fromkeys(spellings, drill))
    return names


def drill(name):
    """The drill of that name: "#54", "54", "letter F", "F", "1/16", "1.4", "2 mm".

    Raises JetlibError, with close names, when no drill has it.
    """
    asked = _asked(name, "drill")
    known = _drills_by_name()
    if asked in known:
        return known[asked]
    number, _, unit = asked.partition(" ")
    if unit in ("", "mm") and "." in number and number.rstrip("0") + "0" in known:  # 1.40 is 1.4
        return known[number.rstrip("0") + "0"]
    if unit in ("", "mm") and "." in number and number.rstrip("0") in known:
        return known[number.rstrip("0")]
    raise _unknown(name, "drill", [each.label for each in _all_drills()])


def next_drill(diameter, step=1, *, series="number"):
    """The drill `step` sizes above (below, if negative) the one nearest to `diameter` (m); 0 is the nearest.

    Opening a jet by one drill size is `next_drill(bore)`. Up always means a larger hole, though the numbers
    of number drills run the other way. Raises JetlibError past either end of the series.
    """
    try:
        usable = 0 < diameter < math.inf
    except TypeError:
        usable = False
    if not usable:
        raise JetlibError(f"diameter is {str(diameter)[:_LONGEST_NAME]}; write metres above 0, e.g. 0.0014")
    if not isinstance(step, int):
        raise JetlibError(f"step is {str(step)[:_LONGEST_NAME]}; write a whole number of sizes, e.g. 1 or -1")
    row = drills(series)
    nearest = min(range(len(row)), key=lambda index: abs(row[index].diameter - diameter))
    wanted = nearest + step
    if not 0 <= wanted < len(row):
        raise JetlibError(
            f"step is {step} from {row[nearest].label}; the series runs from {row[0].label} "
            f"to {row[-1].label}, so step can be {-nearest} to {len(row) - 1 - nearest}"
        )
    return row[wanted]
