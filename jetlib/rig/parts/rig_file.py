"""Rigs as TOML files: read with every field checked, written so that they read back exactly."""

import contextlib
import os
import stat
from dataclasses import MISSING, fields
from difflib import get_close_matches
from functools import lru_cache
from os import PathLike
from pathlib import Path

import numpy as np

from jetlib import tables
from jetlib.errors import JetlibError
from jetlib.rig.parts.machine import BurstDisc, Engine, Fitting, Hose, Jet, Nozzle, Pump, Rig, Unloader
from jetlib.rig.parts.part import Part
from jetlib.tables.atomic import Unwritable, write_whole
from jetlib.tables.toml_file import read_toml
from jetlib.units import SYSTEMS, from_si, si, unit_label

SCHEMA = 1
_MOST_PARTS = 100
_SINGLE = {"pump": Pump, "engine": Engine, "unloader": Unloader, "burst_disc": BurstDisc, "nozzle": Nozzle}
_REPEATED = {"hose": Hose, "fitting": Fitting}
_OWN = ("name", "water_temperature", "lift", "outlet_shut")
_TOP = ("schema", *_OWN, *_SINGLE, *_REPEATED)


def load_rig(path: str | PathLike) -> Rig:
    """The Rig in the TOML file at `path`.

    Raises one JetlibError that names the file, the line or key, the value and what is allowed, whatever is wrong.

    >>> load_rig(demo_rigs()["yard_trailer"]).name
    'Yard trailer'
    """
    path = _path(path)
    data = read_toml(path, what="rig file")
    try:
        return _rig_from(data)
    except JetlibError as error:
        raise JetlibError(f"{path.name}: {error}") from None


def save_rig(rig: Rig, path: str | PathLike) -> None:
    """Write `rig` to the TOML file at `path`, which then loads back equal. No comments are kept.

    The file appears whole or not at all: on any failure the old file stands as it was and JetlibError is raised.
    A file there that is no rig is left alone, and rigs of arrays are refused.

    >>> save_rig(demo_rig("yard_trailer"), "my_rig.toml")
    >>> load_rig("my_rig.toml") == demo_rig("yard_trailer")
    True
    """
    import tomli_w

    path = _path(path)
    if not isinstance(rig, Rig):
        raise JetlibError(f"what is to be saved is {_shown(rig)}; write save_rig(Rig(…), path)")
    text = tomli_w.dumps(_data_from(rig))
    if taken := _taken_by(path):
        said = f"{path.name} is there already and {taken}; write another name, such as my_rig.toml"
        raise JetlibError(said, words=lambda _: said)
    try:
        write_whole(path, text.encode(), mode=_mode(path))
    except Unwritable as error:
        raise JetlibError(f"{path}: not saved ({error}); what was there before is untouched") from None


def _taken_by(path):
    """What stands at `path` that this rig may not replace, in words; "" for nothing, an empty file or a rig."""
    try:
        if path.is_symlink() or not path.is_file() or not path.stat().st_size:
            return ""  # a link goes, what it leads to stays; of a folder or a pipe, what writes says so
        held = read_toml(path, what="rig file")
    except OSError:
        return ""
    except JetlibError:
        return "is not a rig"
    if isinstance(held.get("schema"), int) and held["schema"] > SCHEMA:
        return "comes from a later version of the course"
    return "" if "pump" in held and "nozzle" in held else "is not a rig"


def demo_rigs() -> dict:
    """The training yard's own rigs, a dict of file stem to path.

    >>> "yard_trailer" in demo_rigs()
    True
    """
    return {path.stem: path for path in sorted((tables.DATA / "rigs").glob("*.toml"))}


def demo_rig(name: str) -> Rig:
    """One of the training yard's own rigs, by the name of its file.

    >>> demo_rig("yard_trailer").name
    'Yard trailer'
    """
    found = demo_rigs()
    if not isinstance(name, str) or name not in found:
        raise JetlibError(f"there is no yard rig {str(name)[:40]!r}; write one of {', '.join(found)}")
    return _yard_rig(found[name])


@lru_cache(maxsize=16)
def _yard_rig(path):
    return load_rig(path)


def _path(path):
    if not isinstance(path, str | os.PathLike) or not os.fspath(path):
        raise JetlibError(f'path is {_shown(path)}; write the path of a rig file, such as "my_rig.toml"')
    return Path(path)


def _mode(path):
    """Permissions for the file at `path`: those it has, or those of any new file."""
    with contextlib.suppress(OSError, ValueError):
        return stat.S_IMODE(path.stat().st_mode)
    return 0o644


