"""One fact of the trade: its words, the range it is claimed to hold over, and the machines it is tried on.

A fact is a function that returns the number the fact speaks of, for many machines at once; its docstring is the fact
in plain words. All are *common practice, no source*: no standard or paper is claimed for them, and a fact that comes
out right only says that the course and the trade agree.
"""

from dataclasses import dataclass

import numpy as np
from evaluate_units import FACTORS, FOOT, HORSEPOWER, INCH, POUND_FORCE, PSI

from jetlib import Hose, Jet, Nozzle, Pump, Rig, Unloader
from jetlib.physics import hose as hose_physics
from jetlib.physics import water
from jetlib.tables import hose as hose_size

__all__ = ["FOOT", "GPM", "HORSEPOWER", "INCH", "MIXED", "POUND_FORCE", "PSI", "Fact", "Machines", "fact", "machines"]

GPM = FACTORS["gpm"]
CONFIDENCE = "common practice, no source"
MIXED = (
    "any machine of 1500 to 4000 psi on 1/4 to 3/4 in hose, 2 to 7 m/s in it, that loses 5 to 60 % of the pressure; "
    "water at 5 to 30 degC, jets of any edge"
)


@dataclass(frozen=True)
class Fact:
    """A fact and what came of trying it: it `holds` if all that was computed lies within low and high."""

    id: str
    words: str
    range: str
    unit: str
    low: float
    high: float
    computed_low: float
    computed_high: float
    tried: int
    confidence: str = CONFIDENCE

    @property
    def holds(self):
        return self.low <= self.computed_low <= self.computed_high <= self.high


FACTS = {}  # id -> (function, low, high, unit, range), in the order they are written


def fact(low, high, unit="", *, over):
    """Mark a function of a random generator as a fact: its numbers lie from `low` to `high` (`unit`) `over` a range."""

    def note(function):
        FACTS[function.__name__] = (function, low, high, unit, over)
        return function

    return note


@dataclass(frozen=True)
class Machines:
    """Many machines, each field an array (SI). The jets are matched: full throttle just brings full pressure."""

    flow: np.ndarray
    setting: np.ndarray
    efficiency: np.ndarray
    idle: np.ndarray
    rise: np.ndarray
    bore: np.ndarray
    length: np.ndarray
    roughness: np.ndarray
    kelvin: np.ndarray
    coefficient: np.ndarray
    holes: np.ndarray
    area: np.ndarray  # of all jets, m2

    def rig(self, *, area=1.0, hoses=None, valve=True, **pump):
        """The rigs: `area` times their jets, other hoses, no valve near, or another pump, where asked for."""
        given = {"rated_flow": self.flow, "volumetric_efficiency": self.efficiency, "idle_speed": 150 * self.idle}
        return Rig(
            pump=Pump(**{**given, "rated_speed": 150.0, "rated_pressure": self.setting, **pump}),
            valve=Unloader(self.setting if valve else 4 * self.setting, rise=self.rise),
            hoses=[self.hose()] if hoses is None else hoses,
            nozzle=Nozzle(
                Jet(
                    np.sqrt(4 / np.pi * area * self.area / self.holes),
                    self.holes,
                    discharge_coefficient=self.coefficient,
                )
            ),
            water_temperature=self.kelvin,
        )

    def hose(self, bore=1.0, length=1.0):
        """Their hose, with `bore` and `length` times its own."""
        return Hose(self.bore * bore, self.length * length, roughness=self.roughness)

    def matched_area(self, *, pressure=None, efficiency=None):
        """Area of the jets that use what the hose leaves of `pressure` (the setting) at full throttle, m2."""
        return self._matched(self.setting if pressure is None else pressure, efficiency)[0]

    def _matched(self, pressure, efficiency=None):
        efficiency = self.efficiency if efficiency is None else efficiency
        density = water.density(self.kelvin)
        flow = self.flow * (1 - (1 - efficiency) * pressure / self.setting)
        loss = hose_physics.pressure_loss(
            flow,
            bore=self.bore,
            length=self.length,
            roughness=self.roughness,
            density=density,
            viscosity=water.viscosity(self.kelvin),
        )
        left = np.maximum(pressure - loss, 1.0)
        return flow / self.coefficient / np.sqrt(2 * left / density), loss / pressure

    def take(self, where):
        return Machines(**{name: value[where] for name, value in vars(self).items()})


def machines(random, count=4000):
    """Machines of the range MIXED, drawn at random; about half of `count` are left."""
    bore = random.choice([hose_size(dash).bore for dash in (4, 5, 6, 8, 10, 12)], count)
    drawn = Machines(
        flow=np.pi / 4 * bore**2 * random.uniform(2, 7, count),
        setting=random.uniform(1500, 4000, count) * PSI,
        efficiency=random.uniform(0.88, 1.0, count),
        idle=random.uniform(0.35, 0.5, count),
        rise=random.uniform(0.06, 0.1, count),
        bore=bore,
        length=random.uniform(50, 500, count) * FOOT,
        roughness=np.exp(random.uniform(np.log(1.5e-6), np.log(3e-5), count)),
        kelvin=random.uniform(278.15, 303.15, count),
        coefficient=random.uniform(0.62, 0.95, count),
        holes=random.integers(3, 9, count),
        area=np.ones(count),
    )
    area, share = drawn._matched(drawn.setting)
    drawn = Machines(**{**vars(drawn), "area": area})
    return drawn.take((share > 0.05) & (share < 0.6))
