"""What an exercise that is written in TOML draws, and what follows from it: the tables `draw` and `given`.

    flow = { kind = "flow", from = 4, to = 9, step = 0.5 }        one of a row of numbers, in gpm
    new_length = { kind = "length", one_of = [125, 175, 225] }    one of a list
    bore = { kind = "jet_bore", is = "drill_bore({drill})" }      worked out from those above
    machine = { yard = "machine" }                                a machine: rig, called, throttle, hose
    fault = { yard = "fault", faults = ["jets worn"] }            a fault of the yard trailer: fault, size
    gauge = { reading = "gauge" }                                 what that machine shows

Numbers are in US units of their kind, or in the `unit` that is named.
"""

import math
from inspect import signature
from random import Random

from jetlib.course.exercises import yard
from jetlib.course.exercises.formulas import formula
from jetlib.course.store.checked_row import among, known, listed, words
from jetlib.errors import JetlibError
from jetlib.rig.hoses.surge import surges_on_the_way
from jetlib.units import si, to_si
from jetlib.units.kinds import KINDS
from jetlib.units.refusal import cut

_MOST_STEPS = 10_000
#: What can be read on a machine of the yard: the kind, and a function of the parameters.
READINGS = {
    name: (kind, lambda p, name=name: getattr(yard.point_of(p), name))
    for name, kind in {
        "gauge": "pressure", "nozzle_pressure": "pressure", "nozzle_flow": "flow", "pump_flow": "flow",
        "bypass_flow": "flow", "reaction": "force", "speed": "speed",
    }.items()
} | {
    "setting": ("pressure", lambda p: yard.rig_of(p).unloader.setting),
    "rise": ("fraction", lambda p: yard.rig_of(p).unloader.rise),
    "rated_flow": ("flow", lambda p: yard.rig_of(p).pump.rated_flow),
    "rated_speed": ("speed", lambda p: yard.rig_of(p).pump.rated_speed),
    "idle_speed": ("speed", lambda p: yard.rig_of(p).pump.idle_speed),
    "pump_speed": ("speed", lambda p: yard.rig_of(p).pump.speed(p.get("throttle", 1.0))),
    "engine_power": ("power", lambda p: yard.rig_of(p).engine.power),
    "surge": ("pressure", lambda p: surges_on_the_way(yard.point_of({**p, "throttle": 1.0}))[-1]),
    "first_hose_loss": ("pressure", lambda p: yard.point_of(p).hose_losses[0]),
    "last_hose_loss": ("pressure", lambda p: yard.point_of(p).hose_losses[-1]),
    "sent_back": ("flow", lambda p: yard.point_of(p).pump_flow - yard.point_of(p).nozzle_flow),
}  # fmt: skip


class Drawing:
    """The tables `draw` and `given` of an exercise. kinds: name -> kind, None for words and plain numbers.

    draw(rng) and given(parameters) are what an Exercise takes.
    """

    def __init__(self, row, where):
        self.kinds, self.names = {}, set()
        self._draws = self._read(row, "draw", where)
        self._given = self._read(row, "given", where)

    @property
    def shown(self):
        """name -> kind of those that are quantities."""
        return {name: kind for name, kind in self.kinds.items() if kind}

    def draw(self, rng):
        found = {}
        for entry in self._draws:
            found |= entry(rng, found)
        return found

    def given(self, p):
        found = {}
        for entry in self._given:
            found |= entry(None, {**p, **found})
        return found

    def _read(self, row, table, where):
        entries = row.get(table, {})
        if not isinstance(entries, dict):
            raise JetlibError(f"{where}: {table} is {cut(entries)}; write it as a table, [exercise.{table}]")
        return [self.entry(name, entry, f"{where}, {table}.{name}", table) for name, entry in entries.items()]

    def entry(self, name, entry, where, table):
        """What an entry of the table "draw" or "given" gives: a function of (rng, parameters), {name: value}."""
        if not isinstance(entry, dict):
            raise JetlibError(f"{where} is {cut(entry)}; write such as {name} = {{ one_of = [1, 2, 3] }}")
        way = next((each for each in _WAYS if each in entry), None)
        if way is None or (table == "given" and way in _BY_CHANCE):
            fit = [each for each in _WAYS if table == "draw" or each not in _BY_CHANCE]
            raise JetlibError(f"{where} says nothing to take; write one of {', '.join(fit)}")
        make, more = _WAYS[way]
        known(entry, {way, "kind", *more}, where)
        if kind := words(entry, "kind", where):
            among(kind, KINDS, f"{where}: kind is")
        names, made = make(name, entry, kind or None, where, self)
        strange = next((each for each in names if not each.isidentifier()), None)
        if strange is not None:
            raise JetlibError(f"{where}: {cut(strange)} is no name; write letters, figures and _")
        self.names |= set(names)
        self.kinds |= names
        return made


