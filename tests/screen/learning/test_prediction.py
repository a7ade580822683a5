"""Predictions on the page: nothing seen before it is locked, nothing changed after."""

import json
import re
from html import escape, unescape

import ipywidgets as widgets
import pytest

from jetlib.course.banks import registry as bank
from jetlib.course.exercises.exercise import Verdict
from jetlib.course.exercises.prediction import PredictedCurve
from jetlib.course.progress.progress import Progress
from jetlib.screen.learning.prediction import PredictionConsole, prediction
from jetlib.units import SYSTEMS

VIEW = "application/vnd.jupyter.widget-view+json"
PSI = ("100 psi", "500 psi", "1000 psi", "1500 psi", "2000 psi")
each_prediction = pytest.mark.parametrize("asked", bank.all_predictions(), ids=lambda asked: asked.id)


@pytest.fixture(autouse=True)
def nobodys_home(monkeypatch, tmp_path):
    """Tests never look at the progress of whoever runs them."""
    monkeypatch.setenv("JETLIB_HOME", str(tmp_path / "home"))


@pytest.fixture
def progress(tmp_path):
    return Progress(tmp_path / "learner")


def everything(box):
    yield box
    for child in getattr(box, "children", ()):
        yield from everything(child)


def of_kind(console, kind):
    return [widget for widget in everything(console.box) if isinstance(widget, kind)]


def press(console, words):
    (found,) = [each for each in of_kind(console, widgets.Button) if each.description.startswith(words)]
    assert not found.disabled
    found.click()


def page(console):
    return " ".join(each.value for each in of_kind(console, widgets.HTML))


def reply_of(asked):
    """The answer itself, as a reply."""
    right = asked.right()
    return list(right) if isinstance(right, tuple) else right if isinstance(right, str) else asked.said(right, "US")


@each_prediction
def test_the_answer_is_nowhere_until_something_is_locked(asked, progress):
    console = PredictionConsole(asked, progress=progress)
    stored = console._repr_mimebundle_()
    assert set(stored) == {"text/plain", "text/html", VIEW}
    for system in SYSTEMS:
        console.use_units(system)
        seen = page(console) + stored["text/plain"] + stored["text/html"]
        assert escape(asked.reason(system).split("\n")[0]) not in seen
        assert asked.compare(asked.right(), system) not in seen
        assert "the answer" not in seen
    console.use_units("US")
    console.lock(reply_of(asked))
    assert "Locked on" in page(console)
    assert escape(asked.reason("US").split("\n")[0]) in page(console)
    assert len(console.guesses) == 1


@each_prediction
def test_what_is_stored_does_not_depend_on_the_learner(asked, progress):
    before = PredictionConsole(asked, progress=progress)._repr_mimebundle_()
    PredictionConsole(asked, progress=progress).lock(reply_of(asked))
    after = PredictionConsole(asked, progress=progress)
    assert after._answer.value, "what was locked before shows in the live controls"
    again = after._repr_mimebundle_()
    assert (again["text/plain"], again["text/html"]) == (before["text/plain"], before["text/html"])


@each_prediction
def test_it_is_locked_and_a_second_one_stands_beside_the_first(asked, progress):
    console = PredictionConsole(asked, progress=progress)
    first = console.lock(reply_of(asked))
    refused = console.lock(reply_of(asked))
    assert (refused.status, refused.words) == ("unreadable", "It is locked.")
    fields = [each for each in everything(console.fields.box) if hasattr(each, "disabled")]
    assert all(field.disabled for field in fields)
    press(console, "Predict again")
    assert not any(field.disabled for field in fields)
    console.lock(reply_of(asked))
    held = Progress(progress.path.parent).record.guesses(asked.id)
    assert len(held) == 2
    assert held[0].key == first.key
    assert held[0].time.endswith("Z")
    assert "Before that, on 2" in page(console)


@each_prediction
def test_nothing_is_committed_by_an_empty_or_unreadable_reply(asked, progress):
    console = PredictionConsole(asked, progress=progress)
    press(console, "Lock")
    for junk in ("abc", "1e999", "-3 gpm", "NaN psi", "5 candela", "9" * 10_000, [], ["x"] * 5):
        found = console.lock(junk)
        if isinstance(found, Verdict):
            assert found.words
        else:
            pytest.fail(f"{junk!r:.40} was taken for a prediction")
    assert console.guesses == ()


