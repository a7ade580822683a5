"""The progress of a class, from a folder of files that its learners exported: who, what, which mistakes, what next.

What lies in such a folder comes from many hands. A file that is no progress is named with the reason and left out;
nothing in a file is run, and no link is followed.
"""

import gc
import os
import random
import stat
from collections import Counter
from dataclasses import dataclass, field, replace
from pathlib import Path

from jetlib.course.banks import registry as bank
from jetlib.course.classroom.assessment import MARKS
from jetlib.course.progress.export import Export, read_export
from jetlib.course.progress.record import Attempt, Record
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
PEOPLE_HEADS = ("who", "lessons tried", *HEADS[2:5], "assessment", *HEADS[6:])
CSV_NAME, PEOPLE_NAME = "class_progress.csv", "class_people.csv"
_FEW = 3  # exercises that a row for a person names
_LEAST = 2  # of a mistake or an exercise: one person's is that person's business, two are the class's


@dataclass(frozen=True)
class Member:
    """A learner: name to show (the label, or the file's name where there is none), and the Export.

    paper: the Record of the final assessment on paper, as its marks were typed in; the export holds its tries too.
    """

    who: str
    export: Export
    paper: Record = field(default_factory=Record)

    @property
    def record(self):
        return self.export.record

    @property
    def assessed(self):
        """ "9 of 12 right" in the final assessment; "" where no marks were typed in."""
        right = sum(each.status == "right" for each in self.paper.attempts)
        return f"{right} of {len(bank.lessons()) + 1} right" if self.paper.attempts else ""

    def tries(self, lesson=""):
        """The attempts at exercises of a lesson, or of all, a list, exercise by exercise."""
        held = self.record.by_exercise.items()
        return [each for exercise, tries in held if exercise.startswith(lesson) for each in tries]

    def attempts(self, lesson=""):
        """How often exercises of a lesson, or of all, were tried."""
        return len(self.tries(lesson))

    def tally(self, lesson):
        """The Tally of a lesson."""
        return self.record.tally(lesson, [exercise.id for exercise in _exercises(lesson)])

    def mistakes(self, lesson="", count=3):
        """(name, times) of the mistakes made most in a lesson, or in all."""
        return tuple(Counter(each.mistake for each in self.tries(lesson) if each.mistake).most_common(count))

    def to_revisit(self, lesson=""):
        """Titles of the exercises whose last try went wrong, in the order of the lesson, or of all."""
        return tuple(each.title for each in _exercises(lesson) if self.record.state(each.id) == "to review")

    def row(self, said, lesson="", *, instead=None, most=None):
        """A row of a table: who, the lessons `said`, tries, done, to review, not tried (or what is said `instead`),
        mistakes, up to `most` titles to revisit, when it was written; of a lesson, or of all."""
        tallies = [self.tally(number) for number in ([lesson] if lesson else bank.lessons())]
        done, review, total = _sums(tallies)
        sixth = total - done - review if instead is None else instead
        made, again = _listed(self.mistakes(lesson)), "; ".join(self.to_revisit(lesson)[:most])
        return (self.who, said, self.attempts(lesson), done, review, sixth, made, again, self.export.when)

    def skills(self, lesson=""):
        """{skill: (right, tries)} of the exercises tried."""
        right, of = Counter(), Counter()
        for each in _exercises(lesson):
            for one in self.record.tries(each.id):
                of.update(each.skills)
                right.update(each.skills if one.status == "right" else ())
        return {skill: (right[skill], tries) for skill, tries in of.items()}


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
            tried = [each for each in tallies if each.done or each.to_review]
            done, review, total = _sums(tallies)
            if tried:
                found.append(LessonOfClass(lesson, done, review, total - done - review, len(tried)))
        return tuple(found)

    def mistakes(self, lesson="", count=5):
        """(name, people, times) of the mistakes that most people made; lesson: of it alone."""
        people, times = Counter(), Counter()
        for member in self.members:
            made = [each.mistake for each in member.tries(lesson) if each.mistake]
            people.update(set(made))
            times.update(made)
        order = sorted(people, key=lambda name: (-people[name], -times[name], name))
        return tuple((name, people[name], times[name]) for name in order[:count])

    def to_revisit(self, lesson="", count=5):
        """(exercise, people) of the exercises that are still to be put right by most people, at least two."""
        least, stuck = min(_LEAST, len(self.members)) or 1, []
        for each in _exercises(lesson):
            people = sum(member.record.state(each.id) == "to review" for member in self.members)
            if people >= least:
                stuck.append((each, people))
        return tuple(sorted(stuck, key=lambda pair: -pair[1])[:count])

    def skills(self, lesson=""):
        """(skill, people, right, tries), the one that goes wrong most first."""
        found = {}
        for member in self.members:
            for skill, (right, tries) in member.skills(lesson).items():
                people, was_right, were = found.get(skill, (0, 0, 0))
                found[skill] = (people + 1, was_right + right, were + tries)
        rows = ((skill, *counts) for skill, counts in found.items())
        return tuple(sorted(rows, key=lambda row: (row[2] / row[3], -row[3], row[0])))

    def people(self):
        """Rows under PEOPLE_HEADS: one for each member, over all lessons, and the totals of the class last."""
        if not self.members:
            return ()
        rows = []
        for member in self.members:
            tried = ", ".join(lesson for lesson in bank.lessons() if member.attempts(lesson))
            rows.append(member.row(tried, instead=member.assessed, most=_FEW))
        sums = [sum(row[at] for row in rows) for at in (2, 3, 4)]
        made = _listed((name, times) for name, _, times in self.mistakes(count=3))
        taken = [member.paper for member in self.members if member.paper.attempts]
        right = sum(each.status == "right" for record in taken for each in record.attempts)
        average = f"{right / len(taken):.1f} right on average" if taken else ""
        total = ("the class", ", ".join(each.lesson for each in self.lessons()), *sums, average, made, "", "")
        return (*rows, total)

    def unknown(self):
        """How many tries are of exercises that this version of the course does not have."""
        known = {each.id for each in bank.all_exercises()}
        return sum(each.exercise not in known for member in self.members for each in member.record.attempts)

    def rows(self, lesson=""):
        """Rows under HEADS: a member and a lesson in each, for lessons that the member tried."""
        lessons = (lesson,) if lesson else bank.lessons()
        pairs = ((member, number) for member in self.members for number in lessons)
        return tuple(member.row(number, number) for member, number in pairs if member.attempts(number))

    def write(self, path):
        """Write all rows as CSV to a file, or into a folder, and a row for each person beside it; returns the Path of
        the first. Raises JetlibError."""
        path = write_csv(path, HEADS, self.rows(), name=CSV_NAME)
        write_csv(path.parent, PEOPLE_HEADS, self.people(), name=PEOPLE_NAME)
        return path


