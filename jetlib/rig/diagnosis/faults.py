"""What can go wrong with a rig, one thing at a time, and how each shows: its signature."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace

import numpy as np

from jetlib.errors import JetlibError
from jetlib.rig.change.factors import RigFactors, require_one_rig, state
from jetlib.rig.diagnosis.readings import throttle_name
from jetlib.rig.parts.machine import Rig
from jetlib.units import si
from jetlib.units.refusal import cut

_SEEN = 0.01  # of the rated flow: a stream that is noticed
_SAME = 0.02  # a change of the gauge or the bucket that nobody would call one
THROTTLES = (0.0, 0.5, 1.0)


@dataclass(frozen=True)
class Fault:
    """One thing that can be wrong. `changes(severity)` gives the RigFactors; severities, shares, run from low to high.

    second: the same cause in another worn part, changes(severity) as well, or None; a diagnosis tries both, half the
    chance each. measure: what a severity counts, in words with a place for its per cent. chance: how likely it is held
    to be before anything is read, against 1 for any other. even: severities are equally likely from low to high;
    otherwise every equal factor is. fits(rig): whether such a rig can have it. The ranges are *common practice, no
    source*.
    """

    name: str
    words: str
    measure: str
    low: float
    high: float
    typical: float
    changes: Callable = field(repr=False)
    even: bool = True
    chance: float = 1.0
    fits: Callable = field(default=lambda rig: True, repr=False)
    second: Callable = field(default=None, repr=False)

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


def _has_unloader(rig):
    return rig.unloader is not None


FAULTS = {
    fault.name: fault
    for fault in (
        Fault("healthy", "nothing is wrong", "as it should be", 0.0, 0.0, 0.0, lambda s: RigFactors()),
        Fault(
            "jet plugged", "a jet is plugged, or several", "{} of the jets' area is gone",
            0.08, 0.9, 0.25, lambda s: RigFactors(jet_area=1.0 - s),
        ),
        Fault(
            "jets worn", "the jets are worn", "the jets pass {} more",
            0.06, 0.8, 0.2, lambda s: RigFactors(jet_area=1.0 + s),
        ),
        Fault(
            "smaller set", "the jets fitted are smaller than they should be", "the set has {} less area",
            0.08, 0.7, 0.3, lambda s: RigFactors(jet_area=1.0 - s), chance=0.5,
        ),
        Fault(
            "larger set", "the jets fitted are larger than they should be", "the set has {} more area",
            0.08, 1.8, 0.4, lambda s: RigFactors(jet_area=1.0 + s), chance=0.5,
        ),
        Fault(
            "pump weak", "the pump is weak: worn or stuck pump valves", "{} of its flow is lost at any speed",
            0.08, 0.7, 0.3, lambda s: RigFactors(pump_flow=1.0 - s), chance=0.5,
        ),
        Fault(
            "pump slipping", "the pump slips: worn packings or plungers let more water slip back as the pressure rises",
            "{} of its flow slips back at rated pressure", 0.08, 0.6, 0.25, lambda s: RigFactors(slip=s), chance=0.5,
            second=lambda s: RigFactors(packing_leak=s),
        ),
        Fault(
            "valve leaking", "the bypass valve's seat leaks to the tank (do not touch it)",
            "the seat leaks {} of what the jets pass",
            0.05, 1.0, 0.25, lambda s: RigFactors(seat_leak=s), even=False, fits=lambda rig: bool(rig.valves),
        ),
        Fault(
            "valve low", "the bypass valve opens too early (do not touch it): set low, or its spring is tired",
            "it opens {} low",
            0.06, 0.6, 0.25, lambda s: RigFactors(valve_setting=1.0 - s), fits=_has_unloader,
        ),
        Fault(
            "valve high", "the bypass valve opens too late (do not touch it): set high, or sticking",
            "it opens {} high",  # springs tire more than they stiffen; a sound rig, whose valve stays shut, looks alike
            0.06, 0.5, 0.2, lambda s: RigFactors(valve_setting=1.0 + s), chance=0.5, fits=_has_unloader,
        ),
        Fault(
            "hose narrow", "the hose is kinked, crushed or too small",
            "it costs {} of the nozzle pressure, on top of its usual loss",
            0.15, 20.0, 0.6, lambda s: RigFactors(narrowing=s), even=False, fits=lambda rig: bool(rig.hoses),
        ),
        Fault(
            "gauge low", "the gauge reads low", "it reads {} too low",
            0.06, 0.6, 0.2, lambda s: RigFactors(needle=1.0 - s), second=lambda s: RigFactors(needle_off=-0.6 * s),
        ),
        Fault(
            "gauge high", "the gauge reads high", "it reads {} too high",
            0.06, 0.8, 0.2, lambda s: RigFactors(needle=1.0 + s), second=lambda s: RigFactors(needle_off=0.6 * s),
        ),
        Fault(
            "speed low", "the engine does not reach its speed: throttle cable or governor",
            "its top speed is {} short", 0.06, 0.5, 0.2, lambda s: RigFactors(top_speed=1.0 - s),
            second=lambda s: RigFactors(speed_cap=1.0 - s),
            fits=lambda rig: bool(rig.pump.idle_speed < rig.pump.rated_speed),
        ),
        Fault(
            "engine weak", "the engine is short of power", "{} of its power is gone",
            0.1, 0.85, 0.35, lambda s: RigFactors(engine_power=1.0 - s),
            fits=lambda rig: rig.engine is not None and rig.engine.kind != "electric",
        ),
        Fault(
            "suction starved", "the suction is starved or draws air", "{} of the flow is missing at rated speed",
            0.08, 0.7, 0.3, lambda s: RigFactors(suction_loss=s), second=lambda s: RigFactors(flow_cap=1.0 - s),
        ),
        Fault(
            "disc gone", "the burst disc has burst", "it is open", 1.0, 1.0, 1.0,
            lambda s: RigFactors(disc_gone=np.ones(np.shape(s), dtype=bool)),
            fits=lambda rig: rig.burst_disc is not None and not np.any(rig.burst_disc.opened),
        ),
    )
}  # fmt: skip


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


def shapes_of(faults, chances):
    """The faults in every shape, each a Fault of its cause's name, and the chance of each (a list and an array)."""
    found = []
    for fault, chance in zip(faults, chances, strict=True):
        if fault.second is None:
            found.append((fault, chance))
        else:
            found += [(fault, 0.5 * chance), (replace(fault, changes=fault.second, second=None), 0.5 * chance)]
    return [fault for fault, _ in found], np.array([chance for _, chance in found])


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
        found = [f"{fault.words[0].upper()}{fault.words[1:]} ({fault.measured(self.severity)})."]
        found.append("Gauge: " + _against(self.gauge, sound.gauge) + ".")
        found.append("Flow at the nozzle: " + _against(self.nozzle_flow, sound.nozzle_flow) + ".")
        same = np.array_equal(self.return_seen, sound.return_seen)
        usual = "as when all is well" if same else f"when all is well: {_where(sound.return_seen)}"
        found.append(f"Water returns to the tank: {_where(self.return_seen)}; {usual}.")
        if np.any(np.abs(self.speed / sound.speed - 1.0) > _SAME):
            found.append("Tachometer: " + _against(self.speed, sound.speed) + ".")
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
    sound = _signature(rig, FAULTS["healthy"], 0.0)
    return _signature(rig, fault, severity, sound) if fault.name != "healthy" else sound


