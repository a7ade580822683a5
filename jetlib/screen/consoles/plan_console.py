"""Lesson 11's consoles: a whole job planned while it is typed in, and what makes its numbers sure or unsure."""

import math
from functools import lru_cache

from jetlib.course.exercises.yard_job import LEADERS, UNWEIGHED, USUAL, banded_numbers, yard_plan
from jetlib.rig.hoses.weight import BRAIDS
from jetlib.rig.job.flushing import DEBRIS
from jetlib.rig.uncertainty.unknowns import Unknowns
from jetlib.screen.controls.console import Amount, Choice, Console, Count, Switch
from jetlib.screen.controls.rig_choice import rig_of, whole_rigs
from jetlib.screen.drawing.chart import NARROW, text
from jetlib.screen.drawing.picture import Answer, stacked, with_narrow
from jetlib.screen.drawing.plan_picture import WIDTH
from jetlib.screen.drawing.plan_sheet import figure, picture_of
from jetlib.units import both, si

_PIPES = (
    "3 in PVC DWV schedule 40",
    "4 in vitrified clay",
    "4 in PVC SDR 35",
    "6 in vitrified clay",
    "8 in vitrified clay",
)
_CONDITIONS = (("good, by camera", "sound"), ("not known", "not known"), ("damaged", "damaged"))
_TURNS = (("none", 0.0), ("45°", math.pi / 4.0), ("90°", math.pi / 2.0), ("two of 90° together", math.pi))
#: A control cannot hold None: it would look as if nothing were chosen.
_NONE = "none"
_WAYS_IN = (
    ("as wide as the pipe", _NONE),
    ("3 in (76 mm)", si("3 in", "pipe_bore")),
    ("1.5 in (38 mm)", si("1.5 in", "pipe_bore")),
    ("1 in (25 mm)", si("1 in", "pipe_bore")),
)
_NOTE = (
    "A plan is arithmetic. It does not make a job safe. The bend, if any, is 30 ft (9 m) in. "
    "The machine's manual, local codes and a licensed operator come first."
)
#: What one can check before starting: name, words, inputs of Unknowns that it settles.
CHECKS = (
    ("jets", "Jets measured: a drill shank tried in each, and one good reading", ("discharge_coefficient", "jet_bore")),
    ("pump", "Pump's flow measured, as its manual allows", ("pump_flow",)),
    ("valve", "Valve's setting and rise measured", ("valve_setting", "valve_rise", "disc_rating")),
    ("gauge", "Gauge checked against a good one", ("gauge",)),
)


def plan_console(
    rig: str = "yard_trailer", *, system: str | None = None, title: str = "Plan a job", **start: object
) -> Console:
    """A Console: everything that goes into a plan, and what comes out, for a yard rig.

    start: any of `jetlib.course.exercises.yard_job.USUAL`, as the controls take them.
    """
    begin = {name: _NONE if value is None else value for name, value in {**USUAL, **start}.items()}
    controls = [
        Choice("rig", "Machine", whole_rigs(), rig),
        Choice("leader", "Added at the nozzle", _leaders(), begin["leader"]),
        Amount("stiff", "Rigid nozzle length", "pipe_bore", "2 in", "12 in", 40, begin["stiff"]),
        Choice("pipe", "Pipe", tuple((name, name) for name in _PIPES), begin["pipe"]),
        Choice("condition", "Condition of the pipe", _CONDITIONS, begin["condition"]),
        Amount("run", "Run", "length", "40 ft", "300 ft", 52, begin["run"]),
        Amount("fall", "Fall", "slope", 0.0, 0.1, 40, begin["fall"]),
        Choice("turn", "Bend", _TURNS, begin["turn"]),
        Choice("access", "Access opening", _WAYS_IN, begin["access"]),
        Amount("outside", "Hose outside", "length", "0 ft", "150 ft", 30, begin["outside"]),
        Choice("debris", "What is in the pipe", tuple((name, name) for name in DEBRIS), begin["debris"]),
        Amount("volume", "Tank, full", "volume", "20 gal", "600 gal", 58, begin["volume"]),
        Amount("refill", "Filling hose", "flow", "0 gpm", "10 gpm", 40, begin["refill"]),
        Count("passes", "Passes, in and back", 1, 6, begin["passes"]),
        Amount("throttle", "Throttle", "fraction", 0.0, 1.0, 50, begin["throttle"]),
    ]

    def draw(values, system):
        return picture_of(_plan(values.pop("rig"), (), **values), system)

    return Console(title, controls, draw, system=system, note=_NOTE)


