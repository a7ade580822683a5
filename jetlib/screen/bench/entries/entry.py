"""What can be typed or chosen on the bench: each entry, what a text there means, and the sheet beside the rig."""

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache

from jetlib import tables
from jetlib.errors import JetlibError
from jetlib.rig.diagnosis.checks import FIELDS
from jetlib.rig.job.flushing import DEBRIS
from jetlib.tables.toml_file import read_toml
from jetlib.units import SYSTEMS, entry, from_si, si, unit_label
from jetlib.units import example as usual_example
from jetlib.units.kinds import KINDS

LONGEST = 20_000  # letters of what may stand in an entry, usable or not


@dataclass(frozen=True, eq=False)
class Entry:
    """An entry as data/bench.toml declares it, where each field is explained; options are (words, value).

    read(text): what a text there means, where its kind does not say that.
    """

    name: str
    label: str
    kind: str = ""
    start: str = ""
    options: tuple = ()
    optional: bool = False
    positive: bool = False
    most: int = 200
    example: tuple = ()
    of: str = ""
    more: bool = False
    across: bool = False
    tick: bool = False
    read: Callable | None = None

    def placeholder(self, system):
        """A text that could stand there, in the units of a page."""
        return self.example[system != "US"] if self.example else usual_example(self.kind, system)


def declared(table):
    """{name: Entry} of a table of data/bench.toml."""
    return {name: _entry(name, **given) for name, given in read_toml(tables.DATA / "bench.toml")[table].items()}


def _entry(name, *, kind="", options=(), example=(), **given):
    options = _pairs(("no", "yes") if kind == "yes or no" else options)
    example = (example, example) if isinstance(example, str) else tuple(example)
    return Entry(name, kind=kind, options=options, example=example, **given)


def _pairs(options):
    return tuple((each, each) if isinstance(each, str) else tuple(each) for each in options)


# --- the sheet beside it ----------------------------------------------------------------------------


#: An Entry for each field of the catalogue of checks.
READINGS = {
    key: Entry(key, field.label, field.kind, example=field.example, read=field.reading,
               options=_pairs([("not checked", ""), *field.seen]) if field.seen else ())
    for key, field in FIELDS.items()
}  # fmt: skip
#: Throttle, drills, what-ifs, readings, tank and pipe.
SHEET = {**declared("sheet"), **READINGS}
for _name, _more in (("material", [row.family for row in tables.pipe_limits()]), ("debris", DEBRIS)):
    SHEET[_name] = replace(SHEET[_name], options=SHEET[_name].options + _pairs(_more))
#: What a new rig leaves open, and "limits" and "job" ask for.
UNSEEN = ("tank", "pipe", "run", "fall")


def meaning_of(name, typed):
    """What a text at an entry of the sheet means. Raises JetlibError that says what is allowed."""
    return meaning(SHEET[name], typed)


def fresh_sheet():
    """The texts of all entries as they are at the start."""
    return {name: asked.start for name, asked in SHEET.items()}


def is_sheet(held):
    """Whether plain values read from a file are texts that all entries can use; a sheet of before may lack some."""
    try:
        for name, typed in held.items():
            meaning_of(name, typed)
    except (JetlibError, KeyError, TypeError, AttributeError):
        return False
    return bool(held)


# --- what a text means ------------------------------------------------------------------------------


@lru_cache(maxsize=2048)
def meaning(asked, typed):
    """What a text at an Entry means: SI, a count, a name, a list, True or False; None for an optional one left empty.

    Raises JetlibError that says what is allowed.
    """
    typed = typed.strip()
    if asked.read is not None:
        return asked.read(typed)
    if asked.options:
        if typed not in (value for _, value in asked.options):
            allowed = ", ".join(value for _, value in asked.options)
            raise JetlibError(f"{typed[:20]!r} is not known; choose one of: {allowed}")
        return typed == "yes" if asked.kind == "yes or no" else typed
    if asked.kind == "name":
        if len(typed) > asked.most or not typed.isprintable():
            raise JetlibError(f"a name is up to {asked.most} characters on one line")
        return typed
    if asked.kind in _LISTS:
        return _LISTS[asked.kind](typed)
    if not typed:
        if asked.optional:
            return None
        raise entry.empty(asked.kind)
    return entry.count(typed, int(asked.positive), asked.most) if asked.kind == "count" else _amount(asked, typed)


def _amount(asked, typed):
    try:
        value = si(typed, asked.kind, field=asked.label.lower())
        if asked.positive and not value > 0:
            raise JetlibError(f"{typed[:20]} will not do here: it must be more than zero")
    except JetlibError as error:
        if not asked.positive:
            raise
        raise entry.advised(error, lambda system: f"write such as {usual_example(asked.kind, system)}") from None
    return value


def _nozzles(typed):
    """((label, ((count, bore, front), ...)), ...) of a list such as "4 x #57; 3 x 1/16 + 1 x #60 front"."""
    found = []
    for item in filter(None, (each.strip() for each in typed.split(";"))):
        groups = []
        for part in item.split("+"):
            words, front = part.strip().removesuffix("rear").strip(), part.strip().endswith("front")
            words = words.removesuffix("front").strip()
            plain = re.fullmatch(r"(\d{1,2})\s*[x×*]\s*(\S.*)", words)
            pair = plain.groups()[::-1] if plain else entry.drill_and_count(words, _bore)
            if pair is None:
                raise JetlibError(f"{part.strip()[:20]!r} is no group of holes; write such as 4 x #57 or 1 x #60 front")
            groups.append((int(pair[1]), _bore(pair[0]), front))
        found.append((item, tuple(groups)))
    return tuple(found)


def _bore(typed):
    """A drill as a list of them may name it, or a measured bore."""
    try:
        return tables.drill(entry.drills(typed)[0]).diameter
    except JetlibError:
        return si(typed, "jet_bore")


_LISTS = {"drills": entry.drills, "holes": entry.hole_counts, "nozzles": _nozzles}


# --- a number as a text -----------------------------------------------------------------------------


def exact_text(value, kind, system="US"):
    """`value` (SI) as the shortest text that reads back as the same number; "" for None. Drills by their name."""
    if value is None:
        return ""
    if kind == "yes or no":
        return "yes" if value else "no"
    if kind not in KINDS:
        return str(value)
    for words in (*_by_name(value, kind), *_by_figures(value, kind, system)):
        try:
            if si(words, kind) == value:
                return words
        except JetlibError:
            continue
    return repr(float(value)) + {"fraction": ""}.get(kind, f" {KINDS[kind].si_label}")


def inches(metres):
    """A length as a fraction of an inch, "3/8 in"."""
    return f"{Fraction(metres / 0.0254).limit_denominator(64)} in"


def _by_name(value, kind):
    if kind == "jet_bore":
        yield tables.next_drill(value, 0).label
    size = tables.hose_of_bore(value) if kind == "hose_bore" else None
    if size is not None:
        yield inches(size.nominal_bore)
    if kind in ("bore", "jet_bore") and 1 < Fraction(value / 0.0254).limit_denominator(64).denominator <= 32:
        yield inches(value)


def _by_figures(value, kind, system):
    for figures in (6, 12, 15, 17):
        for each in sorted(SYSTEMS, key=lambda other: other != system):
            yield f"{from_si(value, kind, each):.{figures}g} {unit_label(kind, each).replace('°', 'deg')}".strip()
