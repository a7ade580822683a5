"""Lesson 08's diagnosis console: what is typed becomes readings, and what the diagnosis says is what is shown."""

import xml.etree.ElementTree as ElementTree
from html import escape

import pytest

from jetlib.errors import JetlibError
from jetlib.rig.diagnosis.diagnosis import diagnose
from jetlib.rig.diagnosis.faults import signature
from jetlib.rig.diagnosis.readings import BucketTest, GaugeReading, ReturnSeen
from jetlib.rig.parts.rig_file import demo_rig
from jetlib.screen.consoles.diagnosis_console import FIELDS, diagnosis_console
from jetlib.screen.drawing.diagnosis_picture import percent_words, steps_table
from jetlib.units import SYSTEMS, text

TRAILER = demo_rig("yard_trailer")
EVERY_FIELD = {
    "gauge_idle": "395 psi",
    "gauge_half": "1060 psi",
    "gauge_full": "2040 psi",
    "gauge_other": "1530 psi at 75 %",
    "gauge_another": "690 psi at 30 %",
    "stream_idle": "no water",
    "stream_half": "no water",
    "stream_full": "no water",
    "engine_sound": "runs free",
    "speed": "1450 rpm",
    "suction_seen": "free",
    "flow_return": "0 gpm",
    "hose_seen": "sound",
    "jets_seen": "worn",
    "second_gauge": "140 bar",
    "flow_nozzle": "9.1 gpm",
    "gauge_open": "60 psi",
    "flow_open": "5 gal in 32 s",
    "gauge_known_jets": "2770 psi",
    "stream_known_jets": "no water",
    "gauge_opening_set": "3000 psi",
    "stream_opening_set": "water returns",
    "gauge_known_hose": "2040 psi",
    "stream_known_hose": "no water",
}


def readings_of(console):
    return {name: console.values[name] for name in FIELDS if console.values[name] is not None}


def gauges_of(fault, severity):
    found = signature(TRAILER, fault, severity)
    names = ("gauge_idle", "gauge_half", "gauge_full")
    return {name: text(value, "pressure", "US") for name, value in zip(names, found.gauge, strict=True)}


def test_every_field_makes_the_reading_it_says():
    console = diagnosis_console(**EVERY_FIELD)
    assert list(EVERY_FIELD) == list(FIELDS)
    assert set(readings_of(console)) == set(FIELDS)
    checks = {reading.check for reading in readings_of(console).values()}
    assert len(checks) == len(FIELDS)
    assert console.values["gauge_half"].throttle == 0.5
    assert console.values["second_gauge"].second_gauge
    assert console.values["gauge_open"].nozzle_off
    assert console.values["flow_open"].time == 32.0
    assert not console.values["stream_idle"].seen
    assert console.diagnosis.top.name == "jets worn"


def test_it_says_what_the_diagnosis_says():
    console = diagnosis_console(gauge_full="2040 psi", stream_full="no water")
    own = diagnose(TRAILER, [GaugeReading("2040 psi", "full"), ReturnSeen(False, "full")])
    assert [cause.name for cause in console.diagnosis.causes] == [cause.name for cause in own.causes]
    assert own.sentences[0] in console.words
    for cause in own.tied:
        assert f"{100 * cause.probability:.0f} %" in console.picture.content
    assert escape("can't be told apart") in console.picture.content
    assert f">{own.next_check.label}, " in console.picture.content, "with its minutes"


def test_the_lessons_story_ends_where_it_should():
    console = diagnosis_console(**gauges_of("pump weak", 0.15))
    tied = {cause.name for cause in console.diagnosis.tied}
    assert {"pump weak", "jets worn", "gauge low", "valve leaking"} <= tied
    console.set(stream_full="no water")
    assert "valve leaking" not in {cause.name for cause in console.diagnosis.tied}
    console.set(flow_open=text(signature(TRAILER, "pump weak", 0.15).nozzle_flow[2], "flow", "US"))
    assert [cause.name for cause in console.diagnosis.tied] == ["pump weak"]


