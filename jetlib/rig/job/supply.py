"""What the machine needs to go on: water in the tank, power from the engine, cool water, and head at the inlet."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from jetlib.physics import air, heat, hose, pump, water
from jetlib.physics.values import not_negative, plain
from jetlib.rig.parts.part import require_kind
from jetlib.rig.parts.site import Tank
from jetlib.rig.point.operating_point import OperatingPoint, operating_point, require_point
from jetlib.units import both, si
from jetlib.units.given import Length

#: Share of an engine's power that one plans to use. Common practice, no source.
USUAL_ENGINE_SHARE = 0.9
_NO_POWER, _NO_FLOW = 1e-6, 1e-15  # W, m3/s: below this is what a solver leaves over


@dataclass(frozen=True, eq=False)
class Supply:
    """What an OperatingPoint asks of tank, engine and suction; SI, floats or arrays of the broadcast shape."""

    point: OperatingPoint
    tank: Tank
    altitude: float

    # --- water ------------------------------------------------------------------------------------

    @property
    def makeup_flow(self):
        """What the float valve lets in, m3/s: the refill, never more than leaves through the nozzle."""
        return _cleared(np.minimum(self.tank.refill_flow, self.point.nozzle_flow), _NO_FLOW)

    @property
    def drawdown(self):
        """How fast the tank goes down, m3/s: what leaves the nozzle less what comes in. Bypass and leaks come back."""
        return plain(self.point.nozzle_flow - np.asarray(self.makeup_flow))

    @property
    def tank_time(self):
        """Time until the usable water is gone, s; infinite where the refill keeps up."""
        return heat.emptying_time(self.tank.volume * np.asarray(self.tank.usable), self.drawdown)

    # --- heat -------------------------------------------------------------------------------------

    @property
    def heating_power(self):
        """Power that comes back as heat, W: gauge x (bypass + leak), and as much of what slips inside the pump.

        The pump's own friction warms oil and air more than water, and is left out. What an open burst disc passes is
        taken as coming back too.
        """
        point = self.point
        returned = np.asarray(point.bypass_flow) + point.leak_flow
        pumped = np.asarray(point.pump_flow)
        slip = np.where(pumped > 0.0, point.swept_flow / np.where(pumped > 0.0, pumped, 1.0), 1.0)
        return _cleared(np.maximum(point.gauge, 0.0) * returned * slip, _NO_POWER)

    @property
    def limit_time(self):
        """Time until that water is at the temperature limit, s; infinite where the tank is empty first, or never.

        First law, well mixed, nothing lost to the air, with less and less water in the tank; see
        `jetlib.physics.heat`. Where the valve returns to the inlet, the loop is changed by the nozzle's flow.
        """
        found = heat.tank_warm_up_time(self.heating_power, limit=self.tank.temperature_limit, **self._heated)
        if self._into_tank:
            found = heat.true_time(found, volume=self.tank.volume, net_outflow=self.drawdown)
        return plain(np.where(np.asarray(found) <= self.tank_time, found, np.inf))

    def temperature(self, time):
        """Temperature (K) of that water after `time` (s, or text such as "10 min"); of an emptied tank, its last."""
        time = si(time, "duration", field="time", owner="Supply")
        time = np.minimum(not_negative(time, "time", "s"), self.tank_time)
        if self._into_tank:
            time = heat.stretched_time(time, volume=self.tank.volume, net_outflow=self.drawdown)
        return heat.tank_temperature(time, self.heating_power, **self._heated)

    @property
    def start_temperature(self):
        """Of the tank's water, K."""
        return self.point.rig.water_temperature

    @property
    def _into_tank(self):
        return self.tank.bypass_to == "tank"

    @cached_property
    def _heated(self):
        """The water that takes the heat, as `jetlib.physics.heat` asks for it."""
        start, tank = self.start_temperature, self.tank
        found = {"start": start, "density": water.density(start), "specific_heat": water.specific_heat(start)}
        if not self._into_tank:
            fresh = _cleared(self.point.nozzle_flow, _NO_FLOW)
            return found | {"volume": tank.loop_volume, "makeup_flow": fresh, "makeup_temperature": start}
        fresh = start if tank.refill_temperature is None else tank.refill_temperature
        return found | {"volume": tank.volume, "makeup_flow": self.makeup_flow, "makeup_temperature": fresh}

    # --- engine -----------------------------------------------------------------------------------

    @cached_property
    def power_needed(self):
        """Power at the pump's shaft that this throttle asks for, W, whether or not the engine has it."""
        rig = self.point.rig
        free = self.point if rig.engine is None else operating_point(rig.replace(engine=None), self.point.throttle)
        return free.shaft_power

    @property
    def power_available(self):
        """What the engine gives at its altitude and this throttle's speed, W; None where the rig names no engine."""
        machine, engine = self.point.rig.pump, self.point.rig.engine
        if engine is None:
            return None
        return plain(engine.available(machine.speed(self.point.throttle) / machine.rated_speed))

    @property
    def engine_share(self):
        """Power needed over power available; None without an engine."""
        available = self.power_available
        return None if available is None else plain(np.asarray(self.power_needed) / available)

    @property
    def bogged_gauge(self):
        """What the gauge of a bogged rig comes to, Pa: a pair, at constant torque and at about constant power."""
        rig, throttle = self.point.rig, self.point.throttle
        ends = (rig.replace(engine=rig.engine.replace(torque_rise=rise)) for rise in (0.0, 1.0))
        return tuple(operating_point(each, throttle).gauge for each in ends)

    # --- suction ----------------------------------------------------------------------------------

    @property
    def suction_head(self):
        """Head at the inlet above boiling, m of water, at the start; at the limit: `suction_head_at`."""
        return self.suction_head_at(self.start_temperature)

    def suction_head_at(self, temperature):
        """Head (m of water) at the inlet above boiling with water of `temperature` (K, or text); warm water has less.

        A steady sum, and no margin: the pulses of a plunger pump ask for `acceleration_head` besides.
        """
        temperature = si(temperature, "temperature", field="temperature", owner="Supply")
        return air.net_suction_head(
            temperature, altitude=self.altitude, lift=self.tank.suction_lift, line_loss=self.tank.suction_loss
        )

    @property
    def acceleration_head(self):
        """Head (m of water) that the plungers' pulses ask of the suction hose, at most; None where it is not given.

        See `jetlib.physics.pump.acceleration_head`: for a stiff line without an air chamber.
        """
        tank, point = self.tank, self.point
        if tank.suction_bore is None or tank.suction_length is None:
            return None
        drawn = point.pump_flow if self._into_tank else point.nozzle_flow
        velocity = np.maximum(hose.velocity(drawn, bore=tank.suction_bore), 0.0)
        return pump.acceleration_head(tank.suction_length, velocity, point.speed, plungers=point.rig.pump.plungers)

    @property
    def suction_margin(self):
        """Head there is less what the pulses and the pump's manual ask for, m, at the start; None without hose or
        manual.

        Below 0 the pump cavitates, or may where the hose is soft.
        """
        asked, pulses = self.tank.required_suction_head, self.acceleration_head
        return None if asked is None or pulses is None else plain(np.asarray(self.suction_head) - asked - pulses)

    # --- words ------------------------------------------------------------------------------------

    @property
    def cautions(self):
        """Sentences the reader must see, a tuple."""
        return (*heat_cautions(self), *engine_cautions(self), *suction_cautions(self))


