"""The rig drawn from the rig itself: tank, pump with its gauge, what guards it, each hose, nozzle and jets.

The width of a hose is that of its bore, its color that of its pressure, the marks in it run as fast as the water. Two
tiles: the machine, and the line. The scale of the gauge and of the colors is the rig's, so a change is seen as one.
"""

import numpy as np

from jetlib.rig.parts.machine import Unloader
from jetlib.rig.point.alone import hose_velocity
from jetlib.rig.uncertainty.band import usual_full_scale
from jetlib.screen.drawing import parts as drawn
from jetlib.screen.drawing.chart import text, texts
from jetlib.screen.drawing.gauge import pressure_gauge
from jetlib.screen.drawing.parts import bore_width, hose, legend_of_pressure, pipe, reel
from jetlib.screen.drawing.theme import pressure_step
from jetlib.units import Told

WIDTH, HEIGHT, _TILE = 760, 292, 380
_LINE, _STEP = 17, 54  # between lines of text; how much lower every second hose is named
_Y = 186  # of the line
_PUMP_X, _GAUGE_X, _VALVE_X, _CHECK_X = 142, 178, 280, 338
_NOZZLE_X, _NOZZLE_SIZE = 276, 44
_PIPE = 0.012  # m: bore of the pipes on the machine
_NO_FLOW = 1e-9  # of the pump's flow


def schematic(rig, point, system, *, loaded=None):
    """Rows of tiles for `picture.stacked`: `rig` in the state `point`, an OperatingPoint of one rig at one throttle,
    and the legend of its colors. loaded: the Rig whose gauge it has, where its valve was changed.
    """
    loaded = loaded or rig
    face = usual_full_scale(loaded)
    full = valve_figure(loaded) or face
    machine = _machine(rig, loaded, point, system, face, full)
    line, height = _line(rig, point, Told(system), full)
    return [[(machine, _TILE, height), (line, _TILE, height)], legend_of_pressure(full, system)]


def valve_figure(rig):
    """The pressure (Pa) at which the first of the rig's valves acts; 0 without any."""
    return min((valve.setting if isinstance(valve, Unloader) else valve.rating for valve in rig.valves), default=0.0)


def _machine(rig, loaded, point, system, face, full):
    back = float(point.bypass_flow + point.leak_flow)
    speeds = [float(hose_velocity(flow, _PIPE)) for flow in (point.pump_flow, back, point.nozzle_flow)]
    open_back = back > _NO_FLOW * max(float(point.pump_flow), 1e-12)
    pressure = float(point.gauge)
    told = Told(system)
    parts = [
        '<path d="M14 158V250H90V158" fill="none" stroke="currentColor" stroke-width="2.5"/>',
        '<path class="jl-ink-p2" fill-opacity="0.35" d="M16 178H89V249H16Z"/>',
        text(52, 271, "tank", anchor="middle"),
        pipe("M90 228H112", 0.0, full, speeds[0], 8),
        pipe(f"M{_PUMP_X} 198V{_Y}H{_VALVE_X}", pressure, full, speeds[0]),
        pipe(f"M{_VALVE_X} {_Y}H{_TILE + 1}", float(point.line_pressure), full, speeds[2]),
    ]
    home = f"M{_VALVE_X - 16} {_Y - drawn.OUTLET}H52V172"
    if rig.valves:
        parts.append(pipe(home, 0.0, full, speeds[1] if open_back else 0.0, 7))
    parts += _guard(rig, point, told, full, open_back)
    parts.append(drawn.plungers(112, 198, 62, 56, float(point.speed)))
    stem = f"M{_GAUGE_X} 126V{_Y}"
    parts.append(f'<path d="{stem}" stroke="var(--jp-layout-color0, #ffffff)" stroke-width="12"/>')
    parts.append(f'<path d="{stem}" stroke="currentColor" stroke-width="4"/>')
    parts.append(pressure_gauge(_GAUGE_X, 70, 56, pressure, face, system, setting=valve_figure(loaded) or None))
    parts.append(text(104, 40, "gauge", anchor="end"))
    parts.append(text(104, 60, told.pressure(pressure), anchor="end", weight="bold", size=15))
    if pressure > face:  # the needle lies against its pin
        parts.append(text(104, 78, "past its scale", anchor="end", colour="red", weight="bold"))
    parts.append(text(_PUMP_X, 271, f"throttle {100 * float(point.throttle):.0f} %", anchor="middle"))
    parts.append(text(_PUMP_X, 287, f"pump {told.flow(point.pump_flow)}", anchor="middle"))
    return "".join(parts)


