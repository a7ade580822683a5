"""The bench's job and its limits: this rig in that drain, what speaks for or against going, and the one verdict.

What stops and what is to be minded is for the plan to say (`rig.job.checks`), so that both pages agree.
"""

from html import escape

from jetlib.errors import JetlibError
from jetlib.rig.hoses.surge import highest_pressure
from jetlib.rig.job.checks import LONG_ENOUGH
from jetlib.rig.job.job import Job
from jetlib.rig.job.plan import plan_job
from jetlib.rig.parts.part import remembered
from jetlib.rig.parts.site import Bend, Drain, Tank
from jetlib.rig.point.cautions import OVER_RATING
from jetlib.screen.bench.entries.entry import SHEET, UNSEEN, meaning_of
from jetlib.screen.bench.pages import Page
from jetlib.screen.drawing.picture import stacked
from jetlib.screen.drawing.plan_picture import VERDICTS, figure, picture_of, verdict_bar
from jetlib.units import Told

_STAND_IN = {"tank": "100 gal", "pipe": "4 in", "run": "150 ft", "fall": "2 %"}
_MARKS = {"stop": ("STOP", "red"), "near": ("WATCH", "orange"), "none": ("?", "grey"), "fine": ("ok", "green")}

# --- the job ----------------------------------------------------------------------------------------


def draw(state):
    """The Picture of the plan of a BenchState."""
    return picture_of(plan_of(state), state.system, findings=False)


def below(state):
    """What to put right and what to settle, as a list that keeps to the width of the page."""
    if still_to_write(state):
        return ""
    told = "".join(
        f"<li>{'<b>NO GO:</b> ' if each.level == 'no-go' else ''}{escape(each.text)}</li>"
        for each in plan_of(state).findings
    )
    return f'<div style="line-height:1.4;max-width:820px"><b>To settle first</b><ul>{told}</ul></div>' if told else ""


_CARDS = (
    ("Print job card", "Verdict, what to settle, the steps and every number of this job",
     lambda state: (plan_of(state), state.shown)),
    ("Print gauge card", "What this rig's gauge reads when nothing is wrong, and what another reading means",
     lambda state: (state.healthy.rig, state.healthy)),
)  # fmt: skip
JOB = Page((
    "job_name", "debris", "pipe", "run", "fall", "way", "bends", "access", "material", "condition", "branches", "stiff",
    "passes", "outside", "tank", "refill", "suction_bore", "suction_length", "inlet_head",
), draw, below=below, cards=_CARDS)  # fmt: skip
_ASKED = (*JOB.entries, "throttle", "system")


def still_to_write(state):
    """Labels of what must be written before there is a job, a list."""
    return [SHEET[name].label for name in UNSEEN if state.value(name) is None]


def plan_of(state, rig=None, *, stand_in=False):
    """The Plan of the job on the sheet with a Rig, by default the one that the pages show. May raise JetlibError.

    stand_in: with figures in place of what is not written, for those who ask only about the machine.
    """
    unknowns, left = state.shown.unknowns if rig is None else None, still_to_write(state)
    rig = state.shown.rig if rig is None else rig
    if left and not stand_in:
        raise JetlibError(f"still to write: {', '.join(left)}")
    texts = (state.held["sheet"][name] or _STAND_IN.get(name, "") for name in _ASKED)
    return _plan(rig, unknowns, tuple(texts))


@remembered(8)
def _plan(rig, unknowns, texts):
    asked = {name: meaning_of(name, typed) for name, typed in zip(_ASKED, texts, strict=True)}
    run, bends = asked["run"], asked["bends"]
    drain = Drain(
        bore=asked["pipe"],
        length=run,
        fall=asked["fall"],
        name=f"{Told(asked['system']).pipe_bore(asked['pipe'])} pipe",
        nozzle_goes=asked["way"],
        bends=[Bend(run * (number + 1) / (bends + 1)) for number in range(bends)],  # spread evenly
        material=asked["material"],
        condition=asked["condition"],
        branches=asked["branches"],
    )
    job = Job(
        name=asked["job_name"],
        drain=drain,
        tank=Tank(
            asked["tank"],
            refill_flow=asked["refill"],
            suction_bore=asked["suction_bore"],
            suction_length=asked["suction_length"],
            required_suction_head=asked["inlet_head"],
        ),
        debris=asked["debris"],
        access_bore=asked["access"],
        hose_outside=asked["outside"],
        nozzle_length=asked["stiff"],
        passes=asked["passes"],
        throttle=asked["throttle"],
    )
    return plan_job(rig, job, unknowns=unknowns)


