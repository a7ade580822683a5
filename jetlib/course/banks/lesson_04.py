"""Practice and predictions of lesson 04, the whole circuit. The valve stays shut in all of them: it is lesson 05's."""

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
    PredictedCurve,
    PredictedNumber,
    SingleChoice,
    mistakes,
)
from jetlib.physics import hose, orifice, water
from jetlib.rig.parts.rig_file import demo_rig
from jetlib.rig.point.circuit import GRAVITY
from jetlib.rig.point.operating_point import operating_point
from jetlib.units import si, to_si

_DENSITY, _VISCOSITY = water.density(288.15), water.viscosity(288.15)
_CD = 0.72  # drilled, edges a little worn
_ROUGHNESS = 1e-5  # a usual lining
_DRILLS = ("#70", "#68", "#65", "#64", "#62", "#60", "#58", "#56", "#55", "#54")
_BORES = ("1/4 in", "3/8 in", "1/2 in")


def _psi(number):
    return to_si(number, "pressure", "US")


def _gpm(number):
    return to_si(number, "flow", "US")


def _feet(number):
    return to_si(number, "length", "US")


def _lift_pressure(lift):
    return _DENSITY * GRAVITY * lift


def _hose_loss(flow, length, bore):
    return hose.pressure_loss(
        flow, bore=bore, length=length, roughness=_ROUGHNESS, density=_DENSITY, viscosity=_VISCOSITY
    )


def _jet_pressure(flow, count, bore):
    area = count * orifice.circle_area(bore)
    return orifice.pressure(flow, area=area, discharge_coefficient=_CD, density=_DENSITY)


# --- everything added up ----------------------------------------------------------------------------


def _draw_line(rng):
    return {
        "flow": _gpm(rng.randrange(8, 25) / 2.0),
        "main": _psi(rng.randrange(100, 400, 10)),
        "leader": _psi(rng.randrange(60, 300, 10)),
        "fittings": _psi(rng.randrange(30, 90, 5)),
        "jets": _psi(rng.randrange(700, 1500, 50)),
        "lift": _feet(rng.randrange(60, 201, 10)),
    }


def _sum_of_line(p):
    return p["main"] + p["leader"] + p["fittings"] + p["jets"] + _lift_pressure(p["lift"])


_LINE_SHOWN = {
    "flow": "flow",
    "main": "pressure",
    "leader": "pressure",
    "fittings": "pressure",
    "jets": "pressure",
    "lift": "length",
}

ADD_UP = Numeric(
    id="04-add-up",
    title="Add up the line",
    skills=("pressures add", "lift"),
    draw=_draw_line,
    shown=_LINE_SHOWN,
    ask="{flow} goes through a line. The main hose takes {main}, the leader {leader}, the fittings {fittings}. The "
    "jets need {jets}. The nozzle is {lift} above the pump. What does the gauge read?",
    kind="pressure",
    answer=_sum_of_line,
    tolerance=0.01,
    mistakes=(
        mistakes.hose_left_out(lambda p: _sum_of_line(p) - p["main"] - p["leader"]),
        mistakes.last_hose_only(lambda p: _sum_of_line(p) - p["main"]),
        Mistake(
            "lift left out",
            "Close. Is there anything else on the way that pushes back at the pump? Look where the nozzle is.",
            lambda p: _sum_of_line(p) - _lift_pressure(p["lift"]),
        ),
        Mistake(
            "lift with the wrong sign",
            "It looks as if the lift was taken off. Does it help the pump, or hinder it, to push water uphill?",
            lambda p: _sum_of_line(p) - 2.0 * _lift_pressure(p["lift"]),
        ),
    ),
    hints=(
        "The same water goes through everything, one thing after another. What do the pressures do?",
        "Add all that the water meets on its way. For the lift, take 0.433 psi a foot, or 0.098 bar a metre.",
    ),
    solution=lambda p, show: (
        f"The lift asks for {show(_lift_pressure(p['lift']), 'pressure')}.\n\n"
        f"Main hose {show(p['main'], 'pressure')}, leader {show(p['leader'], 'pressure')}, "
        f"fittings {show(p['fittings'], 'pressure')}, jets {show(p['jets'], 'pressure')} and the lift: together "
        f"{show(_sum_of_line(p), 'pressure')}."
    ),
)

