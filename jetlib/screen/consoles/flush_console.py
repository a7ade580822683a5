"""Lesson 10's console on the drain: the water that runs off, how deep, how fast, and what it takes along."""

from functools import lru_cache

import numpy as np

from jetlib.rig.job.flushing import DEBRIS, flushing, shear_that_moves
from jetlib.rig.parts.site import Drain
from jetlib.rig.point.alone import greatest_drain_flow
from jetlib.screen.controls.declared import console
from jetlib.screen.drawing.chart import HALO, Axis, Series, axes, chart, curve, dot, level, text, upright
from jetlib.screen.drawing.picture import Answer, stacked
from jetlib.units import Told, si

_WIDTH, _CHART, _HEIGHT = 760, 440, 306
_FLOWS = np.linspace(si("0.5 gpm", "flow"), si("60 gpm", "flow"), 121)
_GRAINS = tuple((name, size) for name, size in DEBRIS.items() if size is not None)
_TOP = 15.0  # Pa: past the drag that moves the coarsest grain


def drain_of(*, bore, fall, wall):
    """The Drain of the console's pipe."""
    return Drain(bore=bore, length=30.0, fall=fall, manning_n=wall)


def grain_words(system):
    """(name, grain size in words, shear in Pa that moves it) of each kind of grain."""
    return tuple(
        (name, Told(system).leak_bore(size, figures=2), float(shear_that_moves(size))) for name, size in _GRAINS
    )


@lru_cache(maxsize=32)
def _swept(bore, fall, wall):
    return flushing(_FLOWS, drain_of(bore=bore, fall=fall, wall=wall)).shear


@console()
def flush_console(values, system):
    """A Console: flow, pipe, fall and wall; the pipe's cross-section, and the drag on its floor against the flow."""
    flow, told = values.pop("flow"), Told(system)
    drain, grains = drain_of(**values), grain_words(system)
    found = flushing(flow, drain)
    up = Axis("drag of the water on the pipe floor, Pa", "", _TOP, whole=False)
    panel = axes(system, Axis("flow", "flow", _FLOWS[-1]), up, 62, 34, 190, 216)
    pieces, labels = _grain_lines(panel, grains, float(found.shear))
    pieces.append(upright(panel, flow, dash="dotted"))
    pieces.append(f'<g style="{HALO}">{"".join(labels)}</g>')
    now = [curve(panel, Series("", _FLOWS, _swept(**values))), dot(panel, flow, float(found.shear))]
    across = _cross_section(found, drain, told), _WIDTH - _CHART, _HEIGHT
    answers = [Answer("drag on the pipe floor", found.shear, "shear_stress")]
    words = _words(flow, values, found, grains, told)
    return stacked(words, [across, chart(panel, _CHART, _HEIGHT, pieces, now)], answers=answers)


def _grain_lines(panel, grains, shear):
    """(lines, words) of the grains: green and "goes" where they move, else orange."""
    lines, words = [], []
    for name, size, needed in grains:
        moves = needed <= shear
        ink = "green" if moves else "orange"
        lines.append(level(panel, needed, colour=ink, dash="solid" if moves else "dashed"))
        words.append((float(panel.y(needed)), f"{name} {size}: {'goes' if moves else 'stays'}", ink))
    # Names that would lie on one another are spread, the lowest first.
    placed, found = 1e9, []
    for y, label, ink in words:
        placed = min(y + 4.0, placed - 15.0)
        found.append(text(panel.left + panel.width + 8, placed, label, colour=ink))
    return lines, found


def _cross_section(found, drain, told):
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
    deep = "full" if found.full else f"{told.pipe_bore(depth * drain.bore)} deep"
    return (
        water
        + ring
        + text(x, 26, f"pipe {told.pipe_bore(drain.bore)}", anchor="middle")
        + text(x, 252, deep, anchor="middle", weight="bold")
        + text(x, 272, told.velocity(found.velocity), anchor="middle", weight="bold")
    )


def _words(flow, pipe, found, grains, told):
    most = greatest_drain_flow(pipe["bore"], pipe["fall"], pipe["wall"])
    goes = [name for name, _, needed in grains if needed <= float(found.shear)]
    stays = [name for name, _, needed in grains if needed > float(found.shear)]
    words = f"{told.flow(flow)} in a {told.pipe_bore(pipe['bore'])} pipe that falls {told.slope(pipe['fall'])}: "
    if found.full:
        words += f"it fills. By its fall alone the pipe carries at most {told.flow(most)}. "
    else:
        words += f"{told.pipe_bore(found.depth_ratio * pipe['bore'])} deep, "
        words += f"{100 * float(found.depth_ratio):.0f} % of the pipe. "
    words += f"It runs at {told.velocity(found.velocity)} and drags with {float(found.shear):.2g} Pa. "
    words += f"Carried along: {', '.join(goes) or 'nothing'}. Left behind: {', '.join(stays) or 'nothing'}."
    return words
