"""The progress of a class, from a folder of files that its learners exported: who, what, which mistakes, what next.

What lies in such a folder comes from many hands. A file that is no progress is named with the reason and left out;
nothing in a file is run, and no link is followed.
"""

import contextlib
import gc
import os
import stat
from collections import Counter
from dataclasses import dataclass
from itertools import chain
from pathlib import Path

from jetlib.course.banks import registry as bank
from jetlib.course.progress.export import Export, read_export
from jetlib.course.store.csv_out import write_csv
from jetlib.errors import JetlibError
from jetlib.tables.atomic import reason

MOST_FILES = 300
HEADS = (
    "who",
    "lesson",
    "attempts",
    "done",
    "to review",
    "not tried",
    "most frequent mistakes",
    "to revisit",
    "written",
)
CSV_NAME = "class_progress.csv"
_LEAST = 2  # of a mistake or an exercise: one person's is that person's business, two are the class's


@dataclass(frozen=True)
class Member:
    """A learner: name to show (the label, or the file's name where there is none), and the Export."""

    who: str
    export: Export

    @property
    def record(self):
        return self.export.record

    def attempts(self, lesson):
        """How often exercises of a lesson were tried."""
        return sum(len(tries) for exercise, tries in self.record.by_exercise.items() if exercise[:2] == lesson)

    def tally(self, lesson):
        """The Tally of a lesson."""
        return self.record.tally(lesson, [exercise.id for exercise in bank.exercises(lesson)])

    def mistakes(self, lesson, count=3):
        """(name, times) of the mistakes made most in a lesson."""
        tries = (tries for exercise, tries in self.record.by_exercise.items() if exercise[:2] == lesson)
        made = (each.mistake for each in chain.from_iterable(tries) if each.mistake)
        return tuple(Counter(made).most_common(count))

    def to_revisit(self, lesson):
        """Titles of the exercises whose last try went wrong, in the order of the lesson."""
        return tuple(each.title for each in bank.exercises(lesson) if self.record.state(each.id) == "to review")


@dataclass(frozen=True)
class LessonOfClass:
    """A lesson over all members: exercises done, to review and not tried, and members who tried any of it."""

    lesson: str
    done: int
    to_review: int
    not_tried: int
    tried_by: int


@dataclass(frozen=True)
class ClassProgress:
    """`members` in order of their names; `skipped`: (file, why) of files that are left out."""

    members: tuple = ()
    skipped: tuple = ()

    def lessons(self):
        """A LessonOfClass for each lesson that somebody tried."""
        found = []
        for lesson in bank.lessons():
            tallies = [member.tally(lesson) for member in self.members]
            done, review = sum(each.done for each in tallies), sum(each.to_review for each in tallies)
            tried = sum(bool(each.done or each.to_review) for each in tallies)
            total = sum(each.total for each in tallies)
            if tried:
                found.append(LessonOfClass(lesson, done, review, total - done - review, tried))
        return tuple(found)

    def mistakes(self, lesson="", count=5):
        """(name, people, times) of the mistakes that most people made; lesson: of it alone."""
        people, times = Counter(), Counter()
        for member in self.members:
            made = [each.mistake for each in member.record.attempts if each.mistake and _of(each.exercise, lesson)]
            people.update(set(made))
            times.update(made)
        order = sorted(people, key=lambda name: (-people[name], -times[name], name))
        return tuple((name, people[name], times[name]) for name in order[:count])

    def to_revisit(self, lesson="", count=5):
        """(exercise, people) of the exercises that are still to be put right by most people, at least two."""
        stuck = Counter()
        for member in self.members:
            tried = [exercise for exercise in member.record.by_exercise if _of(exercise, lesson)]
            stuck.update(each for each in tried if member.record.state(each) == "to review")
        known = [each for each in bank.all_exercises() if stuck[each.id] >= min(_LEAST, len(self.members))]
        known.sort(key=lambda each: -stuck[each.id])
        return tuple((each, stuck[each.id]) for each in known[:count])

    def unknown(self):
        """How many tries are of exercises that this version of the course does not have."""
        known = {each.id for each in bank.all_exercises()}
        found = (pair for member in self.members for pair in member.record.by_exercise.items())
        return sum(len(tries) for exercise, tries in found if exercise not in known)

    def rows(self, lesson=""):
        """Rows under HEADS: a member and a lesson in each, for lessons that the member tried."""
        found = []
        for member in self.members:
            for number in (lesson,) if lesson else bank.lessons():
                tally = member.tally(number)
                if not member.attempts(number):
                    continue
                left = tally.total - tally.done - tally.to_review
                made = "; ".join(f"{name} ({times})" for name, times in member.mistakes(number))
                again = "; ".join(member.to_revisit(number))
                counts = (member.attempts(number), tally.done, tally.to_review, left)
                found.append((member.who, number, *counts, made, again, member.export.when))
        return tuple(found)

    def write(self, path):
        """Write all rows as CSV to a file, or into a folder; returns its Path. Raises JetlibError."""
        return write_csv(path, HEADS, self.rows(), name=CSV_NAME)


def read_class(folder):
    """The ClassProgress in a folder: every *.json file in it, not in folders below. Raises JetlibError."""
    place = Path(os.path.abspath(os.path.expanduser(folder)))
    try:
        names = sorted(name for name in os.listdir(place) if name.lower().endswith(".json") and name[0] != ".")
    except (OSError, ValueError) as error:
        raise JetlibError(f"folder {str(folder)!r}: {reason(error)}; write the folder that holds the files") from None
    exports, skipped = [], []
    with _uncollected():
        for name in names[:MOST_FILES]:
            try:
                if not stat.S_ISREG(os.lstat(place / name).st_mode):
                    raise JetlibError("not a plain file")
                exports.append((name, read_export(place / name)))
            except (JetlibError, OSError) as error:
                skipped.append((_shown(name), _why(name, error)))
    if len(names) > MOST_FILES:
        skipped.append((f"{len(names) - MOST_FILES} more files", f"only the first {MOST_FILES} are read"))
    return ClassProgress(*_members(exports, skipped))


@contextlib.contextmanager
def _uncollected():
    """Without the garbage collector: it would look through all events again and again while they come in."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


def _members(exports, skipped):
    """Of two files of one learner the fuller one counts. Two learners of one label are told apart by their files."""
    kept, file_of = [], {}  # file_of: an event's key -> the file that holds it
    for name, export in sorted(exports, key=lambda each: (-len(each[1].record.events), each[0])):
        keys = [event.key for event in export.record.events]
        fuller = next((file_of[key] for key in keys if key in file_of), None)
        if fuller is None:
            kept.append((name, export))
            file_of.update(dict.fromkeys(keys, name))
        else:
            skipped.append((_shown(name), f"an older file of the same learner as {_shown(fuller)}"))
    times = Counter(export.label for _, export in kept)
    members = []
    for name, export in kept:
        who = export.label or _shown(name.rsplit(".", 1)[0])
        if times[export.label] > 1 and export.label:
            who = f"{export.label} ({_shown(name.rsplit('.', 1)[0])})"
        members.append(Member(who, export))
    return tuple(sorted(members, key=lambda each: each.who.casefold())), tuple(sorted(skipped))


def _shown(name):
    """A file's name that cannot upset a table."""
    clean = "".join(mark if mark.isprintable() else "?" for mark in name)
    return clean if len(clean) <= 60 else f"{clean[:57]}..."


def _why(name, error):
    return reason(error).removeprefix(f"{name} is ").removesuffix("; ask for it again")


def _of(exercise, lesson):
    return not lesson or exercise[:2] == lesson
