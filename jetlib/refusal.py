"""What to say when a value is refused: what it was, how it was given, and the line to write instead."""

from typing import NamedTuple

from jetlib.number_text import figures


class Asked(NamedTuple):
    """What is asked for and where it goes: `owner(field=…)`."""

    kind: str
    field: str = ""
    owner: str = ""
    name: str = ""

    @property
    def subject(self):
        return self.name or self.field.replace("_", " ") or self.kind.replace("_", " ")

    def write(self, literals):
        """The line that would have been right, or two of them."""
        lines = (f"{self.field}={each}" if self.field else each for each in literals)
        return " or ".join(f"{self.owner}({each}, …)" if self.owner else each for each in lines)


def quoted(text):
    """The text in quotes, as it would be written in Python, cut if long."""
    text = str(text)
    text = text if len(text) <= 40 else text[:37] + "…"
    return repr(text) if '"' in text or not text.isprintable() else f'"{text}"'


def short(number):
    """A number as a person would write it back: 12.7, 200, 1e+20."""
    return f"{number:.10g}"


def cut(value):
    """A value of any type, cut if long; its type where it cannot be shown."""
    try:
        shown = repr(value) if isinstance(value, str | bytes) else str(value)
    except Exception:  # a stranger's __str__ may do anything
        shown = f"a {type(value).__name__}"
    return shown if len(shown) <= 40 else shown[:37] + "…"


def guesses(number, known, to_si):
    """At most two literals that the number may have meant, best first; none if no unit makes it plausible.

    to_si(number, unit) converts; it gives None for what it cannot.
    """
    likely, possible = [], []
    whole = abs(number) < 100 and number == int(number)
    for hint in known.hints:
        size = number if known.low < 0 else abs(number)
        literal = f'"{short(size)} {hint}"'
        if hint == "#":
            literal, value = f'"#{short(size)}"', to_si(size, "#") if whole and size >= 1 else None
        elif hint == "-":
            literal, value = f'"-{short(size)}"', to_si(size / 16, "in") if whole and size >= 2 else None
        elif hint == "1:":
            literal, value = f'"1:{short(size)}"', 1 / size if size >= 1 else None
        else:
            value = to_si(size, hint)
        if value is None or not known.low <= value <= known.high:
            continue
        if hint == "%" and not known.only.isdisjoint({"percent"}):
            literal = short(value)
        usual = known.usual[0] <= value <= known.usual[1]
        (likely if usual else possible).append(literal)
    if number < 0 and '"-' in "".join(likely):
        likely.sort(key=lambda literal: not literal.startswith('"-'))  # -6 is a dash size
    return (likely or possible)[:2]


def example(known):
    """A literal that is always accepted."""
    return f'"{known.example}"' if not known.only.issuperset({"dimensionless"}) else known.example


def allowed(known, from_si):
    """The plausible range in words, in metric and US units. from_si(value, system) converts."""
    ranges = []
    for system, (label, _) in (("metric", known.metric), ("US", known.us)):
        low, high = (figures(from_si(end, system)) for end in (known.low, known.high))
        ranges.append(f"{low} to {high} {label}".rstrip())
    words = ranges[0] if ranges[0] == ranges[1] else f"{ranges[0]} ({ranges[1]})"
    return f"0, or {words}" if known.zero else words
