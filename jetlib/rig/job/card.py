"""What a job card says of a plan: its numbers, one row each, and its steps in order."""

import math
from dataclasses import dataclass

import numpy as np

from jetlib.rig.hoses.weight import hose_mass
from jetlib.rig.jets.work import jet_work, thrust_split
from jetlib.rig.job.checks import KEEP_MOVING
from jetlib.rig.job.reach import FRICTION_RANGE
from jetlib.rig.point.operating_point import operating_point
from jetlib.units import both, text

COMMON = "common practice, no source"
GIVEN = "given"
NO_LIMIT = "no limit"


@dataclass(frozen=True)
class PlanRow:
    """One number of a plan. value in SI, None where `words` say it; kind as `jetlib.units` knows it.

    low, high: the band that holds eight in ten of the rigs and drains that fit what is known; None for what is given or
    not varied. source: given, a table, the law it is computed by, or common practice.
    """

    section: str
    label: str
    value: float
    kind: str
    source: str
    low: float = None
    high: float = None
    words: str = ""

    def text(self, system="US"):
        """Such as "9.62 gpm (9.1 gpm to 10.2 gpm)"."""
        if self.value is None:
            return self.words
        told = self._one(self.value, system)
        if self.low is None or math.isinf(self.low):
            return told
        return f"{told} ({self._one(self.low, system)} to {self._one(self.high, system)})"

    def _one(self, value, system):
        return NO_LIMIT if math.isinf(value) else text(value, self.kind, system)

    def data(self):
        """The row as a plain dict; an infinite number becomes None."""
        found = {name: getattr(self, name) for name in self.__dataclass_fields__}
        for name in ("value", "low", "high"):
            if found[name] is not None:
                found[name] = float(found[name]) if math.isfinite(found[name]) else None
        found["words"] = NO_LIMIT if self.value is not None and math.isinf(self.value) else self.words
        return found | {"US": self.text("US"), "metric": self.text("metric")}


def plan_rows(plan):
    """PlanRows of a Plan, a tuple, in the order of a card."""
    sections = {
        "drain": _drain_rows(plan),
        "machine": _machine_rows(plan),
        "nozzle": _nozzle_rows(plan),
        "reach": _reach_rows(plan),
        "supply": _supply_rows(plan),
        "debris": _debris_rows(plan),
    }
    return tuple(
        _row(plan.spread, section, *row) for section, rows in sections.items() for row in rows if row[1] is not None
    )


def _row(spread, section, label, value, kind, source, band=None):
    """A PlanRow of a value or, with kind None, of words. band: its two ends, or the name of what was drawn."""
    if kind is None:
        return PlanRow(section, label, None, None, source, words=value)
    if isinstance(band, str):
        band = spread.low(band), spread.high(band)
    return PlanRow(section, label, value, kind, source, *(band or ()))


# Each gives the rows of a section as `_row` takes them: label, value, kind, source, band; none where the value is None.


def _drain_rows(plan):
    job, drain = plan.job, plan.job.drain
    limit, careful = drain.pressure_limit, drain.careful_limit
    below = "nozzle pressure to stay below until the pipe is known to be good"
    return [
        ("bore of the pipe", drain.bore, "pipe_bore", drain.source),
        ("run", drain.length, "length", GIVEN),
        ("fall", drain.fall, "slope", GIVEN),
        ("roughness of the pipe, Manning's n", drain.manning_n, "ratio", drain.source),
        ("all bends together", drain.turned, "angle", GIVEN),
        ("hose outside the pipe", job.hose_outside, "length", GIVEN),
        ("access opening", job.access_bore, "pipe_bore", GIVEN),
        ("pressure limit of the pipe, in good condition", limit and limit.limit, "pressure", limit and limit.source),
        (below, careful and careful.limit, "pressure", COMMON),
        ("rigid nozzle length", job.nozzle_length, "pipe_bore", GIVEN),
        ("nozzle diameter", job.nozzle_diameter, "pipe_bore", GIVEN),
        ("pipe material", f"{drain.material or 'material not known'}, condition {drain.condition}", None, GIVEN),
        ("nozzle goes", f"{drain.nozzle_goes}, {'flooded' if drain.flooded else 'running empty'}", None, GIVEN),
        ("debris", job.debris, None, GIVEN),
    ]


