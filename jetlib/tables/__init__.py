"""Sizes and coefficients from published tables: the rows of the CSV files in data/.

Every row says where its numbers come from (`source`) and how sure that is (`confidence`). Attributes are SI.
A table is read once, when it is first asked for. A row that cannot be used raises JetlibError.
"""

import csv
import difflib
import math
import operator
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cache
from pathlib import Path

from jetlib.errors import JetlibError

DATA = Path(__file__).parents[2] / "data"
CONFIDENCES = ("quoted from the source", "from memory", "common practice, no source", "definition")
SERIES = ("number", "letter", "fraction", "metric")
USUAL_HOSE = "EN 853 2SN"  # two wire braid: what `hose` gives when no standard is named

_LONGEST = 60  # characters of a name, or of a cell quoted in a message


# --- reading a file ---------------------------------------------------------------------------------


def _text(cell):
    if not 0 < len(cell) <= 400:
        raise ValueError("a text of 1 to 400 characters")
    return cell


def _one_of(*allowed):
    def parse(cell):
        if cell not in allowed:
            raise ValueError("one of: " + "; ".join(allowed))
        return cell

    return parse


def _number(low, high, *, times="1", blank=False):
    """Parser of a number from low to high; `times` turns the unit of the column into SI without rounding twice."""

    def parse(cell):
        if blank and not cell:
            return None
        try:
            inside = low <= float(cell) <= high  # also turns away nan
        except ValueError:
            inside = False
        if not inside:
            raise ValueError(f"a number from {low:g} to {high:g}" + (", or blank" if blank else ""))
        return float(Decimal(cell) * Decimal(times))

    return parse


def _millimetres(low, high, *, blank=False):
    return _number(low, high, times="0.001", blank=blank)


def _inches(cell):
    """Metres from a fraction of an inch such as 3/8 or 1."""
    top, _, bottom = cell.partition("/")
    try:
        return int(top[:3]) / int(bottom[:3] or 1) * 0.0254
    except (ValueError, ZeroDivisionError):
        raise ValueError("a fraction of an inch such as 3/8") from None


def _dash(cell):
    if cell not in {f"-{sixteenths}" for sixteenths in range(1, 65)}:
        raise ValueError("a dash size from -1 to -64")
    return int(cell[1:])


def _table(name, kind, columns, check=None):
    """Tuple of `kind`, one for each row of data/`name`.

    columns: name of each CSV column -> (attribute, parser). check: takes a row's attributes and returns nothing, or
    the column that does not fit the others and what it may hold. source and confidence are in every table.
    """
    columns = {**columns, "source": ("source", _text), "confidence": ("confidence", _one_of(*CONFIDENCES))}
    path = DATA / name
    try:
        with open(path, newline="", encoding="utf-8") as file:
            lines = csv.reader(file)
            header = next(lines, [])
            if header != list(columns):
                raise JetlibError(
                    f"{name}, line 1: the columns are {', '.join(header)[:400]}; write {','.join(columns)}"
                )
            rows = [_row(name, lines.line_num, cells, columns, check) for cells in lines if cells]
    except OSError as error:
        raise JetlibError(
            f"cannot read the table {path} ({error.strerror}); keep data/ beside jetlib/ "
            "and install with: pip install -r requirements.txt"
        ) from error
    except (csv.Error, UnicodeDecodeError) as error:
        raise JetlibError(f"{name} is not a CSV file in UTF-8 ({error}); restore the file of the course") from error
    if not rows:
        raise JetlibError(f"{name} has no rows; restore the file of the course")
    return tuple(kind(**row) for row in rows)


def _row(name, line, cells, columns, check):
    if len(cells) != len(columns):
        raise JetlibError(f"{name}, line {line}: {len(cells)} cells; write {len(columns)}: {','.join(columns)}")
    raw = {column: cell.strip() for column, cell in zip(columns, cells, strict=True)}
    row = {}

    def broken(column, allowed):
        return JetlibError(f"{name}, line {line}, column {column}: {raw[column][:_LONGEST]!r}; allowed: {allowed}")

    for column, (attribute, parse) in columns.items():
        try:
            row[attribute] = parse(raw[column])
        except ValueError as error:
            raise broken(column, error) from None
    misfit = check and check(row)
    if misfit:
        raise broken(*misfit)
    return row


