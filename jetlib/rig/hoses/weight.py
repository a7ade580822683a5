"""What a hose weighs, what it takes to drag it along a pipe, and whether it goes round a bend there.

Simple on purpose: a level pipe, one friction coefficient, no stiffness. It ranks hoses against each other; it does not
promise how far a nozzle goes.
"""

from functools import lru_cache

import numpy as np

from jetlib import tables
from jetlib.errors import JetlibError
from jetlib.physics import orifice
from jetlib.physics.constants import GRAVITY
from jetlib.physics.hose_drag import capstan_ratio
from jetlib.physics.values import not_negative, positive
from jetlib.rig.parts.machine import Hose
from jetlib.units.given import Values
from jetlib.units.refusal import cut

#: Friction of a wet hose on the wall of a pipe. Common practice, no source: 0.15 to 0.6, more over joints and roots.
USUAL_FRICTION = 0.4
#: What hose may weigh: words, and the share of two-wire steel braid of its bore. Estimates from the table of hoses.
BRAIDS = {"two-wire steel braid": 1.0, "one-wire, or steel and fiber": 0.66, "fiber braid": 0.4}


@lru_cache(256)
def nearest_size(bore):
    """The HoseSize of the usual standard, newest edition, whose bore is nearest to `bore` (m)."""
    usual = [row for row in tables.hoses() if row.standard == tables.USUAL_HOSE]
    newest = max(row.edition for row in usual)
    return min((row for row in usual if row.edition == newest), key=lambda row: abs(row.bore - bore))


def hose_mass(hose: Hose) -> Values:
    """Mass of a Hose for each metre of it, empty, kg/m: its own, else that of the usual hose of the nearest bore.

    >>> round(hose_mass(Hose("3/8 in", "150 ft", mass_per_metre="0.3 lb/ft")), 3)
    0.446
    """
    if not isinstance(hose, Hose):
        raise JetlibError(f'hose is {cut(hose)}; write hose_mass(Hose("1/2 in", "200 ft"))')
    if hose.mass_per_metre is not None:
        return hose.mass_per_metre
    if np.ndim(hose.bore):
        raise JetlibError('a hose with an array of bores has no one mass; write Hose(mass_per_metre="0.4 lb/ft", …)')
    return nearest_size(float(hose.bore)).mass_per_metre


def weighed_as(hose, share):
    """The Hose with the weight of such hose of its bore; share: of two-wire steel braid, a value of BRAIDS."""
    return hose.replace(mass_per_metre=share * hose_mass(hose.replace(mass_per_metre=None)))


def water_mass(bore: Values, *, density: Values) -> Values:
    """Mass of the water that fills `bore` (m), for each metre, kg/m; `density` kg/m3; broadcasts.

    >>> round(float(water_mass(0.0097, density=1000.0)), 4)
    0.0739
    """
    return orifice.circle_area(not_negative(bore, "bore", "m")) * positive(density, "density", "kg/m3")


def weight_per_metre(mass, bore, *, density, outside_diameter=None):
    """Weight of a hose full of water for each metre of it, N/m; broadcasts.

    mass kg/m empty; bore m; density of water kg/m3. outside_diameter m: the hose lies in a flooded pipe and is lighter
    by the water it pushes aside (Archimedes), never below nothing; None: it lies in a pipe that has running empty.
    """
    full = mass + water_mass(bore, density=density)
    if outside_diameter is not None:
        full = np.maximum(full - water_mass(outside_diameter, density=density), 0.0)
    return GRAVITY * full


def drag(weights, lengths, *, run, friction=USUAL_FRICTION, turned=0.0):
    """Pull that it takes to drag a hose along a level pipe, N.

    weights (N/m) and lengths (m) of the hoses from the pump to the nozzle, sequences whose entries broadcast; `run` m:
    how much of the line, from the nozzle back, lies in the pipe; friction dimensionless; turned rad: angle of all bends
    together. Friction x weight, times exp(friction x turned) (Euler and Eytelwein's rope round a post) as if every
    bend were next to the nozzle, which is the worst place.
    """
    left, total = run, 0.0
    for weight, length in zip(reversed(weights), reversed(lengths), strict=True):
        inside = np.minimum(length, left)
        left = left - inside
        total = total + friction * weight * inside
    return total * capstan_ratio(friction, turned)


def reach(pull, weights, lengths, *, friction=USUAL_FRICTION, turned=0.0):
    """How much of the line, from the nozzle back, `pull` (N) can drag, m: at most all of it; 0 if the jets push back.

    Other arguments as in `drag`, of which this is the inverse in `run`.
    """
    left, total = np.maximum(pull, 0.0) / capstan_ratio(friction, turned), 0.0
    for weight, length in zip(reversed(weights), reversed(lengths), strict=True):
        each = friction * np.asarray(weight)
        moved = np.where(each > 0.0, np.minimum(length, left / np.where(each > 0.0, each, 1.0)), length)
        left = left - each * moved
        total = total + moved
    return total


def bend_room(pipe_bore, outside_diameter, *, bend, bend_radius=None):
    """The largest radius (m, to its middle line) that a hose can keep in going round a bend of a pipe; broadcasts.

    pipe_bore, outside_diameter m; bend rad, above 0 up to pi; bend_radius m to the middle line of the pipe, None for
    the tightest: half the bore, where the inside of the bend is a sharp corner. 0 where the hose is thicker than the
    bore.

    The hose swings wide before and after the bend and cuts the corner inside it. Its middle line keeps within r_i and
    r_o, the bend's inner and outer wall less half the hose; the arc that touches the outer wall on both legs and the
    inner wall between them has R = (r_o - r_i cos(bend/2)) / (1 - cos(bend/2)): plane geometry, for straight legs long
    enough. A hose that must lie tighter than its bend radius will not go, or is harmed.
    """
    bend_radius = pipe_bore / 2.0 if bend_radius is None else bend_radius
    play = (np.asarray(pipe_bore) - outside_diameter) / 2.0
    inner, outer = bend_radius - play, bend_radius + play
    cosine = np.cos(np.asarray(bend) / 2.0)
    return np.where(play >= 0.0, (outer - inner * cosine) / (1.0 - cosine), 0.0)
