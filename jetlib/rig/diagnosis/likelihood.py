"""What each fault of a rig would make every reading, and what the readings taken make of each fault.

Each fault is tried over its whole range of severities. What is not known about the rig, and the gauge's own error, are
a handful of small numbers with a normal spread each; near every severity the readings are nearly straight lines in
them, so they are summed out in closed form (a linear model with normal errors: Bishop, *Pattern Recognition and
Machine Learning*, 2006, 2.3.3). Where a valve opens or an engine bogs the lines have a kink, so a few rigs are then
drawn where the linear model puts them, and put the weights right (importance sampling, the same book, 11.1.4).
"""

from functools import lru_cache

import numpy as np

from jetlib.rig.change.factors import CALIBRATED, UNTOUCHED, RigFactors
from jetlib.rig.diagnosis.readings import MISTAKE, predictions
from jetlib.rig.uncertainty.band import usual_full_scale

#: Least chance of something that is on no list of causes. *Common practice, no source.*
UNLISTED = 0.03
_COARSE, _BETWEEN = 7, 6  # severities at which the spreads are worked out, and steps of the mean between them
_WIDER = 1.2  # how much wider than the linear model would have them rigs are drawn
_QUARTERS = (-1.150, -0.319, 0.319, 1.150)  # of a normal curve: the middle of each, in standard deviations
_STEP = 0.25  # standard deviations over which a slope is taken when lines are laid anew
_FARTHEST = 6.0  # standard deviations from the rig as written down at which rigs are still drawn
_POINTS = 10  # severities of a fault at which rigs are drawn
_HOPELESS, _FAR = 30.0, 12.0  # natural logarithms of odds: a fault too unlikely to draw, a severity of it
_MOVABLE = (*CALIBRATED, "engine_power")

#: How far a real fault may be from the shapes tried here, as a share of what it makes a reading: an error of its own.
#: *Common practice, no source.*
_SHAPELESS = 0.015
#: What readings may be when nothing on the list made them: anything from nothing to so much of the usual scale.
_ANYTHING = 1.3

_recent = []  # models, last used first: typing in another reading need not solve all the rigs again
_KEPT = 6


def model_for(rig, faults, spread, readings):
    """The FaultModel with all those of `readings` that can be computed; one made before if it will do."""
    for model in _recent:
        if model.spread == spread and model.faults == faults and model.rig == rig:
            break
    else:
        model = FaultModel(rig, faults, spread)
    model.work_out(readings)
    _recent[:] = [model, *(each for each in _recent if each is not model)][:_KEPT]
    return model