# --- finding a row ----------------------------------------------------------------------------------


def _plain(name, what):
    """The name in lower case with single spaces."""
    if isinstance(name, bool) or not isinstance(name, str | int):
        raise JetlibError(f"{what} is a {type(name).__name__}; write its name in quotes")
    if isinstance(name, int):
        name = str(name) if abs(name) < 10_000 else "0" * 99
    if len(name) > _LONGEST:
        raise JetlibError(f"{what} is {len(name)} characters long; write at most {_LONGEST}")
    return " ".join(name.lower().split())


def _brief(value):
    """What was given, short enough for a message."""
    if isinstance(value, int) and abs(value) > 10**9:
        return "a huge number"
    return repr(value)[:_LONGEST]


def _unknown(name, what, known):
    known = list(dict.fromkeys(known))
    low = {each.lower(): each for each in known}
    close = [low[each] for each in difflib.get_close_matches(_plain(name, what), low, n=5, cutoff=0.4)]
    return JetlibError(f"there is no {what} {name!r}; close ones: {'; '.join(close or known[:12])}")


def _by_kind(rows, kind, what):
    asked = _plain(kind, what)
    for row in rows:
        if row.kind == asked:
            return row
    raise _unknown(kind, what, [row.kind for row in rows])


# --- drills -----------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Drill:
    """One twist drill of a standard series; `diameter` in metres."""

    series: str
    name: str
    diameter: float
    source: str
    confidence: str
    diameter_by_inch: float | None = None

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
def _all_drills():
    columns = {
        "series": ("series", _one_of(*SERIES)),
        "name": ("name", _text),
        "diameter_mm": ("diameter", _millimetres(0.1, 100)),
        "diameter_in": ("diameter_by_inch", _number(0.004, 4, times="0.0254", blank=True)),
    }
    rows = _table("drills.csv", Drill, columns, _inch_and_millimetre)
    return tuple(sorted(rows, key=lambda row: row.diameter))


def drills(series=None):
    """Drills, smallest first, of one series (number, letter, fraction, metric) or of all."""
    if series is None:
        return _all_drills()
    if _plain(series, "series") not in SERIES:
        raise _unknown(series, "series", SERIES)
    return tuple(row for row in _all_drills() if row.series == _plain(series, "series"))


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
    for row in _all_drills():
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
    asked = _plain(name, "drill")
    try:
        return _drills_by_name()[asked]
    except KeyError:
        raise _unknown(name, "drill", [row.label for row in _all_drills()]) from None


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
        raise JetlibError(f"diameter is {_brief(diameter)}; write metres between 0 and 1, e.g. 0.0014")
    try:
        step = operator.index(step)
    except TypeError:
        raise JetlibError(f"step is {_brief(step)}; write a whole number of sizes, e.g. 1 or -1") from None
    sizes = list({row.diameter: row for row in drills(series)}.values())
    nearest = min(range(len(sizes)), key=lambda index: abs(sizes[index].diameter - diameter))
    if not 0 <= nearest + step < len(sizes):
        raise JetlibError(
            f"step is {_brief(step)} from {sizes[nearest].label}; the drills run from {sizes[0].label} "
            f"to {sizes[-1].label}, so write a step from {-nearest} to {len(sizes) - 1 - nearest}"
        )
    return sizes[nearest + step]


# --- hose -------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class HoseSize:
    """One size of hose in one edition of a standard; lengths in m, pressure in Pa, mass in kg/m.

    `bore` is the mean of the inside-diameter limits. `working_pressure` is what the standard asks of that size and
    edition: what is printed on the hose, and the machine's manual, come before it. `mass_per_metre` is an estimate.
    `pressure_confidence` is that of the pressure, `confidence` that of all else.
    """

    dash: int
    nominal_bore: float
    bore: float
    bore_min: float
    bore_max: float
    outside_diameter_max: float
    standard: str
    edition: str
    construction: str
    working_pressure: float
    bend_radius: float
    mass_per_metre: float
    mass_basis: str
    pressure_confidence: str
    source: str
    confidence: str

    @property
    def label(self):
        """Such as -6 EN 853 2SN (2015)."""
        return f"-{self.dash} {self.standard} ({self.edition})"


