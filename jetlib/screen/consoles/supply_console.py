"""Lesson 10's consoles: the engine against pump and altitude, the tank's water and warmth, what water takes along."""

from functools import lru_cache

import numpy as np

from jetlib.rig.change.whatif import engine_rig
from jetlib.rig.job.flushing import DEBRIS, flushing, shear_that_moves
from jetlib.rig.job.supply import Supply, supply
from jetlib.rig.parts.site import Drain, Tank
from jetlib.rig.point.alone import greatest_drain_flow
from jetlib.rig.point.operating_point import operating_point
from jetlib.screen.controls.declared import console
from jetlib.screen.controls.rig_choice import rig_of
from jetlib.screen.drawing.chart import (
    HALO,
    THROTTLE,
    Axis,
    Series,
    axes,
    chart,
    charts,
    curve,
    dot,
    legend,
    level,
    text,
    upright,
)
from jetlib.screen.drawing.picture import Answer, stacked, with_narrow
from jetlib.units import Told, si
from jetlib.units.given import Flow, Share, Temperature, Volume

_WIDTH, _HEIGHT = 760, 312
_THROTTLES = np.linspace(0.0, 1.0, 51)
_STEPS = 121
_HORIZON, _LATE = si("2 h", "duration"), si("8 h", "duration")
_SHOWN, _MOST = si("1 h", "duration"), si("500 gal", "volume")  # the axes: what comes later stands in the words
_ANY_TANK = Tank("100 gal")  # the engine does not care how large it is


def tank_supply(
    name: str, *, throttle: Share, shut: bool, volume: Volume, refill: Flow, returns: str, temperature: Temperature
) -> Supply:
    """The Supply of a yard rig from a tank; SI, or text with units."""
    rig = rig_of(name).replace(water_temperature=temperature, outlet_shut=shut)
    return supply(operating_point(rig, throttle), Tank(volume, refill_flow=refill, bypass_to=returns))


# --- engine -----------------------------------------------------------------------------------------


@lru_cache(maxsize=8)
def _asked_for(name):
    return supply(operating_point(rig_of(name).replace(engine=None), _THROTTLES), _ANY_TANK).power_needed


@console()
def power_console(values, system):
    """A Console: a yard rig, throttle, altitude and the engine's condition; power asked for and power there is."""
    name, throttle = values["rig"], values["throttle"]
    rig = engine_rig(rig_of(name), altitude=values["altitude"], condition=values["condition"])
    point = operating_point(rig, throttle)
    found = supply(point, _ANY_TANK)
    asked, there = float(found.power_needed), float(found.power_available)
    needed, rated, pump = _asked_for(name), rig_of(name).engine.power, rig.pump
    up = Axis("power at the pump's shaft", "power", 1.08 * max(float(needed.max()), rated))
    at_ends = np.array([rig.engine.available(pump.speed(end) / pump.rated_speed) for end in (0.0, 1.0)])
    series = [
        Series("the pump needs", _THROTTLES, needed),
        Series("the engine has", (0.0, 1.0), at_ends, "orange", "dashed"),
    ]

    def drawn(width):
        panel = axes(system, THROTTLE, up, 66, 34, width - 110, 222)
        pieces, now = [legend(panel, series)], [curve(panel, each) for each in series]
        if at_ends[1] < 0.995 * rated:
            pieces.append(level(panel, rated, "rated power, at sea level"))
        now.append(dot(panel, throttle, asked, panel.told(asked), anchor="end" if throttle > 0.3 else "start"))
        return chart(panel, width, _HEIGHT, pieces, now)

    words = _power_words(values, rig, point, asked, there, system)
    answers = (Answer("power the pump needs", asked, "power"), Answer("power the engine has", there, "power"))
    return stacked(words, with_narrow(drawn, _WIDTH), answers=answers)


def _power_words(values, rig, point, asked, there, system):
    told, drive = Told(system), "motor" if rig.engine.kind == "electric" else "engine"
    words = (
        f"{rig.name} at {100 * values['throttle']:.0f} % throttle and {told.altitude(values['altitude'])}: the pump "
        f"needs {told.power(asked)} at the shaft. The {drive} has {told.power(there)}, so that is "
        f"{100 * asked / there:.0f} % of it. "
    )
    figures = f"gauge {told.pressure(point.gauge)}, {told.flow(point.nozzle_flow)} out of the nozzle"
    if point.engine_bogged:
        speed = 100 * float(point.speed / rig.pump.speed(values["throttle"]))
        return words + f"The engine bogs: it falls to {speed:.0f} % of the speed set by the throttle, {figures}."
    if asked > 0.9 * there:
        words += "Less than 10 % is in reserve. "
    return words + f"{figures[0].upper()}{figures[1:]}."


