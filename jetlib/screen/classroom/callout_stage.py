"""What a room is shown of a callout, one thing at a time: the call, what is seen on the job, the ways to vote on.

Nothing of the truth is in it before the callout has ended.
"""

from html import escape

import ipywidgets as widgets

from jetlib.course.callouts.forks import forks
from jetlib.course.callouts.on_the_job import FIX_WORDS
from jetlib.course.callouts.review import reviewed
from jetlib.course.exercises.words import picked
from jetlib.screen.callouts.picture import job_picture
from jetlib.screen.callouts.words import action_words, noticed_words, setup_words
from jetlib.screen.classroom.vote_picture import options_html
from jetlib.screen.controls.pieces import button
from jetlib.screen.controls.show import named, show_box, show_button

_THROTTLES = (0.25, 0.5, 0.75, 1.0)


class CalloutStage:
    """`box` shows the callout of a CalloutClass, part by part; `next` and `back` lead through the parts.

    open: the button that shows it over the whole window. `seen` goes to the part that says what came of an action.
    """

    def __init__(self, room):
        self._room, self.part, self._opened = room, 0, False
        self._head, self._main, self._own = widgets.HTML(), widgets.VBox(), named(widgets.HBox(), "jl-own")
        self._other = widgets.Dropdown(options=[("another way …", "")], value="")
        self._others = [self._other, button("Do it", self._do_other)]
        self.open = show_button(self._open)
        self.box = show_box([self._main], [self._own], head=self._head, back=self.back, next_=self.next)

    @property
    def parts(self):
        """What there is to show now, names in order."""
        play = self._room.play
        if play.end is not None:
            return ("end", "truth", "advice")
        return ("call", "asked", "plan", "ways") if play.plan is None else ("seen", "ways")

    def next(self):
        """The next part; after the last, the first again."""
        self.part = (self.part + 1) % len(self.parts)
        self.show()

    def back(self):
        """The part before."""
        self.part = max(self.part - 1, 0)
        self.show()

    def begin(self):
        """Go back to the first part: after an action that is what came of it."""
        play = self._room.play
        self.part = 1 if play.plan is None and play.asked and play.end is None else 0

    def show(self):
        """Draw the part, once the box has been opened: before that, nothing is on the page twice."""
        if not self._opened:
            return
        play, parts = self._room.play, self.parts
        self.part = min(self.part, len(parts) - 1)
        whose = f"{escape(self._room.team)} decides" if play.end is None else "It is over"
        title, minute = escape(play.dealt.kind.title), f"minute {play.minutes:.0f}"
        self._head.value = f'<div class="jl-headline"><span>{title}: {whose}</span><span>{minute}</span></div>'
        main, own = getattr(self, f"_{parts[self.part]}")(play, self._room.system)
        self._main.children = [widgets.HTML(each) if isinstance(each, str) else each for each in main]
        self._own.children = own

    # --- the parts: (what is shown, its controls) ---

    def _call(self, play, system):
        return [f"<div>{escape(play.dealt.call(system))}</div>"], []

    def _asked(self, play, system):
        dealt = play.dealt
        told = "".join(
            f"<p><b>{escape(dealt.question(key).ask)}</b> {escape(dealt.answer(key, system))}</p>"
            for key in play.asked[-2:]
        )
        left = [(each.ask, ("ask", each.key)) for each in dealt.kind.questions if each.key not in play.asked]
        self._offer(left)
        return [told or "<div>What do you ask? Each question costs minutes.</div>"], self._others

    def _plan(self, play, system):
        words = f"<div>Your plan: {escape(setup_words(self._room.committed()))}.</div>"
        return [words], [*self._room.wall, self._room.throttle.box]

    def _ways(self, play, system):
        ways, hands = [words for words, _ in forks(play, system)], self._room.hands_so_far()
        told = [str(count) for count in hands] if any(hands) else ()
        self._offer([] if play.plan is None else self._rest(play, system))
        main = options_html("What next?", ways, hands, told, most=max(hands, default=0))
        return [main], [*self._room.voting, *(self._others if play.plan is not None else ())]

    def _seen(self, play, system):
        moment = play.moments[-1]
        notes = noticed_words(moment, system)
        if moment.seen.back:
            notes += f" At the opening: {moment.seen.back}."
        beside = named(widgets.HTML(f"<div>{escape(notes)}</div>"), "jl-beside")
        return [job_picture(play, system).svg(), beside], []

    def _end(self, play, system):
        why = f"<p><b>Why.</b> {escape(picked(play.end.act.why, system))}</p>" if play.end.act is not None else ""
        return [f"<p>{escape(picked(play.end.words, system))}</p>{why}"], []

    def _truth(self, play, system):
        found = reviewed(play, system)
        marks = (f"<p>{'✔' if good else '✘'} <b>{what}:</b> {escape(words)}</p>" for what, good, words in found.marks)
        return [f"<p><b>What was true.</b> {escape(found.truth)}</p>{''.join(marks)}"], []

    def _advice(self, play, system):
        advice = enumerate(reviewed(play, system).advice, start=1)
        told = "".join(f"<p>{at}. {escape(words)} (lesson {lesson})</p>" for at, (words, lesson) in advice)
        return [f"<div><b>Three things to do differently next time</b>{told}</div>"], []

    # --- inside ---

    def _open(self):
        self._opened = True
        self.show()

    def _rest(self, play, system):
        """(words, action) of what can be done besides the ways voted on."""
        found = [("throttle", at) for at in _THROTTLES] + [("fill",), ("wait",)]
        found += [("check", each.key) for each in play.checks()] + [("fix", part) for part in FIX_WORDS]
        found += [("call", who) for who in ("yard", "owner")]
        found += [("act", each.key) for each in play.dealt.kind.acts if each.when != "by itself"]
        found += [("finish", name) for name in play.causes()]
        return [(action_words(play, action, system), action) for action in found]

    def _offer(self, ways):
        options = [("another way …", ""), *ways]
        if list(self._other.options) != options:
            self._other.options = options
        self._other.value = ""

    def _do_other(self):
        if self._other.value:
            self._room.do(*self._other.value)
