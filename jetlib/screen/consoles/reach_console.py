"""Lesson 09's console on the hose: what it drags with, going in, against what the jets pull."""

from functools import lru_cache

import numpy as np

from jetlib.rig.hoses.weight import BRAIDS, weighed_as
from jetlib.rig.job.reach import line_weights, reach
from jetlib.rig.parts.site import Bend, Drain
from jetlib.rig.point.operating_point import operating_point
from jetlib.screen.controls.declared import console
from jetlib.screen.controls.rig_choice import rig_of
from jetlib.screen.drawing.chart import Axis, Series, axes, chart, curve, dot, legend, upright
from jetlib.screen.drawing.picture import Answer, stacked, with_narrow
from jetlib.units import Told, si

_WIDTH, _HEIGHT = 760, 310
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
        return chart(panel, width, _HEIGHT, pieces, now)

    answers = Answer("the nozzle goes in", found.distance, "length"), Answer("pull", found.pull, "force")
    return stacked(_words(name, found, values, system), with_narrow(drawn, _WIDTH), answers=answers)


def _words(name, found, values, system):
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
