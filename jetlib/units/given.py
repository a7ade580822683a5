"""What a quantity may be given as, for the annotations of the public names: each of these, in any field that takes it.

A number or an array is SI; a text has its unit, `"3/8 in"`; a Quantity is pint's. What is held afterwards is SI:
`Values`, a float or an array of them.
"""

from typing import Protocol

from numpy import ndarray


class Quantity(Protocol):
    """A number with a unit, as pint makes it: named by what it can do, so that nobody waits for pint."""

    magnitude: object

    def to(self, unit: object) -> "Quantity":
        """The same in another unit."""


Values = float | ndarray
Truths = bool | ndarray
Words = str | ndarray
Given = float | str | Quantity | ndarray | list | tuple
Length = Pressure = Flow = Speed = Velocity = Power = Force = Angle = Temperature = Volume = Duration = Given
#: Dimensionless: a share from 0 to 1 (or "50 %"), a slope ("1:60"), a number without a unit, kilograms for each meter.
Share = Slope = Number = MassPerLength = Given
