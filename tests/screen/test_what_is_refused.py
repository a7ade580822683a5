"""Every field of every page: what cannot be used stays as it was typed, is refused without a word of code, and the
advice of a refusal is accepted; what people do write is read alike wherever that kind of quantity is asked for.
"""

import html
import re
from functools import partial
from random import Random

import ipywidgets as widgets
import pytest

from jetlib.course.banks import registry as bank
from jetlib.course.exercises.exercise import Verdict
from jetlib.course.exercises.numeric import FillTable, Numeric
from jetlib.course.exercises.prediction import PredictedCurve, PredictedNumber
from jetlib.course.pages.consoles import CONSOLES
from jetlib.course.store.bench_store import BenchStore
from jetlib.errors import JetlibError
from jetlib.rig.diagnosis.checks import FIELDS
from jetlib.screen import practice, prediction, progress
from jetlib.screen.bench.bench import _PAGES, Bench
from jetlib.screen.bench.entries.entry import SHEET, meaning
from jetlib.screen.bench.entries.form import PARTS
from jetlib.screen.classroom.print_panel import print_panel
from jetlib.units import SYSTEMS, si
from jetlib.units.entry import amount, drills, understood
from jetlib.units.refusal import page_words

JUNK = (
    "junk", "7 apples", "99999999999", "-5", "3/8", "1/0", "half a mile", "(", "2,400,1", "12 volts", "0", "1e999",
    "#60 x 4", "\u0663", "5 gal in 32 s", "60 Hz", "2400 psi 3 bar", "--", "\u00bd", "nan", "1,5 mm", "<b>9</b>",
    "x" * 70,
)  # fmt: skip
CODE = re.compile(r"\w=[\"'\d\w]|\b[A-Z]\w*\(|(?<![./\w])[a-z]+_[a-z]+\b(?![./])|Traceback|\bNone\b|m3/s")
OTHER = {
    "US": re.compile(r"\d ?(?:bar|L/min|mm|kPa|kW|°C|kg)\b"),
    "metric": re.compile(r"\d ?(?:psi|gpm|ft|in|gal|lbf?|hp|°F)\b"),
}
PLACES = ("file", "folder", "export", "rule", "csv", "scores to", "save as")  # a path or an equation is no amount
LISTS = ("Drills in the box",)  # names of drills are in the units of their series
each_system = pytest.mark.parametrize("system", SYSTEMS)


@pytest.fixture(autouse=True)
def _own_home(tmp_path, monkeypatch):
    monkeypatch.setenv("JETLIB_HOME", str(tmp_path))
    monkeypatch.chdir(tmp_path)


def some_junk(name, count=3):
    """A sample of the junk, the same at each run; over all fields each of it comes up."""
    return Random(name).sample(JUNK, count)


def inside(box):
    yield box
    for child in getattr(box, "children", ()):
        yield from inside(child)


def refusals(box):
    """The refusals that stand on a page, as a reader sees them."""
    found = []
    for each in inside(box):
        if isinstance(each, widgets.HTML) and re.search("Not used|Not read|Not written|No drill", each.value):
            found += re.findall(r'<\w+ role="(?:alert|status)"[^>]*>(.*?)</(?:span|div)>', each.value, re.S)
    said = [html.unescape(re.sub(r"<[^>]*>", "", each)).strip() for each in found]
    return [each for each in said if re.match("Not used:|Not used\\b.*:|Not read|Not written|No drill", each)]


def in_order(words, typed, system, *, units=True):
    """No code, no unit of the other system; what was typed may be said again."""
    told = re.sub("|".join(re.escape(each) for each in sorted({typed, *typed.split()}, key=len)[::-1]), "…", words)
    assert not CODE.search(told), (typed, words)
    if units and not OTHER[system].search(typed):
        assert not OTHER[system].search(told), (typed, words)


def advised(words):
    """What a refusal tells its reader to write."""
    such = [each.strip('"') for each in re.findall(r"such as (.+?)(?:, or nothing)?$", words)]
    allowed = re.findall(r"allowed: ([\d.,]+) to ([\d.,]+)( \S+)?$", words)
    counts = re.findall(r"whole number from (\d+) to (\d+)", words)
    found = [each for words in such for each in words.split(" or ")]
    found += [f"{end}{unit}" for *ends, unit in allowed for end in ends]
    return [*found, *(end for ends in counts for end in ends)]


