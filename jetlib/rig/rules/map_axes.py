"""The quantities that a map of a rule is drawn over: each reads itself off a rig and its site, and changes them.

All else stays as it is, and the jets stay as far from the match as they are (`family`), so that a map over hose is not
a map of wrong jets.
"""

from operator import attrgetter
from typing import NamedTuple

import numpy as np

from jetlib.errors import JetlibError
from jetlib.rig.change.named import USUAL_REEL
from jetlib.rig.hoses.weight import hose_mass, nearest_size
from jetlib.rig.jets.matching import matched_area
from jetlib.rig.rules.quantities import NAMES, main_hose
from jetlib.units import si
from jetlib.units.kinds import KINDS


class Lever(NamedTuple):
    """label: words for the axis. kind: of `units`. read(rig, site): own value, and move(rig, site, value): both moved,
    SI of that kind. low, high: texts with a unit."""

    label: str
    kind: str
    read: object
    move: object
    low: str
    high: str


def _scaled_engine(rig, share):
    """An engine as much larger as the work is, so that the map is not a map of engines too small."""
    return rig if rig.engine is None else rig.replace(engine=rig.engine.replace(power=rig.engine.power * share))


def _with_flow(rig, flow):
    """`rig` with a pump that sweeps `flow` (m3/s) at rated speed, and an engine to suit."""
    share = flow / rig.pump.rated_flow
    return _scaled_engine(rig.replace(pump=rig.pump.replace(rated_flow=flow)), share)


def _unloader(rig):
    """The unloader of `rig`; JetlibError for a rig without."""
    if rig.unloader is None:
        raise JetlibError("this rig has no bypass valve with a setting to draw the map over; choose another rig")
    return rig.unloader


def _with_setting(rig, setting):
    """`rig` with its unloader set to `setting` (Pa), disc and engine to suit."""
    share = setting / _unloader(rig).setting
    rig = rig.with_unloader(setting=setting)
    valves = [v if v is rig.unloader else v.replace(rating=v.rating * share) for v in rig.valves]
    return _scaled_engine(rig.replace(valve=valves), share)


def _with_length(rig, length):
    """`rig` with `length` (m) of hose in all, each hose and what lies on the reel in proportion."""
    main_hose(rig)
    share = length / sum(hose.length for hose in rig.hoses)
    return rig.replace(hoses=[_longer(hose, share) for hose in rig.hoses])


def _longer(hose, share):
    """`hose` with `share` times the length, as much of it on the reel."""
    return hose.replace(length=hose.length * share, coiled_length=hose.coiled_length * share)


def _with_bore(rig, bore):
    """`rig` with a longest hose of `bore` (m), the others in proportion."""
    share = bore / main_hose(rig).bore
    return rig.replace(hoses=[_wider(hose, share) for hose in rig.hoses])


def _wider(hose, share):
    """`hose` with `share` times the bore, made alike: as much lighter than the usual hose of its bore as it is now."""
    bore = np.asarray(hose.bore * share)
    usual = np.array([nearest_size(float(each)).mass_per_metre for each in bore.reshape(-1)]).reshape(bore.shape)
    lighter = hose_mass(hose) / nearest_size(float(hose.bore)).mass_per_metre
    return hose.with_bore(bore, mass_per_metre=lighter * usual)


def _reel(rig):
    """Diameter of the reel, m; the usual one for a rig without."""
    return next((hose.coil_diameter for hose in rig.hoses if hose.coil_diameter is not None), USUAL_REEL)


def _with_reel(rig, diameter):
    """`rig` with all that is reeled on a reel of `diameter` (m)."""
    hoses = [hose.replace(coil_diameter=diameter, coiled_length=hose.coiled_length) for hose in rig.hoses]
    return rig.replace(hoses=hoses)


def _with_angle(rig, angle):
    """`rig` with its rear jets at `angle` (rad)."""
    jets = [jet.replace(angle=angle) if np.all(np.asarray(jet.angle) < np.pi / 2) else jet for jet in rig.nozzle.jets]
    return rig.with_jets(jets)


