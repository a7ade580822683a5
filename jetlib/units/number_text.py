"""Typed text taken apart into a number and the names of its units. Nothing typed is ever evaluated."""

import re
import unicodedata
from fractions import Fraction
from functools import lru_cache
from math import floor, isfinite, log10
from typing import NamedTuple

from jetlib.units.kinds import SPELLED

LONGEST = 64
_AS_CLOSE = 1e-4  # of a bore: closer than any hose is made


class Unreadable(Exception):
    """Why a text cannot be read, and the texts that would be read instead."""

    def __init__(self, reason, *instead):
        super().__init__(reason)
        self.reason = reason
        self.instead = instead


class Typed(NamedTuple):
    """What a text holds: an exact number and its unit as typed ("" if none), or the name of a drill."""

    number: Fraction
    unit: str
    form: str = "number"  # "number", "dash", "drill", "slope"
    shown: str = ""  # the number as typed, without sign; or the name of the drill


_BEFORE = str.maketrans({"º": "°", "˚": "°", "×": "*", "·": "*", "⋅": "*"})
_AFTER = str.maketrans(
    dict.fromkeys("−–—‐‑‒﹣", "-") | dict.fromkeys("′’‘", "'") | dict.fromkeys("″”“", '"') | {"⁄": "/", "∕": "/"}
)
_SUPERSCRIPT = {"⁰": "0", "¹": "1", "²": "2", "³": "3", "⁴": "4", "⁻": "-"}
_ALLOWED = re.compile(r"""[A-Za-z0-9μ°%#.,:+\-*/^()'"_ ]*""")

_NUMBER = re.compile(
    r"""(?P<sign>[+-]?)\ ?
    (?: (?P<whole>\d+)[ -](?P<top>\d+)/(?P<bottom>\d+)
      | (?P<n>\d+)/(?P<d>\d+)
      | (?P<spaced>\d{1,3}(?:\ \d{3})+(?:[.,]\d+)?)(?![\d.,])
      | (?P<plain>(?:\d[\d.,]*|[.,]\d+)(?:[eE][+-]?\d+)?)
    )""",
    re.X | re.A,
)
_DASH = re.compile(r"(?:-|dash ?-?) ?0?(\d{1,2})", re.A | re.I)
_DRILL = (
    re.compile(r"(?:#|no\.? ?|number |drill (?:size )?(?:#|no\.? ?)?) ?(\d{1,2})(?: drill| bit)?", re.A | re.I),
    re.compile(r"(\d{1,2}) ?drill", re.A | re.I),
    re.compile(r"(?:letter |drill (?:size )?)([A-Z])(?: drill)?|([A-Z]) drill", re.A | re.I),
    re.compile(r"((?:1[ -])?\d{1,2}/\d{1,2})(?: ?in| ?inch| ?\")? ?drill", re.A | re.I),
)
_SLOPE = re.compile(r"([\d.,]+) ?(?::| in ) ?([\d.,]+)", re.A)


def tidy(text):
    """The text with odd spaces, dashes, quotes, fractions and raised figures made plain.

    Raises Unreadable if it is empty, longer than 64 characters, or holds a sign no unit or number has.
    """
    if len(text) > LONGEST:
        raise Unreadable(f"it is longer than {LONGEST} characters")
    text = text.translate(_BEFORE)
    pieces = [text] if text.isascii() else []
    for sign in () if pieces else text:
        apart = unicodedata.decomposition(sign)
        if apart.startswith("<fraction>"):
            pieces.append(" " + unicodedata.normalize("NFKC", sign))
        elif sign in _SUPERSCRIPT:
            raised = _SUPERSCRIPT[sign]
            pieces.append(raised if pieces and pieces[-1] == "^-" else "^" + raised)
        else:
            pieces.append(unicodedata.normalize("NFKC", sign))
    plain = "".join(pieces).translate(_AFTER).replace("''", '"').replace("µ", "μ")
    plain = " ".join(plain.split())
    if not plain:
        raise Unreadable("it is empty")
    if len(plain) > 2 * LONGEST or not _ALLOWED.fullmatch(plain):
        raise Unreadable("it holds a sign that no number or unit has")
    return plain


