"""What a room is shown of a session, one thing at a time: a question, its vote, the answer, a console already set.

Nothing that is for the trainer alone is in it.
"""

import time
from contextlib import suppress
from html import escape

import ipywidgets as widgets

from jetlib.course.classroom.session_plan import AT_THE_MACHINE, CAUTION
from jetlib.course.classroom.session_sight import checked, seen
from jetlib.course.pages.consoles import console
from jetlib.errors import JetlibError
from jetlib.screen.classroom.live_rig import LiveRig
from jetlib.screen.classroom.vote import RoomVote
from jetlib.screen.controls.pieces import named, show_box
from jetlib.units import text


class Parts:
    """`box` shows one thing at a time over the whole window; its arrows call `next` and `back`.

    parts: names of what there is to show, in order; part: the place of the one that is shown. The method of its name,
    with "_" before it, gives what is shown, widgets or HTML, and its controls, two lists.
    """

    def __init__(self):
        self.part = 0
        self._head, self._main, self._own = widgets.HTML(), widgets.VBox(), named(widgets.HBox(), "jl-own")
        self.box = show_box([self._main], [self._own], head=self._head, back=self.back, next_=self.next)

    def _put(self, title, at_right, *given):
        """Draw the part with what it is `given`, under a line of two pieces of HTML."""
        self._head.value = f'<div class="jl-headline"><span>{title}</span>{at_right}</div>'
        main, own = getattr(self, f"_{self.parts[self.part]}")(*given)
        self._main.children = [widgets.HTML(each) if isinstance(each, str) else each for each in main]
        self._own.children = own


class Stage(Parts):
    """The step `plan.steps[at]`; `next` and `back` lead through its parts, and on to the steps beside it.

    move(at): what goes to another step, and calls `show` with it. now(): seconds, as of `time.time`.
    """

    def __init__(self, move, *, now=time.time):
        super().__init__()
        self._move, self._now = move, now
        self.plan, self.at, self.system, self.ends = None, 0, "US", 0.0
        self.vote = self.console = self._told = self._zero = None  # _zero: when minute 0 of the plan was
        self._votes = {}  # (id of the plan, place of the step) -> its RoomVote: going back finds the hands counted

    @property
    def step(self):
        """The Step shown."""
        return self.plan.steps[self.at]

    @property
    def parts(self):
        """What the step consists of, names in order."""
        step = self.step
        asked = ("vote", "answer") if step.vote else ("words",) if step.ask or not step.console else ()
        return (*asked, "console") if step.console else asked

    @property
    def due(self):
        """When the step shown should end for the plan to end on time, seconds; None before anything was shown."""
        return None if self._zero is None else self._zero + 60 * (self.plan.begins[self.at] + self.step.minutes)

    def show(self, plan, at, system):
        """Put up a step, from its first part; the first one of a plan that is shown starts the plan's clock."""
        if plan is not self.plan:
            self._zero = self._now() - 60 * plan.begins[at]
        if (plan, at, system) != (self.plan, self.at, self.system):
            self.plan, self.at, self.system, self.part = plan, at, system, 0
            self.vote, self.console = self._votes.get((plan.id, at)), None
            self.ends = self._now() + 60 * self.step.minutes
        self._draw()

    def next(self):
        """The next part, or the next step; nothing before anything was shown."""
        if self.plan is None:
            return
        if self.part + 1 < len(self.parts):
            self.part += 1
            self._draw()
        elif self.at + 1 < len(self.plan.steps):
            self._move(self.at + 1)

    def back(self):
        """The part before, or the step before."""
        if self.part:
            self.part -= 1
            self._draw()
        elif self.plan is not None and self.at:
            self._move(self.at - 1)
            self.part = len(self.parts) - 1
            self._draw()

    # --- inside ---

    def _draw(self):
        title = f"{self.at + 1} / {len(self.plan.steps)}&ensp;{escape(self.step.title)}"
        self._put(title, f'<span class="jl-clock" data-ends="{self.ends:.0f}"></span>')

    def _words(self):
        step = self.step
        said = {"cautions": CAUTION, "machine": f"{AT_THE_MACHINE} {step.ask}"}.get(step.kind, step.ask or step.title)
        return [f"<div>{escape(said)}</div>"], []

    def _vote(self):
        if self.vote is None:
            self.vote = RoomVote(self.step.vote, seed=self.step.seed, system=self.system)
            self._votes[self.plan.id, self.at] = self.vote
        return [self.vote.fields.large], self.vote.fields.few[:3]

    def _answer(self):
        self._vote()
        self.vote.show_answer(anyway=True)
        return [self.vote.fields.large], []

    def _console(self):
        step = self.step
        if self.console is None:
            self.console = console(step.console).maker()(system=self.system)
            if step.set:
                self.console.set(**checked(step.console, step.set))
            self._told = self._read_out(step)
        moved = dict.fromkeys(name for sight in step.sees for name in (*sight.before, *sight.after))
        picture, fields = self.console.on_stage(moved or step.set)
        return [picture, named(self._told, "jl-beside")], fields

    def _read_out(self, step):
        """The numbers of the console in large type, kept up with its picture; a live rig has them in its own."""
        told, made, record = widgets.HTML(), self.console, console(step.console)
        if isinstance(made, LiveRig) or not record.shows:
            return told
        usual = made.draw

        def draw(values, system):
            picture = usual(values, system)
            found = {}
            with suppress(JetlibError):
                found = seen(step.console, {name: values[name] for name in record.settings if name in values})
            said = [
                f"{name} <b>{text(float(found[name]), kind, system)}</b>"
                for name, kind in record.shows.items()
                if name in found
            ]
            told.value = f'<div style="text-align:center">{" · ".join(said)}</div>'
            return picture

        made.draw = draw
        made.set()
        return told
