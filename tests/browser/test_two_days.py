"""Two days of a learner on a page: units asked once, an exercise and a prediction, the next page, slips of hand, and
all of it there again when the course is started anew. No page on disk changes."""

import pytest
from access import serious_findings
from learning import answer, card, practise, predict, waited

from jetlib.course.banks import registry as bank

STEM, NEXT = "02_orifice_flow", "03_hose_friction"
EXERCISE, ASKED = bank.exercise("02-areas-add"), bank.prediction("02-double-flow")
pytestmark = [pytest.mark.browser, pytest.mark.filterwarnings("default")]


def held(course):
    """Every file of the lessons, as bytes by name."""
    return {path.name: path.read_bytes() for path in (course.folder / "lessons").glob("*.ipynb")}


def first_console(book):
    return book.consoles().filter(has=book.page.locator("[role=slider]")).first


def test_two_days_of_reading_answering_and_slipping(open_notebook, course):
    before = held(course)
    book = open_notebook(STEM, plain=False)
    chooses_units(book)
    answers(book)
    turns_over(book)
    slips(book)
    assert held(course) == before
    book.page.close()
    course.stop()

    course.start()
    again = open_notebook(STEM, plain=False)
    again.wait_until_ready()
    finds_all_as_it_was(again)
    keys_reach_the_bar_first_and_then_the_page_and_show_where_they_are(again.page)
    assert {name: text for name, text in held(course).items() if name in before} == before


def chooses_units(book):
    """By the question of the first start; then by the bar."""
    asked = book.page.locator("#course-ask")
    asked.wait_for()
    book.wait_until_ready()
    assert serious_findings(book, "#course-ask") == []
    console, question = first_console(book), card(book, f"Practice: {EXERCISE.title}")
    assert "psi" in console.inner_text()
    asked.get_by_role("button", name="metric").click()
    asked.wait_for(state="detached")
    waited(console, " bar")
    waited(question, EXERCISE.variant(1).question("metric"))
    assert book.panel.locator(".course-follows:visible").count() == 0
    book.use_units("US")
    waited(console, " psi")
    waited(question, EXERCISE.variant(1).question("US"))


def answers(book):
    question = card(book, f"Practice: {EXERCISE.title}")
    answer(question, "7 psi")
    said = waited(question, EXERCISE.variant(1).check("7 psi", "US").words)
    assert "pressure" in said, "a unit of something else is told"
    practise(book, EXERCISE)
    book.unfold()
    predict(book, ASKED)


def turns_over(book):
    """To the next page, in other units."""
    book.use_units("metric")
    waited(first_console(book), " bar")
    book.page.locator("#course-bar").get_by_role("link", name="Next").click()
    book.wait_until_in_front(NEXT)
    book.wait_until_ready()
    assert "bar" in first_console(book).inner_text()
    assert book.errors() == []


def slips(book):
    """Hits keys and presses where nothing is to be typed."""
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


def finds_all_as_it_was(book):
    metric = book.page.locator("#course-bar").get_by_role("button", name="metric")
    assert metric.get_attribute("aria-pressed") == "true"
    assert book.page.locator("#course-ask").count() == 0
    assert " bar" in first_console(book).inner_text()
    assert book.panel.get_by_text("model not found").count() == 0
    waited(card(book, f"Practice: {EXERCISE.title}"), "right before")
    book.unfold()
    waited(card(book, f"Predict: {ASKED.title}"), ASKED.reason("metric"))
    assert book.errors() == []


def keys_reach_the_bar_first_and_then_the_page_and_show_where_they_are(page):
    stops = []
    for _ in range(40):
        page.keyboard.press("Tab")
        stops.append(page.evaluate(
            "() => { const e = document.activeElement, s = getComputedStyle(e);"
            "return [e.closest('#course-bar, #course-ask') ? 'bar' : e.closest('#course-page') ? 'page' : 'neither',"
            "s.outlineStyle !== 'none' && parseFloat(s.outlineWidth) >= 2 || s.boxShadow !== 'none',"
            "e.outerHTML.slice(0, 120)]; }"
        ))  # fmt: skip
    where = [each[0] for each in stops]
    first = where.index("page")
    assert set(where[:first]) == {"bar"} and first >= 6, stops[: first + 1]
    assert set(where[first:]) == {"page"}, stops
    assert [each for each in stops if not each[1]] == [], "a stop that is not to be seen"
