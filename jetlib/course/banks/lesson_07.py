"""Predictions of lesson 07, choosing hose."""

import numpy as np

from jetlib import tables
from jetlib.course.exercises import PredictedChoice, PredictedCurve, PredictedNumber, predicted
from jetlib.course.exercises.amounts import feet, gpm, machine
from jetlib.course.exercises.yard import loss
from jetlib.rig.parts.machine import Hose
from jetlib.rig.point.operating_point import operating_point

_ROUGHNESS = tables.roughness("rubber hose inner tube").typical


def _last(length):
    return Hose(tables.hose(4).bore, length, roughness=_ROUGHNESS)


def _flow_of(hoses):
    """What leaves the trailer's nozzle through these hoses, m3/s."""
    return float(operating_point(machine("trailer").replace(hoses=hoses)).nozzle_flow)


_ALONE = loss(gpm(9.0), tables.hose(4).bore, feet(50), _ROUGHNESS)

THIN_LEADER = predicted(
    PredictedNumber,
    "07-thin-leader",
    parameters={
        "full": gpm(9.0),
        "added": feet(50),
        "bore": tables.hose(4).bore,
        "alone": _ALONE,
        "setting": machine("trailer").unloader.setting,
    },
    shown={"full": "flow", "added": "length", "bore": "bore", "alone": "pressure", "setting": "pressure"},
    kind="flow",
    answer=lambda p: _flow_of([*machine("trailer").hoses, _last(p["added"])]),
)


def _which_end(p):
    """Which of the two orders delivers more, as a key; "same" within a part in a thousand."""
    large, thin = machine("trailer").hoses[0].replace(coil_diameter=None, coiled_length=0.0), _last(p["added"])
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
    large = machine("trailer").hoses[0].replace(length=p["whole"] - small_length, coil_diameter=None, coiled_length=0.0)
    return operating_point(machine("trailer").replace(hoses=[large, _last(small_length)])).bypass_flow


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
