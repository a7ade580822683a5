"""What makes the pressure and what holds it: engine, pump, bypass valve, burst disc."""

from dataclasses import dataclass, field, replace
from typing import Self

import numpy as np

from jetlib.errors import JetlibError
from jetlib.physics import air
from jetlib.physics import pump as pump_physics
from jetlib.rig.parts.part import ABOVE_ZERO, EFFICIENCY, Part, choice, quantity
from jetlib.units import si
from jetlib.units.given import Flow, Length, Power, Pressure, Share, Speed, Temperature, Values
from jetlib.units.refusal import cut

_USUAL_RATING = 20.7e6 + 1.0  # Pa, stands in where no rating is given: a figure that no plate carries
ENGINE_KINDS = ("naturally aspirated", "electric")


@dataclass(frozen=True, eq=False)
class Engine(Part):
    """What drives the pump: the `power` it can give at sea level and rated speed (W), the `altitude` it works at (m).

    kind: "naturally aspirated" loses power with altitude and in hot air (air_temperature, K; None: the usual day
    there), and slows when asked for more torque than it has: its torque climbs by the share torque_rise over the whole
    of its speed (see `jetlib.physics.pump`). "electric" loses none, and does not slow: it trips.

    >>> both(Engine("20 hp", altitude="5000 ft").available(), "power")
    '17.3 hp (12.9 kW)'
    """

    power: Power = quantity("power")
    altitude: Length = quantity("altitude", 0.0)
    kind: str = choice(ENGINE_KINDS, "electric")
    air_temperature: Temperature | None = quantity("temperature", None, optional=True)
    torque_rise: Share = quantity("fraction", pump_physics.USUAL_TORQUE_RISE)

    def available(self, speed_share: Values = 1.0) -> Values:
        """Power (W) there is where it works, at a share of its rated speed: at half speed an engine has about half."""
        kept = air.engine_power_factor(self.altitude, self.kind, air_temperature=self.air_temperature)
        return self.power * kept * (1.0 if self.kind == "electric" else speed_share)


@dataclass(frozen=True, eq=False)
class Pump(Part):
    """A positive-displacement pump. `Pump("12 gpm")` sweeps 12 gpm; a plate often says what it delivers at a pressure:
    `Pump(delivered="12 gpm at 3000 psi", volumetric_efficiency=0.95)`.

    rated_flow: m3/s swept at rated_speed (what it delivers against no pressure). delivered: in its place, a text, or a
    pair of flow and pressure; that pressure is then the rated one unless given. rated_speed, idle_speed: rad/s; the
    throttle runs from idle (0) to rated (1); idle is 40 % of rated unless given. volumetric_efficiency: share of the
    rated flow still delivered at rated_pressure (Pa; 20.7 MPa unless given) and rated speed; the rest slips back, in
    proportion to pressure. mechanical_efficiency: power at the plungers over power at the shaft. packing_leak: share of
    the rated flow that worn packings let out at rated pressure, to the ground and as a hole does, so as the square root
    of pressure. plungers: 2, 3, 5 or 7, for the pulses of the suction.

    >>> both(Pump("8 gpm", idle_speed="600 rpm").swept_flow(0.5), "flow")
    '5.66 gpm (21.4 L/min)'
    """

    rated_flow: Flow | None = quantity("flow", None, optional=True)
    rated_speed: Speed = quantity("speed", 1450.0 * np.pi / 30.0, span=ABOVE_ZERO, fix='"1450 rpm"')
    idle_speed: Speed | None = quantity("speed", None, optional=True)
    volumetric_efficiency: Share = quantity("fraction", 1.0, span=EFFICIENCY, fix="0.95")
    rated_pressure: Pressure | None = quantity("pressure", None, optional=True)
    mechanical_efficiency: Share = quantity("fraction", 0.88, span=EFFICIENCY, fix="0.95")
    packing_leak: Share = quantity("fraction", 0.0)
    plungers: int = 3
    delivered: object = None

    def _check(self):
        settle = object.__setattr__
        flow, pressure = (None, None) if self.delivered is None else _delivered(self.delivered)
        if (flow is None) == (self.rated_flow is None):
            told = "is missing" if flow is None else "and delivered are both given"
            raise JetlibError(f'rated_flow {told}; write Pump("8 gpm") or Pump(delivered="8 gpm at 3000 psi")')
        if self.rated_pressure is None:
            settle(self, "rated_pressure", _USUAL_RATING if pressure is None else pressure)
        if self.idle_speed is None:
            settle(self, "idle_speed", 0.4 * self.rated_speed)
        self._require("rated_pressure", np.asarray(self.rated_pressure) > 0, "above 0", '"3000 psi"')
        if flow is not None:
            kept = 1.0 - (1.0 - self.volumetric_efficiency) * pressure / self.rated_pressure
            if not np.all(kept >= 0.2):
                raise JetlibError(
                    f"delivered is {cut(self.delivered)}: so far above rated_pressure next to nothing is left of the "
                    "flow; leave rated_pressure out"
                )
            settle(self, "rated_flow", flow / kept)
            settle(self, "delivered", None)  # the swept flow says it from here on, also in changed copies
        self._require("rated_flow", np.asarray(self.rated_flow) > 0, "above 0", '"8 gpm"')
        self._require("idle_speed", self.idle_speed <= np.asarray(self.rated_speed), "rated_speed or less", '"600 rpm"')
        if type(self.plungers) is not int or self.plungers not in pump_physics.SUCTION_PULSES:
            raise JetlibError(f"plungers is {cut(self.plungers)}; allowed: 2, 3, 5, 7; write Pump(plungers=3, …)")

    @property
    def rating(self) -> Values | None:
        """The pressure (Pa) it is rated for; None where nobody said."""
        return None if np.all(self.rated_pressure == _USUAL_RATING) else self.rated_pressure

    @property
    def delivered_flow(self) -> Values:
        """What it delivers at rated speed and rated pressure, m3/s."""
        lost = 1.0 - self.volumetric_efficiency + np.asarray(self.packing_leak)
        return self.rated_flow * (1.0 - lost)

    @property
    def slip(self) -> Values:
        """Flow that leaks back inside the pump, m3/s per Pa."""
        return (1.0 - self.volumetric_efficiency) * self.rated_flow / self.rated_pressure

    def speed(self, throttle: Values) -> Values:
        """Speed (rad/s) that the throttle (0 to 1) asks for."""
        return self.idle_speed + np.asarray(throttle) * (self.rated_speed - self.idle_speed)

    def swept_flow(self, throttle: Values) -> Values:
        """Flow (m3/s) that the plungers sweep at `throttle`: displacement x speed."""
        return self.rated_flow * self.speed(throttle) / self.rated_speed

    def replace(self, **changes: object) -> Self:
        """A copy with some fields changed; an idle speed that was only 40 % of the rated speed stays so."""
        follows = np.all(self.idle_speed == 0.4 * self.rated_speed)
        if follows and "rated_speed" in changes:
            changes = {"idle_speed": None, **changes}
        return replace(self, **changes)


