"""Predictions of lesson 08, reading the gauge."""

from jetlib.course.exercises import PredictedChoice, PredictedCurve
from jetlib.course.exercises.amounts import psi
from jetlib.course.exercises.shapes import predicted
from jetlib.course.exercises.yard_faults import gauges, shows, trailer
from jetlib.rig.change.factors import state
from jetlib.rig.diagnosis.diagnosis import diagnose
from jetlib.rig.diagnosis.faults import FAULTS, THROTTLES
from jetlib.rig.diagnosis.readings import GaugeReading

_CARD = "{card_idle} at idle, {card_half} at half throttle and {card_full} at full throttle"
_TODAY = "{idle} at idle, {half} at half throttle and {full} at full throttle"
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
    f"""
    Monday morning
    ask: The yard trailer's card says {_CARD}. On Monday the gauge reads {_TODAY}. What is
        wrong?
    option jets worn: The jets are worn
    option pump weak: The pump is weak
    option valve leaking: The bypass valve leaks
    option gauge low: The gauge reads low
    option several: These readings do not tell
    because: All three are down by the same share. Worn jets do that. So does a pump that delivers too little, a bypass
        valve that leaks, and a gauge that reads low. The gauge cannot tell them apart. Saying so is the right answer.
    """,
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
    f"""
    20 % of the jets plugged
    ask: The yard trailer's card says {_CARD}; its bypass valve opens at {{setting}}. Now a stone plugs {{gone}} of the
        jets' area. Sketch the gauge reading against the throttle.
    because: 80 % of the area needs 1.25 × 1.25 = 1.56 times the pressure at the jets, at idle and half throttle alike.
        Before full throttle that is above the valve's setting, and from there the bypass valve holds the gauge reading.
        So at full throttle the fault hardly shows: look at idle and half.
    """,
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
    f"""
    A bypass valve with a tired spring
    ask: The yard trailer's card says {_CARD}. The spring of its bypass valve gets tired: it now opens at {{opens}}
        instead of {{setting}}. Which of the three readings will show it?
    option all: All three, by the same share
    option half and full: Half and full throttle
    option full: Full throttle alone
    option none: None of them
    because: Below its setting a bypass valve does not act, tired or not. At idle and half throttle the reading stays
        below both settings, so it does not change. At full throttle it would be above the new setting.
    """,
    parameters={"opens": psi(2100), "setting": psi(2800), **gauges("healthy", prefix="card_")},
    shown={**_GAUGE_KINDS, "opens": "pressure", "setting": "pressure"},
    answer=_differs,
)

PREDICTIONS = (MONDAY, PLUGGED_CURVE, LOW_VALVE)
