"""Jets for a rig from the drills at hand: full throttle and full pressure together, as nearly as real drills allow."""

from dataclasses import dataclass

import numpy as np

from jetlib.errors import JetlibError
from jetlib.rig.jets.drill_box import DrillBox, box_of, hole_counts, number_of_sizes
from jetlib.rig.jets.jet_set import DrilledGroup, JetSet, JetSets
from jetlib.rig.jets.matching import matched_jets
from jetlib.rig.parts.machine import Jet, Rig
from jetlib.rig.parts.part import require_choice, require_one, whole_number
from jetlib.rig.point.circuit import require_rig
from jetlib.rig.point.operating_point import operating_point
from jetlib.units import both, si
from jetlib.units.given import Angle, Force, Share
from jetlib.units.kinds import KINDS

#: What one part of unevenness counts beside one part of flow or pressure lost.
WEAR_WEIGHT = 0.1
#: Sets are looked for from the matched area divided by this to the matched area times this.
WIDEST = 1.5
#: What a set can be chosen for: a match, or most flow, power, pull; the last three from 1/FURTHEST of the match on.
AIMS, FURTHEST = ("matched", "flow", "power", "pull"), 3.0
_FIRST_WIDTH = 1.02
_REAR_ANGLE = np.radians(30.0)  # for a nozzle that has no rear jets yet


def size_jets(
    rig: Rig,
    *,
    drills: object = None,
    rear_holes: object = range(3, 9),
    front_holes: object = range(0, 3),
    keep_pull: Force | None = None,
    most_sizes: int = 2,
    rear_angle: Angle | None = None,
    front_angle: Angle | None = None,
    discharge_coefficient: Share | None = None,
    velocity_coefficient: Share | None = None,
    wear_weight: Share = WEAR_WEIGHT,
    aim: str = "matched",
    top: int = 10,
) -> JetSets:
    """The JetSets of the `top` best sets for this pump, hose and valve at full throttle, ranked by JetSet.score.

    drills: those in the box, by name; number drills #80 to #40 for None. rear_holes, front_holes: counts to try, in
    any order. Rear holes are of one drill, or of two that alternate in balance; front holes are of one. most_sizes:
    drills in one set. keep_pull: least net pull (N or text with its unit); None keeps out only sets that push back.
    rear_angle, front_angle, discharge_coefficient, velocity_coefficient: those of the rig's own jets unless given.

    aim: "matched"; or "flow", "power" (at the jets), "pull": the score is then what a set lacks of the most there could
    be, as a share, and small enough jets to let the valve open are tried too.

    Matched area in closed form, then the engine on the sets near it, wider and wider until no set left out could be
    better: the ranking is that of all sets from 1/WIDEST to WIDEST of the matched area. Sets of like score: fewer
    drills first, then fewer holes. Raises JetlibError for a rig without unloader or of arrays, for unknown drills, and
    for more sets than can be tried.

    >>> size_jets(demo_rig("yard_trailer"), rear_holes=range(3, 5), front_holes=[0], top=1)[0].label
    '3 × #55 rear'
    """
    patterns = _patterns(require_rig(rig), rear_angle, front_angle, discharge_coefficient, velocity_coefficient)
    if keep_pull is not None:
        keep_pull = require_one(si(keep_pull, "force", field="keep_pull", owner="size_jets"), "keep_pull")
    top = whole_number(top, "top", 1, 1000)
    wear_weight = require_one(si(wear_weight, "fraction", field="wear_weight", owner="size_jets"), "wear_weight")
    box = DrillBox(
        drills=box_of(drills),
        rear_holes=hole_counts(rear_holes, "rear_holes"),
        front_holes=hole_counts(front_holes, "front_holes"),
        most_sizes=whole_number(most_sizes, "most_sizes", 1, 3),
        rear_coefficient=patterns[0].discharge_coefficient,
        front_coefficient=patterns[1].discharge_coefficient,
    )
    rig = rig.replace(outlet_shut=False)
    matched = matched_jets(rig.with_jets(patterns[0].replace(count=4)))
    if not matched.possible:
        return JetSets((), matched, box.count, 0, matched.advice)
    require_choice(aim, AIMS, "aim", 'aim="power"')
    search = _Search(rig, box, patterns, matched.effective_area, keep_pull, wear_weight, top, aim)
    best, solved, strongest = search.run()
    if best is None:
        return JetSets((), matched, box.count, solved, _why_none(box, matched, solved, keep_pull, strongest))
    point = operating_point(search.fitted(best))
    sets = tuple(search.jet_sets(best, point))
    advice = f"Best of {box.count:,} sets: {sets[0].sentence}"
    return JetSets(sets, matched, box.count, solved, advice, point)


