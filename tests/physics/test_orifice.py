"""Flow through holes against worked examples."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jetlib import JetlibError
from jetlib.physics import orifice

moderate = settings(max_examples=60, deadline=None, derandomize=True, database=None)

GPM, PSI, INCH = 3.785411784e-3 / 60.0, 6894.757293168, 0.0254
WATER_20 = 998.207  # kg/m3, IAPWS-95


@pytest.mark.parametrize(
    ("psi", "gpm"), [(500, 0.65147), (1000, 0.92132), (2000, 1.30294), (3000, 1.59577), (4000, 1.84264)]
)
def test_one_drilled_hole(psi, gpm):
    # Q = Cd A sqrt(2 dp/rho), one 0.040 in hole, Cd 0.61, water at 20 degC: computed to five figures
    area = np.pi / 4.0 * (0.040 * INCH) ** 2
    found = orifice.flow(psi * PSI, area=area, discharge_coefficient=0.61, density=WATER_20)
    assert found / GPM == pytest.approx(gpm, rel=2e-5)


@pytest.mark.parametrize(
    ("holes", "cd", "density", "gpm", "psi"),
    [
        # Q = Cd A sqrt(2 dp/rho) on IAPWS water at 15 and 10 degC: nozzle pressures of three small rigs
        ([0.040, 0.043, 0.043, 0.043], 0.90, 999.10, 4.0, 434.368),
        ([0.052, 0.055, 0.055, 0.055], 0.75, 999.10, 8.0, 921.109),
        ([0.035, 0.035, 0.035], 0.62, 999.70, 2.0, 865.95),
    ],
)
def test_pressure_behind_a_set_of_jets(holes, cd, density, gpm, psi):
    area = sum(orifice.circle_area(hole * INCH) for hole in holes)  # areas add, counts do not
    found = orifice.pressure(gpm * GPM, area=area, discharge_coefficient=cd, density=density)
    assert found / PSI == pytest.approx(psi, rel=1e-4)


def test_oil_through_an_orifice():
    # Esposito, Fluid Power with Applications, Example 8-4: Q = 38.1 C A sqrt(dP/SG), 252 gpm (three figures)
    area = np.pi / 4.0 * INCH**2
    found = orifice.flow(100.0 * PSI, area=area, discharge_coefficient=0.80, density=0.9 * 998.2)
    assert found / GPM == pytest.approx(252.0, rel=0.003)


def test_hydrant():
    # NFPA 291: 29.84 c d^2 sqrt(p), 2.5 in, c 0.90, 40 psi: 1061 gpm
    area = orifice.circle_area(2.5 * INCH)
    found = orifice.flow(40.0 * PSI, area=area, discharge_coefficient=0.90, density=WATER_20)
    assert found / GPM == pytest.approx(1061.0, rel=0.002)


@moderate
@given(
    pressure=st.floats(1.0, 4e8),
    bore=st.floats(1e-4, 0.02),
    cd=st.floats(0.2, 1.0),
    density=st.floats(950.0, 1050.0),
)
def test_pressure_undoes_flow_and_square_law_holds(pressure, bore, cd, density):
    keys = {"area": orifice.circle_area(bore), "discharge_coefficient": cd, "density": density}
    flow = orifice.flow(pressure, **keys)
    assert orifice.pressure(flow, **keys) == pytest.approx(pressure, rel=1e-12)
    assert orifice.flow(4.0 * pressure, **keys) == pytest.approx(2.0 * flow, rel=1e-12)
    assert orifice.flow(-pressure, **keys) == -flow
    assert orifice.pressure(-flow, **keys) == pytest.approx(-pressure, rel=1e-12)
    assert orifice.circle_bore(orifice.circle_area(bore)) == pytest.approx(bore, rel=1e-14)


def test_nothing_gives_nothing():
    keys = {"discharge_coefficient": 0.7, "density": 1000.0}
    assert orifice.flow(0.0, area=1e-6, **keys) == 0.0
    assert orifice.flow(1e7, area=0.0, **keys) == 0.0
    assert orifice.pressure(0.0, area=1e-6, **keys) == 0.0


@pytest.mark.parametrize("area", [0.0, -1e-6, np.nan, [1e-6, 0.0]])
def test_no_pressure_pushes_water_through_a_shut_hole(area):
    with pytest.raises(JetlibError, match="shut passes nothing"):
        orifice.pressure(1e-4, area=area, discharge_coefficient=0.7, density=1000.0)


def test_shapes_types_and_loops():
    keys = {"area": 1e-6, "discharge_coefficient": 0.7, "density": 1000.0}
    assert type(orifice.flow(1e7, **keys)) is float and type(orifice.pressure(1e-4, **keys)) is float
    assert type(orifice.flow(np.float64(1e7), **keys)) is float
    pressures, areas = np.array([-1e6, 0.0, 1e7]), np.array([1e-6, 2e-6])
    keys = {"discharge_coefficient": 0.7, "density": 1000.0}
    grid = orifice.flow(pressures[:, None], area=areas, **keys)
    assert grid.shape == (3, 2)
    np.testing.assert_allclose(
        grid, [[orifice.flow(float(p), area=float(a), **keys) for a in areas] for p in pressures], rtol=1e-15
    )
    grid = orifice.pressure(grid, area=areas, **keys)
    np.testing.assert_allclose(grid, pressures[:, None] + 0.0 * areas, rtol=1e-12)


@pytest.mark.parametrize(("rounding", "share"), [(0.0, 0.61), (0.03, 0.653), (0.07, 0.7275), (0.10, 0.804)])
def test_a_worn_edge_opens_the_jet(rounding, share):
    # Nurick, J. Fluids Eng. 98 (1976) 681, recomputed: Cc = (1/0.61^2 - 11.4 r/d)^-1/2
    assert orifice.contraction_coefficient(rounding) == pytest.approx(share, rel=1e-3)
    # at 100 bar into air K is 1.010: the coefficient is half a per cent above the contraction
    assert orifice.cavitating_coefficient(1e7, edge_radius_ratio=rounding) == pytest.approx(1.005 * share, rel=1e-3)


def test_an_edge_rounder_than_nurick_measured_is_refused():
    with pytest.raises(JetlibError, match="0 to 0"):
        orifice.contraction_coefficient(0.2)
