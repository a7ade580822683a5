"""The yard's rigs worked out once more, from their files, by nothing of jetlib: own water, own friction, own root.

Water: Kell (J. Chem. Eng. Data 20, 1975, 97) and the fit of Kestin, Sokolov and Wakeham (J. Phys. Chem. Ref. Data 7,
1978, 941). Friction: Serghides (Chem. Eng. 91, 1984) when turbulent, 64/Re when laminar, whichever is larger between.
Reel: Mori and Nakayama (Int. J. Heat Mass Transfer 10, 1967, 681). Root: bisection. All from memory.
"""

import re
import tomllib
from fractions import Fraction
from pathlib import Path

import numpy as np

RIGS = Path(__file__).parents[2] / "data" / "rigs"
NAMES = ("yard_cart", "yard_small_bore", "yard_trailer", "yard_truck")
UNITS = {
    "gpm": 3.785411784e-3 / 60, "psi": 6894.757293168, "bar": 1e5, "MPa": 1e6, "hp": 745.6998715822702, "kW": 1e3,
    "in": 0.0254, "ft": 0.3048, "mm": 1e-3, "m": 1.0, "rpm": np.pi / 30, "deg": np.pi / 180, "degC": 1.0,
    "L/min": 1e-3 / 60, "lb/ft": 0.45359237 / 0.3048,
}  # fmt: skip
#: Mean bore of rubber hose by its nominal size (in), mm: ISO 1436 and SAE J517 limits, from memory.
MEAN_BORE = {"3/16": 5.0, "1/4": 6.6, "5/16": 8.1, "3/8": 9.7, "1/2": 12.9, "5/8": 16.1, "3/4": 19.2, "1": 25.7}
#: Limits either side of the mean, mm: the same.
BORE_LIMIT = {"3/16": 0.4, "1/4": 0.4, "5/16": 0.4, "3/8": 0.4, "1/2": 0.6, "5/8": 0.6, "3/4": 0.6, "1": 0.7}
GRAVITY = 9.80665


def number(text, *, hose=False):
    """The SI value of a text of a rig file, or a number as it is."""
    if not isinstance(text, str):
        return text
    if text.startswith("#"):
        return DRILLS[text]
    found = re.fullmatch(r"([\d./-]+) ?(.*)", text)
    value, unit = found.groups()
    if hose and unit == "in" and value in MEAN_BORE:
        return MEAN_BORE[value] / 1e3
    return float(Fraction(value)) * UNITS[unit]


def _drills():
    lines = (Path(__file__).parents[2] / "data" / "drills.csv").read_text(encoding="utf-8").splitlines()[1:]
    rows = (line.split(",") for line in lines if line.startswith("number"))
    return {f"#{row[1]}": float(row[2]) / 1e3 for row in rows}


DRILLS = _drills()


def rig(name):
    """A yard rig as plain dicts of SI numbers, from its file."""
    data = tomllib.loads((RIGS / f"{name}.toml").read_text(encoding="utf-8"))
    hoses = [
        {
            key: number(value, hose=key == "bore")
            for key, value in {"coil_diameter": None, "coiled_length": 0.0, **row}.items()
            if key != "name"
        }
        | {"nominal": str(row["bore"]).removesuffix(" in")}
        for row in data["hose"]
    ]
    jets = [{key: number(value) for key, value in row.items() if key != "name"} for row in data["nozzle"]["jet"]]
    parts = {key: {k: number(v) for k, v in data.get(key, {}).items() if k not in ("kind", "trapping")}
             for key in ("pump", "engine", "unloader", "burst_disc")}  # fmt: skip
    body = {key: number(value) for key, value in data["nozzle"].items() if key not in ("jet", "name")}
    return {
        "name": name,
        "electric": data.get("engine", {}).get("kind") == "electric",
        "temperature": number(data["water_temperature"]) + 273.15,
        "hoses": hoses,
        "jets": jets,
        "body": body,
        "fittings": [{k: number(v) for k, v in row.items() if k != "name"} for row in data.get("fitting", [])],
        **parts,
    }


# --- water, friction --------------------------------------------------------------------------------


