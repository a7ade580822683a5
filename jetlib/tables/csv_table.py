"""Reading a table of data/ row by row, and finding a row by the name somebody typed."""

import csv
import difflib
from dataclasses import field, fields
from decimal import Decimal
from pathlib import Path

from jetlib.errors import JetlibError

DATA = Path(__file__).parents[2] / "data"
CONFIDENCES = ("quoted from the source", "from memory", "common practice, no source", "definition")
LONGEST = 60  # characters of a name, or of a cell quoted in a message


def text(cell):
    """A cell that says something, as it is."""
    if not 0 < len(cell) <= 400:
        raise ValueError("a text of 1 to 400 characters")
    return cell


def one_of(*allowed):
    """Parser of a cell that holds one of these words."""

    def parse(cell):
        if cell not in allowed:
            raise ValueError("one of: " + "; ".join(allowed))
        return cell

    return parse


def number(low, high, *, times="1", blank=False):
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


def millimetres(low, high, *, blank=False):
    """Parser of a length from low to high mm, in m."""
    return number(low, high, times="0.001", blank=blank)


def inches(cell):
    """Metres from a fraction of an inch such as 3/8 or 1."""
    top, _, bottom = cell.partition("/")
    try:
        return int(top[:3]) / int(bottom[:3] or 1) * 0.0254
    except (ValueError, ZeroDivisionError):
        raise ValueError("a fraction of an inch such as 3/8") from None


def dash_size(cell):
    """Sixteenths of an inch from a dash size such as -6."""
    if cell not in {f"-{sixteenths}" for sixteenths in range(1, 65)}:
        raise ValueError("a dash size from -1 to -64")
    return int(cell[1:])


def column(parse, heading=""):
    """A row's field that `parse` reads out of its cell; heading: that of the CSV column, where it has another name."""
    return field(metadata={"parse": parse, "heading": heading})


def columns_of(kind):
    """{heading: (attribute, parser)} of the CSV columns of a dataclass of rows, in order; a text unless said."""
    usual = {"confidence": one_of(*CONFIDENCES)}
    return {
        each.metadata.get("heading") or each.name: (each.name, each.metadata.get("parse", usual.get(each.name, text)))
        for each in fields(kind)
    }


def rows_of(name, kind, check=None, columns=None):
    """Tuple of `kind`, a dataclass, one for each row of data/`name`.

    check: takes a row's attributes and returns nothing, or the column that does not fit the others and what it may
    hold. columns: as `columns_of` gives them unless given.
    """
    columns = columns or columns_of(kind)
    path = DATA / name
    try:
        with open(path, newline="", encoding="utf-8-sig") as file:
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
        return JetlibError(f"{name}, line {line}, column {column}: {raw[column][:LONGEST]!r}; allowed: {allowed}")

    for column, (attribute, parse) in columns.items():
        try:
            row[attribute] = parse(raw[column])
        except ValueError as error:
            raise broken(column, error) from None
    misfit = check and check(row)
    if misfit:
        raise broken(*misfit)
    return row


def plain_name(name, what):
    """The name in lower case with single spaces."""
    if isinstance(name, bool) or not isinstance(name, str | int):
        raise JetlibError(f"{what} is a {type(name).__name__}; write its name in quotes")
    if isinstance(name, int):
        name = str(name) if abs(name) < 10_000 else "0" * 99
    if len(name) > LONGEST:
        raise JetlibError(f"{what} is {len(name)} characters long; write at most {LONGEST}")
    return " ".join(name.lower().split())


def brief(value):
    """What was given, short enough for a message."""
    if isinstance(value, int) and abs(value) > 10**9:
        return "a huge number"
    return repr(value)[:LONGEST]


def unknown(name, what, known):
    """The JetlibError for a name that is not in `known`, with close ones."""
    known = list(dict.fromkeys(known))
    low = {each.lower(): each for each in known}
    close = [low[each] for each in difflib.get_close_matches(plain_name(name, what), low, n=5, cutoff=0.4)]
    return JetlibError(f"there is no {what} {name!r}; close ones: {'; '.join(close or known[:12])}")


def row_named(name, what, rows, attribute="kind"):
    """The row whose `attribute` is that name; JetlibError with close ones when there is none."""
    asked, names = plain_name(name, what), [getattr(row, attribute) for row in rows]
    if asked not in names:
        raise unknown(name, what, names)
    return rows[names.index(asked)]
