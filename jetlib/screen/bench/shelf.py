"""The bench's shelf: open a rig, readings or a whole bench; save them under a name; own rig files."""

import os
from pathlib import Path

from jetlib.course.store.bench_store import fit_name
from jetlib.errors import JetlibError
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs, load_rig, save_rig
from jetlib.screen.bench.entries.sheet import READINGS, fresh_sheet, is_sheet
from jetlib.screen.bench.entries.state import is_bench
from jetlib.tables.atomic import Unwritable
from jetlib.units.refusal import page_words

_CHOOSE = ("a rig, a bench or readings …", "")
_NEW = ("a new rig, nothing filled in", "new/rig")
_WORDS = {"bench": "bench", "readings": "readings"}


class Shelf:
    """What can be opened and saved; `store` is the BenchStore. Every method gives a sentence for the reader."""

    def __init__(self, state, store):
        self.state, self.store = state, store

    @property
    def rigs(self):
        """{name: path} of own rigs saved by name."""
        try:
            return {path.stem: path for path in sorted((self.store.folder / "rigs").glob("*.toml"))}
        except OSError:
            return {}

    def options(self):
        """(words, key) of all that can be opened."""
        found = [_CHOOSE, _NEW, *((f"yard rig: {demo_rig(name).name}", f"yard/{name}") for name in demo_rigs())]
        found += [(f"my rig: {name}", f"rig/{name}") for name in self.rigs]
        for kind, words in _WORDS.items():
            found += [(f"my {words}: {name}", f"{kind}/{name}") for name in self.store.saved(kind)]
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
            return self.load(str(self.rigs.get(name, name)))
        held = self.store.saved(kind).get(name)
        if kind == "bench" and is_bench(held):
            self.state.open_bench(held)
            return f"The bench {name} is as you saved it."
        whole = kind == "readings" and isinstance(held, dict) and set(held) <= set(READINGS)
        if whole and is_sheet({**fresh_sheet(), **held}):
            self.state.open_readings(held)
            return f"The readings {name} are on the bench."
        return f"{name} can't be read; nothing was changed."

    def load(self, typed):
        """Put the rig of a file on the bench: a path, or the name of an own rig."""
        typed = typed.strip().strip('"')
        if not typed:
            return "Write where the rig file is, such as my_rig.toml, and press Enter."
        path = Path(os.path.expanduser(typed)) if len(typed) < 1000 else Path("too_long")
        try:
            rig = load_rig(self.rigs.get(typed.removesuffix(".toml"), path))
            self.state.open_rig(rig)
        except (JetlibError, RuntimeError) as error:
            return f"Not loaded: {page_words(error, self.state.system)}"
        return f"{rig.name or path.name} is on the bench."

    def save_rig(self, typed):
        """Save the rig as a file: under a name beside the progress, or at a path."""
        typed = typed.strip()
        try:
            if typed.endswith(".toml") or "/" in typed or "\\" in typed:
                path = Path(os.path.expanduser(typed[:1000]))
            else:
                path = self.store.folder / "rigs" / f"{fit_name(typed)}.toml"
                path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            save_rig(self.state.rig, path)
        except (JetlibError, ValueError, OSError, RuntimeError) as error:
            return f"Not saved: {page_words(error, self.state.system)}"
        return f"The rig is saved as {path}."

    def save(self, kind, typed):
        """Save the whole bench, or its readings, under a name."""
        held = self.state.held if kind == "bench" else self.state.readings_texts()
        try:
            self.store.save(kind, typed, held)
        except (ValueError, Unwritable) as error:
            return f"Not saved: {error}."
        return f"Saved: {_WORDS[kind]} {fit_name(typed)}. Open it again from the list at the top."
