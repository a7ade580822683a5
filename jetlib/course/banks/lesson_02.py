"""Practice and predictions of lesson 02, orifice flow. The model for the other lessons' banks."""

import math
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
from jetlib.course.exercises.mistakes import altered, scaled
from jetlib.physics import orifice, water
from jetlib.units import both, si, to_si

_DENSITY = water.density(288.15)
_CD = 0.72  # drilled, edges a little worn
_DRILLS = ("#68", "#65", "#64", "#62", "#60", "#58", "#56", "#55", "#54", "#53", "#52")


def _psi(number):
    return to_si(number, "pressure", "US")


def _gpm(number):
    return to_si(number, "flow", "US")


def _bore(drill):
    return tables.drill(drill).diameter


def _pressure(flow, area, coefficient=_CD):
    return orifice.pressure(flow, area=area, discharge_coefficient=coefficient, density=_DENSITY)


def _flow(pressure, area, coefficient=_CD):
    return orifice.flow(pressure, area=area, discharge_coefficient=coefficient, density=_DENSITY)


# --- areas add --------------------------------------------------------------------------------------


def _draw_two_groups(rng):
    rear, front = rng.sample(_DRILLS, 2)
    return {
        "rear_count": rng.randrange(3, 9),
        "rear_bore": _bore(rear),
        "front_count": rng.randrange(1, 3),
        "front_bore": _bore(front),
    }


def _group_areas(p):
    return (
        p["rear_count"] * orifice.circle_area(p["rear_bore"]),
        p["front_count"] * orifice.circle_area(p["front_bore"]),
    )


def _area_in_all(p):
    return sum(_group_areas(p))


def _bores_added(p):
    return orifice.circle_area(p["rear_count"] * p["rear_bore"] + p["front_count"] * p["front_bore"])


def _one_of_each(p):
    return orifice.circle_area(p["rear_bore"]) + orifice.circle_area(p["front_bore"])


def _solve_areas(p, show):
    rear, front = _group_areas(p)
    return (
        "The area of one hole is π/4 × bore × bore.\n\n"
        f"Rear: {p['rear_count']} holes of {show(p['rear_bore'], 'jet_bore')}, {show(rear, 'area')} together.\n"
        f"Front: {p['front_count']} of {show(p['front_bore'], 'jet_bore')}, {show(front, 'area')}.\n\n"
        f"Areas add: {show(rear + front, 'area')} in all."
    )


AREAS_ADD = Numeric(
    id="02-areas-add",
    title="Add the areas",
    skills=("area of a hole", "areas add"),
    draw=_draw_two_groups,
    shown={"rear_bore": "jet_bore", "front_bore": "jet_bore"},
    ask="A nozzle has {rear_count} rear holes of {rear_bore} and {front_count} front of {front_bore}. "
    "What is the area of all its holes together?",
    kind="area",
    answer=_area_in_all,
    mistakes=(
        mistakes.bores_added(_bores_added),
        mistakes.one_hole_only(
            _one_of_each, "That is the area of one rear hole and one front hole. How many are there of each?"
        ),
        mistakes.diameter_as_radius(scaled(_area_in_all, 4.0)),
        mistakes.radius_as_diameter(scaled(_area_in_all, 0.25)),
        mistakes.pi_over_four_left_out(scaled(_area_in_all, 4.0 / math.pi)),
    ),
    hints=(
        "Work out the area of one hole of each size first. The area of a round hole is π/4 × bore × bore.",
        "Multiply the area of one rear hole by the number of rear holes, do the same in front, and add the two.",
    ),
    solution=_solve_areas,
)

# --- flow of a set of jets --------------------------------------------------------------------------


def _draw_set(rng):
    return {
        "count": rng.randrange(3, 9),
        "bore": _bore(rng.choice(_DRILLS)),
        "pressure": _psi(rng.randrange(1500, 3600, 100)),
        "coefficient": rng.choice((0.62, 0.65, 0.68, 0.72, 0.75)),
    }


def _set_flow(p):
    return _flow(p["pressure"], p["count"] * orifice.circle_area(p["bore"]), p["coefficient"])


