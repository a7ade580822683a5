"""Lesson 08's first console: how one fault shows on gauge, bucket and tank return, beside the sound rig and another."""

from functools import lru_cache
from typing import NamedTuple

import numpy as np

from jetlib.rig.change.factors import state
from jetlib.rig.diagnosis.faults import FAULTS, fault_named, faults_of, signature
from jetlib.rig.diagnosis.readings import throttle_name
from jetlib.rig.parts.rig_file import demo_rig
from jetlib.rig.uncertainty.band import usual_full_scale
from jetlib.screen.controls.declared import console
from jetlib.screen.drawing.chart import NARROW, THROTTLE, Axis, Panel, Series, axes, chart, curve, dot, legend, text
from jetlib.screen.drawing.gauge import pressure_gauge
from jetlib.screen.drawing.grid import grid
from jetlib.screen.drawing.picture import Answer, stacked, with_narrow
from jetlib.screen.drawing.table import Table
from jetlib.units import Told

THROTTLES = np.linspace(0.0, 1.0, 61)
_READ_AT = (0.0, 0.5, 1.0)
_WIDTH = 760
_SAME = 0.02  # less than this and nobody would call it a change
_NONE = "none"
_LOOKS = {
    "sound": ("grey", "solid", "circle"),
    "A": ("blue", "dashed", "circle"),
    "B": ("orange", "dash-dot", "square"),
}


def _faults(rig):
    faults = [(fault.title, fault.name) for fault in faults_of(demo_rig(rig)) if fault.name != "healthy"]
    return {"fault": {"options": faults}, "other": {"options": [*faults, ("none", _NONE)]}}


@console(_faults)
def fault_console(values, system):
    """A Console: a fault and its size, another beside it; gauge, bucket and tank return over the throttle.

    A size outside what the fault is tried at is held at the nearest one that is not, and the words say so.
    """
    rig, loaded = values["rig"], demo_rig(values["rig"])
    asked = {"A": (values["fault"], values["size"]), "B": (values["other"], values["other_size"])}
    shown = [_Shown("sound", "rig in good order", _LOOKS["sound"], *_found(rig, FAULTS["healthy"], 0.0))]
    for letter, (name, size) in asked.items():
        if name != _NONE:
            shown.append(_Shown(letter, f"{letter}: {name}", _LOOKS[letter], *_found(rig, *sized(name, size))))
    answers = [Answer("gauge at full throttle with A", shown[1].signature.gauge[2], "pressure")]
    rows = _gauges(loaded, shown, system), *_charts(loaded, shown, system), _table(shown, system)
    return stacked(_words(loaded, shown, system), *rows, answers=answers)


def signature_table(rig: str = "yard_trailer", *, without: tuple = ()) -> Table:
    """A Table with a row for each fault of a yard rig at its typical size: what gauge, flow, tank and engine do.

    without: names of faults to leave out.
    """
    loaded, rows = demo_rig(rig), []
    for fault in faults_of(loaded):
        if fault.name in ("healthy", *without):
            continue
        found = signature(loaded, fault)
        sound = found.healthy
        seen = [throttle_name(at) for at, flag in zip(_READ_AT, found.return_seen, strict=True) if flag]
        slow = _change(found.speed[2], sound.speed[2])
        engine = ", ".join(
            ([f"pump speed {slow}"] if slow != "same" else []) + (["labors"] if found.labours[2] else [])
        )
        gauges = (_change(value, usual) for value, usual in zip(found.gauge, sound.gauge, strict=True))
        bucket = _change(found.nozzle_flow[2], sound.nozzle_flow[2])
        stream = "always" if len(seen) == 3 else ", ".join(seen) or "none"
        rows.append((f"{fault.short}: {fault.measured(found.severity)}", *gauges, bucket, stream, engine or "normal"))
    heads = (
        "fault and size",
        "gauge, idle",
        "gauge, half",
        "gauge, full",
        "flow at nozzle, full",
        "return flow",
        "engine",
    )
    return Table(heads, tuple(rows), heads[1:5])


class _Shown(NamedTuple):
    """What is drawn: a letter for the table, a name for the legend, colour, dash and mark; what gauge, bucket and
    return show over THROTTLES, and the Signature (idle, half and full), SI.
    """

    letter: str
    name: str
    look: tuple
    gauge: np.ndarray
    nozzle_flow: np.ndarray
    return_flow: np.ndarray
    signature: object


def sized(name, size):
    """(Fault, severity): `size` held within what the fault is tried at."""
    fault = fault_named(name)
    return fault, float(min(max(size, fault.low), fault.high))


