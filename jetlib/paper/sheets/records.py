"""The end of a class on paper: who was there, how the class did, and a record for each person. Names by hand alone."""

import datetime
from os import PathLike

from jetlib.course.banks import registry as bank
from jetlib.course.classroom.class_progress import PEOPLE_HEADS
from jetlib.course.pages.contents import lessons
from jetlib.errors import JetlibError
from jetlib.paper.page.document import Document, Section, require, write
from jetlib.paper.page.style import caution, fill, table
from jetlib.paper.sheets.answers import checked_seats

NO_LICENSE = (
    "This record licenses nobody. It says what was practiced and answered in a course of numbers and pictures, and it "
    "does not authorize anybody to run a machine. The machine's manual, local codes and a licensed operator come "
    "before it. Names are written on this paper alone; the course keeps none."
)
_SOURCE = "what the learners handed in, and the marks that the trainer typed in"
_WEAK = 0.7  # of tries right, below which a skill is named as one to go over; common practice, no source
_MOST = 8  # rows of a list


def attendance_list(seats, *, system="US", paper="A4"):
    """The Document to sign: a row for each of `seats`. Raises JetlibError."""
    require(system, paper)
    rows = [(f"{seat}", None, None, None, None) for seat in range(1, checked_seats(seats) + 1)]
    heads = ("Seat", "Name", "Signed in the morning", "Signed in the afternoon", "Assessment")
    body = _lines("Date", "Session", "Trainer") + table(heads, rows, style="wide fixed", widths=(8, 30, 23, 23, 16))
    section = Section("Attendance", body + caution(NO_LICENSE), "the seats, counted", None)
    return Document(f"attendance-{seats}-{system.lower()}", (section,), system, paper)


def class_records(held, *, system="US", paper="A4"):
    """The Document of a ClassProgress: a table of the class, then a page for each person. Raises JetlibError."""
    require(system, paper)
    if not held.members:
        raise JetlibError("nobody is in this class; read a folder with files of learners first")
    sections = (_of_class(held), *(_of_member(member) for member in held.members))
    return Document(f"class-records-{datetime.date.today():%Y-%m-%d}", sections, system, paper)


def print_records(held: object, folder: str | PathLike, *, system: str = "US", paper: str = "A4") -> list:
    """Write `class_records` of a class in `folder`: paths, HTML first, and PDF where a browser makes one.

    >>> from jetlib.course.classroom.invented_class import invented_class
    >>> print_records(invented_class(), "records")[0].suffix
    '.html'
    """
    return write(class_records(held, system=system, paper=paper), folder)


def _of_class(held):
    *people, total = held.people()
    heads = ("Who", "Lessons", "Tries", "Done", "Review", "Assessment", "Mistakes made most")
    rows = [(*map(str, row[:6]), row[6]) for row in (*people, total)]
    parts = [
        table(heads, rows, numbers=(2, 3, 4), style="wide close fixed", widths=(15, 16, 8, 8, 9, 13, 31)),
        '<div class="two"><h2>By skill, the weakest first</h2>',
        table(
            ("Skill", "People", "Right", "Of tries"),
            [(skill, *map(str, counts)) for skill, *counts in held.skills()[: 2 * _MOST]],
            numbers=(1, 2, 3), style="close",
        ),
        "<h2>By mistake</h2>",
        table(
            ("Mistake", "People", "Times"),
            [(name, *map(str, counts)) for name, *counts in held.mistakes(count=2 * _MOST)],
            numbers=(1, 2), style="close",
        ) + "</div>",
    ]  # fmt: skip
    lead = f"{datetime.date.today():%Y-%m-%d}. {len(held.members)} people; {PEOPLE_HEADS[3]}: the last try was right."
    return Section("How the class did", "\n".join(parts), _SOURCE, None, lead, card=True)


def _of_member(member):
    titles = {page.number: page.title for page in lessons()}
    rows = []
    for lesson in bank.lessons():
        if member.attempts(lesson):
            tally = member.tally(lesson)
            counts = (member.attempts(lesson), tally.done, tally.to_review, tally.total)
            rows.append((f"{lesson} {titles[lesson]}", *map(str, counts)))
    told = [f"<b>Final assessment.</b> {member.assessed or 'Not taken, or no marks typed in'}."]
    weak = [(right / of, skill) for skill, (right, of) in member.skills().items() if right < _WEAK * of]
    if weak:
        told.append(f"<b>Skills to go over.</b> {_listed([skill for _, skill in sorted(weak)[:_MOST]])}.")
    if made := member.mistakes(count=_MOST):
        told.append(f"<b>Mistakes made most.</b> {_listed([f'{name} ({times})' for name, times in made])}.")
    if again := member.to_revisit()[:_MOST]:
        told.append(f"<b>Exercises to revisit.</b> {_listed(again)}.")
    heads = ("Lesson", "Tries", "Done", "To review", "Exercises")
    parts = [
        "<h2>Attended</h2>",
        table(("Date", "From", "To", "Trainer's initials"), [(None,) * 4] * 3, style="wide fixed", row_heads=False),
        "<h2>Practiced</h2>",
        table(heads, rows, numbers=(1, 2, 3, 4), style="wide close") if rows else "<p>Nothing was handed in.</p>",
        *(f"<p>{words}</p>" for words in told),
        caution(NO_LICENSE),
        _lines("Date", "Trainer", "Learner"),
    ]
    return Section(f"Record of {member.who}", "\n".join(parts), _SOURCE, None, card=True, named=True)


def _lines(*asked):
    """Lines to write on, beside one another."""
    cells = "&emsp;".join(f'{each} <span class="fill half"></span>' for each in asked)
    return f'<p class="answer">{cells}</p>'


def _listed(words):
    return fill("plain", words="; ".join(words))
