"""Exercises from a TOML file, the course's own in data/exercises/lesson_NN.toml and a trainer's beside them.

DEVELOPERS.md, *Write an exercise*, and data/exercises/example_of_your_own.toml say how one is written. Each field is
checked for its type, each formula and each {name} for what it names; a message begins with file, exercise and field.
"""

import re
from pathlib import Path

from jetlib.course.exercises.choices_from_toml import choosing, order, safe, terms
from jetlib.course.exercises.draws import Drawing
from jetlib.course.exercises.exercise import ID, Mistake
from jetlib.course.exercises.formulas import formula
from jetlib.course.exercises.numeric import FillTable, Numeric
from jetlib.course.exercises.words import plain
from jetlib.course.exercises.worked import step, worked
from jetlib.course.store.checked_row import among, known, listed, rows, words
from jetlib.errors import JetlibError
from jetlib.tables import DATA
from jetlib.tables.toml_file import read_toml
from jetlib.units.kinds import KINDS
from jetlib.units.refusal import cut

_NAME = re.compile(r"\{(\w+)\}")
_COMPARES = re.compile(r"[<>]|[=!]=")
#: What is said to whoever makes a mistake of that name; an exercise that names one needs no words of its own for it.
_MISTAKES = read_toml(
    DATA / "mistakes.toml", what="file of mistakes", like='"one hole only" = "That is one hole alone."'
)
_COMMON = ("id", "title", "type", "skills", "ask", "hints", "solve", "draw", "given", "keep", "mistakes")


def exercises_in(path):
    """(exercises, order) of a TOML file: a tuple of them, and of ids, where it says in what order they are asked.

    Raises JetlibError that says file, exercise and field to fix.
    """
    path = Path(path)
    data = read_toml(path, what="file of exercises", like='title = "More of the same hose"')
    return exercises_from(data, path.name)


def exercises_from(data, name):
    """The same of a dict as a TOML file gives it. name: of the file."""
    known(data, {"exercise", "order"}, name)
    found = rows(data, "exercise", name)
    if not found:
        raise JetlibError(f"{name} has no exercises; write [[exercise]]")
    made = tuple(_exercise(row, f"{name}, exercise {at}") for at, row in enumerate(found, start=1))
    ids = [each.id for each in made]
    twice = next((each for each in ids if ids.count(each) > 1), None)
    if twice is not None:
        raise JetlibError(f"{name}: {twice} is there twice; give each exercise its own id")
    return made, listed(data, "order", name) or tuple(ids)


def _exercise(row, where):
    id = words(row, "id", where, needed=True)
    if not ID.fullmatch(id):
        raise JetlibError(f'{where}: id is {cut(id)}; write the lesson and a short name, such as "05-our-leader"')
    where = f"{where} ({id})"
    make, fields = _TYPES[among(words(row, "type", where, needed=True), _TYPES, f"{where}: type is")]
    known(row, {*_COMMON, *fields}, where)
    try:
        return make(Said(row, where))
    except JetlibError as error:
        said = str(error)
        raise JetlibError(said if said.startswith(where) else f"{where}: {said.removeprefix(f'{id}: ')}") from None


