"""Practice and predictions of lesson 06, sizing jets."""

import math
from functools import cache
from itertools import pairwise

from jetlib import tables
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
from jetlib.course.exercises.mistakes import altered, scaled
from jetlib.physics import hose, orifice, water
from jetlib.rig.jets.matching import matched_jets
from jetlib.rig.parts.machine import Hose
from jetlib.rig.parts.rig_file import demo_rig
from jetlib.rig.point.operating_point import operating_point
from jetlib.units import both, si, to_si

_DENSITY, _VISCOSITY = water.density(288.15), water.viscosity(288.15)
_ROUGHNESS = 1e-5  # a usual lining
_DRILLS = ("#70", "#68", "#67", "#66", "#65", "#64", "#63", "#62", "#60", "#58", "#57", "#56", "#55", "#54", "#53")


def _psi(number):
    return to_si(number, "pressure", "US")


def _gpm(number):
    return to_si(number, "flow", "US")


def _feet(number):
    return to_si(number, "length", "US")


def _inch(number):
    return to_si(number, "jet_bore", "US")


def _bore(drill):
    return tables.drill(drill).diameter


# --- the matched area -------------------------------------------------------------------------------


def _draw_line(rng):
    setting = rng.randrange(2000, 3600, 100)
    return {
        "full": _gpm(rng.randrange(6, 31) / 2.0),
        "setting": _psi(setting),
        "line": _psi(round(setting * rng.uniform(0.25, 0.45), -1)),
        "coefficient": rng.choice((0.62, 0.65, 0.68, 0.72, 0.75)),
    }


def _area(p):
    left = p["setting"] - p["line"]
    return p["full"] / (p["coefficient"] * math.sqrt(2.0 * left / _DENSITY))


def _solve_area(p, show):
    left = p["setting"] - p["line"]
    speed = math.sqrt(2.0 * left / _DENSITY)
    return (
        f"Left for the jets: {show(p['setting'], 'pressure')} less {show(p['line'], 'pressure')} is "
        f"{show(left, 'pressure')}.\n\n"
        f"Speed: √(2 × {show(left, 'pressure')} / {show(_DENSITY, 'density')}) is {show(speed, 'velocity')}.\n\n"
        f"Area: {show(p['full'], 'flow')} / ({p['coefficient']} × {show(speed, 'velocity')}) is "
        f"{show(_area(p), 'area')}."
    )


MATCHED_AREA = Numeric(
    id="06-matched-area",
    title="The area that matches",
    skills=("matched jets", "orifice formula"),
    draw=_draw_line,
    shown={"full": "flow", "setting": "pressure", "line": "pressure"},
    ask="The pump gives {full} at full throttle. The valve is set to {setting}, and then the line takes {line}. "
    "The holes have Cd {coefficient}. What area must they have in all to match? Water: "
    + both(_DENSITY, "density") + ".",
    kind="area",
    answer=_area,
    mistakes=(
        mistakes.hose_left_out(altered(_area, line=0.0)),
        Mistake(
            "what the line takes for what is left",
            "It looks as if the jets were given what the line takes. They get the rest.",
            lambda p: _area({**p, "line": p["setting"] - p["line"]}),
        ),
        mistakes.coefficient_left_out(altered(_area, coefficient=1.0)),
        mistakes.coefficient_upside_down(altered(_area, coefficient=lambda cd: 1.0 / cd)),
        Mistake(
            "the 2 left out",
            "The area looks somewhat too large. Look at the formula again: is anything left out under the root?",
            scaled(_area, math.sqrt(2.0)),
        ),
    ),
    hints=(
        "First find what the line leaves for the jets. Then the speed of the water from it.",
        "Speed is √(2 × pressure / density), with pressure in pascal (1 psi is 6895 Pa, 1 bar is 100,000 Pa). Area is "
        "flow over Cd times speed.",
    ),
    solution=_solve_area,
)  # fmt: skip

# --- shared out among the holes ---------------------------------------------------------------------


def _draw_share_out(rng):
    return {"area": to_si(rng.randrange(20, 131, 2) / 1e4, "area", "US"), "count": rng.randrange(3, 9)}


