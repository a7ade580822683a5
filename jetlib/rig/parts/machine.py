"""The parts of a rig. Each takes text with a unit, a Quantity, or an SI number, and holds SI floats or arrays.

Parts are frozen: `part.replace(bore="12 mm")` makes a changed copy. Arrays in any field make many rigs at once.
"""

from dataclasses import dataclass, field, replace
from typing import Self

import numpy as np

from jetlib.errors import JetlibError
from jetlib.physics import air
from jetlib.physics import pump as pump_physics
from jetlib.physics.constants import USUAL_TEMPERATURE
from jetlib.rig.parts.part import Part, quantity
from jetlib.units import si
from jetlib.units.given import (
    Angle,
    Flow,
    Length,
    MassPerLength,
    Number,
    Power,
    Pressure,
    Share,
    Speed,
    Temperature,
    Values,
)
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
    kind: str = "naturally aspirated"
    air_temperature: Temperature | None = quantity("temperature", None, optional=True)
    torque_rise: Share = quantity("fraction", pump_physics.USUAL_TORQUE_RISE)

    def available(self, speed_share: Values = 1.0) -> Values:
        """Power (W) there is where it works, at a share of its rated speed: at half speed an engine has about half."""
        kept = air.engine_power_factor(self.altitude, self.kind, air_temperature=self.air_temperature)
        return self.power * kept * (1.0 if self.kind == "electric" else speed_share)

    def _check(self):
        if self.kind not in ENGINE_KINDS:
            raise JetlibError(
                f'kind is {self.kind!r}; allowed: {", ".join(ENGINE_KINDS)}; write Engine(kind="electric", …)'
            )


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
    rated_speed: Speed = quantity("speed", 1450.0 * np.pi / 30.0)
    idle_speed: Speed | None = quantity("speed", None, optional=True)
    volumetric_efficiency: Share = quantity("fraction", 1.0)
    rated_pressure: Pressure | None = quantity("pressure", None, optional=True)
    mechanical_efficiency: Share = quantity("fraction", 0.88)
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
        for name in ("volumetric_efficiency", "mechanical_efficiency"):
            self._require(name, np.asarray(getattr(self, name)) >= 0.2, "0.2 to 1", "0.95")
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
        self._require("rated_speed", np.asarray(self.rated_speed) > 0, "above 0", '"1450 rpm"')
        self._require("idle_speed", self.idle_speed <= np.asarray(self.rated_speed), "rated_speed or less", '"600 rpm"')
        if isinstance(self.plungers, bool) or self.plungers not in pump_physics.SUCTION_PULSES:
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


@dataclass(frozen=True, eq=False)
class Unloader(Part):
    """The bypass valve: opens at `setting` (Pa) and lets pressure rise by `rise` (share of setting) at full bypass.

    trapping: a kind that, once the outlet is shut, holds the hose at pressure and lets the pump run at
    unloaded_pressure (Pa; never more than the setting). seat_leak: bore (m) of the hole that a damaged seat leaves
    open at any pressure.

    >>> Unloader("3000 psi", rise="5 %").rise
    0.05
    """

    setting: Pressure = quantity("pressure")
    rise: Share = quantity("fraction", 0.08)
    trapping: bool = False
    unloaded_pressure: Pressure = quantity("pressure", 5e5)
    seat_leak: Length = quantity("leak_bore", 0.0)

    def _check(self):
        self._require("setting", np.asarray(self.setting) > 0, "above 0", '"3000 psi"')
        if np.ndim(self.trapping):
            raise JetlibError("trapping is an array; allowed: one true or false; write Unloader(trapping=True, …)")
        self._check_flag("trapping", "Unloader(trapping=True, …)")


@dataclass(frozen=True, eq=False)
class BurstDisc(Part):
    """A disc that bursts at `rating` (Pa) and stays open.

    bore (m) is the hole it leaves; opened says that it has gone already.

    >>> both(BurstDisc("4000 psi").rating, "pressure")
    '4000 psi (276 bar)'
    """

    rating: Pressure = quantity("pressure")
    bore: Length = quantity("bore", 0.010)
    opened: bool = False
    seat_leak: Length = quantity("leak_bore", 0.0)

    def _check(self):
        self._require("rating", np.asarray(self.rating) > 0, "above 0", '"4000 psi"')
        self._check_flag("opened", "BurstDisc(opened=False, …)")


