"""A drill: one hidden fault on a rig, what the room sees of it, and what it spends to find out.

Checks and their minutes are those of the catalogue; a room may write other minutes. There is one fault at a time, or
none. What is read is computed from the rig with the fault, with the scatter that each reading really has, and from a
rig that is as well known as one whose usual readings are on a card: its jets, hose, pump, valve, engine and gauge are
each a little off what is written down (`jetlib.rig.change.factors.Knowledge`).
"""

import random
import secrets
import zlib

import numpy as np

from jetlib.errors import JetlibError
from jetlib.rig.change.factors import CALIBRATED, Knowledge, RigFactors, require_one_rig
from jetlib.rig.diagnosis.checks import checks_of
from jetlib.rig.diagnosis.diagnosis import diagnose
from jetlib.rig.diagnosis.faults import all_exact, exact, fault_named, faults_of
from jetlib.rig.diagnosis.readings import GaugeReading, ReturnSeen, predictions, throttle_name
from jetlib.rig.parts.part import remembered
from jetlib.rig.uncertainty.band import usual_full_scale
from jetlib.units import from_si, si, text, unit_label
from jetlib.units.kinds import KINDS
from jetlib.units.refusal import cut

#: Throttles at which the room may look at gauge and bypass stream for nothing.
STOPS = (0.0, 0.25, 0.5, 0.75, 1.0)
#: Steps that readings are said in: a gauge of its usual size, and a bucket of some gallons; common practice, no source.
_FINEST = {("pressure", "US"): 10, ("pressure", "metric"): 1, ("flow", "US"): 0.1, ("flow", "metric"): 0.5}
MOST_SEED = 999_999
MINUTES = 45.0  # that a room has; common practice, no source
_MOST_OFF = 2.0  # standard errors: what is read in a room is never a freak
_CALM = 0.6  # share of the usual spread that the rig itself has: it must still be the rig on its printed card
_TOLD = 0.5  # probability of the truth, everything read without scatter, from which it is a fair thing to ask
_LEAST, _MOST, _STEPS = 0.7, 1.6, 12  # of the typical size of a fault


def stop_readings(rig, throttle):
    """What the room sees for nothing at a throttle: the gauge, and the stream to the tank if the rig has a valve."""
    return (GaugeReading(1e7, throttle), *((ReturnSeen(True, throttle),) if rig.valves else ()))


def hunt_checks(rig):
    """{key: Check} of what can be done on `rig` and costs minutes, cheapest first."""
    return {check.key: check for check in checks_of(rig) if check.minutes}


def all_readings(rig):
    """Every reading that stops and checks of `rig` can give; their values mean nothing."""
    found = [reading for throttle in STOPS for reading in stop_readings(rig, throttle)]
    return (*found, *(reading for check in hunt_checks(rig).values() for reading in check.asked(rig)))


def read_words(reading, system):
    """A reading as text, in one unit system: no finer than a needle, or a bucket and a watch, can be read."""
    if not reading.kind:
        return reading.shown
    finest = _FINEST.get((reading.kind, system))
    if finest is None:
        return text(reading.value, reading.kind, system)
    number = finest * round(from_si(float(reading.value), reading.kind, system) / finest)
    return f"{number:.{1 if finest < 1 else 0}f} {unit_label(reading.kind, system)}"


class HiddenFault:
    """A fault of a size on a rig, and how it reads. What it is stands in `fault`, `severity` and `changes` alone."""

    def __init__(self, rig, fault, severity, noise):
        self.rig, self.fault, self.severity = rig, fault, severity
        self._noise = int(noise)
        own = np.random.default_rng([self._noise, 0])
        spread = Knowledge()
        off = _CALM * _off(own, len(CALIBRATED) + 2)
        names = (*CALIBRATED, "engine_power")
        factors = {name: float(np.exp(getattr(spread, name) * each)) for name, each in zip(names, off, strict=False)}
        self.changes = fault.factors(severity).and_also(RigFactors(**factors))
        self._needle = float(off[-1]) * spread.gauge * usual_full_scale(rig)

    def __repr__(self):
        return "HiddenFault(…)"

    def read_all(self, asked):
        """The readings `asked` with the values that are read, a tuple; the same whenever they are asked for."""
        running = [each for each in asked if each.throttle is not None]
        values = iter(predictions(running, self.rig, self.changes) if running else ())
        # A look on a machine may miss what is there. In a drill it does not: the room cannot look twice.
        return tuple(
            exact(each, self.rig, self.fault, self.severity)
            if each.throttle is None
            else self._scattered(each, float(next(values)))
            for each in asked
        )

    def _scattered(self, asked, value):
        rng = np.random.default_rng([self._noise, zlib.crc32(repr(asked.check).encode())])
        if asked.by_eye:
            # Somebody may miss a thin stream; nobody sees one at a valve that is shut.
            seen = bool(value + float(_off(rng)) > 0.0)
            return asked.read_as(seen)
        value = max(value + (self._needle if asked.needle else 0.0), 0.0)
        error = float(asked.usual_error(value, self.rig.pump.rated_flow))
        value = max(value + error * float(_off(rng)), 0.0)
        if value < KINDS[asked.kind].low:  # too little to be read: the needle rests on its pin
            value = 0.0
        return asked.read_as(value, error=error)


def _off(rng, size=None):
    """By how many standard errors something is off; an array of `size`, or one."""
    return np.clip(rng.normal(size=size), -_MOST_OFF, _MOST_OFF)


@remembered(512)
def can_be_told(rig, fault, severity):
    """Whether all the checks together would make this fault of this size the likeliest cause, by a half or more."""
    asked = all_readings(rig)
    found = diagnose(rig, all_exact(asked, rig, fault, severity), checks=asked)
    return found.top.name == fault.name and found.top.probability >= _TOLD


