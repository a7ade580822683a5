"""Lesson 11's consoles: the plan of the engine is what stands in picture and words; bars are what the bands say."""

import html
import math
import re
import xml.etree.ElementTree as ElementTree

import pytest

from jetlib import plan_job
from jetlib.course.exercises.yard_job import LEADERS, UNWEIGHED, USUAL, banded_numbers, yard_job, yard_plan, yard_rig
from jetlib.rig.job.flushing import DEBRIS
from jetlib.rig.parts.rig_file import demo_rigs
from jetlib.screen.consoles.plan_console import CHECKS, doubt_console, plan_console
from jetlib.screen.controls.console import Switch
from jetlib.screen.drawing.plan_picture import SHOWN, WIDTH, finding_lines
from jetlib.units import SYSTEMS, si, text

STIFF = si("5 in", "pipe_bore")


def svg_of(console):
    svg = console.picture.svg()
    root = ElementTree.fromstring(svg)
    assert root.get("aria-label") == console.words
    assert "nan" not in svg
    assert "inf" not in svg.replace("infinite", "")
    return "".join(root.itertext())


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", demo_rigs())
def test_what_is_shown_is_the_engines_plan(name, system):
    console = plan_console(name, system=system)
    plan = plan_job(yard_rig(name), yard_job())
    shown = svg_of(console)
    rows = {(row.section, row.label): row for row in plan.rows}
    for key in SHOWN:
        row = rows[key]
        assert row.label in shown
        if row.value < 1e9:
            assert text(row.value, row.kind, system) in shown
    assert rows["reach", "nozzle reaches"].text(system) in console.words
    for each in plan.findings:
        assert " ".join(each.text.split()[:4]) in shown
    for each in plan.no_go:
        assert each in console.words


def test_go_and_no_go_are_told_by_more_than_colour():
    stopped = plan_console()
    assert "NO GO" in svg_of(stopped)
    assert "TURN AROUND" in stopped.words
    assert "NO GO" not in svg_of(plan_console(stiff=STIFF))
    assert "CAUTIONS ARE SETTLED" in svg_of(plan_console(stiff=STIFF))
    assert "IS RATED FOR" in plan_console(stiff=STIFF, leader="old").words
    assert "does not go in" in plan_console(stiff=STIFF, access=si("1 in", "pipe_bore")).words


def test_a_shorter_tank_and_more_passes_bring_the_caution_on_water():
    assert "water" not in plan_console(stiff=STIFF).words.partition("Cautions on")[2]
    assert "water" in plan_console(stiff=STIFF, passes=3).words.partition("Cautions on")[2]
    assert "water" not in plan_console(stiff=STIFF, passes=3, refill="10 gpm").words.partition("Cautions on")[2]


def test_the_strip_shows_the_nozzle_where_the_plan_says():
    """The pipe is to scale: 150 px is the way in, the right end of the picture less 40 px the end of the run."""
    plan = yard_plan()
    tip = float(re.search(r'jl-ink-blue" d="M([0-9.]+) ', plan_console().picture.content).group(1))
    share = plan.reach.distance / plan.job.drain.length
    assert tip == pytest.approx(150.0 + (WIDTH - 190.0) * share, abs=0.1)


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("leader", [None, *LEADERS])
@pytest.mark.parametrize("name", demo_rigs())
def test_every_leader_and_debris_can_be_drawn(name, leader, system):
    for at, debris in enumerate(tuple(DEBRIS)[::2]):
        state = {"debris": debris, "fall": 0.02 * (at % 4), "turn": (0.0, math.pi / 4.0, math.pi)[at % 3]}
        state |= {"refill": (0.0, 2e-4)[at % 2], "run": (15.0, 90.0)[at % 2]}
        assert "number" in svg_of(plan_console(name, system=system, leader=leader, **state))


def test_long_sentences_stay_inside_the_picture():
    plan = yard_plan(leader="old", passes=3, debris="gravel")
    content, width, height = finding_lines(plan.findings, WIDTH)
    lines = re.findall(r">([^<]+)</text>", content)
    assert max(len(html.unescape(line)) for line in lines) <= 124
    assert width == WIDTH
    assert height > 17 * len(plan.findings)
    assert " ".join(" ".join(lines).split()).count("HOSE 2 IS RATED FOR") == 1


# --- how sure ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", demo_rigs())
def test_bars_are_in_order_and_hold_their_figures(name, system):
    console = doubt_console(name, system=system)
    numbers = banded_numbers(yard_plan(name, stiff=STIFF, braid=UNWEIGHED))
    assert [each.width for each in numbers] == sorted((each.width for each in numbers), reverse=True)
    shown = svg_of(console)
    for each in numbers:
        assert f"{text(each.low, each.kind, system)} to {text(each.high, each.kind, system)}" in shown
    assert f"Least certain: {numbers[0].words}" in console.words
    assert f"Most certain: {numbers[-1].words}" in console.words


def test_a_check_narrows_what_hangs_on_it():
    def width(name, **changes):
        return next(each.width for each in banded_numbers(yard_plan(stiff=STIFF, **changes)) if each.name == name)

    assert "30.4 ft to 100 ft" in doubt_console().words
    assert width("reach", braid="two-wire steel braid") < 0.6 * width("reach", braid=UNWEIGHED)
    shown = svg_of(doubt_console(jets=True, gauge=True))
    plain = svg_of(doubt_console())
    gauge = re.compile(r"gauge(\d+) psi to (\d+) psi")
    low, high = map(int, gauge.search(shown).groups())
    lower, higher = map(int, gauge.search(plain).groups())
    assert high - low < 0.6 * (higher - lower)  # speed and end fittings, which neither measures, are in both


def test_what_was_checked_is_said():
    assert "nothing checked" in doubt_console().words
    words = doubt_console(pump=True, braid="fiber braid").words
    assert "pump's flow measured" in words
    assert "weighed as fiber braid" in words
    switches = {name for name, each in doubt_console().controls.items() if isinstance(each, Switch)}
    assert switches == set(CHECKS), "each has its switch"


def test_the_usual_job_is_that_of_the_console():
    assert set(USUAL) - {"braid"} <= set(plan_console().values)


@pytest.mark.parametrize("console", [plan_console, doubt_console])
def test_every_choice_shows_what_is_chosen(console):
    """A list whose value is None looks empty in the page."""
    assert None not in console().values.values()
