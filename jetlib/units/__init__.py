"""The door: text, Quantities and numbers in, SI floats or arrays out; and back to either unit system.

The only importer of pint, and not before a text or a Quantity comes in or a value goes out in other units.
Every conversion factor is pint's.
"""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from functools import cache, lru_cache, partial
from math import inf
from numbers import Real

import numpy as np

from jetlib import tables
from jetlib.errors import JetlibError
from jetlib.units.given import Given, Quantity, Values
from jetlib.units.kinds import ANGLES, KINDS, ROTATION
from jetlib.units.number_text import Typed, Unreadable, figures, inch_fraction, parse, unit_terms
from jetlib.units.refusal import Asked, clip, cut, quoted, short
from jetlib.units.registry import linear, names_in, registry, si_unit, unit_of

SYSTEMS = ("US", "metric")

# --- kinds ------------------------------------------------------------------------------------------


def _shown_in(kind, system):
    """(label, factor, offset, fixed decimals) of a kind in a system."""
    try:
        return _terms(kind, system)
    except TypeError:  # neither can be a list
        _known(kind)
        raise JetlibError(f'system is {cut(system)}; write "US" or "metric"') from None


@lru_cache(256)
def _terms(kind, system):
    known = _known(kind)
    if system not in SYSTEMS:
        raise JetlibError(f'system is {cut(system)}; write "US" or "metric"')
    label, unit = known.us if system == "US" else known.metric
    shown, target = si_unit(unit), si_unit(known.unit)
    zero, one = (registry().Quantity(Decimal(n), shown).to(target).magnitude for n in (0, 1))
    return label, float(one - zero), float(zero), known.us_decimals if system == "US" else None


def _known(kind):
    try:
        return KINDS[kind]
    except (KeyError, TypeError):
        raise JetlibError(f"kind is {cut(kind)}; write one of: {', '.join(KINDS)}") from None


# --- in ---------------------------------------------------------------------------------------------


def si(value: Given, kind: str, *, field: str = "", owner: str = "", name: str | None = None) -> Values:
    """The value in SI: a float, or a float64 array for arrays and lists (not a copy if it already is one).

    value: a number or array (taken as SI), a pint Quantity, a text such as "3/8 in", or a list of these.
    kind: a key of `KINDS`; of "hose_bore" a fraction or dash size names a hose, and is the table's mean bore of it,
    while decimals and millimetres are a measured bore. field, owner and name only word the error: `Hose(bore=…)`.
    Raises JetlibError if the value cannot be read, is not finite, or is plausible only in another unit;
    MissingUnit for a text without unit, WrongKind for a unit of another kind.

    >>> si("240 bar", "pressure")
    24000000.0
    >>> si(["3/8 in", "1/2 in"], "length")
    array([0.009525, 0.0127  ])
    """
    known = _known(kind)
    if type(value) is float and known.low <= value <= known.high:
        return value + 0.0  # -0.0 becomes 0.0
    shows = partial(from_si, kind=kind), partial(example, kind)
    asked = Asked(kind, known, partial(_convert, known), *shows, field, owner, name if isinstance(name, str) else "")
    if isinstance(value, np.ndarray) and value.dtype.kind in "UT":
        value = value.tolist()
    if isinstance(value, str):
        found = _from_text(value, asked)
        return _hose_named(value, found) if kind == "hose_bore" else found
    if hasattr(value, "magnitude") and hasattr(value, "to"):
        return _from_quantity(value, asked)
    if isinstance(value, list | tuple) and _holds_text(value):
        found = [
            si(each, kind, field=field, owner=owner, name=f"{asked.subject}[{at}]") for at, each in enumerate(value)
        ]
        try:
            return np.array(found, dtype=float)
        except ValueError:
            raise JetlibError(f"{asked.subject} has rows of unlike length; write them of one length") from None
    return _from_number(value, asked)


def one(value, kind, *, field):
    """`si` of one value, a float; JetlibError for a list or an array."""
    found = si(value, kind, field=field)
    if np.ndim(found):
        raise JetlibError(f"{field} is {cut(value)}; write one value, {field}=…")
    return float(found)


def _hose_named(text, bore):
    """The mean bore (m) of the hose that a text such as "1/2 in" or "-8" names; `bore` where it is a measured one."""
    if any(sign in text.lower() for sign in ".,m"):
        return bore
    size = tables.nominal_hoses().get(round(bore, 7))
    return bore if size is None else size.bore


def _holds_text(values, depth=4):
    return depth > 0 and any(
        isinstance(each, str)
        or hasattr(each, "magnitude")
        or (isinstance(each, list | tuple) and _holds_text(each, depth - 1))
        for each in values
    )


def _fits(number, known):
    return known.low <= number <= known.high or (known.zero and number == 0)


