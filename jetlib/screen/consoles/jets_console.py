"""Lesson 02's consoles: gauge against flow for a set of jets, and the same area in different counts."""

import numpy as np

from jetlib import tables
from jetlib.rig.point.alone import hole_area, hole_bore, jet_set_pressure
from jetlib.screen.controls.declared import console
from jetlib.screen.drawing.chart import Axis, Series, axes, chart, curve, dot, legend, text
from jetlib.screen.drawing.parts import end_view, legend_of_pressure, nozzle
from jetlib.screen.drawing.picture import Answer, stacked
from jetlib.units import Told, si

_TILE, _HEIGHT = 380, 310
_TOP = si("4000 psi", "pressure")  # of the charts: they stay as they are, so that twice looks like twice
_REAR = np.radians(30.0)  # the angle at which the holes are drawn
_FLOWS = np.linspace(0.0, si("20 gpm", "flow"), 120)


def _edges(_):
    edges = [(f"{row.kind}, {row.typical:.2f}", float(row.typical)) for row in tables.discharge_coefficients()]
    return {"edge": {"options": edges, "start": edges[1][1]}}


def _drilled(rig):
    def other(step):
        def change(values):
            low, high = (si(end, "jet_bore") for end in ("#80", "#40"))
            return {"bore": float(np.clip(tables.next_drill(values["bore"], step).diameter, low, high))}

        return {"change": change}

    def more(step):
        return {"change": lambda values: {"count": int(np.clip(values["count"] + step, 1, 12))}}

    return {**_edges(rig), "add": more(1), "remove": more(-1), "open": other(1), "close": other(-1)}


@console(_drilled)
def jets_console(values, system):
    """A Console: flow, number of holes, drill size, edge; pressure against flow, beside a set kept to compare with.

    flow: m3/s, or text with its unit. bore: a drill.
    """
    flow, told = values["flow"], Told(system)
    jets, other = ({key: held[key] for key in ("count", "bore", "edge")} for held in (values, values["kept"] or values))
    pressure = float(jet_set_pressure(flow, **jets))
    words = _jet_words(jets, flow, pressure, told)
    series = [Series("this set", _FLOWS, jet_set_pressure(_FLOWS, **jets))]
    if other != jets:
        series.append(Series("kept set", _FLOWS, jet_set_pressure(_FLOWS, **other), "orange", "dashed"))
        words += (
            f" The kept set, {other['count']} holes of {told.jet_bore(other['bore'])}, would need "
            f"{told.pressure(jet_set_pressure(flow, **other))}."
        )
    panel = _panel(Axis("flow", "flow", _FLOWS[-1]), system)
    first, *others = (curve(panel, each, inside=True) for each in series)
    side = "start" if panel.x_share(flow) < 0.4 else "end"
    now = [first, dot(panel, flow, pressure, told.pressure(pressure), anchor=side)]
    drawn = chart(panel, _TILE, _HEIGHT, [*others, legend(panel, series)], now)
    tiles = [(_nozzle(jets, pressure, told), _TILE, _HEIGHT), drawn]
    answers = Answer("nozzle pressure", pressure, "pressure"), Answer("area of the holes", _area(jets), "area")
    return stacked(words, tiles, legend_of_pressure(_TOP, system)[:1], answers=answers)


def _area(jets):
    return jets["count"] * hole_area(jets["bore"])


def _nozzle(jets, pressure, told):
    """The nozzle from the side with its jets, and from behind with its holes to one scale."""
    group = [(jets["count"], _REAR, jets["bore"])]
    return (
        text(14, 20, "from the side", weight="bold")
        + nozzle(236, 92, 60, group, pressure, _TOP)
        + text(14, 196, "from behind, to scale", weight="bold")
        + end_view(120, 256, 50, group)
        + text(196, 238, f"{jets['count']} x {told.jet_bore(jets['bore'])}")
        + text(196, 258, f"about a {tables.next_drill(jets['bore'], 0).label} drill")
    )


def _panel(across, system):
    """The axes of both consoles: nozzle pressure as far as the pumps of this course go."""
    return axes(system, across, Axis("nozzle pressure", "pressure", _TOP), 66, 34, 296, 220)


def _jet_words(jets, flow, pressure, told):
    holes = "hole" if jets["count"] == 1 else "holes"
    return (
        f"{jets['count']} {holes} of {told.jet_bore(jets['bore'])} (nearest drill "
        f"{tables.next_drill(jets['bore'], 0).label}), total area {told.area(_area(jets))}: "
        f"{told.flow(flow)} needs {told.pressure(pressure)} at the nozzle."
    )


@console(_edges)
def same_area_console(values, system):
    """A Console: one area shared among 1 to 8 holes: the bore each count needs, and the one pressure they all give."""
    counts, told = np.arange(1, 9), Told(system)
    bores = hole_bore(values["area"] / counts)
    if values["drilled"]:
        bores = np.array([tables.next_drill(bore, 0).diameter for bore in bores])
    pressures = jet_set_pressure(values["flow"], count=counts, bore=bores, edge=values["edge"])
    panel = _panel(Axis("number of holes", "", 9, whole=False), system)
    now = [dot(panel, *at) for at in zip(counts, pressures, strict=True)]
    spread = (
        f"all give the same gauge reading, {told.pressure(pressures[0])}"
        if pressures.max() < 1.001 * pressures.min()
        else f"gauges from {told.pressure(pressures.min())} to {told.pressure(pressures.max())}"
    )
    words = (
        f"{told.area(values['area'])} as one hole of {told.jet_bore(bores[0])}, as 4 of {told.jet_bore(bores[3])} or "
        f"as 8 of {told.jet_bore(bores[7])}: at {told.flow(values['flow'])} {spread}."
    )
    tiles = [(_holes(counts, bores, told), _TILE, _HEIGHT), chart(panel, _TILE, _HEIGHT, [], now)]
    return stacked(words, tiles, answers=[Answer("nozzle pressure, 8 holes", float(pressures[-1]), "pressure")])


def _holes(counts, bores, told):
    """One hole of each set, all to one scale."""
    parts = [text(14, 20, "one hole of each set, to scale", weight="bold")]
    for number, (count, bore) in enumerate(zip(counts, bores, strict=True)):
        x, y = 54 + 92 * (number % 4), 84 + 130 * (number // 4)
        radius = 12000.0 * float(bore) / 2.0
        parts.append(f'<circle cx="{x}" cy="{y}" r="{radius:.1f}" fill="currentColor"/>')
        parts.append(text(x, y + 44, f"1 of {count}", anchor="middle"))
        parts.append(text(x, y + 61, told.jet_bore(bore), anchor="middle", size=11))
    return "".join(parts)
