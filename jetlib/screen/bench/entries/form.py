"""A rig as it is typed: texts by field, so that what somebody wrote comes back letter by letter.

A form is a dict of plain values: single parts as {field: text}, hoses, fittings and jets as lists of such. What was
typed and cannot be used stands under "pending" of its part beside the last text that could, so a form always makes a
rig. Nothing here draws.
"""

import re
from contextlib import suppress
from copy import deepcopy
from functools import lru_cache, partial

from jetlib.errors import JetlibError
from jetlib.rig.parts.machine import BurstDisc, Engine, Fitting, Hose, Jet, Nozzle, Pump, Rig, Unloader
from jetlib.screen.bench.entries.entry import LONGEST, declared, exact_text, meaning
from jetlib.units.entry import understood
from jetlib.units.kinds import KINDS

MOST = {"hoses": 10, "fittings": 10, "jets": 6}
LISTS = tuple(MOST)
#: {part: {name: Entry}}
PARTS = {part: declared(part) for part in ("pump", "valve", *LISTS, "body", "engine", "site")}
ASSUMED, TABLE = "assumed, not seen", "from the table"


def fields_of(part, texts):
    """The Entries of a part with these texts, a list: those that its kind of valve or engine has."""
    kind = texts.get("kind", "")
    return [field for field in PARTS[part].values() if not kind or re.search(field.of, kind)]


def new_part(part, **texts):
    """The texts of a part as it is when added."""
    return {**{name: field.start for name, field in PARTS[part].items()}, **texts}


def unseen_part(part, **texts):
    """The texts of a part nobody has seen: what is usual is marked as assumed, and `texts` as from a table."""
    made = new_part(part, **texts)
    known = [name for name, field in PARTS[part].items() if made[name] and field.kind in KINDS]
    return {**made, "origin": {name: TABLE if name in texts else ASSUMED for name in known}}


# --- from a rig -------------------------------------------------------------------------------------


def form_of(rig, system="US"):
    """The form of a Rig, in the units of `system` where those hold the number exactly. It makes an equal rig.

    Raises JetlibError for a rig of more hoses, fittings or jet groups than the bench holds.
    """
    for part, many in (("hoses", rig.hoses), ("fittings", rig.fittings), ("jets", rig.nozzle.jets)):
        if len(many) > MOST[part]:
            raise JetlibError(f"this rig has {len(many)} {part}; the bench holds {MOST[part]}")
    unloader, disc = rig.unloader, rig.burst_disc
    kinds = [] if unloader is None else ["trapped-pressure unloader" if unloader.trapping else "regulating unloader"]
    kinds += [] if disc is None else ["burst disc"]
    valve = new_part("valve", kind=" and ".join(kinds) or "none")
    if unloader is not None:
        valve |= texts_of("valve", unloader, system, ("setting", "rise", "unloaded_pressure", "seat_leak"))
    if disc is not None:
        valve |= texts_of("valve", disc, system, ("rating", "bore", "opened"))
        valve["disc_leak"] = exact_text(disc.seat_leak, "leak_bore", system)
    unrated = {"rated_pressure": ""} if rig.pump.rating is None else {}
    hoses = [texts_of("hoses", hose, system) for hose in rig.hoses]
    for hose, texts in zip(rig.hoses, hoses, strict=True):
        if hose.coil_diameter is None:
            texts["coiled_length"] = ""
    return {
        "pump": texts_of("pump", rig.pump, system) | unrated,
        "valve": valve,
        "hoses": hoses,
        "fittings": [texts_of("fittings", fitting, system) for fitting in rig.fittings],
        "jets": [texts_of("jets", jet, system) for jet in rig.nozzle.jets],
        "body": texts_of("body", rig.nozzle, system),
        "engine": new_part("engine") if rig.engine is None else texts_of("engine", rig.engine, system),
        "site": texts_of("site", rig, system),
    }


def texts_of(part, owner, system, names=None):
    """{name: text} of all that a part of a rig, or a row of a table, says under those names, by default all."""
    return {name: exact_text(getattr(owner, name), PARTS[part][name].kind, system) for name in names or PARTS[part]}


# --- to a rig ---------------------------------------------------------------------------------------


