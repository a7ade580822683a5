"""Units by their definitions, so that the published rows do not lean on the project's own conversion."""

import re

INCH = 0.0254
FOOT = 12 * INCH
POUND = 0.45359237
GRAVITY = 9.80665
POUND_FORCE = POUND * GRAVITY
PSI = POUND_FORCE / INCH**2
GALLON = 231 * INCH**3
MINUTE = 60.0
HORSEPOWER = 550 * FOOT * POUND_FORCE

#: One of each in SI. A head or loss "per 100 ft" is a gradient: metre of fluid, or pascal, per metre.
FACTORS = {
    "": 1.0,
    "-": 1.0,
    "m": 1.0,
    "mm": 1e-3,
    "%": 0.01,
    "rpm": 3.141592653589793 / 30,
    "um": 1e-6,
    "in": INCH,
    "ft": FOOT,
    "in2": INCH**2,
    "ft2": FOOT**2,
    "m3": 1.0,
    "gal": GALLON,
    "m3/s": 1.0,
    "m3/h": 1 / 3600,
    "L/s": 1e-3,
    "L/min": 1e-3 / MINUTE,
    "gpm": GALLON / MINUTE,
    "ft3/s": FOOT**3,
    "m/s": 1.0,
    "ft/s": FOOT,
    "Pa": 1.0,
    "kPa": 1e3,
    "MPa": 1e6,
    "bar": 1e5,
    "psi": PSI,
    "lbf/ft2": POUND_FORCE / FOOT**2,
    "kg/m3": 1.0,
    "lb/ft3": POUND / FOOT**3,
    "slug/ft3": POUND_FORCE / FOOT**4,
    "Pa.s": 1.0,
    "mPa.s": 1e-3,
    "lb/ft/s": POUND / FOOT,
    "m2/s": 1.0,
    "ft2/s": FOOT**2,
    "cSt": 1e-6,
    "s": 1.0,
    "min": MINUTE,
    "kg/s": 1.0,
    "N": 1.0,
    "lbf": POUND_FORCE,
    "W": 1.0,
    "kW": 1e3,
    "hp": HORSEPOWER,
    "K": 1.0,
    "delta degF": 5 / 9,
    "K/min": 1 / MINUTE,
    "J/kg/K": 1.0,
    "deg": 0.017453292519943295,
    "ft/100ft": 0.01,
    "psi/100ft": PSI / (100 * FOOT),
    "gpm.psi/hp": GALLON / MINUTE * PSI / HORSEPOWER,
}
#: kelvin = (number + offset) * factor
TEMPERATURES = {"C": (273.15, 1.0), "F": (459.67, 5 / 9)}

_NUMBER = re.compile(r"([-+]?\d*\.?\d+(?:[eE][-+]?\d+)?)\s*(.*)")


def to_si(number, unit):
    """`number` of `unit` in SI."""
    if unit in TEMPERATURES:
        offset, factor = TEMPERATURES[unit]
        return (number + offset) * factor
    return number * FACTORS[unit]


def from_si(value, unit):
    """`value` (SI) in `unit`: the inverse of `to_si`."""
    if unit in TEMPERATURES:
        offset, factor = TEMPERATURES[unit]
        return value / factor - offset
    return value / FACTORS[unit]


def read(text):
    """The SI number that a text such as "8 gpm" stands for."""
    number, unit = _NUMBER.fullmatch(text.strip()).groups()
    return to_si(float(number), unit)
