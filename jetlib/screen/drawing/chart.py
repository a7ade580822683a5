"""Charts as SVG: axes with ticks where matplotlib would put them, curves laid over them.

Drawing text is what makes a matplotlib picture slow. Here matplotlib only says where the ticks go; a slider step writes
lines and words, which costs a millisecond or two. The axes take their colour from the page (`currentColor`), so one
picture serves the light and the dark theme.
"""

from dataclasses import dataclass
from functools import lru_cache
from html import escape

import numpy as np
from matplotlib.ticker import MaxNLocator

from jetlib.screen.drawing.theme import DASHES, FONT

#: A rim of the page's own color round words, so that a curve behind them does not hide them.
HALO = "paint-order:stroke;stroke:var(--jp-layout-color0, #ffffff);stroke-width:5px;stroke-linejoin:round"
NARROW = 380  # pixels: the width of a tile, which a phone shows as it is
_TICKS = MaxNLocator(nbins=6, steps=(1, 2, 2.5, 5, 10))


@dataclass(frozen=True)
class Panel:
    """One pair of axes: labels with units, ranges as (low, high), and where it lies in the picture, in pixels."""

    x_label: str
    y_label: str
    x_range: tuple
    y_range: tuple
    left: float
    top: float
    width: float
    height: float
    title: str = ""

    def x(self, values):
        """Picture x of data values."""
        low, high = self.x_range
        share = (np.asarray(values, dtype=float) - low) / (high - low)
        return self.left + np.clip(share, -0.01, 1.01) * self.width

    def y(self, values):
        """Picture y of data values; they are held inside the axes."""
        low, high = self.y_range
        share = (np.asarray(values, dtype=float) - low) / (high - low)
        return self.top + (1.0 - np.clip(share, 0.0, 1.0)) * self.height


@dataclass(frozen=True)
class Series:
    """A curve with its name, colour (a name of `theme.COLOURS`) and dash."""

    name: str
    x: object
    y: object
    colour: str = "blue"
    dash: str = "solid"
    width: float = 2.4


def nice_ceiling(value):
    """The smallest of 1, 1.5, 2, 3, 4, 5, 6, 8 times a power of ten that is at least `value`; 1 for nothing."""
    if not value > 0:
        return 1.0
    power = 10.0 ** np.floor(np.log10(value))
    return float(next(step * power for step in (1, 1.5, 2, 3, 4, 5, 6, 8, 10) if step * power >= value * 0.999999))


def ticks(low, high):
    """Round numbers from low to high, about six, an array."""
    slack = 1e-9 * (high - low)
    return np.array([tick for tick in _TICKS.tick_values(low, high) if low - slack <= tick <= high + slack])


@lru_cache(maxsize=256)
def axes_svg(panel):
    """SVG of the axes of `panel`: grid, ticks with figures, labels."""
    left, top, right, bottom = panel.left, panel.top, panel.left + panel.width, panel.top + panel.height
    marks, words = [], []
    for tick in ticks(*panel.x_range):
        x = float(panel.x(tick))
        marks.append(f"M{x:.1f} {top}V{bottom}")
        words.append(text(x, bottom + 17, _figures(tick), anchor="middle"))
    for tick in ticks(*panel.y_range):
        y = float(panel.y(tick))
        marks.append(f"M{left} {y:.1f}H{right}")
        words.append(text(left - 6, y + 4, _figures(tick), anchor="end"))
    middle = (top + bottom) / 2.0
    words.append(text((left + right) / 2.0, bottom + 36, panel.x_label, anchor="middle"))
    words.append(
        f'<g transform="translate({left - 48:.1f} {middle:.1f}) rotate(-90)">'
        f"{text(0, 0, panel.y_label, anchor='middle')}</g>"
    )
    if panel.title:
        words.append(text(left, top - 24, panel.title, weight="bold"))
    grid = f'<path d="{"".join(marks)}" fill="none" stroke="currentColor" stroke-opacity="0.22" stroke-width="0.8"/>'
    frame = f'<path d="M{left} {top}V{bottom}H{right}" fill="none" stroke="currentColor" stroke-width="1.2"/>'
    return grid + frame + "".join(words)


def _figures(tick):
    return f"{tick:.10g}".replace("-", "\u2212") if abs(tick) > 1e-12 else "0"


def curve(panel, series):
    """SVG of one Series in `panel`."""
    xs, ys = panel.x(series.x), panel.y(series.y)
    points = " ".join(f"{x:.1f},{y:.1f}" for x, y in zip(np.ravel(xs), np.ravel(ys), strict=True))
    dash = f' stroke-dasharray="{DASHES[series.dash]}"' if DASHES[series.dash] else ""
    return (
        f'<polyline class="jl-line-{series.colour}" fill="none" stroke-width="{series.width}"'
        f' stroke-linejoin="round"{dash} points="{points}"/>'
    )


