"""The job card of a plan: verdict, what to settle, steps in order, and every number with its band and source."""

from jetlib.errors import JetlibError
from jetlib.paper.cards.rig_words import file_part, in_words
from jetlib.paper.page.document import Document, Section, require
from jetlib.paper.page.style import caution, fill, table
from jetlib.rig.job.plan import Plan
from jetlib.units.refusal import cut

_SECTIONS = {
    "drain": "Drain",
    "machine": "Machine",
    "nozzle": "Nozzle",
    "reach": "Reach",
    "supply": "Water, heat, power",
    "debris": "Down the drain",
}


def job_card(plan, *, seed=0, system="US", paper="A4"):
    """The Document of a Plan. seed: the one that `plan_job` was given, for the draws behind the bands."""
    require(system, paper)
    if not isinstance(plan, Plan):
        raise JetlibError(f"plan is {cut(plan)}; write job_card(plan_job(rig, job))")
    card = plan.card()
    parts = [f'<p class="verdict">{fill("plain", words=card["verdict_text"])}</p>']
    if card["no_go"]:
        parts.append("<h2>No go: put right first</h2>" + _listed("ul", card["no_go"]))
    if card["cautions"]:
        parts.append("<h2>Settle before starting</h2>" + _listed("ul", card["cautions"]))
    parts.append(caution(*card["hazards"]))
    parts.append("<h2>Steps</h2>" + _listed("ol", card["steps"]))
    if card["options"]:
        parts.append("<h2>Hoses in stock</h2>" + _listed("ul", card["options"]))
    parts.append("<h2>Every number, with its band and its source</h2>")
    parts.append("<p>The band holds eight in ten of the rigs and drains that fit what is known.</p>")
    for name, title in _SECTIONS.items():
        rows = [
            (row["label"], row["words"] or row[system], row["source"]) for row in card["rows"] if row["section"] == name
        ]
        if rows:
            parts.append(
                table(
                    ("What", "How much", "Source"), rows, caption=title, widths=(30, 32, 38), style="wide close fixed"
                )
            )
    parts.append("<h2>Written down on the job</h2>" + _notes())
    parts.append(f"<p>{fill('plain', words=card['authority'])}</p>")
    title = f"Job card: {card['title']}"
    lead = f"{card['rig']}; {card['drain']}. {in_words(plan.rig, system)}"
    source = "calculated by jetlib from the rig and job as given; each row names its source"
    section = Section(title, "\n".join(parts), source, seed, lead)
    name = f"job-card-{file_part(plan.rig)}-seed-{seed}-{system.lower()}"
    return Document(name, (section,), system, paper)


def _listed(tag, sentences):
    items = "".join(f"<li>{fill('plain', words=each)}</li>" for each in sentences)
    return f"<{tag}>{items}</{tag}>"


def _notes():
    rows = [
        (what, None)
        for what in (
            "Gauge at idle",
            "Gauge at the throttle used",
            "Time with the jets on",
            "What came out",
            "Name, date",
        )
    ]
    return table(("", "Read or done"), rows, style="wide")
