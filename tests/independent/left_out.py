"""What the course leaves out or assumes, and how much each costs: `costs()`, numbers worked out, none typed in.

Each is worked out with what is left out put back, from the reference data of data/reference/, the yard rigs, or plain
geometry. A cost is what the course says over what would be said with the effect put in, less 1.
"""

import csv
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
from stored_rigs import columns

from jetlib.physics import fitting, heat, hose, orifice, water
from jetlib.physics.friction import LAMINAR_LIMIT, TURBULENT_LIMIT, darcy_factor
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs
from jetlib.rig.point.operating_point import operating_point

PUBLISHED = Path(__file__).parents[1] / "published"
HIGH = 4000 * 4.4482216152605 / 0.0254**2  # the pressure for which compression is worked out
WATERS = np.array([275.15, 288.15, 303.15])


@dataclass(frozen=True)
class Cost:
    """An effect left out: `low` to `high` (shares) of `of_what`; `how` it was worked out, and from what source."""

    id: str
    effect: str
    low: float
    high: float
    of_what: str
    how: str


def compressed_jet():
    """Flow (at air pressure) that the course gives, over Bernoulli with water that swells as it leaves."""
    return np.sqrt(HIGH / water.density(WATERS) / _work()) - 1.0


def _work():
    """Work (J/kg) of bringing water from air to 4000 psi: the integral of dp/rho."""
    pressures = np.linspace(0.0, HIGH, 201)
    return np.trapezoid(1.0 / water.density(WATERS[:, None], 101325.0 + pressures), pressures, axis=1)


def compressed_hose():
    """Loss at 4000 psi: the same mass moves slower when it is denser, and friction goes as speed."""
    return water.density(WATERS, 101325.0 + HIGH) / water.density(WATERS) - 1.0


def approach_speed():
    """Flow of the yard rigs' jets, left without the speed with which the water comes up to them."""
    found = []
    for rig in map(demo_rig, demo_rigs()):
        body = rig.nozzle.body_bore or rig.hoses[-1].bore
        ratio = rig.nozzle.effective_area / orifice.circle_area(body)
        found.append(np.sqrt(1.0 - ratio**2) - 1.0)
    return np.array(found)


def _yard_losses(change):
    """Hose loss as the course has it over that with `change(hose, density, viscosity, loss)` -> (bore, viscosity)."""
    found = []
    for rig in map(demo_rig, demo_rigs()):
        point = operating_point(rig)
        density, viscosity = water.density(rig.water_temperature), water.viscosity(rig.water_temperature)
        plain = changed = 0.0
        for each in rig.hoses:
            given = {"length": each.length, "roughness": each.roughness, "density": density}
            loss = hose.pressure_loss(point.nozzle_flow, bore=each.bore, viscosity=viscosity, **given)
            bore, other = change(each, density, viscosity, loss)
            plain += loss
            changed += hose.pressure_loss(point.nozzle_flow, bore=bore, viscosity=other, **given)
        found.append(plain / changed - 1.0)
    return np.array(found)


def warming_in_the_hose():
    """Water warms by the friction it suffers; half of it on average, and warmer water is thinner."""

    def change(each, density, viscosity, loss):
        rise = heat.temperature_rise(loss, density=density, specific_heat=water.specific_heat(288.15))
        return each.bore, water.viscosity(288.15 + rise / 2)

    return _yard_losses(change)


def other_water(kelvin):
    """Hose loss when 15 degC is taken and the water is at `kelvin`."""
    return _yard_losses(lambda each, density, viscosity, loss: (each.bore, water.viscosity(kelvin)))


def swollen_hose():
    """Hose loss when the bore under pressure is 1 % wider than the one given."""
    return _yard_losses(lambda each, density, viscosity, loss: (1.01 * each.bore, viscosity))


def squeezed_viscosity(pascal=20e6):
    """Friction factor of a smooth hose at Re 50,000 with viscosity at air pressure, over that at `pascal`."""
    table = columns("water_iapws95")
    there = np.isclose(table["pressure_pa"], pascal)
    ratio = water.viscosity(table["temperature_k"][there]) / table["viscosity_pa_s"][there]
    return darcy_factor(5e4 / ratio, 0.0) / darcy_factor(5e4, 0.0) - 1.0


def compressed_heat():
    """Warming for each pass at 4000 psi: p/rho over the work that squeezing and pushing the water takes."""
    return HIGH / water.density(WATERS) / _work() - 1.0


