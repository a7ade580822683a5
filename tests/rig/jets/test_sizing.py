"""Jet sizing against trying every set one by one, against geometry, and on random rigs."""

from itertools import combinations, product

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, example, given, settings
from hypothesis import strategies as st

from jetlib import (
    BurstDisc,
    Engine,
    Hose,
    Jet,
    JetlibError,
    Nozzle,
    Pump,
    Rig,
    Unloader,
    change_by_one_drill,
    matched_jets,
    operating_point,
    size_jets,
    tables,
)
from jetlib.rig.jets.drill_box import DrillBox, balanced, box_of, number_of_sizes
from jetlib.rig.jets.sizing import WIDEST
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs

GPM, PSI, FOOT = 6.30902e-5, 6894.757, 0.3048
SMALL_BOX = ["#61", "#59", "1/16", "#52", "1.2 mm"]


@st.composite
def sound_rigs(draw):
    """A rig whose line can be matched: pump, unloader, one or two hoses, some with engine, slip or leak."""
    rig = Rig(
        pump=Pump(draw(st.floats(1.5, 40)) * GPM, volumetric_efficiency=draw(st.sampled_from([1.0, 0.95, 0.8]))),
        valve=Unloader(
            draw(st.floats(1000, 5000)) * PSI,
            rise=draw(st.sampled_from([0.0, 0.03, 0.08, 0.3])),
            seat_leak=draw(st.sampled_from([0.0, 4e-4])),
        ),
        hoses=[
            Hose(draw(st.sampled_from([0.0066, 0.0097, 0.0129, 0.0192])), draw(st.just(0.0) | st.floats(0.1, 120)))
            for _ in range(draw(st.integers(0, 2)))
        ],
        engine=draw(st.sampled_from([None, Engine("20 kW", kind="electric")])),
        nozzle=Nozzle(
            [
                Jet(1e-3, 3, np.radians(draw(st.floats(0, 60))), draw(st.floats(0.6, 0.95)), 0.97),
                Jet(1e-3, 1, np.pi, draw(st.floats(0.6, 0.95)), 0.97),
            ]
        ),
        water_temperature=draw(st.floats(275, 330)),
        lift=draw(st.sampled_from([0.0, 5.0, -10.0])),
    )
    assume(matched_jets(rig).possible)
    return rig


ON_RIGS = settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])


# --- the sets of a box ------------------------------------------------------------------------------


def can_balance(holes, of_one_size):
    """By trying: whether some of the corners of a regular polygon have their middle at its middle."""
    corners = np.exp(2j * np.pi * np.arange(holes) / holes)
    return any(abs(sum(some)) < 1e-9 for some in combinations(corners, of_one_size))


@pytest.mark.parametrize("holes", range(2, 13))
def test_balance_is_that_of_the_regular_polygon(holes):
    for of_one_size in range(1, holes):
        assert balanced(holes, of_one_size) == can_balance(holes, of_one_size)


def every_set(drills, rear_holes, front_holes, most_sizes):
    """All sets, written out: pairs of a tuple of (end, count, drill) groups and the bores used."""
    rears = []
    for holes in rear_holes:
        rears += [[("rear", holes, drill)] for drill in drills] if holes else [[]]
        for small, large in combinations(sorted(drills, key=lambda row: row.diameter), 2):
            for second in range(1, holes):
                if can_balance(holes, second):
                    rears.append([("rear", holes - second, small), ("rear", second, large)])
    fronts = []
    for holes in front_holes:
        fronts += [[("front", holes, drill)] for drill in drills] if holes else [[]]
    for rear, front in product(rears, fronts):
        groups = tuple(rear + front)
        if groups and len({drill.diameter for _, _, drill in groups}) <= most_sizes:
            yield groups


