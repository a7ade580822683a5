"""Diagnosis: against rigs drawn by brute force, seeded faults on synthetic rigs, and what the trade knows."""

import numpy as np
import pytest
from scipy import stats

from jetlib import (
    BucketTest,
    BurstDisc,
    Engine,
    EngineSound,
    GaugeReading,
    Hose,
    HoseSeen,
    Jet,
    JetlibError,
    JetsSeen,
    Knowledge,
    Nozzle,
    Pump,
    ReturnSeen,
    Rig,
    SpeedReading,
    Unloader,
    diagnose,
    operating_point,
    signature,
)
from jetlib.rig.change.factors import CALIBRATED, UNMEASURED, RigFactors, changed, state
from jetlib.rig.diagnosis import likelihood as belief
from jetlib.rig.diagnosis.faults import FAULTS, THROTTLES, faults_of
from jetlib.rig.diagnosis.likelihood import normal_share
from jetlib.rig.diagnosis.readings import MISTAKE, predictions
from jetlib.rig.parts.rig_file import demo_rig
from jetlib.rig.uncertainty.band import usual_full_scale

GPM, PSI = 6.30902e-5, 6894.757
SPREAD = Knowledge()
IDLE, HALF, FULL = THROTTLES


@pytest.fixture(scope="module")
def trailer():
    return demo_rig("yard_trailer")


def readings_of(found, *, bucket=False):
    """What a Signature would show to somebody with a perfect eye: gauges at idle, half and full, and more if asked."""
    readings = [GaugeReading(max(value, 0.0), throttle) for value, throttle in zip(found.gauge, THROTTLES, strict=True)]
    if bucket:
        readings.append(BucketTest(flow=found.nozzle_flow[2]))
    return readings


def names(causes):
    return {cause.name for cause in causes}


# --- signatures -------------------------------------------------------------------------------------


def test_signature_of_a_plugged_jet(trailer):
    # The yard trailer is matched: sound, its valve is just shut at full throttle. With a quarter of the area gone the
    # gauge goes as 1/area^2 in front of the jets while the valve is shut, and cannot pass the setting by more than the
    # valve's rise once it opens.
    found = signature(trailer, "jet plugged", 0.25)
    sound = found.healthy
    at_idle = operating_point(trailer, IDLE)
    wanted = at_idle.gauge + at_idle.nozzle_pressure * (1 / 0.75**2 - 1)
    assert found.gauge[0] == pytest.approx(wanted, rel=0.04)  # 1 % more slips back, which is 2 % of pressure
    assert sound.gauge[2] < found.gauge[2] < 1.08 * trailer.unloader.setting
    assert list(found.return_seen) == [False, False, True]
    assert not sound.return_seen.any()
    assert "Water returns to the tank: at full throttle; when all is well: never." in found.sentences


def test_signature_of_a_gauge_that_reads_low_is_nothing_but_the_gauge(trailer):
    found = signature(trailer, "gauge low", 0.2)
    np.testing.assert_allclose(found.gauge, 0.8 * found.healthy.gauge)
    np.testing.assert_array_equal(found.nozzle_flow, found.healthy.nozzle_flow)


def test_every_fault_of_every_yard_rig_shows_or_hides_as_it_should():
    for name in ("yard_cart", "yard_trailer", "yard_truck", "yard_small_bore"):
        rig = demo_rig(name)
        for fault in faults_of(rig):
            found = signature(rig, fault, fault.high)
            assert len(found.sentences) >= 1
            assert np.all(np.isfinite(found.gauge)) and np.all(found.gauge >= 0)
            assert isinstance(changed(rig, fault.factors(fault.typical)), Rig)
    assert signature(demo_rig("yard_truck"), "disc gone").return_seen.all()


def test_faults_a_rig_cannot_have():
    bare = Rig(pump=Pump("8 gpm"), nozzle=Nozzle(Jet("0.055 in", 4)))
    assert names(faults_of(bare)).isdisjoint({"valve low", "valve leaking", "hose narrow", "engine weak", "disc gone"})
    with pytest.raises(JetlibError, match="valve low"):
        signature(bare, "valve low")


