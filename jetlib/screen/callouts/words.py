"""What a callout says on the page: actions as a line of the log, the call, and the review."""

from html import escape

from jetlib.course.callouts.kinds import DECISIONS
from jetlib.course.callouts.on_the_job import FIX_WORDS
from jetlib.course.callouts.review import reviewed
from jetlib.course.callouts.wall import Setup
from jetlib.course.classroom.hidden_fault.checks import read_words
from jetlib.course.exercises.words import picked
from jetlib.course.pages.contents import lessons
from jetlib.rig.diagnosis.checks import CHECKS
from jetlib.rig.diagnosis.readings import throttle_name
from jetlib.screen.controls.pieces import folded
from jetlib.screen.drawing.table import Table
from jetlib.units import text

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
        "ask": lambda: f"Ask: {play.dealt.question(values[0]).ask}",
        "commit": lambda: DECISIONS[values[2]],
        "throttle": lambda: f"Throttle to {throttle_name(values[0])}",
        "check": lambda: CHECKS[values[0]].label,
        "fix": lambda: FIX_WORDS[values[0]],
        "call": lambda: f"Call the {values[0]}",
        "act": lambda: play.dealt.kind.act(values[0]).label,
        "finish": lambda: f"Finish: {play.causes()[values[0]]}",
    }[name]()


def call_html(play, system):
    """The call, and what was asked and answered."""
    dealt = play.dealt
    body = f'<p style="font-size:110%">{escape(dealt.call(system))}</p>'
    asked = "".join(
        f"<div><b>{escape(dealt.question(key).ask)}</b></div>"
        f'<div style="margin:0 0 6px 16px">{escape(dealt.answer(key, system))}</div>'
        for key in play.asked
    )
    body = f'<div style="line-height:1.4;max-width:900px">{body}{asked}</div>'
    if play.setup is not None:
        return folded("The call", body)
    return body + (f"<p>{play.minutes:.0f} minutes on the phone so far.</p>" if asked else "")


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


def log_rows(play, system, *, true):
    """Rows of a step each: minute, what was done, seen and noticed; true: what the gauge should have read, and why."""
    rows = []
    for moment in play.moments:
        if moment.action[0] == "ask":
            continue
        seen, (gauge, _, fault) = moment.seen, moment.true
        on = seen.throttle is not None
        row = (f"{moment.minute:.0f}", action_words(play, moment.action, system),
               text(seen.gauge, "pressure", system, 2) if on else "–", noticed_words(moment, system))  # fmt: skip
        if true:
            row += (text(gauge, "pressure", system, 2) if on else "–", "" if fault in ("", "healthy") else fault)
        rows.append(row)
    return tuple(rows)


def log_html(play, system, *, true=False):
    """The steps as a table."""
    heads = ("Minute", "You did", "Gauge", "You noticed", *(("True gauge", "What was wrong then") if true else ()))
    return Table(heads, log_rows(play, system, true=true), ("Minute", "Gauge", "True gauge"))._repr_html_()


def review_html(play, system):
    """The review of a Play that has ended."""
    found, end = reviewed(play, system), play.end
    ink = "var(--jp-success-color0, #1b5e20)" if end.safe else "var(--jp-error-color1, #b3001e)"
    parts = [f'<p style="color:{ink};font-weight:600;font-size:110%">{escape(picked(end.words, system))}</p>']
    if end.act is not None:
        parts.append(f"<p><b>Why.</b> {escape(picked(end.act.why, system))}</p>")
    parts.append(f"<p><b>What was true.</b> {escape(found.truth)}</p>")
    marks = "".join(
        f"<li><b>{what}:</b> {'✔' if good else '✘'} {escape(words)}</li>" for what, good, words in found.marks
    )
    cost = f"{play.minutes:.0f} minutes, {text(play.gallons, 'volume', system, 2)} of water, {len(play.risks)} risks."
    parts.append(f"<ul>{marks}<li><b>Cost:</b> {escape(cost)} Time is shown, not scored.</li></ul>")
    parts.append("<p><b>Three things to do differently next time</b></p><ol>")
    parts += [f"<li>{escape(words)} {_link(lesson)}</li>" for words, lesson in found.advice]
    parts.append("</ol>")
    parts.append(
        Table(("Your estimate of", "You said", "It was"), found.estimates, ("You said", "It was"))._repr_html_()
    )
    parts.append(folded("Step by step: what you saw beside what was true", log_html(play, system, true=True)))
    return "".join(parts)


def _link(number):
    page = next(each for each in lessons() if each.number == number)
    return f'(<a href="{page.stem}.ipynb">lesson {number}</a>)'
