"""A stored picture made fit for paper: words large enough to read at arm's length, black ink, curves told by dash.

On the screen a picture may be as wide as it likes and has colours. On paper it is at most as wide as the sheet, so its
words are set anew: larger, in the page's typeface, and drawn together where they would touch others.
"""

import base64
import re
from dataclasses import dataclass
from xml.etree import ElementTree

#: Width of a picture as printed, in mm, on the narrower of the papers (see `figure img.picture` in the style sheet).
PRINTED_WIDTH = 188.0
#: Least size of its words as printed, in points.
LEAST = 9.2
_BASE = 12.0  # what most words of a picture measure on the screen, in its own units
_FONT = "Liberation Sans, Arial, Helvetica, sans-serif"
_ASCENT, _DESCENT, _GAP = 0.74, 0.21, 5.0  # of a letter, in its size; and clear space between words, in picture units
_TIGHTEST = 0.78
_SVG = "http://www.w3.org/2000/svg"
_DATA = "data:image/svg+xml;base64,"
_MOVED = re.compile(r"(translate|rotate)\(([^)]*)\)")
_COLOURS = ("blue", "orange", "green", "purple", "red")
_DASHES = ("9 3 2 3", "7 4", "2 4")
_INK = {"grey": "#555", "blue": "#222", "orange": "#666", "green": "#444", "purple": "#888", "red": "#000"} | {
    f"p{step}": grey for step, grey in enumerate(("#aaa", "#8c8c8c", "#707070", "#505050", "#303030", "#000"))
}
#: Advance of the letters from space to tilde, per mille of the size, as in Helvetica and the faces cut to its measure.
_PLAIN, _BOLD = (
    dict(zip(map(chr, range(32, 127)), map(int, widths.split()), strict=True))
    for widths in (
        """278 278 355 556 556 889 667 191 333 333 389 584 278 333 278 278 556 556 556 556 556 556 556 556 556 556
        278 278 584 584 584 556 1015 667 667 722 722 667 611 778 722 278 500 667 556 833 722 778 667 778 722 667
        611 722 667 944 667 667 611 278 278 278 469 556 333 556 556 500 556 556 278 556 556 222 222 500 222 833
        556 556 556 556 333 500 278 556 500 722 500 500 500 334 260 334 584""",
        """278 333 474 556 556 889 722 238 333 333 389 584 278 333 278 278 556 556 556 556 556 556 556 556 556 556
        333 333 584 584 584 611 975 722 722 722 722 667 611 778 722 278 556 722 611 833 722 778 667 778 722 667
        611 722 667 944 667 667 611 333 278 333 584 556 333 556 611 556 611 556 333 611 611 278 278 556 278 889
        611 611 611 611 389 556 333 611 556 778 556 556 500 389 280 389 584""",
    )
)


@dataclass
class Words:
    """A text of a picture: its element, size, and the point it hangs on, in units of the whole picture."""

    element: object
    x: float
    y: float
    size: float
    upright: bool
    squeeze: float = 1.0

    @property
    def length(self):
        """Of the words as they will be set."""
        widths = _BOLD if self.element.get("font-weight") in ("bold", "600", "700") else _PLAIN
        return sum(widths.get(each, 600) for each in self.element.text or "") * self.size * self.squeeze / 1000.0

    @property
    def box(self):
        """left, top, right, bottom."""
        before = {"middle": 0.5, "end": 1.0}.get(self.element.get("text-anchor"), 0.0) * self.length
        after, up, down = self.length - before, _ASCENT * self.size, _DESCENT * self.size
        if self.upright:  # turned by a quarter to the left: what comes first stands lowest
            return self.x - up, self.y - after, self.x + down, self.y + before
        return self.x - before, self.y - up, self.x + after, self.y + down


def for_paper(source):
    """The `src` of a stored SVG picture redrawn for paper; any other source comes back as it is."""
    if not source.startswith(_DATA):
        return source
    try:
        root = ElementTree.fromstring(base64.b64decode(source[len(_DATA) :]))
        width, height = (float(each) for each in root.get("viewBox").split()[2:])
    except (ValueError, AttributeError, ElementTree.ParseError):
        return source
    _blacken(root)
    _set_words(root, width, height)
    ElementTree.register_namespace("", _SVG)
    return _DATA + base64.b64encode(ElementTree.tostring(root)).decode()