def _solve_flow(p, show):
    area = p["count"] * orifice.circle_area(p["bore"])
    speed = math.sqrt(2.0 * p["pressure"] / _DENSITY)
    return (
        "Flow is Cd × area × speed, and the speed is √(2 × pressure / density).\n\n"
        f"Area: {p['count']} holes of {show(p['bore'], 'jet_bore')} are {show(area, 'area')}.\n"
        f"Speed: √(2 × {show(p['pressure'], 'pressure')} / {show(_DENSITY, 'density')}) is {show(speed, 'velocity')}.\n"
        f"Flow: {p['coefficient']} × {show(area, 'area')} × {show(speed, 'velocity')} is "
        f"{show(_set_flow(p), 'flow')}."
    )


SET_FLOW = Numeric(
    id="02-flow-of-a-set",
    title="Flow of a set of jets",
    skills=("orifice formula", "discharge coefficient"),
    draw=_draw_set,
    reject=lambda p: not _gpm(2.0) <= _set_flow(p) <= _gpm(30.0),
    shown={"bore": "jet_bore", "pressure": "pressure"},
    ask="There is {pressure} behind {count} holes of {bore}. Their discharge coefficient Cd is {coefficient}. "
    "What flow leaves them? Water: " + both(_DENSITY, "density") + ".",
    kind="flow",
    answer=_set_flow,
    tolerance=0.04,
    mistakes=(
        mistakes.coefficient_left_out(altered(_set_flow, coefficient=1.0)),
        mistakes.coefficient_upside_down(altered(_set_flow, coefficient=lambda cd: 1.0 / cd)),
        mistakes.one_hole_only(altered(_set_flow, count=1)),
        mistakes.diameter_as_radius(altered(_set_flow, bore=lambda bore: 2.0 * bore)),
        mistakes.bores_added(lambda p: _set_flow({**p, "count": p["count"] ** 2})),
        Mistake(
            "the 2 left out",
            "The root looks a little too small. Look at the formula again: is anything left out under the root?",
            scaled(_set_flow, math.sqrt(0.5)),
        ),
    ),
    hints=(
        "Find the area of all the holes, then the speed of the water from the pressure: √(2 × pressure / density).",
        "Flow is area times speed, less what the edge of the hole takes: multiply by Cd once. In the formula pressure "
        "is in pascal (1 psi is 6895 Pa, 1 bar is 100,000 Pa), area in m² and density in kg/m³.",
    ),
    solution=_solve_flow,
)

# --- the square law ---------------------------------------------------------------------------------


def _draw_two_flows(rng):
    first = rng.randrange(8, 31) / 2.0
    return {
        "flow": _gpm(first),
        "pressure": _psi(rng.randrange(400, 1300, 50)),
        "new_flow": _gpm(round(2.0 * first * rng.choice((0.6, 0.7, 1.25, 1.4, 1.5, 1.6, 1.8))) / 2.0),
    }


def _flow_ratio(p):
    return p["new_flow"] / p["flow"]


def _square_law(p):
    return p["pressure"] * _flow_ratio(p) ** 2


def _solve_square(p, show):
    ratio = _flow_ratio(p)
    return (
        f"The flow is {show(p['new_flow'], 'flow')} / {show(p['flow'], 'flow')} = {ratio:.3g} times what it was.\n\n"
        f"Pressure goes with the square: {ratio:.3g} × {ratio:.3g} = {ratio**2:.3g} times.\n\n"
        f"{ratio**2:.3g} × {show(p['pressure'], 'pressure')} is {show(_square_law(p), 'pressure')}."
    )


