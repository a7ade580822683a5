"""What the bench keeps: what stands on it now, and what was saved under a name; beside the progress file.

Two files: `bench.json` is written at every change, `bench_saved.json` when somebody saves. Both are written whole or
not at all, under the lock of the progress file, with the copy before kept. What they hold is plain values; whether
it is a bench only the bench can say, and is asked for it.
"""

import contextlib
import json
import os

from jetlib.course.progress.progress_file import ProgressFile, home
from jetlib.course.store.atomic import Unwritable

NOW, NOW_BEFORE = "bench.json", "bench.previous.json"
SAVED, SAVED_BEFORE = "bench_saved.json", "bench_saved.previous.json"
KINDS = ("bench", "readings")
SCHEMA = 1
MOST_BYTES = 1_000_000
MOST_SAVED = 60
LONGEST_NAME = 60


class BenchStore(ProgressFile):
    """The files in `folder`, by default that of the progress. All that write raise Unwritable, and change nothing."""

    def __init__(self, folder=None):
        super().__init__(home() if folder is None else folder)

    def now(self, usable):
        """(what stood on the bench last or None, sentences for the reader). usable: tells whether a dict is a bench.

        What cannot be used is kept under another name, and the copy before it is taken.
        """
        held = self._held(NOW)
        if held is None or (isinstance(held, dict) and usable(held)):
            return held, []
        aside = "bench.damaged.json"
        with contextlib.suppress(Unwritable), self._locked():
            self._set_aside(NOW, aside)
        words = f"What stood on the bench could not be read. It is kept as {aside} in {self.folder}; "
        before = self._held(NOW_BEFORE)
        if isinstance(before, dict) and usable(before):
            return before, [words + "the copy from before the last change is used."]
        return None, [words + "a fresh bench is begun."]

    def keep(self, bench):
        """Write what stands on the bench now."""
        self._put(NOW, NOW_BEFORE, bench)

    def saved(self, kind):
        """{name: what was saved} of a kind of KINDS, in the order of saving. Empty when nothing can be read."""
        return dict(self._shelf().get(kind, {}))

    def save(self, kind, name, held):
        """Save plain values under a name; an older one of that name is replaced. Raises ValueError for a bad name."""
        name = fit_name(name)
        with self._locked():
            shelf = self._shelf()
            if name not in shelf[kind] and sum(map(len, shelf.values())) >= MOST_SAVED:
                raise Unwritable(f"{MOST_SAVED} are saved already; remove one first")
            shelf[kind][name] = held
            self._put_shelf(shelf)

    def remove(self, kind, name):
        """Remove what was saved under a name."""
        with self._locked():
            shelf = self._shelf()
            if shelf[kind].pop(name, None) is not None:
                self._put_shelf(shelf)

    def _put_shelf(self, shelf):
        if self._held(SAVED) is False:  # damaged, or of a later version: it is kept, not written over
            self._set_aside(SAVED, "bench_saved.damaged.json")
        self._write_both(SAVED, SAVED_BEFORE, shelf)

    def _set_aside(self, name, aside):
        with contextlib.suppress(OSError):
            os.replace(self.folder / name, self.folder / aside)

    def _shelf(self):
        held = self._held(SAVED)
        if not isinstance(held, dict):
            held = self._held(SAVED_BEFORE)
        shelf = held if isinstance(held, dict) else {}
        return {kind: shelf[kind] if isinstance(shelf.get(kind), dict) else {} for kind in KINDS}

    def _held(self, name):
        """What a file holds; None where there is none, False where it is not of this course."""
        try:
            data = self._bytes(self.folder / name)
            read = json.loads(data.decode("utf-8")) if len(data) <= MOST_BYTES else None
        except (FileNotFoundError, NotADirectoryError):
            return None
        except (OSError, ValueError, RecursionError):
            return False
        fits = isinstance(read, dict) and read.get("schema") == SCHEMA
        return read["held"] if fits and "held" in read else False

    def _put(self, name, before, held):
        with self._locked():
            self._write_both(name, before, held)

    def _write_both(self, name, before, held):
        data = json.dumps({"schema": SCHEMA, "held": held}, ensure_ascii=True, allow_nan=False).encode("ascii")
        if len(data) > MOST_BYTES:
            raise Unwritable(f"it is larger than {MOST_BYTES:,} bytes")
        if self._held(name):
            with contextlib.suppress(OSError):
                self._write(before, self._bytes(self.folder / name))
        self._write(name, data)


def fit_name(name):
    """A name to save under, without spaces at its ends. Raises ValueError that says what is allowed."""
    name = name.strip()
    if not 0 < len(name) <= LONGEST_NAME or not name.isprintable() or any(mark in name for mark in '/\\:*?"<>|'):
        raise ValueError(f"write a name of 1 to {LONGEST_NAME} letters, figures and spaces")
    return name
