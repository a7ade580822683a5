"""Lesson 10's console on the drain: the water that runs off, how deep, how fast, and what it takes along."""

from functools import lru_cache

import numpy as np

from jetlib.rig.job.flushing import DEBRIS, flushing, shear_that_moves
from jetlib.rig.parts.drain import Drain
from jetlib.rig.point.alone import greatest_drain_flow
from jetlib.screen.controls.console import Amount, Choice, Console
from jetlib.screen.drawing.chart import HALO, Panel, Series, chart, curve, dot, nice_ceiling, text, upright
from jetlib.screen.drawing.picture import Answer, stacked
from jetlib.units import both, from_si, si, unit_label
from jetlib.units import text as words_of

_WIDTH, _CHART, _HEIGHT = 760, 440, 306
_FLOWS = np.linspace(si("0.5 gpm", "flow"), si("60 gpm", "flow"), 121)
_BORES = tuple(
    (both(si(f"{inch} in", "pipe_bore"), "pipe_bore"), si(f"{inch} in", "pipe_bore")) for inch in (3, 4, 6, 8, 10)
)
_WALLS = (("smooth plastic, n 0.010", 0.010), ("usual, n 0.013", 0.013), ("rough or old, n 0.016", 0.016))
_GRAINS = tuple((name, size) for name, size in DEBRIS.items() if size is not None)
_TOP = 15.0  # Pa: past the drag that moves the coarsest grain


def flush_console(*, system: str | None = None, title: str = "What the water takes along", **start: object) -> Console:
    """A Console: flow, pipe, fall and wall; the pipe's cross-section, and the drag on its floor against the flow.

    start: any of flow, bore, fall, wall, as the controls take them.
    """
    controls = [
        Amount("flow", "Flow from the nozzle", "flow", "0.5 gpm", "60 gpm", 119, "9 gpm"),
        Choice("bore", "Pipe", _BORES, si("4 in", "pipe_bore")),
        Amount("fall", "Fall of the pipe", "slope", 0.0025, 0.1, 39, 0.02),
        Choice("wall", "Pipe wall", _WALLS, 0.013),
    ]
    note = (
        "For steady flow in a clean pipe, some way from the nozzle. Close to the jets the water is stirred far harder."
    )
    return Console(title, controls, _draw, system=system, note=note, start=start)


def drain_of(*, bore, fall, wall):
    """The Drain of the console's pipe."""
    return Drain(bore=bore, length=30.0, fall=fall, manning_n=wall)


def grain_words(system):
    """(name, grain size in words, shear in Pa that moves it) of each kind of grain."""
    return tuple(
        (name, words_of(size, "leak_bore", system, 2), float(shear_that_moves(size))) for name, size in _GRAINS
    )


@lru_cache(maxsize=32)
def _swept(bore, fall, wall):
    return flushing(_FLOWS, drain_of(bore=bore, fall=fall, wall=wall)).shear


def _draw(values, system):
    flow = values["flow"]
    drain = drain_of(**{name: values[name] for name in ("bore", "fall", "wall")})
    found = flushing(flow, drain)
    shears = _swept(*(values[name] for name in ("bore", "fall", "wall")))
    grains = grain_words(system)
    xs = from_si(_FLOWS, "flow", system)
    panel = Panel(
        f"flow, {unit_label('flow', system)}", "drag of the water on the pipe floor, Pa",
        (0, nice_ceiling(float(xs[-1]))), (0, _TOP), 62, 34, 190, 216,
    )  # fmt: skip
    pieces, labels = _grain_lines(panel, grains, float(found.shear))
    pieces.append(upright(panel, from_si(flow, "flow", system), dash="dotted"))
    pieces.append(f'<g style="{HALO}">{"".join(labels)}</g>')
    now = [curve(panel, Series("", xs, shears)), dot(panel, from_si(flow, "flow", system), float(found.shear))]
    across = _cross_section(found, drain, system), _WIDTH - _CHART, _HEIGHT
    drawn = chart([panel], _CHART, _HEIGHT, pieces, now), _CHART, _HEIGHT
    words = _words(values, found, grains, system)
    answers = [Answer("drag on the pipe floor", float(found.shear), "shear_stress")]
    return stacked(words, [across, drawn], answers=answers)


def _grain_lines(panel, grains, shear):
    """(lines, words) of the grains: green and "goes" where they move, else orange."""
    lines, words = [], []
    for name, size, needed in grains:
        moves = needed <= shear
        y, ink = float(panel.y(needed)), "green" if moves else "orange"
        lines.append(
            f'<line class="jl-line-{ink}" x1="{panel.left}" x2="{panel.left + panel.width}" y1="{y:.1f}" y2="{y:.1f}" '
            f'stroke-width="1.6" stroke-dasharray="{"" if moves else "7 4"}"/>'
        )
        words.append((y, f"{name} {size}: {'goes' if moves else 'stays'}", ink))
    # Names that would lie on one another are spread, the lowest first.
    placed, found = 1e9, []
    for y, label, ink in words:
        placed = min(y + 4.0, placed - 15.0)
        found.append(text(panel.left + panel.width + 8, placed, label, colour=ink))
    return lines, found


def _cross_section(found, drain, system):
    x, y, radius = 160.0, 130.0, 92.0
    depth = min(float(found.depth_ratio), 1.0)
    ring = f'<circle cx="{x}" cy="{y}" r="{radius}" fill="none" stroke="currentColor" stroke-width="4"/>'
    surface = y + radius - 2.0 * radius * depth
    half = float(np.sqrt(max(radius**2 - (surface - y) ** 2, 0.0)))
    large = 1 if depth > 0.5 else 0
    if depth >= 1.0:
        water = f'<circle class="jl-ink-blue" fill-opacity="0.4" cx="{x}" cy="{y}" r="{radius}"/>'
    else:
        water = (
            f'<path class="jl-ink-blue" fill-opacity="0.4" d="M{x - half:.1f} {surface:.1f}'
            f'A{radius} {radius} 0 {large} 0 {x + half:.1f} {surface:.1f}Z"/>'
        )
    deep = "full" if found.full else f"{words_of(depth * drain.bore, 'pipe_bore', system)} deep"
    return (
        water
        + ring
        + text(x, 26, f"pipe {words_of(drain.bore, 'pipe_bore', system)}", anchor="middle")
        + text(x, 252, deep, anchor="middle", weight="bold")
        + text(x, 272, words_of(float(found.velocity), "velocity", system), anchor="middle", weight="bold")
    )


def _words(values, found, grains, system):
    goes = [name for name, _, needed in grains if needed <= float(found.shear)]
    stays = [name for name, _, needed in grains if needed > float(found.shear)]
    most = greatest_drain_flow(values["bore"], values["fall"], values["wall"])
    words = (
        f"{words_of(values['flow'], 'flow', system)} in a {words_of(values['bore'], 'pipe_bore', system)} pipe that "
        f"falls {words_of(values['fall'], 'slope', system)}: "
    )
    if found.full:
        words += f"it fills. By its fall alone the pipe carries at most {words_of(most, 'flow', system)}. "
    else:
        words += f"{words_of(found.depth_ratio * values['bore'], 'pipe_bore', system)} deep, "
        words += f"{100 * float(found.depth_ratio):.0f} % of the pipe. "
    words += (
        f"It runs at {words_of(float(found.velocity), 'velocity', system)} and drags with {float(found.shear):.2g} Pa. "
    )
    words += f"Carried along: {', '.join(goes) or 'nothing'}. Left behind: {', '.join(stays) or 'nothing'}."
    return words
