"""The door: text, Quantities and numbers in, SI floats or arrays out; and back to either unit system.

The only importer of pint, and not before a text or a Quantity comes in or a value goes out in other units.
Every conversion factor is pint's.
"""

import html
from dataclasses import dataclass
from decimal import Decimal
from functools import cache, lru_cache
from math import isfinite
from numbers import Real

import numpy as np

from jetlib.errors import JetlibError, MissingUnit, WrongKind
from jetlib.kinds import ANGLES, KINDS, ROTATION
from jetlib.number_text import Unreadable, figures, parse, unit_terms
from jetlib.refusal import Asked, allowed, cut, example, guesses, quoted, short

SYSTEMS = ("US", "metric")

# --- the registry -----------------------------------------------------------------------------------


@cache
def _registry():
    import pint  # here, so that SI numbers never wait for it

    # In decimal arithmetic the exact definitions stay exact: a foot is 0.3048 m to the last digit.
    return pint.UnitRegistry(non_int_type=Decimal, cache_folder=None)


@lru_cache(1024)
def _unit(terms):
    """The registry's unit of a tuple of (name, power); Unreadable if it has none."""
    registry = _registry()
    unit = registry.Unit("")
    for name, power in terms:
        try:
            if not name.replace("μ", "u").isidentifier() or not name.isprintable():
                raise ValueError
            unit *= registry.parse_units(name) ** power
        except Exception:  # whatever the registry thinks of a strange name, it is not a unit
            raise Unreadable(f"{name} is not a unit known here") from None
    return unit


@lru_cache(1024)
def _linear(terms, si_unit):
    """(factor, offset) to SI of a unit given by its terms; None if it is of another dimension."""
    unit, target = _unit(terms), _si_unit(si_unit)
    if unit.dimensionality != target.dimensionality:
        return None
    try:
        zero, one, two = (_registry().Quantity(Decimal(n), unit).to(target).magnitude for n in (0, 1, 2))
    except Exception:  # an offset or logarithmic unit inside a product
        raise Unreadable("its unit has no plain factor") from None
    factor = one - zero
    if abs(two - one - factor) > abs(factor) * Decimal("1e-20") or not factor:
        raise Unreadable("its unit has no plain factor")
    return float(factor), float(zero)


@cache
def _si_unit(unit):
    return _registry().parse_units(unit)


@lru_cache(256)
def _shown_in(kind, system):
    """(label, factor, offset, fixed decimals) of a kind in a system."""
    known = _known(kind)
    if system not in SYSTEMS:
        raise JetlibError(f'system is {cut(system)}; write "US" or "metric"')
    label, unit = known.us if system == "US" else known.metric
    shown, target = _si_unit(unit), _si_unit(known.unit)
    zero, one = (_registry().Quantity(Decimal(n), shown).to(target).magnitude for n in (0, 1))
    return label, float(one - zero), float(zero), known.decimals[SYSTEMS.index(system)]


def _known(kind):
    try:
        return KINDS[kind]
    except (KeyError, TypeError):
        raise JetlibError(f"kind is {cut(kind)}; write one of: {', '.join(KINDS)}") from None


# --- in ---------------------------------------------------------------------------------------------


def si(value, kind, *, field="", owner="", name=None):
    """The value in SI: a float, or a float64 array for arrays and lists (not a copy if it already is one).

    value: a number or array (taken as SI), a pint Quantity, a text such as "3/8 in", or a list of these.
    kind: a key of `KINDS`. field, owner and name only word the error: `Hose(bore=…)`.
    Raises JetlibError if the value cannot be read, is not finite, or is plausible only in another unit;
    MissingUnit for a text without unit, WrongKind for a unit of another kind.
    """
    known = KINDS[kind] if kind in KINDS else _known(kind)
    if type(value) is float and known.low <= value <= known.high:
        return value + 0.0  # -0.0 becomes 0.0
    asked = Asked(kind, field, owner, name or "")
    if isinstance(value, np.ndarray) and value.dtype.kind in "UT":
        value = value.tolist()
    if isinstance(value, str):
        return _from_text(value, known, asked)
    if hasattr(value, "magnitude") and hasattr(value, "to"):
        return _from_quantity(value, known, asked)
    if isinstance(value, list | tuple) and _holds_text(value):
        found = [
            si(each, kind, field=field, owner=owner, name=f"{asked.subject}[{at}]") for at, each in enumerate(value)
        ]
        try:
            return np.array(found, dtype=float)
        except ValueError:
            raise JetlibError(f"{asked.subject} has rows of unlike length; write them of one length") from None
    return _from_number(value, known, asked)


