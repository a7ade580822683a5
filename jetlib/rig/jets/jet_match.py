"""The jets that match, for many rigs at once: the closed form of `matching.matched_jets` on arrays."""

from dataclasses import replace

import numpy as np

from jetlib.physics import water
from jetlib.rig.point.circuit import compile_circuit


def matched_area(rig):
    """Effective area (m2) of the jets that bring full throttle and the valve's setting together; any shape of rig.

    Not a number where there are none: no unloader, or a line that asks for more than the setting by itself.
    """
    if rig.unloader is None:
        return np.nan
    bare, shape = compile_circuit(rig.replace(outlet_shut=False), 1.0)
    bare = replace(bare, jets=np.zeros(()))
    setting = np.broadcast_to(bare.setting, (int(np.prod(shape)),)).astype(float)
    disc, leak, *_ = bare.returned_flow_and_slope(setting)  # the unloader itself passes nothing yet
    given = bare.pumped(setting)[0]
    given = given - disc - leak
    needed = bare.line_pressure_and_slope(np.maximum(given, 1e-15))[0]
    left = setting - needed
    density = water.density(rig.water_temperature)
    with np.errstate(invalid="ignore", divide="ignore"):
        good = (left > 0.0) & (given > 0.0)
        head = np.broadcast_to(np.where(good, left, 1.0), setting.shape).reshape(shape)
        area = np.reshape(np.where(good, given, np.nan), shape) / np.sqrt(2.0 * head / density)
    return area[()]
