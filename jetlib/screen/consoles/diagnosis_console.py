"""Lesson 08's second console: readings typed in, causes ranked, and the check that would tell most."""

from functools import lru_cache
from html import escape

import ipywidgets as widgets

from jetlib.rig.change.factors import UNMEASURED, USED, Knowledge
from jetlib.rig.diagnosis.checks import CHECKS, FIELDS
from jetlib.rig.diagnosis.diagnosis import diagnose
from jetlib.screen.controls.console import Choice, Console, Line, Push
from jetlib.screen.controls.fields import ReadField, choice
from jetlib.screen.controls.pieces import BESIDE, console_box, row
from jetlib.screen.controls.rig_choice import rig_of, whole_rigs
from jetlib.screen.drawing.diagnosis_picture import diagnosis_picture
from jetlib.units import text
from jetlib.units.entry import understood

_NOT_DONE = "not checked"
_LOOK = {"width": "306px", "label_width": "126px"}  # three columns of it fit beside each other
_GROUPS = ("On the gauge", "Flow and speed", "Eyes and ears")
_SPARES = "With a part known to be good in place of the rig's own, at full throttle"
_KNOWN = {
    "its healthy readings are on a card": Knowledge(),
    "known from its sizes, never measured": UNMEASURED,
    "old, and never measured": USED,
}
_loaded = lru_cache(maxsize=8)(rig_of)


def diagnosis_console(
    rig: str = "yard_trailer", *, system: str | None = None, title: str = "What is wrong with it?", **readings: object
) -> "DiagnosisConsole":
    """The DiagnosisConsole of a yard rig. readings: any of FIELDS, as they are typed or chosen there."""
    controls = [
        Choice("rig", "Rig", whole_rigs(), rig),
        Choice("known", "How well it is known", tuple((words, words) for words in _KNOWN), next(iter(_KNOWN))),
        *(Line(key, made.label, made.reading) for key, made in FIELDS.items()),
        Push("clear", "Clear all readings", lambda _: dict.fromkeys(FIELDS, "")),
    ]
    return DiagnosisConsole(title, controls, _draw, system=system, start=readings)


class DiagnosisConsole(Console):
    """A Console with a field for each reading, which may stay empty; the Diagnosis of those given.

    What cannot be read is marked at its field and left out; the rest is used.
    """

    look = {"width": "460px", "label_width": "164px"}  # noqa: RUF012

    @property
    def diagnosis(self):
        """The Diagnosis of the readings."""
        return _diagnosis(self.values)

    def _field(self, control):
        return _Field(self, control) if isinstance(control, Line) else super()._field(control)

    def _boxed(self, title, _):
        own = {name: [] for name in _GROUPS}
        for field in (field for check in CHECKS.values() if not check.needs_spare for field in check.fields):
            own[_GROUPS[2 if field.seen else field.asked.kind != "pressure"]].append(field)
        rig, known, clear = (self._fields[name].box for name in ("rig", "known", "clear"))
        rows = [
            row(rig, known),
            widgets.HBox([self._column(fields, name) for name, fields in own.items()], layout=BESIDE),
            widgets.HTML(f"<b>{escape(_SPARES)}</b>"),
            widgets.HBox([self._column(each.fields) for each in CHECKS.values() if each.needs_spare], layout=BESIDE),
            row(clear),
        ]
        return console_box(title, rows, [self._image, self._words], least="640px")

    def _column(self, fields, name=""):
        head = [widgets.HTML(f"<b>{escape(name)}</b>")] if name else []
        return widgets.VBox([*head, *(self._fields[each.key].box for each in fields)])


def _diagnosis(values):
    readings = [values[name] for name in FIELDS if values[name] is not None]
    return diagnose(_loaded(values["rig"]), readings, spread=_KNOWN[values["known"]])


def _draw(values, system):
    return diagnosis_picture(_diagnosis(values), system)


class _Field(ReadField):
    """One field: an entry for a number, or a list of what can be seen; "" for nothing read."""

    def __init__(self, console, control):
        self.console, self.name, self.made = console, control.name, FIELDS[control.name]
        super().__init__(
            control.label, self._reading, lambda reading: console.change(control.name, reading),
            system=lambda: console.system, beside=False, **_LOOK,
        )  # fmt: skip
        if self.made.seen:
            options = [(_NOT_DONE, ""), *((words, words) for words in self.made.seen)]
            self.entry = choice(control.label, options, "", **_LOOK)
            self.box.children = (self.entry, self.error)
            self.heard(self.entry, self._typed)
        console.values[control.name] = None
        self.show_units()
        if control.start:
            with console.quietly():
                self.put(control.start)

    def show_units(self):
        """What stands there in the units of the page; an example in them where nothing does."""
        if self.made.seen:
            return
        self.entry.placeholder = self.made.example[self.console.system != "US"]
        reading = self.console.values[self.name]
        if reading is not None:
            told = self.made.kind == "gauge at" or (self.made.kind == "bucket" and reading.throttle != 1.0)
            at = f" at {100 * reading.throttle:.3g} %" if told else ""
            self.show(text(reading.value, reading.kind, self.console.system) + at)

    def refuse(self, error):
        super().refuse(error)
        if error is not None:
            self.taken(None)

    def _reading(self, typed):
        if self.made.seen or not typed.strip():
            return self.made.reading(typed)
        said, reading = understood(typed, self.made.kind, self.console.system, self.made.reading)
        if said != typed:
            with self.quietly():
                self.entry.value = said  # nobody is left guessing how it was read
        return reading
