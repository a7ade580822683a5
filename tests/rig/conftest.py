"""Random rigs for the property tests: `st.from_type(Rig)`, parts from a toy to a large truck, sound or sick."""

import numpy as np
from hypothesis import strategies as st

from jetlib import BurstDisc, Engine, Fitting, Hose, Jet, Nozzle, Pump, Rig, Unloader


def between(low, high):
    """Floats spread evenly over the logarithm of their range."""
    return st.floats(np.log(low), np.log(high)).map(lambda x: float(np.exp(x)))


pumps = st.builds(
    Pump,
    between(1e-5, 5e-3),
    idle_speed=st.sampled_from([None, 0.0, 5.0]),
    volumetric_efficiency=st.sampled_from([1.0, 0.95, 0.5, 0.2]),
    rated_pressure=between(5e6, 1e8),
    mechanical_efficiency=st.floats(0.5, 1.0),
)
engines = st.builds(
    Engine,
    between(500.0, 2e5),
    altitude=st.floats(0.0, 4000.0),
    kind=st.sampled_from(["naturally aspirated", "electric"]),
)
seats = st.sampled_from([0.0, 1e-5, 5e-4, 3e-3])
unloaders = st.builds(
    Unloader,
    between(2e6, 1e8),
    rise=st.sampled_from([0.0, 1e-6, 0.03, 0.08, 1.0]),
    trapping=st.booleans(),
    seat_leak=seats,
)
discs = st.builds(BurstDisc, between(2e6, 1e8), bore=between(2e-3, 0.02), opened=st.booleans(), seat_leak=seats)
valves = st.one_of(st.just([]), unloaders.map(lambda v: [v]), discs.map(lambda v: [v]), st.tuples(unloaders, discs))


@st.composite
def hoses(draw):
    """One hose, short or long, some of it on a reel or not, with or without mean ends."""
    bore = draw(between(2e-3, 0.04))
    length = draw(st.one_of(st.just(0.0), between(0.01, 500.0)))
    coil = draw(st.one_of(st.none(), between(8.0, 80.0).map(lambda turns: max(turns * bore, 0.04))))
    ends = draw(st.one_of(st.none(), st.floats(0.4, 1.0).map(lambda share: max(share * bore, 1e-3))))
    on_reel = None if coil is None else length * draw(st.sampled_from([0.0, 0.5, 1.0]))
    roughness = draw(st.sampled_from([0.0, 1.5e-6, 1e-5, 5e-5]))
    return Hose(bore, length, roughness=roughness, coil_diameter=coil, coiled_length=on_reel, end_bore=ends)


jets = st.builds(
    Jet,
    between(3e-4, 6e-3),
    count=st.sampled_from([0, 1, 4, 40]),
    angle=st.floats(0.0, np.pi),
    discharge_coefficient=st.floats(0.5, 1.0),
)
nozzles = st.one_of(
    st.builds(Nozzle, st.lists(jets, min_size=1, max_size=4)),
    st.builds(
        Nozzle,
        st.lists(jets, min_size=1, max_size=4),
        body_bore=between(4e-3, 0.02),
        body_loss_coefficient=st.floats(0, 5),
    ),
)
fittings = st.builds(Fitting, between(4e-3, 0.03), loss_coefficient=st.floats(0.0, 10.0), count=st.integers(0, 3))

rigs = st.builds(
    Rig,
    pump=pumps,
    valve=valves,
    hoses=st.lists(hoses(), max_size=3),
    nozzle=nozzles,
    engine=st.one_of(st.none(), engines),
    fittings=st.lists(fittings, max_size=2),
    water_temperature=st.floats(273.15, 333.15),
    lift=st.one_of(st.just(0.0), st.floats(-50.0, 100.0)),
    outlet_shut=st.sampled_from([False, False, False, True]),
)

st.register_type_strategy(Rig, rigs)
