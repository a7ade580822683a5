"""Worked solutions: lines of arithmetic in which the left side, typed into a calculator, gives the number printed.

    worked(
        {"flow": "flow", "gauge": "pressure"},
        ("In the water: {flow} × {gauge} / [1714|600]", "water", "power"),
        ("The engine: {water} / {efficiency}", "shaft", "power"),
        answer=shaft,
    )

reads "In the water: 9.5 gpm × 3000 psi / 1714 = 16.63 hp" in US units and has 600 in metric ones. A later line goes on
with the number that was printed. The last line has to print what the exercise calls its answer; where rounding makes
it another number the variant is not offered.
"""

import ast
import math
import operator
import re
from functools import lru_cache
from typing import NamedTuple

from jetlib.course.exercises.words import picked
from jetlib.errors import JetlibError
from jetlib.units import from_si, text, unit_label
from jetlib.units.number_text import figures

_NAME = re.compile(r"\{(\w+)\}")
_ROOT = re.compile(r"√(\{\w+\}|[\d.]+)")
_SIGNS = str.maketrans({"×": "*", "−": "-", "√": "sqrt", "²": "**2"})
_DO = {ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul, ast.Div: operator.truediv,
       ast.Pow: math.pow}  # fmt: skip
_CALLS = {"sqrt": math.sqrt, "cos": lambda degrees: math.cos(math.radians(degrees))}
_LARGEST = 10**15  # whole numbers above it are floats, which end


class Printed(NamedTuple):
    """A number as it is printed: its value in the unit shown, and its words."""

    number: float
    words: str


def printed(value, kind, system, count=3):
    """The Printed of an SI value of `kind`, to `count` figures; of a bare number where kind is None."""
    if isinstance(value, str):
        return Printed(math.nan, picked(value, system))
    shown = value if kind is None else from_si(value, kind, system)
    number = figures(shown, count) if kind or isinstance(value, float) else str(value)
    return Printed(float(number), _with_unit(number, kind, system))


def worked(kinds, *steps, answer=None):
    """A solution, a function of (parameters, system): its lines.

    kinds: name -> kind of the parameters that are quantities. A step is words, in which parameters and earlier results
    stand as {name}; or (words, name, kind), arithmetic whose result gets a name, and is printed to four figures; or a
    function of the parameters that gives more steps. [this|that] is `this` in US units and `that` in metric ones.
    answer: function of the parameters; the last arithmetic must print its value to three figures.
    """

    def solution(p, system):
        plain = list(_spread(steps, p))
        used = {name for each in plain for name in _NAME.findall(each if isinstance(each, str) else each[0])}
        used = [name for name in used if name in p and not isinstance(p[name], list | tuple)]
        known = {name: printed(p[name], kinds.get(name), system) for name in used}
        said = {name: Printed(0.0, text(p[name], kinds[name], system, 3)) for name in used if name in kinds}
        last = max((at for at, step in enumerate(plain) if isinstance(step, tuple)), default=-1)
        lines = []
        for at, step in enumerate(plain):
            if isinstance(step, str):
                lines.append(_filled(step, known | said, system))
                continue
            words, name, kind, *right = step
            right = right[0] if right else answer(p) if answer is not None and at == last else None
            known[name] = found = _result(words, known, kind, system, right)
            lines.append(f"{_filled(words, known, system)} = {found.words}")
        return "\n".join(lines)

    return solution


def step(words):
    """A step as `worked` takes it, of a line such as "Area: {count} × {each} -> area area": its result and its kind."""
    arithmetic, arrow, result = words.partition(" -> ")
    if not arrow:
        return words
    name, *kind = result.split() or [""]
    if not name.isidentifier() or len(kind) > 1:
        raise JetlibError(f"{result!r} names no result; write one word for it and its kind, such as -> area area")
    return arithmetic, name, kind[0] if kind else None


def _spread(steps, p):
    for step in steps:
        yield from _spread(step(p), p) if callable(step) else [step]


def _filled(words, known, system):
    return picked(words, system).format_map({name: each.words for name, each in known.items()})


def evaluated(words, numbers, more=None):
    """What arithmetic such as "Loss: {length} × {rate}" comes to; numbers: name -> number in the units shown.

    more: what a piece may be beyond arithmetic, as `formulas` allows it where nothing is printed. Raises JetlibError
    for a number that is none.
    """
    try:
        return compiled(words, more)(numbers)
    except JetlibError:
        raise
    except (ArithmeticError, ValueError, TypeError, RecursionError) as error:
        raise JetlibError(f"{words[:80]!r} cannot be calculated: {error}; fix the formula or what is drawn") from None


@lru_cache(4000)
def compiled(words, more=None):
    """A function of {name: number} that gives what arithmetic comes to. Nothing in it is run as Python."""
    sum_of = _ROOT.sub(r"√(\1)", words.rpartition(": ")[2]).translate(_SIGNS).replace("°)", ")")
    sum_of = _NAME.sub(r"\1", sum_of)
    try:
        return _function(ast.parse(sum_of.strip(), mode="eval").body, more)
    except JetlibError:
        raise
    except (SyntaxError, ValueError, RecursionError, MemoryError, OverflowError):
        raise JetlibError(f"{words[:80]!r} is no arithmetic; write such as {{flow}} × {{gauge}} / 1714") from None


def _result(words, known, kind, system, right):
    value = evaluated(picked(words, system), {name: each.number for name, each in known.items()})
    number = figures(value, 4 if right is None else 3)
    if right is not None and number != printed(float(right), kind, system).words.split()[0].rstrip("°%"):
        raise JetlibError(f"{words!r} prints {number}, and the answer is {printed(float(right), kind, system).words}")
    return Printed(float(number), _with_unit(number, kind, system))


def _with_unit(number, kind, system):
    label = unit_label(kind, system) if kind else ""
    return f"{number}{'' if label in ('', '°') else ' '}{label}"


def _function(node, more):
    """The function of {name: number} that a piece of arithmetic stands for; its parts first."""

    def part(each):
        return _function(each, more)

    match node:
        case ast.Constant(value=int() | float() as number):
            number = number if abs(number) < _LARGEST else float(number)
            return lambda numbers: number
        case ast.Name(id=name):
            return lambda numbers: _named(numbers, name)
        case ast.UnaryOp(op=ast.USub(), operand=each):
            value = part(each)
            return lambda numbers: -value(numbers)
        case ast.BinOp(left=left, op=do, right=right) if type(do) in _DO:
            do, one, other = _DO[type(do)], part(left), part(right)
            return lambda numbers: do(_number(one(numbers)), _number(other(numbers)))
        case ast.Call(func=ast.Name(id=name), args=[each]) if name in _CALLS:
            call, value = _CALLS[name], part(each)
            return lambda numbers: call(value(numbers))
    if more is not None and (found := more(node, part)) is not None:
        return found
    raise JetlibError(f"{ast.unparse(node)} is no arithmetic; write numbers, + - × / ² √( ) cos( )")


def _named(numbers, name):
    try:
        return numbers[name]
    except KeyError:
        raise JetlibError(f"{name} is no arithmetic; write numbers, + - × / ² √( ) cos( )") from None


def _number(value):
    if isinstance(value, str):
        raise JetlibError(f"{value!r} is words, and cannot be calculated with; write a number")
    return value
