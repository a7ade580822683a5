"""The costs of what is left out, against closed forms and rules found another way."""

import left_out
import numpy as np
import pytest

from jetlib.physics import hose, water

COSTS = {cost.id: cost for cost in left_out.costs()}


def test_squeezed_water_costs_half_and_a_quarter_of_the_squeezing():
    """To first order the work is p/rho (1 - p/2K): that much of the warming, half of it in speed; K 2.1 GPa, Kell 1975.

    10 % of the cost: the bulk modulus runs from 2.0 to 2.25 GPa over these waters.
    """
    squeezed = left_out.HIGH / 2.1e9
    for name, part in (("compressed-heat", 0.5), ("compressed-jet", 0.25), ("compressed-hose", 1.0)):
        for end in (COSTS[name].low, COSTS[name].high):
            assert end == pytest.approx(part * squeezed, rel=0.1), name


def test_three_plungers_make_a_six_pulse_wave():
    """Three half waves add up to cos within a sixth of a turn: mean 3/pi, mean square 1/2 + 3 sqrt(3)/(4 pi).

    As for the six-pulse rectifier of any power electronics text; exact, so only the steps of the sum differ.
    """
    mean, (least, most) = left_out.pulses(rod_ratio=1e9)
    assert 1.0 / (1.0 + mean) == pytest.approx((0.5 + 3 * np.sqrt(3) / (4 * np.pi)) / (3 / np.pi) ** 2, rel=1e-6)
    assert most == pytest.approx(np.pi / 3 - 1, rel=1e-6)
    assert least == pytest.approx(np.pi / 3 * np.cos(np.pi / 6) - 1, rel=1e-6)


def test_swelling_follows_the_fifth_power_nearly():
    """Loss goes as the bore to the minus 4.75 (Blasius, smooth) to minus 5 (wholly rough), a little over by wall."""
    assert 1.01**4.75 - 1 < COSTS["swelling"].low <= COSTS["swelling"].high < 1.01**5.3 - 1


def test_viscosity_counts_by_its_fifth_to_quarter_power():
    """Blasius: loss goes as viscosity to the 1/4; at Re 50,000 Colebrook is a little flatter."""
    for name, kelvin in (("cold-water", 278.15), ("warm-water", 298.15)):
        ratio = water.viscosity(288.15) / water.viscosity(kelvin)
        ends = sorted((ratio**0.10 - 1, ratio**0.25 - 1))
        assert ends[0] <= COSTS[name].low <= COSTS[name].high <= ends[1], name
    assert -0.005 < COSTS["viscosity"].low < 0 < COSTS["viscosity"].high < 0.0055


def test_small_ones_are_small():
    """Half the square of the area ratio; jets of half the area before them would cost 13 %."""
    assert -0.004 < COSTS["approach"].low <= COSTS["approach"].high < 0
    assert 0 < COSTS["warming"].low <= COSTS["warming"].high < 0.003


def test_bridge_and_contraction():
    """As the measured friction and the published row G17 have them."""
    assert -0.35 < COSTS["bridge"].low <= COSTS["bridge"].high < 0
    assert COSTS["contraction"].low == pytest.approx(0.25 / 0.3434 - 1)


def test_flows_named_for_the_bridge():
    """1/2 in hose at 15 degC: Re 2300 and 4000 are 1.6 and 2.7 L/min."""
    given = {"bore": 12.7e-3, "density": water.density(288.15), "viscosity": water.viscosity(288.15)}
    for litres, reynolds in ((1.57, 2300), (2.72, 4000)):
        assert hose.reynolds_number(litres / 60e3, **given) == pytest.approx(reynolds, rel=0.01)


def test_every_cost_says_what_it_is():
    for cost in left_out.costs():
        assert np.isfinite([cost.low, cost.high]).all() and cost.low <= cost.high
        assert cost.effect and cost.of_what and cost.how
    assert len(COSTS) == len(left_out.costs())
