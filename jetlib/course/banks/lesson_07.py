"""Practice and predictions of lesson 07, choosing hose."""

import math
from functools import cache

import numpy as np

from jetlib import tables
from jetlib.course.banks.amounts import DENSITY, feet, gpm
from jetlib.course.banks.yard import WEIGHT, draw_machine, full_mass, likely_surge, loss, rig_of
from jetlib.course.exercises import PredictedChoice, PredictedCurve, PredictedNumber
from jetlib.course.exercises.shapes import choice, numeric, predicted, ranked, table
from jetlib.course.exercises.terms import name_it, safe_ways
from jetlib.course.exercises.worked import worked
from jetlib.rig.hoses.weight import USUAL_FRICTION, bend_room, water_mass
from jetlib.rig.parts.machine import Hose
from jetlib.rig.parts.rig_file import demo_rig
from jetlib.rig.point.circuit import GRAVITY
from jetlib.rig.point.operating_point import operating_point

_ROUGHNESS = tables.roughness("rubber hose inner tube").typical
_RESERVE = 0.10

# --- weight -----------------------------------------------------------------------------------------


def _hose_weight(p):
    return p["length"] * (p["empty"] + water_mass(p["bore"], density=DENSITY))


def _from_table(p):
    size = tables.hose(p["dash"])
    return {"bore": size.bore, "empty": size.mass_per_metre}


WEIGHT_FULL = numeric(
    "07-weight-full",
    """
    What a hose weighs at work
    ask: A -{dash} hose has a bore of {bore} and weighs {empty} empty. What does {length} of it weigh when it is full of
        water?
    hint: How much water does one foot, or one meter, of this bore hold?
    hint: Water in each foot, in lb: 0.34 × bore × bore, with the bore in inches. In each meter, in kg: 0.000785 × bore
        × bore, with the bore in mm. Add the weight of the hose, then multiply by the length.
    solve: Water in each [foot|meter]: [0.34|0.000785] × {bore} × {bore} -> water mass_per_length
    solve: With the hose: {water} + {empty} -> full mass_per_length
    solve: The whole length: {length} × {full} -> all mass
    water left out: That is the empty hose. At work it is full of water.
    hose left out: That is the water alone. The hose has a weight of its own.
    one foot only: That is the weight of one foot. How many feet are there?
    one metre only: That is the weight of one meter. How many meters are there?
    """,
    kind="mass",
    answer=_hose_weight,
    wrong={
        "water left out": lambda p: p["length"] * p["empty"],
        "hose left out": lambda p: _hose_weight({**p, "empty": 0.0}),
        "diameter taken as radius": lambda p: _hose_weight({**p, "bore": 2.0 * p["bore"]}),
        "one foot only": lambda p: _hose_weight({**p, "length": feet(1.0)}),
        "one metre only": lambda p: _hose_weight({**p, "length": 1.0}),
    },
    skills=("weight full of water",),
    draw=lambda rng: {"dash": rng.choice((3, 4, 5, 6, 8, 10, 12)), "length": feet(rng.randrange(50, 401, 50))},
    given=_from_table,
    shown={"bore": "bore", "empty": "mass_per_length", "length": "length"},
)

# --- working pressure -------------------------------------------------------------------------------


def _plate(p):
    """What a yard machine's line has to be rated for, as parameters."""
    unloader = rig_of(p).unloader
    setting, rise = float(unloader.setting), float(unloader.rise)
    more = 1.0 + p.get("reserve", _RESERVE)
    return {"setting": setting, "rise": rise, "surge": likely_surge(p), "up": 1.0 + rise, "more": more}


def _needed(p):
    return (p["setting"] * p["up"] + p["surge"]) * p["more"]


_PLATE_KINDS = {"hose": "length", "setting": "pressure", "rise": "fraction", "surge": "pressure"}
_TO_BE_RATED = (
    ("Setting and rise: {setting} × {up}", "steady", "pressure"),
    ("With the surge: {steady} + {surge}", "peak", "pressure"),
    ("With the reserve: {peak} × {more}", "needed", "pressure"),
)
_RULE = "The valve's setting, its rise and a surge count against the working pressure; the reserve comes on top."
_ON_IT = """The bypass valve of the {called} is set to {setting}. If the nozzle plugs, the gauge reading rises {rise}
        above that. If all jets shut at once, the water in the {hose} hose adds a surge of {surge}."""

