"""Lesson 01's consoles: one pump with four outlets, and the units of flow and pressure side by side."""

from functools import lru_cache

import numpy as np

from jetlib.course.pages.consoles import CONSOLES
from jetlib.rig.change.whatif import outlet_rig
from jetlib.rig.point.operating_point import operating_point, throttle_sweep
from jetlib.rig.uncertainty.band import usual_full_scale
from jetlib.screen.controls.declared import console
from jetlib.screen.drawing.chart import Axis, Series, axes, chart, curve, dot, legend, nice_ceiling, text, ticks, trace
from jetlib.screen.drawing.gauge import gauge, pressure_gauge
from jetlib.screen.drawing.parts import plungers
from jetlib.screen.drawing.picture import Answer, stacked
from jetlib.units import Told, from_si, si

THROTTLES = np.linspace(0.0, 1.0, 41)
_TILE, _HIGH = 380, 226
_VOLUMES = {"US": ("5 gal", "5 gal (19 L)"), "metric": ("20 L", "20 L (5.3 gal)")}


_rig = lru_cache(maxsize=16)(outlet_rig)


@lru_cache(maxsize=16)
def _sweep(outlet, pump):
    return throttle_sweep(_rig(outlet, pump), THROTTLES)


def _fastest():
    """The speed that the scales hold, rad/s."""
    return 1.02 * _rig("open", 0.95).pump.rated_speed


@console()
def pump_console(values, system):
    """A Console: throttle, outlet, wear of the pump; gauge, plungers, where the water goes, both against speed.

    outlet: as `outlet_rig` takes it. pump: one of the volumetric efficiencies 0.95, 0.85 and 0.70.
    """
    outlet, pump = values["outlet"], values["pump"]
    point = operating_point(_rig(outlet, pump), values["throttle"])
    words = _pump_words(point, outlet, pump, system)
    answers = (Answer("gauge reading", point.gauge, "pressure"), Answer("delivered", point.pump_flow, "flow"))
    return stacked(words, _instruments(point, system), _speed_charts(point, outlet, pump, system), answers=answers)


def _options(control):
    """{value: words} of a choice."""
    return {value: words for words, value in CONSOLES["pump_console"].row["controls"][control]["options"]}


def _pump_words(point, outlet, pump, system):
    flow = Told(system).flow
    pumps, outlets = (_options(name) for name in ("pump", "outlet"))
    back, slips = point.bypass_flow + point.leak_flow, point.swept_flow - point.pump_flow
    slip_words = (
        f"{flow(slips)} slips back inside" if slips > 1e-3 * point.swept_flow else "Hardly any slips back inside"
    )
    words = (
        f"{pumps[pump].capitalize()} pump, {outlets[outlet]}, "
        f"{100 * float(point.throttle):.0f} % throttle: the pump runs at {_turns(point, system)} and "
        f"its plungers sweep {flow(point.swept_flow)}. {slip_words}; {flow(point.pump_flow)} is delivered. "
        f"The gauge reads {Told(system).pressure(point.gauge)}. {flow(point.nozzle_flow)} leaves "
        "through the outlet"
    )
    return (
        f"{words}, and {flow(back)} returns to the tank through the bypass valve."
        if back > 0
        else f"{words}; the bypass valve is shut."
    )


def _turns(point, system):
    return Told(system).speed(point.speed, figures=4)


def _instruments(point, system):
    """Gauge and rev counter; the plungers, and bars for where the water goes: two tiles."""
    rig = point.rig
    speed, fastest = (from_si(each, "speed", system) for each in (point.speed, _fastest()))
    dials = (
        pressure_gauge(124, 106, 88, point.gauge, usual_full_scale(rig), system, setting=rig.unloader.setting),
        text(124, 216, Told(system).pressure(point.gauge), anchor="middle", weight="bold", size=14),
        gauge(304, 92, 50, speed, nice_ceiling(fastest), step=500),
        text(304, 166, "pump speed", anchor="middle"),
        text(304, 186, _turns(point, system), anchor="middle", weight="bold", size=14),
    )
    slips, most = point.swept_flow - point.pump_flow, float(rig.pump.rated_flow)
    rows = (
        ("out at the outlet", point.nozzle_flow, "blue"),
        ("back to the tank", point.bypass_flow + point.leak_flow, "orange"),
        ("slips back inside", slips if slips > 1e-3 * point.swept_flow else 0.0, "purple"),
    )
    parts = [plungers(14, 40, 126, 150, float(point.speed)), text(77, 210, "three plungers", anchor="middle")]
    left, width = 164, 204
    parts.append(text(left, 26, "where the swept water goes"))
    bars = []
    for number, (name, flow, colour) in enumerate(rows):
        top, wide = 64 + 50 * number, width * float(flow) / most
        parts.append(text(left, top - 6, f"{name}: {Told(system).flow(flow)}", colour=colour))
        parts.append(f'<rect class="jl-ink-{colour}" x="{left}" y="{top}" width="{wide:.1f}" height="14"/>')
        parts.append(f'<rect x="{left}" y="{top}" width="{width}" height="14" fill="none" stroke="currentColor"/>')
        bars.append(f'<path class="jl-line-{colour}" stroke-width="3" d="M{left + wide:.1f} {top - 3}v20"/>')
    parts.append(trace("bars", "".join(bars)))
    return [("".join(dials), _TILE, _HIGH), ("".join(parts), _TILE, _HIGH)]


