"""How fast a console redraws, against a bare matplotlib draw of the same picture.

Run: python tests/benchmarks/redraw.py

For each console a slider is moved 50 times, kernel side. The floor is `canvas.draw()` of a matplotlib figure with the
same axes, ticks, labels and as many curves, timed in the same run. Wanted: 0.35 of the floor or less.
"""

import contextlib
import gc
import statistics
import sys
import time
import tracemalloc
from dataclasses import replace
from unittest.mock import patch

import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from ratios import Ratio, printed

from jetlib.screen.consoles import bypass_console, hose_console, jets_console
from jetlib.screen.drawing import chart

CONSOLES = {
    "jets: flow": (jets_console.jets_console, {}, "flow"),
    "jets, same area: flow": (jets_console.same_area_console, {}, "flow"),
    "hose: flow": (hose_console.hose_console, {}, "flow"),
    "two hoses: length 1": (hose_console.hose_console, {"two": True}, "length_1"),
    "bypass with a change: throttle": (bypass_console.bypass_console, {"extra_length": "100 ft"}, "throttle"),
    "bypass: hose added": (bypass_console.bypass_console, {}, "extra_length"),
}


def moves(make, options, name, count=50):
    """Seconds of each of `count` slider moves of a console made afresh, after its first look round."""
    console = make(**options)
    slider = console._fields[name].slider
    positions = np.linspace(slider.min, slider.max, count).round().astype(int)
    for position in (*positions[::10], *positions[:1]):
        slider.value = int(position)
    times = []
    for position in positions:
        start = time.perf_counter()
        slider.value = int(position)
        times.append(time.perf_counter() - start)
    return times


def bare_figure(make, options):
    """A matplotlib figure with the axes and as many curves as the console's picture."""
    panels, curves, width, height = [], 0, 0, 0

    def spy(drawn, wide, high, overlay, state=()):
        """Charts beside one another are one figure."""
        nonlocal curves, width, height
        panels.append(replace(drawn, left=drawn.left + width))
        curves += sum("<polyline" in piece for piece in (*overlay, *state))
        width, height = width + wide, max(height, high)
        return real(drawn, wide, high, overlay, state)

    real, module = chart.chart, sys.modules[make.__module__]
    with contextlib.ExitStack() as spied:  # by the console itself, and where it has charts laid out as tiles
        for each in {module, chart}:
            if hasattr(each, "chart"):
                spied.enter_context(patch.object(each, "chart", spy))
        make(**options)
    figure = Figure(figsize=(width / 72, height / 72), dpi=100, layout="none")
    canvas = FigureCanvasAgg(figure)
    for panel in panels:
        bottom = height - panel.top - panel.height
        box = (panel.left / width, bottom / height, panel.width / width, panel.height / height)
        ax = figure.add_axes(box)
        ax.set(xlim=panel.x_range, ylim=panel.y_range, xlabel=panel.x_label, ylabel=panel.y_label)
        ax.grid(True)
        x = np.linspace(*panel.x_range, 101)
        for number in range(max(curves // len(panels), 1)):
            ax.plot(x, np.linspace(*panel.y_range, 101) * (1.0 - 0.1 * number))
    return canvas


def floor(canvas, count=15):
    """Median seconds of a bare draw."""
    canvas.draw()
    times = []
    for _ in range(count):
        start = time.perf_counter()
        canvas.draw()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def growth(steps=2000):
    """Bytes that Python still holds more of after `steps` further moves of the bypass console's throttle."""
    console = bypass_console.bypass_console()
    slider = console._fields["throttle"].slider
    for step in range(150):
        slider.value = step % 101
    tracemalloc.start()
    for step in range(150):
        slider.value = step % 101
    gc.collect()
    before = tracemalloc.get_traced_memory()[0]
    for step in range(steps):
        slider.value = step % 101
    gc.collect()
    after = tracemalloc.get_traced_memory()[0]
    tracemalloc.stop()
    return after - before


def ratios():
    """(Ratios, sentences about them)."""
    found = []
    for words, (make, options, name) in CONSOLES.items():
        bare = floor(bare_figure(make, options))
        times = moves(make, options, name)
        median, high = statistics.median(times), statistics.quantiles(times, n=20)[-1]
        found.append(Ratio(f"slider step, median / bare matplotlib draw: {words}", median / bare, 0.35))
        found.append(Ratio(f"slider step, 95th percentile / the same: {words}", high / bare, 0.35))
    words = (
        f"Memory kept after 2,000 moves of the throttle: {growth() / 1000:.0f} kB (wanted: no growth).",
        "A ratio of 0.1 means: a slider step costs a tenth of what matplotlib takes to draw the same picture anew.",
    )
    return tuple(found), words


if __name__ == "__main__":
    print(printed(*ratios()))
