"""The front door: names load when asked for, and the door itself opens about as quickly as numpy."""

import subprocess
import sys

import numpy as np
import pytest

import jetlib

CONSTANTS = {"DEBRIS"}
HEAVY = ("pint", "matplotlib", "ipywidgets", "IPython", "scipy", "fluids", "iapws", "tomli_w")


def run(code):
    return subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=120).stdout


def test_every_name_is_there_and_documented():
    for name in jetlib.__all__:
        found = getattr(jetlib, name)
        if name not in CONSTANTS:
            assert found.__name__ == name
            assert found.__doc__ and found.__module__.startswith("jetlib.")
    assert set(jetlib.__all__) <= set(dir(jetlib))
    assert {"Pump", "Engine", "Unloader", "BurstDisc", "Hose", "Fitting", "Jet", "Nozzle", "Rig"} <= set(jetlib.__all__)
    assert {"operating_point", "throttle_sweep", "load_rig", "save_rig", "JetlibError"} <= set(jetlib.__all__)


def test_a_name_that_is_not_there():
    with pytest.raises(AttributeError, match=r"no 'Pomp'; it has .*Pump"):
        jetlib.Pomp  # noqa: B018
    assert not hasattr(jetlib, "nothing")


def test_the_door_loads_nothing_heavy():
    loaded = run("import sys, jetlib; print(*sys.modules)").split()
    assert "jetlib" in loaded
    assert not {name.split(".")[0] for name in loaded} & {*HEAVY, "numpy"}


def test_a_rig_in_si_loads_nothing_heavy():
    # numbers in SI never wait for the unit registry, nor for a picture
    code = (
        "import sys\n"
        "from jetlib import Hose, Jet, Nozzle, Pump, Rig, Unloader, operating_point\n"
        "rig = Rig(Pump(5e-4), Unloader(2e7), [Hose(0.0127, 60.0)], Nozzle([Jet(1.2e-3, 4)]))\n"
        "print(operating_point(rig).gauge > 0, *sys.modules)"
    )
    solved, *loaded = run(code).split()
    assert solved == "True" and "numpy" in loaded
    assert not {name.split(".")[0] for name in loaded} & set(HEAVY)


def test_opening_costs_little_more_than_numpy():
    # jetlib without a name loads not even numpy; with the engine it must stay within a few times numpy's own time
    code = (
        "import time\n"
        "start = time.perf_counter(); import numpy; middle = time.perf_counter()\n"
        "from jetlib import Rig, operating_point; end = time.perf_counter()\n"
        "print(middle - start, end - middle)"
    )
    runs = [tuple(map(float, run(code).split())) for _ in range(3)]
    numpy_time, own_time = (min(times) for times in zip(*runs, strict=True))
    assert own_time < 2.0 * numpy_time + 0.05


def test_public_functions_of_the_design_take_floats_and_give_floats():
    from jetlib.physics import channel, friction, heat, hose, orifice, pump, reaction, water

    found = [
        water.density(293.15),
        water.density(293.15, pressure=2e7),
        water.viscosity(293.15),
        water.vapour_pressure(293.15),
        friction.darcy_factor(1e5, 1e-4),
        friction.coil_ratio(1e5, 0.0127, 0.4),
        hose.pressure_loss(5e-4, bore=0.0127, length=60.0, roughness=1e-5, density=998.0, viscosity=1e-3),
        orifice.flow(1e7, area=1e-6, discharge_coefficient=0.7, density=998.0),
        orifice.pressure(1e-4, area=1e-6, discharge_coefficient=0.7, density=998.0),
        reaction.jet_reaction(1e-4, 1e7, density=998.0, velocity_coefficient=0.97, angle=0.5),
        pump.hydraulic_power(5e-4, 1e7),
        pump.shaft_power(5e-4, 1e7, 0.85),
        heat.temperature_rise(1e7, density=998.0, specific_heat=4184.0),
        channel.full_pipe_flow(0.1, 0.02, 0.013),
        channel.depth_ratio(1e-3, 0.1, 0.02, 0.013),
    ]
    assert all(type(value) is float and np.isfinite(value) for value in found)
