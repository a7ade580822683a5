"""A class set: everything that a trainer wants on paper as one document, learners' sheets first, the trainer's last."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from os import PathLike

from jetlib.course.classroom.print_orders import rig_called
from jetlib.course.exercises.yard_job import yard_job
from jetlib.errors import JetlibError
from jetlib.paper.cards.bench import job_card
from jetlib.paper.cards.gauge import gauge_card
from jetlib.paper.cards.rig import rig_tables
from jetlib.paper.page.document import Document, write
from jetlib.paper.sheets.answers import answer_key, assessment_sheets, seat_sheets
from jetlib.paper.sheets.drills import callout_sheet, hidden_fault_sheets
from jetlib.paper.sheets.lesson import handout
from jetlib.paper.sheets.records import attendance_list, seat_slips
from jetlib.rig.job.plan import plan_job
from jetlib.units.refusal import cut

MOST_COPIES = 60
_PAGE = re.compile(rb"/Type\s*/Page\b")


@dataclass(frozen=True)
class Printed:
    """What was written: paths, and how many pages the PDF has; None where no browser was there to make one."""

    paths: tuple
    pages: int | None


def sheets_of(order, *, seats=12, seed=1, system="US", paper="A4"):
    """(for learners, a copy for each; for learners, one of each; for the trainer): tuples of an Order's Documents."""
    given = {"system": system, "paper": paper}
    drawn = {**given, "seed": seed}
    match order.sheet:
        case "handout":
            return (handout(order.of, **drawn),), (), ()
        case "gauge-card":
            return (gauge_card(rig_called(order.of, system), **given),), (), ()
        case "tables":
            return (rig_tables(rig_called(order.of, system), **given),), (), ()
        case "job-card":
            return (job_card(plan_job(rig_called(order.of, system), yard_job(system=system)), **given),), (), ()
        case "drill":
            room, trainer = hidden_fault_sheets(rig_called(order.of), **drawn)
            return (room,), (), (trainer,)
        case "callout":
            return (), (), (callout_sheet(order.of, **drawn),)
        case "slips":
            return (), (seat_slips(seats, **given),), ()
        case "attendance":
            return (), (), (attendance_list(seats, **given),)
        case "assessment":
            sheets, key = assessment_sheets(seats, **drawn)
            return (), (sheets,), (key,)
        case "seats":
            sheets, key = seat_sheets(order.of, seats, only=order.only or None, **drawn)
            return (), (sheets,), (key,)
    return (), (), (answer_key(order.of, only=order.only or None, **drawn),)


def class_set(orders, name, *, seats=12, copies=1, seed=1, system="US", paper="A4", told=None):
    """The one Document of all orders. copies: of what is the same for everybody.

    told(done, words) is called before each order is made, and hears how many are done. Raises JetlibError.
    """
    if type(copies) is not int or not 1 <= copies <= MOST_COPIES:
        raise JetlibError(f"copies is {cut(copies)}; write a whole number from 1 to {MOST_COPIES}")
    if not orders:
        raise JetlibError("nothing is chosen to print; choose a sheet first")
    learners, trainers = [], []
    for done, order in enumerate(orders):
        if told is not None:
            told(done, order.words)
        alike, apart, own = sheets_of(order, seats=seats, seed=seed, system=system, paper=paper)
        learners += [section for document in alike for section in document.sections * copies]
        learners += [section for document in apart for section in document.sections]
        trainers += [section for document in own for section in document.sections]
    return Document(f"{name}-seed-{seed}-{system.lower()}", (*learners, *trainers), system, paper)


def print_set(
    orders: list | tuple,
    folder: str | PathLike,
    name: str = "class-set",
    *,
    told: Callable | None = None,
    **given: object,
) -> Printed:
    """Write the `class_set` of these orders in `folder`, as HTML and, where a browser is found, PDF; a Printed.

    >>> from jetlib.course.classroom.print_orders import Order
    >>> print_set([Order("tables", "yard_trailer")], "sheets").paths[0].suffix
    '.html'
    """
    document = class_set(orders, name, told=told, **given)
    if told is not None:
        told(len(orders), "laying out the pages")
    page, *pdf = write(document, folder)
    return Printed((page, *pdf), len(_PAGE.findall(pdf[0].read_bytes())) if pdf else None)
