"""Lesson 04's console: where the gauge's pressure goes between pump and jets, and the gauge against the throttle."""

from functools import lru_cache

import numpy as np

from jetlib.course.pages.consoles import CONSOLES
from jetlib.rig.change.whatif import changed_line
from jetlib.rig.parts.rig_file import demo_rig
from jetlib.rig.point.operating_point import operating_point, throttle_sweep
from jetlib.screen.controls.declared import console
from jetlib.screen.drawing.chart import Axis, Series, axes, chart, curve, dot, legend, level, text, trace, upright
from jetlib.screen.drawing.picture import Answer, stacked
from jetlib.units import Told, si

THROTTLES = np.linspace(0.0, 1.0, 61)
_TILE, _LEFT, _SPAN = 380, 14, 352
_PARTS = (("hose", "orange"), ("fittings", "purple"), ("lift", "green"), ("jets", "blue"))


def _main_hose(rig):
    hose, bores = demo_rig(rig).hoses[0], CONSOLES["circuit_console"].row["controls"]["bore"]["sizes"]
    nearest = min(bores, key=lambda bore: abs(si(bore, "hose_bore") - hose.bore))
    return {"length": {"start": hose.length}, "bore": {"start": nearest}}


def pressure_parts(point):
    """What hose, fittings, lift and jets take of the gauge at an OperatingPoint of one rig, a dict in Pa."""
    return {
        "hose": float(point.hose_loss),
        "fittings": float(point.fitting_loss),
        "lift": float(point.lift_pressure),
        "jets": float(point.nozzle_pressure),
    }


@lru_cache(maxsize=4)
def _sweep(name, **line):
    return throttle_sweep(changed_line(demo_rig(name), **line), THROTTLES)


@console(_main_hose)
def circuit_console(values, system):
    """A Console: a yard rig's throttle, hose, jets and lift; the share each part takes, and the gauge's curve.

    Length and bore are those of the main hose; what else is in the line stays as the rig has it.
    """
    name, kept = values.pop("rig"), values.pop("kept")
    kept = {} if kept == values else dict(kept)
    throttle, kept_throttle = values.pop("throttle"), kept.pop("throttle", None)
    point, told = operating_point(changed_line(demo_rig(name), **values), throttle), Told(system)
    words, lines = _line_words(point, told), [("this line", point)]
    if kept:
        other = operating_point(changed_line(demo_rig(name), **kept), kept_throttle)
        lines.append(("kept line", other))
        words += f" The kept line, at {_percent(other.throttle)} throttle: {_gauge_words(other, told)}."
    full = 1.35 * float(point.rig.unloader.setting)
    bars, high = _bars(lines, full, told)
    drawn = _gauge_chart(_sweep(name, **values), _sweep(name, **kept) if kept else None, point, full, system)
    answers = (
        Answer("gauge reading", point.gauge, "pressure"), Answer("nozzle pressure", point.nozzle_pressure, "pressure"),
    )  # fmt: skip
    return stacked(" ".join([words, *point.cautions]), [(bars, _TILE, high), drawn], answers=answers)


def _percent(share):
    return f"{100 * float(share):.0f} %"


def _gauge_words(point, told):
    takes = (f"{part} {told.pressure(taken)}" for part, taken in pressure_parts(point).items() if taken > 0)
    given = f", and {told.pressure(-point.lift_pressure)} from the drop" if point.lift_pressure < 0 else ""
    return f"gauge {told.pressure(point.gauge)}{given}, of which {', '.join(takes)}"


def _line_words(point, told):
    share = float(point.nozzle_pressure * point.nozzle_flow / point.hydraulic_power)
    words = (
        f"At {_percent(point.throttle)} throttle, {told.flow(point.nozzle_flow)} through hose and jets: "
        f"{_gauge_words(point, told)}. The pump puts {told.power(point.hydraulic_power)} into the "
        f"water, and {_percent(share)} of it reaches the jets."
    )
    if point.bypass_flow > 0:
        words += f" The valve is open: {told.flow(point.bypass_flow)} returns to the tank (lesson 05)."
    return words


def _bars(lines, full, told):
    """The pressure of each (name, point) as a bar, each part in its place from pump to jets, and what each loses."""
    parts, y = [], 22
    for name, point in lines:
        parts.append(text(_LEFT, y, f"{name}: {told.pressure(point.gauge)} on the gauge", weight="bold"))
        x, row, state = float(_LEFT), y + 56, []
        for part, colour in _PARTS:
            pressure = pressure_parts(point)[part]
            wide = _SPAN * min(max(pressure, 0.0) / full, 1.0 - (x - _LEFT) / _SPAN)
            box = f'x="{x:.1f}" y="{y + 8}" width="{wide:.1f}" height="26"'
            parts.append(f'<rect class="jl-ink-{colour}" fill-opacity="0.5" stroke="currentColor" {box}/>')
            state.append(f'<path class="jl-line-{colour}" stroke-width="3" d="M{x + wide:.1f} {y + 4}v34"/>')
            if pressure > 0:
                box = f'x="{_LEFT}" y="{row - 11}" width="14" height="12"'
                parts.append(f'<rect class="jl-ink-{colour}" fill-opacity="0.5" stroke="currentColor" {box}/>')
                parts.append(text(_LEFT + 22, row, f"{part} {told.pressure(pressure)}", colour=colour))
                row += 20
            x += wide
        if point.lift_pressure < 0:
            given = told.pressure(-point.lift_pressure)
            parts.append(text(_LEFT + 22, row, f"and {given} from the drop", colour="green"))
            row += 20
        parts.append(trace(f"bar {y}", "".join(state)))
        y = row + 16
    return "".join(parts), max(y, 306)


def _gauge_chart(sweep, kept, point, full, system):
    """A tile: gauge and nozzle pressure against the throttle; kept: the sweep of the kept line, or None."""
    across = Axis("throttle, %  (0: idle, 100: rated speed)", "fraction", 1.0, whole=False, unit=False)
    panel = axes(system, across, Axis("pressure", "pressure", full), 66, 34, 296, 220)
    series = [
        Series("gauge", THROTTLES, sweep.gauge),
        Series("nozzle pressure", THROTTLES, sweep.nozzle_pressure, "green", "dashed"),
    ]
    if kept is not None:
        series.append(Series("kept gauge", THROTTLES, kept.gauge, "purple", "dash-dot"))
    curves, at = [curve(panel, each) for each in series], 100 * point.throttle
    side = "end" if 30 <= at < 45 or at >= 75 else "start"  # clear of the words on the valve's line
    now = [*curves[:2], dot(panel, point.throttle, point.gauge, panel.told(point.gauge), anchor=side)]
    now.append(dot(panel, point.throttle, point.nozzle_pressure, colour="green", shape="square"))
    over = [*curves[2:], legend(panel, series), upright(panel, point.throttle, dash="dotted")]
    side = "end" if at < 45 else "start"
    over.append(level(panel, sweep.rig.unloader.setting, "the valve opens here", anchor=side, halo=True))
    return chart(panel, _TILE, 306, over, now)
