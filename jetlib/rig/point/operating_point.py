"""What a rig does at a throttle: gauge, flows, losses, what limits it, and what to be careful of."""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from jetlib.errors import JetlibError
from jetlib.physics import hose as hose_physics
from jetlib.physics import water
from jetlib.physics.constants import ATMOSPHERE
from jetlib.physics.pump import hydraulic_power
from jetlib.physics.reaction import jet_reaction
from jetlib.physics.values import plain
from jetlib.rig.parts.machine import Rig
from jetlib.rig.parts.part import require_kind
from jetlib.rig.point.cautions import cautions_for
from jetlib.rig.point.circuit import compile_circuit, require_rig
from jetlib.rig.point.solver import Solution, solve
from jetlib.units import si
from jetlib.units.given import Share, Truths, Values, Words

LIMITS = np.array(["jets", "bypass", "engine", "burst disc", "outlet shut"])
VACUUM = -ATMOSPHERE  # Pa on the gauge; nothing reads less
_NEXT_TO_NOTHING = 1e-9  # of the pump flow


@dataclass(frozen=True, eq=False)
class OperatingPoint:
    """The state of `rig` at `throttle`: floats for one rig at one throttle, else arrays of the broadcast shape.

    gauge: pressure at the pump, Pa. line_pressure: pressure at the start of the hose; differs from the gauge only
    when a trapping unloader holds a shut line. pump_flow = nozzle_flow + bypass_flow + leak_flow, m3/s. swept_flow is
    what the plungers move before slip. hose_losses: friction in Pa, one entry a hose, first axis. fitting_loss, Pa:
    hose ends, fittings and nozzle body. lift_pressure, nozzle_pressure Pa. disc_open: a burst disc has gone, now or
    before. engine_bogged: the engine turns slower than the throttle asks.

    >>> point = operating_point(demo_rig("yard_trailer"))
    >>> point.limited_by, both(point.gauge, "pressure")
    ('jets', '2760 psi (190 bar)')
    """

    rig: Rig
    throttle: Values
    gauge: Values
    line_pressure: Values
    pump_flow: Values
    swept_flow: Values
    nozzle_flow: Values
    bypass_flow: Values
    leak_flow: Values
    hose_losses: np.ndarray
    fitting_loss: Values
    lift_pressure: Values
    nozzle_pressure: Values
    disc_open: Truths
    engine_bogged: Truths
    limit_code: int | np.ndarray

    @property
    def limited_by(self) -> Words:
        """What sets the state: "jets", "bypass", "engine", "burst disc" or "outlet shut"; an array of them for arrays.

        "bypass" wins over "engine" when a bogged engine still makes enough for the valve to be open. "outlet shut" also
        when the pump runs and cannot lift water as high as the nozzle, unless a valve passes what it gives.
        """
        name = LIMITS[self.limit_code]
        return str(name) if np.ndim(self.limit_code) == 0 else name

    @property
    def speed(self) -> Values:
        """Speed of the pump, rad/s; below what the throttle asks when the engine bogs."""
        return self.swept_flow / self.rig.pump.rated_flow * self.rig.pump.rated_speed

    @property
    def motor_overloaded(self) -> Truths:
        """Whether an electric motor is asked for more than its power: it holds its speed until it trips."""
        engine = self.rig.engine
        electric = engine is not None and engine.kind == "electric"
        return np.asarray(self.shaft_power > (engine.available() if electric else np.inf))

    @property
    def hose_loss(self) -> Values:
        """Friction of all hoses together, Pa."""
        return plain(self.hose_losses.sum(axis=0) if len(self.hose_losses) else np.zeros(np.shape(self.gauge)))

    @property
    def hydraulic_power(self) -> Values:
        """Power in the water as it leaves the pump, W: gauge x pump flow."""
        return hydraulic_power(self.gauge, self.pump_flow)

    @property
    def shaft_power(self) -> Values:
        """Power at the pump shaft, W: gauge x swept flow / mechanical efficiency."""
        return self.gauge * self.swept_flow / self.rig.pump.mechanical_efficiency

    @property
    def power_shares(self) -> dict:
        """Where the hydraulic power goes, W: jets, hose, fittings, lift, bypass, leak. They add up to it."""
        q = self.nozzle_flow
        return {
            "jets": self.nozzle_pressure * q,
            "hose": self.hose_loss * q,
            "fittings": self.fitting_loss * q,
            "lift": self.lift_pressure * q,
            "bypass": self.gauge * self.bypass_flow,
            "leak": self.gauge * self.leak_flow,
        }

    @cached_property
    def _density(self):
        return water.density(self.rig.water_temperature)

    @property
    def reaction(self) -> Values:
        """Pull of the jets along the hose, N: those that point back less those that point ahead."""
        pull = np.zeros(np.shape(self.gauge))
        for jet, flow in zip(self.rig.nozzle.jets, self.jet_flows, strict=True):
            shared = {"density": self._density, "velocity_coefficient": jet.velocity_coefficient}
            pull = pull + jet_reaction(flow, self.nozzle_pressure, angle=jet.angle, **shared)
        return plain(pull)

    @property
    def jet_flows(self) -> np.ndarray:
        """Flow of each jet group, m3/s, first axis the groups."""
        total_area = np.asarray(self.rig.nozzle.effective_area)
        share_of = self.nozzle_flow / np.where(total_area > 0, total_area, np.inf)
        return np.array([share_of * jet.effective_area for jet in self.rig.nozzle.jets])

    @property
    def hose_velocities(self) -> np.ndarray:
        """Mean velocity in each hose, m/s, first axis the hoses."""
        return np.array([hose_physics.velocity(self.nozzle_flow, bore=hose.bore) for hose in self.rig.hoses])

    @property
    def hose_pressures(self) -> np.ndarray:
        """The most each hose may see, Pa, first axis the hoses: the pressure where the water enters it.

        Where the nozzle is below the pump the whole fall is added to each, as nobody says which hose hangs down.
        """
        entry, seen = self.line_pressure, []
        fall = np.maximum(-np.asarray(self.lift_pressure), 0.0)
        for loss in self.hose_losses:
            seen.append(entry + fall)
            entry = entry - loss
        return np.array(seen)

    @property
    def over_pressure(self) -> Truths:
        """Whether each hose sees more than its working pressure, first axis the hoses; False where none is given."""
        each = zip(self.hose_pressures, self.rig.hoses, strict=True)
        return np.array([seen > hose.pressure_limit for seen, hose in each], dtype=bool)

    @property
    def cautions(self) -> tuple:
        """Sentences the reader must see, a tuple; empty when there is nothing to warn of."""
        return cautions_for(self)


