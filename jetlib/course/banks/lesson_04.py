"""Predictions of lesson 04, the whole circuit. The bypass valve stays shut: it is lesson 05's."""

from jetlib.course.exercises import PredictedChoice, PredictedCurve, PredictedNumber, predicted
from jetlib.course.exercises.amounts import (
    feet,
    hose_bore,
    machine,
    point,
    psi,
)
from jetlib.rig.point.operating_point import operating_point

_AT_FULL = {
    "full": float(point("trailer").gauge),
    "rated": machine("trailer").pump.rated_speed,
    "idle": machine("trailer").pump.idle_speed,
}
_KINDS = {"full": "pressure", "rated": "speed", "idle": "speed"}

IDLE_GAUGE = predicted(
    PredictedNumber,
    "04-idle-gauge",
    parameters=_AT_FULL,
    shown=_KINDS,
    kind="pressure",
    answer=lambda p: point("trailer", 0.0).gauge,
)

_GROWS = {"same": 1.0, "little": 1.07, "half": 1.5, "double": 2.0}


def _twice_the_hose(p):
    """The option nearest to how many times the gauge reading grows, at half throttle, with twice the hose."""
    first, *others = machine("trailer").hoses
    longer = machine("trailer").replace(hoses=(first.replace(length=2.0 * first.length), *others))
    grows = operating_point(longer, 0.5).gauge / point("trailer", 0.5).gauge
    return min(_GROWS, key=lambda key: abs(_GROWS[key] - grows))


TWICE_THE_HOSE = predicted(
    PredictedChoice,
    "04-twice-the-hose",
    parameters={"length": feet(250), "bore": hose_bore("1/2 in")},
    shown={"length": "length", "bore": "bore"},
    answer=_twice_the_hose,
)

GAUGE_CURVE = predicted(
    PredictedCurve,
    "04-gauge-curve",
    parameters=_AT_FULL,
    shown=_KINDS,
    x=("throttle", "fraction"),
    y=("gauge reading", "pressure"),
    xs=(0.0, 0.25, 0.5, 0.75, 1.0),
    top=psi(3500),
    answer=lambda p, x: operating_point(machine("trailer"), x).gauge,
)

PREDICTIONS = (IDLE_GAUGE, TWICE_THE_HOSE, GAUGE_CURVE)
