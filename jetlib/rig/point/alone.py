"""One part by itself, or one part of a rig, at a flow or a pressure that is given: what consoles and tables show.

SI floats or arrays, which broadcast. Where no rig gives the water, it is at 15 °C.
"""

import numpy as np

from jetlib.errors import JetlibError
from jetlib.physics import channel, hose, orifice, water
from jetlib.physics.constants import USUAL_TEMPERATURE
from jetlib.physics.friction import coil_ratio
from jetlib.physics.reaction import jet_reaction
from jetlib.rig.point.circuit import compile_circuit
from jetlib.units import si
from jetlib.units.given import Flow, Length, Temperature, Values
from jetlib.units.refusal import cut

USUAL_WALL = 0.01e-3  # m: roughness of a hose in use
CONSOLE_REEL = 0.5  # m: across
# For screens, which know no formulas: area (m2) and bore (m) of a hole, flow (m3/s) of a drain by bore, fall and wall.
hole_area, hole_bore, greatest_drain_flow = orifice.circle_area, orifice.circle_bore, channel.greatest_flow


def hose_loss(
    flow: Flow,
    *,
    bore: Length,
    length: Length,
    roughness: Length = USUAL_WALL,
    reel: bool = False,
    temperature: Temperature = USUAL_TEMPERATURE,
) -> Values:
    """Pressure (Pa) that a hose loses at `flow` (m3/s), laid straight, or all of it on a reel 0.5 m across.

    bore, length and roughness in m, temperature of the water in K; each may be a text with its unit, as in a Hose.

    >>> both(hose_loss("8 gpm", bore="1/2 in", length="200 ft"), "pressure")
    '122 psi (8.40 bar)'
    """
    flow, bore, length = si(flow, "flow"), si(bore, "hose_bore"), si(length, "length")
    roughness, temperature = si(roughness, "roughness"), si(temperature, "temperature")
    density, viscosity = water.density(temperature), water.viscosity(temperature)
    loss = hose.pressure_loss(flow, bore=bore, length=length, roughness=roughness, density=density, viscosity=viscosity)
    if not isinstance(reel, bool | np.bool_):
        raise JetlibError(f"reel is {cut(reel)}; write reel=True or reel=False")
    if not reel:
        return loss
    reynolds = hose.reynolds_number(flow, bore=bore, density=density, viscosity=viscosity)
    return loss * coil_ratio(reynolds, bore, CONSOLE_REEL)


def hose_velocity(flow, bore):
    """Velocity (m/s) of the water in a hose."""
    return hose.velocity(flow, bore=bore)


def jet_set_pressure(flow, *, count, bore, edge):
    """Pressure (Pa) that `count` holes of `bore` (m) with discharge coefficient `edge` need at `flow` (m3/s)."""
    area = count * orifice.circle_area(bore)
    return orifice.pressure(flow, area=area, discharge_coefficient=edge, density=water.density(USUAL_TEMPERATURE))


def hose_losses(rig, flows):
    """Friction (Pa) of each hose, first axis, then of all fittings, at `flows` (m3/s, an array) of one Rig."""
    circuit, _ = compile_circuit(rig, 1.0)
    flows = np.asarray(flows, dtype=float)
    _, _, losses, _ = circuit.line_pressure_and_slope(flows)
    return np.array([*losses, circuit.fixed * flows * flows])


def jet_flows(rig, pressures):
    """Flow (m3/s) of each group of jets, first axis, at `pressures` (Pa, an array) at the nozzle."""
    density = water.density(rig.water_temperature)
    return np.array(
        [
            orifice.flow(pressures, area=jet.area, discharge_coefficient=jet.discharge_coefficient, density=density)
            for jet in rig.nozzle.jets
        ]
    )


def pull(rig, pressures):
    """Pull (N) of all jets along the hose at `pressures` (Pa, an array) at the nozzle."""
    density = water.density(rig.water_temperature)
    return sum(
        jet_reaction(flow, pressures, density=density, velocity_coefficient=jet.velocity_coefficient, angle=jet.angle)
        for jet, flow in zip(rig.nozzle.jets, jet_flows(rig, pressures), strict=True)
    )