@dataclass(frozen=True, eq=False)
class Hose(Part):
    """One length of hose.

    bore, length, roughness in m; a bore named by its size, "1/2 in", is the mean of that size's limits in the table
    (12.9 mm), one in decimals or millimetres is a measured bore. coiled_length (m) of it lies on a reel of
    coil_diameter (m); with a coil_diameter and no coiled_length all of it does. working_pressure (Pa) is what it is
    rated for. end_bore (m): the bore through the fitting at each of its two ends, where that is smaller. mass_per_metre
    (kg/m, empty) and bend_radius (m) are for weight and bends.

    >>> Hose("3/8 in", "150 ft").bore
    0.0097
    >>> Hose("9.5 mm", "150 ft").with_bore("12 mm").length
    45.72
    """

    bore: Length = quantity("hose_bore")
    length: Length = quantity("length")
    roughness: Length = quantity("roughness", 1e-5)
    coil_diameter: Length | None = quantity("coil_diameter", None, optional=True)
    coiled_length: Length | None = quantity("length", None, optional=True)
    working_pressure: Pressure | None = quantity("pressure", None, optional=True)
    end_bore: Length | None = quantity("bore", None, optional=True)
    mass_per_metre: MassPerLength | None = quantity("mass_per_length", None, optional=True)
    bend_radius: Length | None = quantity("coil_diameter", None, optional=True)
    name: str = ""

    def _check(self):
        if self.coiled_length is None:
            object.__setattr__(self, "coiled_length", 0.0 if self.coil_diameter is None else self.length)
        coiled, bore = np.asarray(self.coiled_length), np.asarray(self.bore)
        self._require("coiled_length", coiled <= np.asarray(self.length), "no more than length", '"30 ft"')
        self._require("roughness", self.roughness <= 0.05 * bore, "at most a twentieth of the bore", '"0.01 mm"')
        if self.coil_diameter is None:
            self._require("coiled_length", coiled == 0, "0, or give coil_diameter too", '0, coil_diameter="0.5 m"')
        else:
            self._require("coil_diameter", np.asarray(self.coil_diameter) >= 5 * bore, "5 bores or more", '"0.5 m"')
        if self.end_bore is not None:
            self._require("end_bore", self.end_bore <= bore, "no more than bore", '"9 mm"')
        if self.working_pressure is not None:
            self._require("working_pressure", np.asarray(self.working_pressure) > 0, "above 0", '"330 bar"')

    def replace(self, **changes: object) -> Self:
        """A copy with some fields changed.

        A change of coil_diameter or length says anew how much lies on the reel, unless coiled_length comes with it: all
        or none if it was so before, and all of it for a hose that had no reel.
        """
        if "coiled_length" not in changes:
            whole = self.coil_diameter is None or np.all(self.coiled_length == self.length)
            unreeled = "coil_diameter" in changes and changes["coil_diameter"] is None
            if unreeled or (whole and changes.keys() & {"coil_diameter", "length"}):
                changes = {**changes, "coiled_length": None}
        return replace(self, **changes)

    def with_bore(self, bore: Length, **changes: object) -> Self:
        """The same hose with another bore (m, or text), and whatever else is to change with it.

        Unless changed too, its ends are as narrow in proportion and as much of it lies on the reel. The rest gives way
        to the bore as far as it must: a smoother wall, wider ends, a wider reel.
        """
        bore = si(bore, "hose_bore", field="bore", owner="Hose")
        in_proportion = None if self.end_bore is None else self.end_bore * (bore / self.bore)
        made = {name: getattr(self, name) for name in ("roughness", "coil_diameter", "coiled_length")}
        made |= {"end_bore": in_proportion, **changes}
        for name, kind, hold, share in (
            ("roughness", "roughness", np.minimum, 0.05),
            ("end_bore", "bore", np.minimum, 1.0),
            ("coil_diameter", "coil_diameter", np.maximum, 5.0),
        ):
            if made[name] is not None:
                made[name] = hold(si(made[name], kind, field=name, owner="Hose"), share * bore)
        return self.replace(bore=bore, **made)

    @property
    def straight_length(self) -> Values:
        """Length (m) off the reel."""
        return self.length - self.coiled_length


@dataclass(frozen=True, eq=False)
class Fitting(Part):
    """A short narrow place in the line: `loss_coefficient` counts velocity heads in its own `bore` (m).

    Without a loss_coefficient it is worked out for a bore squeezed between hoses of line_bore (m).

    >>> Fitting("8 mm", line_bore="1/2 in").bore
    0.008
    """

    bore: Length = quantity("bore")
    loss_coefficient: Number | None = quantity("loss_coefficient", None, optional=True)
    line_bore: Length | None = quantity("bore", None, optional=True)
    count: int = 1
    name: str = ""

    def _check(self):
        self._check_count()
        if self.loss_coefficient is None and self.line_bore is None:
            raise JetlibError(
                'loss_coefficient is missing; write Fitting(loss_coefficient=0.9, …) or line_bore="1/2 in"'
            )
        if self.loss_coefficient is None:
            self._require("line_bore", self.line_bore >= np.asarray(self.bore), "bore or more", '"1/2 in"')


