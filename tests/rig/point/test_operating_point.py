"""The operating point against published worked rigs, an independent root finder, and the balances it must keep."""

import fluids
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from iapws import IAPWS95
from scipy.optimize import brentq

from jetlib import (
    BurstDisc,
    Engine,
    Fitting,
    Hose,
    Jet,
    JetlibError,
    Nozzle,
    Pump,
    Rig,
    Unloader,
    operating_point,
    throttle_sweep,
)
from jetlib.physics import orifice, pump

GPM, PSI, INCH, FOOT, GRAVITY = 3.785411784e-3 / 60.0, 6894.757293168, 0.0254, 0.3048, 9.80665
NUMBERS = [
    *("gauge", "line_pressure", "lift_pressure", "nozzle_pressure", "hose_loss", "fitting_loss"),
    *("pump_flow", "swept_flow", "nozzle_flow", "bypass_flow", "leak_flow"),
    *("speed", "shaft_power", "hydraulic_power", "reaction"),
]


def properties(examples):
    return settings(max_examples=examples, deadline=None, derandomize=True, database=None)


def yard(**changes):
    """A rig of no particular size, sound in every part."""
    rig = Rig(
        pump=Pump("8 gpm", volumetric_efficiency=0.95, rated_pressure="3000 psi"),
        valve=Unloader("3000 psi"),
        hoses=[Hose("1/2 in", "200 ft"), Hose("3/8 in", "50 ft")],
        nozzle=Nozzle([Jet("1 mm", 4, angle="30 deg")]),
    )
    return rig.replace(**changes)


# --- worked rigs ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("gpm", "celsius", "hoses", "roughness_mm", "holes", "cd", "hose_psi", "nozzle_psi", "pump_psi"),
    [
        # Colebrook in series with Q = Cd A sqrt(2 dP/rho), computed with the libraries fluids and iapws
        (
            4.0,
            15,
            [(200, 0.375), (50, 0.25)],
            0.0015,
            [0.040, 0.043, 0.043, 0.043],
            0.90,
            (139.43, 245.404),
            434.368,
            819.201,
        ),
        (
            8.0,
            15,
            [(200, 0.5), (50, 0.375)],
            0.01,
            [0.052, 0.055, 0.055, 0.055],
            0.75,
            (131.669, 137.463),
            921.109,
            1190.241,
        ),
        (
            2.0,
            10,
            [(100, 0.25), (50, 0.1875)],
            0.0015,
            [0.035, 0.035, 0.035],
            0.62,
            (146.894, 292.187),
            865.95,
            1305.031,
        ),
    ],
)
def test_hoses_and_jets_in_series(gpm, celsius, hoses, roughness_mm, holes, cd, hose_psi, nozzle_psi, pump_psi):
    rig = Rig(
        pump=Pump(f"{gpm} gpm"),
        valve=Unloader("5000 psi"),
        hoses=[Hose(f"{bore} in", f"{feet} ft", roughness=f"{roughness_mm} mm") for feet, bore in hoses],
        nozzle=Nozzle([Jet(f"{hole} in", discharge_coefficient=cd) for hole in holes]),
        water_temperature=f"{celsius} degC",
    )
    point = operating_point(rig)
    # five or six figures are printed; the viscosity of water moves the last of them
    assert point.hose_losses / PSI == pytest.approx(np.array(hose_psi), rel=2e-4)
    assert point.nozzle_pressure / PSI == pytest.approx(nozzle_psi, rel=1e-4)
    assert point.gauge / PSI == pytest.approx(pump_psi, rel=2e-4)
    assert point.nozzle_flow / GPM == pytest.approx(gpm, rel=1e-12)
    assert point.limited_by == "jets"
    assert point.cautions == ()


