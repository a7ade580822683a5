"""Session plans on screen: choose one, go through its steps, with the minutes and the time of day beside them."""

import json
from html import escape

import ipywidgets as widgets

from jetlib.course.banks import registry as bank
from jetlib.course.classroom.session_plan import clock, minute_of_day, plans, refused_plans
from jetlib.course.pages.contents import lessons, page
from jetlib.errors import JetlibError
from jetlib.screen.classroom.session_clock import clock_picture
from jetlib.screen.classroom.stage import Stage
from jetlib.screen.controls.fields import ReadField
from jetlib.screen.controls.pieces import WIDE, beside, bundle, button, folded, framed, heading, spoken
from jetlib.screen.controls.show import named, show_button
from jetlib.screen.controls.units_choice import follow
from jetlib.screen.drawing.large import BORDER, CLASS, ROW, STYLE, wide

_KINDS = {
    "cautions": "cautions", "vote": "room vote", "console": "console", "explain": "explain", "practice": "practice",
    "hidden fault": "hidden fault", "live rig": "live rig", "machine": "at the machine", "break": "break",
    "assessment": "final assessment", "close": "close",
}  # fmt: skip


def session_plans(plan: str = "jets_20", *, start: str = "9:00", system: str | None = None) -> "SessionPlans":
    """The SessionPlans of the page, at the first step of the plan of that id."""
    return SessionPlans(plan, start=start, system=system)


class SessionPlans:
    """A plan and where one is in it: `plan`, `at` (from 0), `start` (minute of the day)."""

    def __init__(self, plan="jets_20", *, start="9:00", system=None):
        self.plans = plans()
        if plan not in self.plans:
            raise JetlibError(f"there is no plan {str(plan)[:40]!r}; write one of {', '.join(self.plans)}")
        self.plan, self.at, self.system = self.plans[plan], 0, follow(self, system)
        self.start = minute_of_day(start)
        self._quiet = False
        self.stage = Stage(self.go)
        self._make(plan, start)
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

    # --- the page ---

    def _make(self, plan, start):
        options = [(f"{_length(each.minutes)}: {each.title}", name) for name, each in self.plans.items()]
        layout = {"width": "640px", "max_width": "100%"}
        self._plan = widgets.Dropdown(options=options, value=plan, description="Plan", style=WIDE, layout=layout)
        self._plan.observe(lambda change: self.choose(change["new"]), names="value")
        self._begins = ReadField(
            "Begins at", minute_of_day, self._begin_at, value=start, hint="9:00", width="230px", label_width="initial"
        )
        self._start, self._wrong_start = self._begins.entry, self._begins.error
        self._step = widgets.Dropdown(description="Step", style=WIDE, layout=layout)
        self._step.observe(self._chose_step, names="value")
        self._about, self._clock, self._large, self._list = (widgets.HTML() for _ in range(4))
        self._said = widgets.HTML(spoken(""))
        left_out = "".join(f"<div>{beside(f'Plan left out: {each}', 'wrong')}</div>" for each in refused_plans())
        self._notes = named(widgets.HTML(), "jl-trainer-notes")
        notes = button("Trainer's notes", lambda: None, hint="In a window of their own: keep it off the projector")
        moves = [
            named(button("◀ Step back", lambda: self.go(self.at - 1)), "jl-back"),
            named(button("Next step ▶", lambda: self.go(self.at + 1)), "jl-next"),
            show_button(self.show_step, "Show this step"),
            named(notes, "jl-notes-open", "jl-needs-page"),
        ]
        self.box = widgets.VBox(
            [
                widgets.HTML(STYLE + heading("Session plan")),
                widgets.HBox([self._start, self._wrong_start], layout=ROW),
                self._plan,
                *([widgets.HTML(left_out)] if left_out else []),
                self._about,
                self._clock,
                widgets.HBox([*moves, self._step], layout=ROW),
                self.stage.box,
                self._notes,
                self._large,
                self._said,
                self._list,
            ],
            layout=BORDER,
        )
        self.box.add_class(CLASS)

    def _chosen(self):
        self._quiet = True
        try:
            self._step.options = [(f"{at + 1}  {step.title}", at) for at, step in enumerate(self.plan.steps)]
        finally:
            self._quiet = False
        self._show()

    def _chose_step(self, change):
        if not self._quiet and change["new"] is not None:
            self.go(change["new"])

    def use_units(self, system):
        """Word everything in "US" or "metric"."""
        self.system = system
        self._show()

    def _begin_at(self, minute):
        self.start = minute
        self._show()

    def _show(self):
        self._quiet = True
        try:
            self._step.value = self.at
        finally:
            self._quiet = False
        self.picture = clock_picture(self.plan, self.at, self.start)
        self._about.value = _about(self.plan)
        self._clock.value = wide(self.picture, 18)
        self._large.value = step_html(self.step, self.system)
        self._said.value = spoken(self.words)
        if self.stage.plan is not None:
            self.stage.show(self.plan, self.at, self.system)
        self._notes.value = self._notes_html()
        self._list.value = folded("All steps of this plan", steps_table(self.plan, self.at, self.start))

    def _notes_html(self):
        """What the trainer's own window says: the step with its answers, what comes next, and how late it is."""
        step, stage = self.step, self.stage
        due = stage.due if stage.plan is self.plan else None
        late = escape(json.dumps(self.plan.late_words(self.at)))
        clocks = "" if due is None else (
            f'<p><b class="jl-clock" data-ends="{stage.ends:.0f}"></b> left of {step.minutes} min '
            f'<b class="jl-late" data-due="{due:.0f}" data-words="{late}"></b></p>'
        )  # fmt: skip
        after = self.plan.steps[self.at + 1 :]
        then = (
            f"<p>Next: {escape(after[0].title)}, {after[0].minutes} min.</p>" if after else "<p>This is the last.</p>"
        )
        body = step_html(step, self.system, opened=True)
        return f"<p>Step {self.at + 1} of {len(self.plan.steps)}</p>{clocks}{body}<p>{then}</p>"

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