@dataclass(frozen=True, eq=False)
class _Search:
    rig: Rig
    box: DrillBox
    patterns: tuple
    area: float
    floor: float | None
    wear_weight: float
    top: int
    aim: str

    def run(self):
        """The best sets in order (None if there are none), how many were solved, and the strongest pull seen (N)."""
        width, solved, strongest = _FIRST_WIDTH, 0, -np.inf
        spans, kept, scores = [(self.area / width, self.area * width)], [], np.zeros(0)
        if self.aim != "matched":
            spans, width = [(self.area / FURTHEST, self.area * WIDEST)], WIDEST
        while True:
            for low, high in spans:
                found = self.box.between(low, high)
                solved += found.shape[-1]
                if found.size:
                    score, pull, good = self.judge(found)
                    strongest = max(strongest, float(pull.max()))
                    kept.append(found[..., good])
                    scores = np.concatenate([scores, score[good]])
            enough = np.partition(scores, self.top - 1)[self.top - 1] if len(scores) >= self.top else np.inf
            if width >= WIDEST or enough < self.power_lost(np.array([self.area / width, self.area * width])).min():
                break
            inner, width = width, min(width**3, WIDEST)
            spans = [(self.area / width, self.area / inner), (self.area * inner, self.area * width)]
        if not len(scores):
            return None, solved, strongest
        near = scores <= (np.inf if enough == np.inf else enough + 1e-9)
        found, scores = np.concatenate(kept, axis=-1)[..., near], scores[near]
        return found[..., _order(found, scores)[: self.top]], solved, strongest

    def fitted(self, found):
        """The rig with each of the sets, as one rig of arrays."""
        rear, front = self.patterns
        jets = [
            pattern.replace(bore=self.box.bores[size], count=count)
            for pattern, size, count in zip((rear, rear, front), *found[::-1], strict=True)
        ]
        return self.rig.with_jets(jets)

    def judge(self, found):
        """Score of each, its pull (N), and whether it may be listed."""
        point = operating_point(self.fitted(found))
        pull = np.asarray(point.reaction)
        pulls = (pull > 0.0) | (found[0, :2].sum(axis=0) == 0)  # with front holes alone there is no pull to keep
        enough = pulls if self.floor is None else pull >= self.floor
        disc = self.rig.burst_disc
        intact = ~np.asarray(point.disc_open) | (disc is not None and disc.opened)
        return self.score(point, found), pull, enough & intact

    def score(self, point, found):
        """Of each set, lower is better."""
        flow, setting = self.rig.pump.rated_flow, self.rig.unloader.setting
        most = {"flow": flow, "power": flow * setting, "pull": flow * np.sqrt(2000.0 * setting)}
        there = {"flow": point.nozzle_flow, "power": point.power_shares["jets"], "pull": point.reaction}
        short = sum(_losses(point)) if self.aim == "matched" else 1.0 - there[self.aim] / most[self.aim]
        return short + self.wear_weight * self.unevenness(found)

    def unevenness(self, found):
        bores = self.box.bores[found[1]]
        return 1.0 - bores.min(axis=0) / bores.max(axis=0)

    def power_lost(self, areas):
        """lost + short of the score at effective `areas` (m2): least at the matched one, and rising away from it."""
        like = self.patterns[0]
        bore = np.sqrt(areas / (like.discharge_coefficient * 10 * np.pi / 4.0))
        # Held to what can be a jet: nearer to the matched area there is less to lose, so no set is given up too early.
        bore = np.clip(bore, KINDS["jet_bore"].low, KINDS["jet_bore"].high)
        lost, short = _losses(operating_point(self.rig.with_jets(like.replace(bore=bore, count=10))))
        return lost + short

    def jet_sets(self, found, point):
        """A JetSet for each, from the OperatingPoint of all."""
        lost, short = _losses(point)
        values = {
            "share": point.rig.nozzle.effective_area / self.area,
            "pull": point.reaction,
            "lost": lost,
            "short": short,
            "unevenness": self.unevenness(found),
            "score": self.score(point, found),
            **{name: getattr(point, name) for name in ("gauge", "nozzle_flow", "bypass_flow", "nozzle_pressure")},
        }
        for at in range(found.shape[-1]):
            groups, jets = [], []
            for end, count, size in zip(("rear", "rear", "front"), *found[..., at].tolist(), strict=True):
                if count:
                    drill = self.box.drills[size]
                    groups.append(DrilledGroup(end, count, drill))
                    jets.append(self.patterns[end == "front"].replace(bore=drill.diameter, count=count, name=end))
            own = {name: float(value[at]) for name, value in values.items()}
            yield JetSet(rig=self.rig.with_jets(jets), groups=tuple(groups), **own)


