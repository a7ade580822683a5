"""Hose choice against rigs put together by hand, against geometry and mechanics, and on random rigs."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from jetlib import (
    BurstDisc,
    Hose,
    Jet,
    JetlibError,
    Nozzle,
    PipeRun,
    Pump,
    Rig,
    Unloader,
    hose_choices,
    operating_point,
    step_downs,
    tables,
)
from jetlib.physics import water
from jetlib.rig.hoses.fit import RANKS
from jetlib.rig.hoses.surge import highest_pressure
from jetlib.rig.hoses.weight import bend_room, drag, hose_mass, reach, water_mass, weight_per_metre
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs

GPM, PSI, FOOT, INCH = 6.30902e-5, 6894.757, 0.3048, 0.0254
GRAVITY = 9.80665
FEW = [tables.hose(4), tables.hose(8), tables.hose(8, "100R7"), tables.hose(12)]


def rig_of(*hoses, **changes):
    parts = {
        "pump": Pump("9 gpm", volumetric_efficiency=0.95),
        "valve": Unloader("2700 psi"),
        "nozzle": Nozzle([Jet("#59", 4, "30 deg", 0.72), Jet("#60", 1, "180 deg", 0.72)]),
    }
    return Rig(hoses=hoses or [Hose("1/2 in", "200 ft"), Hose("3/8 in", "60 ft")], **parts | changes)


def test_a_hose_needs_setting_rise_reserve_and_the_surge_of_the_line_up_to_its_end():
    # Joukowsky's rho a v, in a hose too short for that Michaud's 2 rho L v / t (Wylie and Streeter 1993, from memory):
    # either is 2 rho / t times velocity x length of 25 m, from which a wave of 1000 m/s comes back in 50 ms. Of the
    # fastest 25 m here, centimetre by centimetre.
    rig = rig_of()
    plugged = operating_point(rig.replace(outlet_shut=True)).line_pressure

    def surge(hoses, flow):
        speeds = [flow / (math.pi / 4 * hose.bore**2) for hose in hoses]
        on_the_way = np.cumsum(np.repeat(speeds, [round(hose.length * 100) for hose in hoses]) / 100)
        return 2 * 999.1 / 0.05 * np.max(on_the_way - np.concatenate([np.zeros(2500), on_the_way])[: len(on_the_way)])

    for each in hose_choices(rig, 2, reserve=0.2):
        needed = 1.2 * plugged + surge(each.rig.hoses, each.nozzle_flow)
        assert each.pressure_needed == pytest.approx(needed, rel=1e-3)
        assert each.pressure_enough == (each.size.working_pressure >= each.pressure_needed)
    for step in step_downs(rig, total_length="80 m", small_length="20 m", large=[tables.hose(8)], small=FEW[:1]):
        needed = 1.1 * plugged + surge(step.rig.hoses, step.nozzle_flow)
        assert step.pressure_needed == pytest.approx(needed, rel=1e-3)


# --- weight, drag, bends ----------------------------------------------------------------------------


def test_weight_of_hose_and_water():
    # A 1/2 in bore holds 0.0102 US gal a foot, 0.0849 lb (0.3405 d^2 lb/ft of water at 62.4 lb/ft3, from memory)
    assert water_mass(0.5 * INCH, density=999.5) * FOOT / 0.45359237 == pytest.approx(0.3405 * 0.25, rel=2e-3)
    dry = weight_per_metre(0.68, 0.0129, density=1000.0)
    wet = weight_per_metre(0.68, 0.0129, density=1000.0, outside_diameter=0.0231)
    assert dry / GRAVITY == pytest.approx(0.68 + 1000 * math.pi / 4 * 0.0129**2)
    assert (dry - wet) / GRAVITY == pytest.approx(1000 * math.pi / 4 * 0.0231**2)  # Archimedes
    assert weight_per_metre(0.05, 0.005, density=1000.0, outside_diameter=0.02) == 0.0  # it floats: no weight, no drag


def test_mass_of_a_hose_without_one_is_that_of_the_usual_hose():
    assert hose_mass(Hose("1/2 in", 10.0)) == tables.hose(8).mass_per_metre
    assert hose_mass(Hose("1/2 in", 10.0, mass_per_metre=0.3)) == 0.3


def test_rope_round_a_post():
    # Euler and Eytelwein: half a turn at a coefficient of 0.3 multiplies the pull by 2.57 (textbook value)
    straight = drag([5.0], [20.0], run=20.0, friction=0.3)
    assert straight == pytest.approx(30.0)
    assert drag([5.0], [20.0], run=20.0, friction=0.3, turned=math.pi) / straight == pytest.approx(2.566, rel=1e-3)


@settings(max_examples=25, deadline=None)
@given(
    weights=st.lists(st.floats(0.5, 20), min_size=2, max_size=2),
    run=st.floats(1, 60),
    corner=st.floats(0.02, 0.98),
    turned=st.floats(0.1, 2.0),
)
def test_drag_is_the_worst_that_a_bend_can_do(weights, run, corner, turned):
    # The pull along the hose summed from the entry to the nozzle by scipy, the bend put somewhere on the way:
    # dT/dx = mu w, and T grows by exp(mu turned) at the bend. Nowhere is it more than `drag`; at the nozzle it is that.
    lengths, friction = [40.0, 20.0], 0.4

    def gained(low, high):  # distances back from the nozzle
        def slope(back):
            return friction * (weights[1] if back < lengths[1] else weights[0])

        joint = [lengths[1]] if low < lengths[1] < high else None
        return quad(slope, low, high, points=joint)[0]

    def summed(bend):
        return gained(bend, run) * math.exp(friction * turned) + gained(0.0, bend)

    found = drag(weights, lengths, run=run, friction=friction, turned=turned)
    assert summed(corner * run) <= found * (1 + 1e-9)
    assert summed(0.0) == pytest.approx(found, rel=1e-9)


@settings(max_examples=100, deadline=None)
@given(
    weights=st.lists(st.floats(0.1, 30), min_size=3, max_size=3),
    lengths=st.lists(st.integers(0, 10_000).map(lambda centimetres: centimetres / 100), min_size=3, max_size=3),
    pull=st.integers(-500, 20_000).map(lambda tenths: tenths / 10),
    turned=st.floats(0, 6),
    friction=st.floats(0.05, 1),
)
def test_reach_undoes_drag(weights, lengths, pull, turned, friction):
    keywords = {"friction": friction, "turned": turned}
    far, whole = reach(pull, weights, lengths, **keywords), sum(lengths)
    assert 0 <= far <= whole + 1e-9
    if pull <= 0:
        assert far == 0 or whole == 0
    elif far < whole - 1e-9:
        assert drag(weights, lengths, run=far, **keywords) == pytest.approx(pull, rel=1e-9)
    else:
        assert drag(weights, lengths, run=whole, **keywords) <= pull * (1 + 1e-9)


def test_hose_behind_one_that_sticks_is_not_pulled_even_where_it_floats():
    # By hand: 10 N drag 4 m of hose that asks for 0.5 x 5 N/m; that the hose behind it floats does not take it on.
    assert reach(10.0, [0.0, 5.0], [30.0, 20.0], friction=0.5) == pytest.approx(4.0)
    assert reach(60.0, [0.0, 5.0], [30.0, 20.0], friction=0.5) == pytest.approx(50.0)


def _outside_corridor(radius, inner, outer, bend):
    """How far (m) the path straight, arc of `radius`, straight leaves the bend's corridor on its inner side.

    The path keeps to the outer side on the legs. The bend's centre is the origin, its bisector the x axis.
    """
    half = bend / 2
    centre = np.array([-(radius - outer) / math.cos(half), 0.0])  # so that the arc touches both outer lines
    angles = np.linspace(-half, half, 2001)
    arc = centre + radius * np.stack([np.cos(angles), np.sin(angles)], axis=-1)
    direction = np.arctan2(arc[:, 1], arc[:, 0])
    # past the bend's sector the corridor is a straight leg: distance from the centre across the leg
    across = np.hypot(*arc.T) * np.cos(np.maximum(np.abs(direction) - half, 0.0))
    assert across.max() <= outer + 1e-9
    return float(inner - across.min())


@settings(max_examples=100, deadline=None)
@given(bore=st.floats(0.03, 0.3), thick=st.floats(0.1, 0.9), bend=st.floats(0.3, 3.0), sweep=st.floats(0.5, 4))
def test_hose_round_a_bend(bore, thick, bend, sweep):
    outside, middle = thick * bore, sweep * bore
    room = float(bend_room(bore, outside, bend=bend, bend_radius=middle))
    play = (bore - outside) / 2
    assert room >= middle + play - 1e-12  # it can always keep to the outer wall
    assert _outside_corridor(room * (1 - 1e-6), middle - play, middle + play, bend) <= 0
    assert _outside_corridor(room * 1.01, middle - play, middle + play, bend) > 0


def test_bend_room_at_its_ends():
    assert bend_room(0.05, 0.06, bend=1.0) == 0.0
    assert bend_room(0.1, 0.02, bend=math.pi) == pytest.approx(0.05 + 0.04)  # half a turn: the outer wall, no more
    # a square corner: the play over 1 - cos 45 degrees, plus half the hose
    assert bend_room(0.1, 0.02, bend=math.pi / 2) == pytest.approx(
        (0.09 - 0.01 * math.sqrt(0.5)) / (1 - math.sqrt(0.5))
    )


# --- a hose in one place ----------------------------------------------------------------------------


def by_hand(rig, at, size, length, old=None):
    """The rig with that hose, written out."""
    roughness = 1.5e-6 if "thermoplastic" in size.construction else 1e-5
    new = Hose(size.bore, length, roughness=roughness, working_pressure=size.working_pressure)
    if old is not None and old.coil_diameter is not None:
        new = new.replace(coil_diameter=old.coil_diameter, coiled_length=old.coiled_length)
    hoses = list(rig.hoses)
    hoses[at : at + (old is not None)] = [new]
    return rig.replace(hoses=hoses)


@settings(max_examples=15, deadline=None)
@given(
    flow=st.floats(2, 25),
    setting=st.floats(1200, 3500),
    lengths=st.lists(st.floats(2, 120), min_size=2, max_size=2),
    section=st.sampled_from([1, 2, "end"]),
    on_reel=st.booleans(),
    throttle=st.sampled_from([0.3, 1.0]),
    run=st.none() | st.floats(1, 100),
    rank_by=st.sampled_from(list(RANKS)),
)
def test_choices_are_the_rigs_put_together_by_hand(flow, setting, lengths, section, on_reel, throttle, run, rank_by):
    reel = {"coil_diameter": 0.5, "coiled_length": 0.4 * lengths[0]} if on_reel else {}
    rig = rig_of(
        Hose(0.0129, lengths[0], **reel),
        Hose(0.0097, lengths[1], mass_per_metre=0.5),
        pump=Pump(flow * GPM),
        valve=Unloader(setting * PSI),
    )
    pipe = PipeRun(run=run, bends=1, friction=0.35)
    keywords = {"length": 10.0} if section == "end" else {}
    found = hose_choices(rig, section, hoses=FEW, pipe=pipe, throttle=throttle, rank_by=rank_by, **keywords)
    assert {each.size for each in found} == set(FEW)
    at = 2 if section == "end" else section - 1
    old = None if section == "end" else rig.hoses[at]
    density = water.density(rig.water_temperature)
    for each in found:
        length = 10.0 if old is None else old.length
        point = operating_point(by_hand(rig, at, each.size, length, old), throttle)
        for name, value in {
            "gauge": point.gauge,
            "nozzle_flow": point.nozzle_flow,
            "hose_loss": point.hose_losses[at],
            "nozzle_pressure": point.nozzle_pressure,
            "pull": point.reaction,
            "pressure_seen": point.hose_pressures[at],
            "jet_power": point.power_shares["jets"],
        }.items():
            assert getattr(each, name) == pytest.approx(value, rel=1e-7), name
        assert each.bypass_flow == pytest.approx(point.bypass_flow, abs=1e-7 * point.pump_flow)
        assert operating_point(each.rig, throttle).gauge == pytest.approx(each.gauge, rel=1e-8)
        # the drag, hose by hose from the nozzle back
        masses = [0.68, 0.5]
        masses[at : at + (old is not None)] = [each.size.mass_per_metre]
        left = sum(h.straight_length for h in each.rig.hoses) if run is None else run
        weight = 0.0
        for hose, mass in zip(reversed(each.rig.hoses), reversed(masses), strict=True):
            inside = min(hose.length, left)
            weight, left = weight + inside * GRAVITY * (mass + density * math.pi / 4 * hose.bore**2), left - inside
        assert each.drag == pytest.approx(0.35 * weight * math.exp(0.35 * math.pi / 2), rel=1e-9)
        assert each.pull_left == pytest.approx(each.pull - each.drag, abs=1e-6)
        assert each.mass_empty == pytest.approx(each.size.mass_per_metre * length)
        assert each.mass_full == pytest.approx(
            (each.size.mass_per_metre + density * math.pi / 4 * each.size.bore**2) * length
        )
    assert [each.usable for each in found] == sorted([each.usable for each in found], reverse=True)
    for one, after in pairwise(found):
        if one.usable == after.usable and (rank_by != "pull_left" or one.pull_left * after.pull_left > 0):
            name = "reach" if rank_by == "pull_left" and one.pull_left < 0 else rank_by
            assert RANKS[name] * (getattr(one, name) - getattr(after, name)) <= 1e-8 * abs(getattr(one, name))
    shuffled = hose_choices(rig, section, hoses=FEW[::-1], pipe=pipe, throttle=throttle, rank_by=rank_by, **keywords)
    assert [each.label for each in shuffled] == [each.label for each in found]


@settings(max_examples=30, deadline=None)
@given(setting=st.floats(800, 6000), reserve=st.floats(0, 1), rise=st.floats(0, 0.3), lift=st.floats(-100, 50))
def test_no_hose_without_the_working_pressure_is_usable(setting, reserve, rise, lift):
    rig = rig_of(valve=Unloader(setting * PSI, rise=rise), lift=lift)
    found = hose_choices(rig, 2, reserve=reserve)
    # Plugged jets send all the flow back: the valve then rises by the whole of its rise, less what the pump slips.
    plugged = operating_point(rig.replace(outlet_shut=True)).line_pressure
    assert setting * PSI <= plugged <= setting * PSI * (1 + max(rise, 1e-4)) * (1 + 1e-9)
    for each in found:
        enough = each.size.working_pressure >= (1 + reserve) * (plugged + max(-lift, 0) * 990 * GRAVITY)
        assert enough or not each.usable
        assert each.pressure_enough == (not any("WORKING PRESSURE NOT ENOUGH" in reason for reason in each.reasons))
        if not each.pressure_enough:
            assert each.cautions[0].startswith("WORKING PRESSURE NOT ENOUGH")
    loud = [each for each in found.cautions if each.startswith("WORKING PRESSURE NOT ENOUGH in ")]
    assert len(loud) == (not all(each.pressure_enough for each in found))
    assert "manual" in found.cautions[-1]


def test_highest_pressure():
    at_setting = highest_pressure(rig_of())
    assert 2700 * PSI < at_setting <= 2700 * PSI * 1.08
    assert highest_pressure(rig_of(valve=[Unloader("2700 psi"), BurstDisc("2500 psi")])) == pytest.approx(2500 * PSI)
    trapping = Unloader("2700 psi", trapping=True)  # the gauge falls, the line stays up
    assert highest_pressure(rig_of(valve=trapping)) >= 2700 * PSI
    assert highest_pressure(rig_of(valve=None)) == math.inf
    # 10 m of water is 98.0 kPa at 15 degC (definition of head)
    assert highest_pressure(rig_of(lift=-10.0)) - at_setting == pytest.approx(98.0e3, rel=1e-3)


def test_without_a_valve_no_hose_is_enough():
    found = hose_choices(rig_of(valve=None), 1)
    assert not found.usable
    assert found.advice.startswith("None of these hoses can be used here: working pressure not enough")
    assert "nothing limits the pressure" in found[0].reasons[0]


@settings(max_examples=20, deadline=None)
@given(pump=st.floats(2, 20), length=st.floats(1, 150))
def test_a_larger_bore_of_one_make_never_delivers_less(pump, length):
    rig = rig_of(Hose(0.0129, length), pump=Pump(pump * GPM))
    same = [row for row in tables.hoses() if (row.standard, row.edition) == ("EN 853 2SN", "2015")]
    found = sorted(hose_choices(rig, 1, hoses=same), key=lambda each: each.size.bore)
    for small, large in pairwise(found):
        assert large.nozzle_flow >= small.nozzle_flow * (1 - 1e-9)
        assert large.gauge <= small.gauge * (1 + 1e-9)


def test_pipe_that_hoses_do_not_go_down():
    pipe = PipeRun("2 in", bends=1)
    for each in hose_choices(rig_of(), 2, pipe=pipe):
        room = float(bend_room(2 * INCH, each.size.outside_diameter_max, bend=math.pi / 2))
        assert each.bend_room == pytest.approx(room)
        assert any("bends are too tight" in reason for reason in each.reasons) == (room < each.size.bend_radius)
    narrow = hose_choices(rig_of(), 2, pipe=PipeRun("0.8 in"))
    assert {each.size.dash for each in narrow if any("too thick" in reason for reason in each.reasons)} >= {8, 12, 16}
    assert all(each.bend_room is None for each in narrow)


def test_flooded_pipe_makes_hose_lighter():
    dry, wet = (hose_choices(rig_of(), 2, hoses=FEW, pipe=PipeRun(flooded=flooded)) for flooded in (False, True))
    drags = [{each.label: each.drag for each in found} for found in (dry, wet)]
    assert all(drags[1][label] < drags[0][label] for label in drags[0])
    size, density = FEW[1], water.density(288.15)
    # both hoses pushed aside what they displace; the first is the usual hose of that bore, 23.1 mm across (EN 853)
    lost = [
        density * math.pi / 4 * 0.0231**2 * 200 * FOOT,
        density * math.pi / 4 * size.outside_diameter_max**2 * 60 * FOOT,
    ]
    assert drags[0][size.label] - drags[1][size.label] == pytest.approx(0.4 * GRAVITY * sum(lost), rel=1e-9)


def test_reel():
    reeled = Hose("1/2 in", "200 ft", coil_diameter="12 in")
    found = hose_choices(rig_of(reeled), 1)
    for each in found:
        tight = any("reel is too tight" in reason for reason in each.reasons)
        assert tight == (each.size.bend_radius > 6 * INCH)
        assert each.rig.hoses[0].coiled_length == each.rig.hoses[0].length
    tiny = hose_choices(rig_of(Hose("1/4 in", "200 ft", coil_diameter="2 in")), 1)
    assert {size.dash for size, _ in tiny.left_out} == {8, 10, 12, 16}  # bores over a fifth of 2 in
    assert len(tiny) + len(tiny.left_out) == len(tables.drain_hoses())
    assert "five bores" in tiny.left_out[0][1]
    shorter = hose_choices(
        rig_of(Hose("1/2 in", "200 ft", coil_diameter="20 in", coiled_length="150 ft")), 1, length="100 ft"
    )
    assert shorter[0].rig.hoses[0].coiled_length == pytest.approx(100 * FOOT)


def test_ends_stay_as_narrow_in_proportion():
    found = hose_choices(rig_of(Hose("12 mm", "50 m", end_bore="9 mm")), 1, hoses=FEW)
    for each in found:
        assert each.rig.hoses[0].end_bore == pytest.approx(0.75 * each.size.bore)
        assert operating_point(each.rig).gauge == pytest.approx(each.gauge, rel=1e-8)


def test_jets_that_do_not_pull_are_named():
    found = hose_choices(rig_of(), 2, hoses=FEW, pipe=PipeRun(run="250 ft", friction=0.6))
    assert all(each.pull_left < 0 for each in found)
    assert [each.reach for each in found if each.usable] == sorted(
        [each.reach for each in found if each.usable], reverse=True
    )
    assert any(each.startswith("THE JETS DO NOT PULL IT") for each in found[0].cautions)
    assert found.present_pull_left < 0


@pytest.mark.parametrize("name", demo_rigs())
def test_yard_rigs(name):
    rig = demo_rig(name)
    found = hose_choices(rig, len(rig.hoses), pipe=PipeRun("4 in", bends=1))
    assert len(found) == len(tables.drain_hoses())
    assert found.usable
    assert found[0].label in found.advice
    assert found.present.gauge == operating_point(rig).gauge


@pytest.mark.parametrize(
    ("arguments", "keywords", "says"),
    [
        ((0,), {}, "section is 0"),
        ((3,), {}, "section is 3"),
        ((True,), {}, "section"),
        (("start",), {}, "section"),
        (("end",), {}, "length is missing"),
        ((1,), {"hoses": []}, "sizes of the table"),
        ((1,), {"hoses": ["-6"]}, "sizes of the table"),
        ((1,), {"rank_by": "colour"}, "rank_by"),
        ((1,), {"pipe": "4 in"}, "pipe is 4 in|pipe is '4 in'"),
        ((1,), {"reserve": 3}, "reserve"),
        ((1,), {"throttle": [0.0, 1.0]}, "throttle"),
    ],
)
def test_wrong_questions_are_refused(arguments, keywords, says):
    with pytest.raises(JetlibError, match=says):
        hose_choices(rig_of(), *arguments, **keywords)


@pytest.mark.parametrize(
    "keywords",
    [
        {"bends": -1},
        {"bends": 1.5},
        {"bends": True},
        {"bend": 0.0},
        {"bore": "4 in", "bend_radius": "1.5 in"},
        {"friction": 2},
        {"run": np.array([1.0, 2.0])},
        {"flooded": "yes"},
    ],
)
def test_wrong_pipes_are_refused(keywords):
    with pytest.raises(JetlibError):
        PipeRun(**keywords)


def test_rigs_of_arrays_are_refused():
    with pytest.raises(JetlibError, match="arrays"):
        hose_choices(rig_of(lift=np.array([0.0, 1.0])), 1)
    with pytest.raises(JetlibError, match="arrays"):
        step_downs(rig_of(lift=np.array([0.0, 1.0])), total_length=50.0, small_length=10.0)


# --- stepping down ----------------------------------------------------------------------------------

LARGE, SMALL = [tables.hose(8), tables.hose(12)], [tables.hose(4), tables.hose(6, "100R8")]


@settings(max_examples=10, deadline=None)
@given(
    total=st.floats(30, 120),
    share=st.floats(0.05, 0.95),
    reeled=st.floats(0, 60) | st.just(0.0),
    rank_by=st.sampled_from(list(RANKS)),
    run=st.none() | st.floats(1, 100),
)
def test_step_downs_are_the_lines_put_together_by_hand(total, share, reeled, rank_by, run):
    reel = {"coil_diameter": 0.6, "coiled_length": reeled} if reeled else {}
    # A setting at which every one is strong enough.
    low = {"valve": Unloader("900 psi"), "nozzle": Nozzle([Jet("#52", 6, "30 deg", 0.72)])}
    rig, shortest, places = rig_of(Hose(0.0129, 100.0, **reel), **low), share * total, 5
    found = step_downs(
        rig,
        total_length=total,
        small_length=shortest,
        large=LARGE,
        small=SMALL,
        pipe=PipeRun(run=run),
        rank_by=rank_by,
        places=places,
        reserve=0.0,
    )
    assert {(each.large, each.small) for each in found} == {(one, other) for one in LARGE for other in SMALL}
    for each in found:
        best = None
        for place, small_length in enumerate(np.linspace(shortest, total, places)):
            hoses, coiled = [], min(reeled, total)
            for size, length in ((each.large, total - small_length), (each.small, small_length)):
                taken = min(coiled, length)
                coiled -= taken
                roughness = 1.5e-6 if "thermoplastic" in size.construction else 1e-5
                on_reel = {"coil_diameter": 0.6, "coiled_length": taken} if reeled else {}
                hoses.append(
                    Hose(size.bore, length, roughness=roughness, mass_per_metre=size.mass_per_metre, **on_reel)
                )
            point = operating_point(rig.replace(hoses=hoses))
            assert each.flow_at[place] == pytest.approx(point.nozzle_flow, rel=1e-8)
            weights = [weight_per_metre(h.mass_per_metre, h.bore, density=water.density(288.15)) for h in hoses]
            lengths = [hose.length for hose in hoses]
            dragged = drag(weights, lengths, run=total - min(reeled, total) if run is None else run)
            assert each.pull_left_at[place] == pytest.approx(point.reaction - dragged, abs=1e-5)
            readings = {
                "nozzle_flow": point.nozzle_flow,
                "pull_left": point.reaction - dragged,
                "reach": float(reach(point.reaction, weights, lengths)),
                "jet_power": point.power_shares["jets"],
                "hose_loss": point.hose_loss,
                "mass_full": sum(w * length for w, length in zip(weights, lengths, strict=True)) / GRAVITY,
            }
            key = RANKS[rank_by] * readings[rank_by]
            if rank_by == "pull_left" and key > 0:
                key = 1e4 - readings["reach"]
            if best is None or key < best[0] - 1e-9 * abs(best[0]):
                best = key, readings
        assert each.usable
        name = "reach" if rank_by == "pull_left" and best[0] > 0 else rank_by
        # of places equal in the last digits any may be named, so the reading is compared, not the place
        assert getattr(each, name) == pytest.approx(best[1][name], rel=1e-6, abs=1e-4)
        assert each.large_length + each.small_length == pytest.approx(total)
        assert shortest - 1e-9 <= each.small_length <= total + 1e-9
        again = operating_point(each.rig)
        assert again.nozzle_flow == pytest.approx(each.nozzle_flow, rel=1e-8)
        # Small hose only ever costs flow, so by flow the shortest allowed is the best.
        assert np.all(np.diff(each.flow_at) <= 1e-9 * each.flow_at[0])
        assert each.flow_gained >= -1e-12
    if rank_by in ("nozzle_flow", "jet_power", "hose_loss"):
        assert all(each.small_length == pytest.approx(shortest) for each in found if each.flow_gained > 1e-9)


def test_only_the_small_hose_has_to_pass_the_bends():
    found = step_downs(
        rig_of(), total_length="250 ft", small_length="50 ft", large=LARGE, small=SMALL, pipe=PipeRun("2 in", bends=1)
    )
    assert found[0].small == SMALL[0]
    assert found[0].usable
    assert found[0].large_length > 0
    others = [each for each in found if each.small == SMALL[1]]
    assert all(any("bends are too tight" in reason for reason in each.reasons) for each in others)
    assert [each.usable for each in found] == sorted([each.usable for each in found], reverse=True)
    assert found.advice == found[0].sentence
    assert "more than the small hose all the way" in found.advice


def test_step_down_pressure_is_loud():
    found = step_downs(
        rig_of(valve=Unloader("3500 psi")),
        total_length="250 ft",
        small_length="50 ft",
        large=[tables.hose(8, "1SN")],
        small=[tables.hose(4)],
    )
    assert found.cautions[0].startswith("WORKING PRESSURE NOT ENOUGH in 1 of 2")
    # the weak hose is left out of the line where that is the only way: small hose throughout
    assert found[0].usable
    assert found[0].large_length == 0
    none = step_downs(
        rig_of(valve=Unloader("6500 psi")),
        total_length=80.0,
        small_length=20.0,
        large=[tables.hose(8)],
        small=[tables.hose(4)],
    )
    assert not none[0].usable
    assert "WORKING PRESSURE NOT ENOUGH" in none[0].cautions[0]
    assert none.advice.startswith("No pair")


def test_all_small_is_allowed_when_the_whole_line_must_be():
    found = step_downs(rig_of(), total_length=50.0, small_length=50.0, large=LARGE, small=SMALL)
    assert all(each.large_length == 0 and len(each.rig.hoses) == 1 for each in found)


def test_step_downs_of_the_whole_table():
    found = step_downs(demo_rig("yard_trailer"), total_length="250 ft", small_length="50 ft", top=5)
    assert len(found) == 5
    assert all(each.usable for each in found)
    assert all(each.small.bore < each.large.bore for each in found)


@pytest.mark.parametrize(
    ("keywords", "says"),
    [
        ({"small_length": "300 ft"}, "small_length"),
        ({"small_length": 0.0}, "small_length"),
        ({"large": SMALL[:1], "small": LARGE}, "pairs of hoses"),
        ({"places": 1001, "small_length": 1.0}, "pairs of hoses"),
        ({"total_length": "250 psi"}, "total"),
        ({"rank_by": "beauty"}, "rank_by"),
        ({"places": 1}, "places is 1"),
        ({"top": "five"}, "top is"),
    ],
)
def test_wrong_step_downs_are_refused(keywords, says):
    with pytest.raises(JetlibError, match=says):
        step_downs(rig_of(), **{"total_length": "250 ft", "small_length": "50 ft", **keywords})
