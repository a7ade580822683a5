"""Whole numbers at the door."""

import operator

from jetlib.errors import JetlibError
from jetlib.units.refusal import cut


def whole_number(value, name, low, high):
    """`value` as an int from `low` to `high`. Raises JetlibError that names it."""
    try:
        number = operator.index(value)
    except TypeError:
        number = low - 1
    if not low <= number <= high:
        raise JetlibError(f"{name} is {cut(value)}; allowed: a whole number {low} to {high}; write {name}={low}")
    return number
