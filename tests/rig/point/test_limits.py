"""What limits a rig, part by part: engine, valves, leaks, lift, narrow places, reel; and rigs at the edge of sense."""

import numpy as np
import pytest

from jetlib import BurstDisc, Engine, Fitting, Hose, Jet, Nozzle, Pump, Rig, Unloader, operating_point
from jetlib.physics import fitting, friction, hose, orifice, pump, water

GPM, PSI, GRAVITY = 3.785411784e-3 / 60.0, 6894.757293168, 9.80665
DENSITY = water.density(288.15)
FOUR = Nozzle([Jet("1.2 mm", 4)])  # at 8 gpm about 1620 psi
SHUT = Nozzle([Jet("1.2 mm", 0)])


def rig_of(**changes):
    parts = {
        "pump": Pump("8 gpm"),
        "valve": Unloader("3000 psi"),
        "hoses": [Hose("1/2 in", "200 ft")],
        "nozzle": FOUR,
    }
    return Rig(**(parts | changes))


# --- what limits ------------------------------------------------------------------------------------


def test_jets_limit():
    point = operating_point(rig_of())
    assert point.limited_by == "jets"
    assert point.nozzle_flow == pytest.approx(8 * GPM, rel=1e-12) and point.bypass_flow == 0.0
    assert point.gauge < 3000 * PSI
    assert point.cautions == ()


def test_bypass_limits():
    point = operating_point(rig_of(nozzle=Nozzle([Jet("1 mm", 3)])))
    assert point.limited_by == "bypass"
    assert 3000 * PSI < point.gauge < 1.08 * 3000 * PSI
    assert point.nozzle_flow + point.bypass_flow == pytest.approx(8 * GPM, rel=1e-9)


def test_outlet_shut_limits_and_the_unloader_takes_it_all():
    for rig in (rig_of(nozzle=SHUT), rig_of(nozzle=Nozzle()), rig_of(outlet_shut=True)):
        point = operating_point(rig)
        assert point.limited_by == "outlet shut"
        assert point.nozzle_flow == 0.0 and point.hose_loss == 0.0 and point.reaction == 0.0
        # by definition of the rise: all of the rated flow goes back at setting x (1 + rise)
        assert point.bypass_flow == pytest.approx(8 * GPM, rel=1e-9)
        assert point.gauge == pytest.approx(1.08 * 3000 * PSI, rel=1e-9)


# --- engine -----------------------------------------------------------------------------------------


def test_engine_bogs_until_its_torque_fits():
    strong = operating_point(rig_of())
    power = 0.7 * strong.shaft_power
    point = operating_point(rig_of(engine=Engine(power)))
    assert point.limited_by == "engine" and point.engine_bogged
    # P = Q p / efficiency: the definition of shaft power, with no slip in this pump
    assert point.gauge * point.pump_flow / 0.88 == pytest.approx(point.shaft_power, rel=1e-9)
    slowed = point.speed / strong.speed
    rated_torque = power / strong.speed
    assert point.shaft_power / point.speed / rated_torque == pytest.approx(1.0 + 0.5 * (1.0 - slowed), rel=1e-9)
    assert any("Engine bogs" in sentence for sentence in point.cautions)
    # between an engine of constant torque, which stops at its pressure, and one of constant power: 0.7^(1/2.95) of flow
    ends = [operating_point(rig_of(engine=Engine(power, torque_rise=rise))) for rise in (0.0, 1.0)]
    assert ends[0].gauge == pytest.approx(0.7 * strong.gauge, rel=0.01)
    assert ends[1].nozzle_flow / strong.nozzle_flow == pytest.approx(0.7 ** (1 / 2.95), rel=0.02)
    assert ends[0].gauge < point.gauge < ends[1].gauge


