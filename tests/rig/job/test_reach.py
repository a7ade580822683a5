"""How far the jets pull: against statics and momentum worked by hand, and what must shorten or lengthen it."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jetlib import (
    Bend,
    Drain,
    Hose,
    Jet,
    JetlibError,
    Nozzle,
    Pump,
    Rig,
    Unloader,
    drain_of_size,
    operating_point,
    reach,
    throttle_sweep,
)

OFTEN = settings(max_examples=60, deadline=None, derandomize=True, database=None)
GRAVITY = 9.80665
POUND_FORCE = 4.4482216152605


def yard(**changes):
    rig = Rig(
        pump=Pump("8 gpm"),
        valve=Unloader("3000 psi"),
        hoses=[Hose("1/2 in", "200 ft", mass_per_metre=0.3), Hose("3/8 in", "50 ft", mass_per_metre=0.2)],
        nozzle=Nozzle([Jet("1.3 mm", 4, angle="20 deg"), Jet("1.0 mm", 1, angle="180 deg")]),
        water_temperature="20 degC",
    )
    return rig.replace(**changes)


def test_by_hand_in_a_level_pipe():
    """Pull by momentum, weight by volume of water at 998.2 kg/m3 (20 degC, IAPWS-95), friction by Coulomb."""
    point = operating_point(yard(hoses=[Hose(0.0127, "300 ft", mass_per_metre=0.30)]))
    found = reach(point, Drain("6 in", "250 ft"), friction=0.5)
    flow = point.nozzle_flow
    speed = 0.97 * np.sqrt(2 * point.nozzle_pressure / 998.2)  # Unwin's velocity coefficient
    rear, front = 4 * 1.3**2, 1.0**2
    pull = 998.2 * flow * speed * (rear * np.cos(np.radians(20)) - front) / (rear + front)
    weight = GRAVITY * (0.30 + 998.2 * np.pi / 4 * 0.0127**2)
    assert found.pull == pytest.approx(pull, rel=1e-4)
    assert found.pull_distance == pytest.approx(pull / (0.5 * weight), rel=1e-4)
    assert found.limited_by == "pull"
    assert found.pull_left(found.distance) == pytest.approx(0.0, abs=1e-9 * pull)
    assert found.drag("100 ft") == pytest.approx(0.5 * weight * 30.48, rel=1e-4)


def test_reaction_as_the_fire_service_prints_it():
    # F [lbf] = 0.0526 gpm sqrt(psi) (published) for jets straight back
    point = operating_point(yard(nozzle=Nozzle([Jet("1.5 mm", 4, angle=0.0, velocity_coefficient=1.0)])))
    gpm, psi = point.nozzle_flow / 6.30902e-5, point.nozzle_pressure / 6894.757
    found = reach(point, Drain("6 in", "250 ft"))
    assert found.pull / POUND_FORCE == pytest.approx(0.0526 * gpm * np.sqrt(psi), rel=1e-3)


def test_under_water_a_hose_is_lighter_by_what_it_pushes_aside():
    # Archimedes: 21.4 mm across displaces 0.359 kg/m at 998.2; the table's usual 1/2 in hose is given at most so thick
    from jetlib.rig.hoses.weight import nearest_size

    point = operating_point(yard(hoses=[Hose(0.0127, "300 ft", mass_per_metre=0.6)]))
    dry = reach(point, Drain("6 in", "250 ft"))
    wet = reach(point, Drain("6 in", "250 ft", flooded=True))
    across = nearest_size(0.0127).outside_diameter_max
    lift = 998.2 * np.pi / 4 * across**2 * GRAVITY
    assert dry.weights[0] - wet.weights[0] == pytest.approx(lift, rel=1e-4)
    assert wet.pull_distance > dry.pull_distance


def test_what_stops_it():
    point = operating_point(yard())
    assert reach(point, Drain("6 in", "10 ft")).limited_by == "run"
    assert reach(point, Drain("6 in", "10 ft")).whole_run
    short = reach(point, Drain("6 in", "100 ft"), hose_outside="200 ft")
    assert (short.limited_by, short.hose_distance) == ("hose", pytest.approx(50 * 0.3048))
    assert "The hose is long enough for 50 ft" in " ".join(short.cautions)
    bend = Drain("6 in", "200 ft", bends=[Bend("30 ft", "90 deg")])
    stuck = reach(point, bend, friction=1.5)
    assert stuck.distance == pytest.approx(30 * 0.3048)
    assert "round the bend" in stuck.sentence


def test_uphill_is_harder_than_down():
    point = operating_point(yard())
    told = {"bore": "6 in", "length": "250 ft", "fall": "5 %"}
    up = reach(point, Drain(**told, nozzle_goes="upstream")).pull_distance
    level = reach(point, Drain("6 in", "250 ft")).pull_distance
    down = reach(point, Drain(**told, nozzle_goes="downstream")).pull_distance
    assert up < level < down


@OFTEN
@given(
    st.floats(0.0, 0.3),
    st.floats(0.1, 0.7),
    st.floats(0.05, 1.0),
    st.lists(st.tuples(st.floats(0.0, 60.0), st.floats(0.1, 1.6)), max_size=3),
)
def test_reach_falls_with_slope_weight_friction_and_bends(fall, friction, mass, bends):
    point = operating_point(yard(hoses=[Hose("1/2 in", "300 ft", mass_per_metre=mass)]))
    heavy = operating_point(yard(hoses=[Hose("1/2 in", "300 ft", mass_per_metre=1.2 * mass)]))
    drain = Drain("6 in", 90.0, fall=fall, bends=[Bend(*bend) for bend in bends])
    base = reach(point, drain, friction=friction).pull_distance * (1 + 1e-9)
    assert reach(heavy, drain, friction=friction).pull_distance <= base
    assert reach(point, drain.replace(fall=fall + 0.05), friction=friction).pull_distance <= base
    assert reach(point, drain, friction=1.2 * friction).pull_distance <= base
    assert reach(point, drain, friction=friction, entry_pull=5.0).pull_distance <= base
    more = drain.replace(bends=(*drain.bends, Bend(2.0, "45 deg")))
    assert reach(point, more, friction=friction).pull_distance <= base


def test_a_sweep_and_frictions_at_once():
    sweep = throttle_sweep(yard(), [0.0, 0.5, 1.0])
    drain = Drain("6 in", "200 ft", fall="1 %", bends=[Bend("20 ft", "45 deg")])
    frictions = np.array([0.3, 0.6])[:, np.newaxis]
    found = reach(sweep, drain, friction=frictions)
    assert found.distance.shape == found.limited_by.shape == found.whole_run.shape == (2, 3)
    assert (np.diff(found.pull_distance, axis=1) > 0).all()  # more throttle, more pull
    for row, friction in enumerate((0.3, 0.6)):
        for column, throttle in enumerate((0.0, 0.5, 1.0)):
            one = reach(operating_point(yard(), throttle), drain, friction=friction)
            assert found.distance[row, column] == pytest.approx(one.distance, rel=1e-9)
    with pytest.raises(JetlibError, match="one rig at one throttle"):
        _ = found.sentence


def test_jets_that_push_back():
    point = operating_point(yard(nozzle=Nozzle([Jet("1.0 mm", 1, angle="30 deg"), Jet("1.4 mm", 2, angle="180 deg")])))
    found = reach(point, Drain("6 in", "100 ft"))
    assert found.pull < 0 and found.distance == 0.0
    assert found.cautions[0].startswith("THE JETS PUSH THE NOZZLE BACK")


def test_coming_back_takes_the_pull_of_the_jets_too():
    point = operating_point(yard())
    found = reach(point, Drain("6 in", "60 ft"))
    assert found.pull_back("60 ft") - found.pull_back("60 ft", jets_on=False) == pytest.approx(found.pull)
    assert found.pull_back("60 ft", jets_on=False) == pytest.approx(found.drag("60 ft"))  # level, no bend


def test_a_steep_fall_is_said():
    down = Drain("6 in", "60 ft", fall=0.6, nozzle_goes="downstream")
    assert "slides down by itself" in " ".join(reach(operating_point(yard()), down).cautions)


def test_pipe_of_the_table():
    # ASTM D3034 SDR 35, 4 in: 4.215 in outside, 0.120 in wall
    drain = drain_of_size("4 in PVC SDR 35", "80 ft", fall="1:50", name="yard drain")
    assert drain.bore == pytest.approx((4.215 - 0.240) * 0.0254)
    assert (drain.name, drain.fall) == ("yard drain", 0.02)
    assert "ASTM D3034" in drain.source


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda point: reach(yard(), Drain("6 in", "60 ft")), "point is Rig"),
        (lambda point: reach(point, "6 in"), "drain is '6 in'"),
        (lambda point: reach(point, Drain("6 in", "60 ft"), friction=-0.1), "friction is -0.1"),
        (lambda point: reach(point, Drain("6 in", "60 ft"), entry_pull="-5 lbf"), "entry_pull is -22"),
        (lambda point: reach(point, Drain("6 in", "60 ft"), friction=[0.1, 0.2]).drag("5 psi"), "distance"),
        (lambda point: reach(operating_point(yard(hoses=[])), Drain("6 in", "60 ft")), "hoses is empty"),
        (lambda point: Drain("6 in", "60 ft", nozzle_goes="sideways"), "nozzle_goes is 'sideways'"),
        (lambda point: Drain("6 in", "60 ft", bends=[Bend("80 ft")]), "bend 1 is at 24.384 m and the run is 18.288"),
        (lambda point: Drain("6 in", "60 ft", bends=["45 deg"]), "bends is"),
        (lambda point: Drain("6 in", "60 ft", bends=[Bend("8 ft", radius="1 in")]), "bend 1 has a radius of 0.0254"),
        (lambda point: Drain("6 in", "60 ft", manning_n=1.3), "manning_n is 1.3"),
        (lambda point: Drain("6 in", "60"), "length"),
        (lambda point: Drain("6 in", "60 ft", flooded=3), "flooded is 3"),
        (lambda point: Bend("8 ft", angle=0.0), "angle is 0"),
        (lambda point: drain_of_size("4 in PVC SDR 36", "60 ft"), "close ones: 4 in PVC SDR 35"),
    ],
)
def test_refusals(call, told):
    with pytest.raises(JetlibError, match=told):
        call(operating_point(yard()))


def test_arrays_that_do_not_go_together():
    with pytest.raises(JetlibError, match="do not go together"):
        reach(throttle_sweep(yard(), [0, 0.5, 1]), Drain("6 in", "60 ft"), friction=np.array([0.3, 0.4]))
