"""Lesson 03's console: what a hose takes, by bore, length, reel, and two hoses in a row."""

import numpy as np

from jetlib.rig.point.alone import hose_loss, hose_velocity
from jetlib.screen.controls.console import Amount, Choice, Console, Push, Switch
from jetlib.screen.drawing.chart import Panel, Series, chart, curve, dot, legend, nice_ceiling, text
from jetlib.screen.drawing.line import hose, legend_of_pressure, reel
from jetlib.screen.drawing.picture import Answer, stacked
from jetlib.units import from_si, si, unit_label
from jetlib.units import text as words_of

_TILE, _HEIGHT = 380, 310
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
_TOP, _MOST_GIVEN = si("4000 psi", "pressure"), si("5000 psi", "pressure")
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
        sets.append(("straight", {**this, "reel": False}, "grey", "dotted"))
    if kept and kept != this:
        sets.append(("kept hose", dict(kept), "orange", "dashed"))
    losses = [hose_loss(flow, **each) for _, each, *_ in sets]
    curves = [(name, hose_loss(_FLOWS, **each), colour, dash) for name, each, colour, dash in sets]
    words = f"At {words_of(flow, 'flow', system)}: {_takes(this, flow, system)}. "
    words += _speed_words(flow, this["bore"], system) + _too_much(losses[0])
    if kept and kept != this:
        words += f" The kept hose: {_takes(kept, flow, system)}."
    drawn = [this, kept] if kept and kept != this else [this]
    return _picture(words, flow, losses, curves, _hoses(drawn, flow, False, system), system)


def _draw_two(values, system):
    flow, hoses = values["flow"], [_hose_of(values, number) for number in (1, 2)]
    losses = [hose_loss(flow, **each) for each in hoses]
    first, second = (hose_loss(_FLOWS, **each) for each in hoses)
    curves = [
        ("together", first + second, "blue", "solid"),
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
    drawn = _hoses(hoses, flow, True, system) + _shares(losses, system)
    return _picture(words, flow, [total, *losses], curves, drawn, system)


def _picture(words, flow, losses, curves, drawn, system):
    tiles = [(drawn, _TILE, _HEIGHT), (_loss_chart(flow, losses, curves, system), _TILE, _HEIGHT)]
    answers = [Answer("pressure lost in the hose", float(losses[0]), "pressure")]
    return stacked(words, tiles, legend_of_pressure(_TOP, system), answers=answers)


def _hoses(hoses, flow, in_line, system):
    """The hoses as they lie, with the pressure that pushes the water in, and each cut across to one scale.

    in_line: the second is coupled behind the first; otherwise they are two lines.
    """
    parts, losses = [], [float(hose_loss(flow, **each)) for each in hoses]
    count = len(hoses)
    for number, (each, loss) in enumerate(zip(hoses, losses, strict=True)):
        before, after = (sum(losses[number:]), sum(losses[number + 1 :])) if in_line else (loss, 0.0)
        x0, x1 = (14 + 176 * number, 190 + 176 * number) if in_line else (14, 366)
        y, velocity = 66 if in_line else 66 + 60 * number, float(hose_velocity(flow, each["bore"]))
        parts.append(hose(x0, x1, y, each["bore"], before, after, _TOP, velocity))
        if each["reel"]:
            parts.append(reel(x1 - 70, y, each["bore"], before, _TOP))
        if number == 0 or not in_line:
            told = f"pushed in with {words_of(before, 'pressure', system)}"
            parts.append(text(x0, y - 30, told, weight="bold"))
        x, middle = 76 + 180 * number, 184
        ring = f'<circle cx="{x}" cy="{middle}" r="{{}}" fill="none" stroke="currentColor" stroke-width="{{}}"/>'
        radius = 1500.0 * each["bore"]
        parts.append(ring.format(f"{radius + 3:.1f}", 6))
        parts.append(f'<circle class="jl-ink-p2" fill-opacity="0.5" cx="{x}" cy="{middle}" r="{radius:.1f}"/>')
        name = f"hose {number + 1}: " if in_line else ("this: ", "kept: ")[number] if count > 1 else ""
        parts.append(text(x, 236, f"{name}{words_of(each['bore'], 'hose_bore', system)} bore", anchor="middle"))
    return "".join(parts)


def _hose_of(values, number):
    same = {name: values[name] for name in ("roughness", "reel")}
    return {"bore": values[f"bore_{number}"], "length": values[f"length_{number}"], **same}


def _loss_chart(flow, losses, curves, system):
    """SVG of `curves`, (name, losses at _FLOWS, colour, dash), with a dot at `flow` on the first of `losses`."""
    shown, x = from_si(losses[0], "pressure", system), from_si(flow, "flow", system)
    xs = from_si(_FLOWS, "flow", system)
    across, up = (0, float(xs[-1])), (0, nice_ceiling(from_si(_TOP, "pressure", system)))
    panel = Panel(
        f"flow, {unit_label('flow', system)}", f"loss, {unit_label('pressure', system)}", across, up, 66, 34, 296, 220
    )
    drawn = []
    for name, each, colour, dash in curves:
        ys = from_si(each, "pressure", system)
        inside = ys <= panel.y_range[1]
        drawn.append(curve(panel, Series(name, xs[inside], ys[inside], colour, dash)))
    side = "start" if x < 0.5 * panel.x_range[1] else "end"
    figure = dot(panel, x, shown, words_of(losses[0], "pressure", system), anchor=side)
    names = legend(panel, [Series(name, (), (), colour, dash) for name, _, colour, dash in curves])
    return chart([panel], _TILE, _HEIGHT, [*drawn[1:], names], [drawn[0], figure])


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
    total, x, width = sum(losses) or 1.0, 14.0, 352.0
    parts = []
    for number, (loss, colour) in enumerate(zip(losses, ("green", "purple"), strict=False), start=1):
        wide = width * loss / total
        box = f'x="{x:.1f}" y="252" width="{wide:.1f}" height="16"'
        parts.append(f'<rect class="jl-ink-{colour}" fill-opacity="0.5" stroke="currentColor" {box}/>')
        at, side = (14, "start") if number == 1 else (366, "end")
        words = f"hose {number} loses {words_of(loss, 'pressure', system)}"
        parts.append(text(at, 286, words, anchor=side, colour=colour, weight="bold"))
        x += wide
    return "".join(parts)
