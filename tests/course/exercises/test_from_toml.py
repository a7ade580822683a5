"""Exercises written in TOML: what each type makes of its fields, and what is said of a field that will not do."""

import copy
import math
import tomllib

import pytest

from jetlib.course.__main__ import as_read, faults
from jetlib.course.exercises.choosing import MultipleChoice, Ordering, SingleChoice
from jetlib.course.exercises.draws import READINGS
from jetlib.course.exercises.from_toml import exercises_from, exercises_in
from jetlib.course.exercises.numeric import FillTable, Numeric
from jetlib.errors import JetlibError
from jetlib.tables import DATA
from jetlib.units import SYSTEMS, from_si

TWICE = """
[[exercise]]
id = "05-twice"
type = "number"
title = "Twice"
skills = ["doubling"]
kind = "flow"
ask = '''
Twice
{flow}?

{jets} jets.
'''
hints = ["One.", "Two."]
solve = ["{flow} × 2 -> found flow", { when = "{jets} > 2", say = "Many jets." }]
keep = ["{flow} != 7"]
[exercise.draw]
flow = { kind = "flow", from = 4, to = 9, step = 0.5 }
jets = { one_of = [2, 3] }
[[exercise.mistakes]]
name = "halved"
is = "{flow} / 2"
say = "You halved it."
[[exercise.mistakes]]
name = "ratio upside down"
is = "1 / {found}"
when = "{flow} > 8"
"""
CHOSEN = """
[[exercise]]
id = "05-chosen"
type = "several"
title = "Even ones"
skills = ["even"]
ask = "Which are even?"
options = [
  { key = "n", words = "{n}", right = "{n} == 2 or {n} == 4" },
  { key = "four", words = "the number 4", right = true },
  { key = "five", words = "the number 5" },
  { key = "six", words = "six, by and large", cautious = true },
]
hints = ["One.", "Two."]
[exercise.draw]
n = { one_of = [1, 2, 3] }
[[exercise.mistakes]]
name = "five as well"
adds = "five"
say = "Five is odd."
[[exercise.mistakes]]
name = "the wrong ones"
opposite = true
say = "The other way round."
[[exercise.mistakes]]
name = "four forgotten"
drops = { four = "{n} == 2" }
say = "One more."
"""
IN_ORDER = """
[[exercise]]
id = "05-sorted"
type = "order"
title = "Sorted"
skills = ["order"]
ask = "Shortest first."
items = "{length} of hose"
by = "{length}"
shows = "length"
apart = 1.1
hints = ["One.", "Two."]
solve = ["By length:"]
[exercise.draw]
length = { kind = "length", different = [10, 20, 30, 40, 50], each = "abcd" }
[[exercise.mistakes]]
name = "longest first"
reversed = true
say = "Shortest first."
"""
A_TABLE = """
[[exercise]]
id = "05-table"
type = "table"
title = "Doubles"
skills = ["doubling"]
ask = "Double it."
columns = [{ head = "row" }, { head = "flow", kind = "flow" }, { head = "twice", kind = "flow" }]
rows = [["first", "{flow}", "? {double}"], ["{name}", "3 × {flow}", "? 6 × {flow}"]]
hints = ["One.", "Two."]
solve = ["{flow} × 2 -> double flow"]
[exercise.draw]
flow = { kind = "flow", from = 3, to = 9 }
name = { by = "{flow} > 5", match = { true = "large", false = "small" } }
[[exercise.mistakes]]
name = "left as it was"
cells = ["{flow}", ""]
say = "Twice."
"""


def made(text):
    return exercises_from(tomllib.loads(text), "mine.toml")[0]


def changed(text, change):
    """The exercises of `text` after change(first exercise), a dict."""
    data = tomllib.loads(text)
    change(data["exercise"][0])
    return exercises_from(data, "mine.toml")[0]


def test_a_number():
    (exercise,) = made(TWICE)
    assert isinstance(exercise, Numeric)
    assert faults(exercise, 60) == ()
    for seed in range(30):
        variant = exercise.variant(seed)
        flow = from_si(variant.parameters["flow"], "flow", "US")
        assert 4 <= flow <= 9
        assert 2 * flow == round(2 * flow)
        assert flow != 7
        assert from_si(variant.answer, "flow", "US") == pytest.approx(2 * flow)
        assert variant.question("US").startswith(f"Twice {flow:g} gpm?\n\n{variant.parameters['jets']} jets.")
        assert ("Many jets." in variant.solution("US")) == (variant.parameters["jets"] == 3)
        assert [mistake.name for mistake, _ in variant.wrong] == ["halved"] + ["ratio upside down"] * (flow > 8)


