"""Rigs to choose from: those of the yard and the reader's own, by the names they gave them."""

import pytest

from jetlib.course.pages.consoles import CONSOLES
from jetlib.course.store.bench_store import rig_path
from jetlib.rig.parts.machine import Pump, Rig
from jetlib.rig.parts.rig_file import demo_rig, save_rig
from jetlib.screen.controls import rig_choice


@pytest.fixture
def own(tmp_path, monkeypatch):
    monkeypatch.setenv("JETLIB_HOME", str(tmp_path))
    path = rig_path(tmp_path, "1/2 + 3/8")
    path.parent.mkdir()
    save_rig(demo_rig("yard_truck").replace(name="Mine"), path)
    save_rig(Rig(pump=Pump("3 gpm")), rig_path(tmp_path, "No valve"))
    return path


def test_own_rigs_go_by_the_name_they_were_given(own):
    words = [words for words, _ in rig_choice.rig_options()]
    assert "my rig: 1/2 + 3/8" in words and "my rig: No valve" in words
    ((said, key),) = rig_choice.whole_rigs()[len(rig_choice.yard_rigs()) :]  # one without a valve is no use to a lesson
    assert said == "my rig: 1/2 + 3/8"
    assert rig_choice.rig_of(key).name == "Mine"
    save_rig(demo_rig("yard_cart").replace(engine=None), own)  # as most are that somebody types in
    assert rig_choice.whole_rigs(engine=True) == rig_choice.yard_rigs()
    assert rig_choice.whole_rigs()[-1][1] != key  # nothing is remembered of the rig before


TAKE_A_RIG = (
    "bypass_console", "sets_console", "last_hose_console", "surge_console",
    "diagnosis_console", "pull_console", "reach_console", "tank_console", "power_console", "plan_console",
    "doubt_console", "rules_console", "own_rule_console", "band_console",
)  # fmt: skip


@pytest.mark.parametrize("name", TAKE_A_RIG)
def test_lesson_consoles_and_rules_work_on_an_own_rig(own, name):
    console = CONSOLES[name].maker()()
    options = console.controls["rig"].options
    console.set(rig=next(key for words, key in options if words == "my rig: 1/2 + 3/8"))
    assert "cannot be shown" not in console._words.value
    # A diagnosis says nothing of a rig before something is read.
    assert name == "diagnosis_console" or console.words != CONSOLES[name].maker()().words


@pytest.mark.parametrize("name", [each for each in TAKE_A_RIG if each != "power_console"])
def test_a_rig_whose_engine_nobody_has_written_is_good_enough(own, name):
    save_rig(demo_rig("yard_truck").replace(engine=None), own)
    test_lesson_consoles_and_rules_work_on_an_own_rig(own, name)
