"""A class of thirty whose files are as full as they can be: read, and added up for the trainer's page.

The floor is to read the same bytes as JSON and do nothing with them.
"""

import json
import secrets
import tempfile
import time
from pathlib import Path
from random import Random

from ratios import Ratio, printed

from jetlib.course.banks import registry as bank
from jetlib.course.classroom.class_progress import read_class
from jetlib.course.progress.record import MOST_EVENTS, Attempt, Record, to_bytes

SEATS = 30


def full_record(rng):
    """A Record with as many attempts as a file holds."""
    exercises, events = bank.all_exercises(), []
    for number in range(1, MOST_EVENTS + 1):
        exercise = rng.choice(exercises)
        mistake = rng.choice(["", *(each.name for each in exercise.mistakes)])
        status = "mistake" if mistake else rng.choice(["right", "wrong"])
        when = f"2026-01-01T08:{number // 60 % 60:02}:{number % 60:02}Z"
        events.append(Attempt(exercise.id, number % 50, status, mistake, when, secrets.token_hex(6), number))
    return Record(tuple(events))


def fill(folder):
    rng = Random(4)
    for seat in range(1, SEATS + 1):
        data = to_bytes(full_record(rng), exported="2026-01-01T12:00:00Z", label=f"seat{seat:02}")
        (folder / f"seat{seat:02}.json").write_bytes(data)


def add_up(whole):
    """What the trainer's page shows of a class."""
    return whole.lessons(), whole.mistakes(), whole.to_revisit(), whole.unknown(), whole.rows()


def best_of(times, do):
    """Shortest time of some, with a fresh start each: other programs only ever make it longer."""
    took = []
    for _ in range(times):
        began = time.perf_counter()
        result = do()
        took.append(time.perf_counter() - began)
    return min(took), result


def ratios():
    """(Ratios, sentences about them)."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        fill(folder)
        files = sorted(folder.iterdir())
        megabytes = sum(file.stat().st_size for file in files) / 1e6
        floor, _ = best_of(3, lambda: [len(json.loads(file.read_bytes())) for file in files])
        read, whole = best_of(3, lambda: read_class(folder))
    assert len(whole.members) == SEATS and not whole.skipped
    added, _ = best_of(1, lambda: add_up(whole))
    found = (
        Ratio(f"{SEATS} full exports read and checked / the same bytes as bare JSON", read / floor, 5.0),
        Ratio("what they add up to for the trainer's page / the same", added / floor, 4.0),
    )
    size = f"{SEATS} exports of {MOST_EVENTS:,} tries, {megabytes:.0f} MB"
    return found, (f"{size}: read in {read:.2f} s, added up in {added:.2f} s.",)


if __name__ == "__main__":
    print(printed(*ratios()))
