"""Matched jets: the closed form against the solver, and the advice where nothing matches."""

import re

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jetlib import (
    BurstDisc,
    Engine,
    Fitting,
    Hose,
    Jet,
    JetlibError,
    MatchedJets,
    Nozzle,
    Pump,
    Rig,
    Unloader,
    matched_jets,
    operating_point,
)
from jetlib.rig.jets.matching import best_change, bypass_throttle, opening_throttles

GPM, PSI = 3.785411784e-3 / 60.0, 6894.757293168
moderate = settings(max_examples=80, deadline=None, derandomize=True, database=None)


def rig_of(**changes):
    parts = {
        "pump": Pump("8 gpm", volumetric_efficiency=0.95, rated_pressure="3000 psi"),
        "valve": Unloader("3000 psi"),
        "hoses": [Hose("1/2 in", "200 ft"), Hose("3/8 in", "50 ft")],
        "nozzle": Nozzle([Jet("1 mm", 4), Jet("0.9 mm", 1, discharge_coefficient=0.62)]),
    }
    return Rig(**(parts | changes))


def rig_with_jets_of(rig, effective_area):
    """The rig with every jet scaled alike until the nozzle has this effective area."""
    scale = np.sqrt(effective_area / rig.nozzle.effective_area)
    return rig.replace(nozzle=rig.nozzle.replace(jets=[jet.replace(bore=jet.bore * scale) for jet in rig.nozzle.jets]))


def test_matched_jets_put_the_setting_on_the_gauge_at_full_throttle():
    rig = rig_of()
    found = matched_jets(rig)
    assert isinstance(found, MatchedJets) and found.possible
    point = operating_point(rig_with_jets_of(rig, found.effective_area))
    assert point.gauge == pytest.approx(3000 * PSI, rel=1e-9)
    assert point.bypass_flow < 1e-9 * point.pump_flow
    assert point.nozzle_flow == pytest.approx(found.full_flow, rel=1e-9)
    assert point.nozzle_pressure == pytest.approx(found.nozzle_pressure, rel=1e-9)
    assert point.hose_loss == pytest.approx(found.line_loss, rel=1e-9)


def test_matched_bore_is_for_the_same_number_of_holes():
    rig = rig_of(nozzle=Nozzle([Jet("1 mm", 5, discharge_coefficient=0.7)]))
    bore = matched_jets(rig).bore
    point = operating_point(rig.replace(nozzle=Nozzle([Jet(bore, 5, discharge_coefficient=0.7)])))
    assert point.gauge == pytest.approx(3000 * PSI, rel=1e-9)
    assert f"{bore / 0.0254:.4f}" in matched_jets(rig).advice


def test_slip_and_leak_come_off_the_flow():
    # by definition: 95 % of 8 gpm at 3000 psi, less a leak of Cd 0.62 straight off the pump
    assert matched_jets(rig_of()).full_flow == pytest.approx(0.95 * 8 * GPM, rel=1e-12)
    leaking = matched_jets(rig_of(valve=Unloader("3000 psi", seat_leak="0.5 mm")))
    leak = 0.62 * np.pi / 4.0 * 0.5e-3**2 * np.sqrt(2.0 * 3000 * PSI / 999.1)
    assert leaking.full_flow == pytest.approx(0.95 * 8 * GPM - leak, rel=1e-5)


@moderate
@given(rig=st.from_type(Rig), setting=st.floats(5e6, 5e7))
def test_match_and_bypass_throttle_agree_with_the_solver(rig, setting):
    unloader = (rig.unloader or Unloader(setting)).replace(setting=setting)
    rig = rig.replace(valve=unloader, outlet_shut=False, nozzle=rig.nozzle.replace(jets=[Jet("1.2 mm", 4)]))
    found = matched_jets(rig)
    if 1e-4 < found.bore < 0.02:
        matched = rig_with_jets_of(rig, found.effective_area)
        assert operating_point(matched).gauge == pytest.approx(setting, rel=1e-8)
        if rig.engine is None:
            assert matched_jets(matched).bypass_throttle == pytest.approx(1.0, abs=1e-6)
    # below the throttle found the valve is shut, above it open
    begins = found.bypass_throttle
    for throttle in (0.0, begins - 1e-4, begins + 1e-4, 1.0):
        if not 0.0 <= throttle <= 1.0 or abs(throttle - begins) < 5e-5:
            continue
        point = operating_point(rig, throttle)
        if throttle < begins:
            assert point.gauge <= setting * (1.0 + 1e-9) and point.bypass_flow <= 1e-9 * rig.pump.rated_flow
        else:
            assert point.gauge >= setting * (1.0 - 1e-9)
    # what is carried with no jets is never less than what the match asks to be carried
    if found.possible:
        assert found.carried_flow >= found.full_flow * (1.0 - 1e-9)


