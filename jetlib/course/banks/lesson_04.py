"""Practice and predictions of lesson 04, the whole circuit. The bypass valve stays shut: it is lesson 05's."""

from jetlib.course.banks.amounts import (
    DENSITY,
    DRILLS,
    SIZES,
    bore_of,
    draw_line,
    feet,
    gpm,
    holes,
    hose_bore,
    hose_loss,
    jet_pressure,
    line_of,
    machine,
    point,
    psi,
    usual_line,
)
from jetlib.course.exercises import PredictedChoice, PredictedCurve, PredictedNumber
from jetlib.course.exercises.native import found
from jetlib.course.exercises.shapes import choice, numeric, power_table, ranked
from jetlib.course.exercises.terms import name_it, safe_ways
from jetlib.physics.hose import velocity
from jetlib.physics.power import hydraulic_power
from jetlib.rig.point.circuit import GRAVITY
from jetlib.rig.point.operating_point import operating_point

_LINE = {"flow": "flow", "length": "length", "bore": "bore", "loss": "pressure", "gauge": "pressure"}


def _odd(p):
    return not usual_line(p)


def _head(p):
    return DENSITY * GRAVITY * p["lift"]


# --- pressures add ----------------------------------------------------------------------------------


def _draw_two_hoses(rng):
    main = rng.choice(SIZES[2:])
    drawn = draw_line(rng, (main,)) | {"small": SIZES[SIZES.index(main) - 1], "leader": feet(rng.choice((20, 30, 50)))}
    return drawn | {"lift": feet(rng.randrange(60, 201, 10)), "couplings": rng.choice((3, 4, 6))}


def _two_hoses(p):
    found, small = line_of(p), hose_bore(p["small"])
    second = hose_loss(p["flow"], p["leader"], small)
    fittings = p["couplings"] * DENSITY * velocity(p["flow"], bore=small) ** 2 / 2.0  # each loses one speed head
    return found | {"small_bore": small, "second": second, "fittings": fittings, "gauge": found["gauge"] + second}


_TWO = _LINE | {"leader": "length", "small_bore": "bore", "second": "pressure"}

ADD_UP = numeric(
    "04-add-up",
    """
    Add up the line
    ask: {flow} flows through a line. The main hose loses {loss}, the leader hose {second}, the fittings {fittings}. The
    jets need {jets}. The nozzle is {lift} above the pump. What does the gauge read?
    hint: The same water flows through everything, one part after another. What do the pressures do?
    hint: Add everything on the way of the water. For the height, use [0.433 psi per foot|0.098 bar per meter].
    solve: Height: {lift} × [0.433|0.098] -> head pressure
    solve: Together: {loss} + {second} + {fittings} + {jets} + {head} -> all pressure
    lift left out: Close. What else pushes back at the pump? Look where the nozzle is.
    lift with the wrong sign: You subtracted the lift. Does pushing water uphill help the pump, or hinder it?
    """,
    skills=("pressures add", "lift"),
    draw=_draw_two_hoses,
    given=_two_hoses,
    reject=_odd,
    shown=_TWO | {"fittings": "pressure", "jets": "pressure", "lift": "length"},
    kind="pressure",
    tolerance=0.01,
    wrong={
        "hose left out": "{fittings} + {jets} + {head}",
        "only the last hose": "{all} - {loss}",
        "lift left out": "{all} - {head}",
        "lift with the wrong sign": "{all} - 2 × {head}",
    },
)

BEHIND_THE_JETS = numeric(
    "04-behind-the-jets",
    """
    What is left for the jets
    ask: The gauge reads {gauge}. At this flow the reel hose loses {loss} and the leader hose after it {second}. The
    line lies level. What is the nozzle pressure?
    hint: The gauge shows the pressure that the whole line needs. The jets are its last part.
    hint: Subtract the loss of each hose from the gauge reading.
    solve: {gauge} − {loss} − {second} -> nozzle pressure
    losses put on top: You added the losses to the gauge reading. The gauge is at the start of the line. What is left at
    its end?
    """,
    skills=("pressures add", "gauge and nozzle"),
    draw=_draw_two_hoses,
    given=_two_hoses,
    reject=_odd,
    shown=_TWO,
    kind="pressure",
    tolerance=0.02,
    wrong={
        "gauge taken as nozzle pressure": "{gauge}",
        "losses put on top": "{gauge} + {loss} + {second}",
        "only the first hose": "{gauge} - {loss}",
        "only the last hose": "{gauge} - {second}",
    },
)

