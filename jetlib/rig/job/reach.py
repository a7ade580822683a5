"""How far the jets pull the hose down a drain, what pull is left on the way, and what it takes to come back."""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from jetlib.errors import JetlibError
from jetlib.physics import water
from jetlib.physics.hose_drag import hose_tension, pull_back_tension, reach_distance
from jetlib.physics.values import plain
from jetlib.rig.hoses.weight import BRAIDS, USUAL_FRICTION, hose_mass, usual_outside, weighed_as, weight_per_metre
from jetlib.rig.parts.part import require_kind
from jetlib.rig.parts.site import Drain
from jetlib.rig.point.cautions import SEE_THE_MANUAL
from jetlib.rig.point.operating_point import OperatingPoint, require_point
from jetlib.units import both, si
from jetlib.units.given import Force, Length, Number
from jetlib.units.refusal import cut

#: Low, likely and high friction of a wet hose on a pipe wall. Common practice, no source; 0.25 to 0.5 is
#: what textbooks print for rubber sliding on wet concrete, and a slimy pipe lets it slide easier.
FRICTION_RANGE = (0.15, USUAL_FRICTION, 0.6)
_FIBER = BRAIDS["fiber braid"]
STOPS = np.array(["pull", "hose", "run"])
NOT_A_PROMISE = (
    "Reach is calculated for a flexible hose with the same friction and fall all along. Joints, roots, dirt and a "
    "stiff hose shorten it; feeding the hose by hand lengthens it. Mark the hose, and trust the mark to say where "
    "the nozzle is.  "
)


@dataclass(frozen=True, eq=False)
class Reach:
    """How far the nozzle of an OperatingPoint goes down a Drain; SI floats, or arrays of the broadcast shape.

    friction: hose on wall. entry_pull: what holds the hose back at the entry, N. hose_outside: hose between machine and
    entry, m. pull: of the jets along the hose, N.
    """

    point: OperatingPoint
    drain: Drain
    friction: float
    entry_pull: float
    hose_outside: float
    pull: float

    @cached_property
    def weights(self):
        """Weight (N/m) of each hose, full of water, as it lies in the pipe, a tuple."""
        return line_weights(self.point.rig, flooded=self.drain.flooded)

    @cached_property
    def pull_distance(self):
        """Where the drag of the hose is as great as the pull, m from the entry; infinite where nothing stops it."""
        return reach_distance(self.pull, entry_pull=self.entry_pull, **self._line)

    @property
    def hose_distance(self):
        """Hose there is for the pipe, m."""
        return plain(np.maximum(sum(self._line["lengths"]) - np.asarray(self.hose_outside), 0.0))

    @property
    def distance(self):
        """How far the nozzle comes, m: the least of pull_distance, hose_distance and the run."""
        return plain(np.minimum(np.minimum(self.pull_distance, self.hose_distance), self.drain.length))

    @property
    def limited_by(self):
        """What stops it: "pull", "hose" (there is no more of it) or "run" (it is at the end); an array for arrays."""
        options = np.broadcast_arrays(self.pull_distance, self.hose_distance, self.drain.length)
        found = STOPS[2 - np.argmin(np.stack(options[::-1]), axis=0)]  # the end of the run where two are equal
        return str(found) if np.ndim(found) == 0 else found

    @property
    def whole_run(self):
        """Whether the nozzle comes to the end of the run."""
        found = np.asarray(self.distance) >= np.asarray(self.drain.length)
        return found if found.ndim else bool(found)

    def drag(self, distance):
        """Pull (N) that the hose takes with the nozzle `distance` into the pipe (m, or text such as "80 ft")."""
        return hose_tension(self._metres(distance), entry_pull=self.entry_pull, **self._line)

    def pull_left(self, distance):
        """Pull (N) that the jets have left over at `distance`; below 0 they do not bring the hose so far."""
        return plain(self.pull - np.asarray(self.drag(distance)))

    def pull_back(self, distance, *, jets_on=True):
        """Pull (N) at the entry that brings the hose back from `distance`, with the jets on or off."""
        return pull_back_tension(self._metres(distance), nozzle_pull=self.pull if jets_on else 0.0, **self._line)

    def _metres(self, distance):
        return si(distance, "length", field="distance", owner="Reach")

    @cached_property
    def _line(self):
        return {
            "weights": self.weights,
            "lengths": [hose.length for hose in self.point.rig.hoses],
            "friction": self.friction,
            "rise": self.drain.rise,
            "bends": [(bend.at, bend.angle) for bend in self.drain.bends],
        }

    @property
    def cautions(self):
        """Sentences the reader must see, a tuple."""
        found = []
        pull, run = np.asarray(self.pull), np.asarray(self.drain.length)
        if (pull <= 0.0).any():
            found.append(
                f"THE JETS PUSH THE NOZZLE BACK ({both(np.min(pull), 'force')}): it comes back out of the pipe at "
                "you. Do not run it: fit more or larger rear jets, or fewer front ones."
            )
        stopped = (np.asarray(self.pull_distance) < run) & (pull > 0.0)
        if stopped.any():
            found.append(
                f"The jets pull the hose for about {both(np.min(self.pull_distance), 'length')} of "
                f"{both(np.max(run), 'length')}: the hose drags as hard as they pull from there on."
            )
        if (np.asarray(self.hose_distance) < run).any():
            found.append(
                f"The hose is long enough for {both(np.min(self.hose_distance), 'length')} of "
                f"{both(np.max(run), 'length')}."
            )
        out = (
            "A nozzle that comes out of the entry with the jets on whips the hose about: keep the pump stopped "
            "whenever the nozzle is outside the pipe."
        )
        return (*found, *self.hose_cautions, out, NOT_A_PROMISE + SEE_THE_MANUAL)

    @property
    def hose_cautions(self):
        """Sentences on the hose itself: weight that is not known, a slope it slides down."""
        found = []
        if np.any((np.asarray(self.drain.rise) < 0.0) & (np.asarray(self.drag(self.drain.length)) <= 0.0)):
            found.append("The pipe falls so steeply that the hose slides down by itself: hold it back all the way in.")
        if self.if_fiber is not None:
            heavy, light = (both(np.min(each.distance), "length") for each in (self, self.if_fiber))
            found.append(
                "A hose without a weight is assumed to have two-wire steel braid, the heaviest in use: the nozzle "
                f"reaches {heavy}. Were it fiber braid, as most jetting hose is (common practice, no source), it would "
                f"reach {light}. Weigh a length and enter its weight."
            )
        return tuple(found)

    @cached_property
    def if_fiber(self):
        """The Reach if the hoses without a weight are of fiber braid; None where all have one."""
        if all(hose.mass_per_metre is not None for hose in self.point.rig.hoses):
            return None
        hoses = [weighed_as(hose, _FIBER) if hose.mass_per_metre is None else hose for hose in self.point.rig.hoses]
        return replace(self, point=replace(self.point, rig=self.point.rig.replace(hoses=hoses)))

    @property
    def sentence(self):
        """Pull, reach and what stops it in words; for one rig at one throttle."""
        if np.ndim(self.distance):
            raise JetlibError(f"sentence is for one rig at one throttle; this Reach holds {np.shape(self.distance)}")
        at_a_bend = any(self.pull_distance == bend.at for bend in self.drain.bends)
        ends = {
            "pull": "from there on the hose drags as hard as the jets pull"
            + (", and they cannot pull it around the bend" if at_a_bend else ""),
            "hose": "that is all the hose",
            "run": f"the end of the run, with {both(self.pull_left(self.distance), 'force')} of pull left",
        }
        return (
            f"The jets pull {both(self.pull, 'force')} and take the nozzle {both(self.distance, 'length')} in: "
            f"{ends[self.limited_by]}."
        )


