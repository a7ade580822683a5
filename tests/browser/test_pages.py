"""Every page in a real browser: it opens, runs, shows no error; each console answers keys, typing, pointer and unit
switch with what jetlib says; an exercise is answered wrong and right and a prediction locked; it fits a projector and a
page at 200 %; axe-core finds nothing serious in its outputs, in the light and in the dark theme.
"""

from collections import Counter
from pathlib import Path

import pytest
from access import cut_off, serious_findings, smallest_words
from learning import first_exercise, first_prediction, practise, predict
from moves import moved_like, spoken
from twins import title_of, twins

from jetlib.screen.consoles.jets_console import jets_console

LESSONS = Path(__file__).parents[2] / "lessons"
STEMS = [path.stem for path in sorted(LESSONS.glob("*.ipynb"))]
SIZES = {"projector": (1024, 768), "zoom 200 %": (640, 512)}

pytestmark = [pytest.mark.browser, pytest.mark.filterwarnings("default")]


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
    seen = Counter()
    for twin in twins(stem):
        said = moved_like(book, twin, seen[title_of(twin)])
        seen[title_of(twin)] += 1
        assert len(set(said)) > 2, "nothing that was moved changed anything"
    if (exercise := first_exercise(stem)) is not None:
        practise(book, exercise)
    if (asked := first_prediction(stem)) is not None:
        predict(book, asked)
    assert book.errors() == []
    assert book.problems == []
    book.picture("moved")
    for name, (width, height) in SIZES.items():
        book.page.set_viewport_size({"width": width, "height": height})
        book.page.wait_for_timeout(500)
        book.picture(name.replace(" ", "-"))
        for console in book.consoles().all():
            assert cut_off(console) == [], f"cut off at {name}"
            assert smallest_words(console) >= 8.0, f"too small to read at {name}"
    book.page.set_viewport_size({"width": 1280, "height": 1000})
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


def test_tab_goes_through_each_console_in_the_order_it_is_read(open_notebook):
    book = open_notebook("02_orifice_flow")
    book.run_all()
    number_stops = (
        "box => [...box.querySelectorAll(\"input, select, button, [role=slider], summary, [tabindex='0']\")]"
        ".filter(e => e.tabIndex >= 0 && !e.disabled && e.offsetParent).map((e, at) => (e.dataset.stop = at, at))"
    )
    consoles = [console for console in book.consoles().all() if console.locator("[role=slider]").count()]
    for console in consoles:
        in_order = console.evaluate(number_stops)
        console.locator("[data-stop='0']").focus()
        reached = [0]
        for _ in in_order[1:]:
            book.page.keyboard.press("Tab")
            reached.append(int(book.page.evaluate("() => document.activeElement.dataset.stop ?? -1")))
        assert reached == in_order
    assert len(consoles) > 2
