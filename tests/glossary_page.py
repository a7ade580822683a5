"""The glossary: each term of the course in plain words, from data/glossary.csv, and the page that is made from it.

.venv/bin/python tests/glossary_page.py    writes lessons/glossary.ipynb anew after the table was changed
"""

import csv
import json
import re
from dataclasses import dataclass
from functools import cache

from jetlib.course.pages.contents import LESSONS, page
from jetlib.errors import JetlibError
from jetlib.tables import DATA
from jetlib.units.kinds import KINDS

PAGE = LESSONS / "glossary.ipynb"
COLUMNS = ("term", "symbol", "kind", "meaning", "page", "used_as")
_INTRODUCTION = """

# Glossary

The words of the trade and of this course, in plain US English. Where British usage differs, it is given here once.
The last column links to the lesson that uses the word first. Units are as the course shows them, US and metric.

A word can mean something else elsewhere. If the machine's manual uses it differently, the manual is right.
"""


@dataclass(frozen=True)
class Term:
    """A term: its symbol in formulas ("" for none), the kind of quantity ("" for none), meaning, and stem of the page.

    used_as: the word to look for on that page, where it stands there in another form.
    """

    term: str
    symbol: str
    kind: str
    meaning: str
    page: str
    used_as: str

    @property
    def units(self):
        """Units as the course shows them, "gpm, L/min"; a dash for a term without."""
        if not self.kind:
            return "–"
        labels = dict.fromkeys((KINDS[self.kind].us[0], KINDS[self.kind].metric[0]))
        return ", ".join(labels) if any(labels) else "a plain number"

    @property
    def looked_for(self):
        """The word that the page must hold."""
        return self.used_as or self.term

    @property
    def row(self):
        """The row of the page's table, markdown."""
        cells = (
            f"**{self.term}**",
            self.meaning,
            self.symbol or "–",
            self.units,
            f"[{page(self.page).name}]({self.page}.ipynb)",
        )
        return f"| {' | '.join(cells)} |"

    def is_used_in(self, text):
        """Whether `text` holds the word, as a word of its own, in one or several."""
        return re.search(rf"(?<![a-z]){re.escape(self.looked_for)}(?:s|es)?(?![a-z])", text, re.I) is not None


@cache
def glossary():
    """All Terms, a tuple in alphabetical order. Raises JetlibError where the table cannot be used."""
    name = "glossary.csv"
    try:
        with open(DATA / name, newline="", encoding="utf-8-sig") as file:
            lines = list(csv.reader(file))
    except OSError as error:
        raise JetlibError(
            f"cannot read the table {DATA / name} ({error.strerror}); keep data/ beside jetlib/"
        ) from error
    if not lines or tuple(lines[0]) != COLUMNS:
        raise JetlibError(f"{name}, line 1: write {','.join(COLUMNS)}")
    return tuple(sorted((_term(name, number, row) for number, row in enumerate(lines[1:], start=2)), key=_place))


def _place(term):
    return term.term.casefold()


def _term(name, number, row):
    if len(row) != len(COLUMNS):
        raise JetlibError(f"{name}, line {number}: {len(row)} cells; write {len(COLUMNS)}: {','.join(COLUMNS)}")
    found = Term(*(cell.strip() for cell in row))
    if not found.term or not found.meaning or "|" in "".join(row):
        raise JetlibError(f"{name}, line {number}: write a term and its meaning, without the sign |")
    if found.kind and found.kind not in KINDS:
        raise JetlibError(f"{name}, line {number}: kind is {found.kind!r}; write one of {', '.join(KINDS)}, or nothing")
    try:
        page(found.page)
    except KeyError:
        raise JetlibError(f"{name}, line {number}: page is {found.page!r}; write the stem of a lesson") from None
    return found


def cells():
    """The page as markdown texts: bar, title and what it is; then a table for each letter."""
    letters = {}
    for term in glossary():
        letters.setdefault(term.term[0].upper(), []).append(term)
    first = "[◀ Start here](00_start_here.ipynb)" + _INTRODUCTION
    jump = " · ".join(f"[{letter}](#{letter})" for letter in letters)
    head = "| term | in plain words | symbol | units | first used |\n|---|---|---|---|---|"
    tables = ("\n".join([f"## {letter}", "", head, *(term.row for term in terms)]) for letter, terms in letters.items())
    return (f"{first}\n{jump}", *tables)


def write_page():
    """Write the page anew; returns its path."""
    made = [
        {
            "cell_type": "markdown",
            "id": f"glossary-{number:02d}",
            "metadata": {},
            "source": text.strip("\n").splitlines(keepends=True),
        }
        for number, text in enumerate(cells(), start=1)
    ]
    kept = json.loads(PAGE.read_text("utf-8"))["metadata"] if PAGE.is_file() else {}
    notebook = {"cells": made, "metadata": kept, "nbformat": 4, "nbformat_minor": 5}
    PAGE.write_text(json.dumps(notebook, ensure_ascii=False, indent=1) + "\n", "utf-8", newline="\n")
    return PAGE


if __name__ == "__main__":
    print(f"written: {write_page().name}")
