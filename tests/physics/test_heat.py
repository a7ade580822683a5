"""Heat in the water against the first law, a fluid-power worked example and a numerical integration."""

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from jetlib import JetlibError
from jetlib.physics import heat, pump, water

GALLON = 3.785411784e-3
PSI = 6894.757293168
WATER = {"density": 998.207, "specific_heat": 4184.1}  # 20 degC, IAPWS-95
TANK = {"volume": 0.2, "start": 288.15, **WATER}


@pytest.mark.parametrize(("psi", "kelvin"), [(1000, 1.651), (3000, 4.952)])  # first law, computed
def test_rise_per_pass(psi, kelvin):
    assert heat.temperature_rise(psi * PSI, **WATER) == pytest.approx(kelvin, rel=5e-4)
    at_20 = {"density": water.density(293.15), "specific_heat": water.specific_heat(293.15)}
    assert heat.temperature_rise(psi * PSI, **at_20) == pytest.approx(kelvin, rel=1e-3)


def test_rise_of_oil_through_a_relief_valve():
    # Esposito, Fluid Power with Applications, Example 11-3 (formula read): oil at 50 degC and 70 bar leaves at 54.3
    assert 50 + heat.temperature_rise(70e5, density=895.0, specific_heat=1800.0) == pytest.approx(54.3, abs=0.06)


def test_tank_heating_rate():
    # first law, computed: 5.5 gpm at 2000 psi into 20 US gal warms it 0.908 K a minute
    watts = pump.hydraulic_power(5.5 * GALLON / 60, 2000 * PSI)
    rate = heat.tank_heating_rate(watts, volume=20 * GALLON, **WATER)
    assert 60 * rate == pytest.approx(0.908, rel=1e-3)


def test_closed_tank_warms_in_a_straight_line():
    seconds = heat.tank_warm_up_time(5000.0, limit=318.15, **TANK)
    assert seconds == pytest.approx(30.0 / heat.tank_heating_rate(5000.0, volume=0.2, **WATER), rel=1e-12)


@pytest.mark.parametrize("makeup_flow", [0.0, 1e-15, 1e-6, 2e-5, 3e-4])
def test_tank_with_make_up_against_integration(makeup_flow):
    capacity = WATER["density"] * WATER["specific_heat"]

    def slope(_, kelvin):
        return (6000.0 - capacity * makeup_flow * (kelvin - 283.15)) / (capacity * TANK["volume"])

    times = np.linspace(0, 7200, 7)
    truth = solve_ivp(slope, (0, 7200), [TANK["start"]], t_eval=times, rtol=1e-10, atol=1e-10).y[0]
    found = heat.tank_temperature(times, 6000.0, makeup_flow=makeup_flow, makeup_temperature=283.15, **TANK)
    np.testing.assert_allclose(found, truth, rtol=0, atol=1e-6)


def test_warm_up_time_is_the_inverse_of_temperature():
    makeup = np.array([[0.0], [1e-16], [1e-6], [1e-5]])
    limit = np.array([288.2, 300.0, 318.15])
    args = {"makeup_flow": makeup, "makeup_temperature": 283.15, **TANK}
    seconds = heat.tank_warm_up_time(8000.0, limit=limit, **args)
    assert seconds.shape == (4, 3)
    found = heat.tank_temperature(seconds, 8000.0, **args)
    np.testing.assert_allclose(found, np.broadcast_to(limit, (4, 3)), rtol=0, atol=1e-9)


def test_a_tank_with_enough_make_up_never_reaches_the_limit():
    # in the long run the tank stands P/(rho cp q) above the make-up: first law
    level = 283.15 + 8000.0 / (WATER["density"] * WATER["specific_heat"] * 1e-4)
    args = {"makeup_flow": 1e-4, "makeup_temperature": 283.15, **TANK}
    assert heat.tank_temperature(1e6, 8000.0, **args) == pytest.approx(level, rel=1e-9)
    assert heat.tank_warm_up_time(8000.0, limit=level + 0.1, **args) == np.inf
    assert heat.tank_warm_up_time(8000.0, limit=level - 0.1, **args) < 1e5


def test_no_power_or_no_need():
    assert heat.tank_warm_up_time(0.0, limit=300.0, **TANK) == np.inf
    assert heat.tank_warm_up_time(5000.0, limit=TANK["start"], **TANK) == 0.0
    assert heat.tank_warm_up_time(5000.0, limit=280.0, **TANK) == 0.0


def test_types_and_errors():
    assert type(heat.temperature_rise(np.float64(1e7), **WATER)) is float
    assert type(heat.tank_warm_up_time(5000.0, limit=300.0, **TANK)) is float
    assert type(heat.tank_temperature(60.0, 5000.0, **TANK)) is float
    with pytest.raises(JetlibError, match="volume is 0 m3"):
        heat.tank_heating_rate(5000.0, volume=0.0, **WATER)
    with pytest.raises(JetlibError, match="makeup_flow is -1"):
        heat.tank_warm_up_time(5000.0, limit=300.0, makeup_flow=-1.0, **TANK)
