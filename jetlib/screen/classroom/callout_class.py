"""A callout for a class: one on the projector, teams that decide in turn, a vote at each fork, and a table of it.

What the room is shown of it, one thing at a time, has nothing of the truth before the callout has ended.
"""

import secrets
from contextlib import suppress
from functools import partial
from html import escape
from itertools import zip_longest

import ipywidgets as widgets

from jetlib.course.callouts.on_the_job import FIX_WORDS
from jetlib.course.callouts.play import chosen, forks
from jetlib.course.callouts.review import reviewed
from jetlib.course.classroom.hidden_fault.scores import read_teams
from jetlib.course.exercises.words import picked
from jetlib.course.store.csv_out import write_csv
from jetlib.errors import JetlibError
from jetlib.screen.callouts.console import CalloutConsole
from jetlib.screen.callouts.page import action_words, job_picture, noticed_words
from jetlib.screen.classroom.seats import Seats
from jetlib.screen.classroom.stage import Parts
from jetlib.screen.controls.fields import line
from jetlib.screen.controls.pieces import button, named, row, saved, show_button
from jetlib.screen.drawing.filled import filled
from jetlib.screen.drawing.large import CLASS, STYLE
from jetlib.units import SYSTEMS
from jetlib.units.entry import count

HEADS = ("callout", "seed", "try", "step", "team", "hands", "did", "noticed", "minute", "safe so far")
CSV_NAME = "callouts.csv"
_MOST_ROWS = 1000  # of the table: months of callouts
_fill, _NO_OTHER = filled(__file__), ("another way …", "")
_THROTTLES = (0.25, 0.5, 0.75, 1.0)


def callout_class(callout: str = "grease", *, seed: int = 1, system: str | None = None) -> "CalloutClass":
    """The CalloutClass of a kind of callout (its id), as a seed deals it."""
    return CalloutClass(callout, seed=seed, system=system, title="A callout for the class")


