"""Numbers of the training yard for exercises: hoses, drills and water, its machines, and what the engine says of them.

What a hose loses, a set of jets needs or a gauge reads is never drawn: it is worked out here from sizes and flows.
"""

from functools import cache, partial

from jetlib import tables
from jetlib.physics import hose, water
from jetlib.rig.change.factors import RigFactors, changed, state
from jetlib.rig.diagnosis.diagnosis import diagnose
from jetlib.rig.diagnosis.faults import FAULTS, THROTTLES, signature
from jetlib.rig.diagnosis.readings import GaugeReading
from jetlib.rig.hoses.weight import BRAIDS
from jetlib.rig.jets.matching import matched_jets
from jetlib.rig.job.flushing import flushing
from jetlib.rig.parts.machine import Hose
from jetlib.rig.parts.rig_file import demo_rig
from jetlib.rig.parts.site import Drain
from jetlib.rig.point.operating_point import operating_point
from jetlib.tables.toml_file import read_toml
from jetlib.units import to_si

gpm, feet = (partial(to_si, kind=kind, system="US") for kind in ("flow", "length"))
DENSITY, VISCOSITY = water.density(288.15), water.viscosity(288.15)
ROUGHNESS = 1e-5  # m, a usual lining
RUBBER = tables.roughness("rubber hose inner tube").typical  # m
#: What is drawn from: the yard's machines, flows, drills and faults, and the hoses on its wall.
YARD = read_toml(tables.DATA / "yard.toml", what="list of what is in the yard", like='"1/4 in" = [2, 2.5, 3]')
MACHINES, SIZES, DRILLS = tuple(YARD["machines"]), tuple(YARD["flows"]), tuple(YARD["jets"]["drills"])
LEADERS = {key: Hose(**row) for key, row in YARD["leaders"].items()}


# --- hoses and jets ---------------------------------------------------------------------------------


@cache
def hose_bore(size):
    """Bore (m) of a hose named by its size, "1/2 in", as the engine takes it."""
    return Hose(size, 1.0).bore


def said_bore(size):
    """The same bore as a table prints it, to 0.001 in: for questions in which the reader calculates with it."""
    return round(hose_bore(size) / 0.0254, 3) * 0.0254


def hose_name(size):
    """A hose with its bore, in either unit system: "1/2 in hose (bore 0.508 in)", "hose of 12.9 mm bore"."""
    bore = said_bore(size)
    return f"[{size} hose (bore {bore / 0.0254:.3f} in)|hose of {1000.0 * bore:.1f} mm bore]"


def hose_loss(flow, length, bore, roughness=ROUGHNESS):
    """Pressure loss (Pa) of a straight hose with cool water."""
    return hose.pressure_loss(flow, bore=bore, length=length, roughness=roughness, density=DENSITY, viscosity=VISCOSITY)


def empty_mass(dash):
    """Mass (kg/m) of a dash size of hose with fiber braid, empty."""
    return BRAIDS["fiber braid"] * tables.hose(dash).mass_per_metre


def draw_hose(rng, sizes=SIZES, lengths=(50, 75, 100, 150, 200)):
    """Parameters: a size of hose, a flow that the yard sends through it, and a length."""
    size = rng.choice(sizes)
    return {"size": size, "flow": gpm(rng.choice(YARD["flows"][size])), "length": feet(rng.choice(lengths))}


def draw_line(rng, sizes=SIZES, lengths=(100, 150, 200, 250, 300), drills=DRILLS):
    """Parameters: a hose at work with a nozzle on it, whose jets are all alike."""
    drill = rng.choice(drills)
    jets = {"count": rng.randrange(3, 9), "drill": drill, "jet_bore": tables.drill(drill).diameter}
    return draw_hose(rng, sizes, lengths) | jets


def running_off(flow, bore, fall):
    """The Flushing of a flow down a clean pipe."""
    return flushing(flow, Drain(bore=bore, length=30.0, fall=fall))


# --- machines ---------------------------------------------------------------------------------------


def draw_pump(rng, machines=MACHINES):
    """Parameters that name a machine: rig, and what it is called."""
    name = rng.choice(machines)
    return {"rig": name, "called": YARD["machines"][name]["called"]}


def draw_machine(rng, machines=MACHINES, throttles=(0.5, 0.6, 0.7, 0.8, 0.9, 1.0)):
    """Parameters that name a machine at work: rig, called, throttle, hose (length of its first hose, m)."""
    pump = draw_pump(rng, machines)
    lengths = YARD["machines"][pump["rig"]]["lengths"]
    return pump | {"throttle": rng.choice(throttles), "hose": feet(rng.choice(lengths))}


_MACHINE = (
    "rig", "hose", "jets", "shut", "added_hose", "sizes_down", "drills_down", "leader_hose", "leader_length",
)  # fmt: skip


