"""Predictions of lesson 03, hose friction."""

import math

from jetlib.course.exercises import PredictedChoice, PredictedCurve, PredictedNumber, predicted
from jetlib.course.exercises.amounts import (
    DENSITY,
    VISCOSITY,
    feet,
    gpm,
    hose_bore,
    hose_loss,
    psi,
)
from jetlib.physics import friction, hose
from jetlib.units import si


def _coil_adds(flow, bore, reel):
    """By what share a reel of this diameter raises the loss."""
    reynolds = hose.reynolds_number(flow, bore=bore, density=DENSITY, viscosity=VISCOSITY)
    return float(friction.coil_ratio(reynolds, bore, reel)) - 1.0


_LINE = {"flow": gpm(8), "length": feet(200), "bore": hose_bore("1/2 in"), "leader": feet(50)}
_LINE |= {"small": hose_bore("3/8 in")}
_SHARES = {"long-four": 0.25, "long-two": 0.5, "same": 1.0, "thin-four": 4.0}


def _small_over_long(p):
    ratio = hose_loss(p["flow"], p["leader"], p["small"]) / hose_loss(p["flow"], p["length"], p["bore"])
    return min(_SHARES, key=lambda name: abs(math.log(_SHARES[name] / ratio)))


THIN_LEADER = predicted(
    PredictedChoice,
    "03-thin-leader",
    parameters=_LINE,
    shown={"flow": "flow", "length": "length", "bore": "bore", "leader": "length", "small": "bore"},
    answer=_small_over_long,
)

HALF_THE_BORE = predicted(
    PredictedNumber,
    "03-half-the-bore",
    parameters={
        "flow": gpm(4),
        "length": feet(200),
        "bore": hose_bore("1/2 in"),
        "small_bore": hose_bore("1/4 in"),
        "loss": hose_loss(gpm(4), feet(200), hose_bore("1/2 in")),
        "times": round(
            hose_loss(gpm(4), feet(200), hose_bore("1/4 in")) / hose_loss(gpm(4), feet(200), hose_bore("1/2 in"))
        ),
    },
    shown={"flow": "flow", "length": "length", "bore": "bore", "small_bore": "bore", "loss": "pressure"},
    kind="pressure",
    answer=lambda p: hose_loss(p["flow"], p["length"], p["small_bore"]),
)

_REEL_ADDS = {"nothing": 0.0, "fifth": 0.2, "half": 0.5, "double": 1.0}


def _nearest_adds(p):
    more = _coil_adds(p["flow"], p["bore"], p["reel"])
    return min(_REEL_ADDS, key=lambda name: abs(_REEL_ADDS[name] - more))


REEL = predicted(
    PredictedChoice,
    "03-reel",
    parameters={"flow": gpm(8), "bore": hose_bore("1/2 in"), "reel": si("20 in", "coil_diameter")},
    shown={"flow": "flow", "bore": "bore", "reel": "coil_diameter"},
    answer=_nearest_adds,
)

LOSS_CURVE = predicted(
    PredictedCurve,
    "03-loss-against-flow",
    parameters={"length": feet(200), "bore": hose_bore("1/2 in"), "low_flow": gpm(2), "flow": gpm(10)},
    shown={"length": "length", "bore": "bore", "low_flow": "flow", "flow": "flow"},
    x=("flow", "flow"),
    y=("loss", "pressure"),
    xs=tuple(gpm(flow) for flow in (2.0, 4.0, 6.0, 8.0, 10.0)),
    top=psi(250),
    answer=lambda p, x: hose_loss(x, p["length"], p["bore"]),
)

PREDICTIONS = (THIN_LEADER, HALF_THE_BORE, LOSS_CURVE, REEL)
