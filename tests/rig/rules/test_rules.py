"""Rules of thumb: the table, verdicts against numbers worked out apart from them, maps that agree with single rigs."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jetlib import Jet, Nozzle, Pump, Rig, operating_point
from jetlib.errors import JetlibError
from jetlib.physics import hose, water
from jetlib.rig.jets.matching import matched_area, matched_jets
from jetlib.rig.job.flushing import flushing
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs
from jetlib.rig.parts.site import Drain, Site
from jetlib.rig.rules.moves import CHANGES, LEVERS, NOMINAL, family, own_value, size_below
from jetlib.rig.rules.quantities import QUANTITIES, STATES, Cases, Key, grit_flow
from jetlib.rig.rules.rules import (
    Axis,
    band_names,
    band_of,
    judge,
    levers_that_matter,
    map_of,
    read_axis,
    read_rule,
    read_rules,
    restated,
    rules,
)
from jetlib.units import from_si, si

RIGS = {name: demo_rig(name) for name in demo_rigs()}
TRAILER = RIGS["yard_trailer"]
each_rule = pytest.mark.parametrize("name", rules())


# --- the table ----------------------------------------------------------------------------------------


def test_there_are_rules_enough_and_each_says_where_it_is_from():
    assert len(rules()) >= 24
    sayings = [rule.said for rule in rules().values()]
    assert len(set(sayings)) == len(sayings)
    for rule in rules().values():
        assert rule.confidence in ("common practice, no source", "from memory", "quoted from the source")
        assert min(map(len, (rule.said, rule.law, rule.instead, rule.source))) > 8
        assert rule.x.lever != rule.y.lever


@each_rule
def test_every_rule_has_a_verdict_on_every_rig_and_a_map(name):
    rule = rules()[name]
    for rig in RIGS.values():
        verdict = judge(rule.equation, rig)
        assert verdict.band in band_names(rule.equation)
        found = map_of(rule.equation, rig, rule.x, rule.y)
        assert sum(found.shares) == pytest.approx(1.0)
        assert (found.bands >= 0).mean() > 0.3


@each_rule
@pytest.mark.parametrize("rig", RIGS)
def test_the_map_agrees_with_the_rig_at_its_own_place(name, rig):
    rule, rig = rules()[name], RIGS[rig]
    axes = []
    for axis in (rule.x, rule.y):
        own = own_value(axis.lever, rig, Site())
        width = 1e-6 * (axis.high - axis.low)
        low, _ = LEVERS[axis.lever].usual
        axes.append(Axis(axis.lever, own - width if own > low else own, own + width))
    found = map_of(rule.equation, rig, *axes, cells=(1, 1))
    verdict = judge(rule.equation, rig)
    if np.isfinite(found.off[0, 0]):
        assert found.off[0, 0] == pytest.approx(verdict.off, rel=1e-3, abs=1e-3)


@each_rule
def test_a_rule_put_right_is_right(name):
    for rig in RIGS.values():
        verdict = judge(rules()[name].equation, rig)
        words, _ = restated(verdict.equation, verdict.times)
        if words is not None:
            assert abs(judge(read_rule(words), rig).off) < 0.006  # three figures


# --- verdicts against numbers from elsewhere ------------------------------------------------------------


def off(name, rig=TRAILER):
    return judge(rules()[name].equation, rig).off


@pytest.mark.parametrize("rig", RIGS)
def test_rules_that_are_units_alone_hold_everywhere(rig):
    """33000 ft lbf/min a horsepower and 231 in3 a gallon, by definition; the rest follows from them."""
    assert pytest.approx(1714.29, abs=0.01) == 33000 * 12 / 231
    for name in ("horsepower", "hose-speed", "bypass-power", "wide-jet", "double-length"):
        assert abs(off(name, RIGS[rig])) < 1e-3


def test_a_foot_of_water():
    """62.4 lb a cubic foot (handbooks) over 144 square inches is 0.433 psi."""
    assert pytest.approx(0.4333, abs=1e-4) == 62.4 / 144
    assert abs(off("lift")) < 2e-3


def test_the_orifice_in_us_units():
    """29.84 Cd d2 sqrt(psi) (NFPA handbooks, from memory): 29.84 over pi/4 is 38.0 on the area."""
    assert 29.84 / (np.pi / 4) == pytest.approx(38.0, abs=0.01)
    assert abs(off("water-through-jets")) < 2e-3


def test_half_the_flow_of_bare_jets_is_exactly_a_quarter():
    bare = Rig(pump=Pump("8 gpm"), nozzle=Nozzle([Jet("1.2 mm", count=4)]))
    assert judge(rules()["half-flow"].equation, bare).off == pytest.approx(0.0, abs=1e-9)


def test_half_the_bore_against_the_friction_formula_itself():
    point = operating_point(TRAILER)
    each = TRAILER.hoses[0]
    straight = TRAILER.replace(hoses=[each.replace(coil_diameter=None)])
    point = operating_point(straight)
    line = {
        "length": each.length, "roughness": each.roughness, "density": water.density(288.15),
        "viscosity": water.viscosity(288.15),
    }  # fmt: skip
    ratio = hose.pressure_loss(point.nozzle_flow, bore=each.bore / 2, **line) / hose.pressure_loss(
        point.nozzle_flow, bore=each.bore, **line
    )
    assert judge(rules()["half-bore"].equation, straight).off == pytest.approx(32 / ratio - 1, abs=1e-5)


def test_one_size_down_in_half_inch_hose_quadruples():
    """(1/2 over 3/8)^5 is 4.2."""
    assert pytest.approx(4.21, abs=0.01) == (0.5 / 0.375) ** 5
    verdict = judge(rules()["size-down-quadruples"].equation, TRAILER)
    assert verdict.band == "within 10 %"
    assert judge(rules()["size-down-doubles"].equation, TRAILER).band == "off"


def test_nominal_sizes_step_to_the_next():
    assert size_below(NOMINAL[1:]) == pytest.approx(NOMINAL[:-1])
    assert size_below(0.0127) == pytest.approx(0.009525)


def test_warming_against_the_heat_of_water():
    """Pressure over density and specific heat: 1000 psi over 998 kg/m3 and 4186 J/(kg K) (handbooks) is 2.97 F."""
    rise = 1.8 * 6.894757e6 / 998 / 4186
    assert judge(rules()["bypass-warming"].equation, TRAILER).off == pytest.approx(3 / rise - 1, abs=0.01)


def test_standard_air_at_5000_feet():
    """Air density ratio 0.8617 at 5000 ft (ICAO standard atmosphere); on a day at that height's own 278.2 K."""
    site = Site(altitude="5000 ft", air_temperature=278.244)
    assert judge(rules()["altitude"].equation, TRAILER, site).true == pytest.approx(0.8617, abs=2e-4)


