"""Lesson 11's consoles: a whole job planned while it is typed in, what makes its numbers sure, and its job card."""

from functools import lru_cache

from jetlib.course.exercises.yard_job import LEADERS, UNWEIGHED, USUAL, banded_numbers, yard_plan
from jetlib.rig.hoses.weight import BRAIDS
from jetlib.rig.job.flushing import DEBRIS
from jetlib.rig.job.plan import Plan
from jetlib.rig.uncertainty.unknowns import Unknowns
from jetlib.screen.controls.declared import console
from jetlib.screen.controls.rig_choice import rig_of
from jetlib.screen.drawing.chart import NARROW, text
from jetlib.screen.drawing.filled import filled
from jetlib.screen.drawing.picture import Answer, stacked, with_narrow
from jetlib.screen.drawing.plan_picture import WIDTH, figure, picture_of
from jetlib.units import both, si

_NONE = "none"
#: What one can check before starting, by the name of its switch: in words, and the inputs of Unknowns it settles.
CHECKS = {
    "jets": ("jets measured", ("discharge_coefficient", "jet_bore")),
    "pump": ("pump's flow measured, as its manual allows", ("pump_flow",)),
    "valve": ("valve's setting and rise measured", ("valve_setting", "valve_rise", "disc_rating")),
    "gauge": ("gauge checked against a good one", ("gauge",)),
}
_BRAIDS = ((UNWEIGHED, UNWEIGHED), *((f"weighed: it is {words}", words) for words in BRAIDS))


def _leaders(_):
    named = [(f"{both(hose.length, 'length')} of {hose.name}", key) for key, hose in LEADERS.items()]
    return {"leader": {"options": [("nothing", _NONE), *named]}}


def _job(rig):
    usual = {name: {"start": value} for name, value in USUAL.items() if value is not None}
    return {**usual, **_leaders(rig), "debris": {"options": [(name, name) for name in DEBRIS], **usual["debris"]}}


@console(_job)
def plan_console(values, system):
    """A Console: everything that goes into a plan, and what comes out, for a yard rig."""
    return picture_of(_plan(values.pop("rig"), (), **values), system)


@lru_cache(maxsize=64)
def _plan(name, checked, **changes):
    settled = [each for check in checked for each in CHECKS[check][1]]
    changes = {key: None if value == _NONE else value for key, value in changes.items()}
    return yard_plan(rig_of(name), unknowns=Unknowns().settle(*settled) if settled else None, **changes)


# --- how sure ---------------------------------------------------------------------------------------

_BAR_LEFT, _BAR_RIGHT = 240.0, 640.0
_MOST = 2.25  # of the plan's figure: the right end of the bars


@console(lambda rig: {**_leaders(rig), "braid": {"options": _BRAIDS, "start": UNWEIGHED}})
def doubt_console(values, system):
    """A Console: the bands of a plan as bars, the least sure first, and a switch for each check."""
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

    done = [CHECKS[name][0] for name in checked]
    done += [f"the reel hose weighed as {braid}"] if braid != UNWEIGHED else []
    words = f"{plan.rig.name}, {'; '.join(done) if done else 'nothing checked'}. "
    words += f"Least certain: {told(numbers[0])}. " + f"Most certain: {told(numbers[-1])}. "
    return words + "In between: " + "; ".join(told(number) for number in numbers[1:-1]) + "."


# --- the job card ---------------------------------------------------------------------------------

_fill = filled(__file__)


class JobCard:
    """The card of a Plan; shows itself in a notebook. data: what `Plan.card()` gives, and nothing else."""

    def __init__(self, plan):
        self.data = plan.card()

    def __repr__(self):
        data = self.data
        lines = [f"{data['title']}: {data['rig']}, {data['drain']}", data["verdict_text"]]
        lines += [f"NO GO  {each}" for each in data["no_go"]] + [f"CAUTION  {each}" for each in data["cautions"]]
        lines += [f"STOCK  {each}" for each in data["options"]]
        lines += [f"{number:>2}. {each}" for number, each in enumerate(data["steps"], start=1)]
        lines += [
            f"{row['section']}, {row['label']}: {row['US']} | {row['metric']} | {row['source']}" for row in data["rows"]
        ]
        lines += [f"HAZARD  {each}" for each in data["hazards"]]
        return "\n".join([*lines, data["authority"]])

    def _repr_html_(self):
        return _fill("job_card", card=self.data)


def job_card(plan: Plan) -> JobCard:
    """The JobCard of a Plan."""
    return JobCard(plan)