def _bore_of_each(p):
    return orifice.circle_bore(p["area"] / p["count"])


BORE_OF_EACH = Numeric(
    id="06-bore-of-each",
    title="Shared out among the holes",
    skills=("area of a hole", "areas, not bores"),
    draw=_draw_share_out,
    shown={"area": "area"},
    ask="All the holes together must have {area}. There will be {count} of them, all alike. What bore must each have?",
    kind="jet_bore",
    answer=_bore_of_each,
    tolerance=0.02,
    mistakes=(
        Mistake(
            "bore shared out",
            "It looks as if you found the bore of one large hole and shared that out. It is the area that is shared.",
            lambda p: orifice.circle_bore(p["area"]) / p["count"],
        ),
        mistakes.pi_over_four_left_out(lambda p: math.sqrt(p["area"] / p["count"])),
        mistakes.radius_as_diameter(
            lambda p: _bore_of_each(p) / 2.0 if p["count"] != 4 else None,
            "That is the radius of each hole. A drill is named by the whole width.",
        ),
        Mistake(
            "not shared out",
            "That is one hole that does it all. How many are there?",
            lambda p: orifice.circle_bore(p["area"]),
        ),
    ),
    hints=(
        "How much area falls to one hole?",
        "The area of a round hole is π/4 × bore × bore. So bore is the square root of area over π/4.",
    ),
    solution=lambda p, show: (
        f"Each hole has {show(p['area'], 'area')} / {p['count']} = {show(p['area'] / p['count'], 'area')}.\n\n"
        f"Over π/4, and the root of it: {show(_bore_of_each(p), 'jet_bore')}."
    ),
)

# --- from the set you have to the set that matches --------------------------------------------------


def _draw_present(rng):
    drill = rng.choice(_DRILLS)
    return {
        "count": rng.randrange(3, 9),
        "drill": drill,
        "bore": _bore(drill),
        "share": rng.randrange(58, 83) / 100.0,
    }


def _open_to(p):
    return p["bore"] / math.sqrt(p["share"])


OPEN_TO_MATCH = Numeric(
    id="06-open-to-match",
    title="From what you have to what matches",
    skills=("matched jets", "areas, not bores"),
    draw=_draw_present,
    shown={"bore": "jet_bore", "share": "fraction"},
    ask="A nozzle has {count} holes of drill {drill} ({bore}). That is {share} of the matched area. What bore would "
    "match, with as many holes?",
    kind="jet_bore",
    answer=_open_to,
    tolerance=0.015,
    mistakes=(
        mistakes.bore_for_area(
            lambda p: p["bore"] / p["share"],
            "It looks as if bore was taken to go in step with area. Area goes with bore times bore.",
        ),
        mistakes.upside_down(lambda p: p["bore"] * math.sqrt(p["share"])),
        mistakes.difference_added(
            lambda p: p["bore"] * (2.0 - p["share"]),
            "It looks as if what is missing was added on to the bore. It is missing from the area, and it is a share "
            "of what is wanted, not of what there is.",
        ),
        Mistake(
            "root taken twice",
            "The right road, but a root too far. How often does the bore count in the area?",
            lambda p: p["bore"] / p["share"] ** 0.25,
        ),
    ),
    hints=(
        "By how many times must the area grow?",
        "Area goes with bore times bore, so the bore grows by the square root of that.",
    ),
    solution=lambda p, show: (
        f"The area must grow 1 / {show(p['share'], 'fraction')} = {1.0 / p['share']:.3g} times.\n\n"
        f"The bore grows √{1.0 / p['share']:.3g} = {1.0 / math.sqrt(p['share']):.3g} times: "
        f"{show(_open_to(p), 'jet_bore')}."
    ),
)

# --- front against rear -----------------------------------------------------------------------------


def _draw_pull(rng):
    rear = rng.randrange(20, 51) / 10.0
    return {
        "rear_count": rng.randrange(4, 9),
        "rear": to_si(rear, "force", "US"),
        "front_count": rng.randrange(1, 3),
        "front": to_si(round(rear * rng.uniform(1.05, 1.3), 1), "force", "US"),
    }


