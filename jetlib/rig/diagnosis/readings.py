"""What a technician can read, hear or see on a running rig, each with how far it can be trusted.

Every `error` is a standard error: two readings in three lie within it (the standard uncertainty of JCGM 100:2008).
The default errors are *common practice, no source*: what a needle, a stopwatch and a marked bucket are good for.
Water at pressure cuts. Take readings from the controls, and let nothing but the machine's manual say how a nozzle is
held in a bucket test.
"""

import math
from dataclasses import dataclass, fields
from typing import ClassVar

import numpy as np

from jetlib.errors import JetlibError
from jetlib.rig.change.factors import SWAPS, state, swapped_in
from jetlib.rig.parts.machine import Rig
from jetlib.rig.parts.part import Part, quantity
from jetlib.rig.point.operating_point import OperatingPoint
from jetlib.rig.uncertainty.band import usual_full_scale
from jetlib.units import both, si
from jetlib.units.given import Duration, Flow, Pressure, Share, Speed, Values, Volume
from jetlib.units.refusal import cut

_THROTTLES = {"idle": 0.0, "half": 0.5, "full": 1.0}
PLACES = {"nozzle": "at the nozzle", "open hose": "at the open hose", "tank return": "at the tank return"}
#: Chance that somebody looking or listening gets it wrong.
MISTAKE = 0.02
SEEN_FROM, _SEEN_WITHIN = 0.01, 0.004  # stream that is noticed, and how sharply, as a share of the rated flow
_LABOURS_FROM, _LABOURS_WITHIN = 0.95, 0.03  # load at which an engine is heard to labour, as a share of its power


def throttle_name(throttle):
    """A throttle in words: "idle", "half throttle", "full throttle", "30 % throttle"."""
    word = next((word for word, share in _THROTTLES.items() if share == throttle), f"{100 * throttle:.3g} %")
    return word if word == "idle" else f"{word} throttle"


class Reading(Part):
    """One thing read. `value` and `error` are SI where it is a number; both None where it was only seen or heard."""

    kind: ClassVar = None  # of its number
    by_eye: ClassVar = False  # seen or heard, yes or no
    needle: ClassVar = False  # read on the rig's own gauge
    nozzle_off: ClassVar = False
    swapped: ClassVar = ""  # what was put on in the place of the rig's own, a key of SWAPS
    place: ClassVar = ""
    error = None
    _read: ClassVar[str]  # the field that holds what was read
    _read_by: ClassVar[str]  # what it was read by, in words
    words: ClassVar[tuple] = ()  # for what may be seen or heard; of two, yes comes first

    def __post_init__(self):
        if isinstance(getattr(self, "throttle", None), str):
            word = self.throttle.strip().lower().removesuffix(" throttle")
            object.__setattr__(self, "throttle", _THROTTLES.get(word, self.throttle))
        super().__post_init__()

    def _check(self):
        for item in fields(self):
            value = getattr(self, item.name)
            if isinstance(value, list | tuple | np.ndarray):
                raise JetlibError(f"{item.name} is a list; write one {type(self).__name__} for each reading")
        if self.swapped != "" and (not isinstance(self.swapped, str) or self.swapped not in SWAPS):
            raise JetlibError(f"swapped is {cut(self.swapped)}; write one of: {'; '.join(SWAPS)}, or leave it out")
        if self.kind:
            usual = self._usual()
            if self.error is None:
                object.__setattr__(self, "error", usual)
            elif not self.error > 0:
                raise JetlibError(
                    f"error is {self.error:g}; nothing is read without one: leave it out, or write how far off"
                )

    def _usual(self):
        """The error of this reading unless one is given, SI; raises JetlibError for what cannot be read so."""
        return float(self.usual_error(self.value))

    @property
    def value(self) -> float | None:
        """The number read, SI in units of `kind`; None where it was only seen or heard."""
        return getattr(self, self._read) if self.kind else None

    @property
    def yes(self) -> bool:
        """Of what was seen or heard: whether it was."""
        return getattr(self, self._read)

    def read_as(self, value: object, **more: object) -> "Reading":
        """The same reading with another value, SI or what was seen; more: other fields of it."""
        return self.replace(**{self._read: value}, **more)

    @property
    def label(self) -> str:
        """What was read, where and how, in words."""
        off = ", nozzle off" if self.nozzle_off and not self.place else ""
        swapped = f", {SWAPS[self.swapped]}" if self.swapped else ""
        return f"{self._read_by} at {throttle_name(self.throttle)}{off}{swapped}"

    @property
    def check(self) -> tuple:
        """What was done, a key: two readings of one check differ in their value only."""
        return type(self).__name__, self.throttle, self.nozzle_off, self.needle, self.place, self.swapped

    @property
    def shown(self) -> str:
        """What was read, as text in both unit systems."""
        return both(self.value, self.kind) if self.kind else self.words[not self.yes]