def seeded_hunt(rig, seed, *, costs=None):
    """The FaultHunt that a seed (0 to MOST_SEED) deals on a rig: each cause as likely as another, none among them.

    It is the same whenever it is dealt again. A size too small to be told by the checks there are is made larger until
    it can be. Raises JetlibError for a seed that is none.
    """
    seed = read_seed(seed)
    require_one_rig(rig, "a drill on one Rig")
    rng = random.Random(f"fault drill {seed} on {rig.name}")
    faults = list(faults_of(rig))
    rng.shuffle(faults)
    for fault in faults:
        start = rng.random()
        for step in range(_STEPS + 1):
            severity = _size_at(fault, start + (1.0 - start) * step / _STEPS)
            if can_be_told(rig, fault, severity):
                return FaultHunt(rig, HiddenFault(rig, fault, severity, rng.randrange(2**32)), seed=seed, costs=costs)
    raise JetlibError("the checks available cannot find any fault of this rig; choose another rig")


def _size_at(fault, share):
    """A size of a fault, whole hundredths: share 0 is the least of a drill, 1 the most."""
    if fault.low == fault.high:
        return fault.low
    low, high = max(fault.low, _LEAST * fault.typical), min(fault.high, _MOST * fault.typical)
    return float(np.clip(round(low + share * (high - low), 2), fault.low, fault.high))


def secret_hunt(rig, name, size=None, *, costs=None):
    """The FaultHunt a trainer sets: a fault of the rig by name, and its size ("" or None: its typical one).

    Raises JetlibError for an unknown fault, one this rig cannot have, or a size outside what the fault is tried at or
    too small to be told by the checks there are.
    """
    fault = fault_named(name)
    given = size is not None and str(size).strip() and fault.low < fault.high
    severity = float(fault.checked(rig, _read_size(fault, size) if given else fault.typical))
    if not can_be_told(rig, fault, severity):
        raise JetlibError("the checks available could not find this fault at this size on this rig; make it larger")
    return FaultHunt(rig, HiddenFault(rig, fault, severity, secrets.randbits(32)), costs=costs)


def _read_size(fault, size):
    typed = str(size).strip()
    try:
        # "150 %" is a size too: a hose may cost more than the jets get.
        value = si(typed.removesuffix("%"), "ratio", field="size") / (100.0 if typed.endswith("%") else 1.0)
    except JetlibError:
        raise JetlibError(f"size is {cut(typed)}; write a share in %, such as {100 * fault.typical:.0f} %") from None
    if not fault.low <= value <= fault.high:
        raise JetlibError(
            f"size is {100 * value:.3g} %; this fault runs from {100 * fault.low:.0f} % to {100 * fault.high:.0f} %"
        )
    return float(value)


def read_seed(typed):
    """A seed as a whole number; JetlibError for anything else."""
    seed = str(typed).strip()
    if isinstance(typed, bool) or not (seed.isascii() and seed.isdigit() and len(seed) < 8 and int(seed) <= MOST_SEED):
        raise JetlibError(f"seed is {cut(seed)}; write a whole number from 0 to {MOST_SEED}")
    return int(seed)


def asked_seed(typed):
    """The seed that somebody typed, or a new one where nothing was; JetlibError for anything else."""
    return read_seed(typed) if typed.strip() else secrets.randbelow(MOST_SEED + 1)


class Step:
    """One thing the room did: `key` of a check, or a throttle it looked at; what was read; what it cost."""

    def __init__(self, key, label, minutes, readings, caution=""):
        self.key, self.label, self.minutes, self.readings, self.caution = key, label, minutes, readings, caution


class FaultHunt:
    """A drill under way on `rig`. steps: what the room has done, in order. minutes: what that has cost.

    hidden: the HiddenFault. seed: what dealt it, None where a trainer set it. costs: {key: minutes}, where a check
    costs something else than usual.
    """

    def __init__(self, rig, hidden, *, seed=None, costs=None):
        self.rig, self.hidden, self.seed = rig, hidden, seed
        self.checks = hunt_checks(rig)
        self.costs = {**{key: check.minutes for key, check in self.checks.items()}, **(costs or {})}
        self.steps = []

    def __repr__(self):
        return f"FaultHunt({self.rig.name}, {len(self.steps)} steps)"

    @property
    def minutes(self):
        return float(sum(step.minutes for step in self.steps))

    @property
    def readings(self):
        """Everything read so far."""
        return tuple(reading for step in self.steps for reading in step.readings)

    @property
    def done(self):
        """Keys of the checks made and throttles looked at."""
        return {step.key for step in self.steps}

    def look(self, throttle):
        """What gauge and stream show at a throttle of STOPS, a Step; it costs nothing and is put down once."""
        if throttle not in STOPS:
            raise JetlibError(f"throttle is {cut(throttle)}; write one of: {'; '.join(map(str, STOPS))}")
        return self._step(throttle, f"Gauge at {throttle_name(throttle)}", 0.0, stop_readings(self.rig, throttle))

    def spend(self, key):
        """Make a check, a Step. One made before gives what it gave, and costs nothing more."""
        if key not in self.checks:
            raise JetlibError(f"there is no check {cut(key)}; write one of: {'; '.join(self.checks)}")
        check = self.checks[key]
        return self._step(key, check.label, self.costs[key], check.asked(self.rig), check.caution)

    def _step(self, key, label, minutes, asked, caution=""):
        if key not in self.done:
            self.steps.append(Step(key, label, float(minutes), self.hidden.read_all(asked), caution))
        return next(step for step in self.steps if step.key == key)
