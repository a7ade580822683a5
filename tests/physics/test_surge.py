"""Surges against the formulas of the books and figures worked out elsewhere; the line itself: tests/independent."""

import numpy as np
import pytest

from jetlib.errors import JetlibError
from jetlib.physics import surge

PSI = 6894.757293168


def test_joukowsky():
    # rho a dv, by arithmetic: 11.7 m/s, 1000 m/s, 1000 kg/m3 is 11.7 MPa, 1697 psi
    assert surge.joukowsky_rise(11.7, density=1000.0, wave_speed=1000.0) / PSI == pytest.approx(1697, abs=1)


def rise(velocity, length, **given):
    """Of one hose."""
    return surge.rises([velocity], [length], **{"density": 1000.0, "wave_speed": 1000.0, **given})[0]


def test_a_slow_stop_is_michauds():
    # 2 rho L v / t, whatever the wave speed: 40 ft, 11.7 m/s, 50 ms
    slow = rise(11.7, 12.192, wave_speed=np.array(surge.WAVE_SPEEDS), closing_time=0.05)
    np.testing.assert_allclose(slow, 2 * 1000 * 12.192 * 11.7 / 0.05)
    quick = rise(11.7, 12.192, closing_time=0.02)
    assert quick == pytest.approx(surge.joukowsky_rise(11.7, density=1000.0, wave_speed=1000.0))


def test_no_hose_no_surge_and_no_time_is_at_once():
    assert rise(5.0, 0.0, closing_time=0.05) == 0.0
    assert rise(5.0, 10.0) == pytest.approx(5e6)
    assert len(surge.rises([], [], density=1000.0, wave_speed=1000.0)) == 0


def test_a_hose_in_two_pieces_is_the_same_hose():
    for time in (0.0, 0.02, 0.05, 0.5):
        whole = rise(5.0, 60.0, closing_time=time)
        cut = surge.rises([5.0, 5.0, 5.0], [20.0, 35.0, 5.0], density=1000.0, wave_speed=1000.0, closing_time=time)
        assert cut[-1] == pytest.approx(whole)


def test_what_counts_is_the_last_25_m():
    """50 ms at 1000 m/s: 2 rho / t times velocity x length of the last 25 m, worked out by hand."""
    found = surge.rises([4.0, 12.0], [100.0, 10.0], density=1000.0, wave_speed=1000.0, closing_time=0.05)
    assert found[-1] == pytest.approx(2 * 1000 / 0.05 * (10 * 12 + 15 * 4))
    assert found[0] == pytest.approx(1000 * 1000 * 4.0)
    # The narrow hose at the pump: the wave piles up behind the wide one (impedance, Wylie and Streeter, chapter 12)
    found = surge.rises([12.0, 4.0], [100.0, 40.0], density=1000.0, wave_speed=1000.0, closing_time=0.05)
    assert found[-1] == pytest.approx(1000 * 1000 * 12.0)


@pytest.mark.parametrize("wrong", [{"density": 0.0}, {"wave_speed": -1.0}, {"closing_time": -0.1}, {"length": -1.0}])
def test_what_cannot_be_is_refused(wrong):
    with pytest.raises(JetlibError):
        rise(5.0, **{"length": 10.0, **wrong})
