"""The job that lesson 11 plans: a drain of the training yard, blocked with sand, and the hoses on the wall.

Yard, drain and hoses are invented; what they do is computed.
"""

from dataclasses import dataclass, fields

import numpy as np

from jetlib.course.exercises.words import chosen
from jetlib.course.exercises.yard import LEADERS
from jetlib.course.store.checked_row import among
from jetlib.rig.hoses.weight import BRAIDS, weighed_as
from jetlib.rig.job.job import Job
from jetlib.rig.job.plan import Plan, plan_job
from jetlib.rig.parts.machine import Rig
from jetlib.rig.parts.part import Part
from jetlib.rig.parts.rig_file import demo_rig
from jetlib.rig.parts.site import Bend, Tank, drain_of_size
from jetlib.rig.uncertainty.unknowns import Unknowns
from jetlib.units import si

BEND_AT = si("30 ft", "length")
UNWEIGHED = "nobody has weighed it"
USUAL = {
    "leader": None,
    "braid": None,
    "pipe": "4 in vitrified clay",
    "condition": "sound",  # the owner has had a camera through it
    "run": si("100 ft", "length"),
    "fall": 0.02,
    "turn": np.pi / 4.0,
    "outside": si("40 ft", "length"),
    "access": None,
    "stiff": si("3.5 in", "pipe_bore"),
    "debris": "coarse sand",
    "volume": si("100 gal", "volume"),
    "refill": 0.0,
    "passes": 1,
    "throttle": 1.0,
}
#: What a metric yard would have in place of them, for what is printed there.
METRIC = {"run": 30.0, "outside": 12.0, "stiff": 0.09, "volume": 0.4}

_STEPS = {"jet_bore": 5e-5, "coil_diameter": 0.05}  # m between one metric drill, or reel, and the next


def yard_job(*, system="US", **changes):
    """The Job, with any of USUAL changed; SI values. system: "metric" for round metric figures to begin with."""
    given = {**USUAL, **(METRIC if system == "metric" else {}), **changes}
    bends = [Bend(min(BEND_AT, 0.5 * given["run"]), given["turn"])] if given["turn"] > 0.0 else []
    return Job(
        name="Wash-down drain",
        drain=drain_of_size(given["pipe"], given["run"], fall=given["fall"], bends=bends, condition=given["condition"]),
        tank=Tank(given["volume"], refill_flow=given["refill"]),
        debris=given["debris"],
        access_bore=given["access"],
        hose_outside=given["outside"],
        nozzle_length=given["stiff"],
        nozzle_diameter="30 mm" if system == "metric" else "1.2 in",
        hose_stock=[hose for key, hose in LEADERS.items() if key != given["leader"]] if not given["leader"] else [],
        passes=given["passes"],
        throttle=given["throttle"],
    )


def in_round_metric(part):
    """A yard Rig, or a part of one, as a metric yard would have it: what somebody chose is a round metric figure, and
    jets are drilled with metric drills."""
    changes = {}
    for each in fields(part):
        value, kind = getattr(part, each.name), each.metadata.get("kind")
        if isinstance(value, Part):
            changes[each.name] = in_round_metric(value)
        elif isinstance(value, list | tuple) and all(isinstance(item, Part) for item in value):
            changes[each.name] = [in_round_metric(item) for item in value]
        elif kind in _STEPS and value:
            changes[each.name] = _STEPS[kind] * round(value / _STEPS[kind])
        elif kind is not None and value:
            changes[each.name] = chosen(value, kind, "metric")
    return part.replace(**changes)


def yard_rig(name="yard_trailer", *, leader=None, braid=None):
    """A yard Rig, or a Rig given in its place, with a leader (a key of LEADERS) at the nozzle; braid: what its own
    hoses were weighed as (a key of BRAIDS), UNWEIGHED, or None to leave them as they are in its file."""
    rig = name if isinstance(name, Rig) else demo_rig(name)
    if braid is not None:
        share = BRAIDS.get(braid)
        rig = rig.replace(
            hoses=[
                each.replace(mass_per_metre=None) if share is None else weighed_as(each, share) for each in rig.hoses
            ]
        )
    if leader is None:
        return rig
    return rig.replace(hoses=[*rig.hoses, LEADERS[among(leader, LEADERS, "there is no leader")]])


def yard_plan(name: str | Rig = "yard_trailer", *, unknowns: Unknowns | None = None, **changes: object) -> Plan:
    """The Plan of that job with a yard rig; any of USUAL may be changed (SI values).

    >>> both(yard_plan().reach.distance, "length")
    '94.1 ft (28.7 m)'
    """
    given = {**USUAL, **changes}
    rig = yard_rig(name, leader=given["leader"], braid=given["braid"])
    return plan_job(rig, yard_job(**changes), unknowns=unknowns)


@dataclass(frozen=True)
class Banded:
    """A number of a plan with its band; SI. width: top of the band less bottom, over the plan's own figure."""

    name: str
    words: str
    kind: str
    value: float
    low: float
    high: float

    @property
    def width(self):
        return (self.high - self.low) / self.value


def banded_numbers(plan):
    """The numbers of a Plan that carry a band, a tuple of Banded, the least sure first.

    Left out: one that is nothing, and one that has no limit.
    """
    end = min(plan.job.drain.length, plan.reach.hose_distance)
    told = (
        ("gauge", "gauge", "pressure", plan.point.gauge),
        ("nozzle_flow", "flow at the nozzle", "flow", plan.point.nozzle_flow),
        ("reaction", "pull of the jets", "force", plan.point.reaction),
        ("reach", "how far the nozzle gets", "length", plan.reach.distance),
        ("pull_back", "pull to bring it back", "force", plan.reach.pull_back(end)),
        ("tank_time", "how long the tank lasts", "duration", plan.supply.tank_time),
        ("velocity", "speed of the water in the pipe", "velocity", plan.flushing.velocity),
        ("shear", "drag of the water on the pipe", "shear_stress", plan.flushing.shear),
    )
    found = (
        Banded(name, words, kind, float(value), plan.spread.low(name), plan.spread.high(name))
        for name, words, kind, value in told
    )
    kept = [each for each in found if each.value > 0.0 and np.isfinite([each.value, each.low, each.high]).all()]
    return tuple(sorted(kept, key=lambda each: -each.width))


_STIFF = si("6 in", "pipe_bore")  # 1.5 times the bore of the drain


def planned(leader, braid=""):
    """The Plan for the trailer with a leader ("" for none) and its own hose of a braid ("" for its own)."""
    return yard_plan(stiff=_STIFF, braid=braid or None, leader=leader or None)


def least_sure():
    """The name of the number of the plan that is least sure, of those that lesson 11 asks for."""
    offered = ("gauge", "nozzle_flow", "reach", "tank_time", "shear")
    return next(each.name for each in banded_numbers(yard_plan(stiff=_STIFF, braid=UNWEIGHED)) if each.name in offered)


def surest_reach():
    """The name of the check, of those that lesson 11 offers, after which the reach is surest."""
    checks = {
        "jets": {"unknowns": Unknowns().settle("discharge_coefficient", "jet_bore")},
        "bucket": {"unknowns": Unknowns().settle("pump_flow")},
        "weigh": {"braid": None},  # it turns out to be what it is
    }

    def width(check):
        numbers = banded_numbers(yard_plan(stiff=_STIFF, **{"braid": UNWEIGHED, **checks[check]}))
        return next(each.width for each in numbers if each.name == "reach")

    return min(checks, key=width)
