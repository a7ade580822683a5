"""What a room may do about a hidden fault: free looks at gauge and tank return, and checks that cost minutes; and how
what it reads is said.

The checks and their minutes are those of the catalogue; a room may write other minutes.
"""

from jetlib.rig.diagnosis.checks import checks_of
from jetlib.rig.diagnosis.readings import GaugeReading, ReturnSeen
from jetlib.units import from_si, text, unit_label

#: Throttles at which the room may look at gauge and bypass stream for nothing.
STOPS = (0.0, 0.25, 0.5, 0.75, 1.0)
#: Steps that readings are said in: a gauge of its usual size, and a bucket of some gallons; common practice, no source.
_FINEST = {("pressure", "US"): 10, ("pressure", "metric"): 1, ("flow", "US"): 0.1, ("flow", "metric"): 0.5}


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
