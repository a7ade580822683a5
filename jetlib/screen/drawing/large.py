"""What a room sees from its last row: pictures as wide as the page, a large dial, bars, and larger type in controls."""

import numpy as np

from jetlib.screen.drawing.chart import text
from jetlib.screen.drawing.dial import START, TURN, on_dial
from jetlib.screen.drawing.theme import DASHES
from jetlib.units import from_si

CLASS = "jl-room"
#: Larger type for every control inside a box of the class CLASS; a bare page has the type of a desk.
STYLE = (
    f"<style>.{CLASS} .widget-label, .{CLASS} .widget-text input, .{CLASS} select, .{CLASS} button, .{CLASS} "
    f".widget-html,.{CLASS} .widget-html-content, .{CLASS} .widget-label-basic, .{CLASS} .widget-password input"
    f"{{font-size:18px !important;line-height:1.35 !important}}.{CLASS} .widget-text input, .{CLASS} select, .{CLASS} "
    f".widget-password input{{height:36px !important}}.{CLASS} button{{height:auto "
    f"!important;min-height:36px;padding:2px 12px}}.{CLASS} .widget-text, .{CLASS} .widget-dropdown, .{CLASS} "
    f".widget-password{{height:auto !important}}.{CLASS} .widget-label{{height:auto !important}}.{CLASS} "
    f"button:focus-visible, .{CLASS} .noUi-handle:focus{{outline:3px solid currentColor;outline-offset:2px}}.{CLASS} "
    f"table{{border-collapse:collapse;margin:4px 0;color:var(--jp-ui-font-color1,#1a1a1a)}}.{CLASS} th,.{CLASS} "
    "td{text-align:left;vertical-align:top;padding:4px 12px 4px 4px;border-bottom:1px solid "
    f"var(--jp-border-color1,#bdbdbd)}}.{CLASS} td.number,.{CLASS} th.number{{text-align:right;white-space:nowrap}}"
    f".{CLASS} .{CLASS}-checks button{{white-space:normal;text-align:left}}</style>"
)
CHECKS = {"grid_template_columns": "repeat(auto-fill, minmax(255px, 1fr))", "grid_gap": "4px", "width": "100%"}
BORDER = {"border": "1px solid var(--jp-border-color1, #bdbdbd)", "padding": "8px", "max_width": "1800px"}
ROW = {"flex_flow": "row wrap", "align_items": "center", "max_width": "100%"}
_LEAST_WIDTH = 560  # px
_SCALE_STEPS = (0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000, 20000, 50000)


def wide(picture, most=72):
    """HTML of a Picture as wide as the page allows and at most `most` hundredths of the window high.

    It is never so narrow that its words cannot be read: a narrow page scrolls it.
    """
    usual = f"max-width:{1.25 * picture.width:.0f}px;min-width:{0.75 * picture.width:.0f}px;"
    svg = picture.svg().replace(usual, f"max-height:{most}vh;min-width:{_LEAST_WIDTH}px;display:block;")
    return f'<div style="overflow-x:auto">{svg}</div>'