def _net_pull(p):
    return p["rear_count"] * p["rear"] - p["front_count"] * p["front"]


NET_PULL = Numeric(
    id="06-net-pull",
    title="What the front jets cost",
    skills=("front and rear",),
    draw=_draw_pull,
    reject=lambda p: _net_pull(p) < to_si(2.0, "force", "US"),
    shown={"rear": "force", "front": "force"},
    ask=lambda p, show: (
        f"Each of {p['rear_count']} rear jets pulls the nozzle forward with {show(p['rear'], 'force')}. "
        + ("One jet points ahead and" if p["front_count"] == 1 else "Two jets point ahead, and each")
        + f" pushes it back with {show(p['front'], 'force')}. What pull is left?"
    ),
    kind="force",
    answer=_net_pull,
    mistakes=(
        Mistake(
            "front added",
            "It looks as if the front was added. Which way does a jet push that points ahead?",
            lambda p: p["rear_count"] * p["rear"] + p["front_count"] * p["front"],
        ),
        Mistake(
            "front left out",
            "That is the rear alone. What does the front do?",
            lambda p: p["rear_count"] * p["rear"],
        ),
        mistakes.one_hole_only(
            lambda p: abs(p["rear"] - p["front"]) if abs(p["rear"] - p["front"]) > 0.05 * p["rear"] else None,
            "That is one jet against one. How many are there at each end?",
        ),
        Mistake(
            "front counted once",
            "Close. How many jets point ahead?",
            lambda p: p["rear_count"] * p["rear"] - p["front"] if p["front_count"] == 2 else None,
        ),
    ),
    hints=(
        "Add up what all the rear jets do, and what all the front jets do.",
        "They act against each other: take the front from the rear.",
    ),
    solution=lambda p, show: (
        f"Rear: {p['rear_count']} × {show(p['rear'], 'force')} is {show(p['rear_count'] * p['rear'], 'force')}.\n"
        f"Front: {p['front_count']} × {show(p['front'], 'force')} is "
        f"{show(p['front_count'] * p['front'], 'force')}.\n\n"
        f"Left: {show(_net_pull(p), 'force')}."
    ),
)

# --- one drill up, with hose ------------------------------------------------------------------------


def _draw_one_drill(rng):
    at = rng.randrange(len(_DRILLS) - 1)
    old, new = _DRILLS[at], _DRILLS[at + 1]
    return {
        "count": rng.randrange(3, 9),
        "old": old,
        "old_bore": _bore(old),
        "new": new,
        "new_bore": _bore(new),
        "gauge": _psi(rng.randrange(1800, 3000, 50)),
        "line": _psi(rng.randrange(400, 1100, 50)),
    }


def _fourth(p):
    return (p["old_bore"] / p["new_bore"]) ** 4


def _gauge_after(p):
    return p["line"] + (p["gauge"] - p["line"]) * _fourth(p)


def _solve_one_drill(p, show):
    jets = p["gauge"] - p["line"]
    return (
        f"The jets need {show(p['gauge'], 'pressure')} less {show(p['line'], 'pressure')}: "
        f"{show(jets, 'pressure')}.\n\n"
        f"Bore over bore, four times: {_fourth(p):.3g}. At the same flow they then need "
        f"{show(jets * _fourth(p), 'pressure')}.\n\n"
        f"The line takes what it took before: {show(_gauge_after(p), 'pressure')} on the gauge."
    )


