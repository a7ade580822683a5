"""The course's pages, from data/pages.toml: order, titles, minutes. Start-page map, bars and tests are made from it."""

from dataclasses import dataclass
from pathlib import Path

from jetlib.tables import DATA
from jetlib.tables.toml_file import read_toml

LESSONS = Path(__file__).parents[3] / "lessons"


@dataclass(frozen=True)
class Page:
    """A page of the course: file stem, title, minutes (0: no fixed time), what the reader can do after it.

    deeper: minutes of the part *Go deeper*. Both are worked out by `tests/lessons/test_reading.py`.
    """

    stem: str
    title: str
    minutes: int
    can: str
    deeper: int = 0

    @property
    def number(self):
        """The lesson's number, such as "02", or "" for a page beside the lessons."""
        head = self.stem.split("_")[0]
        return head if head.isdigit() else ""

    @property
    def name(self):
        """Number and title."""
        return f"{self.number} {self.title}".strip()


_ALL = tuple(Page(stem, **row) for stem, row in read_toml(DATA / "pages.toml", what="list of pages").items())


def pages():
    """The pages that are in the course now, a tuple in reading order."""
    return tuple(page for page in _ALL if (LESSONS / f"{page.stem}.ipynb").is_file())


def lessons():
    """The numbered ones of them."""
    return tuple(page for page in pages() if page.number)


def page(stem):
    """The Page of a file stem; KeyError when the course has none."""
    return {each.stem: each for each in _ALL}[stem]
