"""Practice and predictions of lesson 05, bypass. The square law is taken for the whole line, as lesson 04 allows."""

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
from jetlib.course.exercises.mistakes import scaled
from jetlib.physics import orifice, power, valve, water
from jetlib.rig.jets.matching import matched_jets
from jetlib.rig.parts.machine import BurstDisc, Hose, Unloader
from jetlib.rig.parts.rig_file import demo_rig
from jetlib.rig.point.operating_point import operating_point, throttle_sweep
from jetlib.units import si, to_si


def _psi(number):
    return to_si(number, "pressure", "US")


def _gpm(number):
    return to_si(number, "flow", "US")


def _feet(number):
    return to_si(number, "length", "US")


_CD = 0.72  # drilled, edges a little worn
_DRILLS = ("#70", "#68", "#65", "#64", "#62", "#61", "#60", "#59", "#58", "#57", "#56", "#55")


# --- where the valve opens --------------------------------------------------------------------------


def _draw_opening(rng):
    return {
        "flow": _gpm(rng.randrange(8, 21) / 2.0),
        "gauge": _psi(rng.randrange(800, 1800, 50)),
        "setting": _psi(rng.randrange(2200, 3600, 100)),
    }


def _opening_flow(p):
    return p["flow"] * math.sqrt(p["setting"] / p["gauge"])


OPENING_FLOW = Numeric(
    id="05-opening-flow",
    title="The flow that opens the valve",
    skills=("valve setting", "square law, nearly"),
    draw=_draw_opening,
    reject=lambda p: p["setting"] < 1.4 * p["gauge"],
    shown={"flow": "flow", "gauge": "pressure", "setting": "pressure"},
    ask="At {flow} the gauge reads {gauge}, and the valve is shut. It is set to open at {setting}. Take the square law "
    "for the whole line. At what flow does the valve begin to open?",
    kind="flow",
    answer=_opening_flow,
    mistakes=(
        mistakes.linear_for_root(lambda p: p["flow"] * p["setting"] / p["gauge"]),
        mistakes.square_for_root(lambda p: p["flow"] * (p["setting"] / p["gauge"]) ** 2),
        mistakes.upside_down(lambda p: p["flow"] * math.sqrt(p["gauge"] / p["setting"])),
        Mistake(
            "half instead of root",
            "It looks as if the ratio was halved. The square root of a number is what gives it when multiplied by "
            "itself.",
            lambda p: p["flow"] * p["setting"] / p["gauge"] / 2.0,
        ),
    ),
    hints=(
        "How many times the pressure on the gauge is the setting?",
        "Flow goes with the square root of pressure. Multiply the flow by the root of that ratio.",
    ),
    solution=lambda p, show: (
        f"The setting is {show(p['setting'], 'pressure')} / {show(p['gauge'], 'pressure')} = "
        f"{p['setting'] / p['gauge']:.3g} times the gauge.\n\nIts root is "
        f"{math.sqrt(p['setting'] / p['gauge']):.3g}. Times {show(p['flow'], 'flow')} it is "
        f"{show(_opening_flow(p), 'flow')}."
    ),
)

# --- what goes back ---------------------------------------------------------------------------------


def _draw_split(rng):
    return {**_draw_opening(rng), "full": _gpm(rng.randrange(12, 41) / 2.0)}


def _split(p):
    return p["full"] - _opening_flow(p)


GOES_BACK = Numeric(
    id="05-goes-back",
    title="What goes back to the tank",
    skills=("the flow splits", "square law, nearly"),
    draw=_draw_split,
    reject=lambda p: p["setting"] < 1.4 * p["gauge"] or not 0.12 <= _split(p) / p["full"] <= 0.45,
    shown={"flow": "flow", "gauge": "pressure", "setting": "pressure", "full": "flow"},
    ask="At {flow} the gauge reads {gauge}, and the valve is shut. It is set to {setting}; take it that the gauge "
    "climbs no further. At full throttle the pump gives {full}. How much of that goes back to the tank?",
    kind="flow",
    answer=_split,
    tolerance=0.05,
    mistakes=(
        Mistake(
            "nozzle's share given",
            "That is what leaves the nozzle. What is left of the pump's flow?",
            _opening_flow,
        ),
        Mistake(
            "nozzle left at its old flow",
            "It looks as if the nozzle was left at its first flow. The gauge is higher now, so more goes out there.",
            lambda p: p["full"] - p["flow"],
        ),
        Mistake(
            "all of it",
            "The valve lets go only what cannot get out at the nozzle.",
            lambda p: p["full"],
        ),
        mistakes.linear_for_root(
            lambda p: p["full"] - p["flow"] * p["setting"] / p["gauge"] if _over_linear(p) else None,
        ),
    ),
    hints=(
        "First find what leaves the nozzle when the gauge is at the setting: square root.",
        "The pump's flow splits in two. Take off what leaves the nozzle; the rest goes back.",
    ),
    solution=lambda p, show: (
        f"At {show(p['setting'], 'pressure')} the line passes {show(p['flow'], 'flow')} × "
        f"√{p['setting'] / p['gauge']:.3g} = {show(_opening_flow(p), 'flow')}.\n\n"
        f"{show(p['full'], 'flow')} less {show(_opening_flow(p), 'flow')} leaves {show(_split(p), 'flow')} to go back."
    ),
)


