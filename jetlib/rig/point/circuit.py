"""A rig at a throttle, boiled down to the numbers of one equation, and that equation.

The unknown is the flow q through hose and jets. The pressure it needs at the pump is explicit and rises with q:

    p(q) = lift + sum of hose friction + k q^2          (fittings, nozzle body and jets all go as q^2)

and what the pump gives at that pressure, less what valve and leaks take, must be q again.
"""

from dataclasses import dataclass

import numpy as np

from jetlib.errors import JetlibError
from jetlib.physics import fitting, pump, water
from jetlib.physics.constants import GRAVITY
from jetlib.physics.friction import (
    TURBULENT_LIMIT,
    coil_ratio_step,
    colebrook_start,
    colebrook_step,
    factor_and_slope,
)
from jetlib.rig.parts.machine import Rig
from jetlib.rig.parts.part import require_kind

#: Share of the rated flow that slips back at rated pressure when nothing better is known and nothing else holds the
#: pressure of a shut outlet down: it keeps that pressure finite (and absurd, which the caution then says).
SLIP_OF_AN_IDEAL_PUMP = 0.005


@dataclass(frozen=True)
class Section:
    """One hose in the equation: friction = f x weight x q^2, with Re = reynolds_per_flow x q."""

    reynolds_per_flow: np.ndarray  # 4 rho / (pi d mu), s/m3
    roughness_term: np.ndarray  # relative roughness / 3.7
    weight: np.ndarray  # rho L / (2 d A^2), Pa/(m3/s)^2
    coiled_share: np.ndarray | None  # share of the length on the reel, or None when no rig has any
    bore_ratio: np.ndarray | None  # bore / coil diameter

    def loss_and_slope(self, flow, state):
        """Friction (Pa), its slope (Pa per m3/s) and the state, improved: 1/sqrt(f) of the hose and of a smooth one,
        which the reel asks for (None where nothing does). State None starts cold."""
        x, smooth = (None, None) if state is None else state
        reynolds = self.reynolds_per_flow * flow
        b = 2.51 / np.maximum(reynolds, TURBULENT_LIMIT)
        if x is None:
            x, _ = colebrook_step(colebrook_start(self.roughness_term, b), self.roughness_term, b)
        x, slope = colebrook_step(x, self.roughness_term, b)
        factor = 1.0 / (x * x)
        if reynolds.min() < TURBULENT_LIMIT:
            low = np.nonzero(reynolds < TURBULENT_LIMIT)
            rough = np.broadcast_to(3.7 * self.roughness_term, reynolds.shape)[low]
            factor[low], slope[low] = factor_and_slope(reynolds[low], rough)
        if self.coiled_share is not None:
            ratio, ratio_slope, smooth = coil_ratio_step(reynolds, self.bore_ratio, smooth)
            whole = 1.0 + self.coiled_share * (ratio - 1.0)
            slope = slope + self.coiled_share * ratio * ratio_slope / whole
            factor = factor * whole
        loss = factor * self.weight * flow
        return loss * flow, loss * (2.0 + slope), (x, smooth)

    def take(self, where):
        return Section(*(picked(getattr(self, name), where) for name in self.__dataclass_fields__))


