"""What all the parts of a rig have in common: units at the door, comparison by value, changed copies."""

import operator
from dataclasses import MISSING, field, fields, replace
from functools import cache
from typing import Self

import numpy as np

from jetlib.errors import JetlibError
from jetlib.units import both, si
from jetlib.units.kinds import KINDS
from jetlib.units.refusal import cut


def quantity(kind, default=MISSING, *, optional=False):
    """A dataclass field that holds a physical quantity of `kind`, as `units.si` knows it."""
    return field(default=default, metadata={"kind": kind, "optional": optional})


@cache
def _quantities(part):
    """(name, kind, whether it may be None) of each field of a class of parts that holds a quantity."""
    held = ((item.name, item.metadata) for item in fields(part))
    return tuple((name, metadata["kind"], metadata["optional"]) for name, metadata in held if "kind" in metadata)


class Part:
    """A frozen dataclass whose fields made by `quantity` hold SI floats or arrays."""

    def __post_init__(self):
        shapes = set()
        for field_name, kind, optional in _quantities(type(self)):
            value = getattr(self, field_name)
            if value is None and optional:
                continue
            value = si(value, kind, field=field_name, owner=type(self).__name__)
            object.__setattr__(self, field_name, value)
            if isinstance(value, np.ndarray):
                shapes.add(value.shape)
        if len(shapes) > 1:
            _broadcast(shapes, type(self).__name__)
        name = getattr(self, "name", "")
        if not isinstance(name, str) or len(name) > 200 or not name.isprintable():
            raise JetlibError(f"name is {cut(name)}; write up to 200 characters of text, on one line")
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

    def _require(self, name, ok, allowed, fix):
        if not np.all(ok):
            kinds = {item.name: item.metadata.get("kind") for item in fields(self)}
            was = _brief(getattr(self, name), kinds[name])
            raise JetlibError(f"{name} is {was}; allowed: {allowed}; write {type(self).__name__}({name}={fix}, …)")

    def _settle(self, name):
        """Make a list of a plain field an array, and an array of no axes the one value it holds."""
        array = np.asarray(getattr(self, name))
        object.__setattr__(self, name, array if array.ndim else array.item())

    def _check_count(self):
        self._require("count", _is_count(self.count), "a whole number from 0 to 1000", "4")
        self._settle("count")

    def _check_flag(self, name, fix):
        if not _is_flag(getattr(self, name)):
            raise JetlibError(f"{name} is {_brief(getattr(self, name))}; allowed: true or false; write {fix}")
        self._settle(name)


def tuple_of(value, kind, name, fix):
    """`value`, one `kind` or a list of them, as a tuple; JetlibError that says what to write for anything else."""
    items = (value,) if isinstance(value, kind) else value
    if not isinstance(items, list | tuple) or not all(isinstance(item, kind) for item in items):
        raise JetlibError(f"{name} is {cut(value)}; write {fix}")
    return tuple(items)


def require_choice(value, allowed, name, fix):
    """Raises JetlibError that names it unless `value` is one of the texts `allowed`."""
    if not isinstance(value, str) or value not in allowed:
        raise JetlibError(f"{name} is {cut(value)}; allowed: {', '.join(allowed)}; write {fix}")


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


def _is_count(value):
    array = _array(value)
    if array.dtype.kind not in "iuf" or not array.size:
        return False
    return (array >= 0) & (array <= 1000) & (array == np.floor(array))


def _is_flag(value):
    array = _array(value)
    return array.dtype == bool and array.size > 0


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


class Same:
    """Something to remember a result by, such as a rig: the same while it is the same object."""

    def __init__(self, held):
        self.held = held

    def __eq__(self, other):
        return self.held is other.held

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
