"""One choice of units: kept, told to everything on a page, and begun with by what is made later."""

from weakref import WeakSet

import pytest

from jetlib.course.progress.choices import choices
from jetlib.errors import JetlibError
from jetlib.screen import (
    bypass_console,
    diagnosis_console,
    hidden_fault,
    live_rig,
    open_bench,
    practice,
    prediction,
    room_vote,
    rules_table,
    session_plans,
)
from jetlib.screen.controls import units_choice as one_choice
from jetlib.screen.controls.units_choice import units_choice, units_now, use_units
from jetlib.units import SYSTEMS


@pytest.fixture(autouse=True)
def _own_home(tmp_path, monkeypatch):
    monkeypatch.setenv("JETLIB_HOME", str(tmp_path))
    monkeypatch.delenv("JETLIB_UNITS", raising=False)
    monkeypatch.setattr(one_choice, "_unkept", [])
    monkeypatch.setattr(one_choice, "_followers", WeakSet())  # not what other tests have left on their pages


def said(shown):
    """All that a console has on its page."""
    return str([widget.value for widget in _widgets(shown.box) if hasattr(widget, "value")])


def _widgets(box):
    return [box, *(each for child in getattr(box, "children", ()) for each in _widgets(child))]


MAKERS = (
    bypass_console, hidden_fault, live_rig, open_bench, rules_table,
    lambda: practice("02-areas-add"), lambda: prediction("02-double-flow"), lambda: room_vote("02-areas-add"),
)  # fmt: skip


@pytest.mark.parametrize("make", MAKERS, ids=lambda make: getattr(make, "__name__", "made"))
def test_everything_on_a_page_follows_and_what_is_made_later_begins_so(make):
    shown, switch = make(), units_choice()
    before = said(shown)
    switch.box.value = "metric"
    after = said(shown)
    assert after != before
    assert said(make()) == after
    use_units("US")
    assert switch.box.value == "US"
    assert said(shown) == before


def test_the_choice_is_kept_and_the_next_page_begins_with_it():
    assert units_now() == "US"
    use_units("metric")
    assert choices() == {"units": "metric"}
    assert units_choice().box.value == bypass_console().system == practice("02-areas-add").system == "metric"
    assert bypass_console(system="US").system == "US"


def test_in_a_room_the_trainers_units_come_first(monkeypatch):
    monkeypatch.setenv("JETLIB_UNITS", "metric")
    assert units_choice().box.value == "metric"
    use_units("US")
    assert bypass_console().system == "US"


def test_what_cannot_be_kept_holds_for_the_page(monkeypatch, tmp_path):
    monkeypatch.setenv("JETLIB_HOME", str(tmp_path / "file"))
    (tmp_path / "file").write_text("in the way")
    use_units("metric")
    assert bypass_console().system == "metric"
    use_units("US")
    assert bypass_console().system == "US"


def test_readings_and_plans_follow_too():
    console, plans = diagnosis_console(gauge_full="2400 psi"), session_plans()
    use_units("metric")
    assert (console.system, plans.system) == ("metric", "metric")
    assert "165 bar" in said(console)


def test_what_is_no_system_is_refused_with_those_there_are():
    with pytest.raises(JetlibError, match=", ".join(SYSTEMS)):
        use_units("imperial")
