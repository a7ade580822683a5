"""The one root of the circuit equation, for any number of rigs at once.

Surplus G(q) = pump - bypass - leak - q, all taken at the pressure p(q) that the line needs, falls all the way from
q = 0, so there is one root. Newton steps with the analytic slope find it; a bracket catches a step that leaves it.
Large batches go through in blocks small enough to stay in the processor's cache.
"""

from dataclasses import dataclass, fields, replace

import numpy as np

from jetlib.errors import JetlibError
from jetlib.physics import pump
from jetlib.rig.point.circuit import SLIP_OF_AN_IDEAL_PUMP, Circuit, picked

BLOCK = 16384
TOLERANCE = 1e-10  # of the flow the pump delivers; the promise to callers is 1e-9
ROUNDING = 1e-3  # of it: what the rounding of a gauge of almost nothing can do to the flow of an engine short of power
_MOST_STEPS = 200
_PATIENCE = 20  # Newton steps, before every other one halves the bracket and a bracket of rounding width will do


@dataclass
class Solution:
    """Flat arrays, one entry a rig: pressures Pa, flows m3/s. `losses` is (hoses, rigs)."""

    nozzle_flow: np.ndarray
    line_pressure: np.ndarray
    pump_flow: np.ndarray
    swept_flow: np.ndarray
    bypass_flow: np.ndarray
    leak_flow: np.ndarray
    losses: np.ndarray
    closed: np.ndarray  # bool: nothing leaves by the nozzle


def solve(circuit: Circuit, size: int) -> Solution:
    """The operating state of each of `size` rigs."""
    if size <= BLOCK:
        return _solve_block(circuit, size)
    whole = _empty(size, len(circuit.sections))
    for start in range(0, size, BLOCK):
        block = slice(start, min(start + BLOCK, size))
        _put(whole, block, _solve_block(circuit.take(block), block.stop - block.start))
    return whole


def _solve_block(circuit, size):
    most = np.empty(size)
    at_rest = np.maximum(circuit.static, 0.0)
    most[:] = circuit.pumped(at_rest)[0]
    closed = np.empty(size, dtype=bool)
    bypass, leak, *_ = circuit.returned_flow_and_slope(at_rest + np.zeros(size))
    closed[:] = circuit.shut | (most - bypass - leak <= 0.0)
    if not closed.any():
        return _open_outlet(circuit, most)
    result = _empty(size, len(circuit.sections))
    for rows, solver in ((np.nonzero(closed)[0], _no_outlet), (np.nonzero(~closed)[0], _open_outlet)):
        if rows.size:
            _put(result, rows, solver(circuit.take(rows), most[rows]))
    return result


def _open_outlet(circuit, most):
    """Rigs with a way out. `most` is the flow the pump gives against no pressure but the lift: an upper bound."""
    flow, low, high = most, np.zeros_like(most), most
    states, whole, rows = None, None, None
    for step in range(_MOST_STEPS):
        pressure, rise, losses, states = circuit.line_pressure_and_slope(flow, states)
        given, given_slope, swept = circuit.pumped(pressure)
        bypass, leak, bypass_slope, leak_slope = circuit.returned_flow_and_slope(pressure)
        spare = given - leak - flow  # what is left for the valve
        surplus = spare - bypass
        # Of what is delivered, not of `most`: a bogged or worn pump may deliver a small part of that.
        settled = np.abs(surplus) <= TOLERANCE * given
        if step > _PATIENCE:
            # The flow is known to its last digit and the pressure is not, a small difference of large ones: what leaves
            # says what the pump gives.
            narrow = ~settled & (high - low <= 4e-16 * high) & (np.abs(surplus) <= ROUNDING * given)
            given = np.where(narrow, flow + bypass + leak, given)
            settled |= narrow
        loose = np.count_nonzero(~settled)
        if loose and step == _MOST_STEPS - 1:
            raise JetlibError(
                f"no flow balances to 1e-9 in {loose} of these rigs: their numbers are too far apart; check "
                "the lift, the bores and the pump"
            )
        if loose == 0 or (step >= 2 and 3 * loose <= flow.size):
            found = _found(flow, pressure, given, swept, bypass, leak, losses)
            if whole is None:
                whole, rows = found, np.arange(flow.size)
            else:
                _put(whole, rows, found)
            if loose == 0:
                break
            # Most rigs are done: go on with the few that are not.
            left = np.nonzero(~settled)[0]
            rows, circuit = rows[left], circuit.take(left)
            flow, low, high, most, surplus, spare, bypass, pressure, rise, settled = (
                array[left] for array in (flow, low, high, most, surplus, spare, bypass, pressure, rise, settled)
            )
            given_slope, bypass_slope, leak_slope = (
                array if np.ndim(array) == 0 else array[left] for array in (given_slope, bypass_slope, leak_slope)
            )
            states = [tuple(picked(each, left) for each in state) for state in states]
        over = surplus < 0.0
        low, high = np.where(over, low, flow), np.where(over, flow, high)
        spare_slope = (given_slope - leak_slope) * rise - 1.0
        bypass_slope = bypass_slope * rise
        step_size = surplus / (spare_slope - bypass_slope)
        if circuit.setting is not None and step > 0:
            # A valve's flow goes as a square; between square roots the equation is nearly a straight line.
            near = (bypass > 0.0) & (spare > 0.1 * bypass)
            root_spare, root_bypass = np.sqrt(np.where(near, spare, 1.0)), np.sqrt(np.where(near, bypass, 1.0))
            straight = 2.0 * (root_spare - root_bypass) / (spare_slope / root_spare - bypass_slope / root_bypass)
            step_size = np.where(near, straight, step_size)
        following = flow - step_size
        if step == 0:
            following = np.minimum(following, _first_guess(circuit, flow, pressure, rise))
        inside = (following > low) & (following < high)
        if step > _PATIENCE and step % 2:
            inside = np.zeros_like(settled)  # Newton may creep where a slope jumps; halving the bracket never does
        if not inside.all():
            following = np.where(inside, following, np.where(settled, flow, 0.5 * (low + high)))
        flow = following
    return whole