@cache
def _rig(rig, hose=None, jets=1.0, shut=0, added_hose=0, sizes_down=0, drills_down=0, leader_hose="", leader_length=0):
    """A yard machine. hose: length of its first one (m); jets: they have so many times the area; shut: 1 for an outlet
    that is shut; added_hose: length (m) of another hose at the end, sizes_down sizes smaller than the last;
    drills_down: every jet is so many drill sizes smaller; leader_hose: one of LEADERS, of a leader_length (m), behind
    the first hose in place of the others."""
    made = demo_rig(rig)
    if added_hose or drills_down:
        bore = _smaller(made.hoses[-1].bore, sizes_down)
        jets_now = [jet.replace(bore=tables.next_drill(jet.bore, -drills_down).diameter) for jet in made.nozzle.jets]
        made = made.replace(hoses=(*made.hoses, Hose(bore, added_hose))).with_jets(jets_now)
    if hose is not None:
        first = made.hoses[0]
        coiled = min(float(first.coiled_length), 0.5 * hose) if first.coil_diameter is not None else 0.0
        made = made.replace(hoses=[first.replace(length=hose, coiled_length=coiled), *made.hoses[1:]])
    if leader_hose:
        made = made.replace(hoses=[made.hoses[0], LEADERS[leader_hose].replace(length=leader_length)])
    return changed(made, RigFactors(jet_area=jets)).replace(outlet_shut=bool(shut))


def rig_of(p):
    """The Rig that the parameters of `draw_machine` name; any other of _MACHINE changes it, where it is there."""
    return _rig(**_machine(p))


def _machine(p):
    return {name: p[name] for name in _MACHINE if name in p}


def _smaller(bore, step):
    """The bore (m) of a size of hose: `step` sizes under the one nearest to `bore`."""
    sizes = [hose_bore(size) for size in SIZES]
    return sizes[max(min(range(len(sizes)), key=lambda at: abs(sizes[at] - bore)) - int(step), 0)]


@cache
def _point(throttle, **machine):
    return operating_point(_rig(**machine), throttle)


def point_of(p):
    """The OperatingPoint of that machine; at full throttle where none is drawn."""
    return _point(p.get("throttle", 1.0), **_machine(p))


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


def matched_share(name):
    """Effective area of jets that match a machine of the yard, over that of its own."""
    rig = demo_rig(name)
    return matched_jets(rig).effective_area / rig.nozzle.effective_area


def gauge_redrilled(name, bore):
    """Gauge reading (Pa) of a yard machine at full throttle whose first jets are drilled to this bore (m)."""
    rig = demo_rig(name)
    first, *others = rig.nozzle.jets
    return operating_point(rig.with_jets([first.replace(bore=bore), *others])).gauge


def matched_power(name, size, added):
    """Power at the jets of a yard machine with more hose: with matched jets over with its own."""
    rig = demo_rig(name)
    rig = rig.replace(hoses=[*rig.hoses, Hose(size, added)])
    by = (matched_jets(rig).effective_area / rig.nozzle.effective_area) ** 0.5
    matched = rig.with_jets([jet.replace(bore=jet.bore * by) for jet in rig.nozzle.jets])
    after, before = (operating_point(each).power_shares["jets"] for each in (matched, rig))
    return after / before


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


# --- faults of the yard trailer --------------------------------------------------------------------

_RETURNS = {(False, False, False): "none", (False, False, True): "at full throttle only", (True, True, True): "always"}


@cache
def fault_shows(fault, size=None):
    """The Signature of a fault (its name) of a severity on the yard trailer; the typical one unless given."""
    return signature(demo_rig("yard_trailer"), fault, size)


def draw_fault(rng, faults=tuple(YARD["faults"])):
    """Parameters fault, one of `faults`, and size, its severity."""
    fault = rng.choice(faults)
    return {"fault": fault, "size": _size(rng, fault)}


def draw_suspects(rng):
    """Parameters one and other, a pair of the suspects; fault, which of them it is, and its size."""
    one, other = rng.choice(YARD["suspects"]["pairs"])
    fault = rng.choice((one, other))
    return {"one": one, "other": other, "fault": fault, "size": _size(rng, fault)}


def _size(rng, fault):
    low, high = YARD["faults"][fault]
    return rng.randrange(low, high + 1) / 100.0


def fault_gauge(fault, size, throttle):
    """What the gauge reads, Pa, at a throttle."""
    changes = FAULTS[fault].factors(size)
    return state(demo_rig("yard_trailer"), changes, [throttle]).gauge[0] * changes.needle


def only_cause(fault, size):
    """The name of the cause that gauge readings of a fault at THROTTLES leave; "several" if they leave more."""
    readings = [GaugeReading(value, at) for value, at in zip(fault_shows(fault, size).gauge, THROTTLES, strict=True)]
    tied = diagnose(demo_rig("yard_trailer"), readings).tied
    return tied[0].name if len(tied) == 1 else "several"


def fault_returns(fault, size):
    """At which throttles water returns to the tank, in words."""
    return _RETURNS.get(tuple(fault_shows(fault, size).return_seen.tolist()), "at half and full throttle")


def fault_second_gauge(fault, size):
    """What a gauge known to be good reads at full throttle, Pa."""
    return fault_shows(fault, size).gauge[-1] / FAULTS[fault].factors(size).needle