# --- what the trade knows ---------------------------------------------------------------------------


@pytest.mark.parametrize("fault", ["valve leaking", "pump weak", "jets worn"])
def test_lost_water_and_large_jets_look_the_same_on_the_gauge(trailer, fault):
    # common practice, no source: only a bucket test or a look at the tank return separates them
    readings = readings_of(signature(trailer, fault))
    found = diagnose(trailer, readings)
    assert {"valve leaking", "pump weak", "jets worn"} <= names(found.tied)
    assert found.sentences[0].startswith("These readings cannot tell the following causes apart")
    assert isinstance(found.next_check.reading, BucketTest | ReturnSeen | JetsSeen)
    assert set(found.next_check.expected) == names(found.tied)


def test_bucket_and_tank_return_then_tell_them_apart(trailer):
    for fault, seen, in_question in (
        ("valve leaking", True, {"valve leaking"}),
        ("pump weak", False, {"pump weak", "pump slipping"}),
        ("jets worn", False, {"jets worn", "larger set", "gauge low"}),
    ):
        shown = signature(trailer, fault)
        readings = [*readings_of(shown, bucket=True), ReturnSeen(seen, IDLE), ReturnSeen(seen, FULL)]
        found = diagnose(trailer, readings)
        assert fault in names(found.tied) <= in_question | {"suction starved"}, fault


def test_half_throttle_or_open_hose_tells_a_slipping_pump_from_a_weak_one(trailer):
    shown = signature(trailer, "pump slipping", 0.3)
    readings = [*readings_of(shown, bucket=True), ReturnSeen(False, FULL)]
    open_hose = BucketTest(flow=1e-3, place="open hose")
    flow = predictions([open_hose], trailer, RigFactors(slip=0.3))[0]
    found = diagnose(trailer, [*readings, BucketTest(flow=float(flow), place="open hose")])
    assert found.top.name == "pump slipping"
    assert found.top.probability > 0.9
    assert found.top.least <= 0.3 <= found.top.most


def test_plugged_jets_and_a_smaller_set_differ_to_the_eye_only(trailer):
    shown = signature(trailer, "jet plugged", 0.3)
    readings = [*readings_of(shown, bucket=True), ReturnSeen(True, FULL), HoseSeen(False)]
    found = diagnose(trailer, readings)
    assert {"jet plugged", "smaller set"} <= names(found.tied)
    assert isinstance(found.next_check.reading, JetsSeen)
    assert "Stop the pump" in found.next_check.check.caution
    found = diagnose(trailer, [*readings, JetsSeen("smaller set")])
    assert found.top.name == "smaller set"
    assert found.top.probability > 0.8


def test_second_gauge_finds_the_first_one_out(trailer):
    shown = signature(trailer, "gauge low", 0.25)
    readings = readings_of(shown)
    assert diagnose(trailer, readings).probability("gauge low") < 0.9
    found = diagnose(trailer, [*readings, GaugeReading(shown.healthy.gauge[2], second_gauge=True)])
    assert found.top.name == "gauge low"
    assert found.top.probability > 0.9


def test_tachometer_and_ear_find_the_engine_out(trailer):
    shown = signature(trailer, "engine weak", 0.5)
    readings = [*readings_of(shown), SpeedReading(shown.speed[2]), EngineSound(True)]
    assert diagnose(trailer, readings).top.name == "engine weak"
    shown = signature(trailer, "speed low", 0.2)
    readings = [*readings_of(shown), SpeedReading(shown.speed[2]), EngineSound(False)]
    assert diagnose(trailer, readings).top.name == "speed low"


