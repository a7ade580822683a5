"""The session plans: minutes add up, all that is named exists, and what the room is promised to see is true."""

import shutil

import pytest

from jetlib.course.banks import registry as bank
from jetlib.course.classroom.session_plan import (
    AT_THE_MACHINE,
    CAUTION,
    FOLDER,
    clock,
    minute_of_day,
    plan_from,
    plans,
    read_plan,
    refused_plans,
    sight_values,
)
from jetlib.course.classroom.session_sight import checked, seen
from jetlib.course.classroom.vote import question
from jetlib.course.pages.contents import page
from jetlib.errors import JetlibError
from jetlib.units import SYSTEMS, si

STEPS = [(plan, step) for plan in plans().values() for step in plan.steps]
SIGHTS = [(step, sight) for _, step in STEPS for sight in step.sees]
names = pytest.mark.parametrize("name", plans())


def test_there_is_a_plan_of_each_length():
    lengths = [plan.minutes for plan in plans().values()]
    assert {20, 45, 90} <= set(lengths)
    assert lengths == sorted(lengths)
    day = plans()["day"]
    breaks = sum(step.minutes for step in day.steps if step.kind == "break")
    assert 330 <= day.minutes - breaks <= 390  # about six hours
    assert breaks >= 75
    assert max(gaps(day)) <= 120  # nobody sits for longer without a break


def gaps(plan):
    """Minutes between breaks."""
    found = [0]
    for step in plan.steps:
        if step.kind == "break":
            found.append(0)
        else:
            found[-1] += step.minutes
    return found


@names
def test_minutes_add_up_and_cautions_come_first(name):
    plan = plans()[name]
    assert sum(step.minutes for step in plan.steps) == plan.minutes
    assert plan.begins[0] == 0 and plan.begins[-1] + plan.steps[-1].minutes == plan.minutes
    assert plan.steps[0].words.startswith(CAUTION)
    assert "manual" in CAUTION and "local codes" in CAUTION and "licensed" in CAUTION
    for step in plan.steps:
        if step.kind == "machine":
            assert step.words.startswith(AT_THE_MACHINE)
            assert "manual" in AT_THE_MACHINE and "licensed" in AT_THE_MACHINE
    assert plan.steps[-1].kind == "close"
    assert plan.aims and plan.for_whom and plan.ready


@names
def test_every_kind_of_the_classroom_is_used_and_each_step_says_what_to_do_next(name):
    kinds = {step.kind for step in plans()[name].steps}
    assert "vote" in kinds
    for step in plans()[name].steps:
        if step.kind in ("cautions", "explain", "break", "assessment", "close"):
            continue
        assert step.page and step.do
        assert step.wrong_ideas("US")
        assert step.if_wrong and step.if_split and step.if_right
        assert len({step.if_wrong, step.if_split, step.if_right}) == 3


def test_the_day_uses_all_that_a_class_has():
    kinds = {step.kind for step in plans()["day"].steps}
    assert {"vote", "console", "practice", "hidden fault", "live rig", "machine", "break"} <= kinds
    lessons = {page(step.page).number for step in plans()["day"].steps if step.page}
    assert {"01", "02", "03", "04", "05", "06", "09", "11"} <= lessons


def test_what_is_named_exists():
    for _, step in STEPS:
        if step.page:
            page(step.page)
        if step.vote:
            asked = question(step.vote, step.seed)
            assert step.answer("US") == f"{asked.right + 1}: {asked.options('US')[asked.right]}"
        for name in step.practice:
            assert bank.exercise(name).variant(1).question("US")


@pytest.mark.parametrize("system", SYSTEMS)
def test_all_words_can_be_said_in_both_unit_systems(system):
    for _, step in STEPS:
        shown = (*step.sights(system), *step.wrong_ideas(system), step.asked(system), step.words)
        assert not any("{" in words or "}" in words for words in shown)
        for label, words in step.settings(system):
            assert label and words


@pytest.mark.parametrize(("step", "sight"), SIGHTS, ids=lambda each: getattr(each, "title", None))
def test_what_the_room_is_promised_to_see_is_true(step, sight):
    before, after = sight_values(step, sight)
    if after is None:
        assert before > 0
        return
    least, most = sight.times
    assert least <= after / before <= most
    assert most - least <= 1.0 or most / least < 1.4, "a promise so wide that it cannot fail"


def test_sights_by_hand():
    """The laws that the plans rest on, by figures from outside: ratios that textbooks give for any fluid."""
    # Q = Cd A sqrt(2 p/rho): p goes with Q squared (any text on orifices, such as White, Fluid Mechanics, ch. 6).
    one = seen("jets_console", {"flow": "4 gpm", "count": 4, "bore": "#60"})["gauge"]
    two = seen("jets_console", {"flow": "8 gpm", "count": 4, "bore": "#60"})["gauge"]
    assert two / one == pytest.approx(4.0)
    # 8 gpm at 3390 psi through 4 holes of 0.040 in: p = rho/2 (Q/(Cd A))^2 with 999.1 kg/m3 and Cd 0.72.
    area = 4 * 3.14159265 / 4 * (0.040 * 0.0254) ** 2
    assert two == pytest.approx(999.1 / 2 * (8 * 6.30902e-5 / (0.72 * area)) ** 2, rel=2e-3)
    # Blasius, f = 0.316/Re^0.25 for a smooth wall: loss goes with bore to the power -4.75; half the bore is 26.9 times.
    # A wall of 0.01 mm adds something, and the more the narrower the hose.
    wide = seen("hose_console", {"flow": "4 gpm", "bore_1": "1/2 in", "length_1": "200 ft"})["loss"]
    thin = seen("hose_console", {"flow": "4 gpm", "bore_1": "1/4 in", "length_1": "200 ft"})["loss"]
    assert 26.9 < thin / wide < 33
    # Pull of a slanting jet goes with the cosine of its angle to the hose (momentum along the axis).
    base = {"rig": "yard_trailer", "throttle": "100 %", "front": 1}
    pull = [seen("pull_console", {**base, "angle": angle})["pull of the rear jets"] for angle in ("30 deg", "60 deg")]
    assert pull[1] / pull[0] == pytest.approx(0.5 / 0.8660254)


