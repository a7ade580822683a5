"""What a reading would show for a fault of a rig."""

from functools import lru_cache

from jetlib.rig.diagnosis.faults import FAULTS
from jetlib.rig.diagnosis.readings import predictions
from jetlib.rig.parts.part import Same

_CLEAR = 2.0  # standard errors by which a number must differ from the usual one


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
            found.append(each.read_as(each.outcomes[int(each.chances(fault.name).argmax())]))
            continue
        value = float(next(values))
        if each.by_eye:
            found.append(each.read_as(value > 0.0))
        else:
            value = max(value, 0.0)
            found.append(each.read_as(value, error=float(each.usual_error(value, rig.pump.rated_flow))))
    return found


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
