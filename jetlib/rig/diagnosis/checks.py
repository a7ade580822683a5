"""The one catalogue of checks: what can be read, seen or heard on a rig, what it costs, what to mind, what it reads.

Bench, lesson 08, next check, hidden fault and cards take their checks from here. They are listed in data/checks.toml.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property, partial

from jetlib.errors import JetlibError
from jetlib.rig.change.factors import can_open_the_valve
from jetlib.rig.diagnosis.faults import shown_by
from jetlib.rig.diagnosis.looks import HoseSeen, JetsSeen, SuctionSeen
from jetlib.rig.diagnosis.readings import BucketTest, EngineSound, GaugeReading, ReturnSeen, SpeedReading
from jetlib.rig.point.cautions import SEE_THE_MANUAL
from jetlib.tables import DATA
from jetlib.tables.toml_file import read_toml
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
            if self.kind not in ("gauge at", "bucket"):
                raise error from None
            raise advised(error, lambda system: f"write such as {self.example[system != 'US']}") from None

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
    def cost(self):
        """Its minutes, in words."""
        return f"about {self.minutes:g} min" if self.minutes else "at once"

    @property
    def opens(self):
        """Whether it opens a coupling, a cap or a nozzle: the pump is stopped first, and the pressure relieved."""
        return _STOP in self.caution

    def asked(self, rig):
        """What it reads on `rig`, readings whose values mean nothing; none where the rig has no such part."""
        readings = (field.asked for field in self.fields if field.kind != "gauge at")
        return tuple(each for each in readings if _possible(each, rig))

    def tells_apart(self, rig, one, other):
        """Whether it shows something else for one fault of `rig` than for another, names, of typical size."""
        return any(shown_by(one, each, rig) != shown_by(other, each, rig) for each in self.asked(rig))


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


def _needle(typed, throttle="full", **more):
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


def _needle_at(typed):
    pressure, apart, at = typed.partition(" at ")
    if not apart:
        raise JetlibError(f"{cut(typed)} lacks a throttle; write gauge and throttle, 1500 psi at 70 %")
    return _needle(pressure, at)


#: What a number is read by: its kind for `units.entry`, and what makes a reading of a text.
_NUMBERS = {
    "gauge": ("pressure", _needle),
    "gauge at": ("gauge at", _needle_at),
    "flow": ("bucket", lambda typed, place: BucketTest(place=place, **timed_flow(typed))),
    "speed": ("speed", SpeedReading),
}
_LOOKS = {"return": ReturnSeen, "engine": EngineSound, "suction": SuctionSeen, "hose": HoseSeen, "jets": JetsSeen}


def _field(key, label, reads, example=("", ""), **more):
    if reads in _NUMBERS:
        kind, make = _NUMBERS[reads]
        return Field(key, label, partial(make, **more), kind, example=tuple(example))
    look = _LOOKS[reads]
    make = look if look is JetsSeen else lambda seen: look(seen == look.words[0], **more)
    return Field(key, label, make, seen=look.words)


def _check(key, caution, fields, **more):
    looked = "From the controls, guards on, clear of hose and nozzle. " + SEE_THE_MANUAL
    caution = caution.format(looked=looked, stop=_STOP, needle=_NEEDLE, manual=SEE_THE_MANUAL)
    return Check(key, caution=caution, fields=tuple(_field(**each) for each in fields), **more)


#: Every check by key, cheapest first.
CHECKS = {key: _check(key, **row) for key, row in read_toml(DATA / "checks.toml", what="list of checks").items()}
FIELDS = {field.key: field for check in CHECKS.values() for field in check.fields}
_BY_WAY = {_way(field.asked): check for check in CHECKS.values() for field in check.fields}
