"""The live rig: a large gauge and flow bars to talk over, a state to freeze, and a line that the room guesses first."""

import ipywidgets as widgets

from jetlib.errors import JetlibError
from jetlib.rig.change.whatif import live_changes
from jetlib.rig.diagnosis.readings import throttle_name
from jetlib.rig.point.cautions import SEE_THE_MANUAL
from jetlib.rig.point.operating_point import operating_point
from jetlib.screen.classroom.live_rig_picture import GUESSED_AT, QUANTITIES, guess_picture, guess_top, live_picture
from jetlib.screen.controls.console import Amount, Choice
from jetlib.screen.controls.pieces import beside, button, heading, spoken
from jetlib.screen.controls.rig_choice import checked_rig, rig_of, rig_options
from jetlib.screen.controls.typed_console import Line, TypedConsole
from jetlib.screen.drawing.large import BORDER, CLASS, ROW, STYLE, wide
from jetlib.units import si, unit_label
from jetlib.units import text as words_of

_JETS = (
    ("as loaded", "as loaded"),
    ("all one drill larger", "larger"),
    ("all one drill smaller", "smaller"),
    ("one jet more", "one more"),
    ("one jet fewer", "one less"),
)
_STEPS = (("\u2212 10 %", -0.1), ("\u2212 1 %", -0.01), ("+ 1 %", 0.01), ("+ 10 %", 0.1))
_GUESS_STEPS = 100


def live_rig(rig="yard_trailer", *, system="US", title="Live rig", **start):
    """The LiveRig of a yard rig. start: any of throttle, hose, jets, valve, as the controls take them."""
    return LiveRig(rig, system=system, title=title, **start)


class LiveRig(TypedConsole):
    """Controls, the large picture and its words; frozen: the OperatingPoint kept to compare with, or None.

    covered: gauge and flows are hidden while the room guesses. guesses: {quantity: {throttle: SI}}.
    """

    def __init__(self, rig, *, system, title, **start):
        keys = [key for _, key in rig_options()]
        if rig not in keys:
            raise JetlibError(f"rig is {str(rig)[:40]!r}; write one of {', '.join(keys)}")
        begin = {"throttle": 0.5, "hose": 0.0, "jets": "as loaded", "valve": 1.0, **start}
        self.frozen, self.covered, self.point, self.rig = None, False, None, None
        self.guesses = {name: {} for name in QUANTITIES}
        self._guess = None
        controls = [
            Choice("rig", "Rig", tuple(rig_options()), rig),
            Amount("throttle", "Throttle", "fraction", 0.0, 1.0, 100, begin["throttle"]),
            Amount("hose", "Hose added", "length", 0.0, "300 ft", 30, begin["hose"]),
            Choice("jets", "Jets", _JETS, begin["jets"]),
            Amount("valve", "Valve, of its setting", "fraction", 0.5, 1.0, 50, begin["valve"]),
        ]
        lines = [Line("file", "or a rig file", _read_file, "", "path of a rig file; empty for the list", "rig")]
        super().__init__(title, lines, controls, self._draw, system=system)
        self._lay_out(title)
        self._redraw()

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
            held[throttle] = si(value, QUANTITIES[name][1], field="guess")
        if self._guess is not None:
            self._guess.show()
        self._show_guess()

    def forget(self):
        """Take back all guesses."""
        for held in self.guesses.values():
            held.clear()
        self._redraw()

    # --- the page ---

    def _lay_out(self, title):
        fields = {name: field.box for name, field in self._fields.items()}
        file_row = next(box for box in self.box.children if self.entries["file"] in getattr(box, "children", ()))
        steps = [button(words, lambda by=by: self.step(by), hint=f"throttle {words}") for words, by in _STEPS]
        steps += [
            button(throttle_name(at), lambda at=at: self.set(throttle=at), hint=f"throttle to {throttle_name(at)}")
            for at in (0.0, 0.5, 1.0)
        ]
        freezing = [
            button("Freeze", self.freeze, hint="Keep it beside the live one"),
            button("Let go", self.thaw),
            button("Guess first", self.cover, hint="The room draws its line before the throttle moves"),
            button("Show how it is", self.show),
            button("Clear the guess", self.forget),
        ]
        self._guess = _Guess(self)
        self._chart = widgets.HTML()
        keys = "Arrow keys on the slider: 1 %. Page up and down: more. Or the buttons."
        self.box.children = [
            widgets.HTML(heading(title)),
            widgets.HTML(STYLE),
            self._units,
            self._image,
            widgets.HBox([fields["throttle"], *steps], layout=ROW),
            widgets.HBox(freezing, layout=ROW),
            self._words,
            self._chart,
            self._guess.box,
            widgets.HTML(f'<div style="opacity:0.85">{keys}</div>'),
            widgets.HBox([fields["rig"], fields["jets"]], layout=ROW),
            file_row,
            fields["hose"],
            fields["valve"],
            widgets.HTML(f'<div style="opacity:0.85">A picture of a rig, no leave to run one. {SEE_THE_MANUAL}</div>'),
        ]
        self._units.style.button_width = "100px"
        self.box.layout = BORDER
        self.box.add_class(CLASS)

    def _draw(self, values, system):
        rig = values["file"] or rig_of(values["rig"])
        self.rig = live_changes(rig, hose=values["hose"], jets=values["jets"], valve=values["valve"])
        self.point = operating_point(self.rig, values["throttle"])
        return live_picture(self.point, system, kept=self.frozen, covered=self.covered)

    def _redraw(self):
        super()._redraw()
        if self._guess is None or self.picture is None:
            return
        if not self._words.value.count("cannot be shown"):
            self._image.value = wide(self.picture)
        self._guess.show()
        self._show_guess()

    def _show_guess(self):
        if self._guess is None:
            return
        name = self._guess.quantity
        if not self.covered and not self.guesses[name]:
            self._chart.value = ""
            return
        picture = guess_picture(self.rig, name, self.guesses[name], self.system, shown=not self.covered)
        self._chart.value = wide(picture) + spoken(picture.words)