def _from_number(value, asked, given=None, typed=None):
    """A number or array in SI, checked; `given` and `typed` are what it was, where that was a Quantity."""
    known = asked.known
    if isinstance(value, Real | Decimal) and not isinstance(value, bool):
        try:
            number = float(value)
        except (OverflowError, ValueError):  # an int too large for a float, or a decimal signalling
            number = inf
        if _fits(number, known):
            return number + 0.0
        raise asked.implausible(number, given, typed)
    listed = isinstance(value, list | tuple | np.ndarray) or hasattr(value, "__array__")
    if not listed or isinstance(value, np.bool_) or np.ma.isMaskedArray(value):
        raise asked.not_a_number(value)
    try:
        array = np.asarray(value)
    except (ValueError, TypeError, OverflowError, RecursionError):
        array = np.empty(0, dtype=object)
    if array.dtype.kind not in "fiu" or not array.size:
        raise asked.not_a_number(value)
    array = array.astype(float, copy=False)
    if not (known.low <= array.min() and array.max() <= known.high):  # so for nan too
        bad = ~((array >= known.low) & (array <= known.high))
        bad &= (array != 0) | (not known.zero)
        if bad.any():
            at = tuple(int(place) for place in np.argwhere(bad)[0])
            place = f"[{', '.join(map(str, at))}]" if at else ""
            raise replace(asked, name=asked.subject + place).implausible(float(array[at]))
    return array if array.ndim else float(array) + 0.0


def _from_quantity(value, asked):
    known, typed = asked.known, None
    try:
        given, unit = clip(f"{value:~}"), f"{value.units:~}"
        names = {name for name, _ in value.unit_items()}
        suits = value.is_compatible_with(known.unit) and _suits(names, known)
        # Its own registry converts: it may know units that ours does not.
        magnitude = value.to(known.unit).magnitude if suits else None
        if isinstance(value.magnitude, Real) and not isinstance(value.magnitude, bool):
            typed = Typed(value.magnitude, unit, shown=short(abs(value.magnitude)))
    except Exception as problem:  # a reader's registry may raise anything
        raise asked.unreadable(cut(value), clip(str(problem))) from None
    if not suits:
        number = typed and (typed.number, typed.shown)
        raise asked.wrong_kind(given, unit or "a bare number", _noun(value.dimensionality, names), *(number or ()))
    return _from_number(magnitude, asked, given, typed)


def _from_text(value, asked):
    given, known, typed = quoted(value), asked.known, None
    try:
        typed = parse(value, dash="-" in known.hints, slope="1:" in known.hints)
        number = float(_typed_in_si(typed, asked, given))
    except Unreadable as problem:
        likely = typed if typed and typed.unit.isalpha() else None  # in "5 ft 6 in" the 5 alone says little
        refusals = {each: _refusal(each, asked) for each in problem.instead}
        usable = [each for each, refusal in refusals.items() if refusal is None]
        if refusals and not usable:  # whichever was meant, it will not do
            raise next(iter(refusals.values())) from None
        raise asked.unreadable(given, problem.reason, usable, likely) from None
    except OverflowError:
        raise asked.unreadable(given, "its number is not finite") from None
    if _fits(number, known):
        return number + 0.0
    raise asked.implausible(number, given, typed)


def _refusal(text, asked):
    """The JetlibError for a text; None for one that is read."""
    try:
        _from_text(text, asked)
    except JetlibError as refusal:
        return refusal
    return None


def _typed_in_si(typed, asked, given):
    """The exact number in SI."""
    known = asked.known
    if typed.form == "dash":  # a dash size counts sixteenths of an inch (SAE J517)
        return typed.number / 16 * linear((("inch", 1),), known.unit)[0]
    if typed.form == "slope" or (typed.form == "number" and not typed.unit and known.plain_text):
        return typed.number
    if typed.form == "drill":
        if not known.drills:
            raise asked.wrong_kind(given, typed.shown, "drill size")
        try:
            return tables.drill(typed.shown).diameter
        except JetlibError as problem:
            raise asked.unreadable(given, problem) from None
    if not typed.unit:
        raise asked.missing_unit(given, typed)
    terms = unit_terms(typed.unit, meaning=known.meaning)
    exact, names = linear(terms, known.unit), names_in(terms)
    if exact is None or not _suits(names, known):
        noun = _noun(unit_of(terms).dimensionality, names)
        raise asked.wrong_kind(given, typed.unit, noun, typed.number, typed.shown)
    return typed.number * exact[0] + exact[1]


def _convert(known, number, unit):
    """A number in SI, or None if the unit will not do."""
    try:
        if unit == "#":
            return tables.drill(f"#{number:.0f}").diameter
        factor, offset = linear(unit_terms(unit, meaning=known.meaning), known.unit)
        return float(Fraction(number) * factor + offset)
    except (Unreadable, JetlibError, OverflowError):
        return None


def _suits(names, known):
    """Whether units of the right dimension are also of the right sense: no Hz for rpm, no degrees for a share."""
    if known.only and not names <= known.only:
        return False
    if known.some:
        return not names.isdisjoint(known.some)
    return known.unit != "dimensionless" or names.isdisjoint(ANGLES)


@cache
def _nouns():
    nouns = {}
    for known in KINDS.values():
        nouns.setdefault(si_unit(known.unit).dimensionality, known.noun)
    return nouns


