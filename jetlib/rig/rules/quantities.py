"""The named quantities that a rule may speak of: name, state and change in thought, and what they come to on a rig.

A full name is one of `QUANTITIES`, then maybe `at` and one of `STATES`, then maybe `with` and one or two of
`rig.change.named.CHANGES`: "gauge at idle with one jet plugged and valve shut".
"""

from difflib import get_close_matches
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from jetlib.errors import JetlibError
from jetlib.physics import air, channel, heat, orifice, reaction, water
from jetlib.physics.constants import GRAVITY, USUAL_TEMPERATURE
from jetlib.physics.draining_tank import emptying_time
from jetlib.rig.change.named import CHANGES
from jetlib.rig.hoses import weight as hose_weight
from jetlib.rig.hoses.surge import surge_pressure
from jetlib.rig.job.flushing import WATER_DENSITY, shear_that_moves
from jetlib.rig.parts.tank import Tank
from jetlib.rig.point.circuit import compile_circuit
from jetlib.rig.point.operating_point import operating_point
from jetlib.rig.rules.dimensions import dimension

STATES = ("full", "half throttle", "half speed", "idle")
_MOST_CHANGES = 2
_LONGEST_NAME = 5
_TANK = Tank("100 gal")  # for the share of a tank that can be drawn


class Key(NamedTuple):
    """A quantity as named in a rule: one of QUANTITIES, the state, and the changes in order."""

    name: str
    state: str = "full"
    changes: tuple = ()


class Cases:
    """One rig or many (arrays in its parts) at a Site; `value(key)` gives what a Key comes to, SI.

    Each state with each change is solved once.
    """

    def __init__(self, rig, site):
        self.rig, self.site = rig, site
        self._points, self._rigs = {}, {(): rig}

    def value(self, key):
        """What a Key comes to, SI of its kind: a float or an array."""
        return QUANTITIES[key.name].value(self, key)

    def changed(self, changes):
        """The rig with those changes, in order."""
        if changes not in self._rigs:
            self._rigs[changes] = CHANGES[changes[-1]][0](self.changed(changes[:-1]))
        return self._rigs[changes]

    def point(self, key):
        """The OperatingPoint that a Key speaks of."""
        found = self._points.get(key[1:])
        if found is None:
            rig, throttle = _throttled(self.changed(key.changes), key.state)
            found = self._points[key[1:]] = operating_point(rig, throttle)
        return found


def _throttled(rig, state):
    """`rig` and the throttle (0 to 1) of a state; half speed is an idle of half the rated speed."""
    if state == "half speed":
        return rig.replace(pump=rig.pump.replace(idle_speed=0.5 * np.asarray(rig.pump.rated_speed))), 0.0
    return rig, {"full": 1.0, "half throttle": 0.5, "idle": 0.0}[state]


class Quantity(NamedTuple):
    """A quantity: its kind of `units`, value(cases, key) in SI of that kind, what it is in words, and whether state and
    change matter."""

    kind: str
    value: object
    meaning: str
    of_point: bool = True


# --- what they come to ------------------------------------------------------------------------------


def _at_point(kind, value, meaning):
    """The Quantity that an OperatingPoint has: value(point), SI of its kind."""
    return Quantity(kind, lambda cases, key: value(cases.point(key)), meaning)


def _of_rig(kind, value, meaning):
    """The Quantity that a rig has at any throttle: value(rig), SI of its kind."""
    return Quantity(kind, lambda cases, key: value(cases.changed(key.changes)), meaning, False)


def _of_site(kind, value, meaning):
    """The Quantity that a Site has: value(site), SI of its kind."""
    return Quantity(kind, lambda cases, key: value(cases.site), meaning, False)


def main_hose(rig):
    """The longest hose; JetlibError for a rig without."""
    if not rig.hoses:
        raise JetlibError("this rig has no hose, and the rule speaks of one; choose a rig with a hose")
    return max(rig.hoses, key=lambda hose: np.max(hose.length))


def _same_flow_loss(cases, key):
    """Friction (Pa) of the changed hoses at the flow that the unchanged rig has in that state."""
    flow = np.asarray(cases.point(key._replace(changes=())).nozzle_flow)
    rig, throttle = _throttled(cases.changed(key.changes), key.state)
    circuit, shape = compile_circuit(rig, throttle)
    shape = np.broadcast_shapes(shape, flow.shape)
    each = np.broadcast_to(flow, shape).reshape(-1).astype(float)
    losses = circuit.line_pressure_and_slope(np.maximum(each, 1e-12))[2]
    return sum((np.broadcast_to(loss, each.shape) for loss in losses), np.zeros(each.shape)).reshape(shape)


def _jet_speed(point):
    """Speed of the water out of the first jets, m/s."""
    speed = point.rig.nozzle.jets[0].velocity_coefficient if point.rig.nozzle.jets else 1.0
    return reaction.jet_velocity(point.nozzle_pressure, density=water.density(point.rig.water_temperature)) * speed


