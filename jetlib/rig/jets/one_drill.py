"""What one drill size more or less in one group of jets does to the gauge and to the water."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from jetlib import tables
from jetlib.errors import JetlibError
from jetlib.rig.jets.drill_box import box_of
from jetlib.rig.parts.machine import Rig
from jetlib.rig.point.cautions import SEE_THE_MANUAL
from jetlib.rig.point.circuit import compile_one, require_rig
from jetlib.rig.point.operating_point import OperatingPoint, operating_point
from jetlib.units import both, si
from jetlib.units.given import Share

_SAME = 1e-9  # m: a drill of just that bore changes nothing


@dataclass(frozen=True, eq=False)
class DrillChange:
    """Jet group number `group` (1 is the first) with the drill `step` sizes above what it has; SI floats.

    drill: the new Drill. before: its bore until now, m. rig: the rig so changed. gauge, nozzle_flow, bypass_flow, pull:
    what it then does; the names with _change: how much more that is than now.
    """

    group: int
    step: int
    drill: tables.Drill
    before: float
    rig: Rig
    gauge: float
    nozzle_flow: float
    bypass_flow: float
    pull: float
    gauge_change: float
    nozzle_flow_change: float
    bypass_flow_change: float
    pull_change: float

    @cached_property
    def label(self):
        """Such as rear: #59 up to #58, with the group's number where it has no name."""
        jet = self.rig.nozzle.jets[self.group - 1]
        nearest = tables.next_drill(self.before, 0, series=self.drill.series)
        exact = abs(nearest.diameter - self.before) < _SAME
        was = nearest.label if exact else both(self.before, "jet_bore")
        return f"{jet.name or f'group {self.group}'}: {was} {'up' if self.step > 0 else 'down'} to {self.drill.label}"

    @property
    def sentence(self):
        """What the change does, in a sentence."""
        return (
            f"{self.label}: gauge {_signed(self.gauge_change, 'pressure')}, through the nozzle "
            f"{_signed(self.nozzle_flow_change, 'flow')}, bypass {_signed(self.bypass_flow_change, 'flow')}, "
            f"pull {_signed(self.pull_change, 'force')}."
        )

    @property
    def cautions(self):
        """Sentences the reader must see, a tuple."""
        backward = ("NO PULL: with this change the jets push the nozzle back toward you. Do not run it.",)
        once = "A hole can be drilled larger, never smaller. A smaller size needs another insert or another nozzle. "
        return (*operating_point(self.rig).cautions, *(backward if self.pull <= 0 else ()), once + SEE_THE_MANUAL)


def change_by_one_drill(rig: Rig, *, throttle: Share = 1.0, drills: object = None) -> tuple:
    """The DrillChanges of every open jet group by one size up and one down, in that order, as a tuple.

    throttle: 0 idle to 1 full. drills: those in the box; all number drills for None. The step is to the
    next drill above or below the bore itself; past the end of the box there is none. All changes are worked out as one
    rig of arrays.
    Raises JetlibError for a rig without open jets or of arrays.

    >>> change_by_one_drill(demo_rig("yard_trailer"))[0].drill.label
    '#58'
    """
    throttle = si(throttle, "fraction", field="throttle", owner="change_by_one_drill")
    if np.ndim(throttle):
        raise JetlibError("throttle is an array; change_by_one_drill takes one; write throttle=1.0")
    jets = require_rig(rig).nozzle.jets
    compile_one(rig, throttle, "change_by_one_drill takes one rig at a time")
    if not rig.nozzle.effective_area > 0:
        raise JetlibError('nozzle has no open jets to change; write Nozzle(jets=[Jet(bore="1.4 mm", count=4)])')
    box = box_of(tables.drills("number") if drills is None else drills)
    steps = []
    for at, jet in enumerate(jets):
        if jet.count:
            steps += [(at, 1, row) for row in [row for row in box if row.diameter > jet.bore + _SAME][:1]]
            steps += [(at, -1, row) for row in [row for row in box if row.diameter < jet.bore - _SAME][-1:]]
    bores = np.array([[jet.bore for jet in jets]] * (1 + len(steps)))  # the first row is the rig as it is
    for row, (at, _, drill) in enumerate(steps, start=1):
        bores[row, at] = drill.diameter
    many = tuple(jet.replace(bore=bores[:, at]) for at, jet in enumerate(jets))
    point = operating_point(rig.with_jets(many), throttle)
    return tuple(_change(rig, point, row, *each) for row, each in enumerate(steps, start=1))


def _change(rig, point: OperatingPoint, row, at, step, drill):
    jets = list(rig.nozzle.jets)
    before, jets[at] = jets[at].bore, jets[at].replace(bore=drill.diameter)
    readings = np.array([point.gauge, point.nozzle_flow, point.bypass_flow, point.reaction])
    then, more = readings[:, row], readings[:, row] - readings[:, 0]
    return DrillChange(at + 1, step, drill, before, rig.with_jets(jets), *then.tolist(), *more.tolist())


def _signed(change, kind):
    words = both(abs(change), kind)
    return "the same" if words.startswith("0 ") else f"{'up' if change > 0 else 'down'} {words}"
