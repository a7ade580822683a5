"""The bench's map: gauge and flows against the throttle with their bands, where the pressure and the power go."""

from functools import lru_cache

import numpy as np

from jetlib.errors import JetlibError
from jetlib.rig.jets.matching import matched_jets
from jetlib.rig.parts.part import remembered
from jetlib.screen.bench.entries.figures import bar
from jetlib.screen.bench.entries.state import THROTTLES
from jetlib.screen.bench.pages import Page
from jetlib.screen.drawing.chart import (
    THROTTLE,
    Axis,
    Series,
    axes,
    charts,
    curve,
    dot,
    legend,
    level,
    points_text,
    upright,
)
from jetlib.screen.drawing.picture import stacked
from jetlib.units import Told

_HOSES = ("orange", "red", "purple")


def draw(state):
    """The Picture of the map of a BenchState."""
    band, point, system = state.band, state.point, state.system
    told = Told(system)
    return stacked(
        _words(state, band, point, told),
        _charts(band, point, system),
        bar(f"Where the {told.pressure(point.gauge)} on the gauge go", pressure_shares(point), told.pressure),
        bar(f"Where the {told.power(point.shaft_power)} at the shaft go", power_shares(point), told.power),
    )


PAGE = Page((), draw)

# --- chart ------------------------------------------------------------------------------------------


def _charts(band, point, system):
    """What moves with the throttle, over what stands still: two tiles."""
    panels, still = _still(band, system)
    side = "end" if point.throttle > 0.7 else "start"
    drawn = [[lies, upright(panel, point.throttle, dash="dotted")] for panel, lies in zip(panels, still, strict=True)]
    for at, value, told, colour, shape in (
        (0, point.gauge, panels[0].told(point.gauge), "blue", "circle"),
        (1, point.nozzle_flow, panels[1].told(point.nozzle_flow), "green", "square"),
        (1, point.bypass_flow + point.leak_flow, "", "orange", "circle"),
    ):
        drawn[at].append(dot(panels[at], point.throttle, value, told, colour=colour, shape=shape, anchor=side))
    return charts(panels, 306, drawn, ((), ()))


@lru_cache(maxsize=16)
def _still(band, system):
    """(panels, SVG in each) of all that the throttle leaves where it is."""
    nominal, setting, opens = band.nominal, _setting(band.rig), opening(band.rig)
    most = max(np.max(band.high("gauge")), setting), np.max(band.high("nozzle_flow"))
    gauge, flow = panels = [
        axes(system, THROTTLE, Axis(kind, name, 1.08 * high), 66, 34, 296, 222)
        for kind, name, high in zip(("gauge", "flow"), ("pressure", "flow"), most, strict=True)
    ]
    pressures = [Series("gauge", THROTTLES, nominal.gauge)]
    flows = [
        Series("nozzle", THROTTLES, nominal.nozzle_flow, "green", "dashed"),
        Series("bypass", THROTTLES, nominal.bypass_flow + nominal.leak_flow, "orange", "dash-dot"),
    ]
    left = [_area(gauge, band, "gauge", "blue"), legend(gauge, pressures), curve(gauge, *pressures)]
    right = [_area(flow, band, "nozzle_flow", "green"), _area(flow, band, "bypass_flow", "orange")]
    right += [legend(flow, flows), *(curve(flow, each) for each in flows)]
    if opens is not None and opens > 0:
        side = "end" if opens > 0.5 else "start"
        right.append(upright(flow, opens, "bypass begins", colour="orange", at=6, anchor=side, halo=True))
        left.append(upright(gauge, opens, colour="orange"))
    if band.rig.unloader is not None:
        left.append(level(gauge, setting, "valve set to", halo=True))
    return panels, ["".join(left), "".join(right)]