MARKED_FOR = numeric(
    "07-marked-for",
    """
    What the hose must be rated for
    ask: ON_IT You want a reserve of {reserve} on top of all that. What working pressure must the hose have, at least?
    hint: First: how high can the pressure rise with the nozzle plugged? Then add the surge.
    hint: Multiply the setting by 1 plus the rise (8 % is 0.08). Add the surge. Multiply by 1 plus the reserve.
    reserve left out: You found the highest pressure in the line. The reserve is still missing.
    surge left out: You left the surge out. It lasts only a moment, but it counts against the working pressure.
    rise left out: You started from the setting. With the nozzle plugged the gauge reading rises above it.
    taken off: You subtracted. Must the hose be rated for more than the setting, or for less?
    """.replace("ON_IT", _ON_IT),
    kind="pressure",
    answer=_needed,
    solution=worked(_PLATE_KINDS | {"reserve": "fraction"}, *_TO_BE_RATED, _RULE, answer=_needed),
    wrong={
        "reserve left out": lambda p: _needed({**p, "more": 1.0}),
        "surge left out": lambda p: _needed({**p, "surge": 0.0}),
        "rise left out": lambda p: _needed({**p, "up": 1.0}),
        "taken off": lambda p: p["setting"] * (2.0 - p["up"]) * (2.0 - p["more"]),
    },
    tolerance=0.015,
    skills=("working pressure",),
    draw=lambda rng: draw_machine(rng) | {"reserve": rng.choice((0.10, 0.15, 0.20, 0.25))},
    given=_plate,
    shown=_PLATE_KINDS | {"reserve": "fraction"},
)


def _draw_four_hoses(rng):
    rows = rng.sample(range(len(tables.hoses())), 4)
    return draw_machine(rng) | {f"row_{key}": row for key, row in zip("abcd", rows, strict=True)}


def _four_hoses(p):
    rows = {key: tables.hoses()[p[f"row_{key}"]] for key in "abcd"}
    names = {f"hose_{key}": row.label for key, row in rows.items()}
    return _plate(p) | names | {f"rated_{key}": row.working_pressure for key, row in rows.items()}


def _strong(p, needed=None):
    needed = _needed(p) if needed is None else needed
    return [key for key in "abcd" if p[f"rated_{key}"] >= needed]


def _hoses_silly(p):
    trap = len(_strong(p, p["setting"])) > len(_strong(p))  # rated for the setting, but not for what the line needs
    near = any(abs(p[f"rated_{key}"] / _needed(p) - 1.0) < 0.03 for key in "abcd")
    return near or not _strong(p) or not trap


def _unless(keys, answer):
    return keys if keys and keys != answer else None


_FOUR_KINDS = _PLATE_KINDS | {f"rated_{key}": "pressure" for key in "abcd"}

ENOUGH_PRESSURE = choice(
    "07-enough-pressure",
    """
    Which hoses can go on?
    ask: ON_IT You keep a reserve of 10 % on top of all that. Which of these hoses have enough working pressure?
    hint: First calculate what the line needs: setting, rise, surge, reserve.
    hint: Multiply the setting by 1 plus the rise, add the surge, and multiply by 1.1. A hose is strong enough if its
        rating is that or more.
    option a: {hose_a}, rated for {rated_a}
    option b: {hose_b}, rated for {rated_b}
    option c: {hose_c}, rated for {rated_c}
    option d: {hose_d}, rated for {rated_d}
    held against the setting alone: You compared the ratings with the setting alone. The rise, the surge and the reserve
        are missing.
    turned over: You ticked the hoses that are too weak. The rating must be at least what the line needs.
    only the strongest: That one can go on, but it is not the only one.
    """.replace("ON_IT", _ON_IT),
    many=True,
    answer=_strong,
    wrong={
        "held against the setting alone": lambda p: _unless(_strong(p, p["setting"]), _strong(p)),
        "turned over": lambda p: [key for key in "abcd" if key not in _strong(p)],
        "only the strongest": lambda p: _unless([max("abcd", key=lambda key: p[f"rated_{key}"])], _strong(p)),
    },
    solution=worked(
        _FOUR_KINDS,
        *_TO_BE_RATED,
        lambda p: [
            f"{{hose_{key}}}, {{rated_{key}}}: {'enough' if key in _strong(p) else 'NOT enough'}" for key in "abcd"
        ],
        _RULE,
    ),
    skills=("working pressure",),
    draw=_draw_four_hoses,
    given=_four_hoses,
    reject=_hoses_silly,
    shown=_FOUR_KINDS,
)


