"""What is found on a rig that is looked over with the pump stopped, each a reading that is no number.

Relieve the pressure at the outlet and see the gauge at zero before anything is opened.
"""

from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from jetlib.errors import JetlibError
from jetlib.rig.diagnosis.readings import MISTAKE, Reading
from jetlib.units.refusal import cut

_FOUND = 0.9  # chance that the fault is found by somebody who looks straight at it


class _Look(Reading):
    """A look, pump stopped, that finds one of `words`; `_by_fault` names those that a fault leaves to be found."""

    throttle: ClassVar = None
    sound: ClassVar[str]  # what is found where no such fault is
    _by_fault: ClassVar[dict]

    def read_as(self, value: object, **more: object) -> Reading:
        """The same look with another outcome, one of `words`."""
        return super().read_as(value == self.words[0], **more)

    @classmethod
    def chances(cls, fault: str) -> np.ndarray:
        """Chance (0 to 1) of each of `words` when `fault` (its name) is the cause, an array."""
        there, others = cls._by_fault.get(fault, cls.sound), len(cls.words) - 1
        miss = (1.0 - _FOUND if there != cls.sound else MISTAKE) / others
        return np.array([1.0 - miss * others if each == there else miss for each in cls.words])


@dataclass(frozen=True, eq=False)
class JetsSeen(_Look):
    """What the jets looked like with the nozzle off and the pump stopped, a drill shank tried in every hole.

    found: "as fitted", "plugged", "worn", "smaller set" or "larger set".

    >>> JetsSeen("worn").found
    'worn'
    """

    found: str

    _read: ClassVar = "found"
    label: ClassVar = "jets checked, a drill shank in each"
    words: ClassVar = ("as fitted", "plugged", "worn", "smaller set", "larger set")
    sound: ClassVar = "as fitted"
    _by_fault: ClassVar = {
        "jet plugged": "plugged",
        "jets worn": "worn",
        "smaller set": "smaller set",
        "larger set": "larger set",
    }

    @property
    def shown(self) -> str:
        """What was found, in words."""
        return self.found

    def _check(self):
        super()._check()
        if not isinstance(self.found, str) or self.found not in self.words:
            raise JetlibError(f"found is {cut(self.found)}; write one of: {'; '.join(self.words)}")

    def read_as(self, value: object, **more: object) -> Reading:
        """The same look with another outcome, one of `words`."""
        return self.replace(found=value, **more)


@dataclass(frozen=True, eq=False)
class HoseSeen(_Look):
    """Whether a walk along the hose, pump stopped, found it kinked, crushed or smaller than it should be.

    >>> HoseSeen(False).yes
    False
    """

    narrow: bool

    _read: ClassVar = "narrow"
    label: ClassVar = "hose looked over and its size read"
    words: ClassVar = ("narrow", "sound")
    sound: ClassVar = "sound"
    _by_fault: ClassVar = {"hose narrow": "narrow"}


@dataclass(frozen=True, eq=False)
class SuctionSeen(_Look):
    """Whether a look at strainer, suction hose and tank, pump stopped, found the suction starved or drawing air.

    >>> SuctionSeen(True).yes
    True
    """

    starved: bool

    _read: ClassVar = "starved"
    label: ClassVar = "suction checked: strainer, hose, tank"
    words: ClassVar = ("starved", "free")
    sound: ClassVar = "free"
    _by_fault: ClassVar = {"suction starved": "starved"}
