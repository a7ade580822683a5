"""How a rig is moved for a rule: by the words that follow *with*, and along the axes of a map.

On a map all else stays as it is, and the jets stay as far from the match as they are (`family`), so that a map over
hose is not a map of wrong jets.
"""

from functools import partial
from operator import attrgetter
from typing import NamedTuple

import numpy as np

from jetlib.errors import JetlibError
from jetlib.physics.constants import INCH
from jetlib.rig.hoses.weight import hose_mass, nearest_size
from jetlib.rig.jets.matching import matched_area
from jetlib.rig.parts.machine import Rig
from jetlib.tables import DATA
from jetlib.tables.toml_file import read_toml
from jetlib.units import si
from jetlib.units.kinds import KINDS

#: The tables of `data/rule_names.toml`.
NAMES = read_toml(DATA / "rule_names.toml", what="list of names")
#: Nominal bores that hose is made in, m: those of the standards in `data/hoses.csv`, and 1/8 in below them.
NOMINAL = np.array([2, 3, 4, 5, 6, 8, 10, 12, 16]) * INCH / 16
#: Diameter (m) of the reel that a hose without one is wound on in thought. Common practice, no source.
_USUAL_REEL = 0.6


# --- what is moved ------------------------------------------------------------------------------------


def there(part, what, other="another rig"):
    """`part` of a rig, or its hoses; JetlibError for a rig without: `what` it has not, which `other` rig to choose."""
    if not part:
        raise JetlibError(f"this rig has no {what}; choose {other}")
    return part


def main_hose(rig):
    """The longest hose; JetlibError for a rig without."""
    hoses = there(rig.hoses, "hose, and the rule speaks of one", "a rig with a hose")
    return max(hoses, key=lambda hose: np.max(hose.length))


def hose_length(rig):
    """Length of all the hose, m."""
    return sum(hose.length for hose in rig.hoses)


def _hoses(rig, bore=1.0, length=1.0):
    """`rig` with `bore` (a factor, or a function of the bore) and `length` times its own hoses."""
    new = bore if callable(bore) else lambda own: own * bore
    return rig.replace(
        hoses=[
            each.with_bore(new(each.bore), length=each.length * length, coiled_length=each.coiled_length * length)
            for each in rig.hoses
        ]
    )


def size_below(bore):
    """The bore one size down, m; any shape: smaller by as much as the nearest nominal bore's next one is."""
    bore = np.asarray(bore)
    apart = np.abs(np.log(bore[..., np.newaxis] / NOMINAL[1:]))
    place = 1 + np.argmin(apart, axis=-1)
    return bore * NOMINAL[place - 1] / NOMINAL[place]


def _with_length(rig, length):
    """`rig` with `length` (m) of hose in all, each hose and what lies on the reel in proportion."""
    main_hose(rig)
    return _hoses(rig, length=length / hose_length(rig))


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
    return next((hose.coil_diameter for hose in rig.hoses if hose.coil_diameter is not None), _USUAL_REEL)


def _with_reel(rig, diameter):
    """`rig` with all that is reeled on a reel of `diameter` (m)."""
    hoses = [hose.replace(coil_diameter=diameter, coiled_length=hose.coiled_length) for hose in rig.hoses]
    return rig.replace(hoses=hoses)


def _reeled(rig, share):
    """`rig` with that share of all its hose on the reel."""
    hoses = []
    for hose in rig.hoses:
        own, usual = hose.coil_diameter, np.maximum(_USUAL_REEL, 5.0 * np.asarray(hose.bore))
        coiled = share * np.asarray(hose.length)
        hoses.append(hose.replace(coil_diameter=usual if own is None else own, coiled_length=coiled))
    return rig.replace(hoses=hoses)


def _jets(rig, bore=1.0, count=1):
    """`rig` with `bore` and `count` times its own jets."""
    return rig.with_jets([jet.replace(bore=jet.bore * bore, count=jet.count * count) for jet in rig.nozzle.jets])


def _one_plugged(rig):
    """`rig` with one hole of its largest group gone."""
    jets = list(rig.nozzle.jets)
    most = max(range(len(jets)), key=lambda at: np.max(jets[at].count))
    if np.min(jets[most].count) < 1:
        raise JetlibError("this nozzle has no open jet that could plug")
    jets[most] = jets[most].replace(count=jets[most].count - 1)
    return rig.with_jets(jets)


def jets_against_match(rig):
    """Effective area of the jets over that of the jets that match, a ratio; 1 for a rig that nothing matches."""
    share = np.asarray(rig.nozzle.effective_area / matched_area(rig))
    return np.where(np.isfinite(share), share, 1.0)[()]