SQUARE_LAW = Numeric(
    id="02-square-law",
    title="Another flow through the same jets",
    skills=("square law",),
    draw=_draw_two_flows,
    reject=lambda p: abs(_flow_ratio(p) - 1.0) < 0.2,
    shown={"flow": "flow", "pressure": "pressure", "new_flow": "flow"},
    ask="The jets sit straight on the pump, with no hose. At {flow} the gauge reads {pressure}. "
    "The throttle is moved and {new_flow} goes through the same jets. What does the gauge read?",
    kind="pressure",
    answer=_square_law,
    mistakes=(
        mistakes.linear_for_square(lambda p: p["pressure"] * _flow_ratio(p)),
        mistakes.root_for_square(lambda p: p["pressure"] * math.sqrt(_flow_ratio(p))),
        mistakes.upside_down(lambda p: p["pressure"] / _flow_ratio(p) ** 2),
        Mistake(
            "doubled instead of squared",
            "It looks as if the ratio was multiplied by 2. To square is to multiply it by itself.",
            lambda p: p["pressure"] * 2.0 * _flow_ratio(p),
        ),
    ),
    hints=(
        "How many times the old flow is the new flow?",
        "Pressure goes with flow times flow. Multiply the old pressure by that ratio, and then by it again.",
    ),
    solution=_solve_square,
)


def _draw_two_pressures(rng):
    return {
        "flow": _gpm(rng.randrange(8, 31) / 2.0),
        "pressure": _psi(rng.randrange(2000, 4000, 100)),
        "new_pressure": _psi(rng.randrange(500, 1600, 50)),
    }


def _root_law(p):
    return p["flow"] * math.sqrt(p["new_pressure"] / p["pressure"])


def _solve_root(p, show):
    ratio = p["new_pressure"] / p["pressure"]
    return (
        f"The pressure is {show(p['new_pressure'], 'pressure')} / {show(p['pressure'], 'pressure')} = {ratio:.3g} of "
        f"what it was.\n\nFlow goes with the square root: √{ratio:.3g} is {math.sqrt(ratio):.3g}.\n\n"
        f"{math.sqrt(ratio):.3g} × {show(p['flow'], 'flow')} is {show(_root_law(p), 'flow')}."
    )


ROOT_LAW = Numeric(
    id="02-flow-from-gauge",
    title="Read the flow off the gauge",
    skills=("square law",),
    draw=_draw_two_pressures,
    shown={"flow": "flow", "pressure": "pressure", "new_pressure": "pressure"},
    ask="A set of jets on the pump, with no hose, passes {flow} when the gauge reads {pressure}. "
    "The engine is slowed until the gauge reads {new_pressure}. What flow goes through the jets now?",
    kind="flow",
    answer=_root_law,
    mistakes=(
        mistakes.linear_for_root(lambda p: p["flow"] * p["new_pressure"] / p["pressure"]),
        mistakes.square_for_root(lambda p: p["flow"] * (p["new_pressure"] / p["pressure"]) ** 2),
        mistakes.upside_down(lambda p: p["flow"] * math.sqrt(p["pressure"] / p["new_pressure"])),
        Mistake(
            "half instead of root",
            "It looks as if the ratio was halved. The square root of a number is what gives it when multiplied by "
            "itself.",
            lambda p: p["flow"] * p["new_pressure"] / p["pressure"] / 2.0,
        ),
    ),
    hints=(
        "Divide the new pressure by the old one. Then ask: does flow change by as much, or by less?",
        "Flow goes with the square root of pressure. Take the root of that ratio and multiply the old flow by it.",
    ),
    solution=_solve_root,
)

# --- a change of drill ------------------------------------------------------------------------------


def _draw_drill_change(rng):
    old, new = rng.sample(_DRILLS, 2)
    return {
        "count": rng.randrange(3, 9),
        "old_drill": old,
        "old_bore": _bore(old),
        "new_drill": new,
        "new_bore": _bore(new),
        "pressure": _psi(rng.randrange(1500, 3100, 100)),
    }


def _bore_ratio(p):
    return p["old_bore"] / p["new_bore"]


def _drill_change(p):
    return p["pressure"] * _bore_ratio(p) ** 4


def _solve_drill(p, show):
    ratio = _bore_ratio(p)
    return (
        f"Old bore over new bore: {show(p['old_bore'], 'jet_bore')} / {show(p['new_bore'], 'jet_bore')} = "
        f"{ratio:.3g}.\n\nThe number of holes has not changed, so the areas go as bore × bore: {ratio**2:.3g}.\n\n"
        f"At the same flow, pressure goes as that area ratio squared: {ratio**4:.3g}.\n\n"
        f"{ratio**4:.3g} × {show(p['pressure'], 'pressure')} is {show(_drill_change(p), 'pressure')}."
    )


