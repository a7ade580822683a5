"""Practice and predictions of lesson 07, choosing hose."""

import math
from functools import cache
from itertools import pairwise

import numpy as np

from jetlib import tables
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
from jetlib.course.exercises.mistakes import altered
from jetlib.physics import hose, water
from jetlib.rig.hoses.weight import USUAL_FRICTION, bend_room, water_mass
from jetlib.rig.parts.machine import Hose
from jetlib.rig.parts.rig_file import demo_rig
from jetlib.rig.point.circuit import GRAVITY
from jetlib.rig.point.operating_point import operating_point
from jetlib.units import both, to_si

_DENSITY, _VISCOSITY = water.density(288.15), water.viscosity(288.15)
_ROUGHNESS = tables.roughness("rubber hose inner tube").typical
_RESERVE = 0.10
_DASHES = (3, 4, 5, 6, 8, 10, 12)


def _psi(number):
    return to_si(number, "pressure", "US")


def _feet(number):
    return to_si(number, "length", "US")


# --- weight -----------------------------------------------------------------------------------------


def _draw_weight(rng):
    size = tables.hose(rng.choice(_DASHES))
    return {
        "dash": size.dash,
        "bore": size.bore,
        "empty": size.mass_per_metre,
        "length": _feet(rng.randrange(50, 401, 10)),
    }


def _weight(p):
    return p["length"] * (p["empty"] + water_mass(p["bore"], density=_DENSITY))


def _solve_weight(p, show):
    filled = water_mass(p["bore"], density=_DENSITY)
    return (
        f"Water: {'0.34' if show.system == 'US' else '0.000785'} × {show(p['bore'], 'bore')} × "
        f"{show(p['bore'], 'bore')}, so {show(filled, 'mass_per_length')}.\n\n"
        f"With the hose, {show(p['empty'] + filled, 'mass_per_length')}.\n\n"
        f"{show(p['length'], 'length')} of it: {show(_weight(p), 'mass')}."
    )


WEIGHT_FULL = Numeric(
    id="07-weight-full",
    title="What a hose weighs at work",
    skills=("weight full of water",),
    draw=_draw_weight,
    shown={"bore": "bore", "empty": "mass_per_length", "length": "length"},
    ask="A -{dash} hose has a bore of {bore} and weighs {empty} empty. What do {length} of it weigh full of water? "
    "Density of water: " + both(_DENSITY, "density") + ".",
    kind="mass",
    answer=_weight,
    tolerance=0.02,
    mistakes=(
        Mistake(
            "water left out",
            "That is the empty hose. At work it is full.",
            lambda p: p["length"] * p["empty"],
        ),
        Mistake(
            "hose left out",
            "That is the water alone. The hose itself weighs something too.",
            lambda p: p["length"] * water_mass(p["bore"], density=_DENSITY),
        ),
        mistakes.diameter_as_radius(altered(_weight, bore=lambda bore: 2.0 * bore)),
        Mistake(
            "one foot only",
            "That is what one foot weighs. How many are there?",
            lambda p: _weight(p) / p["length"] * _feet(1.0),
        ),
        Mistake(
            "one metre only",
            "That is what one metre weighs. How many are there?",
            lambda p: _weight(p) / p["length"],
        ),
    ),
    hints=(
        "How much water does one foot, or one metre, of this bore hold?",
        "Water in each foot: 0.34 × bore × bore, in lb, with the bore in inches. In each metre: 0.000785 × bore × "
        "bore, in kg, with the bore in mm. Add what the hose weighs, then multiply by the length.",
    ),
    solution=_solve_weight,
)

# --- working pressure -------------------------------------------------------------------------------


def _draw_needed(rng):
    return {
        "setting": _psi(rng.randrange(1500, 3600, 100)),
        "rise": rng.choice((0.05, 0.06, 0.07, 0.08, 0.10)),
        "reserve": rng.choice((0.10, 0.15, 0.20, 0.25)),
    }


