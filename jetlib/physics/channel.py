"""Water running part full down a drain: how deep, how fast, and what it can carry.

Steady uniform flow in a clean round pipe laid to a fall, by Manning's equation with the same n at every
depth. A drain with a blockage, a sag or a displaced joint does not run like this. Depths are ratios of
depth to diameter: 0 dry, 1 full.
"""

import numpy as np

from jetlib.errors import JetlibError
from jetlib.physics.constants import GRAVITY
from jetlib.physics.values import finite, not_negative, plain, positive, require

#: The greatest flow over the flow just full (Chow, Open-Channel Hydraulics, 6-4), at 0.9381812 of the depth.
GREATEST_FLOW_RATIO = 1.0757061
#: Weight of quartz under water, N/m3.
SUBMERGED_WEIGHT = (2650.0 - 1000.0) * GRAVITY
#: Shields' threshold: shear that moves a bed of grains, over their weight under water for each square metre.
SHIELDS = 0.047

_GREATEST_ANGLE = 5.278107137933795
_FULL_ANGLE = 2.0 * np.pi
_STEPS = 60


@finite
def full_pipe_flow(diameter, slope, n):
    """Flow of a pipe just full, not under pressure, m3/s; broadcasts.

    `diameter` m, `slope` fall over length (0.02 is 2 %), `n` Manning's roughness in s/m^(1/3) (0.009 to
    0.011 plastic, 0.013 the usual design value, 0.015 and up old or rough). JetlibError unless all are
    above 0.

    Q = (1/n) A R^(2/3) S^(1/2), R = D/4: Manning. For rough turbulent flow, that is R of a few
    millimetres and up.
    """
    diameter, slope = positive(diameter, "diameter", "m"), positive(slope, "slope", "m/m")
    n = positive(n, "n", "s/m^(1/3)")
    return plain(np.pi / 4.0 * diameter**2 * (diameter / 4.0) ** (2.0 / 3.0) * np.sqrt(slope) / n)


@finite
def greatest_flow(diameter, slope, n):
    """The most a pipe carries without pressure, m3/s: 1.0757 times `full_pipe_flow`, at 0.938 of its depth."""
    return plain(GREATEST_FLOW_RATIO * full_pipe_flow(diameter, slope, n))


@finite
def depth_ratio(flow, diameter, slope, n):
    """Depth over diameter at which a pipe carries `flow` (m3/s), 0 to 0.938; broadcasts.

    Other arguments as `full_pipe_flow`. No flow gives 0. JetlibError if flow is below 0 or above
    `greatest_flow`: such a pipe fills and runs under pressure.

    Manning's equation with A and R of the part-full circle, solved to rounding by Newton steps kept
    inside a bracket. Between the full-pipe flow and 1.0757 times it two depths carry the same flow; this
    is the lower, the one a rising flow comes to first. So a flow equal to `full_pipe_flow` stands at
    0.820.
    """
    flow = not_negative(flow, "flow", "m3/s")
    ratio = np.asarray(flow / full_pipe_flow(diameter, slope, n))
    if (ratio > GREATEST_FLOW_RATIO * (1.0 + 1e-7)).any():
        raise JetlibError(
            f"flow is {ratio.max():.4g} times the full-pipe flow and a pipe carries 1.0757 times at most without "
            "pressure; give a larger diameter or slope, or keep flow below greatest_flow(diameter, slope, n)"
        )
    wanted = (_FULL_ANGLE * np.minimum(ratio, GREATEST_FLOW_RATIO)) ** 0.6

    def excess(angle):
        power = angle**-0.4
        segment = angle - np.sin(angle)
        return segment * power - wanted, power * (1.0 - np.cos(angle) - 0.4 * segment / angle)

    angle = _solve(excess, ratio.shape, _GREATEST_ANGLE)
    return plain(np.where(ratio == 0.0, 0.0, _depth_of(angle)))


@finite
def critical_depth_ratio(flow, diameter):
    """Depth over diameter at which `flow` (m3/s) runs as fast as a small wave on it, 0 to 1; broadcasts.

    A flow shallower than this shoots, and jumps up where something slows it; one deeper is tranquil.
    JetlibError if flow is below 0.

    Q^2 T = g A^3, T the width of the surface: Chow, *Open-Channel Hydraulics*, chapter 4. Goes to 1 as
    flow rises.
    """
    flow = not_negative(flow, "flow", "m3/s")
    diameter = positive(diameter, "diameter", "m")
    wanted = np.asarray((512.0 * flow**2 / (GRAVITY * diameter**5)) ** (1.0 / 3.0))

    def excess(angle):
        segment, half = angle - np.sin(angle), np.sin(angle / 2.0)
        width = np.maximum(half, 1e-300) ** (1.0 / 3.0)
        return segment / width - wanted, (1.0 - np.cos(angle) - segment * np.cos(angle / 2.0) / (6.0 * half)) / width

    angle = _solve(excess, wanted.shape, _FULL_ANGLE * (1.0 - 1e-12))
    return plain(np.where(wanted == 0.0, 0.0, _depth_of(angle)))