def _about(plan):
    ready = "".join(f"<li>{escape(words)}</li>" for words in plan.ready)
    prints = "".join(f"<li>{escape(order.words)}</li>" for order in plan.prints)
    body = f"<p>For {escape(plan.for_whom)}.</p><p>Have ready:</p><ul>{ready}</ul>"
    if prints:
        body += f"<p>To print in advance, all at once, under <b>Print</b> below:</p><ul>{prints}</ul>"
    aims = "; ".join(plan.aims)
    return f'<div style="line-height:1.4">Afterward they can {escape(aims)}.</div>' + folded("Before you begin", body)


def step_html(step, system, *, opened=False):
    """A step in large type: what to do, what to set, what to ask; what goes wrong and what then, folded or open."""
    parts = [
        f'<div style="font-size:1.7em;font-weight:700;line-height:1.25">{escape(step.title)}</div>',
        f"<div>{step.minutes} min, {_KINDS[step.kind]}{_link(step.page)}</div>",
    ]
    for words in step.words.split("\n\n"):
        if words:
            parts.append(f'<p style="font-size:1.25em;margin:6px 0">{escape(words)}</p>')
    settings = step.settings(system)
    if settings:
        rows = "; ".join(f"{escape(label)} <b>{escape(words)}</b>" for label, words in settings)
        where = "Set the live rig" if step.console == "live_rig" else "Set on screen"
        parts.append(f'<p style="font-size:1.25em;margin:6px 0">{where}: {rows}.</p>')
    asked = step.asked(system)
    if asked:
        where = _vote_place(step)
        parts.append(
            '<div style="border-left:8px solid currentColor;padding:2px 0 2px 12px;margin:8px 0">'
            f'<div style="font-size:1.7em;line-height:1.3">{escape(asked)}</div>{where}</div>'
        )
    if step.practice:
        named = "; ".join(_exercise_link(name) for name in step.practice)
        parts.append(f'<p style="margin:6px 0">Exercises: {named}.</p>')
    parts.append(_for_the_trainer(step, system).replace("<details>", "<details open>" if opened else "<details>"))
    return f'<div style="line-height:1.4;color:var(--jp-ui-font-color1,#1a1a1a)">{"".join(parts)}</div>'


