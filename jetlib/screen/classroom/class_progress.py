"""The progress of a class on the trainer's page: exports and marks in; a chart, tables, CSV and printed records out."""

from collections.abc import Callable
from datetime import UTC, datetime
from html import escape

import ipywidgets as widgets

from jetlib.course.banks import registry as bank
from jetlib.course.classroom.assessment import keep_marks, marks_from
from jetlib.course.classroom.class_progress import HEADS, PEOPLE_HEADS, invented_class, read_class
from jetlib.course.pages.contents import lessons as pages_of_lessons
from jetlib.course.store.locked_folder import home
from jetlib.errors import JetlibError
from jetlib.screen.controls.card import Card
from jetlib.screen.controls.pieces import (
    WIDE,
    bundle,
    button,
    card,
    entry,
    folded,
    framed,
    heading,
    link,
    paragraphs,
    row,
)
from jetlib.screen.drawing.chart import text
from jetlib.screen.drawing.filled import filled
from jetlib.screen.drawing.picture import Picture
from jetlib.units import entry as typed

_WIDTH, _LEFT, _SPAN, _ROW, _TOP = 900, 290, 590, 40, 58
#: Name, colour and how strongly it is filled, of the parts of a bar: told apart by number, fill and hatching too.
_PARTS = (("done", "green", 0.55), ("to review", "orange", 0.3), ("not tried", "grey", 0.0))
_fill = filled(__file__)
_FIRST = (
    "An invented class of six, to show what you will see. Name the folder that holds the files of your own class and "
    "read it."
)


def class_progress(print_records: Callable | None = None, *, system: str | None = None) -> "ClassConsole":
    """The ClassConsole, with an invented class in it until a folder has been read.

    print_records: what writes the records to print, `jetlib.print_records`.
    """
    return ClassConsole(print_records, system=system)


class ClassConsole(Card):
    """Folder, lesson, marks and CSV file as controls; `held` is the ClassProgress shown, `words` says what it shows."""

    def __init__(self, print_records=None, *, system=None):
        super().__init__(system)
        self.held, self._print_records = invented_class(), print_records
        self._folder = entry("Folder of files", "where their files are", self.read)
        lessons = [("all lessons", ""), *((f"{number} {_title(number)}", number) for number in bank.lessons())]
        self._lesson = widgets.Dropdown(options=lessons, value="", description="Lesson", style=WIDE)
        self._lesson.observe(lambda _: self._show(), names="value")
        self._csv = entry("CSV file or folder", "empty: into the same folder", self.write)
        self._marks = entry("Marks from paper", "seat 3: r r m1 w - r … (Enter)", self.mark)
        self._seed = entry("of the assessment with first seed", "1")
        self._picture, self._table, self._skipped, self._link = (widgets.HTML() for _ in range(4))
        records = [button("Lay out records to print", self.print)] if print_records else []
        self._say(_FIRST)
        self.box = card(
            "Progress of a class",
            row(self._folder, button("Read the folder", self.read), self._lesson),
            row(self._marks, self._seed),
            self._said,
            self._skipped,
            self._picture,
            self._table,
            row(self._csv, button("Write CSV", self.write), *records),
            self._link,
        )
        self._show()

    @property
    def words(self):
        """What the chart shows, in sentences."""
        return class_words(self.held, self._lesson.value)

    def read(self):
        """Read the folder named; when that cannot be done, what is shown stays."""
        place = self._folder.value.strip()
        if not place:
            self._say("Write the folder that holds the files of your learners.")
            return
        with self._refusing("Not read. {}."):
            self.held = read_class(place)
            left_out = len(self.held.skipped)
            lost = f", {_counted(left_out, 'file')} left out" if left_out else ""
            self._say(f"{_counted(len(self.held.members), 'learner')} read{lost}.")
            self._show()

    def mark(self):
        """Keep the marks typed for one seat beside the files that were read, and read them anew."""
        place, when = self._folder.value.strip(), datetime.now(UTC).isoformat(timespec="seconds")
        with self._refusing("No marks taken: {}."):
            if not place:
                raise JetlibError("the marks are kept beside the files of your learners; name their folder first")
            seed = typed.count(self._seed.value, 0, 999_999) if self._seed.value.strip() else 1
            seat, tries = marks_from(self._marks.value, seed, when)
            keep_marks(place, seat, tries, when)
            self.read()
            self._marks.value = ""
            right = sum(each.status == "right" for each in tries)
            self._say(f"Seat {seat}: {right} right. Type the marks of the next seat.")

    def print(self):
        """Lay out the table of the class and a record for each person, as one file."""
        with self._refusing("Nothing was laid out: {}."):
            paths = self._print_records(self.held, home() / "prints", system=self.system)
            self._say(f"Laid out: {paths[-1]}. The first page is yours; then comes a page for each person.")
            self._link.value = link(paths[-1])

    def write(self):
        """Write the table of all lessons as CSV, if a folder has been read or a file is named.

        In a folder there are two: a row for each person and lesson, and one with a row for each person.
        """
        place = self._csv.value.strip() or self._folder.value.strip()
        with self._refusing("Not written. {}."):
            if not place:
                raise JetlibError("Write the name of a file or a folder")
            self._say(f"Written to {self.held.write(place)}, and a row for each person beside it.")

    def _show(self):
        lesson = self._lesson.value
        self._picture.value = class_picture(self.held, lesson).svg()
        findings = "".join(map(paragraphs, _finding_words(self.held, lesson)))
        self._table.value = findings + _tables(self.held, lesson)
        left_out = "".join(f"<li>{escape(name)}: {escape(why)}</li>" for name, why in self.held.skipped)
        self._skipped.value = folded(f"Left out: {len(self.held.skipped)}", f"<ul>{left_out}</ul>") if left_out else ""

    def _repr_mimebundle_(self, include=None, exclude=None):
        shown = class_picture(self.held, self._lesson.value)
        body = heading("Progress of a class") + paragraphs(_FIRST) + shown.image() + _tables(self.held)
        return bundle(self.box, f"Progress of a class\n\n{_FIRST}\n\n{self.words}", framed(body))


