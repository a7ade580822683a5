"""Predictions of lesson 08, reading the gauge."""

from jetlib.course.exercises import PredictedChoice, PredictedCurve, predicted
from jetlib.course.exercises.amounts import psi
from jetlib.course.exercises.yard_faults import gauges, shows, trailer
from jetlib.rig.change.factors import state
from jetlib.rig.diagnosis.diagnosis import diagnose
from jetlib.rig.diagnosis.faults import FAULTS, THROTTLES
from jetlib.rig.diagnosis.readings import GaugeReading

_GAUGE_KINDS = {f"{card}{name}": "pressure" for card in ("", "card_") for name in ("idle", "half", "full")}
_MONDAY = ("pump weak", 0.15)


def monday():
    """What the lesson's story reads on Monday morning: GaugeReadings of the trailer at idle, half and full throttle."""
    return [GaugeReading(value, throttle) for value, throttle in zip(shows(*_MONDAY).gauge, THROTTLES, strict=True)]


def _monday_answer(p):
    """The one cause the readings leave, or that they leave several."""
    tied = diagnose(trailer(), monday()).tied
    return tied[0].name if len(tied) == 1 else "several"


MONDAY = predicted(
    PredictedChoice,
    "08-monday",
    parameters={**gauges("healthy", prefix="card_"), **gauges(*_MONDAY)},
    shown=_GAUGE_KINDS,
    answer=_monday_answer,
)


def _plugged_gauge(p, throttle):
    gone = FAULTS["jet plugged"].changes(p["gone"])
    found = state(trailer(), gone, [throttle] if isinstance(throttle, float) else throttle).gauge
    return float(found[0]) if isinstance(throttle, float) else found


PLUGGED_CURVE = predicted(
    PredictedCurve,
    "08-plugged-curve",
    parameters={"gone": 0.2, "setting": psi(2800), **gauges("healthy", prefix="card_")},
    shown={**_GAUGE_KINDS, "gone": "fraction", "setting": "pressure"},
    x=("throttle", "fraction"),
    y=("gauge reading", "pressure"),
    xs=(0.0, 0.25, 0.5, 0.75, 1.0),
    top=psi(3500),
    answer=_plugged_gauge,
)


def _differs(p):
    """At which of idle, half and full throttle a gauge with the tired spring is off the card by more than 2 %."""
    found = shows("valve low", round(1.0 - p["opens"] / p["setting"], 6))
    off = [abs(value / usual - 1.0) > 0.02 for value, usual in zip(found.gauge, found.healthy.gauge, strict=True)]
    return {(True, True, True): "all", (False, True, True): "half and full", (False, False, True): "full"}.get(
        tuple(off), "none"
    )


LOW_VALVE = predicted(
    PredictedChoice,
    "08-low-valve",
    parameters={"opens": psi(2100), "setting": psi(2800), **gauges("healthy", prefix="card_")},
    shown={**_GAUGE_KINDS, "opens": "pressure", "setting": "pressure"},
    answer=_differs,
)

PREDICTIONS = (MONDAY, PLUGGED_CURVE, LOW_VALVE)
