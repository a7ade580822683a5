"""What is done to a rig in thought, under the words that follow *with* in a rule: a jet plugged, a hose doubled."""

import numpy as np

from jetlib.errors import JetlibError
from jetlib.physics.constants import INCH
from jetlib.rig.jets.matching import matched_area
from jetlib.units import si

#: Nominal bores that hose is made in, m: those of the standards in `data/hoses.csv`, and 1/8 in below them.
NOMINAL = np.array([2, 3, 4, 5, 6, 8, 10, 12, 16]) * INCH / 16
#: Diameter (m) of the reel that a hose without one is wound on in thought. Common practice, no source.
USUAL_REEL = 0.6
WORN = 1.05
SIXTH_LESS = 5.0 / 6.0
_COLD, _SUMMER = si("5 degC", "temperature"), si("25 degC", "temperature")
_UP = si("100 ft", "lift")


def _jets(rig, bore=1.0, count=1):
    """The rig with `bore` and `count` times its own jets."""
    jets = [jet.replace(bore=jet.bore * bore, count=jet.count * count) for jet in rig.nozzle.jets]
    return rig.with_jets(jets)


def _hoses(rig, bore=1.0, length=1.0):
    """The rig with `bore` (a factor, or a function of the bore) and `length` times its own hoses."""
    new = bore if callable(bore) else lambda own: own * bore
    return rig.replace(
        hoses=[
            each.with_bore(new(each.bore), length=each.length * length, coiled_length=each.coiled_length * length)
            for each in rig.hoses
        ]
    )


def _reeled(rig, share):
    """The rig with that share of all its hose on the reel."""
    hoses = [
        hose.replace(
            coil_diameter=np.maximum(USUAL_REEL, 5.0 * np.asarray(hose.bore))
            if hose.coil_diameter is None
            else hose.coil_diameter,
            coiled_length=share * np.asarray(hose.length),
        )
        for hose in rig.hoses
    ]
    return rig.replace(hoses=hoses)


def size_below(bore):
    """The bore one size down, m; any shape: smaller by as much as the nearest nominal bore's next one is."""
    bore = np.asarray(bore)
    apart = np.abs(np.log(bore[..., np.newaxis] / NOMINAL[1:]))
    place = 1 + np.argmin(apart, axis=-1)
    return bore * NOMINAL[place - 1] / NOMINAL[place]


def _one_plugged(rig):
    """`rig` with one hole of its largest group gone."""
    jets = list(rig.nozzle.jets)
    most = max(range(len(jets)), key=lambda at: np.max(jets[at].count))
    if np.min(jets[most].count) < 1:
        raise JetlibError("this nozzle has no open jet that could plug")
    jets[most] = jets[most].replace(count=jets[most].count - 1)
    return rig.with_jets(jets)


def _too_small(rig):
    """Jets a sixth smaller in area than those that match."""
    share = SIXTH_LESS * matched_area(rig) / rig.nozzle.effective_area
    return _jets(rig, np.sqrt(np.where(np.isfinite(share), share, 1.0)))


def _straight_back(rig):
    """`rig` with its rear jets at 0 rad."""
    jets = [jet.replace(angle=np.where(np.asarray(jet.angle) < np.pi / 2, 0.0, jet.angle)) for jet in rig.nozzle.jets]
    return rig.with_jets(jets)


#: Words behind *with* -> (what changes a rig so, what the words mean exactly).
CHANGES = {
    "valve shut": (
        lambda rig: rig.replace(valve=None, engine=None),
        "the bypass valve held shut, and an engine that never bogs: in thought only, never on a machine",
    ),
    "no hose": (lambda rig: rig.replace(hoses=()), "the jets right on the pump"),
    "one jet plugged": (_one_plugged, "one hole of the largest group gone"),
    "jets worn": (lambda rig: _jets(rig, WORN), "every hole 5 % wider"),
    "jets a tenth larger": (lambda rig: _jets(rig, 1.1), "every hole 10 % wider"),
    "jets twice as wide": (lambda rig: _jets(rig, 2.0), "every hole of twice the bore"),
    "twice the holes": (lambda rig: _jets(rig, count=2), "twice as many of the same"),
    "four times the holes": (lambda rig: _jets(rig, count=4), "four times as many of the same"),
    "the same area in twice the holes": (
        lambda rig: _jets(rig, np.sqrt(0.5), 2),
        "twice as many, each of half the area",
    ),
    "jets a sixth too small": (_too_small, "a sixth less area than the jets that match"),
    "rear jets straight back": (_straight_back, "rear jets along the hose, front jets as they are"),
    "twice the hose": (lambda rig: _hoses(rig, length=2.0), "every hose twice as long"),
    "half again the hose": (lambda rig: _hoses(rig, length=1.5), "every hose half again as long"),
    "half the bore": (lambda rig: _hoses(rig, bore=0.5), "every hose of half the bore"),
    "one size down": (lambda rig: _hoses(rig, bore=size_below), "every hose one nominal size smaller"),
    "all hose on the reel": (
        lambda rig: _reeled(rig, 1.0),
        "every foot on the reel; a hose that has no reel gets one 0.6 m (24 in) across",
    ),
    "all hose off the reel": (lambda rig: _reeled(rig, 0.0), "nothing on the reel"),
    "cold water": (lambda rig: rig.replace(water_temperature=_COLD), "water at 5 °C (41 °F)"),
    "summer water": (lambda rig: rig.replace(water_temperature=_SUMMER), "water at 25 °C (77 °F)"),
    "the nozzle a hundred feet up": (lambda rig: rig.replace(lift=rig.lift + _UP), "100 ft (30.5 m) more lift"),
    "outlet shut": (lambda rig: rig.replace(outlet_shut=True), "the end of the line shut while the pump runs"),
}
