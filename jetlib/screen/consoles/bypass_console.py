"""Lesson 05's consoles: a throttle sweep of a yard rig, a changed set-up beside it, and the rig drawn from itself."""

from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from jetlib.errors import JetlibError
from jetlib.rig.change.whatif import changed_rig, opening_throttle, with_valve
from jetlib.rig.parts.machine import BurstDisc
from jetlib.rig.point.operating_point import operating_point, throttle_sweep
from jetlib.rig.uncertainty.band import usual_full_scale
from jetlib.screen.controls.declared import console
from jetlib.screen.controls.rig_choice import rig_of
from jetlib.screen.drawing.chart import NARROW, THROTTLE, Axis, Series, axes, charts, curve, dot, legend, level, upright
from jetlib.screen.drawing.grid import notice
from jetlib.screen.drawing.picture import Answer, stacked
from jetlib.screen.drawing.schematic import schematic, valve_figure
from jetlib.units import Told

THROTTLES = np.linspace(0.0, 1.0, 101)
_HEIGHT = 300
_GUARDS = {
    "unloader": "Regulating unloader",
    "trapping": "Trapped-pressure unloader",
    "burst disc": "Burst disc for the same pressure",
    "none": "No valve",
}
_NAMES = ("before", "changed")
# Colour and dash of nozzle and gauge, then of what goes to the tank: four dashes, for eyes and paper without colours.
_INKS = ((("blue", "solid"), ("green", "dotted")), (("orange", "dashed"), ("purple", "dash-dot")))


@console()
def rig_console(values, system):
    """A Console: throttle only; the schematic of a yard rig with its figures."""
    setup = _setup(values["rig"])
    point = operating_point(setup.rig, values["throttle"])
    return stacked(_state_words(setup, point, system), *_drawn(setup.rig, point, system), answers=_answers(point))


@console()
def valve_console(values, system):
    """A Console: kind of valve, throttle, outlet open or shut; the schematic. A disc that has burst stays so."""
    loaded, kept, told = rig_of(values["rig"]), values["kept"], Told(system)
    fitted = with_valve(loaded, values["valve"], opened="burst" in kept).replace(outlet_shut=values["shut"])
    point = operating_point(fitted, values["throttle"])
    if point.disc_open:
        kept["burst"] = True
    words = (
        f"{_GUARDS[values['valve']]}, outlet {'shut' if values['shut'] else 'open'}, "
        f"{100 * float(point.throttle):.0f} % throttle: {_figures(point, told)}"
    )
    if values["shut"]:
        words += f" The pressure in the hose is {told.pressure(point.line_pressure)}."
    rows = _drawn(fitted, point, system, loaded)
    held = Answer("pressure in the hose", point.line_pressure, "pressure")
    answers = Answer("gauge reading", point.gauge, "pressure"), held
    return stacked(" ".join([words, *point.cautions]), *rows, answers=answers)


class _Setup(NamedTuple):
    """A rig, its sweep over THROTTLES, and the throttle at which its valve acts (None: it does not)."""

    rig: object
    sweep: object
    opens: float


