"""A console: labelled entries with sliders, a unit switch, one picture, and one sentence that says the same.

A console is given its controls and a function from their values (SI) to a Picture. It knows no physics.
"""

from dataclasses import dataclass
from html import escape

import ipywidgets as widgets

from jetlib.errors import JetlibError
from jetlib.units import SYSTEMS, si, text

_ENTRY = "300px"
_SLIDER = "250px"


@dataclass(frozen=True)
class Amount:
    """A quantity with a slider of `steps` steps and a typed entry. `low`, `high`, `start`: text with a unit, or SI."""

    name: str
    label: str
    kind: str
    low: object
    high: object
    steps: int
    start: object


@dataclass(frozen=True)
class Count:
    """A whole number with a slider and a typed entry."""

    name: str
    label: str
    low: int
    high: int
    start: int


@dataclass(frozen=True)
class Choice:
    """One of several: `options` is a tuple of (words, value)."""

    name: str
    label: str
    options: tuple
    start: object


@dataclass(frozen=True)
class Switch:
    """Yes or no."""

    name: str
    label: str
    start: bool = False


@dataclass(frozen=True)
class Push:
    """A button: `change` takes the values and returns those it changes, as a dict."""

    name: str
    label: str
    change: object


class Console:
    """Controls, picture and words together; `draw(values, system)` returns a Picture.

    values: a dict of SI values by control name, changed by the controls and by `set`. A bad entry is marked at its
    field with what is allowed, and the last good picture stands. Shown in a notebook it is one output: the words as
    plain text, the picture as it stands, and the live controls.
    """

    def __init__(self, title, controls, draw, *, system="US", note=""):
        self.controls = {control.name: control for control in controls}
        self.values = {}
        self.draw = draw
        self.system = system
        self.picture = None
        self._busy = False
        self._fields = {}
        self._image = widgets.HTML()
        self._words = widgets.HTML()
        self._units = widgets.ToggleButtons(options=list(SYSTEMS), value=system, description="Units")
        self._units.style.button_width = "70px"
        self._units.observe(self._switch_units, names="value")
        rows, pushes = [], []
        for control in controls:
            field = _FIELDS[type(control)](self, control)
            self._fields[control.name] = field
            (pushes if isinstance(control, Push) else rows).append(field.box)
        head = widgets.HTML(f'<div style="font-weight:600">{escape(title)}</div>')
        foot = [widgets.HTML(f'<div style="opacity:0.85">{escape(note)}</div>')] if note else []
        buttons = [widgets.HBox(pushes, layout={"flex_flow": "row wrap"})] if pushes else []
        self.box = widgets.VBox(
            [head, self._units, *rows, *buttons, self._image, self._words, *foot],
            layout={"border": "1px solid var(--jp-border-color1, #bdbdbd)", "padding": "8px", "max_width": "960px"},
        )
        self._redraw()

    @property
    def words(self):
        """The sentence of numbers now on screen."""
        return self.picture.words

    def set(self, **values):
        """Move controls from code: values as one would type them."""
        self._busy = True
        try:
            for name, value in values.items():
                self._fields[name].put(value)
        finally:
            self._busy = False
        self._redraw()

    def change(self, name, value):
        """A control has a new good value."""
        self.values[name] = value
        if not self._busy:
            self._redraw()

    def _switch_units(self, change):
        self.system = change["new"]
        for field in self._fields.values():
            field.show_units()
        self._redraw()

    def _redraw(self):
        try:
            picture = self.draw(dict(self.values), self.system)
        except JetlibError as error:
            self._words.value = _spoken(f"This cannot be shown: {error}")
            return
        self.picture = picture
        self._image.value = f'<div style="overflow-x:auto">{picture.svg()}</div>'
        self._words.value = _spoken(picture.words)

    def _repr_mimebundle_(self, include=None, exclude=None):
        bundle = self.picture._repr_mimebundle_()
        view = self.box._repr_mimebundle_()
        kind = "application/vnd.jupyter.widget-view+json"
        return {**bundle, kind: (view[0] if isinstance(view, tuple) else view)[kind]}


