"""The parts of a rig: what they take, what they refuse and how they say so, and how they change."""

import dataclasses

import numpy as np
import pint
import pytest

from jetlib import BurstDisc, Engine, Fitting, Hose, Jet, JetlibError, Nozzle, Pump, Rig, Unloader

PUMP = Pump("8 gpm")

# --- what is taken ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("given", "si"),
    [
        # by definition: US gallon 3.785411784 L, psi 6894.757293168 Pa, inch 25.4 mm
        (lambda: Pump("8 gpm").rated_flow, 8 * 3.785411784e-3 / 60),
        (lambda: Pump("30 L/min").rated_flow, 30e-3 / 60),
        (lambda: Pump("30l/min").rated_flow, 30e-3 / 60),
        (lambda: Pump(5e-4).rated_flow, 5e-4),
        (lambda: Pump("8 gpm", rated_speed="1500 rpm").rated_speed, 50 * np.pi),
        (lambda: Pump("8 gpm", volumetric_efficiency="95 %").volumetric_efficiency, 0.95),
        (lambda: Unloader("3500 psi").setting, 3500 * 6894.757293168),
        (lambda: Unloader("240 bar").setting, 240e5),
        (lambda: Unloader("24 MPa", rise="5 %").rise, 0.05),
        (lambda: BurstDisc("4000 psi", bore="3/8 in").bore, 0.375 * 0.0254),
        (lambda: Hose("3/8 in", "150 ft").bore, 9.7e-3),  # EN 853: 9.3 to 10.1 mm
        (lambda: Hose("9.525 mm", "150 ft").bore, 9.525e-3),
        (lambda: Hose("-6", "150 ft").bore, 9.7e-3),  # dash size: sixteenths of an inch, SAE J517
        (lambda: Hose("10 mm", "150 ft").length, 45.72),
        (lambda: Hose("10 mm", "2,5 m").length, 2.5),
        (lambda: Hose("10 mm", "2 m", roughness="0.0015 mm").roughness, 1.5e-6),
        (lambda: Jet("#54").bore, 0.055 * 0.0254),  # ANSI/ASME B94.11M number series
        (lambda: Jet("0.055 in").bore, 1.397e-3),
        (lambda: Jet("1.4 mm", angle="30 deg").angle, np.pi / 6),
        (lambda: Engine("11 hp").power, 11 * 745.6998715822702),
        (lambda: Engine("8 kW", altitude="5000 ft").altitude, 1524.0),
        (lambda: Rig(PUMP, water_temperature="20 degC").water_temperature, 293.15),
        (lambda: Rig(PUMP, water_temperature="68 °F").water_temperature, 293.15),
        (lambda: Rig(PUMP, lift="-10 ft").lift, -3.048),
    ],
)
def test_units_are_taken_at_the_door(given, si):
    found = given()
    assert type(found) is float and found == pytest.approx(si, rel=1e-12)


def test_quantities_are_taken():
    unit = pint.UnitRegistry()
    hose = Hose(3 / 8 * unit.inch, 150 * unit.foot, working_pressure=330 * unit.bar)
    assert [hose.bore, hose.length, hose.working_pressure] == pytest.approx([9.525e-3, 45.72, 330e5], rel=1e-14)


def test_arrays_are_taken():
    hose = Hose(["1/4 in", "3/8 in"], [10.0, 20.0])
    np.testing.assert_allclose(hose.bore, [6.6e-3, 9.7e-3])
    assert Jet("1 mm", count=[1, 4]).count.tolist() == [1, 4]
    assert BurstDisc("4000 psi", opened=[True, False]).opened.tolist() == [True, False]


def test_numbers_of_numpy_become_plain():
    jet = Jet(np.float64(1e-3), count=np.int64(4))
    assert type(jet.bore) is float and type(jet.count) is int
    assert type(Jet("1 mm", count=np.array(4)).count) is int
    assert type(Unloader("3000 psi", trapping=np.bool_(True)).trapping) is bool


def test_one_part_may_stand_for_a_list():
    hose, jet, valve = Hose("1/2 in", "10 ft"), Jet("1 mm"), Unloader("3000 psi")
    assert Rig(PUMP, hoses=hose, nozzle=Nozzle(jet)) == Rig(PUMP, hoses=[hose], nozzle=Nozzle([jet]))
    assert Rig(PUMP, valve=[valve]).valve is valve
    assert Rig(PUMP, valve=[]).valve is None and Rig(PUMP).valves == ()


