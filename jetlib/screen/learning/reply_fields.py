"""Fields to answer an exercise in, one sort for each kind of exercise. No judging here.

Each has `box` (the widgets), `reply()`, `show(system)` to word it in a unit system, `mark(verdict)` for what belongs
at the field, and `stored(system)`: the same as (plain lines, HTML) for a page that nobody has run.
"""

from html import escape

import ipywidgets as widgets

from jetlib.course.exercises.choosing import MultipleChoice, Ordering, SingleChoice
from jetlib.course.exercises.numeric import FillTable, Numeric
from jetlib.course.exercises.terms import unsafe_name
from jetlib.screen.controls.pieces import WIDE, beside, choices, entry
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
        self.reasons = {key: widgets.HTML() for key in self.ticks}
        for key, tick in self.ticks.items():
            tick.layout = {"width": "auto", "max_width": "100%"}
            tick.observe(lambda change, key=key: self._ticked(key, change["new"]), names="value")
        rows = zip(self.ticks.values(), self.reasons.values(), strict=True)
        self.box = widgets.VBox([widget for row in rows for widget in row])
        self.show(system)

    def _ticked(self, key, on):
        """A dangerous way gets its reason at once: nobody reads on with it in mind."""
        why = next((each.words for each in self.variant.exercise.mistakes if each.name == unsafe_name(key)), "")
        self.reasons[key].value = beside(f"Not safe. {why}", "wrong") if on and why else ""

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
                style={"description_width": "76px"},
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
    """The table, with a field in each of its empty cells."""

    def __init__(self, variant, system, submit):
        self.variant = variant
        exercise = variant.exercise
        self.entries = [entry("", unit_hint(kind, system), submit) for kind in exercise.kinds()]
        for one in self.entries:
            one.style, one.layout = {"description_width": "0px"}, {"width": "100%", "min_width": "0"}
        self.marks = [widgets.HTML() for _ in self.entries]
        self.grid = widgets.GridBox(
            layout={
                "grid_template_columns": f"repeat({len(exercise.columns)}, minmax(72px, max-content))",
                "grid_gap": "4px 12px", "align_items": "center", "overflow": "auto", "max_width": "100%",
            }
        )  # fmt: skip
        self.grid.add_class("course-table")
        self.box = widgets.VBox([self.grid, *self.marks])
        self.show(system)

    def reply(self):
        return [one.value for one in self.entries]

    def show(self, system):
        exercise, blanks = self.variant.exercise, iter(self.entries)
        for at, (one, kind) in enumerate(zip(self.entries, exercise.kinds(), strict=True)):
            one.description = exercise.blank_name(self.variant, at, system)
            if not one.value:
                one.placeholder = unit_hint(kind, system)
        heads = [widgets.HTML(f"<b>{escape(heading)}</b>") for heading, _ in exercise.columns]
        rows = exercise.cells(self.variant, system)
        cells = [next(blanks) if cell is None else widgets.HTML(escape(cell)) for row in rows for cell in row]
        gone, self.grid.children = self.grid.children, (*heads, *cells)
        for widget in gone:
            if widget not in self.entries:
                widget.close()

    def mark(self, verdict):
        cells = verdict.cells or [None] * len(self.marks)
        for one, mark, cell in zip(self.entries, self.marks, cells, strict=True):
            untouched = cell is None or cell.status == "not attempted"
            mark.value = "" if untouched else beside(f"{one.description}: {cell.words}", cell.status)

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
