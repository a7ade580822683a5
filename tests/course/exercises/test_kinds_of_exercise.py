"""The kinds of exercise on small ones made here, whose answers can be done in the head."""

import re

import pytest

from jetlib.course.exercises.choosing import MultipleChoice, Ordering, SingleChoice
from jetlib.course.exercises.exercise import Mistake, apart, near
from jetlib.course.exercises.numeric import FillTable, Numeric
from jetlib.errors import JetlibError
from jetlib.tables import DATA
from jetlib.units import si, to_si

COMMON = {"title": "t", "skills": ("s",), "hints": ("one", "two"), "solution": "because"}


def numeric(**changes):
    """12 gpm doubled is 24 gpm."""
    given = {
        "id": "90-double",
        "draw": lambda rng: {"flow": to_si(12.0, "flow", "US")},
        "shown": {"flow": "flow"},
        "ask": "Twice {flow}?",
        "kind": "flow",
        "answer": lambda p: 2.0 * p["flow"],
        "tolerance": 0.02,
        "mistakes": (
            Mistake("halved", "You halved {flow}.", lambda p: p["flow"] / 2.0),
            Mistake("Imperial gallon", "Imperial.", lambda p: 2.0 * p["flow"] * 1.2009499),
        ),
        **COMMON,
    }
    return Numeric(**{**given, **changes})


@pytest.mark.parametrize(
    ("reply", "status"),
    [
        ("24 gpm", "right"),
        ("24.4 gpm", "right"),  # 1.7 % off
        ("24.6 gpm", "wrong"),  # 2.5 % off
        ("90.85 L/min", "right"),  # 24 x 3.785411784, NIST SP 811
        ("5.451 m3/h", "right"),
        ("1,440 gph", "right"),  # a US unit: the comma groups thousands
        ("1440 gph", "right"),
        ("6 gpm", "mistake"),
        ("28.82 gpm", "mistake"),  # 24 x 1.20095, the Imperial gallon over the US one
        ("20 imp gpm", "right"),  # 24 US gpm are 19.98 Imperial
        ("24", "right"),
        ("24 psi", "wrong kind"),
        ("24 5", "unreadable"),
        ("-24 gpm", "unreadable"),
        ("", "not attempted"),
        ("3 gpm", "wrong"),
    ],
)
def test_a_number_with_any_unit_of_its_kind(reply, status):
    verdict = numeric().variant(1).check(reply)
    assert verdict.status == status, verdict
    assert verdict.attempted == (status in ("right", "wrong", "mistake"))


def test_feedback_says_which_way_and_no_more():
    variant = numeric().variant(1)
    assert "too low" in variant.check("15 gpm").words
    assert "too high" in variant.check("40 gpm").words
    assert "decimal point" in variant.check("2.4 gpm").words
    assert variant.check("6 gpm").words == "Not yet. You halved 12 gpm."
    assert variant.check("6 gpm", "metric").words == "Not yet. You halved 45.4 L/min."
    assert "furlong is a length" in variant.check("5 furlong").words


def test_the_tolerance_is_told():
    assert numeric().variant(1).question("US") == "Twice 12 gpm?\n\nAn answer within 2 % counts as right."


def test_a_variant_whose_mistake_looks_right_is_never_offered():
    twice = numeric(
        draw=lambda rng: {"flow": to_si(rng.choice((1.0, 2.0, 3.0)), "flow", "US")},
        answer=lambda p: p["flow"] ** 2 / to_si(1.0, "flow", "US"),
        mistakes=(Mistake("doubled", "You doubled.", lambda p: 2.0 * p["flow"]),),
    )
    flows = {round(twice.variant(seed).parameters["flow"] / to_si(1.0, "flow", "US")) for seed in range(60)}
    assert flows == {1, 3}  # 2 doubled is 2 squared


@pytest.mark.parametrize(
    ("changes", "match"),
    [
        ({"mistakes": (Mistake("same", "w", lambda p: 2.01 * p["flow"]),)}, "cannot be told from"),
        ({"reject": lambda p: True}, "every draw was rejected"),
        ({"answer": lambda p: float("nan")}, "the answer is nan"),
        ({"answer": lambda p: 1e9}, "cannot be written"),
        ({"answer": lambda p: si("5 psi", "flow")}, "wants gpm"),
    ],
)
def test_an_exercise_that_can_make_no_variant_says_so(changes, match):
    with pytest.raises(JetlibError, match=match):
        numeric(**changes).variant(1)


def test_an_exercise_is_checked_when_it_is_made():
    for changes, match in [
        ({"hints": ("one",)}, "hints"),
        ({"mistakes": (Mistake("a", "", abs), Mistake("a", "", abs))}, "two mistakes of one name"),
    ]:
        with pytest.raises(JetlibError, match=match):
            numeric(**changes)
    with pytest.raises(JetlibError, match="not drawn"):
        numeric(ask="Twice {flaw}?").variant(1).question("US")


def choosing(kind, answer, wrong, **changes):
    given = {
        "id": "90-choose",
        "draw": lambda rng: {"n": rng.randrange(100)},
        "ask": "Which?",
        "options": (("a", "first"), ("b", "second"), ("c", "third {n}"), ("d", "fourth")),
        "answer": lambda p: answer,
        "mistakes": (Mistake("usual", "Look at {n} again.", lambda p: wrong),),
        **COMMON,
    }
    return kind(**{**given, **changes})


