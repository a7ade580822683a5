"""Every field of every page: what cannot be used stays as it was typed, and is refused without a word of code."""

import html
import re

import ipywidgets as widgets
import pytest

from jetlib.course.pages.consoles import CONSOLES
from jetlib.course.store.bench_store import BenchStore
from jetlib.screen.bench.bench import Bench
from jetlib.units import SYSTEMS

JUNK = ["junk", "7 apples", "99999999999", "-5", "3/8", "1/0", "half a mile", "(", "2,400,1"]
CODE = re.compile(r"\w=[\"'\d\w]|\b[A-Z]\w*\(|(?<![./\w])[a-z]+_[a-z]+\b(?![./])|Traceback|\bNone\b")
OTHER = {
    "US": re.compile(r"\d ?(?:bar|L/min|mm|kPa|kW|°C|kg)\b"),
    "metric": re.compile(r"\d ?(?:psi|gpm|ft|in|gal|lbf?|hp|°F)\b"),
}


def inside(box):
    yield box
    for child in getattr(box, "children", ()):
        yield from inside(child)


def alerts(box):
    """The refusals that stand on a page, as a reader sees them."""
    pages = [each.value for each in inside(box) if isinstance(each, widgets.HTML)]
    found = [each for page in pages for each in re.findall(r'<\w+ role="alert"[^>]*>(.*?)</(?:span|div)>', page, re.S)]
    return [html.unescape(re.sub(r"<[^>]*>", "", each)) for each in found]


def type_junk(box, system, bench=False):
    fields = [each for each in inside(box) if isinstance(each, widgets.Text)]
    refused = 0
    for field in fields:
        if "file" in field.description or "rule" in field.description.lower():
            continue  # a path and an equation are no amounts
        for typed in JUNK:
            before, field.value = field.value, typed
            said = alerts(box)
            refused += bool(said)
            for words in said:
                told = words.replace(typed, "")
                assert not CODE.search(told), (field.description, typed, words)
                assert not OTHER[system].search(told), (field.description, typed, words)
            if said and not bench:  # on the bench another entry may be marked
                assert field.value == typed, "what was typed stays"
            field.value = before
    return refused


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", CONSOLES)
def test_no_console_answers_in_code(name, system):
    assert type_junk(CONSOLES[name].maker()(system=system).box, system) >= 0


@pytest.mark.parametrize("system", SYSTEMS)
def test_nor_does_the_bench(system, tmp_path):
    bench = Bench(BenchStore(tmp_path))
    bench.use_units(system)
    for tab in ("map", "limits", "job"):
        bench.type("tab", tab)
        assert type_junk(bench._page, system, bench=True) >= 0
    assert type_junk(bench._editor.box, system, bench=True)
