"""Formulas, one source each: SI floats or arrays in, SI out. This room imports numpy and nothing else.

`physics.water`, `physics.hose` and the other modules load when they are first used.
"""

from importlib import import_module
from pkgutil import iter_modules

__all__ = sorted(module.name for module in iter_modules(__path__))  # noqa: PLE0605


def __getattr__(name):
    if name not in __all__:
        raise AttributeError(f"jetlib.physics has no {name!r}; it has {', '.join(__all__)}")
    return import_module(f"{__name__}.{name}")
