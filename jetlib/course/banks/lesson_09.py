"""Practice and predictions of lesson 09: pull of the jets, drag of the hose, bite of a jet."""

import math
from itertools import pairwise

from jetlib.course.exercises import (
    FillTable,
    Mistake,
    MultipleChoice,
    Numeric,
    Ordering,
    PredictedChoice,
    PredictedCurve,
    PredictedNumber,
    mistakes,
)
from jetlib.course.exercises.mistakes import altered, scaled
from jetlib.physics import water
from jetlib.physics.hose_drag import capstan_ratio, hose_tension
from jetlib.physics.jet_decay import CORE_LENGTH, submerged_velocity_ratio
from jetlib.physics.power import hydraulic_power
from jetlib.physics.reaction import jet_reaction
from jetlib.rig.point.circuit import GRAVITY
from jetlib.units import from_si, si, to_si

_DENSITY = water.density(288.15)
_ANGLES = (20, 25, 30, 35, 50, 55, 60, 65)  # degrees; at 45 sine and cosine are the same


def _psi(number):
    return to_si(number, "pressure", "US")


def _gpm(number):
    return to_si(number, "flow", "US")


def _lbf(number):
    return to_si(number, "force", "US")


def _feet(number):
    return to_si(number, "length", "US")


def _degrees(number):
    return math.radians(number)


def _pull(flow, pressure, angle=0.0):
    return float(jet_reaction(flow, pressure, density=_DENSITY, angle=angle))


_COSINE_FOR_ANGLE = "How much of a jet points back is its cosine: 1 at 0°, 0.87 at 30°, 0.5 at 60°, 0 at 90°."
_ANGLE_LEFT_OUT = (
    "That is what the jets would pull if they blew straight back along the hose. They stand out at an angle, and only "
    "the part that points back pulls."
)
_SHARE_OF_RIGHT_ANGLE = (
    "It looks as if the pull was taken to fall by the same amount with each degree. It falls slowly at first and fast "
    "later on: by the cosine."
)
_SINE = "It looks as if the sine was taken. That is the part that points at the wall. The part that points back pulls."

# --- one set of jets --------------------------------------------------------------------------------


def _draw_jets(rng):
    return {
        "flow": _gpm(rng.randrange(8, 41) / 2.0),
        "pressure": _psi(rng.randrange(1000, 3600, 100)),
        "angle": _degrees(rng.choice(_ANGLES)),
    }


def _jets_pull(p):
    return _pull(p["flow"], p["pressure"], p["angle"])


def _solve_jets(p, show):
    straight = _pull(p["flow"], p["pressure"])
    return (
        "Straight back, the pull is 0.0526 × gpm × √psi in pounds, or 0.236 × L/min × √bar in newtons.\n\n"
        f"With {show(p['flow'], 'flow')} and {show(p['pressure'], 'pressure')} that is {show(straight, 'force')}.\n\n"
        f"The part that points back: the cosine of {show(p['angle'], 'angle')} is {math.cos(p['angle']):.3g}.\n\n"
        f"{show(straight, 'force')} × {math.cos(p['angle']):.3g} is {show(_jets_pull(p), 'force')}."
    )


