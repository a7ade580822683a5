"""Facts of the trade about jets."""

import numpy as np
from trade_fact import GPM, INCH, MIXED, POUND_FORCE, PSI, fact, machines

from jetlib import Jet, Nozzle, Pump, Rig, Unloader, operating_point
from jetlib.physics import reaction, water
from jetlib.tables import drills

BARE = "jets on the pump with no hose, valve held open, 500 to 5000 psi, jets of any edge"
COLD = "water at 0 to 30 degC"


def held(random, *, factor=1.0, pressure=1.0, count=1000):
    """Nozzle flow of bare jets at a held pressure; the same random machines whatever the factors."""
    rig = Rig(
        pump=Pump(60 * GPM),
        valve=Unloader(random.uniform(500, 2000, count) * PSI * pressure, rise=0.0),
        nozzle=Nozzle(
            Jet(
                random.uniform(0.03, 0.07, count) * INCH * factor,
                random.integers(1, 7, count),
                discharge_coefficient=random.uniform(0.6, 0.97, count),
            )
        ),
    )
    point = operating_point(rig)
    assert np.all(point.bypass_flow > 0)
    return point.nozzle_flow


def twice(random):
    """Two generators that will draw the same."""
    seed = int(random.integers(2**31))
    return np.random.default_rng(seed), np.random.default_rng(seed)


@fact(1.209, 1.211, "times the flow", over=BARE)
def ten_per_cent_larger_jets_pass_21_per_cent_more(random):
    """At the same pressure a jet of 10 % larger bore passes 21 % more water."""
    before, after = twice(random)
    return held(after, factor=1.1) / held(before)


@fact(1.08, 1.21, "times the flow", over=MIXED + "; the valve open before and after")
def ten_per_cent_larger_jets_on_a_hose(random):
    """Behind a hose, jets with a 10 % larger bore gain less than 21 %: the hose uses up part of the gain."""
    found = machines(random)
    before, after = (operating_point(found.rig(area=area)) for area in (0.75, 0.75 * 1.21))
    both = (before.bypass_flow > 0) & (after.bypass_flow > 0)
    return (after.nozzle_flow / before.nozzle_flow)[both]


@fact(1.410, 1.418, "times the flow", over=BARE)
def twice_the_pressure_is_41_per_cent_more_flow(random):
    """Twice the pressure pushes only 41 % more water through the same jets."""
    before, after = twice(random)
    return held(after, pressure=2.0) / held(before)


@fact(0.2495, 0.2505, "times the pressure", over="jets on the pump with no hose, valve shut, an ideal pump")
def twice_the_jets_is_a_quarter_of_the_pressure(random):
    """Twice as many jets of one size, on the same flow and no hose, leave a quarter of the pressure."""
    flow, bore, count = random.uniform(3, 20, 500) * GPM, random.uniform(0.03, 0.07, 500) * INCH, 4
    one, two = (operating_point(Rig(pump=Pump(flow), nozzle=Nozzle(Jet(bore, many)))) for many in (count, 2 * count))
    return two.gauge / one.gauge


@fact(0.99999, 1.00001, "times the gauge", over=MIXED + "; edges alike")
def same_area_in_fewer_holes_reads_the_same(random):
    """The same area in fewer, larger holes gives the same gauge: areas add, counts do not."""
    found = machines(random)
    rig = found.rig()
    jet = rig.nozzle.jets[0]
    fewer = rig.replace(nozzle=Nozzle(jet.replace(bore=jet.bore * np.sqrt(jet.count), count=1)))
    return operating_point(fewer).gauge / operating_point(rig).gauge


@fact(1.03, 1.27, "times the flow", over="number drills #50 to #70, the same pressure")
def one_number_drill_larger(random):
    """One number drill larger passes 4 to 26 % more: the steps are uneven, so look at the size and not the number."""
    bores = np.array([each.diameter for each in drills("number") if 50 <= int(each.name) <= 70])
    pump, valve = Pump(60 * GPM), Unloader(2000 * PSI, rise=0.0)
    flow = operating_point(Rig(pump=pump, valve=valve, nozzle=Nozzle(Jet(bores, 4)))).nozzle_flow
    return flow[1:] / flow[:-1]


