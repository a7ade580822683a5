"""The pump against the definitions of displacement, volumetric efficiency and power."""

import numpy as np
import pytest

from jetlib.errors import JetlibError
from jetlib.physics import pump

IDEAL, SLIP = 5e-4, 5e-4 * 0.05 / 2e7  # m3/s; 5 % slips back at 2e7 Pa


def test_without_slip_or_limit_pressure_changes_nothing():
    pressure = np.array([-1e5, 0.0, 1e6, 4e7])
    given, slope, swept = pump.flow_and_slope(pressure, ideal_flow=IDEAL, slip=0.0)
    assert np.all(given == IDEAL) and np.all(slope == 0.0) and np.all(swept == IDEAL)


def test_slip_is_what_volumetric_efficiency_says():
    # by definition: delivered = volumetric efficiency x swept, 95 % here at 2e7 Pa
    given, _, swept = pump.flow_and_slope(np.array([0.0, 1e7, 2e7]), ideal_flow=IDEAL, slip=SLIP)
    np.testing.assert_allclose(given / swept, [1.0, 0.975, 0.95], rtol=1e-14)
    # the same slip is a larger share of a slower pump's flow
    given, _, swept = pump.flow_and_slope(np.array([2e7]), ideal_flow=0.4 * IDEAL, slip=SLIP)
    assert given[0] / swept == pytest.approx(1.0 - 0.05 / 0.4)


def test_suction_does_not_slip():
    given, slope, _ = pump.flow_and_slope(np.array([-1e6]), ideal_flow=IDEAL, slip=SLIP)
    assert given[0] == IDEAL and slope[0] == 0.0


def test_engine_slows_until_its_torque_fits():
    # torque is pressure times displacement: used up at 1.2e7 Pa, it climbs by 0.5 for the whole of the speed
    pressure = np.array([1e6, 1.2e7 * (1 - 1e-9), 1.3e7, 1.5e7, 3e7])
    given, _, swept = pump.flow_and_slope(pressure, ideal_flow=IDEAL, slip=SLIP, torque_pressure=1.2e7, torque_rise=0.5)
    np.testing.assert_allclose(swept[:2], IDEAL)
    lost = 1.0 - swept[2:4] / IDEAL
    np.testing.assert_allclose(pressure[2:4] / 1.2e7, 1.0 + 0.5 * lost, rtol=1e-14)
    assert swept[4] == 0.0  # more than half again as much torque: it stands
    np.testing.assert_allclose(given, swept - SLIP * pressure, rtol=1e-14)


def test_torque_lies_between_constant_torque_and_constant_power():
    """Constant torque stops at its pressure; constant power turns at its share, to first order like a rise of 1."""
    keys = {"ideal_flow": IDEAL, "slip": 0.0, "torque_pressure": 1e7}
    stiff, usual, power = (pump.flow_and_slope(1.05e7, torque_rise=rise, **keys)[2] for rise in (0.0, 0.5, 1.0))
    assert stiff < usual < power == pytest.approx(IDEAL / 1.05, rel=3e-3)


def test_packings_leak_as_a_hole():
    """A quarter of the pressure, half the leak."""
    keys = {"ideal_flow": IDEAL, "slip": 0.0, "packing": 1e-8}
    lost = [IDEAL - pump.flow_and_slope(p, **keys)[0] for p in (4e6, 1.6e7)]
    assert lost[1] == pytest.approx(2 * lost[0]) and lost[0] == pytest.approx(1e-8 * 2000)


def test_no_pressure_needs_no_torque():
    given, slope, swept = pump.flow_and_slope(np.array([0.0, -5e5]), ideal_flow=IDEAL, slip=0.0, torque_pressure=1e5)
    assert np.all(swept == IDEAL) and np.all(given == IDEAL) and np.all(slope == 0.0)


@pytest.mark.parametrize(("limit", "packing"), [(np.inf, None), (1.2e7, None), (1.2e7, 1e-8)])
def test_slope_is_the_derivative(limit, packing):
    pressure = np.array([1e5, 5e6, 1.1e7, 1.3e7, 2.5e7])
    keys = {"ideal_flow": IDEAL, "slip": SLIP, "torque_pressure": limit, "packing": packing}
    step = 1e-5 * pressure
    above, below = (pump.flow_and_slope(pressure + shift, **keys)[0] for shift in (step, -step))
    np.testing.assert_allclose(pump.flow_and_slope(pressure, **keys)[1], (above - below) / (2.0 * step), rtol=1e-6)


def test_flow_never_rises_with_pressure():
    pressure = np.linspace(-1e6, 6e7, 5001)
    given = pump.flow_and_slope(pressure, ideal_flow=IDEAL, slip=SLIP, torque_pressure=1.2e7)[0]
    assert np.all(np.diff(given) <= 0.0)


def test_broadcasts():
    given, _, swept = pump.flow_and_slope(
        np.array([[1e7], [2e7]]),
        ideal_flow=np.array([2e-4, 5e-4, 9e-4]),
        slip=SLIP,
        torque_pressure=np.full((2, 1), 1.8e7),
    )
    assert given.shape == swept.shape == (2, 3)
    assert given[1, 2] == pump.flow_and_slope(2e7, ideal_flow=9e-4, slip=SLIP, torque_pressure=1.8e7)[0]


def test_a_stiff_suction_line_asks_for_a_head_of_its_own():
    # ANSI/HI 6.1-6.5, L V n C/(K g), from memory: 6 ft of 1 in line, 9.5 gpm, 1450 rpm: 49 ft
    flow, bore = 9.5 * 3.785411784e-3 / 60, 0.0254
    velocity = flow / (np.pi / 4 * bore**2)
    head = pump.acceleration_head(6 * 0.3048, velocity, 1450 * np.pi / 30)
    assert head / 0.3048 == pytest.approx(49.0, rel=0.02)
    # the same water through twice the bore, by the formula: a quarter
    assert pump.acceleration_head(6 * 0.3048, velocity / 4, 1450 * np.pi / 30) == pytest.approx(head / 4)
    with pytest.raises(JetlibError, match="plungers"):
        pump.acceleration_head(2.0, 1.0, 150.0, plungers=4)


def test_a_triplex_pulses_by_23_per_cent():
    # Karassik, Pump Handbook, from memory: triplex 23 % (+6, -17), quintuplex 7 %; with endless rods 14.0 % by geometry
    low, high = pump.flow_pulse(3, 6.0)
    assert high - low == pytest.approx(0.23, rel=0.02) and low == pytest.approx(-0.17, abs=0.005)
    assert np.subtract(*pump.flow_pulse(5, 6.0)[::-1]) == pytest.approx(0.07, abs=0.003)
    assert np.subtract(*pump.flow_pulse(3, 1e5)[::-1]) == pytest.approx(np.pi / 3 * (1 - np.cos(np.pi / 6)), rel=1e-4)
