"""Go or no-go: what speaks against a plan, and what to settle before."""

from dataclasses import dataclass
from functools import partial

import numpy as np

from jetlib import tables
from jetlib.physics.hose_drag import longest_rigid_body
from jetlib.rig.hoses.surge import highest_pressure
from jetlib.rig.hoses.weight import bend_room, nearest_size, usual_outside
from jetlib.rig.job.flushing import FOR_CUTTING
from jetlib.rig.job.supply import engine_cautions, suction_cautions
from jetlib.rig.point.operating_point import operating_point
from jetlib.units import both

#: Nozzle with its rigid end over the pipe's bore: at the first it can turn around, from the second on it hardly can.
TURNS_ROUND, LONG_ENOUGH = 1.0, 1.5
#: How long a machine may be forgotten with the outlet shut, s. Common practice, no source.
LEFT_ALONE = 3600.0
LEVELS = ("no-go", "caution")
KEEP_MOVING = "Keep the nozzle moving: a jet that stays in one place cuts the pipe."
HAZARDS = (
    "Injection: a jet goes through gloves and skin, and the wound looks small. Go to a hospital at once and say that "
    "it is a high-pressure injection with dirty water. Never put a hand near a jet. Never feel for a leak by hand.",
    "The nozzle runs only inside the pipe. Stop the pump and relieve the pressure before you bring it out, change "
    "it or look at it. The person at the controls must be able to see or hear the person at the hose at all times.",
    "Drains hold germs, needles and chemicals. Wear sealed eye protection, gloves, boots and clothing that can be "
    "washed. Wash before eating. Ask what was poured down the drain.",
    "Backflow: fill from a water main only through an air gap or the backflow preventer that the local code "
    "requires, never with the filling hose in the tank's water.",
    "Sewer gas and lack of air: nobody enters a manhole or pit without the permit, tests, ventilation and rescue "
    "that the rules for confined spaces require. Keep exhaust gas out of rooms and pits. No open flame.",
    "Keep others out: barriers, traffic signs, guarded lids. Tell the occupants: traps can blow back and drains "
    "can back up.",
    "The machine's manual, local codes and licensed practice decide, not this sheet.",
)
_TOPICS = {"HOSE": "hose pressure", "ENGINE": "engine", "MOTOR": "engine"}  # of a caution, by its first word


@dataclass(frozen=True)
class Finding:
    """level: "no-go" or "caution". topic: a word or two. text: what is wrong, how much, and what helps.

    hose: number of the hose that it is about, from the pump on; 0 for none.
    """

    level: str
    topic: str
    text: str
    hose: int = 0


def findings(plan):
    """Findings of a Plan, a tuple, no-go first."""
    return tuple(sorted([*plan.certain, *_reach(plan), *_water(plan)], key=lambda each: LEVELS.index(each.level)))


def certain(plan):
    """The Findings that rest on no draws, a list: every no-go is among them."""
    return [*_machine(plan), *_hose_pressure(plan), *_surge(plan), *_pipe(plan), *_nozzle(plan), *_way_in(plan),
            *_bends(plan), *_debris(plan)]  # fmt: skip


def _about(topic, hose=0):
    """What makes a no-go of a text, and what makes a caution of it."""
    return (partial(Finding, level, topic, hose=hose) for level in LEVELS)


def _machine(plan):
    for text in plan.point.cautions:  # those that begin in capitals say: do not run it
        first, second = text.split()[:2]
        level = LEVELS[not (first.isupper() and len(first) > 1)]
        number = int(second) if first.upper() == "HOSE" and second.isdigit() else 0
        yield Finding(level, _TOPICS.get(first.upper(), "machine"), text, number)
    if plan.rig.pump.rating is None:
        yield Finding("caution", "machine", "The pump's rating is not given: read it on its plate.")
    yield from (Finding("caution", "engine", text) for text in engine_cautions(plan.supply))
    no_go, caution = _about("suction")
    for text in suction_cautions(plan.supply):
        yield no_go(text) if text.startswith("THE PUMP CAVITATES") else caution(text)
    if plan.job.tank.required_suction_head is None:
        yield caution("The pump's manual says what head it needs at the inlet: enter it.")
    if plan.shut is not None and plan.shut.limit_time < LEFT_ALONE:
        yield Finding(
            "caution",
            "heat",
            f"With the outlet shut or a nozzle plugged, the water reaches its limit after "
            f"{both(plan.shut.limit_time, 'duration')}: stop the machine whenever you do not need water.",
        )


def _hose_pressure(plan):
    highest = highest_pressure(plan.rig)
    each = zip(plan.rig.hoses, plan.needed, plan.surge.over, strict=True) if plan.needed else ()
    for number, (hose, needed, over) in enumerate(each, start=1):
        no_go, caution = _about("hose pressure", number)
        rated = hose.working_pressure
        if rated is None:
            yield caution(
                f"Hose {number} has no working pressure here: read it on the hose. This line can reach "
                f"{both(highest, 'pressure')} when a nozzle plugs."
            )
        elif highest > rated:
            yield no_go(
                f"HOSE {number} IS RATED FOR {both(rated, 'pressure')} and this line can reach "
                f"{both(highest, 'pressure')} when a nozzle plugs: use another hose, or have the valve set lower."
            )
        elif needed > rated and not over:
            yield caution(
                f"Hose {number} is rated for {both(rated, 'pressure')}. Setting, rise, a reserve of 10 % (common "
                f"practice, no source) and the surge come to {both(needed, 'pressure')}: choose a hose with a higher "
                "rating."
            )


