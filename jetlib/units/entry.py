"""What a person types, read the same way in every field of every page: "3/8", "half", "2,400 psi", "#60 x 4",
"5 gal in 32 s", "54 56 58".

A number without a unit is in the units that the page is set to, and the field then shows the whole: nobody is left
guessing how it was read. What is refused is refused in the reader's words (`JetlibError.words`).
"""

import re
import unicodedata
from contextlib import suppress

from jetlib import tables
from jetlib.errors import JetlibError
from jetlib.units import SYSTEMS, example, from_si, si, text, unit_label
from jetlib.units.kinds import KINDS
from jetlib.units.refusal import clip, page_words, range_words

MOST_HOLES = 24
MOST_DRILLS = 60
_WORDS = {"full": "100 %", "half": "50 %", "quarter": "25 %", "idle": "0 %"}
_BORES = {"bore", "hose_bore", "jet_bore", "leak_bore", "pipe_bore", "coil_diameter", "roughness"}
_BARE = re.compile(r"(?=.*[\d¼-¾⅐-⅞])[^A-Za-z#°%\"'″′“”’:]+(?:[eE][+-]?\d+)?")
_ADVICE = re.compile(r"(?:^|; )(?:write|allowed:) .*$")
_THOUSANDS = re.compile(r"(?<![\d.,])(\d{1,3}),(\d{3})(?![\d.,])")
_US_UNIT = re.compile(r"(?:psi|gpm|gal|f(?:oo|ee)?t|in(?:ch)?|lb|hp|horse|pound|°?F\b|['\"])", re.I)
_HOLES = re.compile(r"(\d{1,3})\s*(?:holes?|jets?|off|x|×|bends?|times|passes|people|hands?)", re.I)
_DRILL_TIMES = re.compile(r"(?P<drill>.*?\S)\s*(?:[x×*]\s*(?P<after>\d{1,2})|\(\s*(?P<held>\d{1,2})\s*\))", re.I)
_TIMES_DRILL = re.compile(r"(?P<count>\d{1,2})\s*(?:[x×*]|off|holes? of)\s*(?P<drill>\S.*)", re.I)
_AT = re.compile(r"(?P<what>.*?\S)\s*(?:\bat\b|@|,|\s)\s*(?P<at>full|half|idle|[\d./]+\s*%?)(?:\s+throttle)?", re.I)
_TIMED = (
    re.compile(r"(?P<volume>[\d.,/]+\s*[A-Za-z.]*?)\s*(?:\bin\b|/|,|\s|per)\s*(?P<time>\d[\d.: a-z]*)", re.I),
    re.compile(r"(?P<time>\d[\d.: a-z]*?)\s*for\s*(?P<volume>[\d.,/]+\s*[A-Za-z.]*)", re.I),
)
_SWING = re.compile(r"([\d.,]+) ?([a-zA-Z]*) ?(?:-|–|to) ?([\d.,]+) ?([a-zA-Z]*)")
_CLOCK = re.compile(r"(\d{1,2})\s*(?::|m(?:in\w*)?)\s*(\d{1,2}(?:\.\d+)?)\s*(?:s\w*)?", re.I)
_FEET = re.compile(r"(\d+)\s*(?:feet|foot|ft\.?|['′’])\s*(\d+)\s*(?:inch(?:es)?|in\.?|[\"″”]|'')?", re.I)
_COMMA_MM = re.compile(r"(?<![\d.,#])(\d),(\d{1,2})(?=(?:-\d,\d{1,2})?\s*mm)")
_SERIES = re.compile(r"\s+to\s+|(?<=[\w\"'])\s*[-–]\s*(?=#?\w)", re.I)


# --- one reader -------------------------------------------------------------------------------------


def understood(typed, kind, system, meaning):
    """(text, value): the whole text that was meant by what was typed, and meaning(text), what it is worth.

    kind: of `units.si`, or "count", "bucket", "gauge at"; anything else is read as it stands. meaning raises
    JetlibError for a text that will not do; where none will, what it says of the likeliest is raised.
    """
    refused = None
    for each in _readings(typed, kind, system):
        try:
            return each, meaning(each)
        except JetlibError as error:
            refused = refused or error
    raise refused


def amount(typed, kind, system="US", *, low=None, high=None):
    """The SI value of what was typed for a quantity of `kind`; a value that is no text is taken as by `si`.

    low, high: ends (SI) of what will do here. Raises JetlibError; out of range it says the value and the range.
    """
    if not isinstance(typed, str):
        return _inside(si(typed, kind), kind, low, high)
    try:
        if not typed.strip():
            raise empty(kind)
        return understood(typed, kind, system, lambda each: _inside(si(each, kind), kind, low, high))[1]
    except JetlibError as error:
        raise error if low is None and high is None else advised(error, _allowed(kind, low, high)) from None


