"""Lesson 09's console on the hose: reach by friction, slope and bends, and words that go with the picture."""

import xml.etree.ElementTree as ElementTree

import numpy as np
import pytest

from jetlib.course.exercises.yard_job import yard_rig
from jetlib.rig.job.reach import line_weights
from jetlib.rig.parts.rig_file import demo_rigs
from jetlib.rig.point.operating_point import operating_point
from jetlib.screen.consoles.pull_console import reach_console, reach_of
from jetlib.units import SYSTEMS, text

TRAILER = yard_rig(braid="fiber braid")
LEVEL = {"kind": 0.4, "friction": 0.4, "fall": 0.0, "way": "upstream", "turn": 0.0, "at": 6.0}


@pytest.mark.parametrize("friction", [0.2, 0.4, 0.8])
def test_on_the_level_reach_is_pull_over_drag(friction):
    """Friction of a sledge: force = coefficient x weight (any textbook of statics)."""
    found = reach_of("yard_trailer", **{**LEVEL, "friction": friction})
    (weight,) = line_weights(TRAILER)
    assert found.distance == pytest.approx(operating_point(TRAILER).reaction / (friction * weight))


def test_a_bend_multiplies_what_hangs_behind_it():
    """A rope round a quarter of a post at a friction of 0.4: exp(0.4 x pi/2) = 1.874 (Euler and Eytelwein)."""
    bent = reach_of("yard_truck", **{**LEVEL, "turn": np.pi / 2.0})
    straight = reach_of("yard_truck", **LEVEL)
    assert bent.drag(6.001) / straight.drag(6.0) == pytest.approx(1.874, rel=2e-3)
    assert bent.distance < straight.distance


def test_up_a_fall_is_shorter_than_down_it():
    up, level, down = (
        reach_of("yard_trailer", **{**LEVEL, "fall": fall, "way": way}).distance
        for fall, way in ((0.1, "upstream"), (0.0, "upstream"), (0.1, "downstream"))
    )
    assert up < level < down


def test_a_lighter_hose_goes_farther_but_its_water_weighs_too():
    heavy, light = (reach_of("yard_trailer", **{**LEVEL, "kind": kind}).distance for kind in (1.0, 0.4))
    assert 1.3 * heavy < light < heavy / 0.4


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", demo_rigs())
def test_words_and_picture_hold_the_reach(name, system):
    console = reach_console(name, fall=0.0, system=system)
    found = text(reach_of(name, **LEVEL).distance, "length", system)
    svg = console.picture.svg()
    assert f"pull the nozzle {found} in" in console.words
    assert f">{found}<" in svg
    assert ElementTree.fromstring(svg).get("aria-label") == console.words
    assert "nan" not in svg


def test_what_stops_it_is_said():
    assert "the hose drags as hard as they pull" in reach_console().words
    assert "they cannot pull it around the bend" in reach_console(turn=np.pi, at="60 ft").words
    assert "the end of the run" in reach_console("yard_truck", way="downstream", fall=0.2, kind=0.4).words
    assert "that is all the hose" in reach_console("yard_cart", way="downstream", fall=0.2, friction=0.2).words


def test_a_hose_that_slides_by_itself_is_warned_of():
    assert "slides down by itself" in reach_console(way="downstream", fall=0.2, friction=0.2).words
    assert "slides" not in reach_console().words
