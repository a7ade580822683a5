"""Charts as SVG: axes with ticks where matplotlib would put them, curves laid over them.

Drawing text is what makes a matplotlib picture slow. Here matplotlib only says where the ticks go; a slider step writes
lines and words, which costs a millisecond or two. The axes take their colour from the page (`currentColor`), so one
picture serves the light and the dark theme.
"""

from dataclasses import dataclass, replace
from functools import lru_cache
from html import escape

import numpy as np
from matplotlib.ticker import MaxNLocator

from jetlib.screen.drawing.theme import DASHES, FONT
from jetlib.units import from_si, unit_label
from jetlib.units import text as words_of

#: A rim of the page's own color round words, so that a curve behind them does not hide them.
HALO = "paint-order:stroke;stroke:var(--jp-layout-color0, #ffffff);stroke-width:5px;stroke-linejoin:round"
NARROW = 380  # pixels: the width of a tile, which a phone shows as it is
_TICKS = MaxNLocator(nbins=6, steps=(1, 2, 2.5, 5, 10))


@dataclass(frozen=True)
class Axis:
    """What lies along an axis: its name, its kind of quantity ("" for a bare number), and from where to where, in SI.

    whole: it ends at the next whole figures. unit: its label ends in the unit.
    """

    name: str
    kind: str
    most: float
    least: float = 0.0
    whole: bool = True
    unit: bool = True

    def label(self, system):
        """The name with the unit of a reader."""
        unit = unit_label(self.kind, system) if self.kind and self.unit else ""
        return ", ".join(filter(None, (self.name, unit)))

    def ends(self, system):
        """(low, high) in the unit of a reader."""
        low, high = (from_si(each, self.kind, system) if self.kind else each for each in (self.least, self.most))
        return (-nice_ceiling(-low) if low else low, nice_ceiling(high)) if self.whole else (low, high)


#: The throttle along an axis, in per cent.
THROTTLE = Axis("throttle", "fraction", 1.0, whole=False)


@dataclass(frozen=True)
class Panel:
    """One pair of axes: labels with units, ranges as (low, high), and where it lies in the picture, in pixels.

    x_kind, y_kind: of what kind, in SI, values are that are drawn in it, shown in the units of `system`; "" for values
    as they stand at the axes.
    """

    x_label: str
    y_label: str
    x_range: tuple
    y_range: tuple
    left: float
    top: float
    width: float
    height: float
    title: str = ""
    x_kind: str = ""
    y_kind: str = ""
    system: str = "US"

    def x(self, values):
        """Picture x of data values."""
        return self.left + np.clip(self.x_share(values), -0.01, 1.01) * self.width

    def y(self, values):
        """Picture y of data values; they are held inside the axes."""
        return self.top + (1.0 - np.clip(self.y_share(values), 0.0, 1.0)) * self.height

    def x_share(self, values):
        """How far along the x axis data values are, 0 to 1 within it."""
        return _share(values, self.x_kind, self.system, self.x_range)

    def y_share(self, values):
        """The same along the y axis."""
        return _share(values, self.y_kind, self.system, self.y_range)

    def told(self, y):
        """A data value of the y axis in words."""
        return words_of(y, self.y_kind, self.system)


def _share(values, kind, system, ends):
    shown = from_si(values, kind, system) if kind else np.asarray(values, dtype=float)
    return (shown - ends[0]) / (ends[1] - ends[0])


def axes(system, x, y, left, top, width, height, title=""):
    """The Panel of an Axis across and another one up, in the units of `system`."""
    labels, ends = (x.label(system), y.label(system)), (x.ends(system), y.ends(system))
    return Panel(*labels, *ends, left, top, width, height, title, x.kind, y.kind, system)


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
    panel = replace(panel, x_kind="", y_kind="")
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


def points_text(corners):
    """The points of a line or a shape as SVG writes them; corners: pairs of x and y, pixels."""
    return " ".join(f"{x:.1f},{y:.1f}" for x, y in corners)


def curve(panel, series, *, inside=False):
    """SVG of one Series in `panel`; inside: without what is above it."""
    xs, ys = np.ravel(panel.x(series.x)), np.ravel(panel.y(series.y))
    if inside:
        kept = np.ravel(panel.y_share(series.y)) <= 1.0
        xs, ys = xs[kept], ys[kept]
    points = points_text(zip(xs, ys, strict=True))
    return (
        f'<polyline class="jl-line-{series.colour}" fill="none" stroke-width="{series.width}"'
        f' stroke-linejoin="round"{dashed(series.dash)} points="{points}"/>'
    )