def _delivered(told):
    """Flow (m3/s) and pressure (Pa) of "12 gpm at 3000 psi", or of a pair of the two."""
    pair = told.split(" at ") if isinstance(told, str) else told
    if not isinstance(pair, list | tuple) or len(pair) != 2:
        raise JetlibError(f'delivered is {cut(told)}; write Pump(delivered="12 gpm at 3000 psi", …)')
    flow, pressure = pair
    try:
        return (
            si(flow, "flow", field="delivered", owner="Pump"),
            si(pressure, "pressure", field="delivered", owner="Pump", name="the pressure of delivered"),
        )
    except JetlibError as error:  # what one of the two should be is not what to write for both
        wrong = str(error).partition("; write ")[0]
        raise JetlibError(f'{wrong}; write Pump(delivered="12 gpm at 3000 psi", …)') from None


@dataclass(frozen=True, eq=False)
class Unloader(Part):
    """The bypass valve: opens at `setting` (Pa) and lets pressure rise by `rise` (share of setting) at full bypass.

    trapping: a kind that, once the outlet is shut, holds the hose at pressure and lets the pump run at
    unloaded_pressure (Pa; never more than the setting). seat_leak: bore (m) of the hole that a damaged seat leaves
    open at any pressure.

    >>> Unloader("3000 psi", rise="5 %").rise
    0.05
    """

    setting: Pressure = quantity("pressure", span=ABOVE_ZERO, fix='"3000 psi"')
    rise: Share = quantity("fraction", 0.08)
    trapping: bool = False
    unloaded_pressure: Pressure = quantity("pressure", 5e5)
    seat_leak: Length = quantity("leak_bore", 0.0)

    def _check(self):
        if np.ndim(self.trapping):
            raise JetlibError("trapping is an array; allowed: one true or false; write Unloader(trapping=True, …)")


@dataclass(frozen=True, eq=False)
class BurstDisc(Part):
    """A disc that bursts at `rating` (Pa) and stays open.

    bore (m) is the hole it leaves; opened says that it has gone already.

    >>> both(BurstDisc("4000 psi").rating, "pressure")
    '4000 psi (276 bar)'
    """

    rating: Pressure = quantity("pressure", span=ABOVE_ZERO, fix='"4000 psi"')
    bore: Length = quantity("bore", 0.010)
    opened: bool = field(default=False, metadata={"write": False})
    seat_leak: Length = quantity("leak_bore", 0.0)
