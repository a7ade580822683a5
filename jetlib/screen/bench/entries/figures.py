"""The figures that one operating point is judged by, in words and as changes; and a bar cut into named shares."""

from collections.abc import Callable
from typing import NamedTuple

from jetlib.screen.drawing.chart import text
from jetlib.screen.drawing.picture import with_narrow
from jetlib.screen.drawing.plan_picture import figure
from jetlib.units import from_si, unit_label
from jetlib.units import text as words_of

WIDTH, _LEFT = 760, 14
_BAR, _LINE = 24, 19
_ENDLESS = 1e12  # SI


class Figure(NamedTuple):
    """What a figure is called, its kind of `units`, and of(point): its value (SI) at an OperatingPoint."""

    label: str
    kind: str
    of: Callable

    def shown(self, point, system):
        """Its value at an OperatingPoint, as text."""
        return brief(self.of(point), self.kind, system)


#: In the order in which the bench tells them.
FIGURES = (
    Figure("gauge", "pressure", lambda point: point.gauge),
    Figure("nozzle flow", "flow", lambda point: point.nozzle_flow),
    Figure("nozzle pressure", "pressure", lambda point: point.nozzle_pressure),
    Figure("power at the jets", "power", lambda point: point.power_shares["jets"]),
    Figure("pull", "force", lambda point: point.reaction),
    Figure("bypass", "flow", lambda point: point.bypass_flow + point.leak_flow),
)
#: What is told of besides, where two rigs are compared.
MORE = (
    Figure("lost in the hose", "pressure", lambda point: point.hose_loss),
    Figure("power at the shaft", "power", lambda point: point.shaft_power),
)


def brief(value, kind, system):
    """An SI value as text: three figures, but two decimals below 1, where more would say nothing."""
    if value >= _ENDLESS:
        return figure(value, kind, system)
    number = from_si(float(value), kind, system)
    if abs(number) >= 1.0:
        return words_of(float(value), kind, system)
    shown = f"{abs(number):.2f}".rstrip("0").rstrip(".")
    minus = "-" if number < 0 and shown != "0" else ""
    return f"{minus}{shown} {unit_label(kind, system)}"


def change_words(before, after, kind, system):
    """How an SI value `after` differs from `before` in words: "up 120 psi (+6 %)", "the same"."""
    if brief(before, kind, system) == brief(after, kind, system):
        return "the same"
    if max(before, after) >= _ENDLESS:
        return "other"
    shown = brief(abs(after - before), kind, system)
    if shown.split(" ")[0] in ("0", "0.0", "0.00"):
        return "the same"
    way = "up" if after > before else "down"
    share = f"{100 * (after - before) / before:+.0f}".replace("-", "−") if before > 0 else "+0"
    return f"{way} {shown}" + ("" if share[1:] == "0" else f" ({share} %)")


def bar(title, shares, told):
    """A tile: a bar of `shares`, (name, value, colour), those of nothing left out. told(value): a value in words.

    A number in each piece leads to its name and figure in the rows under the bar.
    """
    return with_narrow(lambda width: _bar(title, shares, told, width), WIDTH)


def _bar(title, shares, told, width):
    span = width - 2 * _LEFT
    shown = [share for share in shares if share[1] > 0.0005 * sum(max(each[1], 0.0) for each in shares)]
    total = sum(share[1] for share in shown)
    parts, x, at, row = [text(_LEFT, 16, title, weight="bold")], float(_LEFT), _LEFT, 0
    for number, (name, value, colour) in enumerate(shown, start=1):
        wide = span * value / total
        box = f'x="{x:.1f}" y="24" width="{wide:.1f}" height="{_BAR}"'
        parts.append(f'<rect class="jl-ink-{colour}" fill-opacity="0.35" {box}/>')
        parts.append(f'<rect fill="none" stroke="currentColor" {box}/>')
        if wide > 14:
            parts.append(text(x + wide / 2, 41, str(number), anchor="middle", weight="bold"))
        words = f"{number} {name} {told(value)}, {100 * value / total:.0f} %"
        room = 24 + 6.6 * len(words)
        if at > _LEFT and at + room > _LEFT + span:
            at, row = _LEFT, row + 1
        y = 24 + _BAR + 17 + _LINE * row
        parts.append(f'<rect class="jl-ink-{colour}" x="{at:.0f}" y="{y - 10}" width="10" height="10"/>')
        parts.append(text(at + 14, y, words))
        at, x = at + room, x + wide
    return "".join(parts), width, 24 + _BAR + _LINE * (row + 1) + 14