def _signature(rig, fault, severity, healthy=None):
    changes = fault.changes(severity)
    point = state(rig, changes, THROTTLES)
    back = point.bypass_flow + point.leak_flow
    return Signature(
        rig=rig,
        fault=fault,
        severity=severity,
        gauge=point.gauge * changes.needle,
        nozzle_flow=point.nozzle_flow,
        return_flow=back,
        return_seen=back > _SEEN * rig.pump.rated_flow,
        speed=np.broadcast_to(point.speed, back.shape),
        labours=point.engine_bogged,
        healthy=healthy,
    )


def _against(values, sound):
    """ "25 % up at idle, the same at half throttle and full throttle"."""
    parts = []
    for throttle, value, usual in zip(THROTTLES, values, sound, strict=True):
        change = value / usual - 1.0 if usual else 0.0
        word = "the same" if abs(change) <= _SAME else f"{abs(100 * change):.2g} % {'up' if change > 0 else 'down'}"
        if parts and parts[-1][0] == word:
            parts[-1][1].append(throttle_name(throttle))
        else:
            parts.append((word, [throttle_name(throttle)]))
    return ", ".join(f"{word} at {_listed(places)}" for word, places in parts)


def _where(flags):
    places = [throttle_name(throttle) for throttle, flag in zip(THROTTLES, flags, strict=True) if flag]
    return f"at {_listed(places)}" if places else "never"


def _listed(words):
    if len(words) < 2:
        return "".join(words)
    return ", ".join(words[:-1]) + " and " + words[-1]
