"""Practice and predictions of lesson 11: a whole job planned, and the plan questioned."""

import math

from jetlib.course.banks.amounts import DENSITY, feet, gallons
from jetlib.course.banks.yard import (
    DASHES,
    TANKS,
    WEIGHT,
    draw_machine,
    feet_per_second,
    full_mass,
    inches,
    likely_surge,
    pumped_and_back,
    readings,
    rig_of,
)
from jetlib.course.banks.yard_job import BRAIDS, LEADERS, banded_numbers, yard_plan
from jetlib.course.exercises import Mistake, Ordering, PredictedChoice, PredictedNumber
from jetlib.course.exercises.shapes import choice, numeric, predicted, table
from jetlib.course.exercises.terms import name_it, safe_ways
from jetlib.course.exercises.worked import worked
from jetlib.physics.reaction import jet_reaction
from jetlib.rig.parts.rig_file import demo_rig
from jetlib.rig.point.circuit import GRAVITY
from jetlib.rig.point.operating_point import operating_point
from jetlib.rig.uncertainty.unknowns import Unknowns
from jetlib.units import si


def _minutes(number):
    return 60.0 * number


# --- pressure ---------------------------------------------------------------------------------------


def _draw_budget(rng):
    return draw_machine(rng, ("yard_trailer", "yard_small_bore"), (0.6, 0.7, 0.8, 0.9, 1.0)) | {
        "leader": rng.choice(("light", "thin")),
        "length_2": feet(rng.choice((25, 50, 75, 150, 175, 200))),
        "each": feet(100),
    }


def _two_hoses(p):
    reel = rig_of(p).hoses[0]
    leader = LEADERS[p["leader"]].replace(length=p["length_2"])
    point = operating_point(rig_of(p).replace(hoses=[reel, leader]), p["throttle"])
    first, second = (float(loss) for loss in point.hose_losses)
    per = {"per_1": first * p["each"] / float(reel.length), "per_2": second * p["each"] / p["length_2"]}
    return per | {"gauge": float(point.gauge), "length_1": p["hose"]}


def _lost(p, swap=False):
    per = (p["per_2"], p["per_1"]) if swap else (p["per_1"], p["per_2"])
    return tuple(loss * p[f"length_{at}"] / p["each"] for at, loss in enumerate(per, start=1))


def _budget_rows(p):
    first, second = _lost(p)
    return (
        ("pump", 0.0, p["gauge"]),
        ("reel hose", first, p["gauge"] - first),
        ("leader hose", second, p["gauge"] - first - second),
    )


_BUDGET_KINDS = {"gauge": "pressure", "length_1": "length", "per_1": "pressure", "length_2": "length"}
_BUDGET_KINDS |= {"per_2": "pressure", "each": "length"}

BUDGET = table(
    "11-pressure-budget",
    """
    From the gauge to the nozzle
    ask: A plan for the {called} sends one flow through two hoses. The gauge will read {gauge}. The reel hose is
        {length_1} long and loses {per_1} in each {each}. The leader hose is {length_2} long and loses {per_2} in each
        {each}. Fill in the table.
    hint: Divide the length of each hose by {each}. Multiply its loss by that.
    hint: All the water goes through both. Subtract both losses from the gauge reading.
    each hose taken as 100 ft: You used the loss of {each} for each hose. How long are they?
    losses swapped: You swapped the two hoses: each has its own length and its own loss.
    """,
    columns=(("part", None), ("lost in it", "pressure"), ("left after it", "pressure")),
    rows=_budget_rows,
    blanks=((1, 1), (2, 1), (2, 2)),
    solution=worked(
        _BUDGET_KINDS,
        lambda p: [
            ("Reel hose: {per_1} × {length_1} / {each}", "loss_1", "pressure", _lost(p)[0]),
            ("Leader hose: {per_2} × {length_2} / {each}", "loss_2", "pressure", _lost(p)[1]),
            ("Left at the nozzle: {gauge} − {loss_1} − {loss_2}", "left", "pressure", p["gauge"] - sum(_lost(p))),
        ],
    ),
    wrong={
        "each hose taken as 100 ft": lambda p: (p["per_1"], p["per_2"], p["gauge"] - p["per_1"] - p["per_2"]),
        "only the last hose": lambda p: (None, None, p["gauge"] - _lost(p)[1]),
        "only the first hose": lambda p: (None, None, p["gauge"] - _lost(p)[0]),
        "losses swapped": lambda p: (*_lost(p, swap=True), p["gauge"] - sum(_lost(p, swap=True))),
    },
    tolerance=0.01,
    skills=("whole circuit", "job plan"),
    draw=_draw_budget,
    given=_two_hoses,
    reject=lambda p: sum(_lost(p)) > 0.6 * p["gauge"] or sum(_lost(p, swap=True)) > 0.9 * p["gauge"],
    shown=_BUDGET_KINDS,
)

