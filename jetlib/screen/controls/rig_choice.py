"""Rigs that a room can work on: those of the yard, the reader's own saved ones, and any rig file."""

import os
from contextlib import suppress
from functools import lru_cache
from pathlib import Path

from jetlib.course.store.bench_store import own_rigs
from jetlib.course.store.locked_folder import home
from jetlib.errors import JetlibError
from jetlib.rig.change.factors import require_one_rig
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs, load_rig

MOST_OWN = 60
_yard = lru_cache(maxsize=8)(demo_rig)
_LONGEST = 1000


def yard_rigs():
    """(words, key) of the yard's own rigs to choose from, a tuple."""
    return tuple((demo_rig(name).name, name) for name in demo_rigs())


def rig_options():
    """(words, key) of the rigs to choose from: the yard's, and those saved on the bench."""
    own = list(own_rigs().items())[:MOST_OWN]
    return [*yard_rigs(), *((f"my rig: {name}", f"own/{path.stem}") for name, path in own)]


def whole_rigs(*, engine=False):
    """The same without rigs that a lesson can do nothing with: it needs unloader, hose and rear jets; engine: that too.

    A rig saved anew has another key, so that nothing is remembered of the one before.
    """
    found = list(yard_rigs())
    for words, key in rig_options()[len(found) :]:
        with suppress(JetlibError, OSError):
            rig = rig_of(key)
            if (
                (rig.engine or not engine)
                and rig.unloader
                and rig.hoses
                and any(jet.angle < 1.5 for jet in rig.nozzle.jets)
            ):
                found.append((words, f"{key}?{_own_path(key).stat().st_mtime_ns}"))
    return tuple(found)


def rig_of(key):
    """The Rig of a key of `rig_options`, or of the path of a rig file. JetlibError for anything that is none."""
    if key in demo_rigs():
        return _yard(key)
    if key.startswith("own/"):
        return checked_rig(_own_path(key))
    return checked_rig(key) if set(key) & set("/\\.") else demo_rig(key)  # no path: a name that the yard lacks


def _own_path(key):
    return home() / "rigs" / f"{Path(key[4:].partition('?')[0]).name}.toml"


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
