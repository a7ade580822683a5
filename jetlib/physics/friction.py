"""How much a straight or reeled hose resists flow: the Darcy friction factor.

Three laws, one curve. Below Reynolds 2300 the flow is laminar and f = 64/Re. Above 4000 it is turbulent and f
solves the Colebrook equation. Nobody can say what a pipe does in between; here f climbs along a straight line
on log-log paper from one to the other, so the curve has no step and the pressure loss always rises with flow.
"""

import numpy as np

from jetlib.physics.published_friction import ito_coil_factor, white_laminar_coil_factor
from jetlib.physics.values import finite, not_negative, plain, positive, require

LAMINAR_LIMIT = 2300.0
TURBULENT_LIMIT = 4000.0

_TWO_OVER_LN10 = 2.0 / np.log(10.0)
_BRIDGE_SPAN = np.log(TURBULENT_LIMIT / LAMINAR_LIMIT)
_LN_F_LAMINAR_END = np.log(64.0 / LAMINAR_LIMIT)
_TINY_REYNOLDS = 1e-12  # stands in for no flow at all: f q^2 still goes to zero
#: From this Reynolds number on Ito's coil is the larger of the two rules at every bore ratio up to 1.
ITO_ALONE = 20000.0


@finite
def darcy_factor(reynolds, relative_roughness):
    """Darcy friction factor (dimensionless), for a straight round pipe or hose.

    Broadcasts `reynolds` against `relative_roughness` (roughness height over bore, 0 to 0.05).
    Laminar: f = 64/Re (Hagen-Poiseuille), Re up to 2300.
    Turbulent: 1/sqrt(f) = -2 log10(e/3.7 + 2.51/(Re sqrt(f))) (Colebrook 1939), Re from 4000, solved to rounding.
    Between: log f runs straight in log Re, a convention of this course and not a measurement.
    """
    rough = not_negative(relative_roughness, "relative_roughness", "(height over bore)")
    return plain(factor_and_slope(reynolds, rough)[0])


def factor_and_slope(reynolds, relative_roughness):
    """Darcy factor and d(ln f)/d(ln Re), both dimensionless arrays of the broadcast shape."""
    reynolds, relative_roughness = np.broadcast_arrays(*_float_arrays(reynolds, relative_roughness))
    a, b = relative_roughness / 3.7, 2.51 / np.maximum(reynolds, TURBULENT_LIMIT)
    x, _ = colebrook_step(colebrook_start(a, b), a, b)
    x, slope = colebrook_step(x, a, b)
    factor = 1.0 / (x * x)
    if np.any(reynolds < TURBULENT_LIMIT):
        safe = np.maximum(reynolds, _TINY_REYNOLDS)
        bridge_slope = (np.log(factor) - _LN_F_LAMINAR_END) / _BRIDGE_SPAN
        bridge = np.exp(_LN_F_LAMINAR_END + bridge_slope * np.log(np.maximum(safe, LAMINAR_LIMIT) / LAMINAR_LIMIT))
        laminar = safe <= LAMINAR_LIMIT
        between = (safe < TURBULENT_LIMIT) & ~laminar
        factor = np.where(laminar, 64.0 / safe, np.where(between, bridge, factor))
        slope = np.where(laminar, -1.0, np.where(between, bridge_slope, slope))
    return factor, slope


@finite
def coil_ratio(reynolds, bore, coil_diameter):
    """Friction factor on the reel over friction factor laid out straight (dimensionless, 1 or more).

    Broadcasts. `bore` and `coil_diameter` (centre of the hose to centre of the hose, across the reel) in metres.
    While the flow in the coil is laminar, White, Proc. R. Soc. A 123 (1929) 645; when it is turbulent, Ito,
    J. Basic Eng. 81 (1959) 123: f = 0.304 Re^-0.25 + 0.029 sqrt(d/D), over Colebrook for a smooth pipe. The
    larger of the two rules; they cross close to Ito's critical Reynolds number 20000 (d/D)^0.32. Below Re 2300 White
    alone. Ito's data cover Re (d/D)^2 from 0.034 to 300. An infinite `coil_diameter` gives 1.
    """
    wide = np.asarray(coil_diameter, dtype=float)
    require(wide > 0.0, wide, "coil_diameter is {value} m; give the reel above zero, in m")
    return plain(coil_ratio_and_slope(reynolds, positive(bore, "bore", "m") / wide)[0])


