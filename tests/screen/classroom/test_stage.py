"""What a room is shown of a plan: one thing at a time, consoles already set, a clock, and nothing for the trainer."""

import json
from html import unescape

import pytest

from jetlib.course.classroom.session_plan import CAUTION, plans
from jetlib.course.classroom.session_sight import checked
from jetlib.screen.classroom.session_plans import session_plans
from jetlib.screen.classroom.stage import Stage


@pytest.fixture(autouse=True)
def _own_home(tmp_path, monkeypatch):
    monkeypatch.setenv("JETLIB_HOME", str(tmp_path))


class Clock:
    def __init__(self):
        self.now = 1_000_000.0

    def __call__(self):
        return self.now


def shown(widget):
    """All that a box says."""
    parts = [str(getattr(widget, "value", ""))]
    for child in getattr(widget, "children", ()):
        parts.append(shown(child))
    return unescape(" ".join(parts))


def test_a_step_comes_part_by_part_and_then_the_next_one():
    went = []
    stage = Stage(went.append)
    plan = plans()["bypass_20"]
    at = next(at for at, step in enumerate(plan.steps) if step.vote and step.console)
    step = plan.steps[at]
    stage.show(plan, at, "US")
    asked = step.asked("US")
    assert stage.parts == ("vote", "answer", "console")
    assert asked in shown(stage._main) and "✔" not in shown(stage._main)
    stage.vote.count((1, 2, 3, *[0] * (stage.vote.asked.count - 3)))
    assert "2  (33 %)" in shown(stage._main)
    stage.next()
    assert "✔" in shown(stage._main) and asked not in shown(stage._main)
    stage.next()
    assert {name: stage.console.values[name] for name in step.set} == checked(step.console, step.set)
    assert "<svg" in shown(stage._main)
    assert went == []
    stage.next()
    stage.back()
    assert went == [at + 1] and stage.part == 1
    stage.back()
    assert "2  (33 %)" not in shown(stage._main)  # the answer has been shown, and stays so


def test_going_back_to_a_step_finds_its_last_part_and_the_hands_counted():
    plan = plans()["jets_20"]
    stage = Stage(lambda at: stage.show(plan, at, "US"))
    stage.show(plan, 1, "US")
    stage.vote.count((1, 2, 3, 0, 0))
    stage.next()
    stage.next()
    assert stage.at == 2 and stage.vote is None
    stage.back()
    assert (stage.at, stage.part, stage.vote.vote.first) == (1, 1, (1, 2, 3, 0, 0))


@pytest.mark.parametrize("name", plans())
def test_every_step_of_every_plan_can_be_shown_without_the_trainers_notes(name):
    plan, stage = plans()[name], Stage(lambda at: None)
    for at, step in enumerate(plan.steps):
        stage.show(plan, at, "metric")
        for _ in stage.parts[1:]:
            stage.next()
        told = shown(stage.box)
        for secret in (step.do, step.if_wrong, step.if_split, step.if_right, *step.wrong):
            assert not secret or secret not in told
    assert plan.steps[-1].title in told


def test_what_moves_on_the_console_is_in_figures_too():
    plan, stage = plans()["jets_20"], Stage(lambda at: None)
    at = next(at for at, step in enumerate(plan.steps) if step.console == "jets_console")
    stage.show(plan, at, "US")
    stage.next()
    assert "<b>212 psi</b>" in shown(stage._main)
    stage.console.set(flow="4 gpm")
    assert "<b>846 psi</b>" in shown(stage._main)  # four times, by the square law


def test_cautions_are_on_screen_whole():
    stage = Stage(lambda at: None)
    stage.show(plans()["day"], 0, "US")
    assert CAUTION in shown(stage._main)


def test_the_clock_runs_from_the_first_step_shown_and_says_what_to_leave_out():
    clock = Clock()
    plan, stage = plans()["circuit_45"], None
    stage = Stage(lambda at: None, now=clock)
    stage.next()
    stage.back()
    assert stage.due is None
    stage.show(plan, 1, "US")
    assert stage.due == clock.now + 60 * plan.steps[1].minutes
    clock.now += 60 * 15  # ten minutes too long over it
    stage.show(plan, 2, "US")
    assert stage.due - clock.now == 60 * (plan.steps[2].minutes - (15 - plan.steps[1].minutes))
    assert f'data-ends="{clock.now + 60 * plan.steps[2].minutes:.0f}"' in stage._head.value
    assert plan.late_words(2)[5] == "5 minutes behind: leave out step 4, The gauge at idle: vote (6 min)."
    assert "leave out step 7, Calculate one (9 min)" in plan.late_words(2)[10]  # none is long enough: the longest
    assert plan.left_out(len(plan.steps) - 2, 5) is None  # the close stays
    assert "no step can be left out" in plan.late_words(len(plan.steps) - 2)[5]


def test_notes_have_the_answer_what_then_and_what_comes_next():
    console = session_plans("jets_20", system="US")
    console.go(1)
    console.show_step()
    told, step = unescape(console._notes.value), console.step
    assert step.answer("US") in told and step.do in told and step.if_split in told
    assert "<details open>" in told and "data-ends" in told and "Next: See it on the console, 5 min." in told
    late = json.loads(told.split('data-words="')[1].split('"></b>')[0])
    assert late == {str(key): words for key, words in console.plan.late_words(1).items()}
    assert step.answer("US") not in shown(console.stage.box).replace("<b>", "")
    console.go(2)
    assert console.stage.at == 2
