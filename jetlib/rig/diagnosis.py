"""What is wrong with a rig, from what was read on it: causes ranked by likelihood, and what to look at next.

Each fault is tried over its whole range of severities. What is not known about the rig, and the gauge's own error, are
a handful of small numbers with a normal spread each; near every severity the readings are nearly straight lines in
them, so they are summed out in closed form (a linear model with normal errors: Bishop, *Pattern Recognition and
Machine Learning*, 2006, 2.3.3). Where a valve opens or an engine bogs the lines have a kink, so a few rigs are then
drawn where the linear model puts them, and put the weights right (importance sampling, the same book, 11.1.4).
"""

from dataclasses import dataclass

import numpy as np

from jetlib.errors import JetlibError
from jetlib.refusal import cut
from jetlib.rig.cautions import SEE_THE_MANUAL
from jetlib.rig.changes import CALIBRATED, Changes, Spread, require_open_jets
from jetlib.rig.faults import FAULTS, Fault, faults_of
from jetlib.rig.parts import Rig
from jetlib.rig.readings import (
    MISTAKE,
    BucketTest,
    EngineSound,
    GaugeReading,
    HoseSeen,
    JetsSeen,
    ReturnSeen,
    SpeedReading,
    check_readings,
    chi_squared_limit,
    predictions,
)
from jetlib.rig.uncertainty import usual_full_scale
from jetlib.units import both

_COARSE, _BETWEEN = 17, 6  # severities at which the spreads are worked out, and steps of the mean between them
_TIED = 0.1  # of the likeliest: odds of ten to one are called evidence (Kass and Raftery, J. Am. Stat. Assoc. 90, 1995)
_ONE_IN_A_THOUSAND = 3.09  # deviations of a normal curve
_DRAWS, _WIDER = 8, 1.2  # rigs drawn at a severity, and how much wider than the linear model would have them
_STEP = 0.5  # standard deviations over which a slope is taken when lines are laid anew
_POINTS = 10  # severities of a fault at which rigs are drawn
_HOPELESS, _FAR = 30.0, 12.0  # natural logarithms of odds: a fault too unlikely to draw, a severity of it
_BINS = 48
_MOVABLE = (*CALIBRATED, "engine_power")
_WORTH_IT = 0.05  # bits: less than this and a check tells nothing


@dataclass(frozen=True, eq=False)
class Cause:
    """One fault as an explanation of the readings.

    probability: of all the causes tried. severity: the one that fits best; least and most: eight chances in ten lie
    between them. predicted: SI numbers, or the chance of "yes" for what was seen, one for each reading. residuals: read
    less predicted over the error of both reading and rig; for what was seen, deviations that are as unlikely.
    misfit: sum of their squares with what they have in common taken out, to be held against chi-squared.
    """

    fault: Fault
    probability: float
    severity: float
    least: float
    most: float
    predicted: tuple
    residuals: tuple
    misfit: float

    @property
    def name(self):
        return self.fault.name

    @property
    def words(self):
        """What is wrong and how bad, in words."""
        if self.fault.low == self.fault.high:
            return self.fault.words
        return f"{self.fault.words} ({self.fault.measured(self.severity)})"


@dataclass(frozen=True, eq=False)
class Check:
    """A further check: `bits` of information to be expected from it about which cause it is.

    reading: one of its kind, its value without meaning. expected: {cause name: what it would show, as text}.
    """

    reading: object
    bits: float
    expected: dict

    @property
    def label(self):
        return self.reading.label

    @property
    def outcomes(self):
        """A sentence: what it would show for each cause that is still in question."""
        names = {}
        for name, shown in self.expected.items():
            names.setdefault(shown, []).append(name)
        return "Expect " + "; ".join(f"{shown} if {' or '.join(each)}" for shown, each in names.items()) + "."

    @property
    def caution(self):
        """What to mind when doing it, a sentence; "" when it is only a look at gauge, tank or tachometer."""
        if isinstance(self.reading, JetsSeen | HoseSeen):
            return "Pump stopped and the pressure let off at the outlet first. " + SEE_THE_MANUAL
        if self.reading.nozzle_off:
            return (
                "Pump stopped and pressure off before the nozzle comes off; then the hose end held fast by the bucket, "
                "not by hand, and the throttle opened slowly: a loose end whips. " + SEE_THE_MANUAL
            )
        if isinstance(self.reading, BucketTest) and self.reading.place == "nozzle":
            return "The nozzle held fast inside a closed drum or pipe, nobody near the jets. " + SEE_THE_MANUAL
        return ""


