"""Practice and predictions of lesson 09: pull of the jets, drag of the hose, bite of a jet."""

import math
from itertools import pairwise

from jetlib import tables
from jetlib.course.banks.amounts import DENSITY, POWER, feet, gpm, psi
from jetlib.course.banks.yard import DASHES, WEIGHT, draw_machine, full_mass, inches, lbf, readings
from jetlib.course.exercises import PredictedChoice, PredictedCurve, PredictedNumber
from jetlib.course.exercises.mistakes import BAR_FOR_PSI
from jetlib.course.exercises.shapes import choice, numeric, predicted, ranked, table
from jetlib.course.exercises.terms import name_it, safe_ways
from jetlib.course.exercises.worked import worked
from jetlib.physics.hose_drag import capstan_ratio, hose_tension
from jetlib.physics.jet_decay import CORE_LENGTH
from jetlib.physics.reaction import jet_reaction
from jetlib.rig.point.circuit import GRAVITY
from jetlib.units import from_si

_ANGLES = (20, 25, 30, 35, 50, 55, 60, 65)  # degrees; at 45 sine and cosine are the same
_PULL = "[0.0526|0.236] × {flow} × √({pressure})"  # lbf from gpm and psi, N from L/min and bar
_COSINE = "How much of a jet points back is its cosine: 1 at 0°, 0.87 at 30°, 0.5 at 60°, 0 at 90°."
_ANGLE_LEFT_OUT = "You let the jets blow straight back. They are at an angle, and only the part that points back pulls."
_SHARE_OF_90 = (
    "You took off the same amount for each degree. The pull falls slowly at first and fast later on: by the cosine."
)
_SINE = "You used the sine. That is the part that points at the wall. The part that points back pulls."


def _pull(flow, pressure, angle=0.0):
    return float(jet_reaction(flow, pressure, density=DENSITY, angle=angle))


def _at_nozzle(p):
    found = readings(p, "nozzle_flow", "nozzle_pressure")
    return {"flow": found["nozzle_flow"], "pressure": found["nozzle_pressure"]}


_JETS = {
    "draw": lambda rng: draw_machine(rng) | {"angle": math.radians(rng.choice(_ANGLES))},
    "given": _at_nozzle,
    "shown": {"flow": "flow", "pressure": "pressure", "angle": "angle"},
}

# --- one set of jets --------------------------------------------------------------------------------


def _jets_pull(p):
    return _pull(p["flow"], p["pressure"], p["angle"])


PULL_AT_ANGLE = numeric(
    "09-pull-at-angle",
    f"""
    Pull of the rear jets
    ask: On the {{called}} you fit a nozzle with rear jets only. {{flow}} leaves it at a nozzle pressure of
        {{pressure}}, at {{angle}} to the hose. How hard do the jets pull along the hose? Assume that the water loses no
        speed in the holes.
    hint: Work out the pull as if the jets blew straight back: 0.0526 × gpm × √psi in lbf, or 0.236 × L/min × √bar in N.
    hint: {_COSINE} Multiply by it.
    solve: Straight back: {_PULL} -> straight force
    solve: The part that points back: {{straight}} × cos({{angle}}) -> pull force
    angle left out: {_ANGLE_LEFT_OUT}
    sine for cosine: {_SINE}
    angle as a share of 90°: {_SHARE_OF_90}
    root of the pressure left out: That is far too much for a hose. Look at the pressure in the formula: it is under a
        square root.
    bar in the psi formula: You mixed the units. 0.0526 is for gpm and psi; 0.236 is for L/min and bar.
    pressure times area: You multiplied pressure by area. The force of moving water is twice that.
    """,
    kind="force",
    answer=_jets_pull,
    wrong={
        "angle left out": lambda p: _pull(p["flow"], p["pressure"]),
        "sine for cosine": lambda p: _pull(p["flow"], p["pressure"], math.pi / 2.0 - p["angle"]),
        "angle as a share of 90°": lambda p: _pull(p["flow"], p["pressure"]) * (1.0 - 2.0 * p["angle"] / math.pi),
        "root of the pressure left out": lambda p: _jets_pull(p) * math.sqrt(from_si(p["pressure"], "pressure", "US")),
        "bar in the psi formula": lambda p: _jets_pull(p) * math.sqrt(1.0 / BAR_FOR_PSI),
        "pressure times area": lambda p: 0.5 * _jets_pull(p),
    },
    skills=("pull of a jet", "angle"),
    **_JETS,
)

