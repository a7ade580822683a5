"""The numbers of a plan, one row each: label, SI value, kind, band, and where it comes from."""

import math
from dataclasses import dataclass

from jetlib.rig.hoses.fit import USUAL_RESERVE
from jetlib.rig.hoses.surge import highest_pressure, pressures_needed, surge
from jetlib.rig.hoses.weight import hose_mass
from jetlib.rig.jets.work import jet_work, thrust_split
from jetlib.rig.job.reach import FRICTION_RANGE
from jetlib.units import text

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
    return (*_drain_rows(plan), *_machine_rows(plan), *_nozzle_rows(plan), *_reach_rows(plan), *_supply_rows(plan),
            *_flush_rows(plan))  # fmt: skip


def _drain_rows(plan):
    job, drain = plan.job, plan.job.drain
    rows = [
        ("bore of the pipe", drain.bore, "pipe_bore", drain.source),
        ("run", drain.length, "length", GIVEN),
        ("fall", drain.fall, "slope", GIVEN),
        ("roughness of the pipe, Manning's n", drain.manning_n, "ratio", drain.source),
        ("all bends together", drain.turned, "angle", GIVEN),
        ("hose outside the pipe", job.hose_outside, "length", GIVEN),
        ("access opening", job.access_bore, "pipe_bore", GIVEN),
        _limit("pressure limit of the pipe, in good condition", drain.pressure_limit),
        _limit("nozzle pressure to stay below until the pipe is known to be good", drain.careful_limit, COMMON),
        ("rigid nozzle length", job.nozzle_length, "pipe_bore", GIVEN),
        ("nozzle diameter", job.nozzle_diameter, "pipe_bore", GIVEN),
    ]
    found = [PlanRow("drain", *row) for row in rows if row[1] is not None]
    ways = f"{drain.nozzle_goes}, {'flooded' if drain.flooded else 'running empty'}"
    made_of = f"{drain.material or 'material not known'}, condition {drain.condition}"
    return [
        *found,
        PlanRow("drain", "pipe material", None, None, GIVEN, words=made_of),
        PlanRow("drain", "nozzle goes", None, None, GIVEN, words=ways),
        PlanRow("drain", "debris", None, None, GIVEN, words=job.debris),
    ]


def _limit(label, limit, source=""):
    """The row of a PipeLimit, or of None."""
    return label, limit and limit.limit, "pressure", source or (limit and limit.source)


def _machine_rows(plan):
    rig, supply = plan.rig, plan.supply
    rows = [
        ("throttle", plan.job.throttle, "fraction", GIVEN),
        ("altitude", supply.altitude, "altitude", GIVEN),
        ("water", rig.water_temperature, "temperature", GIVEN),
    ]
    hot = rig.engine is not None and rig.engine.air_temperature
    if hot:
        rows.append(("air", hot, "temperature", GIVEN))
    if rig.unloader is not None:
        rows.append(("valve setting", rig.unloader.setting, "pressure", GIVEN))
    found = [PlanRow("machine", *row) for row in rows]
    for number, (hose, loss) in enumerate(zip(rig.hoses, plan.point.hose_losses, strict=True), start=1):
        found += [
            PlanRow("machine", f"hose {number}, bore", hose.bore, "hose_bore", GIVEN),
            PlanRow("machine", f"hose {number}, length", hose.length, "length", GIVEN),
            PlanRow("machine", f"hose {number}, friction", float(loss), "pressure", "Darcy-Weisbach, Colebrook"),
        ]
        if hose.working_pressure is not None:
            label = f"hose {number}, working pressure"
            found.append(PlanRow("machine", label, hose.working_pressure, "pressure", f"{GIVEN}: printed on the hose"))
    rule = "setting + rise + 10 % (common practice, no source) + likely surge; surge: SAE J1273 (from memory), J517"
    highest = highest_pressure(rig)
    if math.isfinite(highest):
        for number, needed in enumerate(pressures_needed(plan.point, highest, USUAL_RESERVE), start=1):
            label = f"hose {number}, must be rated for"
            found.append(PlanRow("machine", label, float(needed), "pressure", rule))
    law = "gauge + rho a v of the hoses, jets plugged in 0.05 s; wave speed 700 to 1300 m/s assumed"
    for number, (low, likely, high) in enumerate(surge(plan.point).peaks.T, start=1):
        label = f"hose {number}, if the jets plug at once, up to"
        found.append(PlanRow("machine", label, float(likely), "pressure", law, float(low), float(high)))
    needed = PlanRow("machine", "power at the shaft", supply.power_needed, "power", "gauge x swept flow / efficiency")
    found.append(needed)
    if supply.power_available is not None:
        rule = f"rated power, less 3 % per 1000 ft above 500 ft ({COMMON})"
        rule = "rated power, at this altitude and in air this warm (ISO 3046-1, from memory)" if hot else rule
        rule = "rated power" if rig.engine.kind == "electric" else rule
        found.append(PlanRow("machine", "power available", supply.power_available, "power", rule))
    return found


