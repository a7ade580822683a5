"""What can go wrong with a rig (the list is data/faults.toml), one thing at a time, and how it shows.

As its signature, what gauge, bucket and ear say at three throttles, and in any reading.
"""

from dataclasses import dataclass, field
from itertools import groupby

import numpy as np

from jetlib.errors import JetlibError
from jetlib.rig.change.factors import UNTOUCHED, RigFactors, require_one_rig, state
from jetlib.rig.diagnosis.readings import SEEN_FROM, predictions, throttle_name
from jetlib.rig.parts.machine import Rig
from jetlib.rig.parts.part import remembered
from jetlib.tables import DATA
from jetlib.tables.toml_file import read_toml
from jetlib.units import si
from jetlib.units.refusal import cut

_SAME = 0.02  # a change of the gauge or the bucket that nobody would call one
_CLEAR = 2.0  # standard errors by which a number must differ from the usual one
THROTTLES = (0.0, 0.5, 1.0)


@dataclass(frozen=True)
class Fault:
    """One thing that can be wrong; severities, shares, run from `low` to `high`. The other fields: data/faults.toml."""

    name: str
    words: str
    called: str
    measure: str
    low: float
    high: float
    typical: float
    changes: dict = field(hash=False)
    second: dict | None = field(default=None, hash=False)
    chance: float = 1.0
    even: bool = True
    needs: str = ""

    def factors(self, severity):
        """The RigFactors that a severity (a number or an array) makes."""
        return RigFactors(
            **{
                name: np.asarray(severity) > 0.0 if name == "disc_gone" else UNTOUCHED[name] + each * severity
                for name, each in self.changes.items()
            }
        )

    def fits(self, rig):
        """Whether such a rig can have it."""
        disc = rig.burst_disc
        return not self.needs or bool(
            {
                "valve": rig.valves,
                "unloader": rig.unloader,
                "hose": rig.hoses,
                "throttle": rig.pump.idle_speed < rig.pump.rated_speed,
                "engine": rig.engine is not None and rig.engine.kind != "electric",
                "disc": disc is not None and not np.any(disc.opened),
            }[self.needs]
        )

    @property
    def short(self):
        """The fault in a few words, such as "the pump is weak"."""
        return self.words.split(":")[0]

    @property
    def title(self):
        """The same with a capital."""
        return self.short[0].upper() + self.short[1:]

    def checked(self, rig, severity=None):
        """A severity that this fault of `rig` can have; JetlibError otherwise."""
        require_one_rig(rig, 'signature(Rig(…), "jets worn")')
        if not self.fits(rig):
            raise JetlibError(f"{self.name}: this rig has nothing that could fail so")
        severity = self.typical if severity is None else si(severity, "ratio", field="severity", owner="Fault")
        if not np.all((np.asarray(severity) >= self.low) & (np.asarray(severity) <= self.high)):
            raise JetlibError(f"severity is {cut(severity)}; {self.name} runs from {self.low:g} to {self.high:g}")
        return severity

    def severities(self, shares):
        """Severities below which `shares` (0 to 1) of the chances lie."""
        if self.even:
            return self.low + (self.high - self.low) * np.asarray(shares)
        return self.low * (self.high / self.low) ** np.asarray(shares)

    def measured(self, severity):
        """A severity in words: "jets pass 20 % less"."""
        return self.measure.format(f"{float(f'{100 * severity:.2g}'):g} %")


FAULTS = {name: Fault(name, **row) for name, row in read_toml(DATA / "faults.toml", what="list of faults").items()}


def fault_named(fault):
    """The Fault of that name; a Fault is given back as it is. JetlibError that lists them for any other."""
    if isinstance(fault, Fault):
        return fault
    if not isinstance(fault, str) or fault not in FAULTS:
        raise JetlibError(f"there is no fault {cut(fault)}; write one of: {'; '.join(FAULTS)}")
    return FAULTS[fault]


def faults_of(rig):
    """The faults (a tuple) that a rig with these parts can have, "healthy" first."""
    return tuple(fault for fault in FAULTS.values() if fault.fits(rig))


