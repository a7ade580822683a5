"""Lesson 06's consoles: one drill after another on a rig, and the best sets of holes that a box of drills can make."""

from functools import lru_cache

import numpy as np

from jetlib import tables
from jetlib.rig.change.whatif import fitted, rear_bore_to_match
from jetlib.rig.jets.drill_box import box_of
from jetlib.rig.jets.matching import matched_jets
from jetlib.rig.jets.sizing import size_jets
from jetlib.rig.point.operating_point import operating_point
from jetlib.screen.controls.declared import console
from jetlib.screen.controls.rig_choice import rig_of
from jetlib.screen.drawing.chart import Axis, Series, axes, charts, curve, dot, legend, level, upright
from jetlib.screen.drawing.grid import grid
from jetlib.screen.drawing.picture import Answer, stacked
from jetlib.units import Told, both

_WIDTH, _HEIGHT = 760, 300
_COUNTS = 8, 2  # rear holes, most and fewest
_DRILLS = {row.label: row for row in box_of()}
_LISTED = 6


def _drilled(rig):
    loaded = rig_of(rig)
    first, labels = loaded.nozzle.jets[0], list(_DRILLS)

    def other(step):
        def change(values):
            at = labels.index(values["drill"]) + step
            return {"drill": labels[min(max(at, 0), len(labels) - 1)]}

        return {"change": change}

    us, metric = Told("US"), Told("metric")
    drills = [
        (f"{label}, {us.jet_bore(row.diameter)} ({metric.jet_bore(row.diameter)})", label)
        for label, row in _DRILLS.items()
    ]
    return {
        "drill": {"options": drills, "start": tables.next_drill(first.bore, 0).label},
        "count": {"start": first.count},
        "larger": other(1),
        "smaller": other(-1),
        "note": {"bore": both(loaded.hoses[-1].bore, "hose_bore")},
    }


# --- one drill after another ------------------------------------------------------------------------


@lru_cache(maxsize=8)
def _span(name):
    """(smallest, largest bore drawn): about those that match with the most and with the fewest holes."""
    loaded = rig_of(name)
    bore = loaded.nozzle.jets[0].bore
    small, large = (rear_bore_to_match(fitted(loaded, count=count, bore=bore, added=0.0)) or bore for count in _COUNTS)
    return 0.72 * small, 1.36 * large


@lru_cache(maxsize=16)
def _swept(name, count, added):
    """(bore to match, bores of the drills in the picture, point at each, bores of the curve, point at each)."""
    loaded = rig_of(name)
    match = rear_bore_to_match(fitted(loaded, count=count, bore=loaded.nozzle.jets[0].bore, added=added))
    low, high = _span(name)
    bores = np.array([row.diameter for row in _DRILLS.values() if low <= row.diameter <= high])
    curve_bores = np.linspace(low, high, 121)
    at = [operating_point(fitted(loaded, count=count, bore=each, added=added)) for each in (bores, curve_bores)]
    return match, bores, at[0], curve_bores, at[1]


@console(_drilled)
def drills_console(values, system):
    """A Console: drill and number of the rear holes, hose added; gauge and flows at full throttle for every drill.

    drill: such as "#70". added: of hose, before the nozzle.
    """
    name, count, label = values["rig"], values["count"], values["drill"]
    match, bores, drilled, xs, along = _swept(name, count, values["added"])
    bore = _DRILLS[label].diameter
    point = operating_point(fitted(rig_of(name), count=count, bore=bore, added=values["added"]))
    setting, low, high = point.rig.unloader.setting, min(xs[0], bore), max(xs[-1], bore)
    across = Axis("bore of the rear holes", "jet_bore", high, low, whole=False)
    ups = Axis("gauge", "pressure", 1.35 * setting), Axis("flow", "flow", 1.02 * point.rig.pump.rated_flow)
    left, right = panels = [axes(system, across, up, 62, 34, 296, 218) for up in ups]
    gauge = Series("gauge", xs, along.gauge)
    flows = [
        Series("out of the nozzle", xs, along.nozzle_flow),
        Series("back to the tank", xs, along.bypass_flow, "orange", "dashed"),
    ]
    over = [legend(left, [gauge]), level(left, setting, "valve setting", anchor="end")], [legend(right, flows)]
    now = [curve(left, gauge)], [curve(right, each) for each in flows]
    for at, read, out in zip(bores, drilled.gauge, drilled.nozzle_flow, strict=True):
        over[0].append(_speck(left, at, read))
        over[1].append(_speck(right, at, out))
    if match:
        side, matched = "end" if match > (low + high) / 2.0 else "start", Told(system).jet_bore(match)
        over[0].append(upright(left, match, f"matched, {matched}", at=190, anchor=side, halo=True))
        over[1].append(upright(right, match))
    now[0].append(dot(left, bore, point.gauge))
    now[1].append(dot(right, bore, point.nozzle_flow))
    now[1].append(dot(right, bore, point.bypass_flow, colour="orange", shape="square"))
    words = " ".join([_drill_words(point, count, label, Told(system)), *point.cautions])
    answers = (
        Answer("gauge reading", point.gauge, "pressure"), Answer("out of the nozzle", point.nozzle_flow, "flow"),
    )  # fmt: skip
    return stacked(words, charts(panels, _HEIGHT, over, now), answers=answers)


