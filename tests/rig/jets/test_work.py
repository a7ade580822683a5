"""What each group of jets does, against momentum and energy."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jetlib import Hose, Jet, Nozzle, Pump, Rig, Unloader, jet_work, operating_point, throttle_sweep, thrust_split

OFTEN = settings(max_examples=50, deadline=None, derandomize=True, database=None)


def yard(*jets, **changes):
    jets = jets or (Jet("1.1 mm", 4, angle="30 deg"), Jet("0.9 mm", 1, angle="180 deg"))
    return Rig(pump=Pump("8 gpm"), valve=Unloader("3000 psi"), hoses=[Hose("1/2 in", "200 ft")], nozzle=Nozzle(jets),
               **changes)  # fmt: skip


@OFTEN
@given(
    st.lists(
        st.tuples(st.floats(5e-4, 2e-3), st.integers(1, 8), st.floats(0, np.pi), st.floats(0.6, 1), st.floats(0.5, 1)),
        min_size=1,
        max_size=4,
    )
)
def test_groups_add_up(groups):
    point = operating_point(yard(*(Jet(*group) for group in groups)))
    work, split = jet_work(point), thrust_split(point)
    scale = sum(abs(each.pull) for each in work) + 1e-9
    assert sum(each.flow for each in work) == pytest.approx(point.nozzle_flow)
    assert sum(each.pull for each in work) == pytest.approx(point.reaction, abs=1e-9 * scale)
    assert split.net == pytest.approx(point.reaction, abs=1e-9 * scale)
    assert split.rear >= 0 and split.front >= 0
    assert split.rear_flow + split.front_flow == pytest.approx(point.nozzle_flow)
    for each in work:  # momentum and energy of one stream: P = F V / 2 where F is its whole thrust
        thrust = np.hypot(each.pull / each.jet.count, each.sideways)
        assert each.power_of_one == pytest.approx(thrust * each.velocity / 2, rel=1e-9)
        assert each.impact_force == pytest.approx(thrust, rel=1e-9)  # a wall takes what the nozzle gave
    # What the jets carry is what is left of the power put into them, less what the holes take
    assert sum(each.power for each in work) <= point.power_shares["jets"] * (1 + 1e-12)


def test_an_ideal_jet_hits_with_the_pressure_behind_it():
    rig = yard()
    ideal = [jet.replace(velocity_coefficient=1.0) for jet in rig.nozzle.jets]
    point = operating_point(rig.with_jets(ideal))
    for each in jet_work(point):  # stagnation pressure of an ideal jet: Bernoulli
        assert each.impact_pressure == pytest.approx(point.nozzle_pressure)
        assert each.pressure_under_water("1 mm") == pytest.approx(point.nozzle_pressure)
        bore = each.jet.bore
        assert each.pressure_under_water(12.4 * bore) == pytest.approx(point.nozzle_pressure / 4)


def test_flat_plate():
    # Cengel & Cimbala, Example 6-4 (formula read): 10 kg/s at 20 m/s on a flat plate, 200 N; here as mass flow x speed
    work = jet_work(operating_point(yard(water_temperature="20 degC")))[0]
    assert work.impact_force == pytest.approx(998.2 * work.flow / 4 * work.velocity, rel=1e-4)


def test_angle_keeps_its_cosine():
    split = thrust_split(operating_point(yard()))
    assert split.kept_by_angle == pytest.approx(np.cos(np.radians(30)))
    assert thrust_split(operating_point(yard(Jet("1 mm", 2, angle="180 deg")))).kept_by_angle == 1.0


def test_plugged_group_and_a_sweep():
    sweep = throttle_sweep(yard(Jet("1.1 mm", 4), Jet("1 mm", 0, angle="180 deg")), np.linspace(0, 1, 5))
    rear, front = jet_work(sweep)
    assert rear.power.shape == (5,) and (np.diff(rear.power) > 0).all()
    assert (front.flow == 0).all() and np.all(front.power_of_one == 0.0)
    assert (thrust_split(sweep).front == 0).all()
