"""The pictures of a lesson's consoles, drawn anew in the unit system of the sheet.

A notebook stores its pictures in one unit system. The cell that made one says which console of `jetlib.screen` draws it
and from what plain values; these are read, not run, and the console draws the same state in either system.
"""

import ast
from dataclasses import dataclass

from jetlib.course.pages.consoles import CONSOLES, console


@dataclass(frozen=True)
class Drawing:
    """A console by its name, and the plain values it is given: in order, and as (name, value)."""

    name: str
    values: tuple
    named: tuple

    def html(self, system):
        """The picture as the console shows it at first, an <img>, in "US" or "metric"."""
        make = console(self.name).maker()
        return make(*self.values, **dict(self.named), system=system).picture.image()


def drawing_of(source):
    """The Drawing of a cell whose last line calls a console of the course with plain values; else None."""
    try:
        tree = ast.parse(source)
    except SyntaxError:
        return None
    last = tree.body[-1] if tree.body else None
    call = getattr(last, "value", None) if isinstance(last, ast.Expr) else None
    if not isinstance(call, ast.Call) or getattr(call.func, "id", None) not in CONSOLES:
        return None
    try:
        values = tuple(ast.literal_eval(each) for each in call.args)
        named = tuple((each.arg, ast.literal_eval(each.value)) for each in call.keywords)
    except ValueError:
        return None
    if any(name in (None, "system") for name, _ in named):
        return None
    return Drawing(call.func.id, values, named)
