"""Every page in a real browser: it opens, runs, shows no error; consoles answer keys, typing and the unit switch;

axe-core finds nothing serious in what it puts out, in the light and in the dark theme.
"""

import re
from pathlib import Path

import pytest
from access import serious_findings

from jetlib.screen.jets_console import jets_console

LESSONS = Path(__file__).parents[2] / "lessons"
STEMS = [path.stem for path in sorted(LESSONS.glob("*.ipynb"))]

pytestmark = [pytest.mark.browser, pytest.mark.filterwarnings("default")]


def spoken(console):
    return console.locator("[role=status]").first.inner_text()


@pytest.mark.parametrize("stem", STEMS)
def test_page_runs_answers_and_can_be_read_by_all(stem, open_notebook):
    book = open_notebook(stem)
    stored = book.panel.locator("img[src^='data:image/svg']").count()
    book.picture("stored")
    assert stored == book.panel.locator("img[src^='data:image/svg'][alt]").count(), "a stored picture without alt text"
    book.run_all()
    book.picture("run")
    assert book.errors() == []
    assert book.problems == []
    assert serious_findings(book) == []
    for console in book.consoles().all():
        sliders = console.locator("[role=slider]")
        if not sliders.count() or not console.locator("[role=status]").count():
            continue
        before = spoken(console)
        if not before:
            continue  # an exercise or a prediction: it says nothing until it is answered
        sliders.first.focus()
        book.page.keyboard.press("ArrowLeft")
        book.page.keyboard.press("ArrowLeft")
        book.page.wait_for_timeout(400)
        moved = spoken(console)
        assert moved != before, f"a slider moved by key changes nothing: {before}"
        metric = console.get_by_role("button", name="metric", exact=True)
        if metric.count():
            metric.first.click()
            book.page.wait_for_timeout(400)
            assert re.search(r"\b(bar|L/min|mm|kW|N)\b", spoken(console)), spoken(console)
    assert book.errors() == []
    assert book.problems == []
    book.picture("moved")
    book.use_theme("Dark")
    try:
        book.picture("dark")
        assert serious_findings(book) == []
    finally:
        book.use_theme("Light")


def test_what_is_on_screen_is_what_the_course_computes(open_notebook):
    book = open_notebook("02_orifice_flow")
    book.run_all()
    console = next(console for console in book.consoles().all() if spoken(console))
    assert spoken(console) == jets_console(count=4, bore="#60", flow="8 gpm").words

    console.locator("[role=slider]").first.focus()
    book.page.keyboard.press("ArrowRight")
    book.page.wait_for_timeout(400)
    assert spoken(console) == jets_console(count=4, bore="#60", flow="8.1 gpm").words

    entry = console.get_by_label("Flow", exact=True)
    entry.fill("30 L/min")
    entry.press("Enter")
    book.page.wait_for_timeout(400)
    assert spoken(console) == jets_console(count=4, bore="#60", flow="30 L/min").words
    picture = console.locator("svg[role=img]").first
    assert picture.get_attribute("aria-label") == spoken(console), "the alt text goes with the picture"

    entry.fill("30 psi")
    entry.press("Enter")
    book.page.wait_for_timeout(400)
    assert "pressure" in console.locator("[role=alert]").first.inner_text()
    assert entry.input_value() == "30 psi", "what was typed stays"
    assert spoken(console) == jets_console(count=4, bore="#60", flow="30 L/min").words

    entry.fill("9 gpm")
    entry.press("Enter")
    book.page.wait_for_timeout(400)
    assert console.locator("[role=alert]").count() == 0

    handle = console.locator("[role=slider]").first.bounding_box()
    x, y = handle["x"] + handle["width"] / 2, handle["y"] + handle["height"] / 2
    book.page.mouse.move(x, y)
    book.page.mouse.down()
    book.page.mouse.move(x + 60, y, steps=8)
    book.page.mouse.up()
    book.page.wait_for_timeout(500)
    assert float(entry.input_value().split()[0]) > 10.0
    assert entry.input_value() in spoken(console)
