import numpy as np
import pytest

from jetlib import JetlibError
from jetlib.physics.values import not_negative, plain, positive


def test_one_number_becomes_a_python_float():
    for value in (2, 2.0, np.float64(2.0), np.int64(2), np.array(2.0)):
        assert type(plain(value)) is float


def test_many_numbers_become_an_array_of_floats():
    assert plain([1, 2]).dtype == float
    assert plain(np.ones((2, 3))).shape == (2, 3)


@pytest.mark.parametrize("bad", [0.0, -1.0, np.nan, np.inf, [1.0, -3.0]])
def test_positive_refuses_what_is_not_and_names_it(bad):
    with pytest.raises(JetlibError, match=r"bore is (0|-1|nan|inf|-3) m; give a bore above zero"):
        positive(bad, "bore", "m")


def test_not_negative_lets_zero_pass():
    assert not_negative(0, "flow", "m3/s") == 0.0
    with pytest.raises(JetlibError, match="flow is -2"):
        not_negative(np.array([0.0, -2.0]), "flow", "m3/s")
