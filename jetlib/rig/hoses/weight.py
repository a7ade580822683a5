"""What a hose weighs, what it takes to drag it along a pipe, and whether it goes round a bend there.

Simple on purpose: a level pipe, one friction coefficient, no stiffness. It ranks hoses against each other; it does not
promise how far a nozzle goes.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from jetlib import tables
from jetlib.errors import JetlibError
from jetlib.physics import orifice
from jetlib.physics.constants import GRAVITY
from jetlib.physics.hose_drag import capstan_ratio, hose_tension, reach_distance
from jetlib.physics.values import not_negative, positive
from jetlib.rig.parts.machine import Hose
from jetlib.rig.parts.part import ABOVE_ZERO, Part, quantity, require_kind
from jetlib.units import both
from jetlib.units.given import Angle, Length, Share, Values
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
    if require_kind(hose, Hose, "hose", 'hose_mass(Hose("1/2 in", "200 ft"))').mass_per_metre is not None:
        return hose.mass_per_metre
    if np.ndim(hose.bore):
        raise JetlibError('a hose with an array of bores has no one mass; write Hose(mass_per_metre="0.4 lb/ft", …)')
    return nearest_size(float(hose.bore)).mass_per_metre


def usual_outside(hose):
    """Outside diameter (m) of a Hose of unknown make: the usual one of the nearest bore, at least its own bore."""
    return max(nearest_size(float(hose.bore)).outside_diameter_max, float(hose.bore))


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
    together, as if every bend were next to the nozzle, which is the worst place.
    """
    inside = np.minimum(run, sum(lengths))
    straight = hose_tension(inside, weights=weights, lengths=lengths, friction=friction)
    return straight * capstan_ratio(friction, turned)


def reach(pull, weights, lengths, *, friction=USUAL_FRICTION, turned=0.0):
    """How much of the line, from the nozzle back, `pull` (N) can drag, m: at most all of it; 0 if the jets push back.

    Other arguments as in `drag`, of which this is the inverse in `run`.
    """
    if not len(lengths):
        return 0.0
    pull = np.maximum(pull, 0.0) / capstan_ratio(friction, turned)
    return np.minimum(reach_distance(pull, weights=weights, lengths=lengths, friction=friction), sum(lengths))


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


@dataclass(frozen=True, eq=False)
class PipeRun(Part):
    """The pipe that the hose has to go down.

    bore (m): None where nothing is asked about bends. bends: how many bends of the angle `bend` (rad) the hose goes
    round; bend_radius (m) to the middle line of the pipe, None for the tightest. run (m): how much of the line lies in
    the pipe; None for all that is off the reel. friction of hose on wall. flooded: the pipe stands full, and the hose
    is lighter by the water it pushes aside.

    >>> round(float(PipeRun("4 in", bends=2).room_for(0.02)), 3)
    0.289
    """

    bore: Length | None = quantity("pipe_bore", None, optional=True)
    bends: int = 0
    bend: Angle = quantity("angle", np.pi / 2.0, span=ABOVE_ZERO, fix='"90 deg"')
    bend_radius: Length | None = quantity("coil_diameter", None, optional=True)
    run: Length | None = quantity("length", None, optional=True)
    friction: Share = quantity("fraction", USUAL_FRICTION)
    flooded: bool = False

    def _check(self):
        if isinstance(self.bends, bool) or not isinstance(self.bends, int) or not 0 <= self.bends <= 20:
            raise JetlibError(f"bends is {cut(self.bends)}; allowed: a whole number 0 to 20; write PipeRun(bends=2, …)")
        if any(isinstance(value, list | np.ndarray) for value in vars(self).values()):
            raise JetlibError('a field of PipeRun is an array; it takes one pipe; write PipeRun(bore="4 in", bends=2)')
        if self.bore is not None and self.bend_radius is not None:
            self._require("bend_radius", self.bend_radius >= self.bore / 2.0, "half the bore or more", '"6 in"')

    def room_for(self, outside_diameter: Values) -> Values | None:
        """The largest radius (m) that a hose can keep in the bends, or None where nothing is asked; broadcasts."""
        if self.bore is None or not self.bends:
            return None
        return bend_room(self.bore, outside_diameter, bend=self.bend, bend_radius=self.bend_radius)

    def reasons_against(self, size: tables.HoseSize) -> list:
        """Why a HoseSize does not go down this pipe: sentences in a list."""
        if self.bore is not None and size.outside_diameter_max >= self.bore:
            return [f"The hose is too thick for a pipe of {both(self.bore, 'pipe_bore')}."]
        room = self.room_for(size.outside_diameter_max)
        if room is None or room >= size.bend_radius:
            return []
        return [
            f"The bends are too tight: they leave the hose a radius of {both(float(room), 'coil_diameter')}, its "
            f"bend radius is {both(size.bend_radius, 'coil_diameter')}."
        ]