def _surge(plan):
    found = plan.surge
    each = zip(found.sentences, found.over, found.likely_over, strict=True)
    for number, (told, over, likely) in enumerate(each, start=1):
        no_go, caution = _about("surge", number)
        at_once = f"If the jets plug all at once: {told[0].lower()}{told[1:]}"
        if likely:
            yield no_go(
                f"HOSE {number} IS NOT RATED FOR A SURGE. {at_once} Use a hose that is rated higher, or wider, or have "
                "the valve set lower."
            )
        elif over:
            yield caution(at_once)
    disc = plan.rig.burst_disc
    if disc is not None and np.any(found.peaks[2] > disc.rating):
        yield Finding("caution", "surge", "If the jets plug all at once, the surge can break the burst disc.")


def _pipe(plan):
    drain, point = plan.job.drain, plan.point
    no_go, caution = _about("pipe")
    limit, careful = drain.pressure_limit, drain.careful_limit
    weak = "" if careful is None else _as_weak(plan.rig, careful)
    if limit is None:
        codes = (f"{each.family} {both(each.limit, 'pressure')}" for each in tables.pipe_limits() if each.coded)
        yield caution(
            "What is the pipe made of, and is it in good condition? Ask before you choose the pressure. Codes allow "
            f"{', '.join(codes)}, in good condition. {weak}"
        )
    if drain.condition == "damaged":
        yield caution(
            "The pipe is damaged: no limit holds for it (EN 14654-1: it depends on pipe, condition and nozzle). Ask "
            f"its owner, look by camera first, and use no more pressure than the work needs. {weak}"
        )
    if limit is None:
        return
    told = f"{limit.family} pipe is allowed {both(limit.limit, 'pressure')} ({limit.source}; {limit.confidence})"
    if point.nozzle_pressure > limit.limit:
        yield no_go(
            f"TOO MUCH FOR THE PIPE: nozzle pressure is {both(point.nozzle_pressure, 'pressure')}; in good condition "
            f"{told}. Throttle back, have the valve set lower, or fit larger jets."
        )
    elif point.gauge > limit.limit and careful is None:
        yield caution(
            f"The gauge reads {both(point.gauge, 'pressure')}; in good condition {told}, and the code does not say "
            f"where that is measured. Nozzle pressure is {both(point.nozzle_pressure, 'pressure')}. {KEEP_MOVING}"
        )
    if drain.condition == "not known":
        yield caution(
            f"Nobody has seen what condition the pipe is in; in good condition {told}. Look by camera first. {weak}"
        )


def _as_weak(rig, careful):
    """What to do in a pipe that nobody knows to be good: a sentence with the PipeLimit to keep below."""
    throttles = np.linspace(0.0, 1.0, 101)
    below = throttles[np.asarray(operating_point(rig, throttles).nozzle_pressure) <= careful.limit]
    told = (
        f"which this rig has at {100.0 * below[-1]:.0f} % throttle" if len(below) else "less than this rig has at idle"
    )
    return (
        f"Until then treat it as weak: begin at idle, and keep nozzle pressure at or below "
        f"{both(careful.limit, 'pressure')}, {told}. That is the code's lowest limit, for {careful.family}; that it is "
        f"low enough here is common practice, no source. {KEEP_MOVING}"
    )


def _nozzle(plan):
    job, bore = plan.job, plan.job.drain.bore
    no_go, caution = _about("nozzle")
    longer = (
        f"Fit a longer rigid piece behind it: {both(LONG_ENOUGH * bore, 'pipe_bore')}, 1.5 times the bore, is the rule "
        "of the trade press (2023) and of the water jetting associations' codes (from memory)."
    )
    if plan.reach.pull <= 0.0:
        yield Finding("no-go", "pull", plan.reach.cautions[0])
    if job.nozzle_length is None:
        yield caution(
            f"Measure the rigid nozzle length. It must be {both(LONG_ENOUGH * bore, 'pipe_bore')} or more, or the "
            f"nozzle can turn around and come back at you. {longer}"
        )
    elif job.nozzle_length <= TURNS_ROUND * bore:
        yield no_go(
            f"THE NOZZLE CAN TURN AROUND in this pipe and come back at you: its rigid length is "
            f"{both(job.nozzle_length, 'pipe_bore')} and the pipe is {both(bore, 'pipe_bore')} wide. {longer}"
        )
    elif job.nozzle_length < LONG_ENOUGH * bore:
        yield caution(
            f"The nozzle can turn around: its rigid length is {both(job.nozzle_length, 'pipe_bore')}, "
            f"{np.floor(100.0 * job.nozzle_length / bore) / 100.0:.2f} times the pipe's bore. {longer}"
        )
    if job.drain.branches:
        yield caution(
            "A branch, a manhole or a wider stretch gives the nozzle more room to turn around than the pipe does: "
            "measure the widest place it passes, and take it past there at idle."
        )
    if job.nozzle_diameter is not None and job.nozzle_diameter >= job.opening:
        yield no_go(
            f"The nozzle is {both(job.nozzle_diameter, 'pipe_bore')} across and the opening "
            f"is {both(job.opening, 'pipe_bore')}: it does not go in."
        )


