"""Lesson 03's console: what a hose takes, by bore, length, reel, and two hoses in a row."""

import numpy as np

from jetlib.physics import hose as hose_physics
from jetlib.physics import water
from jetlib.physics.friction import coil_ratio
from jetlib.screen.chart import Panel, Series, chart, curve, dot, legend, nice_ceiling, text
from jetlib.screen.console import Amount, Choice, Console, Switch
from jetlib.screen.picture import stacked
from jetlib.units import from_si, si, unit_label
from jetlib.units import text as words_of

_WIDTH, _HEIGHT = 760, 320
_TEMPERATURE = 288.15
_DENSITY, _VISCOSITY = water.density(_TEMPERATURE), water.viscosity(_TEMPERATURE)
_INCHES = ("1/8", "3/16", "1/4", "3/8", "1/2", "5/8", "3/4", "1")
_BORES = tuple(
    (f"{inch} in ({words_of(si(f'{inch} in', 'bore'), 'bore', 'metric')})", si(f"{inch} in", "bore"))
    for inch in _INCHES
)
_ROUGHNESS = (
    ("smooth as drawn tube, 0.0015 mm", 0.0015e-3),
    ("usual hose, 0.01 mm", 0.01e-3),
    ("rough or old, 0.03 mm", 0.03e-3),
)
_REEL = 0.5


def hose_console(*, two=False, system="US", title="What the hose takes", **start):
    """A Console: flow, bore, length, inner wall, reel; with `two`, a second hose behind the first and the shares.

    start: any of flow, bore_1, length_1, bore_2, length_2, reel, as the controls take them.
    """
    begin = {"flow": "8 gpm", "bore_1": "1/2 in", "length_1": "200 ft", "bore_2": "3/8 in", "length_2": "50 ft"}
    begin |= {"reel": False, **start}
    controls = [
        Amount("flow", "Flow", "flow", "0.5 gpm", "25 gpm", 245, begin["flow"]),
        Choice("bore_1", "Bore of hose 1" if two else "Bore", _BORES, si(begin["bore_1"], "bore")),
        Amount("length_1", "Length of hose 1" if two else "Length", "length", "0 ft", "500 ft", 100, begin["length_1"]),
    ]
    if two:
        controls += [
            Choice("bore_2", "Bore of hose 2", _BORES, si(begin["bore_2"], "bore")),
            Amount("length_2", "Length of hose 2", "length", "0 ft", "500 ft", 100, begin["length_2"]),
        ]
    controls += [
        Choice("roughness", "Inner wall", _ROUGHNESS, _ROUGHNESS[1][1]),
        Switch("reel", "All of it wound on a reel 20 in (0.5 m) across", begin["reel"]),
    ]
    return Console(title, controls, _draw, system=system)


def hose_loss(flow, *, bore, length, roughness, reel=False):
    """Loss (Pa) of one hose at 15 degC, straight or wound on a reel 0.5 m across. Broadcasts."""
    loss = hose_physics.pressure_loss(
        flow, bore=bore, length=length, roughness=roughness, density=_DENSITY, viscosity=_VISCOSITY
    )
    if not reel:
        return loss
    reynolds = hose_physics.reynolds_number(flow, bore=bore, density=_DENSITY, viscosity=_VISCOSITY)
    return loss * coil_ratio(reynolds, bore, _REEL)


def _draw(values, system):
    flow = values["flow"]
    hoses = [(values[f"bore_{n}"], values[f"length_{n}"]) for n in (1, 2) if f"bore_{n}" in values]
    same = {"roughness": values["roughness"], "reel": values["reel"]}
    flows = np.linspace(0.0, si("25 gpm", "flow"), 126)
    losses = [hose_loss(flow, bore=bore, length=length, **same) for bore, length in hoses]
    total = sum(losses)
    shown = from_si(total, "pressure", system)
    top = nice_ceiling(
        max(
            1.3 * shown,
            from_si(
                si(
                    "20 psi",
                    "pressure",
                ),
                "pressure",
                system,
            ),
        )
    )
    panel = Panel(
        f"flow, {unit_label('flow', system)}",
        f"loss, {unit_label('pressure', system)}",
        (0, nice_ceiling(from_si(flows[-1], "flow", system))),
        (0, top),
        66,
        34,
        650,
        232,
    )
    curves = [hose_loss(flows, bore=bore, length=length, **same) for bore, length in hoses]
    names = ["hose 1", "hose 2"][: len(hoses)]
    all_series = [
        (name, ys, colour, dash)
        for name, ys, colour, dash in zip(names, curves, ("green", "purple"), ("dashed", "dash-dot"), strict=False)
    ]
    if len(hoses) > 1:
        all_series.append(("both in a row", sum(curves), "blue", "solid"))
    else:
        all_series = [("this hose", curves[0], "blue", "solid")]
        if values["reel"]:
            straight = hose_loss(flows, bore=hoses[0][0], length=hoses[0][1], roughness=values["roughness"])
            all_series.append(("laid out straight", straight, "grey", "dotted"))
    pieces, keys = [], []
    x = from_si(flows, "flow", system)
    for name, ys, colour, dash in all_series:
        ys = from_si(ys, "pressure", system)
        inside = ys <= top
        pieces.append(curve(panel, Series(name, x[inside], ys[inside], colour, dash)))
        keys.append(Series(name, (), (), colour, dash))
    pieces += [
        legend(panel, keys),
        dot(panel, from_si(flow, "flow", system), shown, words_of(total, "pressure", system), anchor="end"),
    ]
    rows = [(chart([panel], _WIDTH, _HEIGHT, pieces), _WIDTH, _HEIGHT)]
    if len(hoses) > 1:
        rows.append(_shares(losses, system))
    return stacked(_words(values, hoses, losses, system), *rows)


def _words(values, hoses, losses, system):
    parts = [
        f"{words_of(length, 'length', system)} of {words_of(bore, 'bore', system)} "
        f"loses {words_of(loss, 'pressure', system)}"
        for (bore, length), loss in zip(hoses, losses, strict=True)
    ]
    velocity = hose_physics.velocity(values["flow"], bore=hoses[-1][0])
    words = f"At {words_of(values['flow'], 'flow', system)}: {'; '.join(parts)}"
    if len(hoses) > 1:
        total = sum(losses)
        share = 100 * losses[-1] / total if total > 0 else 0.0
        words += f"; together {words_of(total, 'pressure', system)}, {share:.0f} % of it in hose 2"
    place = "On the reel" if values["reel"] else "Off the reel"
    return f"{words}. {place}. Water moves at {words_of(velocity, 'velocity', system)} in the last hose."


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
