"""Fittings against Borda-Carnot, Crane TP-410 worked examples and the library fluids."""

import fluids
import numpy as np
import pytest

from jetlib import JetlibError
from jetlib.physics import fitting


def test_sudden_expansion():
    # Borda-Carnot, (1 - beta^2)^2 at half the bore: 0.5625, exact
    assert fitting.sudden_expansion(0.5, 1.0) == pytest.approx(0.5625, rel=1e-12)
    for bore in (0.1, 0.4, 0.9):
        same = fluids.diffuser_sharp(bore, 1.0)
        assert fitting.sudden_expansion(bore, 1.0) == pytest.approx(same, rel=1e-12)
    assert fitting.sudden_expansion(1.0, 1.0) == 0.0


def test_expansion_is_what_momentum_and_energy_leave():
    # Balance of momentum and of energy over the step, worked out anew: loss = p1 - p2 + rho (V1^2 - V2^2)/2
    density, speed, beta = 1000.0, 12.0, 0.6
    after = speed * beta**2
    rise = density * after * (speed - after)
    loss = density / 2 * (speed**2 - after**2) - rise
    flow = speed * np.pi / 4 * 0.006**2
    coefficient = fitting.sudden_expansion(0.006, 0.010)
    found = fitting.pressure_loss(flow, bore=0.006, loss_coefficient=coefficient, density=density)
    assert found == pytest.approx(loss, rel=1e-12)


def test_sudden_contraction():
    # Crane TP-410's reducer formula at 180 degrees, as fluids has it
    for bore in (0.1, 0.5, 0.9):
        same = fluids.contraction_conical_Crane(Di1=1.0, Di2=bore, angle=180)
        assert fitting.sudden_contraction(bore, 1.0) == pytest.approx(same, rel=1e-9)
    # Rennels & Hudson 2012, the library's own choice for the same shoulder, reads 14 to 38 % higher
    for bore in (0.1, 0.3, 0.5, 0.7):
        other = fluids.contraction_sharp(Di1=1.0, Di2=bore)
        assert 1.0 < other / fitting.sudden_contraction(bore, 1.0) < 1.4


def test_entrance_and_exit():
    # EPANET 2.2 User Manual Table 3.3, quoted: square entrance 0.5, exit 1.0
    assert fitting.sudden_contraction(0.01, 1e6) == pytest.approx(0.5)
    assert fitting.sudden_expansion(0.01, 1e6) == pytest.approx(1.0)


def test_reduced_bore():
    # contraction 0.375 (Crane) and expansion 0.5625 (Borda-Carnot) at half the bore, and 0.03 x 20 of friction
    assert fitting.reduced_bore(0.005, 0.010) == pytest.approx(0.9375, rel=1e-12)
    long = fitting.reduced_bore(0.005, 0.010, length=0.1, friction_factor=0.03)
    assert long == pytest.approx(0.9375 + 0.6, rel=1e-12)
    assert fitting.reduced_bore(0.005, 0.005) == 0.0
    assert fitting.reduced_bore(0.005, 0.005, 0.010) == pytest.approx(0.5625, rel=1e-12)


def test_half_the_bore_costs_sixteen_times():
    flow = np.array([1e-4, 2e-4])
    wide = fitting.pressure_loss(flow, bore=0.010, loss_coefficient=0.9, density=998.0)
    narrow = fitting.pressure_loss(flow, bore=0.005, loss_coefficient=0.9, density=998.0)
    np.testing.assert_allclose(narrow / wide, 16.0, rtol=1e-12)
    np.testing.assert_allclose(wide[1] / wide[0], 4.0, rtol=1e-12)


def test_loss_takes_the_sign_of_the_flow():
    args = {"bore": 0.01, "loss_coefficient": 0.9, "density": 998.0}
    assert fitting.pressure_loss(-1e-4, **args) == -fitting.pressure_loss(1e-4, **args)


def test_kv():
    # Crane TP-410M, Example 7.2, quoted: Kv 500 m3/h on 154 mm is K 3.6
    assert fitting.loss_coefficient_from_kv(500.0, bore=0.154) == pytest.approx(3.6, rel=2e-3)
    assert fitting.loss_coefficient_from_kv(3.0, bore=0.012) == pytest.approx(fluids.Kv_to_K(3.0, 0.012), rel=2e-3)


def test_kv_by_its_definition():
    # IEC 60534: a valve of Kv 4 passes 4 m3/h of cold water at a loss of 1 bar
    loss = fitting.pressure_loss(
        4 / 3600, bore=0.02, loss_coefficient=fitting.loss_coefficient_from_kv(4.0, bore=0.02), density=1000.0
    )
    assert loss == pytest.approx(1e5, rel=1e-12)


def test_cv():
    found = fitting.loss_coefficient_from_cv(10.0, bore=0.02)
    assert found == pytest.approx(fluids.Cv_to_K(10.0, 0.02), rel=2e-3)
    # Cv is 1.156 Kv (IEC 60534, rounded)
    assert found == pytest.approx(fitting.loss_coefficient_from_kv(10 / 1.156, bore=0.02), rel=2e-3)


def test_shapes_types_and_errors():
    assert fitting.reduced_bore(np.array([[0.004], [0.005]]), [0.006, 0.008, 0.010]).shape == (2, 3)
    assert type(fitting.pressure_loss(np.float64(1e-4), bore=0.01, loss_coefficient=1, density=998)) is float
    assert type(fitting.reduced_bore(0.005, 0.010)) is float
    with pytest.raises(JetlibError, match="smaller bore first"):
        fitting.sudden_expansion(0.010, 0.005)
    with pytest.raises(JetlibError, match="smaller bore first"):
        fitting.reduced_bore(np.array([0.005, 0.012]), 0.010)
    with pytest.raises(JetlibError, match="bore is 0 m"):
        fitting.pressure_loss(1e-4, bore=0.0, loss_coefficient=1.0, density=998.0)