def _needed(p):
    return p["setting"] * (1.0 + p["rise"]) * (1.0 + p["reserve"])


MARKED_FOR = Numeric(
    id="07-marked-for",
    title="What the hose must be marked for",
    skills=("working pressure",),
    draw=_draw_needed,
    shown={"setting": "pressure", "rise": "fraction", "reserve": "fraction"},
    ask="A valve is set to {setting}. With the nozzle plugged it lets the gauge rise {rise} above that. You want a "
    "reserve of {reserve} on top. What must the hose be marked for, at least?",
    kind="pressure",
    answer=_needed,
    tolerance=0.01,
    mistakes=(
        Mistake(
            "reserve left out",
            "That is the highest the line can come to. Where is the reserve?",
            lambda p: p["setting"] * (1.0 + p["rise"]),
        ),
        Mistake(
            "rise left out",
            "The reserve is there. But the valve lets the gauge rise above its setting first.",
            lambda p: p["setting"] * (1.0 + p["reserve"]) if p["rise"] != p["reserve"] else None,
        ),
        Mistake(
            "taken off",
            "It looks as if something was taken off. Must the hose stand more than the setting, or less?",
            lambda p: p["setting"] * (1.0 - p["rise"]) * (1.0 - p["reserve"]),
        ),
    ),
    hints=(
        "First: how high can the gauge come?",
        "Multiply by 1 plus the rise, then by 1 plus the reserve. 8 % is 0.08.",
    ),
    solution=lambda p, show: (
        f"Highest: {show(p['setting'], 'pressure')} × {1.0 + p['rise']:.4g} is "
        f"{show(p['setting'] * (1.0 + p['rise']), 'pressure')}.\n\n"
        f"With the reserve: × {1.0 + p['reserve']:.4g}, {show(_needed(p), 'pressure')}."
    ),
)


def _draw_four_hoses(rng):
    found = rng.sample(tables.hoses(), 4)
    return {
        "setting": _psi(rng.randrange(1800, 3400, 100)),
        "rise": 0.08,
        **{f"hose_{key}": each.label for key, each in zip("abcd", found, strict=True)},
        **{f"marked_{key}": each.working_pressure for key, each in zip("abcd", found, strict=True)},
    }


def _enough(p, factor):
    return [key for key in "abcd" if p[f"marked_{key}"] >= p["setting"] * factor]


def _asked_factor(p):
    return (1.0 + p["rise"]) * (1.0 + _RESERVE)


def _hoses_silly(p):
    edge = p["setting"] * _asked_factor(p)
    marked = [p[f"marked_{key}"] for key in "abcd"]
    enough = _enough(p, _asked_factor(p))
    trap = len(_enough(p, 1.0)) > len(enough)  # one at least that stands the setting, but not what the line asks for
    return any(abs(each / edge - 1.0) < 0.015 for each in marked) or not enough or not trap


def _differs(keys, answer):
    return keys if keys and keys != answer else None


ENOUGH_PRESSURE = MultipleChoice(
    id="07-enough-pressure",
    title="Which hoses may go on?",
    skills=("working pressure",),
    draw=_draw_four_hoses,
    reject=_hoses_silly,
    shown={"setting": "pressure", "rise": "fraction", **{f"marked_{key}": "pressure" for key in "abcd"}},
    ask="The valve is set to {setting} and lets the gauge rise {rise} above it. You keep a reserve of 10 % on top. "
    "Which of these hoses are marked for enough?",
    options=tuple((key, f"{{hose_{key}}}, marked for {{marked_{key}}}") for key in "abcd"),
    answer=lambda p: _enough(p, _asked_factor(p)),
    mistakes=(
        Mistake(
            "held against the setting alone",
            "It looks as if the marks were held against the setting alone. The valve lets the gauge rise above it, and "
            "where is the reserve?",
            lambda p: _differs(_enough(p, 1.0), _enough(p, _asked_factor(p))),
        ),
        Mistake(
            "turned over",
            "The choice looks turned over. The mark on the hose must be at least what the line asks for.",
            lambda p: [key for key in "abcd" if key not in _enough(p, _asked_factor(p))],
        ),
        Mistake(
            "only the strongest",
            "That one may go on, but it is not the only one.",
            lambda p: _differs(
                [max("abcd", key=lambda key: p[f"marked_{key}"])], _enough(p, _asked_factor(p))
            ),
        ),
    ),
    hints=(
        "First work out what the line asks for: setting, then the rise, then the reserve.",
        "Multiply the setting by 1.08 and by 1.10. A hose is enough when its mark is that or more.",
    ),
    solution=lambda p, show: (
        f"The line asks for {show(p['setting'] * _asked_factor(p), 'pressure')}.\n\n"
        + "\n".join(
            f"{p[f'hose_{key}']}, {show(p[f'marked_{key}'], 'pressure')}: "
            f"{'enough' if key in _enough(p, _asked_factor(p)) else 'NOT enough'}"
            for key in "abcd"
        )
    ),
)  # fmt: skip


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


