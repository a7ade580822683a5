"""One picture for evidence: this course against a reference, the differences below on the same axis, and its words."""

from dataclasses import dataclass
from html import escape

import ipywidgets as widgets
import numpy as np

from jetlib.screen.drawing.chart import Panel, Series, dashed, nice_ceiling, points_text, text, ticks
from jetlib.screen.drawing.picture import Picture

_WIDTH, _LEFT, _RIGHT = 760, 84, 22
_UPPER, _LOWER, _GAP = 190, 96, 16
_LEAST_LIMIT = 0.01  # per cent: a finer scale would show rounding only
_SUPERSCRIPT = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")
_MANY = 100


@dataclass(frozen=True)
class Marks:
    """Points of one kind: `x` and `y` for the upper panel, `difference` in per cent for the lower one.

    shape: "dot", "ring", "square" or "diamond". tags: a name for each point, or none. allowed: per cent, or none.
    """

    name: str
    x: object
    y: object
    difference: object
    shape: str = "dot"
    colour: str = "blue"
    tags: tuple = ()
    allowed: object = None


class LivePicture:
    """A Picture with its words under it. Stored it is an image on white; once run it follows the page's theme."""

    def __init__(self, picture):
        self.picture = picture

    @property
    def words(self):
        return self.picture.words

    def _repr_mimebundle_(self, include=None, exclude=None):
        below = f'<div style="line-height:1.5;max-width:900px">{escape(self.words)}</div>'
        view = widgets.HTML(self.picture.svg() + below)._repr_mimebundle_()
        kind = "application/vnd.jupyter.widget-view+json"
        live = (view[0] if isinstance(view, tuple) else view)[kind]
        return {"text/plain": self.words, "text/html": self.picture.image() + below, kind: live}


# --- one set of axes over another -------------------------------------------------------------------


def comparison(
    words: str,
    marks: list | tuple,
    *,
    x_label: str,
    y_label: str,
    lower_label: str = "difference, %",
    lines: list | tuple = (),
    lower_lines: list | tuple = (),
    log: bool = True,
    equal: bool = False,
) -> LivePicture:
    """A LivePicture: `marks` and `lines` above, their differences (per cent) and `lower_lines` below on the same x.

    marks: a list of Marks; lines, lower_lines: lists of `chart.Series`. log: both axes of the upper panel. equal: draw
    the line on which y is x. `words` is the sentence of numbers under the picture and its alternative text.
    """
    marks = [each for each in marks if np.size(each.x)]
    legend, top = _legend(marks, lines)
    xs = np.concatenate([np.ravel(each.x) for each in (*marks, *lines)])
    ys = np.concatenate([np.ravel(each.y) for each in (*marks, *lines)])
    if equal:
        xs = ys = np.concatenate([xs, ys])
    off = [np.abs(np.ravel(each.difference)) for each in marks] + [np.abs(each.y) for each in lower_lines]
    limit = nice_ceiling(max(1.12 * np.max(np.concatenate(off)), _LEAST_LIMIT))
    x_scale, y_scale = _Scale(xs, log), _Scale(ys, log)
    width = _WIDTH - _LEFT - _RIGHT
    upper = Panel(x_label, y_label, x_scale.ends, y_scale.ends, _LEFT, top, width, _UPPER)
    lower = Panel(x_label, "", x_scale.ends, (-limit, limit), _LEFT, top + _UPPER + _GAP, width, _LOWER)
    levels = [
        (value, _figures(f"{value:+g}") if value else "0") for value in (-limit, -limit / 2, 0.0, limit / 2, limit)
    ]
    parts = [
        _frame(upper, [(at, "") for at, _ in x_scale.ticks], y_scale.ticks, y_label),
        _frame(lower, x_scale.ticks, levels, lower_label),
        text(_LEFT + width / 2, lower.top + _LOWER + 36, x_label, anchor="middle"),
        *legend,
    ]
    if equal:
        parts.append(_polyline(upper, x_scale.ends, x_scale.ends, "grey", "dashed", 1.4))
    parts.append(_polyline(lower, x_scale.ends, (0.0, 0.0), "grey", "dashed", 1.4))
    for line in lines:
        parts.append(_polyline(upper, x_scale(line.x), y_scale(line.y), line.colour, line.dash, line.width))
    for line in lower_lines:
        parts.append(_polyline(lower, x_scale(line.x), line.y, line.colour, line.dash, line.width))
    for each in marks:
        x = x_scale(each.x)
        parts += [_allowed(lower, x, each), _marks(upper, x, y_scale(each.y), each)]
        parts.append(_marks(lower, x, each.difference, each))
    parts.append(_tags(lower, x_scale, marks, limit))
    return LivePicture(Picture("".join(parts), _WIDTH, lower.top + _LOWER + 46, words))