# --- back from the gauge ----------------------------------------------------------------------------


def _draw_back(rng):
    return {
        "gauge": _psi(rng.randrange(1500, 3000, 100)),
        "first": _psi(rng.randrange(150, 500, 10)),
        "second": _psi(rng.randrange(100, 500, 10)),
    }


def _behind(p):
    return p["gauge"] - p["first"] - p["second"]


BEHIND_THE_JETS = Numeric(
    id="04-behind-the-jets",
    title="What is left for the jets",
    skills=("pressures add", "gauge and nozzle"),
    draw=_draw_back,
    shown={"gauge": "pressure", "first": "pressure", "second": "pressure"},
    ask="The gauge reads {gauge}. At this flow the reel hose takes {first} and the leader behind it {second}. "
    "The line lies level. What pressure is left behind the jets?",
    kind="pressure",
    answer=_behind,
    tolerance=0.02,
    mistakes=(
        mistakes.gauge_at_nozzle(lambda p: p["gauge"]),
        Mistake(
            "losses put on top",
            "It looks as if the losses were added to the gauge. The gauge is at the start of the line. What is left at "
            "the end of it?",
            lambda p: p["gauge"] + p["first"] + p["second"],
        ),
        mistakes.first_hose_only(lambda p: p["gauge"] - p["first"]),
        mistakes.last_hose_only(lambda p: p["gauge"] - p["second"]),
    ),
    hints=(
        "The gauge shows all that the line takes. The jets are the last part of it.",
        "Take from the gauge what each hose takes.",
    ),
    solution=lambda p, show: (
        f"{show(p['gauge'], 'pressure')} less {show(p['first'], 'pressure')} less {show(p['second'], 'pressure')} "
        f"leaves {show(_behind(p), 'pressure')} behind the jets."
    ),
)

# --- lift -------------------------------------------------------------------------------------------

LIFT = Numeric(
    id="04-lift",
    title="Up the stack",
    skills=("lift",),
    draw=lambda rng: {"lift": _feet(rng.randrange(20, 241, 5))},
    shown={"lift": "length"},
    ask="The nozzle works its way up a stack until it is {lift} above the pump. How much of the gauge's reading comes "
    "from the height alone?",
    kind="pressure",
    answer=lambda p: _lift_pressure(p["lift"]),
    mistakes=(
        mistakes.upside_down(
            lambda p: _lift_pressure(p["lift"]) / 0.4331**2,
            "The figure looks turned over. 2.31 is how many feet make one psi. How much is one foot?",
        ),
        Mistake(
            "one psi a foot",
            "It looks as if each foot was taken as one psi. A foot of water weighs less than half of that on its base.",
            lambda p: _psi(p["lift"] / 0.3048),
        ),
        Mistake(
            "one bar a metre",
            "It looks as if each metre was taken as one bar. It takes about ten metres of water to make one bar.",
            lambda p: p["lift"] * 1e5,
        ),
    ),
    hints=(
        "The water standing in the hose weighs on the pump. Only the height counts, not the length or the bore.",
        "Each foot of height is 0.433 psi, each metre 0.098 bar.",
    ),
    solution=lambda p, show: (
        f"{show(p['lift'], 'length')} of height, at 0.433 psi a foot or 0.098 bar a metre, is "
        f"{show(_lift_pressure(p['lift']), 'pressure')}."
    ),
)

# --- another throttle -------------------------------------------------------------------------------


def _draw_throttle(rng):
    full = rng.randrange(10, 25) / 2.0
    return {
        "flow": _gpm(full),
        "length": _feet(rng.randrange(100, 301, 50)),
        "bore": si("1/2 in", "bore"),
        "count": rng.randrange(4, 9),
        "drill": rng.choice(_DRILLS),
        "new_flow": _gpm(round(2.0 * full * rng.choice((0.45, 0.5, 0.6, 0.7))) / 2.0),
    }


