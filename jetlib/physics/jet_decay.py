"""How far a jet has to go to the wall, and how it slows under water on the way."""

import numpy as np

from jetlib.physics.values import finite, not_negative, plain, positive, require

#: Bores from the hole at which the middle of a jet under water begins to slow, and its decay constant.
CORE_LENGTH = 6.2


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
