"""What is typed on the bench beside the rig: throttle, drills, what-ifs, readings, tank and pipe; and what it means.

Each entry has a start text and a function from text to value that raises JetlibError with what is allowed.
"""

from functools import lru_cache, partial
from typing import NamedTuple

from jetlib.errors import JetlibError
from jetlib.rig.diagnosis.readings import (
    JETS_FOUND,
    BucketTest,
    EngineSound,
    GaugeReading,
    HoseSeen,
    JetsSeen,
    ReturnSeen,
)
from jetlib.rig.diagnosis.readings import SpeedReading as Speed
from jetlib.rig.jets.drill_box import box_of
from jetlib.rig.job.flushing import DEBRIS
from jetlib.units import entry, si

TABS = (
    ("Map", "map"), ("Jets", "jets"), ("Hose what-if", "hose"), ("My readings", "readings"),
    ("What is wrong", "wrong"), ("Limits", "limits"), ("Job", "job"),
)  # fmt: skip
YES, NO = "yes", "no"


class Entry(NamedTuple):
    """A typed entry: label, what stands there at the start, what it means, an example, and its kind for the echo."""

    label: str
    start: str
    meaning: object
    example: str = ""
    kind: str = ""


class Pick(NamedTuple):
    """A choice: label, start, options as (words, value). tick: shown as a tick box for yes and no."""

    label: str
    start: str
    options: tuple
    tick: bool = False


# --- meanings ---------------------------------------------------------------------------------------


def _amount(kind, label, *, optional=False, least=None):
    def meaning(typed):
        if not typed:
            if optional:
                return None
            raise entry.empty(kind)
        value = si(typed, kind, field=label.lower())
        if least is not None and not value > least:
            raise JetlibError(f"{typed[:20]} will not do here: it must be more than nothing")
        return value

    return meaning


def drills_of(typed):
    """Names of the drills that a list such as "#60-#53, 1.2 mm, 1/16" means, a tuple, each size once."""
    return tuple(drill.label for drill in box_of(entry.drills(typed)))


def _whole(low, high):
    return lambda typed: entry.count(typed, low, high)


def _name(typed):
    if len(typed) > 60 or not typed.isprintable():
        raise JetlibError("a name is up to 60 characters on one line")
    return typed


# --- readings ---------------------------------------------------------------------------------------


def _reading(make):
    return lambda typed: make(typed) if typed else None


def _bucket(place, throttle="full"):
    return lambda typed: BucketTest(place=place, **{"throttle": throttle, **entry.timed_flow(typed)})


def _gauge_at(typed):
    pressure, apart, at = typed.partition(" at ")
    if not apart:
        raise JetlibError("write gauge and throttle, such as 1500 psi at 70 %")
    return GaugeReading(pressure, at)


_LOOK = ("not looked", "")
_STREAM = (_LOOK, ("a stream", "a stream"), ("no stream", "no stream"))


def _seen(words):
    return (_LOOK, *((each, each) for each in words))


READINGS = {
    "gauge_idle": Entry("Gauge, idle", "", _reading(lambda typed: GaugeReading(typed, "idle")), "400 psi", "pressure"),
    "gauge_half": Entry("Gauge, half", "", _reading(lambda typed: GaugeReading(typed, "half")), "1060 psi", "pressure"),
    "gauge_full": Entry("Gauge, full", "", _reading(lambda typed: GaugeReading(typed, "full")), "2100 psi", "pressure"),
    "gauge_other": Entry("Gauge, other", "", _reading(_gauge_at), "1500 psi at 70 %"),
    "gauge_another": Entry("Gauge, other", "", _reading(_gauge_at), "800 psi at 30 %"),
    "second_gauge": Entry("2nd gauge, full", "", _reading(partial(GaugeReading, second_gauge=True)), "140 bar",
                          "pressure"),
    "gauge_open": Entry("Gauge, no nozzle", "", _reading(partial(GaugeReading, nozzle_off=True)), "600 psi",
                        "pressure"),
    "flow_nozzle": Entry("Bucket, nozzle", "", _reading(_bucket("nozzle")), "5 gal in 32 s"),
    "flow_open": Entry("Bucket, no nozzle", "", _reading(_bucket("open hose")), "5 gal in 31 s"),
    "flow_return": Entry("Bucket, return", "", _reading(_bucket("tank return")), "1 gal in 40 s at 80 %"),
    "speed": Entry("Speed, full", "", _reading(lambda typed: Speed(typed)), "1450 rpm", "speed"),
    "stream_idle": Pick("Return, idle", "", _STREAM),
    "stream_half": Pick("Return, half", "", _STREAM),
    "stream_full": Pick("Return, full", "", _STREAM),
    "engine_sound": Pick("Engine, full", "", _seen(EngineSound.words)),
    "jets_seen": Pick("Jets, drill tried", "", _seen(JETS_FOUND)),
    "hose_seen": Pick("Hose, walked", "", _seen(HoseSeen.words)),
}  # fmt: skip
_LOOKS = {
    "stream_idle": lambda seen: ReturnSeen(seen == "a stream", "idle"),
    "stream_half": lambda seen: ReturnSeen(seen == "a stream", "half"),
    "stream_full": lambda seen: ReturnSeen(seen == "a stream", "full"),
    "engine_sound": lambda seen: EngineSound(seen == "labours"),
    "jets_seen": JetsSeen,
    "hose_seen": lambda seen: HoseSeen(seen == "narrow"),
}
_SECTIONS = (("none", ""), *((f"section {number}", str(number)) for number in range(1, 11)))
_RANKS = tuple((f"number {number}", str(number)) for number in range(1, 9))

