"""The picture of a whole plan: verdict, drain, the numbers that matter most."""

import math

from jetlib.course.exercises.words import sentence
from jetlib.rig.job.card import COMMON, NO_LIMIT
from jetlib.rig.job.plan import VERDICTS
from jetlib.screen.drawing.grid import grid
from jetlib.screen.drawing.picture import Answer, stacked, with_narrow
from jetlib.screen.drawing.plan_picture import WIDTH, drain_strip, finding_lines, verdict_bar
from jetlib.units import text as words_of

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
        verdict_bar(plan.verdict, sentence(VERDICTS[plan.verdict].removeprefix("NO GO: "))),
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
        f"{plan.rig.name} in {words_of(drain.length, 'length', system)} of {drain.name}: {VERDICTS[plan.verdict]} "
        f"Gauge {told('nozzle', 'gauge')}, {told('nozzle', 'flow at the nozzle')} out of the nozzle, pull "
        f"{told('nozzle', 'pull')}. The nozzle reaches {told('reach', 'nozzle reaches')} in{other}. The jets are on "
        f"for {told('supply', 'time with the jets on')}; the tank lasts {told('supply', 'tank lasts')}."
    )
    words += "".join(f" No go: {text}" for text in plan.no_go)
    topics = list(dict.fromkeys(each.topic for each in plan.findings if each.level == "caution"))
    return words + (f" Cautions on {', '.join(topics)}." if topics else "")
