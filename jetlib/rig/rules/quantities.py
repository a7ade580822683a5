"""The named quantities that a rule may speak of: name, state and change in thought, and what they come to on a rig.

A full name is one of `QUANTITIES`, then maybe `at` and one of `STATES`, then maybe `with` and one or two of
`CHANGES`: "gauge at idle with one jet plugged and valve shut".
"""

from difflib import get_close_matches
from functools import lru_cache
from operator import attrgetter
from typing import NamedTuple

import numpy as np

from jetlib.physics import air, channel, heat, hose, orifice, reaction, water
from jetlib.physics.constants import GRAVITY, USUAL_TEMPERATURE
from jetlib.physics.heat import emptying_time
from jetlib.rig.hoses import weight as hose_weight
from jetlib.rig.hoses.surge import surge_pressure
from jetlib.rig.job.flushing import WATER_DENSITY, shear_that_moves
from jetlib.rig.parts.site import Tank
from jetlib.rig.point.circuit import compile_circuit
from jetlib.rig.point.operating_point import operating_point
from jetlib.rig.rules.equation import dimension
from jetlib.rig.rules.moves import CHANGES, NAMES, hose_length, main_hose, there

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
        if key[1:] not in self._points:
            self._points[key[1:]] = operating_point(*_throttled(self.changed(key.changes), key.state))
        return self._points[key[1:]]


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
    of_point: bool


# --- what they come to ------------------------------------------------------------------------------


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


def _weights(rig):
    """Weight of each hose full of water for each metre, N/m, a list."""
    density = water.density(rig.water_temperature)
    return [hose_weight.weight_per_metre(hose_weight.hose_mass(each), each.bore, density=density) for each in rig.hoses]


def _hose_mass(rig):
    """Mass of all the hose full of water, kg."""
    return sum((weight * each.length / GRAVITY for each, weight in zip(rig.hoses, _weights(rig), strict=True)), 0.0)


def _reach(point):
    """Hose that the pull drags along a level pipe, m."""
    rig = point.rig
    return hose_weight.reach(point.reaction, _weights(rig), [each.length for each in rig.hoses])


def _warming(point):
    """Warming of the bypassed water in one pass, K."""
    temperature = point.rig.water_temperature
    return heat.temperature_rise(
        point.gauge, density=water.density(temperature), specific_heat=water.specific_heat(temperature)
    )


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


#: What a quantity is of, in the words of the file.
_OF = {
    "point": Cases.point,
    "rig": lambda cases, key: cases.changed(key.changes),
    "rig as it is": lambda cases, key: cases.rig,
    "site": lambda cases, key: cases.site,
}
#: Value of what that is, SI; of a case: of cases and key.
_VALUES = {
    "hose pressure": _most_on_hose,
    "surge pressure": _most_in_a_surge,
    "same flow loss": _same_flow_loss,
    "reach": _reach,
    "jet power": lambda point: point.power_shares["jets"],
    "bypass power": lambda point: point.power_shares["bypass"],
    "jet speed": _jet_speed,
    "hose speed": lambda point: hose.velocity(point.nozzle_flow, bore=main_hose(point.rig).bore),
    "warming": _warming,
    "tank time": lambda cases, key: emptying_time(cases.site.tank_volume * _TANK.usable, cases.point(key).nozzle_flow),
    "setting": lambda rig: there(rig.unloader, "bypass valve with a setting, and the rule speaks of one").setting,
    "engine power": lambda rig: (
        there(rig.engine, "engine on file, and the rule speaks of one", "a rig with an engine").power
    ),
    "hose length": hose_length,
    "hose bore": lambda rig: main_hose(rig).bore,
    "hose weight": _hose_mass,
    "jet count": lambda rig: sum(jet.count for jet in rig.nozzle.jets),
    "jet bore": lambda rig: orifice.circle_bore(rig.nozzle.area / sum(jet.count for jet in rig.nozzle.jets)),
    # Density over that at sea level on a standard day: p/T (ICAO Doc 7488 for p).
    "air left": lambda site: air.pressure_ratio(site.altitude) * USUAL_TEMPERATURE / site.air_temperature,
    "grit flow": grit_flow,
}


def _quantity(name, kind, meaning, of, reads=""):
    """The Quantity of a row of the file, its value in SI."""
    read = attrgetter(reads) if reads else _VALUES[name]
    value = read if of == "case" else lambda cases, key: read(_OF[of](cases, key))
    return Quantity(kind, value, meaning, of in ("point", "case"))


QUANTITIES = {name: _quantity(name, **row) for name, row in NAMES["quantities"].items()}


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


def _longest(words, at, names, skip=()):
    """(name, place after it) of the longest name that stands at `at`; (None, at) if none does."""
    for start in (at, at + 1) if words[at : at + 1] and words[at] in skip else (at,):
        for end in range(min(start + _LONGEST_NAME + 2, len(words)), start, -1):
            name = " ".join(words[start:end])
            if name in names:
                return name, end
    return None, at


def _unknown(words, names, lead):
    """The LookupError for words that begin none of `names`, with what to write."""
    typed = " ".join(words[:_LONGEST_NAME])[:60]
    tried = (" ".join(words[:count])[:60] for count in range(min(len(words), _LONGEST_NAME), 0, -1))
    near = next(filter(None, (get_close_matches(each, list(names), n=3, cutoff=0.6) for each in tried)), names)
    write = ", ".join(lead + each for each in near)
    return LookupError(f" ({typed})" if typed else "", f"one of: {write}")
