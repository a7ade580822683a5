"""A console: labelled entries with sliders, one picture, and one sentence that says the same.

A console is given its controls and a function from their values (SI) to a Picture. It knows no physics.
"""

import time
from collections.abc import Hashable
from dataclasses import dataclass, replace
from functools import partial

import ipywidgets as widgets

from jetlib.errors import JetlibError
from jetlib.screen.controls.fields import Quiet, ReadField, SlidField, choice
from jetlib.screen.controls.pieces import answers_html, aside, bundle, console_box, spoken
from jetlib.screen.controls.units_choice import follow
from jetlib.units import si, text
from jetlib.units.entry import amount, count
from jetlib.units.refusal import cut, page_words


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
    """A button: `change` takes the values and returns those it changes, as a dict, or None."""

    name: str
    label: str
    change: object


@dataclass(frozen=True)
class Line:
    """A line of text. `read(text)` gives its value or raises JetlibError; `start` is a text that can be read.

    It stands under the control before it, the first of all above them.
    """

    name: str
    label: str
    read: object
    start: str = ""
    hint: str = ""


class Console(Quiet):
    """Controls, picture and words together; `draw(values, system)` returns a Picture.

    values: a dict of SI values by control name, changed by the controls and by `set`. A bad entry is marked at its
    field with what is allowed, and the last good picture stands. Shown in a notebook it is one output: the words as
    plain text, the picture as it stands, and the live controls. start: values by control name to begin with in place
    of the controls' own; JetlibError for a name that no control has.
    """

    #: How entries, their labels and their sliders are laid out.
    look = {"width": "100%", "label_width": "124px", "slider": "98%"}  # noqa: RUF012

    def __init__(self, title, controls, draw, *, system=None, note="", start=None):
        controls = _begun(controls, dict(start or {}))
        self.controls = {control.name: control for control in controls}
        self.values = {}
        self.draw = draw
        self.system = follow(self, system)
        self.picture = None
        self._before, self._moved, self._when = None, None, 0.0
        self._answers, self._image, self._words = widgets.HTML(), widgets.HTML(), widgets.HTML()
        self._whole = None  # the picture in one piece, once a room is shown it
        self._fields = {control.name: self._field(control) for control in controls}
        self.box = self._boxed(title, note)
        self._redraw()

    def _field(self, control):
        return _FIELDS[type(control)](self, control)

    def _boxed(self, title, note):
        """The box: over the picture what is long, beside it the other controls, then buttons, answers and the note."""
        above, rows, pushes = [], [], []
        among = above
        for name, control in self.controls.items():
            if not isinstance(control, Line):
                long = isinstance(control, Choice) and max(len(words) for words, _ in control.options) > _LONG
                among = pushes if isinstance(control, Push) else above if long else rows
            among.append(self._fields[name].box)
        foot = [aside(note)] if note else []
        buttons = [widgets.HBox(pushes, layout={"flex_flow": "row wrap"})] if pushes else []
        return console_box(title, [*rows, *buttons, self._answers, *foot], [self._image, self._words], above=above)

    @property
    def words(self):
        """The sentence of numbers now on screen."""
        return self.picture.words

    def set(self, **values):
        """Move controls from code: values as one would type them."""
        with self.quietly():
            for name, value in values.items():
                self._fields[name].put(value)
        self._redraw(tuple(values))

    def on_stage(self, names):
        """The picture, and the fields of the controls with these names: what a room is shown of it."""
        self._whole = widgets.HTML(self.picture.svg())
        return self._whole, [self._fields[name].box for name in names if name in self._fields]

    def change(self, name, value):
        """A control has a new good value."""
        self.values[name] = value
        if not self.quiet:
            self._redraw(name)

    def use_units(self, system):
        """Word everything in "US" or "metric"."""
        self.system, self._before = system, None
        for field in self._fields.values():
            if isinstance(field, ReadField):
                field.show_units()
        self._redraw()

    def _redraw(self, moved=None):
        """Draw anew; moved: what the reader has moved, a name, or what code has, a tuple of them."""
        try:
            picture = self.draw(dict(self.values), self.system)
        except JetlibError as error:
            self._words.value = spoken(f"This cannot be shown: {page_words(error, self.system)}")
            return
        self._keep_before(moved)
        self.picture = picture
        self._image.value = self._drawn(picture)
        if self._whole is not None:
            self._whole.value = picture.svg()
        self._answers.value = answers_html(picture.answers, self._before.answers if self._before else (), self.system)
        self._words.value = spoken(picture.words)

    def _drawn(self, picture):
        """HTML of the picture, over what it was before the last move."""
        return f'<div style="overflow-x:auto">{picture.live(self._before)}</div>'

    def _keep_before(self, moved):
        """Keep the picture as it was before a move; one slide of a handle is one move, however many steps it has."""
        typed = {name for name, control in self.controls.items() if isinstance(control, Line)}  # which is no move
        if moved is None or (moved and typed.issuperset([moved] if isinstance(moved, str) else moved)):
            return
        now = time.monotonic()
        if moved != self._moved or now - self._when > _REST:
            self._before = self.picture
        self._moved, self._when = moved, now

    def _repr_mimebundle_(self, include=None, exclude=None):
        return bundle(self.box, self.picture.words, self.picture.image())


