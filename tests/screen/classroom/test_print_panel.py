"""The Print panel: what is marked is laid out, the bar moves, and pages are counted before anything is printed."""

from dataclasses import dataclass
from html import unescape
from pathlib import Path

import pytest

from jetlib.course.classroom.print_orders import SHEETS, Order
from jetlib.course.classroom.session_plan import plans
from jetlib.errors import JetlibError
from jetlib.paper.sheets.class_set import class_set
from jetlib.screen.classroom.print_panel import print_panel


@dataclass
class Made:
    paths: tuple
    pages: int | None


@pytest.fixture(autouse=True)
def _own_home(tmp_path, monkeypatch):
    monkeypatch.setenv("JETLIB_HOME", str(tmp_path))


def panel(pages=7, fail=""):
    asked = []

    def print_set(orders, folder, name, *, told, **given):
        asked.append((orders, Path(folder), name, given))
        if fail:
            raise JetlibError(fail)
        for done in range(len(orders) + 1):
            told(done, "a sheet")
            assert made._bar.value == done and made._bar.layout.display is None
            assert "A sheet" in made._said.value
        path = Path(folder) / f"{name}.pdf"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(b"%PDF")
        return Made((path,), pages)

    made = print_panel(print_set)
    return made, asked


def test_a_whole_plan_and_one_sheet_more(tmp_path):
    made, asked = panel()
    made.ticks["plan"].value = made.ticks["handout"].value = True
    made.lists["lesson"].value = "03"
    made.fields["seats"].entry.value = "9"
    made.fields["copies"].entry.value = "4"
    made.fields["seed"].entry.value = "123456"
    made.use_units("metric")
    made.print()
    ((orders, folder, name, given),) = asked
    assert orders == (*plans()["day"].prints, Order("handout", "03"))
    assert folder == tmp_path / "prints" and name == "day"
    assert given == {"seats": 9, "copies": 4, "seed": 123456, "system": "metric", "paper": "A4"}
    assert "7 pages, 4 of each card and worksheet in them, 4 sheets of paper" in made._said.value
    assert "Get day.pdf" in made._link.value and made._bar.layout.display == "none"


def test_every_tick_is_a_sheet_that_can_be_made():
    made, _ = panel()
    for name in SHEETS:
        made.ticks[name].value = True
    assert [order.sheet for order in made.orders()] == list(SHEETS)
    made.ticks["plan"].value = True
    assert len(made.orders()) == len(set(made.orders()))


def test_nothing_ticked_and_a_field_that_is_no_number_are_said():
    made = print_panel(lambda orders, folder, name, *, told, **given: class_set(orders, name, **given))
    made.print()
    assert "Nothing was laid out: nothing is chosen to print" in made._said.value
    made.fields["seats"].entry.value = "dozen"
    made.ticks["slips"].value = True
    made.print()
    assert "Seats is 'dozen'" in unescape(made._said.value) and made.fields["seats"].entry.value == "dozen"
    made, _ = panel(fail="the disk is full")
    made.print()
    assert "the disk is full" in made._said.value and made._bar.layout.display == "none"


def test_without_a_browser_it_says_how_to_print():
    made, _ = panel(pages=None)
    made.ticks["slips"].value = True
    made.print()
    assert "no PDF. Open" in made._said.value
