"""What the water goes through: hoses, fittings, jets, nozzle."""

from dataclasses import dataclass, replace
from typing import Self

import numpy as np

from jetlib.errors import JetlibError
from jetlib.rig.parts.part import ABOVE_ZERO, EFFICIENCY, Part, count, quantity, several
from jetlib.units import si
from jetlib.units.given import Angle, Length, MassPerLength, Number, Pressure, Share, Values


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
    working_pressure: Pressure | None = quantity("pressure", None, optional=True, span=ABOVE_ZERO, fix='"330 bar"')
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

    @property
    def pressure_limit(self) -> Values:
        """What it is rated for, Pa; infinite where nobody said."""
        return np.inf if self.working_pressure is None else self.working_pressure


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
    count: int = count()
    name: str = ""

    def _check(self):
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
    count: int = count()
    angle: Angle = quantity("angle", 0.0)
    discharge_coefficient: Share = quantity("fraction", 0.75, span=EFFICIENCY, fix="0.75")
    velocity_coefficient: Share = quantity("fraction", 0.97, span=EFFICIENCY, fix="0.75")
    name: str = ""

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

    jets: tuple = several(Jet, 'Nozzle(jets=[Jet(bore="1.4 mm", count=4)])')
    body_bore: Length | None = quantity("bore", None, optional=True)
    body_loss_coefficient: Number = quantity("loss_coefficient", 0.0)
    name: str = ""

    def _check(self):
        if self.body_bore is None:
            lossless = np.asarray(self.body_loss_coefficient) == 0
            self._require("body_loss_coefficient", lossless, "0, or give body_bore too", "0")

    @property
    def area(self) -> Values:
        """Area of all the jets, m2."""
        return sum((jet.area for jet in self.jets), 0.0)

    @property
    def effective_area(self) -> Values:
        """Sum of discharge coefficient x area, m2: areas add, counts do not."""
        return sum((jet.effective_area for jet in self.jets), 0.0)
