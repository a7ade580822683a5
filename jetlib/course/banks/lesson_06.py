"""Practice and predictions of lesson 06, sizing jets."""

import math
from functools import cache

from jetlib import tables
from jetlib.course.banks.amounts import (
    DENSITY,
    DRILLS,
    SIZES,
    bore_of,
    draw_hose,
    draw_line,
    feet,
    gpm,
    holes,
    hose_bore,
    hose_loss,
    jet_flow,
    jet_inches,
    line_of,
    loss_of,
    machine,
    point,
    psi,
    square_inches,
    usual_line,
)
from jetlib.course.exercises import PredictedChoice, PredictedNumber
from jetlib.course.exercises.shapes import choice, numeric, ranked, table
from jetlib.course.exercises.terms import name_it, safe_ways
from jetlib.course.exercises.worked import worked
from jetlib.physics import orifice
from jetlib.physics.reaction import jet_reaction
from jetlib.rig.jets.matching import matched_jets
from jetlib.rig.parts.machine import Hose
from jetlib.rig.point.operating_point import operating_point

_SETTINGS = tuple(range(2000, 3300, 100))

# --- the matched area -------------------------------------------------------------------------------

_AREA = "{{flow}} / ([38|0.849] × {{coefficient}} × √{{{}}})"

MATCHED_AREA = numeric(
    "06-matched-area",
    f"""
    The area that matches
    ask: The pump delivers {{flow}} at full throttle. The bypass valve is set to {{setting}}, and at that flow the hose
    loses {{loss}}. The holes have a discharge coefficient Cd of {{coefficient}}. What total area matches?
    hint: First find what the hose leaves for the jets.
    hint: Area in [in² is gpm / (38 × Cd × √psi)|mm² is L/min / (0.849 × Cd × √bar)].
    solve: Left for the jets: {{setting}} − {{loss}} -> left pressure
    solve: Area: {_AREA.format("left")} -> area area
    what the line takes for what is left: You gave the jets what the hose loses. They get the rest.
    the 2 left out: You left out the 2 under the root. The speed of the water is √(2 × pressure / density).
    """,
    skills=("matched jets", "orifice formula"),
    draw=lambda rng: (
        draw_hose(rng, SIZES, (100, 150, 200, 250, 300, 400))
        | {"setting": psi(rng.choice(_SETTINGS)), "coefficient": rng.choice((0.62, 0.65, 0.68, 0.72, 0.75))}
    ),
    given=loss_of,
    reject=lambda p: not 0.12 <= p["loss"] / p["setting"] <= 0.45,
    shown={"flow": "flow", "setting": "pressure", "loss": "pressure"},
    kind="area",
    wrong={
        "hose left out": _AREA.format("setting"),
        "what the line takes for what is left": _AREA.format("loss"),
        "discharge coefficient left out": "{area} × {coefficient}",
        "discharge coefficient upside down": "{area} × {coefficient}²",
        "the 2 left out": "{area} × √2",
    },
)

BORE_OF_EACH = numeric(
    "06-bore-of-each",
    """
    Shared out among the holes
    ask: All the holes together must have an area of {area}. There will be {count} of them, all alike. What bore must
    each have?
    hint: How much area does one hole get?
    hint: The area of a round hole is 0.785 × bore × bore. So the bore is the square root of area / 0.785.
    solve: Area of each: {area} / {count} -> each area
    solve: Bore squared: {each} / 0.785 -> square
    solve: √{square} -> bore jet_bore
    bore shared out: You found the bore of one large hole and shared that out. It is the area that is shared.
    radius taken as diameter: That is the radius of each hole. A drill is named by its whole width.
    not shared out: That is one hole that does it all. How many are there?
    """,
    skills=("area of a hole", "areas, not bores"),
    draw=lambda rng: {"area": square_inches(rng.randrange(20, 131, 2) / 1e4), "count": rng.randrange(3, 9)},
    shown={"area": "area"},
    kind="jet_bore",
    tolerance=0.02,
    wrong={
        "bore shared out": "√({area} / 0.785) / {count}",
        "square instead of circle": "√{each}",
        "radius taken as diameter": lambda p: (
            orifice.circle_bore(p["area"] / p["count"]) / 2.0 if p["count"] != 4 else None
        ),
        "not shared out": "√({area} / 0.785)",
    },
)


def _draw_present(rng):
    drill = rng.choice(DRILLS)
    share = rng.randrange(58, 83) / 100.0
    return {"count": rng.randrange(3, 9), "drill": drill, "bore": bore_of(drill), "share": share, "part": share}