@cache
def _editions():
    """(older, newer) rows of one size and standard whose working pressure was raised."""
    rows = [row for row in tables.hoses() if row.standard == "SAE 100R2AT"]
    old, new = ({row.dash: row for row in rows if row.edition == edition} for edition in ("2003", "2006"))
    return tuple(
        (old[dash], new[dash]) for dash in sorted(old) if new[dash].working_pressure > old[dash].working_pressure
    )


def _draw_edition(rng):
    old, new = rng.choice(_editions())
    low, high = old.working_pressure, new.working_pressure
    share = rng.choice((rng.uniform(0.75, 0.93), rng.uniform(1.03, 0.98 * high / low)))
    return {"dash": old.dash, "printed": low, "newer": high, "needed": low * share}


def _verdict(p):
    return "printed-yes" if p["printed"] >= p["needed"] else "printed-no"


EDITION = choice(
    "07-edition",
    """
    Two figures for one hose
    ask: An older -{dash} hose, SAE 100R2AT, has a working pressure of {printed} printed on it. A table of a newer
        edition says {newer} for this size. Your line needs {needed}, with surge and reserve. Can the hose go on?
    hint: Which of the two figures was this very hose made to?
    hint: Compare what is printed on the hose with what the line needs.
    option printed-yes: Yes: what is printed on the hose is enough
    option printed-no: No: what is printed on the hose is not enough
    option table-yes: Yes: the newest table counts, and it is enough
    option burst-yes: Yes: a hose does not burst below four times its working pressure
    newer table for an older hose: The newer figure is for hoses that were made to the newer edition. This one was not.
    burst pressure taken for working pressure: Burst pressure is for a new hose on a test bench, once. It is not a
        margin that you can use: surges, heat and wear have to stay inside the working pressure.
    printed figure misread: You went by the right figure. Compare it once more with what the line needs.
    """,
    answer=_verdict,
    wrong={
        "newer table for an older hose": "table-yes",
        "burst pressure taken for working pressure": "burst-yes",
        "printed figure misread": lambda p: "printed-no" if _verdict(p) == "printed-yes" else "printed-yes",
    },
    solution=lambda p, show: (
        f"What is printed on the hose counts: {show(p['printed'], 'pressure')}. The line needs "
        f"{show(p['needed'], 'pressure')}. It {'can' if _verdict(p) == 'printed-yes' else 'must not'} go on."
    ),
    skills=("working pressure", "editions"),
    draw=_draw_edition,
    given=None,
    reject=lambda p: abs(p["needed"] / p["printed"] - 1.0) < 0.025,
    shown={"printed": "pressure", "newer": "pressure", "needed": "pressure"},
)

# --- round the bend ---------------------------------------------------------------------------------


def _draw_bend(rng):
    size = tables.hose(rng.choice((3, 4, 5, 6, 8)))
    pipe = rng.choice([row for row in tables.pipes() if 0.048 <= row.inside_diameter <= 0.11])
    return {"dash": size.dash, "outside": size.outside_diameter_max, "pipe": pipe.inside_diameter}


