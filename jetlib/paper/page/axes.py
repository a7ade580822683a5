"""Line drawings for paper as SVG text: axes to sketch on. Black, told apart by shape."""

import math
from html import escape

from jetlib.units import from_si, to_si, unit_label
from jetlib.units.number_text import figures

_INK = 'stroke="#000" fill="none"'
_FONT = 'font-family="Course Sans, sans-serif" fill="#000"'
_CLEAR = 'stroke="#fff" stroke-width="5" paint-order="stroke"'  # a line that passes behind words stops at them


def blank_axes(prediction, system):
    """HTML of empty axes for a PredictedCurve, with a dotted line at each of the places where a point is wanted."""
    (x_head, x_kind), (y_head, y_kind) = prediction.x, prediction.y
    left, right, top, bottom = 70, 560, 12, 230
    low, high = prediction.xs[0], prediction.xs[-1]
    parts = [f'<path d="M{left} {top}V{bottom}H{right}" {_INK} stroke-width="2"/>']
    for x in prediction.xs:
        place = left + (right - left) * (x - low) / (high - low)
        parts.append(f'<path d="M{place:.1f} {top}V{bottom}" {_INK} stroke-dasharray="2 5"/>')
        parts.append(_words(place, bottom + 20, _number(x, x_kind, system)))
    for value in round_steps(prediction.top, y_kind, system):
        place = bottom - (bottom - top) * value / prediction.top
        parts.append(f'<path d="M{left} {place:.1f}H{right}" {_INK} stroke-width="0.5"/>')
        parts.append(_words(left - 6, place + 5, _number(value, y_kind, system), "end"))
    parts.append(_words((left + right) / 2, bottom + 42, _head(x_head, x_kind, system)))
    parts.append(
        f'<text transform="translate(16 {(top + bottom) / 2}) rotate(-90)" text-anchor="middle" font-size="15" {_FONT}>'
        f"{escape(_head(y_head, y_kind, system))}</text>"
    )
    said = f"Empty axes: {_head(y_head, y_kind, system)} against {_head(x_head, x_kind, system)}"
    return (
        '<figure><svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 580 282" role="img" '
        f'aria-label="{escape(said)}" style="width:145mm">{"".join(parts)}</svg></figure>'
        "<p>Draw the line, a point on each dotted line.</p>"
    )


def round_steps(top, kind, system, most=6):
    """SI values from 0 to `top` at round numbers of the unit, at most `most` steps."""
    end = from_si(top, kind, system)
    raw = end / most
    power = 10.0 ** math.floor(math.log10(raw))
    step = next(factor * power for factor in (1, 2, 2.5, 5, 10) if factor * power >= raw * 0.999999)
    return [to_si(step * at, kind, system) for at in range(int(end / step * 1.000001) + 1)]


def _words(x, y, words, anchor="middle"):
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" font-size="15" {_FONT} {_CLEAR}>{escape(words)}</text>'
    )


def _number(value, kind, system):
    return figures(from_si(value, kind, system), 3)


def _head(words, kind, system):
    label = unit_label(kind, system)
    return f"{words}, {label}" if label else words
