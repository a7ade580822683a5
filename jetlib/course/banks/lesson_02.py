"""Practice and predictions of lesson 02, orifice flow. The model for the other lessons' banks."""

import math

from jetlib.course.banks.amounts import bore_of, gpm, holes, jet_flow, jet_inches, jet_pressure, psi
from jetlib.course.exercises import PredictedChoice, PredictedCurve, PredictedNumber
from jetlib.course.exercises.mistakes import IMPERIAL_GALLON_RATIO
from jetlib.course.exercises.shapes import choice, numeric, power_law, power_table, ranked
from jetlib.course.exercises.terms import name_it, safe_ways
from jetlib.units import to_si

_DRILLS = ("#68", "#65", "#64", "#62", "#60", "#58", "#56", "#55", "#54", "#53", "#52")

# --- areas and flow ---------------------------------------------------------------------------------


def _draw_two_groups(rng):
    rear, front = rng.sample(_DRILLS, 2)
    counts = {"rear_count": rng.randrange(3, 9), "front_count": rng.randrange(1, 3)}
    return {**counts, "rear_bore": bore_of(rear), "front_bore": bore_of(front)}


AREAS_ADD = numeric(
    "02-areas-add",
    """
    Add the areas
    ask: A nozzle has {rear_count} rear jets of {rear_bore} and {front_count} front of {front_bore}. What is the area
    of all its jets together?
    hint: Calculate the area of one hole of each size first: 0.785 × bore × bore. (0.785 is π/4.)
    hint: Multiply the area of one rear hole by the number of rear holes. Do the same for the front, and add the two.
    solve: Rear: {rear_count} × 0.785 × {rear_bore} × {rear_bore} -> rear area
    solve: Front: {front_count} × 0.785 × {front_bore} × {front_bore} -> front area
    solve: Together: {rear} + {front} -> both area
    one hole only: That is the area of one rear hole and one front hole. How many are there of each?
    """,
    skills=("area of a hole", "areas add"),
    draw=_draw_two_groups,
    shown={"rear_bore": "jet_bore", "front_bore": "jet_bore"},
    kind="area",
    wrong={
        "bores added": "0.785 × ({rear_count} × {rear_bore} + {front_count} × {front_bore})²",
        "one hole only": "0.785 × ({rear_bore}² + {front_bore}²)",
        "diameter taken as radius": "4 × ({rear} + {front})",
        "radius taken as diameter": "({rear} + {front}) / 4",
        "square instead of circle": "({rear} + {front}) / 0.785",
    },
)


def _draw_set(rng):
    return {
        "count": rng.randrange(3, 9),
        "bore": bore_of(rng.choice(_DRILLS)),
        "pressure": psi(rng.randrange(1500, 3000, 100)),
        "coefficient": rng.choice((0.62, 0.65, 0.68, 0.72, 0.75)),
    }


_SET = "[38|0.849] × {} × {} × √{{pressure}}"

SET_FLOW = numeric(
    "02-flow-of-a-set",
    """
    Flow of a set of jets
    ask: The nozzle pressure is {pressure}. The nozzle has {count} holes of {bore}, and their discharge coefficient Cd
    is {coefficient}. What is the flow?
    hint: First find the area of all the holes. In the trade formula it is in [in²|mm²].
    hint: Flow in [gpm is 38|L/min is 0.849] × Cd × area × √pressure, with the area in [in² and the pressure in psi|mm²
    and the pressure in bar].
    solve: Area of the holes: {count} × 0.785 × {bore} × {bore} -> area area
    solve: Flow: [38|0.849] × {coefficient} × {area} × √{pressure} -> flow flow
    the 2 left out: You left out the 2 under the root. The speed of the water is √(2 × pressure / density).
    """,
    skills=("orifice formula", "discharge coefficient"),
    draw=_draw_set,
    reject=lambda p: not gpm(2.0) <= jet_flow(p["pressure"], holes(p["count"], p["bore"]), p["coefficient"]) <= gpm(30),
    shown={"bore": "jet_bore", "pressure": "pressure"},
    kind="flow",
    tolerance=0.04,
    wrong={
        "discharge coefficient left out": _SET.format(1, "{area}"),
        "discharge coefficient upside down": _SET.format("(1 / {coefficient})", "{area}"),
        "one hole only": _SET.format("{coefficient}", "{area} / {count}"),
        "diameter taken as radius": _SET.format("{coefficient}", "4 × {area}"),
        "bores added": _SET.format("{coefficient}", "{count} × {area}"),
        "the 2 left out": _SET.format("{coefficient}", "0.7071 × {area}"),
    },
)

