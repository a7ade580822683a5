"""The rig drawn from the rig itself: tank, pump, valve, each hose, nozzle.

The width of a stream follows its flow; the colour of a line and the figures on it follow its pressure.
"""

import numpy as np

from jetlib.rig.parts.machine import Unloader
from jetlib.screen.drawing.chart import text
from jetlib.screen.drawing.theme import pressure_step
from jetlib.units import text as words_of

WIDTH, HEIGHT = 760, 252
_LINE, _STEP = 17, 52  # between lines of text; how much lower every second hose is named where three or more meet
_LINE_Y = 150
_PUMP_X, _VALVE_X, _HOSE_X, _NOZZLE_X = 150, 232, 300, 640


def schematic(rig, point, system):
    """SVG (content, width, height) of `rig` in the state `point`, an OperatingPoint of one rig at one throttle."""
    full = max(point.gauge, point.line_pressure, _valve_figure(rig), 1.0)
    most = max(point.pump_flow, 1e-12)
    parts = [_tank(), _stream([(92, 178), (_PUMP_X - 26, 178)], point.pump_flow / most, "p0")]
    parts += [_pump(rig, point, system), _valve(rig, point, system, most, full)]
    parts += _hoses(rig, point, system, most, full)
    parts.append(_nozzle(rig, point, system, most, full))
    return "".join(parts), WIDTH, HEIGHT if len(rig.hoses) < 3 else HEIGHT + _STEP


def _valve_figure(rig):
    """The pressure (Pa) at which the first of the rig's valves acts; 0 without any."""
    return min((valve.setting if isinstance(valve, Unloader) else valve.rating for valve in rig.valves), default=0.0)


def _tank():
    return (
        '<path d="M14 118 V226 H92 V118" fill="none" stroke="currentColor" stroke-width="2.5"/>'
        '<path class="jl-ink-p1" fill-opacity="0.3" d="M16 140 H90 V224 H16 Z"/>'
        + text(53, 244, "tank", anchor="middle")
    )


def _pump(rig, point, system):
    throttle = text(_PUMP_X, 226, f"throttle {100 * float(point.throttle):.0f} %", anchor="middle")
    name = text(_PUMP_X, 244, f"pump {words_of(point.pump_flow, 'flow', system)}", anchor="middle")
    gauge = (
        f'<line x1="{_PUMP_X + 30}" x2="{_PUMP_X + 30}" y1="92" y2="{_LINE_Y}" stroke="currentColor" stroke-width="2"/>'
        f'<circle cx="{_PUMP_X + 30}" cy="70" r="22" fill="none" stroke="currentColor" stroke-width="2.5"/>'
        f"{_needle(_PUMP_X + 30, 70, point, rig)}"
        f"{text(_PUMP_X + 30, 38, words_of(point.gauge, 'pressure', system), anchor='middle', weight='bold', size=14)}"
        f"{text(_PUMP_X + 30, 20, 'gauge', anchor='middle')}"
    )
    body = (
        f'<circle cx="{_PUMP_X}" cy="178" r="26" fill="none" stroke="currentColor" stroke-width="2.5"/>'
        f'<path d="M{_PUMP_X - 11} 190 L{_PUMP_X + 13} 178 L{_PUMP_X - 11} 166 Z" fill="currentColor"/>'
    )
    return body + throttle + name + gauge


def _needle(x, y, point, rig):
    full = 1.25 * (_valve_figure(rig) or max(point.gauge, 1.0))
    turn = np.radians(225.0 - 270.0 * min(max(point.gauge / full, 0.0), 1.0))
    return (
        f'<line x1="{x}" y1="{y}" x2="{x + 17 * np.cos(turn):.1f}" y2="{y - 17 * np.sin(turn):.1f}" '
        'stroke="currentColor" stroke-width="2.5"/>'
    )


def _valve(rig, point, system, most, full):
    corner = [(_PUMP_X + 18, 158), (_PUMP_X + 18, _LINE_Y), (_VALVE_X, _LINE_Y)]
    line = _stream(corner, point.pump_flow / most, pressure_step(point.gauge, full), arrow=False)
    # Each stretch of a stream starts a pixel early, so that no seam shows where two meet.
    onward = pressure_step(point.line_pressure, full)
    line += _stream([(_VALVE_X - 1, _LINE_Y), (_HOSE_X, _LINE_Y)], point.nozzle_flow / most, onward, arrow=False)
    if not rig.valves:
        return line + text(_VALVE_X, 110, "no valve", anchor="middle", colour="red", weight="bold")
    back = (point.bypass_flow + point.leak_flow) / most
    path = [(_VALVE_X, _LINE_Y), (_VALVE_X, 120)]
    riser = _stream(path, back, pressure_step(point.gauge, full)) if back > 1e-6 else _pipe(path)
    route = [(_VALVE_X, 120), (_VALVE_X, 106), (112, 106), (53, 106), (53, 134)]
    home = _stream(route, back, "p0", arrow=True) if back > 1e-6 else _pipe(route)
    square = f'<rect x="{_VALVE_X - 13}" y="110" width="26" height="22"/>'
    arrow = f'<path d="M{_VALVE_X - 8} 128 L{_VALVE_X + 8} 114 M{_VALVE_X + 1} 114 h7 v7"/>'
    box = f'<g fill="none" stroke="currentColor" stroke-width="2.2">{square}{arrow}</g>'
    back_words = words_of(point.bypass_flow + point.leak_flow, "flow", system)
    label = text(_VALVE_X + 20, 70, _valve_state(rig, point, most))
    label += text(_VALVE_X + 20, 87, f"to tank {back_words}")
    return home + riser + line + box + label


