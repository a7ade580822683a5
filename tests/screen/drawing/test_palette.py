"""Colours for eyes that see fewer of them, and enough contrast for all.

Colour-blind sight is simulated by the matrices of Machado, Oliveira and Fernandes, "A physiologically-based model for
simulation of color vision deficiency", IEEE Trans. Vis. Comput. Graph. 15 (2009) 1291, severity 1.0, on linear RGB.
sRGB after IEC 61966-2-1, CIELAB after ISO/CIE 11664-4 (D65), the difference of two colours as its distance (CIE 1976).
"""

from itertools import combinations

import numpy as np
import pytest

from jetlib.screen.consoles import (
    bypass_console,
    circuit_console,
    fault_console,
    hose_choice_console,
    hose_console,
    jets_console,
    pull_console,
    pump_console,
    sizing_console,
    supply_console,
)
from jetlib.screen.drawing import theme

SIGHT = {
    "full": np.eye(3),
    "deuteranopia": np.array(
        [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]]
    ),
    "protanopia": np.array(
        [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]]
    ),
}
TO_XYZ = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]])
#: Just noticeable is 2.3 (Mahy, Van Eycken and Oosterlinck, Color Res. Appl. 19 (1994) 105); a thin line wants several.
APART = 10.0
PAPER = ("#ffffff", "#111111")  # what JupyterLab puts behind, light and dark
THEMES = ("light", "dark")


def linear(colour):
    """Linear RGB of "#rrggbb"."""
    value = np.array([int(colour[at : at + 2], 16) for at in (1, 3, 5)]) / 255.0
    return np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4)


def lab(colour, sight="full"):
    """CIELAB of a colour as seen."""
    xyz = TO_XYZ @ np.clip(SIGHT[sight] @ linear(colour), 0.0, 1.0) / TO_XYZ.sum(axis=1)
    f = np.where(xyz > (6 / 29) ** 3, np.cbrt(xyz), xyz * (29 / 6) ** 2 / 3 + 4 / 29)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


def difference(one, other, sight):
    return float(np.linalg.norm(lab(one, sight) - lab(other, sight)))


def contrast(one, other):
    """Contrast ratio of WCAG 2.2."""
    low, high = sorted(float(TO_XYZ[1] @ linear(colour)) for colour in (one, other))
    return (high + 0.05) / (low + 0.05)


def test_the_measures_themselves():
    # ISO/CIE 11664-4: white is L* 100; WCAG 2.2: black on white is 21
    assert lab("#ffffff") == pytest.approx([100.0, 0.0, 0.0], abs=0.02)
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    # what deuteranopes famously mix up: a red and a green of like lightness; a blue and a yellow stay apart
    red, green = "#c44e00", "#6b7a00"
    assert difference(red, green, "full") > 40.0 > 15.0 > difference(red, green, "deuteranopia")
    assert difference("#0000c0", "#c0c000", "deuteranopia") > 60.0
    for matrix in SIGHT.values():  # grey stays grey
        assert matrix.sum(axis=1) == pytest.approx([1.0, 1.0, 1.0], abs=1e-5)


@pytest.mark.parametrize("number", [0, 1], ids=THEMES)
@pytest.mark.parametrize("sight", SIGHT)
@pytest.mark.parametrize("palette", ["COLOURS", "_PRESSURE"])
def test_any_two_colours_stay_apart(palette, sight, number):
    colours = getattr(theme, palette)
    close = [
        (one, other, round(difference(colours[one][number], colours[other][number], sight), 1))
        for one, other in combinations(colours, 2)
        if difference(colours[one][number], colours[other][number], sight) < APART
    ]
    assert close == []


@pytest.mark.parametrize("number", [0, 1], ids=THEMES)
def test_contrast(number):
    # WCAG 2.2: 4.5 for text (1.4.3), 3 for what must be seen in a picture (1.4.11)
    for name, pair in theme.COLOURS.items():
        assert contrast(pair[number], PAPER[number]) >= 4.5, name
    for name, pair in theme._PRESSURE.items():
        assert contrast(pair[number], PAPER[number]) >= 3.0, name


CONSOLES = {
    "one pump, four outlets": (pump_console, lambda: pump_console.pump_console()),
    "jets": (jets_console, lambda: jets_console.jets_console()),
    "hose": (hose_console, lambda: hose_console.hose_console()),
    "two hoses": (hose_console, lambda: hose_console.hose_console(two=True)),
    "circuit": (circuit_console, lambda: circuit_console.circuit_console()),
    "bypass": (bypass_console, lambda: bypass_console.bypass_console()),
    "bypass with a change": (bypass_console, lambda: bypass_console.bypass_console(extra_length="100 ft")),
    "one drill after another": (sizing_console, lambda: sizing_console.drills_console()),
    "where to step down": (hose_choice_console, lambda: hose_choice_console.step_down_console()),
    "two faults": (fault_console, lambda: fault_console.fault_console()),
    "what the hose drags with": (pull_console, lambda: pull_console.reach_console()),
    "what the pump asks": (supply_console, lambda: supply_console.power_console()),
}


@pytest.mark.parametrize("name", CONSOLES)
def test_curves_of_one_picture_differ_in_more_than_colour(name, monkeypatch):
    """In their dash; or in the width of the line, and then in a colour that every eye tells apart."""
    module, make = CONSOLES[name]
    real, seen = module.legend, []

    def spy(panel, all_series):
        seen.append(list(all_series))
        return real(panel, all_series)

    monkeypatch.setattr(module, "legend", spy)
    make()
    assert seen
    for one, other in (pair for entries in seen for pair in combinations(entries, 2)):
        if one.dash != other.dash:
            continue
        assert one.width != other.width, f"{one.name} and {other.name} differ by colour alone"
        pairs = zip(theme.COLOURS[one.colour], theme.COLOURS[other.colour], strict=True)
        assert all(difference(*pair, sight) >= APART for pair in pairs for sight in SIGHT), (one.name, other.name)
