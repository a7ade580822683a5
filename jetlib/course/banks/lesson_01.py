"""Predictions of lesson 01, pump and gauge."""

from jetlib.course.exercises import PredictedChoice, PredictedCurve, PredictedNumber
from jetlib.course.exercises.amounts import gpm, machine, rpm

_PUMP = {"flow": "flow", "rated": "speed", "idle": "speed", "speed": "speed"}


_TRAILER = machine("trailer").pump
_SWEEPS = {"flow": _TRAILER.rated_flow, "rated": _TRAILER.rated_speed, "idle": _TRAILER.idle_speed}

HALF_SHUT = PredictedChoice(
    id="01-half-shut",
    title="Half of the holes",
    ask="The pump turns at a steady speed, and the water leaves through a row of holes. Half of the holes are "
    "plugged. The bypass valve stays shut. What does the flow do?",
    options=(
        ("half", "It falls to about half"),
        ("less", "It falls, but to more than half"),
        ("same", "It stays nearly the same"),
        ("more", "It rises"),
    ),
    answer=lambda p: "same",
    because="Each turn of the pump moves the same water, and it has to leave somewhere. It flows faster through the "
    "holes that are left. That needs more pressure, so the gauge reading rises. Only slightly more slips back.",
)

IDLE_FLOW = PredictedNumber(
    id="01-idle-flow",
    title="Flow at idle",
    parameters=_SWEEPS,
    shown=_PUMP,
    ask="The yard trailer's pump sweeps {flow} at {rated}. The throttle is closed, and it idles at {idle}. "
    "What flow does it sweep?",
    kind="flow",
    answer=lambda p: float(machine("trailer").pump.swept_flow(0.0)),
    because="Idle is not zero. The pump turns at 43 % of its rated speed, so it sweeps 43 % of its flow.",
)

FLOW_LINE = PredictedCurve(
    id="01-flow-line",
    title="Flow against speed",
    parameters=_SWEEPS,
    shown=_PUMP,
    ask="The same pump with an open end, from standstill up to {rated}, where it delivers {flow}. Sketch the flow.",
    x=("pump speed", "speed"),
    y=("flow", "flow"),
    xs=tuple(rpm(speed) for speed in (0.0, 400.0, 800.0, 1200.0, 1450.0)),
    top=gpm(12.0),
    answer=lambda p, x: p["flow"] * x / p["rated"],
    because="Each turn moves the same water. Twice the turns, twice the water: a straight line from zero.",
)

PREDICTIONS = (HALF_SHUT, IDLE_FLOW, FLOW_LINE)
