"""Practice and predictions of lesson 05, bypass. The square law serves for the whole line, as lesson 04 allows."""

import math
from functools import cache
from itertools import pairwise

from jetlib import tables
from jetlib.course.banks.amounts import (
    SIZES,
    draw_line,
    feet,
    gpm,
    hose_bore,
    line_of,
    machine,
    point,
    psi,
)
from jetlib.course.exercises import PredictedChoice, PredictedCurve, PredictedNumber
from jetlib.course.exercises.mistakes import IMPERIAL_GALLON_RATIO
from jetlib.course.exercises.shapes import choice, numeric, power_law, ranked_by_key, table
from jetlib.course.exercises.terms import name_it, safe_ways
from jetlib.physics import power, valve
from jetlib.rig.jets.matching import matched_jets
from jetlib.rig.parts.machine import BurstDisc, Hose, Unloader
from jetlib.rig.point.operating_point import operating_point

_SETTINGS = tuple(range(2000, 3300, 100))


def _draw_set_line(rng):
    return draw_line(rng, SIZES[:5]) | {"setting": psi(rng.choice(_SETTINGS))}


def _gauge(p):
    return {"gauge": line_of(p)["gauge"]}


def _opening_flow(p):
    return p["flow"] * math.sqrt(p["setting"] / p["gauge"])


def _early(p):
    """Whether the valve is still well shut, at a gauge reading that a machine has."""
    return p["gauge"] < psi(600) or not 1.4 <= p["setting"] / p["gauge"] <= 3.6


_KINDS = {"flow": "flow", "gauge": "pressure", "setting": "pressure"}

# --- where the valve opens, and what goes back ------------------------------------------------------

OPENING_FLOW = power_law(
    "05-opening-flow",
    """
    The flow that opens the valve
    ask: At {flow} the gauge reads {gauge}, and the bypass valve is shut. It is set to open at {setting}. Use the square
    law for the whole line. At what flow does the valve begin to open?
    hint: How many times the gauge reading is the setting?
    hint: Flow is proportional to the square root of pressure. Multiply the flow by the root of that ratio.
    half instead of root: You halved the ratio. The square root of a number, multiplied by itself, gives that number.
    """,
    skills=("valve setting", "square law, nearly"),
    draw=_draw_set_line,
    given=_gauge,
    reject=_early,
    shown=_KINDS,
    kind="flow",
    value="flow",
    ratio=("setting", "gauge"),
    power=0.5,
    labels=("Setting / gauge reading", "Square root"),
    wrong={
        "linear instead of square root": 1,
        "square instead of square root": 2,
        "ratio upside down": -0.5,
        "half instead of root": "{flow} × {setting} / {gauge} / 2",
    },
)

GOES_BACK = numeric(
    "05-goes-back",
    """
    What returns to the tank
    ask: At {flow} the gauge reads {gauge}, and the bypass valve is shut. It is set to {setting}; assume that the gauge
    rises no further. At full throttle the pump delivers {full}. How much of that returns to the tank?
    hint: First find what leaves the nozzle when the gauge is at the setting: square root.
    hint: The pump's flow splits in two. Subtract what leaves the nozzle; the rest returns to the tank.
    solve: Pressure ratio: {setting} / {gauge} -> ratio
    solve: Out of the nozzle: {flow} × √{ratio} -> out flow
    solve: Back to the tank: {full} − {out} -> back flow
    nozzle's share given: That is what leaves the nozzle. What is left of the pump's flow?
    nozzle left at its old flow: You left the nozzle at its first flow. The gauge is higher now, so more leaves it.
    all of it: The valve passes only what cannot get out at the nozzle.
    """,
    skills=("the flow splits", "square law, nearly"),
    draw=lambda rng: _draw_set_line(rng) | {"over": rng.choice((1.15, 1.2, 1.3, 1.4, 1.5, 1.6))},
    given=lambda p: _gauge(p) | {"full": p["over"] * _opening_flow({**p, **_gauge(p)})},
    reject=lambda p: _early(p) or not 0.12 <= 1.0 - _opening_flow(p) / p["full"] <= 0.45,
    shown=_KINDS | {"full": "flow"},
    kind="flow",
    tolerance=0.05,
    wrong={
        "nozzle's share given": "{out}",
        "nozzle left at its old flow": "{full} - {flow}",
        "all of it": "{full}",
        "linear instead of square root": lambda p: _positive(p["full"] - p["flow"] * p["setting"] / p["gauge"], p),
    },
)