def coil_ratio_and_slope(reynolds, bore_ratio):
    """Coil ratio and d(ln ratio)/d(ln Re), arrays; `bore_ratio` is bore over coil diameter."""
    return coil_ratio_step(*np.broadcast_arrays(*_float_arrays(reynolds, bore_ratio)))[:2]


def coil_ratio_step(reynolds, bore_ratio, x=None):
    """The same of arrays, and the smooth pipe's 1/sqrt(f), to give back as `x` when the flow has hardly changed.

    From `ITO_ALONE` on, as it mostly is on a rig, Ito's rule does alone, with a third of the work.
    """
    slow = ~((reynolds >= ITO_ALONE) & (bore_ratio <= 1.0))
    if slow.all():
        return *_either_ratio_and_slope(reynolds, bore_ratio), None
    held = np.maximum(reynolds, ITO_ALONE)
    b = 2.51 / held
    if x is None:
        x, _ = colebrook_step(colebrook_start(0.0, b), 0.0, b)
    x, smooth_slope = colebrook_step(x, 0.0, b)
    first = 0.304 / np.sqrt(np.sqrt(held))  # of ito_coil_factor, whose slope needs it by itself
    ito = first + 0.029 * np.sqrt(bore_ratio)
    turbulent = ito * (x * x)
    coiled = (bore_ratio != 0.0) & (turbulent >= 1.0)
    ratio, slope = np.where(coiled, turbulent, 1.0), np.where(coiled, -0.25 * first / ito - smooth_slope, 0.0)
    if slow.any():
        coils = np.broadcast_to(bore_ratio, reynolds.shape)
        ratio[slow], slope[slow] = _either_ratio_and_slope(reynolds[slow], coils[slow])
    return ratio, slope, x


def _either_ratio_and_slope(reynolds, bore_ratio):
    """The larger of the two rules, whichever it is."""
    safe = np.maximum(reynolds, _TINY_REYNOLDS)
    smooth, smooth_slope = factor_and_slope(safe, 0.0)
    dean = safe * np.sqrt(bore_ratio)
    laminar = white_laminar_coil_factor(safe, bore_ratio) / smooth
    g = np.where(dean > 11.6, (11.6 / np.maximum(dean, 11.6)) ** 0.45, 1.0)
    # of 1 - (1 - g)^(1/0.45), whose g falls as Re^-0.45
    white_slope = g * (1.0 - g) ** (1.0 / 0.45 - 1.0) / (1.0 - (1.0 - g) ** (1.0 / 0.45)) - 1.0 - smooth_slope
    held = np.maximum(safe, TURBULENT_LIMIT)
    held_smooth, held_slope = factor_and_slope(held, 0.0)
    ito = ito_coil_factor(held, bore_ratio)
    # No coil is turbulent where a straight hose is not. At the limit White's ratio is the larger for every coil.
    turbulent = np.where(safe > LAMINAR_LIMIT, ito / held_smooth, 0.0)
    ito_slope = np.where(safe > TURBULENT_LIMIT, -0.25 * 0.304 * held**-0.25 / ito - held_slope, 0.0)
    ratio = np.maximum(np.maximum(laminar, turbulent), 1.0)
    slope = np.where(ratio == laminar, white_slope, np.where(ratio == turbulent, ito_slope, 0.0))
    straight = bore_ratio == 0.0
    return np.where(straight, 1.0, ratio), np.where(straight, 0.0, slope)


def colebrook_start(a, b):
    """A first guess of x = 1/sqrt(f), within about 3 %, from a = e/3.7 and b = 2.51/Re."""
    return -_TWO_OVER_LN10 * np.log(a + 7.0 * b)


def colebrook_step(x, a, b):
    """One Halley step on x + (2/ln 10) ln(a + b x) = 0, and d(ln f)/d(ln Re) there.

    The error falls by its third power: two steps from `colebrook_start` are exact to rounding, and one step is
    enough when the flow has hardly changed since the last. This is what lets the circuit solver stay cheap.
    """
    y = a + b * x
    g = _TWO_OVER_LN10 * b / y
    rise = 1.0 + g
    newton = (x + _TWO_OVER_LN10 * np.log(y)) / rise
    x = x - newton / (1.0 + 0.5 * newton * g * b / (y * rise))
    return x, -2.0 * g / rise


def _float_arrays(*values):
    return [np.asarray(value, dtype=float) for value in values]