class CalloutClass(CalloutConsole):
    """teams: their labels, in turn. results: rows under HEADS, of every callout that was played here.

    voting, wall: the controls by which the stage lets a room vote and choose.
    """

    def __init__(self, callout, **given):
        self.teams, self.results, self._hands = ("Team 1", "Team 2"), [], ""
        super().__init__(callout, **given)

    @property
    def team(self):
        """Whose turn it is."""
        return self.teams[self._decisions % len(self.teams)]

    def begin_anew(self):
        """An empty table; the callout under way stays."""
        self.results.clear()
        super()._keep()

    def hands_so_far(self):
        """Hands for each way as they stand in the field, and the seats' votes, a list; no hands for anything else."""
        hands = []
        with suppress(JetlibError):
            hands = self._read_hands(self._votes.value)
        return self._with_seats(hands)

    def _with_seats(self, hands):
        counts = zip_longest(hands, self.seats.tally, forks(self.play), fillvalue=0)
        return [one + other for one, other, way in counts if way]

    def vote(self, typed=None):
        """Do what most hands are for: `typed`, or what stands in the field, a number for each way in order."""
        typed, ways = self._votes.value if typed is None else typed, forks(self.play, self.system)
        with self._refusing(status="wrong"):
            hands = self._read_hands(typed)
            self.seats.look()
            hands = self._with_seats(hands)
            at = chosen(ways, hands)
            if at is None:
                raise JetlibError("Nobody has voted: write the hands for each way, in order, such as 4 7 1.")
            self._hands, self._votes.value = " ".join(map(str, hands)), ""
            (self.decide if self.play.plan is None else self.do)(*ways[at][1])
            self._hands = ""

    def save_csv(self):
        """Write the table to the file, or into the folder, that is named."""
        write = partial(write_csv, heads=HEADS, rows=self.results, name=CSV_NAME)
        self._say(*saved(self._csv.value, write, "The table is in"))

    # --- inside ---

    @staticmethod
    def _read_hands(typed):
        return [count(each, 0, 99) for each in typed.replace(",", " ").split()]

    def _more(self):
        return {"teams": list(self.teams), "results": self.results}

    def _take_up(self, more):
        rows, teams = more.get("results"), more.get("teams")
        whole = isinstance(rows, list) and all(isinstance(row, list) and len(row) == len(HEADS) for row in rows)
        if whole and all(isinstance(cell, str | int | float) for row in rows for cell in row):
            self.results = [tuple(row) for row in rows]
        if isinstance(teams, list) and all(isinstance(team, str) for team in teams):
            self._named.value = ", ".join(teams)

    def _at_seats(self):
        ways = {system: [words for words, _ in forks(self.play, system)] for system in SYSTEMS}
        key = f"{secrets.token_hex(4)} {len(self.play.actions)}"
        return (key, dict.fromkeys(SYSTEMS, "What next?"), ways) if self.play.end is None else None

    def _keep(self):
        self._put_down()
        if self.play.actions[-1][0] != "ask":  # a question changes none of the ways that are voted on
            self.seats.stop()
        self.stage.begin()
        super()._keep()

    @property
    def _decisions(self):
        return sum(action[0] != "ask" for action in self.play.actions)

    def _put_down(self):
        moment, dealt = self.play.moments[-1], self.play.dealt
        if moment.action[0] == "ask":
            return
        team = self.teams[(self._decisions - 1) % len(self.teams)]
        safe = self.play.end is None or self.play.end.safe
        self.results.append(
            (dealt.kind.title, dealt.seed, dealt.again + 1, len(self.play.moments), team, self._hands,
             action_words(self.play, moment.action, self.system), " ".join(moment.notes), round(moment.minute, 1),
             "yes" if safe else "no")
        )  # fmt: skip
        del self.results[:-_MOST_ROWS]

    def _make(self):
        self._turn, self._ways = widgets.HTML(), widgets.HTML()
        self._named = line("Teams", value=", ".join(self.teams), hint="two to six, commas between", width="460px",
                           label_width="70px")  # fmt: skip
        self.heard(self._named, self._name_teams)
        self._votes = line("Hands", hint="in order: 4 7 1", width="360px", label_width="initial")
        self._votes.continuous_update = True
        self._votes.observe(lambda _: self.stage.show(), names="value")
        self._csv = line("Table to", hint=f"a folder or {CSV_NAME}", width="460px", label_width="90px")
        super()._make()
        self.seats = Seats(self._at_seats, lambda _: self.stage.show(), self._say)
        self.voting = [named(row(self._votes), "jl-count"), self.seats.press, button("Do what most want", self.vote)]
        self.wall = [*self._wall.values(), self._fields["throttle"].box]
        self.stage = CalloutStage(self)
        head, *rest, note = self.box.children
        table = [self._csv, button("Write CSV", self.save_csv), button("Begin the table anew", self.begin_anew)]
        self._side.children = [self._ways, row(*self.voting), self._working]
        shown = [self.stage.open, self.stage.box, self._named, self._turn]
        self.box.children = [widgets.HTML(STYLE), head, *shown, *rest, row(*table), note]
        self.box.add_class(CLASS)

    def _begin(self):
        self.stage.part = 0
        self.seats.stop()
        super()._begin()
        self._seed.value = ""  # no seed where a class can see it

    def _name_teams(self, typed):
        with self._refusing("Not used: {}", "wrong"):
            self.teams = read_teams(typed.split(","))
            self._show()

    def _show(self):
        super()._show()
        self._turn.value = "" if self.play.end is not None else f"<b>{escape(self.team)} decides.</b>"
        self._ways.value = _fill("ways", ways=[words for words, _ in forks(self.play, self.system)])

    def _show_plan(self):
        super()._show_plan()
        self.stage.show()


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
        return [_fill("plain", words=f"Your plan: {self._room.plan_words()}.")], self._room.wall

    def _ways(self, play, system):
        ways, hands = [words for words, _ in forks(play, system)], self._room.hands_so_far()
        told = [str(count) for count in hands] if any(hands) else ()
        self._offer([] if play.plan is None else self._rest(play, system))
        main = _fill("options", ask="What next?", options=ways, hands=hands, told=told, most=max(hands, default=0))
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
