"""What choosing hose needs whatever the question: sizes of the table, what stands against one, how they are ranked."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from jetlib import tables
from jetlib.errors import JetlibError
from jetlib.physics import water
from jetlib.rig.hoses.surge import highest_pressure, pressures_needed
from jetlib.rig.hoses.weight import PipeRun, drag, hose_mass, reach, usual_outside, water_mass, weight_per_metre
from jetlib.rig.parts.machine import Rig
from jetlib.rig.parts.part import require_choice, require_kind, require_one
from jetlib.rig.point.cautions import SEE_THE_MANUAL
from jetlib.rig.point.circuit import compile_one
from jetlib.rig.point.operating_point import operating_point
from jetlib.units import both, si

#: How far the working pressure should stand above the highest pressure. Common practice, no source.
USUAL_RESERVE = 0.10
#: What hoses can be ranked by, and the sign that puts the best first.
RANKS = {"pull_left": -1, "reach": -1, "nozzle_flow": -1, "jet_power": -1, "hose_loss": 1, "mass_full": 1}
_LONGEST = 1e4  # m, beyond any line
_DRAGGING = (
    "Drag is calculated for a level pipe with one friction coefficient. Joints, roots, dirt and a stiff hose add to "
    "it; a film of water reduces it. Use it to compare hoses, not to promise a distance. "
)


@dataclass(frozen=True, eq=False, kw_only=True)
class FittedLine:
    """What `rig` does with other hose fitted, at full throttle: the readings in SI, as the class made of this says.

    reasons: why it must not be used, sentences in a tuple; usable when there are none.
    """

    rig: Rig
    gauge: float
    nozzle_flow: float
    bypass_flow: float
    hose_loss: float
    nozzle_pressure: float
    jet_power: float
    pull: float
    drag: float
    pull_left: float
    reach: float
    pressure_needed: float
    mass_empty: float
    mass_full: float
    reasons: tuple

    @property
    def usable(self):
        """Whether pressure, pipe and reel all let it be used."""
        return not self.reasons

    @property
    def verdict(self):
        """Nothing where it may be used, or why it must not, to go behind a sentence."""
        return "" if self.usable else " DO NOT USE: " + " ".join(self.reasons)

    @cached_property
    def point(self):
        """The OperatingPoint at full throttle."""
        return operating_point(self.rig)

    @property
    def cautions(self):
        """Sentences the reader must see, a tuple; why it must not be used comes first."""
        no_pull = (
            f"THE JETS DO NOT PULL IT: the line in the pipe drags {both(self.drag, 'force')} and the jets pull "
            f"{both(self.pull, 'force')}; they can pull about {both(self.reach, 'length')} of it.",
        )
        return (*self.reasons, *(no_pull if self.pull_left < 0 else ()), *self.point.cautions)


@dataclass(frozen=True, eq=False)
class Question:
    """What is asked of hoses for a rig: the PipeRun they go down, the reserve, what to rank them by, the throttle.

    `of` reads it from what a caller gave, with JetlibError for what will not do.
    """

    rig: Rig
    pipe: PipeRun
    reserve: float
    rank_by: str
    throttle: float

    @staticmethod
    def of(owner, rig, pipe, reserve, rank_by, throttle):
        pipe = PipeRun() if pipe is None else pipe
        reserve = one_number(reserve, "fraction", "reserve", owner)
        throttle = si(throttle, "fraction", field="throttle", owner=owner)
        if np.ndim(throttle):
            raise JetlibError("throttle is an array; one hose is chosen for one throttle; write throttle=1.0")
        compile_one(rig, throttle, "a hose is chosen for one rig at a time")
        require_kind(pipe, PipeRun, "pipe", 'pipe=PipeRun(bore="4 in", bends=2)')
        require_choice(rank_by, RANKS, "rank_by", 'rank_by="pull_left"')
        return Question(rig.replace(outlet_shut=False), pipe, reserve, rank_by, throttle)

    def point(self, hoses):
        """The OperatingPoint with these hoses in place of the rig's."""
        return operating_point(self.rig.replace(hoses=hoses), self.throttle)

    def drag_and_reach(self, point, outside=()):
        """Drag (N) of a point's line in the pipe, and its reach (m). outside: place of a hose -> outside diameter."""
        density, weights, hoses = water.density(self.rig.water_temperature), [], point.rig.hoses
        for place, hose in enumerate(hoses):
            across = (outside[place] if place in outside else usual_outside(hose)) if self.pipe.flooded else None
            weights.append(weight_per_metre(hose_mass(hose), hose.bore, density=density, outside_diameter=across))
        lengths = [hose.length for hose in hoses]
        off_reel = sum((hose.straight_length for hose in hoses), 0.0)
        run = off_reel if self.pipe.run is None else self.pipe.run
        pipe = {"friction": self.pipe.friction, "turned": self.pipe.bends * self.pipe.bend}
        return drag(weights, lengths, run=run, **pipe), reach(point.reaction, weights, lengths, **pipe)

    def needed(self, point, new):
        """What each hose of a point must be rated for, Pa; `new`: the places whose entry pressure counts."""
        highest = np.maximum(highest_pressure(self.rig), point.hose_pressures[list(new)].max(axis=0))
        return pressures_needed(point, highest, self.reserve)

    def readings(self, point, outside):
        """The readings of FittedLine by name, arrays of one shape. outside: place of each new hose -> its outside
        diameter; loss and masses are those of the new hoses, pressure_needed of the last of them."""
        dragged, reached = self.drag_and_reach(point, outside)
        new, density = [point.rig.hoses[place] for place in outside], water.density(self.rig.water_temperature)
        empty = sum(hose.mass_per_metre * hose.length for hose in new)
        found = {
            "gauge": point.gauge,
            "nozzle_flow": point.nozzle_flow,
            "bypass_flow": point.bypass_flow,
            "hose_loss": point.hose_losses[list(outside)].sum(axis=0),
            "nozzle_pressure": point.nozzle_pressure,
            "jet_power": point.nozzle_pressure * point.nozzle_flow,
            "pull": point.reaction,
            "drag": dragged,
            "pull_left": point.reaction - dragged,
            "reach": reached,
            "pressure_needed": self.needed(point, outside)[max(outside)],
            "mass_empty": empty,
            "mass_full": empty + sum(water_mass(hose.bore, density=density) * hose.length for hose in new),
        }
        return {name: np.broadcast_to(value, np.shape(point.gauge)) for name, value in found.items()}

    def rank_value(self, readings):
        """What to sort by, smallest first.

        By pull left, lines that the jets do not pull the whole way come after all that they do, farthest reach first:
        a thin hose with hardly a jet behind it drags little, and that does not make it the best.
        """
        value = RANKS[self.rank_by] * readings[self.rank_by]
        if self.rank_by == "pull_left":
            value = np.where(value <= 0.0, value, _LONGEST - readings["reach"])
        return value


