"""A three-plunger pump as SVG: three plungers, each a third of a turn behind the one before it."""

import numpy as np

from jetlib.screen.drawing.theme import motion

_SLOWED = 40.0  # times slower than the pump, or nobody could follow


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
