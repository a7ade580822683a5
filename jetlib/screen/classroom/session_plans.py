"""Session plans on screen: choose one, go through its steps, with the minutes and the time of day beside them."""

import json

import ipywidgets as widgets

from jetlib.course.banks import registry as bank
from jetlib.course.classroom.session_plan import clock, minute_of_day, plans, refused_plans
from jetlib.course.classroom.vote import question
from jetlib.course.pages.contents import lessons, page
from jetlib.course.store.checked_row import among
from jetlib.screen.classroom.stage import Stage
from jetlib.screen.controls.card import Card, room_card
from jetlib.screen.controls.fields import ReadField, choice
from jetlib.screen.controls.pieces import beside, bundle, button, folded, framed, heading, named, row, show_button
from jetlib.screen.drawing.chart import text
from jetlib.screen.drawing.filled import filled
from jetlib.screen.drawing.large import wide
from jetlib.screen.drawing.picture import Picture

_fill = filled(__file__)
#: What a kind of step is called, where it is not its name.
_KINDS = {"vote": "room vote", "machine": "at the machine", "assessment": "final assessment"}
#: Of the clock line, px.
_WIDTH, _HEIGHT = 920, 118
_LEFT, _RIGHT, _TOP, _HIGH = 8, 912, 34, 44
_APART = 74  # px that two times of day need


def session_plans(plan: str = "jets_20", *, start: str = "9:00", system: str | None = None) -> "SessionPlans":
    """The SessionPlans of the page, at the first step of the plan of that id."""
    return SessionPlans(plan, start=start, system=system)


class SessionPlans(Card):
    """A plan and where one is in it: `plan`, `at` (from 0), `start` (minute of the day)."""

    def __init__(self, plan="jets_20", *, start="9:00", system=None):
        super().__init__(system)
        self.plans = plans()
        self.plan, self.at = self.plans[among(plan, self.plans, "there is no plan")], 0
        self.start = minute_of_day(start)
        self.stage = Stage(self.go)
        options = [(f"{_length(each.minutes)}: {each.title}", name) for name, each in self.plans.items()]
        self._plan = choice("Plan", options, plan, width="640px", label_width="initial")
        self._plan.observe(lambda change: self.choose(change["new"]), names="value")
        self._begins = ReadField(
            "Begins at", minute_of_day, self._begin_at, value=start, hint="9:00", width="230px", label_width="initial"
        )
        self._step = choice("Step", [], None, width="640px", label_width="initial")
        self.heard(self._step, lambda at: self.go(at) if at is not None else None)
        self._about, self._clock, self._large, self._list = (widgets.HTML() for _ in range(4))
        left_out = "".join(f"<div>{beside(f'Plan left out: {each}', 'wrong')}</div>" for each in refused_plans())
        self._notes = named(widgets.HTML(), "jl-trainer-notes")
        notes = button("Trainer's notes", lambda: None, hint="In a window of their own: keep it off the projector")
        self.box = room_card(
            "Session plan",
            self._begins.box,
            self._plan,
            *([widgets.HTML(left_out)] if left_out else []),
            self._about,
            self._clock,
            row(
                named(button("◀ Step back", lambda: self.go(self.at - 1)), "jl-back"),
                named(button("Next step ▶", lambda: self.go(self.at + 1)), "jl-next"),
                show_button(self.show_step, "Show this step"),
                named(notes, "jl-notes-open", "jl-needs-page"),
                self._step,
            ),
            self.stage.box,
            self._notes,
            self._large,
            self._said,
            self._list,
        )
        self._chosen()

    @property
    def step(self):
        """The Step that is shown."""
        return self.plan.steps[self.at]

    def go(self, at):
        """Show the step at this place, from 0; held between the first and the last."""
        self.at = min(max(at, 0), len(self.plan.steps) - 1)
        self._show()

    def choose(self, plan):
        """Another plan, from its first step."""
        self.plan, self.at = self.plans[plan], 0
        self._chosen()

    def show_step(self):
        """Put the step up for the room, with its vote or its console already set; the clock runs from the first one."""
        self.stage.show(self.plan, self.at, self.system)
        self._notes.value = self._notes_html()

    def _chosen(self):
        with self.quietly():
            self._step.options = [(f"{at + 1}  {step.title}", at) for at, step in enumerate(self.plan.steps)]
        self._show()

    def _begin_at(self, minute):
        self.start = minute
        self._show()

    def _show(self):
        with self.quietly():
            self._step.value = self.at
        self.picture = clock_picture(self.plan, self.at, self.start)
        self._about.value = _fill("about", plan=self.plan)
        self._clock.value = wide(self.picture, 18)
        self._large.value = step_html(self.step, self.system)
        self._say(self.words)
        if self.stage.plan is not None:
            self.stage.show(self.plan, self.at, self.system)
        self._notes.value = self._notes_html()
        self._list.value = folded("All steps of this plan", steps_table(self.plan, self.at, self.start))

    def _notes_html(self):
        """What the trainer's own window says."""
        plan, stage = self.plan, self.stage
        due = stage.due if stage.plan is plan else None
        late, step = json.dumps(plan.late_words(self.at)), step_html(self.step, self.system, opened=True)
        return _fill("notes", plan=plan, at=self.at, step=step, ends=stage.ends, due=due, late=late)

    @property
    def words(self):
        """Where one is in the plan, in one sentence. What the room will see is not in it: the room reads this too."""
        begins = self.start + self.plan.begins[self.at]
        return (
            f"Step {self.at + 1} of {len(self.plan.steps)}, {clock(begins)} to {clock(begins + self.step.minutes)}, "
            f"{self.step.minutes} min: {self.step.title}."
        )

    def _repr_mimebundle_(self, include=None, exclude=None):
        lines = [f"{self.plan.title}, {_length(self.plan.minutes)}"]
        for at, step in enumerate(self.plan.steps):
            lines.append(f"{clock(self.start + self.plan.begins[at]):>5}  {step.minutes:>3} min  {step.title}")
            lines += [f"               {words}" for words in step.sights(self.system)]
        table = steps_table(self.plan, 0, self.start)
        html = framed(f"{heading(lines[0])}{clock_picture(self.plan, 0, self.start).image()}{table}")
        return bundle(self.box, "\n".join(lines), html)