@lru_cache(maxsize=64)
def _found(name, fault, severity):
    loaded, changes = demo_rig(name), fault.factors(severity)
    point = state(loaded, changes, THROTTLES)
    flows = point.nozzle_flow, point.bypass_flow + point.leak_flow
    return point.gauge * changes.needle, *flows, signature(loaded, fault, severity)


def _charts(rig, shown, system):
    """The names of the curves, a tile, and three panels over the throttle; their axes are the rig's."""
    most = 1.02 * rig.pump.rated_flow
    figure = 1.5 * rig.unloader.setting if rig.unloader else usual_full_scale(rig)
    ups = {
        "gauge": Axis("gauge", "pressure", figure),
        "nozzle_flow": Axis("out of the nozzle", "flow", most),
        # Both flows on one scale, so that what is lost on one side is seen to arrive on the other.
        "return_flow": Axis("back to the tank", "flow", most),
    }
    tiles = []
    names = [Series(each.name, (), (), *each.look[:2]) for each in shown]
    for name, up in ups.items():
        panel = axes(system, THROTTLE, up, 60, 18, 182, 190)
        over, now = [], []
        for each in shown:
            values, (colour, dash, shape) = getattr(each, name), each.look
            pieces = now if each.letter == "A" else over
            pieces.append(curve(panel, Series(each.name, THROTTLES, values, colour, dash)))
            if each.letter != "sound":
                heights = zip(_READ_AT, np.interp(_READ_AT, THROTTLES, values), strict=True)
                pieces += [dot(panel, *at, colour=colour, shape=shape) for at in heights]
        tiles.append(chart(panel, 253, 254, over, now))

    def key(width):
        high = 26 if width > NARROW else 62
        return legend(Panel("", "", (0, 1), (0, 1), 14, high - 4, width - 28, 1), names), width, high

    return with_narrow(key, _WIDTH), tiles


def _gauges(rig, shown, system):
    """The gauge at idle, half and full throttle with each fault, and hollow the needle of the rig in good order."""
    tiles, sound = [], shown[0].signature
    full, setting = usual_full_scale(rig), rig.unloader.setting if rig.unloader else None
    for each in shown[1:]:
        parts = [text(14, 16, each.name, weight="bold")]
        for at, throttle in enumerate(_READ_AT):
            x, value = 64 + 126 * at, each.signature.gauge[at]
            parts.append(pressure_gauge(x, 82, 54, value, full, system, setting=setting, kept=sound.gauge[at]))
            parts.append(text(x, 154, throttle_name(throttle), anchor="middle"))
        tiles.append(("".join(parts), 380, 164))
    return tiles


def _table(shown, system):
    """Figures at idle, half and full throttle, the sound rig first: (content, width, height)."""
    heads = ("", "", ">gauge", ">", ">nozzle", ">", ">to the tank", ">pump speed", "engine")
    rows, sound, told = [], shown[0].signature, Told(system)
    for at, throttle in enumerate(_READ_AT):
        for each in shown:
            mine, first = each.signature, each is shown[0]
            rows.append(
                (
                    throttle_name(throttle) if first else "",
                    each.letter,
                    told.pressure(mine.gauge[at]),
                    "" if first else _change(mine.gauge[at], sound.gauge[at]),
                    told.flow(mine.nozzle_flow[at]),
                    "" if first else _change(mine.nozzle_flow[at], sound.nozzle_flow[at]),
                    told.flow(mine.return_flow[at]),
                    told.speed(mine.speed[at]),
                    "labors" if mine.labours[at] else "",
                )
            )
    return grid(heads, rows, (14, 100, 222, 310, 398, 486, 570, 668, 684), width=_WIDTH)


def _change(value, usual):
    """A reading against that of the sound rig: "27 % down", "same"."""
    change = value / usual - 1.0 if usual else 0.0
    if abs(change) <= _SAME:
        return "same"
    return f"{abs(100 * change):.0f} % {'up' if change > 0 else 'down'}"


def _words(rig, shown, system):
    sound, told = shown[0].signature, Told(system)
    gauges = ", ".join(
        f"{told.pressure(value)} at {throttle_name(at)}" for value, at in zip(sound.gauge, _READ_AT, strict=True)
    )
    words = [f"{rig.name} in good order: gauge {gauges}."]
    for each in shown[1:]:
        words.append(f"{each.letter}: " + " ".join(each.signature.sentences))
        fault, severity = each.signature.fault, each.signature.severity
        if severity in (fault.low, fault.high) and fault.low < fault.high:
            end = "least" if severity == fault.low else "most"
            words.append(f"This is the {end} that the course shows of this fault.")
    return " ".join(words)