def _over_linear(p):
    return p["full"] > 1.03 * p["flow"] * p["setting"] / p["gauge"]


# --- how far the gauge climbs -----------------------------------------------------------------------


def _draw_rise(rng):
    rated = rng.randrange(8, 31) / 2.0
    return {
        "setting": _psi(rng.randrange(2000, 3600, 100)),
        "rise": rng.choice((0.06, 0.08, 0.1, 0.12)),
        "rated": _gpm(rated),
        "back": _gpm(round(rated * rng.choice((0.15, 0.2, 0.25, 0.3, 0.4)), 1)),
    }


def _climbed(p):
    return float(valve.unloader_pressure(p["back"], setting=p["setting"], rise=p["rise"], full_flow=p["rated"]))


RISE = Numeric(
    id="05-rise",
    title="How far the gauge climbs",
    skills=("the valve's rise",),
    draw=_draw_rise,
    shown={"setting": "pressure", "rise": "fraction", "rated": "flow", "back": "flow"},
    ask="A valve is set to {setting}. To pass all of the pump's rated {rated} it must be pushed {rise} above that. Now "
    "{back} goes back. What does the gauge show?",
    kind="pressure",
    answer=_climbed,
    tolerance=0.008,
    mistakes=(
        Mistake(
            "rise left out",
            "That is the setting, where the valve only begins to open. To pass water it must be pushed a little "
            "further.",
            lambda p: p["setting"],
        ),
        Mistake(
            "whole rise",
            "That is the gauge with all of the rated flow going back. Here it is only part of it.",
            lambda p: p["setting"] * (1.0 + p["rise"]),
        ),
        mistakes.linear_for_root(
            lambda p: p["setting"] * (1.0 + p["rise"] * p["back"] / p["rated"]),
            "It looks as if the climb was taken to go in step with the bypass. It goes with the square root: fast at "
            "first, then slower.",
        ),
    ),
    hints=(
        "What share of the rated flow goes back? Take the square root of that share.",
        "Multiply the root by the rise: that is the share by which the gauge stands above the setting.",
    ),
    solution=lambda p, show: (
        f"{show(p['back'], 'flow')} of {show(p['rated'], 'flow')} is {p['back'] / p['rated']:.3g}; its root is "
        f"{math.sqrt(p['back'] / p['rated']):.3g}. Times the rise it is "
        f"{show(_climbed(p) / p['setting'] - 1.0, 'fraction')}.\n\nThe gauge shows {show(_climbed(p), 'pressure')}."
    ),
)

# --- what is lost -----------------------------------------------------------------------------------


def _draw_lost(rng):
    full = rng.randrange(12, 41) / 2.0
    return {
        "gauge": _psi(rng.randrange(2000, 3600, 50)),
        "full": _gpm(full),
        "nozzle": _gpm(round(2.0 * full * rng.choice((0.6, 0.65, 0.7, 0.75, 0.8, 0.85))) / 2.0),
    }


def _lost(p):
    return power.hydraulic_power(p["full"] - p["nozzle"], p["gauge"])


