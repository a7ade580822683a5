"""Lesson 10's consoles on the machine: the engine against the pump and the altitude, and the tank's water and "
"warmth."""

from functools import lru_cache

import numpy as np

from jetlib.rig.change.whatif import engine_rig
from jetlib.rig.job.supply import Supply, supply
from jetlib.rig.parts.tank import Tank
from jetlib.rig.point.operating_point import operating_point
from jetlib.screen.controls.console import Amount, Choice, Console, Switch
from jetlib.screen.controls.rig_choice import rig_of, whole_rigs
from jetlib.screen.drawing.chart import (
    HALO,
    Panel,
    Series,
    chart,
    charts,
    curve,
    dot,
    legend,
    level,
    nice_ceiling,
    upright,
)
from jetlib.screen.drawing.picture import Answer, stacked, with_narrow
from jetlib.units import from_si, si, unit_label
from jetlib.units import text as words_of
from jetlib.units.given import Flow, Share, Temperature, Volume

_WIDTH, _HEIGHT = 760, 312
_THROTTLES = np.linspace(0.0, 1.0, 51)
_STEPS = 121
_HORIZON, _LATE = si("2 h", "duration"), si("8 h", "duration")
_SHOWN, _MOST = si("1 h", "duration"), si("500 gal", "volume")  # the axes: what comes later stands in the words
_ANY_TANK = Tank("100 gal")  # the engine does not care how large it is
_RETURNS = (("to the tank", "tank"), ("to the pump's inlet, 2 L (half a gallon) circulating", "inlet"))


def power_console(
    rig: str = "yard_trailer",
    *,
    system: str | None = None,
    title: str = "Power the pump needs, power the engine has",
    **start: object,
) -> Console:
    """A Console: a yard rig, throttle, altitude and the engine's condition; power asked for and power there is.

    start: any of throttle, altitude, condition, as the controls take them.
    """
    controls = [
        Choice("rig", "Rig", whole_rigs(engine=True), rig),
        Amount("throttle", "Throttle", "fraction", 0.0, 1.0, 100, 1.0),
        Amount("altitude", "Altitude", "altitude", 0.0, "12000 ft", 48, 0.0),
        Amount("condition", "Engine power, of its rating", "fraction", 0.5, 1.0, 50, 1.0),
    ]
    return Console(title, controls, _draw_power, system=system, start=start)


def tank_console(
    rig: str = "yard_trailer",
    *,
    system: str | None = None,
    title: str = "How long the tank lasts, and how warm it gets",
    **start: object,
) -> Console:
    """A Console: a yard rig with a tank; the water left and its temperature against time.

    start: any of throttle, shut, volume, refill, returns, temperature, as the controls take them.
    """
    controls = [
        Choice("rig", "Rig", whole_rigs(), rig),
        Amount("throttle", "Throttle", "fraction", 0.0, 1.0, 100, 1.0),
        Switch("shut", "Outlet shut: nobody is jetting, but the machine keeps running", False),
        Amount("volume", "Water in the tank", "volume", "20 gal", _MOST, 48, "100 gal"),
        Amount("refill", "Filling hose", "flow", 0.0, "30 gpm", 60, 0.0),
        Choice("returns", "The valve returns", _RETURNS, "tank"),
        Amount("temperature", "Water at the start", "temperature", "40 degF", "100 degF", 60, "60 degF"),
    ]
    note = "90 % of the tank can be used. The line at 140 °F (60 °C) is an example: your pump's limit is in its manual."
    return Console(title, controls, _draw_tank, system=system, note=note, start=start)


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


def _draw_power(values, system):
    name, throttle = values["rig"], values["throttle"]
    rig = engine_rig(rig_of(name), altitude=values["altitude"], condition=values["condition"])
    point = operating_point(rig, throttle)
    found = supply(point, _ANY_TANK)
    asked, there = float(found.power_needed), float(found.power_available)
    curve_y, rated = _asked_for(name), rig_of(name).engine.power
    top = nice_ceiling(1.08 * from_si(max(float(curve_y.max()), rated), "power", system))
    ends, pump = np.array([0.0, 100.0]), rig.pump
    at_ends = np.array([rig.engine.available(pump.speed(throttle) / pump.rated_speed) for throttle in (0.0, 1.0)])
    series = [
        Series("the pump needs", 100 * _THROTTLES, from_si(curve_y, "power", system)),
        Series("the engine has", ends, from_si(at_ends, "power", system), "orange", "dashed"),
    ]
    figure = words_of(asked, "power", system)
    side = "end" if throttle > 0.3 else "start"

    def drawn(width):
        label = f"power at the pump's shaft, {unit_label('power', system)}"
        panel = Panel("throttle, %", label, (0, 100), (0, top), 66, 34, width - 110, 222)
        pieces, now = [legend(panel, series)], [curve(panel, each) for each in series]
        if at_ends[1] < 0.995 * rated:
            pieces.append(level(panel, from_si(rated, "power", system), "rated power, at sea level"))
        now.append(dot(panel, 100 * throttle, from_si(asked, "power", system), figure, anchor=side))
        return chart([panel], width, _HEIGHT, pieces, now), width, _HEIGHT

    words = _power_words(values, rig, point, asked, there, system)
    answers = (Answer("power the pump needs", asked, "power"), Answer("power the engine has", there, "power"))
    return stacked(words, with_narrow(drawn, _WIDTH), answers=answers)


