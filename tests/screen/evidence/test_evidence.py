"""Evidence on screen: marks lie where the numbers say, tables say the same, the page needs no library of the tests."""

import csv
import re
import subprocess
import sys
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import nbformat
import numpy as np
import pytest

from jetlib.errors import JetlibError
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs
from jetlib.rig.uncertainty.band import uncertainty_band
from jetlib.rig.uncertainty.unknowns import WORDS, Unknowns
from jetlib.screen import evidence
from jetlib.screen.consoles.band_console import MEASURED, THROTTLES, band_console, bands_table, rig_band
from jetlib.screen.controls.console import Switch
from jetlib.screen.drawing.chart import Series
from jetlib.screen.drawing.comparison import Marks, comparison, percent
from jetlib.units import text

ROOT = Path(__file__).parents[3]
FOLDERS = [str(ROOT / "tests" / name) for name in ("published", "independent")]
SVG = "{http://www.w3.org/2000/svg}"
HEADINGS = [
    *("Water", "Hose friction", "Reels", "Fittings", "Jets", "Pump and power", "Reaction", "Heat", "Altitude"),
    *("Drain pipe flow", "Sizes", "Whole line", "Bypass", "Trade facts", "Unmeasured rig", "Diagnosis"),
    *("What is left out", "Where not to use it"),
]


@pytest.fixture(scope="module")
def published():
    added = [folder for folder in FOLDERS if folder not in sys.path]
    sys.path[:0] = added
    import evaluate
    import trade_facts

    return evaluate, trade_facts


@pytest.fixture(scope="module")
def results(published):
    return published[0].results()


def row(name="T1", value=2.0, computed=2.01, allowed=0.01, **more):
    """A published value that is 0.5 % off."""
    own = {
        "id": name,
        "kind": "water",
        "quantity": "a <quantity>",
        "conditions": "20 C",
        "value": value,
        "unit": "-",
        "rel_tol": allowed,
        "source": "A Book & Sons",
        "confidence": "quoted from the source",
        "why_not": "",
        "checked": "water.density",
        "computed": computed,
    }
    own.update(more)
    computed = own["computed"]
    off = None if computed is None else computed / own["value"] - 1
    return {**own, "disagreement": off, "agrees": off is not None and abs(off) <= own["rel_tol"]}


def tree(shown):
    return ElementTree.fromstring(shown.picture.svg())


# --- the picture ------------------------------------------------------------------------------------


def circles(root):
    return [tuple(float(each.get(key)) for key in ("cx", "cy", "r")) for each in root.iter(f"{SVG}circle")]


def test_marks_lie_where_the_numbers_say():
    """A factor of ten is the same way everywhere, both panels share x, and the difference has its own scale."""
    marks = Marks("points", np.array([1.0, 10, 100]), np.array([1.0, 10, 100]), np.array([0.0, 2, -2]))
    shown = circles(tree(comparison("words", [marks], x_label="x", y_label="y")))
    small = [each for each in shown if each[2] == 3.6]  # the legend's is larger
    upper, lower = small[:3], small[3:]
    assert np.diff([x for x, *_ in upper]) == pytest.approx([upper[1][0] - upper[0][0]] * 2, abs=0.11)
    assert [x for x, *_ in upper] == [x for x, *_ in lower]
    assert upper[0][1] > upper[1][1] > upper[2][1]
    zero, high, low = (y for _, y, _ in lower)
    assert high < zero < low and zero - high == pytest.approx(low - zero, abs=0.11)


def test_linear_axes_are_linear():
    marks = Marks("points", np.array([1.0, 2, 4]), np.array([1.0, 2, 4]), np.zeros(3))
    shown = circles(tree(comparison("words", [marks], x_label="x", y_label="y", log=False)))[1:4]
    assert shown[2][0] - shown[1][0] == pytest.approx(2 * (shown[1][0] - shown[0][0]), abs=0.11)


def test_points_on_the_line_of_equality_lie_on_it():
    values = np.geomspace(0.02, 700, 9)
    root = tree(comparison("w", [Marks("m", values, values, 0 * values)], x_label="x", y_label="y", equal=True))
    line = root.find(f".//{SVG}polyline").get("points").split()
    (x0, y0), (x1, y1) = (map(float, each.split(",")) for each in (line[0], line[-1]))
    for x, y, _ in circles(root)[1:10]:
        assert y == pytest.approx(y0 + (y1 - y0) * (x - x0) / (x1 - x0), abs=0.2)


