"""What a drill with a hidden fault shows: gauge and stream, the log, the reveal, the scores. Nothing here is secret
until `reveal_html` is asked for."""

from html import escape
from textwrap import wrap

from jetlib.course.classroom.hidden_fault.checks import STOPS
from jetlib.course.classroom.hidden_fault.reveal import truth_words
from jetlib.course.classroom.hidden_fault.words import read_words
from jetlib.rig.diagnosis.faults import fault_named
from jetlib.rig.diagnosis.readings import throttle_name
from jetlib.rig.point.cautions import SEE_THE_MANUAL
from jetlib.rig.uncertainty.band import usual_full_scale
from jetlib.screen.drawing.chart import text
from jetlib.screen.drawing.diagnosis_picture import percent_words
from jetlib.screen.drawing.gauge import pressure_gauge
from jetlib.screen.drawing.large import share_bar
from jetlib.screen.drawing.picture import Picture

WIDTH, HEIGHT = 960, 520
_TOP_CAUSES = 3


def gauge_picture(rig, step, throttle, system, *, spent, minutes, state, latest=None):
    """The Picture the room works with: gauge and stream at `throttle` (None: stopped), the clock, the last check.

    step: the Step of the look at that throttle. spent, minutes: of the room. latest: the Step of the last check.
    """
    gauge = step.readings[0].value if step else 0.0
    stream = step.readings[1].shown if step and len(step.readings) > 1 else ""
    shown = read_words(step.readings[0], system) if step else "stopped"
    place = throttle_name(throttle) if step else "pump stopped"
    setting = rig.unloader.setting if rig.unloader is not None else None
    back = stream or ("no valve on this rig" if not rig.valves else "\u2013")
    parts = [
        pressure_gauge(215, 222, 160, gauge, usual_full_scale(rig), system, setting=setting, inside=(place,)),
        text(215, 452, shown, size=60, anchor="middle", weight="bold"),
        text(470, 46, "back to the tank", size=30),
        text(470, 104, back, size=54, weight="bold"),
        _stream(stream == "water returns", 850, 30),
        text(470, 178, "minutes spent", size=30),
        text(940, 182, f"{spent:g} of {minutes:g}", size=48, weight="bold", anchor="end"),
        share_bar(470, 196, 470, 26, spent / minutes if minutes > 0 else 1.0, "orange", hatched=True),
        text(470, 276, "last check", size=30),
    ]
    said = _last_words(latest, system)
    read = len(latest.readings) if latest is not None else 0
    for number, line in enumerate(said):
        weight = "bold" if number >= len(said) - read else "normal"
        parts.append(text(470, 322 + 42 * number, line, size=34, weight=weight))
    parts.append(text(20, 504, f"{rig.name or 'own rig'}.  {state}", size=26))
    words = f"{rig.name or 'Own rig'}, {place}"
    words += f": gauge {shown}" if step else ""
    words += f", {back} back to the tank" if stream else ""
    words += f". {spent:g} of {minutes:g} minutes spent. {state}"
    if latest is not None:
        words += f" Last check: {latest.label}: {', '.join(read_words(each, system) for each in latest.readings)}."
    return Picture("".join(parts), WIDTH, HEIGHT, words)


def _stream(seen, x, y):
    """A pipe with water falling out of it, or a dry one."""
    pipe = f'<path d="M{x - 40} {y}H{x + 20}V{y + 26}" fill="none" stroke="currentColor" stroke-width="12"/>'
    drops = "".join(
        f'<path class="jl-line-blue" d="M{x + 14 + 6 * at} {y + 34}v{52 + 8 * (at % 2)}" stroke-width="5"/>'
        for at in range(3)
    )
    return pipe + (drops if seen else "")


def _last_words(step, system):
    """Up to four lines: what was done, and what was read."""
    if step is None:
        return ["none yet"]
    label = wrap(step.label.partition(",")[0], 24)[:2]
    return [*label, *(read_words(reading, system) for reading in step.readings)]


def log_html(hunt, system):
    """A table of all that the room has seen and spent, the latest first."""
    if hunt is None or not hunt.steps:
        return ""
    rows = []
    for step in reversed(hunt.steps):
        shown = "; ".join(f"<b>{escape(read_words(each, system))}</b>" for each in step.readings)
        minutes = "free" if isinstance(step.key, float) else f"{step.minutes:g} min"
        own = step.caution.replace(SEE_THE_MANUAL, "").strip()  # that stands at the check, and under the drill
        caution = f'<br><span style="opacity:0.85">{escape(own)}</span>' if own else ""
        rows.append(f'<tr><td>{escape(step.label)}{caution}</td><td>{shown}</td><td class="number">{minutes}</td></tr>')
    head = '<tr><th>seen and done, latest first</th><th>read</th><th class="number">cost</th></tr>'
    return f"<table>{head}{''.join(rows)}</table>"


