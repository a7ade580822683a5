"""Practice and predictions of lesson 01, pump and gauge."""

import math

from jetlib.course.exercises import (
    FillTable,
    Mistake,
    MultipleChoice,
    Numeric,
    Ordering,
    PredictedChoice,
    PredictedCurve,
    PredictedNumber,
    SingleChoice,
    mistakes,
)
from jetlib.course.exercises.mistakes import scaled
from jetlib.rig.parts.machine import Pump
from jetlib.units import to_si

_US_GALLON_WORDS = (
    "It looks as if the gallon was the Imperial one of 4.55 L (277 in³). This course's gallon is the US one of 3.79 L "
    "(231 in³)."
)


def _psi(number):
    return to_si(number, "pressure", "US")


def _gpm(number):
    return to_si(number, "flow", "US")


def _rpm(number):
    return to_si(number, "speed", "US")


def _draw_pump(rng):
    rated = rng.choice((1000, 1100, 1200, 1400, 1450, 1500, 1750))
    return {
        "flow": _gpm(rng.randrange(8, 41) / 2.0),
        "rated": _rpm(rated),
        "idle": _rpm(10 * round(rated * rng.choice((0.38, 0.42, 0.45, 0.48)) / 10)),
    }


def _pump(p):
    return Pump(p["flow"], rated_speed=p["rated"], idle_speed=p.get("idle"))


# --- flow goes with speed ---------------------------------------------------------------------------


def _draw_speed(rng):
    p = _draw_pump(rng)
    return {**p, "speed": _rpm(50 * round(p["rated"] * rng.uniform(0.45, 0.85) / _rpm(50)))}


def _flow_at_speed(p):
    return p["flow"] * _speed_ratio(p)


def _speed_ratio(p):
    return p["speed"] / p["rated"]


def _solve_speed(p, show):
    return (
        f"The pump turns at {show(p['speed'], 'speed', 4)} / {show(p['rated'], 'speed', 4)} = {_speed_ratio(p):.3g} of "
        f"its rated speed.\n\nEvery turn moves the same water, so the flow is {_speed_ratio(p):.3g} × "
        f"{show(p['flow'], 'flow')} = {show(_flow_at_speed(p), 'flow')}."
    )


FLOW_AT_SPEED = Numeric(
    id="01-flow-at-speed",
    title="Slower engine, less flow",
    skills=("flow goes with speed",),
    draw=_draw_speed,
    reject=lambda p: _flow_at_speed(p) < _gpm(3.2),
    shown={"flow": "flow", "rated": "speed", "speed": "speed"},
    ask="A pump gives {flow} when it turns at {rated}. The engine is slowed until the pump turns at {speed}. "
    "Leave slip out. What flow does it give now?",
    kind="flow",
    answer=_flow_at_speed,
    mistakes=(
        Mistake(
            "flow left as it was",
            "That is the flow at rated speed. Fewer turns a minute move fewer gulps of water.",
            lambda p: p["flow"],
        ),
        mistakes.upside_down(lambda p: p["flow"] / _speed_ratio(p)),
        mistakes.square_for_linear(
            lambda p: p["flow"] * _speed_ratio(p) ** 2,
            "It looks as if the ratio of the speeds was squared. Each turn moves the same water: flow goes in step "
            "with speed.",
        ),
        mistakes.imperial_gallon(lambda p: mistakes.imperial_flow(_flow_at_speed(p))),
    ),
    hints=(
        "Every turn moves the same amount of water. How many times fewer turns are there?",
        "Divide the new speed by the rated speed, and multiply the flow by that.",
    ),
    solution=_solve_speed,
)

# --- displacement times speed -----------------------------------------------------------------------


def _draw_displacement(rng):
    return {"turn": rng.randrange(12, 61) * 1e-6, "speed": _rpm(rng.randrange(600, 1750, 50))}


def _swept(p):
    return p["turn"] * p["speed"] / (2.0 * math.pi)


