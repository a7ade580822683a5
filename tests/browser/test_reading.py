"""Reading is harmless and the page is alive: two days of a learner who slips, a server that goes and comes back,
a kernel that dies, a copy of one's own, and JupyterLab without any of this."""

import os
import signal
from pathlib import Path

import psutil
import pytest
from learning import answer, card, practise, predict, waited

from jetlib.course.banks import registry as bank

STEM = "02_orifice_flow"
pytestmark = [pytest.mark.browser, pytest.mark.filterwarnings("default")]


def prediction_field(book):
    return card(book, "Predict: Drilled out by a pencil line").locator("input[type=text]").first


def held(course):
    """Every file of the lessons, as bytes by name."""
    return {path.name: path.read_bytes() for path in (course.folder / "lessons").glob("*.ipynb")}


def test_two_days_of_reading_and_slipping_change_no_page(open_notebook, course):
    exercise, asked = bank.exercise("02-areas-add"), bank.prediction("02-double-flow")
    before = held(course)
    book = open_notebook(STEM, plain=False)
    book.wait_until_ready()
    answer(card(book, f"Practice: {exercise.title}"), "7 psi")
    said = waited(card(book, f"Practice: {exercise.title}"), exercise.variant(1).check("7 psi", "US").words)
    assert "pressure" in said, "a unit of something else is told"
    practise(book, exercise)
    book.unfold()
    predict(book, asked)
    cells = book.panel.locator(".jp-Cell").count()
    title = book.panel.locator("h1")
    title.click()
    book.page.keyboard.type("10 gpm ddaabbmmxxyzz")  # beside a field: each of these keys is a command of a notebook
    for key in ("Enter", "Delete", "Shift+Enter", "Control+s", "Control+z"):
        book.page.keyboard.press(key)
    title.dblclick()
    book.panel.locator("p").nth(3).dblclick()
    book.page.wait_for_timeout(500)
    assert book.panel.locator(".jp-Cell").count() == cells
    assert book.panel.locator(".jp-MarkdownCell:not(.jp-mod-rendered)").count() == 0
    assert book.page.locator(".jp-Dialog").count() == 0
    # What the autosave does; not waited for, as JupyterLab asks first.
    book.page.evaluate("() => void window.jupyterapp.commands.execute('docmanager:save')")
    book.page.wait_for_timeout(1000)
    book.page.evaluate("() => document.querySelectorAll('.jp-Dialog').forEach(each => each.remove())")
    assert held(course) == before
    book.page.close()
    course.stop()

    course.start()
    again = open_notebook(STEM, plain=False)
    again.wait_until_ready()
    assert again.panel.get_by_text("model not found").count() == 0
    waited(card(again, f"Practice: {exercise.title}"), "right before")
    again.unfold()
    waited(card(again, f"Predict: {asked.title}"), asked.reason("US"))
    assert again.errors() == []
    assert {name: text for name, text in held(course).items() if name in before} == before


def test_the_server_refuses_to_write_a_page_of_the_course(open_notebook, course):
    before = held(course)
    path = f"api/contents/lessons/{STEM}.ipynb"
    assert course.ask(path)["writable"] is False
    for method, body in (
        ("PUT", {"type": "notebook", "content": {}}),
        ("PATCH", {"path": "x.ipynb"}),
        ("DELETE", None),
    ):
        with pytest.raises(OSError, match="403"):
            course.ask(path, method, body)
    assert held(course) == before


def test_without_the_extension_the_page_reads_and_runs_as_any_notebook(open_notebook):
    book = open_notebook(STEM)
    assert book.page.locator("#course-bar").count() == 0
    book.run_all()
    assert book.consoles().count() > 5
    assert book.errors() == []


def test_a_page_stays_where_it_is_and_keeps_what_was_typed_when_its_kernel_dies(tab, course):
    tab.turn_to(STEM)
    assert tab.panel.locator("h1").is_visible() and tab.page.evaluate("() => window.scrollY") < 120
    prediction_field(tab).fill("2500 psi")
    tab.page.wait_for_timeout(600)
    where = tab.page.evaluate("() => window.scrollY")
    kernel = next(each["kernel"]["id"] for each in course.ask("api/sessions") if STEM in each["path"])
    for process in psutil.process_iter(["cmdline"]):
        if any(kernel in word for word in process.info["cmdline"] or ()):
            os.kill(process.pid, signal.SIGKILL)
    tab.page.get_by_text("It is starting again").wait_for()
    tab.wait_until_ready()
    tab.page.wait_for_timeout(2500)
    assert prediction_field(tab).input_value() == "2500 psi"
    assert abs(tab.page.evaluate("() => window.scrollY") - where) < 60
    assert tab.page.locator(".jp-Dialog").count() == 0


def test_the_page_goes_on_when_the_server_is_back(tab, course):
    tab.turn_to(STEM)
    prediction_field(tab).fill("2400 psi")
    tab.page.wait_for_timeout(600)
    course.stop()
    tab.page.get_by_text("window was closed").wait_for(timeout=90_000)
    assert tab.page.locator(".jp-Dialog").count() == 0
    course.start()
    tab.page.get_by_text("Getting ready").wait_for(timeout=90_000)
    tab.wait_until_ready()
    tab.page.wait_for_timeout(2500)
    assert prediction_field(tab).input_value() == "2400 psi"


def test_a_copy_of_ones_own_can_be_changed_and_the_way_back_is_one_press(tab, course):
    tab.turn_to(STEM)
    tab.page.locator(".course-more summary").click()
    menus = tab.page.locator("#jp-menu-panel")
    try:
        tab.page.get_by_role("button", name="My own copy").click()
        tab.page.wait_for_function("() => location.pathname.includes('my_')", timeout=60_000)
        assert course.ask(f"api/contents/lessons/my_{STEM}.ipynb?content=0")["writable"] is True
        menus.wait_for(state="visible", timeout=60_000)  # an own copy is opened on the workbench
        tab.page.get_by_role("button", name="Back to the course").click()
        tab.page.locator("#course-bar nav").wait_for()
        menus.wait_for(state="hidden")
    finally:
        for folder in (course.folder, Path(__file__).parents[2]):
            for copy in (folder / "lessons").glob(f"my_{STEM}*.ipynb"):
                copy.unlink()


def test_notes_are_kept_with_the_progress(tab, course):
    tab.turn_to(STEM)
    tab.page.locator(".course-more summary").click()
    tab.page.get_by_role("button", name="My notes").click()
    tab.page.get_by_label("My notes on this page").fill("Four holes, one pressure.")
    tab.page.get_by_text("Kept with your progress").wait_for()
    assert (course.progress / "notes" / f"{STEM}.txt").read_text() == "Four holes, one pressure."
