"""Predictions of lesson 02, orifice flow."""

from jetlib.course.exercises import PredictedChoice, PredictedCurve, PredictedNumber
from jetlib.course.exercises.amounts import bore_of, gpm, holes, jet_inches, jet_pressure, psi

WIDER_DRILL = PredictedNumber(
    id="02-wider-drill",
    title="Drilled out by a pencil line",
    parameters={
        "count": 4,
        "flow": gpm(8.0),
        "pressure": jet_pressure(gpm(8.0), holes(4, bore_of("#60"))),
        "old_bore": bore_of("#60"),
        "new_bore": bore_of("#56"),
    },
    shown={"flow": "flow", "pressure": "pressure", "old_bore": "jet_bore", "new_bore": "jet_bore"},
    ask="{count} holes of {old_bore} need {pressure} at {flow}. All are drilled out to {new_bore}, and the flow stays "
    "the same. What does the gauge read now?",
    kind="pressure",
    answer=lambda p: p["pressure"] * (p["old_bore"] / p["new_bore"]) ** 4,
    because="Slightly more bore gives more area, and slightly more area needs much less pressure. The rest of this "
    "lesson says how much.",
)

DOUBLE_FLOW = PredictedNumber(
    id="02-double-flow",
    title="Twice the flow",
    parameters={"flow": gpm(5.0), "pressure": psi(700), "new_flow": gpm(10.0)},
    shown={"flow": "flow", "pressure": "pressure", "new_flow": "flow"},
    ask="Jets on the pump, no hose. At {flow} the gauge reads {pressure}. What will it read at {new_flow}?",
    kind="pressure",
    answer=lambda p: p["pressure"] * (p["new_flow"] / p["flow"]) ** 2,
    because="Twice the flow has to leave through the same holes, so it leaves twice as fast. "
    "The pressure that this needs is proportional to the speed squared: four times.",
)

HALF_THE_BORE = PredictedChoice(
    id="02-half-the-bore",
    title="Half the bore",
    parameters={"count": 4, "bore": jet_inches(0.060), "small_bore": jet_inches(0.030)},
    shown={"bore": "jet_bore", "small_bore": "jet_bore"},
    ask="A nozzle has {count} holes of {bore}. How many holes of {small_bore}, half the bore, pass the same flow "
    "at the same pressure?",
    options=(("4", "4, the same"), ("8", "8, twice as many"), ("16", "16, four times as many"), ("64", "64")),
    answer=lambda p: round(p["count"] * (p["bore"] / p["small_bore"]) ** 2),
    because="Half the bore is half as wide and half as high: a quarter of the area. So you need four for each one.",
)

GAUGE_CURVE = PredictedCurve(
    id="02-gauge-curve",
    title="The gauge reading against the flow",
    parameters={"area": holes(4, bore_of("#56")), "low_flow": gpm(2.0), "flow": gpm(10.0)},
    shown={"low_flow": "flow", "flow": "flow"},
    ask="The same jets, no hose. The throttle is opened until the flow rises from {low_flow} to {flow}. "
    "Sketch how the gauge reading rises.",
    x=("flow", "flow"),
    y=("gauge reading", "pressure"),
    xs=tuple(gpm(flow) for flow in (2.0, 4.0, 6.0, 8.0, 10.0)),
    top=psi(4000),
    answer=lambda p, x: jet_pressure(x, p["area"]),
    because="Each step of flow needs more pressure than the one before: the curve gets steeper all the way.",
)

PREDICTIONS = (WIDER_DRILL, GAUGE_CURVE, DOUBLE_FLOW, HALF_THE_BORE)
