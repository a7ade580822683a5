"""What to say when a value is refused: what it was, how it was given, and the line to write instead.

In two forms: for who writes Python, and for who types into a field of a page (`page_words`).
"""

import re
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from math import ceil, floor, isfinite, log10

from jetlib.errors import JetlibError, MissingUnit, WrongKind
from jetlib.units.kinds import Kind
from jetlib.units.number_text import figures


def quoted(text):
    """The text in quotes, as it would be written in Python, cut if long."""
    text = str(text)
    text = text if len(text) <= 40 else text[:37] + "…"
    return repr(text) if '"' in text or not text.isprintable() else f'"{text}"'


def short(number):
    """A number as a person would write it back: 12.7, 200, 1e+20."""
    return f"{float(number):.10g}"


def cut(value):
    """A value of any type, cut if long; its type where it cannot be shown."""
    try:
        return clip(repr(value) if isinstance(value, str | bytes) else str(value))
    except Exception:  # a stranger's __str__ may do anything
        return f"of type {type(value).__name__}"


def clip(text):
    """The text on one line, of at most 40 characters."""
    line = " ".join(text.split())
    return line if len(line) <= 40 else line[:37] + "…"


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked for and where it goes, `owner(field=…)`; makes the errors that say so.

    convert(number, unit) gives a number in SI, or None for a unit that will not do; show(value, system) is an
    SI value as a display number; example_in(system) is a text that is always accepted.
    """

    kind: str
    known: Kind
    convert: Callable
    show: Callable
    example_in: Callable
    field: str = ""
    owner: str = ""
    name: str = ""

    @property
    def subject(self):
        """The words for what was given."""
        return self.name or self.field.replace("_", " ") or self.kind.replace("_", " ")

    @property
    def example(self):
        """A literal that is always accepted."""
        known = self.known
        return known.example if "dimensionless" in known.only else f'"{known.example}"'

    def write(self, literals):
        """The line that would have been right, or two of them."""
        lines = (f"{self.field}={each}" if self.field else each for each in literals)
        return "write " + " or ".join(f"{self.owner}({each}, …)" if self.owner else each for each in lines)

    def such_as(self):
        """The line to write when nothing better can be guessed."""
        return self.write([self.example]).replace("write ", "write, for example, ", 1)

    def guesses(self, number, shown=None, *, bare=True):
        """At most two literals that a number may have meant, best first; none if no unit makes it plausible.

        shown is the number as it was typed, where it was; bare is False if a unit stood with it.
        """
        likely, possible = [], []
        known = self.known
        keeps_sign = known.low < 0 or known.unit == "kelvin"  # elsewhere a minus is a slip, or a dash size
        size = float(number if keeps_sign else abs(number))
        if not isfinite(size):
            return []
        shown = ("-" if size < 0 else "") + shown if shown else short(size)
        whole = bare and 1 <= size < 100 and size == int(size)
        for hint in known.hints:
            literal = f'"{shown} {hint}"'
            if hint == "#":
                literal, value = f'"#{size:.0f}"', self.convert(size, "#") if whole else None
            elif hint == "-":
                literal, value = f'"-{size:.0f}"', self.convert(size / 16, "in") if whole and size > 1 else None
            elif hint == "1:":
                literal, value = f'"1:{shown}"', 1 / size if size >= 1 else None
            elif hint == "%":
                value = size / 100 if size >= 2 else None  # 1.2 is hardly 1.2 %
                literal = short(value) if value and known.only else literal
            else:
                value = self.convert(size, hint)
            if value is not None and known.low <= value <= known.high:
                (likely if known.usual[0] <= value <= known.usual[1] else possible).append(literal)
        if number < 0:
            likely.sort(key=lambda literal: not literal.startswith('"-'))  # bore=-6 is a dash size
        return (likely or possible)[:2]

    def allowed(self):
        """The plausible range in words, in metric and US units."""
        known, ranges = self.known, []
        for system, (label, _) in (("metric", known.metric), ("US", known.us)):
            low, high = (figures(round(self.show(end, system=system), 5)) for end in (known.low, known.high))
            ranges.append(f"{low} to {high} {label}".rstrip())
        words = ranges[0] if ranges[0] == ranges[1] else f"{ranges[0]} ({ranges[1]})"
        return f"0, or {words}" if known.zero else words

    def implausible(self, number, given=None, typed=None):
        """The error for a number (SI) out of range; `given` and `typed`: the text and what was read in it."""
        known = self.known
        was = f"{self.subject} is {given or f'{short(number)} ({known.si_label})'}"
        if not isfinite(number):
            return self._refused(
                f"{was}, which is not a finite number; {self.such_as()}", given, "is more than any number here"
            )
        if number == 0:
            return self._refused(
                f"{was}; it must be more than 0; {self.such_as()}", given, "is nothing; it must be more"
            )
        if typed is None:
            guesses = self.guesses(number)
        else:
            guesses = self.guesses(typed.number, typed.shown, bare=not typed.unit)
        if number < 0 <= known.low and known.unit != "kelvin":
            if known.low <= -number <= known.high and typed is not None:
                guesses = [quoted(f"{typed.shown} {typed.unit}".strip())]
            elif known.usual[0] <= -number <= known.usual[1]:
                guesses = [short(-number)]
            fix = self.write(guesses or [self.example])
            return self._refused(f"{was}; it cannot be negative; {fix}", given, "is less than nothing")
        if guesses and given is None:
            return JetlibError(f"{was}; {self.write(guesses)}")
        return JetlibError(
            f"{was}; allowed is {self.allowed()}; {self.write(guesses or [self.example])}",
            words=lambda system: self._out_of_range(number, given, system),
        )

    def _refused(self, message, given, why, example=None, kind=JetlibError):
        """The error with its message, and with what a page says: what was typed, why not, and what to write."""

        def words(system):
            typed = _bare(given) or self.subject
            said = f"{typed}{'' if why.startswith(':') else ' '}{why}"
            return _in_degrees(f"{said}; write such as {example or self.example_in(system)}")

        return kind(message, words=words)

    def _out_of_range(self, number, given, system):
        known, way = self.known, "too much" if number > self.known.high else "too little"
        low = None if known.low < 0 and known.unit != "kelvin" and number > known.high else known.low
        label, _ = known.us if system == "US" else known.metric
        allowed = range_words(low, known.high, label, lambda end: self.show(end, system=system))
        return f"{_bare(given) or self.subject} is {way} here; allowed: {'0, or ' if known.zero else ''}{allowed}"

    def not_a_number(self, value):
        """The error for what is neither number, text nor Quantity."""
        return self._refused(
            f"{self.subject} is {cut(value)}, not a number; {self.such_as()}", cut(value), "is no number"
        )

    def unreadable(self, given, reason, instead=(), typed=None):
        """The error for a text that cannot be read."""
        literals = [quoted(each) for each in instead]
        if not literals and typed is not None:
            literals = self.guesses(typed.number, typed.shown, bare=False)
        message = f"{self.subject} is {given}: {reason}; {self.write(literals or [self.example])}"
        why = f"can't be read: {page_words(reason) if isinstance(reason, JetlibError) else reason}"
        return self._refused(message, given, why, " or ".join(instead))

    def missing_unit(self, given, typed):
        """The error for a text that holds only a number."""
        guesses = self.guesses(typed.number, typed.shown)
        message = f"{self.subject} is {given}, which has no unit; {self.write(guesses or [self.example])}"
        return self._refused(message, given, "has no unit", kind=MissingUnit)

    def wrong_kind(self, given, unit, noun, number=None, shown=None):
        """The error for a unit (or a drill) that measures something else."""
        guesses = self.guesses(number, shown, bare=False) if number else []
        is_a = f"{unit} is {_a(noun)}"
        wants = f"{self.subject} wants {self.known.wants}"
        message = f"{self.subject} is {given}: {is_a}; {wants}; {self.write(guesses or [self.example])}"
        why = f": {is_a}, and here {_a(self.known.noun)} is wanted"
        return self._refused(message, given, why, kind=WrongKind)


def _a(noun):
    return f"{'an' if noun[0] in 'aeio' else 'a'} {noun}"


def _bare(given):
    """What was typed, without the quotes of Python."""
    given = str(given or "")
    return _in_degrees(given[1:-1].replace("\\'", "'") if given[:1] in ("'", '"') else given)


def _in_degrees(words):
    return words.replace("degF", "°F").replace("degC", "°C")


def range_words(low, high, label, show):
    """A range in words, each end of which is accepted when it is typed: "0.5 to 12 gpm", "up to 4000 psi".

    low, high: SI, None where there is no such end. label: the unit; show(SI value): its number in that unit.
    """
    ends = [None if end is None else _rounded_in(show(end), up) for end, up in ((low, True), (high, False))]
    unit = f"{'' if label in ('', '°') else ' '}{label}"
    if ends[0] is None or ends[1] is None:
        return f"up to {ends[1]}{unit}" if ends[0] is None else f"from {ends[0]}{unit}"
    return f"{ends[0]} to {ends[1]}{unit}"


def _rounded_in(number, up):
    """A number as three figures that lie inside the range it ends; as it is where that is short."""
    number = 0.0 if abs(number) < 1e-5 else number  # the slack of a temperature
    shown = f"{number:.10g}"
    if "e" not in shown and len(shown.strip("-0.").replace(".", "")) <= 4:
        return shown
    step = 10.0 ** (floor(log10(abs(number))) - 2)
    steps = ceil(number / step - 1e-9) if up else floor(number / step + 1e-9)
    return f"{Decimal(repr(step)) * steps:f}".rstrip("0").rstrip(".") if step < 1 else f"{steps * step:.0f}"


# --- on a page --------------------------------------------------------------------------------------

_CODE = re.compile(r"\w+\(.*|\b\w+=|\b[a-z]+_[a-z_]+\b(?![./\\])")
_NAME = re.compile(r"(?<![./\\\w])[a-z]+(?:_[a-z]+)+\b(?![./\\])")
_US = r"(?:psi|gpm|gal|ft|in|in²|in³|lbf|lb|lb/ft|hp|°F|ft/s|cP|lbf/ft²|lb/ft³)"
_METRIC = r"(?:bar|kPa|L/min|L|m|mm|mm²|mL|N|kg|kg/m|kW|°C|m/s|Pa|mPa·s|kg/m³)"
_BOTH = re.compile(rf"(-?\.?\d[\d.,/ -]* {_US}) \((-?[\d.,/]+ {_METRIC})\)")


def in_one_system(words, system):
    """Words in which each value that stands in both systems, such as "9 gpm (34 L/min)", is kept in one."""
    return _BOTH.sub(r"\1" if system == "US" else r"\2", words)


def page_words(error, system="US"):
    """What a page says of an error: no Python, no name of code, and no unit of the other system.

    error: a JetlibError with words of its own, or any other error. Of one without, the clauses that hold code are left
    out, and of a value in both systems one is kept.
    """
    if getattr(error, "words", None) is not None:
        return error.words(system)
    clauses = [in_one_system(each, system) for each in str(error).split("; ")]
    plain = [each for each in clauses if not (each.startswith("write ") and _CODE.search(each))] or clauses[:1]
    return _NAME.sub(lambda name: name[0].replace("_", " "), "; ".join(plain))[:400]
