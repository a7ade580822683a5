"""Parts of a rig as SVG: the pump's plungers, what guards it, hose and pipe, the nozzle with its jets.

Hose and pipe are as wide as the bore, in the color of the pressure, with marks that run with the water. A nozzle's
holes are where they are drilled, each jet at its angle, longer and wider by pressure and bore. What guards the pump is
drawn by what it does: a spring that gives, a ball that holds the hose shut behind it, a dome that tears. It stands on a
line at picture x, y and lets water out to its left.
"""

from itertools import pairwise

import numpy as np

from jetlib.screen.drawing.chart import points_text, text
from jetlib.screen.drawing.theme import PRESSURE_STEPS, motion, pressure_step
from jetlib.units import text as words_of

_SLOWED = 40.0  # times slower than the pump, or nobody could follow
_METAL = 'fill="var(--jp-layout-color0, #ffffff)" stroke="currentColor" stroke-width="2"'
_THIN = 'fill="none" stroke="currentColor" stroke-linejoin="round"'
OUTLET = 38  # pixels above the line: where what they let out leaves
_PIECES = 4  # of a hose, each in the color of its own pressure
_MARK = 7.0  # pixels: length of a mark
_SLOW = 0.02  # m/s: nobody sees water move that slowly
_LONGEST = 2.0  # times the body's length: a jet at full pressure
_MOST_JETS = 12  # drawn; more cannot be told apart
_FULL_PRESSURE_REACH = 1.15


def plungers(x, y, width, height, speed):
    """SVG of the pump's three cylinders in a box at picture x, y (its upper left corner); `speed` in rad/s.

    Water is over the plungers, the crankcase under them. They go while the pump turns, many times slower.
    """
    wide, stroke = width / 3.0, 0.11 * height
    top, rest = y + 0.06 * height, y + 0.3 * height
    turn = 2.0 * np.pi / max(speed, 1e-9) * _SLOWED  # seconds
    parts = [
        _box(x, y, width, height, 'fill="var(--jp-layout-color0, #ffffff)" stroke="currentColor" stroke-width="2.5"'),
    ]
    for number in range(3):
        left, inside = x + wide * (number + 0.16), 0.68 * wide
        # From top to bottom is half a turn; each begins a third of a turn on from its neighbor.
        going = f"--jl-up:-{stroke:.1f}px;--jl-down:{stroke:.1f}px;{motion(turn / 2.0)};"
        going = f'class="jl-stroke" style="{going}animation-delay:-{turn * number / 3.0:.2f}s"' if speed > 0 else ""
        rod = f"M{left + inside / 2.0:.1f} {rest + 0.36 * height:.1f}V{y + 0.89 * height:.1f}"
        parts += [
            _box(left, top, inside, 0.55 * height, 'class="jl-ink-p2" fill-opacity="0.55"'),
            f'<g transform="translate(0 {-stroke * np.cos(2.0 * np.pi * number / 3.0):.1f})" {going}>',
            _box(left, rest, inside, 0.36 * height, 'fill="#8a8a8a" stroke="currentColor"'),
            f'<path d="{rod}" stroke="currentColor" stroke-width="3"/></g>',
            _box(left, top, inside, 0.66 * height, 'fill="none" stroke="currentColor" stroke-width="1.4"'),
        ]
    parts.append(
        _box(x, y + 0.78 * height, width, 0.22 * height, 'fill="#8a8a8a" stroke="currentColor" stroke-width="2"')
    )
    return "".join(parts)


def _box(x, y, width, height, look):
    return f'<rect x="{x:.1f}" y="{y:.1f}" width="{width:.1f}" height="{height:.1f}" {look}/>'


