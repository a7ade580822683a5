"""Known parts put on in the place of the rig's own for one reading: what then can no longer be the cause, is not."""

from dataclasses import replace
from functools import lru_cache

import numpy as np

from jetlib.errors import JetlibError
from jetlib.rig.jets.matching import matched_jets
from jetlib.rig.parts.part import Same

#: What can be put on, in the words of a reading's label.
SWAPS = {
    "jets": "known jets fitted",
    "hose": "a known hose fitted",
    "opening set": "a known set fitted that just opens the valve",
}
#: What the set that opens the valve would ask for at full throttle if no valve opened, over the valve's setting.
#: Enough to tell a valve that opens late by the needle, and little enough that no sound part is strained meanwhile.
OVER_SETTING = 1.15


def swapped_in(rig, changes, swapped):
    """`changes` to `rig` with the part put on: jets, or hose, are then exactly what is written down.

    swapped: "" for nothing, or a key of SWAPS. Raises JetlibError where no set could open the valve.
    """
    if not swapped:
        return changes
    ones = np.ones_like(np.asarray(changes.jet_area, dtype=float))
    if swapped == "jets":
        return replace(changes, jet_area=ones)
    if swapped == "hose":
        return replace(changes, hose_loss=1.0 + 0.0 * np.asarray(changes.hose_loss), narrowing=0.0)
    return replace(changes, jet_area=opening_set_share(rig) * ones)


def can_open_the_valve(rig):
    """Whether there is a set of jets that makes the valve of `rig`, an unloader, open at full throttle."""
    return _can_open(Same(rig))


@lru_cache(maxsize=16)
def _can_open(held):
    return held.held.unloader is not None and matched_jets(held.held).possible


def opening_set_share(rig):
    """Effective area of the set that opens the valve over that of the rig's own jets.

    The set would ask OVER_SETTING times the valve's setting of the jets alone at the flow that just reaches the
    setting, so it is somewhat kinder than that where hose and slip take their part.
    """
    return _opening_set_share(Same(rig))


@lru_cache(maxsize=16)
def _opening_set_share(held):
    rig = held.held
    match = matched_jets(rig) if rig.unloader is not None else None
    if match is None or not match.possible:
        raise JetlibError("no set of jets opens a valve of this rig at full throttle; leave this check out")
    share = match.nozzle_pressure / (match.nozzle_pressure + (OVER_SETTING - 1.0) * rig.unloader.setting)
    return float(match.effective_area / rig.nozzle.effective_area * np.sqrt(share))