class Said:
    """One [[exercise]] taken apart: what all types share. Its fields are read as they are asked for."""

    def __init__(self, row, where):
        self.row, self.where, self.id = row, where, row["id"]
        self.drawing = Drawing(row, where)
        self.shown = self.drawing.shown
        self.steps, self.sums, self.results = [], [], set()
        solve = row.get("solve", [])
        if not isinstance(solve, list) or not all(isinstance(each, str | dict) for each in solve):
            raise JetlibError(f'{where}: solve is {cut(solve)}; write lines, solve = ["Area: … -> area area"]')
        for at, line in enumerate(solve, start=1):
            self.steps.append(found := self._step(line, at))
            if isinstance(found, tuple):
                self.sums.append(found)
                self.results.add(found[1])

    def _step(self, line, at):
        where, when = f"{self.where}, solve {at}", None
        if isinstance(line, dict):
            known(line, {"when", "say"}, where)
            when, line = self.condition(words(line, "when", where), where), words(line, "say", where)
        found = step(self.named(plain(line), f"solve {at}", self.results))
        if isinstance(found, tuple) and found[2] is not None and found[2] not in KINDS:
            raise JetlibError(f"{where}: {cut(found[2])} is no kind; write one of {', '.join(KINDS)}")
        return found if when is None else lambda p: [found] if when(p) else []

    def field(self, name, *, needed=False):
        """The text of a field, on one line for each paragraph."""
        return self.named(plain(words(self.row, name, self.where, needed=needed)), name)

    def named(self, text, field, more=()):
        """The text, if all that stands in braces is drawn, given or a result of a solve line."""
        names = {*self.drawing.names, *more}
        strange = next((each for each in _NAME.findall(text) if each not in names), None)
        if strange is not None:
            listed_names = ", ".join(sorted(names)) or "none"
            raise JetlibError(f"{self.where}: {field} asks for {{{strange}}}; names drawn and given are {listed_names}")
        return text

    def formula(self, text, field, kind=None):
        """The function of the parameters that a formula stands for."""
        where = f"{self.where}: {field}"
        if not isinstance(text, str) or not text.strip():
            raise JetlibError(f"{where} is {cut(text)}; write a formula between quotes")
        self.named(text, field, self.results)
        return formula(text, self.shown, kind, self.sums)

    def condition(self, text, field):
        """The function that says whether a condition holds."""
        where = field if field.startswith(self.where) else f"{self.where}: {field}"
        if not isinstance(text, str) or not text.strip():
            raise JetlibError(f'{where} has no condition; write such as when = "{{count}} > 2"')
        self.named(text, field, self.results)
        if not _COMPARES.search(text):
            raise JetlibError(f"{where}: {cut(text)} is no condition; compare with <, >, <=, >=, == or !=")
        return formula(text, self.shown, steps=self.sums)

    def when(self, row, where):
        """The function that says whether an option, or a mistake, is there at all."""
        return self.condition(row["when"], f"{where}, when") if "when" in row else lambda p: True

    def holds(self, row, name, where):
        """The function that says whether something holds that is true, false (where it is left out) or a condition."""
        value = row.get(name, False)
        return (lambda p: value) if isinstance(value, bool) else self.condition(value, f"{where}, {name}")

    def common(self, made, *fields):
        """What every type takes. made(row, where): the `wrong` of a mistake; fields: those a mistake can have."""
        keep = [self.condition(text, "keep") for text in listed(self.row, "keep", self.where)]
        return {
            "id": self.id,
            "title": words(self.row, "title", self.where, needed=True),
            "skills": listed(self.row, "skills", self.where),
            "ask": self.field("ask", needed=True),
            "hints": tuple(self.named(plain(each), "hints") for each in listed(self.row, "hints", self.where)),
            "draw": self.drawing.draw,
            "given": self.drawing.given,
            "shown": self.shown,
            "reject": lambda p: not all(holds(p) for holds in keep),
            "mistakes": tuple(self._mistakes(made, fields)),
            **self._of_some_types(),
        }

    def _mistakes(self, made, fields):
        for at, row in enumerate(rows(self.row, "mistakes", self.where), start=1):
            where = f"{self.where}, mistake {at}"
            known(row, {"name", "say", "when", *fields}, where)
            name = words(row, "name", where, needed=True)
            said = plain(words(row, "say", where, needed=name not in _MISTAKES))
            given = [field for field in fields if field in row]
            if len(given) != 1:
                raise JetlibError(f"{where} ({name}) has {len(given)} of {', '.join(fields)}; write one")
            wrong, holds = made(row, given[0], where), self.when(row, where)
            yield Mistake(
                name,
                self.named(said, f"mistake {at}, say") or _MISTAKES[name],
                lambda p, wrong=wrong, holds=holds: wrong(p) if holds(p) else None,
            )

    def _of_some_types(self):
        """What some types take, where it is written; others refuse it before."""
        alike, share = self.row.get("drop_alike", False), self.row.get("tolerance", 0.03)
        if not isinstance(alike, bool):
            raise JetlibError(f"{self.where}: drop_alike is {cut(alike)}; write true or leave it out")
        if type(share) is not float or not 0 < share <= 0.2:
            raise JetlibError(f"{self.where}: tolerance is {cut(share)}; write a share such as 0.03, at most 0.2")
        return {name: self.row[name] for name in ("drop_alike", "tolerance") if name in self.row}