@dataclass(frozen=True)
class Circuit:
    """The numbers of the equation, each a 0-d array or a flat array with one entry a rig. SI units."""

    ideal_flow: np.ndarray  # displacement x speed asked for
    slip: np.ndarray  # m3/s per Pa
    packing: np.ndarray | None  # m3/s per sqrt(Pa) out of worn packings, None: none
    torque_pressure: np.ndarray  # Pa at which the engine's rated torque is used up; inf where nothing slows it
    torque_rise: np.ndarray
    rated_flow: np.ndarray
    rated_pressure: np.ndarray
    setting: np.ndarray | None  # None: no unloader
    rise: np.ndarray | None
    leak: np.ndarray | None  # conductance of leaking seats, None: none
    disc_rating: np.ndarray | None  # None: no disc
    disc: np.ndarray | None  # conductance of the open disc
    disc_open: np.ndarray | None
    static: np.ndarray  # lift pressure
    sections: tuple
    fixed: np.ndarray  # fittings and nozzle body, Pa/(m3/s)^2
    jets: np.ndarray  # jets, Pa/(m3/s)^2; 0 where there is no hole and so no flow
    shut: np.ndarray  # bool: no way out

    def take(self, where):
        """The same equation for some of the rigs (a slice or index array)."""
        values = {name: picked(getattr(self, name), where) for name in self.__dataclass_fields__ if name != "sections"}
        return Circuit(sections=tuple(section.take(where) for section in self.sections), **values)

    def pumped(self, pressure):
        """Flow the pump delivers against `pressure`, its slope, and the flow swept: `jetlib.physics.pump`."""
        return pump.flow_and_slope(
            pressure,
            ideal_flow=self.ideal_flow,
            slip=self.slip,
            packing=self.packing,
            torque_pressure=self.torque_pressure,
            torque_rise=self.torque_rise,
        )

    def slipped(self, pressure):
        """What slips back inside the pump and leaks out of its packings at `pressure`, m3/s."""
        return self.slip * pressure + (0.0 if self.packing is None else self.packing * np.sqrt(pressure))

    def line_pressure_and_slope(self, flow, states=None):
        """Pressure at the pump (Pa) that `flow` (m3/s, array) needs, its slope, the friction of each hose, and the
        friction states to start the next evaluation from."""
        if states is None:
            states = (None,) * len(self.sections)
        k = self.fixed + self.jets
        slope = k * flow
        pressure = self.static + slope * flow
        slope = slope + slope
        losses, improved = [], []
        for section, state in zip(self.sections, states, strict=True):
            loss, loss_slope, state = section.loss_and_slope(flow, state)
            pressure = pressure + loss
            slope = slope + loss_slope
            losses.append(loss)
            improved.append(state)
        return pressure, slope, losses, improved

    def returned_flow_and_slope(self, pressure):
        """Flow back to the tank (m3/s) through the valves and through leaks, and the slope of each with pressure."""
        bypass, bypass_slope = np.zeros_like(pressure), np.zeros_like(pressure)
        leak, leak_slope = np.zeros_like(pressure), 0.0
        if self.setting is not None:
            bypass, bypass_slope = pump.unloader_flow_and_slope(
                pressure, setting=self.setting, rise=self.rise, full_flow=self.rated_flow
            )
        if self.disc is not None and np.any(self.disc_open):
            through, through_slope = pump.hole_flow_and_slope(pressure, np.where(self.disc_open, self.disc, 0.0))
            bypass, bypass_slope = bypass + through, bypass_slope + through_slope
        if self.leak is not None:
            leak, leak_slope = pump.hole_flow_and_slope(pressure, self.leak)
        return bypass, leak, bypass_slope, leak_slope


def require_rig(rig):
    """`rig`; JetlibError for anything that is no Rig."""
    return require_kind(rig, Rig, "rig", 'a Rig, such as Rig(pump=Pump("8 gpm"), nozzle=Nozzle([Jet("1 mm")]))')


def compile_circuit(rig, throttle):
    """The circuit of `rig` at `throttle`, and the shape (tuple) that every field of every part broadcasts to."""
    try:
        return _compile(require_rig(rig), throttle)
    except JetlibError:
        raise
    except ValueError as error:
        raise JetlibError(
            f"the arrays in the rig and the throttle do not go together ({error}); give them shapes that broadcast, "
            "such as one length for all"
        ) from None


def compile_one(rig, throttle, only):
    """The circuit of one `rig` at one throttle; JetlibError that ends in `only` for a rig of arrays."""
    circuit, shape = compile_circuit(rig, throttle)
    if shape:
        raise JetlibError(f"the rig holds arrays of shape {shape}; {only}")
    return circuit