def independent_flow(rig, throttle):
    """Nozzle flow by fluids, iapws and brentq, which share no line with the engine. Straight hose, Re above 4000."""
    water = IAPWS95(T=rig.water_temperature, P=0.101325)
    pump, unloader = rig.pump, rig.unloader
    speed = pump.idle_speed + throttle * (pump.rated_speed - pump.idle_speed)
    swept_asked = pump.rated_flow * speed / pump.rated_speed

    def pressure(q):
        total = water.rho * GRAVITY * rig.lift
        for hose in rig.hoses:
            v = q / (np.pi / 4.0 * hose.bore**2)
            f = fluids.friction_factor(Re=water.rho * v * hose.bore / water.mu, eD=hose.roughness / hose.bore)
            total += f * hose.length / hose.bore * water.rho / 2.0 * v * v
        for fitting in rig.fittings:
            v = q / (np.pi / 4.0 * fitting.bore**2)
            total += fitting.count * fitting.loss_coefficient * water.rho / 2.0 * v * v
        area = sum(jet.count * jet.discharge_coefficient * np.pi / 4.0 * jet.bore**2 for jet in rig.nozzle.jets)
        return total + water.rho / 2.0 * (q / area) ** 2

    def surplus(q):
        p = pressure(q)
        swept = swept_asked
        if rig.engine:  # torque is pressure times displacement; it climbs by half of the share of speed lost
            over = p * pump.rated_flow / (rig.engine.power * pump.mechanical_efficiency) - 1.0
            swept = swept_asked * min(max(1.0 - max(over, 0.0) / 0.5, 0.0), 1.0)
        slip = (1.0 - pump.volumetric_efficiency) * pump.rated_flow * p / pump.rated_pressure
        over = max(p - unloader.setting, 0.0) / (unloader.rise * unloader.setting)
        leak = 0.62 * np.pi / 4.0 * unloader.seat_leak**2 * np.sqrt(2.0 * max(p, 0.0) / water.rho)
        return swept - slip - pump.rated_flow * over**2 - leak - q

    return brentq(surplus, 1e-7, swept_asked, xtol=1e-18, rtol=1e-14), pressure


def test_root_against_an_independent_solver():
    rng = np.random.default_rng(11)
    seen = set()
    for case in range(60):
        rated = rng.uniform(4.0, 20.0) * GPM
        rig = Rig(
            pump=Pump(rated, volumetric_efficiency=rng.uniform(0.85, 1.0), rated_pressure=2e7),
            valve=Unloader(rng.uniform(1e7, 3e7), rise=rng.uniform(0.02, 0.2), seat_leak=rng.choice([0.0, 4e-4])),
            hoses=[
                Hose(rng.uniform(0.009, 0.014), rng.uniform(10.0, 100.0), roughness=rng.uniform(0.0, 3e-5)),
                Hose(rng.uniform(0.007, 0.009), rng.uniform(1.0, 15.0), roughness=rng.uniform(0.0, 3e-5)),
            ],
            nozzle=Nozzle([Jet(rng.uniform(0.001, 0.0016), int(rng.integers(2, 6))), Jet(0.001)]),
            engine=Engine(rated * rng.uniform(1e7, 3e7)) if case % 3 == 0 else None,
            fittings=[Fitting(0.009, loss_coefficient=rng.uniform(0.0, 3.0), count=2)],
            lift=rng.uniform(-20.0, 40.0),
            water_temperature=rng.uniform(278.0, 323.0),
        )
        throttle = rng.uniform(0.3, 1.0)
        point = operating_point(rig, throttle)
        flow, pressure = independent_flow(rig, throttle)
        # IAPWS-95 and the engine's water differ by 1e-4 in density and under 1 % in viscosity
        assert point.nozzle_flow == pytest.approx(flow, rel=1e-3)
        assert point.gauge == pytest.approx(pressure(flow), rel=2e-3)
        seen.add(point.limited_by)
    assert seen == {"jets", "bypass", "engine"}


