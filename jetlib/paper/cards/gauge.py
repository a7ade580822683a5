"""A rig's gauge card: what the one gauge should show, and what another reading means and asks to be checked."""

import numpy as np

from jetlib.paper.cards.rig_words import SOURCE, file_part, in_words, require_rig, title_of
from jetlib.paper.page.axes import scale
from jetlib.paper.page.document import CAUTIONS, Document, Section, require
from jetlib.paper.page.style import caution, fill, table
from jetlib.rig.change.factors import state
from jetlib.rig.diagnosis.checks import checks_of
from jetlib.rig.diagnosis.diagnosis import diagnose
from jetlib.rig.diagnosis.faults import THROTTLES, fault_named, faults_of, signature
from jetlib.rig.diagnosis.readings import GaugeReading
from jetlib.rig.point.cautions import SEE_THE_MANUAL
from jetlib.rig.point.operating_point import operating_point
from jetlib.units import text

_PLACES = ("idle", "half", "full")
_SAME = 0.03  # a change of the gauge that is not called one on the card


def gauge_card(rig, *, system="US", paper="A4"):
    """The Document of one Rig: its sound readings, then every pattern of too high and too low with its causes."""
    require(system, paper)
    require_rig(rig, "gauge_card(load_rig(path))")
    sound = signature(rig, "healthy")
    parts = [caution(*CAUTIONS), "<h2>When nothing is wrong</h2>", _sound(rig, sound, system)]
    own = operating_point(rig, 1.0).cautions
    if own:
        parts.append(caution(*own))
    parts.append("<h2>When it reads otherwise</h2>")
    parts.append(
        "<p>Read the gauge at idle, half and full throttle, and look whether water returns to the tank. Find the "
        "row that matches. Each number is calculated for one usual size of the fault, the one in parentheses: "
        "yours may be worse or milder. <b>low</b> or <b>HIGH</b> means more than 3 % off the healthy reading.</p>"
    )
    for pattern, found in sorted(_patterns(rig, sound).items(), key=lambda each: each[0]):
        parts.append(_pattern(pattern, found, system))
    parts.append(caution(*_checks(rig)))
    title = f"Gauge card of {title_of(rig)}"
    section = Section(title, "\n".join(parts), SOURCE + "; sizes of faults are common practice, no source", None,
                      in_words(rig, system))  # fmt: skip
    return Document(f"gauge-card-{file_part(rig)}-{system.lower()}", (section,), system, paper)


def _sound(rig, sound, system):
    rows = [
        (
            f"{place} throttle",
            text(sound.gauge[at], "pressure", system),
            text(sound.nozzle_flow[at], "flow", system),
            _stream(sound.return_seen[at]),
            text(sound.speed[at], "speed", system),
        )
        for at, place in enumerate(_PLACES)
    ]
    heads = ("", "Gauge", "Flow at the nozzle", "Back to the tank", "Pump speed")
    marks = [(float(sound.gauge[at]), f"{place}: {rows[at][1]}") for at, place in enumerate(_PLACES)]
    if rig.unloader is not None:
        setting = float(rig.unloader.setting)
        marks.append((setting, f"valve opens: {text(setting, 'pressure', system)}"))
    top = 1.15 * max(value for value, _ in marks)
    told = "Gauge when all is well: " + ", ".join(name for _, name in marks)
    return table(heads, rows, numbers=(1, 2, 4)) + scale(marks, top, "pressure", system, told)


def _patterns(rig, sound):
    """{(signs of the gauge, stream): signatures} of everything that can be wrong with this rig."""
    found = {}
    for fault in faults_of(rig):
        if fault.name == "healthy":
            continue
        shown = signature(rig, fault)
        change = shown.gauge / sound.gauge - 1.0
        signs = tuple(int(sign) for sign in np.where(np.abs(change) <= _SAME, 0, np.sign(change)))
        found.setdefault((signs, tuple(bool(each) for each in shown.return_seen)), []).append(shown)
    return found


def _pattern(pattern, signatures, system):
    signs, streams = pattern
    words = {-1: "low", 0: "normal", 1: "HIGH"}
    gauge = ", ".join(f"{place} {words[sign]}" for place, sign in zip(_PLACES, signs, strict=True))
    at = [place for place, seen in zip(_PLACES, streams, strict=True) if seen]
    title = f"Gauge: {gauge}. Water returns to the tank: {', '.join(at) if at else 'none'}."
    heads = ("What it can be", "At idle", "At half", "At full", "Also looks like", "Check next")
    rows = [_row(each, system) for each in signatures]
    return f"<h3>{fill('plain', words=title)}</h3>" + table(
        heads, rows, numbers=(1, 2, 3), style="wide close fixed", widths=(28, 10, 10, 10, 19, 23)
    )


def _row(shown, system):
    fault = shown.fault
    readings = [GaugeReading(float(max(value, 0.0)), at) for value, at in zip(shown.gauge, THROTTLES, strict=True)]
    found = diagnose(shown.rig, readings)
    others = [cause.name for cause in found.tied if cause.name != fault.name]
    told = _told(found.next_check, shown, [name for name in others if name != "healthy"], system)
    size = "" if fault.low == fault.high else f" ({fault.measured(shown.severity)})"
    return (
        f"{fault.words[0].upper()}{fault.words[1:]}{size}",
        *(text(max(value, 0.0), "pressure", system) for value in shown.gauge),
        ", ".join("nothing wrong" if name == "healthy" else name for name in others) or "nothing else",
        told,
    )


def _told(check, shown, others, system):
    """A check, and what it shows for this fault and for those that look like it, each at its usual size."""
    if check is None:
        return "no single check would tell much more"
    kind = check.reading.kind
    if not kind:
        mine, theirs = check.expected.get(shown.fault.name), {check.expected.get(name) for name in others}
        found = sorted(theirs - {mine, None})
        return f"{check.label}: {mine} if it is this" + (f"; {' or '.join(found)} if another" if found else "")
    reading, least = check.reading, 0.01 * float(shown.rig.pump.rated_flow) if kind == "flow" else 0.0

    def value_of(name):
        fault = fault_named(name)
        changes = fault.changes(fault.checked(shown.rig))
        point = state(shown.rig, changes, [reading.throttle], nozzle_off=reading.nozzle_off)
        value = float(reading.predicted(point, shown.rig)[0])
        return value * changes.needle if kind == "pressure" and reading.needle else value

    def words(value):
        return "almost zero" if value < least else text(value, kind, system)

    mine, theirs = value_of(shown.fault.name), sorted(value_of(name) for name in others)
    if not theirs:
        return f"{check.label}: {words(mine)} if it is this"
    ends = dict.fromkeys(words(value) for value in (theirs[:1] + theirs[-1:]))
    apart = " to ".join(ends)
    if apart == words(mine):
        return check.label  # it tells them apart only where the fault is larger
    return f"{check.label}: {words(mine)} if it is this; {apart} if another"


def _stream(seen):
    return "water returns" if seen else "none"


def _checks(rig):
    """Every check of the catalogue with its minutes, those that ask for the same before anybody does them together."""
    found = {}
    for check in checks_of(rig):
        minutes = f" ({check.minutes:g} min)" if check.minutes else ""
        found.setdefault(check.caution.replace(SEE_THE_MANUAL, "").strip(), []).append(f"{check.label}{minutes}")
    told = [f"{'; '.join(labels)}. {words}" for words, labels in found.items()]
    if rig.unloader is not None:
        told.append("A valve that opens too late does not limit the pressure: do not run the rig above its setting.")
    return [*told, SEE_THE_MANUAL]