def printed_sizes(source):
    """Sizes in points, a list, of all words of a stored picture as printed on the narrower paper."""
    root = ElementTree.fromstring(base64.b64decode(source[len(_DATA) :]))
    unit = _unit(float(root.get("viewBox").split()[2]))
    return [float(each.get("font-size")) * unit for each in root.iter(f"{{{_SVG}}}text") if each.text]


def _unit(width):
    """Points that a unit of a picture `width` units wide measures on paper."""
    return PRINTED_WIDTH / 25.4 * 72.0 / width


def _blacken(root):
    rules = [f".jl-ink-{name}{{fill:{grey}}}.jl-line-{name}{{stroke:{grey}}}" for name, grey in _INK.items()]
    rules += [f".jl-ink-{name}:not(rect){{fill:#000}}.jl-line-{name}{{stroke:#000}}" for name in _COLOURS]
    for sheet in root.iter(f"{{{_SVG}}}style"):
        sheet.text = "".join(rules)
    curves = [each for each in root.iter() if each.tag in (f"{{{_SVG}}}polyline", f"{{{_SVG}}}line")]
    used = {each.get("stroke-dasharray") for each in curves}
    free = [dash for dash in _DASHES if dash not in used]
    solid = dict.fromkeys(
        each.get("class") for each in curves if each.tag.endswith("polyline") and not each.get("stroke-dasharray")
    )
    coloured = [name for name in solid if name in {f"jl-line-{colour}" for colour in _COLOURS}]
    for name, dash in zip(coloured[1:], free, strict=False):  # else colour alone would tell them apart
        for each in curves:
            if each.get("class") == name and not each.get("stroke-dasharray"):
                each.set("stroke-dasharray", dash)


def _set_words(root, width, height):
    scale = LEAST / _unit(width) / _BASE
    found = list(_words(root, 0.0, 0.0, False))
    for each in found:
        each.size = scale * max(each.size, _BASE)
    _part(found, width, height)
    for each in found:
        each.element.set("font-family", _FONT)
        each.element.set("font-size", f"{each.size:.2f}")
        each.element.set("textLength", f"{each.length:.1f}")
        each.element.set("lengthAdjust", "spacingAndGlyphs")


def _words(element, x, y, upright):
    for kind, numbers in _MOVED.findall(element.get("transform", "")):
        values = [float(each) for each in numbers.replace(",", " ").split()]
        if kind == "translate":
            x, y = x + values[0], y + (values[1] if len(values) > 1 else 0.0)
        else:
            upright = values[0] == -90.0
    if element.tag == f"{{{_SVG}}}text" and element.text:
        own = float(element.get("x", 0.0)), float(element.get("y", 0.0))
        right, down = (own[1], -own[0]) if upright else own
        yield Words(element, x + right, y + down, float(element.get("font-size", _BASE)), upright)
    for child in element:
        yield from _words(child, x, y, upright)


def _part(found, width, height):
    """Draw words together, step by step, until none touches another or the edge, or all are as tight as they may be."""
    while True:
        tight = {id(each): each for each in found if not _inside(each.box, width, height)}
        for at, one in enumerate(found):
            for other in found[at + 1 :]:
                if touch(one.box, other.box):
                    tight |= {id(one): one, id(other): other}
        loose = [each for each in tight.values() if each.squeeze > _TIGHTEST]
        if not loose:
            return
        longest = max(each.length for each in loose)
        for each in loose:
            if each.length > 0.5 * longest:
                each.squeeze -= 0.01


def _inside(box, width, height):
    left, top, right, bottom = box
    return left >= 0 and right <= width and top >= 0 and bottom <= height


def touch(one, other):
    """True if two boxes are nearer than words may come; one line may stand close over the next."""
    across = min(one[2], other[2]) - max(one[0], other[0])
    down = min(one[3], other[3]) - max(one[1], other[1])
    return across > -_GAP and down > 0.5