@pytest.mark.parametrize("hoses", [[], [Hose("1/2 in", 0)], [Hose("20 mm", 0), Hose("20 mm", "1 mm")]], ids=len)
@pytest.mark.parametrize("coefficient", [0.0, 5e-324, 1e-250, 1e-30, 1e-12])
def test_a_line_with_next_to_nothing_in_the_way(hoses, coefficient):
    nozzle = Nozzle([Jet("1.2 mm", 4)], body_bore="20 mm", body_loss_coefficient=coefficient)
    found = matched_jets(rig_of(hoses=hoses, nozzle=nozzle))
    assert found.possible and found.carried_flow >= 100.0 * found.full_flow
    assert found.nozzle_pressure == pytest.approx(found.rig.unloader.setting, rel=1e-2)


def test_bypass_throttle_of_jets_too_small_and_too_large():
    small, large = rig_of(nozzle=Nozzle([Jet("0.8 mm", 4)])), rig_of(nozzle=Nozzle([Jet("1.5 mm", 4)]))
    assert 0.0 < matched_jets(small).bypass_throttle < 1.0 < matched_jets(large).bypass_throttle
    assert bypass_throttle(small) == matched_jets(small).bypass_throttle and bypass_throttle(large) is None
    open_at_idle = rig_of(nozzle=Nozzle([Jet("0.5 mm", 2)]))
    assert matched_jets(open_at_idle).bypass_throttle == 0.0
    assert operating_point(open_at_idle, 0.0).limited_by == "bypass"


def test_an_engine_too_weak_never_opens_the_valve():
    rig = rig_of(nozzle=Nozzle([Jet("1 mm", 2)]), pump=Pump("8 gpm"))
    assert matched_jets(rig).bypass_throttle < 1.0
    weak = rig.replace(engine=Engine("4 kW"))
    assert matched_jets(weak).bypass_throttle == np.inf and bypass_throttle(weak) is None
    assert operating_point(weak).limited_by == "engine"


def test_match_of_a_bogged_engine():
    # its torque at the setting: p over the pressure at which rated torque is used up is 1 + 0.5 of the speed lost
    rig = rig_of(engine=Engine("9 kW"), pump=Pump("8 gpm"))
    found = matched_jets(rig)
    over = 3000 * PSI * rig.pump.rated_flow / (9000.0 * 0.88) - 1.0
    assert 0.0 < over < 0.5
    assert found.full_flow == pytest.approx(rig.pump.rated_flow * (1.0 - over / 0.5), rel=1e-9)
    assert operating_point(rig_with_jets_of(rig, found.effective_area)).gauge == pytest.approx(3000 * PSI, rel=1e-8)


def test_a_pump_with_one_speed():
    pump = Pump("8 gpm", rated_speed="1450 rpm", idle_speed="1450 rpm")
    assert matched_jets(rig_of(pump=pump, nozzle=Nozzle([Jet("1 mm", 2)]))).bypass_throttle == 0.0
    assert matched_jets(rig_of(pump=pump, nozzle=Nozzle([Jet("2 mm", 4)]))).bypass_throttle == np.inf


def test_no_hose_to_speak_of():
    for hoses in ([], [Hose("1/2 in", 0)]):
        found = matched_jets(rig_of(hoses=hoses))
        assert found.line_loss == 0.0 and found.nozzle_pressure == pytest.approx(3000 * PSI) and found.possible
        assert found.carried_flow == np.inf


# --- where nothing matches --------------------------------------------------------------------------


