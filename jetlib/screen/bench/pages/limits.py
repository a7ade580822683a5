"""The bench's limits: everything that speaks for or against going, a line each, worst first, and the one verdict.

What stops and what is to be minded is for the plan to say (`rig.job.checks`), so that this page and the job agree.
"""

from jetlib.rig.hoses.pipe_run import highest_pressure
from jetlib.rig.hoses.surge import surge
from jetlib.rig.job.checks import LONG_ENOUGH
from jetlib.rig.point.cautions import OVER_RATING
from jetlib.screen.bench.entries.bars import WIDTH
from jetlib.screen.bench.pages.job import plan_of, still_to_write
from jetlib.screen.bench.pages.map import hose_name
from jetlib.screen.drawing.chart import text
from jetlib.screen.drawing.picture import stacked
from jetlib.screen.drawing.plan_picture import VERDICTS, verdict_bar
from jetlib.screen.drawing.plan_sheet import figure
from jetlib.units import text as words_of

ROWS = (("tank", "refill"), ("pipe", "run", "fall"), ("material", "stiff"), ("way", "bends", "debris"))
_MARKS = {"stop": ("STOP", "red"), "near": ("MIND", "orange"), "none": ("?", "grey"), "fine": ("ok", "green")}
_LINE = 18


def draw(state):
    """The Picture of the limits of a BenchState."""
    plan, rows = plan_of(state, stand_in=True), rows_of(state)
    verdict = verdict_of(state)
    words = ". ".join(f"{_MARKS[level][0]}: {name}, {told}".rstrip(".") for level, name, told in rows) + "."
    words = f"At {100 * float(plan.point.throttle):.0f} % throttle: {VERDICTS[verdict][0]}. {words}"
    many = [sum(level == each for level, *_ in rows) for each in ("stop", "near", "none")]
    bar = verdict_bar(verdict, f"{many[0]} to put right, {many[1]} to mind, {many[2]} that nobody has written.")
    return stacked(words, bar, _picture(rows))


def verdict_of(state):
    """ "no-go", "caution" or "go": the job's own, and what the machine alone says where the job is not written yet."""
    if not still_to_write(state):
        return plan_of(state).verdict
    return "no-go" if any(level == "stop" for level, *_ in rows_of(state)) else "caution"


def rows_of(state):
    """(level, name, words) of every limit, worst first."""
    plan, left, system = plan_of(state, stand_in=True), still_to_write(state), state.system
    hoses, job = plan.rig.hoses, plan.job
    unrated = any(hose.working_pressure is None for hose in hoses)
    rows = [
        ("pump", ("machine",), _pump(plan, system), plan.rig.pump.rating is None, ()),
        ("engine", ("engine",), _engine(plan, system), plan.rig.engine is None, ()),
        ("hose pressure", ("hose pressure",), _hose(plan, system), unrated, ()),
        ("surge", ("surge",), _surge(plan, system), unrated, ()),
        ("suction", ("suction",), "the pump's manual says what head it needs at the inlet; look there", True, ()),
        ("pipe", ("pipe",), _pipe(plan, system), not job.drain.material, ()),
        ("nozzle length", ("nozzle",), _length(plan, system), job.nozzle_length is None, ("Pipe bore",)),
        ("pull", ("pull",), f"{words_of(plan.point.reaction, 'force', system)} along the hose", False, ()),
        ("reach", ("reach", "bend", "access"), _reach(plan, system), False, ("Pipe bore", "Run", "Fall")),
        ("water", ("water",), _water(plan, system), False, ("Tank", "Run")),
        ("heat", ("heat",), _heat(plan, system), False, ("Tank",)),
        ("flushing", ("debris",), _flushing(plan, system), False, ("Pipe bore", "Fall")),
    ]
    told = {topic for _, topics, *_ in rows for topic in topics}
    others = dict.fromkeys(each.topic for each in plan.findings if each.topic not in told)  # none goes unsaid
    rows += [(topic, (topic,), "see below", False, ("Pipe bore", "Run", "Fall")) for topic in others]
    found = []
    for name, topics, told, unknown, needed in rows:
        open_entries = [each for each in needed if each in left]
        if open_entries:
            found.append(("none", name, f"still to write: {', '.join(open_entries)}"))
            continue
        levels = {each.level for each in plan.findings if each.topic in topics}
        level = "stop" if "no-go" in levels else "none" if unknown else "near" if levels else "fine"
        found.append((level, name, told))
    return sorted(found, key=lambda row: list(_MARKS).index(row[0]))