# --- the square law ---------------------------------------------------------------------------------


def _draw_jets(rng):
    return {"count": rng.randrange(3, 9), "bore": bore_of(rng.choice(_DRILLS)), "flow": gpm(rng.randrange(8, 31) / 2.0)}


def _draw_two_flows(rng):
    drawn = _draw_jets(rng)
    return drawn | {
        "new_flow": gpm(round(drawn["flow"] / gpm(0.5) * rng.choice((0.6, 0.7, 1.25, 1.4, 1.6, 1.8))) / 2.0)
    }


def _needs(p, flow="flow", bore="bore"):
    return jet_pressure(p[flow], holes(p["count"], p[bore]))


SQUARE_LAW = power_law(
    "02-square-law",
    """
    Another flow through the same jets
    ask: The jets sit right on the pump, with no hose. At {flow} the gauge reads {pressure}. You move the throttle until
    {new_flow} flows through the same jets. What does the gauge read?
    hint: How many times the old flow is the new flow?
    hint: Pressure is proportional to flow squared. Multiply the old pressure by that ratio twice.
    doubled instead of squared: You multiplied the ratio by 2. To square a number, multiply it by itself.
    """,
    skills=("square law",),
    draw=_draw_two_flows,
    given=lambda p: {"pressure": _needs(p)},
    reject=lambda p: not psi(400) <= p["pressure"] <= psi(1300) or abs(p["new_flow"] / p["flow"] - 1.0) < 0.2,
    shown={"flow": "flow", "pressure": "pressure", "new_flow": "flow"},
    kind="pressure",
    value="pressure",
    ratio=("new_flow", "flow"),
    power=2,
    labels=("Flow ratio", "Squared"),
    wrong={
        "linear instead of square": 1,
        "square root instead of square": 0.5,
        "ratio upside down": -2,
        "doubled instead of squared": "{pressure} × 2 × {new_flow} / {flow}",
    },
)


ROOT_LAW = power_law(
    "02-flow-from-gauge",
    """
    Read the flow off the gauge
    ask: A set of jets on the pump, with no hose, passes {flow} when the gauge reads {pressure}. You slow the engine
    until the gauge reads {new_pressure}. What is the flow now?
    hint: Divide the new pressure by the old one. Does the flow change as much, or less?
    hint: Flow is proportional to the square root of pressure. Take the root of that ratio and multiply the old flow by
    it.
    half instead of root: You halved the ratio. The square root of a number, multiplied by itself, gives that number.
    """,
    skills=("square law",),
    draw=lambda rng: _draw_jets(rng) | {"share": rng.choice((0.2, 0.25, 0.3, 0.35, 0.4, 0.45))},
    given=lambda p: {"pressure": _needs(p), "new_pressure": p["share"] * _needs(p)},
    reject=lambda p: not psi(1500) <= p["pressure"] <= psi(3200),
    shown={"flow": "flow", "pressure": "pressure", "new_pressure": "pressure"},
    kind="flow",
    value="flow",
    ratio=("new_pressure", "pressure"),
    power=0.5,
    labels=("Pressure ratio", "Square root"),
    wrong={
        "linear instead of square root": 1,
        "square instead of square root": 2,
        "ratio upside down": -0.5,
        "half instead of root": "{flow} × {new_pressure} / {pressure} / 2",
    },
)


def _draw_drill_change(rng):
    old, new = rng.sample(_DRILLS, 2)
    bores = {"old_drill": old, "old_bore": bore_of(old), "new_drill": new, "new_bore": bore_of(new)}
    return bores | {"count": rng.randrange(3, 9), "flow": gpm(rng.randrange(8, 31) / 2.0)}


