"""Exercises and predictions on paper: the question with room to write, and the same question in a key."""

from string import ascii_uppercase

from jetlib.course.exercises.choosing import MultipleChoice, Ordering, SingleChoice
from jetlib.course.exercises.numeric import FillTable, Numeric
from jetlib.course.exercises.prediction import PredictedChoice, PredictedNumber
from jetlib.paper.cards.rig import round_steps
from jetlib.paper.page.style import fill
from jetlib.screen.drawing.chart import Axis, axes
from jetlib.units import from_si, text, unit_label
from jetlib.units.number_text import figures

_LINES = {Numeric: 5, FillTable: 3, SingleChoice: 2, MultipleChoice: 2, Ordering: 2}


def asked(number, variant, system, *, most_lines=5):
    """HTML of a question with room to write."""
    exercise = variant.exercise
    room = fill("room", asked=_prompt(exercise, system), lines=min(_LINES[type(exercise)], most_lines))
    return _set("question", number, variant, system, room)


def keyed(number, variant, system):
    """HTML of a question with its answer, the worked solution and the mistake behind each wrong answer."""
    told = {"answer": right_words(variant, system), "solution": variant.solution(system)}
    return _set("key", number, variant, system, **told, mistakes=mistake_rows(variant, system))


def _set(piece, number, variant, system, room="", **more):
    """HTML of a question as one of the pieces, with its options or its table."""
    exercise, body = variant.exercise, ""
    if isinstance(exercise, FillTable):
        heads = [head for head, _ in exercise.columns]
        body = fill("table", heads=heads, rows=exercise.cells(variant, system), row_heads=False)
    elif not isinstance(exercise, Numeric):
        body = fill("options", options=_lettered(exercise.shown_options(variant, system)))
    question = variant.question(system)
    return fill(piece, number=number, variant=variant, question=question, body=body + room, **more)


def mistake_rows(variant, system):
    """(wrong answer, name of the mistake, what to say) of each mistake of a variant, texts."""
    exercise, variant = variant.exercise, variant.in_system(system)
    return [
        (wrong_words(variant, value, system), mistake.name, exercise.say(mistake.words, variant.parameters, system))
        for mistake, value in variant.wrong
    ]


def right_words(variant, system):
    """The right answer as it would be written on the sheet: with letters where there are letters."""
    variant = variant.in_system(system)
    if isinstance(variant.exercise, FillTable):
        return variant.answer_words(system)
    written = wrong_words(variant, variant.answer, system)
    if isinstance(variant.exercise, SingleChoice | MultipleChoice):
        return f"{written}: {variant.answer_words(system)}"
    return written


def wrong_words(variant, value, system):
    """Any answer of this variant as it would be written on the sheet."""
    exercise = variant.exercise
    if isinstance(exercise, Numeric):
        return text(value, exercise.kind, system, 3)
    if isinstance(exercise, FillTable):
        told = zip(value, variant.answer, exercise.kinds(), strict=True)
        return "; ".join(text(right if each is None else each, kind, system) for each, right, kind in told)
    keys = (key for key, _ in exercise.shown_options(variant, system))
    letters = {key: ascii_uppercase[at] for at, key in enumerate(keys)}
    if isinstance(exercise, SingleChoice):
        return letters[value]
    chosen = [letters[key] for key in value]
    return ", ".join(chosen if isinstance(exercise, Ordering) else sorted(chosen)) or "none"


def guessed(prediction, system):
    """HTML of a prediction with a place for the guess."""
    if isinstance(prediction, PredictedNumber):
        body = fill("room", asked=f"My guess, in {unit_label(prediction.kind, system) or 'a number'}:", lines=0)
    elif isinstance(prediction, PredictedChoice):
        body = fill("options", options=_lettered(prediction.shown_options(system)))
    else:
        body = _blank_axes(prediction, system)
    return fill("guess", prediction=prediction, question=prediction.question(system), body=body)


def _blank_axes(prediction, system):
    """HTML of empty axes for a PredictedCurve, with a dotted line at each of the places where a point is wanted."""
    x = Axis(*prediction.x, prediction.xs[-1], prediction.xs[0], whole=False)
    y = Axis(*prediction.y, prediction.top, whole=False)
    panel = axes(system, x, y, 70, 12, 490, 218)
    across = [(panel.x(at), figures(from_si(at, x.kind, system), 3)) for at in prediction.xs]
    steps = round_steps(prediction.top, y.kind, system, 6)
    up = [(panel.y(at), figures(from_si(at, y.kind, system), 3)) for at in steps]
    return fill("axes", panel=panel, across=across, up=up)


def prediction_rows(predictions, system):
    """(title, answer, why) of each prediction, texts."""
    return [(each.title, each.said(each.right(), system), each.reason(system)) for each in predictions]


def _prompt(exercise, system):
    if isinstance(exercise, Numeric):
        label = unit_label(exercise.kind, system)
        return f"Answer, in {label}:" if label else "Answer:"
    return "Order, by letter:" if isinstance(exercise, Ordering) else ""


def _lettered(options):
    return [(ascii_uppercase[at], words) for at, (_, words) in enumerate(options)]
