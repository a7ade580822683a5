"""Water running off down a drain against Manning's tables and published thresholds of motion."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jetlib import Drain, JetlibError, flushing
from jetlib.rig.job.flushing import DEBRIS, shear_that_moves

OFTEN = settings(max_examples=60, deadline=None, derandomize=True, database=None)
GPM = 3.785411784e-3 / 60


def sewer(**changes):
    return Drain("8 in", "300 ft", fall=0.004, manning_n=0.013).replace(**changes)


def test_full_pipe_of_the_tables():
    # Manning: 8 in at 0.40 %, n 0.013, carries 343 gpm just full, which stands at 0.82 of the bore
    found = flushing("343 gpm", sewer())
    assert found.depth_ratio == pytest.approx(0.82, abs=0.005)
    assert not found.full
    half = flushing(343 / 2 * GPM, sewer())  # half the flow, half the bore, the full pipe's speed: any table
    assert half.depth_ratio == pytest.approx(0.5, abs=0.002)
    assert half.velocity == pytest.approx(343 * GPM / (np.pi / 4 * 0.2032**2), rel=3e-3)
    assert half.shear == pytest.approx(1000 * 9.80665 * 0.2032 / 4 * 0.004, rel=3e-3)


def test_more_than_it_carries_fills_it():
    found = flushing(2 * 343 * GPM, sewer())
    assert found.full and found.depth_ratio == 1.0
    # Twice the flow wants four times the slope (Manning), and drags four times as hard on the wall
    assert found.shear == pytest.approx(4 * 1000 * 9.80665 * 0.2032 / 4 * 0.004, rel=6e-3)
    assert "it fills" in " ".join(found.cautions)


def test_level_pipe():
    found = flushing("10 gpm", sewer(fall=0.0))
    assert found.full and found.velocity == pytest.approx(10 * GPM / (np.pi / 4 * 0.2032**2))
    assert "without fall" in found.cautions[0]
    assert "it fills" not in " ".join(found.cautions)


@pytest.mark.parametrize(
    ("millimetres", "pascal", "tolerance"),
    [
        (1.0, 0.867, 0.01),  # ASCE MOP 60 / WEF FD-5 (Merritt), published as 0.0181 lb/ft2
        (8.0, 5.7, 0.15),  # Julien, Erosion and Sedimentation, threshold of medium gravel (from memory; Shields 0.044)
        (16.0, 12.2, 0.10),  # the same, coarse gravel
    ],
)
def test_threshold_of_motion(millimetres, pascal, tolerance):
    assert shear_that_moves(millimetres / 1000) == pytest.approx(pascal, rel=tolerance)


@OFTEN
@given(st.floats(1e-4, 0.03), st.floats(1.001, 3.0))
def test_larger_grains_want_more(grain, more):
    assert shear_that_moves(more * grain) >= shear_that_moves(grain)


@OFTEN
@given(st.floats(1e-6, 3e-3), st.floats(0.002, 0.2), st.floats(0.001, 0.1))
def test_largest_grain_is_the_one_that_just_moves(flow, bore, fall):
    found = flushing(flow, Drain(0.05 + bore, "60 ft", fall=fall))
    if found.largest_grain > 2e-5:
        assert flushing(flow, found.drain, grain=min(found.largest_grain * 0.999, 0.02)).moves_debris
    if 1e-5 < found.largest_grain < 0.019:
        assert not flushing(flow, found.drain, grain=found.largest_grain * 1.001).moves_debris
    more = flushing(1.2 * flow, found.drain)
    assert more.depth_ratio >= found.depth_ratio
    if not more.full:  # a pipe that has just filled has more wall to wet, and drags a little less than one at 0.8
        assert more.largest_grain >= found.largest_grain


def test_kinds_of_debris():
    for name, grain in DEBRIS.items():
        found = flushing("12 gpm", sewer(fall=0.02), grain=grain)
        assert (found.moves_debris is None) == (grain is None), name
    small, large = (flushing("12 gpm", sewer(fall=0.02), grain=DEBRIS[name]) for name in ("fine sand", "gravel"))
    assert small.moves_debris and not large.moves_debris
    assert "Coarser ones stay" in " ".join(large.cautions)


def test_arrays():
    flows = np.array([0.0, 5.0, 343.0, 600.0]) * GPM
    found = flushing(flows, sewer())
    assert found.depth_ratio[0] == 0.0 and found.velocity[0] == 0.0
    assert list(found.full) == [False, False, False, True]
    for at, flow in enumerate(flows[1:], start=1):
        assert found.velocity[at] == pytest.approx(flushing(float(flow), sewer()).velocity)


def test_refusals():
    with pytest.raises(JetlibError, match="drain is '8 in'"):
        flushing("8 gpm", "8 in")
    with pytest.raises(JetlibError, match="flow"):
        flushing("8 ft", sewer())
    with pytest.raises(JetlibError, match="grain"):
        flushing("8 gpm", sewer(), grain="2")
