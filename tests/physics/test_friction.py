"""Friction factors against Colebrook's equation, the library fluids, textbook examples and measurements."""

import numpy as np
import pytest
from fluids import friction as fluids_friction
from hypothesis import given, settings
from hypothesis import strategies as st

from jetlib.physics import friction
from jetlib.physics.published_friction import ito_coil_factor, ito_critical_reynolds, white_laminar_coil_factor

moderate = settings(max_examples=60, deadline=None, derandomize=True, database=None)

ROUGHNESS = np.array([0.0, 1e-7, 1e-6, 1e-5, 1e-4, 1e-3, 5e-3, 0.02, 0.05])
COILS = (1e-6, 1e-3, 0.01, 0.03, 0.1, 0.2)


@pytest.mark.parametrize(
    ("reynolds", "roughness", "expected", "tolerance"),
    [
        # Colebrook 1939, 64/Re if laminar; computed with the library fluids, printed to five figures
        (1500, 0.0, 0.042667, 1e-5),
        (10_000, 0.0, 0.030883, 3e-5),
        (30_000, 0.0, 0.023483, 3e-5),
        (100_000, 0.0, 0.01799, 3e-5),
        (1_000_000, 0.0, 0.011645, 5e-5),
        (10_000, 1e-3, 0.032382, 3e-5),
        (30_000, 1e-3, 0.02597, 3e-5),
        (100_000, 1e-3, 0.022175, 3e-5),
        (1_000_000, 1e-3, 0.019943, 3e-5),
        # Colebrook 1939, quoted to nine figures in the documentation of fluids
        (1e5, 1e-4, 0.0185138661, 3e-9),
        # Hagen-Poiseuille, exact
        (128, 0.0, 0.5, 1e-15),
        (128, 0.03, 0.5, 1e-15),
        # Lindeburg, Civil Engineering Reference Manual, Example 17.2: 0.0287, three figures
        (4e5, 0.004, 0.0287, 0.005),
        # Crane TP-410M, Example 7.1: 0.0179 read from a chart
        (100_600, 0.0, 0.0179, 0.02),
        # Crane TP-410, Example 7.17: 12 in schedule 30, roughness 0.0022 in, bore 12.09 in
        (24_364, 0.0022 / 12.09, 0.02511, 0.005),
    ],
)
def test_published_factors(reynolds, roughness, expected, tolerance):
    assert friction.darcy_factor(reynolds, roughness) == pytest.approx(expected, rel=tolerance)


@pytest.mark.parametrize(
    ("reynolds", "measured", "scatter"),
    [(402.9, 0.1656, 0.06), (29_430, 0.02386, 0.05), (120_000, 0.01686, 0.05), (587_500, 0.01313, 0.05)],
)
def test_measured_in_smooth_pipe(reynolds, measured, scatter):
    # McKeon, Swanson et al., J. Fluid Mech. 511 (2004) 41-44, Oregon facility; the spread is that of such measurements
    assert friction.darcy_factor(reynolds, 0.0) == pytest.approx(measured, rel=scatter)


def test_turbulent_factor_is_colebrooks_root_by_another_solver():
    # The library's closed form (Lambert W) has nothing in common with the iteration here
    for roughness in ROUGHNESS:
        reynolds = np.geomspace(4000.0, 1e8, 30)
        expected = [fluids_friction.Colebrook(float(each), float(roughness)) for each in reynolds]
        np.testing.assert_allclose(friction.darcy_factor(reynolds, roughness), expected, rtol=1e-9)


def test_turbulent_factor_satisfies_colebrooks_equation_to_rounding():
    reynolds = np.geomspace(4000.0, 1e9, 2000)[:, None]
    f = friction.darcy_factor(reynolds, ROUGHNESS)
    # Colebrook 1939: 1/sqrt(f) = -2 log10(e/3.7 + 2.51/(Re sqrt(f)))
    residual = 1.0 / np.sqrt(f) + 2.0 * np.log10(ROUGHNESS / 3.7 + 2.51 / (reynolds * np.sqrt(f)))
    assert np.abs(residual).max() < 2e-13


def test_laminar_factor_is_hagen_poiseuilles_and_knows_no_roughness():
    reynolds = np.geomspace(1e-6, 2300.0, 100)[:, None]
    np.testing.assert_allclose(
        friction.darcy_factor(reynolds, ROUGHNESS), 64.0 / reynolds + 0.0 * ROUGHNESS, rtol=1e-14
    )


