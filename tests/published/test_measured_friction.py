"""Friction measured in smooth tubes against the engine's friction factor: two sets of data, ninety years apart.

Stanton & Pannell, Phil. Trans. R. Soc. A 214 (1914) 199: water in drawn brass pipes of 3.6, 7.1 and 12.6 mm bore, the
very sizes of jetting hose, Reynolds number 2200 to 430000. Transcribed by A. Trettel in the open data set sheardata
(CC-BY-4.0), file D1914001; its friction coefficient is the wall's drag over density x speed squared, so f is 8 of it.

McKeon, Swanson, Zagarola, Donnelly & Smits, J. Fluid Mech. 511 (2004) 41, the Oregon points, as the library fluids
ships them: Reynolds number 11 to 1050000 in one smooth tube.
"""

import csv
from pathlib import Path

import numpy as np
import pytest
from fluids.friction import oregon_fd_smooth, oregon_Res

from jetlib.physics.friction import LAMINAR_LIMIT, TURBULENT_LIMIT, darcy_factor


def _stanton_pannell():
    with open(Path(__file__).parent / "stanton_pannell_1914.csv", newline="") as file:
        rows = list(csv.DictReader(file))
    bore, reynolds, coefficient = (
        np.array([float(row[column]) for row in rows]) for column in ("bore_mm", "reynolds", "friction_coefficient")
    )
    return bore, reynolds, 8.0 * coefficient


BORE, REYNOLDS, FACTOR = _stanton_pannell()
ERROR = darcy_factor(REYNOLDS, 0.0) / FACTOR - 1.0
TURBULENT = REYNOLDS >= TURBULENT_LIMIT


def test_turbulent_flow_in_tubes_of_hose_size():
    """150 points: none off by more than 6 % (worst 5.3 %), half within 1.3 %, bias below 1.5 %.

    The points themselves repeat to 4 %. The course sits 1.0 % low on average; nothing was fitted.
    """
    error = ERROR[TURBULENT]
    assert len(error) == 150
    assert np.max(np.abs(error)) < 0.06
    assert np.median(np.abs(error)) < 0.015
    assert abs(np.mean(error)) < 0.015


@pytest.mark.parametrize("bore", [3.61, 7.125, 12.55])
def test_each_bore_alone(bore):
    """The mean error of each tube is below 2 %: no drift with bore, which is what the law of similarity says."""
    assert abs(np.mean(ERROR[TURBULENT & (bore == BORE)])) < 0.02


def test_drawn_tube_is_smoother_than_its_book_roughness():
    """The book's 1.5 micrometres for drawn tube overstates these tubes at high Reynolds number by 7 to 17 %.

    So the roughness of an unmeasured hose is a range, and smooth is its honest lower end.
    """
    fast = REYNOLDS > 2e5
    excess = darcy_factor(REYNOLDS[fast], 1.5e-3 / BORE[fast]) / FACTOR[fast] - 1.0
    assert 0.02 < np.min(excess) < np.max(excess) < 0.20


def test_between_laminar_and_turbulent_the_bridge_is_low():
    """Between 2300 and 4000 tubes that were shaken into turbulence lose up to 35 % more than the course's bridge.

    The bridge is a convention. Hoses with pulsing pumps behave like these tubes; at those flows the loss is a few psi.
    """
    between = (REYNOLDS > LAMINAR_LIMIT) & ~TURBULENT
    assert np.sum(between) >= 15
    assert np.all(ERROR[between] > -0.35)
    assert np.all(ERROR[between] < 0.0)


def test_oregon_points():
    """The other laboratory: turbulent points within 5 %, on average within 1 %; laminar ones 10 % and 4 % low.

    64/Re is exact in laminar flow, so what is left there is the measurement's: pressure drops of a few pascal.
    """
    reynolds, factor = np.array(oregon_Res), np.array(oregon_fd_smooth)
    error = darcy_factor(reynolds, 0.0) / factor - 1.0
    turbulent, laminar = reynolds > TURBULENT_LIMIT, reynolds < 1500.0
    assert np.max(np.abs(error[turbulent])) < 0.05
    assert abs(np.mean(error[turbulent])) < 0.01
    assert np.max(np.abs(error[laminar])) < 0.10
    assert abs(np.mean(error[laminar])) < 0.05
