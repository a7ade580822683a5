"""Predictions of lesson 06, sizing jets."""

import math
from functools import cache

from jetlib.course.exercises import PredictedChoice, PredictedNumber
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


WHICH_DRILL = PredictedChoice(
    id="06-which-drill",
    title="Which drill?",
    parameters={
        "now": bore_of("#70"),
        "out": float(point("small_bore").nozzle_flow),
        "full": float(point("small_bore").pump_flow),
    },
    shown={"now": "jet_bore", "out": "flow", "full": "flow"},
    ask="The small-bore set has four holes of #70 ({now}). At full throttle its gauge reads the bypass valve's "
    "setting, but only {out} of its {full} leaves the nozzle. Which drill lets all of it leave, at the same reading?",
    options=tuple((drill, _offered(drill)) for drill in _OFFERED),
    answer=lambda p: min(_OFFERED, key=lambda drill: abs(math.log(_small_with(drill)))),
    because=lambda p, show: (
        f"The flow must grow {p['full'] / p['out']:.2f} times. But the hose then loses more, so less pressure is left, "
        f"and the area must grow {1.0 / _small_with('#70'):.2f} times: the bore {_small_with('#70') ** -0.5:.2f} times."
    ),
)


def _truck_opened(p):
    rig = machine("truck")
    rear, *others = rig.nozzle.jets
    opened = [rear.replace(bore=p["new"]), *others]
    return float(operating_point(rig.with_jets(opened)).gauge)


ONE_SIZE = PredictedNumber(
    id="06-one-size",
    title="One drill size on the truck",
    parameters={"count": 6, "old": bore_of("#53"), "new": bore_of("#52"), "gauge": float(point("truck").gauge)},
    shown={"old": "jet_bore", "new": "jet_bore", "gauge": "pressure"},
    ask="The yard truck's jets are nearly matched: {gauge} at full throttle. Its {count} rear holes are drilled one "
    "size larger, from #53 ({old}) to #52 ({new}). What does the gauge read then?",
    kind="pressure",
    answer=_truck_opened,
    because="One drill size is 7 % of the bore here and 14 % of the area. The flow hardly changes, because nearly all "
    "of it left the nozzle before. So the nozzle pressure falls with the area squared.",
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

POWER_AT_THE_JETS = PredictedChoice(
    id="06-power-at-the-jets",
    title="What matching gains",
    parameters={"added": feet(200), "bore": hose_bore("3/8 in")},
    shown={"added": "length", "bore": "bore"},
    ask="The yard trailer with {added} of {bore} hose added returns water to the tank, as in lesson 05. Matched "
    "jets let 9 % more water out. How much does the power at the jets grow?",
    options=(
        ("less", "It falls by about 10 %"),
        ("same", "It hardly changes"),
        ("flow", "It grows by 9 %, like the flow"),
        ("much", "It grows by 20 %"),
    ),
    answer=_matched_power,
    because="There is more water, but the hose loses more of the pressure. In this line the two nearly cancel. The "
    "water helps to carry dirt away; the cut is no stronger.",
)

PREDICTIONS = (WHICH_DRILL, ONE_SIZE, POWER_AT_THE_JETS)