DRILL_CHANGE = Numeric(
    id="02-drill-change",
    title="Change the drill",
    skills=("areas, not bores", "square law"),
    draw=_draw_drill_change,
    reject=lambda p: not 0.7 <= _bore_ratio(p) <= 1.25 or not _psi(400) <= _drill_change(p) <= _psi(4000),
    shown={"old_bore": "jet_bore", "new_bore": "jet_bore", "pressure": "pressure"},
    ask="A nozzle with {count} holes of drill {old_drill} ({old_bore}) reads {pressure}, with no hose between. "
    "It is changed for one with {count} holes of drill {new_drill} ({new_bore}). The flow stays the same, and the "
    "valve stays shut. What does the gauge read now?",
    kind="pressure",
    answer=_drill_change,
    mistakes=(
        mistakes.bore_for_area(lambda p: p["pressure"] * _bore_ratio(p) ** 2),
        Mistake(
            "bore alone",
            "It looks as if pressure was taken to change in step with the bore. Bore gives area, and area gives "
            "pressure: there is a square in each step.",
            lambda p: p["pressure"] * _bore_ratio(p),
        ),
        mistakes.upside_down(
            lambda p: p["pressure"] / _bore_ratio(p) ** 4,
            "The ratio looks turned over. Does the gauge go up or down when the holes are made larger?",
        ),
        mistakes.count_for_area(
            lambda p: p["pressure"],
            "The gauge does not stay where it was. There are as many holes as before, but they are of another size.",
        ),
    ),
    hints=(
        "Are the new holes larger or smaller? Say first whether the gauge rises or falls.",
        "Area goes with bore times bore. At the same flow, pressure goes with 1 over area times area. "
        "So the ratio of the bores is used four times.",
    ),
    solution=_solve_drill,
)

# --- a bucket test ----------------------------------------------------------------------------------


def _draw_bucket(rng):
    return {
        "volume": to_si(rng.choice((4, 5, 6, 8, 10)), "volume", "US"),
        "time": float(rng.randrange(22, 90)),
    }


def _bucket(p):
    return p["volume"] / p["time"]


BUCKET = Numeric(
    id="02-bucket-test",
    title="A bucket and a watch",
    skills=("flow", "units"),
    draw=_draw_bucket,
    shown={"volume": "volume", "time": "time"},
    ask="The manual allows it: with the pump stopped, the nozzle is taken off and the hose end made fast in a bucket. "
    "Then the engine is started and brought up slowly. It takes {time} for {volume} to run in. What is the flow?",
    kind="flow",
    answer=_bucket,
    reject=lambda p: not _gpm(3.0) <= _bucket(p) <= _gpm(20.0),
    mistakes=(
        mistakes.seconds_for_minutes(scaled(_bucket, 1.0 / 60.0)),
        Mistake(
            "a whole minute taken",
            "That would be so if the bucket took one whole minute to fill. Look at the time again.",
            lambda p: p["volume"] / 60.0,
        ),
        mistakes.imperial_gallon(lambda p: mistakes.imperial_flow(_bucket(p))),
        mistakes.us_gallon(
            lambda p: mistakes.us_flow(_bucket(p)),
            "It looks as if the gallon was the Imperial one of 4.55 L. This course's gallon is the US one of 3.79 L.",
        ),
    ),
    hints=(
        "Flow is how much water comes in how much time. How much would come in one minute?",
        "Divide the volume by the time in seconds, then multiply by 60 for a whole minute.",
    ),
    solution=lambda p, show: (
        f"{show(p['volume'], 'volume')} in {show(p['time'], 'time')}: divide by the seconds and multiply by 60.\n\n"
        f"The flow is {show(_bucket(p), 'flow')}."
    ),
)

# --- choosing ---------------------------------------------------------------------------------------