def _gauge_at(p, flow):
    return _hose_loss(flow, p["length"], p["bore"]) + _jet_pressure(flow, p["count"], tables.drill(p["drill"]).diameter)


def _silly_throttle(p):
    share = _hose_loss(p["flow"], p["length"], p["bore"]) / _gauge_at(p, p["flow"])
    return not _psi(1200) <= _gauge_at(p, p["flow"]) <= _psi(3300) or share > 0.25 or p["new_flow"] > 0.75 * p["flow"]


def _throttled(p):
    return _gauge_at(p, p["new_flow"])


def _ask_throttle(p, show):
    return (
        f"A nozzle and {show(p['length'], 'length')} of {show(p['bore'], 'bore')} hose show "
        f"{show(_gauge_at(p, p['flow']), 'pressure')} at the gauge when {show(p['flow'], 'flow')} go through. The "
        f"throttle is eased until {show(p['new_flow'], 'flow')} go through. About what does the gauge show?"
    )


def _solve_throttle(p, show):
    ratio = p["new_flow"] / p["flow"]
    return (
        f"The flow is {ratio:.3g} of what it was. By the square law the gauge is {ratio:.3g} × {ratio:.3g} = "
        f"{ratio**2:.3g} of {show(_gauge_at(p, p['flow']), 'pressure')}, which is "
        f"{show(ratio**2 * _gauge_at(p, p['flow']), 'pressure')}.\n\nThe hose falls off a little less fast than the "
        f"square. Worked out in full it is {show(_throttled(p), 'pressure')}: the square law was near enough."
    )


EASED_THROTTLE = Numeric(
    id="04-eased-throttle",
    title="Ease the throttle",
    skills=("square law, nearly",),
    draw=_draw_throttle,
    reject=_silly_throttle,
    shown={"flow": "flow", "length": "length", "bore": "bore", "new_flow": "flow"},
    ask=_ask_throttle,
    kind="pressure",
    answer=_throttled,
    tolerance=0.07,
    mistakes=(
        mistakes.linear_for_square(lambda p: _gauge_at(p, p["flow"]) * p["new_flow"] / p["flow"]),
        mistakes.root_for_square(lambda p: _gauge_at(p, p["flow"]) * math.sqrt(p["new_flow"] / p["flow"])),
        mistakes.upside_down(lambda p: _gauge_at(p, p["flow"]) * (p["flow"] / p["new_flow"]) ** 2),
    ),
    hints=(
        "Jets follow the square law. The hose very nearly does. So what does their sum do?",
        "Divide the new flow by the old one, square that, and multiply the gauge by it.",
    ),
    solution=_solve_throttle,
)

# --- what if ----------------------------------------------------------------------------------------


def _draw_longer(rng):
    return {
        "gauge": _psi(rng.randrange(1200, 2200, 50)),
        "length": _feet(rng.randrange(100, 301, 50)),
        "loss": _psi(rng.randrange(150, 500, 10)),
        "more": _feet(rng.choice((50, 75, 100, 150, 200))),
    }


def _longer(p):
    return p["gauge"] + p["loss"] * p["more"] / p["length"]


