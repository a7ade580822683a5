"""The tank the pump drinks from, and the suction line between them."""

from dataclasses import dataclass

import numpy as np

from jetlib.rig.parts.part import Part, quantity, require_choice
from jetlib.units.given import Flow, Length, Pressure, Share, Temperature, Volume

RETURNS = ("tank", "inlet")
#: A soft hose takes up part of the pulses, nobody can say how much: the head that a stiff one asks for is then the
#: most.
SUCTION_HOSES = ("stiff", "soft")
#: K. Common practice, no source: 60 degC (140 degF) for plunger pumps with ordinary seals. The pump's manual decides.
USUAL_TEMPERATURE_LIMIT = 333.15


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

    volume: Volume = quantity("volume")
    usable: Share = quantity("fraction", 0.9)
    refill_flow: Flow = quantity("flow", 0.0)
    refill_temperature: Temperature | None = quantity("temperature", None, optional=True)
    bypass_to: str = "tank"
    loop_volume: Volume = quantity("volume", 0.002)
    temperature_limit: Temperature = quantity("temperature", USUAL_TEMPERATURE_LIMIT)
    suction_lift: Length = quantity("lift", 0.0)
    suction_loss: Pressure = quantity("pressure", 0.0)
    required_suction_head: Length | None = quantity("length", None, optional=True)
    suction_bore: Length | None = quantity("bore", None, optional=True)
    suction_length: Length | None = quantity("length", None, optional=True)
    suction_hose: str = "stiff"

    def _check(self):
        self._require("volume", np.asarray(self.volume) > 0, "above 0", '"100 gal"')
        self._require("usable", np.asarray(self.usable) > 0, "above 0", "0.9")
        self._require("loop_volume", np.asarray(self.loop_volume) > 0, "above 0", '"2 L"')
        require_choice(self.suction_hose, SUCTION_HOSES, "suction_hose", 'Tank(suction_hose="stiff", …)')
        require_choice(self.bypass_to, RETURNS, "bypass_to", 'Tank(bypass_to="tank", …)')
