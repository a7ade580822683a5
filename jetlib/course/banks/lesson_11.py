"""Predictions of lesson 11: a whole job planned, and the plan questioned."""

from jetlib.course.banks.yard_job import BRAIDS, banded_numbers, yard_plan
from jetlib.course.exercises import PredictedChoice, PredictedNumber, predicted
from jetlib.course.exercises.amounts import feet
from jetlib.rig.parts.rig_file import demo_rig
from jetlib.rig.uncertainty.unknowns import Unknowns
from jetlib.units import si

_STIFF = si("6 in", "pipe_bore")  # 1.5 times the bore of the drain


def _steel(**changes):
    """The plan for the trailer when its own hose has been weighed: two braids of steel."""
    return yard_plan(stiff=_STIFF, braid=next(iter(BRAIDS)), **changes)


HOW_FAR = predicted(
    PredictedNumber,
    "11-how-far",
    parameters={"run": feet(100), "hose": demo_rig("yard_trailer").hoses[0].length, "fall": 0.02},
    shown={"run": "length", "hose": "length", "fall": "slope"},
    kind="length",
    answer=lambda p: _steel().reach.distance,
    because=lambda p, show: (
        f"There is enough hose, and yet the nozzle stops at {show(_steel().reach.distance, 'length')}. Steel braid "
        "full of water is heavy, and the bend multiplies its drag. The length of hose on the reel says nothing about "
        "how far the jets pull it."
    ),
)


def _with_leader(p):
    before, after = _steel(), _steel(leader="light")
    pull = "more" if after.point.reaction > before.point.reaction else "less"
    return f"{pull}-{'farther' if after.reach.pull_distance > before.reach.pull_distance else 'shorter'}"


def _leader_reason(p, show):
    before, after = _steel(), _steel(leader="light")
    end = ", the end of the run," if after.reach.distance >= after.job.drain.length else ""
    return (
        f"The leader hose loses pressure, so the pull falls from {show(before.point.reaction, 'force')} to "
        f"{show(after.point.reaction, 'force')}. But the hose in the pipe is now so light that the nozzle gets "
        f"{show(after.reach.distance, 'length')}{end} instead of {show(before.reach.distance, 'length')}. A plan "
        "compares the two."
    )


LEADER = predicted(
    PredictedChoice,
    "11-light-leader",
    parameters={"leader": feet(100)},
    shown={"leader": "length"},
    answer=_with_leader,
    because=_leader_reason,
)


def _widest(p):
    offered = ("gauge", "nozzle_flow", "reach", "tank_time", "shear")
    return next(each.name for each in banded_numbers(yard_plan(stiff=_STIFF)) if each.name in offered)


WIDEST = predicted(
    PredictedChoice,
    "11-widest-band",
    answer=_widest,
)

_CHECKS = {
    "jets": {"unknowns": Unknowns().settle("discharge_coefficient", "jet_bore")},
    "bucket": {"unknowns": Unknowns().settle("pump_flow")},
    "weigh": {"braid": next(iter(BRAIDS))},
}


def _reach_width(changes):
    return next(each.width for each in banded_numbers(yard_plan(stiff=_STIFF, **changes)) if each.name == "reach")


BEST_CHECK = predicted(
    PredictedChoice,
    "11-best-check",
    answer=lambda p: min(_CHECKS, key=lambda name: _reach_width(_CHECKS[name])),
)

PREDICTIONS = (HOW_FAR, LEADER, WIDEST, BEST_CHECK)
