"""What the reader must be told about an operating point before acting on it."""

import numpy as np

from jetlib.units import both

#: Gauge over the pump's rating that is told of: closer than that a gauge cannot tell. ASME B40.100 grade B is good for
#: 2 % of its scale, which is 3 % of a reading two thirds up it.
OVER_RATING = 1.03
_SET_LOWER = "Have the valve set lower by someone the manual allows to do it."
#: From here it is "do not run": a valve in order stands up to a tenth above its setting at full bypass.
FAR_OVER_RATING = 1.1
#: Area of all jets over that of the narrowest hose that is told of: a nozzle has 2 to 10 %. Common practice, no source.
WIDE_JETS = 0.25
#: Pa; a valve set lower is a slip. Common practice, no source.
LOW_SETTING = 1e6
SEE_THE_MANUAL = "The machine's manual, local codes and a licensed operator come before anything calculated here."


def cautions_for(point):
    """Sentences (a tuple) that warn about `point`, an OperatingPoint of one rig or of many."""
    rig, found = point.rig, []
    shut = np.asarray(rig.outlet_shut) | (np.asarray(rig.nozzle.effective_area) <= 0.0)
    shut = np.broadcast_to(shut, np.shape(point.gauge))
    if not rig.valves:
        found.append(
            "NO PROTECTION: this rig has no bypass valve and no burst disc. If a jet plugs or the outlet is shut, "
            "nothing limits the pressure. Do not run it. " + SEE_THE_MANUAL
        )
        if shut.any():
            found.append(
                f"OUTLET SHUT WITHOUT A VALVE{_where(shut)}: pressure rises until something breaks; the "
                f"{both(np.max(point.line_pressure), 'pressure')} calculated here only shows how bad it is."
            )
    each = zip(rig.hoses, point.over_pressure, point.hose_pressures, strict=True)
    for number, (hose, over, seen) in enumerate(each, start=1):
        if over.any():
            seen, limit = _worst(seen, hose.pressure_limit)
            found.append(
                f"HOSE {number} OVER ITS WORKING PRESSURE{_where(over)}: it sees {seen} and is rated for {limit}. "
                "Do not run it like this."
            )
    if np.any(point.disc_open):
        found.append(
            f"BURST DISC OPEN{_where(point.disc_open)}: water runs through it at any pressure until you stop the "
            "machine and replace the disc. First find out why the pressure rose."
        )
    trapped = shut & (np.asarray(point.line_pressure) > np.asarray(point.gauge) * 1.000001)
    if trapped.any():
        found.append(
            f"PRESSURE TRAPPED IN THE HOSE{_where(trapped)}: the gauge reads low, but the pressure in the hose is "
            f"still {_most(point.line_pressure, trapped)}. Stop the pump and relieve "
            "the pressure at the outlet before you touch a coupling."
        )
    dry = (np.asarray(point.nozzle_flow) == 0.0) & (np.asarray(point.swept_flow) > 0.0) & ~shut
    if dry.any():
        found.append(
            f"NOTHING LEAVES THE NOZZLE{_where(dry)}: the lift needs {_most(point.lift_pressure, dry)} and the gauge "
            f"stops at {_most(point.gauge, dry)}."
        )
    bogged = np.asarray(point.engine_bogged)
    if bogged.any():
        stalled = bogged & (np.asarray(point.speed) < 0.999 * np.asarray(rig.pump.idle_speed))
        if stalled.any():
            found.append(f"ENGINE WOULD STALL{_where(stalled)}: the load would drag it below its idle speed.")
        else:
            found.append(f"Engine bogs{_where(bogged)}: it does not have the power for this flow at this pressure.")
    if point.motor_overloaded.any():
        asked, rated = both(np.max(point.shaft_power), "power"), both(np.max(rig.engine.available()), "power")
        found.append(
            f"MOTOR OVERLOADED{_where(point.motor_overloaded)}: it needs {asked} and is rated for {rated}. A motor "
            "does not slow down: it trips."
        )
    found += _plausible(point)
    below = np.asarray(point.gauge) < 0.0
    if below.any():
        found.append(
            f"The line siphons{_where(below)}: water runs downhill faster than the pump delivers it, and the gauge "
            "reads zero."
        )
    return tuple(found)


def _plausible(point):
    """What is likely a slip of the pen, or asks more of a part than it is rated for."""
    rig, rating = point.rig, point.rig.pump.rating
    share = np.asarray(point.gauge) / np.asarray(np.inf if rating is None else rating)
    over = share > OVER_RATING
    if over.any():
        told, then = (
            ("PUMP OVER ITS RATING", "Do not run it like this.")
            if np.max(share) > FAR_OVER_RATING
            else ("Pump over its rating", _SET_LOWER)
        )
        read, rated = _worst(point.gauge, rating)
        yield f"{told}{_where(over)}: the gauge reads {read} and the pump is rated for {rated}. {then}"
    elif rating is not None and rig.unloader and np.any(rig.unloader.setting > OVER_RATING * np.asarray(rating)):
        setting, rated = _worst(rig.unloader.setting, rating)
        yield (
            f"The bypass valve is set to {setting}, above the pump's rating of {rated}: if a nozzle plugs, the pump "
            f"goes over its rating. {_SET_LOWER}"
        )
    area = np.asarray(rig.nozzle.area)
    narrowest = min((np.min(hose.bore) for hose in rig.hoses), default=np.inf)
    share = area / (np.pi / 4.0 * narrowest**2)
    wide = share > WIDE_JETS
    if wide.any():
        told = "WIDER THAN" if np.any(share > 1.0) else "NEARLY AS WIDE AS"
        yield (
            f"JETS {told} THE HOSE{_where(wide)}: all holes together are as wide as one of "
            f"{both(float(np.sqrt(4.0 / np.pi * np.max(area))), 'bore')}. Is a decimal point in the wrong place?"
        )
    if rig.unloader is not None and np.any(np.asarray(rig.unloader.setting) < LOW_SETTING):
        yield (
            f"The bypass valve is set to {both(np.min(rig.unloader.setting), 'pressure')}: no drain jetter runs at "
            "that. Did you mean psi or bar?"
        )


def _most(pressure, flags):
    """The highest pressure among the cases told of, in both systems."""
    return both(np.max(np.where(flags, pressure, 0.0)), "pressure")


def _worst(pressure, limit):
    """The pressure that is farthest above its limit, and that limit, each in both systems."""
    pressure, limit = np.broadcast_arrays(pressure, limit)
    worst = np.argmax(pressure / limit)
    return both(pressure.flat[worst], "pressure"), both(limit.flat[worst], "pressure")


def _where(flags):
    flags = np.asarray(flags)
    return "" if flags.ndim == 0 else f" (in {int(flags.sum())} of {flags.size} cases)"