def _machine_rows(plan):
    rig, supply, point = plan.rig, plan.supply, plan.point
    yield "throttle", plan.job.throttle, "fraction", GIVEN
    yield "altitude", supply.altitude, "altitude", GIVEN
    yield "water", rig.water_temperature, "temperature", GIVEN
    hot = rig.engine and rig.engine.air_temperature
    yield "air", hot, "temperature", GIVEN
    yield "valve setting", rig.unloader and rig.unloader.setting, "pressure", GIVEN
    for number, (hose, loss) in enumerate(zip(rig.hoses, point.hose_losses, strict=True), start=1):
        yield f"hose {number}, bore", hose.bore, "hose_bore", GIVEN
        yield f"hose {number}, length", hose.length, "length", GIVEN
        yield f"hose {number}, friction", float(loss), "pressure", "Darcy-Weisbach, Colebrook"
        yield f"hose {number}, working pressure", hose.working_pressure, "pressure", f"{GIVEN}: printed on the hose"
    rule = f"setting + rise + 10 % ({COMMON}) + likely surge; surge: SAE J1273 (from memory), J517"
    for number, needed in enumerate(plan.needed, start=1):
        yield f"hose {number}, must be rated for", float(needed), "pressure", rule
    law = "gauge + rho a v of the hoses, jets plugged in 0.05 s; wave speed 700 to 1300 m/s assumed"
    for number, (low, likely, high) in enumerate(plan.surge.peaks.T.tolist(), start=1):
        yield f"hose {number}, if the jets plug at once, up to", likely, "pressure", law, (low, high)
    yield "power at the shaft", supply.power_needed, "power", "gauge x swept flow / efficiency"
    rule = f"rated power, less 3 % per 1000 ft above 500 ft ({COMMON})"
    if hot:
        rule = "rated power, at this altitude and in air this warm (ISO 3046-1, from memory)"
    if rig.engine and rig.engine.kind == "electric":
        rule = "rated power"
    yield "power available", supply.power_available, "power", rule


def _nozzle_rows(plan):
    point, split, power = plan.point, thrust_split(plan.point), sum(jet.power for jet in jet_work(plan.point))
    solved, momentum = "pump, hose and jets solved together", "momentum of the jets"
    return [
        ("gauge", point.gauge, "pressure", solved, "gauge"),
        ("flow at the nozzle", point.nozzle_flow, "flow", solved, "nozzle_flow"),
        ("bypass", point.bypass_flow, "flow", solved, "bypass_flow"),
        ("nozzle pressure", point.nozzle_pressure, "pressure", solved, "nozzle_pressure"),
        ("pull", point.reaction, "force", momentum, "reaction"),
        ("power of the jets", power, "power", "Cv^2 x flow x pressure"),
        ("pull of the rear jets", split.rear, "force", momentum),
        ("push of the front jets", split.front, "force", momentum),
    ]


def _reach_rows(plan):
    reach, end = plan.reach, min(plan.job.drain.length, plan.reach.hose_distance)
    law = "weight x friction, inclined plane, capstan at bends"
    low, likely, high = FRICTION_RANGE
    fiber = reach.if_fiber and reach.if_fiber.distance
    yield "friction of hose on wall", likely, "ratio", COMMON, (low, high)
    yield "hose available for the pipe", reach.hose_distance, "length", "all hose minus what lies outside"
    yield "nozzle reaches", reach.distance, "length", law, "reach"
    yield "net pull at the far end (below zero: too little)", reach.pull_left(end), "force", law, "pull_left"
    yield "pull to bring it back from there, jets on", reach.pull_back(end), "force", law, "pull_back"
    yield "nozzle reaches, were the hose fiber braid", fiber, "length", law
    for number, hose in enumerate(plan.rig.hoses, start=1):
        source = GIVEN if hose.mass_per_metre is not None else "the usual hose of its bore, two-wire braid (estimate)"
        yield f"hose {number}, empty, weighs", float(hose_mass(hose)), "mass_per_length", source


def _supply_rows(plan):
    tank, supply, shut = plan.job.tank, plan.supply, plan.shut
    first_law, drawn = "first law, well mixed, nothing lost to the air", "volume / flow that leaves"
    head = "air pressure of the standard atmosphere less boiling pressure, lift and loss"
    pulses = f"ANSI/HI, from memory: L V n C/(K g), {tank.suction_hose} hose"
    steady = None if supply.acceleration_head is None else supply.suction_head
    manual = f"{GIVEN} or {COMMON}; the pump's manual decides"
    return [
        ("tank", tank.volume, "volume", GIVEN),
        ("usable share of it", tank.usable, "fraction", f"{GIVEN} or {COMMON}"),
        ("refill", tank.refill_flow, "flow", GIVEN),
        ("time with the jets on", plan.job.work_time, "duration", f"run / speed; speeds {COMMON}"),
        ("tank lasts", supply.tank_time, "duration", drawn, "tank_time"),
        ("heat from the bypass", supply.heating_power, "power", first_law, "heating_power"),
        ("reaches the temperature limit after", supply.limit_time, "duration", first_law, "limit_time"),
        ("temperature limit", tank.temperature_limit, "temperature", manual),
        ("the same, with the outlet shut", shut and shut.limit_time, "duration", first_law),
        ("head at the inlet above boiling, steady", steady, "lift", head),
        ("of that, most needed by the plungers' pulses", supply.acceleration_head, "lift", pulses),
        ("head the pump needs", tank.required_suction_head, "lift", f"{GIVEN}: the pump's manual"),
    ]