OPEN_TO_MATCH = numeric(
    "06-open-to-match",
    """
    From what you have to what matches
    ask: A nozzle has {count} holes of drill {drill} ({bore}). That is {share} of the matched area. What bore would
    match, with the same number of holes?
    hint: By how many times must the area grow?
    hint: Area is proportional to bore squared, so the bore grows by the square root of that.
    solve: Area: 1 / {part} -> area
    solve: Bore: √{area} -> times
    solve: {bore} × {times} -> matched jet_bore
    bore instead of area: You used the area ratio for the bore. Area is proportional to bore squared.
    difference added: You added the missing share to the bore. It is missing from the area, and it is a share of what
    you want, not of what you have.
    root taken twice: Right idea, but one root too many. How often does the bore count in the area?
    """,
    skills=("matched jets", "areas, not bores"),
    draw=_draw_present,
    shown={"bore": "jet_bore", "share": "fraction"},
    kind="jet_bore",
    tolerance=0.015,
    wrong={
        "bore instead of area": "{bore} × {area}",
        "ratio upside down": "{bore} / {times}",
        "difference added": "{bore} × (2 - {part})",
        "root taken twice": "{bore} × √{times}",
    },
)

# --- front against rear -----------------------------------------------------------------------------


def _push(pressure, bore, angle):
    """Force (N) of one jet along the hose."""
    flow = jet_flow(pressure, holes(1, bore))
    return float(jet_reaction(flow, pressure, density=DENSITY, velocity_coefficient=0.97, angle=angle))


def _draw_pull(rng):
    at = rng.randrange(4, len(DRILLS) - 1)
    return {
        "rear_count": rng.randrange(4, 9),
        "front_count": rng.randrange(1, 3),
        "rear_bore": bore_of(DRILLS[at]),
        "front_bore": bore_of(DRILLS[at + rng.randrange(2)]),
        "pressure": psi(rng.choice(range(1300, 2700, 100))),
        "angle": math.radians(rng.choice((15, 20, 25, 30))),
    }


NET_PULL = numeric(
    "06-net-pull",
    """
    What the front jets cost
    ask: The nozzle has {rear_count} rear jets, and each pulls it forward with {rear}. It has {front_count} at the
    front, and each front jet pushes it back with {front}. What pull is left?
    hint: Add up what all the rear jets do, and what all the front jets do.
    hint: They act against each other: subtract the front from the rear.
    solve: Rear: {rear_count} × {rear} -> all_rear force
    solve: Front: {front_count} × {front} -> all_front force
    solve: Left: {all_rear} − {all_front} -> pull force
    front added: You added the front. Which way does a jet push that points ahead?
    front left out: That is the rear alone. What does the front do?
    one hole only: That is one jet against one. How many are there at each end?
    front counted once: Close. How many jets point ahead?
    """,
    skills=("front and rear",),
    draw=_draw_pull,
    given=lambda p: {
        "rear": _push(p["pressure"], p["rear_bore"], p["angle"]),
        "front": _push(p["pressure"], p["front_bore"], 0.0),
    },
    shown={"rear": "force", "front": "force"},
    kind="force",
    wrong={
        "front added": "{all_rear} + {all_front}",
        "front left out": "{all_rear}",
        "one hole only": lambda p: (
            abs(p["rear"] - p["front"]) if abs(p["rear"] - p["front"]) > 0.05 * p["rear"] else None
        ),
        "front counted once": lambda p: p["rear_count"] * p["rear"] - p["front"] if p["front_count"] == 2 else None,
    },
)

# --- one drill size larger, with the hose -----------------------------------------------------------


def _next_drill(p):
    new = DRILLS[DRILLS.index(p["drill"]) + 1]
    return {**_no_jets(p), "new": new, "new_bore": bore_of(new)}


def _no_jets(p):
    found = line_of(p)
    return {"loss": found["loss"], "gauge": found["gauge"]}