LIFT = numeric(
    "04-lift",
    """
    Up the stack
    ask: The nozzle works its way up a stack until it is {lift} above the pump. How much of the gauge reading comes from
    the height alone?
    hint: The water standing in the hose weighs on the pump. Only the height counts, not the length or the bore.
    hint: Each [foot of height adds 0.433 psi|meter of height adds 0.098 bar].
    solve: {lift} × [0.433|0.098] -> head pressure
    ratio upside down: You divided the wrong way round. 2.31 ft of water make 1 psi. How much does one foot make?
    one psi a foot: You used 1 psi for each foot. A foot of water makes less than half of that.
    one bar a metre: You used 1 bar for each meter. It takes about ten meters of water to make 1 bar.
    """,
    skills=("lift",),
    draw=lambda rng: {"lift": feet(rng.randrange(20, 241, 5))},
    shown={"lift": "length"},
    kind="pressure",
    wrong={
        "ratio upside down": "{lift} / 0.433",
        "one psi a foot": "{lift}",
        "one bar a metre": lambda p: p["lift"] * 1e5,
    },
)

# --- another throttle, hose or jet ------------------------------------------------------------------


def _eased(p):
    new_flow = found(p["times"] * p["flow"], "flow", "US")
    return line_of(p) | {"new_flow": new_flow, "full": line_of({**p, "flow": new_flow})["gauge"]}


EASED_THROTTLE = numeric(
    "04-eased-throttle",
    """
    Ease the throttle
    ask: A nozzle and {length} of {bore} hose give a gauge reading of {gauge} at {flow}. You ease the throttle until the
    flow is {new_flow}. About what does the gauge read?
    hint: Jets follow the square law. A hose very nearly does. So what does their sum do?
    hint: Divide the new flow by the old one, square that, and multiply the gauge reading by it.
    solve: Flow ratio: {new_flow} / {flow} -> ratio
    solve: Squared: {ratio} × {ratio} -> factor
    solve: {gauge} × {factor} -> eased pressure
    solve: The hose falls slightly less fast than the square. In full it is {full}: the square law is close enough.
    """,
    skills=("square law, nearly",),
    draw=lambda rng: draw_line(rng) | {"times": rng.choice((0.45, 0.5, 0.6, 0.7))},
    given=_eased,
    reject=lambda p: not usual_line(p, 0.25),
    shown=_LINE | {"new_flow": "flow", "full": "pressure"},
    kind="pressure",
    tolerance=0.07,
    wrong={
        "linear instead of square": "{gauge} × {ratio}",
        "square root instead of square": "{gauge} × √{ratio}",
        "ratio upside down": "{gauge} / {factor}",
    },
)

LONGER_HOSE = numeric(
    "04-longer-hose",
    """
    More hose
    ask: The gauge reads {gauge}. {loss} of it is lost in the {bore} hose, which is {length} long. You add another
    {more} of the same hose. Flow and jets stay the same, and the bypass valve stays shut. What does the gauge read?
    hint: Which part of the gauge reading belongs to the hose? Only that part changes.
    hint: Calculate what the added hose loses by itself, and add it to the gauge reading.
    solve: The added hose: {loss} × {more} / {length} -> added pressure
    solve: The gauge: {gauge} + {added} -> after pressure
    whole gauge scaled: You scaled the whole gauge reading with the length. Only one part of it belongs to the hose.
    old hose counted twice: You added the loss of the whole new hose. Part of it is in the reading already.
    loss taken off: You let the longer hose lower the reading. The pump has more to push through: up or down?
    gauge left as it was: The jets need what they needed before, that is right. But the water has farther to go.
    """,
    skills=("pressures add", "hose loss goes with length"),
    draw=lambda rng: draw_line(rng) | {"more": feet(rng.choice((50, 75, 100, 150, 200)))},
    given=line_of,
    reject=_odd,
    shown=_LINE | {"more": "length"},
    kind="pressure",
    tolerance=0.02,
    wrong={
        "whole gauge scaled": "{gauge} × ({length} + {more}) / {length}",
        "old hose counted twice": "{gauge} + {loss} + {added}",
        "loss taken off": "{gauge} - {added}",
        "gauge left as it was": "{gauge}",
    },
)


