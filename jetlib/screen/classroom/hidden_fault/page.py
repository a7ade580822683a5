"""What a drill with a hidden fault shows: gauge and stream, the log, the reveal, the scores. Nothing here is secret
until `reveal_html` is asked for."""

from functools import partial
from textwrap import wrap

from jetlib.course.classroom.hidden_fault.deal import read_words
from jetlib.course.classroom.hidden_fault.reveal import truth_words
from jetlib.rig.diagnosis.faults import fault_named
from jetlib.rig.diagnosis.readings import throttle_name
from jetlib.rig.point.cautions import SEE_THE_MANUAL
from jetlib.rig.uncertainty.band import usual_full_scale
from jetlib.screen.drawing.chart import text
from jetlib.screen.drawing.diagnosis_picture import percent_words
from jetlib.screen.drawing.filled import filled
from jetlib.screen.drawing.gauge import pressure_gauge
from jetlib.screen.drawing.large import share_bar
from jetlib.screen.drawing.picture import Picture

WIDTH, HEIGHT = 960, 520
_fill = filled(__file__)


def gauge_picture(rig, hunt, throttle, system, *, minutes, latest=None):
    """The Picture the room works with: gauge and stream at `throttle` (None: stopped), the clock, the last check.

    hunt: the FaultHunt under way, or None. minutes: that the room has. latest: the Step of the last check.
    """
    step = next((step for step in hunt.steps if step.key == throttle), None) if hunt else None
    spent = hunt.minutes if hunt else 0.0
    state = "A fault is hidden, or none." if hunt else "No fault is hidden yet."
    gauge = step.readings[0].value if step else 0.0
    stream = step.readings[1].shown if step and len(step.readings) > 1 else ""
    shown = read_words(step.readings[0], system) if step else "stopped"
    place = throttle_name(throttle) if step else "pump stopped"
    setting = rig.unloader.setting if rig.unloader is not None else None
    back = stream or ("no valve on this rig" if not rig.valves else "\u2013")
    read = [read_words(each, system) for each in latest.readings] if latest else []
    label = wrap(latest.label.partition(",")[0], 24)[:2] if latest else ["none yet"]
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
    for at, words in enumerate([*label, *read]):
        parts.append(text(470, 322 + 42 * at, words, size=34, weight="normal" if at < len(label) else "bold"))
    parts.append(text(20, 504, f"{rig.name or 'own rig'}.  {state}", size=26))
    words = f"{rig.name or 'Own rig'}, {place}"
    words += f": gauge {shown}" if step else ""
    words += f", {back} back to the tank" if stream else ""
    words += f". {spent:g} of {minutes:g} minutes spent. {state}"
    words += f" Last check: {latest.label}: {', '.join(read)}." if latest else ""
    return Picture("".join(parts), WIDTH, HEIGHT, words)


def _stream(seen, x, y):
    """A pipe with water falling out of it, or a dry one."""
    pipe = f'<path d="M{x - 40} {y}H{x + 20}V{y + 26}" fill="none" stroke="currentColor" stroke-width="12"/>'
    drops = "".join(
        f'<path class="jl-line-blue" d="M{x + 14 + 6 * at} {y + 34}v{52 + 8 * (at % 2)}" stroke-width="5"/>'
        for at in range(3)
    )
    return pipe + (drops if seen else "")


def log_html(hunt, system):
    """A table of all that the room has seen and spent, the latest first."""
    if hunt is None or not hunt.steps:
        return ""
    words = partial(read_words, system=system)
    return _fill("log", steps=hunt.steps[::-1], words=words, said=SEE_THE_MANUAL)  # that stands under the drill too


def reveal_html(reveal, given, system):
    """The truth, and what each reading should have told. given: {team: (Answer or None, points)}."""
    words, signed = partial(read_words, system=system), partial(_points, sign="+")
    shown = _fill("reveal", found=reveal, given=given, words=words, percent=percent_words, points=signed,
                  fault=fault_named)  # fmt: skip
    return shown.replace(" %", "\u00a0%")  # a figure and its sign stay on one line


def scores_html(board):
    """The table of teams: points of the last drills and the sum."""
    last = board.results[-6:]
    first = len(board.results) - len(last)
    return _fill("scores", totals=board.totals, last=last, first=first, points=_points, truth=_truth)


def _truth(result):
    return truth_words(fault_named(result["fault"]), result["severity"])


def _points(points, sign=""):
    """A number of points with the minus of a text."""
    return f"{points:{sign if points else ''}d}".replace("-", "\u2212")
