"""What a page says you should have seen is what its console says: the same numbers, worked out anew.

Each row: the page, the words of its answer with the number in braces, the console and how it is set, and the words of
the console's own sentence with the number as (...). The page rounds as people do: 3 % or half of the last digit.
"""

import csv
import math
import re

import nbformat
import pytest

import jetlib.screen
from jetlib import Drain, Tank, demo_rig, flushing, from_si, hose_loss, operating_point, si, supply, tables
from jetlib.course.pages.contents import LESSONS
from jetlib.physics.pump import acceleration_head, flow_pulse
from jetlib.tables import DATA

PAGES = {
    path.stem: "\n".join(cell.source for cell in nbformat.read(path, 4).cells if cell.cell_type == "markdown")
    for path in sorted(LESSONS.glob("[0-9][0-9]_*.ipynb"))
}
N = r"(-?[\d,]+(?:\.\d+)?)"
MORE, BEND = {"extra_length": "200 ft"}, math.pi / 2
ROWS = (
    ("00", "About {2760} psi (190 bar)", "rig", {}, {"throttle": 1}, f"gauge {N}"),
    ("00", "about {4.0} gpm (15 L/min) leave", "rig", {}, {"throttle": 0}, f"{N} gpm out"),
    ("00", "the gauge reads about {540} psi", "rig", {}, {"throttle": 0}, f"gauge {N}"),
    ("01", "{9.06}, 9.40 and 9.50 gpm", "pump", {"outlet": "small"}, {}, f"{N} gpm is delivered"),
    ("01", "9.06, {9.40} and 9.50 gpm", "pump", {"outlet": "large"}, {}, f"{N} gpm is delivered"),
    ("01", "from about {2570} psi", "pump", {"outlet": "small"}, {}, f"gauge reads {N}"),
    ("01", "to about {610} psi", "pump", {"outlet": "large"}, {}, f"gauge reads {N}"),
    ("01", "stops at about {3020} psi", "pump", {"outlet": "shut"}, {}, f"gauge reads {N}"),
    ("01", "the small holes only {7.6} gpm", "pump", {"pump": 0.7}, {}, f"{N} gpm is delivered"),
    ("02", "from about {3390} psi", "jets", {}, {}, f"needs {N} psi"),
    ("02", "to about {1850} psi (128 bar), almost", "jets", {"bore": "#56"}, {}, f"needs {N} psi"),
    ("02", "To a quarter: about {850} psi", "jets", {"flow": "4 gpm"}, {}, f"needs {N} psi"),
    ("02", "Five holes need about {2170} psi", "jets", {"count": 5}, {}, f"needs {N} psi"),
    ("02", "Three need about {6020} psi", "jets", {"count": 3}, {}, f"needs {N} psi"),
    ("02", "from about {2570} to 3300 psi", "same_area", {}, {"drilled": True}, f"gauges from {N}"),
    ("03", "200 ft of 1/2 in loses about {122} psi", "hose", {"two": True}, {}, f"reel, \\w+ {N} psi;"),
    ("03", "50 ft of 3/8 in loses about {125} psi", "hose", {"two": True}, {}, f"; .*?reel, \\w+ {N} psi;"),
    ("03", "1/4 in would lose about {880} psi", "hose", {"two": True, "bore_2": "1/4 in"}, {},
     f"; .*?reel, \\w+ {N} psi;"),
    ("03", "The hose alone would lose about {3500} psi", "hose", {"bore_1": "1/4 in"}, {}, f"reel, \\w+ {N} psi"),
    ("03", "It loses about {35} psi", "hose", {"flow": "4 gpm"}, {}, f"reel, \\w+ {N} psi"),
    ("04", "about {93} % at full throttle", "circuit", {"throttle": 1.0}, {}, f"{N} % of it reaches"),
    ("04", "grows from about {113} psi", "circuit", {"throttle": 0.5}, {}, f"of which hose {N}"),
    ("04", "to about {450} psi", "circuit", {"throttle": 0.5, "bore": "3/8 in"}, {}, f"of which hose {N}"),
    ("04", "from {1340} to 940 psi", "circuit", {"throttle": 0.5}, {}, f"jets {N}"),
    ("04", "from 1340 to {940} psi", "circuit", {"throttle": 0.5, "jets": "one more"}, {}, f"jets {N}"),
    ("04", "Less: {43} psi", "circuit", {"throttle": 0.5, "lift": "100 ft"}, {}, f"lift {N}"),
    ("05", "The gauge reads about {2860} psi (197 bar). Only", "bypass", MORE, {}, f"gauge {N}"),
    ("05", "Only about {8.3} gpm", "bypass", MORE, {}, f"{N} gpm out"),
    ("05", "about {0.7} gpm (2.7 L/min) return", "bypass", MORE, {}, f"{N} gpm back"),
    ("05", "opens at about {85} % throttle", "bypass", MORE, {}, f"opens at {N} %"),
    ("05", "opens at about {96} % throttle", "bypass", {**MORE, "jets": 2}, {}, f"opens at {N} %"),
    ("05", "falls to about {2470} psi", "bypass", {**MORE, "jets": 3}, {}, f"gauge {N}"),
    ("05", "At about {79} % throttle", "rig:yard_small_bore", {}, {}, f"opens at {N} %"),
    ("05", "the gauge reads about {3020} psi", "valve", {}, {"shut": True}, f"gauge {N}"),
    ("05", "drops to about {72} psi", "valve", {}, {"valve": "trapping", "shut": True}, f"gauge {N}"),
    ("06", "the gauge reads about {2820} psi", "drills", {"drill": "#68"}, {}, f"gauge reads {N}"),
    ("06", "With #69 about {0.2} gpm", "drills", {"drill": "#69"}, {}, f"{N} gpm return"),
    ("06", "at #66, the gauge reads about {2390} psi", "drills", {"drill": "#66"}, {}, f"gauge reads {N}"),
    ("06", "now too small: {86} %", "drills", {"drill": "#68", "added": "50 ft"}, {}, f"{N} % of the matched"),
    ("06", "the pull is about {18} lbf", "sets", {"front": (0,)}, {}, f"pull {N}"),
    ("07", "It delivers about {9.0} of the", "last_hose", {}, {}, f"-6 delivers {N}"),
    ("07", "From {8.8} gpm", "step_down", {"small_length": "10 ft"}, {}, f"{N} gpm leave"),
    ("07", "down to {5.7} gpm", "step_down", {"small_length": "200 ft"}, {}, f"{N} gpm leave"),
    ("07", "60 ft: {8.4} lbf of pull", "step_down", {"small_length": "60 ft"}, {}, f"jets pull {N}"),
    ("07", "Between {3930} psi", "surge", {}, {}, f"hose sees {N}"),
    ("07", "and {4180} psi", "surge", {}, {}, f"psi to {N}"),
    ("07", "rated for {5000} psi (345 bar). The", "surge", {}, {}, f"rated for {N}"),
    ("07", "The hose sees {3460} psi", "surge", {"closing_time": 0.2}, {}, f"hose sees {N}"),
    ("07", "The hose still sees up to {3900} psi", "surge", {"throttle": 0.5}, {}, f"psi to {N}"),
    ("07", "up to {3220} psi", "surge:yard_truck", {"closing_time": 0.1}, {}, f"psi to {N}"),
    ("07", "up to {3220} psi", "surge:yard_truck", {}, {}, f"psi to {N}"),
    ("07", "slow enough: {2840} psi", "surge:yard_truck", {"closing_time": 0.3}, {}, f"psi to {N}"),
    ("08", "About {66} % up at idle", "fault", {}, {}, f"Gauge: {N} % up at idle"),
    ("08", "already {7} % low", "fault", {"fault": "suction starved", "size": 0.2}, {}, f"Gauge: {N} % down at idle"),
    ("09", "{12} lbf (53 N) falls", "pull", {}, {}, f"Net pull along the hose: {N}"),
    ("09", "falls to {4.9} lbf", "pull", {"angle": "60 deg"}, {}, f"Net pull along the hose: {N}"),
    ("09", "the net pull is {0.7} lbf", "pull", {"front": 4}, {}, f"Net pull along the hose: {N}"),
    ("09", "pull with only {4.9} lbf", "pull", {"angle": "75 deg"}, {}, f"at 75° pull {N}"),
    ("09", "1. {104} ft (32 m)", "reach", {}, {}, f"nozzle {N} ft in"),
    ("09", "at 20 ft it goes {87} ft", "reach", {"turn": BEND, "at": "20 ft"}, {}, f"nozzle {N} ft in"),
    ("09", "steel: {52} ft", "reach", {"kind": 1.0}, {}, f"nozzle {N} ft in"),
    ("09", "0.2 the picture gives it {199} ft", "reach", {"friction": 0.2}, {}, f"nozzle {N} ft in"),
    ("09", "{99} ft (30 m) to a hose with two", "reach", {"friction": 0.2, "kind": 1.0}, {}, f"nozzle {N} ft in"),
    ("09", "3. {137} ft (42 m) and", "reach", {"friction": 0.3}, {}, f"nozzle {N} ft in"),
    ("09", "pull in all {250} ft", "reach", {"friction": 0.15}, {}, f"nozzle {N} ft in"),
    ("09", "About {144} psi", "cut", {"angle": "60 deg"}, {}, f"full pipe {N}"),
    ("09", "is left, {96} psi", "cut", {"count": 2}, {}, f"full pipe {N}"),
    ("10", "1. About {27} minutes", "tank:yard_small_bore", {}, {}, f"tank lasts {N}"),
    ("10", "About {94} minutes with", "tank", {"shut": True}, {}, f"after {N} min"),
    ("10", "{47} with half of it", "tank", {"shut": True, "volume": "50 gal"}, {}, f"after {N} min"),
    ("10", "1. About {72} %. It bogs", "power", {}, {}, f"that is {N} %"),
    ("10", "turns at {94} % of its speed", "power", {}, {"altitude": "6000 ft", "condition": 0.75}, f"falls to {N} %"),
    ("10", "reads about {2450} psi", "power", {}, {"altitude": "6000 ft", "condition": 0.75}, f"gauge {N}"),
    ("10", "carries about {30} gpm", "flush", {"flow": "60 gpm", "bore": 0.0762, "fall": 0.005}, {},
     f"at most {N} gpm"),
    ("10", "drags less: {1.9} Pa", "flush", {"bore": 0.2032}, {}, f"drags with {N} Pa"),
    ("11", "About {94} ft (29 m) of the", "plan", {}, {"stiff": "6 in"}, f"The nozzle \\w+ {N} ft"),
    ("11", "anything from {61} ft (19 m)", "plan", {}, {"stiff": "6 in"}, f"The nozzle \\w+ [\\d.]+ ft \\({N} ft"),
    ("11", "at least {93} ft (28 m)", "plan", {"leader": "light"}, {"stiff": "6 in"}, f"nozzle \\w+ 100 ft \\({N} ft"),
    ("11", "stops at {40} ft (12 m)", "plan", {"leader": "heavy"}, {"stiff": "6 in"}, f"The nozzle \\w+ {N} ft"),
    ("11", "likely to see {4740} psi", "plan", {"leader": "thin"}, {"stiff": "6 in"}, f"likely {N} psi"),
    ("11", "from 9.0 to {8.7} gpm", "plan", {"leader": "light"}, {"stiff": "6 in"}, f"{N} gpm \\("),
    ("11", "falls to about {6.9} gpm", "plan", {"leader": "thin"}, {"stiff": "6 in"}, f"{N} gpm \\("),
)  # fmt: skip


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row[0]}-{row[1][:24]}")
def test_the_page_says_what_its_console_says(row):
    number, words, console, start, sets, told = row
    (page,) = (text for stem, text in PAGES.items() if stem.startswith(number))
    assert words.replace("{", "").replace("}", "") in page
    name, _, rig = console.partition(":")
    made = getattr(jetlib.screen, f"{name}_console")(*filter(None, [rig]), **start)
    if sets:
        made.set(**sets)
    said = re.search(told, str(made.picture.words))
    assert said, str(made.picture.words)[:400]
    value, printed = abs(float(said[1].replace(",", ""))), re.search(r"\{([\d.,]+)\}", words)[1]
    digit = 10.0 ** -len(printed.partition(".")[2])
    assert abs(value - float(printed)) <= max(0.03 * value, 0.51 * digit), (value, printed)