def density(kelvin):
    t = np.asarray(kelvin) - 273.15
    top = 999.83952 + 16.945176 * t - 7.9870401e-3 * t**2 - 46.170461e-6 * t**3 + 105.56302e-9 * t**4
    return (top - 280.54253e-12 * t**5) / (1 + 16.879850e-3 * t)


def viscosity(kelvin):
    t = np.asarray(kelvin) - 273.15
    power = (20 - t) / (t + 96) * (1.2364 - 1.37e-3 * (20 - t) + 5.7e-6 * (20 - t) ** 2)
    return 1.002e-3 * 10**power


def darcy(reynolds, roughness_ratio):
    re = np.maximum(reynolds, 1.0)
    a = -2 * np.log10(roughness_ratio / 3.7 + 12 / np.maximum(re, 2000))
    b = -2 * np.log10(roughness_ratio / 3.7 + 2.51 * a / np.maximum(re, 2000))
    c = -2 * np.log10(roughness_ratio / 3.7 + 2.51 * b / np.maximum(re, 2000))
    turbulent = (a - (b - a) ** 2 / (c - 2 * b + a)) ** -2
    return np.where(re < 2300, 64 / re, turbulent)


def reel_ratio(reynolds, ratio):
    """Friction on the reel over straight, turbulent: Mori and Nakayama, whose square root of d/D is Ito's too."""
    re = np.maximum(reynolds, 4000.0)
    coil = 0.300 * np.sqrt(ratio) * (re * ratio**2) ** -0.2 * (1 + 0.112 * (re * ratio**2) ** -0.2)
    return np.maximum(coil / darcy(re, 0.0), 1.0)


def hose_loss(flow, hose, *, rho, mu):
    area = np.pi / 4 * hose["bore"] ** 2
    speed = flow / area
    reynolds = rho * speed * hose["bore"] / mu
    loss = darcy(reynolds, hose["roughness"] / hose["bore"]) / hose["bore"] * rho * speed**2 / 2
    if hose["coil_diameter"] is None:
        return loss * hose["length"]
    ratio = 1 + hose.get("reel_miss", 1.0) * (reel_ratio(reynolds, hose["bore"] / hose["coil_diameter"]) - 1)
    return loss * (hose["length"] - hose["coiled_length"] + hose["coiled_length"] * ratio)


# --- the operating state ----------------------------------------------------------------------------


def effective_area(jets):
    return sum(j["count"] * np.pi / 4 * np.asarray(j["bore"]) ** 2 * j["discharge_coefficient"] for j in jets)