# --- pull and reach ---------------------------------------------------------------------------------


def _draw_chain(rng):
    machine = draw_machine(rng, throttles=(0.8, 0.9, 1.0))
    return machine | {
        "dash": rng.choice(DASHES[machine["rig"]]),
        "angle": math.radians(rng.choice((30, 35, 40))),
        "friction": rng.choice((0.35, 0.4, 0.45, 0.5)),
    }


def _gauge_and_loss(p):
    found = readings(p, "gauge", "nozzle_pressure", "nozzle_flow")
    lost = found["gauge"] - found["nozzle_pressure"]
    return {"gauge": found["gauge"], "lost": lost, "flow": found["nozzle_flow"], "mass": full_mass(p["dash"])}


def _chain_reach(p):
    pull = jet_reaction(p["flow"], p["gauge"] - p["lost"], density=DENSITY, angle=p["angle"])
    return float(pull) / (p["friction"] * p["mass"] * GRAVITY)


CHAIN = numeric(
    "11-gauge-to-reach",
    f"""
    From the gauge to the reach
    ask: The gauge on the {{called}} reads {{gauge}}, and the hose loses {{lost}} of that. {{flow}} leaves the nozzle
        through rear jets at {{angle}} to the hose. The -{{dash}} hose weighs {{mass}} full of water, friction is
        {{friction}}, the pipe level and straight. How far do the jets pull the hose? Ignore losses in the jets.
    hint: Three steps: the nozzle pressure, the pull it gives, and the drag of each foot or meter of hose.
    hint: Pull: 0.0526 × gpm × √psi in lbf, or 0.236 × L/min × √bar in N, times the cosine. Divide it by friction ×
        weight of each foot or meter. 1 kg weighs 9.81 N.
    solve: Nozzle pressure: {{gauge}} − {{lost}} -> nozzle pressure
    solve: Pull: [0.0526|0.236] × {{flow}} × √({{nozzle}}) × cos({{angle}}) -> pull force
    solve: Drag of each [foot|meter], in [lbf|N]: {{friction}} × {{mass}} × {WEIGHT} -> drag
    solve: Pull divided by drag: {{pull}} / {{drag}} -> reach length
    angle left out: You let the jets point straight back. They are at an angle, and only a part of their force is along
        the hose.
    friction left out: You made the jets carry the whole weight. The pipe carries it; only a share must be pulled.
    root left out of the pull: You let the pull follow the flow alone. It is also proportional to the square root of the
        nozzle pressure.
    """,
    kind="length",
    answer=_chain_reach,
    wrong={
        "gauge taken as nozzle pressure": lambda p: _chain_reach({**p, "lost": 0.0}),
        "angle left out": lambda p: _chain_reach({**p, "angle": 0.0}),
        "friction left out": lambda p: _chain_reach({**p, "friction": 1.0}),
        "root left out of the pull": lambda p: _chain_reach(p) * math.sqrt(p["lost"] / (p["gauge"] - p["lost"])),
    },
    tolerance=0.015,
    skills=("whole circuit", "reach", "job plan"),
    draw=_draw_chain,
    given=_gauge_and_loss,
    reject=lambda p: not feet(10) <= _chain_reach(p) <= feet(500),
    shown={"gauge": "pressure", "lost": "pressure", "flow": "flow", "angle": "angle", "mass": "mass_per_length"},
)


def _draw_safe(rng):
    return draw_machine(rng, ("yard_small_bore", "yard_trailer", "yard_truck"), (0.8, 0.9, 1.0)) | {
        "dash": rng.choice((6, 8, 10)),
        "friction": rng.choice((0.35, 0.4)),
        "worst": rng.choice((0.5, 0.55, 0.6)),
        "heavier": rng.choice((1.2, 1.3, 1.4, 1.5)),
    }


