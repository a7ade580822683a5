"""Where to change from a large hose to a small one, when the last of the line must be small enough for the pipe."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from jetlib import tables
from jetlib.errors import JetlibError
from jetlib.rig.hoses.fit import (
    USUAL_RESERVE,
    FittedLine,
    Question,
    cautions_of,
    hose_fields,
    hose_sizes,
    one_number,
    reasons_against,
)
from jetlib.rig.hoses.weight import PipeRun
from jetlib.rig.parts.machine import Hose, Rig
from jetlib.rig.parts.part import Ranked, whole_number
from jetlib.units import both
from jetlib.units.given import Length, Share

_MOST_CASES = 1_000_000


@dataclass(frozen=True, eq=False)
class StepDown(FittedLine):
    """`large` hose from the pump, `small` hose to the nozzle, changed over where it serves best; SI floats.

    large_length, small_length m; small_length is as asked or more. rig: fitted so. gauge, nozzle_flow, bypass_flow,
    hose_loss (both), nozzle_pressure, jet_power, pull, drag, pull_left, reach: at full throttle, as in HoseChoice.
    mass_empty, mass_full: kg of the whole line. small_lengths, flow_at, pull_left_at: the places tried (m of small
    hose) and what each gives. reasons: why it must not be used.
    """

    large: tables.HoseSize
    small: tables.HoseSize
    large_length: float
    small_length: float
    small_lengths: np.ndarray
    flow_at: np.ndarray
    pull_left_at: np.ndarray

    @property
    def label(self):
        """Such as 200 ft (61.0 m) of -8 EN 853 2SN (2015), then 50.0 ft (15.2 m) of -4 EN 853 2SN (2015)."""
        small = f"{both(self.small_length, 'length')} of {self.small.label}"
        return (
            f"{both(self.large_length, 'length')} of {self.large.label}, then {small}" if self.large_length else small
        )

    @property
    def flow_gained(self):
        """What it delivers more than the small hose all the way, m3/s."""
        return float(self.nozzle_flow - self.flow_at[-1])

    @property
    def sentence(self):
        """What it does, in a sentence."""
        gained = f"; {both(self.flow_gained, 'flow')} more than the small hose all the way" if self.large_length else ""
        return (
            f"{self.label}: {both(self.nozzle_flow, 'flow')} through the nozzle, {both(self.hose_loss, 'pressure')} "
            f"lost in the hose, {both(self.mass_full, 'mass')} full of water, net pull "
            f"{both(self.pull_left, 'force')}, reach {both(self.reach, 'length')}{gained}.{self.verdict}"
        )


@dataclass(frozen=True, eq=False)
class StepDowns(Ranked):
    """Pairs of hoses ranked, best first, those not to be used last; works as a sequence of StepDown.

    left_out: pairs of a HoseSize and why it could not be worked out.
    """

    steps: tuple
    left_out: tuple
    considered: int
    short_of_pressure: int

    @property
    def advice(self):
        """The best in a sentence, or that there is none."""
        if self.steps and self.steps[0].usable:
            return self.steps[0].sentence
        return "No pair of these hoses can be used here: see the reasons of each."

    @property
    def cautions(self):
        """Sentences the reader must see, a tuple."""
        return cautions_of(self.short_of_pressure, self.considered)


def step_downs(
    rig: Rig,
    *,
    total_length: Length,
    small_length: Length,
    large: object = None,
    small: object = None,
    pipe: PipeRun | None = None,
    reserve: Share = USUAL_RESERVE,
    rank_by: str = "pull_left",
    places: int = 21,
    top: int = 10,
    throttle: Share = 1.0,
) -> StepDowns:
    """The StepDowns of the `top` best pairs for a line of total_length with its last small_length small; m or text.

    The whole line is these two hoses; pump, valve, fittings, nozzle and reel stay as they are. large, small: HoseSizes
    to try (all of the table for None); only pairs that do narrow the bore. Only the small hose has to pass the bends of
    `pipe` (a PipeRun). For each pair `places` lengths of small hose from small_length to the whole line are tried, and
    the best by rank_by kept: by flow that is always the shortest, by pull left it need not be, for small hose is light.
    Other arguments as in `hose_choices`. All is worked out as one rig of arrays.
    Raises JetlibError for a small_length beyond total_length, and where no pair is left.

    >>> step_downs(demo_rig("yard_trailer"), total_length="250 ft", small_length="50 ft")[0].small.label
    '-4 SAE 100R8 (2003)'
    """
    total, shortest = (
        one_number(value, "length", name, "step_downs")
        for name, value in (("total_length", total_length), ("small_length", small_length))
    )
    asked = Question.of("step_downs", rig, pipe, reserve, rank_by, throttle)
    if not 0 < shortest <= total:
        raise JetlibError(
            f"small_length is {both(shortest, 'length')} of {both(total, 'length')}; write a length above 0 and no "
            "more than total_length"
        )
    coil, coiled = _reel(rig, total)
    first, left_out = hose_sizes(large, coil)
    second, more = hose_sizes(small, coil)
    pairs = [(one, other) for one in first for other in second if other.bore < one.bore]
    places = whole_number(places, "places", 2, 1001) if shortest < total else 1
    top = whole_number(top, "top", 1, 1000)
    if not pairs or len(pairs) * places > _MOST_CASES:
        raise JetlibError(
            f"{len(pairs):,} pairs of hoses at {places} places; there must be one pair that narrows, and at most "
            f"{_MOST_CASES:,} cases; write large=[jetlib.tables.hose(8)], small=[jetlib.tables.hose(4)]"
        )
    lines = _Lines(asked, pairs, np.linspace(shortest, total, places), total, coil, coiled)
    short = {
        size
        for at, pair in enumerate(pairs)
        for size, needed in zip(pair, lines.needed, strict=True)
        if size.working_pressure < needed[at].min()
    }
    steps = tuple(lines.step(*best) for best in lines.ranked()[:top])
    given = {size for pair in pairs for size in pair}
    return StepDowns(steps, left_out + tuple(each for each in more if each not in left_out), len(given), len(short))


@dataclass(frozen=True, eq=False)
class _Lines:
    """Every pair of hoses at every place: arrays of shape (pairs, places)."""

    asked: Question
    pairs: list
    small_lengths: np.ndarray
    total: float
    coil: float | None
    coiled: float

    @cached_property
    def lengths(self):
        """Length and length on the reel of the large hose and of the small one, at each place."""
        large = self.total - self.small_lengths
        on_reel = np.minimum(self.coiled, large)  # the reel takes the end at the pump
        return (large, on_reel), (self.small_lengths, np.minimum(self.coiled - on_reel, self.small_lengths))

    @cached_property
    def point(self):
        hoses = []
        for sizes, (length, on_reel) in zip(zip(*self.pairs, strict=True), self.lengths, strict=True):
            columns = {name: column[:, None] for name, column in hose_fields(sizes).items()}
            hoses.append(Hose(length=length, coil_diameter=self.coil, coiled_length=on_reel, **columns))
        return self.asked.point(hoses)

    @cached_property
    def needed(self):
        """Pressure needed of the large hose and of the small one, reserve and surge included, Pa."""
        shape = np.shape(self.point.gauge)
        return [np.broadcast_to(each, shape) for each in self.asked.needed(self.point, (0, 1))]

    @cached_property
    def readings(self):
        """What a StepDown tells, by name."""
        outside = np.array([[size.outside_diameter_max for size in pair] for pair in self.pairs])
        return self.asked.readings(self.point, {0: outside[:, :1], 1: outside[:, 1:]})

    @cached_property
    def refused(self):
        """Where pressure, reel or pipe are against it, bool."""
        bad = np.array([[bool(self.asked.pipe.reasons_against(small))] for _, small in self.pairs])
        for hose, needed in zip(self.point.rig.hoses, self.needed, strict=True):
            tight = False if self.coil is None else (hose.coiled_length > 0) & (hose.bend_radius > self.coil / 2.0)
            bad = bad | ((hose.length > 0) & ((hose.working_pressure < needed) | tight))
        return bad

    def ranked(self):
        """The best place of each pair, as (place in pairs, place in small_lengths), best first."""
        value = self.asked.rank_value(self.readings)
        # A place that must not be used is the best one only where no other is left.
        best = np.argmin(np.where(self.refused, np.inf, value), axis=1)
        best = np.where(self.refused.all(axis=1), np.argmin(value, axis=1), best)

        def key(case):
            labels = [size.label for size in self.pairs[case[0]]]
            return bool(self.refused[case]), float(f"{value[case]:.9e}"), self.readings["mass_full"][case], labels

        return sorted(enumerate(best), key=key)

    def step(self, row, place):
        """The StepDown of that pair at that place."""
        (large, small), reasons, hoses = self.pairs[row], [], []
        for size, (length, on_reel), needed in zip(self.pairs[row], self.lengths, self.needed, strict=True):
            length, on_reel = float(length[place]), float(on_reel[place])
            if length > 0:
                reel = {"coil_diameter": self.coil, "coiled_length": on_reel}
                hoses.append(Hose(length=length, **reel, **hose_fields(size)))
                pipe = self.asked.pipe if size is small else None
                against = reasons_against(size, float(needed[row, place]), pipe, self.coil if on_reel > 0 else None)
                reasons += [f"{size.label}: {each}" for each in against]
        small_length = float(self.small_lengths[place])
        return StepDown(
            rig=self.asked.rig.replace(hoses=hoses),
            large=large,
            small=small,
            large_length=self.total - small_length,
            small_length=small_length,
            small_lengths=self.small_lengths,
            flow_at=self.readings["nozzle_flow"][row],
            pull_left_at=self.readings["pull_left"][row],
            reasons=tuple(reasons),
            **{name: float(value[row, place]) for name, value in self.readings.items()},
        )


def _reel(rig, total):
    """Diameter (m, None without a reel) of the rig's reel, and how much of a line of `total` m lies on it, m."""
    on_reel = [hose for hose in rig.hoses if hose.coil_diameter is not None and hose.coiled_length > 0]
    if not on_reel:
        return None, 0.0
    return on_reel[0].coil_diameter, min(sum(hose.coiled_length for hose in on_reel), total)
