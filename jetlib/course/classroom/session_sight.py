"""What a class will see on a console that is set as a plan says: worked out, never typed.

Each console of the course that a plan may set has its settings here, with the names the console uses, and the
quantities that the class is told to look at.
"""

from collections.abc import Callable
from dataclasses import dataclass, field

from jetlib import tables
from jetlib.errors import JetlibError
from jetlib.rig.change.whatif import changed_rig, fitted
from jetlib.rig.diagnosis.faults import fault_named, signature
from jetlib.rig.jets.work import thrust_split
from jetlib.rig.parts.machine import Jet, Nozzle
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs
from jetlib.rig.point.alone import hose_loss, jet_set_pressure
from jetlib.rig.point.operating_point import operating_point
from jetlib.units import si, text
from jetlib.units.refusal import cut

_DRILLED = 0.72  # discharge coefficient
#: As the live rig has them: what becomes of the number in its first group, and how its list says it.
_LIVE_JETS = {"as loaded": (0, "as loaded"), "one more": (1, "one jet more"), "one less": (-1, "one jet fewer")}
_BEHIND = 1.5707963267948966  # rad: a jet at less than this to the hose points back


@dataclass(frozen=True)
class Setting:
    """A control of a console: its label there, and its kind of quantity; "" where it holds words or a count."""

    label: str
    kind: str = ""


@dataclass(frozen=True)
class Screen:
    """A console a plan may use: its function, its page (a stem), its settings by name, its quantities and their kinds.

    work(settings): a dict of SI values by quantity, or None where a plan promises nothing of it.
    """

    function: str
    page: str
    settings: dict
    quantities: dict = field(default_factory=dict)
    work: Callable = None


def screen(name):
    """The Screen of that name. Raises JetlibError that lists them."""
    if not isinstance(name, str) or name not in SCREENS:
        raise JetlibError(f"there is no console {cut(name)} for a plan; write one of {', '.join(SCREENS)}")
    return SCREENS[name]


def seen(name, settings):
    """What the console shows when set so: a dict of SI values. Raises JetlibError for a setting it does not have."""
    found = screen(name)
    checked(name, settings)
    if found.work is None:
        raise JetlibError(f"{name}: no quantity of it is worked out for a plan; leave `sees` out")
    return found.work(settings)


def checked(name, settings):
    """`settings` in SI: quantities read, all else as it is. Raises JetlibError."""
    found, read = screen(name), {}
    for key, value in settings.items():
        if key not in found.settings:
            raise JetlibError(f"{name} has no setting {cut(key)}; write one of {', '.join(found.settings)}")
        kind = found.settings[key].kind
        read[key] = si(value, kind, field=key) if kind else value
    return read


def shown(name, settings, system):
    """Settings as a trainer makes them: (label, words) each."""
    found = screen(name)
    rows = []
    for key, value in checked(name, settings).items():
        setting = found.settings[key]
        words = text(value, setting.kind, system) if setting.kind else _words(key, value)
        if str(settings[key]).startswith("#") and setting.kind:
            words = f"{settings[key]} ({words})"
        rows.append((setting.label, words))
    return tuple(rows)


def _words(key, value):
    """As the console itself calls it."""
    if key == "outlet":
        return {"open": "open end", "small": "small holes"}.get(str(value), str(value))
    if key == "fault":
        return fault_named(value).title
    if key == "rig" and value in demo_rigs():
        return demo_rig(value).name
    if key == "jets" and str(value) in _LIVE_JETS:
        return _LIVE_JETS[str(value)][1]
    if key == "jets" and isinstance(value, int):
        return _drill_words(value)
    if isinstance(value, bool):
        return "ticked" if value else "not ticked"
    return str(value)


def _drill_words(steps):
    if not steps:
        return "as they are"
    return f"{abs(steps)} drill size{'s' if abs(steps) > 1 else ''} {'larger' if steps > 0 else 'smaller'}"


# --- the physics of each console, by the course's own functions --------------------------------------


def _jets(settings):
    read = checked("jets_console", settings)
    return {"gauge": jet_set_pressure(read["flow"], count=read.get("count", 4), bore=read["bore"], edge=_DRILLED)}


def _hoses(settings):
    read = checked("hose_console", settings)
    loss = hose_loss(read["flow"], bore=read["bore_1"], length=read["length_1"], reel=read.get("reel", False))
    return {"loss": float(loss)}


def _pumped(settings):
    read = checked("pump_console", settings)
    rig = demo_rig("yard_trailer")
    nozzle = {"open": Nozzle([Jet("1/2 in", discharge_coefficient=0.8)]), "small": rig.nozzle}[read["outlet"]]
    return _state(rig.replace(hoses=(), nozzle=nozzle), read["throttle"])


def _circuit(settings):
    read = checked("circuit_console", settings)
    rig = demo_rig("yard_trailer")
    first = rig.hoses[0]
    length = read.get("length", first.length)
    first = first.replace(length=length, coiled_length=min(first.coiled_length, length))
    return _state(rig.replace(hoses=(first, *rig.hoses[1:]), lift=read.get("lift", 0.0)), read["throttle"])


def _bypassed(settings):
    read = checked("bypass_console", settings)
    changes = {key: read[key] for key in ("extra_length", "extra_bore", "jets") if key in read}
    return _state(changed_rig(demo_rig(read.get("rig", "yard_trailer")), **changes), read["throttle"])