def _planned_reach(p):
    mass = full_mass(p["dash"])
    reach = readings(p, "reaction")["reaction"] / (p["friction"] * mass * GRAVITY)
    return {"reach": reach, "mass": mass, "weighed": p["heavier"] * mass}


SAFE_REACH = numeric(
    "11-safe-reach",
    """
    The reach on the safe side
    ask: A plan for the {called} says {reach} of reach in a level, straight pipe. It assumed a friction of {friction},
        and a hose that weighs {mass} full of water. You put the hose on a scale: {weighed}, full. And the friction can
        be as high as {worst}. What reach can you count on?
    hint: Reach is pull divided by drag, and drag is friction times weight. The pull has not changed.
    hint: Both make the drag larger. Multiply the reach by planned friction / worst friction, and by planned weight /
        measured weight.
    solve: {reach} × {friction} / {worst} × {mass} / {weighed} -> sure length
    friction alone: You allowed for the friction. What did the scale say?
    weight alone: You allowed for the weight. What about the friction?
    ratio upside down: Both ratios are the wrong way round. Does a heavier hose on a rougher wall go farther?
    one ratio upside down: One of the two ratios is the wrong way round. A heavier hose goes less far, and more friction
        also shortens the reach.
    """,
    kind="length",
    wrong={
        "friction alone": "{reach} × {friction} / {worst}",
        "weight alone": "{reach} × {mass} / {weighed}",
        "ratio upside down": "{reach} × {worst} / {friction} × {weighed} / {mass}",
        "one ratio upside down": "{reach} × {friction} / {worst} × {weighed} / {mass}",
    },
    skills=("reach", "how sure is it"),
    draw=_draw_safe,
    given=_planned_reach,
    shown={"reach": "length", "mass": "mass_per_length", "weighed": "mass_per_length"},
)

# --- water ------------------------------------------------------------------------------------------


def _draw_job_water(rng):
    return draw_machine(rng, throttles=(0.9, 1.0)) | {
        "jets": rng.choice((0.6, 0.7, 0.8)),
        "run": feet(rng.randrange(75, 251, 25)),
        "in_speed": feet_per_second(rng.choice((0.6, 0.7, 0.8, 1.0))),
        "back_speed": feet_per_second(rng.choice((0.2, 0.25, 0.3, 0.35))),
        "passes": rng.choice((2, 3)),
    }


def _job_water(p):
    time = p["passes"] * p["run"] * (1.0 / p["in_speed"] + 1.0 / p["back_speed"])
    return (p["pumped"] - p["back"]) * time


JOB_WATER = numeric(
    "11-job-water",
    """
    Water for the whole job
    ask: The jets of the {called} are one size too small. Its pump delivers {pumped}, of which {back} returns to the
        tank. The nozzle goes through {run} of pipe {passes} times, in at {in_speed} and back at {back_speed}, with the
        jets on all the time. How much water leaves the nozzle?
    hint: Calculate the time first: length / speed, once for each way. Then multiply by the number of passes.
    hint: Convert seconds to minutes, and multiply by the flow that leaves the nozzle.
    solve: Once in: {run} / {in_speed} -> into time
    solve: Once back: {run} / {back_speed} -> out time
    solve: All passes: {passes} × ({into} + {out}) -> time time
    solve: Out of the nozzle: {pumped} − {back} -> flow flow
    solve: Water: {flow} × {time} / 60 -> water volume
    bypass left out: You counted all that the pump delivers. What returns is in the tank again.
    ways back only: That is enough for the ways back. The jets run on the way in too: they pull the hose.
    one pass only: That is enough for once in and once back. How often does the nozzle go through?
    speeds averaged: You used one average speed for both ways. The slow way takes longer, so it counts for more:
        calculate each time, then add.
    """,
    kind="volume",
    wrong={
        "bypass left out": lambda p: _job_water({**p, "back": 0.0}),
        "ways back only": "{flow} × {passes} × {out} / 60",
        "one pass only": "{flow} × ({into} + {out}) / 60",
        "speeds averaged": "{flow} × {passes} × 4 × {run} / ({in_speed} + {back_speed}) / 60",
    },
    answer=_job_water,
    skills=("tank time", "job plan"),
    draw=_draw_job_water,
    given=pumped_and_back,
    reject=lambda p: p["back"] < 0.1 * p["pumped"],
    shown={"pumped": "flow", "back": "flow", "run": "length", "in_speed": "velocity", "back_speed": "velocity"},
)


