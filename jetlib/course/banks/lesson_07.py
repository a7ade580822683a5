"""Predictions of lesson 07, choosing hose."""

from functools import cache

import numpy as np

from jetlib import tables
from jetlib.course.exercises import PredictedChoice, PredictedCurve, PredictedNumber
from jetlib.course.exercises.amounts import feet, gpm
from jetlib.course.exercises.shapes import predicted
from jetlib.course.exercises.yard import loss
from jetlib.rig.parts.machine import Hose
from jetlib.rig.parts.rig_file import demo_rig
from jetlib.rig.point.operating_point import operating_point

_ROUGHNESS = tables.roughness("rubber hose inner tube").typical


@cache
def _trailer():
    return demo_rig("yard_trailer")


def _last(length):
    return Hose(tables.hose(4).bore, length, roughness=_ROUGHNESS)


def _flow_of(hoses):
    """What leaves the trailer's nozzle through these hoses, m3/s."""
    return float(operating_point(_trailer().replace(hoses=hoses)).nozzle_flow)


THIN_LEADER = predicted(
    PredictedNumber,
    "07-thin-leader",
    """
    A small leader hose on the trailer
    ask: The yard trailer puts {full} out of its nozzle. To get round a tight bend, you add {added} of -4 hose (bore
        {bore}) before the nozzle. Same jets, full throttle. How much leaves the nozzle now?
    """,
    parameters={"full": gpm(9.0), "added": feet(50), "bore": tables.hose(4).bore},
    shown={"full": "flow", "added": "length", "bore": "bore"},
    kind="flow",
    answer=lambda p: _flow_of([*_trailer().hoses, _last(p["added"])]),
    because=lambda p, show: (
        f"At the old flow this leader alone would lose {show(_leader_loss(p), 'pressure')}, and the bypass valve is "
        f"set to {show(_trailer().unloader.setting, 'pressure')}. So the valve opens, and hose and jets share the "
        "pressure at a smaller flow."
    ),
)


def _leader_loss(p):
    return loss(p["full"], p["bore"], p["added"], _ROUGHNESS)


def _which_end(p):
    """Which of the two orders delivers more, as a key; "same" within a part in a thousand."""
    large, thin = _trailer().hoses[0].replace(coil_diameter=None, coiled_length=0.0), _last(p["added"])
    at_nozzle, at_pump = _flow_of([large, thin]), _flow_of([thin, large])
    return "same" if abs(at_nozzle / at_pump - 1.0) < 1e-3 else "nozzle" if at_nozzle > at_pump else "pump"


WHICH_END = predicted(
    PredictedChoice,
    "07-which-end",
    """
    At which end?
    ask: A colleague says: put the {added} of small hose next to the pump, where the pressure is highest, and the large
        hose after it. Which way around lets more water out of the nozzle?
    option pump: Small hose at the pump
    option nozzle: Small hose at the nozzle
    option same: The same either way
    because: The same water goes through both, and their losses add up in any order. But only at the nozzle does the
        small hose get round the bend, and there its low weight helps.
    """,
    parameters={"added": feet(50)},
    shown={"added": "length"},
    answer=_which_end,
)


def _sent_back(p, small_length):
    small_length = np.asarray(small_length, dtype=float)
    large = _trailer().hoses[0].replace(length=p["whole"] - small_length, coil_diameter=None, coiled_length=0.0)
    return operating_point(_trailer().replace(hoses=[large, _last(small_length)])).bypass_flow


STEP_CURVE = predicted(
    PredictedCurve,
    "07-step-curve",
    """
    More and more small hose
    ask: The trailer's line is {whole} long. While all of it is 1/2 in (12.7 mm), all {full} of the pump leave the
        nozzle. Now you change more and more of it, from the nozzle back, for -4 hose. Full throttle. Sketch how much
        water returns to the tank.
    because: The first feet cost most. Later each foot costs less, because less water goes through all of it.
    """,
    parameters={"whole": feet(250), "full": gpm(9.0)},
    shown={"whole": "length", "full": "flow"},
    x=("small hose in the line", "length"),
    y=("return flow", "flow"),
    xs=tuple(feet(length) for length in (0.0, 40.0, 100.0, 170.0, 250.0)),
    top=gpm(6.0),
    answer=_sent_back,
)

PREDICTIONS = (THIN_LEADER, WHICH_END, STEP_CURVE)