@fact(0.82, 0.95, "times the gauge", over=MIXED + "; valve shut")
def worn_jets_drop_the_gauge(random):
    """Jets worn 5 % larger in bore drop the full-throttle gauge by 5 to 18 %."""
    found = machines(random)
    new, worn = (operating_point(found.rig(area=area, valve=False)) for area in (1.0, 1.05**2))
    return worn.gauge / new.gauge


@fact(1.12, 1.44, "times the gauge", over=MIXED + "; six jets, valve shut")
def a_plugged_jet_raises_the_gauge(random):
    """One of six jets plugged raises the gauge by up to 44 %, less where the hose loses much of the pressure."""
    found = machines(random)
    clear, plugged = (operating_point(found.rig(area=area, valve=False)) for area in (1.0, 5 / 6))
    return plugged.gauge / clear.gauge


@fact(0.03, 0.17, "of the pump's flow", over=MIXED + "; six jets")
def a_plugged_jet_opens_the_valve(random):
    """With matched jets, one of six plugged returns up to 1/6 of the water to the tank."""
    point = operating_point(machines(random).rig(area=5 / 6))
    return point.bypass_flow / point.pump_flow


@fact(1.0, 1.04, "times the setting", over=MIXED + "; six jets")
def a_plugged_jet_hardly_shows_once_the_valve_is_open(random):
    """With matched jets, one of six plugged moves the gauge by less than 4 %: the valve hides it."""
    found = machines(random)
    return operating_point(found.rig(area=5 / 6)).gauge / found.setting


@fact(0.996, 1.004, "times the rule", over=COLD + ", any edge, 100 to 5000 psi")
def us_orifice_rule(random):
    """gpm = 29.84 Cd d^2 sqrt(psi), d in inches."""
    psi, inches, cd = random.uniform(100, 5000, 500), random.uniform(0.02, 0.1, 500), random.uniform(0.6, 1, 500)
    rig = Rig(
        pump=Pump(200 * GPM),
        valve=Unloader(psi * PSI, rise=0.0),
        nozzle=Nozzle(Jet(inches * INCH, discharge_coefficient=cd)),
        water_temperature=random.uniform(273.2, 303.15, 500),
    )
    return operating_point(rig).nozzle_flow / GPM / (29.84 * cd * inches**2 * np.sqrt(psi))


@fact(12.15, 12.25, "ft/s at 1 psi", over=COLD + ", jets without friction")
def jet_speed_rule(random):
    """Jet speed in ft/s is about 12.2 times the root of the pressure in psi: 668 ft/s at 3000 psi."""
    psi, density = random.uniform(100, 5000, 500), water.density(random.uniform(273.2, 303.15, 500))
    return reaction.jet_velocity(psi * PSI, density=density) / (12 * INCH) / np.sqrt(psi)


@fact(0.0524, 0.0528, "lbf at 1 gpm and 1 psi", over=COLD + "; one jet straight back, without friction")
def reaction_rule(random):
    """A jet pushes back with 0.0526 gpm sqrt(psi) pounds."""
    psi, gpm = random.uniform(500, 5000, 500), random.uniform(1, 20, 500)
    density = water.density(random.uniform(273.2, 303.15, 500))
    return reaction.jet_reaction(gpm * GPM, psi * PSI, density=density) / POUND_FORCE / gpm / np.sqrt(psi)


@fact(0.86, 0.97, "of the pull straight back", over="rear jets at 15 to 30 degrees from the hose")
def rear_angle_keeps_most_of_the_pull(random):
    """Rear jets at 15 to 30 degrees from the hose keep 97 to 87 % of the pull of jets straight back."""
    found = machines(random)
    rig = found.rig()
    aslant = rig.nozzle.jets[0].replace(angle=np.radians(random.uniform(15, 30, found.flow.size)))
    return operating_point(rig.replace(nozzle=Nozzle(aslant))).reaction / operating_point(rig).reaction
