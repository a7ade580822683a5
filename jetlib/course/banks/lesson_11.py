"""Practice and predictions of lesson 11: a whole job planned, and the plan questioned."""

import math

from jetlib.course.banks.yard_job import BRAIDS, banded_numbers, yard_plan
from jetlib.course.exercises import (
    FillTable,
    Mistake,
    MultipleChoice,
    Numeric,
    Ordering,
    PredictedChoice,
    PredictedNumber,
    SingleChoice,
    mistakes,
)
from jetlib.course.exercises.mistakes import altered
from jetlib.physics import water
from jetlib.physics.reaction import jet_reaction
from jetlib.rig.uncertainty.unknowns import Unknowns
from jetlib.units import si, to_si

_DENSITY = water.density(288.15)
_GRAVITY = 9.80665  # m/s2, the standard one
_HUNDRED_FEET = to_si(100, "length", "US")


def _psi(number):
    return to_si(number, "pressure", "US")


def _gpm(number):
    return to_si(number, "flow", "US")


def _gallons(number):
    return to_si(number, "volume", "US")


def _feet(number):
    return to_si(number, "length", "US")


def _inches(number):
    return to_si(number, "pipe_bore", "US")


def _minutes(number):
    return 60.0 * number


# --- pressure ---------------------------------------------------------------------------------------


def _draw_budget(rng):
    return {
        "gauge": _psi(rng.randrange(2000, 3600, 50)),
        "length_1": _feet(rng.choice((150, 200, 250, 300, 400))),
        "per_1": _psi(rng.randrange(30, 90, 5)),
        "length_2": _feet(rng.choice((40, 50, 60, 75, 150))),
        "per_2": _psi(rng.randrange(200, 620, 20)),
    }


def _lost(p):
    return tuple(p[f"per_{number}"] * p[f"length_{number}"] / _HUNDRED_FEET for number in (1, 2))


def _lost_swapped(p):
    return p["per_2"] * p["length_1"] / _HUNDRED_FEET, p["per_1"] * p["length_2"] / _HUNDRED_FEET


def _budget_rows(p):
    first, second = _lost(p)
    return (
        ("pump", 0.0, p["gauge"]),
        ("reel hose", first, p["gauge"] - first),
        ("leader", second, p["gauge"] - first - second),
    )


BUDGET = FillTable(
    id="11-pressure-budget",
    title="From the gauge to the jets",
    skills=("whole circuit", "job plan"),
    draw=_draw_budget,
    reject=lambda p: sum(_lost(p)) > 0.6 * p["gauge"] or sum(_lost_swapped(p)) > 0.9 * p["gauge"],
    shown={
        "gauge": "pressure",
        "length_1": "length",
        "per_1": "pressure",
        "length_2": "length",
        "per_2": "pressure",
    },
    ask=f"A plan sends one flow through two hoses. The gauge will read {{gauge}}. The reel hose is {{length_1}} long "
    f"and takes {{per_1}} in each 100 ft ({_HUNDRED_FEET:.1f} m). The leader is {{length_2}} long and takes {{per_2}} "
    f"in each 100 ft ({_HUNDRED_FEET:.1f} m). Fill in the table.",
    columns=(("part", None), ("lost in it", "pressure"), ("left after it", "pressure")),
    rows=_budget_rows,
    blanks=((1, 1), (2, 1), (2, 2)),
    mistakes=(
        Mistake(
            "each hose taken as 100 ft",
            "It looks as if each hose was taken as one of 100 ft (30.5 m). How long are they?",
            lambda p: (p["per_1"], p["per_2"], p["gauge"] - p["per_1"] - p["per_2"]),
        ),
        mistakes.last_hose_only(lambda p: (None, None, p["gauge"] - _lost(p)[1])),
        mistakes.first_hose_only(lambda p: (None, None, p["gauge"] - _lost(p)[0])),
        Mistake(
            "losses swapped",
            "The two hoses have changed places: each has its own length and its own loss.",
            lambda p: (*_lost_swapped(p), p["gauge"] - sum(_lost_swapped(p))),
        ),
    ),
    hints=(
        "How many times does the stated length go into each hose? So many times its loss.",
        "All the water goes through both. Take both losses off the gauge.",
    ),
    solution=lambda p, show: (
        f"Reel hose: {show(p['per_1'], 'pressure')} × {p['length_1'] / _HUNDRED_FEET:g} = "
        f"{show(_lost(p)[0], 'pressure')}.\n"
        f"Leader: {show(p['per_2'], 'pressure')} × {p['length_2'] / _HUNDRED_FEET:g} = "
        f"{show(_lost(p)[1], 'pressure')}.\n\n"
        f"Left for the jets: {show(_budget_rows(p)[2][2], 'pressure')}."
    ),
)