def test_line_too_small_names_its_flow_and_the_best_change():
    rig = rig_of(hoses=[Hose("1/2 in", "100 ft"), Hose("1/4 in", "300 ft")])
    found = matched_jets(rig)
    assert not found.possible and found.nozzle_pressure < 0.0
    assert found.effective_area == found.bore == 0.0
    # the flow it carries: the one at which the bare line takes the whole setting
    bare = Rig(
        pump=Pump(found.carried_flow),
        valve=Unloader("9000 psi"),
        hoses=rig.hoses,
        nozzle=Nozzle([Jet("20 mm", 1000)]),
    )
    assert operating_point(bare).gauge == pytest.approx(3000 * PSI, rel=1e-6)
    assert found.carried_flow < found.full_flow
    assert f"{found.carried_flow / GPM:.2f} gpm" in found.advice
    assert "Hose 2 loses most" in found.advice and "25 % larger" in found.advice
    # the saving it names is the one that a quarter more bore brings
    wider = [rig.hoses[0], rig.hoses[1].replace(bore=1.25 * rig.hoses[1].bore)]
    saved = found.line_loss - matched_jets(rig.replace(hoses=wider)).line_loss
    named = float(re.search(r"saves ([\d.]+) psi", found.advice)[1])
    assert named == pytest.approx(saved / PSI, rel=5e-3)


def test_the_change_named_is_the_better_one():
    for order in (1, -1):
        hoses = [Hose("1/2 in", "100 ft"), Hose("1/4 in", "300 ft", coil_diameter="2 in")][::order]
        rig = rig_of(hoses=hoses)
        flow = matched_jets(rig).full_flow
        savings = []
        for at in (0, 1):
            wider = hoses[at].replace(bore=1.25 * hoses[at].bore)
            savings.append(-matched_jets(rig.replace(hoses=[*hoses[:at], wider, *hoses[at + 1 :]])).line_loss)
        assert f"Hose {np.argmax(savings) + 1} loses most" in best_change(rig, flow)


def test_a_mean_fitting_is_named():
    rig = rig_of(fittings=[Fitting("1.5 mm", loss_coefficient=1.5)])
    found = matched_jets(rig)
    assert not found.possible and "Fittings, end fittings and nozzle body lose most" in found.advice


def test_too_high_a_lift_is_named():
    found = matched_jets(rig_of(valve=Unloader("20 bar"), lift="300 m"))
    assert not found.possible and found.carried_flow == 0.0
    assert "lift alone is more than the setting" in found.advice


def test_leaks_that_take_everything_are_named():
    found = matched_jets(rig_of(valve=Unloader("3000 psi", seat_leak="4 mm")))
    assert not found.possible and found.full_flow < 0.0
    assert "leaks and slip" in found.advice and "3000 psi" in found.advice


def test_a_disc_that_has_gone_is_no_unloader():
    found = matched_jets(rig_of(valve=[Unloader("3000 psi"), BurstDisc("4000 psi", bore="5 mm", opened=True)]))
    assert not found.possible


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"valve": None}, r'Unloader\(setting="3000 psi"\)'),
        ({"valve": BurstDisc("3000 psi")}, r'Unloader\(setting="3000 psi"\)'),
        ({"nozzle": Nozzle()}, r"Nozzle\(jets="),
        ({"nozzle": Nozzle([Jet("1 mm", 0)])}, r"Nozzle\(jets="),
        ({"nozzle": Nozzle([Jet("1 mm", np.array([1, 2]))])}, r"shape \(2,\)"),
        ({"lift": np.array([1.0, 2.0, 3.0])}, r"shape \(3,\)"),
    ],
)
def test_what_cannot_be_matched_is_refused(changes, words):
    with pytest.raises(JetlibError, match=words):
        matched_jets(rig_of(**changes))


def test_opening_throttles_of_many_jets_are_those_of_each():
    # against matched_jets, which the solver checks above; from jets that never open the valve to such as always do
    engine, drowned = Engine("9 kW"), rig_of(valve=Unloader("100 psi"), lift=80.0)  # the lift alone opens it
    for rig in (rig_of(), rig_of(engine=engine), rig_of(hoses=[]), rig_of(lift=15.0), drowned):
        areas = rig.nozzle.effective_area * np.geomspace(0.05, 20.0, 15)
        each = [matched_jets(rig_with_jets_of(rig, area)).bypass_throttle for area in areas]
        np.testing.assert_allclose(opening_throttles(rig, areas), each, rtol=1e-9)
    with pytest.raises(JetlibError, match="unloader"):
        opening_throttles(rig_of(valve=None), [1e-5])
    with pytest.raises(JetlibError, match="area of open jets"):
        opening_throttles(rig_of(), [1e-5, 0.0])
