"""The bench's comparison: what is on the bench beside set-ups that were kept, in a table and over the throttle; keeping
them, putting them back, taking them out."""

from typing import NamedTuple

import ipywidgets as widgets

from jetlib.rig.hoses.surge import highest_pressure
from jetlib.rig.parts.machine import Rig
from jetlib.rig.point.operating_point import OperatingPoint, throttle_sweep
from jetlib.screen.bench.entries.figures import FIGURES, MORE, brief, change_words
from jetlib.screen.bench.entries.state import THROTTLES, BenchState
from jetlib.screen.bench.pages import Page
from jetlib.screen.bench.pages.jets import own_nozzles
from jetlib.screen.bench.pages.job import plan_of, still_to_write, verdict_of
from jetlib.screen.bench.pages.map import begins
from jetlib.screen.controls.fields import ChoiceField, TextField
from jetlib.screen.controls.pieces import button, named, row
from jetlib.screen.drawing.chart import THROTTLE, Axis, Series, axes, charts, curve, dot, legend, upright
from jetlib.screen.drawing.picture import stacked
from jetlib.screen.drawing.table import Table

_LOOKS = (("blue", "solid", "circle"), ("orange", "dashed", "square"), ("green", "dash-dot", "circle"),
          ("purple", "dotted", "square"))  # fmt: skip
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
        plan, there = plan_of(state, rig, stand_in=True), state.shown.rig if rig is None else rig
        found.append(Column(name, there, state.point_of(there), plan, verdict_of(state, rig)))
    return found


def table_of(state):
    """A Table of every figure of each set-up; behind the others stands how they differ from the first."""
    columns, left, system = columns_of(state), still_to_write(state), state.system
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
    table = table_of(state)
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


_CARDS = (("Print the comparison", "", lambda state: (table_of(state), state.shown)),)
PAGE = Page((), draw, below=below, cards=_CARDS)


# --- what is compared with --------------------------------------------------------------------------

_OTHER, _NONE = ("a rig, a nozzle", ""), ("nothing yet", "")
_LOOK = {"width": "260px", "label_width": "104px"}


class Kept:
    """The entries of the comparison. shelf: knows the rigs; act(action): does it on the BenchState and says so."""

    def __init__(self, state, shelf, act):
        self.state, self.shelf, self.act = state, shelf, act
        self.name = TextField("Keep as", lambda _: None, hint="before", **_LOOK)
        self.other = ChoiceField("Compare with", [_OTHER], lambda key: key and act(lambda _: self._add(key)), **_LOOK)
        self.kept = ChoiceField("Kept", [_NONE], lambda _: None, **_LOOK)
        buttons = [
            button("Keep what is on the bench", lambda: act(self._keep)),
            button("Put it on the bench", lambda: self._with_one(BenchState.put_back),
                   hint="The setup chosen under Kept"),
            button("Take it out", lambda: self._with_one(BenchState.drop), hint="Out of the comparison"),
        ]  # fmt: skip
        fields = named(widgets.VBox([self.name.box, self.other.box, self.kept.box]), "jl-fields")
        self.box = widgets.VBox([fields, row(*buttons)])

    def show(self):
        """List what can be compared with, and what is kept, with the same one chosen."""
        nozzles = [(f"nozzle: {label}", f"nozzle/{label}") for label, _ in self.state.value("nozzles")]
        self.other.relist([_OTHER, *self.shelf.rigs(), *nozzles])
        self.other.show("")
        kept = [(name, str(at)) for at, (name, _) in enumerate(self.state.kept)]
        self.kept.relist(kept or [_NONE])

    def _keep(self, state):
        return f"{state.keep(self.name.entry.value)} is kept: change what is on the bench, and compare."

    def _add(self, key):
        kind, _, label = key.partition("/")
        if kind == "nozzle":
            name, rig = label[:30], dict(own_nozzles(self.state))[label]
        else:
            name, rig = "", self.shelf.rig(key)
        return f"{self.state.keep(name, rig)} stands beside what is on the bench."

    def _with_one(self, action):
        chosen = self.kept.entry.value
        self.act(lambda state: action(state, int(chosen)) if chosen else "Nothing is kept yet.")
