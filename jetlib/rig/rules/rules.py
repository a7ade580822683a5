"""Rules of thumb against the physics: on one rig, and over a map of rigs. Every verdict is worked out, none written.

A rule is an equation or a limit: its left side is what the rule is about and the physics gives it; its right side is
what the rule says that is. `off` is said over true less one; of a limit, how far past it the left side is.
"""

from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cache

import numpy as np

from jetlib.errors import JetlibError
from jetlib.rig.hoses.weight import hose_mass
from jetlib.rig.parts.site import Site
from jetlib.rig.rules.equation import work_out
from jetlib.rig.rules.moves import LEVERS, family, own_value
from jetlib.rig.rules.quantities import Cases, resolve
from jetlib.rig.rules.reader import read_equation
from jetlib.tables import DATA
from jetlib.tables.toml_file import toml_tables
from jetlib.units import si
from jetlib.units.number_text import figures

NEAR, FAIR = 0.10, 0.25
BANDS = ("within 10 %", "within 25 %", "off")
LIMIT_BANDS = ("kept", "broken by up to 25 %", "broken by more")
SIDES = ("safe", "unsafe")
#: Words of the file that say where a rule comes from.
CONFIDENCE = "common practice, no source"
_EXACT = 1e-3
_SITE = Site()
_CELLS = (26, 18)
_TRIED = 5  # values of a lever, to see how much it matters
_FLOWS = (0.3, 2.0)  # of the rig's own: the usual range of a map over the pump's flow
_NOTHING = 1e-9
_LEAST = 1e-6  # of what is said: a number that far off is nothing to restate


@dataclass(frozen=True)
class Axis:
    """One way of a map: a lever and the range it is moved over, SI."""

    lever: str
    low: float
    high: float


@dataclass(frozen=True)
class Rule:
    """A rule of thumb: as said, as an equation, the law beside it, what to say instead, and how sure its source is.

    group: what it is about. x, y: the two quantities that matter, an Axis each.
    """

    id: str
    said: str
    equation: object
    law: str
    instead: str
    x: Axis
    y: Axis
    source: str = CONFIDENCE
    confidence: str = CONFIDENCE
    group: str = ""


@dataclass(frozen=True)
class Verdict:
    """A rule on one rig: what is `true`, what is `said` (SI), how far `off` that is (a share), and the `band`."""

    equation: object
    true: float
    said: float
    off: float

    @property
    def band(self):
        return band_names(self.equation)[int(band_of(self.off, limit=self.equation.limit))]

    @property
    def exact(self):
        return abs(self.off) <= _EXACT and not self.equation.limit

    @property
    def side(self):
        """ "safe" or "unsafe": on which side it errs; "" where it does not, or neither side is."""
        if self.equation.limit:
            return SIDES[self.off > 0]
        if not self.equation.safe or self.exact:
            return ""
        return SIDES[(self.off > 0) != (self.equation.safe == "high")]

    @property
    @np.errstate(all="ignore")
    def times(self):
        """True over said; infinite or not a number where there is none."""
        return float(np.divide(self.true, self.said))


@dataclass(frozen=True, eq=False)
class RuleMap:
    """How far off a rule is over two axes: `off`, and `times` (true over said), rows of y from `ys[0]`; nan: no rig.

    own: the rig's own place, (x, y), SI. equation: the rule's.
    """

    x: Axis
    y: Axis
    xs: np.ndarray
    ys: np.ndarray
    off: np.ndarray
    times: np.ndarray = field(repr=False)
    own: tuple
    equation: object

    @property
    def bands(self):
        """Place in `names` of each, -1 for no such rig; the shape of `off`."""
        return band_of(self.off, limit=self.equation.limit)

    @property
    def names(self):
        """What the bands are called, the best first."""
        return band_names(self.equation)

    @property
    def shares(self):
        """Share of the rigs on the map in each band."""
        bands = self.bands
        count = max(int((bands >= 0).sum()), 1)
        return tuple(float((bands == number).sum()) / count for number in range(3))

    @property
    def times_range(self):
        """Lowest and highest of true over said on the map; (nan, nan) where there is none."""
        good = self.times[np.isfinite(self.times)]
        return (float(good.min()), float(good.max())) if good.size else (np.nan, np.nan)


