"""Calibration: exact readings, scipy's least squares, 500 synthetic rigs, a wild reading, readings that tell little."""

import numpy as np
import pytest
from scipy import optimize, stats

from jetlib import (
    BucketTest,
    Calibration,
    Engine,
    GaugeReading,
    Hose,
    HoseSeen,
    Jet,
    JetlibError,
    Knowledge,
    Nozzle,
    Pump,
    ReturnSeen,
    Rig,
    SpeedReading,
    Unloader,
    calibrate,
    diagnose,
    operating_point,
)
from jetlib.rig.change.factors import CALIBRATED, USED, RigFactors
from jetlib.rig.diagnosis.calibration import fitted_rig
from jetlib.rig.diagnosis.readings import predictions
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs
from jetlib.rig.uncertainty.band import uncertainty_band, usual_full_scale

PSI = 6894.757


def yard_rig(**changes):
    """A rig whose valve is well open at full throttle, and whose hose takes a good share."""
    parts = {
        "pump": Pump("9 gpm", volumetric_efficiency=0.95),
        "valve": Unloader("1200 psi"),
        "hoses": [Hose("3/8 in", "200 ft")],
        "nozzle": Nozzle([Jet("0.043 in", 4, "30 deg"), Jet("0.04 in", 1, "180 deg")]),
    }
    return Rig(**parts | changes)


#: Everything that can be read, with the errors of somebody who takes care.
PLAN = (
    *(GaugeReading(1e7, throttle) for throttle in (0.0, 0.3, 0.6, 1.0)),
    *(GaugeReading(1e7, throttle, nozzle_off=True) for throttle in (0.5, 1.0)),
    *(BucketTest(flow=1e-3, throttle=throttle) for throttle in (0.4, 1.0)),
    BucketTest(flow=1e-3, place="tank return"),
)


def read(plan, rig, logs=(0, 0, 0, 0), *, random=None, needle=0.0):
    """The plan carried out on `rig` with its factors at exp(logs), exactly, or with the errors of each reading."""
    exact = predictions(list(plan), rig, RigFactors(**dict(zip(CALIBRATED, np.exp(logs), strict=True))))
    readings = []
    for reading, value in zip(plan, exact, strict=True):
        value = float(value)
        error = float(reading.usual_error(value, rig.pump.rated_flow))
        if random is not None:
            value += needle * reading.needle + error * random.normal()
        name = "flow" if isinstance(reading, BucketTest) else "speed" if reading.kind == "speed" else "pressure"
        value = max(value, 0.0) if name != "pressure" or value >= 1e4 else 0.0
        readings.append(reading.replace(**{name: value, "error": error}))
    return readings


def found_logs(calibration):
    return np.log([calibration.factors[name].value for name in CALIBRATED])


# --- exact readings, and scipy ----------------------------------------------------------------------


@pytest.mark.parametrize(
    "logs", [(0, 0, 0, 0), (0.25, 0.2, -0.08, -0.05), (-0.15, -0.2, 0.05, 0.06), (0.1, 0.3, 0.0, -0.3)]
)
def test_exact_readings_give_the_rig_back(logs):
    rig = yard_rig()
    found = calibrate(rig, read(PLAN, rig, logs))
    assert all(factor.fitted for factor in found.factors.values())
    np.testing.assert_allclose(found_logs(found), logs, atol=1e-4)  # the fit stops within a hundredth of an error
    assert np.abs(found.residuals).max() < 0.01
    assert found.wild is None and found.agrees
    assert found.needle_off == pytest.approx(0.0, abs=100.0)


def test_fitted_rig_reads_what_was_read():
    rig = yard_rig(hoses=[Hose("3/8 in", "150 ft", coil_diameter="20 in", end_bore="8 mm"), Hose("5/16 in", "30 ft")])
    readings = read(PLAN, rig, (0.3, 0.25, -0.06, -0.04))
    found = calibrate(rig, readings)
    for reading, value in zip(readings, predictions(readings, found.rig, RigFactors()), strict=True):
        # the hose's loss is turned into a bore at full throttle; at others the friction factor differs a little
        assert float(value) == pytest.approx(reading.value, rel=0.01, abs=0.002 * rig.pump.rated_flow)
    assert [hose.length for hose in found.rig.hoses] == [hose.length for hose in rig.hoses]


