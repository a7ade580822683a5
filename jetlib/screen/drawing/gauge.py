"""A round gauge as SVG, read like the real one: a scale that does not move, a red mark, a needle that can peg.

The face depends on the rig and not on its state, so a needle that has moved has moved. Only the needle is drawn anew.
"""

from functools import lru_cache

import numpy as np

from jetlib.screen.drawing.chart import points_text, text, trace
from jetlib.screen.drawing.theme import DASHES
from jetlib.units import from_si, unit_label

_START, _TURN = 225.0, 270.0  # degrees: where nothing stands, and how far the needle turns to full scale
_PEG = 1.06  # of the turn: where a pin stops the needle
_SMALL = 11.0  # pixels: the figures of an inner scale
_FEWEST = 4.5  # steps on a scale
_STEPS = (0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000, 20000, 50000)


def gauge(x, y, radius, value, full, *, step=None, setting=None, kept=None, other=None, inside=()):
    """SVG of a gauge centered on picture x, y: `value` against `full` scale, both in one unit.

    step: from one figure to the next, `scale_step(full)` unless given. setting: where the valve is set, in red. kept: a
    second, hollow needle. other: (full scale, name) of an inner scale in another unit. inside: lines of words at the
    foot of the face, where the needle never is. Past full scale the needle lies against its pin; without a value it
    rests at zero.
    """
    parts = [_face(x, y, radius, full, step or scale_step(full), setting, other)]
    for number, words in enumerate(inside):
        parts.append(text(x, y + (0.62 + 0.17 * number) * radius, words, size=_type(radius), anchor="middle"))
    if kept is not None:
        tip_x, tip_y = _on_face(x, y, 0.85 * radius, _share(kept, full))
        parts.append(
            f'<line class="jl-line-purple" x1="{x}" y1="{y}" x2="{tip_x:.1f}" y2="{tip_y:.1f}" '
            f'stroke-width="{0.035 * radius:.1f}" stroke-dasharray="{DASHES["dashed"]}"/>'
        )
    parts.append(trace(f"{x:g} {y:g} {full:g}", _needle(x, y, radius, _share(value or 0.0, full))))
    return "".join(parts)


def pressure_gauge(x, y, radius, pressure, full, system, *, setting=None, kept=None, inside=()):
    """The same for pressures in Pa: scale in the reader's unit, and inside it a second one in the other unit."""
    far = "metric" if system == "US" else "US"
    shown, setting, kept, full_here = (
        None if each is None else from_si(float(each), "pressure", system) for each in (pressure, setting, kept, full)
    )
    other = (from_si(float(full), "pressure", far), unit_label("pressure", far))
    return gauge(
        x, y, radius, shown, full_here, setting=setting, kept=kept, other=other if radius >= 70 else None,
        inside=inside or (unit_label("pressure", system),),
    )  # fmt: skip


def scale_step(full):
    """From one figure of a scale to the next: a round number that comes about five to eight times."""
    return max(each for each in (*_STEPS[:1], *_STEPS) if full / each >= _FEWEST or each == _STEPS[0])


