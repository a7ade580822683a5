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
from jetlib.screen.controls.console import Amount, Choice, Console, Push, Switch
from jetlib.screen.controls.rig_choice import rig_of, whole_rigs
from jetlib.screen.drawing.chart import (
    NARROW,
    Panel,
    Series,
    charts,
    curve,
    dot,
    legend,
    level,
    nice_ceiling,
    upright,
)
from jetlib.screen.drawing.grid import notice
from jetlib.screen.drawing.picture import Answer, stacked
from jetlib.screen.drawing.schematic import schematic, valve_figure
from jetlib.units import from_si, unit_label
from jetlib.units import text as words_of

THROTTLES = np.linspace(0.0, 1.0, 101)
_HEIGHT = 300
_HELD = "pressure in the hose"
_BORES = (("1/4 in (6.6 mm)", "1/4 in"), ("3/8 in (9.7 mm)", "3/8 in"), ("1/2 in (12.9 mm)", "1/2 in"))
_JETS = (
    ("as they are", 0),
    ("one drill size larger", 1),
    ("two drill sizes larger", 2),
    ("three drill sizes larger", 3),
    ("one drill size smaller", -1),
)
_DISC = ("burst disc for the same pressure", "burst disc")
_VALVES = (
    ("unchanged", "as loaded"),
    ("regulating unloader", "unloader"),
    _DISC,
    ("none: never run a machine like this", "none"),
)
_KINDS = (("regulating unloader", "unloader"), ("trapped-pressure unloader", "trapping"), _DISC, _VALVES[-1])
_NAMES = ("before", "changed")
# Colour and dash of nozzle and gauge, then of what goes to the tank: four dashes, for eyes and paper without colours.
_INKS = ((("blue", "solid"), ("green", "dotted")), (("orange", "dashed"), ("purple", "dash-dot")))


def rig_console(
    rig: str = "yard_trailer", *, system: str | None = None, title: str = "One rig and its throttle"
) -> Console:
    """A Console: throttle only; the schematic of a yard rig with its figures."""
    setup = _setup(rig)

    def draw(values, system):
        point = operating_point(setup.rig, values["throttle"])
        rows = [*schematic(setup.rig, point, system), *_caution_rows(point)]
        return stacked(_state_words(setup, point, system), *rows, answers=_answers(point))

    controls = [Amount("throttle", "Throttle", "fraction", 0.0, 1.0, 100, 0.6)]
    return Console(title, controls, draw, system=system)


def valve_console(
    rig: str = "yard_trailer",
    *,
    system: str | None = None,
    title: str = "Four ways to guard a pump, and a plugged nozzle",
) -> Console:
    """A Console: kind of valve, throttle, outlet open or shut; the schematic. A disc that has burst stays so."""
    loaded = rig_of(rig)
    state = {"burst": False}

    def draw(values, system):
        fitted = with_valve(loaded, values["valve"], opened=state["burst"]).replace(outlet_shut=values["shut"])
        point = operating_point(fitted, values["throttle"])
        state["burst"] = state["burst"] or bool(point.disc_open)
        kind = next(words for words, name in _KINDS if name == values["valve"]).split(":")[0]
        words = f"{kind if kind != 'none' else 'no valve'}, "
        words += f"outlet {'shut' if values['shut'] else 'open'}, {100 * float(point.throttle):.0f} % throttle: "
        words = words[0].upper() + words[1:] + _figures(point, system)
        if values["shut"]:
            words += f" The pressure in the hose is {words_of(point.line_pressure, 'pressure', system)}."
        rows = [*schematic(fitted, point, system, loaded=loaded), *_caution_rows(point)]
        answers = (Answer("gauge reading", point.gauge, "pressure"), Answer(_HELD, point.line_pressure, "pressure"))
        return stacked(" ".join([words, *point.cautions]), *rows, answers=answers)

    def new_disc(_):
        state["burst"] = False
        return {}

    controls = [
        Choice("valve", "Valve", _KINDS, "unloader"),
        Amount("throttle", "Throttle", "fraction", 0.0, 1.0, 100, 1.0),
        Switch("shut", "Outlet shut: every jet plugged, or the shut-off valve closed"),
        Push("new_disc", "Stop the pump and fit a new disc", new_disc),
    ]
    return Console(title, controls, draw, system=system)


def bypass_console(
    rig: str = "yard_trailer", *, system: str | None = None, title: str = "Throttle, gauge and bypass", **start: object
) -> Console:
    """A Console: a rig from data/, its throttle, and a change to it, drawn beside the rig as loaded.

    start: any of throttle, extra_length, extra_bore, jets, valve, as the controls take them.
    """
    controls = [
        Choice("rig", "Rig", whole_rigs(), rig),
        Amount("throttle", "Throttle", "fraction", 0.0, 1.0, 100, 1.0),
        Amount("extra_length", "Hose added", "length", 0.0, "300 ft", 30, 0.0),
        Choice("extra_bore", "Bore of that hose", _BORES, "3/8 in"),
        Choice("jets", "Jets", _JETS, 0),
        Choice("valve", "Valve", _VALVES, "as loaded"),
    ]
    return Console(title, controls, _draw, system=system, start=start)