@dataclass(frozen=True, eq=False)
class GaugeReading(Reading):
    """Pressure (Pa) on the gauge at a throttle. error: of the reading alone, 2 % and 1 bar (together) unless given.

    second_gauge: read on another gauge that is known to be right. nozzle_off: read with the nozzle taken off.
    swapped: read with something known put on in the place of the rig's own, a key of `jetlib.rig.change.factors.SWAPS`.

    >>> both(GaugeReading("2500 psi", throttle="half").error, "pressure")
    '52.1 psi (3.59 bar)'
    """

    pressure: Pressure = quantity("pressure")
    throttle: Share = quantity("fraction", 1.0)
    error: Pressure | None = quantity("pressure", None, optional=True)
    second_gauge: bool = False
    nozzle_off: bool = False
    swapped: str = ""

    kind: ClassVar = "pressure"
    _read: ClassVar = "pressure"

    @property
    def needle(self) -> bool:
        """Whether it was read on the rig's own gauge."""
        return not self.second_gauge

    @staticmethod
    def usual_error(value: Values, flow: Values | None = None) -> Values:
        """2 % of the reading and 1 bar together, Pa."""
        return np.hypot(0.02 * np.asarray(value), 1e5)

    @property
    def _read_by(self):
        return "second gauge" if self.second_gauge else "gauge"

    def predicted(self, point: OperatingPoint, rig: Rig) -> Values:
        """What the gauge shows at an OperatingPoint, Pa."""
        return point.gauge


@dataclass(frozen=True, eq=False)
class BucketTest(Reading):
    """Flow (m3/s) by volume (m3) and time (s), at "nozzle", "open hose" (nozzle off) or "tank return".

    Give volume and time, or flow. error (m3/s): 2 % of the volume and half a second, unless given; 4 % for a flow
    that was given.

    >>> BucketTest("5 gal", "40 s").shown
    '7.5 gpm (28.4 L/min)'
    """

    volume: Volume | None = quantity("volume", None, optional=True)
    time: Duration | None = quantity("time", None, optional=True)
    flow: Flow | None = quantity("flow", None, optional=True)
    throttle: Share = quantity("fraction", 1.0)
    place: str = "nozzle"
    error: Flow | None = quantity("flow", None, optional=True)

    kind: ClassVar = "flow"
    _read: ClassVar = "flow"

    @property
    def nozzle_off(self) -> bool:
        """Whether the hose ended open."""
        return self.place == "open hose"

    def _usual(self):
        if not isinstance(self.place, str) or self.place not in PLACES:
            raise JetlibError(f"place is {cut(self.place)}; write one of: {'; '.join(PLACES)}")
        timed = self.volume is not None and self.time is not None
        if timed == (self.flow is not None) or (self.volume is None) != (self.time is None):
            raise JetlibError(
                'a timed flow test needs volume and time, or flow; write BucketTest(volume="5 gal", time="40 s")'
            )
        if timed:
            if not self.time > 0.5:
                raise JetlibError(f'time is {self.time:g} s; too short to read; write BucketTest(time="40 s", …)')
            object.__setattr__(self, "flow", si(self.volume / self.time, "flow", field="flow", owner="BucketTest"))
        share = math.hypot(0.02, 0.5 / self.time) if timed else 0.04
        return max(share * self.flow, 1e-7)

    @staticmethod
    def usual_error(value: Values, flow: Values) -> Values:
        """For a test not yet done: 3 % of what is caught, and 0.2 % of the pump's rated flow."""
        return np.hypot(0.03 * np.asarray(value), 0.002 * flow)

    @property
    def _read_by(self):
        return f"timed flow test {PLACES[self.place]}"

    def predicted(self, point: OperatingPoint, rig: Rig) -> Values:
        """What runs into the bucket at an OperatingPoint, m3/s."""
        return point.bypass_flow + point.leak_flow if self.place == "tank return" else point.nozzle_flow


@dataclass(frozen=True, eq=False)
class SpeedReading(Reading):
    """Speed of the pump (rad/s) by tachometer at a throttle. error: 1 % unless given.

    >>> SpeedReading("1400 rpm").shown
    '1400 rpm'
    """

    speed: Speed = quantity("speed")
    throttle: Share = quantity("fraction", 1.0)
    error: Speed | None = quantity("speed", None, optional=True)

    kind: ClassVar = "speed"
    _read: ClassVar = "speed"
    _read_by: ClassVar = "tachometer"

    @staticmethod
    def usual_error(value: Values, flow: Values | None = None) -> Values:
        """1 % of the reading and 0.1 rad/s at least, rad/s."""
        return np.maximum(0.01 * np.asarray(value), 0.1)

    def predicted(self, point: OperatingPoint, rig: Rig) -> Values:
        """What the pump runs at an OperatingPoint, rad/s."""
        return point.speed