def _no_jets(p):
    """What follows but for the jets' part, which is to be found."""
    return {name: value for name, value in line_of(p).items() if name != "jets"}


ONE_JET_MORE = numeric(
    "04-one-jet-more",
    """
    One more jet
    ask: The gauge reads {gauge}, and {loss} of it is lost in the hose. The nozzle has {count} equal holes, and you
    drill one more like them. The pump delivers the same flow. What does the gauge read?
    hint: Subtract the hose's part first. What is left is the jets' part.
    hint: The jets' part is proportional to 1 / area squared: old number of holes over new, squared. Then add the hose
    again.
    solve: The jets' part: {gauge} − {loss} -> jets pressure
    solve: Area ratio: {count} / ({count} + 1) -> ratio
    solve: The jets now: {jets} × {ratio} × {ratio} -> now pressure
    solve: The gauge: {now} + {loss} -> after pressure
    whole gauge scaled: You let the hose's part fall too. The flow is the same, so the hose loses the same.
    ratio upside down: You divided the wrong way round. Is it easier for the water with one more hole, or harder?
    """,
    skills=("jets inside the circuit", "square law"),
    draw=draw_line,
    given=_no_jets,
    reject=_odd,
    shown=_LINE,
    kind="pressure",
    wrong={
        "whole gauge scaled": "{gauge} × {ratio}²",
        "area instead of area squared": "{loss} + {jets} × {ratio}",
        "ratio upside down": "{loss} + {jets} / {ratio}²",
        "hose left out": "{now}",
    },
)

JET_POWER = numeric(
    "04-power-at-the-jets",
    """
    What arrives at the jets
    ask: A pump puts {power} into the water. The gauge reads {gauge}, and the hose loses {loss}. The line lies level,
    and no water returns to the tank. How much power leaves with the jets?
    hint: The same water flows through hose and jets. So power is shared out as pressure is.
    hint: What share of the gauge reading is left for the jets? Multiply the power by it.
    solve: Nozzle pressure: {gauge} − {loss} -> jets pressure
    solve: Share: {jets} / {gauge} -> share
    solve: {power} × {share} -> out power
    hose left out: That is what the pump puts in. Some of it turns into heat in the hose.
    what the hose takes: That is what the hose loses. What is left?
    square instead of linear: You squared the share. The same water flows through everything: power is shared like
    pressure.
    share upside down: You divided the wrong way round. Can more leave at the jets than the pump puts in?
    """,
    skills=("energy shares",),
    draw=draw_line,
    given=lambda p: {**_no_jets(p), "power": hydraulic_power(p["flow"], line_of(p)["gauge"])},
    reject=_odd,
    shown=_LINE | {"power": "power"},
    kind="power",
    tolerance=0.02,
    wrong={
        "hose left out": "{power}",
        "what the hose takes": "{power} - {out}",
        "square instead of linear": "{out} × {share}",
        "share upside down": "{power} / {share}",
    },
)

# --- choosing ---------------------------------------------------------------------------------------

_PLACES = ("hose", "jets", "lift")


def _parts(p):
    found = line_of(p)
    return {"hose": found["loss"], "jets": found["jets"], "lift": _head(p)}


def _biggest(p):
    return max(_PLACES, key=_parts(p).get)


def _silly_biggest(p):
    parts = sorted(_parts(p).values())
    return not psi(500) <= sum(parts) <= psi(4000) or parts[2] < 1.4 * parts[1]