def _bore_within_limits(row):
    if not row["bore_min"] <= row["bore"] <= row["bore_max"] < row["outside_diameter_max"]:
        return "bore_mm", "bore_min_mm to bore_max_mm, and below outside_diameter_max_mm"
    return None


@cache
def hoses():
    """Every hose size of every standard and edition in the table."""
    columns = {
        "dash": ("dash", _dash),
        "nominal_bore_in": ("nominal_bore", _inches),
        "bore_mm": ("bore", _millimetres(2, 60)),
        "bore_min_mm": ("bore_min", _millimetres(2, 60)),
        "bore_max_mm": ("bore_max", _millimetres(2, 60)),
        "outside_diameter_max_mm": ("outside_diameter_max", _millimetres(4, 100)),
        "standard": ("standard", _text),
        "edition": ("edition", _text),
        "construction": ("construction", _text),
        "working_pressure_bar": ("working_pressure", _number(10, 1500, times="100000")),
        "bend_radius_mm": ("bend_radius", _millimetres(10, 1000)),
        "mass_kg_per_m": ("mass_per_metre", _number(0.02, 10)),
        "mass_basis": ("mass_basis", _text),
        "pressure_confidence": ("pressure_confidence", _one_of(*CONFIDENCES)),
    }
    return _table("hoses.csv", HoseSize, columns, _bore_within_limits)


def hose(dash, standard=None, edition=None):
    """The hose of that dash size (6, "-6"): of USUAL_HOSE and of the newest edition unless others are named.

    standard: "EN 853 2SN", or its last word. Raises JetlibError that lists what there is.
    """
    size = _plain(dash, "dash size").removeprefix("-")
    of_size = [row for row in hoses() if str(row.dash) == size]
    if not of_size:
        raise _unknown(dash, "dash size", [f"-{row.dash}" for row in hoses()])
    wanted = _plain(USUAL_HOSE if standard is None else standard, "standard")
    found = [row for row in of_size if f" {row.standard.lower()}".endswith(f" {wanted}")]
    if not found:
        raise _unknown(standard, f"-{size} hose to standard", [row.standard for row in of_size])
    if edition is None:
        return max(found, key=lambda row: row.edition)
    for row in found:
        if row.edition == _plain(edition, "edition"):
            return row
    raise _unknown(edition, f"edition of {found[0].standard}", [row.edition for row in found])


@cache
def nominal_hoses():
    """The HoseSize that each nominal size means, a dict by nominal bore (m, to 0.1 um): USUAL_HOSE, newest edition.

    `bore` is the mean of its limits, 5.0 mm for 3/16 in and 12.9 mm for 1/2 in: what a typed name is taken for.
    """
    usual = sorted((row for row in hoses() if row.standard == USUAL_HOSE), key=lambda row: row.edition)
    return {round(row.nominal_bore, 7): row for row in usual}


def hose_of_bore(bore):
    """The HoseSize whose mean bore is `bore` (m), or None: a measured one."""
    return next((row for row in nominal_hoses().values() if abs(row.bore - bore) < 1e-9), None)


# --- drain pipes ------------------------------------------------------------------------------------


@dataclass(frozen=True)
class PipeSize:
    """The bore of one size of drain pipe, `inside_diameter` in m, and Manning's n (s/m^(1/3)) of that material.

    `basis` says how the bore was had: from the standard, from outside diameter and wall, or nominal. `confidence`
    is that of the bore; `source` says where n comes from too.
    """

    material: str
    standard: str
    nominal_size: str
    outside_diameter: float | None
    wall: float | None
    inside_diameter: float
    basis: str
    manning_n: float
    manning_n_low: float
    manning_n_high: float
    family: str
    source: str
    confidence: str

    @property
    def label(self):
        """Such as 4 in PVC SDR 35 (ASTM D3034)."""
        return f"{self.nominal_size} {self.material} ({self.standard})"


def _pipe_adds_up(row):
    outside, wall, inside = row["outside_diameter"], row["wall"], row["inside_diameter"]
    if (outside is None) != (wall is None):
        return "wall_mm", "a wall with an outside diameter, or both blank"
    if outside is not None and abs(outside - 2 * wall - inside) > 1e-6:
        return "inside_diameter_mm", f"outside diameter less twice the wall, {(outside - 2 * wall) * 1e3:.6g}"
    if not row["manning_n_low"] <= row["manning_n"] <= row["manning_n_high"]:
        return "manning_n", "manning_n_low to manning_n_high"
    return None


