"""A Diagnosis drawn: causes as bars, what was read beside what the likeliest would show, the best further checks."""

import numpy as np

from jetlib.rig.diagnosis.checks import check_of
from jetlib.screen.drawing.chart import NARROW, text
from jetlib.screen.drawing.grid import across, grid
from jetlib.screen.drawing.picture import stacked, with_narrow
from jetlib.screen.drawing.table import Table
from jetlib.units import text as words_of

_WIDTH, _LINE, _NEXT = 760, 24, 17  # pixels: next, of a line to the next of the same words
_MOST_CAUSES, _MOST_CHECKS = 8, 4
_LONGEST = 76  # signs that fit beside a bar, in bold
_LEAST = 0.005  # a cause less likely than this is not drawn, unless it is among the first three
_MOST_NAMED = 6  # causes in question up to which the words say what the next check would show for each
_NO_USE = "no single check would tell you much more"


def diagnosis_picture(diagnosis, system):
    """The Picture of a Diagnosis."""
    rows = [with_narrow(lambda width: _causes(diagnosis, width), _WIDTH)]
    if diagnosis.readings:
        rows.append(_read_against(diagnosis, system))
    rows.append(with_narrow(lambda width: _checks(diagnosis, width), _WIDTH))
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


def _causes(diagnosis, width):
    """The likeliest causes as bars: (content, width, height)."""
    if diagnosis.readings and not diagnosis.fits:
        return _told("These readings fit nothing on the list, so nothing gets a bar", 18, width)[0], width, 48
    tied = {cause.name for cause in diagnosis.tied} if diagnosis.readings else set()
    title = "Causes, likeliest first"
    if len(tied) > 1:
        title += ": those with a filled bar can't be told apart with these readings"
    told, tall = _told(title, 18, width)
    parts, y = [told], 24 + tall - _NEXT
    shown = [cause for at, cause in enumerate(diagnosis.causes) if at < 3 or cause.probability >= _LEAST][:_MOST_CAUSES]
    for cause in shown:
        short = _short(cause)
        known = diagnosis.readings and cause.fault.low < cause.fault.high
        words = f"{short} ({cause.fault.measured(cause.severity)})" if known else short
        words = words if len(words) <= _LONGEST else short
        y = _bar(parts, y, cause.probability, words, cause.name in tied, width)
    y = _bar(parts, y, diagnosis.unlisted, "something not on this list", False, width)
    return "".join(parts), width, y + 8


def percent_words(probability):
    """A probability in words; nothing is certain, and nothing ruled out: "> 99 %", "< 1 %"."""
    if 0.005 <= probability < 0.995:
        return f"{100 * probability:.0f} %"
    return "> 99 %" if probability > 0.5 else "< 1 %"


def _checks(diagnosis, width):
    """The best further checks as bars, or what to read again: (content, width, height)."""
    if diagnosis.read_again:
        parts, y = [text(14, 22, "Read again before anything else", weight="bold")], 22
        for at, each in enumerate(diagnosis.read_again, 1):
            told, tall = _told(f"{at}. {each.label}, {check_of(each).cost}", y + _LINE, width, "normal")
            parts.append(told)
            y += _LINE + tall - _NEXT
        return "".join(parts), width, y + 12
    if diagnosis.next_check is None:
        return text(14, 22, f"Next check: {_NO_USE}", weight="bold"), width, 34
    checks = diagnosis.first_checks(_MOST_CHECKS)[:_MOST_CHECKS]
    chances = np.array([*(cause.probability for cause in diagnosis.causes), diagnosis.unlisted])
    doubt = -float(np.sum(chances * np.log2(np.maximum(chances, 1e-12))))
    told, tall = _told("Next check: how much of the doubt each is expected to settle", 22, width)
    parts, y = [told], 28 + tall - _NEXT
    for number, check in enumerate(checks):
        words = f"{check.label}, {check.check.cost}"
        y = _bar(parts, y, check.bits / doubt, words, number == 0, width)
    return "".join(parts), width, y + 4


def _told(words, y, width, weight="bold"):
    return across(words, 14, y, width - 28, 6.9 if weight == "bold" else 6.2, _NEXT, weight=weight)


def _bar(parts, y, share, words, full, width):
    """Put a bar of `share` to parts, under `y`, with its figure before and its words behind it, or below it where there
    is no room; hollow unless `full`. Returns where it ends.
    """
    y, wide = y + 16, max(130.0 * share, 1.0)
    look = 'class="jl-ink-blue" fill-opacity="0.75"' if full else 'fill="none"'
    weight = "bold" if full else "normal"
    parts += [
        f'<rect x="66" y="{y - 12}" width="{wide:.1f}" height="15" {look}/>',
        f'<rect class="jl-line-blue" x="66" y="{y - 12}" width="{wide:.1f}" height="15" fill="none"/>',
        text(58, y, percent_words(share), anchor="end", weight=weight),
    ]
    if width > NARROW:
        parts.append(text(206, y, words, weight=weight))
        return y + _LINE - 16
    told, tall = _told(words, y + 20, width, weight)
    parts.append(told)
    return y + 24 + tall - _NEXT


def _read_against(diagnosis, system):
    """What was read beside what the likeliest cause would show, a tile."""
    rows, top = [], diagnosis.top
    for reading, value, off in zip(diagnosis.readings, top.predicted, top.residuals, strict=True):
        if reading.kind:
            read = words_of(reading.value, reading.kind, system)
            shown = words_of(max(value, 0.0), reading.kind, system)
        else:
            read, shown = reading.shown, f"{100 * value:.0f} % likely"
        rows.append((reading.label, read, shown, "fits" if abs(off) < 2.0 else "does not fit"))
    heads = ("reading", ">read", ">likeliest cause would show", "")
    return grid(heads, rows, (14, 360, 600, 624), width=_WIDTH)
