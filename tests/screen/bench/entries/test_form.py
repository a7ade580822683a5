"""A rig on the bench is texts: they make the rig they came from, exactly, and what can't be used is kept beside."""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jetlib.errors import JetlibError
from jetlib.rig.parts.machine import BurstDisc, Engine, Fitting, Hose, Jet, Nozzle, Pump, Rig, Unloader
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs
from jetlib.screen.bench.entries import form as forms
from jetlib.screen.bench.entries.entry import exact_text, meaning
from jetlib.screen.bench.entries.form import MOST, PARTS, fields_of, new_part
from jetlib.units import SYSTEMS, si
from jetlib.units.kinds import KINDS

TRAILER = forms.form_of(demo_rig("yard_trailer"))
FULL = Rig(
    name="everything at once",
    pump=Pump("8 gpm", volumetric_efficiency=0.9, rated_pressure="200 bar"),
    valve=[
        Unloader("190 bar", trapping=True, unloaded_pressure="8 bar", seat_leak="0.4 mm"),
        BurstDisc("230 bar", bore="9 mm", opened=True, seat_leak="0.2 mm"),
    ],
    hoses=[
        Hose("1/2 in", "200 ft", coil_diameter="0.6 m", coiled_length="50 ft", end_bore="10 mm", bend_radius="180 mm"),
        Hose(0.0051234567891, 12.3456789, mass_per_metre="0.2 kg/m", working_pressure="250 bar", name="leader"),
    ],
    fittings=[Fitting("10 mm", line_bore="1/2 in", count=3), Fitting("3/8 in", loss_coefficient=1.5, name="swivel")],
    nozzle=Nozzle([Jet("#61", 4, "33 deg"), Jet(0.00123456789, 1, "180 deg")], "12 mm", 1.5, "spinner"),
    engine=Engine("20 kW", "1800 ft", "electric"),
    water_temperature="7 degC",
    lift="-12 ft",
    outlet_shut=True,
)


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("rig", [*map(demo_rig, demo_rigs()), FULL, Rig(pump=Pump("3 gpm"))], ids=lambda rig: rig.name)
def test_a_rig_comes_back_exactly(rig, system):
    form = forms.form_of(rig, system)
    assert forms.rig_of(form) == rig
    assert forms.is_form(json.loads(json.dumps(form)))
    assert forms.rig_of(json.loads(json.dumps(form))) == rig


@settings(max_examples=200, deadline=None)
@given(st.data())
def test_every_number_has_a_text_that_reads_back_as_it(data):
    names = ("flow", "pressure", "bore", "jet_bore", "length", "coil_diameter", "speed", "angle", "fraction", "power")
    kind = data.draw(st.sampled_from(names))
    value = data.draw(st.floats(max(KINDS[kind].low, 1e-6), min(KINDS[kind].high, 1e9)))
    assert si(exact_text(value, kind), kind) == value


@pytest.mark.parametrize(
    ("typed", "kind", "system", "text"),
    [
        ("#59", "jet_bore", "metric", "#59"),
        ("1.2 mm", "jet_bore", "US", "1.2 mm"),
        ("3/8 in", "bore", "US", "3/8 in"),
        ("12 mm", "bore", "metric", "12 mm"),
        ("9.5 gpm", "flow", "US", "9.5 gpm"),
        ("30 L/min", "flow", "metric", "30 L/min"),
        (0.72, "fraction", "US", "72 %"),
    ],
)
def test_a_number_is_written_as_the_trade_writes_it(typed, kind, system, text):
    assert exact_text(si(typed, kind), kind, system) == text


def test_what_is_typed_makes_the_rig():
    form = forms.typed_at(TRAILER, ("hoses", 0, "length"), " 180 ft ")
    assert forms.pending_places(form) == []
    assert forms.rig_of(form).hoses[0].length == pytest.approx(180 * 0.3048, rel=1e-12)
    assert forms.shown_at(form, ("hoses", 0, "length")) == "180 ft"
    assert TRAILER["hoses"][0]["length"] == "250 ft"


@pytest.mark.parametrize(
    ("place", "typed", "said"),
    [
        (("hoses", 0, "length"), "", "left empty"),
        (("hoses", 0, "bore"), "9 gpm", "flow"),
        (("hoses", 0, "length"), "80 ft", "reel"),
        (("hoses", 0, "coil_diameter"), "", "Reel diameter"),
        (("pump", None, "idle_speed"), "3000 rpm", "rated_speed or less"),
        (("jets", 0, "count"), "four", "whole number"),
        (("jets", 0, "count"), "9" * 400, "whole number"),
        (("jets", 0, "bore"), "#200", "drill"),
        (("engine", None, "power"), "x" * 10_000, "power"),
        (("site", None, "name"), "a\nb", "one line"),
        (("valve", None, "kind"), "tap", "choose one of"),
    ],
)
def test_what_cannot_be_used_is_kept_beside_and_the_rig_stands(place, typed, said):
    form = forms.typed_at(TRAILER, place, typed)
    assert said in str(forms.why_pending(form, place))
    assert forms.shown_at(form, place) == typed
    assert forms.rig_of(form) == forms.rig_of(TRAILER)
    assert forms.pending_places(form) == [place]
    assert forms.is_form(json.loads(json.dumps(form)))


