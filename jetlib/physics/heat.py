"""Where lost pressure goes: into the water, as heat; and how long a tank takes it, full or running empty.

Hot water harms seals and pumps, and scalds. The limit is the one in the pump's manual.
A tank that runs empty warms faster and faster. With its volume V shrinking by k each second, every law of a well-mixed
tank of steady volume V0 holds in a stretched time tau with d tau/dt = V0/V.
"""

import numpy as np

from jetlib.errors import JetlibError
from jetlib.physics.constants import USUAL_TEMPERATURE
from jetlib.physics.values import finite, not_negative, plain, positive, require

_NOTHING = 1e-15  # m3/s: a litre in thirty thousand years


@finite
def temperature_rise(pressure, *, density, specific_heat):
    """How much warmer water comes out of a pressure loss than it went into the pump, K per pass.

    `pressure` lost Pa, `density` kg/m3, `specific_heat` J/(kg K); all broadcast. Negative pressure (a
    gain) cools.

    dT = p/(rho cp), first law with no heat to the outside, counted from the tank through pump and loss
    back to air. Water is squeezed a little in the pump and warms by that too; by the time it is back at
    air pressure the sum is this. All the loss counts the same, be it hose, jet or valve. The pump's own
    losses are not in it.
    """
    return plain(plain(pressure) / _heat_of(density, specific_heat))


@finite
def tank_heating_rate(power, *, volume, density, specific_heat):
    """How fast a tank warms when `power` (W) stays in its water, K/s; broadcasts.

    `volume` of water m3, `density` kg/m3, `specific_heat` J/(kg K). JetlibError unless volume is above 0.

    dT/dt = P/(rho cp V), first law, well mixed, no loss to the air: the real tank is a little slower.
    Where the bypass goes to the pump's inlet and not to the tank, the volume is that of the short loop
    only, and minutes become seconds.
    """
    volume = positive(volume, "volume", "m3")
    return plain(plain(power) / (_heat_of(density, specific_heat) * volume))


@finite
def tank_temperature(
    time, power, *, volume, density, specific_heat, start, makeup_flow=0.0, makeup_temperature=USUAL_TEMPERATURE
):
    """Temperature of the tank after `time` (s) with `power` (W) going into its water, K; broadcasts.

    `start` K; `makeup_flow` m3/s of water at `makeup_temperature` K comes in while as much leaves from
    the tank (to the nozzle or over the brim), so the `volume` (m3) stays. JetlibError if time or make-up
    is below 0.

    rho cp V dT/dt = P - rho cp q (T - Tm): T = T0 + r (1 - exp(-q t/V)) V/q, with r the rate at the start.
    """
    time = not_negative(time, "time", "s")
    volume, rate, turnover = _tank(power, volume, density, specific_heat, start, makeup_flow, makeup_temperature)
    exchanged = turnover * time
    small = exchanged < 1e-12
    share = np.where(small, 1.0, -np.expm1(-exchanged) / np.where(small, 1.0, exchanged))
    return plain(plain(start) + rate * time * share)


@finite(endless=True)
def tank_warm_up_time(
    power, *, volume, density, specific_heat, start, limit, makeup_flow=0.0, makeup_temperature=USUAL_TEMPERATURE
):
    """Time until the tank reaches `limit`, s; 0 if it is there already, infinite if it never gets there; broadcasts.

    `power` W into the water, `volume` m3, `start`, `limit` and `makeup_temperature` K, `makeup_flow` m3/s
    as in `tank_temperature`, of which this is the inverse: t = -(V/q) ln(1 - (Tlimit - T0) q/(V r)).
    """
    volume, rate, turnover = _tank(power, volume, density, specific_heat, start, makeup_flow, makeup_temperature)
    rise = np.asarray(plain(limit) - plain(start))
    rising = np.asarray(rate > 0.0)
    linear = rise / np.where(rising, rate, 1.0)
    used = turnover * linear
    reached = rising & (used < 1.0)
    small = np.abs(used) < 1e-12
    stretch = np.where(small, 1.0, -np.log1p(-np.where(reached, used, 0.0)) / np.where(small, 1.0, used))
    time = np.where(reached, linear * stretch, np.inf)
    return plain(np.where(rise <= 0.0, 0.0, time))


@finite(endless=True)
def emptying_time(volume, net_outflow):
    """Time (s) until `volume` (m3) is gone at `net_outflow` (m3/s); infinite where as much comes in as leaves;
    broadcasts."""
    volume, outflow = not_negative(volume, "volume", "m3"), np.asarray(plain(net_outflow))
    drains = outflow > _NOTHING
    return plain(np.where(drains, volume / np.where(drains, outflow, 1.0), np.inf))


@finite
def stretched_time(time, *, volume, net_outflow):
    """Time (s) in which a tank that stays at `volume` (m3) warms as much as the draining one does in `time` (s);
    broadcasts.

    net_outflow m3/s: what leaves less what comes in, so the volume left is volume - net_outflow x time (more where it
    is below 0). tau = -(V0/k) ln(1 - k t/V0), from rho cp V dT/dt = P with V = V0 - k t. JetlibError at the time the
    tank is empty or later.
    """
    time = not_negative(time, "time", "s")
    share = np.asarray(plain(net_outflow) * time / positive(volume, "volume", "m3"))
    require(share < 1.0, time, "time is {value} s and the tank is empty by then; ask for an earlier time")
    small = np.abs(share) < 1e-12
    return plain(np.where(small, time, time * -np.log1p(-share) / np.where(small, 1.0, share)))


@finite(endless=True)
def true_time(stretched, *, volume, net_outflow):
    """The inverse of `stretched_time`, s; infinite stays infinite where the tank does not drain; broadcasts.

    Always before the tank is empty: the last drops would boil.
    """
    stretched = np.asarray(plain(stretched))
    if (stretched < 0.0).any() or np.isnan(stretched).any():
        raise JetlibError(f"stretched is {stretched.min():g} s; give a time of zero or more, in s")
    volume, outflow = positive(volume, "volume", "m3"), np.asarray(plain(net_outflow))
    steady = np.abs(outflow) < _NOTHING
    rate = np.where(steady, 1.0, outflow) / volume
    with np.errstate(over="ignore"):  # a tank that fills for ever takes for ever
        found = -np.expm1(-rate * stretched) / rate
    return plain(np.where(steady, stretched, found))


def _heat_of(density, specific_heat):
    """Heat that warms a cubic metre by a kelvin, J/(m3 K)."""
    return positive(density, "density", "kg/m3") * positive(specific_heat, "specific_heat", "J/(kg K)")


def _tank(power, volume, density, specific_heat, start, makeup_flow, makeup_temperature):
    """Volume, heating rate at the start (K/s) and share of the tank exchanged a second (1/s)."""
    volume = positive(volume, "volume", "m3")
    turnover = not_negative(makeup_flow, "makeup_flow", "m3/s") / volume
    heating = tank_heating_rate(power, volume=volume, density=density, specific_heat=specific_heat)
    return volume, heating - turnover * (plain(start) - plain(makeup_temperature)), turnover
