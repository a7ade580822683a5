"""Lesson 08's fault console shows what the signatures say, on the chart, in the table and in words."""

import re
import xml.etree.ElementTree as ElementTree

import pytest

from jetlib.errors import JetlibError
from jetlib.rig.diagnosis.faults import FAULTS, faults_of, signature
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs
from jetlib.screen.consoles.fault_console import fault_console, signature_table, sized
from jetlib.units import SYSTEMS, text

TRAILER = demo_rig("yard_trailer")


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", demo_rigs())
def test_every_fault_of_every_rig_is_shown_with_its_figures(name, system):
    rig = demo_rig(name)
    console = fault_console(name, system=system, other="none")
    for fault in faults_of(rig)[1:]:
        console.set(fault=fault.name, size=min(fault.typical, 1.0))
        found = signature(rig, fault, sized(fault.name, min(fault.typical, 1.0))[1])
        svg = console.picture.svg()
        for gauge, flow, back in zip(found.gauge, found.nozzle_flow, found.return_flow, strict=True):
            assert f">{text(gauge, 'pressure', system)}<" in svg
            assert f">{text(flow, 'flow', system)}<" in svg
            assert f">{text(back, 'flow', system)}<" in svg
        assert all(sentence in console.words for sentence in found.sentences)
        assert ElementTree.fromstring(svg).get("aria-label") == console.words


def test_the_curves_pass_through_the_signature():
    """The marks at idle, half and full throttle lie on lines drawn from a sweep of their own."""
    console = fault_console(fault="valve leaking", size=0.25, other="none")
    lines = re.findall(r'<polyline class="jl-line-blue"[^>]*points="([^"]+)"', console.picture.content)
    assert len(lines) == 3
    found = signature(TRAILER, "valve leaking", 0.25)
    for line, values in zip(lines, (found.gauge, found.nozzle_flow, found.return_flow), strict=True):
        heights = [float(point.split(",")[1]) for point in line.split()]
        idle, half, full = heights[0], heights[len(heights) // 2], heights[-1]
        share = (values[1] - values[0]) / (values[2] - values[0])
        assert (half - idle) / (full - idle) == pytest.approx(share, abs=0.01)


def test_two_faults_stand_side_by_side_and_one_can_be_left_out():
    console = fault_console(fault="jets worn", size=0.2, other="valve leaking", other_size=0.18)
    assert "A: The jets are worn" in console.words
    assert "B: The bypass valve's seat leaks" in console.words
    console.set(other="none")
    assert "B:" not in console.words
    assert "B:" not in console.picture.content


def test_a_leak_can_be_made_to_look_like_wear_on_the_gauge_alone():
    """What the lesson asks for: the gauges agree to 2 %, the flows do not."""
    worn, leak = signature(TRAILER, "jets worn", 0.2), signature(TRAILER, "valve leaking", 0.18)
    assert leak.gauge == pytest.approx(worn.gauge, rel=0.03)
    assert all(leak.nozzle_flow < 0.9 * worn.nozzle_flow)


def test_a_size_beyond_a_fault_is_held_and_said():
    console = fault_console(fault="valve low", size=1.0, other="none")
    assert "This is the most that the course shows of this fault." in console.words
    assert "it opens 60 % low" in console.words
    console.set(size=0.05)
    assert "This is the least that the course shows of this fault." in console.words
    console.set(size=0.3)
    assert "shown at" not in console.words
    assert sized("disc gone", 0.3)[1] == 1.0


def test_the_table_has_a_row_for_each_fault_and_the_changes_of_its_signature():
    table = signature_table()
    rows = {row[0]: row for row in table.rows}
    assert len(rows) == len(faults_of(TRAILER)) - 1
    leaking = next(row for name, row in rows.items() if "seat leaks" in name)
    assert leaking[5] == "always"
    slow = next(row for name, row in rows.items() if "reach its speed" in name)
    assert slow[1] == "same"
    assert slow[6] == "pump speed 20 % down"
    for fault in faults_of(TRAILER)[1:]:
        found = signature(TRAILER, fault)
        row = next(row for name, row in rows.items() if name.endswith(fault.measured(fault.typical)))
        for words, value, usual in zip(row[1:4], found.gauge, found.healthy.gauge, strict=True):
            change = 100 * (value / usual - 1)
            way = "same" if abs(change) <= 2 else f"{abs(change):.0f} % {'up' if change > 0 else 'down'}"
            assert words == way, fault.name
    assert len(signature_table(without=("valve high",)).rows) == len(rows) - 1


def test_an_unknown_rig_is_refused():
    with pytest.raises(JetlibError, match="yard_trailer"):
        fault_console("yard_boat")


def test_the_list_begins_with_a_fault_that_has_a_size():
    first = fault_console().controls["fault"].options[0][1]
    assert FAULTS[first].low < FAULTS[first].high
