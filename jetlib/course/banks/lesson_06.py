"""Predictions, and the exercises that need Python, of lesson 06, sizing jets."""

import math
from functools import cache

from jetlib import tables
from jetlib.course.exercises import PredictedChoice, PredictedNumber
from jetlib.course.exercises.amounts import (
    DRILLS,
    SIZES,
    bore_of,
    draw_hose,
    feet,
    holes,
    hose_bore,
    hose_loss,
    machine,
    point,
    psi,
)
from jetlib.course.exercises.shapes import choice
from jetlib.physics import orifice
from jetlib.rig.jets.matching import matched_jets
from jetlib.rig.parts.machine import Hose
from jetlib.rig.point.operating_point import operating_point

_SETTINGS = tuple(range(2000, 3300, 100))


# --- what is wrong with this set --------------------------------------------------------------------


def _with_area(share):
    """The trailer at full throttle with `share` of the matched area, an OperatingPoint."""
    rig = machine("trailer")
    by = math.sqrt(share * matched_jets(rig).effective_area / rig.nozzle.effective_area)
    jets = [jet.replace(bore=jet.bore * by) for jet in rig.nozzle.jets]
    return operating_point(rig.with_jets(jets))


def _draw_state(rng):
    at = _with_area(rng.choice((rng.uniform(0.7, 0.9), rng.uniform(0.998, 1.003), rng.uniform(1.1, 1.35))))
    return {
        "setting": float(machine("trailer").unloader.setting),
        "gauge": float(at.gauge),
        "out": float(at.nozzle_flow),
        "back": float(at.bypass_flow),
        "pump": float(at.pump_flow),
    }


def _state(p):
    if p["back"] > 0.04 * p["pump"]:
        return "small"
    return "large" if p["gauge"] < 0.95 * p["setting"] else "matched"


_SAID = {
    "small": "the pressure is there before the throttle is fully open, and the rest of the water returns. Too small.",
    "large": "all the water leaves the nozzle, but too easily. Too large.",
    "matched": "full pressure and full flow, together. Matched.",
}

WHAT_IS_WRONG = choice(
    "06-what-is-wrong",
    """
    Too small, too large, or right?
    ask: The trailer at full throttle, everything in good condition. The bypass valve is set to {setting}. The gauge
    reads {gauge}, {out} leaves the nozzle and {back} returns to the tank. What are the jets?
    option small: Too small for this pump and hose
    option large: Too large for this pump and hose
    option matched: Matched, closely enough
    option valve: Right, but the valve is set wrong
    hint: Look at two things: how far is the gauge reading from the setting, and does water return to the tank?
    hint: Water returns when the way out is too narrow. The reading stays low when it is too wide.
    the wrong way around: Think of the outlet. A narrow one raises the reading early; a wide one never lets it reach the
    setting.
    matched too soon: Two things must come together at full throttle: the reading at the setting, and no water
    returning.
    valve blamed: Leave the bypass valve alone: hose and pump are made for its setting. It is the jets that you choose.
    gauge at its limit taken for too small: The reading is as high as it should be. But does water return to the tank?
    """,
    skills=("gauge and bypass", "matched jets"),
    draw=_draw_state,
    shown={"setting": "pressure", "gauge": "pressure", "out": "flow", "back": "flow"},
    answer=_state,
    wrong={
        "the wrong way around": lambda p: {"small": "large", "large": "small"}.get(_state(p)),
        "matched too soon": lambda p: "matched" if _state(p) != "matched" else None,
        "valve blamed": "valve",
        "gauge at its limit taken for too small": lambda p: "small" if _state(p) == "matched" else None,
    },
    solution=lambda p, show: (
        f"The gauge reads {show(p['gauge'], 'pressure')} against a setting of {show(p['setting'], 'pressure')}, and "
        f"{show(p['back'], 'flow')} returns: {_SAID[_state(p)]}"
    ),
)

# --- more water, more power? ------------------------------------------------------------------------


def _two_losses(p):
    lost = [hose_loss(share * p["flow"], p["length"], hose_bore(p["size"])) for share in (p["share"], 1.0)]
    return {"before": p["share"] * p["flow"], "loss": lost[0], "full_loss": lost[1]}


def _power_ratio(p):
    return (p["setting"] - p["full_loss"]) * p["flow"] / ((p["setting"] - p["loss"]) * p["before"])


def _power_change(p):
    ratio = _power_ratio(p)
    return "more" if ratio > 1.03 else "less" if ratio < 0.97 else "same"