def _pump(plan, system):
    told = f"gauge {words_of(plan.point.gauge, 'pressure', system)}"
    if not plan.rig.valves:
        told = "no valve protects this line: if a jet plugs, nothing limits the pressure"
    rating = plan.rig.pump.rating
    told += f"; rated for {'nobody knows what' if rating is None else words_of(rating, 'pressure', system)}"
    close = rating is not None and rating < plan.point.gauge <= OVER_RATING * rating
    return told + (f", {100 * (OVER_RATING - 1):.0f} % or less over it: closer than a gauge can tell" if close else "")


def _engine(plan, system):
    found = plan.supply
    needed = f"{words_of(float(found.power_needed), 'power', system)} at the shaft"
    if found.engine_share is None:
        return f"{needed}; no engine is named"
    there = words_of(float(found.power_available), "power", system)
    return f"{needed} of {there} at its altitude, {100 * float(found.engine_share):.0f} %"


def _hose(plan, system):
    """The hose nearest to its working pressure; with the jets plugged the line sees what the valve lets it."""
    most = highest_pressure(plan.rig)
    told = f"jets plugged, the line can come to {figure(most, 'pressure', system)}"
    rated = [(hose.working_pressure, at, hose) for at, hose in enumerate(plan.rig.hoses, 1) if hose.working_pressure]
    if rated:
        rating, at, hose = min(rated, key=lambda each: each[0])
        told += f"; {hose_name(hose, at)} is rated for {words_of(rating, 'pressure', system)}"
        told += f" ({100 * most / rating:.0f} %)" if most < 1e12 else ""
    bare = [str(at) for at, hose in enumerate(plan.rig.hoses, start=1) if hose.working_pressure is None]
    return told + (f"; no rating given for section {', '.join(bare)}" if bare else "")


def _surge(plan, system):
    low, _, high = surge(plan.point).peaks
    at = max(range(len(high)), key=lambda each: high[each] / (plan.rig.hoses[each].working_pressure or 1e9))
    return (
        f"{hose_name(plan.rig.hoses[at], at + 1)} may see {words_of(low[at], 'pressure', system)} to "
        f"{words_of(high[at], 'pressure', system)} if the jets shut at once; stop slowly"
    )


def _pipe(plan, system):
    limit = plan.job.drain.pressure_limit
    told = f"the nozzle has {words_of(plan.point.nozzle_pressure, 'pressure', system)}"
    if limit is None:
        return f"{told}; of what the pipe is made, nobody has written"
    return f"{told}; sound {limit.family} pipe is allowed {words_of(limit.limit, 'pressure', system)}"


def _length(plan, system):
    least = words_of(LONG_ENOUGH * plan.job.drain.bore, "pipe_bore", system)
    given = plan.job.nozzle_length
    told = "measure its rigid length" if given is None else words_of(given, "pipe_bore", system)
    return f"{told}; {least} or more does not turn around in this pipe"


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


def _picture(rows):
    parts, y = [], 24
    for level, name, told in rows:
        mark, colour = _MARKS[level]
        parts.append(f'<rect class="jl-line-{colour}" fill="none" stroke-width="2" x="14" y="{y - 14}" width="52" '
                     'height="20"/>')  # fmt: skip
        parts += [text(40, y, mark, colour=colour, anchor="middle", weight="bold"), text(78, y, name, weight="bold")]
        lines = _wrapped(told)
        parts += [text(186, y + _LINE * number, line) for number, line in enumerate(lines)]
        y += _LINE * (len(lines) - 1) + 32
    return "".join(parts), WIDTH, y


def _wrapped(words, width=86):
    lines, line = [], ""
    for word in words.split():
        if line and len(line) + len(word) >= width:
            lines.append(line)
            line = ""
        line += f" {word}" if line else word
    return [*lines, line]
