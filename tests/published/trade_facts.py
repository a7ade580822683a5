"""All facts of the trade that the course has been tried against: `facts()` gives them with what was computed.

Run: python tests/published/trade_facts.py prints them as a table.
"""

import inspect
from functools import cache

import numpy as np
import trade_facts_hose  # noqa: F401 (each module notes its facts as it is read)
import trade_facts_jets  # noqa: F401
import trade_facts_machine  # noqa: F401
from trade_fact import FACTS, Fact

SEED = 1714


@cache
def result(name, seed=SEED):
    """The Fact of that name, tried on machines drawn with `seed`."""
    function, low, high, unit, over = FACTS[name]
    values = np.asarray(function(np.random.default_rng(seed)), dtype=float)
    words = " ".join(inspect.getdoc(function).split("\n\n")[0].split())
    # not-a-number must not slip through a comparison
    ends = (values.min(), values.max()) if np.isfinite(values).all() and values.size else (np.nan, np.nan)
    return Fact(name, words, over, unit, low, high, float(ends[0]), float(ends[1]), values.size)


def facts():
    """Every fact, a list of Fact, in the order jets, hose, machine."""
    order = ("trade_facts_jets", "trade_facts_hose", "trade_facts_machine")
    return [result(name) for name in sorted(FACTS, key=lambda name: order.index(FACTS[name][0].__module__))]


if __name__ == "__main__":
    for each in facts():
        print(f"{each.words}\n    over: {each.range}")
        print(
            f"    claimed {each.low:g} to {each.high:g} {each.unit}; computed {each.computed_low:.5g} to "
            f"{each.computed_high:.5g} on {each.tried}: {'holds' if each.holds else 'FAILS'} ({each.confidence})"
        )
