"""Lesson 10's consoles on the machine: power by altitude, water that leaves, heat that comes back, and true words."""

import xml.etree.ElementTree as ElementTree

import pytest

from jetlib.rig.parts.rig_file import demo_rig, demo_rigs
from jetlib.rig.point.operating_point import operating_point
from jetlib.screen.consoles.supply_console import engine_rig, power_console, tank_console, tank_supply
from jetlib.units import SYSTEMS, from_si, si, text

TRAILER = demo_rig("yard_trailer")
PLAIN = {
    "throttle": 1.0,
    "shut": False,
    "volume": si("100 gal", "volume"),
    "refill": 0.0,
    "returns": "tank",
    "temperature": si("60 degF", "temperature"),
}


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", demo_rigs())
def test_power_in_words_and_picture(name, system):
    console = power_console(name, system=system)
    point = operating_point(demo_rig(name))
    shown = text(point.shaft_power, "power", system)
    assert f"needs {shown}" in console.words
    assert f">{shown}<" in console.picture.content
    assert ElementTree.fromstring(console.picture.svg()).get("aria-label") == console.words


def test_three_per_cent_for_each_thousand_feet_above_five_hundred():
    """The rule of agricultural engineering, common practice: 4500 ft is four steps, 12 % of 24 hp."""
    console = power_console(altitude="4500 ft")
    assert f"has {text(si('24 hp', 'power') * 0.88, 'power', 'US')}" in console.words
    assert "rated power, at sea level" in console.picture.content
    assert "as rated" not in power_console().picture.content


def test_an_electric_motor_does_not_mind():
    console = power_console("yard_cart", altitude="9000 ft")
    assert f"The motor has {text(si('1.9 kW', 'power'), 'power', 'US')}" in console.words


def test_an_engine_that_has_not_enough_bogs_and_less_throttle_helps():
    high = {"altitude": "9000 ft", "condition": 0.8}
    bogged = power_console(**high)
    point = operating_point(engine_rig("yard_trailer", **high))
    assert point.engine_bogged
    assert "The engine bogs" in bogged.words
    assert f"gauge {text(point.gauge, 'pressure', 'US')}" in bogged.words
    assert "The engine bogs" not in power_console(throttle=0.7, **high).words
    assert "Less than 10 % is in reserve" in power_console(altitude="8000 ft").words


def test_the_tank_lasts_as_long_as_what_leaves_the_nozzle_lets_it():
    found = tank_supply("yard_small_bore", **PLAIN)
    point = operating_point(demo_rig("yard_small_bore").replace(water_temperature=PLAIN["temperature"]))
    assert point.bypass_flow > 0.0
    minutes = 90.0 / from_si(point.nozzle_flow, "flow", "US")  # nine tenths of 100 gal
    assert from_si(found.tank_time, "duration", "US") == pytest.approx(minutes)
    assert f"The tank lasts {text(found.tank_time, 'duration', 'US')}" in tank_console("yard_small_bore").words


def test_a_filling_hose_that_keeps_up():
    assert "The tank level does not fall" in tank_console(refill="20 gpm").words
    assert "The tank lasts" in tank_console(refill="5 gpm").words


def test_all_the_heat_in_the_tank():
    """One horsepower for a minute is 42.4 Btu (the Btu and the horsepower, by definition); a gallon weighs 8.34 lb."""
    found = tank_supply("yard_trailer", **{**PLAIN, "shut": True})
    horsepower = from_si(found.heating_power, "power", "US")
    minutes = (140.0 - 60.0) * 100.0 * 8.34 / (42.4 * horsepower)
    assert from_si(found.limit_time, "duration", "US") == pytest.approx(minutes, rel=0.01)
    words = tank_console(shut=True).words
    assert f"after {text(found.limit_time, 'duration', 'US')}: stop before that" in words


def test_the_loop_to_the_inlet_is_hot_in_no_time():
    found = tank_supply("yard_trailer", **{**PLAIN, "shut": True, "returns": "inlet"})
    assert 20.0 < found.limit_time < 60.0
    assert text(found.limit_time, "duration", "US") in tank_console(shut=True, returns="inlet").words


def test_a_valve_that_drops_the_pump_to_nothing_hardly_warms_the_tank():
    assert "after two hours" in tank_console("yard_truck", shut=True).words


def test_nothing_back_nothing_warmed():
    assert "the bypass does not heat it" in tank_console().words


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", demo_rigs())
@pytest.mark.parametrize("state", [{}, {"shut": True}, {"shut": True, "returns": "inlet"}, {"refill": "3 gpm"}])
def test_every_state_can_be_drawn(name, system, state):
    svg = tank_console(name, system=system, **state).picture.svg()
    assert "nan" not in svg
    assert "inf" not in svg.replace("infinite", "")
    assert ElementTree.fromstring(svg) is not None
