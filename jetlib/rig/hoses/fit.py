"""What choosing hose needs whatever the question: sizes of the table, what stands against one, how they are ranked."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from jetlib import tables
from jetlib.errors import JetlibError
from jetlib.rig.hoses.pipe_run import PipeRun
from jetlib.rig.parts.machine import Rig
from jetlib.rig.parts.part import require_choice
from jetlib.rig.point.circuit import compile_circuit
from jetlib.rig.point.operating_point import operating_point
from jetlib.units import both
from jetlib.units.refusal import cut

#: How far the working pressure should stand above the highest pressure. Common practice, no source.
USUAL_RESERVE = 0.10
#: What hoses can be ranked by, and the sign that puts the best first.
RANKS = {"pull_left": -1, "reach": -1, "nozzle_flow": -1, "jet_power": -1, "hose_loss": 1, "mass_full": 1}
_LONGEST = 1e4  # m, beyond any line
DRAGGING = (
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
        return (*self.reasons, *self._no_pull(), *self.point.cautions)

    def _no_pull(self):
        if self.pull_left >= 0:
            return ()
        return (
            f"THE JETS DO NOT PULL IT: the line in the pipe drags {both(self.drag, 'force')} and the jets pull "
            f"{both(self.pull, 'force')}; they can pull about {both(self.reach, 'length')} of it.",
        )


def line_readings(point, drag, reach):
    """The readings of a FittedLine that an OperatingPoint tells, given its drag (N) and reach (m): a dict of arrays."""
    return {
        "gauge": point.gauge,
        "nozzle_flow": point.nozzle_flow,
        "bypass_flow": point.bypass_flow,
        "nozzle_pressure": point.nozzle_pressure,
        "jet_power": point.nozzle_pressure * point.nozzle_flow,
        "pull": point.reaction,
        "drag": drag,
        "pull_left": point.reaction - drag,
        "reach": reach,
    }


def check_one_rig(rig, throttle, pipe, rank_by):
    """Raises JetlibError unless it is one rig at one throttle with a PipeRun and a known rank."""
    if np.ndim(throttle):
        raise JetlibError("throttle is an array; one hose is chosen for one throttle; write throttle=1.0")
    _, shape = compile_circuit(rig, throttle)
    if shape:
        raise JetlibError(f"the rig holds arrays of shape {shape}; a hose is chosen for one rig at a time")
    if not isinstance(pipe, PipeRun):
        raise JetlibError(f'pipe is {cut(pipe)}; write pipe=PipeRun(bore="4 in", bends=2)')
    require_choice(rank_by, RANKS, "rank_by", 'rank_by="pull_left"')


def hose_sizes(hoses):
    """The HoseSizes given, as a tuple; all of the table that go into a drain for None."""
    found = tables.drain_hoses() if hoses is None else (hoses,) if isinstance(hoses, tables.HoseSize) else hoses
    if not isinstance(found, list | tuple) or not found or not all(isinstance(each, tables.HoseSize) for each in found):
        raise JetlibError(
            "hoses must be sizes of the table; write hoses=[jetlib.tables.hose(6), jetlib.tables.hose(8)]"
        )
    return tuple(found)


def sizes_for_reel(sizes, coil_diameter):
    """Those of the sizes that a reel of coil_diameter (m, or None) can be worked out for, and the rest with why."""
    if coil_diameter is None:
        return sizes, ()
    keep = tuple(size for size in sizes if 5.0 * size.bore <= coil_diameter)
    why = f"the reel of {both(coil_diameter, 'coil_diameter')} is under five bores across"
    return keep, tuple((size, why) for size in sizes if size not in keep)


def table_row(size):
    """What a Hose takes from a HoseSize: bore, wall, working pressure, mass, bend radius; and the outside diameter."""
    wall = "thermoplastic tube" if "thermoplastic" in size.construction else "rubber hose inner tube"
    names = ("bore", "working_pressure", "mass_per_metre", "bend_radius", "outside_diameter_max")
    return {name: getattr(size, name) for name in names} | {"roughness": tables.roughness(wall).typical}


def table_columns(sizes):
    """`table_row` of all sizes as arrays."""
    rows = [table_row(size) for size in sizes]
    return {name: np.array([row[name] for row in rows]) for name in rows[0]}


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


def rank_value(readings, rank_by):
    """What to sort by, smallest first; `readings` by name, numbers or arrays.

    By pull left, lines that the jets do not pull the whole way come after all that they do, farthest reach first: a
    thin hose with hardly a jet behind it drags little, and that does not make it the best.
    """
    value = RANKS[rank_by] * np.asarray(readings[rank_by])
    if rank_by == "pull_left":
        value = np.where(value <= 0.0, value, _LONGEST - readings["reach"])
    return value


def pressure_caution(short, of):
    """The loud sentence when `short` of `of` hoses have not the working pressure."""
    return (
        f"WORKING PRESSURE NOT ENOUGH in {short} of {of}: a hose that bursts kills. What is printed on the hose and "
        "in the machine's manual comes before any table."
    )
