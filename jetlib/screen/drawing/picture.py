"""A picture as SVG: for the live page, and as a stored one that shows with nothing run."""

import base64
from dataclasses import dataclass
from html import escape

from jetlib.screen.drawing.theme import style_sheet


@dataclass(frozen=True)
class Picture:
    """SVG `content` of `width` x `height` pixels, and `words`: the sentence of numbers that says the same."""

    content: str
    width: int
    height: int
    words: str

    def svg(self):
        """The live picture: takes its ink from the page, so that it suits the light and the dark theme."""
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
            f'viewBox="0 0 {self.width} {self.height}" width="100%" role="img" aria-label="{escape(self.words)}" '
            f'style="max-width:{1.25 * self.width:.0f}px;min-width:{0.75 * self.width:.0f}px;'
            f'color:var(--jp-ui-font-color1, #1a1a1a)">'
            f"{style_sheet()}{self.content}</svg>"
        )

    def image(self):
        """The stored picture: an <img> on white with alt text, which a notebook may show before anybody trusts it."""
        svg = (
            f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
            f'viewBox="0 0 {self.width} {self.height}" width="{self.width}" height="{self.height}" '
            f'style="background:#ffffff;color:#1a1a1a">{style_sheet()}'
            f'<rect width="100%" height="100%" fill="#ffffff"/>{self.content}</svg>'
        )
        data = base64.b64encode(svg.encode()).decode()
        return f'<img width="{self.width}" alt="{escape(self.words)}" src="data:image/svg+xml;base64,{data}">'

    def _repr_mimebundle_(self, include=None, exclude=None):
        return {"text/plain": self.words, "text/html": self.image()}


def stacked(words, *rows):
    """One Picture of (content, width, height) rows under one another, described by `words`."""
    width, y, parts = max(row[1] for row in rows), 0, []
    for content, _, height in rows:
        parts.append(f'<g transform="translate(0 {y})">{content}</g>')
        y += height
    return Picture("".join(parts), width, y, words)
