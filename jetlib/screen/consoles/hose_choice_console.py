"""Lesson 07's consoles: every hose of the table as a line's last stretch, where to step down, and what a surge does."""

from functools import lru_cache

import numpy as np

from jetlib import tables
from jetlib.rig.hoses.choice import hose_choices
from jetlib.rig.hoses.fit import USUAL_RESERVE
from jetlib.rig.hoses.step_down import step_downs
from jetlib.rig.hoses.surge import STOP_SLOWLY, surge
from jetlib.rig.hoses.weight import PipeRun
from jetlib.rig.point.operating_point import operating_point
from jetlib.screen.controls.declared import console
from jetlib.screen.controls.rig_choice import rig_of
from jetlib.screen.drawing.chart import NARROW, Axis, Series, axes, chart, charts, curve, dot, legend, level, text
from jetlib.screen.drawing.grid import grid, notice
from jetlib.screen.drawing.picture import Answer, stacked, with_narrow
from jetlib.units import Told, both, si

_WIDTH = 760
_LONGEST = si("500 ft", "length")  # line that can be stepped down
_SMALL_KINDS = ("EN 853 2SN", "EN 857 2SC", "SAE 100R8", "SAE 100R7")
_SMALL = tuple(
    row
    for kind in _SMALL_KINDS
    for dash in (3, 4, 5, 6)
    for row in tables.hoses()
    if (row.standard, row.dash) == (kind, dash)
)
_FROM_LARGE = 8  # dash size from which a hose is offered as the large one
_SHORT = (("WORKING PRESSURE", "pressure"), ("The hose is too thick", "thick"), ("The bends", "bends"))


# --- every hose of the table ------------------------------------------------------------------------


@lru_cache(maxsize=32)
def _choices(name, length, pipe, bends, reserve):
    rig = rig_of(name)
    place = len(rig.hoses) if len(rig.hoses) > 1 else "end"
    run = PipeRun(bore=pipe, bends=bends, run=length)
    return hose_choices(rig, place, length=length, pipe=run, reserve=reserve)


def _standards(rig):
    kinds = dict.fromkeys((row.standard, row.edition) for row in tables.hoses())
    options = [(f"{standard} ({edition})", (standard, edition)) for standard, edition in kinds]
    return {"kind": {"options": options}, "reserve": {"start": USUAL_RESERVE}}


@console(_standards)
def last_hose_console(values, system):
    """A Console: length of the last hose, pipe, bends, reserve, standard; what each hose delivers, takes and weighs.

    A rig of one hose gets it added before the nozzle, one of more has its last one changed. All of it lies in the pipe.
    """
    choices = _choices(*(values[name] for name in ("rig", "length", "pipe", "bends", "reserve")))
    kind, told = values["kind"], Told(system)
    own = sorted(
        (each for each in choices if (each.size.standard, each.size.edition) == kind), key=lambda each: each.size.bore
    )
    lines = [_own_row(each, told) for each in own]
    words = (
        f"With a last hose {told.length(values['length'])} long, {len(choices.usable)} of "
        f"{len(choices)} hoses can be used. A hose needs a rating that covers setting, rise, reserve and surge. "
        f"{kind[0]} ({kind[1]}): {'; '.join(map(_row_words, lines))}."
    )
    words = " ".join([words, *choices.cautions])
    heads = (
        "size", ">bore", ">nozzle", ">loses", ">weight full", ">bend radius", ">needs", ">rated for", ">net pull",
        "can be used"
    )  # fmt: skip
    refused = [number for number, each in enumerate(own) if not each.usable]
    table = grid(heads, lines, (14, 86, 152, 220, 304, 390, 458, 532, 604, 616), width=_WIDTH, refused=refused)
    short = [each for each in own if not each.pressure_enough]
    loud = f"WORKING PRESSURE NOT ENOUGH in {len(short)} of these {len(own)}: a hose that bursts kills."
    rows = [notice(loud, _WIDTH)] if short else []
    widest = [each for each in own if each.usable][-1:]
    answers = [Answer(f"-{each.size.dash}, the widest that can be used", each.nozzle_flow, "flow") for each in widest]
    answers += [Answer("it needs a rating of", each.pressure_needed, "pressure") for each in widest]
    trade = with_narrow(lambda width: _trade_chart(choices, own, values["length"], width, system), _WIDTH)
    return stacked(words, trade, *rows, table, answers=answers)


def against(choice):
    """Why a HoseChoice must not be used, or will not be pulled, in a word or two; "yes" if neither."""
    if choice.usable:
        return "yes" if choice.pull_left >= 0 else "not pulled"
    named = [word for begin, word in _SHORT for reason in choice.reasons if reason.startswith(begin)]
    return f"NO: {', '.join(named or ['reel'])}"


