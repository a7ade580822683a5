"""HTML from macros: what a page or a sheet shows stands in a file of its own, pieces.html, beside what works it out."""

from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined


def filled(module):
    """fill(piece, **values), for the module in this file: HTML (str) of a macro of the pieces.html beside it.

    Every value that is text is escaped; a macro marks as safe what is HTML already.
    """
    loader = FileSystemLoader(Path(module).parent)
    pieces = Environment(loader=loader, autoescape=True, undefined=StrictUndefined, trim_blocks=True)

    def fill(piece, **values):
        return str(getattr(pieces.get_template("pieces.html").module, piece)(**values))

    return fill
