"""Files handed over: a link that hands one to the browser, wherever the kernel runs; a table written where asked."""

from base64 import b64encode
from html import escape

from jetlib.errors import JetlibError
from jetlib.units.refusal import page_words

_KINDS = {
    ".html": "text/html",
    ".pdf": "application/pdf",
    ".toml": "application/toml",
    ".json": "application/json",
}
_MOST_BYTES = 12_000_000  # in a link that holds the file itself


def link(path):
    """HTML of the link to the file at a Path, of one of these kinds; "" where it can't be."""
    try:
        data = path.read_bytes()
    except OSError:
        return ""
    if len(data) > _MOST_BYTES or path.suffix not in _KINDS:
        return ""
    address = f"data:{_KINDS[path.suffix]};base64,{b64encode(data).decode('ascii')}"
    name = escape(path.name, quote=True)
    return f'<div><a download="{name}" href="{address}" style="text-decoration:underline">Get {name}</a></div>'


def saved(place, write, where):
    """(words, status) of `write(place)`, which gives the Path it wrote; where: words before that path."""
    if not place.strip():
        return "Not saved: write the name of a file or a folder first.", "wrong"
    try:
        return f"{where} {write(place.strip())}.", ""
    except JetlibError as error:
        return f"Not saved: {page_words(error)}", "wrong"
