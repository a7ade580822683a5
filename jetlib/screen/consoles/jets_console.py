"""Lesson 02's consoles: gauge against flow for a set of jets, and the same area in different counts."""

import numpy as np

from jetlib import tables
from jetlib.rig.point.alone import hole_area, hole_bore, jet_set_pressure
from jetlib.screen.controls.console import Amount, Choice, Console, Count, Push, Switch
from jetlib.screen.drawing.chart import Panel, Series, chart, curve, dot, legend, nice_ceiling, text
from jetlib.screen.drawing.line import legend_of_pressure
from jetlib.screen.drawing.nozzle import end_view, nozzle
from jetlib.screen.drawing.picture import Answer, stacked
from jetlib.units import from_si, si, unit_label
from jetlib.units import text as words_of
from jetlib.units.given import Flow, Given

_TILE, _HEIGHT = 380, 310
_HOLE = "jet_bore"
_TOP = si("4000 psi", "pressure")  # of the charts: they stay as they are, so that twice looks like twice
_REAR = np.radians(30.0)  # the angle at which the holes are drawn
_FLOWS = np.linspace(0.0, si("20 gpm", "flow"), 120)


def edge_options():
    """(words, discharge coefficient) of each kind of edge in data/, a tuple."""
    return tuple((f"{row.kind}, {row.typical:.2f}", float(row.typical)) for row in tables.discharge_coefficients())


def jets_console(
    *,
    count: int = 4,
    bore: str = "#60",
    flow: Flow = "8 gpm",
    system: str | None = None,
    title: str = "A set of jets and its gauge",
) -> Console:
    """A Console: flow, number of holes, drill size, edge; pressure against flow, beside a set kept to compare with.

    flow: m3/s, or text with its unit. bore: a drill.
    """
    edges = edge_options()
    kept = {}

    def keep(values):
        kept.update(values)
        return {}

    def larger(step):
        def change(values):
            low, high = si("#80", _HOLE), si("#40", _HOLE)
            return {"bore": float(np.clip(tables.next_drill(values["bore"], step).diameter, low, high))}

        return change

    def more(step):
        return lambda values: {"count": int(np.clip(values["count"] + step, 1, 12))}

    controls = [
        Amount("flow", "Flow", "flow", "0.5 gpm", "20 gpm", 195, flow),
        Count("count", "Holes", 1, 12, count),
        Amount("bore", "Hole bore", _HOLE, "#80", "#40", 169, bore),
        Choice("edge", "Edge of the holes", edges, edges[1][1]),
        Push("add", "Add a hole", more(1)),
        Push("remove", "Remove a hole", more(-1)),
        Push("open", "One drill size larger", larger(1)),
        Push("close", "One drill size smaller", larger(-1)),
        Push("keep", "Keep this set to compare", keep),
    ]
    console = Console(title, controls, lambda values, system: _draw_jets(values, kept, system), system=system)
    return console


def nearest_drill_words(bore):
    """The nearest number drill to `bore` (m), in words, such as "#60"."""
    return tables.next_drill(bore, 0).label


def _draw_jets(values, kept, system):
    flow = values["flow"]
    jets = {key: values[key] for key in ("count", "bore", "edge")}
    pressure = float(jet_set_pressure(flow, **jets))
    sets = [("this set", jets, "blue", "solid")]
    if kept and any(kept[key] != jets[key] for key in jets):
        sets.append(("kept set", {key: kept[key] for key in jets}, "orange", "dashed"))
    panel = _panel("flow", unit_label("flow", system), (0, nice_ceiling(from_si(_FLOWS[-1], "flow", system))), system)
    curves, series = [], []
    for name, each, colour, dash in sets:
        xs, ys = from_si(_FLOWS, "flow", system), from_si(jet_set_pressure(_FLOWS, **each), "pressure", system)
        inside = ys <= panel.y_range[1]
        series.append(Series(name, xs[inside], ys[inside], colour, dash))
        curves.append(curve(panel, series[-1]))
    x, y = from_si(flow, "flow", system), from_si(pressure, "pressure", system)
    side = "start" if x < 0.4 * panel.x_range[1] else "end"
    now = [curves[0], dot(panel, x, y, words_of(pressure, "pressure", system), anchor=side)]
    words = _jet_words(jets, flow, pressure, system)
    if len(sets) > 1:
        other = jet_set_pressure(flow, **sets[1][1])
        words += (
            f" The kept set, {sets[1][1]['count']} holes of {words_of(sets[1][1]['bore'], _HOLE, system)}, "
            f"would need {words_of(other, 'pressure', system)}."
        )
    drawn = chart([panel], _TILE, _HEIGHT, [*curves[1:], legend(panel, series)], now)
    tiles = [(_nozzle(jets, pressure, system), _TILE, _HEIGHT), (drawn, _TILE, _HEIGHT)]
    answers = Answer("nozzle pressure", pressure, "pressure"), Answer("area of the holes", _area(jets), "area")
    return stacked(words, tiles, legend_of_pressure(_TOP, system)[:1], answers=answers)


