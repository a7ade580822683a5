"""Tables out to a CSV file that opens in any spreadsheet and starts nothing there."""

import csv
import io
import os
from pathlib import Path

from jetlib.errors import JetlibError
from jetlib.tables.atomic import NotAPlainFile, Unwritable, read_plain, write_whole

_STARTS_A_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n")


def harmless(cell):
    """The cell as text; one that a spreadsheet would take for a formula gets an apostrophe before it."""
    words = "" if cell is None else str(cell)
    number = isinstance(cell, int | float)
    return f"'{words}" if words.lstrip(" ").startswith(_STARTS_A_FORMULA) and not number else words


def csv_bytes(heads, rows):
    """A table as bytes: UTF-8 with a mark that spreadsheets know it by, a row on a line (RFC 4180)."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(heads)
    writer.writerows([harmless(cell) for cell in row] for row in rows)
    return out.getvalue().encode("utf-8-sig")


def write_csv(path, heads, rows, *, name):
    """Write a table to `path`, in a folder under `name`, and return the Path. Raises JetlibError.

    A file's name ends in .csv, which is added where it is left out. An older table with the same headings is replaced;
    any other file is left alone.
    """
    path = Path(os.path.abspath(os.path.expanduser(path)))
    path = path / name if os.path.isdir(path) else path.with_name(f"{path.name.removesuffix('.csv')}.csv")
    first = csv_bytes(heads, [])
    try:
        ours = not os.path.lexists(path) or read_plain(path, len(first)) == first
    except (NotAPlainFile, OSError):
        ours = False
    if not ours:
        raise JetlibError(f"{path} is there already and is another file; write another name")
    try:
        write_whole(path, csv_bytes(heads, rows))
    except Unwritable as problem:
        raise JetlibError(f"{path}: not written ({problem}); write the path of a folder you can write to") from None
    return path