# --- pull and reach ---------------------------------------------------------------------------------


def _draw_chain(rng):
    gauge = rng.randrange(2000, 3600, 50)
    return {
        "gauge": _psi(gauge),
        "lost": _psi(50 * round(gauge * rng.choice((0.2, 0.25, 0.3, 0.35)) / 50)),
        "flow": _gpm(rng.randrange(12, 61) / 2.0),
        "angle": math.radians(rng.choice((30, 35, 40))),
        "mass": to_si(rng.choice((0.2, 0.25, 0.3, 0.35, 0.4, 0.5)), "mass_per_length", "US"),
        "friction": rng.choice((0.35, 0.4, 0.45, 0.5)),
    }


def _pull(p):
    return jet_reaction(p["flow"], p["gauge"] - p["lost"], density=_DENSITY, angle=p["angle"])


def _chain_reach(p):
    return _pull(p) / (p["friction"] * p["mass"] * _GRAVITY)


def _solve_chain(p, show):
    left = p["gauge"] - p["lost"]
    unit = "lbf, gpm and psi: 0.0526 × flow × root of pressure" if show.system == "US" else (
        "N, L/min and bar: 0.236 × flow × root of pressure"
    )  # fmt: skip
    foot = _feet(1) if show.system == "US" else 1.0
    drag = p["friction"] * p["mass"] * _GRAVITY * foot
    return (
        f"At the jets: {show(p['gauge'], 'pressure')} − {show(p['lost'], 'pressure')} = {show(left, 'pressure')}.\n"
        f"Pull, in {unit} × cosine of {show(p['angle'], 'angle')}: {show(_pull(p), 'force')}.\n"
        f"Each {show(foot, 'length')} of hose drags with {show(drag, 'force')}.\n\n"
        f"Pull over drag: {show(_chain_reach(p), 'length')}."
    )


CHAIN = Numeric(
    id="11-gauge-to-reach",
    title="From the gauge to the reach",
    skills=("whole circuit", "reach", "job plan"),
    draw=_draw_chain,
    reject=lambda p: not _feet(30) <= _chain_reach(p) <= _feet(500),
    shown={
        "gauge": "pressure",
        "lost": "pressure",
        "flow": "flow",
        "angle": "angle",
        "mass": "mass_per_length",
        "friction": "ratio",
    },
    ask="The gauge reads {gauge}, and the hose takes {lost} of that. {flow} leaves the nozzle, all by rear jets at "
    "{angle} to the hose. The hose weighs {mass}, full of water. Friction is {friction}, the pipe level and straight. "
    "How far do the jets pull the hose? Take the jets as ideal.",
    kind="length",
    answer=_chain_reach,
    tolerance=0.04,
    mistakes=(
        mistakes.gauge_at_nozzle(altered(_chain_reach, lost=0.0)),
        Mistake(
            "angle left out",
            "It looks as if the jets pointed straight back. They stand at an angle, and only a part of their push "
            "points along the hose.",
            altered(_chain_reach, angle=0.0),
        ),
        Mistake(
            "friction left out",
            "It looks as if the jets had to carry the whole weight. The pipe carries it; only a share must be pulled.",
            altered(_chain_reach, friction=1.0),
        ),
        Mistake(
            "root left out of the pull",
            "It looks as if the pull was taken to go with the flow alone. The speed of the water counts too, and goes "
            "with the root of the pressure at the jets.",
            lambda p: _chain_reach(p) * math.sqrt(p["lost"] / (p["gauge"] - p["lost"])),
        ),
    ),
    hints=(
        "Three steps: what is left for the jets, how hard that pulls, and what each foot or metre of hose drags.",
        "The pull goes with flow, root of the pressure at the jets, and cosine. Divide it by friction × weight of each "
        "foot or metre. A kilogram weighs 9.81 N.",
    ),
    solution=_solve_chain,
)


