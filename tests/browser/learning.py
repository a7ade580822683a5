"""Learning on a page: an exercise answered wrong and right, a prediction locked, and what the page should say then."""

import time
from pathlib import Path

from jetlib.course.banks import registry as bank
from jetlib.course.exercises.numeric import Numeric
from jetlib.course.exercises.prediction import PredictedChoice, PredictedNumber
from jetlib.course.pages.way import tasks
from jetlib.units import text

LESSONS = Path(__file__).parents[2] / "lessons"
PATIENCE = 30.0  # seconds for words to show; they take a tenth of one where the machine is not busy
#: From the keys to the mouse, ms. The page holds back what was typed while the kernel is busy with what went before; a
#: click at the same instant would overtake it, and no hand is so quick.
HAND = 600


def first_exercise(stem):
    """The first exercise on a page that takes a number, or None."""
    named = (bank.exercise(task.id) for task in tasks(stem) if task.kind == "exercise")
    return next((each for each in named if isinstance(each, Numeric)), None)


def first_prediction(stem):
    """The first prediction on a page that is a number or a choice, or None."""
    named = (bank.prediction(task.id) for task in tasks(stem) if task.kind == "prediction")
    return next((each for each in named if isinstance(each, PredictedNumber | PredictedChoice)), None)


def card(book, title):
    """The live card with this heading."""
    return book.consoles().filter(has=book.page.get_by_text(title, exact=True)).first


def practise(book, exercise):
    """Answer an exercise wrong by a mistake it knows, then with a unit that does not fit, then right."""
    variant, box = exercise.variant(1), card(book, f"Practice: {exercise.title}")
    _, wrong = variant.wrong_replies("US")[0]
    right = variant.right_reply("US")
    answer(box, wrong)
    said = waited(box, variant.check(wrong, "US").words)
    assert right not in said, "the answer is not given away"
    answer(box, right)
    waited(box, variant.check(right, "US").words)


def answer(box, reply):
    """Type a reply and check it."""
    entry = box.locator("input[type=text]").first
    entry.scroll_into_view_if_needed()
    entry.fill(reply)
    box.page.wait_for_timeout(HAND)
    box.get_by_role("button", name="Check").click()


def predict(book, asked):
    """Lock a prediction; the answer and the reason stand beside it then, and not before."""
    box = card(book, f"Predict: {asked.title}")
    reason = one_line(asked.reason("US"))
    assert reason not in one_line(box.inner_text()), "the reason is shown before anything is predicted"
    if isinstance(asked, PredictedChoice):
        box.locator("input[type=radio]").first.check()
        value = asked.options[0][0]
    else:
        typed = text(0.7 * asked.right(), asked.kind, "US")
        box.locator("input[type=text]").first.fill(typed)
        value = asked.read(typed)
    box.page.wait_for_timeout(HAND)
    box.get_by_role("button", name="Lock my prediction").click()
    waited(box, asked.compare(value, "US"), reason)


def waited(box, *wanted):
    """What a card says once all that is wanted stands on it."""
    until = time.monotonic() + PATIENCE
    while True:
        said = one_line(box.inner_text())
        if all(one_line(each) in said for each in wanted):
            return said
        assert time.monotonic() < until, f"not said: {wanted}; said: {said[-600:]}"
        time.sleep(0.05)


def one_line(words):
    """Words as they are compared: spaces evened out."""
    return " ".join(words.split())