# --- tank -------------------------------------------------------------------------------------------


@console()
def tank_console(values, system):
    """A Console: a yard rig with a tank; the water left and its temperature against time."""
    name = values.pop("rig")
    found = tank_supply(name, **values)
    times = np.linspace(0.0, min(_SHOWN, 0.999 * float(found.tank_time)), _STEPS)
    left = np.maximum(values["volume"] - found.drawdown * times, 0.0)
    limit, told = found.tank.temperature_limit, Told(system)
    drawn = (
        (Axis("", "volume", _MOST), "water left", Series("", times, left)),
        (
            Axis("", "temperature", limit + 12.0, si("32 degF", "temperature"), whole=False),
            "temperature of the returned water",
            Series("", times, found.temperature(times), "orange"),
        ),
    )
    minutes = Axis("minutes", "duration", _SHOWN, whole=False, unit=False)
    panels = [axes(system, minutes, up, 66, 44, 286, 210, title) for up, title, _ in drawn]
    now = [[curve(panel, series, inside=True)] for panel, (*_, series) in zip(panels, drawn, strict=True)]
    over = [], [level(panels[1], limit, "limit", colour="red")]
    for side, time, colour, at in ((0, found.tank_time, "grey", 8), (1, found.limit_time, "red", 160)):
        if time <= _SHOWN:
            look = {"colour": colour, "at": at, "anchor": "end" if time > 0.5 * _SHOWN else "start", "halo": True}
            over[side].append(upright(panels[side], time, told.duration(time), **look))
    words = _tank_words(name, found, values, told)
    times = (("tank lasts", found.tank_time), ("to the temperature limit", found.limit_time))
    answers = [Answer(label, float(time), "duration") for label, time in times if np.isfinite(time)]
    return stacked(words, charts(panels, _HEIGHT, over, now), answers=answers)


def _tank_words(name, found, values, told):
    flow, point = told.flow, found.point
    back = point.bypass_flow + point.leak_flow
    words = (
        f"{rig_of(name).name} at {100 * values['throttle']:.0f} % throttle: {flow(point.pump_flow)} from the pump, "
        f"{flow(point.nozzle_flow)} out of the nozzle, {flow(back)} back to the tank. "
    )
    if np.isfinite(found.tank_time):
        words += f"The tank lasts {told.duration(found.tank_time)}. "
    else:
        words += "The tank level does not fall. "
    power = float(found.heating_power)
    if power < 1.0:
        return words + "No water returns, so the bypass does not heat it."
    words += f"{told.power(power)} returns as heat. "
    if found.limit_time <= _LATE:
        limit, when = told.temperature(found.tank.temperature_limit), told.duration(found.limit_time)
        return words + f"The water reaches {limit} after {when}: stop before that."
    empties = found.tank_time <= _LATE
    last = 0.999 * float(found.tank_time) if empties else _HORIZON
    when = "when the tank is empty" if empties else "after two hours"
    return words + f"The water is at {told.temperature(found.temperature(last))} {when}."


# --- down the drain -------------------------------------------------------------------------------

_FLUSH_CHART, _FLUSH_HEIGHT = 440, 306
_FLOWS = np.linspace(si("0.5 gpm", "flow"), si("60 gpm", "flow"), 121)
_GRAINS = tuple((name, size) for name, size in DEBRIS.items() if size is not None)
_TOP = 15.0  # Pa: past the drag that moves the coarsest grain


def drain_of(*, bore, fall, wall):
    """The Drain of the console's pipe."""
    return Drain(bore=bore, length=30.0, fall=fall, manning_n=wall)


def grain_words(system):
    """(name, grain size in words, shear in Pa that moves it) of each kind of grain."""
    return tuple(
        (name, Told(system).leak_bore(size, figures=2), float(shear_that_moves(size))) for name, size in _GRAINS
    )


