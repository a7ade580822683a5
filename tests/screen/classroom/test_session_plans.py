"""Session plans on screen; and each console that a plan sets does show what the plan promises, in its own words."""

import html
import re
import xml.etree.ElementTree as ElementTree
from itertools import pairwise

import pytest

import jetlib.screen
from jetlib.course.classroom.session_plan import clock, plans, sight_values
from jetlib.course.pages.consoles import console as console_of
from jetlib.course.pages.contents import LESSONS
from jetlib.errors import JetlibError
from jetlib.screen.classroom.session_plans import clock_picture, session_plans, step_html, steps_table
from jetlib.screen.controls.console import Choice, Console
from jetlib.units import SYSTEMS, text

STEPS = [(plan, at) for plan in plans().values() for at in range(len(plan.steps))]
SET = [plan.steps[at] for plan, at in STEPS if plan.steps[at].console]
SIGHTS = [(step, sight) for step in SET for sight in step.sees]
each_plan = pytest.mark.parametrize("name", plans())


def console(name, system="US"):
    return getattr(jetlib.screen, name)(system=system)


@pytest.fixture(autouse=True)
def _own_home(tmp_path, monkeypatch):
    monkeypatch.setenv("JETLIB_HOME", str(tmp_path))


# --- the consoles that plans set ---------------------------------------------------------------------


def put(shown, settings):
    """Set a console as a trainer does: a list by its words, all else as typed."""
    for key, value in settings.items():
        control = shown.controls[key]
        if isinstance(control, Choice) and value not in [held for _, held in control.options]:
            (value,) = [held for words, held in control.options if words.startswith(f"{value} ")]
        shown.set(**{key: value})


def bare(words):
    """Words without the places where a plan and a console may round or phrase otherwise."""
    return words.replace("\u2212", "-")


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize(("step", "sight"), SIGHTS, ids=lambda each: getattr(each, "title", None))
def test_the_console_says_what_the_plan_promises(step, sight, system):
    shown = console(step.console, system)
    kind = console_of(step.console).shows[sight.quantity]
    before, after = sight_values(step, sight)
    if step.console == "fault_console":  # it says the sound rig's reading and the change
        put(shown, {**step.set, **sight.after})
        place = {"gauge at idle": "at idle", "gauge at full": "at full throttle"}[sight.quantity]
        assert f"{text(before, kind, system)} {place}" in shown.words
        change = f"{abs(100 * (after / before - 1)):.2g} %"
        assert change in shown.words
        return
    for settings, value in (({}, before), (sight.after, after)):
        if value is None:
            continue
        put(shown, {**step.set, **sight.before, **settings})
        assert bare(text(value, kind, system)) in bare(shown.words)


def test_a_setting_is_taken_by_its_console():
    for step in SET:
        if step.set:
            shown = console(step.console)
            put(shown, step.set)
            assert isinstance(shown, Console)
            for key in step.set:
                assert key in shown.values


def test_the_plan_of_the_day_is_right_about_the_no_go():
    (step,) = [step for step in plans()["day"].steps if step.console == "plan_console"]
    shown = console("plan_console")
    put(shown, step.set)
    assert "NO GO" in shown.words and "NO GO" in step.do


# --- the page ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize(("plan", "at"), STEPS, ids=lambda each: getattr(each, "id", each))
def test_every_step_can_be_shown(plan, at, system):
    step = plan.steps[at]
    shown = step_html(step, system)
    ElementTree.fromstring(f"<div>{shown.replace('&nbsp;', ' ')}</div>")
    plain = html.unescape(shown)
    assert step.title in plain
    assert step.asked(system) in plain
    for words in (*step.sights(system), *step.wrong_ideas(system), step.if_wrong, step.if_split, step.if_right):
        assert words in plain
    for stem in re.findall(r'href="([^"]+)\.ipynb"', shown):
        assert (LESSONS / f"{stem}.ipynb").is_file()
    before = plain.split("<details>")[0]
    if step.vote:
        assert step.answer(system) not in before
    for words in step.sights(system):
        assert words not in before  # the room reads the trainer's screen too


@each_plan
def test_the_clock_line_has_every_step_and_marks_one(name):
    plan = plans()[name]
    for at in (0, len(plan.steps) - 1):
        picture = clock_picture(plan, at, 540)
        tree = ElementTree.fromstring(picture.svg())
        assert tree.get("aria-label") == picture.words
        frames = [node for node in tree.iter() if node.tag.endswith("rect") and node.get("fill") == "none"]
        assert len(frames) == len(plan.steps)
        assert sum(float(node.get("width")) for node in frames) == pytest.approx(904.0, abs=2)
        assert [float(node.get("stroke-width")) for node in frames].count(4.0) == 1
        assert clock(540 + plan.minutes) in picture.words
    places = sorted(
        float(node.get("x")) for node in tree.iter() if node.tag.endswith("text") and ":" in (node.text or "")
    )
    assert all(second - first >= 50 for first, second in pairwise(places))


@each_plan
def test_the_table_gives_minutes_from_the_start_and_the_time_of_day(name):
    plan = plans()[name]
    rows = ElementTree.fromstring(steps_table(plan, 0, 8 * 60 + 30)).findall("tbody/tr")
    assert len(rows) == len(plan.steps) + 1
    for row, begins in zip(rows, plan.begins, strict=False):
        assert row[0].text == f"{begins} min"
        assert row[1].text == clock(510 + begins)
    assert rows[-1][0].text == f"{plan.minutes} min"


def test_steps_are_gone_through_and_held_at_both_ends():
    shown = session_plans("bypass_20", start="13:00")
    shown.go(-3)
    assert shown.at == 0 and "13:00 to 13:01" in shown.words
    for _ in range(20):
        shown.go(shown.at + 1)
    assert shown.at == len(shown.plan.steps) - 1
    shown._step.value = 2
    assert shown.at == 2
    shown._plan.value = "day"
    assert shown.plan.id == "day" and shown.at == 0
    shown._begins.entry.value = "7.15"
    assert "7:15 to" in shown.words
    shown._begins.entry.value = "noon"
    assert "time of day" in shown._begins.error.value and "7:15 to" in shown.words


def test_units_are_switched():
    shown = session_plans("bypass_20")
    shown.go(2)
    assert "psi" in shown._large.value
    shown.use_units("metric")
    assert "psi" not in shown._large.value and "L/min" in shown._large.value


def test_stored_it_has_every_step_with_its_numbers():
    stored = session_plans("bypass_20")._repr_mimebundle_()
    assert "9:06" in stored["text/plain"] and "2760 psi" in stored["text/plain"]
    assert "alt=" in stored["text/html"]


@pytest.mark.parametrize("plan", ["none", None, 7])
def test_a_plan_that_is_not_there_is_refused(plan):
    with pytest.raises(JetlibError, match="write one of"):
        session_plans(plan)
