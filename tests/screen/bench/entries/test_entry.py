"""What is typed on the bench beside the rig: lists of drills and holes, readings, and what is refused."""

import json

import pytest

from jetlib.errors import JetlibError
from jetlib.rig.diagnosis.looks import HoseSeen, JetsSeen
from jetlib.rig.diagnosis.readings import BucketTest, GaugeReading, ReturnSeen
from jetlib.screen.bench.entries.entry import READINGS, SHEET, fresh_sheet, is_sheet, meaning_of
from jetlib.screen.bench.fields import echo_of
from jetlib.units import SYSTEMS
from jetlib.units.entry import hole_counts
from jetlib.units.refusal import page_words


@pytest.mark.parametrize(
    ("typed", "drills"),
    [
        ("#60-#57", ("#60", "#59", "#58", "#57")),
        ("57 to 60", ("#60", "#59", "#58", "#57")),
        ("#60–58; #54", ("#60", "#59", "#58", "#54")),
        ("1.0-1.1 mm, #60", ("1.0 mm", "#60", "1.05 mm", "1.1 mm")),
        ("1/16", ("1/16 in",)),
        ("#60, #60", ("#60",)),
        ("1.2 mm", ("1.2 mm",)),
        ("#60 - #58, 1.3mm 3/64  1.5 mm", ("#60", "#59", "#58", "3/64 in", "1.3 mm", "1.5 mm")),  # all ways at once
    ],
)
def test_a_box_of_drills_is_read_as_a_technician_writes_it(typed, drills):
    assert meaning_of("drills", typed) == drills


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("", "write the drills"),
        (" , ;", "write the drills"),
        ("#60-1.2 mm", "one series"),
        ("#200", "no drill"),
        ("#1-#80, 0.5-3 mm", "up to 60"),
        ("#60-#58-#55", "stretch"),
        ("9" * 1000, "too long"),
    ],
)
def test_a_list_that_names_no_drills_is_refused(typed, said):
    with pytest.raises(JetlibError, match=said):
        meaning_of("drills", typed)


@pytest.mark.parametrize(
    ("typed", "counts"), [("3-8", (3, 4, 5, 6, 7, 8)), ("4", (4,)), ("0, 2", (0, 2)), ("5 to 3", (3, 4, 5))]
)
def test_hole_counts_holes(typed, counts):
    assert hole_counts(typed) == counts


@pytest.mark.parametrize("typed", ["", "-1", "25", "3-99", "3.5", "many", "٣"])
def test_what_is_no_count_is_refused(typed):
    with pytest.raises(JetlibError):
        hole_counts(typed)


@pytest.mark.parametrize(
    ("name", "typed", "reading"),
    [
        ("gauge_half", "1060 psi", GaugeReading("1060 psi", "half")),
        ("gauge_other", "1500 psi at 70 %", GaugeReading("1500 psi", "70 %")),
        ("gauge_open", "60 psi", GaugeReading("60 psi", "full", nozzle_off=True)),
        ("second_gauge", "140 bar", GaugeReading("140 bar", "full", second_gauge=True)),
        ("flow_nozzle", "5 gal in 32 s", BucketTest(volume="5 gal", time="32 s")),
        ("flow_return", "1 gal in 40 s at 80 %", BucketTest("1 gal", "40 s", throttle="80 %", place="tank return")),
        ("flow_open", "9 gpm", BucketTest(flow="9 gpm", place="open hose")),
        ("stream_idle", "no water", ReturnSeen(False, "idle")),
        ("jets_seen", "worn", JetsSeen("worn")),
        ("hose_seen", "sound", HoseSeen(False)),
        ("gauge_full", "", None),
        ("stream_full", "", None),
    ],
)
def test_a_reading_is_what_was_typed(name, typed, reading):
    assert meaning_of(name, typed) == reading


@pytest.mark.parametrize(
    ("name", "typed"),
    [
        ("gauge_full", "2000"),
        ("gauge_other", "2000 psi"),
        ("gauge_other", "2000 psi at 170 %"),
        ("flow_nozzle", "5 gal in 0.1 s"),
        ("flow_nozzle", "5 gal"),
        ("refill", ""),
        ("tank", "0 gal"),
        ("bends", "21"),
        ("bends", "٣x"),
        ("throttle", "120 %"),
        ("tab", "elsewhere"),
        ("stream_full", "a flood"),
    ],
)
def test_a_bad_entry_is_refused(name, typed):
    with pytest.raises(JetlibError):
        meaning_of(name, typed)


def test_every_entry_starts_with_something_it_can_use_and_shows_an_example_it_can_use():
    assert is_sheet(fresh_sheet())
    for name, spec in SHEET.items():
        for system in () if spec.options else SYSTEMS:
            meaning_of(name, spec.placeholder(system))
    assert set(READINGS) <= set(SHEET)


@pytest.mark.parametrize(
    "held", [None, {}, {**fresh_sheet(), "tank": 3}, {**fresh_sheet(), "tank": "big"}, {**fresh_sheet(), "x": ""}]
)
def test_plain_values_that_are_no_sheet(held):
    assert not is_sheet(json.loads(json.dumps(held)))


@pytest.mark.parametrize(
    ("typed", "kind", "system", "echo"),
    [
        ("9.5 gpm", "flow", "US", ""),
        ("9.5 gpm", "flow", "metric", "= 36.0 L/min"),
        ("#59", "jet_bore", "metric", "= 1.04 mm"),
        ("1/2 in", "bore", "US", ""),
        ("15 degC", "temperature", "metric", ""),
        ("nonsense", "flow", "US", ""),
        ("", "flow", "US", ""),
        ("4", "count", "US", ""),
    ],
)
def test_what_it_is_in_the_other_units_stands_beside(typed, kind, system, echo):
    assert echo_of(typed, kind, system) == echo


@pytest.mark.parametrize(
    ("error", "words"),
    [
        (
            'length is "180", which has no unit; write length="180 ft" or length="180 m"',
            'length is "180", which has no',
        ),
        ("working_pressure is 2 psi (0.1 bar); write Hose(bore=…)", "working pressure is 2 psi"),
        ("allowed: 0.2 to 1; write Jet(discharge_coefficient=0.75, …)", "allowed: 0.2 to 1"),
    ],
)
def test_a_refusal_is_worded_for_somebody_who_writes_no_code(error, words):
    shown = page_words(JetlibError(error))
    assert words in shown
    assert "=" not in shown
    assert "(" not in shown