def test_a_motor_trips():
    strong = operating_point(rig_of())
    point = operating_point(rig_of(engine=Engine(0.7 * strong.shaft_power, kind="electric")))
    assert point.gauge == strong.gauge and not point.engine_bogged and point.motor_overloaded
    assert any("MOTOR OVERLOADED" in sentence and "trips" in sentence for sentence in point.cautions)


def test_half_the_speed_half_the_power():
    """An engine at 43 % of its speed has 35 to 45 % of its power (from memory): constant torque gives 43 %."""
    assert Engine("10 kW").available(0.43) == pytest.approx(4300.0)
    assert Engine("10 kW", kind="electric").available(0.43) == 10000.0
    assert Engine("10 kW", altitude="5000 ft", air_temperature="35 degC").available() == pytest.approx(7910, rel=1e-3)


def test_enough_engine_changes_nothing():
    strong = operating_point(rig_of())
    point = operating_point(rig_of(engine=Engine(1.0001 * strong.shaft_power)))
    assert not point.engine_bogged and point.limited_by == "jets"
    assert point.gauge == pytest.approx(strong.gauge, rel=1e-12)


def test_engine_loses_power_with_altitude():
    # agricultural-engineering rule, common practice: 3 % per 1000 ft above 500 ft; 225 hp are 198 hp at 4500 ft
    assert Engine("5 kW", altitude="4500 ft").available() == pytest.approx(5000.0 * 198.0 / 225.0, rel=1e-6)
    high, low = (operating_point(rig_of(engine=Engine("5 kW", altitude=feet))) for feet in ("4500 ft", "0 ft"))
    assert high.gauge < low.gauge and high.engine_bogged
    assert Engine("5 kW", altitude="4500 ft", kind="electric").available() == 5000.0


def test_an_engine_far_too_weak_would_stall():
    point = operating_point(rig_of(engine=Engine("200 W")))
    assert any("STALL" in sentence for sentence in point.cautions)


def test_throttle_means_little_to_a_bogged_engine():
    rig = rig_of(engine=Engine("2 kW"))
    assert operating_point(rig, 0.8).gauge == pytest.approx(operating_point(rig, 1.0).gauge, rel=0.05)


def test_bypass_wins_over_engine():
    rig = rig_of(nozzle=Nozzle([Jet("1 mm", 2)]), engine=Engine("12 kW"))
    point = operating_point(rig)
    assert point.engine_bogged and point.bypass_flow > 0.0 and point.limited_by == "bypass"


# --- pump -------------------------------------------------------------------------------------------


def test_throttle_runs_from_idle_to_rated_speed():
    rig = rig_of(pump=Pump("8 gpm", rated_speed="1500 rpm", idle_speed="600 rpm"))
    for throttle, rpm in ((0.0, 600.0), (0.5, 1050.0), (1.0, 1500.0)):
        point = operating_point(rig, throttle)
        assert point.speed * 30.0 / np.pi == pytest.approx(rpm, rel=1e-12)
        # displacement: flow goes as speed
        assert point.pump_flow == pytest.approx(8 * GPM * rpm / 1500.0, rel=1e-12)


def test_volumetric_efficiency_falls_with_pressure():
    pump = Pump("8 gpm", volumetric_efficiency=0.9, rated_pressure="2000 psi")
    point = operating_point(rig_of(pump=pump))
    # by definition: 90 % delivered at 2000 psi, and slip in proportion to pressure
    assert point.pump_flow / point.swept_flow == pytest.approx(1.0 - 0.1 * point.gauge / (2000 * PSI), rel=1e-9)
    assert point.shaft_power == pytest.approx(point.gauge * point.swept_flow / 0.88, rel=1e-12)
    small = operating_point(rig_of(pump=pump, nozzle=Nozzle([Jet("1.1 mm", 4)])))
    assert small.gauge > point.gauge and small.pump_flow < point.pump_flow


