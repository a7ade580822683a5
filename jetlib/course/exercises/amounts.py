"""Amounts that exercises are made of: units of the trade, water, drills and hoses, and what the course's physics says.

What a hose loses or a set of jets needs is never drawn: it is worked out here, by the engine, from sizes and flows.
"""

from functools import cache, partial

from jetlib import tables
from jetlib.physics import hose, orifice, water
from jetlib.rig.parts.machine import Hose
from jetlib.units import to_si

gpm, feet = (partial(to_si, kind=kind, system="US") for kind in ("flow", "length"))
DENSITY, VISCOSITY = water.density(288.15), water.viscosity(288.15)
CD = 0.72  # drilled, edges a little worn
ROUGHNESS = 1e-5  # m, a usual lining
FLOWS = {  # gpm that the yard sends through each size of hose
    "1/4 in": (2, 2.5, 3), "5/16 in": (3, 4), "3/8 in": (4, 5, 6), "1/2 in": (6, 7, 8, 9.5), "5/8 in": (12, 15),
    "3/4 in": (15, 18, 22, 26),
}  # fmt: skip
SIZES = tuple(FLOWS)
DRILLS = ("#72", "#70", "#68", "#66", "#65", "#64", "#62", "#60", "#58", "#57", "#56", "#55", "#54", "#53", "#52")


@cache
def bore_of(drill):
    """Bore (m) of a drill such as "#60"."""
    return tables.drill(drill).diameter


@cache
def hose_bore(size):
    """Bore (m) of a hose named by its size, "1/2 in", as the engine takes it."""
    return Hose(size, 1.0).bore


def said_bore(size):
    """The same bore as a table prints it, to 0.001 in: for questions in which the reader calculates with it."""
    return round(hose_bore(size) / 0.0254, 3) * 0.0254


def hose_name(size):
    """A hose with its bore, in either unit system: "1/2 in hose (bore 0.508 in)", "hose of 12.9 mm bore"."""
    bore = said_bore(size)
    return f"[{size} hose (bore {bore / 0.0254:.3f} in)|hose of {1000.0 * bore:.1f} mm bore]"


def hose_loss(flow, length, bore, roughness=ROUGHNESS):
    """Pressure loss (Pa) of a straight hose with cool water."""
    return hose.pressure_loss(flow, bore=bore, length=length, roughness=roughness, density=DENSITY, viscosity=VISCOSITY)


def jet_pressure(flow, area, coefficient=CD):
    """Pressure (Pa) that jets of `area` (m2) need."""
    return orifice.pressure(flow, area=area, discharge_coefficient=coefficient, density=DENSITY)


def jet_flow(pressure, area, coefficient=CD):
    """Flow (m3/s) out of jets of `area` (m2)."""
    return orifice.flow(pressure, area=area, discharge_coefficient=coefficient, density=DENSITY)


def draw_hose(rng, sizes=SIZES, lengths=(50, 75, 100, 150, 200)):
    """Parameters: a size of hose, a flow that the yard sends through it, and a length."""
    size = rng.choice(sizes)
    return {"size": size, "flow": gpm(rng.choice(FLOWS[size])), "length": feet(rng.choice(lengths))}


def draw_line(rng, sizes=SIZES, lengths=(100, 150, 200, 250, 300), drills=DRILLS):
    """Parameters: a hose at work with a nozzle on it, whose jets are all alike."""
    drill = rng.choice(drills)
    jets = {"count": rng.randrange(3, 9), "drill": drill, "jet_bore": bore_of(drill)}
    return draw_hose(rng, sizes, lengths) | jets
