"""Lesson 01's consoles say what the pump does, and the scales what the definitions of the units give."""

import xml.etree.ElementTree as ElementTree

import pytest

from jetlib.rig.point.operating_point import operating_point
from jetlib.screen.consoles.pump_console import THROTTLES, amounts_console, outlet_rig, pump_console
from jetlib.units import SYSTEMS, si, text

OUTLETS = ("open", "large", "small", "shut")


@pytest.mark.parametrize("throttle", [0.0, 0.5, 1.0])
def test_the_gauge_climbs_from_outlet_to_outlet_and_the_swept_flow_does_not(throttle):
    points = [operating_point(outlet_rig(outlet), throttle) for outlet in OUTLETS]
    gauges = [point.gauge for point in points]
    assert gauges == sorted(gauges)
    assert gauges[0] < si("15 psi", "pressure"), "an open end asks for next to nothing"
    assert gauges[-1] >= outlet_rig("shut").unloader.setting
    assert len({round(point.swept_flow, 12) for point in points}) == 1


def test_an_open_end_gives_displacement_times_speed():
    rig = outlet_rig("open")
    for throttle in (0.0, 0.3, 1.0):
        point = operating_point(rig, throttle)
        assert point.nozzle_flow == pytest.approx(rig.pump.rated_flow * point.speed / rig.pump.rated_speed, rel=1e-3)


def test_a_shut_outlet_sends_everything_back_through_the_valve():
    console = pump_console(outlet="shut")
    point = operating_point(outlet_rig("shut"), 1.0)
    assert "0 gpm leaves through the outlet" in console.words
    assert f"{text(point.pump_flow, 'flow', 'US')} returns to the tank through the bypass valve" in console.words


def test_wear_shows_under_pressure_and_not_with_an_open_end():
    sound, worn = (
        {outlet: operating_point(outlet_rig(outlet, share), 1.0).pump_flow for outlet in OUTLETS}
        for share in (0.95, 0.70)
    )
    assert worn["open"] == pytest.approx(sound["open"], rel=1e-3)
    assert worn["small"] < 0.88 * sound["small"]


def test_two_outlets_can_show_one_gauge_with_different_flows():
    """What the lesson asks the reader to find: a gauge alone does not tell the flow."""
    wanted = operating_point(outlet_rig("large"), 1.0)
    found = min((operating_point(outlet_rig("small"), t) for t in THROTTLES), key=lambda p: abs(p.gauge - wanted.gauge))
    assert found.gauge == pytest.approx(wanted.gauge, rel=0.03)
    assert found.nozzle_flow < 0.6 * wanted.nozzle_flow


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("outlet", OUTLETS)
def test_words_and_picture_hold_the_same_figures(outlet, system):
    console = pump_console(outlet=outlet, throttle=0.5, system=system)
    point = operating_point(outlet_rig(outlet), 0.5)
    svg = console.picture.svg()
    for value, kind, figures in (
        (point.gauge, "pressure", 3),
        (point.nozzle_flow, "flow", 3),
        (point.speed, "speed", 4),
    ):
        shown = text(value, kind, system, figures)
        assert shown in console.words
        assert f">{shown}<" in svg or f": {shown}<" in svg
    assert ElementTree.fromstring(svg).get("aria-label") == console.words


def test_scales_agree_with_the_definitions_of_the_units():
    """US gallon 231 in³ of 0.0254 m (NIST SP 811), Imperial gallon 4.54609 L (UK statute, 1985), psi (NIST SP 811)."""
    console = amounts_console(flow="10 gpm", pressure="1000 psi")
    litres = 10 * 231 * 0.254**3
    assert f"{litres:.3g} L/min" in console.words
    assert f"{litres / 4.54609:.3g} Imperial gallons" in console.words
    assert f"in {60 * 5 / 10:.0f} s" in console.words
    bar = 1000 * 4.4482216152605 / 0.0254**2 / 1e5
    assert f"{bar:.3g} bar, or {bar / 10:.3g} MPa" in console.words


def test_nothing_flowing_empties_no_tank():
    for system in SYSTEMS:
        console = amounts_console(flow="0 gpm", pressure="0 psi", system=system)
        assert "the tank stays as full as it is" in console.words
        ElementTree.fromstring(console.picture.svg())


def test_unit_switch_changes_the_volume_and_not_the_amounts():
    console = amounts_console()
    before = console.values.copy()
    console.use_units("metric")
    assert "20 L" in console.words
    assert console.values == before
