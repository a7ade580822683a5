"""Predictions of lesson 05, bypass, and the exercises that need Python."""

from functools import cache
from itertools import pairwise

from jetlib import tables
from jetlib.course.exercises import PredictedChoice, PredictedCurve, PredictedNumber
from jetlib.course.exercises.amounts import (
    SIZES,
    feet,
    gpm,
    hose_bore,
    machine,
    point,
)
from jetlib.course.exercises.mistakes import IMPERIAL_GALLON_RATIO
from jetlib.course.exercises.shapes import choice, numeric, ranked_by_key
from jetlib.physics import power
from jetlib.rig.jets.matching import matched_jets
from jetlib.rig.parts.machine import Hose
from jetlib.rig.point.operating_point import operating_point

# --- power ------------------------------------------------------------------------------------------


def _draw_longer(rng):
    return {
        "rig": rng.choice(("cart", "small_bore", "trailer", "truck")),
        "more": feet(rng.randrange(100, 601, 100)),
        "throttle": rng.choice((0.9, 1.0)),
        "step": rng.choice((0, 1)),
        "drills": rng.choice((0, 2, 4)),
    }


@cache
def _longer(name, more, throttle, step, drills):
    """OperatingPoint of a yard machine with more hose, `step` sizes smaller, and with jets `drills` sizes smaller."""
    rig = machine(name)
    sizes = [hose_bore(size) for size in SIZES]
    bore = sizes[max(min(range(len(sizes)), key=lambda at: abs(sizes[at] - rig.hoses[-1].bore)) - step, 0)]
    jets = [jet.replace(bore=tables.next_drill(jet.bore, -drills).diameter) for jet in rig.nozzle.jets]
    changed = rig.replace(hoses=(*rig.hoses, Hose(bore, more))).with_jets(jets)
    return operating_point(changed, throttle)


def _split_power(p):
    at = _longer(*(p[name] for name in ("rig", "more", "throttle", "step", "drills")))
    return {
        "gauge": float(at.gauge),
        "full": float(at.pump_flow),
        "nozzle": float(at.nozzle_flow),
        "back": float(at.bypass_flow),
        "behind": float(at.nozzle_pressure),
    }


_SPLIT = {"gauge": "pressure", "behind": "pressure", "full": "flow", "nozzle": "flow", "back": "flow"}

LOST_POWER = numeric(
    "05-lost-power",
    """
    Power into the bypass
    ask: The pump delivers {full}, the gauge reads {gauge}, and {nozzle} leaves the nozzle. What power is lost in the
    bypass?
    hint: First find how much water returns to the tank.
    hint: Power in [hp is psi × gpm / 1714|kW is bar × L/min / 600].
    solve: Back to the tank: {full} − {nozzle} -> returned flow
    solve: Power: {gauge} × {returned} / [1714|600] -> lost power
    bypass left out: That is all the power the pump puts into the water. Only part of the water returns.
    nozzle's share given: That is the power that goes down the hose. Which of the two flows is lost?
    600 with psi and gpm: You used 600 with psi and gpm. It belongs to bar and L/min; psi and gpm have 1714.
    """,
    skills=("power is pressure times flow", "the flow splits"),
    draw=_draw_longer,
    given=_split_power,
    reject=lambda p: not 0.12 <= 1.0 - p["nozzle"] / p["full"] <= 0.42,
    shown=_SPLIT,
    kind="power",
    wrong={
        "bypass left out": "{gauge} × {full} / 1714",
        "nozzle's share given": "{gauge} × {nozzle} / 1714",
        "600 with psi and gpm": "{lost} × 1714 / 600",
        "Imperial gallon for US gallon": f"{{lost}} × {IMPERIAL_GALLON_RATIO}",
    },
)


def _share_power(p):
    return {
        "jets": power.hydraulic_power(p["nozzle"], p["behind"]),
        "hose": power.hydraulic_power(p["nozzle"], p["gauge"] - p["behind"]),
        "bypass": power.hydraulic_power(p["back"], p["gauge"]),
    }


def _largest_first(values):
    return tuple(sorted(values, key=lambda name: -values[name]))


def _by_power(p):
    return _largest_first(_share_power(p))


def _moved(p, name, first):
    rest = [each for each in _by_power(p) if each != name]
    return (name, *rest) if first else (*rest, name)


def _silly_shares(p):
    values, pressures = sorted(_share_power(p).values()), sorted((p["behind"], p["gauge"] - p["behind"]))
    near = any(high < 1.2 * low for low, high in pairwise(values)) or pressures[1] < 1.1 * pressures[0]
    return near or not 0.1 <= p["back"] / p["full"] <= 0.8