def _found(flow, pressure, given, swept, bypass, leak, losses):
    own_swept = np.array(np.broadcast_to(swept, flow.shape))  # the circuit's own array must not be written to
    closed = np.zeros(flow.shape, bool)
    return Solution(flow.copy(), pressure, _whole(given, flow), own_swept, bypass, leak, _stack(losses, flow), closed)


def _first_guess(circuit, flow, pressure, slope):
    """Where the root lies if pressure goes as a power of flow, as it nearly does: saves most of the Newton steps."""
    above = np.maximum(pressure - circuit.static, 1e-9)
    exponent = 1.0 / np.maximum(slope * flow / above, 1.0)
    guess = flow
    if circuit.setting is not None:
        u = 0.5
        for _ in range(2):
            target = circuit.setting * (1.0 + np.maximum(circuit.rise, pump.SMALLEST_RISE) * u) - circuit.static
            share = np.minimum(np.maximum(target, 1e-9) / above, 1.0) ** exponent
            u = np.sqrt((1.0 - share) * flow / circuit.rated_flow)
        guess = np.where(pressure > circuit.setting, np.minimum(guess, share * flow), guess)
    if np.ndim(circuit.torque_pressure) or circuit.torque_pressure != np.inf:
        share = np.minimum((1.0 + 0.2 * circuit.torque_rise) * circuit.torque_pressure - circuit.static, above) / above
        guess = np.minimum(guess, np.maximum(share, 1e-9) ** exponent * flow)
    return guess


def _no_outlet(circuit, most):
    """Rigs whose water cannot leave by the nozzle: the unknown is the pressure.

    Everything is reckoned from the swept flow: what the pump gives against the lift may be nothing at all.
    """
    if circuit.setting is None:
        helpless = circuit.shut if circuit.disc is None else circuit.shut & ~circuit.disc_open
        least = np.where(helpless, SLIP_OF_AN_IDEAL_PUMP * circuit.rated_flow / circuit.rated_pressure, 0.0)
        circuit = replace(circuit, slip=np.maximum(circuit.slip, least))
    most = np.broadcast_to(circuit.ideal_flow, most.shape)
    low, high = np.zeros_like(most), _pressure_ceiling(circuit, most)
    pressure = np.where(most > 0.0, 0.5 * high, 0.0)  # a pump that stands still makes no pressure
    for step in range(_MOST_STEPS):
        given, slope, swept = circuit.pumped(pressure)
        bypass, leak, bypass_slope, leak_slope = circuit.returned_flow_and_slope(pressure)
        surplus = given - bypass - leak
        settled = (np.abs(surplus) <= TOLERANCE * (bypass + leak)) | (high - low <= 4e-16 * high) | (most == 0.0)
        if settled.all():
            break
        over = surplus < 0.0
        low, high = np.where(over, low, pressure), np.where(over, pressure, high)
        total = slope - bypass_slope - leak_slope
        following = pressure - surplus / np.where(total < 0.0, total, -1e-300)
        inside = (following > low) & (following < high) & (step <= _PATIENCE or step % 2 == 0)
        following = np.where(inside, following, 0.5 * (low + high))
        pressure = np.where(settled, pressure, following)
    losses = np.zeros((len(circuit.sections), pressure.size))
    # With no other way out the pump delivers what valves and leaks take, to the last digit: where they take nothing,
    # the difference of two large numbers would leave dust.
    delivered, swept = bypass + leak, _whole(swept, pressure)
    nothing = np.zeros_like(pressure)
    return Solution(nothing, pressure, delivered, swept, bypass, leak, losses, np.ones(pressure.shape, bool))


def _pressure_ceiling(circuit, most):
    """A pressure (Pa) at which a shut rig gives back at least the flow `most`."""
    ceilings = []
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        if circuit.setting is not None:
            ceilings.append(
                pump.unloader_pressure(most, setting=circuit.setting, rise=circuit.rise, full_flow=circuit.rated_flow)
            )
        ceilings.append(np.where(circuit.slip > 0, most / circuit.slip, np.inf))
        if circuit.packing is not None:
            ceilings.append(np.where(circuit.packing > 0, np.square(most / circuit.packing), np.inf))
        if circuit.leak is not None:
            ceilings.append(np.where(circuit.leak > 0, np.square(most / circuit.leak), np.inf))
        if circuit.disc is not None:
            ceilings.append(np.where(circuit.disc_open, np.square(most / circuit.disc), np.inf))
    # 1e12 Pa is beyond any machine; a bound is all that is wanted
    ceiling = np.full_like(most, 1e12)
    for bound in ceilings:
        ceiling = np.minimum(ceiling, bound)
    return ceiling * (1.0 + 1e-9)


def _whole(value, like):
    return value if np.shape(value) == like.shape else np.broadcast_to(value, like.shape).copy()


def _stack(losses, like):
    return np.stack([_whole(loss, like) for loss in losses]) if losses else np.zeros((0, like.size))


def _empty(size, sections):
    floats = {item.name: np.empty(size) for item in fields(Solution)}
    return Solution(**{**floats, "losses": np.empty((sections, size)), "closed": np.empty(size, dtype=bool)})


def _put(whole, where, part):
    for item in fields(Solution):
        getattr(whole, item.name)[..., where] = getattr(part, item.name)