def of(number):
    return next(text for stem, text in PAGES.items() if stem.startswith(number))


def test_the_field_s_own_numbers_are_the_engine_s():
    """What no console shows: pulses, limits of bores, a bogged gauge, hot air, suction, grains."""
    low, high = flow_pulse(3, 6.0)
    assert f"swings by about {100 * (high - low):.0f} %" in of("01")
    for dash, flow, more, less in ((8, "8 gpm", 27, 20), (4, "3 gpm", 37, 25), (3, "3 gpm", 53, 32)):
        size = tables.hose(dash)
        mean, most, least = (
            hose_loss(flow, bore=bore, length=30.0) for bore in (size.bore, size.bore_min, size.bore_max)
        )
        assert 100 * (most / mean - 1) == pytest.approx(more, abs=1) and 100 * (1 - least / mean) == pytest.approx(
            less, abs=1
        )
        assert f"{more} % more" in of("03") and f"{less} % less" in of("03")
    trailer = demo_rig("yard_trailer")
    tired = trailer.replace(engine=trailer.engine.replace(power="18 hp", altitude="6000 ft"))
    ends = [
        from_si(float(each), "pressure", "US") for each in supply(operating_point(tired), Tank("100 gal")).bogged_gauge
    ]
    assert ends == [pytest.approx(2390, rel=0.005), pytest.approx(2500, rel=0.005)] and "from 2390 to 2500 psi" in of(
        "10"
    )
    hot = trailer.engine.replace(altitude="5000 ft", air_temperature="95 degF")
    assert f"{100 * hot.available() / hot.power:.0f} % of the power is left" in of("10")
    idle = trailer.pump.idle_speed / trailer.pump.rated_speed
    assert f"at {100 * idle:.0f} % of its speed it has about {100 * idle:.0f} %" in of("10")
    velocity = si("9.5 gpm", "flow") / (math.pi / 4 * 0.0254**2)
    head = acceleration_head(si("6 ft", "length"), velocity, si("1450 rpm", "speed"))
    assert f"can need {from_si(head, 'length', 'US'):.0f} ft" in of("10")
    grain = flushing(si("9 gpm", "flow"), Drain("4 in", "100 ft", fall="2 %")).largest_grain
    assert 1e3 * grain == pytest.approx(3, rel=0.05) and "grains up to about 3 mm (1/8 in)" in of("10")


