"""What a callout shows: the job drawn, actions as lines of a log, the call, and the review."""

from jetlib.course.callouts.kinds import DECISIONS
from jetlib.course.callouts.on_the_job import FIX_WORDS
from jetlib.course.callouts.review import reviewed
from jetlib.course.callouts.wall import Setup
from jetlib.course.classroom.hidden_fault.deal import read_words
from jetlib.course.exercises.words import picked
from jetlib.course.pages.contents import lessons
from jetlib.rig.diagnosis.checks import CHECKS
from jetlib.rig.diagnosis.readings import throttle_name
from jetlib.rig.uncertainty.band import usual_full_scale
from jetlib.screen.drawing.chart import text as drawn
from jetlib.screen.drawing.filled import filled
from jetlib.screen.drawing.gauge import pressure_gauge
from jetlib.screen.drawing.large import share_bar
from jetlib.screen.drawing.picture import Picture
from jetlib.screen.drawing.table import Table
from jetlib.units import from_si, text

_fill = filled(__file__)
WIDTH, HEIGHT = 560, 340
_LEFT, _SPAN = 285, 265
_RETURNS = {None: "", True: "water returns to the tank", False: "no water returns"}
PLAIN = {
    "put_in": "Put the nozzle into the pipe",
    "stop": "Stop the pump",
    "relieve": "Relieve the pressure",
    "take_out": "Take the nozzle out",
    "wait": "Wait a minute",
    "fill": "Fill the tank",
}


def action_words(play, action, system):
    """An action of a Play as a line."""
    name, *values = action
    if name in PLAIN:
        return PLAIN[name]
    if name in ("feed", "back"):
        return f"{'Feed in' if name == 'feed' else 'Pull back'} {text(values[0], 'length', system, 2)}"
    return {
        "ask": lambda key: f"Ask: {play.dealt.question(key).ask}",
        "commit": lambda setup, estimates, decision: DECISIONS[decision],
        "throttle": lambda at: f"Throttle to {throttle_name(at)}",
        "check": lambda key: CHECKS[key].label,
        "fix": lambda part: FIX_WORDS[part],
        "call": lambda who: f"Call the {who}",
        "act": lambda key: play.dealt.kind.act(key).label,
        "finish": lambda cause: f"Finish: {play.causes()[cause]}",
    }[name](*values)


def call_html(play, system):
    """The call, and what was asked and answered."""
    dealt = play.dealt
    asked = [(dealt.question(key).ask, dealt.answer(key, system)) for key in play.asked]
    return _fill("call", words=dealt.call(system), asked=asked, minutes=play.minutes, begun=play.setup is not None)


def setup_words(setup):
    """A Setup in words."""
    wall = Setup.wall()
    leader = "" if not setup.leader else f", leader {wall['leader'][setup.leader]}"
    return (
        f"{wall['machine'][setup.machine]}{leader}, {setup.rigid}, jets {wall['drills'][setup.drills]}, "
        f"{throttle_name(setup.throttle)}"
    )


def noticed_words(moment, system):
    """What was noticed at a Moment, and what a check read."""
    return " ".join([*moment.notes, *(f"{each.label}: {read_words(each, system)}." for each in moment.readings)])


def log_html(play, system, *, true=False):
    """The steps as a table; true: with what the gauge should have read, and why it did not."""
    heads = ("Minute", "You did", "Gauge", "You noticed", *(("True gauge", "What was wrong then") if true else ()))
    rows = []
    for moment in play.moments:
        if moment.action[0] == "ask":
            continue
        (gauge, fault), on = moment.true, moment.seen.throttle is not None
        read, meant = (text(each, "pressure", system, 2) if on else "–" for each in (moment.seen.gauge, gauge))
        row = (f"{moment.minute:.0f}", action_words(play, moment.action, system), read, noticed_words(moment, system),
               meant, "" if fault in ("", "healthy") else fault)  # fmt: skip
        rows.append(row[: len(heads)])
    return Table(heads, tuple(rows), ("Minute", "Gauge", "True gauge"))._repr_html_()


def review_html(play, system):
    """The review of a Play that has ended."""
    found, end = reviewed(play, system), play.end
    used, heads = f"{text(play.gallons, 'volume', system, 2)} of water", ("Your estimate of", "You said", "It was")
    return _fill(
        "review",
        found=found,
        safe=end.safe,
        ended=picked(end.words, system),
        why=picked(end.act.why, system) if end.act is not None else "",
        cost=f"{play.minutes:.0f} minutes, {used}, {len(play.risks)} risks.",
        pages={page.number: page.stem for page in lessons()},
        estimates=Table(heads, found.estimates, heads[1:])._repr_html_(),
        steps=log_html(play, system, true=True),
    )


# --- the job drawn ----------------------------------------------------------------------------------


def job_picture(play, system):
    """The Picture of a Play on the job, at its last Moment."""
    seen, rig = play.moments[-1].seen, play.plan.rig
    setting = None if rig.unloader is None else rig.unloader.setting
    engine = "engine off" if seen.throttle is None else throttle_name(seen.throttle)
    gauge = _rounded(seen.gauge, system)
    dial = pressure_gauge(135, 140, 112, seen.gauge, usual_full_scale(rig), system, setting=setting, inside=(engine,))
    parts = [dial, drawn(135, 310, gauge, size=38, anchor="middle", weight="bold")]
    run = float(play.plan.job.drain.length)
    told = (
        ("Tank", f"{100 * seen.level:.0f} %", seen.level, "blue"),
        ("Hose in the pipe", text(seen.mark, "length", system, 2), seen.mark / run, "green"),
    )
    for at, (name, figure, share, color) in enumerate(told):
        y = 30 + 76 * at
        parts += [
            drawn(_LEFT, y, name, size=18),
            drawn(_LEFT + _SPAN, y, figure, size=24, anchor="end", weight="bold"),
            share_bar(_LEFT, y + 10, _SPAN, 24, share, color, hatched=color == "green"),
        ]
    lines = (f"engine {seen.sound}", _RETURNS[seen.returns], f"minute {play.minutes:.0f}")
    for at, words in enumerate(filter(None, lines)):
        parts.append(drawn(_LEFT, 192 + 36 * at, words, size=18))
    return Picture("".join(parts), WIDTH, HEIGHT, job_words(play, system))


def job_words(play, system):
    """All that is seen, in sentences."""
    seen = play.moments[-1].seen
    state = f"The engine is off, the pressure {'' if play.relieved else 'not '}relieved"
    if seen.throttle is not None:
        state = f"{throttle_name(seen.throttle).capitalize()}, the engine {seen.sound}"
    place = f"{text(seen.mark, 'length', system, 2)} of hose in the pipe" if play.inside else "the nozzle is outside"
    returns = f", {_RETURNS[seen.returns]}" if _RETURNS[seen.returns] else ""
    return (
        f"{state}. Gauge {_rounded(seen.gauge, system)}{returns}. {place[0].upper()}{place[1:]}. Tank "
        f"{100 * seen.level:.0f} %. At the opening: {seen.back or 'nothing'}. Minute {play.minutes:.0f}."
    )


def _rounded(gauge, system):
    """A gauge as a needle can be read: by 10 psi, or by 1 bar."""
    step = 10.0 if system == "US" else 1.0
    return f"{step * round(from_si(gauge, 'pressure', system) / step):.0f} {'psi' if system == 'US' else 'bar'}"
