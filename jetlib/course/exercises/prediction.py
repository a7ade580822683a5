"""A prediction: what the reader commits to before the answer is shown, and the difference in words afterwards.

Once committed it stands as it is, with its time. Changing one's mind is a second commitment beside the first.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

import numpy as np

from jetlib.course.exercises.choosing import read_keys
from jetlib.course.exercises.draws import Drawing, numbers_of
from jetlib.course.exercises.exercise import ID, Verdict, is_number
from jetlib.course.exercises.numeric import read_number
from jetlib.course.exercises.words import as_said, plain, sentence, worded
from jetlib.course.store.checked_row import known, listed, settings, words
from jetlib.errors import JetlibError
from jetlib.units import text
from jetlib.units.kinds import KINDS

POINTS = 5  # that a sketched curve is drawn through


@dataclass(frozen=True, kw_only=True)
class _Prediction:
    """What all predictions have.

    id: lesson and a short name, "02-double-flow". parameters: the numbers of the question, a dict of SI values; shown:
    their kinds. ask and because: words as in an exercise; `because` says why, and is read beside the answer.
    """

    id: str
    title: str
    ask: str | Callable
    answer: Callable
    because: str | Callable
    parameters: Mapping = field(default_factory=dict)
    shown: Mapping = field(default_factory=dict)

    def __post_init__(self):
        if not ID.fullmatch(self.id):
            raise JetlibError(f'id is {self.id!r}; write the lesson and a short name, such as "02-double-flow"')

    @property
    def lesson(self):
        """The number of the lesson, as text."""
        return self.id[:2]

    def question(self, system):
        """The question as text."""
        return worded(self.ask, as_said(self.parameters, self.shown, system), self.shown, system)

    def reason(self, system):
        """Why the answer is what it is."""
        return worded(self.because, as_said(self.parameters, self.shown, system), self.shown, system)


@dataclass(frozen=True, kw_only=True)
class PredictedNumber(_Prediction):
    """A number with a unit of `kind`; answer(parameters) gives it in SI."""

    kind: str

    def read(self, reply, system="US"):
        """The reply in SI, or the Verdict that says why it cannot be used."""
        return read_number(reply, self.kind, system)

    def right(self):
        """The answer in SI."""
        return float(self.answer(self.parameters))

    def holds(self, value):
        """Whether a stored value can be one of this prediction."""
        known = KINDS[self.kind]
        return is_number(value) and (known.low <= value <= known.high or (known.zero and value == 0))

    def said(self, value, system):
        """A committed value in words."""
        return text(value, self.kind, system, 3)

    def compare(self, value, system):
        """What was said beside what is: "You said 2000 psi; it is 3120 psi: about a third low."."""
        right = self.right()
        return f"You said {self.said(value, system)}; it is {self.said(right, system)}: {difference(value, right)}."


@dataclass(frozen=True, kw_only=True)
class PredictedChoice(_Prediction):
    """One of `options`, (key, words) pairs; answer(parameters) gives its key."""

    options: tuple

    def shown_options(self, system):
        """(key, text) pairs."""
        return tuple((key, worded(words, self.parameters, self.shown, system)) for key, words in self.options)

    def read(self, reply, system="US"):
        keys = read_keys(reply, tuple(key for key, _ in self.options))
        if keys == ():
            return Verdict("not attempted", "Nothing chosen yet. Choose one; a guess will do.")
        if keys is None or len(keys) != 1:
            return Verdict("unreadable", "That is not one of the choices. Choose one of those shown.")
        return keys[0]

    def right(self):
        """The key of the answer."""
        key = str(self.answer(self.parameters))
        if key not in dict(self.options):
            raise JetlibError(f"{self.id}: {key!r} is no option; options are {', '.join(dict(self.options))}")
        return key

    def holds(self, value):
        return isinstance(value, str) and value in dict(self.options)

    def said(self, value, system):
        return dict(self.shown_options(system))[value]

    def compare(self, value, system):
        right = self.right()
        words = dict(self.shown_options(system))
        if value == right:
            return f"You said: {sentence(words[value])} Right."
        return f"You said: {sentence(words[value])} The answer: {sentence(words[right])}"


@dataclass(frozen=True, kw_only=True)
class PredictedCurve(_Prediction):
    """A curve through five points. x, y: (heading, kind); xs: the five places in SI; top: the highest y that can be
    drawn, in SI (the lowest is 0). answer(parameters, x): y in SI, for one x or an array.
    """

    x: tuple
    y: tuple
    xs: tuple
    top: float

    def __post_init__(self):
        super().__post_init__()
        if len(self.xs) != POINTS or list(self.xs) != sorted(set(self.xs)):
            raise JetlibError(f"{self.id}: xs are {len(self.xs)} places; write {POINTS}, rising")

    def read(self, reply, system="US"):
        if reply is None or (isinstance(reply, str) and not reply.strip()):
            return Verdict("not attempted", f"Nothing drawn yet. Set the {POINTS} points; a guess will do.")
        if not isinstance(reply, list | tuple) or len(reply) != POINTS:
            return Verdict("unreadable", f"Give the curve at its {POINTS} points.")
        values = [self.read_point(each, system) for each in reply]
        refused = [value for value in values if isinstance(value, Verdict)]
        if any(value.status == "not attempted" for value in refused):
            return Verdict("not attempted", f"{len(refused)} of {POINTS} points still to set; a guess will do.")
        return refused[0] if refused else tuple(values)

    def read_point(self, typed, system="US"):
        """One point in SI, from text or an SI number, or the Verdict that says why not."""
        value = float(typed) if is_number(typed) else read_number(typed, self.y[1], system)
        if isinstance(value, Verdict) or self._inside(value):
            return value
        return Verdict("unreadable", "That is outside the picture. Keep the point inside.")

    def right(self):
        """The answer at the five places, a tuple in SI."""
        return tuple(float(self.answer(self.parameters, x)) for x in self.xs)

    def curve(self, count=61):
        """The answer as arrays x, y of `count` points, SI."""
        xs = np.linspace(self.xs[0], self.xs[-1], count)
        return xs, np.broadcast_to(np.asarray(self.answer(self.parameters, xs), dtype=float), xs.shape)

    def holds(self, value):
        fits = isinstance(value, list | tuple) and len(value) == POINTS
        return fits and all(is_number(each) and self._inside(each) for each in value)

    def _inside(self, value):
        return -1e-9 * self.top <= value <= (1.0 + 1e-9) * self.top

    def said(self, value, system):
        return ", ".join(f"{y} at {x}" for x, y in self._points(value, system))

    def _points(self, value, system):
        """(x, y) of the five points, in words."""
        for x, y in zip(self.xs, value, strict=True):
            yield text(x, self.x[1], system, 3), text(y, self.y[1], system, 3)

    def compare(self, value, system):
        right = self.right()
        drawn, real = (list(self._points(each, system)) for each in (value, right))
        parts = []
        for at in (POINTS // 2, POINTS - 1):
            off = difference(value[at], right[at], self.top)
            parts.append(f"At {drawn[at][0]} you drew {drawn[at][1]}; it is {real[at][1]}: {off}.")
        drawn_shape, shape = (_BENDS[_bend(self.xs, each, self.top)] for each in (value, right))
        so = f"The shape is right: {shape}." if drawn_shape == shape else f"You drew {drawn_shape}; it is {shape}."
        return " ".join([*parts, so])


_BENDS = {
    "straight": "a straight line",
    "up": "a line that gets steeper",
    "down": "a line that levels off",
    "bent": "a line that bends more than one way",
}


def _bend(xs, ys, top):
    """Which way a curve through the points bends: a key of _BENDS."""
    xs, ys = np.asarray(xs, dtype=float), np.asarray(ys, dtype=float)
    chord = ys[0] + (ys[-1] - ys[0]) * (xs - xs[0]) / (xs[-1] - xs[0])
    off = (ys - chord)[1:-1] * (-1.0 if ys[-1] < ys[0] else 1.0)  # a falling curve under its chord levels off
    slight = 0.04 * max(np.ptp(ys), 0.1 * top)
    if np.all(np.abs(off) <= slight):
        return "straight"
    if np.all(off <= slight):
        return "up"
    return "down" if np.all(off >= -slight) else "bent"


_FRACTIONS = (
    (0.15, "about 10 %"),
    (0.225, "about 20 %"),
    (0.29, "about a quarter"),
    (0.42, "about a third"),
    (0.58, "about half"),
    (0.7, "about two thirds"),
    (0.85, "about three quarters"),
)


def difference(said, right, full=None):
    """How far `said` is from `right`, in words: "about a third low", "more than twice as much".

    full: what counts as large where `right` is zero.
    """
    if right == 0:
        return "the same" if abs(said) <= 0.02 * (full or 0.0) else "it should be zero"
    ratio = said / right
    off, way = abs(ratio - 1.0), "low" if ratio < 1 else "high"
    if off <= 0.03:
        return "as close as a prediction gets"
    if ratio < 0:
        return "in the opposite direction"
    if off <= 0.075:
        return f"close, about {off * 100:.0f} % {way}"
    fraction = next((words for limit, words in _FRACTIONS if off <= limit), None)
    if fraction and ratio <= 1.7:
        return f"{fraction} {way}"
    if ratio < 1:
        return f"far too low, {'less than a hundredth' if ratio < 0.01 else f'about 1/{1.0 / ratio:.0f}'} of it"
    if ratio <= 2.25:
        return "about double"
    return f"about {ratio:.0f} times too high" if ratio < 100 else "far too high, more than a hundred times"


# --- from data/predictions.toml, which says at its head what each field is ----------------------------

_FIELDS = ("title", "ask", "because", "answer", "given", "kind", "options", "at", "x", "y", "xs", "top")


def prediction_from(id, row, name):
    """The prediction of a table of a TOML file of this name. Raises JetlibError that says which field to fix."""
    where = f"{name}, {id}"
    known(row, _FIELDS, where)
    drawing = Drawing(row, where)
    common = {
        "id": id,
        **{field: plain(words(row, field, where, needed=True)) for field in ("title", "ask", "because")},
        "parameters": drawing.given({}),
        "shown": drawing.shown,
    }
    if "options" in row:
        return _choice(row, common, drawing, where)
    if "x" in row:
        return _curve(row, common, drawing, where)
    kind = words(row, "kind", where, needed=True)
    return PredictedNumber(**common, kind=kind, answer=_answer(row, drawing, where, kind))


def _answer(row, drawing, where, kind=""):
    """The answer as a function of the parameters: a formula, or a table as in `given`."""
    entry = row.get("answer")
    entry = dict(entry) if isinstance(entry, dict) else {"is": entry}
    value = drawing.entry("answer", entry | ({"kind": kind} if kind else {}), f"{where}, answer", "given")
    return lambda p: value(None, p)["answer"]


def _choice(row, common, drawing, where):
    options = tuple((key, plain(each)) for key, each in settings(row, "options", where).items())
    found, at = _answer(row, drawing, where), settings(row, "at", where)

    def answer(p):
        value = found(p)
        if at:
            return min(at, key=lambda key: abs(math.log(at[key] / value)))
        return value if isinstance(value, str) else f"{value:g}"

    return PredictedChoice(**common, options=options, answer=answer)


def _curve(row, common, drawing, where):
    x, y = (listed(row, name, where) for name in ("x", "y"))
    drawing.kinds["x"] = x[1]
    drawing.names.add("x")
    value = _answer(row, drawing, where, y[1])
    answer = np.vectorize(lambda p, at: value({**p, "x": float(at)}), otypes=[float], excluded=[0])
    return PredictedCurve(
        **common, x=x, y=y, xs=numbers_of(row, "xs", x[1], where),
        top=numbers_of({"top": [row.get("top")]}, "top", y[1], where)[0], answer=answer,
    )  # fmt: skip