def test_an_engine_with_power_to_spare_may_lose_most_of_it(trailer):
    """It labors and turns slowly: short of power, not a throttle cable, however much power there was to lose."""
    rig = trailer.replace(engine=Engine("45 hp"))
    point = state(rig, RigFactors(engine_power=0.28), THROTTLES)
    assert point.engine_bogged[2]
    gauges = [GaugeReading(float(value), throttle=at) for value, at in zip(point.gauge, THROTTLES, strict=True)]
    speed = SpeedReading(float(point.speed[2]), throttle=FULL)
    assert diagnose(rig, [*gauges, speed, EngineSound(True, throttle=FULL)]).top.name == "engine weak"


def test_a_size_over_the_whole_is_said_in_figures():
    assert FAULTS["hose narrow"].measured(2.54) == "it costs 250 % of the nozzle pressure, on top of its usual loss"


def test_valve_that_opens_late_comes_with_a_caution(trailer):
    readings = [GaugeReading("3500 psi"), GaugeReading("540 psi", IDLE), GaugeReading("2000 psi", HALF)]
    found = diagnose(trailer, [GaugeReading("3300 psi", second_gauge=True), *readings])
    if "valve high" in names(found.tied):
        assert any("do not run the rig above its setting" in each for each in found.sentences)
    shown = signature(trailer.replace(nozzle=Nozzle(Jet("#60", 4))), "valve high", 0.3)
    found = diagnose(shown.rig, [*readings_of(shown), GaugeReading(shown.gauge[2], second_gauge=True)])
    assert found.top.name == "valve high"
    assert any("do not run the rig above its setting" in each for each in found.sentences)


# --- nothing, and nonsense --------------------------------------------------------------------------


def test_no_readings_tell_nothing(trailer):
    found = diagnose(trailer, [])
    assert "nothing can be said" in found.sentences[0]
    assert found.top.probability < 0.1
    assert sum(cause.probability for cause in found.causes) + found.unlisted == pytest.approx(1.0)


def test_what_never_changes_tells_nothing(trailer):
    before, after = diagnose(trailer, []), diagnose(trailer, [ReturnSeen(False, IDLE)])
    assert after.probability("jets worn") == pytest.approx(before.probability("jets worn"), rel=0.15)
    assert len(after.tied) > 10


def test_contradictory_readings_fit_nothing(trailer):
    found = diagnose(trailer, [GaugeReading("2500 psi", IDLE), GaugeReading("200 psi", FULL)])
    assert not found.fits
    assert "fit nothing on the list" in found.sentences[0]
    assert {each.throttle for each in found.read_again} == {0.0, 1.0}
    assert "Read again before anything else: gauge at" in " ".join(found.sentences)
    assert "Best next check" not in " ".join(found.sentences)
    assert diagnose(trailer, readings_of(signature(trailer, "healthy"))).fits


ODD_RIGS = {
    "bare": Rig(pump=Pump("8 gpm"), nozzle=Nozzle(Jet("0.055 in", 1))),
    "shut": Rig(pump=Pump("8 gpm"), valve=Unloader("2000 psi"), outlet_shut=True, nozzle=Nozzle(Jet("0.055 in", 4))),
    "a group with no holes": Rig(pump=Pump("8 gpm"), nozzle=Nozzle([Jet("0.055 in", 0), Jet("1 mm", 3)])),
    "disc gone": Rig(pump=Pump("8 gpm"), valve=BurstDisc("200 bar", opened=True), nozzle=Nozzle(Jet("1.4 mm", 4))),
    "engine too small": Rig(pump=Pump("8 gpm"), engine=Engine("5 hp"), nozzle=Nozzle(Jet("0.03 in", 4))),
    "downhill": Rig(
        pump=Pump("8 gpm"), lift="-300 ft", hoses=[Hose("1/2 in", "100 ft")], nozzle=Nozzle(Jet("0.1 in", 4))
    ),
    "cart": demo_rig("yard_cart"),
}