@pytest.mark.parametrize("low, high", [(1e-6, 1e9), (0.025, 0.04), (3.0, 3.3), (15, 8000), (0.6, 1100)])
@pytest.mark.parametrize("log", [True, False])
def test_axes_have_ticks_at_round_values(low, high, log):
    """Each tick's words, read back as a number, lie at its place; there are 3 to 12 of them."""
    from jetlib.screen.drawing.comparison import _Scale

    scale = _Scale(np.array([low, high]), log)
    assert 3 <= len(scale.ticks) <= 12
    plain = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹−", "-0123456789-")
    for at, words in scale.ticks:
        power = re.fullmatch(r"10([⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)", words)
        value = 10.0 ** int(power[1].translate(plain)) if power else float(words.translate(plain))
        assert (np.log10(value) if log else value) == pytest.approx(at, rel=1e-6, abs=1e-9)


def test_nothing_is_drawn_outside_and_names_do_not_collide(results):
    """Every section's picture: all text within the picture, and tags of the lower panel clear of one another."""
    for heading, rows in evidence.sections(results).items():
        shown = evidence.agreement(heading, rows)
        root = tree(shown)
        boxes = []
        for each in root.iter(f"{SVG}text"):
            if (each.get("x"), each.get("y")) == ("0.0", "0.0"):
                continue  # the label along the y axis, turned and moved by its group
            x, y, width = float(each.get("x")), float(each.get("y")), 6.6 * len(each.text or "")
            left = x - {"start": 0, "middle": width / 2, "end": width}[each.get("text-anchor")]
            assert left >= -1 and left + width <= shown.picture.width + 12, (heading, each.text)
            assert y <= shown.picture.height
            if re.fullmatch(r"[A-Z]\d+[a-d]?", each.text or ""):
                boxes.append((left, left + width, y, each.text))
        for number, (a, b, y, name) in enumerate(boxes):
            for c, d, z, other in boxes[:number]:
                assert b <= c or d <= a or abs(y - z) > 10, (heading, name, other)


def test_picture_is_stored_as_an_image_and_live_in_the_page_s_ink():
    shown = evidence.agreement("Test", [row()])
    bundle = shown._repr_mimebundle_()
    assert bundle["text/plain"] == shown.words
    assert f'alt="{shown.words.split("<")[0]}' in bundle["text/html"]
    assert "application/vnd.jupyter.widget-view+json" in bundle
    assert "currentColor" in shown.picture.svg() and "a <quantity>" not in shown.picture.svg()


def test_allowed_and_tag_of_each_value_are_drawn():
    root = tree(evidence.agreement("Test", [row("T1"), row("T2", 30.0, 30.0)]))
    titles = [each.text for each in root.iter(f"{SVG}title")]
    assert titles.count("T1 +0.5 %") == 2 and titles.count("T2 +0 %") == 2  # above and below
    grey = next(each for each in root.iter(f"{SVG}g") if each.get("opacity") == "0.22")
    assert len(grey) == 2


def test_lines_and_their_differences_are_drawn():
    line = Series("curve", np.array([1.0, 10]), np.array([1.0, 10]), "orange", "dashed")
    root = tree(comparison("w", [], x_label="x", y_label="y", lines=[line], lower_lines=[line]))
    assert sum(each.get("class") == "jl-line-orange" for each in root.iter(f"{SVG}polyline")) == 2


# --- words and tables -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("share", "words"),
    [(0.0, "0 %"), (1e-15, "0 %"), (5e-7, "less than 0.0001 %"), (-0.0123, "−1.2 %"), (0.27, "27 %")],
)
def test_percent(share, words):
    assert percent(share) == words


def test_words_name_the_worst_and_whatever_lies_outside():
    rows = [row("T1"), row("T2", 2.0, 2.2), row("T3", confidence="from memory"), row("T4", quantity="MEASURED x")]
    words = evidence.agreement_words("Test", rows)
    assert "4 published values" in words and "+10 %: T2" in words
    assert "Outside the tolerance of its row: T2." in words
    assert "1 is from memory" in words and "1 is measured" in words
    assert "All lie within" in evidence.agreement_words("Test", rows[:1])


def test_value_of_nothing_or_below_is_said_to_be_left_out():
    assert "in the table only: T9" in evidence.agreement("Test", [row(), row("T9", -4.5, -4.5)]).words


def test_every_published_value_has_one_section_and_one_line(results):
    found = evidence.sections(results)
    assert list(found) == HEADINGS[:12]
    names = [each["id"] for rows in found.values() for each in rows]
    assert sorted(names) == sorted(each["id"] for each in results)
    listed = []
    for rows in found.values():
        listed += [cells[0] for cells in evidence.values_table(rows).rows + evidence.unused_table(rows).rows]
    assert sorted(listed) == sorted(names)


