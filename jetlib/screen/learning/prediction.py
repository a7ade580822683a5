"""One prediction on the page: commit to an answer, lock it, then see what is so beside it.

Nothing waits for the reader: the lesson goes on below, locked or not.
"""

import json
from functools import partial
from html import escape

import ipywidgets as widgets
import numpy as np

from jetlib.course.banks import registry as bank
from jetlib.course.exercises.exercise import Verdict
from jetlib.course.exercises.prediction import POINTS, PredictedChoice, PredictedCurve
from jetlib.screen.controls.fields import ReadField
from jetlib.screen.controls.pieces import button, paragraphs, row
from jetlib.screen.drawing.chart import NARROW, Axis, Series, axes, chart, curve, dot, legend
from jetlib.screen.drawing.picture import Picture
from jetlib.screen.learning.question_card import ChoiceField, NumberField, QuestionCard
from jetlib.units import from_si, text, unit_label
from jetlib.units.entry import amount

_HEIGHT = 300


def prediction(name: str, *, system: str | None = None) -> "PredictionConsole":
    """The PredictionConsole of the prediction with this id, such as "02-double-flow"."""
    console = PredictionConsole(bank.prediction(name), system=system)
    console.box.add_class("course-task")
    return console


class PredictionConsole(QuestionCard):
    """A prediction to commit to. `guesses` holds what was locked, oldest first; `lock` does what the button does.

    Once something is locked the fields are shut and the answer is shown. `again` opens them for a second prediction,
    which is kept beside the first.
    """

    waiting = "Run this page to lock a prediction and see how it comes out."

    def __init__(self, asked, *, system=None, progress=None):
        super().__init__("Predict", asked, system, progress)
        self.prediction = asked
        self._open = not self.guesses
        self.fields = self._fields_for(asked)
        self._lock_button = button("Lock my prediction", self.lock, hint="It cannot be changed afterward")
        self._again_button = button("Predict again", self.again, hint="A second prediction, kept beside the first")
        self._lay_out("course-predict", self.fields.box, self._lock_button, self._again_button)
        self._show()

    def _fields_for(self, asked):
        if isinstance(asked, PredictedCurve):
            return _CurveFields(asked, self)
        if isinstance(asked, PredictedChoice):
            return ChoiceField("Your prediction", asked.shown_options, self.system)
        return NumberField("Your prediction", partial(unit_label, asked.kind), self.system, self.lock)

    @property
    def guesses(self):
        """What was locked, oldest first; what no longer fits the question is left out."""
        held = self.progress.record.guesses(self.prediction.id)
        return tuple(guess for guess in held if self.prediction.holds(guess.value))

    def lock(self, reply=None):
        """Commit what is in the fields, or `reply`. Returns the Guess, or the Verdict that says why it cannot be."""
        if not self._open:
            return Verdict("unreadable", "It is locked.")
        value = self.prediction.read(self.fields.reply() if reply is None else reply, self.system)
        if isinstance(value, Verdict):
            self._say(value.words, value.status)
            return value
        guess = self.progress.commit(self.prediction.id, value)
        self._open = False
        self._show()
        return guess

    def again(self):
        """Open the fields for another prediction."""
        self._open = True
        self._show()
        self._say("Your first prediction stays. This one is kept beside it.")

    def _show(self):
        self._question.value = paragraphs(self.prediction.question(self.system))
        self.fields.show(self.system)
        self.fields.shut(not self._open)
        self._lock_button.disabled = not self._open
        self._again_button.disabled = self._open
        if self.guesses:
            self.box.add_class("course-done")
            self._answer_with("".join(map(paragraphs, self._answers())))
        else:
            self._answer.value = ""
        self._say("" if self._open else f"Locked on {_day(self.guesses[-1].time)}. Here is the answer.")

    def _answers(self):
        """What is said once something is locked: how it compares, what was said before, why it is so."""
        system, (*before, latest) = self.system, self.guesses
        yield self.prediction.compare(latest.value, system)
        for guess in before[:-4:-1]:
            yield f"Before that, on {_day(guess.time)}, you said {self.prediction.said(guess.value, system)}."
        yield self.prediction.reason(system)

    def _worded(self, system):
        asked = self.prediction
        options = asked.shown_options(system) if isinstance(asked, PredictedChoice) else ()
        lines = [f"- {words}" for _, words in options]
        question = asked.question(system)
        page = paragraphs("\n\n".join([question, "\n".join(lines)]).strip())
        if isinstance(asked, PredictedCurve):
            page += curve_picture(asked, [None] * POINTS, (), system).image()
        return [question, *lines], page