def _holds_text(values, depth=4):
    return depth > 0 and any(
        isinstance(each, str)
        or hasattr(each, "magnitude")
        or (isinstance(each, list | tuple) and _holds_text(each, depth - 1))
        for each in values
    )


def _from_number(value, known, asked, given=None):
    """A number or array of numbers in SI, checked; `given` is how it was given, where that was not a number."""
    if isinstance(value, Real) and not isinstance(value, bool | np.bool_):
        try:
            number = float(value)
        except (OverflowError, ValueError):
            raise JetlibError(f"{asked.subject} is {cut(value)}; {_such_as(known, asked)}") from None
        if known.low <= number <= known.high or (known.zero and number == 0):
            return number + 0.0
        raise _implausible(number, known, asked, given)
    listed = isinstance(value, list | tuple | np.ndarray) or hasattr(value, "__array__")
    if not listed or isinstance(value, bool | np.bool_) or np.ma.isMaskedArray(value):
        raise JetlibError(f"{asked.subject} is {cut(value)}, not a number; {_such_as(known, asked)}")
    try:
        array = np.asarray(value)
    except (ValueError, TypeError, OverflowError, RecursionError):
        array = np.empty(0, dtype=object)
    if array.dtype.kind not in "fiu":
        raise JetlibError(f"{asked.subject} holds things that are not numbers; {_such_as(known, asked)}")
    if not array.size:
        raise JetlibError(f"{asked.subject} is an empty list; {_such_as(known, asked)}")
    array = array.astype(float, copy=False)
    if not (known.low <= array.min() and array.max() <= known.high):  # so for nan too
        bad = ~((array >= known.low) & (array <= known.high))
        bad &= (array != 0) | (not known.zero)
        if bad.any():
            at = tuple(int(place) for place in np.argwhere(bad)[0])
            place = f"[{', '.join(map(str, at))}]" if at else ""
            raise _implausible(float(array[at]), known, asked._replace(name=asked.subject + place), given)
    return array if array.ndim else float(array) + 0.0


def _from_quantity(value, known, asked):
    given = cut(value)
    if isinstance(value.magnitude, bool | np.bool_):
        raise JetlibError(f"{asked.subject} is {given}, not a number; {_such_as(known, asked)}")
    try:
        names = set(value.units._units)
        same = value.is_compatible_with(known.unit)
        # Its own registry converts: it may know units that ours does not.
        magnitude = value.to(known.unit).magnitude if same and _suits(names, known) else None
    except Exception as problem:  # a reader's registry may raise anything
        raise JetlibError(f"{asked.subject} is {given}: {cut(problem)}; {_such_as(known, asked)}") from None
    if magnitude is None:
        number = value.magnitude if isinstance(value.magnitude, Real) else None
        raise _wrong_kind(number, str(value.units), _noun(value.dimensionality, names), given, known, asked)
    return _from_number(magnitude, known, asked, given)


def _from_text(value, known, asked):
    given = quoted(value)
    try:
        typed = parse(value, dash="-" in known.hints, slope="1:" in known.hints)
        number = _typed_in_si(typed, known, asked, given)
    except Unreadable as problem:
        instead = [quoted(each) for each in problem.instead] or [example(known)]
        raise JetlibError(f"{asked.subject} is {given}: {problem.reason}; write {asked.write(instead)}") from None
    if known.low <= number <= known.high or (known.zero and number == 0):
        return number + 0.0
    raise _implausible(number, known, asked, given, typed.number)


