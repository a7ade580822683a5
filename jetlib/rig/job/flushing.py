"""What the jets' water does on its way back down the drain: how deep, how fast, and what grit it takes along."""

from dataclasses import dataclass

import numpy as np

from jetlib.physics import channel
from jetlib.physics.values import plain
from jetlib.rig.parts.part import require_kind
from jetlib.rig.parts.site import Drain
from jetlib.units import both, si
from jetlib.units.given import Flow, Length, Values

WATER_DENSITY = 1000.0
#: Kinds of debris: size of a grain (m) where grains are what must move, else None. Sizes: Wentworth's scale (J. Geology
#: 30, 1922, 377), the coarse end of each class.
DEBRIS = {
    "fine sand": 0.00025,
    "coarse sand": 0.001,
    "grit": 0.002,
    "fine gravel": 0.008,
    "gravel": 0.016,
    "paper and sludge": None,
    "grease": None,
    "scale": None,
    "roots": None,
}
FOR_CUTTING = {
    "grease": "Grease must be cut off the wall and kept moving: pull back slowly, in short stages, with water running.",
    "scale": "Scale must be broken by the jets or by a tool. What comes off is grit, and needs flow to carry it away.",
    "roots": "Roots need a cutting tool made for the machine; jets alone seldom cut them. Look at the pipe first.",
    "paper and sludge": "Any steady flow carries soft debris away. The stoppage lets go all at once, so stand clear.",
}


@dataclass(frozen=True, eq=False)
class Flushing:
    """Water running off down a Drain in steady uniform flow; SI, floats or arrays of the broadcast shape.

    flow m3/s. full: it fills the pipe. depth_ratio: depth over bore, 1 when full. velocity m/s. shear: mean drag on the
    wall, Pa. grain: what is to be moved (m), or None. largest_grain: the largest the flow takes along, m.
    """

    drain: Drain
    flow: float
    grain: float
    full: bool
    depth_ratio: float
    velocity: float
    shear: float

    @property
    def largest_grain(self):
        """Largest quartz grain (m) that the flow keeps moving: see `channel.critical_shear`."""
        return channel.moved_particle(self.shear)

    @property
    def needed_shear(self):
        """Shear (Pa) that moves `grain`; None without one."""
        return None if self.grain is None else shear_that_moves(self.grain)

    @property
    def moves_debris(self):
        """Whether the flow alone takes `grain` along; None where it is not a matter of grains."""
        if self.grain is None:
            return None
        found = np.asarray(self.shear) >= self.needed_shear
        return found if found.ndim else bool(found)

    @property
    def cautions(self):
        """Sentences the reader should see, a tuple."""
        told = []
        if np.any(np.asarray(self.drain.fall) == 0.0):
            told.append("A pipe without fall does not drain by itself: water and debris stay, or run the wrong way.")
        if np.any(self.full & (np.asarray(self.drain.fall) > 0.0)):
            told.append(
                "The jets deliver more water than the pipe carries away: it fills, and can back up in the building."
            )
        if self.moves_debris is not None and not np.all(self.moves_debris):
            told.append(
                f"The flow alone carries grains up to {both(np.min(self.largest_grain), 'pipe_bore')}. Coarser ones "
                "stay in the pipe unless the jets drag them back in short stages, or more water runs with them."
            )
        return tuple(told)


def flushing(flow: Flow, drain: Drain, *, grain: Length | None = None) -> Flushing:
    """The Flushing of `flow` (m3/s, or text such as "8 gpm"; an OperatingPoint's nozzle_flow) down a Drain; broadcasts.

    grain: size to be moved (m, or text such as "2 mm"), or None. Part full: Manning and the geometry of the circle.
    More than the pipe carries: full, with the slope the flow needs in place of the fall. Near the nozzle the jets stir
    far harder than this; some metres on, this is what is left.

    >>> both(flushing("8 gpm", Drain("4 in", "150 ft", fall="2 %")).velocity, "velocity")
    '1.75 ft/s (0.532 m/s)'
    """
    require_kind(drain, Drain, "drain", 'flushing("8 gpm", Drain(bore="4 in", length="150 ft"))')
    flow = si(flow, "flow", field="flow", owner="flushing")
    grain = None if grain is None else si(grain, "leak_bore", field="grain", owner="flushing")
    bore, n = np.asarray(drain.bore), np.asarray(drain.manning_n)
    fall = np.asarray(drain.fall)
    level = fall <= 0.0
    fall = np.where(level, 1.0, fall)
    full = level | (flow > np.asarray(channel.greatest_flow(bore, fall, n)))
    depth = np.where(full, 1.0, channel.depth_ratio(np.where(full, 0.0, flow), bore, fall, n))
    conveyance = channel.full_pipe_flow(bore, 1.0, n)
    slope = np.where(full, np.square(flow / conveyance), fall)
    radius = channel.hydraulic_radius(depth, bore)
    area = np.asarray(channel.area(depth, bore))
    wet = area > 0.0
    return Flushing(
        drain=drain,
        flow=flow,
        grain=grain,
        full=full if full.ndim else bool(full),
        depth_ratio=plain(depth),
        velocity=plain(np.where(wet, flow / np.where(wet, area, 1.0), 0.0)),
        shear=plain(channel.boundary_shear(radius, slope, density=WATER_DENSITY)),
    )


def shear_that_moves(grain: Length) -> Values:
    """Mean wall shear (Pa) that keeps loose quartz grains of size `grain` (m) moving: `channel.critical_shear`.

    >>> round(shear_that_moves(0.002), 2)
    1.52
    """
    return channel.critical_shear(grain)