class FaultModel:
    """mean (faults, severities) and slopes (moves, faults, severities) of computed readings, by their checks.

    fine, coarse: which of the rigs worked out it is for each fault and severity, at all severities and at a few.
    """

    def __init__(self, rig, faults, spread):
        self.rig, self.faults, self.spread, self.mean, self.slopes = rig, faults, spread, {}, {}
        count = _BETWEEN * (_COARSE - 1) + 1
        self.shares = np.linspace(0.0, 1.0, count)
        self.severities = np.stack([np.broadcast_to(fault.severities(self.shares), (count,)) for fault in faults])
        moves = spread.moves()
        if rig.engine is None:
            moves = [move for move in moves if "engine_power" not in move]
        nominal = _changes(faults, self.severities)
        self.shown = nominal.pop("needle", np.ones(self.severities.shape))  # over what is there; the rig is the same
        self.added = nominal.pop("needle_off", np.zeros(self.severities.shape)) * usual_full_scale(rig)
        fine, self.fine = _distinct(nominal)
        coarse, self.coarse = _distinct({name: value[:, ::_BETWEEN] for name, value in nominal.items()})
        ways = [{name: way * step for name, step in move.items()} for move in moves for way in (1.0, -1.0)]
        around = {name: np.tile(value, len(ways)) for name, value in coarse.items()}
        for name in {name for way in ways for name in way}:
            factor = np.exp([way.get(name, 0.0) for way in ways])
            around[name] *= np.repeat(factor, self.coarse.max() + 1)
        self.changes = RigFactors(**{name: np.concatenate([value, around[name]]) for name, value in fine.items()})
        self.needle, self.moves, self.named_moves = spread.gauge * usual_full_scale(rig), len(moves) + 1, moves
        self.nominal = {**nominal, "needle": self.shown, "needle_off": self.added / usual_full_scale(rig)}

    def work_out(self, readings):
        """Work out those of `readings` that can be computed and have not been: each rig costs, and few are asked for
        at first."""
        new = {each.check: each for each in readings if each.throttle is not None and each.check not in self.mean}
        if not new:
            return
        for (check, reading), values in zip(
            new.items(), predictions(list(new.values()), self.rig, self.changes), strict=True
        ):
            mean, around = values[self.fine], values[self.fine.max() + 1 :]
            up_down = around.reshape(len(self.named_moves), 2, -1)[..., self.coarse]
            if reading.needle:
                mean = np.maximum(self.shown * mean + self.added, 0.0)
                up_down = np.maximum(self.shown[:, ::_BETWEEN] * up_down + self.added[:, ::_BETWEEN], 0.0)
            slopes = self._spread_out(0.5 * (up_down[:, 0] - up_down[:, 1]))
            bend = 0.5 * (up_down[:, 0] + up_down[:, 1]) - mean[:, ::_BETWEEN]
            own = np.full((1, *mean.shape), self.needle if reading.needle else 0.0)
            self.slopes[check] = np.concatenate([slopes, own])
            self.mean[check] = mean + self._spread_out(bend.sum(axis=0))

    def drawn(self, readings, at, moved):
        """Predictions (list of arrays like `moved` without its last axis) of rigs `moved` (points, draws, moves) away
        from the nominal one, at the points `at`, a pair of index arrays for fault and severity."""
        shape = moved.shape[:-1]
        values = {name: np.broadcast_to(value[at][:, np.newaxis], shape) for name, value in self.nominal.items()}
        for place, move in enumerate(self.named_moves):
            for name, step in move.items():
                values[name] = values[name] * np.exp(step * moved[..., place])
        found = predictions(readings, self.rig, RigFactors(**{name: value.ravel() for name, value in values.items()}))
        own = self.needle * moved[..., -1]
        return [
            value.reshape(shape) + (own if reading.needle else 0.0)
            for reading, value in zip(readings, found, strict=True)
        ]

    def _spread_out(self, coarse):
        """Values at the coarse severities (last axis), drawn straight to all of them."""
        place = np.minimum(np.arange(len(self.shares)) // _BETWEEN, _COARSE - 2)
        part = np.arange(len(self.shares)) / _BETWEEN - place
        return coarse[..., place] * (1.0 - part) + coarse[..., place + 1] * part


def _distinct(nominal):
    """The rigs of `nominal` {name: (faults, severities)} each once, {name: (rigs,)}, and which it is at each place."""
    table = np.stack([value.ravel() for value in nominal.values()], axis=1)
    rigs, place = np.unique(table, axis=0, return_inverse=True)
    values = {name: column.astype(nominal[name].dtype) for name, column in zip(nominal, rigs.T, strict=True)}
    return values, place.reshape(next(iter(nominal.values())).shape)


def _changes(faults, severities):
    """What each fault (row) at each severity changes: {name: array like `severities`}, only what any of them changes
    or may be moved."""
    made = [vars(fault.factors(row)) for fault, row in zip(faults, severities, strict=True)]
    found = {}
    for name, nothing in UNTOUCHED.items():
        values = [each[name] for each in made]
        if name in _MOVABLE or any(value is not nothing for value in values):
            found[name] = np.stack([np.broadcast_to(value, severities.shape[1:]) for value in values])
    return found


class Belief:
    """Weights (faults, severities) that add up to 1, and what is still open about the moves at each of them."""

    def __init__(self, model, readings, before):
        self.model, shape = model, model.severities.shape
        numbers = [each for each in readings if each.value is not None]
        errors = [error_of(each) for each in numbers]
        lines = [
            (np.moveaxis(model.slopes[each.check], 0, -1) / error, (each.value - model.mean[each.check]) / error)
            for each, error in zip(numbers, errors, strict=True)
        ]
        precision, pull = _summed_out(lines, (*shape, model.moves))
        self.open = np.linalg.inv(precision)
        self.moved = np.einsum("...ij,...j->...i", self.open, pull)
        self.misfit = sum((np.square(off) for _, off in lines), np.zeros(shape))
        self.misfit = self.misfit - np.einsum("...i,...i->...", self.moved, pull)
        self.by_numbers = -0.5 * (self.misfit + np.linalg.slogdet(precision)[1])
        log_chance = self.by_numbers.copy()
        #: Chance (faults, severities) of what was seen or found, for each reading; None for a number.
        self.chances = [self._chance_of(each) if each.value is None else None for each in readings]
        for chance in (each for each in self.chances if each is not None):
            log_chance += np.log(chance)
            self.misfit = self.misfit - 2.0 * np.log(np.minimum(chance / (1.0 - MISTAKE), 1.0))
        ends = np.ones(shape[1])
        ends[[0, -1]] = 0.5
        log_chance += np.log(before)[:, np.newaxis] + np.log(ends / ends.sum())
        self.best = log_chance.argmax(axis=1)
        computed = [each for each in readings if each.throttle is not None]
        if computed:
            at = _worth_drawing(log_chance)
            heard = (chance for each, chance in zip(readings, self.chances, strict=True) if each.by_eye)
            by_lines = self.by_numbers[at] + sum(np.log(chance[at]) for chance in heard)
            put_right = self._by_drawing(at, computed) - by_lines
            for fault in np.unique(at[0]):
                mine = at[0] == fault
                log_chance[fault] += np.interp(np.arange(shape[1]), at[1][mine], put_right[mine])
        weights = np.exp(log_chance - log_chance.max())
        self.weights = weights / weights.sum()
        listed = log_chance.max() + np.log(weights.sum() / before.sum())
        pump = model.rig.pump
        scales = {"pressure": usual_full_scale(model.rig), "flow": pump.rated_flow, "speed": pump.rated_speed}
        self.unlisted = _unlisted(listed, readings, numbers, errors, scales)

    def _by_drawing(self, at, computed):
        """Logarithm of the chance of what was computed at the points `at`, by rigs drawn where lines laid anew, at the
        moves that the first ones found, put them."""
        numbers = [each for each in computed if not each.by_eye]
        count, moves = len(at[0]), self.model.moves
        start = self.moved[at]
        rigs = moves - 1  # the last move is the needle's own, which alters nothing in the rig
        ways = np.concatenate([np.zeros((1, moves)), _STEP * np.eye(rigs, moves)])
        lines = []
        for reading, value in zip(numbers, self.model.drawn(numbers, at, start[:, np.newaxis] + ways), strict=True):
            error = error_of(reading)
            slope = np.empty((count, moves))
            slope[:, :rigs] = (value[:, 1:] - value[:, :1]) / (_STEP * error)
            slope[:, -1] = self.model.needle / error if reading.needle else 0.0
            lines.append((slope, (reading.value - value[:, 0]) / error + (slope * start).sum(axis=1)))
        precision, pull = _summed_out(lines, (count, moves))
        left_open = np.linalg.inv(precision)
        middle = np.clip(np.einsum("pij,pj->pi", left_open, pull), -_FARTHEST, _FARTHEST)
        deviations = _deviations(moves)
        wider = _WIDER * np.linalg.cholesky(left_open)
        moved = middle[:, np.newaxis] + np.einsum("pij,dj->pdi", wider, deviations)
        drawn = 0.5 * (np.square(deviations) - np.square(moved)).sum(axis=-1)
        for reading, value in zip(computed, self.model.drawn(computed, at, moved), strict=True):
            if reading.by_eye:
                yes = MISTAKE + (1.0 - 2.0 * MISTAKE) * normal_share(value)
                drawn += np.log(yes if reading.yes else 1.0 - yes)
            else:
                drawn -= 0.5 * np.square((reading.value - value) / error_of(reading))
        most = drawn.max(axis=1)
        mean = np.exp(drawn - most[:, np.newaxis]).mean(axis=1)
        return most + np.log(mean) + np.linalg.slogdet(wider)[1]

    def expected(self, reading, where=...):
        """Mean and variance (faults, severities) of a computed reading, all that was read taken into account.

        where: bools (faults, severities) of those that are wanted; the results are then flat.
        """
        slope = np.moveaxis(self.model.slopes[reading.check][:, where], 0, -1)
        mean = self.model.mean[reading.check][where] + (slope * self.moved[where]).sum(axis=-1)
        return mean, ((self.open[where] @ slope[..., np.newaxis])[..., 0] * slope).sum(axis=-1)

    def chance_of_yes(self, reading, where=...):
        mean, variance = self.expected(reading, where)
        return MISTAKE + (1.0 - 2.0 * MISTAKE) * normal_share(mean / np.sqrt(1.0 + variance))

    def _chance_of(self, reading):
        if reading.by_eye:
            yes = self.chance_of_yes(reading)
            return yes if reading.yes else 1.0 - yes
        outcome = reading.words.index(reading.shown)
        chances = np.array([reading.chances(fault.name)[outcome] for fault in self.model.faults])
        return np.broadcast_to(chances[:, np.newaxis], self.model.severities.shape)


def _summed_out(lines, shape):
    """Precision (*shape, moves) and pull (shape) of the moves, the last axis of `shape`, from what each number read
    says: its slope with the moves, and by how much it is off, both in its errors."""
    precision, pull = np.zeros((*shape, shape[-1])) + np.eye(shape[-1]), np.zeros(shape)
    for slope, off in lines:
        precision += slope[..., :, np.newaxis] * slope[..., np.newaxis, :]
        pull += slope * off[..., np.newaxis]
    return precision, pull


def error_of(reading):
    """Standard error (SI) of a number read as what a cause should show: its own, and that of the cause's shape."""
    return float(np.hypot(reading.error, _SHAPELESS * reading.value))


def _unlisted(listed, readings, numbers, errors, scales):
    """Chance that something which is not on the list made the readings; `listed`: log chance of them if it was.

    It makes each number anything on its scale and each look a toss, and is thought of UNLISTED times before reading.
    """
    other = sum(np.log(error * np.sqrt(2.0 * np.pi) / (_ANYTHING * scales[each.kind]))
                for each, error in zip(numbers, errors, strict=True))  # fmt: skip
    other += np.log(0.5) * (len(readings) - len(numbers))
    ahead = np.clip(other + np.log(UNLISTED / (1.0 - UNLISTED)) - listed, -700.0, 700.0)
    return float(np.clip(1.0 / (1.0 + np.exp(-ahead)), UNLISTED, 0.99))  # 0.99: the causes keep their order


def _worth_drawing(log_chance):
    """Points (fault, severity) that could count for anything, at most a few for a fault: a pair of index arrays."""
    faults, severities = [], []
    for fault, row in enumerate(log_chance):
        if row.max() >= log_chance.max() - _HOPELESS:
            near = np.nonzero(row >= row.max() - _FAR)[0]
            kept = np.unique(np.linspace(0, near.size - 1, _POINTS).round().astype(int))
            severities.append(near[kept])
            faults.append(np.full(kept.size, fault))
    return np.concatenate(faults), np.concatenate(severities)


@lru_cache(maxsize=8)
def _deviations(moves):
    """Standard deviations (draws, moves) that rigs are drawn at: the same at every point, so that what so few draws
    leave to chance is shared by all causes and cancels between them.

    Ways at right angles to one another, each to both sides, as far out as the middle of each quarter of the normal
    curve of so many moves lies (Wilson and Hilferty, Proc. Natl. Acad. Sci. 17, 1931, 684).
    """
    random = np.random.default_rng(0)
    ways = np.concatenate([np.linalg.qr(random.normal(size=(moves, moves)))[0] for _ in _QUARTERS])[: len(_QUARTERS)]
    part = 2.0 / (9.0 * moves)
    far = np.sqrt(moves * (1.0 - part + np.array(_QUARTERS) * np.sqrt(part)) ** 3)
    half = ways * random.permutation(far)[:, np.newaxis]
    return np.concatenate([half, -half])


def normal_share(deviations):
    """Share of a normal curve below so many deviations, to 0.0002 (Page, Applied Statistics 26, 1977, 75)."""
    x = np.clip(deviations, -8.0, 8.0)
    return 0.5 * (1.0 + np.tanh(np.sqrt(2.0 / np.pi) * x * (1.0 + 0.044715 * x * x)))