BIGGEST_SHARE = choice(
    "04-biggest-share",
    """
    Where most of it goes
    ask: {flow} flows through {length} of {bore} hose, then through {count} drilled holes of {drill} ({jet_bore}) with
    slightly worn edges, {lift} above the pump. Where does most of the pressure go?
    option hose: Into the hose
    option jets: Into the jets
    option lift: Into the lift
    option even: About the same into each
    hint: The lift is quickly found: [0.433 psi per foot|0.098 bar per meter].
    hint: Calculate the hose as in lesson 03 and the jets as in lesson 02, or set both up in their consoles.
    solve: Hose {hose_part}, jets {jets_part}, lift {lift_part}. Most of it goes into the {most}.
    jets by habit: On most machines it is the jets. Here the hose is narrow for the flow: calculate both first.
    hose by its length: A long hose need not lose much if its bore suits the flow. Calculate both first.
    lift taken for much: Height looks hard, but a foot of it is less than half a psi. Calculate it.
    shared evenly: The parts of a line are not equal. One of the three is far larger here.
    """,
    skills=("where the pressure goes",),
    draw=lambda rng: draw_line(rng, SIZES[:4], (50, 100, 200, 300, 400)) | {"lift": feet(rng.randrange(20, 101, 10))},
    given=lambda p: {
        "bore": hose_bore(p["size"]),
        "most": _biggest(p),
        **{f"{name}_part": part for name, part in _parts(p).items()},
    },
    reject=_silly_biggest,
    shown={"flow": "flow", "length": "length", "bore": "bore", "lift": "length", "jet_bore": "jet_bore"}
    | {f"{name}_part": "pressure" for name in _PLACES},
    answer=_biggest,
    wrong={
        "jets by habit": lambda p: "jets" if _biggest(p) == "hose" else None,
        "hose by its length": lambda p: "hose" if _biggest(p) == "jets" else None,
        "lift taken for much": "lift",
        "shared evenly": "even",
    },
)

_RAISES = {"longer", "plugged", "higher"}

RAISES_GAUGE = choice(
    "04-raises-the-gauge",
    """
    What raises the gauge reading
    ask: The hose is {length} long. The engine speed stays the same and the bypass valve stays shut. Which of these
    raise the gauge reading?
    option longer: Adding {more} more hose
    option plugged: One of the {count} holes plugs
    option higher: The nozzle climbs {lift} up a stack
    option worn: The holes wear larger
    option wider: Changing to hose of the next larger bore
    hint: The flow stays the same. Ask of each: is it harder for that flow, or easier?
    hint: Harder: the reading rises. Three of them make it harder.
    solve: More hose, a plugged hole and a higher nozzle all make the same flow harder to push: the reading rises. Worn
    holes and a wider hose make it easier: the reading falls.
    ratio upside down: You have them the wrong way round. What makes it harder for the water raises the reading.
    lift forgotten: What you ticked is right. One more makes the pump push harder, if only slightly.
    longer hose taken to lower the gauge: What you ticked is right. But a longer hose lowers the nozzle pressure only
    when the gauge reading is held. Here the flow is held.
    worn taken as tight: One of them makes it easier for the water. Does a larger hole need more pressure?
    """,
    many=True,
    skills=("where the pressure goes",),
    draw=lambda rng: {
        "length": feet(rng.randrange(150, 351, 50)),
        "more": feet(rng.choice((50, 75, 100, 150))),
        "count": rng.randrange(4, 9),
        "lift": feet(rng.randrange(20, 101, 10)),
    },
    shown={"length": "length", "more": "length", "lift": "length"},
    answer=_RAISES,
    wrong={
        "ratio upside down": {"worn", "wider"},
        "lift forgotten": {"longer", "plugged"},
        "longer hose taken to lower the gauge": {"plugged", "higher"},
        "worn taken as tight": _RAISES | {"worn"},
    },
)


def _draw_order(rng):
    lengths = {f"length_{key}": feet(rng.randrange(100, 401, 50)) for key in "abcd"}
    bores = {f"bore_{key}": hose_bore(rng.choice(("3/8 in", "1/2 in"))) for key in "abcd"}
    flow = gpm(rng.randrange(8, 17) / 2.0)
    areas = [holes(count, bore_of(drill)) for count in range(3, 8) for drill in DRILLS]
    usual = rng.sample([area for area in areas if psi(700) <= jet_pressure(flow, area) <= psi(2500)], 4)
    return {"flow": flow, **lengths, **bores, **{f"holes_{key}": area for key, area in zip("abcd", usual, strict=True)}}


