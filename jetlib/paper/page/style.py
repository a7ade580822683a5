"""How a printed page looks: style.css and, piece by piece, pieces.html. Black on white; nothing is told by colour."""

from pathlib import Path

from jetlib.screen.drawing.filled import filled

STYLE = Path(__file__).with_name("style.css").read_text("utf-8")
fill = filled(__file__)


def caution(*lines):
    """The caution box, HTML."""
    return fill("caution", lines=lines)


def table(heads, rows, **look):
    """A table, HTML. rows: of texts, None for a cell to write in; look: what the macro `table` takes."""
    return fill("table", heads=heads, rows=rows, **look)


def paragraphs(words):
    """The paragraphs of plain text, a list; lines of one that stand under one another stay so."""
    return [line.strip() for line in words.split("\n") if line.strip()]
