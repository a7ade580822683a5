"""The drawn rig says what the computed rig does."""

import re
import xml.etree.ElementTree as ElementTree

import pytest

from jetlib import BurstDisc, Hose, operating_point
from jetlib.rig.change.whatif import with_valve
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs
from jetlib.screen.drawing.parts import bore_width
from jetlib.screen.drawing.picture import stacked
from jetlib.screen.drawing.schematic import schematic
from jetlib.units import text

SVG = '<svg xmlns="http://www.w3.org/2000/svg">{}</svg>'


def drawn(rig, throttle=1.0, system="US"):
    point = operating_point(rig, throttle)
    content = stacked("", *schematic(rig, point, system)).content
    tree = ElementTree.fromstring(SVG.format(content))
    return point, content, [node.text for node in tree.iter("{http://www.w3.org/2000/svg}text")]


@pytest.mark.parametrize("name", demo_rigs())
@pytest.mark.parametrize("system", ["US", "metric"])
@pytest.mark.parametrize("throttle", [0.0, 1.0])
def test_figures_on_the_drawing_are_those_of_the_point(name, system, throttle):
    point, _, words = drawn(demo_rig(name), throttle, system)
    assert text(point.gauge, "pressure", system) in words
    assert f"pump {text(point.pump_flow, 'flow', system)}" in words
    assert f"nozzle {text(point.nozzle_flow, 'flow', system)}" in words
    assert f"pull {text(point.reaction, 'force', system)}" in words
    for loss in point.hose_losses:
        assert f"loses {text(float(loss), 'pressure', system)}" in words


def test_every_hose_is_drawn_with_the_pressure_at_each_joint():
    rig = demo_rig("yard_trailer")
    rig = rig.replace(hoses=(*rig.hoses, Hose("3/8 in", "50 ft"), Hose("1/4 in", "20 ft")))
    point, _, words = drawn(rig)
    assert sum(" bore, " in word for word in words) == 3
    for pressure in point.hose_pressures[1:]:
        assert text(float(pressure), "pressure", "US") in words


def hoses(content):
    """(class, width) of each piece of hose in the line."""
    return re.findall(r'<path class="jl-line-(\w+)" fill="none" stroke-width="([\d.]+)" d="M[\d.]+ 186H', content)


def test_a_hose_is_as_wide_as_its_bore_and_colored_by_its_pressure():
    rig = demo_rig("yard_small_bore")
    found = hoses(drawn(rig)[1])
    assert {float(width) for _, width in found} >= {round(bore_width(each.bore), 1) for each in rig.hoses}
    assert len({ink for ink, _ in found}) > 1, "pressure falls along the line"
    held = with_valve(demo_rig("yard_trailer"), "trapping").replace(outlet_shut=True)
    _, content, words = drawn(held)
    width = f"{bore_width(held.hoses[0].bore):.1f}"
    assert {ink for ink, each in hoses(content) if each == width} == {"p5"}, "a hose that holds pressure looks like it"
    assert "check valve" in words


def test_marks_run_where_water_does_and_faster_where_it_is_faster():
    def gaps(rig):
        return [float(gap) for gap in re.findall(r'stroke-dasharray="7 ([\d.]+)" d="M[\d.]+ 186H', drawn(rig)[1])]

    rig = demo_rig("yard_small_bore")
    wide, narrow = gaps(rig)[-2:]
    assert narrow > wide, "the same flow is faster in the smaller hose"
    assert not gaps(rig.replace(outlet_shut=True, valve=None))


def test_what_guards_the_pump_looks_different_for_each():
    rig = demo_rig("yard_trailer")
    kinds = [with_valve(rig, kind) for kind in ("unloader", "trapping", "burst disc", "none")]
    kinds.append(with_valve(rig, "burst disc", opened=True))
    shapes = {re.sub(r"<text.*?</text>|[\d.]+", "", drawn(each)[1]) for each in kinds}
    assert len(shapes) == len(kinds)


def test_the_needle_pegs_where_nothing_guards_a_shut_pump():
    loaded = demo_rig("yard_trailer")
    bare = with_valve(loaded, "none").replace(outlet_shut=True, engine=None)
    point = operating_point(bare, 1.0)
    words = stacked("", *schematic(bare, point, "US", loaded=loaded)).content
    assert point.gauge > 2 * loaded.unloader.setting
    assert "past its scale" in words


@pytest.mark.parametrize(
    ("valve", "said"),
    [(None, "no valve"), (BurstDisc("6000 psi"), "burst disc intact"), (BurstDisc("500 psi"), "burst disc open")],
)
def test_the_valve_is_named_with_its_state(valve, said):
    assert said in drawn(demo_rig("yard_trailer").replace(valve=valve))[2]


def test_a_shut_outlet_shows_no_jets_and_no_flow():
    point, _, words = drawn(demo_rig("yard_truck").replace(outlet_shut=True))
    assert "nozzle 0 gpm" in words
    assert point.line_pressure > point.gauge, "the truck's unloader traps"
