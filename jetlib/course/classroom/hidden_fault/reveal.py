"""After a drill: what each reading should have told, which check would have been the best buy, and the shortest way."""

from dataclasses import dataclass
from itertools import combinations

from jetlib.course.classroom.hidden_fault.deal import STOPS, all_readings, stop_readings
from jetlib.rig.diagnosis.diagnosis import diagnose, percent_words
from jetlib.rig.diagnosis.faults import FAULTS, exact
from jetlib.rig.diagnosis.readings import throttle_name

SURE = 0.8  # probability from which a cause counts as found
_WORTH_IT = 0.05  # bits: less than this and a look tells nothing
_MOST_TRIED = 70  # ways tried for the shortest one


@dataclass(frozen=True, eq=False)
class Told:
    """One step of a drill seen afterwards.

    label, minutes: as in the Step. rows: a tuple of (label, read, sound, true) readings: what was read, what a rig in
    order and one with just this fault would have given. before, after: the Diagnosis before and after it. best: the
    label of the best buy before it, or "" when nothing was worth its minutes any more.
    """

    label: str
    minutes: float
    rows: tuple
    before: object
    after: object
    best: str


@dataclass(frozen=True, eq=False)
class Reveal:
    """A drill seen afterwards. told: a Told for each step. end: the last Diagnosis. best: the best buy that was left.

    shortest: (minutes, labels) of the cheapest checks that, after all the free looks, would have made the true cause
    SURE; None where none of those tried would.
    """

    hunt: object
    told: tuple
    end: object
    best: str
    shortest: object

    @property
    def truth(self):
        """What was wrong, in words with its size."""
        return truth_words(self.hunt.hidden.fault, self.hunt.hidden.severity)

    @property
    def probability(self):
        """How likely the readings made the true cause in the end."""
        return self.end.probability(self.hunt.hidden.fault.name)

    @property
    def sentences(self):
        """The end of the drill in plain words, a tuple."""
        checks = sum(told.minutes > 0.0 or not told.label.startswith("Gauge at ") for told in self.told)
        spent = f"The room spent {_counted(self.hunt.minutes, 'minute')} on {_counted(checks, 'check')}."
        sound, likely = self.hunt.hidden.fault.name == "healthy", percent_words(self.probability)
        found = ["Nothing was wrong." if sound else f"It was this: {self.truth}.", spent]
        if not self.told:
            found.append("Nothing was read, so nothing could be known.")
        elif self.end.top.name == self.hunt.hidden.fault.name:
            found.append(f"The readings made it the likeliest cause, at {likely}.")
        else:
            found.append(f"The readings made it {likely} likely; they pointed more to: {self.end.top.words}.")
        found.append(_way_words(self.shortest))
        return tuple(found)


def truth_words(fault, severity):
    """A fault and its size in words."""
    return fault.words if fault.low == fault.high else f"{fault.words} ({fault.measured(severity)})"


def revealed(hunt):
    """The Reveal of a FaultHunt. Takes a second or two: many beliefs are worked out."""
    asked, hidden = all_readings(hunt.rig), hunt.hidden
    told, readings, done = [], [], set()
    before = diagnose(hunt.rig, readings, checks=asked)
    kinds = ((FAULTS["healthy"], 0.0), (hidden.fault, hidden.severity))
    for step in hunt.steps:
        best = best_buy(hunt, before, done)
        readings += step.readings
        after = diagnose(hunt.rig, readings, checks=asked)
        rows = tuple((read, *(exact(read, hunt.rig, *kind) for kind in kinds)) for read in step.readings)
        told.append(Told(step.label, step.minutes, rows, before, after, best))
        done.add(step.key)
        before = after
    return Reveal(hunt, tuple(told), before, best_buy(hunt, before, done), shortest_way(hunt))


def best_buy(hunt, diagnosis, done):
    """What a Diagnosis says would have been the best thing to do next: its label, or "" for nothing worth while.

    A look that costs nothing comes first if it tells anything, then the check with the most bits for a minute. Of a
    check with several readings the best one counts.
    """
    bits = {check.reading.check: check.bits for check in diagnosis.checks}

    def worth(readings):
        return max((bits.get(each.check, 0.0) for each in readings), default=0.0)

    buys = [
        (worth(check.asked(hunt.rig)) / max(hunt.costs[key], 0.5), check.label)
        for key, check in hunt.checks.items()
        if key not in done and worth(check.asked(hunt.rig)) >= _WORTH_IT
    ]
    looks = [(worth(stop_readings(hunt.rig, stop)), stop) for stop in STOPS if stop not in done]
    found = []
    if looks and max(looks)[0] >= _WORTH_IT:
        found.append(f"free look at {throttle_name(max(looks)[1])}")
    if buys:
        found.append(max(buys)[1])
    return ", then: ".join(found)


def shortest_way(hunt):
    """(minutes, labels) of the cheapest way to the true cause in this drill; None where none was found."""
    asked, name = all_readings(hunt.rig), hunt.hidden.fault.name
    read = {each.check: each for each in hunt.hidden.read_all(asked)}
    looks = [read[each.check] for stop in STOPS for each in stop_readings(hunt.rig, stop)]
    keys = list(hunt.checks)
    ways = [way for count in range(3) for way in combinations(keys, count)]
    ways.sort(key=lambda way: (sum(hunt.costs[key] for key in way), len(way)))
    for way in (*ways[:_MOST_TRIED], tuple(keys)):
        taken = [read[each.check] for key in way for each in hunt.checks[key].asked(hunt.rig)]
        found = diagnose(hunt.rig, [*looks, *taken], checks=asked)
        if found.top.name == name and found.top.probability >= SURE:
            return float(sum(hunt.costs[key] for key in way)), tuple(hunt.checks[key].label for key in way)
    return None


def _way_words(way):
    if way is None:
        return "Even with every check, some doubt would have remained."
    minutes, labels = way
    looks = "gauge and return flow at every throttle, which cost no minutes,"
    if not labels:
        return f"The cheapest way: {looks} would have been enough."
    bought = " and ".join(label[0].lower() + label[1:] for label in labels)
    return f"The cheapest way found: {looks} then {bought}: {_counted(minutes, 'minute')}."


def _counted(count, one):
    return f"{count:g} {one}" if count == 1 else f"{count:g} {one}s"
