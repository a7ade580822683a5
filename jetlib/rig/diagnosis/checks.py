"""The one catalogue of checks: what can be read, seen or heard on a rig, what it costs, what to mind, what it reads.

Bench, lesson 08, next check, hidden fault and cards take their checks from here. The minutes are *common practice, no
source*, stopping and letting the pressure off included.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property, partial

from jetlib.errors import JetlibError
from jetlib.rig.change.swaps import can_open_the_valve
from jetlib.rig.diagnosis.faults import faults_of
from jetlib.rig.diagnosis.looks import JETS_FOUND, HoseSeen, JetsSeen, SuctionSeen
from jetlib.rig.diagnosis.readings import BucketTest, EngineSound, GaugeReading, ReturnSeen, SpeedReading
from jetlib.rig.diagnosis.shown import shown_by
from jetlib.rig.point.cautions import SEE_THE_MANUAL
from jetlib.units import si
from jetlib.units.entry import advised, timed_flow
from jetlib.units.refusal import cut

_STOP = (
    "Stop the pump, relieve the pressure at the outlet and check that the gauge reads zero before you open a coupling "
    "or a nozzle. "
)
_NEEDLE = "Open the throttle slowly, eyes on the needle: stop when it nears the valve's setting. "
#: What stands in a field of a kind while nothing has been read: its value means nothing.
_ANY = {"pressure": "100 bar", "gauge at": "100 bar at 25 %", "bucket": "60 L/min", "speed": "1000 rpm"}


@dataclass(frozen=True)
class Field:
    """One thing to write down of a check: its key, its label, its kind for `units.entry`, and what makes a reading.

    seen: what can be chosen, for what is seen or heard; then there is no kind. make(text): the reading of a text that
    is whole, or of one of `seen`. example: a text for US pages and one for metric ones.
    """

    key: str
    label: str
    make: Callable
    kind: str = ""
    seen: tuple = ()
    example: tuple = ("", "")

    def reading(self, typed):
        """The reading of what was typed or chosen; None for nothing. Raises JetlibError."""
        if not typed:
            return None
        if self.seen and typed not in self.seen:
            raise JetlibError(f"{cut(typed)} is not known; write one of: {'; '.join(self.seen)}")
        try:
            return self.make(typed)
        except JetlibError as error:  # of a text in two parts the advice must be for both
            raise advised(error, self._such_as) if self.kind in ("gauge at", "bucket") else error from None

    def _such_as(self, system):
        return f"write such as {self.example[system != 'US']}"

    @cached_property
    def asked(self):
        """A reading of this kind whose value means nothing."""
        return self.make(self.seen[0] if self.seen else _ANY[self.kind])


@dataclass(frozen=True)
class Check:
    """One thing to do: what it is called, what it usually costs (minutes), what to mind, and its fields.

    needs_spare: it takes a part that is known to be good.
    """

    key: str
    label: str
    minutes: float
    caution: str
    fields: tuple
    needs_spare: bool = False

    @property
    def opens(self):
        """Whether it opens a coupling, a cap or a nozzle: the pump is stopped first, and the pressure relieved."""
        return _STOP in self.caution

    def asked(self, rig):
        """What it reads on `rig`, readings whose values mean nothing; none where the rig has no such part."""
        readings = (field.asked for field in self.fields if field.kind != "gauge at")
        return tuple(each for each in readings if _possible(each, rig))

    def causes(self, rig):
        """Which faults of `rig` it tells apart: {what it shows, words for each reading: names of those that show it}.

        Each fault has its typical size; two of one entry look alike to this check, but for their sizes.
        """
        found = {}
        for fault in faults_of(rig):
            found.setdefault(self._shown(rig, fault.name), []).append(fault.name)
        return {words: tuple(names) for words, names in found.items()}

    def tells_apart(self, rig, one, other):
        """Whether it shows something else for the one fault of `rig` than for the other, both names."""
        return self._shown(rig, one) != self._shown(rig, other)

    def _shown(self, rig, fault):
        return tuple(shown_by(fault, reading, rig) for reading in self.asked(rig))


def checks_of(rig, *, spares=True):
    """The checks that can be made on `rig`, a tuple, cheapest first. spares: those with known parts among them."""
    return tuple(check for check in CHECKS.values() if check.asked(rig) and (spares or not check.needs_spare))


def first_to_tell(rig, one, other, among):
    """The key of the cheapest check `among` these keys that tells two faults of `rig` apart, both names; or None."""
    fit = (check.key for check in checks_of(rig) if check.key in among and check.tells_apart(rig, one, other))
    return next(fit, None)


def check_of(reading):
    """The Check that a reading is of."""
    found = _BY_WAY.get(_way(reading))
    if found is None:  # two ways in one, such as a second gauge on an open hose: the more laborious of them
        plain = reading.replace(second_gauge=False, nozzle_off=reading.nozzle_off and not reading.swapped)
        found = _BY_WAY[_way(plain)]
    return found


def _way(reading):
    """What tells the checks apart: all of a reading's own key but its throttle."""
    return reading.check[0], *reading.check[2:]


