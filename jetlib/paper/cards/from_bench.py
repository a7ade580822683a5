"""What the bench prints: the gauge card of a rig, the job card of a plan, set-ups side by side."""

from dataclasses import replace
from datetime import date
from os import PathLike
from pathlib import Path

from jetlib.errors import JetlibError
from jetlib.paper.cards.gauge import gauge_card
from jetlib.paper.cards.job import job_card
from jetlib.paper.cards.rig_words import SOURCE, file_part
from jetlib.paper.page.document import CAUTIONS, Document, Section, write
from jetlib.paper.page.style import caution, table
from jetlib.rig.job.plan import Plan
from jetlib.rig.uncertainty.unknowns import Unknowns
from jetlib.screen.drawing.table import Table


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
    today = date.today().isoformat()
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
    lines = '<p>Why this one:</p><p style="border-bottom:1px solid;height:9mm"></p>'
    body = "\n".join([caution(*CAUTIONS), table(shown.heads, shown.rows, style="wide close"), lines])
    section = Section("Setups compared", body, SOURCE, None, "Behind each figure: against the first column.", card=True)
    return Document("comparison", (section,), system, paper)


def _free_name(folder, name):
    """`name`, with a number behind it where a card of that name is there already."""
    taken, number = name, 2
    while (folder / f"{taken}.html").exists() or (folder / f"{taken}.pdf").exists():
        taken, number = f"{name}-{number}", number + 1
    return taken
