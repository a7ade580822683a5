"""Learning on the page: an exercise answered wrong and right, a prediction locked, and all of it still there after a
kernel has died."""

import pytest

from jetlib.course import bank

pytestmark = [pytest.mark.browser, pytest.mark.filterwarnings("default")]


def card(book, title):
    """The live console with this heading."""
    return book.consoles().filter(has_text=title).first


def said(console):
    return " ".join(console.locator("[role=status]").all_inner_texts())


def answer(book, console, reply):
    entry = console.locator("input[type=text]").first
    entry.fill(reply)
    console.get_by_role("button", name="Check").click()
    book.page.wait_for_timeout(500)


def restart_kernel(book):
    """Kill the kernel under the page, as a crash would, and run the lesson again."""
    book.page.evaluate("() => window.jupyterapp.shell.currentWidget.sessionContext.session.kernel.restart()")
    book.page.wait_for_timeout(1500)
    book.course.wait_until_idle(book.stem)
    book.run_all()


def test_exercise_and_prediction_are_kept_when_the_kernel_dies(open_notebook):
    exercise = bank.exercise("02-areas-add")
    variant = exercise.variant(1)
    asked = bank.prediction("02-double-flow")
    book = open_notebook("02_orifice_flow")
    book.run_all()

    console = card(book, f"Practice: {exercise.title}")
    mistake, wrong = variant.wrong_replies("US")[0]
    answer(book, console, wrong)
    assert mistake.words in said(console)
    assert variant.right_reply("US") not in said(console), "the answer is not given away"
    answer(book, console, "7 psi")
    assert "pressure" in said(console)
    answer(book, console, variant.right_reply("US"))
    assert variant.check(variant.right_reply("US"), "US").words in said(console)

    guess = card(book, asked.title)
    entry = guess.locator("input[type=text]")
    if entry.count():
        entry.first.fill("1000 psi")
    else:
        guess.locator("input[type=radio]").first.check()
    guess.get_by_role("button", name="Lock", exact=False).first.click()
    book.page.wait_for_timeout(600)
    locked = guess.inner_text()
    assert asked.because.split(".")[0] in locked, "the answer appears once the guess is locked"
    book.picture("practised")

    restart_kernel(book)
    assert "right before" in said(card(book, f"Practice: {exercise.title}"))
    assert asked.because.split(".")[0] in card(book, asked.title).inner_text()
    assert book.errors() == []