def _lines(p):
    lost = {f"lost_{key}": hose_loss(p["flow"], p[f"length_{key}"], p[f"bore_{key}"]) for key in "abcd"}
    needed = {f"jets_{key}": float(jet_pressure(p["flow"], p[f"holes_{key}"])) for key in "abcd"}
    guide = {"guide_length": feet(100), "guide_bore": hose_bore("1/2 in")}
    return lost | needed | guide | {"guide": hose_loss(p["flow"], feet(100), hose_bore("1/2 in"))}


ORDER_LINES = ranked(
    "04-order-lines",
    """
    Four lines on one pump
    ask: {flow} flows through each of these lines in turn. Put them in order, the lowest gauge reading first. A guide:
    at this flow {guide_length} of {guide_bore} hose loses {guide}.
    item: {length} of {bore} hose; the jets need {jets}
    hint: For each line, calculate what the hose loses and add what the jets need.
    hint: Start from the guide. Loss is proportional to length, and 3/8 in hose (9.7 mm) loses about four times as much
    as 1/2 in hose (12.9 mm).
    solve: Hose and jets together:
    ratio upside down: Your order is the wrong way round. The lowest reading comes first.
    hose left out: You ordered the lines by their jets alone. What do the hoses lose?
    jets left out: You ordered the lines by their hoses alone. The gauge reading includes the jets.
    ordered by length: You ordered the lines by length. The bore counts far more.
    """,
    skills=("pressures add", "fifth power of bore"),
    draw=_draw_order,
    given=_lines,
    by=lambda p, key: p[f"lost_{key}"] + p[f"jets_{key}"],
    kind="pressure",
    total=("{lost} + {jets}", "pressure"),
    item_kinds={"length": "length", "bore": "bore", "jets": "pressure", "lost": "pressure"},
    shown={"flow": "flow", "guide": "pressure", "guide_length": "length", "guide_bore": "bore"},
    apart=1.12,
    top=psi(4500),
    wrong={
        "ratio upside down": "reversed",
        "hose left out": lambda p, key: p[f"jets_{key}"],
        "jets left out": lambda p, key: p[f"lost_{key}"],
        "ordered by length": lambda p, key: p[f"length_{key}"],
    },
)

# --- a table ----------------------------------------------------------------------------------------

GAUGE_CARD = power_table(
    "04-gauge-card",
    """
    A card for the cab
    ask: With its own hose and nozzle a machine's gauge reads {gauge} at {flow}, with the bypass valve shut. Make a card
    of what the gauge should read at lower flows. Use the square law for the whole line.
    hint: What share of the full flow is each of the others?
    hint: Square that share, and multiply the full gauge reading by it.
    solve: The full reading, times the share of the flow squared:
    """,
    skills=("square law, nearly",),
    draw=draw_line,
    given=line_of,
    reject=_odd,
    shown={"flow": "flow", "gauge": "pressure"},
    columns=(("flow", "flow"), ("gauge reading", "pressure")),
    known=("flow", "gauge"),
    steps=(1.0, 0.85, 0.7, 0.45),  # of full flow, from full throttle to idle
    power=2,
    wrong={"linear instead of square": 1, "square root instead of square": 0.5, "ratio upside down": -2},
)

# --- words and safe working -------------------------------------------------------------------------

TERMS = name_it(
    "04-terms",
    """
    gauge reading | the pressure at the pump, before the hose | nozzle pressure
    nozzle pressure | the pressure just before the jets, after the hose | gauge reading
    pressure loss | pressure that turns into heat between pump and nozzle | lift
    lift | the height of the nozzle above the pump | pressure loss
    idle | the slowest steady speed of the engine | full throttle
    full throttle | the rated speed of the engine | idle
    fitting | a coupling, swivel or elbow in the line | nozzle
    nozzle | the head at the end of the line that holds the jets | fitting
    """,
)

