"""What a rule of thumb may ask of the place where a rig stands: tank, height, air, and the drain it works in."""

from dataclasses import dataclass

from jetlib.physics.constants import USUAL_TEMPERATURE
from jetlib.rig.parts.part import Part, quantity
from jetlib.units.given import Length, Number, Slope, Temperature, Volume


@dataclass(frozen=True, eq=False)
class Site(Part):
    """A place to work at; SI floats, or arrays.

    tank_volume m3 of water; altitude m and air_temperature K, for the engine; pipe_bore m, pipe_slope (fall over
    length) and manning_n (s/m^(1/3)) of the drain. grain m: the grit that is to leave it.
    """

    tank_volume: Volume = quantity("volume", 0.378541178)  # 100 gal
    altitude: Length = quantity("altitude", 609.6)  # 2000 ft
    air_temperature: Temperature = quantity("temperature", USUAL_TEMPERATURE)
    pipe_bore: Length = quantity("pipe_bore", 0.1016)  # 4 in
    pipe_slope: Slope = quantity("slope", 1.0 / 60.0)
    manning_n: Number = quantity("ratio", 0.013)
    grain: Length = quantity("leak_bore", 0.002)

    def _check(self):
        self._require("pipe_slope", self.pipe_slope > 0 if self.pipe_slope is not None else False, "above 0", '"1:60"')
        self._require("tank_volume", self.tank_volume > 0, "above 0", '"100 gal"')
