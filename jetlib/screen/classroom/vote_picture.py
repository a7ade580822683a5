"""The picture of a vote: question, numbered options, a bar for each, in type that the last row can read."""

from itertools import pairwise
from math import log10
from textwrap import wrap

from jetlib.course.classroom.vote import gain_words
from jetlib.course.classroom.vote_file import STAGES
from jetlib.screen.drawing.chart import text
from jetlib.screen.drawing.filled import filled
from jetlib.screen.drawing.picture import Picture

_fill = filled(__file__)
WIDTH = 920
# Of a picture that fills a projected page 768 high, 31 is a 25th of the height.
_SIZES = (36, 34, 32, 30, 28, 26, 24, 22)
_TALLEST = 640
_CHAR = 0.59  # mean width of a letter, of its size, in the widest type that a machine may put here
_BADGE, _LEFT, _BARS = 46, 66, 440
_LOOKS = (("blue", 45), ("orange", 135), ("green", 90), ("purple", 0), ("red", 20))  # colour, slope of the hatching


def vote_picture(asked, vote, system, *, hidden=False):
    """The Picture of a Question and the Vote on it. hidden: no bars before the answer is shown."""
    answered = vote.stage == STAGES[2]
    bars = answered or not hidden
    for size in _SIZES:
        content, height = _laid_out(asked, vote, system, size, bars, answered)
        if height <= _TALLEST:
            break
    return Picture(_patterns() + content, WIDTH, round(height + 6), _words(asked, vote, system, bars, answered))


def _lines(words, size, left):
    return wrap(words.replace("\n", " "), int((WIDTH - left - 14) / (_CHAR * size))) or [""]


def _laid_out(asked, vote, system, size, bars, answered):
    """(SVG, height) with the question and its options in type of `size`."""
    step, y, parts = 1.22 * size, 0.0, []
    for line in _lines(asked.ask(system), size, 10):
        y += step
        parts.append(text(10, y, line, size=size))
    parts.append(f'<path d="M10 {y + 14:.1f}H{WIDTH - 10}" stroke="currentColor" stroke-width="2"/>')
    y += 26
    most = max((*vote.first, *vote.second, 1))
    for at, words in enumerate(asked.options(system)):
        top, right = y, answered and at == asked.right
        parts.append(_badge(at, top + 3, right))
        for line in _lines(words, size, _LEFT):
            y += step
            parts.append(text(_LEFT, y - 0.22 * size, line, size=size, weight="bold" if right else "normal"))
        if bars:
            parts.append(_bars(at, y + 4, vote, most))
        y += 44
        if right:
            # Beside the bar: an option's words may be as long as the picture is wide.
            parts.append(text(WIDTH - 16, y - 17, "✔ right", size=30, weight="bold", anchor="end", colour="green"))
            box = f'x="3" y="{top - 5:.1f}" width="{WIDTH - 6}" height="{y - top - 2:.1f}"'
            parts.append(f'<rect {box} rx="8" fill="none" class="jl-line-green" stroke-width="4"/>')
    return "".join(parts), y


def _badge(at, y, right):
    """The option's number in a ring."""
    middle = y + _BADGE / 2
    ring = f'<circle cx="{10 + _BADGE / 2}" cy="{middle}" r="{_BADGE / 2 - 2}" fill="none" stroke="currentColor"'
    words = text(10 + _BADGE / 2, middle + 11, str(at + 1), size=30, weight="bold", anchor="middle")
    return f'{ring} stroke-width="{5 if right else 2.5}"/>{words}'


def _bars(at, y, vote, most):
    """The first vote as an outline above the second, which is hatched; alone it is hatched itself."""
    colour, _ = _LOOKS[at]
    parts, tallies = [], [(vote.first, True), (vote.second, False)] if vote.second else [(vote.first, False)]
    high = 28 / len(tallies)
    for number, (tally, faint) in enumerate(tallies):
        top, wide = y + number * high, _BARS * tally[at] / most
        look = f'class="jl-line-{colour}" stroke-width="2.5" x="{_LEFT}" y="{top:.1f}" height="{high - 3:.1f}"'
        fill = 'fill="none" stroke-dasharray="6 4"' if faint else f'fill="url(#jl-vote-{at})"'
        parts.append(f'<rect {look} width="{max(wide, 1.5):.1f}" {fill}/>')
    parts.append(text(_LEFT + _BARS + 8, y + 23, _count_words(vote, at), size=27, weight="bold"))
    return "".join(parts)