def test_a_single_choice():
    variant = choosing(SingleChoice, "b", "c").variant(4)
    statuses = {reply: variant.check(reply).status for reply in ("b", "c", "a", "x", "a,b", "")}
    assert statuses == {
        "b": "right", "c": "mistake", "a": "wrong", "x": "unreadable", "a,b": "unreadable", "": "not attempted",
    }  # fmt: skip
    assert variant.check(["b"]).status == "right"
    assert variant.answer_words("US") == "second"


def test_a_multiple_choice():
    variant = choosing(MultipleChoice, ["a", "c"], ["a"]).variant(4)
    assert variant.check({"c", "a"}).status == variant.check("c, a").status == "right"
    assert variant.check(["a"]).status == "mistake"
    wrong = variant.check(["a", "b"])
    assert (wrong.status, wrong.words) == ("wrong", "Not yet: 1 marked that should not be and 1 still to find.")
    assert variant.check(["a", "a"]).status == "unreadable"
    assert variant.check([]).status == "not attempted"


def test_an_order():
    exercise = choosing(Ordering, "abcd", "dcba")
    variant = exercise.variant(4)
    assert variant.check(list("abcd")).status == "right"
    assert variant.check("d, c, b, a").status == "mistake"
    assert variant.check(list("abdc")).words == "Not yet: 2 of 4 are in the right place."
    assert variant.check(list("abc")).status == variant.check(list("aabc")).status == "unreadable"
    for seed in range(100):
        shown = [key for key, _ in exercise.shown_options(exercise.variant(seed), "US")]
        assert sorted(shown) == list("abcd")
        assert shown != list("abcd"), "the right order is on show"


def test_options_are_shown_in_an_order_of_the_variants_own():
    exercise = choosing(SingleChoice, "b", "c")
    firsts = [exercise.shown_options(exercise.variant(seed), "US")[0][0] for seed in range(60)]
    assert set(firsts) == set("abcd")
    assert exercise.shown_options(exercise.variant(7), "US") == exercise.shown_options(exercise.variant(7), "metric")


@pytest.mark.parametrize(
    ("kind", "answer", "wrong"), [(SingleChoice, "z", "a"), (MultipleChoice, ["a"], ["z"]), (Ordering, "abc", "dcba")]
)
def test_a_key_that_is_no_option_is_refused(kind, answer, wrong):
    with pytest.raises(JetlibError, match=r"is no option|must hold each"):
        choosing(kind, answer, wrong).variant(1)


def table():
    """1, 2 and 3 gpm doubled."""
    flow = to_si(1.0, "flow", "US")
    return FillTable(
        id="90-table",
        draw=lambda rng: {"flow": flow * rng.randrange(1, 50)},
        ask="Double it.",
        columns=(("row", None), ("flow", "flow"), ("twice", "flow")),
        rows=lambda p: tuple((name, p["flow"] * n, 2.0 * p["flow"] * n) for n, name in ((1, "A"), (2, "B"), (3, "C"))),
        blanks=((0, 2), (2, 2)),
        mistakes=(Mistake("same", "You left it as it was.", lambda p: (p["flow"], None)),),
        **COMMON,
    )


def test_a_table():
    exercise = table()
    variant = exercise.variant(1)
    right = variant.right_reply("US")
    assert exercise.cells(variant, "US")[0][2] is None
    assert exercise.cells(variant, "US")[1][2] is not None
    assert exercise.blank_name(variant, 1) == "twice for C"
    assert variant.check(right).status == "right"
    part = variant.check([right[0], ""])
    assert (part.status, part.words) == ("not attempted", "Right so far: 1 of 2. Fill in the rest.")
    ((_, same),) = variant.wrong_replies("US")
    wrong = variant.check(same)
    assert (wrong.status, wrong.mistake) == ("mistake", "same")
    assert wrong.words == "1 of 2 cells right. Look again at: twice for A. You left it as it was."
    assert [cell.status for cell in wrong.cells] == ["mistake", "right"]
    no_unit = variant.check(["5", right[1]])
    assert no_unit.status in ("right", "wrong", "mistake"), "5 is 5 gpm"
    assert variant.check([right[0], "900 gpm"]).status == "wrong"
    assert variant.check(["", ""]).status == "not attempted"
    assert variant.check(right[:1]).status == "unreadable"


def test_near_and_apart():
    assert near(103.0, 100.0, 0.03)
    assert not near(103.1, 100.0, 0.03)
    assert apart(100.0, 107.0, 0.03)
    assert not apart(100.0, 106.0, 0.03)  # 103 is near both


def test_gallons_are_those_of_their_definitions():
    """4.54609 L (UK statute, 1985) over 3.785411784 L (NIST SP 811)."""
    said = "".join(path.read_text("utf-8") for path in (DATA / "exercises").glob("*.toml"))
    ratios = re.findall(r"(4\.54\d* / 3\.78\d*)", said)
    assert ratios and len(ratios) == len(re.findall(r"3\.78\d{3,}", said))
    for one, other in (ratio.split(" / ") for ratio in ratios):
        assert float(one) / float(other) == pytest.approx(1.2009499, rel=1e-7)
