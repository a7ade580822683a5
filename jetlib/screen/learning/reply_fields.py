"""Fields to answer an exercise in, one sort for each kind of exercise. No judging here.

Each has `box` (the widgets), `reply()`, `show(system)` to word it in a unit system, `mark(verdict)` for what belongs
at the field, and `stored(system)`: the same as (plain lines, HTML) for a page that nobody has run.
"""

from html import escape

import ipywidgets as widgets

from jetlib.course.exercises import FillTable, MultipleChoice, Numeric, Ordering, SingleChoice
from jetlib.screen.controls.pieces import WIDE, WRAPPED, beside, choices, entry
from jetlib.units import unit_label

_PLACES = ("First", "Second", "Third", "Fourth", "Fifth", "Sixth", "Seventh", "Eighth")


def unit_hint(kind, system):
    """What an empty field says: the unit that a number without one is taken in."""
    return unit_label(kind, system) or "a number"


def fields_for(variant, system, submit):
    """The fields for a Variant; Enter in one of them calls `submit()`."""
    kind = next(kind for kind in _FIELDS if isinstance(variant.exercise, kind))
    return _FIELDS[kind](variant, system, submit)


class _NumberField:
    def __init__(self, variant, system, submit):
        self.kind = variant.exercise.kind
        self.box = self.entry = entry("Your answer", unit_hint(self.kind, system), submit)

    def reply(self):
        return self.entry.value

    def show(self, system):
        """What was typed stays as it was typed."""
        self.entry.placeholder = unit_hint(self.kind, system)

    def mark(self, verdict):
        """The verdict stands close by."""

    def stored(self, system):
        return [], ""


class _ChoiceField:
    """Radio buttons."""

    def __init__(self, variant, system, submit):
        self.variant = variant
        self.box = choices("Your answer", self._options(system))

    def _options(self, system):
        return [(words, key) for key, words in self.variant.exercise.shown_options(self.variant, system)]

    def reply(self):
        return self.box.value

    def show(self, system):
        chosen = self.box.value
        self.box.options = self._options(system)
        self.box.value = chosen

    def mark(self, verdict):
        """The verdict stands close by."""

    def stored(self, system):
        words = [words for words, _ in self._options(system)]
        return [f"- {each}" for each in words], _listed(words)


class _TicksField(_ChoiceField):
    """A box to tick for each option."""

    def __init__(self, variant, system, submit):
        self.variant = variant
        self.ticks = {key: widgets.Checkbox(indent=False, style=WIDE) for _, key in self._options(system)}
        for tick in self.ticks.values():
            tick.layout = {"width": "auto", "max_width": "100%"}
        self.box = widgets.VBox(list(self.ticks.values()))
        self.show(system)

    def reply(self):
        return [key for key, tick in self.ticks.items() if tick.value]

    def show(self, system):
        for words, key in self._options(system):
            self.ticks[key].description = words


class _OrderField(_ChoiceField):
    """A list to choose from for each place."""

    def __init__(self, variant, system, submit):
        self.variant = variant
        count = len(self._options(system))
        self.places = [
            widgets.Dropdown(
                options=self._choices(system),
                value="",
                description=_PLACES[at],
                style={"description_width": "60px"},
                layout={"width": "480px", "max_width": "100%"},
            )
            for at in range(count)
        ]
        self.box = widgets.VBox(self.places)

    def _choices(self, system):
        return [("choose…", ""), *self._options(system)]

    def reply(self):
        return [place.value for place in self.places if place.value]

    def show(self, system):
        for place in self.places:
            chosen = place.value
            place.options = self._choices(system)
            place.value = chosen


class _TableField:
    """The table with its empty cells numbered, and a field for each of them."""

    def __init__(self, variant, system, submit):
        self.variant = variant
        exercise = variant.exercise
        self.table = widgets.HTML()
        self.entries = [entry("", unit_hint(kind, system), submit) for kind in exercise.kinds()]
        self.marks = [widgets.HTML() for _ in self.entries]
        rows = [widgets.HBox([one, mark], layout=WRAPPED) for one, mark in zip(self.entries, self.marks, strict=True)]
        self.box = widgets.VBox([self.table, *rows])
        self.show(system)

    def reply(self):
        return [one.value for one in self.entries]

    def show(self, system):
        self.table.value = self._html(system)
        for at, one in enumerate(self.entries):
            one.description = f"({at + 1}) {self.variant.exercise.blank_name(self.variant, at, system)}"

    def mark(self, verdict):
        cells = verdict.cells or [None] * len(self.marks)
        for mark, cell in zip(self.marks, cells, strict=True):
            untouched = cell is None or cell.status == "not attempted"
            mark.value = "" if untouched else beside(cell.words, cell.status)

    def _rows(self, system):
        exercise, number, rows = self.variant.exercise, 0, []
        for cells in exercise.cells(self.variant, system):
            row = []
            for cell in cells:
                number += cell is None
                row.append(f"({number})" if cell is None else cell)
            rows.append(row)
        return [heading for heading, _ in exercise.columns], rows

    def _html(self, system):
        headings, rows = self._rows(system)
        head = "".join(f'<th scope="col" style="padding:2px 12px">{escape(each)}</th>' for each in headings)
        body = "".join(
            "<tr>"
            + "".join(f'<td style="padding:2px 12px;text-align:right">{escape(cell)}</td>' for cell in row)
            + "</tr>"
            for row in rows
        )
        return f"<table><tr>{head}</tr>{body}</table>"

    def stored(self, system):
        headings, rows = self._rows(system)
        return [" | ".join(row) for row in (headings, *rows)], self._html(system)


_FIELDS = {
    Numeric: _NumberField,
    SingleChoice: _ChoiceField,
    MultipleChoice: _TicksField,
    Ordering: _OrderField,
    FillTable: _TableField,
}


def _listed(words):
    return "<ul>" + "".join(f"<li>{escape(each)}</li>" for each in words) + "</ul>"
