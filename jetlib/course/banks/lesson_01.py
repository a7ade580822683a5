"""Practice and predictions of lesson 01, pump and gauge."""

import math

from jetlib.course.banks.amounts import bar, gpm, machine, point, psi, rpm
from jetlib.course.banks.yard import draw_machine, likely_surge, rig_of
from jetlib.course.exercises import PredictedChoice, PredictedCurve, PredictedNumber, mistakes
from jetlib.course.exercises.mistakes import IMPERIAL_GALLON_RATIO
from jetlib.course.exercises.shapes import choice, numeric, power_law, power_table, ranked_by_key
from jetlib.course.exercises.terms import name_it, safe_ways

_YARD = ("cart", "small_bore", "trailer", "truck")
_CALLED = {"cart": "yard cart", "small_bore": "yard small-bore set", "trailer": "yard trailer", "truck": "yard truck"}


def _draw_pump(rng, machines=_YARD):
    name = rng.choice(machines)
    pump = machine(name).pump
    return {"rig": name, "called": _CALLED[name], "rated": float(pump.rated_speed), "idle": float(pump.idle_speed)}


def _draw_speed(rng, machines=_YARD):
    p = _draw_pump(rng, machines)
    return p | {"speed": rpm(10 * round(p["rated"] * rng.uniform(0.45, 0.85) / rpm(10)))}


def _swept(p):
    return {"flow": float(machine(p["rig"]).pump.rated_flow)}


_PUMP = {"flow": "flow", "rated": "speed", "idle": "speed", "speed": "speed"}

# --- flow and speed ---------------------------------------------------------------------------------

FLOW_AT_SPEED = power_law(
    "01-flow-at-speed",
    """
    Slower engine, less flow
    ask: The pump of the {called} delivers {flow} when it turns at {rated}. You slow the engine until the pump turns at
    {speed}. Ignore slip. What flow does it deliver now?
    hint: Every turn moves the same amount of water. How many times fewer turns are there?
    hint: Divide the new pump speed by the rated speed, and multiply the flow by that.
    flow left as it was: That is the flow at rated speed. Fewer turns per minute move less water.
    square instead of linear: You squared the speed ratio. Flow is proportional to speed.
    """,
    skills=("flow goes with speed",),
    draw=_draw_speed,
    given=_swept,
    shown=_PUMP,
    kind="flow",
    value="flow",
    ratio=("speed", "rated"),
    power=1,
    labels=("Speed ratio",),
    wrong={
        "flow left as it was": "{flow}",
        "ratio upside down": -1,
        "square instead of linear": 2,
        "Imperial gallon for US gallon": f"{{flow}} × {{speed}} / {{rated}} × {IMPERIAL_GALLON_RATIO}",
    },
)

DISPLACEMENT = numeric(
    "01-displacement",
    """
    So much at every turn
    ask: A pump has three plungers. In one turn the three together move {turn}. The pump turns at {speed}. Ignore slip.
    What flow does it deliver?
    hint: Turns per minute times water per turn is water per minute.
    hint: [231 in³ are one US gallon|1000 mL are one liter]. Divide by that at the end.
    solve: {turn} × {speed} / [231|1000] -> flow flow
    plungers counted twice: You counted the three plungers again. The figure is for the three together.
    one plunger only: You shared the water out among the plungers. All three deliver, one after the other.
    seconds taken as minutes: You divided by 60. The speed is in turns per minute, and so is the flow.
    Imperial gallon for US gallon: You used the Imperial gallon of 4.55 L (277 in³). This course's gpm is in US gallons
    of 3.79 L (231 in³).
    """,
    skills=("displacement", "units"),
    draw=_draw_speed,
    given=lambda p: {"turn": _swept(p)["flow"] / p["rated"] * 2.0 * math.pi},
    shown={"turn": "displacement", "speed": "speed"},
    kind="flow",
    wrong={
        "plungers counted twice": "3 × {flow}",
        "one plunger only": "{flow} / 3",
        "seconds taken as minutes": "{flow} / 60",
        "Imperial gallon for US gallon": f"{{flow}} / {IMPERIAL_GALLON_RATIO}",
    },
)

