"""A Diagnosis drawn: causes as bars, what was read beside what the likeliest would show, the best further checks."""

import numpy as np

from jetlib.rig.diagnosis.checks import check_of
from jetlib.rig.diagnosis.diagnosis import minutes_words
from jetlib.screen.drawing.chart import text
from jetlib.screen.drawing.grid import grid
from jetlib.screen.drawing.picture import stacked
from jetlib.screen.drawing.table import Table
from jetlib.units import text as words_of

_WIDTH, _LINE = 760, 24
_MOST_CAUSES, _MOST_CHECKS = 8, 4
_LONGEST = 76  # signs that fit beside a bar, in bold
_LEAST = 0.005  # a cause less likely than this is not drawn, unless it is among the first three
_MOST_NAMED = 6  # causes in question up to which the words say what the next check would show for each
_NO_USE = "no single check would tell you much more"


def diagnosis_picture(diagnosis, system):
    """The Picture of a Diagnosis."""
    rows = [_causes(diagnosis)]
    if diagnosis.readings:
        rows.append(_read_against(diagnosis, system))
    rows.append(_checks(diagnosis))
    return stacked(diagnosis_words(diagnosis), *rows)


def steps_table(steps: dict, count: int = 6) -> Table:
    """A Table of how likely each of the first `count` causes is after each step; steps: {heading: Diagnosis}."""
    first = next(iter(steps.values()))
    rows = [
        (_short(cause), *(percent_words(step.probability(cause.name)) for step in steps.values()))
        for cause in first.causes[:count]
    ]
    checks = (step.next_check.label if step.next_check else "none would tell much more" for step in steps.values())
    return Table(("cause", *steps), (*rows, ("best next check", *checks)))


def _short(cause):
    short = cause.fault.short.removesuffix(" (do not touch it)")
    return f"{short}; do not touch it" if cause.fault.name.startswith("valve") else short


def diagnosis_words(diagnosis):
    """What a Diagnosis says, as one text: no list of what the next check would show while nearly all is open."""
    if not diagnosis.readings:
        return f"{diagnosis.sentences[0]} A good first check: {diagnosis.next_check.label}."
    check, words = diagnosis.next_check, " ".join(diagnosis.sentences)
    if check is not None and len(diagnosis.tied) > _MOST_NAMED:
        words = words.replace(f" {check.outcomes}", "")
    return words


def _causes(diagnosis):
    """The likeliest causes as bars: (content, width, height)."""
    if diagnosis.readings and not diagnosis.fits:
        return text(14, 18, "These readings fit nothing on the list, so nothing gets a bar", weight="bold"), _WIDTH, 30
    tied = {cause.name for cause in diagnosis.tied} if diagnosis.readings else set()
    title = "Causes, likeliest first"
    if len(tied) > 1:
        title += ": those with a filled bar can't be told apart with these readings"
    parts = [text(14, 18, title, weight="bold")]
    shown = [cause for at, cause in enumerate(diagnosis.causes) if at < 3 or cause.probability >= _LEAST][:_MOST_CAUSES]
    for number, cause in enumerate(shown):
        y = 40 + _LINE * number
        short = _short(cause)
        known = diagnosis.readings and cause.fault.low < cause.fault.high
        words = f"{short} ({cause.fault.measured(cause.severity)})" if known else short
        words = words if len(words) <= _LONGEST else short
        parts.append(_bar(y, cause.probability, percent_words(cause.probability), words, cause.name in tied))
    y = 40 + _LINE * len(shown)
    parts.append(_bar(y, diagnosis.unlisted, percent_words(diagnosis.unlisted), "something not on this list", False))
    return "".join(parts), _WIDTH, y + _LINE


def percent_words(probability):
    """A probability in words; nothing is certain, and nothing ruled out: "> 99 %", "< 1 %"."""
    if 0.005 <= probability < 0.995:
        return f"{100 * probability:.0f} %"
    return "> 99 %" if probability > 0.5 else "< 1 %"


def _checks(diagnosis):
    """The best further checks as bars, or what to read again: (content, width, height)."""
    if diagnosis.read_again:
        lines = [
            f"{at}. {each.label}, {minutes_words(check_of(each))}" for at, each in enumerate(diagnosis.read_again, 1)
        ]
        parts = [text(14, 22, "Read again before anything else", weight="bold")]
        parts += [text(14, 22 + _LINE * at, line) for at, line in enumerate(lines, start=1)]
        return "".join(parts), _WIDTH, 34 + _LINE * len(lines)
    if diagnosis.next_check is None:
        return text(14, 22, f"Next check: {_NO_USE}", weight="bold"), _WIDTH, 34
    checks = diagnosis.first_checks(_MOST_CHECKS)[:_MOST_CHECKS]
    chances = np.array([*(cause.probability for cause in diagnosis.causes), diagnosis.unlisted])
    doubt = -float(np.sum(chances * np.log2(np.maximum(chances, 1e-12))))
    parts = [text(14, 22, "Next check: how much of the doubt each is expected to settle", weight="bold")]
    for number, check in enumerate(checks):
        y, words = 44 + _LINE * number, f"{check.label}, {minutes_words(check.check)}"
        parts.append(_bar(y, check.bits / doubt, percent_words(check.bits / doubt), words, number == 0))
    return "".join(parts), _WIDTH, 44 + _LINE * len(checks)


def _bar(y, share, figure, words, full):
    """A bar of `share` with its figure before and its words behind it; hollow unless `full`."""
    wide = max(130.0 * share, 1.0)
    look = 'class="jl-ink-blue" fill-opacity="0.75"' if full else 'fill="none"'
    box = f'<rect x="66" y="{y - 12}" width="{wide:.1f}" height="15" {look}/>'
    edge = f'<rect class="jl-line-blue" x="66" y="{y - 12}" width="{wide:.1f}" height="15" fill="none"/>'
    weight = "bold" if full else "normal"
    return box + edge + text(58, y, figure, anchor="end", weight=weight) + text(206, y, words, weight=weight)


def _read_against(diagnosis, system):
    """What was read beside what the likeliest cause would show: (content, width, height)."""
    rows, top = [], diagnosis.top
    for reading, value, off in zip(diagnosis.readings, top.predicted, top.residuals, strict=True):
        if reading.kind:
            read = words_of(reading.value, reading.kind, system)
            shown = words_of(max(value, 0.0), reading.kind, system)
        else:
            read, shown = reading.shown, f"{100 * value:.0f} % likely"
        rows.append((reading.label, read, shown, "fits" if abs(off) < 2.0 else "does not fit"))
    heads = ("reading", ">read", ">likeliest cause would show", "")
    content, width, height = grid(heads, rows, (14, 360, 600, 624), width=_WIDTH)
    return f'<g transform="translate(0 14)">{content}</g>', width, height + 14
