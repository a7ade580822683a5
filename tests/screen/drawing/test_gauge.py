"""A gauge on the page is read like a real one: its scale stays, its needle points and can peg."""

import re
import xml.etree.ElementTree as ElementTree

import numpy as np
import pytest

from jetlib import demo_rig
from jetlib.screen.drawing.gauge import gauge, pressure_gauge, scale_step


def tip(svg):
    """Where the tip of the needle is from the middle of a gauge at 100, 100, up counted positive."""
    points = ElementTree.fromstring(f"<svg>{svg}</svg>").find(".//polygon[@class='jl-needle']").get("points").split()
    x, y = (float(each) for each in points[0].split(","))
    return x - 100.0, 100.0 - y


@pytest.mark.parametrize(("value", "degrees"), [(0.0, 225.0), (500.0, 90.0), (1000.0, -45.0), (250.0, 157.5)])
def test_needle_points_where_the_value_is(value, degrees):
    x, y = tip(gauge(100, 100, 50, value, 1000.0))
    assert np.hypot(x, y) == pytest.approx(43.0, abs=0.1)
    assert np.degrees(np.arctan2(y, x)) % 360.0 == pytest.approx(degrees % 360.0, abs=0.2)


def test_past_full_scale_the_needle_lies_against_its_pin():
    assert tip(gauge(100, 100, 50, 1e9, 1000.0)) == tip(gauge(100, 100, 50, 1100.0, 1000.0))
    assert tip(gauge(100, 100, 50, 1e9, 1000.0)) != tip(gauge(100, 100, 50, 1000.0, 1000.0)), "it is seen to be past"


def test_the_face_does_not_move_with_the_pressure():
    faces = {re.sub(r'<g class="jl-trace".*?</g>', "", gauge(0, 0, 80, value, 400.0)) for value in (0.0, 90.0, 800.0)}
    assert len(faces) == 1


@pytest.mark.parametrize("full", [1.0, 16.0, 25.0, 60.0, 100.0, 250.0, 400.0, 600.0, 1000.0, 5802.0, 14504.0])
def test_a_scale_has_round_figures_and_not_too_many(full):
    steps = full / scale_step(full)
    assert 2 <= steps <= 11
    assert f"{scale_step(full):g}".strip("0.")[0] in "125"


def test_a_large_gauge_has_both_units_and_a_red_mark():
    rig = demo_rig("yard_trailer")
    for system, mine, far in (("US", "psi", "bar"), ("metric", "bar", "psi")):
        svg = pressure_gauge(100, 100, 88, 1e7, 4e7, system, setting=rig.unloader.setting)
        words = re.findall(r">([a-z]+)</text>", svg)
        assert mine in words and far in words
        assert "jl-ink-red" in svg
    assert "jl-ink-red" not in pressure_gauge(100, 100, 88, 1e7, 4e7, "US")