@dataclass(frozen=True, eq=False)
class Jet(Part):
    """A group of `count` like holes of `bore` (m).

    angle (rad, or text such as "30 deg") from the hose axis: 0 points straight back and pulls, 180 degrees points
    straight ahead and pushes back. discharge_coefficient by the shape of the edge; velocity_coefficient is real jet
    speed over ideal, 0.95 to 0.99 (Unwin 1911).

    >>> round(float(1e6 * Jet("#54", count=4).area), 2)  # mm2
    6.13
    """

    bore: Length = quantity("jet_bore")
    count: int = 1
    angle: Angle = quantity("angle", 0.0)
    discharge_coefficient: Share = quantity("fraction", 0.75)
    velocity_coefficient: Share = quantity("fraction", 0.97)
    name: str = ""

    def _check(self):
        self._check_count()
        for name in ("discharge_coefficient", "velocity_coefficient"):
            self._require(name, np.asarray(getattr(self, name)) >= 0.2, "0.2 to 1", "0.75")

    @property
    def area(self) -> Values:
        """Area of all the holes together, m2."""
        return np.asarray(self.count) * (np.pi / 4.0 * np.square(self.bore))

    @property
    def effective_area(self) -> Values:
        """Discharge coefficient x area, m2: what the water sees."""
        return self.discharge_coefficient * self.area


@dataclass(frozen=True, eq=False)
class Nozzle(Part):
    """Jet groups in one body. A rotating or swivelling body may cost pressure of its own: body_loss_coefficient
    velocity heads in body_bore (m), before the jets.

    >>> Nozzle([Jet("#54", count=3), Jet("1 mm", angle="180 deg")]).jets[1].count
    1
    """

    jets: tuple = ()
    body_bore: Length | None = quantity("bore", None, optional=True)
    body_loss_coefficient: Number = quantity("loss_coefficient", 0.0)
    name: str = ""

    def _check(self):
        object.__setattr__(
            self, "jets", _tuple_of(self.jets, Jet, "jets", 'Nozzle(jets=[Jet(bore="1.4 mm", count=4)])')
        )
        if self.body_bore is None:
            self._require(
                "body_loss_coefficient",
                np.asarray(self.body_loss_coefficient) == 0,
                "0, or give body_bore too",
                "0",
            )

    @property
    def area(self) -> Values:
        """Area of all the jets, m2."""
        return sum((jet.area for jet in self.jets), 0.0)

    @property
    def effective_area(self) -> Values:
        """Sum of discharge coefficient x area, m2: areas add, counts do not."""
        return sum((jet.effective_area for jet in self.jets), 0.0)


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
    hoses: tuple = ()
    nozzle: Nozzle = field(default_factory=Nozzle)
    engine: Engine = None
    fittings: tuple = ()
    water_temperature: Temperature = quantity("temperature", USUAL_TEMPERATURE)
    lift: Length = quantity("lift", 0.0)
    outlet_shut: bool = False
    name: str = ""

    def _check(self):
        keep = object.__setattr__
        keep(
            self,
            "hoses",
            _tuple_of(self.hoses, Hose, "hoses", 'Rig(hoses=[Hose(bore="1/2 in", length="200 ft")], …)'),
        )
        keep(self, "fittings", _tuple_of(self.fittings, Fitting, "fittings", "Rig(fittings=[Fitting(…)], …)"))
        for name, kind in (("pump", Pump), ("nozzle", Nozzle), ("engine", Engine)):
            value = getattr(self, name)
            if not isinstance(value, kind) and not (name == "engine" and value is None):
                raise JetlibError(f"{name} is {cut(value)}; write Rig({name}={kind.__name__}(…), …)")
        self._check_flag("outlet_shut", "Rig(outlet_shut=True, …)")
        valves = sorted(self.valves, key=lambda valve: isinstance(valve, BurstDisc))
        if len({type(valve) for valve in valves}) != len(valves):
            raise JetlibError("valve holds two of one kind; write Rig(valve=[Unloader(…), BurstDisc(…)], …)")
        keep(self, "valve", tuple(valves) if len(valves) > 1 else valves[0] if valves else None)

    @property
    def valves(self) -> tuple:
        """The valves as a tuple, empty when the rig has none."""
        if self.valve is None:
            return ()
        found = tuple(self.valve) if isinstance(self.valve, list | tuple) else (self.valve,)
        for valve in found:
            if not isinstance(valve, Unloader | BurstDisc):
                raise JetlibError(f'valve is {cut(valve)}; write Rig(valve=Unloader(setting="3000 psi"), …)')
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


def _delivered(told):
    """Flow (m3/s) and pressure (Pa) of "12 gpm at 3000 psi", or of a pair of the two."""
    pair = told.split(" at ") if isinstance(told, str) else told
    if not isinstance(pair, list | tuple) or len(pair) != 2:
        raise JetlibError(f'delivered is {cut(told)}; write Pump(delivered="12 gpm at 3000 psi", …)')
    flow, pressure = pair
    return (
        si(flow, "flow", field="delivered", owner="Pump"),
        si(pressure, "pressure", field="delivered", owner="Pump", name="the pressure of delivered"),
    )


def _tuple_of(value, kind, name, fix):
    items = (value,) if isinstance(value, kind) else value
    if not isinstance(items, list | tuple) or not all(isinstance(item, kind) for item in items):
        raise JetlibError(f"{name} is {cut(value)}; write {fix}")
    return tuple(items)
