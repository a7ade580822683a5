"""The live rig: gauge and flows of the operating point, a frozen state beside it, a guess before the answer."""

import re
import xml.etree.ElementTree as ElementTree

import pytest

from jetlib import Hose, Jet, JetlibError, Nozzle, Pump, Rig, Unloader
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs, save_rig
from jetlib.rig.point.operating_point import operating_point
from jetlib.rig.uncertainty.band import usual_full_scale
from jetlib.screen.classroom.live_rig import live_changes, live_rig
from jetlib.screen.classroom.live_rig_picture import GUESSED_AT, compared, guess_words
from jetlib.screen.drawing.gauge import scale_step
from jetlib.units import SYSTEMS, from_si, si, text

TRAILER = demo_rig("yard_trailer")


@pytest.fixture(autouse=True)
def _own_home(tmp_path, monkeypatch):
    monkeypatch.setenv("JETLIB_HOME", str(tmp_path / "home"))


def press(console, words):
    left = [console.box]
    while left:
        widget = left.pop()
        if getattr(widget, "description", "") == words and hasattr(widget, "click"):
            return widget.click()
        left.extend(getattr(widget, "children", ()))
    raise AssertionError(f"no button {words}")


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", demo_rigs())
def test_gauge_and_bars_are_the_operating_point(name, system):
    rig = demo_rig(name)
    for throttle in (0.0, 0.5, 1.0):
        console = live_rig(name, system=system, throttle=throttle)
        point = operating_point(rig, throttle)
        svg = console.picture.svg()
        assert f">{text(point.gauge, 'pressure', system)}<" in svg
        for flow in (point.pump_flow, point.nozzle_flow, point.bypass_flow + point.leak_flow):
            share = f"{100 * flow / rig.pump.rated_flow:.0f} %"
            assert f">{text(flow, 'flow', system)}<" in svg and f">{share}<" in svg
            assert text(flow, "flow", system) in console.words and share in console.words
        assert f"throttle {100 * throttle:.0f} %" in svg
        assert ElementTree.fromstring(svg).get("aria-label") == console.words


def test_figures_are_a_25th_of_the_picture_and_more():
    console = live_rig()
    console.freeze()
    console.step(0.2)
    sizes = [int(size) for size in re.findall(r'font-size="(\d+)"', console.picture.content)]
    assert min(sizes) >= console.picture.height / 25
    assert max(sizes) >= console.picture.height / 10


def test_steps_large_and_small_and_their_ends():
    console = live_rig(throttle=0.5)
    for words, at in (("+ 1 %", 0.51), ("+ 10 %", 0.61), ("\u2212 10 %", 0.51), ("\u2212 1 %", 0.50)):
        press(console, words)
        assert console.values["throttle"] == pytest.approx(at)
    for words, at in (
        ("full throttle", 1.0),
        ("+ 10 %", 1.0),
        ("idle", 0.0),
        ("\u2212 1 %", 0.0),
        ("half throttle", 0.5),
    ):
        press(console, words)
        assert console.values["throttle"] == at
    console._fields["throttle"].slider.value = 77  # as the arrow keys do
    assert console.values["throttle"] == pytest.approx(0.77)
    assert "at 77 % throttle" in console.words


def test_hose_jets_and_valve_change_the_rig():
    longer = live_changes(TRAILER, hose="100 ft")
    assert longer.hoses[0].length == pytest.approx(TRAILER.hoses[0].length + 30.48)
    assert longer.hoses[0].coiled_length == TRAILER.hoses[0].coiled_length
    lower = live_changes(TRAILER, valve=0.8)
    assert lower.unloader.setting == pytest.approx(0.8 * TRAILER.unloader.setting)
    assert live_changes(TRAILER) == TRAILER
    larger = live_changes(TRAILER, jets="larger")
    assert operating_point(larger).gauge < operating_point(TRAILER).gauge
    console = live_rig(throttle=1.0)
    console.set(valve="60 %")
    assert console.point.bypass_flow > 0
    assert console.values["valve"] <= 1.0
    console._fields["valve"].entry.value = "120 %"
    assert "Not used" in console._fields["valve"].error.value


def test_a_frozen_state_stands_beside_the_live_one_in_words_and_pattern():
    console = live_rig(throttle=0.5)
    before = console.point
    press(console, "Freeze")
    console.set(throttle=1.0)
    now = console.point
    assert f"frozen {text(before.gauge, 'pressure', 'US')}" in console.picture.content
    assert "stroke-dasharray" in console.picture.content
    up = text(now.gauge - before.gauge, "pressure", "US")
    assert f"gauge up {up} ({100 * (now.gauge / before.gauge - 1):.0f} %)" in console.words
    assert "back to the tank the same" in console.words
    press(console, "Let go")
    assert "frozen" not in console.words


def test_water_that_begins_to_come_back_is_said_without_a_share_of_nothing():
    now, was = operating_point(live_changes(TRAILER, valve=0.6)), operating_point(TRAILER)
    words = compared(now, was, "US")
    back = text(now.bypass_flow, "flow", "US")
    assert f"back to the tank up {back}." in words
    assert "pump the same" in words or "pump up" in words or "pump down" in words


