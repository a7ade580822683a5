"""What the course computes for the published rows on pump, heat, air, jet forces, sizes and drains, in SI."""

import numpy as np
from evaluate_flow import FORMULAS, GRAVITY, checks, solve

from jetlib import tables
from jetlib.physics import (
    air,
    channel,
    friction,
    heat,
    hose,
    hose_drag,
    orifice,
    pump,
    reaction,
    surge,
    water,
)
from jetlib.physics.reaction import submerged_velocity_ratio
from jetlib.rig.job.checks import LONG_ENOUGH

__all__ = ["FORMULAS"]

# --- pump, heat, air --------------------------------------------------------------------------------


@checks("pump.hydraulic_power")
def hydraulic_power(flow, pressure):
    return pump.hydraulic_power(flow, pressure)


@checks("pump.hydraulic_power")
def flow_times_pressure_per_power():
    """Flow x pressure that makes one unit of power: a plain number, 1 in SI."""
    return 1.0 / pump.hydraulic_power(1.0, 1.0)


@checks("pump.hydraulic_power")
def power_saved(flows, pressure):
    full, least = flows
    return pump.hydraulic_power(full, pressure) - pump.hydraulic_power(least, pressure)


@checks("pump.shaft_power")
def shaft_power(flow, efficiency, pressure=None, head=None, density=None):
    pressure = density * GRAVITY * head if pressure is None else pressure
    return pump.shaft_power(flow, pressure, efficiency)


@checks("heat.temperature_rise")
def temperature_after(start, pressure, density, specific_heat):
    return start + heat.temperature_rise(pressure, density=density, specific_heat=specific_heat)


@checks("heat.temperature_rise", "water.density", "water.specific_heat")
def temperature_rise(temperature, pressure=None, head=None):
    density = water.density(temperature)
    pressure = density * GRAVITY * head if pressure is None else pressure
    return heat.temperature_rise(pressure, density=density, specific_heat=water.specific_heat(temperature))


@checks("heat.tank_heating_rate", "water.density", "water.specific_heat")
def tank_heating_rate(volume, temperature, flow=None, pressure=None, watts=None):
    return heat.tank_heating_rate(
        pump.hydraulic_power(flow, pressure) if watts is None else watts,
        volume=volume,
        density=water.density(temperature),
        specific_heat=water.specific_heat(temperature),
    )


@checks("heat.tank_warm_up_time", "water.density", "water.specific_heat")
def tank_warm_up_time(watts, volume, start, limit):
    middle = 0.5 * (start + limit)
    return heat.tank_warm_up_time(
        watts,
        volume=volume,
        density=water.density(middle),
        specific_heat=water.specific_heat(middle),
        start=start,
        limit=limit,
    )


@checks("air.engine_power_factor")
def derated_power(rated, altitude):
    return rated * air.engine_power_factor(altitude)


@checks("air.pressure_ratio")
def air_pressure_ratio(altitude):
    return air.pressure_ratio(altitude)


@checks("air.density_ratio")
def air_density_ratio(altitude):
    return air.density_ratio(altitude)


@checks("air.pressure")
def air_pressure(altitude):
    return air.pressure(altitude)


@checks("air.temperature")
def air_temperature(altitude):
    return air.temperature(altitude)


@checks("air.net_suction_head", "water.vapour_pressure")
def net_suction_head(temperature, lift, line_head=0.0, altitude=0.0):
    line_loss = line_head * water.density(temperature) * GRAVITY
    return air.net_suction_head(temperature, altitude=altitude, lift=lift, line_loss=line_loss)


# --- what a jet does --------------------------------------------------------------------------------


@checks("reaction.jet_velocity")
def jet_velocity(density, pressure=None, head=None, velocity_coefficient=1.0):
    pressure = density * GRAVITY * head if pressure is None else pressure
    return reaction.jet_velocity(pressure, density=density, velocity_coefficient=velocity_coefficient)


@checks("reaction.jet_reaction", "orifice.flow")
def nozzle_reaction(bore, pressure, density=1000.0):
    flow = orifice.flow(pressure, area=orifice.circle_area(bore), discharge_coefficient=1.0, density=density)
    return reaction.jet_reaction(flow, pressure, density=density)


@checks("reaction.jet_reaction", "water.density")
def jet_reaction(flow, pressure, temperature, angle=0.0):
    return reaction.jet_reaction(flow, pressure, density=water.density(temperature), angle=angle)


@checks("reaction.impact_force")
def impact_force(speed, density=1000.0, flow=None, area=None, mass_flow=None, speed_after=0.0):
    if mass_flow is not None:
        flow = mass_flow / density
    elif flow is None:
        flow = area * speed
    return reaction.impact_force(flow, speed, density=density, velocity_after=speed_after)


# --- sizes ------------------------------------------------------------------------------------------


@checks("tables.drill")
def drill(name):
    return tables.drill(name).diameter


@checks("tables.hose")
def hose_nominal_bore(dash):
    return tables.hose(dash).nominal_bore


@checks("tables.hose")
def hose_working_pressure(dash, standard):
    return tables.hose(dash, standard).working_pressure


@checks("tables.pipe")
def pipe_bore(material, size):
    return tables.pipe(f"{size} {material}").inside_diameter