def _drill_silly(p):
    ratio = p["old_bore"] / p["new_bore"]
    after = p["pressure"] * ratio**4
    return not 0.7 <= ratio <= 1.25 or any(not psi(400) <= each <= psi(3500) for each in (p["pressure"], after))


DRILL_CHANGE = power_law(
    "02-drill-change",
    """
    Change the drill
    ask: A nozzle with {count} holes of drill {old_drill} ({old_bore}) sits right on the pump. At {flow} the gauge reads
    {pressure}. You change to {count} holes of drill {new_drill} ({new_bore}): the same flow, the bypass valve shut.
    What does the gauge read now?
    hint: Are the new holes larger or smaller? First say whether the gauge reading rises or falls.
    hint: Area is proportional to bore squared, and pressure to 1 / area squared. So you need the ratio of the bores
    four times.
    bore alone: You used the bore ratio once. The bore gives the area, and the area the pressure: each step has a
    square.
    count instead of area: The reading changes. The number of holes is the same, but their size is not.
    ratio upside down: You divided the wrong way round. Does the reading rise or fall when the holes are larger?
    """,
    skills=("areas, not bores", "square law"),
    draw=_draw_drill_change,
    given=lambda p: {"pressure": _needs(p, bore="old_bore")},
    reject=_drill_silly,
    shown={"old_bore": "jet_bore", "new_bore": "jet_bore", "flow": "flow", "pressure": "pressure"},
    kind="pressure",
    value="pressure",
    ratio=("old_bore", "new_bore"),
    power=4,
    labels=("Old bore / new bore", "Four times as a factor"),
    wrong={"bore instead of area": 2, "bore alone": 1, "ratio upside down": -4, "count instead of area": "{pressure}"},
)

# --- a timed flow test ------------------------------------------------------------------------------

TIMED_TANK = numeric(
    "02-bucket-test",
    """
    Time the tank
    ask: The refill of the tank is shut off and the nozzle works inside the pipe. The level in the tank falls by
    {volume} in {time}. How much water leaves the nozzle?
    hint: Flow is how much water leaves in a given time. How much would leave in one minute?
    hint: Divide the volume by the time in seconds, then multiply by 60 to get a whole minute.
    solve: {volume} / {time} × 60 -> flow flow
    a whole minute taken: You took the time as one minute. Look at the time again.
    """,
    skills=("flow", "units"),
    draw=lambda rng: {
        "rate": gpm(rng.choice((3.6, 3.8, 4.0, 8.5, 9.0, 9.5, 18, 22, 24, 26))),
        "volume": to_si(rng.choice((10, 15, 20, 25, 30, 40, 50, 60)), "volume", "US"),
    },
    given=lambda p: {"time": float(round(p["volume"] / p["rate"]))},
    reject=lambda p: not 25 <= p["time"] <= 480 or abs(p["time"] - 60) < 6,
    shown={"volume": "volume", "time": "time"},
    kind="flow",
    wrong={
        "seconds taken as minutes": "{volume} / {time}",
        "a whole minute taken": "{volume}",
        "Imperial gallon for US gallon": f"{{flow}} × {IMPERIAL_GALLON_RATIO}",
        "US gallon for Imperial gallon": f"{{flow}} / {IMPERIAL_GALLON_RATIO}",
    },
)

# --- choosing ---------------------------------------------------------------------------------------

_EDGE_CD = {"sharp": 0.62, "worn": 0.72, "conical": 0.90}