# --- front against rear -----------------------------------------------------------------------------


def _straight_one(p):
    """Pull of one hole if it blew straight back, N."""
    return _pull(p["flow"], p["pressure"]) / (p["rear"] + p["front"])


def _net(p, front=-1.0, cosine=None):
    cosine = math.cos(p["angle"]) if cosine is None else cosine
    return _straight_one(p) * (p["rear"] * cosine + front * p["front"])


FRONT_AND_REAR = numeric(
    "09-front-and-rear",
    f"""
    Front against rear
    ask: On the {{called}} you fit a nozzle with {{rear}} rear holes at {{angle}} to the hose and {{front}} in front,
        straight ahead; all are drilled with the same drill. {{flow}} leaves it in all, at a nozzle pressure of
        {{pressure}}. What pull along the hose is left? Assume that the water loses no speed in the holes.
    hint: Share the flow among all the holes. What does one hole pull if it blows straight back?
    hint: Rear: count × that × the cosine. Front: count × that. Subtract the front from the rear.
    solve: All holes straight back: {_PULL} -> straight force
    solve: One of them: {{straight}} / ({{rear}} + {{front}}) -> one force
    solve: Rear: {{rear}} × {{one}} × cos({{angle}}) -> back force
    solve: Front, the other way: {{front}} × {{one}} -> ahead force
    solve: What is left: {{back}} − {{ahead}} -> net force
    front left out: That is the pull of the rear jets. The front jets push the other way.
    front added: You added the front jets. Which way do they push the nozzle?
    holes counted without their angle: You counted rear holes against front holes. A rear hole at an angle pulls less
        than a front hole pushes.
    all the water sent to the rear: You sent all the flow out at the rear. The front holes get their share of it.
    """,
    kind="force",
    answer=_net,
    wrong={
        "front left out": lambda p: _net(p, front=0.0),
        "front added": lambda p: _net(p, front=1.0),
        "holes counted without their angle": lambda p: _net(p, cosine=1.0),
        "all the water sent to the rear": _jets_pull,
    },
    skills=("pull of a jet", "angle", "front against rear"),
    reject=lambda p: _net(p) < 0.8 * _straight_one(p),
    **_JETS | {"draw": lambda rng: _JETS["draw"](rng) | {"rear": rng.randrange(3, 9), "front": rng.randrange(1, 3)}},
)

# --- pull and pressure ------------------------------------------------------------------------------


def _two_pressures(p):
    now, then = (readings({**p, "throttle": at}, "nozzle_pressure", "reaction") for at in (p["throttle"], p["other"]))
    return {"pull": now["reaction"], "pressure": now["nozzle_pressure"], "new_pressure": then["nozzle_pressure"]}


PULL_AND_PRESSURE = numeric(
    "09-pull-and-pressure",
    """
    Another throttle, another pull
    ask: The nozzle of the {called} pulls {pull} at a nozzle pressure of {pressure}. You move the throttle, and now the
        nozzle pressure is {new_pressure}. Same jets. How hard does it pull?
    hint: Pull is proportional to flow times the speed of the water. How does each of them change with the pressure, at
        the same jets?
    hint: Both are proportional to the square root of the pressure. A root times the same root is the number itself: the
        pull is proportional to the pressure.
    solve: {pull} × {new_pressure} / {pressure} -> pulls force
    linear instead of square root: You used one square root. With the pressure both the flow and the speed of the water
        change: two roots.
    pull left as it was: You left the pull as it was. Both the flow and the speed of the water have changed.
    """,
    kind="force",
    wrong={
        "linear instead of square root": "{pull} × √({new_pressure} / {pressure})",
        "square instead of linear": "{pull} × ({new_pressure} / {pressure})²",
        "ratio upside down": "{pull} × {pressure} / {new_pressure}",
        "pull left as it was": "{pull}",
    },
    skills=("pull follows pressure",),
    draw=lambda rng: draw_machine(rng) | {"other": rng.choice((0.3, 0.4, 0.5, 0.6, 0.7, 1.0))},
    given=_two_pressures,
    shown={"pull": "force", "pressure": "pressure", "new_pressure": "pressure"},
)

# --- reach ------------------------------------------------------------------------------------------


