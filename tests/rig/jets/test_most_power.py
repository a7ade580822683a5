"""How much of the pressure the line should take for most power, and most push, at the jets.

Kendall and Goins, Trans. AIME 219 (1960), as given by Guo and Liu, Applied Drilling Circulation Systems (2011), ch. 4:
at a fixed pressure at the pump, with a line loss that goes as flow^m, the jets get most power when the line takes
1/(m + 1) of that pressure, and push hardest when it takes 2/(m + 2).
"""

import numpy as np
import pytest

from jetlib import Engine, Hose, Jet, Nozzle, Pump, Rig, Unloader, matched_jets, operating_point


def rig_with(bores, bore="3/8 in", length="300 ft"):
    """A pump far too large for its hose, so that the valve holds the pressure whatever the jets (no rise)."""
    return Rig(
        pump=Pump("30 gpm", rated_speed="1450 rpm"),
        engine=Engine("100 hp"),
        valve=Unloader("3000 psi", rise=0.0),
        hoses=[Hose(bore, length)],
        nozzle=Nozzle([Jet(bores, count=4, angle="0 deg")]),
    )


@pytest.mark.parametrize(("bore", "length"), [("1/4 in", "100 ft"), ("3/8 in", "300 ft"), ("1/2 in", "400 ft")])
def test_shares_of_most_power_and_most_push(bore, length):
    bores = np.linspace(0.6e-3, 2.6e-3, 4001)
    point = operating_point(rig_with(bores, bore, length))
    line = np.asarray(point.hose_loss)
    assert np.ptp(point.gauge) < 1e-4 * np.max(point.gauge)  # the valve holds it
    exponent = np.gradient(np.log(line), np.log(point.nozzle_flow))
    for wanted, reading in (
        (1.0 / (exponent + 1.0), point.power_shares["jets"]),
        (2.0 / (exponent + 2.0), point.reaction),
    ):
        best = int(np.argmax(reading))
        assert 0 < best < len(bores) - 1
        # The exponent falls slowly along the curve; what that shifts the peak by is well under one part in a hundred.
        assert line[best] / point.gauge[best] == pytest.approx(wanted[best], rel=0.01)


@pytest.mark.parametrize(("length", "gains"), [("60 ft", True), ("400 ft", False)])
def test_matching_brings_power_only_while_the_line_takes_less_than_a_third(length, gains):
    rig = rig_with("1.2 mm", length=length).replace(pump=Pump("9 gpm", rated_speed="1450 rpm"))
    match = matched_jets(rig)
    share = match.line_loss / rig.unloader.setting
    power = [
        operating_point(
            rig.replace(nozzle=Nozzle([Jet(match.bore * np.sqrt(part), count=4, angle="0 deg")]))
        ).power_shares["jets"]
        for part in (0.9, 1.0)
    ]
    assert (share < 1.0 / 3.0) is gains
    assert (power[1] > power[0]) is gains
