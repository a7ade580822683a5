"""Pieces of a plan's picture: the verdict, the drain with the nozzle in it, and sentences that keep to their width."""

from textwrap import wrap

from jetlib.screen.drawing.chart import text
from jetlib.units import text as words_of

WIDTH = 900
#: How a verdict looks: heading, colour, mark.
VERDICTS = {
    "no-go": ("NO GO", "red", "✘"),
    "caution": ("GO ONLY WHEN THE CAUTIONS ARE SETTLED", "orange", "!"),
    "go": ("NOTHING CALCULATED HERE RULES IT OUT", "green", "✔"),
}
_LEVELS = {"no-go": ("NO GO", "red"), "caution": ("caution", "orange")}
_LINE = 17
_CHARACTERS = 124  # of size 12 that fit beside the level
_LEFT, _RIGHT = 150.0, WIDTH - 40.0  # of the pipe, pixels


def verdict_bar(verdict, words):
    """(content, width, height): a bar with a mark and the verdict in capitals, `words` under it."""
    heading, colour, mark = VERDICTS[verdict]
    bar = (
        f'<rect class="jl-ink-{colour}" x="8" y="4" width="{WIDTH - 16}" height="44" fill-opacity="0.16"/>'
        f'<rect class="jl-ink-{colour}" x="8" y="4" width="7" height="44"/>'
    )
    told = text(30, 23, f"{mark} {heading}", colour=colour, size=15, weight="bold") + text(30, 41, words)
    return bar + told, WIDTH, 56


def drain_strip(plan, system):
    """(content, width, height): machine, way in, pipe, bends; the hose in it as far as it comes, and the band of that.

    Lengths in the pipe are to scale; nothing else is.
    """
    run = plan.job.drain.length

    def across(metres):
        return _LEFT + (_RIGHT - _LEFT) * min(max(metres / run, 0.0), 1.0)

    def length(metres):
        return words_of(float(metres), "length", system)

    top, bottom, middle = 34, 64, 49
    reach = float(plan.reach.distance)
    low, high = plan.spread.low("reach"), plan.spread.high("reach")
    parts = [
        f'<path d="M{_LEFT} {top}H{_RIGHT}M{_LEFT} {bottom}H{_RIGHT}" fill="none" stroke="currentColor" '
        'stroke-width="2"/>',
        f'<rect x="14" y="{middle - 14}" width="70" height="28" fill="none" stroke="currentColor" stroke-width="2"/>',
        text(49, middle + 4, "machine", anchor="middle"),
        f'<path class="jl-line-blue" d="M84 {middle}H{across(reach):.1f}" fill="none" stroke-width="4"/>',
        text(117, middle - 8, length(plan.job.hose_outside), anchor="middle", size=11),
        text(117, middle + 18, "outside", anchor="middle", size=11),
        text(_LEFT, top - 8, "entry", anchor="middle"),
        text(_RIGHT, top - 8, f"end of the run, {length(run)}", anchor="end"),
    ]
    for bend in plan.job.drain.bends:
        x = across(bend.at)
        parts.append(
            f'<path d="M{x:.1f} {top - 4}V{bottom + 4}" fill="none" stroke="currentColor" stroke-width="1.4" '
            f'stroke-dasharray="3 3"/>'
        )
        angle = words_of(float(bend.angle), "angle", system)
        parts.append(text(x, top - 8, f"bend {angle}", anchor="middle"))
    x = across(reach)
    parts.append(f'<path class="jl-ink-blue" d="M{x:.1f} {middle - 9}l16 9l-16 9Z"/>')
    a, b, y = across(low), across(high), bottom + 16
    bracket = f"M{a:.1f} {y - 6}V{y + 6}M{a:.1f} {y}H{max(b, a + 1):.1f}M{b:.1f} {y - 6}V{y + 6}"
    parts.append(f'<path class="jl-line-purple" d="{bracket}" fill="none" stroke-width="2.4"/>')
    band = f"nozzle reaches {length(reach)}; eight jobs in ten: {length(low)} to {length(high)}"
    parts.append(_label_in_row((a + b) / 2.0, y + 20, band))
    return "".join(parts), WIDTH, 112


def _label_in_row(x, y, words):
    """Text about x that does not leave the picture."""
    half = 3.2 * len(words)
    return text(min(max(x, half + 8), WIDTH - half - 8), y, words, colour="purple", anchor="middle")


def finding_lines(findings):
    """(content, width, height): each Finding with its level, over as many lines as it takes."""
    parts, y = [], 16
    for each in findings:
        level, colour = _LEVELS[each.level]
        parts.append(text(14, y, level, colour=colour, weight="bold"))
        for line in wrap(each.text, _CHARACTERS):
            parts.append(text(84, y, line))
            y += _LINE
        y += 4
    return "".join(parts), WIDTH, y
