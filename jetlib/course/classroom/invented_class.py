"""A class that nobody sat in: invented progress of six seats, to show what a real folder of files would look like."""

import random

from jetlib.course.banks import registry as bank
from jetlib.course.classroom.class_progress import ClassProgress, Member
from jetlib.course.progress.export import Export
from jetlib.course.progress.record import Attempt, Record

_WHEN = "2030-05-06T09:00:00Z"


def invented_class(seed=1, seats=6, lessons=("01", "02", "03", "05")):
    """A ClassProgress: of each lesson every seat tries some exercises, some go wrong by mistakes from the banks."""
    rng = random.Random(seed)
    members = []
    for seat in range(1, seats + 1):
        skill, events = rng.uniform(0.3, 0.8), []
        for lesson in lessons[: rng.randint(2, len(lessons))]:
            for exercise in bank.exercises(lesson)[: rng.randint(4, 9)]:
                names = [mistake.name for mistake in exercise.mistakes]
                while len(events) < 400:
                    right = rng.random() < skill
                    status = "right" if right else "mistake" if names else "wrong"
                    mistake = names[0 if rng.random() < 0.6 else -1] if status == "mistake" else ""
                    key = f"{rng.getrandbits(48):012x}"
                    events.append(Attempt(exercise.id, len(events) + 1, status, mistake, _WHEN, key, len(events) + 1))
                    if right or rng.random() < 0.4:
                        break
        members.append(Member(f"seat {seat}", Export(f"seat {seat}", _WHEN, Record(tuple(events)))))
    return ClassProgress(tuple(members))
