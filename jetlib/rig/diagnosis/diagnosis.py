"""What is wrong with a rig, from what was read on it: causes ranked by likelihood, and what to look at next."""

from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np

from jetlib.errors import JetlibError
from jetlib.rig.change.factors import Knowledge, require_one_rig
from jetlib.rig.diagnosis.checks import check_of
from jetlib.rig.diagnosis.faults import Fault, fault_named, faults_of
from jetlib.rig.diagnosis.likelihood import Belief, error_of, model_for
from jetlib.rig.diagnosis.next_check import NextCheck, further_checks, informative_check, ranked
from jetlib.rig.diagnosis.readings import MISTAKE, Reading, check_readings, chi_squared_limit, credible
from jetlib.rig.parts.machine import Rig
from jetlib.rig.point.cautions import SEE_THE_MANUAL
from jetlib.units.refusal import cut

_TIED = 0.1  # of the likeliest: odds of ten to one are called evidence (Kass and Raftery, J. Am. Stat. Assoc. 90, 1995)
_ONE_IN_A_THOUSAND = 3.09  # deviations of a normal curve
_SPEAKS_AGAINST = 0.15  # chance of what was seen under a cause: less, and it must be told
_FAR_OFF = 3.0  # errors by which a number must miss what a cause would show to be told
VALVES = ("valve low", "valve high", "valve leaking")
DO_NOT_TOUCH = (
    "The bypass valve: do not touch it. Nothing here proves that its setting is wrong. Only a person whom "
    "the machine's maker authorizes sets and seals it, with a gauge that has been checked."
)
_AGAIN = 3  # readings named to be read again: the worst


