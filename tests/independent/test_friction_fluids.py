"""Friction, coils, fittings, channel and air against the library fluids, over wide grids."""

from inspect import signature

import fluids
import numpy as np
import pytest
from fluids import friction as reference

from jetlib.physics import air, channel, fitting, hose, published_friction, water
from jetlib.physics.friction import LAMINAR_LIMIT, TURBULENT_LIMIT, coil_ratio, darcy_factor

REYNOLDS = np.logspace(np.log10(TURBULENT_LIMIT), 8, 80)
ROUGHNESS = np.concatenate([[0.0], np.logspace(-6, np.log10(0.05), 24)])
GRID = np.meshgrid(REYNOLDS, ROUGHNESS)


def assert_close(computed, expected, tolerance):
    error = np.max(np.abs(np.asarray(computed) / np.asarray(expected) - 1.0))
    assert error < tolerance, error


def on_grid(function):
    reynolds, roughness = GRID
    return np.array([function(re, e) for re, e in zip(reynolds.flat, roughness.flat, strict=True)]).reshape(
        reynolds.shape
    )


# --- straight pipe ----------------------------------------------------------------------------------


@pytest.mark.parametrize("exact", [reference.Clamond, reference.Colebrook])
@pytest.mark.filterwarnings("ignore:overflow:RuntimeWarning")  # inside fluids, at the roughest pipes
def test_colebrook_over_the_whole_chart(exact):
    """2,000 points, Re 4000 to 1e8, roughness 0 to 0.05 of the bore; both sides exact, so only rounding differs."""
    assert_close(darcy_factor(*GRID), on_grid(exact), 1e-12)


def test_laminar():
    reynolds = np.linspace(1.0, LAMINAR_LIMIT, 200)
    assert_close(darcy_factor(reynolds, 0.001), [reference.friction_laminar(re) for re in reynolds], 1e-14)


@pytest.mark.parametrize(
    ("ours", "theirs"),
    [
        (published_friction.haaland_factor, reference.Haaland),
        (published_friction.swamee_jain_factor, reference.Swamee_Jain_1976),
        (published_friction.churchill_factor, reference.Churchill_1977),
    ],
    ids=["Haaland", "Swamee-Jain", "Churchill"],
)
def test_explicit_formulas(ours, theirs):
    """The same formula written twice: rounding only."""
    assert_close(ours(*GRID), on_grid(theirs), 1e-12)


def test_explicit_formulas_stay_near_colebrook():
    """Within what their authors claim, where they claim it: Haaland 2 %, Swamee-Jain 3.4 %, Churchill about as good.

    Measured here: Haaland 1.4 %, Swamee-Jain and Churchill 2.9 %.
    """
    reynolds, roughness = (each[:, GRID[0][0] > 5000] for each in GRID)
    exact = darcy_factor(reynolds, roughness)
    assert_close(published_friction.haaland_factor(reynolds, roughness), exact, 0.02)
    assert_close(published_friction.swamee_jain_factor(reynolds, roughness), exact, 0.034)
    assert_close(published_friction.churchill_factor(reynolds, roughness), exact, 0.034)


def test_pressure_loss_of_a_grid_of_hoses():
    """1,347 hoses: bores 4.8 to 32 mm, flows 1 to 80 L/min, three walls, three waters; turbulent and laminar ones."""
    checked = 0
    for celsius in (2.0, 15.0, 55.0):
        density, viscosity = water.density(273.15 + celsius), water.viscosity(273.15 + celsius)
        for bore in (4.8e-3, 6.4e-3, 7.9e-3, 9.5e-3, 12.7e-3, 19e-3, 25.4e-3, 32e-3):
            flow = np.geomspace(1.0, 80.0, 21) / 60e3
            reynolds = hose.reynolds_number(flow, bore=bore, density=density, viscosity=viscosity)
            flow = flow[(reynolds < 2040) | (reynolds > TURBULENT_LIMIT)]  # between, each has a bridge of its own
            for roughness in (0.0, 1.5e-6, 3e-5):
                ours = hose.pressure_loss(
                    flow, bore=bore, length=60.0, roughness=roughness, density=density, viscosity=viscosity
                )
                theirs = [
                    fluids.one_phase_dP(q * density, density, viscosity, bore, roughness=roughness, L=60.0)
                    for q in flow
                ]
                assert_close(ours, theirs, 1e-9)
                checked += len(flow)
    assert checked == 1347


# --- coiled hose ------------------------------------------------------------------------------------

REELS = [0.2, 0.4, 0.8, 1.5]  # coil diameters, m
BORE = 12.7e-3


