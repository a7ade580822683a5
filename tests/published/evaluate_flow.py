"""What the course computes for the published rows on water, friction, coils, jets and fittings, in SI."""

import numpy as np

from jetlib import tables
from jetlib.physics import fitting, friction, hose, orifice, published_friction, pump, water

GRAVITY = 9.80665
FORMULAS = {}


def checks(*parts):
    """Enter a formula under its own name, with the parts of jetlib it exercises."""

    def enter(function):
        FORMULAS[function.__name__] = (function, ", ".join(parts))
        return function

    return enter


def solve(function, low, high):
    """The argument between `low` and `high` where a rising `function` crosses zero, by halving."""
    for _ in range(80):
        middle = 0.5 * (low + high)
        low, high = (low, middle) if function(middle) > 0 else (middle, high)
    return 0.5 * (low + high)


def _properties(density, viscosity, kinematic_viscosity, temperature):
    density = water.density(temperature) if density is None else density
    if kinematic_viscosity is not None:
        return density, kinematic_viscosity * density
    return density, water.viscosity(temperature) if viscosity is None else viscosity


# --- water ------------------------------------------------------------------------------------------


@checks("water.density")
def density(temperature, pressure=101325.0, gauge_pressure=None):
    return water.density(temperature, pressure if gauge_pressure is None else 101325.0 + gauge_pressure)


@checks("water.density")
def density_ratio(temperature, gauge_pressure):
    return density(temperature, gauge_pressure=gauge_pressure) / water.density(temperature)


@checks("water.viscosity")
def viscosity(temperature):
    return water.viscosity(temperature)


@checks("water.kinematic_viscosity")
def kinematic_viscosity(temperature):
    return water.kinematic_viscosity(temperature)


@checks("water.vapour_pressure")
def vapour_pressure(temperature):
    return water.vapour_pressure(temperature)


@checks("water.bulk_modulus")
def bulk_modulus(temperature):
    return water.bulk_modulus(temperature)


@checks("water.specific_heat")
def specific_heat(temperature):
    return water.specific_heat(temperature)


# --- friction ---------------------------------------------------------------------------------------


@checks("friction.darcy_factor")
def darcy_factor(reynolds, relative_roughness=0.0):
    return friction.darcy_factor(reynolds, relative_roughness)


@checks("friction.darcy_factor")
def darcy_factor_of_pipe(reynolds, bore, roughness):
    return friction.darcy_factor(reynolds, roughness / bore)


@checks("published_friction.haaland_factor")
def haaland(reynolds, relative_roughness):
    return published_friction.haaland_factor(reynolds, relative_roughness)


@checks("published_friction.swamee_jain_factor")
def swamee_jain(reynolds, relative_roughness):
    return published_friction.swamee_jain_factor(reynolds, relative_roughness)


@checks("published_friction.churchill_factor")
def churchill(reynolds, relative_roughness):
    return published_friction.churchill_factor(reynolds, relative_roughness)


@checks("hose.velocity")
def velocity(flow, bore):
    return hose.velocity(flow, bore=bore)


@checks("hose.velocity")
def velocity_head(flow, bore):
    return hose.velocity(flow, bore=bore) ** 2 / (2 * GRAVITY)


@checks("hose.pressure_loss", "water.density", "water.viscosity")
def pressure_loss(
    bore,
    length,
    roughness=0.0,
    flow=None,
    speed=None,
    density=None,
    viscosity=None,
    kinematic_viscosity=None,
    temperature=None,
):
    density, viscosity = _properties(density, viscosity, kinematic_viscosity, temperature)
    flow = speed * np.pi / 4 * bore**2 if flow is None else flow
    return hose.pressure_loss(flow, bore=bore, length=length, roughness=roughness, density=density, viscosity=viscosity)


@checks("hose.pressure_loss", "water.density", "water.viscosity")
def head_loss(density=None, temperature=None, **pipe):
    """In metres of the fluid; the density falls out when the kinematic viscosity is given."""
    density = water.density(temperature) if density is None else density
    return pressure_loss(density=density, temperature=temperature, **pipe) / (density * GRAVITY)


@checks("hose.pressure_loss", "water.density", "water.viscosity")
def head_gradient(**pipe):
    return head_loss(length=1.0, **pipe)


@checks("hose.pressure_loss")
def flow_for_head(head, bore, length, roughness, density, kinematic_viscosity):
    """Flow that loses `head` (m) in one pipe."""
    pipe = {"bore": bore, "length": length, "roughness": roughness}
    fluid = {"density": density, "kinematic_viscosity": kinematic_viscosity}
    return solve(lambda flow: head_loss(flow=flow, **pipe, **fluid) - head, 0.0, 10.0)


@checks("hose.pressure_loss", "fitting.pressure_loss")
def series_head(flow, bores, lengths, roughness, loss_coefficients, density, viscosity, lift=0.0):
    """Head (m of fluid) that pipes in series, their fittings and a lift take at a flow."""
    bores, lengths, losses = np.atleast_1d(bores), np.atleast_1d(lengths), np.atleast_1d(loss_coefficients)
    friction_loss = hose.pressure_loss(
        flow, bore=bores, length=lengths, roughness=np.asarray(roughness), density=density, viscosity=viscosity
    )
    fitting_loss = fitting.pressure_loss(flow, bore=bores, loss_coefficient=losses, density=density)
    return np.sum(friction_loss + fitting_loss) / (density * GRAVITY) + lift