def test_root_against_an_independent_solver_on_the_same_water():
    # With the engine's own density and viscosity only the root finder and Colebrook's equation differ
    from jetlib.physics import water

    rig = yard(lift="30 ft")
    density, viscosity = water.density(rig.water_temperature), water.viscosity(rig.water_temperature)
    area = rig.nozzle.effective_area

    def pressure(q):
        total = density * GRAVITY * rig.lift + density / 2.0 * (q / area) ** 2
        for hose in rig.hoses:
            v = q / (np.pi / 4.0 * hose.bore**2)
            f = fluids.friction_factor(Re=density * v * hose.bore / viscosity, eD=hose.roughness / hose.bore)
            total += f * hose.length / hose.bore * density / 2.0 * v * v
        return total

    def surplus(q):
        p = pressure(q)
        over = max(p - rig.valve.setting, 0.0) / (rig.valve.rise * rig.valve.setting)
        return rig.pump.rated_flow * (1.0 - 0.05 * p / rig.pump.rated_pressure - over**2) - q

    flow = brentq(surplus, 1e-6, rig.pump.rated_flow, xtol=1e-18, rtol=1e-14)
    point = operating_point(rig)
    assert point.limited_by == "bypass"
    assert point.nozzle_flow == pytest.approx(flow, rel=1e-9)
    assert point.gauge == pytest.approx(pressure(flow), rel=1e-9)


# --- balances, for any rig --------------------------------------------------------------------------


@properties(250)
@given(rig=st.from_type(Rig), throttle=st.sampled_from([0.0, 1e-9, 0.3, 1.0]))
def test_balances_close_and_nothing_is_nan(rig, throttle):
    point = operating_point(rig, throttle)
    for name in NUMBERS:
        value = getattr(point, name)
        assert type(value) is float and np.isfinite(value), name
    assert np.all(np.isfinite(point.hose_losses))
    assert min(point.nozzle_flow, point.bypass_flow, point.leak_flow, point.swept_flow) >= 0.0
    assert point.limited_by in ("jets", "bypass", "engine", "burst disc", "outlet shut")
    assert all(isinstance(sentence, str) and sentence for sentence in point.cautions)

    rounding = 4e-16 * point.swept_flow  # where slip leaves almost nothing, that is a difference of two large numbers
    away = point.nozzle_flow + point.bypass_flow + point.leak_flow
    assert away == pytest.approx(point.pump_flow, rel=1e-9, abs=rounding)
    # pump power = jets + hose + fittings + bypass + leak + lift
    shares = point.power_shares
    assert sum(shares.values()) == pytest.approx(
        point.hydraulic_power, rel=1e-9, abs=rounding * abs(point.gauge) + 1e-15 * sum(map(abs, shares.values()))
    )
    # pressure falls from gauge to nothing along the line
    if point.nozzle_flow > 0.0:
        line = point.hose_loss + point.fitting_loss + point.lift_pressure + point.nozzle_pressure
        assert line == pytest.approx(point.gauge, rel=1e-12, abs=1e-12 * abs(point.lift_pressure))
    # and the pump keeps to displacement, slip and the power of its engine
    if point.limited_by != "outlet shut":
        slip = rig.pump.slip * max(point.gauge, 0.0)
        assert point.pump_flow == pytest.approx(point.swept_flow - slip, rel=1e-9, abs=2e-10 * point.swept_flow)
    assert point.swept_flow <= rig.pump.swept_flow(throttle) * (1.0 + 1e-12)
    if rig.engine is not None and not rig.outlet_shut:
        most = rig.engine.available(point.speed / rig.pump.rated_speed) * 1.5  # its torque climbs by half at most
        assert rig.engine.kind == "electric" or point.shaft_power <= most * (1.0 + 1e-9)


