"""How a printed page looks: style.css, piece by piece pieces.html, and its typeface. Black on white; no color tells
anything.

The typeface is carried in each page, so that a sheet fits its page the same on every machine. It is DejaVu Sans, which
matplotlib brings along. Its letters are wide: shrunk to 88 % they run as long as those of the usual sans-serif faces,
and their tall lower case keeps them as readable.
"""

import base64
from functools import cache
from importlib.util import find_spec
from io import BytesIO
from pathlib import Path

from fontTools import subset
from fontTools.ttLib import TTFont

from jetlib.screen.drawing.filled import filled

STYLE = Path(__file__).with_name("style.css").read_text("utf-8")
fill = filled(__file__)
NAME = "Course Sans"
_SHRUNK = "88%"
_FACES = (("DejaVuSans", 400), ("DejaVuSans-Bold", 700))  # slanted words are slanted by the browser
#: Latin, Greek, punctuation and raised figures, the euro, letter-like signs, fractions and arrows, mathematics, shapes.
_LETTERS = (
    (0x20, 0x17F), (0x391, 0x3C9), (0x2000, 0x209F), (0x20AC, 0x20AC), (0x2100, 0x2199), (0x2200, 0x226F),
    (0x25A0, 0x25FF), (0x2610, 0x2612), (0x2713, 0x2718),
)  # fmt: skip


@cache
def font_faces():
    """The @font-face rules with the fonts in them, CSS text of some 100 kB."""
    return "\n".join(
        f'@font-face {{ font-family: "{NAME}"; font-weight: {weight}; size-adjust: {_SHRUNK}; '
        f"src: url(data:font/woff;base64,{base64.b64encode(_few_letters(name)).decode()}) format('woff'); }}"
        for name, weight in _FACES
    )


def _few_letters(name):
    """The font with only the letters that the course writes, as a WOFF file."""
    folder = Path(find_spec("matplotlib").origin).parent / "mpl-data" / "fonts" / "ttf"
    with TTFont(folder / f"{name}.ttf") as font:
        options = subset.Options()
        options.layout_features = []
        options.hinting = False
        options.notdef_outline = True
        options.drop_tables += ["FFTM"]
        few = subset.Subsetter(options)
        few.populate(unicodes=[code for low, high in _LETTERS for code in range(low, high + 1)])
        few.subset(font)
        font.flavor = "woff"
        file = BytesIO()
        font.save(file, reorderTables=None)
        return file.getvalue()
