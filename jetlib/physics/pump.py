"""What the machine gives: a pump whose speed makes flow, whatever the pressure, but for what slips back inside; the
power it takes; and what a valve lets back to the tank: an unloader, a hole that leaks, a disc that has burst.
"""

import numpy as np

from jetlib.errors import JetlibError
from jetlib.physics.constants import GRAVITY
from jetlib.physics.values import finite, not_negative, plain, positive, require

#: How far the torque of an engine climbs as it is dragged down, for the whole of its speed. *Common practice, no
#: source.*
USUAL_TORQUE_RISE = 0.5
#: How hard the plungers of a single-acting pump jerk the water of the suction line: ANSI/HI 6.1-6.5, from memory.
SUCTION_PULSES = {2: 0.200, 3: 0.066, 5: 0.040, 7: 0.028}
#: Share of the head that water itself takes up there: ANSI/HI 6.1-6.5, 1.4 for cold water; from memory.
SUCTION_FLUID = 1.4
#: Discharge coefficient of a worn seat or a burst disc: a ragged sharp-edged hole (Unwin 1911: 0.62 when clean).
HOLE_DISCHARGE_COEFFICIENT = 0.62
#: A valve with no rise at all would be a vertical line; this stands in for it (1/100 of a per cent).
SMALLEST_RISE = 1e-4


def flow_and_slope(pressure, *, ideal_flow, slip, packing=None, torque_pressure=np.inf, torque_rise=USUAL_TORQUE_RISE):
    """Flow delivered (m3/s), its slope with pressure (m3/s/Pa) and the flow the plungers sweep (m3/s).

    pressure Pa at the pump outlet, ideal_flow m3/s (displacement x speed asked for by the throttle), slip m3/s per
    Pa that leaks back inside the pump, packing m3/s per sqrt(Pa) that leaks out as through a hole. Broadcasts.
    delivered = swept - slip p - packing sqrt(p): definition of displacement and volumetric efficiency of a pump.
    torque_pressure Pa: where the engine's rated torque is used up, for torque is pressure times displacement, whatever
    the speed. Asked for more it slows until its torque has climbed as far: by torque_rise for the whole of its speed,
    evenly. 0 is constant torque (it stops), 1 close to constant power. *Common practice, no source:* engines differ.
    """
    head = np.maximum(pressure, 0.0)
    delivered_slope = np.where(head > 0.0, -slip, 0.0)
    swept = ideal_flow
    if np.ndim(torque_pressure) or torque_pressure != np.inf:
        width = np.maximum(torque_rise, 0.02) * torque_pressure
        over = np.maximum(head - torque_pressure, 0.0) / width
        swept = ideal_flow * (1.0 - np.clip(over, 0.0, 1.0))
        delivered_slope = delivered_slope - np.where((over > 0.0) & (over < 1.0), ideal_flow / width, 0.0)
    delivered = swept - slip * head
    if packing is not None:
        root = np.sqrt(head)
        delivered = delivered - packing * root
        delivered_slope = delivered_slope - np.where(root > 0.0, 0.5 * packing / np.maximum(root, 1e-3), 0.0)
    return delivered, delivered_slope, swept


@finite
def acceleration_head(length, velocity, speed, *, plungers=3):
    """Head (m of water) that a suction line must find to speed its water up at each stroke; broadcasts.

    length of the line m, mean velocity in it m/s, speed of the crank rad/s, plungers 2, 3, 5 or 7. h = L V n C/(K g),
    n in rpm: ANSI/HI 6.1-6.5 *Reciprocating power pumps*, from memory. For a short line (to some 15 m) that does not
    give, without an air chamber: hose that gives asks for less, so it is the most. JetlibError for other plungers.
    """
    if not isinstance(plungers, int) or plungers not in SUCTION_PULSES:
        raise JetlibError(f"plungers is {plungers!r}; the rule knows 2, 3, 5 and 7: write plungers=3")
    rpm = not_negative(speed, "speed", "rad/s") * 30.0 / np.pi
    head = not_negative(length, "length", "m") * not_negative(velocity, "velocity", "m/s") * rpm
    return plain(head * SUCTION_PULSES[plungers] / (SUCTION_FLUID * GRAVITY))


@finite
def flow_pulse(plungers=3, rod_ratio=6.0):
    """Lowest and highest flow of a plunger pump over its mean, a pair of shares: (-0.17, 0.06) for a triplex.

    rod_ratio: length of the connecting rod over the crank, above 1; very long rods give a triplex 14 % of pulse, real
    ones 23 to 25 %. Geometry of crank and rod, no valve lag, no give: Karassik, *Pump Handbook*, prints 23 %.
    """
    ratio = positive(rod_ratio, "rod_ratio", "")
    if not isinstance(plungers, int) or not 1 <= plungers <= 20 or not ratio > 1.0:
        raise JetlibError("plungers must be a whole number 1 to 20 and rod_ratio above 1; write flow_pulse(3, 6.0)")
    turn = np.linspace(0.0, 2.0 * np.pi, 7200, endpoint=False)
    at = turn[:, np.newaxis] + 2.0 * np.pi * np.arange(plungers) / plungers
    speed = np.sin(at) * (1.0 + np.cos(at) / np.sqrt(ratio**2 - np.sin(at) ** 2))
    flow = np.maximum(speed, 0.0).sum(axis=1)
    return float(flow.min() / flow.mean() - 1.0), float(flow.max() / flow.mean() - 1.0)


@finite
def hydraulic_power(flow, pressure):
    """Power in the water, W: flow (m3/s) times pressure rise (Pa); broadcasts.

    P = Q p, the work of pushing a volume against a pressure. In US units hp = gpm psi / 1714.
    """
    return plain(plain(flow) * plain(pressure))


@finite
def shaft_power(flow, pressure, efficiency):
    """Power at the shaft of the pump, W; broadcasts.

    `flow` delivered m3/s, `pressure` rise Pa, `efficiency` of the pump and its drive together, above 0 to
    1. JetlibError outside that.

    P = Q p / efficiency. A plunger pump in good order with its belt or gearbox: 0.8 to 0.9 (*common
    practice, no source*).
    """
    efficiency = plain(efficiency)
    require(
        (efficiency > 0.0) & (efficiency <= 1.0),
        efficiency,
        "efficiency is {value}; it is a share above 0 and up to 1: write 0.85 for 85 %",
    )
    return plain(hydraulic_power(flow, pressure) / efficiency)


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