# --- the limits -------------------------------------------------------------------------------------


def draw_limits(state):
    """The Picture of the limits of a BenchState."""
    rows, verdict = rows_of(state), verdict_of(state)
    words = ". ".join(f"{_MARKS[level][0]}: {name}, {told}".rstrip(".") for level, name, told in rows) + "."
    words = f"At {100 * state.value('throttle'):.0f} % throttle: {VERDICTS[verdict][0]}. {words}"
    many = [sum(level == each for level, *_ in rows) for each in ("stop", "near", "none")]
    bar = verdict_bar(verdict, f"{many[0]} to fix, {many[1]} to watch, {many[2]} not filled in.")
    return stacked(words, bar)


def below_limits(state):
    """The rows of the limits as a table that keeps to the width of the page; under it what to put right."""
    rows = "".join(
        f'<tr><td><b class="jl-{_MARKS[level][1]} jl-mark">{_MARKS[level][0]}</b></td>'
        f"<th scope=row>{escape(name)}</th><td>{escape(told)}</td></tr>"
        for level, name, told in rows_of(state)
    )
    return f'<table class="jl-limits">{rows}</table>{below(state)}'


LIMITS = Page((
    "tank", "refill", "pipe", "run", "fall", "material", "condition", "branches", "stiff", "way", "bends", "debris",
    "suction_bore", "suction_length", "inlet_head",
), draw_limits, below=below_limits)  # fmt: skip


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
    plan, left, told = plan_of(state, stand_in=True), still_to_write(state), Told(state.system)
    found, by_topic = _hoses(plan, told), {}
    for each in plan.findings:
        if not each.hose:
            by_topic.setdefault(each.topic, []).append(each)
    known = {topic for _, topics, *_ in _ROWS for topic in topics}
    others = [topic for topic in by_topic if topic not in known]
    rows = [*_ROWS, *((topic, (topic,), (), lambda *_: "see below", None) for topic in others)]  # none goes unsaid
    for name, topics, needed, words, unknown in rows:
        if open_entries := [each for each in needed if each in left]:
            found.append(("none", name, f"still to write: {', '.join(open_entries)}"))
            continue
        about = [each for topic in topics for each in by_topic.get(topic, ())]
        found.append((_level(about, unknown is not None and unknown(plan)), name, words(plan, told)))
    return sorted(found, key=lambda row: list(_MARKS).index(row[0]))


def _level(findings, unknown):
    levels = {each.level for each in findings}
    return "stop" if "no-go" in levels else "none" if unknown else "near" if levels else "fine"


def _hoses(plan, told):
    """The same of each hose: what the line can come to with the jets plugged, and what it may see if they shut."""
    most, rows = highest_pressure(plan.rig), []
    low, _, high = plan.surge.peaks
    for at, hose in enumerate(plan.rig.hoses):
        rating = hose.working_pressure
        said = f"{hose.name}: " if hose.name else ""
        said += "its rating is not known" if rating is None else f"rated for {told.pressure(rating)}"
        said += f"; jets plugged, it can see {figure(most, 'pressure', told.system)}"
        said += f" ({100 * most / rating:.0f} %)" if rating and most < 1e12 else ""
        said += f"; {told.pressure(low[at])} to {told.pressure(high[at])} if they shut at once: stop slowly"
        about = [each for each in plan.findings if each.hose == at + 1]
        share = max(most, high[at]) / rating if rating else 0.0
        rows.append((share, (_level(about, rating is None), f"hose {at + 1}", said)))
    return [row for _, row in sorted(rows, key=lambda each: -each[0])]


def _pump(plan, told):
    gauge, rating = plan.point.gauge, plan.rig.pump.rating
    said = f"gauge {told.pressure(gauge)}"
    if not plan.rig.valves:
        said = "no valve protects this line: if a jet plugs, nothing limits the pressure"
    if rating is None:
        return f"{said}; rated for a pressure that is not known"
    said += f"; rated for {told.pressure(rating)}"
    close = rating < gauge <= OVER_RATING * rating
    return said + (f", {100 * (OVER_RATING - 1):.0f} % or less over it: closer than a gauge can tell" if close else "")


