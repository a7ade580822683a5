"""What the bench keeps: what stands on it now, and what was saved under a name; beside the progress file.

Two files: `bench.json` is written at every change, `bench_saved.json` when somebody saves. Both are written whole or
not at all, under the lock of the progress file, with the copy before kept. What they hold is plain values; whether
it is a bench only the bench can say, and is asked for it.
"""

import contextlib
import json
from pathlib import Path
from urllib.parse import unquote

from jetlib.course.store.locked_folder import LockedFolder, copy_before, home
from jetlib.tables.atomic import Unwritable, read_plain

NOW, SAVED = "bench.json", "bench_saved.json"
KINDS = ("bench", "readings")
SCHEMA = 1
MOST_BYTES = 1_000_000
MOST_SAVED = 60
LONGEST_NAME = 60
NEWER = object()
_RESERVED = {"CON", "PRN", "AUX", "NUL", *(f"{port}{number}" for port in ("COM", "LPT") for number in range(1, 10))}
OTHER = "another page"  # the name under which a bench is saved that another page has kept in between
_UNREAD = object()
ANOTHER_OPEN = (
    f"A bench that is open in another window or tab has changed too. What it holds is saved as {OTHER}: open it from "
    "the list at the top. Close one of the two."
)
_NEWER_WORDS = "is from a later version of the course. It was left alone; update the course to use it"


class BenchStore(LockedFolder):
    """The files in `folder`, by default that of the progress. All that write raise Unwritable, and change nothing."""

    def __init__(self, folder=None):
        super().__init__(folder)
        self._known = _UNREAD  # what this page read or wrote last

    def now(self, usable):
        """(what stood on the bench last or None, sentences for the reader). usable: tells whether a dict is a bench.

        What cannot be used is kept under another name, and the copy before it is taken. What a later version of the
        course wrote stays where it is.
        """
        held = self._known = self._held(NOW)
        if held is None or (isinstance(held, dict) and usable(held)):
            return held, []
        if held is NEWER:
            return None, [f"What was on the bench {_NEWER_WORDS}."]
        aside = "under another name"
        with contextlib.suppress(Unwritable), self._locked():
            aside = f"as {self._set_aside(NOW)}"
        words = f"What was on the bench could not be read. It is kept {aside} in {self.folder}; "
        before = self._held(copy_before(NOW))
        if isinstance(before, dict) and usable(before):
            return before, [words + "the copy from before the last change is used."]
        return None, [words + "a new bench is started."]

    def keep(self, bench):
        """Write what stands on the bench now. Returns sentences for the reader.

        What another page has kept since this one read or wrote is saved under the name OTHER first.
        """
        said = []
        with self._locked():
            held = self._held(NOW)
            if isinstance(held, dict) and self._known is not _UNREAD and held != self._known:
                shelf = self._shelf()
                shelf["bench"][OTHER] = held
                self._put(SAVED, shelf)
                said = [ANOTHER_OPEN]
            self._put(NOW, bench)
            self._known = json.loads(json.dumps(bench))
        return said

    def saved(self, kind):
        """{name: what was saved} of a kind of KINDS, in the order of saving. Empty when nothing can be read."""
        return dict(self._shelf().get(kind, {}))

    def save(self, kind, name, held):
        """Save plain values under a name; an older one of that name is replaced. Raises ValueError for a bad name."""
        name = fit_name(name, "")
        with self._locked():
            shelf = self._shelf()
            if name not in shelf[kind] and sum(map(len, shelf.values())) >= MOST_SAVED:
                raise Unwritable(f"{MOST_SAVED} are saved already; remove one first")
            shelf[kind][name] = held
            self._put(SAVED, shelf)

    @property
    def rigs(self):
        """{name: path} of the rigs that somebody saved by name."""
        return own_rigs(self.folder)

    def remove(self, kind, name):
        """Remove what was saved under a name."""
        with self._locked():
            shelf = self._shelf()
            if shelf[kind].pop(name, None) is not None:
                self._put(SAVED, shelf)

    def _shelf(self):
        shelf = self._latest(SAVED)
        return {kind: shelf[kind] if isinstance(shelf.get(kind), dict) else {} for kind in KINDS}

    def _latest(self, name):
        """The dict that a file holds, or else the copy before it; an empty one where neither does."""
        return next((held for held in map(self._held, (name, copy_before(name))) if isinstance(held, dict)), {})

    def _held(self, name):
        """What a file holds; None where there is none, NEWER where a later version wrote it, False if it is damaged."""
        try:
            data = read_plain(self.folder / name, MOST_BYTES + 1)
            read = json.loads(data.decode("utf-8")) if len(data) <= MOST_BYTES else None
        except (FileNotFoundError, NotADirectoryError):
            return None
        except (OSError, ValueError, RecursionError):
            return False
        schema = read.get("schema") if isinstance(read, dict) else None
        if isinstance(schema, int) and schema > SCHEMA:
            return NEWER
        return read["held"] if schema == SCHEMA and "held" in read else False

    def _put(self, name, held):
        """Write a file, and keep the copy before it. Under the lock."""
        data = json.dumps({"schema": SCHEMA, "held": held}, ensure_ascii=True, allow_nan=False).encode("ascii")
        if len(data) > MOST_BYTES:
            raise Unwritable(f"it is larger than {MOST_BYTES:,} bytes")
        held = self._held(name)
        if held is NEWER:
            raise Unwritable(f"what is there {_NEWER_WORDS}")
        if held is False:  # damaged: it is kept, not written over
            self._set_aside(name)
        if held:
            with contextlib.suppress(OSError):
                self._copied(name, copy_before(name))
        self._write(name, data)


def fit_name(name, forbidden='/\\:*?"<>|'):
    """A name to save under, without spaces at its ends. Raises ValueError that says what is allowed."""
    name = name.strip()
    if not 0 < len(name) <= LONGEST_NAME or not name.isprintable() or any(mark in name for mark in forbidden):
        kinds = "letters, figures and spaces" if forbidden else "letters, figures and signs"
        raise ValueError(f"write a name of 1 to {LONGEST_NAME} {kinds}")
    return name


def own_rigs(folder=None):
    """{name: path} of the rigs saved by name in a folder, by default that of the progress; links are not followed."""
    try:
        found = sorted((Path(home() if folder is None else folder) / "rigs").glob("*.toml"))
        return {unquote(path.stem): path for path in found if not path.is_symlink()}
    except OSError:
        return {}


def rig_path(folder, name):
    """Where a rig of that name is saved: signs that a file's name cannot hold are written as their code."""
    name = fit_name(name, "")
    coded = "".join(f"%{ord(each):02X}" if each in '/\\:*?"<>|%' else each for each in name)
    if coded.split(".")[0].upper() in _RESERVED:  # names that Windows keeps for its devices
        coded = f"%{ord(coded[0]):02X}{coded[1:]}"
    return Path(folder) / "rigs" / f"{coded}.toml"
