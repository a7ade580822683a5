"""A tank that is heated while it runs empty: less and less water takes the same heat, so it warms faster and faster.

With the volume V shrinking by k each second, every law of a well-mixed tank of steady volume V0 holds in a stretched
time tau with d tau/dt = V0/V: so `jetlib.physics.heat` serves for both.
"""

import numpy as np

from jetlib.errors import JetlibError
from jetlib.physics.values import finite, not_negative, plain, positive, require

_NOTHING = 1e-15  # m3/s: a litre in thirty thousand years


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
