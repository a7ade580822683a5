"""Pictures on paper: words of a size to read, none over another, ink without colour, in the units of the sheet."""

import base64
from xml.etree import ElementTree

import pytest

from jetlib.paper.page.picture import LEAST, for_paper, printed_sizes

SVG = "{http://www.w3.org/2000/svg}"


def drawn(source):
    """The SVG of a `src`, text."""
    return base64.b64decode(source.split(",", 1)[1]).decode()


def stored(content, width=760):
    """A `src` as a lesson stores it."""
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} 100"><style>.a{{}}</style>{content}</svg>'
    return "data:image/svg+xml;base64," + base64.b64encode(svg.encode()).decode()


def test_curves_told_by_colour_alone_get_dashes_on_paper():
    lines = "".join(f'<polyline class="jl-line-{name}" points="0,0 9,9"/>' for name in ("blue", "green", "red", "grey"))
    root = ElementTree.fromstring(drawn(for_paper(stored(lines))))
    dashes = [each.get("stroke-dasharray") for each in root.iter(f"{SVG}polyline")]
    assert dashes[0] is None and len({dashes[1], dashes[2], None}) == 3 and dashes[3] is None


def test_crowded_words_are_drawn_together_and_small_ones_enlarged():
    words = "".join(f'<text x="{x}" y="50" font-size="8">pressure 1234 psi</text>' for x in (10, 118))
    root = ElementTree.fromstring(drawn(for_paper(stored(words))))
    one, other = root.iter(f"{SVG}text")
    assert float(one.get("x")) + float(one.get("textLength")) <= float(other.get("x")) - 4
    assert min(printed_sizes(for_paper(stored(words)))) == pytest.approx(LEAST, abs=0.01)
    wide = for_paper(stored('<text x="1" y="50" font-size="11">a</text>', width=1000))
    assert min(printed_sizes(wide)) == pytest.approx(LEAST, abs=0.01)


@pytest.mark.parametrize("source", ["data:image/png;base64,iVBORw0KGgo=", "data:image/svg+xml;base64,PHN2Zz4="])
def test_what_is_no_sound_svg_comes_back_as_it_is(source):
    assert for_paper(source) == source