def _draw_safe(rng):
    mass = rng.choice((0.25, 0.3, 0.4, 0.5))
    return {
        "reach": _feet(rng.randrange(60, 260, 5)),
        "friction": rng.choice((0.35, 0.4)),
        "worst": rng.choice((0.5, 0.55, 0.6)),
        "mass": to_si(mass, "mass_per_length", "US"),
        "weighed": to_si(round(mass * rng.choice((1.2, 1.3, 1.4, 1.5)), 3), "mass_per_length", "US"),
    }


def _safe_reach(p):
    return p["reach"] * (p["friction"] / p["worst"]) * (p["mass"] / p["weighed"])


SAFE_REACH = Numeric(
    id="11-safe-reach",
    title="The reach on the safe side",
    skills=("reach", "how sure is it"),
    draw=_draw_safe,
    shown={
        "reach": "length",
        "friction": "ratio",
        "worst": "ratio",
        "mass": "mass_per_length",
        "weighed": "mass_per_length",
    },
    ask="A plan says {reach} of reach in a level, straight pipe. It took a friction of {friction}, and a hose that "
    "weighs {mass} full of water. The hose is put on a scale: {weighed}, full. And the friction may be as high as "
    "{worst}. What reach should you count on?",
    kind="length",
    answer=_safe_reach,
    mistakes=(
        Mistake(
            "friction alone",
            "The friction is in it. What did the scale say?",
            lambda p: p["reach"] * p["friction"] / p["worst"],
        ),
        Mistake(
            "weight alone",
            "The scale is in it. What about the friction?",
            lambda p: p["reach"] * p["mass"] / p["weighed"],
        ),
        mistakes.upside_down(
            lambda p: p["reach"] ** 2 / _safe_reach(p),
            "Both ratios are turned over. Does a heavier hose on a rougher wall go farther?",
        ),
        Mistake(
            "one ratio upside down",
            "One of the two works against the other here. A heavier hose goes less far, and so does more friction.",
            lambda p: p["reach"] * (p["friction"] / p["worst"]) * (p["weighed"] / p["mass"]),
        ),
    ),
    hints=(
        "Reach is pull over drag, and drag is friction times weight. Neither has changed the pull.",
        "Both make the drag greater. Multiply the reach by friction planned over friction feared, and by weight "
        "planned over weight found.",
    ),
    solution=lambda p, show: (
        f"Friction: {p['friction']:g} / {p['worst']:g} = {p['friction'] / p['worst']:.3f}.\n"
        f"Weight: {show(p['mass'], 'mass_per_length')} / {show(p['weighed'], 'mass_per_length')} = "
        f"{p['mass'] / p['weighed']:.3f}.\n\n"
        f"{show(p['reach'], 'length')} × {p['friction'] / p['worst']:.3f} × {p['mass'] / p['weighed']:.3f} = "
        f"{show(_safe_reach(p), 'length')}."
    ),
)

# --- water ------------------------------------------------------------------------------------------


def _draw_job_water(rng):
    pumped = rng.randrange(12, 51) / 2.0
    return {
        "pumped": _gpm(pumped),
        "back": _gpm(round(2.0 * pumped * rng.choice((0.15, 0.2, 0.25, 0.3))) / 2.0),
        "run": _feet(rng.randrange(60, 251, 10)),
        "in_speed": to_si(rng.choice((0.6, 0.7, 0.8, 1.0)), "velocity", "US"),
        "back_speed": to_si(rng.choice((0.2, 0.25, 0.3, 0.35)), "velocity", "US"),
        "passes": rng.choice((2, 3)),
    }


