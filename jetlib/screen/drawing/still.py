"""A matplotlib figure that stands still on a page: sharp at any size, with the words that say the same."""

import base64
import io
from dataclasses import dataclass
from html import escape

import matplotlib
from matplotlib.figure import Figure


@dataclass(frozen=True)
class Still:
    """A picture as SVG text, and `words`: what it shows, for those who hear the page and for the stored plain text."""

    svg: str
    words: str

    def _repr_mimebundle_(self, include=None, exclude=None):
        data = base64.b64encode(self.svg.encode()).decode()
        image = f'<img style="max-width:100%" alt="{escape(self.words)}" src="data:image/svg+xml;base64,{data}">'
        return {"text/plain": self.words, "text/html": image}


def still(figure: Figure, words: str) -> Still:
    """The Still of a finished figure; `words` say in a sentence or two what it shows. pyplot forgets the figure."""
    text = io.StringIO()
    with matplotlib.rc_context({"svg.hashsalt": "jetlib", "svg.fonttype": "path"}):
        figure.savefig(text, format="svg", metadata={"Date": None})
    import matplotlib.pyplot as plt  # only where somebody draws with it

    plt.close(figure)
    return Still(text.getvalue(), words)