@cache
def pipes():
    """Every size of drain pipe in the table."""
    columns = {
        "material": ("material", _text),
        "standard": ("standard", _text),
        "nominal_size": ("nominal_size", _text),
        "outside_diameter_mm": ("outside_diameter", _millimetres(10, 2000, blank=True)),
        "wall_mm": ("wall", _millimetres(0.5, 200, blank=True)),
        "inside_diameter_mm": ("inside_diameter", _millimetres(10, 2000)),
        "basis": ("basis", _text),
        "manning_n": ("manning_n", _number(0.005, 0.05)),
        "manning_n_low": ("manning_n_low", _number(0.005, 0.05)),
        "manning_n_high": ("manning_n_high", _number(0.005, 0.05)),
        "family": ("family", _text),
    }
    return _table("pipes.csv", PipeSize, columns, _pipe_adds_up)


def pipe(label):
    """The pipe with that label: "4 in PVC SDR 35 (ASTM D3034)"; the standard may be left out."""
    asked = _plain(label, "pipe")
    for row in pipes():
        if asked in (row.label.lower(), f"{row.nominal_size} {row.material}".lower()):
            return row
    raise _unknown(label, "pipe", [row.label for row in pipes()])


@dataclass(frozen=True)
class PipeLimit:
    """The most pressure (Pa), `limit`, that a sound pipe of a `family` of materials is to be jetted with.

    `coded`: a code of practice says so; the others are what is done for want of one.
    """

    family: str
    limit: float
    coded: bool
    source: str
    confidence: str


@cache
def pipe_limits():
    """The limit of every family of pipe."""
    columns = {
        "family": ("family", _text),
        "limit_psi": ("limit", _number(100, 20000, times="6894.757293168361")),
        "coded": ("coded", _one_of("yes", "no")),
    }
    rows = _table("pipe_limits.csv", PipeLimit, columns)
    return tuple(replace(row, coded=row.coded == "yes") for row in rows)


def pipe_limit(family):
    """The PipeLimit of that family of pipe, such as "plastic"."""
    asked = _plain(family, "pipe material")
    for row in pipe_limits():
        if row.family == asked:
            return row
    raise _unknown(family, "pipe material", [row.family for row in pipe_limits()])


# --- coefficients -----------------------------------------------------------------------------------


@dataclass(frozen=True)
class CoefficientRange:
    """A value that is only known within a range: the `typical` one, and the `low` and `high` to expect."""

    kind: str
    typical: float
    low: float
    high: float
    source: str
    confidence: str


def _spreads(name, column, unit, parse):
    def in_order(row):
        return None if row["low"] <= row["typical"] <= row["high"] else (column, f"low{unit} to high{unit}")

    columns = {"kind": ("kind", _text), column: ("typical", parse)}
    columns |= {f"low{unit}": ("low", parse), f"high{unit}": ("high", parse)}
    return _table(name, CoefficientRange, columns, in_order)


@cache
def roughnesses():
    """Wall roughness (m) by kind of hose, tube or pipe."""
    return _spreads("roughness.csv", "roughness_mm", "_mm", _millimetres(0, 10))


def roughness(kind):
    """Wall roughness (m) of that kind, as a CoefficientRange."""
    return _by_kind(roughnesses(), kind, "kind of wall")


@cache
def discharge_coefficients():
    """Discharge coefficient of a jet by the shape of its edge."""
    return _spreads("discharge_coefficients.csv", "discharge_coefficient", "", _number(0.3, 1))


def discharge_coefficient(kind):
    """Discharge coefficient of that kind of jet, as a CoefficientRange."""
    return _by_kind(discharge_coefficients(), kind, "kind of jet")


@cache
def fittings():
    """Loss coefficient of fittings, on the velocity head in their own bore."""
    return _spreads("fittings.csv", "loss_coefficient", "", _number(0, 100))


def fitting(kind):
    """Loss coefficient of that kind of fitting, on the velocity head in its own bore, as a CoefficientRange."""
    return _by_kind(fittings(), kind, "fitting")