def _number(said):
    kind = among(words(said.row, "kind", said.where, needed=True), KINDS, f"{said.where}: kind is")
    if kind == "temperature":
        raise JetlibError(f'{said.where}: no share of a temperature is near; write kind = "temperature_difference"')
    if "answer" in said.row:
        answer = said.formula(said.row["answer"], "answer", kind)
    elif said.sums:
        answer = formula(said.sums[-1][0], said.shown, kind, said.sums[:-1])
    else:
        raise JetlibError(f'{said.where} has no answer; end solve with a line such as "{{loss}} × 2 -> found {kind}"')
    return Numeric(
        **said.common(lambda row, field, where: said.formula(row[field], f"{where}, is", kind), "is"),
        kind=kind,
        answer=answer,
        solution=worked(said.shown, *said.steps, answer=answer),
    )


def _table(said):
    columns = tuple((words(each, "head", said.where, needed=True), words(each, "kind", said.where) or None)
                    for each in rows(said.row, "columns", said.where))  # fmt: skip
    for kind in (kind for _, kind in columns if kind):
        among(kind, KINDS, f"{said.where}: kind is")
    written = said.row.get("rows", [])
    fits = isinstance(written, list) and all(isinstance(row, list) and len(row) == len(columns) for row in written)
    if not columns or not written or not fits or not all(isinstance(cell, str) for row in written for cell in row):
        raise JetlibError(f"{said.where}: rows is {cut(written)}; write rows of {len(columns)} texts, one for a column")
    blanks, cells, asked = [], [], {}
    for at, row in enumerate(written):
        made = []
        for column, (cell, (_, kind)) in enumerate(zip(row, columns, strict=True)):
            if cell.startswith("?"):
                if kind is None:
                    said_so = f"column {column} holds words; only a column with a kind can be asked for"
                    raise JetlibError(f"{said.where}: {said_so}")
                blanks.append((at, column))
                asked[cell[1:].strip()] = made_of = said.formula(cell[1:].strip(), "rows", kind)
            elif kind is None:
                made_of = said.named(cell, "rows").format_map
            else:
                made_of = said.formula(cell, "rows", kind)
            made.append(made_of)
        cells.append(made)

    def wrong(row, field, where):
        given = listed(row, field, where)
        if len(given) != len(blanks):
            raise JetlibError(f"{where} gives {len(given)} cells; write {len(blanks)}, one for each cell with a ?")
        made = [
            said.formula(each, f"{where}, cells", columns[blank[1]][1]) if each else None
            for each, blank in zip(given, blanks, strict=True)
        ]
        return lambda p: tuple(None if each is None else each(p) for each in made)

    def printed(each):
        """A result that a cell asks for is printed to as many figures as an answer."""
        value = asked.get(f"{{{each[1]}}}") if isinstance(each, tuple) else None
        return each if value is None else lambda p: [(*each, value(p))]

    return FillTable(
        **said.common(wrong, "cells"),
        columns=columns,
        rows=lambda p: tuple(tuple(cell(p) for cell in row) for row in cells),
        blanks=tuple(blanks),
        solution=worked(said.shown, *map(printed, said.steps)),
    )


_CHOICES = ("options", "drop_alike")
_TYPES = {  # what is written under type: the reader, and the fields of its own
    "number": (_number, ("kind", "answer", "tolerance")),
    "one of": (lambda said: choosing(said, several=False), _CHOICES),
    "several": (lambda said: choosing(said, several=True), _CHOICES),
    "order": (order, ("options", "drop_alike", "items", "letters", "by", "shows", "total", "apart", "most")),
    "table": (_table, ("columns", "rows", "tolerance")),
    "term": (terms, ("terms",)),
    "safe ways": (safe, ("safe", "unsafe")),
}
