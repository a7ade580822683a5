"""A heated tank running empty, against the first law integrated step by step."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from jetlib import JetlibError
from jetlib.physics import heat

OFTEN = settings(max_examples=60, deadline=None, derandomize=True, database=None)
WATER = {"density": 998.2, "specific_heat": 4184.0}  # 20 degC, IAPWS-95


@settings(max_examples=25, deadline=None, derandomize=True, database=None)
@given(
    st.floats(0.05, 2.0),
    st.floats(1e-5, 1e-3),
    st.floats(0.0, 0.9),
    st.floats(500.0, 2e4),
    st.floats(275.0, 300.0),
    st.floats(0.1, 0.9),
)
def test_temperature_against_the_energy_balance(volume, out, refill_share, power, cold, share):
    refill = refill_share * out
    end = share * volume / (out - refill)

    def balance(time, state):
        water, temperature = state
        warming = power - WATER["density"] * WATER["specific_heat"] * refill * (temperature - cold)
        return [refill - out, warming / (WATER["density"] * WATER["specific_heat"] * water)]

    walked = solve_ivp(balance, (0.0, end), [volume, 293.15], rtol=1e-9, atol=1e-9).y[1, -1]
    time = heat.stretched_time(end, volume=volume, net_outflow=out - refill)
    found = heat.tank_temperature(
        time, power, volume=volume, start=293.15, makeup_flow=refill, makeup_temperature=cold, **WATER
    )
    assert found == pytest.approx(walked, abs=1e-4)


@OFTEN
@given(st.floats(0.01, 5.0), st.floats(0.0, 1e-2), st.floats(0.0, 0.999))
def test_stretched_and_back(volume, outflow, share):
    time = share * volume / outflow if outflow > 1e-9 else 100.0 * share
    stretched = heat.stretched_time(time, volume=volume, net_outflow=outflow)
    assert stretched >= time * (1 - 1e-12)  # less water warms faster
    back = heat.true_time(stretched, volume=volume, net_outflow=outflow)
    assert back == pytest.approx(time, rel=1e-6, abs=1e-9)


def test_known_shapes():
    assert heat.emptying_time(0.378541, 9.4635e-5) == pytest.approx(4000, rel=1e-4)
    assert heat.emptying_time(1.0, [0.0, -1e-4, 1e-3]) == pytest.approx([np.inf, np.inf, 1000.0])
    # Half gone: ln 2 in place of 1/2
    half = heat.stretched_time(500.0, volume=1.0, net_outflow=1e-3)
    assert half == pytest.approx(1000 * np.log(2))
    # However long the stretched time, the true one stays before the tank is empty
    assert heat.true_time(np.inf, volume=1.0, net_outflow=1e-3) == pytest.approx(1000.0)
    assert heat.true_time(np.inf, volume=1.0, net_outflow=0.0) == np.inf


def test_refusals():
    with pytest.raises(JetlibError, match="the tank is empty by then"):
        heat.stretched_time(1000.0, volume=1.0, net_outflow=1e-3)
    with pytest.raises(JetlibError, match="stretched is -1"):
        heat.true_time(-1.0, volume=1.0, net_outflow=1e-3)
    with pytest.raises(JetlibError, match="volume is 0"):
        heat.stretched_time(1.0, volume=0.0, net_outflow=1e-3)
