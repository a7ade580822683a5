"""Part-full flow against sewer standards, textbook examples, Chow's table and the library fluids."""

import fluids
import numpy as np
import pytest
from scipy.optimize import minimize_scalar

from jetlib import JetlibError
from jetlib.physics import channel

INCH, FOOT = 0.0254, 0.3048
GALLON = 3.785411784e-3 / 60
DRAIN = (0.1, 0.01, 0.011)


@pytest.mark.parametrize(
    ("inches", "slope", "feet_per_second"),  # Ten States minimum slopes, n 0.013; formula read, answer computed
    [(8, 0.0040, 2.19), (12, 0.0022, 2.13), (15, 0.0015, 2.04), (24, 0.0008, 2.04)],
)
def test_minimum_slopes_of_the_ten_states_standards(inches, slope, feet_per_second):
    diameter = inches * INCH
    full = channel.full_pipe_flow(diameter, slope, 0.013) / (np.pi / 4 * diameter**2) / FOOT
    assert full == pytest.approx(feet_per_second, rel=3e-3)  # three figures
    assert channel.velocity(1.0, diameter, slope, 0.013) / FOOT == pytest.approx(full, rel=1e-12)
    assert full >= 2.0  # what the standard asks of each


def test_full_pipe_flow():
    # Manning, computed independently: 8 in at 0.40 %, n 0.013: 343 gpm
    assert channel.full_pipe_flow(8 * INCH, 0.004, 0.013) / GALLON == pytest.approx(343.0, rel=1e-3)


def test_half_full():
    # Mott, Applied Fluid Mechanics, Example 14.2 (formula read): 200 mm, 0.1 %, n 0.013, half full: 0.005186 m3/s
    assert channel.flow(0.5, 0.2, 0.001, 0.013) == pytest.approx(0.005186, rel=1e-4)
    assert channel.depth_ratio(0.005186, 0.2, 0.001, 0.013) == pytest.approx(0.5, abs=2e-5)


def test_manning_velocity():
    # Cengel & Cimbala 2006, quoted: R 0.2859 m, S 0.005236, n 0.030: 1.0468 m/s
    found = channel.manning_velocity(0.2859, 0.005236, 0.03)
    assert found == pytest.approx(1.0468, rel=3e-5)
    assert found == pytest.approx(fluids.V_Manning(Rh=0.2859, S=0.005236, n=0.03), rel=1e-12)


def test_normal_depth():
    # R package hydraulics, example of manningc, quoted: 0.01 m3/s, 200 mm, 0.1 %, n 0.013: depth 0.158 m, velocity
    # 0.38 m/s, critical depth 0.085 m
    depth = channel.depth_ratio(0.01, 0.2, 0.001, 0.013)
    assert depth * 0.2 == pytest.approx(0.158, abs=5e-4)
    assert channel.velocity(depth, 0.2, 0.001, 0.013) == pytest.approx(0.38, abs=5e-3)
    assert channel.critical_depth_ratio(0.01, 0.2) * 0.2 == pytest.approx(0.085, abs=5e-4)


def test_two_thirds_full_by_darcy():
    # Crane TP-410, Example 7.26, quoted: 24 in, 3/4 in per foot, e/D 0.00036 on a diameter of 4 R: 24500 gpm
    diameter = 24 * INCH
    radius = channel.hydraulic_radius(2 / 3, diameter)
    factor = fluids.friction_factor(Re=5e6, eD=0.00036)
    flow = channel.darcy_velocity(radius, 0.75 / 12, factor) * channel.area(2 / 3, diameter)
    assert flow / GALLON == pytest.approx(24500, rel=5e-3)


