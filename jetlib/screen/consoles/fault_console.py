"""Lesson 08's first console: how one fault shows on gauge, bucket and tank return, beside the sound rig and another."""

from functools import lru_cache
from typing import NamedTuple

import numpy as np

from jetlib.rig.change.factors import state
from jetlib.rig.diagnosis.faults import FAULTS, fault_named, faults_of, signature
from jetlib.rig.diagnosis.readings import throttle_name
from jetlib.rig.parts.rig_file import demo_rig
from jetlib.rig.uncertainty.band import usual_full_scale
from jetlib.screen.controls.console import Amount, Choice, Console
from jetlib.screen.drawing.chart import NARROW, Panel, Series, chart, curve, dot, legend, nice_ceiling, text
from jetlib.screen.drawing.gauge import pressure_gauge
from jetlib.screen.drawing.grid import grid
from jetlib.screen.drawing.picture import Answer, stacked, with_narrow
from jetlib.screen.drawing.table import Table
from jetlib.units import from_si, unit_label
from jetlib.units import text as words_of

THROTTLES = np.linspace(0.0, 1.0, 61)
_READ_AT = (0.0, 0.5, 1.0)
_WIDTH = 760
_SMALLEST, _LARGEST = 0.05, 1.0
_SAME = 0.02  # less than this and nobody would call it a change
_NONE = "none"
_LOOKS = (("grey", "solid", "circle"), ("blue", "dashed", "circle"), ("orange", "dash-dot", "square"))


def fault_console(
    rig: str = "yard_trailer",
    *,
    system: str | None = None,
    title: str = "One fault, or two side by side",
    **start: object,
) -> Console:
    """A Console: a fault and its size, another beside it; gauge, bucket and tank return over the throttle.

    start: any of fault, size, other (a fault's name or "none"), other_size, as the controls take them. A size outside
    what the fault is tried at is held at the nearest one that is not, and the words say so.
    """
    faults = tuple((fault.title, fault.name) for fault in faults_of(demo_rig(rig)) if fault.name != "healthy")

    def draw(values, system):
        shown = [_Shown("sound", "rig in good order", FAULTS["healthy"], 0.0)]
        shown.append(_Shown("A", f"A: {values['fault']}", *sized(values["fault"], values["size"])))
        if values["other"] != _NONE:
            shown.append(_Shown("B", f"B: {values['other']}", *sized(values["other"], values["other_size"])))
        found = [_found(rig, each.fault.name, each.severity) for each in shown]
        loaded, (key, charts) = demo_rig(rig), _charts(demo_rig(rig), shown, found, system)
        setting = loaded.unloader.setting if loaded.unloader else None
        gauges = _gauges(shown, found, setting, usual_full_scale(loaded), system)
        answers = [Answer("gauge at full throttle with A", found[1].signature.gauge[2], "pressure")]
        rows = gauges, key, charts, _table(shown, found, system)
        return stacked(_words(rig, shown, system), *rows, answers=answers)

    controls = [
        Choice("fault", "Fault A", faults, "jet plugged"),
        Amount("size", "Size of A", "fraction", _SMALLEST, _LARGEST, 95, 0.25),
        Choice("other", "Fault B, to compare", (*faults, ("none", _NONE)), "hose narrow"),
        Amount("other_size", "Size of B", "fraction", _SMALLEST, _LARGEST, 95, 0.6),
    ]
    return Console(title, controls, draw, system=system, note=demo_rig(rig).name, start=start)


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
    """What is drawn: a letter for the table, a name for the legend, the fault and its severity."""

    letter: str
    name: str
    fault: object
    severity: float


class _Found(NamedTuple):
    """What gauge, bucket and return show over THROTTLES (first three) and at idle, half and full (the rest), SI."""

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
    loaded, changes = demo_rig(name), FAULTS[fault].factors(severity)
    point = state(loaded, changes, THROTTLES)
    return _Found(
        gauge=point.gauge * changes.needle,
        nozzle_flow=point.nozzle_flow,
        return_flow=point.bypass_flow + point.leak_flow,
        signature=signature(loaded, fault, severity),
    )


