"""What is typed on the bench beside the rig: throttle, drills, what-ifs, readings, tank and pipe; and what it means.

Each entry has a start text and a function from text to value that raises JetlibError with what is allowed.
"""

import re
from functools import lru_cache
from typing import NamedTuple

from jetlib import tables
from jetlib.errors import JetlibError
from jetlib.rig.diagnosis.checks import CHECKS, FIELDS
from jetlib.rig.jets.drill_box import box_of
from jetlib.rig.job.flushing import DEBRIS
from jetlib.units import entry, si
from jetlib.units import example as usual_example

TABS = (
    ("Map", "map"), ("Jets", "jets"), ("Hose what-if", "hose"), ("Compare", "compare"), ("My readings", "readings"),
    ("What is wrong", "wrong"), ("Limits", "limits"), ("Job", "job"),
)  # fmt: skip
YES, NO = "yes", "no"


class Entry(NamedTuple):
    """A typed entry: label, what stands there at the start, what it means, its kind for `units.entry`.

    examples: a text for US pages and one for metric ones; unless given, the usual one of its kind.
    """

    label: str
    start: str
    meaning: object
    kind: str = ""
    examples: tuple = ()

    def example(self, system):
        """A text that could stand there, in the units of a page."""
        return self.examples[system != "US"] if self.examples else usual_example(self.kind, system)


class Pick(NamedTuple):
    """A choice: label, start, options as (words, value). tick: shown as a tick box for yes and no."""

    label: str
    start: str
    options: tuple
    tick: bool = False


# --- meanings ---------------------------------------------------------------------------------------


def _amount(kind, label, *, optional=False, least=None):
    def such_as(system):
        return f"write such as {usual_example(kind, system)}"

    def meaning(typed):
        if not typed:
            if optional:
                return None
            raise entry.empty(kind)
        try:
            value = si(typed, kind, field=label.lower())
            if least is not None and not value > least:
                raise JetlibError(f"{typed[:20]} will not do here: it must be more than zero")
        except JetlibError as error:
            raise error if least is None else entry.advised(error, such_as) from None
        return value

    return meaning


def drills_of(typed):
    """Names of the drills that a list such as "#60-#53, 1.2 mm, 1/16" means, a tuple, each size once."""
    return tuple(drill.label for drill in box_of(entry.drills(typed)))


def _nozzles(typed):
    """((label, ((count, bore, front), ...)), ...) of a list such as "4 x #57; 3 x 1/16 + 1 x #60 front"."""
    found = []
    for item in filter(None, (each.strip() for each in typed.split(";"))):
        groups = []
        for part in item.split("+"):
            words, front = part.strip().removesuffix("rear").strip(), part.strip().endswith("front")
            words = words.removesuffix("front").strip()
            plain = re.fullmatch(r"(\d{1,2})\s*[x×*]\s*(\S.*)", words)
            pair = plain.groups()[::-1] if plain else entry.drill_and_count(words, entry.is_usable(_bore))
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


def _whole(low, high):
    return lambda typed: entry.count(typed, low, high)


def _alike(example):
    return example, example


def _name(typed):
    if len(typed) > 60 or not typed.isprintable():
        raise JetlibError("a name is up to 60 characters on one line")
    return typed


def _reading_entry(field):
    if field.seen:
        return Pick(field.label, "", (("not checked", ""), *((each, each) for each in field.seen)))
    return Entry(field.label, "", field.reading, field.kind, field.example)


#: An entry for each field of the catalogue of checks.
READINGS = {key: _reading_entry(field) for key, field in FIELDS.items()}
_SECTIONS = (("none", ""), *((f"section {number}", str(number)) for number in range(1, 11)))
_RANKS = tuple((f"number {number}", str(number)) for number in range(1, 9))