def test_a_worn_out_pump_never_opens_the_valve():
    # all of it slips back at 2000 psi/0.8 = 2500 psi, below the setting
    pump = Pump("8 gpm", volumetric_efficiency=0.2, rated_pressure="2000 psi")
    point = operating_point(rig_of(pump=pump, nozzle=SHUT))
    assert point.gauge == pytest.approx(2500 * PSI, rel=1e-9)
    assert point.bypass_flow == 0.0 and point.pump_flow == 0.0


def test_a_pump_at_rest_makes_nothing():
    for changes in ({}, {"valve": None}, {"lift": "30 ft"}, {"nozzle": SHUT}, {"engine": Engine("5 kW")}):
        point = operating_point(rig_of(pump=Pump("8 gpm", idle_speed=0.0), **changes), 0.0)
        assert point.gauge == 0.0 and point.pump_flow == 0.0 and point.nozzle_flow == 0.0
        assert point.shaft_power == 0.0 and point.speed == 0.0


def test_a_pump_at_rest_is_no_shut_outlet():
    point = operating_point(rig_of(pump=Pump("8 gpm", idle_speed=0.0)), 0.0)
    assert point.limited_by == "jets" and point.cautions == ()


# --- valves -----------------------------------------------------------------------------------------


def test_leaking_seat_passes_flow_at_any_pressure():
    rig = rig_of(valve=Unloader("3000 psi", seat_leak="1 mm"))
    for throttle in (0.0, 1.0):
        point = operating_point(rig, throttle)
        # a hole of Cd 0.62 (Unwin 1911) straight off the pump
        expected = orifice.flow(
            point.gauge, area=orifice.circle_area(1e-3), discharge_coefficient=0.62, density=DENSITY
        )
        assert point.leak_flow == pytest.approx(expected, rel=1e-12)
        assert point.bypass_flow == 0.0 and point.limited_by == "jets"
        assert point.gauge < operating_point(rig_of(), throttle).gauge


def test_trapping_unloader_holds_the_line_and_unloads_the_pump():
    rig = rig_of(outlet_shut=True, valve=Unloader("3000 psi", trapping=True, unloaded_pressure="5 bar"))
    point = operating_point(rig)
    assert point.limited_by == "outlet shut"
    assert point.gauge == 5e5
    assert 3000 * PSI <= point.line_pressure <= 1.08 * 3000 * PSI * (1 + 1e-9)
    assert point.bypass_flow == point.pump_flow == pytest.approx(8 * GPM, rel=1e-9)
    assert point.shaft_power == pytest.approx(5e5 * 8 * GPM / 0.88, rel=1e-9)
    assert point.hose_pressures[0] == point.line_pressure
    assert any("TRAPPED" in sentence for sentence in point.cautions)


def test_trapping_unloader_with_an_open_outlet_is_any_unloader():
    jets = Nozzle([Jet("1 mm", 3)])
    plain = operating_point(rig_of(nozzle=jets))
    trapping = operating_point(rig_of(nozzle=jets, valve=Unloader("3000 psi", trapping=True)))
    assert trapping.gauge == plain.gauge == trapping.line_pressure
    assert trapping.cautions == ()


def test_trapping_unloader_in_a_batch():
    rig = rig_of(nozzle=Nozzle([Jet("1.2 mm", np.array([0, 4, 0]))]), valve=Unloader("3000 psi", trapping=True))
    point = operating_point(rig, [1.0, 1.0, 0.0])
    assert np.all((point.gauge < point.line_pressure) == [True, False, True])


def test_burst_disc_goes_above_its_rating_only():
    whole = operating_point(rig_of(valve=BurstDisc("3000 psi")))
    assert whole.limited_by == "jets" and not whole.disc_open and whole.bypass_flow == 0.0
    assert whole.cautions == ()
    burst = operating_point(rig_of(valve=BurstDisc("1000 psi", bore="6 mm")))
    assert burst.limited_by == "burst disc" and burst.disc_open
    # the hole it leaves is an orifice of Cd 0.62 (Unwin 1911)
    hole = orifice.flow(burst.gauge, area=orifice.circle_area(6e-3), discharge_coefficient=0.62, density=DENSITY)
    assert burst.bypass_flow == pytest.approx(hole, rel=1e-9)
    assert burst.gauge < 1000 * PSI  # far below the rating: that is what it is for
    assert any("BURST DISC OPEN" in sentence for sentence in burst.cautions)


