"""What is no rig, no operating point, or many where one is wanted is refused in words, never by a traceback."""

import warnings

import numpy as np
import pytest

from jetlib import (
    BurstDisc,
    Drain,
    Engine,
    GaugeReading,
    Hose,
    Jet,
    JetlibError,
    Job,
    Knowledge,
    Nozzle,
    Pump,
    Rig,
    Tank,
    Unloader,
    calibrate,
    change_by_one_drill,
    diagnose,
    highest_pressure,
    hose_choices,
    hose_mass,
    jet_work,
    matched_jets,
    operating_point,
    plan_job,
    reach,
    signature,
    size_jets,
    step_downs,
    supply,
    throttle_sweep,
    thrust_split,
)
from jetlib.rig.hoses.surge import surge
from jetlib.rig.uncertainty.band import uncertainty_band
from jetlib.units.kinds import KINDS

RIG = Rig(
    pump=Pump("9 gpm"),
    valve=Unloader("2500 psi"),
    hoses=[Hose("1/2 in", "200 ft")],
    nozzle=Nozzle([Jet("1.2 mm", 5)]),
)
DRAIN, TANK = Drain("4 in", "100 ft"), Tank("100 gal")
TAKES_A_RIG = {
    "operating_point": operating_point,
    "throttle_sweep": lambda rig: throttle_sweep(rig, [0.0, 1.0]),
    "size_jets": size_jets,
    "matched_jets": matched_jets,
    "change_by_one_drill": change_by_one_drill,
    "diagnose": lambda rig: diagnose(rig, [GaugeReading("2000 psi")]),
    "calibrate": lambda rig: calibrate(rig, [GaugeReading("2000 psi")]),
    "hose_choices": lambda rig: hose_choices(rig, 1),
    "step_downs": lambda rig: step_downs(rig, total_length="200 ft", small_length="50 ft"),
    "plan_job": lambda rig: plan_job(rig, Job(DRAIN, TANK)),
    "signature": lambda rig: signature(rig, "jets worn"),
    "uncertainty_band": uncertainty_band,
}
TAKES_A_POINT = {
    "reach": lambda point: reach(point, DRAIN),
    "supply": lambda point: supply(point, TANK),
    "jet_work": jet_work,
    "thrust_split": thrust_split,
    "surge": surge,
}
ODD = [None, "rig", 5, 5.0, [], {}, np.arange(3.0), object()]


@pytest.mark.parametrize("odd", ODD, ids=lambda odd: type(odd).__name__)
@pytest.mark.parametrize("name", TAKES_A_RIG | TAKES_A_POINT)
def test_what_is_neither_is_refused(name, odd):
    with pytest.raises(JetlibError):
        (TAKES_A_RIG | TAKES_A_POINT)[name](odd)


@pytest.mark.parametrize("name", sorted(TAKES_A_RIG.keys() - {"operating_point", "throttle_sweep"}))
def test_many_rigs_where_one_is_wanted(name):
    with pytest.raises(JetlibError):
        TAKES_A_RIG[name](RIG.replace(lift=np.array([0.0, 1.0])))


@pytest.mark.parametrize("changes", [
    {"lift": [-100.0, 10.0]},
    {"valve": [Unloader("2500 psi"), BurstDisc([1e7, 3e7])]},
    {"water_temperature": [280, 300]},
])  # fmt: skip
def test_the_highest_pressure_of_many_rigs(changes):
    """One for each, as for one rig alone; a hose that has many bores and no mass is refused in words."""
    many = RIG.replace(**changes)
    ones = [RIG.replace(**{name: [_one(part, at) for part in value] if name == "valve" else value[at]
                           for name, value in changes.items()}) for at in range(2)]  # fmt: skip
    assert list(highest_pressure(many)) == pytest.approx([highest_pressure(each) for each in ones])
    with pytest.raises(JetlibError, match="no one mass"):
        hose_mass(Hose([0.01, 0.012], "50 ft"))


def _one(part, at):
    return part.replace(rating=part.rating[at]) if isinstance(part, BurstDisc) else part


def test_many_values_where_one_is_wanted():
    band = uncertainty_band(RIG, [0.0, 1.0], samples=60)
    for throttle in ([0.0, 1.0], np.array([0.0, 1.0])):
        with pytest.raises(JetlibError, match="array"):
            band.low("gauge", throttle)
    with pytest.raises(JetlibError, match="section"):
        hose_choices(RIG, np.arange(3))
    with pytest.raises(JetlibError, match="take one rig"):
        surge(operating_point(RIG, [0.0, 1.0]))


@pytest.mark.parametrize("odd", ["x", 5, [], np.eye(3), -np.eye(4), np.full((4, 4), np.nan), np.triu(np.ones((4, 4)))])
def test_a_correlation_that_is_none(odd):
    with pytest.raises(JetlibError, match="correlation"):
        Knowledge(correlation=odd)
    assert len(Knowledge(correlation=np.eye(4)).moves()) == 5