def test_the_guess_comes_before_the_answer():
    console = live_rig(throttle=0.5)
    figures = [text(console.point.gauge, "pressure", "US"), text(console.point.pump_flow, "flow", "US")]
    press(console, "Guess first")
    page = console.picture.content + console.words + console._guess.chart.value
    assert all(figure not in page for figure in figures)
    assert "the answer" not in console._guess.chart.value
    half = console._guess.fields[GUESSED_AT.index(0.5)].entry
    half.value = "100 bar"
    full = console._guess.fields[GUESSED_AT.index(1.0)].slider
    full.value = 50
    assert console.guesses["gauge"][0.5] == 1e7
    assert console.guesses["gauge"][1.0] == pytest.approx(0.65 * TRAILER.unloader.setting)
    assert "2 of 5 points guessed" in console._guess.chart.value
    assert "the room's guess" in console._guess.chart.value.replace("&#x27;", "'")
    console.freeze()
    assert console.frozen is None  # it would keep what is covered
    press(console, "Show the answer")
    assert figures[0] in console.words
    assert "the answer" in console._guess.chart.value
    real = operating_point(TRAILER, 0.5).gauge
    off = f"{abs(100 * (1e7 / real - 1)):.0f} % too {'high' if real < 1e7 else 'low'}"
    assert (
        f"half throttle: said {text(1e7, 'pressure', 'US')}, is {text(real, 'pressure', 'US')}"
        in console._guess.chart.value
    )
    assert off in console._guess.chart.value or "as good as right" in console._guess.chart.value
    press(console, "Clear the guess")
    assert console._guess.chart.value == ""


def test_the_nozzle_flow_is_guessed_beside_the_gauge_and_bad_guesses_are_refused():
    console = live_rig()
    console.cover()
    console.guess("gauge", 0.0, "500 psi")
    console._guess._quantity.value = "nozzle_flow"
    entry = console._guess.fields[-1].entry
    entry.value = "9 gpm"
    assert console.guesses["nozzle_flow"] == {1.0: pytest.approx(si("9 gpm", "flow"))}
    entry.value = "9 psi"
    assert "Not used" in console._guess.fields[-1].error.value
    assert console.guesses["gauge"] == {0.0: si("500 psi", "pressure")}
    console.use_units("metric")
    assert console._guess.fields[0].entry.value == ""
    console._guess._quantity.value = "gauge"
    assert console._guess.fields[0].entry.value == text(si("500 psi", "pressure"), "pressure", "metric")


def test_a_room_that_is_right_is_told_so():
    said = {at: float(operating_point(TRAILER, at).gauge) for at in (0.0, 1.0)}
    assert "The room knows this rig." in guess_words(TRAILER, "gauge", said, "US")
    said[1.0] *= 2.0
    words = guess_words(TRAILER, "gauge", said, "US")
    assert "100 % too high" in words and "Furthest off at full throttle." in words
    assert guess_words(TRAILER, "gauge", {}, "US") == "Nothing was guessed."


def test_a_rig_file_takes_the_place_of_the_list(tmp_path):
    rig = Rig(
        pump=Pump("5 gpm"), valve=Unloader("1500 psi"), hoses=[Hose("3/8 in", "50 ft")],
        nozzle=Nozzle(jets=[Jet(bore="1.2 mm", count=4)]), name="Own barrow",
    )  # fmt: skip
    save_rig(rig, tmp_path / "own.toml")
    console = live_rig()
    console.set(file=str(tmp_path / "own.toml"))
    assert "Own barrow" in console.words
    console._fields["file"].entry.value = str(tmp_path / "none.toml")
    assert "Not used" in console._fields["file"].error.value
    assert "Own barrow" in console.words
    console._fields["file"].entry.value = ""
    assert "Yard trailer" in console.words


def test_a_rig_without_a_hose_is_shown_and_hose_for_it_refused():
    bare = TRAILER.replace(hoses=())
    assert live_changes(bare, valve=0.9).unloader.setting < TRAILER.unloader.setting
    with pytest.raises(JetlibError, match="no hose"):
        live_changes(bare, hose="50 ft")


def test_an_unknown_rig_is_refused():
    with pytest.raises(JetlibError, match="yard_trailer"):
        live_rig("yard_boat")


@pytest.mark.parametrize(("system", "typed", "pascal"), [("US", "1500", 1500 * 6894.757), ("metric", "140", 140e5)])
def test_a_guess_without_a_unit_is_in_the_one_that_is_shown(system, typed, pascal):
    console = live_rig(system=system)
    console.cover()
    console._guess.fields[GUESSED_AT.index(0.5)].entry.value = typed
    assert console.guesses["gauge"][0.5] == pytest.approx(pascal, rel=1e-6)
    assert not any(field.error.value for field in console._guess.fields)


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", demo_rigs())
def test_the_dial_has_figures_to_read_it_by(name, system):
    figures = [float(each) for each in re.findall(r">(\d+)</text>", live_rig(name, system=system).picture.svg())]
    full = from_si(usual_full_scale(demo_rig(name)), "pressure", system)
    step = scale_step(full)
    marked = [number * step for number in range(int(full / step + 1e-6) + 1)]
    assert 3 <= len(marked) <= 10 and figures[: len(marked)] == marked