LOST_POWER = Numeric(
    id="05-lost-power",
    title="Power into the bypass",
    skills=("power is pressure times flow", "the flow splits"),
    draw=_draw_lost,
    reject=lambda p: not 0.12 <= 1.0 - p["nozzle"] / p["full"] <= 0.42,
    shown={"gauge": "pressure", "full": "flow", "nozzle": "flow"},
    ask="The pump gives {full}, the gauge shows {gauge}, and {nozzle} leaves the nozzle. What power is lost in the "
    "bypass?",
    kind="power",
    answer=_lost,
    mistakes=(
        mistakes.bypass_left_out(
            lambda p: power.hydraulic_power(p["full"], p["gauge"]),
            "That is all the power the pump puts into the water. Only part of the water goes back.",
        ),
        Mistake(
            "nozzle's share given",
            "That is the power that goes down the hose. Which stream is lost?",
            lambda p: power.hydraulic_power(p["nozzle"], p["gauge"]),
        ),
        Mistake(
            "600 with psi and gpm",
            "It looks as if the figure for bar and litres was used with psi and gallons. Each pair of units has its "
            "own.",
            scaled(_lost, 1714.0 / 600.0),
        ),
        mistakes.imperial_gallon(scaled(_lost, mistakes.IMPERIAL_GALLON_RATIO)),
    ),
    hints=(
        "First find how much water goes back.",
        "Power is pressure times flow: psi × gpm / 1714 in hp, bar × L/min / 600 in kW.",
    ),
    solution=lambda p, show: (
        f"{show(p['full'], 'flow')} less {show(p['nozzle'], 'flow')} is {show(p['full'] - p['nozzle'], 'flow')} "
        f"going back.\n\n{show(p['gauge'], 'pressure')} times that flow, by 1714 for psi and gpm or by 600 for bar and "
        f"L/min, is {show(_lost(p), 'power')}."
    ),
)

# --- matched jets -----------------------------------------------------------------------------------


def _draw_match(rng):
    full = _gpm(rng.randrange(8, 37) / 2.0)
    count, bore = rng.randrange(4, 9), tables.drill(rng.choice(_DRILLS)).diameter
    needed = orifice.pressure(
        full, area=count * orifice.circle_area(bore), discharge_coefficient=_CD, density=water.density(288.15)
    )
    return {
        "full": full,
        "setting": _psi(rng.randrange(2400, 3600, 100)),
        "line": _psi(rng.randrange(400, 1300, 50)),
        "jets": _psi(50 * round(needed / _psi(50))),
        "count": count,
        "bore": bore,
    }


def _left(p):
    return p["setting"] - p["line"]


def _area_times(p):
    return math.sqrt(p["jets"] / _left(p))


def _silly_match(p):
    return not 1.08 <= _area_times(p) <= 1.6 or p["line"] > 0.45 * p["setting"]


_MATCH_SHOWN = {"full": "flow", "setting": "pressure", "line": "pressure", "jets": "pressure"}
_MATCH = (
    "At full throttle the pump gives {full}. To pass all of it, hose and fittings would take {line}, and the jets as "
    "they are would need {jets}. The valve is set to {setting}, so some water goes back. "
)

MATCHED_AREA = Numeric(
    id="05-matched-area",
    title="How much more area",
    skills=("matched jets", "square law"),
    draw=_draw_match,
    reject=_silly_match,
    shown=_MATCH_SHOWN,
    ask=_MATCH + "How many times their area would match? Answer with a plain number.",
    kind="ratio",
    answer=_area_times,
    tolerance=0.02,
    mistakes=(
        mistakes.hose_left_out(
            lambda p: math.sqrt(p["jets"] / p["setting"]),
            "It looks as if the jets were given the whole setting. Does nothing else take pressure on the way?",
        ),
        mistakes.linear_for_root(
            lambda p: p["jets"] / _left(p),
            "It looks as if area was taken to go in step with pressure. At one flow, pressure goes with one over area "
            "times area.",
        ),
        mistakes.upside_down(
            lambda p: 1.0 / _area_times(p), "The ratio looks turned over. Must the jets be larger or smaller?"
        ),
        Mistake(
            "hose put on top",
            "It looks as if the hose's share was added to the setting. What the hose takes is not left for the jets.",
            lambda p: math.sqrt(p["jets"] / (p["setting"] + p["line"])),
        ),
    ),
    hints=(
        "At the match the gauge is at the setting and all the flow goes out. What is left for the jets then?",
        "What the jets need now over what is left for them: the root of that is how many times the area.",
    ),
    solution=lambda p, show: (
        f"Left for the jets: {show(p['setting'], 'pressure')} less {show(p['line'], 'pressure')} is "
        f"{show(_left(p), 'pressure')}.\n\nThey need {show(p['jets'], 'pressure')} now, "
        f"{p['jets'] / _left(p):.3g} times as much. Pressure goes with one over area squared, so the area must be "
        f"√{p['jets'] / _left(p):.3g} = {show(_area_times(p), 'ratio')} times."
    ),
)


def _matched_bore(p):
    return p["bore"] * math.sqrt(_area_times(p))


