"""What a jet does by leaving: the pull on the hose behind it, the push on what it hits, the power it carries;
and how it slows on its way to the wall.

High-pressure water cuts flesh and injects under the skin. A force worked out here is for planning; it is
not a licence to hold a hose or a nozzle by hand. Keep to the machine's manual, local codes and licensed
practice.
"""

import numpy as np

from jetlib.physics.values import finite, not_negative, plain, positive, require

#: Bores from the hole at which the middle of a jet under water begins to slow, and its decay constant.
CORE_LENGTH = 6.2


@finite
def jet_velocity(pressure, *, density, velocity_coefficient=1.0):
    """Speed of the water as it leaves the jet, m/s.

    `pressure` at the nozzle above that outside, Pa; `density` kg/m3; all broadcast. JetlibError if
    pressure is below 0.

    V = Cv sqrt(2 p/rho), Torricelli with a velocity coefficient (0.97 for a well-formed rounded mouth: Unwin,
    Encyclopaedia Britannica 11th ed., *Hydraulics*). The speed of approach in the nozzle body is left out: for a jet a
    quarter of the body's bore that counts V 0.2 % too low.
    """
    pressure = not_negative(pressure, "pressure", "Pa")
    density = positive(density, "density", "kg/m3")
    return plain(plain(velocity_coefficient) * np.sqrt(2.0 * pressure / density))


@finite
def jet_reaction(flow, pressure, *, density, velocity_coefficient=1.0, angle=0.0):
    """Pull of a jet along the hose, N: positive draws the hose on into the pipe, negative pushes it back.

    `flow` of this jet m3/s, `pressure` at the nozzle above that outside Pa, `density` kg/m3, `angle` in
    radians between the jet and the hose behind the nozzle: 0 blows straight back along the hose (full
    pull), pi/2 straight at the wall (no pull), pi straight ahead (full push back). All broadcast.
    JetlibError if flow or pressure is below 0.

    F = rho Q V cos(angle), V as `jet_velocity`: the momentum theorem on the nozzle. For a whole nozzle
    add up the jets. A ring of jets all round pulls along the axis only: the sideways parts cancel while
    none is plugged.
    """
    flow = not_negative(flow, "flow", "m3/s")
    velocity = jet_velocity(pressure, density=density, velocity_coefficient=velocity_coefficient)
    return plain(plain(density) * flow * velocity * np.cos(angle))


@finite
def jet_power(flow, pressure, *, velocity_coefficient=1.0):
    """Power the water carries as it leaves the jet, W: half the mass flow times the square of the speed.

    `flow` m3/s, `pressure` at the nozzle Pa; broadcasts. P = Cv^2 Q p; what Cv lacks of 1 is lost in the
    hole.
    """
    return plain(plain(velocity_coefficient) ** 2 * (plain(flow) * plain(pressure)))


@finite
def impact_force(flow, velocity, *, density, velocity_after=0.0):
    """Force of a jet on what it hits, along the jet, N.

    `flow` m3/s, `velocity` m/s on the way in, `velocity_after` m/s of the same water along the same line
    when it leaves: 0 when a flat wall turns it sideways, negative when it is thrown back. All broadcast.

    F = rho Q (V - V_after), the momentum theorem. A jet that has broken into drops in air has lost speed
    already.
    """
    return plain(plain(density) * plain(flow) * (plain(velocity) - plain(velocity_after)))


@finite
def submerged_velocity_ratio(distance, bore):
    """Speed in the middle of a jet under water, `distance` (m) from its hole, over its speed at the hole; broadcasts.

    `bore` m of the hole. 1 up to 6.2 bores, then 6.2 bores/distance: Albertson, Dai, Jensen and Rouse, *Diffusion of
    submerged jets*, Trans. ASCE 115, 1950, 639 (6.2 from memory; later measurements lie from 5.8 to 6.1: Pope,
    *Turbulent Flows*, 2000, chapter 5, from memory). For turbulent jets of water into still water, far from walls. The
    pressure it can exert goes as the square. In air a jet holds together far longer and then breaks into drops.
    """
    distance, bore = positive(distance, "distance", "m"), positive(bore, "bore", "m")
    return plain(np.minimum(CORE_LENGTH * bore / distance, 1.0))


@finite
def distance_to_wall(gap, angle):
    """Length (m) of a jet's way from its hole to the wall; broadcasts.

    `gap` m: from the hole to the wall, straight across. `angle` rad between the jet and the hose behind it, above 0 and
    below pi: at pi/2 the way is the gap, at 30 degrees twice as much. gap/sin(angle): plane trigonometry, for a wall
    that runs along the hose. JetlibError for a jet along the hose, which meets no wall.
    """
    gap, angle = not_negative(gap, "gap", "m"), plain(angle)
    require(
        (angle > 0.0) & (angle < np.pi),
        angle,
        "angle is {value} rad; a jet along the hose meets no wall: give an angle above 0 and below pi",
    )
    return plain(gap / np.sin(angle))
