"""Bores in words: read back they are the same bore, and nothing is made a fraction that is none."""

import pytest

from jetlib.rig.bore_words import bore_words
from jetlib.units import si


@pytest.mark.parametrize(
    ("bore", "words"),
    [
        # 25.4 mm to the inch, by definition
        (9.525e-3, "3/8 in"), (12.7e-3, "1/2 in"), (25.4e-3, "1 in"), (31.75e-3, "1 1/4 in"), (7.9375e-3, "5/16 in"),
        (10e-3, "0.394 in"), (12.66e-3, "0.498 in"), (1e-9, "3.94e-08 in"),
    ],
)  # fmt: skip
def test_inches_are_fractions_where_they_are(bore, words):
    assert bore_words(bore, "US") == words
    if "/" in words:
        assert si(words, "bore") == pytest.approx(bore, rel=1e-4)


def test_millimetres_are_none():
    assert bore_words(9.525e-3, "metric") == "9.53 mm"
