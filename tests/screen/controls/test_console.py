"""A console does what its labels say: typed and slid values, units, bad entries, what it shows first."""

import gc
import re
import tracemalloc
import xml.etree.ElementTree as ElementTree

import numpy as np
import pytest

from jetlib.errors import JetlibError
from jetlib.screen.consoles.bypass_console import (
    bypass_console,
    changed_rig,
    opening_throttle,
    rig_console,
    valve_console,
)
from jetlib.screen.consoles.hose_choice_console import surge_console
from jetlib.screen.consoles.hose_console import hose_console, hose_loss
from jetlib.screen.consoles.jets_console import jet_set_pressure, jets_console, same_area_console
from jetlib.screen.controls.console import Amount, Choice, Console, Count, Push, Switch
from jetlib.screen.drawing.picture import Picture
from jetlib.units import from_si, si, text

VIEW = "application/vnd.jupyter.widget-view+json"
ALL = {
    "jets": jets_console,
    "same area": same_area_console,
    "hose": hose_console,
    "two hoses": lambda **more: hose_console(two=True, **more),
    "bypass": bypass_console,
    "rig": rig_console,
    "valve": valve_console,
}


def small_console(log):
    controls = [
        Amount("flow", "Flow", "flow", "1 gpm", "11 gpm", 100, "5 gpm"),
        Count("holes", "Holes", 1, 9, 4),
        Choice("edge", "Edge", (("sharp", 0.62), ("round", 0.9)), 0.62),
        Switch("reel", "On the reel"),
        Push("double", "Twice the holes", lambda values: {"holes": 2 * values["holes"]}),
    ]

    def draw(values, system):
        log.append(values)
        if values["holes"] == 9:
            raise JetlibError("nine is not drawn")
        return Picture("<circle r='3'/>", 100, 50, f"{text(values['flow'], 'flow', system)}, {values['holes']} holes")

    return Console("Small", controls, draw)


def field(console, name):
    return console._fields[name]


def test_typed_value_is_used_exactly_and_moves_the_slider():
    console = small_console([])
    field(console, "flow").entry.value = "8.04 gpm"
    assert console.values["flow"] == si("8.04 gpm", "flow")
    assert field(console, "flow").slider.value == 70
    field(console, "flow").entry.value = "30 L/min"
    assert console.values["flow"] == si("30 L/min", "flow")
    assert field(console, "flow").entry.value == "7.93 gpm"


def test_slider_moves_the_entry():
    console = small_console([])
    field(console, "flow").slider.value = 0
    assert field(console, "flow").entry.value == "1 gpm"
    field(console, "flow").slider.value = 100
    assert field(console, "flow").entry.value == "11 gpm"
    field(console, "holes").slider.value = 7
    assert (console.values["holes"], field(console, "holes").entry.value) == (8, "8")


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("", "nothing is typed"),
        ("abc", "abc"),
        ("12", "gpm"),
        ("20 gpm", "1 to 11 gpm"),
        ("5 psi", "pressure"),
        ("NaN gpm", "NaN gpm"),
        ("9**9 gpm", "9**9 gpm"),
    ],
)
def test_bad_entry_is_marked_and_the_picture_stands(typed, said):
    console = small_console([])
    before = console._image.value, console.words
    field(console, "flow").entry.value = typed or " "
    assert "Not used" in field(console, "flow").error.value
    assert said.lower() in field(console, "flow").error.value.lower()
    assert field(console, "flow").entry.value == (typed or " "), "what was typed stays"
    assert (console._image.value, console.words) == before
    field(console, "flow").entry.value = "6 gpm"
    assert field(console, "flow").error.value == ""


@pytest.mark.parametrize("typed", ["0", "10", "-1", "2.5", "four", "٣", "1" * 50])
def test_bad_count_is_marked(typed):
    console = small_console([])
    field(console, "holes").entry.value = typed
    assert "whole number from 1 to 9" in field(console, "holes").error.value
    assert console.values["holes"] == 4


def test_unit_switch_rewrites_entries_and_words_but_not_values():
    console = small_console([])
    before = dict(console.values)
    console.use_units("metric")
    assert console.values == before
    assert field(console, "flow").entry.value == "18.9 L/min"
    assert "L/min" in console.words
    field(console, "flow").slider.value = 0
    assert field(console, "flow").entry.value == "3.79 L/min"