def test_a_burst_disc_stays_open():
    rig = rig_of(valve=BurstDisc("1000 psi", bore="6 mm"))
    before = operating_point(rig, 0.0)
    assert not before.disc_open
    burst = operating_point(rig, 1.0)
    assert burst.disc_open
    after = operating_point(rig.replace(valve=BurstDisc("1000 psi", bore="6 mm", opened=True)), 0.0)
    assert after.disc_open and after.limited_by == "burst disc"
    assert after.gauge < before.gauge and after.nozzle_flow < before.nozzle_flow
    assert rig.burst_disc.opened is False  # the rig itself is not changed


def test_unloader_and_disc_together():
    valves = [BurstDisc("3500 psi"), Unloader("3000 psi")]
    point = operating_point(rig_of(valve=valves, nozzle=Nozzle([Jet("1 mm", 3)])))
    assert point.limited_by == "bypass" and not point.disc_open
    # an unloader that sticks lets the pressure up to the disc
    stuck = [Unloader("6000 psi"), BurstDisc("3500 psi", bore="6 mm")]
    point = operating_point(rig_of(valve=stuck, nozzle=SHUT))
    assert point.disc_open and point.limited_by == "outlet shut"
    assert point.bypass_flow == pytest.approx(8 * GPM, rel=1e-9) and point.gauge < 3500 * PSI


def test_no_protection_is_said_at_every_throttle():
    for throttle in (0.0, 1.0):
        point = operating_point(rig_of(valve=None), throttle)
        assert point.limited_by == "jets"
        assert any("NO PROTECTION" in sentence and "manual" in sentence for sentence in point.cautions)


@pytest.mark.parametrize("volumetric", [1.0, 0.95])
@pytest.mark.parametrize("engine", [None, Engine("5 kW", kind="electric")])
def test_shut_without_a_valve_is_finite_and_loud(volumetric, engine):
    pump = Pump("8 gpm", volumetric_efficiency=volumetric)
    point = operating_point(rig_of(valve=None, outlet_shut=True, pump=pump, engine=engine))
    assert np.isfinite(point.gauge) and point.gauge > 5000 * PSI
    assert point.pump_flow == point.nozzle_flow == point.bypass_flow == 0.0
    assert point.limited_by == "outlet shut"
    assert any("OUTLET SHUT WITHOUT A VALVE" in sentence for sentence in point.cautions)


def test_rise_of_nothing_holds_the_setting():
    point = operating_point(rig_of(nozzle=SHUT, valve=Unloader("3000 psi", rise=0.0)))
    assert point.gauge == pytest.approx(3000 * PSI, rel=2e-4)


# --- pressure the hoses see -------------------------------------------------------------------------


def test_hose_over_its_working_pressure():
    tight = [
        Hose("1/2 in", "200 ft", working_pressure="2000 psi"),
        Hose("3/8 in", "50 ft", working_pressure="1500 psi"),
    ]
    point = operating_point(rig_of(hoses=tight))
    seen = np.array([point.gauge, point.gauge - point.hose_losses[0]])
    np.testing.assert_allclose(point.hose_pressures, seen, rtol=1e-12)
    assert list(point.over_pressure) == [False, True]
    loud = [sentence for sentence in point.cautions if "OVER ITS WORKING PRESSURE" in sentence]
    assert len(loud) == 1 and loud[0].startswith("HOSE 2") and "1500 psi" in loud[0]
    assert not operating_point(rig_of(hoses=tight), 0.0).over_pressure.any()


