"""Three people who play a callout to its end: one who is careful, one who is in a hurry, one who does anything."""

import random

from jetlib.course.callouts.on_the_job import FIXES
from jetlib.course.callouts.play import Play
from jetlib.course.callouts.wall import RIGID, Setup

_PARTS = {fault: part for part, (*_, faults) in FIXES.items() for fault in faults}


def careful(dealt):
    """Asks, takes the plan that works, looks, finds and cures what is wrong, and comes back the long way."""
    play = Play(dealt)
    for question in dealt.kind.questions:
        play.do("ask", question.key)
    plan = dealt.plan(dealt.good)
    guess = {"gauge": float(plan.point.gauge), "flow": float(plan.point.nozzle_flow)}
    play.do("commit", vars(dealt.good), guess, dealt.kind.right)
    if play.end is not None:
        return play
    _start(play)
    for _ in range(60):
        fault = play._hidden.fault.name
        if fault != "healthy":
            _close_down(play)
            play.do("fix", _PARTS[fault]) if fault in _PARTS else play.do("call", "yard")
            _start(play)
        before = play.mark
        play.do("feed", 8.0)
        if play.level < 0.35:
            play.do("throttle", 0.0)
            play.do("stop")
            play.do("fill")
            play.do("throttle", play.setup.throttle)
        if play.stopped_by is not None:
            if len([step for step in play.actions if step[0] == "back"]) > 8 and play.dealt.surprise.stop:
                play.do("call", "owner")
                break
            play.do("back", 1.5)
        elif play.mark >= play._block + 1.0 or play.mark == before:
            break
    while play.mark > 3.0:
        play.do("back", min(6.0, play.mark - 3.0))
        if play.level < 0.3:
            play.do("throttle", 0.0)
            play.do("stop")
            play.do("fill")
            play.do("throttle", play.setup.throttle)
    _close_down(play)
    play.do("finish", play.cause)
    return play


def _start(play):
    play.do("put_in")
    play.do("throttle", 0.0)
    play.do("throttle", play.setup.throttle)


def _close_down(play):
    play.do("throttle", 0.0)
    play.do("stop")
    play.do("back", 100.0)
    play.do("relieve")
    play.do("take_out")


def hasty(dealt):
    """Asks nothing, takes what hangs nearest, goes at full throttle, and pulls the hose out."""
    play = Play(dealt)
    play.do("commit", {"machine": "yard_trailer"}, {}, "go")
    for name, *values in (
        ["put_in"],
        ["throttle", 1.0],
        *[["feed", 15.0]] * 6,
        *[["back", 15.0]] * 8,
        ["finish", "healthy"],
    ):
        if play.end is None:
            play.do(name, *values)
    return play


def at_random(dealt, number):
    """Anything that can be done, in any order."""
    rng, play = random.Random(number), Play(dealt)
    while play.end is None:
        play.do(*_any_action(rng, play))
    return play


def _any_action(rng, play):
    name = rng.choice(play.names())
    kind = play.dealt.kind
    if name == "commit":
        setup = kind.good if rng.random() < 0.7 else {
            "machine": rng.choice(list(Setup.wall()["machine"])), "rigid": rng.choice(list(RIGID))}  # fmt: skip
        return name, setup, {"gauge": 1e7}, "go" if rng.random() < 0.8 else rng.choice(["unsafe", "needless"])
    values = {
        "ask": lambda: [rng.choice(kind.questions).key],
        "throttle": lambda: [rng.choice([0.0, 0.5, 1.0])],
        "feed": lambda: [rng.uniform(0.5, 15.0)],
        "back": lambda: [rng.uniform(0.5, 15.0)],
        "check": lambda: [rng.choice(play.checks()).key],
        "fix": lambda: [rng.choice(list(FIXES))],
        "call": lambda: [rng.choice(["yard", "owner"])],
        "act": lambda: [rng.choice([act.key for act in kind.acts if act.when != "by itself"])],
        "finish": lambda: [rng.choice(list(play.causes()))],
    }.get(name, list)()
    return name, *values