def _noun(dimensionality, names):
    """What kind of quantity a unit measures, in a word or two."""
    if not dimensionality:
        return "angle" if names and names <= ANGLES else "ratio"
    if dimensionality == {"[time]": -1}:
        return "frequency" if names.isdisjoint(ROTATION) else "speed of rotation"
    return _nouns().get(dimensionality, "unit of something else")


# --- out --------------------------------------------------------------------------------------------


def from_si(value: Values, kind: str, system: str) -> Values:
    """The number (or array) that shows an SI value in the unit of `unit_label`; not checked for range.

    >>> round(from_si(2e7, "pressure", "US"), 1)
    2900.8
    """
    _, factor, offset, _ = _shown_in(kind, system)
    return (_plain(value) - offset) / factor


def to_si(number, kind, system):
    """The SI value of a number (or array) in the unit of `unit_label`; the inverse of from_si, not checked."""
    _, factor, offset, _ = _shown_in(kind, system)
    return _plain(number) * factor + offset


def _plain(value):
    """The value as a number or an array of them. Raises JetlibError for anything else."""
    if isinstance(value, float | np.number) or (isinstance(value, np.ndarray) and value.dtype.kind in "iufb"):
        return value
    if type(value) is int and abs(value) < 1e300:
        return value
    try:
        return np.asarray(value if isinstance(value, list | tuple) else None, dtype=None).astype(float, casting="safe")
    except (TypeError, ValueError):
        raise JetlibError(f'{cut(value)} is no number; write an SI value, such as si("8 gpm", "flow")') from None


def unit_label(kind, system):
    """The unit that a kind is shown in: "psi", "L/min", "°F"; "" for a bare number."""
    return _shown_in(kind, system)[0]


def text(value, kind, system, figures=None):
    """An SI value as text with its unit, "9.62 gpm", to three significant figures, a force below 100 to two; or to
    `figures`. An array is listed.

    A bore is said as the trade says it, "3/8 in", where it is a whole number of 32nds of an inch; that of a hose where
    it is the mean of a size of the table.
    """
    label = unit_label(kind, system)
    number = _figures_of(_plain(value), kind, system, figures)
    return f"{number}{'' if label in ('', '°') else ' '}{label}"


class Told:
    """SI values as text in one system, a method for each kind.

    >>> Told("US").pressure(2e7)
    '2900 psi'
    """

    def __init__(self, system):
        self.system = system

    def __getattr__(self, kind):
        return partial(text, kind=kind, system=self.system)


def _figures_of(value, kind, system, count=None):
    decimals = _shown_in(kind, system)[3]
    if np.ndim(value):
        values = np.ravel(value)
        if len(values) > 6:
            ends = (_figures_of(end, kind, system, count) for end in (values.min(), values.max()))
            return " to ".join(ends)
        return ", ".join(_figures_of(each, kind, system, count) for each in values)
    if count is None:
        count = _known(kind).figures if abs(from_si(float(value), kind, system)) < 99.5 else 3
    if kind in ("bore", "hose_bore") and system == "US" and count <= 3:
        named = tables.hose_of_bore(value)
        # 12.7 mm of hose is not what "1/2 in" of hose means, so it is said in decimals.
        inches = named.nominal_bore if named else float("nan") if kind == "hose_bore" else float(value)
        said = inch_fraction(from_si(inches, kind, system))
        if said:
            return said
    # What a solver leaves over in the last digits is nothing to read. Kinds without limit keep all.
    least = 1e-10 * _known(kind).usual[1]
    nothing = abs(value) <= least < 1e10
    return figures(0.0 if nothing else from_si(float(value), kind, system), count, decimals)


def example(kind, system):
    """A text of this kind that is always accepted, in the units of a page."""
    known = _known(kind)
    label = unit_label(kind, system)
    if known.plain_text or (system == "US" and known.example.endswith(label)):
        return known.example
    return text(si(known.example, kind), kind, system, 2)


def both(value: Values, kind: str, figures: int | None = None) -> str:
    """An SI value in both systems: "3000 psi (207 bar)"; once where they share a unit.

    >>> both(2e7, "pressure")
    '2900 psi (200 bar)'
    >>> both(0.0097, "hose_bore", 2)
    '3/8 in (9.7 mm)'
    """
    if figures is not None and (type(figures) is not int or not 1 <= figures <= 15):
        raise JetlibError(f"figures is {cut(figures)}; write a whole number 1 to 15")
    us, metric = (text(value, kind, system, figures) for system in SYSTEMS)
    return us if us == metric else f"{us} ({metric})"


def quantity(value: Values, kind: str) -> Quantity:
    """An SI value or array as a pint Quantity, to calculate with and to convert; every part takes it back.

    >>> gauge = quantity(2e7, "pressure")
    >>> round(float(gauge.to("psi").magnitude))
    2901
    >>> both(Unloader(gauge.to("bar")).setting, "pressure")
    '2900 psi (200 bar)'
    """
    import pint

    return pint.get_application_registry().Quantity(_plain(value), _known(kind).unit)
