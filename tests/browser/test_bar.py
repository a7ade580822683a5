"""The bar above a page: units once, progress as it happens, keys, Back, print, other sizes of screen."""

import pytest
from access import serious_findings
from learning import card, practise

from jetlib.course.banks import registry as bank
from jetlib.course.pages.way import tasks

STEM = "02_orifice_flow"
pytestmark = [pytest.mark.browser, pytest.mark.filterwarnings("default")]


def bar(book):
    return book.page.locator("#course-bar")


def scrolled(book):
    return book.page.evaluate("() => window.scrollY")


def test_progress_shows_at_once_in_the_bar_and_on_the_start_page(tab):
    tab.turn_to("00_start_here")
    assert "Begin with lesson 01" in tab.panel.locator(".course-go").inner_text()
    bar(tab).get_by_text("Contents").click()
    bar(tab).locator(f"li [data-stem='{STEM}']").click()
    tab.wait_until_in_front(STEM)
    tab.wait_until_ready()
    total = len(tasks(STEM))
    bar(tab).get_by_text(f"0 of {total}").wait_for()
    practise(tab, bank.exercise("02-areas-add"))
    bar(tab).get_by_text(f"1 of {total}").wait_for()
    tab.page.go_back()
    tab.wait_until_in_front("00_start_here")
    go = tab.panel.locator(".course-go")
    go.get_by_text("Go on with 02").wait_for()
    place = go.get_attribute("href").partition("#")[2]
    go.click()
    tab.wait_until_in_front(STEM)
    tab.page.wait_for_function(  # the link goes to the exercise
        "place => { const y = document.getElementById(place)?.getBoundingClientRect().y; return y > 0 && y < 700; }",
        arg=place,
    )


@pytest.mark.parametrize("theme", ["Light", "Dark"])
def test_the_bar_and_the_page_can_be_used_by_all(tab, theme):
    tab.turn_to(STEM)
    tab.use_theme(theme)
    rules = ["color-contrast"] if theme == "Dark" else None  # a theme changes colors and nothing else
    try:
        for summary, where in (("Contents", "#course-bar, #course-page"), ("View", "#course-bar")):
            bar(tab).get_by_text(summary).click()
            assert serious_findings(tab, where, rules) == []
        tab.picture(f"page-{theme}")
        bar(tab).get_by_text("View").click()
    finally:
        tab.use_theme("Light")


def test_printing_gives_the_page(tab):
    tab.turn_to(STEM)
    tab.page.emulate_media(media="print")
    try:
        assert not bar(tab).is_visible()
        assert tab.page.evaluate("() => document.documentElement.scrollWidth <= innerWidth")
        sheet = tab.page.pdf(format="Letter")
    finally:
        tab.page.emulate_media(media="screen")
    assert sheet.count(b"/Type /Page\n") + sheet.count(b"/Type/Page") >= 5 or len(sheet) > 200_000


def test_the_workbench_is_one_press_away_and_so_is_the_page(tab):
    tab.turn_to(STEM)
    bar(tab).get_by_text("View").click()
    bar(tab).get_by_role("button", name="Workbench").click()
    menus = tab.page.locator("#jp-menu-panel")
    menus.wait_for(state="visible")
    tab.page.get_by_role("button", name="Back to the course").click()
    menus.wait_for(state="hidden")
    assert tab.panel.locator("h1").is_visible()


def test_questions_to_a_console_come_one_after_another(tab):
    """By keys: each answer brings the next question; and all can be had at once."""
    tab.turn_to(STEM)
    asked, turn = tab.panel.locator(".course-asked").first, tab.panel.locator(".course-turn").first
    questions = asked.locator(":scope > li")
    whole = [questions.nth(at).text_content() for at in range(questions.count())]
    assert len(whole) == 3
    assert [questions.nth(at).bounding_box()["height"] > 0 for at in range(3)] == [True, False, False]
    turn.get_by_role("button", name="question 1 of 3").focus()
    tab.page.keyboard.press("Enter")
    assert [questions.nth(at).bounding_box()["height"] > 0 for at in range(3)] == [True, True, False]
    answers = tab.panel.locator(".course-answers").first
    told = answers.locator("ol > li").first.text_content()
    assert questions.first.locator(".course-seen").inner_text().strip() == told.strip()
    assert serious_findings(tab, ".course-asked") == []
    tab.page.keyboard.press("Tab")
    tab.page.keyboard.press("Enter")
    assert all(questions.nth(at).bounding_box()["height"] > 0 for at in range(3))
    assert answers.is_visible()
    assert not turn.is_visible()


def test_back_and_forward_go_from_page_to_page_and_a_page_opens_at_its_top(tab):
    tab.turn_to("06_sizing_jets")
    assert scrolled(tab) == 0
    bar(tab).get_by_role("link", name="Next").click()
    tab.wait_until_in_front("07_choosing_hose")
    tab.wait_until_ready()
    assert scrolled(tab) == 0
    tab.page.go_back()
    tab.wait_until_in_front("06_sizing_jets")
    assert tab.panel.locator("h1").inner_text().startswith("06")
    tab.page.go_forward()
    tab.wait_until_in_front("07_choosing_hose")
    assert tab.panel.locator("h1").inner_text().startswith("07")


def test_what_goes_deeper_is_folded_until_it_is_asked_for(tab):
    tab.turn_to("03_hose_friction", deeper=False)
    core, deeper = (card(tab, f"Practice: {bank.exercise(name).title}") for name in ("03-fifth-power", "03-longer"))
    seen = "e => e.checkVisibility({contentVisibilityAuto: true})"
    opener = tab.panel.get_by_role("button", name="Go deeper")
    assert core.evaluate(seen) and not deeper.evaluate(seen)
    assert tab.panel.get_by_role("heading", name="Sources").evaluate(seen), "what comes after is there"
    opener.click()
    assert deeper.evaluate(seen) and opener.get_attribute("aria-expanded") == "true"
    opener.click()
    assert not deeper.evaluate(seen)
    tab.page.emulate_media(media="print")
    try:
        assert deeper.evaluate(seen), "all of the page is printed"
    finally:
        tab.page.emulate_media(media="screen")