def test_a_shut_tap_loads_every_hose():
    hoses = [Hose("1/2 in", "200 ft"), Hose("3/8 in", "50 ft", working_pressure="2500 psi")]
    point = operating_point(rig_of(hoses=hoses, outlet_shut=True))
    assert list(point.over_pressure) == [False, True]
    assert point.hose_pressures[1] == point.line_pressure


# --- lift -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("feet", [-60.0, 90.0])
def test_lift_adds_its_column_of_water(feet):
    flat, tilted = operating_point(rig_of()), operating_point(rig_of(lift=f"{feet} ft"))
    # hydrostatics: rho g h, the flow being the pump's in both
    assert tilted.gauge - flat.gauge == pytest.approx(DENSITY * GRAVITY * feet * 0.3048, rel=1e-6)
    assert tilted.nozzle_flow == flat.nozzle_flow
    assert tilted.power_shares["lift"] == pytest.approx(tilted.lift_pressure * tilted.nozzle_flow)


def test_a_nozzle_out_of_reach():
    point = operating_point(rig_of(valve=Unloader("20 bar"), lift="300 m"))
    assert point.nozzle_flow == 0.0 and point.limited_by == "bypass"
    assert point.gauge == pytest.approx(1.08 * 20e5, rel=1e-9) and point.gauge < point.lift_pressure
    assert any("NOTHING LEAVES THE NOZZLE" in sentence for sentence in point.cautions)
    assert not any("SHUT" in sentence for sentence in point.cautions)


def test_a_worn_pump_cannot_push_up_a_high_lift():
    # all of it slips back at 10 bar/0.8 = 12.5 bar, and 200 m of water are 19.6 bar
    pump = Pump("8 gpm", volumetric_efficiency=0.2, rated_pressure="10 bar")
    point = operating_point(rig_of(pump=pump, lift="200 m"))
    assert point.nozzle_flow == point.pump_flow == 0.0
    assert point.gauge == pytest.approx(12.5e5, rel=1e-9)


def test_running_downhill_pulls_the_gauge_below_zero():
    point = operating_point(rig_of(lift="-100 m", nozzle=Nozzle([Jet("4 mm", 4)])), 0.0)
    assert point.gauge < 0.0 and point.nozzle_flow == pytest.approx(point.swept_flow, rel=1e-12)
    assert any("siphon" in sentence for sentence in point.cautions)


# --- narrow places ----------------------------------------------------------------------------------


def added_loss(**changes):
    """Pressure that a change to the rig adds, and velocity head in a bore, both Pa, at 8 gpm."""
    return operating_point(rig_of(**changes)).gauge - operating_point(rig_of()).gauge


def head(bore):
    v = 8 * GPM / (np.pi / 4.0 * bore**2)
    return DENSITY * v * v / 2.0


def test_fitting_by_loss_coefficient():
    # definition of K: dp = K rho V^2/2; K 0.9 of a short-radius elbow, EPANET 2.2 User Manual Table 3.3
    elbows = [Fitting("8 mm", loss_coefficient=0.9, count=3)]
    found = added_loss(fittings=elbows)
    assert found == pytest.approx(3 * 0.9 * head(8e-3), rel=1e-9)
    assert operating_point(rig_of(fittings=elbows)).fitting_loss == pytest.approx(found, rel=1e-9)


def test_fitting_by_reduced_bore():
    # Borda-Carnot (1 - beta^2)^2 and Crane's 0.5 (1 - beta^2): at half the bore 0.5625 + 0.375
    found = added_loss(fittings=[Fitting("6 mm", line_bore="12 mm")])
    assert found == pytest.approx((0.5625 + 0.375) * head(6e-3), rel=1e-9)


def test_mean_hose_ends():
    # as above, one at each end
    found = added_loss(hoses=[Hose("1/2 in", "200 ft", end_bore="6.45 mm")])
    assert found == pytest.approx(2 * (0.5625 + 0.375) * head(6.45e-3), rel=1e-9)
    assert added_loss(hoses=[Hose("1/2 in", "200 ft", end_bore="12.9 mm")]) == pytest.approx(0.0, abs=1e-3)