def test_overview_adds_up(results):
    *lines, whole = evidence.overview_table(evidence.sections(results)).rows
    for column in (1, 5, 6):
        assert sum(int(line[column]) for line in lines) == int(whole[column])
    assert int(whole[1]) + int(whole[6]) == len(results)
    memory = [each for each in results if "from memory" in each["confidence"] and each["computed"] is not None]
    assert int(whole[5]) == len(memory)


def test_table_says_the_same_in_plain_text_and_in_html():
    table = evidence.values_table([row(confidence="from memory; recomputed independently")])
    html, plain = table._repr_html_(), repr(table)
    assert "<details>" in html and "The 1 values one by one" in plain
    assert "a &lt;quantity&gt;; 20 C" in html and "A Book &amp; Sons" in html
    assert "<em>from memory</em>; recomputed" in html
    for cell in table.rows[0]:
        assert cell in plain
    ElementTree.fromstring(html)


@pytest.mark.parametrize(("table", "lines"), [(evidence.coverage_table, 24), (evidence.diagnosis_table, 9)])
def test_what_other_programs_found_is_shown_as_it_was_written(table, lines):
    with open(ROOT / "data" / "reference" / f"{table.__name__}.csv", newline="", encoding="utf-8") as file:
        stored = list(csv.DictReader(file))
    shown = table()
    assert len(shown.rows) == len(stored) == lines
    for row, own in zip(shown.rows, stored, strict=True):
        shares = [f"{100 * float(own[head]):.0f} %" for head in own if head not in _NOT_SHARES]
        assert [cell for cell in row if cell.endswith(" %")][-len(shares) :] == shares


_NOT_SHARES = ("rig", "spread", "throttle", "readings", "shapes", "cases", "sure", "fits")


def test_a_copy_without_the_tests_says_so(monkeypatch, tmp_path):
    monkeypatch.setattr(evidence, "DATA", tmp_path / "data")
    with pytest.raises(JetlibError, match="folder tests/published is missing; keep"):
        evidence.from_tests("evaluate")


def test_values_that_do_not_apply_say_why():
    table = evidence.unused_table([row(), row("T2", computed=None, why_not="no such thing here")])
    assert [cells[0] for cells in table.rows] == ["T2"]
    assert "no such thing here" in repr(table)


def test_checks_say_rounding_only_when_it_is():
    table = evidence.checks_table(
        [("a", "b", 2000, [1e-16, -1e-15]), ("c", "d", 3, [-0.004, 0.02]), ("e", "f", 1, 1e-3)]
    )
    assert [cells[-1] for cells in table.rows] == ["rounding only", "−0.4 % to +2 %", "+0.1 %"]
    assert table.rows[0][2] == "2,000"


def test_facts_are_drawn_from_what_was_tried(published):
    facts = published[1].facts()
    shown = evidence.facts_picture(facts)
    assert f"{len(facts)} facts" in shown.words and f"{len(facts)} hold" in shown.words
    bars = [each for each in tree(shown).iter(f"{SVG}rect") if each.get("class")]
    frames = [each for each in tree(shown).iter(f"{SVG}rect") if each.get("fill") == "none"]
    assert len(bars) == len(frames) == len(facts) == len(evidence.facts_table(facts).rows)
    for fact, bar, frame in zip(facts, bars, frames, strict=True):
        left, width = float(frame.get("x")), float(frame.get("width"))
        share = (fact.computed_low - fact.low) / (fact.high - fact.low)
        assert float(bar.get("x")) == pytest.approx(left + share * width, abs=0.1), fact.words
        assert bar.get("class") == "jl-ink-blue"


def test_a_fact_that_fails_is_seen(published):
    from dataclasses import replace

    facts = published[1].facts()
    broken = replace(facts[0], computed_high=facts[0].high * 2)
    shown = evidence.facts_picture([broken, *facts[1:]])
    assert f"{len(facts) - 1} hold" in shown.words
    assert any(each.get("class") == "jl-ink-red" for each in tree(shown).iter(f"{SVG}rect"))
    assert evidence.facts_table([broken]).rows[0][6] == "NO"


# --- the band ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", demo_rigs())
def test_band_on_screen_is_the_rig_s_own(name):
    band = uncertainty_band(demo_rig(name), THROTTLES)
    console = band_console(name, throttle=0.5)
    for system in ("US", "metric"):
        words = console.draw(dict(console.values), system).words
        assert "at 50 % throttle, nothing measured" in words
        for reading in ("gauge", "nozzle_flow"):
            assert band.sentence(reading, system, throttle=0.5) in words
    assert text(float(band.nominal.gauge[25]), "pressure", "metric") in words


