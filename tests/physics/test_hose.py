"""Pressure loss in hose and pipe against textbook examples and published tables."""

import numpy as np
import pytest
from fluids import friction_factor
from hypothesis import given, settings
from hypothesis import strategies as st

from jetlib.physics import hose, water

moderate = settings(max_examples=60, deadline=None, derandomize=True, database=None)

GPM, PSI, INCH, FOOT, POUND = 3.785411784e-3 / 60.0, 6894.757293168, 0.0254, 0.3048, 0.45359237
GRAVITY = 9.80665
WATER = {"density": 998.207, "viscosity": 1.0016e-3}  # 20 degC, IAPWS-95 and R12-08
SIXTY_F = (60.0 - 32.0) / 1.8 + 273.15


def test_oil_in_a_long_pipe():
    # Kudela, Hydraulic losses in pipes, Example 1: 117 m (three figures, his own iteration)
    loss = hose.pressure_loss(0.2, bore=0.2, length=500.0, roughness=0.26e-3, density=900.0, viscosity=900.0 * 1e-5)
    assert loss / (900.0 * GRAVITY) == pytest.approx(117.0, rel=0.01)


def test_cold_water_in_two_inch_steel():
    # Cengel & Cimbala, Example 8-3: f 0.0174, 27.3 ft, 11.8 psi (from memory)
    density, viscosity = 62.36 * POUND / FOOT**3, 7.536e-4 * POUND / FOOT
    loss = hose.pressure_loss(
        0.2 * FOOT**3,
        bore=2.0 * INCH,
        length=200.0 * FOOT,
        roughness=7e-6 * FOOT,
        density=density,
        viscosity=viscosity,
    )
    assert loss / PSI == pytest.approx(11.8, rel=0.005)


def test_oil_in_two_inch_schedule_40():
    # Crane TP-410, Example 7.13: specific gravity 0.815, 2.7 cSt, 100 ft, 9.65 psi; bore 2.067 in, steel 0.0018 in
    density = 0.815 * 62.364 * POUND / FOOT**3
    loss = hose.pressure_loss(
        120.0 * GPM,
        bore=2.067 * INCH,
        length=100.0 * FOOT,
        roughness=0.0018 * INCH,
        density=density,
        viscosity=2.7e-6 * density,
    )
    assert loss / PSI == pytest.approx(9.65, rel=0.015)


def test_a_water_main():
    # R package hydraulics 0.7.2, README (after Finnemore & Maurer): 5.72 ft; nu 1.2291e-5 ft2/s; g 32.174 ft/s2
    loss = hose.pressure_loss(
        4.0 * FOOT**3,
        bore=20.0 * INCH,
        length=10_560.0 * FOOT,
        roughness=0.0005 * FOOT,
        density=1000.0,
        viscosity=1000.0 * 1.2291e-5 * FOOT**2,
    )
    assert loss / (1000.0 * GRAVITY) / FOOT == pytest.approx(5.72, rel=0.003)


def test_steel_pipe_friction_table():
    # Hydraulic Institute friction table: 1 in schedule 40, 10 gpm at 60 degF, 6.86 ft per 100 ft (from memory)
    density, viscosity = water.density(SIXTY_F), water.viscosity(SIXTY_F)
    loss = hose.pressure_loss(
        10.0 * GPM,
        bore=1.049 * INCH,
        length=100.0 * FOOT,
        roughness=0.00015 * FOOT,
        density=density,
        viscosity=viscosity,
    )
    assert loss / (density * GRAVITY) / FOOT == pytest.approx(6.86, rel=0.01)
    # the same table (Practical Pumping Handbook Fig 14.1): 3.71 ft/s at 10 gpm, velocity head 0.857 ft at 20 gpm
    assert hose.velocity(10.0 * GPM, bore=1.049 * INCH) / FOOT == pytest.approx(3.71, rel=0.002)
    head = hose.velocity(20.0 * GPM, bore=1.049 * INCH) ** 2 / (2.0 * GRAVITY)
    assert head / FOOT == pytest.approx(0.857, rel=0.003)


@pytest.mark.parametrize(
    ("gpm", "celsius", "length", "bore", "roughness_mm", "psi"),
    [
        # Colebrook, computed with the library fluids and IAPWS water: hose runs of three small rigs
        (4.0, 15.0, 200.0, 0.375, 0.0015, 139.43),
        (4.0, 15.0, 50.0, 0.25, 0.0015, 245.404),
        (8.0, 15.0, 200.0, 0.5, 0.01, 131.669),
        (8.0, 15.0, 50.0, 0.375, 0.01, 137.463),
        (2.0, 10.0, 100.0, 0.25, 0.0015, 146.894),
        (2.0, 10.0, 50.0, 0.1875, 0.0015, 292.187),
    ],
)
def test_jetting_hose(gpm, celsius, length, bore, roughness_mm, psi):
    temperature = celsius + 273.15
    loss = hose.pressure_loss(
        gpm * GPM,
        bore=bore * INCH,
        length=length * FOOT,
        roughness=roughness_mm * 1e-3,
        density=water.density(temperature),
        viscosity=water.viscosity(temperature),
    )
    # five or six figures printed; water's viscosity moves the last of them
    assert loss / PSI == pytest.approx(psi, rel=2e-4)


