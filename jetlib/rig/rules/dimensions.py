"""What can be compared with what: the dimension of each kind of quantity, the units one may write, and their names."""

import re
from fractions import Fraction
from functools import cache

from jetlib.units import to_si
from jetlib.units.kinds import KINDS

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
#: Spellings of units: the kind they belong to and the system that shows it in them, and how many of them that is.
_SPELT = {
    "gpm": ("flow", "US", 1), "psi": ("pressure", "US", 1), "bar": ("pressure", "metric", 1),
    "mpa": ("pressure", "metric", 10), "kpa": ("barometric_pressure", "metric", 1),
    "ft": ("length", "US", 1), "feet": ("length", "US", 1), "foot": ("length", "US", 1),
    "in": ("bore", "US", 1), "inch": ("bore", "US", 1), "inches": ("bore", "US", 1),
    "m": ("length", "metric", 1), "mm": ("bore", "metric", 1), "hp": ("power", "US", 1), "kw": ("power", "metric", 1),
    "lbf": ("force", "US", 1), "n": ("force", "metric", 1), "lb": ("mass", "US", 1), "kg": ("mass", "metric", 1),
    "gal": ("volume", "US", 1), "gallons": ("volume", "US", 1), "gallon": ("volume", "US", 1),
    "l": ("volume", "metric", 1), "litres": ("volume", "metric", 1), "liters": ("volume", "metric", 1),
    "min": ("duration", "US", 1), "minutes": ("duration", "US", 1), "minute": ("duration", "US", 1),
    "h": ("duration", "US", 60), "s": ("time", "metric", 1), "rpm": ("speed", "US", 1), "%": ("fraction", "US", 1),
    "°f": ("temperature_difference", "US", 1), "degf": ("temperature_difference", "US", 1),
    "°c": ("temperature_difference", "metric", 1), "degc": ("temperature_difference", "metric", 1),
}  # fmt: skip


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
    found = _SPELT.get(spelling.lower())
    if found is None:
        return None
    kind, system, count = found
    factor = float(to_si(1.0, kind, system)) - float(to_si(0.0, kind, system))
    return count * factor, dimension(kind)


def spellings():
    """The units one may write, a tuple, each once in its usual case."""
    usual = {"mpa": "MPa", "kpa": "kPa", "kw": "kW", "n": "N", "l": "L", "°f": "°F", "°c": "°C"}
    longer = {"feet", "foot", "inch", "inches", "gallons", "gallon", "litres", "liters", "minutes", "minute"}
    return tuple(usual.get(each, each) for each in _SPELT if each not in longer | {"degf", "degc"})


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