@dataclass(frozen=True, eq=False)
class Cause:
    """One fault as an explanation of the readings.

    probability: of all the causes tried. severity: the one that fits best; least and most: eight chances in ten lie
    between them. predicted: SI numbers, or the chance of "yes" for what was seen, one for each reading. residuals: read
    less predicted over the error of reading, rig and the cause's own shape; for what was seen, deviations that are as
    unlikely. misfit: sum of their squares with what they have in common taken out, to be held against chi-squared.
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
class Diagnosis:
    """What `readings` on `rig` say. causes: every Cause, likeliest first.

    unlisted: probability of something that is on no list, never under 3 %; with those of the causes it adds up to 1.
    fits: whether the best cause explains the readings at all. tied: the causes that these readings cannot tell apart
    from the likeliest (within odds of ten to one, itself among them).

    >>> found = diagnose(demo_rig("yard_trailer"), [GaugeReading("1900 psi"), ReturnSeen(False)])
    >>> found.top.name
    'jets worn'
    """

    rig: Rig
    readings: tuple
    causes: tuple
    fits: bool
    unlisted: float
    _belief: Belief = field(repr=False)
    _further: tuple = field(repr=False)  # readings of all that can still be checked

    @cached_property
    def checks(self) -> tuple:
        """Every NextCheck, best first: those that need a part known to be good come after those that tell something
        without."""
        return ranked([*self._without_spares, *self._checks_of(spares=True)])

    def first_checks(self, count: int) -> tuple:
        """At least the first `count` of `checks`, as a tuple: as a rule found sooner than all."""
        found = self._without_spares
        return found if len(found) >= count and found[count - 1].worth_it else self.checks

    @cached_property
    def _without_spares(self):
        return ranked(self._checks_of(spares=False))

    def _checks_of(self, *, spares):
        readings = [each for each in self._further if check_of(each).needs_spare == spares]
        self._belief.model.work_out(readings)
        names = {cause.name for cause in self.in_question}
        return [informative_check(self._belief, each, names) for each in readings]

    @property
    def in_question(self) -> tuple:
        """The Causes that the next check is to tell apart: those tied, and the second where one stands alone."""
        return self.causes[: max(len(self.tied), 2)]

    @property
    def top(self) -> Cause:
        """The likeliest Cause."""
        return self.causes[0]

    @property
    def tied(self) -> tuple:
        """The Causes that these readings cannot tell apart from the likeliest, itself among them."""
        return tuple(cause for cause in self.causes if cause.probability >= _TIED * self.top.probability)

    @property
    def next_check(self) -> NextCheck | None:
        """The NextCheck that tells most, or None when none would tell anything worth the while."""
        first = self.first_checks(1)
        return first[0] if first and first[0].worth_it else None

    def probability(self, name: str) -> float:
        """Probability (0 to 1) of the fault of that name; JetlibError for one that this rig cannot have."""
        found = {cause.name: cause.probability for cause in self.causes}
        if not isinstance(name, str) or name not in found:
            raise JetlibError(f"there is no cause {cut(name)}; write one of: {'; '.join(found)}")
        return found[name]

    @property
    def read_again(self) -> tuple:
        """The readings that fit nothing, up to three of them, what fits worst first; none where they fit."""
        off = sorted(range(len(self.readings)), key=lambda at: -abs(self.top.residuals[at]))
        return () if self.fits else tuple(self.readings[at] for at in off[:_AGAIN])

    @property
    def sentences(self) -> tuple:
        """The diagnosis in plain words, a tuple of sentences."""
        found = []
        if not self.readings:
            found.append("There are no readings yet, so nothing can be said.")
        elif not self.fits:
            found.append(
                "These readings fit nothing on the list. Either one was misread, or two things are wrong, or the rig "
                f"is not as written down. The closest cause is: {self.top.words}; "
                f"the {self.read_again[0].label} fits it worst."
            )
        elif len(self.tied) > 1:
            listed = "; ".join(f"{cause.words}, {percent_words(cause.probability)}" for cause in self.tied)
            found.append(f"These readings cannot tell the following causes apart: {listed}.")
        else:
            found.append(f"Likeliest, {percent_words(self.top.probability)}: {self.top.words}.")
        if self.readings:
            found.append(f"Something that is not on this list: {percent_words(self.unlisted)}.")
        found += self._against()
        if self.readings and any(cause.name in VALVES for cause in self.in_question):
            found.append(DO_NOT_TOUCH)
        if self.readings and any(cause.name == "valve high" for cause in self.tied):
            found.append(
                "If the valve opens too late, nothing holds the pressure down: do not run the rig above its setting, "
                f"and have the valve serviced. {SEE_THE_MANUAL}"
            )
        check = self.next_check
        if not self.fits:
            listed = ", then ".join(f"{each.label} ({check_of(each).cost})" for each in self.read_again)
            found.append(f"Read again before anything else: {listed}.")
        elif check is None:
            found.append("No single check would tell you much more.")
        else:
            told = f"Best next check: {check.label} ({check.check.cost}). {check.outcomes}"
            found += [told, check.check.caution]
        return tuple(found)

    def _against(self):
        """What was read and speaks against the likeliest cause: a sentence for each, so none stays unsaid."""
        return [
            f"{reading.label[0].upper()}{reading.label[1:]}: {reading.shown}. That does not fit it."
            for reading, found, off in zip(self.readings, self.top.predicted, self.top.residuals, strict=True)
            if (found < _SPEAKS_AGAINST if reading.value is None else abs(off) > _FAR_OFF)
        ]


def diagnose(
    rig: Rig,
    readings: list | tuple | Reading,
    *,
    spread: Knowledge | None = None,
    chances: dict | None = None,
    checks: list | tuple | None = None,
) -> Diagnosis:
    """The Diagnosis of one `rig` from `readings`, a list of the readings of `jetlib.rig.diagnosis.readings`.

    spread: a Knowledge, how well the rig is known when sound; unless given, as if its usual readings were known.
    chances: {fault name: how likely before anything is read, against 1 for others}; 0 leaves a fault out.
    checks: readings (their values mean nothing) to choose the next one from; the usual ones unless given. Raises
    JetlibError for anything that is no reading, a rig of arrays or without open jets, or an unknown fault.

    >>> diagnose(demo_rig("yard_trailer"), [GaugeReading("1900 psi")]).fits
    True
    """
    require_one_rig(rig, "diagnose(Rig(…), [GaugeReading(…), …])")
    readings = credible(check_readings(readings), rig)
    spread = Knowledge() if spread is None else spread
    if not isinstance(spread, Knowledge):
        raise JetlibError(f"spread is {cut(spread)}; write spread=Knowledge(jet_area=0.03)")
    faults, before = _shapes_and_chances(rig, chances)
    offered = further_checks(rig) if checks is None else check_readings(checks)
    done = {reading.check for reading in readings}
    further = [each for each in offered if each.check not in done]
    model = model_for(rig, faults, spread, (*readings, *(each for each in further if not check_of(each).needs_spare)))
    belief = Belief(model, readings, before)
    totals, causes = belief.weights.sum(axis=1), []
    for name in dict.fromkeys(fault.name for fault in faults):
        shapes = [at for at, fault in enumerate(faults) if fault.name == name]
        best = max(shapes, key=lambda at: totals[at])
        probability = (1.0 - belief.unlisted) * totals[shapes].sum()
        causes.append(_cause(belief, readings, best, probability, min(belief.misfit[shapes].min(axis=1))))
    causes.sort(key=lambda cause: -cause.probability)
    fits = not readings or bool(
        min(cause.misfit for cause in causes) <= chi_squared_limit(len(readings), _ONE_IN_A_THOUSAND)
    )
    return Diagnosis(rig, readings, tuple(causes), fits, belief.unlisted, belief, tuple(further))


def _shapes_and_chances(rig, chances):
    """The faults of `rig` in every shape, each a Fault of its cause's name, and the chance of each (list and array)."""
    chances = {} if chances is None else chances
    if not isinstance(chances, dict):
        raise JetlibError(f'chances is {cut(chances)}; write chances={{"jet plugged": 3}}')
    for name, value in chances.items():
        fault_named(name)
        if isinstance(value, bool) or not isinstance(value, int | float) or not 0 <= value < 1e9:
            raise JetlibError(f"the chance of {name} is {cut(value)}; write a number from 0 up, 1 for any fault")
    found = []
    for fault in faults_of(rig):
        chance = float(chances.get(fault.name, fault.chance))
        shapes = [fault] if fault.second is None else [fault, replace(fault, changes=fault.second, second=None)]
        found += [(shape, chance / len(shapes)) for shape in shapes if chance > 0]
    if not found:
        raise JetlibError("every fault of this rig has chance 0; leave some above 0")
    return [shape for shape, _ in found], np.array([chance for _, chance in found])


