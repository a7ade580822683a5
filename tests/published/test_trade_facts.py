"""Facts of the trade, *common practice, no source*, each on thousands of machines drawn from the range it names.

The facts themselves, in words and in numbers, are the functions of trade_facts_jets.py, trade_facts_hose.py and
trade_facts_machine.py. Their bounds are what the words claim, on both sides.
"""

import numpy as np
import pytest
import trade_facts
from trade_fact import CONFIDENCE, FACTS, Machines, machines

from jetlib import operating_point

EXACT = 0.02  # a claim this narrow, as a share of its middle, is sharp whatever was computed


@pytest.mark.parametrize("name", FACTS)
def test_fact_holds(name):
    fact = trade_facts.result(name)
    assert fact.holds, f"{fact.words} Computed {fact.computed_low:.5g} to {fact.computed_high:.5g} {fact.unit}"


@pytest.mark.parametrize("name", FACTS)
def test_fact_holds_for_other_draws(name):
    assert trade_facts.result(name, seed=2).holds


@pytest.mark.parametrize("name", FACTS)
def test_claim_is_no_wider_than_it_must_be(name):
    # A claim that nothing could break says nothing: what was computed fills a third of it, or it is sharp.
    fact = trade_facts.result(name)
    width, filled = fact.high - fact.low, fact.computed_high - fact.computed_low
    assert filled > width / 3 or width < EXACT * abs(fact.high + fact.low) / 2 + 1e-12


@pytest.mark.parametrize("name", FACTS)
def test_fact_was_tried_on_many(name):
    assert trade_facts.result(name).tried >= 19  # of the tables all there is, else hundreds


def test_facts_are_data():
    found = trade_facts.facts()
    assert len(found) == len(FACTS) >= 40
    assert len({fact.words for fact in found}) == len(found)
    for fact in found:
        assert fact.words.endswith(".")
        assert fact.range
        assert fact.confidence == CONFIDENCE


def test_a_fact_can_fail(monkeypatch):
    function, low, high, unit, over = FACTS["jets_too_large_never_reach_full_pressure"]
    for name, claim in {"too low": (low, low + 0.01), "too high": (high, high + 1)}.items():
        monkeypatch.setitem(FACTS, name, (function, *claim, unit, over))
        assert not trade_facts.result(name).holds
    monkeypatch.setitem(FACTS, "not a number", (_not_a_number, low, high, unit, over))
    assert not trade_facts.result("not a number").holds


def _not_a_number(random):
    """Nothing."""
    return np.array([0.7, np.nan])


def test_the_machines_are_what_the_range_says():
    found = machines(np.random.default_rng(1))
    assert isinstance(found, Machines)
    point = operating_point(found.rig())
    share = point.hose_loss / point.gauge
    assert found.flow.size > 1000
    assert np.all((share > 0.049) & (share < 0.601))
    np.testing.assert_allclose(point.gauge, found.setting, rtol=1e-6)  # matched, or all facts about matching are void
    velocity = found.flow / (np.pi / 4 * found.bore**2)
    assert (velocity.min(), velocity.max()) == (pytest.approx(2, abs=0.05), pytest.approx(7, abs=0.05))
