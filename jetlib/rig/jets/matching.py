"""Matched jets: full throttle and full pressure arriving together on this pump with this hose."""

from dataclasses import dataclass, replace

import numpy as np

from jetlib.errors import JetlibError
from jetlib.physics import orifice, water
from jetlib.rig.parts.machine import Rig
from jetlib.rig.point.circuit import compile_circuit, compile_one, require_rig
from jetlib.units import both

_MOST_STEPS = 60
_CLOSE = 1e-9  # of a logarithm: a Newton step so small leaves an error of its square
_BOUNDLESS = 1e3  # m3/s: a river, not a hose


@dataclass(frozen=True, eq=False)
class MatchedJets:
    """What would match `rig`, SI floats.

    full_flow: what reaches the nozzle at full throttle with the gauge at the valve's setting, m3/s. line_loss: what
    hoses, fittings and lift take at that flow, Pa. nozzle_pressure: what that leaves for the jets, Pa (negative when
    the line alone asks for more than the setting). effective_area: discharge coefficient x area that uses just that
    much, m2; 0 when no jets can. bore: bore (m) of the rig's own number of holes that has this area, 0 likewise.
    bypass_throttle: throttle at which the present jets open the valve; more than 1 when they never do (infinite when
    the engine has not the power), 0 when the valve is open from idle up. carried_flow: the most this line passes at
    the setting with the nozzle taken off, m3/s; infinite with no hose.

    >>> match = matched_jets(demo_rig("yard_trailer"))
    >>> match.possible, both(match.line_loss, "pressure")
    (True, '205 psi (14.1 bar)')
    """

    rig: Rig
    full_flow: float
    line_loss: float
    nozzle_pressure: float
    effective_area: float
    bore: float
    bypass_throttle: float
    carried_flow: float

    @property
    def possible(self) -> bool:
        """Whether any jets can put full flow through this line at the setting."""
        return self.effective_area > 0.0

    @property
    def advice(self) -> str:
        """One sentence: what the match asks for, or, where there is none, which change to the line helps most."""
        if self.possible:
            return (
                f"Holes of {both(self.bore, 'jet_bore')}, as many as now, put the gauge at "
                f"{both(self.rig.unloader.setting, 'pressure')} exactly at full throttle."
            )
        if self.full_flow <= 0.0:
            return (
                f"No jets can match: leaks and slip use up the whole flow of the pump before the gauge reaches "
                f"{both(self.rig.unloader.setting, 'pressure')}. Repair those first."
            )
        return (
            f"No jets can match: this line alone needs {both(self.line_loss, 'pressure')} at full flow and carries "
            f"{both(self.carried_flow, 'flow')} at most. {best_change(self.rig, self.full_flow)}"
        )


def matched_jets(rig: Rig) -> MatchedJets:
    """The MatchedJets of one rig with an unloader.

    In closed form: at full throttle with the gauge at the setting the pump gives a known flow, the line takes a known
    pressure at that flow, and the jets must use the rest: Cd A = q / sqrt(2 (setting - line loss) / rho).
    Raises JetlibError when the rig has no unloader, no jets, or holds arrays.

    >>> both(matched_jets(demo_rig("yard_trailer")).bore, "jet_bore")
    '0.0406 in (1.03 mm)'
    """
    unloader = require_rig(rig).unloader
    if unloader is None:
        raise JetlibError('valve is missing an unloader to match; write Rig(valve=Unloader(setting="3000 psi"), …)')
    bare = compile_one(replace(rig, outlet_shut=False), 1.0, "matched_jets takes one rig at a time")
    if not rig.nozzle.effective_area > 0:
        raise JetlibError('nozzle has no open jets to match; write Nozzle(jets=[Jet(bore="1.4 mm", count=4)])')
    setting, line_loss, given = float(unloader.setting), *(float(each[0]) for each in _at_setting(bare))
    opening_flow, carried = _flows_at(bare, np.array([float(bare.jets), 0.0]), setting)
    area = float(np.nan_to_num(_area_for(given, setting - line_loss, rig)))
    holes = sum(float(jet.count) for jet in rig.nozzle.jets)
    mean_coefficient = rig.nozzle.effective_area / rig.nozzle.area
    return MatchedJets(
        rig=rig,
        full_flow=given,
        line_loss=line_loss,
        nozzle_pressure=setting - line_loss,
        effective_area=area,
        bore=float(orifice.circle_bore(area / mean_coefficient / holes)),
        bypass_throttle=float(_throttles(rig, bare, opening_flow)[0]),
        carried_flow=float(carried),
    )


def matched_area(rig):
    """Effective area (m2) of the jets that bring full throttle and the valve's setting together; any shape of rig.

    Not a number where there are none: no unloader, or a line that asks for more than the setting by itself.
    """
    if rig.unloader is None:
        return np.nan
    bare, shape = compile_circuit(rig.replace(outlet_shut=False), 1.0)
    line_loss, given = (np.reshape(each, shape) for each in _at_setting(bare, int(np.prod(shape))))
    return _area_for(given, rig.unloader.setting - line_loss, rig)[()]


def _at_setting(circuit, size=1):
    """What the line takes (Pa) with no jets on it, and what the pump gives it (m3/s), with the gauge at the setting."""
    bare = replace(circuit, jets=np.zeros(()))
    setting = np.broadcast_to(bare.setting, (size,)).astype(float)
    disc, leak, *_ = bare.returned_flow_and_slope(setting)  # the unloader itself passes nothing yet
    given = bare.pumped(setting)[0] - disc - leak
    return bare.line_pressure_and_slope(np.maximum(given, 1e-15))[0], given


