"""The bench's shelf: open a rig, readings or a whole bench; save them under a name; own rig files."""

import json
import os
from pathlib import Path
from tempfile import TemporaryDirectory

from jetlib.course.store.bench_store import KINDS, fit_name, rig_path
from jetlib.errors import JetlibError
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs, load_rig, save_rig
from jetlib.screen.bench.entries.sheet import READINGS, is_sheet
from jetlib.screen.bench.entries.state import is_bench
from jetlib.tables.atomic import Unwritable, write_whole
from jetlib.units.refusal import page_words

_CHOOSE = ("a rig, a bench or readings …", "")
_NEW = ("a new rig, nothing filled in", "new/rig")
_MOST_BYTES = 2_000_000


def _yard():
    return [(f"yard rig: {demo_rig(name).name}", f"yard/{name}") for name in demo_rigs()]


class Shelf:
    """What can be opened and saved; `store` is the BenchStore. Every method gives a sentence for the reader."""

    def __init__(self, state, store):
        self.state, self.store = state, store
        self._asked = None  # what was refused last, and is done when it is asked for once more

    def options(self):
        """(words, key) of all that can be opened."""
        return [_CHOOSE, _NEW, *_yard(), *self.own()]

    def rigs(self):
        """(words, key) of all rigs."""
        return [*_yard(), *(each for each in self.own() if each[1].startswith("rig/"))]

    def rig(self, key):
        """The Rig of a key. Raises JetlibError."""
        kind, _, name = key.partition("/")
        return demo_rig(name) if kind == "yard" else load_rig(self.store.rigs.get(name, Path(name)))

    def own(self):
        """(words, key) of what the reader saved."""
        found = [(f"my rig: {name}", f"rig/{name}") for name in self.store.rigs]
        for kind in KINDS:
            found += [(f"my {kind}: {name}", f"{kind}/{name}") for name in self.store.saved(kind)]
        return found

    def open(self, key):
        """Open what `options` offered under a key."""
        kind, _, name = key.partition("/")
        if kind == "new":
            self.state.new_rig()
            return "A new rig: write what you know of it. What is assumed until you write it says so."
        if kind == "yard":
            self.state.open_rig(demo_rig(name))
            return f"{demo_rig(name).name} is on the bench."
        if kind == "rig":
            return self.load(str(self.store.rigs.get(name, name)), called=name)
        return self._put_on(name, self.store.saved(kind).get(name))

    def _put_on(self, name, held):
        """Put a bench or readings, plain values, on the bench."""
        if is_bench(held):
            self.state.open_bench(held)
            return f"The bench {name} is as you saved it."
        if isinstance(held, dict) and set(held) <= set(READINGS) and is_sheet(held):
            self.state.open_readings(held)
            return f"The readings {name} are on the bench."
        return f"{name} can't be read; nothing was changed."

    def take_in(self, name, data):
        """Put on the bench what a file holds that was exported here or elsewhere: its name and its bytes."""
        if len(data) > _MOST_BYTES:
            return f"{name} can't be read: it is larger than {_MOST_BYTES:,} bytes."
        if name.lower().endswith(".json"):
            try:
                return self._put_on(Path(name).stem.partition("-")[2] or name, json.loads(data))
            except (ValueError, RecursionError):
                return f"{name} can't be read; nothing was changed."
        with TemporaryDirectory() as folder:
            path = Path(folder) / "brought.toml"
            path.write_bytes(data)
            return self.load(str(path))

    def load(self, typed, called=""):
        """Put on the bench what a file holds: its path, or the name of an own rig; called: as the reader knows it."""
        typed = typed.strip().strip('"')
        if not typed:
            return "Write where the rig file is, such as my_rig.toml, and press Enter."
        try:
            path = Path(os.path.expanduser(typed)) if len(typed) < 1000 else Path("too_long")
            if path.suffix.lower() == ".json":
                with open(path, "rb") as file:
                    return self.take_in(path.name, file.read(_MOST_BYTES + 1))
            rig = load_rig(self.store.rigs.get(typed.removesuffix(".toml"), path))
            self.state.open_rig(rig)
        except (JetlibError, RuntimeError, OSError, ValueError) as error:
            return f"Not loaded: {page_words(error, self.state.system)}"
        own = rig.name or path.name
        return f"{f'{called} ({own})' if called not in ('', rig.name) else own} is on the bench."

    def save_rig(self, typed):
        """Save the rig as a file: under a name beside the progress, or in a folder that is named before a *.toml.

        A rig without a name gets the one that it is saved under.
        """
        typed, path = typed.strip(), Path(os.path.expanduser(typed.strip()[:1000]))
        try:
            in_a_folder = path.is_absolute() or (path.parent.is_dir() and path.parent != Path())
            if not (typed.endswith(".toml") and in_a_folder):
                typed = typed.removesuffix(".toml")
                path = rig_path(self.store.folder, typed)
                path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            if path.exists() and not self._again("save", str(path)):
                return f"There is a rig {typed} already: press Save rig again to replace it, or write another name."
            if not self.state.rig.name:
                self.state.type_rig(("site", None, "name"), path.stem if typed.endswith(".toml") else typed)
            save_rig(self.state.rig, path)
        except (JetlibError, ValueError, OSError, RuntimeError) as error:
            return f"Not saved: {page_words(error, self.state.system)}"
        return f"The rig is saved as {path}."

    def save(self, kind, typed):
        """Save the whole bench, or its readings, under a name."""
        held = self.state.held if kind == "bench" else self.state.readings_texts()
        if typed.strip() in self.store.saved(kind) and not self._again(kind, typed.strip()):
            return f"There is a {kind} {typed.strip()} already: press again to replace it, or change the name."
        try:
            self.store.save(kind, typed, held)
        except (ValueError, Unwritable) as error:
            return f"Not saved: {error}."
        return f"Saved: {kind} {typed.strip()}. Open it again from the list at the top."

    def rename(self, key, typed):
        """Give something saved another name; one that is taken is left alone."""
        kind, _, name = key.partition("/")
        try:
            new = fit_name(typed, "")
            if (f"{kind}/{new}") in [each for _, each in self.own()]:
                return f"Not renamed: {new} is there already."
            if kind == "rig":
                self.store.rigs[name].rename(rig_path(self.store.folder, new))
            else:
                self.store.save(kind, new, self.store.saved(kind)[name])
                self.store.remove(kind, name)
        except (ValueError, KeyError, OSError, Unwritable) as error:
            return f"Not renamed: {error}."
        return f"{name} is now called {new}."

    def delete(self, key):
        """Remove something saved, when it is asked for twice."""
        kind, _, name = key.partition("/")
        if not self._again("delete", key):
            return f"Delete {name} for good? Press Delete again."
        try:
            self.store.rigs[name].unlink() if kind == "rig" else self.store.remove(kind, name)
        except (KeyError, OSError, Unwritable) as error:
            return f"Not deleted: {error}."
        return f"{name} is deleted."

    def exported(self, key):
        """The path of a file that holds something saved, to keep elsewhere; None where it can't be had."""
        kind, _, name = key.partition("/")
        try:
            if kind == "rig":
                return self.store.rigs[name]
            path = self.store.folder / "exports" / f"{kind}-{rig_path(self.store.folder, name).stem}.json"
            path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            write_whole(path, json.dumps(self.store.saved(kind)[name], indent=1).encode())
            return path
        except (ValueError, KeyError, OSError, Unwritable):
            return None

    def _again(self, *asked):
        """Whether just this was asked for before, and nothing else since."""
        was, self._asked = self._asked, asked
        if was == asked:
            self._asked = None
        return was == asked