LEVER = numeric(
    "01-throttle-lever",
    """
    Part of the way up the throttle
    ask: The pump of the {called} delivers {flow} at its rated speed of {rated}. Its idle speed is {idle}. The throttle
    is at {throttle}: that much of the way from idle speed up to rated speed. Ignore slip. What flow does the pump
    deliver?
    hint: Find the speed first. It starts from idle, not from zero.
    hint: Multiply the rise from idle to rated speed by the throttle, and add the idle speed. Then go from speed to
    flow.
    solve: From idle to rated speed: {rated} − {idle} -> span speed
    solve: At this throttle: {idle} + {span} × {part} -> now speed
    solve: Flow: {flow} × {now} / {rated} -> out flow
    throttle taken as share of the flow: You used the throttle as a share of the full flow. At no throttle the engine
    still idles, and the pump still turns.
    idle left out: You counted only the rise above idle. The idle speed comes first; the rise is added to it.
    idle taken as full throttle: That is the flow at full throttle. Find the speed for this throttle first.
    idle flow: That is the flow at idle. The throttle is open further than that.
    """,
    skills=("throttle and speed", "flow goes with speed"),
    draw=lambda rng: _draw_pump(rng) | {"throttle": rng.choice((0.2, 0.25, 0.3, 0.4, 0.45, 0.5, 0.6, 0.65, 0.7, 0.75))},
    given=lambda p: _swept(p) | {"part": p["throttle"]},
    shown={"flow": "flow", "rated": "speed", "idle": "speed", "throttle": "fraction"},
    kind="flow",
    wrong={
        "throttle taken as share of the flow": "{flow} × {part}",
        "idle left out": "{flow} × {part} × (1 - {idle} / {rated})",
        "idle taken as full throttle": "{flow}",
        "idle flow": "{flow} × {idle} / {rated}",
    },
)

SLIP = numeric(
    "01-slip",
    """
    What slips back
    ask: The plungers of the {called}'s pump sweep {flow}. It is worn: at {setting} its volumetric efficiency is
    {efficiency}. What flow leaves the pump?
    hint: Volumetric efficiency is the share of the swept water that really leaves the pump.
    hint: Multiply the swept flow by the efficiency, as a share of one: 90 % is 0.9.
    solve: {flow} × {share} -> out flow
    solve: The rest slips back past packings and valves.
    efficiency left out: That is what the plungers sweep. Some of it slips back past worn packings and valves.
    what slips back: That is what slips back. What is left of the swept water?
    """,
    skills=("volumetric efficiency",),
    draw=lambda rng: _draw_pump(rng) | {"efficiency": rng.randrange(70, 91) / 100.0},
    given=lambda p: _swept(p) | {"share": p["efficiency"], "setting": float(machine(p["rig"]).unloader.setting)},
    shown={"flow": "flow", "efficiency": "fraction", "setting": "pressure"},
    kind="flow",
    wrong={
        "efficiency left out": "{flow}",
        "efficiency upside down": "{flow} / {share}",
        "what slips back": "{flow} × (1 - {share})",
        "Imperial gallon for US gallon": f"{{out}} × {IMPERIAL_GALLON_RATIO}",
    },
)

# --- units ------------------------------------------------------------------------------------------

OLD_PLATE = numeric(
    "01-old-plate",
    """
    An old plate
    ask: The plate of an old machine says {plate} Imperial gallons a minute. What flow is that in [US gpm|L/min]?
    hint: An Imperial gallon is 4.546 L. A US gallon is 3.785 L.
    hint: [Multiply by 4.546 and divide by 3.785: that is 1.201 times|Multiply by 4.546].
    solve: {plate} × [1.201|4.546] -> flow flow
    US gallon for Imperial gallon: You used the US gallon. The Imperial gallon on the plate is larger.
    ratio upside down: You swapped the two gallons. The Imperial one is larger: does it take more US gallons, or fewer?
    gallon rounded to 5 L: You used 5 L for a gallon. That is too rough here.
    gallon rounded to 4 L: You used 4 L for a gallon. That is close to the US gallon, not to the Imperial one.
    """,
    skills=("units",),
    draw=lambda rng: {"plate": rng.randrange(8, 61) / 2.0},
    shown={},
    kind="flow",
    answer=lambda p: mistakes.imperial_flow(gpm(p["plate"])),
    tolerance=0.02,
    wrong={
        "US gallon for Imperial gallon": "{plate}",
        "ratio upside down": f"{{plate}} / {IMPERIAL_GALLON_RATIO}",
        "gallon rounded to 5 L": "{plate} × 5 / 3.785",
        "gallon rounded to 4 L": "{plate} × 4 / 3.785",
    },
)