@dataclass(frozen=True, eq=False)
class Diagnosis:
    """What `readings` on `rig` say. causes: every Cause, likeliest first. checks: every further Check, best first.

    fits: whether the best cause explains the readings at all. tied: the causes that these readings cannot tell apart
    from the likeliest (within odds of ten to one, itself among them).
    """

    rig: Rig
    readings: tuple
    causes: tuple
    checks: tuple
    fits: bool

    @property
    def top(self):
        """The likeliest Cause."""
        return self.causes[0]

    @property
    def tied(self):
        return tuple(cause for cause in self.causes if cause.probability >= _TIED * self.top.probability)

    @property
    def next_check(self):
        """The Check that tells most, or None when none would tell anything worth the while."""
        return self.checks[0] if self.checks and self.checks[0].bits >= _WORTH_IT else None

    def probability(self, name):
        """Probability of the fault of that name; JetlibError for one that this rig cannot have."""
        for cause in self.causes:
            if cause.name == name:
                return cause.probability
        raise JetlibError(f"there is no cause {cut(name)}; write one of: {'; '.join(c.name for c in self.causes)}")

    @property
    def table(self):
        """Rows of text for the likeliest cause: (label, read, predicted, off by)."""
        rows = []
        for reading, value, off in zip(self.readings, self.top.predicted, self.top.residuals, strict=True):
            shown = both(max(value, 0.0), reading.kind) if reading.kind else f"{100 * value:.0f} % likely"
            rows.append((reading.label, reading.shown, shown, f"{round(off, 1) + 0.0:+.1f} errors"))
        return tuple(rows)

    @property
    def sentences(self):
        """The diagnosis in plain words, a tuple of sentences."""
        found = []
        if not self.readings:
            found.append("Nothing has been read, so nothing can be told.")
        elif not self.fits:
            worst = max(range(len(self.readings)), key=lambda at: abs(self.top.residuals[at]))
            found.append(
                "These readings fit no single fault of this rig. Either one was misread, or two things are wrong, or "
                f"the rig is not the one written down. Closest is: {self.top.words}; "
                f"the {self.readings[worst].label} fits it worst."
            )
        elif len(self.tied) > 1:
            listed = "; ".join(f"{cause.words}, {_percent(cause.probability)}" for cause in self.tied)
            found.append(f"Can't tell these apart with these readings: {listed}.")
        else:
            found.append(f"Likeliest, {_percent(self.top.probability)}: {self.top.words}.")
        check = self.next_check
        if check is None:
            found.append("No single further check would tell much more.")
        else:
            found.append(f"Best next check: {check.label} (worth {check.bits:.2g} bits). {check.outcomes}")
            if check.caution:
                found.append(check.caution)
        return tuple(found)


def diagnose(rig, readings, *, spread=None, chances=None):
    """The Diagnosis of one `rig` from `readings`, a list of the readings of `jetlib.rig.readings`.

    spread: a Spread, how well the rig is known when sound; that of a rig whose usual readings are known unless given.
    chances: {fault name: how likely before anything is read, against 1 for others}; 0 leaves a fault out. Raises
    JetlibError for anything that is no reading, a rig of arrays or without open jets, or an unknown fault.
    """
    if not isinstance(rig, Rig):
        raise JetlibError(f"rig is {cut(rig)}; write diagnose(Rig(…), [GaugeReading(…), …])")
    require_open_jets(rig)
    readings = check_readings(readings)
    spread = Spread() if spread is None else spread
    if not isinstance(spread, Spread):
        raise JetlibError(f"spread is {cut(spread)}; write spread=Spread(jet_area=0.03)")
    faults, before = _faults_and_chances(rig, chances)
    further = further_checks(rig, readings)
    model = _model_for(rig, faults, spread, readings)
    belief = _Belief(model, readings, before)
    causes = [_cause(belief, readings, at) for at in range(len(faults))]
    causes.sort(key=lambda cause: -cause.probability)
    open_to = {
        cause.name for at, cause in enumerate(causes) if at < 2 or cause.probability >= _TIED * causes[0].probability
    }
    checks = sorted((_check(belief, each, open_to) for each in further), key=lambda check: -check.bits)
    fits = not readings or bool(
        min(cause.misfit for cause in causes) <= chi_squared_limit(len(readings), _ONE_IN_A_THOUSAND)
    )
    return Diagnosis(rig=rig, readings=readings, causes=tuple(causes), checks=tuple(checks), fits=fits)