def _charts(rig, shown, found, system):
    """The names of the curves, a tile, and three panels over the throttle; their axes are the rig's."""
    pressure, flow = unit_label("pressure", system), unit_label("flow", system)
    most = nice_ceiling(from_si(1.02 * rig.pump.rated_flow, "flow", system))
    figure = 1.5 * rig.unloader.setting if rig.unloader else usual_full_scale(rig)
    parts = (
        ("gauge", "pressure", f"gauge, {pressure}", nice_ceiling(from_si(figure, "pressure", system))),
        ("nozzle_flow", "flow", f"out of the nozzle, {flow}", most),
        # Both flows on one scale, so that what is lost on one side is seen to arrive on the other.
        ("return_flow", "flow", f"back to the tank, {flow}", most),
    )
    tiles = []
    names = [Series(each.name, (), (), *_LOOKS[number][:2]) for number, each in enumerate(shown)]
    for name, kind, label, top in parts:
        panel = Panel("throttle, %", label, (0, 100), (0, top), 60, 18, 182, 190)
        over, now = [], []
        for each, here, (colour, dash, shape) in zip(shown, found, _LOOKS, strict=False):
            values = from_si(getattr(here, name), kind, system)
            pieces = now if each.letter == "A" else over
            pieces.append(curve(panel, Series(each.name, 100 * THROTTLES, values, colour, dash)))
            if each.letter != "sound":
                pieces += [
                    dot(panel, 100 * place, np.interp(place, THROTTLES, values), colour=colour, shape=shape)
                    for place in _READ_AT
                ]
        tiles.append((chart([panel], 253, 254, over, now), 253, 254))

    def key(width):
        high = 26 if width > NARROW else 62
        return legend(Panel("", "", (0, 1), (0, 1), 14, high - 4, width - 28, 1), names), width, high

    return with_narrow(key, _WIDTH), tiles


def _gauges(shown, found, setting, full, system):
    """The gauge at idle, half and full throttle with each fault, and hollow the needle of the rig in good order."""
    tiles, sound = [], found[0].signature
    for each, here in zip(shown[1:], found[1:], strict=True):
        parts = [text(14, 16, each.name, weight="bold")]
        for at, throttle in enumerate(_READ_AT):
            x, value = 64 + 126 * at, here.signature.gauge[at]
            parts.append(pressure_gauge(x, 82, 54, value, full, system, setting=setting, kept=sound.gauge[at]))
            parts.append(text(x, 154, throttle_name(throttle), anchor="middle"))
        tiles.append(("".join(parts), 380, 164))
    return tiles


def _table(shown, found, system):
    """Figures at idle, half and full throttle, the sound rig first: (content, width, height)."""
    heads = ("", "", ">gauge", ">", ">nozzle", ">", ">to the tank", ">pump speed", "engine")
    rows, sound = [], found[0].signature
    for at, throttle in enumerate(_READ_AT):
        for each, here in zip(shown, found, strict=True):
            mine = here.signature
            changes = [_change(getattr(mine, name)[at], getattr(sound, name)[at]) for name in ("gauge", "nozzle_flow")]
            if each.letter == "sound":
                changes = ["", ""]
            rows.append(
                (
                    throttle_name(throttle) if each.letter == "sound" else "",
                    each.letter,
                    words_of(mine.gauge[at], "pressure", system),
                    changes[0],
                    words_of(mine.nozzle_flow[at], "flow", system),
                    changes[1],
                    words_of(mine.return_flow[at], "flow", system),
                    words_of(mine.speed[at], "speed", system),
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
    sound = signature(demo_rig(rig), "healthy")
    gauges = ", ".join(
        f"{words_of(value, 'pressure', system)} at {throttle_name(at)}"
        for value, at in zip(sound.gauge, _READ_AT, strict=True)
    )
    words = [f"{demo_rig(rig).name} in good order: gauge {gauges}."]
    for each in shown[1:]:
        words.append(f"{each.letter}: " + " ".join(signature(demo_rig(rig), each.fault, each.severity).sentences))
        if each.severity in (each.fault.low, each.fault.high) and each.fault.low < each.fault.high:
            end = "least" if each.severity == each.fault.low else "most"
            words.append(f"This is the {end} that the course shows of this fault.")
    return " ".join(words)