# --- pieces -----------------------------------------------------------------------------------------


def _length(minutes):
    """A length as people say it."""
    return f"{minutes} min" if minutes < 240 else f"a day, {clock(minutes)} h"


def _page_name(step):
    """Where the step takes place, unless on this page."""
    return page(step.page).name if step.page and step.page != "classroom" else ""


def step_html(step, system, *, opened=False):
    """A step in large type: what to do, what to set, what to ask; what goes wrong and what then, folded or open."""
    exercises = [(bank.exercise(name).lesson, bank.exercise(name).title) for name in step.practice]
    stems = {each.number: each.stem for each in lessons()}
    return _fill(
        "step",
        step=step,
        system=system,
        kind=_KINDS.get(step.kind, step.kind),
        page=_page_name(step),
        vote=step.vote and question(step.vote).title,
        exercises=[(stems[lesson], f"{lesson} {title}") for lesson, title in exercises],
        opened=opened,
    )


def steps_table(plan, at, start):
    """HTML of all steps with minutes from the start and the time of day; the one shown is marked."""
    rows = [
        (begins, clock(start + begins), step, _KINDS.get(step.kind, step.kind), _page_name(step))
        for begins, step in zip(plan.begins, plan.steps, strict=True)
    ]
    return _fill("steps", rows=rows, at=at, end=(plan.minutes, clock(start + plan.minutes)))


def clock_picture(plan, at, start):
    """The Picture of a Plan's steps with the one at place `at` marked; start: minute of the day it begins."""
    scale = (_RIGHT - _LEFT) / plan.minutes
    parts, last = [], -1e9
    for number, (step, begins) in enumerate(zip(plan.steps, plan.begins, strict=True)):
        x, width, here = _LEFT + begins * scale, step.minutes * scale, number == at
        box = f'x="{x:.1f}" y="{_TOP}" width="{width:.1f}" height="{_HIGH}"'
        if here:
            parts.append(f'<rect class="jl-ink-blue" fill-opacity="0.3" {box}/>')
            parts.append(f'<path class="jl-ink-blue" d="M{x + width / 2:.1f} {_TOP - 4}l-11 -18h22z"/>')
        elif step.kind == "break":  # slanting strokes over it
            strokes = "".join(
                f"M{x + along:.1f} {_TOP + _HIGH}l{min(12, width - along):.1f} -{_HIGH}"
                for along in range(0, int(width), 14)
            )
            parts.append(f'<path d="{strokes}" stroke="currentColor" stroke-opacity="0.45" stroke-width="2"/>')
        parts.append(f'<rect fill="none" stroke="currentColor" stroke-width="{4 if here else 1.5}" {box}/>')
        if width > 18:
            size, weight = 24 if width > 32 else 17, "bold" if here else "normal"
            parts.append(text(x + width / 2, _TOP + 31, str(number + 1), anchor="middle", size=size, weight=weight))
        if x - last >= _APART and (x <= _RIGHT - 2 * _APART or number == 0):
            parts.append(text(x, _TOP + _HIGH + 28, clock(start + begins), size=22))
            last = x
    parts.append(text(_RIGHT, _TOP + _HIGH + 28, clock(start + plan.minutes), anchor="end", size=22))
    begins = plan.begins[at]
    words = (
        f"{plan.title}: {len(plan.steps)} steps from {clock(start)} to {clock(start + plan.minutes)}. Step {at + 1}, "
        f"{plan.steps[at].title}, begins {begins} min from the start, at {clock(start + begins)}."
    )
    return Picture("".join(parts), _WIDTH, _HEIGHT, words)