ONE_DRILL_UP = Numeric(
    id="06-one-drill-up",
    title="One drill up, with the hose on",
    skills=("square law", "pressures add"),
    draw=_draw_one_drill,
    reject=lambda p: not 0.6 <= _fourth(p) <= 0.93,
    shown={"old_bore": "jet_bore", "new_bore": "jet_bore", "gauge": "pressure", "line": "pressure"},
    ask="The gauge reads {gauge}, of which the line takes {line}. The valve is shut. All {count} jets are opened from "
    "drill {old} ({old_bore}) to {new} ({new_bore}). The flow stays the same. What does the gauge read now?",
    kind="pressure",
    answer=_gauge_after,
    tolerance=0.02,
    mistakes=(
        mistakes.hose_left_out(
            lambda p: (p["gauge"] - p["line"]) * _fourth(p),
            "That is what the jets need. The gauge sees the line as well.",
        ),
        mistakes.gauge_at_nozzle(
            lambda p: p["gauge"] * _fourth(p),
            "It looks as if the whole gauge was changed. Only the part that the jets need changes; the line does not "
            "know of the drill.",
        ),
        mistakes.bore_for_area(lambda p: p["line"] + (p["gauge"] - p["line"]) * math.sqrt(_fourth(p))),
        mistakes.upside_down(
            lambda p: p["line"] + (p["gauge"] - p["line"]) / _fourth(p),
            "The ratio looks turned over. Does the gauge go up or down when the holes are made larger?",
        ),
    ),
    hints=(
        "Part the gauge in two: what the line takes, and what the jets need. Which part does the drill change?",
        "For the jets, use old bore over new bore four times: area goes with its square, pressure with the square of "
        "that. Then put the line back.",
    ),
    solution=_solve_one_drill,
)

# --- what is wrong with this set --------------------------------------------------------------------


@cache
def _trailer():
    return demo_rig("yard_trailer")


def _with_area(share):
    """The trailer at full throttle with `share` of the matched area, an OperatingPoint."""
    rig = _trailer()
    by = math.sqrt(share * matched_jets(rig).effective_area / rig.nozzle.effective_area)
    jets = [jet.replace(bore=jet.bore * by) for jet in rig.nozzle.jets]
    return operating_point(rig.replace(nozzle=rig.nozzle.replace(jets=jets)))


def _draw_state(rng):
    share = rng.choice((rng.uniform(0.7, 0.9), rng.uniform(0.998, 1.003), rng.uniform(1.1, 1.35)))
    point = _with_area(share)
    return {
        "setting": float(_trailer().unloader.setting),
        "gauge": float(point.gauge),
        "out": float(point.nozzle_flow),
        "back": float(point.bypass_flow),
        "pump": float(point.pump_flow),
    }


def _state(p):
    if p["back"] > 0.04 * p["pump"]:
        return "small"
    return "large" if p["gauge"] < 0.95 * p["setting"] else "matched"


_TURNED = {"small": "large", "large": "small"}

WHAT_IS_WRONG = SingleChoice(
    id="06-what-is-wrong",
    title="Too small, too large, or right?",
    skills=("gauge and bypass", "matched jets"),
    draw=_draw_state,
    shown={"setting": "pressure", "gauge": "pressure", "out": "flow", "back": "flow"},
    ask="The trailer at full throttle, all in good order. The valve is set to {setting}. The gauge reads {gauge}, "
    "{out} leave the nozzle and {back} go back to the tank. What are the jets?",
    options=(
        ("small", "Too small for this pump and hose"),
        ("large", "Too large for this pump and hose"),
        ("matched", "Matched, as near as it matters"),
        ("valve", "Right, but the valve is set wrong"),
    ),
    answer=_state,
    mistakes=(
        Mistake(
            "turned over",
            "Think of the way out. A narrow one fills the gauge early and sends water home; a wide one never fills it.",
            lambda p: _TURNED.get(_state(p)),
        ),
        Mistake(
            "matched too soon",
            "Two things must come together at full throttle: the gauge at the setting, and no water going back.",
            lambda p: "matched" if _state(p) != "matched" else None,
        ),
        Mistake(
            "valve blamed",
            "The valve is left alone: its setting is what hose and pump are made for. It is the jets that are chosen.",
            lambda p: "valve",
        ),
        Mistake(
            "gauge at its limit taken for too small",
            "The gauge is as high as it should be. But does water go back?",
            lambda p: "small" if _state(p) == "matched" else None,
        ),
    ),
    hints=(
        "Look at two things: how far is the gauge from the setting, and does water go back?",
        "Water goes back when the way out is too narrow. The gauge stays low when it is too wide.",
    ),
    solution=lambda p, show: (
        f"Gauge {show(p['gauge'], 'pressure')} against {show(p['setting'], 'pressure')}, and "
        f"{show(p['back'], 'flow')} going back: {_SAID[_state(p)]}"
    ),
)
_SAID = {
    "small": "the pressure is there before the throttle is, and the rest of the water goes home. Too small.",
    "large": "all the water goes out, but it goes too easily. Too large.",
    "matched": "full pressure and full flow, together. Matched.",
}

