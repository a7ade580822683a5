"""A whole job planned: what this rig does in that drain, how sure each number is, whether to go, and in what order."""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from jetlib.errors import JetlibError
from jetlib.rig.hoses.fit import USUAL_RESERVE
from jetlib.rig.hoses.surge import highest_pressure, pressures_needed, surge
from jetlib.rig.hoses.weight import hose_mass
from jetlib.rig.job.card import plan_rows, plan_steps
from jetlib.rig.job.checks import HAZARDS, LEVELS, certain, findings
from jetlib.rig.job.flushing import Flushing, flushing
from jetlib.rig.job.job import Job
from jetlib.rig.job.reach import FRICTION_RANGE, Reach, reach
from jetlib.rig.job.supply import Supply, supply
from jetlib.rig.parts.machine import Hose, Rig
from jetlib.rig.parts.part import require_kind
from jetlib.rig.point.cautions import SEE_THE_MANUAL
from jetlib.rig.point.circuit import compile_one
from jetlib.rig.point.operating_point import OperatingPoint, operating_point
from jetlib.rig.uncertainty.band import Band, stratified_column, uncertainty_band
from jetlib.rig.uncertainty.unknowns import Triangular, Uniform, Unknowns
from jetlib.units import both

VERDICTS = {
    "no-go": 'NO GO: do not start until everything under "No go" is fixed.',
    "caution": "Go only when the cautions below are settled.",
    "go": "Nothing calculated here rules it out. The usual hazards remain, and the manual decides.",
}
#: Weight of a hose of unknown make over that of the usual one of its bore: fiber braid to heavy wire braid, by the
#: hoses of the table.
MASS_UNKNOWN = Uniform(0.3, 1.1)
#: Manning's n over the value given. Common practice, no source: 20 % either way for a pipe nobody has looked at.
N_UNKNOWN = Uniform(0.8, 1.2)
_STREAM = 7919  # keeps these columns apart from those of the rig's own band


@dataclass(frozen=True)
class PlanDraws:
    """`values`: name -> draws; `band`: the rig's own, at the job's throttle. A band here holds eight draws in ten."""

    band: Band
    values: dict

    def low(self, name):
        """What one draw in ten stays below."""
        return self._at(name, 0.1)

    def high(self, name):
        """What one draw in ten goes beyond."""
        return self._at(name, 0.9)

    def share_below(self, name, limit):
        """Share (0 to 1) of the draws below `limit`."""
        return float(np.mean(self.values[name] < limit))

    def _at(self, name, share):
        return float(np.quantile(self.values[name], share, method="nearest"))  # no mean of infinite with finite


@dataclass(frozen=True, eq=False)
class Option:
    """A hose from the stock put into the line, and what the rig then does. place: 1 is at the pump."""

    hose: Hose
    place: int
    point: OperatingPoint
    reach: Reach

    @property
    def safe(self):
        """Whether no hose can come to more than its working pressure, where that is known; a nozzle may plug."""
        highest, hoses = highest_pressure(self.point.rig), self.point.rig.hoses
        within = not np.isfinite(highest) or all(highest <= hose.pressure_limit for hose in hoses)
        return within and not bool(np.any(self.point.over_pressure))

    @property
    def sentence(self):
        """What it changes, in words."""
        name = self.hose.name or f"{both(self.hose.bore, 'hose_bore')} x {both(self.hose.length, 'length')}"
        told = (
            f"With {name} as hose {self.place}: {both(self.point.nozzle_flow, 'flow')} at the nozzle, "
            f"pull {both(self.reach.pull, 'force')}, reach {both(self.reach.distance, 'length')}."
        )
        return told if self.safe else told + " DO NOT USE: a hose could see more than its working pressure."


@dataclass(frozen=True, eq=False)
class Plan:
    """The plan of a Job with a Rig (as it stands at the job: its altitude and water temperature put in).

    point, reach, supply, flushing: what is computed for it. shut: the Supply with the outlet shut and the machine
    running on, None without an unloader. unknowns: of the rig. draws: their seed and how many.
    """

    job: Job
    rig: Rig
    point: OperatingPoint
    reach: Reach
    supply: Supply
    shut: Supply
    flushing: Flushing
    unknowns: Unknowns
    draws: tuple

    @cached_property
    def spread(self) -> PlanDraws:
        """Draws of what is not known."""
        return _drawn(self)

    @cached_property
    def options(self):
        """An Option for each hose in stock, as a tuple; it goes where the bores still step down to the nozzle."""
        return tuple(_option(self, hose) for hose in self.job.hose_stock)

    @cached_property
    def needed(self):
        """What each hose must be rated for, Pa, a tuple; empty where nothing limits the pressure."""
        highest = highest_pressure(self.rig)
        return pressures_needed(self.point, highest, USUAL_RESERVE) if np.isfinite(highest) else ()

    @cached_property
    def surge(self):
        """The Surge if the jets plug at once."""
        return surge(self.point)

    @cached_property
    def rows(self):
        """PlanRows: every number with its kind, band and source."""
        return plan_rows(self)

    @cached_property
    def certain(self):
        """Findings that wait for no draws, a list."""
        return certain(self)

    @cached_property
    def findings(self):
        """Findings, the gravest first: what speaks against going, and what to settle before."""
        return findings(self)

    @cached_property
    def no_go(self):
        """What must be put right first: sentences, a tuple."""
        return tuple(each.text for each in self.certain if each.level == "no-go")

    @property
    def cautions(self):
        """What to settle or keep in mind: sentences, a tuple."""
        return tuple(each.text for each in self.findings if each.level == "caution")

    @cached_property
    def verdict(self):
        """ "no-go", "caution" or "go". It waits for no draws where the rest of the findings decide."""
        levels = {each.level for each in self.certain} or {each.level for each in self.findings}
        return next((level for level in LEVELS if level in levels), "go")

    @cached_property
    def steps(self):
        """What to do in order, sentences, a tuple."""
        return plan_steps(self)

    def card(self):
        """Everything a printed card needs, as plain dicts, lists, texts and numbers (SI; None for no limit)."""
        return {
            "title": self.job.name or "Job",
            "rig": self.rig.name,
            "drain": self.job.drain.name,
            "verdict": self.verdict,
            "verdict_text": VERDICTS[self.verdict],
            "rows": [row.data() for row in self.rows],
            "no_go": list(self.no_go),
            "cautions": list(self.cautions),
            "hazards": list(HAZARDS),
            "options": [option.sentence for option in self.options],
            "steps": list(self.steps),
            "authority": SEE_THE_MANUAL,
        }


