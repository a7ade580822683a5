"""A rig's gauge card: what the one gauge should show, and what another reading means and asks to be checked."""

import datetime
from itertools import compress

import numpy as np

from jetlib.paper.cards.rig import SOURCE, file_part, in_words, require_rig, title_of
from jetlib.paper.page.document import INJECTION, MANUAL, Document, Section
from jetlib.paper.page.style import fill
from jetlib.rig.diagnosis.checks import check_of, checks_of
from jetlib.rig.diagnosis.diagnosis import diagnose
from jetlib.rig.diagnosis.faults import FAULTS, THROTTLES, exact, faults_of, signature
from jetlib.rig.diagnosis.readings import GaugeReading
from jetlib.rig.parts.part import remembered
from jetlib.rig.point.cautions import SEE_THE_MANUAL
from jetlib.rig.point.operating_point import operating_point
from jetlib.rig.uncertainty.band import uncertainty_band
from jetlib.units import text

_PLACES = ("idle", "half", "full")
_SIGNS = {-1: "▼", 0: "=", 1: "▲"}
_HANDS_OFF = " (do not touch it)"  # said once for the whole table
_DRAWS = 400  # of rigs, for the band of a healthy reading
_SAME = 0.03  # a change of the gauge that is not called one on the card


def gauge_card(rig, *, system="US", paper="A4", unknowns=None):
    """The Document of one Rig: its healthy readings with their band and, in one table, what else a reading can mean.

    unknowns: the Unknowns of a rig that was measured when all was well; None: nobody has measured it.
    """
    require_rig(rig, "gauge_card(load_rig(path))")
    sound = signature(rig, "healthy")
    on = f"{datetime.date.today():%Y-%m-%d}"
    told = f"Calculated on {on}, not measured. Measured while all was well, on"
    if unknowns is not None:
        told = f"Worked out on {on} from what was measured when all was well. Measured again, on"
    body = fill(
        "gauge",
        often="8 in 10 such rigs" if unknowns is None else "8 times in 10",
        healthy=_healthy(rig, sound, system, unknowns),
        told=told,
        cautions=(*operating_point(rig, 1.0).cautions, f"{INJECTION} {MANUAL}"),
        faults=_faults(rig, sound, system),
        checks=_checks(rig),
    )
    title = f"Gauge card: {title_of(rig)}"
    section = Section(title, body, SOURCE + "; sizes of faults are common practice, no source", None,
                      in_words(rig, system), card=True)  # fmt: skip
    return Document(f"gauge-card-{file_part(rig)}-{system.lower()}", (section,), system, paper)


def _healthy(rig, sound, system, unknowns):
    band = uncertainty_band(rig, list(THROTTLES), samples=_DRAWS, unknowns=unknowns)
    low, high = band.low("gauge"), band.high("gauge")
    return [
        (
            place,
            text(sound.gauge[at], "pressure", system),
            _span(low[at], high[at], "pressure", system, 2),
            text(sound.nozzle_flow[at], "flow", system),
            "water returns" if sound.return_seen[at] else "none",
            text(sound.speed[at], "speed", system),
            None,
        )
        for at, place in enumerate(_PLACES)
    ]


def _faults(rig, sound, system):
    """Rows of everything that can be wrong with this rig: signs of the gauge, stream, what it can be, what to check."""
    found = []
    for fault in faults_of(rig):
        if fault.name != "healthy":
            shown = signature(rig, fault)
            change = shown.gauge / sound.gauge - 1.0
            signs = np.where(np.abs(change) <= _SAME, 0, np.sign(change)).tolist()
            found.append((signs, [bool(each) for each in shown.return_seen], shown))
    rows = []
    for signs, streams, shown in sorted(found, key=lambda each: each[:2]):
        stream = "always" if all(streams) else ", ".join(compress(_PLACES, streams)) or "none"
        rows.append((*(_SIGNS[sign] for sign in signs), stream, *_row(shown, system)))
    return rows


def _row(shown, system):
    """(what it can be, what to check next and what that shows) of a fault's Signature."""
    fault, found = shown.fault, _diagnosed(shown.rig, shown.fault.name)
    others = [cause.name for cause in found.tied if cause.name not in (fault.name, "healthy")]
    size = "" if fault.low == fault.high else f" ({fault.measured(shown.severity)})"
    named = f"{fault.title.replace(_HANDS_OFF, '')}{size}".replace(" %", "\u00a0%")
    return named, _told(found.next_check, shown, others, system)


@remembered(64)  # the same in either unit system and on any paper
def _diagnosed(rig, fault):
    gauge = signature(rig, fault).gauge
    return diagnose(rig, [GaugeReading(max(p, 0.0), at) for p, at in zip(gauge.tolist(), THROTTLES, strict=True)])


def _told(check, shown, others, system):
    """A check, and what it shows for this fault and for those that look like it, each at its usual size."""
    if check is None:
        return "no single check would tell much more"
    kind, label = check.reading.kind, check_of(check.reading).label
    if not kind:
        mine, theirs = check.expected.get(shown.fault.name), {check.expected.get(name) for name in others}
        found = sorted(theirs - {mine, None})
        return f"{label}: {mine}" + (f"; others: {' or '.join(found)}" if found else "")
    least = 0.01 * float(shown.rig.pump.rated_flow) if kind == "flow" else 0.0

    def value_of(name):
        return exact(check.reading, shown.rig, FAULTS[name], FAULTS[name].typical).value

    def words(value):
        return "almost zero" if value < least else text(value, kind, system)

    mine, theirs = value_of(shown.fault.name), sorted(value_of(name) for name in others)
    if not theirs:
        return f"{label}: {words(mine)}"
    apart = words(theirs[0]) if len(theirs) == 1 else _span(theirs[0], theirs[-1], kind, system)
    return f"{label}: {words(mine)}; others: {apart}" if apart != words(mine) else label  # where the fault is larger


def _span(low, high, kind, system, figures=3):
    """Two SI values, with their unit once."""
    least, most = text(low, kind, system, figures), text(high, kind, system, figures)
    return most if least == most else f"{least.split()[0]} to {most}"


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