def width(console):
    low, high = re.search(r"Gauge between (\S+) and (\S+) psi", console.words).groups()
    return float(high) - float(low)


def test_measuring_narrows_the_band_and_says_so():
    console = band_console(throttle=0.8)
    before = width(console)
    console.set(edge=True)
    assert width(console) < 0.75 * before
    assert "with edges measured" in console.words
    console.set(hole=True)
    assert "with edges and holes measured" in console.words
    shown = console.picture.content.split("Where the band of the gauge comes from")[1]
    assert "the jets" not in shown.split("Where the")[0]


def test_all_but_the_water_measured_leaves_no_band():
    console = band_console("yard_truck", **dict.fromkeys(MEASURED, True))
    assert console.picture.content.count("Hardly any band is left") == 2


def test_shares_on_screen_are_those_of_the_band():
    console = band_console()
    shares = uncertainty_band(demo_rig("yard_trailer"), THROTTLES).shares("gauge", 1.0)
    top = sorted(shares, key=shares.get, reverse=True)[:3]
    shown = console.picture.content.split("Where the band of the gauge comes from")[1].split("Where the")[0]
    for cause in top:
        assert WORDS[cause].replace("'", "&#x27;") in shown
        assert f">{100 * shares[cause]:.0f} %<" in shown


def test_what_can_be_measured_is_known_to_the_engine():
    named = [name for names in MEASURED.values() for name in names]
    assert len(named) == len(set(named))
    assert {name for name, each in band_console().controls.items() if isinstance(each, Switch)} == set(MEASURED)
    assert set(WORDS) - set(named) == {"water_temperature"}
    Unknowns().settle(*named)


def test_moving_the_throttle_does_not_solve_again():
    console = band_console("yard_cart")
    misses = rig_band.cache_info().misses
    for throttle in np.linspace(0, 1, 30):
        console.set(throttle=float(throttle))
    assert rig_band.cache_info().misses == misses


def test_table_of_bands_has_a_line_a_rig():
    table = bands_table()
    assert [line[0] for line in table.rows] == [demo_rig(name).name for name in demo_rigs()]
    band = uncertainty_band(demo_rig("yard_cart"), THROTTLES)
    assert text(band.low("gauge", 1.0), "pressure", "US") in table.rows[0][2]
    assert text(band.high("nozzle_flow", 1.0), "flow", "metric") in table.rows[0][4]


# --- the page ---------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def page():
    return nbformat.read(ROOT / "lessons" / "evidence.ipynb", 4)


def test_page_has_the_headings_that_lessons_link_to(page):
    heads = [line[3:] for cell in page.cells if cell.cell_type == "markdown" for line in cell.source.splitlines()
             if line.startswith("## ")]  # fmt: skip
    assert heads == ["In short", *HEADINGS]


def test_page_shows_every_section_and_stores_alternative_text(page):
    shown = "".join(
        output.get("data", {}).get("text/html", "") for cell in page.cells for output in cell.get("outputs", [])
    )
    for heading in HEADINGS[:12]:
        assert f'alt="{heading}: ' in shown, heading
    images = re.findall(r"<img [^>]*>", shown)
    assert len(images) > 18
    assert all(re.search(r'alt="[^"]{40,}"', image) for image in images)


def test_page_code_is_hidden_and_its_numbers_are_checked(page):
    for cell in page.cells:
        if cell.cell_type == "code":
            assert cell.metadata["jupyter"]["source_hidden"] and "nbval-check-output" in cell.metadata["tags"]
            assert re.match(r"# [A-Z]", cell.source)


def test_page_needs_no_library_of_the_tests():
    """A learner has requirements.txt only: what the page imports must do without fluids, iapws, wntr and scipy."""
    code = (
        f"import sys; sys.path[:0] = {FOLDERS!r}\n"
        "for name in ('fluids', 'iapws', 'wntr', 'scipy', 'pytest', 'hypothesis'): sys.modules[name] = None\n"
        "import evaluate, trade_facts, left_out, stored_rigs\n"
        "import jetlib.screen.evidence, jetlib.screen.consoles.band_console\n"
        "assert evaluate.results() and trade_facts.facts() and left_out.costs()\n"
        "assert len(stored_rigs.columns('line_epanet')['gauge_pa']) == 200\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=120)
    assert done.returncode == 0, done.stderr