@pytest.mark.parametrize("typed", ["", "abc", "1e999", "-3 gpm", "NaN psi", "5 furlong", "x" * 10_000, "5 gal in"])
def test_what_cannot_be_read_is_marked_and_left_out(typed):
    console = diagnosis_console(gauge_full="2040 psi")
    before = console.words
    for name in ("gauge_idle", "flow_open", "speed"):
        console._fields[name].entry.value = typed
        assert bool(console._fields[name].error.value) == bool(typed)
    assert set(readings_of(console)) == {"gauge_full"}
    assert console.words == before


def test_a_field_emptied_takes_its_reading_away():
    console = diagnosis_console(**EVERY_FIELD)
    console.set(jets_seen="", gauge_idle="")
    assert not {"jets_seen", "gauge_idle"} & set(readings_of(console))
    console._fields["clear"].box.click()
    assert readings_of(console) == {}
    assert console.words.startswith("There are no readings yet")


def test_a_unit_switch_changes_the_figures_and_not_the_diagnosis():
    console = diagnosis_console(gauge_full="2040 psi", flow_nozzle="9.1 gpm")
    before = [(cause.name, cause.probability) for cause in console.diagnosis.causes]
    console.use_units("metric")
    assert console._fields["gauge_full"].entry.value == "141 bar"
    assert ">141 bar<" in console.picture.content
    assert [(cause.name, cause.probability) for cause in console.diagnosis.causes] == before


def test_a_rig_nobody_has_measured_is_told_apart_less_well():
    console = diagnosis_console(**gauges_of("jets worn", 0.2))
    sound = console.diagnosis.probability("healthy")
    console.set(known="old, and never measured")
    assert console.diagnosis.probability("healthy") > 100 * sound


def test_another_rig_is_diagnosed_as_itself():
    console = diagnosis_console(gauge_full="2770 psi")
    console.set(rig="yard_truck")
    truck = demo_rig("yard_truck")
    own = diagnose(truck, [GaugeReading("2770 psi", "full")])
    assert console.diagnosis.rig == truck
    assert own.sentences[0] in console.words


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_picture_is_sound_and_says_its_words(system):
    for readings in ({}, {"gauge_full": "2040 psi"}, EVERY_FIELD):
        console = diagnosis_console(system=system, **readings)
        assert ElementTree.fromstring(console.picture.svg()).get("aria-label") == console.words
        bundle = console._repr_mimebundle_()
        assert bundle["text/plain"] == console.words


def test_cautions_come_with_the_check_that_needs_them():
    console = diagnosis_console(**gauges_of("jets worn", 0.2), stream_full="no water")
    assert console.diagnosis.next_check.check.caution in console.words


def test_a_valve_that_may_open_too_late_is_warned_of():
    console = diagnosis_console(**gauges_of("healthy", None))
    assert "do not run the rig above its setting" in console.words


def test_strangers_are_refused():
    with pytest.raises(JetlibError, match="gauge_idle"):
        diagnosis_console(gauge_ideal="3 psi")
    with pytest.raises(JetlibError, match="yard_trailer"):
        diagnosis_console("yard_boat")


def test_a_bucket_is_volume_in_time():
    console = diagnosis_console(flow_open="5 gal in 40 s")
    assert console.values["flow_open"].value == pytest.approx(BucketTest(flow="7.5 gpm").value)


def test_nothing_is_called_certain():
    words = [percent_words(probability) for probability in (0.0, 1e-9, 0.3, 0.994, 0.996, 1.0)]
    assert words == ["< 1 %", "< 1 %", "30 %", "99 %", "> 99 %", "> 99 %"]


def test_a_table_of_steps_holds_what_each_diagnosis_says():
    first = diagnose(TRAILER, [GaugeReading("2060 psi", "full")])
    second = diagnose(TRAILER, [GaugeReading("2060 psi", "full"), ReturnSeen(False, "full")])
    table = steps_table({"gauge": first, "and tank": second}, count=4)
    assert table.heads == ("cause", "gauge", "and tank")
    for row, cause in zip(table.rows, first.causes[:4], strict=False):
        assert cause.words.startswith(row[0].removesuffix("; do not touch it"))
        assert row[1:] == (percent_words(cause.probability), percent_words(second.probability(cause.name)))
    assert table.rows[-1] == ("best next check", first.next_check.label, second.next_check.label)