MATCHED_BORE = Numeric(
    id="05-matched-bore",
    title="The drill that matches",
    skills=("matched jets", "areas, not bores"),
    draw=_draw_match,
    reject=lambda p: _silly_match(p) or _area_times(p) < 1.15,
    shown={**_MATCH_SHOWN, "bore": "jet_bore"},
    ask=_MATCH + "The nozzle has {count} holes of {bore}. To what bore would you open them all?",
    kind="jet_bore",
    answer=_matched_bore,
    tolerance=0.015,
    mistakes=(
        mistakes.bore_for_area(lambda p: p["bore"] * _area_times(p)),
        mistakes.hose_left_out(
            lambda p: p["bore"] * (p["jets"] / p["setting"]) ** 0.25,
            "It looks as if the jets were given the whole setting. Does nothing else take pressure on the way?",
        ),
        mistakes.upside_down(
            lambda p: p["bore"] / math.sqrt(_area_times(p)),
            "The ratio looks turned over. Must the holes be larger or smaller, so that no water goes back?",
        ),
        Mistake(
            "no root at all",
            "It looks as if bore was taken to go in step with pressure. Area needs one root, and bore another.",
            lambda p: p["bore"] * p["jets"] / _left(p),
        ),
    ),
    hints=(
        "First find how many times the area must be: the root of what the jets need now over what is left for them.",
        "Area goes with bore times bore. So bore needs one more root.",
    ),
    solution=lambda p, show: (
        f"Left for the jets: {show(_left(p), 'pressure')}. The area must be √({show(p['jets'], 'pressure')} / "
        f"{show(_left(p), 'pressure')}) = {_area_times(p):.3g} times.\n\nThe bore must be √{_area_times(p):.3g} = "
        f"{math.sqrt(_area_times(p)):.3g} times {show(p['bore'], 'jet_bore')}: {show(_matched_bore(p), 'jet_bore')}. "
        "Take the nearest drill, and if in doubt the smaller one: a hole cannot be made smaller again."
    ),
)

# --- choosing ---------------------------------------------------------------------------------------


def _nozzle_grows(p):
    """How the nozzle's flow grows from the throttle that opens the valve to full throttle, with the usual rise."""
    climb = valve.unloader_pressure(1.0 - p["opens"], setting=1.0, rise=0.08, full_flow=1.0)
    grown = math.sqrt(float(climb))
    return min(_GROWTHS, key=lambda name: abs(_GROWTHS[name](p) - grown))


_GROWTHS = {
    "hardly": lambda p: 1.02,
    "step": lambda p: 1.0 / p["opens"],
    "square": lambda p: 1.0 / p["opens"] ** 2,
    "falls": lambda p: p["opens"],
}

MORE_THROTTLE = SingleChoice(
    id="05-more-throttle",
    title="More throttle, and then?",
    skills=("above the setting",),
    draw=lambda rng: {
        "opens": rng.choice((0.6, 0.65, 0.7, 0.75, 0.8)),
        "setting": _psi(rng.randrange(2000, 3600, 100)),
    },
    shown={"opens": "fraction", "setting": "pressure"},
    ask="The valve is set to {setting}. It opens when the pump gives {opens} of its full flow. The operator goes on to "
    "full throttle. What happens to the flow out of the nozzle?",
    options=(
        ("hardly", "Next to nothing: it grows by a few per cent at most"),
        ("step", "It grows in step with the engine"),
        ("square", "It grows with the square of the engine's speed"),
        ("falls", "It falls, because the valve is open"),
    ),
    answer=_nozzle_grows,
    mistakes=(
        mistakes.bypass_left_out(
            lambda p: "step",
            "That would be so with the valve shut. It is open: where can the extra water go?",
        ),
        Mistake(
            "square law for flow",
            "Pressure goes with the square of flow, as long as the valve is shut. It is open here.",
            lambda p: "square",
        ),
        Mistake(
            "valve taken as a leak",
            "The valve lets go only the water that cannot get out. It does not let the pressure fall.",
            lambda p: "falls",
        ),
    ),
    hints=(
        "What does the gauge do once the valve is open?",
        "The nozzle only knows the pressure. If that stays near enough the same, so does its flow.",
    ),
    solution="Once the valve is open the gauge climbs by a few per cent and no more. The nozzle's flow goes with the "
    "square root of pressure, so it grows by half as much. Nearly all the extra water goes back to the tank.",
)


