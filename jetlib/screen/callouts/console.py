"""A callout to play: pick one, ask, plan, decide, do the job step by step, and read what was true."""

import secrets

import ipywidgets as widgets

from jetlib.course.callouts.deal import deal
from jetlib.course.callouts.kinds import DECISIONS, kinds, refused_kinds
from jetlib.course.callouts.on_the_job import FIX_WORDS
from jetlib.course.callouts.play import ESTIMATES, CalloutStore, Play
from jetlib.course.callouts.review import ESTIMATE_WORDS
from jetlib.course.callouts.wall import Setup
from jetlib.course.classroom.hidden_fault.deal import asked_seed
from jetlib.rig.diagnosis.readings import throttle_name
from jetlib.rig.point.cautions import SEE_THE_MANUAL
from jetlib.screen.callouts import page
from jetlib.screen.controls.card import Card
from jetlib.screen.controls.fields import ReadField, choice, line
from jetlib.screen.controls.pieces import (
    BESIDE,
    FRAME,
    aside,
    bundle,
    button,
    folded,
    framed,
    heading,
    paragraphs,
    row,
    spoken,
)
from jetlib.units import to_si
from jetlib.units.entry import amount

_WALL = {"machine": "Machine", "leader": "Leader hose", "rigid": "Nozzle", "drills": "Jets"}
_THROTTLES = (0.0, 0.25, 0.5, 0.75, 1.0)
_STEPS = {"US": (3.0, 10.0, 30.0), "metric": (1.0, 3.0, 10.0)}  # of hose, ft or m
_VIEW, _SIDE = {"flex": "1 1 440px", "min_width": "0"}, {"flex": "1 1 400px", "min_width": "0"}
_NOTE = f"A game with calculated numbers: it authorizes nobody to run a machine. {SEE_THE_MANUAL}"


def callout_console(
    callout: str = "grease",
    *,
    seed: int = 1,
    system: str | None = None,
    title: str = "Callout",
    place: str | None = None,
) -> "CalloutConsole":
    """The CalloutConsole of a kind of callout (its id), as a seed deals it.

    place: the name under which it is kept with the progress, so that it can go on later; its title if None.
    """
    return CalloutConsole(callout, seed=seed, system=system, title=title, place=place)