def parse(text, *, dash=False, drill=False, slope=False):
    """The Typed in a text such as "8 gpm", "1-1/4 in", "3,5 mm", "#54", "-6" or "1:60".

    `dash` lets a bare "-6" be a dash size, `slope` lets "1:60" and "1 in 60" be a slope. A drill is always
    recognised: whether it has a place there is for the caller to say. Raises Unreadable.
    """
    plain = tidy(text)
    if dash and (found := _DASH.fullmatch(plain)):
        return Typed(Fraction(found[1]), "", "dash")
    for pattern in _DRILL:
        if found := pattern.fullmatch(plain):
            name = next(group for group in found.groups() if group).upper().replace("-", " ")
            known_as = f"{name} in" if "/" in name else f"#{name}" if name.isdecimal() else f"letter {name}"
            return Typed(Fraction(0), "", "drill", known_as)
    if slope and (found := _SLOPE.fullmatch(plain)):
        rise, run = _decimal(found[1], ""), _decimal(found[2], "")
        if not run:
            raise Unreadable("it divides by zero")
        return Typed(rise / run, "", "slope")
    found = _NUMBER.match(plain)
    if not found:
        raise Unreadable("it does not begin with a number")
    unit = plain[found.end() :].strip()
    try:
        number = _number(found, unit)
        float(number)
    except (OverflowError, ZeroDivisionError):
        raise Unreadable("its number is not finite") from None
    shown = found[0].removeprefix(found["sign"]).strip()
    return Typed(-number if found["sign"] == "-" else number, unit, shown=shown)


def _number(found, unit):
    if found["whole"]:
        return int(found["whole"]) + Fraction(int(found["top"]), int(found["bottom"]))
    if found["n"]:
        return Fraction(int(found["n"]), int(found["d"]))
    if found["spaced"]:
        return Fraction(found["spaced"].replace(" ", "").replace(",", "."))
    digits, e, power = found["plain"].lower().partition("e")
    return _decimal(digits, unit, e + power)


def _decimal(digits, unit, power=""):
    """The number in figures with points and commas; the last of the two kinds of mark is the decimal one."""
    commas, points = digits.count(","), digits.count(".")
    if commas and points:
        decimal, group = (",", ".") if digits.rfind(",") > digits.rfind(".") else (".", ",")
    elif commas == 1:
        before, after = digits.split(",")
        if len(after) == 3 and 1 <= len(before) <= 3 and before[0] != "0":
            tail = f"{power} {unit}".rstrip()
            raise Unreadable(
                "the comma can stand for thousands or for a decimal point",
                before + after + tail,
                f"{before}.{after.rstrip('0') or '0'}{tail}",
            )
        decimal, group = ",", "."
    else:
        decimal, group = (".", ",") if commas or points <= 1 else (",", ".")
    whole, _, part = digits.partition(decimal)
    if group in whole and not re.fullmatch(r"[0-9]{1,3}(?:[.,][0-9]{3})+", whole):
        raise Unreadable("its commas and points do not group thousands")
    whole = whole.replace(group, "")
    if not (whole + part).isdecimal() or len(power) > 5:
        raise Unreadable("its number cannot be read")
    return Fraction(f"{whole or '0'}.{part or '0'}{power}")


def inch_fraction(inches):
    """A length as a fraction, "1-1/4", where it is a whole number of 32nds; "" where it is not."""
    near = Fraction(round(32 * inches), 32) if isfinite(inches) else Fraction(0)
    if near <= 0 or abs(float(near) - inches) > _AS_CLOSE * inches:
        return ""
    whole, part = divmod(near, 1)
    return "-".join(str(each) for each in (whole, part) if each)