def _area(jets):
    return jets["count"] * hole_area(jets["bore"])


def _nozzle(jets, pressure, system):
    """The nozzle from the side with its jets, and from behind with its holes to one scale."""
    group = [(jets["count"], _REAR, jets["bore"])]
    return (
        text(14, 20, "from the side", weight="bold")
        + nozzle(236, 92, 60, group, pressure, _TOP)
        + text(14, 196, "from behind, to scale", weight="bold")
        + end_view(120, 256, 50, group)
        + text(196, 238, f"{jets['count']} x {words_of(jets['bore'], _HOLE, system)}")
        + text(196, 258, f"about a {nearest_drill_words(jets['bore'])} drill")
    )


def _panel(words, unit, across, system):
    """The axes of both consoles: nozzle pressure as far as the pumps of this course go."""
    label = f"{words}, {unit}" if unit else words
    top = nice_ceiling(from_si(_TOP, "pressure", system))
    return Panel(label, f"nozzle pressure, {unit_label('pressure', system)}", across, (0, top), 66, 34, 296, 220)


def _jet_words(jets, flow, pressure, system):
    area = _area(jets)
    holes = "hole" if jets["count"] == 1 else "holes"
    return (
        f"{jets['count']} {holes} of {words_of(jets['bore'], _HOLE, system)} (nearest drill "
        f"{nearest_drill_words(jets['bore'])}), total area {words_of(area, 'area', system)}: "
        f"{words_of(flow, 'flow', system)} needs {words_of(pressure, 'pressure', system)} at the nozzle."
    )


def same_area_console(
    *,
    area: Given = "0.0055 in2",
    flow: Flow = "8 gpm",
    system: str | None = None,
    title: str = "The same area in different counts",
) -> Console:
    """A Console: one area shared among 1 to 8 holes: the bore each count needs, and the one pressure they all give."""
    edges = edge_options()
    controls = [
        Amount("area", "Total area", "area", "0.001 in2", "0.02 in2", 190, area),
        Amount("flow", "Flow", "flow", "0.5 gpm", "20 gpm", 195, flow),
        Switch("drilled", "Round each hole to the nearest number drill"),
        Choice("edge", "Edge of the holes", edges, edges[1][1]),
    ]
    return Console(title, controls, _draw_same_area, system=system)


def _draw_same_area(values, system):
    counts = np.arange(1, 9)
    bores = hole_bore(values["area"] / counts)
    if values["drilled"]:
        bores = np.array([tables.next_drill(bore, 0).diameter for bore in bores])
    pressures = jet_set_pressure(values["flow"], count=counts, bore=bores, edge=values["edge"])
    panel = _panel("number of holes", "", (0, 9), system)
    now = [dot(panel, *at) for at in zip(counts, from_si(pressures, "pressure", system), strict=True)]
    spread = (
        f"all give the same gauge reading, {words_of(pressures[0], 'pressure', system)}"
        if pressures.max() < 1.001 * pressures.min()
        else f"gauges from {words_of(pressures.min(), 'pressure', system)} "
        f"to {words_of(pressures.max(), 'pressure', system)}"
    )
    words = (
        f"{words_of(values['area'], 'area', system)} as one hole of {words_of(bores[0], _HOLE, system)}, as 4 of "
        f"{words_of(bores[3], _HOLE, system)} or as 8 of {words_of(bores[7], _HOLE, system)}: at "
        f"{words_of(values['flow'], 'flow', system)} {spread}."
    )
    tiles = [(_holes(counts, bores, system), _TILE, _HEIGHT), (chart([panel], _TILE, _HEIGHT, [], now), _TILE, _HEIGHT)]
    return stacked(words, tiles, answers=[Answer("nozzle pressure, 8 holes", float(pressures[-1]), "pressure")])


def _holes(counts, bores, system):
    """One hole of each set, all to one scale."""
    parts = [text(14, 20, "one hole of each set, to scale", weight="bold")]
    for number, (count, bore) in enumerate(zip(counts, bores, strict=True)):
        x, y = 54 + 92 * (number % 4), 84 + 130 * (number // 4)
        radius = 12000.0 * float(bore) / 2.0
        parts.append(f'<circle cx="{x}" cy="{y}" r="{radius:.1f}" fill="currentColor"/>')
        parts.append(text(x, y + 44, f"1 of {count}", anchor="middle"))
        parts.append(text(x, y + 61, words_of(bore, _HOLE, system), anchor="middle", size=11))
    return "".join(parts)
