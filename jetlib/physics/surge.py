"""What a line sees when its water is stopped: the surge, or water hammer."""

from functools import reduce
from itertools import accumulate

import numpy as np

from jetlib.physics.values import finite, not_negative, plain, positive

#: Low, likely and high speed of a pressure wave in water-filled hose, m/s. Assumed: nothing published was seen for
#: jetting hose. Water in a rigid pipe 1400 to 1480, and the wall's give slows it. *Common practice, no source.*
WAVE_SPEEDS = (700.0, 1000.0, 1300.0)
#: How soon jets that plug or a shut-off that is let go stop the water, s. *Common practice, no source.*
QUICK_STOP = 0.05
_AT_ONCE = 1e-6  # s, shorter than a wave needs for any hose


@finite
def joukowsky_rise(velocity, *, density, wave_speed):
    """Rise of pressure (Pa) where water of `velocity` (m/s) is stopped at once; density kg/m3; broadcasts.

    dp = rho a dv: Joukowsky 1898; Wylie and Streeter, *Fluid Transients in Systems* (1993), 1.2. JetlibError for a
    density or wave_speed (m/s) that is not above 0.
    """
    return plain(positive(density, "density", "kg/m3") * positive(wave_speed, "wave_speed", "m/s") * plain(velocity))


@finite
def rises(velocities, lengths, *, density, wave_speed, closing_time=0.0):
    """Rise of pressure (Pa) at the far end of each hose of a line whose water is stopped evenly within `closing_time`
    (s); first axis the hoses, the rest broadcast. velocities m/s and lengths m: one for each hose, from the pump on.

    Until the stop is over, a wave gets half of wave_speed x closing_time up the line and back. So the rise is
    Joukowsky's for the mean velocity over that much of the line (0 beyond its start): for one hose Michaud's 2 rho L v
    / t where the stop is slower than the way there and back (Wylie and Streeter 1993; from memory). The stretch with
    the fastest water up to each end counts, since waves pile up where a narrow hose feeds a wide one. Friction and
    what feeds the line are left out. JetlibError where lengths are below 0.
    """
    if not len(velocities):
        return np.zeros(0)
    time = np.maximum(not_negative(closing_time, "closing_time", "s"), _AT_ONCE)
    counts = positive(wave_speed, "wave_speed", "m/s") * time / 2.0
    lengths = [not_negative(length, "length", "m") for length in lengths]
    ends = list(accumulate(lengths, initial=0.0))

    def before(place):
        """Velocity x length of the line up to `place`, m2/s."""
        parts = zip(velocities, lengths, ends[:-1], strict=True)
        return sum(each * np.clip(place - start, 0.0, length) for each, length, start in parts)

    found = []
    for last in range(1, len(ends)):
        places = [*ends[1 : last + 1], *(np.minimum(start + counts, ends[last]) for start in ends[1:last])]
        found.append(reduce(np.maximum, [before(place) - before(place - counts) for place in places]) / counts)
    return joukowsky_rise(np.stack(np.broadcast_arrays(*found)), density=density, wave_speed=wave_speed)