class _Scale:
    """From values to places along an axis, linear or logarithmic, with its ends and its ticks (place, words)."""

    def __init__(self, values, log):
        self.log = log
        placed = self(values)
        low, high = float(placed.min()), float(placed.max())
        margin = 0.06 * (high - low) or 0.3
        self.ends = (low - margin, high + margin)
        self.ticks = self._decades() if log else [(float(v), _figures(f"{v:.10g}")) for v in ticks(*self.ends)]

    def __call__(self, values):
        values = np.asarray(values, dtype=float)
        return np.log10(values) if self.log else values

    def _decades(self):
        low, high = self.ends
        powers = range(int(np.floor(low)), int(np.ceil(high)) + 1)
        inside = [power for power in powers if low <= power <= high]
        if len(inside) < 3:
            values = [step * 10.0**power for power in powers for step in (1, 1.5, 2, 3, 5, 7)]
            if sum(low <= np.log10(value) <= high for value in values) < 3:
                values = ticks(10.0**low, 10.0**high)
            return [(float(np.log10(v)), f"{v:.10g}") for v in values if low <= np.log10(v) <= high]
        step = int(np.ceil(len(inside) / 9))
        return [
            (power, f"{10.0**power:g}" if -2 <= power <= 4 else "10" + str(power).translate(_SUPERSCRIPT))
            for power in inside
            if power % step == 0
        ]


def _figures(words):
    return words.replace("-", "−")


def _frame(panel, x_ticks, y_ticks, label):
    """Axes, a quiet grid and ticks; x ticks without words draw the grid only."""
    left, right = panel.left, panel.left + panel.width
    bottom = panel.top + panel.height
    parts = []
    for at, words in x_ticks:
        x = float(panel.x(at))
        parts.append(f'<path d="M{x:.1f} {panel.top}V{bottom}" stroke="currentColor" stroke-opacity="0.16"/>')
        if words:
            parts.append(text(x, bottom + 16, words, anchor="middle", size=11))
    for at, words in y_ticks:
        y = float(panel.y(at))
        parts.append(f'<path d="M{left} {y:.1f}H{right}" stroke="currentColor" stroke-opacity="0.16"/>')
        parts.append(text(left - 7, y + 4, words, anchor="end", size=11))
    parts.append(f'<path d="M{left} {panel.top}V{bottom}H{right}" fill="none" stroke="currentColor"/>')
    middle = panel.top + panel.height / 2
    parts.append(f'<g transform="translate(18 {middle}) rotate(-90)">{text(0, 0, label, anchor="middle")}</g>')
    return "".join(parts)


def _polyline(panel, xs, ys, colour, dash, width):
    points = points_text(zip(panel.x(xs), panel.y(ys), strict=True))
    return f'<polyline class="jl-line-{colour}" fill="none" stroke-width="{width}"{dashed(dash)} points="{points}"/>'


def _shape(shape, x, y, r):
    if shape in ("dot", "ring"):
        return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{r}"/>'
    if shape == "square":
        return f'<path d="M{x - r:.1f} {y - r:.1f}h{2 * r}v{2 * r}h{-2 * r}z"/>'
    reach = 1.35 * r
    return f'<path d="M{x - reach:.1f} {y:.1f}l{reach} {-reach}l{reach} {reach}l{-reach} {reach}z"/>'


