"""A curve is drawn on its graph: by mouse, by finger, and by keys; the kernel hears of it, and it can be locked."""

import pytest
from learning import card, waited

from jetlib.course.banks import registry as bank

pytestmark = [pytest.mark.browser, pytest.mark.filterwarnings("default")]

ASKED = bank.prediction("02-gauge-curve")


def figures(box):
    """What the entries under the graph hold, psi."""
    return [float(entry.input_value().split()[0] or 0) for entry in box.locator(".course-typed input").all()]


def along(box, heights):
    """Places on the screen over the points of the graph, at shares of its height."""
    graph = box.locator(".course-over rect").bounding_box()
    first, last = (box.locator(".course-handle").nth(at).bounding_box() for at in (0, 4))
    x0, x1 = (each["x"] + each["width"] / 2 for each in (first, last))
    step = (x1 - x0) / 4
    return [(x0 + at * step, graph["y"] + graph["height"] * (1 - share)) for at, share in enumerate(heights)]


def settled(box, wanted):
    box.page.wait_for_function(
        "([card, wanted]) => [...card.querySelectorAll('.course-typed input')].filter(e => e.value).length === wanted",
        arg=[box.element_handle(), wanted],
    )
    box.page.wait_for_timeout(600)
    return figures(box)


def test_a_curve_is_drawn_by_mouse_corrected_by_keys_and_finger_and_locked(browser, course, open_in):
    context = browser.new_context(viewport={"width": 1366, "height": 768}, has_touch=True)
    course.begin_afresh()
    book = open_in(context, "02_orifice_flow")
    book.wait_until_ready()
    book.unfold()
    box = card(book, f"Predict: {ASKED.title}")
    box.scroll_into_view_if_needed()
    mouse, places = book.page.mouse, along(box, (0.1, 0.2, 0.35, 0.55, 0.8))
    mouse.move(*places[0])
    mouse.down()
    for place in places[1:]:
        mouse.move(*place, steps=8)
    mouse.up()
    drawn = settled(box, 5)
    assert drawn == sorted(drawn) and len(set(drawn)) == 5, "it rises as the hand did"
    box.locator(".course-handle").nth(2).focus()
    for _ in range(3):
        book.page.keyboard.press("ArrowUp")
        book.page.wait_for_timeout(500)
    risen = figures(box)
    assert risen[2] > drawn[2] and risen[:2] == drawn[:2], "keys move one point, and keep it"
    book.page.touchscreen.tap(*along(box, (0.0, 0.3))[1])
    book.page.wait_for_timeout(600)
    assert figures(box)[1] > risen[1], "a finger moves the point nearest to it"
    book.picture("sketched")
    box.get_by_role("button", name="Lock my prediction").click()
    waited(box, "you drew")
    assert not box.locator(".course-over").count(), "what is locked is not drawn on"
    assert book.errors() == [] and book.problems == []
    context.close()
