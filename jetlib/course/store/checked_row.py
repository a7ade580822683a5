"""Fields of a table that a person wrote, each checked for its type: what is wrong is said with its place and the line
that mends it. `where` is that place, such as "mine.toml, step 3"."""

import contextlib
import re
from dataclasses import MISSING, fields
from functools import lru_cache
from math import isfinite
from pathlib import Path

from jetlib.errors import JetlibError
from jetlib.units.refusal import cut


def known(row, allowed, where):
    """Nothing, if `row` is a table that has none but the `allowed` fields; else raises JetlibError."""
    if not isinstance(row, dict):
        raise JetlibError(f"{where} is {cut(row)}; write a table of fields, name = value")
    strange = next((key for key in row if key not in allowed), None)
    if strange is not None:
        raise JetlibError(f"{where}: {cut(strange)} is not known; write one of {', '.join(sorted(allowed))}")


def among(value, allowed, said):
    """The value, if it is a text among `allowed`. Else raises JetlibError: `said`, the value, and those there are."""
    if not isinstance(value, str) or value not in allowed:
        raise JetlibError(f"{said} {cut(value)}; write one of {', '.join(allowed)}")
    return value


def words(row, name, where, *, needed=False):
    """The text of a field, "" where it is left out, unless it is `needed`. Raises JetlibError."""
    value = row.get(name, "")
    if not isinstance(value, str):
        raise JetlibError(f'{where}: {name} is {cut(value)}; write a text, {name} = "…"')
    if needed and not value.strip():
        raise JetlibError(f'{where} has no {name}; write {name} = "…"')
    return value


def whole(row, name, where, most, *, least=1, otherwise=None):
    """The whole number of a field from `least` to `most`; `otherwise` where it is left out. Raises JetlibError."""
    value = row.get(name, otherwise)
    if isinstance(value, bool) or not isinstance(value, int) or not least <= value <= most:
        given = "missing" if name not in row else cut(value)
        raise JetlibError(f"{where}: {name} is {given}; write a whole number from {least} to {most}")
    return value


def listed(row, name, where):
    """The texts of a field, a tuple, empty where it is left out. Raises JetlibError."""
    value = row.get(name, [])
    if not isinstance(value, list) or not all(isinstance(each, str) for each in value):
        raise JetlibError(f'{where}: {name} is {cut(value)}; write a list of texts, {name} = ["…"]')
    return tuple(value)


def numbers(row, name, where, count):
    """`count` finite numbers of a field, smallest first, a tuple; empty where it is left out. Raises JetlibError."""
    value = row.get(name, [])
    fits = isinstance(value, list) and all(type(each) in (int, float) and isfinite(each) for each in value)
    if not fits or len(value) not in (0, count) or sorted(value) != value:
        raise JetlibError(f"{where}: {name} is {cut(value)}; write {count} numbers in a list, the smaller first")
    return tuple(value)


def rows(row, name, where):
    """The tables of a field, a list, empty where it is left out. Raises JetlibError for anything else."""
    value = row.get(name, [])
    if not isinstance(value, list) or not all(isinstance(each, dict) for each in value):
        raise JetlibError(f"{where}: {name} is {cut(value)}; write tables, each headed [[{name}]]")
    return value


def settings(row, name, where):
    """The settings of a field, {name: text, number or true/false}, empty where it is left out. Raises JetlibError."""
    value = row.get(name, {})
    if not isinstance(value, dict):
        raise JetlibError(f'{where}: {name} is {cut(value)}; write {name} = {{ throttle = "100 %" }}')
    for key, each in value.items():
        if not isinstance(each, str | int | float) or (isinstance(each, float) and not isfinite(each)):
            raise JetlibError(f"{where}: {name}.{key} is {cut(each)}; write one text or number")
    return value


def flag(row, name, where):
    """The true or false of a field, false where it is left out. Raises JetlibError."""
    value = row.get(name, False)
    if not isinstance(value, bool):
        raise JetlibError(f"{where}: {name} is {cut(value)}; write {name} = true, or leave it out")
    return value


def share(row, name, where):
    """The share of a field, a float. Raises JetlibError."""
    value = row[name]
    if type(value) not in (int, float) or not 0 <= value <= 1:
        raise JetlibError(f"{where}: {name} is {cut(value)}; write a share from 0 to 1")
    return float(value)


def pair(row, name, where):
    """The two `numbers` of a field."""
    return numbers(row, name, where, 2)


@contextlib.contextmanager
def placed(where):
    """What is refused inside is said with its place."""
    try:
        yield
    except JetlibError as problem:
        raise JetlibError(f"{where}: {problem}") from None


#: What a field of a dataclass is read by, by the type it is annotated with; a text and a whole number need more.
_READERS = {bool: flag, float: share, dict: settings, tuple[str, ...]: listed, tuple[float, float]: pair}


def read_as(made, row, where, *, whole_numbers=(), **given):
    """The dataclass `made` of a row that has none but its fields; those `given` are read already. Raises JetlibError.

    whole_numbers: {name: (least, most)}. A field without a default must stand in the row.
    """
    known(row, {each.name for each in fields(made)}, where)
    for name, kind, usual in ((each.name, each.type, each.default) for each in fields(made)):
        needed = usual is MISSING
        if name in given:
            continue
        if kind is str:
            given[name] = words(row, name, where, needed=needed) or usual
        elif kind is int:
            least, most = whole_numbers[name]
            given[name] = whole(row, name, where, most, least=least, otherwise=None if needed else usual)
        elif name in row:
            given[name] = _READERS[kind](row, name, where)
    return made(**given)


def sound_files(folder, read, *, left_out="", state=()):
    """({stem: what `read` makes of the file} of the TOML files in a folder; what to fix in the others, sentences).

    left_out: the name of one that is none of them. state: what else they depend on; files are read anew when it, or
    one of them, has changed.
    """
    return _sound(Path(folder), read, left_out, files_as_they_are(folder, "*.toml"), state)


@lru_cache(maxsize=16)
def _sound(folder, read, left_out, files, _):
    good, refused = {}, []
    for name, *_ in files:
        if name != left_out:
            try:
                good[name.removesuffix(".toml")] = read(folder / name)
            except JetlibError as problem:
                refused.append(str(problem))
    return good, tuple(refused)


def files_as_they_are(folder, pattern):
    """(name, time, size) of each file of a folder, a tuple: another one once a file is changed, and to be read anew."""
    found = []
    for path in sorted(Path(folder).glob(pattern)):
        with contextlib.suppress(OSError):
            found.append((path.name, path.stat().st_mtime_ns, path.stat().st_size))
    return tuple(found)


def line_said(lines, said):
    """The number of the line that a refusal is about: that of the field it names in the table it names; 0 if unknown.

    lines: of the TOML file. said: such as "mine.toml, question 2: minutes is …", or "mine.toml: right is …".
    """
    place = re.match(r"[^,:]*, (\w+)(?: (\d+))?", said)
    heads = [at for at, each in enumerate(lines) if place and each.strip() in (f"[{place[1]}]", f"[[{place[1]}]]")]
    number = int(place[2] or 1) if place else 0
    if number > len(heads):
        return 0
    start = heads[number - 1] if place else 0
    end = next((at for at in range(start + 1, len(lines)) if lines[at].startswith("[")), len(lines))
    about = said[place.end() :] if place else said.partition(" ")[2]
    named = {lines[at].partition("=")[0].strip(): at + 1 for at in reversed(range(start, end)) if "=" in lines[at]}
    said_first = next((each for each in re.findall(r"\w+", about) if each in named), None)
    return named.get(said_first, start + bool(place))
