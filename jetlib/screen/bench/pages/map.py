"""The bench's map: gauge and flows against the throttle with their bands, where the pressure and the power go."""

from functools import lru_cache

import numpy as np

from jetlib.errors import JetlibError
from jetlib.rig.jets.matching import matched_jets
from jetlib.rig.parts.part import Same
from jetlib.screen.bench.entries.figures import bar
from jetlib.screen.bench.entries.state import THROTTLES
from jetlib.screen.drawing.chart import (
    NARROW,
    THROTTLE,
    Axis,
    Series,
    axes,
    axes_svg,
    curve,
    dot,
    legend,
    level,
    upright,
)
from jetlib.screen.drawing.picture import stacked
from jetlib.units import text as words_of

ENTRIES = ()
_HEIGHT = 306
_HOSES = ("orange", "red", "purple")


def draw(state):
    """The Picture of the map of a BenchState."""
    band, point, system = state.band, state.point, state.system
    return stacked(
        words(state, band, point, system),
        _charts(band, point, system),
        bar(f"Where the {words_of(point.gauge, 'pressure', system)} on the gauge go", pressure_shares(point, system)),
        bar(f"Where the {words_of(point.shaft_power, 'power', system)} at the shaft go", power_shares(point, system)),
    )


# --- chart ------------------------------------------------------------------------------------------


def _charts(band, point, system):
    """What moves with the throttle, over what stands still: two tiles."""
    panels, still = _still(band, system)
    side = "end" if point.throttle > 0.7 else "start"
    looks = (
        (0, point.gauge, "blue", "circle"), (1, point.nozzle_flow, "green", "square"),
        (1, point.bypass_flow + point.leak_flow, "orange", "circle"),
    )  # fmt: skip
    moved = [[upright(panel, point.throttle, dash="dotted")] for panel in panels]
    for at, value, colour, shape in looks:
        told = "" if colour == "orange" else panels[at].told(value)
        moved[at].append(dot(panels[at], point.throttle, value, told, colour=colour, shape=shape, anchor=side))
    return [("".join([lies, *over]), NARROW, _HEIGHT) for lies, over in zip(still, moved, strict=True)]


@lru_cache(maxsize=16)
def _still(band, system):
    """(panels, SVG in each) of all that the throttle leaves where it is."""
    nominal, top = band.nominal, 1.08 * max(np.max(band.high("gauge")), _setting(band.rig))
    panels = (
        axes(system, THROTTLE, Axis("gauge", "pressure", top), 66, 34, 296, 222),
        axes(system, THROTTLE, Axis("flow", "flow", 1.08 * np.max(band.high("nozzle_flow"))), 66, 34, 296, 222),
    )
    series = (
        (Series("gauge", THROTTLES, nominal.gauge),),
        (
            Series("nozzle", THROTTLES, nominal.nozzle_flow, "green", "dashed"),
            Series("bypass", THROTTLES, nominal.bypass_flow + nominal.leak_flow, "orange", "dash-dot"),
        ),
    )
    pieces = [[axes_svg(panel)] for panel in panels]
    for at, name, colour in ((0, "gauge", "blue"), (1, "nozzle_flow", "green"), (1, "bypass_flow", "orange")):
        pieces[at].append(_area(panels[at], band, name, colour))
    for lies, panel, several in zip(pieces, panels, series, strict=True):
        lies += [legend(panel, several), *(curve(panel, each) for each in several)]
    opens = opening(band.rig)
    if opens is not None and opens > 0:
        side = "end" if opens > 0.5 else "start"
        pieces[1].append(upright(panels[1], opens, "bypass begins", colour="orange", at=6, anchor=side, halo=True))
        pieces[0].append(upright(panels[0], opens, colour="orange"))
    if band.rig.unloader is not None:
        pieces[0].append(level(panels[0], _setting(band.rig), "valve set to", halo=True))
    return panels, ["".join(lies) for lies in pieces]


def _area(panel, band, name, colour):
    """The band of a reading as an area with thin edges."""
    x, low, high = band.throttles, band.low(name), band.high(name)
    if not np.max(high) > 0:
        return ""
    xs, ys = panel.x(np.concatenate([x, x[::-1]])), panel.y(np.concatenate([high, low[::-1]]))
    points = " ".join(f"{a:.1f},{b:.1f}" for a, b in zip(xs, ys, strict=True))
    edges = (curve(panel, Series("", x, end, colour, "dotted", 1.0)) for end in (low, high))
    return f'<polygon class="jl-ink-{colour}" fill-opacity="0.2" points="{points}"/>{"".join(edges)}'


