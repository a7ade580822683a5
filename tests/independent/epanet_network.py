"""Rigs written down as lines of one EPANET 2.2 network, and its answer read back in SI."""

import tempfile
import warnings
from pathlib import Path

import numpy as np

from jetlib.physics import water

GRAVITY = 9.80665
EPANET_GRAVITY = 32.2 * 0.3048
EPANET_LOSS_CONSTANT = 0.02517 / 0.3048  # of minor losses, s2/m: 8/(pi2 g)
EPANET_VISCOSITY = 1.1e-5 * 0.3048**2
EPANET_SHUT_LINK = 1e-8 * 0.3048**2  # m3/s per metre of head
WIDE = 0.05  # m, bore of a stub so wide that only its loss coefficient counts


class Network:
    """Rigs as separate lines of one EPANET network; line i has nodes P0_i (pump), P1_i, … Pn_i (nozzle)."""

    def __init__(self, rig, *, exponent=0.5):
        import wntr  # it takes seconds, and each worker reads every test's module

        self.rig = rig
        self.count = len(rig.lift)
        self.density = water.density(rig.water_temperature)
        self.per_head = self.density * GRAVITY  # Pa per metre of head
        self.model, self.simulator = wntr.network.WaterNetworkModel(), wntr.sim.EpanetSimulator
        options = self.model.options
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # it only says that roughness is now a height
            options.hydraulic.headloss = "D-W"
        options.hydraulic.inpfile_units = "LPS"
        options.hydraulic.viscosity = water.viscosity(rig.water_temperature) / self.density / EPANET_VISCOSITY
        options.hydraulic.accuracy = 1e-8
        options.hydraulic.trials = 1000
        options.hydraulic.emitter_exponent = exponent
        options.hydraulic.unbalanced = "STOP"
        options.time.duration = 0
        self.model.add_reservoir("tank", base_head=0.0)

    def add_lines(self, *, inflow=None, pressure=None, length_factor=1.0, loss_factor=1.0):
        """Hoses and fittings from pump to nozzle: a flow pushed in at the pump, or a pressure held there."""
        hoses, fitting = self.rig.hoses, self.rig.fittings[0]
        factors = np.broadcast_to(length_factor, (len(hoses), self.count))
        for i in range(self.count):
            if pressure is None:
                self.model.add_junction(f"P0_{i}", base_demand=-inflow[i])
            else:
                self.model.add_reservoir(f"P0_{i}", base_head=pressure[i] / self.per_head)
            for k, hose in enumerate(hoses):
                last = k == len(hoses) - 1
                self.model.add_junction(f"P{k + 1}_{i}", elevation=self.rig.lift[i] if last else 0.0)
                self.model.add_pipe(
                    f"H{k}_{i}",
                    f"P{k}_{i}",
                    f"P{k + 1}_{i}",
                    length=hose.length[i] * factors[k, i],
                    diameter=hose.bore[i],
                    roughness=hose.roughness[i],
                    minor_loss=fitting.loss_coefficient[i] * loss_factor if last else 0.0,
                )

    def add_nozzles_as_emitters(self):
        for i in range(self.count):
            emitter = self.rig.nozzle.effective_area[i] * np.sqrt(2 * GRAVITY)
            self.model.get_node(f"P{len(self.rig.hoses)}_{i}").emitter_coefficient = emitter

    def add_hole(self, name, start, end, effective_area, loss_factor=1.0):
        """An orifice as the loss coefficient of a short wide stub."""
        k = (np.pi / 4 * WIDE**2 / effective_area) ** 2
        self.model.add_pipe(name, start, end, length=1e-3, diameter=WIDE, roughness=1e-6, minor_loss=k * loss_factor)

    def solve(self):
        if self.model.num_reservoirs == 1:
            # EPANET wants a fixed head that is joined to something.
            self.model.add_junction("spare")
            self.model.add_pipe("joined", "tank", "spare", length=1.0, diameter=0.1, roughness=1e-5)
        with tempfile.TemporaryDirectory() as folder:
            found = self.simulator(self.model).run_sim(str(Path(folder) / "line"))
        self.heads, self.flows = found.node["head"].iloc[0], found.link["flowrate"].iloc[0]
        return self

    def heads_of(self, node):
        """Head (m above the pump) at a node of each line."""
        return np.array([float(self.heads[f"{node}_{i}"]) for i in range(self.count)])

    def pressure(self, node):
        """The head at a node of each line, as a pressure (Pa)."""
        return self.heads_of(node) * self.per_head

    def flow(self, link):
        return np.array([float(self.flows[f"{link}_{i}"]) for i in range(self.count)])
