"""Jet sets that have been chosen: the holes, what the rig does with them, and what to be careful of."""

from dataclasses import dataclass, field
from functools import cached_property

from jetlib import tables
from jetlib.rig.jets.matching import MatchedJets, bypass_throttle
from jetlib.rig.parts.machine import Rig
from jetlib.rig.parts.part import Ranked
from jetlib.rig.point.cautions import SEE_THE_MANUAL
from jetlib.rig.point.operating_point import OperatingPoint, operating_point
from jetlib.rig.uncertainty.band import uncertainty_band
from jetlib.units import both

DRILLING = (
    "A new hole seldom has exactly the drill's size, and its flow depends on its edge. With the nozzle in the pipe, "
    "bring a new set up slowly from idle and watch the gauge. Never raise the valve's setting to make up for a hole. "
)


@dataclass(frozen=True)
class DrilledGroup:
    """`count` holes of one drill at one end of the nozzle: end is "rear" or "front"."""

    end: str
    count: int
    drill: tables.Drill

    @property
    def label(self):
        """Such as 4 × #59 rear."""
        return f"{self.count} × {self.drill.label} {self.end}"


@dataclass(frozen=True, eq=False)
class JetSet:
    """One set of jets and what `rig`, the rig with that set fitted, does at full throttle. SI floats.

    groups: DrilledGroups. share: effective area over the matched one. lost: share of the pump's flow that goes back
    through the valve. short: share of the setting that the gauge stays below it. unevenness: 1 - smallest bore /
    largest bore: the smaller hole opens up faster in proportion. score = lost + short + wear weight x unevenness,
    lower is better: the first two together are, to first order, the share of the line's power that is not delivered.
    """

    rig: Rig
    groups: tuple
    share: float
    gauge: float
    nozzle_flow: float
    bypass_flow: float
    nozzle_pressure: float
    pull: float
    lost: float
    short: float
    unevenness: float
    score: float

    @property
    def label(self):
        """Such as 4 × #59 rear + 1 × #60 front."""
        return " + ".join(group.label for group in self.groups)

    @property
    def nozzle(self):
        """The Nozzle with this set."""
        return self.rig.nozzle

    @property
    def jet_power(self):
        """Power at the jets, W."""
        return self.nozzle_pressure * self.nozzle_flow

    @property
    def bypass_throttle(self):
        """Throttle (0 to 1) at which the valve opens, or None when it stays shut up to full throttle."""
        return bypass_throttle(self.rig)

    @cached_property
    def point(self):
        """The OperatingPoint at full throttle."""
        return operating_point(self.rig)

    @property
    def cautions(self):
        """Sentences the reader must see, a tuple."""
        backward = ("NO PULL: this set pushes the nozzle back toward you. Do not run it.",)
        return (*self.point.cautions, *(backward if self.pull <= 0 else ()))

    def band(self, samples=400, **keywords):
        """The Band of readings at full throttle, for what is not known of hole, edge and hose (`uncertainty_band`)."""
        return uncertainty_band(self.rig, [1.0], samples=samples, **keywords)

    @property
    def sentence(self):
        """What it does, in a sentence."""
        spill = f"{both(self.bypass_flow, 'flow')} returns to the tank" if self.bypass_flow > 0 else "no bypass"
        return (
            f"{self.label}: gauge {both(self.gauge, 'pressure')}, {both(self.nozzle_flow, 'flow')} through the nozzle, "
            f"{spill}, {both(self.nozzle_pressure, 'pressure')} nozzle pressure, pull {both(self.pull, 'force')}, "
            f"{self.share:.0%} of the matched area."
        )


@dataclass(frozen=True, eq=False)
class JetSets(Ranked):
    """The best sets, best first; works as a sequence of JetSet. Empty when nothing matches: `advice` says why.

    matched: the MatchedJets they are held against. considered: how many sets the box makes. solved: how many of them
    came near enough to the matched area to be worked out.
    """

    sets: tuple
    matched: MatchedJets
    considered: int
    solved: int
    advice: str
    _point: OperatingPoint | None = field(default=None, repr=False)

    @property
    def cautions(self):
        """Sentences the reader must see before drilling, a tuple: those of all sets listed, then the usual ones."""
        own = () if self._point is None else self._point.cautions
        return (*own, DRILLING + SEE_THE_MANUAL)