def _compile(rig, throttle):
    machine, unloader, disc = rig.pump, rig.unloader, rig.burst_disc
    density = water.density(rig.water_temperature)
    viscosity = water.viscosity(rig.water_temperature)
    effective_area = np.asarray(rig.nozzle.effective_area, dtype=float)
    shut = (effective_area <= 0.0) | np.asarray(rig.outlet_shut)
    leaks = [part.seat_leak for part in rig.valves if np.any(np.asarray(part.seat_leak) > 0)]
    engine = rig.engine
    slows = engine is not None and engine.kind != "electric"  # a motor holds its speed until it trips
    raw = {
        "ideal_flow": machine.swept_flow(throttle),
        "slip": machine.slip,
        "torque_pressure": engine.available() * machine.mechanical_efficiency / machine.rated_flow if slows else np.inf,
        "torque_rise": engine.torque_rise if slows else 1.0,
        "rated_flow": machine.rated_flow,
        "rated_pressure": machine.rated_pressure,
        "setting": unloader.setting if unloader else None,
        "rise": unloader.rise if unloader else None,
        "leak": sum(pump.hole_conductance(bore, density=density) for bore in leaks) if leaks else None,
        "packing": machine.packing_leak * machine.rated_flow / np.sqrt(machine.rated_pressure)
        if np.any(np.asarray(machine.packing_leak) > 0)
        else None,
        "disc_rating": disc.rating if disc else None,
        "disc": pump.hole_conductance(disc.bore, density=density) if disc else None,
        "disc_open": disc.opened if disc else None,
        "static": density * GRAVITY * rig.lift,
        "fixed": fixed_coefficient(rig, density),
        "jets": 0.5 * density / np.square(np.where(effective_area > 0.0, effective_area, np.inf)),
        "shut": shut,
    }
    sections = [_section(hose, density, viscosity) for hose in rig.hoses]
    shape = np.broadcast_shapes(np.shape(throttle), *(np.shape(array) for array in _arrays(rig)))
    flat = {name: _flat(value, shape) for name, value in raw.items()}
    sections = tuple(Section(*(_flat(value, shape) for value in vars(section).values())) for section in sections)
    return Circuit(sections=sections, **flat), shape


def _arrays(rig):
    """Every array in any part, also those that do not enter the equation, such as working pressures and angles."""
    parts = [rig, rig.pump, rig.engine, *rig.valves, *rig.hoses, *rig.fittings, rig.nozzle, *rig.nozzle.jets]
    return [value for part in parts if part for value in vars(part).values() if isinstance(value, np.ndarray)]


def fixed_coefficient(rig, density):
    """Pressure over flow squared, Pa/(m3/s)^2, of hose ends, fittings and nozzle body together."""
    total = 0.0
    for hose in rig.hoses:
        if hose.end_bore is not None:
            k = fitting.reduced_bore(hose.end_bore, hose.bore)
            total = total + 2.0 * _square_law(k, hose.end_bore, density)
    for part in rig.fittings:
        k = part.loss_coefficient
        if k is None:
            k = fitting.reduced_bore(part.bore, part.line_bore)
        total = total + part.count * _square_law(k, part.bore, density)
    if rig.nozzle.body_bore is not None:
        total = total + _square_law(rig.nozzle.body_loss_coefficient, rig.nozzle.body_bore, density)
    return total


def _square_law(loss_coefficient, bore, density):
    return loss_coefficient * density / 2.0 / np.square(np.pi / 4.0 * np.square(bore))


def _section(hose, density, viscosity):
    area = np.pi / 4.0 * np.square(hose.bore)
    coiled = hose.coil_diameter is not None and np.any(np.asarray(hose.coiled_length) > 0)
    length = np.asarray(hose.length, dtype=float)
    return Section(
        reynolds_per_flow=density * hose.bore / (area * viscosity),
        roughness_term=np.divide(hose.roughness, 3.7 * np.asarray(hose.bore)),
        weight=density * length / (2.0 * hose.bore * area * area),
        coiled_share=np.divide(hose.coiled_length, np.where(length > 0, length, 1.0)) if coiled else None,
        bore_ratio=np.divide(hose.bore, hose.coil_diameter) if coiled else None,
    )


def _flat(value, shape):
    if value is None:
        return None
    array = np.asarray(value)
    return array.reshape(()) if array.size == 1 else np.broadcast_to(array, shape).reshape(-1)


def picked(value, where):
    """`value` of some of the rigs; None and what is the same for all stay."""
    return value if value is None or np.ndim(value) == 0 else value[where]
