"""Pieces of a plan's picture: the verdict, the drain with the nozzle in it, and sentences that keep to their width."""

from textwrap import wrap

from jetlib.screen.drawing.chart import NARROW, text
from jetlib.screen.drawing.picture import with_narrow
from jetlib.units import Told

WIDTH = 900
#: How a verdict looks: heading, colour, mark.
VERDICTS = {
    "no-go": ("NO GO", "red", "✘"),
    "caution": ("GO ONLY WHEN THE CAUTIONS ARE SETTLED", "orange", "!"),
    "go": ("NOTHING CALCULATED HERE RULES IT OUT", "green", "✔"),
}
_LEVELS = {"no-go": ("NO GO", "red"), "caution": ("caution", "orange")}
_LINE = 17


def verdict_bar(verdict, words):
    """A tile: a bar with a mark and the verdict in capitals, `words` under it."""
    heading, colour, mark = VERDICTS[verdict]
    return banner(f"{mark} {heading}", words, colour, WIDTH)


def banner(heading, words, colour, width):
    """A tile: a bar of `colour` with a heading, and `words` under it; over as many lines as they take."""

    def drawn(width):
        heads, lines = wrap(heading, int((width - 50) / 10)), wrap(words, int((width - 50) / 6.2))
        y, told = 5, []
        for line in heads:
            y += 18
            told.append(text(30, y, line, colour=colour, size=15, weight="bold"))
        for line in lines:
            y += _LINE + (line is lines[0])
            told.append(text(30, y, line))
        box = f'<rect class="jl-ink-{colour}" x="8" y="4" height="{y + 3}"'
        return f'{box} width="{width - 16}" fill-opacity="0.16"/>{box} width="7"/>{"".join(told)}', width, y + 15

    return with_narrow(drawn, width)


def drain_strip(plan, system, width):
    """(content, width, height): machine, way in, pipe, bends; the hose in it as far as it comes, and the band of that.

    Lengths in the pipe are to scale; nothing else is.
    """
    run, small = plan.job.drain.length, width <= NARROW
    left, right = (96.0, width - 12.0) if small else (150.0, width - 40.0)

    def across(metres):
        return left + (right - left) * min(max(metres / run, 0.0), 1.0)

    length = Told(system).length
    top, bottom, middle = 34, 64, 49
    reach = float(plan.reach.distance)
    low, high = plan.spread.low("reach"), plan.spread.high("reach")
    parts = [
        f'<path d="M{left} {top}H{right}M{left} {bottom}H{right}" fill="none" stroke="currentColor" stroke-width="2"/>',
        f'<rect x="4" y="{middle - 14}" width="54" height="28" fill="none" stroke="currentColor" stroke-width="2"/>',
        text(31, middle + 4, "machine", anchor="middle", size=11),
        f'<path class="jl-line-blue" d="M58 {middle}H{across(reach):.1f}" fill="none" stroke-width="4"/>',
        text((58 + left) / 2, middle - 8, length(plan.job.hose_outside), anchor="middle", size=11),
        text((58 + left) / 2, middle + 32 if small else middle + 18, "outside", anchor="middle", size=11),
        text(left, top - 8, "entry", anchor="middle"),
        text(right, top - 8, f"{'' if small else 'end of the run, '}{length(run)}", anchor="end"),
    ]
    for bend in plan.job.drain.bends:
        x = across(bend.at)
        look = 'fill="none" stroke="currentColor" stroke-width="1.4" stroke-dasharray="3 3"'
        parts.append(f'<path d="M{x:.1f} {top - 4}V{bottom + 4}" {look}/>')
        parts.append(text(x, top - 8, f"bend {Told(system).angle(bend.angle)}", anchor="middle"))
    x = across(reach)
    parts.append(f'<path class="jl-ink-blue" d="M{x:.1f} {middle - 9}l16 9l-16 9Z"/>')
    a, b, y = across(low), across(high), bottom + 16
    bracket = f"M{a:.1f} {y - 6}V{y + 6}M{a:.1f} {y}H{max(b, a + 1):.1f}M{b:.1f} {y - 6}V{y + 6}"
    parts.append(f'<path class="jl-line-purple" d="{bracket}" fill="none" stroke-width="2.4"/>')
    band = f"nozzle reaches {length(reach)}; eight jobs in ten: {length(low)} to {length(high)}"
    half = 3.2 * len(band)  # the words do not leave the picture
    x = min(max((a + b) / 2.0, half + 8), max(width - half - 8, width / 2.0))
    parts.append(text(x, y + 20, band, colour="purple", anchor="middle"))
    return "".join(parts), width, 112


def finding_lines(findings, width):
    """(content, width, height): each Finding with its level, over as many lines as it takes."""
    parts, y, left = [], 16, 14 if width <= NARROW else 84
    for each in findings:
        level, colour = _LEVELS[each.level]
        parts.append(text(14, y, level, colour=colour, weight="bold"))
        y += _LINE * (left == 14)
        for line in wrap(each.text, int((width - left) / 6.6)):
            parts.append(text(left, y, line))
            y += _LINE
        y += 4
    return "".join(parts), width, y