def _solve_displacement(p, show):
    return (
        f"One turn moves {show(p['turn'], 'displacement')}. It turns at {show(p['speed'], 'speed', 4)}: "
        "multiply the two.\n\nThen change the unit: 231 in³ are one US gallon, 1000 mL are one litre.\n\n"
        f"The flow is {show(_swept(p), 'flow')}."
    )


DISPLACEMENT = Numeric(
    id="01-displacement",
    title="So much at every turn",
    skills=("displacement", "units"),
    draw=_draw_displacement,
    reject=lambda p: not _gpm(2.0) <= _swept(p) <= _gpm(22.0),
    shown={"turn": "displacement", "speed": "speed"},
    ask="A pump has three plungers. In one turn the three together move {turn}. The pump turns at {speed}. "
    "Nothing slips back. What flow does it give?",
    kind="flow",
    answer=_swept,
    mistakes=(
        Mistake(
            "plungers counted twice",
            "It looks as if the three plungers were counted once more. The figure is for the three together.",
            scaled(_swept, 3.0),
        ),
        Mistake(
            "one plunger only",
            "It looks as if the water was shared out over the plungers. All three deliver, one after the other.",
            scaled(_swept, 1.0 / 3.0),
        ),
        mistakes.seconds_for_minutes(
            scaled(_swept, 1.0 / 60.0),
            "It looks as if something was divided by 60 on the way. Speed is in turns a minute, and so is the flow.",
        ),
        mistakes.imperial_gallon(lambda p: mistakes.us_flow(_swept(p)), _US_GALLON_WORDS),
    ),
    hints=(
        "Turns in a minute times water at each turn is water in a minute.",
        "231 in³ are one US gallon, and 1000 mL are one litre. Divide by one of those at the end.",
    ),
    solution=_solve_displacement,
)

# --- the lever --------------------------------------------------------------------------------------


def _draw_lever(rng):
    return {**_draw_pump(rng), "throttle": rng.choice((0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.7, 0.75))}


def _lever_flow(p):
    return float(_pump(p).swept_flow(p["throttle"]))


def _solve_lever(p, show):
    speed = float(_pump(p).speed(p["throttle"]))
    return (
        f"From idle to full the speed rises by {show(p['rated'] - p['idle'], 'speed', 4)}. "
        f"{show(p['throttle'], 'fraction')} of that, on top of idle, is {show(speed, 'speed', 4)}.\n\n"
        f"Flow goes with speed: {show(speed, 'speed', 4)} / {show(p['rated'], 'speed', 4)} × "
        f"{show(p['flow'], 'flow')} is {show(_lever_flow(p), 'flow')}."
    )


LEVER = Numeric(
    id="01-throttle-lever",
    title="Part of the way up the lever",
    skills=("throttle and speed", "flow goes with speed"),
    draw=_draw_lever,
    shown={"flow": "flow", "rated": "speed", "idle": "speed", "throttle": "fraction"},
    ask="A pump gives {flow} at its rated speed of {rated}. Its idle speed is {idle}. The throttle is at {throttle}: "
    "that far of the way from idle speed up to rated speed. Leave slip out. What flow does the pump give?",
    kind="flow",
    answer=_lever_flow,
    mistakes=(
        Mistake(
            "throttle taken as share of the flow",
            "It looks as if the throttle was taken as a share of the full flow. At no throttle the engine still idles, "
            "and the pump still turns.",
            lambda p: p["flow"] * p["throttle"],
        ),
        Mistake(
            "idle left out",
            "It looks as if only the rise above idle was counted. The idle speed comes first; the rise goes on top.",
            lambda p: p["flow"] * p["throttle"] * (1.0 - p["idle"] / p["rated"]),
        ),
        mistakes.idle_as_full(
            lambda p: p["flow"],
            "That is the flow at full throttle. Work out the speed for this throttle first.",
        ),
        Mistake(
            "idle flow",
            "That is the flow at idle. The lever has been moved up from there.",
            lambda p: p["flow"] * p["idle"] / p["rated"],
        ),
    ),
    hints=(
        "Find the speed first. It starts from idle, not from nothing.",
        "Take the rise from idle to rated speed, times the throttle, and add the idle speed. Then go on from speed to "
        "flow.",
    ),
    solution=_solve_lever,
)