@cache
def _plugged(kind):
    """(gauge, hose) of the yard trailer at full throttle with its outlet shut: "setting", "nothing" or "far over"."""
    rig = demo_rig("yard_trailer")
    figure = rig.unloader.setting
    fitted = {
        "unloader": Unloader(figure),
        "trapping unloader": Unloader(figure, trapping=True),
        "burst disc": BurstDisc(figure),
    }
    point = operating_point(rig.replace(valve=fitted[kind], outlet_shut=True))
    return tuple("setting" if pressure > 0.5 * figure else "nothing" for pressure in (point.gauge, point.line_pressure))


_AFTER = {
    ("setting", "setting"): "both-full",
    ("nothing", "setting"): "trapped",
    ("nothing", "nothing"): "both-empty",
    ("setting", "nothing"): "gauge-only",
}

WHEN_PLUGGED = SingleChoice(
    id="05-when-plugged",
    title="The outlet is shut",
    skills=("four ways to guard a pump",),
    draw=lambda rng: {
        "valve": rng.choice(("unloader", "trapping unloader", "burst disc")),
        "setting": _psi(rng.randrange(2000, 3600, 100)),
    },
    shown={"setting": "pressure"},
    ask="A pump is guarded by nothing but a {valve}, for {setting}. At full throttle somebody shuts the tap at the end "
    "of the hose. What do you find a few seconds later?",
    options=(
        ("both-full", "Gauge and hose both at about {setting}"),
        ("trapped", "The gauge near nothing, the hose at about {setting}"),
        ("both-empty", "Gauge and hose both near nothing"),
        ("gauge-only", "The gauge at about {setting}, the hose near nothing"),
    ),
    answer=lambda p: _AFTER[_plugged(p["valve"])],
    mistakes=(
        Mistake(
            "trapped pressure forgotten",
            "Careful: that mistake hurts people. This valve spares the pump, but what keeps the hose from emptying?",
            lambda p: "both-empty" if p["valve"] == "trapping unloader" else None,
        ),
        Mistake(
            "trapping taken for plain",
            "A plain unloader would do that. What does a trapping one do for the pump?",
            lambda p: "both-full" if p["valve"] == "trapping unloader" else None,
        ),
        Mistake(
            "plain taken for trapping",
            "Only one kind of valve does that, and it has a name of its own. This one stays just open enough.",
            lambda p: "trapped" if p["valve"] != "trapping unloader" else None,
        ),
        Mistake(
            "disc taken to hold",
            "A disc does not open a little. Once it has torn, is there anything left to hold the pressure?",
            lambda p: "both-full" if p["valve"] == "burst disc" else None,
        ),
        Mistake(
            "unloader taken to let go",
            "An unloader lets go only so much that the pressure stays at its setting.",
            lambda p: "both-empty" if p["valve"] == "unloader" else None,
        ),
    ),
    hints=(
        "Look at the table of four valves in the lesson, or try it in the last console.",
        "Ask two things: does this valve hold the pressure at the pump, and can the hose empty itself?",
    ),
    solution=lambda p, show: _PLUGGED_WORDS[p["valve"]].format(setting=show(p["setting"], "pressure")),
)
_PLUGGED_WORDS = {
    "unloader": "All the water goes back through the valve, which holds gauge and hose at about {setting}, a little "
    "above rather than below.",
    "trapping unloader": "The valve drops the pump to almost nothing and locks the hose, which stays at about "
    "{setting}. The gauge, at the pump, shows near nothing. Let the hose off at the outlet, as the manual says, before "
    "you touch a coupling.",
    "burst disc": "The disc tears and everything goes back through the hole. Gauge and hose fall to near nothing, and "
    "stay there until a new disc is fitted. Even so, let the hose off before you touch a coupling.",
}


def _draw_early(rng):
    return {
        "rig": rng.choice(("yard_truck", "yard_cart")),
        "more": _feet(rng.choice((50, 75, 100, 125, 150))),
        "drills": rng.choice((1, 2)),
    }


@cache
def _opening(name, more, drills, change):
    """The throttle that opens the valve of a yard rig with one change to it; more than 1 when it stays shut."""
    rig = demo_rig(name)
    if change == "hose":
        rig = rig.replace(hoses=(*rig.hoses, Hose(rig.hoses[-1].bore, more)))
    elif change in ("larger", "smaller"):
        step = drills if change == "larger" else -drills
        new = [jet.replace(bore=tables.next_drill(jet.bore, step).diameter) for jet in rig.nozzle.jets]
        rig = rig.replace(nozzle=rig.nozzle.replace(jets=new))
    elif change == "plugged":
        first, *others = rig.nozzle.jets
        rig = rig.replace(nozzle=rig.nozzle.replace(jets=[first.replace(count=first.count - 1), *others]))
    elif change in ("low", "high"):
        setting = rig.unloader.setting * (0.9 if change == "low" else 1.1)
        rig = rig.replace(valve=rig.unloader.replace(setting=setting))
    return matched_jets(rig).bypass_throttle