EDGE = SingleChoice(
    id="02-edge",
    title="Same drill, other edge",
    skills=("discharge coefficient",),
    draw=lambda rng: {"count": rng.randrange(3, 9), "drill": rng.choice(_DRILLS), "flow": _gpm(rng.randrange(6, 16))},
    shown={"flow": "flow"},
    ask="Three nozzles each have {count} holes of drill {drill}. Only the edges of the holes differ. "
    "{flow} goes through each in turn. Which one shows the highest gauge?",
    options=(
        ("sharp", "The one with sharp edges, fresh from the drill"),
        ("worn", "The one whose edges are worn a little round"),
        ("conical", "The one with smooth cone-shaped inserts"),
        ("same", "None: the same drill gives the same gauge"),
    ),
    answer=lambda p: max(_EDGE_CD, key=lambda edge: _pressure(p["flow"], orifice.circle_area(1e-3), _EDGE_CD[edge])),
    mistakes=(
        Mistake(
            "smooth taken as tight",
            "A smooth way in helps the water through. Does easy going need more pressure, or less?",
            lambda p: min(_EDGE_CD, key=lambda edge: _pressure(p["flow"], orifice.circle_area(1e-3), _EDGE_CD[edge])),
        ),
        Mistake(
            "wear taken as tight",
            "Wear rounds the edge and opens the hole. Does water then get through more easily, or less?",
            lambda p: "worn",
        ),
        Mistake(
            "coefficient left out",
            "The drill is not all: the jet gets thinner after the edge. How much thinner depends on the edge.",
            lambda p: "same",
        ),
    ),
    hints=(
        "Look at the discharge coefficients in the lesson: which edge lets the most through?",
        "The edge that lets the least through needs the most pressure for the same flow.",
    ),
    solution=(
        "A sharp edge squeezes the jet most: its Cd is about 0.62. Worn edges have about 0.72, cone-shaped inserts "
        "about 0.9. At the same flow and drill, pressure goes with 1 / Cd², so the sharp edge shows the highest gauge."
    ),
)
_EDGE_CD = {"sharp": 0.62, "worn": 0.72, "conical": 0.90}