def _setting(rig):
    return 0.0 if rig.unloader is None else rig.unloader.setting


def opening(rig):
    """The throttle at which the valve of a rig opens; None where it stays shut up to full, or has none to open."""
    match = _match(Same(rig))
    return match.bypass_throttle if match is not None and match.bypass_throttle <= 1.0 else None


def begins(rig):
    """From where on the valve of a rig opens, in words."""
    opens = opening(rig)
    return "never" if opens is None else "from idle" if opens <= 0 else f"at {100 * opens:.0f} %"


@lru_cache(maxsize=8)
def _match(rig):
    """The MatchedJets of a rig; None where there is no telling."""
    try:
        return matched_jets(rig.held)
    except JetlibError:
        return None


# --- where it goes ----------------------------------------------------------------------------------


def hose_name(hose, number):
    """What a hose of the line is called, with the number it has from the pump on."""
    return f"{hose.name or 'hose'} ({number})" if hose.name else f"hose {number}"


def pressure_shares(point, system):
    """Shares of the gauge's pressure for `bar`: each hose, fittings, lift, jets."""
    shares = []
    for number, (hose, loss) in enumerate(zip(point.rig.hoses, point.hose_losses, strict=True), start=1):
        shares.append((hose_name(hose, number), float(loss), _HOSES[(number - 1) % len(_HOSES)]))
    shares.append(("fittings, end fittings", point.fitting_loss, "grey"))
    shares.append(("lift", max(point.lift_pressure, 0.0), "green"))
    shares.append(("jets", point.nozzle_pressure, "blue"))
    return [(name, value, words_of(value, "pressure", system), colour) for name, value, colour in shares]


def power_shares(point, system):
    """Shares of the shaft's power for `bar`: jets, hose, fittings, lift, bypass and leaks, and the pump itself."""
    found = point.power_shares
    shares = [
        ("jets", found["jets"], "blue"),
        ("hose", found["hose"], "orange"),
        ("fittings", found["fittings"], "grey"),
        ("lift", max(found["lift"], 0.0), "green"),
        ("bypass and leaks", found["bypass"] + found["leak"], "red"),
        ("pump", max(point.shaft_power - point.hydraulic_power, 0.0), "purple"),
    ]
    return [(name, value, words_of(value, "power", system), colour) for name, value, colour in shares]


def words(state, band, point, system):
    """The sentence of numbers of the map."""
    name = state.rig.name or "This rig"
    said = f"{name}, {state.shown_words}, at {100 * float(point.throttle):.0f} % throttle: "
    for reading, label, kind, value in (
        ("gauge", "gauge", "pressure", point.gauge), ("nozzle_flow", "nozzle", "flow", point.nozzle_flow),
    ):  # fmt: skip
        low, high = (_at(end(reading), point.throttle) for end in (band.low, band.high))
        said += (
            f"{label} {words_of(value, kind, system)} (eight such rigs in ten: {words_of(low, kind, system)} to "
            f"{words_of(high, kind, system)}), "
        )
    said += f"bypass {words_of(point.bypass_flow + point.leak_flow, 'flow', system)}. {_opening_words(state)} "
    jets = float(point.power_shares["jets"])
    if point.shaft_power > 0:
        rest = max(point.shaft_power - jets, 0.0)
        said += (
            f"Of {words_of(point.shaft_power, 'power', system)} at the shaft {words_of(jets, 'power', system)} "
            f"({100 * jets / point.shaft_power:.0f} %) leaves the jets; {words_of(rest, 'power', system)} is lost "
            "in pump, hose, bypass and lift."
        )
    return said


def _at(values, throttle):
    return float(np.interp(float(throttle), THROTTLES, values))


def _opening_words(state):
    rig, opens = state.shown_rig, opening(state.shown_rig)
    if rig.unloader is None:
        return "There is no bypass valve."
    if opens is None:
        match = _match(Same(state.rig_for_new_jets))
        if match is None:
            return "It cannot be said when the valve opens."
        return "The valve stays shut up to full throttle." + (f" {match.advice}" if match.possible else "")
    if opens <= 0:
        return "The valve is open from idle up."
    return f"Bypass begins at {100 * opens:.0f} % throttle."
