"""A callout dealt by a seed: its numbers, what the customer gets wrong, and the surprise; and plans from the wall.

The same kind, seed and number of the try give the same callout. A second try has the same drain and another surprise.
"""

import random
from dataclasses import dataclass
from functools import cached_property, lru_cache

from jetlib.course.banks.yard_job import LEADERS, yard_rig
from jetlib.course.callouts.kinds import drain_from, kind
from jetlib.course.classroom.hidden_fault.deal import HiddenFault, read_seed
from jetlib.errors import JetlibError
from jetlib.rig.change.whatif import JET_CHANGES, live_changes
from jetlib.rig.diagnosis.faults import FAULTS
from jetlib.rig.job.job import Job
from jetlib.rig.job.plan import plan_job
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs
from jetlib.rig.parts.tank import Tank
from jetlib.units import si, text
from jetlib.units.refusal import cut

#: Water (gal) on each machine of the yard.
TANKS = {"yard_cart": "55 gal", "yard_small_bore": "100 gal", "yard_trailer": "200 gal", "yard_truck": "600 gal"}
#: Rigid lengths on the wall: the nozzle alone, with an extension behind it, on a skid.
RIGID = {"nozzle alone": "3.5 in", "with extension": "7 in", "on a skid": "24 in"}
DRILLS = ("as loaded", "larger", "smaller")
_DRAWS = 200  # behind a plan's bands


@dataclass(frozen=True)
class Setup:
    """What is taken from the wall and how it is worked: names of a machine, a leader ("" for none), a rigid length
    and a set of drills, and the working throttle (0 to 1)."""

    machine: str = "yard_trailer"
    leader: str = ""
    rigid: str = "nozzle alone"
    drills: str = "as loaded"
    throttle: float = 1.0

    def __post_init__(self):
        for name, options in self.wall().items():
            if getattr(self, name) not in options:
                raise JetlibError(f"{name} is {cut(getattr(self, name))}; write one of {', '.join(options)}")
        throttle = si(self.throttle, "fraction", field="throttle")
        object.__setattr__(self, "throttle", float(throttle))

    @staticmethod
    def wall():
        """{field: {name: words}} of what there is to choose from."""
        return {
            "machine": {name: demo_rig(name).name for name in demo_rigs()},
            "leader": {"": "none", **{name: hose.name for name, hose in LEADERS.items()}},
            "rigid": {name: name for name in RIGID},
            "drills": {name: JET_CHANGES[name] for name in DRILLS},
        }


@dataclass(frozen=True, eq=False)
class Dealt:
    """A callout as it is dealt. again: number of the try, 0 for the first. drawn: run, fall, fill, block (a share of
    the run). wrong: key of the question that is answered wrongly, or "". surprise, severity: what is hidden."""

    kind: object
    seed: int
    again: int
    drawn: dict
    wrong: str
    surprise: object
    severity: float
    noise: int

    def said(self, words, system):
        """Words of the kind with their lengths in."""
        run = si(self.drawn["run"], "length")
        told = {"run": run, "block": 5 * round(run * self.drawn["block"] / 5)}
        return words.format_map({name: text(each, "length", system, 2) for name, each in told.items()})

    def call(self, system):
        """What the customer says."""
        return self.said(self.kind.call, system)

    def answer(self, key, system):
        """What is answered to a question."""
        asked = self.question(key)
        return self.said(asked.wrong if key == self.wrong else asked.answer, system)

    def question(self, key):
        """The Question of that key; JetlibError for none."""
        found = next((each for each in self.kind.questions if each.key == key), None)
        if found is None:
            keys = ", ".join(each.key for each in self.kind.questions)
            raise JetlibError(f"there is no question {cut(key)}; write one of {keys}")
        return found

    @cached_property
    def drain(self):
        """The Drain as it is."""
        return drain_from(self.kind.drain, run=self.drawn["run"], fall=self.drawn["fall"])

    @property
    def fill(self):
        """What the filling hose is said to give, m3/s."""
        return float(si(self.drawn["fill"], "flow"))

    @property
    def truth(self):
        """What was hidden, a sentence."""
        fault = FAULTS[self.surprise.fault] if self.surprise.fault else None
        size = "" if fault is None or fault.low == fault.high else f" ({fault.measured(self.severity)})"
        return f"{self.surprise.words.rstrip('.')}{size}."

    def rig(self, setup):
        """The Rig of a Setup, its own hoses of fiber braid."""
        rig = yard_rig(setup.machine, leader=setup.leader or None, braid="fiber braid")
        return live_changes(rig, jets=setup.drills)

    def job(self, setup):
        """The Job with a Setup."""
        given = self.kind.drain
        return Job(
            self.drain, Tank(TANKS[setup.machine], refill_flow=self.drawn["fill"]), debris=given["debris"],
            access_bore=given.get("access"), hose_outside=given.get("outside", "20 ft"),
            nozzle_length=RIGID[setup.rigid], nozzle_diameter="1.2 in", throttle=setup.throttle,
            altitude=given.get("altitude"), air_temperature=given.get("air"), water_temperature=given.get("water"),
            name=self.kind.title,
        )  # fmt: skip

    def plan(self, setup):
        """The Plan of a Setup for this callout."""
        return _plan(self.kind.id, tuple((name, self.drawn[name]) for name in ("run", "fall", "fill")), setup)

    def hidden(self, rig, *, there):
        """The HiddenFault of the rig at the job: that of the surprise, where it is `there` already, or none."""
        fault = FAULTS[self.surprise.fault or "healthy"] if there else FAULTS["healthy"]
        return HiddenFault(rig, fault, self.severity if fault.name != "healthy" else 0.0, self.noise)

    @property
    def good(self):
        """The Setup of the kind that works."""
        return Setup(**self.kind.good)


@lru_cache(maxsize=256)
def _plan(name, drawn, setup):
    as_drawn = Dealt(kind(name), 0, 0, dict(drawn), "", None, 0.0, 0)
    return plan_job(as_drawn.rig(setup), as_drawn.job(setup), samples=_DRAWS)


def deal(name, seed, again=0):
    """The Dealt that a seed (0 to 999999) gives of a kind (its id); again: 1, 2, … for another try."""
    seed, made = read_seed(seed), kind(name)
    rng = random.Random(f"callout {made.id} {seed}")
    drawn = {field: rng.choice(made.drain[field]) or "0 gpm" for field in ("run", "fall", "fill")}
    drawn["block"] = round(rng.uniform(*made.drain["block"]), 2)
    mistaken = [each.key for each in made.questions if each.wrong]
    wrong = rng.choice([*mistaken, ""]) if mistaken else ""
    surprises = list(made.surprises)
    rng.shuffle(surprises)
    surprise = surprises[again % len(surprises)]
    rng = random.Random(f"callout {made.id} {seed} {again}")
    severity = round(rng.uniform(*surprise.size), 2) if surprise.size else 0.0
    return Dealt(made, seed, again, drawn, wrong, surprise, severity, rng.randrange(2**32))
