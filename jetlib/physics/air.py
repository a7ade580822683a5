"""Air by altitude: its pressure and density, the power an engine keeps, the suction a pump is left with."""

import numpy as np

from jetlib.errors import JetlibError
from jetlib.physics import water
from jetlib.physics.constants import ATMOSPHERE, GRAVITY, USUAL_TEMPERATURE
from jetlib.physics.values import finite, plain, positive, require

_LAPSE_RATE = 0.0065
_GAS_CONSTANT = 287.05287
_EXPONENT = GRAVITY / (_GAS_CONSTANT * _LAPSE_RATE)
_FOOT = 0.3048


@finite
def pressure_ratio(altitude):
    """Air pressure at `altitude` (m) over that at sea level, in the standard atmosphere; any shape.

    -2000 to 11000 m; JetlibError outside. (1 - 0.0065 h/288.15)^5.25588: ICAO Doc 7488, *Manual of the
    ICAO Standard Atmosphere* (the same as ISO 2533). Weather moves the true value by 3 % either way.
    """
    return plain(_temperature_ratio(altitude) ** _EXPONENT)


@finite
def density_ratio(altitude):
    """Air density at `altitude` (m) over that at sea level, in the standard atmosphere; range and source as above."""
    return plain(_temperature_ratio(altitude) ** (_EXPONENT - 1.0))


@finite
def pressure(altitude):
    """Air pressure at `altitude` (m) in the standard atmosphere, Pa absolute; range and source as `pressure_ratio`."""
    return plain(ATMOSPHERE * pressure_ratio(altitude))


@finite
def temperature(altitude):
    """Air temperature at `altitude` (m) in the standard atmosphere, K; range and source as `pressure_ratio`."""
    return plain(USUAL_TEMPERATURE * _temperature_ratio(altitude))


@finite
def engine_power_factor(altitude, kind="naturally aspirated", *, air_temperature=None):
    """Share of its rated power an engine keeps at `altitude` (m), 0 to 1; any shape.

    `kind` "naturally aspirated": 3 % lost for each 1000 ft above 500 ft, a rule of agricultural engineering (*common
    practice*; textbooks print 3 to 3.5 %), within 2 % of ISO 3046-1 on a standard day. With `air_temperature` (K):
    ISO 3046-1 for a diesel held back by its air, from memory: k = (p/100 kPa) (298 K/T)^0.75, power
    k - 0.7 (1 - k)(1/0.8 - 1), and never more than rated. `kind` "electric": 1, since a motor draws no air; above
    1000 m it cools less well and its maker sets the limit. JetlibError for another kind, or outside the range of
    `pressure_ratio`.
    """
    if kind not in ("naturally aspirated", "electric"):
        raise JetlibError(
            f'engine kind is {kind!r}; write kind="naturally aspirated" or kind="electric" '
            "(for a turbocharged engine take the power from its own manual)"
        )
    if kind == "electric":
        return plain(np.ones(np.shape(_within(altitude))))
    if air_temperature is None:
        feet = _within(altitude) / _FOOT
        return plain(1.0 - 0.03 * np.maximum(feet - 500.0, 0.0) / 1000.0)
    k = pressure(altitude) / 1e5 * (298.0 / positive(air_temperature, "air_temperature", "K")) ** 0.75
    return plain(np.clip(k - 0.7 * (1.0 - k) * (1.0 / 0.8 - 1.0), 0.0, 1.0))


@finite
def net_suction_head(water_temperature, *, altitude=0.0, lift=0.0, line_loss=0.0):
    """Head the water has at the pump's inlet above boiling, m of water; all broadcast.

    `water_temperature` K, `altitude` m, `lift` m from the tank's surface up to the pump (negative when
    the tank is above it), `line_loss` Pa in strainer and suction hose. Below what the pump asks for, it
    cavitates.

    NPSH available = (p_air - p_vapour - line loss)/(rho g) - lift: the Bernoulli equation from the tank's
    surface to the inlet. The pulses of a plunger pump ask for more than this steady sum shows.
    """
    margin = plain(pressure(altitude) - water.vapour_pressure(water_temperature)) - plain(line_loss)
    return plain(margin / (water.density(water_temperature) * GRAVITY) - plain(lift))


def _temperature_ratio(altitude):
    return 1.0 - _LAPSE_RATE * _within(altitude) / USUAL_TEMPERATURE


def _within(altitude):
    altitude = plain(altitude)
    return require(
        (altitude >= -2000.0) & (altitude <= 11000.0),
        altitude,
        "altitude is {value} m; the standard atmosphere here holds from -2000 to 11000 m: write 0.3048 * feet",
    )
