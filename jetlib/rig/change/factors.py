"""What may be different about a rig from what is written down: one number for each, and the rig with them made.

The same numbers serve the faults, what is not known about a rig, and calibration. Arrays make many rigs at once. What
is known parts put on in the place of the rig's own for one reading can no longer be the cause.
"""

from dataclasses import dataclass, replace

import numpy as np

from jetlib.errors import JetlibError
from jetlib.physics.pump import HOLE_DISCHARGE_COEFFICIENT
from jetlib.rig.jets.matching import matched_jets
from jetlib.rig.parts.machine import Fitting, Jet, Nozzle, Rig
from jetlib.rig.parts.part import remembered, within
from jetlib.rig.point.circuit import compile_one
from jetlib.rig.point.operating_point import operating_point
from jetlib.units.refusal import cut

_SMALLEST_BORE = 5e-4  # m, the least a Fitting takes
_LARGEST_HOLE = 0.02  # m, the most a Jet takes
#: What can be put on, in the words of a reading's label.
SWAPS = {
    "jets": "known jets fitted",
    "hose": "a known hose fitted",
    "opening set": "a known set fitted that just opens the valve",
}
#: What the set that opens the valve would ask for at full throttle if no valve opened, over the valve's setting.
#: Enough to tell a valve that opens late by the needle, and little enough that no sound part is strained meanwhile.
OVER_SETTING = 1.15


@dataclass(frozen=True)
class RigFactors:
    """Each 1 (or 0, or False) where nothing is different; arrays broadcast.

    Factors: jet_area (effective area of all the jets), hose_loss (friction of every hose), pump_flow (flow swept at
    any speed), top_speed (speed at full throttle; idle stays), engine_power, valve_setting, needle (what the gauge
    shows over what is there). Added: slip (share of the rated flow that slips back inside the pump at rated pressure),
    seat_leak (hole in the valve's seat, as a share of what the jets pass at the same pressure), narrowing (pressure
    lost in a narrow place in the hose, as a share of the pressure at the jets), suction_loss (share of the swept flow
    that is missing at rated speed; less at lower speed, as its square, since what the suction line loses goes as the
    square of the flow), packing_leak (share of the rated flow that leaves by worn packings at rated pressure, as a
    hole lets it), needle_off (what the gauge shows too much at any pressure, as a share of its full scale). Caps, as
    shares of what is rated and 1 for none: speed_cap (the engine turns no faster), flow_cap (the suction lets no more
    in). disc_gone: the burst disc has burst.
    """

    jet_area: float = 1.0
    hose_loss: float = 1.0
    pump_flow: float = 1.0
    top_speed: float = 1.0
    engine_power: float = 1.0
    valve_setting: float = 1.0
    needle: float = 1.0
    slip: float = 0.0
    seat_leak: float = 0.0
    narrowing: float = 0.0
    suction_loss: float = 0.0
    packing_leak: float = 0.0
    needle_off: float = 0.0
    speed_cap: float = 1.0
    flow_cap: float = 1.0
    disc_gone: bool = False

    def and_also(self, other):
        """Both sets of changes at once: factors multiply, what is added adds up."""
        both = {True: np.multiply, False: np.add}  # by whether nothing is 1 or 0; of bools that is: either
        return RigFactors(
            **{name: both[bool(nothing)](vars(self)[name], vars(other)[name]) for name, nothing in UNTOUCHED.items()}
        )

    def with_throttle_axis(self):
        """The same with a new last axis on every array, so that throttles get an axis of their own."""
        arrays = {name: value[..., np.newaxis] for name, value in vars(self).items() if np.ndim(value)}
        return replace(self, **arrays)


#: What each factor is where nothing is different.
UNTOUCHED = dict(vars(RigFactors()))


@dataclass(frozen=True)
class Knowledge:
    """How well a rig is known when it is sound: standard deviations, as shares of what is written down.

    jet_area, hose_loss, pump_flow, valve_setting, engine_power: as in RigFactors. gauge: of the gauge's own error, as a
    share of its full scale; class 1.6 of EN 837-1 allows 1.6 % either way, all of it equally likely. The defaults suit
    a rig whose usual readings are known to whoever works it; UNMEASURED one that nobody has measured.
    correlation: of the first four with each other, rows in that order, as calibration finds it; None: none.

    >>> len(Knowledge(jet_area=0.06).moves())
    5
    """

    jet_area: float = 0.03
    hose_loss: float = 0.08
    pump_flow: float = 0.02
    valve_setting: float = 0.02
    engine_power: float = 0.05
    gauge: float = 0.016 / np.sqrt(3.0)
    correlation: tuple = None

    def __post_init__(self):
        for name in (*CALIBRATED, "engine_power", "gauge"):
            value = getattr(self, name)
            if isinstance(value, bool) or not isinstance(value, int | float | np.number) or not 0 <= value <= 0.5:
                raise JetlibError(f"{name} is {cut(value)}; write a share from 0 to 0.5, Knowledge({name}=0.03)")
        if self.correlation is not None and not _is_correlation(self.correlation):
            raise JetlibError(
                f"correlation is {cut(self.correlation)}; write {len(CALIBRATED)} rows of as many numbers from -1 to "
                "1, the same either way, with 1 where a row meets itself, or leave it out"
            )

    def moves(self) -> list:
        """Independent moves of one standard deviation each, a list of {name: ratio of change}."""
        deviations = np.array([getattr(self, name) for name in CALIBRATED])
        related = np.eye(len(CALIBRATED)) if self.correlation is None else np.asarray(self.correlation)
        sizes, axes = np.linalg.eigh(related * np.outer(deviations, deviations))
        found = [
            dict(zip(CALIBRATED, np.sqrt(size) * axis, strict=True))
            for size, axis in zip(sizes, axes.T, strict=True)
            if size > 1e-12
        ]
        return found + ([{"engine_power": self.engine_power}] if self.engine_power > 0 else [])