def unloader(x, y, opened, ink):
    """A regulating unloader: a cone on a seat, held down by a spring under a sealed cap. Open, the cone is lifted."""
    lift = 9 if opened else 0
    top, seat = y - 92, y - 22
    turns = 6
    space = (seat - 24 - lift - (top + 10)) / turns
    coils = "".join(f"L{x + (9 if turn % 2 else -9)} {top + 10 + space * (turn + 0.5):.1f}" for turn in range(turns))
    return (
        f'<path {_METAL} d="M{x - 17} {y - 8}V{top}H{x + 17}V{y - 8}Z"/>'
        f'<path {_THIN} stroke-width="2" d="M{x - 17} {seat}H{x - 7}M{x + 7} {seat}H{x + 17}"/>'
        f'<path {_THIN} stroke-width="2.4" d="M{x} {top + 10}{coils}L{x} {seat - 24 - lift}"/>'
        f'<path class="jl-ink-{ink if opened else "grey"}" stroke="currentColor" stroke-width="1.6" '
        f'd="M{x - 11} {seat - 22 - lift}H{x + 11}L{x} {seat + 3 - lift}Z"/>'
        f'<path fill="currentColor" d="M{x - 8} {top}V{top - 9}H{x + 8}V{top}Z"/>'
    )


def check_valve(x, y, held, ink):
    """A ball in the line: on its seat while it holds pressure in the hose behind it, off it while water goes by."""
    ball = x - 3 if held else x + 6
    return (
        f'<rect x="{x - 20}" y="{y - 17}" width="40" height="34" rx="4" {_METAL}/>'
        f'<path {_THIN} stroke-width="3" d="M{x - 14} {y - 15}L{x - 9} {y - 7}M{x - 14} {y + 15}L{x - 9} {y + 7}"/>'
        f'<circle class="jl-ink-{ink}" cx="{ball}" cy="{y}" r="9" stroke="currentColor" stroke-width="2"/>'
    )


def burst_disc(x, y, gone):
    """A thin dome between two flanges; gone, what is left of it stands up like petals."""
    low, high = y - 26, y - 70
    pieces = f"M{x - 14} {y - 8}V{low}h28V{y - 8}ZM{x - 14} {high}v-20h28v20ZM{x - 20} {low}V{high}h40V{low}Z"
    parts = f'<path {_METAL} d="{pieces}"/>'
    parts += f'<path fill="currentColor" d="M{x - 30} {low - 6}h60v7h-60zM{x - 30} {high}h60v7h-60z"/>'
    if gone:
        petals = f"M{x - 20} {low - 6}h9l-4 -24M{x + 20} {low - 6}h-9l4 -24"
        return parts + f'<path class="jl-line-red" fill="none" stroke-width="4" d="{petals}"/>'
    dome = f"M{x - 20} {low - 6}h6Q{x} {low - 36} {x + 14} {low - 6}h6"
    return parts + f'<path {_THIN} stroke-width="4" d="{dome}"/>'


def plug(x, y):
    """A tee with nothing on it but a plug, crossed out: a pump that nothing guards."""
    return (
        f'<path {_METAL} d="M{x - 12} {y - 8}V{y - 34}H{x + 12}V{y - 8}Z"/>'
        f'<path class="jl-line-red" fill="none" stroke-width="4" d="M{x - 16} {y - 66}l32 32m0 -32l-32 32"/>'
        + text(x, y - 74, "no valve", anchor="middle", colour="red", weight="bold")
    )


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


