"""Faulty rigs that know nothing of jetlib's faults: what is wrong in the iron, in two shapes, and what is read.

Each cause has two shapes: the first as a textbook draws it, the second as another worn part shows the same cause. The
rig itself is not quite what is written down either. `case(cause, shape, rig, seed)` gives the readings as plain tuples.
"""

import numpy as np
import yard

THROTTLES = {"idle": 0.0, "half": 0.5, "full": 1.0}
SEEN = 0.01  # of the rated flow: a stream that somebody notices
LABOURS = 0.95  # load from which an engine is heard to labour


def _share(jets, factor):
    return [{**jet, "discharge_coefficient": jet["discharge_coefficient"] * factor} for jet in jets]


def plugged_holes(rng, r):
    """Whole holes shut: one or two of the rear ones."""
    jets = [dict(jet) for jet in r["jets"]]
    jets[0]["count"] -= int(rng.integers(1, 3)) if jets[0]["count"] > 3 else 1
    return {**r, "jets": jets}, {}, (1.0, 0.0)


def furred_holes(rng, r):
    return {**r, "jets": _share(r["jets"], 1 - rng.uniform(0.12, 0.5))}, {}, (1.0, 0.0)


def worn_edges(rng, r):
    return {**r, "jets": _share(r["jets"], 1 + rng.uniform(0.12, 0.5))}, {}, (1.0, 0.0)


def worn_bores(rng, r):
    """The same layer gone from every hole: the smallest grow most."""
    layer = rng.uniform(0.06, 0.22) * r["jets"][0]["bore"]
    return {**r, "jets": [{**jet, "bore": jet["bore"] + layer} for jet in r["jets"]]}, {}, (1.0, 0.0)


def _only(fault):
    def shape(rng, r):
        return r, fault(rng, r), (1.0, 0.0)

    return shape


def _needle(factor, offset):
    def shape(rng, r):
        return r, {}, (factor(rng), offset(rng) * r["unloader"]["setting"])

    return shape


def smaller_last_hose(rng, r):
    """A stretch of thinner hose, or one crushed along its length: friction, not a hole."""
    hoses = [dict(hose) for hose in r["hoses"]]
    hoses[-1]["bore"] *= rng.uniform(0.62, 0.82)
    return {**r, "hoses": hoses}, {}, (1.0, 0.0)


def _even(low, high):
    return lambda rng, r=None: rng.uniform(low, high)


CAUSES = {
    "healthy": (_only(lambda rng, r: {}),) * 2,
    "jet plugged": (plugged_holes, furred_holes),
    "jets worn": (worn_edges, worn_bores),
    "pump weak": (
        _only(lambda rng, r: {"pump_share": 1 - rng.uniform(0.12, 0.5)}),
        _only(lambda rng, r: {"pump_share": 2 / 3}),  # one valve of three stuck
    ),
    "pump slipping": (
        _only(lambda rng, r: {"slip_linear": rng.uniform(0.15, 0.45)}),
        _only(lambda rng, r: {"packing_hole": rng.uniform(0.15, 0.45)}),
    ),
    "valve leaking": (
        _only(lambda rng, r: {"seat_hole": rng.uniform(0.12, 0.6)}),
        _only(lambda rng, r: {"seat_linear": rng.uniform(0.12, 0.5)}),
    ),
    "valve low": (
        _only(lambda rng, r: {"setting_share": 1 - rng.uniform(0.12, 0.5)}),
        _only(lambda rng, r: {"setting_share": 1 - rng.uniform(0.15, 0.5), "rise_more": rng.uniform(0.05, 0.2)}),
    ),
    "hose narrow": (_only(lambda rng, r: {"narrow": rng.uniform(0.3, 2.0)}), smaller_last_hose),
    "gauge low": (
        _needle(lambda rng: 1 - rng.uniform(0.12, 0.4), lambda rng: 0.0),
        _needle(lambda rng: 1.0, lambda rng: -rng.uniform(0.08, 0.25)),
    ),
    "gauge high": (
        _needle(lambda rng: 1 + rng.uniform(0.12, 0.4), lambda rng: 0.0),
        _needle(lambda rng: 1.0, lambda rng: rng.uniform(0.08, 0.25)),
    ),
    "speed low": (
        _only(lambda rng, r: {"top_speed": 1 - rng.uniform(0.12, 0.4)}),
        _only(lambda rng, r: {"speed_cap": 1 - rng.uniform(0.12, 0.4)}),
    ),
    "engine weak": (
        _only(lambda rng, r: {"power_share": _short_by(r, rng.uniform(0.12, 0.4))}),
        _only(lambda rng, r: {"power_share": _short_by(r, rng.uniform(0.12, 0.4)), "constant_torque": True}),
    ),
    "suction starved": (
        _only(lambda rng, r: {"suction_square": rng.uniform(0.15, 0.5)}),
        _only(lambda rng, r: {"flow_cap": 1 - rng.uniform(0.15, 0.5)}),
    ),
    "disc gone": (_only(lambda rng, r: {"disc_gone": True}),) * 2,
}
#: Those whose two shapes an audit named: a speed that stops at a cap, a suction that caps the flow, a needle off by an
#: amount, packings that leak as a hole.
NAMED = ("speed low", "suction starved", "gauge low", "gauge high", "pump slipping")


