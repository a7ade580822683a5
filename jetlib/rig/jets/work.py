"""What each group of jets does: its share of flow and pull, the power it carries, how hard it hits."""

from dataclasses import dataclass

import numpy as np

from jetlib.physics import reaction, water
from jetlib.physics.reaction import distance_to_wall
from jetlib.physics.values import plain
from jetlib.rig.parts.machine import Jet
from jetlib.rig.point.operating_point import OperatingPoint, require_point
from jetlib.units import si

__all__ = ["JetWork", "ThrustSplit", "distance_to_wall", "jet_work", "thrust_split"]


@dataclass(frozen=True, eq=False)
class JetWork:
    """One group of jets at an OperatingPoint; SI, floats or arrays of its shape.

    flow: of the group, m3/s. velocity: at the hole, m/s. pull: along the hose, N; below 0 it pushes back. sideways: of
    one hole at right angles to the hose, N; holes all round cancel it, until one plugs. power: of the group as it
    leaves, W. impact_force: of one hole on a wall it hits straight, N. impact_pressure: in the middle of that spot, Pa.
    """

    jet: Jet
    flow: float
    velocity: float
    pull: float
    sideways: float
    power: float
    impact_force: float
    impact_pressure: float
    _density: float

    @property
    def power_of_one(self):
        """Power of one hole, W; 0 where the group has none."""
        count = np.asarray(self.jet.count)
        return plain(np.where(count > 0, self.power / np.maximum(count, 1), 0.0))

    def pressure_under_water(self, distance):
        """What one hole can still exert (Pa) under water, `distance` from it (m, or text such as "50 mm")."""
        distance = si(distance, "length", field="distance", owner="JetWork")
        ratio = reaction.submerged_velocity_ratio(distance, self.jet.bore)
        return plain(self.impact_pressure * np.square(ratio))


@dataclass(frozen=True)
class ThrustSplit:
    """Pull of the jets that point back (`rear`, N) and push of those that point ahead (`front`, N, not below 0);
    rear_flow and front_flow m3/s. straight_back: what the rear flow would pull at angle 0, N."""

    rear: float
    front: float
    rear_flow: float
    front_flow: float
    straight_back: float

    @property
    def net(self):
        """Pull along the hose, N."""
        return self.rear - self.front

    @property
    def kept_by_angle(self):
        """Share of the straight pull that the angle of the rear jets leaves, 0 to 1; 1 without rear jets."""
        straight = np.asarray(self.straight_back)
        return plain(np.where(straight > 0.0, self.rear / np.where(straight > 0.0, straight, 1.0), 1.0))


def jet_work(point: OperatingPoint) -> tuple:
    """A tuple of JetWork, one for each jet group of the OperatingPoint's nozzle, in its order.

    >>> [both(each.pull, "force") for each in jet_work(operating_point(demo_rig("yard_trailer")))]
    ['16 lbf (72 N)', '-4.5 lbf (-20 N)']
    """
    rig = require_point(point, "jet_work(operating_point(rig))").rig
    density = water.density(rig.water_temperature)
    pressure = np.maximum(point.nozzle_pressure, 0.0)
    found = []
    for jet, flow in zip(rig.nozzle.jets, point.jet_flows, strict=True):
        shared = {"density": density, "velocity_coefficient": jet.velocity_coefficient}
        velocity = reaction.jet_velocity(pressure, **shared)
        one = flow / np.maximum(jet.count, 1)
        found.append(
            JetWork(
                jet=jet,
                flow=plain(flow),
                velocity=velocity,
                pull=reaction.jet_reaction(flow, pressure, angle=jet.angle, **shared),
                sideways=plain(reaction.jet_reaction(one, pressure, **shared) * np.sin(jet.angle)),
                power=reaction.jet_power(flow, pressure, velocity_coefficient=jet.velocity_coefficient),
                impact_force=reaction.impact_force(one, velocity, density=density),
                impact_pressure=plain(0.5 * density * np.square(velocity)),
                _density=density,
            )
        )
    return tuple(found)


def thrust_split(point: OperatingPoint) -> ThrustSplit:
    """The ThrustSplit of an OperatingPoint: front against rear; floats or arrays of its shape.

    >>> both(thrust_split(operating_point(demo_rig("yard_trailer"))).net, "force")
    '12 lbf (53 N)'
    """
    rear = front = rear_flow = front_flow = straight_back = 0.0
    for work in jet_work(point):
        ahead = np.asarray(work.jet.angle) > np.pi / 2.0
        rear = rear + np.where(ahead, 0.0, work.pull)
        front = front + np.where(ahead, -np.asarray(work.pull), 0.0)
        rear_flow = rear_flow + np.where(ahead, 0.0, work.flow)
        front_flow = front_flow + np.where(ahead, work.flow, 0.0)
        straight_back = straight_back + np.where(ahead, 0.0, np.asarray(work.flow) * work.velocity * work._density)
    return ThrustSplit(*map(plain, (rear, front, rear_flow, front_flow, straight_back)))
