"""Surges against the formulas of the books and figures worked out elsewhere; the line itself: tests/independent."""

import numpy as np
import pytest

from jetlib.errors import JetlibError
from jetlib.physics import surge

PSI = 6894.757293168


def test_joukowsky():
    # rho a dv, by arithmetic: 11.7 m/s, 1000 m/s, 1000 kg/m3 is 11.7 MPa, 1697 psi
    assert surge.joukowsky_rise(11.7, density=1000.0, wave_speed=1000.0) / PSI == pytest.approx(1697, abs=1)


def test_a_slow_stop_is_michauds():
    # 2 rho L v / t, whatever the wave speed: 40 ft, 11.7 m/s, 50 ms
    slow = surge.rise(11.7, length=12.192, density=1000.0, wave_speed=np.array(surge.WAVE_SPEEDS), closing_time=0.05)
    np.testing.assert_allclose(slow, 2 * 1000 * 12.192 * 11.7 / 0.05)
    quick = surge.rise(11.7, length=12.192, density=1000.0, wave_speed=1000.0, closing_time=0.02)
    assert quick == surge.joukowsky_rise(11.7, density=1000.0, wave_speed=1000.0)
    assert surge.return_time(12.192, 1000.0) == pytest.approx(0.0244, rel=1e-3)


def test_no_hose_no_surge_and_no_time_is_at_once():
    assert surge.rise(5.0, length=0.0, density=1000.0, wave_speed=1000.0, closing_time=0.05) == 0.0
    assert surge.rise(5.0, length=10.0, density=1000.0, wave_speed=1000.0) == pytest.approx(5e6)


@pytest.mark.parametrize("wrong", [{"density": 0.0}, {"wave_speed": -1.0}, {"closing_time": -0.1}])
def test_what_cannot_be_is_refused(wrong):
    with pytest.raises(JetlibError):
        surge.rise(5.0, **{"length": 10.0, "density": 1000.0, "wave_speed": 1000.0, **wrong})