def plan_job(rig: Rig, job: Job, *, unknowns: Unknowns | None = None, seed: int = 0, samples: int = 2000) -> Plan:
    """The Plan of a Job with one Rig.

    unknowns: an Unknowns of the rig; the default suits one nobody has measured. seed, samples: of
    the draws behind the bands.
    Raises JetlibError for a rig of arrays, without hose or without jets.

    >>> plan = plan_job(demo_rig("yard_trailer"), Job(Drain("4 in", "150 ft"), Tank("100 gal")))
    >>> both(plan.point.gauge, "pressure")
    '2760 psi (190 bar)'
    """
    require_kind(rig, Rig, "rig", "plan_job(load_rig(path), job)")
    require_kind(job, Job, "job", "plan_job(rig, Job(drain=…, tank=…))")
    compile_one(rig, job.throttle, "a job is planned with one rig")
    if not rig.nozzle.effective_area > 0 or rig.outlet_shut:
        raise JetlibError(
            "no water can leave the nozzle, so there is nothing to plan; write "
            'Rig(nozzle=Nozzle([Jet(bore="1.4 mm", count=4)]), outlet_shut=False, …)'
        )
    rig = _at_the_job(rig, job)
    point = operating_point(rig, job.throttle)
    altitude = job.altitude if rig.engine is None else rig.engine.altitude
    altitude = 0.0 if altitude is None else altitude
    shut = None
    if rig.unloader is not None:
        shut = supply(operating_point(rig.replace(outlet_shut=True), job.throttle), job.tank, altitude=altitude)
    found = {
        "reach": reach(point, job.drain, hose_outside=job.hose_outside),
        "supply": supply(point, job.tank, altitude=altitude),
        "flushing": flushing(point.nozzle_flow, job.drain, grain=job.grain),
    }
    unknowns = Unknowns() if unknowns is None else unknowns
    return Plan(job=job, rig=rig, point=point, shut=shut, unknowns=unknowns, draws=(seed, samples), **found)


def _at_the_job(rig, job):
    changes = {}
    if job.water_temperature is not None:
        changes["water_temperature"] = job.water_temperature
    there = {name: getattr(job, name) for name in ("altitude", "air_temperature") if getattr(job, name) is not None}
    if there and rig.engine is not None:
        changes["engine"] = rig.engine.replace(**there)
    return rig.replace(**changes) if changes else rig


def _option(plan, hose):
    rig = plan.rig
    place = next((at for at, own in enumerate(rig.hoses) if own.bore < hose.bore), len(rig.hoses))
    longer = rig.replace(hoses=(*rig.hoses[:place], hose, *rig.hoses[place:]))
    point = operating_point(longer, plan.job.throttle)
    return Option(hose, place + 1, point, reach(point, plan.job.drain, hose_outside=plan.job.hose_outside))


def _drawn(plan):
    """The PlanDraws of a Plan."""
    rig, job, supply, (seed, samples) = plan.rig, plan.job, plan.supply, plan.draws
    band = uncertainty_band(rig, [job.throttle], unknowns=plan.unknowns, samples=samples, seed=seed)
    drawn = {name: values[:, 0] for name, values in band.samples.items()}
    friction, mass, rough = (
        spread.quantile(stratified_column(samples, (seed, _STREAM, number)))
        for number, spread in enumerate((Triangular(*FRICTION_RANGE), MASS_UNKNOWN, N_UNKNOWN))
    )
    flows = {name: drawn[name] for name in ("gauge", "nozzle_flow", "bypass_flow")}
    pumped = drawn["nozzle_flow"] + drawn["bypass_flow"] + supply.point.leak_flow
    point = replace(supply.point, pump_flow=pumped, **flows)
    drawn_supply = replace(supply, point=point)
    hoses = [
        hose.replace(mass_per_metre=hose_mass(hose) * mass) if hose.mass_per_metre is None else hose
        for hose in rig.hoses
    ]
    line = replace(point, rig=rig.replace(hoses=hoses))
    drawn_reach = replace(plan.reach, point=line, friction=friction, pull=drawn["reaction"])
    drain, end = job.drain, min(job.drain.length, plan.reach.hose_distance)
    run_off = flushing(drawn["nozzle_flow"], drain.replace(manning_n=np.clip(drain.manning_n * rough, 0.005, 0.05)))
    values = {
        **drawn,
        "pull_distance": drawn_reach.pull_distance,
        "reach": drawn_reach.distance,
        "pull_left": drawn_reach.pull_left(end),
        "pull_back": drawn_reach.pull_back(end),
        **{name: getattr(drawn_supply, name) for name in ("tank_time", "limit_time", "heating_power")},
        **{name: getattr(run_off, name) for name in ("depth_ratio", "velocity", "shear", "largest_grain")},
    }
    return PlanDraws(band, {name: np.broadcast_to(value, (samples,)) for name, value in values.items()})
