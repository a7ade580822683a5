"""The bench's limits: everything that speaks for or against going, a line each, worst first, and the one verdict.

What stops and what is to be minded is for the plan to say (`rig.job.checks`), so that this page and the job agree.
"""

from html import escape

from jetlib.rig.hoses.surge import highest_pressure
from jetlib.rig.job.checks import LONG_ENOUGH
from jetlib.rig.point.cautions import OVER_RATING
from jetlib.screen.bench.pages import job
from jetlib.screen.bench.pages.job import plan_of, still_to_write
from jetlib.screen.drawing.picture import stacked
from jetlib.screen.drawing.plan_picture import VERDICTS, verdict_bar
from jetlib.screen.drawing.plan_sheet import figure
from jetlib.units import text as words_of

ENTRIES = (
    "tank", "refill", "pipe", "run", "fall", "material", "condition", "branches", "stiff", "way", "bends", "debris",
    "suction_bore", "suction_length", "inlet_head",
)  # fmt: skip
_MARKS = {"stop": ("STOP", "red"), "near": ("WATCH", "orange"), "none": ("?", "grey"), "fine": ("ok", "green")}


def draw(state):
    """The Picture of the limits of a BenchState."""
    plan, rows = plan_of(state, stand_in=True), rows_of(state)
    verdict = verdict_of(state)
    words = ". ".join(f"{_MARKS[level][0]}: {name}, {told}".rstrip(".") for level, name, told in rows) + "."
    words = f"At {100 * float(plan.point.throttle):.0f} % throttle: {VERDICTS[verdict][0]}. {words}"
    many = [sum(level == each for level, *_ in rows) for each in ("stop", "near", "none")]
    bar = verdict_bar(verdict, f"{many[0]} to fix, {many[1]} to watch, {many[2]} not filled in.")
    return stacked(words, bar)


def below(state):
    """The rows of the limits as a table that keeps to the width of the page; under it what to put right."""
    rows = "".join(
        f'<tr><td><b class="jl-{_MARKS[level][1]} jl-mark">{_MARKS[level][0]}</b></td>'
        f"<th scope=row>{escape(name)}</th><td>{escape(told)}</td></tr>"
        for level, name, told in rows_of(state)
    )
    return f'<table class="jl-limits">{rows}</table>{job.below(state)}'


def verdict_of(state, rig=None):
    """ "no-go", "caution" or "go" for a Rig: the job's own, or the machine's where the job is not written yet."""
    left = still_to_write(state)
    if not left:
        return plan_of(state, rig).verdict
    of_job = {topic for _, topics, needed, *_ in _ROWS if set(needed) & set(left) for topic in topics}
    against = (each for each in plan_of(state, rig, stand_in=True).certain if each.topic not in of_job)
    return "no-go" if any(each.level == "no-go" for each in against) else "caution"


def rows_of(state):
    """(level, name, words) of every limit, worst first; each hose has its own, the one nearest to its rating first."""
    plan, left, system = plan_of(state, stand_in=True), still_to_write(state), state.system
    found = _hoses(plan, system)
    told = {topic for _, topics, *_ in _ROWS for topic in topics}
    others = dict.fromkeys(each.topic for each in plan.findings if not each.hose and each.topic not in told)
    rows = [*_ROWS, *((topic, (topic,), (), lambda *_: "see below", None) for topic in others)]  # none goes unsaid
    for name, topics, needed, words, unknown in rows:
        open_entries = [each for each in needed if each in left]
        if open_entries:
            found.append(("none", name, f"still to write: {', '.join(open_entries)}"))
            continue
        about = [each for each in plan.findings if not each.hose and each.topic in topics]
        found.append((_level(about, unknown is not None and unknown(plan)), name, words(plan, system)))
    return sorted(found, key=lambda row: list(_MARKS).index(row[0]))


def _level(findings, unknown):
    levels = {each.level for each in findings}
    return "stop" if "no-go" in levels else "none" if unknown else "near" if levels else "fine"


def _hoses(plan, system):
    """The same of each hose: what the line can come to with the jets plugged, and what it may see if they shut."""
    most, rows = highest_pressure(plan.rig), []
    low, _, high = plan.surge.peaks
    for at, hose in enumerate(plan.rig.hoses):
        rating = hose.working_pressure
        told = f"{hose.name}: " if hose.name else ""
        told += "its rating is not known" if rating is None else f"rated for {words_of(rating, 'pressure', system)}"
        told += f"; jets plugged, it can see {figure(most, 'pressure', system)}"
        told += f" ({100 * most / rating:.0f} %)" if rating and most < 1e12 else ""
        ends = f"{words_of(low[at], 'pressure', system)} to {words_of(high[at], 'pressure', system)}"
        told += f"; {ends} if they shut at once: stop slowly"
        about = [each for each in plan.findings if each.hose == at + 1]
        share = max(most, high[at]) / rating if rating else 0.0
        rows.append((share, (_level(about, rating is None), f"hose {at + 1}", told)))
    return [row for _, row in sorted(rows, key=lambda each: -each[0])]