def further_checks(rig, readings=()):
    """One reading of every check that could still be made on `rig`; their values mean nothing."""
    checks = [GaugeReading(1e7, throttle) for throttle in (0.0, 0.5, 1.0)]
    checks += [GaugeReading(1e7, 1.0, second_gauge=True), GaugeReading(1e7, 1.0, nozzle_off=True)]
    checks += [BucketTest(flow=1e-3, place=place) for place in ("nozzle", "open hose")]
    checks += [SpeedReading(100.0), JetsSeen("as fitted")]
    if rig.valves:
        checks += [BucketTest(flow=1e-3, place="tank return")]
        checks += [ReturnSeen(True, throttle) for throttle in (0.0, 0.5, 1.0)]
    if rig.engine is not None:
        checks.append(EngineSound(True))
    if rig.hoses:
        checks.append(HoseSeen(True))
    done = {reading.check for reading in readings}
    return [each for each in checks if each.check not in done]


def _faults_and_chances(rig, chances):
    chances = {} if chances is None else chances
    if not isinstance(chances, dict):
        raise JetlibError(f'chances is {cut(chances)}; write chances={{"jet plugged": 3}}')
    for name, value in chances.items():
        if name not in FAULTS:
            raise JetlibError(f"there is no fault {cut(name)}; write one of: {'; '.join(FAULTS)}")
        if isinstance(value, bool) or not isinstance(value, int | float) or not 0 <= value < 1e9:
            raise JetlibError(f"the chance of {name} is {cut(value)}; write a number from 0 up, 1 for any fault")
    faults = [fault for fault in faults_of(rig) if chances.get(fault.name, fault.chance) > 0]
    if not faults:
        raise JetlibError("every fault of this rig has chance 0; leave some above 0")
    return faults, np.array([chances.get(fault.name, fault.chance) for fault in faults], dtype=float)


# --- the model: what each fault would make every reading --------------------------------------------


_recent = []  # models, last used first: typing in another reading need not solve all the rigs again
_KEPT = 6


def _model_for(rig, faults, spread, readings):
    computed = {each.check: each for each in (*further_checks(rig), *readings) if each.throttle is not None}
    for model in _recent:
        known = model.spread == spread and model.faults == faults and model.mean.keys() >= computed.keys()
        if known and model.rig == rig:
            break
    else:
        model = _Model(rig, faults, computed, spread)
    _recent[:] = [model, *(each for each in _recent if each is not model)][:_KEPT]
    return model


