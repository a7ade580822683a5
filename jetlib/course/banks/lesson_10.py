"""Predictions of lesson 10, engine, tank and heat."""

from jetlib.course.exercises import PredictedChoice, PredictedCurve, predicted
from jetlib.course.exercises.amounts import gpm, psi
from jetlib.course.exercises.yard import (
    hp,
    inches,
)
from jetlib.physics import heat, water
from jetlib.physics.power import shaft_power
from jetlib.rig.job.flushing import flushing
from jetlib.rig.parts.drain import Drain
from jetlib.units import si

_WATER = {"density": water.density(288.15), "specific_heat": water.specific_heat(288.15)}
POWER_CURVE = predicted(
    PredictedCurve,
    "10-power-curve",
    parameters={"speed": si("3000 rpm", "speed"), "flow": gpm(8.0), "pressure": psi(3000), "efficiency": 0.85},
    shown={"speed": "speed", "flow": "flow", "pressure": "pressure"},
    x=("engine speed", "speed"),
    y=("power", "power"),
    xs=tuple(si(f"{turns} rpm", "speed") for turns in (1000, 1500, 2000, 2500, 3000)),
    top=hp(20),
    answer=lambda p, x: shaft_power(
        p["flow"] * (x / p["speed"]), p["pressure"] * (x / p["speed"]) ** 2, p["efficiency"]
    ),
)


def _loop_time(p):
    seconds = float(heat.tank_warm_up_time(p["power"], volume=p["loop"], start=p["start"], limit=p["limit"], **_WATER))
    return "seconds" if seconds < 100.0 else "minutes" if seconds < 1200.0 else "half-hour"


LOOP = predicted(
    PredictedChoice,
    "10-loop",
    parameters={
        "power": hp(16),
        "loop": si("0.5 gal", "volume"),
        "start": si("60 degF", "temperature"),
        "limit": si("140 degF", "temperature"),
    },
    shown={"power": "power", "loop": "volume", "start": "temperature", "limit": "temperature"},
    answer=_loop_time,
)


def _which_helps(p):
    def shear(flow, fall):
        return float(flushing(flow, Drain(bore=p["bore"], length=30.0, fall=fall)).shear)

    more, steeper = shear(2.0 * p["flow"], p["fall"]), shear(p["flow"], 2.0 * p["fall"])
    return "same" if abs(more / steeper - 1.0) < 0.05 else "water" if more > steeper else "fall"


WATER_OR_FALL = predicted(
    PredictedChoice,
    "10-water-or-fall",
    parameters={"flow": gpm(9), "bore": inches(4), "fall": 0.01},
    shown={"flow": "flow", "bore": "pipe_bore", "fall": "slope"},
    answer=_which_helps,
)

PREDICTIONS = (POWER_CURVE, LOOP, WATER_OR_FALL)
