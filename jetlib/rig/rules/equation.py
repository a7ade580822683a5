"""A rule as an equation of named quantities, worked out on floats or arrays. `read_equation` makes one of text."""

from dataclasses import dataclass
from functools import reduce

import numpy as np


@dataclass(frozen=True)
class Node:
    """A piece of a rule. do: "number", "name", "in", "+", "-", "*", "/", "^", "negative", or a function.

    value: a number (SI), an exponent, or the key of a name. start, end: place in the text; a number's is that of its
    figures. note: the unit as typed, of a number or an "in".
    """

    do: str
    dimension: tuple
    start: int
    end: int
    value: object = None
    parts: tuple = ()
    note: str = ""

    def names(self):
        """Keys of all the names in it, a set."""
        own = {self.value} if self.do == "name" else set()
        return own.union(*(part.names() for part in self.parts))


@dataclass(frozen=True)
class Equation:
    """A typed rule: `left`, what it is about, and `right`, what the rule says that is.

    sign: "=", or "<" or ">" for a limit that the left side is to keep.
    """

    text: str
    left: Node
    right: Node
    sign: str = "="

    @property
    def limit(self):
        """Whether it is a limit to be kept, not a figure to be right."""
        return self.sign != "="

    def names(self):
        """Keys of all the names in it, a set."""
        return self.left.names() | self.right.names()

    def knob(self):
        """(Node, sign) of the number that the right side is in proportion to; sign -1: against. (None, 0) without."""
        return _knob(self.right)

    def with_knob(self, words):
        """The text with other words for that number; a half must not become 0.52 times 0.5, so it is replaced."""
        number, _ = self.knob()
        return " ".join(f"{self.text[: number.start]}{words}{self.text[number.end :]}".split())


def work_out(node, look_up):
    """The value (SI, float or array) of a Node; look_up gives the value of a key. Not finite where it has none."""
    with np.errstate(all="ignore"):
        return _value(node, look_up)


def _value(node, look_up):
    if node.do == "number":
        return node.value
    if node.do == "name":
        return np.asarray(look_up(node.value), dtype=float)
    parts = [_value(part, look_up) for part in node.parts]
    if node.do == "^":
        return np.power(np.asarray(parts[0], dtype=float), float(node.value))
    if node.do == "in":
        return parts[0] / node.value
    return _DO[node.do](*parts) if len(parts) < 3 else reduce(_DO[node.do], parts)


_DO = {
    "+": np.add, "-": np.subtract, "*": np.multiply, "/": np.divide, "negative": np.negative, "sqrt": np.sqrt,
    "min": np.minimum, "max": np.maximum,
}  # fmt: skip


def _knob(node):
    if node.do == "number":
        return (node, 1) if node.value else (None, 0)
    if node.do in ("negative", "in"):
        return _knob(node.parts[0])
    if node.do in ("*", "/"):
        found, sign = _knob(node.parts[0])
        if found is None:
            found, sign = _knob(node.parts[1])
            sign = -sign if node.do == "/" else sign
        return found, sign
    return None, 0