_CHANGES = ("hose", "larger", "smaller", "plugged", "low", "high")


def _opens_at(p):
    return {change: _opening(p["rig"], p["more"], p["drills"], change) for change in ("", *_CHANGES)}


def _earlier(p):
    opens = _opens_at(p)
    return frozenset(change for change in _CHANGES if opens[change] < opens[""])


OPENS_EARLIER = MultipleChoice(
    id="05-opens-earlier",
    title="What opens the valve earlier?",
    skills=("where the valve opens",),
    draw=_draw_early,
    shown={"more": "length"},
    ask="The valve of a machine opens just short of full throttle. Which of these, each by itself, makes it open at "
    "less throttle than before?",
    options=(
        ("hose", "{more} more hose of the same bore"),
        ("larger", lambda p, show: f"Every jet opened by {_drill_words(p)}"),
        ("smaller", lambda p, show: f"Jets {_drill_words(p)} smaller"),
        ("plugged", "One of the rear jets plugged"),
        ("low", "The valve's setting a tenth lower"),
        ("high", "The valve's setting a tenth higher"),
    ),
    answer=_earlier,
    mistakes=(
        mistakes.upside_down(
            lambda p: frozenset(_CHANGES) - _earlier(p),
            "That is just the other way about. What makes the gauge climb sooner opens the valve sooner.",
        ),
        Mistake(
            "hose forgotten",
            "What you ticked is right. One more makes the pump push harder at the same flow.",
            lambda p: _earlier(p) - {"hose"},
        ),
        Mistake(
            "setting forgotten",
            "What you ticked is right. You have looked at the line; look at the valve too.",
            lambda p: _earlier(p) - {"low"},
        ),
        Mistake(
            "plugged jet forgotten",
            "What you ticked is right. But what does the same flow need if one way out is shut?",
            lambda p: _earlier(p) - {"plugged"},
        ),
    ),
    hints=(
        "Ask of each: does the gauge stand higher at the same throttle? Or is the figure it must reach lower?",
        "Four of the six make it open earlier.",
    ),
    solution="{more} more hose, smaller jets and a plugged jet all put the gauge up at the same flow, so it reaches "
    "the setting sooner. A lower setting is reached sooner too. Larger jets and a higher setting do the opposite. "
    "Leave the setting to the maker or a licensed fitter all the same.",
)


def _drill_words(p):
    return "one drill size" if p["drills"] == 1 else "two drill sizes"


_STREAMS = {
    "jets": "In the jets",
    "hose": "In the hose and fittings",
    "bypass": "In the bypass",
}


def _draw_shares(rng):
    nozzle = rng.randrange(8, 25) / 2.0
    gauge = rng.randrange(2200, 3500, 100)
    return {
        "nozzle": _gpm(nozzle),
        "back": _gpm(round(nozzle * rng.choice((0.15, 0.2, 0.3, 0.4, 0.5, 0.7)), 1)),
        "gauge": _psi(gauge),
        "behind": _psi(round(gauge * rng.choice((0.35, 0.45, 0.55, 0.65, 0.75, 0.85)) / 50) * 50),
    }


def _share_power(p):
    return {
        "jets": power.hydraulic_power(p["nozzle"], p["behind"]),
        "hose": power.hydraulic_power(p["nozzle"], p["gauge"] - p["behind"]),
        "bypass": power.hydraulic_power(p["back"], p["gauge"]),
    }


def _largest_first(values):
    return tuple(sorted(_STREAMS, key=lambda name: -values[name]))


def _by_power(p):
    return _largest_first(_share_power(p))


def _by_flow_or_pressure(p):
    return _largest_first({"jets": p["behind"], "hose": p["gauge"] - p["behind"], "bypass": p["gauge"]})


def _silly_shares(p):
    values = sorted(_share_power(p).values())
    pressures = sorted((p["behind"], p["gauge"] - p["behind"]))
    return any(high < 1.2 * low for low, high in pairwise(values)) or pressures[1] < 1.1 * pressures[0]