def _is_correlation(value):
    try:
        found = np.asarray(value, dtype=float)
    except (TypeError, ValueError, OverflowError):
        return False
    fits = found.shape == (len(CALIBRATED),) * 2 and np.isfinite(found).all() and np.allclose(found, found.T)
    return fits and np.allclose(np.diag(found), 1.0) and bool(np.linalg.eigvalsh(found).min() > -1e-9)


#: What is left of a rig to find out when it is sound, in the order of Knowledge.correlation.
CALIBRATED = ("jet_area", "hose_loss", "pump_flow", "valve_setting")
#: A rig nobody has measured: the widths of Unknowns, each as the standard deviation of what it makes.
UNMEASURED = Knowledge(jet_area=0.065, hose_loss=0.10, pump_flow=0.02, valve_setting=0.02)
#: A rig nobody has measured and which has seen use: *common practice, no source*.
USED = Knowledge(jet_area=0.15, hose_loss=0.15, pump_flow=0.06, valve_setting=0.06)


def state(rig, changes, throttles, *, nozzle_off=False):
    """The OperatingPoint of `rig` with `changes` at `throttles` (0 to 1, a sequence), which are its last axis.

    nozzle_off: whether the hose ends open, one bool or one for each throttle.
    """
    throttles = np.asarray(throttles, dtype=float)
    made = changed(rig, changes.with_throttle_axis(), throttles, nozzle_off=nozzle_off)
    return operating_point(made, throttles)


def changed(rig, changes, throttle=1.0, *, nozzle_off=False):
    """`rig` with `changes` made to it, a Rig; its fields become arrays where the changes are.

    throttle matters to suction_loss and the caps: the rig given is right at that throttle. nozzle_off: the hose ends
    open, no jets; an array where it does so in some rigs. A needle is no part of a Rig and is left to whoever reads the
    gauge. Raises JetlibError where the rig has no open jets to compare a narrow place or a leak with.
    """
    area = require_open_jets(rig)
    idle = rig.pump.idle_speed / rig.pump.rated_speed
    top_speed = np.maximum(changes.top_speed, idle)
    swept = changes.pump_flow
    turned = idle + throttle * (top_speed - idle)
    if _any(changes.speed_cap, 1.0):
        capped = np.where(changes.speed_cap < 1.0, np.minimum(turned, np.maximum(changes.speed_cap, idle)), turned)
        # The rig given is right at this throttle: its top speed is what makes it turn at the cap there.
        top_speed = np.where(capped < turned, idle + (capped - idle) / np.maximum(throttle, 1e-9), top_speed)
        turned = capped
    if _any(changes.suction_loss, 0.0):
        swept = swept * (1.0 - changes.suction_loss * np.square(turned))
    if _any(changes.flow_cap, 1.0):
        let_in = np.where(changes.flow_cap < 1.0, changes.flow_cap / turned, np.inf)
        swept = np.minimum(swept, let_in)
    made = {"pump": _pump(rig.pump, swept, top_speed, changes.slip, changes.packing_leak)}
    if rig.engine is not None and _any(changes.engine_power, 1.0):
        made["engine"] = rig.engine.replace(power=within(rig.engine.power * changes.engine_power, "power"))
    if rig.valves:
        made["valve"] = _valves(rig, changes, area, swept * top_speed)
    if _any(changes.hose_loss, 1.0):
        # Friction is exactly proportional to length; Calibration turns the factor into a bore for the rig it gives.
        made["hoses"] = tuple(
            hose.replace(
                length=within(hose.length * changes.hose_loss, "length"),
                coiled_length=within(hose.coiled_length * changes.hose_loss, "length"),
            )
            for hose in rig.hoses
        )
    if _any(changes.narrowing, 0.0):
        bore = np.maximum(np.sqrt(4.0 * area / np.pi), _SMALLEST_BORE)
        share = np.square(np.pi / 4.0 * bore**2 / area)
        made["fittings"] = (*rig.fittings, Fitting(bore=bore, loss_coefficient=changes.narrowing * share))
    if np.any(nozzle_off) or _any(changes.jet_area, 1.0):
        made["nozzle"] = _nozzle(rig, changes.jet_area, nozzle_off)
    return rig.replace(**made)