def _read_file(typed):
    """The rig of a file; None for an empty line."""
    return checked_rig(typed) if typed.strip() else None


class _Guess:
    """The room's guess: a typed entry and a slider for each throttle, for one quantity at a time."""

    def __init__(self, console):
        self.console, self._quiet = console, False
        options = [(words, name) for name, (words, _) in QUANTITIES.items()]
        self._quantity = widgets.ToggleButtons(options=options, value="gauge", description="Guess the")
        self._quantity.style.button_width = "150px"
        self._quantity.observe(lambda _: self._switched(), names="value")
        self.entries, self.sliders, self.marks = [], [], []
        for at in GUESSED_AT:
            entry = widgets.Text(
                description=throttle_name(at), continuous_update=False,
                style={"description_width": "120px"}, layout={"width": "270px", "max_width": "100%"},
            )  # fmt: skip
            slider = widgets.IntSlider(
                min=0, max=_GUESS_STEPS, readout=False, layout={"width": "260px", "max_width": "98%"}
            )
            entry.observe(lambda change, at=at: self._typed(at, change["new"]), names="value")
            slider.observe(lambda change, at=at: self._slid(at, change["new"]), names="value")
            self.entries.append(entry)
            self.sliders.append(slider)
            self.marks.append(widgets.HTML())
        rows = [
            widgets.HBox(list(row), layout=ROW)
            for row in zip(self.entries, self.sliders, self.marks, strict=True)
        ]  # fmt: skip
        self.box = widgets.VBox([self._quantity, *rows])

    @property
    def quantity(self):
        return self._quantity.value

    def show(self):
        """Write the guesses into the fields, and show them only while there is something to guess."""
        console, kind = self.console, QUANTITIES[self.quantity][1]
        held = console.guesses[self.quantity]
        self.box.layout.display = None if console.covered or any(console.guesses.values()) else "none"
        self._quiet = True
        try:
            for at, entry, slider in zip(GUESSED_AT, self.entries, self.sliders, strict=True):
                value = held.get(at)
                entry.value = "" if value is None else words_of(value, kind, console.system)
                share = 0.0 if value is None else value / guess_top(console.rig, self.quantity)
                slider.value = round(min(share, 1.0) * _GUESS_STEPS)
        finally:
            self._quiet = False

    def _switched(self):
        for mark in self.marks:
            mark.value = ""
        self.console._redraw()

    def _typed(self, at, typed):
        if self._quiet:
            return
        mark = self.marks[GUESSED_AT.index(at)]
        mark.value = ""
        try:
            self.console.guess(self.quantity, at, self._with_unit(typed.strip()) or None)
        except JetlibError as error:
            mark.value = beside(f"Not used: {error}", "wrong")

    def _with_unit(self, typed):
        """A bare number is in the unit that is shown: nobody who calls out a guess says it."""
        bare = typed.replace(",", "").replace(".", "", 1)
        if not (bare.isascii() and bare.isdigit()):
            return typed
        return f"{typed} {unit_label(QUANTITIES[self.quantity][1], self.console.system)}"

    def _slid(self, at, step):
        if not self._quiet:
            self.marks[GUESSED_AT.index(at)].value = ""
            self.console.guess(self.quantity, at, guess_top(self.console.rig, self.quantity) * step / _GUESS_STEPS)
