"""Where a rig works: the drain to be jetted, the tank the pump drinks from, and what a rule asks of the place."""

from dataclasses import dataclass

import numpy as np

from jetlib import tables
from jetlib.errors import JetlibError
from jetlib.physics.constants import USUAL_TEMPERATURE
from jetlib.rig.parts.part import ABOVE_ZERO, Part, choice, quantity, several
from jetlib.units.given import Angle, Flow, Length, Number, Pressure, Share, Slope, Temperature, Values, Volume

WAYS = ("upstream", "downstream")
CONDITIONS = ("not known", "sound", "damaged")
USUAL_MANNING_N = 0.013
RETURNS = ("tank", "inlet")
#: A soft hose takes up part of the pulses, nobody can say how much: the head that a stiff one asks for is then the
#: most.
SUCTION_HOSES = ("stiff", "soft")
#: K. Common practice, no source: 60 degC (140 degF) for plunger pumps with ordinary seals. The pump's manual decides.
USUAL_TEMPERATURE_LIMIT = 333.15


@dataclass(frozen=True, eq=False)
class Bend(Part):
    """One bend: `at` m from where the hose goes in, turned by `angle` (rad), on a `radius` (m) to the middle line of
    the pipe; None for the tightest.

    >>> Bend("20 ft", "45 deg").at
    6.096
    """

    at: Length = quantity("length")
    angle: Angle = quantity("angle", np.pi / 2.0, span=ABOVE_ZERO, fix='"90 deg"')
    radius: Length | None = quantity("length", None, optional=True)


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
    nozzle_goes: str = choice(WAYS, "upstream")
    bends: tuple = several(Bend, 'Drain(bends=[Bend("20 ft", "90 deg")], …)')
    manning_n: Number = quantity("ratio", USUAL_MANNING_N, span=(0.005, 0.05), fix="0.013")
    flooded: bool = False
    material: str = ""
    condition: str = choice(CONDITIONS, "sound")
    branches: bool = False
    name: str = ""
    source: str = "given"

    def _check(self):
        if not isinstance(self.material, str) or self.material:
            tables.pipe_limit(self.material)
        if len(self.bends) > 50:
            raise JetlibError(f"bends holds {len(self.bends)} bends; allowed: up to 50; write those of one run only")
        for number, bend in enumerate(self.bends, start=1):
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


@dataclass(frozen=True, eq=False)
class Tank(Part):
    """A tank of `volume` m3 of water, of which the share `usable` can be drawn before the pump sucks air.

    refill_flow (m3/s) comes in through a float valve while jetting, never more than leaves; at refill_temperature (K),
    that of the tank's water at the start unless given. bypass_to: the valve sends its water back to the "tank", or to
    the pump's "inlet", where only loop_volume (m3) of water takes the heat. temperature_limit (K): the pump's, from its
    manual. suction_lift (m): pump above the water's surface; below 0 where the water stands higher. suction_loss (Pa):
    strainer and suction hose. suction_bore, suction_length (m) of that hose and what it is, suction_hose "stiff" or
    "soft": what the plungers' pulses ask of it cannot be said without. required_suction_head (m of water, absolute):
    what the pump's manual asks for.

    >>> both(Tank("100 gal").volume, "volume")
    '100 gal (379 L)'
    """

    volume: Volume = quantity("volume", span=ABOVE_ZERO, fix='"100 gal"')
    usable: Share = quantity("fraction", 0.9, span=ABOVE_ZERO, fix="0.9")
    refill_flow: Flow = quantity("flow", 0.0)
    refill_temperature: Temperature | None = quantity("temperature", None, optional=True)
    bypass_to: str = choice(RETURNS, "tank")
    loop_volume: Volume = quantity("volume", 0.002, span=ABOVE_ZERO, fix='"2 L"')
    temperature_limit: Temperature = quantity("temperature", USUAL_TEMPERATURE_LIMIT)
    suction_lift: Length = quantity("lift", 0.0)
    suction_loss: Pressure = quantity("pressure", 0.0)
    required_suction_head: Length | None = quantity("length", None, optional=True)
    suction_bore: Length | None = quantity("bore", None, optional=True)
    suction_length: Length | None = quantity("length", None, optional=True)
    suction_hose: str = choice(SUCTION_HOSES, "stiff")


@dataclass(frozen=True, eq=False)
class Site(Part):
    """A place to work at; SI floats, or arrays.

    tank_volume m3 of water; altitude m and air_temperature K, for the engine; pipe_bore m, pipe_slope (fall over
    length) and manning_n (s/m^(1/3)) of the drain. grain m: the grit that is to leave it.
    """

    tank_volume: Volume = quantity("volume", 0.378541178, span=ABOVE_ZERO, fix='"100 gal"')
    altitude: Length = quantity("altitude", 609.6)  # 2000 ft
    air_temperature: Temperature = quantity("temperature", USUAL_TEMPERATURE)
    pipe_bore: Length = quantity("pipe_bore", 0.1016)  # 4 in
    pipe_slope: Slope = quantity("slope", 1.0 / 60.0, span=ABOVE_ZERO, fix='"1:60"')
    manning_n: Number = quantity("ratio", USUAL_MANNING_N)
    grain: Length = quantity("leak_bore", 0.002)
