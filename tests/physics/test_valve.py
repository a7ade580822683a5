"""Valves against their definitions and the orifice equation."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jetlib.physics import orifice, pump

moderate = settings(max_examples=60, deadline=None, derandomize=True, database=None)

SETTING, FULL = 2e7, 5e-4
PSI, GPM = 6894.757293168, 3.785411784e-3 / 60.0


def unloader(pressure, rise=0.08, setting=SETTING):
    return pump.unloader_flow_and_slope(pressure, setting=setting, rise=rise, full_flow=FULL)


def test_nothing_below_the_setting_and_all_of_it_at_full_rise():
    # by definition of setting and rise
    flow, slope = unloader(np.array([-1e6, 0.0, 0.5 * SETTING, SETTING, 1.08 * SETTING]))
    assert np.all(flow[:4] == 0.0) and np.all(slope[:4] == 0.0)
    assert flow[4] == pytest.approx(FULL, rel=1e-12)


def test_rise_at_part_bypass():
    # common practice, no source: about 100 psi over at 3000 psi when a sixth of the flow goes back
    over = pump.unloader_pressure(FULL / 6.0, setting=3000.0 * PSI, rise=0.08, full_flow=FULL) / PSI - 3000.0
    assert over == pytest.approx(100.0, rel=0.05)


@pytest.mark.parametrize("rise", [0.0, 1e-9])
def test_a_valve_without_rise_is_as_good_as_one(rise):
    flow, slope = unloader(np.array([SETTING, SETTING * 1.00011]), rise=rise)
    assert flow[0] == 0.0 and flow[1] > FULL and np.all(np.isfinite(slope))


@moderate
@given(share=st.floats(1e-6, 3.0), rise=st.floats(0.0, 1.0), setting=st.floats(1e5, 1e8))
def test_pressure_undoes_flow(share, rise, setting):
    pressure = pump.unloader_pressure(share * FULL, setting=setting, rise=rise, full_flow=FULL)
    flow, slope = unloader(np.array([pressure]), rise=rise, setting=setting)
    # the valve sees only what is over the setting: rounding of the pressure is magnified by setting over that
    rounding = 1e-15 * pressure / (pressure - setting) + 1e-12
    assert flow[0] == pytest.approx(share * FULL, rel=4.0 * rounding)
    assert slope[0] > 0.0


def test_unloader_slope_is_the_derivative():
    pressure = SETTING * np.array([1.001, 1.02, 1.05, 1.2])
    step = 1e-6 * SETTING
    above, below = unloader(pressure + step)[0], unloader(pressure - step)[0]
    np.testing.assert_allclose(unloader(pressure)[1], (above - below) / (2.0 * step), rtol=1e-9)


def test_hole_is_an_orifice_of_coefficient_0_62():
    # Unwin, Encyclopaedia Britannica 11th ed. (1911): 0.62 for a clean sharp edge
    for bore, pressure in ((1e-3, 2e7), (0.01, 3e5), (1e-5, 4e7)):
        conductance = pump.hole_conductance(bore, density=999.1)
        flow, _ = pump.hole_flow_and_slope(pressure, conductance)
        expected = orifice.flow(pressure, area=orifice.circle_area(bore), discharge_coefficient=0.62, density=999.1)
        assert float(flow) == pytest.approx(expected, rel=1e-14)


def test_hole_slope_is_the_derivative_and_nothing_flows_back():
    pressure = np.array([10.0, 1e5, 2e7])
    above, below = (pump.hole_flow_and_slope(pressure * (1.0 + shift), 1e-7)[0] for shift in (1e-6, -1e-6))
    _, slope = pump.hole_flow_and_slope(pressure, 1e-7)
    np.testing.assert_allclose(slope, (above - below) / (2e-6 * pressure), rtol=1e-8)
    flow, slope = pump.hole_flow_and_slope(np.array([-1e6, 0.0]), 1e-7)
    assert np.all(flow == 0.0) and np.all(slope == 0.0)


def test_broadcasts():
    flow, slope = pump.unloader_flow_and_slope(
        np.array([[2.1e7], [2.3e7]]), setting=np.array([1.9e7, 2e7, 2.2e7]), rise=0.05, full_flow=FULL
    )
    assert flow.shape == slope.shape == (2, 3)
    assert pump.hole_flow_and_slope(np.ones((2, 1)), np.ones(3))[0].shape == (2, 3)
