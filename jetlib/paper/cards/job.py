"""The job card of a plan: verdict, what to settle, steps in order, and every number with its band and source."""

import datetime
import re
from functools import partial

from jetlib.errors import JetlibError
from jetlib.paper.cards.rig_words import file_part, in_words
from jetlib.paper.page.document import Document, Section, require
from jetlib.paper.page.style import fill
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
    hazards = card["hazards"]
    front, back = [*hazards[:_FRONT], hazards[-1]], hazards[_FRONT:-1]
    body = fill("job", card=card, front=front, back=back, worded=partial(in_one_system, system=system),
                **_numbers(card, system))  # fmt: skip
    title = f"Job card: {card['title']}"
    lead = f"{datetime.date.today():%Y-%m-%d}. {card['rig']}; {card['drain']}. {in_words(plan.rig, system)}"
    source = "rig and job as given, worked out by jetlib's formulas; each row names its own"
    section = Section(title, body, source, seed, lead, card=True)
    name = f"job-card-{file_part(plan.rig)}-seed-{seed}-{system.lower()}"
    return Document(name, (section,), system, paper)


def _numbers(card, system):
    """What was given, tables of every number worked out with its band and the mark of its source, and the sources."""
    every = [{**row, "said": _UNIT_TWICE.sub(r"(\1 to \3)", row["words"] or row[system])} for row in card["rows"]]
    given = [f"{row['label']} {row['said']}" for row in every if row["source"] == _GIVEN]
    every = [row for row in every if row["source"] != _GIVEN]
    sources = tuple(dict.fromkeys(row["source"] for row in every))
    marks = {source: f"\N{THIN SPACE}⁽{at}⁾".translate(_RAISED) for at, source in enumerate(sources, 1)}
    tables = {title: [] for title in _SECTIONS.values()}
    for row in every:
        tables[_SECTIONS[row["section"]]].append((row["label"], row["said"] + marks[row["source"]]))
    return {"given": given, "tables": tables, "sources": zip(marks.values(), sources, strict=True)}
