"""Reads a rule: an equation of named quantities, by precedence, with its units checked.

    sum = sum, or < or > for a limit        sum: terms with + and -        term: factors with * and /
    factor: a number with or without a unit, a name, sqrt( ), min( , ), max( , ), ( ), to a power written as a number;
    `of` behind a number, or nothing behind a percentage, is times (10 % of gauge); behind a name or a bracket `in psi`
    makes the plain number it is in that unit; a unit alone stands for a quantity in it (SPOKEN).

Nothing is ever handed to Python to run. Length, depth and powers are bounded (`LONGEST`, `DEEPEST`, `STEEPEST`).
"""

from dataclasses import replace
from fractions import Fraction

from jetlib.rig.rules.equation import PLAIN, Equation, Node, noun, spellings, times, unit
from jetlib.rig.rules.tokens import EXAMPLE, refuse, tokens

DEEPEST = 20
STEEPEST = 6
SIGNS = ("=", "<", ">")
FUNCTIONS = ("sqrt", "min", "max")
#: What is meant by a unit where a quantity should stand.
SPOKEN = {
    "gpm": "nozzle flow", "psi": "gauge", "bar": "gauge", "hp": "shaft power", "kw": "shaft power", "ft": "hose length",
    "feet": "hose length", "lbf": "pull",
}  # fmt: skip
_HALF = Fraction(1, 2)


def read_equation(typed, resolve):
    """The Equation of a typed rule.

    resolve: takes the list of words from a place on, lower case, and gives (how many it took, key, dimension), or
    raises LookupError with what to write instead. JetlibError says what is wrong, where, and what to write.
    """
    return _Reader(typed, resolve).equation()


def _a(words):
    return f"{'an' if words[0] in 'aeiou' else 'a'} {words}"


