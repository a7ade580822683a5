"""How far a jet has to go from its hole to the wall of the pipe."""

import numpy as np

from jetlib.physics.values import not_negative, plain, require


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