def test_fitted_rig_of_no_change_is_the_rig():
    for name in demo_rigs():
        rig = demo_rig(name)
        assert operating_point(fitted_rig(rig)).gauge == pytest.approx(operating_point(rig).gauge, rel=1e-9)
    wide = fitted_rig(yard_rig(), jet_area=1.7)  # more than an edge can give: the rest is bore
    assert wide.nozzle.effective_area == pytest.approx(1.7 * yard_rig().nozzle.effective_area)
    assert all(jet.discharge_coefficient <= 0.99 for jet in wide.nozzle.jets)


def test_agrees_with_the_least_squares_of_scipy():
    rig, random = yard_rig(), np.random.default_rng(3)
    readings = read(PLAN, rig, (0.1, -0.1, 0.04, -0.03), random=random)
    values, errors = (np.array([getattr(reading, name) for reading in readings]) for name in ("value", "error"))

    def residuals(logs):
        made = RigFactors(**dict(zip(CALIBRATED, np.exp(logs), strict=True)))
        return (values - np.array(predictions(readings, rig, made), dtype=float)) / errors

    theirs = optimize.least_squares(residuals, np.zeros(4), x_scale=0.1, diff_step=1e-5, xtol=1e-12)
    own = calibrate(rig, readings, gauge=0)
    errors_of_theirs = np.sqrt(np.diag(np.linalg.inv(theirs.jac.T @ theirs.jac)))
    np.testing.assert_allclose(found_logs(own), theirs.x, atol=0.01 * errors_of_theirs.min())
    np.testing.assert_allclose(np.sqrt(np.diag(own.covariance)), errors_of_theirs, rtol=0.01)
    np.testing.assert_allclose(own.residuals, theirs.fun, atol=0.02)


# --- standard errors against 500 synthetic rigs -----------------------------------------------------


def test_nine_rigs_in_ten_lie_within_the_interval():
    rig, random = yard_rig(), np.random.default_rng(7)
    full_scale, count = usual_full_scale(rig), 500
    inside, scores, wild = np.zeros(4), [], 0
    for _ in range(count):
        logs = random.normal(size=4) * [0.10, 0.10, 0.03, 0.03]
        readings = read(PLAN, rig, logs, random=random, needle=random.normal() * USED.gauge * full_scale)
        found = calibrate(rig, readings)
        wild += found.wild is not None
        for place, name in enumerate(CALIBRATED):
            factor = found.factors[name]
            assert factor.fitted, name
            low, high = factor.interval()
            inside[place] += low <= np.exp(logs[place]) <= high
        scores.append((found_logs(found) - logs) @ np.linalg.inv(found.covariance) @ (found_logs(found) - logs))
    assert np.all((inside / count >= 0.85) & (inside / count <= 0.95)), inside / count
    # all four together: the whole covariance, not its diagonal only, is right
    assert 0.85 <= np.mean(np.array(scores) <= stats.chi2.ppf(0.9, 4)) <= 0.95
    assert wild / count <= 0.02


# --- one wild reading -------------------------------------------------------------------------------


def test_one_wild_reading_is_pointed_at_and_does_no_harm():
    rig, random = yard_rig(), np.random.default_rng(11)
    logs = (0.12, 0.1, -0.04, -0.03)
    blamed, suspected, close = [], [], []
    for place in range(len(PLAN)):
        for factor in (0.6, 1.5):
            readings = read(PLAN, rig, logs, random=random)
            reading = readings[place]
            if reading.error > 0.12 * reading.value:
                continue  # that far off is no surprise for such a reading
            name = "flow" if isinstance(reading, BucketTest) else "pressure"
            readings[place] = reading.replace(**{name: reading.value * factor, "error": reading.error})
            found = calibrate(rig, readings, gauge=0.003)
            blamed.append(found.wild == place)
            suspected.append(place in (found.wild, *found.suspects))
            if found.wild is not None:
                off = (found_logs(found) - logs) / np.sqrt(np.diag(found.covariance))
                close.append(np.abs(off).max() < 3.5)
            else:
                close.append(not found.agrees)  # then it says that it cannot tell which
    assert len(blamed) >= 10
    assert np.mean(blamed) >= 0.7
    assert np.mean(suspected) >= 0.95
    assert np.mean(close) >= 0.95


