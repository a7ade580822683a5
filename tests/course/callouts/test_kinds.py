"""Callouts are data checked by rules: what is wrong with a file names file, place and field, and what to write."""

import copy
import re
import tomllib

import pytest

from jetlib.course.callouts.deal import deal
from jetlib.course.callouts.kinds import COMMON, FOLDER, kind, kind_from, kinds, read_kind, refused_kinds
from jetlib.course.exercises.words import picked
from jetlib.errors import JetlibError
from jetlib.units import SYSTEMS

GOOD = tomllib.loads((FOLDER / "grease.toml").read_text("utf-8"))


def changed(path, value):
    """The good file with one thing changed; value None: taken out."""
    made = copy.deepcopy(GOOD)
    *way, last = path
    held = made
    for step in way:
        held = held[step]
    if value is None:
        del held[last]
    else:
        held[last] = value
    return made


def test_every_file_of_the_course_is_good():
    assert refused_kinds() == () and len(kinds()) >= 12
    assert all(each.id == name for name, each in kinds().items())


@pytest.mark.parametrize(("path", "value", "told"), [
    (["title"], None, "mine.toml has no title"),
    (["call"], 3, "call is 3; write a text"),
    (["right"], "maybe", "right is 'maybe'; write one of go, unsafe, needless"),
    (["nonsense"], 1, "'nonsense' is not known"),
    (["drain", "pipe"], "4 in wood", "mine.toml, drain"),
    (["drain", "run"], ["60 psi"], "mine.toml, drain, run"),
    (["drain", "run"], [60], "write texts with a unit"),
    (["drain", "block"], [0.9, 0.2], "the smaller first"),
    (["drain", "block"], None, "write two shares of the run"),
    (["drain", "debris"], "money", "debris is 'money'; write one of"),
    (["drain", "bends"], [["a", "b"]], "mine.toml, drain"),
    (["question", 1, "minutes"], "two", "mine.toml, question 2: minutes is 'two'; write a whole number"),
    (["question", 1, "ask"], None, "mine.toml, question 2 has no ask"),
    (["question", 0, "matters"], "yes", "mine.toml, question 1: matters is 'yes'; write matters = true"),
    (["question", 0, "key"], "bill", "two of question have the key 'bill'"),
    (["surprise", 0, "fault"], "jet lost", "mine.toml, surprise 1: there is no fault 'jet lost'"),
    (["surprise", 0, "size"], [0.1, 5.0], "jet plugged runs from 0.08 to 0.9"),
    (["surprise", 0, "size"], None, "has a fault without a size"),
    (["surprise", 1, "fill"], 3, "mine.toml, surprise 2: fill is 3; write a share from 0 to 1"),
    (["surprise", 0, "lesson"], "44", "there is no lesson '44'"),
    (["act", 0, "when"], "later", "mine.toml, act 1: when is 'later'; write one of always"),
    (["act", 0, "why"], None, "mine.toml, act 1 has no why"),
    (["tips"], ["No number"], "begin it with the number of a lesson"),
    (["surprise"], [], "mine.toml has 0 of surprise; write 2 or more"),
    (["good"], None, "mine.toml has no good"),
    (["right"], "unsafe", "mine.toml has no refusal"),
    (["call"], "It goes {lenght} far", "mine.toml: call has '{lenght}'; only {run} and {block}"),
    (["question", 2, "wrong"], "About {block:>99999999}", "mine.toml, question 3: wrong has '{block}'"),
    (["question", 2, "answer"], "About {block", "a brace without its partner"),
    (["drain", "fall"], [], "fall is an empty list"),
    (["drain", "bore"], "4 in", "has both of pipe and bore"),
    (["drain", "pipe"], None, "has neither of pipe and bore"),
    (["drain", "bends"], [["12 ft"]], "write place, angle and, if known, radius"),
    (["drain", "block"], [0.01, 0.02], "from the opening; write shares of the run"),
    (["good", "machine"], "yard_lorry", "mine.toml, good: machine is 'yard_lorry'; write one of yard_cart"),
    (["good", "trottle"], 0.9, "mine.toml, good: 'trottle' is not known"),
    (["good", "throttle"], 9, "mine.toml, good: throttle is 9"),
    (["good", "throttle"], [0.5], "mine.toml, good: throttle is [0.5]; write one value"),
    (["good", "machine"], ["yard_cart"], "mine.toml, good: machine is ['yard_cart']; write one of yard_cart"),
    (["good", "rigid"], "nozzle alone", "this plan is a no-go, so nobody could do the job. THE NOZZLE CAN TURN"),
    (["drain", "run"], ["900 ft"], "mine.toml, good: the nozzle gets"),
    (["surprise", 0, "stop"], 0.5, "mine.toml, surprise 1 has more than one of fault, stop and fill"),
])  # fmt: skip
def test_what_is_wrong_is_said_with_its_place(path, value, told):
    with pytest.raises(JetlibError) as refused:
        kind_from(changed(path, value), "mine.toml", tuple(act for act in kind("grease").acts if act.key != "cleaner"))
    assert told in str(refused.value), refused.value


def test_a_file_of_ones_own_is_read_and_a_bad_one_leaves_the_others(tmp_path):
    good = (FOLDER / "grease.toml").read_bytes()
    (tmp_path / "mine.toml").write_bytes(b"\xef\xbb\xbf" + good)
    (tmp_path / "bad.toml").write_bytes(good.replace(b'title = "', b'titel = "'))
    (tmp_path / "worse.toml").write_text('title = = "x"', encoding="utf-8")
    assert list(kinds(tmp_path)) == ["mine"]
    told = refused_kinds(tmp_path)
    assert told[0].endswith("(line 1)"), "the line to change"
    assert [each.partition(":")[0] for each in told] == ["bad.toml", "worse.toml"] and "line 1" in told[1]
    assert read_kind(tmp_path / "mine.toml").acts[0].key == read_kind(FOLDER / "grease.toml").acts[0].key
    assert COMMON not in kinds(tmp_path)


@pytest.mark.parametrize("name", kinds())
def test_what_is_said_can_be_said_in_either_system(name):
    for seed in range(6):
        dealt = deal(name, seed)
        for system in SYSTEMS:
            told = [dealt.call(system), *(dealt.answer(each.key, system) for each in kind(name).questions)]
            assert not any(brace in words for words in told for brace in "{}")


def test_at_most_one_answer_is_wrong_and_sometimes_one_is():
    wrong = {deal("grease", seed).wrong for seed in range(30)}
    assert wrong == {"", "where"}


@pytest.mark.parametrize("name", kinds())
def test_metric_words_have_no_feet_and_us_words_no_metres(name):
    foreign = {"US": r"\d (m|mm|cm|bar|L)\b", "metric": r"\d (ft|in|psi|gpm|gal)\b"}
    for system in SYSTEMS:
        dealt, made = deal(name, 1), kind(name)
        told = [dealt.call(system), *(dealt.answer(each.key, system) for each in made.questions)]
        told += [picked(words, system) for act in made.acts for words in (act.happens, act.why, act.else_words)]
        told += [picked(words, system) for words, _ in made.tips] + [each.words for each in made.surprises]
        assert not [words for words in told if re.search(foreign[system], words) or "|" in words]
