"""Predictions of lesson 01, pump and gauge."""

from jetlib.course.exercises import PredictedChoice, PredictedCurve, PredictedNumber, predicted
from jetlib.course.exercises.amounts import gpm, machine, rpm

_PUMP = {"flow": "flow", "rated": "speed", "idle": "speed", "speed": "speed"}


_TRAILER = machine("trailer").pump
_SWEEPS = {"flow": _TRAILER.rated_flow, "rated": _TRAILER.rated_speed, "idle": _TRAILER.idle_speed}

HALF_SHUT = predicted(
    PredictedChoice,
    "01-half-shut",
    answer=lambda p: "same",
)

IDLE_FLOW = predicted(
    PredictedNumber,
    "01-idle-flow",
    parameters=_SWEEPS,
    shown=_PUMP,
    kind="flow",
    answer=lambda p: float(machine("trailer").pump.swept_flow(0.0)),
)

FLOW_LINE = predicted(
    PredictedCurve,
    "01-flow-line",
    parameters=_SWEEPS,
    shown=_PUMP,
    x=("pump speed", "speed"),
    y=("flow", "flow"),
    xs=tuple(rpm(speed) for speed in (0.0, 400.0, 800.0, 1200.0, 1450.0)),
    top=gpm(12.0),
    answer=lambda p, x: p["flow"] * x / p["rated"],
)

PREDICTIONS = (HALF_SHUT, IDLE_FLOW, FLOW_LINE)