def _rig_from(data):
    _known_keys(data, _TOP, "")
    if "schema" not in data:
        raise JetlibError(f"schema is missing; write schema = {SCHEMA} as the first line")
    if data["schema"] != SCHEMA or isinstance(data["schema"], bool):
        raise JetlibError(f"schema is {_shown(data['schema'])}; this course reads schema = {SCHEMA}")
    if "pump" not in data:
        raise JetlibError('pump is missing; write [pump] and under it rated_flow = "8 gpm"')
    if "nozzle" not in data:
        raise JetlibError('nozzle is missing; write [[nozzle.jet]] and under it bore = "1.4 mm"')
    made = {key: _part(kind, data[key], key) for key, kind in _SINGLE.items() if key in data and key != "nozzle"}
    made["nozzle"] = _nozzle(data["nozzle"])
    for key, kind in _REPEATED.items():
        made[f"{key}s"] = _parts(kind, data.get(key, []), key)
    for key in _OWN:
        if key in data:
            _need_one_value(key, data[key])
            made[key] = data[key]
    valves = [made.pop(key) for key in ("unloader", "burst_disc") if key in made]
    return Rig(valve=valves, **made)


def _nozzle(table):
    _need_table(table, "nozzle")
    if "jet" not in table:
        raise JetlibError('nozzle.jet is missing; write [[nozzle.jet]] and under it bore = "1.4 mm"')
    rest = {key: value for key, value in table.items() if key != "jet"}
    return _part(Nozzle, rest, "nozzle", jets=_parts(Jet, table["jet"], "nozzle.jet"))


def _parts(kind, rows, where):
    if not isinstance(rows, list) or len(rows) > _MOST_PARTS:
        raise JetlibError(f"{where} is {_shown(rows)}; write up to {_MOST_PARTS} tables, each headed [[{where}]]")
    return [_part(kind, row, f"{where}[{number}]") for number, row in enumerate(rows, start=1)]


def _part(kind, table, where, **given):
    _need_table(table, where)
    allowed = {item.name: item for item in fields(kind) if item.name not in given and item.name != "jets"}
    _known_keys(table, allowed, where)
    missing = [
        name
        for name, item in allowed.items()
        if item.default is MISSING and item.default_factory is MISSING and name not in table
    ]
    if missing:
        raise JetlibError(f"{where}.{missing[0]} is missing; every {kind.__name__} needs {', '.join(missing)}")
    for name, value in table.items():
        _need_one_value(f"{where}.{name}", value)
    try:
        return kind(**table, **given)
    except JetlibError as error:
        raise JetlibError(f"{where}: {error}") from None


def _need_one_value(name, value):
    if isinstance(value, list | dict):
        raise JetlibError(f"{name} is {_shown(value)}; write one value, a text with its unit or an SI number")


def _need_table(table, where):
    if not isinstance(table, dict):
        raise JetlibError(f"{where} is {_shown(table)}; write it as a table headed [{where}]")


def _known_keys(table, allowed, where):
    for key in table:
        if key not in allowed:
            near = get_close_matches(key, allowed, n=1)
            hint = f"did you mean {near[0]}? " if near else ""
            name = f"{where}.{key}" if where else key
            raise JetlibError(f"{_shown(name)} is not known; {hint}allowed: {', '.join(allowed)}")


def _shown(value):
    try:
        text = repr(value)
    except (RecursionError, ValueError):  # nested without end, or a number of thousands of digits
        text = f"a {type(value).__name__} too long to show"
    return text if len(text) <= 60 else text[:57] + "…"


def _data_from(rig):
    data = {"schema": SCHEMA, **_table(rig)}
    data |= {name: _table(getattr(rig, name)) for name in _SINGLE if getattr(rig, name) is not None}
    data |= {name: [_table(part) for part in getattr(rig, f"{name}s")] for name in _REPEATED}
    data["nozzle"] = {**data.pop("nozzle"), "jet": [_table(jet) for jet in rig.nozzle.jets]}
    return {key: value for key, value in data.items() if value != []}


def _table(part):
    """The fields of a part that are no parts themselves."""
    table = {}
    for item in fields(part):
        value = getattr(part, item.name)
        if value is None or isinstance(value, Part | tuple) or (isinstance(value, str) and not value):
            continue
        if np.ndim(value):
            owner = type(part).__name__
            raise JetlibError(f"{owner}.{item.name} is an array; save_rig writes one rig: take one value of it first")
        kind = item.metadata.get("kind")
        if kind is not None:
            value = _exact(float(value), kind)
        elif isinstance(value, np.generic):
            value = value.item()
        table[item.name] = value
    return table


def _exact(value, kind):
    """`value` as a short text with a unit that reads back as exactly the same float, or the SI number itself."""
    systems = [system for system in SYSTEMS if unit_label(kind, system)]
    for figures in (6, 12, 15):
        for system in systems:
            text = f"{from_si(value, kind, system):.{figures}g} {unit_label(kind, system)}".strip()
            with contextlib.suppress(JetlibError):
                if si(text, kind) == value:
                    return text
    return value
