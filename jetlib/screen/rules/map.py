"""The map of a rule as SVG: where it is within 10 %, within 25 %, and off, by tint, hatching and words."""

import numpy as np

from jetlib.rig.rules.moves import LEVERS
from jetlib.screen.drawing.chart import HALO, Axis, axes, axes_svg, text

_INKS = ("blue", "orange", "red")
_TINT = (0.30, 0.22, 0.16)
_LEAST_CELLS = 10  # a region smaller than this has no room for words


def map_svg(rule_map, system, *, left, top, width, height):
    """SVG of a RuleMap with its axes, in a box of pixels."""
    ways = [(LEVERS[way.lever], way) for way in (rule_map.x, rule_map.y)]
    across, up = (Axis(lever.label, lever.kind, way.high, way.low, whole=False) for lever, way in ways)
    panel = axes(system, across, up, left, top, width, height)
    rows, columns = rule_map.off.shape
    box = (left, top + height, width / columns, height / rows)
    bands = rule_map.bands
    parts = [_tint(bands == number, box, _INKS[number], _TINT[number]) for number in range(3)]
    parts += [_hatch(bands == 1, box, "orange"), _hatch(bands == 2, box, "red", both=True), axes_svg(panel)]
    own = float(panel.x(rule_map.own[0])), float(panel.y(rule_map.own[1]))
    regions = [(bands == 0, 0, True), (bands < 0, None, False)]
    for number in (1, 2):
        regions += [((bands == number) & ((rule_map.off > 0) == high), number, high) for high in (True, False)]
    words, taken = [], [(own[0] - 10, own[1] - 22, own[0] + 62, own[1] + 8)]
    for where, number, high in sorted(regions, key=lambda region: -int(region[0].sum())):
        words += _named(where, box, _lines(rule_map, number, high), number, own, taken)
    parts.append(f'<g style="{HALO}">{"".join(words)}</g>')
    parts.append(_own(panel, *own))
    return "".join(parts)


def _tint(where, box, ink, strength):
    """One rectangle for each run of cells along a row."""
    left, bottom, step, rise = box
    marks = []
    for row, flags in enumerate(where):
        edges = np.flatnonzero(np.diff(np.concatenate([[0], flags.astype(int), [0]])))
        for start, end in zip(edges[::2], edges[1::2], strict=True):
            marks.append(
                f"M{left + start * step:.1f} {bottom - row * rise:.1f}h{(end - start) * step:.1f}v{-rise:.1f}"
                f"h{-(end - start) * step:.1f}z"
            )
    return f'<path class="jl-ink-{ink}" fill-opacity="{strength}" d="{"".join(marks)}"/>' if marks else ""


def _hatch(where, box, ink, both=False):
    """A stroke across each cell, or two that cross."""
    left, bottom, step, rise = box
    marks = []
    for row, column in zip(*np.nonzero(where), strict=True):
        x, y = left + column * step, bottom - row * rise
        marks.append(f"M{x:.1f} {y:.1f}l{step:.1f} {-rise:.1f}")
        if both:
            marks.append(f"M{x:.1f} {y - rise:.1f}l{step:.1f} {rise:.1f}")
    line = f'class="jl-line-{ink}" stroke-width="1" stroke-opacity="0.75" fill="none"'
    return f'<path {line} d="{"".join(marks)}"/>' if marks else ""


def _lines(rule_map, number, high):
    """What is written into a region of a band, lines."""
    if number is None:
        return ["no such rig"]
    name = rule_map.names[number]
    if not number or rule_map.equation.limit:
        return [name]
    side = {"": "", "high": ("unsafe", "safe")[high], "low": ("safe", "unsafe")[high]}[rule_map.equation.safe]
    return [name, f"says too {'much' if high else 'little'}{side and ': ' + side}"]


def _named(where, box, lines, number, own, taken):
    """The words of a region at its roomiest cell, in a list; none where there is no room beside those `taken`."""
    if where.sum() < _LEAST_CELLS:
        return []
    left, bottom, step, rise = box
    row, column = _roomiest(where, ((bottom - own[1]) / rise - 0.5, (own[0] - left) / step - 0.5))
    half = 3.3 * max(map(len, lines))
    x = float(np.clip(left + (column + 0.5) * step, left + half, left + where.shape[1] * step - half))
    y = bottom - (row + 0.5) * rise
    y = float(np.clip(y, bottom - where.shape[0] * rise + 14, bottom - 14 * (len(lines) - 1) - 6))
    frame = (x - half, y - 11, x + half, y + 14 * len(lines) - 9)
    if any(frame[0] < b[2] and b[0] < frame[2] and frame[1] < b[3] and b[1] < frame[3] for b in taken):
        return []
    taken.append(frame)
    ink = "grey" if number is None else _INKS[number]
    bold = ["normal" if number is None else "bold", "normal"]
    return [text(x, y + 14 * at, line, colour=ink, anchor="middle", weight=bold[at]) for at, line in enumerate(lines)]


def _roomiest(where, own):
    """(row, column) of the cell of `where` farthest from any cell that is not, and from `own`; widths count less."""
    inside = np.argwhere(where)
    outside = np.concatenate([np.argwhere(~np.pad(where, 1)) - 1.0, [own, (own[0], own[1] + 2.0)]])
    apart = (inside[:, np.newaxis, :] - outside[np.newaxis, :, :]) * np.array([1.0, 0.6])
    return inside[int(np.argmax(np.min(np.square(apart).sum(axis=2), axis=1)))]


def _own(panel, x, y):
    right = x > panel.left + 0.75 * panel.width
    at = (x - 10 if right else x + 10), y + (20 if y < panel.top + 22 else -8)
    words = text(*at, "this rig", anchor="end" if right else "start", weight="bold")
    ring = f'<circle cx="{x:.1f}" cy="{y:.1f}" r="6" fill="none" stroke="currentColor" stroke-width="2.4"/>'
    point = f'<circle cx="{x:.1f}" cy="{y:.1f}" r="2" fill="currentColor"/>'
    return f'<g style="{HALO}">{words}</g>{ring}{point}'


def key_svg(rule_map, x, y):
    """SVG of the three tints with their names and the share of the map each has, one under another."""
    parts = []
    for number, (name, share) in enumerate(zip(rule_map.names, rule_map.shares, strict=True)):
        top = y + 24 * number
        box = (x, top + 16, 14.0, 16.0)
        cells = np.ones((1, 2), dtype=bool)
        parts.append(_tint(cells, box, _INKS[number], _TINT[number]))
        parts.append(_hatch(cells, box, _INKS[number], both=number == 2) if number else "")
        parts.append(f'<rect x="{x}" y="{top}" width="28" height="16" fill="none" stroke="currentColor"/>')
        parts.append(text(x + 36, top + 13, f"{name}: {100.0 * share:.0f} % of the map"))
    return "".join(parts)
