"""Every page on a phone and a tablet: nothing to scroll sideways, and what is pressed is as large as a finger."""

from pathlib import Path

import pytest

LESSONS = Path(__file__).parents[2] / "lessons"
STEMS = [path.stem for path in sorted(LESSONS.glob("*.ipynb"))]
SIZES = {"phone": (390, 844), "tablet": (820, 1180)}
LEAST = 44  # CSS pixels, as accessibility guidelines ask of a target (WCAG 2.5.5)

pytestmark = [pytest.mark.browser, pytest.mark.filterwarnings("default")]

WIDE = """() => {
    const page = document.querySelector('#course-page');
    const scrolls = e => e.matches('table, .MathJax, pre, .jp-RenderedMarkdown table *, .MathJax *, pre *')
        || e.closest('table, .MathJax, pre, .jp-Editor') || e.querySelector(':scope > table');
    return [...page.querySelectorAll('*')].filter(e => e.checkVisibility() && !scrolls(e)
            && e.clientWidth && ['auto', 'scroll'].includes(getComputedStyle(e).overflowX)
            && e.scrollWidth > e.clientWidth + 1)
        .map(e => `${e.scrollWidth} in ${e.clientWidth}: ${e.outerHTML.slice(0, 100)}`);
}"""
SMALL = """least => [...document.querySelectorAll('#course-bar *, #course-page .jp-OutputArea *')]
    .filter(e => e.matches('button, summary, select, a.course-go, input[type=text], .noUi-handle'))
    .filter(e => e.checkVisibility())
    .map(e => [e, e.getBoundingClientRect()])
    .filter(([e, box]) => box.height && (box.height < least - 0.5 || box.width < least - 0.5))
    .map(([e, box]) => `${box.width.toFixed(0)} x ${box.height.toFixed(0)}: ${e.outerHTML.slice(0, 100)}`)"""
WORDS = """() => [...document.querySelectorAll('#course-page svg[role=img]')].flatMap(svg => {
    const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
    return [...svg.querySelectorAll('text')].map(t => parseFloat(getComputedStyle(t).fontSize) * scale)
        .filter(size => size && size < 6).map(size => size.toFixed(1));
})"""


@pytest.fixture
def touch(browser, course):
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    course.begin_afresh()
    yield context
    context.close()


@pytest.mark.parametrize("stem", STEMS)
def test_page_fits_a_phone_and_a_tablet(stem, touch, open_in):
    book = open_in(touch, stem)
    book.wait_until_ready()
    for name, (width, height) in SIZES.items():
        book.page.set_viewport_size({"width": width, "height": height})
        book.page.wait_for_timeout(400)
        book.picture(name)
        found = {
            "wider than the screen": book.page.evaluate("() => document.documentElement.scrollWidth") - width,
            "in a frame that scrolls sideways": book.page.evaluate(WIDE),
            "too small for a finger": book.page.evaluate(SMALL, LEAST),
            "words too small to read": book.page.evaluate(WORDS),
        }
        assert found == {
            "wider than the screen": 0, "in a frame that scrolls sideways": [], "too small for a finger": [],
            "words too small to read": [],
        }, name  # fmt: skip
    assert book.errors() == []