@pytest.mark.parametrize("name", ODD_RIGS)
def test_odd_rigs_and_wild_readings_still_give_an_answer(name):
    rig = ODD_RIGS[name]
    wild = [BucketTest(flow="0 gpm"), BucketTest(flow="80 gpm", place="tank return"), SpeedReading("0 rpm")]
    for readings in ([GaugeReading("0 psi")], [GaugeReading("2000 psi", IDLE), GaugeReading("1e8 Pa")], wild):
        found = diagnose(rig, readings)
        assert sum(cause.probability for cause in found.causes) + found.unlisted == pytest.approx(1.0)
        assert all(np.isfinite(cause.residuals).all() for cause in found.causes)
        assert all(check.bits >= 0 for check in found.checks)
        assert found.sentences


def test_two_faults_at_once_fit_nothing(trailer):
    # worn jets and a throttle that reaches no speed: one shows at idle, the other at full
    made = RigFactors(jet_area=1.6, top_speed=0.75)
    point = state(trailer, made, THROTTLES)
    readings = [GaugeReading(value, t, error="1 bar") for value, t in zip(point.gauge, THROTTLES, strict=True)]
    readings += [BucketTest(flow=point.nozzle_flow[2], error="0.05 gpm"), ReturnSeen(False, FULL)]
    found = diagnose(trailer, readings, spread=Knowledge(jet_area=0.01, hose_loss=0.02, pump_flow=0.01, gauge=0.002))
    assert not found.fits


def test_sound_readings_say_sound(trailer):
    shown = signature(trailer, "healthy")
    readings = [
        *readings_of(shown, bucket=True),
        SpeedReading(shown.speed[2]),
        GaugeReading(shown.gauge[2], second_gauge=True),
    ]
    found = diagnose(trailer, readings)
    assert found.top.name == "healthy"
    assert max(map(abs, found.top.residuals)) < 1.0
    assert len(found.top.residuals) == len(readings)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda rig: diagnose("rig", []), "diagnose"),
        (lambda rig: diagnose(rig, None), "GaugeReading"),
        (lambda rig: diagnose(rig, [3]), "reading 1"),
        (lambda rig: diagnose(rig, [], spread=0.1), "Knowledge"),
        (lambda rig: diagnose(rig, [], chances=[1]), "chances"),
        (lambda rig: diagnose(rig, [], chances={"gremlins": 1}), "gremlins"),
        (lambda rig: diagnose(rig, [], chances={"jets worn": -1}), "chance of jets worn"),
        (lambda rig: diagnose(rig, [], chances={"jets worn": float("nan")}), "chance of jets worn"),
        (lambda rig: diagnose(rig, [], chances=dict.fromkeys(FAULTS, 0)), "every fault"),
        (lambda rig: diagnose(rig, []).probability("gremlins"), "gremlins"),
        (lambda rig: diagnose(rig.replace(lift=np.zeros(3)), []), "one rig"),
        (lambda rig: diagnose(rig.replace(nozzle=Nozzle()), []), "no open jets"),
        (lambda rig: diagnose(rig.replace(engine=None), [EngineSound(True)]), "no engine"),
        (lambda rig: signature(rig, "gremlins"), "gremlins"),
        (lambda rig: signature(rig, "jets worn", 7), "severity"),
        (lambda rig: signature(rig, "jets worn", "a lot"), "severity"),
    ],
)
def test_refusals_say_what_is_wrong(trailer, call, says):
    with pytest.raises(JetlibError, match=says):
        call(trailer)


def test_chances_before_anything_is_read(trailer):
    found = diagnose(trailer, [], chances={"jet plugged": 9.0, "healthy": 0})
    assert "healthy" not in names(found.causes)
    assert found.probability("jet plugged") == pytest.approx(9 * found.probability("jets worn"))


def test_order_of_readings_and_what_was_asked_before_do_not_matter(trailer):
    readings = [*readings_of(signature(trailer, "valve low"), bucket=True), ReturnSeen(True, FULL)]
    belief._recent.clear()
    first = diagnose(trailer, readings)
    diagnose(trailer.replace(lift="30 ft"), readings)
    again = diagnose(trailer, readings[::-1])
    for cause in first.causes:
        assert again.probability(cause.name) == pytest.approx(cause.probability, rel=1e-6, abs=1e-12)


