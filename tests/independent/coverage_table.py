"""How many of the rigs that fit what is known lie within the band, on rigs that are not jetlib's own.

`python tests/independent/coverage_table.py` prints the table and writes data/reference/coverage_table.csv, which the
evidence page reads. Truths are drawn and worked out by yard.py; only the band comes from jetlib.
"""

import csv
import sys
from pathlib import Path

import numpy as np

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE))
import yard  # noqa: E402

RESULTS = HERE.parents[1] / "data" / "reference" / "coverage_table.csv"
READINGS = {"gauge": "gauge", "nozzle_flow": "nozzle_flow", "nozzle_pressure": "nozzle_pressure", "reaction": "pull"}
THROTTLES = (0.0, 0.5, 1.0)
SCALES = (60, 100, 160, 250, 400, 600)  # bar


def truths(name, spread, *, count=2000, seed=0):
    """A yard rig as `count` rigs that fit what is known of it: every uncertain number an array.

    spread: "middle" (drills, bores of the standard, wall, reel, water, slip, speed, end fittings, setting; edge within
    0.07), or "wide" (any edge from sharp to worn, and wear).
    """
    rng = np.random.default_rng([seed, yard.NAMES.index(name)])
    r = yard.rig(name)

    def near(half):
        return 1 + rng.uniform(-half, half, count)

    wide = spread == "wide"
    edge = rng.uniform(0.60, 0.82, count) if wide else None
    shift = rng.uniform(-0.07, 0.07, count)
    wear = rng.uniform(0.0, 0.03, count) if wide else 0.0
    jets = [
        {
            **jet,
            "bore": (jet["bore"] + rng.uniform(-25.4e-6, 25.4e-6, count)) * (1 + wear),
            "discharge_coefficient": edge if wide else jet["discharge_coefficient"] + shift,
        }
        for jet in r["jets"]
    ]
    miss = near(0.15)
    hoses = []
    for hose in r["hoses"]:
        limit = yard.BORE_LIMIT[hose["nominal"]] / 1e3
        one = {
            **hose,
            "bore": hose["bore"] + rng.uniform(-limit, limit, count),
            "roughness": hose["roughness"] * 10 ** rng.uniform(-0.8, 0.48, count),
            "reel_miss": miss,
        }
        if hose["coil_diameter"] is not None:
            one["coil_diameter"] = hose["coil_diameter"] * near(0.2)
        hoses.append(one)
    pump = {
        **r["pump"],
        "rated_flow": r["pump"]["rated_flow"] * near(0.03),
        "volumetric_efficiency": rng.uniform(0.88, 0.98, count),
    }
    valve = {
        **r["unloader"],
        "setting": r["unloader"]["setting"] * near(0.03),
        "rise": r["unloader"]["rise"] * near(0.5),
    }
    return {
        **r,
        "jets": jets,
        "hoses": hoses,
        "pump": pump,
        "unloader": valve,
        "speed_error": rng.uniform(-0.03, 0.03, count),
        "end_loss": rng.uniform(0.0, 4.0, count),
        "temperature": r["temperature"] + rng.uniform(-5, 5, count),
    }, rng.uniform(-0.016, 0.016, count)


def covered(name, spread, throttle, band, *, count=2000, seed=0):
    """Share of the truths whose reading lies within the band, by reading."""
    rig, needle = truths(name, spread, count=count, seed=seed)
    at = yard.state(rig, throttle)
    scale = 1e5 * min(s for s in SCALES if 0.75e5 * s >= yard.rig(name)["unloader"]["setting"] * 1.08)
    found = {reading: np.asarray(at[own]) for reading, own in READINGS.items()}
    found["gauge"] = np.maximum(found["gauge"] + needle * scale, 0.0)
    return {
        reading: float(np.mean((values >= band.low(reading, throttle)) & (values <= band.high(reading, throttle))))
        for reading, values in found.items()
    }


def table(count=2000):
    """Rows of the table: rig, throttle, spread and the share covered of each reading."""
    from jetlib import demo_rig, uncertainty_band

    rows = []
    for name in yard.NAMES:
        band = uncertainty_band(demo_rig(name), THROTTLES)
        for spread in ("middle", "wide"):
            for throttle in THROTTLES:
                shares = covered(name, spread, throttle, band, count=count)
                rows.append({"rig": name, "spread": spread, "throttle": throttle, **shares})
    return rows


def main():
    rows = table()
    for row in rows:
        print("  ".join(f"{value:.3f}" if isinstance(value, float) else str(value) for value in row.values()))
    with open(RESULTS, "w", newline="", encoding="utf-8") as file:
        writer = csv.DictWriter(file, rows[0], lineterminator="\n")
        writer.writeheader()
        writer.writerows({k: f"{v:.4g}" if isinstance(v, float) else v for k, v in row.items()} for row in rows)


if __name__ == "__main__":
    main()
