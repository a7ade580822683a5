"""What can be compared with what: the dimension of each kind of quantity, the units one may write, and their names."""

import re
from fractions import Fraction
from functools import cache

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