PULL_AT_ANGLE = Numeric(
    id="09-pull-at-angle",
    title="Pull of the rear jets",
    skills=("pull of a jet", "angle"),
    draw=_draw_jets,
    shown={"flow": "flow", "pressure": "pressure", "angle": "angle"},
    ask="A nozzle has rear jets only. {flow} leaves them at a nozzle pressure of {pressure}, at {angle} to the hose. "
    "How hard do they pull along the hose? Let the water lose no speed in the holes.",
    kind="force",
    answer=_jets_pull,
    mistakes=(
        Mistake("angle left out", _ANGLE_LEFT_OUT, altered(_jets_pull, angle=0.0)),
        Mistake("sine for cosine", _SINE, altered(_jets_pull, angle=lambda angle: math.pi / 2.0 - angle)),
        Mistake(
            "angle as a share of 90°",
            _SHARE_OF_RIGHT_ANGLE,
            lambda p: _pull(p["flow"], p["pressure"]) * (1.0 - 2.0 * p["angle"] / math.pi),
        ),
        Mistake(
            "root of the pressure left out",
            "That is far too much for a hose. Look at the pressure in the formula: what sign stands over it?",
            scaled(_jets_pull, lambda p: math.sqrt(from_si(p["pressure"], "pressure", "US"))),
        ),
        Mistake(
            "bar in the psi formula",
            "The figures fit the other unit of pressure. 0.0526 wants gpm and psi; 0.236 wants L/min and bar.",
            scaled(_jets_pull, math.sqrt(1.0 / mistakes.BAR_FOR_PSI)),
        ),
        Mistake(
            "pressure times area",
            "It looks as if pressure was taken times the area of the holes. Moving water takes away twice that.",
            scaled(_jets_pull, 0.5),
        ),
    ),
    hints=(
        "Work out the pull as if the jets blew straight back: 0.0526 × gpm × √psi, or 0.236 × L/min × √bar.",
        _COSINE_FOR_ANGLE + " Multiply by it.",
    ),
    solution=_solve_jets,
)

# --- front against rear -----------------------------------------------------------------------------


def _draw_front_and_rear(rng):
    return {**_draw_jets(rng), "rear": rng.randrange(3, 9), "front": rng.randrange(1, 3)}


def _straight_one(p):
    """Pull of one hole if it blew straight back, N."""
    return _pull(p["flow"], p["pressure"]) / (p["rear"] + p["front"])


def _net_pull(p):
    return _straight_one(p) * (p["rear"] * math.cos(p["angle"]) - p["front"])


def _solve_net(p, show):
    one, holes = _straight_one(p), p["rear"] + p["front"]
    rear = p["rear"] * one * math.cos(p["angle"])
    return (
        f"All {holes} holes are alike, so each passes the same. One of them blowing straight back pulls "
        f"{show(one, 'force')}.\n\n"
        f"Rear: {p['rear']} × {show(one, 'force')} × {math.cos(p['angle']):.3g} is {show(rear, 'force')}.\n"
        f"Front: {p['front']} × {show(one, 'force')} is {show(p['front'] * one, 'force')}, the other way.\n\n"
        f"What is left: {show(_net_pull(p), 'force')}."
    )


FRONT_AND_REAR = Numeric(
    id="09-front-and-rear",
    title="Front against rear",
    skills=("pull of a jet", "angle", "front against rear"),
    draw=_draw_front_and_rear,
    reject=lambda p: _net_pull(p) < 0.8 * _straight_one(p),
    shown={"flow": "flow", "pressure": "pressure", "angle": "angle"},
    ask="A nozzle has {rear} rear holes at {angle} to the hose and {front} front, straight ahead; all are of one "
    "drill. {flow} leaves it in all, at a nozzle pressure of {pressure}. What pull along the hose is left? "
    "Let the water lose no speed in the holes.",
    kind="force",
    answer=_net_pull,
    mistakes=(
        Mistake(
            "front left out",
            "That is what the rear jets pull. The front ones push the other way.",
            lambda p: _straight_one(p) * p["rear"] * math.cos(p["angle"]),
        ),
        Mistake(
            "front added",
            "It looks as if the front jets were added. Which way do they push the nozzle?",
            lambda p: _straight_one(p) * (p["rear"] * math.cos(p["angle"]) + p["front"]),
        ),
        Mistake(
            "holes counted without their angle",
            "It looks as if rear holes were counted against front ones as they are. A rear hole at an angle pulls less "
            "than a front one pushes.",
            lambda p: _straight_one(p) * (p["rear"] - p["front"]),
        ),
        Mistake(
            "all the water sent to the rear",
            "It looks as if all the flow was taken to leave at the rear. The front holes take their share of it.",
            lambda p: _pull(p["flow"], p["pressure"], p["angle"]),
        ),
    ),
    hints=(
        "Share the flow among all the holes. What does one hole pull if it blows straight back?",
        "Rear holes: count × that × the cosine. Front holes: count × that. Take the second from the first.",
    ),
    solution=_solve_net,
)

