"""Drag of a hose against textbook statics, a rope laid out metre by metre, and what must rise or fall with what."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jetlib import JetlibError
from jetlib.physics import hose_drag

OFTEN = settings(max_examples=150, deadline=None, derandomize=True, database=None)
FOOT = 0.3048


# --- textbook statics -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("friction", "turns", "ratio"),
    # Table of the force gained by turns of rope on a post, Euler-Eytelwein; printed to the figure given
    [(0.1, 1, 1.9), (0.3, 1, 6.6), (0.3, 2, 43.4), (0.6, 1, 43.4), (0.6, 5, 153552935)],
)
def test_rope_round_a_post(friction, turns, ratio):
    found = hose_drag.capstan_ratio(friction, 2 * np.pi * turns)
    assert found == pytest.approx(ratio, rel=0.02 if ratio < 10 else 2e-3)


def test_load_lowered_on_a_rope():
    # Exercise in rope friction (pickedshares, engineering mechanics 1, no. 27): 100 kg, 0.2, three quarters of a turn
    held = 100 * 9.81 / hose_drag.capstan_ratio(0.2, 1.5 * np.pi)
    assert held == pytest.approx(382.26, abs=0.01)


def test_skier_on_a_slope():
    # OpenStax College Physics, Example 5.1 (from memory): 62 kg, 25 degrees, 45 N of friction give 0.082
    rise = np.sin(np.radians(25))
    pull = 62 * 9.80 * (hose_drag.slope_drag(0.082, rise) - rise)
    assert pull == pytest.approx(45, rel=0.01)  # 0.082 is rounded


def test_slope_where_friction_just_holds():
    # Angle of repose, any textbook of statics: a body begins to slide down where tan of the slope is the friction
    angle = np.arctan(0.4)
    assert hose_drag.slope_drag(0.4, -np.sin(angle)) == pytest.approx(0.0, abs=1e-15)
    assert hose_drag.slope_drag(0.4, -np.sin(0.9 * angle)) > 0.0
    assert hose_drag.slope_drag(0.4, -np.sin(1.1 * angle)) == 0.0  # a limp hose does not push
    assert hose_drag.slope_drag(0.4, 1.0) == 1.0  # straight up: its weight


def test_straight_level_pipe():
    # 60 m of 8 N/m at 0.4
    shared = {"weights": [8.0], "lengths": [60.0], "friction": 0.4}
    assert hose_drag.hose_tension(60.0, **shared) == pytest.approx(192.0)
    assert hose_drag.reach_distance(192.0, **shared) == pytest.approx(60.0)


def test_a_bend_costs_by_what_is_behind_it():
    shared = {"weights": [5.0], "lengths": [100.0], "friction": 0.4}
    near = hose_drag.hose_tension(50.0, bends=[(1.0, np.pi / 2)], **shared)
    far = hose_drag.hose_tension(50.0, bends=[(49.0, np.pi / 2)], **shared)
    ratio = np.exp(0.2 * np.pi)  # 1.87 for a right angle at 0.4
    assert near == pytest.approx(0.4 * 5.0 * (1.0 * ratio + 49.0))
    assert far == pytest.approx(0.4 * 5.0 * (49.0 * ratio + 1.0))


def test_a_bend_the_pull_does_not_take_stops_it_there():
    shared = {"weights": [5.0], "lengths": [100.0], "friction": 0.4}
    # 20 N at the bend, 37.5 N just past it
    assert hose_drag.reach_distance(30.0, bends=[(10.0, np.pi / 2)], **shared) == 10.0
    assert hose_drag.reach_distance(40.0, bends=[(10.0, np.pi / 2)], **shared) > 10.0


# --- a rope laid out metre by metre -----------------------------------------------------------------


def _walked(distance, weights, lengths, friction, rise, bends, entry_pull, steps=4000):
    """Pull at the nozzle by walking along the pipe: each short piece adds its drag, each bend multiplies."""
    places = (np.arange(steps) + 0.5) * distance / steps
    order = sorted(bends)
    edges = np.cumsum(lengths[::-1])
    pull, at = entry_pull, 0
    for place in places:
        while at < len(order) and order[at][0] <= place:
            pull *= np.exp(friction * order[at][1])
            at += 1
        number = min(int(np.searchsorted(edges, distance - place)), len(weights) - 1)
        weight = weights[::-1][number]
        along = friction * np.sqrt(1 - rise**2) + rise
        pull += max(along, 0.0) * weight * distance / steps
    return pull


hoses = st.lists(st.tuples(st.floats(0.5, 15.0), st.floats(1.0, 60.0)), min_size=1, max_size=3)
turns = st.lists(st.tuples(st.floats(0.5, 80.0), st.floats(0.1, 2.0)), max_size=3)


@settings(max_examples=25, deadline=None, derandomize=True, database=None)
@given(hoses, st.floats(0.1, 0.6), st.floats(-0.3, 0.3), turns, st.floats(0.0, 20.0), st.floats(1.0, 100.0))
def test_against_a_rope_laid_out(line, friction, rise, bends, entry_pull, distance):
    weights, lengths = zip(*line, strict=True)
    found = hose_drag.hose_tension(
        distance, weights=weights, lengths=lengths, friction=friction, rise=rise, bends=bends, entry_pull=entry_pull
    )
    walked = _walked(distance, weights, lengths, friction, rise, bends, entry_pull)
    # A piece is a 4000th of the way: what lies in the pieces with bends and couplings is misplaced by one piece each.
    grown = np.exp(friction * sum(angle for _, angle in bends))
    assert found == pytest.approx(walked, abs=6 * grown * max(weights) * distance / 4000, rel=1e-9)


@OFTEN
@given(hoses, st.floats(0.1, 0.6), st.floats(-0.05, 0.3), turns, st.floats(0.0, 20.0), st.floats(0.0, 900.0))
def test_reach_is_the_inverse_of_tension(line, friction, rise, bends, entry_pull, pull):
    weights, lengths = zip(*line, strict=True)
    told = {"weights": weights, "lengths": lengths, "friction": friction, "rise": rise, "bends": bends}
    told["entry_pull"] = entry_pull
    distance = hose_drag.reach_distance(pull, **told)
    if pull < entry_pull:
        assert distance == 0.0
        return
    slack = 1e-9 * (1.0 + distance)
    if distance > slack:  # everywhere before it the pull is enough
        tried = np.linspace(0.0, distance - slack, 300)
        assert (hose_drag.hose_tension(tried, **told) <= pull * (1 + 1e-9) + 1e-9).all()
    beyond = hose_drag.hose_tension(distance + slack + 1e-6, **told)  # and just past it, not
    assert beyond >= pull * (1 - 1e-9) - 1e-6


@OFTEN
@given(hoses, st.floats(0.1, 0.5), st.floats(0.0, 0.2), turns, st.floats(0.0, 500.0), st.floats(1.01, 2.0))
def test_what_shortens_the_reach(line, friction, rise, bends, pull, more):
    weights, lengths = zip(*line, strict=True)
    told = {"weights": weights, "lengths": lengths, "friction": friction, "rise": rise, "bends": bends}
    base = hose_drag.reach_distance(pull, **told)
    slack = 1e-9 * (1 + base)
    harder = [
        told | {"friction": friction * more},
        told | {"rise": rise + 0.05},
        told | {"weights": [weight * more for weight in weights]},
        told | {"bends": [*bends, (1.0, 0.5)]},
        told | {"entry_pull": 5.0},
    ]
    for each in harder:
        assert hose_drag.reach_distance(pull, **each) <= base + slack
    assert hose_drag.reach_distance(pull * more, **told) >= base - slack


def test_arrays_are_the_loop_over_scalars():
    rng = np.random.default_rng(7)
    pull = rng.uniform(0, 300, (4, 1))
    friction = rng.uniform(0.2, 0.6, 5)
    leader = rng.uniform(1, 40, 5)
    told = {"weights": [8.0, 3.0], "rise": 0.02}
    bends = [(5.0, 0.8), (rng.uniform(1, 30, 5), 1.5)]
    found = hose_drag.reach_distance(pull, friction=friction, lengths=[100.0, leader], bends=bends, **told)
    assert found.shape == (4, 5)
    for row in range(4):
        for column in range(5):
            one = hose_drag.reach_distance(
                float(pull[row, 0]),
                friction=float(friction[column]),
                lengths=[100.0, float(leader[column])],
                bends=[(5.0, 0.8), (float(bends[1][0][column]), 1.5)],
                **told,
            )
            assert isinstance(one, float)
            assert found[row, column] == pytest.approx(one, rel=1e-12)


def test_nothing_stops_a_hose_that_slides():
    shared = {"weights": [8.0], "lengths": [60.0], "friction": 0.3, "rise": -0.5}
    assert hose_drag.reach_distance(10.0, **shared) == np.inf
    assert hose_drag.hose_tension(50.0, **shared) == 0.0
    assert hose_drag.reach_distance(-1.0, **shared) == 0.0  # jets that push back do not even start it


# --- coming back ------------------------------------------------------------------------------------


def test_back_along_a_level_pipe_is_drag_and_jets():
    shared = {"weights": [8.0], "lengths": [60.0], "friction": 0.4}
    assert hose_drag.pull_back_tension(50.0, nozzle_pull=30.0, **shared) == pytest.approx(30.0 + 0.4 * 8.0 * 50.0)
    assert hose_drag.pull_back_tension(50.0, nozzle_pull=-30.0, **shared) == pytest.approx(160.0)


def test_back_round_a_bend_multiplies_what_lies_beyond():
    shared = {"weights": [5.0], "lengths": [100.0], "friction": 0.4, "bends": [(10.0, np.pi / 2)]}
    ratio = np.exp(0.2 * np.pi)
    back = hose_drag.pull_back_tension(50.0, nozzle_pull=30.0, **shared)
    assert back == pytest.approx((30.0 + 0.4 * 5.0 * 40.0) * ratio + 0.4 * 5.0 * 10.0)
    assert hose_drag.pull_back_tension(9.0, nozzle_pull=30.0, **shared) == pytest.approx(30.0 + 18.0)


def test_back_downhill_is_easier_than_up():
    shared = {"weights": [8.0], "lengths": [60.0], "friction": 0.4}
    up = hose_drag.hose_tension(50.0, rise=0.1, **shared)
    back = hose_drag.pull_back_tension(50.0, nozzle_pull=0.0, rise=0.1, **shared)
    assert up - back == pytest.approx(2 * 0.1 * 8.0 * 50.0)  # gravity once against and once for


# --- a stiff body in a bend -------------------------------------------------------------------------


def test_longest_body_in_a_bend():
    # A thin rod round a sharp corner of zero inner radius lies as a chord of the outer circle: 2 sqrt(D^2 - d^2)
    assert hose_drag.longest_rigid_body(0.1, 0.05, 0.01) == pytest.approx(2 * np.sqrt(0.1**2 - 0.01**2))
    # 3-4-5: outer radius 5, inner 3, a body 1 thick touches at 4 and is 6 long
    assert hose_drag.longest_rigid_body(2.0, 4.0, 1.0) == pytest.approx(6.0)
    assert hose_drag.longest_rigid_body(0.1, 0.2, 0.1) == 0.0


@OFTEN
@given(st.floats(0.03, 0.3), st.floats(0.5, 5.0), st.floats(0.05, 0.95))
def test_body_lies_inside_the_bend(bore, turns_of_bore, share):
    radius, body = bore * turns_of_bore, bore * share
    length = hose_drag.longest_rigid_body(bore, radius, body)
    corner = np.hypot(radius - bore / 2 + body, length / 2)
    assert corner == pytest.approx(radius + bore / 2, rel=1e-9)


# --- refusals ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda: hose_drag.slope_drag(0.4, 1.5), "rise is 1.5"),
        (lambda: hose_drag.slope_drag(-0.1, 0.0), "friction is -0.1"),
        (lambda: hose_drag.capstan_ratio(0.4, -1.0), "turned is -1"),
        (lambda: hose_drag.hose_tension(1.0, weights=[], lengths=[], friction=0.4), "0 weights for 0 lengths"),
        (lambda: hose_drag.hose_tension(1.0, weights=[1.0], lengths=[1.0, 2.0], friction=0.4), "1 weights for 2"),
        (lambda: hose_drag.hose_tension(-1.0, weights=[1.0], lengths=[1.0], friction=0.4), "distance is -1"),
        (lambda: hose_drag.longest_rigid_body(0.1, 0.04, 0.01), "bend_radius is 0.04"),
    ],
)
def test_refusals(call, told):
    with pytest.raises(JetlibError, match=told):
        call()
