"""What is typed on the bench the way it is said over a machine: "3/8", "200", "3,000", "#60 x 4", "5 gal 32 s".

Only what can't be used as it stands is completed, only with the units that the bench is set to, and the entry then
shows the whole: nobody is left guessing how it was read.
"""

import re

from jetlib.errors import JetlibError
from jetlib.units import unit_label

_WORDS = {"full": "100 %", "half": "50 %", "idle": "0 %"}
_COMPLETED = {
    "bore", "hose_bore", "length", "flow", "speed", "pressure", "jet_bore", "angle", "power", "temperature", "lift",
    "altitude",
    "coil_diameter", "volume", "pipe_bore", "force", "fraction", "slope",
}  # fmt: skip
_BORES = {"bore", "hose_bore", "jet_bore", "pipe_bore", "coil_diameter"}
_BARE = re.compile(r"[^A-Za-z#°%\"'″′“”’]+")
_THOUSANDS = re.compile(r"(?<![\d.,])(\d{1,3}),(\d{3})(?![\d.,])")
_HOLES = re.compile(r"(\d{1,2})\s*(?:holes?|jets?|off|x|×)", re.I)
_DRILL_TIMES = re.compile(r"(?P<drill>.*?\S)\s*(?:[x×*]\s*(?P<after>\d{1,2})|\(\s*(?P<held>\d{1,2})\s*\))", re.I)
_TIMES_DRILL = re.compile(r"(?P<count>\d{1,2})\s*(?:[x×*]|off|holes? of)\s*(?P<drill>\S.*)", re.I)
_MOST_HOLES = 24
_AT = re.compile(r"(?P<what>.*?\S)\s*(?:\bat\b|@|,|\s)\s*(?P<at>full|half|idle|[\d./]+\s*%?)(?:\s+throttle)?", re.I)
_BUCKET = (
    re.compile(r"(?P<volume>[\d.,/]+\s*[A-Za-z.]*?)\s*(?:\bin\b|/|,|\s|per)\s*(?P<time>\d[\d.: a-z]*)", re.I),
    re.compile(r"(?P<time>\d[\d.: a-z]*?)\s*for\s*(?P<volume>[\d.,/]+\s*[A-Za-z.]*)", re.I),
)
_CLOCK = re.compile(r"(\d{1,2})\s*(?::|m(?:in)?\w*)\s*(\d{1,2}(?:\.\d+)?)\s*(?:s\w*)?", re.I)


def completed(typed, kind, system, usable):
    """A text for an entry of `kind` that can be used, or what was typed where there is none.

    usable: tells whether a text will do. kind: of `units.si`, or "count", "bucket", "gauge at".
    """
    if not isinstance(kind, str) or not typed.strip() or len(typed) > 64:
        return typed
    if kind == "slope" and system == "US" and re.fullmatch(r"\s*\d+/\d+\s*", typed):
        return f"{typed.strip()} in/ft"  # in this trade nobody means a fall of one in four by it
    if usable(typed):
        return typed
    plain = typed.strip()
    if system == "US":
        plain = _THOUSANDS.sub(r"\1\2", plain)
    return next((each for each in (plain, *_guesses(plain, kind, system)) if usable(each)), typed)


def drill_and_count(typed, usable):
    """("#60", "4") for "#60 x 4", "4 x #60" or "#60 (4)"; None for anything else. usable: whether a bore will do."""
    found = _DRILL_TIMES.fullmatch(typed.strip())
    if found:
        drill, count = found["drill"], found["after"] or found["held"]
        if drill.isdigit() and int(drill) <= _MOST_HOLES < int(count):
            drill, count = count, drill  # 4 x 60: no nozzle has sixty holes
    else:
        found = _TIMES_DRILL.fullmatch(typed.strip())
        if found is None:
            return None
        drill, count = found["drill"], found["count"]
    drill = f"#{drill}" if drill.isdigit() else drill
    both_small = drill[1:].isdigit() and drill.startswith("#") and "#" not in typed and int(drill[1:]) <= _MOST_HOLES
    if both_small or not 0 < int(count) <= _MOST_HOLES or not usable(drill):
        return None
    return drill, count


def _guesses(plain, kind, system):
    if kind == "count":
        holes = _HOLES.fullmatch(plain)
        yield from ([holes[1]] if holes else ["0"] if plain.lower() in ("none", "no") else [])
    elif kind == "bucket":
        yield from _buckets(plain, system)
    elif kind == "gauge at":
        found = _AT.fullmatch(plain)
        if found:
            yield f"{_with_unit(found['what'], 'pressure', system)} at {_with_unit(found['at'], 'fraction', system)}"
    elif kind in _COMPLETED:
        if kind == "fraction":
            yield _WORDS.get(plain.lower().removesuffix(" throttle"), plain)
        yield plain.replace(".", "") if kind == "flow" and plain.lower().endswith("m.") else plain
        if _BARE.fullmatch(plain):
            if kind == "jet_bore" and re.fullmatch(r"[1-9]\d?", plain):
                yield f"#{plain}"
            yield _with_unit(plain, kind, system)


def _with_unit(plain, kind, system):
    """The text, with the unit of the system where it has none."""
    plain = plain.strip()
    if kind == "fraction" and plain.lower() in _WORDS:
        return plain
    if not _BARE.fullmatch(plain) or (kind == "fraction" and _share(plain)):
        return plain
    if kind in _BORES and "/" in plain:
        system = "US"  # nobody writes three eighths of a millimetre
    return f"{plain} {unit_label(kind, system).replace('°', 'deg')}".strip()


def _share(plain):
    """Whether a bare number is a share as it stands: 0.8 or 3/4, and not 80."""
    top, _, bottom = plain.partition("/")
    try:
        return float(top) <= float(bottom or 1)
    except ValueError:
        return False


def _buckets(plain, system):
    what, at = plain, ""
    apart = re.fullmatch(r"(.*?\d.*?)\s*(?:\bat\b|@)\s*(.+)", plain, re.I)
    if apart:
        what, at = apart[1], f" at {_with_unit(apart[2], 'fraction', system)}"
    for pattern in _BUCKET:
        found = pattern.fullmatch(what)
        if found:
            yield f"{_with_unit(found['volume'], 'volume', system)} in {_seconds(found['time'])}{at}"
    if _BARE.fullmatch(what):
        yield f"{_with_unit(what, 'flow', system)}{at}"


def _seconds(time):
    clock = _CLOCK.fullmatch(time.strip())
    if clock:
        return f"{60 * int(clock[1]) + float(clock[2]):g} s"
    return f"{time.strip()} s" if _BARE.fullmatch(time) else time.strip()


def is_usable(meaning):
    """What tells whether `meaning(text)` can be had: a function of the text."""

    def usable(text):
        try:
            meaning(text)
        except JetlibError:
            return False
        return True

    return usable
