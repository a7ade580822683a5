"""Predictions of lesson 09: pull of the jets, drag of the hose, bite of a jet."""

import math

from jetlib.course.exercises import PredictedChoice, PredictedCurve, PredictedNumber
from jetlib.course.exercises.amounts import DENSITY, feet, gpm, psi
from jetlib.course.exercises.shapes import predicted
from jetlib.course.exercises.yard import lbf
from jetlib.physics.hose_drag import hose_tension
from jetlib.physics.reaction import jet_reaction

PULL_CURVE = predicted(
    PredictedCurve,
    "09-pull-curve",
    """
    The pull against the rear angle
    ask: A nozzle has rear jets only: {flow} at a nozzle pressure of {pressure}. Its jets are turned, step by step, from
        straight back along the hose (0°) to straight at the wall (90°). Sketch how hard it pulls.
    because: Only the part that points back pulls. A small angle costs little: at 30° 87 % of the pull is left. A wide
        angle costs a lot: half is gone at 60°, and all of it at 90°.
    """,
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
    """
    Which way does it go?
    ask: A nozzle has {rear} rear holes, at {angle} to the hose, and {front} front holes, straight ahead. All are
        drilled with one drill. Which way does the nozzle go when the water starts?
    option in: Into the pipe: there are twice as many holes at the rear
    option none: Nowhere: front and rear cancel each other
    option out: Back out of the pipe
    because: At 60° a rear hole pulls with half its force, so four of them pull like two. Two front holes push as hard
        the other way. If one rear hole plugs, such a nozzle comes back at you.
    """,
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
    """
    A bend near, or a bend far in
    ask: Two pipes, each {run} long, each with one bend of 90°. In the first the bend is {near} from where the hose goes
        in, in the second {far}. In which do the jets have to pull harder to reach the end?
    option near: The first: the bend near the entry
    option far: The second: the bend far in
    option same: Both the same: it is the same bend and the same hose
    because: A bend multiplies the pull that has to go through it. Near the entry there is only a little hose before it.
        Far in, nearly all of the hose has to be pulled through it.
    """,
    parameters={"run": feet(100), "near": feet(10), "far": feet(90), "friction": 0.4, "weight": 5.0},
    shown={"run": "length", "near": "length", "far": "length"},
    answer=_bend_is_worse,
)

HALF_PRESSURE = predicted(
    PredictedNumber,
    "09-half-pressure",
    """
    Half the pressure
    ask: A nozzle pulls {pull} at a nozzle pressure of {pressure}. You close the throttle until {new_pressure} is left.
        How hard does the nozzle pull now?
    because: At half the pressure both the flow and the speed of the jets fall to 0.71 of what they were, and 0.71 ×
        0.71 = 0.5: the pull is proportional to the pressure.
    """,
    parameters={"pull": lbf(20), "pressure": psi(3000), "new_pressure": psi(1500)},
    shown={"pull": "force", "pressure": "pressure", "new_pressure": "pressure"},
    kind="force",
    answer=lambda p: p["pull"] * p["new_pressure"] / p["pressure"],
)

PREDICTIONS = (PULL_CURVE, WHICH_WAY, BEND_PLACE, HALF_PRESSURE)
