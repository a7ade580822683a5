"""Lesson 03's console: what a hose takes, by bore, length, reel, and two hoses in a row."""

import numpy as np

from jetlib.rig.point.alone import hose_loss, hose_velocity
from jetlib.screen.controls.console import Console
from jetlib.screen.controls.declared import console_of
from jetlib.screen.drawing.chart import Axis, Series, axes, chart, curve, dot, legend, text
from jetlib.screen.drawing.parts import hose, legend_of_pressure, reel
from jetlib.screen.drawing.picture import Answer, stacked
from jetlib.units import Told, si

_TILE, _HEIGHT = 380, 310
_TOP, _MOST_GIVEN = si("4000 psi", "pressure"), si("5000 psi", "pressure")
_FLOWS = np.linspace(0.0, si("25 gpm", "flow"), 126)


def hose_console(
    *, two: bool = False, system: str | None = None, title: str = "What the hose takes", **start: object
) -> Console:
    """A Console: flow, bore, length, inner wall, reel; beside it one hose kept to compare with.

    two: a second hose behind the first, and the share of the loss that each takes, instead of the one kept.
    start: any of flow, bore_1, length_1, bore_2, length_2, reel, as the controls take them.
    """
    given = {"bore_1": {"choice": "Bore of hose 1"}, "length_1": {"amount": "Length of hose 1"}, "keep": None}
    draw, given = (_draw_two, given) if two else (_draw_one, {"bore_2": None, "length_2": None})
    return console_of("hose_console", draw, given, system=system, title=title, start=start)


def _draw_one(values, system):
    flow, kept, this, told = values["flow"], values["kept"], _hose_of(values, 1), Told(system)
    other = _hose_of(kept, 1) if kept else this
    sets = [("this hose", this, "blue", "solid")]
    if this["reel"]:
        sets.append(("straight", {**this, "reel": False}, "grey", "dotted"))
    if other != this:
        sets.append(("kept hose", other, "orange", "dashed"))
    losses = [hose_loss(flow, **each) for _, each, *_ in sets]
    curves = [(name, hose_loss(_FLOWS, **each), colour, dash) for name, each, colour, dash in sets]
    words = f"At {told.flow(flow)}: {_takes(this, flow, told)}. "
    words += _speed_words(flow, this["bore"], told) + _too_much(losses[0])
    if other != this:
        words += f" The kept hose: {_takes(other, flow, told)}."
    drawn = [this, other] if other != this else [this]
    return _picture(words, flow, losses, curves, _hoses(drawn, flow, False, told), system)


def _draw_two(values, system):
    flow, hoses, told = values["flow"], [_hose_of(values, number) for number in (1, 2)], Told(system)
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
        f"At {told.flow(flow)}: {'; '.join(_takes(hose, flow, told) for hose in hoses)}; together "
        f"{told.pressure(total)}, {share:.0f} % of it in hose 2. "
        f"{_speed_words(flow, hoses[1]['bore'], told, 'in hose 2')}{_too_much(total)}"
    )
    drawn = _hoses(hoses, flow, True, told) + _shares(losses, told)
    return _picture(words, flow, [total, *losses], curves, drawn, system)


def _picture(words, flow, losses, curves, drawn, system):
    """curves: (name, losses at _FLOWS, colour, dash) of each, with a dot at `flow` on that of the first loss."""
    panel = axes(
        system, Axis("flow", "flow", _FLOWS[-1], whole=False), Axis("loss", "pressure", _TOP), 66, 34, 296, 220
    )
    series = [Series(name, _FLOWS, *look) for name, *look in curves]
    first, *others = (curve(panel, each, inside=True) for each in series)
    side = "start" if panel.x_share(flow) < 0.5 else "end"
    now = [first, dot(panel, flow, losses[0], panel.told(losses[0]), anchor=side)]
    tiles = [(drawn, _TILE, _HEIGHT), chart(panel, _TILE, _HEIGHT, [*others, legend(panel, series)], now)]
    answers = [Answer("pressure lost in the hose", losses[0], "pressure")]
    return stacked(words, tiles, legend_of_pressure(_TOP, system), answers=answers)


def _hoses(hoses, flow, in_line, told):
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
            parts.append(text(x0, y - 30, f"pushed in with {told.pressure(before)}", weight="bold"))
        x, middle = 76 + 180 * number, 184
        ring = f'<circle cx="{x}" cy="{middle}" r="{{}}" fill="none" stroke="currentColor" stroke-width="{{}}"/>'
        radius = 1500.0 * each["bore"]
        parts.append(ring.format(f"{radius + 3:.1f}", 6))
        parts.append(f'<circle class="jl-ink-p2" fill-opacity="0.5" cx="{x}" cy="{middle}" r="{radius:.1f}"/>')
        name = f"hose {number + 1}: " if in_line else ("this: ", "kept: ")[number] if count > 1 else ""
        parts.append(text(x, 236, f"{name}{told.hose_bore(each['bore'])} bore", anchor="middle"))
    return "".join(parts)


def _hose_of(values, number):
    same = {name: values[name] for name in ("roughness", "reel")}
    return {"bore": values[f"bore_{number}"], "length": values[f"length_{number}"], **same}


def _takes(hose, flow, told):
    length, bore = told.length(hose["length"]), told.hose_bore(hose["bore"])
    loss = told.pressure(hose_loss(flow, **hose))
    if not hose["reel"]:
        return f"{length} of {bore}, off the reel, loses {loss}"
    straight = told.pressure(hose_loss(flow, **{**hose, "reel": False}))
    return f"{length} of {bore}, on the reel, loses {loss} ({straight} if laid out straight)"


def _speed_words(flow, bore, told, where="in it"):
    return f"The water moves at {told.velocity(hose_velocity(flow, bore))} {where}."


def _too_much(loss):
    if loss <= _MOST_GIVEN:
        return ""
    return " No pump in this course makes that pressure: this much water will not go through."


def _shares(losses, told):
    total, x, width = sum(losses) or 1.0, 14.0, 352.0
    parts = []
    for number, (loss, colour) in enumerate(zip(losses, ("green", "purple"), strict=False), start=1):
        wide = width * loss / total
        box = f'x="{x:.1f}" y="252" width="{wide:.1f}" height="16"'
        parts.append(f'<rect class="jl-ink-{colour}" fill-opacity="0.5" stroke="currentColor" {box}/>')
        at, side = (14, "start") if number == 1 else (366, "end")
        parts.append(
            text(at, 286, f"hose {number} loses {told.pressure(loss)}", anchor=side, colour=colour, weight="bold")
        )
        x += wide
    return "".join(parts)