def rig_of(form):
    """The Rig that the usable texts of a form make. Raises JetlibError where they make none, or some are missing."""
    left = missing(form)
    if left:
        raise JetlibError(f"still to write: {', '.join(map(place_words, left))}")
    made = {part: [_part_of(part, tuple(texts[name] for name in PARTS[part])) for texts in form[part]]
            for part in LISTS}  # fmt: skip
    return Rig(
        pump=_pump(_values("pump", form["pump"])),
        valve=_valves(_values("valve", form["valve"])),
        hoses=made["hoses"],
        fittings=made["fittings"],
        nozzle=Nozzle(jets=made["jets"], **_values("body", form["body"])),
        engine=None if form["engine"]["kind"] == "none" else Engine(**_values("engine", form["engine"])),
        **_values("site", form["site"]),
    )


_CLASSES = {"hoses": Hose, "fittings": Fitting, "jets": Jet}


@lru_cache(maxsize=256)
def _part_of(part, texts):
    values = _values(part, dict(zip(PARTS[part], texts, strict=True)))
    if part == "hoses":
        coiled, across = values.get("coiled_length"), values.get("coil_diameter")
        if coiled and across is None:
            raise JetlibError("say how wide the reel is first, under Reel diameter, such as 20 in")
        if coiled and coiled > values["length"]:
            raise JetlibError("more hose is on the reel than its length; allowed: no more than its length")
    return _CLASSES[part](**values)


def _pump(values):
    """The Pump: what its plate says it delivers at its rated pressure comes before what its plungers sweep."""
    flow = values.pop("delivered", None)
    if flow is None:
        return Pump(**values)
    values.pop("rated_flow", None)
    if "rated_pressure" not in values:
        raise JetlibError("say at what pressure it delivers that: write it under at its rating")
    return Pump(**values, delivered=(flow, values["rated_pressure"]))


def _valves(values):
    kind, made = values["kind"], []
    if "unloader" in kind:
        own = {name: values[name] for name in ("setting", "rise", "unloaded_pressure", "seat_leak") if name in values}
        made.append(Unloader(**own, trapping="trapped" in kind))
    if "disc" in kind:
        own = {name: values[name] for name in ("rating", "bore", "opened")}
        made.append(BurstDisc(seat_leak=values["disc_leak"], **own))
    return made


def _values(part, texts):
    """Values by field name of those that hold something, for this kind of part."""
    found = {field.name: meaning(field, texts[field.name]) for field in fields_of(part, texts)}
    return {name: value for name, value in found.items() if value is not None}


def empty_form():
    """The form of a rig that nobody has seen yet. It makes no rig until all that is `missing` is written."""
    return {part: [unseen_part(part)] if part in ("hoses", "jets") else [] if part in LISTS else unseen_part(part)
            for part in PARTS}  # fmt: skip


def missing(form):
    """Places where something must be written before a form makes a rig, a list."""
    found = []
    for part, number, texts in _each(form):
        for field in fields_of(part, texts):
            needed = not (field.optional or field.options)
            if part == "pump":  # one flow will do, and what is delivered is so at a pressure
                needed |= field.name == "delivered" and not texts["rated_flow"]
                needed |= field.name == "rated_pressure" and bool(texts["delivered"] or not texts["rated_flow"])
            found += [(part, number, field.name)] if needed and not texts[field.name] else []
    return found


def places(form):
    """Every place of a form, in the order in which they are written."""
    return ((part, number, name) for part, number, _ in _each(form) for name in PARTS[part])


def assumed(form, echoed):
    """What is assumed of a form because nobody has written it, in words, a list.

    echoed(text, kind): a text in the reader's own units, "" where it stands in those already.
    """
    return [
        f"{place_words((part, number, field.name))} {echoed(texts[field.name], field.kind) or texts[field.name]}"
        for part, number, texts in _each(form)
        for field in fields_of(part, texts)
        if texts.get("origin", {}).get(field.name) == ASSUMED
    ]


def place_words(place):
    """What the page calls an entry."""
    part, number, _ = place
    owner = {"hoses": "section", "fittings": "fitting", "body": "nozzle"}.get(part, part)
    return f"{owner}{'' if number is None else f' {number + 1}'}: {field_at(place).label}"