def _typed_in_si(typed, known, asked, given):
    if typed.form == "dash":  # a dash size counts sixteenths of an inch (SAE J517)
        return typed.number / 16 * _linear((("inch", 1),), known.unit)[0]
    if typed.form == "slope" or (not typed.unit and typed.form == "number" and known.plain_text):
        return typed.number
    if typed.form == "drill":
        if not known.drills:
            raise _wrong_kind(None, given, "drill size", given, known, asked)
        from jetlib.tables import drill  # read only when a drill is named

        return drill(typed.drill).diameter
    if not typed.unit:
        raise MissingUnit(
            f"{asked.subject} is {given}, which has no unit; write {asked.write(_meant(typed.number, known))}"
        )
    terms = unit_terms(typed.unit, meaning=known.meaning)
    names = set(_unit(terms)._units)
    linear = _linear(terms, known.unit)
    if linear is None or not _suits(names, known):
        noun = _noun(_unit(terms).dimensionality, names)
        raise _wrong_kind(typed.number, typed.unit, noun, given, known, asked)
    number = typed.number * linear[0] + linear[1]
    if not isfinite(number):
        raise Unreadable("its number is not finite")
    return number


def _suits(names, known):
    """Whether units of the right dimension are also of the right sense: no Hz for rpm, no degrees for a share."""
    if known.only and not names <= known.only:
        return False
    if known.some:
        return not names.isdisjoint(known.some)
    return known.unit != "dimensionless" or names.isdisjoint(ANGLES)


# --- refusals ---------------------------------------------------------------------------------------


def _hint_in_si(number, unit, known):
    try:
        if unit == "#":
            from jetlib.tables import drill

            return drill(f"#{number:g}").diameter
        factor, offset = _linear(unit_terms(unit, meaning=known.meaning), known.unit)
    except (Unreadable, JetlibError):
        return None
    return number * factor + offset


def _meant(number, known):
    found = []
    if number is not None and isfinite(number) and number:
        found = guesses(number, known, lambda n, unit: _hint_in_si(n, unit, known))
    return found or [example(known)]


def _such_as(known, asked):
    return f"write, for example, {asked.write([example(known)])}"


def _implausible(number, known, asked, given=None, typed=None):
    """The error for a number (SI) out of range; `typed` is the number as it was typed, if it was."""
    was = f"{asked.subject} is {given or f'{short(number)} ({known.si_label})'}"
    if not isfinite(number):
        return JetlibError(f"{was}, which is not a finite number; {_such_as(known, asked)}")
    meant = _meant(number if typed is None else typed, known)
    line = asked.write(meant)
    if number == 0:
        return JetlibError(f"{was}; it must be more than 0; write {line}")
    if number < 0 <= known.low and known.unit != "kelvin":
        return JetlibError(f"{was}; it cannot be negative; write {line}")
    if given is None and meant != [example(known)]:
        return JetlibError(f"{was}; write {line}")
    words = allowed(known, lambda end, system: from_si(end, asked.kind, system))
    return JetlibError(f"{was}; allowed is {words}; write {line}")


def _wrong_kind(number, unit, noun, given, known, asked):
    article = "an" if noun[0] in "aeiou" else "a"
    wants = f"{asked.subject} wants {known.wants}"
    line = asked.write(_meant(number, known))
    return WrongKind(f"{asked.subject} is {given}: {unit} is {article} {noun}; {wants}; write {line}")


@cache
def _nouns():
    nouns = {}
    for known in KINDS.values():
        nouns.setdefault(_si_unit(known.unit).dimensionality, known.noun)
    return nouns


def _noun(dimensionality, names):
    """What kind of quantity a unit measures, in a word or two."""
    if not dimensionality:
        return "angle" if names and names <= ANGLES else "ratio"
    if str(dimensionality) == "1 / [time]":
        return "frequency" if names.isdisjoint(ROTATION) else "speed of rotation"
    return _nouns().get(dimensionality, f"quantity of dimension {dimensionality}")


