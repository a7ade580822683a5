"""Predictions of lesson 03, hose friction."""

import math

from jetlib.course.exercises import PredictedChoice, PredictedCurve, PredictedNumber
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


THIN_LEADER = PredictedChoice(
    id="03-thin-leader",
    title="Long and wide, or short and narrow",
    parameters=_LINE,
    shown={"flow": "flow", "length": "length", "bore": "bore", "leader": "length", "small": "bore"},
    ask="{flow} flows through {length} of {bore} hose and then through {leader} of {small} leader hose. Which of the "
    "two loses more pressure?",
    options=(
        ("long-four", "The long one, about four times as much: it is four times as long"),
        ("long-two", "The long one, about twice as much"),
        ("same", "About the same each"),
        ("thin-four", "The narrow one, about four times as much"),
    ),
    answer=_small_over_long,
    because="A quarter of the length loses a quarter as much. But the bore is about three quarters, and the bore "
    "counts five times: that alone makes it about four times as much. The two cancel out.",
)

HALF_THE_BORE = PredictedNumber(
    id="03-half-the-bore",
    title="Half the bore",
    parameters={
        "flow": gpm(4),
        "length": feet(200),
        "bore": hose_bore("1/2 in"),
        "small_bore": hose_bore("1/4 in"),
        "loss": hose_loss(gpm(4), feet(200), hose_bore("1/2 in")),
    },
    shown={"flow": "flow", "length": "length", "bore": "bore", "small_bore": "bore", "loss": "pressure"},
    ask="At {flow}, {length} of {bore} hose loses {loss}. How much does {length} of {small_bore} hose lose, about "
    "half the bore?",
    kind="pressure",
    answer=lambda p: hose_loss(p["flow"], p["length"], p["small_bore"]),
    because=lambda p, show: (
        "Half the bore has a quarter of the area, so the water flows four times as fast, and loss rises with nearly "
        "the square of the speed. On top of that, more of the water is near the wall. Together it is about "
        f"{hose_loss(p['flow'], p['length'], p['small_bore']) / p['loss']:.0f} times."
    ),
)

_REEL_ADDS = {"nothing": 0.0, "fifth": 0.2, "half": 0.5, "double": 1.0}


def _nearest_adds(p):
    more = _coil_adds(p["flow"], p["bore"], p["reel"])
    return min(_REEL_ADDS, key=lambda name: abs(_REEL_ADDS[name] - more))


REEL = PredictedChoice(
    id="03-reel",
    title="The reel",
    parameters={"flow": gpm(8), "bore": hose_bore("1/2 in"), "reel": si("20 in", "coil_diameter")},
    shown={"flow": "flow", "bore": "bore", "reel": "coil_diameter"},
    ask="{flow} flows through {bore} hose, all of it wound up on a reel {reel} across. How much more does it lose than "
    "the same hose laid out straight?",
    options=(
        ("nothing", "No more: length is length"),
        ("fifth", "About 20 % more"),
        ("half", "About half as much again"),
        ("double", "About twice as much"),
    ),
    answer=_nearest_adds,
    because="In the curve the water rolls like a corkscrew and rubs more. It costs something, but far less than bore "
    "or length do.",
)

LOSS_CURVE = PredictedCurve(
    id="03-loss-against-flow",
    title="The loss against the flow",
    parameters={"length": feet(200), "bore": hose_bore("1/2 in"), "low_flow": gpm(2), "flow": gpm(10)},
    shown={"length": "length", "bore": "bore", "low_flow": "flow", "flow": "flow"},
    ask="The flow through {length} of {bore} hose rises from {low_flow} to {flow}. Sketch the pressure loss.",
    x=("flow", "flow"),
    y=("loss", "pressure"),
    xs=tuple(gpm(flow) for flow in (2.0, 4.0, 6.0, 8.0, 10.0)),
    top=psi(250),
    answer=lambda p, x: hose_loss(x, p["length"], p["bore"]),
    because="It gets steeper all the way, as with jets, but slightly less: twice the flow loses about three and a half "
    "times the pressure.",
)

PREDICTIONS = (THIN_LEADER, HALF_THE_BORE, LOSS_CURVE, REEL)
