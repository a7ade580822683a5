"""Lesson 09's consoles: what the jets pull, what one has left at the wall, and what the hose drags with going in."""

from functools import lru_cache

import numpy as np

from jetlib.rig.change.whatif import shared_area, turned_nozzle
from jetlib.rig.hoses.weight import BRAIDS, weighed_as
from jetlib.rig.jets.work import distance_to_wall, jet_work, thrust_split
from jetlib.rig.job.reach import line_weights, reach
from jetlib.rig.parts.site import Bend, Drain
from jetlib.rig.point.operating_point import operating_point
from jetlib.screen.controls.declared import console
from jetlib.screen.controls.rig_choice import rig_of
from jetlib.screen.drawing.chart import (
    NARROW,
    Axis,
    Series,
    axes,
    chart,
    charts,
    curve,
    dot,
    legend,
    level,
    text,
    trace,
    upright,
)
from jetlib.screen.drawing.picture import Answer, stacked, with_narrow
from jetlib.units import Told, si

_HEIGHT = 300
_FRONT = 4  # holes in front, at most
_ENDS = (np.max, 0), (np.min, _FRONT)  # of the pull: without any in front, and with the most
_GAP = si("1 in", "pipe_bore")  # from hole to wall, as it begins
_STRAIGHT = np.pi / 2.0
_ANGLES = np.radians(np.linspace(0.0, 90.0, 91))
_STEEP = np.radians(np.linspace(10.0, 90.0, 81))
_IN_AIR = 100  # bores that a jet holds together in air; common practice, no source


def _own_jets(rig):
    jets = rig_of(rig).nozzle.jets
    front = sum(int(jet.count) for jet in jets if jet.angle > _STRAIGHT)
    return {"angle": {"start": min(float(jet.angle) for jet in jets)}, "front": {"start": front}}


@lru_cache(maxsize=32)
def _pull_by_angle(name, throttle, front):
    return operating_point(turned_nozzle(rig_of(name), angle=_ANGLES, front=front), throttle).reaction


# --- pull -------------------------------------------------------------------------------------------


@console(_own_jets)
def pull_console(values, system):
    """A Console: a yard rig, throttle, angle of the rear jets, holes in front; the forces, and the pull by angle.

    Angle and holes are those of the rig unless given.
    """
    name, angle, front = values["rig"], values["angle"], values["front"]
    rig = turned_nozzle(rig_of(name), angle=angle, front=front)
    point = operating_point(rig, values["throttle"])
    split = thrust_split(point)
    told = Told(system)
    words = _pull_words(rig, point, split, angle, front, told)
    tiles = [
        (_nozzle_picture(angle, front) + trace("forces", _forces(name, split, told)), NARROW, _HEIGHT),
        *_pull_chart(name, values, point, system),
    ]
    answers = (Answer("pull", point.reaction, "force"), Answer("gauge reading", point.gauge, "pressure"))
    return stacked(words, tiles, answers=answers)


def _pull_words(rig, point, split, angle, front, told):
    force, work = told.force, jet_work(point)[0]
    count = sum(jet.count for jet in rig.nozzle.jets if jet.angle <= _STRAIGHT)
    words = (
        f"{rig.name} at {100 * float(point.throttle):.0f} % throttle: {told.flow(point.nozzle_flow)} at "
        f"{told.pressure(point.nozzle_pressure)} nozzle pressure. {count} rear holes at {told.angle(angle)} pull "
        f"{force(split.rear)}; pointing straight back they would pull {force(split.straight_back)}. "
    )
    if front:
        words += f"{front} front {'hole pushes' if front == 1 else 'holes push'} back with {force(split.front)}. "
    words += f"Net pull along the hose: {force(point.reaction)}. "
    words += f"Each rear hole also pushes sideways with {force(work.sideways)}; around the nozzle these cancel."
    if point.bypass_flow > 1e-3 * point.pump_flow:
        words += f" The valve is open: {told.flow(point.bypass_flow)} goes back to the tank."
    return words + (_WARNING if point.reaction <= 0.0 else "")


_WARNING = (
    " NO PULL IS LEFT: this nozzle will not go in, and with the water on it comes back out at you. Do not run it."
)


def _pull_chart(name, values, point, system):
    """The pull by angle, a tile; its axes hold the most and the least that this rig can pull."""
    most, least = (end(_pull_by_angle(name, 1.0, front)) for end, front in _ENDS)
    across = Axis("angle of the rear jets to the hose", "angle", _STRAIGHT, whole=False)
    panel = axes(system, across, Axis("net pull", "force", 1.05 * most, least), 62, 34, 290, 212)
    side = "start" if np.degrees(values["angle"]) < 50 else "end"
    mark = dot(panel, values["angle"], point.reaction, panel.told(point.reaction), anchor=side)
    pulls = _pull_by_angle(name, values["throttle"], values["front"])
    now = [curve(panel, Series("net pull", _ANGLES, pulls)), mark]
    return charts([panel], _HEIGHT, [[level(panel, 0.0, "no pull", colour="red")]], [now])


