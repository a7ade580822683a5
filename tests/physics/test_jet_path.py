"""The way of a jet to the wall: the sides of right-angled triangles."""

import numpy as np
import pytest

from jetlib.errors import JetlibError
from jetlib.physics.reaction import distance_to_wall


def test_straight_at_the_wall_it_is_the_gap():
    assert distance_to_wall(0.04, np.pi / 2.0) == pytest.approx(0.04)


def test_sides_of_known_triangles():
    """Half of an equilateral triangle has 30 degrees and a long side of 2; the triangle of 3, 4 and 5 (Euclid)."""
    assert distance_to_wall(1.0, np.radians(30.0)) == pytest.approx(2.0)
    assert distance_to_wall(1.0, np.radians(45.0)) == pytest.approx(np.sqrt(2.0))
    assert distance_to_wall(3.0, np.arctan2(3.0, 4.0)) == pytest.approx(5.0)


def test_forward_and_backward_are_alike_and_arrays_broadcast():
    angles = np.radians([20.0, 60.0])
    found = distance_to_wall(np.array([[0.02], [0.05]]), angles)
    assert found.shape == (2, 2)
    np.testing.assert_allclose(found, distance_to_wall(np.array([[0.02], [0.05]]), np.pi - angles))


@pytest.mark.parametrize("angle", [0.0, np.pi, -0.1])
def test_a_jet_along_the_hose_meets_no_wall(angle):
    with pytest.raises(JetlibError, match="meets no wall"):
        distance_to_wall(0.04, angle)


def test_a_gap_below_nothing_is_refused():
    with pytest.raises(JetlibError, match="gap"):
        distance_to_wall(-0.01, 1.0)
