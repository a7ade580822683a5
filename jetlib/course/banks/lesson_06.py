"""Predictions of lesson 06, sizing jets."""

import math
from functools import cache

from jetlib.course.exercises import PredictedChoice, PredictedNumber, predicted
from jetlib.course.exercises.amounts import (
    bore_of,
    feet,
    hose_bore,
    machine,
    point,
)
from jetlib.rig.jets.matching import matched_jets
from jetlib.rig.parts.machine import Hose
from jetlib.rig.point.operating_point import operating_point

_OFFERED = ("#69", "#68", "#66", "#64")


@cache
def _small_with(drill):
    """Share of the matched area that the small-bore set has with its four holes of `drill`."""
    rig = machine("small_bore")
    (rear,) = rig.nozzle.jets
    fitted = rig.nozzle.replace(jets=[rear.replace(bore=bore_of(drill))])
    return fitted.effective_area / matched_jets(rig).effective_area


def _offered(drill):
    return lambda p, show: f"{drill}, {show(bore_of(drill), 'jet_bore')}"


WHICH_DRILL = predicted(
    PredictedChoice,
    "06-which-drill",
    parameters={
        "now": bore_of("#70"),
        "out": float(point("small_bore").nozzle_flow),
        "full": float(point("small_bore").pump_flow),
        "flow_times": float(point("small_bore").pump_flow / point("small_bore").nozzle_flow),
        "area_times": 1.0 / _small_with("#70"),
        "bore_times": _small_with("#70") ** -0.5,
    },
    shown={"now": "jet_bore", "out": "flow", "full": "flow"},
    options=tuple((drill, _offered(drill)) for drill in _OFFERED),
    answer=lambda p: min(_OFFERED, key=lambda drill: abs(math.log(_small_with(drill)))),
)


def _truck_opened(p):
    rig = machine("truck")
    rear, *others = rig.nozzle.jets
    opened = [rear.replace(bore=p["new"]), *others]
    return float(operating_point(rig.with_jets(opened)).gauge)


ONE_SIZE = predicted(
    PredictedNumber,
    "06-one-size",
    parameters={"count": 6, "old": bore_of("#53"), "new": bore_of("#52"), "gauge": float(point("truck").gauge)},
    shown={"old": "jet_bore", "new": "jet_bore", "gauge": "pressure"},
    kind="pressure",
    answer=_truck_opened,
)


def _matched_power(p):
    rig = machine("trailer")
    rig = rig.replace(hoses=[*rig.hoses, Hose("3/8 in", p["added"])])
    by = math.sqrt(matched_jets(rig).effective_area / rig.nozzle.effective_area)
    jets = [jet.replace(bore=jet.bore * by) for jet in rig.nozzle.jets]
    after = operating_point(rig.with_jets(jets)).power_shares["jets"]
    ratio = after / operating_point(rig).power_shares["jets"]
    return min(_RATIOS, key=lambda key: abs(_RATIOS[key] - ratio))


_RATIOS = {"less": 0.9, "same": 1.0, "flow": 1.1, "much": 1.2}

POWER_AT_THE_JETS = predicted(
    PredictedChoice,
    "06-power-at-the-jets",
    parameters={"added": feet(200), "bore": hose_bore("3/8 in")},
    shown={"added": "length", "bore": "bore"},
    answer=_matched_power,
)

PREDICTIONS = (WHICH_DRILL, ONE_SIZE, POWER_AT_THE_JETS)