@lru_cache(maxsize=256)
def _face(x, y, radius, full, step, setting, other):
    """All of a gauge that stands still."""
    ring = f'<circle cx="{x}" cy="{y}" r="{radius}" fill="var(--jp-layout-color0, #ffffff)" stroke="currentColor"'
    parts = [f'{ring} stroke-width="{0.04 * radius:.1f}"/>']
    long, short, last = [], [], int(5 * full / step + 1e-6)
    for mark in range(last + 1):
        share = mark * step / 5 / full
        inner = 0.87 if mark % 5 == 0 else 0.92
        (x0, y0), (x1, y1) = (_on_face(x, y, reach * radius, share) for reach in (inner, 0.98))
        (short if mark % 5 else long).append(f"M{x0:.1f} {y0:.1f}L{x1:.1f} {y1:.1f}")
        if mark % 5 == 0 and (radius >= 45 or mark in (0, last - last % 5)):
            parts.append(_figure(x, y, 0.76 * radius, share, mark // 5 * step, _type(radius)))
    for marks, width in ((long, 0.022), (short, 0.01)):
        path = f'<path d="{"".join(marks)}" fill="none" stroke="currentColor"'
        parts.append(f'{path} stroke-width="{max(width * radius, 0.8):.1f}"/>')
    if other is not None:
        parts.append(_inner_scale(x, y, radius, *other))
    if setting is not None:
        share = min(setting / full, 1.0)
        (x0, y0), (x1, y1) = (_on_face(x, y, reach * radius, share) for reach in (0.8, 1.0))
        line = f'<line class="jl-line-red" x1="{x0:.1f}" y1="{y0:.1f}" x2="{x1:.1f}" y2="{y1:.1f}"'
        parts.append(f'{line} stroke-width="{max(0.04 * radius, 2.5):.1f}"/>')
        places = ((1.02, 0), (1.14, -0.022), (1.14, 0.022))
        corners = (_on_face(x, y, reach * radius, share + off) for reach, off in places)
        parts.append(f'<polygon class="jl-ink-red" points="{points_text(corners)}"/>')
    pin_x, pin_y = _on_face(x, y, 0.8 * radius, _PEG + 0.03)
    parts.append(f'<circle cx="{pin_x:.1f}" cy="{pin_y:.1f}" r="{max(0.03 * radius, 1.5):.1f}" fill="currentColor"/>')
    return "".join(parts)


def _inner_scale(x, y, radius, full, name):
    """A scale in another unit on the same face: where its figures are, and its name."""
    step = scale_step(full) if full / scale_step(full) < 7 else 2 * scale_step(full)
    marks, parts = [], []
    for number in range(int(full / step + 1e-6) + 1):
        share = number * step / full
        (x0, y0), (x1, y1) = (_on_face(x, y, reach * radius, share) for reach in (0.52, 0.57))
        marks.append(f"M{x0:.1f} {y0:.1f}L{x1:.1f} {y1:.1f}")
        parts.append(_figure(x, y, 0.42 * radius, share, number * step, _SMALL))
    parts.append(f'<path d="{"".join(marks)}" stroke="currentColor" stroke-width="1"/>')
    parts.append(text(x, y + 0.32 * radius, name, size=_SMALL, anchor="middle"))
    return f'<g opacity="0.8">{"".join(parts)}</g>'


def _figure(x, y, reach, share, value, size):
    words = f"{value:g}"
    sideways = abs(float(np.cos(np.radians(_START - _TURN * share))))
    at_x, at_y = _on_face(x, y, reach - 0.3 * size * (len(words) - 1) * sideways, share)
    return text(at_x, at_y + 0.35 * size, words, size=size, anchor="middle")


def _needle(x, y, radius, share):
    """A pointer with its tail and hub."""
    tip, tail = _on_face(x, y, 0.86 * radius, share), _on_face(x, y, -0.18 * radius, share)
    turn = np.radians(_START - _TURN * share)
    side_x, side_y = 0.035 * radius * float(np.sin(turn)), 0.035 * radius * float(np.cos(turn))
    points = (tip, (x + side_x, y + side_y), tail, (x - side_x, y - side_y))
    shape = points_text(points)
    return (
        f'<polygon class="jl-needle" points="{shape}" fill="currentColor" stroke="currentColor" stroke-width="1"/>'
        f'<circle cx="{x}" cy="{y}" r="{0.07 * radius:.1f}" fill="currentColor"/>'
    )


def _type(radius):
    """Size of a face's figures."""
    return max(11.0, 0.13 * radius)


def _share(value, full):
    return min(max(value / full, 0.0), _PEG) if full > 0 else 0.0


def _on_face(x, y, reach, share):
    """Where a `share` of the scale is, `reach` pixels from the middle: (x, y) in pixels."""
    turn = np.radians(_START - _TURN * share)
    return x + reach * float(np.cos(turn)), y - reach * float(np.sin(turn))
