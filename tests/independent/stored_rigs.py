"""The rigs of data/reference/*_epanet.csv, built from the columns of those files: for the tests and for a page."""

import csv
from pathlib import Path

import numpy as np

from jetlib import Fitting, Hose, Jet, Nozzle, Pump, Rig, Unloader

FOLDER = Path(__file__).parents[2] / "data" / "reference"
HOSES = (1, 2, 3)
PARTS = (
    "water_temperature_k",
    *(f"{part}_{number}_m" for number in HOSES for part in ("bore", "length", "roughness")),
    "fitting_bore_m",
    "fitting_loss_coefficient",
    "lift_m",
    "jet_bore_m",
    "discharge_coefficient",
    "pump_flow_m3_s",
)
VALVE = ("setting_pa", "rise", "seat_leak_m")


def columns(name):
    """The columns of a file of data/reference/: name -> array of floats, or a tuple of texts for `source`."""
    with open(FOLDER / f"{name}.csv", newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    found = {key: np.array([float(row[key]) for row in rows]) for key in rows[0] if key != "source"}
    return {**found, "source": tuple(row["source"] for row in rows)}


def rigs(table):
    """One Rig whose fields are arrays, from columns named in PARTS, and in VALVE if there is a valve."""
    return Rig(
        pump=Pump(rated_flow=table["pump_flow_m3_s"]),
        valve=Unloader(table["setting_pa"], rise=table["rise"], seat_leak=table["seat_leak_m"])
        if "setting_pa" in table
        else None,
        hoses=[Hose(table[f"bore_{n}_m"], table[f"length_{n}_m"], roughness=table[f"roughness_{n}_m"]) for n in HOSES],
        fittings=[Fitting(bore=table["fitting_bore_m"], loss_coefficient=table["fitting_loss_coefficient"])],
        nozzle=Nozzle(Jet(table["jet_bore_m"], discharge_coefficient=table["discharge_coefficient"])),
        lift=table["lift_m"],
        water_temperature=table["water_temperature_k"],
    )
