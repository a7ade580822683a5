"""The final check of one learner: twenty questions over all lessons, more of what went wrong before, two callouts.

It begins with the questions of a class's final assessment, one of each lesson; the rest goes by the learner's record.
"""

import random
from dataclasses import dataclass, field

from jetlib.course.banks import registry as bank
from jetlib.course.callouts.kinds import kinds
from jetlib.course.callouts.review import reviewed
from jetlib.course.classroom.assessment import assessment_exercises
from jetlib.course.progress.record import Record

QUESTIONS, CALLOUTS = 20, 2
APART = 1_000_000  # added to the seed of a check: its numbers are not those of any exercise in a lesson
_DUE, _MADE = 4.0, 2.0  # how much likelier what went wrong last, or ever, is asked; common practice, no source


def check_exercises(record, seed):
    """The exercises of the check that `seed` draws for a learner's Record, a tuple of QUESTIONS.

    Once it has been begun, what was done since counts for nothing: it is the same check when it goes on later.
    """
    begun = next((at for at, each in enumerate(record.events) if getattr(each, "seed", None) == APART + seed), None)
    record = Record(record.events[:begun])
    rng = random.Random(f"final check {seed}")
    found = list(assessment_exercises(seed))
    due, wrong = set(record.due()), {each.exercise for each in record.attempts if each.status != "right"}
    left = [each for each in bank.all_exercises() if each not in found]
    weights = [1.0 + _DUE * (each.id in due) + _MADE * (each.id in wrong) for each in left]
    while len(found) < QUESTIONS:
        at = rng.choices(range(len(left)), weights)[0]
        found.append(left.pop(at))
        weights.pop(at)
    return tuple(sorted(found[:QUESTIONS], key=lambda each: each.lesson))


def answered(record, exercises, seed):
    """{id: first try} of the exercises that were answered in the check of `seed` before, of a learner's Record."""
    tries = {each.id: [one for one in record.tries(each.id) if one.seed == APART + seed] for each in exercises}
    return {name: found[0] for name, found in tries.items() if found}


def check_callouts(seed):
    """The two callouts of the check, ids of kinds: two different ones, of which one is a job to be done."""
    rng = random.Random(f"final check {seed} callouts")
    jobs = [name for name, kind in kinds().items() if kind.right == "go"]
    first = rng.choice(jobs)
    return first, rng.choice([name for name in kinds() if name != first])


@dataclass
class FinalCheck:
    """A check under way. replies: {id of an exercise: its first try, a Verdict or an Attempt}. plays: callouts that
    ended."""

    seed: int
    exercises: tuple
    replies: dict = field(default_factory=dict)
    plays: list = field(default_factory=list)

    def attempt(self, exercise, seed, verdict):
        """Take a try at an exercise, as a Progress does; the first one counts."""
        if verdict.attempted:
            self.replies.setdefault(exercise, verdict)

    @property
    def right(self):
        """How many of the first tries were right."""
        return sum(verdict.status == "right" for verdict in self.replies.values())

    @property
    def mistakes(self):
        """Names of the mistakes made, a tuple."""
        return tuple(sorted({verdict.mistake for verdict in self.replies.values() if verdict.mistake}))

    @property
    def rows(self):
        """(lesson, title, how it went) of each question."""
        words = {each.id: "not answered" for each in self.exercises}
        words |= {name: "wrong" if said.status == "mistake" else said.status for name, said in self.replies.items()}
        return tuple((each.lesson, each.title, words[each.id]) for each in self.exercises)

    @property
    def callouts(self):
        """(title, safety, diagnosis, work) of each callout that was played to its end, as words."""
        return tuple(
            (play.dealt.kind.title, *(f"{'✔' if good else '✘'} {words}" for _, good, words in reviewed(play).marks))
            for play in self.plays
        )

    @property
    def summary(self):
        """What was done, a sentence."""
        safe = sum(play.end.safe for play in self.plays)
        return (
            f"{len(self.replies)} of {len(self.exercises)} questions answered, {self.right} right at the first try. "
            f"{len(self.plays)} of {CALLOUTS} callouts played to the end, {safe} of them safely."
        )
