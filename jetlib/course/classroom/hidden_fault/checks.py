"""What a room may do in a drill with a hidden fault: free looks, and checks that cost minutes.

The minutes are *common practice, no source*, stopping and letting the pressure off included. A room may write others.
"""

from dataclasses import dataclass

from jetlib.rig.change.swaps import can_open_the_valve
from jetlib.rig.diagnosis.readings import (
    BucketTest,
    EngineSound,
    GaugeReading,
    HoseSeen,
    JetsSeen,
    ReturnSeen,
    SpeedReading,
    SuctionSeen,
)
from jetlib.rig.point.cautions import SEE_THE_MANUAL

#: Throttles at which the room may look at gauge and bypass stream for nothing.
STOPS = (0.0, 0.25, 0.5, 0.75, 1.0)
_STOP = (
    "Pump stopped and the pressure let off at the outlet, gauge at nothing, before a coupling or a nozzle is opened. "
)
_NEEDLE = "Throttle opened slowly, eyes on the needle: stop when it nears the valve's setting. "


@dataclass(frozen=True, eq=False)
class HuntCheck:
    """One thing to do: what it is called, what it usually costs (minutes), what to mind, and the readings it gives.

    The values of the readings mean nothing; they say what is read.
    """

    key: str
    label: str
    minutes: float
    caution: str
    readings: tuple


def stop_readings(rig, throttle):
    """What the room sees for nothing at a throttle: the gauge, and the stream to the tank if the rig has a valve."""
    return (GaugeReading(1e7, throttle), *((ReturnSeen(True, throttle),) if rig.valves else ()))


def hunt_checks(rig):
    """{key: HuntCheck} of what can be done on `rig`, cheapest first; at full throttle where the pump runs."""
    after_swap = {
        name: (GaugeReading(1e7, 1.0, swapped=name), ReturnSeen(True, 1.0, name)) if rig.valves else
        (GaugeReading(1e7, 1.0, swapped=name),)
        for name in ("jets", "hose", "opening set")
    }  # fmt: skip
    guard = "Belts and shafts turn: only where the guard lets you, sleeves and hair tied back. " + SEE_THE_MANUAL
    held = "Nozzle held fast inside a closed drum or pipe, nobody near the jets. " + _STOP + SEE_THE_MANUAL
    whip = "Hose end made fast by the bucket, held by nobody: a loose end whips. " + _STOP + SEE_THE_MANUAL
    opened = _STOP + SEE_THE_MANUAL
    checks = [
        HuntCheck("tachometer", "Tachometer on the pump", 2, guard, (SpeedReading(100.0),)),
        HuntCheck("suction", "Look at strainer and suction", 4,
                   "Pump stopped, and made sure that nobody can start it. " + SEE_THE_MANUAL, (SuctionSeen(True),)),
        HuntCheck("jets", "A drill shank in each jet", 6, opened, (JetsSeen("as fitted"),)),
        HuntCheck("second gauge", "A second gauge beside the first", 6, opened,
                   (GaugeReading(1e7, 1.0, second_gauge=True),)),
        HuntCheck("nozzle bucket", "Bucket at the nozzle", 8, held, (BucketTest(flow=1e-3),)),
        HuntCheck("open hose", "Open hose: gauge and bucket", 9, whip,
                   (GaugeReading(1e7, 1.0, nozzle_off=True), BucketTest(flow=1e-3, place="open hose"))),
        HuntCheck("swap jets", "Known jets on, read again", 10, opened, after_swap["jets"]),
    ]  # fmt: skip
    if rig.engine is not None:
        words = "Ear protection on; stand clear of hose and nozzle. " + SEE_THE_MANUAL
        checks.append(HuntCheck("engine", "Listen to the engine", 1, words, (EngineSound(True),)))
    if rig.valves:
        words = "Return hose into the bucket tied down; it may be warm. " + opened
        catch = (BucketTest(flow=1e-3, place="tank return"),)
        checks.append(HuntCheck("return bucket", "Bucket at the tank return", 5, words, catch))
    if rig.hoses:
        checks.append(HuntCheck("hose", "Walk the hose, read its size", 5, opened, (HoseSeen(True),)))
        checks.append(HuntCheck("swap hose", "Known hose on, read again", 15, opened, after_swap["hose"]))
    if can_open_the_valve(rig):
        words = _NEEDLE + "Never run it above the setting to see what happens. " + opened
        label = "Jets that just open the valve"
        checks.append(HuntCheck("opening set", label, 12, words, after_swap["opening set"]))
    checks.sort(key=lambda check: check.minutes)
    return {check.key: check for check in checks}


def all_readings(rig):
    """Every reading that stops and checks of `rig` can give; their values mean nothing."""
    found = [reading for throttle in STOPS for reading in stop_readings(rig, throttle)]
    return (*found, *(reading for check in hunt_checks(rig).values() for reading in check.readings))