def _draw_filling(rng):
    machine = draw_machine(rng, throttles=(0.8, 0.9, 1.0))
    return machine | {
        "volume": gallons(rng.choice(TANKS[machine["rig"]])),
        "usable": rng.choice((0.8, 0.85, 0.9)),
        "work": _minutes(rng.randrange(15, 41, 5)),
    }


FILLING = numeric(
    "11-filling-hose",
    """
    What the filling hose must deliver
    ask: A plan for the {called} needs {flow} out of the nozzle for {work}. The tank holds {volume}, of which {usable}
        can be used. How much must the filling hose deliver, at least, so that the tank lasts?
    hint: Spread the usable water over the time: how much does the tank give each minute?
    hint: Flow out of the nozzle minus what the tank gives each minute.
    solve: Usable: {volume} × {share} -> water volume
    solve: For each minute: {water} / {work} -> tank flow
    solve: The filling hose: {flow} − {tank} -> fill flow
    solve: More is safer: have some in hand.
    tank left out: You let the filling hose deliver all of it. The tank is full at the start. What does that save?
    whole tank used: You used the tank to the last drop. The pump draws air before that.
    the tank's share alone: That is what the tank gives each minute. How much is still missing?
    tank added: You added the tank's water. Does a full tank make the filling hose work harder?
    """,
    kind="flow",
    wrong={
        "tank left out": "{flow}",
        "whole tank used": "{flow} − {volume} / {work}",
        "the tank's share alone": "{tank}",
        "tank added": "{flow} + {tank}",
    },
    skills=("tank time", "job plan"),
    draw=_draw_filling,
    given=lambda p: {"flow": readings(p, "nozzle_flow")["nozzle_flow"], "share": p["usable"]},
    reject=lambda p: not 0.25 <= 1.0 - p["share"] * p["volume"] / p["work"] / p["flow"] <= 0.75,
    shown={"volume": "volume", "usable": "fraction", "flow": "flow", "work": "duration"},
)

# --- go or no-go ------------------------------------------------------------------------------------


def _draw_stops(rng):
    bore = rng.choice((3, 4, 6))
    return draw_machine(rng, throttles=(1.0,)) | {
        "strength": rng.choice(
            (0.95, 1.03, 1.03, 1.5)
        ),  # of the setting: too weak, too weak with rise and surge, ample
        "bore": inches(bore),
        "stiff": inches(bore * rng.choice((0.75, 0.875, 1.25, 1.75))),
        "rear": rng.choice((3, 4, 5)),
        "angle": math.radians(rng.choice((20, 30, 60, 70))),
        "front": rng.choice((1, 2)),
        "tank": _minutes(rng.randrange(8, 30)),
        "work": _minutes(rng.randrange(10, 34)),
        "reach": feet(rng.randrange(50, 151, 25)),
        "run": feet(rng.randrange(75, 176, 25)),
    }


def _line(p):
    unloader = rig_of(p).unloader
    setting, rise, surge = float(unloader.setting), float(unloader.rise), likely_surge(p)
    rated = p["strength"] * (setting if p["strength"] < 1.1 else setting * (1.0 + rise) + surge)
    return {"setting": setting, "rise": rise, "up": 1.0 + rise, "surge": surge, "rated": rated}


def _highest(p):
    return p["setting"] * p["up"] + p["surge"]


def _pull_in_holes(p):
    return p["rear"] * math.cos(p["angle"]) - p["front"]


def _stops(p):
    found = {
        "hose": p["rated"] < _highest(p),
        "nozzle": p["stiff"] <= p["bore"],
        "jets": _pull_in_holes(p) <= 0.0,
    }
    return [name for name, true in found.items() if true]


def _warned(p):
    return [name for name, true in {"tank": p["tank"] < p["work"], "reach": p["reach"] < p["run"]}.items() if true]


def _without(p, name):
    rest = [each for each in _stops(p) if each != name]
    return rest if rest and name in _stops(p) else None


