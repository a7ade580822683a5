"""Where a reader is in the course: what each page has to do, what of it is done, and what comes next."""

import json
import re
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

from jetlib.course.banks import registry as bank
from jetlib.course.pages.contents import LESSONS, lessons, page

_ASKED = re.compile(r'\b(practice|prediction)\("([^"]+)"')
_DEEPER = "## Go deeper"
_KINDS = {"practice": "exercise", "prediction": "prediction"}


@dataclass(frozen=True)
class Task:
    """An exercise or a prediction where it stands on its page, the `number`th of its `kind` there.

    core: it comes before the part *Go deeper*.
    """

    stem: str
    kind: str
    number: int
    id: str
    core: bool = True

    @property
    def title(self):
        """Its title."""
        return (bank.exercise if self.kind == "exercise" else bank.prediction)(self.id).title

    @property
    def words(self):
        """Where it is: "03, exercise 4"."""
        return f"{page(self.stem).number}, {self.kind} {self.number}"

    @property
    def link(self):
        """Address from another page."""
        return f"{self.stem}.ipynb#{self.id}"


@cache
def tasks(stem):
    """The Tasks of a page in the order in which they stand on it, a tuple."""
    counts, found, core = dict.fromkeys(_KINDS.values(), 0), [], True
    for cell in json.loads((LESSONS / f"{stem}.ipynb").read_text("utf-8"))["cells"]:
        source = "".join(cell["source"])
        core = core and not source.startswith(_DEEPER)
        for maker, name in _ASKED.findall(source) if cell["cell_type"] == "code" else ():
            kind = _KINDS[maker]
            counts[kind] += 1
            found.append(Task(stem, kind, counts[kind], name, core))
    return tuple(found)


def task_after(name):
    """The Task that stands after the one with this id on its page; None after the last, or for one on no page."""
    stem = next((each.stem for each in lessons() if each.stem[:2] == name[:2]), None)
    found = tasks(stem) if stem else ()
    return next((after for task, after in pairwise(found) if task.id == name), None)


def is_done(record, task):
    """Whether it was right once, or locked once: what is done stays done."""
    return record.once_right(task.id) if task.kind == "exercise" else task.id in record.predicted


def done_of(record, stem, kind=None):
    """(done, all) of the tasks on a page; kind: only "exercise" or "prediction"."""
    asked = [task for task in tasks(stem) if kind in (None, task.kind)]
    return sum(is_done(record, task) for task in asked), len(asked)


def is_read(record, stem):
    """Whether a lesson counts as read to its end: each prediction of its core locked, each exercise there tried.

    Right or wrong does not matter for that. What somebody does is known; what somebody reads is not.
    """
    core = [task for task in tasks(stem) if task.core]
    return bool(core) and all(record.tries(task.id) or task.id in record.predicted for task in core)


def next_task(record):
    """The Task to go on with: the first left on the page worked on last, then on those after it; None at the end."""
    stems = [each.stem for each in lessons() if tasks(each.stem)]
    latest = record.events[-1] if record.events else None
    latest = getattr(latest, "exercise", getattr(latest, "prediction", ""))
    at = next((at for at, stem in enumerate(stems) if stem[:2] == latest[:2]), 0)
    left = (task for stem in (*stems[at:], *stems[:at]) for task in tasks(stem) if not is_done(record, task))
    return next(left, None)