def _nozzle_picture(angle, front):
    """A pipe cut open, hose from the left, nozzle, its jets at their true angle up to the wall."""
    x, y, half = 190, 82, 44
    walls = f'<path d="M10 {y - half}H370M10 {y + half}H370" stroke="currentColor" stroke-width="3" opacity="0.55"/>'
    hose = f'<path d="M10 {y}H{x - 18}" stroke="currentColor" stroke-width="9" opacity="0.5"/>'
    body = f'<path d="M{x - 20} {y - 10}H{x + 8}L{x + 22} {y}L{x + 8} {y + 10}H{x - 20}Z" fill="currentColor"/>'
    jets = []
    for side in (-1, 1):
        reach = min((half - 10) / max(np.sin(angle), 1e-6), 150.0)
        x1 = x - 12 - reach * np.cos(angle)
        y1 = y + side * (10 + reach * np.sin(angle))
        jets.append(f"M{x - 12} {y + side * 10}L{x1:.1f} {y1:.1f}")
    if front:
        jets.append(f"M{x + 22} {y}H{x + 120}")
    water = f'<path class="jl-line-blue" d="{"".join(jets)}" stroke-width="3.5"/>'
    names = text(14, y - half - 8, "to the machine") + text(366, y - half - 8, "into the pipe", anchor="end")
    return walls + hose + water + body + names


def _forces(name, split, told):
    """Arrows for the rear, the front and what is left, to the rig's scale; to the right is into the pipe."""
    full = float(np.max(_pull_by_angle(name, 1.0, 0)))
    rows = [("rear", split.rear, "green"), ("front", -np.asarray(split.front), "orange"), ("net", split.net, "blue")]
    parts = ['<path d="M190 142V268" stroke="currentColor" stroke-dasharray="2 4"/>']
    for number, (part, force, colour) in enumerate(rows):
        y = 160 + 42 * number
        parts.append(_arrow(190.0, y, 165.0 * float(force) / full, colour))
        words = f"{part} {told.force(abs(float(force)))}"
        if abs(force) > 1e-9:
            words += " into the pipe" if force > 0 else " back out"
        parts.append(text(14, y + 24, words, colour=colour, weight="bold" if part == "net" else "normal"))
    return "".join(parts)


def _arrow(x, y, length, colour):
    if abs(length) < 1.0:
        return f'<circle class="jl-ink-{colour}" cx="{x}" cy="{y}" r="4"/>'
    head = float(np.copysign(min(10.0, abs(length)), length))
    end = x + length
    return (
        f'<path class="jl-line-{colour}" d="M{x} {y}H{end - head / 2:.1f}" stroke-width="8"/>'
        f'<path class="jl-ink-{colour}" d="M{end:.1f} {y}L{end - head:.1f} {y - 9}V{y + 9}Z"/>'
    )


# --- bite -------------------------------------------------------------------------------------------


@console()
def cut_console(values, system):
    """A Console: one area shared by a number of rear holes; their pull, and what a jet has left at the wall."""
    name = values["rig"]
    point = operating_point(shared_area(rig_of(name), count=values["count"], angle=_STEEP))
    (swept,) = jet_work(point)
    at_wall = swept.pressure_under_water(distance_to_wall(values["gap"], _STEEP))
    here = operating_point(shared_area(rig_of(name), count=values["count"], angle=values["angle"]))
    (work,) = jet_work(here)
    way = distance_to_wall(values["gap"], values["angle"])
    left = work.pressure_under_water(way)
    across, most = Axis("angle to the hose", "angle", _STRAIGHT, whole=False), _most_of_cut(name)
    panels, over, now = [], [], []
    # The pull falls and the pressure at the wall rises with the angle: the figure goes where the curve is not.
    for title, up, ys, y, turn in (
        ("pull along the hose", Axis("", "force", most[0]), swept.pull, work.pull, 50),
        ("pressure left at the wall, pipe full of water", Axis("", "pressure", most[1]), at_wall, left, 20),
    ):
        panel = axes(system, across, up, 66, 44, 286, 206, title)
        side = "start" if np.degrees(values["angle"]) < turn else "end"
        panels.append(panel)
        over.append([upright(panel, values["angle"], dash="dotted")])
        mark = dot(panel, values["angle"], y, panel.told(y), anchor=side)
        now.append([curve(panel, Series("", _STEEP, ys)), mark])
    words = _cut_words(values, work, way, left, Told(system))
    answers = (Answer("pull", float(work.pull), "force"), Answer("pressure at the wall", float(left), "pressure"))
    return stacked(words, charts(panels, _HEIGHT, over, now), answers=answers)


@lru_cache(maxsize=8)
def _most_of_cut(name):
    """(pull, pressure at the wall) that the axes hold: somewhat more than those of one hole at the usual gap."""
    point = operating_point(shared_area(rig_of(name), count=1, angle=_STEEP))
    (work,) = jet_work(point)
    at_wall = work.pressure_under_water(distance_to_wall(_GAP, _STEEP))
    return 1.08 * float(np.max(work.pull)), 1.08 * float(np.max(at_wall))