def _pump(plan, system):
    told = f"gauge {words_of(plan.point.gauge, 'pressure', system)}"
    if not plan.rig.valves:
        told = "no valve protects this line: if a jet plugs, nothing limits the pressure"
    rating = plan.rig.pump.rating
    told += f"; rated for {'a pressure that is not known' if rating is None else words_of(rating, 'pressure', system)}"
    close = rating is not None and rating < plan.point.gauge <= OVER_RATING * rating
    return told + (f", {100 * (OVER_RATING - 1):.0f} % or less over it: closer than a gauge can tell" if close else "")


def _engine(plan, system):
    found = plan.supply
    needed = f"{words_of(float(found.power_needed), 'power', system)} at the shaft"
    if found.engine_share is None:
        return f"{needed}; no engine is named"
    there = words_of(float(found.power_available), "power", system)
    return f"{needed} of {there} at its altitude, {100 * float(found.engine_share):.0f} %"


def _pipe(plan, system):
    limit = plan.job.drain.pressure_limit
    gauge, nozzle = (words_of(each, "pressure", system) for each in (plan.point.gauge, plan.point.nozzle_pressure))
    told = f"the gauge reads {gauge}, the nozzle has {nozzle}"
    if limit is None:
        return f"{told}; what the pipe is made of is not filled in"
    told += f"; {limit.family} pipe in good condition is allowed {words_of(limit.limit, 'pressure', system)}"
    careful = plan.job.drain.careful_limit
    return told + (f", {words_of(careful.limit, 'pressure', system)} until it is known to be good" if careful else "")


def _suction(plan, system):
    """The head at the inlet above boiling, beside what the pulses and the manual need of it: never alone."""
    supply, asked = plan.supply, plan.job.tank.required_suction_head
    if supply.acceleration_head is None:
        return f"write the bore and length of the suction hose; {_INLET}"
    head, pulses = (words_of(each, "lift", system) for each in (supply.suction_head, supply.acceleration_head))
    told = f"{head} of head at the inlet; pulses need up to {pulses}"
    return told + (f"; the manual asks for {words_of(asked, 'lift', system)}" if asked else f"; {_INLET}")


def _length(plan, system):
    least = words_of(LONG_ENOUGH * plan.job.drain.bore, "pipe_bore", system)
    given = plan.job.nozzle_length
    told = "measure its rigid length" if given is None else words_of(given, "pipe_bore", system)
    told += f"; {least} or more does not turn around in this pipe"
    return told + (", but can at a branch or in a chamber" if plan.job.drain.branches else "")


def _reach(plan, system):
    far, run = (words_of(float(each), "length", system) for each in (plan.reach.distance, plan.job.drain.length))
    if plan.reach.whole_run:
        left = words_of(float(plan.reach.pull_left(plan.reach.distance)), "force", system)
        return f"all {run}, with {left} of pull left"
    why = {"pull": "from there on the hose drags as hard as the jets pull", "hose": "that is all the hose"}
    return f"{far} of {run}: {why[plan.reach.limited_by]}"


def _water(plan, system):
    lasts, needed = (figure(float(each), "duration", system) for each in (plan.supply.tank_time, plan.job.work_time))
    return f"tank lasts {lasts}; the work takes about {needed}"


def _heat(plan, system):
    found = plan.supply
    limit, when = words_of(found.tank.temperature_limit, "temperature", system), float(found.limit_time)
    if not when < 1e12:
        return f"what returns does not warm the tank to {limit}; the pump's manual has the true limit"
    return f"{limit} after {figure(when, 'duration', system)}; the pump's manual has the true limit"


def _flushing(plan, system):
    found, debris = plan.flushing, plan.job.debris
    depth = "full" if found.full else f"{words_of(found.depth_ratio, 'fraction', system)} deep"
    told = f"the water runs off at {words_of(found.velocity, 'velocity', system)}, the pipe {depth}"
    if found.full:
        return f"{told}: it can back up in the building"
    if found.moves_debris is None:
        return f"{told}; {debris} is no matter of flow alone"
    return f"{told}: {debris} {'goes' if found.moves_debris else 'stays'}"


def _pull(plan, system):
    return f"{words_of(plan.point.reaction, 'force', system)} along the hose"


_INLET = "the pump's manual says what head it needs at the inlet; look there"
_OF_JOB = ("Pipe bore", "Run", "Fall")
#: Name, topics of the findings, entries that must be written first, words, and what tells that it is not known.
_ROWS = (
    ("pump", ("machine",), (), _pump, lambda plan: plan.rig.pump.rating is None),
    ("engine", ("engine",), (), _engine, lambda plan: plan.rig.engine is None),
    ("suction", ("suction",), (), _suction, lambda plan: plan.supply.suction_margin is None),
    ("pipe", ("pipe",), (), _pipe, lambda plan: not plan.job.drain.material or plan.job.drain.condition == "not known"),
    ("nozzle length", ("nozzle",), ("Pipe bore",), _length, lambda plan: plan.job.nozzle_length is None),
    ("pull", ("pull",), (), _pull, None),
    ("reach", ("reach", "bend", "access"), _OF_JOB, _reach, None),
    ("water", ("water",), ("Tank", "Run"), _water, None),
    ("heat", ("heat",), ("Tank",), _heat, None),
    ("flushing", ("debris",), ("Pipe bore", "Fall"), _flushing, None),
)