BEND_ROOM = numeric(
    "07-bend-room",
    """
    Room in a tight bend
    ask: A pipe with a bore of {pipe} has a tight bend of 90°. A -{dash} hose is {outside} thick, measured outside. What
        is the largest radius that the hose can keep on its way round?
    hint: The rule is in the lesson: a number times the bore of the pipe, minus a number times the outside of the hose.
    hint: 3.41 × bore of the pipe − 2.91 × outside of the hose, both in the same unit.
    solve: 3.41 × {pipe} − 2.91 × {outside} -> room pipe_bore
    hose taken as thin as a thread: You left the outside of the hose out. A thick hose has less room to swing wide.
    outside not multiplied: You subtracted the outside of the hose once. It touches the wall before, in and after the
        bend: look at the rule again.
    pipe not multiplied: Your answer is less than the width of the pipe. The hose cuts the corner and swings wide: it
        has more room.
    added: You added the outside of the hose. Does a thicker hose have more room, or less?
    """,
    kind="pipe_bore",
    answer=lambda p: float(bend_room(p["pipe"], p["outside"], bend=math.pi / 2.0)),
    wrong={
        "hose taken as thin as a thread": "3.41 × {pipe}",
        "outside not multiplied": "3.41 × {pipe} − {outside}",
        "pipe not multiplied": lambda p: p["pipe"] - p["outside"] if p["pipe"] - p["outside"] > 0.035 else None,
        "added": "3.41 × {pipe} + 2.91 × {outside}",
    },
    skills=("bend radius",),
    draw=_draw_bend,
    shown={"outside": "bore", "pipe": "pipe_bore"},
)

# --- stepping down ----------------------------------------------------------------------------------

_SMALL_LENGTHS = (20, 50, 100)


def _draw_step(rng):
    return {
        "flow": gpm(rng.randrange(12, 25) / 2.0),
        "big_dash": rng.choice((8, 10)),
        "small_dash": rng.choice((5, 6)),
        "each": feet(100),
        "whole": feet(rng.randrange(200, 401, 50)),
        **{f"at_{length}": feet(length) for length in _SMALL_LENGTHS},
    }


def _step_losses(p):
    dashes = {"large": p["big_dash"], "small": p["small_dash"]}
    return {name: loss(p["flow"], tables.hose(dash).bore, p["each"], _ROUGHNESS) for name, dash in dashes.items()}


def _line_loss(p, small_length, large_length=None):
    large_length = p["whole"] - small_length if large_length is None else large_length
    return (p["large"] * large_length + p["small"] * small_length) / p["each"]


def _step_cells(found):
    return lambda p: tuple(found(p, p[f"at_{length}"]) for length in _SMALL_LENGTHS)


def _step_row(p, each):
    words = f"({{whole}} − {{at_{each}}}) / {{each}} × {{large}} + {{at_{each}}} / {{each}} × {{small}}"
    return words, f"row_{each}", "pressure", _line_loss(p, p[f"at_{each}"])


_STEP_KINDS = {"flow": "flow", "each": "length", "large": "pressure", "small": "pressure", "whole": "length"}
_STEP_KINDS |= {f"at_{length}": "length" for length in _SMALL_LENGTHS}
_TWO_HOSES = """{flow} goes through the line. Each {each} of -{big_dash} hose loses {large}, and each {each} of
        -{small_dash} hose loses {small}. The whole line is {whole} long"""

STEP_TABLE = table(
    "07-step-table",
    """
    What a longer small-diameter end costs
    ask: TWO_HOSES. How much does it lose with this much -{small_dash} hose at the nozzle end?
    hint: How much of the line is large hose in each row?
    hint: Calculate the loss of each part from its length, and add the two.
    large hose left at full length: You left the large hose at full length. The whole line keeps its length: the small
        hose replaces a part of the large one.
    hoses swapped: You swapped the two hoses. Here the small one is the short one.
    """.replace("TWO_HOSES", _TWO_HOSES),
    columns=(("small hose", "length"), ("the line loses", "pressure")),
    rows=lambda p: tuple((p[f"at_{each}"], _line_loss(p, p[f"at_{each}"])) for each in _SMALL_LENGTHS),
    blanks=((0, 1), (1, 1), (2, 1)),
    solution=worked(_STEP_KINDS, lambda p: [_step_row(p, each) for each in _SMALL_LENGTHS]),
    wrong={
        "large hose left at full length": _step_cells(lambda p, length: _line_loss(p, length, p["whole"])),
        "only the last hose": _step_cells(lambda p, length: _line_loss(p, length, 0.0)),
        "only the first hose": _step_cells(lambda p, length: p["large"] * (p["whole"] - length) / p["each"]),
        "hoses swapped": _step_cells(lambda p, length: _line_loss(p, p["whole"] - length, length)),
    },
    tolerance=0.02,
    skills=("losses add", "step down"),
    draw=_draw_step,
    given=_step_losses,
    shown=_STEP_KINDS,
)

