"""Predictions of lesson 12: what a callout turns on."""

from jetlib.course.exercises import PredictedChoice, predicted
from jetlib.course.exercises.amounts import feet, psi

FIRST_STEP = predicted(
    PredictedChoice,
    "12-first-step",
    parameters={"run": feet(75)},
    shown={"run": "length"},
    answer=lambda p: "asked",
)

DEAD_LINE = predicted(
    PredictedChoice,
    "12-dead-line",
    parameters={"gauge": psi(2700)},
    shown={"gauge": "pressure"},
    answer=lambda p: "no",
)

PREDICTIONS = (FIRST_STEP, DEAD_LINE)