class _Model:
    """mean (faults, severities) and slopes (moves, faults, severities) of every computed reading, by its check."""

    def __init__(self, rig, faults, computed, spread):
        self.rig, self.faults, self.spread = rig, faults, spread
        count = _BETWEEN * (_COARSE - 1) + 1
        self.shares = np.linspace(0.0, 1.0, count)
        self.severities = np.stack([np.broadcast_to(fault.severities(self.shares), (count,)) for fault in faults])
        coarse = slice(None, None, _BETWEEN)
        moves = spread.moves()
        if rig.engine is None:
            moves = [move for move in moves if "engine_power" not in move]
        nominal = _changes(faults, self.severities)
        ways = [{name: way * step for name, step in move.items()} for move in moves for way in (1.0, -1.0)]
        around = {name: np.tile(value[:, coarse].ravel(), len(ways)) for name, value in nominal.items()}
        for name in {name for way in ways for name in way}:
            factor = np.exp([way.get(name, 0.0) for way in ways])
            around[name] = around[name] * np.repeat(factor, len(faults) * _COARSE)
        changes = Changes(**{name: np.concatenate([value.ravel(), around[name]]) for name, value in nominal.items()})
        found = predictions(list(computed.values()), rig, changes)
        size = len(faults) * count
        needle = spread.gauge * usual_full_scale(rig)
        self.mean, self.slopes = {}, {}
        for (check, reading), values in zip(computed.items(), found, strict=True):
            mean = values[:size].reshape(len(faults), count)
            up_down = values[size:].reshape(len(moves), 2, len(faults), _COARSE)
            slopes = self._spread_out(0.5 * (up_down[:, 0] - up_down[:, 1]))
            bend = 0.5 * (up_down[:, 0] + up_down[:, 1]) - mean[:, coarse]
            own = np.full((1, *mean.shape), needle if reading.needle else 0.0)
            self.slopes[check] = np.concatenate([slopes, own])
            self.mean[check] = mean + self._spread_out(bend.sum(axis=0))
        self.moves, self.nominal, self.needle, self.named_moves = len(moves) + 1, nominal, needle, moves

    def drawn(self, readings, at, moved):
        """Predictions (list of arrays like `moved` without its last axis) of rigs `moved` (points, draws, moves) away
        from the nominal one, at the points `at`, a pair of index arrays for fault and severity."""
        shape = moved.shape[:-1]
        values = {name: np.broadcast_to(value[at][:, np.newaxis], shape) for name, value in self.nominal.items()}
        for place, move in enumerate(self.named_moves):
            for name, step in move.items():
                values[name] = values[name] * np.exp(step * moved[..., place])
        found = predictions(readings, self.rig, Changes(**{name: value.ravel() for name, value in values.items()}))
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


def _changes(faults, severities):
    """What each fault (row) at each severity changes: {name: array like `severities`}, only what any of them changes
    or may be moved."""
    made = [vars(fault.changes(row)) for fault, row in zip(faults, severities, strict=True)]
    found = {}
    for name, nothing in vars(Changes()).items():
        values = [each[name] for each in made]
        if name in _MOVABLE or any(value is not nothing for value in values):
            found[name] = np.stack([np.broadcast_to(value, severities.shape[1:]) for value in values])
    return found


# --- what the readings make of it -------------------------------------------------------------------