class _Reader:
    """Reads one typed rule from its tokens."""

    def __init__(self, typed, resolve):
        self.text, self.tokens = tokens(typed)
        self.resolve, self.at, self.depth = resolve, 0, 0

    # --- the parts of an equation -----------------------------------------------------------------

    def equation(self):
        left = self.sum()
        sign = self.take(*SIGNS)
        if not sign:
            raise self.wrong("the rule has no = here, and no < or >", EXAMPLE)
        right = self.sum()
        if self.here.kind != "end":
            raise self.wrong("the rule does not go on like this", "a sign such as * or + before it, or take it out")
        if not left.names():
            raise refuse(self.text, 0, "the left side names nothing of a rig", EXAMPLE)
        if left.dimension != right.dimension:
            of, other = noun(left.dimension), noun(right.dimension)
            if "plain number" in (of, other):
                fix = "the plain side with a unit, or the other with one taken off it, such as gauge in psi"
            else:
                fix = f"a right side that is {_a(of)} too"
            raise refuse(
                self.text, right.start, f"the left side is {_a(of)}, the right side {_a(other)}: never equal", fix
            )
        return Equation(self.text, left, right, sign)

    def sum(self):
        node = self.term()
        while do := self.take("+", "-"):
            other = self.term()
            self.same(node, other, "added" if do == "+" else "taken away")
            node = Node(do, node.dimension, node.start, other.end, parts=(node, other))
        return node

    def term(self):
        node = self.signed()
        while do := self.take("*", "/") or self.times_unsaid(node):
            other = self.signed()
            dimension = times(node.dimension, other.dimension, 1 if do == "*" else -1)
            node = Node(do, dimension, node.start, other.end, parts=(node, other))
        return node

    def times_unsaid(self, node):
        """ "*" where `of` follows a number, or a name a percentage."""
        if node.do == "number" and (self.take("of") or (node.note == "%" and self.a_name(0))):
            return "*"
        return ""

    def signed(self):
        start, negative = self.here.start, False
        while sign := self.take("+", "-"):
            negative ^= sign == "-"
        node = self.power()
        return Node("negative", node.dimension, start, node.end, parts=(node,)) if negative else node

    def power(self):
        node = self.atom()
        if node.do != "number" and self.take("in"):
            node = self.taken_in(node)
        if self.take("^"):
            exponent = self.exponent()
            dimension = tuple(exponent * each for each in node.dimension)
            node = Node("^", dimension, node.start, self.before.end, exponent, (node,))
        if self.here.text == "^":
            raise self.wrong("a power of a power", "it with brackets")
        return node

    def exponent(self):
        start = self.here.start
        bracket = self.take("(")
        sign = -1 if self.take("-") else 1
        value = self.plain_number()
        if bracket and self.take("/"):
            bottom = self.plain_number()
            value = value / bottom if bottom else Fraction(STEEPEST + 1)
        if bracket and not self.take(")"):
            raise self.wrong("the bracket around the power is not shut", ")")
        if value > STEEPEST:
            raise refuse(self.text, start, "the power is too steep", f"one from -{STEEPEST} to {STEEPEST}")
        return sign * value

    def plain_number(self):
        if self.here.kind != "number":
            raise self.wrong("a power must be a number written out", "it like ^2 or ^0.5")
        return Fraction(self.step().value).limit_denominator(1000)

    # --- the smallest parts -----------------------------------------------------------------------

    def atom(self):
        token = self.here
        if token.kind == "number":
            return self.number()
        if self.take("("):
            (node,) = self.inside(token.start, "a bracket")
            return replace(node, start=token.start, end=self.before.end) if node.do != "number" else node
        if token.text == "√" or (token.kind == "word" and token.text.lower() in FUNCTIONS and self.opens(1)):
            return self.function()
        if token.kind == "word":
            return self.name()
        what = "the rule stops here" if token.kind == "end" else f"{token.text} stands where a quantity should"
        raise self.wrong(what, f"a name or a number, as in {EXAMPLE}")

    def inside(self, start, bracket, *, several=False):
        """What stands in a bracket up to its end: sums of one kind with commas between, where there may be several."""
        self.depth += 1
        if self.depth > DEEPEST:
            raise refuse(self.text, start, f"brackets inside brackets, more than {DEEPEST} deep", "fewer of them")
        parts = [self.sum()]
        while several and self.take(","):
            parts.append(self.sum())
            self.same(parts[0], parts[-1], "compared")
        if not self.take(")"):
            raise self.wrong(f"{bracket} is not shut", ") where it ends")
        self.depth -= 1
        return parts

    def function(self):
        token = self.step()
        do = "sqrt" if token.text == "√" else token.text.lower()
        if not self.take("("):
            raise self.wrong("a bracket is missing", "sqrt( ) around what the root is of")
        parts = self.inside(token.start, f"the bracket of {do}", several=True)
        if (do == "sqrt") != (len(parts) == 1):
            need = "one quantity" if do == "sqrt" else "two or more, with commas between"
            raise refuse(self.text, token.start, f"{do} takes {need}", f"{do}( ) like that")
        dimension = parts[0].dimension
        if do == "sqrt":
            dimension = tuple(_HALF * each for each in dimension)
        return Node(do, dimension, token.start, self.before.end, parts=tuple(parts))

    def number(self):
        token = self.step()
        factor, dimension, note = self.unit_here()
        if self.here.kind == "number" and self.here.text not in ("²", "³"):
            raise self.wrong("two numbers side by side", "a sign such as * between them, and 3000 for 3,000")
        return Node("number", dimension, token.start, token.end, token.value * factor, note=note)

    def taken_in(self, node):
        start = self.here.start
        factor, dimension, note = self.unit_here()
        if not note:
            raise self.wrong("no unit known here stands after in", f"one of: {', '.join(spellings())}")
        if dimension != node.dimension:
            raise refuse(
                self.text, start, f"{_a(noun(node.dimension))} cannot be had in {note}, {_a(noun(dimension))}",
                f"a unit of {noun(node.dimension)}",
            )  # fmt: skip
        return Node("in", PLAIN, node.start, self.before.end, factor, (node,), note)

    def unit_here(self):
        """(factor, dimension, as typed) of the unit that stands here; (1, plain, "") if none does."""
        factor, dimension, start, sign = 1.0, PLAIN, self.here.start, 1
        while self.here.kind == "word" and not self.opens(1):
            found = unit(self.here.text)
            if found is None:
                break
            self.step()
            power = 1
            if self.here.text == "^" and self.peek(1).kind == "number" and self.peek(1).value in (2.0, 3.0):
                self.step()
                power = int(self.step().value)
            factor *= found[0] ** (sign * power)
            dimension = times(dimension, found[1], sign * power)
            follows = self.peek(1)
            goes_on = self.here.text in ("*", "/") and follows.kind == "word" and unit(follows.text)
            if not goes_on or self.opens(2) or self.a_name(1):
                break
            sign = 1 if self.step().text == "*" else -1
        return factor, dimension, self.text[start : self.before.end] if dimension != PLAIN or factor != 1.0 else ""

    def name(self):
        """A quantity of a rig; a unit in its place, such as psi for the gauge in psi, is the number in that unit."""
        self.take("the")
        start, words = self.here.start, self.words(0)
        meant = words
        if words and words[0] in SPOKEN and not self.a_name(0):
            meant = [*SPOKEN[words[0]].split(), *words[1:]]
        try:
            count, key, dimension = self.resolve(meant)
        except LookupError as problem:
            what, write = problem.args
            raise refuse(self.text, start, f"no quantity is called that{what}", write) from None
        self.at += count - len(meant) + len(words)
        node = Node("name", dimension, start, self.before.end, key)
        if meant is words:
            return node
        return Node("in", PLAIN, start, node.end, unit(words[0])[0], (node,), words[0])

    # --- moving along ------------------------------------------------------------------------------

    @property
    def here(self):
        return self.tokens[self.at]

    @property
    def before(self):
        return self.tokens[max(self.at - 1, 0)]

    def peek(self, ahead):
        return self.tokens[min(self.at + ahead, len(self.tokens) - 1)]

    def step(self):
        token = self.here
        self.at = min(self.at + 1, len(self.tokens) - 1)
        return token

    def take(self, *wanted):
        """The sign or word here, lower case, with a step past it, if it is one of those wanted; "" if not."""
        text = self.tokens[self.at].text.lower()
        if text not in wanted:
            return ""
        self.at += 1
        return text

    def opens(self, ahead):
        return self.peek(ahead).text == "("

    def words(self, ahead):
        """The run of words from `ahead` on, lower case."""
        found, place = [], self.at + ahead
        while self.tokens[place].kind == "word":
            found.append(self.tokens[place].text.lower())
            place += 1
        return found

    def a_name(self, ahead):
        """Whether a name of a rig's quantity begins there, though its first word is a unit too."""
        try:
            words = self.words(ahead)
            return self.resolve(words[words[:1] == ["the"] :])[0] > 0
        except LookupError:
            return False

    def same(self, one, other, done):
        if one.dimension != other.dimension:
            of, and_ = noun(one.dimension), noun(other.dimension)
            raise refuse(self.text, other.start, f"{_a(of)} and {_a(and_)} cannot be {done}", "two of one kind there")

    def wrong(self, what, write):
        return refuse(self.text, self.here.start, what, write)