def _too_small(rig):
    """Jets a sixth smaller in area than those that match."""
    share = 5.0 / 6.0 * matched_area(rig) / rig.nozzle.effective_area
    return _jets(rig, np.sqrt(np.where(np.isfinite(share), share, 1.0)))


def _rear_angle(rig):
    """Angle of the first rear jets, rad; 0 for a nozzle without."""
    return next((jet.angle for jet in rig.nozzle.jets if jet.angle < np.pi / 2), 0.0)


def _with_angle(rig, angle):
    """`rig` with its rear jets at `angle` (rad)."""
    jets = [jet.replace(angle=angle) if np.all(np.asarray(jet.angle) < np.pi / 2) else jet for jet in rig.nozzle.jets]
    return rig.with_jets(jets)


def _scaled_engine(rig, share):
    """An engine as much larger as the work is, so that the map is not a map of engines too small."""
    return rig if rig.engine is None else rig.replace(engine=rig.engine.replace(power=rig.engine.power * share))


def _with_flow(rig, flow):
    """`rig` with a pump that sweeps `flow` (m3/s) at rated speed, and an engine to suit."""
    share = flow / rig.pump.rated_flow
    return _scaled_engine(rig.replace(pump=rig.pump.replace(rated_flow=flow)), share)


def _unloader(rig):
    """The unloader of `rig`; JetlibError for a rig without."""
    return there(rig.unloader, "bypass valve with a setting to draw the map over")


def _with_setting(rig, setting):
    """`rig` with its unloader set to `setting` (Pa), disc and engine to suit."""
    share = setting / _unloader(rig).setting
    rig = rig.with_unloader(setting=setting)
    valves = [v if v is rig.unloader else v.replace(rating=v.rating * share) for v in rig.valves]
    return _scaled_engine(rig.replace(valve=valves), share)


def _with_field(rig, field, value):
    """`rig` with another value (SI) in a field of its own, or of a part of it: "lift", "pump.idle_speed"."""
    part, _, name = field.rpartition(".")
    return rig.replace(**{part: getattr(rig, part).replace(**{name: value})} if part else {name: value})


# --- changes behind "with" ----------------------------------------------------------------------------

#: What is done to a rig: by itself, or with what a row of the file adds.
_DONE = {
    "valve shut": lambda rig: rig.replace(valve=None, engine=None),
    "one jet plugged": _one_plugged,
    "jets a sixth too small": _too_small,
    "rear jets straight back": lambda rig: _with_angle(rig, 0.0),
    "one size down": lambda rig: _hoses(rig, bore=size_below),
    "the nozzle a hundred feet up": lambda rig: rig.replace(lift=rig.lift + si("100 ft", "lift")),
    "jets": _jets,
    "hoses": _hoses,
    "reel": _reeled,
    "rig": Rig.replace,
}


def _change(name, meaning, does="", **more):
    """What changes a rig so, and what the words mean exactly, of a row of the file."""
    return partial(_DONE[does or name], **more), meaning


#: Words behind *with* -> (what changes a rig so, what the words mean exactly).
CHANGES = {name: _change(name, **row) for name, row in NAMES["changes"].items()}


# --- axes of a map ------------------------------------------------------------------------------------


class Lever(NamedTuple):
    """label: words for the axis. kind: of `units`. read(rig, site): own value, and move(rig, site, value): both moved,
    SI of that kind. usual: its range, SI."""

    label: str
    kind: str
    read: object
    move: object
    usual: tuple


#: Read off a rig, and the rig moved: read(rig) and move(rig, value), SI. `family` sets the jets.
_MOVED = {
    "hose length": (hose_length, _with_length),
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


def _lever(name, label, kind, usual, site="", rig=""):
    """The Lever of a row of the file."""
    if site:
        read, move = (lambda _, at: getattr(at, site)), (lambda whole, at, value: (whole, at.replace(**{site: value})))
    else:
        own, moved = _MOVED.get(name) or (attrgetter(rig), lambda whole, value: _with_field(whole, rig, value))
        read, move = (lambda whole, _: own(whole)), (lambda whole, at, value: (moved(whole, value), at))
    return Lever(label, kind, read, move, tuple(si(end, kind) for end in usual))


LEVERS = {name: _lever(name, **row) for name, row in NAMES["axes"].items()}


def own_value(name, rig, site):
    """What the rig and its site have of a lever, SI."""
    return float(np.asarray(LEVERS[name].read(rig, site)))


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
