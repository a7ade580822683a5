"""The live rig drawn for a room: a large gauge, bars of the flows, a frozen state; and the line the room guessed."""

import numpy as np

from jetlib.rig.diagnosis.readings import throttle_name
from jetlib.rig.point.operating_point import operating_point, throttle_sweep
from jetlib.rig.uncertainty.band import usual_full_scale
from jetlib.screen.drawing.chart import THROTTLE, Axis, Series, axes, chart, curve, dot, legend, text
from jetlib.screen.drawing.gauge import pressure_gauge
from jetlib.screen.drawing.large import share_bar
from jetlib.screen.drawing.picture import Picture
from jetlib.units import text as words_of

GUESSED_AT = (0.0, 0.25, 0.5, 0.75, 1.0)
QUANTITIES = {"gauge": ("gauge", "pressure"), "nozzle_flow": ("nozzle flow", "flow")}
WIDTH, HEIGHT = 960, 560
_BARS = (("pump", "blue", False), ("nozzle", "green", False), ("back to the tank", "orange", True))
_LEFT, _RIGHT, _BAR = 455, 945, 370
_SAME = 0.01  # of what it was: nobody in the room sees the difference


def flows(point):
    """((name, flow in m3/s, its share of the pump's rated flow), …) of an OperatingPoint in the order of the bars."""
    found = (point.pump_flow, point.nozzle_flow, point.bypass_flow + point.leak_flow)
    rated = float(point.rig.pump.rated_flow)
    return tuple((name, float(flow), float(flow) / rated) for (name, *_), flow in zip(_BARS, found, strict=True))


def live_picture(point, system, *, kept=None, covered=False):
    """The Picture of an OperatingPoint of one rig at one throttle.

    kept: another one, frozen. covered: gauge and flows hidden, because the room is guessing.
    """
    if covered:
        return _covered(point)
    full = max(usual_full_scale(each.rig) for each in (point, kept) if each is not None)
    setting = point.rig.unloader.setting if point.rig.unloader is not None else None
    parts = [
        pressure_gauge(215, 226, 165, point.gauge, full, system, setting=setting, kept=kept and kept.gauge),
        text(215, 462, words_of(point.gauge, "pressure", system), size=60, anchor="middle", weight="bold"),
    ]
    if kept is not None:
        frozen = f"frozen {words_of(kept.gauge, 'pressure', system)}"
        parts.append(text(215, 498, frozen, size=30, anchor="middle", colour="purple", weight="bold"))
    for number, (name, flow, share) in enumerate(flows(point)):
        y, (_, colour, hatched) = 18 + 150 * number, _BARS[number]
        parts += [
            text(_LEFT, y + 28, name, size=30),
            text(_RIGHT, y + 30, words_of(flow, "flow", system), size=36, anchor="end", weight="bold"),
            share_bar(_LEFT, y + 42, _BAR, 44, share, colour, hatched=hatched),
            text(_RIGHT, y + 77, _percent(share), size=36, anchor="end", weight="bold"),
        ]
        if kept is not None:
            _, was, share = flows(kept)[number]
            words = f"frozen {words_of(was, 'flow', system)}   {_percent(share)}"
            parts.append(share_bar(_LEFT, y + 92, _BAR, 14, share, "purple", hollow=True))
            parts.append(text(_RIGHT, y + 132, words, size=26, anchor="end", colour="purple"))
    return Picture("".join([*parts, _throttle(point)]), WIDTH, HEIGHT, live_words(point, system, kept))


def _throttle(point):
    share = float(point.throttle)
    bar = share_bar(280, 522, 665, 24, share, "grey")
    return bar + text(262, 545, f"throttle {_percent(share)}", size=30, anchor="end", weight="bold")


def _covered(point):
    parts = [
        f'<rect x="20" y="20" width="{WIDTH - 40}" height="470" rx="14" fill="none" stroke="currentColor" '
        'stroke-width="4" stroke-dasharray="14 10"/>',
        text(WIDTH / 2, 230, "Guess first", size=80, anchor="middle", weight="bold"),
        text(WIDTH / 2, 300, "gauge and flows are covered", size=40, anchor="middle"),
        _throttle(point),
    ]
    words = "The gauge and the flows are covered: the room guesses first. Then press Show the answer."
    return Picture("".join(parts), WIDTH, HEIGHT, words)