def _positive(back, p):
    return back if back > 0.03 * p["full"] else None


_PUMP = (0.8, 1.25, 1.6)  # the pump's flow over the flow that opens the valve


def _table_rows(p):
    flows = tuple(share * p["opens"] for share in _PUMP)
    return tuple((flow, min(flow, p["opens"]), max(flow - p["opens"], 0.0)) for flow in flows)


def _table_wrong(nozzle):
    """What a mistake puts into the four cells: `nozzle(pump's flow, opening flow)`, and the rest back."""

    def wrong(p):
        out = [(share * p["opens"], nozzle(share * p["opens"], p["opens"])) for share in _PUMP[1:]]
        return tuple(cell for flow, nozzle_flow in out for cell in (nozzle_flow, flow - nozzle_flow))

    return wrong


SPLIT_TABLE = table(
    "05-split-table",
    """
    A table of the split
    ask: At {flow} the gauge reads {gauge}. The bypass valve is set to {setting}; assume that the gauge rises no
    further, and use the square law for the line. The engine speed rises: where does the water go?
    hint: How many times the gauge reading is the setting? The root of that tells at which flow the valve opens.
    hint: Once the valve is open, the nozzle's flow stays what it was when the valve opened. The rest returns to the
    tank.
    solve: Pressure ratio: {setting} / {gauge} -> ratio
    solve: The valve opens at: {flow} × √{ratio} -> opening flow
    solve: Below {opens} all of it leaves the nozzle. Above, the nozzle stays at {opens}, and the rest returns:
    solve: {more} − {opens} -> back_1 flow
    solve: {most} − {opens} -> back_2 flow
    all goes back: An open valve does not pass all the water. The nozzle still has the full pressure.
    columns changed over: You swapped the two columns. Which of the two flows does the pressure fix?
    """,
    skills=("the flow splits",),
    draw=lambda rng: draw_line(rng, SIZES[:5]),
    given=lambda p: {
        **_gauge(p),
        "setting": 4.0 * _gauge(p)["gauge"],
        "opens": 2.0 * p["flow"],
        "more": 2.5 * p["flow"],
        "most": 3.2 * p["flow"],
    },
    reject=lambda p: not psi(500) <= p["gauge"] <= psi(900),
    shown=_KINDS | {"opens": "flow", "more": "flow", "most": "flow"},
    columns=(("pump delivers", "flow"), ("out of the nozzle", "flow"), ("back to the tank", "flow")),
    rows=_table_rows,
    blanks=((1, 1), (1, 2), (2, 1), (2, 2)),
    tolerance=0.05,
    wrong={
        "bypass left out": _table_wrong(lambda pump, opens: pump),
        "all goes back": _table_wrong(lambda pump, opens: 0.0),
        "columns changed over": _table_wrong(lambda pump, opens: pump - opens),
    },
)

RISE = numeric(
    "05-rise",
    """
    How far the gauge rises
    ask: A bypass valve is set to {setting}. To pass all of the pump's rated {rated}, it needs {rise} more than that.
    Now {back} returns to the tank. What does the gauge read?
    hint: What share of the rated flow returns? Take the square root of that share.
    hint: Multiply the root by the rise: that is how far above the setting the gauge reads, as a share of the setting.
    solve: Share that returns: {back} / {rated} -> share
    solve: Square root: √{share} -> root
    solve: Rise: {root} × {whole} -> climb
    solve: Gauge: {setting} × (1 + {climb}) -> gauge pressure
    rise left out: That is the setting, where the valve only begins to open. To pass water it needs slightly more.
    whole rise: That is the reading with all of the rated flow returning. Here it is only part of it.
    linear instead of square root: You made the rise proportional to the bypass flow. It follows its square root: fast
    at first, then slower.
    """,
    skills=("the valve's rise",),
    draw=lambda rng: {
        "setting": psi(rng.choice(_SETTINGS)),
        "rise": rng.choice((0.06, 0.08, 0.1, 0.12)),
        "rated": gpm(rng.choice((4, 9.5, 12, 18, 26))),
        "part": rng.choice((0.15, 0.2, 0.25, 0.3, 0.4)),
    },
    given=lambda p: {"back": p["part"] * p["rated"], "whole": p["rise"]},
    shown={"setting": "pressure", "rise": "fraction", "rated": "flow", "back": "flow"},
    kind="pressure",
    answer=lambda p: float(
        valve.unloader_pressure(p["back"], setting=p["setting"], rise=p["rise"], full_flow=p["rated"])
    ),
    tolerance=0.008,
    wrong={
        "rise left out": "{setting}",
        "whole rise": "{setting} × (1 + {whole})",
        "linear instead of square root": "{setting} × (1 + {whole} × {share})",
    },
)

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
    changed = rig.replace(hoses=(*rig.hoses, Hose(bore, more)), nozzle=rig.nozzle.replace(jets=jets))
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
    ratio upside down: Your order is the wrong way round. The largest share comes first.
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