LONGEST_SMALL = numeric(
    "07-longest-small",
    """
    As much small hose as the pump can bear
    ask: TWO_HOSES, and it can lose {most} at most. How much of it can be -{small_dash} hose?
    hint: How much would the line lose if all of it were large hose? How much is left over?
    hint: Each foot, or meter, that is changed for small hose costs the difference of the two losses. Divide what is
        left over by that.
    solve: All of it large: {large} × {whole} / {each} -> all pressure
    solve: Left over: {most} − {all} -> left pressure
    solve: To change {each} costs: {small} − {large} -> change pressure
    solve: Small hose: {each} × {left} / {change} -> longest length
    large hose left out: You gave the small hose all the pressure. The large hose loses some too.
    large hose left at full length: You left the large hose at full length. Where small hose goes in, large hose comes
        out: what does each foot, or meter, of that change cost?
    length of the large hose: That is the length of the large hose. How much is small?
    losses added: You added the losses of the two. The small hose replaces the large one.
    """.replace("TWO_HOSES", _TWO_HOSES),
    kind="length",
    wrong={
        "large hose left out": "{most} × {each} / {small}",
        "large hose left at full length": "{each} × {left} / {small}",
        "length of the large hose": "{whole} − {longest}",
        "losses added": "{each} × {left} / ({small} + {large})",
    },
    skills=("losses add", "step down"),
    draw=lambda rng: _draw_step(rng) | {"spare": rng.choice((50, 75, 100, 150))},
    given=lambda p: _step_losses(p) | {"most": _line_loss({**p, **_step_losses(p)}, feet(p["spare"]))},
    reject=lambda p: not 0.08 <= feet(p["spare"]) / p["whole"] <= 0.6,
    shown=_STEP_KINDS | {"most": "pressure"},
)

# --- drag -------------------------------------------------------------------------------------------