def band_names(equation):
    """What the bands of an Equation are called, the best first."""
    return LIMIT_BANDS if equation.limit else BANDS


@np.errstate(all="ignore")
def band_of(off, *, limit=False):
    """0, 1 or 2 for within 10 % (of a limit: kept), within 25 % and off; -1 for not a number."""
    size = np.abs(np.asarray(off, dtype=float))
    beyond = (size > (0.0 if limit else NEAR) + 1e-12).astype(int) + (size > FAIR + 1e-12)
    return np.where(np.isnan(size), -1, beyond)


def read_rule(typed):
    """The Equation of a rule typed in words and signs; JetlibError says what is wrong, where, and what to write."""
    return read_equation(typed, resolve)


def safe_on(equation, side):
    """The Equation with the side on which it is safe to err: "high", "low", or "" for neither."""
    if side not in ("", "high", "low"):
        raise JetlibError(f"safe is {str(side)[:20]!r}; write high, low, or leave it out")
    return replace(equation, safe=side)


def judge(equation, rig, site=_SITE):
    """The Verdict of an Equation on one rig; JetlibError where either side is nothing that can be compared."""
    rig = rig.replace(hoses=[hose.replace(mass_per_metre=hose_mass(hose)) for hose in rig.hoses])
    true, said = (float(np.ravel(side)[0]) for side in _sides(equation, rig, site))
    for value, name in ((true, "left"), (said, "right")):
        if not np.isfinite(value):
            raise JetlibError(
                f"the {name} side comes to no number on this rig; write a rule that does not divide by nothing or take "
                "the root of what is below nothing, or choose another rig"
            )
    return Verdict(equation, true, said, float(_off(equation, np.array([true]), np.array([said]))[0]))


def map_of(equation, rig, x, y, site=_SITE, cells=_CELLS):
    """The RuleMap of an Equation over the Axes x and y, on rigs like `rig`; an axis is stretched to the rig's own."""
    if x.lever == y.lever:
        raise JetlibError(f"both ways of the map are {x.lever}; choose two quantities")
    own = tuple(own_value(axis.lever, rig, site) for axis in (x, y))
    x, y = (_stretched(axis, value) for axis, value in zip((x, y), own, strict=True))
    xs, ys = (
        axis.low + (axis.high - axis.low) / count * (np.arange(count) + 0.5)
        for axis, count in zip((x, y), cells, strict=True)
    )
    across, up = np.meshgrid(xs, ys)
    true, said, good = _moved_sides(equation, rig, site, {x.lever: across, y.lever: up})
    off = np.where(good, _off(equation, true, said), np.nan)
    with np.errstate(all="ignore"):
        times = np.where(good & (np.abs(said) > 0.0), true / said, np.nan)
    return RuleMap(x, y, xs, ys, off, times, own, equation)


def restated(equation, times):
    """The rule put right: with the number that makes it true, (text, number); (None, None) if it has no such number."""
    number, sign = equation.knob()
    if number is None or not _LEAST < times < 1.0 / _LEAST:
        return None, None
    value = float(Fraction(equation.text[number.start : number.end]))
    right = figures(value * times**sign, 3)
    return equation.with_knob(right), right


def _sides(equation, rig, site):
    cases = Cases(rig, site)
    return work_out(equation.left, cases.value), work_out(equation.right, cases.value)


def _moved_sides(equation, rig, site, moved):
    """Both sides (arrays) on the rig with its levers moved, and where there can be such a rig."""
    rigs, place, good = family(rig, site, moved)
    shape = next(iter(moved.values())).shape
    true, said = (np.broadcast_to(side, shape).astype(float) for side in _sides(equation, rigs, place))
    return true, said, good


