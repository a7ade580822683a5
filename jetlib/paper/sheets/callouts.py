"""Callouts on paper: the trainer's sheet with the truth, and the record of a final check, which licenses nobody."""

from os import PathLike

from jetlib.course.callouts.deal import deal
from jetlib.course.callouts.kinds import DECISIONS
from jetlib.course.exercises.words import picked
from jetlib.paper.page.document import Document, Section, require, write
from jetlib.paper.page.style import caution, fill, table
from jetlib.paper.sheets.records import NO_LICENSE
from jetlib.units import text

_NUMBERS = (("Gauge", "gauge", "pressure"), ("Flow at the nozzle", "nozzle_flow", "flow"),
            ("Nozzle pressure", "nozzle_pressure", "pressure"))  # fmt: skip


def callout_sheet(name, *, seed=1, system="US", paper="A4"):
    """The trainer's Document of the callout that `seed` deals of a kind (its id): answers, a plan, and the truth."""
    require(system, paper)
    dealt = deal(name, seed)
    kind = dealt.kind
    asked = []
    for each in kind.questions:
        weight = "WRONG" if each.key == dealt.wrong else "yes" if each.matters else ""
        asked.append((each.ask, dealt.answer(each.key, system), weight))
    acts = [(act.label, picked(act.why, system)) for act in kind.acts if act.when != "by itself"]
    parts = [
        f"<p>{fill('plain', words=dealt.call(system))}</p>",
        f'<p class="verdict">{DECISIONS[kind.right]}. {fill("plain", words=dealt.truth)}</p>',
        table(("Asked", "Answered", "Matters"), asked, style="wide close fixed", widths=(35, 53, 12)),
        *(_plan(dealt, system) if kind.right == "go" else ()),
        "<h2>What ends it at once</h2>",
        table(("Act", "Why"), acts, style="wide close fixed", widths=(35, 65)),
        caution(NO_LICENSE.partition(" Names")[0]),
    ]
    source = "a callout dealt by the seed, calculated by jetlib"
    section = Section(f"Trainer: {kind.title}", "\n".join(parts), source, dealt.seed)
    return Document(f"callout-{name}-seed-{dealt.seed}-{system.lower()}", (section,), system, paper)


def _plan(dealt, system):
    setup, plan = dealt.good, dealt.plan(dealt.good)
    wall = setup.wall()
    chosen = [wall[name][getattr(setup, name)] for name in wall if getattr(setup, name)]
    rows = [(words, text(float(getattr(plan.point, name)), kind, system)) for words, name, kind in _NUMBERS]
    rows.append(("How far the nozzle comes", text(plan.reach.distance, "length", system)))
    return (
        f"<p><b>A plan that works:</b> {'; '.join(chosen)}; throttle {100 * setup.throttle:.0f} %.</p>",
        table(("All well, at that throttle", "It is"), rows, numbers=(1,), style="close"),
    )


def check_record(check, *, system="US", paper="A4"):
    """The Document of a FinalCheck: what was done, on a page that licenses nobody."""
    require(system, paper)
    heads = ("Callout", "Safety", "Diagnosis", "Work")
    parts = [
        f"<p>{fill('plain', words=check.summary)}</p>",
        table(("Lesson", "Question", "First try"), check.rows, style="wide close fixed", widths=(10, 65, 25)),
        table(heads, check.callouts, style="wide close fixed", widths=(22, 26, 26, 26)) if check.plays else "",
        f"<p><b>Mistakes made.</b> {fill('plain', words='; '.join(check.mistakes) or 'none')}.</p>",
        caution(NO_LICENSE),
        '<p class="answer">Date <span class="fill half"></span>&emsp;Learner <span class="fill half"></span></p>',
    ]
    source = "the first tries of one learner"
    section = Section("Final check", "\n".join(parts), source, check.seed, card=True, named=True)
    return Document(f"final-check-seed-{check.seed}-{system.lower()}", (section,), system, paper)


def print_check_record(check: object, folder: str | PathLike, *, system: str = "US", paper: str = "A4") -> list:
    """Write `check_record` of a FinalCheck in `folder`: paths, HTML first, and PDF where a browser makes one.

    >>> from jetlib.course.classroom.final_check import FinalCheck
    >>> print_check_record(FinalCheck(1, ()), "records")[0].suffix
    '.html'
    """
    return write(check_record(check, system=system, paper=paper), folder)