EDITION = SingleChoice(
    id="07-edition",
    title="Two figures for one hose",
    skills=("working pressure", "editions"),
    draw=_draw_edition,
    reject=lambda p: abs(p["needed"] / p["printed"] - 1.0) < 0.025,
    shown={"printed": "pressure", "newer": "pressure", "needed": "pressure"},
    ask="An older -{dash} hose, SAE 100R2AT, has a working pressure of {printed} printed on it. A table of a newer "
    "edition says {newer} for this size. Your line asks for {needed}, reserve included. May the hose go on?",
    options=(
        ("printed-yes", "Yes: what is printed on the hose is enough"),
        ("printed-no", "No: what is printed on the hose is not enough"),
        ("table-yes", "Yes: the newest table counts, and it is enough"),
        ("burst-yes", "Yes: a hose bursts only at four times its mark"),
    ),
    answer=_verdict,
    mistakes=(
        Mistake(
            "newer table for an older hose",
            "The newer figure is for hoses that were made to it. This one was not.",
            lambda p: "table-yes",
        ),
        Mistake(
            "burst pressure taken for working pressure",
            "A new hose on a test bench does. What is above the mark is kept for surges, heat, wear and harm. It is "
            "not yours to use.",
            lambda p: "burst-yes",
        ),
        Mistake(
            "printed figure misread",
            "The right figure to go by. Now hold it against what the line asks for once more.",
            lambda p: "printed-no" if _verdict(p) == "printed-yes" else "printed-yes",
        ),
    ),
    hints=(
        "Which of the two figures was this very hose made to?",
        "Compare what is printed on it with what the line asks for.",
    ),
    solution=lambda p, show: (
        f"The mark on the hose counts: {show(p['printed'], 'pressure')}. The line asks for "
        f"{show(p['needed'], 'pressure')}. "
        + ("It may go on." if _verdict(p) == "printed-yes" else "It must not go on.")
    ),
)  # fmt: skip

# --- round the bend ---------------------------------------------------------------------------------


def _draw_bend(rng):
    size = tables.hose(rng.choice((3, 4, 5, 6, 8)))
    pipe = rng.choice([row for row in tables.pipes() if 0.048 <= row.inside_diameter <= 0.11])
    return {"dash": size.dash, "outside": size.outside_diameter_max, "hole": size.bore, "pipe": pipe.inside_diameter}


def _room(p):
    return float(bend_room(p["pipe"], p["outside"], bend=math.pi / 2.0))


