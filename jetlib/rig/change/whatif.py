"""What if: a rig with longer hose, other jets, another valve, as the consoles, the classroom and the bench try it.

Each takes one Rig and gives a new one, or a figure of one; quantities may be text with a unit.
"""

import numpy as np

from jetlib import tables
from jetlib.errors import JetlibError
from jetlib.rig.change.factors import require_one_rig
from jetlib.rig.jets.matching import bypass_throttle, matched_jets
from jetlib.rig.parts.machine import BurstDisc, Hose, Jet, Nozzle, Rig, Unloader
from jetlib.rig.parts.part import require_choice
from jetlib.rig.parts.rig_file import demo_rig
from jetlib.rig.point.circuit import require_rig
from jetlib.units import one, si
from jetlib.units.given import Length, Share

#: What a change to the jets is called, and what a list calls it; `changed_line` takes the name.
JET_CHANGES = {
    "as loaded": "as they are",
    "one more": "one jet more",
    "one less": "one jet fewer",
    "larger": "all one drill larger",
    "smaller": "all one drill smaller",
}
_STRAIGHT, _AHEAD = np.pi / 2.0, np.pi


def changed_rig(rig, *, extra_length=0.0, extra_bore="3/8 in", jets=0, valve="as loaded"):
    """`rig` with hose added at the nozzle end, every jet opened by `jets` drill sizes, another valve."""
    if extra_length > 0:
        rig = rig.replace(hoses=(*rig.hoses, Hose(extra_bore, extra_length, name="added hose")))
    if jets:
        rig = _by_drills(rig, jets)
    return rig if valve == "as loaded" else with_valve(rig, valve)


def with_valve(rig, kind, *, opened=False):
    """`rig` with an "unloader", a "trapping" one, a "burst disc" or "none", set to the figure of its present valve.

    opened: a disc that has burst before.
    """
    if kind == "none" or not rig.valves:
        return rig.replace(valve=None)
    figure = rig.unloader.setting if rig.unloader else rig.burst_disc.rating
    if kind == "burst disc":
        return rig.replace(valve=BurstDisc(figure, opened=opened))
    return rig.replace(valve=Unloader(figure, trapping=kind == "trapping"))


def opening_throttle(rig):
    """Throttle at which the unloader opens, or the disc bursts; None when neither does."""
    if rig.unloader is None and rig.burst_disc is not None:
        rig = rig.replace(valve=Unloader(rig.burst_disc.rating))
    return bypass_throttle(rig) if rig.unloader is not None else None


def changed_line(rig: Rig, *, length: Length, bore: Length, jets: str = "as loaded", lift: Length = 0.0) -> Rig:
    """`rig` with a main hose of another length and bore, another set of jets, its nozzle `lift` above the pump.

    length, bore and lift in m, or text. jets: "as loaded", "one more" or "one less" in the first group, or all holes
    one drill "larger" or "smaller". What lay on the reel stays there as far as the hose is long enough.

    >>> changed_line(demo_rig("yard_trailer"), length="100 ft", bore="3/8 in", jets="one more").nozzle.jets[0].count
    5
    """
    require_choice(jets, JET_CHANGES, "jets", 'jets="one more"')
    if not require_rig(rig).hoses:
        raise JetlibError("this rig has no hose to change; take another rig")
    hose, length = rig.hoses[0], one(length, "length", field="length")
    # Nearer than the last digit of its conversion is the bore the rig has.
    new_bore = hose.bore if abs(si(bore, "hose_bore") - hose.bore) < 1e-9 else si(bore, "hose_bore")
    hose = hose.with_bore(new_bore, length=length, coiled_length=min(hose.coiled_length, length))
    rig = rig.replace(hoses=(hose, *rig.hoses[1:]), lift=lift)
    if jets in ("one more", "one less"):
        first, *others = rig.nozzle.jets
        return rig.with_jets([first.replace(count=first.count + (1 if jets == "one more" else -1)), *others])
    if jets in ("larger", "smaller"):
        return _by_drills(rig, 1 if jets == "larger" else -1)
    return rig


def _by_drills(rig, step):
    """`rig` with every jet opened by `step` drill sizes."""
    return rig.with_jets([jet.replace(bore=tables.next_drill(jet.bore, step).diameter) for jet in rig.nozzle.jets])