def levers_that_matter(equation, rig):
    """Names of the two levers that change most how far off an Equation is on rigs like `rig`, most first."""
    judge(equation, rig)  # says so where the rig has not what the rule speaks of
    spreads = {}
    for name, lever in LEVERS.items():
        try:
            own, (low, high) = own_value(name, rig, _SITE), lever.usual
            ends = np.linspace(min(low, own), max(high, own), _TRIED)
            true, said, good = _moved_sides(equation, rig, _SITE, {name: ends})
        except JetlibError:
            continue  # this rig has no such part
        with np.errstate(all="ignore"):
            times = np.log(np.abs(true / said))
        times = times[good & np.isfinite(times)]
        spreads[name] = float(np.ptp(times)) if times.size else 0.0
    first, second, *_ = sorted(spreads, key=spreads.get, reverse=True)
    return first, second


@np.errstate(all="ignore")
def _off(equation, true, said):
    """Said over true less one; 0 where both are nothing, infinite where only the truth is. Of a limit, how far past."""
    if equation.limit:
        past = (true - said) * (1.0 if equation.sign == "<" else -1.0) / np.abs(said)
        past = np.maximum(np.nan_to_num(past, posinf=np.inf), 0.0)
        return np.where(np.isfinite(true) & np.isfinite(said), past, np.nan)
    sizes = np.abs([true, said])
    scale = np.max(sizes, initial=0.0, where=np.isfinite(sizes))
    nothing = np.abs(true) <= _NOTHING * scale
    share = np.where(nothing, np.where(np.abs(said) <= _NOTHING * scale, 0.0, np.inf), (said - true) / np.abs(true))
    return np.where(np.isfinite(true) | np.isinf(said), share, np.nan)


def _stretched(axis, own):
    if axis == Axis("pump flow", *LEVERS["pump flow"].usual):  # cart and truck have no flows in common
        return Axis(axis.lever, _FLOWS[0] * own, _FLOWS[1] * own)
    margin = 0.04 * (axis.high - axis.low)
    low = own - margin if own < axis.low else axis.low
    high = own + margin if own > axis.high else axis.high
    return Axis(axis.lever, max(low, min(axis.low, 0.8 * own)) if own > 0 else low, high)


# --- the table --------------------------------------------------------------------------------------


@cache
def rules():
    """The rules of thumb in `data/rules_of_thumb.toml`, a dict of id to Rule."""
    return read_rules((DATA / "rules_of_thumb.toml").read_text("utf-8"))


def read_rules(text):
    """The rules in the text of such a file, a dict of id to Rule; JetlibError names the rule and what is wrong."""
    found = {}
    for row in toml_tables(text, "rules_of_thumb.toml", like="[[rule]]").get("rule", []):
        name = str(row.get("id", "without id"))[:40]
        missing = {"id", "group", "said", "rule", "law", "instead", "x", "y", "confidence"} - row.keys()
        if missing or name in found:
            what = f"{sorted(missing)[0]} is missing" if missing else "the id is there twice"
            raise JetlibError(f"rules_of_thumb.toml, rule {name}: {what}; write it")
        try:
            found[name] = Rule(
                id=name,
                equation=safe_on(read_rule(row["rule"]), row.get("safe", "")),
                x=read_axis(row["x"]),
                y=read_axis(row["y"]),
                source=row.get("source", CONFIDENCE),
                **{key: " ".join(str(row[key]).split()) for key in ("group", "said", "law", "instead", "confidence")},
            )
        except JetlibError as error:
            raise JetlibError(f"rules_of_thumb.toml, rule {name}: {error}") from None
    return found


def found_rules(group="", words=""):
    """The Rules of a group ("" for all) in which each of some words stands, a dict of id to Rule."""
    found = {}
    for name, rule in rules().items():
        told = " ".join((rule.group, rule.said, rule.law, rule.instead, rule.equation.text)).lower()
        if group in ("", rule.group) and all(each in told for each in words.lower().split()):
            found[name] = rule
    return found


def read_axis(words):
    """The Axis of words such as "hose length" or "hose length, 50 ft to 300 ft"."""
    lever, _, ends = words.partition(",")
    if lever not in LEVERS:
        raise JetlibError(f"{lever[:40]!r} is no way of a map; write one of: {', '.join(LEVERS)}")
    if not ends:
        return Axis(lever, *LEVERS[lever].usual)
    low, _, high = ends.partition(" to ")
    return Axis(lever, *(si(end.strip(), LEVERS[lever].kind, field=lever) for end in (low, high)))