def _valve_state(rig, point, most):
    if point.disc_open:
        return "burst disc open"
    if rig.unloader is None:
        return "burst disc intact"
    kind = "trapped-pressure unloader" if rig.unloader.trapping else "unloader"
    return f"{kind} {'open' if point.bypass_flow > 1e-9 * most else 'shut'}"


def _hoses(rig, point, system, most, full):
    parts, count = [], max(len(rig.hoses), 1)
    span = (_NOZZLE_X - _HOSE_X) / count
    pressure = point.line_pressure
    share = point.nozzle_flow / most
    for number, (hose, loss) in enumerate(zip(rig.hoses, point.hose_losses, strict=True)):
        x = _HOSE_X + number * span
        half = x + span / 2.0
        before, after = pressure, pressure - float(loss)
        parts.append(_stream([(x - 1, _LINE_Y), (half, _LINE_Y)], share, pressure_step(before, full)))
        parts.append(_stream([(half - 1, _LINE_Y), (x + span, _LINE_Y)], share, pressure_step(after, full)))
        parts.append(_hose_words(hose, loss, half, _STEP * (number % 2) * (count > 2), system))
        if hose.coil_diameter is not None and hose.coiled_length > 0:
            ring = f'<circle cx="{half}" cy="{_LINE_Y - 26}" r="{{}}" fill="none" stroke="currentColor"/>'
            parts.append(f'<g stroke-width="2">{ring.format(16)}{ring.format(9)}</g>')
        if number:
            parts.append(f'<rect x="{x - 4}" y="{_LINE_Y - 9}" width="8" height="18" fill="currentColor"/>')
            at_joint = words_of(before, "pressure", system)
            parts.append(text(x, _LINE_Y - 16, at_joint, anchor="middle", weight="bold"))
        pressure = after
    if not rig.hoses:
        parts.append(_stream([(_HOSE_X, _LINE_Y), (_NOZZLE_X, _LINE_Y)], share, pressure_step(pressure, full)))
    return parts


def _hose_words(hose, loss, x, drop, system):
    bore, length = words_of(hose.bore, "hose_bore", system), words_of(hose.length, "length", system)
    lines = [f"{bore} bore, {length}", f"loses {words_of(float(loss), 'pressure', system)}"]
    if hose.coil_diameter is not None and hose.coiled_length > 0:
        lines.append(f"{words_of(hose.coiled_length, 'length', system)} on the reel")
    y = _LINE_Y + 50 + drop
    return "".join(text(x, y + _LINE * row, line, anchor="middle") for row, line in enumerate(lines))


def _nozzle(rig, point, system, most, full):
    x, y = _NOZZLE_X, _LINE_Y
    ink = pressure_step(point.nozzle_pressure, full)
    outline = f"M{x} {y - 11} H{x + 26} L{x + 40} {y} L{x + 26} {y + 11} H{x} Z"
    body = f'<path class="jl-ink-{ink}" d="{outline}" stroke="currentColor"/>'
    jets = []
    if point.nozzle_flow > 0:
        rear = any(jet.angle < np.pi / 2 and np.any(jet.count > 0) for jet in rig.nozzle.jets)
        front = any(jet.angle > np.pi / 2 and np.any(jet.count > 0) for jet in rig.nozzle.jets)
        for side in (-1, 1):
            if rear:
                jets.append(_stream([(x + 6, y + side * 11), (x - 34, y + side * 30)], 0.3, ink, arrow=True))
        if front:
            jets.append(_stream([(x + 40, y), (x + 92, y)], 0.3, ink, arrow=True))
    flow, behind = words_of(point.nozzle_flow, "flow", system), words_of(point.nozzle_pressure, "pressure", system)
    lines = [f"nozzle {flow}", f"nozzle pressure {behind}", f"pull {words_of(point.reaction, 'force', system)}"]
    held = not point.nozzle_flow > 0
    if held:  # nothing flows, and yet the hose may be full of pressure
        lines[1] = f"hose pressure {words_of(point.line_pressure, 'pressure', system)}"
    words = "".join(
        text(
            WIDTH - 8,
            56 + _LINE * row,
            line,
            anchor="end",
            weight="bold" if row == 0 or (held and row == 1) else "normal",
        )
        for row, line in enumerate(lines)
    )
    return body + "".join(jets) + words


def _stream(points, share, ink, arrow=True):
    """A flow along `points`, as wide as its share (0 to 1) of the pump's flow, with an arrow head at the end."""
    width = 2.0 + 8.0 * float(np.sqrt(max(share, 0.0)))
    path = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
    line = f'<polyline class="jl-line-{ink}" fill="none" stroke-width="{width:.1f}" points="{path}"/>'
    if not arrow or share <= 0:
        return line
    (x0, y0), (x1, y1) = points[-2:]
    length = float(np.hypot(x1 - x0, y1 - y0)) or 1.0
    ux, uy, size = (x1 - x0) / length, (y1 - y0) / length, 4.0 + width
    tip = f"{x1:.1f},{y1:.1f} {x1 - size * ux - size * 0.7 * uy:.1f},{y1 - size * uy + size * 0.7 * ux:.1f}"
    tip += f" {x1 - size * ux + size * 0.7 * uy:.1f},{y1 - size * uy - size * 0.7 * ux:.1f}"
    return line + f'<polygon class="jl-ink-{ink}" points="{tip}"/>'


def _pipe(points):
    path = " ".join(f"{x},{y}" for x, y in points)
    dim = 'fill="none" stroke="currentColor" stroke-opacity="0.45" stroke-width="2" stroke-dasharray="3 4"'
    return f'<polyline {dim} points="{path}"/>'
