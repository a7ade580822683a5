"""Lesson 04's console: where the gauge's pressure goes between pump and jets, and the gauge against the throttle."""

from functools import lru_cache

import numpy as np

from jetlib.rig.change.whatif import changed_line
from jetlib.rig.parts.rig_file import demo_rig
from jetlib.rig.point.operating_point import operating_point, throttle_sweep
from jetlib.screen.controls.console import Amount, Choice, Console, Push
from jetlib.screen.drawing.chart import (
    HALO,
    Panel,
    Series,
    chart,
    curve,
    dot,
    legend,
    level,
    nice_ceiling,
    text,
    trace,
    upright,
)
from jetlib.screen.drawing.picture import Answer, stacked
from jetlib.units import from_si, si, unit_label
from jetlib.units import text as words_of

THROTTLES = np.linspace(0.0, 1.0, 61)
_TILE, _LEFT, _SPAN = 380, 14, 352
_BORES = ("3/16 in", "1/4 in", "3/8 in", "1/2 in", "5/8 in", "3/4 in", "1 in")
_JETS = (
    ("as they are", "as loaded"),
    ("one more jet", "one more"),
    ("one jet fewer", "one less"),
    ("all one drill larger", "larger"),
    ("all one drill smaller", "smaller"),
)
_PARTS = (("hose", "orange"), ("fittings", "purple"), ("lift", "green"), ("jets", "blue"))
_SETS = ("throttle", "length", "bore", "jets", "lift")


def circuit_console(
    rig: str = "yard_trailer", *, system: str | None = None, title: str = "Where the pressure goes", **start: object
) -> Console:
    """A Console: a yard rig's throttle, hose, jets and lift; the share each part takes, and the gauge's curve.

    start: any of throttle, length, bore (such as "1/2 in"), jets, lift, as the controls take them. Length and bore are
    those of the main hose; what else is in the line stays as the rig has it.
    """
    loaded = demo_rig(rig)
    hose = loaded.hoses[0]
    nearest = min(_BORES, key=lambda bore: abs(si(bore, "hose_bore") - hose.bore))
    kept = {}

    def keep(values):
        kept.update({name: values[name] for name in _SETS})
        return {}

    def draw(values, system):
        return _draw(rig, {name: values[name] for name in _SETS}, kept, system)

    bores = tuple((f"{bore} ({words_of(si(bore, 'hose_bore'), 'hose_bore', 'metric')})", bore) for bore in _BORES)
    controls = [
        Amount("throttle", "Throttle", "fraction", 0.0, 1.0, 100, 1.0),
        Amount("length", "Length of the hose", "length", 0.0, "600 ft", 60, hose.length),
        Choice("bore", "Bore of the hose", bores, nearest),
        Choice("jets", "Jets", _JETS, "as loaded"),
        Amount("lift", "Nozzle above the pump", "lift", "-100 ft", "100 ft", 40, 0.0),
        Push("keep", "Keep this line to compare", keep),
    ]
    return Console(
        title,
        controls,
        draw,
        system=system,
        note=f"{loaded.name}. If the nozzle is below the pump, enter a minus.",
        start=start,
    )


def pressure_parts(point):
    """What hose, fittings, lift and jets take of the gauge at an OperatingPoint of one rig, a dict in Pa."""
    return {
        "hose": float(point.hose_loss),
        "fittings": float(point.fitting_loss),
        "lift": float(point.lift_pressure),
        "jets": float(point.nozzle_pressure),
    }


def _line(name, values):
    return changed_line(demo_rig(name), **{key: value for key, value in values.items() if key != "throttle"})


@lru_cache(maxsize=4)
def _sweep(name, items):
    return throttle_sweep(_line(name, dict(items)), THROTTLES)


def _swept(name, values):
    return _sweep(name, tuple((key, value) for key, value in values.items() if key != "throttle"))


def _draw(name, values, kept, system):
    point = operating_point(_line(name, values), values["throttle"])
    words = _line_words(point, system)
    other = None
    if kept and kept != values:
        other = operating_point(_line(name, kept), kept["throttle"])
        words += f" The kept line, at {_percent(other.throttle)} throttle: {_gauge_words(other, system)}."
    full = 1.35 * float(point.rig.unloader.setting)
    bars, high = _bars([("this line", point), ("kept line", other)][: 1 + (other is not None)], full, system)
    drawn = _gauge_chart(name, values, kept, point, system)
    answers = (
        Answer("gauge reading", point.gauge, "pressure"), Answer("nozzle pressure", point.nozzle_pressure, "pressure"),
    )  # fmt: skip
    return stacked(" ".join([words, *point.cautions]), [(bars, _TILE, high), (drawn, _TILE, 306)], answers=answers)


