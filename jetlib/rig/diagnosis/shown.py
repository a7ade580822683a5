"""What a reading would show for a fault of a rig."""

from functools import lru_cache

from jetlib.rig.diagnosis.faults import FAULTS
from jetlib.rig.diagnosis.readings import predictions
from jetlib.rig.parts.part import Same

_CLEAR = 2.0  # standard errors by which a number must differ from the usual one


def exact(asked, rig, fault, severity):
    """`asked`, a reading, as `rig` with the fault would give it: no scatter, and the rig just as written down."""
    if asked.throttle is None:
        return asked.read_as(asked.outcomes[int(asked.chances(fault.name).argmax())])
    value = float(predictions([asked], rig, fault.changes(severity))[0])
    if asked.by_eye:
        return asked.read_as(value > 0.0)
    value = max(value, 0.0)
    return asked.read_as(value, error=float(asked.usual_error(value, rig.pump.rated_flow)))


def shown_by(fault, reading, rig):
    """What `reading` would show for the fault of that name on `rig`, at its typical size, in words.

    Of a number: "lower" or "higher" than on the sound rig, or "as usual" where the two are within two of its errors.
    """
    return _shown_by(fault, Same(reading), Same(rig))


@lru_cache(maxsize=2048)
def _shown_by(name, reading, rig):
    fault = FAULTS[name]
    found = exact(reading.held, rig.held, fault, fault.typical)
    if not found.kind:
        return found.shown
    usual = exact(reading.held, rig.held, FAULTS["healthy"], 0.0)
    off = (found.value - usual.value) / max(found.error, usual.error)
    return "as usual" if abs(off) <= _CLEAR else "higher" if off > 0 else "lower"