def reveal_html(reveal, given, system):
    """The truth, and what each reading should have told. given: {team: (Answer or None, points)}."""
    name = reveal.hunt.hidden.fault.name
    big = f'<div style="font-size:1.5em;font-weight:700;margin:6px 0">{escape(reveal.sentences[0])}</div>'
    rest = "".join(f"<p>{escape(each)}</p>" for each in reveal.sentences[1:])
    rows = []
    for told in reveal.told:
        minutes = f"{told.minutes:g} min" if told.minutes else "free"
        lines = [f"<b>{escape(told.label)}</b> ({minutes})"]
        lines += [
            f"{escape(_label(read))}: <b>{escape(read_words(read, system))}</b>; a rig in good order "
            f"{escape(read_words(sound, system))}"
            + ("." if name == "healthy" else f"; this fault {escape(read_words(true, system))}.")
            for read, sound, true in told.rows
        ]
        lines += [f"Likeliest before: {_causes(told.before)}.", f"Likeliest after: {_causes(told.after)}."]
        lines.append(f"Best buy before it: {escape(told.best)}." if told.best else "Nothing was worth doing any more.")
        was, now = (each.probability(name) for each in (told.before, told.after))
        meters = f"{percent_words(was)} \u2192<br><b>{percent_words(now)}</b><br>{_meter(now)}"
        rows.append(f'<tr><td>{"<br>".join(lines)}</td><td class="number">{meters}</td></tr>')
    head = '<tr><th>what was done and read</th><th class="number">true cause,<br>before \u2192 after</th></tr>'
    table = f"<table>{head}{''.join(rows)}</table>" if rows else ""
    left = f"<p>Best buy that was left: {escape(reveal.best)}.</p>" if reveal.best else ""
    page = f'<div role="status" aria-live="polite">{big}{rest}</div>{_answers(given, name)}{table}{left}'
    return page.replace(" %", "\u00a0%")  # a figure and its sign stay on one line


def _label(reading):
    return reading.label[0].upper() + reading.label[1:]


def _meter(share):
    """A share as a bar of ten squares, so that it is seen from far."""
    full = round(10 * share)
    squares = "\u25a0" * full + "\u25a1" * (10 - full)
    return f'<span aria-hidden="true">{squares}</span>'


def _causes(diagnosis):
    return "; ".join(
        f"{escape(cause.fault.title)} {percent_words(cause.probability)}" for cause in diagnosis.causes[:_TOP_CAUSES]
    )


def _answers(given, truth):
    if not given:
        return ""
    rows = []
    for team, (answer, points) in given.items():
        if answer is None:
            rows.append(f'<tr><td>{escape(team)}</td><td>named nothing</td><td class="number">{points:+d}</td></tr>')
            continue
        mark = "\u2714 right" if answer.named == truth else "\u2718 wrong"
        named = escape(fault_named(answer.named).title)
        sure = "sure" if answer.sure else "guess"
        minute = f"at minute {answer.minute:g}"
        words = f"{mark}: {named} ({sure}, {minute})"
        rows.append(f'<tr><td>{escape(team)}</td><td>{words}</td><td class="number">{points:+d}</td></tr>')
    head = '<tr><th>team</th><th>named</th><th class="number">points</th></tr>'
    return f"<table>{head}{''.join(rows)}</table>".replace("+0", "0").replace(">-", ">\u2212")


def scores_html(board):
    """The table of teams: points of the last drills and the sum."""
    totals = board.totals
    last = board.results[-6:]
    first = len(board.results) - len(last)
    heads = "".join(f'<th class="number">drill {first + at + 1}</th>' for at in range(len(last)))
    rows = []
    for team in sorted(totals, key=lambda each: -totals[each]):
        cells = "".join(f'<td class="number">{_points(result["teams"].get(team))}</td>' for result in last)
        total = f'<td class="number"><b>{totals[team]}</b></td>'.replace("-", "\u2212")
        rows.append(f"<tr><td><b>{escape(team)}</b></td>{cells}{total}</tr>")
    head = f'<tr><th>team</th>{heads}<th class="number">sum</th></tr>'
    past = [
        f"{first + at + 1}: {escape(each['rig'])}, {_seed(each['seed'])}: "
        f"{escape(truth_words(fault_named(each['fault']), each['severity']))}; {each['minutes']:g} minutes"
        for at, each in enumerate(last)
    ]
    done = f"<p>{'<br>'.join(past)}</p>" if past else ""
    return f"<table>{head}{''.join(rows)}</table>{done}"


def _points(each):
    return "" if each is None else str(each["points"]).replace("-", "\u2212")


def _seed(seed):
    return "set by the trainer" if seed is None else f"seed {seed}"


def throttle_options():
    """(words, value) of the throttle: stopped, and each of STOPS."""
    return [("stopped", None), *((throttle_name(stop).removesuffix(" throttle"), stop) for stop in STOPS)]