def _jets_on(p):
    return p["passes"] * p["run"] * (1.0 / p["in_speed"] + 1.0 / p["back_speed"])


def _job_water(p):
    return (p["pumped"] - p["back"]) * _jets_on(p)


def _solve_job_water(p, show):
    into, out = p["run"] / p["in_speed"], p["run"] / p["back_speed"]
    return (
        f"Once in: {show(p['run'], 'length')} / {show(p['in_speed'], 'velocity')} is {show(into, 'duration')}. "
        f"Once back: {show(out, 'duration')}.\n"
        f"{p['passes']} times both: {show(_jets_on(p), 'duration')}.\n"
        f"Out of the nozzle: {show(p['pumped'] - p['back'], 'flow')}.\n\n"
        f"Together {show(_job_water(p), 'volume')}."
    )


JOB_WATER = Numeric(
    id="11-job-water",
    title="Water for the whole job",
    skills=("tank time", "job plan"),
    draw=_draw_job_water,
    reject=lambda p: p["back"] < 0.1 * p["pumped"] or not _gallons(80) <= _job_water(p) <= _gallons(1500),
    shown={"pumped": "flow", "back": "flow", "run": "length", "in_speed": "velocity", "back_speed": "velocity"},
    ask="The pump delivers {pumped}, of which {back} comes back to the tank. The nozzle goes through {run} of pipe "
    "{passes} times, in at {in_speed} and back at {back_speed}, with the jets on all the while. How much water leaves "
    "the nozzle?",
    kind="volume",
    answer=_job_water,
    mistakes=(
        mistakes.bypass_left_out(
            altered(_job_water, back=0.0),
            "It looks as if all that the pump delivers was counted. What comes back is in the tank again.",
        ),
        Mistake(
            "ways back only",
            "That is enough for the ways back. The jets run on the way in too: they are what pulls the hose.",
            lambda p: (p["pumped"] - p["back"]) * p["passes"] * p["run"] / p["back_speed"],
        ),
        Mistake(
            "one pass only",
            "That is enough for once in and once back. How often does it go through?",
            altered(_job_water, passes=1),
        ),
        Mistake(
            "speeds averaged",
            "It looks as if one middle speed was taken for both ways. The slow way takes longer, so it counts for "
            "more: work out each time, then add.",
            lambda p: (p["pumped"] - p["back"]) * p["passes"] * 4.0 * p["run"] / (p["in_speed"] + p["back_speed"]),
        ),
    ),
    hints=(
        "Work out the time first: length over speed, once for each way. Then times the number of passes.",
        "Seconds into minutes, times the flow that leaves the nozzle.",
    ),
    solution=_solve_job_water,
)


def _draw_filling(rng):
    return {
        "volume": _gallons(rng.choice((60, 80, 100, 120, 150, 200))),
        "usable": rng.choice((0.8, 0.85, 0.9)),
        "flow": _gpm(rng.randrange(14, 61) / 2.0),
        "work": _minutes(rng.randrange(10, 41)),
    }


def _filling(p):
    return p["flow"] - p["usable"] * p["volume"] / p["work"]


