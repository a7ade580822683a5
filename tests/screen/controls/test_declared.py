"""Consoles from their table in data/: makers that say what they take, and begin where they are told."""

import inspect

import pytest

from jetlib.course.pages.consoles import CONSOLES
from jetlib.errors import JetlibError
from jetlib.screen.consoles.circuit_console import circuit_console
from jetlib.screen.consoles.hose_console import hose_console
from jetlib.screen.consoles.plan_console import plan_console
from jetlib.screen.consoles.sizing_console import sets_console
from jetlib.screen.consoles.supply_console import flush_console
from jetlib.screen.controls.console import Push
from jetlib.units import si

MADE = [each for each in CONSOLES.values() if "title" in each.row]


@pytest.mark.parametrize("record", MADE, ids=lambda record: record.name)
def test_a_maker_says_what_it_takes(record):
    make = record.maker()
    assert (make.__module__, make.__name__) == (record.home, record.name)
    taken = inspect.signature(make).parameters
    assert ("rig" in taken) == ("rig" in record.row or "rig" in record.row["controls"])
    assert "rig" not in record.row or taken["rig"].default == record.row["rig"]
    told = inspect.getdoc(make).split("start: any of ")[1].split(", as the controls")[0].split(", ")
    held = [name for name, each in make().controls.items() if not isinstance(each, Push)]
    assert told == [name for name in held if name != "rig"]


def test_a_control_that_there_is_none_of_is_refused():
    for make in (flush_console, plan_console, hose_console):
        with pytest.raises(JetlibError, match="no control 'depth'"):
            make(depth=1.0)


@pytest.mark.parametrize("record", [each for each in MADE if "rig" in each.row], ids=lambda record: record.name)
def test_a_rig_that_there_is_none_of_is_refused_at_once(record):
    with pytest.raises(JetlibError, match="yard_boat"):
        record.maker()("yard_boat")


def test_a_choice_begins_with_a_size_as_it_is_written_or_in_si():
    bore = si("8 in", "pipe_bore")
    assert flush_console(bore="8 in").values == flush_console(bore=bore).values
    assert flush_console(bore="8 in").values["bore"] == bore
    assert circuit_console(bore="5/8 in").values["bore"] == "5/8 in"
    assert sets_console(front=[0, 1, 2]).values["front"] == sets_console(front=(0, 1, 2)).values["front"] == (0, 1, 2)


def test_each_console_keeps_its_own_to_compare_with():
    one, other = circuit_console(), circuit_console()
    one._fields["keep"].box.click()
    for console in (one, other):
        console.set(length="300 ft")
    assert "The kept line" in one.words
    assert "The kept line" not in other.words
