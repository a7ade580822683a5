"""Every jet set that the drills in a box can make, sorted so that those of a wanted area are found without a search."""

import operator
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from jetlib import tables
from jetlib.errors import JetlibError
from jetlib.units.refusal import cut

USUAL_DRILLS = range(40, 81)  # number drills
_MOST_HOLES = 24
_MOST_SETS = 4_000_000  # more would take seconds and a few hundred MB


def box_of(drills=None):
    """The drills named, as a tuple of Drill, smallest first, each size once; number drills #80 to #40 for None.

    drills: names such as "#54", "1/16" or "1.4 mm", or Drills. Raises JetlibError for a name that no drill has.
    """
    if drills is None:
        drills = [row for row in tables.drills("number") if int(row.name) in USUAL_DRILLS]
    if isinstance(drills, str | tables.Drill):
        drills = (drills,)
    try:
        found = [each if isinstance(each, tables.Drill) else tables.drill(each) for each in drills]
    except TypeError:
        raise JetlibError(f'drills is {cut(drills)}; write drills=["#60", "1/16", "1.4 mm"]') from None
    if not found:
        raise JetlibError('drills is empty; write the drills in the box, drills=["#60", "1/16", "1.4 mm"]')
    found.sort(key=lambda row: (row.diameter, tables.SERIES.index(row.series), row.name))
    # A fraction and a number drill of one diameter make the same hole.
    return tuple({round(row.diameter * 1e9): row for row in reversed(found)}.values())[::-1]


def balanced(holes, of_one_size):
    """Whether `of_one_size` of `holes` holes, set evenly round a ring, can be placed so that they push evenly.

    Then so do the rest, and the nozzle is not pushed sideways. It can be done just when both numbers are sums of
    prime factors of `holes` (Sivek, On vanishing sums of distinct roots of unity, Integers 10, 2010, 365).
    """
    primes = [p for p in range(2, holes + 1) if holes % p == 0 and all(p % q for q in range(2, p))]

    def is_sum(number):
        return number == 0 or any(number >= p and is_sum(number - p) for p in primes)

    return is_sum(of_one_size) and is_sum(holes - of_one_size)


def hole_counts(counts, name):
    """The hole counts asked for, sorted, each once. Raises JetlibError that names `name`."""
    try:
        listed = [counts] if np.ndim(counts) == 0 else list(counts)
        found = sorted({operator.index(each) for each in listed})
    except (TypeError, ValueError):
        found = []
    if not found or found[0] < 0 or found[-1] > _MOST_HOLES:
        shown = cut(counts)
        raise JetlibError(f"{name} is {shown}; allowed: whole numbers 0 to {_MOST_HOLES}; write {name}=range(3, 9)")
    return found


@dataclass(frozen=True, eq=False)
class DrillBox:
    """All sets of rear holes of one size, or of two in balance, and front holes of one size.

    drills: as from `box_of`. rear_holes, front_holes: counts to try. most_sizes: how many drills a set may use.
    rear_coefficient, front_coefficient: discharge coefficients. Raises JetlibError when there are millions of sets.
    """

    drills: tuple
    rear_holes: list
    front_holes: list
    most_sizes: int
    rear_coefficient: float
    front_coefficient: float

    def __post_init__(self):
        if not self.count:
            raise JetlibError("rear_holes and front_holes leave no hole; write rear_holes=range(3, 9)")
        if self.count > _MOST_SETS:
            raise JetlibError(
                f"that makes {self.count:,} sets; {_MOST_SETS:,} can be tried; write fewer drills, a shorter range of "
                "rear_holes, or most_sizes=2"
            )

    @cached_property
    def bores(self):
        """Diameters of the drills, m."""
        return np.array([row.diameter for row in self.drills])

    @property
    def count(self):
        """How many sets the box makes."""
        sizes, pairs = len(self.drills), len(self.drills) * (len(self.drills) - 1) // 2
        bare, drilled = self.front_holes.count(0), sum(n > 0 for n in self.front_holes)
        single = sizes * sum(n > 0 for n in self.rear_holes)
        mixed = pairs * sum(len(splits(n)) for n in self.rear_holes) if self.most_sizes > 1 else 0
        fitting_fronts = {1: 1, 2: sizes}.get(self.most_sizes, sizes)  # beside one rear size
        beside_two = {1: 0, 2: 2}.get(self.most_sizes, sizes)
        no_rear = self.rear_holes.count(0) * drilled * sizes
        return no_rear + single * (bare + drilled * fitting_fronts) + mixed * (bare + drilled * beside_two)

    @cached_property
    def _rear(self):
        """Rows of (holes, holes of the second size, size, second size), and their effective areas, smallest first."""
        sizes, rows = np.arange(len(self.drills)), []
        small, large = np.triu_indices(len(self.drills), 1)
        for holes in self.rear_holes:
            alike = sizes if holes else sizes[:1]
            rows.append(_columns(holes, 0, alike, alike))
            if self.most_sizes > 1:
                rows += [_columns(holes - second, second, small, large) for second in splits(holes)]
        rows = np.hstack(rows)
        areas = rows[0] * self._hole(rows[2]) + rows[1] * self._hole(rows[3])
        order = np.argsort(areas, kind="stable")
        return rows[:, order], self.rear_coefficient * areas[order]

    @cached_property
    def _front(self):
        """Rows of (holes, size) and their effective areas."""
        sizes = np.arange(len(self.drills))
        rows = np.hstack([_columns(holes, sizes if holes else sizes[:1]) for holes in self.front_holes])
        return rows, self.front_coefficient * rows[0] * self._hole(rows[1])

    def _hole(self, size):
        return np.pi / 4.0 * np.square(self.bores[size])

    @property
    def areas(self):
        """The least and the most effective area (m2) that any set of the box has."""
        rear, front = self._rear[1], self._front[1]
        some = rear[:, None] + front[[np.argmin(front), np.argmax(front)]]
        return float(some[some > 0].min()) if (some > 0).any() else 0.0, float(some.max())

    def between(self, low, high):
        """The sets whose effective area is `low` (m2) or more and less than `high`, an array of shape (2, 3, sets).

        First how many holes of rear, rear of the second size, and front, then the place of each drill in the box (that
        of another group where there is no hole).
        """
        (rear, areas), (front, front_areas) = self._rear, self._front
        first = np.searchsorted(areas, low - front_areas)
        many = np.searchsorted(areas, high - front_areas) - first
        at_front = np.repeat(np.arange(len(front_areas)), many)
        start = np.repeat(first - (np.cumsum(many) - many), many)
        at_rear = start + np.arange(len(start))
        rear, front = rear[:, at_rear], front[:, at_front]
        counts = np.stack([rear[0], rear[1], front[0]])
        sizes = np.stack([rear[2], rear[3], np.where(front[0] > 0, front[1], rear[2])])
        sizes[:2] = np.where(rear[0] > 0, sizes[:2], sizes[2])
        return np.stack([counts, sizes])[..., (number_of_sizes(sizes) <= self.most_sizes) & (counts.sum(axis=0) > 0)]


def splits(holes):
    """How many of `holes` may be of a second size, so that a ring of both stays in balance."""
    return [second for second in range(1, holes) if balanced(holes, second)]


def number_of_sizes(sizes):
    """How many drills each set uses, of the places (3, sets) of its drills."""
    first, second, front = sizes
    return 1 + (second != first) + ((front != first) & (front != second))


def _columns(*values):
    return np.stack(np.broadcast_arrays(*values))
