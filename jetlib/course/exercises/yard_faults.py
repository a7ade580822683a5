"""Faults of the yard trailer for exercises: drawn with a size that shows, and what is read on it then."""

from functools import cache

from jetlib.rig.change.factors import state
from jetlib.rig.diagnosis.checks import first_to_tell
from jetlib.rig.diagnosis.diagnosis import diagnose
from jetlib.rig.diagnosis.faults import FAULTS, THROTTLES, signature
from jetlib.rig.diagnosis.readings import GaugeReading
from jetlib.rig.parts.rig_file import demo_rig

#: fault: least and most that is drawn, hundredths of a severity.
SIZES = {
    "jet plugged": (15, 35), "hose narrow": (40, 90), "jets worn": (20, 40), "pump weak": (15, 35),
    "valve leaking": (20, 45), "valve low": (15, 35), "engine weak": (45, 60), "speed low": (15, 30),
    "suction starved": (20, 40), "gauge low": (22, 38),
}  # fmt: skip
#: Two suspects with the same reading at full throttle.
SUSPECTS = (
    ("jets worn", "pump weak"), ("pump weak", "valve leaking"), ("gauge low", "jets worn"),
    ("speed low", "suction starved"), ("jet plugged", "hose narrow"),
)  # fmt: skip
_OFFERED = ("return", "tachometer", "second gauge", "nozzle bucket", "open hose")
_RETURNS = {(False, False, False): "none", (False, False, True): "at full throttle only", (True, True, True): "always"}


@cache
def trailer():
    """The yard trailer as it stands on its card, a Rig."""
    return demo_rig("yard_trailer")


@cache
def shows(fault, size=None):
    """The Signature of a fault (its name) of a severity on the yard trailer; the typical one unless given."""
    return signature(trailer(), fault, size)


def draw_fault(rng, faults=tuple(SIZES)):
    """Parameters fault, one of `faults`, and size, its severity."""
    fault = rng.choice(faults)
    return {"fault": fault, "size": _size(rng, fault)}


def draw_suspects(rng):
    """Parameters one and other, two of SUSPECTS; fault, which of them it is, and its size."""
    one, other = rng.choice(SUSPECTS)
    fault = rng.choice((one, other))
    return {"one": one, "other": other, "fault": fault, "size": _size(rng, fault)}


def _size(rng, fault):
    low, high = SIZES[fault]
    return rng.randrange(low, high + 1) / 100.0


@cache
def gauge(fault, size, throttle):
    """What the gauge reads, Pa, at a throttle."""
    changes = FAULTS[fault].factors(size)
    return float(state(trailer(), changes, [throttle]).gauge[0] * changes.needle)


def only_cause(fault, size):
    """The name of the cause that gauge readings of a fault at THROTTLES leave; "several" if they leave more."""
    readings = [GaugeReading(value, at) for value, at in zip(shows(fault, size).gauge, THROTTLES, strict=True)]
    tied = diagnose(trailer(), readings).tied
    return tied[0].name if len(tied) == 1 else "several"


def second_gauge(fault, size):
    """What a gauge known to be good reads at full throttle, Pa."""
    return float(shows(fault, size).gauge[-1] / FAULTS[fault].factors(size).needle)


def nozzle_flow(fault, size):
    """What leaves the nozzle at full throttle, m3/s."""
    return float(shows(fault, size).nozzle_flow[-1])


def speed(fault, size):
    """What the pump turns at full throttle, rad/s."""
    return float(shows(fault, size).speed[-1])


def returned(fault, size):
    """At which throttles water returns to the tank, in words."""
    return _RETURNS.get(tuple(shows(fault, size).return_seen.tolist()), "at half and full throttle")


def signature_words(fault, size):
    """How it shows, in sentences, each on a line."""
    return "\n".join(shows(fault, size).sentences[1:])


@cache
def check_between(one, other):
    """The key of the check, of those that the lesson offers, that tells two faults apart most cheaply."""
    return first_to_tell(trailer(), one, other, _OFFERED)