def _draw_hose(rng):
    machine = draw_machine(rng, throttles=(0.7, 0.8, 0.9, 1.0))
    return machine | {"dash": rng.choice(DASHES[machine["rig"]]), "friction": rng.choice((0.3, 0.35, 0.4, 0.45, 0.5))}


def _pulled_hose(p):
    return {"pull": readings(p, "reaction")["reaction"], "weight": full_mass(p["dash"])}


def _reach(p, friction=None):
    return p["pull"] / ((p["friction"] if friction is None else friction) * p["weight"] * GRAVITY)


LEVEL_REACH = numeric(
    "09-level-reach",
    f"""
    How far on the level
    ask: The jets of the {{called}} pull {{pull}} along the hose. A -{{dash}} hose weighs {{weight}} full of water, and
        its friction on the pipe is {{friction}}. How far into a level pipe without bends do the jets pull it?
    hint: How hard does one foot, or one meter, of this hose drag? Friction times its weight.
    hint: Divide the pull by that. In metric units, first convert kilograms to newtons: times 9.81.
    solve: Drag of each [foot|meter], in [lbf|N]: {{friction}} × {{weight}} × {WEIGHT} -> drag
    solve: Pull divided by drag: {{pull}} / {{drag}} -> reach length
    friction left out: You made the jets lift the hose. They only drag it: the pipe carries the weight.
    friction upside down: You multiplied by the friction. Does less friction let the hose go less far?
    kilograms taken as newtons: You divided newtons by kilograms. A kilogram weighs 9.81 N.
    friction taken off: You subtracted the friction as a share of the weight. The drag is friction times weight.
    """,
    kind="length",
    answer=_reach,
    wrong={
        "friction left out": lambda p: _reach(p, 1.0),
        "friction upside down": lambda p: _reach(p, 1.0 / p["friction"]),
        "kilograms taken as newtons": lambda p: _reach(p) * GRAVITY,
        "friction taken off": lambda p: _reach(p, 1.0 - p["friction"]),
    },
    skills=("drag of the hose", "reach"),
    draw=_draw_hose,
    given=_pulled_hose,
    reject=lambda p: not feet(10) <= _reach(p) <= feet(400),
    shown={"pull": "force", "weight": "mass_per_length"},
)

# --- a bend -----------------------------------------------------------------------------------------


def _draw_bend(rng):
    return _draw_hose(rng) | {
        "friction": rng.choice((0.3, 0.4, 0.5)),
        "turned": math.radians(rng.choice((45, 60, 90, 180))),
        "run_1": feet(rng.choice((25, 50, 75, 100))),
        "run_2": feet(rng.choice((25, 50, 75, 100))),
    }


def _either_side(p):
    each = p["friction"] * _pulled_hose(p)["weight"] * GRAVITY
    factor = round(float(capstan_ratio(p["friction"], p["turned"])), 2)
    return {"before": each * p["run_1"], "after": each * p["run_2"], "factor": factor}


BEND = numeric(
    "09-bend",
    """
    Round a bend
    ask: A pipe has one bend of {turned}. The hose between the entry and the bend drags with {before}. The hose between
        the bend and the nozzle drags with {after}. At a friction of {friction} such a bend multiplies the pull by
        {factor}. How hard must the jets pull?
    hint: Start at the entry. How much pull is in the hose where it reaches the bend?
    hint: Multiply that by the factor of the bend, then add the drag of the rest, up to the nozzle.
    solve: Past the bend: {factor} × {before} -> past force
    solve: At the nozzle: {past} + {after} -> needed force
    bend left out: That would do in a straight pipe. What does the bend do to the pull that goes through it?
    everything multiplied: You multiplied all of the drag. Only the pull that has to go through the bend is multiplied.
    the wrong part multiplied: You multiplied the hose on the nozzle's side. Which part has to be pulled through the
        bend?
    hose before the nozzle left out: That is the pull just past the bend. The hose from there to the nozzle drags as
        well.
    """,
    kind="force",
    wrong={
        "bend left out": "{before} + {after}",
        "everything multiplied": "({before} + {after}) × {factor}",
        "the wrong part multiplied": "{before} + {after} × {factor}",
        "hose before the nozzle left out": "{past}",
    },
    skills=("drag of the hose", "bends"),
    draw=_draw_bend,
    given=_either_side,
    reject=lambda p: abs(p["before"] / p["after"] - 1.0) < 0.2,
    shown={"turned": "angle", "before": "force", "after": "force", "run_1": "length", "run_2": "length"},
)