FILLING = Numeric(
    id="11-filling-hose",
    title="What the filling hose must bring",
    skills=("tank time", "job plan"),
    draw=_draw_filling,
    reject=lambda p: not 0.25 * p["flow"] <= _filling(p) <= 0.75 * p["flow"],
    shown={"volume": "volume", "usable": "fraction", "flow": "flow", "work": "duration"},
    ask="A plan needs {flow} out of the nozzle for {work}. The tank holds {volume}, of which {usable} can be used. How "
    "much must the filling hose bring at the least, so that the tank lasts?",
    kind="flow",
    answer=_filling,
    tolerance=0.04,
    mistakes=(
        Mistake(
            "tank left out",
            "It looks as if the filling hose had to bring all of it. The tank is full at the start. What does that "
            "save?",
            altered(_filling, volume=0.0),
        ),
        Mistake(
            "whole tank used",
            "It looks as if the tank was used to the last drop. The pump draws air before that.",
            altered(_filling, usable=1.0),
        ),
        Mistake(
            "the tank's share alone",
            "That is what the tank gives, spread over the whole time. What is still lacking?",
            lambda p: p["usable"] * p["volume"] / p["work"],
        ),
        Mistake(
            "tank added",
            "It looks as if the tank's water was added. Does a full tank make the filling hose work harder?",
            lambda p: p["flow"] + p["usable"] * p["volume"] / p["work"],
        ),
    ),
    hints=(
        "Spread the water that can be used over the time: how much does the tank give each minute?",
        "Flow out of the nozzle, less what the tank gives each minute.",
    ),
    solution=lambda p, show: (
        f"Usable: {show(p['usable'] * p['volume'], 'volume')}. Over {show(p['work'], 'duration')} that is "
        f"{show(p['usable'] * p['volume'] / p['work'], 'flow')}.\n\n"
        f"{show(p['flow'], 'flow')} less that is {show(_filling(p), 'flow')}. More is safer: have some in hand."
    ),
)

# --- go or no-go ------------------------------------------------------------------------------------


def _draw_stops(rng):
    bore = rng.choice((3, 4, 6))
    setting = rng.randrange(2000, 3600, 100)
    rise = rng.choice((0.06, 0.08, 0.1))
    return {
        "setting": _psi(setting),
        "rise": rise,
        # below the setting, between it and the highest pressure, or well above both
        "rated": _psi(round(setting * rng.choice((0.9, 1.0 + 0.5 * rise, 1.0 + 0.5 * rise, 1.3)) / 5) * 5),
        "bore": _inches(bore),
        "stiff": _inches(bore + rng.choice((-1, -0.5, 1, 2))),
        "rear": rng.choice((3, 4, 5)),
        "angle": math.radians(rng.choice((20, 30, 60, 70))),
        "front": rng.choice((1, 2)),
        "tank": _minutes(rng.randrange(8, 30)),
        "work": _minutes(rng.randrange(10, 34)),
        "reach": _feet(rng.randrange(60, 150, 5)),
        "run": _feet(rng.randrange(80, 180, 5)),
    }


def _highest(p):
    return p["setting"] * (1.0 + p["rise"])


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


def _stops_silly(p):
    near = abs(_pull_in_holes(p)) < 0.25 or abs(p["tank"] / p["work"] - 1) < 0.1 or abs(p["reach"] / p["run"] - 1) < 0.1
    return near or not _stops(p) or not _warned(p)


def _solve_stops(p, show):
    pull = _pull_in_holes(p)
    return (
        f"Hose: the line can come to {show(_highest(p), 'pressure')}; marked {show(p['rated'], 'pressure')}: "
        f"{'stops it' if 'hose' in _stops(p) else 'enough'}.\n"
        f"Nozzle: {show(p['stiff'], 'pipe_bore')} in a pipe of {show(p['bore'], 'pipe_bore')}: "
        f"{'it can turn round, stops it' if 'nozzle' in _stops(p) else 'too long to turn round'}.\n"
        f"Jets: {p['rear']} × {math.cos(p['angle']):.2f} − {p['front']} = {pull:.2f} holes: "
        f"{'it comes out, stops it' if pull <= 0 else 'it pulls in'}.\n"
        "A tank or a reach that falls short only spoils the work: a caution, to be settled."
    )


