"""A console with typed lines of text beside its other controls: a rule in words and signs, the path of a file."""

from dataclasses import dataclass
from html import escape

import ipywidgets as widgets

from jetlib.errors import JetlibError
from jetlib.screen.controls.console import Console


@dataclass(frozen=True)
class Line:
    """A line of text. `read(text)` gives its value or raises JetlibError; `start` is a text that can be read.

    after: name of the control it stands under; "" above them all.
    """

    name: str
    label: str
    read: object
    start: str = ""
    hint: str = ""
    after: str = ""


class TypedConsole(Console):
    """A Console with `lines`, a list of Lines, among its controls.

    draw(values, system) finds the value of each line in `values` under its name. A line that cannot be read is marked,
    and the last good picture stands.
    """

    def __init__(self, title, lines, controls, draw, **rest):
        self.lines = {line.name: line for line in lines}
        self.read = {line.name: line.read(line.start) for line in lines}
        self.entries, self.errors = {}, {}
        super().__init__(title, controls, lambda values, system: draw({**values, **self.read}, system), **rest)
        rows = list(self.box.children)
        for line in lines:
            above = self._fields[line.after].box if line.after else self._units
            rows.insert(rows.index(above) + 1, self._row(line))
        self.box.children = rows

    def set(self, **values):
        """Move controls from code, and type lines."""
        typed = {name: value for name, value in values.items() if name in self.lines}
        for name, text in typed.items():
            if self.entries[name].value == text:
                self._typed(name, text)
            else:
                self.entries[name].value = text
        rest = {name: value for name, value in values.items() if name not in typed}
        if rest:
            super().set(**rest)

    def _row(self, line):
        entry = widgets.Text(
            value=line.start,
            description=line.label,
            placeholder=line.hint,
            continuous_update=False,
            style={"description_width": "150px"},
            layout={"width": "760px", "max_width": "100%"},
        )
        error = widgets.HTML()
        entry.observe(lambda change: self._typed(line.name, change["new"]), names="value")
        self.entries[line.name], self.errors[line.name] = entry, error
        return widgets.VBox([entry, error], layout={"max_width": "100%"})

    def _typed(self, name, text):
        try:
            self.read[name] = self.lines[name].read(text)
        except JetlibError as problem:
            self.errors[name].value = _marked(problem)
            return
        self.errors[name].value = ""
        self._redraw()


def _marked(problem):
    ink = "color:var(--jp-error-color1, #b3001e)"
    return f'<span role="alert" style="{ink};line-height:1.3"><b>Not used:</b> {escape(str(problem))}</span>'