def advised(error, advice):
    """`error` as a page says it with another end: `advice(system)` in the place of what it tells the reader to write.

    For a field that takes less, or more, than anything of its kind.
    """

    def words(system):
        said = _ADVICE.sub("", page_words(error, system))
        return f"{said}; {advice(system)}" if said else advice(system)

    return type(error)(str(error), words=words)


def _allowed(kind, low, high):
    """What a refusal ends with: the range, in the units of the page."""

    def words(system):
        return f"allowed: {range_words(low, high, unit_label(kind, system), lambda end: from_si(end, kind, system))}"

    return words


def empty(kind):
    """The JetlibError for an entry of this kind with nothing in it."""

    def words(system):
        such_as = "1" if kind == "count" else example(kind, system)
        return f"nothing is typed, and this can't be left empty; write such as {such_as}"

    return JetlibError(words("US"), words=words)


def timed_flow(typed, system="US"):
    """What a timed flow test gave, as values for BucketTest: volume and time, or flow; and throttle where it is said.

    typed: "5 gal in 32 s", "9 gpm", "1 gal in 40 s at 80 %".
    """
    return understood(typed, "bucket", system, _timed)[1]


def count(typed, low, high):
    """A whole number from `low` to `high`, typed "4", "4 holes" or "none"."""
    return understood(str(typed), "count", "US", lambda each: _whole(each, low, high))[1]


def completed(typed, kind, system, meaning):
    """The text that was meant, where one is worth something by `meaning(text)`; else what was typed, as it was."""
    try:
        return understood(typed, kind, system, meaning)[0]
    except JetlibError:
        return typed


def is_usable(typed, meaning):
    """Whether `meaning(typed)` can be had."""
    with suppress(JetlibError):
        meaning(typed)
        return True
    return False


def _whole(typed, low, high):
    if not (typed.isascii() and typed.isdigit() and len(typed) < 10 and low <= int(typed) <= high):
        raise JetlibError(f'"{clip(typed)}" will not do here; write a whole number from {low} to {high}')
    return int(typed)


def _timed(typed):
    what, apart, at = typed.partition(" at ")
    volume, timed, time = what.partition(" in ")
    given = {"volume": si(volume, "volume"), "time": si(time, "time")} if timed else {"flow": si(what, "flow")}
    if timed and given["volume"] > KINDS["flow"].high * given["time"]:
        raise JetlibError(f'"{clip(typed)}" is more than any pump gives; write another volume or time')
    return {**given, "throttle": si(at, "fraction")} if apart else given


# --- the range --------------------------------------------------------------------------------------


def _inside(value, kind, low, high):
    """The value, held at an end of the range where it is that end as we write it."""
    for end, past in ((low, lambda: value < low), (high, lambda: value > high)):
        if end is not None and past():
            slack = 1e-9 * abs((high if high is not None else end) - (low if low is not None else 0.0))
            alike = (text(value, kind, system) == text(end, kind, system) for system in SYSTEMS)
            if abs(value - end) > slack and not any(alike):
                raise out_of_range(value, kind, low, high)
            return end
    return value


def out_of_range(value, kind, low, high):
    """The JetlibError for a value (SI) that is too much or too little here."""
    way = "too much" if high is not None and value > high else "too little"

    def words(system):
        return f"{text(value, kind, system)} is {way} here; {_allowed(kind, low, high)(system)}"

    return JetlibError(words("US"), words=words)


# --- what may be meant ------------------------------------------------------------------------------


def _readings(typed, kind, system):
    """Texts that `typed` may mean, the likeliest first; at least one."""
    if not isinstance(kind, str) or len(typed) > 64 or not typed.strip():
        yield typed
        return
    plain = typed.strip()
    if system == "US" or (_THOUSANDS.search(plain) and _US_UNIT.search(plain)):
        plain = _THOUSANDS.sub(r"\1\2", plain)
    yield from _likely(plain, kind, system)
    if kind not in KINDS or not _BARE.fullmatch(plain) or KINDS[kind].plain_text:
        yield typed
        yield plain


def _likely(plain, kind, system):
    if kind == "count":
        holes = _HOLES.fullmatch(plain)
        yield holes[1] if holes else "0" if plain.lower() in ("none", "no") else plain
    elif kind == "bucket":
        yield from _timed_flows(plain, system)
    elif kind == "gauge at":
        found = _AT.fullmatch(plain)
        if found:
            what = _swing(found["what"], system) or _with_unit(found["what"], "pressure", system)
            yield f"{what} at {_with_unit(found['at'], 'fraction', system)}"
    elif kind in KINDS:
        yield from _quantities(plain, kind, system)


