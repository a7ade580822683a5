"""How sure a plan's numbers are: the rig's unknowns, the hose's weight and friction, the pipe's wall, all drawn."""

from dataclasses import dataclass, replace

import numpy as np

from jetlib.physics import water
from jetlib.physics.hose_drag import hose_tension, pull_back_tension, reach_distance
from jetlib.rig.hoses.weight import hose_mass, weight_per_metre
from jetlib.rig.job.flushing import flushing
from jetlib.rig.job.reach import FRICTION_RANGE, line_weights
from jetlib.rig.uncertainty.band import Band, stratified_column, uncertainty_band
from jetlib.rig.uncertainty.unknowns import Triangular, Uniform

#: Weight of a hose of unknown make over that of the usual one of its bore: fiber braid to heavy wire braid, by the
#: hoses of the table.
MASS_UNKNOWN = Uniform(0.3, 1.1)
#: Manning's n over the value given. Common practice, no source: 20 % either way for a pipe nobody has looked at.
N_UNKNOWN = Uniform(0.8, 1.2)
_STREAM = 7919  # keeps these columns apart from those of the rig's own band


@dataclass(frozen=True)
class PlanDraws:
    """`values`: name -> draws; `band`: the rig's own, at the job's throttle. A band here holds eight draws in ten."""

    band: Band
    values: dict

    def low(self, name):
        """What one draw in ten stays below."""
        return self._at(name, 0.1)

    def high(self, name):
        """What one draw in ten goes beyond."""
        return self._at(name, 0.9)

    def share_below(self, name, limit):
        """Share (0 to 1) of the draws below `limit`."""
        return float(np.mean(self.values[name] < limit))

    def _at(self, name, share):
        return float(np.quantile(self.values[name], share, method="nearest"))  # no mean of infinite with finite


def spread_of(rig, job, reach, supply, *, unknowns, seed=0, samples=2000):
    """The PlanDraws of a job with `rig`; reach and supply are those of the rig as it stands."""
    band = uncertainty_band(rig, [job.throttle], unknowns=unknowns, samples=samples, seed=seed)
    drawn = {name: values[:, 0] for name, values in band.samples.items()}
    friction, mass, rough = (
        spread.quantile(stratified_column(samples, (seed, _STREAM, number)))
        for number, spread in enumerate((Triangular(*FRICTION_RANGE), MASS_UNKNOWN, N_UNKNOWN))
    )
    drain = job.drain
    line = {
        "weights": _weights(rig, drain, mass),
        "lengths": [hose.length for hose in rig.hoses],
        "friction": friction,
        "bends": [(bend.at, bend.angle) for bend in drain.bends],
        "rise": drain.rise,
    }
    pull = drawn["reaction"]
    distance = reach_distance(pull, entry_pull=reach.entry_pull, **line)
    end = min(drain.length, reach.hose_distance)
    point = replace(
        supply.point,
        gauge=drawn["gauge"],
        nozzle_flow=drawn["nozzle_flow"],
        bypass_flow=drawn["bypass_flow"],
        pump_flow=drawn["nozzle_flow"] + drawn["bypass_flow"] + supply.point.leak_flow,
    )
    drawn_supply = replace(supply, point=point)
    run_off = flushing(drawn["nozzle_flow"], drain.replace(manning_n=np.clip(drain.manning_n * rough, 0.005, 0.05)))
    values = {
        **drawn,
        "pull_distance": distance,
        "reach": np.minimum(distance, end),
        "pull_left": pull - np.asarray(hose_tension(end, entry_pull=reach.entry_pull, **line)),
        "pull_back": pull_back_tension(end, nozzle_pull=pull, **line),
        "tank_time": drawn_supply.tank_time,
        "limit_time": drawn_supply.limit_time,
        "heating_power": drawn_supply.heating_power,
        "depth_ratio": run_off.depth_ratio,
        "velocity": run_off.velocity,
        "shear": run_off.shear,
        "largest_grain": run_off.largest_grain,
    }
    return PlanDraws(band, {name: np.broadcast_to(value, (samples,)) for name, value in values.items()})


def _weights(rig, drain, mass):
    """Weight of each hose, N/m: one number where its mass is given, draws where it is not."""
    density = water.density(rig.water_temperature)
    known = line_weights(rig, flooded=drain.flooded)
    found = []
    for hose, weight in zip(rig.hoses, known, strict=True):
        if hose.mass_per_metre is None:
            usual = hose_mass(hose)
            whole = weight_per_metre(usual, hose.bore, density=density)
            lighter = weight_per_metre(usual * mass, hose.bore, density=density) - whole
            weight = np.maximum(weight + lighter, 0.0)
        found.append(weight)
    return found