def _speck(panel, x, y):
    """A small ring where a drill is."""
    at = f'cx="{float(panel.x(x)):.1f}" cy="{float(panel.y(y)):.1f}"'
    return f'<circle {at} r="3.2" fill="none" stroke="currentColor" stroke-width="1.4"/>'


def _drill_words(point, count, label, told):
    match = matched_jets(point.rig)
    words = f"{count} rear holes of {label}, {told.jet_bore(_DRILLS[label].diameter)}"
    if match.possible:
        words += f": {100 * point.rig.nozzle.effective_area / match.effective_area:.0f} % of the matched area"
    words += (
        f". At full throttle the gauge reads {told.pressure(point.gauge)}, {told.flow(point.nozzle_flow)} leaves the "
        f"nozzle, {told.flow(point.bypass_flow)} returns to the tank; {_opens(match.bypass_throttle)}. At the nozzle: "
        f"{told.pressure(point.nozzle_pressure)}, {told.power(point.power_shares['jets'])}, pull "
        f"{told.force(point.reaction)}."
    )
    return words if match.possible else f"{words} {match.advice}"


def _opens(throttle):
    """When the valve opens, in words."""
    if throttle <= 0.0:
        return "the valve is open from idle up"
    return f"the valve opens at {100 * throttle:.0f} % throttle" if throttle <= 1.0 else "the valve stays shut"


# --- the best sets ----------------------------------------------------------------------------------


@lru_cache(maxsize=32)
def _best(rig, added, rear, front, pull, sizes, evenness):
    rig = rig_of(rig)
    first = rig.nozzle.jets[0]
    return size_jets(
        fitted(rig, count=first.count, bore=first.bore, added=added, hose="3/8 in"),
        rear_holes=rear,
        front_holes=front,
        keep_pull=pull or None,
        most_sizes=sizes,
        wear_weight=evenness,
        top=_LISTED,
    )


@console()
def sets_console(values, system):
    """A Console: a yard rig, 3/8 in hose added, what is asked of the set; the best sets of number drills, ranked.

    rear, front: tuples of counts.
    """
    sets, told = _best(**values), Told(system)
    head = f"{sets.considered:,} sets can be drilled."
    if not len(sets):
        return stacked(f"{head} {sets.advice}", grid(["no set meets this"], [], [14], width=_WIDTH))
    heads = ("holes", ">of matched", ">gauge", ">nozzle", ">back", ">pull", ">uneven")
    rows, best = [_set_row(each, told) for each in sets], sets[0]
    label, share, gauge, flow, lost, pull, uneven = rows[0]
    words = (
        f"{head} Best: {label}, {share} of the matched area: gauge {gauge}, {flow} out of the nozzle, {lost} of the "
        f"water returns to the tank, pull {pull}, uneven by {uneven}."
    )
    if len(sets) > 1:
        words += f" Next: {sets[1].label}, {100 * sets[1].share:.0f} % of the matched area."
    words = " ".join([words, *best.cautions])
    table = grid(heads, rows, (14, 396, 472, 556, 610, 682, 750), width=_WIDTH, chosen=0)
    answers = (Answer("best set, gauge reading", best.gauge, "pressure"), Answer("pull", best.pull, "force"))
    return stacked(words, table, answers=answers)


def _set_row(each, told):
    return (
        each.label,
        f"{100 * each.share:.1f} %",
        told.pressure(each.gauge),
        told.flow(each.nozzle_flow),
        f"{100 * each.lost:.1f} %",
        told.force(each.pull),
        f"{100 * each.unevenness:.0f} %",
    )