def test_bridge_joins_both_laws_without_a_step():
    for limit in (friction.LAMINAR_LIMIT, friction.TURBULENT_LIMIT):
        below, at, above = (friction.darcy_factor(limit * (1.0 + shift), ROUGHNESS) for shift in (-1e-12, 0.0, 1e-12))
        np.testing.assert_allclose(below, at, rtol=1e-10)
        np.testing.assert_allclose(above, at, rtol=1e-10)


def test_bridge_climbs_all_the_way():
    reynolds = np.linspace(2300.0, 4000.0, 3401)[:, None]
    f = friction.darcy_factor(reynolds, ROUGHNESS)
    assert np.all(np.diff(f, axis=0) > 0.0)
    assert np.all(f[0] == pytest.approx(64.0 / 2300.0))
    # and stays between the two laws it joins
    assert np.all(f >= 64.0 / reynolds) and np.all(f <= friction.darcy_factor(4000.0, ROUGHNESS) * (1 + 1e-12))


@pytest.mark.parametrize("bore_ratio", [0.0, *COILS])
def test_loss_rises_with_flow_everywhere_straight_or_reeled(bore_ratio):
    # f Re^2 is the loss in one hose of one fluid
    reynolds = np.geomspace(1.0, 1e7, 40_001)[:, None]
    ratio, _ = friction.coil_ratio_and_slope(reynolds, bore_ratio)
    loss = friction.darcy_factor(reynolds, ROUGHNESS) * ratio * reynolds**2
    steepness = np.diff(np.log(loss), axis=0) / np.diff(np.log(reynolds), axis=0)
    assert steepness.min() > 1.0 - 1e-6  # never less steep than laminar flow in a straight pipe


@moderate
@given(
    st.floats(np.log(10.0), np.log(1e8)),
    st.floats(0.0, 0.05),
)
def test_slope_is_the_derivative(log_reynolds, roughness):
    reynolds, step = np.exp(log_reynolds), 1e-5
    ends = reynolds * np.exp([-step, step])
    if any(ends[0] <= limit <= ends[1] for limit in (2300.0, 4000.0)):
        return  # the curve has a corner there
    f = friction.darcy_factor(ends, roughness)
    _, slope = friction.factor_and_slope(reynolds, roughness)
    assert float(slope) == pytest.approx(np.diff(np.log(f))[0] / (2.0 * step), abs=1e-5)  # taken before the last step


@pytest.mark.parametrize("bore_ratio", COILS)
def test_coil_slope_is_the_derivative(bore_ratio):
    log_reynolds = np.linspace(np.log(10.0), np.log(1e7), 4001)
    step = 1e-6
    ratio, slope = friction.coil_ratio_and_slope(np.exp(log_reynolds), bore_ratio)
    below, _ = friction.coil_ratio_and_slope(np.exp(log_reynolds - step), bore_ratio)
    above, _ = friction.coil_ratio_and_slope(np.exp(log_reynolds + step), bore_ratio)
    found = np.log(above / below) / (2.0 * step)
    left, right = np.log(ratio / below) / step, np.log(above / ratio) / step
    smooth = np.abs(left - right) < 1e-4  # leaves out the corners where one law takes over from another
    assert smooth.mean() > 0.99
    np.testing.assert_allclose(slope[smooth], found[smooth], atol=2e-5)


def test_coil_ratio_against_white_and_ito():
    # White 1929: 2.233 times straight at Re 2000, bore 6.35 mm on 300 mm; computed with the library fluids
    assert friction.coil_ratio(2000.0, 6.35e-3, 0.3) == pytest.approx(2.233, rel=2e-4)
    # White 1929, quoted in the documentation of fluids: f = 0.4063281818 at Re 250, bore 20 mm on 100 mm
    assert friction.coil_ratio(250.0, 0.02, 0.1) * 64.0 / 250.0 == pytest.approx(0.4063281818, rel=1e-9)
    # Ito 1959 over Colebrook smooth: 1.2375 at Re 1e5, bore 12.7 mm on 0.4 m; other authors agree within 6 %
    assert friction.coil_ratio(1e5, 12.7e-3, 0.4) == pytest.approx(1.2375, rel=1e-4)


def test_coil_ratio_agrees_with_others_where_all_are_turbulent():
    # Mori and Nakayama 1967 and Schmidt 1967, through the library fluids, on the coils of a hose reel
    for bore_ratio in (0.01, 0.02, 0.05):
        for reynolds in (1.5e4, 5e4, 1e5):
            straight = fluids_friction.Colebrook(reynolds, 0.0)
            mori = fluids_friction.helical_turbulent_fd_Mori_Nakayama(reynolds, bore_ratio, 1.0) / straight
            schmidt = fluids_friction.helical_turbulent_fd_Schmidt(reynolds, bore_ratio, 1.0) / straight
            found = friction.coil_ratio(reynolds, bore_ratio, 1.0)
            assert found == pytest.approx(mori, rel=0.05)
            assert found == pytest.approx(schmidt, rel=0.07)


