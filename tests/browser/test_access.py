"""A console at the sizes people really have: a projector, and a page blown up to twice its size."""

import pytest

pytestmark = [pytest.mark.browser, pytest.mark.filterwarnings("default")]


@pytest.mark.parametrize(("width", "height"), [(1024, 768), (640, 512)], ids=["projector", "zoom 200 %"])
def test_a_console_fits(width, height, open_notebook):
    book = open_notebook("05_bypass")
    book.run_all()
    book.page.set_viewport_size({"width": width, "height": height})
    book.page.wait_for_timeout(800)
    console = book.consoles().filter(has=book.page.locator("svg[role=img]")).first
    console.scroll_into_view_if_needed()
    book.picture(f"{width}x{height}")
    inside = console.evaluate(
        "box => [...box.querySelectorAll('input, select, button')].every("
        "e => e.getBoundingClientRect().right <= box.getBoundingClientRect().right + 2)"
    )
    assert inside, "something in the console is cut off at the right"
    picture = console.locator("svg[role=img]").first
    smallest = picture.evaluate(
        "svg => Math.min(...[...svg.querySelectorAll('text')].map(t => parseFloat(t.getAttribute('font-size'))))"
        " * svg.getBoundingClientRect().width / svg.viewBox.baseVal.width"
    )
    assert smallest >= 8.0, "figures in the picture shrink below reading size instead of scrolling"
