"""Lesson 07's consoles: every hose of the table as the last stretch of a line, and where to step down in size."""

from functools import lru_cache

from jetlib import tables
from jetlib.rig.hoses.choice import hose_choices
from jetlib.rig.hoses.fit import USUAL_RESERVE
from jetlib.rig.hoses.pipe_run import PipeRun
from jetlib.rig.hoses.step_down import step_downs
from jetlib.rig.point.operating_point import operating_point
from jetlib.screen.controls.console import Amount, Choice, Console, Count
from jetlib.screen.controls.rig_choice import rig_of, whole_rigs
from jetlib.screen.drawing.chart import (
    Panel,
    Series,
    chart,
    charts,
    curve,
    dot,
    legend,
    level,
    nice_ceiling,
    text,
)
from jetlib.screen.drawing.grid import grid, notice
from jetlib.screen.drawing.picture import Answer, stacked, with_narrow
from jetlib.units import both, from_si, si, unit_label
from jetlib.units import text as words_of

_WIDTH = 760
_LONGEST = si("500 ft", "length")  # line that can be stepped down
_KINDS = tuple(dict.fromkeys((row.standard, row.edition) for row in tables.hoses()))
_PIPES = ("2 in", "3 in", "4 in", "6 in", "8 in")
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


def last_hose_console(
    rig: str = "yard_trailer",
    *,
    system: str | None = None,
    title: str = "Every hose of the table as the last one",
    **start: object,
) -> Console:
    """A Console: length of the last hose, pipe, bends, reserve, standard; what each hose delivers, takes and weighs.

    A rig of one hose gets it added before the nozzle, one of more has its last one changed. All of it lies in the pipe.
    start: any of length, kind (standard and edition), pipe (such as "4 in"), bends, reserve, as the controls take them.
    """
    pipes = tuple((f"{bore} ({words_of(si(bore, 'pipe_bore'), 'pipe_bore', 'metric')})", bore) for bore in _PIPES)
    controls = [
        Choice("rig", "Rig", whole_rigs(), rig),
        Amount("length", "Length of the last hose", "length", "10 ft", "200 ft", 38, "30 ft"),
        Choice("kind", "Hose standard", tuple((f"{k} ({e})", (k, e)) for k, e in _KINDS), ("EN 853 2SN", "2015")),
        Choice("pipe", "Bore of the pipe", pipes, "3 in"),
        Count("bends", "Tight bends of 90°", 0, 4, 1),
        Amount("reserve", "Pressure reserve", "fraction", 0.0, 0.5, 50, USUAL_RESERVE),
    ]
    note = "What is printed on the hose, and the machine's manual, come before this table. Full throttle."
    return Console(title, controls, _draw_last, system=system, note=note, start=start)


def step_down_console(
    rig: str = "yard_trailer", *, system: str | None = None, title: str = "Where to step down", **start: object
) -> Console:
    """A Console: a line of large hose, then small hose; flow and pull left against the length of the small one.

    start: any of large, small (labels of HoseSizes), whole, small_length, run, as the controls take them.
    """
    loaded = rig_of(rig)
    large = {size.label: size for size in _large_sizes(rig)}

    def draw(values, system):
        return _draw_step(rig, *(values[name] for name in ("large", "small", "whole", "small_length", "run")), system)

    controls = [
        Choice(
            "large", "Large hose", tuple((_size_words(row), label) for label, row in large.items()), next(iter(large))
        ),
        Choice("small", "Small hose", tuple((_size_words(row), row.label) for row in _SMALL), _SMALL[1].label),
        Amount("whole", "Whole line", "length", "200 ft", _LONGEST, 30, "250 ft"),
        Amount("small_length", "Length of small hose", "length", "10 ft", "200 ft", 38, "60 ft"),
        Amount("run", "Line in the pipe", "length", "10 ft", "200 ft", 38, "60 ft"),
    ]
    return Console(
        title, controls, draw, system=system, note=f"{loaded.name} at full throttle, a level pipe.", start=start
    )


def _size_words(row):
    return f"{row.label.split(' (')[0]}, {both(row.bore, 'hose_bore')}"


# --- every hose of the table ------------------------------------------------------------------------