def require_point(point, write):
    """`point`; JetlibError for anything that is no OperatingPoint. write: the line to write instead."""
    return require_kind(point, OperatingPoint, "point", write)


def operating_point(rig: Rig, throttle: Share = 1.0) -> OperatingPoint:
    """The OperatingPoint of `rig` at `throttle` (0 idle to 1 full; number, "50 %" or an array).

    Fields of the parts may be arrays; everything broadcasts. Residual of the flow balance below 1e-9 of the pump flow.
    A burst disc that is whole bursts if the pressure without it would pass its rating. Raises JetlibError for a
    throttle outside 0..1.

    >>> point = operating_point(demo_rig("yard_trailer"), "50 %")
    >>> both(point.gauge, "pressure")
    '1450 psi (99.9 bar)'
    """
    throttle = si(throttle, "fraction", field="throttle", owner="operating_point")
    circuit, shape = compile_circuit(rig, throttle)
    return _result(rig, throttle, circuit, shape, *_solve_with_disc(circuit, shape))


def throttle_sweep(rig: Rig, throttles: Share) -> OperatingPoint:
    """The OperatingPoint of `rig` over `throttles` (a sequence, 0..1), taken in that order.

    The throttles are the last axis of every array in it; a rig of arrays has its own axes before that. A burst disc
    that goes at one throttle is open at all later ones.

    >>> throttle_sweep(demo_rig("yard_trailer"), [0.0, 0.5, 1.0]).nozzle_flow.shape
    (3,)
    """
    throttles = np.atleast_1d(si(throttles, "fraction", field="throttles", owner="throttle_sweep"))
    if throttles.ndim != 1:
        raise JetlibError(f"throttles has {throttles.ndim} axes; write throttle_sweep(rig, numpy.linspace(0, 1, 200))")
    rig = _with_last_axis(require_rig(rig))
    circuit, shape = compile_circuit(rig, throttles)
    return _result(rig, throttles, circuit, shape, *_solve_with_disc(circuit, shape, in_order=True))