def _vote_place(step):
    if not step.vote:
        return ""
    number = f", other numbers {step.seed - 1} times" if step.seed > 1 else ""
    title = escape(_title(step.vote))
    return f"<div>In <b>Room vote</b> below: lesson {step.vote[:2]}, question <b>{title}</b>{number}.</div>"


def _title(name):
    held = {each.id: each for each in (*bank.predictions(name[:2]), *bank.exercises(name[:2], own=True))}
    return held[name].title


def _for_the_trainer(step, system):
    """Folded, as the room reads what the trainer's screen shows."""
    parts = []
    sights = step.sights(system)
    if sights:
        parts.append(_listed("What they will see", sights))
    if step.vote:
        parts.append(f"<p><b>Right:</b> {escape(step.answer(system))}</p>")
    wrong = step.wrong_ideas(system)
    if wrong:
        parts.append(_listed("Wrong ideas to expect", wrong))
    rows = (("Most are wrong", step.if_wrong), ("Split", step.if_split), ("Most are right", step.if_right))
    cells = "".join(f'<tr><th scope="row">{head}</th><td>{escape(words)}</td></tr>' for head, words in rows if words)
    if cells:
        parts.append(f"<table>{cells}</table>")
    return folded("For the trainer: what they will see, wrong ideas, what then", "".join(parts)) if parts else ""


def _listed(head, rows):
    items = "".join(f"<li>{escape(row)}</li>" for row in rows)
    return f'<p style="margin:6px 0 0 0"><b>{head}</b></p><ul>{items}</ul>'


def _link(stem):
    """Where the step takes place."""
    if not stem or stem == "classroom":
        return ", on this page" if stem else ""
    return f", {_anchor(stem, page(stem).name)}"


def _exercise_link(name):
    lesson = next(each.stem for each in lessons() if each.number == name[:2])
    return _anchor(lesson, f"{name[:2]} {bank.exercise(name).title}")


def _anchor(stem, words):
    """A link that opens the page beside this one and looks like a link in either theme."""
    look = "color:var(--jp-content-link-color,#0b5394);text-decoration:underline"
    return f'<a href="{stem}.ipynb" target="_blank" style="{look}">{escape(words)}</a>'


def steps_table(plan, at, start):
    """HTML of all steps with minutes from the start and the time of day; the one shown is marked."""
    rows = []
    for number, step in enumerate(plan.steps):
        mark = "▶ " if number == at else ""
        begins = plan.begins[number]
        rows.append(
            f'<tr><td class="number">{begins} min</td><td class="number">{clock(start + begins)}</td>'
            f'<td class="number">{step.minutes} min</td><td style="text-align:left">{mark}{escape(step.title)}</td>'
            f'<td style="text-align:left">{_KINDS[step.kind]}{_link(step.page)}</td></tr>'
        )
    heads = ("from the start", "clock", "lasts", "step", "how and where")
    head = "".join(f'<th scope="col" style="text-align:left">{words}</th>' for words in heads)
    end = plan.begins[-1] + plan.steps[-1].minutes
    ends = f'<td class="number">{end} min</td><td class="number">{clock(start + end)}</td>'
    foot = f"<tr>{ends}<td></td><td>end</td><td></td></tr>"
    return f"<table><thead><tr>{head}</tr></thead><tbody>{''.join(rows)}{foot}</tbody></table>"
