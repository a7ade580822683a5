"""The picture of a whole plan: verdict, drain with the nozzle in it, the numbers that matter most, what to settle."""

import math

from jetlib.course.exercises.words import sentence
from jetlib.rig.job.card import COMMON, NO_LIMIT
from jetlib.rig.job.plan import VERDICTS as SAID
from jetlib.screen.drawing.chart import NARROW, text
from jetlib.screen.drawing.grid import across, banner, grid
from jetlib.screen.drawing.picture import Answer, stacked, with_narrow
from jetlib.units import Told
from jetlib.units import text as words_of

WIDTH = 900
#: How a verdict looks: heading, colour, mark.
VERDICTS = {
    "no-go": ("NO GO", "red", "✘"),
    "caution": ("GO ONLY WHEN THE CAUTIONS ARE SETTLED", "orange", "!"),
    "go": ("NOTHING CALCULATED HERE RULES IT OUT", "green", "✔"),
}
_LEVELS = {"no-go": ("NO GO", "red"), "caution": ("caution", "orange")}
_LINE = 17
#: Rows of a plan that the console shows, by section and label; the job card shows all of them.
SHOWN = (
    ("nozzle", "gauge"),
    ("nozzle", "flow at the nozzle"),
    ("nozzle", "bypass"),
    ("nozzle", "pull"),
    ("reach", "hose available for the pipe"),
    ("reach", "nozzle reaches"),
    ("reach", "pull to bring it back from there, jets on"),
    ("machine", "power at the shaft"),
    ("machine", "power available"),
    ("supply", "time with the jets on"),
    ("supply", "tank lasts"),
    ("supply", "reaches the temperature limit after"),
    ("debris", "depth of the pipe filled"),
    ("debris", "drag on the wall"),
    ("debris", "largest grain it carries away"),
)


def picture_of(plan, system, *, findings=True):
    """The Picture of a Plan: verdict, drain, the numbers that matter most, and what to settle unless told elsewhere."""
    rows = {(row.section, row.label): row for row in plan.rows}
    told = [_row_words(rows[key], system) for key in SHOWN if key in rows]
    heads = ("number", ">plan", "eight jobs in ten", "where it comes from")
    table = grid(heads, told, (14, 326, 340, 534), width=WIDTH)
    answers = (
        Answer("the nozzle reaches", float(plan.reach.distance), "length"),
        Answer("gauge reading", float(rows["nozzle", "gauge"].value), "pressure"),
    )
    return stacked(
        _plan_words(plan, rows, system),
        verdict_bar(plan.verdict, sentence(SAID[plan.verdict].removeprefix("NO GO: "))),
        with_narrow(lambda width: drain_strip(plan, system, width), WIDTH),
        table,
        *([with_narrow(lambda width: finding_lines(plan.findings, width), WIDTH)] if findings else []),
        answers=answers,
    )


def _row_words(row, system):
    low, high = ("" if each is None else figure(each, row.kind, system) for each in (row.low, row.high))
    (number, _, unit), of_high = low.partition(" "), high.partition(" ")[2]
    band = low if low == high else f"{number if unit == of_high else low} to {high}"
    return row.label, figure(row.value, row.kind, system), band, row.source.replace(COMMON, "practice")


def figure(value, kind, system):
    return NO_LIMIT if math.isinf(value) else words_of(float(value), kind, system)


def _plan_words(plan, rows, system):
    def told(section, label):
        return rows[section, label].text(system)

    drain, light = plan.job.drain, rows.get(("reach", "nozzle reaches, were the hose fiber braid"))
    other = f" ({light.text(system)} were the hose fiber braid)" if light else ""
    words = (
        f"{plan.rig.name} in {words_of(drain.length, 'length', system)} of {drain.name}: {SAID[plan.verdict]} "
        f"Gauge {told('nozzle', 'gauge')}, {told('nozzle', 'flow at the nozzle')} out of the nozzle, pull "
        f"{told('nozzle', 'pull')}. The nozzle reaches {told('reach', 'nozzle reaches')} in{other}. The jets are on "
        f"for {told('supply', 'time with the jets on')}; the tank lasts {told('supply', 'tank lasts')}."
    )
    words += "".join(f" No go: {text}" for text in plan.no_go)
    topics = list(dict.fromkeys(each.topic for each in plan.findings if each.level == "caution"))
    return words + (f" Cautions on {', '.join(topics)}." if topics else "")


