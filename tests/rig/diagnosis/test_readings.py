"""Readings: what the door takes and refuses, default errors, and predictions against the operating point itself."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from jetlib import (
    BucketTest,
    Engine,
    EngineSound,
    GaugeReading,
    Hose,
    HoseSeen,
    Jet,
    JetlibError,
    JetsSeen,
    Nozzle,
    Pump,
    ReturnSeen,
    Rig,
    SpeedReading,
    Unloader,
    operating_point,
)
from jetlib.rig.change.factors import Knowledge, RigFactors, changed, state
from jetlib.rig.diagnosis.readings import check_readings, chi_squared_limit, predictions

GPM, PSI = 6.30902e-5, 6894.757


def rig_with(**changes):
    parts = {
        "pump": Pump("9 gpm", volumetric_efficiency=0.95),
        "valve": Unloader("1500 psi"),
        "hoses": [Hose("1/2 in", "200 ft"), Hose("3/8 in", "60 ft", coil_diameter="20 in")],
        "nozzle": Nozzle([Jet("0.043 in", 4, "30 deg"), Jet("0.04 in", 1, "180 deg")]),
        "engine": Engine("22 hp"),
    }
    return Rig(**parts | changes)


# --- the door ---------------------------------------------------------------------------------------


def test_units_at_the_door():
    gauge = GaugeReading("2500 psi", throttle="half", error="50 psi")
    assert (gauge.value, gauge.throttle, gauge.error) == pytest.approx((2500 * PSI, 0.5, 50 * PSI), rel=1e-6)
    assert GaugeReading("100 bar", "Full throttle").throttle == 1.0
    assert GaugeReading("100 bar", "25 %").throttle == 0.25
    assert SpeedReading("1450 rpm").value == pytest.approx(1450 * np.pi / 30)


def test_default_errors_are_the_stated_ones():
    assert GaugeReading("200 bar").error == pytest.approx(np.hypot(0.02 * 200e5, 1e5))
    assert SpeedReading("1000 rpm").error == pytest.approx(0.01 * 1000 * np.pi / 30)
    # 5 gal in 40 s is 7.5 gpm; 2 % of the volume and half a second in forty
    timed = BucketTest(volume="5 gal", time="40 s")
    assert timed.value == pytest.approx(7.5 * GPM, rel=1e-5)
    assert timed.error == pytest.approx(7.5 * GPM * np.hypot(0.02, 0.5 / 40), rel=1e-5)
    assert BucketTest(flow="7.5 gpm").error == pytest.approx(0.04 * 7.5 * GPM, rel=1e-5)


def test_labels_say_what_was_done():
    assert GaugeReading("90 bar", "idle", nozzle_off=True).label == "gauge at idle, nozzle off"
    assert GaugeReading("90 bar", 0.3, second_gauge=True).label == "second gauge at 30 % throttle"
    assert BucketTest(flow="1 gpm", place="tank return").label == "timed flow test at the tank return at full throttle"
    assert (ReturnSeen(True, "half").shown, EngineSound(False).shown) == ("water returns", "runs free")


def test_what_makes_two_checks_the_same():
    assert GaugeReading("90 bar").check == GaugeReading("80 bar", error="2 bar").check
    others = [
        GaugeReading("90 bar", 0.5),
        GaugeReading("90 bar", nozzle_off=True),
        GaugeReading("90 bar", second_gauge=True),
    ]
    assert len({reading.check for reading in [GaugeReading("90 bar"), *others]}) == 4


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: GaugeReading("2500"), "no unit"),
        (lambda: GaugeReading("8 gpm"), "flow"),
        (lambda: GaugeReading("-5 bar"), "negative"),
        (lambda: GaugeReading(float("nan")), "not a finite"),
        (lambda: GaugeReading("90 bar", 1.5), "throttle"),
        (lambda: GaugeReading("90 bar", "quarter"), "throttle"),
        (lambda: GaugeReading([1e7, 2e7]), "one GaugeReading for each"),
        (lambda: GaugeReading("90 bar", error=0.0), "error is 0"),
        (lambda: GaugeReading("90 bar", second_gauge="yes"), "true or false"),
        (lambda: BucketTest(), "volume and time, or flow"),
        (lambda: BucketTest(volume="5 gal"), "volume and time, or flow"),
        (lambda: BucketTest(volume="5 gal", time="40 s", flow="7 gpm"), "volume and time, or flow"),
        (lambda: BucketTest(volume="5 gal", time="0 s"), "too short"),
        (lambda: BucketTest(flow="7 gpm", place="roof"), "tank return"),
        (lambda: BucketTest(flow="7 gpm", place=["nozzle"]), "place is a list"),
        (lambda: SpeedReading("fast"), "speed"),
        (lambda: ReturnSeen("yes"), "true or false"),
        (lambda: EngineSound(1), "true or false"),
        (lambda: JetsSeen("shiny"), "as fitted"),
        (lambda: JetsSeen(None), "as fitted"),
        (lambda: HoseSeen(None), "true or false"),
        (lambda: check_readings("90 bar"), "GaugeReading"),
        (lambda: check_readings([GaugeReading("90 bar"), 90]), "reading 2"),
        (lambda: check_readings([GaugeReading("90 bar")] * 201), "200"),
        (lambda: Knowledge(jet_area=2), "jet_area"),
        (lambda: Knowledge(gauge="1 %"), "gauge"),
        (lambda: predictions([EngineSound(True)], rig_with(engine=None), RigFactors()), "no engine"),
    ],
)
def test_refusals_say_what_is_wrong(make, says):
    with pytest.raises(JetlibError, match=says):
        make()


READINGS = st.one_of(
    st.builds(GaugeReading, st.floats(1e4, 4e7), st.floats(0, 1), second_gauge=st.booleans(), nozzle_off=st.booleans()),
    st.builds(
        BucketTest,
        volume=st.floats(1e-3, 0.4),
        time=st.floats(5, 500),
        place=st.sampled_from(["nozzle", "tank return"]),
    ),
    st.builds(BucketTest, flow=st.floats(1e-6, 1e-2), throttle=st.floats(0, 1)),
    st.builds(SpeedReading, st.floats(10, 400)),
    st.builds(ReturnSeen, st.booleans(), st.floats(0, 1)),
    st.builds(EngineSound, st.booleans()),
    st.builds(JetsSeen, st.sampled_from(["worn", "as fitted"])),
    st.builds(HoseSeen, st.booleans()),
)


@given(READINGS)
@settings(max_examples=60, deadline=None)
def test_a_reading_made_anew_from_its_fields_is_equal(reading):
    again = reading.replace(flow=None) if getattr(reading, "volume", None) is not None else reading.replace()
    assert again == reading and again is not reading


# --- predictions ------------------------------------------------------------------------------------


def test_predictions_are_those_of_the_operating_point():
    rig = rig_with()
    readings = [
        GaugeReading("9 bar", 0.2),
        GaugeReading("9 bar", 1.0, nozzle_off=True),
        BucketTest(flow="1 gpm", throttle=1.0),
        BucketTest(flow="1 gpm", throttle=0.5, place="open hose"),
        BucketTest(flow="1 gpm", throttle=1.0, place="tank return"),
        SpeedReading("1000 rpm", 0.6),
    ]
    open_rig = rig.replace(nozzle=Nozzle([Jet("9.7 mm", discharge_coefficient=0.9)]))
    full = operating_point(rig, 1.0)
    wanted = [
        operating_point(rig, 0.2).gauge,
        operating_point(open_rig, 1.0).gauge,
        full.nozzle_flow,
        operating_point(open_rig, 0.5).nozzle_flow,
        full.bypass_flow,
        operating_point(rig, 0.6).speed,
    ]
    assert full.bypass_flow > 0  # or the case proves little
    assert predictions(readings, rig, RigFactors()) == [pytest.approx(value, rel=1e-8) for value in wanted]


def test_changes_do_what_they_say():
    rig = rig_with(valve=Unloader("4000 psi"), engine=None)
    point = operating_point(rig)
    found = operating_point(changed(rig, RigFactors(seat_leak=0.3)))
    # both go as the square root of their own pressure: the seat sees the gauge, the jets their own
    assert found.leak_flow / np.sqrt(found.gauge) == pytest.approx(
        0.3 * found.nozzle_flow / np.sqrt(found.nozzle_pressure)
    )
    found = operating_point(changed(rig, RigFactors(narrowing=0.7)))
    assert found.fitting_loss == pytest.approx(0.7 * found.nozzle_pressure)
    assert found.nozzle_flow == pytest.approx(point.nozzle_flow, rel=0.05)
    found = operating_point(changed(rig, RigFactors(hose_loss=1.3)))
    assert found.hose_loss == pytest.approx(1.3 * operating_point(rig.replace(pump=found.rig.pump)).hose_loss, rel=0.03)
    slipping = changed(rig, RigFactors(slip=0.2))
    assert slipping.pump.slip - rig.pump.slip == pytest.approx(0.2 * rig.pump.rated_flow / rig.pump.rated_pressure)
    slow = changed(rig, RigFactors(top_speed=0.8))
    assert operating_point(slow, 0.0).gauge == pytest.approx(operating_point(rig, 0.0).gauge, rel=1e-9)
    assert operating_point(slow).speed == pytest.approx(0.8 * point.speed)
    assert slow.pump.slip == pytest.approx(rig.pump.slip)
    starved = state(rig, RigFactors(suction_loss=0.3), [0.0, 1.0])
    sound = state(rig, RigFactors(), [0.0, 1.0])
    assert starved.swept_flow / sound.swept_flow == pytest.approx([1 - 0.3 * 0.4**2, 0.7])
    assert changed(rig, RigFactors(jet_area=1.2)).nozzle.effective_area == pytest.approx(
        1.2 * rig.nozzle.effective_area
    )


def test_a_slower_pump_keeps_the_curve_of_its_valve():
    rig = rig_with()
    held = operating_point(changed(rig, RigFactors(pump_flow=0.9)))
    own = rig.unloader.setting * (1 + rig.unloader.rise * np.sqrt(held.bypass_flow / rig.pump.rated_flow))
    assert held.gauge == pytest.approx(own, rel=1e-6)


def test_nozzle_on_and_off_in_one_go():
    rig = rig_with(nozzle=Nozzle([Jet("0.043 in", 4), Jet("0.04 in", 1)], body_bore="8 mm", body_loss_coefficient=1.5))
    changes = RigFactors(jet_area=np.array([0.8, 1.0, 1.3]))
    both = state(rig, changes, [0.5, 1.0, 0.5, 1.0], nozzle_off=np.array([False, False, True, True]))
    on, off = (state(rig, changes, [0.5, 1.0], nozzle_off=each) for each in (False, True))
    np.testing.assert_allclose(
        both.gauge, np.concatenate([on.gauge, np.broadcast_to(off.gauge, (3, 2))], axis=1), rtol=1e-8
    )


def test_limit_of_chi_squared_agrees_with_scipy():
    for count in (1, 3, 10, 40):
        for deviations in (1.645, 2.326, 3.09):
            exact = stats.chi2.isf(stats.norm.sf(deviations), count)
            # Wilson and Hilferty's cube root is within 4 % even for one degree of freedom
            assert chi_squared_limit(count, deviations) == pytest.approx(exact, rel=0.04)
