"""A team of the drill on the page: the cause it names, how sure it is, and the button that locks it."""

import ipywidgets as widgets

from jetlib.screen.controls.pieces import beside, button
from jetlib.screen.drawing.large import ROW

_NOT_NAMED = ("name the cause \u2026", "")
_LABEL = {"description_width": "150px"}


class TeamRow:
    """One team: the cause it names, how sure it is, and the button that locks it. Nothing of it stays on the page."""

    def __init__(self, console):
        self.console, self.team = console, None
        self._cause = widgets.Dropdown(
            options=[_NOT_NAMED], style=_LABEL, layout={"width": "560px", "max_width": "100%"}
        )  # fmt: skip
        self._sure = widgets.ToggleButtons(options=[("guess", False), ("sure", True)], value=False)
        self._sure.style.button_width = "80px"
        self._lock = button("Lock", self._locked)
        self._state = widgets.HTML()
        self.box = widgets.HBox([self._cause, self._sure, self._lock, self._state], layout=ROW)

    def show(self, team, faults):
        """A row for a team, or none."""
        self.box.layout.display = None if team else "none"
        if not team:
            self.team = None
            return
        options = [_NOT_NAMED, *((fault.title, fault.name) for fault in faults)]
        if list(self._cause.options) != options:
            self._cause.options = options
        if team != self.team:
            self._clear()
        self.team = team
        self._cause.description = team
        answer = self.console.answers.get(team)
        open_now = self.console.hunt is not None and self.console.reveal_shown is None and answer is None
        for widget in (self._cause, self._sure, self._lock):
            widget.disabled = not open_now
        self._state.value = beside(f"locked at minute {answer.minute:g}") if answer else ""
        if not open_now:
            self._clear()

    def _clear(self):
        self._cause.value, self._sure.value = "", False

    def _locked(self):
        if self.team is not None:
            self.console.lock(self.team, self._cause.value, self._sure.value)