def test_a_nozzle_far_below_the_pump():
    """The flow balance holds to 1e-9, no gauge reads less than a vacuum, and it is said to be a siphon."""
    for lift in ("-30 ft", "-700 m", "-1000 m"):
        point = operating_point(RIG.replace(lift=lift, nozzle=Nozzle([Jet("12 mm", 2)])))
        assert abs(point.pump_flow - point.nozzle_flow - point.bypass_flow) <= 1e-9 * point.pump_flow
        parts = point.hose_loss + point.fitting_loss + point.lift_pressure + point.nozzle_pressure
        assert point.gauge == pytest.approx(parts, abs=1e-3) and point.gauge >= -101325.0
    assert any("The line siphons" in each for each in point.cautions)


def _anything(rng, kind):
    """A number of `kind` that is let in at all, often the least or the most of it."""
    low, high = KINDS[kind].low, KINDS[kind].high
    if rng.random() < 0.4:
        return float(rng.choice([low, high]))
    return float(np.exp(rng.uniform(np.log(low), np.log(high))) if low > 0.0 else rng.uniform(low, high))


def _any_rig(rng):
    return Rig(
        pump=Pump(_anything(rng, "flow"), rated_pressure=_anything(rng, "pressure")),
        valve=rng.choice([None, Unloader(_anything(rng, "pressure"))]),
        engine=rng.choice([None, Engine(_anything(rng, "power"))]),
        hoses=[Hose(_anything(rng, "hose_bore"), _anything(rng, "length")) for _ in range(rng.integers(3))],
        nozzle=Nozzle([Jet(_anything(rng, "jet_bore"), int(rng.choice([1, 4, 50])), angle=_anything(rng, "angle"))]),
        lift=_anything(rng, "lift"),
    )


@pytest.mark.parametrize("seed", range(4))
def test_whatever_the_doors_let_in_balances_without_a_warning(seed):
    rng, taken = np.random.default_rng(seed), 0
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        for _ in range(60):
            try:
                rig = _any_rig(rng)
            except JetlibError:
                continue
            taken += 1
            for throttle in (0.0, 0.5, 1.0):
                point = operating_point(rig, throttle)
                told = [point.gauge, point.nozzle_flow, point.bypass_flow, point.nozzle_pressure, point.reaction]
                assert np.isfinite(told).all()
                out = point.nozzle_flow + point.bypass_flow + point.leak_flow
                assert abs(point.pump_flow - out) <= 1e-9 * point.pump_flow + 1e-18, (rig, throttle)
    assert taken > 15


def test_slips_of_the_pen_are_told():
    assert not operating_point(RIG).cautions
    wide = operating_point(RIG.replace(nozzle=Nozzle([Jet("0.57 in")])))
    assert any("JETS WIDER THAN THE HOSE" in each for each in wide.cautions)
    low = operating_point(RIG.replace(valve=Unloader("3 psi")))
    assert any("psi or bar?" in each for each in low.cautions)
    slipped = operating_point(RIG.replace(hoses=[Hose("3/4 in", "100 ft")], nozzle=Nozzle([Jet("0.57 in")])))
    assert any("JETS NEARLY AS WIDE AS THE HOSE" in each for each in slipped.cautions)
    assert Pump("9 gpm", rated_pressure="207 bar").rating and Pump("9 gpm").rating is None


def test_a_valve_set_above_the_rating_of_the_pump_is_told_before_a_nozzle_plugs():
    """Large jets keep the gauge low; a plugged one would not."""
    rig = RIG.replace(pump=Pump("9 gpm", rated_pressure="2000 psi"), nozzle=Nozzle([Jet("2 mm", 5)]))
    assert operating_point(rig).gauge < rig.pump.rating
    assert any("above the pump's rating" in each for each in operating_point(rig).cautions)
    for setting, told in (("2000 psi", False), ("2050 psi", False), (["1800 psi", "2300 psi"], True)):
        assert told == any(
            "above the pump's" in each for each in operating_point(rig.with_unloader(setting=setting)).cautions
        )


@pytest.mark.parametrize(("over", "told"), [(0.98, ""), (1.02, ""), (1.04, "Pump over its rating"), (1.2, "PUMP OVER")])
def test_a_pump_over_its_rating_is_told_as_soon_as_a_gauge_can_tell_it(over, told):
    gauge = operating_point(RIG).gauge
    for _ in range(4):  # what a pump delivers hangs a little on its rating
        rated = RIG.replace(pump=Pump("9 gpm", rated_pressure=float(gauge) / over))
        gauge = operating_point(rated).gauge
    said = [each for each in operating_point(rated).cautions if "pump is rated for" in each]
    assert len(said) == bool(told) and all(each.startswith(told) for each in said)
    many = operating_point(rated.replace(lift=[0.0, 0.1])).cautions
    assert not told or any("(in 2 of 2 cases)" in each for each in many)