@console()
def bypass_console(values, system):
    """A Console: a rig from data/, its throttle, and a change to it, drawn beside the rig as loaded."""
    name, throttle = values.pop("rig"), values.pop("throttle")
    setups = [_setup(name)]
    changed = _setup(name, **values)
    if changed.rig != setups[0].rig:
        setups.append(changed)
    points = [_point(setup, throttle) for setup in setups]
    loaded = setups[0].rig  # whose axes they are, whatever is changed
    gauge = Axis("gauge", "pressure", 1.35 * valve_figure(loaded) or usual_full_scale(loaded))
    flow = Axis("flow", "flow", 1.02 * loaded.pump.rated_flow)
    left, right = panels = [axes(system, THROTTLE, up, 62, 44, 296, 208) for up in (gauge, flow)]
    over, now, gauges, names = ([], []), ([], []), [], []
    for number, (setup, point) in enumerate(zip(setups, points, strict=True)):
        sweep, name, (ink, back_ink) = setup.sweep, _NAMES[number], _INKS[number]
        gauges.append(Series(name, THROTTLES, sweep.gauge, *ink))
        out = Series(f"nozzle, {name}", THROTTLES, sweep.nozzle_flow, *ink)
        back = Series(f"to tank, {name}", THROTTLES, sweep.bypass_flow + sweep.leak_flow, *back_ink, 1.8)
        pieces, at = now if setup is setups[-1] else over, point.throttle
        pieces[0].extend([curve(left, gauges[-1]), dot(left, at, point.gauge, colour=ink[0])])
        pieces[1].extend([curve(right, out), curve(right, back), dot(right, at, point.nozzle_flow, colour=ink[0])])
        over[0].extend(_valve_marks(left, setup, number))
        row = replace(right, top=right.top - 18 * (len(setups) - 1 - number))
        names.append(legend(row, [out, back]))
    over[0].append(legend(left, gauges))
    over[1].extend(names)
    for panel, pieces in zip(panels, over, strict=True):
        pieces.append(upright(panel, throttle, dash="dotted"))
    words = _state_words(setups[-1], points[-1], system)
    if len(setups) > 1:
        words += " Before the change: " + _figures(points[0], Told(system))
    rows = _drawn(setups[-1].rig, points[-1], system, loaded)
    return stacked(words, *rows, charts(panels, _HEIGHT, over, now), answers=_answers(points[-1]))


def _answers(point):
    back = point.bypass_flow + point.leak_flow
    return (
        Answer("gauge reading", point.gauge, "pressure"), Answer("out of the nozzle", point.nozzle_flow, "flow"),
        Answer("back to the tank", back, "flow"),
    )  # fmt: skip


@lru_cache(maxsize=64)
def _setup(name, **changes):
    """What does not change while only the throttle moves, worked out once."""
    rig = changed_rig(rig_of(name), **changes)
    try:
        opens = opening_throttle(rig)
    except JetlibError:
        opens = None
    return _Setup(rig, throttle_sweep(rig, THROTTLES), opens)


def _point(setup, throttle):
    """The state at `throttle`, with a burst disc as the sweep up to there leaves it."""
    rig = setup.rig
    if setup.sweep.disc_open[throttle >= THROTTLES].any():
        gone = tuple(v.replace(opened=True) if isinstance(v, BurstDisc) else v for v in rig.valves)
        rig = rig.replace(valve=gone)
    return operating_point(rig, throttle)


def _valve_marks(panel, setup, number):
    """The throttle at which the valve acts, and on the first set-up its setting, as lines with words."""
    rig, opens = setup.rig, setup.opens
    marks, colour = [], ("blue", "orange")[number]
    if opens is not None:
        words = f"{'valve opens' if rig.unloader else 'disc bursts'}, {100 * opens:.0f} %"
        side = "end" if opens > 0.55 else "start"
        marks.append(upright(panel, opens, words, colour=colour, at=150 + 18 * number, anchor=side))
    if rig.unloader is not None and number == 0:
        marks.append(level(panel, rig.unloader.setting, "valve setting"))
    return marks


def _figures(point, told):
    return (
        f"gauge {told.pressure(point.gauge)}, {told.flow(point.nozzle_flow)} out of the nozzle, "
        f"{told.flow(point.bypass_flow + point.leak_flow)} back to the tank."
    )


def _state_words(setup, point, system):
    rig, opens = setup.rig, setup.opens
    words = f"{rig.name or 'This rig'} at {100 * float(point.throttle):.0f} % throttle: {_figures(point, Told(system))}"
    words += f" Limited by: {point.limited_by}."
    if rig.unloader is not None:
        words += (
            f" The bypass valve opens at {100 * opens:.0f} % throttle."
            if opens is not None
            else " The bypass valve stays shut."
        )
    return " ".join([words, *point.cautions])


def _drawn(rig, point, system, loaded=None):
    """Rows of tiles: the rig, and under it the heads of its cautions."""
    heads = (caution.split(":")[0].split(". ")[0] for caution in point.cautions)
    return [*schematic(rig, point, system, loaded=loaded), *(notice(f"Caution: {head}.", 2 * NARROW) for head in heads)]
