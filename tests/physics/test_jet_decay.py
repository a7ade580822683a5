"""A jet under water against published measurements of round turbulent jets."""

import numpy as np
import pytest

from jetlib import JetlibError
from jetlib.physics.reaction import submerged_velocity_ratio


@pytest.mark.parametrize(
    ("constant", "tolerance"),
    [
        (6.11, 0.02),  # Abdel-Rahman and others, Mech. Res. Comm. 23, 1996: decay constant at Re 19,400 (abstract read)
        (5.8, 0.08),  # Hussein, Capp and George, J. Fluid Mech. 258, 1994, laser (from memory)
        (6.06, 0.03),  # Panchapakesan and Lumley, J. Fluid Mech. 246, 1993 (from memory)
    ],
)
def test_decay_constant(constant, tolerance):
    assert submerged_velocity_ratio(0.050, 0.001) * 50 == pytest.approx(constant, rel=tolerance)


def test_core_then_inverse_distance():
    ratio = submerged_velocity_ratio(np.array([1.0, 6.0, 6.2, 12.4, 62.0]) * 1e-3, 1e-3)
    assert ratio == pytest.approx([1.0, 1.0, 1.0, 0.5, 0.1])


def test_momentum_does_not_grow():
    # The profile is bell-shaped with half its speed at 0.09 to 0.1 of the distance (textbooks, from memory): momentum
    # pi/(2 ln 2) u^2 r^2 must come to that of the jet, pi/4 d^2, within the scatter of those 10 %.
    distance, bore = 0.1, 0.001
    half = 0.095 * distance
    there = np.pi / (2 * np.log(2)) * submerged_velocity_ratio(distance, bore) ** 2 * half**2
    assert there == pytest.approx(np.pi / 4 * bore**2, rel=0.25)


def test_refusal():
    with pytest.raises(JetlibError, match="distance is 0"):
        submerged_velocity_ratio(0.0, 0.001)
