"""How fast the engine is, as ratios measured in one run. Run: python tests/benchmarks/solver.py [rigs]

Times differ from machine to machine; the ratios hardly do. Every ratio is against a floor timed in the same run.
"""

import resource
import sys
import time

import fluids
import numpy as np
from ratios import Ratio, printed
from scipy.optimize import brentq

from jetlib import Hose, Jet, Nozzle, Pump, Rig, Unloader, operating_point, throttle_sweep
from jetlib.rig.point.circuit import compile_circuit
from jetlib.rig.point.solver import BLOCK

GPM, PSI, INCH, FOOT = 6.30902e-5, 6894.757, 0.0254, 0.3048
DENSITY, VISCOSITY = 999.1, 1.1376e-3  # water at 15 degC, for the loop that uses fluids


def random_rigs(count, seed=20):
    """`count` random rigs as one Rig of arrays: two hoses, one to four jet groups, an unloader."""
    rng = np.random.default_rng(seed)

    def between(low, high):
        return rng.uniform(low, high, count)

    groups = rng.integers(1, 5, count)
    jets = [
        Jet(
            between(0.03, 0.07) * INCH,
            count=np.where(group < groups, rng.integers(1, 5, count), 0),
            discharge_coefficient=between(0.6, 0.95),
        )
        for group in range(4)
    ]
    return Rig(
        pump=Pump(between(3, 20) * GPM, volumetric_efficiency=between(0.9, 1.0)),
        valve=Unloader(between(1500, 4000) * PSI, rise=between(0.02, 0.1)),
        hoses=[
            Hose(
                rng.choice([0.375, 0.5, 0.75], count) * INCH, between(50, 400) * FOOT, roughness=between(2, 30) * 1e-6
            ),
            Hose(rng.choice([0.25, 0.375, 0.5], count) * INCH, between(5, 100) * FOOT, roughness=between(2, 30) * 1e-6),
        ],
        nozzle=Nozzle(jets),
    )


def evaluate_once(rig):
    """The floor: the circuit equation evaluated once on the same arrays, block by block as the solver does it."""
    circuit, shape = compile_circuit(rig, 1.0)
    flow = np.broadcast_to(0.8 * rig.pump.rated_flow, shape).reshape(-1)
    surplus = np.empty(flow.size)
    for start in range(0, flow.size, BLOCK):
        block = slice(start, start + BLOCK)
        part, q = circuit.take(block), flow[block]
        pressure = part.line_pressure_and_slope(q)[0]
        bypass, leak, *_ = part.returned_flow_and_slope(pressure)
        surplus[block] = part.ideal_flow - part.slip * np.maximum(pressure, 0.0) - bypass - leak - q
    return surplus


def solve_in_a_loop(rig, indices):
    """Nozzle flow of some rigs, one at a time, the way one would with general libraries: fluids and brentq."""
    pump, valve, found = rig.pump, rig.valve, []
    # Worked out here for all rigs at once: inside the loop it would be done a million times over for each rig.
    areas, slips = rig.nozzle.effective_area, pump.slip
    for i in indices:
        hoses = [(hose.bore[i], hose.length[i], hose.roughness[i]) for hose in rig.hoses]
        area = float(areas[i])
        rated, slip = pump.rated_flow[i], slips[i]
        setting, rise = valve.setting[i], valve.rise[i]

        def surplus(q, hoses=hoses, area=area, rated=rated, slip=slip, setting=setting, rise=rise):
            pressure = DENSITY / 2.0 * (q / area) ** 2
            for bore, length, roughness in hoses:
                v = q / (np.pi / 4.0 * bore**2)
                factor = fluids.friction_factor(Re=DENSITY * v * bore / VISCOSITY, eD=roughness / bore)
                pressure += factor * length / bore * DENSITY / 2.0 * v * v
            bypass = rated * (max(pressure - setting, 0.0) / (rise * setting)) ** 2
            return rated - slip * pressure - bypass - q

        found.append(brentq(surplus, 1e-9, rated, xtol=1e-15, rtol=1e-12))
    return np.array(found)


def seconds(work, repeats):
    """The best of several timings, s."""
    best = np.inf
    for _ in range(repeats):
        start = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - start)
    return best


def ratios(count=1_000_000):
    """(Ratios, sentences about them)."""
    rig = random_rigs(count)
    floor = seconds(lambda: evaluate_once(rig), 2)
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    whole = seconds(lambda: operating_point(rig), 2)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    point = operating_point(rig)
    imbalance = np.abs(point.pump_flow - point.nozzle_flow - point.bypass_flow - point.leak_flow) / point.pump_flow

    sample = np.arange(0, count, max(count // 200, 1))[:200]
    loop = (
        seconds(lambda: solve_in_a_loop(rig, sample), 2) - seconds(lambda: solve_in_a_loop(rig, []), 2)
    ) / sample.size
    agreement = np.max(np.abs(solve_in_a_loop(rig, sample) / point.nozzle_flow[sample] - 1.0))

    yard = Rig(
        pump=Pump(8 * GPM, volumetric_efficiency=0.95),
        valve=Unloader(3000 * PSI),
        hoses=[Hose(0.5 * INCH, 200 * FOOT), Hose(0.375 * INCH, 100 * FOOT)],
        nozzle=Nozzle([Jet(0.05 * INCH, 4), Jet(0.04 * INCH, 1)]),
    )
    throttles = np.linspace(0.0, 1.0, 200)
    circuit, _ = compile_circuit(yard, throttles)
    flows = yard.pump.swept_flow(throttles) * 0.8

    def equation():
        pressure = circuit.line_pressure_and_slope(flows)[0]
        bypass, leak, *_ = circuit.returned_flow_and_slope(pressure)
        return circuit.ideal_flow - circuit.slip * pressure - bypass - leak - flows

    equation_time = seconds(equation, 200)
    sweep_time = seconds(lambda: throttle_sweep(yard, throttles), 200)

    found = (
        Ratio(f"{count:,} rigs solved / equation evaluated once on them", whole / floor, 6.0),
        Ratio("fluids + brentq in a loop / this solver, per rig", loop / (whole / count), 60.0, least=True),
        Ratio("throttle_sweep of 200 / equation once on 200 points", sweep_time / equation_time, 20.0),
        Ratio("peak memory of the process, GB", peak / 1e6, 1.0),
    )
    words = (
        f"Worst flow imbalance over all rigs: {imbalance.max():.1e} of the pump flow (promise: 1e-9).",
        f"Worst difference from the loop: {agreement:.1e} (the loop rounds density and viscosity of water).",
        "Row 1: the solver's whole job, answers included, in units of one look at the equation: lower is better.",
        "Row 2: what a loop over general libraries costs beside it: higher is better.",
        "Row 3: small batches, where the cost is Python rather than arithmetic: lower is better.",
        f"Row 4: {before / 1e6:.2f} GB of it was the rigs themselves and the libraries, before solving.",
    )
    return found, words


if __name__ == "__main__":
    print(printed(*ratios(*map(int, sys.argv[1:2]))))
