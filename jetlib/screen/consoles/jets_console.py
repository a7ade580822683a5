"""Lesson 02's consoles: gauge against flow for a set of jets, and the same area in different counts."""

import numpy as np

from jetlib import tables
from jetlib.rig.point.alone import hole_area, hole_bore, jet_set_pressure
from jetlib.screen.controls.console import Amount, Choice, Console, Count, Push, Switch
from jetlib.screen.drawing.chart import Panel, Series, chart, curve, dot, legend, nice_ceiling, text
from jetlib.screen.drawing.picture import Picture
from jetlib.units import from_si, si, unit_label
from jetlib.units import text as words_of
from jetlib.units.given import Flow, Given

_WIDTH, _HEIGHT = 760, 330
_HOLE = "jet_bore"


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
    flows = np.linspace(0.0, 20 * 6.30902e-5, 120)
    jets = {key: values[key] for key in ("count", "bore", "edge")}
    pressure = jet_set_pressure(flow, **jets)
    sets = [("this set", jets, "blue", "solid")]
    if kept and any(kept[key] != jets[key] for key in jets):
        sets.append(("kept set", {key: kept[key] for key in jets}, "orange", "dashed"))
    shown = from_si(pressure, "pressure", system)
    top = nice_ceiling(max(1.15 * shown, from_si(si("500 psi", "pressure"), "pressure", system)))
    most = from_si(flows[-1], "flow", system)
    panel = Panel(
        f"flow, {unit_label('flow', system)}",
        f"gauge, {unit_label('pressure', system)}",
        (0, nice_ceiling(most)),
        (0, top),
        66,
        34,
        650,
        240,
    )
    pieces, series = [], []
    for name, each, colour, dash in sets:
        item = Series(name, from_si(flows, "flow", system), None, colour, dash)
        ys = from_si(jet_set_pressure(flows, **each), "pressure", system)
        inside = ys <= top
        pieces.append(curve(panel, Series(name, item.x[inside], ys[inside], colour, dash)))
        series.append(item)
    pieces.append(
        dot(panel, from_si(flow, "flow", system), shown, words_of(pressure, "pressure", system), anchor="end")
    )
    pieces.append(legend(panel, series))
    words = _jet_words(jets, flow, pressure, system)
    if len(sets) > 1:
        other = jet_set_pressure(flow, **sets[1][1])
        words += (
            f" The kept set, {sets[1][1]['count']} holes of {words_of(sets[1][1]['bore'], _HOLE, system)}, "
            f"would need {words_of(other, 'pressure', system)}."
        )
    return Picture(chart([panel], _WIDTH, _HEIGHT, pieces), _WIDTH, _HEIGHT, words)


def _jet_words(jets, flow, pressure, system):
    area = jets["count"] * hole_area(jets["bore"])
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
    shown = from_si(pressures, "pressure", system)
    panel = Panel(
        "number of holes",
        f"gauge, {unit_label('pressure', system)}",
        (0, 9),
        (0, nice_ceiling(1.2 * shown.max())),
        66,
        34,
        650,
        250,
    )
    pieces = []
    for count, bore, pressure in zip(counts, bores, shown, strict=True):
        x, y = float(panel.x(count)), float(panel.y(pressure))
        scale = 26.0 * np.sqrt(bore / bores[0]) ** 2
        pieces.append(dot(panel, count, pressure))
        pieces.append(
            f'<circle cx="{x:.1f}" cy="{panel.top + panel.height - 40}" r="{scale / 2:.1f}" '
            'fill="none" stroke="currentColor" stroke-width="2"/>'
        )
        pieces.append(text(x, y - 12, words_of(bore, _HOLE, system), anchor="middle", size=11))
    spread = (
        f"all the same gauge, {words_of(pressures[0], 'pressure', system)}"
        if pressures.max() < 1.001 * pressures.min()
        else f"gauges from {words_of(pressures.min(), 'pressure', system)} "
        f"to {words_of(pressures.max(), 'pressure', system)}"
    )
    words = (
        f"{words_of(values['area'], 'area', system)} as one hole of {words_of(bores[0], _HOLE, system)}, as 4 of "
        f"{words_of(bores[3], _HOLE, system)} or as 8 of {words_of(bores[7], _HOLE, system)}: at "
        f"{words_of(values['flow'], 'flow', system)} {spread}."
    )
    return Picture(chart([panel], _WIDTH, 340, pieces), _WIDTH, 340, words)