def test_numbers_can_be_drawn_in_another_unit():
    """20 bar is 290.1 psi (1 bar is 14.5038 psi, NIST SP 811)."""
    (exercise,) = changed(TWICE, lambda e: e["draw"].update(p={"kind": "pressure", "one_of": [20], "unit": "bar"}))
    assert from_si(exercise.variant(1).parameters["p"], "pressure", "US") == pytest.approx(290.08, rel=1e-4)


def test_several():
    (exercise,) = made(CHOSEN)
    assert isinstance(exercise, MultipleChoice)
    assert faults(exercise, 60) == ()
    even = next(v for v in map(exercise.variant, range(50)) if v.parameters["n"] == 2)
    assert even.answer == {"n", "four"}
    assert even.check(["n", "four", "six"]).words == "Right, and on the safe side."
    assert {m.name: set(v) for m, v in even.wrong} == {
        "five as well": {"n", "four", "five"}, "the wrong ones": {"five", "six"}, "four forgotten": {"n"},
    }  # fmt: skip


def test_one_of_must_have_one_right():
    def both(row):
        row["type"] = "one of"
        row["mistakes"] = []

    (exercise,) = changed(CHOSEN, both)
    assert isinstance(exercise, SingleChoice)
    assert {exercise.variant(seed).parameters["n"] for seed in range(30)} == {1, 3}, "with 2 there would be two"


def test_an_order():
    (exercise,) = made(IN_ORDER)
    assert isinstance(exercise, Ordering)
    assert faults(exercise, 60) == ()
    variant = exercise.variant(1)
    lengths = [variant.parameters[f"length_{key}"] for key in variant.answer]
    assert lengths == sorted(lengths)
    assert "By length:\n" in variant.solution("US")


def test_a_table():
    (exercise,) = made(A_TABLE)
    assert isinstance(exercise, FillTable)
    assert faults(exercise, 60) == ()
    variant = exercise.variant(1)
    flow = variant.parameters["flow"]
    assert variant.answer == pytest.approx((2 * flow, 6 * flow))
    cells = exercise.cells(variant, "US")
    assert [row[2] for row in cells] == [None, None]
    assert cells[1][0] == ("large" if from_si(flow, "flow", "US") > 5 else "small")


