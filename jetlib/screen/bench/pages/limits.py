"""The bench's limits: hose pressure, engine, pull, reach, tank and heat, a line each, with a mark where one is near."""

import numpy as np

from jetlib.errors import JetlibError
from jetlib.rig.hoses.pipe_run import highest_pressure
from jetlib.rig.hoses.surge import surge
from jetlib.rig.job.flushing import DEBRIS, flushing
from jetlib.rig.job.job import Job
from jetlib.rig.job.reach import reach
from jetlib.rig.job.supply import USUAL_ENGINE_SHARE, supply
from jetlib.rig.parts.drain import Bend, Drain
from jetlib.rig.parts.tank import Tank
from jetlib.screen.bench.entries.bars import WIDTH
from jetlib.screen.bench.entries.sheet import SHEET, UNSEEN
from jetlib.screen.bench.pages.map import hose_name
from jetlib.screen.drawing.chart import text
from jetlib.screen.drawing.picture import Picture
from jetlib.units import text as words_of
from jetlib.units.refusal import page_words

ROWS = (("tank", "refill"), ("pipe", "run", "fall"), ("way", "bends", "debris"))
_NEAR_RATING = 0.9  # of the working pressure; common practice, no source
_MARKS = {"stop": ("STOP", "red"), "near": ("MIND", "orange"), "fine": ("ok", "green"), "none": ("?", "grey")}
_LINE = 18
_NO_TANK = ("none", "tank and heat", "write the tank and the run to know how long the water lasts")


def draw(state):
    """The Picture of the limits of a BenchState."""
    point, system = state.point, state.system
    tank = state.value("tank")
    found = supply(point, Tank(tank or "100 gal", refill_flow=state.value("refill")))  # the engine needs no tank
    rows = [_hose_row(point, system), _surge_row(point, system), _engine_row(found, system), _pull_row(point, system)]
    more = []
    try:
        drain = drain_of(state)
        there = reach(point, drain)
        rows.append(_reach_row(there, system))
        more = [*there.hose_cautions, *there.cautions[-2:]]
    except JetlibError as error:
        rows.append(("none", "reach", f"can't be told: {page_words(error, state.system)}"))
    known = [state.value(name) is not None for name in UNSEEN]
    rows += (
        [_tank_row(found, state.value("run"), system), _heat_row(found, system)]
        if known[0] and known[2]
        else [_NO_TANK]
    )
    rows += [_flush_row(state, drain_of(state), point, system)] if all(known[1:]) else []
    words = ". ".join(f"{_MARKS[level][0]}: {name}, {told}".rstrip(".") for level, name, told in rows) + "."
    told = [each.replace("enter its weight", "write it under Weight") for each in (*found.cautions * known[0], *more)]
    return _picture(rows, f"At {100 * float(point.throttle):.0f} % throttle. {words} {' '.join(told)}")


def drain_of(state):
    """The Drain of the sheet, its bends spread evenly along it. Raises JetlibError where nobody has written it."""
    left = [SHEET[name].label for name in ("pipe", "run", "fall") if state.value(name) is None]
    if left:
        raise JetlibError(f"still to write: {', '.join(left)}")
    bends, run = state.value("bends"), state.value("run")
    places = [Bend(run * (number + 1) / (bends + 1)) for number in range(bends)]
    return Drain(
        bore=state.value("pipe"), length=run, fall=state.value("fall"), nozzle_goes=state.value("way"), bends=places
    )


def _hose_row(point, system):
    """The hose that is nearest to its working pressure; with the jets plugged the line sees what the valve lets it."""
    rig, most = point.rig, highest_pressure(point.rig)
    pressure = lambda value: words_of(value, "pressure", system)  # noqa: E731
    rated = [
        (max(float(seen), most) / hose.working_pressure, number, hose, float(seen))
        for number, (hose, seen) in enumerate(zip(rig.hoses, point.hose_pressures, strict=True), start=1)
        if hose.working_pressure is not None
    ]
    if not rig.valves:
        return "stop", "hose pressure", "no valve guards this line: if a jet plugs nothing limits the pressure"
    if not rated:
        return "none", "hose pressure", f"no working pressure is given; the line can come to {pressure(most)}"
    worst, number, hose, seen = max(rated, key=lambda each: each[0])
    level = "stop" if worst > 1.0 else "near" if worst > _NEAR_RATING else "fine"
    told = (
        f"{hose_name(hose, number)} is at {pressure(seen)} of {pressure(hose.working_pressure)}; jets plugged, "
        f"{pressure(most)} ({100 * worst:.0f} %)"
    )
    bare = [str(at) for at, each in enumerate(rig.hoses, start=1) if each.working_pressure is None]
    level = "none" if bare and level == "fine" else level  # one that nobody knows can be the weakest
    return level, "hose pressure", told + (f"; no rating given for section {', '.join(bare)}" if bare else "")