def _short_by(r, share):
    """Power that lacks `share` of what this rig needs at full throttle, over the engine's own."""
    at = yard.state({**r, "engine": {}}, 1.0)
    return (
        float((1 - share) * at["gauge"] * r["pump"]["rated_flow"] / r["pump"]["mechanical_efficiency"])
        / r["engine"]["power"]
    )


def can_have(cause, r):
    if cause == "engine weak":
        return not r["electric"]
    return bool(r["burst_disc"]) if cause == "disc gone" else True


def not_quite(rng, r, width=1.0):
    """The rig as it is in truth: near what is written down."""

    def near(half):
        return 1 + width * rng.uniform(-half, half)

    return {
        **r,
        "jets": _share(r["jets"], near(0.05)),
        "hoses": [{**hose, "bore": hose["bore"] * near(0.025), "reel_miss": near(0.15)} for hose in r["hoses"]],
        "pump": {**r["pump"], "rated_flow": r["pump"]["rated_flow"] * near(0.03)},
        "unloader": {**r["unloader"], "setting": r["unloader"]["setting"] * near(0.03)},
        "engine": {**r["engine"], "power": r["engine"]["power"] * near(0.08)},
        "temperature": r["temperature"] + width * rng.uniform(-5, 5),
    }  # fmt: skip


def case(cause, shape, name, seed):
    """Readings (kind, throttle word, value SI or bool) of one faulty rig, and the truth: a pair of list and dict."""
    rng = np.random.default_rng([seed, list(CAUSES).index(cause), shape, yard.NAMES.index(name)])
    r = not_quite(rng, yard.rig(name))
    r, fault, (factor, offset) = CAUSES[cause][shape](rng, r)
    scale = 1e5 * min(s for s in (60, 100, 160, 250, 400, 600) if 0.75e5 * s >= r["unloader"]["setting"] * 1.1)
    own = scale * rng.uniform(-0.016, 0.016)
    found = []
    for word, throttle in THROTTLES.items():
        at = yard.state(r, throttle, **fault)
        shown = float(at["gauge"]) * factor + offset + own
        shown += rng.normal() * np.hypot(0.02 * shown, 1e5)
        found.append(("gauge", word, max(shown, 0.0)))
        stream = float(at["return_flow"]) > SEEN * r["pump"]["rated_flow"]
        if word != "idle":
            found.append(("return", word, bool(stream ^ (rng.random() < 0.02))))
    found.append(("flow", "full", float(at["nozzle_flow"]) * (1 + 0.03 * rng.normal())))
    found.append(("tachometer", "full", float(at["speed"]) * (1 + 0.01 * rng.normal())))
    if not r["electric"]:
        found.append(("sound", "full", bool((float(at["load"]) > LABOURS) ^ (rng.random() < 0.02))))
    return found, {"cause": cause, "shape": shape, "rig": name, "state": at}


def cases(seed=0, each=4):
    """Every cause in both shapes on every rig that can have it, `each` times."""
    for name in yard.NAMES:
        r = yard.rig(name)
        for cause in CAUSES:
            if can_have(cause, r):
                for shape in (0, 1):
                    for number in range(each):
                        yield case(cause, shape, name, seed * 1000 + number)
