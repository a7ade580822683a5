"""What all the parts of a rig have in common: units at the door, comparison by value, changed copies."""

import operator
from dataclasses import MISSING, field, fields, replace
from functools import cache, lru_cache, wraps
from typing import Self

import numpy as np

from jetlib.errors import JetlibError
from jetlib.units import both, si
from jetlib.units.kinds import KINDS
from jetlib.units.refusal import cut

ABOVE_ZERO, EFFICIENCY = (0.0, np.inf), (0.2, 1.0)  # spans; no machine and no hole falls below a fifth


def quantity(kind, default=MISSING, *, optional=False, span=None, fix=""):
    """A dataclass field that holds a physical quantity of `kind`, as `units.si` knows it.

    span: what it must lie between besides, its ends included but for a 0; fix: what to write where it does not.
    """
    return field(default=default, metadata={"kind": kind, "optional": optional, "span": span, "fix": fix})


def choice(allowed, write):
    """A field that holds one of the texts `allowed`, the first unless given; `write` is the one that errors name."""

    def check(part, name):
        require_choice(getattr(part, name), allowed, name, _call(part, name, f'"{write}"'))

    return field(default=allowed[0], metadata={"check": check})


def several(kind, fix):
    """A field that holds a tuple of `kind` (a class), given one or a list of them; fix: the line that errors name."""

    def check(part, name):
        value = getattr(part, name)
        items = (value,) if isinstance(value, kind) else value
        if not isinstance(items, list | tuple) or not all(isinstance(item, kind) for item in items):
            raise JetlibError(f"{name} is {cut(value)}; write {fix}")
        object.__setattr__(part, name, tuple(items))

    return field(default=(), metadata={"check": check})


def count():
    """A field that holds a whole number of things, or an array of them; one unless given."""
    return field(default=1, metadata={"check": _count})


def _count(part, name):
    given = _array(getattr(part, name))
    good = given.dtype.kind in "iuf" and given.size and (given >= 0) & (given <= 1000) & (given == np.floor(given))
    part._settle(name, given, good, "a whole number from 0 to 1000", "4")


def _flag(part, name):
    if type(getattr(part, name)) is bool:
        return
    given = _array(getattr(part, name))
    write = type(part).__dataclass_fields__[name].metadata.get("write", True)
    part._settle(name, given, given.dtype == bool and given.size, "true or false", write)


@cache
def _held(part):
    """Of a class of parts: (name, what `quantity` was told) of each quantity, (name, check) of each other field."""
    told = [(item.name, item.metadata) for item in fields(part)]
    checks = [(item.name, _flag if item.type is bool else item.metadata.get("check")) for item in fields(part)]
    return [each for each in told if "kind" in each[1]], [each for each in checks if each[1]]


class Part:
    """A frozen dataclass whose fields, made by the functions above, hold SI floats or arrays, and what they allow."""

    def __post_init__(self):
        shapes, (quantities, checks) = set(), _held(type(self))
        for field_name, told in quantities:
            value = getattr(self, field_name)
            if value is None and told["optional"]:
                continue
            value = si(value, told["kind"], field=field_name, owner=type(self).__name__)
            object.__setattr__(self, field_name, value)
            if isinstance(value, np.ndarray):
                shapes.add(value.shape)
            if told["span"] is not None:
                low, high = told["span"]
                ok = (value >= low) & (value <= high) & (value > 0)
                if ok is not True:
                    allowed = f"above {low:g}" if high == np.inf else f"{low:g} to {high:g}"
                    self._require(field_name, ok, allowed, told["fix"])
        if len(shapes) > 1:
            _broadcast(shapes, type(self).__name__)
        name = getattr(self, "name", "")
        if not isinstance(name, str) or len(name) > 200 or not name.isprintable():
            raise JetlibError(f"name is {cut(name)}; write up to 200 characters of text, on one line")
        for field_name, check in checks:
            check(self, field_name)
        self._check()

    def _check(self):
        """What a single field cannot tell; raises JetlibError."""

    def replace(self, **changes: object) -> Self:
        """A copy with some fields changed."""
        return replace(self, **changes)

    def __eq__(self, other):
        if type(self) is not type(other):
            return NotImplemented
        return all(_same(getattr(self, item.name), getattr(other, item.name)) for item in fields(self))

    __hash__ = None

    def _settle(self, name, given, ok, allowed, fix):
        """Keep what was given as an array, or, of no axes, as the one value it holds; or raise as `_require` does."""
        self._require(name, ok, allowed, fix)
        object.__setattr__(self, name, given if given.ndim else given.item())

    def _require(self, name, ok, allowed, fix):
        if not np.all(ok):
            kinds = {item.name: item.metadata.get("kind") for item in fields(self)}
            was = _brief(getattr(self, name), kinds[name])
            raise JetlibError(f"{name} is {was}; allowed: {allowed}; write {_call(self, name, fix)}")