def _possible(reading, rig):
    """Whether `rig` has the parts that a reading is read on."""
    if (reading.swapped == "hose" or isinstance(reading, HoseSeen)) and not rig.hoses:
        return False
    if reading.swapped == "opening set" and not can_open_the_valve(rig):
        return False
    if isinstance(reading, EngineSound):
        return rig.engine is not None
    return bool(rig.valves) or not (isinstance(reading, ReturnSeen) or reading.place == "tank return")


# --- fields -----------------------------------------------------------------------------------------


def _needle(typed, throttle, **more):
    """The GaugeReading of a text, or of the two ends between which the needle swings, "2100 psi to 2300 psi".

    Its middle may be anywhere between them: a standard error of half the swing over the root of three
    (JCGM 100:2008, 4.3.7), beside that of any reading.
    """
    low, apart, high = typed.partition(" to ")
    if not apart:
        return GaugeReading(typed, throttle, **more)
    ends = [si(each, "pressure", field="pressure") for each in (low, high)]
    middle, half = sum(ends) / 2, abs(ends[1] - ends[0]) / 2
    error = math.hypot(float(GaugeReading.usual_error(middle)), half / math.sqrt(3))
    return GaugeReading(middle, throttle, error=error, **more)


def _gauge(key, label, throttle="full", example=("2100 psi", "145 bar"), **more):
    return Field(key, label, lambda typed: _needle(typed, throttle, **more), "pressure", example=example)


def _other_gauge(key, example):
    def make(typed):
        pressure, apart, at = typed.partition(" at ")
        if not apart:
            raise JetlibError(f"{cut(typed)} lacks a throttle; write gauge and throttle, 1500 psi at 70 %")
        return _needle(pressure, at)

    return Field(key, "Gauge, other", make, "gauge at", example=example)


def _flow(key, label, place, example):
    def make(typed):
        return BucketTest(place=place, **timed_flow(typed))

    return Field(key, label, make, "bucket", example=example)


def _look(key, label, kind, seen=None, **more):
    words = kind.words if seen is None else seen
    return Field(key, label, lambda each: kind(each if seen else each == words[0], **more), seen=words)


def _swap(key, label, minutes, part, caution):
    """Read gauge and tank return again at full throttle with a part that is known to be good."""
    fields = (
        _gauge(f"gauge_{key}", f"Gauge, {part}", swapped=_SWAPPED[key]),
        _look(f"stream_{key}", f"Return, {part}", ReturnSeen, swapped=_SWAPPED[key]),
    )
    return Check(_SPARE_KEYS[key], label, minutes, caution, fields, needs_spare=True)


_SWAPPED = {"known_jets": "jets", "known_hose": "hose", "opening_set": "opening set"}
_SPARE_KEYS = {"known_jets": "swap jets", "known_hose": "swap hose", "opening_set": "opening set"}
_LOOKED = "From the controls, guards on, clear of hose and nozzle. " + SEE_THE_MANUAL
_OPENED = _STOP + SEE_THE_MANUAL
_STREAM = partial(_look, kind=ReturnSeen)