@lru_cache(maxsize=32)
def _swept(bore, fall, wall):
    return flushing(_FLOWS, drain_of(bore=bore, fall=fall, wall=wall)).shear


@console()
def flush_console(values, system):
    """A Console: flow, pipe, fall and wall; the pipe's cross-section, and the drag on its floor against the flow."""
    flow, told = values.pop("flow"), Told(system)
    drain, grains = drain_of(**values), grain_words(system)
    found = flushing(flow, drain)
    up = Axis("drag of the water on the pipe floor, Pa", "", _TOP, whole=False)
    panel = axes(system, Axis("flow", "flow", _FLOWS[-1]), up, 62, 34, 190, 216)
    pieces, labels = _grain_lines(panel, grains, float(found.shear))
    pieces.append(upright(panel, flow, dash="dotted"))
    pieces.append(f'<g style="{HALO}">{"".join(labels)}</g>')
    now = [curve(panel, Series("", _FLOWS, _swept(**values))), dot(panel, flow, float(found.shear))]
    across = _cross_section(found, drain, told), _WIDTH - _FLUSH_CHART, _FLUSH_HEIGHT
    answers = [Answer("drag on the pipe floor", found.shear, "shear_stress")]
    words = _flush_words(flow, values, found, grains, told)
    return stacked(words, [across, chart(panel, _FLUSH_CHART, _FLUSH_HEIGHT, pieces, now)], answers=answers)


def _grain_lines(panel, grains, shear):
    """(lines, words) of the grains: green and "goes" where they move, else orange."""
    lines, words, placed = [], [], 1e9
    for name, size, needed in grains:
        ink, dash, fate = ("green", "solid", "goes") if needed <= shear else ("orange", "dashed", "stays")
        lines.append(level(panel, needed, colour=ink, dash=dash))
        placed = min(float(panel.y(needed)) + 4.0, placed - 15.0)  # clear of the name below, the lowest comes first
        words.append(text(panel.left + panel.width + 8, placed, f"{name} {size}: {fate}", colour=ink))
    return lines, words


def _cross_section(found, drain, told):
    x, y, radius = 160.0, 130.0, 92.0
    depth = min(float(found.depth_ratio), 1.0)
    ring = f'<circle cx="{x}" cy="{y}" r="{radius}" fill="none" stroke="currentColor" stroke-width="4"/>'
    surface = y + radius - 2.0 * radius * depth
    half = float(np.sqrt(max(radius**2 - (surface - y) ** 2, 0.0)))
    large = 1 if depth > 0.5 else 0
    if depth >= 1.0:
        water = f'<circle class="jl-ink-blue" fill-opacity="0.4" cx="{x}" cy="{y}" r="{radius}"/>'
    else:
        water = (
            f'<path class="jl-ink-blue" fill-opacity="0.4" d="M{x - half:.1f} {surface:.1f}'
            f'A{radius} {radius} 0 {large} 0 {x + half:.1f} {surface:.1f}Z"/>'
        )
    deep = "full" if found.full else f"{told.pipe_bore(depth * drain.bore)} deep"
    return (
        water
        + ring
        + text(x, 26, f"pipe {told.pipe_bore(drain.bore)}", anchor="middle")
        + text(x, 252, deep, anchor="middle", weight="bold")
        + text(x, 272, told.velocity(found.velocity), anchor="middle", weight="bold")
    )


def _flush_words(flow, pipe, found, grains, told):
    most = greatest_drain_flow(pipe["bore"], pipe["fall"], pipe["wall"])
    goes = [name for name, _, needed in grains if needed <= float(found.shear)]
    stays = [name for name, _, needed in grains if needed > float(found.shear)]
    words = f"{told.flow(flow)} in a {told.pipe_bore(pipe['bore'])} pipe that falls {told.slope(pipe['fall'])}: "
    if found.full:
        words += f"it fills. By its fall alone the pipe carries at most {told.flow(most)}. "
    else:
        words += f"{told.pipe_bore(found.depth_ratio * pipe['bore'])} deep, "
        words += f"{100 * float(found.depth_ratio):.0f} % of the pipe. "
    words += f"It runs at {told.velocity(found.velocity)} and drags with {float(found.shear):.2g} Pa. "
    words += f"Carried along: {', '.join(goes) or 'nothing'}. Left behind: {', '.join(stays) or 'nothing'}."
    return words