class _Setup(NamedTuple):
    """A rig, its sweep over THROTTLES, and the throttle at which its valve acts (None: it does not)."""

    rig: object
    sweep: object
    opens: float


def _draw(values, system):
    name, throttle = values.pop("rig"), values.pop("throttle")
    setups = [_setup(name)]
    changed = _setup(name, **values)
    if changed.rig != setups[0].rig:
        setups.append(changed)
    points = [_point(setup, throttle) for setup in setups]
    panels = _panels(setups[0].rig, system)
    over, now = ([], []), ([], [])
    for number, (setup, point) in enumerate(zip(setups, points, strict=True)):
        for side, pieces in enumerate(_setup_pieces(panels, setup.sweep, point, number, system)):
            (now if number == len(setups) - 1 else over)[side].extend(pieces)
        over[0].extend(_valve_marks(panels[0], setup, number, system))
    for side, names in enumerate(_legends(panels, len(setups) > 1)):
        over[side].extend([*names, upright(panels[side], 100 * throttle, dash="dotted")])
    words = _state_words(setups[-1], points[-1], system)
    if len(setups) > 1:
        words += " Before the change: " + _figures(points[0], system)
    loaded = setups[0].rig
    rows = [*schematic(setups[-1].rig, points[-1], system, loaded=loaded), *_caution_rows(points[-1])]
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


def _panels(rig, system):
    """The axes of gauge and flow: those of the rig as it was loaded, whatever is changed."""
    pressure, flow = unit_label("pressure", system), unit_label("flow", system)
    figure = 1.35 * valve_figure(rig) or usual_full_scale(rig)
    top, most = (
        nice_ceiling(from_si(each, kind, system))
        for each, kind in ((figure, "pressure"), (1.02 * rig.pump.rated_flow, "flow"))
    )
    left = Panel("throttle, %", f"gauge, {pressure}", (0, 100), (0, top), 62, 44, 296, 208)
    right = Panel("throttle, %", f"flow, {flow}", (0, 100), (0, most), 62, 44, 296, 208)
    return left, right


def _setup_pieces(panels, sweep, point, number, system):
    """Curves and dots of one set-up: those of the gauge, those of the flows."""
    left, right = panels
    x, at = 100 * THROTTLES, 100 * point.throttle
    (colour, dash), back_ink = _INKS[number]
    gauge, flow = from_si(sweep.gauge, "pressure", system), from_si(sweep.nozzle_flow, "flow", system)
    back, name = from_si(sweep.bypass_flow + sweep.leak_flow, "flow", system), _NAMES[number]
    gauges = [
        curve(left, Series(name, x, gauge, colour, dash)),
        dot(left, at, from_si(point.gauge, "pressure", system), colour=colour),
    ]
    flows = [
        curve(right, Series(name, x, flow, colour, dash)),
        curve(right, Series(name, x, back, *back_ink, 1.8)),
        dot(right, at, from_si(point.nozzle_flow, "flow", system), colour=colour),
    ]
    return gauges, flows


def _valve_marks(panel, setup, number, system):
    """The throttle at which the valve acts, and on the first set-up its setting, as lines with words."""
    rig, opens = setup.rig, setup.opens
    marks, colour = [], ("blue", "orange")[number]
    if opens is not None:
        words = f"{'valve opens' if rig.unloader else 'disc bursts'}, {100 * opens:.0f} %"
        side = "end" if opens > 0.55 else "start"
        marks.append(upright(panel, 100 * opens, words, colour=colour, at=150 + 18 * number, anchor=side))
    if rig.unloader is not None and number == 0:
        marks.append(level(panel, from_si(rig.unloader.setting, "pressure", system), "valve setting"))
    return marks


def _legends(panels, changed):
    left, right = panels
    names = _NAMES if changed else _NAMES[:1]
    gauge = [Series(name, (), (), *_INKS[number][0]) for number, name in enumerate(names)]
    rows = []
    for number, name in enumerate(names):
        nozzle, back = _INKS[number]
        ends = [Series(f"nozzle, {name}", (), (), *nozzle), Series(f"to tank, {name}", (), (), *back, 1.8)]
        rows.append(legend(replace(right, top=right.top - 18 * (len(names) - 1 - number)), ends))
    return [legend(left, gauge)], rows


def _figures(point, system):
    flow = lambda value: words_of(value, "flow", system)  # noqa: E731
    back = point.bypass_flow + point.leak_flow
    return (
        f"gauge {words_of(point.gauge, 'pressure', system)}, {flow(point.nozzle_flow)} out of the nozzle, "
        f"{flow(back)} back to the tank."
    )


def _state_words(setup, point, system):
    rig, opens = setup.rig, setup.opens
    words = f"{rig.name or 'This rig'} at {100 * float(point.throttle):.0f} % throttle: {_figures(point, system)}"
    words += f" Limited by: {point.limited_by}."
    if rig.unloader is not None:
        words += (
            f" The bypass valve opens at {100 * opens:.0f} % throttle."
            if opens is not None
            else " The bypass valve stays shut."
        )
    return " ".join([words, *point.cautions])


def _caution_rows(point):
    heads = (caution.split(":")[0].split(". ")[0] for caution in point.cautions)
    return [notice(f"Caution: {head}.", 2 * NARROW) for head in heads]