def test_what_was_refused_is_tried_again_when_the_rest_has_changed():
    form = forms.typed_at(TRAILER, ("hoses", 0, "length"), "80 ft")
    assert forms.pending_places(form) == [("hoses", 0, "length")]
    form = forms.typed_at(form, ("hoses", 0, "coiled_length"), "40 ft")
    assert forms.pending_places(form) == []
    assert forms.rig_of(form).hoses[0].length == pytest.approx(80 * 0.3048, rel=1e-12)


def test_a_reel_can_be_typed_in_either_order():
    plain = forms.form_of(demo_rig("yard_small_bore"))
    reel = (("hoses", 0, "coiled_length"), "60 ft"), (("hoses", 0, "coil_diameter"), "20 in")
    for first, second in (reel, reel[::-1]):
        form = forms.typed_at(forms.typed_at(plain, *first), *second)
        assert forms.pending_places(form) == []
        hose = forms.rig_of(form).hoses[0]
        assert (hose.coiled_length, hose.coil_diameter) == (pytest.approx(18.288), pytest.approx(0.508))


def test_sections_are_added_moved_and_taken_out():
    form = forms.with_part(TRAILER, "hoses", new_part("hoses", name="leader", bore="1/4 in", length="30 ft"))
    assert [hose.name for hose in forms.rig_of(form).hoses] == ["reel hose", "leader"]
    assert [hose.name for hose in forms.rig_of(forms.moved(form, "hoses", 1, -1)).hoses] == ["leader", "reel hose"]
    assert forms.moved(form, "hoses", 1, 1) == form
    assert [hose.name for hose in forms.rig_of(forms.without_part(form, "hoses", 0)).hoses] == ["leader"]


GIVEN = {
    "hoses": {"bore": "1/2 in", "length": "50 ft"},
    "fittings": {"bore": "1/2 in", "loss_coefficient": "0.5"},
    "jets": {"count": "1", "bore": "#60"},
}


@pytest.mark.parametrize("part", MOST)
def test_there_is_an_end_to_adding(part):
    form = {**TRAILER, part: []}
    for _ in range(MOST[part]):
        form = forms.with_part(form, part, new_part(part, **GIVEN[part]))
    assert len(getattr(forms.rig_of(form), part, forms.rig_of(form).nozzle.jets)) == MOST[part]
    with pytest.raises(JetlibError, match="as many"):
        forms.with_part(form, part, new_part(part))


@pytest.mark.parametrize("kind", [kind for kind, _ in PARTS["valve"]["kind"].options])
def test_each_kind_of_valve_makes_its_valves(kind):
    form = forms.typed_at(TRAILER, ("valve", None, "kind"), kind)
    assert forms.pending_places(form) == []
    assert [each[2] for each in forms.missing(form)] == (["rating"] if "disc" in kind else [])  # nobody knows it yet
    form = forms.typed_at(form, ("valve", None, "rating"), "4000 psi")
    rig = forms.rig_of(form)
    assert (rig.unloader is not None) == ("unloader" in kind)
    assert (rig.burst_disc is not None) == ("disc" in kind)
    assert rig.unloader is None or rig.unloader.trapping == ("trapped" in kind)
    names = {field.name for field in fields_of("valve", form["valve"])}
    assert ("setting" in names) == ("unloader" in kind)
    assert ("rating" in names) == ("disc" in kind)


def test_no_engine_asks_for_no_power():
    form = forms.typed_at(TRAILER, ("engine", None, "kind"), "none")
    assert forms.pending_places(form) == []
    assert forms.rig_of(form).engine is None
    assert [field.name for field in fields_of("engine", form["engine"])] == ["kind"]


@pytest.mark.parametrize(
    "held",
    [
        None,
        {},
        {**TRAILER, "pump": {}},
        {**TRAILER, "hoses": [{}]},
        {**TRAILER, "hoses": TRAILER["hoses"] * 11},
        {**TRAILER, "more": {}},
        {**TRAILER, "pump": {**TRAILER["pump"], "rated_flow": 3}},
        {**TRAILER, "pump": {**TRAILER["pump"], "rated_flow": "lots"}},
        {**TRAILER, "pump": {**TRAILER["pump"], "pending": {"colour": "red"}}},
    ],
)
def test_plain_values_that_make_no_rig_are_no_form(held):
    assert not forms.is_form(held)


def test_every_entry_takes_its_start_text():
    for part, fields in PARTS.items():
        texts = new_part(part)
        for name, field in fields.items():
            if texts[name]:
                meaning(field, texts[name])