def _area_for(given, left, rig):
    """Effective area (m2) that passes `given` (m3/s) at `left` (Pa); not a number where either is nothing."""
    good = (np.asarray(left) > 0.0) & (np.asarray(given) > 0.0)
    head = np.where(good, left, 1.0)
    return np.where(good, given, np.nan) / np.sqrt(2.0 * head / water.density(rig.water_temperature))


def best_change(rig, flow):
    """A sentence that names what in the line costs most at `flow` (m3/s), and what one change there saves."""
    circuit, _ = compile_circuit(replace(rig, outlet_shut=False), 1.0)
    if float(circuit.static) >= float(rig.unloader.setting if rig.unloader else np.inf):
        return "The lift alone is more than the setting: lower the nozzle or raise the machine."
    flow = np.full(1, max(float(flow), 1e-15))
    losses = [float(section.loss_and_slope(flow, None)[0][0]) for section in circuit.sections]
    savings = [
        loss - float(_wider(section).loss_and_slope(flow, None)[0][0])
        for loss, section in zip(losses, circuit.sections, strict=True)
    ]
    narrow = float(circuit.fixed) * float(flow[0]) ** 2
    if narrow > max(savings, default=0.0):
        return f"Fittings, end fittings and nozzle body lose most, {both(narrow, 'pressure')}: fit wider ones first."
    if not any(savings):
        return "Neither hose nor fittings lose anything here."
    worst = int(np.argmax(savings))
    return (
        f"Hose {worst + 1} loses most, {both(losses[worst], 'pressure')}: "
        f"a 25 % larger bore there saves {both(savings[worst], 'pressure')}."
    )


def _wider(section, share=1.25):
    """The same hose with `share` times the bore, everything else left as it is."""
    return replace(
        section,
        reynolds_per_flow=section.reynolds_per_flow / share,
        roughness_term=section.roughness_term / share,
        weight=section.weight / share**5,
        bore_ratio=None if section.bore_ratio is None else section.bore_ratio * share,
    )


def bypass_throttle(rig):
    """The throttle at which the valve of `rig` opens, or None when it stays shut up to full throttle."""
    found = matched_jets(rig).bypass_throttle
    return found if found <= 1.0 else None


def opening_throttles(rig, areas):
    """Throttles at which the valve of `rig` opens with jets of other effective `areas` (m2, above 0), an array.

    As MatchedJets.bypass_throttle has it for the rig's own jets: more than 1 when they never open it. JetlibError for a
    rig without unloader or an area of 0.
    """
    if rig.unloader is None:
        raise JetlibError('valve is missing an unloader to open; write Rig(valve=Unloader(setting="3000 psi"), …)')
    areas = np.asarray(areas, dtype=float)
    if not np.all(areas > 0):
        raise JetlibError("areas has one of 0; write the effective area of open jets, in m2")
    line, _ = compile_circuit(replace(rig, outlet_shut=False), 1.0)
    jets = 0.5 * water.density(rig.water_temperature) / np.square(areas)
    return _throttles(rig, line, _flows_at(line, jets, float(rig.unloader.setting)))


def _throttles(rig, line, flows):
    """Throttles at which the valve opens where the line of that Circuit passes `flows` (m3/s) at the setting: at least
    0, infinite past what the engine can sweep."""
    setting, pump = float(rig.unloader.setting), rig.pump
    disc, leak, *_ = line.returned_flow_and_slope(np.full(1, setting))  # the unloader passes nothing yet
    swept = flows + disc + leak + line.slipped(setting)
    most = np.inf if line.torque_pressure >= setting else line.pumped(setting)[2]
    idle, full = pump.swept_flow(0.0), pump.swept_flow(1.0)
    never = (swept > most * (1.0 + 1e-12)) | ((swept > full) & (full <= idle))
    share = (swept - idle) / (full - idle) if full > idle else np.zeros_like(swept)
    return np.where(never, np.inf, np.maximum(share, 0.0))


def _flows_at(circuit, jets, pressure):
    """Flows (m3/s) at which the line needs `pressure` (Pa) with each of some `jets` (array, Pa/(m3/s)^2): Newton in the
    logarithms, where the law is nearly a line.

    Infinite when next to nothing is in the way: more than `_BOUNDLESS` would flow.
    """
    if float(circuit.static) >= pressure:
        return np.zeros(len(jets))
    circuit, head = replace(circuit, jets=jets), pressure - float(circuit.static)
    boundless = circuit.line_pressure_and_slope(np.full(len(jets), _BOUNDLESS))[0] < pressure
    k = float(circuit.fixed) + jets
    # A litre a second where no square law says better
    flow = np.sqrt(head / np.where(k > 0, np.maximum(k, head / _BOUNDLESS**2), head * 1e6))
    states = None
    for _ in range(_MOST_STEPS):
        needed, slope, _, states = circuit.line_pressure_and_slope(flow, states)
        needed, slope = np.where(boundless, head, needed - circuit.static), np.where(boundless, 1.0, slope)
        step = np.log(head / needed) * needed / (slope * flow)
        flow = flow * np.exp(np.clip(step, -2.0, 2.0))
        if np.all(np.abs(step) < _CLOSE):
            break
    return np.where(boundless, np.inf, flow)
