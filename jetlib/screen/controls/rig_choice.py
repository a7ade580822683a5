"""Rigs that a room can work on: those of the yard, the reader's own saved ones, and any rig file."""

import os
from functools import lru_cache
from pathlib import Path

from jetlib.course.store.locked_folder import home
from jetlib.errors import JetlibError
from jetlib.rig.change.factors import require_one_rig
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs, load_rig

MOST_OWN = 60
_LONGEST = 1000


def yard_rigs():
    """(words, key) of the yard's own rigs to choose from, a tuple."""
    return tuple((demo_rig(name).name, name) for name in demo_rigs())


def rig_options():
    """(words, key) of the rigs to choose from: the yard's, and those saved on the bench."""
    try:
        own = sorted(path for path in (home() / "rigs").glob("*.toml") if not path.is_symlink())[:MOST_OWN]
    except OSError:
        own = []
    return [*yard_rigs(), *((f"my rig: {path.stem}", f"own/{path.stem}") for path in own)]


def rig_of(key):
    """The Rig of a key of `rig_options`, or of the path of a rig file. JetlibError for anything that is none."""
    if key in demo_rigs():
        return _yard(key)
    if key.startswith("own/"):
        return checked_rig(home() / "rigs" / f"{Path(key[4:]).name}.toml")
    return checked_rig(key)


def checked_rig(path):
    """The Rig in a file, when it is one rig with open jets; JetlibError otherwise."""
    path = str(path).strip().strip('"')
    if not 0 < len(path) <= _LONGEST:
        raise JetlibError("there is no path; write the path of a rig file, such as my_rig.toml")
    try:
        path = Path(os.path.expanduser(path))
    except RuntimeError:
        raise JetlibError("there is no home folder on this machine; write the whole path of the rig file") from None
    rig = load_rig(path)
    require_one_rig(rig, "one rig with open jets")
    return rig


@lru_cache(maxsize=8)
def _yard(name):
    return demo_rig(name)