# --- pull and gauge ---------------------------------------------------------------------------------


def _draw_two_pressures(rng):
    first = rng.randrange(10, 35) * 100
    return {
        "pull": _lbf(rng.randrange(12, 61) / 2.0),
        "pressure": _psi(first),
        "new_pressure": _psi(round(first * rng.choice((0.4, 0.5, 0.6, 0.7, 0.75, 1.3, 1.4)) / 50.0) * 50),
    }


def _pressure_ratio(p):
    return p["new_pressure"] / p["pressure"]


def _new_pull(p):
    return p["pull"] * _pressure_ratio(p)


PULL_AND_PRESSURE = Numeric(
    id="09-pull-and-pressure",
    title="Less throttle, less pull",
    skills=("pull goes with pressure",),
    draw=_draw_two_pressures,
    shown={"pull": "force", "pressure": "pressure", "new_pressure": "pressure"},
    ask="A nozzle pulls {pull} with {pressure} behind its jets. The throttle is moved, and now there is {new_pressure} "
    "behind the same jets. How hard does it pull?",
    kind="force",
    answer=_new_pull,
    mistakes=(
        mistakes.linear_for_root(
            lambda p: p["pull"] * math.sqrt(_pressure_ratio(p)),
            "One root is not all. With the pressure the speed changes, and the flow changes as well: two roots.",
        ),
        mistakes.square_for_linear(lambda p: p["pull"] * _pressure_ratio(p) ** 2),
        mistakes.upside_down(lambda p: p["pull"] / _pressure_ratio(p)),
        Mistake(
            "pull left as it was",
            "The pull does not stay as it was: both the flow and the speed of the water have changed.",
            lambda p: p["pull"],
        ),
    ),
    hints=(
        "Pull is flow times speed. How does each of them change with the pressure, at the same jets?",
        "Both go with the root of the pressure. A root times the same root is the number itself: so the pull goes in "
        "step with the pressure.",
    ),
    solution=lambda p, show: (
        "Flow and speed both go with the root of the pressure, so the pull goes in step with it.\n\n"
        f"{show(p['new_pressure'], 'pressure')} / {show(p['pressure'], 'pressure')} = {_pressure_ratio(p):.3g}.\n\n"
        f"{_pressure_ratio(p):.3g} × {show(p['pull'], 'force')} is {show(_new_pull(p), 'force')}."
    ),
)

# --- reach ------------------------------------------------------------------------------------------


def _draw_reach(rng):
    return {
        "pull": _lbf(rng.randrange(10, 61)),
        "weight": to_si(rng.randrange(20, 81, 2) / 100.0, "mass_per_length", "US"),
        "friction": rng.choice((0.3, 0.35, 0.4, 0.45, 0.5, 0.6)),
    }


def _level_reach(p):
    return p["pull"] / (p["friction"] * p["weight"] * GRAVITY)


def _solve_reach(p, show):
    each = p["friction"] * p["weight"] * GRAVITY
    foot = show(each * _feet(1.0), "force") if show.system == "US" else show(each, "force")
    one = "foot" if show.system == "US" else "metre"
    return (
        f"A {one} of hose drags with friction × its weight: {foot}.\n\n"
        f"Pull over drag: {show(p['pull'], 'force')} / {foot} is {show(_level_reach(p), 'length')}."
    )


