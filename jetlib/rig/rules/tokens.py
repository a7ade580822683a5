"""A typed rule taken apart into numbers, words and signs, each with its place. Nothing typed is ever run."""

import re
from typing import NamedTuple

from jetlib.errors import JetlibError

LONGEST = 300
LARGEST = 1e12
EXAMPLE = "gauge at idle = 0.2 * gauge at full"

_SAME = str.maketrans(
    {"×": "*", "·": "*", "⋅": "*", "÷": "/", "−": "-", "–": "-", "—": "-", "[": "(", "]": ")", "≤": "<", "≥": ">",
     "º": "°", "\u00a0": " ",
     "\t": " ", "\n": " ", "\r": " "}
)  # fmt: skip
_ALIKE = {"**": "^", "<=": "<", ">=": ">"}
#: A limit in words, where a rule has no sign: "is never more than", "stays below", "must not exceed", "at least".
_LESS, _MORE = "less|smaller|lower|below|under", "more|greater|larger|higher|above|over|exceeds?"
_LIMIT = re.compile(
    r"\b(?:(?:is|are|be|must|should|may|can|stays?|always|kept)\s+)*(?P<no>(?:no|not|never)\s+(?:be\s+)?)?"
    rf"(?:(?P<least>at\s+least)|(?P<most>at\s+most|up\s+to)|(?:(?P<less>{_LESS})|(?:{_MORE}))(?:\s+than)?)\b",
    re.I,
)
_PARTS = {"half": "0.5", "third": f"{1 / 3:.9f}", "quarter": "0.25", "fifth": "0.2", "tenth": "0.1"}
_PART = re.compile(rf"\b(?:an?\s+|one\s+)?({'|'.join(_PARTS)})\s+(?=of\b)", re.I)
_TOKEN = re.compile(
    r"""(?P<fraction>\d{1,2}/(?:2|4|8|16|32|64)(?=\ *(?:in|inch|inches)\b))
      | (?P<number>(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?)
      | (?P<word>[A-Za-z°%][A-Za-z]*)
      | (?P<raised>[²³])
      | (?P<sign>\*\*|<=|>=|[-+*/^(),=<>√])
      | (?P<strange>[^\ ])
    """,
    re.X | re.A,
)


class Token(NamedTuple):
    """A piece of the text from `start` to `end`; kind "number", "word", "sign" or "end". value: that of a number."""

    kind: str
    text: str
    start: int
    end: int
    value: float = 0.0


def refuse(text, start, what, write):
    """The JetlibError that says what is wrong, where in the text, and the line that puts it right."""
    near = text[start : start + 24].strip()
    place = f'at character {start + 1}, "{near}"' if near else "at the end"
    return JetlibError(f"{place}: {what}; write {write}")


def tokens(typed):
    """(text, list of Tokens) of a typed rule; JetlibError if it is empty, too long, or holds a sign no rule has."""
    if not isinstance(typed, str):
        raise JetlibError(f"the rule is {type(typed).__name__}, not text; write {EXAMPLE}")
    if len(typed) > LONGEST:
        raise JetlibError(f"the rule is {len(typed)} characters long; allowed: {LONGEST}; write {EXAMPLE}")
    text = _in_signs(typed.translate(_SAME))
    found = [token for match in _TOKEN.finditer(text) for token in _of(match, text)]
    if not found:
        raise JetlibError(f"the rule is empty; write {EXAMPLE}")
    return text, [*found, Token("end", "", len(text), len(text))]


def _in_signs(text):
    """The text with a limit, a percentage or a part of something that was written in words written in signs."""
    text = re.sub(r"\bper\s?cent\b", "%", text, flags=re.I)
    text = _PART.sub(lambda found: f"{_PARTS[found[1].lower()]} ", text)
    found = _LIMIT.search(text)
    if found is None or any(sign in text for sign in "=<>"):
        return text
    less = bool(found["most"]) or ((bool(found["less"]) != bool(found["no"])) and not found["least"])
    left = re.sub(r"^\s*keep\s+", "", text[: found.start()], flags=re.I)
    return re.sub(r" {2,}", " ", f"{left} {'<' if less else '>'} {text[found.end() :]}")


def _of(match, text):
    kind, piece, start, end = match.lastgroup, match.group(), match.start(), match.end()
    if kind == "raised":
        power = {"²": 2.0, "³": 3.0}[piece]
        return [Token("sign", "^", start, end), Token("number", piece, start, end, power)]
    if kind == "fraction":
        top, bottom = map(int, piece.split("/"))
        return [Token("number", piece, start, end, top / bottom)]
    if kind == "number":
        value = float(piece)
        if not (value <= LARGEST and (value == 0.0 or value >= 1.0 / LARGEST)):
            raise refuse(text, start, f"{piece[:20]} is beyond any rule", "a number from 1e-12 to 1e12")
        if end < len(text) and text[end] in "0123456789.":
            raise refuse(text, start, "two points in one number", "it like 12.5")
        return [Token("number", piece, start, end, value)]
    if kind == "strange":
        sign = piece if piece.isprintable() else "?"
        raise refuse(text, start, f"the sign {sign!r} has no meaning here", "only + - * / ^ ( ) = < > , and words")
    return [Token(kind, _ALIKE.get(piece, piece), start, end)]
