"""The end of the course: a class's final assessment on paper, and the final check of one learner on screen.

The assessment is the questions that a seed draws and the marks of a corrected sheet, typed in by the trainer. Marks are
kept as a seat's tries, in a file of their own beside the learners' exports; no name stands in it. The check is twenty
questions over all lessons and two callouts. It begins with the questions of an assessment, one of each lesson; the rest
goes by the learner's record, more of what went wrong before.
"""

import os
import random
import re
import secrets
from dataclasses import dataclass, field
from pathlib import Path

from jetlib.course.banks import registry as bank
from jetlib.course.callouts.kinds import kinds
from jetlib.course.callouts.review import reviewed
from jetlib.course.exercises.numeric import Numeric
from jetlib.course.progress.record import Attempt, Record, to_bytes
from jetlib.errors import JetlibError
from jetlib.tables.atomic import Unwritable, write_whole
from jetlib.units.refusal import cut

MARKS = "paper_marks"  # how the files of marks begin
QUESTIONS, CALLOUTS = 20, 2
APART = 1_000_000  # added to the seed of a check: its numbers are not those of any exercise in a lesson
_DUE, _MADE = 4.0, 2.0  # how much likelier what went wrong last, or ever, is asked; common practice, no source
_SAFE = "safe working"
_SEAT = re.compile(r"(?:seat\s*)?([0-9]{1,2})\s*[:,;]?\s+(.+)", re.IGNORECASE | re.DOTALL)
_MARK = re.compile(r"r|w|-|–|m([0-9]{1,2})", re.IGNORECASE)
_HOW = "r for right, w for wrong, m1 for the mistake M1 of the key, - for nothing written"


def assessment_exercises(seed):
    """The exercises of the assessment that `seed` draws, a tuple: a number from each lesson, then one on safe work."""
    rng = random.Random(f"final assessment {seed}")
    numbers = [
        rng.choice([each for each in bank.exercises(lesson) if isinstance(each, Numeric)]) for lesson in bank.lessons()
    ]
    return (*numbers, rng.choice([each for each in bank.all_exercises() if _SAFE in each.skills]))


def letters_of(exercise):
    """{name of a mistake: what a key calls it}, "M1" for the first that the exercise knows."""
    return {mistake.name: f"M{at}" for at, mistake in enumerate(exercise.mistakes, start=1)}


def marks_from(typed, seed, when):
    """(seat, its tries) of a typed line such as "seat 3: r r m1 w - r". Raises JetlibError.

    seed: the assessment's first seed; when: the time, as text.
    """
    found = _SEAT.fullmatch(typed.strip())
    if not found:
        raise JetlibError(f"{cut(typed)} has no seat and marks; write a line such as seat 3: r r m1 w - r")
    seat, marks = int(found[1]), found[2].replace(",", " ").split()
    asked = assessment_exercises(seed)
    if len(marks) != len(asked):
        raise JetlibError(f"seat {seat} has {len(marks)} marks; write one for each of the {len(asked)} questions")
    tries = []
    for number, (mark, exercise) in enumerate(zip(marks, asked, strict=True), start=1):
        read = _MARK.fullmatch(mark)
        if not read or (read[1] and not 1 <= int(read[1]) <= len(exercise.mistakes)):
            raise JetlibError(f"question {number}: {cut(mark)} is no mark of it; write {_HOW}")
        if mark in "-–":
            continue
        mistake = exercise.mistakes[int(read[1]) - 1].name if read[1] else ""
        status = "mistake" if mistake else "right" if mark.lower() == "r" else "wrong"
        tries.append(Attempt(exercise.id, seed, status, mistake, when, secrets.token_hex(6), len(tries) + 1))
    return seat, tuple(tries)


def keep_marks(folder, seat, tries, when):
    """Write a seat's marks beside the exports, in the place of those typed before; their Path. Raises JetlibError."""
    path = Path(os.path.abspath(os.path.expanduser(folder))) / f"{MARKS}_seat_{seat}.json"
    try:
        write_whole(path, to_bytes(Record(tries), exported=when, label=f"seat {seat}"))
    except Unwritable as problem:
        raise JetlibError(f"{path}: not written ({problem}); name a folder you can write to") from None
    return path


# --- the final check ---


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
