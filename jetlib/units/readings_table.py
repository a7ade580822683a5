"""A table of readings in either unit system, or both, that shows itself in a notebook."""

import html
from dataclasses import dataclass

from jetlib.errors import JetlibError
from jetlib.units import SYSTEMS, text, unit_label
from jetlib.units.refusal import cut


@dataclass(frozen=True, repr=False)
class ReadingsTable:
    """A table of readings, from rows of (label, SI value, kind); shows itself in a notebook.

    system: "US", "metric" or "both". A row whose kind is None shows its value as it is; a value of None is "—".

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
        return [(str(label), *(_cell(value, kind, each) for each in systems)) for label, value, kind in self.rows]

    def __repr__(self):
        cells = self.cells()
        if not cells:
            return "no readings"
        widths = [max(map(len, column)) for column in zip(*cells, strict=True)]
        return "\n".join(
            "  ".join([row[0].ljust(widths[0]), *(c.rjust(w) for c, w in zip(row[1:], widths[1:], strict=True))])
            for row in cells
        )

    def _repr_markdown_(self):
        heads = list(SYSTEMS) if self.system == "both" else ["reading"]
        lines = ["| | " + " | ".join(heads) + " |", "|---|" + "---:|" * len(heads)]
        lines += [
            "| " + " | ".join(html.escape(cell).replace("|", "\\|") for cell in row) + " |" for row in self.cells()
        ]
        return "\n".join(lines)

    def _repr_html_(self):
        lines = []
        if self.system == "both":
            lines.append("<tr><td></td>" + "".join(f'<th scope="col">{each}</th>' for each in SYSTEMS) + "</tr>")
        for label, *cells in self.cells():
            data = "".join(f'<td style="text-align:right">{html.escape(cell)}</td>' for cell in cells)
            lines.append(f'<tr><th scope="row" style="text-align:left">{html.escape(label)}</th>{data}</tr>')
        return f"<table>{''.join(lines)}</table>"


def _cell(value, kind, system):
    if value is None:
        return "—"
    return str(value) if kind is None else text(value, kind, system)