def test_unloader_comes_before_disc():
    valves = Unloader("3000 psi"), BurstDisc("4000 psi")
    for order in (valves, valves[::-1], list(valves)):
        rig = Rig(PUMP, valve=order)
        assert rig.valves == valves and rig.unloader is valves[0] and rig.burst_disc is valves[1]


# --- what follows from what -------------------------------------------------------------------------


def test_pump_runs_from_idle_to_rated_speed():
    pump = Pump("8 gpm", rated_speed="1500 rpm", idle_speed="600 rpm")
    assert pump.speed(0.5) * 30 / np.pi == pytest.approx(1050.0)
    assert pump.swept_flow(0.0) / pump.swept_flow(1.0) == pytest.approx(0.4)
    assert Pump("8 gpm").idle_speed == pytest.approx(0.4 * Pump("8 gpm").rated_speed)
    # definition of volumetric efficiency: 5 % of the rated flow slips at the rated pressure
    worn = Pump("8 gpm", volumetric_efficiency=0.95, rated_pressure="200 bar")
    assert worn.slip * 200e5 == pytest.approx(0.05 * worn.rated_flow)


def test_areas_add():
    nozzle = Nozzle([Jet("1 mm", 3), Jet("2 mm", 1, discharge_coefficient=0.6), Jet("5 mm", 0)])
    one = np.pi / 4 * 1e-6
    assert nozzle.area == pytest.approx(7 * one) and nozzle.effective_area == pytest.approx((0.75 * 3 + 0.6 * 4) * one)
    assert Nozzle().area == Nozzle().effective_area == 0.0


def test_reel():
    assert Hose("1/2 in", "30 m").straight_length == 30.0
    assert Hose("1/2 in", "30 m", coil_diameter="0.5 m").straight_length == 0.0
    assert Hose("1/2 in", "30 m", coil_diameter="0.5 m", coiled_length="20 m").straight_length == 10.0


def test_changes_carry_what_was_not_said_along():
    hose = Hose("1/2 in", "30 m")
    reeled = hose.replace(coil_diameter="0.5 m")
    assert reeled == Hose("1/2 in", "30 m", coil_diameter="0.5 m") and reeled.coiled_length == 30.0
    assert reeled.replace(length="50 m").coiled_length == 50.0
    assert reeled.replace(coil_diameter=None) == hose
    part = reeled.replace(coiled_length="10 m")
    assert part.replace(length="50 m").coiled_length == part.replace(coil_diameter="0.6 m").coiled_length == 10.0
    pump = Pump("8 gpm", rated_speed="1500 rpm")
    assert pump.replace(rated_speed="500 rpm") == Pump("8 gpm", rated_speed="500 rpm")
    kept = Pump("8 gpm", rated_speed="1500 rpm", idle_speed="300 rpm").replace(rated_speed="1000 rpm")
    assert kept.idle_speed * 30 / np.pi == pytest.approx(300.0)


# --- frozen, alike or not ---------------------------------------------------------------------------


def test_parts_are_frozen():
    for part, name in ((PUMP, "rated_flow"), (Hose("1/2 in", 1.0), "bore"), (Rig(PUMP), "lift"), (Nozzle(), "jets")):
        with pytest.raises(dataclasses.FrozenInstanceError):
            setattr(part, name, 1.0)


def test_replace_makes_a_checked_copy():
    hose = Hose("1/2 in", "30 m")
    assert hose.replace(bore="3/8 in") == Hose("3/8 in", "30 m") and hose.bore == 0.0129
    with pytest.raises(JetlibError, match="bore is 12"):
        hose.replace(bore=12)
    rig = Rig(PUMP)
    assert rig.replace(lift="3 m").lift == 3.0 and rig.replace(lift="3 m").pump is PUMP


