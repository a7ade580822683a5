"""What a class will see on a console that is set as a plan says: worked out, never typed.

What can be set, and what is shown, is in the registry of consoles; the physics are the pieces that the consoles use.
"""

import math

from jetlib import tables
from jetlib.course.pages.consoles import console
from jetlib.errors import JetlibError
from jetlib.rig.change.whatif import changed_line, changed_rig, fitted, live_changes, outlet_rig, turned_nozzle
from jetlib.rig.diagnosis.faults import signature
from jetlib.rig.jets.work import thrust_split
from jetlib.rig.parts.rig_file import demo_rig
from jetlib.rig.point.alone import hose_loss, jet_set_pressure
from jetlib.rig.point.operating_point import operating_point
from jetlib.units import si, text
from jetlib.units.refusal import cut

_DRILLED = 0.72  # discharge coefficient
_STRAIGHT = math.pi / 2.0  # rad: a jet at more than this to the hose points ahead
#: A fault that no console lists: what the others are held against.
_SOUND = "healthy"


def seen(name, settings):
    """What the console shows when set so: a dict of SI values. Raises JetlibError for a setting it does not have."""
    read = checked(name, settings)
    if not console(name).shows:
        raise JetlibError(f"{name}: no quantity of it is worked out for a plan; leave `sees` out")
    return _worked_out(name, read)


def checked(name, settings):
    """`settings` as the console holds them: quantities in SI, of a list the value chosen. Raises JetlibError."""
    return {key: value for key, value, _ in _read(name, settings, "US")}


def shown(name, settings, system):
    """Settings as a trainer makes them: (label, words) each."""
    return tuple((console(name).settings[key].label, words) for key, _, words in _read(name, settings, system))


def _read(name, settings, system):
    """(key, value, words) of each setting, a list."""
    known, read = console(name).settings, []
    for key, typed in settings.items():
        if key not in known:
            raise JetlibError(f"{name} has no setting {cut(key)}; write one of {', '.join(known)}")
        setting, value, words = known[key], typed, str(typed)
        if setting.kind:
            value = si(typed, setting.kind, field=key)
            said = text(value, setting.kind, system)
            words = f"{words} ({said})" if words.startswith("#") else said
        elif setting.options:
            words, value = _option(setting, typed)
        elif not isinstance(typed, int) or not 0 <= typed <= 1000:
            raise JetlibError(f"{key} is {cut(typed)}; write a whole number from 0 to 1000, or true or false")
        elif isinstance(typed, bool):
            words = "marked" if typed else "not marked"
        read.append((key, value, words))
    return read


def _option(setting, value):
    """(words, value) of what a plan chooses from a list: by its value, or by how its words begin."""
    if value == _SOUND:
        return value, value
    for words, held in setting.options.items():
        if value == held or words == value or words.startswith(f"{value} "):
            return words, held
    allowed = ", ".join(map(str, setting.options.values()))
    raise JetlibError(f"{setting.label} is {cut(value)}; write one of {allowed}")


def _worked_out(name, settings):
    """What a console shows when set so, by the course's own functions."""
    rig = demo_rig(settings.get("rig", "yard_small_bore" if name == "drills_console" else "yard_trailer"))
    own = {key: value for key, value in settings.items() if key not in ("rig", "throttle")}
    match name:
        case "jets_console":
            bore, edge = settings["bore"], settings.get("edge", _DRILLED)
            return {"gauge": jet_set_pressure(settings["flow"], count=settings.get("count", 4), bore=bore, edge=edge)}
        case "hose_console":
            line = {"bore": settings["bore_1"], "length": settings["length_1"], "reel": settings.get("reel", False)}
            return {"loss": float(hose_loss(settings["flow"], **line))}
        case "pull_console":
            rear = [jet for jet in rig.nozzle.jets if jet.angle <= _STRAIGHT]
            ahead = sum(jet.count for jet in rig.nozzle.jets if jet not in rear)
            turned = turned_nozzle(rig, **{"angle": rear[0].angle, "front": ahead, **own})
            point = operating_point(turned, settings["throttle"])
            return {"pull of the rear jets": float(thrust_split(point).rear), "pull": float(point.reaction)}
        case "fault_console":
            fault = settings.get("fault", _SOUND)
            found = signature(rig, fault, settings.get("size") if fault != _SOUND else None)
            return dict(zip(console(name).shows, map(float, found.gauge), strict=True))
        case "pump_console":
            rig = outlet_rig(settings["outlet"], settings.get("pump", 0.95))
        case "circuit_console":
            rig = changed_line(rig, **{"length": rig.hoses[0].length, "bore": rig.hoses[0].bore, **own})
        case "bypass_console":
            rig = changed_rig(rig, **own)
        case "drills_console":
            count, bore = settings.get("count", rig.nozzle.jets[0].count), tables.drill(settings["drill"]).diameter
            rig = fitted(rig, count=count, bore=bore, added=settings.get("added", 0.0))
        case "live_rig":
            rig = live_changes(rig, **own)
        case _:
            raise NotImplementedError(name)
    point = operating_point(rig, settings.get("throttle", 1.0))
    return {
        "gauge": point.gauge, "pump flow": point.pump_flow, "nozzle flow": point.nozzle_flow,
        "return flow": point.bypass_flow + point.leak_flow, "hose loss": float(point.hose_loss),
        "nozzle pressure": point.nozzle_pressure,
    }  # fmt: skip