def _speed_charts(point, outlet, pump, system):
    """Flow and gauge against the pump's speed: two tiles."""
    speeds, rated = _sweep("open", 0.95).speed, float(point.rig.pump.rated_flow)
    across = Axis("pump speed", "speed", _fastest())
    flows = axes(system, across, Axis("delivered", "flow", 1.02 * rated), 62, 34, 290, 190)
    most = 1.05 * float(_sweep("shut", 0.95).gauge.max())
    gauges = axes(system, across, Axis("gauge", "pressure", most), 66, 34, 218, 190)
    swept = Series("swept", (0, speeds[-1]), (0, rated), "grey", "dotted", 1.8)
    flow = Series("delivered", speeds, _sweep(outlet, pump).pump_flow)
    names, chosen = [], []
    for each, name in _options("outlet").items():
        here = each == outlet
        pressures = _sweep(each, pump).gauge
        look = ("blue", "solid", 2.8) if here else ("grey", "dashed", 1.5)
        (chosen if here else names).append(curve(gauges, Series(name, speeds, pressures, *look)))
        at = float(gauges.x(speeds[-1])) + 10, min(float(gauges.y(pressures[-1])), gauges.top + gauges.height - 6) + 4
        names.append(text(*at, name, colour=look[0], weight="bold" if here else "normal"))
    now = [curve(flows, flow), dot(flows, point.speed, point.pump_flow)]
    chosen.append(dot(gauges, point.speed, point.gauge))
    left = chart(flows, _TILE, 276, [curve(flows, swept), legend(flows, [flow, swept])], now)
    return [left, chart(gauges, _TILE, 276, names, chosen)]


# --- units side by side -----------------------------------------------------------------------------


# SI value of one unit of each scale. By the hundred: a single psi is less than the door takes for a pressure.
_FLOWS = {"US gpm": "100 gpm", "L/min": "100 L/min", "Imperial gpm": "100 imperial_gallon/min"}
_FLOWS = {name: si(hundred, "flow") / 100.0 for name, hundred in _FLOWS.items()}
_PRESSURES = {name: si(f"100 {name}", "pressure") / 100.0 for name in ("psi", "bar", "MPa")}


@console()
def amounts_console(values, system):
    """A Console: a flow and a pressure on scales in several units beside one another, and how fast a tank empties."""
    flow, pressure = values["flow"], values["pressure"]
    tiles = [
        _rulers("flow", flow, si("30 gpm", "flow"), _FLOWS),
        _rulers("pressure", pressure, si("4000 psi", "pressure"), _PRESSURES),
    ]
    us, litres, imperial = (flow / unit for unit in _FLOWS.values())
    psi, bar, mega = (pressure / unit for unit in _PRESSURES.values())
    words = (
        f"{us:.3g} US gpm is {litres:.3g} L/min, or {imperial:.3g} Imperial gallons a minute. {_emptied(flow, system)} "
        f"{psi:.4g} psi is {bar:.3g} bar, or {mega:.3g} MPa."
    )
    return stacked(words, tiles)


def _emptied(flow, system):
    size, name = _VOLUMES[system]
    if not flow > 0:
        return "No water runs: the tank stays as full as it is."
    return f"The tank loses {name} in {Told(system).time(si(size, 'volume') / flow)}."


def _rulers(name, value, most, scales):
    """Scales {name: SI value of one} under one another, a line across at `value` (SI): (content, width, height)."""
    left, width = 96, 262
    x = left + width * value / most
    parts = [text(8, 20, name, weight="bold")]
    for number, (unit, one) in enumerate(scales.items()):
        y = 34 + 44 * number
        top = most / one
        marks = [f"M{left} {y}H{left + width}"]
        for tick in ticks(0.0, top):
            at = left + width * tick / top
            marks.append(f"M{at:.1f} {y}v7")
            parts.append(text(at, y + 20, f"{tick:g}", anchor="middle", size=11))
        parts.append(f'<path d="{"".join(marks)}" fill="none" stroke="currentColor" stroke-width="1.4"/>')
        parts.append(text(left - 12, y + 5, unit, anchor="end"))
        side, shift = ("start", 7) if x < left + 0.85 * width else ("end", -7)
        reading = f"{value / one:.4g}" if value / one >= 1000 else f"{value / one:.3g}"
        parts.append(text(x + shift, y - 5, reading, anchor=side, colour="blue", weight="bold"))
    height = 34 + 44 * len(scales)
    parts.append(
        f'<line class="jl-line-blue" x1="{x:.1f}" x2="{x:.1f}" y1="24" y2="{height - 16}" stroke-width="2.2"/>'
    )
    return "".join(parts), _TILE, height