def _each(form):
    for part in PARTS:
        for number, texts in enumerate(form[part]) if part in LISTS else ((None, form[part]),):
            yield part, number, texts


# --- changes ----------------------------------------------------------------------------------------


def field_at(place):
    """The Entry of a place: (part, number or None, name)."""
    return PARTS[place[0]][place[2]]


def part_at(form, place):
    """The texts that a place lies in."""
    part, number, _ = place
    return form[part] if number is None else form[part][number]


def shown_at(form, place):
    """What stands in an entry: what was typed last, whether it could be used or not."""
    texts = part_at(form, place)
    return texts.get("pending", {}).get(place[2], texts[place[2]])


def typed_at(form, place, typed):
    """The form with `typed` at a place, pending there where it cannot be used. What was pending is tried again."""
    try:
        found = _with(form, place, typed)
    except JetlibError:
        found = deepcopy(form)
        part_at(found, place).setdefault("pending", {})[place[2]] = typed
        return found
    for other in pending_places(found):
        with suppress(JetlibError):
            found = _with(found, other, shown_at(found, other))
    return found


def _with(form, place, typed):
    """The form with `typed` in use at a place. Raises JetlibError that says what is allowed."""
    made = deepcopy(form)
    texts = part_at(made, place)
    for beside in ("pending", "origin"):
        texts.get(beside, {}).pop(place[2], None)
    if not texts.get("pending", True):
        del texts["pending"]
    texts[place[2]] = typed.strip()
    meaning(field_at(place), typed)
    if not missing(made):
        rig_of(made)
    return made


def pending_places(form):
    """Places where something stands that could not be used, a list."""
    return [(part, number, name) for part, number, texts in _each(form) for name in texts.get("pending", {})]


def why_pending(form, place, system="US"):
    """The JetlibError of what stands pending at a place, or None when it would do; numbers in the units of the page."""
    try:
        understood(shown_at(form, place), field_at(place).kind, system, partial(_with, form, place))
    except JetlibError as error:
        return error


def with_part(form, part, texts):
    """A copy with one more hose, fitting or jet group at the end; JetlibError when there are as many as go."""
    if len(form[part]) >= MOST[part]:
        raise JetlibError(f"there are {MOST[part]} already, as many as the bench holds")
    return {**form, part: [*form[part], texts]}


def without_part(form, part, number):
    """A copy without one hose, fitting or jet group."""
    return {**form, part: [*form[part][:number], *form[part][number + 1 :]]}


def moved(form, part, number, by):
    """A copy with one hose, fitting or jet group moved by `by` places; as it was where there is no such place."""
    many = [*form[part]]
    if {number, number + by} <= set(range(len(many))):
        many.insert(number + by, many.pop(number))
    return {**form, part: many}


#: How benches saved before call the kinds of valve.
_CALLED = {"unloader": "regulating unloader", "trapping unloader": "trapped-pressure unloader"}


def as_of_today(held):
    """A copy of a saved form in today's words, with the entries that it was saved without as a new part has them."""
    form = deepcopy(held)
    first, *disc = form["valve"]["kind"].partition(" and ")
    form["valve"]["kind"] = "".join([_CALLED.get(first, first), *disc])
    for part, _, texts in _each(form):
        texts.update(new_part(part) | texts)
    return form


def is_form(held):
    """Whether plain values read from a file are a form that makes a rig, or will when all is written."""
    try:
        many = [(held[part], most) for part, most in MOST.items()]
        if set(held) != set(PARTS) or not all(isinstance(each, list) and len(each) <= most for each, most in many):
            return False
        for part, _, texts in _each(held):
            beside = [texts.get(which, {}) for which in ("pending", "origin")]
            own = {name: text for name, text in texts.items() if name not in ("pending", "origin")}
            if set(own) != set(PARTS[part]) or not set().union(*beside) <= set(own):
                return False
            if not all(is_text(text) for each in (own, *beside) for text in each.values()):
                return False
            for field in fields_of(part, own):
                if own[field.name]:
                    meaning(field, own[field.name])
        if not missing(held):
            rig_of(held)
    except (JetlibError, KeyError, TypeError, AttributeError):
        return False
    return True


def is_text(value):
    """Whether a plain value can stand in an entry."""
    return isinstance(value, str) and len(value) <= LONGEST
