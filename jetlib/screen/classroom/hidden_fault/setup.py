"""Parts of the hidden fault: the trainer's panel, which keeps nothing that was typed; what checks cost; a team."""

from functools import partial

import ipywidgets as widgets

from jetlib.course.classroom.hidden_fault.deal import hunt_checks
from jetlib.errors import JetlibError
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs
from jetlib.screen.controls.fields import ReadField, choice, line
from jetlib.screen.controls.pieces import beside, button, row
from jetlib.units.entry import amount
from jetlib.units.refusal import page_words

_MOST_MINUTES = 240.0
_WARNING = (
    "<b>Blank the projector now.</b> Choose the fault and write its size, then press Set and hide. The fields are "
    "emptied as soon as you do; nothing on the page or in a file tells what you set until the reveal. Nobody can "
    "repeat a fault set here after the kernel has stopped."
)
_HIDDEN = {"display": "none"}
_NOT_NAMED = ("name the cause \u2026", "")


class SecretPanel:
    """The trainer's panel. set_in_secret(name, size) returns what is wrong, or ""; faults() those of the rig."""

    def __init__(self, set_in_secret, faults):
        self._set, self._faults = set_in_secret, faults
        self._cause = choice("Fault", [("choose \u2026", "")], "", width="560px", label_width="60px")
        self._size = line(
            "Size, %", hint="empty: its usual size", width="330px", label_width="80px", kind=widgets.Password
        )
        self._wrong = widgets.HTML()
        buttons = row(button("Set and hide", self.set), button("Close without setting", self.close))
        fields = row(self._cause, self._size)
        self.box = widgets.VBox([widgets.HTML(_WARNING), fields, buttons, self._wrong], layout=_HIDDEN)

    def open(self):
        """Show the panel with the faults that the rig can have."""
        try:
            faults = self._faults()
        except ValueError as error:
            faults, self._wrong.value = (), beside(page_words(error), "wrong")
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
        found = {key: check for name in demo_rigs() for key, check in hunt_checks(demo_rig(name)).items()}
        checks = sorted(found.items(), key=lambda item: item[1].minutes)
        self.labels = {key: check.label for key, check in checks}
        self.costs, self._changed = {key: float(check.minutes) for key, check in checks}, changed
        self._fields = {
            key: ReadField(label, _minutes, partial(self._typed, key), value=f"{self.costs[key]:g}", width="530px",
                           label_width="430px")
            for key, label in self.labels.items()
        }  # fmt: skip
        words = "What each check costs, in minutes (<i>common practice, no source</i>). Write your own."
        rows = [widgets.HTML(words), *(field.box for field in self._fields.values())]
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
                self._fields[key].clear(f"{value:g}")

    def _typed(self, key, minutes):
        self.costs[key] = minutes
        self._changed()


class TeamRow:
    """One team: the cause it names, how sure it is, and the button that locks it. Nothing of it stays on the page."""

    def __init__(self, console):
        self.console, self.team = console, None
        self._cause = choice("", [_NOT_NAMED], "", width="560px")
        self._sure = widgets.ToggleButtons(options=[("guess", False), ("sure", True)], value=False)
        self._sure.style.button_width = "80px"
        self._lock = button("Lock", self._locked)
        self._state = widgets.HTML()
        self.box = row(self._cause, self._sure, self._lock, self._state)

    def show(self, team, faults):
        """A row for a team, or none."""
        self.box.layout.display = None if team else "none"
        if not team:
            self.team = None
            return
        options = [_NOT_NAMED, *((fault.title, fault.name) for fault in faults)]
        if list(self._cause.options) != options:
            self._cause.options = options
        answer = self.console.answers.get(team)
        open_now = self.console.under_way and answer is None
        if team != self.team or not open_now:
            self._cause.value, self._sure.value = "", False
        self.team = self._cause.description = team
        for widget in (self._cause, self._sure, self._lock):
            widget.disabled = not open_now
        self._state.value = beside(f"locked at minute {answer.minute:g}") if answer else ""

    def _locked(self):
        if self.team is not None:
            self.console.lock(self.team, self._cause.value, self._sure.value)


def _minutes(typed):
    """Minutes as a number; one without a unit is minutes."""
    if not typed.strip():
        raise JetlibError(f"nothing is typed; write minutes from 0 to {_MOST_MINUTES:g}, such as 5")
    return amount(typed, "duration", low=0.0, high=60.0 * _MOST_MINUTES) / 60.0
