"""The clock line of a session: its steps one after another, as long as they last, with minutes and times of day."""

from jetlib.course.classroom.session_plan import clock
from jetlib.screen.drawing.chart import text
from jetlib.screen.drawing.picture import Picture

_WIDTH, _HEIGHT = 920, 118
_LEFT, _RIGHT, _TOP, _HIGH = 8, 912, 34, 44
_APART = 74  # px that two times of day need


def clock_picture(plan, at, start):
    """The Picture of a Plan's steps with the one at place `at` marked; start: minute of the day it begins."""
    scale = (_RIGHT - _LEFT) / plan.minutes
    parts, last = [], -1e9
    for number, (step, begins) in enumerate(zip(plan.steps, plan.begins, strict=True)):
        x, wide = _LEFT + begins * scale, step.minutes * scale
        box = f'x="{x:.1f}" y="{_TOP}" width="{wide:.1f}" height="{_HIGH}"'
        if number == at:
            parts.append(f'<rect class="jl-ink-blue" fill-opacity="0.3" {box}/>')
            parts.append(f'<path class="jl-ink-blue" d="M{x + wide / 2:.1f} {_TOP - 4}l-11 -18h22z"/>')
        elif step.kind == "break":
            parts.append(
                f'<path d="{_hatching(x, wide)}" stroke="currentColor" stroke-opacity="0.45" stroke-width="2"/>'
            )
        thick = 4 if number == at else 1.5
        parts.append(f'<rect fill="none" stroke="currentColor" stroke-width="{thick}" {box}/>')
        if wide > 18:
            look = {"size": 24 if wide > 32 else 17, "weight": "bold" if number == at else "normal"}
            parts.append(text(x + wide / 2, _TOP + 31, str(number + 1), anchor="middle", **look))
        if x - last >= _APART and (x <= _RIGHT - 2 * _APART or number == 0):
            parts.append(text(x, _TOP + _HIGH + 28, clock(start + begins), size=22))
            last = x
    parts.append(text(_RIGHT, _TOP + _HIGH + 28, clock(start + plan.minutes), anchor="end", size=22))
    begins = plan.begins[at]
    words = (
        f"{plan.title}: {len(plan.steps)} steps from {clock(start)} to {clock(start + plan.minutes)}. Step {at + 1}, "
        f"{plan.steps[at].title}, begins {begins} min from the start, at {clock(start + begins)}."
    )
    return Picture("".join(parts), _WIDTH, _HEIGHT, words)


def _hatching(x, wide):
    """Slanting strokes over a break."""
    strokes = (f"M{x + at:.1f} {_TOP + _HIGH}l{min(12, wide - at):.1f} -{_HIGH}" for at in range(0, int(wide), 14))
    return "".join(strokes)