def figures(number, count=3, decimals=None):
    """The number as text with `count` significant figures, or with fixed decimals where given.

    "9.62", "3460", "0.0591". An exact number has no idle zeros ("8"), a rounded one keeps them ("8.00"); an
    exponent only below 1e-7 and from 1e10 up. Fixed decimals give way where they would hide a small number.
    """
    number = float(number)
    if not isfinite(number) or number == 0:
        return str(number) if number else "0"
    if not 1e-7 <= abs(number) < 1e10:
        return f"{number:.{count - 1}e}"
    places = count - 1 - floor(log10(abs(number)))
    places = count - 1 - floor(log10(abs(round(number, places))))  # 9.996 has become 10.0
    if decimals is not None and abs(round(number, decimals + count - 3) - number) < 0.02 * abs(number):
        places = decimals + count - 3
    shown = f"{round(number, places):.{max(places, 0)}f}"
    short = shown.rstrip("0").rstrip(".") if "." in shown else shown
    return short if decimals is not None or abs(float(short) - number) <= 1e-9 * abs(number) else shown


_WORDS = (
    (re.compile(r"\b([a-z])\.([a-z])\.([a-z])\b\.?", re.I), r"\1\2\3"),  # g.p.m.
    (re.compile(r"\b(?:pounds?|lbs?)(?: force)? (?:per|a|to the) (?:sq|square)\.? in(?:ch)?", re.I), "psi"),
    (re.compile(r"\bhorse power", re.I), "hp"),
    (re.compile(r" an? ", re.I), "/"),
    (re.compile(r"\bper cent\b", re.I), "%"),
    (re.compile(r" ?\bper\b ?", re.I), "/"),
    (re.compile(r" of water\b", re.I), "H2O"),
    (re.compile(r"\b(?:imp(?:erial)?|uk)\b\.? ?(?=g)", re.I), "imp_"),
    (re.compile(r"\b(?:us|u\.s\.) ?(?=g)", re.I), "us_"),
    (re.compile(r"\b(?:sq|square)\.? ([a-z]+)", re.I), r"\1^2"),
    (re.compile(r"\b(?:cu|cubic)\.? ([a-z]+)", re.I), r"\1^3"),
)
_TERM = re.compile(
    r"""\ ?([*/]?)\ ?(1(?=/)|[a-z]+_H2O|[A-Za-zμ°%'"_]{1,30})(?:(?:\^|\*\*)?([+-]?[1-9])(?![0-9]))?""", re.A
)


def unit_terms(text, *, meaning=None):
    """The unit in a text as a tuple of (registry name, whole power), such as (("gallon", 1), ("minute", -1)).

    `meaning` gives what a unit means in this place alone. At most six names; Unreadable if it is not a product
    of names and small powers.
    """
    return _terms(text, tuple((meaning or {}).items()))


@lru_cache(1000)
def _terms(text, meanings):
    meaning, unit = dict(meanings), tidy(text).removesuffix(".")  # "150 ft."
    unit = meaning.get(unit.replace(" ", ""), unit)
    for pattern, word in _WORDS:
        unit = pattern.sub(word, unit)
    whole = _alias(unit.replace(" ", ""))
    if whole:
        return _split(meaning.get(whole, whole))
    terms = []
    for name, power in _split(unit):
        inner = _split(_alias(name)) if _alias(name) else ((name, 1),)
        terms += [(each, small * power) for each, small in inner]
    return tuple(terms)


def _alias(name):
    if name in SPELLED["exact"]:
        return SPELLED["exact"][name]
    folded = name.casefold()
    if folded in ("psia", "bara", "psi(a)", "bar(a)"):
        raise Unreadable(f"{name} is an absolute pressure, and a gauge reads what is above the air's")
    if folded == "mpa" and name not in ("MPa", "mPa"):
        raise Unreadable("its unit can be MPa (mega) or mPa (milli)")
    return SPELLED["folded"].get(folded)


def _split(unit):
    terms, at = [], 0
    while at < len(unit):
        found = _TERM.match(unit, at)
        if not found or len(terms) == 6:
            raise Unreadable(f"{unit!r} is not a unit known here")
        mark, name, power = found.groups()
        if name != "1":
            terms.append((name, int(power or 1) * (-1 if mark == "/" else 1)))
        at = found.end()
    return tuple(terms)