# --- power and bite of one jet ----------------------------------------------------------------------


def _gauge_and_nozzle(p):
    return readings(p, "gauge") | _at_nozzle(p)


def _share_of_hose(p):
    power = p["flow"] * (p["gauge"] - p["pressure"]) / p["count"]
    return power if power > 100.0 else None  # less is not read as the power of anything


POWER_OF_ONE = numeric(
    "09-power-of-one",
    f"""
    Power of one jet
    ask: The gauge on the {{called}} reads {{gauge}}. The nozzle pressure is {{pressure}}, and {{flow}} leaves the
        nozzle through {{count}} holes of one size. How much power does each jet carry?
    hint: Power is flow × pressure: gpm × psi / 1714 in hp, or L/min × bar / 600 in kW. Which of the two pressures do
        the jets feel?
    hint: Use the nozzle pressure. Then share the power among the holes.
    solve: All jets: {{flow}} × {{pressure}} / {POWER} -> all power
    solve: Each of them: {{all}} / {{count}} -> one power
    power of all jets: That is the power of all the jets together. How many share it?
    the hose's share: That is the power lost in the hose, shared out. The jets get what is left at the nozzle.
    1714 for 600: You mixed the units. 1714 is for gpm and psi and gives hp; 600 is for L/min and bar and gives kW.
    """,
    kind="power",
    answer=lambda p: p["flow"] * p["pressure"] / p["count"],
    wrong={
        "gauge taken as nozzle pressure": lambda p: p["flow"] * p["gauge"] / p["count"],
        "power of all jets": lambda p: p["flow"] * p["pressure"],
        "the hose's share": _share_of_hose,
        "1714 for 600": lambda p: p["flow"] * p["pressure"] / p["count"] * 1714.0 / 600.0,
    },
    skills=("jet power",),
    draw=lambda rng: draw_machine(rng, throttles=(0.7, 0.8, 0.9, 1.0)) | {"count": rng.randrange(3, 9)},
    given=_gauge_and_nozzle,
    reject=lambda p: p["flow"] * p["pressure"] / p["count"] < 150.0,
    shown={"flow": "flow", "gauge": "pressure", "pressure": "pressure"},
)

UNDER_WATER = numeric(
    "09-under-water",
    """
    What a jet has left under water
    ask: A jet of {bore} bore leaves the nozzle of the {called} at a nozzle pressure of {pressure}, in a pipe full of
        water. The wall is {bores} bores away. Under water the first {core} bores are free; beyond that the jet's speed
        falls as {core} divided by the number of bores. What pressure can the jet still put on the wall?
    hint: First the speed of the jet: divide the free bores by the number of bores to the wall. What share is left?
    hint: Pressure is proportional to that speed squared. Square the share and multiply the pressure by it.
    solve: Share of the speed: {core} / {bores} -> share
    solve: On the wall: {pressure} × {share}² -> left pressure
    linear instead of square: That is how the jet's speed falls. Its pressure is proportional to the speed squared.
    nothing lost: That is the pressure at the hole. Under water the jet drags still water along and slows down.
    the free stretch left out: You slowed the jet from the hole on. The first few bores are free.
    square root instead of square: You used a square root. The jet's speed falls with the distance, and its pressure is
        proportional to that speed squared.
    """,
    kind="pressure",
    wrong={
        "linear instead of square": "{pressure} × {core} / {bores}",
        "nothing lost": "{pressure}",
        "the free stretch left out": lambda p: p["pressure"] / p["bores"] ** 2 if p["bores"] < 16 else None,
        "square root instead of square": "{pressure} × √({core} / {bores})",
    },
    skills=("distance from the wall",),
    draw=lambda rng: draw_machine(rng) | {"bores": rng.choice((8, 10, 12, 15, 20, 25)), "drill": rng.randrange(53, 74)},
    given=lambda p: _at_nozzle(p) | {"bore": tables.drill(f"#{p['drill']}").diameter, "core": int(CORE_LENGTH)},
    shown={"bore": "jet_bore", "pressure": "pressure"},
)

# --- choosing ---------------------------------------------------------------------------------------


def _draw_nozzles(rng):
    found = {}
    for key in "abcd":
        found[f"rear_{key}"] = rng.randrange(3, 9)
        found[f"front_{key}"] = rng.randrange(0, 4)
        found[f"angle_{key}"] = math.radians(rng.choice((15, 20, 30, 40, 50, 60, 70)))
    return found


