"""A callout played: what is done step by step, what is then seen, and what is true behind it. No clock, no screen.

`Play.do` takes one action as its name and plain values; the record of a play is the list of them, and replaying it
gives the same again. What is seen is computed from the rig with its surprise, by the hidden fault of the classroom.
"""

import contextlib
from dataclasses import fields
from inspect import signature

from jetlib.course.callouts.deal import deal
from jetlib.course.callouts.kinds import DECISIONS, Act
from jetlib.course.callouts.on_the_job import CAUSES, ActionOver, End, Moment, OnTheJob, Seen
from jetlib.course.callouts.wall import Setup
from jetlib.course.classroom.hidden_fault.deal import hunt_checks
from jetlib.course.store.bench_store import BenchStore
from jetlib.course.store.checked_row import among, known
from jetlib.errors import JetlibError
from jetlib.rig.diagnosis.faults import FAULTS, faults_of
from jetlib.units import one, text, to_si
from jetlib.units.refusal import cut

MOST_STEPS, MOST_MINUTES = 200, 300.0
_NOW, _MOST_PLACES = "callouts.json", 12
_PLAIN = str | int | float
ESTIMATES = {"idle": "pressure", "gauge": "pressure", "flow": "flow", "reach": "length", "minutes": "duration"}


class Play(OnTheJob):
    """A callout under way. moments: a Moment for each action; end: an End, or None.

    asked: keys of the questions asked. decision, setup, estimates: what was committed. risks: (words, lesson) of what
    went well by luck. named: the cause named at the end.
    """

    def __init__(self, dealt):
        self.dealt, self.actions, self.moments, self.end = dealt, [], [], None
        self.asked, self.risks, self.named, self.decision = [], [], "", ""
        self.setup, self.plan, self.estimates, self.truths = None, None, {}, {}
        self.minutes, self.gallons = 0.0, 0.0
        self.throttle, self.relieved, self.inside, self.mark = None, True, False, 0.0
        self.stopped_by, self.handed_over, self._notes, self._readings = None, False, [], ()

    def record(self):
        """All it takes to play it again, plain values."""
        dealt = self.dealt
        return {"callout": dealt.kind.id, "seed": dealt.seed, "again": dealt.again, "actions": self.actions}

    @property
    def running(self):
        """Whether the job itself is under way."""
        return self.plan is not None and self.end is None

    def do(self, name, *values):
        """Take one action; the Moment after it. Raises JetlibError, with nothing done, for one that is not offered."""
        if self.end is not None:
            raise JetlibError("this callout is over; take another, or try it again")
        if name not in self.names():
            raise JetlibError(f"{cut(name)} cannot be done now; write one of {', '.join(self.names())}")
        action = getattr(self, f"_{name}")
        takes = tuple(signature(action).parameters)
        if len(values) != len(takes) or (name != "commit" and not all(isinstance(each, _PLAIN) for each in values)):
            raise JetlibError(f"{name} got {cut(values)}; write {', '.join((repr(name), *takes))} with plain values")
        self._notes, self._readings = [], ()
        with contextlib.suppress(ActionOver):
            action(*values)
        self.actions.append([name, *values])
        if self.end is None and (len(self.actions) >= MOST_STEPS or self.minutes >= MOST_MINUTES):
            self.end = End(True, "The day is over before the job is done.")
        moment = self._moment((name, *values))
        self.moments.append(moment)
        return moment

    def names(self):
        """Names of the actions that can be taken now."""
        return () if self.end is not None else _ON_THE_JOB if self.running else _BEFORE

    def causes(self):
        """{name: words} of what may be named at the end."""
        return {**{each.name: each.short for each in faults_of(self.plan.rig)}, **CAUSES}

    def checks(self):
        """The checks that can be made, cheapest first; gauge and return are always in sight."""
        return tuple(hunt_checks(self.plan.rig).values())

    @property
    def cause(self):
        """The name of what was truly wrong."""
        surprise = self.dealt.surprise
        if not self.can_have_it:
            return "healthy"
        return surprise.fault or ("pipe" if surprise.stop else "fill" if surprise.fill < 1.0 else "healthy")

    @property
    def can_have_it(self):
        """Whether the machine that was taken can have what the callout hides."""
        fault = self.dealt.surprise.fault
        return not fault or FAULTS[fault].fits(self.plan.rig)

    @property
    def washed(self):
        """Share of the run up to the stoppage that strong jets were pulled back through, 0 to 1."""
        return sum(self._cells) / len(self._cells) if self.plan is not None else 0.0

    @property
    def drained(self):
        """Whether the drain runs again."""
        return self.plan is not None and self._stops[-1]["open"] and self.washed >= 0.95

    # --- before the job ---

    def _ask(self, key):
        question = self.dealt.question(key)
        if key not in self.asked:
            self.asked.append(key)
            self.minutes += question.minutes

    def _commit(self, setup, estimates, decision):
        known(setup, {each.name for each in fields(Setup)}, "setup")
        known(estimates, ESTIMATES, "estimates")
        made = Setup(**setup)
        guessed = {name: one(each, ESTIMATES[name], field=name) for name, each in estimates.items()}
        among(decision, DECISIONS, "decision is")
        self.setup, self.decision, self.estimates = made, decision, guessed
        self.minutes += 5.0
        dealt, kind = self.dealt, self.dealt.kind
        if decision != "go":
            said = "That was right." if decision == kind.right else "The job could have been done."
            self.end = End(True, f"You did not go. {said}")
            return
        plan = dealt.plan(made)
        act = kind.refusal if kind.right == "unsafe" else None
        if act is None and plan.no_go:
            act = Act("no-go", "Go against the plan's no-go list", f"The plan itself says no: {plan.no_go[0]}",
                      "Fix a no-go before anything starts.", lesson="11")  # fmt: skip
        if act is None:
            self._begin(plan)
        else:
            self.end = End(False, act.happens, act)

    def _moment(self, action):
        if self.plan is None:
            seen = Seen(None, 0.0, None, "off", 0.0, 1.0, "")
            return Moment(action, tuple(self._notes), self.minutes, seen, (0.0, ""))
        gauge = 0.0 if self.throttle is None else float(self._point(self.throttle).gauge)
        true = gauge, self._hidden.fault.name
        return Moment(action, tuple(self._notes), self.minutes, self._look(), true, self._readings)


