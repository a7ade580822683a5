"""What a room is shown of a callout, one thing at a time: the call, what is seen on the job, the ways to vote on.

Nothing of the truth is in it before the callout has ended.
"""

from html import escape

import ipywidgets as widgets

from jetlib.course.callouts.forks import forks
from jetlib.course.callouts.on_the_job import FIX_WORDS
from jetlib.course.callouts.review import reviewed
from jetlib.course.exercises.words import picked
from jetlib.screen.callouts.page import action_words, job_picture, noticed_words, setup_words
from jetlib.screen.classroom.stage import Parts
from jetlib.screen.classroom.vote_picture import options_html
from jetlib.screen.controls.pieces import button
from jetlib.screen.controls.show import named, show_button
from jetlib.screen.drawing.filled import filled

_fill, _NO_OTHER = filled(__file__), ("another way …", "")
_THROTTLES = (0.25, 0.5, 0.75, 1.0)


class CalloutStage(Parts):
    """The callout of a CalloutClass. `seen` is the part that says what came of an action.

    open: the button that shows it over the whole window.
    """

    def __init__(self, room):
        super().__init__()
        self._room, self._opened = room, False
        self._other = widgets.Dropdown(options=[_NO_OTHER], value="")
        self._others = [self._other, button("Do it", self._do_other)]
        self.open = show_button(self._open)

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
        whose = f"{self._room.team} decides" if play.end is None else "It is over"
        title = escape(f"{play.dealt.kind.title}: {whose}")
        self._put(title, f"<span>minute {play.minutes:.0f}</span>", play, self._room.system)

    # --- the parts: (what is shown, its controls) ---

    def _call(self, play, system):
        return [_fill("plain", words=play.dealt.call(system))], []

    def _asked(self, play, system):
        dealt = play.dealt
        told = [(dealt.question(key).ask, dealt.answer(key, system)) for key in play.asked[-2:]]
        self._offer((each.ask, ("ask", each.key)) for each in dealt.kind.questions if each.key not in play.asked)
        return [_fill("asked", told=told)], self._others

    def _plan(self, play, system):
        words = f"Your plan: {setup_words(self._room.committed())}."
        return [_fill("plain", words=words)], self._room.wall

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
        beside = named(widgets.HTML(_fill("plain", words=notes)), "jl-beside")
        return [job_picture(play, system).svg(), beside], []

    def _end(self, play, system):
        why = picked(play.end.act.why, system) if play.end.act is not None else ""
        return [_fill("end", words=picked(play.end.words, system), why=why)], []

    def _truth(self, play, system):
        return [_fill("truth", found=reviewed(play, system))], []

    def _advice(self, play, system):
        return [_fill("advice", advice=reviewed(play, system).advice)], []

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
        options = [_NO_OTHER, *ways]
        if list(self._other.options) != options:
            self._other.options = options
        self._other.value = ""

    def _do_other(self):
        if self._other.value:
            self._room.do(*self._other.value)
