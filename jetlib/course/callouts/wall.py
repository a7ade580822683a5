"""What hangs on the yard's wall, what is taken from it, and the rig, the job and the plan that this makes."""

from dataclasses import dataclass

from jetlib.course.exercises.yard_job import LEADERS, yard_rig
from jetlib.course.store.checked_row import among
from jetlib.rig.change.whatif import JET_CHANGES, live_changes
from jetlib.rig.job.job import Job
from jetlib.rig.job.plan import plan_job
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs
from jetlib.rig.parts.site import Bend, Drain, Tank, drain_of_size
from jetlib.units import one

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
            among(getattr(self, name), options, f"{name} is")
        object.__setattr__(self, "throttle", one(self.throttle, "fraction", field="throttle"))

    @staticmethod
    def wall():
        """{field: {name: words}} of what there is to choose from."""
        return {
            "machine": {name: demo_rig(name).name for name in demo_rigs()},
            "leader": {"": "none", **{name: hose.name for name, hose in LEADERS.items()}},
            "rigid": {name: name for name in RIGID},
            "drills": {name: JET_CHANGES[name] for name in DRILLS},
        }


def drain_from(given, *, run, fall, **_):
    """The Drain of a table `drain` of a kind of callout, with what was drawn."""
    bends = [Bend(at, angle, **({"radius": more[0]} if more else {})) for at, angle, *more in given.get("bends", ())]
    told = {name: given[name] for name in ("condition", "branches", "flooded") if name in given}
    told = {"condition": "sound", "fall": fall, "bends": bends, **told}
    if "pipe" in given:
        return drain_of_size(given["pipe"], run, **told)
    return Drain(given["bore"], run, material=given.get("material", ""), **told)


def plan_from(setup, given, drawn, *, name):
    """The Plan of a Setup for a table `drain` with what was `drawn`: run, fall and fill, a dict. name: of the job."""
    job = Job(
        drain_from(given, **drawn), Tank(TANKS[setup.machine], refill_flow=drawn["fill"]), debris=given["debris"],
        access_bore=given.get("access"), hose_outside=given.get("outside", "20 ft"), nozzle_length=RIGID[setup.rigid],
        nozzle_diameter="1.2 in", throttle=setup.throttle, altitude=given.get("altitude"),
        air_temperature=given.get("air"), water_temperature=given.get("water"), name=name,
    )  # fmt: skip
    rig = live_changes(yard_rig(setup.machine, leader=setup.leader or None), jets=setup.drills)
    return plan_job(rig, job, samples=_DRAWS)