def _draw_power(rng):
    for _ in range(40):  # about as often less or the same power as more of it
        drawn = draw_hose(rng, SIZES, range(50, 801, 50)) | {
            "setting": psi(rng.choice(_SETTINGS)),
            "share": rng.choice((0.7, 0.75, 0.8, 0.85)),
        }
        if 0.05 <= _two_losses(drawn)["full_loss"] / drawn["setting"] <= 0.8 and rng.random() < 0.25 + 0.75 * (
            _power_change(drawn | _two_losses(drawn)) != "more"
        ):
            break
    return drawn


MORE_POWER = choice(
    "06-more-power",
    """
    More water: more power too?
    ask: The gauge reads {setting}. Now {before} leaves the nozzle, and the hose loses {loss}. With matched jets {flow}
    would leave it, and the hose would lose {full_loss}. What would the jets get?
    option more: More water, and more power (by over 3 %)
    option same: More water, and the same power (within 3 %)
    option less: More water, and less power (by over 3 %)
    option neither: As much water and power as before
    hint: What is the nozzle pressure, before and after?
    hint: Multiply each by its flow, and compare the two products.
    solve: Nozzle pressure before: {setting} − {loss} -> left pressure
    solve: Power before: {left} × {before} / [1714|600] -> now power
    solve: Nozzle pressure, matched: {setting} − {full_loss} -> full_left pressure
    solve: Power, matched: {full_left} × {flow} / [1714|600] -> then power
    solve: Ratio: {then} / {now} -> ratio
    more water taken for more power: More water, yes. But power is flow times nozzle pressure: what happens to that?
    less pressure taken for less power: Less nozzle pressure, yes. But there is more water. Multiply the two.
    nothing gained: What returned to the tank before now leaves the nozzle. That is a change.
    """,
    skills=("matched jets", "power"),
    draw=_draw_power,
    given=_two_losses,
    reject=lambda p: (
        not 0.05 <= p["full_loss"] / p["setting"] <= 0.8
        or any(abs(_power_ratio(p) - edge) < 0.02 for edge in (0.97, 1.03))
    ),
    shown={"flow": "flow", "before": "flow", "setting": "pressure", "loss": "pressure", "full_loss": "pressure"},
    answer=_power_change,
    wrong={
        "more water taken for more power": lambda p: "more" if _power_change(p) != "more" else None,
        "less pressure taken for less power": lambda p: "less" if _power_change(p) != "less" else None,
        "nothing gained": "neither",
    },
)

# --- which sets match -------------------------------------------------------------------------------


def _draw_sets(rng):
    area = rng.choice((4, 5, 6)) * orifice.circle_area(bore_of(rng.choice(DRILLS[4:-4])))
    drawn = {"area": area}
    for key, count in zip("abcd", rng.sample(range(3, 10), 4), strict=True):
        drill = tables.next_drill(orifice.circle_bore(area / count), rng.choice((-1, 0, 0, 1)))
        drawn |= {f"count_{key}": count, f"drill_{key}": drill.label, f"bore_{key}": drill.diameter}
    return drawn


def _off(p):
    return {key: abs(holes(p[f"count_{key}"], p[f"bore_{key}"]) / p["area"] - 1.0) for key in "abcd"}


def _near(p, within=0.03):
    return [key for key, off in _off(p).items() if off <= within]


def _some(keys, p):
    """A wrong reply, or None where it is empty or happens to be right."""
    return keys if keys and keys != _near(p) else None


SETS_THAT_MATCH = choice(
    "06-sets-that-match",
    """
    Sets from the drill box
    ask: The matched area is {area} in all. Which of these sets come within 3 % of it?
    option a: {count_a} holes of {drill_a} ({bore_a})
    option b: {count_b} holes of {drill_b} ({bore_b})
    option c: {count_c} holes of {drill_c} ({bore_c})
    option d: {count_d} holes of {drill_d} ({bore_d})
    hint: For each set: number of holes × 0.785 × bore × bore.
    hint: Divide each by the matched area. From 0.97 to 1.03 is close enough.
    solve: {drill_a}: {count_a} × 0.785 × {bore_a} × {bore_a} / {area} -> a
    solve: {drill_b}: {count_b} × 0.785 × {bore_b} × {bore_b} / {area} -> b
    solve: {drill_c}: {count_c} × 0.785 × {bore_c} × {bore_c} / {area} -> c
    solve: {drill_d}: {count_d} × 0.785 × {bore_d} × {bore_d} / {area} -> d
    only one found: What you ticked is right. Calculate the others too: there is more than one.
    one missed: What you ticked is right, but one is still missing.
    too generous: At least one of them is farther off than that. One drill size in every hole is a great deal.
    """,
    many=True,
    skills=("areas add", "number drills"),
    draw=_draw_sets,
    reject=lambda p: not 1 <= len(_near(p)) <= 3 or any(0.02 < off < 0.045 for off in _off(p).values()),
    shown={"area": "area", **{f"bore_{key}": "jet_bore" for key in "abcd"}},
    answer=_near,
    wrong={
        "only one found": lambda p: _some(_near(p)[:1], p),
        "one missed": lambda p: _some(_near(p)[1:], p) if len(_near(p)) > 2 else None,
        "too generous": lambda p: _some(_near(p, 0.12), p),
    },
)


