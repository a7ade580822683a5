"""Predictions: what can be committed, and the difference in words."""

import pytest

from jetlib.course.banks import registry as bank
from jetlib.course.exercises.exercise import Verdict
from jetlib.course.exercises.prediction import PredictedChoice, PredictedCurve, PredictedNumber, difference
from jetlib.errors import JetlibError
from jetlib.units import SYSTEMS, to_si

JUNK = (
    "", "abc", "12", "1e999", "-3 gpm", "NaN psi", "5 furlong", "9" * 10_000, "__import__('os')", None, True,
    float("nan"), [], ["", "", "", "", ""], [None] * 5, ["12"] * 5, [1e99] * 5, [float("nan")] * 5, {}, object(),
)  # fmt: skip
each_prediction = pytest.mark.parametrize("asked", bank.all_predictions(), ids=lambda asked: asked.id)


@pytest.mark.parametrize(
    ("said", "right", "words"),
    [
        (2000, 3120, "about a third low"),
        (3100, 3120, "as close as a prediction gets"),
        (3300, 3120, "close, about 6 % high"),
        (2800, 3120, "about 10 % low"),
        (2500, 3120, "about 20 % low"),
        (2340, 3120, "about a quarter low"),
        (1560, 3120, "about half low"),
        (1040, 3120, "about two thirds low"),
        (780, 3120, "about three quarters low"),
        (100, 3120, "far too low, about 1/31 of it"),
        (1, 3120, "far too low, less than a hundredth of it"),
        (4160, 3120, "about a third high"),
        (6240, 3120, "about double"),
        (9360, 3120, "about 3 times too high"),
        (1e6, 3120, "far too high, more than a hundred times"),
        (-5, 3120, "in the opposite direction"),
        (0, 3120, "far too low, less than a hundredth of it"),
        (0, 0, "the same"),
        (5, 0, "it should be zero"),
    ],
)
def test_how_far_off_in_words(said, right, words):
    assert difference(said, right) == words


def number():
    return PredictedNumber(
        id="90-number", title="t", ask="From {low}?", because="So.", parameters={"low": to_si(780, "pressure", "US")},
        shown={"low": "pressure"}, kind="pressure", answer=lambda p: 4.0 * p["low"],
    )  # fmt: skip


def test_a_number():
    asked = number()
    assert asked.question("US") == "From 780 psi?"
    value = asked.read("2000 psi")
    assert asked.compare(value, "US") == "You said 2000 psi; it is 3120 psi: about a third low."
    assert asked.compare(value, "metric") == "You said 138 bar; it is 215 bar: about a third low."
    assert asked.read("2000", "US") == pytest.approx(2000 * 6894.757)  # psi, NIST SP 811
    assert asked.read("138", "metric") == pytest.approx(138e5)
    assert asked.read("20 gpm").status == "wrong kind"


def test_a_choice():
    asked = PredictedChoice(
        id="90-choice", title="t", ask="?", because="So.", options=(("up", "it rises"), ("down", "it falls")),
        answer=lambda p: "up",
    )  # fmt: skip
    assert asked.read("down") == "down"
    assert asked.compare("down", "US") == "You said: It falls. The answer: It rises."
    assert asked.compare("up", "US") == "You said: It rises. Right."
    assert asked.read("sideways").status == "unreadable"
    with pytest.raises(JetlibError, match="no option"):
        PredictedChoice(id="90-x", title="", ask="", because="", options=(("up", ""),), answer=lambda p: "down").right()


def curve(answer):
    return PredictedCurve(
        id="90-curve", title="t", ask="?", because="So.", x=("share", "ratio"), y=("height", "ratio"),
        xs=(0.0, 1.0, 2.0, 3.0, 4.0), top=20.0, answer=answer,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("drawn", "words"),
    [
        ((0, 1, 4, 9, 16), "The shape is right: a line that gets steeper."),
        ((0, 4, 8, 12, 16), "You drew a straight line; it is a line that gets steeper."),
        ((0, 8, 12, 15, 16), "You drew a line that levels off; it is a line that gets steeper."),
        ((0, 9, 4, 12, 16), "You drew a line that bends more than one way; it is a line that gets steeper."),
        ((5, 5, 5, 5, 5), "You drew a straight line; it is a line that gets steeper."),
    ],
)
def test_the_shape_of_a_curve_in_words(drawn, words):
    asked = curve(lambda p, x: x**2)
    value = asked.read(list(drawn))
    assert value == tuple(map(float, drawn))
    assert asked.compare(value, "US").endswith(words)


@pytest.mark.parametrize(
    ("drawn", "words"),
    [
        ((16, 9, 4, 1, 0), "The shape is right: a line that levels off."),
        ((16, 15, 12, 7, 0), "You drew a line that gets steeper; it is a line that levels off."),
    ],
)
def test_the_shape_of_a_falling_curve(drawn, words):
    asked = curve(lambda p, x: (4.0 - x) ** 2)
    assert asked.compare(asked.read(list(drawn)), "US").endswith(words)


def test_a_curve_point_by_point():
    asked = curve(lambda p, x: x**2)
    assert asked.right() == (0.0, 1.0, 4.0, 9.0, 16.0)
    assert asked.compare((0.0, 2.0, 4.0, 9.0, 8.0), "US").startswith(
        "At 2 you drew 4; it is 4: as close as a prediction gets. At 4 you drew 8; it is 16: about half low."
    )
    assert asked.read(["0", "1", "", "9", None]).words == "2 of 5 points still to set; a guess will do."
    assert asked.read(["0", "1", "4", "9", "21"]).status == "unreadable"
    with pytest.raises(JetlibError, match="write 5"):
        PredictedCurve(
            id="90-c", title="", ask="", because="", x=("", "ratio"), y=("", "ratio"), xs=(1, 2), top=1, answer=abs
        )


@each_prediction
def test_junk_is_never_committed(asked):
    for reply in JUNK:
        found = asked.read(reply)
        if not isinstance(found, Verdict):
            assert asked.holds(list(found) if isinstance(found, tuple) else found)
            assert reply not in ("", None)
        else:
            assert found.words
            assert len(found.words) < 300


@each_prediction
def test_each_prediction_of_the_course_has_an_answer_that_could_be_given(asked):
    right = asked.right()
    assert asked.holds(right)
    for system in SYSTEMS:
        assert asked.question(system).strip()
        assert asked.reason(system).strip()
        assert "{" not in asked.question(system) + asked.reason(system)
        words = asked.compare(right, system)
        assert "Right." in words or "as close as a prediction gets" in words or "the same" in words


@each_prediction
def test_the_question_does_not_tell_the_answer(asked):
    if isinstance(asked, PredictedNumber):
        for system in SYSTEMS:
            assert asked.said(asked.right(), system) not in asked.question(system)
    elif isinstance(asked, PredictedCurve):
        assert asked.top >= 1.1 * max(asked.right()), "the top of the picture gives the end away"
    else:
        assert len(asked.options) >= 2


def test_what_no_longer_fits_a_question_is_not_held():
    asked = bank.prediction("02-half-the-bore")
    for stranger in ("12", 4, None, [], ["4"]):
        assert not asked.holds(stranger)
    assert not bank.prediction("02-gauge-curve").holds([0.0] * 4)
    assert not bank.prediction("02-double-flow").holds("1")
