"""A console that shows how far to trust a prediction: the band of a yard rig, and what makes it, over the throttle."""

from functools import lru_cache

import numpy as np

from jetlib.course.exercises.words import listed
from jetlib.rig.parts.rig_file import demo_rigs
from jetlib.rig.uncertainty.band import READINGS, uncertainty_band
from jetlib.rig.uncertainty.unknowns import WORDS, Unknowns
from jetlib.screen.controls.declared import console
from jetlib.screen.controls.rig_choice import rig_of
from jetlib.screen.drawing.chart import (
    NARROW,
    THROTTLE,
    Axis,
    Series,
    axes,
    charts,
    curve,
    dot,
    points_text,
    text,
    upright,
)
from jetlib.screen.drawing.picture import Answer, stacked
from jetlib.screen.drawing.table import Table
from jetlib.units import Told, both

THROTTLES = np.linspace(0.0, 1.0, 51)
#: What one can measure, by the name of its switch, and the inputs it settles.
MEASURED = {
    "edge": ("discharge_coefficient", "wear"),
    "hole": ("jet_bore",),
    "pump": ("pump_flow", "slip", "engine_speed"),
    "hose": ("hose_bore", "roughness", "coil_diameter", "coil_extra", "end_fittings"),
    "valve": ("valve_setting", "valve_rise", "disc_rating"),
    "gauge": ("gauge",),
}
_HEIGHT = 300
_SHOWN = {"gauge": "the gauge", "nozzle_flow": "the nozzle's flow"}
_SHORT = {"edge": "edges", "hole": "holes", "pump": "pump flow"}  # the others are called what they are
_MOST_BARS = 5
_NO_BAND = 0.003  # of the reading: thinner than the line


def bands_table() -> Table:
    """The Table of the bands of all yard rigs at full throttle, nothing measured."""
    heads = (
        "rig",
        "gauge as written down",
        "eight rigs in ten",
        "nozzle flow as written down",
        "eight rigs in ten ",
        "what matters most",
    )
    rows = []
    for name in demo_rigs():
        band, cells = rig_band(name), []
        for reading in _SHOWN:
            kind = READINGS[reading]
            cells.append(both(float(getattr(band.nominal, reading)[-1]), kind))
            cells.append(f"{both(band.low(reading, 1.0), kind)} to {both(band.high(reading, 1.0), kind)}")
        most = [band.sentence(reading).rpartition("; ")[2] for reading in _SHOWN]
        rows.append((band.rig.name, *cells, " Flow: ".join([f"Gauge: {most[0]}.", f"{most[1]}."])))
    return Table(heads, tuple(rows))


@lru_cache(maxsize=64)
def rig_band(rig, settled=()):
    """The Band of a rig from data/ over THROTTLES, with the inputs of these names of MEASURED settled."""
    inputs = [each for name in settled for each in MEASURED[name]]
    return uncertainty_band(rig_of(rig), THROTTLES, unknowns=Unknowns().settle(*inputs))


@console()
def band_console(values, system):
    """A Console: a rig from data/, its throttle, and a switch for each thing that has been measured."""
    settled = tuple(name for name in MEASURED if values[name])
    band = rig_band(values["rig"], settled)
    at = band.nearest(values["throttle"])
    throttle = float(band.throttles[at])
    whole = rig_band(values["rig"])  # the axes hold the band of the rig with nothing measured, whatever is
    ups = [Axis(name.replace("_", " "), READINGS[name], 1.05 * float(np.max(whole.high(name)))) for name in _SHOWN]
    panels = [axes(system, THROTTLE, up, 62, 34, 290, 218) for up in ups]
    pieces = [
        _band_pieces(panel, band, name, at, colour)
        for name, panel, colour in zip(_SHOWN, panels, ("blue", "green"), strict=True)
    ]
    bars = [(_bars(band, name, throttle), NARROW, 40 + 20 * _MOST_BARS) for name in _SHOWN]
    gauge, flow = (float(getattr(band.nominal, name)[at]) for name in _SHOWN)
    answers = Answer("gauge, as written down", gauge, "pressure"), Answer("nozzle, as written down", flow, "flow")
    words = _words(band, throttle, settled, system)
    return stacked(words, charts(panels, _HEIGHT, *zip(*pieces, strict=True)), bars, answers=answers)


def _band_pieces(panel, band, name, at, colour):
    """The key; and the band as an area with thin edges, the rig as it stands as a line, where the throttle is."""
    x, low, high, nominal = band.throttles, band.low(name), band.high(name), getattr(band.nominal, name)
    xs, ys = panel.x(np.concatenate([x, x[::-1]])), panel.y(np.concatenate([high, low[::-1]]))
    points = points_text(zip(xs, ys, strict=True))
    key = [
        f'<rect class="jl-ink-{colour}" fill-opacity="0.25" x="{panel.left + 4}" y="14" width="22" height="11"/>',
        text(panel.left + 31, 24, "eight rigs in ten"),
        f'<path class="jl-line-{colour}" stroke-width="2.2" d="M{panel.left + 150} 20h22"/>',
        text(panel.left + 178, 24, "as written down"),
        upright(panel, x[at], dash="dotted"),
    ]
    return key, [
        f'<polygon class="jl-ink-{colour}" fill-opacity="0.25" points="{points}"/>',
        curve(panel, Series("low", x, low, colour, "dotted", 1.4)),
        curve(panel, Series("high", x, high, colour, "dotted", 1.4)),
        curve(panel, Series("as written down", x, nominal, colour, "solid", 2.2)),
        dot(panel, x[at], nominal[at], colour=colour),
    ]


def _bars(band, name, throttle):
    """What makes the band of a reading: the largest shares as bars."""
    shares = band.shares(name, throttle)
    low, high = (end(name, throttle) for end in (band.low, band.high))
    ranked = [cause for cause in sorted(shares, key=shares.get, reverse=True) if shares[cause] >= 0.005][:_MOST_BARS]
    left = 14
    parts = [text(left, 16, f"Where the band of {_SHOWN[name]} comes from", weight="bold")]
    if high - low < _NO_BAND * high:
        return "".join([*parts, text(left, 38, "Hardly any band is left.")])
    for number, cause in enumerate(ranked):
        y = 36 + 20 * number
        parts += [
            text(left, y, WORDS[cause]),
            f'<rect class="jl-ink-purple" x="{left + 168}" y="{y - 10}" width="{80 * min(shares[cause], 1):.1f}" '
            'height="11"/>',
            text(left + 174 + 80 * min(shares[cause], 1), y, f"{100 * shares[cause]:.0f} %"),
        ]
    return "".join(parts)


def _words(band, throttle, settled, system):
    name = band.rig.name or "This rig"
    known = f" with {listed(_SHORT.get(each, each) for each in settled)} measured" if settled else ", nothing measured"
    words = f"{name} at {100 * throttle:.0f} % throttle{known}. "
    for reading in _SHOWN:
        words += f"{reading.replace('_', ' ').capitalize()} {band.sentence(reading, system, throttle=throttle)}. "
    gauge, flow = (float(getattr(band.nominal, each)[band.nearest(throttle)]) for each in _SHOWN)
    return words + (
        f"As written down: {Told(system).pressure(gauge)} and {Told(system).flow(flow)}. "
        "Eight rigs in ten lie within the band. It is not a safety margin."
    )
