"""The hidden fault on the page: nothing of it shows before the reveal, and every control does what it says."""

import json
import re
import xml.etree.ElementTree as ElementTree

import ipywidgets as widgets
import pytest
from ipywidgets.widgets.widget import _instances

from jetlib.course.classroom.hidden_fault.deal import FaultHunt, HiddenFault
from jetlib.course.classroom.hidden_fault.scores import NOW, Answer
from jetlib.errors import JetlibError
from jetlib.rig.diagnosis.faults import FAULTS, exact, faults_of
from jetlib.rig.parts.rig_file import demo_rig, save_rig
from jetlib.screen.classroom.hidden_fault.console import hidden_fault
from jetlib.screen.controls.rig_choice import rig_options
from jetlib.units import SYSTEMS, text

TRAILER = demo_rig("yard_trailer")


@pytest.fixture(autouse=True)
def _own_home(tmp_path, monkeypatch):
    monkeypatch.setenv("JETLIB_HOME", str(tmp_path / "home"))


def page_of(console):
    """All that the page holds: the state of every widget under the console's box, in order."""
    found, left = [], [console.box]
    while left:
        widget = left.pop()
        state = {
            key: value
            for key, value in widget.get_state().items()
            if not isinstance(value, str) or value[:10] != "IPY_MODEL_"
        }
        state.pop("children", None)
        for key in ("layout", "style"):
            state.pop(key, None)
        found.append((type(widget).__name__, getattr(widget.layout, "display", None), state))
        left.extend(getattr(widget, "children", ()))
    return repr(found)


def with_hidden(console, name, severity=0.3, noise=77):
    """The console with a drill of a known truth."""
    console._begin(FaultHunt(TRAILER, HiddenFault(TRAILER, FAULTS[name], severity, noise)))
    return console


# --- nothing leaks ----------------------------------------------------------------------------------


def test_two_faults_that_read_alike_make_the_same_page_and_file_until_the_reveal(tmp_path):
    """A plugged jet and a smaller set do the same to the water, so all that is shown must be the same."""
    pages, files = [], []
    for name in ("jet plugged", "smaller set"):
        console = with_hidden(hidden_fault(folder=tmp_path / name), name)
        for stop in (0.0, 0.5, 1.0):
            console.look(stop)
        for key in console.hunt.checks:
            if key != "jets":
                console.spend(key)
        console.lock("Team 1", "pump weak", True)
        pages.append(page_of(console) + repr(console._repr_mimebundle_()["text/plain"]) + console.picture.image())
        files.append((tmp_path / name / NOW).read_text())
    assert pages[0] == pages[1]
    assert files[0] == files[1]
    console.reveal(anyway=True)
    assert "the jets fitted are smaller than they should be" in page_of(console)


@pytest.mark.parametrize("fault", [fault.name for fault in faults_of(TRAILER)])
def test_before_anything_is_read_all_faults_make_the_same_page(fault):
    assert page_of(with_hidden(hidden_fault(), fault, FAULTS[fault].typical)) == page_of(
        with_hidden(hidden_fault(), "healthy", 0.0)
    )


def test_the_trainers_panel_keeps_nothing(tmp_path):
    console, other = hidden_fault(folder=tmp_path), hidden_fault(folder=tmp_path / "other")
    console._secret.open()
    assert "Blank the projector" in page_of(console)
    console._secret._cause.value, console._secret._size.value = "jets worn", "33"
    console._secret.set()
    assert (console.hunt.hidden.fault.name, console.hunt.hidden.severity) == ("jets worn", 0.33)
    assert console._secret._cause.value == console._secret._size.value == ""
    assert console._secret.box.layout.display == "none"
    assert other.set_in_secret("pump slipping", "20 %") == ""
    assert page_of(console) == page_of(other)
    held = (tmp_path / NOW).read_text()
    assert json.loads(held)["held"]["drill"] is None
    assert "worn" not in held
    assert "Set by the trainer." in console._dealt.value


def test_the_trainer_is_told_what_cannot_be_set_and_a_closed_panel_is_empty():
    console = hidden_fault()
    console._secret.open()
    console._secret.set()
    assert "Choose a fault first" in console._secret._wrong.value
    console._secret._cause.value, console._secret._size.value = "engine weak", "10"
    console._secret.set()
    assert "make it larger" in console._secret._wrong.value
    assert console.hunt is None
    console._secret.close()
    assert console._secret._size.value == console._secret._wrong.value == ""


def test_a_locked_cause_is_not_on_the_page():
    console = with_hidden(hidden_fault(), "jets worn")
    row = console._rows[0]
    row._cause.value, row._sure.value = "suction starved", True
    row._lock.click()
    assert console.answers["Team 1"] == Answer("suction starved", True, 0.0)
    assert row._cause.value == ""
    assert row._lock.disabled
    assert "locked at minute 0" in row._state.value
    console.lock("Team 1", "jets worn", False)
    assert console.answers["Team 1"].named == "suction starved"


# --- the drill --------------------------------------------------------------------------------------