def _style(marks):
    hollow = marks.shape in ("ring", "diamond")
    return f'class="jl-line-{marks.colour}" fill="none" stroke-width="1.6"' if hollow else (
        f'class="jl-ink-{marks.colour}"')  # fmt: skip


def _marks(panel, xs, ys, marks):
    r = 2.2 if np.size(xs) > _MANY else 3.6
    drawn = [_shape(marks.shape, x, y, r) for x, y in zip(panel.x(xs), panel.y(ys), strict=True)]
    if marks.tags:
        names = (f"<title>{escape(name)} {d:+.2g} %</title>" for name, d in
                 zip(marks.tags, marks.difference, strict=True))  # fmt: skip
        drawn = [f"<g>{name}{each}</g>" for name, each in zip(names, drawn, strict=True)]
    return f"<g {_style(marks)}>{''.join(drawn)}</g>"


def _allowed(panel, xs, marks):
    """A grey bar behind each point of the lower panel: what the test allows."""
    if marks.allowed is None:
        return ""
    ends = zip(panel.x(xs), panel.y(np.negative(marks.allowed)), panel.y(marks.allowed), strict=True)
    bars = "".join(f'<path d="M{x:.1f} {low:.1f}V{high:.1f}"/>' for x, low, high in ends)
    # The opacity is the group's: bars that lie over one another do not add up to black.
    return f'<g stroke="currentColor" opacity="0.22" stroke-width="5">{bars}</g>'


def _tags(panel, scale, marks, limit):
    """Names at the points that are farthest off, on the emptier side."""
    points = [
        (abs(d), float(panel.x(x)), float(panel.y(d)), tag)
        for each in marks
        for x, d, tag in zip(scale(each.x), each.difference, each.tags, strict=False)
    ]
    taken, parts = [], []
    for off, x, y, tag in sorted(points, reverse=True)[:4]:
        width = 8 + 7.5 * len(tag)
        crowded = any(0 < a - x < width and abs(b - y) < 12 for _, a, b, _ in points)
        left = crowded or x + width > panel.left + panel.width
        start = x - width if left else x
        if off < 0.3 * limit or any(abs(b - y) < 13 and a < start + width and start < a + w for a, w, b in taken):
            continue
        taken.append((start, width, y))
        parts.append(text(x - 8 if left else x + 8, y + 4, tag, anchor="end" if left else "start", size=11))
    return "".join(parts)


def _legend(marks, lines):
    """What stands above the upper panel, in rows that fit: SVG pieces, and where the panel may begin."""
    parts, x, y = [], _LEFT, 15
    for each in (*marks, *lines):
        dots = isinstance(each, Marks)
        words = f"{each.name} ({np.size(each.x)})" if dots else each.name
        needed = 46 + 6.6 * len(words)
        if x > _LEFT and x + needed > _WIDTH:
            x, y = _LEFT, y + 19
        if dots:
            parts.append(f"<g {_style(each)}>{_shape(each.shape, x + 10, y - 4, 3.8)}</g>")
        else:
            look = f'class="jl-line-{each.colour}" stroke-width="2.2"{dashed(each.dash)}'
            parts.append(f'<path {look} d="M{x} {y - 4}h24"/>')
        parts.append(text(x + (20 if dots else 30), y, words))
        x += needed
    return parts, y + 16


def lines_of(names: list | tuple, x: object, ys: object, **more: object) -> list:
    """`chart.Series` with a colour and a dash of its own for each name."""
    looks = (("blue", "solid"), ("orange", "dashed"), ("green", "dash-dot"), ("purple", "dotted"), ("red", "dashed"))
    return [Series(name, x, y, *look, **more) for name, y, look in zip(names, ys, looks, strict=False)]


def percent(share: float, *, sign: bool = False) -> str:
    """A share as per cent in two figures; differences of rounding are "0 %"."""
    if abs(share) < 5e-13:
        return "0 %"
    if abs(share) < 1e-6:
        return "less than 0.0001 %"
    return _figures(f"{100 * share:{'+' if sign else ''}.2g} %")