def test_button_changes_values_and_draws_once():
    log = []
    console = small_console(log)
    log.clear()
    field(console, "double").box.click()
    assert console.values["holes"] == 8
    assert len(log) == 1


def test_refused_drawing_is_said_in_words_and_the_picture_stands():
    console = small_console([])
    console.set(holes=9)
    assert "nine is not drawn" in console._words.value
    assert console.words.endswith("4 holes")


@pytest.mark.parametrize("name", ALL)
@pytest.mark.parametrize("system", ["US", "metric"])
def test_first_output_has_words_a_stored_picture_and_the_live_view(name, system):
    console = ALL[name](system=system)
    bundle = console._repr_mimebundle_()
    assert set(bundle) == {"text/plain", "text/html", VIEW}
    assert bundle["text/plain"] == console.words
    assert bundle["text/html"].startswith("<img ")
    assert "alt=" in bundle["text/html"]
    assert ("bar" in console.words) == (system == "metric")


@pytest.mark.parametrize("name", ALL)
def test_pictures_are_well_formed_and_described(name):
    svg = ElementTree.fromstring(ALL[name]().picture.svg())
    assert svg.get("role") == "img"
    assert svg.get("aria-label") == ALL[name]().words


def test_jets_console_says_what_the_formula_gives():
    console = jets_console(count=3, bore="#56", flow="7 gpm")
    wanted = jet_set_pressure(si("7 gpm", "flow"), count=3, bore=si("#56", "jet_bore"), edge=console.values["edge"])
    assert f"needs {text(wanted, 'pressure', 'US')} at the nozzle" in console.words


def test_jets_console_opens_by_a_drill_size_and_keeps_a_set():
    console = jets_console(count=4, bore="#60")
    field(console, "keep").box.click()
    field(console, "open").box.click()
    assert "#59" in console.words
    assert "kept set, 4 holes of 0.04 in" in console.words
    field(console, "add").box.click()
    assert console.values["count"] == 5


def test_two_hoses_add():
    console = hose_console(two=True, flow="8 gpm")
    flow, same = si("8 gpm", "flow"), {"roughness": 1e-5}
    first = hose_loss(flow, bore=si("1/2 in", "hose_bore"), length=si("200 ft", "length"), **same)
    second = hose_loss(flow, bore=si("3/8 in", "hose_bore"), length=si("50 ft", "length"), **same)
    assert f"together {text(first + second, 'pressure', 'US')}" in console.words


def test_the_reel_costs_more():
    straight, reeled = (
        hose_loss(si("8 gpm", "flow"), bore=0.0127, length=60.0, roughness=1e-5, reel=reel) for reel in (False, True)
    )
    assert 1.1 < reeled / straight < 1.4


def test_bypass_console_marks_where_the_valve_opens():
    console = bypass_console("yard_small_bore")
    from jetlib.rig.parts.rig_file import demo_rig

    opens = opening_throttle(demo_rig("yard_small_bore"))
    assert f"opens at {100 * opens:.0f} % throttle" in console.words
    assert f"valve opens, {100 * opens:.0f} %" in console.picture.content


def test_a_gone_disc_stays_gone_at_lower_throttle_only_if_the_sweep_passed_it():
    console = bypass_console("yard_small_bore", valve="burst disc", throttle=0.9)
    assert "BURST DISC OPEN" in console.words
    assert "Caution: BURST DISC OPEN" in console.picture.content
    console.set(throttle=0.3)
    assert "BURST DISC" not in console.words


def test_a_burst_disc_stays_burst_until_a_new_one_is_fitted():
    console = valve_console()
    console.set(valve="burst disc")
    assert "BURST DISC" not in console.words, "sound as long as the outlet is open"
    full = console.words
    console.set(shut=True)
    assert "BURST DISC OPEN" in console.words
    console.set(shut=False)
    assert "BURST DISC OPEN" in console.words, "opening the outlet brings nothing back"
    console.set(throttle=0.2)
    assert "BURST DISC OPEN" in console.words, "nor does less throttle"
    console.set(throttle=1.0)
    field(console, "new_disc").box.click()
    assert console.words == full


