"""A plan as steps in order, with its own numbers in them."""

import numpy as np

from jetlib.rig.job.checks import KEEP_MOVING
from jetlib.rig.point.operating_point import operating_point
from jetlib.units import both


def plan_steps(plan):
    """Sentences (a tuple) in the order of the work."""
    job, point, spread = plan.job, plan.point, plan.spread
    idle = operating_point(plan.rig, 0.0)
    end = both(plan.reach.distance, "length")
    gauge = f"{both(spread.low('gauge'), 'pressure')} to {both(spread.high('gauge'), 'pressure')}"
    steps = [
        "Read the no-go list. If anything is on it, stop here.",
        "Ask the occupant what runs into the drain, what was poured down it, what the pipe is made of and whether "
        "it is in good condition. Find the next cleanout in each direction. See where water would go if it backs up.",
        "Put up barriers and signs and guard open lids. Put on eye protection, gloves and boots. Agree on signals "
        "between the person at the controls and the person at the hose.",
        f"Fill the tank, {both(job.tank.volume, 'volume')}, through an air gap or a backflow preventer. Check that the "
        "strainer is clean and the suction valve is open, and that oil and guards are as the manual says.",
        "Look over the hose, couplings and valve. Do not use a hose with cuts, bulges or bare wire.",
        f"Mark the hose where the nozzle is still {_metres(job, 3.0)} in, and where it is at the end of the run, "
        f"{both(job.drain.length, 'length')}.",
        "Secure the open end of the hose in the pipe; nobody holds it. Then rinse the hose at idle without the nozzle. "
        "Stop, relieve the pressure, then fit the nozzle.",
        f"Put the nozzle and at least {_metres(job, 1.0)} of hose into the pipe before you start the pump.",
        f"Start at idle: the gauge should show about {both(idle.gauge, 'pressure', 2)}. Then throttle to "
        f"{100 * np.max(job.throttle):.0f} %: the gauge should read {gauge}. If it is far off, stop and find out "
        "why before you go on.",
        f"Feed the hose as the jets pull it, at about {both(job.run_in_speed, 'velocity', 1)}. Where it sticks, pull "
        f"it back a little and try again. Expect the nozzle to reach about {end}. Never push a hose that will not go "
        f"any farther. {KEEP_MOVING}",
        f"Pull it back slowly, at about {both(job.pull_back_speed, 'velocity', 1)}: "
        f"{both(job.pull_back_time, 'duration', 2)} for the run. {_back(plan)}",
    ]
    if point.bypass_flow > 0.0:
        steps.insert(9, _bypass(point))
    careful = job.drain.careful_limit
    if careful is not None:
        steps.insert(
            2,
            "Look at the pipe by camera before you go beyond idle. The throttle of this plan is for a pipe that you "
            f"have seen to be good; until then keep nozzle pressure at or below {both(careful.limit, 'pressure')}.",
        )
    if job.passes > 1:
        steps.append(f"Make {job.passes} passes in all: {both(job.work_time, 'duration', 2)} with the jets on.")
    if np.isfinite(plan.supply.tank_time):
        steps.append(
            f"Watch the tank: usable water lasts about {both(plan.supply.tank_time, 'duration')} "
            f"({both(spread.low('tank_time'), 'duration')} on the safe side)."
        )
    steps += [
        "At the first mark, throttle down slowly to idle, stop the pump and relieve the pressure. Only then take the "
        "nozzle out.",
        "Look at the pipe, by camera if you have one, and run water. A drain that runs is not always clean.",
        "Drain the pump and hose if it may freeze. Rinse and wash gear and hands. Write down the gauge reading, "
        "the time and what came out.",
    ]
    return tuple(steps)


def _metres(job, most):
    """So much hose from the nozzle, or less in a short run."""
    return both(min(most, job.drain.length / 2.0), "length", 1)


def _back(plan):
    end = min(plan.job.drain.length, plan.reach.hose_distance)
    there = min(end, plan.reach.distance)
    far, force = both(there, "length"), both(plan.reach.pull_back(there), "force")
    return f"From {far}, with the jets on, that needs about {force} at the entry: use the reel, or throttle back."


def _bypass(point):
    share = 100.0 * point.bypass_flow / point.pump_flow
    return (
        f"The valve returns {both(point.bypass_flow, 'flow', 2)} to the tank, {share:.0f} % of what is pumped. "
        "Throttle back until the gauge just begins to fall: the jets work the same, with less fuel and heat."
    )