def _surge_row(point, system):
    """The hose that a quick stop brings nearest to its working pressure, or over it."""
    found = surge(point)
    rated = [
        (high / hose.working_pressure, number, hose, low, high)
        for number, (hose, low, high) in enumerate(zip(point.rig.hoses, *found.peaks[::2], strict=True), start=1)
        if hose.working_pressure is not None
    ]
    if not rated:
        return "none", "surge", "no working pressure is given to hold a surge against"
    worst, number, hose, low, high = max(rated, key=lambda each: each[0])
    told = (
        f"{hose_name(hose, number)} may see {words_of(low, 'pressure', system)} to "
        f"{words_of(high, 'pressure', system)} "
        f"if the jets shut at once ({100 * worst:.0f} %); stop slowly"
    )
    bare = any(hose.working_pressure is None for hose in point.rig.hoses)
    return "near" if worst > 1.0 else "none" if bare else "fine", "surge", told


def _engine_row(found, system):
    share = found.engine_share
    asked = words_of(float(found.power_needed), "power", system)
    if share is None:
        return "none", "engine", f"{asked} at the shaft; no engine is named"
    level = "stop" if share > 1.0 else "near" if share > USUAL_ENGINE_SHARE else "fine"
    there = words_of(float(found.power_available), "power", system)
    return level, "engine", f"{asked} of {there} at its altitude, {100 * float(share):.0f} %"


def _pull_row(point, system):
    pull = words_of(point.reaction, "force", system)
    if point.reaction <= 0:
        return "stop", "pull", f"{pull}: the jets push the nozzle back at whoever stands there"
    return "fine", "pull", f"{pull} along the hose"


def _reach_row(there, system):
    far = words_of(float(there.distance), "length", system)
    whole = words_of(float(there.drain.length), "length", system)
    if there.whole_run:
        left = words_of(float(there.pull_left(there.distance)), "force", system)
        near = float(there.pull_left(there.distance)) < 0.2 * float(there.pull)
        return "near" if near else "fine", "reach", f"all {whole}, with {left} of pull to spare"
    why = {"pull": "there the hose drags as much as the jets pull", "hose": "there is no more hose"}
    return "near", "reach", f"{far} of {whole}: {why[there.limited_by]}"


def _tank_row(found, run, system):
    work = float(run / Job.run_in_speed + run / Job.pull_back_speed)
    needs = words_of(work, "duration", system)
    if not np.isfinite(found.tank_time):
        return "fine", "tank", "the filling hose keeps up"
    lasts = words_of(float(found.tank_time), "duration", system)
    level = "stop" if found.tank_time < work else "near" if found.tank_time < 1.3 * work else "fine"
    before = "EMPTY BEFORE THE RUN IS DONE: " if level == "stop" else ""
    return level, "tank", f"{before}lasts {lasts}; one run in and back takes about {needs}"


def _heat_row(found, system):
    power = words_of(float(found.heating_power), "power", system)
    limit = words_of(found.tank.temperature_limit, "temperature", system)
    if found.heating_power < 1.0:
        return "fine", "heat", "nothing comes back through the valve, so nothing warms the tank"
    if not np.isfinite(found.limit_time):
        return "fine", "heat", f"{power} goes back into the tank; it is empty before it comes to {limit}, or never does"
    when = words_of(float(found.limit_time), "duration", system)
    level = "near" if found.limit_time < 3600.0 else "fine"
    return level, "heat", f"{power} goes back into the tank: {limit} after {when}; the pump's manual has the true limit"


def _flush_row(state, drain, point, system):
    """What the nozzle's flow takes along on its way back down the pipe."""
    debris = state.value("debris")
    found = flushing(point.nozzle_flow, drain, grain=DEBRIS[debris])
    speed, depth = words_of(found.velocity, "velocity", system), words_of(found.depth_ratio, "fraction", system)
    told = f"the water runs off at {speed}, the pipe {'full' if found.full else depth + ' deep'}"
    if found.full:
        return "near", "flushing", told + ": it may come up in the building"
    if found.moves_debris is None:
        return "fine", "flushing", f"{told}; {debris} is no matter of flow alone"
    size = words_of(float(found.largest_grain), "pipe_bore", system)
    goes = f"{debris} goes" if found.moves_debris else f"{debris} stays"
    return "fine" if found.moves_debris else "near", "flushing", f"{told}: {goes}; grains up to {size} go"


def _picture(rows, words):
    parts, y = [], 24
    for level, name, told in rows:
        mark, colour = _MARKS[level]
        parts.append(f'<rect class="jl-line-{colour}" fill="none" stroke-width="2" x="14" y="{y - 14}" width="52" '
                     'height="20"/>')  # fmt: skip
        parts += [text(40, y, mark, colour=colour, anchor="middle", weight="bold"), text(78, y, name, weight="bold")]
        lines = _wrapped(told)
        parts += [text(186, y + _LINE * number, line) for number, line in enumerate(lines)]
        y += _LINE * (len(lines) - 1) + 32
    return Picture("".join(parts), WIDTH, y, words)


def _wrapped(words, width=86):
    lines, line = [], ""
    for word in words.split():
        if line and len(line) + len(word) >= width:
            lines.append(line)
            line = ""
        line += f" {word}" if line else word
    return [*lines, line]
