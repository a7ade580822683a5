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
from jetlib.course.exercises import amounts, yard, yard_faults, yard_job
from jetlib.course.exercises.words import Show, picked
from jetlib.course.exercises.worked import compiled, evaluated
from jetlib.errors import JetlibError
from jetlib.physics import friction, hose, orifice
from jetlib.physics.air import GRAVITY
from jetlib.physics.hose_drag import capstan_ratio
from jetlib.physics.power import shaft_power
from jetlib.physics.reaction import jet_reaction
from jetlib.physics.valve import unloader_pressure
from jetlib.rig.hoses.weight import bend_room
from jetlib.rig.job.flushing import DEBRIS, shear_that_moves
from jetlib.units import from_si, to_si

_US = Show("US")
_NAME = re.compile(r"\{(\w+)\}")


def _coil_adds(flow, bore, reel):
    reynolds = hose.reynolds_number(flow, bore=bore, density=amounts.DENSITY, viscosity=amounts.VISCOSITY)
    return friction.coil_ratio(reynolds, bore, reel) - 1.0


def _drill_bore(drill):
    return amounts.bore_of(drill if isinstance(drill, str) else f"#{drill:g}")


#: name: (function of SI values, kinds of what it takes, None for a plain number or words; kind of what it gives).
FUNCTIONS = {
    "hose_bore": (amounts.hose_bore, (None,), "bore"),
    "table_bore": (amounts.said_bore, (None,), "bore"),
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
    "full_weight": (yard.full_mass, (None,), "mass_per_length"),
    "drill_bore": (_drill_bore, (None,), "jet_bore"),
    "hole_area": (orifice.circle_area, ("jet_bore",), "area"),
    "hose_name": (amounts.hose_name, (None,), None),
    "hose_loss": (amounts.hose_loss, ("flow", "length", "bore"), "pressure"),
    "rubber_hose_loss": (partial(amounts.hose_loss, roughness=yard.RUBBER), ("flow", "length", "bore"), "pressure"),
    "coil_adds": (_coil_adds, ("flow", "bore", "bore"), None),
    "jet_pressure": (amounts.jet_pressure, ("flow", "area"), "pressure"),
    "jet_flow": (amounts.jet_flow, ("pressure", "area", None), "flow"),
    "jet_pull": (
        lambda flow, pressure, angle: jet_reaction(flow, pressure, density=amounts.DENSITY, angle=angle),
        ("flow", "pressure", "angle"), "force",
    ),
    "head": (lambda lift: amounts.DENSITY * GRAVITY * lift, ("length",), "pressure"),
    "speed_head": (
        lambda flow, bore: 0.5 * amounts.DENSITY * hose.velocity(flow, bore=bore) ** 2, ("flow", "bore"), "pressure",
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
    "pull_past_bend": (yard.pull_past_bend, ("length", "length", None), "force"),
    "planned_reach": (lambda leader, braid: yard_job.planned(leader, braid).reach.distance, (None, None), "length"),
    "planned_pull_reach": (lambda leader: yard_job.planned(leader).reach.pull_distance, (None,), "length"),
    "planned_pull": (lambda leader: yard_job.planned(leader).point.reaction, (None,), "force"),
    "least_sure": (yard_job.least_sure, (), None),
    "surest_reach": (yard_job.surest_reach, (), None),
    "drill_near": (yard.drill_near, ("area", None, None), None),
    "warmer": (yard.warmer_in_a_minute, ("power", "volume"), "temperature_difference"),
    "wall_drag": (lambda *run: float(yard.running_off(*run).shear), ("flow", "pipe_bore", "slope"), None),
    "water_depth": (
        lambda flow, bore, fall: yard.running_off(flow, bore, fall).depth_ratio * bore,
        ("flow", "pipe_bore", "slope"), "pipe_bore",
    ),
    "grain_size": (yard.grain_size, (None,), None),
    "grain_drag": (lambda grain: shear_that_moves(DEBRIS[grain]), (None,), None),
    "plain_figures": (lambda number: f"{number:.2g}", (None,), None),
    "fault_gauge": (yard_faults.gauge, (None, None, None), "pressure"),
    "fault_second_gauge": (yard_faults.second_gauge, (None, None), "pressure"),
    "fault_flow": (yard_faults.nozzle_flow, (None, None), "flow"),
    "fault_speed": (yard_faults.speed, (None, None), "speed"),
    "fault_return": (yard_faults.returned, (None, None), None),
    "fault_words": (yard_faults.signature_words, (None, None), None),
    "only_cause": (yard_faults.only_cause, (None, None), None),
    "check_between": (yard_faults.check_between, (None, None), None),
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
    function, kinds, kind = FUNCTIONS[name]
    if count != len(kinds):
        raise JetlibError(f"{name}( ) takes {len(kinds)} values in a row: {', '.join(map(str, kinds))}; write those")

    @lru_cache(4000)  # an answer, its mistakes and its solution ask for the same
    def call(*given):
        found = function(*(to_si(each, of, "US") if of else each for each, of in zip(given, kinds, strict=True)))
        return found if isinstance(found, str) else float(from_si(found, kind, "US") if kind else found)

    return call


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
            known[name] = evaluated(arithmetic, known, _US, _more)
        found = evaluated(words, known, _US, _more)
        if isinstance(found, bool | str):
            return found
        return float(found if kind is None else to_si(found, kind, "US"))

    return value