def _stops_silly(p):
    near = abs(_pull_in_holes(p)) < 0.25 or abs(p["tank"] / p["work"] - 1) < 0.1 or abs(p["reach"] / p["run"] - 1) < 0.1
    return near or not _stops(p) or not _warned(p)


def _nozzle_verdict(p):
    if p["stiff"] <= p["bore"]:
        return "NO GO: it can turn round."
    return "Caution: up to 1.5 bores there is little margin." if p["stiff"] <= 1.5 * p["bore"] else "Long enough."


_STOPS_KINDS = {
    "setting": "pressure", "rise": "fraction", "surge": "pressure", "rated": "pressure", "bore": "pipe_bore",
    "stiff": "pipe_bore", "angle": "angle", "tank": "duration", "work": "duration", "reach": "length", "run": "length",
}  # fmt: skip

STOPS = choice(
    "11-what-stops-it",
    """
    What must stop the job?
    ask: You read the plan for the {called} before you start. Which of these are a NO GO: people can be hurt, so you do
        not start until it is put right?
    hint: Three of them can hurt people: a hose above its working pressure, a nozzle that turns round, jets that push it
        out. But do they, with these numbers?
    hint: Work out each of the three. Setting, rise and surge together; rigid length against bore; holes × cosine
        against holes.
    option hose: The hose is rated for {rated}. The bypass valve is set to {setting}, its rise is {rise}, and a surge
        adds {surge}
    option nozzle: The pipe has a bore of {bore}. The rigid nozzle length is {stiff}
    option jets: The nozzle has {rear} rear holes at {angle} and {front} straight in front, all drilled with one drill
    option tank: The tank lasts {tank}, and the work takes {work}
    option reach: On paper the jets pull the nozzle {reach} of {run}
    cautions ticked too: What spoils the work is not the same as what hurts people. Which of them would only cost time?
    only what falls short: Those are too short for the work. Look for what could hit people.
    hose held against the setting: You compared the hose with the setting. If the nozzle plugs, the gauge reading rises
        above it, and a surge adds to that.
    holes counted: You counted holes against holes. A rear hole at a wide angle pulls far less than a front hole pushes.
    short nozzle let pass: Hold the nozzle across the pipe in your mind. Can it turn round and come back?
    """,
    many=True,
    answer=_stops,
    cautious=lambda p: ["nozzle"] if p["bore"] < p["stiff"] <= 1.5 * p["bore"] else [],
    wrong={
        "cautions ticked too": lambda p: [*_stops(p), *_warned(p)],
        "only what falls short": _warned,
        "hose held against the setting": lambda p: _without(p, "hose") if p["rated"] >= p["setting"] else None,
        "holes counted": lambda p: _without(p, "jets") if p["rear"] > p["front"] else None,
        "short nozzle let pass": lambda p: _without(p, "nozzle"),
    },
    solution=worked(
        _STOPS_KINDS,
        ("Highest pressure in the line: {setting} × {up} + {surge}", "highest", "pressure"),
        lambda p: [f"The hose is rated for {{rated}}: {'NO GO.' if 'hose' in _stops(p) else 'enough.'}"],
        ("Rigid nozzle length, in bores: {stiff} / {bore}", "bores", None),
        lambda p: [_nozzle_verdict(p)],
        ("Jets, in holes: {rear} × cos({angle}) − {front}", "net", None),
        lambda p: ["NO GO: the nozzle comes out." if "jets" in _stops(p) else "The nozzle pulls in."],
        "A tank or a reach that is too short only spoils the work: settle it before you start.",
    ),
    skills=("cautions", "job plan"),
    draw=_draw_stops,
    given=_line,
    reject=_stops_silly,
    shown=_STOPS_KINDS,
)

# --- in what order ----------------------------------------------------------------------------------

_STEPS = {
    "ask": "Ask what goes into the drain and what was poured down it",
    "guard": "Set up barriers and signs; put on eye protection, hearing protection, gloves and boots",
    "tank": "Fill the tank through an air gap or a backflow preventer",
    "mark": "Mark the hose: nozzle still in the pipe, and end of the run",
    "in": "Put the nozzle and some hose into the pipe",
    "idle": "Start the pump at idle, and compare the gauge reading with the plan",
    "full": "Open the throttle, and compare the gauge reading with the plan again",
    "let-in": "Feed the hose in as it pulls, and keep the nozzle moving",
    "back": "Pull the hose back slowly, to the first mark",
    "stop": "Stop the pump and relieve the pressure",
    "out": "Take the nozzle out of the pipe",
    "look": "Run water, and look at the pipe with a camera",
}


