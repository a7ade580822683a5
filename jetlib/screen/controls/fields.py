"""Fields for what a reader types: a line of text, alone or with a slider, and beside it what is wrong with it.

Every field keeps what was typed until something else is typed: a refusal empties nothing. What is read, and how, is
for `jetlib.units.entry`.
"""

from contextlib import contextmanager
from html import escape

import ipywidgets as widgets

from jetlib.errors import JetlibError
from jetlib.screen.controls.pieces import WRAPPED
from jetlib.units.refusal import page_words

_INK = "color:var(--jp-error-color1, #b3001e);line-height:1.3"


def line(label, *, value="", hint="", width="300px", label_width="150px", kind=widgets.Text):
    """A labelled widget for a line of text, heard when Enter is pressed or it is left."""
    given = {} if kind is widgets.Password else {"continuous_update": False}
    return kind(value=value, description=label, placeholder=hint, **_look(width, label_width), **given)


def choice(label, options, value, *, width="300px", label_width="150px"):
    """A labelled list to choose from; options (words, value)."""
    return widgets.Dropdown(options=list(options), value=value, description=label, **_look(width, label_width))


def _look(width, label_width):
    return {"style": {"description_width": label_width}, "layout": {"width": width, "max_width": "100%"}}


def marked(error, system="US", told="Not used:"):
    """A refusal (an error, or words) as HTML beside its field."""
    words = error if isinstance(error, str) else page_words(error, system)
    return f'<span role="alert" style="{_INK}"><b>{told}</b> {escape(words)}</span>'


class Quiet:
    """Something that hears its widgets, but not while it writes to them itself: `with self.quietly(): …`."""

    quiet = False

    @contextmanager
    def quietly(self):
        was, self.quiet = self.quiet, True
        try:
            yield
        finally:
            self.quiet = was

    def heard(self, widget, action):
        """Call action(value) when a reader changes the widget."""
        widget.observe(lambda change: None if self.quiet else action(change["new"]), names="value")


class TextField(Quiet):
    """An entry and a note under it. taken(text): called with what was typed."""

    def __init__(self, label, taken, *, hint="", width="200px", label_width="86px"):
        self.entry = line(label, hint=hint, width="100%", label_width=label_width)
        self.entry.layout.margin = "1px 0"
        self.note = widgets.HTML(layout={"margin": "0", "display": "none"})
        self.box = widgets.VBox(
            [self.entry, self.note], layout={"width": width, "max_width": "100%", "overflow": "hidden"}
        )
        self.heard(self.entry, taken)

    def show(self, typed, error=None, echo="", system="US"):
        """Set what stands there, what is wrong with it (a JetlibError), and what it is in the units of the page."""
        with self.quietly():
            if self.entry.value != typed:
                self.entry.value = typed
        look = "opacity:0.75;line-height:1.3;text-align:right;padding-right:6px"
        note = marked(error, system) if error is not None else echo and f'<div style="{look}">{escape(echo)}</div>'
        if self.note.value != note:
            self.note.value = note
            self.note.layout.display = None if note else "none"


class ChoiceField(Quiet):
    """A list to choose from: options (words, value). chosen(value): called with what was chosen."""

    def __init__(self, label, options, chosen, *, width="200px", label_width="86px"):
        self.entry = self.box = choice(label, options, options[0][1], width=width, label_width=label_width)
        self.entry.layout.margin = "1px 0"
        self.heard(self.entry, chosen)

    def show(self, value, *_):
        """Set what is chosen, without calling back."""
        with self.quietly():
            self.entry.value = value

    def relist(self, options):
        """Set what can be chosen, with the first of it chosen, without calling back."""
        if list(self.entry.options) != list(options):
            with self.quietly():
                self.entry.options = options


class ReadField(Quiet):
    """A line whose text `read(text)` turns into a value, or refuses with a JetlibError that is marked beside it.

    taken(value): called with each good one. system(): the unit system that a refusal is worded in.
    """

    def __init__(self, label, read, taken, *, system=lambda: "US", beside=True, **look):
        self.read, self.taken, self.system, self.refused = read, taken, system, False
        self.entry, self.error = line(label, **look), widgets.HTML()
        self.box = (widgets.HBox if beside else widgets.VBox)(
            [self.entry, self.error], layout=WRAPPED if beside else {}
        )
        self.heard(self.entry, self._typed)

    def put(self, typed):
        """Type from code, and be heard also where it stands there already."""
        with self.quietly():
            self.entry.value = typed
        self._typed(typed)

    def show(self, typed):
        """Set what stands there, unless it is something that was refused and its writer may still want."""
        if not self.refused:
            with self.quietly():
                self.entry.value = typed

    def show_units(self):
        """The units of the page are others now: what was typed stays as it is."""

    def clear(self, typed=""):
        """Begin anew, whatever stood there."""
        self.refuse(None)
        self.show(typed)

    def refuse(self, error):
        """Mark what stands there with an error, or take the mark away (None)."""
        self.refused = error is not None
        self.error.value = "" if error is None else marked(error, self.system())

    def _typed(self, typed):
        try:
            value = self.read(typed)
            self.refuse(None)
            self.taken(value)
        except JetlibError as error:
            self.refuse(error)


class SlidField(ReadField):
    """The same with a slider of whole `steps`, which serve every unit system: at(step) is the value of one of them.

    words(value): the text of a value. place(value): its step.
    """

    def __init__(self, label, read, taken, *, words, steps, at, place, slider="250px", **look):
        super().__init__(label, read, self._take, **look)
        self.given, self.words, self.place = taken, words, place
        self.slider = widgets.IntSlider(min=0, max=steps, readout=False, layout={"width": slider, "max_width": "98%"})
        self.box.children = (self.entry, self.slider, self.error)
        self.heard(self.slider, lambda step: self.slid(at(step)))

    def show(self, value):
        """Set entry and slider to a value, or to none."""
        with self.quietly():
            if not self.refused:
                self.entry.value = "" if value is None else self.words(value)
            self.slider.value = 0 if value is None else self.place(value)

    def clear(self, value=None):
        super().clear(value)

    def slid(self, value):
        """A value that was not typed: what was refused gives way to it."""
        self.refuse(None)
        self._take(value)

    def _take(self, value):
        self.given(value)
        self.show(value)