def test_equality_is_by_value():
    def rig(**changes):
        return Rig(
            **({"pump": Pump("8 gpm"), "valve": Unloader("3000 psi"), "hoses": [Hose("-8", [1.0, 2.0])]} | changes)
        )

    assert rig() == rig() and rig() is not rig()
    assert rig() != rig(lift=1.0)
    assert rig() != rig(hoses=[Hose("-8", [1.0, 3.0])]) and rig() != rig(hoses=[Hose("-8", 1.0)])
    assert rig() != rig(valve=None) and rig() != PUMP and PUMP != "8 gpm"
    assert Hose("1/2 in", "30 m") == Hose(0.0129, 30) and Hose("0.5 in", "30 m") == Hose("12.7 mm", 30)
    with pytest.raises(TypeError, match="unhashable"):
        hash(PUMP)


# --- what is refused --------------------------------------------------------------------------------

NAN, INF = float("nan"), float("inf")

REFUSED = [
    # what, then what the message must hold: the thing, its value, and the line to write
    (lambda: Pump(8), ["rated flow is 8", 'Pump(rated_flow="8 gpm"']),
    (lambda: Pump(0), ["rated_flow is 0 gpm", "above 0", 'Pump(rated_flow="8 gpm"']),
    (lambda: Pump("8"), ["no unit", 'Pump(rated_flow="8 gpm"']),
    (lambda: Pump("8 psi"), ["psi is a pressure", 'Pump(rated_flow="8 gpm"']),
    (lambda: Pump("-8 gpm"), ["-8 gpm", "negative"]),
    (lambda: Pump(NAN), ["nan", "finite"]),
    (lambda: Pump(-INF), ["-inf", "finite"]),
    (lambda: Pump(None), ["rated_flow is missing", 'Pump("8 gpm")']),
    (lambda: Pump([]), ["[]", "not a number"]),
    (lambda: Pump(True), ["True", "not a number"]),
    (lambda: Pump("8 gpm", rated_speed=0), ["rated_speed is 0 rpm", "above 0"]),
    (lambda: Pump("8 gpm", rated_speed=1450), ["1450", 'Pump(rated_speed="1450 rpm"']),
    (
        lambda: Pump("8 gpm", rated_speed="100 rpm", idle_speed="200 rpm"),
        ["idle_speed is 200 rpm", "rated_speed or less"],
    ),
    (lambda: Pump("8 gpm", volumetric_efficiency=0.1), ["10 %", "0.2 to 1"]),
    (lambda: Pump("8 gpm", volumetric_efficiency=95), ["95", "Pump(volumetric_efficiency=0.95"]),
    (lambda: Pump("8 gpm", mechanical_efficiency=0), ["mechanical_efficiency is 0", "0.2 to 1"]),
    (lambda: Pump("8 gpm", rated_pressure=0), ["rated_pressure is 0 psi", "above 0"]),
    (lambda: Engine(0), ["power is 0", "more than 0", 'Engine(power="11 hp"']),
    (lambda: Engine("5 kW", kind="steam"), ["'steam'", "naturally aspirated, electric", 'Engine(kind="electric"']),
    (lambda: Engine("5 kW", altitude=50_000), ["50000", "Engine(altitude="]),
    (lambda: Unloader(200), ["setting is 200", 'Unloader(setting="200 bar"']),
    (lambda: Unloader(0), ["setting is 0 psi", "above 0"]),
    (lambda: Unloader("3000 psi", rise=8), ["rise is 8", "Unloader(rise=0.08"]),
    (lambda: Unloader("3000 psi", rise=-0.1), ["-0.1", "negative"]),
    (lambda: Unloader("3000 psi", trapping="yes"), ["'yes'", "true or false", "Unloader(trapping=True"]),
    (lambda: Unloader("3000 psi", trapping=[True, False]), ["trapping", "one true or false"]),
    (lambda: Unloader("3000 psi", seat_leak=1), ["seat leak is 1", 'Unloader(seat_leak="1 mm"']),
    (lambda: BurstDisc(0), ["rating is 0 psi", "above 0", 'BurstDisc(rating="4000 psi"']),
    (lambda: BurstDisc("4000 psi", opened=1), ["opened is 1", "true or false", "BurstDisc(opened=False"]),
    (lambda: BurstDisc("4000 psi", bore=0), ["bore is 0", "more than 0"]),
    (lambda: Hose(12.7, 60), ["bore is 12.7 (m)", 'Hose(bore="12.7 mm"']),
    (lambda: Hose("1/2 in", "200"), ["no unit", 'Hose(length="200 ft"']),
    (lambda: Hose("1/2 in", "-20 ft"), ["-20 ft", "negative", 'Hose(length="20 ft"']),
    (lambda: Hose("1/2 in", INF), ["inf", "finite"]),
    (lambda: Hose("1/2 in", 9, roughness="2 mm"), ["roughness is", "2 mm", "twentieth", 'Hose(roughness="0.01 mm"']),
    (lambda: Hose("1/2 in", 60, coiled_length=9), ["coiled_length is", "9 m", "give coil_diameter"]),
    (lambda: Hose("1/2 in", 60, coil_diameter=0.5, coiled_length=90), ["90 m", "no more than length"]),
    (
        lambda: Hose("1/2 in", 60, coil_diameter="2 in"),
        ["coil_diameter is 2 in", "5 bores", 'Hose(coil_diameter="0.5 m"'],
    ),
    (lambda: Hose("1/2 in", 60, end_bore="3/4 in"), ["end_bore is 3/4 in", "no more than bore"]),
    (lambda: Hose("1/2 in", 60, working_pressure=0), ["working_pressure is 0 psi", "above 0"]),
    (lambda: Hose("1/2 in", 60, name=5), ["name is 5", "text"]),
    (lambda: Hose("1/2 in", 60, name="two\nlines"), ["name is", "one line"]),
    (lambda: Hose("1/2 in", 60, name="x" * 201), ["name is", "200 characters"]),
    (lambda: Hose([0.01, 0.02], [1.0, 2.0, 3.0]), ["Hose", "(2,), (3,)", "do not go together"]),
    (lambda: Fitting("8 mm"), ["loss_coefficient is missing", "Fitting(loss_coefficient=0.9", "line_bore="]),
    (lambda: Fitting("8 mm", line_bore="6 mm"), ["line_bore is", "6 mm", "bore or more"]),
    (lambda: Fitting("8 mm", loss_coefficient=-1), ["-1", "negative"]),
    (lambda: Fitting("8 mm", loss_coefficient=1, count=-1), ["count is -1", "0 to 1000", "Fitting(count="]),
    (lambda: Jet(1.2), ["bore is 1.2 (m)", 'Jet(bore="1.2 mm"']),
    (lambda: Jet("8 gpm"), ["gpm is a flow", 'Jet(bore="8 mm"']),
    (lambda: Jet("1 mm", discharge_coefficient=0), ["discharge_coefficient is 0", "0.2 to 1"]),
    (lambda: Jet("1 mm", discharge_coefficient=75), ["75", "Jet(discharge_coefficient=0.75"]),
    (lambda: Jet("1 mm", angle=30), ["angle is 30 (rad)", 'Jet(angle="30 deg"']),
    (lambda: Jet("1 mm", angle="200 deg"), ["200 deg", "0 to 180"]),
    *[
        (
            lambda count=count: Jet("1 mm", count=count),
            ["count is", shown, "whole number from 0 to 1000", "Jet(count=4"],
        )
        for count, shown in [
            ("4", "'4'"),
            (4.5, "4.5"),
            (True, "True"),
            (None, "None"),
            (1001, "1001"),
            (NAN, "nan"),
            (10**400, "…"),
            ([1, [2, 3]], "[1, [2, 3]]"),
            ([], "[]"),
            (np.array([1, -2]), "from -2 to 1"),
            (np.array([True]), "array of bool"),
        ]
    ],
    (lambda: Nozzle("4 jets"), ["jets is '4 jets'", "Nozzle(jets=[Jet("]),
    (lambda: Nozzle([Jet("1 mm"), 5]), ["jets is", "Nozzle(jets=[Jet("]),
    (lambda: Nozzle([Jet("1 mm")], body_loss_coefficient=2), ["body_loss_coefficient is 2", "body_bore"]),
    (lambda: Rig(pump="8 gpm"), ["pump is '8 gpm'", "Rig(pump=Pump("]),
    (lambda: Rig(PUMP, nozzle=[Jet("1 mm")]), ["nozzle is", "Rig(nozzle=Nozzle("]),
    (lambda: Rig(PUMP, engine="5 kW"), ["engine is '5 kW'", "Rig(engine=Engine("]),
    (lambda: Rig(PUMP, valve="3000 psi"), ["valve is '3000 psi'", "Rig(valve=Unloader("]),
    (lambda: Rig(PUMP, valve=[Unloader("3000 psi")] * 2), ["two of one kind", "[Unloader(…), BurstDisc(…)]"]),
    (lambda: Rig(PUMP, hoses="1/2 in"), ["hoses is '1/2 in'", "Rig(hoses=[Hose("]),
    (lambda: Rig(PUMP, hoses=[Jet("1 mm")]), ["hoses is", "Rig(hoses=[Hose("]),
    (lambda: Rig(PUMP, fittings=3), ["fittings is 3", "Rig(fittings=[Fitting("]),
    (lambda: Rig(PUMP, water_temperature=20), ["water temperature is 20 (K)", 'Rig(water_temperature="20 degC"']),
    (lambda: Rig(PUMP, water_temperature="70 degC"), ["70 degC", "0 to 60"]),
    (lambda: Rig(PUMP, lift=5000), ["lift is 5000 (m)", "Rig(lift="]),
    (lambda: Rig(PUMP, outlet_shut="no"), ["outlet_shut is 'no'", "true or false", "Rig(outlet_shut=True"]),
    (lambda: Rig(PUMP, outlet_shut=None), ["outlet_shut is None", "true or false"]),
]


