"""Lesson 03's console: what a hose takes, by bore, length, reel, and two hoses in a row."""

import numpy as np

from jetlib.rig.point.alone import hose_loss, hose_velocity
from jetlib.screen.controls.console import Amount, Choice, Console, Push, Switch
from jetlib.screen.drawing.chart import HALO, Panel, Series, chart, curve, dot, legend, nice_ceiling, text
from jetlib.screen.drawing.picture import stacked
from jetlib.units import from_si, si, unit_label
from jetlib.units import text as words_of

_WIDTH, _HEIGHT = 760, 320
_INCHES = ("1/8", "3/16", "1/4", "3/8", "1/2", "5/8", "3/4", "1")
_BORES = tuple(
    (f"{inch} in ({words_of(si(f'{inch} in', 'hose_bore'), 'hose_bore', 'metric')})", si(f"{inch} in", "hose_bore"))
    for inch in _INCHES
)
_ROUGHNESS = (
    ("smooth as drawn tube, 0.0015 mm", 0.0015e-3),
    ("usual hose, 0.01 mm", 0.01e-3),
    ("rough or old, 0.03 mm", 0.03e-3),
)
_LEAST_TOP, _MOST_GIVEN = si("20 psi", "pressure"), si("5000 psi", "pressure")
_FLOWS = np.linspace(0.0, si("25 gpm", "flow"), 126)


def hose_console(
    *, two: bool = False, system: str | None = None, title: str = "What the hose takes", **start: object
) -> Console:
    """A Console: flow, bore, length, inner wall, reel; beside it one hose kept to compare with.

    two: a second hose behind the first, and the share of the loss that each takes, instead of the one kept.
    start: any of flow, bore_1, length_1, bore_2, length_2, reel, as the controls take them.
    """
    begin = {"flow": "8 gpm", "bore_1": "1/2 in", "length_1": "200 ft", "bore_2": "3/8 in", "length_2": "50 ft"}
    begin |= {"reel": False, **start}
    kept = {}

    def keep(values):
        kept.update(_hose_of(values, 1))
        return {}

    controls = [
        Amount("flow", "Flow", "flow", "0.5 gpm", "25 gpm", 245, begin["flow"]),
        Choice("bore_1", "Bore of hose 1" if two else "Bore", _BORES, si(begin["bore_1"], "hose_bore")),
        Amount("length_1", "Length of hose 1" if two else "Length", "length", "0 ft", "500 ft", 100, begin["length_1"]),
    ]
    if two:
        controls += [
            Choice("bore_2", "Bore of hose 2", _BORES, si(begin["bore_2"], "hose_bore")),
            Amount("length_2", "Length of hose 2", "length", "0 ft", "500 ft", 100, begin["length_2"]),
        ]
    controls += [
        Choice("roughness", "Inner wall", _ROUGHNESS, _ROUGHNESS[1][1]),
        Switch("reel", "All of it wound on a reel of 20 in (0.5 m)", begin["reel"]),
    ]
    if two:
        return Console(title, controls, _draw_two, system=system)
    controls.append(Push("keep", "Keep this hose to compare", keep))
    return Console(title, controls, lambda values, system: _draw_one(values, kept, system), system=system)


def _draw_one(values, kept, system):
    flow, this = values["flow"], _hose_of(values, 1)
    sets = [("this hose", this, "blue", "solid")]
    if this["reel"]:
        sets.append(("laid out straight", {**this, "reel": False}, "grey", "dotted"))
    if kept and kept != this:
        sets.append(("kept hose", dict(kept), "orange", "dashed"))
    losses = [hose_loss(flow, **each) for _, each, *_ in sets]
    curves = [(name, hose_loss(_FLOWS, **each), colour, dash) for name, each, colour, dash in sets]
    words = f"At {words_of(flow, 'flow', system)}: {_takes(this, flow, system)}. "
    words += _speed_words(flow, this["bore"], system) + _too_much(losses[0])
    if kept and kept != this:
        words += f" The kept hose: {_takes(kept, flow, system)}."
    return stacked(words, _loss_chart(flow, losses, curves, system))