def test_the_flow_that_moves_grit_moves_just_that_grit():
    """`flushing` solves Manning's depth for a flow; here depth is found for a drag. They must meet."""
    site = Site()
    drain = Drain(bore=site.pipe_bore, length=10.0, fall=site.pipe_slope, manning_n=site.manning_n)
    assert flushing(float(grit_flow(site)), drain).largest_grain == pytest.approx(site.grain, rel=0.01)
    assert np.isinf(grit_flow(Site(pipe_slope=1e-4)))


def test_a_plugged_jet_hides_behind_the_valve_and_not_at_idle():
    assert judge(rules()["plugged-jet"].equation, TRAILER).band == "off"
    assert judge(rules()["plugged-jet-idle"].equation, TRAILER).band == "within 10 %"


# --- bands, maps and levers -----------------------------------------------------------------------------


def test_bands():
    assert band_of([0, 0.1, -0.1, 0.11, -0.25, 0.26, np.inf, np.nan]).tolist() == [0, 0, 0, 1, 1, 2, 2, -1]


def test_something_where_there_is_nothing_is_off_and_nothing_for_nothing_is_right():
    assert np.isinf(judge(read_rule("bypass flow = 1 gpm"), TRAILER).off)
    assert judge(read_rule("bypass flow = 0 gpm"), TRAILER).off == 0.0
    assert judge(read_rule("reach with no hose = 0 ft"), TRAILER).off == 0.0