STOPS = MultipleChoice(
    id="11-what-stops-it",
    title="What must stop the job?",
    skills=("cautions", "job plan"),
    draw=_draw_stops,
    reject=_stops_silly,
    shown={
        "setting": "pressure",
        "rise": "fraction",
        "rated": "pressure",
        "bore": "pipe_bore",
        "stiff": "pipe_bore",
        "angle": "angle",
        "tank": "duration",
        "work": "duration",
        "reach": "length",
        "run": "length",
    },
    ask="You read a plan before you start. Which of these are a NO GO: somebody could be hurt, so nothing is started "
    "until it is put right?",
    options=(
        ("hose", "The hose is marked {rated}. The valve is set at {setting} and rises by {rise}. A nozzle may plug"),
        ("nozzle", "The pipe is {bore} wide. The nozzle with its stiff end is {stiff} long"),
        ("jets", "The nozzle has {rear} rear holes at {angle} and {front} straight in front, all of one drill"),
        ("tank", "The tank lasts {tank}, and the work takes {work}"),
        ("reach", "On paper the jets bring the nozzle {reach} of {run}"),
    ),
    answer=_stops,
    mistakes=(
        Mistake(
            "cautions ticked too",
            "What spoils the work is not the same as what hurts. Which of them would only cost time?",
            lambda p: [*_stops(p), *_warned(p)],
        ),
        Mistake(
            "only what falls short",
            "Those fall short of what the work needs. Look for what could hit somebody.",
            _warned,
        ),
        Mistake(
            "hose held against the setting",
            "It looks as if the hose was held against the setting. A plugged nozzle sends all the water through the "
            "valve: how high does the gauge go then?",
            lambda p: _without(p, "hose") if p["rated"] >= p["setting"] else None,
        ),
        Mistake(
            "holes counted",
            "It looks as if holes were counted against holes. A rear hole at a wide angle is far less than one.",
            lambda p: _without(p, "jets") if p["rear"] > p["front"] else None,
        ),
        Mistake(
            "short nozzle let pass",
            "Hold the nozzle across the pipe. Could it turn round and come back?",
            lambda p: _without(p, "nozzle"),
        ),
    ),
    hints=(
        "Three of them could hurt somebody: a hose above its pressure, a nozzle that turns round, jets that push it "
        "out. But do they, with these numbers?",
        "Work each of those three out. Setting and rise together; length against width; holes × cosine against holes.",
    ),
    solution=_solve_stops,
)


def _without(p, name):
    rest = [each for each in _stops(p) if each != name]
    return rest if rest and name in _stops(p) else None


# --- in what order ----------------------------------------------------------------------------------

_STEPS = {
    "ask": "Ask what the drain takes and what was poured down it",
    "guard": "Set up barriers and signs; put on eye protection, gloves and boots",
    "tank": "Fill the tank through an air gap or a backflow preventer",
    "mark": "Mark the hose: nozzle still in the pipe, and end of the run",
    "in": "Put the nozzle and some hose into the pipe",
    "idle": "Start the pump at idle, and hold the gauge against the plan",
    "full": "Open the throttle, and hold the gauge against the plan again",
    "let-in": "Let the hose in as it pulls",
    "back": "Bring the hose back slowly, to the first mark",
    "stop": "Stop the pump and let the pressure off",
    "out": "Take the nozzle out of the pipe",
    "look": "Run water, and look at the pipe with a camera",
}


def _draw_order(rng):
    kept = {rng.choice(("ask", "guard", "tank", "mark")), "in", "idle", "stop", "out"}
    kept |= set(rng.sample(("full", "let-in", "back", "look"), 2))
    return {"steps": tuple(name for name in _STEPS if name in kept)}


def _swapped(first, second):
    def wrong(p):
        order = list(p["steps"])
        one, other = order.index(first), order.index(second)
        order[one], order[other] = order[other], order[one]
        return tuple(order)

    return wrong


def _forgotten(p):
    """What came first comes last."""
    return (*p["steps"][1:], p["steps"][0])


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
            "The pump would run with the nozzle outside the pipe. A nozzle in the open whips, and cuts whoever stands "
            "there.",
            _swapped("in", "idle"),
        ),
        Mistake(
            "nozzle brought out running",
            "The nozzle would come out with the pump on. Stop it, and let the pressure off, while it is still in.",
            _swapped("stop", "out"),
        ),
        Mistake(
            "preparation left for later",
            "The first thing of all has come last. What belongs before anything is started?",
            _forgotten,
        ),
        mistakes.upside_down(lambda p: p["steps"][::-1], "The order is turned over: the first was to come first."),
    ),
    hints=(
        "When may the pump run? Only while the nozzle is inside the pipe. Sort those steps first.",
        "What is asked, guarded, filled or marked comes before. What is looked at comes after.",
    ),
    solution=lambda p, show: (
        "The nozzle is in the pipe from before the pump starts until after it has stopped and the pressure is off:\n\n"
        + "\n".join(f"{number}. {_STEPS[name]}" for number, name in enumerate(p["steps"], start=1))
    ),
)

