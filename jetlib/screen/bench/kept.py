"""What the bench compares with: a set-up kept, another rig, a nozzle of the reader's own; put back, taken out."""

import ipywidgets as widgets

from jetlib.screen.bench.pages.jets import own_nozzles
from jetlib.screen.controls.fields import ChoiceField, TextField
from jetlib.screen.controls.pieces import WRAPPED, button
from jetlib.screen.controls.show import named

_OTHER = ("a rig, a nozzle", "")
_NONE = ("nothing yet", "")


class Kept:
    """The entries of the comparison. shelf: knows the rigs; act(action): does it on the BenchState and says so."""

    def __init__(self, state, shelf, act):
        self.state, self.shelf, self.act = state, shelf, act
        self.name = TextField("Keep as", lambda _: None, hint="before", width="260px", label_width="104px")
        self.other = ChoiceField("Compare with", [_OTHER], self._with, width="260px", label_width="104px")
        self.kept = ChoiceField("Kept", [_NONE], lambda _: None, width="260px", label_width="104px")
        buttons = [
            button("Keep what is on the bench", lambda: act(self._keep)),
            button("Put it on the bench", lambda: act(self._put_back), hint="The setup chosen under Kept"),
            button("Take it out", lambda: act(self._drop), hint="Out of the comparison"),
        ]
        fields = named(widgets.VBox([self.name.box, self.other.box, self.kept.box]), "jl-fields")
        self.box = widgets.VBox([fields, widgets.HBox(buttons, layout=WRAPPED)])

    def show(self):
        """List what can be compared with, and what is kept, with the same one chosen."""
        nozzles = [(f"nozzle: {label}", f"nozzle/{label}") for label, _ in self.state.value("nozzles")]
        self.other.relist([_OTHER, *self.shelf.rigs(), *nozzles])
        self.other.show("")
        kept = [(name, str(at)) for at, (name, _) in enumerate(self.state.kept)]
        self.kept.relist(kept or [_NONE])

    def _keep(self, state):
        state.keep(self.name.entry.value)
        return f"{state.kept[-1][0]} is kept: change what is on the bench, and compare."

    def _with(self, key):
        if key:
            self.act(lambda state: self._add(state, key))

    def _add(self, state, key):
        if key.startswith("nozzle/"):
            label = key.partition("/")[2]
            state.keep(label[:30], dict(own_nozzles(state))[label])
        else:
            state.keep("", self.shelf.rig(key))
        return f"{state.kept[-1][0]} stands beside what is on the bench."

    def _put_back(self, state):
        if not self.kept.entry.value:
            return "Nothing is kept yet."
        held = state.held["kept"][int(self.kept.entry.value)]
        state.take_form(held["form"])
        return f"{held['name']} is on the bench. Undo brings back what was there."

    def _drop(self, state):
        if not self.kept.entry.value:
            return "Nothing is kept yet."
        state.drop(int(self.kept.entry.value))
        return "It is taken out. Undo brings it back."
