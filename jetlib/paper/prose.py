"""The prose of a lesson as HTML for paper: formulas as MathML, no links to press, no buttons, nothing that runs."""

import re

from bs4 import BeautifulSoup
from latex2mathml.converter import convert
from nbconvert.filters.markdown_mistune import IPythonRenderer, MarkdownWithMath

_GONE = ("script", "style", "iframe", "object", "embed", "link", "meta", "base", "form", "button", "input", "select")
_SPACES = re.compile(r"(?:\\q?quad\s*)+")
_ADDRESS = re.compile(r"https?://\S+")
#: Words on the screen that ask for something paper cannot do.
_SCREEN_ONLY = re.compile(r"^\s*(?:You can read it without running it:.*|Run this notebook to answer here\.)\s*$", re.S)


class _PaperRenderer(IPythonRenderer):
    """Formulas become MathML, which a browser sets without a network."""

    def block_math(self, body):
        parts = [part for part in _SPACES.split(body.strip()) if part.strip()]
        shown = "".join(f"<span>{convert(part, display='block')}</span>" for part in parts)
        return f'<div class="formula">{shown}</div>'

    def inline_math(self, body):
        return convert(body.strip())


def prose(markdown):
    """HTML of a markdown text, cleaned."""
    renderer = _PaperRenderer(escape=False, exclude_anchor_links=True)
    return cleaned(MarkdownWithMath(renderer).render(markdown))


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
        if not image.get("src", "").startswith("data:image/"):
            image.replace_with(f"[{image.get('alt', 'a picture')}]")
    for each in soup.find_all(True):
        acting = [name for name in each.attrs if name.lower().startswith("on") or name.lower() == "href"]
        for name in acting:
            del each[name]
    return str(soup)
