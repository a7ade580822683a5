"""What technicians write on the bench: the same as the whole text would be, shown whole; nothing else is touched."""

import pytest

from jetlib.course.store.bench_store import BenchStore
from jetlib.errors import JetlibError
from jetlib.screen.bench.bench import Bench
from jetlib.screen.bench.entries.state import BenchState, fresh
from jetlib.units.entry import completed, drill_and_count


@pytest.fixture
def state():
    return BenchState()


def typed(state, place, text):
    state.type_rig(place, text)
    part, number, name = place
    texts = state.form[part] if number is None else state.form[part][number]
    return texts["pending"][name] if name in texts.get("pending", {}) else texts[name]


@pytest.mark.parametrize(
    ("place", "text", "whole"),
    [
        (("hoses", 0, "bore"), "3/8", "3/8 in"),
        (("hoses", 0, "bore"), "0.375", "0.375 in"),
        (("hoses", 0, "bore"), "3/8″", "3/8″"),
        (("hoses", 0, "length"), "200", "200 ft"),
        (("hoses", 0, "length"), "200'", "200'"),
        (("hoses", 0, "coiled_length"), "all", "250 ft"),
        (("pump", None, "rated_flow"), "8", "8 gpm"),
        (("pump", None, "rated_flow"), "8 g.p.m.", "8 g.p.m."),
        (("pump", None, "rated_speed"), "1,450 rpm", "1450 rpm"),
        (("valve", None, "setting"), "3,000", "3000 psi"),
        (("jets", 0, "bore"), "60", "#60"),
        (("jets", 0, "bore"), ".040", ".040 in"),
        (("jets", 0, "bore"), "1/16", "1/16 in"),
        (("jets", 0, "count"), "4 holes", "4"),
        (("jets", 0, "angle"), "30", "30 deg"),
        (("engine", None, "power"), "20", "20 hp"),
        (("site", None, "water_temperature"), "60", "60 degF"),
        # what can't be meant stays as it was typed, and is refused
        (("hoses", 0, "bore"), "9", "9"),
        (("hoses", 0, "bore"), "wide", "wide"),
        (("site", None, "water_temperature"), "15", "15"),
        (("pump", None, "rated_flow"), "8 apples", "8 apples"),
        (("site", None, "name"), "12", "12"),
    ],
)
def test_a_rig_typed_as_it_is_said(state, place, text, whole):
    assert typed(state, place, text) == whole


def test_metric_numbers_are_completed_in_metric_units():
    state = BenchState()
    state.use_units("metric")
    assert typed(state, ("hoses", 0, "length"), "60") == "60 m"
    assert typed(state, ("hoses", 0, "bore"), "10") == "10 mm"
    assert typed(state, ("hoses", 0, "bore"), "3/8") == "3/8 in"
    assert typed(state, ("valve", None, "setting"), "200") == "200 bar"
    assert typed(state, ("valve", None, "setting"), "2,500 bar") == "2,500 bar"  # a comma may be a decimal point there


@pytest.mark.parametrize(
    ("text", "drill", "count"),
    [("#60 x 4", "#60", "4"), ("4 x #60", "#60", "4"), ("4x60", "#60", "4"), ("60 x 4", "#60", "4"),
     ("#60 (4)", "#60", "4"), ("1.2 mm x 6", "1.2 mm", "6"), ("6 × 1/16 in", "1/16 in", "6")],
)  # fmt: skip
def test_drill_and_holes_in_one(state, text, drill, count):
    state.type_rig(("jets", 0, "bore"), text)
    assert (state.form["jets"][0]["bore"], state.form["jets"][0]["count"]) == (drill, count)
    state.undo()
    assert state.form == fresh()["form"]


@pytest.mark.parametrize("text", ["4 x 6", "#60 x 400", "#60 x 0", "x 4", "4 x", "#99 x 4", "4 x cheese"])
def test_drill_and_holes_that_are_not_clear_are_refused(state, text):
    before = state.form["jets"][0]
    assert typed(state, ("jets", 0, "bore"), text) == text
    assert {**state.form["jets"][0], "pending": {}} == {**before, "pending": {}}


@pytest.mark.parametrize(
    ("name", "text", "whole"),
    [
        ("throttle", "80", "80 %"), ("throttle", "0.8", "0.8"), ("throttle", "half", "50 %"),
        ("throttle", "full throttle", "100 %"), ("throttle", "1 mile", "1 mile"),
        ("gauge_full", "2400", "2400 psi"), ("gauge_full", "2,400 psi", "2400 psi"),
        ("gauge_other", "1500 at 70", "1500 psi at 70 %"), ("gauge_other", "1500 psi @ 70%", "1500 psi at 70%"),
        ("gauge_other", "1500 at 3/4", "1500 psi at 3/4"), ("gauge_other", "1500", "1500"),
        ("flow_nozzle", "5 gal 32 s", "5 gal in 32 s"), ("flow_nozzle", "5 in 32", "5 gal in 32 s"),
        ("flow_nozzle", "32 s for 5 gal", "5 gal in 32 s"), ("flow_nozzle", "5 gal in 1:05", "5 gal in 65 s"),
        ("flow_nozzle", "5 gal in 1 min 5 s", "5 gal in 65 s"),
        ("flow_nozzle", "5 in 40 at 80", "5 gal in 40 s at 80 %"),
        ("flow_nozzle", "9", "9 gpm"), ("flow_nozzle", "lots", "lots"),
        ("fall", "1/4", "1/4 in/ft"), ("fall", "2", "2 %"), ("fall", "1:50", "1:50"),
        ("bends", "none", "0"), ("tank", "100", "100 gal"), ("keep_pull", "20", "20 lbf"), ("tank", "-3", "-3"),
    ],
)  # fmt: skip
def test_a_sheet_typed_as_it_is_said(state, name, text, whole):
    state.type_sheet(name, text)
    assert state.text(name) == whole


def worth_nothing(text):
    raise JetlibError("will not do")


def two_ends(text):
    return text if " to " in text else worth_nothing(text)


@pytest.mark.parametrize("text", ["", " ", "x" * 5000, "9" * 64, "1,000,000,000", "((((", "5 gal in " * 7, "٣/٨"])
@pytest.mark.parametrize("kind", ["bore", "bucket", "gauge at", "count", "slope", ("a", "b"), None])
def test_odd_texts_are_left_alone(text, kind):
    assert completed(text, kind, "US", worth_nothing) in (text, f"{text.strip()} in/ft")
    assert drill_and_count(text, worth_nothing) is None


def test_the_entry_shows_how_it_was_read(tmp_path):
    made = Bench(BenchStore(tmp_path / "home"))
    entry = made._editor.part("hoses", 0).fields["bore"].entry
    entry.value = "3/8"
    assert entry.value == "3/8 in"
    assert made.state.rig.hoses[0].bore == pytest.approx(9.7e-3, abs=1e-12)  # the mean of EN 853, 9.3 to 10.1 mm


@pytest.mark.parametrize(("typed", "system", "meant"), [
    ("2100-2300", "US", "2100 psi to 2300 psi"), ("2,100 to 2,300", "US", "2100 psi to 2300 psi"),
    ("145 – 160", "metric", "145 bar to 160 bar"), ("145-160 bar", "US", "145 bar to 160 bar"),
    ("2100 psi-2300 psi", "metric", "2100 psi to 2300 psi"),
])  # fmt: skip
def test_a_needle_that_swings_is_typed_by_its_two_ends(typed, system, meant):
    assert completed(typed, "pressure", system, two_ends) == meant
    assert completed(f"{typed} at 70", "gauge at", system, two_ends) == f"{meant} at 70 %"