def _draw_drag(rng):
    whole = rng.randrange(150, 401, 50)
    return {
        "dash": rng.choice((4, 5, 6, 8, 10)),
        "whole": feet(whole),
        "run": feet(rng.randrange(50, whole // 2 + 1, 25)),
        "friction": USUAL_FRICTION,
    }


DRAG = numeric(
    "07-drag",
    f"""
    Pull needed to drag the hose
    ask: A -{{dash}} hose, {{whole}} long, weighs {{full}} full of water. {{run}} of it is in a level, straight pipe,
        the rest is on the reel. Friction is {{friction}} of the weight. What pull is needed to drag it on?
    hint: What does the hose in the pipe weigh?
    hint: Multiply that by the friction. 1 lb weighs 1 lbf; 1 kg weighs 9.81 N.
    solve: Mass in the pipe: {{run}} × {{full}} -> mass mass
    solve: Its weight: {{mass}} × {WEIGHT} -> weight force
    solve: Friction of that: {{weight}} × {{friction}} -> drag force
    whole hose dragged: You dragged the whole hose. How much of it is in the pipe?
    friction left out: That is the pull that lifts it. To drag it is easier: by how much?
    ratio upside down: You divided by the friction. Is a hose harder to drag than to lift?
    the rest of the hose: That is the part that is not in the pipe.
    """,
    kind="force",
    answer=lambda p: p["friction"] * p["full"] * p["run"] * GRAVITY,
    wrong={
        "whole hose dragged": lambda p: p["friction"] * p["full"] * p["whole"] * GRAVITY,
        "friction left out": lambda p: p["full"] * p["run"] * GRAVITY,
        "ratio upside down": lambda p: p["full"] * p["run"] * GRAVITY / p["friction"],
        "the rest of the hose": lambda p: p["friction"] * p["full"] * (p["whole"] - p["run"]) * GRAVITY,
    },
    skills=("drag", "weight full of water"),
    draw=_draw_drag,
    given=lambda p: {"full": full_mass(p["dash"])},
    shown={"full": "mass_per_length", "whole": "length", "run": "length"},
)

# --- which delivers most ----------------------------------------------------------------------------


def _draw_last_hoses(rng):
    return {
        "flow": gpm(rng.randrange(6, 11)),
        **{f"dash_{key}": dash for key, dash in zip("abcd", rng.sample((3, 4, 5, 6, 8), 4), strict=True)},
        **{f"length_{key}": feet(rng.choice((15, 25, 50, 75, 100, 150))) for key in "abcd"},
    }


ORDER_DELIVERED = ranked(
    "07-order-delivered",
    """
    Which last hose delivers most?
    ask: A machine's jets are matched to its line: at {flow} its bypass valve is just about to open. Now one more hose
        goes on before the nozzle, and its loss sends water back to the tank. Put these in order, the one that lets most
        water out of the nozzle first.
    hint: The loss of each is proportional to its length, and to 1 divided by the fifth power of its bore.
    hint: Calculate length / (bore × bore × bore × bore × bore) for each. The smallest is first.
    item: {length} of -{dash} hose, bore {bore}
    solve: At {flow} they would lose, least first:
    ratio upside down: Your order is the wrong way round. The smallest loss delivers most.
    by bore alone: You went by the bore alone. A short small hose can lose less than a long, wider one.
    by length alone: You went by the length alone. Bore counts by the fifth power.
    """,
    by=lambda p, key: loss(p["flow"], p[f"bore_{key}"], p[f"length_{key}"], _ROUGHNESS),
    kind="pressure",
    wrong={
        "ratio upside down": "reversed",
        "by bore alone": lambda p, key: -p[f"bore_{key}"],
        "by length alone": lambda p, key: (p[f"length_{key}"], -p[f"bore_{key}"]),
    },
    apart=1.4,
    skills=("hose friction", "bore by the fifth power"),
    draw=_draw_last_hoses,
    given=lambda p: {f"bore_{key}": tables.hose(p[f"dash_{key}"]).bore for key in "abcd"},
    shown={"flow": "flow"},
    item_kinds={"length": "length", "dash": None, "bore": "bore"},
)

# --- words and safe working -------------------------------------------------------------------------

TERMS = name_it(
    "07-terms",
    """
    working pressure | the highest pressure, surges included, that a hose is rated for | burst pressure
    burst pressure | the pressure at which a new sample fails once on a test bench | working pressure
    leader hose | a short, flexible, small-diameter length between the reel hose and the nozzle | coupling
    coupling | the part that joins two hoses | end fitting
    end fitting | the metal part at the end of a hose, often narrower than the hose | coupling
    bend radius | the tightest curve that a hose can follow without damage | dash size
    dash size | the nominal bore, counted in 1/16 in | bend radius
    surge | the short rise of pressure when moving water is stopped at once | burst pressure
    """,
)

SAFE_HOSE = safe_ways(
    "07-safe-hose",
    """
    You fit another hose to the machine. Which of these ways of working are safe?
    safe rating: Read the working pressure printed on the hose and compare it with setting, rise, surge and reserve
    safe look: Look at the whole hose and both end fittings with the pump stopped and the pressure relieved
    safe scrap: Take a hose out of use when its braid shows, even if it does not leak yet
    safe edge: Put a guide or a roller where the hose runs over an edge
    unsafe hand: Feel along the hose for a leak while it is under pressure | A jet from a pinhole goes through skin and
        glove, and the wound is a surgical emergency
    unsafe clip: Wrap a cut in the cover with tape and carry on | Water under the cover rusts the braid, and the hose
        bursts beside you later
    unsafe valve: Have the bypass valve tightened, because the new hose loses more pressure | Every part of the machine
        is rated for the setting it has. Never tighten the bypass valve
    unsafe burst: Use a hose rated below the setting, since it bursts at four times that | Burst strength is no margin
        to use. Surges have to stay inside the working pressure
    """,
)

EXERCISES = (
    WEIGHT_FULL, MARKED_FOR, ENOUGH_PRESSURE, EDITION, BEND_ROOM, ORDER_DELIVERED, STEP_TABLE, LONGEST_SMALL, DRAG,
    TERMS, SAFE_HOSE,
)  # fmt: skip

# --- predictions ------------------------------------------------------------------------------------


@cache
def _trailer():
    return demo_rig("yard_trailer")


def _last(length):
    return Hose(tables.hose(4).bore, length, roughness=_ROUGHNESS)


def _flow_of(hoses):
    """What leaves the trailer's nozzle through these hoses, m3/s."""
    return float(operating_point(_trailer().replace(hoses=hoses)).nozzle_flow)


THIN_LEADER = predicted(
    PredictedNumber,
    "07-thin-leader",
    """
    A small leader hose on the trailer
    ask: The yard trailer puts {full} out of its nozzle. To get round a tight bend, you add {added} of -4 hose (bore
        {bore}) before the nozzle. Same jets, full throttle. How much leaves the nozzle now?
    """,
    parameters={"full": gpm(9.0), "added": feet(50), "bore": tables.hose(4).bore},
    shown={"full": "flow", "added": "length", "bore": "bore"},
    kind="flow",
    answer=lambda p: _flow_of([*_trailer().hoses, _last(p["added"])]),
    because=lambda p, show: (
        f"At the old flow this leader alone would lose {show(_leader_loss(p), 'pressure')}, and the bypass valve is "
        f"set to {show(_trailer().unloader.setting, 'pressure')}. So the valve opens, and hose and jets share the "
        "pressure at a smaller flow."
    ),
)


def _leader_loss(p):
    return loss(p["full"], p["bore"], p["added"], _ROUGHNESS)


def _which_end(p):
    """Which of the two orders delivers more, as a key; "same" within a part in a thousand."""
    large, thin = _trailer().hoses[0].replace(coil_diameter=None, coiled_length=0.0), _last(p["added"])
    at_nozzle, at_pump = _flow_of([large, thin]), _flow_of([thin, large])
    return "same" if abs(at_nozzle / at_pump - 1.0) < 1e-3 else "nozzle" if at_nozzle > at_pump else "pump"


WHICH_END = predicted(
    PredictedChoice,
    "07-which-end",
    """
    At which end?
    ask: A colleague says: put the {added} of small hose next to the pump, where the pressure is highest, and the large
        hose after it. Which way round lets more water out of the nozzle?
    option pump: Small hose at the pump
    option nozzle: Small hose at the nozzle
    option same: The same either way
    because: The same water goes through both, and their losses add up in any order. But only at the nozzle does the
        small hose get round the bend, and there its low weight helps.
    """,
    parameters={"added": feet(50)},
    shown={"added": "length"},
    answer=_which_end,
)


def _sent_back(p, small_length):
    small_length = np.asarray(small_length, dtype=float)
    large = _trailer().hoses[0].replace(length=p["whole"] - small_length, coil_diameter=None, coiled_length=0.0)
    return operating_point(_trailer().replace(hoses=[large, _last(small_length)])).bypass_flow


STEP_CURVE = predicted(
    PredictedCurve,
    "07-step-curve",
    """
    More and more small hose
    ask: The trailer's line is {whole} long. While all of it is 1/2 in (12.7 mm), all {full} of the pump leave the
        nozzle. Now you change more and more of it, from the nozzle back, for -4 hose. Full throttle. Sketch how much
        water returns to the tank.
    because: The first feet cost most. Later each foot costs less, because less water goes through all of it.
    """,
    parameters={"whole": feet(250), "full": gpm(9.0)},
    shown={"whole": "length", "full": "flow"},
    x=("small hose in the line", "length"),
    y=("return flow", "flow"),
    xs=tuple(feet(length) for length in (0.0, 40.0, 100.0, 170.0, 250.0)),
    top=gpm(6.0),
    answer=_sent_back,
)

PREDICTIONS = (THIN_LEADER, WHICH_END, STEP_CURVE)