def test_slow_flow_is_hagen_poiseuilles():
    # dp = 128 mu L Q / (pi d^4): any fluid mechanics text
    flow = np.geomspace(1e-12, 1e-5, 8)
    loss = hose.pressure_loss(flow, bore=0.01, length=30.0, roughness=2e-5, density=1000.0, viscosity=1e-3)
    np.testing.assert_allclose(loss, 128.0 * 1e-3 * 30.0 * flow / (np.pi * 0.01**4), rtol=1e-12)


def test_against_the_library_over_hoses_of_the_trade():
    rng = np.random.default_rng(3)
    for _ in range(200):
        bore, length = rng.uniform(3e-3, 32e-3), rng.uniform(1.0, 300.0)
        roughness, flow = rng.uniform(0.0, 5e-5), rng.uniform(2e-4, 3e-3)
        v = flow / (np.pi / 4.0 * bore**2)
        reynolds = WATER["density"] * v * bore / WATER["viscosity"]
        assert reynolds > 4000.0  # below that the library has a bridge of its own
        f = friction_factor(Re=reynolds, eD=roughness / bore)
        expected = f * length / bore * WATER["density"] * v * v / 2.0
        found = hose.pressure_loss(flow, bore=bore, length=length, roughness=roughness, **WATER)
        assert found == pytest.approx(expected, rel=1e-9)


def test_fifth_power_law_of_bore():
    # At one friction factor the loss goes as bore^-5 (Darcy-Weisbach): fully rough, one relative roughness, high Re
    narrow = hose.pressure_loss(1.0, bore=0.05, length=10.0, roughness=0.05 * 0.05, **WATER)
    wide = hose.pressure_loss(1.0, bore=0.10, length=10.0, roughness=0.05 * 0.10, **WATER)
    assert narrow / wide == pytest.approx(32.0, rel=1e-3)


def test_no_flow_no_loss_and_no_length_no_loss():
    assert hose.pressure_loss(0.0, bore=0.01, length=30.0, roughness=1e-5, **WATER) == 0.0
    assert hose.pressure_loss(5e-4, bore=0.01, length=0.0, roughness=1e-5, **WATER) == 0.0


def test_backwards_flow_loses_backwards():
    flow = np.array([1e-7, 1e-5, 5e-4, 3e-3])
    keys = {"bore": 0.01, "length": 30.0, "roughness": 1e-5, **WATER}
    np.testing.assert_array_equal(hose.pressure_loss(-flow, **keys), -hose.pressure_loss(flow, **keys))


@moderate
@given(
    flow=st.floats(1e-7, 1e-2),
    bore=st.floats(2e-3, 0.1),
    length=st.floats(0.1, 1000.0),
    roughness=st.floats(0.0, 1e-4),
)
def test_loss_rises_with_flow_length_and_roughness_and_falls_with_bore(flow, bore, length, roughness):
    def loss(**changes):
        keys = {"flow": flow, "bore": bore, "length": length, "roughness": roughness} | changes
        return hose.pressure_loss(keys.pop("flow"), **keys, **WATER)

    base = loss()
    assert loss(flow=1.001 * flow) > base
    assert loss(length=2.0 * length) == pytest.approx(2.0 * base, rel=1e-12)
    assert loss(bore=1.001 * bore) < base
    assert loss(roughness=roughness + 1e-5) >= base


def test_shapes_and_types():
    keys = {"bore": 0.01, "length": 30.0, "roughness": 1e-5, **WATER}
    assert type(hose.pressure_loss(5e-4, **keys)) is float
    assert type(hose.pressure_loss(np.float64(5e-4), **keys)) is float
    assert hose.pressure_loss([[1e-4], [5e-4]], **(keys | {"bore": np.array([0.008, 0.01, 0.012])})).shape == (2, 3)


def test_array_is_a_loop_of_scalars():
    flow, bore = np.array([-5e-4, 0.0, 1e-6, 1e-4, 2e-3]), np.array([0.005, 0.02])
    keys = {"length": 30.0, "roughness": 1e-5, **WATER}
    grid = hose.pressure_loss(flow[:, None], bore=bore, **keys)
    loop = [[hose.pressure_loss(float(q), bore=float(d), **keys) for d in bore] for q in flow]
    np.testing.assert_allclose(grid, loop, rtol=1e-15)
