"""pint's registry of units, opened when a text or a Quantity first needs it, and exact factors out of it."""

from decimal import Decimal
from fractions import Fraction
from functools import cache, lru_cache

from jetlib.units.number_text import Unreadable


@cache
def registry():
    """pint's registry of units."""
    import pint  # here, so that SI numbers never wait for it

    # In decimal arithmetic the exact definitions stay exact: a foot is 0.3048 m to the last digit.
    return pint.UnitRegistry(non_int_type=Decimal, cache_folder=None)


@lru_cache(1024)
def unit_of(terms):
    """The registry's unit of a tuple of (name, power); Unreadable if it has none."""
    known = registry()
    unit = known.Unit("")
    for name, power in terms:
        try:
            if not name.replace("μ", "u").isidentifier() or not name.isprintable():
                raise ValueError
            unit *= known.parse_units(name) ** power
        except Exception:  # whatever the registry thinks of a strange name, it is not a unit
            raise Unreadable(f"{name} is not a unit known here") from None
    return unit


@lru_cache(1024)
def linear(terms, into):
    """Exact (factor, offset) to the SI unit `into` of a unit given by its terms; None if it is of another dimension."""
    unit, target = unit_of(terms), si_unit(into)
    if unit.dimensionality != target.dimensionality:
        return None
    try:
        zero, one, two = (registry().Quantity(Decimal(n), unit).to(target).magnitude for n in (0, 1, 2))
    except Exception:  # an offset or logarithmic unit inside a product
        raise Unreadable("its unit has no plain factor") from None
    factor = one - zero
    if abs(two - one - factor) > abs(factor) * Decimal("1e-20") or not factor:
        raise Unreadable("its unit has no plain factor")
    return Fraction(factor), Fraction(zero)


@lru_cache(1024)
def names_in(terms):
    """The registry's own names of the units in it."""
    return frozenset(name for name, _ in registry().Quantity(1, unit_of(terms)).unit_items())


@cache
def si_unit(unit):
    """The registry's unit of that name."""
    return registry().parse_units(unit)