LONGER_HOSE = Numeric(
    id="04-longer-hose",
    title="More hose",
    skills=("pressures add", "hose loss goes with length"),
    draw=_draw_longer,
    shown={"gauge": "pressure", "length": "length", "loss": "pressure", "more": "length"},
    ask="The gauge reads {gauge}. {loss} of it is taken by the hose, {length} long. Another {more} of the same hose is "
    "coupled on. Flow and jets stay the same, and the valve stays shut. What does the gauge read?",
    kind="pressure",
    answer=_longer,
    tolerance=0.02,
    mistakes=(
        Mistake(
            "whole gauge scaled",
            "It looks as if the whole gauge was made to grow with the length. Only one part of it belongs to the hose.",
            lambda p: p["gauge"] * (p["length"] + p["more"]) / p["length"],
        ),
        Mistake(
            "old hose counted twice",
            "It looks as if the loss of the whole new hose was put on top. Part of it is in the gauge already.",
            lambda p: p["gauge"] + p["loss"] * (p["length"] + p["more"]) / p["length"],
        ),
        Mistake(
            "loss taken off",
            "It looks as if the new hose was made to lower the gauge. The pump has more to push through. Which way "
            "does its gauge go?",
            lambda p: p["gauge"] - p["loss"] * p["more"] / p["length"],
        ),
        Mistake(
            "gauge left as it was",
            "The jets need what they needed before, that is so. But the water has farther to go.",
            lambda p: p["gauge"],
        ),
    ),
    hints=(
        "Which part of the gauge belongs to the hose? Only that part changes.",
        "Work out what the new piece takes by itself, and add it to the gauge.",
    ),
    solution=lambda p, show: (
        f"{show(p['length'], 'length')} take {show(p['loss'], 'pressure')}, so {show(p['more'], 'length')} take "
        f"{show(p['loss'] * p['more'] / p['length'], 'pressure')}.\n\nOn top of {show(p['gauge'], 'pressure')} that is "
        f"{show(_longer(p), 'pressure')}."
    ),
)


def _draw_one_more(rng):
    return {
        "gauge": _psi(rng.randrange(1800, 3000, 100)),
        "loss": _psi(rng.randrange(300, 800, 20)),
        "count": rng.randrange(3, 8),
    }


def _one_more(p):
    return p["loss"] + (p["gauge"] - p["loss"]) * _area_ratio(p) ** 2


def _area_ratio(p):
    return p["count"] / (p["count"] + 1)


ONE_JET_MORE = Numeric(
    id="04-one-jet-more",
    title="One jet more",
    skills=("jets inside the circuit", "square law"),
    draw=_draw_one_more,
    shown={"gauge": "pressure", "loss": "pressure"},
    ask="The gauge reads {gauge}, of which the hose takes {loss}. The nozzle has {count} equal holes, and one more "
    "like them is drilled. The pump gives the same flow. What does the gauge read?",
    kind="pressure",
    answer=_one_more,
    mistakes=(
        Mistake(
            "whole gauge scaled",
            "It looks as if the hose's part was made to fall too. The hose does not know that a hole was drilled.",
            lambda p: p["gauge"] * _area_ratio(p) ** 2,
        ),
        mistakes.area_for_flow_square(lambda p: p["loss"] + (p["gauge"] - p["loss"]) * _area_ratio(p)),
        mistakes.upside_down(
            lambda p: p["loss"] + (p["gauge"] - p["loss"]) / _area_ratio(p) ** 2,
            "The ratio looks turned over. Is it easier for the water with one hole more, or harder?",
        ),
        mistakes.hose_left_out(lambda p: (p["gauge"] - p["loss"]) * _area_ratio(p) ** 2),
    ),
    hints=(
        "Take the hose's part away first. What is left is the jets' part.",
        "The jets' part falls with the area squared: old number of holes over new, times itself. Then put the hose "
        "back.",
    ),
    solution=lambda p, show: (
        f"The jets' part is {show(p['gauge'] - p['loss'], 'pressure')}. The holes go from {p['count']} to "
        f"{p['count'] + 1}: {p['count']} / {p['count'] + 1} is {_area_ratio(p):.3g}, and that squared is "
        f"{_area_ratio(p) ** 2:.3g}.\n\nJets {show((p['gauge'] - p['loss']) * _area_ratio(p) ** 2, 'pressure')}, and "
        f"the hose still {show(p['loss'], 'pressure')}: together {show(_one_more(p), 'pressure')}."
    ),
)

# --- power ------------------------------------------------------------------------------------------


def _draw_power(rng):
    return {
        "power": to_si(rng.randrange(8, 61) / 2.0, "power", "US"),
        "gauge": _psi(rng.randrange(1500, 3000, 100)),
        "loss": _psi(rng.randrange(150, 900, 10)),
    }


