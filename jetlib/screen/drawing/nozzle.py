"""A nozzle as SVG: its holes where they are drilled, each jet at its angle, longer and wider by pressure and bore."""

import numpy as np

from jetlib.screen.drawing.theme import pressure_step

_LONGEST = 2.0  # times the body's length: a jet at full pressure
_MOST_JETS = 12  # drawn; more cannot be told apart
_FULL_PRESSURE_REACH = 1.15


def nozzle(x, y, size, jets, pressure, full, flows=True):
    """SVG of a nozzle whose hose ends at picture x, y; its body is 1.4 `size` long and `size` high.

    jets: (count, angle, bore) of each group, angle in rad from straight back, bore in m. pressure: at the nozzle, Pa;
    full: the whole scale of colors and the reach of a jet, Pa. flows: whether water leaves.
    """
    ink = pressure_step(pressure, full)
    length, half = 1.4 * size, size / 2.0
    body = (
        f"M{x} {y - 0.3 * size}H{x + 0.2 * length}L{x + 0.36 * length} {y - half}H{x + 0.6 * length}"
        f"Q{x + 0.9 * length} {y - 0.46 * size} {x + length} {y}"
        f"Q{x + 0.9 * length} {y + 0.46 * size} {x + 0.6 * length} {y + half}"
        f"H{x + 0.36 * length}L{x + 0.2 * length} {y + 0.3 * size}H{x}Z"
    )
    behind, before = [], []
    for place, angle, bore, near in _holes(jets):
        front = angle > np.pi / 2.0
        from_x = x + length * (0.97 if front and place == 0 else 0.88 if front else 0.28)
        from_y = y + place * (0.62 if front else 0.82) * half
        if flows and pressure > 0:
            (before if near else behind).append(_jet(from_x, from_y, size, angle, place, bore, pressure / full, ink))
        hole = max(1100.0 * bore, 1.3) * size / 36.0
        (before if near else behind).append(
            f'<circle cx="{from_x:.1f}" cy="{from_y:.1f}" r="{hole:.1f}" fill="currentColor"/>'
        )
    shape = f'<path class="jl-ink-{ink}" d="{body}" stroke="currentColor" stroke-width="1.6"/>'
    return "".join(behind) + shape + "".join(before)


def end_view(x, y, radius, jets):
    """SVG of the nozzle seen from behind, centered on picture x, y: each hole on its circle, all to one scale."""
    parts = [f'<circle cx="{x}" cy="{y}" r="{radius}" fill="none" stroke="currentColor" stroke-width="2"/>']
    parts.append(f'<circle cx="{x}" cy="{y}" r="{0.36 * radius:.1f}" fill="none" stroke="currentColor"/>')
    for count, _, bore in jets:
        for at in range(int(count)):
            turn = 2.0 * np.pi * at / count - np.pi / 2.0
            hole_x, hole_y = x + 0.68 * radius * np.cos(turn), y + 0.68 * radius * np.sin(turn)
            hole = 0.085 * radius * bore / 1e-3
            parts.append(f'<circle cx="{hole_x:.1f}" cy="{hole_y:.1f}" r="{max(hole, 1.0):.1f}" fill="currentColor"/>')
    return "".join(parts)


def _holes(jets):
    """(place across the body -1 to 1, angle, bore, on the near side) of every hole that is drawn."""
    for count, angle, bore in jets:
        count = int(min(count, _MOST_JETS))
        ahead = abs(angle - np.pi) < 0.05 and count == 1
        for at in range(count):
            turn = 2.0 * np.pi * (at + 0.25) / count if count > 2 else np.pi / 2.0 + np.pi * at
            yield (0.0 if ahead else float(np.sin(turn))), float(angle), float(bore), bool(np.cos(turn) >= -1e-9)


def _jet(x, y, size, angle, place, bore, share, ink):
    """A jet as seen from the side: a wedge that opens a little, fading at its end."""
    reach = size * _LONGEST * float(min(np.sqrt(max(share, 0.0)), _FULL_PRESSURE_REACH))
    along, across = -np.cos(angle) * reach, np.sin(angle) * place * reach
    length = float(np.hypot(along, across)) or 1.0
    side_x, side_y = -across / length, along / length
    root, tip = max(1000.0 * bore, 0.8) * size / 36.0, max(3000.0 * bore, 2.0) * size / 36.0
    points = (
        (x + side_x * root, y + side_y * root), (x + along + side_x * tip, y + across + side_y * tip),
        (x + along - side_x * tip, y + across - side_y * tip), (x - side_x * root, y - side_y * root),
    )  # fmt: skip
    shape = " ".join(f"{px:.1f},{py:.1f}" for px, py in points)
    core = f'x1="{x:.1f}" y1="{y:.1f}" x2="{x + 0.75 * along:.1f}" y2="{y + 0.75 * across:.1f}"'
    return (
        f'<polygon class="jl-ink-{ink}" fill-opacity="0.4" points="{shape}"/>'
        f'<line class="jl-line-{ink}" {core} stroke-width="{1.4 * root:.1f}"/>'
    )