def _peak_and_rating(p):
    """The highest pressure in a machine's line, with the valve's rise and a surge, beside the rating of a hose."""
    peak = float(rig_of(p).unloader.setting * (1.0 + rig_of(p).unloader.rise)) + likely_surge(p)
    reading = 10 * round(peak / psi(10))
    return {"reading": reading, "peak": psi(reading), "rating": bar(p["limit"])}


TWO_SCALES = numeric(
    "01-two-scales",
    """
    Pressure in psi, a hose in bar
    ask: With the rise of its bypass valve and a surge, the line of the {called} reaches {reading} psi. A hose is rated
    for {limit} bar. How much is the rating above that?
    hint: Convert both to one unit. One bar is 14.504 psi.
    hint: [Multiply the rating by 14.504 to have it in psi. Then subtract the pressure of the line|Divide the pressure
    of the line by 14.504 to have it in bar. Then subtract it from the rating].
    solve: [Rating in psi: {limit} × 14.504|Line in bar: {reading} / 14.504] -> same pressure
    solve: [{same} − {peak}|{rating} − {same}] -> room pressure
    ten psi to the bar: You used 10 psi for a bar. One bar is 14.5 psi.
    psi less bar: You subtracted the two figures as they are. Convert both to one unit first.
    reading changed, not taken off: That is the pressure of the line in the other unit. How much is left up to the
    rating?
    mark changed, nothing taken off: That is the rating of the hose. The pressure of the line is still to be subtracted.
    """,
    skills=("units",),
    draw=lambda rng: draw_machine(rng) | {"limit": rng.choice((215, 225, 250, 275, 290, 330, 350, 400, 415))},
    given=_peak_and_rating,
    reject=lambda p: not bar(25) <= p["rating"] - p["peak"] <= bar(180),
    shown={"peak": "pressure", "rating": "pressure"},
    kind="pressure",
    answer=lambda p: p["rating"] - p["peak"],
    tolerance=0.05,
    wrong={
        "ten psi to the bar": lambda p: (
            bar(p["limit"] - p["reading"] / 10.0) if p["limit"] > 1.15 * p["reading"] / 10.0 else None
        ),
        "psi less bar": lambda p: psi(abs(p["reading"] - p["limit"])),
        "reading changed, not taken off": lambda p: p["peak"],
        "mark changed, nothing taken off": lambda p: p["rating"],
    },
)

# --- choosing ---------------------------------------------------------------------------------------


def _draw_holes(rng):
    return {"count": rng.randrange(4, 13, 2), "speed": rpm(rng.randrange(700, 1500, 50))}


HALF_PLUGGED = choice(
    "01-half-plugged",
    """
    Half of the holes are plugged
    ask: The pump turns at {speed}. Grit plugs half of the {count} equal holes in the nozzle. The engine holds its
    speed, and the bypass valve stays shut. What changes?
    option pressure up: The flow stays nearly the same; the gauge reading rises
    option flow down: The flow falls to half; the gauge reading stays the same
    option both down: The flow falls to half, and so does the gauge reading
    option nothing: Nothing: the pump does the same as before
    hint: How much water leaves the pump at each turn? Do the holes change that?
    hint: The same water has to get through half the area. Which way must the gauge reading go?
    solve: The pump moves the same water at every turn, so the flow stays the same (apart from slightly more slip). It
    has to get through half the holes, and that needs more pressure. The gauge reading rises.
    pump taken to make pressure: That would be so if the pump held the pressure. It moves the same water at every turn,
    and that water has to go somewhere.
    both taken to fall: Where would the other half of the water go? The bypass valve is shut, and water can hardly be
    compressed.
    gauge forgotten: The pump does turn as before. But is it as easy as before to push the water out?
    """,
    skills=("pump makes flow", "circuit makes pressure"),
    draw=_draw_holes,
    shown={"speed": "speed"},
    answer="pressure up",
    wrong={"pump taken to make pressure": "flow down", "both taken to fall": "both down", "gauge forgotten": "nothing"},
)