def _jet_share(p):
    return (p["gauge"] - p["loss"]) / p["gauge"]


JET_POWER = Numeric(
    id="04-power-at-the-jets",
    title="What arrives at the jets",
    skills=("energy shares",),
    draw=_draw_power,
    shown={"power": "power", "gauge": "pressure", "loss": "pressure"},
    ask="A pump puts {power} into the water. The gauge reads {gauge}, and hose and fittings take {loss}. The line lies "
    "level, and no water goes back to the tank. How much power leaves with the jets?",
    kind="power",
    answer=lambda p: p["power"] * _jet_share(p),
    tolerance=0.02,
    mistakes=(
        mistakes.hose_left_out(
            lambda p: p["power"],
            "That is what the pump puts in. Some of it turns to heat in the hose.",
        ),
        Mistake(
            "what the hose takes",
            "That is what the hose takes. What is left?",
            lambda p: p["power"] * (1.0 - _jet_share(p)),
        ),
        mistakes.square_for_linear(
            lambda p: p["power"] * _jet_share(p) ** 2,
            "It looks as if the share was squared. The same water goes through everything, so power is shared out just "
            "as pressure is.",
        ),
        Mistake(
            "share upside down",
            "The share looks turned over. Can more leave at the jets than the pump puts in?",
            lambda p: p["power"] / _jet_share(p),
        ),
    ),
    hints=(
        "The same water goes through hose and jets. So power is shared out as pressure is.",
        "What share of the gauge's pressure is left for the jets? Multiply the power by it.",
    ),
    solution=lambda p, show: (
        f"The jets have {show(p['gauge'] - p['loss'], 'pressure')} of {show(p['gauge'], 'pressure')}, a share of "
        f"{show(_jet_share(p), 'fraction')}.\n\nThat share of {show(p['power'], 'power')} is "
        f"{show(p['power'] * _jet_share(p), 'power')}. The rest warms the water a little."
    ),
)

# --- choosing ---------------------------------------------------------------------------------------


def _draw_biggest(rng):
    return {
        "flow": _gpm(rng.randrange(4, 19) / 2.0),
        "length": _feet(rng.randrange(50, 401, 50)),
        "bore": si(rng.choice(_BORES), "bore"),
        "count": rng.randrange(3, 9),
        "drill": rng.choice(_DRILLS),
        "lift": _feet(rng.randrange(20, 101, 10)),
    }


def _parts(p):
    return {
        "hose": _hose_loss(p["flow"], p["length"], p["bore"]),
        "jets": _jet_pressure(p["flow"], p["count"], tables.drill(p["drill"]).diameter),
        "lift": _lift_pressure(p["lift"]),
    }


def _silly_biggest(p):
    parts = sorted(_parts(p).values())
    return not _psi(500) <= sum(parts) <= _psi(4000) or parts[2] < 1.4 * parts[1]


def _biggest(p):
    parts = _parts(p)
    return max(parts, key=parts.get)