def test_wild_reading_in_words():
    rig = yard_rig()
    readings = read(PLAN, rig)
    readings[1] = readings[1].replace(pressure=2.0 * readings[1].value)
    found = calibrate(rig, readings)
    assert found.wild == 1
    assert found.sentences[0].startswith("The gauge at 30 % throttle")
    assert "Read it again" in found.sentences[0]
    np.testing.assert_allclose(found_logs(found), 0.0, atol=0.01)


def test_with_nothing_to_spare_no_reading_is_blamed():
    rig = yard_rig()
    readings = [GaugeReading("900 psi", 0.5), BucketTest(flow="6.4 gpm", throttle=0.5)]
    found = calibrate(rig, readings)
    assert found.wild is None
    assert found.spare == 0
    assert "no extra reading" in found.sentences[-1]


def test_readings_that_disagree_make_the_errors_larger():
    rig = yard_rig()
    good = read([GaugeReading(1e7, 0.5), GaugeReading(1e7, 0.5)], rig)
    bad = [good[0].replace(pressure=0.7 * good[0].value), good[1].replace(pressure=1.4 * good[1].value)]
    agreed, found = calibrate(rig, good), calibrate(rig, bad)
    assert not found.agrees
    assert found.wild is None
    assert found.factors["jet_area"].error > 2 * agreed.factors["jet_area"].error
    assert any("do not agree" in each for each in found.sentences)


def test_two_that_contradict_each_other_are_both_named():
    rig = yard_rig()
    readings = read(PLAN, rig)
    readings[4] = readings[4].replace(pressure=2.0 * readings[4].value)  # only one other reading tells of the hose
    found = calibrate(rig, readings)
    assert not found.agrees
    assert found.suspects == (4, 5)
    assert "half throttle, nozzle off or the gauge at full throttle, nozzle off" in found.sentences[0]


# --- what cannot be told ----------------------------------------------------------------------------


def test_gauge_alone_cannot_tell_pump_from_jets():
    # common practice, no source: water lost before the jets looks like larger jets on the gauge
    rig = yard_rig(valve=Unloader("3500 psi"))
    readings = read([GaugeReading(1e7, throttle) for throttle in (0, 0.25, 0.5, 0.75, 1)], rig, (0.1, 0, 0, 0))
    found = calibrate(rig, readings)
    assert [name for name in CALIBRATED if found.factors[name].fitted] == ["jet_area"]
    assert found.factors["jet_area"].value == pytest.approx(np.exp(0.1), rel=1e-3)
    # the gauge tells flow over area, so area is no better known than the pump's flow
    assert found.factors["jet_area"].error >= USED.pump_flow
    assert "the jets' effective area" in found.factors["pump_flow"].why
    assert "timed flow test" in found.factors["pump_flow"].remedy
    assert "shut in every reading" in found.factors["valve_setting"].why
    more = calibrate(rig, [*readings, *read([BucketTest(flow=1e-3)], rig, (0.1, 0, 0, 0))])
    assert more.factors["pump_flow"].fitted
    assert more.factors["jet_area"].error < found.factors["jet_area"].error


def test_gauge_alone_covers_the_jets_when_the_pump_is_off_too():
    rig, random = yard_rig(valve=Unloader("3500 psi")), np.random.default_rng(13)
    inside = []
    for _ in range(40):
        logs = random.normal(size=4) * [0.1, USED.hose_loss, USED.pump_flow, 0]
        low, high = calibrate(rig, read(PLAN[:4], rig, logs, random=random), gauge=0).factors["jet_area"].interval()
        inside.append(low <= np.exp(logs[0]) <= high)
    assert 0.8 <= np.mean(inside) <= 0.99  # 40 rigs: 0.9 give or take 0.05


def test_a_valve_that_never_opened_is_held_where_it_is_shut():
    rig = yard_rig()  # as written down it opens at full throttle
    readings = read(PLAN[:8], rig, (0, 0, 0, 0.9))  # but it is set far higher
    found = calibrate(rig, readings)
    valve = found.factors["valve_setting"]
    assert not valve.fitted
    assert valve.value == pytest.approx(readings[3].value / rig.unloader.setting, rel=0.03)
    assert found.factors["jet_area"].value == pytest.approx(1.0, abs=0.01)
    assert "opens no lower than" in valve.sentence


