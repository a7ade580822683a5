"""Predictions of lesson 05, bypass."""

from functools import cache

from jetlib.course.exercises import PredictedChoice, PredictedCurve, PredictedNumber, predicted
from jetlib.course.exercises.amounts import feet, gpm, hose_bore, machine, point
from jetlib.rig.jets.matching import matched_jets
from jetlib.rig.parts.machine import Hose
from jetlib.rig.point.operating_point import operating_point

_ADDED, _ADDED_SIZE = feet(200), "3/8 in"
_CLIMBS = {"falls": 0.75, "stays": 1.0, "third": 1.33, "double": 2.0}


@cache
def _trailer_longer():
    """The yard trailer at full throttle with more hose coupled on."""
    rig = machine("trailer")
    return operating_point(rig.replace(hoses=(*rig.hoses, Hose(_ADDED_SIZE, _ADDED))))


def _gauge_climbs(p):
    """The option nearest to what the gauge reading does."""
    ratio = _trailer_longer().gauge / point("trailer").gauge
    return min(_CLIMBS, key=lambda name: abs(_CLIMBS[name] - ratio))


_AT_FULL = {
    "gauge": float(point("trailer").gauge),
    "flow": float(point("trailer").nozzle_flow),
    "setting": machine("trailer").unloader.setting,
    "added": _ADDED,
    "bore": hose_bore(_ADDED_SIZE),
}
_KINDS = {"gauge": "pressure", "flow": "flow", "setting": "pressure", "added": "length", "bore": "bore"}

GAUGE_WITH_MORE_HOSE = predicted(
    PredictedChoice,
    "05-gauge-with-more-hose",
    parameters=_AT_FULL,
    shown=_KINDS,
    answer=_gauge_climbs,
)

FLOW_WITH_MORE_HOSE = predicted(
    PredictedNumber,
    "05-flow-with-more-hose",
    parameters=_AT_FULL,
    shown=_KINDS,
    kind="flow",
    answer=lambda p: _trailer_longer().nozzle_flow,
)

NOZZLE_CURVE = predicted(
    PredictedCurve,
    "05-nozzle-against-throttle",
    parameters={
        "idle": float(point("small_bore", 0.0).nozzle_flow),
        "opens": float(round(matched_jets(machine("small_bore")).bypass_throttle, 2)),
    },
    shown={"idle": "flow", "opens": "fraction"},
    x=("throttle", "fraction"),
    y=("nozzle flow", "flow"),
    xs=(0.0, 0.25, 0.5, 0.75, 1.0),
    top=gpm(5),
    answer=lambda p, x: operating_point(machine("small_bore"), x).nozzle_flow,
)

PREDICTIONS = (GAUGE_WITH_MORE_HOSE, FLOW_WITH_MORE_HOSE, NOZZLE_CURVE)