def _guard(rig, point, told, full, open_back):
    """What guards the pump, with its name and what it sends back to the tank."""
    if not rig.valves:
        return [drawn.plug(_VALVE_X, _Y)]
    ink = pressure_step(float(point.gauge), full)
    if rig.unloader is None:
        gone = bool(point.disc_open)
        parts, name = [drawn.burst_disc(_VALVE_X, _Y, gone)], [f"burst disc {'open' if gone else 'intact'}"]
    else:
        name = [f"unloader {'open' if point.bypass_flow > _NO_FLOW * point.pump_flow else 'shut'}"]
        parts = [drawn.unloader(_VALVE_X, _Y, open_back, ink)]
        if rig.unloader.trapping:
            name = ["trapped-pressure", *name]
            held = not point.nozzle_flow > 0
            behind = pressure_step(float(point.line_pressure), full)
            parts += [
                drawn.check_valve(_CHECK_X, _Y, held, behind),
                text(_CHECK_X, _Y + 36, "check valve", anchor="middle"),
            ]
    name.append(f"to tank {told.flow(point.bypass_flow + point.leak_flow)}")
    return [*parts, texts(374, 66 - _LINE * len(name), name, anchor="end")]


def _line(rig, point, told, full):
    """Hoses and nozzle: (content, height)."""
    parts, count, pressure = [], max(len(rig.hoses), 1), float(point.line_pressure)
    span, labels = (_NOZZLE_X - 6) / count, []
    for number, (each, loss) in enumerate(zip(rig.hoses, point.hose_losses, strict=True)):
        x, before, after = number * span, pressure, pressure - float(loss)
        half = x + span / 2.0
        velocity = float(hose_velocity(point.nozzle_flow, each.bore))
        parts.append(hose(x, x + span + 6 * (number == count - 1), _Y, float(each.bore), before, after, full, velocity))
        if each.coil_diameter is not None and each.coiled_length > 0:
            parts.append(reel(half, _Y - 54, float(each.bore), before, full))
        labels.append(_hose_words(each, loss, half, _STEP * (number % 2), told))
        if number:
            high = bore_width(float(rig.hoses[number - 1].bore)) / 2.0 + 5.0
            parts.append(f'<path stroke="currentColor" stroke-width="10" d="M{x:.1f} {_Y - high:.1f}v{2 * high:.1f}"/>')
            labels.append(text(x, _Y - high - 6, told.pressure(before), anchor="middle", weight="bold"))
        pressure = after
    if not rig.hoses:
        parts.append(pipe(f"M0 {_Y}H{_NOZZLE_X}", pressure, full, float(hose_velocity(point.nozzle_flow, _PIPE))))
    flows = point.nozzle_flow > 0
    jets = [(np.max(jet.count), jet.angle, jet.bore) for jet in rig.nozzle.jets if np.any(jet.count > 0)]
    behind = float(point.nozzle_pressure) if flows else pressure
    parts.append(drawn.nozzle(_NOZZLE_X, _Y, _NOZZLE_SIZE, jets, behind, full, flows))
    return "".join(parts + labels + [_nozzle_words(point, told, flows)]), HEIGHT + _STEP * (len(rig.hoses) > 1)


def _nozzle_words(point, told, flows):
    # Where nothing flows the hose may yet be full of pressure.
    pressure = f"nozzle pressure {told.pressure(point.nozzle_pressure)}"
    lines = (
        (f"nozzle {told.flow(point.nozzle_flow)}", "bold"),
        (pressure, "normal") if flows else (f"hose pressure {told.pressure(point.line_pressure)}", "bold"),
        (f"pull {told.force(point.reaction)}", "normal"),
    )
    return "".join(
        text(_TILE - 8, 40 + _LINE * row, line, anchor="end", weight=weight) for row, (line, weight) in enumerate(lines)
    )


def _hose_words(hose, loss, x, drop, told):
    lines = [f"{told.hose_bore(hose.bore)} bore, {told.length(hose.length)}", f"loses {told.pressure(loss)}"]
    if hose.coil_diameter is not None and hose.coiled_length > 0:
        lines.append(f"{told.length(hose.coiled_length)} on the reel")
    return texts(x, _Y + 56 + drop, lines, anchor="middle")