def _percent(share):
    return f"{100 * float(share):.0f} %"


def _gauge_words(point, system):
    shown = [(part, pressure) for part, pressure in pressure_parts(point).items() if pressure > 0]
    takes = ", ".join(f"{part} {words_of(pressure, 'pressure', system)}" for part, pressure in shown)
    words = f"gauge {words_of(point.gauge, 'pressure', system)}, of which {takes}"
    if point.lift_pressure < 0:
        given = words_of(-float(point.lift_pressure), "pressure", system)
        words = words.replace(", of which", f", and {given} from the drop, of which")
    return words


def _line_words(point, system):
    share = float(point.nozzle_pressure * point.nozzle_flow / point.hydraulic_power)
    words = (
        f"At {_percent(point.throttle)} throttle, {words_of(point.nozzle_flow, 'flow', system)} through hose and jets: "
        f"{_gauge_words(point, system)}. The pump puts {words_of(point.hydraulic_power, 'power', system)} into the "
        f"water, and {_percent(share)} of it reaches the jets."
    )
    if point.bypass_flow > 0:
        back = words_of(point.bypass_flow, "flow", system)
        words += f" The valve is open: {back} returns to the tank (lesson 05)."
    return words


def _bars(lines, full, system):
    """The pressure of each (name, point) as a bar, each part in its place from pump to jets, and what each loses."""
    parts, y = [], 22
    for name, point in lines:
        parts.append(text(_LEFT, y, f"{name}: {words_of(point.gauge, 'pressure', system)} on the gauge", weight="bold"))
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
                parts.append(text(_LEFT + 22, row, f"{part} {words_of(pressure, 'pressure', system)}", colour=colour))
                row += 20
            x += wide
        if point.lift_pressure < 0:
            given = f"and {words_of(-float(point.lift_pressure), 'pressure', system)} from the drop"
            parts.append(text(_LEFT + 22, row, given, colour="green"))
            row += 20
        parts.append(trace(f"bar {y}", "".join(state)))
        y = row + 16
    return "".join(parts), max(y, 306)


def _gauge_chart(name, values, kept, point, system):
    """SVG of gauge and nozzle pressure against the throttle."""
    sweep, across = _swept(name, values), 100 * THROTTLES
    kept_sweep = _swept(name, kept) if kept and kept != values else None
    setting = from_si(sweep.rig.unloader.setting, "pressure", system)
    top = nice_ceiling(1.35 * setting)
    panel = Panel(
        "throttle, %  (0: idle, 100: rated speed)", f"pressure, {unit_label('pressure', system)}", (0, 100), (0, top),
        66, 34, 296, 220,
    )  # fmt: skip
    all_series = [
        Series("gauge", across, from_si(sweep.gauge, "pressure", system), "blue", "solid"),
        Series("nozzle pressure", across, from_si(sweep.nozzle_pressure, "pressure", system), "green", "dashed"),
    ]
    if kept_sweep is not None:
        gauge = from_si(kept_sweep.gauge, "pressure", system)
        all_series.append(Series("kept gauge", across, gauge, "purple", "dash-dot"))
    curves = [curve(panel, series) for series in all_series]
    shown, behind = (from_si(each, "pressure", system) for each in (point.gauge, point.nozzle_pressure))
    at = 100 * point.throttle
    side = "end" if 30 <= at < 45 or at >= 75 else "start"  # clear of the words on the valve's line
    now = [*curves[:2], dot(panel, at, shown, words_of(point.gauge, "pressure", system), anchor=side)]
    now.append(dot(panel, at, behind, colour="green", shape="square"))
    over = [*curves[2:], legend(panel, all_series), upright(panel, at, dash="dotted")]
    over.append(
        f'<g style="{HALO}">{level(panel, setting, "the valve opens here", anchor="end" if at < 45 else "start")}</g>'
    )
    return chart([panel], _TILE, 306, over, now)