# --- against brute force ----------------------------------------------------------------------------


def drawn_rigs(rig, fault, count, random):
    """Severities and all unknowns drawn, with only the definitions: RigFactors, and what the needle is off by."""
    made = fault.factors(fault.severities(random.random(count)))
    moves = {name: np.exp(random.normal(size=count) * getattr(SPREAD, name)) for name in (*CALIBRATED, "engine_power")}
    return made.and_also(RigFactors(**moves)), random.normal(size=count) * SPREAD.gauge * usual_full_scale(rig)


def chance_of(readings, rig, changes, needle):
    """Likelihood of readings for every rig drawn."""
    total = 1.0
    for reading, value in zip(readings, predictions(readings, rig, changes), strict=True):
        if reading.by_eye:
            yes = MISTAKE + (1 - 2 * MISTAKE) * stats.norm.cdf(value)
            total = total * (yes if reading.yes else 1 - yes)
        else:
            total = total * stats.norm.pdf(reading.value, value + needle * reading.needle, reading.error)
    return total


@pytest.fixture(scope="module")
def by_force(trailer):
    """Readings at which the valve just opens, where lines have a kink, and what brute force makes of them."""
    random = np.random.default_rng(5)
    shown = signature(trailer, "hose narrow", 0.3)
    readings = [GaugeReading(1.03 * shown.gauge[0], IDLE), GaugeReading(0.99 * shown.gauge[2], FULL)]
    readings += [ReturnSeen(True, FULL), BucketTest(flow=shown.nozzle_flow[2])]
    found = {}
    for fault in faults_of(trailer):
        changes, needle = drawn_rigs(trailer, fault, 12_000, random)
        chance = chance_of(readings, trailer, changes, needle)
        found[fault.name] = (fault.chance * chance.mean(), changes, needle, chance)
    return readings, found


def test_probabilities_agree_with_brute_force(trailer, by_force):
    readings, found = by_force
    total = sum(each[0] for each in found.values())
    own = diagnose(trailer, readings)
    assert len(own.tied) > 2  # or the case proves little
    for name, (chance, *_) in found.items():
        # 12,000 draws, of which some hundreds count, leave each probability uncertain by about 0.02
        assert own.probability(name) == pytest.approx(chance / total, abs=0.05), name


def test_expected_information_agrees_with_brute_force(trailer, by_force):
    readings, found = by_force
    random = np.random.default_rng(6)
    own = diagnose(trailer, readings)
    wanted = BucketTest(flow=1e-3, place="tank return"), GaugeReading(1e7, HALF), ReturnSeen(True, HALF)
    for check in wanted:
        outcomes, weights = [], []
        for chance, changes, needle, each in found.values():
            value = predictions([check], trailer, changes)[0]
            if check.by_eye:
                share = MISTAKE + (1 - 2 * MISTAKE) * stats.norm.cdf(value)
                value = np.where(random.random(value.size) < share, 1.0, 0.0)
            else:
                value = value + needle * check.needle
                value = value + random.normal(size=value.size) * check.usual_error(value, trailer.pump.rated_flow)
            outcomes.append(value)
            weights.append(each / max(each.sum(), 1e-300) * chance)
        total = sum(weight.sum() for weight in weights)
        pooled = np.concatenate(outcomes)
        order = np.argsort(pooled)
        share = np.cumsum(np.concatenate(weights)[order]) / total
        edges = [0.5] if check.by_eye else pooled[order][np.searchsorted(share, np.arange(1, 16) / 16)]
        table = np.array(
            [
                np.bincount(np.searchsorted(edges, value), weight, len(edges) + 1) / total
                for value, weight in zip(outcomes, weights, strict=True)
            ]
        )
        outer = np.outer(table.sum(axis=1), table.sum(axis=0))
        bits = (table[table > 0] * np.log2(table[table > 0] / outer[table > 0])).sum()
        mine = next(each.bits for each in own.checks if each.reading.check == check.check)
        # few draws in many bins say a little too much, few bins a little too little
        assert mine == pytest.approx(bits, abs=0.15), check.label


