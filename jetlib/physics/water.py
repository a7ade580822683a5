"""Liquid water from 0 to 60 degC: density, viscosity, vapour pressure, specific heat, stiffness.

Temperatures are kelvin and pressures pascal absolute. Values at 0.1 MPa come from the equations of IAPWS
SR6-08(2011), *Revised Supplementary Release on Properties of Liquid Water at 0.1 MPa*; the release holds
from 253.15 to 383.15 K and agrees with IAPWS-95 to 0.0001 % in density. The water of a tap or a tank
differs more from pure water than that: hardness and dissolved air change density by a few hundredths of a per cent.
"""

import numpy as np

from jetlib.physics.constants import ATMOSPHERE, ICE_POINT
from jetlib.physics.values import finite, plain, require

COLDEST = ICE_POINT
WARMEST = 333.15
HIGHEST_PRESSURE = 100e6

_SLACK = 1e-6  # kelvin: 0 degC converted from another scale may miss 273.15 by a rounding
_GAS_CONSTANT = 461.51805  # J/(kg K), as the release has it
_REFERENCE_PRESSURE = 0.1e6
_REFERENCE_TEMPERATURE = 10.0
_STIFFENING = 5.8

# SR6-08(2011) Table 1, as (coefficient, power): in alpha = 10/(593 - T) and in beta = 10/(T - 232).
_GIBBS_C3 = -8.983025854
_GIBBS_ALPHA = ((-1.661470539e5, 4), (2.708781640e6, 5), (-1.557191544e8, 7))
_GIBBS_BETA = ((-8.237426256e-1, 2), (1.908956353, 3), (-2.017597384, 4), (8.546361348e-1, 5))
_VOLUME_A5 = 1.93763157e-2
_VOLUME_ALPHA = (
    (6.74458446e3, 4),
    (-2.22521604e5, 5),
    (1.00231247e8, 7),
    (-1.63552118e9, 8),
    (8.32299658e9, 9),
)
_VOLUME_BETA = (
    (5.78545292e-3, 1),
    (-1.53195665e-2, 2),
    (3.11337859e-2, 3),
    (-4.23546241e-2, 4),
    (3.38713507e-2, 5),
    (-1.19946761e-2, 6),
)
_SQUEEZE_ALPHA = (
    (-7.5245878e-6, 1),
    (-1.3767418e-2, 3),
    (1.0627293e1, 5),
    (-2.0457795e2, 6),
    (1.2037414e3, 7),
)
_SQUEEZE_BETA = (
    (-3.1091470e-6, 1),
    (2.8964919e-5, 3),
    (-1.3112763e-4, 4),
    (3.0410453e-4, 5),
    (-3.9034594e-4, 6),
    (2.3403117e-4, 7),
    (-4.8510101e-5, 9),
)
_VISCOSITY = ((280.68e-6, -1.9), (511.45e-6, -7.7), (61.131e-6, -19.6), (0.45903e-6, -40.0))

# Wagner & Pruss 1993, equation 2.1
_CRITICAL_TEMPERATURE = 647.096
_CRITICAL_PRESSURE = 22.064e6
_SATURATION = (
    (-7.85951783, 1.0),
    (1.84408259, 1.5),
    (-11.7866497, 3.0),
    (22.6807411, 3.5),
    (-15.9618719, 4.0),
    (1.80122502, 7.5),
)


@finite
def density(temperature, pressure=ATMOSPHERE):
    """Density of liquid water, kg/m3.

    `temperature` in kelvin, 273.15 to 333.15; `pressure` in pascal absolute, 0 to 100 MPa; both
    broadcast. JetlibError outside these.

    At 0.1 MPa: specific volume v0 by SR6-08. At other pressures Murnaghan's law (Proc. Natl. Acad. Sci.
    30 (1944) 244) rho = rho0 (1 + n (p - p0)/K0)^(1/n), with K0 the bulk modulus of SR6-08 and n = 5.8
    fitted here to IAPWS-95; within 0.006 % of IAPWS-95 up to 40 MPa.
    """
    kelvin = _liquid(temperature)
    pressure = plain(pressure)
    require(
        (pressure >= 0.0) & (pressure <= HIGHEST_PRESSURE),
        pressure,
        "pressure is {value} Pa absolute; water density here holds from 0 to 100 MPa: "
        "write pressure=101325 + gauge, in pascal",
    )
    volume = _volume(kelvin)
    stiffness = volume / _squeeze(kelvin)
    squeezed = 1.0 + _STIFFENING * (pressure - _REFERENCE_PRESSURE) / stiffness
    return plain(squeezed ** (1.0 / _STIFFENING) / volume)


