"""Predictions of lesson 02, orifice flow."""

from jetlib.course.exercises import PredictedChoice, PredictedCurve, PredictedNumber, predicted
from jetlib.course.exercises.amounts import bore_of, gpm, holes, jet_inches, jet_pressure, psi

WIDER_DRILL = predicted(
    PredictedNumber,
    "02-wider-drill",
    parameters={
        "count": 4,
        "flow": gpm(8.0),
        "pressure": jet_pressure(gpm(8.0), holes(4, bore_of("#60"))),
        "old_bore": bore_of("#60"),
        "new_bore": bore_of("#56"),
    },
    shown={"flow": "flow", "pressure": "pressure", "old_bore": "jet_bore", "new_bore": "jet_bore"},
    kind="pressure",
    answer=lambda p: p["pressure"] * (p["old_bore"] / p["new_bore"]) ** 4,
)

DOUBLE_FLOW = predicted(
    PredictedNumber,
    "02-double-flow",
    parameters={"flow": gpm(5.0), "pressure": psi(700), "new_flow": gpm(10.0)},
    shown={"flow": "flow", "pressure": "pressure", "new_flow": "flow"},
    kind="pressure",
    answer=lambda p: p["pressure"] * (p["new_flow"] / p["flow"]) ** 2,
)

HALF_THE_BORE = predicted(
    PredictedChoice,
    "02-half-the-bore",
    parameters={"count": 4, "bore": jet_inches(0.060), "small_bore": jet_inches(0.030)},
    shown={"bore": "jet_bore", "small_bore": "jet_bore"},
    answer=lambda p: round(p["count"] * (p["bore"] / p["small_bore"]) ** 2),
)

GAUGE_CURVE = predicted(
    PredictedCurve,
    "02-gauge-curve",
    parameters={"area": holes(4, bore_of("#56")), "low_flow": gpm(2.0), "flow": gpm(10.0)},
    shown={"low_flow": "flow", "flow": "flow"},
    x=("flow", "flow"),
    y=("gauge reading", "pressure"),
    xs=tuple(gpm(flow) for flow in (2.0, 4.0, 6.0, 8.0, 10.0)),
    top=psi(4000),
    answer=lambda p, x: jet_pressure(x, p["area"]),
)

PREDICTIONS = (WIDER_DRILL, GAUGE_CURVE, DOUBLE_FLOW, HALF_THE_BORE)