LEVEL_REACH = Numeric(
    id="09-level-reach",
    title="How far on the level",
    skills=("drag of the hose", "reach"),
    draw=_draw_reach,
    reject=lambda p: not _feet(25) <= _level_reach(p) <= _feet(400),
    shown={"pull": "force", "weight": "mass_per_length"},
    ask="The jets pull {pull} along the hose. The hose weighs {weight} full of water, and its friction on the pipe is "
    "{friction}. How far in do the jets bring it, in a level pipe without bends?",
    kind="length",
    answer=_level_reach,
    mistakes=(
        Mistake(
            "friction left out",
            "It looks as if the jets had to lift the hose. They only drag it: the pipe carries the weight.",
            altered(_level_reach, friction=1.0),
        ),
        Mistake(
            "friction upside down",
            "It looks as if friction was multiplied by where one divides. Does less friction bring the hose farther?",
            altered(_level_reach, friction=lambda friction: 1.0 / friction),
        ),
        Mistake(
            "kilograms taken as newtons",
            "A kilogram weighs 9.81 newtons. It looks as if that step was left out.",
            scaled(_level_reach, GRAVITY),
        ),
        Mistake(
            "friction taken off",
            "It looks as if friction was taken off the weight, as a share. What drags is friction times the weight.",
            altered(_level_reach, friction=lambda friction: 1.0 - friction),
        ),
    ),
    hints=(
        "How hard does one foot, or one metre, of this hose drag? Friction times its weight.",
        "Divide the pull by that. In metric, first turn kilograms into newtons: times 9.81.",
    ),
    solution=_solve_reach,
)

# --- a bend -----------------------------------------------------------------------------------------


def _draw_bend(rng):
    friction, turned = rng.choice((0.3, 0.4, 0.5)), rng.choice((45, 60, 90, 180))
    return {
        "friction": friction,
        "turned": _degrees(turned),
        "factor": round(float(capstan_ratio(friction, _degrees(turned))), 2),
        "before": _lbf(rng.randrange(6, 31) / 2.0),
        "after": _lbf(rng.randrange(6, 31) / 2.0),
    }


def _bend_pull(p):
    return p["before"] * p["factor"] + p["after"]


BEND = Numeric(
    id="09-bend",
    title="Round a bend",
    skills=("drag of the hose", "bends"),
    draw=_draw_bend,
    reject=lambda p: abs(p["before"] / p["after"] - 1.0) < 0.2,
    shown={"turned": "angle", "before": "force", "after": "force"},
    ask="A pipe has one bend of {turned}. The hose between the entry and the bend drags with {before}. The hose "
    "between the bend and the nozzle drags with {after}. At a friction of {friction} such a bend multiplies the pull "
    "by {factor}. How hard must the jets pull?",
    kind="force",
    answer=_bend_pull,
    mistakes=(
        Mistake(
            "bend left out",
            "That would do in a straight pipe. What does the bend do to the pull that comes through it?",
            altered(_bend_pull, factor=1.0),
        ),
        Mistake(
            "everything multiplied",
            "It looks as if all the hose was multiplied. Only the pull that has to go through the bend is.",
            lambda p: (p["before"] + p["after"]) * p["factor"],
        ),
        Mistake(
            "the wrong part multiplied",
            "It looks as if the hose on the nozzle's side was multiplied. Which part hangs on the far side of the "
            "bend, seen from the nozzle?",
            lambda p: p["before"] + p["after"] * p["factor"],
        ),
        Mistake(
            "hose before the nozzle left out",
            "That is the pull just past the bend. The hose between there and the nozzle drags as well.",
            altered(_bend_pull, after=0.0),
        ),
    ),
    hints=(
        "Start at the entry. What pull is there in the hose where it comes to the bend?",
        "Multiply that by what the bend does, then add the drag of the rest, up to the nozzle.",
    ),
    solution=lambda p, show: (
        f"At the bend there is {show(p['before'], 'force')} in the hose.\n"
        f"Past it: {p['factor']:g} × {show(p['before'], 'force')} is {show(p['before'] * p['factor'], 'force')}.\n"
        f"Up to the nozzle another {show(p['after'], 'force')} comes on: {show(_bend_pull(p), 'force')}."
    ),
)

# --- power and bite of one jet ----------------------------------------------------------------------


def _draw_power(rng):
    gauge = rng.randrange(15, 36) * 100
    return {
        "flow": _gpm(rng.randrange(12, 51) / 2.0),
        "gauge": _psi(gauge),
        "pressure": _psi(round(gauge * rng.choice((0.6, 0.65, 0.7, 0.75, 0.8, 0.85)) / 50.0) * 50),
        "count": rng.randrange(3, 9),
    }


def _one_power(p):
    return hydraulic_power(p["flow"], p["pressure"]) / p["count"]


