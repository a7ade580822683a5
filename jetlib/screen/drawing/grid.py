"""A table as SVG: a row of headings over rows of words, one row marked, others crossed out."""

from jetlib.screen.drawing.chart import text

_LINE, _TOP = 22, 18


def grid(heads, rows, lefts, *, width, chosen=None, refused=()):
    """(content, width, height) of a table for `picture.stacked`.

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
    return f'<g class="jl-cells">{"".join(parts)}</g>', width, _TOP + _LINE * len(rows) + 8


def _cell(words, place, y, *, weight="normal", colour="", size=12):
    x, anchor = place
    return text(x, y, words, anchor=anchor, weight=weight, colour=colour, size=size)
