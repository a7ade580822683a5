"""A jet is a hole under pressure: flow through it, pressure behind it.

The pressure is the static pressure behind the hole, less the pressure outside; the speed at which the water
comes up to the hole is left out, which is right while the hole is small beside the bore that feeds it.
"""

import numpy as np

from jetlib.errors import JetlibError
from jetlib.physics.values import finite, not_negative, plain, positive, require


@finite
def flow(pressure, *, area, discharge_coefficient, density):
    """Flow (m3/s) through a hole: Q = Cd A sqrt(2 dp / rho), with the sign of the pressure.

    pressure Pa (across the hole), area m2, density kg/m3; all broadcast. Source: Bernoulli with a measured
    discharge coefficient, any fluid mechanics text; Cd constant above about 1000 psi (NACA TR-224, 1926).
    """
    pressure, density = np.asarray(pressure, dtype=float), positive(density, "density", "kg/m3")
    speed = np.sqrt(2.0 * np.abs(pressure) / density) * np.sign(pressure)
    return plain(np.multiply(discharge_coefficient, area) * speed)


@finite
def pressure(flow, *, area, discharge_coefficient, density):
    """Pressure (Pa) behind a hole that passes `flow` (m3/s): dp = (rho/2) (Q / (Cd A))^2, with the sign of the flow.

    The inverse of `flow`; same units and shapes. An `area` of nothing raises JetlibError: no pressure pushes water
    through a hole that is shut.
    """
    effective_area = np.multiply(discharge_coefficient, area)
    if not np.all(effective_area > 0.0):
        raise JetlibError("area x discharge_coefficient must be above 0 (m2); a hole that is shut passes nothing")
    speed = np.asarray(flow, dtype=float) / effective_area
    return plain(np.asarray(density) / 2.0 * speed * np.abs(speed))


@finite
def contraction_coefficient(edge_radius_ratio):
    """Share of a drilled hole that its jet fills when the water lets go of the wall (dimensionless); any shape.

    edge_radius_ratio: radius of the worn edge over the bore, 0 (sharp) to 0.14. Cc = (1/0.61^2 - 11.4 r/d)^-1/2:
    Nurick, J. Fluids Eng. 98 (1976) 681, from memory: 0.61 sharp, 0.65 at 0.03, 0.73 at 0.07, 0.80 at 0.10. It holds at
    jetting pressure, where a hole several bores long cavitates or flips and passes no more than a thin plate; a small
    hole has the larger r/d for the same wear, so it changes first. JetlibError outside.
    """
    ratio = plain(edge_radius_ratio)
    require(
        (ratio >= 0.0) & (ratio <= 0.14),
        ratio,
        "edge_radius_ratio is {value}; it is radius over bore, 0 to 0.14: a rounder edge does not cavitate",
    )
    return plain((1.0 / 0.61**2 - 11.4 * ratio) ** -0.5)


@finite
def cavitating_coefficient(pressure, *, edge_radius_ratio=0.0, back_pressure=101325.0, vapour_pressure=1700.0):
    """Discharge coefficient of a cavitating drilled hole: Cd = Cc sqrt(K), K = (p1 - pv)/(p1 - p2); broadcasts.

    pressure Pa across the hole, back_pressure and vapour_pressure Pa absolute. Nurick 1976, as above: at jetting
    pressure K is 1.00 to 1.02, whatever the length of the hole. JetlibError for a pressure that is not above 0.
    """
    pressure = positive(pressure, "pressure", "Pa")
    share = 1.0 + (plain(back_pressure) - plain(vapour_pressure)) / pressure
    return plain(contraction_coefficient(edge_radius_ratio) * np.sqrt(share))


@finite
def circle_area(bore):
    """Area (m2) of a round hole of `bore` (m). Broadcasts."""
    return np.pi / 4.0 * np.square(bore)


@finite
def circle_bore(area):
    """Bore (m) of the round hole that has `area` (m2, 0 or more). Broadcasts."""
    return np.sqrt(4.0 / np.pi * not_negative(area, "area", "m2"))
