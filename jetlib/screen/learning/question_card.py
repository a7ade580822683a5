"""What practice and predictions have in common: the card of a question, and the fields it is answered in.

What is stored is the question alone; it is the same whoever runs it. What a reader does is kept in their own progress
file, and shows only in the live controls.

Fields are of one sort for each kind of exercise, and judge nothing. Each has `box` (the widgets), `reply()`,
`show(system)` to word it in a unit system, `mark(verdict)` for what belongs at the field, and `stored(system)`: the
same as (plain lines, HTML) for a page that nobody has run.
"""

from functools import partial
from html import escape
from itertools import count

import ipywidgets as widgets

from jetlib.course.exercises.choices_from_toml import unsafe_name
from jetlib.course.exercises.choosing import MultipleChoice, Ordering, SingleChoice
from jetlib.course.exercises.numeric import Numeric
from jetlib.course.progress.progress import current
from jetlib.screen.controls.card import Card
from jetlib.screen.controls.fields import choice
from jetlib.screen.controls.pieces import (
    WIDE,
    beside,
    bundle,
    card,
    choices,
    entry,
    folded,
    framed,
    heading,
    other,
    paragraphs,
    row,
    spoken,
    tabled,
)
from jetlib.units import unit_label


class QuestionCard(Card):
    """A question of the page. asked: what has its title and id; kind: a word before the title.

    Whoever inherits gives `_worded(system)`: (plain lines, HTML) of the question in a unit system.
    """

    def __init__(self, kind, asked, system, progress):
        super().__init__(system)
        self.title, self._place = f"{kind}: {asked.title}", asked.id
        self.progress = current() if progress is None else progress
        self._question, self._answer = widgets.HTML(), widgets.HTML()
        self._notices = widgets.HTML(spoken(""))

    def _lay_out(self, look, fields, *buttons):
        """Make the box, of the page's class `look`."""
        parts = self._question, fields, row(*buttons), self._said, self._answer, self._notices
        self.box = card(self.title, *parts, place=self._place)
        self.box.add_class(look)

    def _say(self, words, status=""):
        super()._say(words, status)
        if notices := self.progress.take_notices():
            self._notices.value = spoken(" ".join(notices))

    def _answer_with(self, html):
        """Show HTML under what is said, and have it read out."""
        self._answer.value = f'<div role="status" aria-live="polite">{html}</div>'

    def _repr_mimebundle_(self, include=None, exclude=None):
        far = other(self.system)
        (lines, here), (_, again) = self._worded(self.system), self._worded(far)
        switched = folded(f"In {far} units", again) if again != here else ""
        html = framed(heading(self.title) + here + switched + paragraphs(self.waiting))
        return bundle(self.box, "\n".join([self.title, "", *lines]), html)


# --- fields ---------------------------------------------------------------------------------------

_PLACES = ("First", "Second", "Third", "Fourth", "Fifth", "Sixth", "Seventh", "Eighth")


def unit_hint(kind, system):
    """What an empty field says: the unit that a number without one is taken in."""
    return unit_label(kind, system) or "a number"


def fields_for(variant, system, submit):
    """The fields for a Variant; Enter in one of them calls `submit()`."""
    exercise = variant.exercise

    def options(system):
        return exercise.shown_options(variant, system)

    if isinstance(exercise, Numeric):
        return NumberField("Your answer", partial(unit_hint, exercise.kind), system, submit)
    if isinstance(exercise, SingleChoice):
        return ChoiceField("Your answer", options, system)
    if isinstance(exercise, MultipleChoice):
        return _TicksField(exercise, options, system)
    if isinstance(exercise, Ordering):
        return _OrderField(options, system)
    return _TableField(variant, system, submit)


class NumberField:
    """A line for a number; hint(system): what it says while it is empty."""

    def __init__(self, label, hint, system, submit):
        self.hint, self.box = hint, entry(label, hint(system), submit)
        self.entry = self.box

    def reply(self):
        return self.box.value

    def show(self, system):
        """What was typed stays as it was typed."""
        self.box.placeholder = self.hint(system)

    def shut(self, shut):
        """Let nothing be typed any more, or let it again."""
        self.box.disabled = shut

    def mark(self, verdict):
        """The verdict stands close by."""

    def stored(self, system):
        return [], ""


class ChoiceField(NumberField):
    """Radio buttons; options(system): (key, words) of each."""

    def __init__(self, label, options, system):
        self.options = options
        self.box = choices(label, self._options(system))

    def _options(self, system):
        return [(words, key) for key, words in self.options(system)]

    def show(self, system):
        chosen = self.box.value
        self.box.options = self._options(system)
        self.box.value = chosen

    def stored(self, system):
        words = [words for _, words in self.options(system)]
        return [f"- {each}" for each in words], "<ul>" + "".join(f"<li>{escape(each)}</li>" for each in words) + "</ul>"


class _TicksField(ChoiceField):
    """A box to tick for each option."""

    def __init__(self, exercise, options, system):
        self.exercise, self.options = exercise, options
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
        why = next((each.words for each in self.exercise.mistakes if each.name == unsafe_name(key)), "")
        self.reasons[key].value = beside(f"Not safe. {why}", "wrong") if on and why else ""

    def reply(self):
        return [key for key, tick in self.ticks.items() if tick.value]

    def show(self, system):
        for words, key in self._options(system):
            self.ticks[key].description = words


class _OrderField(ChoiceField):
    """A list to choose from for each place."""

    def __init__(self, options, system):
        self.options = options
        listed = self._choices(system)
        self.places = [
            choice(place, listed, "", width="480px", label_width="76px") for place in _PLACES[: len(listed) - 1]
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

    def stored(self, system):
        exercise, number = self.variant.exercise, count(1)
        headings = [heading for heading, _ in exercise.columns]
        rows = [
            [f"({next(number)})" if cell is None else cell for cell in row]
            for row in exercise.cells(self.variant, system)
        ]
        html = tabled(headings, rows, "padding:2px 12px", "padding:2px 12px;text-align:right")
        return [" | ".join(row) for row in (headings, *rows)], html