def test_a_machine_of_the_yard_shows_what_its_operating_point_is():
    """The trailer's own readings, by the engine that is checked against others elsewhere."""
    from jetlib import demo_rig, operating_point

    readings = "\n".join(f'{name} = {{ reading = "{name}" }}' for name in READINGS)
    draw = '[exercise.draw]\nmachine = { yard = "machine", machines = ["yard_trailer"], throttles = [1.0] }'
    (exercise,) = made(TWICE.replace("[exercise.draw]", f"[exercise.given]\n{readings}\n{draw}"))
    given = exercise.given({"rig": "yard_trailer", "throttle": 1.0})
    rig = demo_rig("yard_trailer")
    point = operating_point(rig, 1.0)
    for name in ("gauge", "nozzle_pressure", "nozzle_flow", "pump_flow", "bypass_flow", "reaction"):
        assert given[name] == pytest.approx(float(getattr(point, name))), name
    assert given["setting"] == rig.unloader.setting
    assert given["rated_flow"] == rig.pump.rated_flow
    assert given["sent_back"] == pytest.approx(given["pump_flow"] - given["nozzle_flow"])
    assert all(math.isfinite(value) for value in given.values())


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda e: e.update(id="Mine"), r"mine\.toml, exercise 1: id is 'Mine'; write the lesson"),
        (lambda e: e.update(type="sum"), r"exercise 1 \(05-twice\): type is 'sum'; write one of number"),
        (lambda e: e.update(colour="red"), r"\(05-twice\): 'colour' is not known"),
        (lambda e: e.pop("title"), r"\(05-twice\) has no title"),
        (lambda e: e.update(hints=["one"]), "1 hints; write two"),
        (lambda e: e.update(kind="temperature"), "no share of a temperature is near"),
        (lambda e: e.update(kind="speeed"), "kind is 'speeed'; write one of flow"),
        (lambda e: e.update(ask="Twice {flaw}?"), r"ask asks for \{flaw\}; names drawn and given are flow, jets"),
        (lambda e: e.update(hints=["{x}", "b"]), r"hints asks for \{x\}"),
        (lambda e: e.update(solve=["{flow} × 2"]), "has no answer; end solve with"),
        (lambda e: e.update(solve=["{flow} × 2 -> a b c"]), "names no result"),
        (lambda e: e.update(solve=["{flow} × 2 -> a flaw"]), "solve 1: 'flaw' is no kind"),
        (lambda e: e.update(answer="{flow} +"), "is no arithmetic"),
        (lambda e: e.update(answer=3), "answer is 3; write a formula"),
        (lambda e: e.update(keep=["{flow} + 1"]), "is no condition; compare"),
        (lambda e: e.update(keep="{flow} > 1"), "keep is '{flow} > 1'; write a list"),
        (lambda e: e.update(tolerance=3), "tolerance is 3; write a share"),
        (lambda e: e["draw"].update(flow=3), r"draw\.flow is 3; write such as flow ="),
        (lambda e: e["draw"].update(flow={"kind": "flow"}), r"draw\.flow says nothing to take; write one of one_of"),
        (lambda e: e["draw"]["flow"].update(kind="flaw"), r"draw\.flow: kind is 'flaw'"),
        (lambda e: e["draw"]["flow"].update(to=9.2), r"draw\.flow: from 4 by steps of 0\.5 does not end at 9\.2"),
        (lambda e: e["draw"]["flow"].update(step=0), "does not end at"),
        (lambda e: e["draw"]["flow"].update(step=float("nan")), "write numbers"),
        (lambda e: e["draw"]["flow"].update(unit="furlong"), "furlong"),
        (lambda e: e["draw"].update(jets={"one_of": []}), r"draw\.jets: one_of is \[\]; write a list"),
        (lambda e: e["draw"].update(jets={"one_of": [1, "a"]}), "numbers or of words"),
        (lambda e: e["draw"].update(jets={"one_of": ["a"], "kind": "flow"}), "'a' is no number of kind flow"),
        (lambda e: e["draw"].update({"a b": {"one_of": [1]}}), "'a b' is no name"),
        (lambda e: e["draw"].update(m={"yard": "boat"}), "yard is 'boat'; write one of machine"),
        (lambda e: e.update(given={"x": {"one_of": [1]}}), r"given\.x says nothing to take; write one of is"),
        (lambda e: e.update(given={"x": {"reading": "gage"}}), r"given\.x: reading is 'gage'; write one of gauge"),
        (lambda e: e["mistakes"][0].pop("name"), r"mistake 1 has no name"),
        (lambda e: e["mistakes"][0].pop("say"), r"mistake 1 has no say"),
        (lambda e: e["mistakes"][0].pop("is"), r"mistake 1 \(halved\) has 0 of is; write one"),
        (lambda e: e["mistakes"][0].update(say="You {halved}."), "mistake 1, say asks for"),
        (lambda e: e["mistakes"][1].update(name="halved", say="x"), "two mistakes of one name"),
        (lambda e: e.update(mistakes=3), "write tables, each headed"),
    ],
)  # fmt: skip
def test_a_field_that_will_not_do_is_named_with_file_and_exercise(change, said):
    with pytest.raises(JetlibError, match=said) as caught:
        changed(TWICE, change)
    assert str(caught.value).startswith("mine.toml, exercise 1")


@pytest.mark.parametrize(
    ("text", "change", "said"),
    [
        (CHOSEN, lambda e: e["options"].clear(), "options need keys of their own"),
        (CHOSEN, lambda e: e["options"][0].update(key="four"), "options need keys of their own"),
        (CHOSEN, lambda e: e["options"][0].update(right=3), "right has no condition"),
        (CHOSEN, lambda e: e["mistakes"][0].update(adds="ten"), "adds is 'ten'; write keys of options"),
        (CHOSEN, lambda e: e["mistakes"][0].update(adds={"ten": "{n} > 1"}), "write keys of options"),
        (IN_ORDER, lambda e: e.update(shows="red"), "shows is 'red'"),
        (IN_ORDER, lambda e: e.update(apart=-1), "apart is -1; write a number above zero"),
        (IN_ORDER, lambda e: e["mistakes"][0].update(by="{length}"), "has 2 of"),
        (A_TABLE, lambda e: e.update(rows=[["a"]]), "write rows of 3 texts"),
        (A_TABLE, lambda e: e["columns"][1].update(kind="colour"), "kind is 'colour'; write one of"),
        (A_TABLE, lambda e: e["rows"][0].__setitem__(0, "? {flow}"), "column 0 holds words; only a column with a kind"),
        (A_TABLE, lambda e: e["mistakes"][0].update(cells=["{flow}"]), "gives 1 cells; write 2"),
    ],
)
def test_so_are_those_of_the_other_types(text, change, said):
    with pytest.raises(JetlibError, match=said) as caught:
        changed(text, change)
    assert str(caught.value).startswith("mine.toml, exercise 1")


