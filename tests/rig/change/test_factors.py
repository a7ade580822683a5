"""A known part in the place of the rig's own takes its fault away from the reading, and no other."""

import pytest

from jetlib import Hose, Jet, JetlibError, Nozzle, Pump, Rig, Unloader
from jetlib.rig.change.factors import (
    OVER_SETTING,
    SWAPS,
    RigFactors,
    can_open_the_valve,
    opening_set_share,
    state,
    swapped_in,
)
from jetlib.rig.diagnosis.diagnosis import diagnose
from jetlib.rig.diagnosis.faults import FAULTS
from jetlib.rig.diagnosis.looks import SuctionSeen
from jetlib.rig.diagnosis.readings import GaugeReading, ReturnSeen, predictions
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs


def gauge_at_full(rig, fault, severity, swapped=""):
    changes = FAULTS[fault].factors(severity)
    return float(predictions([GaugeReading(1e7, 1.0, swapped=swapped)], rig, changes)[0])


@pytest.mark.parametrize("name", demo_rigs())
@pytest.mark.parametrize(
    ("swapped", "cured", "not_cured"),
    [("jets", ("jets worn", 0.3), ("pump weak", 0.3)), ("hose", ("hose narrow", 0.6), ("pump weak", 0.3))],
)
def test_a_swap_takes_its_own_fault_away_and_no_other(name, swapped, cured, not_cured):
    rig = demo_rig(name)
    sound = gauge_at_full(rig, "healthy", 0.0)
    assert gauge_at_full(rig, *cured, swapped) == pytest.approx(sound, rel=1e-12)
    assert abs(gauge_at_full(rig, *cured) / sound - 1.0) > 0.005
    assert gauge_at_full(rig, *not_cured, swapped) == pytest.approx(gauge_at_full(rig, *not_cured), rel=1e-12)


@pytest.mark.parametrize("name", demo_rigs())
def test_the_opening_set_opens_a_sound_valve_and_never_passes_what_it_says(name):
    rig = demo_rig(name)
    setting = rig.unloader.setting
    sound = state(rig, swapped_in(rig, RigFactors(), "opening set"), [1.0])
    stuck = state(rig, swapped_in(rig, RigFactors(valve_setting=1.5), "opening set"), [1.0])
    assert sound.bypass_flow[0] > 0.02 * rig.pump.rated_flow
    assert setting < sound.gauge[0] < setting * (1.0 + rig.unloader.rise)
    assert stuck.bypass_flow[0] == 0.0
    assert 1.1 * setting < stuck.gauge[0] <= OVER_SETTING * setting


def test_the_opening_set_against_the_square_law():
    """Without hose or slip pressure goes as 1 / area squared (Bernoulli; any hydraulics handbook)."""
    rig = Rig(
        pump=Pump("8 gpm", volumetric_efficiency=1.0),
        valve=Unloader("2000 psi"),
        hoses=[Hose("1 in", 0.0)],
        nozzle=Nozzle(jets=[Jet(bore="2 mm", count=4)]),
    )
    share = opening_set_share(rig)
    as_loaded = state(rig, RigFactors(valve_setting=1.5), [1.0])
    with_set = state(rig, swapped_in(rig, RigFactors(valve_setting=1.5), "opening set"), [1.0])
    assert with_set.gauge[0] == pytest.approx(as_loaded.gauge[0] / share**2, rel=1e-9)
    assert with_set.gauge[0] == pytest.approx(OVER_SETTING * rig.unloader.setting, rel=1e-9)


def test_a_rig_whose_line_alone_asks_for_the_setting_has_no_opening_set():
    rig = Rig(
        pump=Pump("8 gpm"), valve=Unloader("1000 psi"), hoses=[Hose("1/4 in", "400 ft")],
        nozzle=Nozzle(jets=[Jet(bore="2 mm", count=4)]),
    )  # fmt: skip
    assert not can_open_the_valve(rig)
    with pytest.raises(JetlibError, match="leave this check out"):
        swapped_in(rig, RigFactors(), "opening set")


def test_a_swap_is_part_of_the_reading():
    reading = GaugeReading("2500 psi", swapped="jets")
    assert "known jets fitted" in reading.label
    assert reading.check != GaugeReading("2500 psi").check
    again = reading.replace(pressure="2400 psi")
    assert again.swapped == "jets" and again.pressure < reading.pressure
    with pytest.raises(JetlibError, match="opening set"):
        ReturnSeen(True, swapped="pump")
    assert set(SWAPS) == {"jets", "hose", "opening set"}


def test_a_look_at_the_suction_speaks_for_or_against_a_starved_one():
    rig = demo_rig("yard_trailer")
    starved, free = (diagnose(rig, [SuctionSeen(seen)]).probability("suction starved") for seen in (True, False))
    before = diagnose(rig, []).probability("suction starved")
    assert starved > 5 * before
    assert free < 0.5 * before


def test_a_diagnosis_chooses_among_the_checks_it_is_given():
    rig = demo_rig("yard_trailer")
    offered = [GaugeReading(1e7, 1.0, swapped="jets"), SuctionSeen(True)]
    found = diagnose(rig, [GaugeReading("2000 psi")], checks=offered)
    assert {check.label for check in found.checks} == {each.label for each in offered}
    assert len(diagnose(rig, [SuctionSeen(False)], checks=offered).checks) == 1
