"""What a line sees when its water is stopped: the surge, or water hammer."""

import numpy as np

from jetlib.physics.values import finite, not_negative, plain, positive

#: Low, likely and high speed of a pressure wave in water-filled hose, m/s. Assumed: nothing published was seen for
#: jetting hose. Water in a rigid pipe 1400 to 1480, and the wall's give slows it. *Common practice, no source.*
WAVE_SPEEDS = (700.0, 1000.0, 1300.0)
#: How soon jets that plug or a shut-off that is let go stop the water, s. *Common practice, no source.*
QUICK_STOP = 0.05


@finite
def joukowsky_rise(velocity, *, density, wave_speed):
    """Rise of pressure (Pa) where water of `velocity` (m/s) is stopped at once; density kg/m3; broadcasts.

    dp = rho a dv: Joukowsky 1898; Wylie and Streeter, *Fluid Transients in Systems* (1993), 1.2. JetlibError for a
    density or wave_speed (m/s) that is not above 0.
    """
    return plain(positive(density, "density", "kg/m3") * positive(wave_speed, "wave_speed", "m/s") * plain(velocity))


@finite
def return_time(length, wave_speed):
    """Time (s) in which a wave goes up a hose of `length` (m) and comes back, 2 L/a: a slower stop is a softer one."""
    return plain(2.0 * not_negative(length, "length", "m") / positive(wave_speed, "wave_speed", "m/s"))


@finite
def rise(velocity, *, length, density, wave_speed, closing_time=0.0):
    """Rise of pressure (Pa) at the end of a hose whose water is stopped evenly within `closing_time` (s); broadcasts.

    Joukowsky's while the stop is quicker than the wave's way there and back, 2 L/a; a slower one falls off as that
    over the time, which is Michaud's 2 rho L v / t (Wylie and Streeter 1993; from memory). Friction and what feeds the
    hose are left out; hoses in series add up, each with its own length and velocity.
    """
    time = not_negative(closing_time, "closing_time", "s")
    back = return_time(length, wave_speed)
    share = np.minimum(1.0, back / np.maximum(time, np.where(np.asarray(back) > 0.0, back, 1.0)))
    return plain(joukowsky_rise(velocity, density=density, wave_speed=wave_speed) * share)
