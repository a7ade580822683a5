"""The yard's job: what lesson 11 says about it is so."""

import pytest

from jetlib.course.banks import registry as bank
from jetlib.course.exercises.yard_job import LEADERS, UNWEIGHED, banded_numbers, yard_job, yard_plan, yard_rig
from jetlib.rig.hoses.weight import BRAIDS
from jetlib.rig.parts.rig_file import demo_rig
from jetlib.units import si

STIFF = si("5 in", "pipe_bore")


def test_the_first_plan_is_a_no_go_and_a_longer_stiff_end_settles_it():
    assert [each.topic for each in yard_plan().findings if each.level == "no-go"] == ["nozzle"]
    assert {each.topic for each in yard_plan(stiff=si("6 in", "pipe_bore"), leader="light").findings} == {
        "suction",
        "reach",
    }
    assert yard_plan(stiff=STIFF).verdict == "caution"


def test_the_light_leader_pulls_less_and_comes_farther():
    before, after = yard_plan(stiff=STIFF), yard_plan(stiff=STIFF, leader="light")
    assert after.point.reaction < before.point.reaction
    assert 0.9 * before.job.drain.length < before.reach.distance < before.job.drain.length
    assert yard_plan(stiff=STIFF, braid="two-wire steel braid").reach.distance < 0.45 * before.job.drain.length
    assert after.reach.whole_run
    assert after.supply.tank_time > after.job.work_time  # one pass; two take a filling hose
    assert yard_plan(leader="light", passes=2).supply.tank_time < yard_plan(leader="light", passes=2).job.work_time


def test_the_old_leader_is_within_its_pressure_until_a_nozzle_plugs_or_the_water_is_stopped_at_once():
    plan = yard_plan(stiff=STIFF, leader="old")
    assert not plan.point.over_pressure[-1].any()
    assert [each.topic for each in plan.findings if each.level == "no-go"] == ["hose pressure", "surge"]


def test_reach_is_least_sure_and_the_scale_helps_most():
    numbers = banded_numbers(yard_plan(stiff=STIFF, braid=UNWEIGHED))
    assert numbers[0].name == "reach"
    assert bank.prediction("11-widest-band").right() == "reach"
    assert bank.prediction("11-best-check").right() == "weigh"
    assert bank.prediction("11-light-leader").right() == "less-farther"


def test_width_is_top_less_bottom_over_the_plans_figure():
    for each in banded_numbers(yard_plan()):
        assert each.width == pytest.approx((each.high - each.low) / each.value)
        assert each.low < each.high


def test_numbers_without_limit_and_nothings_are_left_out():
    names = {each.name for each in banded_numbers(yard_plan(refill=si("10 gpm", "flow"), stiff=STIFF))}
    assert "tank_time" not in names
    assert "gauge" in names


def test_rig_and_job_are_made_of_what_is_asked_for():
    assert yard_rig("yard_cart", leader="thin").hoses[-1] is LEADERS["thin"]
    assert len(yard_rig().hoses) == len(demo_rig("yard_trailer").hoses)
    assert yard_rig(braid=UNWEIGHED).hoses[0].mass_per_metre is None
    light, heavy = (yard_rig(braid=braid).hoses[0].mass_per_metre for braid in ("fiber braid", "two-wire steel braid"))
    assert light == pytest.approx(BRAIDS["fiber braid"] * heavy)
    assert yard_rig().hoses[0].mass_per_metre == pytest.approx(light, rel=0.02)
    assert len(yard_job().hose_stock) == len(LEADERS)
    assert yard_job(turn=0.0).drain.bends == ()
    assert yard_job(run=10.0).drain.bends[0].at == 5.0