@dataclass(frozen=True, eq=False)
class ReturnSeen(Reading):
    """Whether water is seen coming back to the tank (bypass or a leaking seat) at a throttle.

    A stream is as good as always noticed from 2 % of the pump's rated flow up, and one look in fifty goes wrong.
    swapped: as of a GaugeReading.

    >>> ReturnSeen(True, throttle="half").throttle
    0.5
    """

    seen: bool
    throttle: Share = quantity("fraction", 1.0)
    swapped: str = ""

    by_eye: ClassVar = True
    _read: ClassVar = "seen"
    _read_by: ClassVar = "tank return"
    words: ClassVar = ("water returns", "no water")

    def predicted(self, point: OperatingPoint, rig: Rig) -> Values:
        """In widths of the range in which it begins to be noticed."""
        share = (point.bypass_flow + point.leak_flow) / rig.pump.rated_flow
        return (share - SEEN_FROM) / _SEEN_WITHIN


@dataclass(frozen=True, eq=False)
class EngineSound(Reading):
    """Whether the engine is heard to labour at a throttle: it is at the end of its power.

    >>> EngineSound(True, throttle="full").yes
    True
    """

    labours: bool
    throttle: Share = quantity("fraction", 1.0)

    by_eye: ClassVar = True
    _read: ClassVar = "labours"
    _read_by: ClassVar = "engine"
    words: ClassVar = ("labors", "runs free")

    def predicted(self, point: OperatingPoint, rig: Rig) -> Values:
        """In widths of the range in which it begins to be heard. JetlibError when the rig's engine is not known.

        Torque asked for over rated torque, so a slowed engine counts as loaded to the full.
        """
        engine = point.rig.engine
        if engine is None:
            raise JetlibError('the rig has no engine to labor; write Rig(engine=Engine(power="20 hp"), …)')
        power = engine.available(point.speed / rig.pump.rated_speed)
        return (point.shaft_power / power - _LABOURS_FROM) / _LABOURS_WITHIN


def check_readings(readings):
    """`readings` as a tuple; JetlibError for anything else than some of the readings of this module."""
    found = (readings,) if isinstance(readings, Reading) else readings
    write = 'write a list such as [GaugeReading("2500 psi", throttle="full"), ReturnSeen(True, throttle="half")]'
    if not isinstance(found, list | tuple):
        raise JetlibError(f"readings is {cut(readings)}; {write}")
    for number, each in enumerate(found, start=1):
        if not isinstance(each, Reading):
            raise JetlibError(f"reading {number} is {cut(each)}; {write}")
    if len(found) > 200:
        raise JetlibError(f"there are {len(found)} readings; give up to 200 at a time")
    return tuple(found)


def credible(readings, rig):
    """`readings`, those of more flow than the pump of `rig` sweeps held to the error of what it can give.

    Half a second is little of the time that such a flow takes, and much of the few seconds that were read.
    """
    most = float(rig.pump.rated_flow)
    return tuple(
        each.replace(volume=None, time=None, error=each.error * (most / each.flow) ** 2)
        if isinstance(each, BucketTest) and each.flow > most
        else each
        for each in readings
    )


def predictions(readings, rig, changes):
    """What each of `readings` would be on `rig` with `changes`, a list of arrays of the shape of the changes.

    All throttles are solved at once, with the nozzle on and off. The error of the needle is in it.
    """
    found = {}
    for swapped in dict.fromkeys(reading.swapped for reading in readings):
        mine = [at for at, reading in enumerate(readings) if reading.swapped == swapped]
        made = swapped_in(rig, changes, swapped)
        found |= zip(mine, _predicted([readings[at] for at in mine], rig, made), strict=True)
    return [found[at] for at in range(len(readings))]


def _predicted(readings, rig, changes):
    places = sorted({(reading.nozzle_off, reading.throttle) for reading in readings})
    off, throttles = zip(*places, strict=True)
    point = state(rig, changes, throttles, nozzle_off=np.array(off))
    found = []
    for reading in readings:
        value = np.asarray(reading.predicted(point, rig))[..., places.index((reading.nozzle_off, reading.throttle))]
        if reading.needle:
            value = np.maximum(value * changes.needle + changes.needle_off * usual_full_scale(rig), 0.0)
        found.append(value)
    return found


def chi_squared_limit(count, deviations):
    """What a sum of `count` squares of readings' errors passes as seldom as a normal curve passes `deviations`.

    Wilson and Hilferty, Proc. Natl. Acad. Sci. 17, 1931, 684.
    """
    part = 2.0 / (9.0 * count)
    return count * (1.0 - part + deviations * math.sqrt(part)) ** 3
