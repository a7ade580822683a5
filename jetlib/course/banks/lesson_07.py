"""Predictions, and the exercises that need Python, of lesson 07, choosing hose."""

import math
from functools import cache

import numpy as np

from jetlib import tables
from jetlib.course.exercises import PredictedChoice, PredictedCurve, PredictedNumber
from jetlib.course.exercises.amounts import feet, gpm
from jetlib.course.exercises.shapes import choice, numeric, predicted
from jetlib.course.exercises.worked import worked
from jetlib.course.exercises.yard import draw_machine, likely_surge, loss, rig_of
from jetlib.rig.hoses.weight import bend_room
from jetlib.rig.parts.machine import Hose
from jetlib.rig.parts.rig_file import demo_rig
from jetlib.rig.point.operating_point import operating_point

_ROUGHNESS = tables.roughness("rubber hose inner tube").typical
_RESERVE = 0.10


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


def _draw_four_hoses(rng):
    rows = rng.sample(range(len(tables.drain_hoses())), 4)
    return draw_machine(rng) | {f"row_{key}": row for key, row in zip("abcd", rows, strict=True)}


def _four_hoses(p):
    rows = {key: tables.drain_hoses()[p[f"row_{key}"]] for key in "abcd"}
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
    the wrong way around: You ticked the hoses that are too weak. The rating must be at least what the line needs.
    only the strongest: That one can go on, but it is not the only one.
    """.replace("ON_IT", _ON_IT),
    many=True,
    answer=_strong,
    wrong={
        "held against the setting alone": lambda p: _unless(_strong(p, p["setting"]), _strong(p)),
        "the wrong way around": lambda p: [key for key in "abcd" if key not in _strong(p)],
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
        is the largest radius that the hose can keep on its way around?
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


EXERCISES = (ENOUGH_PRESSURE, EDITION, BEND_ROOM)

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
        hose after it. Which way around lets more water out of the nozzle?
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