#: Every check by key, cheapest first; at full throttle where the pump runs and nothing else is said.
CHECKS = {
    check.key: check
    for check in (
        Check("gauge", "Read the gauge", 0, _LOOKED, (
            _gauge("gauge_idle", "Gauge at idle", "idle", ("400 psi", "27 bar")),
            _gauge("gauge_half", "Gauge at half", "half", ("1060 psi", "73 bar")),
            _gauge("gauge_full", "Gauge at full"),
            _other_gauge("gauge_other", ("1500 psi at 70 %", "100 bar at 70 %")),
            _other_gauge("gauge_another", ("800 psi at 30 %", "55 bar at 30 %")),
        )),
        Check("return", "Look at the tank return", 0, _LOOKED, (
            _STREAM("stream_idle", "Return at idle", throttle="idle"),
            _STREAM("stream_half", "Return at half", throttle="half"),
            _STREAM("stream_full", "Return at full"),
        )),
        Check("engine", "Listen to the engine", 1,
              "Wear ear protection; stand clear of hose and nozzle. " + SEE_THE_MANUAL,
              (_look("engine_sound", "Engine, full throttle", EngineSound),)),
        Check("tachometer", "Tachometer on the pump", 2,
              "Belts and shafts turn: measure only where the guard lets you, with sleeves and hair tied back. "
              + SEE_THE_MANUAL,
              (Field("speed", "Speed at full", SpeedReading, "speed", example=("1450 rpm", "1450 rpm")),)),
        Check("suction", "Look at strainer and suction", 4,
              "Stop the pump, and make sure that nobody can start it. " + SEE_THE_MANUAL,
              (_look("suction_seen", "Suction, strainer", SuctionSeen),)),
        Check("return bucket", "Flow at the tank return", 5,
              "Tie down the return hose; the water may be hot. " + _OPENED,
              (_flow("flow_return", "Flow, tank return", "tank return",
                     ("1 gal in 40 s at 80 %", "4 L in 40 s at 80 %")),)),
        Check("hose", "Look over hose, read its size", 5, _OPENED,
              (_look("hose_seen", "Hose, looked over", HoseSeen),)),
        Check("jets", "A drill shank in each jet", 6, _OPENED,
              (_look("jets_seen", "Jets, drill tried", JetsSeen, JETS_FOUND),)),
        Check("second gauge", "A second gauge beside the first", 6, _OPENED,
              (_gauge("second_gauge", "2nd gauge, full", second_gauge=True),)),
        Check("nozzle bucket", "Flow at the nozzle", 8,
              "The nozzle stays inside the pipe: time the fall of the tank level. Never hold a running nozzle over a "
              "container. " + _OPENED,
              (_flow("flow_nozzle", "Flow, nozzle", "nozzle", ("5 gal in 32 s", "20 L in 34 s")),)),
        Check("open hose", "Nozzle off: gauge and flow", 9,
              "Only where the machine's manual allows it. Secure the open end; nobody holds it: a loose end whips. "
              + _OPENED, (
            _gauge("gauge_open", "Gauge, no nozzle", example=("600 psi", "41 bar"), nozzle_off=True),
            _flow("flow_open", "Flow, no nozzle", "open hose", ("5 gal in 31 s", "20 L in 33 s")),
        )),
        _swap("known_jets", "Fit known jets, read again", 10, "known jets", _OPENED),
        _swap("opening_set", "Jets that just open the valve", 12, "opening set",
              _NEEDLE + "Never run it above the setting to see what happens. " + _OPENED),
        _swap("known_hose", "Fit a known hose, read again", 15, "known hose", _OPENED),
    )
}  # fmt: skip
FIELDS = {field.key: field for check in CHECKS.values() for field in check.fields}
_BY_WAY = {_way(field.asked): check for check in CHECKS.values() for field in check.fields}