EDGE = choice(
    "02-edge",
    """
    Same drill, different edge
    ask: Three nozzles each have {count} holes of drill {drill}. Only the edges of the holes differ. {flow} flows
    through each in turn. Which one gives the highest gauge reading?
    option sharp: The one with sharp edges, fresh from the drill
    option worn: The one with edges worn slightly round
    option conical: The one with smooth cone-shaped inserts
    option same: None: the same drill gives the same reading
    hint: Look at the discharge coefficients in the lesson. Which edge lets the most water through?
    hint: The edge that lets the least water through needs the most pressure for the same flow.
    solve: A sharp edge squeezes the jet most: its Cd is about 0.62. Worn edges have about 0.72, cone-shaped inserts
    about 0.9. At the same flow and drill, pressure is proportional to 1 / Cd², so the sharp edge gives the highest
    reading.
    smooth taken as tight: A smooth inlet lets the water through easily. Does that need more pressure, or less?
    wear taken as tight: Wear rounds the edge. Does the water then get through more easily, or less easily?
    coefficient left out: The drill is not everything: the jet narrows behind the edge. How much depends on the edge.
    """,
    skills=("discharge coefficient",),
    draw=lambda rng: {"count": rng.randrange(3, 9), "drill": rng.choice(_DRILLS), "flow": gpm(rng.randrange(6, 16))},
    shown={"flow": "flow"},
    answer=min(_EDGE_CD, key=_EDGE_CD.get),
    wrong={
        "smooth taken as tight": max(_EDGE_CD, key=_EDGE_CD.get),
        "wear taken as tight": "worn",
        "coefficient left out": "same",
    },
)

_SETS = {  # name: (how many times the holes, how many times the bore)
    "four-times-half": (4, 0.5),
    "twice-half": (2, 0.5),
    "half-root": (0.5, math.sqrt(2.0)),
    "half-double": (0.5, 2.0),
}


def _equal_sets(power):
    return lambda p: [name for name, (count, bore) in _SETS.items() if abs(count * bore**power - 1.0) < 1e-9]


def _draw_equal_sets(rng):
    count, bore = rng.choice((4, 6, 8)), jet_inches(rng.randrange(36, 56, 2) / 1000)
    sets = {f"count_{at}": round(count * times) for at, (times, _) in enumerate(_SETS.values())}
    return {
        "count": count,
        "bore": bore,
        **sets,
        **{f"bore_{at}": bore * by for at, (_, by) in enumerate(_SETS.values())},
    }


SAME_GAUGE = choice(
    "02-same-gauge",
    """
    Which sets give the same reading?
    ask: A nozzle has {count} holes of {bore}. Which of these sets give the same gauge reading at the same flow? Ignore
    differences of 1 % in area.
    hint: The same reading at the same flow means the same total area.
    hint: Calculate count × bore × bore for the nozzle and for each set, and compare.
    solve: The nozzle: {count} × {bore} × {bore} -> all area
    solve: Set of {count_0}: {count_0} × {bore_0} × {bore_0} -> s0 area
    solve: Set of {count_1}: {count_1} × {bore_1} × {bore_1} -> s1 area
    solve: {count_2} of {bore_2}: {count_2} × {bore_2} × {bore_2} -> s2 area
    solve: {count_3} of {bore_3}: {count_3} × {bore_3} × {bore_3} -> s3 area
    solve: Sets with the same figure have the same area, and so the same reading.
    only one found: What you ticked is right. Calculate the area of the others too: there is more than one.
    only one found, with fewer holes: What you ticked is right. Try the sets with more holes too.
    """,
    many=True,
    skills=("areas, not bores", "areas add"),
    draw=_draw_equal_sets,
    shown={"bore": "jet_bore", **{f"bore_{at}": "jet_bore" for at in range(4)}},
    options=tuple((name, f"{{count_{at}}} holes of {{bore_{at}}}") for at, name in enumerate(_SETS)),
    answer=_equal_sets(2),
    wrong={
        "bore instead of area": _equal_sets(1),
        "only one found": lambda p: _equal_sets(2)(p)[:1],
        "only one found, with fewer holes": lambda p: _equal_sets(2)(p)[1:],
    },
)


def _draw_order(rng):
    return {
        "flow": gpm(rng.randrange(4, 9)),
        **{f"count_{key}": rng.randrange(2, 10) for key in "abcd"},
        **{f"bore_{key}": bore_of(drill) for key, drill in zip("abcd", rng.sample(_DRILLS, 4), strict=True)},
    }


