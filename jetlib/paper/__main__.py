"""`.venv/bin/python -m jetlib.paper handout 02 --paper Letter --units metric --out prints`: what a trainer prints."""

import argparse
import sys

from jetlib.course.callouts.kinds import kinds
from jetlib.course.classroom.class_progress import read_class
from jetlib.course.classroom.print_orders import Order, rig_called
from jetlib.course.classroom.session_plan import plans
from jetlib.course.exercises.yard_job import yard_job
from jetlib.errors import JetlibError
from jetlib.paper.cards.bench import job_card
from jetlib.paper.page.document import PAPERS, find_browser, write
from jetlib.paper.sheets.class_set import class_set, sheets_of
from jetlib.paper.sheets.records import class_records
from jetlib.rig.job.flushing import DEBRIS
from jetlib.rig.job.plan import plan_job
from jetlib.rig.parts.rig_file import demo_rigs
from jetlib.units import SYSTEMS
from jetlib.units.entry import amount
from jetlib.units.refusal import page_words

_JOB = {  # what may be said about a job, by the names of the yard's job, and what it is read as
    "pipe": (None, 'name of the pipe, such as "4 in PVC SDR 35"'),
    "run": ("length", 'length of the drain, "100 ft"'),
    "fall": ("slope", 'its fall, "1:50"'),
    "turn": ("angle", 'angle of the bend on the way, "45 deg"'),
    "outside": ("length", "hose between machine and entry"),
    "access": ("pipe_bore", "width of the access opening, if it is narrower than the pipe"),
    "stiff": ("pipe_bore", "rigid length: the nozzle with the rigid piece behind it"),
    "volume": ("volume", "water in the tank"),
    "refill": ("flow", "flow of the filling hose during the work"),
    "throttle": ("fraction", 'throttle, "half" or "50 %%"'),
}


def main(arguments=None):
    """0 when everything was written; 2 with one line of what to change otherwise."""
    asked = _parser().parse_args(arguments)
    try:
        for document in asked.make(asked):
            for path in write(document, asked.out, pdf=not asked.html_only):
                print(path)
    except JetlibError as error:
        print(page_words(error, asked.units), file=sys.stderr)
        return 2
    if not asked.html_only and find_browser() is None:
        print("No Chromium on this machine, so no PDF: open the HTML and print it from the browser.", file=sys.stderr)
    return 0


def _parser():
    shared = argparse.ArgumentParser(add_help=False)
    shared.add_argument("--units", choices=SYSTEMS, default="US")
    shared.add_argument("--paper", choices=tuple(PAPERS), default="A4")
    shared.add_argument("--out", default=".", help="folder to write to (default: here)")
    shared.add_argument("--html-only", action="store_true", help="no PDF")
    seeded = _option("--seed", type=int, default=1, help="which numbers; the same seed, the same sheet (default 1)")
    lesson = _option("of", metavar="lesson", help='number of the lesson, such as "02"')
    only = _option("--only", nargs="+", metavar="EXERCISE", help="ids of the exercises wanted (default: all)")
    rig = _option("of", metavar="rig", help=f"path of a rig file, or a yard rig: {', '.join(demo_rigs())}")
    called = _option("of", metavar="callout", help=f"one of {', '.join(kinds())}")
    seated = _option("--seats", type=int, default=12, help="how many (default 12)")
    parser = argparse.ArgumentParser(
        prog=".venv/bin/python -m jetlib.paper",
        description="Handouts, keys, cards and tables to print: HTML, and PDF by Chromium.",
    )
    commands = parser.add_subparsers(dest="command", required=True)

    def command(name, words, make, *parents):
        found = commands.add_parser(name, help=words, description=words, parents=[*parents, shared])
        found.set_defaults(make=make)
        return found

    command("handout", "A lesson as a worksheet.", _sheet, lesson, seeded)
    command("key", "Answers, worked, and the mistake behind each wrong one.", _sheet, lesson, seeded, only)
    command("seats", "A different sheet for each seat, and one key.", _sheet, lesson, seeded, only, seated)
    command("gauge-card", "What a rig's gauge reads when all is well, and what other readings can mean.", _sheet, rig)
    command("tables", "Hose loss by flow and jet flow by pressure of a rig.", _sheet, rig)
    command("drill", "A hidden fault for a room without a screen, and the trainer's sheet.", _sheet, rig, seeded)
    command("callout", "The trainer's sheet of a callout, with the truth.", _sheet, called, seeded)
    command("slips", "A slip for each seat.", _sheet, seated)
    command("attendance", "A list to sign, a row for each seat.", _sheet, seated)
    command("assessment", "The final assessment, a sheet for each seat, and one key.", _sheet, seeded, seated)
    ended = command("records", "A table of the class and a page for each person, of a folder of exports.", _records)
    ended.add_argument("folder", help="folder with the learners' files and the marks")
    whole = command("plan", "Everything that a session plan has printed, in one file.", _plan, seeded, seated)
    whole.add_argument("plan", choices=tuple(plans()), help="name of the plan")
    whole.add_argument("--copies", type=int, default=1, help="of what is the same for everybody (default 1)")
    job = command("job-card", "A job planned with a rig.", _job_card, rig)
    job.add_argument("--seed", type=int, default=0, help="of the random draws behind the bands (default 0)")
    job.add_argument("--passes", type=int)
    job.add_argument("--debris", choices=tuple(DEBRIS))
    for name, (_, words) in _JOB.items():
        job.add_argument(f"--{name}", help=words + " (default: the yard's job)")
    return parser


def _option(*names, **given):
    """A parser of one argument, for the commands that share it."""
    parser = argparse.ArgumentParser(add_help=False)
    parser.add_argument(*names, **given)
    return parser


def _given(asked):
    """What the making of sheets takes, of what was asked."""
    given = {name: getattr(asked, name) for name in ("seats", "copies", "seed") if hasattr(asked, name)}
    return given | {"system": asked.units, "paper": asked.paper}


def _sheet(asked):
    order = Order(asked.command, asked.of if "of" in asked else "", tuple(getattr(asked, "only", None) or ()))
    return [document for group in sheets_of(order, **_given(asked)) for document in group]


def _plan(asked):
    return [class_set(plans()[asked.plan].prints, asked.plan, **_given(asked))]


def _records(asked):
    return [class_records(read_class(asked.folder), system=asked.units, paper=asked.paper)]


def _job_card(asked):
    changes = {name: getattr(asked, name) for name in (*_JOB, "passes", "debris") if getattr(asked, name) is not None}
    for name, (kind, _) in _JOB.items():
        if kind is not None and name in changes:
            try:
                changes[name] = amount(changes[name], kind, asked.units)
            except JetlibError as error:
                raise JetlibError(f"--{name}: {page_words(error, asked.units)}") from None
    plan = plan_job(rig_called(asked.of, asked.units), yard_job(system=asked.units, **changes), seed=asked.seed)
    return [job_card(plan, seed=asked.seed, system=asked.units, paper=asked.paper)]


if __name__ == "__main__":
    sys.exit(main())
