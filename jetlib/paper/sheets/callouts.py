"""Callouts on paper: the trainer's sheet with the truth, and the record of a final check, which licenses nobody."""

from os import PathLike

from jetlib.course.callouts.deal import deal
from jetlib.course.callouts.kinds import DECISIONS
from jetlib.course.exercises.words import picked
from jetlib.paper.page.document import Document, Section, require, write
from jetlib.paper.page.style import fill
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
    chosen, shown = _plan(dealt, system) if kind.right == "go" else ("", ())
    body = fill("callout", call=dealt.call(system), decision=DECISIONS[kind.right], truth=dealt.truth, asked=asked,
                chosen=chosen, shown=shown, acts=acts, lines=(NO_LICENSE.partition(" Names")[0],))  # fmt: skip
    source = "a callout dealt by the seed, calculated by jetlib"
    section = Section(f"Trainer: {kind.title}", body, source, dealt.seed)
    return Document(f"callout-{name}-seed-{dealt.seed}-{system.lower()}", (section,), system, paper)


def _plan(dealt, system):
    """(a plan that works in words, rows of what it shows when all is well)."""
    setup, plan = dealt.good, dealt.plan(dealt.good)
    wall = setup.wall()
    chosen = [wall[name][getattr(setup, name)] for name in wall if getattr(setup, name)]
    rows = [(words, text(float(getattr(plan.point, name)), kind, system)) for words, name, kind in _NUMBERS]
    rows.append(("How far the nozzle comes", text(plan.reach.distance, "length", system)))
    return f"{'; '.join(chosen)}; throttle {100 * setup.throttle:.0f} %", rows


def check_record(check, *, system="US", paper="A4"):
    """The Document of a FinalCheck: what was done, on a page that licenses nobody."""
    body = fill("final_check", check=check, lines=(NO_LICENSE,))
    section = Section("Final check", body, "the first tries of one learner", check.seed, card=True, named=True)
    return Document(f"final-check-seed-{check.seed}-{system.lower()}", (section,), system, paper)


def print_check_record(check: object, folder: str | PathLike, *, system: str = "US", paper: str = "A4") -> list:
    """Write `check_record` of a FinalCheck in `folder`: paths, HTML first, and PDF where a browser makes one.

    >>> from jetlib.course.classroom.assessment import FinalCheck
    >>> print_check_record(FinalCheck(1, ()), "records")[0].suffix
    '.html'
    """
    return write(check_record(check, system=system, paper=paper), folder)
