"""A jet is a hole under pressure: flow through it, pressure behind it.

The pressure is the static pressure behind the hole, less the pressure outside; the speed at which the water
comes up to the hole is left out, which is right while the hole is small beside the bore that feeds it.
"""

import numpy as np

from jetlib.errors import JetlibError


def flow(pressure, *, area, discharge_coefficient, density):
    """Flow (m3/s) through a hole: Q = Cd A sqrt(2 dp / rho), with the sign of the pressure.

    pressure Pa (across the hole), area m2, density kg/m3; all broadcast. Source: Bernoulli with a measured
    discharge coefficient, any fluid mechanics text; Cd constant above about 1000 psi (NACA TR-224, 1926).
    """
    pressure = np.asarray(pressure, dtype=float)
    q = np.multiply(discharge_coefficient, area) * np.sqrt(2.0 * np.abs(pressure) / density) * np.sign(pressure)
    return float(q) if np.ndim(q) == 0 else q


def pressure(flow, *, area, discharge_coefficient, density):
    """Pressure (Pa) behind a hole that passes `flow` (m3/s): dp = (rho/2) (Q / (Cd A))^2, with the sign of the flow.

    The inverse of `flow`; same units and shapes. An `area` of nothing raises JetlibError: no pressure pushes water
    through a hole that is shut.
    """
    effective_area = np.multiply(discharge_coefficient, area)
    if not np.all(effective_area > 0.0):
        raise JetlibError("area x discharge_coefficient must be above 0 (m2); a hole that is shut passes nothing")
    speed = np.asarray(flow, dtype=float) / effective_area
    dp = np.asarray(density) / 2.0 * speed * np.abs(speed)
    return float(dp) if np.ndim(dp) == 0 else dp


def circle_area(bore):
    """Area (m2) of a round hole of `bore` (m). Broadcasts."""
    return np.pi / 4.0 * np.square(bore)


def circle_bore(area):
    """Bore (m) of the round hole that has `area` (m2). Broadcasts."""
    return np.sqrt(4.0 / np.pi * np.asarray(area, dtype=float))[()]