def _wrong_orders(p):
    """With the jets first, with the bypass last, and by pressure; None for one that is right, or another one's."""
    pressures = {"jets": p["behind"], "hose": p["gauge"] - p["behind"], "bypass": p["gauge"]}
    seen, found = [_by_power(p), _by_power(p)[::-1]], []
    for order in (_moved(p, "jets", first=True), _moved(p, "bypass", first=False), _largest_first(pressures)):
        found.append(None if order in seen else order)
        seen.append(order)
    return found


ORDER_SHARES = ranked_by_key(
    "05-order-shares",
    """
    Where the power goes
    ask: The gauge reads {gauge}. {nozzle} leaves the nozzle, and {back} returns to the tank. The nozzle pressure is
    {behind}. Where is the pump's power spent? Put the largest share first.
    option jets: In the jets
    option hose: In the hose and fittings
    option bypass: In the bypass
    hint: Each share is a pressure times a flow. Which pressure, and which flow, for each of the three?
    hint: Hose: the gauge reading minus the nozzle pressure, times the nozzle's flow. Bypass: the whole gauge reading,
    times what returns to the tank.
    solve: In the jets: {behind} × {nozzle} / [1714|600] -> a power
    solve: In the hose and fittings: ({gauge} − {behind}) × {nozzle} / [1714|600] -> b power
    solve: In the bypass: {gauge} × {back} / [1714|600] -> c power
    ratio upside down: Your order is the wrong way around. The largest share comes first.
    ordered by pressure: You compared only the pressures. Power is pressure times flow: how much water goes each way?
    bypass left out: You put the bypass last. That water has all of the gauge pressure. Calculate it.
    jets put first: You put the jets first. Calculate each: pressure times flow.
    """,
    skills=("power is pressure times flow",),
    draw=_draw_longer,
    given=_split_power,
    reject=_silly_shares,
    shown=_SPLIT,
    answer=_by_power,
    wrong={
        "ratio upside down": lambda p: _by_power(p)[::-1],
        "ordered by pressure": lambda p: _wrong_orders(p)[2],
        "bypass left out": lambda p: _wrong_orders(p)[1],
        "jets put first": lambda p: _wrong_orders(p)[0],
    },
)


# --- choosing ---------------------------------------------------------------------------------------


@cache
def _opening(name, more, drills, change):
    """The throttle that opens the valve of a yard rig with one change to it; more than 1 when it stays shut."""
    rig = machine(name)
    first, *others = rig.nozzle.jets
    jets = rig.nozzle.jets
    if change == "hose":
        rig = rig.replace(hoses=(*rig.hoses, Hose(rig.hoses[-1].bore, more)))
    elif change in ("larger", "smaller"):
        step = drills if change == "larger" else -drills
        jets = [jet.replace(bore=tables.next_drill(jet.bore, step).diameter) for jet in jets]
    elif change == "plugged":
        jets = [first.replace(count=first.count - 1), *others]
    elif change in ("low", "high"):
        setting = rig.unloader.setting * (0.9 if change == "low" else 1.1)
        rig = rig.replace(valve=rig.unloader.replace(setting=setting))
    return matched_jets(rig.with_jets(jets)).bypass_throttle


_CHANGES = ("hose", "larger", "smaller", "plugged", "low", "high")


def _earlier(p):
    opens = {change: _opening(p["rig"], p["more"], p["drills"], change) for change in ("", *_CHANGES)}
    return frozenset(change for change in _CHANGES if opens[change] < opens[""])


OPENS_EARLIER = choice(
    "05-opens-earlier",
    """
    What opens the valve earlier?
    ask: The bypass valve of a machine opens just short of full throttle. Which of these, each by itself, makes it open
    at less throttle than before?
    option hose: {more} more hose of the same bore
    option larger: Every jet {drill_words} larger
    option smaller: Every jet {drill_words} smaller
    option plugged: One of the rear jets plugged
    option low: The valve's setting 10 % lower
    option high: The valve's setting 10 % higher
    hint: Ask of each: is the gauge reading higher at the same throttle? Or is the setting that it must reach lower?
    hint: Four of the six make it open earlier.
    solve: {more} more hose, smaller jets and a plugged jet all raise the gauge reading at the same flow, so it reaches
    the setting sooner. A lower setting is reached sooner too. Larger jets and a higher setting do the opposite. **Do
    not touch the setting:** that is for the maker or a licensed fitter.
    ratio upside down: You have them the wrong way around. What makes the gauge rise sooner opens the valve sooner.
    hose forgotten: What you ticked is right. One more makes the pump push harder at the same flow.
    setting forgotten: What you ticked is right. You have looked at the line; look at the valve too.
    plugged jet forgotten: What you ticked is right. But what does the same flow need if one way out is closed?
    """,
    many=True,
    skills=("where the valve opens",),
    draw=lambda rng: {
        "rig": rng.choice(("truck", "cart")),
        "more": feet(rng.choice((50, 75, 100, 125, 150))),
        "drills": rng.choice((1, 2)),
    },
    given=lambda p: {"drill_words": "one drill size" if p["drills"] == 1 else "two drill sizes"},
    shown={"more": "length"},
    answer=_earlier,
    wrong={
        "ratio upside down": lambda p: frozenset(_CHANGES) - _earlier(p),
        "hose forgotten": lambda p: _earlier(p) - {"hose"},
        "setting forgotten": lambda p: _earlier(p) - {"low"},
        "plugged jet forgotten": lambda p: _earlier(p) - {"plugged"},
    },
)