BEND_ROOM = Numeric(
    id="07-bend-room",
    title="Room in a tight bend",
    skills=("bend radius",),
    draw=_draw_bend,
    shown={"outside": "bore", "pipe": "pipe_bore"},
    ask="A pipe of {pipe} inside has a tight bend of 90°. A -{dash} hose measures {outside} across, "
    "outside. What is the largest radius that it can keep on its way round?",
    kind="coil_diameter",
    answer=_room,
    mistakes=(
        Mistake(
            "hose taken as thin as a thread",
            "It looks as if the outside of the hose was left out. A thick hose has less room to swing wide.",
            altered(_room, outside=0.0),
        ),
        Mistake(
            "outside not multiplied",
            "The outside of the hose counts more than once: it touches the wall before, in and after the bend. Look at "
            "the rule again.",
            lambda p: 3.41 * p["pipe"] - p["outside"],
        ),
        Mistake(
            "pipe not multiplied",
            "That is less than the pipe is wide. The hose cuts the corner and swings wide: it has more room than that.",
            lambda p: p["pipe"] - p["outside"] if p["pipe"] - p["outside"] > 0.035 else None,
        ),
        Mistake(
            "added",
            "It looks as if the outside of the hose was added. Does a thicker hose have more room, or less?",
            lambda p: 3.41 * p["pipe"] + 2.91 * p["outside"],
        ),
    ),
    hints=(
        "The rule is in the lesson: so many times the pipe's bore, less so many times the outside of the hose.",
        "3.41 × bore of the pipe − 2.91 × outside of the hose, both in one unit.",
    ),
    solution=lambda p, show: (
        f"3.41 × {show(p['pipe'], 'pipe_bore')} − 2.91 × {show(p['outside'], 'bore')} is "
        f"{show(_room(p), 'coil_diameter')}."
    ),
)  # fmt: skip

# --- stepping down ----------------------------------------------------------------------------------

_EACH = 100.0  # feet that the losses are given for


def _draw_step(rng):
    return {
        "each": _feet(_EACH),
        "large": _psi(rng.randrange(50, 131, 10)),
        "small": _psi(rng.randrange(250, 651, 50)),
        "whole": _feet(rng.randrange(200, 351, 50)),
    }


def _line_loss(p, small_length, large_length=None):
    large_length = p["whole"] - small_length if large_length is None else large_length
    return (p["large"] * large_length + p["small"] * small_length) / p["each"]


_SMALL_LENGTHS = (20.0, 50.0, 100.0)


def _step_cells(loss):
    return lambda p: tuple(loss(p, _feet(length)) for length in _SMALL_LENGTHS)


STEP_TABLE = FillTable(
    id="07-step-table",
    title="What a longer thin end costs",
    skills=("losses add", "step down"),
    draw=_draw_step,
    shown={"each": "length", "large": "pressure", "small": "pressure", "whole": "length"},
    ask="At full flow {each} of the large hose take {large}, and {each} of the small hose take {small}. The whole "
    "line is {whole} long. What does it take with this much small hose at its end?",
    columns=(("small hose", "length"), ("the line takes", "pressure")),
    rows=lambda p: tuple((_feet(length), _line_loss(p, _feet(length))) for length in _SMALL_LENGTHS),
    blanks=((0, 1), (1, 1), (2, 1)),
    tolerance=0.02,
    mistakes=(
        Mistake(
            "large hose left at full length",
            "The whole line keeps its length. Where the small hose is, there is no large one.",
            _step_cells(lambda p, length: _line_loss(p, length, p["whole"])),
        ),
        mistakes.last_hose_only(_step_cells(lambda p, length: _line_loss(p, length, 0.0))),
        mistakes.first_hose_only(
            _step_cells(lambda p, length: p["large"] * (p["whole"] - length) / p["each"]),
        ),
        Mistake(
            "hoses swapped",
            "It looks as if the two were swapped: the small one is the short one here.",
            _step_cells(lambda p, length: _line_loss(p, p["whole"] - length, length)),
        ),
    ),
    hints=(
        "How much of the line is large hose in each row?",
        "Work out each part by its length, and add the two.",
    ),
    solution=lambda p, show: "\n".join(
        f"{show(p['whole'] - _feet(length), 'length')} large and {show(_feet(length), 'length')} small: "
        f"{show(_line_loss(p, _feet(length)), 'pressure')}"
        for length in _SMALL_LENGTHS
    ),
)  # fmt: skip