def _rear_angle(rig):
    """Angle of the first rear jets, rad; 0 for a nozzle without."""
    return next((jet.angle for jet in rig.nozzle.jets if jet.angle < np.pi / 2), 0.0)


def jets_against_match(rig):
    """Effective area of the jets over that of the jets that match, a ratio; 1 for a rig that nothing matches."""
    share = np.asarray(rig.nozzle.effective_area / matched_area(rig))
    return np.where(np.isfinite(share), share, 1.0)[()]


#: Read off a rig, and the rig moved: read(rig) and move(rig, value), SI. `family` sets the jets.
_MOVED = {
    "hose length": (lambda rig: sum(hose.length for hose in rig.hoses), _with_length),
    "hose bore": (lambda rig: main_hose(rig).bore, _with_bore),
    "pump flow": (lambda rig: rig.pump.rated_flow, _with_flow),
    "setting": (lambda rig: _unloader(rig).setting, _with_setting),
    "jet size": (jets_against_match, None),
    "idle speed": (
        lambda rig: rig.pump.idle_speed / rig.pump.rated_speed,
        lambda rig, share: _with_field(rig, "pump.idle_speed", share * rig.pump.rated_speed),
    ),
    "valve rise": (lambda rig: _unloader(rig).rise, lambda rig, rise: rig.with_unloader(rise=rise)),
    "reel": (_reel, _with_reel),
    "rear angle": (_rear_angle, _with_angle),
}


def _with_field(rig, field, value):
    """`rig` with another value (SI) in a field of its own, or of a part of it: "lift", "pump.idle_speed"."""
    part, _, name = field.rpartition(".")
    return rig.replace(**{part: getattr(rig, part).replace(**{name: value})} if part else {name: value})


def _lever(name, label, kind, usual, site="", rig=""):
    """The Lever of a row of the file."""
    if site:
        read, move = (lambda _, at: getattr(at, site)), (lambda whole, at, value: (whole, at.replace(**{site: value})))
    else:
        own, moved = _MOVED.get(name) or (attrgetter(rig), lambda whole, value: _with_field(whole, rig, value))
        read, move = (lambda whole, _: own(whole)), (lambda whole, at, value: (moved(whole, value), at))
    return Lever(label, kind, read, move, *usual)


LEVERS = {name: _lever(name, **row) for name, row in NAMES["axes"].items()}


def own_value(name, rig, site):
    """What the rig and its site have of a lever, SI."""
    return float(np.asarray(LEVERS[name].read(rig, site)))


def usual_range(name):
    """(low, high) of a lever, SI."""
    lever = LEVERS[name]
    return si(lever.low, lever.kind), si(lever.high, lever.kind)


def family(rig, site, moved):
    """(rigs, site, good): the rig with the levers of `moved`, a dict name -> array, moved; arrays of rigs.

    The jets keep their share of the matching area, unless "jet size" is moved. good: where such rigs can be at all:
    not where the hose alone asks for more than the setting.
    """
    share = jets_against_match(rig)
    rig = rig.replace(hoses=[hose.replace(mass_per_metre=hose_mass(hose)) for hose in rig.hoses])
    area = rig.nozzle.effective_area
    if not np.all(np.asarray(area) > 0.0):
        raise JetlibError("this nozzle has no open jets to draw a map of; choose a rig with jets")
    for name, value in moved.items():
        if name != "jet size":
            rig, site = LEVERS[name].move(rig, site, value)
    if rig.unloader is None:
        wanted = area * moved["jet size"] if "jet size" in moved else area
    else:
        wanted = matched_area(rig) * moved.get("jet size", share)
    good = np.isfinite(wanted)
    factor = np.sqrt(np.where(good, wanted, area) / area)
    kind = KINDS["jet_bore"]
    jets = []
    for jet in rig.nozzle.jets:
        bore = jet.bore * factor
        fits = (bore > 1.01 * kind.low) & (bore < 0.4 * kind.high)  # room for a rule that widens them
        good = good & fits
        jets.append(jet.replace(bore=np.where(fits, bore, jet.bore)))
    return rig.with_jets(jets), site, good