# --- refusals ---------------------------------------------------------------------------------------

GOOD = {
    "title": "A plan", "minutes": 3, "for_whom": "all", "aims": ["see"],
    "step": [
        {"title": "Cautions", "minutes": 1, "kind": "cautions"},
        {
            "title": "Look", "minutes": 2, "kind": "console", "page": "02_orifice_flow", "console": "jets_console",
            "set": {"flow": "4 gpm", "bore": "#60"}, "ask": "What now?", "wrong": ["nothing"], "if_wrong": "a",
            "if_split": "b", "if_right": "c",
            "sees": [{"say": "{before}", "quantity": "gauge"}],
        },
    ],
}  # fmt: skip


def changed(step=None, **plan):
    first, look = GOOD["step"]
    return {**GOOD, "step": [first, {**look, **(step or {})}], **plan}


def test_the_smallest_plan_is_read():
    plan = plan_from(GOOD, "mine")
    assert plan.steps[1].sights("US") == ("846 psi",)


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (changed(minutes=4), "add up to 3"),
        (changed(minutes="3"), "whole number"),
        (changed(step=None, stray=1), "stray"),
        ({**GOOD, "step": []}, "no steps"),
        ({**GOOD, "step": GOOD["step"][1:], "minutes": 2}, "cautions"),
        (changed({"minutes": 0}), "minutes is 0"),
        (changed({"kind": "song"}), "kind is"),
        (changed({"page": "99_none"}), "no page"),
        (changed({"page": "03_hose_friction"}), "another page"),
        (changed({"vote": "02-nothing"}), "to vote on"),
        (changed({"practice": ["02-nothing"]}), "no exercise"),
        (changed({"practice": "02-areas-add"}), "list of texts"),
        (changed({"console": "no_console"}), "no console"),
        (changed({"set": {"flow": "4 psi", "bore": "#60"}}), "flow"),
        (changed({"set": {"strange": 1}}), "no setting"),
        (changed({"ask": ""}), "asks the room nothing"),
        (changed({"wrong": []}), "no wrong idea"),
        (changed({"if_split": ""}), "if_split"),
        (changed({"sees": [{"say": "x", "quantity": "colour"}]}), "shows no"),
        (changed({"sees": [{"say": "x", "quantity": "gauge", "after": {"flow": "8 gpm"}}]}), "promised"),
        (changed({"sees": [{"say": "x"}]}), "has no quantity"),
        (changed({"sees": [{"say": "x", "quantity": "gauge"}], "console": ""}), "on no console"),
    ],
)
def test_a_plan_that_breaks_a_rule_is_refused_with_what_to_mend(data, said):
    with pytest.raises(JetlibError, match=said):
        plan_from(data, "mine")


def test_a_file_that_is_no_plan_is_refused(tmp_path):
    (tmp_path / "bad.toml").write_text("[[step")
    for name in ("bad.toml", "none.toml"):
        with pytest.raises(JetlibError, match=rf"^.*{name}.*(not TOML|cannot be read)"):
            read_plan(tmp_path / name)


def test_every_file_is_a_plan():
    assert sorted(plans()) == sorted(path.stem for path in FOLDER.glob("*.toml"))
    assert refused_plans() == ()


def test_a_bad_file_is_left_out_with_what_to_mend_and_the_others_stand(tmp_path):
    shutil.copy(FOLDER / "jets_20.toml", tmp_path / "mine.toml")
    longer = (FOLDER / "jets_20.toml").read_text("utf-8").replace("minutes = 20", "minutes = 25")
    (tmp_path / "longer.toml").write_text(longer, "utf-8")
    (tmp_path / "deep.toml").write_text("a = " + "[" * 20_000)
    assert list(plans(tmp_path)) == ["mine"]
    deep, longer = refused_plans(tmp_path)
    assert deep.startswith("deep.toml: line 1 is longer than 2000")
    assert longer == "longer.toml: its steps add up to 20 minutes; write minutes = 20, or change a step"


# --- settings and the clock -------------------------------------------------------------------------


def test_settings_are_read_at_the_door():
    assert checked("jets_console", {"flow": "8 gpm"})["flow"] == pytest.approx(si("8 gpm", "flow"))
    with pytest.raises(JetlibError, match="no quantity of it"):
        seen("plan_console", {"rig": "yard_trailer"})


@pytest.mark.parametrize(
    ("typed", "minute"), [("9:00", 540), ("09:00", 540), ("13.30", 810), ("0900", 540), (" 23:59 ", 1439), ("0:00", 0)]
)
def test_a_time_of_day_is_read(typed, minute):
    assert minute_of_day(typed) == minute


@pytest.mark.parametrize("typed", ["", "9", "24:00", "9:60", "nine", "-1:00", None, 9, "9" * 9999, "٩:٠٠"])
def test_what_is_no_time_of_day_is_refused(typed):
    with pytest.raises(JetlibError, match="time of day"):
        minute_of_day(typed)


def test_the_clock_goes_on_past_midnight():
    assert [clock(minute) for minute in (0, 545, 1439, 1440)] == ["0:00", "9:05", "23:59", "0:00"]
