"""Tank, heat, engine and suction against the first law, published values and steam tables."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from jetlib import (
    Engine,
    Hose,
    Jet,
    JetlibError,
    Nozzle,
    Pump,
    Rig,
    Tank,
    Unloader,
    operating_point,
    supply,
    throttle_sweep,
)

OFTEN = settings(max_examples=60, deadline=None, derandomize=True, database=None)
GALLON, PSI, HORSEPOWER = 3.785411784e-3, 6894.757293168, 745.6998715822702


def yard(**changes):
    rig = Rig(
        pump=Pump("8 gpm", volumetric_efficiency=0.95, rated_pressure="3000 psi"),
        valve=Unloader("3000 psi"),
        hoses=[Hose("1/2 in", "200 ft")],
        nozzle=Nozzle([Jet("0.9 mm", 4, angle="20 deg")]),
        engine=Engine("24 hp"),
    )
    return rig.replace(**changes)


# --- water ------------------------------------------------------------------------------------------


def test_only_what_leaves_the_nozzle_empties_the_tank():
    point = operating_point(yard())
    assert point.bypass_flow > 0.05 * point.pump_flow  # the case is worth trying
    found = supply(point, Tank("100 gal", usable=1.0))
    assert found.tank_time == pytest.approx(100 * GALLON / point.nozzle_flow)
    assert supply(point, Tank("100 gal", usable=0.8)).tank_time == pytest.approx(0.8 * found.tank_time)


def test_known_minutes():
    # 100 gal at 5 gpm last 20 minutes; with 3 gpm coming in, 50
    rig = yard(pump=Pump("5 gpm"), nozzle=Nozzle([Jet("3 mm", 4)]))
    point = operating_point(rig)
    assert point.bypass_flow == 0.0
    assert supply(point, Tank("100 gal", usable=1.0)).tank_time == pytest.approx(20 * 60)
    assert supply(point, Tank("100 gal", usable=1.0, refill_flow="3 gpm")).tank_time == pytest.approx(50 * 60)
    assert supply(point, Tank("100 gal", refill_flow="9 gpm")).tank_time == np.inf


@OFTEN
@given(st.floats(0.02, 5.0), st.floats(1.01, 3.0))
def test_minutes_go_inversely_with_flow(volume, more):
    one = operating_point(yard(valve=None, pump=Pump("4 gpm"), engine=None))
    two = operating_point(yard(valve=None, pump=Pump(4 * more * GALLON / 60), engine=None))
    tank = Tank(volume)
    assert supply(one, tank).tank_time == pytest.approx(more * supply(two, tank).tank_time, rel=1e-9)
    assert supply(one, Tank(more * volume)).tank_time == pytest.approx(more * supply(one, tank).tank_time, rel=1e-9)


# --- heat -------------------------------------------------------------------------------------------


def shut(gpm, psi, **changes):
    """All the pump gives goes back through a valve that holds just `psi`."""
    rig = yard(
        pump=Pump(gpm * GALLON / 60), valve=Unloader(psi * PSI, rise=0.0), engine=None, water_temperature="20 degC"
    )
    return operating_point(rig.replace(outlet_shut=True, **changes))


def test_published_heating_rate():
    # First law with IAPWS-95 properties: 5.5 gpm at 2000 psi into 20 US gal at 20 degC, 0.908 K/min
    found = supply(shut(5.5, 2000), Tank("20 gal"))
    assert found.temperature("1 min") - 293.15 == pytest.approx(0.908, rel=2e-3)
    assert found.limit_time / 60 == pytest.approx(40 / 0.908, rel=2e-3)
    assert found.tank_time == np.inf  # nothing leaves
    assert found.temperature("10 min") == pytest.approx(293.15 + 9.08, abs=0.02)


def test_bypass_heat_with_slip_is_all_the_power_put_in():
    # Outlet shut: gauge x swept flow stays in the water, whatever slips inside the pump
    rig = yard(engine=None, valve=Unloader("3000 psi", seat_leak="0.3 mm"), outlet_shut=True)
    point = operating_point(rig)
    assert supply(point, Tank("100 gal")).heating_power == pytest.approx(point.gauge * point.swept_flow)


def test_draining_tank_against_the_energy_balance():
    point = operating_point(yard(nozzle=Nozzle([Jet("0.7 mm", 4)])))
    tank = Tank("60 gal", refill_flow="0.5 gpm", refill_temperature="10 degC")
    found = supply(point, tank)
    cp, rho = 4189.0, 999.1  # 15 degC: steam tables

    def balance(time, state):
        volume, temperature = state
        heat = found.heating_power - rho * cp * found.makeup_flow * (temperature - 283.15)
        return [found.makeup_flow - point.nozzle_flow, heat / (rho * cp * volume)]

    end = 0.8 * found.tank_time
    walked = solve_ivp(balance, (0, end), [tank.volume, 288.15], rtol=1e-9).y[1, -1]
    assert walked > 288.15 + 3
    assert found.temperature(end) == pytest.approx(walked, abs=0.02)  # cp and density to 0.1 %


@OFTEN
@given(st.floats(0.05, 1.0), st.floats(0.5e-3, 1.2e-3), st.floats(290.0, 330.0), st.floats(0.0, 1e-4))
def test_limit_time_is_when_the_limit_is_reached(volume, bore, limit, refill):
    found = supply(
        operating_point(yard(nozzle=Nozzle([Jet(bore, 4)]))),
        Tank(volume, temperature_limit=limit, refill_flow=refill),
    )
    if np.isfinite(found.limit_time):
        assert found.limit_time <= found.tank_time
        assert found.temperature(found.limit_time) == pytest.approx(limit, abs=1e-6)
    else:
        last = 1e7 if np.isinf(found.tank_time) else found.tank_time * (1 - 1e-9)
        assert found.temperature(min(last, 1e7)) <= limit + 1e-6


def test_back_to_the_inlet_is_minutes_no_more():
    loop = supply(shut(8, 3000), Tank("100 gal", bypass_to="inlet", loop_volume="2 L"))
    tank = supply(shut(8, 3000), Tank("100 gal"))
    assert loop.limit_time == pytest.approx(tank.limit_time * 2e-3 / (100 * GALLON), rel=1e-9)
    assert "Never leave the machine running like this" in " ".join(loop.cautions)
    # With water leaving at the nozzle the loop settles: power / (rho cp flow) above the tank
    flowing = supply(operating_point(yard()), Tank("100 gal", bypass_to="inlet"))
    settled = 288.15 + flowing.heating_power / (999.1 * 4189 * flowing.point.nozzle_flow)
    assert flowing.temperature("10 min") == pytest.approx(settled, abs=0.02)


# --- engine -----------------------------------------------------------------------------------------


def test_altitude_as_the_textbook_has_it():
    # 225 hp at 4500 ft, 3 % for each 1000 ft above 500 ft: 198 hp (problem of an agricultural-engineering text)
    found = supply(operating_point(yard(engine=Engine("225 hp", altitude="4500 ft"))), Tank("100 gal"))
    assert found.power_available / HORSEPOWER == pytest.approx(198.0, rel=1e-3)
    electric = yard(engine=Engine("225 hp", altitude="4500 ft", kind="electric"))
    assert supply(operating_point(electric), Tank("100 gal")).power_available / HORSEPOWER == pytest.approx(225.0)


def test_power_asked_for_is_seen_even_where_the_engine_bogs():
    strong, weak = operating_point(yard()), operating_point(yard(engine=Engine("9 hp")))
    assert weak.engine_bogged
    found = supply(weak, Tank("100 gal"))
    assert found.power_needed == pytest.approx(strong.shaft_power)
    assert found.engine_share == pytest.approx(strong.shaft_power / (9 * HORSEPOWER))
    assert "% of what the engine can give" in " ".join(found.cautions)
    none = supply(operating_point(yard(engine=None)), Tank("100 gal"))
    assert none.power_available is None and none.engine_share is None
    assert "No engine is named" in " ".join(none.cautions)


# --- suction ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("celsius", "vapour_kpa", "density"),  # steam tables (Cengel, Table)
    [(20, 2.339, 998.0), (60, 19.947, 983.3)],
)
def test_head_above_boiling(celsius, vapour_kpa, density):
    tank = Tank("100 gal", suction_lift="1 m", suction_loss="10 kPa")
    found = supply(operating_point(yard()), tank).suction_head_at(f"{celsius} degC")
    assert found == pytest.approx((101.325 - vapour_kpa - 10.0) * 1000 / (density * 9.80665) - 1.0, rel=1e-3)


def test_margin_falls_with_altitude_heat_and_lift():
    point = operating_point(yard())
    tank = Tank("100 gal", required_suction_head="5 m", suction_bore="1-1/2 in", suction_length="2 ft")
    low = supply(point, tank)
    assert low.suction_margin == pytest.approx(low.suction_head - 5.0 - low.acceleration_head)
    assert supply(point, tank, altitude="8000 ft").suction_margin < low.suction_margin
    assert low.suction_head_at("60 degC") < low.suction_head
    deep = supply(point, tank.replace(suction_lift="6 m"))
    assert deep.suction_margin < 0
    assert any(text.startswith("THE PUMP CAVITATES") for text in deep.cautions)
    high = supply(operating_point(yard(engine=Engine("24 hp", altitude="8000 ft"))), tank)
    assert high.suction_head == pytest.approx(supply(point, tank, altitude="8000 ft").suction_head)


# --- arrays and refusals ----------------------------------------------------------------------------


def test_a_sweep_is_its_points():
    throttles = [0.0, 0.4, 1.0]
    tank = Tank("100 gal", refill_flow="1 gpm")
    sweep = supply(throttle_sweep(yard(), throttles), tank)
    for at, throttle in enumerate(throttles):
        one = supply(operating_point(yard(), throttle), tank)
        for name in ("tank_time", "heating_power", "limit_time", "power_needed", "engine_share"):
            assert getattr(sweep, name)[at] == pytest.approx(getattr(one, name), rel=1e-9)
    assert (np.diff(sweep.tank_time) < 0).all()


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda: supply(yard(), Tank("100 gal")), "point is Rig"),
        (lambda: supply(operating_point(yard()), "100 gal"), "tank is '100 gal'"),
        (lambda: Tank("100 psi"), "volume"),
        (lambda: Tank(0.0), "volume is 0"),
        (lambda: Tank("100 gal", usable=0), "usable is 0"),
        (lambda: Tank("100 gal", bypass_to="drain"), "bypass_to is 'drain'"),
        (lambda: Tank("100 gal", temperature_limit="90 degC"), "temperature_limit"),
        (lambda: supply(operating_point(yard()), Tank("1 gal")).temperature(-5.0), "time"),
    ],
)
def test_refusals(call, told):
    with pytest.raises(JetlibError, match=told):
        call()