# --- matched jets -----------------------------------------------------------------------------------


def _left(p):
    return p["setting"] - p["loss"]


def _silly_match(p):
    return not (p["loss"] < 0.45 * p["setting"] and 1.15 <= math.sqrt(p["jets"] / _left(p)) <= 1.6)


def _draw_match(rng):
    for _ in range(60):
        drawn = _draw_set_line(rng)
        if not _silly_match(drawn | line_of(drawn)):
            break
    return drawn


_MATCH_KINDS = {"flow": "flow", "setting": "pressure", "loss": "pressure", "jets": "pressure", "jet_bore": "jet_bore"}
_MATCH = """ask: At full throttle the pump delivers {flow}. To pass all of it, the hose would lose {loss}, and the
    jets as they are would need {jets}. The bypass valve is set to {setting}, so some water returns to the tank."""
_MATCH_STEPS = """solve: Left for the jets: {setting} − {loss} -> left pressure
    solve: They need now / what is left: {jets} / {left} -> ratio"""


def _match_given(p):
    found = line_of(p)
    return {"loss": found["loss"], "jets": found["jets"]}


_MATCHING = {"draw": _draw_match, "given": _match_given, "reject": _silly_match, "shown": _MATCH_KINDS}

MATCHED_AREA = numeric(
    "05-matched-area",
    f"""
    How much more area
    {_MATCH} How many times their area would match? Answer with a plain number.
    hint: At the match the gauge reads the setting and all the flow leaves the nozzle. What is left for the jets then?
    hint: Divide what the jets need now by what is left for them. The root of that is how many times the area.
    {_MATCH_STEPS}
    solve: Square root: √{{ratio}} -> times ratio
    hose left out: You gave the jets the whole setting. What else loses pressure on the way?
    linear instead of square root: You used the pressure ratio as it is. At one flow, pressure is proportional to 1 /
    area squared.
    ratio upside down: You divided the wrong way round. Must the jets be larger or smaller?
    hose put on top: You added the hose's loss to the setting. What the hose loses is not left for the jets.
    """,
    skills=("matched jets", "square law"),
    kind="ratio",
    tolerance=0.02,
    wrong={
        "hose left out": "√({jets} / {setting})",
        "linear instead of square root": "{ratio}",
        "ratio upside down": "1 / {times}",
        "hose put on top": "√({jets} / ({setting} + {loss}))",
    },
    **_MATCHING,
)

MATCHED_BORE = numeric(
    "05-matched-bore",
    f"""
    The drill that matches
    {_MATCH} The nozzle has {{count}} holes of {{jet_bore}}. To what bore would you drill them all?
    hint: First find how many times the area must be: the root of what the jets need now over what is left for them.
    hint: Area is proportional to bore squared. So the bore needs one more root.
    {_MATCH_STEPS}
    solve: Area: √{{ratio}} -> area
    solve: Bore: √{{area}} -> times
    solve: {{jet_bore}} × {{times}} -> bore jet_bore
    solve: Use the nearest drill, and if in doubt the smaller one: a hole cannot be made smaller again.
    hose left out: You gave the jets the whole setting. What else loses pressure on the way?
    ratio upside down: You divided the wrong way round. Must the holes be larger or smaller so that no water returns?
    no root at all: You used the pressure ratio as it is. The area needs one root, and the bore another.
    """,
    skills=("matched jets", "areas, not bores"),
    kind="jet_bore",
    tolerance=0.015,
    wrong={
        "bore instead of area": "{jet_bore} × {area}",
        "hose left out": "{jet_bore} × ({jets} / {setting}) ** 0.25",
        "ratio upside down": "{jet_bore} / {times}",
        "no root at all": "{jet_bore} × {ratio}",
    },
    **_MATCHING,
)