def test_normal_share_agrees_with_scipy():
    x = np.linspace(-6, 6, 500)
    np.testing.assert_allclose(normal_share(x), stats.norm.cdf(x), atol=2e-4)


# --- synthetic rigs ---------------------------------------------------------------------------------


def synthetic_rig(random):
    """A matched rig out of the whole range of the trade, with all parts."""
    flow = np.exp(random.uniform(np.log(3), np.log(25))) * GPM
    pressure = random.uniform(1500, 3500) * PSI
    bore = 0.0254 * (0.25 if flow < 5 * GPM else 0.5 if flow < 13 * GPM else 0.75)
    hose = Hose(bore, random.uniform(30, 90), coil_diameter=random.choice([None, 0.6]))
    left = pressure - operating_point(Rig(pump=Pump(flow), hoses=[hose], nozzle=Nozzle(Jet("5 mm", 2)))).hose_loss
    area = flow / np.sqrt(2 * max(left, 0.3 * pressure) / 1000.0) / 0.72
    holes = int(random.integers(3, 8))
    return Rig(
        pump=Pump(flow, volumetric_efficiency=random.uniform(0.9, 0.98), rated_pressure=pressure),
        valve=[Unloader(pressure * random.uniform(0.8, 1.02)), BurstDisc(1.5 * pressure)],
        hoses=[hose],
        engine=Engine(1.25 * flow * pressure / 0.88),
        nozzle=Nozzle(Jet(np.sqrt(area / holes / np.pi * 4), holes, discharge_coefficient=0.72)),
    )


def seeded_case(rig, random):
    """A fault drawn, a severity, a rig as uncertain as it is held to be, and readings with their errors."""
    faults = faults_of(rig)
    chances = np.array([fault.chance for fault in faults])
    fault = faults[random.choice(len(faults), p=chances / chances.sum())]
    changes, needle = (
        each if isinstance(each, RigFactors) else float(each[0]) for each in drawn_rigs(rig, fault, 1, random)
    )
    plan = [GaugeReading(1e7, throttle) for throttle in THROTTLES]
    plan += [BucketTest(flow=1e-3, place=place) for place in ("nozzle", "tank return")]
    plan += [ReturnSeen(True, throttle) for throttle in THROTTLES] + [SpeedReading(100.0), EngineSound(True)]
    readings, exact = [], []
    for reading, value in zip(plan, predictions(plan, rig, changes), strict=True):
        value = float(value[0])
        exact.append(value)
        if reading.by_eye:
            seen = bool((value + random.normal() > 0) != (random.random() < MISTAKE))
            readings.append(reading.read_as(seen))
            continue
        error = float(reading.usual_error(value, rig.pump.rated_flow))
        value = max(value + needle * reading.needle + error * random.normal(), 0.0)
        if reading.kind == "pressure" and value < 1e4:
            value = 0.0
        readings.append(reading.read_as(value, error=error))
    return fault, changes, readings


