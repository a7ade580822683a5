"""What a plan has printed: read, said in words, refused with what to change."""

import pytest

from jetlib.course.banks import registry as bank
from jetlib.course.classroom.print_orders import SHEETS, Order, order_from, rig_called
from jetlib.course.classroom.session_plan import plan_from, plans
from jetlib.errors import JetlibError
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs, save_rig
from jetlib.rig.point.operating_point import operating_point


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
        ("gauge-card", "gauge-card of which rig\\? write gauge-card yard_cart"),
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


@pytest.mark.parametrize("name", demo_rigs())
def test_a_yard_rig_is_printed_in_round_metric_figures(name):
    rig = rig_called(name, "metric")
    assert all(abs(hose.length - round(hose.length)) < 1e-9 for hose in rig.hoses)
    assert all(abs(jet.bore / 5e-5 - round(jet.bore / 5e-5)) < 1e-6 for jet in rig.nozzle.jets)
    assert abs(rig.unloader.setting / 5e5 - round(rig.unloader.setting / 5e5)) < 1e-6
    before, after = (float(operating_point(each).gauge) for each in (rig_called(name), rig))
    assert after == pytest.approx(before, rel=0.02), "the same machine as it is on the screen"
    assert rig_called(name, "US") == demo_rig(name)


def test_a_rig_of_ones_own_is_printed_as_it_is(tmp_path):
    save_rig(demo_rig("yard_trailer"), tmp_path / "mine.toml")
    assert rig_called(str(tmp_path / "mine.toml"), "metric").hoses[0].length == pytest.approx(76.2)
