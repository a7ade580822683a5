"""Power of flow under pressure against worked examples of fluid power and pump textbooks."""

import numpy as np
import pytest

from jetlib import JetlibError
from jetlib.physics import pump

GALLON = 3.785411784e-3 / 60
PSI = 6894.757293168
HORSEPOWER = 550 * 0.3048 * 4.4482216152605


def test_gallons_times_psi_per_horsepower():
    # unit definitions: 1714.2857 (books print 1714)
    assert HORSEPOWER / pump.hydraulic_power(GALLON, PSI) == pytest.approx(1714.2857, rel=1e-7)


@pytest.mark.parametrize(
    ("gallons", "psi", "horsepower", "tolerance"),
    [
        (20, 1000, 11.7, 5e-3),  # Esposito, Fluid Power with Applications, Example 8-2 (three figures)
        (20, 25, 0.29, 1e-2),  # Esposito, Example 8-3, unloading (two figures)
        (20 - 0.7, 1200, 13.51, 1e-3),  # Esposito, Example 5-5: power saved by not relieving
    ],
)
def test_hydraulic_power(gallons, psi, horsepower, tolerance):
    found = pump.hydraulic_power(gallons * GALLON, psi * PSI) / HORSEPOWER
    assert found == pytest.approx(horsepower, rel=tolerance)


def test_shaft_power():
    # P = Q dp/eff in the trade's units, gpm psi/1714/0.85: 8.237 hp
    assert pump.shaft_power(4 * GALLON, 3000 * PSI, 0.85) / HORSEPOWER == pytest.approx(8.237, rel=5e-4)
    # P = Q dp/eff: 12.282 kW, computed
    assert pump.shaft_power(8 * GALLON, 3000 * PSI, 0.85) / 1e3 == pytest.approx(12.282, rel=5e-5)


def test_brake_power_of_a_pumping_example():
    # Crane TP-410, Example 7.15, quoted: 100 gpm against 421 ft of water at 62.298 lb/ft3, efficiency 0.70: 15.2 hp
    pressure = 62.298 * 0.45359237 / 0.3048**3 * 9.80665 * 421 * 0.3048
    assert pump.shaft_power(100 * GALLON, pressure, 0.70) / HORSEPOWER == pytest.approx(15.2, rel=3e-3)


def test_shapes_and_types():
    assert pump.shaft_power(np.array([[1e-4], [2e-4]]), [1e7, 2e7], 0.9).shape == (2, 2)
    assert type(pump.hydraulic_power(np.float64(1e-4), 1e7)) is float
    assert type(pump.shaft_power(1e-4, 1e7, 1)) is float


@pytest.mark.parametrize("efficiency", [0.0, -0.5, 85.0, np.nan, [0.9, 1.1]])
def test_efficiency_is_a_share(efficiency):
    with pytest.raises(JetlibError, match=r"write 0\.85 for 85 %"):
        pump.shaft_power(1e-4, 1e7, efficiency)
