"""The throttle sweep is the operating point again and again, but for a disc that stays open."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jetlib import (
    BurstDisc,
    Engine,
    Hose,
    Jet,
    JetlibError,
    Nozzle,
    Pump,
    Rig,
    Unloader,
    matched_jets,
    operating_point,
    throttle_sweep,
)

NAMES = ["gauge", "pump_flow", "nozzle_flow", "bypass_flow", "leak_flow", "hose_loss", "shaft_power", "reaction"]
THROTTLES = np.linspace(0.0, 1.0, 21)


def rig_of(**changes):
    parts = {
        "pump": Pump("8 gpm", volumetric_efficiency=0.95),
        "valve": Unloader("2500 psi"),
        "hoses": [Hose("1/2 in", "200 ft"), Hose("3/8 in", "50 ft")],
        "nozzle": Nozzle([Jet("1 mm", 4)]),
    }
    return Rig(**(parts | changes))


@settings(max_examples=30, deadline=None, derandomize=True, database=None)
@given(rig=st.from_type(Rig))
def test_sweep_is_a_loop_of_operating_points(rig):
    # discs apart, whose state the sweep carries on
    rig = rig.replace(valve=rig.unloader)
    sweep = throttle_sweep(rig, THROTTLES[::5])
    for at, throttle in enumerate(THROTTLES[::5]):
        single = operating_point(rig, throttle)
        for name in NAMES:
            scale = np.abs(getattr(sweep, name)).max()
            assert getattr(sweep, name)[at] == pytest.approx(getattr(single, name), rel=1e-8, abs=1e-9 * scale), name
        assert sweep.limited_by[at] == single.limited_by


def test_bypass_begins_where_the_match_says():
    rig = rig_of()
    begins = matched_jets(rig).bypass_throttle
    assert 0.0 < begins < 1.0
    sweep = throttle_sweep(rig, THROTTLES)
    np.testing.assert_array_equal(sweep.bypass_flow > 1e-9 * sweep.pump_flow, begins < THROTTLES)
    assert set(sweep.limited_by[begins > THROTTLES]) == {"jets"}
    assert set(sweep.limited_by[begins < THROTTLES]) == {"bypass"}


def test_nothing_jumps():
    sweep = throttle_sweep(rig_of(), np.linspace(0.0, 1.0, 2001))
    assert np.abs(np.diff(sweep.gauge)).max() < 0.002 * sweep.gauge.max()
    assert np.abs(np.diff(sweep.nozzle_flow)).max() < 0.002 * sweep.nozzle_flow.max()


def test_disc_that_goes_on_the_way_up_stays_open_on_the_way_down():
    rig = rig_of(valve=BurstDisc("2000 psi", bore="6 mm"))
    up_and_down = np.concatenate([THROTTLES, THROTTLES[::-1]])
    sweep = throttle_sweep(rig, up_and_down)
    goes = int(np.argmax(sweep.disc_open))
    assert 0 < goes < 20
    assert not sweep.disc_open[:goes].any() and sweep.disc_open[goes:].all()
    assert sweep.gauge[goes] < sweep.gauge[goes - 1]
    assert sweep.gauge[-1] < sweep.gauge[0] and sweep.nozzle_flow[-1] < sweep.nozzle_flow[0]
    assert set(sweep.limited_by[goes:]) == {"burst disc"}
    assert not rig.burst_disc.opened
    # it went because the pressure without it would have passed the rating, and not one step sooner
    whole = throttle_sweep(rig_of(valve=Unloader("9000 psi")), THROTTLES)
    assert whole.gauge[goes - 1] <= rig.burst_disc.rating < whole.gauge[goes]
    # after that, each reading is that of a rig whose disc is open
    opened = rig.replace(valve=BurstDisc("2000 psi", bore="6 mm", opened=True))
    np.testing.assert_allclose(sweep.gauge[goes:], throttle_sweep(opened, up_and_down[goes:]).gauge, rtol=1e-8)


def test_order_of_throttles_decides_when_the_disc_goes():
    rig = rig_of(valve=BurstDisc("2000 psi", bore="6 mm"))
    assert throttle_sweep(rig, [1.0, 0.0]).disc_open.tolist() == [True, True]
    assert throttle_sweep(rig, [0.0, 1.0]).disc_open.tolist() == [False, True]


def test_each_rig_of_an_array_has_its_own_disc():
    ratings = np.array([1e7, 1e8])
    sweep = throttle_sweep(rig_of(valve=BurstDisc(ratings, bore="6 mm")), [0.0, 1.0, 0.0])
    assert sweep.disc_open.tolist() == [[False, True, True], [False, False, False]]


def test_throttles_are_the_last_axis():
    lengths = np.array([10.0, 60.0, 120.0])
    counts = np.array([[4], [6]])
    rig = rig_of(hoses=[Hose("1/2 in", lengths)], nozzle=Nozzle([Jet("1 mm", counts)]), engine=Engine("12 kW"))
    sweep = throttle_sweep(rig, [0.0, 0.4, 1.0, 0.9])
    assert sweep.gauge.shape == (2, 3, 4) and sweep.hose_losses.shape == (1, 2, 3, 4)
    for row, column, at in np.ndindex(2, 3, 4):
        single = operating_point(
            rig.replace(
                hoses=[Hose("1/2 in", float(lengths[column]))], nozzle=Nozzle([Jet("1 mm", int(counts[row, 0]))])
            ),
            [0.0, 0.4, 1.0, 0.9][at],
        )
        for name in NAMES:
            expected = pytest.approx(getattr(single, name), rel=1e-8, abs=1e-12)
            assert getattr(sweep, name)[row, column, at] == expected, name


@pytest.mark.parametrize(
    "part",
    [
        {"pump": Pump(np.array([3e-4, 5e-4]))},
        {"pump": Pump("8 gpm", rated_speed=np.array([150.0, 200.0]))},
        {"valve": Unloader(np.array([1e7, 2e7]), rise=np.array([0.0, 0.1]))},
        {"valve": BurstDisc("2000 psi", opened=[True, False])},
        {"hoses": [Hose("1/2 in", np.array([10.0, 20.0]), coil_diameter="0.5 m")]},
        {"hoses": [Hose("1/2 in", "20 m", coil_diameter=np.array([0.5, 0.8]))]},
        {"hoses": [Hose("1/2 in", "20 m", working_pressure=np.array([1e6, 1e8]))]},
        {"nozzle": Nozzle([Jet("1 mm", count=[1, 4])])},
        {"nozzle": Nozzle([Jet("1 mm", angle=np.array([0.0, 1.0]))], body_bore=np.array([0.01, 0.02]))},
        {"engine": Engine(np.array([1e3, 1e4]))},
        {"lift": [0.0, 10.0]},
        {"outlet_shut": [False, True]},
        {"water_temperature": np.array([280.0, 300.0])},
    ],
    ids=str,
)
def test_any_field_may_be_an_array(part):
    sweep = throttle_sweep(rig_of(**part), [0.0, 0.5, 1.0])
    point = operating_point(rig_of(**part), np.array([[0.0], [0.5], [1.0]]))
    assert sweep.gauge.shape == (2, 3) and point.gauge.shape == (3, 2)
    for name in NAMES:
        np.testing.assert_allclose(getattr(sweep, name), getattr(point, name).T, rtol=1e-8, atol=1e-12, err_msg=name)
    assert isinstance(sweep.cautions, tuple) and sweep.hose_pressures.shape[1:] == (2, 3)


def test_one_throttle_and_text():
    assert throttle_sweep(rig_of(), 0.5).gauge.shape == (1,)
    np.testing.assert_array_equal(
        throttle_sweep(rig_of(), ["0 %", "100 %"]).gauge, throttle_sweep(rig_of(), [0.0, 1.0]).gauge
    )


@pytest.mark.parametrize("bad", [[0.5, 1.2], [np.nan], [], "fast", np.zeros((2, 2))])
def test_throttles_that_are_none(bad):
    with pytest.raises(JetlibError, match="throttles"):
        throttle_sweep(rig_of(), bad)
