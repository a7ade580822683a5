"""The job card of a plan: verdict, what to settle, steps in order, and every number with its band and source."""

import datetime
import re

from jetlib.errors import JetlibError
from jetlib.paper.cards.rig_words import file_part, in_words
from jetlib.paper.page.document import Document, Section, require
from jetlib.paper.page.style import caution, fill, table
from jetlib.rig.job.plan import Plan
from jetlib.units.refusal import cut, in_one_system

_SECTIONS = {
    "drain": "Drain",
    "machine": "Machine",
    "nozzle": "Nozzle",
    "reach": "Reach",
    "supply": "Water, heat, power",
    "debris": "Down the drain",
}
_GIVEN = "given"
_RAISED = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")
_FRONT = 1  # of the hazards stands in front, with what comes before any card
_UNIT_TWICE = re.compile(r"\((\S+) (\S+) to (\S+) \2\)")


def job_card(plan, *, seed=0, system="US", paper="A4"):
    """The Document of a Plan. seed: the one that `plan_job` was given, for the draws behind the bands."""
    require(system, paper)
    if not isinstance(plan, Plan):
        raise JetlibError(f"plan is {cut(plan)}; write job_card(plan_job(rig, job))")
    card = plan.card()
    parts = [f'<div class="front"><p class="verdict">{fill("plain", words=card["verdict_text"])}</p>']
    for heading, tag, key in (
        ("No go: fix first", "ul", "no_go"),
        ("Settle before starting", "ul", "cautions"),
        ("Steps", "ol", "steps"),
    ):
        if card[key]:
            parts.append(f"<h2>{heading}</h2>" + _listed(tag, card[key], system))
    hazards = card["hazards"]
    parts.append(caution(" ".join([*hazards[:_FRONT], hazards[-1]])) + _notes() + "</div>")
    parts.append(f'<div class="back">{caution(" ".join(hazards[_FRONT:-1]))}{_numbers(card, system)}</div>')
    title = f"Job card: {card['title']}"
    lead = f"{datetime.date.today():%Y-%m-%d}. {card['rig']}; {card['drain']}. {in_words(plan.rig, system)}"
    source = "rig and job as given, worked out by jetlib's formulas; each row names its own"
    section = Section(title, "\n".join(parts), source, seed, lead, card=True)
    name = f"job-card-{file_part(plan.rig)}-seed-{seed}-{system.lower()}"
    return Document(name, (section,), system, paper)


def _numbers(card, system):
    """Hoses in stock, what was given, and every number worked out, with its band and the mark of its source."""
    parts = []
    if card["options"]:
        parts.append("<h2>Hoses in stock</h2>" + _listed("ul", card["options"], system))
    parts.append("<h2>Calculated, not measured; in parentheses: eight in ten of such jobs</h2>")
    every = [{**row, "said": _UNIT_TWICE.sub(r"(\1 to \3)", row["words"] or row[system])} for row in card["rows"]]
    given = "; ".join(f"{row['label']} {row['said']}" for row in every if row["source"] == _GIVEN)
    parts.append(f"<p><b>Given.</b> {fill('plain', words=given)}.</p>")
    every = [row for row in every if row["source"] != _GIVEN]
    named = dict.fromkeys(row["source"] for row in every)
    sources = {source: f"\N{THIN SPACE}⁽{at}⁾".translate(_RAISED) for at, source in enumerate(named, 1)}
    tables = []
    for name, title in _SECTIONS.items():
        rows = [(row["label"], f"{row['said']}{sources[row['source']]}") for row in every if row["section"] == name]
        if rows:
            tables.append(table((title, "How much"), rows, widths=(46, 54), style="wide close fixed"))
    told = (
        "; ".join(f"{number}\N{NO-BREAK SPACE}{source}" for source, number in sources.items())
        + f". {card['authority']}"
    )
    tables.append(f'<p class="sources">Sources. {fill("plain", words=told)}</p>')
    parts.append(f'<div class="two">{"".join(tables)}</div>')
    return "\n".join(parts)


def _listed(tag, sentences, system):
    items = "".join(f"<li>{fill('plain', words=in_one_system(each, system))}</li>" for each in sentences)
    return f"<{tag}>{items}</{tag}>"


def _notes():
    asked = ("Gauge at idle", "Gauge in use", "Jets on, minutes", "What came out", "Name, date")
    return f'<table class="wide fixed write-in"><tr>{"".join(f"<td>{each}</td>" for each in asked)}</tr></table>'
