"""How fast jets are sized, as ratios measured in one run. Run: python tests/benchmarks/sizing.py

The floor is one vectorised operating_point of every set that the box makes: what a search without the closed form of
the matched area would cost. Times differ from machine to machine; the ratios hardly do.
"""

import time

import numpy as np
from ratios import Ratio, printed

from jetlib import hose_choices, matched_jets, operating_point, size_jets, step_downs
from jetlib.rig.jets.drill_box import DrillBox, box_of
from jetlib.rig.jets.sizing import WIDEST
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs


def seconds(work, repeats=5):
    """The best of several timings, s."""
    best = np.inf
    for _ in range(repeats):
        start = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - start)
    return best


def fitted(rig, box, found):
    """`rig` with each of the sets that a DrillBox found, as one rig of arrays."""
    rear, front = rig.nozzle.jets[0], rig.nozzle.jets[-1]
    jets = [
        like.replace(bore=box.bores[size], count=count)
        for like, size, count in zip((rear, rear, front), *found[::-1], strict=True)
    ]
    return rig.replace(nozzle=rig.nozzle.replace(jets=jets))


def ratios():
    """(Ratios, sentences about them)."""
    found, words = [], []
    for name in demo_rigs():
        rig = demo_rig(name)
        coefficients = (rig.nozzle.jets[0].discharge_coefficient, rig.nozzle.jets[-1].discharge_coefficient)
        box = DrillBox(box_of(), range(3, 9), range(0, 3), 3, *coefficients)
        area = matched_jets(rig).effective_area
        near = box.between(area / WIDEST, area * WIDEST).shape[-1]
        all_of_them = fitted(rig, box, box.between(0.0, np.inf))
        floor = seconds(lambda rig=all_of_them: operating_point(rig), 2)
        sized = seconds(lambda rig=rig: size_jets(rig, most_sizes=3))
        hard = seconds(lambda rig=rig: size_jets(rig, most_sizes=3, keep_pull=1e5), 2)
        solved = size_jets(rig, most_sizes=3).solved
        found.append(Ratio(f"size_jets / every set of the box solved at once: {name}", sized / floor, 0.2))
        found.append(Ratio(f"the same where no set keeps the pull asked for: {name}", hard / floor, 1.0))
        words.append(
            f"{name}: the box makes {box.count:,} sets, {near:,} within 1/1.5 and 1.5 of the matched area; "
            f"{solved:,} solved to be sure, in {sized * 1e3:.0f} ms."
        )

    rig = demo_rig("yard_trailer")
    one = seconds(lambda: operating_point(rig), 50)
    choices = seconds(lambda: hose_choices(rig, 1))
    steps = seconds(lambda: step_downs(rig, total_length=76.2, small_length=15.2), 2)
    loop = one * len(hose_choices(rig, 1))
    found.append(Ratio("hose_choices of the whole table / as many operating points one by one", choices / loop, 1.0))
    words.append(f"step_downs of every pair at 21 places: {steps / one:.0f} scalar operating points.")
    return tuple(found), tuple(words)


if __name__ == "__main__":
    print(printed(*ratios()))