class CalloutConsole(Card):
    """play: the Play under way. `do` takes an action as a button does."""

    def __init__(self, callout, *, seed, system, title, place=None):
        super().__init__(system)
        self.title, self._place = title, place or title
        self.play, self._store = Play(deal(callout, seed)), CalloutStore()
        self._make()
        self._begin()
        self._offer()

    # --- what the buttons do ---

    def take(self, seed=None):
        """Another callout, of the kind that is chosen: by `seed`, or by what stands in the field, or a fresh one."""
        with self._refusing(status="wrong"):
            number = asked_seed(self._seed.value if seed is None else str(seed))
            self.play = Play(deal(self._kind.value or secrets.choice(list(kinds())), number))
            self._begin()

    def again(self):
        """The same callout with another surprise."""
        dealt = self.play.dealt
        self.play = Play(deal(dealt.kind.id, dealt.seed, dealt.again + 1))
        self._begin()

    def do(self, name, *values):
        """Take an action of the Play, keep it, and show what comes of it."""
        with self._refusing(status="wrong"):
            self.play.do(name, *values)
            self._say("")
            self._keep()
            self._show()

    def go_on(self):
        """Take up the callout that was kept here, at the step where it was left."""
        if self._kept is None:  # two presses in one, before the button has gone
            return
        self.play = self._kept
        self._kind.value = self.play.dealt.kind.id
        self._begin()
        self._say("It goes on where it was left.")

    def decide(self, decision):
        """Commit the plan and the estimates, and go or not."""
        estimates = {name: float(self._typed[name]) for name in ESTIMATES if self._typed.get(name) is not None}
        self.do("commit", self.setup(), estimates, decision)

    def only_this(self):
        """Offer no other callout and no second try, as in a check."""
        self._top.layout.display, self._over.children = "none", ()

    def setup(self):
        """What is chosen from the wall, plain values."""
        throttle = self._typed.get("throttle")
        chosen = {name: field.value for name, field in self._wall.items()}
        return {**chosen, "throttle": 1.0 if throttle is None else float(throttle)}

    def plan_words(self):
        """The same in words."""
        return page.setup_words(Setup(**self.setup()))

    # --- the page ---

    def _make(self):
        names = [("whoever calls next", ""), *((kind.title, key) for key, kind in kinds().items())]
        self._kind = choice("Callout", names, self.play.dealt.kind.id, width="420px", label_width="70px")
        self._seed = line("Seed", value=str(self.play.dealt.seed), hint="a new one", width="230px",
                          label_width="50px")  # fmt: skip
        self._call, self._planned, self._image, self._words, self._seen, self._told = (widgets.HTML() for _ in range(6))
        self._asking = widgets.VBox()
        self._planning, self._working = self._plan_box(), self._work_box()
        self._side = widgets.VBox([self._working], layout=_SIDE)
        another = button("Another callout", lambda: self.take(""))
        self._over = row(button("Try it again, with another surprise", self.again), another)
        self._top = row(self._kind, self._seed, button("Answer the phone", self.take, hint="Begin this callout"))
        self._left_words = widgets.HTML()
        self._left = row(self._left_words, button("Go on with it", self.go_on))
        view = widgets.VBox([self._image, self._words, self._seen], layout=_VIEW)
        refused = [paragraphs(f"Left out: {each}") for each in refused_kinds()]
        self.box = widgets.VBox(
            [
                widgets.HTML(heading(self.title) + "".join(refused)),
                self._top,
                self._left,
                self._call,
                self._asking,
                self._planning,
                widgets.HBox([view, self._side], layout=BESIDE),
                self._said,
                self._told,
                self._over,
                aside(_NOTE),
            ],
            layout=FRAME,
        )

    def _plan_box(self):
        self._typed = {}  # what was typed last into each field: SI, or None
        self._wall = {
            name: choice(_WALL[name], [(words, key) for key, words in options.items()], getattr(Setup(), name))
            for name, options in Setup.wall().items()
        }
        for field in self._wall.values():
            field.observe(lambda _: self._show_plan(), names="value")
        self._fields = {"throttle": self._field("throttle", "Working throttle", "fraction", "100 %")}
        self._fields |= {name: self._field(name, words, ESTIMATES[name]) for name, words in ESTIMATE_WORDS.items()}
        throttle, *estimates = (field.box for field in self._fields.values())
        parts = [
            widgets.HTML("<b>From the yard's wall</b>"),
            row(*self._wall.values()),
            throttle,
            self._planned,
            widgets.HTML("<b>Your estimates</b>, compared afterward; leave out what you cannot say yet."),
            *estimates,
            row(*(button(words, lambda key=key: self.decide(key)) for key, words in DECISIONS.items())),
        ]
        return widgets.VBox(parts)

    def _field(self, name, label, kind, value=""):
        def read(typed):
            return amount(typed, kind, self.system) if typed.strip() else None

        def take(value):
            self._typed[name] = value
            self._show_plan()

        return ReadField(label, read, take, system=lambda: self.system, value=value, width="440px",
                         label_width="230px")  # fmt: skip

    def _work_box(self):
        def act(words, name, *values):
            return button(words, lambda: self.do(name, *values))

        throttles = [act(throttle_name(at).capitalize(), "throttle", at) for at in _THROTTLES]
        as_planned = button("As planned", lambda: self.do("throttle", self.play.setup.throttle))
        self._moves = {
            (way, at): button("", lambda way=way, at=at: self.do(way, self._step(at)))
            for way in ("feed", "back")
            for at in range(3)
        }
        labels = {"check": "Check", "fix": "Fix", "act": "Or else", "finish": "It was"}
        self._picks = {name: self._pick(name, label) for name, label in labels.items()}
        rows = {
            "Throttle": [*throttles, as_planned],
            "Hose": self._moves.values(),
            "Machine": [act(page.PLAIN[name], name) for name in ("stop", "relieve", "fill", "wait")],
            "Nozzle": [act("Put it into the pipe", "put_in"), act("Take it out", "take_out")],
            "Phone": [act("Call the yard for another machine", "call", "yard"),
                      act("Call the owner", "call", "owner")],
        }  # fmt: skip
        boxes = [
            row(widgets.HTML(f'<b style="display:inline-block;min-width:84px">{name}</b>'), *made)
            for name, made in rows.items()
        ]
        return widgets.VBox([*boxes, *(box for _, box in self._picks.values())])

    def _pick(self, name, label):
        field = choice(label, [("–", "")], "", width="340px", label_width="84px")
        words = "Finish the job" if name == "finish" else "Do it"
        press = button(words, lambda: self.do(name, field.value) if field.value else self._say("Choose one first."))
        return field, row(field, press)

    def _step(self, at):
        return float(to_si(_STEPS[self.system][at], "length", self.system))

    # --- showing ---

    def _offer(self):
        """Offer what was kept here before, until another callout is begun."""
        self._kept, more = self._store.kept(self._place)
        if self._kept is None:
            return
        self._take_up(more)
        title, state = self._kept.dealt.kind.title, "left" if self._kept.end is None else "over"
        words = f"Your last callout here: {title}, {state} at minute {self._kept.minutes:.0f}."
        self._left_words.value = paragraphs(words)
        self._left.layout.display = None

    def _keep(self):
        """Keep the callout with the progress; where the disk refuses, say so."""
        self._left.layout.display = "none"
        with self._refusing("Not kept on disk: {}. It goes on as long as this page runs.", "wrong"):
            self._store.keep(self._place, self.play, self._more())

    def _more(self):
        """What is kept with the callout, plain values."""
        return {}

    def _take_up(self, more):
        """Take back what was kept with it."""

    def _begin(self):
        dealt = self.play.dealt
        self._left.layout.display = "none"
        self._seed.value, self._typed = str(dealt.seed), {}
        for name, field in self._fields.items():
            field.clear("100 %" if name == "throttle" else "")
        questions = [
            button(f"{each.ask} ({each.minutes} min)", lambda key=each.key: self.do("ask", key))
            for each in dealt.kind.questions
        ]
        self._asking.children = [widgets.HTML("<b>Ask</b>"), row(*questions)]
        self._say("The phone rings.")
        self._show()

    def _show(self):
        play, system = self.play, self.system
        before, over = play.plan is None and play.end is None, play.end is not None
        self._call.value = page.call_html(play, system)
        for box, shown in ((self._asking, before), (self._planning, before), (self._working, play.running),
                           (self._over, over)):  # fmt: skip
            box.layout.display = None if shown else "none"
        for (way, at), made in self._moves.items():
            made.description = page.action_words(play, (way, self._step(at)), system)
        self._show_plan()
        if play.running:
            picture = page.job_picture(play, system)
            self._image.value = f'<div style="overflow-x:auto">{picture.svg()}</div>'
            self._words.value = spoken(picture.words)
            self._seen.value = paragraphs(page.noticed_words(play.moments[-1], system))
            self._relist()
        else:
            self._image.value = self._words.value = self._seen.value = ""
        told = folded("What was done so far", page.log_html(play, system)) if play.plan is not None else ""
        self._told.value = page.review_html(play, system) if over else told

    def _relist(self):
        play = self.play
        options = {
            "check": [(f"{each.label} ({each.minutes} min)", each.key) for each in play.checks()],
            "fix": [(words, key) for key, words in FIX_WORDS.items()],
            "act": [(each.label, each.key) for each in play.dealt.kind.acts if each.when != "by itself"],
            "finish": [(words, key) for key, words in play.causes().items()],
        }
        for name, (field, _) in self._picks.items():
            found = [("–", ""), *options[name]]
            if list(field.options) != found:
                field.options = found

    def _show_plan(self):
        self._planned.value = paragraphs(f"The plan: {self.plan_words()}.")

    def _repr_mimebundle_(self, include=None, exclude=None):
        play = self.play
        words = f"{self.title}: {play.dealt.kind.title}. {play.dealt.call(self.system)}"
        html = heading(self.title) + page.call_html(play, self.system) + paragraphs("Run this page to take the call.")
        return bundle(self.box, words, framed(html))
