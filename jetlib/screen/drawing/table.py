"""A table of texts on a page, with its plain text twin."""

from dataclasses import dataclass
from html import escape

_SIDES = {"left": "white-space:normal;text-align:left", "right": "white-space:nowrap;text-align:right"}


@dataclass(frozen=True, repr=False)
class Table:
    """A table of texts that shows itself in a notebook; `fold` is the line it is folded away under.

    numbers: the heads of columns that are set to the right. links: those texts of the first column that are headings
    of the page.
    """

    heads: tuple
    rows: tuple
    numbers: tuple = ()
    fold: str = ""
    links: tuple = ()

    def __repr__(self):
        lines = [" | ".join(self.heads), *(" | ".join(row) for row in self.rows)]
        return "\n".join([self.fold, *lines] if self.fold else lines)

    def _repr_html_(self):
        sides = ["right" if head in self.numbers else "left" for head in self.heads]
        head = "".join(
            f'<th scope="col" style="vertical-align:top;white-space:normal;text-align:{side}">{escape(name)}</th>'
            for side, name in zip(sides, self.heads, strict=True)
        )
        body = "".join(f"<tr>{self._cells(row, sides)}</tr>" for row in self.rows)
        table = f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"
        scrolled = f'<div style="overflow-x:auto">{table}</div>'
        if not self.fold:
            return scrolled
        return f'<details><summary style="cursor:pointer">{escape(self.fold)}</summary>{scrolled}</details>'

    def _cells(self, row, sides):
        cells = []
        for number, (side, words) in enumerate(zip(sides, row, strict=True)):
            shown = escape(words).replace("from memory", "<em>from memory</em>")
            if number == 0 and words in self.links:
                shown = f'<a href="#{escape(words.replace(" ", "-"))}">{shown}</a>'
            cells.append(f'<td style="vertical-align:top;{_SIDES[side]}">{shown}</td>')
        return "".join(cells)