def _quantities(plain, kind, system):
    if kind == "slope":
        if system == "US" and re.fullmatch(r"\d+/\d+", _in_figures(plain)):
            plain = f"{plain} in/ft"  # in this trade nobody means a fall of one in four by it
        elif _BARE.fullmatch(plain) and not _is_share(plain, 0.1):
            plain = f"{plain} %"
    elif kind == "fraction":
        plain = _WORDS.get(plain.lower().removesuffix(" throttle"), plain)
    elif kind == "temperature":
        plain = re.sub(r"(?<=\d) ?(?:degrees?|deg|°)$", "", plain, flags=re.I)
    elif kind in ("time", "duration") and _CLOCK.fullmatch(plain):
        yield _seconds(plain)
    elif kind in ("length", "lift", "altitude", "coil_diameter", "pipe_bore") and (found := _FEET.fullmatch(plain)):
        yield f"{12 * int(found[1]) + int(found[2])} in"
    elif kind == "flow" and not _BARE.fullmatch(plain):
        for flow in _timed_flows(plain, system):
            volume, timed, time = flow.partition(" in ")
            if timed and " at " not in time:
                with suppress(JetlibError):  # no volume or no time
                    if (took := si(time, "time")) > 0:
                        yield f"{si(volume, 'volume') / took * 1e3:.9g} L/s"
    elif kind == "pressure" and (swing := _swing(plain, system)):
        yield swing
    if "-" in (hints := KINDS[kind].hints) and re.fullmatch(r"-\d{1,2}", plain):
        yield plain  # a dash size
    if "#" in hints and re.fullmatch(r"[1-9]\d?", plain):
        small = int(plain) <= 6 and system == "metric"  # 1.5 or 2 is a hole in mm there, 60 is none
        yield from (f"{plain} mm", f"#{plain}") if small else (f"#{plain}",)
    yield _with_unit(plain, kind, system)


def _swing(plain, system):
    """The two ends between which a needle swings, "2100 psi to 2300 psi"; None for a text that names one figure."""
    found = _SWING.fullmatch(plain.strip())
    if not found:
        return None
    low, unit, high, other = found.groups()
    ends = (_with_unit(f"{end} {own or other}", "pressure", system) for end, own in ((low, unit), (high, other)))
    return " to ".join(ends)


def _with_unit(plain, kind, system):
    """The text, with the unit of the system where it has none."""
    plain = plain.strip()
    if kind == "fraction" and plain.lower() in _WORDS:
        return plain
    if not _BARE.fullmatch(plain) or (kind == "fraction" and _is_share(plain)) or kind == "slope":
        return plain
    if kind in _BORES and "/" in _in_figures(plain):
        system = "US"  # nobody writes three eighths of a millimeter
    return f"{plain} {unit_label(kind, system).replace('°', 'deg')}".strip()


def _in_figures(plain):
    """The text with a fraction that was typed as one sign as figures: 1/2."""
    return unicodedata.normalize("NFKC", plain).replace("⁄", "/")


def _is_share(plain, most=1):
    """Whether a bare number is a share as it stands: 0.8 or 3/4, and not 80."""
    top, _, bottom = _in_figures(plain).replace(",", ".").partition("/")
    try:
        return float(top) <= most * float(bottom or 1)
    except ValueError:
        return False


def _timed_flows(plain, system):
    what, at = plain, ""
    apart = re.fullmatch(r"(.*?\d.*?)\s*(?:\bat\b|@)\s*(.+)", plain, re.I)
    if apart:
        what, at = apart[1], f" at {_with_unit(apart[2], 'fraction', system)}"
        at = at.replace(apart[2], _WORDS.get(apart[2].lower().removesuffix(" throttle"), apart[2]))
    for pattern in _TIMED:
        found = None if re.fullmatch(r"[\d.]*,?\d+", what) else pattern.fullmatch(what)
        if found:
            yield f"{_with_unit(found['volume'], 'volume', system)} in {_seconds(found['time'])}{at}"
    if _BARE.fullmatch(what):
        yield f"{_with_unit(what, 'flow', system)}{at}"


def _seconds(time):
    clock = _CLOCK.fullmatch(time.strip())
    if clock:
        return f"{60 * int(clock[1]) + float(clock[2]):g} s"
    return f"{time.strip()} s" if _BARE.fullmatch(time) else time.strip()