def type_junk(box, system, name, *, ranges=True, count=3):
    """Type a sample of the junk into every field of a page; what a refusal advises is typed too.

    ranges: the ends of a range as well, where nothing else stands in the way of them.
    """
    for field in [each for each in inside(box) if isinstance(each, widgets.Text | widgets.Password)]:
        if any(place in field.description.lower() for place in PLACES) or field.disabled:
            continue
        before = field.value
        for typed in some_junk(f"{name} {field.description}", count):
            field.value = typed
            for words in refusals(box):
                in_order(words, typed, system, units=field.description not in LISTS)
                assert typed.split()[0] in field.value, "what was typed stays"
                for each in advised(words) if ranges or "allowed" not in words else ():
                    field.value = each
                    assert not refusals(box), (name, field.description, typed, words, each)
                    field.value = typed
            field.value = before


@each_system
@pytest.mark.parametrize("name", [name for name in CONSOLES if name != "open_bench"])
def test_no_console_answers_in_code(name, system):
    make = CONSOLES[name].maker()
    made = make() if name == "class_progress" else make(system=system)
    made._redraw = lambda *_: None  # what is asked here is what the fields say
    type_junk(made.box, system, name)


@each_system
def test_nor_do_progress_and_print_panel(system):
    for made in (progress(), print_panel(None, system=system)):
        type_junk(made.box, system, type(made).__name__)


@pytest.fixture(scope="module")
def bench(tmp_path_factory):
    made = Bench(BenchStore(tmp_path_factory.mktemp("bench")))
    made._draw = lambda: None
    made.store.keep = lambda _: []  # a thousand entries, each flushed to the disk, tell nothing of what they say
    return made


@each_system
@pytest.mark.parametrize("tab", _PAGES)
def test_nor_does_the_bench(bench, tab, system):
    bench.use_units(system)
    bench.type("tab", tab)
    type_junk(bench._page, system, f"{tab} {system}", count=1 if tab == "wrong" else 2)  # the same entries


@each_system
def test_nor_does_the_rig_on_the_bench(bench, system):
    bench.use_units(system)
    type_junk(bench._editor.box, system, f"rig {system}", ranges=False, count=2)


@each_system
def test_examples_on_the_bench_are_in_the_units_of_the_page(bench, system):
    bench.use_units(system)
    for tab in _PAGES:
        bench.type("tab", tab)
        for each in inside(bench._page):
            if isinstance(each, widgets.Text) and each.description not in LISTS:
                assert not OTHER[system].search(each.placeholder), (tab, each.description)


@each_system
@pytest.mark.parametrize("lesson", bank.lessons())
def test_nor_does_an_exercise_or_a_prediction(lesson, system):
    for exercise in bank.exercises(lesson):
        kinds = exercise.kinds() if isinstance(exercise, FillTable) else (getattr(exercise, "kind", None),)
        if not isinstance(exercise, Numeric | FillTable):
            continue
        variant = exercise.variant(1)
        for typed in some_junk(f"{exercise.id} {system}"):
            verdict = variant.check([typed] * len(kinds) if isinstance(exercise, FillTable) else typed, system)
            for words in (verdict.words, *(cell.words for cell in verdict.cells or ())):
                in_order(words, typed, system)
    for asked in bank.predictions(lesson):
        for typed in some_junk(asked.id) if isinstance(asked, PredictedNumber | PredictedCurve) else ():
            read = asked.read([typed] * 5 if isinstance(asked, PredictedCurve) else typed, system)
            if isinstance(read, Verdict):
                in_order(read.words, typed, system)


def test_what_stands_in_the_field_of_an_exercise_or_a_prediction_stays():
    for made, press in ((practice("02-areas-add"), "Check"), (prediction("02-double-flow"), "Lock my prediction")):
        (field,) = [each for each in inside(made.box) if isinstance(each, widgets.Text)]
        (button,) = [each for each in inside(made.box) if getattr(each, "description", "") == press]
        for typed in ("7 apples", "-5", "<b>9</b>"):
            field.value = typed
            button.click()
            assert field.value == typed


# --- what people write ------------------------------------------------------------------------------