def test_jetting_flow_in_a_four_inch_drain():
    # Manning and tau = rho g R S, computed: 8 gpm, 4 in, 1/4 in per foot, n 0.013: 0.173, 1.77 ft/s, 2.19 Pa
    slope = 0.25 / 12
    depth = channel.depth_ratio(8 * GALLON, 4 * INCH, slope, 0.013)
    assert depth == pytest.approx(0.173, abs=5e-4)
    assert channel.velocity(depth, 4 * INCH, slope, 0.013) / FOOT == pytest.approx(1.77, abs=5e-3)
    shear = channel.boundary_shear(channel.hydraulic_radius(depth, 4 * INCH), slope, density=998.2)
    assert shear == pytest.approx(2.19, abs=5e-3)


def test_sand_of_one_millimetre():
    # ASCE MOP 60/WEF FD-5 (Merritt), quoted: 0.867 Pa, printed also as 0.0181 lb/ft2
    assert channel.critical_shear(1e-3) == pytest.approx(0.867, rel=1e-12)
    assert channel.critical_shear(1e-3) / (4.4482216152605 / FOOT**2) == pytest.approx(0.0181, rel=2e-3)
    # the power 0.277 of the same formula is from memory: a quarter of the size, 0.681 of the shear
    assert channel.critical_shear(0.25e-3) / channel.critical_shear(1e-3) == pytest.approx(0.6811, rel=1e-3)
    sizes = np.array([0.0, 2e-4, 1e-3, 1.6e-3, 8e-3, 0.1])
    np.testing.assert_allclose(channel.moved_particle(channel.critical_shear(sizes)), sizes, rtol=1e-12)


@pytest.mark.parametrize(
    ("millimetres", "pascal", "tolerance"),
    [
        (2.0, 1.26, 0.25),  # Julien, Erosion and Sedimentation (1995), table, from memory
        (16.0, 15.0, 0.48),  # Buffington and Montgomery 1997: Shields 0.030 to 0.086 for rough beds, its middle
        (8.0, 5.7, 0.1),  # Julien, medium gravel, from memory
    ],
)
def test_gravel_asks_for_more_than_single_grains(millimetres, pascal, tolerance):
    assert channel.critical_shear(millimetres / 1000) == pytest.approx(pascal, rel=tolerance)


def test_needed_shear_has_no_step():
    """A grain a hundredth larger never asks for 3 % more, nor for less: two laws in one curve."""
    sizes = np.geomspace(1e-4, 0.1, 700)
    ratio = np.diff(np.log(channel.critical_shear(sizes)))
    assert (ratio > 0.0).all() and ratio.max() < 0.0101


@pytest.mark.parametrize(
    ("depth", "area", "radius"),  # Chow, Open-Channel Hydraulics, appendix A: A/D^2 and R/D, from memory
    [(0.10, 0.0409, 0.0635), (0.25, 0.1535, 0.1466), (0.5, 0.3927, 0.25), (0.75, 0.6318, 0.3017), (1.0, 0.7854, 0.25)],
)
def test_geometry_of_chow(depth, area, radius):
    assert channel.area(depth, 1.0) == pytest.approx(area, abs=1.5e-4)
    assert channel.hydraulic_radius(depth, 1.0) == pytest.approx(radius, abs=1.5e-4)
    wetted = channel.area(depth, 2.0) / channel.hydraulic_radius(depth, 2.0)
    assert wetted == pytest.approx(2.0 * np.arccos(1.0 - 2.0 * depth))  # the arc of the circle of radius 1


def test_greatest_flow_and_velocity():
    # Chow, circular section with constant n: 1.0757 times full flow at 0.938, 1.14 times full velocity at 0.813
    def most(function):
        return minimize_scalar(
            lambda y: -function(y, *DRAIN), bounds=(0.5, 1.0), method="bounded", options={"xatol": 1e-9}
        )

    flow, velocity = most(channel.flow), most(channel.velocity)
    assert flow.x == pytest.approx(0.938, abs=5e-4)
    assert -flow.fun / channel.full_pipe_flow(*DRAIN) == pytest.approx(1.0757, rel=5e-5)
    assert velocity.x == pytest.approx(0.813, abs=5e-4)
    assert -velocity.fun / channel.velocity(1.0, *DRAIN) == pytest.approx(1.14, rel=5e-4)
    assert channel.greatest_flow(*DRAIN) == pytest.approx(-flow.fun, rel=1e-7)
    assert flow.x == pytest.approx(0.9381812, abs=1e-6)