def legend(panel, all_series):
    """SVG of the names of the series in a row above the panel, in rows where there are too many for one."""
    places, x, row = [], 0.0, 0
    for series in all_series:
        if x and x + 31 + 6.2 * len(series.name) > panel.width + 24:
            x, row = 0.0, row + 1
        places.append((panel.left + 4 + x, row))
        x += 38 + 7.3 * len(series.name)
    parts = []
    for series, (x, up) in zip(all_series, places, strict=True):
        dash = f' stroke-dasharray="{DASHES[series.dash]}"' if DASHES[series.dash] else ""
        y = panel.top - 10 - 18 * (row - up)
        parts.append(
            f'<line class="jl-line-{series.colour}" x1="{x:.0f}" x2="{x + 26:.0f}" y1="{y}" '
            f'y2="{y}" stroke-width="{series.width}"{dash}/>'
            f"{text(x + 31, y + 4, series.name, colour=series.colour)}"
        )
    return "".join(parts)


def text(x, y, words, *, colour="", anchor="start", size=12, weight="normal", halo=False):
    """SVG text at picture x, y; halo: with a rim of the page's color, over lines."""
    ink = f' class="jl-ink-{colour}"' if colour else ' fill="currentColor"'
    ink += f' style="{HALO}"' if halo else ""
    return (
        f'<text x="{x:.1f}" y="{y:.1f}"{ink} font-family="{FONT}" font-size="{size}" font-weight="{weight}" '
        f'text-anchor="{anchor}">{escape(words)}</text>'
    )


def upright(panel, x, words="", *, colour="grey", dash="dashed", at=0.0, anchor="start"):
    """SVG of a vertical line at data `x` with words beside it, `at` pixels below the top of the panel."""
    px = float(panel.x(x))
    shift = 5 if anchor == "start" else -5
    line = (
        f'<line class="jl-line-{colour}" x1="{px:.1f}" x2="{px:.1f}" y1="{panel.top}" '
        f'y2="{panel.top + panel.height}" stroke-width="1.6" stroke-dasharray="{DASHES[dash]}"/>'
    )
    return line + (text(px + shift, panel.top + 13 + at, words, colour=colour, anchor=anchor) if words else "")


def level(panel, y, words="", *, colour="grey", dash="dotted", anchor="start"):
    """SVG of a horizontal line at data `y` with words above it at one end."""
    py = float(panel.y(y))
    x = panel.left + 5 if anchor == "start" else panel.left + panel.width - 5
    line = (
        f'<line class="jl-line-{colour}" x1="{panel.left}" x2="{panel.left + panel.width}" y1="{py:.1f}" '
        f'y2="{py:.1f}" stroke-width="1.6" stroke-dasharray="{DASHES[dash]}"/>'
    )
    return line + (text(x, py - 5, words, colour=colour, anchor=anchor) if words else "")


def dot(panel, x, y, words="", *, colour="blue", shape="circle", anchor="start"):
    """SVG of a marker at data x, y with words beside it, "circle" or "square"; an arrow where y is off the chart."""
    px, py = float(panel.x(x)), float(panel.y(y))
    if y > panel.y_range[1]:
        mark = f'<path class="jl-ink-{colour}" d="M{px - 7:.1f} {py + 9:.1f}h14l-7 -13z"/>'
        words = f"{words}, off the chart" if words else ""
        py += 22
    elif shape == "square":
        mark = f'<rect class="jl-ink-{colour}" x="{px - 5:.1f}" y="{py - 5:.1f}" width="10" height="10"/>'
    else:
        mark = f'<circle class="jl-ink-{colour}" cx="{px:.1f}" cy="{py:.1f}" r="5.5"/>'
    shift = 9 if anchor == "start" else -9
    return mark + (text(px + shift, py - 8, words, colour=colour, anchor=anchor, halo=True) if words else "")


def chart(panels, width, height, overlay, state=()):
    """SVG text (no outer tag), width x height pixels: the axes of `panels`, then SVG pieces over them.

    state: those of the pieces that say how things are now. While the axes stay, the page leaves them in gray behind
    the next ones, so that a change is seen as a change.
    """
    ends = " ".join(f"{end:g}" for panel in panels for end in (panel.left, *panel.x_range, *panel.y_range))
    behind, drawn = "".join(axes_svg(panel) for panel in panels), "".join(overlay)
    return behind + (trace(ends, "".join(state)) if state else "") + drawn


def charts(panels, height, overlays, states):
    """Tiles of `chart` beside one another for `picture.stacked`, one for each panel."""
    parts = zip(panels, overlays, states, strict=True)
    return [(chart([panel], NARROW, height, over, now), NARROW, height) for panel, over, now in parts]


def trace(place, drawn):
    """SVG of what shows a state (no groups in it); `place`: what stays while it can be laid over another such."""
    return f'<g class="jl-trace" data-place="{place}">{drawn}</g>'