def test_a_number_typed_and_locked(progress):
    console = PredictionConsole(bank.prediction("02-double-flow"), progress=progress)
    of_kind(console, widgets.Text)[0].value = "2000 psi"
    press(console, "Lock")
    assert "You said 2000 psi; it is 2800 psi: about a quarter low." in page(console)
    console.use_units("metric")
    assert "You said 138 bar; it is 193 bar: about a quarter low." in page(console)


def test_a_choice_made_and_locked(progress):
    console = PredictionConsole(bank.prediction("02-half-the-bore"), progress=progress)
    of_kind(console, widgets.RadioButtons)[0].value = "8"
    press(console, "Lock")
    assert "The answer: 16, four times as many." in page(console)


def test_a_curve_typed_and_locked(progress):
    console = PredictionConsole(bank.prediction("02-gauge-curve"), progress=progress)
    entries = of_kind(console, widgets.Text)
    assert not of_kind(console, widgets.IntSlider), "a curve is drawn on its graph"
    assert [each.description for each in entries] == [f"gauge reading at {flow} gpm" for flow in (2, 4, 6, 8, 10)]
    assert "0 of 5 points drawn" in page(console)
    for field, typed in zip(entries[:4], PSI, strict=False):
        field.value = typed
    assert "4 of 5 points drawn" in page(console)
    press(console, "Lock")
    assert "1 of 5 points still to set" in page(console)
    entries[4].value = "2000 psi"
    entries[0].value = "9000 psi"
    assert "too much here" in page(console) and entries[0].value == "9000 psi"
    entries[0].value = "150 psi"
    assert "too much here" not in page(console)
    console.use_units("metric")
    assert entries[4].value == "138 bar"
    console.use_units("US")
    press(console, "Lock")
    assert "At 10 gpm you drew 2000 psi; it is 2900 psi: about a third low." in page(console)
    assert "the answer" in page(console)
    assert "your curve" in page(console)
    assert [round(value / 6894.757) for value in console.guesses[0].value] == [150, 500, 1000, 1500, 2000]


def sketch(console):
    """What the page is told of the graph to be drawn on; None once it is locked."""
    found = re.search(r"data-sketch='([^']+)'", console.fields.picture.value)
    return found and json.loads(unescape(found[1]))


def test_the_graph_can_be_drawn_on_until_it_is_locked(progress):
    console = PredictionConsole(bank.prediction("02-gauge-curve"), progress=progress)
    of_kind(console, widgets.Text)[1].value = "1000 psi"
    told = sketch(console)
    assert told["unit"] == "psi" and told["most"] <= told["axis"]
    assert [name for _, name, _ in told["points"]] == [each.description for each in of_kind(console, widgets.Text)]
    assert [value for *_, value in told["points"]] == [None, pytest.approx(1000.0), None, None, None]
    picture = console.fields.picture.value
    dot = re.search(r'<rect class="jl-ink-orange" x="([\d.]+)" y="([\d.]+)"', picture)
    x, y = float(dot[1]) + 5.0, float(dot[2]) + 5.0
    assert told["points"][1][0] == pytest.approx(x, abs=0.1), "the hand and the picture have the same axes"
    assert told["top"] + told["height"] * (1 - 1000.0 / told["axis"]) == pytest.approx(y, abs=0.1)
    console.lock(list(PSI))
    assert sketch(console) is None


def test_a_curve_locked_before_is_drawn_again(progress):
    asked = bank.prediction("02-gauge-curve")
    assert isinstance(asked, PredictedCurve)
    PredictionConsole(asked, progress=progress).lock(list(PSI))
    later = PredictionConsole(asked, progress=progress)
    assert "your curve" in later.fields.picture.value
    assert "the answer" in later.fields.picture.value


def test_a_stranger_in_the_progress_file_is_no_prediction(progress):
    progress.commit("02-half-the-bore", "999")
    assert prediction("02-half-the-bore").prediction.id == "02-half-the-bore"
    assert PredictionConsole(bank.prediction("02-half-the-bore"), progress=progress).guesses == ()
