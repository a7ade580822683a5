"""The final check on the page: twenty questions one at a time, two callouts, and a record to print."""

from collections.abc import Callable
from pathlib import Path

import ipywidgets as widgets

from jetlib.course.classroom.assessment import (
    APART,
    CALLOUTS,
    QUESTIONS,
    FinalCheck,
    answered,
    check_callouts,
    check_exercises,
)
from jetlib.course.classroom.hidden_fault.deal import asked_seed
from jetlib.course.progress.progress import current
from jetlib.course.store.locked_folder import home
from jetlib.errors import JetlibError
from jetlib.screen.callouts.console import callout_console
from jetlib.screen.controls.card import Card
from jetlib.screen.controls.fields import line
from jetlib.screen.controls.pieces import BORDER, bundle, button, framed, heading, link, paragraphs, row
from jetlib.screen.learning.practice import PracticeConsole
from jetlib.units.refusal import page_words

_WORDS = (
    f"{QUESTIONS} questions from all lessons, with more of those you got wrong before, and {CALLOUTS} callouts. "
    "The first try at a question counts. To go on another day, begin with the same seed. "
    "The record says what was done. It is no license. No name is kept: you write it on the paper."
)


def final_check(print_record: Callable, *, system: str | None = None) -> "FinalCheckConsole":
    """The FinalCheckConsole. print_record: what writes the record, `jetlib.print_check_record`."""
    return FinalCheckConsole(print_record, system=system)


class FinalCheckConsole(Card):
    """check: the FinalCheck under way, or None before it begins."""

    def __init__(self, print_record, *, system=None):
        super().__init__(system)
        self._print_record, self.check = print_record, None
        self._parts, self._at = [], 0
        self._seed = line("Seed", hint="a new one", width="230px", label_width="50px")
        self._done, self._holder = widgets.HTML(), widgets.VBox()
        back, forth = button("Back", lambda: self.go(-1)), button("Next", lambda: self.go(1))
        self._steps = row(back, forth, button("Print the record", self.print))
        self._steps.layout.display = "none"
        top = widgets.HTML(heading("Final check") + paragraphs(_WORDS)), row(self._seed, button("Begin", self.begin))
        self.box = widgets.VBox([*top, self._done, self._holder, self._steps, self._said], layout=BORDER)

    def begin(self, seed=None):
        """Draw a check, by `seed`, by what stands in the field, or a fresh one."""
        try:
            number = asked_seed(self._seed.value if seed is None else str(seed))
        except JetlibError as error:
            self._say(page_words(error, self.system), "wrong")
            return
        self._seed.value = str(number)
        record = current().record
        exercises = check_exercises(record, number)
        self.check = FinalCheck(number, exercises, answered(record, exercises, number))
        self._parts = [PracticeConsole(each, seed=APART + number, system=self.system, progress=_Told(self.check))
                       for each in self.check.exercises]  # fmt: skip
        self._parts += [callout_console(name, seed=number, system=self.system, title=f"Callout {at} of {CALLOUTS}",
                                        place=f"final check {number}, {at}")
                        for at, name in enumerate(check_callouts(number), start=1)]  # fmt: skip
        for each in self._parts[QUESTIONS:]:
            each.only_this()
        self._at, self._steps.layout.display = 0, None
        self.go(0)

    def go(self, by):
        """To the next part, or back."""
        if self.check is None:
            return
        self._at = min(max(self._at + by, 0), len(self._parts) - 1)
        self._holder.children = (self._parts[self._at].box,)
        self._say("")
        self._count()

    def print(self):
        """Write the record, and hand it over."""
        if self.check is None:
            return
        self._count()
        with self._refusing("No record was written: {}", "wrong"):
            paths = [Path(path) for path in self._print_record(self.check, home() / "records", system=self.system)]
            self._say(f"The record is written: {' and '.join(map(str, paths))}.")
            self._said.value += link(paths[-1])

    def _count(self):
        self.check.plays = [each.play for each in self._parts[QUESTIONS:] if each.play.end is not None]
        self._done.value = paragraphs(f"Part {self._at + 1} of {len(self._parts)}. {self.check.summary}")

    def _repr_mimebundle_(self, include=None, exclude=None):
        return bundle(self.box, f"Final check. {_WORDS}", framed(heading("Final check") + paragraphs(_WORDS)))


class _Told:
    """The learner's Progress, and the check beside it: both are told of a try."""

    def __init__(self, check):
        self._check, self._progress = check, current()

    def attempt(self, exercise, seed, verdict):
        self._check.attempt(exercise, seed, verdict)
        self._progress.attempt(exercise, seed, verdict)

    def __getattr__(self, name):
        return getattr(self._progress, name)
