"""The pictures of a lesson's consoles, drawn anew in the unit system of the sheet.

A notebook stores its pictures in one unit system. The cell that made one says which console of `jetlib.screen` draws it
and from what plain values; these are read, not run, and the console draws the same state in either system.
"""

import ast
import importlib
from dataclasses import dataclass

_HOME = "jetlib.screen"


@dataclass(frozen=True)
class Drawing:
    """A console by `module` and `name`, and the plain values it is given: in order, and as (name, value)."""

    module: str
    name: str
    values: tuple
    named: tuple

    def html(self, system):
        """The picture as the console shows it at first, an <img>, in "US" or "metric"."""
        console = getattr(importlib.import_module(self.module), self.name)
        return console(*self.values, **dict(self.named), system=system).picture.image()


def consoles_in(sources):
    """{name: module} of everything that cells' sources import from the consoles' room."""
    found = {}
    for source in sources:
        for node in ast.walk(_parsed(source)):
            if isinstance(node, ast.ImportFrom) and node.module == _HOME:
                found |= {each.name: node.module for each in node.names if each.name.endswith("_console")}
    return found


def drawing_of(source, known):
    """The Drawing of a cell whose last line calls one of the `known` consoles with plain values; else None."""
    tree = _parsed(source)
    last = tree.body[-1] if tree.body else None
    call = getattr(last, "value", None) if isinstance(last, ast.Expr) else None
    if not isinstance(call, ast.Call) or getattr(call.func, "id", None) not in known:
        return None
    try:
        values = tuple(ast.literal_eval(each) for each in call.args)
        named = tuple((each.arg, ast.literal_eval(each.value)) for each in call.keywords)
    except ValueError:
        return None
    if any(name in (None, "system") for name, _ in named):
        return None
    return Drawing(known[call.func.id], call.func.id, values, named)


def _parsed(source):
    try:
        return ast.parse(source)
    except SyntaxError:
        return ast.parse("")