@pytest.mark.parametrize("readings", [[], [ReturnSeen(False, 0.0), HoseSeen(False)], [SpeedReading("1450 rpm")]])
def test_readings_that_determine_nothing(readings):
    rig = yard_rig()
    found = calibrate(rig, readings)
    assert "say nothing new" in found.sentences[0]
    assert not any(factor.fitted for factor in found.factors.values())
    assert all(factor.value == 1.0 and factor.why for factor in found.factors.values())
    np.testing.assert_allclose(np.sqrt(np.diag(found.covariance)), [getattr(USED, name) for name in CALIBRATED])
    assert operating_point(found.rig).gauge == pytest.approx(operating_point(rig).gauge)


def test_parts_a_rig_does_not_have():
    rig = yard_rig(valve=None, hoses=[])
    found = calibrate(rig, read([GaugeReading(1e7), BucketTest(flow=1e-3)], rig, (0.1, 0, -0.1, 0)))
    assert found.factors["hose_loss"].why == "the rig has no hose"
    assert found.factors["valve_setting"].why == "the rig has no unloader"
    assert found.factors["pump_flow"].value == pytest.approx(np.exp(-0.1), rel=1e-3)


def test_stream_that_the_fit_would_not_show_is_mentioned():
    rig = yard_rig()
    readings = read(PLAN, rig)
    assert calibrate(rig, [*readings, ReturnSeen(True, 1.0)]).doubts == ()
    found = calibrate(rig, [*readings, ReturnSeen(True, 0.0), ReturnSeen(False, 1.0)])
    assert len(found.doubts) == 2


def test_gauge_that_is_off_is_noticed():
    rig = yard_rig()
    readings = [
        reading.replace(pressure=reading.value + 4e5) if reading.kind == "pressure" else reading
        for reading in read(PLAN, rig)
    ]
    found = calibrate(rig, readings)
    assert 1e5 < found.needle_off < 4e5  # it is held to be right within 1.5 bar before, so part of it goes elsewhere
    assert any("gauge itself seems to read" in each and "high" in each for each in found.sentences)


# --- what comes after -------------------------------------------------------------------------------


def test_fitted_rig_has_a_narrower_band_and_a_sharper_diagnosis():
    rig = yard_rig(engine=Engine("20 hp"))
    found = calibrate(rig, read(PLAN, rig, (0.1, 0.1, 0, 0)))
    assert isinstance(found, Calibration)
    before, after = (
        uncertainty_band(rig, [0.5], samples=400),
        uncertainty_band(found.rig, [0.5], unknowns=found.unknowns, samples=400),
    )
    width = [band.high("gauge", 0.5) - band.low("gauge", 0.5) for band in (before, after)]
    assert width[1] < width[0]
    spread = found.spread
    assert isinstance(spread, Knowledge)
    assert np.shape(spread.correlation) == (4, 4)
    moves = np.array([[move.get(name, 0.0) for name in CALIBRATED] for move in spread.moves()])
    np.testing.assert_allclose(moves.T @ moves, found.covariance, atol=1e-9)
    point = operating_point(found.rig, 0.5)
    answer = diagnose(found.rig, [GaugeReading(0.8 * point.gauge, 0.5)], spread=spread)
    assert answer.probability("healthy") < 0.1


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda rig: calibrate(None, []), "calibrate"),
        (lambda rig: calibrate(rig, "90 bar"), "GaugeReading"),
        (lambda rig: calibrate(rig, [None]), "reading 1"),
        (lambda rig: calibrate(rig, [], before=0.1), "Knowledge"),
        (lambda rig: calibrate(rig, [], gauge="2 %"), "gauge"),
        (lambda rig: calibrate(rig, [], gauge=float("nan")), "gauge"),
        (lambda rig: calibrate(rig.replace(lift=np.zeros(3)), []), "one rig"),
        (lambda rig: calibrate(rig.replace(nozzle=Nozzle()), []), "no open jets"),
    ],
)
def test_refusals_say_what_is_wrong(call, says):
    with pytest.raises(JetlibError, match=says):
        call(yard_rig())


def test_wild_numbers_of_the_right_kind_still_give_an_answer():
    rig, random = yard_rig(), np.random.default_rng(17)
    for _ in range(6):
        readings = [GaugeReading(10 ** random.uniform(4.1, 8.5), random.random()) for _ in range(random.integers(1, 4))]
        readings.append(BucketTest(flow=10 ** random.uniform(-6, -1.1), throttle=random.random()))
        found = calibrate(rig, readings)
        assert all(np.isfinite((factor.value, factor.error)).all() for factor in found.factors.values())
        assert found.sentences