SAFE_WAYS = safe_ways(
    "04-safe-gauge",
    """
    You write down the gauge reading at idle, half and full throttle. Which of these ways are safe?
    safe pipe: Put the nozzle well into the pipe before the engine starts, and keep it there
    safe second: A second person stands at the throttle and the shut-off valve
    safe rise: Open the throttle slowly and watch the gauge; stop if it nears the setting early
    safe clear: Keep everybody away from the opening and the hose while you read
    unsafe ground: Lay the nozzle on the ground and open the throttle | The thrust throws a free nozzle around
    unsafe hand: Hold the nozzle in your hand at half throttle | It can tear free, and its jets inject through skin
    unsafe valve: Tighten the bypass valve until the reading is right | The setting protects pump, hose and you
    unsafe coupling: Undo the coupling at the gauge to bleed it while running | It comes off under full pressure
    """,
)

EXERCISES = (
    ADD_UP, BEHIND_THE_JETS, LIFT, EASED_THROTTLE, BIGGEST_SHARE, LONGER_HOSE, ONE_JET_MORE, RAISES_GAUGE, ORDER_LINES,
    GAUGE_CARD, JET_POWER, TERMS, SAFE_WAYS,
)  # fmt: skip

# --- predictions ------------------------------------------------------------------------------------


def _said_full(words):
    """A question with the trailer's gauge reading at full throttle put in, worked out when it is asked."""

    def question(parameters, show):
        pump = machine("trailer").pump
        speeds = {"rated": show(pump.rated_speed, "speed"), "idle": show(pump.idle_speed, "speed")}
        return words.format(full=show(point("trailer").gauge, "pressure"), **speeds)

    return question


IDLE_GAUGE = PredictedNumber(
    id="04-idle-gauge",
    title="The gauge at idle",
    ask=_said_full(
        "At full throttle the yard trailer's pump turns at {rated} and the gauge reads {full}. The throttle is pulled "
        "back to idle, {idle}. What does the gauge read?"
    ),
    kind="pressure",
    answer=lambda p: point("trailer", 0.0).gauge,
    because="Idle is 43 % of the rated speed, so it is 43 % of the flow. Jets and hose follow the square, or nearly: "
    "0.43 × 0.43 = 0.185. That is why a machine in good condition looks so weak at idle.",
)

_GROWS = {"same": 1.0, "little": 1.07, "half": 1.5, "double": 2.0}


def _twice_the_hose(p):
    """The option nearest to how many times the gauge reading grows, at half throttle, with twice the hose."""
    first, *others = machine("trailer").hoses
    longer = machine("trailer").replace(hoses=(first.replace(length=2.0 * first.length), *others))
    grows = operating_point(longer, 0.5).gauge / point("trailer", 0.5).gauge
    return min(_GROWS, key=lambda key: abs(_GROWS[key] - grows))


TWICE_THE_HOSE = PredictedChoice(
    id="04-twice-the-hose",
    title="Twice the hose",
    ask="The yard trailer runs at half throttle with {length} of {bore} hose. Now the hose is made twice as long, with "
    "the same nozzle. What does the gauge reading do?",
    parameters={"length": feet(250), "bore": hose_bore("1/2 in")},
    shown={"length": "length", "bore": "bore"},
    options=(
        ("same", "It stays where it was"),
        ("little", "It rises, but by less than 10 %"),
        ("half", "It rises by about half"),
        ("double", "It doubles"),
    ),
    answer=_twice_the_hose,
    because="Only the hose's part doubles, and on this machine that is a small part. Most of the reading belongs to "
    "the jets, and they get the same flow as before.",
)

GAUGE_CURVE = PredictedCurve(
    id="04-gauge-curve",
    title="The gauge reading against the throttle",
    ask=_said_full(
        "The same trailer, from idle to full throttle, where its gauge reads {full}. Sketch the gauge reading."
    ),
    x=("throttle", "fraction"),
    y=("gauge reading", "pressure"),
    xs=(0.0, 0.25, 0.5, 0.75, 1.0),
    top=psi(3500),
    answer=lambda p, x: operating_point(machine("trailer"), x).gauge,
    because="It does not start from zero, because the engine idles. And each step of the throttle adds more than the "
    "one before, because the pressure follows the square of the flow.",
)

PREDICTIONS = (IDLE_GAUGE, TWICE_THE_HOSE, GAUGE_CURVE)
