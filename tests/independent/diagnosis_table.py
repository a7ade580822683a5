"""How often `jetlib.diagnose` is right on faulty rigs that are not its own, and how sure it is.

`python tests/independent/diagnosis_table.py` prints the table and writes data/reference/diagnosis_table.csv, which the
evidence page reads.
"""

import csv
import sys
from pathlib import Path

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE))
import faulty_rigs  # noqa: E402

from jetlib import (  # noqa: E402
    BucketTest,
    EngineSound,
    GaugeReading,
    ReturnSeen,
    SpeedReading,
    demo_rig,
    diagnose,
)

RESULTS = HERE.parents[1] / "data" / "reference" / "diagnosis_table.csv"
#: Readings cannot tell these apart; only a look at the nozzle can.
SAME = {"smaller set": "jet plugged", "larger set": "jets worn"}
SETS = {
    "gauge and return": ("gauge", "return"),
    "and flow": ("gauge", "return", "flow"),
    "and flow, tachometer, sound": ("gauge", "return", "flow", "tachometer", "sound"),
}
MAKERS = {
    "gauge": lambda value, word: GaugeReading(value, throttle=word),
    "return": lambda value, word: ReturnSeen(value, throttle=word),
    "flow": lambda value, word: BucketTest(flow=value, throttle=word),
    "tachometer": lambda value, word: SpeedReading(value, throttle=word),
    "sound": lambda value, word: EngineSound(value, throttle=word),
}


def judged(found, truth, kinds):
    """What the diagnosis of one case says: (place of the true cause, from 0; probability of the first; cause named)."""
    readings = [MAKERS[kind](value, word) for kind, word, value in found if kind in kinds]
    diagnosis = diagnose(demo_rig(truth["rig"]), readings)
    chances = {}
    for cause in diagnosis.causes:
        name = SAME.get(cause.name, cause.name)
        chances[name] = chances.get(name, 0.0) + cause.probability
    ranked = sorted(chances, key=chances.get, reverse=True)
    return ranked.index(truth["cause"]), chances[ranked[0]], ranked[0], diagnosis.fits


def table(seed=0, each=4):
    """Rows (readings, shapes, cases, first, first two, sure, sure and right, fits) as dicts of text and numbers."""
    found = list(faulty_rigs.cases(seed, each))
    rows = []
    for words, kinds in SETS.items():
        results = [(truth, judged(readings, truth, kinds)) for readings, truth in found]
        for shapes, kept in (("first", (0,)), ("second", (1,)), ("both", (0, 1))):
            mine = [result for truth, result in results if truth["shape"] in kept]
            sure = [place for place, chance, _, _ in mine if chance > 0.95]
            rows.append(
                {
                    "readings": words,
                    "shapes": shapes,
                    "cases": len(mine),
                    "first": sum(place == 0 for place, *_ in mine) / len(mine),
                    "first_two": sum(place <= 1 for place, *_ in mine) / len(mine),
                    "sure": len(sure),
                    "sure_right": sum(place == 0 for place in sure) / max(len(sure), 1),
                    "fits": sum(fits for *_, fits in mine) / len(mine),
                }
            )
    return rows


def main():
    each = int(sys.argv[1]) if len(sys.argv) > 1 else 4
    rows = table(each=each)
    for row in rows:
        print("  ".join(f"{value:.3f}" if isinstance(value, float) else str(value) for value in row.values()))
    if len(sys.argv) < 3:
        with open(RESULTS, "w", newline="", encoding="utf-8") as file:
            writer = csv.DictWriter(file, rows[0], lineterminator="\n")
            writer.writeheader()
            writer.writerows({k: f"{v:.4f}" if isinstance(v, float) else v for k, v in row.items()} for row in rows)


if __name__ == "__main__":
    main()