# --- choosing ---------------------------------------------------------------------------------------

_GROWTHS = {
    "hardly": lambda p: 1.02,
    "step": lambda p: 1.0 / p["opens"],
    "square": lambda p: 1.0 / p["opens"] ** 2,
    "falls": lambda p: p["opens"],
}


def _nozzle_grows(p):
    """How the nozzle's flow grows from the throttle that opens the valve to full throttle, with the usual rise."""
    grown = math.sqrt(float(valve.unloader_pressure(1.0 - p["opens"], setting=1.0, rise=0.08, full_flow=1.0)))
    return min(_GROWTHS, key=lambda name: abs(_GROWTHS[name](p) - grown))


MORE_THROTTLE = choice(
    "05-more-throttle",
    """
    More throttle, and then?
    ask: The bypass valve is set to {setting}. It opens when the pump delivers {opens} of its full flow. The operator
    goes on to full throttle. What happens to the flow out of the nozzle?
    option hardly: Almost nothing: it rises by a few per cent at most
    option step: It rises in proportion to the engine speed
    option square: It rises with the square of the engine speed
    option falls: It falls, because the valve is open
    hint: What does the gauge do once the valve is open?
    hint: The nozzle's flow depends only on the pressure. If that stays nearly the same, so does the flow.
    solve: Once the valve is open, the gauge rises by a few per cent and no more. The nozzle's flow follows the square
    root of pressure, so it rises by half as much. Nearly all the extra water returns to the tank.
    bypass left out: That would be so with the valve shut. It is open: where can the extra water go?
    square law for flow: Pressure follows the square of flow as long as the valve is shut. It is open here.
    valve taken as a leak: The valve passes only the water that cannot get out. It does not let the pressure fall.
    """,
    skills=("above the setting",),
    draw=lambda rng: {"opens": rng.choice((0.6, 0.65, 0.7, 0.75, 0.8)), "setting": psi(rng.choice(_SETTINGS))},
    shown={"opens": "fraction", "setting": "pressure"},
    answer=_nozzle_grows,
    wrong={"bypass left out": "step", "square law for flow": "square", "valve taken as a leak": "falls"},
)

_VALVES = {
    "regulating unloader": Unloader,
    "trapped-pressure unloader": lambda setting: Unloader(setting, trapping=True),
    "burst disc": BurstDisc,
}
_AFTER = {  # what gauge and hose show: at the setting, or nearly nothing
    (True, True): "both-full",
    (False, True): "trapped",
    (False, False): "both-empty",
    (True, False): "gauge-only",
}
_PLUGGED_WORDS = {
    "regulating unloader": "All the water returns to the tank through the valve, which holds gauge and hose at about "
    "{setting} or slightly above.",
    "trapped-pressure unloader": "The valve drops the pump to almost zero and locks the hose, which stays at about "
    "{setting}. The gauge, at the pump, reads near zero. Relieve the pressure at the outlet, as the manual says, "
    "before you touch a coupling.",
    "burst disc": "The disc tears and all the water leaves through the hole. Gauge and hose fall to near zero, and "
    "stay there until a new disc is fitted. Even so, relieve the pressure before you touch a coupling.",
}


@cache
def _plugged(kind):
    """What the yard trailer shows at full throttle with its outlet shut: a key of the options."""
    setting = machine("trailer").unloader.setting
    at = operating_point(machine("trailer").replace(valve=_VALVES[kind](setting), outlet_shut=True))
    return _AFTER[tuple(bool(pressure > 0.5 * setting) for pressure in (at.gauge, at.line_pressure))]


