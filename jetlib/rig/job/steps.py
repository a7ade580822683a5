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
        "Read the no-go list. Anything on it: stop here.",
        "Ask the occupant what the drain takes, what was poured down it, what the pipe is made of and whether it is "
        "sound; find the next access both ways; see where "
        "water that comes up would go.",
        "Barriers, signs, lids guarded; eye protection, gloves, boots. Agree signals between controls and hose.",
        f"Tank full: {both(job.tank.volume, 'volume')}, filled through an air gap or backflow preventer. Strainer "
        "clean, suction valve open, oil and guards as the manual says.",
        "Look over the hose, couplings and valve. Cuts, bulges, bare wire: out of use.",
        f"Mark the hose where the nozzle is still {_metres(job, 3.0)} in, and where it is at the end of the run, "
        f"{both(job.drain.length, 'length')}.",
        "Rinse the hose at idle without the nozzle, its end made fast in the pipe and held by nobody. Stop, let the "
        "pressure off, then fit the nozzle.",
        f"Nozzle and at least {_metres(job, 1.0)} of hose into the pipe, before the pump is started.",
        f"Start at idle: the gauge should show about {both(idle.gauge, 'pressure')}. Then throttle to "
        f"{100 * np.max(job.throttle):.0f} %: {gauge}. Far off it: stop and find out why before going on.",
        f"Let the hose in as it pulls, about {both(job.run_in_speed, 'velocity')}, back a little and on again where it "
        f"sticks. Expect the nozzle to come to about {end}. Never push a hose that does not go. {KEEP_MOVING}",
        f"Bring it back slowly, about {both(job.pull_back_speed, 'velocity')}: "
        f"{both(job.pull_back_time, 'duration')} for the run. {_back(plan)}",
    ]
    if job.passes > 1:
        steps.append(f"{job.passes} passes in all; {both(job.work_time, 'duration')} with the jets on.")
    if np.isfinite(plan.supply.tank_time):
        steps.append(
            f"Watch the tank: usable water lasts about {both(plan.supply.tank_time, 'duration')} "
            f"({both(spread.low('tank_time'), 'duration')} on the safe side)."
        )
    steps += [
        "At the first mark: throttle down slowly to idle, then stop the pump, let the pressure off; only then the "
        "nozzle comes "
        "out.",
        "Look at the pipe, by camera where there is one, and run water: a drain that runs may still not be clean.",
        "Drain pump and hose against frost, rinse, wash hands and gear, write down gauge, time and what came out.",
    ]
    return tuple(steps if point.bypass_flow <= 0.0 else [*steps[:9], _bypass(point), *steps[9:]])


def _metres(job, most):
    """So much hose from the nozzle, or less in a short run."""
    return both(min(most, job.drain.length / 2.0), "length")


def _back(plan):
    end = min(plan.job.drain.length, plan.reach.hose_distance)
    force = plan.reach.pull_back(min(end, plan.reach.distance))
    return f"It takes about {both(force, 'force')} at the entry with the jets on: by the reel, or throttle back."


def _bypass(point):
    share = 100.0 * point.bypass_flow / point.pump_flow
    return (
        f"The valve sends {both(point.bypass_flow, 'flow')} back, {share:.0f} % of what is pumped: throttle back until "
        "the gauge just begins to fall, and the same jets work with less fuel and heat."
    )
