"""One exercise on the page: question, fields, check, two hints, worked solution, another variant."""

from html import escape

import ipywidgets as widgets

from jetlib.course.banks import registry as bank
from jetlib.course.exercises.numeric import Numeric
from jetlib.course.pages.way import task_after
from jetlib.screen.controls.pieces import button, folded, other, paragraphs
from jetlib.screen.learning.question_card import QuestionCard, fields_for

_STATES = {
    "not attempted": "",
    "done": "You have got this one right before.",
    "to review": "You got this one wrong last time. Try it again.",
}


def practice(name: str, *, seed: int | None = None, system: str | None = None) -> "PracticeConsole":
    """The PracticeConsole of the exercise with this id, such as "02-areas-add". seed: `first_seed()` if None."""
    console = PracticeConsole(bank.exercise(name), seed=bank.first_seed() if seed is None else seed, system=system)
    console.box.add_class("course-task")  # those that the bar above the page counts
    return console


class PracticeConsole(QuestionCard):
    """An exercise to do. `variant` is the one shown; `verdict` is what was said last, or None.

    `check`, `hint`, `show_solution`, `new_variant` do what the buttons do. `then(self)` is called once it is right, or
    its solution shown.
    """

    waiting = "Run this page to answer here."

    def __init__(self, exercise, *, seed=1, system=None, progress=None):
        super().__init__("Practice", exercise, system, progress)
        self.exercise = exercise
        self.then = lambda card: None
        self._holder = widgets.VBox()
        self._hint_button = button("", self.hint)
        self._lay_out(
            "course-practice",
            self._holder,
            button("Check", self.check, hint="Check your answer"),
            self._hint_button,
            button("Worked solution", self.show_solution),
            button("New variant", self.new_variant, hint="The same question with other numbers"),
        )
        self._begin(seed)
        self._mark()
        self._say(_STATES[self.progress.record.state(exercise.id)])

    def check(self, reply=None):
        """Judge what is in the fields, or `reply`; returns the Verdict."""
        self._reply = self.fields.reply() if reply is None else reply
        self.verdict = verdict = self.variant.check(self._reply, self.system)
        self.fields.mark(verdict)
        more = ""
        if self._solved:
            more = " You have seen the solution, so this try does not count. Press New variant for one that does."
        else:
            self.progress.attempt(self.exercise.id, self.variant.seed, verdict)
            self._mark()
        self._say_verdict(more)
        if verdict.status == "right":
            self.then(self)
        return verdict

    def _mark(self):
        """Tell the page that it was right once: that stays."""
        if self.progress.record.once_right(self.exercise.id):
            self.box.add_class("course-done")

    def hint(self):
        """Show the next hint."""
        self._hints = min(self._hints + 1, 2)
        self._show()

    def show_solution(self):
        """Show the worked solution, in the reader's units and folded in the others."""
        self._solved = True
        self._show()
        self.then(self)

    def new_variant(self):
        """The same exercise with numbers not tried yet."""
        self._begin(max(self.variant.seed + 1, self.progress.record.next_seed(self.exercise.id)))
        self._say("Here are new numbers.")

    def _begin(self, seed):
        self.variant, self.verdict = self.exercise.variant(seed), None
        self._hints, self._solved = 0, False
        self.fields = fields_for(self.variant, self.system, self.check)
        self._holder.children = (self.fields.box,)
        self._show()

    def use_units(self, system):
        """Word everything in "US" or "metric"."""
        self.system = system
        self.fields.show(system)
        self._show()
        if self.verdict is not None:
            self.verdict = self.variant.check(self._reply, system)
            self._say_verdict()

    def _show(self):
        self._question.value = paragraphs(self.variant.question(self.system))
        self._hint_button.description = f"Hint {min(self._hints + 1, 2)} of 2"
        self._hint_button.disabled = self._hints == 2
        hints = (f"Hint {at}: {self.variant.hint(at, self.system)}" for at in range(1, self._hints + 1))
        shown = "".join(map(paragraphs, hints))
        if self._solved:
            here, again = (self.variant.solution(each) for each in (self.system, other(self.system)))
            shown += paragraphs(f"Worked solution\n{here}")
            shown += folded(f"In {other(self.system)} units", paragraphs(again)) if again != here else ""
        self._answer_with(shown)

    def _say_verdict(self, more=""):
        self._say(self.verdict.words + more, self.verdict.status)
        if self.verdict.status == "right":
            self._said.value += after_right(self.variant, self.system)

    def _worded(self, system):
        question = self.variant.question(system)
        lines, body = fields_for(self.variant, system, None).stored(system)
        return [question, *([""] if lines else []), *lines], paragraphs(question) + body


def after_right(variant, system):
    """HTML for whoever has it right: one line of why, and the way to what comes next on the page."""
    lines = variant.solution(system).splitlines()
    why = lines[-1] if isinstance(variant.exercise, Numeric) else lines[0].split(". ")[0]
    html = "" if why.endswith(":") else paragraphs(why)
    following = task_after(variant.exercise.id)
    if following is not None:
        html += f'<a class="course-go" href="#{following.id}">Next: {escape(following.title)} ▶</a>'
    return html