def _area(panel, band, name, colour):
    """The band of a reading as an area with thin edges."""
    x, low, high = band.throttles, band.low(name), band.high(name)
    if not np.max(high) > 0:
        return ""
    xs, ys = panel.x(np.concatenate([x, x[::-1]])), panel.y(np.concatenate([high, low[::-1]]))
    points = points_text(zip(xs, ys, strict=True))
    edges = (curve(panel, Series("", x, end, colour, "dotted", 1.0)) for end in (low, high))
    return f'<polygon class="jl-ink-{colour}" fill-opacity="0.2" points="{points}"/>{"".join(edges)}'


def _setting(rig):
    return 0.0 if rig.unloader is None else rig.unloader.setting


def opening(rig):
    """The throttle at which the valve of a rig opens; None where it stays shut up to full, or has none to open."""
    match = _match(rig)
    return match.bypass_throttle if match is not None and match.bypass_throttle <= 1.0 else None


def begins(rig):
    """From where on the valve of a rig opens, in words."""
    opens = opening(rig)
    return "never" if opens is None else "from idle" if opens <= 0 else f"at {100 * opens:.0f} %"


@remembered(8)
def _match(rig):
    """The MatchedJets of a rig; None where there is no telling."""
    try:
        return matched_jets(rig)
    except JetlibError:
        return None


# --- where it goes ----------------------------------------------------------------------------------


def pressure_shares(point):
    """Shares of the gauge's pressure for `bar`: each hose, fittings, lift, jets."""
    shares = []
    for number, (hose, loss) in enumerate(zip(point.rig.hoses, point.hose_losses, strict=True), start=1):
        name = f"{hose.name} ({number})" if hose.name else f"hose {number}"
        shares.append((name, float(loss), _HOSES[(number - 1) % len(_HOSES)]))
    shares.append(("fittings, end fittings", point.fitting_loss, "grey"))
    shares.append(("lift", max(point.lift_pressure, 0.0), "green"))
    return [*shares, ("jets", point.nozzle_pressure, "blue")]


def power_shares(point):
    """Shares of the shaft's power for `bar`: jets, hose, fittings, lift, bypass and leaks, and the pump itself."""
    found = point.power_shares
    return [
        ("jets", found["jets"], "blue"),
        ("hose", found["hose"], "orange"),
        ("fittings", found["fittings"], "grey"),
        ("lift", max(found["lift"], 0.0), "green"),
        ("bypass and leaks", found["bypass"] + found["leak"], "red"),
        ("pump", max(point.shaft_power - point.hydraulic_power, 0.0), "purple"),
    ]


def _words(state, band, point, told):
    """The sentence of numbers of the map."""
    throttle = float(point.throttle)
    said = f"{state.rig.name or 'This rig'}, {state.shown.words}, at {100 * throttle:.0f} % throttle: "
    for reading, label, number in (("gauge", "gauge", told.pressure), ("nozzle_flow", "nozzle", told.flow)):
        low, high = (number(float(np.interp(throttle, THROTTLES, end(reading)))) for end in (band.low, band.high))
        said += f"{label} {number(getattr(point, reading))} (eight such rigs in ten: {low} to {high}), "
    said += f"bypass {told.flow(point.bypass_flow + point.leak_flow)}. {_opening_words(state)} "
    jets = float(point.power_shares["jets"])
    if point.shaft_power > 0:
        said += (
            f"Of {told.power(point.shaft_power)} at the shaft {told.power(jets)} "
            f"({100 * jets / point.shaft_power:.0f} %) leaves the jets; "
            f"{told.power(max(point.shaft_power - jets, 0.0))} is lost in pump, hose, bypass and lift."
        )
    return said


def _opening_words(state):
    rig, opens = state.shown.rig, opening(state.shown.rig)
    if rig.unloader is None:
        return "There is no bypass valve."
    if opens is None:
        match = _match(state.rig_for_new_jets)
        if match is None:
            return "It cannot be said when the valve opens."
        return "The valve stays shut up to full throttle." + (f" {match.advice}" if match.possible else "")
    if opens <= 0:
        return "The valve is open from idle up."
    return f"Bypass begins at {100 * opens:.0f} % throttle."