@lru_cache(maxsize=32)
def _choices(name, length, pipe, bends, reserve):
    rig = rig_of(name)
    place = len(rig.hoses) if len(rig.hoses) > 1 else "end"
    run = PipeRun(bore=pipe, bends=bends, run=length)
    return hose_choices(rig, place, length=length, pipe=run, reserve=reserve)


def _draw_last(values, system):
    choices = _choices(*(values[name] for name in ("rig", "length", "pipe", "bends", "reserve")))
    kind = values["kind"]
    own = sorted(
        (each for each in choices if (each.size.standard, each.size.edition) == kind), key=lambda each: each.size.bore
    )
    words = (
        f"With a last hose {words_of(values['length'], 'length', system)} long, {len(choices.usable)} of "
        f"{len(choices)} hoses can be used. A hose needs a rating that covers setting, rise, reserve and surge. "
        f"{kind[0]} ({kind[1]}): {'; '.join(_own_words(each, system) for each in own)}."
    )
    words = " ".join([words, *choices.cautions])
    heads = (
        "size", ">bore", ">nozzle", ">loses", ">weight full", ">bend radius", ">needs", ">rated for", ">net pull",
        "can be used"
    )  # fmt: skip
    lines = [_own_row(each, system) for each in own]
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


def _own_words(each, system):
    verdict = "" if against(each) == "yes" else f", {against(each)}"
    return (
        f"-{each.size.dash} delivers {words_of(each.nozzle_flow, 'flow', system)}, loses "
        f"{words_of(each.hose_loss, 'pressure', system)}, weighs {words_of(each.mass_full, 'mass', system)} full, "
        f"needs {words_of(each.pressure_needed, 'pressure', system)} and is rated for "
        f"{words_of(each.size.working_pressure, 'pressure', system)}{verdict}"
    )


def _own_row(each, system):
    return (
        f"-{each.size.dash}",
        words_of(each.size.bore, "hose_bore", system),
        words_of(each.nozzle_flow, "flow", system),
        words_of(each.hose_loss, "pressure", system),
        words_of(each.mass_full, "mass", system),
        words_of(each.size.bend_radius, "coil_diameter", system),
        words_of(each.pressure_needed, "pressure", system),
        words_of(each.size.working_pressure, "pressure", system),
        words_of(each.pull_left, "force", system, 2),
        against(each),
    )


def _trade_chart(choices, own, length, width, system):
    """Flow out of the nozzle against weight, a mark for every hose of the table: (content, width, height)."""
    weight, flow = (unit_label(kind, system) for kind in ("mass_per_length", "flow"))
    most = from_si(choices.present.pump_flow, "flow", system)
    heavy = {each.label: from_si(each.mass_full / length, "mass_per_length", system) for each in choices}
    x_label, y_label = f"weight full of water, {weight}", f"out of the nozzle, {flow}"
    ends = (0.0, nice_ceiling(1.02 * max(heavy.values())))
    panel = Panel(x_label, y_label, ends, (0.0, nice_ceiling(1.1 * most)), 66, 54, width - 110, 180)
    marks, names = [], []
    # This standard on top of the others, its sizes named below and above by turns: neighbors may weigh much the same.
    for each in sorted(choices, key=lambda each: (each in own, heavy[each.label])):
        x, y = heavy[each.label], from_si(each.nozzle_flow, "flow", system)
        colour = "blue" if each in own else "grey"
        marks.append(_ring(panel, x, y, colour) if each.usable else _cross(panel, x, y, colour))
        if each in own:
            at = float(panel.x(x)), float(panel.y(y)) + (20, -12)[len(names) % 2]
            names.append(text(*at, f"-{each.size.dash}", colour="blue", anchor="middle", weight="bold", halo=True))
    keys = (("this standard, by size", "blue"), ("all other hoses", "grey"))
    pieces = [text(70 + 180 * at, 20, words, colour=colour) for at, (words, colour) in enumerate(keys)]
    pieces.append(text(70, 40, "○ can be used    × must not be used"))
    return chart([panel], width, 286, pieces, marks + names), width, 286