def _begun(controls, start):
    """The controls, those that `start` names beginning there."""
    begun = [replace(each, start=start.pop(each.name)) if each.name in start else each for each in controls]
    if start:
        names = ", ".join(each.name for each in controls if not isinstance(each, Push))
        raise JetlibError(f"there is no control {str(next(iter(start)))[:40]!r}; write one of: {names}")
    for each in begun:
        values = [value for _, value in each.options] if isinstance(each, Choice) else None
        if values is not None and not (isinstance(each.start, Hashable) and each.start in values):
            raise JetlibError(f"{each.name} is {cut(each.start)}; write one of: {', '.join(map(str, values))}")
    return begun


class _ScaleField(SlidField):
    """Typed entry and slider for an Amount or a Count."""

    def __init__(self, console, control):
        self.console, self.name = console, control.name
        if isinstance(control, Count):
            self.low, self.high, start, step = control.low, control.high, control.start, 1
            read, words = partial(count, low=self.low, high=self.high), lambda value: str(int(value))
        else:
            self.low, self.high, start = (si(each, control.kind) for each in (control.low, control.high, control.start))
            step = (self.high - self.low) / control.steps

            def read(typed):
                return amount(typed, control.kind, console.system, low=self.low, high=self.high)

            def words(value):
                return text(value, control.kind, console.system)

        super().__init__(
            control.label, read, lambda value: console.change(control.name, value), system=lambda: console.system,
            words=words, steps=round((self.high - self.low) / step),
            place=lambda value: round((value - self.low) / step),
            at=lambda count: min(self.low + count * step, self.high), **console.look,
        )  # fmt: skip
        console.values[control.name] = start
        self.show(start)

    def put(self, value):
        """Move from code: a value as one would type it, or SI."""
        self.slid(self.read(value))

    def show_units(self):
        self.show(self.console.values[self.name])


class _LineField(ReadField):
    """The entry of a Line; what was read last stands until something else can be read."""

    def __init__(self, console, control):
        super().__init__(
            control.label, control.read, lambda value: console.change(control.name, value),
            system=lambda: console.system, beside=False, value=control.start, hint=control.hint, width="760px",
        )  # fmt: skip
        console.values[control.name] = control.read(control.start)


class _ChosenField:
    """The list of a Choice, or the check box of a Switch."""

    def __init__(self, console, control):
        given = {name: console.look[name] for name in ("width", "label_width")}
        if isinstance(control, Choice):
            self.box = choice(control.label, control.options, control.start, **given)
        else:
            layout = {"width": given["width"], "max_width": "100%"}
            self.box = widgets.Checkbox(value=control.start, description=control.label, indent=False, layout=layout)
        self.box.observe(lambda change: console.change(control.name, change["new"]), names="value")
        console.values[control.name] = control.start

    def put(self, value):
        self.box.value = value


class _PushField:
    def __init__(self, console, control):
        self.box = widgets.Button(description=control.label, layout={"width": "auto"})
        self.box.on_click(lambda _: console.set(**(control.change(dict(console.values)) or {})))

    def put(self, value):
        """A button holds nothing."""


_FIELDS = {
    Amount: _ScaleField, Count: _ScaleField, Choice: _ChosenField, Switch: _ChosenField, Push: _PushField,
    Line: _LineField,
}  # fmt: skip
_REST = 1.5  # seconds without a step, after which a move has ended
_LONG = 44  # letters: a list with a longer option stands over controls and picture, or it would be cut off