@finite
def area(depth_ratio, diameter):
    """Cross-section of the water, m2, at `depth_ratio` (0 to 1) in `diameter` (m); broadcasts. Circle geometry."""
    angle = _angle_of(depth_ratio)
    return plain(plain(diameter) ** 2 / 8.0 * (angle - np.sin(angle)))


@finite
def hydraulic_radius(depth_ratio, diameter):
    """Area over wetted perimeter, m, at `depth_ratio` (0 to 1) in `diameter` (m); 0 when dry; broadcasts."""
    angle = _angle_of(depth_ratio)
    return plain(plain(diameter) / 4.0 * (1.0 - np.sinc(angle / np.pi)))


@finite
def manning_velocity(hydraulic_radius, slope, n):
    """Mean velocity of uniform flow, m/s: (1/n) R^(2/3) S^(1/2), Manning, with R in m; broadcasts."""
    radius = not_negative(hydraulic_radius, "hydraulic_radius", "m")
    return plain(radius ** (2.0 / 3.0) * np.sqrt(positive(slope, "slope", "m/m")) / positive(n, "n", "s/m^(1/3)"))


@finite
def darcy_velocity(hydraulic_radius, slope, friction_factor):
    """Mean velocity of uniform flow, m/s, by the pipe's own friction law; broadcasts.

    `hydraulic_radius` m, `slope` fall over length, `friction_factor` Darcy, taken at a diameter of 4 R.
    V = sqrt(8 g R S/f): Darcy-Weisbach with the fall as the head lost, as in Crane TP-410, chapter 3.
    """
    radius = not_negative(hydraulic_radius, "hydraulic_radius", "m")
    slope = positive(slope, "slope", "m/m")
    return plain(np.sqrt(8.0 * GRAVITY * radius * slope / positive(friction_factor, "friction_factor", "(Darcy)")))


@finite
def velocity(depth_ratio, diameter, slope, n):
    """Mean velocity at `depth_ratio` (0 to 1), m/s; broadcasts. At most 1.14 times the full pipe's, at 0.813."""
    return manning_velocity(hydraulic_radius(depth_ratio, diameter), slope, n)


@finite
def flow(depth_ratio, diameter, slope, n):
    """Flow at `depth_ratio` (0 to 1), m3/s; broadcasts. The inverse of `depth_ratio` up to 0.938."""
    return plain(area(depth_ratio, diameter) * velocity(depth_ratio, diameter, slope, n))


@finite
def boundary_shear(hydraulic_radius, slope, *, density=1000.0):
    """Mean drag of the water on the wall, Pa: rho g R S, from the balance of weight and drag; broadcasts.

    `hydraulic_radius` m, `slope` fall over length, `density` kg/m3.
    """
    return plain(plain(density) * GRAVITY * plain(hydraulic_radius) * plain(slope))


@finite
def critical_shear(particle):
    """Wall shear that keeps loose quartz grains of size `particle` (m) moving, Pa; any shape. JetlibError below 0.

    The larger of two rules, so that no grain is easier to move than a smaller one. Single grains on a clean pipe wall:
    0.867 d^0.277 with d in mm, Merritt, in ASCE MOP 60/WEF FD-5, *Gravity Sanitary Sewer Design and Construction* (the
    value at 1 mm is published, the power from memory). A bed of grains, which counts from 1.2 mm up: 0.047 of their
    weight under water, Shields' threshold of Meyer-Peter and Mueller (1948, from memory). Measured thresholds run from
    0.030 to 0.086 (Buffington and Montgomery, Water Resour. Res. 33, 1997), so the size moved is good to half or
    twice. Packed beds, grease, roots and set mortar need the jet.
    """
    size = not_negative(particle, "particle", "m")
    return plain(np.maximum(0.867 * (1000.0 * size) ** 0.277, SHIELDS * SUBMERGED_WEIGHT * size))


@finite
def moved_particle(shear):
    """Largest loose grain that `shear` (Pa) keeps moving, m: the inverse of `critical_shear`; any shape."""
    shear = not_negative(shear, "shear", "Pa")
    return plain(np.minimum((shear / 0.867) ** (1.0 / 0.277) / 1000.0, shear / (SHIELDS * SUBMERGED_WEIGHT)))


def _solve(excess, shape, highest):
    """The angle of the water's surface seen from the axis where `excess` (rising) is zero, between 0 and `highest`."""
    low, high = np.full(shape, 1e-9), np.full(shape, highest)
    angle = 0.5 * (low + high)
    for _ in range(_STEPS):
        value, slope = excess(angle)
        low, high = np.where(value < 0.0, angle, low), np.where(value < 0.0, high, angle)
        newton = angle - value / np.where(slope > 0.0, slope, np.inf)
        inside = (newton >= low) & (newton <= high) & (slope > 0.0)
        step = np.where(inside, newton, 0.5 * (low + high))
        settled = np.abs(step - angle) <= 1e-13 * angle
        angle = step
        if settled.all():
            break
    return angle


def _depth_of(angle):
    return np.sin(angle / 4.0) ** 2


def _angle_of(depth_ratio):
    depth = plain(depth_ratio)
    require(
        (depth >= 0.0) & (depth <= 1.0),
        depth,
        "depth_ratio is {value}; it is depth over diameter, 0 (dry) to 1 (full)",
    )
    return 4.0 * np.arcsin(np.sqrt(depth))
