"""Charts: matplotlib draws the axes once, the curves are laid over them as SVG.

Drawing text is what makes a matplotlib picture slow, and the axes are where the text is. They are drawn once for
each set of limits and kept; a slider moves only polylines, which cost a millisecond. The axes take their colour from
the page (`currentColor`), so one picture serves the light and the dark theme.
"""

import io
import re
from dataclasses import dataclass
from functools import lru_cache
from html import escape

import numpy as np

from jetlib.screen.theme import DASHES, FONT

_INK = "#010203"  # stands for the page's text colour until the SVG is written
_GRID = "#040506"


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


def draw_panel(ax, panel):
    """Set up matplotlib `ax` as `panel` says: range, ticks, labels, a quiet grid. Returns `ax`."""
    ax.set_xlim(*panel.x_range)
    ax.set_ylim(*panel.y_range)
    ax.set_xlabel(panel.x_label)
    ax.set_ylabel(panel.y_label)
    ax.grid(True, color=_GRID, linewidth=0.6)
    ax.locator_params(axis="x", nbins=6)
    ax.locator_params(axis="y", nbins=6)
    ax.set_axisbelow(True)
    for side in ("top", "right"):
        ax.spines[side].set_visible(False)
    return ax


@lru_cache(maxsize=128)
def axes_svg(panels, width, height):
    """SVG text (no outer tag) of the axes of `panels`, a tuple of Panel, in a picture of width x height pixels."""
    from matplotlib import rc_context
    from matplotlib.backends.backend_svg import FigureCanvasSVG
    from matplotlib.figure import Figure

    settings = {
        "svg.fonttype": "none",
        "svg.hashsalt": "jetlib",
        "font.size": 11.0,
        "axes.edgecolor": _INK,
        "axes.labelcolor": _INK,
        "xtick.color": _INK,
        "ytick.color": _INK,
        "text.color": _INK,
        "axes.formatter.useoffset": False,
        "axes.formatter.limits": (-6, 7),
    }
    with rc_context(settings):
        figure = Figure(figsize=(width / 72.0, height / 72.0), dpi=72)
        canvas = FigureCanvasSVG(figure)
        for panel in panels:
            bottom = height - panel.top - panel.height
            box = (panel.left / width, bottom / height, panel.width / width, panel.height / height)
            draw_panel(figure.add_axes(box, facecolor="none"), panel)
        figure.patch.set_visible(False)
        buffer = io.StringIO()
        canvas.print_svg(buffer, metadata={"Date": None, "Creator": None, "Format": None, "Type": None})
    text = buffer.getvalue()
    inner = text[text.index(">", text.index("<svg")) + 1 : text.rindex("</svg>")]
    inner = re.sub(r"<metadata>.*?</metadata>", "", inner, flags=re.DOTALL)
    inner = re.sub(r'<g id="[^"]*"', "<g", inner)
    inner = re.sub(r"<!--.*?-->", "", inner, flags=re.DOTALL)
    inner = inner.replace(f"stroke: {_GRID}", "stroke: currentColor; stroke-opacity: 0.22")
    inner = inner.replace(_INK, "currentColor")
    inner = re.sub(r"font:\s*([\d.]+)px [^;\"]*", rf"font-size: \1px; font-family: {FONT}", inner)
    return re.sub(r">\s+<", "><", inner).strip()


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
    """SVG of the names of the series in a row above the panel, each with a piece of its line."""
    x, parts = panel.left + 4, []
    for series in all_series:
        dash = f' stroke-dasharray="{DASHES[series.dash]}"' if DASHES[series.dash] else ""
        parts.append(
            f'<line class="jl-line-{series.colour}" x1="{x:.0f}" x2="{x + 26:.0f}" y1="{panel.top - 10}" '
            f'y2="{panel.top - 10}" stroke-width="{series.width}"{dash}/>'
            f"{text(x + 31, panel.top - 6, series.name, colour=series.colour)}"
        )
        x += 40 + 6.2 * len(series.name)
    return "".join(parts)


def text(x, y, words, *, colour="", anchor="start", size=12, weight="normal"):
    """SVG text at picture x, y."""
    ink = f' class="jl-ink-{colour}"' if colour else ' fill="currentColor"'
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
    """SVG of a marker at data x, y with words beside it; shape "circle" or "square"."""
    px, py = float(panel.x(x)), float(panel.y(y))
    if shape == "square":
        mark = f'<rect class="jl-ink-{colour}" x="{px - 5:.1f}" y="{py - 5:.1f}" width="10" height="10"/>'
    else:
        mark = f'<circle class="jl-ink-{colour}" cx="{px:.1f}" cy="{py:.1f}" r="5.5"/>'
    shift = 9 if anchor == "start" else -9
    return mark + (text(px + shift, py - 8, words, colour=colour, anchor=anchor) if words else "")


def chart(panels, width, height, overlay):
    """SVG text (no outer tag): the axes of `panels` with `overlay`, a list of SVG pieces, over them."""
    return axes_svg(tuple(panels), width, height) + "".join(overlay)
