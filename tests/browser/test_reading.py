"""A page is alive: it answers as jetlib does, by mouse, keys and finger; a kernel that dies, a server that goes and
comes back, notes, a copy of one's own."""

import os
import signal
from pathlib import Path

import psutil
import pytest
from learning import card, waited
from moves import spoken
from sketching import along, figures, settled, tap
from test_two_days import held

from jetlib.course.banks import registry as bank
from jetlib.screen.consoles.jets_console import jets_console

STEM = "02_orifice_flow"
pytestmark = [pytest.mark.browser, pytest.mark.filterwarnings("default")]


def prediction_field(book):
    return card(book, "Predict: Drilled out by a pencil line").locator("input[type=text]").first


def test_the_server_refuses_to_write_a_page_of_the_course(course):
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


def test_what_is_on_screen_is_what_the_course_computes(tab):
    tab.turn_to(STEM)
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
    tab.turn_to(STEM)
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


def test_a_curve_is_drawn_by_mouse_corrected_by_keys_and_finger_and_locked(tab):
    tab.turn_to(STEM)
    asked = bank.prediction("02-gauge-curve")
    with tab.other_windows() as look_through:
        look_through(1366, 768, touched=True)
        box = card(tab, f"Predict: {asked.title}")
        box.scroll_into_view_if_needed()
        mouse, places = tab.page.mouse, along(box, (0.1, 0.2, 0.35, 0.55, 0.8))
        mouse.move(*places[0])
        mouse.down()
        for place in places[1:]:
            mouse.move(*place, steps=8)
        mouse.up()
        drawn = settled(box, 5)
        assert drawn == sorted(drawn) and len(set(drawn)) == 5, "it rises as the hand did"
        box.locator(".course-handle").nth(2).focus()
        for _ in range(3):
            tab.page.keyboard.press("ArrowUp")
            tab.page.wait_for_timeout(500)
        risen = figures(box)
        assert risen[2] > drawn[2] and risen[:2] == drawn[:2], "keys move one point, and keep it"
        tap(tab.page, *along(box, (0.0, 0.3))[1])
        tab.page.wait_for_timeout(600)
        assert figures(box)[1] > risen[1], "a finger moves the point nearest to it"
        tab.picture("sketched")
        box.get_by_role("button", name="Lock my prediction").click()
        waited(box, "you drew")
        assert not box.locator(".course-over").count(), "what is locked is not drawn on"
    assert tab.errors() == [] and tab.problems == []


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
