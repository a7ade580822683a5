"""Formulas of an exercise that are worked out and not printed: arithmetic, comparisons, and the course's own physics.

    "{flow} × {gauge} / 1714"                    arithmetic as in a solution
    "hose_loss({flow}, {length}, {bore})"        one of FUNCTIONS
    "1.2 <= {new} / {old} <= 2.6 and {drill} != '#60'"    a condition

Numbers are in US units, whatever the reader has: {flow} is gpm, {gauge} psi, {bore} in; [38|0.849] is 38.
"""

import ast
import math
import re
from functools import lru_cache, partial

from jetlib import tables
from jetlib.course.exercises import yard, yard_job
from jetlib.course.exercises.words import picked
from jetlib.course.exercises.worked import compiled, evaluated
from jetlib.errors import JetlibError
from jetlib.physics import friction, heat, hose, orifice, water
from jetlib.physics.air import GRAVITY
from jetlib.physics.hose_drag import capstan_ratio, hose_tension
from jetlib.physics.pump import shaft_power, unloader_pressure
from jetlib.physics.reaction import jet_reaction
from jetlib.rig.diagnosis.checks import first_to_tell
from jetlib.rig.hoses.weight import bend_room, water_mass
from jetlib.rig.job.flushing import DEBRIS, shear_that_moves
from jetlib.rig.parts.rig_file import demo_rig
from jetlib.units import SYSTEMS, from_si, text, to_si

_NAME = re.compile(r"\{(\w+)\}")
_WORN = 0.72  # discharge coefficient of jets that are drilled, edges a little worn


def _coil_adds(flow, bore, reel):
    reynolds = hose.reynolds_number(flow, bore=bore, density=yard.DENSITY, viscosity=yard.VISCOSITY)
    return friction.coil_ratio(reynolds, bore, reel) - 1.0