def _draw_equal_sets(rng):
    count = rng.choice((4, 6, 8))
    return {"count": count, "double": 2 * count, "half": count // 2, "bore": rng.randrange(36, 56, 2) * 2.54e-5}


_SETS = {  # name: (how many times the holes, how many times the bore)
    "four-times-half": (4, 0.5),
    "twice-half": (2, 0.5),
    "half-root": (0.5, math.sqrt(2.0)),
    "half-double": (0.5, 2.0),
}


def _sets_of_equal(p, power):
    return [name for name, (count, bore) in _SETS.items() if abs(count * bore**power - 1.0) < 1e-9]


def _set_words(name):
    count, bore = _SETS[name]
    return lambda p, show: f"{p['count'] * count:.0f} holes of {show(p['bore'] * bore, 'jet_bore')}"


SAME_GAUGE = MultipleChoice(
    id="02-same-gauge",
    title="Which sets read the same?",
    skills=("areas, not bores", "areas add"),
    draw=_draw_equal_sets,
    shown={"bore": "jet_bore"},
    ask="A nozzle has {count} holes of {bore}. Which of these sets would show the same gauge at the same flow? "
    "Let a difference of one part in a hundred pass.",
    options=tuple((name, _set_words(name)) for name in _SETS),
    answer=lambda p: _sets_of_equal(p, 2),
    mistakes=(
        mistakes.bore_for_area(lambda p: _sets_of_equal(p, 1)),
        Mistake(
            "only one found",
            "What you ticked is right. Work out the area of the others too: there is more than one.",
            lambda p: _sets_of_equal(p, 2)[:1],
        ),
        Mistake(
            "only one found, with fewer holes",
            "What you ticked is right. Try the sets with more holes too.",
            lambda p: _sets_of_equal(p, 2)[1:],
        ),
    ),
    hints=(
        "The same gauge at the same flow means the same area in all.",
        "Work out count × bore × bore for the nozzle and for each set, and compare.",
    ),
    solution=lambda p, show: (
        f"{p['count']} holes of {show(p['bore'], 'jet_bore')} have {show(_set_area(p), 'area')} in all.\n\n"
        + "\n".join(
            f"{_set_words(name)(p, show)}: {show(_set_area(p) * count * bore**2, 'area')}"
            for name, (count, bore) in _SETS.items()
        )
        + "\n\nThe sets with the same area show the same gauge."
    ),
)


def _set_area(p):
    return p["count"] * orifice.circle_area(p["bore"])


def _draw_order(rng):
    drills = rng.sample(_DRILLS, 4)
    return {
        "flow": _gpm(rng.randrange(4, 9)),
        **{f"count_{key}": rng.randrange(2, 10) for key in "abcd"},
        **{f"bore_{key}": _bore(drill) for key, drill in zip("abcd", drills, strict=True)},
    }


def _by_gauge(p):
    return tuple(sorted("abcd", key=lambda key: _order_pressure(p, key)))


def _order_pressure(p, key):
    return _pressure(p["flow"], p[f"count_{key}"] * orifice.circle_area(p[f"bore_{key}"]))


def _order_silly(p):
    pressures = sorted(_order_pressure(p, key) for key in "abcd")
    return pressures[-1] > _psi(4000) or any(high < 1.15 * low for low, high in pairwise(pressures))


ORDER_GAUGE = Ordering(
    id="02-order-by-gauge",
    title="From the lowest gauge to the highest",
    skills=("areas, not counts",),
    draw=_draw_order,
    shown={"flow": "flow", **{f"bore_{key}": "jet_bore" for key in "abcd"}},
    ask="{flow} goes through each of these sets of holes in turn. Put them in order, the lowest gauge first.",
    options=tuple((key, f"{{count_{key}}} holes of {{bore_{key}}}") for key in "abcd"),
    answer=_by_gauge,
    reject=_order_silly,
    mistakes=(
        mistakes.upside_down(
            lambda p: _by_gauge(p)[::-1],
            "The order is turned over. Does a large area need a high pressure, or a low one?",
        ),
        mistakes.count_for_area(
            lambda p: tuple(sorted("abcd", key=lambda key: (-p[f"count_{key}"], -p[f"bore_{key}"]))),
            "It looks as if the sets were ordered by their number of holes. A few large holes can have more area.",
        ),
        mistakes.bore_for_area(
            lambda p: tuple(sorted("abcd", key=lambda key: -p[f"bore_{key}"])),
            "It looks as if the sets were ordered by bore. Many small holes can have more area.",
        ),
    ),
    hints=(
        "The more area, the lower the gauge.",
        "Work out count × bore × bore for each set. The largest comes first.",
    ),
    solution=lambda p, show: (
        "The gauge falls as the area grows:\n\n"
        + "\n".join(
            f"{p[f'count_{key}']} holes of {show(p[f'bore_{key}'], 'jet_bore')}: "
            f"{show(p[f'count_{key}'] * orifice.circle_area(p[f'bore_{key}']), 'area')}, "
            f"{show(_order_pressure(p, key), 'pressure')}"
            for key in _by_gauge(p)
        )
    ),
)

# --- a table ----------------------------------------------------------------------------------------

_STEPS = (0.5, 1.0, 1.5, 2.0)


def _draw_table(rng):
    return {"flow": _gpm(rng.randrange(3, 9)), "pressure": _psi(rng.randrange(300, 820, 20))}


def _table_by(power):
    return lambda p: tuple(p["pressure"] * step**power for step in _STEPS if step != 1.0)


TABLE = FillTable(
    id="02-square-table",
    title="A table for the cab",
    skills=("square law",),
    draw=_draw_table,
    shown={"flow": "flow", "pressure": "pressure"},
    ask="The jets of a nozzle, without hose, need {pressure} at {flow}. Fill in the gauge at the other flows.",
    columns=(("flow", "flow"), ("gauge", "pressure")),
    rows=lambda p: tuple((p["flow"] * step, p["pressure"] * step**2) for step in _STEPS),
    blanks=((0, 1), (2, 1), (3, 1)),
    mistakes=(
        mistakes.linear_for_square(_table_by(1.0)),
        mistakes.root_for_square(_table_by(0.5)),
        mistakes.upside_down(_table_by(-2.0)),
    ),
    hints=(
        "How many times the known flow is each of the others?",
        "Square that ratio and multiply the known pressure by it.",
    ),
    solution=lambda p, show: (
        f"Each flow over {show(p['flow'], 'flow')}, squared, times {show(p['pressure'], 'pressure')}:\n\n"
        + "\n".join(
            f"{show(p['flow'] * step, 'flow')}: {step:g} × {step:g} = {step**2:g} times, "
            f"{show(p['pressure'] * step**2, 'pressure')}"
            for step in _STEPS
        )
    ),
)

EXERCISES = (AREAS_ADD, SET_FLOW, SQUARE_LAW, ROOT_LAW, DRILL_CHANGE, BUCKET, EDGE, SAME_GAUGE, ORDER_GAUGE, TABLE)

# --- predictions ------------------------------------------------------------------------------------

WIDER_DRILL = PredictedNumber(
    id="02-wider-drill",
    title="Drilled out by a pencil line",
    parameters={
        "count": 4,
        "flow": _gpm(8.0),
        "pressure": _pressure(_gpm(8.0), 4 * orifice.circle_area(_bore("#60"))),
        "old_bore": _bore("#60"),
        "new_bore": _bore("#56"),
    },
    shown={"flow": "flow", "pressure": "pressure", "old_bore": "jet_bore", "new_bore": "jet_bore"},
    ask="{count} holes of {old_bore} need {pressure} at {flow}. All are drilled out to {new_bore}, and the flow stays "
    "the same. What does the gauge show now?",
    kind="pressure",
    answer=_drill_change,
    because="A little more bore is more area, and a little more area needs much less pressure. The rest of this lesson "
    "says how much of each.",
)

DOUBLE_FLOW = PredictedNumber(
    id="02-double-flow",
    title="Twice the flow",
    parameters={"flow": _gpm(5.0), "pressure": _psi(700), "new_flow": _gpm(10.0)},
    shown={"flow": "flow", "pressure": "pressure", "new_flow": "flow"},
    ask="Jets on the pump, no hose. At {flow} the gauge reads {pressure}. What will it read at {new_flow}?",
    kind="pressure",
    answer=_square_law,
    because="Twice the flow has to leave through the same holes, so it leaves twice as fast. "
    "What it takes to speed water up goes with the square of the speed: four times.",
)

HALF_THE_BORE = PredictedChoice(
    id="02-half-the-bore",
    title="Half the bore",
    parameters={"count": 4, "bore": si("0.060 in", "jet_bore"), "small_bore": si("0.030 in", "jet_bore")},
    shown={"bore": "jet_bore", "small_bore": "jet_bore"},
    ask="A nozzle has {count} holes of {bore}. How many holes of {small_bore}, half the bore, let the same water "
    "through at the same pressure?",
    options=(("4", "4, the same"), ("8", "8, twice as many"), ("16", "16, four times as many"), ("64", "64")),
    answer=lambda p: round(p["count"] * (p["bore"] / p["small_bore"]) ** 2),
    because="Half the bore is half as wide and half as high: a quarter of the area. So it takes four for each one.",
)

GAUGE_CURVE = PredictedCurve(
    id="02-gauge-curve",
    title="The gauge against the flow",
    parameters={"area": 4 * orifice.circle_area(_bore("#56")), "low_flow": _gpm(2.0), "flow": _gpm(10.0)},
    shown={"low_flow": "flow", "flow": "flow"},
    ask="The same jets, no hose. The throttle is opened until the flow rises from {low_flow} to {flow}. "
    "Sketch how the gauge rises.",
    x=("flow", "flow"),
    y=("gauge", "pressure"),
    xs=tuple(_gpm(flow) for flow in (2.0, 4.0, 6.0, 8.0, 10.0)),
    top=_psi(4000),
    answer=lambda p, x: _pressure(x, p["area"]),
    because="Each step of flow costs more than the one before: the curve gets steeper all the way.",
)

PREDICTIONS = (WIDER_DRILL, GAUGE_CURVE, DOUBLE_FLOW, HALF_THE_BORE)
