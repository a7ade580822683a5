"""The bench on a laptop and a tablet: nothing cut off, the answer always in sight, a rig typed in from nothing."""

import time

import pytest
from access import faults_of_size

from jetlib import Hose, Jet, Nozzle, Pump, Rig, Unloader, operating_point
from jetlib.units import text

pytestmark = [pytest.mark.browser, pytest.mark.filterwarnings("default")]

#: Seconds a keystroke, a pointing and a thought take a poor typist (Card, Moran and Newell, *The keystroke-level model
#: for user performance time with interactive systems*, Communications of the ACM 23, 1980): 1.2, 1.1 and 1.35.
KEY, POINT, THOUGHT = 1.2, 1.1, 1.35


#: Cells that are there and not displayed, in tables that are: a list of what they say.
HIDDEN = """cells => cells.filter(e => e.closest('table').checkVisibility() && !e.checkVisibility())
    .map(e => e.textContent)"""


def box_of(page, where):
    return page.locator(where).first.bounding_box()


def test_the_bench_is_whole_on_laptop_and_tablet_and_a_rig_is_soon_typed(open_notebook):
    book = open_notebook("bench", plain=False)
    book.wait_until_ready()
    book.page.locator("#course-ask").get_by_role("button", name="US").click()
    is_whole_and_answers_in_sight(book)
    types_a_rig_in_under_ninety_seconds(book.page)
    assert book.errors() == []


def is_whole_and_answers_in_sight(book):
    page = book.page
    book.resize(1366, 768)
    tabs = page.locator(".jl-bench .widget-toggle-buttons button")
    for number in range(tabs.count()):
        tabs.nth(number).click()
        page.wait_for_timeout(500)
        assert faults_of_size(book, words=8.0) == {}, tabs.nth(number).inner_text()
        hidden = page.locator(".jl-bench :is(td, th)").evaluate_all(HIDDEN)
        assert hidden == [], f"{tabs.nth(number).inner_text()}: a cell of a table that the choice of units hides"
    form, result = box_of(page, ".jl-both > :first-child"), box_of(page, ".jl-result")
    assert form["x"] + form["width"] <= result["x"] and abs(form["y"] - result["y"]) < 2
    page.evaluate("() => window.scrollTo(0, document.documentElement.scrollHeight - 900)")
    page.wait_for_timeout(200)
    answer = box_of(page, ".jl-answer")
    assert 0 <= answer["y"] < 80
    book.resize(820, 1180)
    form, result = box_of(page, ".jl-both > :first-child"), box_of(page, ".jl-result")
    assert result["y"] + result["height"] <= form["y"] + 2
    book.resize(390, 844)
    for number in range(tabs.count()):
        tabs.nth(number).click()
        page.wait_for_timeout(500)
        assert faults_of_size(book, words=8.0) == {}, tabs.nth(number).inner_text()
    page.evaluate("() => window.scrollTo(0, document.documentElement.scrollHeight / 2)")
    page.wait_for_timeout(200)
    assert 0 <= box_of(page, ".jl-answer")["y"] < 80
    remove = page.locator(".jl-bench").get_by_role("button", name="Remove").first
    assert remove.evaluate("each => each.scrollWidth <= each.clientWidth + 1")


def types_a_rig_in_under_ninety_seconds(page):
    stops, keys, clicks = 0, 0, 1
    page.locator(".jl-bench").get_by_role("button", name="New rig").click()
    answer = page.locator(".jl-answer")
    for label, typed in (
        ("Delivers, full", "9.5"), ("at its rating", "3000"), ("Opens at", "2800"), ("Bore", "1/2"), ("Length", "250"),
        ("Holes", "4"), ("Drill or bore", "#59"),
    ):  # fmt: skip
        page.wait_for_function(  # the cursor comes by itself
            "label => document.activeElement?.closest('.widget-text')?.innerText.trim() === label", arg=label
        )
        page.keyboard.type(typed)
        page.keyboard.press("Enter")
        stops, keys = stops + 1, keys + len(typed) + 1
    rig = Rig(
        pump=Pump(delivered="9.5 gpm at 3000 psi", rated_speed="1450 rpm", idle_speed="580 rpm"),
        valve=Unloader("2800 psi"),
        hoses=[Hose("1/2 in", "250 ft")],
        nozzle=Nozzle([Jet("#59", count=4, angle="30 deg", discharge_coefficient="72 %")]),
    )
    point, until = operating_point(rig), time.monotonic() + 10
    wanted = [text(point.gauge, "pressure", "US"), text(point.nozzle_flow, "flow", "US")]
    while time.monotonic() < until and not all(each in answer.inner_text() for each in wanted):
        page.wait_for_timeout(100)
    assert all(each in answer.inner_text() for each in wanted)
    assert (stops, keys, clicks) == (7, 28, 1)
    assert keys * KEY + clicks * POINT + stops * THOUGHT < 90