def as_read(reading, system):
    """A gauge to 10 psi or 1 bar, a bucket to 0.1 gpm or half a litre a minute: what can be read, written out here."""
    psi, bar, gpm, litre = 6894.757, 1e5, 231 * 0.0254**3 / 60, 1e-3 / 60
    value = reading.value
    if reading.kind == "pressure":
        return f"{10 * round(value / psi / 10)} psi" if system == "US" else f"{round(value / bar)} bar"
    return f"{round(value / gpm, 1):.1f} gpm" if system == "US" else f"{round(value / litre * 2) / 2:.1f} L/min"


@pytest.mark.parametrize("system", SYSTEMS)
def test_picture_and_words_hold_what_is_read(system):
    console = with_hidden(hidden_fault(system=system), "jets worn")
    assert "stopped" in console.picture.content
    console._levers.value = 1.0
    gauge, stream = console.hunt.steps[0].readings
    shown = as_read(gauge, system)
    svg = console.picture.svg()
    assert f">{shown}<" in svg
    assert f"gauge {shown}, {stream.shown} back to the tank" in console.picture.words
    assert ElementTree.fromstring(svg).get("aria-label") == console.picture.words
    console._checks["open hose"].click()
    for reading in console.hunt.steps[1].readings:
        assert as_read(reading, system) in console.picture.words
        assert as_read(reading, system) in console._log.value
    assert "9 of 45" in console.picture.content
    assert "a loose end whips" in console._said.value
    assert "a loose end whips" in console._log.value


def test_the_unit_switch_changes_every_figure():
    console = with_hidden(hidden_fault(), "jets worn")
    console.look(1.0)
    console.spend("nozzle bucket")
    console.use_units("metric")
    page = console.picture.words + console._log.value
    assert "psi" not in page and "gpm" not in page
    assert "bar" in page and "L/min" in page
    console.reveal(anyway=True)
    assert "psi" not in console._told.value


def test_numbers_that_matter_are_a_25th_of_the_picture_and_more():
    console = with_hidden(hidden_fault(), "jets worn")
    console.look(1.0)
    console.spend("open hose")
    sizes = [int(size) for size in re.findall(r'font-size="(\d+)"', console.picture.content)]
    assert min(sizes) >= console.picture.height / 25


def test_every_check_button_reads_something_and_is_marked():
    console = with_hidden(hidden_fault(), "jets worn")
    for key in console.hunt.checks:
        console._checks[key].click()
        assert console._latest.key == key
        assert console._checks[key].description.startswith("✔")
    assert console.hunt.minutes == sum(check.minutes for check in console.hunt.checks.values())
    spent = console.hunt.minutes
    console._checks["tachometer"].click()
    assert console.hunt.minutes == spent
    assert "costs nothing more" in console._said.value


def test_costs_can_be_edited_and_bad_ones_are_refused():
    console = hidden_fault()
    entry = console._costs._fields["tachometer"].entry
    entry.value = "7.5"
    assert console._checks["tachometer"].description.endswith("7.5\u00a0min")
    console.deal(3)
    console.spend("tachometer")
    assert console.hunt.minutes == 7.5
    entry.value = "lots"
    assert "Not used" in console._costs._fields["tachometer"].error.value
    assert console._costs.costs["tachometer"] == 7.5


def test_a_check_that_a_rig_has_no_use_for_is_not_offered(tmp_path):
    rig = TRAILER.replace(engine=None)
    save_rig(rig, tmp_path / "no_engine.toml")
    console = hidden_fault()
    console._file.value = str(tmp_path / "no_engine.toml")
    console.deal(1)
    assert console._checks["engine"].layout.display == "none"
    assert console._checks["tachometer"].layout.display is None
    named = {value for _, value in console._rows[0]._cause.options}
    assert "engine weak" not in named and "healthy" in named


def test_own_rigs_are_offered_and_a_bad_file_is_said(tmp_path):
    own = tmp_path / "home" / "rigs"
    own.mkdir(parents=True)
    save_rig(TRAILER, own / "Old Bess.toml")
    assert ("my rig: Old Bess", "own/Old Bess") in rig_options()
    console = hidden_fault()
    console._choice.value = "own/Old Bess"
    console.deal(1)
    assert console.hunt is not None
    console._file.value = str(tmp_path / "nothing.toml")
    console.deal(1)
    assert "No drill" in console._said.value
    with pytest.raises(JetlibError, match="yard_trailer"):
        hidden_fault("yard_boat")