POWER_OF_ONE = Numeric(
    id="09-power-of-one",
    title="Power of one jet",
    skills=("jet power",),
    draw=_draw_power,
    reject=lambda p: _one_power(p) < to_si(0.5, "power", "US"),
    shown={"flow": "flow", "gauge": "pressure", "pressure": "pressure"},
    ask="The gauge at the pump reads {gauge}. {pressure} is left at the nozzle, and {flow} leaves it through {count} "
    "holes of one drill. What power does each jet carry?",
    kind="power",
    answer=_one_power,
    mistakes=(
        mistakes.gauge_at_nozzle(lambda p: hydraulic_power(p["flow"], p["gauge"]) / p["count"]),
        Mistake(
            "power of all jets",
            "That is the power of all the jets together. How many share it?",
            altered(_one_power, count=1),
        ),
        Mistake(
            "the hose's share",
            "That is what the hose takes, shared out. The jets get what is left at the nozzle.",
            lambda p: hydraulic_power(p["flow"], p["gauge"] - p["pressure"]) / p["count"],
        ),
        Mistake(
            "1714 for 600",
            "The figures do not fit together. 1714 wants gpm and psi and gives hp; 600 wants L/min and bar and gives "
            "kW.",
            scaled(_one_power, 600.0 / 1714.0),
        ),
    ),
    hints=(
        "Power is flow times pressure: gpm × psi / 1714 in hp, or L/min × bar / 600 in kW. Which of the two pressures "
        "do the jets feel?",
        "Take the pressure at the nozzle. Then share the power among the holes.",
    ),
    solution=lambda p, show: (
        f"The jets feel {show(p['pressure'], 'pressure')}.\n\n"
        f"All together: {show(p['flow'], 'flow')} × {show(p['pressure'], 'pressure')} is "
        f"{show(_one_power(p) * p['count'], 'power')}.\n\n"
        f"Shared by {p['count']}: {show(_one_power(p), 'power')} each."
    ),
)


def _draw_under_water(rng):
    bore = rng.randrange(36, 61, 2) * 2.54e-5
    return {
        "bore": bore,
        "bores": rng.choice((8, 10, 12, 15, 20, 25)),
        "pressure": _psi(rng.randrange(1500, 3100, 100)),
    }


def _left_under_water(p):
    return p["pressure"] * float(submerged_velocity_ratio(p["bores"] * p["bore"], p["bore"])) ** 2


UNDER_WATER = Numeric(
    id="09-under-water",
    title="What a jet has left under water",
    skills=("distance from the wall",),
    draw=_draw_under_water,
    shown={"bore": "jet_bore", "pressure": "pressure"},
    ask="A jet of {bore} bore leaves with {pressure} behind it, in a pipe full of water. The wall is {bores} bores "
    f"away. Under water the first {CORE_LENGTH:g} bores are free; beyond that the speed falls as {CORE_LENGTH:g} over "
    "the number of bores. What pressure can the jet still put on the wall?",
    kind="pressure",
    answer=_left_under_water,
    mistakes=(
        mistakes.linear_for_square(
            lambda p: p["pressure"] * CORE_LENGTH / p["bores"],
            "That is how the speed falls. The pressure a jet can exert goes with its speed times itself.",
        ),
        Mistake(
            "nothing lost",
            "That is the pressure at the hole. Under water the jet drags still water along and slows down.",
            lambda p: p["pressure"],
        ),
        Mistake(
            "the free stretch left out",
            "It looks as if the jet slowed from the hole on. The first few bores are free.",
            lambda p: p["pressure"] / p["bores"] ** 2,
        ),
        mistakes.root_for_square(
            lambda p: p["pressure"] * math.sqrt(CORE_LENGTH / p["bores"]),
            "It looks as if a root was taken. Speed falls with the distance, and pressure goes with speed times "
            "itself.",
        ),
    ),
    hints=(
        "First the speed: divide the free bores by the number of bores to the wall. What share of the speed is left?",
        "Pressure goes with speed times speed. Square that share and multiply the pressure by it.",
    ),
    solution=lambda p, show: (
        f"Speed left: {CORE_LENGTH:g} / {p['bores']} = {CORE_LENGTH / p['bores']:.3g} of what it was.\n\n"
        f"Squared: {(CORE_LENGTH / p['bores']) ** 2:.3g}.\n\n"
        f"{(CORE_LENGTH / p['bores']) ** 2:.3g} × {show(p['pressure'], 'pressure')} is "
        f"{show(_left_under_water(p), 'pressure')}."
    ),
)

