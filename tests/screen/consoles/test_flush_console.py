"""Lesson 10's console on the drain: depth and drag of the water, and which grains go along."""

import xml.etree.ElementTree as ElementTree

import numpy as np
import pytest

from jetlib.rig.job.flushing import flushing
from jetlib.screen.consoles.supply_console import drain_of, flush_console, grain_words
from jetlib.units import SYSTEMS, si, text

PIPE = {"bore": si("4 in", "pipe_bore"), "fall": 0.02, "wall": 0.013}


@pytest.mark.parametrize("system", SYSTEMS)
def test_depth_and_speed_in_words_and_picture(system):
    console = flush_console(system=system)
    found = flushing("9 gpm", drain_of(**PIPE))
    deep = text(found.depth_ratio * PIPE["bore"], "pipe_bore", system)
    assert f"{deep} deep" in console.words
    for shown in (f"{deep} deep", text(found.velocity, "velocity", system)):
        assert f">{shown}<" in console.picture.content
    assert ElementTree.fromstring(console.picture.svg()).get("aria-label") == console.words


def test_millimetre_sand_goes_where_the_sewer_rule_says():
    """0.867 Pa keeps 1 mm sand from settling: Merritt, in ASCE MOP 60/WEF FD-5."""
    sand = {name: needed for name, _, needed in grain_words("US")}["coarse sand"]
    assert sand == pytest.approx(0.867)
    falls = np.array([0.0025, 0.02])
    shears = [float(flushing("9 gpm", drain_of(**{**PIPE, "fall": fall})).shear) for fall in falls]
    assert shears[0] < sand < shears[1]
    for fall, where in zip(falls, ("Left behind: ", "Carried along: "), strict=True):
        words = flush_console(fall=float(fall)).words
        assert "coarse sand" in words.split(where)[1].split(".")[0]


def test_coarser_grains_ask_for_more():
    needed = [shear for _, _, shear in grain_words("metric")]
    assert needed == sorted(needed)


def test_more_water_than_the_pipe_carries_fills_it():
    console = flush_console(bore=si("3 in", "pipe_bore"), fall=0.0025, flow="60 gpm")
    assert "it fills" in console.words
    assert ">full<" in console.picture.content


def test_names_of_grains_do_not_lie_on_one_another():
    root = ElementTree.fromstring(flush_console().picture.svg())
    heights = [
        float(each.get("y"))
        for each in root.iter("{http://www.w3.org/2000/svg}text")
        if each.text and (each.text.endswith(": goes") or each.text.endswith(": stays"))
    ]
    assert len(heights) >= 3
    assert np.diff(sorted(heights)).min() >= 14.0


@pytest.mark.parametrize("flow", ["0.5 gpm", "60 gpm"])
@pytest.mark.parametrize("fall", [0.0025, 0.1])
@pytest.mark.parametrize("inch", [3, 10])
def test_every_corner_can_be_drawn(flow, fall, inch):
    svg = flush_console(flow=flow, fall=fall, bore=si(f"{inch} in", "pipe_bore")).picture.svg()
    assert "nan" not in svg
    assert ElementTree.fromstring(svg) is not None
