"""Power that flow under pressure carries, and what the shaft of the pump must be given for it."""

from jetlib.physics.values import finite, plain, require


@finite
def hydraulic_power(flow, pressure):
    """Power in the water, W: flow (m3/s) times pressure rise (Pa); broadcasts.

    P = Q p, the work of pushing a volume against a pressure. In US units hp = gpm psi / 1714.
    """
    return plain(plain(flow) * plain(pressure))


@finite
def shaft_power(flow, pressure, efficiency):
    """Power at the shaft of the pump, W; broadcasts.

    `flow` delivered m3/s, `pressure` rise Pa, `efficiency` of the pump and its drive together, above 0 to
    1. JetlibError outside that.

    P = Q p / efficiency. A plunger pump in good order with its belt or gearbox: 0.8 to 0.9 (*common
    practice, no source*).
    """
    efficiency = plain(efficiency)
    require(
        (efficiency > 0.0) & (efficiency <= 1.0),
        efficiency,
        "efficiency is {value}; it is a share above 0 and up to 1: write 0.85 for 85 %",
    )
    return plain(hydraulic_power(flow, pressure) / efficiency)
