"""The entries of a rig on the bench: their labels, what each takes, and a number as a text that reads back exactly."""

from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from jetlib import tables
from jetlib.errors import JetlibError
from jetlib.units import SYSTEMS, from_si, si, unit_label
from jetlib.units.entry import count, empty
from jetlib.units.kinds import KINDS

MOST = {"hoses": 10, "fittings": 10, "jets": 6}
VALVES = (
    "regulating unloader",
    "trapped-pressure unloader",
    "burst disc",
    "regulating unloader and burst disc",
    "trapped-pressure unloader and burst disc",
)
VALVES += ("none",)
ENGINES = ("naturally aspirated", "electric", "none")
EITHER = ("no", "yes")


class Field(NamedTuple):
    """An entry of a part. kind: of `units.si`, or "count", "name", or a tuple of the words to choose from."""

    name: str
    label: str
    kind: object
    optional: bool = False
    more: bool = False


PARTS = {
    "pump": (
        Field("delivered", "Delivers, full", "flow", True),
        Field("rated_pressure", "at its rating", "pressure", True),
        Field("rated_flow", "or sweeps, full", "flow", True),
        Field("rated_speed", "Speed, full", "speed"),
        Field("idle_speed", "Speed, idle", "speed"),
        Field("volumetric_efficiency", "Gives there", "fraction", more=True),
        Field("mechanical_efficiency", "Shaft to water", "fraction", more=True),
    ),
    "valve": (
        Field("kind", "Valve", VALVES),
        Field("setting", "Opens at", "pressure"),
        Field("rise", "Rise, all returned", "fraction", more=True),
        Field("unloaded_pressure", "Unloaded at", "pressure", more=True),
        Field("seat_leak", "Leak in seat", "leak_bore", more=True),
        Field("rating", "Disc bursts", "pressure"),
        Field("bore", "Hole left by disc", "bore", more=True),
        Field("opened", "Disc burst", EITHER, more=True),
        Field("disc_leak", "Disc leaks by", "leak_bore", more=True),
    ),
    "hoses": (
        Field("name", "Name", "name", True),
        Field("bore", "Bore", "hose_bore"),
        Field("length", "Length", "length"),
        Field("coiled_length", "On the reel", "length", True),
        Field("coil_diameter", "Reel diameter", "coil_diameter", True),
        Field("working_pressure", "Rated for", "pressure", True),
        Field("end_bore", "End bore", "bore", True, True),
        Field("roughness", "Roughness", "roughness", False, True),
        Field("mass_per_metre", "Weight", "mass_per_length", True, True),
        Field("bend_radius", "Bend radius", "coil_diameter", True, True),
    ),
    "fittings": (
        Field("name", "Name", "name", True),
        Field("bore", "Bore", "bore"),
        Field("loss_coefficient", "Loss, K", "loss_coefficient", True),
        Field("line_bore", "Line bore", "bore", True, True),
        Field("count", "How many", "count"),
    ),
    "jets": (
        Field("name", "Name", "name", True),
        Field("count", "Holes", "count"),
        Field("bore", "Drill or bore", "jet_bore"),
        Field("angle", "Hose angle", "angle"),
        Field("discharge_coefficient", "Edge, Cd", "fraction", more=True),
        Field("velocity_coefficient", "Speed, Cv", "fraction", more=True),
    ),
    "body": (
        Field("name", "Name", "name", True, True),
        Field("body_bore", "Body bore", "bore", True, True),
        Field("body_loss_coefficient", "Body loss, K", "loss_coefficient", False, True),
    ),
    "engine": (
        Field("kind", "Engine", ENGINES),
        Field("power", "Power", "power"),
        Field("altitude", "Altitude", "altitude"),
    ),
    "site": (
        Field("name", "Rig's name", "name", True),
        Field("lift", "Lift to nozzle", "lift"),
        Field("water_temperature", "Water", "temperature"),
        Field("outlet_shut", "Outlet shut", EITHER, more=True),
    ),
}
LISTS = ("hoses", "fittings", "jets")
_FIELDS = {(part, field.name): field for part, fields in PARTS.items() for field in fields}
#: What is usual, and assumed until somebody writes it; the rest only a look at the rig can tell.
STARTS = {
    "pump": {"rated_speed": "1450 rpm", "idle_speed": "580 rpm", "volumetric_efficiency": "95 %",
             "mechanical_efficiency": "88 %"},
    "valve": {"kind": "regulating unloader", "rise": "8 %", "unloaded_pressure": "5 bar", "seat_leak": "0 mm",
              "bore": "10 mm", "opened": "no", "disc_leak": "0 mm"},
    "hoses": {"roughness": "0.01 mm"},
    "fittings": {"count": "1"},
    "jets": {"angle": "30 deg", "discharge_coefficient": "72 %",
             "velocity_coefficient": "97 %"},
    "body": {"body_loss_coefficient": "0"},
    "engine": {"kind": "none", "altitude": "0 ft"},
    "site": {"lift": "0 ft", "water_temperature": "15 degC", "outlet_shut": "no"},
}  # fmt: skip

