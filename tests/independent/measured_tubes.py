"""Friction measured in smooth tubes, beside the course's curve: two pictures for the page on how sure it is."""

import numpy as np
from evaluate import inputs, results
from left_out import measured_friction

from jetlib.physics.friction import LAMINAR_LIMIT, TURBULENT_LIMIT, darcy_factor
from jetlib.screen import Marks, comparison, lines_of, percent

LOOKS = {3.61e-3: ("dot", "blue"), 7.125e-3: ("ring", "orange"), 12.55e-3: ("diamond", "purple")}


def share(reynolds, factor, roughness=0.0):
    """How far the course is off a measured factor, as a share."""
    return darcy_factor(reynolds, roughness) / factor - 1


def _marks(low, high):
    bore, reynolds, factor = measured_friction()
    rows = [row for row in results() if "MEASURED Darcy f, smooth" in row["quantity"]]
    oregon = np.array([(inputs(row)["reynolds"], row["value"]) for row in rows]).T
    sets = [
        (f"{1e3 * size:.1f} mm brass", *(each[np.isclose(bore, size)] for each in (reynolds, factor)), *look)
        for size, look in LOOKS.items()
    ]
    marks = []
    for name, x, y, *look in [*sets, ("Oregon", *oregon, "square", "green")]:
        at = (x >= low) & (x < high)
        marks.append(Marks(name, x[at], y[at], 100 * share(x[at], y[at]), *look))
    return marks


def _picture(words, low, high, curve):
    lines = lines_of(("this course, smooth tube",), curve, (darcy_factor(curve, 0.0),))
    return comparison(words, _marks(low, high), x_label="Reynolds number", y_label="friction factor", lines=lines)


def turbulent_picture():
    """Turbulent flow in brass tubes of hose size, 1914, and in a smooth tube in Oregon, 2004."""
    bore, reynolds, factor = measured_friction()
    away, fast = share(reynolds, factor)[reynolds >= TURBULENT_LIMIT], reynolds > 2e5
    rough = 100 * share(reynolds[fast], factor[fast], 1.5e-6 / bore[fast])
    return _picture(
        f"{len(away)} measured points of turbulent flow in brass tubes: largest difference "
        f"{percent(np.abs(away).max())}, half of them within {percent(np.median(np.abs(away)))}, on average "
        f"{percent(away.mean(), sign=True)}. With the book's roughness for drawn tube, 0.0015 mm, the course would be "
        f"{rough.min():.0f} to {rough.max():.0f} % too high at the fastest flows: these tubes are smoother than the "
        "book says.",
        TURBULENT_LIMIT,
        np.inf,
        np.geomspace(4e3, 1.2e6, 200),
    )


def between_picture():
    """The same tubes between smooth and turbulent flow, where the course's straight line is too low."""
    _, reynolds, factor = measured_friction()
    low = -100 * share(reynolds, factor)[(reynolds > LAMINAR_LIMIT) & (reynolds < TURBULENT_LIMIT)]
    return _picture(
        f"Between Re 2300 and 4000 the course is {low.min():.0f} to {low.max():.0f} % below all {len(low)} "
        "measured points. These tubes were shaken into turbulence, as a pulsing pump shakes a hose.",
        1500,
        8000,
        np.geomspace(1.8e3, 8e3, 200),
    )