def _power_words(values, rig, point, asked, there, system):
    electric = rig.engine.kind == "electric"
    height = words_of(values["altitude"], "altitude", system)
    words = (
        f"{rig.name} at {100 * values['throttle']:.0f} % throttle and {height}: the pump needs "
        f"{words_of(asked, 'power', system)} at the shaft. The {'motor' if electric else 'engine'} has "
        f"{words_of(there, 'power', system)}, so that is {100 * asked / there:.0f} % of it. "
    )
    figures = (
        f"gauge {words_of(point.gauge, 'pressure', system)}, {words_of(point.nozzle_flow, 'flow', system)} out of the "
        "nozzle"
    )
    if point.engine_bogged:
        speed = 100 * float(point.speed / rig.pump.speed(values["throttle"]))
        return words + f"The engine bogs: it falls to {speed:.0f} % of the speed set by the throttle, {figures}."
    if asked > 0.9 * there:
        words += "Less than 10 % is in reserve. "
    return words + f"{figures[0].upper()}{figures[1:]}."


# --- tank -------------------------------------------------------------------------------------------


def _draw_tank(values, system):
    name = values.pop("rig")
    found = tank_supply(name, **values)
    times = np.linspace(0.0, min(_SHOWN, 0.999 * float(found.tank_time)), _STEPS)
    minutes = from_si(times, "duration", system)
    left = np.maximum(values["volume"] - found.drawdown * times, 0.0)
    warmth = found.temperature(times)
    limit = found.tank.temperature_limit
    low, high = (from_si(value, "temperature", system) for value in (si("32 degF", "temperature"), limit + 12.0))
    last, most = from_si(_SHOWN, "duration", system), nice_ceiling(from_si(_MOST, "volume", system))
    panels = (
        Panel("minutes", unit_label("volume", system), (0, last), (0, most), 66, 44, 286, 210, "water left"),
        Panel("minutes", unit_label("temperature", system), (0, last), (low, high), 66, 44, 286, 210,
              "temperature of the returned water"),
    )  # fmt: skip
    shown = from_si(warmth, "temperature", system)
    inside = shown <= high
    now = (
        [curve(panels[0], Series("", minutes, from_si(left, "volume", system)))],
        [curve(panels[1], Series("", minutes[inside], shown[inside], "orange"))],
    )
    over = [], [level(panels[1], from_si(limit, "temperature", system), "limit", colour="red")]
    for side, time, colour, at in ((0, found.tank_time, "grey", 8), (1, found.limit_time, "red", 160)):
        if time <= _SHOWN:
            x = from_si(float(time), "duration", system)
            figure, anchor = words_of(float(time), "duration", system), "end" if x > 0.5 * last else "start"
            mark = upright(panels[side], x, figure, colour=colour, at=at, anchor=anchor)
            over[side].append(f'<g style="{HALO}">{mark}</g>')
    words = _tank_words(name, found, values, system)
    times = (("tank lasts", found.tank_time), ("to the temperature limit", found.limit_time))
    answers = [Answer(label, float(time), "duration") for label, time in times if np.isfinite(time)]
    return stacked(words, charts(panels, _HEIGHT, over, now), answers=answers)


def _tank_words(name, found, values, system):
    flow = lambda value: words_of(value, "flow", system)  # noqa: E731
    point = found.point
    back = point.bypass_flow + point.leak_flow
    words = (
        f"{rig_of(name).name} at {100 * values['throttle']:.0f} % throttle: {flow(point.pump_flow)} from the pump, "
        f"{flow(point.nozzle_flow)} out of the nozzle, {flow(back)} back to the tank. "
    )
    if np.isfinite(found.tank_time):
        words += f"The tank lasts {words_of(found.tank_time, 'duration', system)}. "
    else:
        words += "The tank level does not fall. "
    power = float(found.heating_power)
    if power < 1.0:
        return words + "No water returns, so the bypass does not heat it."
    words += f"{words_of(power, 'power', system)} returns as heat. "
    if found.limit_time <= _LATE:
        limit = words_of(found.tank.temperature_limit, "temperature", system)
        when = words_of(found.limit_time, "duration", system)
        return words + f"The water reaches {limit} after {when}: stop before that."
    empties = found.tank_time <= _LATE
    last = 0.999 * float(found.tank_time) if empties else _HORIZON
    when = "when the tank is empty" if empties else "after two hours"
    return words + f"The water is at {words_of(found.temperature(last), 'temperature', system)} {when}."
