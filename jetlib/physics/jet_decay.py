"""How a jet slows under water: why a jet that cuts at a hand's breadth does little at arm's length."""

import numpy as np

from jetlib.physics.values import plain, positive

#: Bores from the hole at which the middle of a jet under water begins to slow, and its decay constant.
CORE_LENGTH = 6.2


def submerged_velocity_ratio(distance, bore):
    """Speed in the middle of a jet under water, `distance` (m) from its hole, over its speed at the hole; broadcasts.

    `bore` m of the hole. 1 up to 6.2 bores, then 6.2 bores/distance: Albertson, Dai, Jensen and Rouse, *Diffusion of
    submerged jets*, Trans. ASCE 115, 1950, 639 (6.2 from memory; later measurements lie from 5.8 to 6.1: Pope,
    *Turbulent Flows*, 2000, chapter 5, from memory). For turbulent jets of water into still water, far from walls. The
    pressure it can exert goes as the square. In air a jet holds together far longer and then breaks into drops.
    """
    distance, bore = positive(distance, "distance", "m"), positive(bore, "bore", "m")
    return plain(np.minimum(CORE_LENGTH * bore / distance, 1.0))