def _drilled(settings):
    read = checked("drills_console", settings)
    rig = demo_rig("yard_small_bore")
    count = read.get("count", rig.nozzle.jets[0].count)
    return _state(fitted(rig, count=count, bore=tables.drill(read["drill"]).diameter), 1.0)


def _pulled(settings):
    read = checked("pull_console", settings)
    rig = demo_rig(read.get("rig", "yard_trailer"))
    angle, front = read.get("angle"), read.get("front")
    rear = [jet if angle is None else jet.replace(angle=angle) for jet in rig.nozzle.jets if jet.angle <= _BEHIND]
    ahead = [jet for jet in rig.nozzle.jets if jet.angle > _BEHIND]
    if front is not None:
        ahead = [ahead[0].replace(count=front)] if front else []
    point = operating_point(rig.with_jets([*rear, *ahead]), read["throttle"])
    return {"pull of the rear jets": float(thrust_split(point).rear), "pull": float(point.reaction)}


def _faulty(settings):
    rig = demo_rig("yard_trailer")
    fault, size = settings.get("fault", "healthy"), settings.get("size")
    found = signature(rig, fault, size if fault != "healthy" else None)
    return dict(zip(("gauge at idle", "gauge at half", "gauge at full"), map(float, found.gauge), strict=True))


def _live(settings):
    read = checked("live_rig", settings)
    rig = demo_rig(read.get("rig", "yard_trailer"))
    first, *others = rig.nozzle.jets
    more = _LIVE_JETS.get(str(read.get("jets", "as loaded")))
    if more is None:
        raise JetlibError(f"jets is {cut(read['jets'])}; write one of {', '.join(_LIVE_JETS)}")
    return _state(rig.with_jets([first.replace(count=first.count + more[0]), *others]), read["throttle"])


def _state(rig, throttle):
    point = operating_point(rig, throttle)
    return {
        "gauge": point.gauge, "pump flow": point.pump_flow, "nozzle flow": point.nozzle_flow,
        "return flow": point.bypass_flow + point.leak_flow, "hose loss": float(point.hose_loss),
        "nozzle pressure": point.nozzle_pressure,
    }  # fmt: skip


_THROTTLE = {"throttle": Setting("Throttle", "fraction")}
_RIG = {"rig": Setting("Rig")}
_FLOWS = {"gauge": "pressure", "nozzle flow": "flow"}

SCREENS = {
    each.function: each
    for each in (
        Screen(
            "pump_console", "01_pump_and_gauge", {**_THROTTLE, "outlet": Setting("Outlet")},
            {"gauge": "pressure", "pump flow": "flow"}, _pumped,
        ),
        Screen(
            "jets_console", "02_orifice_flow",
            {"flow": Setting("Flow", "flow"), "count": Setting("Holes"), "bore": Setting("Hole bore", "jet_bore")},
            {"gauge": "pressure"}, _jets,
        ),
        Screen(
            "hose_console", "03_hose_friction",
            {
                "flow": Setting("Flow", "flow"), "bore_1": Setting("Bore", "hose_bore"),
                "length_1": Setting("Length", "length"),
                "reel": Setting("All of it wound on a reel 20 in (0.5 m) across"),
            },
            {"loss": "pressure"}, _hoses,
        ),
        Screen(
            "circuit_console", "04_whole_circuit",
            {
                **_THROTTLE, "length": Setting("Length of the hose", "length"),
                "lift": Setting("Nozzle above pump", "lift"),
            },
            {"gauge": "pressure", "hose loss": "pressure", "nozzle pressure": "pressure", "nozzle flow": "flow"},
            _circuit,
        ),
        Screen(
            "bypass_console", "05_bypass",
            {
                **_RIG, **_THROTTLE, "extra_length": Setting("Hose added", "length"),
                "extra_bore": Setting("Bore of that hose"), "jets": Setting("Jets"),
            },
            {**_FLOWS, "return flow": "flow"}, _bypassed,
        ),
        Screen(
            "drills_console", "06_sizing_jets",
            {"drill": Setting("Drill of the rear holes"), "count": Setting("Rear holes")},
            {**_FLOWS, "return flow": "flow"}, _drilled,
        ),
        Screen("step_down_console", "07_choosing_hose", {"small_length": Setting("Length of small hose", "length")}),
        Screen(
            "fault_console", "08_reading_the_gauge",
            {"fault": Setting("Fault A"), "size": Setting("Size of A", "fraction")},
            dict.fromkeys(("gauge at idle", "gauge at half", "gauge at full"), "pressure"), _faulty,
        ),
        Screen(
            "pull_console", "09_pull_and_cut",
            {
                **_RIG, **_THROTTLE, "angle": Setting("Rear jets, to the hose", "angle"),
                "front": Setting("Holes in front"),
            },
            {"pull of the rear jets": "force", "pull": "force"}, _pulled,
        ),
        Screen("tank_console", "10_power_water_heat", _RIG),
        Screen("plan_console", "11_job_plan", {"rig": Setting("Machine")}),
        Screen(
            "live_rig", "classroom", {**_RIG, "jets": Setting("Jets"), **_THROTTLE},
            {**_FLOWS, "return flow": "flow"}, _live,
        ),
        Screen("hidden_fault", "classroom", {}),
    )
}  # fmt: skip