def one_number(value, kind, name, owner):
    """`value` in SI, one number; JetlibError that names it for a list."""
    return require_one(si(value, kind, field=name, owner=owner), name)


def hose_sizes(hoses, coil_diameter):
    """The HoseSizes given (None: all of the table that go into a drain) that a reel of that coil_diameter (m, or None)
    takes, and the rest with why: two tuples."""
    found = tables.drain_hoses() if hoses is None else (hoses,) if isinstance(hoses, tables.HoseSize) else hoses
    if not isinstance(found, list | tuple) or not found or not all(isinstance(each, tables.HoseSize) for each in found):
        raise JetlibError(
            "hoses must be sizes of the table; write hoses=[jetlib.tables.hose(6), jetlib.tables.hose(8)]"
        )
    across = np.inf if coil_diameter is None else coil_diameter
    why = f"the reel of {both(coil_diameter or 1.0, 'coil_diameter')} is under five bores across"
    keep = tuple(size for size in found if 5.0 * size.bore <= across)
    return keep, tuple((size, why) for size in found if size not in keep)


def hose_fields(sizes):
    """What a Hose takes from a HoseSize, by name; columns of it for a list of them."""
    if not isinstance(sizes, tables.HoseSize):
        rows = [hose_fields(size) for size in sizes]
        return {name: np.array([row[name] for row in rows]) for name in rows[0]}
    wall = "thermoplastic tube" if "thermoplastic" in sizes.construction else "rubber hose inner tube"
    names = ("bore", "working_pressure", "mass_per_metre", "bend_radius")
    return {name: getattr(sizes, name) for name in names} | {"roughness": tables.roughness(wall).typical}


def reasons_against(size, needed, pipe, coil_diameter):
    """Why a hose must not be used, sentences in a tuple: pressure, pipe, reel (None where it need not fit one)."""
    found = []
    if not size.working_pressure >= needed:
        asks = (
            f"this line needs {both(needed, 'pressure')}, surge and reserve included"
            if np.isfinite(needed)
            else ("nothing limits the pressure of this rig")
        )
        found.append(f"WORKING PRESSURE NOT ENOUGH: rated for {both(size.working_pressure, 'pressure')}, {asks}.")
    if pipe is not None:
        found += pipe.reasons_against(size)
    if coil_diameter is not None and coil_diameter / 2.0 < size.bend_radius:
        found.append(
            f"The reel is too tight: its radius is {both(coil_diameter / 2.0, 'coil_diameter')}, the hose's bend "
            f"radius {both(size.bend_radius, 'coil_diameter')}."
        )
    return tuple(found)


def cautions_of(short, of, more=()):
    """Sentences for a list in which `short` of `of` hoses have not the working pressure, a tuple; `more` go between."""
    loud = (
        f"WORKING PRESSURE NOT ENOUGH in {short} of {of}: a hose that bursts kills. What is printed on the hose and "
        "in the machine's manual comes before any table.",
    )
    return (*(loud if short else ()), *more, _DRAGGING + SEE_THE_MANUAL)
