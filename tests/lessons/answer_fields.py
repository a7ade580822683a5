"""Runs inside a lesson's kernel: answers every exercise and prediction on the page through its own fields.

Each exercise is answered right, wrong by every mistake it knows, and with junk, in both unit systems; each prediction
is locked blank, with junk and in earnest, and predicted again. What was not said or kept as it should be is put down.
"""

import json

import ipywidgets as widgets

from jetlib.course.exercises.exercise import Verdict
from jetlib.course.exercises.prediction import PredictedChoice, PredictedCurve
from jetlib.screen.controls.units_choice import UnitsChoice
from jetlib.screen.learning.practice import PracticeConsole
from jetlib.screen.learning.prediction import PredictionConsole
from jetlib.units import SYSTEMS, text

JUNK = ("", "abc", "12", "1e999", "-3 gpm", "NaN psi", "5 furlong", "__import__('os')", "<b>bold</b>", "x" * 10_000)


def answered():
    """A dict: the exercises and predictions met, in order, and what went wrong."""
    report = {"exercises": [], "predictions": [], "errors": []}
    consoles = _shown()
    for console in consoles:
        names = report["exercises" if isinstance(console, PracticeConsole) else "predictions"]
        names.append(_id(console))
    for system in reversed(SYSTEMS):  # the page's one switch is pressed twice; the last is the system of the rest
        for console in _in_units(system, consoles, report):
            _tried(report, console, lambda: _practise(console, system))  # noqa: B023 (it is called at once)
    for console in consoles:
        _tried(report, console, lambda: _rest(console) if isinstance(console, PracticeConsole) else _predict(console))  # noqa: B023
    return report


def _tried(report, console, part):
    try:
        part()
    except Exception as error:
        report["errors"].append(f"{_id(console)}: {type(error).__name__}: {str(error)[:300]}")


def _id(console):
    return (console.exercise if isinstance(console, PracticeConsole) else console.prediction).id


def _shown():
    """The practice and prediction consoles that cells have shown, in order."""
    kinds = (PracticeConsole, PredictionConsole)
    return [out for _, out in sorted(Out.items()) if isinstance(out, kinds)]  # noqa: F821


def _practise(console, system):
    for junk in JUNK if _of(console, widgets.Text) else ():
        _fill(console, [junk] * len(_of(console, widgets.Text)))
        _press(console, "Check")
        _expect(console.verdict.status != "right" and console.verdict.words, f"{junk[:20]!r} got no fit verdict")
    for mistake, reply in console.variant.wrong_replies(system):
        _fill(console, reply)
        _press(console, "Check")
        _expect(console.verdict.mistake == mistake.name, f"{mistake.name} in {system} units is not recognised")
        _expect("✘" in _page(console), f"{mistake.name} is not marked on the page")
    _fill(console, console.variant.right_reply(system))
    _press(console, "Check")
    _expect(console.verdict.status == "right", f"the right answer in {system} units is not right")
    _expect("✔ Right" in _page(console), "right is not said on the page")


def _rest(console):
    for words, needed in (("Hint", "Hint 1:"), ("Hint", "Hint 2:"), ("Worked solution", "Worked solution")):
        _press(console, words)
        _expect(needed in _page(console), f"{words} shows nothing")
    before = console.variant.seed
    _press(console, "New variant")
    _expect(console.variant.seed != before and console.verdict is None, "the new variant is the old one")
    _press(console, "Check")
    _expect(console.verdict.status == "not attempted", "fields of a new variant are not empty")
    _fill(console, console.variant.right_reply(console.system))
    _press(console, "Check")
    _expect(console.verdict.status == "right", "the right answer to a new variant is not right")


def _predict(console):
    asked = console.prediction
    _press(console, "Lock")
    _expect(not console.guesses, "a blank prediction was locked")
    for junk in JUNK if _of(console, widgets.Text) else ():
        if junk == "12" or (not isinstance(asked, PredictedCurve) and not isinstance(asked.read(junk), Verdict)):
            continue  # five furlongs are a length, and a bare 12 is in the units of the page
        for field in _of(console, widgets.Text):
            _send(field, value=junk)
        _press(console, "Lock")
        _expect(not console.guesses, f"{junk[:20]!r} was locked")
    for times in (1, 2):
        _guess(console, asked, times)
        _press(console, "Lock")
        _expect(len(console.guesses) == times, f"prediction {times} was not locked")
        _press(console, "Lock")
        _expect(len(console.guesses) == times, "a locked prediction was locked once more")
        for system in (*SYSTEMS, SYSTEMS[0]):
            console.use_units(system)
            reason = asked.reason(system)[:40].split("'")[0]
            _expect(reason in _page(console), "the answer is not shown beside the prediction")
        first = console.guesses[0]
        _press(console, "Predict again")
    _expect(console.guesses[0] == first, "the first prediction did not stay as it was")


def _guess(console, asked, times):
    """Put a prediction into the fields, another one each time."""
    right = asked.right()
    if isinstance(asked, PredictedChoice):
        _send(_of(console, widgets.RadioButtons)[0], index=times % len(asked.options))
    elif isinstance(asked, PredictedCurve):
        for at, (field, value) in enumerate(zip(_of(console, widgets.Text), right, strict=True)):
            _send(field, value=text(value * (1.0 - 0.1 * (at + times) / len(right)), asked.y[1], console.system))
    else:
        _send(_of(console, widgets.Text)[0], value=text(right / (1.0 + 0.4 * times), asked.kind, console.system))


def _fill(console, reply):
    """Put a reply into the fields as the page would."""
    texts, radios, lists = (_of(console, kind) for kind in (widgets.Text, widgets.RadioButtons, widgets.Dropdown))
    if texts:
        for field, typed in zip(texts, [reply] if isinstance(reply, str) else reply, strict=True):
            _send(field, value=typed)
        return
    if radios:
        _send(radios[0], index=[key for _, key in radios[0].options].index(reply))
        return
    if lists:
        for field in lists:
            _send(field, index=0)
        for field, key in zip(lists, reply, strict=True):
            _send(field, index=[each for _, each in field.options].index(key))
        return
    keys = [key for key, _ in console.exercise.shown_options(console.variant, console.system)]
    for key, tick in zip(keys, _of(console, widgets.Checkbox), strict=True):
        _send(tick, value=key in reply)


def _in_units(system, consoles, report):
    """The exercises among the consoles, once the page's one switch has been pressed: all consoles follow."""
    switch = next((out for out in Out.values() if isinstance(out, UnitsChoice)), None) or UnitsChoice()  # noqa: F821
    _send(switch.box, index=list(SYSTEMS).index(system))
    for console in consoles:
        _tried(report, console, lambda: _expect(console.system == system, f"it does not follow to {system} units"))  # noqa: B023
    return [console for console in consoles if isinstance(console, PracticeConsole)]


def _send(widget, **state):
    widget.set_state(state)


def _press(console, words):
    (found,) = [each for each in _of(console, widgets.Button) if each.description.startswith(words)]
    found._handle_custom_msg({"event": "click"}, [])


def _of(console, kind):
    def everything(box):
        yield box
        for child in getattr(box, "children", ()):
            yield from everything(child)

    return [widget for widget in everything(console.box) if isinstance(widget, kind)]


def _page(console):
    return " ".join(each.value for each in _of(console, widgets.HTML))


def _expect(held, words):
    if not held:
        raise AssertionError(words)


print("ANSWERED " + json.dumps(answered()))