_BEFORE = ("ask", "commit")
_ON_THE_JOB = ("put_in", "throttle", "feed", "back", "wait", "stop", "relieve", "take_out", "check", "fix", "fill",
               "call", "act", "finish")  # fmt: skip


# --- the forks ---

_STEP, _BACK = {"US": 20, "metric": 6}, {"US": 5, "metric": 1.5}  # of hose at a time, ft or m


def forks(play, system="US"):
    """What a room can choose from now, up to five ways, some of them unsafe: (words, action) each; () at the end.

    The action of a decision is its name alone.
    """
    if play.end is not None:
        return ()
    if play.plan is None:
        return tuple((words, (key,)) for key, words in DECISIONS.items())
    step, little = (float(to_si(each[system], "length", system)) for each in (_STEP, _BACK))
    far = text(step, "length", system, 2)
    acts = {act.key: act.label for act in play.dealt.kind.acts}
    if not play.inside:
        return (
            ("Put the nozzle into the pipe", ("put_in",)),
            ("Start the pump at idle", ("throttle", 0.0)),
            ("Clean the jets, fit the right set", ("fix", "jets")),
            ("A drill shank in each jet", ("check", "jets")),
            ("Call the yard for another machine", ("call", "yard")),
        )
    if play.throttle is None:
        return (
            ("Start at idle", ("throttle", 0.0)),
            ("Relieve the pressure at the outlet", ("relieve",)),
            ("Pull the hose back to the opening", ("back", 100.0)),
            ("Take the nozzle out", ("take_out",)),
            (acts["coupling"], ("act", "coupling")),
        )
    if play.stopped_by is not None:
        return (
            ("Go back a little, and on again", ("back", little)),
            ("Push on", ("feed", step)),
            ("Throttle down to idle and look", ("throttle", 0.0)),
            ("Call the owner", ("call", "owner")),
            (acts["valve"], ("act", "valve")),
        )
    working = ("Throttle down to idle and look", ("throttle", 0.0))
    if play.throttle == 0.0:
        working = ("Throttle up to the plan", ("throttle", play.setup.throttle))
    return (
        working,
        (f"Feed in {far}", ("feed", step)),
        (f"Pull back {far}", ("back", step)),
        ("Stop the pump", ("stop",)),
        (acts["out"], ("act", "out")),
    )


def chosen(ways, hands):
    """The place of the way that most hands are for, the first of equals; None where nobody votes."""
    counts = [*hands, *[0] * len(ways)][: len(ways)]
    return counts.index(max(counts)) if max(counts) > 0 else None


# --- kept ---


def replay(record):
    """The Play of a record. Raises JetlibError for one that cannot be played."""
    try:
        play = Play(deal(record["callout"], record["seed"], record["again"]))
        for name, *values in record["actions"]:
            play.do(name, *values)
    except JetlibError:
        raise
    except (KeyError, TypeError, ValueError) as problem:
        raise JetlibError(f"this is no record of a callout ({cut(problem)}); write what Play.record() gives") from None
    return play


class CalloutStore(BenchStore):
    """One file beside the progress, whole or not at all: the record of the callout played last at each place."""

    def kept(self, place):
        """(the Play that was kept at a place, a dict of what was kept with it); (None, {}) where there is none."""
        held = self._latest(_NOW).get(place)
        with contextlib.suppress(Exception):  # whatever a damaged file holds, a fresh callout can be dealt
            return replay(held["record"]), dict(held["more"])
        return None, {}

    def keep(self, place, play, more):
        """Keep a Play, and plain values with it, in the place of the one before. Raises Unwritable."""
        with self._locked():
            places = self._latest(_NOW)
            places.pop(place, None)
            places[place] = {"record": play.record(), "more": more}
            self._put(_NOW, dict(list(places.items())[-_MOST_PLACES:]))
