"""Hose and pipe as SVG: as wide as the bore, in the color of the pressure, with marks that run with the water."""

from itertools import pairwise

import numpy as np

from jetlib.screen.drawing.chart import text
from jetlib.screen.drawing.theme import PRESSURE_STEPS, motion, pressure_step
from jetlib.units import text as words_of

_PIECES = 4  # of a hose, each in the color of its own pressure
_MARK = 7.0  # pixels: length of a mark
_SLOW = 0.02  # m/s: nobody sees water move that slowly


def bore_width(bore):
    """How wide a hose of that bore (m) is drawn, pixels: 8 for an eighth of an inch, 30 for an inch."""
    return float(np.clip(5.0 + 1000.0 * bore, 6.0, 34.0))


def hose(x0, x1, y, bore, before, after, full, velocity=0.0):
    """SVG of a hose from picture x0 to x1 at y: its pressure (Pa) falls from `before` to `after`, `full` is the whole
    scale of colors. velocity (m/s): marks run with the water, the faster the farther apart; none where it stands.
    """
    width = bore_width(bore)
    rim = f'fill="none" stroke="currentColor" stroke-opacity="0.75" stroke-width="{width + 4:.1f}"'
    parts, ends = [f'<path {rim} d="M{x0:.1f} {y}H{x1:.1f}"/>'], np.linspace(x0, x1, _PIECES + 1)
    for number, (left, right) in enumerate(pairwise(ends)):
        ink = pressure_step(before + (after - before) * (number + 0.5) / _PIECES, full)
        begins = left - (1 if number else 0)  # so that no seam shows where two pieces meet
        parts.append(
            f'<path class="jl-line-{ink}" fill="none" stroke-width="{width:.1f}" d="M{begins:.1f} {y}H{right:.1f}"/>'
        )
    return "".join(parts) + running(f"M{x0:.1f} {y}H{x1:.1f}", velocity, 0.3 * width)


def pipe(path, pressure, full, velocity=0.0, width=10.0):
    """SVG of a short pipe along an SVG path, in the color of its pressure (Pa)."""
    ink = pressure_step(pressure, full)
    rim = f'<path fill="none" stroke="currentColor" stroke-opacity="0.75" stroke-width="{width + 4:.1f}" d="{path}"/>'
    line = f'<path class="jl-line-{ink}" fill="none" stroke-width="{width:.1f}" d="{path}"/>'
    return rim + line + running(path, velocity, 0.3 * width)


def running(path, velocity, width=3.0):
    """SVG of marks that run along an SVG path with the water, at a velocity (m/s); "" where it stands."""
    if not velocity > _SLOW:
        return ""
    gap = 5.0 + 3.0 * float(min(velocity, 25.0))
    period = _MARK + gap
    run = f"--jl-run:-{period:.1f}px;{motion(period / (8.0 * min(velocity, 25.0) + 6.0))}"
    return (
        f'<path class="jl-run" style="{run}" fill="none" stroke="#ffffff" stroke-opacity="0.9" '
        f'stroke-width="{max(width, 1.5):.1f}" stroke-dasharray="{_MARK:g} {gap:.1f}" d="{path}"/>'
    )


def reel(x, y, bore, pressure, full):
    """SVG of turns of a hose on a reel centered on picture x, y."""
    ink, width = pressure_step(pressure, full), 0.6 * bore_width(bore)
    parts = []
    for turn in range(2):
        circle = f'<circle cx="{x:.1f}" cy="{y}" r="{13 + 0.5 * width + turn * (width + 6):.1f}" fill="none"'
        parts.append(f'{circle} stroke="currentColor" stroke-opacity="0.75" stroke-width="{width + 2.5:.1f}"/>')
        parts.append(f'{circle} class="jl-line-{ink}" stroke-width="{width:.1f}"/>')
    parts.append(f'<circle cx="{x:.1f}" cy="{y}" r="5" fill="currentColor"/>')
    return "".join(parts)


def legend_of_pressure(full, system):
    """Two tiles: which color is which pressure up to `full` (Pa), and what the marks say."""
    parts, step, wide = [text(12, 17, "pressure")], full / (len(PRESSURE_STEPS) - 1), 46
    for number, ink in enumerate(PRESSURE_STEPS):
        x = 80 + wide * number
        parts.append(f'<rect class="jl-ink-{ink}" x="{x}" y="6" width="{wide}" height="12"/>')
        figure = words_of(number * step, "pressure", system, 2).split()
        words = " ".join(figure) if number == len(PRESSURE_STEPS) - 1 else figure[0]
        parts.append(text(x + wide / 2, 33, words, anchor="middle", size=11))
    base = '<path class="jl-line-p2" fill="none" stroke-width="10" d="M12 12H100"/>'
    marks = base + running("M12 12H100", 4.0) + text(112, 17, "marks far apart: the water is fast")
    return [("".join(parts), 380, 40), (marks, 380, 40)]