def _cut_words(values, work, way, left, told):
    bores = way / float(work.jet.bore)
    count = values["count"]
    holes = f"{count} holes" if count > 1 else "1 hole"
    air = "within" if bores <= _IN_AIR else "beyond"
    return (
        f"{holes} of {told.jet_bore(work.jet.bore)} at {told.angle(values['angle'])}: together they pull "
        f"{told.force(work.pull)}. Each carries {told.power(work.power_of_one)}, and would hit a wall straight in "
        f"front of it with a force of {told.force(work.impact_force)}. The wall is {told.pipe_bore(way)} away, or "
        f"{bores:.0f} bores. In a full pipe {told.pressure(left)} of the {told.pressure(work.impact_pressure)} at the "
        f"hole is left there. In air the wall is {air} the hundred bores or so over which a jet holds together."
    )


# --- reach ----------------------------------------------------------------------------------------

_RUN = si("300 ft", "length")
_STEPS = 301


def _braids(_):
    options = [
        (words + ("" if share == 1.0 else f", {100 * share:.0f} % of the weight of steel"), share)
        for words, share in reversed(BRAIDS.items())
    ]
    return {"kind": {"options": options, "start": BRAIDS["fiber braid"]}}


def reach_of(name, *, kind, friction, fall, way, turn, at):
    """The Reach of a yard rig at full throttle in a 300 ft run; `kind`: weight of its hose over that of two-wire."""
    drain = Drain(bore="4 in", length=_RUN, fall=fall, nozzle_goes=way, bends=[Bend(at, turn)] if turn > 0.0 else [])
    return reach(_point(name, kind), drain, friction=friction)


@lru_cache(maxsize=16)
def _point(name, kind):
    rig = rig_of(name)
    hoses = [weighed_as(hose, kind) for hose in rig.hoses]
    return operating_point(rig.replace(hoses=hoses))


@console(_braids)
def reach_console(values, system):
    """A Console: a yard rig at full throttle, its hose, friction, fall and one bend; drag against pull, and reach."""
    name = values.pop("rig")
    found = reach_of(name, **values)
    far = np.linspace(0.0, _RUN, _STEPS)
    if values["turn"] > 0.0:  # a step is drawn where the bend is
        at = values["at"]
        far = np.sort(np.concatenate([far, [at, min(at + 1e-6, _RUN)]]))
    drag = np.asarray(found.drag(far))
    across, up = Axis("nozzle in the pipe", "length", _RUN), Axis("force", "force", 1.4 * max(found.pull, 1.0))
    series = [
        Series("pull of the jets", far[[0, -1]], np.full(2, found.pull)),
        Series("drag of the hose", far, drag, "orange", "dashed"),
    ]

    def drawn(width):
        panel = axes(system, across, up, 66, 34, width - 110, 222)
        pieces, now = [legend(panel, series)], [curve(panel, each, inside=True) for each in series]
        if values["turn"] > 0.0:
            pieces.append(upright(panel, values["at"], "bend", at=190))
        if found.pull > 0.0:
            side = "start" if panel.x_share(found.distance) < 0.7 else "end"
            now.append(dot(panel, found.distance, found.pull, Told(system).length(found.distance), anchor=side))
        return chart(panel, width, 310, pieces, now)

    answers = Answer("the nozzle goes in", found.distance, "length"), Answer("pull", found.pull, "force")
    return stacked(_reach_words(name, found, values, system), with_narrow(drawn, 2 * NARROW), answers=answers)


def _reach_words(name, found, values, system):
    force, length = Told(system).force, Told(system).length
    unit = si("10 ft" if system == "US" else "3 m", "length")
    weight, drag = line_weights(found.point.rig)[-1] * unit, found.drag(unit)
    words = f"{rig_of(name).name}: the jets pull {force(found.pull)}. "
    words += f"{length(unit)} of hose, full of water, weighs {force(weight)}"
    straight = all(bend.at >= unit for bend in found.drain.bends)
    words += f" and drags with {force(drag)}. " if straight else ". "
    ends = {
        "pull": "from there on the hose drags as hard as they pull",
        "hose": "that is all the hose",
        "run": "the end of the run",
    }
    if found.limited_by == "pull" and values["turn"] > 0.0 and found.distance == values["at"]:
        ends["pull"] = "they cannot pull it around the bend"
    words += f"The jets pull the nozzle {length(found.distance)} in: {ends[found.limited_by]}."
    if found.distance > 0.0:
        words += (
            f" Pulling the hose back from there takes {force(found.pull_back(found.distance))} with the jets on "
            f"and {force(found.pull_back(found.distance, jets_on=False))} with them off, at the entry."
        )
    slides = [caution for caution in found.hose_cautions if "slides down" in caution]
    return " ".join([words, *slides])