BIGGEST_SHARE = SingleChoice(
    id="04-biggest-share",
    title="Where most of it goes",
    skills=("where the pressure goes",),
    draw=_draw_biggest,
    reject=_silly_biggest,
    shown={"flow": "flow", "length": "length", "bore": "bore", "lift": "length"},
    ask=lambda p, show: (
        f"{show(p['flow'], 'flow')} goes through {show(p['length'], 'length')} of {show(p['bore'], 'bore')} hose, then "
        f"through {p['count']} drilled holes of {p['drill']} ({show(tables.drill(p['drill']).diameter, 'jet_bore')}), "
        f"their edges a little worn, {show(p['lift'], 'length')} above the pump. Where does most of the gauge's "
        "pressure go?"
    ),
    options=(
        ("hose", "Into the hose"),
        ("jets", "Into the jets"),
        ("lift", "Into the lift"),
        ("even", "About the same into each"),
    ),
    answer=_biggest,
    mistakes=(
        Mistake(
            "jets by habit",
            "On most machines it is the jets. Here the hose is narrow for the flow: work out both before you choose.",
            lambda p: "jets" if _biggest(p) == "hose" else None,
        ),
        Mistake(
            "hose by its length",
            "A long hose need not take much if its bore suits the flow. Work out both before you choose.",
            lambda p: "hose" if _biggest(p) == "jets" else None,
        ),
        Mistake(
            "lift taken for much",
            "Height looks hard, but a foot of it is less than half a psi. Work it out.",
            lambda p: "lift",
        ),
        Mistake(
            "shared evenly",
            "The parts of a line do not share alike. One of the three takes far more here.",
            lambda p: "even",
        ),
    ),
    hints=(
        "The lift is soon worked out: 0.433 psi a foot, 0.098 bar a metre.",
        "Work out the hose as in lesson 03 and the jets as in lesson 02, or set both up in their consoles.",
    ),
    solution=lambda p, show: (
        f"Hose {show(_parts(p)['hose'], 'pressure')}, jets {show(_parts(p)['jets'], 'pressure')}, lift "
        f"{show(_parts(p)['lift'], 'pressure')}. Most goes into the {_biggest(p)}."
    ),
)

_RAISES = {"longer", "plugged", "higher"}

RAISES_GAUGE = MultipleChoice(
    id="04-raises-the-gauge",
    title="What raises the gauge",
    skills=("where the pressure goes",),
    draw=lambda rng: {
        "length": _feet(rng.randrange(150, 351, 50)),
        "more": _feet(rng.choice((50, 75, 100, 150))),
        "count": rng.randrange(4, 9),
        "lift": _feet(rng.randrange(20, 101, 10)),
    },
    shown={"length": "length", "more": "length", "lift": "length"},
    ask="The hose is {length} long. The engine speed stays the same and the valve stays shut. Which of these raise the "
    "gauge?",
    options=(
        ("longer", "Coupling on {more} more hose"),
        ("plugged", "One of the {count} holes plugs up"),
        ("higher", "The nozzle climbs {lift} up a stack"),
        ("worn", "The holes wear larger"),
        ("wider", "The hose is changed for one of the next larger bore"),
    ),
    answer=lambda p: _RAISES,
    mistakes=(
        mistakes.upside_down(
            lambda p: {"worn", "wider"},
            "That is just the other way about. What makes it harder for the water raises the gauge.",
        ),
        Mistake(
            "lift forgotten",
            "What you ticked is right. One more makes the pump push harder, if only by a little.",
            lambda p: {"longer", "plugged"},
        ),
        Mistake(
            "longer hose taken to lower the gauge",
            "What you ticked is right. But a longer hose takes pressure from the jets only when the gauge is held. "
            "Here the flow is held.",
            lambda p: {"plugged", "higher"},
        ),
        Mistake(
            "worn taken as tight",
            "One of them makes it easier for the water. Does a larger hole need more pressure for the same flow?",
            lambda p: _RAISES | {"worn"},
        ),
    ),
    hints=(
        "The flow stays the same. Ask of each: does it get harder for that flow, or easier?",
        "Harder: the gauge rises. Three of them make it harder.",
    ),
    solution="More hose, a plugged hole and a higher nozzle all make the same flow harder to push: the gauge rises. "
    "Worn holes and a wider hose make it easier: the gauge falls.",
)


def _draw_order(rng):
    return {
        "flow": _gpm(rng.randrange(10, 19) / 2.0),
        **{f"length_{key}": _feet(rng.randrange(100, 401, 50)) for key in "abcd"},
        **{f"bore_{key}": si(rng.choice(("3/8 in", "1/2 in")), "bore") for key in "abcd"},
        **{f"jets_{key}": _psi(rng.randrange(800, 2200, 100)) for key in "abcd"},
    }


def _order_hose(p, key):
    return _hose_loss(p["flow"], p[f"length_{key}"], p[f"bore_{key}"])


def _order_gauge(p, key):
    return _order_hose(p, key) + p[f"jets_{key}"]


