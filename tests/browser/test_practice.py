"""What was learned is kept: an exercise answered and a prediction locked, then the kernel killed, the page reopened."""

import pytest
from learning import answer, card, practise, predict, waited

from jetlib.course.banks import registry as bank

pytestmark = [pytest.mark.browser, pytest.mark.filterwarnings("default")]


def restart_kernel(book):
    """Kill the kernel under the page, as a crash would, and run the lesson again."""
    book.page.evaluate("() => window.jupyterapp.shell.currentWidget.sessionContext.session.kernel.restart()")
    book.page.wait_for_timeout(1500)
    book.course.wait_until_idle(book.stem)
    book.run_all()


def test_exercise_and_prediction_are_kept_when_the_kernel_dies_and_the_page_is_opened_again(open_notebook):
    exercise, asked = bank.exercise("02-areas-add"), bank.prediction("02-double-flow")
    book = open_notebook("02_orifice_flow")
    book.run_all()
    box = card(book, f"Practice: {exercise.title}")
    answer(box, "7 psi")
    assert "pressure" in waited(box, exercise.variant(1).check("7 psi", "US").words)
    practise(book, exercise)
    predict(book, asked)
    book.picture("practised")

    restart_kernel(book)
    kept(book, exercise, asked)
    book.page.close()
    again = open_notebook("02_orifice_flow")
    again.run_all()
    kept(again, exercise, asked)


def kept(book, exercise, asked):
    """The page says what was done before, and no error."""
    waited(card(book, f"Practice: {exercise.title}"), "right before")
    waited(card(book, f"Predict: {asked.title}"), asked.reason("US"))
    assert book.errors() == []
