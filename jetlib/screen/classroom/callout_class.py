"""A callout for a class: one on the projector, teams that decide in turn, a vote at each fork, and a table of it."""

import secrets
from contextlib import suppress
from html import escape
from itertools import zip_longest

import ipywidgets as widgets

from jetlib.course.callouts.forks import chosen, forks
from jetlib.course.callouts.wall import Setup
from jetlib.course.classroom.hidden_fault.scores import read_teams
from jetlib.course.store.csv_out import write_csv
from jetlib.errors import JetlibError
from jetlib.screen.callouts.console import CalloutConsole
from jetlib.screen.callouts.page import action_words
from jetlib.screen.classroom.callout_stage import CalloutStage
from jetlib.screen.classroom.seats import Seats
from jetlib.screen.controls.fields import line
from jetlib.screen.controls.handed_over import saved
from jetlib.screen.controls.pieces import button, row
from jetlib.screen.controls.show import named
from jetlib.screen.drawing.large import CLASS, STYLE
from jetlib.units import SYSTEMS
from jetlib.units.entry import count

HEADS = ("callout", "seed", "try", "step", "team", "hands", "did", "noticed", "minute", "safe so far")
CSV_NAME = "callouts.csv"
_MOST_ROWS = 1000  # of the table: months of callouts


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

    def committed(self):
        """The Setup that is chosen from the wall now."""
        return Setup(**self.setup())

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
        self._say(*saved(self._csv.value, self._write, "The table is in"))

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

    def _write(self, place):
        return write_csv(place, HEADS, self.results, name=CSV_NAME)

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
        ways = "".join(f"<li>{escape(words)}</li>" for words, _ in forks(self.play, self.system))
        over = self.play.end is not None
        self._turn.value = "" if over else f"<b>{escape(self.team)} decides.</b>"
        told = "<b>What next? Each way has a number</b>"
        self._ways.value = f'{told}<ol style="margin:4px 0">{ways}</ol>' if ways else ""

    def _show_plan(self):
        super()._show_plan()
        self.stage.show()