def _draw_two(values, system):
    flow, hoses = values["flow"], [_hose_of(values, number) for number in (1, 2)]
    losses = [hose_loss(flow, **each) for each in hoses]
    first, second = (hose_loss(_FLOWS, **each) for each in hoses)
    curves = [
        ("both together", first + second, "blue", "solid"),
        ("hose 1", first, "green", "dashed"),
        ("hose 2", second, "purple", "dash-dot"),
    ]
    total = sum(losses)
    share = 100 * losses[1] / total if total > 0 else 0.0
    words = (
        f"At {words_of(flow, 'flow', system)}: {'; '.join(_takes(hose, flow, system) for hose in hoses)}; together "
        f"{words_of(total, 'pressure', system)}, {share:.0f} % of it in hose 2. "
        f"{_speed_words(flow, hoses[1]['bore'], system, 'in hose 2')}{_too_much(total)}"
    )
    return stacked(words, _loss_chart(flow, [total, *losses], curves, system), _shares(losses, system))


def _hose_of(values, number):
    same = {name: values[name] for name in ("roughness", "reel")}
    return {"bore": values[f"bore_{number}"], "length": values[f"length_{number}"], **same}


def _loss_chart(flow, losses, curves, system):
    """Chart of `curves`, (name, losses at _FLOWS, colour, dash), with a dot at `flow` on the first of `losses`."""
    shown, x = from_si(losses[0], "pressure", system), from_si(flow, "flow", system)
    xs, least = from_si(_FLOWS, "flow", system), from_si(_LEAST_TOP, "pressure", system)
    highest = from_si(max(losses), "pressure", system)
    panel = Panel(
        f"flow, {unit_label('flow', system)}",
        f"loss, {unit_label('pressure', system)}",
        (0, float(xs[-1])),
        (0, nice_ceiling(max(1.3 * highest, least))),
        66,
        34,
        650,
        232,
    )
    pieces = []
    for name, each, colour, dash in curves:
        ys = from_si(each, "pressure", system)
        inside = ys <= panel.y_range[1]
        pieces.append(curve(panel, Series(name, xs[inside], ys[inside], colour, dash)))
    # Right of its curve and below it is room for the figure, except at the edge of the picture.
    side, shift, drop = ("start", 10, 18) if x < 0.85 * panel.x_range[1] else ("end", -10, -8)
    at = float(panel.x(x)) + shift, float(panel.y(shown)) + drop
    figure = text(*at, words_of(losses[0], "pressure", system), colour="blue", anchor=side, weight="bold")
    pieces += [
        legend(panel, [Series(name, (), (), colour, dash) for name, _, colour, dash in curves]),
        dot(panel, x, shown),
        f'<g style="{HALO}">{figure}</g>',
    ]
    return chart([panel], _WIDTH, _HEIGHT, pieces), _WIDTH, _HEIGHT


def _takes(hose, flow, system):
    length, bore = words_of(hose["length"], "length", system), words_of(hose["bore"], "hose_bore", system)
    loss = words_of(hose_loss(flow, **hose), "pressure", system)
    if not hose["reel"]:
        return f"{length} of {bore}, off the reel, loses {loss}"
    straight = words_of(hose_loss(flow, **{**hose, "reel": False}), "pressure", system)
    return f"{length} of {bore}, on the reel, loses {loss} ({straight} if laid out straight)"


def _speed_words(flow, bore, system, where="in it"):
    velocity = hose_velocity(flow, bore)
    return f"The water moves at {words_of(velocity, 'velocity', system)} {where}."


def _too_much(loss):
    if loss <= _MOST_GIVEN:
        return ""
    return " No pump in this course makes that pressure: this much water will not go through."


def _shares(losses, system):
    total, x, width = sum(losses) or 1.0, 66.0, 650.0
    parts = []
    for number, (loss, colour) in enumerate(zip(losses, ("green", "purple"), strict=False), start=1):
        wide = width * loss / total
        parts.append(
            f'<rect class="jl-ink-{colour}" fill-opacity="0.35" x="{x:.1f}" y="6" width="{wide:.1f}" height="26"/>'
        )
        parts.append(f'<rect fill="none" stroke="currentColor" x="{x:.1f}" y="6" width="{wide:.1f}" height="26"/>')
        if wide > 90:
            parts.append(
                text(x + wide / 2, 24, f"hose {number}: {words_of(loss, 'pressure', system)}", anchor="middle")
            )
        x += wide
    return "".join(parts), _WIDTH, 42