def test_nozzle_body():
    found = added_loss(nozzle=FOUR.replace(body_bore="8 mm", body_loss_coefficient=2.5))
    assert found == pytest.approx(2.5 * head(8e-3), rel=1e-9)


def test_reel_costs_more_than_straight():
    def gauge(**reel):
        return operating_point(rig_of(hoses=[Hose("9.525 mm", "200 ft", **reel)])).hose_losses[0]

    off = gauge()
    on = gauge(coil_diameter="0.5 m")
    half = gauge(coil_diameter="0.5 m", coiled_length="100 ft")
    reynolds = hose.reynolds_number(8 * GPM, bore=0.375 * 0.0254, density=DENSITY, viscosity=water.viscosity(288.15))
    assert on / off == pytest.approx(friction.coil_ratio(reynolds, 0.375 * 0.0254, 0.5), rel=1e-9)
    assert half == pytest.approx((on + off) / 2.0, rel=1e-9)
    assert 1.1 < on / off < 1.3  # Ito 1959 at this Reynolds number and coil: about a fifth more
    assert gauge(coil_diameter="0.5 m", coiled_length=0) == pytest.approx(off, rel=1e-12)


# --- edges ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "changes",
    [
        {"hoses": []},
        {"hoses": [Hose("1/2 in", 0)]},
        {"hoses": [Hose("1/8 in", "500 m")]},
        {"hoses": [Hose("1/8 in", "500 m")], "valve": None},
        {"hoses": [Hose("1/2 in", "1 mm", coil_diameter="0.3 m")]},
        {"nozzle": Nozzle([Jet("0.5 mm")])},
        {"nozzle": Nozzle([Jet("0.1 mm")]), "valve": None},
        {"nozzle": Nozzle([Jet("1.5 mm", 40)])},
        {"nozzle": Nozzle([Jet("20 mm", 1000)])},
        {"nozzle": Nozzle([Jet("1.2 mm", 0), Jet("1.2 mm", 4)])},
        {"nozzle": SHUT},
        {"nozzle": SHUT, "valve": None},
        {"nozzle": SHUT, "valve": None, "hoses": []},
        {"nozzle": SHUT, "valve": BurstDisc("3000 psi")},
        {"nozzle": SHUT, "valve": BurstDisc("3000 psi", opened=True)},
        {"pump": Pump("8 gpm", idle_speed=0.0)},
        {"pump": Pump("8 gpm", volumetric_efficiency=0.2, rated_pressure="10 bar")},
        {"pump": Pump("0.001 gpm")},
        {"valve": Unloader("3000 psi", rise=0.0)},
        {"valve": Unloader("3000 psi", rise=1.0)},
        {"valve": Unloader("3000 psi", seat_leak="0.01 mm")},
        {"valve": Unloader("3000 psi", seat_leak="20 mm")},
        {"water_temperature": "0 degC"},
        {"water_temperature": "60 degC"},
        {"engine": Engine("200 W")},
        {"lift": 1000.0},
        {"lift": -1000.0},
    ],
    ids=str,
)
@pytest.mark.parametrize("throttle", [0.0, 1.0])
def test_edge_rigs(changes, throttle):
    rig = rig_of(**changes)
    point = operating_point(rig, throttle)
    numbers = [point.gauge, point.line_pressure, point.speed, point.shaft_power, point.reaction, point.hose_loss]
    assert np.all(np.isfinite(numbers)) and np.all(np.isfinite(point.hose_losses))
    away = point.nozzle_flow + point.bypass_flow + point.leak_flow
    assert away == pytest.approx(point.pump_flow, rel=1e-9, abs=1e-25)
    assert sum(point.power_shares.values()) == pytest.approx(point.hydraulic_power, rel=1e-9, abs=1e-18)
    assert point.pump_flow <= rig.pump.swept_flow(throttle) * (1 + 1e-12)
    assert isinstance(point.cautions, tuple) and len(point.hose_losses) == len(rig.hoses)