def state(r, throttle, **fault):
    """What a rig (see `rig`; any number may be an array) does at `throttle`: a dict of gauge, flows, speed, load.

    fault: what is wrong, each 0 or absent when nothing is. pump_share, slip_share and top_speed are kept (of 1);
    speed_cap, flow_cap of rated; suction_square, slip_linear, packing_hole, seat_linear of the rated flow (at rated
    pressure); seat_hole of the jets; narrow, velocity heads in the jets; power_share; constant_torque; disc_gone;
    nozzle_off.
    """
    pump, valve = r["pump"], r["unloader"]
    rho, mu = density(r["temperature"]), viscosity(r["temperature"])
    top = fault.get("top_speed", 1.0)
    idle = pump["idle_speed"] / pump["rated_speed"]
    asked = np.minimum(idle + throttle * (np.maximum(top, idle) - idle), fault.get("speed_cap", 9.0))
    asked = asked * (1.0 + r.get("speed_error", 0.0))
    rated, at = pump["rated_flow"], pump["rated_pressure"]
    slip = (1 - pump["volumetric_efficiency"] + fault.get("slip_linear", 0.0)) * rated / at
    hole = fault.get("packing_hole", 0.0) * rated / np.sqrt(at)
    area = effective_area(r["jets"])
    if fault.get("nozzle_off"):
        area = 0.9 * np.pi / 4 * np.minimum(r["hoses"][-1]["bore"], 0.02) ** 2
    seat = fault.get("seat_hole", 0.0) * effective_area(r["jets"]) * np.sqrt(2 / rho)
    power = r["engine"].get("power", np.inf) * pump["mechanical_efficiency"] * fault.get("power_share", 1.0)
    power = np.inf if r["electric"] and "power_share" not in fault else power

    def line(q):
        total = rho / 2 * (q / area) ** 2 + sum(hose_loss(q, hose, rho=rho, mu=mu) for hose in r["hoses"])
        if not fault.get("nozzle_off"):
            total = total + fault.get("narrow", 0.0) * rho / 2 * (q / area) ** 2
            if r["body"].get("body_bore"):
                k = r["body"]["body_loss_coefficient"]
                total = total + k * rho / 2 * (q / (np.pi / 4 * r["body"]["body_bore"] ** 2)) ** 2
        for part in r["fittings"]:
            total = total + part["loss_coefficient"] * rho / 2 * (q / (np.pi / 4 * part["bore"] ** 2)) ** 2
        ends = r.get("end_loss", 0.0)
        for hose in r["hoses"]:
            total = total + ends * rho / 2 * (q / (np.pi / 4 * hose["bore"] ** 2)) ** 2
        return total

    def turned(p):
        """Speed over rated that the engine holds against p."""
        least = np.maximum(p, 1.0)
        if fault.get("constant_torque"):  # torque of the rated point at any speed: it stops rather than slows
            return np.where(least * rated > power, asked * np.clip(1 - 20 * (least * rated / power - 1), 0, 1), asked)
        return np.minimum(asked, power / (least * rated))

    def pumped(p):
        speed = turned(p)
        swept = speed * fault.get("pump_share", 1.0) * (1 - fault.get("suction_square", 0.0) * speed**2)
        swept = np.minimum(swept, fault.get("flow_cap", 9.0))
        return np.maximum(swept * rated - slip * p - hole * np.sqrt(np.maximum(p, 0)), 0.0), speed

    def returned(p):
        back = seat * np.sqrt(p) + fault.get("seat_linear", 0.0) * rated * p / at
        if valve:
            over = np.maximum(p / (valve["setting"] * fault.get("setting_share", 1.0)) - 1, 0) / np.maximum(
                valve["rise"] + fault.get("rise_more", 0.0), 1e-4
            )
            back = back + rated * over**2
        if fault.get("disc_gone"):
            back = back + 0.62 * np.pi / 4 * r["burst_disc"]["bore"] ** 2 * np.sqrt(2 * p / rho)
        return back

    shape = np.broadcast_shapes(*(np.shape(x) for x in (area, asked, rated, *fault.values(), *_arrays(r))))
    low, high = np.zeros(shape), np.zeros(shape) + rated * np.max(asked) * 1.0001
    for _ in range(55):
        q = (low + high) / 2
        p = line(q)
        over = pumped(p)[0] - returned(p) - q < 0
        low, high = np.where(over, low, q), np.where(over, q, high)
    p = line(q)
    given, speed = pumped(p)
    jet = rho / 2 * (q / area) ** 2
    share = sum(
        j["count"] * np.pi / 4 * np.asarray(j["bore"]) ** 2 * j["discharge_coefficient"] * np.cos(j["angle"])
        * j["velocity_coefficient"] for j in r["jets"]
    )  # fmt: skip
    pull = 0.0 if fault.get("nozzle_off") else rho * (q / area) * share * np.sqrt(2 * jet / rho)
    turning = 1.0 if fault.get("constant_torque") else speed  # torque asked for, or power, over what there is
    load = p * turning * rated / np.maximum(power, 1.0) if np.all(np.isfinite(power)) else np.zeros(shape)
    return {
        "gauge": p, "nozzle_flow": q, "return_flow": np.maximum(given - q, 0.0), "speed": speed * pump["rated_speed"],
        "nozzle_pressure": jet, "pull": pull, "load": load, "pump_flow": given,
    }  # fmt: skip


def _arrays(r):
    rows = [r["pump"], r["unloader"], r["engine"], *r["hoses"], *r["jets"], *r["fittings"], r["body"], r]
    return [value for row in rows for value in row.values() if isinstance(value, np.ndarray)]