def _most_on_hose(point):
    """The most that any hose sees, Pa."""
    main_hose(point.rig)
    return np.max(point.hose_pressures, axis=0)


def _most_in_a_surge(point):
    """The most that any hose sees should all the jets shut at once, Pa; JetlibError for a rig without hose."""
    main_hose(point.rig)
    return surge_pressure(point)


def _hose_speed(point):
    """Mean velocity in the longest hose, m/s."""
    area = np.pi / 4.0 * np.square(main_hose(point.rig).bore)
    return point.nozzle_flow / area


def _engine_power(rig):
    """Rated power of the engine, W; JetlibError for a rig without."""
    if rig.engine is None:
        raise JetlibError("this rig has no engine on file, and the rule speaks of one; choose a rig with an engine")
    return rig.engine.power


def _setting(rig):
    """Setting of the unloader, Pa; JetlibError for a rig without."""
    if rig.unloader is None:
        raise JetlibError("this rig has no bypass valve with a setting, and the rule speaks of one; choose another rig")
    return rig.unloader.setting


def _weights(rig):
    """Weight of each hose full of water for each metre, N/m, a list."""
    density = water.density(rig.water_temperature)
    return [hose_weight.weight_per_metre(hose_weight.hose_mass(hose), hose.bore, density=density) for hose in rig.hoses]


def _hose_mass(rig):
    """Mass of all the hose full of water, kg."""
    total = 0.0
    for hose, weight in zip(rig.hoses, _weights(rig), strict=True):
        total = total + weight * hose.length / GRAVITY
    return total


def _reach(point):
    """Hose that the pull drags along a level pipe, m."""
    rig = point.rig
    return hose_weight.reach(point.reaction, _weights(rig), [hose.length for hose in rig.hoses])


def _tank_time(cases, key):
    """Time until the usable share of the tank has left the nozzle, s."""
    return emptying_time(cases.site.tank_volume * _TANK.usable, cases.point(key).nozzle_flow)


def _warming(point):
    """Warming of the bypassed water in one pass, K."""
    temperature = point.rig.water_temperature
    return heat.temperature_rise(
        point.gauge, density=water.density(temperature), specific_heat=water.specific_heat(temperature)
    )


def _air_left(site):
    """Density of the air over that at sea level on a standard day, a ratio: p/T (ICAO Doc 7488 for p)."""
    return air.pressure_ratio(site.altitude) * USUAL_TEMPERATURE / site.air_temperature


@lru_cache(1)
def _shallow():
    """Depth ratios and hydraulic radius over diameter, rising, up to where the radius is greatest (0.81)."""
    depths = np.linspace(0.0, 0.81, 400)
    return depths, channel.hydraulic_radius(depths, 1.0)


def grit_flow(site):
    """The least flow (m3/s) whose drag on the wall moves the site's grain; infinite where no depth does."""
    needed = shear_that_moves(site.grain) / (WATER_DENSITY * GRAVITY * np.asarray(site.pipe_slope))
    bore = np.asarray(site.pipe_bore)
    depths, radii = _shallow()
    depth = np.interp(needed / bore, radii, depths, right=np.nan)
    flow = channel.area(np.nan_to_num(depth), bore) * channel.manning_velocity(needed, site.pipe_slope, site.manning_n)
    return np.where(np.isfinite(depth), flow, np.inf)


