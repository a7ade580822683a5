"""What a plan has printed: read, said in words, refused with what to change."""

import pytest

from jetlib.course.banks import registry as bank
from jetlib.course.classroom.print_orders import SHEETS, Order, order_from
from jetlib.course.classroom.session_plan import plan_from, plans
from jetlib.errors import JetlibError


def test_an_order_is_read_and_said_in_words():
    assert order_from("seats 02 02-square-law") == Order("seats", "02", ("02-square-law",))
    assert order_from("slips") == Order("slips")
    title = bank.exercise("02-square-law").title
    assert order_from("key 02 02-square-law").words == f"Lesson 02: answer key ({title})"
    assert order_from("tables yard_trailer").words == "Yard trailer: tables of hose and jets"
    assert order_from("slips").words == "a slip for each seat"


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("", "no sheet; write one of handout"),
        ("poster 02", "'poster' is no sheet"),
        ("seats", "seats of which lesson\\? write seats 01"),
        ("seats 77", "no lesson '77'"),
        ("seats 02 03-fifth-power", "not of lesson 02"),
        ("seats 02 02-nothing", "no exercise"),
        ("gauge-card yard_rocket", "yard_rocket"),
        ("handout 02 02-square-law", "no use for '02-square-law'"),
        ("slips 12", "no use for '12'"),
    ],
)
def test_a_wrong_order_says_which_word_to_change(typed, said):
    with pytest.raises(JetlibError, match=said):
        order_from(typed)
    plan = {"title": "A", "minutes": 1, "for_whom": "all", "prints": ["slips", typed],
            "step": [{"title": "Cautions", "minutes": 1, "kind": "cautions"}]}  # fmt: skip
    with pytest.raises(JetlibError, match=f"^mine.toml, prints 2: .*{said}"):
        plan_from(plan, "mine.toml")


def test_every_plan_has_something_printed_and_no_page_shows_a_code():
    for plan in plans().values():
        assert plan.prints
        for order in plan.prints:
            assert order.sheet in SHEETS
            assert not any(code in order.words for code in (*order.only, "yard_"))