def _draw_order(rng):
    kept = {rng.choice(("ask", "guard", "tank", "mark")), "in", "idle", "stop", "out"}
    kept |= set(rng.sample(("full", "let-in", "back", "look"), 2))
    return {"steps": tuple(name for name in _STEPS if name in kept)}


def _swapped(first, second):
    swap = {first: second, second: first}
    return lambda p: tuple(swap.get(name, name) for name in p["steps"])


ORDER = Ordering(
    id="11-order-of-work",
    title="In what order?",
    skills=("cautions", "job plan"),
    draw=_draw_order,
    ask="Put these steps of a job in order, the first one first.",
    options=lambda p: tuple((name, _STEPS[name]) for name in p["steps"]),
    answer=lambda p: p["steps"],
    mistakes=(
        Mistake(
            "pump started in the open",
            "You started the pump with the nozzle outside the pipe. A nozzle in the open whips, and cuts anybody near "
            "it.",
            _swapped("in", "idle"),
        ),
        Mistake(
            "nozzle brought out running",
            "You took the nozzle out with the pump running. Stop it, and relieve the pressure, while the nozzle is "
            "still in the pipe.",
            _swapped("stop", "out"),
        ),
        Mistake(
            "preparation left for later",
            "You put the first step last. What has to be done before anything is started?",
            lambda p: (*p["steps"][1:], p["steps"][0]),
        ),
        Mistake(
            "ratio upside down",
            "Your order is the wrong way round: the first step is first.",
            lambda p: p["steps"][::-1],
        ),
    ),
    hints=(
        "When can the pump run? Only while the nozzle is inside the pipe. Sort those steps first.",
        "Asking, guarding, filling and marking are before. Looking at the result is after.",
    ),
    solution=lambda p, show: (
        "The nozzle is in the pipe before the pump starts, and until it has stopped and the pressure is relieved:\n\n"
        + "\n".join(f"{number}. {_STEPS[name]}" for number, name in enumerate(p["steps"], start=1))
    ),
)

# --- how sure ---------------------------------------------------------------------------------------

_NUMBERS = {
    "gauge": ("The gauge reading", "pressure"),
    "flow": ("The flow at the nozzle", "flow"),
    "reach": ("How far the nozzle gets", "length"),
    "time": ("How long the tank lasts", "duration"),
}
_ENDS = tuple(f"{name}{end}" for name in _NUMBERS for end in ("", "_low", "_high"))


def _draw_sure(rng):
    widths = rng.sample(((0.03, 0.05), (0.12, 0.06), (0.08, 0.25), (0.3, 0.15)), 4)
    return draw_machine(rng) | {
        "reach": feet(rng.randrange(75, 200, 25)),
        "time": _minutes(rng.randrange(10, 41, 5)),
        **{f"{name}_{end}": width for name, both in zip(_NUMBERS, widths, strict=True)
           for end, width in zip(("down", "up"), both, strict=True)},
    }  # fmt: skip


def _sure_bands(p):
    found = readings(p, "gauge", "nozzle_flow")
    values = {"gauge": found["gauge"], "flow": found["nozzle_flow"], "reach": p["reach"], "time": p["time"]}
    ends = {f"{name}_low": value * (1.0 - p[f"{name}_down"]) for name, value in values.items()}
    return values | ends | {f"{name}_high": value * (1.0 + p[f"{name}_up"]) for name, value in values.items()}


def _width(p, name):
    return (p[f"{name}_high"] - p[f"{name}_low"]) / p[name]


def _by_width(p):
    return sorted(_NUMBERS, key=lambda name: _width(p, name))


_SURE_KINDS = {end: kind for name, (_, kind) in _NUMBERS.items() for end in (name, f"{name}_low", f"{name}_high")}