def _row_words(row):
    size, _, flow, loss, mass, _, needed, rated, _, verdict = row
    words = f"{size} delivers {flow}, loses {loss}, weighs {mass} full, needs {needed} and is rated for {rated}"
    return words if verdict == "yes" else f"{words}, {verdict}"


def _own_row(each, told):
    return (
        f"-{each.size.dash}",
        told.hose_bore(each.size.bore),
        told.flow(each.nozzle_flow),
        told.pressure(each.hose_loss),
        told.mass(each.mass_full),
        told.coil_diameter(each.size.bend_radius),
        told.pressure(each.pressure_needed),
        told.pressure(each.size.working_pressure),
        told.force(each.pull_left, figures=2),
        against(each),
    )


def _trade_chart(choices, own, length, width, system):
    """Flow out of the nozzle against weight, a mark for every hose of the table: (content, width, height)."""
    heavy = {each.label: each.mass_full / length for each in choices}
    across = Axis("weight full of water", "mass_per_length", 1.02 * max(heavy.values()))
    up = Axis("out of the nozzle", "flow", 1.1 * choices.present.pump_flow)
    panel = axes(system, across, up, 66, 54, width - 110, 180)
    marks, names = [], []
    # This standard on top of the others, its sizes named below and above by turns: neighbors may weigh much the same.
    for each in sorted(choices, key=lambda each: (each in own, heavy[each.label])):
        x, y = float(panel.x(heavy[each.label])), float(panel.y(each.nozzle_flow))
        colour = "blue" if each in own else "grey"
        marks.append(_mark(x, y, colour, each.usable))
        if each in own:
            at = x, y + (20, -12)[len(names) % 2]
            names.append(text(*at, f"-{each.size.dash}", colour="blue", anchor="middle", weight="bold", halo=True))
    keys = (("this standard, by size", "blue"), ("all other hoses", "grey"))
    pieces = [text(70 + 180 * at, 20, words, colour=colour) for at, (words, colour) in enumerate(keys)]
    pieces.append(text(70, 40, "○ can be used    × must not be used"))
    return chart(panel, width, 286, pieces, marks + names)


def _mark(x, y, colour, usable):
    """A ring, or a cross for what must not be used."""
    look = f'fill="none" stroke-width="2" class="jl-line-{colour}"'
    if usable:
        return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="5" {look}/>'
    return f'<path d="M{x - 4:.1f} {y - 4:.1f}l8 8M{x - 4:.1f} {y + 4:.1f}l8 -8" {look}/>'


# --- where to step down -----------------------------------------------------------------------------


@lru_cache(maxsize=8)
def _large_sizes(name):
    """HoseSizes of the usual standard that may be used from the pump of this rig, smallest first."""
    newest = tables.hose(_FROM_LARGE).edition
    sizes = [row for row in tables.drain_hoses() if (row.standard, row.edition) == (tables.USUAL_HOSE, newest)]
    usable = hose_choices(rig_of(name), 1, hoses=[row for row in sizes if row.dash >= _FROM_LARGE]).usable
    return tuple(sorted((choice.size for choice in usable), key=lambda row: row.bore))


@lru_cache(maxsize=64)
def _step(name, large, small, whole, small_length, run, places):
    sizes = {row.label: row for row in (*_large_sizes(name), *_SMALL)}
    found = step_downs(
        rig_of(name),
        total_length=whole,
        small_length=0.01 * whole if small_length is None else small_length,
        large=[sizes[large]],
        small=[sizes[small]],
        pipe=PipeRun(run=run),
        rank_by="nozzle_flow",  # by flow the shortest is the best: the place that was asked for
        places=places,
    )
    return found[0]


def _sizes(rig):
    large, small = (
        [(f"{row.label.split(' (')[0]}, {both(row.bore, 'hose_bore')}", row.label) for row in rows]
        for rows in (_large_sizes(rig), _SMALL)
    )
    return {"large": {"options": large, "start": large[0][1]}, "small": {"options": small, "start": small[1][1]}}