# --- more water, more power? ------------------------------------------------------------------------

_GROWTH = 1.8  # of hose loss with flow: lesson 03


def _draw_power(rng):
    setting, full = rng.randrange(2000, 3600, 100), rng.randrange(7, 16)
    before = round(2.0 * full * rng.uniform(0.68, 0.86)) / 2.0
    loss = setting * rng.choice((rng.uniform(0.05, 0.16), rng.uniform(0.36, 0.46), rng.uniform(0.55, 0.75)))
    return {
        "setting": _psi(setting),
        "full": _gpm(full),
        "before": _gpm(before),
        "loss": _psi(round(loss * (before / full) ** _GROWTH, -1)),
        "full_loss": _psi(round(loss, -1)),
    }


def _powers(p):
    return (p["setting"] - p["loss"]) * p["before"], (p["setting"] - p["full_loss"]) * p["full"]


def _power_change(p):
    before, after = _powers(p)
    return "more" if after > 1.03 * before else "less" if after < 0.97 * before else "same"


MORE_POWER = SingleChoice(
    id="06-more-power",
    title="More water: more power too?",
    skills=("matched jets", "power"),
    draw=_draw_power,
    reject=lambda p: any(abs(_powers(p)[1] / _powers(p)[0] - edge) < 0.02 for edge in (0.97, 1.03)),
    shown={"setting": "pressure", "full": "flow", "before": "flow", "loss": "pressure", "full_loss": "pressure"},
    ask="The gauge stands at {setting}. Now {before} leave the nozzle, and the line takes {loss}. With matched jets "
    "{full} would leave it, and the line would take {full_loss}. What do the jets get?",
    options=(
        ("more", "More water, and more power (by over 3 %)"),
        ("same", "More water, and the same power (within 3 %)"),
        ("less", "More water, and less power (by over 3 %)"),
        ("neither", "As much water and power as before"),
    ),
    answer=_power_change,
    mistakes=(
        Mistake(
            "more water taken for more power",
            "More water, yes. But power is flow times the pressure behind the jets, and what happens to that?",
            lambda p: "more" if _power_change(p) != "more" else None,
        ),
        Mistake(
            "less pressure taken for less power",
            "Less pressure behind the jets, yes. But there is more water. Multiply the two.",
            lambda p: "less" if _power_change(p) != "less" else None,
        ),
        Mistake(
            "nothing gained",
            "What went home before now goes out. That is a change at the nozzle.",
            lambda p: "neither",
        ),
    ),
    hints=(
        "What pressure is left behind the jets, before and after?",
        "Multiply each by its flow, and compare the two products.",
    ),
    solution=lambda p, show: (
        f"Before: {show(p['setting'] - p['loss'], 'pressure')} at {show(p['before'], 'flow')}, "
        f"{show(_powers(p)[0], 'power')}.\nMatched: {show(p['setting'] - p['full_loss'], 'pressure')} at "
        f"{show(p['full'], 'flow')}, {show(_powers(p)[1], 'power')}.\n\n"
        f"The second is {_powers(p)[1] / _powers(p)[0]:.3g} times the first: {_POWER_SAID[_power_change(p)]}."
    ),
)

_POWER_SAID = {"more": "more water and more power", "same": "more water, the same power", "less": "less power"}

# --- which sets match -------------------------------------------------------------------------------


def _draw_sets(rng):
    counts = rng.sample(range(3, 10), 4)
    base = rng.choice(_DRILLS[4:-4])
    area = rng.choice((4, 5, 6)) * orifice.circle_area(_bore(base))
    found = {"area": area}
    for key, count in zip("abcd", counts, strict=True):
        found[f"count_{key}"] = count
        found[f"drill_{key}"] = tables.next_drill(orifice.circle_bore(area / count), rng.choice((-1, 0, 0, 1))).label
    return found


def _set_area(p, key):
    return p[f"count_{key}"] * orifice.circle_area(_bore(p[f"drill_{key}"]))