def turned_nozzle(rig, *, angle, front):
    """`rig` with its rear jets at `angle` (rad, or text; arrays too) and `front` holes straight ahead."""
    rear = [jet.replace(angle=angle) for jet in rig.nozzle.jets if jet.angle <= _STRAIGHT]
    ahead = [jet for jet in rig.nozzle.jets if jet.angle > _STRAIGHT] or [rear[0].replace(angle=_AHEAD, name="front")]
    jets = [*rear, ahead[0].replace(count=front)] if front else rear
    return rig.with_jets(jets)


def shared_area(rig, *, count, angle):
    """`rig` with `count` like rear holes at `angle` in place of its jets, of the same area in all."""
    first = rig.nozzle.jets[0]
    bore = np.sqrt(rig.nozzle.effective_area / first.discharge_coefficient / count * 4.0 / np.pi)
    return rig.with_jets(first.replace(bore=float(bore), count=count, angle=angle))


def outlet_rig(outlet: str, volumetric_efficiency: Share = 0.95) -> Rig:
    """The yard trailer without hose: its pump and valve with an outlet "open", "large", "small" or "shut".

    volumetric_efficiency: the share of the swept flow that it delivers.

    >>> both(operating_point(outlet_rig("open")).gauge, "pressure")
    '2.53 psi (0.175 bar)'
    """
    rig = demo_rig("yard_trailer")
    nozzles = {
        "open": Nozzle([Jet("1/2 in", discharge_coefficient=0.8)]),
        "large": Nozzle([Jet("#53", count=5, discharge_coefficient=0.72)]),
        "small": rig.nozzle,
        "shut": rig.nozzle,
    }
    require_choice(outlet, nozzles, "outlet", 'outlet_rig("open")')
    pump = rig.pump.replace(volumetric_efficiency=volumetric_efficiency)
    return rig.replace(pump=pump, hoses=(), nozzle=nozzles[outlet], outlet_shut=outlet == "shut", name="yard pump")


def fitted(rig, *, count, bore, added=0.0, hose=None):
    """`rig` with `count` rear holes of `bore` (m, or an array) in its first group, and `added` m of hose at the end.

    hose: its bore; that of the last hose for None. Front holes stay as they are.
    """
    if added > 0:
        last = rig.hoses[-1]
        new = last.replace(length=added, coil_diameter=None, coiled_length=0.0) if hose is None else Hose(hose, added)
        rig = rig.replace(hoses=(*rig.hoses, new.replace(name="added hose")))
    first, *others = rig.nozzle.jets
    return rig.with_jets([first.replace(count=count, bore=bore), *others])


def rear_bore_to_match(rig):
    """Bore (m) of the holes of the first group that matches `rig`, all else as it is; 0 when no bore can."""
    match, (first, *others) = matched_jets(rig), rig.nozzle.jets
    left = match.effective_area - sum(jet.discharge_coefficient * jet.area for jet in others)
    if not left > 0:
        return 0.0
    return float(np.sqrt(left / (first.count * first.discharge_coefficient * np.pi / 4.0)))


def engine_rig(name, *, altitude=0.0, condition=1.0):
    """A yard rig (its name, or any Rig with an engine) at an altitude
    (m, or text), its engine giving the share `condition` of its rating."""
    rig = name if isinstance(name, Rig) else demo_rig(name)
    return rig.replace(engine=rig.engine.replace(altitude=altitude, power=condition * rig.engine.power))


def live_changes(rig, *, hose=0.0, jets="as loaded", valve=1.0):
    """`rig` with its first hose longer by `hose` (m, laid straight), other jets, and its unloader set to a share.

    jets: as `changed_line` takes them. A rig without a hose stays without; JetlibError for jets that
    would leave none open.
    """
    hose = si(hose, "length", field="hose")
    if rig.hoses:
        first = rig.hoses[0]
        rig = changed_line(rig, length=first.length + hose, bore=first.bore, jets=jets, lift=rig.lift)
    elif jets != "as loaded" or hose > 0:
        raise JetlibError("this rig has no hose; take another rig, or leave hose and jets as they are")
    if rig.unloader is not None and valve != 1.0:
        rig = rig.with_unloader(setting=rig.unloader.setting * valve)
    require_one_rig(rig, "a rig with open jets")
    return rig