def _ring(panel, x, y, colour):
    at = f'cx="{float(panel.x(x)):.1f}" cy="{float(panel.y(y)):.1f}"'
    return f'<circle class="jl-line-{colour}" {at} r="5" fill="none" stroke-width="2"/>'


def _cross(panel, x, y, colour):
    px, py = float(panel.x(x)), float(panel.y(y))
    way = f"M{px - 4:.1f} {py - 4:.1f}l8 8M{px - 4:.1f} {py + 4:.1f}l8 -8"
    return f'<path class="jl-line-{colour}" d="{way}" fill="none" stroke-width="2"/>'


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
        small_length=small_length,
        large=[sizes[large]],
        small=[sizes[small]],
        pipe=PipeRun(run=run),
        rank_by="nozzle_flow",  # by flow the shortest is the best: the place that was asked for
        places=places,
    )
    return found[0]


def _draw_step(name, large, small, whole, small_length, run, system):
    here = _step(name, large, small, whole, small_length, run, 2)
    along = _step(name, large, small, whole, 0.01 * whole, run, 61)
    words = _step_words(here, run, system)
    xs = from_si(along.small_lengths, "length", system)
    x = from_si(here.small_length, "length", system)
    axis = f"small hose in the line, {unit_label('length', system)}"
    flows, pulls = from_si(along.flow_at, "flow", system), from_si(along.pull_left_at, "force", system)
    rig, ends = rig_of(name), (0.0, nice_ceiling(from_si(_LONGEST, "length", system)))
    most = nice_ceiling(from_si(1.02 * rig.pump.rated_flow, "flow", system))
    force = nice_ceiling(1.2 * from_si(operating_point(rig).reaction, "force", system))
    left, right = panels = (
        Panel(axis, f"out of the nozzle, {unit_label('flow', system)}", ends, (0, most), 62, 34, 290, 218),
        Panel(axis, f"net pull, {unit_label('force', system)}", ends, (-force, force), 66, 34, 286, 218),
    )
    series = Series("flow", xs, flows), Series("net pull at the nozzle", xs, pulls, "green", "dashed")
    side = "end" if x > 0.6 * ends[1] else "start"
    labels = (
        _read_off(left, x, here.nozzle_flow, "flow", system, anchor=side),
        _read_off(right, x, here.pull_left, "force", system, colour="green", shape="square", anchor=side),
    )
    over = [legend(left, series[:1])], [legend(right, series[1:]), level(right, 0.0)]
    now = [[curve(panel, each), label] for panel, each, label in zip(panels, series, labels, strict=True)]
    rows = [notice(caution, _WIDTH) for caution in _loud(here)]
    answers = (
        Answer("out of the nozzle", here.nozzle_flow, "flow"),
        Answer("net pull at the nozzle", here.pull_left, "force"),
    )
    return stacked(words, *rows, charts(panels, 300, over, now), answers=answers)


def _read_off(panel, x, value, kind, system, **marks):
    return dot(panel, x, from_si(value, kind, system), words_of(value, kind, system), **marks)


def _loud(step):
    return [f"DO NOT USE: {reason.split(': ', 1)[1].split(':')[0].lower()}." for reason in step.reasons]


def _step_words(step, run, system):
    def length(value):
        return words_of(value, "length", system)

    large = f"{length(step.large_length)} of {step.large.label}, then " if step.large_length > 0 else ""
    words = (
        f"{large}{length(step.small_length)} of {step.small.label}: {words_of(step.nozzle_flow, 'flow', system)} "
        f"leaves the nozzle, the hose loses {words_of(step.hose_loss, 'pressure', system)}, and the gauge reads "
        f"{words_of(step.gauge, 'pressure', system)}. The line weighs {words_of(step.mass_full, 'mass', system)} full "
        f"of water. The jets pull {words_of(step.pull, 'force', system)}; dragging {length(run)} of line uses "
        f"{words_of(step.drag, 'force', system)} of it. Small hose all the way would deliver "
        f"{words_of(float(step.flow_at[-1]), 'flow', system)}."
    )
    if run > step.small_length * (1.0 + 1e-9):
        words += f" {length(run - step.small_length)} of the large hose must go into the pipe too."
    return " ".join([words, *step.cautions])