SHEET = {
    "system": Pick("Units", "US", (("US", "US"), ("metric", "metric"))),
    "tab": Pick("Show", "map", TABS),
    "more": Pick("Show every entry of the rig", NO, (), True),
    "use_fit": Pick("Show the rig as it reads today on the other pages", NO, (), True),
    "read_on": Entry("Read on", "", _name, "", _alike("November 29")),
    "throttle": Entry("Throttle", "100 %", _amount("fraction", "Throttle"), "fraction"),
    "drills": Entry("Drills in the box", "#80-#40", drills_of, "", _alike("#60-#53, 1.2 mm, 1/16")),
    "aim": Pick("Best is", "matched", (
        ("full throttle at full pressure", "matched"), ("most water at the nozzle", "flow"),
        ("most power at the jets", "power"), ("most pull", "pull"),
    )),
    "nozzles": Entry("My nozzles", "", _nozzles, "", _alike("4 x #57; 3 x 1/16 + 1 x #60 front")),
    "rear_holes": Entry("Rear holes", "3-8", entry.hole_counts, "", _alike("3-8")),
    "front_holes": Entry("Front holes", "0-2", entry.hole_counts, "", _alike("0, 1")),
    "keep_pull": Entry("Keep a pull of", "", _amount("force", "Keep a pull of", optional=True), "force",
                       ("20 lbf", "90 N")),
    "set": Pick("Set", "1", _RANKS),
    "section": Pick("Swap", "", _SECTIONS),
    "swap_bore": Entry("for bore", "", _amount("hose_bore", "Bore", optional=True, least=0), "hose_bore"),
    "swap_length": Entry("and length", "", _amount("length", "Length", optional=True, least=0), "length"),
    "add_length": Entry("Add", "", _amount("length", "Length", optional=True, least=0), "length"),
    "add_bore": Entry("of bore", "", _amount("hose_bore", "Bore", optional=True, least=0), "hose_bore"),
    "add_place": Pick("at", "end", (("the nozzle", "end"), ("the pump", "start"))),
    "off_reel": Pick("Take it all off the reel", NO, (), True),
    **READINGS,
    "known": Pick("The rig is", "sizes", (
        ("known by its healthy readings", "card"), ("known from its sizes, never measured", "sizes"),
        ("old, and never measured", "old"),
    )),
    "tank": Entry("Tank", "100 gal", _amount("volume", "Tank", optional=True, least=0), "volume"),
    "refill": Entry("Filling hose", "0 gpm", _amount("flow", "Filling hose"), "flow"),
    "pipe": Entry("Pipe bore", "4 in", _amount("pipe_bore", "Pipe bore", optional=True, least=0), "pipe_bore"),
    "material": Pick("Pipe is of", "", (("not known", ""), *((row.family,) * 2 for row in tables.pipe_limits()))),
    "run": Entry("Run", "150 ft", _amount("length", "Run", optional=True, least=0), "length"),
    "fall": Entry("Fall", "2 %", _amount("slope", "Fall", optional=True), "slope", ("1/4 in/ft", "2 %")),
    "way": Pick("Nozzle goes", "upstream", (("uphill", "upstream"), ("downhill", "downstream"))),
    "bends": Entry("90° bends", "0", _whole(0, 20), "count", _alike("2")),
    "debris": Pick("In the pipe", "paper and sludge", tuple((each, each) for each in DEBRIS)),
    "passes": Entry("In and back", "1", _whole(1, 50), "count", _alike("2")),
    "outside": Entry("Hose outside", "20 ft", _amount("length", "Hose outside"), "length"),
    "access": Entry("Access", "", _amount("pipe_bore", "Access", optional=True, least=0), "pipe_bore"),
    "stiff": Entry("Rigid length", "", _amount("pipe_bore", "Rigid length", optional=True, least=0), "pipe_bore",
                   ("3.5 in", "90 mm")),
    "job_name": Entry("Name of the job", "", _name, "", _alike("Yard drain")),
    "paper": Pick("Paper", "Letter", (("US Letter", "Letter"), ("A4", "A4"))),
}  # fmt: skip


def kind_said(name):
    """What `jetlib.units.entry` takes an entry for where its unit is left out; "" for a choice or a list."""
    return getattr(SHEET[name], "kind", "")


#: Entries that a bench saved by an earlier version does not have.
LATER = (
    "passes",
    "outside",
    "access",
    "stiff",
    "job_name",
    "paper",
    "suction_seen",
    "read_on",
    "material",
    "aim",
    "nozzles",
)
LATER += tuple(field.key for check in CHECKS.values() if check.needs_spare for field in check.fields)
#: What a new rig leaves open, and "limits" and "job" ask for.
TOOLS = ("drills", "nozzles")  # the reader's own, whatever rig is on the bench
UNSEEN = ("tank", "pipe", "run", "fall")
#: Changes to these are no step that "Undo" takes back.
VIEWS = ("system", "tab", "more", "throttle", "set")


@lru_cache(maxsize=512)
def meaning_of(name, typed):
    """What a text at an entry of SHEET means. Raises JetlibError that says what is allowed."""
    spec = SHEET[name]
    if isinstance(spec, Entry):
        return spec.meaning(typed.strip())
    allowed = (YES, NO) if spec.tick else tuple(value for _, value in spec.options)
    if typed not in allowed:
        raise JetlibError(f"{typed[:20]!r} is not known; allowed: {', '.join(allowed)}")
    return FIELDS[name].reading(typed) if name in FIELDS else typed


def fresh_sheet():
    """The texts of all entries as they are at the start."""
    return {name: spec.start for name, spec in SHEET.items()}


def is_sheet(held):
    """Whether plain values read from a file are texts that all entries can use."""
    try:
        if not set(SHEET) - set(LATER) <= set(held) <= set(SHEET):
            return False
        for name, typed in held.items():
            if not isinstance(typed, str):
                return False
            meaning_of(name, typed)
    except (JetlibError, TypeError, AttributeError):
        return False
    return True