# --- choosing ---------------------------------------------------------------------------------------


def _draw_nozzles(rng):
    found = {}
    for key in "abcd":
        found[f"rear_{key}"] = rng.randrange(3, 9)
        found[f"front_{key}"] = rng.randrange(0, 4)
        found[f"angle_{key}"] = _degrees(rng.choice((15, 20, 30, 40, 50, 60, 70)))
    return found


def _score(p, key, *, angled=True, front=True):
    back = math.cos(p[f"angle_{key}"]) if angled else 1.0
    return p[f"rear_{key}"] * back - (p[f"front_{key}"] if front else 0)


def _ordered(p, **parts):
    return tuple(sorted("abcd", key=lambda key: _score(p, key, **parts)))


def _order_silly(p):
    scores = sorted(_score(p, key) for key in "abcd")
    return scores[0] < 0.3 or any(high - low < 0.35 for low, high in pairwise(scores))


def _nozzle_words(key):
    return lambda p, show: (
        f"{p[f'rear_{key}']} rear at {show(p[f'angle_{key}'], 'angle')}, {p[f'front_{key}'] or 'none'} in front"
    )


ORDER_PULL = Ordering(
    id="09-order-by-pull",
    title="From the weakest pull to the strongest",
    skills=("angle", "front against rear"),
    draw=_draw_nozzles,
    reject=_order_silly,
    ask="All the holes are of one drill, and the pressure behind each nozzle is the same. Put the nozzles in order, "
    "the weakest pull first.",
    options=tuple((key, _nozzle_words(key)) for key in "abcd"),
    answer=_ordered,
    mistakes=(
        mistakes.upside_down(
            lambda p: _ordered(p)[::-1], "The order is turned over: the weakest pull was to come first."
        ),
        Mistake(
            "front left out",
            "It looks as if the front holes were left out. Each of them takes away what a straight rear hole would "
            "give.",
            lambda p: _ordered(p, front=False),
        ),
        Mistake(
            "angle left out",
            "It looks as if holes were counted without their angle. At a wide angle a rear hole pulls little.",
            lambda p: _ordered(p, angled=False),
        ),
    ),
    hints=(
        "Count each rear hole for the cosine of its angle, and each front hole as one the other way.",
        "Rear count × cosine, less the front count. The cosines: 15° 0.97, 20° 0.94, 30° 0.87, 40° 0.77, 50° 0.64, "
        "60° 0.5, 70° 0.34.",
    ),
    solution=lambda p, show: (
        "Rear count × cosine, less the front count:\n\n"
        + "\n".join(f"{_nozzle_words(key)(p, show)}: {_score(p, key):.2f}" for key in _ordered(p))
    ),
)

_LENGTHS = "wxyz"


def _draw_lengths(rng):
    bore = rng.choice((4, 5, 6, 8, 10, 12))
    shares = {
        "w": rng.uniform(0.28, 0.46),
        "x": rng.uniform(0.6, 0.9),
        "y": rng.uniform(1.15, 1.8),
        "z": rng.uniform(2.1, 2.8),
    }
    inches = {f"length_{key}": si(f"{round(4 * bore * share) / 4} in", "pipe_bore") for key, share in shares.items()}
    return {"bore": si(f"{bore} in", "pipe_bore"), **inches}


def _shorter_than(p, bores):
    return [key for key in _LENGTHS if p[f"length_{key}"] <= bores * p["bore"]]


