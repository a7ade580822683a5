"""Loss where a bore changes: couplings, hose ends, swivels, valves.

A loss coefficient K is always on the velocity head of one bore, and is worth nothing without saying
which: here it is the fitting's own, the small bore it makes the water squeeze through. At half the bore
the velocity head is 16 times as large, which is why a mean little hose end can cost as much as metres of
hose.
"""

import numpy as np

from jetlib.physics.constants import PSI, US_GALLON
from jetlib.physics.values import finite, plain, positive, require

_KV_DENSITY = 1000.0


@finite
def pressure_loss(flow, *, bore, loss_coefficient, density):
    """Pressure lost in a fitting, Pa, with the sign of the flow; broadcasts.

    `flow` m3/s, `bore` m of the fitting that `loss_coefficient` belongs to, `density` kg/m3. JetlibError
    unless bore is above 0.

    dp = K rho V^2/2 with V in `bore`: definition of K. K is constant in turbulent flow, Re above 10000 or
    so.
    """
    velocity = plain(flow) / (np.pi / 4.0 * positive(bore, "bore", "m") ** 2)
    return plain(plain(loss_coefficient) * plain(density) / 2.0 * velocity * np.abs(velocity))


@finite
def sudden_contraction(bore, upstream_bore):
    """Loss coefficient where a large bore meets a small one at a square shoulder, on the small bore's velocity head.

    `bore` of the small one and `upstream_bore` of the large one, m; broadcasts. JetlibError if the bore
    grows.

    K = 0.5 (1 - beta^2), beta = bore/upstream bore: Crane TP-410, equation for a 180 degree reducer. Up
    to 0.5 from a tank. Handbooks differ: Rennels and Hudson (2012) read up to 38 % higher, at beta 0.7. A lead-in
    rounded by 0.15 of the bore brings it below a tenth (Crane: 0.04 from a tank).
    """
    return plain(0.5 * (1.0 - _beta(bore, upstream_bore) ** 2))


@finite
def sudden_expansion(bore, downstream_bore):
    """Loss coefficient where a small bore opens into a large one, on the small bore's velocity head.

    `bore` of the small one and `downstream_bore` of the large one, m; broadcasts. JetlibError if the bore
    shrinks.

    K = (1 - beta^2)^2, beta = bore/downstream bore: Borda-Carnot, by momentum. 1 into a tank or the open
    air.
    """
    return plain((1.0 - _beta(bore, downstream_bore) ** 2) ** 2)


@finite
def reduced_bore(bore, upstream_bore, downstream_bore=None, *, length=0.0, friction_factor=0.0):
    """Loss coefficient of a short small bore between two larger ones, on the small bore's velocity head; broadcasts.

    Bores and `length` in m; `downstream_bore` is the upstream one unless given; `friction_factor` (Darcy)
    of the small bore counts its own length. JetlibError if either neighbour is the smaller.

    K = contraction + f L/d + expansion. For a bore two to three diameters long or more, where the stream
    has filled it again; a thinner ring loses up to twice as much, as a sharp orifice does.
    """
    downstream_bore = upstream_bore if downstream_bore is None else downstream_bore
    middle = plain(friction_factor) * plain(length) / positive(bore, "bore", "m")
    ends = sudden_contraction(bore, upstream_bore) + sudden_expansion(bore, downstream_bore)
    return plain(ends + middle)


@finite
def loss_coefficient_from_kv(kv, *, bore):
    """Loss coefficient on the velocity head of `bore` (m) of a valve with flow coefficient `kv`; broadcasts.

    Kv is m3/h of cold water at a loss of 1 bar (IEC 60534-1): K = (2 bar/1000 kg/m3) (A/Q)^2.
    """
    return _from_flow(plain(kv) / 3600.0, 1e5, bore)


@finite
def loss_coefficient_from_cv(cv, *, bore):
    """Loss coefficient on the velocity head of `bore` (m) of a valve with flow coefficient `cv`; broadcasts.

    Cv is US gpm of cold water at a loss of 1 psi (ANSI/ISA-75.01.01), 1.156 Kv.
    """
    return _from_flow(plain(cv) * (US_GALLON / 60.0), PSI, bore)


def _from_flow(flow, pressure, bore):
    area = np.pi / 4.0 * positive(bore, "bore", "m") ** 2
    return plain(2.0 * pressure / _KV_DENSITY * (area / positive(flow, "flow coefficient", "m3/s")) ** 2)


def _beta(bore, larger_bore):
    beta = plain(positive(bore, "bore", "m") / positive(larger_bore, "larger bore", "m"))
    return require(
        beta <= 1.0 + 1e-12,
        beta,
        "the small bore is {value} times the large one; give the smaller bore first",
    )