def _score(p, key, *, angled=True, front=True):
    back = math.cos(p[f"angle_{key}"]) if angled else 1.0
    return p[f"rear_{key}"] * back - (p[f"front_{key}"] if front else 0)


def _nearly_alike(p):
    scores = sorted(_score(p, key) for key in "abcd")
    return scores[0] < 0.3 or any(high - low < 0.35 for low, high in pairwise(scores))


ORDER_PULL = ranked(
    "09-order-by-pull",
    """
    From the weakest pull to the strongest
    ask: All the holes are drilled with one drill, and the nozzle pressure is the same. Put the nozzles in order, the
        weakest pull first.
    item: {rear} rear at {angle}, {front} in front
    hint: Count each rear hole as the cosine of its angle, and each front hole as one the other way.
    hint: Rear count × cosine − front count. The cosines: 15° 0.97, 20° 0.94, 30° 0.87, 40° 0.77, 50° 0.64, 60° 0.5, 70°
        0.34.
    solve: Rear count × cosine − front count:
    ratio upside down: Your order is the wrong way round: the weakest pull is first.
    front left out: You left the front holes out. Each of them cancels what a straight rear hole would give.
    angle left out: You counted holes without their angle. At a wide angle a rear hole pulls little.
    """,
    by=_score,
    kind="ratio",
    total=("{rear} × cos({angle}) − {front}", None),
    wrong={
        "ratio upside down": "reversed",
        "front left out": lambda p, key: _score(p, key, front=False),
        "angle left out": lambda p, key: _score(p, key, angled=False),
    },
    apart=1.0,
    skills=("angle", "front against rear"),
    draw=_draw_nozzles,
    reject=_nearly_alike,
    shown={},
    item_kinds={"rear": None, "angle": "angle", "front": None},
)

_LENGTHS = {"w": (0.3, 0.46), "x": (0.6, 0.9), "y": (1.15, 1.4), "z": (2.1, 2.8)}  # in bores of the pipe


def _draw_lengths(rng):
    bore = rng.choice((4, 5, 6, 8, 10, 12))
    lengths = {key: round(2 * bore * rng.uniform(*shares)) / 2 for key, shares in _LENGTHS.items()}
    return {"bore": inches(bore)} | {f"length_{key}": inches(length) for key, length in lengths.items()}


def _shorter_than(p, bores):
    return [key for key in _LENGTHS if p[f"length_{key}"] <= bores * p["bore"]]


TURN_ROUND = choice(
    "09-turn-round",
    """
    Which of them can turn round?
    ask: A pipe has a bore of {bore}. Below are rigid nozzle lengths: the nozzle together with the rigid end fitting
        behind it. Which of these must NOT go into the pipe, because the nozzle can turn round and come back at you?
    hint: To turn round, the rigid length has to fit straight across the pipe for a moment.
    hint: 1.0 bore or less is a no-go. Up to 1.5 bores calls for caution: at a joint or a branch there is more room.
    option w: {length_w} long
    option x: {length_x} long
    option y: {length_y} long
    option z: {length_z} long
    half the pipe taken: What you ticked is right, but there is more. A rigid piece turns about its middle, so compare
        its whole length with the whole bore of the pipe.
    ratio upside down: It is the other way round. Does a long piece turn round in a pipe more easily, or a short one?
    only the cautious one: That one calls for caution. Shorter ones turn round even more easily.
    """,
    many=True,
    answer=lambda p: _shorter_than(p, 1.0),
    cautious=lambda p: [key for key in _shorter_than(p, 1.5) if key not in _shorter_than(p, 1.0)],
    wrong={
        "half the pipe taken": ("w",),
        "ratio upside down": lambda p: [key for key in _LENGTHS if key not in _shorter_than(p, 1.0)],
        "only the cautious one": ("y",),
    },
    solution=worked(
        {"bore": "pipe_bore"} | {f"length_{key}": "pipe_bore" for key in _LENGTHS},
        "Rigid length divided by the bore of the pipe:",
        lambda p: [
            step
            for key in _LENGTHS
            for step in (
                (f"{{length_{key}}} / {{bore}}", f"bores_{key}", None),
                "NO GO: it can turn round." if key in _shorter_than(p, 1.0)
                else "Caution: leave it out, or fit a longer rigid piece." if key in _shorter_than(p, 1.5)
                else "Long enough for a straight pipe.",
            )
        ],
        "In a branch or a chamber even a longer nozzle can turn round.",
    ),
    skills=("cautions",),
    draw=_draw_lengths,
    shown={"bore": "pipe_bore"} | {f"length_{key}": "pipe_bore" for key in _LENGTHS},
)  # fmt: skip

