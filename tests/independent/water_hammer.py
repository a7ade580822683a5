"""A yard rig whose jets all shut, by the method of characteristics: pressure and flow at every metre, step by step.

Wylie and Streeter, *Fluid Transients in Systems* (1993), chapter 3: along C+ and C- the compatibility equations, quasi-
steady friction (the reel's extra is spread over the hose), no damping in the wall. Upstream a pump of constant flow
with its bypass valve, downstream the jets, whose area goes evenly to nothing. Nothing of jetlib in it.
"""

import numpy as np
import yard


def peak_pressures(name, *, throttle=1.0, wave_speed=1000.0, closing_time=0.05, reaches=24, seconds=0.6):
    """The highest pressure (Pa) in each hose of a yard rig, and at the pump: (list, float)."""
    r = yard.rig(name) if isinstance(name, str) else name
    rho, mu = yard.density(r["temperature"]), yard.viscosity(r["temperature"])
    start = yard.state(r, throttle)
    q0, pumped = float(start["nozzle_flow"]), float(start["pump_flow"])
    step = min(hose["length"] for hose in r["hoses"]) / wave_speed / reaches
    lines = [_Line(hose, q0, rho, mu, wave_speed, step) for hose in r["hoses"]]
    lumped = [float(start["gauge"])]
    for line in lines:
        lumped.append(lumped[-1] - line.loss)
    fixed = (lumped[-1] - float(start["nozzle_pressure"])) / q0**2  # fittings and nozzle body, at the nozzle
    for line, first, last in zip(lines, lumped, lumped[1:], strict=False):
        line.p = np.linspace(first, last, line.count + 1)
    area, valve = float(yard.effective_area(r["jets"])), r["unloader"]
    at_pump = [float(start["gauge"])]
    for number in range(1, int(seconds / step) + 1):
        open_share = max(1.0 - number * step / closing_time, 0.0)
        ends = [line.characteristics() for line in lines]
        # At the pump: what it gives, less what the valve takes at the pressure there, goes into the hose along C-.
        c_minus = ends[0][1][0]
        low, high = 0.0, 1e9
        for _ in range(60):
            p = (low + high) / 2
            over = max(p / valve["setting"] - 1.0, 0.0) / valve["rise"]
            spare = pumped - r["pump"]["rated_flow"] * over**2 - (p - c_minus) / lines[0].impedance
            low, high = (p, high) if spare > 0 else (low, p)
        new = [line.inner(*end) for line, end in zip(lines, ends, strict=True)]
        new[0][0][0], new[0][1][0] = p, (p - c_minus) / lines[0].impedance
        for at in range(len(lines) - 1):  # one pressure and one flow where two hoses meet
            c_plus, c_minus = ends[at][0][-1], ends[at + 1][1][0]
            z1, z2 = lines[at].impedance, lines[at + 1].impedance
            q = (c_plus - c_minus) / (z1 + z2)
            new[at][0][-1] = new[at + 1][0][0] = c_plus - z1 * q
            new[at][1][-1] = new[at + 1][1][0] = q
        c_plus, z = ends[-1][0][-1], lines[-1].impedance
        if open_share > 0.0:
            k = fixed + rho / 2 / (area * open_share) ** 2
            q = (-z + np.sqrt(z**2 + 4 * k * max(c_plus, 0.0))) / (2 * k)
        else:
            q = 0.0
        new[-1][0][-1], new[-1][1][-1] = c_plus - z * q, q
        for line, (pressure, flow) in zip(lines, new, strict=True):
            line.p, line.q = pressure, flow
            line.most = max(line.most, float(pressure.max()))
        at_pump.append(float(p))
    return [line.most for line in lines], max(at_pump)


class _Line:
    def __init__(self, hose, flow, rho, mu, wave_speed, step):
        self.count = max(round(hose["length"] / wave_speed / step), 1)
        area = np.pi / 4 * hose["bore"] ** 2
        self.impedance = rho * wave_speed / area
        self.loss = float(yard.hose_loss(flow, hose, rho=rho, mu=mu))
        self.resistance = self.loss / flow**2 / self.count  # of one reach, at the friction factor of the start
        self.p, self.q = None, np.full(self.count + 1, flow)
        self.most = 0.0

    def characteristics(self):
        """C+ that comes to each point but the first, C- that comes to each but the last."""
        drop = self.resistance * self.q * np.abs(self.q)
        plus = self.p[:-1] + self.impedance * self.q[:-1] - drop[:-1]
        minus = self.p[1:] - self.impedance * self.q[1:] + drop[1:]
        return plus, minus

    def inner(self, plus, minus):
        pressure, flow = np.empty(self.count + 1), np.empty(self.count + 1)
        pressure[1:-1] = 0.5 * (plus[:-1] + minus[1:])
        flow[1:-1] = (plus[:-1] - minus[1:]) / (2 * self.impedance)
        return pressure, flow