def _near(p, within):
    return [key for key in "abcd" if abs(_set_area(p, key) / p["area"] - 1.0) <= within]


def _sets_silly(p):
    off = [abs(_set_area(p, key) / p["area"] - 1.0) for key in "abcd"]
    return not 1 <= sum(each <= 0.03 for each in off) <= 3 or any(0.02 < each < 0.045 for each in off)


def _some(keys, answer):
    """A wrong reply, or None where it is empty or happens to be right."""
    return keys if keys and keys != answer else None


SETS_THAT_MATCH = MultipleChoice(
    id="06-sets-that-match",
    title="Sets from the drill box",
    skills=("areas add", "number drills"),
    draw=_draw_sets,
    reject=_sets_silly,
    shown={"area": "area"},
    ask="Matched is {area} of holes in all. Which of these sets come within 3 % of it? The bores of the drills are in "
    "the lesson.",
    options=lambda p: tuple((key, _set_words(key)) for key in "abcd"),
    answer=lambda p: _near(p, 0.03),
    mistakes=(
        Mistake(
            "only one found",
            "What you ticked is right. Work out the others too: there is more than one.",
            lambda p: _some(_near(p, 0.03)[:1], _near(p, 0.03)),
        ),
        Mistake(
            "one missed",
            "What you ticked is right, but one is still missing.",
            lambda p: _some(_near(p, 0.03)[1:], _near(p, 0.03)) if len(_near(p, 0.03)) > 2 else None,
        ),
        Mistake(
            "too generous",
            "One of them at least is farther off than that. A drill more or less in every hole is a great deal.",
            lambda p: _some(_near(p, 0.12), _near(p, 0.03)),
        ),
    ),
    hints=(
        "For each set: number of holes × π/4 × bore × bore.",
        "Divide each by the matched area. From 0.97 to 1.03 will do.",
    ),
    solution=lambda p, show: "\n".join(
        f"{p[f'count_{key}']} of {p[f'drill_{key}']}: {show(_set_area(p, key), 'area')}, "
        f"{_set_area(p, key) / p['area']:.3f} times what matches: {'yes' if key in _near(p, 0.03) else 'no'}"
        for key in "abcd"
    ),
)


def _set_words(key):
    return lambda p, show: (
        f"{p[f'count_{key}']} holes of {p[f'drill_{key}']} ({show(_bore(p[f'drill_{key}']), 'jet_bore')})"
    )


# --- which line asks for the largest holes ----------------------------------------------------------

_LINES = ("1/4 in", "5/16 in", "3/8 in", "1/2 in", "5/8 in")


def _draw_lines(rng):
    return {
        "flow": _gpm(rng.randrange(5, 11)),
        **{f"length_{key}": _feet(rng.randrange(50, 401, 50)) for key in "abcd"},
        **{f"bore_{key}": si(bore, "bore") for key, bore in zip("abcd", rng.sample(_LINES, 4), strict=True)},
    }


def _line_loss(p, key):
    return hose.pressure_loss(
        p["flow"], bore=p[f"bore_{key}"], length=p[f"length_{key}"], roughness=_ROUGHNESS, density=_DENSITY,
        viscosity=_VISCOSITY,
    )  # fmt: skip


def _by_loss(p):
    return tuple(sorted("abcd", key=lambda key: -_line_loss(p, key)))


def _lines_silly(p):
    losses = sorted(_line_loss(p, key) for key in "abcd")
    return losses[-1] > _psi(2400) or any(high < 1.3 * low for low, high in pairwise(losses))