def reach(
    point: OperatingPoint,
    drain: Drain,
    *,
    friction: Number = USUAL_FRICTION,
    hose_outside: Length = 0.0,
    entry_pull: Force = 0.0,
) -> Reach:
    """The Reach of an OperatingPoint in a Drain.

    friction: of hose on wall, 0 to 2; FRICTION_RANGE says what to expect. hose_outside: hose between machine and entry,
    m. entry_pull: what holds the hose back there, N; 0 where it is fed by hand. All broadcast with the point. A hose
    without mass_per_metre weighs what the usual hose of its bore does; in a flooded drain each is taken as thick as
    the usual hose. Pull and drag: the momentum of the jets, and `jetlib.physics.hose_drag`. JetlibError for a rig
    without hose.

    >>> both(reach(operating_point(demo_rig("yard_trailer")), Drain("4 in", "150 ft")).distance, "length")
    '110 ft (33.6 m)'
    """
    require_point(point, "reach(operating_point(rig), drain)")
    require_kind(drain, Drain, "drain", 'reach(point, Drain(bore="4 in", length="150 ft"))')
    if not point.rig.hoses:
        raise JetlibError('hoses is empty, so nothing can be dragged; write Rig(hoses=[Hose("1/2 in", "200 ft")], …)')
    friction = si(friction, "ratio", field="friction", owner="reach")
    if not np.all((np.asarray(friction) >= 0.0) & (np.asarray(friction) <= 2.0)):
        raise JetlibError(f"friction is {cut(friction)}; allowed: 0 to 2; write friction=0.4")
    hose_outside = si(hose_outside, "length", field="hose_outside", owner="reach")
    entry_pull = si(entry_pull, "force", field="entry_pull", owner="reach")
    if np.any(np.asarray(entry_pull) < 0.0):
        raise JetlibError(f"entry_pull is {np.min(entry_pull):g} N; allowed: 0 or more; write entry_pull=0")
    found = Reach(point, drain, friction, entry_pull, hose_outside, point.reaction)
    line = (*found.weights, *(hose.length for hose in point.rig.hoses))
    given = (found.pull, *line, friction, drain.length, drain.rise, hose_outside, entry_pull)
    try:
        np.broadcast_shapes(*map(np.shape, given))
    except ValueError as error:
        raise JetlibError(
            f"the arrays in the rig, the drain and the friction do not go together ({error}); give them shapes that "
            "broadcast"
        ) from None
    return found


def line_weights(rig, *, flooded=False):
    """Weight (N/m) of each hose of `rig` full of water, from the pump on, a tuple; under water where `flooded`."""
    density = water.density(rig.water_temperature)
    return tuple(_weight(hose, density, flooded) for hose in rig.hoses)


def _weight(hose, density, flooded):
    if np.ndim(hose.bore) and (flooded or hose.mass_per_metre is None):
        raise JetlibError(
            "a hose has an array of bores and no one weight; give each its mass_per_metre, and a drain that is not "
            'flooded; write Hose(mass_per_metre="0.4 lb/ft", …)'
        )
    outside = np.where(flooded, usual_outside(hose), 0.0) if np.any(flooded) else None
    return weight_per_metre(hose_mass(hose), hose.bore, density=density, outside_diameter=outside)
