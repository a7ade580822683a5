"""A table of readings in either unit system, or both, that shows itself in a notebook."""

import html
from dataclasses import dataclass

from jetlib.errors import JetlibError
from jetlib.units import SYSTEMS, text, unit_label
from jetlib.units.refusal import cut


@dataclass(frozen=True, repr=False)
class ReadingsTable:
    """A table of readings, from rows of (label, SI value, kind); shows itself in a notebook.

    system: "US", "metric" or "both". A row whose kind is None shows its value as it is; a value of None is "—". Rows in
    groups of the same names ("idle: gauge", "… flow", "full: gauge", "… flow") are shown crosswise: a row a group.

    >>> ReadingsTable([("gauge", 1e7, "pressure"), ("flow", 5e-4, "flow")], "both")
    gauge  1450 psi   100 bar
    flow   7.93 gpm  30 L/min
    """

    rows: tuple
    system: str = "US"

    def __post_init__(self):
        rows = tuple(self.rows) if isinstance(self.rows, list | tuple) else (self.rows,)
        wrong = next((row for row in rows if not isinstance(row, list | tuple) or len(row) != 3), None)
        if wrong is not None or not isinstance(self.rows, list | tuple):
            raise JetlibError(f'{cut(wrong)} is no row; write ReadingsTable([("gauge", 1e7, "pressure")])')
        object.__setattr__(self, "rows", tuple(tuple(row) for row in rows))
        if not isinstance(self.system, str) or self.system != "both":
            unit_label("flow", self.system)

    def cells(self) -> list:
        """The table as rows of texts: label, then one text for each system."""
        systems = SYSTEMS if self.system == "both" else (self.system,)

        def cell(value, kind, system):
            if value is None:
                return "—"
            return str(value) if kind is None else text(value, kind, system)

        return [(str(label), *(cell(value, kind, each) for each in systems)) for label, value, kind in self.rows]

    def __repr__(self):
        return "\n\n".join(table.text() for table in self._tables()) if self.rows else "no readings"

    def _repr_markdown_(self):
        return "\n\n".join(table.markdown() for table in self._tables())

    def _repr_html_(self):
        return "".join(table.html() for table in self._tables())

    def _tables(self):
        """What is shown: one _Table, or one a unit system where the rows come in groups of the same names."""
        systems = SYSTEMS if self.system == "both" else (self.system,)
        cells, several = self.cells(), len(systems) > 1
        names, heads = _groups([row[0] for row in cells])
        if not names:
            return [_Table(("", *(systems if several else ["reading"])), cells, "jl-in-both" if several else "")]
        tables = []
        for place, system in enumerate(systems, start=1):
            values = iter(row[place] for row in cells)
            rows = [(name, *(next(values) for _ in heads)) for name in names]
            tables.append(_Table((system, *heads), rows, f"jl-in-{system}" if several else "", crosswise=True))
        return tables


@dataclass(frozen=True)
class _Table:
    """Rows of texts under a head, each row with its name first; kind is the class of its HTML."""

    head: tuple
    rows: list
    kind: str
    crosswise: bool = False

    def text(self):
        rows = [self.head, *self.rows] if self.crosswise else self.rows
        widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
        return "\n".join(
            "  ".join([row[0].ljust(widths[0]), *(c.rjust(w) for c, w in zip(row[1:], widths[1:], strict=True))])
            for row in rows
        )

    def markdown(self):
        first, *others = (
            "| " + " | ".join(html.escape(cell).replace("|", "\\|") for cell in row) + " |"
            for row in [self.head, *self.rows]
        )
        return "\n".join([first, "|---|" + "---:|" * (len(self.head) - 1), *others])

    def html(self):
        lines = [_html_row(row) for row in self.rows]
        if self.kind or self.crosswise:
            lines.insert(0, _html_row(self.head, head=True))
        return f"<table{f' class={self.kind!r}' if self.kind else ''}>{''.join(lines)}</table>"


def _html_row(cells, head=False):
    first, *others = (html.escape(cell) for cell in cells)
    scope, tag, own = ("col", "th", " scope='col'") if head else ("row", "td", "")
    name = f"<th scope='{scope}' style='text-align:left'>{first}</th>" if first else "<td></td>"
    return f"<tr>{name}{''.join(f'<{tag}{own} style=text-align:right>{cell}</{tag}>' for cell in others)}</tr>"


def _groups(labels):
    """Names and heads of like groups, from labels as "70 % throttle: gauge", "… out of the nozzle"; else ((), ())."""
    groups = []
    for label in labels:
        if label.startswith("… ") and groups:
            groups[-1].append(label.removeprefix("… "))
        else:
            groups.append(list(label.rpartition(": ")[::2]))
    heads = {tuple(heads) for _, *heads in groups}
    alike = len(groups) > 1 and len(heads) == 1 and len(groups[0]) > 2 and all(name for name, *_ in groups)
    return (tuple(name for name, *_ in groups), heads.pop()) if alike else ((), ())