def pulses(plungers=3, rod_ratio=6.0):
    """Mean pressure at the jets on a steady flow over that on the flow of a plunger pump of the same mean.

    rod_ratio: length of the connecting rods over the crank; endless rods make pure half waves.
    """
    turn = np.linspace(0.0, 2 * np.pi, 72001)[:-1]
    offsets = 2 * np.pi * np.arange(plungers) / plungers
    at = turn[:, None] + offsets
    flow = np.maximum(np.sin(at) * (1 + np.cos(at) / np.sqrt(rod_ratio**2 - np.sin(at) ** 2)), 0.0).sum(axis=1)
    return np.mean(flow) ** 2 / np.mean(flow**2) - 1.0, (flow.min() / flow.mean() - 1.0, flow.max() / flow.mean() - 1.0)


def measured_friction():
    """Stanton and Pannell's points: bore (m), Reynolds number and Darcy factor, arrays."""
    with open(PUBLISHED / "stanton_pannell_1914.csv", newline="") as file:
        rows = list(csv.DictReader(file))
    bore, reynolds, drag = (
        np.array([float(row[name]) for row in rows]) for name in ("bore_mm", "reynolds", "friction_coefficient")
    )
    return bore * 1e-3, reynolds, 8.0 * drag


def bridge():
    """The straight line between Re 2300 and 4000 over friction measured there."""
    _, reynolds, factor = measured_friction()
    between = (reynolds > LAMINAR_LIMIT) & (reynolds < TURBULENT_LIMIT)
    return darcy_factor(reynolds[between], 0.0) / factor[between] - 1.0


def contraction():
    """Loss coefficient of a square shoulder at half the area: the course's over that of Rennels and Hudson 2012."""
    return fitting.sudden_contraction(np.sqrt(0.5), 1.0) / 0.3434 - 1.0


def _span(values):
    values = np.ravel(values)
    return float(values.min()), float(values.max())


@cache
def costs():
    """Every Cost, a tuple."""
    mean, (least, most) = pulses()
    return tuple(
        Cost(name, effect, *_span(values), of_what, how)
        for name, effect, values, of_what, how in (
            ("compressed-jet", "Water is squeezed: jets at 4000 psi (276 bar)", compressed_jet(), "flow",
             "Bernoulli along water that swells as it leaves; density by IAPWS-95"),
            ("compressed-hose", "Water is squeezed: hose at 4000 psi (276 bar)", compressed_hose(), "hose loss",
             "the same mass moves slower when denser; density by IAPWS-95"),
            ("approach", "Speed with which water comes up to the jets", approach_speed(), "flow",
             "the four yard rigs, jets' area over the bore before them"),
            ("warming", "Water warms by its own friction in the hose", warming_in_the_hose(), "hose loss",
             "the four yard rigs at full throttle, half of each hose's warming"),
            ("cold-water", "15 °C assumed, water at 5 °C", other_water(278.15), "hose loss", "the four yard rigs"),
            ("warm-water", "15 °C assumed, water at 25 °C", other_water(298.15), "hose loss", "the four yard rigs"),
            ("swelling", "Hose swells: for each 1 % of bore", swollen_hose(), "hose loss",
             "the four yard rigs; no standard gives the swelling of a bore, so measure yours or take the band"),
            ("viscosity", "Pressure changes viscosity: at 20 MPa (2900 psi)", squeezed_viscosity(), "hose loss",
             "IAPWS R12-08, 0 to 60 °C"),
            ("compressed-heat", "Water is squeezed: warming for each pass at 4000 psi", compressed_heat(), "warming",
             "work by the integral of dp/rho, density by IAPWS-95"),
            ("pulses-flow", "Plungers pulse: flow of three plungers about its mean", (least, most), "flow",
             "geometry: three plungers, rods six cranks long, no accumulator, no give in the hose"),
            ("pulses-pressure", "Plungers pulse: mean pressure at the jets", mean, "jet pressure",
             "the same waves, squared and averaged"),
            ("bridge", "Between laminar and turbulent, Re 2300 to 4000: a straight line", bridge(), "hose loss",
             "Stanton and Pannell 1914; in 1/2 in hose that is 0.4 to 0.7 gpm (1.6 to 2.7 L/min)"),
            ("contraction", "Square shoulder to half the area: which handbook", contraction(), "loss of the shoulder",
             "Crane TP-410 here, over Rennels and Hudson 2012"),
        )
    )  # fmt: skip
