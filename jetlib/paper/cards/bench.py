"""What the bench prints: the job card of a plan, the gauge card of a rig, set-ups side by side."""

import datetime
import re
from dataclasses import replace
from functools import partial
from os import PathLike
from pathlib import Path

from jetlib.errors import JetlibError
from jetlib.paper.cards.gauge import gauge_card
from jetlib.paper.cards.rig import SOURCE, file_part, in_words
from jetlib.paper.page.document import CAUTIONS, Document, Section, require, write
from jetlib.paper.page.style import fill
from jetlib.rig.job.plan import Plan
from jetlib.rig.uncertainty.unknowns import Unknowns
from jetlib.screen.drawing.table import Table
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
    lead = f"{datetime.date.today():%Y-%m-%d}. {card['rig']}; {card['drain']}. {in_words(plan.rig, system)}"
    hazards = card["hazards"]
    front, back = [*hazards[:_FRONT], hazards[-1]], hazards[_FRONT:-1]
    body = fill("job", card=card, front=front, back=back, worded=partial(in_one_system, system=system),
                **_numbers(card, system))  # fmt: skip
    title = f"Job card: {card['title']}"
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


def print_card(
    of: object,
    folder: str | PathLike,
    *,
    system: str = "US",
    paper: str = "A4",
    basis: str = "as written down",
    unknowns: Unknowns | None = None,
) -> list:
    """Paths (a list) of the card of a Plan, a Rig or a Table of set-ups in `folder`: HTML, and PDF by a browser.

    basis: where the rig's numbers come from, in words, such as "measured when all was well (May 2)". unknowns: what is
    left open of such a rig, for its gauge card (a Plan has its own). The file is named by rig, job and day, and takes
    the place of no other. A browser that fails takes no HTML away. Raises JetlibError for what has no card and a folder
    that can't be written.

    >>> print_card(demo_rig("yard_trailer"), "cards")[0].parent.name
    'cards'
    """
    today = datetime.date.today().isoformat()
    if isinstance(of, Table):
        document, parts = _comparison_card(of, system=system, paper=paper), ["comparison"]
    elif isinstance(of, Plan):
        parts = ["job-card", file_part(of.rig), file_part(of.job)]
        document = job_card(of, system=system, paper=paper)
    else:
        document = gauge_card(of, system=system, paper=paper, unknowns=unknowns)
        parts = ["gauge-card", file_part(of)]
    name = _free_name(Path(folder), "-".join([*parts, today, system.lower()]))
    section = document.sections[0]
    told = f"Printed {today}. The rig: {basis}. {section.lead.removeprefix(f'{today}. ')}"
    document = replace(document, name=name, sections=(replace(section, lead=told), *document.sections[1:]))
    try:
        return write(document, folder)
    except JetlibError:
        return write(document, folder, pdf=False)


def _comparison_card(shown, *, system, paper):
    """The Document with a Table of set-ups side by side, as the bench has them, and room to write."""
    body = fill("comparison", cautions=CAUTIONS, shown=shown)
    section = Section("Setups compared", body, SOURCE, None, "Behind each figure: against the first column.", card=True)
    return Document("comparison", (section,), system, paper)


def _free_name(folder, name):
    """`name`, with a number behind it where a card of that name is there already."""
    taken, number = name, 2
    while (folder / f"{taken}.html").exists() or (folder / f"{taken}.pdf").exists():
        taken, number = f"{name}-{number}", number + 1
    return taken