TURN_ROUND = MultipleChoice(
    id="09-turn-round",
    title="Which of them can turn round?",
    skills=("cautions",),
    draw=_draw_lengths,
    shown={"bore": "pipe_bore", **{f"length_{key}": "pipe_bore" for key in _LENGTHS}},
    ask="A pipe is {bore} wide. The lengths below are those of a nozzle together with the stiff hose end behind it. "
    "Which of these must NOT go into the pipe, because they could turn round in it and come back?",
    options=tuple((key, f"{{length_{key}}} long") for key in _LENGTHS),
    answer=lambda p: _shorter_than(p, 1.0),
    mistakes=(
        Mistake(
            "half the pipe taken",
            "What you ticked is right, but there is more. A stiff piece turns about its middle, so compare its whole "
            "length with the whole width of the pipe.",
            lambda p: _shorter_than(p, 0.5),
        ),
        Mistake(
            "twice the pipe taken",
            "You are on the safe side. But one of these is too long to get across a straight pipe.",
            lambda p: _shorter_than(p, 2.0),
        ),
        mistakes.upside_down(
            lambda p: [key for key in _LENGTHS if key not in _shorter_than(p, 1.0)],
            "It is the other way about. Does a long piece turn round in a pipe more easily, or a short one?",
        ),
    ),
    hints=(
        "To turn round, the piece has to stand straight across the pipe for a moment.",
        "If it is longer than the pipe is wide, it can't.",
    ),
    solution=lambda p, show: (
        f"The pipe is {show(p['bore'], 'pipe_bore')} wide. Whatever is no longer than that can get across, and so turn "
        f"round:\n\n"
        + "\n".join(f"{show(p[f'length_{key}'], 'pipe_bore')} long" for key in _shorter_than(p, 1.0))
        + "\n\nIn a branch or a chamber even a longer one can."
    ),
)

# --- a table ----------------------------------------------------------------------------------------


def _draw_angles(rng):
    return {
        "pull": _lbf(rng.randrange(20, 101) / 2.0),
        "angle_1": _degrees(rng.choice((20, 25, 30))),
        "angle_2": _degrees(rng.choice((50, 55))),
        "angle_3": _degrees(rng.choice((60, 65))),
    }


def _angles(p):
    return (0.0, p["angle_1"], p["angle_2"], p["angle_3"])


def _table_by(share):
    return lambda p: tuple(p["pull"] * share(angle) for angle in _angles(p)[1:])


ANGLE_TABLE = FillTable(
    id="09-angle-table",
    title="A table of rear angles",
    skills=("angle",),
    draw=_draw_angles,
    shown={"pull": "force"},
    ask="Rear jets that blow straight back would pull {pull}. The flow and the pressure stay as they are. Fill in the "
    "pull at the other angles.",
    columns=(("angle to the hose", "angle"), ("pull", "force")),
    rows=lambda p: tuple((angle, p["pull"] * math.cos(angle)) for angle in _angles(p)),
    blanks=((1, 1), (2, 1), (3, 1)),
    mistakes=(
        Mistake("angle as a share of 90°", _SHARE_OF_RIGHT_ANGLE, _table_by(lambda angle: 1.0 - 2.0 * angle / math.pi)),
        Mistake("sine for cosine", _SINE, _table_by(math.sin)),
        Mistake("angle left out", _ANGLE_LEFT_OUT, _table_by(lambda angle: 1.0)),
    ),
    hints=(
        "Only the part of a jet that points back along the hose pulls.",
        "Multiply by the cosine. Those in the lesson: 15° 0.97, 30° 0.87, 45° 0.71, 60° 0.5. Those between lie "
        "between.",
    ),
    solution=lambda p, show: (
        f"{show(p['pull'], 'force')} times the cosine of each angle:\n\n"
        + "\n".join(
            f"{show(angle, 'angle')}: {math.cos(angle):.3g}, {show(p['pull'] * math.cos(angle), 'force')}"
            for angle in _angles(p)
        )
    ),
)

EXERCISES = (
    PULL_AT_ANGLE,
    FRONT_AND_REAR,
    ANGLE_TABLE,
    ORDER_PULL,
    PULL_AND_PRESSURE,
    LEVEL_REACH,
    BEND,
    TURN_ROUND,
    POWER_OF_ONE,
    UNDER_WATER,
)