# --- slip -------------------------------------------------------------------------------------------


def _draw_slip(rng):
    return {
        "swept": _gpm(rng.randrange(10, 41) / 2.0),
        "efficiency": rng.randrange(70, 91) / 100.0,
        "pressure": _psi(rng.randrange(1500, 3300, 100)),
    }


def _delivered(p):
    return p["swept"] * p["efficiency"]


SLIP = Numeric(
    id="01-slip",
    title="What slips back",
    skills=("volumetric efficiency",),
    draw=_draw_slip,
    shown={"swept": "flow", "efficiency": "fraction", "pressure": "pressure"},
    ask="The plungers of a worn pump sweep {swept}. At {pressure} its volumetric efficiency is {efficiency}. "
    "What flow leaves the pump?",
    kind="flow",
    answer=_delivered,
    mistakes=(
        mistakes.efficiency_left_out(
            lambda p: p["swept"],
            "That is what the plungers sweep. Some of it slips back past worn packings and valves.",
        ),
        mistakes.efficiency_upside_down(lambda p: p["swept"] / p["efficiency"]),
        Mistake(
            "what slips back",
            "That is what slips back. What is left of the swept water?",
            lambda p: p["swept"] * (1.0 - p["efficiency"]),
        ),
        mistakes.imperial_gallon(lambda p: mistakes.imperial_flow(_delivered(p))),
    ),
    hints=(
        "Volumetric efficiency is the share of the swept water that really leaves the pump.",
        "Multiply the swept flow by the efficiency, as a share of one: 90 % is 0.9.",
    ),
    solution=lambda p, show: (
        f"{show(p['efficiency'], 'fraction')} of {show(p['swept'], 'flow')} leaves: {p['efficiency']:.2f} × "
        f"{show(p['swept'], 'flow')} is {show(_delivered(p), 'flow')}.\n\nThe rest, "
        f"{show(p['swept'] - _delivered(p), 'flow')}, slips back inside."
    ),
)

# --- units ------------------------------------------------------------------------------------------


def _imperial(p):
    return mistakes.imperial_flow(_gpm(p["plate"]))


OLD_PLATE = Numeric(
    id="01-old-plate",
    title="An old plate",
    skills=("units",),
    draw=lambda rng: {"plate": rng.randrange(8, 61) / 2.0},
    ask="The plate of an old machine says {plate} Imperial gallons a minute. What flow is that, in US gpm or in L/min?",
    kind="flow",
    answer=_imperial,
    tolerance=0.02,
    mistakes=(
        mistakes.us_gallon(
            lambda p: _gpm(p["plate"]),
            "It looks as if the plate's gallons were taken for US gallons. The Imperial gallon is the larger one.",
        ),
        mistakes.upside_down(
            lambda p: mistakes.us_flow(_gpm(p["plate"])),
            "The two gallons look swapped. The Imperial one is larger: does it take more US gallons to hold as much, "
            "or fewer?",
        ),
        Mistake(
            "gallon rounded to 5 L",
            "It looks as if a gallon was taken as 5 L. That is too rough here.",
            lambda p: p["plate"] * 5e-3 / 60.0,
        ),
        Mistake(
            "gallon rounded to 4 L",
            "It looks as if a gallon was taken as 4 L. That is near the US gallon, not the Imperial one.",
            lambda p: p["plate"] * 4e-3 / 60.0,
        ),
    ),
    hints=(
        "An Imperial gallon is 4.55 L. A US gallon is 3.79 L.",
        "Multiply by 4.55 for litres a minute. For US gpm, multiply by 4.55 and divide by 3.79: that is 1.2 times.",
    ),
    solution=lambda p, show: (
        f"An Imperial gallon is 4.55 L, or 1.2 US gallons.\n\nMultiply {p['plate']:g} by 4.55 for L/min, or by 1.2 for "
        f"US gpm: {show(_imperial(p), 'flow')}."
    ),
)