_OUTLETS = ("open", "large", "small", "shut")  # in order of the gauge reading

ORDER_OUTLETS = ranked_by_key(
    "01-order-outlets",
    """
    One pump, four outlets
    ask: A pump turns at {speed}, with each of these outlets in turn. It has a regulating unloader that works. Put them
    in order, the lowest gauge reading first.
    option open: an open end, no nozzle
    option large: a nozzle with {count} large holes
    option small: a nozzle with {count} small holes
    option shut: a closed outlet
    hint: The pump moves the same water in all four. Where is the easiest way out?
    hint: With the outlet closed, all of it has to pass the bypass valve, which opens only at its setting.
    solve: An open end needs hardly any pressure. Large holes need some, small holes more. With the outlet closed, the
    pressure rises until the bypass valve opens: the highest of all.
    ratio upside down: Your order is the wrong way round. Is it harder to push water through a small hole, or a large
    one?
    no flow taken as no pressure: A closed outlet passes no water, but the pump still pushes. What does the gauge do
    until the bypass valve opens?
    large holes taken as hard: Look at the two nozzles again. The same water flows through both: which one needs more
    pressure?
    """,
    skills=("circuit makes pressure",),
    draw=_draw_holes,
    shown={"speed": "speed"},
    answer=_OUTLETS,
    wrong={
        "ratio upside down": _OUTLETS[::-1],
        "no flow taken as no pressure": ("shut", *_OUTLETS[:3]),
        "large holes taken as hard": ("open", "small", "large", "shut"),
    },
)

_CAN = {"pressure", "changed"}

GAUGE_CAN_TELL = choice(
    "01-gauge-can-tell",
    """
    What one gauge can tell
    ask: The gauge at the pump of the {called} reads {gauge}, with the pump at {speed}. Last week, with the same hose,
    nozzle and pump speed, it read a third more. What does the gauge tell you, by itself?
    option pressure: The pressure at the gauge
    option changed: That something has changed since last week
    option flow: How much water leaves the nozzle
    option pump: That the pump is worn
    option nozzle: The nozzle pressure
    hint: Ask of each: could it be otherwise, with the gauge reading the same?
    hint: Two of them are certain. The others are guesses that need another test.
    solve: The gauge tells you the pressure where it is fitted and, compared with last week's card, that something has
    changed. It does not tell you the flow, the nozzle pressure, or which part is to blame.
    flow read off the gauge: A gauge measures pressure, not flow. A worn nozzle can pass as much water at a lower
    reading.
    one cause taken as proved: A worn pump can do this. So can worn holes, or a valve that leaks. One reading cannot
    tell.
    only half of it: What you ticked is right. Compared with last week's reading, the gauge tells you one thing more.
    """,
    many=True,
    skills=("reading the gauge",),
    draw=lambda rng: {**_draw_pump(rng), "throttle": rng.choice((0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0))},
    given=lambda p: {
        "gauge": 0.75 * float(point(p["rig"], p["throttle"]).gauge),
        "speed": float(machine(p["rig"]).pump.speed(p["throttle"])),
    },
    shown={"gauge": "pressure", "speed": "speed"},
    answer=_CAN,
    wrong={
        "flow read off the gauge": _CAN | {"flow"},
        "one cause taken as proved": _CAN | {"pump"},
        "gauge taken as nozzle pressure": _CAN | {"nozzle"},
        "only half of it": {"pressure"},
    },
)

# --- a table ----------------------------------------------------------------------------------------

SPEED_TABLE = power_table(
    "01-speed-table",
    """
    Flow beside the tachometer
    ask: A pump delivers {flow} at {rated}. Make a table to tape beside the tachometer. Ignore slip.
    hint: What share of the rated speed is each of the others?
    hint: Divide each speed by the rated speed, and multiply the flow by that.
    solve: Flow is proportional to pump speed:
    flow left as it was: You left the flow the same at every speed. Fewer turns, less water.
    """,
    skills=("flow goes with speed",),
    draw=lambda rng: {
        "flow": gpm(rng.randrange(10, 41) / 2.0),
        "rated": rpm(rng.randrange(1000, 2000, 50)),
    },
    shown={"flow": "flow", "rated": "speed"},
    columns=(("pump speed", "speed"), ("flow", "flow")),
    known=("rated", "flow"),
    steps=(1.0, 0.8, 0.6, 0.4),
    power=1,
    wrong={"square instead of linear": 2, "ratio upside down": -1, "flow left as it was": 0},
)