@pytest.mark.parametrize(("make", "words"), REFUSED, ids=[" ".join(words)[:40] for _, words in REFUSED])
def test_refusals_say_what_how_much_and_the_fix(make, words):
    with pytest.raises(JetlibError) as caught:
        make()
    message = str(caught.value)
    assert all(word in message for word in words), message
    assert "\n" not in message and len(message) < 400


def test_refusals_are_value_errors():
    with pytest.raises(ValueError, match="bore"):
        Hose(12.7, 60)


# --- changed copies that keep to one rule -----------------------------------------------------------


def test_another_bore_takes_ends_wall_and_reel_along():
    hose = Hose("10 mm", "30 m", roughness=4e-4, end_bore="8 mm", coil_diameter="0.1 m", coiled_length="12 m", name="a")
    thin, wide = hose.with_bore(5e-3), hose.with_bore("20 mm")
    assert (thin.end_bore, thin.roughness, thin.coil_diameter, thin.coiled_length) == (4e-3, 2.5e-4, 0.1, 12.0)
    assert (wide.end_bore, wide.roughness, wide.coil_diameter, wide.name) == (16e-3, 4e-4, 0.1, "a")
    assert hose.with_bore(0.03).coil_diameter == pytest.approx(0.15)  # no reel of under five bores
    assert hose.with_bore("1/2 in").bore == 12.9e-3  # a size, as everywhere
    assert hose.with_bore(hose.bore) == hose


