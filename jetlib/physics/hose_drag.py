"""What it takes to drag a hose along a pipe: friction, slope and bends; and what goes round a bend.

The hose is a limp rope with friction on the wall. The pull meant here is the tension beyond what the pressure and the
moving water inside hold for themselves (the effective tension): at the nozzle it is the reaction of the jets, and
neither pressure nor the water's friction on the inside of the hose changes how it grows, since both are forces between
hose and its own water. Left out: stiffness, which adds to bends; joints, roots and dirt; the push of a hand.
"""

import numpy as np

from jetlib.errors import JetlibError
from jetlib.physics.values import finite, not_negative, plain, positive, require


@finite(endless=True)
def capstan_ratio(friction, turned):
    """Pull after a bend over pull before it; broadcasts.

    `friction` coefficient of hose on wall, `turned` angle of the bend in radians. exp(friction x turned): Euler and
    Eytelwein's rope round a post, in any textbook of statics (Hibbeler, *Statics*, "Frictional forces on flat belts").
    The radius of the bend does not matter. For a rope whose own weight in the bend is small beside its pull.
    """
    return plain(np.exp(not_negative(friction, "friction", "") * not_negative(turned, "turned", "rad")))


@finite
def slope_drag(friction, rise):
    """Pull over weight that drags a body up a slope, a share; broadcasts.

    `friction` coefficient; `rise` height gained over length along the slope (sine of its angle), -1 to 1, below 0
    downhill. friction x cos + sin, the inclined plane; 0 where it would slide down by itself, for a limp hose does not
    push. JetlibError for a rise outside -1 to 1.
    """
    rise = plain(rise)
    require(
        (rise >= -1.0) & (rise <= 1.0),
        rise,
        "rise is {value}; it is height over length along the pipe, -1 to 1: write 0.02 for 2 % uphill",
    )
    lifted = not_negative(friction, "friction", "") * np.sqrt(1.0 - np.square(rise)) + rise
    return plain(np.maximum(lifted, 0.0))


@finite(endless=True)
def hose_tension(distance, *, weights, lengths, friction, rise=0.0, bends=(), entry_pull=0.0):
    """Pull at the nozzle that drags the hose on when the nozzle is `distance` (m) into the pipe, N; broadcasts.

    weights (N/m) and lengths (m) of the hoses from the pump to the nozzle, sequences whose entries broadcast; the first
    goes on for ever, so that the answer does not run out of hose. friction, rise as `slope_drag`, the same all along.
    bends: pairs of (distance m from the entry, angle rad), entries broadcast; each is turned once the nozzle is past
    it. entry_pull N: what holds the hose back where it goes into the pipe.

    Between bends the pull grows by weight x slope_drag, at each bend by its capstan_ratio: behind a bend that lies
    close to the entry there is little hose to multiply, behind one far in there is much.
    """
    line = _Line(weights, lengths, slope_drag(friction, rise), friction, bends, entry_pull)
    distance = np.asarray(not_negative(distance, "distance", "m"))
    return plain(line.tension(distance, [distance > at for at, _ in line.bends]))


@finite(endless=True)
def reach_distance(pull, *, weights, lengths, friction, rise=0.0, bends=(), entry_pull=0.0):
    """Distance (m) into the pipe at which `pull` (N) at the nozzle just drags the hose; other arguments as
    `hose_tension`, of which this is the inverse; broadcasts.

    Infinite where nothing stops it, 0 where the pull does not even start it. A bend the pull does not take the hose
    round stops it there. Exact: the pull is a straight line in the distance between places where a bend is passed or
    where another hose comes to one.
    """
    line = _Line(weights, lengths, slope_drag(friction, rise), friction, bends, entry_pull)
    pull = np.asarray(plain(pull))
    shape = np.broadcast_shapes(pull.shape, line.shape)
    pull = np.broadcast_to(pull, shape)
    ends, starts = [np.zeros(line.shape)], [np.zeros(line.shape), *(at for at, _ in line.bends)]
    for length in line.lengths[:0:-1]:  # from the nozzle back
        ends.append(ends[-1] + length)
    marks = np.stack([np.broadcast_to(start + end, shape) for start in starts for end in ends])
    marks = np.sort(marks, axis=0)
    after = np.stack([line.tension(mark, [mark >= at for at, _ in line.bends]) for mark in marks])
    before = np.stack([line.tension(mark, [mark > at for at, _ in line.bends]) for mark in marks])
    next_mark = np.concatenate([marks[1:], np.full((1, *shape), np.inf)])
    next_pull = np.concatenate([before[1:], np.full((1, *shape), np.inf)])
    last_slope = np.broadcast_to(line.grip * line.weights[0], shape)
    with np.errstate(invalid="ignore", divide="ignore", over="ignore"):  # in stretches where it does not stop
        inside = (pull - after) / (next_pull - after) * (next_mark - marks)
        inside[-1] = np.where(last_slope > 0.0, (pull - after[-1]) / last_slope, np.inf)
    stops = (after > pull) | (next_pull > pull)
    first = np.argmax(stops, axis=0)[np.newaxis]
    found = np.take_along_axis(marks, first, 0)[0]
    held = np.take_along_axis(after, first, 0)[0] > pull
    return plain(np.where(held, found, found + np.take_along_axis(inside, first, 0)[0]))


