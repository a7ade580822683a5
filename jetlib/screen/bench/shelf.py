"""The bench's shelf: rigs, readings and whole benches to open; saved under a name, renamed, deleted, taken along."""

import json
import os
from functools import partial, wraps
from pathlib import Path
from tempfile import TemporaryDirectory

import ipywidgets as widgets

from jetlib.course.store.bench_store import KINDS, fit_name, rig_path
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs, load_rig, save_rig
from jetlib.screen.bench.entries.entry import READINGS, is_sheet
from jetlib.screen.bench.entries.state import is_bench
from jetlib.screen.controls.fields import ChoiceField, TextField
from jetlib.screen.controls.pieces import button, link, row
from jetlib.tables.atomic import Unwritable, write_whole
from jetlib.units.refusal import page_words

_CHOOSE = ("a rig, a bench or readings …", "")
_NEW = ("a new rig, nothing filled in", "new/rig")
_WHICH = ("one of mine ...", "")
_MOST_BYTES = 2_000_000


def _or_say(refusal):
    """A decorator for a method that gives a sentence: where it fails, that is `refusal` with the reason in it."""

    def decorated(method):
        @wraps(method)
        def told(shelf, *given, **more):
            try:
                return method(shelf, *given, **more)
            except (ValueError, KeyError, OSError, RuntimeError, Unwritable) as error:
                return refusal.format(page_words(error, shelf.state.system))

        return told

    return decorated


def _yard():
    return [(f"yard rig: {demo_rig(name).name}", f"yard/{name}") for name in demo_rigs()]