def _sorted_by(value):
    return lambda p: tuple(sorted("abcd", key=lambda key: (value(p, key), key)))


_by_gauge = _sorted_by(_order_gauge)


def _silly_order(p):
    gauges = sorted(_order_gauge(p, key) for key in "abcd")
    return gauges[-1] > _psi(4500) or any(high < 1.12 * low for low, high in pairwise(gauges))


ORDER_LINES = Ordering(
    id="04-order-lines",
    title="Four lines on one pump",
    skills=("pressures add", "fifth power of bore"),
    draw=_draw_order,
    reject=_silly_order,
    shown={
        "flow": "flow",
        **{f"length_{key}": "length" for key in "abcd"},
        **{f"bore_{key}": "bore" for key in "abcd"},
        **{f"jets_{key}": "pressure" for key in "abcd"},
    },
    ask="{flow} goes through each of these lines in turn. Put them in order, the lowest gauge first. A guide: "
    "at 8 gpm (30 L/min), 100 ft (30 m) of 1/2 in hose (12.7 mm) takes about 65 psi (4.5 bar).",
    options=tuple((key, f"{{length_{key}}} of {{bore_{key}}} hose; the jets need {{jets_{key}}}") for key in "abcd"),
    answer=_by_gauge,
    mistakes=(
        mistakes.upside_down(
            lambda p: _by_gauge(p)[::-1],
            "The order is turned over. The lowest gauge comes first.",
        ),
        mistakes.hose_left_out(
            _sorted_by(lambda p, key: p[f"jets_{key}"]),
            "It looks as if the lines were ordered by their jets alone. What do the hoses take?",
        ),
        Mistake(
            "jets left out",
            "It looks as if the lines were ordered by their hoses alone. The gauge carries the jets too.",
            _sorted_by(_order_hose),
        ),
        Mistake(
            "ordered by length",
            "It looks as if the lines were ordered by their length. Bore counts far more: a line of 3/8 in takes about "
            "four times as much as one of 1/2 in.",
            _sorted_by(lambda p, key: p[f"length_{key}"]),
        ),
    ),
    hints=(
        "For each line, work out what the hose takes and add what the jets need.",
        "Start from the guide. Loss goes with length, nearly with flow squared, and 3/8 in takes about four times as "
        "much as 1/2 in.",
    ),
    solution=lambda p, show: (
        "Hose and jets together:\n\n"
        + "\n".join(
            f"{show(p[f'length_{key}'], 'length')} of {show(p[f'bore_{key}'], 'bore')} takes "
            f"{show(_order_hose(p, key), 'pressure')}, with the jets {show(_order_gauge(p, key), 'pressure')}"
            for key in _by_gauge(p)
        )
    ),
)

# --- a table ----------------------------------------------------------------------------------------

_CARD = (1.0, 0.85, 0.7, 0.45)  # flow over full flow, from full throttle to idle


def _card_by(power):
    return lambda p: tuple(p["gauge"] * share**power for share in _CARD[1:])


GAUGE_CARD = FillTable(
    id="04-gauge-card",
    title="A card for the cab",
    skills=("square law, nearly",),
    draw=lambda rng: {"flow": _gpm(rng.randrange(8, 31) / 2.0), "gauge": _psi(rng.randrange(1500, 3000, 50))},
    shown={"flow": "flow", "gauge": "pressure"},
    ask="With its own hose and nozzle a machine reads {gauge} at {flow}, with the valve shut. Make a card of what the "
    "gauge should read at lower flows. Take the square law for the whole line.",
    columns=(("flow", "flow"), ("gauge", "pressure")),
    rows=lambda p: tuple((p["flow"] * share, p["gauge"] * share**2) for share in _CARD),
    blanks=((1, 1), (2, 1), (3, 1)),
    mistakes=(
        mistakes.linear_for_square(_card_by(1.0)),
        mistakes.root_for_square(_card_by(0.5)),
        mistakes.upside_down(_card_by(-2.0)),
    ),
    hints=(
        "What share of the full flow is each of the others?",
        "Square that share, and multiply the full gauge by it.",
    ),
    solution=lambda p, show: (
        "The share of the flow, squared, times the full gauge:\n\n"
        + "\n".join(
            f"{show(p['flow'] * share, 'flow')}: {share:g} × {share:g} = {share**2:.3g} times, "
            f"{show(p['gauge'] * share**2, 'pressure')}"
            for share in _CARD
        )
    ),
)

