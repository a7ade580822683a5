"""The table of readings: plain text, Markdown and HTML hold the same numbers."""

import pytest

import jetlib
from jetlib.errors import JetlibError
from jetlib.units import si
from jetlib.units.readings_table import ReadingsTable

ROWS = [
    ("gauge", si("3000 psi", "pressure"), "pressure"),
    ("nozzle | <flow>", si("8 gpm", "flow"), "flow"),
    ("limited by", "bypass", None),
    ("not asked", None, "flow"),
    ("losses", [1e6, 2e6], "pressure"),
]


def test_plain_table_is_aligned():
    assert repr(ReadingsTable(ROWS)).splitlines() == [
        "gauge                3000 psi",
        "nozzle | <flow>         8 gpm",
        "limited by             bypass",
        "not asked                   —",
        "losses           145, 290 psi",
    ]


def test_notebook_forms_hold_the_same_numbers():
    table = ReadingsTable(ROWS, "both")
    assert repr(table) == str(table)
    for form in (repr(table), table._repr_markdown_(), table._repr_html_()):
        for cell in ("3000 psi", "207 bar", "8 gpm", "30.3 L/min", "145, 290 psi", "10, 20 bar", "bypass"):
            assert cell in form
    assert "<flow>" not in table._repr_html_() + table._repr_markdown_()
    assert "nozzle \\| &lt;flow&gt;" in table._repr_markdown_()
    assert all(line.count(" | ") == 2 for line in ReadingsTable(ROWS[:1], "both")._repr_markdown_().splitlines()[2:])


def test_groups_of_the_same_names_are_shown_crosswise():
    rows = []
    for name, pressure, flow in (("idle", "500 psi", "4 gpm"), ("full | <out>: throttle", "2800 psi", "9 gpm")):
        rows += [(f"{name}: gauge", si(pressure, "pressure"), "pressure"), ("… flow", si(flow, "flow"), "flow")]
    table = ReadingsTable(rows, "both")
    assert [line.split() for line in repr(table).splitlines()] == [
        ["US", "gauge", "flow"],
        ["idle", "500", "psi", "4", "gpm"],
        ["full", "|", "<out>:", "throttle", "2800", "psi", "9", "gpm"],
        [],
        ["metric", "gauge", "flow"],
        ["idle", "34.5", "bar", "15.1", "L/min"],
        ["full", "|", "<out>:", "throttle", "193", "bar", "34.1", "L/min"],
    ]
    assert table._repr_html_().count("<table class='jl-in-") == 2 and "<out>" not in table._repr_html_()
    assert table._repr_markdown_().count("| idle |") == 2
    assert repr(ReadingsTable(rows)).count("\n") == 2
    for unlike in (rows[:2], rows[:3], [*rows, ("limited by", "bypass", None)], [("… flow", 1.0, "flow"), *rows]):
        assert repr(ReadingsTable(unlike)).count("\n") == len(unlike) - 1, "a row each"


def test_empty_and_unknown():
    assert repr(ReadingsTable(())) == "no readings"
    with pytest.raises(JetlibError, match='write "US" or "metric"'):
        ReadingsTable(ROWS, "SI")


def test_the_front_door_hands_the_table_on():
    assert jetlib.ReadingsTable is ReadingsTable
    with pytest.raises(AttributeError):
        _ = jetlib.units.nothing_of_the_kind