class Shelf:
    """What can be opened and saved; `store` is the BenchStore. What does something gives a sentence for the reader.

    opener: a button that folds `box` out and in, the entries and buttons for all but opening. say(words, listed): told
    what was done. changed(words): the same, where it changed what is on the bench.
    """

    def __init__(self, state, store, say, changed):
        self.state, self.store, self.say, self.changed = state, store, say, changed
        self._asked = None  # what was refused last, and is done when it is asked for once more
        self.name = TextField("Name", lambda _: None, hint="1/2 + 3/8", width="300px")
        self.mine = ChoiceField("Saved", [_WHICH, *self.own()], lambda _: None, width="330px")
        self._link = widgets.HTML()
        saves = [
            button("Save rig", partial(self._saved, self.save_rig)),
            button("Save readings", partial(self._saved, self.save, "readings")),
            button("Save bench", partial(self._saved, self.save, "bench"),
                   hint="Rig, readings and all that is typed here"),
        ]  # fmt: skip
        changes = [
            button("Rename", lambda: self._with_one(self.rename, self.name.entry.value),
                   hint="To what is written under Name"),
            button("Delete", partial(self._with_one, self.delete)),
            button("Export", partial(self._with_one, self.export), hint="A file to take along"),
        ]  # fmt: skip
        file = TextField("File", lambda typed: changed(self.load(typed)), hint="my_rig.toml", width="300px")
        self.brought = widgets.FileUpload(
            accept=".toml,.json", description="Bring in an export", layout={"width": "auto"}
        )
        self.brought.observe(self._brought, names="value")
        rows = ([self.name.box, *saves], [self.mine.box, *changes, self._link], [file.box, self.brought])
        self.box = widgets.VBox([row(*each) for each in rows], layout={"display": "none"})
        self.opener = button("Files", self._fold, hint="Save, rename, delete, export")

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
        saved = {"rig": self.store.rigs, **{kind: self.store.saved(kind) for kind in KINDS}}
        return [(f"my {kind}: {name}", f"{kind}/{name}") for kind, names in saved.items() for name in names]

    # --- opened -----------------------------------------------------------------------------------

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

    @_or_say("Not loaded: {}")
    def load(self, typed, called=""):
        """Put on the bench what a file holds: its path, or the name of an own rig; called: as the reader knows it."""
        typed = typed.strip().strip('"')
        if not typed:
            return "Write where the rig file is, such as my_rig.toml, and press Enter."
        path = Path(os.path.expanduser(typed)) if len(typed) < 1000 else Path("too_long")
        if path.suffix.lower() == ".json":
            with open(path, "rb") as file:
                return self.take_in(path.name, file.read(_MOST_BYTES + 1))
        rig = load_rig(self.store.rigs.get(typed.removesuffix(".toml"), path))
        self.state.open_rig(rig)
        own = rig.name or path.name
        return f"{f'{called} ({own})' if called not in ('', rig.name) else own} is on the bench."

    # --- saved ------------------------------------------------------------------------------------

    @_or_say("Not saved: {}")
    def save_rig(self, typed):
        """Save the rig as a file: under a name beside the progress, or in a folder that is named before a *.toml.

        A rig without a name gets the one that it is saved under.
        """
        typed, path = typed.strip(), Path(os.path.expanduser(typed.strip()[:1000]))
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
        return f"The rig is saved as {path}."

    @_or_say("Not saved: {}.")
    def save(self, kind, typed):
        """Save the whole bench, or its readings, under a name."""
        held = self.state.held if kind == "bench" else self.state.readings_texts()
        if typed.strip() in self.store.saved(kind) and not self._again(kind, typed.strip()):
            return f"There is a {kind} {typed.strip()} already: press again to replace it, or change the name."
        self.store.save(kind, typed, held)
        return f"Saved: {kind} {typed.strip()}. Open it again from the list at the top."

    @_or_say("Not renamed: {}.")
    def rename(self, key, typed):
        """Give something saved another name; one that is taken is left alone."""
        kind, _, name = key.partition("/")
        new = fit_name(typed, "")
        if f"{kind}/{new}" in dict(map(reversed, self.own())):
            return f"Not renamed: {new} is there already."
        if kind == "rig":
            self.store.rigs[name].rename(rig_path(self.store.folder, new))
        else:
            self.store.save(kind, new, self.store.saved(kind)[name])
            self.store.remove(kind, name)
        return f"{name} is now called {new}."

    @_or_say("Not deleted: {}.")
    def delete(self, key):
        """Remove something saved, when it is asked for twice."""
        kind, _, name = key.partition("/")
        if not self._again("delete", key):
            return f"Delete {name} for good? Press Delete again."
        self.store.rigs[name].unlink() if kind == "rig" else self.store.remove(kind, name)
        return f"{name} is deleted."

    @_or_say("It can't be exported.")
    def export(self, key):
        """Write a file that holds something saved, to keep elsewhere, and show a link to it."""
        kind, _, name = key.partition("/")
        if kind == "rig":
            path = self.store.rigs[name]
        else:
            path = self.store.folder / "exports" / f"{kind}-{rig_path(self.store.folder, name).stem}.json"
            path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            write_whole(path, json.dumps(self.store.saved(kind)[name], indent=1).encode())
        self._link.value = link(path)
        return f"Here it is to take along: {path}."

    def _again(self, *asked):
        """Whether just this was asked for before, and nothing else since."""
        was, self._asked = self._asked, asked
        if was == asked:
            self._asked = None
        return was == asked

    # --- its entries ------------------------------------------------------------------------------

    def relist(self):
        """List anew what is saved, with the same one chosen where it is still there."""
        options, chosen = [_WHICH, *self.own()], self.mine.entry.value
        self.mine.relist(options)
        if chosen in [key for _, key in options]:
            self.mine.show(chosen)

    def _fold(self):
        self.box.layout.display = None if self.box.layout.display else "none"

    def _saved(self, save, *kind):
        self._link.value = ""
        self.say(save(*kind, self.name.entry.value), True)

    def _with_one(self, action, *more):
        key, self._link.value = self.mine.entry.value, ""
        self.say(action(key, *more) if key else "Choose one of your own first, under Saved.", True)

    def _brought(self, change):
        if change["new"]:
            file = change["new"][0]
            self.brought.value = ()
            self.changed(self.take_in(file["name"], bytes(file["content"])))