def _draw_longest(rng):
    drawn = _draw_step(rng)
    return {**drawn, "most": _psi(rng.randrange(250, 801, 10))}


def _longest(p):
    return (p["most"] * p["each"] - p["large"] * p["whole"]) / (p["small"] - p["large"])


LONGEST_SMALL = Numeric(
    id="07-longest-small",
    title="As much thin hose as the pump can bear",
    skills=("losses add", "step down"),
    draw=_draw_longest,
    reject=lambda p: not 0.08 * p["whole"] <= _longest(p) <= 0.6 * p["whole"],
    shown={"each": "length", "large": "pressure", "small": "pressure", "whole": "length", "most": "pressure"},
    ask="At full flow {each} of the large hose take {large}, and {each} of the small hose take {small}. The whole "
    "line is {whole} long, and it may take {most}. How much of it may be small hose?",
    kind="length",
    answer=_longest,
    tolerance=0.03,
    mistakes=(
        Mistake(
            "large hose left out",
            "It looks as if the small hose was given all the pressure. The large hose takes some too.",
            lambda p: p["most"] * p["each"] / p["small"],
        ),
        Mistake(
            "large hose left at full length",
            "Close. But where small hose goes in, large hose comes out. What does the change of one foot, or metre, "
            "really cost?",
            lambda p: (p["most"] * p["each"] - p["large"] * p["whole"]) / p["small"],
        ),
        Mistake(
            "length of the large hose",
            "That is what is left for the large hose. How much is small?",
            lambda p: p["whole"] - _longest(p),
        ),
        Mistake(
            "losses added",
            "It looks as if the losses of the two were added. The small one takes the place of the large one.",
            lambda p: (p["most"] * p["each"] - p["large"] * p["whole"]) / (p["small"] + p["large"]),
        ),
    ),
    hints=(
        "What would the line take if it were large hose all the way? How much is left over?",
        "Each foot, or metre, that is changed to small hose costs the difference of the two. Divide what is left over "
        "by that.",
    ),
    solution=lambda p, show: (
        f"Large all the way: {show(p['large'] * p['whole'] / p['each'], 'pressure')}. Left over: "
        f"{show(p['most'] - p['large'] * p['whole'] / p['each'], 'pressure')}.\n\n"
        f"To change {show(p['each'], 'length')} costs {show(p['small'] - p['large'], 'pressure')}.\n\n"
        f"So {show(_longest(p), 'length')} may be small hose."
    ),
)  # fmt: skip

# --- drag -------------------------------------------------------------------------------------------