def test_depth_is_the_inverse_of_flow_all_the_way_to_the_greatest():
    depths = np.linspace(0.0, 0.938, 1500)
    found = channel.depth_ratio(channel.flow(depths, *DRAIN), *DRAIN)
    np.testing.assert_allclose(found, depths, rtol=0, atol=1e-8)
    assert found[0] == 0.0


def test_depth_rises_with_flow_and_takes_the_lower_branch():
    share = np.concatenate([[0.0], np.geomspace(1e-9, 1.0757, 800)])
    depth = channel.depth_ratio(share * channel.full_pipe_flow(*DRAIN), *DRAIN)
    assert (np.diff(depth) > 0).all()
    # the flow of a full pipe also runs at 0.82 of its depth (Chow, figure 6-5, read off as 0.82)
    assert channel.depth_ratio(channel.full_pipe_flow(*DRAIN), *DRAIN) == pytest.approx(0.82, abs=2e-3)
    assert channel.depth_ratio(channel.greatest_flow(*DRAIN), *DRAIN) == pytest.approx(0.938, abs=1e-3)


def test_more_than_the_pipe_carries_is_an_error():
    with pytest.raises(JetlibError, match=r"flow is 1\.2 times the full-pipe flow"):
        channel.depth_ratio(np.array([0.5, 1.2]) * channel.full_pipe_flow(*DRAIN), *DRAIN)


def test_critical_depth_has_a_froude_number_of_one():
    # definition: V^2 = g A/T; width of the surface by geometry, 2 sqrt(y (D - y))
    flow = np.geomspace(1e-8, 0.02, 40)
    depth = 0.1 * channel.critical_depth_ratio(flow, 0.1)
    area, width = channel.area(depth / 0.1, 0.1), 2 * np.sqrt(depth * (0.1 - depth))
    np.testing.assert_allclose((flow / area) ** 2 * width / (9.80665 * area), 1.0, rtol=1e-6)
    assert channel.critical_depth_ratio(0.0, 0.1) == 0.0
    assert channel.critical_depth_ratio(1.0, 0.1) == pytest.approx(1.0)


def test_shapes_and_types():
    grid = channel.depth_ratio([1e-5, 1e-4, 1e-3], np.array([[0.1], [0.15]]), 0.02, 0.011)
    assert grid.shape == (2, 3)
    assert grid[1, 2] == pytest.approx(channel.depth_ratio(1e-3, 0.15, 0.02, 0.011), rel=1e-12)
    for value in (
        channel.depth_ratio(np.float64(1e-3), *DRAIN),
        channel.depth_ratio(0.0, *DRAIN),
        channel.full_pipe_flow(*DRAIN),
        channel.critical_depth_ratio(1e-3, 0.1),
        channel.hydraulic_radius(0.3, 0.1),
        channel.velocity(0.3, *DRAIN),
    ):
        assert type(value) is float
    assert channel.hydraulic_radius(0.0, 0.1) == 0.0


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ((-1e-3, 0.1, 0.01, 0.013), "flow is -0.001 m3/s"),
        ((1e-3, 0.0, 0.01, 0.013), "diameter is 0 m"),
        ((1e-3, 0.1, -0.01, 0.013), "slope is -0.01"),
        ((1e-3, 0.1, 0.01, 0.0), "n is 0"),
        ((np.nan, 0.1, 0.01, 0.013), "flow is nan"),
    ],
)
def test_nonsense_is_an_error(arguments, message):
    with pytest.raises(JetlibError, match=message):
        channel.depth_ratio(*arguments)


def test_depth_ratio_of_more_than_full_is_an_error():
    with pytest.raises(JetlibError, match=r"depth_ratio is 1\.5"):
        channel.area(1.5, 0.1)
