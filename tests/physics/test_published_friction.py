"""Published friction formulas against the library fluids and values quoted from the papers' readers.

Where fluids has the formula, the tolerance is rounding; the rest are worked from the formula as printed. (The library's
helical_turbulent_fd_Srinivasan gives 1.9 to 2.7 times the others and is left out.)
"""

import fluids
import numpy as np
import pytest
from fluids import friction

from jetlib import JetlibError
from jetlib.physics import published_friction as published

REYNOLDS = np.geomspace(4e3, 1e8, 25)
ROUGHNESS = (1e-6, 1e-5, 1e-4, 1e-3, 1e-2, 5e-2)


@pytest.mark.parametrize(
    ("function", "expected"),
    [
        (published.haaland_factor, 0.018265053),  # Haaland 1983, quoted
        (published.swamee_jain_factor, 0.0184524244),  # Swamee & Jain 1976, quoted
        (published.churchill_factor, 0.0184626246),  # Churchill 1977, quoted
    ],
)
def test_straight_pipe_at_reynolds_1e5(function, expected):
    assert function(1e5, 1e-4) == pytest.approx(expected, rel=1e-8)


@pytest.mark.parametrize(
    ("function", "reference", "spread"),
    [
        (published.haaland_factor, friction.Haaland, 0.02),
        (published.swamee_jain_factor, friction.Swamee_Jain_1976, 0.034),
        (published.churchill_factor, friction.Churchill_1977, 0.034),
    ],
)
def test_straight_pipe_over_the_range(function, reference, spread):
    for roughness in ROUGHNESS:
        found = function(REYNOLDS, roughness)
        same = [reference(float(reynolds), roughness) for reynolds in REYNOLDS]
        colebrook = [friction.Colebrook(float(reynolds), roughness) for reynolds in REYNOLDS]
        np.testing.assert_allclose(found, same, rtol=1e-11)
        np.testing.assert_allclose(found, colebrook, rtol=spread)  # the spread its docstring admits


def test_churchill_is_laminar_when_it_should_be():
    # Hagen-Poiseuille: f = 64/Re
    for reynolds in (10.0, 100.0, 1000.0):
        assert published.churchill_factor(reynolds, 1e-3) == pytest.approx(64 / reynolds, rel=1e-3)


def test_white():
    # White 1929: first quoted (the library's own worked example), second computed with fluids (2.233 times straight)
    assert published.white_laminar_coil_factor(250.0, 0.2) == pytest.approx(0.4063281818, rel=1e-9)
    ratio = 6.35 / 300
    assert published.white_laminar_coil_factor(2000.0, ratio) == pytest.approx(0.071444, rel=1e-5)
    assert published.white_laminar_coil_factor(2000.0, ratio) * 2000 / 64 == pytest.approx(2.233, rel=2e-4)


def test_white_against_the_library_and_straight_below_dean_11_6():
    for ratio in (0.001, 0.02, 0.06):
        reynolds = np.geomspace(10, 5000, 20)
        same = [friction.helical_laminar_fd_White(float(r), ratio, 1.0) for r in reynolds]
        np.testing.assert_allclose(published.white_laminar_coil_factor(reynolds, ratio), same, rtol=1e-11)
    assert published.white_laminar_coil_factor(1500.0, 0.0) == pytest.approx(64 / 1500, rel=1e-12)


def test_schmidt():
    # Schmidt 1967, quoted from the library's worked example: bore 20 mm, coil 500 mm, smooth
    straight = fluids.friction_factor(1e5, 0)
    found = published.schmidt_coil_factor(1e5, 0.04, straight_factor=straight)
    assert found == pytest.approx(0.0229619967, rel=1e-8)
    for reynolds in (8e3, 2.1e4, 2.3e4, 1.4e5):
        same = friction.helical_turbulent_fd_Schmidt(reynolds, 0.01, 0.4)
        straight = fluids.friction_factor(reynolds, 0)
        found = published.schmidt_coil_factor(reynolds, 0.025, straight_factor=straight)
        assert found == pytest.approx(same, rel=1e-11)