def require_open_jets(rig):
    """Effective area of the jets, m2; JetlibError when the rig has none."""
    area = rig.nozzle.effective_area
    if not np.all(area > 0):
        raise JetlibError('nozzle has no open jets; write Nozzle(jets=[Jet(bore="1.4 mm", count=4)])')
    return area


def require_one_rig(rig, write):
    """JetlibError unless `rig` is one Rig with open jets; write: the line to write instead."""
    if not isinstance(rig, Rig):
        raise JetlibError(f"rig is {cut(rig)}; write {write}")
    compile_one(rig, 1.0, "take one rig at a time")
    require_open_jets(rig)


def open_end(rig):
    """What is at the end of the hose with the nozzle off: the bore of the last hose itself, a Nozzle."""
    bore = min(rig.hoses[-1].bore, _LARGEST_HOLE) if rig.hoses else _LARGEST_HOLE
    return Nozzle(jets=(Jet(bore=bore, discharge_coefficient=0.9),), name="open end")


def _nozzle(rig, jet_area, off):
    if np.all(off):
        return open_end(rig)
    jets = [jet.replace(bore=within(jet.bore * np.sqrt(jet_area), "jet_bore")) for jet in rig.nozzle.jets]
    if not np.any(off):
        return rig.nozzle.replace(jets=tuple(jets))
    # On here and off there in one rig: the first group turns into the open end, the others have no holes there.
    end, first = open_end(rig).jets[0], jets[0]
    jets = [jet.replace(count=np.where(off, 0, jet.count)) for jet in jets]
    jets[0] = first.replace(
        bore=np.where(off, end.bore, first.bore),
        count=np.where(off, end.count, first.count),
        discharge_coefficient=np.where(off, end.discharge_coefficient, first.discharge_coefficient),
    )
    loss = np.where(off, 0.0, rig.nozzle.body_loss_coefficient)
    return rig.nozzle.replace(jets=tuple(jets), body_loss_coefficient=loss)


def _pump(pump, swept, top_speed, slip, packing_leak):
    # Slip is the pump's own and goes with pressure, not with the speed it is turned at.
    lost = (1.0 - pump.volumetric_efficiency) / top_speed + slip
    return pump.replace(
        rated_flow=pump.rated_flow * swept * top_speed,
        rated_speed=pump.rated_speed * top_speed,
        idle_speed=pump.idle_speed,
        volumetric_efficiency=np.clip(1.0 - lost, 0.2, 1.0),
        packing_leak=packing_leak,
    )


def _valves(rig, changes, area, rated_flow_share):
    valves = []
    hole = 4.0 / np.pi * changes.seat_leak * area / HOLE_DISCHARGE_COEFFICIENT
    for place, valve in enumerate(rig.valves):
        made = {}
        if place == 0 and _any(changes.seat_leak, 0.0):
            made["seat_leak"] = np.sqrt(np.square(valve.seat_leak) + hole)
        if valve is rig.unloader:
            made["setting"] = valve.setting * changes.valve_setting
            # Its own curve stays: flow = rated flow x (share of the rise)^2, and the rated flow has changed.
            made["rise"] = np.minimum(valve.rise * np.sqrt(rated_flow_share), 1.0)
        elif np.any(changes.disc_gone):
            made["opened"] = np.logical_or(valve.opened, changes.disc_gone)
        valves.append(valve.replace(**made) if made else valve)
    return tuple(valves)


def _any(value, nothing):
    return value is not nothing and np.any(np.asarray(value) != nothing)


def swapped_in(rig, changes, swapped):
    """`changes` to `rig` with the part put on: jets, or hose, are then exactly what is written down.

    swapped: "" for nothing, or a key of SWAPS. Raises JetlibError where no set could open the valve.
    """
    if not swapped:
        return changes
    ones = np.ones_like(np.asarray(changes.jet_area, dtype=float))
    if swapped == "jets":
        return replace(changes, jet_area=ones)
    if swapped == "hose":
        return replace(changes, hose_loss=1.0 + 0.0 * np.asarray(changes.hose_loss), narrowing=0.0)
    return replace(changes, jet_area=opening_set_share(rig) * ones)


def can_open_the_valve(rig):
    """Whether there is a set of jets that makes the valve of `rig`, an unloader, open at full throttle."""
    return _opening_set_share(rig) is not None


def opening_set_share(rig):
    """Effective area of the set that opens the valve over that of the rig's own jets.

    The set would ask OVER_SETTING times the valve's setting of the jets alone at the flow that just reaches the
    setting, so it is somewhat kinder than that where hose and slip take their part.
    """
    share = _opening_set_share(rig)
    if share is None:
        raise JetlibError("no set of jets opens a valve of this rig at full throttle; leave this check out")
    return share


@remembered(16)
def _opening_set_share(rig):
    match = matched_jets(rig) if rig.unloader is not None else None
    if match is None or not match.possible:
        return None
    share = match.nozzle_pressure / (match.nozzle_pressure + (OVER_SETTING - 1.0) * rig.unloader.setting)
    return float(match.effective_area / rig.nozzle.effective_area * np.sqrt(share))
