"""A callout dealt by a seed: its numbers, what the customer gets wrong, and the surprise.

The same kind, seed and number of the try give the same callout. A second try has the same drain and another surprise.
"""

import random
from dataclasses import dataclass
from functools import lru_cache

from jetlib.course.callouts.kinds import keyed, kind
from jetlib.course.callouts.wall import Setup, plan_from
from jetlib.course.classroom.hidden_fault.deal import HiddenFault, read_seed
from jetlib.course.exercises.words import picked
from jetlib.rig.diagnosis.faults import FAULTS
from jetlib.units import si, text


@dataclass(frozen=True, eq=False)
class Dealt:
    """A callout as it is dealt. again: number of the try, 0 for the first. drawn: run, fall, fill, block (a share of
    the run). wrong: key of the question that is answered wrongly, or "". surprise, severity: what is hidden."""

    kind: object
    seed: int
    again: int
    drawn: dict
    wrong: str
    surprise: object
    severity: float
    noise: int

    def said(self, words, system):
        """Words of the kind with their lengths in; "[ft|m]" is one or the other."""
        run = si(self.drawn["run"], "length")
        told = {"run": run, "block": 5 * round(run * self.drawn["block"] / 5)}
        return picked(words, system).format_map({name: text(each, "length", system, 2) for name, each in told.items()})

    def call(self, system):
        """What the customer says."""
        return self.said(self.kind.call, system)

    def answer(self, key, system):
        """What is answered to a question."""
        asked = self.question(key)
        return self.said(asked.wrong if key == self.wrong else asked.answer, system)

    def question(self, key):
        """The Question of that key; JetlibError for none."""
        return keyed(self.kind.questions, key, "question")

    @property
    def fill(self):
        """What the filling hose is said to give, m3/s."""
        return float(si(self.drawn["fill"], "flow"))

    @property
    def truth(self):
        """What was hidden, a sentence."""
        fault = FAULTS[self.surprise.fault or "healthy"]
        size = "" if fault.low == fault.high else f" ({fault.measured(self.severity)})"
        return f"{self.surprise.words.rstrip('.')}{size}."

    def plan(self, setup):
        """The Plan of a Setup for this callout."""
        return _plan(self.kind.id, tuple((name, self.drawn[name]) for name in ("run", "fall", "fill")), setup)

    def hidden(self, rig, *, there):
        """The HiddenFault of the rig at the job: that of the surprise, where it is `there` already, or none."""
        fault = FAULTS[self.surprise.fault or "healthy"] if there else FAULTS["healthy"]
        return HiddenFault(rig, fault, self.severity if fault.name != "healthy" else 0.0, self.noise)

    @property
    def good(self):
        """The Setup of the kind that works."""
        return Setup(**self.kind.good)


@lru_cache(maxsize=256)
def _plan(name, drawn, setup):
    made = kind(name)
    return plan_from(setup, made.drain, dict(drawn), name=made.title)


def deal(name, seed, again=0):
    """The Dealt that a seed (0 to 999999) gives of a kind (its id); again: 1, 2, … for another try."""
    seed, made = read_seed(seed), kind(name)
    rng = random.Random(f"callout {made.id} {seed}")
    drawn = {field: rng.choice(made.drain[field]) or "0 gpm" for field in ("run", "fall", "fill")}
    drawn["block"] = round(rng.uniform(*made.drain["block"]), 2)
    mistaken = [each.key for each in made.questions if each.wrong]
    wrong = rng.choice([*mistaken, ""]) if mistaken else ""
    surprises = list(made.surprises)
    rng.shuffle(surprises)
    surprise = surprises[again % len(surprises)]
    rng = random.Random(f"callout {made.id} {seed} {again}")
    severity = round(rng.uniform(*surprise.size), 2) if surprise.size else 0.0
    return Dealt(made, seed, again, drawn, wrong, surprise, severity, rng.randrange(2**32))