LEAST_SURE = choice(
    "11-least-sure",
    """
    Which number is least sure?
    ask: A plan for the {called} gives four numbers with their bands. Which of them is least sure, for its size?
    hint: Subtract the lower end from the upper end. Then ask: how much of the number itself is that?
    hint: Divide the width of each band by its number. The largest share is the least sure.
    largest figures: Its band has the largest figures, but it is a large number too. Compare each band with the number
        itself.
    surest for least sure: That one is the surest of the four.
    upper end alone: You looked only at the upper end. A band has two ends.
    """,
    options=tuple(
        (name, f"{words}: {{{name}}}, in 80 % of cases from {{{name}_low}} to {{{name}_high}}")
        for name, (words, _) in _NUMBERS.items()
    ),
    answer=lambda p: _by_width(p)[-1],
    wrong={
        "largest figures": lambda p: "gauge" if _by_width(p)[-1] != "gauge" else None,
        "surest for least sure": lambda p: _by_width(p)[0],
        "upper end alone": lambda p: max(_NUMBERS, key=lambda name: p[f"{name}_high"] / p[name]),
    },
    solution=worked(
        _SURE_KINDS,
        "Width of the band divided by the number:\n",
        lambda p: [
            (f"{_NUMBERS[name][0]}: ({{{name}_high}} − {{{name}_low}}) / {{{name}}}", f"width_{name}", None)
            for name in reversed(_by_width(p))
        ],
        lambda p: [f"\nLeast sure is the widest for its size. {_NUMBERS[_by_width(p)[-1]][0]}: "
                   f"{{{_by_width(p)[-1]}}}, in 80 % of cases from {{{_by_width(p)[-1]}_low}} to "
                   f"{{{_by_width(p)[-1]}_high}}."],
    ),
    skills=("how sure is it",),
    draw=_draw_sure,
    given=_sure_bands,
    shown=_SURE_KINDS,
)  # fmt: skip

# --- words and safe working -------------------------------------------------------------------------

TERMS = name_it(
    "11-terms",
    """
    cleanout | the opening through which nozzle and hose get into the drain | backflow preventer
    backflow preventer | the fitting that keeps tank water out of the drinking water | cleanout
    deadhead | to run the pump against an outlet that is shut or plugged | dump valve
    dump valve | a control that relieves the pressure as soon as you let go of it | deadhead
    setting | the pressure at which the bypass valve opens | rise
    rise | how far the gauge reading rises when all the water goes through the bypass valve | setting
    surge | the short peak of pressure when moving water is stopped at once | rise
    job card | the sheet with the planned numbers and cautions that goes to the site | setting
    """,
)

SAFE_JOB = safe_ways(
    "11-safe-job",
    """
    You set up on site. Which of these ways of working are safe?
    safe pipe: Find out what the pipe is made of and stay below the pressure limit of that pipe
    safe fixtures: Have toilets and floor drains in the building shut or covered, since water can blow back
    safe wound: Carry a card that tells the hospital: high-pressure injection wound, dirty water, surgeon at once
    safe second: Work with a second person at the machine who watches you and can stop it
    unsafe alone: Start alone, because the second person is late | Nobody can stop the machine while you are at the
        opening
    unsafe tap: Push the filling hose down into the tank and leave it there | Dirty water can be drawn back into the
        drinking water. Leave an air gap or use a backflow preventer
    unsafe still: Leave the nozzle running in one place until the stoppage gives | Jets that stand still cut into the
        pipe. Keep the nozzle moving
    unsafe chamber: Climb into the chamber to guide the hose | A chamber can hold gas or too little air, and the nozzle
        can come out there. Entry needs a permit, a gas test and a rescue team
    """,
)

EXERCISES = (BUDGET, CHAIN, STOPS, JOB_WATER, LEAST_SURE, SAFE_REACH, ORDER, FILLING, TERMS, SAFE_JOB)

# --- predictions ------------------------------------------------------------------------------------

_STIFF = si("6 in", "pipe_bore")  # 1.5 times the bore of the drain


def _steel(**changes):
    """The plan for the trailer when its own hose has been weighed: two braids of steel."""
    return yard_plan(stiff=_STIFF, braid=next(iter(BRAIDS)), **changes)


