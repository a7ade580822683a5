"""What to look at next: how much each further check is expected to tell about the cause."""

from dataclasses import dataclass

import numpy as np

from jetlib.rig.diagnosis.checks import check_of, checks_of
from jetlib.rig.diagnosis.faults import fault_named, shown_by
from jetlib.rig.diagnosis.likelihood import normal_share
from jetlib.units import both

_WORTH_IT = 0.05  # bits: less than this and a check tells nothing
_BINS = 48
_NOTHING = 1e-7  # of all the weight
_FLOW_FIGURES = 2  # of a flow that is expected: nobody reads a bucket and a watch finer
_MOST_SAID = 6  # outcomes in a sentence
_MOST_NAMED = 2  # causes of one outcome, where the rest have been named


@dataclass(frozen=True, eq=False)
class NextCheck:
    """A further check: `bits` of information to be expected from it about which cause it is.

    reading: what it reads on `rig`, its value without meaning. expected: {cause name: what it would show, as text}.
    """

    rig: object
    reading: object
    bits: float
    expected: dict

    @property
    def label(self):
        return self.reading.label

    @property
    def worth_it(self):
        """Whether it would tell anything worth the while."""
        return self.bits >= _WORTH_IT

    @property
    def outcomes(self):
        """A sentence: what it would show for each cause that is still in question."""
        names = _grouped(self.expected)
        if len(names) > _MOST_SAID:  # each a number of its own: what they have in common with one another
            names = _grouped({name: shown_by(name, self.reading, self.rig) for name in self.expected})
        groups = sorted(names.items(), key=lambda group: len(group[1]))
        return f"Expect {'; '.join(_told(*group, last=group is groups[-1] is not groups[0]) for group in groups)}."

    @property
    def check(self):
        """The Check of the catalogue: what it costs, what to mind."""
        return check_of(self.reading)


def _told(shown, names, last):
    """What is shown and for which causes; of many, said last, that they are the others."""
    if last and len(names) > _MOST_NAMED:
        return f"{shown} if it is any of the others"
    return f"{shown} if {' or '.join(fault_named(name).short for name in names)}"


def _grouped(shown):
    """{what is shown: names} of {name: what is shown}."""
    names = {}
    for name, each in shown.items():
        names.setdefault(each, []).append(name)
    return names


def further_checks(rig):
    """One reading of everything that can be checked on `rig`; their values mean nothing."""
    return [reading for check in checks_of(rig) for reading in check.asked(rig)]


def ranked(checks):
    """NextChecks, best first, a tuple; those that take a part known to be good come after others that are worth it."""
    return tuple(sorted(checks, key=lambda each: (not each.worth_it, each.check.needs_spare, -each.bits)))


def informative_check(belief, reading, in_question):
    """The NextCheck of `reading`: mutual information of its outcome and the cause, under what is believed now."""
    weights, faults = belief.weights, belief.model.faults
    by_fault = weights.sum(axis=1)
    order = list(dict.fromkeys(fault.name for fault in faults))
    of_cause = np.array([order.index(fault.name) for fault in faults])
    if reading.throttle is None:
        chances = np.array([reading.chances(fault.name) for fault in faults])
        shown = [reading.words[int(row.argmax())] for row in chances]
    else:
        # What weighs next to nothing is left out, but for the causes that are to be told about.
        told = np.array([fault.name in in_question for fault in faults])
        kept = (weights > _NOTHING) | told[:, np.newaxis]
        at, share = np.nonzero(kept)[0], weights[kept]
        each = share / np.maximum(by_fault, 1e-300)[at]

        def over(values):
            """Mean over each fault's severities."""
            return np.bincount(at, each * values, len(faults))

        if reading.by_eye:
            yes = over(belief.chance_of_yes(reading, kept))
            chances = np.stack([yes, 1.0 - yes], axis=1)
            shown = [reading.words[int(share < 0.5)] for share in yes]
        else:
            mean, variance = belief.expected(reading, kept)
            error = reading.usual_error(np.maximum(mean, 0.0), belief.model.rig.pump.rated_flow)
            chances = _binned(mean, np.sqrt(variance + np.square(error)), share, each, at, len(faults))
            middle = np.maximum(over(mean), 0.0)
            figures = _FLOW_FIGURES if reading.kind == "flow" else 3
            shown = [
                both(float(m), reading.kind, figures) if named else "" for m, named in zip(middle, told, strict=True)
            ]
    joint = np.zeros((len(order), chances.shape[1]))
    np.add.at(joint, of_cause, by_fault[:, np.newaxis] * chances)
    joint[joint < 1e-100] = 0.0
    alone = np.where(joint > 0, joint.sum(axis=1, keepdims=True) * joint.sum(axis=0), 1.0)
    bits = float((joint * np.log2(np.where(joint > 0, joint, 1.0) / alone)).sum())
    by_weight = sorted(range(len(faults)), key=lambda at: by_fault[at])  # of two shapes the likelier is told
    expected = {faults[at].name: shown[at] for at in by_weight if faults[at].name in in_question}
    return NextCheck(belief.model.rig, reading, max(bits, 0.0), expected)


def _binned(mean, deviation, weights, each, at, faults):
    """Chance (faults, bins) that a number falls into each of some bins, which lie where numbers are likely.

    Arrays: means and deviations, their weights of all and of each fault's own, and the fault each is `at`, in order.
    """
    places = np.concatenate([mean + step * deviation for step in (-1.5, -0.5, 0.5, 1.5)])
    order = np.argsort(places)
    below = np.cumsum(np.tile(weights, 4)[order])
    inner = np.arange(1, _BINS) / _BINS * below[-1]
    edges = places[order][np.searchsorted(below, inner).clip(0, order.size - 1)]
    shares = normal_share((edges - mean[:, np.newaxis]) / deviation[:, np.newaxis])
    steps = np.diff(shares, axis=1, prepend=0.0, append=1.0)
    chances = np.zeros((faults, _BINS))
    found, starts = np.unique(at, return_index=True)
    chances[found] = np.add.reduceat(each[:, np.newaxis] * steps, starts)
    return np.maximum(chances, 0.0)
