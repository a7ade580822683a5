"""A console with typed lines of text beside its other controls: a rule in words and signs, the path of a file."""

from dataclasses import dataclass

from jetlib.screen.controls.console import Console
from jetlib.screen.controls.fields import ReadField


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
        self.fields = {line.name: self._field(line) for line in lines}
        self.entries = {name: field.entry for name, field in self.fields.items()}
        self.errors = {name: field.error for name, field in self.fields.items()}
        super().__init__(title, controls, lambda values, system: draw({**values, **self.read}, system), **rest)
        for line in lines:
            box = self._fields[line.after].box if line.after else self.box.children[0]
            into = self._rows if box in self._rows.children else self.box
            above = into.children.index(box)
            into.children = (*into.children[: above + 1], self.fields[line.name].box, *into.children[above + 1 :])

    def set(self, **values):
        """Move controls from code, and type lines."""
        typed = {name: value for name, value in values.items() if name in self.lines}
        for name, text in typed.items():
            self.fields[name].put(text)
        rest = {name: value for name, value in values.items() if name not in typed}
        if rest:
            super().set(**rest)

    def _field(self, line):
        return ReadField(
            line.label, line.read, lambda value: self._taken(line.name, value), system=lambda: self.system,
            beside=False, value=line.start, hint=line.hint, width="760px",
        )  # fmt: skip

    def _taken(self, name, value):
        self.read[name] = value
        self._redraw()