EXERCISES = (SETS_THAT_MATCH, WHAT_IS_WRONG, MORE_POWER)

# --- predictions ------------------------------------------------------------------------------------

_OFFERED = ("#69", "#68", "#66", "#64")


@cache
def _small_with(drill):
    """Share of the matched area that the small-bore set has with its four holes of `drill`."""
    rig = machine("small_bore")
    (rear,) = rig.nozzle.jets
    fitted = rig.nozzle.replace(jets=[rear.replace(bore=bore_of(drill))])
    return fitted.effective_area / matched_jets(rig).effective_area


def _offered(drill):
    return lambda p, show: f"{drill}, {show(bore_of(drill), 'jet_bore')}"


WHICH_DRILL = PredictedChoice(
    id="06-which-drill",
    title="Which drill?",
    parameters={
        "now": bore_of("#70"),
        "out": float(point("small_bore").nozzle_flow),
        "full": float(point("small_bore").pump_flow),
    },
    shown={"now": "jet_bore", "out": "flow", "full": "flow"},
    ask="The small-bore set has four holes of #70 ({now}). At full throttle its gauge reads the bypass valve's "
    "setting, but only {out} of its {full} leaves the nozzle. Which drill lets all of it leave, at the same reading?",
    options=tuple((drill, _offered(drill)) for drill in _OFFERED),
    answer=lambda p: min(_OFFERED, key=lambda drill: abs(math.log(_small_with(drill)))),
    because=lambda p, show: (
        f"The flow must grow {p['full'] / p['out']:.2f} times. But the hose then loses more, so less pressure is left, "
        f"and the area must grow {1.0 / _small_with('#70'):.2f} times: the bore {_small_with('#70') ** -0.5:.2f} times."
    ),
)


def _truck_opened(p):
    rig = machine("truck")
    rear, *others = rig.nozzle.jets
    opened = [rear.replace(bore=p["new"]), *others]
    return float(operating_point(rig.with_jets(opened)).gauge)


ONE_SIZE = PredictedNumber(
    id="06-one-size",
    title="One drill size on the truck",
    parameters={"count": 6, "old": bore_of("#53"), "new": bore_of("#52"), "gauge": float(point("truck").gauge)},
    shown={"old": "jet_bore", "new": "jet_bore", "gauge": "pressure"},
    ask="The yard truck's jets are nearly matched: {gauge} at full throttle. Its {count} rear holes are drilled one "
    "size larger, from #53 ({old}) to #52 ({new}). What does the gauge read then?",
    kind="pressure",
    answer=_truck_opened,
    because="One drill size is 7 % of the bore here and 14 % of the area. The flow hardly changes, because nearly all "
    "of it left the nozzle before. So the nozzle pressure falls with the area squared.",
)


def _matched_power(p):
    rig = machine("trailer")
    rig = rig.replace(hoses=[*rig.hoses, Hose("3/8 in", p["added"])])
    by = math.sqrt(matched_jets(rig).effective_area / rig.nozzle.effective_area)
    jets = [jet.replace(bore=jet.bore * by) for jet in rig.nozzle.jets]
    after = operating_point(rig.with_jets(jets)).power_shares["jets"]
    ratio = after / operating_point(rig).power_shares["jets"]
    return min(_RATIOS, key=lambda key: abs(_RATIOS[key] - ratio))


_RATIOS = {"less": 0.9, "same": 1.0, "flow": 1.1, "much": 1.2}

POWER_AT_THE_JETS = PredictedChoice(
    id="06-power-at-the-jets",
    title="What matching gains",
    parameters={"added": feet(200), "bore": hose_bore("3/8 in")},
    shown={"added": "length", "bore": "bore"},
    ask="The yard trailer with {added} of {bore} hose added returns water to the tank, as in lesson 05. Matched "
    "jets let 9 % more water out. How much does the power at the jets grow?",
    options=(
        ("less", "It falls by about 10 %"),
        ("same", "It hardly changes"),
        ("flow", "It grows by 9 %, like the flow"),
        ("much", "It grows by 20 %"),
    ),
    answer=_matched_power,
    because="There is more water, but the hose loses more of the pressure. In this line the two nearly cancel. The "
    "water helps to carry dirt away; the cut is no stronger.",
)

PREDICTIONS = (WHICH_DRILL, ONE_SIZE, POWER_AT_THE_JETS)