def _si(value, entry, kind, where):
    """A value of a list as the exercise holds it: SI of its kind, or as it stands."""
    if kind is None:
        return value
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise JetlibError(f"{where}: {cut(value)} is no number of kind {kind}; write numbers")
    unit = words(entry, "unit", where)
    return float(si(f"{value} {unit}", kind) if unit else to_si(value, kind, "US"))


def numbers_of(entry, name, kind, where, value=None):
    """The numbers, or words, of a list as the exercise holds them, a tuple. Raises JetlibError."""
    found = entry[name] if value is None else value
    fits = isinstance(found, list) and found and all(type(each) in (int, float, str) for each in found)
    if not fits or len({type(each) is str for each in found}) != 1:
        raise JetlibError(f"{where}: {name} is {cut(found)}; write a list of numbers or of words, not empty")
    return tuple(_si(each, entry, kind, where) for each in found)


def _names(name, entry, where):
    """The names that an entry fills: one, or one for each letter of `each`."""
    letters = words(entry, "each", where)
    return [f"{name}_{letter}" for letter in letters] if letters else [name]


def _one_of(name, entry, kind, where, drawing):
    names, by = _names(name, entry, where), words(entry, "by", where)
    if by:
        if by not in drawing.names or not isinstance(entry["one_of"], dict):
            raise JetlibError(f"{where}: by is {cut(by)}; write a name drawn above, and one_of = {{ word = [...] }}")
        lists = {key: numbers_of(entry, "one_of", kind, where, each) for key, each in entry["one_of"].items()}
    else:
        lists = {"": numbers_of(entry, "one_of", kind, where)}

    def drawn(rng, p):
        if by and str(p[by]) not in lists:
            raise JetlibError(f"{where}: one_of has nothing for {cut(p[by])}; write a list for it")
        return {each: rng.choice(lists[str(p[by]) if by else ""]) for each in names}

    return dict.fromkeys(names, kind), drawn


def _row_of_numbers(name, entry, kind, where, drawing):
    ends = [entry.get(each, 1 if each == "step" else None) for each in ("from", "to", "step")]
    if not all(type(each) in (int, float) and math.isfinite(each) for each in ends):
        raise JetlibError(f"{where} goes from {cut(ends[0])} to {cut(ends[1])} by {cut(ends[2])}; write numbers")
    low, high, step = ends
    count = round((high - low) / step) + 1 if step > 0 else 0
    if not 1 <= count <= _MOST_STEPS or abs(low + (count - 1) * step - high) > 1e-6 * step:
        raise JetlibError(f"{where}: from {low} by steps of {step} does not end at {high}; write to = the last number")
    names = _names(name, entry, where)

    def number(at):
        value = low + at * step
        return _si(value if isinstance(value, int) else round(value, 10), entry, kind, where)

    number(0)
    return dict.fromkeys(names, kind), lambda rng, p: {each: number(rng.randrange(count)) for each in names}


def _different(name, entry, kind, where, drawing):
    values = numbers_of(entry, "different", kind, where)
    names = list(listed(entry, "names", where)) or _names(name, entry, where)
    if not 2 <= len(names) <= len(values):
        raise JetlibError(f'{where}: {len(values)} values for {len(names)} names; write names = ["one", "other"]')
    return (
        dict.fromkeys(names, kind),
        lambda rng, p: dict(zip(names, rng.sample(values, len(names)), strict=True)),
    )


def _between(name, entry, kind, where, drawing):
    low_high = numbers_of(entry, "between", kind, where)
    if len(low_high) != 2 or not low_high[0] < low_high[1]:
        raise JetlibError(f"{where}: between is {cut(entry['between'])}; write [least, most]")
    return {name: kind}, lambda rng, p: {name: rng.uniform(*low_high)}