def test_how_often_the_diagnosis_is_right_is_what_was_found():
    with open(DATA / "reference" / "diagnosis_table.csv", newline="", encoding="utf-8") as file:
        rows = [row for row in csv.DictReader(file) if row["shapes"] == "both"]
    told = re.findall(r"^\| [^|]+ \| (\d+) % \| (\d+) % \|$", of("08"), re.MULTILINE)
    assert told == [(f"{100 * float(row['first']):.0f}", f"{100 * float(row['first_two']):.0f}") for row in rows]
    assert f"Another program made {rows[0]['cases']} faulty rigs" in of("08")
    assert all(float(row["sure_right"]) > 0.985 for row in rows) and "99 times in 100" in of("08")


PAIR = re.compile(
    r"(?<![\d.,/–-])([\d,]+(?:\.\d+)?) (psi|gpm|hp|lbf|ft|gal|in) \(([\d,]+(?:\.\d+)?) (bar|L/min|kW|N|m|L|mm|cm)\)"
)
KINDS = {
    "psi": "pressure",
    "gpm": "flow",
    "hp": "power",
    "lbf": "force",
    "ft": "length",
    "gal": "volume",
    "in": "length",
}


@pytest.mark.parametrize("stem", PAGES)
def test_both_units_of_a_pair_say_the_same(stem):
    """Each is rounded by itself: the metric one may be off by 5 %, or by its last digit."""
    bad = []
    for us, unit, metric, other in PAIR.findall(PAGES[stem]):
        value = from_si(si(f"{us.replace(',', '')} {unit}", KINDS[unit]), KINDS[unit], "metric")
        value *= 1000 if other == "mm" else 1
        digit = 10.0 ** -len(metric.partition(".")[2])
        if abs(value - float(metric.replace(",", ""))) > max(0.05 * value, 1.01 * digit):
            bad.append((us, unit, metric, other, value))
    assert bad == []