def test_laws_change_over_close_to_itos_critical_reynolds_number():
    for bore_ratio in (0.01, 0.02, 0.05):
        reynolds = np.geomspace(2300.0, 2e4, 20_000)
        white = white_laminar_coil_factor(reynolds, bore_ratio) / friction.darcy_factor(reynolds, 0.0)
        whites = friction.coil_ratio(reynolds, bore_ratio, 1.0) <= white * (1.0 + 1e-12)
        last = reynolds[np.nonzero(whites)[0][-1]]
        assert last == pytest.approx(ito_critical_reynolds(bore_ratio), rel=0.15)


def test_coil_ratio_limits():
    reynolds = np.geomspace(1e-3, 1e7, 3001)
    assert np.all(friction.coil_ratio(reynolds, 0.01, np.inf) == 1.0)
    wide = friction.coil_ratio(reynolds, 0.01, 1e9)
    np.testing.assert_allclose(wide, 1.0, rtol=1e-6)
    # White 1929: below a Dean number of 11.6 a coil is as good as straight
    for bore_ratio in COILS:
        slow = 11.5 / np.sqrt(bore_ratio)
        if slow < 2300.0:
            assert friction.coil_ratio(slow, bore_ratio, 1.0) == pytest.approx(1.0, abs=1e-12)


@pytest.mark.parametrize("bore_ratio", COILS)
def test_coil_ratio_is_one_or_more_and_has_no_step(bore_ratio):
    reynolds = np.geomspace(1.0, 1e7, 200_001)
    ratio = friction.coil_ratio(reynolds, bore_ratio, 1.0)
    assert ratio.min() >= 1.0
    assert np.abs(np.diff(np.log(ratio))).max() < 2e-4  # steps of Re are 8e-5 in the logarithm
    tighter = friction.coil_ratio(reynolds, bore_ratio * 1.3, 1.0)
    assert np.all(tighter >= ratio * (1.0 - 1e-12))


def test_no_flow_is_finite():
    assert np.isfinite(friction.darcy_factor(0.0, 1e-3))
    assert friction.coil_ratio(0.0, 0.01, 0.5) == 1.0


def test_shapes_and_types():
    assert type(friction.darcy_factor(5000, 0)) is float
    assert type(friction.darcy_factor(np.float64(50.0), np.float64(0.001))) is float
    assert type(friction.coil_ratio(5000, 0.01, 0.5)) is float
    assert friction.darcy_factor([100, 3000, 1e5], 0.0).shape == (3,)
    assert friction.coil_ratio([[100.0], [1e5]], 0.01, [0.3, 0.5, np.inf]).shape == (2, 3)


def test_array_is_a_loop_of_scalars():
    reynolds = np.array([0.0, 10.0, 2299.0, 2301.0, 3999.0, 4001.0, 1e6])
    grid = friction.darcy_factor(reynolds[:, None], ROUGHNESS)
    loop = [[friction.darcy_factor(float(each), float(rough)) for rough in ROUGHNESS] for each in reynolds]
    np.testing.assert_allclose(grid, loop, rtol=1e-15)
    coils = np.array(COILS)
    grid = friction.coil_ratio(reynolds[:, None], coils, 1.0)
    loop = [[friction.coil_ratio(float(each), float(coil), 1.0) for coil in coils] for each in reynolds]
    np.testing.assert_allclose(grid, loop, rtol=1e-15)


def test_coil_ratio_takes_the_short_way_where_white_is_the_smaller():
    # Ito alone from Re 20,000 on: White's ratio must be below his there. Entries that must go the long way do not send
    # the others there, and where they are the most, all go.
    reynolds = np.geomspace(friction.ITO_ALONE, 1e7, 40)[:, np.newaxis]
    coils = np.concatenate([[0.0], np.geomspace(1e-7, 1.0, 60)])
    assert np.all(white_laminar_coil_factor(reynolds, coils) < ito_coil_factor(reynolds, coils))
    slow = np.geomspace(1.0, 0.99 * friction.ITO_ALONE, 60)[:, np.newaxis]
    short = friction.coil_ratio_and_slope(reynolds, coils)
    mixed = friction.coil_ratio_and_slope(np.vstack([slow[:5], reynolds]), coils)
    long = friction.coil_ratio_and_slope(np.vstack([slow, reynolds]), coils)
    for one, two, three in zip(short, mixed, long, strict=True):
        np.testing.assert_array_equal(one, three[60:])
        np.testing.assert_array_equal(two, np.vstack([three[:5], three[60:]]))
