"""The bench's comparison: what is on the bench beside set-ups that were kept, in a table and over the throttle."""

from typing import NamedTuple

from jetlib.rig.hoses.surge import highest_pressure
from jetlib.rig.parts.machine import Rig
from jetlib.rig.point.operating_point import OperatingPoint, throttle_sweep
from jetlib.screen.bench.entries.figures import FIGURES, MORE, brief, change_words
from jetlib.screen.bench.entries.state import THROTTLES
from jetlib.screen.bench.pages.job import plan_of, still_to_write
from jetlib.screen.bench.pages.limits import verdict_of
from jetlib.screen.bench.pages.map import begins
from jetlib.screen.drawing.chart import THROTTLE, Axis, Series, axes, charts, curve, dot, legend, upright
from jetlib.screen.drawing.picture import stacked
from jetlib.screen.drawing.table import Table

_LOOKS = (("blue", "solid", "circle"), ("orange", "dashed", "square"), ("green", "dash-dot", "circle"),
          ("purple", "dotted", "square"))  # fmt: skip
ENTRIES = ()
_SAID = {"no-go": "NO GO", "caution": "when settled", "go": "nothing against it"}
#: Plan figures: label, kind, of(plan), and what must be written for them.
_OF_JOB = (
    ("reach", "length", lambda plan: plan.reach.distance, ("Pipe bore", "Run", "Fall")),
    ("tank lasts", "duration", lambda plan: plan.supply.tank_time, ("Tank",)),
    ("jets plugged, the line can come to", "pressure", lambda plan: highest_pressure(plan.rig), ()),
)


class Column(NamedTuple):
    """One set-up: its name, the Rig, its OperatingPoint at the throttle, its Plan and verdict."""

    name: str
    rig: Rig
    point: OperatingPoint
    plan: object = None
    verdict: str = ""


def columns_of(state):
    """The Columns of a BenchState, a list: what is on the bench first."""
    found = []
    for name, rig in [("now on the bench", None), *state.kept]:
        plan, there = plan_of(state, rig, stand_in=True), state.shown_rig if rig is None else rig
        found.append(Column(name, there, state.point_of(there), plan, verdict_of(state, rig)))
    return found


def table_of(state, columns=None):
    """A Table of every figure of each set-up; behind the others stands how they differ from the first.

    columns: those of `columns_of`, where they are known.
    """
    columns, left, system = columns or columns_of(state), still_to_write(state), state.system
    rows = [_row(each.label, each.kind, [each.of(column.point) for column in columns], system)
            for each in (*FIGURES, *MORE)]  # fmt: skip
    for label, kind, of, needed in _OF_JOB:
        if not set(needed) & set(left):
            rows.append(_row(label, kind, [of(column.plan) for column in columns], system))
    rows.append(("bypass begins", *(begins(column.rig) for column in columns)))
    rows.append(("verdict", *(_SAID[column.verdict] for column in columns)))
    return Table(("", *(column.name for column in columns)), tuple(rows))


def _row(label, kind, values, system):
    first, *others = map(float, values)
    shown = [f"{brief(value, kind, system)}: {change_words(first, value, kind, system)}" for value in others]
    return label, brief(first, kind, system), *shown


def below(state):
    """The table, HTML."""
    return table_of(state)._repr_html_()


def draw(state):
    """The Picture of the comparison of a BenchState."""
    columns = columns_of(state)
    at = f"At {100 * state.value('throttle'):.0f} % throttle"
    if len(columns) == 1:
        words = f"{at}: nothing is kept to compare with. Keep what is on the bench, change it, and look here again."
        return stacked(words, curves(columns, state.system))
    table = table_of(state, columns)
    told = (
        f"{name}: " + ", ".join(f"{row[0]} {row[number]}" for row in table.rows)
        for number, name in enumerate(table.heads[1:], start=1)
    )
    return stacked(f"{at}, against what is now on the bench. {'. '.join(told)}.", curves(columns, state.system))


def curves(columns, system):
    """(content, width, height) of gauge and nozzle flow of some set-ups (`name`, `rig`, `point`) over the throttle."""
    sweeps = [throttle_sweep(column.rig, THROTTLES) for column in columns]
    panels, pieces = [], []
    for at, each in enumerate(FIGURES[:2]):
        top = 1.08 * float(max(each.of(sweep).max() for sweep in sweeps))
        panel = axes(system, THROTTLE, Axis(each.label, each.kind, top), 66, 52, 296, 200)
        series = [
            Series(column.name.removesuffix(" on the bench")[:14], THROTTLES, each.of(sweep), *look[:2])
            for column, sweep, look in zip(columns, sweeps, _LOOKS, strict=False)
        ]
        drawn = [legend(panel, series if at == 0 else ()), *(curve(panel, every) for every in series)]
        drawn.append(upright(panel, columns[0].point.throttle, dash="dotted"))
        for column, (colour, _, shape) in zip(columns, _LOOKS, strict=False):
            drawn.append(dot(panel, column.point.throttle, each.of(column.point), colour=colour, shape=shape))
        panels.append(panel)
        pieces.append(drawn)
    return charts(panels, 302, pieces, ((), ()))