# --- how sure ---------------------------------------------------------------------------------------

_NUMBERS = {
    "gauge": ("the gauge", "pressure"),
    "flow": ("the flow at the nozzle", "flow"),
    "reach": ("how far the nozzle comes", "length"),
    "time": ("how long the tank lasts", "duration"),
}


def _draw_sure(rng):
    values = {
        "gauge": _psi(rng.randrange(2000, 3400, 100)),
        "flow": _gpm(rng.randrange(12, 61) / 2.0),
        "reach": _feet(rng.randrange(60, 200, 10)),
        "time": _minutes(rng.randrange(10, 40)),
    }
    widths = rng.sample(((0.03, 0.05), (0.12, 0.06), (0.08, 0.25), (0.3, 0.15)), 4)
    found = dict(values)
    for (name, value), (down, up) in zip(values.items(), widths, strict=True):
        found |= {f"{name}_low": value * (1.0 - down), f"{name}_high": value * (1.0 + up)}
    return found


def _width(p, name):
    return (p[f"{name}_high"] - p[f"{name}_low"]) / p[name]


def _by_width(p):
    return sorted(_NUMBERS, key=lambda name: _width(p, name))


def _sure_option(name):
    words, kind = _NUMBERS[name]
    return lambda p, show: (
        f"{words[0].upper()}{words[1:]}: {show(p[name], kind)}, eight in ten from {show(p[f'{name}_low'], kind)} to "
        f"{show(p[f'{name}_high'], kind)}"
    )


LEAST_SURE = SingleChoice(
    id="11-least-sure",
    title="Which number is least sure?",
    skills=("how sure is it",),
    draw=_draw_sure,
    ask="A plan gives four numbers with their bands. Which of them is least sure, for its size?",
    options=tuple((name, _sure_option(name)) for name in _NUMBERS),
    answer=lambda p: _by_width(p)[-1],
    mistakes=(
        Mistake(
            "largest figures",
            "Its band has the largest figures, but it is a large number too. Set each band against the number itself.",
            lambda p: "gauge" if _by_width(p)[-1] != "gauge" else None,
        ),
        Mistake(
            "surest for least sure",
            "That one is the surest of the four.",
            lambda p: _by_width(p)[0],
        ),
        Mistake(
            "upper end alone",
            "It looks as if only the upper end was looked at. A band has two ends.",
            lambda p: max(_NUMBERS, key=lambda name: p[f"{name}_high"] / p[name]),
        ),
    ),
    hints=(
        "Take the lower end off the upper end. Then ask: how much of the number itself is that?",
        "Divide the width of each band by its number. The largest share is the least sure.",
    ),
    solution=lambda p, show: (
        "Width of the band over the number:\n\n"
        + "\n".join(f"{_NUMBERS[name][0]}: {100.0 * _width(p, name):.0f} %" for name in reversed(_by_width(p)))
        + f"\n\nLeast sure is the widest for its size. {_sure_option(_by_width(p)[-1])(p, show)}."
    ),
)

EXERCISES = (BUDGET, CHAIN, STOPS, JOB_WATER, LEAST_SURE, SAFE_REACH, ORDER, FILLING)

# --- predictions ------------------------------------------------------------------------------------

_STIFF = si("5 in", "pipe_bore")  # long enough not to turn round

HOW_FAR = PredictedNumber(
    id="11-how-far",
    title="How far does it come?",
    parameters={"run": si("100 ft", "length"), "hose": si("250 ft", "length"), "fall": 0.02},
    shown={"run": "length", "hose": "length", "fall": "slope"},
    ask="The trailer has {hose} of half-inch (12.7 mm) steel-braid hose. The drain is {run} long, with one bend of "
    "45°, and the nozzle goes up a fall of {fall}. Full throttle, nobody pushes. How far do the jets bring the nozzle?",
    kind="length",
    answer=lambda p: yard_plan(stiff=_STIFF).reach.distance,
    because="There is hose enough, and yet it stops before half-way. Steel braid full of water is heavy, and the bend "
    "multiplies its drag. Hose on the reel says nothing about how far the jets pull it.",
)