@console(_sizes)
def step_down_console(values, system):
    """A Console: a line of large hose, then small hose; flow and pull left against the length of the small one."""
    name = values.pop("rig")
    here, along = _step(name, **values, places=2), _step(name, **{**values, "small_length": None}, places=61)
    rig, run = rig_of(name), values["run"]
    words = _step_words(here, run, Told(system))
    across, force = Axis("small hose in the line", "length", _LONGEST), 1.2 * operating_point(rig).reaction
    flow = Axis("out of the nozzle", "flow", 1.02 * rig.pump.rated_flow)
    left = axes(system, across, flow, 62, 34, 290, 218)
    right = axes(system, across, Axis("net pull", "force", force, -force), 66, 34, 286, 218)
    flows = Series("flow", along.small_lengths, along.flow_at)
    pulls = Series("net pull at the nozzle", along.small_lengths, along.pull_left_at, "green", "dashed")
    over = [legend(left, [flows])], [legend(right, [pulls]), level(right, 0.0)]
    side = "end" if left.x_share(here.small_length) > 0.6 else "start"
    now = []
    for panel, series, y, shape in (
        (left, flows, here.nozzle_flow, "circle"),
        (right, pulls, here.pull_left, "square"),
    ):
        look = {"colour": series.colour, "shape": shape, "anchor": side}
        now.append([curve(panel, series), dot(panel, here.small_length, y, panel.told(y), **look)])
    loud = (reason.split(": ", 1)[1].split(":")[0].lower() for reason in here.reasons)
    rows = [notice(f"DO NOT USE: {words}.", _WIDTH) for words in loud]
    answers = (
        Answer("out of the nozzle", here.nozzle_flow, "flow"),
        Answer("net pull at the nozzle", here.pull_left, "force"),
    )
    return stacked(words, *rows, charts((left, right), 300, over, now), answers=answers)


def _step_words(step, run, told):
    length = told.length
    large = f"{length(step.large_length)} of {step.large.label}, then " if step.large_length > 0 else ""
    words = (
        f"{large}{length(step.small_length)} of {step.small.label}: {told.flow(step.nozzle_flow)} leaves the nozzle, "
        f"the hose loses {told.pressure(step.hose_loss)}, and the gauge reads {told.pressure(step.gauge)}. The line "
        f"weighs {told.mass(step.mass_full)} full of water. The jets pull {told.force(step.pull)}; dragging "
        f"{length(run)} of line uses {told.force(step.drag)} of it. Small hose all the way would deliver "
        f"{told.flow(step.flow_at[-1])}."
    )
    if run > step.small_length * (1.0 + 1e-9):
        words += f" {length(run - step.small_length)} of the large hose must go into the pipe too."
    return " ".join([words, *step.cautions])


# --- the jets shut at once ------------------------------------------------------------------------

_TIMES = np.linspace(0.005, 0.5, 67)
_WAVES = (
    ("slow wave: 700 m/s", "orange", "dashed"),
    ("likely: 1000 m/s", "blue", "solid"),
    ("fast wave: 1300 m/s", "purple", "dashed"),
)


@lru_cache(maxsize=64)
def _point(name, throttle):
    return operating_point(rig_of(name), throttle)


@lru_cache(maxsize=64)
def _peaks(name, throttle):
    return np.array([surge(_point(name, throttle), closing_time=time).peaks[:, -1] for time in _TIMES])


@console()
def surge_console(values, system):
    """A Console: a yard rig, its throttle, and how soon its jets shut; the surge in its last hose."""
    point = _point(values["rig"], values["throttle"])
    found, curves = surge(point, closing_time=values["closing_time"]), _peaks(values["rig"], values["throttle"])
    rated = point.rig.hoses[-1].working_pressure
    most = max(float(_peaks(values["rig"], 1.0).max()), rated or 0.0)
    series = [Series(name, _TIMES, curves[:, at], *look) for at, (name, *look) in enumerate(_WAVES)]
    low, likely, high = (float(each) for each in found.peaks[:, -1])
    time, told = values["closing_time"], Told(system)

    def drawn(width):
        top = 34 if width > NARROW else 70  # for three names above one another
        across = Axis("jets plug within", "time", 0.5, whole=False)
        up = Axis("pressure in the last hose", "pressure", 1.05 * most)
        panel = axes(system, across, up, 66, top, width - 110, 222)
        pieces = [legend(panel, series)]
        if rated is not None:
            pieces.append(level(panel, rated, "rated for", anchor="end"))
        pieces.append(level(panel, point.gauge, "gauge before"))
        now = [curve(panel, each) for each in series]
        now.append(dot(panel, time, likely, panel.told(likely), anchor="end" if time > 0.3 else "start"))
        return chart(panel, width, top + 276, pieces, now)

    ends = dict.fromkeys(told.pressure(each) for each in (low, high))
    span = " to ".join(ends)  # a slow stop is the same for every wave
    words = (
        f"{point.rig.name}, gauge {told.pressure(point.gauge)}: if the jets plug within {told.time(time)}, the last "
        f"hose sees {span}"
    )
    words += "." if rated is None else f"; it is rated for {told.pressure(rated)}. "
    if found.over[-1]:
        words += f"That is over its rating, which surges must not exceed. {STOP_SLOWLY}"
    answers = [Answer("pressure when they stop", likely, "pressure")]
    return stacked(words.strip(), with_narrow(drawn, _WIDTH), answers=answers)