ONE_DRILL_UP = numeric(
    "06-one-drill-up",
    """
    One drill size larger, with the hose on
    ask: The gauge reads {gauge}, and {loss} of it is lost in the hose. The bypass valve is shut. You drill all {count}
    jets from {drill} ({jet_bore}) to {new} ({new_bore}). The flow stays the same. What does the gauge read now?
    hint: Split the gauge reading in two: what the hose loses, and what the jets need. Which part does the drill change?
    hint: For the jets, use old bore / new bore four times: area is proportional to bore squared, and pressure to 1 /
    area squared. Then add the hose again.
    solve: The jets' part: {gauge} − {loss} -> jets pressure
    solve: Old bore / new bore: {jet_bore} / {new_bore} -> ratio
    solve: The jets now: {jets} × {ratio} × {ratio} × {ratio} × {ratio} -> now pressure
    solve: The gauge: {now} + {loss} -> after pressure
    hose left out: That is what the jets need. The gauge reading includes the hose.
    gauge taken as nozzle pressure: You changed the whole gauge reading. Only the jets' part changes; the hose loses the
    same.
    ratio upside down: You divided the wrong way round. Does the reading rise or fall when the holes are larger?
    """,
    skills=("square law", "pressures add"),
    draw=lambda rng: draw_line(rng, drills=DRILLS[:-1]),
    given=_next_drill,
    reject=lambda p: not usual_line(p) or not 0.6 <= (p["jet_bore"] / p["new_bore"]) ** 4 <= 0.93,
    shown={"jet_bore": "jet_bore", "new_bore": "jet_bore", "gauge": "pressure", "loss": "pressure"},
    kind="pressure",
    tolerance=0.02,
    wrong={
        "hose left out": "{now}",
        "gauge taken as nozzle pressure": "{gauge} × {ratio} ** 4",
        "bore instead of area": "{loss} + {jets} × {ratio}²",
        "ratio upside down": "{loss} + {jets} / {ratio} ** 4",
    },
)

# --- what is wrong with this set --------------------------------------------------------------------


def _with_area(share):
    """The trailer at full throttle with `share` of the matched area, an OperatingPoint."""
    rig = machine("trailer")
    by = math.sqrt(share * matched_jets(rig).effective_area / rig.nozzle.effective_area)
    jets = [jet.replace(bore=jet.bore * by) for jet in rig.nozzle.jets]
    return operating_point(rig.replace(nozzle=rig.nozzle.replace(jets=jets)))


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
    turned over: Think of the way out. A narrow one raises the reading early; a wide one never lets it reach the
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
        "turned over": lambda p: {"small": "large", "large": "small"}.get(_state(p)),
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

# --- which line needs the largest holes -------------------------------------------------------------


def _draw_lines(rng):
    return {
        "flow": gpm(rng.randrange(3, 9)),
        **{f"length_{key}": feet(rng.randrange(50, 401, 50)) for key in "abcd"},
        **{f"bore_{key}": hose_bore(size) for key, size in zip("abcd", rng.sample(SIZES[:5], 4), strict=True)},
    }


ORDER_LINES = ranked(
    "06-order-lines",
    """
    Which line needs the largest holes?
    ask: One pump, {flow} at full throttle, one bypass valve. It gets each of these lines in turn, and each time matched
    jets. Put the lines in order, the one with the largest holes first.
    item: {length} of {bore} hose
    hint: Which of the lines loses most? Length counts once, bore to the fifth power.
    hint: The more the hose loses, the less is left for the jets, and the larger they must be.
    solve: At {flow} the hoses lose, most first:
    ratio upside down: Your order is the wrong way round. A hose that loses much leaves little for the jets. To pass the
    same flow at less pressure, must the holes be larger or smaller?
    by length alone: You counted only the length. The bore counts far more.
    by bore alone: You counted only the bore. A long hose can lose more than a narrower, short one.
    """,
    skills=("matched jets", "hose friction"),
    draw=_draw_lines,
    by=lambda p, key: -hose_loss(p["flow"], p[f"length_{key}"], p[f"bore_{key}"]),
    kind="pressure",
    item_kinds={"length": "length", "bore": "bore"},
    shown={"flow": "flow"},
    apart=1.3,
    top=psi(2400),
    wrong={
        "ratio upside down": "reversed",
        "by length alone": lambda p, key: (-p[f"length_{key}"], p[f"bore_{key}"]),
        "by bore alone": lambda p, key: p[f"bore_{key}"],
    },
)

# --- wear -------------------------------------------------------------------------------------------


def _wear_cells(more):
    """The three cells when the area grows by more(wear / bore)."""
    return lambda p: tuple(more(p["wear"] / p[f"bore_{at}"]) for at in range(3))


def _more_area(ratio):
    return (1.0 + ratio) ** 2 - 1.0


def _draw_wear(rng):
    drills = sorted(rng.sample(DRILLS, 3), key=bore_of)
    wear = jet_inches(rng.choice((0.001, 0.0015, 0.002, 0.0025, 0.003)))
    named = {f"drill_{at}": drill for at, drill in enumerate(drills)}
    return {"wear": wear, **named, **{f"bore_{at}": bore_of(drill) for at, drill in enumerate(drills)}}


_WEAR_KINDS = {"wear": "leak_bore"} | {f"bore_{at}": "jet_bore" for at in range(3)}