@finite
def viscosity(temperature):
    """Dynamic viscosity of liquid water, Pa s.

    `temperature` in kelvin, 273.15 to 333.15; any shape. JetlibError outside.

    SR6-08 equation 7, within 1 % of measurement. Pressure is left out: 30 MPa changes it by -3 % at 0
    degC, by -1 % at 15 degC and by +1 % at 60 degC.
    """
    ratio = _liquid(temperature) / 300.0
    return plain(_sum(_VISCOSITY, ratio))


@finite
def kinematic_viscosity(temperature, pressure=ATMOSPHERE):
    """Kinematic viscosity of liquid water, m2/s: dynamic viscosity over density, in their ranges."""
    return plain(viscosity(temperature) / density(temperature, pressure))


@finite
def vapour_pressure(temperature):
    """Pressure at which water boils at this temperature, Pa absolute.

    `temperature` in kelvin, 273.15 to 333.15; any shape. JetlibError outside.

    ln(p/pc) = (Tc/T) sum a_i theta^b_i with theta = 1 - T/Tc: Wagner & Pruss, J. Phys. Chem. Ref. Data 22
    (1993) 783, which is IAPWS SR1-86(1992). Within 0.01 % of IAPWS-95.
    """
    kelvin = _liquid(temperature)
    theta = 1.0 - kelvin / _CRITICAL_TEMPERATURE
    exponent = _sum(_SATURATION, theta) * _CRITICAL_TEMPERATURE / kelvin
    return plain(_CRITICAL_PRESSURE * np.exp(exponent))


@finite
def specific_heat(temperature):
    """Specific heat of liquid water at constant pressure, J/(kg K), at 0.1 MPa.

    `temperature` in kelvin, 273.15 to 333.15; any shape. JetlibError outside.

    SR6-08: cp = -T d2g/dT2, within 0.1 % of measurement. 30 MPa lowers it by 1.5 % (60 degC) to 3 % (0
    degC).
    """
    kelvin = _liquid(temperature)
    alpha, beta = _arguments(kelvin)
    curvature = _curvature(_GIBBS_ALPHA, alpha) + _curvature(_GIBBS_BETA, beta)
    return plain(-_GAS_CONSTANT * (_GIBBS_C3 + kelvin / _REFERENCE_TEMPERATURE * curvature))


@finite
def bulk_modulus(temperature, pressure=ATMOSPHERE):
    """Isothermal bulk modulus of liquid water, Pa: pressure rise over the fraction of volume lost to it.

    `temperature` in kelvin, 273.15 to 333.15; `pressure` in pascal absolute; both broadcast. JetlibError
    outside.

    SR6-08 at 0.1 MPa: K = -v (dp/dv); it rises by 5.8 Pa for each Pa, as in `density`. Within 0.3 % of
    IAPWS-95. Dissolved air does not change it, free bubbles lower it a great deal.
    """
    kelvin = _liquid(temperature)
    stiffness = _volume(kelvin) / _squeeze(kelvin)
    return plain(stiffness + _STIFFENING * (plain(pressure) - _REFERENCE_PRESSURE))


def _liquid(temperature):
    temperature = plain(temperature)
    return require(
        (temperature >= COLDEST - _SLACK) & (temperature <= WARMEST + _SLACK),
        temperature,
        "water temperature is {value} K; water properties here hold from 273.15 to 333.15 K (0 to 60 degC): "
        "write 273.15 + degC",
    )


def _arguments(kelvin):
    return _REFERENCE_TEMPERATURE / (593.0 - kelvin), _REFERENCE_TEMPERATURE / (kelvin - 232.0)


def _sum(terms, base):
    return sum(coefficient * base**power for coefficient, power in terms)


def _curvature(terms, base):
    return sum(n * (n + 1) * coefficient * base ** (n + 2) for coefficient, n in terms)


def _volume(kelvin):
    """Specific volume at 0.1 MPa, m3/kg (SR6-08 equation 2)."""
    alpha, beta = _arguments(kelvin)
    scale = _GAS_CONSTANT * _REFERENCE_TEMPERATURE / _REFERENCE_PRESSURE
    return scale * (_VOLUME_A5 + _sum(_VOLUME_ALPHA, alpha) + _sum(_VOLUME_BETA, beta))


def _squeeze(kelvin):
    """Shrinkage of specific volume with pressure at 0.1 MPa, -dv/dp, m3/(kg Pa) (SR6-08 equation 3)."""
    alpha, beta = _arguments(kelvin)
    scale = _GAS_CONSTANT * _REFERENCE_TEMPERATURE / _REFERENCE_PRESSURE**2
    return -scale * (_sum(_SQUEEZE_ALPHA, alpha) + _sum(_SQUEEZE_BETA, beta))