def separable(rig, fault, changes, readings, random):
    """Whether no other fault of any severity could make readings near those of this one, errors and all.

    Reckoned from draws of the rig, by another way than the diagnosis does it: as many deviations apart, in the
    covariance of everything uncertain, as make a chance of one in a thousand.
    """
    numbers = [each for each in readings if not each.by_eye]
    moves = {name: np.exp(random.normal(size=60) * getattr(SPREAD, name)) for name in (*CALIBRATED, "engine_power")}
    errors = np.array([each.error for each in numbers])
    around = np.stack(predictions(numbers, rig, changes.and_also(RigFactors(**moves))), axis=1) / errors
    shared = np.array([each.needle for each in numbers]) * SPREAD.gauge * usual_full_scale(rig) / errors
    covariance = np.cov(around, rowvar=False) + np.outer(shared, shared) + np.eye(len(numbers))
    whiten = np.linalg.inv(np.linalg.cholesky(covariance))
    here = np.stack(predictions(numbers, rig, changes), axis=1) / errors
    for other in faults_of(rig):
        if other.name != fault.name:
            made = other.factors(other.severities(np.linspace(0, 1, 40)))
            made = made.and_also(RigFactors(needle=np.ones(40)))
            there = np.stack([np.broadcast_to(each, 40) for each in predictions(numbers, rig, made)], axis=1) / errors
            if np.min(np.square((there - here) @ whiten.T).sum(axis=1)) < 3.3**2:
                return False
    return True


def test_seeded_faults_are_found_and_never_wrongly_with_confidence():
    random = np.random.default_rng(2024)
    rigs = [synthetic_rig(random) for _ in range(12)]
    found, sure, wrong, right_when_sure = [], 0, 0, 0
    count = 240
    for number in range(count):
        rig = rigs[number * len(rigs) // count]
        fault, changes, readings = seeded_case(rig, random)
        answer = diagnose(rig, readings)
        right = answer.top.name == fault.name
        if separable(rig, fault, changes, readings, random):
            found.append(right)
        if answer.top.probability > 0.9:
            sure += 1
            right_when_sure += right
            wrong += not right
    print(f"separable {len(found)}, found {np.mean(found):.3f}; sure {sure}, wrong {wrong}")
    assert len(found) > 40
    assert np.mean(found) >= 0.9
    assert wrong / count <= 0.02
    # sure means sure: more than 0.9 on average must come true at least as often
    assert right_when_sure / sure >= 0.9


def test_a_rig_nobody_has_measured_is_told_less(trailer):
    readings = readings_of(signature(trailer, "jets worn", 0.12), bucket=True)
    known, unmeasured = diagnose(trailer, readings), diagnose(trailer, readings, spread=UNMEASURED)
    assert len(unmeasured.tied) >= len(known.tied)
    assert unmeasured.probability("healthy") > known.probability("healthy")


@pytest.mark.parametrize("count", [1, 4, 50])
def test_the_first_checks_are_the_first_of_all(trailer, count):
    for readings in ([], [GaugeReading("2000 psi")], readings_of(operating_point(trailer, THROTTLES), bucket=True)):
        some, every = diagnose(trailer, readings).first_checks(count), diagnose(trailer, readings).checks
        assert [each.label for each in some[:count]] == [each.label for each in every[:count]]


def test_few_draws_shared_by_all_causes_do_as_well_as_many(trailer, monkeypatch):
    """Against 128 normal draws at each point: what chance leaves is a fraction of what a reader could act on."""
    readings = [GaugeReading("2000 psi"), GaugeReading("1200 psi", "half"), BucketTest(flow="8.6 gpm")]
    few = diagnose(trailer, readings)
    half = np.random.default_rng(3).normal(size=(64, 7))
    monkeypatch.setattr(belief, "_deviations", lambda moves: np.concatenate([half, -half])[:, :moves])
    many = diagnose(trailer, readings)
    assert all(few.probability(each.name) == pytest.approx(each.probability, abs=0.03) for each in many.causes)
    assert few.unlisted == pytest.approx(many.unlisted, abs=0.01)


def test_a_flow_that_no_pump_of_the_rig_can_give_fits_nothing(trailer):
    """Half a second is a quarter of two seconds, but a fiftieth of the time that five gallons take."""
    found = diagnose(trailer, [*readings_of(operating_point(trailer, THROTTLES)), BucketTest("5 gal", "2 s")])
    assert not found.fits
    assert "timed flow test" in found.read_again[0].label
    assert diagnose(trailer, [BucketTest(flow=1.03 * trailer.pump.rated_flow)]).fits  # a second too soon is no nonsense
