"""No function of physics warns or gives infinity for finite numbers: it refuses, or answers."""

import contextlib
import importlib
import inspect
import itertools
import pkgutil
import warnings

import numpy as np
import pytest

from jetlib import physics
from jetlib.errors import JetlibError

#: Infinite on purpose, and said so: a tank that never empties or never warms, a rope round a post without end.
ENDLESS = {"emptying_time", "true_time", "tank_warm_up_time", "capstan_ratio"}
#: Lists of hoses, or the solver's own steps, which get only what they made themselves.
SKIPPED = {"hose_tension", "pull_back_tension", "reach_distance", "colebrook_start", "colebrook_step",
           "factor_and_slope", "coil_ratio_and_slope", "coil_ratio_step", "flow_and_slope"}  # fmt: skip
#: Called thousands of times a second with what the parts have let in; see tests/rig/point/test_doors.py.
STEPS = {"unloader_flow_and_slope", "hole_flow_and_slope"}
HUGE_AND_TINY = {False: (1e-300, 1e-30, 1e30, 1e160, -1e300), True: (1e-30, 1e30)}
USUAL = {
    "temperature": 290.0, "density": 1000.0, "viscosity": 1e-3, "bore": 0.01, "length": 10.0, "roughness": 1e-5,
    "flow": 5e-4, "pressure": 1e7, "diameter": 0.3, "slope": 0.01, "factor": 0.02, "reynolds": 5e4, "efficiency": 0.9,
    "plungers": 3,
}  # fmt: skip


def functions():
    for module in pkgutil.iter_modules(physics.__path__):
        here = importlib.import_module(f"jetlib.physics.{module.name}")
        for name, function in inspect.getmembers(here, inspect.isfunction):
            own = function.__module__ == here.__name__ and module.name != "values" and name[0] != "_"
            if own and name not in SKIPPED:
                yield pytest.param(function, id=f"{module.name}.{name}")


@pytest.mark.parametrize("function", functions())
def test_finite_in_finite_out(function):
    given = {
        name: next((value for key, value in USUAL.items() if key in name), 0.5)
        for name, item in inspect.signature(function).parameters.items()
        if item.default is item.empty or type(item.default) in (int, float)
    }
    pairs = [(), *itertools.combinations(given, 1), *itertools.combinations(given, 2)]
    for names, odd in itertools.product(pairs, (0.0, 1e-6, -1.0, *HUGE_AND_TINY[function.__name__ in STEPS])):
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            try:
                found = _called(function, {**given, **dict.fromkeys(names, odd)})
            except JetlibError:
                continue
        if function.__name__ not in ENDLESS:
            assert np.isfinite(np.asarray(found, dtype=float)).all(), (names, odd)


@pytest.mark.parametrize("function", [each for each in functions() if each.id.split(".")[1] not in STEPS])
@pytest.mark.parametrize("odd", ["9 gpm", None, [1.0, "2"], object, b"5", {}, (np.ones(2), np.ones(3)), np.ones(0)])
def test_what_is_no_number_is_refused_in_words(function, odd):
    """Nothing in place of a number, nor arrays that do not go together, ends in an error of Python's own."""
    kinds = inspect.signature(function).parameters
    for names in (kinds, *([name] for name in kinds)):
        given = {name: next((value for key, value in USUAL.items() if key in name), 0.5) for name in kinds}
        shapes = itertools.cycle(odd) if isinstance(odd, tuple) else itertools.repeat(odd)
        with contextlib.suppress(JetlibError):
            _called(function, {**given, **dict(zip(names, shapes, strict=False))})


def _called(function, given):
    kinds = inspect.signature(function).parameters
    first = [value for name, value in given.items() if kinds[name].kind is not inspect.Parameter.KEYWORD_ONLY]
    rest = {name: value for name, value in given.items() if kinds[name].kind is inspect.Parameter.KEYWORD_ONLY}
    return function(*first, **rest)