def _draw_two_scales(rng):
    return {"reading": rng.randrange(1200, 3300, 50), "limit": rng.randrange(160, 351, 5)}


def _bar(number):
    return to_si(number, "pressure", "metric")


def _room(p):
    return _bar(p["limit"]) - _psi(p["reading"])


TWO_SCALES = Numeric(
    id="01-two-scales",
    title="A gauge in psi, a hose in bar",
    skills=("units",),
    draw=_draw_two_scales,
    reject=lambda p: not _bar(45) <= _room(p) <= _bar(160),
    ask="The gauge has one scale only and reads {reading} psi. The hose is marked for {limit} bar at most. "
    "How far below its mark is the hose?",
    kind="pressure",
    answer=_room,
    tolerance=0.05,
    mistakes=(
        Mistake(
            "ten psi to the bar",
            "It looks as if 10 psi were taken for a bar. There are 14.5 psi in one bar.",
            lambda p: _bar(p["limit"] - p["reading"] / 10.0) if p["limit"] > 1.15 * p["reading"] / 10.0 else None,
        ),
        Mistake(
            "psi less bar",
            "It looks as if one figure was taken from the other as they stand. Bring both into one unit first.",
            lambda p: _psi(abs(p["reading"] - p["limit"])),
        ),
        Mistake(
            "reading changed, not taken off",
            "That is the reading in the other unit. How much is left from there to the mark?",
            lambda p: _psi(p["reading"]),
        ),
        Mistake(
            "mark changed, nothing taken off",
            "That is the mark of the hose. The reading has still to come off.",
            lambda p: _bar(p["limit"]),
        ),
    ),
    hints=(
        "Bring both into one unit. One bar is 14.5 psi.",
        "Divide the reading by 14.5 to have it in bar. Then take it from the figure on the hose.",
    ),
    solution=lambda p, show: (
        f"{p['reading']} psi / 14.5 is {p['reading'] / 14.5038:.3g} bar.\n\n"
        f"{p['limit']} bar less {p['reading'] / 14.5038:.3g} bar leaves {show(_room(p), 'pressure')}."
    ),
)

# --- choosing ---------------------------------------------------------------------------------------

HALF_PLUGGED = SingleChoice(
    id="01-half-plugged",
    title="Half of the holes are plugged",
    skills=("pump makes flow", "circuit makes pressure"),
    draw=lambda rng: {"count": rng.randrange(4, 13, 2), "speed": _rpm(rng.randrange(700, 1500, 50))},
    shown={"speed": "speed"},
    ask="The pump turns at {speed}. Grit plugs half of the {count} equal holes in the nozzle. The engine holds its "
    "speed, and the valve stays shut. What changes?",
    options=(
        ("pressure up", "The flow stays nearly the same; the gauge rises"),
        ("flow down", "The flow falls to half; the gauge stays the same"),
        ("both down", "The flow falls to half, and so does the gauge"),
        ("nothing", "Nothing: the pump does the same as before"),
    ),
    answer=lambda p: "pressure up",
    mistakes=(
        Mistake(
            "pump taken to make pressure",
            "That would be so if the pump held the pressure. It pushes the same water out at every turn, and that has "
            "to go somewhere.",
            lambda p: "flow down",
        ),
        Mistake(
            "both taken to fall",
            "Where would the other half of the water go? The valve is shut, and water hardly lets itself be squeezed.",
            lambda p: "both down",
        ),
        Mistake(
            "gauge forgotten",
            "The pump does turn as before. But is it as easy as before to push the water out?",
            lambda p: "nothing",
        ),
    ),
    hints=(
        "How much water leaves the pump at each turn? Do the holes change that?",
        "The same water has to squeeze through half the room. Which way must the gauge go?",
    ),
    solution="The pump moves the same water at every turn, so the flow stays (but for a little more slip). "
    "It has to go through half the holes, and that takes more pressure. The gauge rises.",
)

_OUTLETS = ("open", "large", "small", "shut")  # in order of the gauge

