"""Lesson 09's consoles on the nozzle: forces by the momentum of the jets, and words that say what the picture shows."""

import xml.etree.ElementTree as ElementTree
from itertools import pairwise

import numpy as np
import pytest

from jetlib.rig.jets.work import thrust_split
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs
from jetlib.rig.point.operating_point import operating_point
from jetlib.screen.consoles.pull_console import cut_console, pull_console, shared_area, turned_nozzle
from jetlib.units import SYSTEMS, from_si, si, text

TRAILER = demo_rig("yard_trailer")


@pytest.mark.parametrize("name", demo_rigs())
def test_it_begins_with_the_rig_as_it_is(name):
    rig = demo_rig(name)
    console = pull_console(name)
    as_loaded = turned_nozzle(rig, angle=console.values["angle"], front=console.values["front"])
    assert as_loaded.nozzle.effective_area == pytest.approx(rig.nozzle.effective_area)
    assert operating_point(as_loaded).reaction == pytest.approx(operating_point(rig).reaction)
    assert f"Net pull along the hose: {text(operating_point(rig).reaction, 'force', 'US')}" in console.words


def test_the_rear_pull_goes_with_the_cosine():
    """cos 60 degrees is 1/2: half of an equilateral triangle."""
    straight, wide = (
        thrust_split(operating_point(turned_nozzle(TRAILER, angle=angle, front=0))).rear
        for angle in ("0 deg", "60 deg")
    )
    assert wide == pytest.approx(straight / 2.0)


def test_reaction_of_the_fire_service():
    """NR = 1.57 d^2 p (IFSTA, smooth bore, pounds, inches, psi), for a jet that fills its hole: here times Cd and "
    "Cv."""
    point = operating_point(turned_nozzle(TRAILER, angle="0 deg", front=0))
    jet = point.rig.nozzle.jets[0]
    inches, psi = from_si(jet.bore, "jet_bore", "US"), from_si(point.nozzle_pressure, "pressure", "US")
    published = 1.57 * inches**2 * psi * jet.count * jet.discharge_coefficient * jet.velocity_coefficient
    assert from_si(point.reaction, "force", "US") == pytest.approx(published, rel=0.005)


def test_front_holes_take_pull_away_and_may_push_the_nozzle_out():
    pulls = [operating_point(turned_nozzle(TRAILER, angle="30 deg", front=front)).reaction for front in range(5)]
    assert all(more > less for more, less in pairwise(pulls))
    out = pull_console(angle="70 deg", front=3)
    assert "NO PULL IS LEFT" in out.words
    assert "back out" in out.picture.content
    assert "NO PULL" not in pull_console().words


def test_a_rig_without_front_jets_gets_some():
    rig = turned_nozzle(demo_rig("yard_small_bore"), angle="25 deg", front=2)
    assert [int(jet.count) for jet in rig.nozzle.jets] == [4, 2]
    assert rig.nozzle.jets[1].angle == pytest.approx(np.pi)


def test_fewer_jets_open_the_valve_and_it_is_said():
    assert "The valve is open" in pull_console(front=0).words
    assert "The valve is open" not in pull_console().words


@pytest.mark.parametrize("system", SYSTEMS)
def test_words_and_picture_say_the_same(system):
    console = pull_console(system=system)
    split = thrust_split(operating_point(TRAILER))
    svg = console.picture.svg()
    for name, force in (("rear", split.rear), ("front", split.front), ("net", split.net)):
        shown = text(force, "force", system)
        assert shown in console.words
        assert f">{name} {shown} " in svg
    assert ElementTree.fromstring(svg).get("aria-label") == console.words


@pytest.mark.parametrize("count", [1, 4, 12])
def test_shared_holes_have_the_area_of_the_nozzle(count):
    rig = shared_area(TRAILER, count=count, angle="30 deg")
    assert rig.nozzle.effective_area == pytest.approx(TRAILER.nozzle.effective_area)
    assert rig.nozzle.jets[0].count == count


def test_fewer_and_larger_holes_bite_harder_with_the_same_pull():
    many, few = (cut_console(count=count).words for count in (8, 2))
    pull = text(operating_point(shared_area(TRAILER, count=8, angle="30 deg")).reaction, "force", "US")
    assert f"together they pull {pull}" in many
    assert f"together they pull {pull}" in few
    assert left(few) == pytest.approx(4.0 * left(many), rel=0.02)


def left(words):
    """Pressure (Pa) that the words say is left at the wall."""
    return si(words.split("In a full pipe ")[1].split(" of the ")[0], "pressure")


def test_twice_as_far_leaves_a_quarter():
    """Beyond the free stretch the speed falls as one over the distance (Albertson and others, 1950)."""
    near, far = (left(cut_console(gap=gap).words) for gap in ("1 in", "2 in"))
    assert far == pytest.approx(near / 4.0, rel=0.02)


def test_a_wide_angle_brings_the_wall_nearer():
    assert left(cut_console(angle="90 deg").words) == pytest.approx(
        4.0 * left(cut_console(angle="30 deg").words), rel=0.02
    )


def test_in_air_the_hundred_bores_are_named():
    assert "In air the wall is within" in cut_console(gap="1 in").words
    assert "In air the wall is beyond" in cut_console(gap="6 in").words
    assert ElementTree.fromstring(cut_console(system="metric").picture.svg()) is not None