def _engine(plan, told):
    found = plan.supply
    needed = f"{told.power(found.power_needed)} at the shaft"
    if found.engine_share is None:
        return f"{needed}; no engine is named"
    there = told.power(found.power_available)
    return f"{needed} of {there} at its altitude, {100 * float(found.engine_share):.0f} %"


def _pipe(plan, told):
    drain, point = plan.job.drain, plan.point
    said = f"the gauge reads {told.pressure(point.gauge)}, the nozzle has {told.pressure(point.nozzle_pressure)}"
    limit, careful = drain.pressure_limit, drain.careful_limit
    if limit is None:
        return f"{said}; what the pipe is made of is not filled in"
    said += f"; {limit.family} pipe in good condition is allowed {told.pressure(limit.limit)}"
    return said + (f", {told.pressure(careful.limit)} until it is known to be good" if careful else "")


def _suction(plan, told):
    """The head at the inlet above boiling, beside what the pulses and the manual need of it: never alone."""
    supply, asked = plan.supply, plan.job.tank.required_suction_head
    if supply.acceleration_head is None:
        return f"write the bore and length of the suction hose; {_INLET}"
    said = f"{told.lift(supply.suction_head)} of head at the inlet; "
    said += f"pulses need up to {told.lift(supply.acceleration_head)}; "
    return said + (f"the manual asks for {told.lift(asked)}" if asked else _INLET)


def _length(plan, told):
    drain, given = plan.job.drain, plan.job.nozzle_length
    said = "measure its rigid length" if given is None else told.pipe_bore(given)
    said += f"; {told.pipe_bore(LONG_ENOUGH * drain.bore)} or more does not turn around in this pipe"
    return said + (", but can at a branch or in a chamber" if drain.branches else "")


def _reach(plan, told):
    reach, run = plan.reach, told.length(plan.job.drain.length)
    if reach.whole_run:
        return f"all {run}, with {told.force(reach.pull_left(reach.distance))} of pull left"
    why = {"pull": "from there on the hose drags as hard as the jets pull", "hose": "that is all the hose"}
    return f"{told.length(reach.distance)} of {run}: {why[reach.limited_by]}"


def _water(plan, told):
    lasts = figure(float(plan.supply.tank_time), "duration", told.system)
    return f"tank lasts {lasts}; the work takes about {told.duration(plan.job.work_time)}"


def _heat(plan, told):
    limit, when = told.temperature(plan.supply.tank.temperature_limit), float(plan.supply.limit_time)
    said = f"{limit} after {figure(when, 'duration', told.system)}"
    if not when < 1e12:
        said = f"what returns does not warm the tank to {limit}"
    return f"{said}; the pump's manual has the true limit"


def _flushing(plan, told):
    found, debris = plan.flushing, plan.job.debris
    depth = "full" if found.full else f"{told.fraction(found.depth_ratio)} deep"
    said = f"the water runs off at {told.velocity(found.velocity)}, the pipe {depth}"
    if found.full:
        return f"{said}: it can back up in the building"
    if found.moves_debris is None:
        return f"{said}; {debris} is no matter of flow alone"
    return f"{said}: {debris} {'goes' if found.moves_debris else 'stays'}"


_INLET = "the pump's manual says what head it needs at the inlet; look there"
_OF_JOB = ("Pipe bore", "Run", "Fall")
#: Name, topics of the findings, entries that must be written first, words, and what tells that it is not known.
_ROWS = (
    ("pump", ("machine",), (), _pump, lambda plan: plan.rig.pump.rating is None),
    ("engine", ("engine",), (), _engine, lambda plan: plan.rig.engine is None),
    ("suction", ("suction",), (), _suction, lambda plan: plan.supply.suction_margin is None),
    ("pipe", ("pipe",), (), _pipe, lambda plan: not plan.job.drain.material or plan.job.drain.condition == "not known"),
    ("nozzle length", ("nozzle",), ("Pipe bore",), _length, lambda plan: plan.job.nozzle_length is None),
    ("pull", ("pull",), (), lambda plan, told: f"{told.force(plan.point.reaction)} along the hose", None),
    ("reach", ("reach", "bend", "access"), _OF_JOB, _reach, None),
    ("water", ("water",), ("Tank", "Run"), _water, None),
    ("heat", ("heat",), ("Tank",), _heat, None),
    ("flushing", ("debris",), ("Pipe bore", "Fall"), _flushing, None),
)
