"""A drill on paper: the room's sheet says nothing of the truth, the trainer's says what each check reads and why."""

import re
from functools import cache

import pytest

from jetlib import GaugeReading, JetlibError, diagnose
from jetlib.course.classroom.hidden_fault.deal import STOPS, seeded_hunt
from jetlib.course.classroom.hidden_fault.reveal import truth_words
from jetlib.paper.__main__ import main
from jetlib.paper.page.document import Document, write
from jetlib.paper.sheets.drills import hidden_fault_sheets
from jetlib.rig.diagnosis.faults import faults_of
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs
from jetlib.units import si

CELLS = re.compile(r"<t[dh][^>]*>(.*?)</t[dh]>|<td class=\"blank\"></td>", re.S)


@cache
def sheets(name, seed, system="metric"):
    """The two sheets of a yard rig, calculated once for all tests."""
    return hidden_fault_sheets(demo_rig(name), seed=seed, system=system)


def rows(page, heading):
    """Rows of texts of the table that has a column called `heading`."""
    tables = [each for each in re.findall(r"<table.*?</table>", page, re.S) if f">{heading}</th>" in each]
    (table,) = tables
    return [CELLS.findall(row) for row in re.findall(r"<tr>(.*?)</tr>", table.split("<tbody>")[1], re.S)]


@pytest.mark.parametrize("name", demo_rigs())
def test_both_sheets_are_of_one_drill_and_only_the_trainers_says_which(name, read):
    rig = demo_rig(name)
    room, trainer = sheets(name, 4)
    hunt = seeded_hunt(rig, 4)
    truth = truth_words(hunt.hidden.fault, hunt.hidden.severity)
    assert f"It is this: {truth}." in read(trainer.html())
    assert hunt.hidden.fault.words not in read(room.html())
    assert all("each check has cautions of its own" in read(sheet.html()) for sheet in (room, trainer))
    assert "It is this" not in room.html() and "Likeliest" not in room.html()
    for fault in faults_of(rig):
        assert fault.called in read(room.html())
    looks = rows(room.html(), "Gauge, today")
    assert len(looks) == len(STOPS)
    for throttle, (_, _, shown, _) in zip(STOPS, looks, strict=True):
        # to the next bar, as a needle is read
        assert si(shown, "pressure") == pytest.approx(hunt.look(throttle).readings[0].pressure, abs=0.51e5)
    named = [cells[0] for cells in rows(room.html(), "Costs")]
    assert named == [cells[0] for cells in rows(trainer.html(), "Reads") if len(cells) == 4]
    assert named == [check.label for check in hunt.checks.values()]
    assert room.sections[0].seed == trainer.sections[0].seed == 4


def test_the_blanks_are_on_the_rooms_sheet_and_the_readings_on_the_trainers():
    rig = demo_rig("yard_trailer")
    room, trainer = sheets("yard_trailer", 4, "US")
    hunt = seeded_hunt(rig, 4)
    assert room.html().count('<td class="blank">') == 2 * len(hunt.checks)
    assert '<td class="blank">' not in trainer.html()
    page = trainer.html()
    read = {check: shown for check, shown, *_ in rows(page, "All is well")}
    for check in hunt.checks.values():
        first = hunt.hidden.read_all(check.asked(hunt.rig))[0]
        shown = read[check.label].split("; ")[0]
        if first.kind:
            # to the next 10 psi, the next 0.1 gpm, else to three figures
            finest = {"pressure": si("5.1 psi", "pressure"), "flow": si("0.051 gpm", "flow")}.get(first.kind, 0.0)
            assert si(shown, first.kind) == pytest.approx(first.value, rel=0.006 if not finest else 0.0, abs=finest)
        else:
            assert shown == first.shown


def test_what_the_room_reads_on_paper_can_be_typed_and_gives_the_trainers_first_words(read):
    rig = demo_rig("yard_trailer")
    room, trainer = sheets("yard_trailer", 4, "US")
    readings = [
        GaugeReading(shown, throttle)
        for throttle, (_, _, shown, _) in zip(STOPS, rows(room.html(), "Gauge, today"), strict=True)
    ]
    top = diagnose(rig, readings).top
    free = re.search(r"From gauge and return alone: (.*?)\.", read(trainer.html()))[1]
    assert top.fault.called in free


@pytest.mark.parametrize(("paper", "seed"), [("A4", 4), ("Letter", 9)])
def test_each_is_one_page(paper, seed, browser, tmp_path, texts):
    made = [each for name in demo_rigs() for each in sheets(name, seed)]
    sections = tuple(section for document in made for section in document.sections)  # each on a page of its own
    pages = texts(write(Document("all", sections, "metric", paper), tmp_path)[1])
    titles = ["".join(section.title.split()) for section in sections]
    assert len(titles) == 2 * len(demo_rigs())
    for page, title in zip(pages, titles, strict=True):
        assert title in "".join(page.split())


def test_a_seed_that_is_none_and_a_rig_that_is_none_are_refused():
    with pytest.raises(JetlibError, match="seed is"):
        hidden_fault_sheets(demo_rig("yard_cart"), seed=-1)
    with pytest.raises(JetlibError, match="load_rig"):
        hidden_fault_sheets("yard_cart")


def test_the_command_writes_both(tmp_path, capsys):
    assert main(["drill", "yard_cart", "--seed", "3", "--html-only", "--out", str(tmp_path)]) == 0
    names = ["drill-yard-cart-seed-3-us.html", "drill-yard-cart-seed-3-us-trainer.html"]
    assert capsys.readouterr().out.split() == [str(tmp_path / name) for name in names]