# --- drills and holes -------------------------------------------------------------------------------


def drill_and_count(typed, meaning):
    """("#60", "4") for "#60 x 4", "4 x #60" or "#60 (4)"; None for anything else. meaning: of a bore."""
    found = _DRILL_TIMES.fullmatch(typed.strip())
    if found:
        drill, many = found["drill"], found["after"] or found["held"]
        if drill.isdigit() and int(drill) <= MOST_HOLES < int(many):
            drill, many = many, drill  # 4 x 60: no nozzle has sixty holes
    else:
        found = _TIMES_DRILL.fullmatch(typed.strip())
        if found is None:
            return None
        drill, many = found["drill"], found["count"]
    drill = f"#{drill}" if drill.isdigit() else drill
    both_small = drill[1:].isdigit() and drill.startswith("#") and "#" not in typed and int(drill[1:]) <= MOST_HOLES
    if both_small or not 0 < int(many) <= MOST_HOLES or not is_usable(drill, meaning):
        return None
    return drill, many


_HALF_A_THOU = 0.00052 * 0.0254  # m: what a decimal size leaves out


def drills(typed):
    """Labels of the drills that a list such as "#60-#53, 1.2 mm, 1/16" or "54 56 58" means, a tuple.

    A stretch takes all drills of its series between its ends. Raises JetlibError that names what it cannot read.
    """
    if len(typed) > 600:
        raise JetlibError("that list is too long; write stretches such as #60-#53")
    # A list may have spaces: a unit stays with its number, and the ends of a stretch stay together.
    typed = re.sub(r"\s*(?:\bto\b|[-–])\s*", "-", re.sub(r"(?<=[\d.])\s+(?=mm|in\b|\")", "", typed.strip()))
    typed = _COMMA_MM.sub(r"\1.\2", typed)
    typed = re.sub(r"\s+(?=[#.\d])", ",", typed)
    found = []
    for item in filter(None, (each.strip() for each in re.split(r"[,;]", typed))):
        ends = [each.strip() for each in _SERIES.split(item)]
        if len(ends) > 2:
            raise JetlibError(f'"{clip(item)}" is not a stretch of drills; write such as #60-#53')
        found += [_drill(item)] if len(ends) == 1 else _stretch(*ends, item)
    if not found:
        raise JetlibError("nothing is typed; write the drills in the box, such as #60-#53, 1.2 mm, 1/16")
    sizes = {round(row.diameter * 1e9): row for row in reversed(found)}  # drills of one size make the same hole
    if len(sizes) > MOST_DRILLS:
        raise JetlibError(f"that is {len(sizes)} drills; up to {MOST_DRILLS} can be tried: write a shorter stretch")
    return tuple(row.label for _, row in sorted(sizes.items()))


def _drill(name):
    decimal = re.fullmatch(r"(0?\.\d{2,4})\s*(?:in|\")?", name)
    if decimal:
        bore = float(decimal[1]) * 0.0254
        row = tables.next_drill(bore, 0, series=None)
        if abs(row.diameter - bore) > _HALF_A_THOU:
            raise JetlibError(f'no drill is "{clip(name)}" wide; the nearest is {row.label}')
        return row
    return tables.drill(f"#{name}" if re.fullmatch(r"[1-9]\d?", name) else name)


def _stretch(first, last, item):
    if last.endswith("mm") and re.fullmatch(r"[\d.]+", first):
        first += " mm"
    one, other = _drill(first), _drill(last)
    if one.series != other.series:
        raise JetlibError(f'"{clip(item)}" runs from one series of drills to another; write two stretches')
    low, high = sorted((one.diameter, other.diameter))
    return [row for row in tables.drills(one.series) if low <= row.diameter <= high]


def hole_counts(typed):
    """Hole counts that a list such as "3-8", "0, 2" or "4 6" means, a tuple."""
    found = set()
    for item in filter(None, re.split(r"\s*[,;]\s*|(?<=\d)\s+(?=\d)", typed.strip())):
        match = re.fullmatch(r"([0-9]{1,3})(?:\s*(?:-|–|to)\s*([0-9]{1,3}))?", item)
        if match is None or int(match[2] or match[1]) > MOST_HOLES:
            raise JetlibError(f'"{clip(item)}" will not do; write counts from 0 to {MOST_HOLES}, such as 3-8 or 4, 6')
        low, high = sorted((int(match[1]), int(match[2] or match[1])))
        found.update(range(low, high + 1))
    if not found:
        raise JetlibError("nothing is typed; write how many holes may be tried, such as 3-8")
    return tuple(sorted(found))