ORDER_LINES = Ordering(
    id="06-order-lines",
    title="Which line asks for the largest holes?",
    skills=("matched jets", "hose friction"),
    draw=_draw_lines,
    reject=_lines_silly,
    shown={"flow": "flow", **{f"length_{k}": "length" for k in "abcd"}, **{f"bore_{k}": "bore" for k in "abcd"}},
    ask="One pump, {flow} at full throttle, one valve. It gets each of these lines in turn, and each time matched "
    "jets. Put the lines in order, the one with the largest holes first.",
    options=tuple((key, f"{{length_{key}}} of {{bore_{key}}}") for key in "abcd"),
    answer=_by_loss,
    mistakes=(
        mistakes.upside_down(
            lambda p: _by_loss(p)[::-1],
            "The order is turned over. A line that takes much leaves little for the jets. To pass the same flow at "
            "less pressure, must the holes be larger or smaller?",
        ),
        Mistake(
            "by length alone",
            "It looks as if only the length was counted. Bore counts far more.",
            lambda p: tuple(sorted("abcd", key=lambda key: (-p[f"length_{key}"], p[f"bore_{key}"]))),
        ),
        Mistake(
            "by bore alone",
            "It looks as if only the bore was counted. A long hose can take more than a thinner, short one.",
            lambda p: tuple(sorted("abcd", key=lambda key: p[f"bore_{key}"])),
        ),
    ),
    hints=(
        "Which of the lines takes most? Length counts once, bore by the fifth power.",
        "The more the line takes, the less is left for the jets, and the larger they must be.",
    ),
    solution=lambda p, show: (
        f"At {show(p['flow'], 'flow')} the lines take, most first:\n\n"
        + "\n".join(
            f"{show(p[f'length_{key}'], 'length')} of {show(p[f'bore_{key}'], 'bore')}: "
            f"{show(_line_loss(p, key), 'pressure')}"
            for key in _by_loss(p)
        )
        + "\n\nWhat takes most leaves least, and asks for the largest holes."
    ),
)

# --- wear -------------------------------------------------------------------------------------------


def _draw_wear(rng):
    drills = sorted(rng.sample(_DRILLS, 3), key=_bore)
    return {"wear": _inch(rng.choice((0.001, 0.0015, 0.002, 0.0025, 0.003))), "drills": ", ".join(drills)}


def _wear_table(p, more):
    return tuple((drill, _bore(drill), more(p["wear"] / _bore(drill))) for drill in p["drills"].split(", "))


def _cells(more):
    return lambda p: tuple(row[2] for row in _wear_table(p, more))


def _more_area(ratio):
    return (1.0 + ratio) ** 2 - 1.0


WEAR = FillTable(
    id="06-wear-table",
    title="Who wears fastest?",
    skills=("wear", "areas, not bores"),
    draw=_draw_wear,
    shown={"wear": "leak_bore"},
    ask="Three holes in one nozzle, {drills}, have each worn wider by {wear}. By how much has the area of each grown?",
    columns=(("drill", None), ("bore when new", "jet_bore"), ("more area", "fraction")),
    rows=lambda p: _wear_table(p, _more_area),
    blanks=((0, 2), (1, 2), (2, 2)),
    tolerance=0.05,
    mistakes=(
        mistakes.bore_for_area(
            _cells(lambda ratio: ratio), "That is how much the bore has grown. Area goes with its square."
        ),
        Mistake(
            "wear on both sides",
            "It looks as if the wear was counted twice. The hole is wider by so much in all, from side to side.",
            _cells(lambda ratio: _more_area(2.0 * ratio)),
        ),
        Mistake(
            "third power",
            "A power too many. How often does the bore count in an area?",
            _cells(lambda ratio: (1.0 + ratio) ** 3 - 1.0),
        ),
    ),
    hints=(
        "What is the new bore of each, over its old one?",
        "Multiply that ratio by itself. What is above 1 is what has been added.",
    ),
    solution=lambda p, show: "\n".join(
        f"{drill}: {show(bore + p['wear'], 'jet_bore')} / {show(bore, 'jet_bore')} = {1.0 + p['wear'] / bore:.4g}; "
        f"squared, {(1.0 + p['wear'] / bore) ** 2:.4g}: {show(more, 'fraction')} more"
        for drill, bore, more in _wear_table(p, _more_area)
    ),
)  # fmt: skip

EXERCISES = (
    MATCHED_AREA,
    BORE_OF_EACH,
    OPEN_TO_MATCH,
    SETS_THAT_MATCH,
    ONE_DRILL_UP,
    WHAT_IS_WRONG,
    ORDER_LINES,
    NET_PULL,
    MORE_POWER,
    WEAR,
)

# --- predictions ------------------------------------------------------------------------------------


