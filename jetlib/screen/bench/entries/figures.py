"""The figures that one operating point is judged by, in the order in which the bench tells them."""

from collections.abc import Callable
from typing import NamedTuple


class Figure(NamedTuple):
    """What a figure is called, its kind of `units`, and of(point): its value (SI) at an OperatingPoint."""

    label: str
    kind: str
    of: Callable


FIGURES = (
    Figure("gauge", "pressure", lambda point: point.gauge),
    Figure("nozzle flow", "flow", lambda point: point.nozzle_flow),
    Figure("nozzle pressure", "pressure", lambda point: point.nozzle_pressure),
    Figure("power at the jets", "power", lambda point: point.power_shares["jets"]),
    Figure("pull", "force", lambda point: point.reaction),
    Figure("bypass", "flow", lambda point: point.bypass_flow + point.leak_flow),
)
#: What is told of besides, where two rigs are compared.
MORE = (
    Figure("lost in the hose", "pressure", lambda point: point.hose_loss),
    Figure("power at the shaft", "power", lambda point: point.shaft_power),
)
