"""Every page in a real browser, as a learner has it: it runs by itself and shows no error; each console answers keys,
typing, pointer and the switch of units with what jetlib says; an exercise is answered wrong and right and a prediction
locked; it fits a projector, 200 %, a tablet and a phone; axe-core finds nothing serious in the light and dark theme.

All pages are turned to in one tab, as a learner does: JupyterLab is loaded once.
"""

from pathlib import Path

import pytest
from access import APART, faults_of_size, serious_findings
from learning import first_exercise, first_prediction, practise, predict
from moves import moved_like, spoken
from twins import twins

from jetlib.screen.consoles.jets_console import jets_console

LESSONS = Path(__file__).parents[2] / "lessons"
STEMS = [path.stem for path in sorted(LESSONS.glob("*.ipynb"))]
#: Width and height, and how large the smallest words of pictures must be, CSS pixels; at 200 % each is two on screen.
WINDOWS = {"projector": (1024, 768, 8.0), "zoom 200 %": (640, 512, 6.0)}
LAPTOP = (1366, 768)
TOUCHED, LEAST_TOUCHED = {"tablet": (820, 1180), "phone": (390, 844)}, 8.9
#: The pictures of the trainer's page are for a projector: a phone shows them small.
SMALL_PRINT = {"classroom": 5.0}

pytestmark = [pytest.mark.browser, pytest.mark.filterwarnings("default")]


@pytest.mark.parametrize("stem", STEMS)
def test_page_runs_answers_and_can_be_read_by_all(stem, tab):
    tab.turn_to(stem)
    assert tab.errors() == []
    assert serious_findings(tab) == []
    tab.picture(tab.theme())
    for said in moved_like(tab, twins(stem)):
        assert len(set(said)) > 2, "nothing that was moved changed anything"
    if (exercise := first_exercise(stem)) is not None:
        practise(tab, exercise)
    if (asked := first_prediction(stem)) is not None:
        predict(tab, asked)
    tab.use_theme("Dark" if tab.theme() == "Light" else "Light")
    assert serious_findings(tab, rules=["color-contrast"]) == [], "a theme changes colors and nothing else"
    tab.picture(tab.theme())
    for name, (*size, least) in WINDOWS.items():
        with tab.window(size):
            assert faults_of_size(tab, words=least) == {}, name
    with tab.window(LAPTOP):
        assert tab.page.evaluate(APART) == [], "a control and its picture are not in sight together"
    for name, size in TOUCHED.items():
        with tab.window(size, touched=True):
            tab.picture(name)
            assert faults_of_size(tab, words=SMALL_PRINT.get(stem, LEAST_TOUCHED), finger=True) == {}, name
    assert tab.errors() == []
    assert tab.problems == []


def test_what_is_on_screen_is_what_the_course_computes(tab):
    tab.turn_to("02_orifice_flow")
    console = tab.consoles().filter(has=tab.page.locator("[role=slider]")).first
    assert spoken(console) == jets_console(count=4, bore="#60", flow="8 gpm").words

    console.locator("[role=slider]").first.focus()
    tab.page.keyboard.press("ArrowRight")
    tab.page.wait_for_timeout(400)
    assert spoken(console) == jets_console(count=4, bore="#60", flow="8.1 gpm").words

    entry = console.get_by_label("Flow", exact=True)
    entry.fill("30 L/min")
    entry.press("Enter")
    tab.page.wait_for_timeout(400)
    assert spoken(console) == jets_console(count=4, bore="#60", flow="30 L/min").words
    picture = console.locator("svg[role=img]").first
    assert picture.get_attribute("aria-label") == spoken(console), "the alt text goes with the picture"

    entry.fill("30 psi")
    entry.press("Enter")
    tab.page.wait_for_timeout(400)
    assert "pressure" in console.locator("[role=alert]").first.inner_text()
    assert entry.input_value() == "30 psi", "what was typed stays"
    assert spoken(console) == jets_console(count=4, bore="#60", flow="30 L/min").words

    entry.fill("9 gpm")
    entry.press("Enter")
    tab.page.wait_for_timeout(400)
    assert console.locator("[role=alert]").count() == 0


def test_tab_goes_through_each_console_in_the_order_it_is_read(tab):
    tab.turn_to("02_orifice_flow")
    number_stops = (
        "box => [...box.querySelectorAll(\"input, select, button, [role=slider], summary, [tabindex='0']\")]"
        ".filter(e => e.tabIndex >= 0 && !e.disabled && e.offsetParent).map((e, at) => (e.dataset.stop = at, at))"
    )
    consoles = [console for console in tab.consoles().all() if console.locator("[role=slider]").count()]
    for console in consoles:
        in_order = console.evaluate(number_stops)
        console.locator("[data-stop='0']").focus()
        reached = [0]
        for _ in in_order[1:]:
            tab.page.keyboard.press("Tab")
            reached.append(int(tab.page.evaluate("() => document.activeElement.dataset.stop ?? -1")))
        assert reached == in_order
    assert len(consoles) > 2