#: name: (function of SI values, kinds of what it takes, None for a plain number or words; kind of what it gives).
FUNCTIONS = {
    "hose_bore": (yard.hose_bore, (None,), "bore"),
    "table_bore": (yard.said_bore, (None,), "bore"),
    "dash_bore": (lambda dash: tables.hose(dash).bore, (None,), "bore"),
    "dash_weight": (yard.empty_mass, (None,), "mass_per_length"),
    "dash_outside": (lambda dash: tables.hose(dash).outside_diameter_max, (None,), "bore"),
    "hose_rating": (
        lambda dash, standard, edition: tables.hose(dash, standard=standard, edition=edition).working_pressure,
        (None, None, None), "pressure",
    ),
    "drain_hose": (lambda row: tables.drain_hoses()[int(row)].label, (None,), None),
    "drain_hose_rating": (lambda row: tables.drain_hoses()[int(row)].working_pressure, (None,), "pressure"),
    "bend_room": (partial(bend_room, bend=math.pi / 2.0), ("pipe_bore", "bore"), "pipe_bore"),
    "full_weight": (
        lambda dash: yard.empty_mass(dash) + water_mass(tables.hose(dash).bore, density=yard.DENSITY),
        (None,), "mass_per_length",
    ),
    "drill_bore": (
        lambda drill: tables.drill(drill if isinstance(drill, str) else f"#{drill:g}").diameter, (None,), "jet_bore",
    ),
    "hole_area": (orifice.circle_area, ("jet_bore",), "area"),
    "hose_name": (yard.hose_name, (None,), None),
    "hose_loss": (yard.hose_loss, ("flow", "length", "bore"), "pressure"),
    "rubber_hose_loss": (partial(yard.hose_loss, roughness=yard.RUBBER), ("flow", "length", "bore"), "pressure"),
    "coil_adds": (_coil_adds, ("flow", "bore", "bore"), None),
    "jet_pressure": (
        lambda flow, area: orifice.pressure(flow, area=area, discharge_coefficient=_WORN, density=yard.DENSITY),
        ("flow", "area"), "pressure",
    ),
    "jet_flow": (
        lambda pressure, area, share: orifice.flow(
            pressure, area=area, discharge_coefficient=share, density=yard.DENSITY
        ),
        ("pressure", "area", None), "flow",
    ),
    "jet_pull": (
        lambda flow, pressure, angle: jet_reaction(flow, pressure, density=yard.DENSITY, angle=angle),
        ("flow", "pressure", "angle"), "force",
    ),
    "head": (lambda lift: yard.DENSITY * GRAVITY * lift, ("length",), "pressure"),
    "speed_head": (
        lambda flow, bore: 0.5 * yard.DENSITY * hose.velocity(flow, bore=bore) ** 2, ("flow", "bore"), "pressure",
    ),
    "valve_pressure": (
        lambda flow, setting, rise, rated: unloader_pressure(flow, setting=setting, rise=rise, full_flow=rated),
        ("flow", "pressure", None, "flow"), "pressure",
    ),
    "bend": (capstan_ratio, (None, "angle"), None),
    "valve_opens_at": (yard.valve_opens_at, (None, "length", None, None), None),
    "matched_share": (yard.matched_share, (None,), None),
    "gauge_redrilled": (yard.gauge_redrilled, (None, "jet_bore"), "pressure"),
    "matched_power": (yard.matched_power, (None, None, "length"), None),
    "thin_hose_flow": (lambda *line: yard.thin_hose(*line).nozzle_flow, ("length", "length", None), "flow"),
    "thin_hose_return": (lambda *line: yard.thin_hose(*line).bypass_flow, ("length", "length", None), "flow"),
    "shaft_power": (shaft_power, ("flow", "pressure", None), "power"),
    "pull_past_bend": (  # of a hose of 5 N/m through a run with a square bend so far in
        lambda run, bend_at, friction: hose_tension(
            run, weights=(5.0,), lengths=(run,), friction=friction, bends=((bend_at, math.pi / 2.0),)
        ),
        ("length", "length", None), "force",
    ),
    "planned_reach": (lambda leader, braid: yard_job.planned(leader, braid).reach.distance, (None, None), "length"),
    "planned_pull_reach": (lambda leader: yard_job.planned(leader).reach.pull_distance, (None,), "length"),
    "planned_pull": (lambda leader: yard_job.planned(leader).point.reaction, (None,), "force"),
    "least_sure": (yard_job.least_sure, (), None),
    "surest_reach": (yard_job.surest_reach, (), None),
    "drill_near": (  # the drill `step` sizes from the one with which `count` holes come nearest to an area
        lambda area, count, step: tables.next_drill(orifice.circle_bore(area / count), int(step)).label,
        ("area", None, None), None,
    ),
    "warmer": (  # in a minute
        lambda power, volume: 60.0 * heat.tank_heating_rate(
            power, volume=volume, density=yard.DENSITY, specific_heat=water.specific_heat(288.15)
        ),
        ("power", "volume"), "temperature_difference",
    ),
    "wall_drag": (lambda *run: yard.running_off(*run).shear, ("flow", "pipe_bore", "slope"), None),
    "water_depth": (
        lambda flow, bore, fall: yard.running_off(flow, bore, fall).depth_ratio * bore,
        ("flow", "pipe_bore", "slope"), "pipe_bore",
    ),
    "grain_size": (
        lambda debris: "[{}|{}]".format(*(text(DEBRIS[debris], "leak_bore", system, 2) for system in SYSTEMS)),
        (None,), None,
    ),
    "grain_drag": (lambda grain: shear_that_moves(DEBRIS[grain]), (None,), None),
    "plain_figures": (lambda number: f"{number:.2g}", (None,), None),
    "fault_gauge": (yard.fault_gauge, (None, None, None), "pressure"),
    "fault_second_gauge": (yard.fault_second_gauge, (None, None), "pressure"),
    "fault_flow": (lambda *fault: yard.fault_shows(*fault).nozzle_flow[-1], (None, None), "flow"),
    "fault_speed": (lambda *fault: yard.fault_shows(*fault).speed[-1], (None, None), "speed"),
    "fault_return": (yard.fault_returns, (None, None), None),
    "fault_words": (lambda *fault: "\n".join(yard.fault_shows(*fault).sentences[1:]), (None, None), None),
    "only_cause": (yard.only_cause, (None, None), None),
    "check_between": (
        lambda one, other: first_to_tell(
            demo_rig("yard_trailer"), one, other, ("return", "tachometer", "second gauge", "nozzle bucket", "open hose")
        ),
        (None, None), None,
    ),
}  # fmt: skip
_PLAIN = {
    "min": min, "max": max, "abs": abs, "exp": math.exp,
    "round": lambda value, places=0: round(value, int(places)) if places else round(value),
    "sin": lambda degrees: math.sin(math.radians(degrees)),
}  # fmt: skip
_NEAR = 1e-9  # of what is compared: a number that went through a unit and back is the same number
_HOLDS = {
    ast.Lt: lambda a, b: a < b and not _same(a, b), ast.LtE: lambda a, b: a < b or _same(a, b),
    ast.Gt: lambda a, b: a > b and not _same(a, b), ast.GtE: lambda a, b: a > b or _same(a, b),
    ast.Eq: lambda a, b: _same(a, b), ast.NotEq: lambda a, b: not _same(a, b),
}  # fmt: skip


