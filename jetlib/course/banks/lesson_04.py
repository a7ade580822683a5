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


def _said_full(words):
    """A question with the trailer's gauge reading at full throttle put in, worked out when it is asked."""

    def question(parameters, show):
        pump = machine("trailer").pump
        speeds = {"rated": show(pump.rated_speed, "speed"), "idle": show(pump.idle_speed, "speed")}
        return words.format(full=show(point("trailer").gauge, "pressure"), **speeds)

    return question


IDLE_GAUGE = predicted(
    PredictedNumber,
    "04-idle-gauge",
    ask=_said_full(
        "At full throttle the yard trailer's pump turns at {rated} and the gauge reads {full}. The throttle is pulled "
        "back to idle, {idle}. What does the gauge read?"
    ),
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
    ask=_said_full(
        "The same trailer, from idle to full throttle, where its gauge reads {full}. Sketch the gauge reading."
    ),
    x=("throttle", "fraction"),
    y=("gauge reading", "pressure"),
    xs=(0.0, 0.25, 0.5, 0.75, 1.0),
    top=psi(3500),
    answer=lambda p, x: operating_point(machine("trailer"), x).gauge,
)

PREDICTIONS = (IDLE_GAUGE, TWICE_THE_HOSE, GAUGE_CURVE)