def _cause(belief, readings, at, probability, misfit):
    model, best = belief.model, belief.best[at]
    fault, weights = model.faults[at], belief.weights[at]
    total = weights.sum()
    share = np.cumsum(weights) / total if total > 0 else model.shares
    least, most = (model.severities[at, np.searchsorted(share, level).clip(0, len(share) - 1)] for level in (0.1, 0.9))
    predicted, residuals = [], []
    for reading, chances in zip(readings, belief.chances, strict=True):
        if chances is None:
            slope = model.slopes[reading.check][:, at, best]
            predicted.append(float(model.mean[reading.check][at, best]))
            residuals.append((reading.value - predicted[-1]) / float(np.sqrt(error_of(reading) ** 2 + slope @ slope)))
        else:
            predicted.append(float(chances[at, best]))
            residuals.append(float(np.sqrt(-2.0 * np.log(min(predicted[-1] / (1.0 - MISTAKE), 1.0)))))
    return Cause(
        fault=fault,
        probability=float(probability),
        severity=float(model.severities[at, best]),
        least=float(least),
        most=float(most),
        predicted=tuple(predicted),
        residuals=tuple(residuals),
        misfit=float(misfit),
    )


def percent_words(probability):
    """A probability in words: no cause is ever quite certain."""
    return f"{100 * probability:.0f} %" if probability < 0.995 else "over 99 %"
