"""The pressure a hose takes to pass a flow."""

import numpy as np

from jetlib.physics.friction import factor_and_slope
from jetlib.physics.values import finite, not_negative, plain, positive


@finite
def velocity(flow, *, bore):
    """Mean velocity (m/s) of `flow` (m3/s) in a round `bore` (m, above 0). Broadcasts."""
    return flow / (np.pi / 4.0 * np.square(positive(bore, "bore", "m")))


@finite
def reynolds_number(flow, *, bore, density, viscosity):
    """Reynolds number (dimensionless): density x velocity x bore / viscosity; the last two above 0. Broadcasts."""
    wall = np.multiply(positive(bore, "bore", "m"), positive(viscosity, "viscosity", "Pa s"))
    return 4.0 * density * np.abs(flow) / (np.pi * wall)


@finite
def pressure_loss(flow, *, bore, length, roughness, density, viscosity):
    """Pressure lost to friction (Pa) along a straight hose, with the sign of the flow.

    flow m3/s, bore m, length m, roughness m, density kg/m3, viscosity Pa s; all broadcast.
    Darcy-Weisbach: dp = f (L/d) rho v^2 / 2, with f from `friction.darcy_factor`.
    """
    flow = np.asarray(flow, dtype=float)
    reynolds = reynolds_number(flow, bore=bore, density=density, viscosity=viscosity)
    factor, _ = factor_and_slope(reynolds, np.divide(not_negative(roughness, "roughness", "m"), bore))
    v = velocity(flow, bore=bore)
    return plain(factor * np.divide(length, bore) * density * v * np.abs(v) / 2.0)
