"""The bench's files: save, rename, delete, take along; folded away until somebody wants them."""

import ipywidgets as widgets

from jetlib.screen.controls.fields import ChoiceField, TextField
from jetlib.screen.controls.handed_over import link
from jetlib.screen.controls.pieces import WRAPPED, button

_WHICH = ("one of mine ...", "")


class Files:
    """`opener`, a button that folds `box` out and in.

    say(words, listed): told what was done. load(path), take_in(name, bytes): open what a file holds.
    """

    def __init__(self, shelf, say, load, take_in):
        self.shelf, self.say, self.take_in = shelf, say, take_in
        self.name = TextField("Name", lambda _: None, hint="1/2 + 3/8", width="300px")
        self.mine = ChoiceField("Saved", [_WHICH, *shelf.own()], lambda _: None, width="330px")
        self._link = widgets.HTML()
        saves = [
            button("Save rig", lambda: self._done(shelf.save_rig(self._typed))),
            button("Save readings", lambda: self._done(shelf.save("readings", self._typed))),
            button("Save bench", lambda: self._done(shelf.save("bench", self._typed)),
                   hint="Rig, readings and all that is typed here"),
        ]  # fmt: skip
        changes = [
            button("Rename", lambda: self._with_one(shelf.rename, self._typed), hint="To what is written under Name"),
            button("Delete", lambda: self._with_one(shelf.delete)),
            button("Export", self._export, hint="A file to take along"),
        ]
        file = TextField("File", load, hint="my_rig.toml", width="300px")
        self.brought = widgets.FileUpload(
            accept=".toml,.json", description="Bring in an export", layout={"width": "auto"}
        )
        self.brought.observe(self._brought, names="value")
        self.box = widgets.VBox(
            [
                widgets.HBox([self.name.box, *saves], layout=WRAPPED),
                widgets.HBox([self.mine.box, *changes, self._link], layout=WRAPPED),
                widgets.HBox([file.box, self.brought], layout=WRAPPED),
            ],
            layout={"display": "none"},
        )
        self.opener = button("Files", self._fold, hint="Save, rename, delete, export")

    def relist(self):
        """List anew what is saved, with the same one chosen where it is still there."""
        options, chosen = [_WHICH, *self.shelf.own()], self.mine.entry.value
        self.mine.relist(options)
        if chosen in [key for _, key in options]:
            self.mine.show(chosen)

    @property
    def _typed(self):
        return self.name.entry.value

    def _fold(self):
        self.box.layout.display = None if self.box.layout.display else "none"

    def _done(self, words):
        self._link.value = ""
        self.say(words, True)

    def _with_one(self, action, *more):
        key = self.mine.entry.value
        self._done(action(key, *more) if key else "Choose one of your own first, under Saved.")

    def _brought(self, change):
        if change["new"]:
            file = change["new"][0]
            self.brought.value = ()
            self.take_in(file["name"], bytes(file["content"]))

    def _export(self):
        key = self.mine.entry.value
        path = self.shelf.exported(key) if key else None
        self._done("It can't be exported." if key else "Choose one of your own first, under Saved.")
        if path is not None:
            self.say(f"Here it is to take along: {path}.")
            self._link.value = link(path)