class _AmountField:
    """Typed entry and slider for an Amount. The slider counts steps, so it serves every unit system."""

    def __init__(self, console, control):
        self.console, self.control = console, control
        self.low, self.high, self.value = (
            si(value, control.kind, field=control.label) for value in (control.low, control.high, control.start)
        )
        self.step = (self.high - self.low) / control.steps
        self.entry = _text(control.label, self._words_of(self.value))
        self.slider = _slider(0, control.steps, self._position(self.value))
        self.error = widgets.HTML()
        self.entry.observe(self._typed, names="value")
        self.slider.observe(self._slid, names="value")
        self.box = _row(self.entry, self.slider, self.error)
        self.quiet = False
        console.values[control.name] = self.value

    def put(self, value):
        self._accept(self._read(value), self.entry)

    def show_units(self):
        self._write(self.entry, self._words_of(self.value))
        self.error.value = ""

    def _read(self, typed):
        value = si(typed, self.control.kind, field=self.control.label.lower())
        slack = 1e-9 * (self.high - self.low)
        if not self.low - slack <= value <= self.high + slack:
            low, high = self._words_of(self.low), self._words_of(self.high)
            raise JetlibError(f"{self._words_of(value)} is outside this console; allowed here: {low} to {high}")
        return min(max(value, self.low), self.high)

    def _typed(self, change):
        if self.quiet:
            return
        typed = change["new"].strip()
        try:
            value = self._read(typed)
        except JetlibError as error:
            self.error.value = _marked(error)
            return
        self._accept(value, self.slider)

    def _slid(self, change):
        if not self.quiet:
            self._accept(min(self.low + change["new"] * self.step, self.high), self.entry)

    def _accept(self, value, _other):
        self.value = value
        self.error.value = ""
        self._write(self.entry, self._words_of(value))
        self._write(self.slider, self._position(value))
        self.console.change(self.control.name, value)

    def _write(self, widget, value):
        self.quiet = True
        try:
            widget.value = value
        finally:
            self.quiet = False

    def _position(self, value):
        return round((value - self.low) / self.step)

    def _words_of(self, value):
        return text(value, self.control.kind, self.console.system)


class _CountField(_AmountField):
    """The same for a whole number."""

    def __init__(self, console, control):
        self.console, self.control = console, control
        self.low, self.high, self.step, self.value = control.low, control.high, 1, control.start
        self.entry = _text(control.label, str(control.start))
        self.slider = _slider(0, control.high - control.low, control.start - control.low)
        self.error = widgets.HTML()
        self.entry.observe(self._typed, names="value")
        self.slider.observe(self._slid, names="value")
        self.box = _row(self.entry, self.slider, self.error)
        self.quiet = False
        console.values[control.name] = self.value

    def _read(self, typed):
        words = str(typed).strip()
        if not (words.isascii() and words.isdigit() and len(words) < 6 and self.low <= int(words) <= self.high):
            raise JetlibError(f"{words[:20]!r} will not do here; write a whole number from {self.low} to {self.high}")
        return int(words)

    def _words_of(self, value):
        return str(int(value))


class _ChoiceField:
    def __init__(self, console, control):
        self.console, self.control = console, control
        self.box = widgets.Dropdown(
            options=list(control.options), value=control.start, description=control.label, style=_WIDE, layout=_FIELD
        )
        self.box.observe(lambda change: console.change(control.name, change["new"]), names="value")
        console.values[control.name] = control.start

    def put(self, value):
        self.box.value = value

    def show_units(self):
        """Options are worded in both systems."""


class _SwitchField(_ChoiceField):
    def __init__(self, console, control):
        self.console, self.control = console, control
        self.box = widgets.Checkbox(value=control.start, description=control.label, indent=False, layout=_FIELD)
        self.box.observe(lambda change: console.change(control.name, change["new"]), names="value")
        console.values[control.name] = control.start


class _PushField:
    def __init__(self, console, control):
        self.console, self.control = console, control
        self.box = widgets.Button(description=control.label, layout={"width": "auto"})
        self.box.on_click(self._pressed)

    def _pressed(self, _):
        self.console.set(**self.control.change(dict(self.console.values)))

    def put(self, value):
        """A button holds nothing."""

    def show_units(self):
        """A button has no units."""


_FIELDS = {Amount: _AmountField, Count: _CountField, Choice: _ChoiceField, Switch: _SwitchField, Push: _PushField}
_WIDE = {"description_width": "150px"}
_FIELD = {"width": "560px", "max_width": "100%"}


def _text(label, value):
    return widgets.Text(
        value=value,
        description=label,
        continuous_update=False,
        style=_WIDE,
        layout={"width": _ENTRY, "max_width": "100%"},
    )


def _slider(low, high, value):
    return widgets.IntSlider(
        value=value, min=low, max=high, readout=False, layout={"width": _SLIDER, "max_width": "98%"}
    )


def _row(*parts):
    return widgets.HBox(list(parts), layout={"flex_flow": "row wrap", "align_items": "center", "max_width": "100%"})


def _spoken(words):
    return f'<div role="status" aria-live="polite" style="line-height:1.5;max-width:900px">{escape(words)}</div>'


def _marked(error):
    ink = "color:var(--jp-error-color1, #b3001e)"
    return f'<span role="alert" style="{ink};line-height:1.3"><b>Not used:</b> {escape(str(error))}</span>'