@pytest.mark.parametrize("most_sizes", [1, 2, 3])
@pytest.mark.parametrize("rear_holes", [[3], [0, 1, 4], [2, 3, 5, 6]])
@pytest.mark.parametrize("front_holes", [[0], [1], [0, 1, 2]])
def test_box_holds_every_set_once(most_sizes, rear_holes, front_holes):
    drills = box_of(SMALL_BOX)
    box = DrillBox(drills, rear_holes, front_holes, most_sizes, 0.7, 0.8)
    found = box.between(0.0, np.inf)
    wanted = list(every_set(drills, rear_holes, front_holes, most_sizes))
    assert box.count == found.shape[-1] == len(wanted)
    assert number_of_sizes(found[1]).max() <= most_sizes
    listed = set()
    for counts, sizes in found.T.swapaxes(1, 2):
        groups = zip(("rear", "rear", "front"), counts, sizes, strict=True)
        listed.add(tuple((end, int(count), drills[size]) for end, count, size in groups if count))
    assert listed == set(wanted)
    low, high = box.areas

    def area(groups):
        return sum((0.7 if end == "rear" else 0.8) * n * np.pi / 4 * drill.diameter**2 for end, n, drill in groups)

    areas = [area(groups) for groups in wanted]
    assert (low, high) == (pytest.approx(min(areas)), pytest.approx(max(areas)))
    middle = float(np.median(areas)) * (1 + 1e-12)
    below, above = box.between(0.0, middle).shape[-1], box.between(middle, np.inf).shape[-1]
    assert below == sum(each < middle for each in areas)
    assert below + above == len(areas)


def test_box_of_drills():
    usual = box_of()
    assert (usual[0].label, usual[-1].label, len(usual)) == ("#80", "#40", 41)
    assert [row.label for row in box_of(["#54", "1/16", "#54", "54"])] == ["#54", "1/16 in"]
    # 1/8 in and 3.175 mm would be one hole; #30 is 0.1285 in and is not. Rows of one diameter count once.
    same = [row for row in tables.drills() if abs(row.diameter - 1.5875e-3) < 1e-9]
    assert len(box_of(same)) == 1
    assert box_of("#54") == box_of([tables.drill("#54")])


# --- against trying every set -----------------------------------------------------------------------


def tried_one_by_one(rig, groups, wear_weight=0.1):
    """(score, pull, matched-area share) of one set from one scalar operating point."""
    like = {"rear": rig.nozzle.jets[0], "front": rig.nozzle.jets[1]}
    jets = [like[end].replace(bore=drill.diameter, count=count) for end, count, drill in groups]
    fitted = rig.replace(nozzle=Nozzle(jets))
    point = operating_point(fitted)
    bores = [drill.diameter for _, _, drill in groups]
    score = point.bypass_flow / point.pump_flow + max(1.0 - point.gauge / rig.valve.setting, 0.0)
    share = fitted.nozzle.effective_area / matched_jets(rig).effective_area
    return score + wear_weight * (1.0 - min(bores) / max(bores)), point.reaction, share