JUNK = (
    3,
    -1.5,
    True,
    "",
    "x",
    "{x}",
    "{flow}",
    [],
    [[]],
    ["x"],
    [3],
    {},
    {"a": 1},
    "9**9**9**9**9",
    "(" * 300,
    "'a' * 99",
)


@pytest.mark.parametrize("text", [TWICE, CHOSEN, IN_ORDER, A_TABLE])
def test_whatever_stands_in_a_field_is_refused_or_read(text):
    """Every field, also inside tables and lists, with every junk: a JetlibError, or an exercise that can be checked."""

    def places(value, path=()):
        pairs = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
        for key, inner in pairs:
            yield (*path, key)
            yield from places(inner, (*path, key))

    data = tomllib.loads(text)
    for path in places(data["exercise"][0]):
        for junk in JUNK:
            own = copy.deepcopy(data)
            holder = own["exercise"][0]
            for key in path[:-1]:
                holder = holder[key]
            holder[path[-1]] = junk
            try:
                (exercise,) = exercises_from(own, "mine.toml")[0]
            except JetlibError as error:
                assert str(error).startswith("mine.toml"), error
                continue
            for fault in faults(exercise, 1):
                assert isinstance(fault, str)


def test_files_and_their_faults(tmp_path):
    path = tmp_path / "mine.toml"
    path.write_text("\ufeff" + TWICE, "utf-8")  # a mark that some editors put in front
    assert exercises_in(path)[1] == ("05-twice",)
    for text, said in [
        ("", "mine.toml has no exercises"),
        ("exercise = 3", "write tables"),
        (TWICE.replace('"05-twice"', "05-twice"), r"mine\.toml: not TOML: .*line 3"),
        (TWICE + TWICE, "05-twice is there twice"),
        ("[[exercise]]\n" + ".".join("a" * 5000), "longer than"),
        ("[[exercise]]\nid = '05-a'\n" + "a." * 30 + "a = 1", "joins more than"),
    ]:
        path.write_text(text, "utf-8")
        with pytest.raises(JetlibError, match=said):
            exercises_in(path)


def test_the_example_is_sound_and_reads_as_its_head_says():
    made_of, order = exercises_in(DATA / "exercises" / "example_of_your_own.toml")
    assert order == ("05-our-leader", "01-our-gauge-drops")
    for exercise in made_of:
        assert faults(exercise) == ()
        for system in SYSTEMS:
            shown = as_read(exercise.variant(1), system)
            assert exercise.title in shown
            assert all(mistake.name in shown for mistake, _ in exercise.variant(1).wrong)


def test_an_exercise_that_misleads_is_told():
    def fault_of(change):
        (exercise,) = changed(TWICE, change)
        return " ".join(faults(exercise, 4))

    assert "cannot be told from the answer" in fault_of(lambda e: e["mistakes"][0].update({"is": "2.01 × {flow}"}))
    assert "every draw was rejected" in fault_of(lambda e: e.update(keep=["{flow} > 100"]))
    assert "'ratio upside down' never comes up" in fault_of(lambda e: e["mistakes"][1].update(when="{flow} > 50"))
    assert "is inf" in fault_of(lambda e: e.update(answer="{flow} × 10 ** 308 × 10 ** 5"))
    assert "cannot be calculated" in fault_of(lambda e: e.update(answer="{flow} / ({jets} - {jets})"))
    too_large = {"solve": ["{flow} × 9 ** 9 ** 9 -> found flow"], "mistakes": []}
    assert "cannot be calculated" in fault_of(lambda e: e.update(too_large))
    assert "prints" in fault_of(lambda e: e.update(answer="{flow} × 3"))