def verdict_bar(verdict, words):
    """A tile: a bar with a mark and the verdict in capitals, `words` under it."""
    heading, colour, mark = VERDICTS[verdict]
    return banner(f"{mark} {heading}", words, colour, WIDTH)


def drain_strip(plan, system, width):
    """(content, width, height): machine, way in, pipe, bends; the hose in it as far as it comes, and the band of that.

    Lengths in the pipe are to scale; nothing else is.
    """
    run, small = plan.job.drain.length, width <= NARROW
    left, right = (96.0, width - 12.0) if small else (150.0, width - 40.0)

    def across(metres):
        return left + (right - left) * min(max(metres / run, 0.0), 1.0)

    length = Told(system).length
    top, bottom, middle = 34, 64, 49
    reach = float(plan.reach.distance)
    low, high = plan.spread.low("reach"), plan.spread.high("reach")
    parts = [
        f'<path d="M{left} {top}H{right}M{left} {bottom}H{right}" fill="none" stroke="currentColor" stroke-width="2"/>',
        f'<rect x="4" y="{middle - 14}" width="54" height="28" fill="none" stroke="currentColor" stroke-width="2"/>',
        text(31, middle + 4, "machine", anchor="middle", size=11),
        f'<path class="jl-line-blue" d="M58 {middle}H{across(reach):.1f}" fill="none" stroke-width="4"/>',
        text((58 + left) / 2, middle - 8, length(plan.job.hose_outside), anchor="middle", size=11),
        text((58 + left) / 2, middle + 32 if small else middle + 18, "outside", anchor="middle", size=11),
        text(left, top - 8, "entry", anchor="middle"),
        text(right, top - 8, f"{'' if small else 'end of the run, '}{length(run)}", anchor="end"),
    ]
    for bend in plan.job.drain.bends:
        x = across(bend.at)
        look = 'fill="none" stroke="currentColor" stroke-width="1.4" stroke-dasharray="3 3"'
        parts.append(f'<path d="M{x:.1f} {top - 4}V{bottom + 4}" {look}/>')
        parts.append(text(x, top - 8, f"bend {Told(system).angle(bend.angle)}", anchor="middle"))
    x = across(reach)
    parts.append(f'<path class="jl-ink-blue" d="M{x:.1f} {middle - 9}l16 9l-16 9Z"/>')
    a, b, y = across(low), across(high), bottom + 16
    bracket = f"M{a:.1f} {y - 6}V{y + 6}M{a:.1f} {y}H{max(b, a + 1):.1f}M{b:.1f} {y - 6}V{y + 6}"
    parts.append(f'<path class="jl-line-purple" d="{bracket}" fill="none" stroke-width="2.4"/>')
    band = f"nozzle reaches {length(reach)}; eight jobs in ten: {length(low)} to {length(high)}"
    half = 3.2 * len(band)  # the words do not leave the picture
    x = min(max((a + b) / 2.0, half + 8), max(width - half - 8, width / 2.0))
    parts.append(text(x, y + 20, band, colour="purple", anchor="middle"))
    return "".join(parts), width, 112


def finding_lines(findings, width):
    """(content, width, height): each Finding with its level, over as many lines as it takes."""
    parts, y, left = [], 16, 14 if width <= NARROW else 84
    for each in findings:
        level, colour = _LEVELS[each.level]
        parts.append(text(14, y, level, colour=colour, weight="bold"))
        y += _LINE * (left == 14)
        told, tall = across(each.text, left, y, width - left, 6.6)
        parts.append(told)
        y += tall + 4
    return "".join(parts), width, y
