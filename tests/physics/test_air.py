"""Air by altitude against the standard atmosphere as tabulated and as the library fluids has it."""

import numpy as np
import pytest
from fluids import ATMOSPHERE_1976

from jetlib import JetlibError
from jetlib.physics import air

FOOT = 0.3048


@pytest.mark.parametrize(
    ("feet", "ratio"),
    [
        (0, 1.0),
        (5000, 0.832),  # ICAO standard atmosphere, computed
        (10000, 0.6877),  # ICAO standard atmosphere, table value from memory
    ],
)
def test_pressure_ratio(feet, ratio):
    assert air.pressure_ratio(feet * FOOT) == pytest.approx(ratio, rel=1e-4)


def test_against_the_library():
    # The 1976 US standard atmosphere is ICAO's up to 32 km. The library takes the height above the ground as it is
    # measured and lets gravity fall with it; ICAO's height is the geopotential one, 0.1 % less at 5000 m.
    for height in (0.0, 500.0, 1524.0, 3000.0, 5000.0):
        there = ATMOSPHERE_1976(height * 6356766 / (6356766 - height))
        assert air.pressure(height) == pytest.approx(there.P, rel=1e-5)
        assert air.density_ratio(height) * 1.225 == pytest.approx(there.rho, rel=1e-5)
        assert air.temperature(height) == pytest.approx(there.T, abs=1e-2)


def test_engine_of_the_textbook():
    # Agricultural-engineering text, altitude problem (attribution not verified): a 225 hp engine gives 198 hp at
    # 4500 ft by the rule of 3 % for each 1000 ft above 500 ft.
    assert 225 * air.engine_power_factor(4500 * FOOT) == pytest.approx(198.0, rel=1e-9)
    assert air.engine_power_factor(500 * FOOT) == pytest.approx(1.0, rel=1e-9)
    assert air.engine_power_factor(0.0) == 1.0


def test_the_rule_stays_near_the_density_of_the_air():
    # an engine burns in proportion to the air it draws; the rule forgives the first 500 ft and is straight
    feet = np.arange(0.0, 10001.0, 500.0)
    assert np.abs(air.engine_power_factor(feet * FOOT) - air.density_ratio(feet * FOOT)).max() < 0.03


def test_electric_motor_keeps_its_power():
    assert (air.engine_power_factor(np.array([0.0, 900.0]), kind="electric") == 1.0).all()


def test_unknown_engine_is_an_error():
    with pytest.raises(JetlibError, match="engine kind is 'steam'"):
        air.engine_power_factor(0.0, kind="steam")


def test_net_suction_head():
    # Bernoulli with IAPWS-95 water at 20 degC: (101325 - 2339.3)/(998.207 x 9.80665) = 10.112 m, less 3 m of lift
    assert air.net_suction_head(293.15, lift=3.0) == pytest.approx(7.112, abs=1e-3)
    # 60 degC, 1500 m up, with 10 kPa lost in the strainer: 84556 Pa of air (ICAO), 19946 Pa of vapour, 983.196 kg/m3
    expected = (84556 - 19946 - 10000) / (983.196 * 9.80665) - 1.0
    found = air.net_suction_head(333.15, altitude=1500.0, lift=1.0, line_loss=10000.0)
    assert found == pytest.approx(expected, abs=2e-3)


def test_shapes_and_types():
    assert air.engine_power_factor([0.0, 1000.0]).shape == (2,)
    assert air.net_suction_head(np.array([[280.0], [300.0]]), altitude=[0.0, 1000.0, 2000.0]).shape == (2, 3)
    for value in (air.pressure(0), air.density_ratio(np.float64(5.0)), air.net_suction_head(300)):
        assert type(value) is float


@pytest.mark.parametrize("bad", [-2001.0, 11001.0, np.nan, [0.0, 20000.0]])
def test_altitude_outside_the_atmosphere_is_an_error(bad):
    for function in (air.pressure_ratio, air.density_ratio, air.engine_power_factor):
        with pytest.raises(JetlibError, match=r"write 0\.3048 \* feet"):
            function(bad)


def test_hot_day_by_iso_3046():
    # ISO 3046-1, m 1, n 0.75, mechanical efficiency 0.8, from memory, recomputed: standard day 0.868, 35 degC 0.791
    day = air.temperature(5000 * FOOT)
    assert air.engine_power_factor(5000 * FOOT, air_temperature=day) == pytest.approx(0.867915, rel=1e-4)
    assert air.engine_power_factor(5000 * FOOT, air_temperature=308.15) == pytest.approx(0.7910, rel=1e-3)
    assert air.engine_power_factor(0.0, air_temperature=288.15) == 1.0  # never more than rated
    # the trade's 3 % for each 1000 ft stays within 2 % of it on a standard day
    feet = np.linspace(500, 10000, 20) * FOOT
    iso = air.engine_power_factor(feet, air_temperature=air.temperature(feet))
    assert np.abs(air.engine_power_factor(feet) / iso - 1).max() < 0.025