@pytest.mark.parametrize("reel", REELS)
def test_laminar_coil_and_critical_reynolds(reel):
    reynolds = np.linspace(50.0, 2000.0, 40)
    white = [reference.helical_laminar_fd_White(re, BORE, reel) for re in reynolds]
    assert_close(published_friction.white_laminar_coil_factor(reynolds, BORE / reel), white, 1e-12)
    ratio = BORE / reel
    assert_close(
        published_friction.ito_critical_reynolds(ratio), reference.helical_transition_Re_Ito(BORE, reel), 1e-12
    )
    schmidt = reference.helical_transition_Re_Schmidt(BORE, reel)
    assert_close(published_friction.schmidt_critical_reynolds(ratio), schmidt, 1e-12)


@pytest.mark.parametrize("reel", REELS)
def test_schmidt_coil(reel):
    reynolds = np.geomspace(1e4, 1.4e5, 30)
    ours = published_friction.schmidt_coil_factor(reynolds, BORE / reel, straight_factor=darcy_factor(reynolds, 0.0))
    theirs = [reference.helical_turbulent_fd_Schmidt(Re=re, Di=BORE, Dc=reel, roughness=0.0) for re in reynolds]
    assert_close(ours, theirs, 1e-9)


def other_coil(name, reynolds, reel):
    formula = getattr(reference, f"helical_turbulent_fd_{name}")
    given = {"Di": BORE, "Dc": reel, "roughness": 0.0}
    given = {key: value for key, value in given.items() if key in signature(formula).parameters}
    return np.array([formula(Re=re, **given) for re in reynolds])


@pytest.mark.parametrize("reel", REELS)
def test_engine_coil_among_the_published_ones(reel):
    """The engine's coil (Ito) against three others, Re 22,000 to 150,000.

    Mori & Nakayama and Schmidt lie within 6 % (below 22,000 Schmidt has another branch, up to 25 % higher), Mandal &
    Nigam within 30 %: such is the state of knowledge, and the reeled share of a hose's loss is known no better.
    helical_turbulent_fd_Srinivasan is not used: as written in fluids 1.x it is 1.8 to 2.8 times all the rest, and looks
    like a slip of a factor.
    """
    reynolds = np.geomspace(2.2e4, 1.5e5, 20)
    engine = coil_ratio(reynolds, BORE, reel) * darcy_factor(reynolds, 0.0)
    assert_close(other_coil("Mori_Nakayama", reynolds, reel), engine, 0.06)
    assert_close(other_coil("Schmidt", reynolds, reel), engine, 0.06)
    assert_close(other_coil("Mandal_Nigam", reynolds, reel), engine, 0.30)
    assert np.all(other_coil("Srinivasan", reynolds, reel) > 1.7 * engine)


# --- fittings, drains, air --------------------------------------------------------------------------


def test_fittings():
    beta = np.linspace(0.1, 1.0, 40)
    expected = [fluids.diffuser_sharp(Di1=b, Di2=1.0) for b in beta]
    assert np.max(np.abs(fitting.sudden_expansion(beta, 1.0) - expected)) < 1e-12
    # fluids has 1.6e9 D^4/Kv^2 with the constant rounded from 1.5989e9
    bore = np.array([6.4e-3, 12.7e-3, 51e-3])
    assert_close(fitting.loss_coefficient_from_kv(3.0, bore=bore), [fluids.Kv_to_K(3.0, d) for d in bore], 1e-3)
    assert_close(fitting.loss_coefficient_from_cv(3.0, bore=bore), [fluids.Cv_to_K(3.0, d) for d in bore], 2e-3)


def test_manning():
    radius, slope = np.meshgrid(np.geomspace(0.002, 0.3, 20), np.geomspace(0.001, 0.1, 10))
    expected = [fluids.V_Manning(Rh=r, S=s, n=0.012) for r, s in zip(radius.flat, slope.flat, strict=True)]
    assert_close(channel.manning_velocity(radius, slope, 0.012).ravel(), expected, 1e-12)


def test_standard_atmosphere():
    """fluids takes height as a distance, the standard's table as metres of equal work: turned by its rule."""
    work = np.linspace(-500.0, 5000.0, 23)
    distance = 6356766.0 * work / (6356766.0 - work)
    expected = [fluids.ATMOSPHERE_1976(z) for z in distance]
    assert_close(air.pressure(work), [each.P for each in expected], 1e-5)
    assert_close(air.density_ratio(work), [each.rho / 1.225 for each in expected], 2e-5)
    assert_close(air.temperature(work), [each.T for each in expected], 1e-6)