def big_dial(x, y, radius, value, full, *, step, setting=None, kept=None, inside=()):
    """SVG of a gauge centred on picture x, y that is read from far: `value` against `full` scale, both in one unit.

    step: from one figure of its scale to the next, in that unit; there are five marks to a step. setting: where the
    valve is set, a mark outside the ring. kept: a second, hollow needle. inside: lines of words between the ends of
    the scale, where the needle never is. Without a value the needle rests.
    """
    parts = [f'<circle cx="{x}" cy="{y}" r="{radius}" fill="none" stroke="currentColor" stroke-width="6"/>']
    marks = []
    for mark in range(int(5 * full / step + 1e-6) + 1):
        share = mark * step / 5 / full
        (x0, y0), (x1, y1) = (on_dial(x, y, reach, share) for reach in (radius - (12 if mark % 5 else 22), radius - 2))
        marks.append(f"M{x0:.1f} {y0:.1f}L{x1:.1f} {y1:.1f}")
        if mark % 5 == 0:
            words = f"{mark // 5 * step:g}"
            at_x, at_y = on_dial(
                x, y, radius - 32 - 7 * len(words) * abs(np.cos(np.radians(START - TURN * share))), share
            )
            parts.append(text(at_x, at_y + 8 + 8 * _up(share), words, size=24, anchor="middle"))
    parts.append(f'<path d="{"".join(marks)}" stroke="currentColor" stroke-width="3" fill="none"/>')
    for number, line in enumerate(inside):
        parts.append(text(x, y + 0.72 * radius + 30 * number, line, size=26, anchor="middle"))
    if setting is not None:
        share = min(setting / full, 1.0)
        tip, left, right = (
            on_dial(x, y, radius + reach, share + off) for reach, off in ((3, 0), (24, -0.02), (24, 0.02))
        )
        points = " ".join(f"{px:.1f},{py:.1f}" for px, py in (tip, left, right))
        parts.append(f'<polygon class="jl-ink-red" points="{points}"/>')
        at_x, at_y = on_dial(x, y, radius + 34, share)
        near_top = 0.35 < share < 0.65
        anchor = "middle" if near_top else "start" if share > 0.5 else "end"
        parts.append(text(at_x, at_y + (0 if near_top else 8), "valve", size=26, anchor=anchor))
    if kept is not None:
        tip_x, tip_y = on_dial(x, y, radius - 24, _share(kept, full))
        parts.append(
            f'<line class="jl-line-purple" x1="{x}" y1="{y}" x2="{tip_x:.1f}" y2="{tip_y:.1f}" stroke-width="6" '
            f'stroke-dasharray="{DASHES["dashed"]}"/>'
        )
    tip_x, tip_y = on_dial(x, y, radius - 12, _share(value or 0.0, full))
    parts.append(f'<line x1="{x}" y1="{y}" x2="{tip_x:.1f}" y2="{tip_y:.1f}" stroke="currentColor" stroke-width="8"/>')
    parts.append(f'<circle cx="{x}" cy="{y}" r="12" fill="currentColor"/>')
    return "".join(parts)


def pressure_scale(full, system):
    """(full scale, step between two figures) of a gauge of `full` Pa, in the unit of `system`: about five figures."""
    shown = from_si(full, "pressure", system)
    step = next(each for each in _SCALE_STEPS if shown / each <= 6.0)
    return shown, step


def share_bar(x, y, wide_, high, share, colour, *, hatched=False, hollow=False):
    """SVG of a bar of `share` (0 to 1) in a frame: full, hatched, or hollow with a dashed edge."""
    length = wide_ * float(np.clip(share, 0.0, 1.0))
    edge = 'fill="none" stroke="currentColor" stroke-opacity="0.5"'
    frame = f'<rect x="{x}" y="{y}" width="{wide_}" height="{high}" {edge}/>'
    box = f'x="{x}" y="{y}" width="{length:.1f}" height="{high}"'
    if hollow:
        dash = f'stroke-width="3" stroke-dasharray="{DASHES["dashed"]}"'
        return f'{frame}<rect class="jl-line-{colour}" fill="none" {dash} {box}/>'
    bar = f'<rect class="jl-ink-{colour}" fill-opacity="{0.3 if hatched else 0.85}" {box}/>'
    if hatched:
        strokes = "".join(
            f"M{x + at:.0f} {y + high}L{min(x + at + high / 2, x + length):.1f} "
            f"{y + high - 2 * (min(x + at + high / 2, x + length) - x - at):.1f}"
            for at in np.arange(0.0, length, 14.0)
        )
        bar += f'<path class="jl-line-{colour}" d="{strokes}" stroke-width="3" fill="none"/>'
        bar += f'<rect class="jl-line-{colour}" fill="none" stroke-width="3" {box}/>'
    return frame + bar


def _share(value, full):
    return min(max(value / full, 0.0), 1.03) if full > 0 else 0.0


def _up(share):
    """How far up from the middle of a dial a share of its scale stands, -1 to 1."""
    return float(np.sin(np.radians(START - TURN * share)))