def test_matched_area_is_that_of_the_matching_of_one_rig():
    for rig in RIGS.values():
        assert matched_area(rig) == pytest.approx(matched_jets(rig).effective_area, rel=1e-12)


def test_a_family_keeps_its_jets_as_far_from_the_match():
    lengths = np.array([[50.0, 100.0, 150.0]])
    rigs, _, good = family(TRAILER, Site(), {"hose length": lengths})
    share = TRAILER.nozzle.effective_area / matched_area(TRAILER)
    assert good.all()
    assert rigs.nozzle.effective_area / matched_area(rigs) == pytest.approx(np.full((1, 3), share), rel=1e-9)


def test_no_rig_where_the_hose_alone_asks_for_too_much():
    found = map_of(rules()["half-flow"].equation, TRAILER, read_axis("hose length"), read_axis("hose bore"))
    assert found.bands[0, -1] == -1  # the longest of the smallest hose
    assert found.bands[-1, 0] >= 0


@pytest.mark.parametrize("lever", LEVERS)
def test_a_lever_moved_to_its_own_place_changes_nothing(lever):
    rig, site = TRAILER, Site()
    own = own_value(lever, rig, site)
    rigs, place, _ = family(rig, site, {lever: np.array([own])})
    assert np.ravel(operating_point(rigs).gauge) == pytest.approx(operating_point(rig).gauge, rel=1e-6)
    assert np.ravel(LEVERS[lever].read(rigs, place)) == pytest.approx(own)


def test_a_map_is_stretched_to_a_rig_outside_the_usual_range():
    found = map_of(
        rules()["half-flow"].equation, TRAILER, read_axis("hose length, 20 ft to 60 ft"), read_axis("hose bore")
    )
    assert found.x.low <= TRAILER.hoses[0].length <= found.x.high


def test_errors_of_maps_and_tables_name_what_is_wrong():
    equation = rules()["half-flow"].equation
    with pytest.raises(JetlibError, match="choose two"):
        map_of(equation, TRAILER, read_axis("setting"), read_axis("setting"))
    with pytest.raises(JetlibError, match="no way of a map"):
        read_axis("colour")
    with pytest.raises(JetlibError, match="not TOML"):
        read_rules("[[rule")
    with pytest.raises(JetlibError, match=r"rule x: .* is missing"):
        read_rules('[[rule]]\nid = "x"')
    with pytest.raises(JetlibError, match="no hose"):
        judge(read_rule("hose bore = 1 in"), Rig(pump=Pump("8 gpm"), nozzle=Nozzle([Jet("1 mm")])))
    with pytest.raises(JetlibError, match="comes to no number"):
        judge(read_rule("jet count = 1 / bypass flow * nozzle flow"), TRAILER)


# --- any rule one could type ------------------------------------------------------------------------------


def test_every_change_does_what_its_words_say_to_the_gauge():
    """Directions known beforehand: what opens the line lowers the gauge at idle, what closes it raises it."""
    cases = Cases(TRAILER, Site())
    plain = cases.value(Key("gauge", "idle"))
    lower = ("no hose", "jets worn", "jets a tenth larger", "twice the holes", "all hose off the reel", "summer water")
    higher = ("one jet plugged", "twice the hose", "half the bore", "one size down", "all hose on the reel",
              "cold water", "the nozzle a hundred feet up")  # fmt: skip
    for change in lower:
        assert cases.value(Key("gauge", "idle", (change,))) < plain, change
    for change in higher:
        assert cases.value(Key("gauge", "idle", (change,))) > plain, change


names = st.builds(
    lambda name, state, change: f"{name}{state}{change}",
    st.sampled_from(list(QUANTITIES)),
    st.sampled_from(["", *(f" at {each}" for each in STATES)]),
    st.sampled_from(["", *(f" with {each}" for each in CHANGES), " with half the bore and valve shut"]),
)


