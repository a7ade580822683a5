"""The console of a sudden stop says what the surge itself says, and warns where a hose comes over its rating."""

import pytest

from jetlib.rig.hoses.surge import surge
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs
from jetlib.rig.point.operating_point import operating_point
from jetlib.screen import surge_console
from jetlib.units import SYSTEMS, text


@pytest.mark.parametrize("name", demo_rigs())
@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize(("throttle", "time"), [(1.0, 0.05), (0.5, 0.2), (0.0, 0.5)])
def test_its_sentence_is_that_of_the_surge(name, system, throttle, time):
    words = surge_console(name, system=system, throttle=throttle, closing_time=time).picture.words
    found = surge(operating_point(demo_rig(name), throttle), closing_time=time)
    low, _, high = (text(float(each), "pressure", system) for each in found.peaks[:, -1])
    assert f"the last hose sees {low}" in words and high in words
    assert (f"{low} to {high}" in words) == (low != high)
    assert ("over its rating" in words) == bool(found.over[-1])
