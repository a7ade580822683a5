"""A rule as an equation of named quantities: what can be compared with what, and what it comes to.

`reader` makes one of text; it is worked out on floats or arrays.
"""

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, reduce

import numpy as np

from jetlib.units import to_si
from jetlib.units.kinds import IN_RULES, KINDS

#: A dimension is the powers of metre, kilogram, second and kelvin (BIPM, *The International System of Units*, 9th ed.).
PLAIN = (Fraction(0),) * 4
_BASE = {
    "meter": (1, 0, 0, 0),
    "kilogram": (0, 1, 0, 0),
    "second": (0, 0, 1, 0),
    "kelvin": (0, 0, 0, 1),
    "pascal": (-1, 1, -2, 0),
    "newton": (1, 1, -2, 0),
    "watt": (2, 1, -3, 0),
    "radian": (0, 0, 0, 0),
    "dimensionless": (0, 0, 0, 0),
}
_SYMBOLS = ("m", "kg", "s", "K")
#: Kinds that a value of a dimension is called and shown as, the first that fits.
_CALLED = (
    "ratio", "pressure", "flow", "length", "power", "force", "velocity", "duration", "volume", "mass",
    "temperature_difference", "mass_per_length", "area", "density",
)  # fmt: skip
#: Units one may write: how, the kind they belong to, the system that shows it in them, how many of those it is.
_SPELLED = {each.lower(): row for name, *row, others in IN_RULES for each in (name, *others)}


def _of_units(units):
    total = PLAIN
    for sign, name, power in re.findall(r"([*/]?)([a-z]+)(?:\*\*(\d))?", units):
        each = Fraction(int(power or 1)) * (-1 if sign == "/" else 1)
        total = tuple(sum_ + each * one for sum_, one in zip(total, _BASE[name], strict=True))
    return total


@cache
def dimension(kind):
    """Dimension of a kind of quantity, a tuple of four Fractions."""
    return _of_units(KINDS[kind].unit)


@cache
def unit(spelling):
    """(factor to SI, dimension) of a unit as one writes it, such as "psi"; None if it is not one of `spellings`.

    Degrees are steps of temperature. Not case-sensitive, so "MPA" is megapascal and there is no milli.
    """
    found = _SPELLED.get(spelling.lower())
    if found is None:
        return None
    kind, system, count = found
    factor = float(to_si(1.0, kind, system)) - float(to_si(0.0, kind, system))
    return count * factor, dimension(kind)


def spellings():
    """The units one may write, a tuple, each once in its usual case."""
    return tuple(name for name, *_ in IN_RULES)


def kind_of(dimension_):
    """The kind that a value of this dimension is shown as, or None."""
    return next((kind for kind in _CALLED if dimension(kind) == dimension_), None)


def noun(dimension_):
    """What a value of this dimension is, in words: "pressure", "pressure per length", or its powers of SI units."""
    if dimension_ == PLAIN:
        return "plain number"
    kind = kind_of(dimension_)
    if kind:
        return KINDS[kind].noun
    for top in _CALLED[1:]:
        for bottom in _CALLED[1:]:
            if times(dimension(top), dimension(bottom), -1) == dimension_:
                return f"{KINDS[top].noun} per {KINDS[bottom].noun}"
    powers = [f"{symbol}^{power}" for symbol, power in zip(_SYMBOLS, dimension_, strict=True) if power]
    return f"quantity in {' '.join(powers[:4])}"[:80]


def times(one, other, power=1):
    """Dimension of `one` times `other` to `power`."""
    return tuple(a + power * b for a, b in zip(one, other, strict=True))


@dataclass(frozen=True)
class Node:
    """A piece of a rule. do: "number", "name", "in", "+", "-", "*", "/", "^", "negative", or a function.

    value: a number (SI), an exponent, or the key of a name. start, end: place in the text; a number's is that of its
    figures. note: the unit as typed, of a number or an "in".
    """

    do: str
    dimension: tuple
    start: int
    end: int
    value: object = None
    parts: tuple = ()
    note: str = ""

    def names(self):
        """Keys of all the names in it, a set."""
        own = {self.value} if self.do == "name" else set()
        return own.union(*(part.names() for part in self.parts))


@dataclass(frozen=True)
class Equation:
    """A typed rule: `left`, what it is about, and `right`, what the rule says that is.

    sign: "=", or "<" or ">" for a limit that the left side is to keep. safe: "high" where saying too much errs on the
    safe side, "low" where saying too little does, "" where neither does.
    """

    text: str
    left: Node
    right: Node
    sign: str = "="
    safe: str = ""

    @property
    def limit(self):
        """Whether it is a limit to be kept, not a figure to be right."""
        return self.sign != "="

    def knob(self):
        """(Node, sign) of the number that the right side is in proportion to; sign -1: against. (None, 0) without."""
        return _knob(self.right)

    def with_knob(self, words):
        """The text with other words for that number; a half must not become 0.52 times 0.5, so it is replaced."""
        number, _ = self.knob()
        return " ".join(f"{self.text[: number.start]}{words}{self.text[number.end :]}".split())


@np.errstate(all="ignore")
def work_out(node, look_up):
    """The value (SI, float or array) of a Node; look_up gives the value of a key. Not finite where it has none."""
    if node.do == "number":
        return node.value
    if node.do == "name":
        return np.asarray(look_up(node.value), dtype=float)
    parts = [work_out(part, look_up) for part in node.parts]
    if node.do == "^":
        return np.power(np.asarray(parts[0], dtype=float), float(node.value))
    if node.do == "in":
        return parts[0] / node.value
    return _DO[node.do](*parts) if len(parts) < 3 else reduce(_DO[node.do], parts)


_DO = {
    "+": np.add, "-": np.subtract, "*": np.multiply, "/": np.divide, "negative": np.negative, "sqrt": np.sqrt,
    "min": np.minimum, "max": np.maximum,
}  # fmt: skip


def _knob(node):
    if node.do == "number":
        return (node, 1) if node.value else (None, 0)
    if node.do not in ("negative", "in", "*", "/"):
        return None, 0
    found, sign = _knob(node.parts[0])
    if found is None and len(node.parts) > 1:
        found, sign = _knob(node.parts[1])
        sign = -sign if node.do == "/" else sign
    return found, sign
