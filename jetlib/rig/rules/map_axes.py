"""The quantities that a map of a rule is drawn over: each reads itself off a rig and its site, and changes them.

All else stays as it is, and the jets stay as far from the match as they are (`family`), so that a map over hose is not
a map of wrong jets.
"""

from typing import NamedTuple

import numpy as np

from jetlib.errors import JetlibError
from jetlib.rig.change.named import USUAL_REEL
from jetlib.rig.hoses.weight import hose_mass, nearest_size
from jetlib.rig.jets.matching import matched_area
from jetlib.rig.rules.quantities import main_hose
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


def _of_rig(label, kind, read, move, low, high):
    """A Lever of the rig alone: read(rig) and move(rig, value), SI of its kind."""
    return Lever(label, kind, lambda rig, site: read(rig), lambda rig, site, v: (move(rig, v), site), low, high)


def _of_site(label, kind, name, low, high):
    """A Lever that is the field `name` of the Site, SI of its kind."""
    return Lever(
        label,
        kind,
        lambda rig, site: getattr(site, name),
        lambda rig, site, value: (rig, site.replace(**{name: value})),
        low,
        high,
    )


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


def _with_pump(name):
    """move(rig, value) that sets the pump's field `name`, a share, to `value`."""

    def move(rig, value):
        return rig.replace(pump=rig.pump.replace(**{name: value}))

    return move


def jets_against_match(rig):
    """Effective area of the jets over that of the jets that match; 1 for a rig that nothing matches."""
    share = np.asarray(rig.nozzle.effective_area / matched_area(rig))
    return np.where(np.isfinite(share), share, 1.0)[()]


#: Moves nothing by itself: `family` sets the jets.
_JETS = Lever("jet area against the match", "ratio", lambda rig, site: jets_against_match(rig), None, "0.6", "1.4")

LEVERS = {
    "hose length": _of_rig(
        "length of all the hose", "length", lambda r: sum(h.length for h in r.hoses), _with_length, "50 ft", "500 ft"
    ),
    "hose bore": _of_rig("bore of the hose", "hose_bore", lambda r: main_hose(r).bore, _with_bore, "1/4 in", "3/4 in"),
    "pump flow": _of_rig("flow of the pump", "flow", lambda r: r.pump.rated_flow, _with_flow, "3 gpm", "25 gpm"),
    "setting": _of_rig(
        "setting of the valve", "pressure", lambda r: _unloader(r).setting, _with_setting, "1000 psi", "4000 psi"
    ),
    "jet size": _JETS,
    "idle speed": _of_rig(
        "idle speed over full speed",
        "ratio",
        lambda r: r.pump.idle_speed / r.pump.rated_speed,
        lambda r, v: r.replace(pump=r.pump.replace(idle_speed=v * r.pump.rated_speed)),
        "0.25",
        "0.6",
    ),
    "valve rise": _of_rig(
        "rise of the valve at full bypass",
        "fraction",
        lambda r: _unloader(r).rise,
        lambda r, v: r.with_unloader(rise=v),
        "3 %",
        "15 %",
    ),
    "pump slip": _of_rig(
        "share the pump still gives at full pressure",
        "fraction",
        lambda r: r.pump.volumetric_efficiency,
        _with_pump("volumetric_efficiency"),
        "80 %",
        "100 %",
    ),
    "drive": _of_rig(
        "efficiency of pump and drive",
        "fraction",
        lambda r: r.pump.mechanical_efficiency,
        _with_pump("mechanical_efficiency"),
        "70 %",
        "95 %",
    ),
    "water temperature": _of_rig(
        "temperature of the water",
        "temperature",
        lambda r: r.water_temperature,
        lambda r, v: r.replace(water_temperature=v),
        "2 degC",
        "50 degC",
    ),
    "reel": _of_rig("diameter of the reel", "coil_diameter", _reel, _with_reel, "12 in", "48 in"),
    "rear angle": _of_rig("angle of the rear jets", "angle", _rear_angle, _with_angle, "5 deg", "50 deg"),
    "lift": _of_rig(
        "nozzle above the pump", "lift", lambda r: r.lift, lambda r, v: r.replace(lift=v), "0 ft", "100 ft"
    ),
    "altitude": _of_site("height above the sea", "altitude", "altitude", "0 ft", "9000 ft"),
    "air temperature": _of_site("temperature of the air", "temperature", "air_temperature", "0 degC", "40 degC"),
    "tank volume": _of_site("full tank", "volume", "tank_volume", "50 gal", "500 gal"),
    "pipe bore": _of_site("bore of the drain", "pipe_bore", "pipe_bore", "2 in", "12 in"),
    "pipe slope": _of_site("fall of the drain", "slope", "pipe_slope", "0.5 %", "5 %"),
}


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