GAL = 3.785411784e-3  # m3, by definition (NIST SP 811)
READ_ALIKE = {  # kind: {as typed on a US page: SI by its definition}
    "pressure": {"2400": 2400 * 6894.757, "2,400 psi": 2400 * 6894.757, "2,400": 2400 * 6894.757, "160 bar": 16e6},
    "hose_bore": {"3/8": 9.7e-3, "3/8 in": 9.7e-3, '3/8"': 9.7e-3, "12,5 mm": 12.5e-3},
    "pipe_bore": {"4": 0.1016, '4"': 0.1016, "4 in": 0.1016, "100 mm": 0.1, "100 millimetres": 0.1},
    "jet_bore": {
        "50": 0.0700 * 0.0254, "#50": 0.0700 * 0.0254, '.052"': 0.052 * 0.0254, "1,5 mm": 1.5e-3,
        "5/64''": 5 / 64 * 0.0254, "1.5 millimetres": 1.5e-3,
    },
    "fraction": {"half": 0.5, "50": 0.5, "50 %": 0.5, "1/2": 0.5, "full": 1.0, "idle": 0.0},
    "flow": {"9": 9 * GAL / 60, "9 gallons a minute": 9 * GAL / 60, "34 litres a minute": 34e-3 / 60},
    "length": {"150": 45.72, "150 ft": 45.72, "150'": 45.72, "45.72 metres": 45.72, "45.72 meters": 45.72},
    "volume": {"5": 5 * GAL, "5 gallons": 5 * GAL, "20 litres": 0.02, "20 liters": 0.02},
    "speed": {"1450": 1450 * 0.104719755, "1,450 rpm": 1450 * 0.104719755},
}  # fmt: skip


def places_of(kind):
    """(name, what reads a text there on a US page) of every field on any page that asks for a kind."""
    for name, record in CONSOLES.items():
        if kind in [setting.kind for setting in record.settings.values()]:
            yield name, partial(amount, kind=kind)  # how each Amount of a console reads
    for part, entries in {**PARTS, "sheet": SHEET}.items():
        for name, asked in entries.items():
            if asked.kind == kind and name not in FIELDS:
                yield (
                    f"{part} {name}",
                    lambda typed, asked=asked: understood(typed, kind, "US", partial(meaning, asked))[1],
                )
    for key, field in FIELDS.items():
        if field.kind == kind:
            yield key, lambda typed, f=field: understood(typed, kind, "US", f.reading)[1].value
    for asked in bank.all_predictions():
        if getattr(asked, "kind", None) == kind:
            yield asked.id, lambda typed, p=asked: p.read(typed, "US")


@pytest.mark.parametrize("kind", READ_ALIKE)
def test_what_people_write_is_read_alike_everywhere(kind):
    places = list(places_of(kind))
    assert len(places) > 1
    for typed, value in READ_ALIKE[kind].items():
        for name, read in places:
            assert read(typed) == pytest.approx(value, rel=2e-3, abs=1e-12), (name, typed)


def test_so_are_timed_flows_drills_and_jets(bench):
    flow = 5 * GAL / 32
    for key in ("flow_nozzle", "flow_open", "flow_return"):
        for typed in ("5 gal in 32 s", "5 gal 32 s", "5 gallons in 32 seconds", "32 s for 5 gal", "5 in 32"):
            assert understood(typed, "bucket", "US", FIELDS[key].reading)[1].value == pytest.approx(flow)
    assert amount("5 gal in 32 s", "flow") == pytest.approx(flow)
    assert drills("54 56 58") == drills("#54, #56, #58") == ("#58", "#56", "#54")
    bench.use_units("US")
    bench.type_rig("jets", 0, "bore", "#60 x 4")
    assert (bench.state.rig.nozzle.jets[0].count, bench.state.rig.nozzle.jets[0].bore) == (4, si("#60", "jet_bore"))


@each_system
def test_an_exercise_reads_what_a_field_reads(system):
    for exercise in bank.all_exercises():
        for typed in READ_ALIKE.get(getattr(exercise, "kind", None), ()) if system == "US" else ():
            verdict = exercise.variant(1).check(typed, system)
            assert verdict.attempted, (exercise.id, typed, verdict.words)
    for kind in READ_ALIKE:
        with pytest.raises(JetlibError) as refused:
            amount("7 apples", kind, system)
        (such,) = re.findall("such as (.+)$", page_words(refused.value, system))
        assert amount(such, kind, system) > 0
