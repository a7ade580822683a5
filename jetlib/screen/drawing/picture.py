"""A picture as SVG: for the live page, and as a stored one that shows with nothing run."""

import base64
import re
from dataclasses import dataclass
from html import escape
from typing import NamedTuple

from jetlib.screen.drawing.chart import NARROW
from jetlib.screen.drawing.theme import moving, style_sheet

_TRACES = re.compile(r'<g class="jl-trace" data-place="([^"]*)">(.*?)</g>', re.DOTALL)
_WIDE = 480  # pixels: what is wider has its words made larger where it is shown small
_BESIDE = 210  # pixels of a window's height that a console needs for what stands over and under its picture


class Answer(NamedTuple):
    """A figure that a console gives a place of its own: what it is, its SI value, and its kind of quantity."""

    name: str
    value: float
    kind: str


@dataclass(frozen=True)
class Picture:
    """SVG `content` of `width` x `height` pixels, and `words`: the sentence of numbers that says the same.

    answers: the few figures that matter most. tiles: rows of (content, width, height) that make up the picture; beside
    one another where there is room, under one another where there is not. A tile may end in a narrow one, which is
    shown in its place on a phone.
    """

    content: str
    width: int
    height: int
    words: str
    answers: tuple = ()
    tiles: tuple = ()

    def svg(self):
        """The live picture: takes its ink from the page, so that it suits the light and the dark theme."""
        look = f"max-width:{1.25 * self.width:.0f}px;min-width:{0.75 * self.width:.0f}px"
        return self._drawn(self.content, self.width, self.height, look, self.words)

    def live(self, before=None):
        """The live picture as HTML, as large as the page and the window allow; `before`: a Picture to leave in gray."""
        tiles = self.tiles or (((self.content, self.width, self.height),),)
        earlier = iter([tile for row in before.tiles for tile in row] if before is not None else ())
        rows, words = [], self.words
        for row in tiles:
            drawn = []
            for tile in row:
                forms, gone = _forms(tile), [*_forms(next(earlier, ("", 0, 0))), ("", "")]
                for (name, content, width, height), (_, was, *_) in zip(forms, gone, strict=False):
                    least = f"{0.75 * width:.0f}px"
                    look = f"flex:1 1 {least};min-width:min(100%, {least});max-width:{1.25 * width:.0f}px"
                    drawn.append(self._drawn(_with_gray(content, was), width, height, look, words, name))
                words = ""  # the first tile says it for all
            rows.append(f'<div style="display:flex;flex-wrap:wrap;align-items:flex-start">{"".join(drawn)}</div>')
        share = f"calc((100vh - {_BESIDE}px) * {self.width / self.height:.3f})"
        least, most = 0.75 * self.width, 1.25 * self.width
        look = f"max-width:clamp({least:.0f}px, {share}, {most:.0f}px)"
        return f'<div class="jl-picture" style="{look}">{"".join(rows)}</div>'

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

    def _drawn(self, content, width, height, look, words, name=""):
        size = "jl-wide" if width > _WIDE else "jl-tile"
        told = f'role="img" aria-label="{escape(words)}"' if words else 'aria-hidden="true"'
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
            f'viewBox="0 0 {width} {height}" width="100%" {told} class="{size} {name}" '
            f'style="{look};color:var(--jp-ui-font-color1, #1a1a1a)">{style_sheet() if words else ""}'
            f"{moving() if words else ''}{content}</svg>"
        )

    def _repr_mimebundle_(self, include=None, exclude=None):
        return {"text/plain": self.words, "text/html": self.image()}


def _forms(tile):
    """A tile as it is shown where there is room, and on a phone."""
    return [("jl-broad", *tile[:3]), ("jl-narrow", *tile[3])] if len(tile) > 3 else [("", *tile)]


def with_narrow(draw, width, narrow=NARROW):
    """A tile `width` pixels wide that a phone shows `narrow`; draw(width) gives its (content, width, height)."""
    return *draw(width), draw(narrow)


def _with_gray(content, earlier):
    """SVG content with what `earlier` content showed of a state behind what is so now, where that is otherwise."""
    gone = dict(_TRACES.findall(earlier))

    def behind(found):
        place, drawn = found.groups()
        return (f'<g class="jl-gone">{gone[place]}</g>' if gone.get(place, drawn) != drawn else "") + found.group()

    return _TRACES.sub(behind, content) if gone else content


def stacked(words, *rows, answers=()):
    """One Picture of rows under one another, described by `words`: each a tile (content, width, height), or a list of
    tiles beside one another.
    """
    tiles = tuple(tuple(row) if isinstance(row, list) else (row,) for row in rows)
    width = max(sum(tile[1] for tile in row) for row in tiles)
    y, parts = 0, []
    for row in tiles:
        x = 0
        for content, wide, *_ in row:
            parts.append(f'<g transform="translate({x} {y})">{content}</g>')
            x += wide
        y += max(tile[2] for tile in row)
    return Picture("".join(parts), width, y, words, tuple(answers), tiles)
