"""A rig, made of the parts in `drive` and `line`.

Each takes text with a unit, a Quantity, or an SI number, and holds SI floats or arrays. Parts are frozen:
`part.replace(bore="12 mm")` makes a changed copy. Arrays in any field make many rigs at once.
"""

from dataclasses import dataclass, field
from typing import Self

from jetlib.errors import JetlibError
from jetlib.physics.constants import USUAL_TEMPERATURE
from jetlib.rig.parts.drive import BurstDisc, Engine, Pump, Unloader
from jetlib.rig.parts.line import Fitting, Hose, Jet, Nozzle
from jetlib.rig.parts.part import Part, quantity, require_kind, several
from jetlib.units.given import Length, Temperature


@dataclass(frozen=True, eq=False)
class Rig(Part):
    """Everything from the tank to the jets.

    valve: an Unloader, a BurstDisc, both in a list, or None. hoses run from pump to nozzle in order. lift (m) is how
    far the nozzle is above the pump (below it: negative). outlet_shut: a tap at the end is closed. water_temperature K.

    >>> rig = Rig(Pump("8 gpm"), Unloader("3000 psi"), [Hose("3/8 in", "150 ft")], Nozzle([Jet("#60", count=5)]))
    >>> both(operating_point(rig).nozzle_flow, "flow")
    '8 gpm (30.3 L/min)'
    """

    pump: Pump
    valve: object = None
    hoses: tuple = several(Hose, 'Rig(hoses=[Hose(bore="1/2 in", length="200 ft")], …)')
    nozzle: Nozzle = field(default_factory=Nozzle)
    engine: Engine = None
    fittings: tuple = several(Fitting, "Rig(fittings=[Fitting(…)], …)")
    water_temperature: Temperature = quantity("temperature", USUAL_TEMPERATURE)
    lift: Length = quantity("lift", 0.0)
    outlet_shut: bool = False
    name: str = ""

    def _check(self):
        require_kind(self.pump, Pump, "pump", "Rig(pump=Pump(…), …)")
        require_kind(self.nozzle, Nozzle, "nozzle", "Rig(nozzle=Nozzle(…), …)")
        require_kind(self.engine, Engine | None, "engine", "Rig(engine=Engine(…), …)")
        valves = sorted(self.valves, key=lambda valve: isinstance(valve, BurstDisc))
        if len({type(valve) for valve in valves}) != len(valves):
            raise JetlibError("valve holds two of one kind; write Rig(valve=[Unloader(…), BurstDisc(…)], …)")
        object.__setattr__(self, "valve", tuple(valves) if len(valves) > 1 else valves[0] if valves else None)

    @property
    def valves(self) -> tuple:
        """The valves as a tuple, empty when the rig has none."""
        if self.valve is None:
            return ()
        found = tuple(self.valve) if isinstance(self.valve, list | tuple) else (self.valve,)
        for valve in found:
            require_kind(valve, Unloader | BurstDisc, "valve", 'Rig(valve=Unloader(setting="3000 psi"), …)')
        return found

    def with_jets(self, jets: Jet | list | tuple) -> Self:
        """The same rig with other jets (a Jet, or a list of them) in the body of its nozzle."""
        return self.replace(nozzle=self.nozzle.replace(jets=jets))

    def with_unloader(self, **changes: object) -> Self:
        """The same rig with some fields of its unloader changed; other valves stay as they are."""
        return self.replace(valve=[v.replace(**changes) if v is self.unloader else v for v in self.valves])

    @property
    def unloader(self) -> Unloader | None:
        """The unloader, or None."""
        return next((valve for valve in self.valves if isinstance(valve, Unloader)), None)

    @property
    def burst_disc(self) -> BurstDisc | None:
        """The burst disc, or None."""
        return next((valve for valve in self.valves if isinstance(valve, BurstDisc)), None)