def test_no_hose_is_the_jets_alone():
    point = operating_point(rig_of(hoses=[]))
    # Q = Cd A sqrt(2 dp/rho), turned round
    expected = orifice.pressure(8 * GPM, area=FOUR.area, discharge_coefficient=0.75, density=DENSITY)
    assert point.gauge == pytest.approx(expected, rel=1e-12) and point.hose_loss == 0.0
    assert operating_point(rig_of(hoses=[Hose("1/2 in", 0)])).gauge == pytest.approx(expected, rel=1e-12)


def test_warm_water_is_thinner():
    cold, warm = (operating_point(rig_of(water_temperature=t)) for t in ("0 degC", "60 degC"))
    assert warm.hose_loss < 0.85 * cold.hose_loss
    # the jets only feel density: 999.8 and 983.2 kg/m3 (IAPWS-95)
    assert warm.nozzle_pressure / cold.nozzle_pressure == pytest.approx(983.196 / 999.84, rel=1e-4)


def test_a_fitting_bore_squeezed_by_nothing_costs_nothing():
    assert fitting.reduced_bore(8e-3, 8e-3) == 0.0
    assert added_loss(fittings=[Fitting("8 mm", line_bore="8 mm")]) == pytest.approx(0.0, abs=1e-3)
    assert added_loss(fittings=[Fitting("8 mm", loss_coefficient=5.0, count=0)]) == pytest.approx(0.0, abs=1e-3)


def test_arrays_that_do_not_enter_the_equation_give_their_shape_too():
    angles, limits = np.array([[0.0], [0.5]]), np.array([2e7, 1e7, 1e6])
    hoses = [Hose("1/2 in", "200 ft", working_pressure=limits), Hose("3/8 in", "10 ft", working_pressure="1 bar")]
    point = operating_point(rig_of(hoses=hoses, nozzle=Nozzle([Jet("1.2 mm", 4, angle=angles)])))
    assert point.gauge.shape == point.reaction.shape == (2, 3) and point.over_pressure.shape == (2, 2, 3)
    np.testing.assert_array_equal(point.over_pressure[0], [[False, True, True]] * 2)
    np.testing.assert_allclose(point.reaction[1] / point.reaction[0], np.cos(0.5))
    assert len(point.cautions) == 2


def test_cautions_of_a_batch_count_the_cases():
    hoses = [Hose("1/2 in", "200 ft", working_pressure=np.array([1500 * PSI, 5000 * PSI, 1000 * PSI]))]
    point = operating_point(rig_of(hoses=hoses))
    (loud,) = point.cautions
    assert "in 2 of 3 cases" in loud and "1000 psi" in loud  # the worst of them


def test_unloader_pressure_is_the_valves_own_law():
    point = operating_point(rig_of(nozzle=Nozzle([Jet("1 mm", 3)])))
    held = pump.unloader_pressure(point.bypass_flow, setting=3000 * PSI, rise=0.08, full_flow=8 * GPM)
    assert point.gauge == pytest.approx(held, rel=1e-9)


def test_reaction_is_rear_less_front():
    # momentum: rho Q V of each jet along the hose; rear at 30 deg pull by cos 30, a front jet pushes back in full
    rear, front = Jet("1.2 mm", 3, angle="30 deg"), Jet("1.2 mm", 1, angle="180 deg")
    point = operating_point(rig_of(nozzle=Nozzle([rear, front])))
    each = 0.97 * DENSITY * point.nozzle_flow / 4.0 * np.sqrt(2.0 * point.nozzle_pressure / DENSITY)
    assert point.reaction == pytest.approx(each * (3.0 * np.cos(np.pi / 6.0) - 1.0), rel=1e-9)