WEAR = table(
    "06-wear-table",
    """
    Which wears fastest?
    ask: Three holes in one nozzle, {drill_0}, {drill_1} and {drill_2}, have each worn wider by {wear}. By how much has
    the area of each grown?
    hint: Divide the new bore of each by its old one.
    hint: Square that ratio. What is above 1 is the area that has been added.
    bore instead of area: That is how much the bore has grown. Area is proportional to bore squared.
    wear on both sides: You counted the wear twice. The hole is wider by that much in all, from side to side.
    third power: One power too many. How often does the bore count in an area?
    """,
    skills=("wear", "areas, not bores"),
    draw=_draw_wear,
    shown=_WEAR_KINDS,
    columns=(("drill", None), ("bore when new", "jet_bore"), ("more area", "fraction")),
    rows=lambda p: tuple((p[f"drill_{at}"], p[f"bore_{at}"], _wear_cells(_more_area)(p)[at]) for at in range(3)),
    blanks=((0, 2), (1, 2), (2, 2)),
    tolerance=0.05,
    wrong={
        "bore instead of area": _wear_cells(lambda ratio: ratio),
        "wear on both sides": _wear_cells(lambda ratio: _more_area(2.0 * ratio)),
        "third power": _wear_cells(lambda ratio: (1.0 + ratio) ** 3 - 1.0),
    },
    solution=worked(
        _WEAR_KINDS,
        lambda p: [
            step
            for at in range(3)
            for step in (
                (f"{{drill_{at}}}: ({{bore_{at}}} + {{wear}}) / {{bore_{at}}}", f"ratio_{at}", None),
                (f"More area: ({{ratio_{at}}} × {{ratio_{at}}} − 1) × 100", f"more_{at}", "fraction"),
            )
        ],
    ),
)

# --- words and safe working -------------------------------------------------------------------------

TERMS = name_it(
    "06-terms",
    """
    matched jets | jets with which full throttle and the setting are reached together | undersized jets
    undersized jets | jets that reach the setting early, so that water returns to the tank | oversized jets
    oversized jets | jets with which the gauge reading stays low at full throttle | undersized jets
    front jet | one that points ahead and pushes the nozzle back | rear jet
    rear jet | one that points backward and pulls the nozzle along | front jet
    number drill | a twist drill named by a figure that rises as its width falls | discharge coefficient
    discharge coefficient | the part of a hole that the stream really fills | number drill
    """,
)

SAFE_WAYS = safe_ways(
    "06-safe-drilling",
    """
    You have new jets drilled and try the nozzle. Which of these ways are safe?
    safe pipe: Make the first run with the nozzle well inside the pipe and the throttle at idle
    safe small: Start with the smaller drill and go up in steps: a hole cannot be made smaller again
    safe body: Ask the maker whether the nozzle may be drilled, and how close together the holes may be
    safe relieve: Relieve the pressure before you take the nozzle off to measure a hole
    unsafe bench: Try the spray pattern on the bench with the nozzle in your hand | The thrust can tear it from your
    hand
    unsafe valve: Tighten the bypass valve if the reading stays low | Its setting protects pump, hose and you
    unsafe front: Leave only front jets, for more cut | Without rear jets the nozzle shoots back out of the pipe at you
    unsafe look: Look along the nozzle while a helper starts the pump | The jets can blind you, at idle too
    """,
)

EXERCISES = (
    MATCHED_AREA, BORE_OF_EACH, OPEN_TO_MATCH, SETS_THAT_MATCH, ONE_DRILL_UP, WHAT_IS_WRONG, ORDER_LINES, NET_PULL,
    MORE_POWER, WEAR, TERMS, SAFE_WAYS,
)  # fmt: skip

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
    return float(operating_point(rig.replace(nozzle=rig.nozzle.replace(jets=opened))).gauge)


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
    after = operating_point(rig.replace(nozzle=rig.nozzle.replace(jets=jets))).power_shares["jets"]
    ratio = after / operating_point(rig).power_shares["jets"]
    return min(_RATIOS, key=lambda key: abs(_RATIOS[key] - ratio))


_RATIOS = {"less": 0.9, "same": 1.0, "flow": 1.1, "much": 1.2}

POWER_AT_THE_JETS = PredictedChoice(
    id="06-power-at-the-jets",
    title="What matching gains",
    parameters={"added": feet(200), "bore": hose_bore("3/8 in")},
    shown={"added": "length", "bore": "bore"},
    ask="The yard trailer with {added} of {bore} hose added sends water back to the tank, as in lesson 05. Matched "
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
