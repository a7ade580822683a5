"""The most that a line can come to: with the jets plugged, and in the surge when they shut at once."""

from dataclasses import dataclass

import numpy as np

from jetlib.errors import JetlibError
from jetlib.physics import surge as physics
from jetlib.physics import water
from jetlib.physics.constants import GRAVITY
from jetlib.physics.values import plain
from jetlib.rig.parts.machine import Rig
from jetlib.rig.point.circuit import require_rig
from jetlib.rig.point.operating_point import OperatingPoint, operating_point, require_point
from jetlib.units import both, one
from jetlib.units.given import Values

WHOSE_RULE = (
    "With the surge, the line must stay below the rating (SAE J1273, from memory): more shortens the hose's life "
    "(SAE J517)."
)
STOP_SLOWLY = (
    "In normal work stop slowly: throttle down first, and do not slam any valve shut. In an emergency, stop at once."
)


def highest_pressure(rig: Rig) -> Values:
    """The most that the line of `rig` can come to, Pa: full throttle with the jets plugged; broadcasts.

    What the unloader lets it rise to with all flow going back, or the disc's rating if that is less; infinite without
    either. A nozzle below the pump has the weight of the water on top.

    >>> both(highest_pressure(demo_rig("yard_trailer")), "pressure")
    '3020 psi (208 bar)'
    """
    limit = np.inf
    if require_rig(rig).unloader is not None:
        limit = operating_point(rig.replace(valve=rig.unloader, outlet_shut=True)).line_pressure
    if rig.burst_disc is not None:
        limit = np.minimum(limit, rig.burst_disc.rating)
    return plain(limit + water.density(rig.water_temperature) * GRAVITY * np.maximum(-rig.lift, 0.0))


@dataclass(frozen=True, eq=False)
class Surge:
    """The surge of an OperatingPoint of one rig whose jets shut within `closing_time` (s).

    rises, peaks (Pa): first axis the wave speeds low, likely and high (physics.surge.WAVE_SPEEDS), second the hoses.
    rises: at the far end of each hose. peaks: the pressure there once the line is packed: that rise on top of what the
    pump keeps up. Against lines of one to three hoses worked out step by step (tests/independent) at most 4 % under
    (7 % in a hose ahead of narrower ones), mostly up to 20 % over, and up to 40 % over with a long, narrow leader at
    part throttle, whose friction damps it.
    """

    point: OperatingPoint
    closing_time: float
    rises: np.ndarray
    peaks: np.ndarray

    @property
    def over(self):
        """Whether each hose may come over its working pressure, an array; False where none is given."""
        return self.peaks[2] > [hose.pressure_limit for hose in self.point.rig.hoses]

    @property
    def likely_over(self):
        """Whether each hose is likely to come over its working pressure, an array; False where none is given."""
        return self.peaks[1] > [hose.pressure_limit for hose in self.point.rig.hoses]

    @property
    def sentences(self):
        """What each hose can see, a tuple; a surge counts into the working pressure."""
        found = []
        each_hose = zip(self.point.rig.hoses, self.peaks.T, self.over, strict=True)
        for number, (hose, peaks, over) in enumerate(each_hose, start=1):
            low, likely, high = (both(each, "pressure") for each in peaks)
            told = f"Hose {number} can see {low}"
            if high != low:
                told += f" to {high}, likely {likely}"
            if hose.working_pressure is not None:
                told += f", and is rated for {both(hose.working_pressure, 'pressure')}"
            found.append(f"{told}. {WHOSE_RULE} {STOP_SLOWLY}" if over else f"{told}.")
        return tuple(found)


def surge(point, *, closing_time=physics.QUICK_STOP):
    """The Surge of `point`, an OperatingPoint of one rig: all its jets shut evenly within `closing_time` (s).

    Joukowsky's rise of each hose, less where the stop is slower than the wave's way there and back (physics.surge); the
    wave speed in hose is assumed. JetlibError for arrays.
    """
    require_point(point, "surge(operating_point(rig))")
    if np.ndim(point.gauge):
        raise JetlibError(f"point holds arrays of shape {np.shape(point.gauge)}; take one rig at one throttle")
    closing_time = one(closing_time, "duration", field="closing_time")
    speeds = np.array(physics.WAVE_SPEEDS)
    rises = np.reshape(_rises(point, speeds, closing_time), (-1, 3)).T
    density = water.density(point.rig.water_temperature)
    return Surge(point, closing_time, rises, _peaks(point, rises, density * speeds))


def _peaks(point, rises, impedance):
    """Peaks (Pa) from the rises of each hose; impedance: density x wave speed.

    The pump goes on pushing into the shut line until the valve takes its flow. So the surge comes on top of the valve's
    setting where the gauge reads less; and until the valve opens nothing lets the wave out of the hose at the pump,
    however slow the stop.
    """
    base = float(_pushed_up(point))
    peaks = base + rises
    if point.rig.unloader is None or not point.rig.hoses:
        return peaks
    below = base - float(point.line_pressure)
    kept_in = np.minimum(impedance * float(point.hose_velocities[0]), below) - rises[:, 0]
    return np.maximum(peaks + np.maximum(kept_in, 0.0)[:, np.newaxis], highest_pressure(point.rig))


def _pushed_up(point):
    """The pressure (Pa) up to which the pump pushes the shut line before the valve takes its flow; broadcasts."""
    valve = point.rig.unloader
    return point.line_pressure if valve is None else np.maximum(point.line_pressure, valve.setting)


def _rises(point, wave_speed, closing_time=physics.QUICK_STOP):
    return physics.rises(
        point.hose_velocities,
        [hose.length for hose in point.rig.hoses],
        density=water.density(point.rig.water_temperature),
        wave_speed=wave_speed,
        closing_time=closing_time,
    )


def surges_on_the_way(point):
    """The likely surge (Pa) at the end of each hose of `point` if its jets plug at once, an array whose first axis is
    the hoses; takes rigs of arrays."""
    return _rises(point, physics.WAVE_SPEEDS[1])


def pressures_needed(point, highest, reserve):
    """What each hose of `point` must be rated for (Pa), a tuple: the one rule for hose. Broadcasts.

    highest: the most (Pa) that the line comes to while the water moves steadily or stands, setting and rise included;
    reserve: the share by which the rating must stand above it; on top comes the likely surge up to the hose's end.
    """
    return tuple((1.0 + reserve) * highest + each for each in surges_on_the_way(point))


def surge_pressure(point):
    """The most (Pa) that any hose sees should all the jets shut at once, in the fastest wave; broadcasts."""
    return _pushed_up(point) + (0.0, *_rises(point, physics.WAVE_SPEEDS[-1]))[-1]