def test_what_comes_with_another_bore_is_taken_as_said_as_far_as_it_can_be():
    hose = Hose("10 mm", "30 m", end_bore="8 mm", coil_diameter="0.5 m")
    changed = hose.with_bore("6 mm", end_bore="8 mm", length="10 m", coiled_length=2.0, roughness="0.1 mm")
    assert (changed.end_bore, changed.length, changed.coiled_length, changed.roughness) == (6e-3, 10.0, 2.0, 1e-4)
    many = Hose("10 mm", "30 m", end_bore="8 mm").with_bore(np.array([5e-3, 20e-3]))
    np.testing.assert_allclose(many.end_bore, [4e-3, 16e-3])
    with pytest.raises(JetlibError, match="bore"):
        hose.with_bore("wide")


def test_other_jets_and_another_setting_leave_the_rest_of_the_rig():
    rig = Rig(PUMP, valve=[Unloader("3000 psi"), BurstDisc("4000 psi")], nozzle=Nozzle([Jet("1 mm")], name="small"))
    assert rig.with_jets(Jet("2 mm")) == rig.replace(nozzle=Nozzle([Jet("2 mm")], name="small"))
    assert rig.with_jets([Jet("2 mm"), Jet("1 mm")]).nozzle.jets[1] == Jet("1 mm")
    lower = rig.with_unloader(setting="2500 psi")
    assert lower.unloader.setting == pytest.approx(2500 * 6894.757293168) and lower.burst_disc == rig.burst_disc