def test_changed_rig_adds_hose_at_the_nozzle_end():
    from jetlib.rig.parts.rig_file import demo_rig

    rig = demo_rig("yard_trailer")
    changed = changed_rig(rig, extra_length=30.0, extra_bore="3/8 in", jets=1)
    assert [hose.length for hose in changed.hoses] == [rig.hoses[0].length, 30.0]
    assert all(new.bore > old.bore for new, old in zip(changed.nozzle.jets, rig.nozzle.jets, strict=True))


def test_many_moves_leave_no_memory_behind():
    console = bypass_console()
    for step in range(60):
        console.set(throttle=(step % 101) / 100)
    tracemalloc.start()
    try:
        for step in range(100):
            console.set(throttle=(step % 101) / 100)
        console._before = None  # the one state that is kept on purpose
        gc.collect()
        early = tracemalloc.get_traced_memory()[0]
        for step in range(300):
            console.set(throttle=(step % 101) / 100)
        console._before = None
        gc.collect()
        late = tracemalloc.get_traced_memory()[0]
    finally:
        tracemalloc.stop()
    assert late - early < 50_000, "bytes kept over 300 moves"


def test_slider_steps_are_round_in_us_units():
    console = jets_console()
    field(console, "flow").slider.value = 1
    assert from_si(console.values["flow"], "flow", "US") == pytest.approx(0.6)


def test_an_answer_stands_large_with_its_unit_and_its_change():
    console = jets_console(flow="4 gpm")
    large = re.findall(r"font-weight:600\">([^<]+)</span> ([^<]+)<", console._answers.value)
    assert large[0] == tuple(text(console.picture.answers[0].value, "pressure", "US").split())
    assert "was" not in console._answers.value, "nothing has been moved yet"
    before = text(console.picture.answers[0].value, "pressure", "US")
    console.set(flow="8 gpm")
    assert f"was {before}: now 4 times as much" in console._answers.value
    console.set(flow="8 gpm")
    assert "as before" in console._answers.value
    console.use_units("metric")
    assert "was" not in console._answers.value


def test_what_was_so_before_stays_gray_behind_on_the_same_axes():
    console = jets_console(flow="4 gpm")
    assert "jl-gone" not in console._image.value.replace(".jl-gone", "")
    first = re.search(r'<g class="jl-trace"[^>]*>(.*?)</g>', console._image.value)[1]
    console.set(flow="8 gpm")
    assert f'<g class="jl-gone">{first}</g>' in console._image.value
    assert ElementTree.fromstring(console.picture.svg()) is not None and "jl-gone" not in console.picture.content


def test_one_slide_of_a_handle_is_one_move(monkeypatch):
    console, clock = jets_console(flow="4 gpm"), [0.0]
    monkeypatch.setattr("jetlib.screen.controls.console.time.monotonic", lambda: clock[0])
    start = text(console.picture.answers[0].value, "pressure", "US")
    slider = field(console, "flow").slider
    for _ in range(5):
        clock[0] += 0.2
        slider.value += 3
        assert f"was {start}" in console._answers.value
    rest = text(console.picture.answers[0].value, "pressure", "US")
    clock[0] += 5.0
    slider.value += 3
    assert f"was {rest}" in console._answers.value


@pytest.mark.parametrize("made", [jets_console, hose_console, same_area_console])
def test_axes_stay_where_they_are_so_that_a_change_looks_like_one(made):
    console, places = made(), set()
    for flow in ("1 gpm", "8 gpm", "20 gpm"):
        console.set(flow=flow)
        places |= set(re.findall(r'data-place="([^"]+)"', console.picture.content))
    assert len(places) == 1
    if made is hose_console:
        assert "off the chart" not in console.picture.content
        console.set(bore_1=si("1/8 in", "hose_bore"))
        assert "off the chart" in console.picture.content


@pytest.mark.parametrize("odd", ["yard_traler", None, 5, [], np.ones(2)])
def test_a_rig_that_is_not_in_the_list_is_refused_in_words(odd):
    with pytest.raises(JetlibError, match=r"rig is .*; write one of: yard_cart, yard_small_bore"):
        surge_console(odd)


def test_a_kept_hose_stays_beside_the_new_one():
    console = hose_console(bore_1="1/2 in")
    said = console.words.partition(": ")[2].partition(". ")[0]
    console._fields["keep"].box.click()
    assert "kept hose" not in console.words.lower() + console.picture.content
    console.set(bore_1=si("3/8 in", "hose_bore"))
    assert f"The kept hose: {said}." in console.words and "kept hose" in console.picture.content
