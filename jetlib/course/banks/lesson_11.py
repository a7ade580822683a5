"""Predictions, and the exercises that need Python, of lesson 11: a whole job planned, and the plan questioned."""

from functools import cache

from jetlib.course.banks.yard_job import BRAIDS, LEADERS, banded_numbers, yard_plan
from jetlib.course.exercises import Mistake, Ordering, PredictedChoice, PredictedNumber
from jetlib.course.exercises.amounts import feet
from jetlib.course.exercises.shapes import choice, predicted, table
from jetlib.course.exercises.worked import worked
from jetlib.course.exercises.yard import (
    draw_machine,
    readings,
    rig_of,
)
from jetlib.rig.parts.rig_file import demo_rig
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


@cache
def _two_hoses_point(rig, hose, leader, length, throttle):
    """OperatingPoint of a machine with its first hose and a leader of that length."""
    whole = rig_of({"rig": rig, "hose": hose})
    hoses = [whole.hoses[0], LEADERS[leader].replace(length=length)]
    return operating_point(whole.replace(hoses=hoses), throttle)


def _two_hoses(p):
    reel = rig_of(p).hoses[0]
    point = _two_hoses_point(*(p[name] for name in ("rig", "hose", "leader", "length_2", "throttle")))
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
            "Your order is the wrong way around: the first step is first.",
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


EXERCISES = (BUDGET, LEAST_SURE, ORDER)

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
    ask: Between reel hose and nozzle you put {leader} of light 3/8 in (9.5 mm) hose. What does the plan say
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