ORDER_SHARES = Ordering(
    id="05-order-shares",
    title="Where the power goes",
    skills=("power is pressure times flow",),
    draw=_draw_shares,
    reject=_silly_shares,
    shown={"nozzle": "flow", "back": "flow", "gauge": "pressure", "behind": "pressure"},
    ask="The gauge shows {gauge}. {nozzle} leaves the nozzle, and {back} goes back to the tank. Behind the jets there "
    "is {behind}. Where is the pump's power spent? Put the largest share first.",
    options=tuple(_STREAMS.items()),
    answer=_by_power,
    mistakes=(
        mistakes.upside_down(lambda p: _by_power(p)[::-1], "The order is turned over. The largest share comes first."),
        Mistake(
            "ordered by pressure",
            "It looks as if only the pressures were compared. Power is pressure times flow: how much water goes each "
            "way?",
            _by_flow_or_pressure,
        ),
        mistakes.bypass_left_out(
            lambda p: (*(name for name in _by_power(p) if name != "bypass"), "bypass"),
            "It looks as if the bypass was put last out of habit. That water has all of the gauge's pressure. Work it "
            "out.",
        ),
        Mistake(
            "jets put first",
            "It looks as if the jets were put first out of hope. Work out each: pressure times flow.",
            lambda p: ("jets", *(name for name in _by_power(p) if name != "jets")),
        ),
    ),
    hints=(
        "Each share is a pressure times a flow. Which pressure, and which flow, for each of the three?",
        "Hose: the gauge less what is behind the jets, times the nozzle's flow. Bypass: the whole gauge, times what "
        "goes back.",
    ),
    solution=lambda p, show: "\n".join(
        f"{_STREAMS[name]}: {show(_share_power(p)[name], 'power')}" for name in _by_power(p)
    ),
)

# --- a table ----------------------------------------------------------------------------------------

_PUMP = (0.8, 1.25, 1.6)  # the pump's flow over the flow that opens the valve


def _draw_table(rng):
    flow, gauge = _gpm(rng.randrange(4, 19) / 2.0), _psi(rng.randrange(500, 900, 50))
    return {"flow": flow, "gauge": gauge, "setting": 4.0 * gauge, "opens": 2.0 * flow}


def _table_rows(p):
    flows = tuple(share * p["opens"] for share in _PUMP)
    return tuple((flow, min(flow, p["opens"]), max(flow - p["opens"], 0.0)) for flow in flows)


def _table_wrong(nozzle):
    """What a mistake puts into the four cells: `nozzle(pump's flow, opening flow)`, and the rest back."""

    def wrong(p):
        cells = []
        for share in _PUMP[1:]:
            out = nozzle(share * p["opens"], p["opens"])
            cells += [out, share * p["opens"] - out]
        return tuple(cells)

    return wrong


SPLIT_TABLE = FillTable(
    id="05-split-table",
    title="A table of the split",
    skills=("the flow splits",),
    draw=_draw_table,
    shown={"flow": "flow", "gauge": "pressure", "setting": "pressure"},
    ask="At {flow} the gauge reads {gauge}. The valve is set to {setting}; take it that the gauge climbs no further, "
    "and take the square law for the line. The engine is brought up: where does the water go?",
    columns=(("pump gives", "flow"), ("out of the nozzle", "flow"), ("back to the tank", "flow")),
    rows=_table_rows,
    blanks=((1, 1), (1, 2), (2, 1), (2, 2)),
    tolerance=0.05,
    mistakes=(
        mistakes.bypass_left_out(_table_wrong(lambda pump, opens: pump)),
        Mistake(
            "all goes back",
            "An open valve does not take all the water. The nozzle still feels the full pressure.",
            _table_wrong(lambda pump, opens: 0.0),
        ),
        Mistake(
            "columns changed over",
            "The figures look right, but in the wrong columns. Which stream is held by the pressure?",
            _table_wrong(lambda pump, opens: pump - opens),
        ),
    ),
    hints=(
        "How many times the gauge is the setting? The root of that tells at which flow the valve opens.",
        "Once the valve is open the nozzle's flow stays what it was when it opened. The rest goes back.",
    ),
    solution=lambda p, show: (
        f"The setting is 4 times the gauge, so the valve opens at twice the flow, {show(p['opens'], 'flow')}. Above "
        "that the nozzle stays at it, and the rest goes back:\n\n"
        + "\n".join(
            f"{show(flow, 'flow')}: {show(out, 'flow')} out, {show(back, 'flow')} back"
            for flow, out, back in _table_rows(p)
        )
    ),
)