def _cleared(value, least):
    """The value, 0 where it is next to nothing."""
    return plain(np.where(np.asarray(value) > least, value, 0.0))


def heat_cautions(found):
    """Sentences (a tuple) on the heat of a Supply."""
    told, tank = [], found.tank
    if np.isfinite(found.limit_time).any():
        told.append(
            f"The water reaches {both(tank.temperature_limit, 'temperature')} after "
            f"{both(np.min(found.limit_time), 'duration')} of bypass: stop or throttle back before that. Hot water "
            "damages seals and scalds you. Your pump's limit is in its manual."
        )
    if tank.bypass_to == "inlet" and np.any(np.asarray(found.heating_power) > 0.0):
        told.append(
            "The valve returns water to the pump's inlet: with the outlet shut, the same half gallon (2 L) "
            "circulates and reaches the limit within moments. Never leave the machine running like this."
        )
    return tuple(told)


def engine_cautions(found):
    """Sentences (a tuple) on the engine of a Supply."""
    share, point = found.engine_share, found.point
    if share is None:
        return ("No engine is named, so its power is not checked.",)
    if not np.any(np.asarray(share) > USUAL_ENGINE_SHARE):
        return ()
    told = (
        f"The pump needs {both(np.max(found.power_needed), 'power')} at the shaft, {100 * np.max(share):.0f} % of "
        "what the engine can give at this altitude and speed. Keep 10 % in reserve."
    )
    if np.any(point.engine_bogged) and not np.ndim(point.gauge):
        low, high = found.bogged_gauge
        told += (
            f" With the engine bogged the gauge reads between {both(low, 'pressure')} and {both(high, 'pressure')}, "
            "depending on how its torque rises as it slows."
        )
    return (told,)


def suction_cautions(found):
    """Sentences (a tuple) on the head at the inlet of a Supply."""
    asked, pulses = found.tank.required_suction_head, found.acceleration_head
    left = np.asarray(found.suction_head) - (asked or 0.0)
    helps = "Raise the tank, clean the strainer, fit a shorter or wider suction hose, or an air chamber at the inlet."
    if np.any(left < 0.0):
        return (f"THE PUMP CAVITATES: the inlet is short of head by {both(-np.min(left), 'length')}. {helps}",)
    if pulses is None:
        return (
            "Enter the bore and length of the suction hose: they decide whether the plungers' pulses make the pump "
            "cavitate.",
        )
    short = np.asarray(pulses) - left
    if not np.any(short > 0.0):
        return ()
    return (
        f"The pump may cavitate: the plungers' pulses need up to {both(np.max(pulses), 'length')} of head from the "
        f"suction hose, {both(np.max(short), 'length')} more than there is. That is for a stiff suction hose; a "
        f"soft one needs less. {helps}",
    )


def supply(point: OperatingPoint, tank: Tank, *, altitude: Length | None = None) -> Supply:
    """The Supply of an OperatingPoint from a Tank.

    altitude m, for the suction: that of the rig's engine unless given, sea level without one. All broadcast.

    >>> both(supply(operating_point(demo_rig("yard_trailer")), Tank("100 gal")).tank_time, "duration")
    '9.96 min'
    """
    require_point(point, "supply(operating_point(rig), tank)")
    require_kind(tank, Tank, "tank", 'supply(point, Tank("100 gal"))')
    if altitude is None:
        altitude = 0.0 if point.rig.engine is None else point.rig.engine.altitude
    return Supply(point, tank, si(altitude, "altitude", field="altitude", owner="supply"))
