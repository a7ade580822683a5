"""Lesson 04's console: the parts of the line add up to the gauge, and each control changes the part it should."""

import xml.etree.ElementTree as ElementTree

import pytest

from jetlib.errors import JetlibError
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs
from jetlib.rig.point.operating_point import operating_point
from jetlib.screen.consoles.circuit_console import changed_line, circuit_console, pressure_parts
from jetlib.units import SYSTEMS, si, text

TRAILER = demo_rig("yard_trailer")
AS_LOADED = {"length": TRAILER.hoses[0].length, "bore": "1/2 in"}


@pytest.mark.parametrize("name", demo_rigs())
@pytest.mark.parametrize("lift", [-20.0, 0.0, 20.0])
def test_parts_add_up_to_the_gauge(name, lift):
    rig = demo_rig(name)
    line = changed_line(rig, length=rig.hoses[0].length, bore=rig.hoses[0].bore, lift=lift)
    for throttle in (0.0, 0.6, 1.0):
        point = operating_point(line, throttle)
        assert sum(pressure_parts(point).values()) == pytest.approx(point.gauge, rel=1e-9)


def test_the_line_as_loaded_is_the_rig():
    assert changed_line(TRAILER, **AS_LOADED) == TRAILER


def test_lift_is_the_weight_of_the_water():
    """62.4 lb/ft³ over 144 in²/ft² is 0.433 psi a foot (any hydraulics handbook)."""
    point = operating_point(changed_line(TRAILER, **AS_LOADED, lift="100 ft"), 0.5)
    assert point.lift_pressure == pytest.approx(100 * si("62.4 psi", "pressure") / 144, rel=2e-3)


def test_more_hose_costs_hose_and_a_jet_more_costs_jets():
    base = operating_point(TRAILER, 0.5)
    longer = operating_point(changed_line(TRAILER, length=2 * AS_LOADED["length"], bore="1/2 in"), 0.5)
    one_more = operating_point(changed_line(TRAILER, **AS_LOADED, jets="one more"), 0.5)
    assert longer.hose_loss > 1.8 * base.hose_loss
    assert longer.nozzle_pressure == pytest.approx(base.nozzle_pressure, rel=0.01)
    old, new = TRAILER.nozzle.effective_area, one_more.rig.nozzle.effective_area
    flow_ratio = one_more.nozzle_flow / base.nozzle_flow
    assert one_more.nozzle_pressure / base.nozzle_pressure == pytest.approx((flow_ratio * old / new) ** 2)
    assert one_more.hose_loss == pytest.approx(base.hose_loss, rel=0.05)


def test_other_jets():
    first = TRAILER.nozzle.jets[0]
    fewer = changed_line(TRAILER, **AS_LOADED, jets="one less").nozzle.jets[0]
    assert fewer.count == first.count - 1
    larger, smaller = (changed_line(TRAILER, **AS_LOADED, jets=name).nozzle for name in ("larger", "smaller"))
    assert smaller.area < TRAILER.nozzle.area < larger.area
    with pytest.raises(JetlibError, match="one more"):
        changed_line(TRAILER, **AS_LOADED, jets="two more")


def test_what_lies_on_the_reel_stays_there_while_there_is_hose_for_it():
    short = changed_line(TRAILER, length="60 ft", bore="1/2 in").hoses[0]
    assert short.coiled_length == short.length
    long = changed_line(TRAILER, length="400 ft", bore="1/2 in").hoses[0]
    assert long.coiled_length == TRAILER.hoses[0].coiled_length


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", demo_rigs())
def test_words_and_picture_hold_the_same_figures(name, system):
    console = circuit_console(name, throttle=0.5, system=system)
    point = operating_point(demo_rig(name), 0.5)
    svg = console.picture.svg()
    for part, pressure in pressure_parts(point).items():
        shown = f"{part} {text(pressure, 'pressure', system)}"
        assert (shown in console.words) == (pressure > 0)
        assert (f">{shown}<" in svg) == (pressure > 0)
    assert f"gauge {text(point.gauge, 'pressure', system)}" in console.words
    assert ElementTree.fromstring(svg).get("aria-label") == console.words


def test_share_of_the_power_is_that_of_the_balance():
    console = circuit_console(throttle=1.0)
    point = operating_point(TRAILER, 1.0)
    share = point.power_shares["jets"] / sum(point.power_shares.values())
    assert f"{100 * share:.0f} % of it reaches the jets" in console.words


def test_a_kept_line_stays_beside_the_new_one():
    console = circuit_console(throttle=0.5)
    console._fields["keep"].box.click()
    assert "kept line" not in console.words.lower()
    console.set(bore="3/8 in")
    before = operating_point(TRAILER, 0.5)
    assert f"The kept line, at 50 % throttle: gauge {text(before.gauge, 'pressure', 'US')}" in console.words
    assert "kept gauge" in console.picture.content
    console.set(bore="1/2 in")
    assert "kept line" not in console.words.lower()


def test_a_drop_helps_the_pump():
    level = circuit_console(throttle=0.5)
    below = circuit_console(throttle=0.5, lift="-100 ft")
    assert "from the drop" in below.words
    assert "from the drop" in below.picture.content
    assert (
        operating_point(changed_line(TRAILER, **AS_LOADED, lift="-100 ft"), 0.5).gauge
        < operating_point(TRAILER, 0.5).gauge
    )
    assert "drop" not in level.words


def test_an_open_valve_is_said():
    console = circuit_console(bore="3/8 in", length="600 ft")
    assert "The valve is open" in console.words
    assert "The valve is open" not in circuit_console().words
