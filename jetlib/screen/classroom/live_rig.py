"""The live rig: a large gauge and flow bars to talk over, a state to freeze, and a line that the room guesses first."""

import ipywidgets as widgets

from jetlib.rig.change.whatif import live_changes
from jetlib.rig.diagnosis.readings import throttle_name
from jetlib.rig.point.cautions import SEE_THE_MANUAL
from jetlib.rig.point.operating_point import operating_point
from jetlib.screen.classroom.live_rig_picture import GUESSED_AT, QUANTITIES, guess_picture, guess_top, live_picture
from jetlib.screen.controls.card import room_card
from jetlib.screen.controls.console import Console
from jetlib.screen.controls.declared import console_of
from jetlib.screen.controls.fields import SlidField
from jetlib.screen.controls.pieces import aside, button, named, row, shown_alone, spoken
from jetlib.screen.controls.rig_choice import checked_rig, rig_of, rig_options
from jetlib.screen.drawing.large import wide
from jetlib.units import text as words_of
from jetlib.units.entry import amount

_STEPS = (("\u2212 10 %", -0.1), ("\u2212 1 %", -0.01), ("+ 1 %", 0.01), ("+ 10 %", 0.1))
_GUESS_STEPS = 100


def live_rig(
    rig: str = "yard_trailer", *, system: str | None = None, title: str = "Live rig", **start: object
) -> "LiveRig":
    """The LiveRig of a yard rig. start: any of file, throttle, hose, jets, valve, as the controls take them."""
    given = {"rig": {"options": rig_options(), "start": rig}, "file": {"read": _read_file}}
    return console_of("live_rig", None, given, system=system, title=title, start=start, made=LiveRig)


class LiveRig(Console):
    """Controls, the large picture and its words; frozen: the OperatingPoint kept to compare with, or None.

    covered: gauge and flows are hidden while the room guesses. guesses: {quantity: {throttle: SI}}.
    """

    look = {"width": "300px", "label_width": "150px", "slider": "250px"}  # noqa: RUF012

    def __init__(self, title, controls, _, **given):
        self.frozen, self.covered, self.point, self.rig = None, False, None, None
        self.guesses = {name: {} for name in QUANTITIES}
        self._guess = _Guess(self)
        super().__init__(title, controls, self._draw, **given)

    # --- what the buttons do ---

    def step(self, by):
        """Move the throttle by a share, held between idle and full."""
        self.set(throttle=min(max(round(self.values["throttle"] + by, 4), 0.0), 1.0))

    def freeze(self):
        """Keep the present state to compare with."""
        if not self.covered:
            self.frozen = self.point
            self._redraw()

    def thaw(self):
        """Let go of the frozen state."""
        self.frozen = None
        self._redraw()

    def cover(self):
        """Hide gauge and flows, and let the room guess."""
        self.covered = True
        self._redraw()

    def show(self):
        """Show gauge, flows, and how it is beside what was guessed."""
        self.covered = False
        self._redraw()

    def guess(self, name, throttle, value):
        """The room's guess (SI, or text with a unit) of a quantity at a throttle of GUESSED_AT; None takes it back."""
        held = self.guesses[name]
        held.pop(throttle, None)
        if value is not None:
            held[throttle] = amount(value, QUANTITIES[name][1], self.system)
        self._guess.show()

    def forget(self):
        """Take back all guesses."""
        for held in self.guesses.values():
            held.clear()
        self._redraw()

    # --- the page ---

    def on_stage(self, names):
        """The picture, the throttle's buttons and the guess; then the fields of the controls with these names."""
        rest = [self._fields[name].box for name in names if name in self._fields and name != "throttle"]
        return self._image, [row(*self._moves), row(*self._pushes[:4]), *rest]

    def _boxed(self, title, note):
        fields = {name: field.box for name, field in self._fields.items()}
        self._moves = [button(words, lambda by=by: self.step(by), hint=f"throttle {words}") for words, by in _STEPS]
        self._moves += [
            button(throttle_name(at), lambda at=at: self.set(throttle=at), hint=f"throttle to {throttle_name(at)}")
            for at in (0.0, 0.5, 1.0)
        ]
        self._pushes = [
            button("Freeze", self.freeze, hint="Keep it beside the live one"),
            button("Let go", self.thaw),
            button("Guess first", self.cover, hint="The room draws its line before the throttle moves"),
            button("Show the answer", self.show),
            button("Clear the guess", self.forget),
        ]
        opener, alone = shown_alone(*self.on_stage(()))
        box = room_card(
            title,
            self._image,
            alone,
            row(fields["throttle"], *self._moves),
            row(opener, *self._pushes),
            self._words,
            self._guess.chart,
            self._guess.box,
            aside("Arrow keys on the slider: 1 %. Page up and down: more. Or the buttons."),
            row(fields["rig"], fields["jets"]),
            fields["file"],
            fields["hose"],
            fields["valve"],
            aside(f"A picture of a rig, no leave to run one. {SEE_THE_MANUAL}"),
        )
        return named(box, "course-console")

    def _draw(self, values, system):
        rig = values["file"] or rig_of(values["rig"])
        self.rig = live_changes(rig, hose=values["hose"], jets=values["jets"], valve=values["valve"])
        self.point = operating_point(self.rig, values["throttle"])
        return live_picture(self.point, system, kept=self.frozen, covered=self.covered)

    def _drawn(self, picture):
        return wide(picture)

    def _redraw(self, moved=None):
        super()._redraw(moved)
        self._guess.show()


def _read_file(typed):
    """The rig of a file; None for an empty line."""
    return checked_rig(typed) if typed.strip() else None


class _Guess:
    """The room's guess: a typed entry and a slider for each throttle, for one quantity at a time, and their chart."""

    def __init__(self, console):
        self.console, self.chart = console, widgets.HTML()
        options = [(words, name) for name, (words, _) in QUANTITIES.items()]
        self._quantity = widgets.ToggleButtons(options=options, value="gauge", description="Guess the")
        self._quantity.style.button_width = "150px"
        self._quantity.observe(lambda _: self._switched(), names="value")
        self.fields = [self._field(at) for at in GUESSED_AT]
        self.box = widgets.VBox([self._quantity, *(field.box for field in self.fields)])

    def _field(self, at):
        console = self.console
        return SlidField(
            throttle_name(at), self._read, lambda value: console.guess(self.quantity, at, value),
            system=lambda: console.system, words=lambda value: words_of(value, self._kind, console.system),
            steps=_GUESS_STEPS, at=lambda step: self._top * step / _GUESS_STEPS,
            place=lambda value: round(min(value / self._top, 1.0) * _GUESS_STEPS),
            width="270px", label_width="120px", slider="260px",
        )  # fmt: skip

    @property
    def quantity(self):
        return self._quantity.value

    @property
    def _kind(self):
        return QUANTITIES[self.quantity][1]

    @property
    def _top(self):
        return guess_top(self.console.rig, self.quantity)

    def show(self):
        """Write the guesses into the fields, and show them only while there is something to guess."""
        console, held = self.console, self.console.guesses[self.quantity]
        self.box.layout.display = None if console.covered or any(console.guesses.values()) else "none"
        for at, field in zip(GUESSED_AT, self.fields, strict=True):
            field.show(held.get(at))
        self.chart.value = ""
        if console.covered or held:
            drawn = guess_picture(console.rig, self.quantity, held, console.system, shown=not console.covered)
            self.chart.value = wide(drawn) + spoken(drawn.words)

    def _switched(self):
        for field in self.fields:
            field.refuse(None)
        self.show()

    def _read(self, typed):
        return amount(typed, self._kind, self.console.system) if typed.strip() else None