ORDER_OUTLETS = Ordering(
    id="01-order-outlets",
    title="One pump, four outlets",
    skills=("circuit makes pressure",),
    draw=lambda rng: {"count": rng.randrange(3, 9), "speed": _rpm(rng.randrange(700, 1500, 50))},
    shown={"speed": "speed"},
    ask="A pump turns at {speed}, with each of these outlets in turn. It has an unloader valve that works. "
    "Put them in order, the lowest gauge first.",
    options=(
        ("open", "an open hose end, no nozzle"),
        ("large", "a nozzle with {count} large holes"),
        ("small", "a nozzle with {count} small holes"),
        ("shut", "a shut outlet"),
    ),
    answer=lambda p: _OUTLETS,
    mistakes=(
        mistakes.upside_down(
            lambda p: _OUTLETS[::-1],
            "The order is turned over. Is it harder to push water through a small way out, or through a large one?",
        ),
        Mistake(
            "no flow taken as no pressure",
            "A shut outlet passes no water, but the pump still pushes. What does the gauge do until the valve opens?",
            lambda p: ("shut", *_OUTLETS[:3]),
        ),
        Mistake(
            "large holes taken as hard",
            "Look at the two nozzles again. The same water goes through both: where must it squeeze harder?",
            lambda p: ("open", "small", "large", "shut"),
        ),
    ),
    hints=(
        "The pump moves the same water in all four. Where has it the easiest way out?",
        "With the outlet shut all of it has to lift the valve, and the valve opens only at its setting.",
    ),
    solution="An open end hardly asks for any pressure. Large holes ask for some, small holes for more. With the "
    "outlet shut, the pressure climbs until the valve opens: the most of all.",
)

_CAN = {"pressure", "changed"}

GAUGE_CAN_TELL = MultipleChoice(
    id="01-gauge-can-tell",
    title="What one gauge can tell",
    skills=("reading the gauge",),
    draw=lambda rng: {"gauge": _psi(rng.randrange(600, 2700, 100)), "speed": _rpm(rng.randrange(700, 1500, 50))},
    shown={"gauge": "pressure", "speed": "speed"},
    ask="The gauge at the pump reads {gauge}, with the pump at {speed}. Last week, with the same hose, nozzle and "
    "speed, it read a third more. What does the gauge tell you, by itself?",
    options=(
        ("pressure", "The pressure where the gauge sits"),
        ("changed", "That something has changed since last week"),
        ("flow", "How much water leaves the nozzle"),
        ("pump", "That the pump is worn"),
        ("nozzle", "The pressure at the nozzle"),
    ),
    answer=lambda p: _CAN,
    mistakes=(
        Mistake(
            "flow read off the gauge",
            "A gauge feels pressure, not flow. A worn nozzle can pass as much water as before with a lower gauge.",
            lambda p: _CAN | {"flow"},
        ),
        Mistake(
            "one cause taken as proved",
            "A worn pump can do this. So can worn holes, or a valve that leaks. One reading cannot tell them apart.",
            lambda p: _CAN | {"pump"},
        ),
        mistakes.gauge_at_nozzle(lambda p: _CAN | {"nozzle"}),
        Mistake(
            "only half of it",
            "What you ticked is right. Set beside last week's reading, the gauge tells one thing more.",
            lambda p: {"pressure"},
        ),
    ),
    hints=(
        "Ask of each: could it be otherwise, and the needle still stand where it stands?",
        "Two of them are sure. The others are guesses that need another test.",
    ),
    solution="The gauge tells the pressure at the place where it sits, and, beside last week's card, that something "
    "has changed. It does not tell the flow, the pressure at the nozzle, or which part is to blame.",
)

# --- a table ----------------------------------------------------------------------------------------

_SPEEDS = (1.0, 0.8, 0.6, 0.4)


def _by_power(power):
    return lambda p: tuple(p["flow"] * share**power for share in _SPEEDS[1:])


