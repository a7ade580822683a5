"""What to say when a value is refused: what it was, how it was given, and the line to write instead."""

from collections.abc import Callable
from dataclasses import dataclass
from math import isfinite

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
    SI value as a display number.
    """

    kind: str
    known: Kind
    convert: Callable
    show: Callable
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
            return JetlibError(f"{was}, which is not a finite number; {self.such_as()}")
        if number == 0:
            return JetlibError(f"{was}; it must be more than 0; {self.such_as()}")
        if typed is None:
            guesses = self.guesses(number)
        else:
            guesses = self.guesses(typed.number, typed.shown, bare=not typed.unit)
        if number < 0 <= known.low and known.unit != "kelvin":
            if known.low <= -number <= known.high and typed is not None:
                guesses = [quoted(f"{typed.shown} {typed.unit}".strip())]
            elif known.usual[0] <= -number <= known.usual[1]:
                guesses = [short(-number)]
            return JetlibError(f"{was}; it cannot be negative; {self.write(guesses or [self.example])}")
        if guesses and given is None:
            return JetlibError(f"{was}; {self.write(guesses)}")
        return JetlibError(f"{was}; allowed is {self.allowed()}; {self.write(guesses or [self.example])}")

    def not_a_number(self, value):
        """The error for what is neither number, text nor Quantity."""
        return JetlibError(f"{self.subject} is {cut(value)}, not a number; {self.such_as()}")

    def unreadable(self, given, reason, instead=(), typed=None):
        """The error for a text that cannot be read."""
        literals = [quoted(each) for each in instead]
        if not literals and typed is not None:
            literals = self.guesses(typed.number, typed.shown, bare=False)
        return JetlibError(f"{self.subject} is {given}: {reason}; {self.write(literals or [self.example])}")

    def missing_unit(self, given, typed):
        """The error for a text that holds only a number."""
        guesses = self.guesses(typed.number, typed.shown)
        return MissingUnit(f"{self.subject} is {given}, which has no unit; {self.write(guesses or [self.example])}")

    def wrong_kind(self, given, unit, noun, number=None, shown=None):
        """The error for a unit (or a drill) that measures something else."""
        guesses = self.guesses(number, shown, bare=False) if number else []
        is_a = f"{unit} is {'an' if noun[0] in 'aeio' else 'a'} {noun}"
        wants = f"{self.subject} wants {self.known.wants}"
        return WrongKind(f"{self.subject} is {given}: {is_a}; {wants}; {self.write(guesses or [self.example])}")