# --- a table ----------------------------------------------------------------------------------------


def _draw_angles(rng):
    wide = {"angle_1": (20, 25, 30), "angle_2": (50, 55), "angle_3": (60, 65)}
    return draw_machine(rng) | {name: math.radians(rng.choice(angles)) for name, angles in wide.items()}


def _table_by(share):
    return lambda p: tuple(p["pull"] * share(p[f"angle_{at}"]) for at in (1, 2, 3))


_ANGLE_KINDS = {"pull": "force"} | {f"angle_{at}": "angle" for at in (1, 2, 3)}

ANGLE_TABLE = table(
    "09-angle-table",
    f"""
    A table of rear angles
    ask: Rear jets that blow straight back would give the {{called}} a pull of {{pull}}. Flow and pressure stay as they
        are. Fill in the pull at the other angles.
    hint: Only the part of a jet that points back along the hose pulls.
    hint: Multiply by the cosine. Those in the lesson: 15° 0.97, 30° 0.87, 45° 0.71, 60° 0.5. Those between are between.
    angle as a share of 90°: {_SHARE_OF_90}
    sine for cosine: {_SINE}
    angle left out: {_ANGLE_LEFT_OUT}
    """,
    columns=(("angle to the hose", "angle"), ("pull", "force")),
    rows=lambda p: (
        (0.0, p["pull"]),
        *((p[f"angle_{at}"], p["pull"] * math.cos(p[f"angle_{at}"])) for at in (1, 2, 3)),
    ),
    blanks=((1, 1), (2, 1), (3, 1)),
    solution=worked(
        _ANGLE_KINDS,
        lambda p: [
            (f"{{pull}} × cos({{angle_{at}}})", f"pull_{at}", "force", p["pull"] * math.cos(p[f"angle_{at}"]))
            for at in (1, 2, 3)
        ],
    ),
    wrong={
        "angle as a share of 90°": _table_by(lambda angle: 1.0 - 2.0 * angle / math.pi),
        "sine for cosine": _table_by(math.sin),
        "angle left out": _table_by(lambda angle: 1.0),
    },
    skills=("angle",),
    draw=_draw_angles,
    given=lambda p: {"pull": _pull(**_at_nozzle(p))},
    shown=_ANGLE_KINDS,
)

# --- words and safe working -------------------------------------------------------------------------

TERMS = name_it(
    "09-terms",
    """
    thrust | the force with which the rear jets pull the hose into the pipe | drag
    drag | the force with which the hose rubs on the pipe and holds back | thrust
    rear jet | a hole that points back and moves the nozzle into the pipe | front jet
    front jet | a hole that points ahead, cuts what is in the way, and pushes the nozzle back | rear jet
    rigid nozzle length | the nozzle and all that does not bend behind it, measured together | reach
    reach | how far into the pipe the nozzle gets by itself | rigid nozzle length
    nozzle extension | a rigid tube that keeps a short nozzle from turning round | leader hose
    leader hose | a flexible, light length at the nozzle that goes round bends | nozzle extension
    """,
)

SAFE_ENTRY = safe_ways(
    "09-safe-entry",
    """
    You put the nozzle into the pipe and start. Which of these ways of working are safe?
    safe deep: Push the nozzle well into the pipe before the pump starts, and guard the opening
    safe mark: Mark the hose so that you see on the way back when the nozzle is near the opening
    safe stop: Stop the pump and relieve the pressure while the nozzle is still inside the pipe
    safe hold: Have a second person at the hold-to-run control or dump valve, ready to let go
    unsafe shows: Start with the rear jets still in sight, to see that all of them run | Rear jets point at anybody
        behind them. They belong inside the pipe before anything starts
    unsafe short: Fit a shorter nozzle, since it goes round the bends more easily | A rigid length below 1.0 bore can
        turn round and come back at you, and below 1.5 bores there is little margin
    unsafe stand: Stand in line with the opening to watch the nozzle come back | A nozzle that comes out under pressure
        hits anybody in line with it
    unsafe front: Drill the front jets larger until the nozzle hardly pulls | If one rear jet plugs, such a nozzle comes
        back at you
    """,
)

