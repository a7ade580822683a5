"""A class on paper: slips for the seats, who was there, how it did, a record for each person and for a final check.

Names by hand; no record licenses anybody.
"""

import datetime
from os import PathLike

from jetlib.course.banks import registry as bank
from jetlib.course.classroom.class_progress import PEOPLE_HEADS
from jetlib.course.pages.contents import lessons
from jetlib.errors import JetlibError
from jetlib.paper.page.document import INJECTION, MANUAL, Document, Section, write
from jetlib.paper.page.style import fill
from jetlib.paper.sheets.answers import checked_seats

NO_LICENSE = (
    "This record licenses nobody. It says what was practiced and answered in a course of numbers and pictures, and it "
    "does not authorize anybody to run a machine. The machine's manual, local codes and a licensed operator come "
    "before it. Names are written on this paper alone; the course keeps none."
)
_SOURCE = "what the learners handed in, and the marks that the trainer typed in"
_WEAK = 0.7  # of tries right, below which a skill is named as one to go over; common practice, no source
_MOST = 8  # rows of a list


def seat_slips(seats, *, system="US", paper="A4"):
    """The Document with a slip to cut out for each of `seats`. Raises JetlibError."""
    body = fill("slips", lines=(INJECTION, MANUAL), seats=checked_seats(seats))
    lead = "Cut along the lines; one for each seat."
    section = Section("Slips for the seats", body, "the seats, counted", None, lead)
    return Document(f"slips-{seats}-{system.lower()}", (section,), system, paper)


def attendance_list(seats, *, system="US", paper="A4"):
    """The Document to sign: a row for each of `seats`. Raises JetlibError."""
    rows = [(seat, None, None, None, None) for seat in range(1, checked_seats(seats) + 1)]
    body = fill("attendance", rows=rows, lines=(NO_LICENSE,))
    section = Section("Attendance", body, "the seats, counted", None)
    return Document(f"attendance-{seats}-{system.lower()}", (section,), system, paper)


def class_records(held, *, system="US", paper="A4"):
    """The Document of a ClassProgress: a table of the class, then a page for each person. Raises JetlibError."""
    if not held.members:
        raise JetlibError("nobody is in this class; read a folder with files of learners first")
    sections = (_of_class(held), *(_of_member(member) for member in held.members))
    return Document(f"class-records-{datetime.date.today():%Y-%m-%d}", sections, system, paper)


def print_records(held: object, folder: str | PathLike, *, system: str = "US", paper: str = "A4") -> list:
    """Write `class_records` of a class in `folder`: paths, HTML first, and PDF where a browser makes one.

    >>> from jetlib.course.classroom.class_progress import invented_class
    >>> print_records(invented_class(), "records")[0].suffix
    '.html'
    """
    return write(class_records(held, system=system, paper=paper), folder)


def check_record(check, *, system="US", paper="A4"):
    """The Document of a FinalCheck: what was done, on a page that licenses nobody."""
    body = fill("final_check", check=check, lines=(NO_LICENSE,))
    section = Section("Final check", body, "the first tries of one learner", check.seed, card=True, named=True)
    return Document(f"final-check-seed-{check.seed}-{system.lower()}", (section,), system, paper)


def print_check_record(check: object, folder: str | PathLike, *, system: str = "US", paper: str = "A4") -> list:
    """Write `check_record` of a FinalCheck in `folder`: paths, HTML first, and PDF where a browser makes one.

    >>> from jetlib.course.classroom.assessment import FinalCheck
    >>> print_check_record(FinalCheck(1, ()), "records")[0].suffix
    '.html'
    """
    return write(check_record(check, system=system, paper=paper), folder)


def _of_class(held):
    skills, mistakes = held.skills()[: 2 * _MOST], held.mistakes(count=2 * _MOST)
    body = fill("of_class", people=[row[:7] for row in held.people()], skills=skills, mistakes=mistakes)
    lead = f"{datetime.date.today():%Y-%m-%d}. {len(held.members)} people; {PEOPLE_HEADS[3]}: the last try was right."
    return Section("How the class did", body, _SOURCE, None, lead, card=True)


def _of_member(member):
    titles = {page.number: page.title for page in lessons()}
    rows = []
    for lesson in bank.lessons():
        if member.attempts(lesson):
            tally = member.tally(lesson)
            counts = (member.attempts(lesson), tally.done, tally.to_review, tally.total)
            rows.append((f"{lesson} {titles[lesson]}", *counts))
    weak = [(right / of, skill) for skill, (right, of) in member.skills().items() if right < _WEAK * of]
    told = {
        "Final assessment": [member.assessed or "Not taken, or no marks typed in"],
        "Skills to go over": [skill for _, skill in sorted(weak)[:_MOST]],
        "Mistakes made most": [f"{name} ({times})" for name, times in member.mistakes(count=_MOST)],
        "Exercises to revisit": member.to_revisit()[:_MOST],
    }
    body = fill("of_member", rows=rows, told=told, lines=(NO_LICENSE,))
    return Section(f"Record of {member.who}", body, _SOURCE, None, card=True, named=True)
