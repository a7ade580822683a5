"""The one registry of consoles, from data/consoles.toml: on which page each is, who makes it, what it shows and how.

Notebooks find their consoles by it, and so do session plans, printed lessons and tests. What can be set, with labels,
kinds and options, is read off the consoles themselves by `tests/consoles_table.py` and kept in data/consoles.json, so
that a plan is checked without a single widget.
"""

import json
from dataclasses import dataclass
from functools import cache
from importlib import import_module

from jetlib.course.store.checked_row import among
from jetlib.tables import DATA
from jetlib.tables.toml_file import read_toml

TABLE = DATA / "consoles.json"


@dataclass(frozen=True)
class Setting:
    """A control of a console: its label there, its kind of quantity ("" for words and counts), options {words: value}.

    Values are as JSON holds them.
    """

    label: str
    kind: str
    options: dict


@dataclass(frozen=True)
class ConsoleRecord:
    """A console: its name, the page (a stem) it is first met on, the module that makes it, the quantities it shows.

    shows: {what a class is told to look at: its kind}. row: its whole table, with its title
    and controls.
    """

    name: str
    page: str
    home: str
    shows: dict
    row: dict

    def maker(self):
        """The function that makes it; loads widgets."""
        return getattr(import_module(self.home), self.name)

    @property
    def settings(self):
        """{name: Setting} of all that can be set on it."""
        return {name: Setting(*row) for name, row in _table().get(self.name, {}).items()}


@cache
def _table():
    return json.loads(TABLE.read_text("utf-8"))


def console(name):
    """The ConsoleRecord of that name. Raises JetlibError that lists them."""
    return CONSOLES[among(name, CONSOLES, "there is no console")]


#: Every console by name, in the order of the course.
CONSOLES = {
    name: ConsoleRecord(name, page, f"jetlib.screen.{row['home']}", row.get("shows", {}), row)
    for page, consoles in read_toml(DATA / "consoles.toml", what="list of consoles").items()
    for name, row in consoles.items()
}
