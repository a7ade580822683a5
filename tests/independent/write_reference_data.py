"""What independent codes answer, written to data/reference/ so that a page can show it without those codes.

Run: python tests/independent/write_reference_data.py. A test compares the files with the codes' answers of today.
"""

import csv
from importlib.metadata import version

import numpy as np
from fluids import friction as fluids_friction
from iapws import IAPWS95
from stored_rigs import FOLDER, HOSES, PARTS, VALVE, rigs
from test_line_epanet import WATERS, Network, bypass_network, bypassing_rigs, known_differences_out, random_parts

from jetlib import Pump, Rig, operating_point

WATER_BY = f"IAPWS-95 and IAPWS R12-08, by iapws {version('iapws')}"
FLUIDS_BY = f"fluids {version('fluids')}"
EPANET_BY = f"EPANET 2.2, by wntr {version('wntr')}"


def rounded(values, digits=6):
    return np.array([float(f"{value:.{digits}g}") for value in np.ravel(values)])


def water():
    """78 states: 0 to 60 degC, air pressure to 40 MPa."""
    pairs = [(t, p) for t in np.linspace(273.16, 333.15, 13) for p in np.array([0.101325, 5, 10, 20, 30, 40]) * 1e6]
    kelvin, pascal = (rounded(each, 8) for each in zip(*pairs, strict=True))
    states = [IAPWS95(T=t, P=p / 1e6) for t, p in zip(kelvin, pascal, strict=True)]
    return {
        "temperature_k": kelvin,
        "pressure_pa": pascal,
        "density_kg_m3": rounded([state.rho for state in states], 9),
        "viscosity_pa_s": rounded([state.mu for state in states], 9),
        "specific_heat_j_kg_k": rounded([1e3 * state.cp for state in states], 9),
        "source": WATER_BY,
    }


def friction():
    """84 points of the Colebrook equation, Re 4000 to 1e8, by Clamond's exact solution."""
    reynolds, rough = np.meshgrid(rounded(np.geomspace(4e3, 1e8, 12)), [0.0, 1e-6, 1e-5, 1e-4, 1e-3, 1e-2, 5e-2])
    points = zip(reynolds.flat, rough.flat, strict=True)
    return {
        "reynolds": reynolds.ravel(),
        "relative_roughness": rough.ravel(),
        "darcy_factor": rounded([fluids_friction.Clamond(*each) for each in points], 12),
        "source": f"{FLUIDS_BY}, Clamond",
    }


def reels():
    """Smooth 1/2 in hose on reels of four sizes, Re 22,000 to 150,000, by the rules of three other papers."""
    bore, found = (
        12.7e-3,
        {"reynolds": [], "coil_diameter_m": [], "mori_nakayama": [], "schmidt": [], "mandal_nigam": []},
    )
    for reel in (0.2, 0.4, 0.8, 1.5):
        for re in rounded(np.geomspace(2.2e4, 1.5e5, 12)):
            found["reynolds"].append(re)
            found["coil_diameter_m"].append(reel)
            for name, formula, more in (
                ("mori_nakayama", fluids_friction.helical_turbulent_fd_Mori_Nakayama, {}),
                ("schmidt", fluids_friction.helical_turbulent_fd_Schmidt, {"roughness": 0.0}),
                ("mandal_nigam", fluids_friction.helical_turbulent_fd_Mandal_Nigam, {}),
            ):
                found[name].append(formula(Re=re, Di=bore, Dc=reel, **more))
    columns = {key: rounded(value, 9) for key, value in found.items()}
    return {**columns, "bore_m": np.full(48, bore), "source": FLUIDS_BY}


def parts_of(rig, temperature):
    """The columns PARTS, rounded, of a rig of arrays as the EPANET tests draw them."""
    fitting, nozzle = rig.fittings[0], rig.nozzle
    coefficient = nozzle.jets[0].discharge_coefficient
    hoses = {
        f"{part}_{n}_m": rounded(getattr(rig.hoses[n - 1], part))
        for n in HOSES
        for part in ("bore", "length", "roughness")
    }
    found = {
        **hoses,
        "water_temperature_k": np.full(len(rig.lift), temperature),
        "fitting_bore_m": rounded(fitting.bore),
        "fitting_loss_coefficient": rounded(fitting.loss_coefficient),
        "lift_m": rounded(rig.lift),
        "jet_bore_m": rounded(np.sqrt(4 / np.pi * nozzle.effective_area / coefficient)),
        "discharge_coefficient": rounded(coefficient),
        "pump_flow_m3_s": rounded(rig.pump.rated_flow),
    }
    return {name: found[name] for name in PARTS}


def line_in(temperature):
    """40 rigs, the flow pushed in at the pump: gauge as EPANET stands, and with its known differences taken out."""
    parts, flow, _ = random_parts(temperature)
    table = parts_of(Rig(pump=Pump(rated_flow=flow), **parts), temperature)
    rig = rigs(table).replace(water_temperature=temperature)
    flow = operating_point(rig).nozzle_flow
    gauges = []
    for known in ({}, known_differences_out(rig, flow)):
        network = Network(rig)
        network.add_lines(inflow=flow, **known)
        network.add_nozzles_as_emitters()
        gauges.append(rounded(network.solve().pressure("P0"), 8))
    return {**table, "gauge_pa": gauges[0], "gauge_known_differences_out_pa": gauges[1]}


def bypass_in(temperature):
    """40 rigs with an unloader and a leaking seat, as EPANET stands: gauge, and where the water goes."""
    drawn = bypassing_rigs(temperature, (0.02, 0.12))
    valve = drawn.unloader
    settings = dict(zip(VALVE, (rounded(each) for each in (valve.setting, valve.rise, valve.seat_leak)), strict=True))
    table = {**parts_of(drawn, temperature), **settings}
    rig = rigs(table).replace(water_temperature=temperature)
    network = bypass_network(rig, operating_point(rig), relief="emitter", known_out=False)
    flows = {f"{name}_flow_m3_s": rounded(network.flow(link), 8) for name, link in
             (("nozzle", "H0"), ("bypass", "valve"), ("leak", "leak"))}  # fmt: skip
    return {**table, "gauge_pa": rounded(network.pressure("P0"), 8), **flows}


def all_waters(one):
    tables = [one(temperature) for temperature in WATERS]
    return {**{key: np.concatenate([table[key] for table in tables]) for key in tables[0]}, "source": EPANET_BY}


FILES = {
    "water_iapws95": water,
    "friction_fluids": friction,
    "reels_fluids": reels,
    "line_epanet": lambda: all_waters(line_in),
    "bypass_epanet": lambda: all_waters(bypass_in),
}


def write(name, table, folder=FOLDER):
    """Write columns as CSV; numbers as they are, `source` in every row."""
    count = len(next(iter(table.values())))
    with open(folder / f"{name}.csv", "w", newline="", encoding="utf-8") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(table)
        for row in range(count):
            out.writerow([value if isinstance(value, str) else f"{value[row]:.12g}" for value in table.values()])


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for file_name, make in FILES.items():
        write(file_name, make())
