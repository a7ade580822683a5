"""A picture as it is shown: in one piece, as tiles, on a phone; what was so before lies gray behind the same tile."""

import re
import xml.etree.ElementTree as ElementTree

import pytest

from jetlib.course.pages.consoles import CONSOLES
from jetlib.screen.controls.console import Amount, Console, Count
from jetlib.screen.drawing.chart import NARROW, trace
from jetlib.screen.drawing.picture import stacked, with_narrow

_MAKERS = ("jetlib.screen.consoles", "jetlib.screen.rules")


def drawn(said):
    return with_narrow(lambda width: (trace("here", f'<path d="M0 {said}H{width}"/>'), width, 100), 760)


def test_a_phone_is_shown_the_narrow_form_and_each_form_keeps_what_was_so_before_in_it():
    before, now = stacked("then", drawn(1)), stacked("now", drawn(2))
    assert now.live().count("<svg") == 2
    assert "jl-gone" not in re.sub(r"<style>.*?</style>", "", now.live())
    gone = re.findall(r'<g class="jl-gone"><path d="M0 1H(\d+)"/>', now.live(before))
    assert gone == ["760", str(NARROW)], "what is gray belongs to the same form"
    assert now.svg().count("<path") == 1, "a room is shown one form"


@pytest.fixture(scope="module")
def consoles():
    made = (each.maker()() for each in CONSOLES.values() if each.home.startswith(_MAKERS))
    return [each for each in made if isinstance(each, Console)]


def test_words_of_every_console_can_be_read_on_a_phone(consoles):
    """Nine pixels at least, as everywhere else on a screen; a phone of 390 has 350 for a picture."""
    for console in consoles:
        for content, width, _ in (
            (tile[3] if len(tile) > 3 else tile) for row in console.picture.tiles for tile in row
        ):
            tree = ElementTree.fromstring(f"<svg>{content}</svg>")
            sizes = [float(each.get("font-size")) for each in tree.iter("text")]
            assert min(sizes, default=16.0) * 350 / width > 8.9, console.words


def test_axes_of_every_console_stay_where_they_are_while_its_sliders_move(consoles):
    for console in consoles:
        for control in console.controls.values():
            if not isinstance(control, Amount | Count):
                continue
            before = re.findall(r'data-place="([^"]+)"', console.picture.content)
            for end in (control.low, control.high, control.start):
                console.set(**{control.name: end})
                assert set(re.findall(r'data-place="([^"]+)"', console.picture.content)) == set(before), control.label
