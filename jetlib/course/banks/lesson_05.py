"""Predictions of lesson 05, bypass."""

from functools import cache

from jetlib.course.exercises import PredictedChoice, PredictedCurve, PredictedNumber, predicted
from jetlib.course.exercises.amounts import feet, gpm, hose_bore, machine, point
from jetlib.rig.jets.matching import matched_jets
from jetlib.rig.parts.machine import Hose
from jetlib.rig.point.operating_point import operating_point

_ADDED, _ADDED_SIZE = feet(200), "3/8 in"
_CLIMBS = {"falls": 0.75, "stays": 1.0, "third": 1.33, "double": 2.0}


@cache
def _trailer_longer():
    """The yard trailer at full throttle with more hose coupled on."""
    rig = machine("trailer")
    return operating_point(rig.replace(hoses=(*rig.hoses, Hose(_ADDED_SIZE, _ADDED))))


def _gauge_climbs(p):
    """The option nearest to what the gauge reading does."""
    ratio = _trailer_longer().gauge / point("trailer").gauge
    return min(_CLIMBS, key=lambda name: abs(_CLIMBS[name] - ratio))


def _about_trailer(words):
    """A question with the trailer's own figures put in, worked out when it is asked."""

    def question(parameters, show):
        return words.format(
            gauge=show(point("trailer").gauge, "pressure"),
            flow=show(point("trailer").nozzle_flow, "flow"),
            setting=show(machine("trailer").unloader.setting, "pressure"),
            added=f"{show(_ADDED, 'length')} of {show(hose_bore(_ADDED_SIZE), 'bore')} hose",
        )

    return question


GAUGE_WITH_MORE_HOSE = predicted(
    PredictedChoice,
    "05-gauge-with-more-hose",
    ask=_about_trailer(
        "At full throttle the yard trailer's gauge reads {gauge}, and its bypass valve is set to {setting}. Another "
        "{added} is added, with the same jets. What does the gauge reading do at full throttle?"
    ),
    answer=_gauge_climbs,
)

FLOW_WITH_MORE_HOSE = predicted(
    PredictedNumber,
    "05-flow-with-more-hose",
    ask=_about_trailer(
        "Before the hose was added, {flow} left the nozzle. How much leaves it with another {added}, at full throttle?"
    ),
    kind="flow",
    answer=lambda p: _trailer_longer().nozzle_flow,
)


def _about_small_bore(parameters, show):
    opens = matched_jets(machine("small_bore")).bypass_throttle
    return (
        f"The yard's small-bore set delivers {show(point('small_bore', 0.0).nozzle_flow, 'flow')} at idle (0 %). Its "
        f"jets are small: the bypass valve opens at about {show(opens, 'fraction', 2)} throttle. Sketch what leaves "
        "the nozzle, from idle to full throttle."
    )


NOZZLE_CURVE = predicted(
    PredictedCurve,
    "05-nozzle-against-throttle",
    ask=_about_small_bore,
    x=("throttle", "fraction"),
    y=("nozzle flow", "flow"),
    xs=(0.0, 0.25, 0.5, 0.75, 1.0),
    top=gpm(5),
    answer=lambda p, x: operating_point(machine("small_bore"), x).nozzle_flow,
)

PREDICTIONS = (GAUGE_WITH_MORE_HOSE, FLOW_WITH_MORE_HOSE, NOZZLE_CURVE)