def _same(a, b):
    return a == b if isinstance(a, str) or isinstance(b, str) else math.isclose(a, b, rel_tol=_NEAR, abs_tol=1e-12)


def _more(node, part):
    """The function of a piece of a formula that is no plain arithmetic; None for what no formula may hold."""
    match node:
        case ast.Constant(value=str() as words):
            return lambda numbers: words
        case ast.Compare(left=left, ops=ops, comparators=others) if all(type(do) in _HOLDS for do in ops):
            holds, sides = [_HOLDS[type(do)] for do in ops], [part(each) for each in (left, *others)]
            return lambda numbers: _compared(holds, [side(numbers) for side in sides])
        case ast.BoolOp(op=do, values=parts):
            of, values = all if isinstance(do, ast.And) else any, [part(each) for each in parts]
            return lambda numbers: of(value(numbers) for value in values)
        case ast.UnaryOp(op=ast.Not(), operand=each):
            value = part(each)
            return lambda numbers: not value(numbers)
        case ast.Call(func=ast.Name(id=name), args=parts, keywords=[]) if name in _PLAIN or name in FUNCTIONS:
            call, values = _PLAIN.get(name) or _of_si(name, len(parts)), [part(each) for each in parts]
            return lambda numbers: call(*(value(numbers) for value in values))
    return None


def _compared(holds, sides):
    return all(each(one, other) for each, one, other in zip(holds, sides, sides[1:], strict=False))


def _of_si(name, count):
    kinds = FUNCTIONS[name][1]
    if count != len(kinds):
        raise JetlibError(f"{name}( ) takes {len(kinds)} values in a row: {', '.join(map(str, kinds))}; write those")
    return partial(_found, name)


@lru_cache(20_000)  # an answer, its mistakes and its solution ask for the same
def _found(name, *given):
    """What a function of FUNCTIONS gives, words or a number in US units, of what it takes in US units."""
    function, kinds, kind = FUNCTIONS[name]
    found = function(*(to_si(each, of, "US") if of else each for each, of in zip(given, kinds, strict=True)))
    return found if isinstance(found, str) else float(from_si(found, kind, "US") if kind else found)


def formula(words, kinds, kind=None, steps=()):
    """A function of the parameters: what a formula gives, SI; of a condition True or False.

    kinds: name -> kind of the parameters that are quantities; steps: worked steps whose results it may use.
    """
    words = picked(words, "US")
    compiled(words, _more)  # what cannot be read is said when the formula is written, not when it is needed
    used, before = set(_NAME.findall(words)), []
    for step in reversed([each for each in steps if isinstance(each, tuple) and each[0] != words]):
        if step[1] in used:
            before.insert(0, (step[1], picked(step[0], "US")))
            used |= set(_NAME.findall(before[0][1]))

    def value(p):
        known = {name: from_si(p[name], of, "US") if (of := kinds.get(name)) else p[name] for name in used if name in p}
        for name, arithmetic in before:
            known[name] = evaluated(arithmetic, known, _more)
        found = evaluated(words, known, _more)
        if isinstance(found, bool | str):
            return found
        return float(found if kind is None else to_si(found, kind, "US"))

    return value
