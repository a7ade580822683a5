"""Lesson 08's second console: readings typed in, causes ranked, and the check that would tell most."""

from functools import lru_cache
from html import escape

import ipywidgets as widgets

from jetlib.errors import JetlibError
from jetlib.rig.change.factors import UNMEASURED, USED, Knowledge
from jetlib.rig.diagnosis.checks import CHECKS, FIELDS
from jetlib.rig.diagnosis.diagnosis import diagnose
from jetlib.rig.parts.rig_file import demo_rigs
from jetlib.screen.controls.fields import Quiet, ReadField, choice
from jetlib.screen.controls.pieces import BESIDE, bundle, console_box, row, spoken
from jetlib.screen.controls.rig_choice import rig_of, whole_rigs
from jetlib.screen.controls.units_choice import follow
from jetlib.screen.drawing.diagnosis_picture import diagnosis_picture
from jetlib.units import text
from jetlib.units.entry import understood
from jetlib.units.refusal import page_words

_NOT_DONE = "not checked"
_WIDE, _LABEL = "306px", "126px"  # three columns of it fit beside each other
_GROUPS = ("On the gauge", "Flow and speed", "Eyes and ears")
_SPARES = "With a part known to be good in place of the rig's own, at full throttle"
_KNOWN = (
    ("its healthy readings are on a card", Knowledge()),
    ("known from its sizes, never measured", UNMEASURED),
    ("old, and never measured", USED),
)


def diagnosis_console(
    rig: str = "yard_trailer", *, system: str | None = None, title: str = "What is wrong with it?", **readings: object
) -> "DiagnosisConsole":
    """The DiagnosisConsole of a yard rig. readings: any of FIELDS, as they are typed or chosen there."""
    console = DiagnosisConsole(rig, system=system, title=title)
    console.set(**readings)
    return console


class DiagnosisConsole(Quiet):
    """Fields for readings, each of which may stay empty; the Diagnosis of those given, as picture and words.

    readings: {field: reading}. What cannot be read is marked at its field and left out; the rest is used.
    """

    def __init__(self, rig, *, system, title):
        if rig not in demo_rigs():
            raise JetlibError(f"rig is {str(rig)[:40]!r}; write one of {', '.join(demo_rigs())}")
        self.system, self.readings, self.diagnosis, self.picture = follow(self, system), {}, None, None
        self._rig = choice("Rig", whole_rigs(), rig, width="460px", label_width="164px")
        self._known = choice("How well it is known", _KNOWN, _KNOWN[0][1], width="460px", label_width="164px")
        self._fields = {name: _Field(self, made) for name, made in FIELDS.items()}
        self._image, self._words = widgets.HTML(), widgets.HTML()
        clear = widgets.Button(description="Clear all readings", layout={"width": "auto", "align_self": "flex-start"})
        clear.on_click(lambda _: self.clear())
        for widget in (self._rig, self._known):
            widget.observe(lambda _: self._redraw(), names="value")
        own = {name: [] for name in _GROUPS}
        for field in (field for check in CHECKS.values() if not check.needs_spare for field in check.fields):
            own[_GROUPS[2 if field.seen else field.asked.kind != "pressure"]].append(field)
        groups = [self._column(fields, name) for name, fields in own.items()]
        spares = [self._column(check.fields) for check in CHECKS.values() if check.needs_spare]
        rows = [
            row(self._rig, self._known),
            widgets.HBox(groups, layout=BESIDE),
            widgets.HTML(f"<b>{escape(_SPARES)}</b>"),
            widgets.HBox(spares, layout=BESIDE),
            clear,
        ]
        self.box = console_box(title, rows, [self._image, self._words], least="640px")
        self._redraw()

    def _column(self, fields, name=""):
        head = [widgets.HTML(f"<b>{escape(name)}</b>")] if name else []
        return widgets.VBox([*head, *(self._fields[each.key].box for each in fields)])

    @property
    def words(self):
        """The sentences now on screen."""
        return self.picture.words

    def set(self, **readings):
        """Fill fields from code, as one would type or choose; "" for none. JetlibError for one that is none."""
        strangers = [name for name in readings if name not in self._fields]
        if strangers:
            raise JetlibError(f"there is no field {strangers[0]!r}; write one of {', '.join(self._fields)}")
        with self.quietly():
            for name, value in readings.items():
                self._fields[name].put(value)
        self._redraw()

    def clear(self):
        """Empty all fields."""
        self.set(**dict.fromkeys(self._fields, ""))

    def changed(self, name, reading):
        """A field has a new reading, or none."""
        if self.readings.get(name) == reading:
            return
        self.readings.pop(name, None)
        if reading is not None:
            self.readings[name] = reading
        if not self.quiet:
            self._redraw()

    def use_units(self, system):
        """Word everything in "US" or "metric"."""
        self.system = system
        for field in self._fields.values():
            field.show_units(self.readings.get(field.made.key))
        self._redraw()

    def _redraw(self):
        readings = [self.readings[name] for name in FIELDS if name in self.readings]
        try:
            self.diagnosis = diagnose(_loaded(self._rig.value), readings, spread=self._known.value)
        except JetlibError as error:
            self._words.value = spoken(f"This cannot be calculated: {page_words(error, self.system)}")
            return
        self.picture = diagnosis_picture(self.diagnosis, self.system)
        self._image.value = f'<div style="overflow-x:auto">{self.picture.live()}</div>'
        self._words.value = spoken(self.picture.words)

    def _repr_mimebundle_(self, include=None, exclude=None):
        return bundle(self.box, self.picture.words, self.picture.image())


class _Field(ReadField):
    """One field: an entry for a number, or a list of what can be seen; "" for nothing read."""

    def __init__(self, console, made):
        self.console, self.made = console, made
        super().__init__(
            made.label, self._reading, lambda reading: console.changed(made.key, reading),
            system=lambda: console.system, beside=False, width=_WIDE, label_width=_LABEL,
        )  # fmt: skip
        self.show_units(None)
        if made.seen:
            options = [(_NOT_DONE, ""), *((words, words) for words in made.seen)]
            self.entry = choice(made.label, options, "", width=_WIDE, label_width=_LABEL)
            self.box.children = (self.entry, self.error)
            self.heard(self.entry, self._typed)

    def show_units(self, reading):
        """What stands there in the units of the page; an example in them where nothing does."""
        if self.made.seen:
            return
        self.entry.placeholder = self.made.example[self.console.system != "US"]
        if reading is not None:
            told = self.made.kind == "gauge at" or (self.made.kind == "bucket" and reading.throttle != 1.0)
            at = f" at {100 * reading.throttle:.3g} %" if told else ""
            self.show(text(reading.value, reading.kind, self.console.system) + at)

    def refuse(self, error):
        super().refuse(error)
        if error is not None:
            self.console.changed(self.made.key, None)

    def _reading(self, typed):
        if self.made.seen or not typed.strip():
            return self.made.reading(typed)
        said, reading = understood(typed, self.made.kind, self.console.system, self.made.reading)
        if said != typed:
            with self.quietly():
                self.entry.value = said  # nobody is left guessing how it was read
        return reading


@lru_cache(maxsize=8)
def _loaded(name):
    return rig_of(name)