def _formula(name, entry, kind, where, drawing):
    names = _names(name, entry, where)
    text = words(entry, "is", where, needed=True)
    own = {each: of_letter(text, each[len(name) + 1 :], drawing.names) if each != name else text for each in names}
    made = {each: formula(said, dict(drawing.kinds), kind) for each, said in own.items()}
    return dict.fromkeys(names, kind), lambda rng, p: {each: value(p) for each, value in made.items()}


def of_letter(text, letter, names):
    """Words of which {length} is {length_a} for the letter a, where that is a name."""
    for name in names:
        if name.endswith(f"_{letter}"):
            text = text.replace(f"{{{name[: -len(letter) - 1]}}}", f"{{{name}}}")
    return text


def _reading(name, entry, kind, where, drawing):
    usual, value = READINGS[among(words(entry, "reading", where), READINGS, f"{where}: reading is")]
    throttle = entry.get("throttle")
    if throttle is not None and throttle not in drawing.names and type(throttle) not in (int, float):
        raise JetlibError(f"{where}: throttle is {cut(throttle)}; write a share such as 0.5, or a name drawn above")

    def read(rng, p):
        if "rig" not in p:
            raise JetlibError(f'{where} reads no machine; write machine = {{ yard = "machine" }} under draw')
        at = {} if throttle is None else {"throttle": p.get(throttle, throttle)}
        return {name: float(value({**p, **at}))}

    return {name: kind or usual}, read


def _match(name, entry, kind, where, drawing):
    held = entry["match"]
    if not isinstance(held, dict) or not all(type(each) in (int, float, str) for each in held.values()):
        raise JetlibError(f'{where}: match is {cut(held)}; write match = {{ a = "…", b = "…" }}')
    by = formula(words(entry, "by", where, needed=True), dict(drawing.kinds))
    values = {key: _si(each, entry, kind, where) for key, each in held.items()}

    def chosen(rng, p):
        key = by(p)
        key = str(key).lower() if isinstance(key, bool) else key if isinstance(key, str) else f"{key:g}"
        if key not in values:
            raise JetlibError(f"{where}: match has nothing for {cut(key)}; write {key} = …")
        return {name: values[key]}

    return {name: kind}, chosen


def _yard(name, entry, kind, where, drawing):
    draw = _FROM_YARD[among(words(entry, "yard", where), _FROM_YARD, f"{where}: yard is")]
    fields = list(signature(draw).parameters)[1:]  # those that narrow it
    known(entry, {"yard", "kinds", *fields}, where)
    given = {field: numbers_of(entry, field, None, where) for field in fields if field in entry}
    kinds = entry.get("kinds", {})
    if not isinstance(kinds, dict) or any(kind not in KINDS for kind in kinds.values()):
        raise JetlibError(f'{where}: kinds is {cut(kinds)}; write such as kinds = {{ hose = "length" }}')
    for field, there in (("machines", "machines"), ("sizes", "flows"), ("faults", "faults")):
        for each in given.get(field, ()):
            among(each, yard.YARD[there], f"{where}: {field} has")
    names = draw(Random(0), **given)
    usual = {"flow": "flow", "length": "length", "jet_bore": "jet_bore"}
    return {each: usual.get(each) for each in names} | kinds, lambda rng, p: draw(rng, **given)


_FROM_YARD = {
    "machine": yard.draw_machine,
    "pump": yard.draw_pump,
    "hose": yard.draw_hose,
    "line": yard.draw_line,
    "fault": yard.draw_fault,
    "suspects": yard.draw_suspects,
}
_BY_CHANCE = ("one_of", "from", "different", "between", "yard")
_WAYS = {  # the field that says how: its reader, and the other fields it knows
    "one_of": (_one_of, ("unit", "each", "by")),
    "from": (_row_of_numbers, ("to", "step", "unit", "each")),
    "different": (_different, ("names", "unit", "each")),
    "between": (_between, ("unit",)),
    "is": (_formula, ("each",)),
    "reading": (_reading, ("throttle",)),
    "match": (_match, ("by",)),
    "yard": (_yard, ("machines", "throttles", "sizes", "lengths", "drills", "faults", "kinds")),
}