def _losses(point):
    """Shares of flow and of pressure that do not reach the line: bypass / pump flow, and how far below the setting."""
    lost = point.bypass_flow / point.pump_flow
    return lost, np.maximum(1.0 - point.gauge / point.rig.unloader.setting, 0.0)


def _order(found, scores):
    """Places of the sets, best first; the same whatever order they come in."""
    counts, sizes = found
    keys = [*sizes, *counts, counts.sum(axis=0), number_of_sizes(sizes), np.round(scores, 7)]
    return np.lexsort(keys)


def _patterns(rig, rear_angle, front_angle, discharge_coefficient, velocity_coefficient):
    """A rear and a front Jet that carry the angle and coefficients; their bore and count do not matter."""
    given = {"discharge_coefficient": discharge_coefficient, "velocity_coefficient": velocity_coefficient}
    given = {name: value for name, value in given.items() if value is not None}
    if any(np.ndim(value) for jet in rig.nozzle.jets for value in vars(jet).values()):
        raise JetlibError("the nozzle holds arrays; size_jets takes one rig at a time")
    ends = [[jet for jet in rig.nozzle.jets if (jet.angle <= np.pi / 2) == rear] for rear in (True, False)]
    patterns = []
    for own, other, angle, usual in zip(ends, ends[::-1], (rear_angle, front_angle), (_REAR_ANGLE, np.pi), strict=True):
        # The group with most holes to it speaks for its end of the nozzle; failing one, the other end does.
        like = max(own or other, key=lambda jet: jet.area, default=Jet(bore=0.001))
        if angle is not None:
            angle = require_one(si(angle, "angle", field="rear_angle or front_angle", owner="size_jets"), "an angle")
        else:
            angle = like.angle if own else usual
        patterns.append(like.replace(bore=0.001, count=1, angle=angle, name="", **given))
    for name, jet, right in (("rear_angle", patterns[0], True), ("front_angle", patterns[1], False)):
        if (jet.angle <= np.pi / 2) != right:
            allowed = "0 to 90 deg" if right else "more than 90 up to 180 deg"
            fix = f'{name}="{30 if right else 180} deg"'
            raise JetlibError(f"{name} is {both(jet.angle, 'angle')}; allowed: {allowed} from the hose; write {fix}")
    return tuple(patterns)


def _why_none(box, matched, solved, floor, strongest):
    if solved and floor is not None and strongest < floor:
        return (
            f"No set keeps a pull of {both(floor, 'force')}: the strongest near the matched area pulls "
            f"{both(strongest, 'force')}. Ask for less pull, use fewer front holes, or point the rear holes farther "
            "back."
        )
    if solved and strongest <= 0.0:
        return "Every set near the matched area pushes the nozzle back: allow fewer front holes or more rear ones."
    if solved:
        return (
            "No set can be listed: with every set near the matched area, the burst disc opens or the pull is too small."
        )
    least, most = (area / matched.effective_area for area in box.areas)
    if least > WIDEST:
        return (
            f"The smallest set of this box has {least:.2f} times the matched area: add smaller drills or allow fewer "
            "holes."
        )
    if most < 1.0 / WIDEST:
        return f"The largest set of this box has {most:.0%} of the matched area: add larger drills or allow more holes."
    return "No set of these drills and hole counts comes near the matched area: allow more counts or more drills."
