"""Matched jets: full throttle and full pressure arriving together on this pump with this hose."""

from dataclasses import dataclass, replace

import numpy as np

from jetlib.errors import JetlibError
from jetlib.physics import orifice, pump, water
from jetlib.rig.circuit import compile_circuit
from jetlib.rig.parts import Rig
from jetlib.units import both

_MOST_STEPS = 60


@dataclass(frozen=True, eq=False)
class MatchedJets:
    """What would match `rig`, SI floats.

    full_flow: what reaches the nozzle at full throttle with the gauge at the valve's setting, m3/s. line_loss: what
    hoses, fittings and lift take at that flow, Pa. nozzle_pressure: what that leaves for the jets, Pa (negative when
    the line alone asks for more than the setting). effective_area: discharge coefficient x area that uses just that
    much, m2; 0 when no jets can. bore: bore (m) of the rig's own number of holes that has this area, 0 likewise.
    bypass_throttle: throttle at which the present jets open the valve; more than 1 when they never do, 0 when the
    valve is open from idle up. carried_flow: the most this line passes at the setting with the nozzle taken off, m3/s.
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
    def possible(self):
        """Whether any jets can put full flow through this line at the setting."""
        return self.nozzle_pressure > 0.0

    @property
    def advice(self):
        """One sentence: what the match asks for, or, where there is none, which change to the line helps most."""
        if self.possible:
            return (
                f"Holes of {both(self.bore, 'jet_bore')}, as many as now, bring the gauge to "
                f"{both(self.rig.unloader.setting, 'pressure')} just at full throttle."
            )
        return (
            f"No jets can match: this line alone asks for {both(self.line_loss, 'pressure')} at full flow and carries "
            f"{both(self.carried_flow, 'flow')} at most. {best_change(self.rig, self.full_flow)}"
        )


def matched_jets(rig):
    """The MatchedJets of one rig with an unloader.

    In closed form: at full throttle with the gauge at the setting the pump gives a known flow, the line takes a known
    pressure at that flow, and the jets must use the rest: Cd A = q / sqrt(2 (setting - line loss) / rho).
    Raises JetlibError when the rig has no unloader, no jets, or holds arrays.
    """
    unloader = rig.unloader
    if unloader is None:
        raise JetlibError('valve is missing an unloader to match; write Rig(valve=Unloader(setting="3000 psi"), …)')
    if not rig.nozzle.effective_area > 0:
        raise JetlibError('nozzle has no open jets to match; write Nozzle(jets=[Jet(bore="1.4 mm", count=4)])')
    bare, shape = compile_circuit(replace(rig, outlet_shut=False), 1.0)
    if shape:
        raise JetlibError(f"the rig holds arrays of shape {shape}; matched_jets takes one rig at a time")
    jets = float(bare.jets)
    bare = replace(bare, jets=np.zeros(()))
    setting = float(unloader.setting)
    _, leak, *_ = bare.returned_flow_and_slope(np.full(1, setting))
    given = float(_flow_from_pump(bare, setting)) - float(leak[0])
    line_loss = _pressure(bare, given)
    left = setting - line_loss
    density = water.density(rig.water_temperature)
    holes = sum(float(jet.count) for jet in rig.nozzle.jets)
    area = given / np.sqrt(2.0 * left / density) if left > 0 else 0.0
    mean_coefficient = rig.nozzle.effective_area / rig.nozzle.area
    opening_flow = _flow_at(replace(bare, jets=np.full((), jets)), setting)
    swept = opening_flow + float(leak[0]) + float(bare.slip) * setting
    idle, full = rig.pump.swept_flow(0.0), rig.pump.swept_flow(1.0)
    throttle = (swept - idle) / (full - idle) if full > idle else np.inf * np.sign(swept - full)
    return MatchedJets(
        rig=rig,
        full_flow=given,
        line_loss=line_loss,
        nozzle_pressure=left,
        effective_area=float(area),
        bore=float(orifice.circle_bore(area / mean_coefficient / holes)),
        bypass_throttle=max(float(throttle), 0.0),
        carried_flow=_flow_at(bare, setting),
    )


def best_change(rig, flow):
    """A sentence that names the hose which costs most at `flow` (m3/s), and what one change there saves."""
    circuit, _ = compile_circuit(replace(rig, outlet_shut=False), 1.0)
    _, _, losses, _ = circuit.line_pressure_and_slope(np.full(1, float(flow)))
    worst = int(np.argmax([loss[0] for loss in losses]))
    hose = rig.hoses[worst]
    wider = replace(hose, bore=1.25 * hose.bore)
    hoses = (*rig.hoses[:worst], wider, *rig.hoses[worst + 1 :])
    changed, _ = compile_circuit(replace(rig, hoses=hoses, outlet_shut=False), 1.0)
    _, _, after, _ = changed.line_pressure_and_slope(np.full(1, float(flow)))
    saved = float(losses[worst][0] - after[worst][0])
    return (
        f"Hose {worst + 1} costs most, {both(float(losses[worst][0]), 'pressure')}: "
        f"a bore a quarter larger there saves {both(saved, 'pressure')}."
    )


def bypass_throttle(rig):
    """The throttle at which the valve of `rig` opens, or None when it stays shut up to full throttle."""
    found = matched_jets(rig).bypass_throttle
    return found if found <= 1.0 else None


def _flow_from_pump(circuit, pressure):
    return pump.flow_and_slope(
        pressure, ideal_flow=circuit.ideal_flow, slip=circuit.slip, power_limit=circuit.power_limit
    )[0]


def _pressure(circuit, flow):
    return float(circuit.line_pressure_and_slope(np.full(1, max(flow, 1e-15)))[0][0])


def _flow_at(circuit, pressure):
    """Flow (m3/s) at which the line needs `pressure` (Pa): Newton in the logarithms, where the law is nearly a line."""
    if float(circuit.static) >= pressure:
        return 0.0
    head = pressure - float(circuit.static)
    k = float(circuit.fixed + circuit.jets)
    flow = np.full(1, np.sqrt(head / k) if k > 0 else 1e-3)
    if not circuit.sections and k == 0:
        raise JetlibError("the rig has neither hose nor jets, so nothing makes pressure; give it a hose or a nozzle")
    states = None
    for _ in range(_MOST_STEPS):
        needed, slope, _, states = circuit.line_pressure_and_slope(flow, states)
        needed = needed - circuit.static
        step = np.log(head / needed) * needed / (slope * flow)
        flow = flow * np.exp(np.clip(step, -2.0, 2.0))
        if abs(step[0]) < 1e-14:
            break
    return float(flow[0])
