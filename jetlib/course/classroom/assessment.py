"""The final assessment: the questions that a seed draws, and the marks of a corrected sheet, typed in by the trainer.

Marks are kept as a seat's tries, in a file of their own beside the learners' exports. No name stands in it.
"""

import os
import random
import re
import secrets
from pathlib import Path

from jetlib.course.banks import registry as bank
from jetlib.course.exercises.numeric import Numeric
from jetlib.course.progress.record import Attempt, Record, to_bytes
from jetlib.errors import JetlibError
from jetlib.tables.atomic import Unwritable, write_whole
from jetlib.units.refusal import cut

MARKS = "paper_marks"  # how the files of marks begin
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
