"""Floats in, floats out: one number stays a Python float, many become an array."""

from functools import partial, wraps
from math import isfinite

import numpy as np

from jetlib.errors import JetlibError

_GIVE = "give SI numbers (m, m3/s, Pa), or arrays of them,"


def plain(value):
    """`value` as a Python float if it is one number, else as an array of floats."""
    if type(value) is float:
        return value
    try:
        return float(value) if np.ndim(value) == 0 else np.asarray(value, dtype=float)
    except (TypeError, ValueError, OverflowError):
        raise JetlibError(f"{type(value).__name__} is no number; give an SI number, or an array of them") from None


def require(good, value, message):
    """`value` made plain; a JetlibError of `message` if any of `good` is false.

    `good` is the test already done on `value` (a bool, or an array of them). Write it so that
    not-a-number fails: `require(value > 0, ...)` refuses nan, `require(not value <= 0, ...)` would not.
    `message` may hold {value}, which becomes the first number that failed.
    """
    if good is True:
        return plain(value)
    ok = np.asarray(good)
    if not ok.all():
        culprit = np.broadcast_to(np.asarray(value, dtype=float), ok.shape)[~ok].flat[0]
        raise JetlibError(message.format(value=f"{culprit:.6g}"))
    return plain(value)


def positive(value, name, unit):
    """`value` made plain; a JetlibError if any of it is not greater than zero and finite."""
    value = plain(value)
    return require(
        (value > 0) & (value < np.inf),
        value,
        f"{name} is {{value}} {unit}; give a {name} above zero, in {unit}",
    )


def not_negative(value, name, unit):
    """`value` made plain; a JetlibError if any of it is below zero or not finite."""
    value = plain(value)
    return require(
        (value >= 0) & (value < np.inf),
        value,
        f"{name} is {{value}} {unit}; give a {name} of zero or more, in {unit}",
    )


def finite(function=None, *, endless=False):
    """Decorates a formula: finite numbers give a finite answer, or a JetlibError; never a warning of numpy's. Nor does
    what is no number, or arrays whose shapes do not go together, end in an error of Python's own.

    endless: it may answer infinity, and says so.
    """
    if function is None:
        return partial(finite, endless=endless)
    strict = np.errstate(over="raise", divide="raise", invalid="raise")(function)
    name = f"{function.__module__.rpartition('.')[2]}.{function.__name__}"

    @wraps(function)
    def guarded(*given, **named):
        try:
            found = strict(*given, **named)
        except (FloatingPointError, OverflowError, ZeroDivisionError):
            found = np.nan
        except JetlibError:
            raise
        except (TypeError, ValueError) as error:
            raise JetlibError(f"{name} cannot work with this ({error}); {_GIVE} whose shapes go together") from None
        if type(found) is float and isfinite(found):
            return found
        if not np.isnan(found).any() and (endless or np.isfinite(found).all()):
            return found
        raise JetlibError(f"{name} has no finite answer here; {_GIVE} of a size that can exist")

    return guarded