def nozzle(x, y, size, jets, pressure, full, flows=True):
    """SVG of a nozzle whose hose ends at picture x, y; its body is 1.4 `size` long and `size` high.

    jets: (count, angle, bore) of each group, angle in rad from straight back, bore in m. pressure: at the nozzle, Pa;
    full: the whole scale of colors and the reach of a jet, Pa. flows: whether water leaves.
    """
    ink = pressure_step(pressure, full)
    length, half = 1.4 * size, size / 2.0
    body = (
        f"M{x} {y - 0.3 * size}H{x + 0.2 * length}L{x + 0.36 * length} {y - half}H{x + 0.6 * length}"
        f"Q{x + 0.9 * length} {y - 0.46 * size} {x + length} {y}"
        f"Q{x + 0.9 * length} {y + 0.46 * size} {x + 0.6 * length} {y + half}"
        f"H{x + 0.36 * length}L{x + 0.2 * length} {y + 0.3 * size}H{x}Z"
    )
    behind, before = [], []
    for place, angle, bore, near in _holes(jets):
        front = angle > np.pi / 2.0
        from_x = x + length * (0.97 if front and place == 0 else 0.88 if front else 0.28)
        from_y = y + place * (0.62 if front else 0.82) * half
        if flows and pressure > 0:
            (before if near else behind).append(_jet(from_x, from_y, size, angle, place, bore, pressure / full, ink))
        hole = max(1100.0 * bore, 1.3) * size / 36.0
        (before if near else behind).append(
            f'<circle cx="{from_x:.1f}" cy="{from_y:.1f}" r="{hole:.1f}" fill="currentColor"/>'
        )
    shape = f'<path class="jl-ink-{ink}" d="{body}" stroke="currentColor" stroke-width="1.6"/>'
    return "".join(behind) + shape + "".join(before)


def end_view(x, y, radius, jets):
    """SVG of the nozzle seen from behind, centered on picture x, y: each hole on its circle, all to one scale."""
    parts = [f'<circle cx="{x}" cy="{y}" r="{radius}" fill="none" stroke="currentColor" stroke-width="2"/>']
    parts.append(f'<circle cx="{x}" cy="{y}" r="{0.36 * radius:.1f}" fill="none" stroke="currentColor"/>')
    for count, _, bore in jets:
        for at in range(int(count)):
            turn = 2.0 * np.pi * at / count - np.pi / 2.0
            hole_x, hole_y = x + 0.68 * radius * np.cos(turn), y + 0.68 * radius * np.sin(turn)
            hole = 0.085 * radius * bore / 1e-3
            parts.append(f'<circle cx="{hole_x:.1f}" cy="{hole_y:.1f}" r="{max(hole, 1.0):.1f}" fill="currentColor"/>')
    return "".join(parts)


def _holes(jets):
    """(place across the body -1 to 1, angle, bore, on the near side) of every hole that is drawn."""
    for count, angle, bore in jets:
        count = int(min(count, _MOST_JETS))
        ahead = abs(angle - np.pi) < 0.05 and count == 1
        for at in range(count):
            turn = 2.0 * np.pi * (at + 0.25) / count if count > 2 else np.pi / 2.0 + np.pi * at
            yield (0.0 if ahead else float(np.sin(turn))), float(angle), float(bore), bool(np.cos(turn) >= -1e-9)


def _jet(x, y, size, angle, place, bore, share, ink):
    """A jet as seen from the side: a wedge that opens a little, fading at its end."""
    reach = size * _LONGEST * float(min(np.sqrt(max(share, 0.0)), _FULL_PRESSURE_REACH))
    along, across = -np.cos(angle) * reach, np.sin(angle) * place * reach
    length = float(np.hypot(along, across)) or 1.0
    side_x, side_y = -across / length, along / length
    root, tip = max(1000.0 * bore, 0.8) * size / 36.0, max(3000.0 * bore, 2.0) * size / 36.0
    points = (
        (x + side_x * root, y + side_y * root), (x + along + side_x * tip, y + across + side_y * tip),
        (x + along - side_x * tip, y + across - side_y * tip), (x - side_x * root, y - side_y * root),
    )  # fmt: skip
    shape = points_text(points)
    core = f'x1="{x:.1f}" y1="{y:.1f}" x2="{x + 0.75 * along:.1f}" y2="{y + 0.75 * across:.1f}"'
    return (
        f'<polygon class="jl-ink-{ink}" fill-opacity="0.4" points="{shape}"/>'
        f'<line class="jl-line-{ink}" {core} stroke-width="{1.4 * root:.1f}"/>'
    )
