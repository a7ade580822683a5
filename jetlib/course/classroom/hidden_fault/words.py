"""What was read in a drill, in words: no finer than a needle, or a bucket and a watch, can be read."""

from jetlib.units import from_si, text, unit_label

#: Steps that readings are said in: a gauge of its usual size, and a bucket of some gallons; common practice, no source.
_FINEST = {("pressure", "US"): 10, ("pressure", "metric"): 1, ("flow", "US"): 0.1, ("flow", "metric"): 0.5}


def read_words(reading, system):
    """A reading as text, in one unit system."""
    if not reading.kind:
        return reading.shown
    finest = _FINEST.get((reading.kind, system))
    if finest is None:
        return text(reading.value, reading.kind, system)
    number = finest * round(from_si(float(reading.value), reading.kind, system) / finest)
    return f"{number:.{1 if finest < 1 else 0}f} {unit_label(reading.kind, system)}"


#: Causes as they are named where there is no room for a sentence, in the glossary's words.
_CAUSES = {
    "healthy": "nothing wrong", "jet plugged": "plugged jet", "jets worn": "worn jets",
    "smaller set": "jets too small", "larger set": "jets too large", "pump weak": "worn pump valves",
    "pump slipping": "worn packings", "valve leaking": "leaking bypass valve",
    "valve low": "bypass valve opens too early", "valve high": "bypass valve opens too late",
    "hose narrow": "kinked or crushed hose", "gauge low": "gauge reads low", "gauge high": "gauge reads high",
    "speed low": "engine speed too low", "engine weak": "engine short of power",
    "suction starved": "starved suction", "disc gone": "burst disc open",
}  # fmt: skip


def cause_words(fault):
    """A Fault in two to five words."""
    return _CAUSES[fault.name]