@properties(60)
@given(rig=st.from_type(Rig), throttle=st.sampled_from([0.0, 0.5, 1.0]))
def test_valve_and_jets_keep_to_their_own_laws(rig, throttle):
    point = operating_point(rig, throttle)
    density = float(point._density)
    if point.nozzle_flow > 0.0:
        flows = [
            orifice.flow(
                point.nozzle_pressure,
                area=jet.area,
                discharge_coefficient=jet.discharge_coefficient,
                density=density,
            )
            for jet in rig.nozzle.jets
        ]
        np.testing.assert_allclose(point.jet_flows, flows, rtol=1e-9)
        assert sum(flows) == pytest.approx(point.nozzle_flow, rel=1e-9)
    if rig.unloader is not None and not point.disc_open and point.limited_by == "bypass":
        held = pump.unloader_pressure(
            point.bypass_flow,
            setting=rig.unloader.setting,
            rise=rig.unloader.rise,
            full_flow=rig.pump.rated_flow,
        )
        assert point.gauge == pytest.approx(held, rel=1e-9)


# --- which way things go ----------------------------------------------------------------------------


def with_a_way_out(rig):
    """The rig with one hose and one jet at least, its tap open, and no disc, which would break the order of things."""
    return rig.replace(
        valve=rig.unloader,
        hoses=rig.hoses or [Hose("3/8 in", "100 ft")],
        nozzle=rig.nozzle.replace(jets=[*rig.nozzle.jets, Jet("1 mm")]),
        outlet_shut=False,
    )


open_rigs = st.from_type(Rig).map(with_a_way_out)
WIDER = 1.0 + 1e-9


@properties(60)
@given(rig=open_rigs)
def test_more_throttle_more_flow_and_pressure(rig):
    point = throttle_sweep(rig, np.linspace(0.0, 1.0, 9))
    slack = 1e-9 * point.pump_flow.max()
    assert np.all(np.diff(point.nozzle_flow) >= -slack)
    downhill = np.maximum(-point.lift_pressure, 0.0).max()  # a pump at rest reads 0, however deep the nozzle hangs
    assert np.all(np.diff(point.gauge) >= -1e-9 * np.abs(point.gauge).max() - downhill)
    assert np.all(np.diff(point.bypass_flow + point.leak_flow) >= -slack)


@properties(40)
@given(rig=open_rigs, throttle=st.sampled_from([0.2, 1.0]))
def test_longer_or_rougher_hose_less_out_and_more_on_the_gauge(rig, throttle):
    hose = rig.hoses[0]
    longer = hose.replace(length=1.5 * hose.length, coiled_length=1.5 * hose.coiled_length)
    rougher = hose.replace(roughness=hose.roughness + 5e-6)
    before = operating_point(rig, throttle)
    for changed in (longer, rougher):
        after = operating_point(rig.replace(hoses=[changed, *rig.hoses[1:]]), throttle)
        assert after.nozzle_flow <= before.nozzle_flow * WIDER
        assert after.gauge >= before.gauge - 1e-9 * (abs(before.gauge) + abs(before.lift_pressure))


@properties(40)
@given(rig=open_rigs, throttle=st.sampled_from([0.2, 1.0]))
def test_wider_hose_more_out_and_less_on_the_gauge(rig, throttle):
    hose = rig.hoses[0].replace(coil_diameter=None, end_bore=None)
    before = operating_point(rig.replace(hoses=[hose, *rig.hoses[1:]]), throttle)
    after = operating_point(rig.replace(hoses=[hose.replace(bore=1.1 * hose.bore), *rig.hoses[1:]]), throttle)
    assert after.nozzle_flow >= before.nozzle_flow / WIDER
    assert after.gauge <= before.gauge + 1e-9 * (abs(before.gauge) + abs(before.lift_pressure))


@properties(40)
@given(rig=open_rigs, throttle=st.sampled_from([0.2, 1.0]), more=st.sampled_from(["count", "bore", "cd"]))
def test_larger_jets_more_out_and_less_on_the_gauge(rig, throttle, more):
    def larger(jet):
        if more == "count":
            return jet.replace(count=jet.count + 1)
        if more == "bore":
            return jet.replace(bore=1.2 * jet.bore)
        return jet.replace(discharge_coefficient=min(1.05 * jet.discharge_coefficient, 1.0))

    before = operating_point(rig, throttle)
    after = operating_point(
        rig.replace(nozzle=rig.nozzle.replace(jets=[larger(jet) for jet in rig.nozzle.jets])), throttle
    )
    assert after.nozzle_flow >= before.nozzle_flow / WIDER
    assert after.gauge <= before.gauge + 1e-9 * (abs(before.gauge) + abs(before.lift_pressure))