SPEED_TABLE = FillTable(
    id="01-speed-table",
    title="Flow beside the rev counter",
    skills=("flow goes with speed",),
    draw=lambda rng: {"flow": _gpm(rng.randrange(10, 41) / 2.0), "rated": _rpm(rng.randrange(1000, 2000, 50))},
    shown={"flow": "flow", "rated": "speed"},
    ask="A pump gives {flow} at {rated}. Make a table to tape beside the rev counter. Leave slip out.",
    columns=(("speed", "speed"), ("flow", "flow")),
    rows=lambda p: tuple((p["rated"] * share, p["flow"] * share) for share in _SPEEDS),
    blanks=((1, 1), (2, 1), (3, 1)),
    mistakes=(
        mistakes.square_for_linear(_by_power(2.0)),
        mistakes.upside_down(_by_power(-1.0)),
        Mistake(
            "flow left as it was",
            "It looks as if the flow was left the same at every speed. Fewer turns, less water.",
            _by_power(0.0),
        ),
    ),
    hints=(
        "How much water does one turn a minute stand for?",
        "Divide each speed by the rated speed, and multiply the flow by that.",
    ),
    solution=lambda p, show: (
        "Flow goes in step with speed:\n\n"
        + "\n".join(
            f"{show(p['rated'] * share, 'speed', 4)}: {share:g} × {show(p['flow'], 'flow')} is "
            f"{show(p['flow'] * share, 'flow')}"
            for share in _SPEEDS
        )
    ),
)

EXERCISES = (
    FLOW_AT_SPEED,
    HALF_PLUGGED,
    LEVER,
    ORDER_OUTLETS,
    DISPLACEMENT,
    SLIP,
    GAUGE_CAN_TELL,
    SPEED_TABLE,
    OLD_PLATE,
    TWO_SCALES,
)

# --- predictions ------------------------------------------------------------------------------------

_YARD = {"flow": _gpm(9.5), "rated": _rpm(1450), "idle": _rpm(620)}  # the yard trailer's pump

HALF_SHUT = PredictedChoice(
    id="01-half-shut",
    title="Half of the way out",
    ask="The pump turns at a steady speed, and the water leaves through a row of holes. Half of the holes are "
    "plugged. The valve stays shut. What does the flow do?",
    options=(
        ("half", "It falls to about half"),
        ("less", "It falls, but to more than half"),
        ("same", "It stays nearly the same"),
        ("more", "It rises"),
    ),
    answer=lambda p: "same",
    because="Each turn of the pump moves the same water, and it has to leave somewhere. It goes through the holes that "
    "are left, faster. That takes more pressure, so the gauge rises. Only a little more slips back inside the pump.",
)

IDLE_FLOW = PredictedNumber(
    id="01-idle-flow",
    title="Flow at idle",
    parameters=_YARD,
    shown={"flow": "flow", "rated": "speed", "idle": "speed"},
    ask="The yard trailer's pump sweeps {flow} at {rated}. The lever is pulled right back, and it idles at {idle}. "
    "What flow does it sweep?",
    kind="flow",
    answer=lambda p: float(_pump(p).swept_flow(0.0)),
    because="Idle is not nothing. The pump turns at a good two fifths of its rated speed, so it sweeps a good two "
    "fifths of its flow.",
)

FLOW_LINE = PredictedCurve(
    id="01-flow-line",
    title="Flow against speed",
    parameters=_YARD,
    shown={"flow": "flow", "rated": "speed", "idle": "speed"},
    ask="The same pump with an open end, from standstill up to {rated}, where it gives {flow}. Sketch the flow.",
    x=("pump speed", "speed"),
    y=("flow", "flow"),
    xs=tuple(_rpm(speed) for speed in (0.0, 400.0, 800.0, 1200.0, 1450.0)),
    top=_gpm(12.0),
    answer=lambda p, x: p["flow"] * x / p["rated"],
    because="Each turn moves the same water. Twice the turns, twice the water: a straight line from nothing.",
)

PREDICTIONS = (HALF_SHUT, IDLE_FLOW, FLOW_LINE)