EXERCISES = (
    PULL_AT_ANGLE, FRONT_AND_REAR, ANGLE_TABLE, ORDER_PULL, PULL_AND_PRESSURE, LEVEL_REACH, BEND, TURN_ROUND,
    POWER_OF_ONE, UNDER_WATER, TERMS, SAFE_ENTRY,
)  # fmt: skip

# --- predictions ------------------------------------------------------------------------------------

PULL_CURVE = predicted(
    PredictedCurve,
    "09-pull-curve",
    """
    The pull against the rear angle
    ask: A nozzle has rear jets only: {flow} at a nozzle pressure of {pressure}. Its jets are turned, step by step, from
        straight back along the hose (0°) to straight at the wall (90°). Sketch how hard it pulls.
    because: Only the part that points back pulls. A small angle costs little: at 30° 87 % of the pull is left. A wide
        angle costs a lot: half is gone at 60°, and all of it at 90°.
    """,
    parameters={"flow": gpm(8.0), "pressure": psi(2500)},
    shown={"flow": "flow", "pressure": "pressure"},
    x=("angle", "angle"),
    y=("pull", "force"),
    xs=tuple(math.radians(angle) for angle in (0.0, 22.5, 45.0, 67.5, 90.0)),
    top=lbf(30),
    answer=lambda p, x: jet_reaction(p["flow"], p["pressure"], density=DENSITY, angle=x),
)


def _which_way(p):
    net = p["rear"] * math.cos(p["angle"]) - p["front"]
    return "none" if abs(net) < 0.1 else "in" if net > 0 else "out"


WHICH_WAY = predicted(
    PredictedChoice,
    "09-which-way",
    """
    Which way does it go?
    ask: A nozzle has {rear} rear holes, at {angle} to the hose, and {front} front holes, straight ahead. All are
        drilled with one drill. Which way does the nozzle go when the water starts?
    option in: Into the pipe: there are twice as many holes at the rear
    option none: Nowhere: front and rear cancel each other
    option out: Back out of the pipe
    because: At 60° a rear hole pulls with half its force, so four of them pull like two. Two front holes push as hard
        the other way. If one rear hole plugs, such a nozzle comes back at you.
    """,
    parameters={"rear": 4, "front": 2, "angle": math.radians(60)},
    shown={"angle": "angle"},
    answer=_which_way,
)


def _bend_is_worse(p):
    common = {"weights": (p["weight"],), "lengths": (p["run"],), "friction": p["friction"]}
    near, far = (float(hose_tension(p["run"], bends=((p[at], math.pi / 2.0),), **common)) for at in ("near", "far"))
    return "same" if abs(near / far - 1.0) < 0.02 else "near" if near > far else "far"


BEND_PLACE = predicted(
    PredictedChoice,
    "09-bend-place",
    """
    A bend near, or a bend far in
    ask: Two pipes, each {run} long, each with one bend of 90°. In the first the bend is {near} from where the hose goes
        in, in the second {far}. In which do the jets have to pull harder to reach the end?
    option near: The first: the bend near the entry
    option far: The second: the bend far in
    option same: Both the same: it is the same bend and the same hose
    because: A bend multiplies the pull that has to go through it. Near the entry there is only a little hose before it.
        Far in, nearly all of the hose has to be pulled through it.
    """,
    parameters={"run": feet(100), "near": feet(10), "far": feet(90), "friction": 0.4, "weight": 5.0},
    shown={"run": "length", "near": "length", "far": "length"},
    answer=_bend_is_worse,
)

HALF_PRESSURE = predicted(
    PredictedNumber,
    "09-half-pressure",
    """
    Half the pressure
    ask: A nozzle pulls {pull} at a nozzle pressure of {pressure}. You close the throttle until {new_pressure} is left.
        How hard does the nozzle pull now?
    because: At half the pressure both the flow and the speed of the jets fall to 0.71 of what they were, and 0.71 ×
        0.71 = 0.5: the pull is proportional to the pressure.
    """,
    parameters={"pull": lbf(20), "pressure": psi(3000), "new_pressure": psi(1500)},
    shown={"pull": "force", "pressure": "pressure", "new_pressure": "pressure"},
    kind="force",
    answer=lambda p: p["pull"] * p["new_pressure"] / p["pressure"],
)

PREDICTIONS = (PULL_CURVE, WHICH_WAY, BEND_PLACE, HALF_PRESSURE)