def _small_with(drill):
    """Share of the matched area that the small-bore set has with its four holes of `drill`."""
    rig = demo_rig("yard_small_bore")
    (rear,) = rig.nozzle.jets
    fitted = rig.replace(nozzle=rig.nozzle.replace(jets=[rear.replace(bore=_bore(drill))]))
    return fitted.nozzle.effective_area / matched_jets(rig).effective_area


_OFFERED = ("#69", "#68", "#66", "#64")


def _offered(drill):
    return lambda p, show: f"{drill}, {show(_bore(drill), 'jet_bore')}"


WHICH_DRILL = PredictedChoice(
    id="06-which-drill",
    title="Which drill?",
    parameters={"now": _bore("#70"), "out": _gpm(3.3), "full": _gpm(3.8)},
    shown={"now": "jet_bore", "out": "flow", "full": "flow"},
    ask="The small-bore set has four holes of #70 ({now}). At full throttle its gauge stands at the valve's setting, "
    "but only {out} of its {full} leave the nozzle. With which drill would all of it leave, at the same gauge?",
    options=tuple((drill, _offered(drill)) for drill in _OFFERED),
    answer=lambda p: min(_OFFERED, key=lambda drill: abs(math.log(_small_with(drill)))),
    because="The flow must grow by about a seventh. But the hose then takes more, so less pressure is left, and the "
    "area must grow by more than a fifth: the bore by a tenth.",
)


def _truck_opened(p):
    rig = demo_rig("yard_truck")
    rear, *others = rig.nozzle.jets
    opened = [rear.replace(bore=p["new"]), *others]
    return float(operating_point(rig.replace(nozzle=rig.nozzle.replace(jets=opened))).gauge)


ONE_SIZE = PredictedNumber(
    id="06-one-size",
    title="One drill size on the truck",
    parameters={"count": 6, "old": _bore("#53"), "new": _bore("#52"), "gauge": _psi(2210)},
    shown={"old": "jet_bore", "new": "jet_bore", "gauge": "pressure"},
    ask="The yard truck's jets are nearly matched: {gauge} at full throttle. Its {count} rear holes are opened by one "
    "drill size, from #53 ({old}) to #52 ({new}). What does the gauge read then?",
    kind="pressure",
    answer=_truck_opened,
    because="One drill is 7 % of the bore here and 14 % of the area. The water hardly changes, for it all went out "
    "before. So the pressure behind the jets falls with the area squared.",
)


def _longer_trailer():
    rig = _trailer()
    return rig.replace(hoses=[*rig.hoses, Hose("3/8 in", "200 ft")])


def _matched_power(p):
    rig = _longer_trailer()
    by = math.sqrt(matched_jets(rig).effective_area / rig.nozzle.effective_area)
    jets = [jet.replace(bore=jet.bore * by) for jet in rig.nozzle.jets]
    after = operating_point(rig.replace(nozzle=rig.nozzle.replace(jets=jets))).power_shares["jets"]
    ratio = after / operating_point(rig).power_shares["jets"]
    return min(_RATIOS, key=lambda key: abs(_RATIOS[key] - ratio))


_RATIOS = {"less": 0.9, "same": 1.0, "flow": 1.1, "much": 1.2}

POWER_AT_THE_JETS = PredictedChoice(
    id="06-power-at-the-jets",
    title="What matching brings",
    parameters={"added": _feet(200), "bore": si("3/8 in", "bore")},
    shown={"added": "length", "bore": "bore"},
    ask="The yard trailer with {added} of {bore} hose added sends water back, as in lesson 05. Matched jets let a "
    "tenth more water out. How much does the power at the jets grow?",
    options=(
        ("less", "It falls by about a tenth"),
        ("same", "It hardly changes"),
        ("flow", "It grows by a tenth, like the flow"),
        ("much", "It grows by a fifth"),
    ),
    answer=_matched_power,
    because="There is more water, but the hose takes more of the pressure. In this line the two just cancel. The water "
    "helps to carry dirt away; the cut is no stronger.",
)

PREDICTIONS = (WHICH_DRILL, ONE_SIZE, POWER_AT_THE_JETS)