EXERCISES = (OPENS_EARLIER, LOST_POWER, ORDER_SHARES)

# --- predictions ------------------------------------------------------------------------------------

_ADDED, _ADDED_SIZE = feet(200), "3/8 in"
_CLIMBS = {"falls": 0.75, "stays": 1.0, "third": 1.33, "double": 2.0}


@cache
def _trailer_longer():
    """The yard trailer at full throttle with more hose coupled on."""
    rig = machine("trailer")
    return operating_point(rig.replace(hoses=(*rig.hoses, Hose(_ADDED_SIZE, _ADDED))))


def _gauge_climbs(p):
    """The option nearest to what the gauge reading does."""
    ratio = _trailer_longer().gauge / point("trailer").gauge
    return min(_CLIMBS, key=lambda name: abs(_CLIMBS[name] - ratio))


def _about_trailer(words):
    """A question with the trailer's own figures put in, worked out when it is asked."""

    def question(parameters, show):
        return words.format(
            gauge=show(point("trailer").gauge, "pressure"),
            flow=show(point("trailer").nozzle_flow, "flow"),
            setting=show(machine("trailer").unloader.setting, "pressure"),
            added=f"{show(_ADDED, 'length')} of {show(hose_bore(_ADDED_SIZE), 'bore')} hose",
        )

    return question


GAUGE_WITH_MORE_HOSE = PredictedChoice(
    id="05-gauge-with-more-hose",
    title="The gauge, with more hose",
    ask=_about_trailer(
        "At full throttle the yard trailer's gauge reads {gauge}, and its bypass valve is set to {setting}. Another "
        "{added} is added, with the same jets. What does the gauge reading do at full throttle?"
    ),
    options=(
        ("falls", "It falls by a quarter: the long hose holds the pressure back"),
        ("stays", "It stays where it was, within a few per cent"),
        ("third", "It rises by about a third"),
        ("double", "It doubles"),
    ),
    answer=_gauge_climbs,
    because="The line needs more, so the gauge rises until the bypass valve opens. From there the valve passes what "
    "cannot get out, and the gauge hardly rises. So the gauge does not show that anything is lost.",
)

FLOW_WITH_MORE_HOSE = PredictedNumber(
    id="05-flow-with-more-hose",
    title="The nozzle, with more hose",
    ask=_about_trailer(
        "Before the hose was added, {flow} left the nozzle. How much leaves it with another {added}, at full throttle?"
    ),
    kind="flow",
    answer=lambda p: _trailer_longer().nozzle_flow,
    because="At the valve's setting the longer line passes less water. What it cannot pass returns to the tank.",
)


def _about_small_bore(parameters, show):
    opens = matched_jets(machine("small_bore")).bypass_throttle
    return (
        f"The yard's small-bore set delivers {show(point('small_bore', 0.0).nozzle_flow, 'flow')} at idle (0 %). Its "
        f"jets are small: the bypass valve opens at about {show(opens, 'fraction', 2)} throttle. Sketch what leaves "
        "the nozzle, from idle to full throttle."
    )


NOZZLE_CURVE = PredictedCurve(
    id="05-nozzle-against-throttle",
    title="The nozzle against the throttle",
    ask=_about_small_bore,
    x=("throttle", "fraction"),
    y=("nozzle flow", "flow"),
    xs=(0.0, 0.25, 0.5, 0.75, 1.0),
    top=gpm(5),
    answer=lambda p, x: operating_point(machine("small_bore"), x).nozzle_flow,
    because="As long as the valve is shut, what the pump delivers leaves the nozzle: a straight line. Once it is open, "
    "the pressure stays nearly the same, and so does the flow. All the rest returns to the tank.",
)

PREDICTIONS = (GAUGE_WITH_MORE_HOSE, FLOW_WITH_MORE_HOSE, NOZZLE_CURVE)
