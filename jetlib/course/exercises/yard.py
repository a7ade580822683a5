"""Numbers from the yard's machines for exercises: amounts in US units, and what the engine says of a machine."""

import math
from functools import cache

from jetlib import tables
from jetlib.course.exercises.amounts import DENSITY, SIZES, feet, hose_bore
from jetlib.physics import heat, orifice, water
from jetlib.physics.hose_drag import hose_tension
from jetlib.rig.change.factors import RigFactors, changed
from jetlib.rig.hoses.surge import surges_on_the_way
from jetlib.rig.hoses.weight import BRAIDS, water_mass
from jetlib.rig.jets.matching import matched_jets
from jetlib.rig.job.flushing import DEBRIS, flushing
from jetlib.rig.parts.drain import Drain
from jetlib.rig.parts.machine import Hose
from jetlib.rig.parts.rig_file import demo_rig
from jetlib.rig.point.operating_point import operating_point
from jetlib.units import SYSTEMS, text

#: Machines of the yard, and lengths (ft) that the first hose of each is made up to in exercises.
MACHINES = {
    "yard_cart": ("yard cart", (50, 100, 150)),
    "yard_small_bore": ("yard small-bore set", (100, 150, 200)),
    "yard_trailer": ("yard trailer", (150, 200, 250, 300)),
    "yard_truck": ("yard truck", (250, 300, 400, 500)),
}
#: Hoses on the yard's wall that can go between the rig's own hose and the nozzle.
LEADERS = {
    "light": Hose("3/8 in", "100 ft", name="light 3/8 in", mass_per_metre="0.13 lb/ft", working_pressure="330 bar",
                  bend_radius="4 in"),
    "thin": Hose("1/4 in", "100 ft", name="light 1/4 in", mass_per_metre="0.08 lb/ft", working_pressure="275 bar",
                 bend_radius="3 in"),
    "heavy": Hose("1/2 in", "100 ft", name="steel-braid 1/2 in", working_pressure="275 bar"),
    "old": Hose("3/8 in", "100 ft", name="old 3/8 in", mass_per_metre="0.2 lb/ft", working_pressure="2700 psi",
                bend_radius="5 in"),
}  # fmt: skip
_MORE = ("added_hose", "sizes_down", "drills_down", "leader_hose", "leader_length")  # that a machine may have
RUBBER = tables.roughness("rubber hose inner tube").typical  # m


def draw_machine(rng, names=tuple(MACHINES), throttles=(0.5, 0.6, 0.7, 0.8, 0.9, 1.0)):
    """Parameters that name a machine at work: rig, called, throttle, hose (length of its first hose, m)."""
    name = rng.choice(names)
    called, lengths = MACHINES[name]
    return {"rig": name, "called": called, "throttle": rng.choice(throttles), "hose": feet(rng.choice(lengths))}


@cache
def _rig(name, length, jets, shut, more, step, drills, leader, leader_length):
    rig = demo_rig(name)
    if more or drills:
        bore = _smaller(rig.hoses[-1].bore, step)
        jets_now = [jet.replace(bore=tables.next_drill(jet.bore, -drills).diameter) for jet in rig.nozzle.jets]
        rig = rig.replace(hoses=(*rig.hoses, Hose(bore, more))).with_jets(jets_now)
    if length is not None:
        first = rig.hoses[0]
        coiled = min(float(first.coiled_length), 0.5 * length) if first.coil_diameter is not None else 0.0
        rig = rig.replace(hoses=[first.replace(length=length, coiled_length=coiled), *rig.hoses[1:]])
    if leader:
        rig = rig.replace(hoses=[rig.hoses[0], LEADERS[leader].replace(length=leader_length)])
    return changed(rig, RigFactors(jet_area=jets)).replace(outlet_shut=shut)


def rig_of(p):
    """The Rig that the parameters of `draw_machine` name.

    Where it is there: jets: they have so many times the area; shut: 1 for an outlet that is shut; added_hose: length
    (m) of another hose at the end, sizes_down sizes smaller than the last; drills_down: every jet is so many drill
    sizes smaller; leader_hose: one of LEADERS, of a leader_length (m), behind the first hose in place of the others.
    """
    return _rig(*_machine(p))


def _machine(p):
    more = (p.get(name, 0) for name in _MORE)
    return p["rig"], p.get("hose"), p.get("jets", 1.0), bool(p.get("shut", 0)), *more


def _smaller(bore, step):
    """The bore (m) of a size of hose: `step` sizes under the one nearest to `bore`."""
    sizes = [hose_bore(size) for size in SIZES]
    return sizes[max(min(range(len(sizes)), key=lambda at: abs(sizes[at] - bore)) - int(step), 0)]