QUANTITIES = {
    "gauge": _at_point("pressure", lambda p: p.gauge, "pressure on the gauge at the pump"),
    "hose pressure": _at_point("pressure", _most_on_hose, "the most that any hose sees"),
    "surge pressure": _at_point("pressure", _most_in_a_surge, "the most on any hose if all the jets shut at once"),
    "nozzle pressure": _at_point("pressure", lambda p: p.nozzle_pressure, "nozzle pressure, just before the jets"),
    "hose loss": _at_point("pressure", lambda p: p.hose_loss, "friction of all the hose"),
    "same flow loss": Quantity(
        "pressure", _same_flow_loss, "friction of all the hose at the flow that the unchanged rig has"
    ),
    "lift pressure": _at_point("pressure", lambda p: p.lift_pressure, "pressure that the lift needs"),
    "pump flow": _at_point("flow", lambda p: p.pump_flow, "what the pump gives"),
    "nozzle flow": _at_point("flow", lambda p: p.nozzle_flow, "what leaves the jets"),
    "bypass flow": _at_point("flow", lambda p: p.bypass_flow, "what the valve sends back"),
    "pull": _at_point("force", lambda p: p.reaction, "pull of the jets along the hose"),
    "reach": _at_point("length", _reach, "hose that the pull drags along a level pipe, friction 0.4"),
    "shaft power": _at_point("power", lambda p: p.shaft_power, "power at the pump's shaft"),
    "water power": _at_point("power", lambda p: p.hydraulic_power, "power in the water as it leaves the pump"),
    "jet power": _at_point("power", lambda p: p.power_shares["jets"], "power that reaches the jets"),
    "bypass power": _at_point("power", lambda p: p.power_shares["bypass"], "power that goes back through the valve"),
    "jet speed": _at_point("velocity", _jet_speed, "speed of the water out of the jets"),
    "hose speed": _at_point("velocity", _hose_speed, "speed of the water in the longest hose"),
    "warming": _at_point("temperature_difference", _warming, "warming of bypassed water in one pass"),
    "tank time": Quantity("duration", _tank_time, "time until 90 % of the tank has left the nozzle"),
    "rated flow": _of_rig("flow", lambda r: r.pump.rated_flow, "what the pump's plate says"),
    "setting": Quantity("pressure", lambda cases, key: _setting(cases.rig), "what the bypass valve is set to", False),
    "engine power": Quantity(
        "power", lambda cases, key: _engine_power(cases.rig), "what the engine's plate says", False
    ),
    "hose length": _of_rig("length", lambda r: sum(h.length for h in r.hoses), "all the hose together"),
    "hose bore": _of_rig("bore", lambda r: main_hose(r).bore, "bore of the longest hose"),
    "hose weight": _of_rig("mass", _hose_mass, "all the hose full of water"),
    "jet count": _of_rig("ratio", lambda r: sum(j.count for j in r.nozzle.jets), "number of holes"),
    "jet area": _of_rig("area", lambda r: r.nozzle.area, "area of all the holes"),
    "water area": _of_rig(
        "area", lambda r: r.nozzle.effective_area, "area of the holes times their discharge coefficient"
    ),
    "jet bore": _of_rig(
        "jet_bore",
        lambda r: orifice.circle_bore(r.nozzle.area / sum(j.count for j in r.nozzle.jets)),
        "bore of a hole of average area",
    ),
    "lift": _of_rig("lift", lambda r: r.lift, "nozzle above the pump"),
    "tank volume": _of_site("volume", lambda s: s.tank_volume, "water in a full tank"),
    "altitude": _of_site("altitude", lambda s: s.altitude, "height above the sea"),
    "air left": _of_site("ratio", _air_left, "density of the air compared with that at sea level on a mild day"),
    "pipe bore": _of_site("pipe_bore", lambda s: s.pipe_bore, "bore of the drain"),
    "pipe slope": _of_site("slope", lambda s: s.pipe_slope, "fall of the drain over its length"),
    "grit flow": _of_site("flow", grit_flow, "least flow in the drain that keeps grit of 2 mm moving"),
}


# --- names -------------------------------------------------------------------------------------------


def resolve(words):
    """(how many words, Key, dimension) of the name that begins `words`; LookupError(what, what to write)."""
    name, at = _longest(words, 0, QUANTITIES)
    if name is None:
        raise _unknown(words, QUANTITIES, "")
    state, changes = None, []
    while at < len(words):
        if words[at] == "at" and state is None:
            state, after = _longest(words, at + 1, STATES)
            if state is None:
                raise _unknown(words[at + 1 :], STATES, "at ")
        elif words[at] == "with" or (words[at] == "and" and changes):
            change, after = _longest(words, at + 1, CHANGES, skip=("the",))
            if change is None:
                raise _unknown(words[at + 1 :], CHANGES, "with ")
            changes.append(change)
            if len(changes) > _MOST_CHANGES:
                raise LookupError(": more than two changes at once", "two at most")
        else:
            break
        at = after
    return at, Key(name, state or "full", tuple(changes)), dimension(QUANTITIES[name].kind)


@lru_cache(4)
def _word_lists(names):
    return {tuple(name.split()): name for name in names}


def _longest(words, at, names, skip=()):
    """(name, place after it) of the longest name that stands at `at`; (None, at) if none does."""
    known = _word_lists(tuple(names))
    for start in (at, at + 1) if words[at : at + 1] and words[at] in skip else (at,):
        for count in range(_LONGEST_NAME + 2, 0, -1):
            found = known.get(tuple(words[start : start + count]))
            if found is not None and start + count <= len(words):
                return found, start + count
    return None, at


def _unknown(words, names, lead):
    """The LookupError for words that begin none of `names`, with what to write."""
    typed = " ".join(words[:_LONGEST_NAME])[:60]
    near = []
    for count in range(min(len(words), _LONGEST_NAME), 0, -1):
        near = near or get_close_matches(" ".join(words[:count])[:60], list(names), n=3, cutoff=0.6)
    write = ", ".join(lead + each for each in near) or ", ".join(lead + each for each in names)
    return LookupError(f" ({typed})" if typed else "", f"one of: {write}")
