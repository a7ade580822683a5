"""Pages made once for all the tests of this folder."""

import contextlib
import os
import re
from dataclasses import replace
from functools import cache
from html import unescape

import pypdfium2
import pytest

from jetlib.course.exercises.yard_job import yard_plan
from jetlib.paper.cards.bench import job_card
from jetlib.paper.cards.gauge import gauge_card
from jetlib.paper.cards.rig import rig_tables
from jetlib.paper.page.document import find_browser
from jetlib.paper.sheets.answers import answer_key, seat_sheets
from jetlib.paper.sheets.drills import hidden_fault_sheets
from jetlib.paper.sheets.lesson import handout
from jetlib.rig.parts.rig_file import demo_rig


@cache
def _card(kind, name, system):
    rig = demo_rig(name)
    if kind == "hidden fault":
        room, trainer = hidden_fault_sheets(rig, seed=4, system=system)
        return replace(room, sections=(*room.sections, *trainer.sections))
    return gauge_card(rig, system=system) if kind == "gauge" else job_card(yard_plan(name), system=system)


@pytest.fixture(scope="session")
def card():
    """card(kind, name of a rig, system, paper): a Document that is calculated once, whatever paper it is wanted on."""
    return lambda kind, name, system="US", paper="A4": replace(_card(kind, name, system), paper=paper)


@cache
def _documents():
    sheets, key = seat_sheets("02", 3, seed=5, system="metric", paper="Letter")
    made = {
        "handout": handout("02", seed=5),
        "handout, metric": handout("05", seed=2, system="metric", paper="Letter"),
        "handout, tight end": handout("02", seed=3, system="metric"),  # its last line once stood alone on a page
        "key": answer_key("02", seed=5),
        "sheets": sheets,
        "key to sheets": key,
        "gauge card": _card("gauge", "yard_trailer", "US"),
        "gauge card, many": _card("gauge", "yard_small_bore", "US"),  # once: a heading alone, rows cut, an empty page
        "tables": rig_tables(demo_rig("yard_truck"), system="metric", paper="Letter"),
        "job card": _card("job", "yard_trailer", "metric"),
    }
    # Sheets of one paper and one system go through the browser at once.
    for name, parts in {
        "A4, US": ("handout", "gauge card", "gauge card, many"),
        "A4, metric": ("handout, tight end", "job card"),
    }.items():
        sections = tuple(section for part in parts for section in made[part].sections)
        made[name] = replace(made[parts[0]], sections=sections)
    return made


@pytest.fixture(scope="session")
def documents():
    """Name -> Document, one of each kind."""
    return _documents()


def text_of(html):
    """What a reader reads, spaces evened out."""
    body = re.sub(r"<style>.*?</style>", " ", html, flags=re.S)
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", body)))


@pytest.fixture
def browser():
    """Path of a Chromium; without one the test is skipped, or fails where one is asked for."""
    found = find_browser()
    if found is None:
        if os.environ.get("JETLIB_REQUIRE_BROWSER"):
            pytest.fail("no Chromium on this machine, and JETLIB_REQUIRE_BROWSER asks for one")
        pytest.skip("no Chromium on this machine: install Debian's chromium to have PDFs made and tested")
    return found


@pytest.fixture(scope="session")
def texts():
    """Path of a PDF -> the text of each of its pages."""

    def of(path):
        with contextlib.closing(pypdfium2.PdfDocument(path)) as held:
            # A hyphen at the end of a line comes as a mark of its own.
            return [page.get_textpage().get_text_bounded().replace("\x02", "-") for page in held]

    return of


@pytest.fixture(scope="session")
def read():
    """HTML -> the text that a reader reads."""
    return text_of
