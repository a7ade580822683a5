"""Facts of the trade about hose."""

from itertools import pairwise

import numpy as np
from trade_fact import FOOT, GPM, INCH, MIXED, PSI, fact, machines

from jetlib import Hose, operating_point
from jetlib.physics import hose, water
from jetlib.tables import hose as hose_size
from jetlib.tables import hoses

DASHES = (3, 4, 5, 6, 8, 10, 12, 16)
SAME_FLOW = "2 to 7 m/s in 3/16 to 1 in hose as smooth or rough as rubber hose comes, water at 5 to 30 degC"


def drawn(random, count=2000):
    """Flow, and what else `hose.pressure_loss` wants, over SAME_FLOW."""
    bore = random.choice([hose_size(dash).bore for dash in DASHES], count)
    return np.pi / 4 * bore**2 * random.uniform(2, 7, count), {
        "bore": bore,
        "length": 100 * FOOT,
        "roughness": np.exp(random.uniform(np.log(1.5e-6), np.log(3e-5), count)),
        **water_at(random.uniform(278.15, 303.15, count)),
    }


def water_at(kelvin):
    return {"density": water.density(kelvin), "viscosity": water.viscosity(kelvin)}


@fact(1.9999, 2.0001, "times the loss", over=MIXED + "; the flow the same")
def twice_the_length_is_twice_the_loss(random):
    """Twice the hose loses twice the pressure at the same flow."""
    found = machines(random)
    once, again = (
        operating_point(found.rig(valve=False, hoses=[found.hose(length=length)], volumetric_efficiency=1.0))
        for length in (1, 2)
    )
    return again.hose_losses[0] / once.hose_losses[0]


@fact(3.3, 4.0, "times the loss", over=SAME_FLOW)
def twice_the_flow_is_nearly_four_times_the_loss(random):
    """Twice the flow loses between three and four times the pressure in a hose: a little less than the square."""
    flow, line = drawn(random)
    return hose.pressure_loss(2 * flow, **line) / hose.pressure_loss(flow, **line)


@fact(2.2, 4.7, "times the loss", over=SAME_FLOW + "; mean bores of the standard's sizes 1 in to 3/16 in")
def one_size_down(random):
    """One dash size smaller, at the same flow, multiplies the loss by a little over two to four and a half."""
    flow, line = drawn(random, 20000)
    bores = np.array([hose_size(dash).bore for dash in DASHES])
    place = np.searchsorted(bores, line["bore"] - 1e-9)
    down = {**line, "bore": bores[np.maximum(place - 1, 0)]}
    return (hose.pressure_loss(flow, **down) / hose.pressure_loss(flow, **line))[place > 0]


@fact(26.0, 40.0, "times the loss", over=SAME_FLOW)
def half_the_bore(random):
    """Half the bore loses about thirty times the pressure at the same flow; nearer forty in small rough hose."""
    flow, line = drawn(random)
    return hose.pressure_loss(flow, **{**line, "bore": line["bore"] / 2}) / hose.pressure_loss(flow, **line)


@fact(0.9999, 1.0001, "times the sum", over=MIXED + "; the flow the same")
def hoses_in_series_add(random):
    """Hoses in series add their losses, whichever comes first."""
    found = machines(random)
    main, leader = found.hose(), found.hose(bore=0.75, length=0.1)
    totals = [
        operating_point(found.rig(valve=False, hoses=line, volumetric_efficiency=1.0)).hose_loss
        for line in ([main], [leader], [main, leader], [leader, main])
    ]
    return np.concatenate([total / (totals[0] + totals[1]) for total in totals[2:]])


@fact(5.0, 8.0, "times the loss of the main hose", over=SAME_FLOW)
def a_short_small_leader_costs_more_than_the_main_hose(random):
    """A leader of half the bore and a fifth of the length loses five to eight times what the main hose loses."""
    flow, line = drawn(random)
    leader = {**line, "bore": line["bore"] / 2, "length": line["length"] / 5}
    return hose.pressure_loss(flow, **leader) / hose.pressure_loss(flow, **line)


@fact(1.015, 1.17, "times the loss", over=SAME_FLOW + "; at 5 degC against 25 degC")
def colder_water_loses_a_little_more(random):
    """Winter water loses a little more in the hose than summer water: 2 to 17 % from 25 down to 5 degC."""
    flow, line = drawn(random)
    cold, warm = ({**line, **water_at(kelvin)} for kelvin in (278.15, 298.15))
    return hose.pressure_loss(flow, **cold) / hose.pressure_loss(flow, **warm)


