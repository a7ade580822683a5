"""The drawn rig says what the computed rig does."""

import re
import xml.etree.ElementTree as ElementTree

import pytest

from jetlib import BurstDisc, Hose, operating_point
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs
from jetlib.screen.drawing.schematic import schematic
from jetlib.units import text

SVG = '<svg xmlns="http://www.w3.org/2000/svg">{}</svg>'


def drawn(rig, throttle=1.0, system="US"):
    point = operating_point(rig, throttle)
    content, *_ = schematic(rig, point, system)
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


def widths(content):
    return [float(found) for found in re.findall(r'stroke-width="([\d.]+)" points', content)]


def test_streams_widen_with_their_flow():
    rig = demo_rig("yard_small_bore")
    little, much = drawn(rig, 0.8)[1], drawn(rig.replace(hoses=(*rig.hoses, Hose("3/16 in", "100 ft"))), 1.0)[1]
    back_little, back_much = widths(little)[1], widths(much)[1]
    assert back_little < back_much


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
