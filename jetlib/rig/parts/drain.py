"""The drain to be jetted: bore, length, fall, bends, and which way the nozzle goes."""

from dataclasses import dataclass, field

import numpy as np

from jetlib import tables
from jetlib.errors import JetlibError
from jetlib.rig.parts.part import Part, quantity, require_choice
from jetlib.units.given import Angle, Length, Number, Slope, Values
from jetlib.units.refusal import cut

WAYS = ("upstream", "downstream")
CONDITIONS = ("not known", "sound", "damaged")
USUAL_MANNING_N = 0.013


@dataclass(frozen=True, eq=False)
class Bend(Part):
    """One bend: `at` m from where the hose goes in, turned by `angle` (rad), on a `radius` (m) to the middle line of
    the pipe; None for the tightest.

    >>> Bend("20 ft", "45 deg").at
    6.096
    """

    at: Length = quantity("length")
    angle: Angle = quantity("angle", np.pi / 2.0)
    radius: Length | None = quantity("length", None, optional=True)

    def _check(self):
        self._require("angle", np.asarray(self.angle) > 0, "above 0", '"90 deg"')


@dataclass(frozen=True, eq=False)
class Drain(Part):
    """One run of pipe from where the hose goes in to where the nozzle must come.

    bore, length m; fall (fall over length; 0.02 is 2 %) the same all along; nozzle_goes "upstream" (uphill) or
    "downstream". bends: Bends. manning_n: roughness for the water that runs off. flooded: the pipe stands full of water
    behind a stoppage, and the hose in it is lighter by the water it pushes aside; else it carries its whole weight.
    material: a family of the table of pipe limits ("plastic", "clay", …), "" where nobody knows; condition "sound",
    "damaged" or "not known"; branches: there are branches, chambers or wider stretches on the run. source: where bore
    and n come from.

    >>> float(Drain("4 in", "150 ft", fall="2 %", nozzle_goes="downstream").rise)
    -0.02
    """

    bore: Length = quantity("pipe_bore")
    length: Length = quantity("length")
    fall: Slope = quantity("slope", 0.0)
    nozzle_goes: str = "upstream"
    bends: tuple = field(default=())
    manning_n: Number = quantity("ratio", USUAL_MANNING_N)
    flooded: bool = False
    material: str = ""
    condition: str = "not known"
    branches: bool = False
    name: str = ""
    source: str = "given"

    def _check(self):
        require_choice(self.nozzle_goes, WAYS, "nozzle_goes", 'nozzle_goes="upstream"')
        self._check_flag("flooded", "Drain(flooded=True, …)")
        self._check_flag("branches", "Drain(branches=True, …)")
        require_choice(self.condition, CONDITIONS, "condition", 'Drain(condition="sound", …)')
        if not isinstance(self.material, str) or self.material:
            tables.pipe_limit(self.material)
        n = np.asarray(self.manning_n)
        self._require("manning_n", (n >= 0.005) & (n <= 0.05), "0.005 to 0.05", "0.013")
        bends = (self.bends,) if isinstance(self.bends, Bend) else self.bends
        if not isinstance(bends, list | tuple) or not all(isinstance(each, Bend) for each in bends):
            raise JetlibError(f'bends is {cut(self.bends)}; write Drain(bends=[Bend("20 ft", "90 deg")], …)')
        if len(bends) > 50:
            raise JetlibError(f"bends holds {len(bends)} bends; allowed: up to 50; write those of one run only")
        for number, bend in enumerate(bends, start=1):
            if np.any(np.asarray(bend.at) > self.length):
                raise JetlibError(
                    f"bend {number} is at {np.max(bend.at):g} m and the run is {np.min(self.length):g} m long; leave "
                    "it out, or give the run a greater length"
                )
            if bend.radius is not None and np.any(np.asarray(bend.radius) < np.asarray(self.bore) / 2.0):
                raise JetlibError(
                    f"bend {number} has a radius of {np.min(bend.radius):g} m in a bore of {np.max(self.bore):g} m; "
                    "write the radius to the middle line of the pipe, half the bore or more, or leave it out"
                )
        object.__setattr__(self, "bends", tuple(bends))

    @property
    def pressure_limit(self) -> tables.PipeLimit | None:
        """The most a nozzle may have in a sound pipe of this material, a PipeLimit; None where it is not known."""
        return tables.pipe_limit(self.material) if self.material else None

    @property
    def careful_limit(self) -> tables.PipeLimit | None:
        """What to stay below where nobody knows the pipe to be sound: the lowest PipeLimit of the code; None in a sound
        one."""
        if self.material and self.condition == "sound":
            return None
        return min((each for each in tables.pipe_limits() if each.coded), key=lambda each: each.limit)

    @property
    def rise(self) -> Values:
        """Height the nozzle gains over length of pipe, a share; below 0 where it goes down."""
        return self.fall if self.nozzle_goes == "upstream" else -np.asarray(self.fall)

    @property
    def turned(self) -> Values:
        """Angle of all bends together, rad."""
        return sum((bend.angle for bend in self.bends), 0.0)


def drain_of_size(label: str, length: Length, **given: object) -> Drain:
    """A Drain of `length` in a pipe of the table, such as "4 in PVC SDR 35": its bore, Manning's n and source.

    Other fields of Drain may be given. Raises JetlibError, with close names, for a pipe that is not in the table.

    >>> drain_of_size("4 in PVC SDR 35", "150 ft").material
    'plastic'
    """
    row = tables.pipe(label)
    told = {
        "bore": row.inside_diameter,
        "manning_n": row.manning_n,
        "material": row.family,
        "name": row.label,
        "source": f"{row.source} ({row.confidence})",
    }
    return Drain(**{**told, "length": length, **given})