def live_words(point, system, kept=None):
    """The live state as sentences, and what is different from the frozen one."""
    pump, nozzle, back = (f"{words_of(flow, 'flow', system)} ({_percent(share)}" for _, flow, share in flows(point))
    words = (
        f"{point.rig.name or 'The rig'} at {_percent(float(point.throttle))} throttle: gauge "
        f"{words_of(point.gauge, 'pressure', system)}. Pump {pump} of rated), nozzle {nozzle}), "
        f"back to the tank {back})."
    )
    against = [compared(point, kept, system)] if kept is not None else []
    return " ".join([words, *against, *point.cautions])


def compared(point, kept, system):
    """A sentence: the live state against the frozen one."""
    # Below a thousandth of the rated flow there is nothing to take a share of.
    little, parts = 1e-3 * float(point.rig.pump.rated_flow), []
    pairs = [("gauge", float(point.gauge), float(kept.gauge), "pressure", 1e4)]
    pairs += [(*now[:2], was[1], "flow", little) for now, was in zip(flows(point), flows(kept), strict=True)]
    for name, now, was, kind, least in pairs:
        if abs(now - was) <= max(_SAME * abs(was), least):
            parts.append(f"{name} the same")
            continue
        way = "up" if now > was else "down"
        share = f" ({abs(100 * (now / was - 1.0)):.0f} %)" if was > least else ""
        parts.append(f"{name} {way} {words_of(abs(now - was), kind, system)}{share}")
    return f"Against the state frozen at {_percent(float(kept.throttle))} throttle: {', '.join(parts)}."


# --- the room's guess --------------------------------------------------------------------------------


def guess_picture(rig, name, guesses, system, *, shown):
    """The Picture of the room's guess line for a key of QUANTITIES, and of how it is where `shown`.

    guesses: {throttle: SI}. It is small and drawn large, so that the figures on its axes are read from far.
    """
    label, kind = QUANTITIES[name]
    across = np.linspace(0.0, 1.0, 61)
    values = getattr(throttle_sweep(rig, across), name)
    top = max(guess_top(rig, name), float(np.max(values)) if shown else 0.0, *guesses.values())
    panel = axes(system, THROTTLE, Axis(label, kind, top), 66, 30, 400, 200)
    pieces, lines = [], []
    if guesses:
        lines.append(Series("the room's guess", *zip(*sorted(guesses.items()), strict=True), "orange", "dashed", 3.0))
        pieces += [curve(panel, lines[0])] if len(guesses) > 1 else []
        pieces += [dot(panel, *guess, colour="orange", shape="square") for guess in sorted(guesses.items())]
    if shown:
        lines.append(Series("the answer", across, values, "blue", "solid", 3.0))
        pieces.append(curve(panel, lines[-1]))
    pieces.append(legend(panel, lines))
    words = guess_words(rig, name, guesses, system) if shown else f"{len(guesses)} of {len(GUESSED_AT)} points guessed."
    return Picture(*chart(panel, 480, 275, pieces), f"The room's guess of the {label}. {words}")


def guess_top(rig, name):
    """The most a slider of a guess goes up to, SI: a round step above what the rig can do."""
    if name == "gauge":
        return 1.3 * float(rig.unloader.setting) if rig.unloader is not None else usual_full_scale(rig)
    return 1.2 * float(rig.pump.rated_flow)


def guess_words(rig, name, guesses, system):
    """How far the room was off at each throttle it guessed."""
    if not guesses:
        return "Nothing was guessed."
    _, kind = QUANTITIES[name]
    parts, worst = [], (0.0, "")
    for at, said in sorted(guesses.items()):
        real = float(getattr(operating_point(rig, at), name))
        off = said / real - 1.0 if real > 0 else 0.0
        how = "as good as right" if abs(off) <= 0.05 else f"{abs(100 * off):.0f} % too {'high' if off > 0 else 'low'}"
        parts.append(
            f"{throttle_name(at)}: said {words_of(said, kind, system)}, is {words_of(real, kind, system)}, {how}"
        )
        worst = max(worst, (abs(off), throttle_name(at)))
    end = f" Furthest off at {worst[1]}." if worst[0] > 0.05 else " The room knows this rig."
    return "; ".join(parts) + "." + end


def _percent(share):
    return f"{100 * share:.0f} %"