def _only(kinds, key):
    return lambda p: key if p["valve"] in kinds else None


WHEN_PLUGGED = choice(
    "05-when-plugged",
    """
    The outlet is shut
    ask: A pump is protected by one device alone: a {valve}, set or rated at {setting}. At full throttle somebody closes
    the valve at the end of the hose. What do you find a few seconds later?
    option both-full: Gauge and hose both at about {setting}
    option trapped: The gauge near zero, the hose at about {setting}
    option both-empty: Gauge and hose both near zero
    option gauge-only: The gauge at about {setting}, the hose near zero
    hint: Look at the table of four valves in the lesson, or try it in the last console.
    hint: Ask two things: does this device hold the pressure at the pump, and can the hose empty itself?
    trapped pressure forgotten: Careful: that mistake injures people. This valve spares the pump, but what empties the
    hose?
    trapping taken for plain: A regulating unloader would do that. What does this valve do for the pump?
    plain taken for trapping: Only one kind of valve does that, and it is named after it. This is another kind.
    disc taken to hold: A disc does not open slightly. Once it has torn, what is left to hold the pressure?
    unloader taken to let go: This valve passes only so much that the pressure stays at its setting.
    """,
    skills=("four ways to guard a pump",),
    draw=lambda rng: {"valve": rng.choice(tuple(_VALVES)), "setting": psi(rng.choice(_SETTINGS))},
    shown={"setting": "pressure"},
    answer=lambda p: _plugged(p["valve"]),
    wrong={
        "trapped pressure forgotten": _only(("trapped-pressure unloader",), "both-empty"),
        "trapping taken for plain": _only(("trapped-pressure unloader",), "both-full"),
        "plain taken for trapping": _only(("regulating unloader", "burst disc"), "trapped"),
        "disc taken to hold": _only(("burst disc",), "both-full"),
        "unloader taken to let go": _only(("regulating unloader",), "both-empty"),
    },
    solution=lambda p, show: _PLUGGED_WORDS[p["valve"]].format(setting=show(p["setting"], "pressure")),
)


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
    return matched_jets(rig.replace(nozzle=rig.nozzle.replace(jets=jets))).bypass_throttle


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
    ratio upside down: You have them the wrong way round. What makes the gauge rise sooner opens the valve sooner.
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

# --- words and safe working -------------------------------------------------------------------------

TERMS = name_it(
    "05-terms",
    """
    regulating unloader | a bypass valve that holds the pump at its setting | trapped-pressure unloader
    trapped-pressure unloader | a valve that drops the pump and leaves the hose under pressure | regulating unloader
    burst disc | a plate that tears at its rating and stays open | setting
    setting | the pressure at which the bypass valve begins to open | burst disc
    rise | how far the gauge goes above the setting while water returns to the tank | setting
    bypass | water that returns to the tank without doing work | leaking seat
    leaking seat | a damaged valve that passes water at any pressure | bypass
    deadhead | to run the pump against an outlet that is fully closed | bypass
    """,
)

SAFE_WAYS = safe_ways(
    "05-safe-valve",
    """
    You have closed the outlet and stopped the engine. The gauge reads zero. Which of these ways are safe?
    safe open: Open the outlet into the pipe until no more water comes, then undo the coupling
    safe assume: Treat the hose as under pressure until you have relieved it at the outlet
    safe manual: Relieve the pressure in the order that the machine's manual gives
    safe expert: Leave the setting of the bypass valve to the maker or a licensed fitter
    unsafe undo: Undo the coupling: the gauge reads zero | The hose can hold full pressure behind a closed valve
    unsafe screw: Tighten the bypass valve by one turn | Its setting protects pump, hose and you. Leave it alone
    unsafe disc: Fit a burst disc of a higher rating | Then hose and pump are no longer protected
    unsafe block: Plug the return line to see whether the valve works | Then nothing limits the pressure
    """,
)

EXERCISES = (
    OPENING_FLOW, GOES_BACK, SPLIT_TABLE, MORE_THROTTLE, RISE, OPENS_EARLIER, LOST_POWER, ORDER_SHARES, MATCHED_AREA,
    MATCHED_BORE, WHEN_PLUGGED, TERMS, SAFE_WAYS,
)  # fmt: skip

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
