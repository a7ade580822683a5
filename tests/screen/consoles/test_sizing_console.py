"""Lesson 06's consoles say and draw what the engine gives, for every drill and every wish."""

import xml.etree.ElementTree as ElementTree

import numpy as np
import pytest

from jetlib import tables
from jetlib.errors import JetlibError
from jetlib.rig.jets.matching import matched_jets
from jetlib.rig.jets.sizing import size_jets
from jetlib.rig.parts.machine import Jet, Nozzle
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs
from jetlib.rig.point.operating_point import operating_point
from jetlib.screen.consoles.sizing_console import drills_console, fitted, rear_bore_to_match, sets_console
from jetlib.units import SYSTEMS, si, text

SMALL = demo_rig("yard_small_bore")


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", demo_rigs())
def test_drills_console_starts_as_the_rig_stands(name, system):
    console, rig = drills_console(name, system=system), demo_rig(name)
    point = operating_point(rig)
    for reading, kind in (
        ("gauge", "pressure"),
        ("nozzle_flow", "flow"),
        ("bypass_flow", "flow"),
        ("reaction", "force"),
    ):
        assert text(getattr(point, reading), kind, system) in console.words
    svg = ElementTree.fromstring(console.picture.svg())
    assert svg.get("aria-label") == console.words


@pytest.mark.parametrize("name", demo_rigs())
def test_the_bore_to_match_brings_the_gauge_to_the_setting_at_full_throttle(name):
    rig = demo_rig(name)
    first = rig.nozzle.jets[0]
    for added in (0.0, 15.0):
        line = fitted(rig, count=first.count, bore=first.bore, added=added)
        bore = rear_bore_to_match(line)
        point = operating_point(fitted(rig, count=first.count, bore=bore, added=added))
        assert point.gauge == pytest.approx(rig.unloader.setting, rel=1e-6)
        assert point.bypass_flow == pytest.approx(0.0, abs=1e-6 * point.pump_flow)


def test_no_bore_matches_a_hose_that_takes_it_all():
    line = fitted(SMALL, count=4, bore=0.0008, added=si("300 ft", "length"))
    assert not matched_jets(line).possible
    assert rear_bore_to_match(line) == 0.0
    console = drills_console(added="300 ft")
    assert "No jets can match" in console.words
    assert "matched area" not in console.words


def test_front_holes_that_are_too_large_leave_no_bore_for_the_rear():
    wide = SMALL.replace(nozzle=Nozzle([Jet("#70", count=4), Jet("#40", count=4, angle="180 deg")]))
    assert rear_bore_to_match(wide) == 0.0


def test_buttons_step_through_the_number_drills_and_stop_at_the_ends():
    console = drills_console(drill="#70")
    console._fields["larger"].box.click()
    assert console.values["drill"] == "#69"
    console._fields["smaller"].box.click()
    console._fields["smaller"].box.click()
    assert console.values["drill"] == "#71"
    for label, button in (("#80", "smaller"), ("#40", "larger")):
        console.set(drill=label)
        console._fields[button].box.click()
        assert console.values["drill"] == label


def test_a_ring_for_every_drill_in_the_picture_and_the_matched_line():
    console = drills_console()
    match = rear_bore_to_match(SMALL)
    bores = np.array([row.diameter for row in tables.drills("number")])
    many, few = (rear_bore_to_match(fitted(SMALL, count=n, bore=SMALL.nozzle.jets[0].bore, added=0.0)) for n in (8, 2))
    near = np.count_nonzero((bores >= 0.72 * many) & (bores <= 1.36 * few))
    assert console.picture.content.count('r="3.2"') == 2 * near
    assert f"matched, {text(match, 'jet_bore', 'US')}" in console.picture.content


def test_small_holes_open_the_valve_early_and_large_ones_never():
    assert "the valve opens at 79 % throttle" in drills_console(drill="#70").words
    assert f"{matched_jets(SMALL).bypass_throttle:.2f}" == "0.79"
    assert "the valve stays shut" in drills_console(drill="#64").words
    assert "open from idle up" in drills_console(drill="#80").words


def test_added_hose_is_of_the_last_kind_and_lies_straight():
    trailer = demo_rig("yard_trailer")
    added = fitted(trailer, count=4, bore=0.001, added=10.0).hoses
    assert len(added) == 2
    assert (added[1].bore, added[1].length, added[1].coiled_length) == (trailer.hoses[0].bore, 10.0, 0.0)
    assert fitted(trailer, count=4, bore=0.001, added=10.0, hose="3/8 in").hoses[1].bore == si("3/8 in", "hose_bore")
    assert fitted(trailer, count=4, bore=0.001).hoses == trailer.hoses


@pytest.mark.parametrize("system", SYSTEMS)
def test_sets_console_lists_what_size_jets_ranks(system):
    console = sets_console("yard_trailer", added="0 ft", front=(1,), system=system)
    wanted = size_jets(demo_rig("yard_trailer"), front_holes=(1,), top=6)
    words = [node.text for node in ElementTree.fromstring(console.picture.svg()).iter() if node.tag.endswith("text")]
    for each in wanted:
        assert each.label in words
        assert text(each.pull, "force", system) in words
    assert f"Best: {wanted[0].label}, " in console.words
    assert f"{wanted.considered:,} sets" in console.words


def test_a_wish_is_kept():
    console = sets_console("yard_trailer", added="200 ft")
    free = console.words
    console.set(pull="14 lbf")
    kept = size_jets(
        fitted(demo_rig("yard_trailer"), count=4, bore=demo_rig("yard_trailer").nozzle.jets[0].bore,
               added=si("200 ft", "length"), hose="3/8 in"),
        front_holes=(1,), keep_pull="14 lbf", top=6,
    )  # fmt: skip
    assert all(each.pull >= si("14 lbf", "force") for each in kept)
    assert kept[0].label in console.words
    assert console.words != free
    console.set(pull="40 lbf")
    assert "No set keeps a pull of 40 lbf" in console.words
    assert "no set meets this" in console.picture.content


def test_one_drill_only():
    console = sets_console(sizes=1)
    rows = [node.text for node in ElementTree.fromstring(console.picture.svg()).iter() if "rear" in (node.text or "")]
    assert len(rows) == 6
    assert all(len({word for word in row.split() if word.startswith("#")}) == 1 for row in rows)


def test_cautions_of_the_best_set_are_said():
    console = sets_console("yard_small_bore", added="0 ft")
    best = size_jets(SMALL, front_holes=(1,), top=6)[0]
    for caution in best.cautions:
        assert caution in console.words


def test_unknown_rig():
    with pytest.raises(JetlibError, match="yard_trailer"):
        drills_console("no_such_rig")