ASSUMED, TABLE = "assumed, not seen", "from the table"


def fields_of(part, texts=None):
    """The Fields of a part; with its texts, only those that its kind of valve or engine has."""
    fields = PARTS[part]
    kind = "" if texts is None else texts.get("kind", "")
    if part == "valve" and kind:
        away = set() if "unloader" in kind else {"setting", "rise", "seat_leak"}
        away |= set() if "trapped" in kind else {"unloaded_pressure"}
        away |= set() if "disc" in kind else {"rating", "bore", "opened", "disc_leak"}
        return tuple(field for field in fields if field.name not in away)
    if part == "engine" and kind == "none":
        return fields[:1]
    return fields


def field_at(place):
    """The Field of a place: (part, number or None, field name)."""
    return _FIELDS[place[0], place[2]]


def new_part(part, **texts):
    """The texts of a part as it is when added."""
    return {**dict.fromkeys((field.name for field in PARTS[part]), ""), **STARTS[part], **texts}


def unseen_part(part, **texts):
    """The texts of a part nobody has seen: what is usual is marked as assumed, and `texts` as from a table."""
    made, origin = new_part(part, **texts), {**dict.fromkeys(STARTS[part], ASSUMED), **dict.fromkeys(texts, TABLE)}
    origin = {name: said for name, said in origin.items() if made[name] and field_at((part, 0, name)).kind in KINDS}
    return {**made, "origin": origin}


def exact_text(value, kind, system="US"):
    """`value` (SI) as the shortest text that reads back as the same number; "" for None. Drills by their name."""
    if value is None:
        return ""
    if kind in ("count", "name"):
        return str(value)
    systems = (system, *(each for each in SYSTEMS if each != system))
    for words in (*_by_name(value, kind), *_by_figures(value, kind, systems)):
        try:
            if si(words, kind) == value:
                return words
        except JetlibError:
            continue
    return repr(float(value)) + {"fraction": ""}.get(kind, f" {_si_label(kind)}")


def _by_name(value, kind):
    if kind == "jet_bore":
        yield tables.next_drill(value, 0).label
    size = tables.hose_of_bore(value) if kind == "hose_bore" else None
    if size is not None:
        yield f"{Fraction(size.nominal_bore / 0.0254).limit_denominator(64)} in"
    if kind in ("bore", "jet_bore"):
        inches = Fraction(value / 0.0254).limit_denominator(64)
        if 1 < inches.denominator <= 32:
            yield f"{inches} in"


def _by_figures(value, kind, systems):
    for figures in (6, 12, 15, 17):
        for each in systems:
            yield f"{from_si(value, kind, each):.{figures}g} {unit_label(kind, each).replace('°', 'deg')}".strip()


def _si_label(kind):
    return KINDS[kind].si_label


def value_of(field, typed):
    """What a text typed at a Field means: SI, a count, a name, True or False; None for an optional one left empty.

    Raises JetlibError that says what is allowed.
    """
    if field.kind == "name":
        if len(typed) > 200 or not typed.isprintable():
            raise JetlibError("a name is up to 200 characters on one line")
        return typed
    typed = typed.strip()
    if isinstance(field.kind, tuple):
        if typed not in field.kind:
            raise JetlibError(f"{typed[:20]!r} is not known; choose one of: {', '.join(field.kind)}")
        return typed == EITHER[1] if field.kind == EITHER else typed
    if not typed:
        if field.optional:
            return None
        raise empty(field.kind)
    if field.kind == "count":
        return count(typed, 0, 100)
    return _number(typed, field.kind, field.label.lower())


@lru_cache(maxsize=1024)
def _number(typed, kind, label):
    return si(typed, kind, field=label)
