"""What is found on a rig that is looked over with the pump stopped, each a reading that is no number.

Relieve the pressure at the outlet and see the gauge at zero before anything is opened.
"""

from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from jetlib.errors import JetlibError
from jetlib.rig.diagnosis.readings import MISTAKE, Reading
from jetlib.units.refusal import cut

JETS_FOUND = ("as fitted", "plugged", "worn", "smaller set", "larger set")
_FOUND = 0.9  # chance that the fault is found by somebody who looks straight at it


@dataclass(frozen=True, eq=False)
class JetsSeen(Reading):
    """What the jets looked like with the nozzle off and the pump stopped, a drill shank tried in every hole.

    found: "as fitted", "plugged", "worn", "smaller set" or "larger set".

    >>> JetsSeen("worn").found
    'worn'
    """

    found: str

    throttle: ClassVar = None
    label: ClassVar = "jets checked, a drill shank in each"
    _read: ClassVar = "found"
    outcomes: ClassVar = JETS_FOUND
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

    def _check_own(self):
        if not isinstance(self.found, str) or self.found not in JETS_FOUND:
            raise JetlibError(f"found is {cut(self.found)}; write one of: {'; '.join(JETS_FOUND)}")

    @classmethod
    def chances(cls, fault: str) -> np.ndarray:
        """Chance (0 to 1) of each outcome when `fault` (its name) is the cause, an array."""
        there = cls._by_fault.get(fault, "as fitted")
        miss = (1.0 - _FOUND if there != "as fitted" else MISTAKE) / (len(cls.outcomes) - 1)
        return np.array([1.0 - miss * (len(cls.outcomes) - 1) if each == there else miss for each in cls.outcomes])


class _FaultSeen(Reading):
    """A look, pump stopped, that finds one fault or does not: its one field, True where it does.

    fault: the name of that fault. words: what is said of it, found and not found.
    """

    throttle: ClassVar = None
    fault: ClassVar[str]

    @property
    def outcomes(self) -> tuple:
        """What may be found, in words."""
        return self.words

    @property
    def found(self) -> str:
        """What was found, in words: one of `outcomes`."""
        return self.shown

    def read_as(self, value: object, **more: object) -> Reading:
        """The same look with another outcome, one of `outcomes`."""
        return super().read_as(value == self.words[0], **more)

    @classmethod
    def chances(cls, fault: str) -> np.ndarray:
        """Chance (0 to 1) of each outcome when `fault` (its name) is the cause, an array."""
        seen = _FOUND if fault == cls.fault else MISTAKE
        return np.array([seen, 1.0 - seen])


@dataclass(frozen=True, eq=False)
class HoseSeen(_FaultSeen):
    """Whether a walk along the hose, pump stopped, found it kinked, crushed or smaller than it should be.

    >>> HoseSeen(False).yes
    False
    """

    narrow: bool

    _read: ClassVar = "narrow"
    label: ClassVar = "hose looked over and its size read"
    fault: ClassVar = "hose narrow"
    words: ClassVar = ("narrow", "sound")


@dataclass(frozen=True, eq=False)
class SuctionSeen(_FaultSeen):
    """Whether a look at strainer, suction hose and tank, pump stopped, found the suction starved or drawing air.

    >>> SuctionSeen(True).yes
    True
    """

    starved: bool

    _read: ClassVar = "starved"
    label: ClassVar = "suction checked: strainer, hose, tank"
    fault: ClassVar = "suction starved"
    words: ClassVar = ("starved", "free")
