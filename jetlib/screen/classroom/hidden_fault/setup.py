"""Two panels of the hidden fault: the trainer's, which keeps nothing that was typed, and the costs of the checks."""

import ipywidgets as widgets

from jetlib.course.classroom.hidden_fault.checks import hunt_checks
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs
from jetlib.screen.controls.pieces import beside, button
from jetlib.screen.drawing.large import ROW

_MOST_MINUTES = 240.0
_WARNING = (
    "<b>Blank the projector now.</b> Choose the fault and write its size, then press Set and hide. The fields are "
    "emptied as soon as you do; nothing on the page or in a file tells what you set until the reveal. Nobody can "
    "repeat a fault set here after the kernel has stopped."
)
_HIDDEN = {"display": "none"}


class SecretPanel:
    """The trainer's panel. set_in_secret(name, size) returns what is wrong, or ""; faults() those of the rig."""

    def __init__(self, set_in_secret, faults):
        self._set, self._faults = set_in_secret, faults
        self._cause = widgets.Dropdown(
            options=[("choose \u2026", "")], description="Fault", style={"description_width": "60px"},
            layout={"width": "560px", "max_width": "100%"},
        )  # fmt: skip
        self._size = widgets.Password(
            description="Size, %", placeholder="empty: its usual size", style={"description_width": "80px"},
            layout={"width": "330px", "max_width": "100%"},
        )  # fmt: skip
        self._wrong = widgets.HTML()
        buttons = [button("Set and hide", self.set), button("Close without setting", self.close)]
        self.box = widgets.VBox(
            [
                widgets.HTML(_WARNING),
                widgets.HBox([self._cause, self._size], layout=ROW),
                widgets.HBox(buttons, layout=ROW),
                self._wrong,
            ],
            layout=_HIDDEN,
        )  # fmt: skip

    def open(self):
        """Show the panel with the faults that the rig can have."""
        try:
            faults = self._faults()
        except ValueError as error:
            faults, self._wrong.value = (), beside(str(error), "wrong")
        self._cause.options = [("choose \u2026", ""), *((fault.title, fault.name) for fault in faults)]
        self.box.layout.display = None

    def close(self):
        """Empty every field and put the panel away."""
        self._cause.options = [("choose \u2026", "")]
        self._cause.value, self._size.value, self._wrong.value = "", "", ""
        self.box.layout.display = "none"

    def set(self):
        """Set what stands in the fields, and empty them."""
        name, size = self._cause.value, self._size.value.strip()
        if not name:
            self._wrong.value = beside("Choose a fault first.", "wrong")
            return
        if size and not size.endswith("%"):
            size += "%"  # the field says per cent
        wrong = self._set(name, size)
        if wrong:
            self._wrong.value = beside(f"Not set: {wrong}", "wrong")
        else:
            self.close()


class CostSheet:
    """What each check costs, editable. costs: {key: minutes}; labels: {key: words}."""

    def __init__(self, changed):
        self.labels, self.costs, self._changed, self._quiet = {}, {}, changed, False
        for name in demo_rigs():
            for key, check in hunt_checks(demo_rig(name)).items():
                self.labels.setdefault(key, check.label)
                self.costs.setdefault(key, float(check.minutes))
        order = sorted(self.labels, key=lambda key: self.costs[key])
        self.labels = {key: self.labels[key] for key in order}
        self._entries, self._marks = {}, {}
        rows = [widgets.HTML("What each check costs, in minutes (<i>common practice, no source</i>). Write your own.")]
        for key in order:
            entry = widgets.Text(
                value=f"{self.costs[key]:g}", description=self.labels[key], continuous_update=False,
                style={"description_width": "430px"}, layout={"width": "530px", "max_width": "100%"},
            )  # fmt: skip
            entry.observe(lambda change, key=key: self._typed(key, change["new"]), names="value")
            self._entries[key], self._marks[key] = entry, widgets.HTML()
            rows.append(widgets.HBox([entry, self._marks[key]], layout=ROW))
        self.box = widgets.VBox(rows, layout=_HIDDEN)

    def toggle(self):
        """Show the sheet, or put it away."""
        self.box.layout.display = "none" if self.box.layout.display is None else None

    def take(self, held):
        """Costs as they were kept; what is none is left out."""
        for key, value in (held if isinstance(held, dict) else {}).items():
            good = isinstance(value, int | float) and not isinstance(value, bool) and 0 <= value <= _MOST_MINUTES
            if key in self.costs and good:
                self.costs[key] = float(value)
                self._quiet = True
                self._entries[key].value = f"{value:g}"
                self._quiet = False

    def _typed(self, key, typed):
        if self._quiet:
            return
        number = typed.strip().removesuffix("min").strip()
        plain = number.replace(".", "", 1)
        good = plain.isascii() and plain.isdigit() and len(number) < 7 and float(number) <= _MOST_MINUTES
        if not good:
            words = f"Not used: {typed[:20]!r}; write minutes from 0 to {_MOST_MINUTES:g}, such as 5"
            self._marks[key].value = beside(words, "wrong")
            return
        self._marks[key].value = ""
        self.costs[key] = float(number)
        self._changed()