@dataclass(frozen=True, eq=False)
class Signature:
    """How `fault` shows on `rig` at THROTTLES, beside the same rig when nothing is wrong. Arrays over the throttles.

    gauge: what the needle shows, Pa. nozzle_flow: what a bucket at the nozzle catches, return_flow: what comes back to
    the tank, m3/s. return_seen: whether that is a stream. speed: of the pump, rad/s. labours: the engine bogs.
    """

    rig: object
    fault: Fault
    severity: float
    gauge: np.ndarray
    nozzle_flow: np.ndarray
    return_flow: np.ndarray
    return_seen: np.ndarray
    speed: np.ndarray
    labours: np.ndarray
    healthy: object = None

    @property
    def sentences(self):
        """The signature in plain words, a tuple of sentences."""
        fault, sound = self.fault, self.healthy
        if sound is None:
            return (f"Nothing is wrong. Water returns to the tank: {_where(self.return_seen)}.",)
        same = np.array_equal(self.return_seen, sound.return_seen)
        usual = "as when all is well" if same else f"when all is well: {_where(sound.return_seen)}"
        found = [
            f"{fault.words[0].upper()}{fault.words[1:]} ({fault.measured(self.severity)}).",
            f"Gauge: {_against(self.gauge, sound.gauge)}.",
            f"Flow at the nozzle: {_against(self.nozzle_flow, sound.nozzle_flow)}.",
            f"Water returns to the tank: {_where(self.return_seen)}; {usual}.",
        ]
        if np.any(np.abs(self.speed / sound.speed - 1.0) > _SAME):
            found.append(f"Tachometer: {_against(self.speed, sound.speed)}.")
        if np.any(self.labours != sound.labours):
            found.append(f"The engine labors: {_where(self.labours)}; when all is well: {_where(sound.labours)}.")
        return tuple(found)


def signature(rig: Rig, fault: str | Fault, severity: float | None = None) -> Signature:
    """The Signature of `fault` (a name, or a Fault) on `rig` at idle, half and full throttle.

    severity: how bad, within the fault's own range; its typical one unless given. Raises JetlibError for an unknown
    fault, a severity outside, or a rig that cannot have the fault.

    >>> signature(demo_rig("yard_trailer"), "jets worn").gauge.shape  # idle, half and full throttle
    (3,)
    """
    fault = fault_named(fault)
    severity = fault.checked(rig, severity)
    changes = fault.factors(severity)
    point = state(rig, changes, THROTTLES)
    back = point.bypass_flow + point.leak_flow
    return Signature(
        rig=rig,
        fault=fault,
        severity=severity,
        gauge=point.gauge * changes.needle,
        nozzle_flow=point.nozzle_flow,
        return_flow=back,
        return_seen=back > SEEN_FROM * rig.pump.rated_flow,
        speed=np.broadcast_to(point.speed, back.shape),
        labours=point.engine_bogged,
        healthy=None if fault.name == "healthy" else signature(rig, "healthy"),
    )


def _against(values, sound):
    """ "25 % up at idle, the same at half throttle and full throttle"."""
    words = []
    for value, usual in zip(values, sound, strict=True):
        change = value / usual - 1.0 if usual else 0.0
        up_down = f"{abs(100 * change):.2g} % {'up' if change > 0 else 'down'}"
        words.append("the same" if abs(change) <= _SAME else up_down)
    alike = groupby(THROTTLES, dict(zip(THROTTLES, words, strict=True)).get)
    return ", ".join(f"{word} {_at(throttles)}" for word, throttles in alike)


def _where(flags):
    throttles = [throttle for throttle, flag in zip(THROTTLES, flags, strict=True) if flag]
    return _at(throttles) if throttles else "never"


def _at(throttles):
    """ "at idle, half throttle and full throttle"."""
    *first, last = map(throttle_name, throttles)
    return f"at {', '.join(first)} and {last}" if first else f"at {last}"


# --- in any reading ----------------------------------------------------------------------------------


def exact(asked, rig, fault, severity):
    """`asked`, a reading, as `rig` with the fault would give it: no scatter, and the rig just as written down."""
    return all_exact([asked], rig, fault, severity)[0]


def all_exact(asked, rig, fault, severity):
    """The same of a list of readings, worked out at once."""
    running = [each for each in asked if each.throttle is not None]
    values = iter(predictions(running, rig, fault.factors(severity)) if running else ())
    found = []
    for each in asked:
        if each.throttle is None:
            found.append(each.read_as(each.words[int(each.chances(fault.name).argmax())]))
        elif each.by_eye:
            found.append(each.read_as(float(next(values)) > 0.0))
        else:
            value = max(float(next(values)), 0.0)
            found.append(each.read_as(value, error=float(each.usual_error(value, rig.pump.rated_flow))))
    return found


@remembered(2048)
def shown_by(fault, reading, rig):
    """What `reading` would show for the fault of that name on `rig`, at its typical size, in words.

    Of a number: "lower" or "higher" than on the sound rig, or "as usual" where the two are within two of its errors.
    """
    fault = FAULTS[fault]
    found = exact(reading, rig, fault, fault.typical)
    if not found.kind:
        return found.shown
    usual = exact(reading, rig, FAULTS["healthy"], 0.0)
    off = (found.value - usual.value) / max(found.error, usual.error)
    return "as usual" if abs(off) <= _CLEAR else "higher" if off > 0 else "lower"
