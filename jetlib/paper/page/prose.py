"""The prose of a lesson as HTML for paper: formulas as SVG, no links to press."""

import re
from html import escape

import ziamath
from nbconvert.filters.markdown_mistune import IPythonRenderer, MarkdownWithMath

ziamath.config.svg2 = False  # outlines in place: names shared by two formulas of a page would clash
_VIEW = re.compile(r'viewBox="([^"]+)"')


class _PaperRenderer(IPythonRenderer):
    """Formulas become drawn outlines, so that they read the same on a machine without a mathematical font."""

    def block_math(self, body):
        return f'<span class="formula">{formula(body, size=18)}</span>'

    def inline_math(self, body):
        return formula(body)

    def link(self, text, url, title=None):
        """What could be pressed, as words; an address is written out."""
        return f"{text} ({escape(url)})" if url.startswith("http") and url not in text else text

    def image(self, text, url, title=None):
        return f"[{text}]"


def formula(tex, *, size=16):
    """A formula as inline SVG that stands on the line of the text; size in pixels. Its label is what was typed."""
    drawn = ziamath.Latex(tex.strip(), size=size).svg()
    left, top, width, height = (float(each) for each in _VIEW.search(drawn)[1].split())
    tag = (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="maths" role="img" aria-label="{escape(tex.strip())}" '
        f'viewBox="{left} {top} {width} {height}" width="{width}" height="{height}" '
        f'style="vertical-align:{-(top + height):.2f}px">'
    )
    return tag + drawn[drawn.index(">") + 1 :]


def prose(markdown):
    """HTML of a markdown text."""
    renderer = _PaperRenderer(escape=False, exclude_anchor_links=True)
    return str(MarkdownWithMath(renderer).render(markdown))