def test_ito_mishra_gupta_and_vdi():
    ratio = 9.525 / 500
    # Ito 1959 and Mishra & Gupta 1979: formulas from memory, values computed from them
    assert published.ito_coil_factor(3e4, ratio) == pytest.approx(0.027102, rel=2e-5)
    assert published.mishra_gupta_coil_factor(3e4, ratio) == pytest.approx(0.028151, rel=2e-5)
    # VDI Heat Atlas Gc: formula read, answer computed
    assert published.vdi_coil_factor(1e5, 12.7 / 400) == pytest.approx(0.023138, rel=2e-5)


def test_ito_raises_friction_as_the_literature_says():
    # Ito over Colebrook smooth at Re 1e5, bore 12.7 mm, coil 0.4 m: 1.2375, computed with fluids
    ratio = published.ito_coil_factor(1e5, 12.7 / 400) / friction.Colebrook(1e5, 0.0)
    assert ratio == pytest.approx(1.2375, rel=0.02)


def test_coil_formulas_agree_among_themselves():
    # Five who measured different coils, over the coils of a hose reel. A sixth, Mandal & Nigam 2009 (tube in tube),
    # lies 4 to 22 % above Ito.
    for reynolds in (2e4, 5e4, 1e5):
        for ratio in (0.01, 0.02, 0.05):
            straight = fluids.friction_factor(reynolds, 0)
            others = [
                published.mishra_gupta_coil_factor(reynolds, ratio),
                published.vdi_coil_factor(reynolds, ratio),
                published.schmidt_coil_factor(reynolds, ratio, straight_factor=straight),
                friction.helical_turbulent_fd_Mori_Nakayama(reynolds, ratio, 1.0),
            ]
            np.testing.assert_allclose(published.ito_coil_factor(reynolds, ratio), others, rtol=0.05)


def test_critical_reynolds():
    # Ito 1959 quoted at 1/7; Schmidt 1967 computed with fluids at 12.7 mm on 0.4 m
    assert published.ito_critical_reynolds(1 / 7) == pytest.approx(10729.97, rel=1e-6)
    assert published.schmidt_critical_reynolds(12.7 / 400) == pytest.approx(6488.0, rel=1e-5)
    assert published.schmidt_critical_reynolds(0.0) == 2300.0
    for ratio in (0.005, 0.03):
        ito, schmidt = published.ito_critical_reynolds(ratio), published.schmidt_critical_reynolds(ratio)
        assert ito == pytest.approx(friction.helical_transition_Re_Ito(ratio, 1.0), rel=1e-12)
        assert schmidt == pytest.approx(friction.helical_transition_Re_Schmidt(ratio, 1.0), rel=1e-12)


def test_hazen_williams():
    gallon, psi, inch, foot = 3.785411784e-3 / 60, 6894.757293168, 0.0254, 0.3048
    loss = published.hazen_williams_loss(10 * gallon, bore=1.049 * inch, length=100 * foot, coefficient=140)
    # NFPA 13 form, answer computed: 2.714 psi per 100 ft; EPANET's form (4.727, powers 1.852 and 4.871) gives 2.706
    assert loss / psi == pytest.approx(2.714, rel=1e-4)
    assert loss / psi == pytest.approx(2.706, rel=4e-3)
    # NFPA 13's own SI form: p = 6.05e5 Q^1.85/(C^1.85 d^4.87), bar per metre, L/min, mm (from memory)
    litres, millimetres = 10 * gallon * 60e3, 1.049 * inch * 1e3
    bar = 6.05e5 * litres**1.85 / (140**1.85 * millimetres**4.87) * 100 * foot
    assert loss / 1e5 == pytest.approx(bar, rel=2e-3)


def test_shapes_and_types():
    grid = published.churchill_factor(REYNOLDS[:, None], np.array(ROUGHNESS))
    assert grid.shape == (25, 6)
    assert type(published.white_laminar_coil_factor(np.float64(500.0), np.float64(0.02))) is float
    assert type(published.ito_coil_factor(2e4, 0.02)) is float
    assert published.schmidt_coil_factor([1e4, 5e4], 0.02, straight_factor=0.02).shape == (2,)


@pytest.mark.parametrize("reynolds", [0.0, -5.0, np.nan])
def test_a_reynolds_number_of_nothing_is_an_error(reynolds):
    with pytest.raises(JetlibError, match="reynolds is"):
        published.haaland_factor(reynolds, 1e-4)
    with pytest.raises(JetlibError, match="reynolds is"):
        published.vdi_coil_factor(reynolds, 0.02)