def _way_in(plan):
    for number, hose in _in_the_pipe(plan):
        across, opening = usual_outside(hose), plan.job.opening
        if across >= opening:
            yield Finding(
                "no-go",
                "access",
                f"Hose {number} is about {both(across, 'pipe_bore')} thick and the opening is "
                f"{both(opening, 'pipe_bore')}: it does not go in.",
            )


def _bends(plan):
    job, bore = plan.job, plan.job.drain.bore
    no_go, caution = _about("bend")
    for number, hose in _in_the_pipe(plan):
        size = nearest_size(float(hose.bore))
        needed = size.bend_radius if hose.bend_radius is None else hose.bend_radius
        for at, bend in enumerate(job.drain.bends, start=1):
            room = float(bend_room(bore, size.outside_diameter_max, bend=bend.angle, bend_radius=bend.radius))
            if 0.0 < room < needed:
                told = "" if hose.bend_radius is not None else ", by the table for a wire-braid hose of its bore"
                yield no_go(
                    f"Hose {number} needs a bend radius of {both(needed, 'coil_diameter')}{told}; bend {at} leaves "
                    f"it {both(room, 'coil_diameter')}: use a smaller or more flexible hose for the last part."
                )
    if job.nozzle_length is None or job.nozzle_diameter is None or job.nozzle_diameter >= bore:
        return
    for at, bend in enumerate(job.drain.bends, start=1):
        radius = bore / 2.0 if bend.radius is None else bend.radius
        longest = longest_rigid_body(bore, radius, job.nozzle_diameter)
        if job.nozzle_length > longest:
            yield caution(
                f"The nozzle may not fit around bend {at}: the longest rigid piece that passes is "
                f"{both(longest, 'pipe_bore')}, and only in a bend that leaves it room."
            )


def _in_the_pipe(plan):
    """(number, Hose) of each hose that comes into the pipe, the one at the nozzle first."""
    run = min(plan.job.drain.length, plan.reach.hose_distance)
    for number, hose in reversed(list(enumerate(plan.rig.hoses, start=1))):
        if run > 0.0 and hose.length > 0.0:
            yield number, hose
        run -= hose.length


def _reach(plan):
    reach, run = plan.reach, plan.job.drain.length
    _, caution = _about("reach")
    if reach.hose_distance < run:
        helps = [option.sentence for option in plan.options if option.safe and option.reach.hose_distance >= run]
        text = f"The hose is long enough for {both(reach.hose_distance, 'length')} of the {both(run, 'length')}."
        yield caution(" ".join([text, *helps]))
    if reach.pull <= 0.0:
        return
    share = plan.spread.share_below("pull_distance", min(run, reach.hose_distance))
    if reach.pull_distance < run:
        yield caution(
            f"The jets are likely to stop at {both(reach.pull_distance, 'length')} of {both(run, 'length')}: work from "
            "the other end too, or use a lighter hose or jets that pull more."
        )
    elif share > 0.1:
        yield caution(
            f"In {100 * share:.0f} of 100 cases that fit what is known, the nozzle stops short of the end of the run."
        )
    yield from map(caution, reach.hose_cautions)


def _water(plan):
    job, supply = plan.job, plan.supply
    needed = both(job.work_time, "duration")
    _, caution = _about("water")
    if supply.tank_time < job.work_time:
        yield caution(
            f"The tank lasts {both(supply.tank_time, 'duration')} and the work takes {needed}: refill it, use a "
            "larger tank, or make fewer passes. Air damages the pump and makes the hose jump."
        )
    elif plan.spread.low("tank_time") < job.work_time:
        yield caution(
            f"The tank may last only {both(plan.spread.low('tank_time'), 'duration')} and the work takes {needed}."
        )
    soonest = min(supply.limit_time, plan.spread.low("limit_time"))
    if soonest < job.work_time:
        yield Finding(
            "caution",
            "heat",
            f"The bypass may heat the water to {both(job.tank.temperature_limit, 'temperature')} after "
            f"{both(soonest, 'duration')}, and the work takes {needed}: throttle back until the valve closes, or let "
            "it cool. The pump's limit is in its manual.",
        )


def _debris(plan):
    _, caution = _about("debris")
    yield from map(caution, plan.flushing.cautions)
    if plan.job.debris in FOR_CUTTING:
        yield caution(FOR_CUTTING[plan.job.debris])