@checks("hose.pressure_loss", "fitting.pressure_loss")
def series_pressure(flow, density, **system):
    return density * GRAVITY * series_head(flow, density=density, **system)


@checks("hose.pressure_loss", "fitting.pressure_loss")
def series_flow(head, **system):
    """Flow that a head (m of fluid) drives through pipes in series and their fittings."""
    return solve(lambda flow: series_head(flow, **system) - head, 0.0, 10.0)


@checks("hose.pressure_loss", "fitting.pressure_loss", "pump.hydraulic_power")
def series_power(flow, density, **system):
    return pump.hydraulic_power(flow, series_pressure(flow, density, **system))


@checks("published_friction.hazen_williams_loss")
def hazen_williams_gradient(flow, bore, coefficient):
    return published_friction.hazen_williams_loss(flow, bore=bore, length=1.0, coefficient=coefficient)


# --- coiled hose ------------------------------------------------------------------------------------


@checks("published_friction.white_laminar_coil_factor")
def white_coil(reynolds, bore, coil_diameter):
    return published_friction.white_laminar_coil_factor(reynolds, bore / coil_diameter)


@checks("published_friction.ito_coil_factor")
def ito_coil(reynolds, bore, coil_diameter):
    return published_friction.ito_coil_factor(reynolds, bore / coil_diameter)


@checks("published_friction.mishra_gupta_coil_factor")
def mishra_gupta_coil(reynolds, bore, coil_diameter):
    return published_friction.mishra_gupta_coil_factor(reynolds, bore / coil_diameter)


@checks("published_friction.vdi_coil_factor")
def vdi_coil(reynolds, bore, coil_diameter):
    return published_friction.vdi_coil_factor(reynolds, bore / coil_diameter)


@checks("published_friction.schmidt_coil_factor", "friction.darcy_factor")
def schmidt_coil(reynolds, bore, coil_diameter, relative_roughness=0.0):
    straight = friction.darcy_factor(reynolds, relative_roughness)
    return published_friction.schmidt_coil_factor(reynolds, bore / coil_diameter, straight_factor=straight)


@checks("published_friction.ito_critical_reynolds")
def ito_critical(bore, coil_diameter):
    return published_friction.ito_critical_reynolds(bore / coil_diameter)


@checks("published_friction.schmidt_critical_reynolds")
def schmidt_critical(bore, coil_diameter):
    return published_friction.schmidt_critical_reynolds(bore / coil_diameter)


@checks("friction.coil_ratio")
def coil_ratio(reynolds, bore, coil_diameter):
    return friction.coil_ratio(reynolds, bore, coil_diameter)


# --- jets -------------------------------------------------------------------------------------------


@checks("orifice.flow", "water.density")
def jet_flow(pressure, bore, discharge_coefficient, density=None, temperature=None, count=1.0):
    return orifice.flow(
        pressure,
        area=count * orifice.circle_area(bore),
        discharge_coefficient=discharge_coefficient,
        density=water.density(temperature) if density is None else density,
    )


@checks("orifice.pressure", "water.density")
def jets_pressure(flow, holes, discharge_coefficient, temperature):
    return orifice.pressure(
        flow,
        area=np.sum(orifice.circle_area(np.asarray(holes))),
        discharge_coefficient=discharge_coefficient,
        density=water.density(temperature),
    )


@checks("hose.pressure_loss", "orifice.pressure", "water.density", "water.viscosity")
def line_pressure(flow, temperature, bores, lengths, roughness, holes, discharge_coefficient):
    losses = pressure_loss(
        flow=flow, bore=np.asarray(bores), length=np.asarray(lengths), roughness=roughness, temperature=temperature
    )
    return np.sum(losses) + jets_pressure(flow, holes, discharge_coefficient, temperature)


@checks("tables.discharge_coefficient")
def tabled_coefficient(edge):
    return tables.discharge_coefficient(edge).typical


@checks("tables.discharge_coefficient")
def coefficient_in_range(edge, measured):
    """The value nearest to a measured one that the table's range for this edge allows: the same, if it lies inside."""
    row = tables.discharge_coefficient(edge)
    return min(max(measured, row.low), row.high)


# --- fittings ---------------------------------------------------------------------------------------


@checks("tables.fitting")
def tabled_loss_coefficient(kind):
    return tables.fitting(kind).typical


@checks("fitting.sudden_expansion")
def expansion(bore_ratio):
    return fitting.sudden_expansion(bore_ratio, 1.0)


@checks("fitting.sudden_contraction")
def contraction(bore_ratio):
    return fitting.sudden_contraction(bore_ratio, 1.0)


@checks("fitting.loss_coefficient_from_kv")
def loss_coefficient_from_kv(kv, bore):
    return fitting.loss_coefficient_from_kv(kv, bore=bore)


@checks("fitting.loss_coefficient_from_cv")
def loss_coefficient_from_cv(cv, bore):
    return fitting.loss_coefficient_from_cv(cv, bore=bore)
