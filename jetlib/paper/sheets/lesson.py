"""A lesson's notebook as pieces to print: prose, and the places of its exercises and predictions."""

import ast
from dataclasses import dataclass

import nbformat

from jetlib.course.banks import registry as bank
from jetlib.course.pages import contents
from jetlib.errors import JetlibError
from jetlib.units.refusal import cut

_OFFERS = ("practice", "prediction")


@dataclass(frozen=True)
class Piece:
    """A piece of a lesson in its order. kind: "prose" (markdown), "practice" or "prediction" (an id)."""

    kind: str
    content: str


def page_of(lesson):
    """The contents' Page of a lesson such as "02". JetlibError that lists them if there is none."""
    known = {page.number: page for page in contents.lessons()}
    if lesson not in known:
        raise JetlibError(f"lesson is {cut(lesson)}; write one of {', '.join(known)}")
    return known[lesson]


def pieces(lesson):
    """The Pieces of a lesson's notebook as it is stored, a tuple; nothing is run."""
    path = contents.LESSONS / f"{page_of(lesson).stem}.ipynb"
    try:
        notebook = nbformat.read(path, as_version=4)
    except (OSError, ValueError, nbformat.reader.NotJSONError, nbformat.ValidationError) as error:
        raise JetlibError(f"{path.name} cannot be read as a notebook ({cut(str(error))}); fetch it anew") from None
    return tuple(piece for cell in notebook.cells for piece in _of_cell(cell))


def exercises_in_order(lesson):
    """The lesson's exercises as its notebook offers them, then any others of its bank and a
    trainer's own; each once."""
    offered = [piece.content for piece in pieces(lesson) if piece.kind == "practice"]
    held = {each.id: each for each in (bank.exercises(lesson, own=True) if lesson in bank.lessons() else ())}
    order = dict.fromkeys(name for name in offered if name in held) | dict.fromkeys(held)
    return tuple(held[name] for name in order)


def _of_cell(cell):
    if cell.cell_type == "markdown":
        yield Piece("prose", cell.source)
    elif cell.cell_type == "code":
        yield from _offers(cell.source)


def _offers(source):
    """What exercises and predictions a cell puts on the page."""
    try:
        tree = ast.parse(source)
    except SyntaxError:
        return
    for node in ast.walk(tree):
        named = isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in _OFFERS
        if named and node.args and isinstance(node.args[0], ast.Constant):
            yield Piece(node.func.id, str(node.args[0].value))