def read_class(folder):
    """The ClassProgress in a folder: every *.json file in it, not in folders below. Raises JetlibError."""
    place = Path(os.path.abspath(os.path.expanduser(folder)))
    try:
        names = sorted(name for name in os.listdir(place) if name.lower().endswith(".json") and name[0] != ".")
    except (OSError, ValueError) as error:
        raise JetlibError(f"folder {str(folder)!r}: {reason(error)}; write the folder that holds the files") from None
    exports, skipped, collected = [], [], gc.isenabled()
    gc.disable()  # it would look through all events again and again while they come in
    try:
        for name in names[:MOST_FILES]:
            try:
                if not stat.S_ISREG(os.lstat(place / name).st_mode):
                    raise JetlibError("not a plain file")
                exports.append((name, read_export(place / name)))
            except (JetlibError, OSError) as error:
                why = reason(error).removeprefix(f"{name} is ").removesuffix("; ask for it again")
                skipped.append((_shown(name), why))
    finally:
        if collected:
            gc.enable()
    if len(names) > MOST_FILES:
        skipped.append((f"{len(names) - MOST_FILES} more files", f"only the first {MOST_FILES} are read"))
    return ClassProgress(*_members(exports, skipped))


def _members(exports, skipped):
    """Of two files of one learner the fuller one counts. Two learners of one label are told apart by their files."""
    kept, file_of = [], {}  # file_of: an event's key -> the file that holds it
    paper = {export.label: export for name, export in exports if name.startswith(MARKS)}
    exports = [(name, export) for name, export in exports if not name.startswith(MARKS)]
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
        who = file = _shown(name.rsplit(".", 1)[0])
        if export.label:
            who = export.label if times[export.label] == 1 else f"{export.label} ({file})"
        members.append(_with_marks(Member(who, export), paper.pop(export.label.casefold(), None)))
    members += [_with_marks(Member(label, Export(label, each.when, Record())), each) for label, each in paper.items()]
    return tuple(sorted(members, key=lambda each: each.who.casefold())), tuple(sorted(skipped))


def _with_marks(member, marks):
    """The Member with the tries of the assessment on paper, an Export or None, after its own."""
    if marks is None:
        return member
    record = member.record.with_events(marks.record.events)
    return replace(member, export=replace(member.export, record=record), paper=marks.record)


def _shown(name):
    """A file's name that cannot upset a table."""
    clean = "".join(mark if mark.isprintable() else "?" for mark in name)
    return clean if len(clean) <= 60 else f"{clean[:57]}..."


def _sums(tallies):
    """(done, to review, in all) of several tallies."""
    counts = [(each.done, each.to_review, each.total) for each in tallies]
    return tuple(map(sum, zip((0, 0, 0), *counts, strict=True)))


def _exercises(lesson):
    return bank.exercises(lesson) if lesson else bank.all_exercises()


def _listed(mistakes):
    """(name, times) of mistakes in one cell of a table."""
    return "; ".join(f"{name} ({times})" for name, times in mistakes)


def invented_class(seed=1, seats=6, lessons=("01", "02", "03", "05")):
    """A ClassProgress of a class that nobody sat in, to show what a real one would look like.

    Of each lesson every seat tries some exercises, and some go wrong by mistakes from the banks.
    """
    rng, when, members = random.Random(seed), "2030-05-06T09:00:00Z", []
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
                    events.append(Attempt(exercise.id, len(events) + 1, status, mistake, when, key, len(events) + 1))
                    if right or rng.random() < 0.4:
                        break
        members.append(Member(f"seat {seat}", Export(f"seat {seat}", when, Record(tuple(events)))))
    return ClassProgress(tuple(members))