@properties(40)
@given(rig=open_rigs, throttle=st.sampled_from([0.2, 1.0]), setting=st.floats(2e6, 5e7))
def test_higher_setting_more_out(rig, throttle, setting):
    unloader = rig.unloader or Unloader(setting)
    before = operating_point(rig.replace(valve=unloader.replace(setting=setting)), throttle)
    after = operating_point(rig.replace(valve=unloader.replace(setting=1.2 * setting)), throttle)
    assert after.nozzle_flow >= before.nozzle_flow / WIDER
    assert after.gauge >= before.gauge - 1e-9 * (abs(before.gauge) + abs(before.lift_pressure))


def test_areas_add_and_counts_do_not():
    # Bernoulli: two holes of one area pass what one hole of twice the area passes
    one = operating_point(yard(nozzle=Nozzle([Jet("2 mm", 2)])))
    other = operating_point(yard(nozzle=Nozzle([Jet(2e-3 * np.sqrt(2.0))])))
    split = operating_point(yard(nozzle=Nozzle([Jet("2 mm"), Jet("2 mm", 1)])))
    assert one.gauge == pytest.approx(other.gauge, rel=1e-12)
    assert one.gauge == pytest.approx(split.gauge, rel=1e-12)


def test_order_of_hoses_changes_no_reading():
    rig = yard()
    turned = rig.replace(hoses=rig.hoses[::-1])
    assert operating_point(turned).gauge == pytest.approx(operating_point(rig).gauge, rel=1e-10)
    np.testing.assert_allclose(operating_point(turned).hose_losses, operating_point(rig).hose_losses[::-1], rtol=1e-9)


# --- arrays -----------------------------------------------------------------------------------------

SHAPES_AGREE = {"rtol": 1e-8, "atol": 1e-9}


def assert_like_scalars(point, rig_at, throttles, shape):
    """`point` of arrays is the loop of `operating_point(rig_at(index), throttle)`."""
    throttles = np.broadcast_to(throttles, shape)
    for index in np.ndindex(shape):
        single = operating_point(rig_at(index), float(throttles[index]))
        for name in NUMBERS:
            found = getattr(point, name)[index]
            np.testing.assert_allclose(
                found, getattr(single, name), rtol=2e-9, atol=1e-9 * abs(single.gauge) if "pressure" in name else 1e-13
            )
        np.testing.assert_allclose(point.hose_losses[(slice(None), *index)], single.hose_losses, rtol=2e-9)
        assert point.limited_by[index] == single.limited_by
        assert point.disc_open[index] == single.disc_open and point.engine_bogged[index] == single.engine_bogged


def test_array_is_a_loop_of_scalars_over_mixed_fields():
    bores = np.array([0.008, 0.0127, 0.02, 0.0127])
    counts = np.array([0, 1, 4, 40])
    settings_ = np.array([[1e7], [2e7], [4e7]])
    lifts = np.array([[-10.0], [0.0], [60.0]])
    throttles = np.array([[0.0], [0.6], [1.0]])
    rig = Rig(
        pump=Pump("8 gpm", volumetric_efficiency=0.9, rated_pressure="3000 psi"),
        valve=[Unloader(settings_, rise=0.05, seat_leak=4e-4), BurstDisc("3500 psi", bore="6 mm")],
        hoses=[Hose(bores, 60.0, coil_diameter=0.5, coiled_length=20.0), Hose("3/8 in", "50 ft")],
        nozzle=Nozzle([Jet("1.2 mm", counts)]),
        engine=Engine("9 kW"),
        lift=lifts,
    )

    def rig_at(index):
        row, column = index
        return rig.replace(
            valve=[rig.unloader.replace(setting=settings_[row, 0]), rig.burst_disc],
            hoses=[rig.hoses[0].replace(bore=bores[column]), rig.hoses[1]],
            nozzle=Nozzle([Jet("1.2 mm", int(counts[column]))]),
            lift=lifts[row, 0],
        )

    point = operating_point(rig, throttles)
    assert point.gauge.shape == (3, 4) and point.hose_losses.shape == (2, 3, 4)
    assert point.limited_by.shape == (3, 4)
    assert {"jets", "bypass", "outlet shut"} <= set(point.limited_by.ravel())
    assert_like_scalars(point, rig_at, throttles, (3, 4))