def _debris_rows(plan):
    flush, law, moved = plan.flushing, "Manning, uniform flow", "the larger of Merritt and Shields"
    return [
        ("depth of the pipe filled", flush.depth_ratio, "fraction", law, "depth_ratio"),
        ("speed of the water", flush.velocity, "velocity", law, "velocity"),
        ("drag on the wall", flush.shear, "shear_stress", "rho g R S", "shear"),
        ("largest grain it carries away", flush.largest_grain, "pipe_bore", moved, "largest_grain"),
        ("time to pull back once", plan.job.pull_back_time, "duration", f"run / speed, {COMMON}"),
        ("grain to be moved", flush.grain, "pipe_bore", "Wentworth's scale, coarse end"),
    ]


# --- steps ------------------------------------------------------------------------------------------


def plan_steps(plan):
    """Sentences (a tuple) in the order of the work."""
    job, point, spread = plan.job, plan.point, plan.spread
    idle = operating_point(plan.rig, 0.0)
    end = both(plan.reach.distance, "length")
    gauge = f"{both(spread.low('gauge'), 'pressure')} to {both(spread.high('gauge'), 'pressure')}"
    steps = [
        "Read the no-go list. If anything is on it, stop here.",
        "Ask the occupant what runs into the drain, what was poured down it, what the pipe is made of and whether "
        "it is in good condition. Find the next cleanout in each direction. See where water would go if it backs up.",
        "Put up barriers and signs and guard open lids. Put on eye protection, gloves and boots. Agree on signals "
        "between the person at the controls and the person at the hose.",
        f"Fill the tank, {both(job.tank.volume, 'volume')}, through an air gap or a backflow preventer. Check that the "
        "strainer is clean and the suction valve is open, and that oil and guards are as the manual says.",
        "Look over the hose, couplings and valve. Do not use a hose with cuts, bulges or bare wire.",
        f"Mark the hose where the nozzle is still {_metres(job, 3.0)} in, and where it is at the end of the run, "
        f"{both(job.drain.length, 'length')}.",
        "Secure the open end of the hose in the pipe; nobody holds it. Then rinse the hose at idle without the nozzle. "
        "Stop, relieve the pressure, then fit the nozzle.",
        f"Put the nozzle and at least {_metres(job, 1.0)} of hose into the pipe before you start the pump.",
        f"Start at idle: the gauge should show about {both(idle.gauge, 'pressure', 2)}. Then throttle to "
        f"{100 * np.max(job.throttle):.0f} %: the gauge should read {gauge}. If it is far off, stop and find out "
        "why before you go on.",
        f"Feed the hose as the jets pull it, at about {both(job.run_in_speed, 'velocity', 1)}. Where it sticks, pull "
        f"it back a little and try again. Expect the nozzle to reach about {end}. Never push a hose that will not go "
        f"any farther. {KEEP_MOVING}",
        f"Pull it back slowly, at about {both(job.pull_back_speed, 'velocity', 1)}: "
        f"{both(job.pull_back_time, 'duration', 2)} for the run. {_back(plan)}",
    ]
    if point.bypass_flow > 0.0:
        steps.insert(9, _bypass(point))
    careful = job.drain.careful_limit
    if careful is not None:
        steps.insert(
            2,
            "Look at the pipe by camera before you go beyond idle. The throttle of this plan is for a pipe that you "
            f"have seen to be good; until then keep nozzle pressure at or below {both(careful.limit, 'pressure')}.",
        )
    if job.passes > 1:
        steps.append(f"Make {job.passes} passes in all: {both(job.work_time, 'duration', 2)} with the jets on.")
    if np.isfinite(plan.supply.tank_time):
        steps.append(
            f"Watch the tank: usable water lasts about {both(plan.supply.tank_time, 'duration')} "
            f"({both(spread.low('tank_time'), 'duration')} on the safe side)."
        )
    steps += [
        "At the first mark, throttle down slowly to idle, stop the pump and relieve the pressure. Only then take the "
        "nozzle out.",
        "Look at the pipe, by camera if you have one, and run water. A drain that runs is not always clean.",
        "Drain the pump and hose if it may freeze. Rinse and wash gear and hands. Write down the gauge reading, "
        "the time and what came out.",
    ]
    return tuple(steps)


def _metres(job, most):
    """So much hose from the nozzle, or less in a short run."""
    return both(min(most, job.drain.length / 2.0), "length", 1)


def _back(plan):
    end = min(plan.job.drain.length, plan.reach.hose_distance)
    there = min(end, plan.reach.distance)
    far, force = both(there, "length"), both(plan.reach.pull_back(there), "force")
    return f"From {far}, with the jets on, that needs about {force} at the entry: use the reel, or throttle back."


def _bypass(point):
    share = 100.0 * point.bypass_flow / point.pump_flow
    return (
        f"The valve returns {both(point.bypass_flow, 'flow', 2)} to the tank, {share:.0f} % of what is pumped. "
        "Throttle back until the gauge just begins to fall: the jets work the same, with less fuel and heat."
    )
