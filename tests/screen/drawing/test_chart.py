"""Charts: where data lands, what is drawn once, and whether it can be read."""

import xml.etree.ElementTree as ElementTree

import numpy as np
import pytest
from matplotlib.figure import Figure

from jetlib.screen.drawing.chart import (
    Axis,
    Panel,
    Series,
    axes,
    axes_svg,
    chart,
    curve,
    dot,
    legend,
    nice_ceiling,
    ticks,
)
from jetlib.screen.drawing.theme import COLOURS, DASHES, PRESSURE_STEPS, pressure_step

PANEL = Panel("throttle, %", "gauge, psi", (0, 100), (0, 4000), 60, 30, 300, 200)


@pytest.mark.parametrize(
    ("value", "ceiling"), [(0, 1), (1, 1), (1.01, 1.5), (7, 8), (9.5, 10), (2770, 3000), (0.031, 0.04), (-5, 1)]
)
def test_nice_ceiling(value, ceiling):
    assert nice_ceiling(value) == pytest.approx(ceiling)


def test_data_and_ticks_land_where_matplotlib_puts_them():
    figure = Figure(figsize=(400 / 72, 260 / 72), dpi=72)
    box = (PANEL.left / 400, (260 - PANEL.top - PANEL.height) / 260, PANEL.width / 400, PANEL.height / 260)
    ax = figure.add_axes(box, xlim=PANEL.x_range, ylim=PANEL.y_range)
    x, y = np.array([0.0, 37.0, 100.0]), np.array([0.0, 1234.0, 4000.0])
    pixels = ax.transData.transform(np.column_stack([x, y]))
    assert PANEL.x(x) == pytest.approx(pixels[:, 0], abs=0.01)
    assert PANEL.y(y) == pytest.approx(260 - pixels[:, 1], abs=0.01)


def test_an_axis_takes_si_values_and_shows_them_in_the_units_of_the_reader():
    bar, litre = 1e5, 1e-3 / 60.0
    panel = axes("metric", Axis("flow", "flow", 38 * litre), Axis("gauge", "pressure", 190 * bar), 60, 30, 300, 200)
    assert (panel.x_label, panel.y_label, panel.y_range) == ("flow, L/min", "gauge, bar", (0.0, 200.0))
    assert (float(panel.x(20 * litre)), float(panel.y(50 * bar))) == (pytest.approx(210.0), pytest.approx(180.0))
    assert panel.told(50 * bar) == "50 bar" and "off the chart" in dot(panel, 20 * litre, 201 * bar, "201 bar")


@pytest.mark.parametrize(("low", "high"), [(0, 100), (0, 4000), (0, 1.5), (-0.02, 0.03), (1e3, 1e6)])
def test_ticks_are_round_and_inside(low, high):
    found = ticks(low, high)
    assert 3 <= len(found) <= 7
    assert found.min() >= low - 1e-9 * high
    assert found.max() <= high * (1 + 1e-9)
    step = np.diff(found)
    assert step == pytest.approx(step[0])
    assert step[0] / 10 ** np.floor(np.log10(step[0])) == pytest.approx(
        min((1, 2, 2.5, 5), key=lambda nice: abs(nice - step[0] / 10 ** np.floor(np.log10(step[0]))))
    )


def test_axes_are_written_once_for_each_set_of_limits():
    axes_svg.cache_clear()
    first = chart(PANEL, 400, 260, [])[0]
    again = chart(PANEL, 400, 260, [curve(PANEL, Series("a", [0, 100], [0, 4000]))])[0]
    assert axes_svg.cache_info().misses == 1
    assert again.startswith(first)


def test_axes_take_their_ink_from_the_page():
    content, *size = chart(PANEL, 400, 260, [])
    assert size == [400, 260]
    assert "currentColor" in content
    assert "gauge, psi" in content


def test_chart_is_well_formed_and_escapes_names():
    pieces = [curve(PANEL, Series("a<b & c", [0, 100], [0, 9999])), legend(PANEL, [Series("a<b & c", (), ())])]
    root = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink">'
    tree = ElementTree.fromstring(root + chart(PANEL, 400, 260, pieces)[0] + "</svg>")
    points = tree.find(".//{http://www.w3.org/2000/svg}polyline").get("points").split()
    assert points[-1] == "360.0,30.0", "a curve that leaves the axes is held at their edge"


def relative_luminance(colour):
    """WCAG 2.2, definition of relative luminance."""
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return float(np.dot([0.2126, 0.7152, 0.0722], linear))


def contrast(one, other):
    """WCAG 2.2, contrast ratio."""
    a, b = sorted((relative_luminance(one), relative_luminance(other)), reverse=True)
    return (a + 0.05) / (b + 0.05)


@pytest.mark.parametrize("name", COLOURS)
def test_colours_can_be_read_on_both_themes(name):
    light, dark = COLOURS[name]
    assert contrast(light, "#ffffff") >= 4.5
    assert contrast(dark, "#111111") >= 4.5


def test_every_series_of_the_course_can_be_told_by_its_dash_alone():
    assert len(set(DASHES.values())) == len(DASHES)


def test_pressure_steps_rise_with_pressure():
    steps = [PRESSURE_STEPS.index(pressure_step(p, 100.0)) for p in range(0, 101, 5)]
    assert steps == sorted(steps)
    assert (steps[0], steps[-1]) == (0, len(PRESSURE_STEPS) - 1)
    assert pressure_step(5.0, 0.0) == "p0"