def doubt_console(
    rig: str = "yard_trailer", *, system: str | None = None, title: str = "How sure is each number?", **start: object
) -> Console:
    """A Console: the bands of a plan as bars, the least sure first, and a switch for each check.

    start: leader, braid, or a name of CHECKS, as the controls take them.
    """
    braids = ((UNWEIGHED, UNWEIGHED), *((f"weighed: it is {words}", words) for words in BRAIDS))
    controls = [
        Choice("rig", "Machine", whole_rigs(), rig),
        Choice("leader", "Added at the nozzle", _leaders(), start.get("leader", _NONE)),
        Choice("braid", "Reel hose", braids, start.get("braid", UNWEIGHED)),
        *(Switch(name, label, start.get(name, False)) for name, label, _ in CHECKS),
    ]
    note = "The friction of hose on pipe and the roughness of the pipe stay unsure: nobody can check them in advance."
    return Console(title, controls, _draw_doubt, system=system, note=note)


def _leaders():
    named = ((f"{both(hose.length, 'length')} of {hose.name}", key) for key, hose in LEADERS.items())
    return (("nothing", _NONE), *named)


@lru_cache(maxsize=64)
def _plan(name, checked, **changes):
    settled = [each for check, _, inputs in CHECKS if check in checked for each in inputs]
    changes = {key: None if value == _NONE else value for key, value in changes.items()}
    return yard_plan(rig_of(name), unknowns=Unknowns().settle(*settled) if settled else None, **changes)


# --- how sure ---------------------------------------------------------------------------------------

_BAR_LEFT, _BAR_RIGHT = 240.0, 640.0
_MOST = 2.25  # of the plan's figure: the right end of the bars


def _draw_doubt(values, system):
    name, leader, braid = (values.pop(each) for each in ("rig", "leader", "braid"))
    checked = tuple(check for check, done in values.items() if done)
    plan = _plan(name, checked, leader=leader, braid=braid, stiff=si("5 in", "pipe_bore"))
    numbers = banded_numbers(plan)
    words = _doubt_words(plan, numbers, checked, braid, system)
    worst = numbers[0]
    answers = (Answer(f"{worst.words}, as planned", float(worst.value), worst.kind),)
    return stacked(words, with_narrow(lambda width: _bars(numbers, width, system), WIDTH), answers=answers)


def _bars(numbers, width, system):
    """The band of each number as a bar: (content, width, height)."""
    beside = width > NARROW  # or the words stand over the bars
    left, right = (_BAR_LEFT, _BAR_RIGHT) if beside else (30.0, width - 34.0)
    step = 26 if beside else 50
    bottom = 46 + step * len(numbers)
    parts = []
    if beside:
        parts.append(text(right + 14, 20, "eight jobs in ten", weight="bold"))
        parts.append(text(left - 12, 20, "number in the plan", anchor="end", weight="bold"))
    for share in (0.0, 0.5, 1.0, 1.5, 2.0):
        x, strong = _across(share, left, right), share == 1.0
        parts.append(
            f'<path d="M{x:.1f} 28V{bottom}" stroke="currentColor" stroke-width="{1.6 if strong else 0.8}" '
            f'stroke-opacity="{0.9 if strong else 0.25}"/>'
        )
        label = "as planned" if strong else f"{share:g} times" if share else "zero"
        parts.append(text(x, bottom + 16, label, anchor="middle", size=11))
    for at, each in enumerate(numbers):
        parts.append(_bar(each, left, right, 56 + step * at + (0 if beside else 22), beside, system))
    return "".join(parts), width, bottom + 30


def _across(share, left, right):
    return left + (right - left) * min(max(share, 0.0), _MOST) / _MOST


def _bar(number, left, right, y, beside, system):
    low, high = (_across(end / number.value, left, right) for end in (number.low, number.high))
    figures = f"{figure(number.low, number.kind, system)} to {figure(number.high, number.kind, system)}"
    bar = (
        f'<rect class="jl-ink-purple" x="{low:.1f}" y="{y - 7}" width="{max(high - low, 2.0):.1f}" height="14" '
        'fill-opacity="0.75"/>'
    )
    if not beside:
        return bar + text(14, y - 13, f"{number.words}: {figures}", halo=True)
    return text(left - 12, y + 4, number.words, anchor="end") + bar + text(right + 14, y + 4, figures)


def _doubt_words(plan, numbers, checked, braid, system):
    def told(number):
        low, high = (figure(end, number.kind, system) for end in (number.low, number.high))
        return f"{number.words}, {figure(number.value, number.kind, system)}, eight jobs in ten {low} to {high}"

    done = [label.split(":")[0].lower() for name, label, _ in CHECKS if name in checked]
    done += [f"the reel hose weighed as {braid}"] if braid != UNWEIGHED else []
    words = f"{plan.rig.name}, {'; '.join(done) if done else 'nothing checked'}. "
    words += f"Least certain: {told(numbers[0])}. " + f"Most certain: {told(numbers[-1])}. "
    return words + "In between: " + "; ".join(told(number) for number in numbers[1:-1]) + "."