# --- words and safe working -------------------------------------------------------------------------

TERMS = name_it(
    "01-terms",
    """
    displacement | the water that a pump moves in one turn | slip
    slip | the water that leaks back inside a pump | displacement
    rated speed | the pump speed for which the figures on the plate hold | idle
    idle | the slowest steady speed of the engine | rated speed
    tachometer | what shows how fast the engine turns | gauge
    gauge | what shows the pressure at the pump | tachometer
    bypass valve | what returns water to the tank above its setting | shut-off valve
    shut-off valve | what closes the outlet | bypass valve
    """,
)

SAFE_WAYS = safe_ways(
    "01-safe-start",
    """
    You start the machine to read the gauge. Which of these ways are safe?
    safe inside: Put the nozzle well into the pipe before the engine starts
    safe gear: Wear eye protection, gloves, boots and hearing protection
    safe idle: Start at idle and open the throttle slowly
    safe second: A second person stays at the throttle and the shut-off valve
    unsafe hand: Point the nozzle away and hold it in your hand | Its thrust can tear it free, and a jet goes through
    skin
    unsafe leak: Put your hand on a drip to see whether it stops | Water under pressure goes through a glove and skin
    unsafe valve: Tighten the bypass valve until the gauge reads more | Its setting protects pump, hose and you
    unsafe indoor: Run the engine in a closed garage | Exhaust gas kills without a smell
    """,
)

EXERCISES = (
    FLOW_AT_SPEED, HALF_PLUGGED, LEVER, ORDER_OUTLETS, DISPLACEMENT, SLIP, GAUGE_CAN_TELL, SPEED_TABLE, OLD_PLATE,
    TWO_SCALES, TERMS, SAFE_WAYS,
)  # fmt: skip

# --- predictions ------------------------------------------------------------------------------------

_TRAILER = machine("trailer").pump
_SWEEPS = {"flow": _TRAILER.rated_flow, "rated": _TRAILER.rated_speed, "idle": _TRAILER.idle_speed}

HALF_SHUT = PredictedChoice(
    id="01-half-shut",
    title="Half of the holes",
    ask="The pump turns at a steady speed, and the water leaves through a row of holes. Half of the holes are "
    "plugged. The bypass valve stays shut. What does the flow do?",
    options=(
        ("half", "It falls to about half"),
        ("less", "It falls, but to more than half"),
        ("same", "It stays nearly the same"),
        ("more", "It rises"),
    ),
    answer=lambda p: "same",
    because="Each turn of the pump moves the same water, and it has to leave somewhere. It flows faster through the "
    "holes that are left. That needs more pressure, so the gauge reading rises. Only slightly more slips back.",
)

IDLE_FLOW = PredictedNumber(
    id="01-idle-flow",
    title="Flow at idle",
    parameters=_SWEEPS,
    shown=_PUMP,
    ask="The yard trailer's pump sweeps {flow} at {rated}. The throttle is closed, and it idles at {idle}. "
    "What flow does it sweep?",
    kind="flow",
    answer=lambda p: float(machine("trailer").pump.swept_flow(0.0)),
    because="Idle is not zero. The pump turns at 43 % of its rated speed, so it sweeps 43 % of its flow.",
)

FLOW_LINE = PredictedCurve(
    id="01-flow-line",
    title="Flow against speed",
    parameters=_SWEEPS,
    shown=_PUMP,
    ask="The same pump with an open end, from standstill up to {rated}, where it delivers {flow}. Sketch the flow.",
    x=("pump speed", "speed"),
    y=("flow", "flow"),
    xs=tuple(rpm(speed) for speed in (0.0, 400.0, 800.0, 1200.0, 1450.0)),
    top=gpm(12.0),
    answer=lambda p, x: p["flow"] * x / p["rated"],
    because="Each turn moves the same water. Twice the turns, twice the water: a straight line from zero.",
)

PREDICTIONS = (HALF_SHUT, IDLE_FLOW, FLOW_LINE)