def class_words(held, lesson=""):
    """A ClassProgress in sentences: how far, the mistakes most made, what to revisit."""
    if not held.members:
        return "Nobody is in this class yet."
    told = [
        f"Lesson {each.lesson}: tried by {each.tried_by}; of all its exercises {each.done} done, "
        f"{each.to_review} to review, {each.not_tried} not tried."
        for each in _of(held, lesson)
    ]
    nobody = "Nobody has tried this lesson." if lesson else "Nobody has tried anything yet."
    return " ".join([f"{_counted(len(held.members), 'learner')}.", *(told or [nobody]), *_finding_words(held, lesson)])


def _of(held, lesson):
    """The LessonOfClass rows of a class, of one lesson or of all."""
    return [each for each in held.lessons() if not lesson or each.lesson == lesson]


def class_picture(held, lesson=""):
    """The Picture of a ClassProgress: a bar for each lesson, cut into done, to review and not tried."""
    shown = _of(held, lesson)
    content, x = [_HATCHING, text(14, 22, "Exercises of all learners together", weight="bold", size=17)], _LEFT
    for name, colour, fill in _PARTS:
        content.append(_piece(x, 32, 26, 16, colour, fill))
        content.append(text(x + 32, 46, name, size=15))
        x += 60 + 9 * len(name)
    for at, each in enumerate(shown):
        y, x = _TOP + _ROW * at, float(_LEFT)
        content.append(text(14, y + 22, f"{each.lesson} {_title(each.lesson)}", size=16))
        counts = (each.done, each.to_review, each.not_tried)
        for count, (_, colour, fill) in zip(counts, _PARTS, strict=True):
            wide = _SPAN * count / sum(counts)
            if count:
                content.append(_piece(x, y, wide, 30, colour, fill))
            if wide > 11 * len(str(count)):
                content.append(text(x + wide / 2, y + 21, str(count), anchor="middle", weight="bold", size=16))
            x += wide
    if not shown:
        content.append(text(14, _TOP + 22, "No tries yet.", size=16))
    return Picture("".join(content), _WIDTH, _TOP + _ROW * max(len(shown), 1), class_words(held, lesson))


_HATCHING = (
    '<defs><pattern id="jl-class-hatch" width="7" height="7" patternUnits="userSpaceOnUse" '
    'patternTransform="rotate(45)">'
    '<line class="jl-line-orange" x1="0" y1="0" x2="0" y2="7" stroke-width="2.4"/></pattern></defs>'
)


def _piece(x, y, width, height, colour, fill):
    """A box of a bar; what is to review is hatched, what was not tried is empty."""
    box = f'x="{x:.1f}" y="{y}" width="{width:.1f}" height="{height}"'
    inside = f'<rect class="jl-ink-{colour}" fill-opacity="{fill}" {box}/>' if fill else ""
    if colour == "orange":
        inside = f'<rect fill="url(#jl-class-hatch)" fill-opacity="0.75" {box}/>'
    return f'{inside}<rect fill="none" stroke="currentColor" {box}/>'


def _finding_words(held, lesson):
    found = []
    if made := held.mistakes(lesson):
        listed = "; ".join(
            f"{name} ({_counted(people, 'person', 'people')}, {'once' if times == 1 else f'{times} times'})"
            for name, people, times in made
        )
        found.append(f"The mistakes that most people made: {listed}.")
    if again := held.to_revisit(lesson):
        listed = "; ".join(
            f"{each.lesson} {each.title} ({_counted(people, 'person', 'people')})" for each, people in again
        )
        found.append(f"To revisit with the class: {listed}.")
    if held.unknown():
        found.append(f"{_counted(held.unknown(), 'try is', 'tries are')} of exercises that this course does not have.")
    return found


def _tables(held, lesson=""):
    """A row for each person, of one lesson or over all with the totals of the class; then the skills."""
    heads, rows = (HEADS, held.rows(lesson)) if lesson else (PEOPLE_HEADS, held.people())
    rows = [(*row[:-1], row[-1][:10]) for row in rows]
    people = _fill("scrolled_table", heads=heads, rows=rows, label="Table of the class")
    heads = ("skill, the weakest first", "people", "right", "of tries")
    return people + folded("By skill", _fill("scrolled_table", heads=heads, rows=held.skills(lesson), label="Skills"))


def _title(number):
    return {each.number: each.title for each in pages_of_lessons()}.get(number, "")


def _counted(count, one, many=""):
    return f"{count} {one if count == 1 else many or one + 's'}"