# --- drains -----------------------------------------------------------------------------------------


@checks("channel.full_pipe_flow")
def full_pipe_flow(diameter, slope, n):
    return channel.full_pipe_flow(diameter, slope, n)


@checks("channel.full_pipe_flow")
def full_pipe_velocity(diameter, slope, n):
    return channel.full_pipe_flow(diameter, slope, n) / (np.pi / 4 * diameter**2)


@checks("channel.flow")
def part_full_flow(depth_ratio, diameter, slope, n):
    return channel.flow(depth_ratio, diameter, slope, n)


@checks("channel.flow", "channel.full_pipe_flow")
def flow_ratio(depth_ratio):
    return channel.flow(depth_ratio, 0.1, 0.01, 0.013) / channel.full_pipe_flow(0.1, 0.01, 0.013)


@checks("channel.depth_ratio")
def depth_ratio(flow_ratio):
    return channel.depth_ratio(flow_ratio * channel.full_pipe_flow(0.1, 0.01, 0.013), 0.1, 0.01, 0.013)


@checks("channel.velocity")
def velocity_ratio(depth_ratio):
    return channel.velocity(depth_ratio, 0.1, 0.01, 0.013) / channel.velocity(1.0, 0.1, 0.01, 0.013)


@checks("channel.flow")
def greatest_flow_ratio():
    return max(flow_ratio(depth) for depth in np.linspace(0.9, 1.0, 10001))


@checks("channel.velocity")
def greatest_velocity_ratio():
    return max(velocity_ratio(depth) for depth in np.linspace(0.75, 0.9, 15001))


@checks("channel.manning_velocity")
def manning_velocity(hydraulic_radius, slope, n):
    return channel.manning_velocity(hydraulic_radius, slope, n)


@checks("channel.depth_ratio")
def normal_depth(flow, diameter, slope, n):
    return diameter * channel.depth_ratio(flow, diameter, slope, n)


@checks("channel.critical_depth_ratio")
def critical_depth(flow, diameter):
    return diameter * channel.critical_depth_ratio(flow, diameter)


@checks("channel.area", "channel.darcy_velocity", "friction.darcy_factor")
def darcy_part_full_flow(depth_ratio, diameter, slope, relative_roughness, density, viscosity):
    """Flow in a part-full pipe by Darcy's law with four hydraulic radii for the bore."""
    radius = channel.hydraulic_radius(depth_ratio, diameter)

    def excess(speed):
        reynolds = hose.reynolds_number(speed * np.pi / 4 * (4 * radius) ** 2, bore=4 * radius,
                                        density=density, viscosity=viscosity)  # fmt: skip
        return speed - channel.darcy_velocity(radius, slope, friction.darcy_factor(reynolds, relative_roughness))

    return channel.area(depth_ratio, diameter) * solve(excess, 1e-6, 1e3)


@checks("channel.critical_shear")
def critical_shear(particle):
    return channel.critical_shear(particle)


@checks("channel.boundary_shear", "channel.depth_ratio")
def boundary_shear(flow, diameter, slope, n):
    depth = channel.depth_ratio(flow, diameter, slope, n)
    return channel.boundary_shear(channel.hydraulic_radius(depth, diameter), slope)


# --- the field --------------------------------------------------------------------------------------


@checks("channel.flow")
def flow_over_half_full(depth_ratio):
    return channel.flow(depth_ratio, 0.1, 0.01, 0.013) / channel.flow(0.5, 0.1, 0.01, 0.013)


@checks("channel.critical_shear")
def shear_step(small, large):
    return channel.critical_shear(large) / channel.critical_shear(small)


@checks("pump.hole_conductance")
def disc_flow(bore, pressure):
    return pump.hole_conductance(bore, density=999.0) * np.sqrt(pressure)


@checks("orifice.cavitating_coefficient")
def cavitating_coefficient(pressure, edge_radius_ratio):
    return orifice.cavitating_coefficient(pressure, edge_radius_ratio=edge_radius_ratio)


@checks("hose_drag.capstan_ratio")
def capstan_ratio(friction, turned):
    return hose_drag.capstan_ratio(friction, turned)


@checks("reaction.submerged_velocity_ratio")
def jet_decay(distance, bore):
    return submerged_velocity_ratio(distance, bore)


@checks("air.engine_power_factor")
def iso_power_share(altitude):
    return air.engine_power_factor(altitude, air_temperature=air.temperature(altitude))


@checks("pump.flow_pulse")
def flow_pulse(plungers, rod_ratio):
    low, high = pump.flow_pulse(int(plungers), rod_ratio)
    return high - low


@checks("tables.pipe_limit")
def pipe_limit(name):
    return tables.pipe_limit(name).limit


@checks("rig.job.checks")
def nozzle_length_rule():
    return LONG_ENOUGH


@checks("pump.acceleration_head", "hose.velocity")
def acceleration_head(length, bore, flow, speed):
    return pump.acceleration_head(length, hose.velocity(flow, bore=bore), speed)


@checks("surge.joukowsky_rise")
def joukowsky_rise(velocity, wave_speed, density):
    return surge.joukowsky_rise(velocity, density=density, wave_speed=wave_speed)