EXERCISES = (
    ADD_UP,
    BEHIND_THE_JETS,
    LIFT,
    EASED_THROTTLE,
    BIGGEST_SHARE,
    LONGER_HOSE,
    ONE_JET_MORE,
    RAISES_GAUGE,
    ORDER_LINES,
    GAUGE_CARD,
    JET_POWER,
)

# --- predictions ------------------------------------------------------------------------------------


@cache
def _trailer():
    return demo_rig("yard_trailer")


def _trailer_gauge(throttle, rig=None):
    return operating_point(_trailer() if rig is None else rig, throttle).gauge


def _said_full(words):
    """A question with the trailer's gauge at full throttle put in, worked out when it is asked."""

    def question(parameters, show):
        pump = _trailer().pump
        return words.format(
            full=show(_trailer_gauge(1.0), "pressure"),
            rated=show(pump.rated_speed, "speed"),
            idle=show(pump.idle_speed, "speed"),
        )

    return question


IDLE_GAUGE = PredictedNumber(
    id="04-idle-gauge",
    title="The gauge at idle",
    ask=_said_full(
        "At full throttle the yard trailer's pump turns at {rated} and the gauge reads {full}. The lever is pulled "
        "back to idle, {idle}. What does the gauge read?"
    ),
    kind="pressure",
    answer=lambda p: _trailer_gauge(0.0),
    because="Idle is about four tenths of the speed, so about four tenths of the flow. Jets and hose follow the "
    "square, or nearly: 0.43 × 0.43 is less than a fifth. That is why a sound machine looks so weak at idle.",
)


def _with_twice_the_hose():
    first, *others = _trailer().hoses
    return _trailer().replace(hoses=(first.replace(length=2.0 * first.length), *others))


def _twice_the_hose(p):
    """The option nearest to how many times the gauge grows, at half throttle, with twice the hose."""
    grows = _trailer_gauge(0.5, _with_twice_the_hose()) / _trailer_gauge(0.5)
    return min(_GROWS, key=lambda key: abs(_GROWS[key] - grows))


_GROWS = {"same": 1.0, "little": 1.07, "half": 1.5, "double": 2.0}

TWICE_THE_HOSE = PredictedChoice(
    id="04-twice-the-hose",
    title="Twice the hose",
    ask="The yard trailer runs at half throttle with {length} of {bore} hose. Now twice as much hose is put on, with "
    "the same nozzle. What does the gauge do?",
    parameters={"length": _feet(250), "bore": si("1/2 in", "bore")},
    shown={"length": "length", "bore": "bore"},
    options=(
        ("same", "It stays where it was"),
        ("little", "It rises, but by less than a tenth"),
        ("half", "It rises by about half"),
        ("double", "It doubles"),
    ),
    answer=_twice_the_hose,
    because="Only the hose's part doubles, and on this machine that is a small part. Most of the gauge belongs to the "
    "jets, and they get the same flow as before.",
)

GAUGE_CURVE = PredictedCurve(
    id="04-gauge-curve",
    title="The gauge against the throttle",
    ask=_said_full("The same trailer, from idle to full throttle, where its gauge reads {full}. Sketch the gauge."),
    x=("throttle", "fraction"),
    y=("gauge", "pressure"),
    xs=(0.0, 0.25, 0.5, 0.75, 1.0),
    top=_psi(3500),
    answer=lambda p, x: _trailer_gauge(x),
    because="It does not start from nothing, for the engine idles. And each step of the lever adds more than the one "
    "before, for the pressure follows the square of the flow.",
)

PREDICTIONS = (IDLE_GAUGE, TWICE_THE_HOSE, GAUGE_CURVE)
