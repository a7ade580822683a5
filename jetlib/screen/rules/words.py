"""What is said about a rule of thumb: on one rig, over its map, and what to say instead. All figures are worked out."""

import numpy as np

from jetlib.rig.rules.equation import kind_of
from jetlib.rig.rules.moves import LEVERS
from jetlib.rig.rules.quantities import QUANTITIES
from jetlib.rig.rules.rules import restated
from jetlib.units import text
from jetlib.units.number_text import figures

_MANY = 3.0  # said over true from which "times too much" reads better than per cent


def kind_shown(node):
    """The kind a side of a rule is shown as: its own name's, or the first of its dimension; None for a mere number."""
    if node.do == "in":
        return None
    return QUANTITIES[node.value.name].kind if node.do == "name" else kind_of(node.dimension)


def shown(value, node, system):
    """A side's value in words; `node` is the left side, which says in what."""
    kind = kind_shown(node)
    if kind is not None:
        return text(value, kind, system)
    return f"{figures(value, 3)} {node.note or 'in SI units'}"


def side_words(verdict):
    """On which side it errs; "" where it does not, or neither side is safe."""
    if verdict.equation.limit or not verdict.side:
        return ""
    return "that is on the safe side" if verdict.side == "safe" else "that is on the UNSAFE side"


def off_words(verdict):
    """How far off, and which way: "8 % too low"."""
    if verdict.equation.limit:
        return "it is kept" if not verdict.off else f"broken by {figures(100.0 * verdict.off, 2)} %"
    if verdict.exact:
        return "it holds exactly"
    if np.isinf(verdict.off):
        return "the rule gives an amount where there is none"
    way = "too much" if verdict.off > 0 else "too little"
    if verdict.off > _MANY:
        return f"{figures(1.0 + verdict.off, 2)} times what is true"
    share = 100.0 * abs(verdict.off)
    return f"{figures(share, 3 if share >= 100.0 else 2)} % {way}"


def verdict_words(verdict, system):
    """What the rule says on this rig, what the physics gives, how far off that is, and the band."""
    left = verdict.equation.left
    said = shown(verdict.said, left, system)
    if verdict.equation.limit:
        way, true = "most" if verdict.equation.sign == "<" else "least", shown(verdict.true, left, system)
        return f"The rule wants at {way} {said}, the physics gives {true}: {off_words(verdict)}."
    if verdict.exact:
        return f"The rule says {said}, and so does the physics: it holds exactly."
    true = "zero" if np.isinf(verdict.off) else shown(verdict.true, left, system)
    told = "; ".join(each for each in (f"{off_words(verdict)}, {verdict.band}", side_words(verdict)) if each)
    return f"The rule says {said}, the physics gives {true}: {told}."


def table_words(verdict, system):
    """The same for a cell of a table."""
    left = verdict.equation.left
    if verdict.exact:
        return f"exact: {shown(verdict.true, left, system)}"
    true = "0" if np.isinf(verdict.off) else shown(verdict.true, left, system)
    side = f", {verdict.side} side" if verdict.side else ""
    said = shown(verdict.said, left, system)
    return f"{verdict.band}: the rule says {said}, the rig has {true}; {off_words(verdict)}{side}"


def instead_words(verdict, rule_map):
    """What would be right on this rig, and on the map, from the figures alone."""
    if verdict.equation.limit:
        just = restated(verdict.equation, verdict.times)[0]
        return f"The limit that this rig just keeps: {just}." if just else ""
    if verdict.exact and min(rule_map.shares[:1]) > 0.999:
        return "Keep it as it is."
    if np.isinf(verdict.off):
        return "On this rig there is none of it."
    rule, number = restated(verdict.equation, verdict.times)
    low, high = rule_map.times_range
    if rule is None:
        words = f"On this rig it is {figures(verdict.times, 3)} times what the rule says"
        spread = "" if np.isnan(low) else f", on the map {_two(low)} to {_two(high)} times"
        return f"{words}{spread}."
    ends = sorted(_number(restated(verdict.equation, end)[1]) for end in (low, high))
    spread = ""
    if all(np.isfinite(ends)):
        low, high = map(_two, ends)
        span = low if low == high else f"{low} to {high}"
        spread = f" On the map the number is {span}."
    return f"On this rig: {rule}.{spread}" if number else ""


def map_words(rule_map):
    """How much of the map lies in each band."""
    near, fair, off = (f"{100.0 * share:.0f} %" for share in rule_map.shares)
    x, y = (LEVERS[axis.lever].label for axis in (rule_map.x, rule_map.y))
    best, next_, last = rule_map.names
    shares = f"{best} on {near} of the map, {next_} on {fair} more, and {last} on {off}"
    return f"When the {x} and the {y} change, the rule is {shares}."


def _number(words):
    return np.nan if words is None else float(words.replace(",", ""))


def _two(number):
    """Two figures, without idle zeros."""
    return figures(float(f"{number:.2g}"), 2)