def _count_words(vote, at):
    """ "7, 58 %", or "3 → 7" once there are two votes."""
    now, share = vote.now[at], f"({100.0 * vote.now[at] / max(vote.votes, 1):.0f} %)"
    if vote.second:
        return f"{vote.first[at]} → {now}  {share}"
    return f"{now}  {share}" if vote.votes else "0"


def _patterns():
    """A hatching of its own for each option, so that bars are told apart without colour."""
    made = []
    for at, (colour, slope) in enumerate(_LOOKS):
        line = f'<path d="M0 4H8" class="jl-line-{colour}" stroke-width="{3 + at % 2}"/>'
        turn = f'patternUnits="userSpaceOnUse" width="8" height="8" patternTransform="rotate({slope})"'
        made.append(f'<pattern id="jl-vote-{at}" {turn}>{line}</pattern>')
    return f"<defs>{''.join(made)}</defs>"


def _words(asked, vote, system, bars, answered):
    options = asked.options(system)
    listed = " ".join(f"{at + 1}: {words.rstrip('.')}." for at, words in enumerate(options))
    said = f"{asked.ask(system)} {listed}"
    if bars and vote.votes:
        said += f" {tally_words(vote)}"
    if answered:
        said += f" Right is {asked.right + 1}: {options[asked.right].rstrip('.')}."
    return said.replace("\n", " ")


def tally_words(vote):
    """The tallies in words: "2 for 1, 5 for 2.", and both when there are two."""
    listed = [", ".join(f"{hands} for {at + 1}" for at, hands in enumerate(each)) for each in (vote.first, vote.second)]
    return f"At first {listed[0]}; after the talk {listed[1]}." if vote.second else f"{listed[0]}."


# --- the numbers on a line --------------------------------------------------------------------------


def line_picture(asked, system):
    """The Picture of a question's numbers on one line, the right one and what each mistake leads to; None for words."""
    if not asked.values:
        return None
    ends = min((*asked.values, asked.answer)), max((*asked.values, asked.answer))
    scale = log10 if ends[0] > 0 and ends[1] / ends[0] > 6.0 else float
    low, high = map(scale, ends)

    def x(value):
        return 60 + (scale(value) - low) / (high - low or 1.0) * (WIDTH - 120)

    marks = [x(value) for value in asked.values]
    edges, reach = [30, *marks, WIDTH - 30], "58V90" if asked.in_bands else "64V84"
    tags = [(one + other) / 2 for one, other in pairwise(edges)] if asked.in_bands else marks
    parts = [f'<path d="M30 74H{WIDTH - 30}" stroke="currentColor" stroke-width="2.5"/>']
    parts += [f'<path d="M{at:.1f} {reach}" stroke="currentColor" stroke-width="3"/>' for at in marks]
    parts += [
        text(at, 118, str(number), size=28, weight="bold", anchor="middle") for number, at in enumerate(tags, start=1)
    ]
    place = x(asked.answer)
    parts.append(f'<path class="jl-ink-green" d="M{place:.1f} 72l-13 -24h26z"/>')
    said = asked.why(system).split("\n")[0] if asked.in_bands else asked.options(system)[asked.right]
    anchor = "start" if place < 220 else "end" if place > WIDTH - 220 else "middle"
    parts.append(text(place, 36, said, size=30, weight="bold", anchor=anchor, colour="green"))
    words = f"The options on a line, the right one marked: {said}"
    if scale is log10:
        steps = "Each step to the right is so many times more."
        parts.append(text(WIDTH - 30, 146, steps, size=18, anchor="end"))
        words += f" {steps}"
    return Picture("".join(parts), WIDTH, 154, words)


def on_stage(asked, vote, system, *, hidden=False):
    """HTML of a question, its options and the hands for each; once the answer is shown, of that and why."""
    options = asked.options(system)
    if vote.stage == STAGES[2]:
        first, second = vote.shares(asked.right)
        lines = asked.why(system).split("\n")
        if first is not None:
            lines.insert(0, gain_words(first, second) if second is not None else f"Right: {100 * first:.0f} %.")
        return _fill("answer", number=asked.right + 1, option=options[asked.right], lines=lines)
    told = () if hidden or not vote.votes else [_count_words(vote, at) for at in range(len(options))]
    most = max((*vote.first, *vote.second))
    return _fill("options", ask=asked.ask(system), options=options, hands=vote.now, told=told, most=most)