@settings(max_examples=60, deadline=None)
@given(names, names, st.sampled_from(list(RIGS)), st.sampled_from(list(LEVERS)), st.sampled_from(list(LEVERS)))
def test_any_rule_of_names_gets_a_verdict_or_a_reason(one, other, rig, x, y):
    for typed in (f"{one} = 2 * {other}", f"{one} = 0.5 * {one} at idle"):
        try:
            equation = read_rule(typed)
            verdict = judge(equation, RIGS[rig])
            found = map_of(equation, RIGS[rig], read_axis(x), read_axis(y), cells=(4, 3))
        except JetlibError:
            continue
        assert not np.isnan(verdict.off)
        assert found.off.shape == (3, 4)


def test_figures_are_those_of_the_rig():
    verdict = judge(read_rule("gauge at idle = 0.5 * gauge at full"), TRAILER)
    assert verdict.true == pytest.approx(operating_point(TRAILER, 0.0).gauge)
    assert verdict.said == pytest.approx(0.5 * operating_point(TRAILER).gauge)
    assert from_si(judge(read_rule("gauge = 3000 psi"), TRAILER).said, "pressure", "US") == pytest.approx(3000)
    assert si("3000 psi", "pressure") > 0


def test_a_limit_is_as_far_past_as_plain_arithmetic_says():
    point = operating_point(TRAILER)
    over = read_rule("hose loss < 2 % of gauge")
    verdict = judge(over, TRAILER)
    assert verdict.off == pytest.approx(float(point.hose_loss / (0.02 * point.gauge) - 1.0))
    assert judge(read_rule("hose loss > 2 % of gauge"), TRAILER).off == 0.0
    found = map_of(over, TRAILER, read_axis("hose length"), read_axis("hose bore"))
    good = np.isfinite(found.off)
    assert np.all(found.off[good] >= 0.0)
    assert np.array_equal(found.bands[good] == 0, found.times[good] <= 1.0 + 1e-9)


@pytest.mark.parametrize(("typed", "meant"), [
    ("psi at idle = 0.2 * psi", "gauge at idle in psi = 0.2 * gauge in psi"),
    ("hp = gpm * psi / 1714", "shaft power in hp = nozzle flow in gpm * gauge in psi / 1714"),
    ("bar with one jet plugged = bar", "gauge with one jet plugged in bar = gauge in bar"),
])  # fmt: skip
def test_a_unit_alone_is_what_is_read_in_it(typed, meant):
    one, other = (judge(read_rule(each), TRAILER) for each in (typed, meant))
    assert (one.true, one.said) == (other.true, other.said)


def test_the_quantities_that_matter_are_those_that_move_it():
    """Loss per length by friction factor f v2/(2 d): flow and bore; jet speed over the root of pressure: nothing."""
    assert set(levers_that_matter(read_rule("hose loss = 100 psi/(100 ft) * hose length"), TRAILER)) == {
        "pump flow", "hose bore",
    }  # fmt: skip
    assert levers_that_matter(read_rule("air left = 1"), TRAILER) == ("altitude", "air temperature")


def test_a_reserve_for_the_surge_shows_its_side():
    """The valve's setting, up to which the pump pushes the shut line, and rho a dv (Joukowsky) of 1300 m/s, softer for
    a line that answers sooner than the jets shut."""
    rig = TRAILER.replace(hoses=[TRAILER.hoses[0].replace(length=60.0, coil_diameter=None)])
    point = operating_point(rig)
    hammer = 998.0 * 1300.0 * point.nozzle_flow / (np.pi / 4.0 * rig.hoses[0].bore ** 2)
    verdict = judge(rules()["hose-reserve"].equation, rig)
    assert point.gauge < rig.unloader.setting
    assert verdict.true == pytest.approx(rig.unloader.setting + hammer, rel=2e-3)
    assert verdict.side == "unsafe"
    assert judge(rules()["hose-reserve"].equation, rig.with_unloader(setting="5000 psi")).side == "safe"
