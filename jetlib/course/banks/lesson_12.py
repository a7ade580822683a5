"""Predictions of lesson 12: what a callout turns on."""

from jetlib.course.exercises import PredictedChoice
from jetlib.course.exercises.amounts import feet, psi
from jetlib.course.exercises.shapes import predicted

FIRST_STEP = predicted(
    PredictedChoice,
    "12-first-step",
    """
    What decides first?
    ask: A kitchen drain is blocked, {run} of it. The customer wants you before lunch. What decides most about whether
        the job ends well?
    option engine: The power of the machine
    option asked: What you ask on the phone, and what you look at before the hose goes in
    option pace: How fast you work
    because: Power is chosen in minutes, once you know pipe, stoppage and chemicals. A question costs a minute, and a
        wrong plan costs the morning, or more.
    """,
    parameters={"run": feet(75)},
    shown={"run": "length"},
    answer=lambda p: "asked",
)

DEAD_LINE = predicted(
    PredictedChoice,
    "12-dead-line",
    """
    Is the line dead?
    ask: You have stopped the pump. A minute ago the gauge read {gauge}, now it reads zero. Is it safe to open the
        coupling at the nozzle?
    option yes: Yes: the gauge says so
    option no: No: first relieve the pressure at the outlet
    option wait: Yes, after two minutes
    because: The gauge is at the pump. A check valve or a trapped-pressure unloader can hold the pressure in the hose
        behind it when the nozzle is plugged, for hours. Relieve it at the outlet, every time.
    """,
    parameters={"gauge": psi(2700)},
    shown={"gauge": "pressure"},
    answer=lambda p: "no",
)

PREDICTIONS = (FIRST_STEP, DEAD_LINE)