SHEET = {
    "system": Pick("Units", "US", (("US", "US"), ("metric", "metric"))),
    "tab": Pick("Show", "map", TABS),
    "more": Pick("Show every entry of the rig", NO, (), True),
    "use_fit": Pick("Use the rig fitted to my readings", YES, (), True),
    "throttle": Entry("Throttle", "100 %", _amount("fraction", "Throttle"), "80 %"),
    "drills": Entry("Drills in the box", "#80-#40", drills_of, "#60-#53, 1.2 mm, 1/16"),
    "rear_holes": Entry("Rear holes", "3-8", entry.hole_counts, "3-8"),
    "front_holes": Entry("Front holes", "0-2", entry.hole_counts, "0, 1"),
    "keep_pull": Entry("Keep a pull of", "", _amount("force", "Keep a pull of", optional=True), "20 lbf", "force"),
    "set": Pick("Set", "1", _RANKS),
    "section": Pick("Swap", "", _SECTIONS),
    "swap_bore": Entry("for bore", "", _amount("hose_bore", "Bore", optional=True, least=0), "1/2 in", "hose_bore"),
    "swap_length": Entry("and length", "", _amount("length", "Length", optional=True, least=0), "150 ft", "length"),
    "add_length": Entry("Add", "", _amount("length", "Length", optional=True, least=0), "100 ft", "length"),
    "add_bore": Entry("of bore", "", _amount("hose_bore", "Bore", optional=True, least=0), "3/8 in", "hose_bore"),
    "add_place": Pick("at", "end", (("the nozzle", "end"), ("the pump", "start"))),
    "off_reel": Pick("Take it all off the reel", NO, (), True),
    **READINGS,
    "known": Pick("The rig is", "card", (
        ("known by its usual readings", "card"), ("drawn up from sizes, never measured", "sizes"),
        ("old, and never measured", "old"),
    )),
    "tank": Entry("Tank", "100 gal", _amount("volume", "Tank", least=0), "100 gal", "volume"),
    "refill": Entry("Filling hose", "0 gpm", _amount("flow", "Filling hose"), "5 gpm", "flow"),
    "pipe": Entry("Pipe bore", "4 in", _amount("pipe_bore", "Pipe bore", least=0), "4 in", "pipe_bore"),
    "run": Entry("Run", "150 ft", _amount("length", "Run", least=0), "150 ft", "length"),
    "fall": Entry("Fall", "2 %", _amount("slope", "Fall"), "1/4 in/ft", ""),
    "way": Pick("Nozzle goes", "upstream", (("uphill", "upstream"), ("downhill", "downstream"))),
    "bends": Entry("90° bends", "0", _whole(0, 20), "2"),
    "debris": Pick("In the pipe", "paper and sludge", tuple((each, each) for each in DEBRIS)),
    "passes": Entry("In and back", "1", _whole(1, 50), "2"),
    "outside": Entry("Hose outside", "20 ft", _amount("length", "Hose outside"), "40 ft", "length"),
    "access": Entry("Way in", "", _amount("pipe_bore", "Way in", optional=True, least=0), "3 in", "pipe_bore"),
    "stiff": Entry("Stiff end", "", _amount("pipe_bore", "Stiff end", optional=True, least=0), "3.5 in", "pipe_bore"),
    "job_name": Entry("Name of the job", "", _name, "Yard drain"),
    "paper": Pick("Paper", "Letter", (("US Letter", "Letter"), ("A4", "A4"))),
}  # fmt: skip
_SAID = {
    "throttle": "fraction", "fall": "slope", "bends": "count", "passes": "count", "gauge_other": "gauge at",
    "gauge_another": "gauge at", "flow_nozzle": "bucket", "flow_open": "bucket", "flow_return": "bucket",
}  # fmt: skip


def kind_said(name):
    """What `jetlib.units.entry` takes an entry for where its unit is left out; None for a choice or a list."""
    return _SAID.get(name, getattr(SHEET[name], "kind", None))


#: Entries that a bench saved before there was a page for jobs does not have.
LATER = ("passes", "outside", "access", "stiff", "job_name", "paper")
#: RigFactors to these are no step that "Undo" takes back.
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
    return _LOOKS[name](typed) if name in _LOOKS and typed else typed


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