def test_array_without_unloader_is_a_loop_of_scalars():
    throttles, counts = np.array([0.0, 0.5, 1.0]), np.array([[1], [4], [0]])
    rig = Rig(
        pump=Pump("6 gpm"),
        hoses=[Hose("1/4 in", "100 ft")],
        nozzle=Nozzle([Jet("1 mm", counts)]),
        engine=Engine("6 kW"),
    )
    point = operating_point(rig, throttles)
    assert_like_scalars(
        point, lambda index: rig.replace(nozzle=Nozzle([Jet("1 mm", int(counts[index[0], 0]))])), throttles, (3, 3)
    )


@pytest.mark.parametrize("shape", [(1,), (1, 1), (5,), (2, 1, 3)])
def test_results_have_the_broadcast_shape(shape):
    point = operating_point(yard(), np.full(shape, 0.7))
    single = operating_point(yard(), 0.7)
    for name in (*NUMBERS, "limit_code", "disc_open", "engine_bogged"):
        assert np.shape(getattr(point, name)) == shape, name
    for name in ("hose_losses", "hose_pressures", "hose_velocities", "over_pressure"):
        assert np.shape(getattr(point, name)) == (2, *shape), name
    assert point.jet_flows.shape == (1, *shape)
    np.testing.assert_allclose(point.gauge, single.gauge, rtol=1e-9)
    assert isinstance(point.cautions, tuple)


def test_many_rigs_go_through_in_blocks():
    # more rigs than one block holds, the first and last of each block included
    from jetlib.rig.point.solver import BLOCK

    lengths = np.linspace(1.0, 300.0, 2 * BLOCK + 5)
    point = operating_point(yard(hoses=[Hose("3/8 in", lengths)]))
    for at in (0, 1, BLOCK - 1, BLOCK, 2 * BLOCK, lengths.size - 1):
        single = operating_point(yard(hoses=[Hose("3/8 in", float(lengths[at]))]))
        assert point.gauge[at] == pytest.approx(single.gauge, rel=1e-9)
        assert point.nozzle_flow[at] == pytest.approx(single.nozzle_flow, rel=1e-9)
    imbalance = point.pump_flow - point.nozzle_flow - point.bypass_flow - point.leak_flow
    assert np.all(np.abs(imbalance) < 1e-9 * point.pump_flow)


def test_shapes_that_do_not_go_together_are_refused():
    with pytest.raises(JetlibError, match="do not go together"):
        operating_point(yard(hoses=[Hose("1/2 in", np.array([10.0, 20.0, 30.0]))]), [0.1, 0.2, 0.3, 0.4])


@pytest.mark.parametrize("throttle", [-0.1, 1.1, np.nan, np.inf, "half", None, [0.5, 2.0], [], "3 gpm"])
def test_a_throttle_that_is_none_is_refused(throttle):
    with pytest.raises(JetlibError, match="throttle"):
        operating_point(yard(), throttle)


def test_throttle_may_be_text_or_whole_number():
    assert operating_point(yard(), "50 %").gauge == operating_point(yard(), 0.5).gauge
    assert operating_point(yard(), 1).gauge == operating_point(yard()).gauge