def _call(part, name, value):
    """The line that makes such a part with that field."""
    return f"{type(part).__name__}({name}={value}, …)"


def require_choice(value, allowed, name, fix):
    """Raises JetlibError that names it unless `value` is one of the texts `allowed`."""
    if not isinstance(value, str) or value not in allowed:
        raise JetlibError(f"{name} is {cut(value)}; allowed: {', '.join(allowed)}; write {fix}")


def require_kind(value, kind, name, write):
    """`value`; JetlibError that names it unless it is of that class. write: the line to write instead."""
    if not isinstance(value, kind):
        raise JetlibError(f"{name} is {cut(value)}; write {write}")
    return value


def require_one(value, name):
    """`value`, one number in SI; JetlibError that names it for a list."""
    if np.ndim(value):
        raise JetlibError(f"{name} is a list of {np.size(value)}; write one number")
    return value


def within(value, kind):
    """`value` (SI) held within what a part takes of that kind; broadcasts.

    A rig drawn far from any that exists must not stop the reckoning.
    """
    return np.clip(value, KINDS[kind].low, KINDS[kind].high)


def whole_number(value, name, low, high):
    """`value` as an int from `low` to `high`. Raises JetlibError that names it."""
    try:
        number = operator.index(value)
    except TypeError:
        number = low - 1
    if not low <= number <= high:
        raise JetlibError(f"{name} is {cut(value)}; allowed: a whole number {low} to {high}; write {name}={low}")
    return number


def _array(value):
    try:
        return np.asarray(value)
    except (ValueError, OverflowError):  # rows of unlike length, numbers beyond any machine
        return np.asarray(None)


def _broadcast(shapes, owner):
    try:
        return np.broadcast_shapes(*shapes)
    except ValueError:
        listed = ", ".join(str(shape) for shape in sorted(shapes) if shape)
        raise JetlibError(
            f"the arrays in {owner} have shapes {listed}, which do not go together; give them one shape"
        ) from None


def _same(one, other):
    if isinstance(one, np.ndarray) or isinstance(other, np.ndarray):
        return np.array_equal(one, other)
    return one == other


def _brief(value, kind=None):
    if kind and np.ndim(value) == 0:
        return both(value, kind)
    if isinstance(value, np.ndarray) and value.ndim:
        if value.dtype.kind not in "iuf":
            return f"an array of {value.dtype}"
        return f"an array from {value.min():.6g} to {value.max():.6g}" if value.size else "an empty array"
    return f"{value:.6g}" if isinstance(value, float) else cut(value)


def remembered(most):
    """A decorator: the function's last `most` results are kept, as by `lru_cache`.

    An argument that has no hash, such as a rig, is the same while it is the same object.
    """

    def decorated(work):
        @lru_cache(maxsize=most)
        def kept(*keys):
            return work(*(key.held if isinstance(key, _SameObject) else key for key in keys))

        @wraps(work)
        def asked(*given):
            return kept(*(_SameObject(each) if type(each).__hash__ is None else each for each in given))

        return asked

    return decorated


class _SameObject:
    def __init__(self, held):
        self.held = held

    def __eq__(self, other):
        return isinstance(other, _SameObject) and self.held is other.held

    def __hash__(self):
        return id(self.held)


class Ranked:
    """What is ranked, best first: the dataclass made of it is a sequence of what its first field holds."""

    @property
    def _held(self):
        return getattr(self, fields(self)[0].name)

    def __len__(self):
        return len(self._held)

    def __getitem__(self, place):
        return self._held[place]
