"""Can everyone use it: axe-core over what the pages put out, in both themes, and at sizes people really have."""

from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe

LESSONS = Path(__file__).parents[2] / "lessons"
STEMS = [path.stem for path in sorted(LESSONS.glob("*.ipynb"))]

pytestmark = [pytest.mark.browser, pytest.mark.filterwarnings("default")]

# The handle of ipywidgets' sliders has no accessible name. The entry beside each has one and does all that it does.
UPSTREAM = {"aria-input-field-name": ".noUi-handle"}


def serious(book):
    """What axe finds serious or critical in the outputs, as readable lines."""
    context = {"include": [[".jp-NotebookPanel:not(.lm-mod-hidden) .jp-OutputArea-output"]]}
    found = Axe().run(book.page, context=context, options={"resultTypes": ["violations"]}).response["violations"]
    lines = []
    for rule in found:
        if rule["impact"] not in ("serious", "critical"):
            continue
        for node in rule["nodes"]:
            if UPSTREAM.get(rule["id"], "none") not in node["html"].replace(
                'class="noUi-handle', 'class=".noUi-handle'
            ):
                lines.append(f"{rule['id']}: {node['html'][:160]} ({rule['help']})")
    return lines


@pytest.fixture(params=["Light", "Dark"])
def theme(request, course):
    course.use_theme(request.param)
    yield request.param
    course.use_theme("Light")


@pytest.mark.parametrize("stem", STEMS)
def test_no_serious_finding(stem, theme, open_notebook):
    book = open_notebook(stem)
    book.run_all()
    book.picture(theme.lower())
    assert book.page.locator(f"body[data-jp-theme-light='{str(theme == 'Light').lower()}']").count() == 1
    assert serious(book) == []


@pytest.mark.parametrize(("width", "height"), [(1024, 768), (640, 512)], ids=["projector", "zoom 200 %"])
def test_a_console_fits(width, height, open_notebook):
    book = open_notebook("05_bypass")
    book.run_all()
    book.page.set_viewport_size({"width": width, "height": height})
    book.page.wait_for_timeout(800)
    console = book.consoles().first
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
