"""Pages made once for all the tests of this folder."""

import os
import re
from functools import cache
from html import unescape

import pytest

from jetlib.paper import answer_key, gauge_card, handout, job_card, rig_tables, seat_sheets
from jetlib.paper.page.browser import find_browser
from jetlib.rig.parts.rig_file import demo_rig


@cache
def _documents():
    from jetlib.course.banks.yard_job import yard_plan

    sheets, key = seat_sheets("02", 3, seed=5, system="metric", paper="Letter")
    return {
        "handout": handout("02", seed=5),
        "handout, metric": handout("05", seed=2, system="metric", paper="Letter"),
        "handout, tight end": handout("02", seed=3, system="metric"),  # its last line once stood alone on a page
        "key": answer_key("02", seed=5),
        "sheets": sheets,
        "key to sheets": key,
        "gauge card": gauge_card(demo_rig("yard_trailer")),
        "gauge card, many": gauge_card(demo_rig("yard_small_bore")),  # once: a heading alone, rows cut, an empty page
        "tables": rig_tables(demo_rig("yard_truck"), system="metric", paper="Letter"),
        "job card": job_card(yard_plan("yard_trailer"), system="metric"),
    }


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
def read():
    """HTML -> the text that a reader reads."""
    return text_of