# --- out --------------------------------------------------------------------------------------------


def from_si(value, kind, system):
    """The number (or array) that shows an SI value in the unit of `unit_label`; not checked for range."""
    _, factor, offset, _ = _shown_in(kind, system)
    return (_plain(value) - offset) / factor


def to_si(number, kind, system):
    """The SI value of a number (or array) in the unit of `unit_label`; the inverse of from_si, not checked."""
    _, factor, offset, _ = _shown_in(kind, system)
    return _plain(number) * factor + offset


def _plain(value):
    return np.asarray(value, dtype=float) if isinstance(value, list | tuple) else value


def unit_label(kind, system):
    """The unit that a kind is shown in: "psi", "L/min", "°F"; "" for a bare number."""
    return _shown_in(kind, system)[0]


def text(value, kind, system, figures=3):
    """An SI value as text with its unit, to three significant figures: "9.62 gpm". An array is listed."""
    label = unit_label(kind, system)
    number = _figures_of(value, kind, system, figures)
    return f"{number}{'' if label in ('', '°') else ' '}{label}"


def _figures_of(value, kind, system, count=3):
    decimals = _shown_in(kind, system)[3]
    if np.ndim(value):
        values = np.ravel(value)
        if len(values) > 6:
            ends = (_figures_of(end, kind, system, count) for end in (values.min(), values.max()))
            return " to ".join(ends)
        return ", ".join(_figures_of(each, kind, system, count) for each in values)
    # What a solver leaves over in the last digits is nothing to read.
    nothing = abs(value) <= 1e-10 * _known(kind).usual[1] < 1e10
    return figures(0.0 if nothing else from_si(float(value), kind, system), count, decimals)


def both(value, kind, figures=3):
    """An SI value in both systems: "3000 psi (207 bar)"; once where they share a unit."""
    us, metric = (text(value, kind, system, figures) for system in SYSTEMS)
    return us if us == metric else f"{us} ({metric})"


@dataclass(frozen=True, repr=False)
class Readings:
    """A table of readings, from rows of (label, SI value, kind); shows itself in a notebook.

    system: "US", "metric" or "both". A row whose kind is None shows its value as it is; a value of None is "—".
    """

    rows: tuple
    system: str = "US"

    def __post_init__(self):
        object.__setattr__(self, "rows", tuple(tuple(row) for row in self.rows))
        if self.system != "both":
            unit_label("flow", self.system)

    def cells(self):
        """The table as rows of texts: label, then one text for each system."""
        systems = SYSTEMS if self.system == "both" else (self.system,)
        return [(str(label), *(_cell(value, kind, each) for each in systems)) for label, value, kind in self.rows]

    def __repr__(self):
        cells = self.cells()
        if not cells:
            return "no readings"
        widths = [max(map(len, column)) for column in zip(*cells, strict=True)]
        return "\n".join(
            "  ".join([row[0].ljust(widths[0]), *(c.rjust(w) for c, w in zip(row[1:], widths[1:], strict=True))])
            for row in cells
        )

    def _repr_markdown_(self):
        heads = list(SYSTEMS) if self.system == "both" else ["reading"]
        lines = ["| | " + " | ".join(heads) + " |", "|---|" + "---:|" * len(heads)]
        lines += ["| " + " | ".join(cell.replace("|", "\\|") for cell in row) + " |" for row in self.cells()]
        return "\n".join(lines)

    def _repr_html_(self):
        lines = []
        for label, *cells in self.cells():
            data = "".join(f'<td style="text-align:right">{html.escape(cell)}</td>' for cell in cells)
            lines.append(f'<tr><th scope="row" style="text-align:left">{html.escape(label)}</th>{data}</tr>')
        return f"<table>{''.join(lines)}</table>"


def _cell(value, kind, system):
    if value is None:
        return "—"
    return str(value) if kind is None else text(value, kind, system)


def readings_table(rows, system):
    """The readings as a plain aligned text, from rows of (label, SI value, kind)."""
    return repr(Readings(tuple(rows), system))
