"""The prose of a lesson as HTML for paper: formulas as SVG, no links to press, no buttons, nothing that runs."""

import re
from html import escape

import ziamath
from bs4 import BeautifulSoup
from nbconvert.filters.markdown_mistune import IPythonRenderer, MarkdownWithMath

ziamath.config.svg2 = False  # outlines in place: names shared by two formulas of a page would clash
_VIEW = re.compile(r'viewBox="([^"]+)"')
_GONE = ("script", "style", "iframe", "object", "embed", "link", "meta", "base", "form", "button", "input", "select")
_SPACES = re.compile(r"(?:\\q?quad\s*)+")
_ADDRESS = re.compile(r"https?://\S+")
#: Words on the screen that ask for something paper cannot do.
_SCREEN_ONLY = re.compile(r"^\s*(?:You can read it without running it:.*|Run this page to answer here\.)\s*$", re.S)


class _PaperRenderer(IPythonRenderer):
    """Formulas become drawn outlines, so that they read the same on a machine without a mathematical font."""

    def block_math(self, body):
        parts = [part for part in _SPACES.split(body.strip()) if part.strip()]
        shown = "".join(f"<span>{formula(part, size=18)}</span>" for part in parts)
        return f'<div class="formula">{shown}</div>'

    def inline_math(self, body):
        return formula(body)


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
    """HTML of a markdown text, cleaned."""
    renderer = _PaperRenderer(escape=False, exclude_anchor_links=True)
    soup = BeautifulSoup(cleaned(MarkdownWithMath(renderer).render(markdown)), "html.parser")
    for block in soup.find_all("div", class_="formula"):
        if block.parent is not None and block.parent.name == "p":
            block.parent.unwrap()  # a paragraph may not hold a block
    return str(soup)


def cleaned(html):
    """The same HTML without code, controls, links and attributes that act; what was folded away is open."""
    soup = BeautifulSoup(html, "html.parser")
    for button in soup.find_all("button"):
        line = button.find_parent("p")
        (line or button).extract()
    for each in soup.find_all(_GONE):
        each.extract()
    for each in soup.find_all("p"):
        if _SCREEN_ONLY.match(each.get_text()):
            each.extract()
    for link in soup.find_all("a"):
        address = link.get("href", "")
        if _ADDRESS.fullmatch(address) and address not in link.get_text():
            link.append(f" ({address})")
        link.unwrap()
    for folded in soup.find_all("details"):
        folded.name = "div"
    for summary in soup.find_all("summary"):
        summary.name = "p"
        summary["class"] = "lead"
    for image in soup.find_all("img"):
        image.replace_with(f"[{image.get('alt', 'a picture')}]")
    for each in soup.find_all(True):
        acting = [name for name in each.attrs if name.lower().startswith("on") or name.lower() == "href"]
        for name in acting:
            del each[name]
    return str(soup)