def _solve_with_disc(circuit, shape, in_order=False):
    size = int(np.prod(shape))
    solution = solve(circuit, size)
    if circuit.disc is None:
        return solution, None
    opened = np.broadcast_to(circuit.disc_open, (size,))
    goes = opened | (solution.line_pressure > circuit.disc_rating)
    if in_order:
        goes = np.logical_or.accumulate(goes.reshape(shape), axis=-1).reshape(-1)
    if np.any(goes != opened):
        solution = solve(replace(circuit, disc_open=goes), size)
    return solution, goes


def _result(rig, throttle, circuit, shape, solution: Solution, disc_open):
    q, pressure, pump_flow, swept, bypass, leak, losses, closed = vars(solution).values()
    # Water does not hang from a pump by less than a vacuum: below that the hose runs down only part full, and what it
    # does not hold up is no lift.
    line = np.maximum(pressure, VACUUM)
    gauge, siphoned = line, line - pressure
    code = np.where(bypass > _NEXT_TO_NOTHING * pump_flow, 1, 0)
    bogged = swept < circuit.ideal_flow * (1.0 - 1e-9)
    code = np.where(bogged & (code == 0), 2, code)
    unloader = rig.unloader
    if unloader is not None and unloader.trapping and closed.any():
        trapped = closed & (pressure > circuit.setting) & np.asarray(circuit.shut)
        gauge = np.where(trapped, np.minimum(_flat_like(unloader.unloaded_pressure, shape), circuit.setting), gauge)
        swept = np.where(trapped, circuit.ideal_flow, swept)
        pump_flow = np.where(trapped, circuit.ideal_flow - circuit.slip * gauge, pump_flow)
        bypass, leak = np.where(trapped, pump_flow, bypass), np.where(trapped, 0.0, leak)
        bogged = bogged & ~trapped
    if disc_open is not None:
        code = np.where(disc_open, 3, code)
    if closed.any():
        blocked = closed & (circuit.shut | ((code == 0) & (swept > 0.0)))
        code = np.where(blocked, 4, code)
    q_squared = q * q
    values = {
        "gauge": gauge,
        "line_pressure": line,
        "pump_flow": pump_flow,
        "swept_flow": swept,
        "nozzle_flow": q,
        "bypass_flow": bypass,
        "leak_flow": leak,
        "fitting_loss": circuit.fixed * q_squared,
        "lift_pressure": circuit.static + siphoned,
        "nozzle_pressure": circuit.jets * q_squared,
        "disc_open": np.zeros(q.shape, dtype=bool) if disc_open is None else disc_open,
        "engine_bogged": bogged,
        "limit_code": code,
    }
    values = {name: _shaped(np.broadcast_to(value, q.shape), shape) for name, value in values.items()}
    losses = losses.reshape(len(rig.hoses), *shape)
    return OperatingPoint(rig=rig, throttle=throttle, hose_losses=losses, **values)


def _shaped(flat, shape):
    return flat.reshape(shape) if shape else flat[0].item()


def _flat_like(value, shape):
    array = np.asarray(value)
    return array if array.size == 1 else np.broadcast_to(array, shape).reshape(-1)


def _with_last_axis(part):
    """The same part with a new last axis on every array in it, so that throttles get an axis of their own."""
    changes = {}
    for name in part.__dataclass_fields__:
        value = getattr(part, name)
        if isinstance(value, np.ndarray) and value.ndim:
            changes[name] = value[..., np.newaxis]
        elif isinstance(value, tuple | list) and value:
            changes[name] = tuple(_with_last_axis(item) for item in value)
        elif hasattr(value, "__dataclass_fields__"):
            changes[name] = _with_last_axis(value)
    changes = {name: value for name, value in changes.items() if value is not getattr(part, name)}
    return part.replace(**changes) if changes else part
