"""A bar cut into named shares, with the figures under it, and the words for a change."""

from jetlib.screen.drawing.chart import text
from jetlib.screen.drawing.picture import with_narrow
from jetlib.units import from_si, unit_label
from jetlib.units import text as words_of

WIDTH, LEFT = 760, 14
_BAR, _LINE = 24, 19
COLOURS = ("orange", "purple", "green", "blue", "red", "grey")


def bar(title, shares):
    """A tile: a bar of `shares`, (name, value, figure, colour), those of nothing left out.

    A number in each piece leads to its name and figure in the rows under the bar.
    """
    return with_narrow(lambda width: _bar(title, shares, width), WIDTH)


def _bar(title, shares, width):
    span = width - 2 * LEFT
    shown = [share for share in shares if share[1] > 0.0005 * sum(max(each[1], 0.0) for each in shares)]
    total = sum(share[1] for share in shown)
    parts, x, at, row = [text(LEFT, 16, title, weight="bold")], float(LEFT), LEFT, 0
    for number, (name, value, figure, colour) in enumerate(shown, start=1):
        wide = span * value / total
        box = f'x="{x:.1f}" y="24" width="{wide:.1f}" height="{_BAR}"'
        parts.append(f'<rect class="jl-ink-{colour}" fill-opacity="0.35" {box}/>')
        parts.append(f'<rect fill="none" stroke="currentColor" {box}/>')
        if wide > 14:
            parts.append(text(x + wide / 2, 41, str(number), anchor="middle", weight="bold"))
        words = f"{number} {name} {figure}, {100 * value / total:.0f} %"
        room = 24 + 6.6 * len(words)
        if at > LEFT and at + room > LEFT + span:
            at, row = LEFT, row + 1
        y = 24 + _BAR + 17 + _LINE * row
        parts.append(f'<rect class="jl-ink-{colour}" x="{at:.0f}" y="{y - 10}" width="10" height="10"/>')
        parts.append(text(at + 14, y, words))
        at, x = at + room, x + wide
    return "".join(parts), width, 24 + _BAR + _LINE * (row + 1) + 14


def brief(value, kind, system):
    """An SI value as text: three figures, but two decimals below 1, where more would say nothing."""
    number = from_si(float(value), kind, system)
    if abs(number) >= 1.0:
        return words_of(float(value), kind, system)
    shown = f"{abs(number):.2f}".rstrip("0").rstrip(".")
    minus = "-" if number < 0 and shown != "0" else ""
    return f"{minus}{shown} {unit_label(kind, system)}"


def change_words(before, after, words):
    """How `after` differs from `before` in words: "up 120 psi (+6 %)", "the same"; words: a value as text."""
    shown, now = words(abs(after - before)), words(after)
    if shown.split(" ")[0] in ("0", "0.0", "0.00") or words(before) == now:
        return "the same"
    way = "up" if after > before else "down"
    share = f"{100 * (after - before) / before:+.0f}".replace("-", "−") if before > 0 else "+0"
    return f"{way} {shown}" + ("" if share[1:] == "0" else f" ({share} %)")
