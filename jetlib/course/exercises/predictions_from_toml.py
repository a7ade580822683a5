"""Predictions from data/predictions.toml, which says at its head what each field is."""

import math

import numpy as np

from jetlib.course.exercises.draws import Drawing, numbers_of
from jetlib.course.exercises.prediction import PredictedChoice, PredictedCurve, PredictedNumber
from jetlib.course.exercises.words import plain
from jetlib.course.store.checked_row import known, listed, settings, words

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