def _draw_drag(rng):
    size = tables.hose(rng.choice((4, 5, 6, 8, 10)))
    each = size.mass_per_metre + water_mass(size.bore, density=_DENSITY)
    whole = rng.randrange(150, 401, 50)
    return {
        "dash": size.dash,
        "each": float(each),
        "whole": _feet(whole),
        "run": _feet(rng.randrange(30, whole // 2, 10)),
        "friction": USUAL_FRICTION,
    }


def _drag(p):
    return p["friction"] * p["each"] * p["run"] * GRAVITY


DRAG = Numeric(
    id="07-drag",
    title="What it takes to drag the hose",
    skills=("drag", "weight full of water"),
    draw=_draw_drag,
    shown={"each": "mass_per_length", "whole": "length", "run": "length"},
    ask="A -{dash} hose, {whole} long, weighs {each} full of water. {run} of it lie in a level, straight pipe, the "
    "rest on the reel. Friction is {friction} of the weight. What pull does it take to drag it on?",
    kind="force",
    answer=_drag,
    mistakes=(
        Mistake(
            "whole hose dragged",
            "It looks as if the whole hose was dragged. How much of it lies in the pipe?",
            lambda p: _drag({**p, "run": p["whole"]}),
        ),
        Mistake(
            "friction left out",
            "That is what it takes to lift it. To drag it is easier: by how much?",
            lambda p: _drag(p) / p["friction"],
        ),
        mistakes.upside_down(
            lambda p: _drag(p) / p["friction"] ** 2,
            "It looks as if friction was divided by. Is it harder to drag than to lift?",
        ),
        Mistake(
            "the rest of the hose",
            "That is the part that is not in the pipe.",
            lambda p: _drag({**p, "run": p["whole"] - p["run"]}),
        ),
    ),
    hints=(
        "What does the hose in the pipe weigh?",
        "Multiply that by the friction. 1 lb weighs 1 lbf; 1 kg weighs 9.81 N.",
    ),
    solution=lambda p, show: (
        f"In the pipe: {show(p['run'], 'length')} × {show(p['each'], 'mass_per_length')} is "
        f"{show(p['run'] * p['each'], 'mass')}, which weighs {show(p['run'] * p['each'] * GRAVITY, 'force')}.\n\n"
        f"{p['friction']:g} of that: {show(_drag(p), 'force')}."
    ),
)  # fmt: skip

# --- which delivers most ----------------------------------------------------------------------------


def _draw_last_hoses(rng):
    return {
        "flow": to_si(rng.randrange(6, 11), "flow", "US"),
        **{f"dash_{key}": dash for key, dash in zip("abcd", rng.sample((3, 4, 5, 6, 8), 4), strict=True)},
        **{f"length_{key}": _feet(rng.randrange(10, 151, 10)) for key in "abcd"},
    }


def _last_loss(p, key):
    return hose.pressure_loss(
        p["flow"], bore=tables.hose(p[f"dash_{key}"]).bore, length=p[f"length_{key}"], roughness=_ROUGHNESS,
        density=_DENSITY, viscosity=_VISCOSITY,
    )  # fmt: skip


def _by_delivery(p):
    return tuple(sorted("abcd", key=lambda key: _last_loss(p, key)))


def _last_silly(p):
    return any(high < 1.4 * low for low, high in pairwise(sorted(_last_loss(p, key) for key in "abcd")))


def _last_words(key):
    def words(p, show):
        bore = show(tables.hose(p[f"dash_{key}"]).bore, "bore")
        return f"{show(p[f'length_{key}'], 'length')} of -{p[f'dash_{key}']} hose, bore {bore}"

    return words


ORDER_DELIVERED = Ordering(
    id="07-order-delivered",
    title="Which last hose delivers most?",
    skills=("hose friction", "bore by the fifth power"),
    draw=_draw_last_hoses,
    reject=_last_silly,
    shown={"flow": "flow", **{f"length_{key}": "length" for key in "abcd"}},
    ask="A machine's jets are matched to its line: at {flow} its valve is just about to open. Now one more hose goes "
    "on before the nozzle, and what it takes sends water back to the tank. Put these in order, the one that lets most "
    "water out of the nozzle first.",
    options=tuple((key, _last_words(key)) for key in "abcd"),
    answer=_by_delivery,
    mistakes=(
        mistakes.upside_down(
            lambda p: _by_delivery(p)[::-1], "The order is turned over. What takes least delivers most."
        ),
        Mistake(
            "by bore alone",
            "It looks as if only the bore was counted. A short thin hose can take less than a long, wider one.",
            lambda p: tuple(sorted("abcd", key=lambda key: -p[f"dash_{key}"])),
        ),
        Mistake(
            "by length alone",
            "It looks as if only the length was counted. Bore counts by the fifth power.",
            lambda p: tuple(sorted("abcd", key=lambda key: (p[f"length_{key}"], -p[f"dash_{key}"]))),
        ),
    ),
    hints=(
        "What each takes goes with its length, and with 1 over the fifth power of its bore.",
        "Work out length over bore × bore × bore × bore × bore for each. The smallest comes first.",
    ),
    solution=lambda p, show: (
        f"At {show(p['flow'], 'flow')} they would take, least first:\n\n"
        + "\n".join(
            f"{_last_words(key)(p, show)}: {show(_last_loss(p, key), 'pressure')}" for key in _by_delivery(p)
        )
    ),
)  # fmt: skip

EXERCISES = (
    WEIGHT_FULL,
    MARKED_FOR,
    ENOUGH_PRESSURE,
    EDITION,
    BEND_ROOM,
    ORDER_DELIVERED,
    STEP_TABLE,
    LONGEST_SMALL,
    DRAG,
)

# --- predictions ------------------------------------------------------------------------------------


@cache
def _trailer():
    return demo_rig("yard_trailer")


def _last(length):
    size = tables.hose(4)
    return Hose(size.bore, length, roughness=_ROUGHNESS)


def _flow_of(hoses):
    """What leaves the trailer's nozzle through these hoses, m3/s."""
    return float(operating_point(_trailer().replace(hoses=hoses)).nozzle_flow)


THIN_LEADER = PredictedNumber(
    id="07-thin-leader",
    title="A thin leader on the trailer",
    parameters={"full": to_si(9.0, "flow", "US"), "added": _feet(50), "bore": tables.hose(4).bore},
    shown={"full": "flow", "added": "length", "bore": "bore"},
    ask="The yard trailer puts {full} out of its nozzle. To get round a tight bend, {added} of -4 hose (bore {bore}) "
    "are coupled on before the nozzle. Same jets, full throttle. How much leaves the nozzle now?",
    kind="flow",
    answer=lambda p: _flow_of([*_trailer().hoses, _last(p["added"])]),
    because="At the old flow this leader alone would take more than a third of the valve's setting. The valve opens, "
    "and hose and jets share what pressure there is at a smaller flow.",
)  # fmt: skip


def _which_end(p):
    """Which of the two orders delivers more, as a key; "same" within a part in a thousand."""
    large, thin = _trailer().hoses[0].replace(coil_diameter=None, coiled_length=0.0), _last(p["added"])
    at_nozzle, at_pump = _flow_of([large, thin]), _flow_of([thin, large])
    return "same" if abs(at_nozzle / at_pump - 1.0) < 1e-3 else "nozzle" if at_nozzle > at_pump else "pump"


WHICH_END = PredictedChoice(
    id="07-which-end",
    title="At which end?",
    parameters={"added": _feet(50)},
    shown={"added": "length"},
    ask="Somebody says: put the {added} of thin hose next to the pump, where the pressure is highest, and the wide "
    "hose behind it. Which way round lets more water out of the nozzle?",
    options=(
        ("pump", "Thin hose at the pump"),
        ("nozzle", "Thin hose at the nozzle"),
        ("same", "The same either way"),
    ),
    answer=_which_end,
    because="The same water goes through both, and what they take adds up, in any order. But only at the nozzle does "
    "the thin hose get round the bend, and there it is light where lightness counts.",
)


def _sent_back(p, small_length):
    small_length = np.asarray(small_length, dtype=float)
    large = _trailer().hoses[0].replace(length=p["whole"] - small_length, coil_diameter=None, coiled_length=0.0)
    return operating_point(_trailer().replace(hoses=[large, _last(small_length)])).bypass_flow


STEP_CURVE = PredictedCurve(
    id="07-step-curve",
    title="More and more thin hose",
    parameters={"whole": _feet(250), "full": to_si(9.0, "flow", "US")},
    shown={"whole": "length", "full": "flow"},
    ask="The trailer's line is {whole} long. While all of it is 1/2 in, the {full} of the pump all leave the nozzle. "
    "Now more and more of it, from the nozzle back, is changed for -4 hose. Full throttle. Sketch what goes back to "
    "the tank.",
    x=("thin hose in the line", "length"),
    y=("back", "flow"),
    xs=tuple(_feet(length) for length in (0.0, 40.0, 100.0, 170.0, 250.0)),
    top=to_si(6.0, "flow", "US"),
    answer=_sent_back,
    because="The first feet cost most. Later each foot costs less, for less water goes through all of it.",
)

PREDICTIONS = (THIN_LEADER, WHICH_END, STEP_CURVE)
