"""The pipe that the hose has to go down, and the highest pressure that the line can come to."""

from dataclasses import dataclass

import numpy as np

from jetlib.errors import JetlibError
from jetlib.physics import water
from jetlib.physics.constants import GRAVITY
from jetlib.physics.values import plain
from jetlib.rig.hoses import weight as hose_weight
from jetlib.rig.parts.machine import Rig
from jetlib.rig.parts.part import Part, quantity
from jetlib.rig.point.circuit import require_rig
from jetlib.rig.point.operating_point import operating_point
from jetlib.tables import HoseSize
from jetlib.units import both
from jetlib.units.given import Angle, Length, Share, Values
from jetlib.units.refusal import cut


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
    bend: Angle = quantity("angle", np.pi / 2.0)
    bend_radius: Length | None = quantity("coil_diameter", None, optional=True)
    run: Length | None = quantity("length", None, optional=True)
    friction: Share = quantity("fraction", hose_weight.USUAL_FRICTION)
    flooded: bool = False

    def _check(self):
        if isinstance(self.bends, bool) or not isinstance(self.bends, int) or not 0 <= self.bends <= 20:
            raise JetlibError(f"bends is {cut(self.bends)}; allowed: a whole number 0 to 20; write PipeRun(bends=2, …)")
        if any(isinstance(value, list | np.ndarray) for value in vars(self).values()):
            raise JetlibError('a field of PipeRun is an array; it takes one pipe; write PipeRun(bore="4 in", bends=2)')
        self._check_flag("flooded", "PipeRun(flooded=True, …)")
        self._require("bend", self.bend > 0, "above 0", '"90 deg"')
        if self.bore is not None and self.bend_radius is not None:
            self._require("bend_radius", self.bend_radius >= self.bore / 2.0, "half the bore or more", '"6 in"')

    def room_for(self, outside_diameter: Values) -> Values | None:
        """The largest radius (m) that a hose can keep in the bends, or None where nothing is asked; broadcasts."""
        if self.bore is None or not self.bends:
            return None
        return hose_weight.bend_room(self.bore, outside_diameter, bend=self.bend, bend_radius=self.bend_radius)

    def reasons_against(self, size: HoseSize) -> list:
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

    def drag(self, weights: list | tuple, lengths: list | tuple, off_reel: Values) -> Values:
        """Pull (N) that the line takes: weights N/m and lengths m from the pump on; off_reel m if no run was given."""
        run = off_reel if self.run is None else self.run
        turned = self.bends * self.bend
        return hose_weight.drag(weights, lengths, run=run, friction=self.friction, turned=turned)

    def reach(self, pull: Values, weights: list | tuple, lengths: list | tuple) -> Values:
        """How much of the line (m, from the nozzle back) the pull (N) can drag; as `drag`."""
        return hose_weight.reach(pull, weights, lengths, friction=self.friction, turned=self.bends * self.bend)


def highest_pressure(rig: Rig) -> Values:
    """The most that the line of `rig` can come to, Pa: full throttle with the jets plugged; broadcasts.

    What the unloader lets it rise to with all flow going back, or the disc's rating if that is less; infinite without
    either. A nozzle below the pump has the weight of the water on top.

    >>> both(highest_pressure(demo_rig("yard_trailer")), "pressure")
    '3020 psi (208 bar)'
    """
    limit = np.inf
    if require_rig(rig).unloader is not None:
        limit = operating_point(rig.replace(valve=rig.unloader, outlet_shut=True)).line_pressure
    if rig.burst_disc is not None:
        limit = np.minimum(limit, rig.burst_disc.rating)
    return plain(limit + water.density(rig.water_temperature) * GRAVITY * np.maximum(-rig.lift, 0.0))