EXERCISES = (
    OPENING_FLOW,
    GOES_BACK,
    SPLIT_TABLE,
    MORE_THROTTLE,
    RISE,
    OPENS_EARLIER,
    LOST_POWER,
    ORDER_SHARES,
    MATCHED_AREA,
    MATCHED_BORE,
    WHEN_PLUGGED,
)

# --- predictions ------------------------------------------------------------------------------------

_ADDED, _ADDED_BORE = "200 ft", "3/8 in"
_CLIMBS = {"falls": 0.75, "stays": 1.0, "third": 1.33, "double": 2.0}


@cache
def _trailer_point(longer):
    """The yard trailer at full throttle; longer: with more hose coupled on."""
    rig = demo_rig("yard_trailer")
    return operating_point(rig.replace(hoses=(*rig.hoses, Hose(_ADDED_BORE, _ADDED))) if longer else rig)


def _gauge_climbs(p):
    """The option nearest to what the gauge does."""
    ratio = _trailer_point(True).gauge / _trailer_point(False).gauge
    return min(_CLIMBS, key=lambda name: abs(_CLIMBS[name] - ratio))


def _about_trailer(words):
    """A question with the trailer's own figures put in, worked out when it is asked."""

    def question(parameters, show):
        point = _trailer_point(False)
        return words.format(
            gauge=show(point.gauge, "pressure"),
            flow=show(point.nozzle_flow, "flow"),
            setting=show(demo_rig("yard_trailer").unloader.setting, "pressure"),
            added=show(si(_ADDED, "length"), "length"),
        )

    return question


GAUGE_WITH_MORE_HOSE = PredictedChoice(
    id="05-gauge-with-more-hose",
    title="The gauge, with more hose",
    ask=_about_trailer(
        "At full throttle the yard trailer's gauge reads {gauge}, and its valve is set to {setting}. Another {added} "
        "of 3/8 in hose (9.53 mm) is coupled on, with the same jets. What does the gauge do at full throttle?"
    ),
    options=(
        ("falls", "It falls by a quarter: the long hose holds the pressure back"),
        ("stays", "It stays where it was, within a few per cent"),
        ("third", "It rises by about a third"),
        ("double", "It doubles"),
    ),
    answer=_gauge_climbs,
    because="The line asks for more, so the gauge climbs until the valve opens. From there the valve lets go what "
    "cannot get out, and the gauge hardly climbs. So the gauge does not show that anything is lost.",
)

FLOW_WITH_MORE_HOSE = PredictedNumber(
    id="05-flow-with-more-hose",
    title="The nozzle, with more hose",
    ask=_about_trailer(
        "Before the hose was added, {flow} left the nozzle. How much leaves it now, with {added} of 3/8 in hose "
        "(9.53 mm) more, at full throttle?"
    ),
    kind="flow",
    answer=lambda p: _trailer_point(True).nozzle_flow,
    because="At the valve's setting the longer line passes less water. What it cannot pass goes back to the tank.",
)


def _small_bore_flow(p, x):
    return throttle_sweep(demo_rig("yard_small_bore"), x).nozzle_flow


@cache
def _small_bore():
    return demo_rig("yard_small_bore")


def _about_small_bore(parameters, show):
    rig = _small_bore()
    opens = matched_jets(rig).bypass_throttle
    return (
        f"The yard's small-bore set gives {show(operating_point(rig, 0.0).nozzle_flow, 'flow')} at idle (0 %). Its "
        f"jets are small: the valve opens at about {show(opens, 'fraction', 2)} throttle. Sketch what leaves the "
        "nozzle, from idle to full throttle."
    )


NOZZLE_CURVE = PredictedCurve(
    id="05-nozzle-against-throttle",
    title="The nozzle against the throttle",
    ask=_about_small_bore,
    x=("throttle", "fraction"),
    y=("nozzle flow", "flow"),
    xs=(0.0, 0.25, 0.5, 0.75, 1.0),
    top=_gpm(5),
    answer=lambda p, x: throttle_sweep(_small_bore(), np.atleast_1d(x)).nozzle_flow.reshape(np.shape(x)),
    because="As long as the valve is shut, what the pump gives leaves the nozzle: a straight line. Once it is open the "
    "pressure stays near enough the same, and so does the flow. All the rest goes back.",
)

PREDICTIONS = (GAUGE_WITH_MORE_HOSE, FLOW_WITH_MORE_HOSE, NOZZLE_CURVE)
