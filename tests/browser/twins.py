"""The consoles of a page made once more in the test's own process, to say what the page should show."""

import ast
import contextlib
from pathlib import Path

import nbformat

from jetlib.screen.controls.console import Amount, Console, Count

LESSONS = Path(__file__).parents[2] / "lessons"


def twins(stem):
    """The Consoles that a page's code cells show, in order of the page."""
    with contextlib.chdir(LESSONS):  # where a notebook runs
        return _shown(stem)


def _shown(stem):
    names, found = {}, []
    for cell in nbformat.read(LESSONS / f"{stem}.ipynb", 4).cells:
        if cell.cell_type != "code":
            continue
        body = ast.parse(cell.source).body
        last = body.pop() if body and isinstance(body[-1], ast.Expr) else None
        exec(compile(ast.Module(body, []), stem, "exec"), names)
        if last is not None:
            shown = eval(compile(ast.Expression(last.value), stem, "eval"), names)
            if isinstance(shown, Console):
                found.append(shown)
    return found


def title_of(console):
    """The heading of a console, HTML."""
    first = console.box.children[0].value
    return first[first.rindex("<div") :]  # a card for a room has its style before it


def first_slider(console):
    """The first control that has a slider."""
    return next((each for each in console.controls.values() if isinstance(each, Amount | Count)), None)


def between(console, control, share):
    """Text for the entry of a control: `share` of the way from its least to its largest."""
    field = console._fields[control.name]
    value = field.low + share * (field.high - field.low)
    return field.words(round(value) if isinstance(control, Count) else value)