HOW_FAR = predicted(
    PredictedNumber,
    "11-how-far",
    """
    How far does it get?
    ask: The trailer has {hose} of half-inch (12.7 mm) hose with two braids of steel. The drain is {run} long, with one
        bend of 45°, and the nozzle goes up a fall of {fall}. Full throttle, nobody pushes. How far do the jets pull the
        nozzle?
    """,
    parameters={"run": feet(100), "hose": demo_rig("yard_trailer").hoses[0].length, "fall": 0.02},
    shown={"run": "length", "hose": "length", "fall": "slope"},
    kind="length",
    answer=lambda p: _steel().reach.distance,
    because=lambda p, show: (
        f"There is enough hose, and yet the nozzle stops at {show(_steel().reach.distance, 'length')}. Steel braid "
        "full of water is heavy, and the bend multiplies its drag. The length of hose on the reel says nothing about "
        "how far the jets pull it."
    ),
)


def _with_leader(p):
    before, after = _steel(), _steel(leader="light")
    pull = "more" if after.point.reaction > before.point.reaction else "less"
    return f"{pull}-{'farther' if after.reach.pull_distance > before.reach.pull_distance else 'shorter'}"


def _leader_reason(p, show):
    before, after = _steel(), _steel(leader="light")
    end = ", the end of the run," if after.reach.distance >= after.job.drain.length else ""
    return (
        f"The leader hose loses pressure, so the pull falls from {show(before.point.reaction, 'force')} to "
        f"{show(after.point.reaction, 'force')}. But the hose in the pipe is now so light that the nozzle gets "
        f"{show(after.reach.distance, 'length')}{end} instead of {show(before.reach.distance, 'length')}. A plan "
        "compares the two."
    )


LEADER = predicted(
    PredictedChoice,
    "11-light-leader",
    """
    A light leader hose
    ask: Between reel hose and nozzle you put {leader} of light three-eighths (9.5 mm) hose. What does the plan say
        then?
    option more-farther: The jets pull harder, and the nozzle gets farther
    option less-farther: The jets pull less, and the nozzle gets farther
    option less-shorter: The jets pull less, and the nozzle gets less far
    option more-shorter: The jets pull harder, and the nozzle gets less far
    """,
    parameters={"leader": feet(100)},
    shown={"leader": "length"},
    answer=_with_leader,
    because=_leader_reason,
)


def _widest(p):
    offered = ("gauge", "nozzle_flow", "reach", "tank_time", "shear")
    return next(each.name for each in banded_numbers(yard_plan(stiff=_STIFF)) if each.name in offered)


WIDEST = predicted(
    PredictedChoice,
    "11-widest-band",
    """
    The least sure number
    ask: The trailer has never been measured; the plan knows only what is written on it. Which number of the plan is
        least sure, for its size?
    option gauge: What the gauge will read
    option nozzle_flow: The flow at the nozzle
    option reach: How far the nozzle gets
    option tank_time: How long the tank lasts
    option shear: How hard the water drags in the pipe
    because: The pump fixes the flow, the bypass valve limits the pressure, and the tank time depends on the flow. How
        far the nozzle gets depends on the weight of the hose and on its friction, and neither has been measured.
    """,
    answer=_widest,
)

_CHECKS = {
    "jets": {"unknowns": Unknowns().settle("discharge_coefficient", "jet_bore")},
    "bucket": {"unknowns": Unknowns().settle("pump_flow")},
    "weigh": {"braid": next(iter(BRAIDS))},
}


def _reach_width(changes):
    return next(each.width for each in banded_numbers(yard_plan(stiff=_STIFF, **changes)) if each.name == "reach")


BEST_CHECK = predicted(
    PredictedChoice,
    "11-best-check",
    """
    One check before you drive off
    ask: You have ten minutes in the yard, and you are not sure about the reach. Which one check makes it surest?
    option jets: The shank of a drill in each jet, and one good gauge reading
    option bucket: The pump's flow, by the fall of the tank level
    option weigh: The hose, on a bathroom scale
    because: Check what the number depends on. The pull is known within 10 % already. But the hose can weigh half of
        what the plan assumed, or less. Weighing takes minutes, and the machine stays off.
    """,
    answer=lambda p: min(_CHECKS, key=lambda name: _reach_width(_CHECKS[name])),
)

PREDICTIONS = (HOW_FAR, LEADER, WIDEST, BEST_CHECK)
