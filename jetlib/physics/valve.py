"""What a valve lets back to the tank: an unloader, a hole that leaks, a disc that has burst."""

import numpy as np

from jetlib.physics.values import finite, positive

#: Discharge coefficient of a worn seat or a burst disc: a ragged sharp-edged hole (Unwin 1911: 0.62 when clean).
HOLE_DISCHARGE_COEFFICIENT = 0.62
#: A valve with no rise at all would be a vertical line; this stands in for it (1/100 of a per cent).
SMALLEST_RISE = 1e-4


def unloader_flow_and_slope(pressure, *, setting, rise, full_flow):
    """Flow through an unloader (m3/s) and its slope with pressure (m3/s/Pa).

    pressure and setting Pa, rise dimensionless (how far above its setting the valve must be pushed to pass
    full_flow, as a share of the setting), full_flow m3/s. Broadcasts.
    Nothing passes below the setting. Above it the pressure climbs quickly at first and then less and less:
    p = setting (1 + rise sqrt(bypass / full_flow)). The shape is *common practice, no source*: about 100 psi over at
    3000 psi when a sixth of the flow is going back, a few per cent more when all of it is.
    """
    width = np.maximum(rise, SMALLEST_RISE) * np.maximum(setting, 1e-9)
    over = np.maximum(pressure - setting, 0.0) / width
    return full_flow * over * over, 2.0 * full_flow * over / width


@finite
def unloader_pressure(flow, *, setting, rise, full_flow):
    """Pressure (Pa) that an unloader holds while it passes `flow` (m3/s): the inverse of `unloader_flow_and_slope`."""
    share = np.maximum(flow, 0.0) / positive(full_flow, "full_flow", "m3/s")
    return setting * (1.0 + np.maximum(rise, SMALLEST_RISE) * np.sqrt(share))


def hole_flow_and_slope(pressure, conductance):
    """Flow (m3/s) to the tank through an open hole and its slope (m3/s/Pa).

    pressure Pa, conductance m3/s per sqrt(Pa), from `hole_conductance`. Broadcasts. Q = G sqrt(p).
    """
    root = np.sqrt(np.maximum(pressure, 0.0))
    return conductance * root, np.where(root > 0.0, 0.5 * conductance / np.maximum(root, 1e-3), 0.0)


@finite
def hole_conductance(bore, *, density):
    """Conductance (m3/s per sqrt(Pa)) of a round hole of `bore` (m): Cd A sqrt(2/rho), Cd 0.62."""
    area = np.pi / 4.0 * np.square(bore)
    return HOLE_DISCHARGE_COEFFICIENT * area * np.sqrt(2.0 / positive(density, "density", "kg/m3"))