@fact(0.430, 0.434, "psi per foot", over="water at 1 to 30 degC, 100 ft down to 100 ft up")
def lift_costs_0433_psi_a_foot(random):
    """Each foot the nozzle is above the pump costs 0.433 psi, and each foot below gives it back."""
    found = machines(random)
    feet = random.choice([-1, 1], found.flow.size) * random.uniform(1, 100, found.flow.size)
    rig = found.rig(valve=False, volumetric_efficiency=1.0)
    level, lifted = (operating_point(rig.replace(lift=feet * FOOT * share)) for share in (0, 1))
    return (lifted.gauge - level.gauge) / PSI / feet


@fact(1.02, 1.40, "times the loss", over="all of a 1/4 to 3/4 in hose on an 18 to 36 in reel; " + SAME_FLOW)
def the_reel_costs_extra(random):
    """Hose left on the reel loses a few percent to a third more than the same hose laid out."""
    found = machines(random)
    reel = random.uniform(18, 36, found.flow.size) * INCH
    straight, coiled = (
        operating_point(found.rig(valve=False, hoses=[each], volumetric_efficiency=1.0)).hose_losses[0]
        for each in (found.hose(), found.hose().replace(coil_diameter=reel, coiled_length=found.length))
    )
    return coiled / straight


@fact(0.6, 0.99, "times the nozzle flow", over=MIXED + "; jets matched to the larger hose")
def a_smaller_hose_takes_water_from_the_nozzle(random):
    """The same jets on a hose 15 % smaller in bore get less water: the larger bore always helps flow."""
    found = machines(random)
    large, small = (operating_point(found.rig(hoses=[found.hose(bore=bore)])) for bore in (1, 0.85))
    return small.nozzle_flow / large.nozzle_flow


def steps(attribute):
    """Ratio of `attribute` from one size to the next larger, over all standards and editions of the table."""
    kinds = {(row.standard, row.edition) for row in hoses()}
    ratios = []
    for kind in sorted(kinds):
        sizes = sorted((row for row in hoses() if (row.standard, row.edition) == kind), key=lambda row: row.bore)
        values = [getattr(row, attribute) for row in sizes]
        ratios += [after / before for before, after in pairwise(values)]
    return np.array(ratios)


STANDARD = "each step from 3/16 to 1 in, braided and thermoplastic hose of the standards in the table"


@fact(1.02, 1.45, "times the bend radius", over=STANDARD)
def a_larger_bore_bends_less(random):
    """Each size larger needs a wider bend: a larger bore always costs flexibility."""
    return steps("bend_radius")


@fact(1.02, 1.75, "times the mass", over=STANDARD)
def a_larger_bore_weighs_more(random):
    """Each size larger weighs more by the foot."""
    return steps("mass_per_metre")


@fact(0.70, 1.0, "times the working pressure", over=STANDARD)
def a_larger_bore_stands_less_pressure(random):
    """Each size larger, made the same way, withstands no more pressure, and mostly less."""
    return steps("working_pressure")


@fact(1.1, 2.05, "times 3000 psi", over="two wire braids, 3/16 to 1/2 in, standards and editions in the table")
def two_wire_braids_stand_3000_psi(random):
    """Hose with two wire braids, up to 1/2 in, is rated for 3000 psi or more. What is printed on it decides."""
    rated = [row.working_pressure for row in hoses() if row.construction.startswith("two wire braid") and row.dash <= 8]
    return np.array(rated) / (3000 * PSI)


@fact(1.5, 12.0, "feet of hose", over="both ends bored to three quarters of 1/4 to 3/4 in hose; " + SAME_FLOW)
def narrow_ends_cost_feet_of_hose(random):
    """A pair of end fittings bored to three quarters of the hose loses as much as a few more feet of hose."""
    found = machines(random)
    narrow = found.hose().replace(end_bore=0.75 * found.bore)
    point = operating_point(found.rig(valve=False, hoses=[narrow], volumetric_efficiency=1.0))
    return point.fitting_loss / (point.hose_losses[0] / (found.length / FOOT))


@fact(0.4080, 0.4090, "ft/s at 1 gpm and 1 in", over="any bore and flow")
def speed_rule(random):
    """Speed in the hose in ft/s is 0.4085 gpm over the square of the bore in inches."""
    inches, gpm = random.uniform(0.2, 1, 200), random.uniform(1, 40, 200)
    return hose.velocity(gpm * GPM, bore=Hose(inches * INCH, 1.0).bore) / FOOT / gpm * inches**2


@fact(0.25, 0.30, "times the pressure", over=MIXED + "; valve shut, an ideal pump")
def half_the_flow_is_a_quarter_of_the_pressure(random):
    """Half the flow needs about a quarter of the pressure, a little more where the hose loses most of it."""
    found = machines(random)
    rig = found.rig(valve=False, volumetric_efficiency=1.0)
    full = operating_point(rig)
    half = operating_point(rig.replace(pump=rig.pump.replace(rated_flow=found.flow / 2)))
    return half.gauge / full.gauge