@finite(endless=True)
def pull_back_tension(distance, *, nozzle_pull, weights, lengths, friction, rise=0.0, bends=()):
    """Pull at the entry that brings the hose back when the nozzle is `distance` (m) in, N; broadcasts.

    nozzle_pull N: what the jets pull the other way while they run (a push back counts as none). Other arguments as
    `hose_tension`; `rise` is still that of the way in, so a hose that went uphill comes back downhill.
    """
    line = _Line(weights, lengths, slope_drag(friction, -plain(rise)), friction, bends, 0.0)
    distance = np.asarray(not_negative(distance, "distance", "m"))
    return plain(line.tension_back(distance, np.maximum(plain(nozzle_pull), 0.0)))


@finite
def longest_rigid_body(pipe_bore, bend_radius, body_diameter):
    """Length (m) of the longest stiff straight cylinder that passes a bend; broadcasts.

    pipe_bore, body_diameter m; bend_radius m to the middle line of the pipe, half the bore or more. Its middle touches
    the inner wall while both its ends touch the outer: L = 2 sqrt(r_o^2 - (r_i + d)^2), plane geometry, for a bend that
    is at least as long. 0 where the body is as thick as the bore. JetlibError for a radius below half the bore.
    """
    pipe_bore = positive(pipe_bore, "pipe_bore", "m")
    bend_radius, body = positive(bend_radius, "bend_radius", "m"), positive(body_diameter, "body_diameter", "m")
    require(
        bend_radius >= pipe_bore / 2.0,
        bend_radius,
        "bend_radius is {value} m, less than half the bore; give the radius to the middle line of the pipe",
    )
    inner, outer = bend_radius - pipe_bore / 2.0, bend_radius + pipe_bore / 2.0
    return plain(2.0 * np.sqrt(np.maximum(outer**2 - (inner + body) ** 2, 0.0)))


class _Line:
    """Hoses in a pipe with bends, all of one broadcast shape."""

    def __init__(self, weights, lengths, grip, friction, bends, entry_pull):
        if not len(weights) or len(weights) != len(lengths):
            raise JetlibError(
                f"there are {len(weights)} weights for {len(lengths)} lengths; give one of each a hose, from the pump"
            )
        weights = [not_negative(weight, "weight", "N/m") for weight in weights]
        lengths = [not_negative(length, "length", "m") for length in lengths]
        bends = [(not_negative(at, "bend distance", "m"), capstan_ratio(friction, angle)) for at, angle in bends]
        entry = not_negative(entry_pull, "entry_pull", "N")
        parts = [grip, entry, *weights, *lengths, *(number for bend in bends for number in bend)]
        self.shape = np.broadcast_shapes(*map(np.shape, parts))
        self.grip, self.entry_pull = (np.broadcast_to(part, self.shape) for part in (grip, entry))
        self.weights, self.lengths = ([np.broadcast_to(x, self.shape) for x in xs] for xs in (weights, lengths))
        places = np.array([np.broadcast_to(at, self.shape) for at, _ in bends]).reshape(-1, *self.shape)
        ratios = np.array([np.broadcast_to(ratio, self.shape) for _, ratio in bends]).reshape(-1, *self.shape)
        order = np.argsort(places, axis=0, kind="stable")
        places, ratios = np.take_along_axis(places, order, 0), np.take_along_axis(ratios, order, 0)
        self.bends = list(zip(places, ratios, strict=True))

    def weight_behind(self, back):
        """Weight (N) of the last `back` metres of hose before the nozzle; none below 0."""
        total, left = 0.0, np.maximum(back, 0.0)
        for weight, length in zip(self.weights[:0:-1], self.lengths[:0:-1], strict=True):
            part = np.minimum(left, length)
            total, left = total + weight * part, left - part
        return total + self.weights[0] * left

    def stretches(self, distance):
        """Weight (N) of the hose between the entry and the first bend, each bend and the next, the last and the
        nozzle."""
        marks = [np.zeros(self.shape), *(at for at, _ in self.bends)]
        behind = [self.weight_behind(distance - mark) for mark in marks]
        return [near - far for near, far in zip(behind, [*behind[1:], 0.0], strict=True)]

    def tension(self, distance, passed):
        """At the nozzle, going in; passed: whether each bend is behind it."""
        first, *rest = self.stretches(distance)
        pull = self.entry_pull + self.grip * first
        for (_, ratio), there, weight in zip(self.bends, passed, rest, strict=True):
            pull = pull * np.where(there, ratio, 1.0) + self.grip * weight
        return pull

    def tension_back(self, distance, pull):
        """At the entry, coming out."""
        first, *rest = self.stretches(distance)
        for (at, ratio), weight in zip(self.bends[::-1], rest[::-1], strict=True):
            pull = (pull + self.grip * weight) * np.where(distance > at, ratio, 1.0)
        return pull + self.grip * first