def dashed(dash):
    """The attribute of a line with a dash of `theme.DASHES`, "" for a solid one."""
    return f' stroke-dasharray="{DASHES[dash]}"' if DASHES[dash] else ""


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
        y = panel.top - 10 - 18 * (row - up)
        parts.append(
            f'<line class="jl-line-{series.colour}" x1="{x:.0f}" x2="{x + 26:.0f}" y1="{y}" '
            f'y2="{y}" stroke-width="{series.width}"{dashed(series.dash)}/>'
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


def texts(x, y, lines, step=17, **look):
    """SVG of lines of text under one another, the first at picture x, y; look: what `text` takes."""
    return "".join(text(x, y + step * at, line, **look) for at, line in enumerate(lines))


def upright(panel, x, words="", *, colour="grey", dash="dashed", at=0.0, anchor="start", halo=False):
    """SVG of a vertical line at data `x` with words beside it, `at` pixels below the top of the panel."""
    px = float(panel.x(x))
    line = _rule(colour, dash, px, px, panel.top, panel.top + panel.height)
    words_x = px + (5 if anchor == "start" else -5)
    return _ruled(line, words_x, panel.top + 13 + at, words, colour, anchor, halo)


def level(panel, y, words="", *, colour="grey", dash="dotted", anchor="start", halo=False):
    """SVG of a horizontal line at data `y` with words above it at one end."""
    py, right = float(panel.y(y)), panel.left + panel.width
    line = _rule(colour, dash, panel.left, right, py, py)
    words_x = panel.left + 5 if anchor == "start" else right - 5
    return _ruled(line, words_x, py - 5, words, colour, anchor, halo)


def _rule(colour, dash, x1, x2, y1, y2):
    ends = f'x1="{x1:.1f}" x2="{x2:.1f}" y1="{y1:.1f}" y2="{y2:.1f}"'
    return f'<line class="jl-line-{colour}" {ends} stroke-width="1.6" stroke-dasharray="{DASHES[dash]}"/>'


def _ruled(line, x, y, words, colour, anchor, halo):
    """A line with its words, if any, and a rim round both."""
    drawn = line + (text(x, y, words, colour=colour, anchor=anchor) if words else "")
    return f'<g style="{HALO}">{drawn}</g>' if halo else drawn


def dot(panel, x, y, words="", *, colour="blue", shape="circle", anchor="start"):
    """SVG of a marker at data x, y with words beside it, "circle" or "square"; an arrow where y is off the chart."""
    px, py = float(panel.x(x)), float(panel.y(y))
    if panel.y_share(y) > 1.0:
        mark = f'<path class="jl-ink-{colour}" d="M{px - 7:.1f} {py + 9:.1f}h14l-7 -13z"/>'
        words = f"{words}, off the chart" if words else ""
        py += 22
    elif shape == "square":
        mark = f'<rect class="jl-ink-{colour}" x="{px - 5:.1f}" y="{py - 5:.1f}" width="10" height="10"/>'
    else:
        mark = f'<circle class="jl-ink-{colour}" cx="{px:.1f}" cy="{py:.1f}" r="5.5"/>'
    shift = 9 if anchor == "start" else -9
    return mark + (text(px + shift, py - 8, words, colour=colour, anchor=anchor, halo=True) if words else "")


def chart(panel, width, height, overlay, state=()):
    """A tile for `picture.stacked`, width x height pixels: the axes of `panel`, then SVG pieces over them.

    state: those of the pieces that say how things are now. While the axes stay, the page leaves them in gray behind
    the next ones, so that a change is seen as a change.
    """
    ends = " ".join(f"{end:g}" for end in (panel.left, *panel.x_range, *panel.y_range))
    now = trace(ends, "".join(state)) if state else ""
    return f"{axes_svg(panel)}{now}{''.join(overlay)}", width, height


def charts(panels, height, overlays, states):
    """Tiles of `chart` beside one another for `picture.stacked`, one for each panel."""
    parts = zip(panels, overlays, states, strict=True)
    return [chart(panel, NARROW, height, over, now) for panel, over, now in parts]


def trace(place, drawn):
    """SVG of what shows a state (no groups in it); `place`: what stays while it can be laid over another such."""
    return f'<g class="jl-trace" data-place="{place}">{drawn}</g>'