def _day(time):
    """A stored time as people write it: 2025-03-01 14:05 UTC."""
    return f"{time[:16].replace('T', ' ')} UTC" if time.endswith("Z") else time


class _CurveFields:
    """The picture of the curve, to be drawn on (page/sketch.js), and a typed entry for each of its points."""

    def __init__(self, asked, console):
        self.asked, self.console = asked, console
        self.points = [None] * POINTS
        self.fields = [
            ReadField("", self._read, partial(self._set, at), system=lambda: console.system, beside=False,
                      width="260px", label_width="150px")
            for at in range(POINTS)
        ]  # fmt: skip
        self.entries = [field.entry for field in self.fields]
        self.picture = widgets.HTML()
        typed = row(*(field.box for field in self.fields))
        typed.add_class("course-typed")
        self.box = widgets.VBox([self.picture, typed])

    def _read(self, typed):
        return amount(typed, self.asked.y[1], self.console.system, low=0.0, high=self.asked.top) if typed else None

    def reply(self):
        return [point if point is not None else "" for point in self.points]

    def show(self, system):
        kind = self.asked.y[1]
        for field, name, point in zip(self.fields, self._names(system), self.points, strict=True):
            field.entry.description = name
            field.entry.placeholder = unit_label(kind, system)
            field.show("" if point is None else text(point, kind, system))
        self._draw()

    def _names(self, system):
        return [f"{self.asked.y[0]} at {text(x, self.asked.x[1], system)}" for x in self.asked.xs]

    def shut(self, shut):
        for field in self.fields:
            field.entry.disabled = shut
        self._draw()

    def _set(self, at, value):
        self.points[at] = value
        self.fields[at].show("" if value is None else text(value, self.asked.y[1], self.console.system))
        self._draw()

    def _draw(self):
        console, drawn = self.console, self.points
        shut = not console._open and console.guesses
        if shut:
            drawn = list(console.guesses[-1].value)
        svg = curve_picture(self.asked, drawn, console.guesses, console.system).svg()
        told = "" if shut else f" data-sketch='{escape(json.dumps(self._sketch(console.system)))}'"
        self.picture.value = f'<div class="course-sketch" style="position:relative"{told}>{svg}</div>'

    def _sketch(self, system):
        """What a hand needs to draw on the picture: its axes in pixels, and where each point may stand."""
        panel, kind = curve_panel(self.asked, system), self.asked.y[1]
        label, most = unit_label(kind, system), float(from_si(self.asked.top, kind, system))
        values = [None if point is None else float(from_si(point, kind, system)) for point in self.points]
        places = [float(panel.x(x)) for x in self.asked.xs]
        return {
            "left": panel.left, "top": panel.top, "width": panel.width, "height": panel.height,
            "axis": panel.y_range[1], "most": most, "unit": label,
            "points": [list(each) for each in zip(places, self._names(system), values, strict=True)],
        }  # fmt: skip


def curve_panel(asked, system):
    """The axes of a PredictedCurve."""
    return axes(system, Axis(*asked.x, asked.xs[-1]), Axis(*asked.y, asked.top), 70, 34, NARROW - 90, 210)


def curve_picture(asked, points, guesses, system):
    """The Picture of a PredictedCurve: the points drawn so far, and once something is locked the answer."""
    panel = curve_panel(asked, system)
    held = [(x, y) for x, y in zip(asked.xs, points, strict=True) if y is not None]
    pieces, names = [], []
    if held:
        names.append(Series("your curve", *np.transpose(held), "orange", "dashed"))
        pieces += [curve(panel, names[-1]), *(dot(panel, *at, colour="orange", shape="square") for at in held)]
    if guesses:
        names.append(Series("the answer", *asked.curve()))
        pieces.append(curve(panel, names[-1]))
    pieces.append(legend(panel, names))
    words = f"{asked.y[0].capitalize()} against {asked.x[0]}. "
    words += f"{len(held)} of {POINTS} points drawn." if not guesses else asked.compare(guesses[-1].value, system)
    return Picture(*chart(panel, NARROW, _HEIGHT, pieces), words)
