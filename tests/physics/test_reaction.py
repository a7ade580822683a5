"""Reaction of a jet against the momentum theorem as the fire service and textbooks print it."""

import numpy as np
import pytest

from jetlib import JetlibError
from jetlib.physics import reaction

GALLON = 3.785411784e-3 / 60
PSI = 6894.757293168
POUND = 4.4482216152605
INCH = 0.0254
COLD = 998.207  # kg/m3 at 20 degC, IAPWS-95


@pytest.mark.parametrize(
    ("inches", "psi", "pounds"),  # fire service NR = 1.57 d^2 NP (IFSTA); Casey 1970, R = 2 P A; formula read
    [(1, 50, 78.5), (15 / 16, 50, 69.0), (1.25, 80, 196.25)],
)
def test_fire_nozzle(inches, psi, pounds):
    area = np.pi / 4 * (inches * INCH) ** 2
    flow = area * np.sqrt(2 * psi * PSI / COLD)  # a full bore with no loss
    force = reaction.jet_reaction(flow, psi * PSI, density=COLD)
    assert force / POUND == pytest.approx(pounds, rel=1e-3)  # 1.57 is pi/2 rounded


def test_coefficient_of_the_usual_form():
    # F [lbf] = 0.0526 gpm sqrt(psi): published; 0.05262 computed from momentum with water at 20 degC
    force = reaction.jet_reaction(GALLON, PSI, density=COLD) / POUND
    assert force == pytest.approx(0.05262, rel=1e-4)
    assert force == pytest.approx(0.0526, rel=1e-3)


@pytest.mark.parametrize(
    ("gallons", "psi", "pounds"),  # momentum, computed independently
    [(4, 3000, 11.53), (8, 3000, 23.06), (5.5, 2000, 12.94)],
)
def test_jetting_flows(gallons, psi, pounds):
    force = reaction.jet_reaction(gallons * GALLON, psi * PSI, density=COLD, velocity_coefficient=1.0)
    assert force / POUND == pytest.approx(pounds, rel=5e-4)


def test_angle():
    args = (4 * GALLON, 3000 * PSI)
    angles = np.radians([0, 15, 90, 135, 180])
    pull = reaction.jet_reaction(*args, density=COLD, angle=angles) / POUND
    # momentum and geometry: 11.14 lbf at 15 degrees, computed; no pull across, the same push back ahead
    assert pull[1] == pytest.approx(11.14, rel=1e-3)
    assert pull[2] == pytest.approx(0.0, abs=1e-12)
    assert pull[3] == pytest.approx(-pull[0] / np.sqrt(2), rel=1e-12)
    assert pull[4] == pytest.approx(-pull[0], rel=1e-12)


def test_a_slower_jet_pulls_less_in_proportion():
    whole = reaction.jet_reaction(1e-4, 1e7, density=COLD)
    assert reaction.jet_reaction(1e-4, 1e7, density=COLD, velocity_coefficient=0.9) == pytest.approx(0.9 * whole)


def test_impact():
    # Cengel & Cimbala, Example 6-4 (formula read): 10 kg/s at 20 m/s on a flat plate, 200 N
    assert reaction.impact_force(10 / 1000, 20.0, density=1000.0) == pytest.approx(200.0, rel=1e-12)
    # textbook jet turned from 30 to -15 m/s, 0.01 m3/s (attribution not verified): 449.19 N
    force = reaction.impact_force(0.01, 30.0, density=998.2, velocity_after=-15.0)
    assert force == pytest.approx(449.19, rel=1e-6)


def test_velocity_is_torricelli():
    # a head h gives sqrt(2 g h): 100 m of water
    assert reaction.jet_velocity(COLD * 9.80665 * 100, density=COLD) == pytest.approx((2 * 9.80665 * 100) ** 0.5)


def test_power_is_half_the_mass_flow_times_the_square_of_the_speed():
    flow, pressure, smooth = 3e-4, 15e6, 0.97
    speed = reaction.jet_velocity(pressure, density=COLD, velocity_coefficient=smooth)
    power = reaction.jet_power(flow, pressure, velocity_coefficient=smooth)
    assert power == pytest.approx(0.5 * COLD * flow * speed**2, rel=1e-12)


def test_shapes_and_types():
    grid = reaction.jet_reaction(np.array([[1e-4], [2e-4]]), [0.0, 1e7, 2e7], density=COLD)
    assert grid.shape == (2, 3)
    assert (grid[:, 0] == 0.0).all()
    assert type(reaction.jet_reaction(np.float64(1e-4), 1e7, density=COLD)) is float


def test_negative_flow_or_pressure_is_an_error():
    with pytest.raises(JetlibError, match=r"flow is -0\.0001 m3/s"):
        reaction.jet_reaction(-1e-4, 1e7, density=COLD)
    with pytest.raises(JetlibError, match="pressure is -1e"):
        reaction.jet_reaction(1e-4, -1e7, density=COLD)
