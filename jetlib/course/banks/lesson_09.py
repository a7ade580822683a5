"""Predictions of lesson 09: pull of the jets, drag of the hose, bite of a jet."""

import math

from jetlib.course.exercises import PredictedChoice, PredictedCurve, PredictedNumber, predicted
from jetlib.course.exercises.amounts import DENSITY, feet, gpm, psi
from jetlib.course.exercises.yard import lbf
from jetlib.physics.hose_drag import hose_tension
from jetlib.physics.reaction import jet_reaction

PULL_CURVE = predicted(
    PredictedCurve,
    "09-pull-curve",
    parameters={"flow": gpm(8.0), "pressure": psi(2500)},
    shown={"flow": "flow", "pressure": "pressure"},
    x=("angle", "angle"),
    y=("pull", "force"),
    xs=tuple(math.radians(angle) for angle in (0.0, 22.5, 45.0, 67.5, 90.0)),
    top=lbf(30),
    answer=lambda p, x: jet_reaction(p["flow"], p["pressure"], density=DENSITY, angle=x),
)


def _which_way(p):
    net = p["rear"] * math.cos(p["angle"]) - p["front"]
    return "none" if abs(net) < 0.1 else "in" if net > 0 else "out"


WHICH_WAY = predicted(
    PredictedChoice,
    "09-which-way",
    parameters={"rear": 4, "front": 2, "angle": math.radians(60)},
    shown={"angle": "angle"},
    answer=_which_way,
)


def _bend_is_worse(p):
    common = {"weights": (p["weight"],), "lengths": (p["run"],), "friction": p["friction"]}
    near, far = (float(hose_tension(p["run"], bends=((p[at], math.pi / 2.0),), **common)) for at in ("near", "far"))
    return "same" if abs(near / far - 1.0) < 0.02 else "near" if near > far else "far"


BEND_PLACE = predicted(
    PredictedChoice,
    "09-bend-place",
    parameters={"run": feet(100), "near": feet(10), "far": feet(90), "friction": 0.4, "weight": 5.0},
    shown={"run": "length", "near": "length", "far": "length"},
    answer=_bend_is_worse,
)

HALF_PRESSURE = predicted(
    PredictedNumber,
    "09-half-pressure",
    parameters={"pull": lbf(20), "pressure": psi(3000), "new_pressure": psi(1500)},
    shown={"pull": "force", "pressure": "pressure", "new_pressure": "pressure"},
    kind="force",
    answer=lambda p: p["pull"] * p["new_pressure"] / p["pressure"],
)

PREDICTIONS = (PULL_CURVE, WHICH_WAY, BEND_PLACE, HALF_PRESSURE)