class _Belief:
    """Weights (faults, severities) that add up to 1, and what is still open about the moves at each of them."""

    def __init__(self, model, readings, before):
        self.model, shape = model, model.severities.shape
        numbers = [each for each in readings if each.value is not None]
        precision = np.zeros((*shape, model.moves, model.moves)) + np.eye(model.moves)
        pull = np.zeros((*shape, model.moves))
        log_chance, self.misfit = np.zeros(shape), np.zeros(shape)
        for reading in numbers:
            off = reading.value - model.mean[reading.check]
            slope = np.moveaxis(model.slopes[reading.check], 0, -1) / reading.error
            precision += slope[..., :, np.newaxis] * slope[..., np.newaxis, :]
            pull += slope * (off / reading.error)[..., np.newaxis]
            self.misfit += np.square(off / reading.error)
        self.open = np.linalg.inv(precision)
        self.moved = np.einsum("...ij,...j->...i", self.open, pull)
        self.misfit = self.misfit - np.einsum("...i,...i->...", self.moved, pull)
        self.by_numbers = -0.5 * (self.misfit + np.linalg.slogdet(precision)[1])
        log_chance += self.by_numbers
        for reading in readings:
            if reading.value is None:
                chance = self.chance_of(reading)
                log_chance += np.log(chance)
                self.misfit = self.misfit - 2.0 * np.log(np.minimum(chance / (1.0 - MISTAKE), 1.0))
        ends = np.ones(shape[1])
        ends[[0, -1]] = 0.5
        log_chance += np.log(before)[:, np.newaxis] + np.log(ends / ends.sum())
        self.best = log_chance.argmax(axis=1)
        computed = [each for each in readings if each.throttle is not None]
        if computed:
            at = _worth_drawing(log_chance)
            put_right = self._by_drawing(at, computed) - self._by_lines(at, computed)
            for fault in np.unique(at[0]):
                mine = at[0] == fault
                log_chance[fault] += np.interp(np.arange(shape[1]), at[1][mine], put_right[mine])
        weights = np.exp(log_chance - log_chance.max())
        self.weights = weights / weights.sum()

    def _by_lines(self, at, computed):
        """Logarithm of the chance of what was computed, by the linear model, at the points `at`."""
        return self.by_numbers[at] + sum(np.log(self.chance_of(each)[at]) for each in computed if each.by_eye)

    def _by_drawing(self, at, computed):
        """The same by rigs drawn where lines laid anew, at the moves that the first ones found, put them."""
        numbers = [each for each in computed if not each.by_eye]
        count, moves = len(at[0]), self.model.moves
        start = self.moved[at]
        ways = np.concatenate([np.zeros((1, moves)), _STEP * np.eye(moves), -_STEP * np.eye(moves)])
        precision, pull = np.zeros((count, moves, moves)) + np.eye(moves), np.zeros((count, moves))
        for reading, value in zip(numbers, self.model.drawn(numbers, at, start[:, np.newaxis] + ways), strict=True):
            slope = (value[:, 1 : 1 + moves] - value[:, 1 + moves :]) / (2.0 * _STEP * reading.error)
            off = (reading.value - value[:, 0]) / reading.error + (slope * start).sum(axis=1)
            precision += slope[:, :, np.newaxis] * slope[:, np.newaxis, :]
            pull += slope * off[:, np.newaxis]
        left_open = np.linalg.inv(precision)
        middle = np.einsum("pij,pj->pi", left_open, pull)
        half = np.random.default_rng(0).normal(size=(count, _DRAWS // 2, moves))
        deviations = np.concatenate([half, -half], axis=1)
        wider = _WIDER * np.linalg.cholesky(left_open)
        moved = middle[:, np.newaxis] + np.einsum("pij,pdj->pdi", wider, deviations)
        drawn = 0.5 * (np.square(deviations) - np.square(moved)).sum(axis=-1)
        for reading, value in zip(computed, self.model.drawn(computed, at, moved), strict=True):
            if reading.by_eye:
                yes = MISTAKE + (1.0 - 2.0 * MISTAKE) * _below(value)
                drawn += np.log(yes if reading.yes else 1.0 - yes)
            else:
                drawn -= 0.5 * np.square((reading.value - value) / reading.error)
        most = drawn.max(axis=1)
        mean = np.exp(drawn - most[:, np.newaxis]).mean(axis=1)
        return most + np.log(mean) + np.linalg.slogdet(wider)[1]

    def expected(self, reading):
        """Mean and variance (faults, severities) of a computed reading, all that was read taken into account."""
        slope = np.moveaxis(self.model.slopes[reading.check], 0, -1)
        mean = self.model.mean[reading.check] + np.einsum("...i,...i->...", slope, self.moved)
        return mean, np.einsum("...i,...ij,...j->...", slope, self.open, slope)

    def chance_of_yes(self, reading):
        mean, variance = self.expected(reading)
        return MISTAKE + (1.0 - 2.0 * MISTAKE) * _below(mean / np.sqrt(1.0 + variance))

    def chance_of(self, reading):
        """Chance (faults, severities) of what was seen or found."""
        if reading.by_eye:
            yes = self.chance_of_yes(reading)
            return yes if reading.yes else 1.0 - yes
        outcome = reading.outcomes.index(reading.found)
        chances = np.array([reading.chances(fault.name)[outcome] for fault in self.model.faults])
        return np.broadcast_to(chances[:, np.newaxis], self.weights.shape)


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


def _cause(belief, readings, at):
    model, best = belief.model, belief.best[at]
    fault, weights = model.faults[at], belief.weights[at]
    total = weights.sum()
    share = np.cumsum(weights) / total if total > 0 else model.shares
    least, most = (model.severities[at, np.searchsorted(share, level).clip(0, len(share) - 1)] for level in (0.1, 0.9))
    predicted, residuals = [], []
    for reading in readings:
        if reading.value is not None:
            slope = model.slopes[reading.check][:, at, best]
            predicted.append(float(model.mean[reading.check][at, best]))
            error = np.sqrt(reading.error**2 + slope @ slope)
            residuals.append(float((reading.value - predicted[-1]) / error))
        else:
            chance = float(belief.chance_of(reading)[at, best])
            predicted.append(chance)
            residuals.append(float(np.sqrt(-2.0 * np.log(min(chance / (1.0 - MISTAKE), 1.0)))))
    return Cause(
        fault=fault,
        probability=float(total),
        severity=float(model.severities[at, best]),
        least=float(least),
        most=float(most),
        predicted=tuple(predicted),
        residuals=tuple(residuals),
        misfit=float(belief.misfit[at].min()),
    )


# --- what to look at next ---------------------------------------------------------------------------


def _check(belief, reading, open_to):
    """The Check of `reading`: mutual information of its outcome and the cause, under what is believed now."""
    weights, faults = belief.weights, belief.model.faults
    by_fault = weights.sum(axis=1)
    shown = {}
    if reading.throttle is None:
        chances = np.array([reading.chances(fault.name) for fault in faults])
        shown = {fault.name: reading.outcomes[int(row.argmax())] for fault, row in zip(faults, chances, strict=True)}
    else:
        each = weights / np.maximum(by_fault, 1e-300)[:, np.newaxis]
        if reading.by_eye:
            yes = (each * belief.chance_of_yes(reading)).sum(axis=1)
            chances = np.stack([yes, 1.0 - yes], axis=1)
            shown = {fault.name: reading.words[int(share < 0.5)] for fault, share in zip(faults, yes, strict=True)}
        else:
            mean, variance = belief.expected(reading)
            error = reading.usual_error(np.maximum(mean, 0.0), belief.model.rig.pump.rated_flow)
            chances = _binned(mean, np.sqrt(variance + np.square(error)), weights, each)
            middle = np.maximum((each * mean).sum(axis=1), 0.0)
            shown = {fault.name: both(float(m), reading.kind) for fault, m in zip(faults, middle, strict=True)}
    overall = by_fault @ chances
    ratio = np.where(chances > 0, chances, 1.0) / np.where(overall > 0, overall, 1.0)
    bits = float((by_fault[:, np.newaxis] * chances * np.log2(ratio)).sum())
    return Check(reading, max(bits, 0.0), {name: text for name, text in shown.items() if name in open_to})


def _binned(mean, deviation, weights, each):
    """Chance (faults, bins) that a number falls into each of some bins, which lie where numbers are likely."""
    places = np.concatenate([(mean + step * deviation).ravel() for step in (-1.5, -0.5, 0.5, 1.5)])
    order = np.argsort(places)
    share = np.cumsum(np.tile(weights.ravel(), 4)[order])
    inner = np.arange(1, _BINS) / _BINS * share[-1]
    edges = places[order][np.searchsorted(share, inner).clip(0, order.size - 1)]
    counts = np.where(each * weights.sum(axis=1, keepdims=True) > 1e-7, each, 0.0)
    chances = np.zeros((len(mean), _BINS))
    for at in range(len(mean)):
        kept = counts[at] > 0
        below = _below((edges - mean[at, kept, np.newaxis]) / deviation[at, kept, np.newaxis])
        steps = np.diff(below, axis=1, prepend=0.0, append=1.0)
        chances[at] = np.maximum(counts[at, kept] @ steps, 0.0)
    return chances


def _below(deviations):
    """Share of a normal curve below so many deviations, to 0.0002 (Page, Applied Statistics 26, 1977, 75)."""
    x = np.clip(deviations, -8.0, 8.0)
    return 0.5 * (1.0 + np.tanh(np.sqrt(2.0 / np.pi) * x * (1.0 + 0.044715 * x * x)))


def _percent(probability):
    return f"{100 * probability:.0f} %" if probability < 0.995 else "over 99 %"
