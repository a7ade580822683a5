"""A round dial with a needle, as SVG: a pressure gauge, a rev counter."""

import numpy as np

from jetlib.screen.drawing.chart import text

START, TURN = 225.0, 270.0  # degrees: where nothing stands, and how far the needle turns to full scale
_MARKS = 8


def dial(x, y, radius, value, full, *, name, words, ends=("0", "")):
    """SVG of a dial centred on picture x, y: `value` against `full` scale, both in one unit.

    name: what it measures, above it. words: the reading, below it. ends: figures at the ends of the scale. The needle
    stops a little past full scale, and never points below nothing.
    """
    centre = f'cx="{x}" cy="{y}"'
    parts = [f'<circle {centre} r="{radius}" fill="none" stroke="currentColor" stroke-width="2.5"/>']
    marks = []
    for mark in range(_MARKS + 1):
        inner = radius - (9 if mark % 2 == 0 else 5)
        (x0, y0), (x1, y1) = (on_dial(x, y, reach, mark / _MARKS) for reach in (inner, radius - 1))
        marks.append(f"M{x0:.1f} {y0:.1f}L{x1:.1f} {y1:.1f}")
    parts.append(f'<path d="{"".join(marks)}" stroke="currentColor" stroke-width="1.5"/>')
    share = min(max(value / full, 0.0), 1.03) if full > 0 else 0.0
    tip_x, tip_y = on_dial(x, y, radius - 7, share)
    parts.append(f'<line x1="{x}" y1="{y}" x2="{tip_x:.1f}" y2="{tip_y:.1f}" stroke="currentColor" stroke-width="3"/>')
    parts.append(f'<circle {centre} r="4" fill="currentColor"/>')
    parts.append(text(x, y - radius - 8, name, anchor="middle"))
    for share, words_at_end, anchor in ((0.0, ends[0], "end"), (1.0, ends[1], "start")):
        end_x, end_y = on_dial(x, y, radius + 3, share)
        parts.append(text(end_x, end_y + 9, words_at_end, anchor=anchor, size=11))
    parts.append(text(x, y + radius + 24, words, anchor="middle", weight="bold", size=14))
    return "".join(parts)


def on_dial(x, y, reach, share):
    """Where a `share` of the scale of a dial around x, y is, `reach` pixels from its middle: (x, y) in pixels."""
    turn = np.radians(START - TURN * share)
    return x + reach * float(np.cos(turn)), y - reach * float(np.sin(turn))