@cache
def valve_opens_at(name, more, drills, change):
    """The throttle that opens the valve of a yard machine with one `change` to it; more than 1 where it stays shut."""
    rig = demo_rig(name)
    first, *others = jets = rig.nozzle.jets
    if change == "hose":
        rig = rig.replace(hoses=(*rig.hoses, Hose(rig.hoses[-1].bore, more)))
    elif change in ("larger", "smaller"):
        step = drills if change == "larger" else -drills
        jets = [jet.replace(bore=tables.next_drill(jet.bore, step).diameter) for jet in jets]
    elif change == "plugged":
        jets = [first.replace(count=first.count - 1), *others]
    elif change in ("low", "high"):
        setting = rig.unloader.setting * (0.9 if change == "low" else 1.1)
        rig = rig.replace(valve=rig.unloader.replace(setting=setting))
    return matched_jets(rig.with_jets(jets)).bypass_throttle


@cache
def _point(throttle, *machine):
    return operating_point(_rig(*machine), throttle)


def point_of(p):
    """The OperatingPoint of that machine."""
    return _point(p["throttle"], *_machine(p))


@cache
def matched_share(name):
    """Effective area of jets that match a machine of the yard, over that of its own."""
    rig = demo_rig(name)
    return float(matched_jets(rig).effective_area / rig.nozzle.effective_area)


@cache
def gauge_redrilled(name, bore):
    """Gauge reading (Pa) of a yard machine at full throttle whose first jets are drilled to this bore (m)."""
    rig = demo_rig(name)
    first, *others = rig.nozzle.jets
    return float(operating_point(rig.with_jets([first.replace(bore=bore), *others])).gauge)


@cache
def matched_power(name, size, added):
    """Power at the jets of a yard machine with more hose: with matched jets over with its own."""
    rig = demo_rig(name)
    rig = rig.replace(hoses=[*rig.hoses, Hose(size, added)])
    by = (matched_jets(rig).effective_area / rig.nozzle.effective_area) ** 0.5
    matched = rig.with_jets([jet.replace(bore=jet.bore * by) for jet in rig.nozzle.jets])
    after, before = (operating_point(each).power_shares["jets"] for each in (matched, rig))
    return float(after / before)


@cache
def thin_hose(whole, thin, end):
    """The OperatingPoint of the yard trailer at full throttle with so much (m) of -4 rubber hose at one end of the
    line, "nozzle" or "pump". whole: length of the line (m), off the reel; 0 for its own hose beside the thin one.
    """
    rig = demo_rig("yard_trailer")
    large = rig.hoses[0]
    if whole:
        large = large.replace(length=whole - thin, coil_diameter=None, coiled_length=0.0)
    small = Hose(tables.hose(4).bore, thin, roughness=RUBBER)
    return operating_point(rig.replace(hoses=[large, small] if end == "nozzle" else [small, large]))


def drill_near(area, count, step):
    """The name of the drill `step` sizes from the one with which `count` holes come nearest to `area` (m2)."""
    return tables.next_drill(orifice.circle_bore(area / count), int(step)).label


def pull_past_bend(run, bend_at, friction):
    """Pull (N) that takes the end of a hose of 5 N/m through a run (m) with a square bend so far in (m)."""
    return float(
        hose_tension(run, weights=(5.0,), lengths=(run,), friction=friction, bends=((bend_at, math.pi / 2.0),))
    )


def warmer_in_a_minute(power, volume):
    """By how much (K) a power heats that much cool water in a minute."""
    rate = heat.tank_heating_rate(power, volume=volume, density=DENSITY, specific_heat=water.specific_heat(288.15))
    return 60.0 * float(rate)


@cache
def running_off(flow, bore, fall):
    """The Flushing of a flow down a clean pipe."""
    return flushing(flow, Drain(bore=bore, length=30.0, fall=fall))


def grain_size(debris):
    """The largest grain of a debris in words for either unit system, to two figures."""
    us, metric = (text(DEBRIS[debris], "leak_bore", system, 2) for system in SYSTEMS)
    return f"[{us}|{metric}]"


def empty_mass(dash):
    """Mass (kg/m) of a dash size of hose with fiber braid, empty."""
    return BRAIDS["fiber braid"] * tables.hose(dash).mass_per_metre


def full_mass(dash):
    """The same, full of water."""
    return float(empty_mass(dash) + water_mass(tables.hose(dash).bore, density=DENSITY))


def likely_surge(p):
    """Rise (Pa) at the nozzle over the gauge if all jets shut at once at full throttle."""
    return float(surges_on_the_way(point_of({**p, "throttle": 1.0}))[-1])