def _with_leader(p):
    before, after = yard_plan(stiff=_STIFF), yard_plan(stiff=_STIFF, leader="light")
    pull = "more" if after.point.reaction > before.point.reaction else "less"
    return f"{pull}-{'farther' if after.reach.pull_distance > before.reach.pull_distance else 'shorter'}"


def _leader_reason(p, show):
    before, after = yard_plan(stiff=_STIFF), yard_plan(stiff=_STIFF, leader="light")
    end = ", the end of the run," if after.reach.distance >= after.job.drain.length else ""
    return (
        f"The thin hose takes pressure, so the pull falls from {show(before.point.reaction, 'force')} to "
        f"{show(after.point.reaction, 'force')}. But the hose in the pipe is now so light that the nozzle comes "
        f"{show(after.reach.distance, 'length')}{end} instead of {show(before.reach.distance, 'length')}. A plan "
        "weighs the one against the other."
    )


LEADER = PredictedChoice(
    id="11-light-leader",
    title="A light leader",
    parameters={"leader": si("100 ft", "length")},
    shown={"leader": "length"},
    ask="Between reel hose and nozzle you put {leader} of light three-eighths (9.5 mm) hose. What does the plan say "
    "then?",
    options=(
        ("more-farther", "The jets pull harder, and the nozzle comes farther"),
        ("less-farther", "The jets pull less, and the nozzle comes farther"),
        ("less-shorter", "The jets pull less, and the nozzle comes less far"),
        ("more-shorter", "The jets pull harder, and the nozzle comes less far"),
    ),
    answer=_with_leader,
    because=_leader_reason,
)


def _widest(p):
    offered = ("gauge", "nozzle_flow", "reach", "tank_time", "shear")
    return next(each.name for each in banded_numbers(yard_plan(stiff=_STIFF)) if each.name in offered)


WIDEST = PredictedChoice(
    id="11-widest-band",
    title="The least sure number",
    ask="Nobody has measured the trailer; the plan knows only what is written on it. Which number of the plan is least "
    "sure, for its size?",
    options=(
        ("gauge", "What the gauge will show"),
        ("nozzle_flow", "The flow at the nozzle"),
        ("reach", "How far the nozzle comes"),
        ("tank_time", "How long the tank lasts"),
        ("shear", "How hard the water drags in the pipe"),
    ),
    answer=_widest,
    because="Pump and valve hold flow and gauge fast, and the tank hangs on the flow. How far the nozzle comes hangs "
    "on what the hose weighs and how it rubs. Nobody has looked at either.",
)

_CHECKS = {
    "jets": {"unknowns": Unknowns().settle("discharge_coefficient", "jet_bore")},
    "bucket": {"unknowns": Unknowns().settle("pump_flow")},
    "weigh": {"braid": next(iter(BRAIDS))},
}


def _reach_width(changes):
    return next(each.width for each in banded_numbers(yard_plan(stiff=_STIFF, **changes)) if each.name == "reach")


BEST_CHECK = PredictedChoice(
    id="11-best-check",
    title="One check before you drive off",
    ask="You have ten minutes in the yard, and the reach worries you. Which one check makes it surest?",
    options=(
        ("jets", "A drill shank in each jet, and one good reading of the gauge"),
        ("bucket", "The pump's flow, by bucket and watch as the manual allows"),
        ("weigh", "The hose, on a bathroom scale"),
    ),
    answer=lambda p: min(_CHECKS, key=lambda name: _reach_width(_CHECKS[name])),
    because="Check what the number hangs on. The pull is known to a tenth already. But the hose may weigh a third of "
    "what the plan took. The scale takes minutes, and the machine stays off.",
)

PREDICTIONS = (HOW_FAR, LEADER, WIDEST, BEST_CHECK)