def test_the_reveal_asks_once_more_and_then_shows_truth_beside_readings():
    console = with_hidden(hidden_fault(), "jets worn")
    console.look(1.0)
    console.lock("Team 1", "jets worn", True)
    console.reveal()
    assert console.reveal_shown is None
    assert "Team 2" in console._said.value
    console.reveal()
    told = console._told.value.replace("\u00a0", " ")
    read = console.hunt.steps[0].readings[0]
    for each in (read, exact(read, TRAILER, FAULTS["healthy"], 0.0), exact(read, TRAILER, FAULTS["jets worn"], 0.3)):
        assert text(each.pressure, "pressure", "US") in told
    assert "It was this: the jets are worn (the jets pass 30 % more)." in told
    assert "✔ right" in told and "named nothing" in told
    assert "Best buy" in told and FAULTS["jets worn"].title in told
    assert console.board.totals == {"Team 1": 19, "Team 2": 0}
    console.reveal()
    assert len(console.board.results) == 1
    console.spend("jets")
    console.lock("Team 2", "jets worn", True)
    assert len(console.hunt.steps) == 1
    assert console.board.totals["Team 2"] == 0


# --- teams, files, restart --------------------------------------------------------------------------


def test_teams_and_minutes_are_read_and_bad_ones_refused():
    console = hidden_fault()
    console._teams.value = "North, South, East, West"
    assert console.board.teams == ("North", "South", "East", "West")
    assert [row.box.layout.display for row in console._rows] == [None] * 4 + ["none"] * 2
    console._teams.value = "one"
    assert "2 to 6" in console._said.value
    assert len(console.board.teams) == 4
    console._budget.value = "30"
    assert "of 30" in console.picture.content
    console._budget.value = "-3"
    assert console.minutes == 30.0


def test_a_restart_goes_on_with_teams_scores_costs_and_a_seeded_drill():
    console = hidden_fault()
    console._teams.value = "North, South"
    console._budget.value = "30"
    console._costs._fields["tachometer"].entry.value = "3"
    with_hidden(console, "jets worn").reveal(anyway=True)
    console.deal(12)
    console.look(0.5)
    console.spend("tachometer")
    console.lock("South", "pump weak", True)
    again = hidden_fault()
    assert again.board.teams == ("North", "South")
    assert len(again.board.results) == 1
    assert again.minutes == 30.0
    assert again.hunt.minutes == 3.0
    assert [step.key for step in again.hunt.steps] == [0.5, "tachometer"]
    assert [r.shown for r in again.hunt.readings] == [r.shown for r in console.hunt.readings]
    assert again.answers == {"South": Answer("pump weak", True, 3.0)}
    assert "seed 12" in again._dealt.value and "seed" not in again.picture.words  # the room reads the picture


@pytest.mark.parametrize(
    "hunt",
    [
        {"rig": "yard_boat", "seed": 1, "steps": [], "answers": {}},
        {"rig": "yard_trailer", "seed": -1, "steps": [], "answers": {}},
        {"rig": "yard_trailer", "seed": 1, "steps": [["crystal ball", 2]], "answers": {}},
        {"rig": "yard_trailer", "seed": 1, "steps": [], "answers": {"Team 1": ["gremlins", True, 0]}},
        ["nonsense"],
    ],
)
def test_a_strange_drill_on_disk_is_left_out(hunt):
    console = hidden_fault()
    console._store.keep(console.board, costs={"tachometer": "x", "jets": -1}, minutes="soon", drill=hunt)
    again = hidden_fault()
    assert again.hunt is None
    assert again.minutes == 45.0
    assert again._costs.costs == console._costs.costs
    again.deal(2)
    assert again.hunt is not None


def test_scores_go_to_a_file_and_a_folder_that_cannot_be_written_is_said(tmp_path):
    console = with_hidden(hidden_fault(), "jets worn")
    console.reveal(anyway=True)
    console.save_csv()
    assert "write the name" in console._said.value
    console._csv.value = str(tmp_path / "scores.csv")
    assert not (tmp_path / "scores.csv").exists(), "a name that is only typed writes nothing"
    console.save_csv()
    assert "jets are worn" in (tmp_path / "scores.csv").read_text("utf-8-sig")
    console._csv.value = str(tmp_path / "no such folder" / "scores.csv")
    console.save_csv()
    assert "Not saved" in console._said.value


def test_a_home_that_cannot_be_written_is_said_and_the_drill_goes_on(tmp_path):
    (tmp_path / "file").write_text("in the way")
    console = hidden_fault(folder=tmp_path / "file")
    console.deal(4)
    console.spend("tachometer")
    assert "Not kept on disk" in console._kept.value
    assert console.hunt.minutes == 2.0


def test_buttons_before_a_drill_say_what_to_do():
    console = hidden_fault()
    for press in (lambda: console.spend("jets"), console.reveal, lambda: console.lock("Team 1", "healthy", False)):
        press()
        assert "deal a fault" in console._said.value.lower()
    console.look(0.5)
    assert "stopped" in console.picture.words
    console._seed.value = "soon"
    console.deal()
    assert "whole number" in console._said.value


def test_what_is_stored_is_words_picture_and_controls():
    bundle = hidden_fault()._repr_mimebundle_()
    assert bundle["text/plain"] == "Yard trailer, pump stopped. 0 of 45 minutes spent. No fault is hidden yet."
    assert "<img" in bundle["text/html"]
    assert all(not isinstance(each, widgets.Output) for each in list(_instances.values()))