# --- predictions ------------------------------------------------------------------------------------

PULL_CURVE = PredictedCurve(
    id="09-pull-curve",
    title="The pull against the rear angle",
    parameters={"flow": _gpm(8.0), "pressure": _psi(2500)},
    shown={"flow": "flow", "pressure": "pressure"},
    ask="A nozzle has rear jets only: {flow} at {pressure}. Its jets are turned, step by step, from straight back "
    "along the hose (0°) to straight at the wall (90°). Sketch how hard it pulls.",
    x=("angle", "angle"),
    y=("pull", "force"),
    xs=tuple(_degrees(angle) for angle in (0.0, 22.5, 45.0, 67.5, 90.0)),
    top=_lbf(30),
    answer=lambda p, x: jet_reaction(p["flow"], p["pressure"], density=_DENSITY, angle=x),
    because="Only the part that points back pulls. A small angle costs next to nothing: at 30° seven eighths of the "
    "pull are left. A wide one costs a lot: half is gone at 60°, and all of it at 90°.",
)


def _which_way(p):
    net = p["rear"] * math.cos(p["angle"]) - p["front"]
    return "none" if abs(net) < 0.1 else "in" if net > 0 else "out"


WHICH_WAY = PredictedChoice(
    id="09-which-way",
    title="Which way does it go?",
    parameters={"rear": 4, "front": 2, "angle": _degrees(60)},
    shown={"angle": "angle"},
    ask="A nozzle has {rear} rear holes, at {angle} to the hose, and {front} front holes, straight ahead. All are of "
    "one drill. Which way does it go when the water comes?",
    options=(
        ("in", "Into the pipe: there are twice as many holes at the rear"),
        ("none", "Nowhere: front and rear hold each other"),
        ("out", "Back out of the pipe"),
    ),
    answer=_which_way,
    because="At 60° a rear hole pulls with half of what it has, so four of them pull like two. Two front holes push as "
    "hard the other way. One plugged rear hole, and such a nozzle comes back at you.",
)


def _bend_is_worse(p):
    common = {"weights": (p["weight"],), "lengths": (p["run"],), "friction": p["friction"]}
    near, far = (float(hose_tension(p["run"], bends=((p[at], math.pi / 2.0),), **common)) for at in ("near", "far"))
    return "same" if abs(near / far - 1.0) < 0.02 else "near" if near > far else "far"


BEND_PLACE = PredictedChoice(
    id="09-bend-place",
    title="A bend near, or a bend far in",
    parameters={"run": _feet(100), "near": _feet(10), "far": _feet(90), "friction": 0.4, "weight": 5.0},
    shown={"run": "length", "near": "length", "far": "length"},
    ask="Two pipes, each {run} long, each with one bend of 90°. In the first the bend is {near} from where the hose "
    "goes in, in the second {far}. In which do the jets have to pull harder to come to the end?",
    options=(
        ("near", "The first: the bend near the entry"),
        ("far", "The second: the bend far in"),
        ("same", "Both the same: it is the same bend and the same hose"),
    ),
    answer=_bend_is_worse,
    because="A bend multiplies the pull that has to go through it. Near the entry only a little hose comes before it. "
    "Far in, nearly all of it does.",
)

HALF_PRESSURE = PredictedNumber(
    id="09-half-pressure",
    title="Half the pressure",
    parameters={"pull": _lbf(20), "pressure": _psi(3000), "new_pressure": _psi(1500)},
    shown={"pull": "force", "pressure": "pressure", "new_pressure": "pressure"},
    ask="A nozzle pulls {pull} with {pressure} behind its jets. The throttle is pulled back until {new_pressure} is "
    "left. How hard does it pull now?",
    kind="force",
    answer=_new_pull,
    because="With half the pressure both the flow and the speed fall to seven tenths. Seven tenths of seven tenths is "
    "half: the pull goes in step with the pressure.",
)

PREDICTIONS = (PULL_CURVE, WHICH_WAY, BEND_PLACE, HALF_PRESSURE)
