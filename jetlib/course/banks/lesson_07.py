"""Predictions of lesson 07, choosing hose."""

from functools import cache

import numpy as np

from jetlib import tables
from jetlib.course.exercises import PredictedChoice, PredictedCurve, PredictedNumber, predicted
from jetlib.course.exercises.amounts import feet, gpm
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
    parameters={"whole": feet(250), "full": gpm(9.0)},
    shown={"whole": "length", "full": "flow"},
    x=("small hose in the line", "length"),
    y=("return flow", "flow"),
    xs=tuple(feet(length) for length in (0.0, 40.0, 100.0, 170.0, 250.0)),
    top=gpm(6.0),
    answer=_sent_back,
)

PREDICTIONS = (THIN_LEADER, WHICH_END, STEP_CURVE)
