"""A lesson's notebook as a sheet needs it: its prose, and its exercises in their order. Nothing is run."""

import ast

import nbformat

from jetlib.course.banks import registry as bank
from jetlib.course.pages import contents
from jetlib.errors import JetlibError
from jetlib.units.refusal import cut


def page_of(lesson):
    """The contents' Page of a lesson such as "02". JetlibError that lists them if there is none."""
    known = {page.number: page for page in contents.lessons()}
    if lesson not in known:
        raise JetlibError(f"lesson is {cut(lesson)}; write one of {', '.join(known)}")
    return known[lesson]


def cells(lesson, kind):
    """The text of each cell of a kind ("markdown" or "code") of a lesson's notebook as it is stored, a list."""
    path = contents.LESSONS / f"{page_of(lesson).stem}.ipynb"
    try:
        notebook = nbformat.read(path, as_version=4)
    except (OSError, ValueError, nbformat.reader.NotJSONError, nbformat.ValidationError) as error:
        raise JetlibError(f"{path.name} cannot be read as a notebook ({cut(str(error))}); fetch it anew") from None
    return [cell.source for cell in notebook.cells if cell.cell_type == kind]


def exercises_in_order(lesson):
    """The lesson's exercises as its notebook offers them, then any others of its bank and a
    trainer's own; each once."""
    held = {each.id: each for each in (bank.exercises(lesson, own=True) if lesson in bank.lessons() else ())}
    offered = [name for source in cells(lesson, "code") for name in _offered(source) if name in held]
    return tuple(held[name] for name in dict.fromkeys([*offered, *held]))


def _offered(source):
    """Ids of the exercises that a cell puts on the page."""
    try:
        tree = ast.parse(source)
    except SyntaxError:
        return
    for node in ast.walk(tree):
        match node:
            case ast.Call(func=ast.Name(id="practice"), args=[ast.Constant(value=name), *_]):
                yield name