@settings(max_examples=10, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
@given(rig=sound_rigs(), most_sizes=st.integers(1, 3), keep=st.sampled_from([None, 0.0, 15.0, 60.0]))
def test_ranking_is_that_of_trying_every_set(rig, most_sizes, keep):
    # The drills are put where the match is, so that there is something to rank.
    middle = np.sqrt(matched_jets(rig).effective_area / (4 * 0.75 * np.pi / 4))
    assume(0.4e-3 < middle < 9e-3)
    drills = sorted(tables.drills("metric"), key=lambda row: abs(row.diameter / middle - 1.0))[:4]
    counts = {"rear_holes": range(3, 5), "front_holes": range(0, 2), "most_sizes": most_sizes}
    wanted = []
    for groups in every_set(drills, *counts.values()):
        score, pull, share = tried_one_by_one(rig, groups)
        if 1 / WIDEST <= share < WIDEST and (pull >= keep if keep is not None else pull > 0):
            wanted.append((score, {(end, n, drill.diameter) for end, n, drill in groups}))
    wanted.sort(key=lambda each: each[0])
    found = size_jets(rig, drills=drills, keep_pull=keep, top=12, **counts)
    # The solver promises flows to 1e-9; scores are differences of such flows.
    assert [one.score for one in found] == pytest.approx([score for score, _ in wanted[:12]], abs=1e-7)
    for one in found:
        groups = {(group.end, group.count, group.drill.diameter) for group in one.groups}
        assert any(groups == other and abs(score - one.score) < 1e-7 for score, other in wanted)
    assert len({one.label for one in found}) == len(found)


@pytest.mark.parametrize("wear_weight", [0.0, 0.1, 1.0])
@pytest.mark.parametrize("name", ["yard_trailer", "yard_truck"])
def test_nothing_better_is_left_out(name, wear_weight):
    # All sets of the usual box in the window, solved in one go: stopping early may lose none of the best.
    rig = demo_rig(name)
    rear, front = rig.nozzle.jets
    box = DrillBox(box_of(), range(3, 9), [0, 1, 2], 2, rear.discharge_coefficient, front.discharge_coefficient)
    area = matched_jets(rig).effective_area
    found = box.between(area / WIDEST, area * WIDEST)
    counts, sizes = found
    bores = box.bores[sizes]
    jets = [jet.replace(bore=bore, count=n) for jet, bore, n in zip((rear, rear, front), bores, counts, strict=True)]
    point = operating_point(rig.replace(nozzle=rig.nozzle.replace(jets=jets)))
    score = point.bypass_flow / point.pump_flow + np.maximum(1.0 - point.gauge / rig.unloader.setting, 0.0)
    score = score + wear_weight * (1.0 - bores.min(axis=0) / bores.max(axis=0))
    score = np.sort(score[(point.reaction >= 10.0) & ~point.disc_open])
    best = size_jets(rig, wear_weight=wear_weight, keep_pull=10.0, top=40)
    assert [one.score for one in best] == pytest.approx(score[:40], abs=1e-7)
    assert best.considered == box.count
    assert best.solved <= found.shape[-1]


@ON_RIGS
@given(rig=sound_rigs())
def test_score_rises_away_from_the_matched_area(rig):
    # what lets the search stop: flow lost and pressure short, least at the match
    area = matched_jets(rig).effective_area
    shares = np.geomspace(1 / WIDEST, WIDEST, 81)
    bore = np.sqrt(area * shares / (10 * 0.75 * np.pi / 4))
    assume(bore.min() > 1e-4 and bore.max() < 0.02)
    point = operating_point(rig.replace(nozzle=Nozzle(Jet(bore, 10, discharge_coefficient=0.75))))
    lost = point.bypass_flow / point.pump_flow + np.maximum(1.0 - point.gauge / rig.valve.setting, 0.0)
    assert np.all(np.diff(lost[:41]) <= 1e-9)
    assert np.all(np.diff(lost[40:]) >= -1e-9)
    assert lost[40] == pytest.approx(0.0, abs=1e-8)


# --- what every set listed must be ------------------------------------------------------------------


@ON_RIGS
@given(rig=sound_rigs(), keep=st.sampled_from([None, 5.0, 40.0, 200.0]))
def test_listed_sets(rig, keep):
    found = size_jets(rig, keep_pull=keep)
    area, setting = found.matched.effective_area, rig.valve.setting
    assert found.advice
    for one in found:
        point = operating_point(one.rig)
        assert one.pull == pytest.approx(point.reaction, rel=1e-7, abs=1e-7)
        assert one.pull >= (0.0 if keep is None else keep)
        assert one.gauge == pytest.approx(point.gauge, rel=1e-8)
        assert one.nozzle_flow == pytest.approx(point.nozzle_flow, rel=1e-8)
        assert one.bypass_flow == pytest.approx(point.bypass_flow, rel=1e-6, abs=1e-8 * point.pump_flow)
        assert one.nozzle_pressure == pytest.approx(point.nozzle_pressure, rel=1e-7)
        assert one.share == pytest.approx(one.nozzle.effective_area / area, rel=1e-12)
        if one.share < 1 - 1e-6:  # smaller than the match: the valve is open
            assert one.bypass_flow > 0
            assert one.gauge >= setting * (1 - 1e-9)
            assert one.bypass_throttle is not None
        if one.share > 1 + 1e-6:
            assert one.bypass_flow == 0
            assert one.gauge < setting
            assert one.bypass_throttle is None
    assert np.all(np.diff([one.score for one in found]) > -2e-7)  # scores equal to 7 places count as equal


@ON_RIGS
@given(rig=sound_rigs(), holes=st.integers(3, 8))
def test_best_set_is_within_a_drill_step_of_the_setting(rig, holes):
    found = size_jets(rig, rear_holes=holes, front_holes=0, most_sizes=1)
    assume(len(found))
    best, box = found[0], box_of()
    place = box.index(best.groups[0].drill)
    assume(0 < place < len(box) - 1)

    def gauge(drill):
        jet = best.nozzle.jets[0].replace(bore=drill.diameter)
        return operating_point(best.rig.replace(nozzle=Nozzle(jet))).gauge

    if best.share < 1:  # the next drill up is past the match, so the setting lies between the two
        assert gauge(box[place + 1]) <= rig.valve.setting * (1 + 1e-9)
    else:
        assert gauge(box[place - 1]) >= rig.valve.setting * (1 - 1e-9)


@ON_RIGS
@given(rig=sound_rigs(), data=st.data())
def test_ranking_is_stable(rig, data):
    names = [f"#{number}" for number in range(45, 76)]
    first = [one.label for one in size_jets(rig, drills=names, rear_holes=[3, 4, 6], front_holes=[0, 1])]
    shuffled = data.draw(st.permutations(names)) + names[:3]
    again = size_jets(rig, drills=shuffled, rear_holes=[6, 3, 4, 4], front_holes=[1, 0])
    assert [one.label for one in again] == first
    few = size_jets(rig, drills=names, rear_holes=[3, 4, 6], front_holes=[0, 1], top=3)
    assert [one.label for one in few] == first[:3]


@ON_RIGS
@given(rig=sound_rigs())
def test_more_weight_on_wear_gives_likelier_holes(rig):
    even = size_jets(rig, wear_weight=1.0)
    loose = size_jets(rig, wear_weight=0.0)
    assume(len(even) and len(loose))
    assert even[0].unevenness <= loose[0].unevenness + 1e-9
    assert loose[0].score <= loose[0].lost + loose[0].short + 1e-12


def test_a_pump_with_next_to_nothing_left_asks_for_jets_finer_than_any_and_gets_an_answer():
    jets = [Jet("1 mm", count=3, discharge_coefficient=0.75), Jet("1 mm", angle=np.pi, discharge_coefficient=0.75)]
    rig = Rig(
        pump=Pump(
            0.0024605177999999996, rated_speed=151.84364492350667, idle_speed=60.73745796940267,
            volumetric_efficiency=0.2, rated_pressure=0.8 * 1.002 * 26503445.908,
        ),
        valve=Unloader(26503445.908, rise=0.0),
        nozzle=Nozzle(jets),
        water_temperature=275.0,
    )  # fmt: skip
    # the area that matches is that of ten holes of 0.1 mm or so, and half of it is smaller than any jet may be
    assert matched_jets(rig).effective_area < 1e-7
    found = size_jets(rig)
    assert len(found) == 0 and found.advice


def test_own_jets_are_respected():
    rig = demo_rig("yard_trailer")
    one = next(one for one in size_jets(rig, front_holes=1, most_sizes=2, top=50) if len(one.groups) == 2)
    rear, front = one.nozzle.jets
    assert (rear.angle, front.angle) == (pytest.approx(np.radians(30)), pytest.approx(np.pi))
    assert (rear.discharge_coefficient, front.velocity_coefficient) == (0.72, 0.97)
    other = size_jets(rig, rear_angle="15 deg", discharge_coefficient=0.9)[0].nozzle.jets[0]
    assert (other.angle, other.discharge_coefficient) == (pytest.approx(np.radians(15)), 0.9)


def test_a_rig_without_jets_can_be_sized():
    rig = demo_rig("yard_trailer").replace(nozzle=Nozzle(), outlet_shut=True)
    found = size_jets(rig)
    assert found[0].rig.nozzle.effective_area == pytest.approx(found.matched.effective_area, rel=0.1)
    assert operating_point(found[0].rig).nozzle_flow > 0


def test_front_holes_alone_are_listed_and_warned_of():
    found = size_jets(demo_rig("yard_trailer"), rear_holes=0, front_holes=range(1, 9))
    assert found[0].pull < 0
    assert any("pushes the nozzle back" in each for each in found[0].cautions)


@pytest.mark.parametrize("name", demo_rigs())
def test_yard_rigs_get_a_set(name):
    found = size_jets(demo_rig(name))
    assert len(found) == 10
    assert found[0].lost + found[0].short < 0.05
    assert found[0].label in found.advice
    assert f"{found.considered:,}" in found.advice
    assert any("manual" in each for each in found.cautions)
    band = found[0].band(samples=200)
    assert band.low("gauge")[0] < found[0].gauge < band.high("gauge")[0] * 1.05


def test_throttle_at_which_bypass_begins():
    one = next(one for one in size_jets(demo_rig("yard_trailer"), drills=["#60", "#66"]) if one.share < 0.98)
    begins = one.bypass_throttle
    assert operating_point(one.rig, begins - 1e-4).bypass_flow == 0
    assert operating_point(one.rig, begins + 1e-4).bypass_flow > 0


# --- when nothing matches, and what is refused ------------------------------------------------------


def trailer(**changes):
    return demo_rig("yard_trailer").replace(**changes)


def test_line_alone_over_the_setting_says_what_to_change():
    rig = trailer(hoses=[Hose("1/4 in", "300 ft")])
    found = size_jets(rig)
    assert len(found) == 0
    assert found.advice.startswith("No jets can match: this line alone needs")
    assert "a 25 % larger bore there saves" in found.advice


def test_boxes_that_do_not_reach():
    assert "add smaller drills or allow fewer holes" in size_jets(trailer(), drills=["1/4"], rear_holes=4).advice
    assert "add larger drills or allow more holes" in size_jets(trailer(), drills=["#80"], rear_holes=4).advice
    both = size_jets(trailer(), drills=["#80", "1/4"], rear_holes=[3], front_holes=0, most_sizes=1)
    assert "comes near the matched area" in both.advice


def test_pull_that_no_set_keeps():
    found = size_jets(trailer(), keep_pull="300 lbf")
    assert len(found) == 0
    assert found.solved > 1000
    assert found.advice.startswith("No set keeps a pull of 300 lbf")
    strong = size_jets(trailer(), keep_pull="14 lbf")
    assert len(strong) and min(one.pull for one in strong) >= 14 * 4.4482


def test_sets_that_burst_the_disc_are_not_listed():
    rig = trailer(valve=[Unloader("2800 psi"), BurstDisc("2600 psi")])
    for one in size_jets(rig):
        assert not operating_point(one.rig).disc_open
        assert one.gauge < 2600 * PSI


def test_hose_over_its_working_pressure_is_loud():
    weak = trailer(hoses=[Hose("1/2 in", "250 ft", working_pressure="150 bar")])
    found = size_jets(weak)
    assert any("OVER ITS WORKING PRESSURE" in each for each in found.cautions)
    assert any("OVER ITS WORKING PRESSURE" in each for each in found[0].cautions)


@pytest.mark.parametrize(
    ("keywords", "says"),
    [
        ({"drills": ["#999"]}, "no drill"),
        ({"drills": []}, "drills is empty"),
        ({"drills": 5}, "drills is 5"),
        ({"rear_holes": -1}, "rear_holes is -1"),
        ({"rear_holes": [2.5]}, "rear_holes"),
        ({"rear_holes": range(100)}, "rear_holes"),
        ({"rear_holes": 0, "front_holes": 0}, "leave no hole"),
        ({"most_sizes": 0}, "most_sizes"),
        ({"top": 0}, "top is 0"),
        ({"keep_pull": "20 psi"}, "keep_pull"),
        ({"rear_angle": "120 deg"}, "rear_angle"),
        ({"front_angle": "20 deg"}, "front_angle"),
        ({"drills": tables.drills(), "rear_holes": range(25), "most_sizes": 3}, "can be tried"),
    ],
)
def test_wrong_questions_are_refused(keywords, says):
    with pytest.raises(JetlibError, match=says):
        size_jets(trailer(), **keywords)


def test_rigs_that_cannot_be_sized_are_refused():
    with pytest.raises(JetlibError, match="unloader"):
        size_jets(trailer(valve=BurstDisc("3000 psi")))
    with pytest.raises(JetlibError, match="arrays"):
        size_jets(trailer(lift=np.array([0.0, 1.0])))
    with pytest.raises(JetlibError, match="arrays"):
        size_jets(trailer(nozzle=Nozzle(Jet(np.array([1e-3, 2e-3]), 4))))


# --- one drill more or less -------------------------------------------------------------------------


@ON_RIGS
@given(rig=sound_rigs(), throttle=st.sampled_from([0.0, 0.6, 1.0]), bore=st.floats(0.5e-3, 3e-3))
@example(rig=demo_rig("yard_truck"), throttle=1.0, bore=1.5875e-3)
def test_change_by_one_drill_is_the_rig_with_that_drill(rig, throttle, bore):
    rig = rig.replace(nozzle=Nozzle([jet.replace(bore=bore) for jet in rig.nozzle.jets]))
    now = operating_point(rig, throttle)
    changes = change_by_one_drill(rig, throttle=throttle)
    assert [(each.group, each.step) for each in changes] == [(1, 1), (1, -1), (2, 1), (2, -1)]
    for each in changes:
        between = sorted((bore, each.drill.diameter))
        assert not [row for row in tables.drills("number") if between[0] < row.diameter < between[1]]  # it is the next
        assert (each.drill.diameter > bore) == (each.step > 0)
        jets = list(rig.nozzle.jets)
        jets[each.group - 1] = jets[each.group - 1].replace(bore=each.drill.diameter)
        then = operating_point(rig.replace(nozzle=Nozzle(jets)), throttle)
        assert each.rig.nozzle == Nozzle(jets)
        for name, value in (("gauge", then.gauge), ("nozzle_flow", then.nozzle_flow), ("pull", then.reaction)):
            assert getattr(each, name) == pytest.approx(value, rel=1e-7, abs=1e-7)
        assert each.gauge_change == pytest.approx(then.gauge - now.gauge, abs=1e-7 * abs(now.gauge))
        assert each.bypass_flow_change == pytest.approx(then.bypass_flow - now.bypass_flow, abs=1e-8 * now.pump_flow)
        assert each.step * each.gauge_change <= 1e-7 * abs(now.gauge)  # larger holes never raise the gauge
        assert each.step * each.nozzle_flow_change >= -1e-8 * now.pump_flow


def test_change_by_one_drill_in_words():
    rear, down, *_ = change_by_one_drill(demo_rig("yard_trailer"))
    assert rear.label == "rear: #59 up to #58"
    assert "gauge down" in rear.sentence
    assert any("never smaller" in each for each in down.cautions)
    worn = demo_rig("yard_trailer").replace(nozzle=Nozzle(Jet("1.06 mm", 4)))
    assert change_by_one_drill(worn)[0].label.startswith("group 1: 0.0417 in")


def test_change_by_one_drill_at_the_end_of_the_box_and_of_shut_groups():
    rig = demo_rig("yard_trailer")
    jets = rig.nozzle.jets
    some = change_by_one_drill(rig.replace(nozzle=Nozzle([jets[0], jets[1].replace(count=0)])), drills=["#59", "1/16"])
    assert [(each.group, each.step, each.drill.label) for each in some] == [(1, 1, "1/16 in")]
    with pytest.raises(JetlibError, match="no open jets"):
        change_by_one_drill(rig.replace(nozzle=Nozzle()))
    with pytest.raises(JetlibError, match="arrays"):
        change_by_one_drill(rig.replace(lift=np.zeros(5)))
    with pytest.raises(JetlibError, match="throttle"):
        change_by_one_drill(rig, throttle=[0.0, 1.0])


@pytest.mark.parametrize(("aim", "of"), [
    ("flow", lambda point: point.nozzle_flow), ("power", lambda point: point.power_shares["jets"]),
    ("pull", lambda point: point.reaction),
])  # fmt: skip
def test_the_best_for_an_aim_is_the_best_of_all(aim, of):
    # every set one by one, with nothing but the engine
    rig = demo_rig("yard_trailer")
    rig = rig.replace(hoses=[*rig.hoses, Hose("3/8 in", "200 ft")])
    drills = [f"#{number}" for number in range(50, 66)]
    match = matched_jets(rig).effective_area
    every = [rig.with_jets(rig.nozzle.jets[0].replace(bore=name, count=holes)) for name in drills for holes in (4, 5)]
    every = [of(operating_point(each)) for each in every if each.nozzle.effective_area < WIDEST * match]
    found = size_jets(rig, drills=drills, rear_holes=[4, 5], front_holes=[0], most_sizes=1, aim=aim, top=3)
    assert of(found[0].point) == pytest.approx(max(every), rel=0.002)
    assert [of(each.point) for each in found] == sorted((of(each.point) for each in found), reverse=True)


def test_the_next_drill_is_counted_from_the_hole_itself():
    rig = demo_rig("yard_trailer")
    rig = rig.with_jets(rig.nozzle.jets[0].replace(bore="0.057 in"))
    assert [each.drill.label for each in change_by_one_drill(rig)] == ["#53", "#54"]  # between the two
    own = change_by_one_drill(rig, drills=["#60", "1.2 mm", "1/16"])
    assert [each.drill.label for each in own] == ["1/16 in", "1.2 mm"]