def _nozzle_rows(plan):
    point, split = plan.point, thrust_split(plan.point)
    solved = "pump, hose and jets solved together"
    rows = [
        _banded(plan, "nozzle", "gauge", point.gauge, "pressure", solved, "gauge"),
        _banded(plan, "nozzle", "flow at the nozzle", point.nozzle_flow, "flow", solved, "nozzle_flow"),
        _banded(plan, "nozzle", "bypass", point.bypass_flow, "flow", solved, "bypass_flow"),
        _banded(plan, "nozzle", "nozzle pressure", point.nozzle_pressure, "pressure", solved, "nozzle_pressure"),
        _banded(plan, "nozzle", "pull", point.reaction, "force", "momentum of the jets", "reaction"),
        PlanRow(
            "nozzle", "power of the jets", sum(jet.power for jet in jet_work(point)), "power", "Cv^2 x flow x pressure"
        ),
        PlanRow("nozzle", "pull of the rear jets", split.rear, "force", "momentum of the jets"),
        PlanRow("nozzle", "push of the front jets", split.front, "force", "momentum of the jets"),
    ]
    return rows


def _reach_rows(plan):
    reach, end = plan.reach, min(plan.job.drain.length, plan.reach.hose_distance)
    law = "weight x friction, inclined plane, capstan at bends"
    low, likely, high = FRICTION_RANGE
    found = [
        PlanRow("reach", "friction of hose on wall", likely, "ratio", COMMON, low, high),
        PlanRow(
            "reach", "hose available for the pipe", reach.hose_distance, "length", "all hose minus what lies outside"
        ),
        _banded(plan, "reach", "nozzle reaches", reach.distance, "length", law, "reach"),
        _banded(
            plan,
            "reach",
            "net pull at the far end (below zero: too little)",
            reach.pull_left(end),
            "force",
            law,
            "pull_left",
        ),
        _banded(
            plan, "reach", "pull to bring it back from there, jets on", reach.pull_back(end), "force", law, "pull_back"
        ),
    ]
    if reach.if_fiber is not None:
        found.append(
            PlanRow("reach", "nozzle reaches, were the hose fiber braid", reach.if_fiber.distance, "length", law)
        )
    for number, hose in enumerate(plan.rig.hoses, start=1):
        source = GIVEN if hose.mass_per_metre is not None else "the usual hose of its bore, two-wire braid (estimate)"
        label = f"hose {number}, empty, weighs"
        found.append(PlanRow("reach", label, float(hose_mass(hose)), "mass_per_length", source))
    return found


def _supply_rows(plan):
    job, supply = plan.job, plan.supply
    first_law = "first law, well mixed, nothing lost to the air"
    found = [
        PlanRow("supply", "tank", job.tank.volume, "volume", GIVEN),
        PlanRow("supply", "usable share of it", job.tank.usable, "fraction", f"{GIVEN} or {COMMON}"),
        PlanRow("supply", "refill", job.tank.refill_flow, "flow", GIVEN),
        PlanRow("supply", "time with the jets on", job.work_time, "duration", f"run / speed; speeds {COMMON}"),
        _banded(plan, "supply", "tank lasts", supply.tank_time, "duration", "volume / flow that leaves", "tank_time"),
        _banded(plan, "supply", "heat from the bypass", supply.heating_power, "power", first_law,
                "heating_power"),
        _banded(plan, "supply", "reaches the temperature limit after", supply.limit_time, "duration", first_law,
                "limit_time"),
        PlanRow("supply", "temperature limit", job.tank.temperature_limit, "temperature",
                f"{GIVEN} or {COMMON}; the pump's manual decides"),
    ]  # fmt: skip
    if plan.shut is not None:
        label = "the same, with the outlet shut"
        found.append(PlanRow("supply", label, plan.shut.limit_time, "duration", first_law))
    if supply.acceleration_head is not None:
        head = "air pressure of the standard atmosphere less boiling pressure, lift and loss"
        found.append(PlanRow("supply", "head at the inlet above boiling, steady", supply.suction_head, "lift", head))
        pulses = f"ANSI/HI, from memory: L V n C/(K g), {job.tank.suction_hose} hose"
        label = "of that, most needed by the plungers' pulses"
        found.append(PlanRow("supply", label, supply.acceleration_head, "lift", pulses))
    if job.tank.required_suction_head is not None:
        asked = job.tank.required_suction_head
        found.append(PlanRow("supply", "head the pump needs", asked, "lift", f"{GIVEN}: the pump's manual"))
    return found


def _flush_rows(plan):
    flush, manning = plan.flushing, "Manning, uniform flow"
    found = [
        _banded(plan, "debris", "depth of the pipe filled", flush.depth_ratio, "fraction", manning, "depth_ratio"),
        _banded(plan, "debris", "speed of the water", flush.velocity, "velocity", manning, "velocity"),
        _banded(plan, "debris", "drag on the wall", flush.shear, "shear_stress", "rho g R S", "shear"),
        _banded(plan, "debris", "largest grain it carries away", flush.largest_grain, "pipe_bore",
                "the larger of Merritt and Shields", "largest_grain"),
        PlanRow("debris", "time to pull back once", plan.job.pull_back_time, "duration", f"run / speed, {COMMON}"),
    ]  # fmt: skip
    if flush.grain is not None:
        found.append(PlanRow("debris", "grain to be moved", flush.grain, "pipe_bore", "Wentworth's scale, coarse end"))
    return found


def _banded(plan, section, label, value, kind, source, name):
    return PlanRow(section, label, value, kind, source, plan.spread.low(name), plan.spread.high(name))
