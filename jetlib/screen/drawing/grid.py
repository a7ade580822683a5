"""Words as SVG: a table with a row of headings, one row marked, others crossed out; sentences that keep to a width."""

from textwrap import wrap

from jetlib.screen.drawing.chart import NARROW, text, texts
from jetlib.screen.drawing.picture import with_narrow

_LINE, _TOP, _SHORT = 22, 18, 17
_LETTERS = 56  # of size 12 that fit a phone


def grid(heads, rows, lefts, *, width, chosen=None, refused=()):
    """A table as a tile for `picture.stacked`; a phone shows each row as a few lines.

    heads: words over each column. rows: rows of words. lefts: where each column begins, pixels; a column whose heading
    begins with ">" ends there instead. chosen: number of the row to mark with a bar and bold type. refused: numbers of
    the rows to grey; what is against them must stand in their words too.
    """
    places = [(left, "end" if head.startswith(">") else "start") for head, left in zip(heads, lefts, strict=True)]
    names = [head.removeprefix(">") for head in heads]
    parts = [_cell(name, place, 14, weight="bold", size=11) for name, place in zip(names, places, strict=True)]
    parts.append(f'<path d="M{min(lefts) - 8} {_TOP + 3}H{width - 10}" stroke="currentColor" stroke-width="1"/>')
    for number, row in enumerate(rows):
        y = _TOP + (number + 1) * _LINE - 3
        weight = "bold" if number == chosen else "normal"
        colour = "grey" if number in refused else ""
        if number == chosen:
            box = f'x="{min(lefts) - 8}" y="{y - 15}" width="{width - 2 - min(lefts)}" height="{_LINE - 2}"'
            parts.append(f'<rect class="jl-ink-blue" fill-opacity="0.16" {box}/>')
        for words, place in zip(row, places, strict=True):
            parts.append(_cell(words, place, y, weight=weight, colour=colour))
    broad = f'<g class="jl-cells">{"".join(parts)}</g>', width, _TOP + _LINE * len(rows) + 8
    return *broad, as_lines(names, rows, chosen, refused)


def as_lines(names, rows, chosen=None, refused=()):
    """The same for a phone: (content, width, height). What has no heading belongs to what stands before it."""
    parts, y = [], 0
    if not rows:
        return text(14, 16, names[0], weight="bold"), NARROW, 26
    for number, row in enumerate(rows):
        colour, top = "grey" if number in refused else "", y
        told = []
        for at, (name, words) in enumerate(zip(names, row, strict=True)):
            if at == 0 or (not name and not told[1:]):
                told[:1] = [", ".join(filter(None, [*told[:1], words]))]
            elif name and words:
                told.append(f"{name}{':' * words[0].isalpha()} {words}")
            elif words:
                told[-1] += f" ({words})"
        for at, line in enumerate([*wrap(told[0], _LETTERS), *folded(told[1:], _LETTERS)]):
            y += _SHORT if at else _LINE
            parts.append(text(14, y, line, colour=colour, weight="normal" if at else "bold"))
        if number == chosen:
            parts.append(f'<rect class="jl-ink-blue" x="4" y="{top + 6}" width="4" height="{y - top}"/>')
        y += 4
    return "".join(parts), NARROW, y + 8


def across(words, x, y, room, letter, step=_SHORT, **look):
    """(SVG, height) of words on as many lines as they take in `room` pixels, the first at picture x, y.

    letter: how wide one is reckoned. look: what `text` takes.
    """
    lines = wrap(words, int(room / letter))
    return texts(x, y, lines, step, **look), step * len(lines)


def notice(words, width, *, colour="red", weight="bold"):
    """A tile of words across the picture, over as many lines as they take."""

    def drawn(width):
        letter = 7.6 if weight == "bold" else 6.4
        told, tall = across(words, 14, 16, width - 28, letter, colour=colour, weight=weight)
        return told, width, 7 + tall

    return with_narrow(drawn, width)


def banner(heading, words, colour, width):
    """A tile: a bar of `colour` with a heading, and `words` under it; over as many lines as they take."""

    def drawn(width):
        head, tall = across(heading, 30, 23, width - 50, 10, 18, colour=colour, size=15, weight="bold")
        told, more = across(words, 30, tall + 23, width - 50, 6.2)
        y = tall + 5 + more + bool(more)
        box = f'<rect class="jl-ink-{colour}" x="8" y="4" height="{y + 3}"'
        return f'{box} width="{width - 16}" fill-opacity="0.16"/>{box} width="7"/>{head}{told}', width, y + 15

    return with_narrow(drawn, width)


def folded(pieces, letters):
    """Lines of `pieces` of text beside one another, none longer than so many letters if that can be."""
    lines = [""]
    for piece in pieces:
        if lines[-1] and len(lines[-1]) + len(piece) + 3 > letters:
            lines.append("")
        lines[-1] += f"{' · ' if lines[-1] else ''}{piece}"
    return [short for line in lines for short in wrap(line, letters)]


def _cell(words, place, y, *, weight="normal", colour="", size=12):
    x, anchor = place
    return text(x, y, words, anchor=anchor, weight=weight, colour=colour, size=size)
