"""What a room sees from its last row: pictures as wide as the page, bars, and larger type in controls."""

import numpy as np

from jetlib.screen.drawing.theme import DASHES, sheet

CLASS = "jl-room"
#: Larger type for every control inside a box of the class CLASS; a bare page has the type of a desk.
STYLE = f"<style>{sheet('room.css')}</style>"
CHECKS = {"grid_template_columns": "repeat(auto-fill, minmax(255px, 1fr))", "grid_gap": "4px", "width": "100%"}
BORDER = {"border": "1px solid var(--jp-border-color1, #bdbdbd)", "padding": "8px", "max_width": "1800px"}
_LEAST_WIDTH = 560  # px


def wide(picture, most=72):
    """HTML of a Picture as wide as the page allows and at most `most` hundredths of the window high.

    It is never so narrow that its words cannot be read: a narrow page scrolls it.
    """
    usual = f"max-width:{1.25 * picture.width:.0f}px;min-width:{0.75 * picture.width:.0f}px;"
    svg = picture.svg().replace(usual, f"max-height:{most}vh;min-width:{_LEAST_WIDTH}px;display:block;")
    return f'<div style="overflow-x:auto">{svg}</div>'


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