ORDER_GAUGE = ranked(
    "02-order-by-gauge",
    """
    From the lowest reading to the highest
    ask: {flow} flows through each of these sets of holes in turn. Put them in order, the lowest gauge reading first.
    item: {count} holes of {bore}
    hint: The larger the area, the lower the reading.
    hint: Calculate count × bore × bore for each set. The largest comes first.
    solve: The largest figure for count × bore × bore has the lowest reading:
    ratio upside down: Your order is the wrong way round. Does a large area need a high pressure, or a low one?
    count instead of area: You ordered by the number of holes. A few large holes can have more area.
    bore instead of area: You ordered by bore. Many small holes can have more area.
    """,
    skills=("areas, not counts",),
    draw=_draw_order,
    by=lambda p, key: jet_pressure(p["flow"], holes(p[f"count_{key}"], p[f"bore_{key}"])),
    kind="pressure",
    total=("{count} × {bore} × {bore}", "area"),
    item_kinds={"count": None, "bore": "jet_bore"},
    shown={"flow": "flow"},
    apart=1.15,
    top=psi(4000),
    wrong={
        "ratio upside down": "reversed",
        "count instead of area": lambda p, key: (-p[f"count_{key}"], -p[f"bore_{key}"]),
        "bore instead of area": lambda p, key: -p[f"bore_{key}"],
    },
)

# --- a table ----------------------------------------------------------------------------------------

TABLE = power_table(
    "02-square-table",
    """
    A table for the cab
    ask: The jets of a nozzle need {pressure} at {flow}. There is no hose. Fill in the gauge reading at the other flows.
    hint: How many times the known flow is each of the others?
    hint: Square that ratio and multiply the known pressure by it.
    solve: The known pressure times the flow ratio squared:
    """,
    skills=("square law",),
    draw=lambda rng: _draw_jets(rng) | {"flow": gpm(rng.choice((3, 4, 5, 6, 7, 8, 9)))},
    given=lambda p: {"pressure": _needs(p)},
    reject=lambda p: not psi(300) <= p["pressure"] <= psi(820),
    shown={"flow": "flow", "pressure": "pressure"},
    columns=(("flow", "flow"), ("gauge reading", "pressure")),
    known=("flow", "pressure"),
    steps=(0.5, 1.0, 1.5, 2.0),
    power=2,
    wrong={"linear instead of square": 1, "square root instead of square": 0.5, "ratio upside down": -2},
)

# --- words and safe working -------------------------------------------------------------------------

TERMS = name_it(
    "02-name-it",
    """
    bore | the width of the hole in a jet or a hose | area
    area | what counts when holes are added: π/4 × width × width | bore
    discharge coefficient | the part of a hole that the stream really fills | number drill
    number drill | a twist drill from a series in which a higher number is a smaller size | bore
    nozzle pressure | the pressure right in front of the jets, inside the head | gauge reading
    gauge reading | the pressure at the pump | nozzle pressure
    """,
)

SAFE_WAYS = safe_ways(
    "02-safe-jets",
    """
    You want to know whether the jets of a nozzle are worn or plugged. Which of these ways are safe?
    safe off: Stop the engine, relieve the pressure, take the nozzle off, then look into the holes
    safe shank: With the nozzle off, try the smooth shank of a drill in each hole
    safe tank: Run the nozzle inside the pipe and time how fast the tank level falls
    unsafe hand: Feel each jet with a gloved hand at idle | A jet cuts through a glove and injects water, at idle too
    unsafe look: Look at the jets from close by at idle | A jet, or grit that comes loose, can blind you
    unsafe hold: Hold the running nozzle over a container | The thrust can tear it out of your hand
    unsafe wire: Clear a hole with a wire while the pump runs | Pressure comes back the moment the hole is clear
    """,
)

EXERCISES = (
    AREAS_ADD, SET_FLOW, SQUARE_LAW, ROOT_LAW, DRILL_CHANGE, TIMED_TANK, EDGE, SAME_GAUGE, ORDER_GAUGE, TABLE,
    TERMS, SAFE_WAYS,
)  # fmt: skip

# --- predictions ------------------------------------------------------------------------------------

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
