"""Lesson 07's consoles: every figure is the engine's, what must not be used is said and drawn so."""

import xml.etree.ElementTree as ElementTree

import pytest

from jetlib import tables
from jetlib.errors import JetlibError
from jetlib.rig.hoses.choice import hose_choices
from jetlib.rig.hoses.weight import PipeRun
from jetlib.rig.parts.machine import Hose
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs
from jetlib.rig.point.operating_point import operating_point
from jetlib.screen.consoles.hose_choice_console import against, last_hose_console, step_down_console
from jetlib.units import SYSTEMS, si, text

TRAILER = demo_rig("yard_trailer")
LENGTH = si("30 ft", "length")


def written(picture):
    tree = ElementTree.fromstring(picture.svg())
    return [node.text for node in tree.iter() if node.tag.endswith("text")]


def choices_for_the_start():
    return hose_choices(TRAILER, "end", length=LENGTH, pipe=PipeRun(bore="3 in", bends=1, run=LENGTH))


@pytest.mark.parametrize("system", SYSTEMS)
def test_each_size_of_the_standard_stands_with_its_figures(system):
    console, choices = last_hose_console(system=system), choices_for_the_start()
    own = [each for each in choices if (each.size.standard, each.size.edition) == ("EN 853 2SN", "2015")]
    assert len(own) == 8
    found = written(console.picture)
    for each in own:
        for value, kind in (
            (each.nozzle_flow, "flow"), (each.hose_loss, "pressure"), (each.mass_full, "mass"),
            (each.size.working_pressure, "pressure"), (each.size.bend_radius, "coil_diameter"),
        ):  # fmt: skip
            assert text(value, kind, system) in found
        assert f"-{each.size.dash} delivers {text(each.nozzle_flow, 'flow', system)}" in console.words
    assert f"{len(choices.usable)} of {len(choices)} hoses can be used" in console.words


def test_a_mark_for_every_hose_and_a_cross_for_each_refused_one():
    content, choices = last_hose_console().picture.content, choices_for_the_start()
    assert content.count('r="5" fill="none"') == len(choices.usable)
    assert content.count("l8 8M") == len(choices) - len(choices.usable)


def test_too_little_working_pressure_is_loud():
    console = last_hose_console()
    assert "NO: pressure" in console.words
    assert "a hose that bursts kills" in console.words
    assert "WORKING PRESSURE NOT ENOUGH in 3 of these 8: a hose that bursts kills." in written(console.picture)
    console.set(kind=("SAE 100R7", "2003"))
    assert "WORKING PRESSURE NOT ENOUGH in 8 of these 8: a hose that bursts kills." in written(console.picture)


def test_why_not_in_a_word():
    choices = hose_choices(TRAILER, "end", length=LENGTH, pipe=PipeRun(bore="2 in", bends=1, run=LENGTH))
    by_label = {each.label: against(each) for each in choices}
    assert by_label["-4 EN 853 2SN (2015)"] == "yes"
    assert by_label["-6 EN 853 2SN (2015)"] == "NO: bends"
    assert by_label["-4 SAE 100R7 (2003)"] == "NO: pressure"
    assert by_label["-16 EN 853 1SN (2015)"] == "NO: pressure, bends"
    far = hose_choices(TRAILER, "end", length="150 ft", pipe=PipeRun(run="150 ft"))
    assert {each.label: against(each) for each in far}["-4 EN 853 2SN (2015)"] == "not pulled"
    thick = hose_choices(TRAILER, "end", length=LENGTH, pipe=PipeRun(bore="0.7 in", run=LENGTH))
    assert {each.label: against(each) for each in thick}["-6 EN 853 2SN (2015)"] == "NO: thick"
    reel = hose_choices(TRAILER.replace(hoses=[TRAILER.hoses[0].replace(coil_diameter="12 in")]), 1)
    assert {each.label: against(each) for each in reel}["-8 EN 853 2SN (2015)"] == "NO: reel"


def test_more_reserve_allows_fewer_hoses():
    console = last_hose_console(reserve=0.0)
    few = last_hose_console(reserve=0.2)
    count = [int(each.words.split(" long, ")[1].split(" of ")[0]) for each in (console, few)]
    assert count[0] > count[1] > 0


@pytest.mark.parametrize("name", demo_rigs())
def test_every_rig_every_standard(name):
    console = last_hose_console(name)
    for kind in dict.fromkeys((row.standard, row.edition) for row in tables.hoses()):
        console.set(kind=kind)
        assert kind[0] in console.words
        assert "cannot be shown" not in console._words.value
        assert ElementTree.fromstring(console.picture.svg()).get("aria-label") == console.words


def step_rig():
    large, small, small_length = tables.hose(8), tables.hose(4), si("60 ft", "length")
    rest = si("250 ft", "length") - small_length
    reel = TRAILER.hoses[0]
    rubber = tables.roughness("rubber hose inner tube").typical
    return TRAILER.replace(
        hoses=[
            Hose(large.bore, rest, rubber, coil_diameter=reel.coil_diameter, coiled_length=reel.coiled_length),
            Hose(small.bore, small_length, rubber),
        ]
    )


@pytest.mark.parametrize("system", SYSTEMS)
def test_step_down_is_the_line_put_together_by_hand(system):
    console, point = step_down_console(system=system), operating_point(step_rig())
    for value, kind in ((point.nozzle_flow, "flow"), (point.hose_loss, "pressure"), (point.gauge, "pressure")):
        assert text(value, kind, system) in console.words
    assert text(point.nozzle_flow, "flow", system) in written(console.picture)


def test_large_hose_in_the_pipe_is_said():
    console = step_down_console(small_length="40 ft", run="60 ft")
    assert "20 ft of the large hose must go into the pipe too" in console.words
    console.set(small_length="60 ft")
    assert "must go into the pipe" not in console.words


def test_a_step_down_that_must_not_be_is_loud():
    console = step_down_console(small="-4 SAE 100R7 (2003)")
    assert "WORKING PRESSURE NOT ENOUGH: rated for 2750 psi (190 bar)" in console.words
    assert "DO NOT USE: working pressure not enough." in written(console.picture)
    console.set(small="-4 EN 853 2SN (2015)")
    assert "NOT ENOUGH" not in console.words


def test_small_hose_all_the_way():
    console = step_down_console(whole="200 ft", small_length="200 ft")
    assert console.words.startswith("200 ft of -4 EN 853 2SN (2015): ")


def test_large_hoses_offered_may_be_used():
    options = [label for _, label in step_down_console().controls["large"].options]
    assert options == ["-8 EN 853 2SN (2015)"]  # -10 falls short once the surge of 250 ft is added


def test_unknown_rig():
    with pytest.raises(JetlibError, match="yard_trailer"):
        step_down_console("no_such_rig")
