"""Shapes of exercises: what is said stands together as text, and the arithmetic is written once, as it is printed.

    numeric(
        "02-square-law",
        '''
        Another flow through the same jets
        ask: At {flow} the gauge reads {pressure}. What does it read at {new_flow}?
        hint: How many times the old flow is the new flow?
        hint: Square that ratio and multiply the old pressure by it.
        solve: Flow ratio: {new_flow} / {flow} -> ratio
        solve: {pressure} × {ratio}² -> gauge pressure
        doubled: You doubled the ratio. To square a number, multiply it by itself.
        ''',
        kind="pressure",
        wrong={"doubled": "2 × {pressure} × {new_flow} / {flow}", "linear instead of square": ...},
        skills=..., draw=..., given=..., shown=...,
    )

The text: the title in its first line, then entries, each a label and its words; a line that begins with no label goes
on with the entry before. Labels are ask, hint (two), solve, option KEY, item, and the names in `wrong`. A name that
`mistakes` knows needs no words. "[this|that]" is `this` in US units and `that` in metric ones.

A `solve` line with "-> name kind" is arithmetic whose result gets a name (see `worked`); the last one gives the answer,
unless answer=function is passed: then it must print what that function gives. `wrong` maps the name of a mistake to
what it leads to: a formula in the same notation, which may use the results of the solve lines, or a function of the
parameters; a key for a choice.
"""

import re
from itertools import pairwise
from textwrap import dedent

from jetlib.course.exercises import mistakes as library
from jetlib.course.exercises.choosing import MultipleChoice, Ordering, SingleChoice
from jetlib.course.exercises.exercise import Mistake
from jetlib.course.exercises.numeric import FillTable, Numeric
from jetlib.course.exercises.words import Show
from jetlib.course.exercises.worked import evaluated, worked
from jetlib.errors import JetlibError
from jetlib.units import from_si, to_si

_LABELS = r"ask|hint|solve|item|option [\w -]+"


class Text:
    """The text of an exercise taken apart: title, ask, hints, solve, item, options, and words of mistakes."""

    def __init__(self, id, text, names=()):
        self.id, (self.title, *lines) = id, dedent(text).strip().splitlines()
        label = re.compile(rf"({_LABELS}|{'|'.join(map(re.escape, names)) or '$'}): (.*)")
        found = []
        for line in lines:
            if match := label.fullmatch(line.strip()):
                found.append([match[1], match[2]])
            elif not found:
                raise JetlibError(f"{id}: {line[:60]!r} follows the title; begin it with a label, such as ask:")
            else:
                found[-1][1] += f" {line.strip()}" if line.strip() else "\n\n"
        found = [(label, words.strip().replace("\n\n ", "\n\n")) for label, words in found]
        self._found, self.words = found, dict(found)
        self.hints = self.all("hint")
        self.options = tuple((label[7:], words) for label, words in found if label.startswith("option "))
        self.steps = tuple(_step(words) for words in self.all("solve"))

    def all(self, label):
        """The words of every entry with this label."""
        return tuple(words for each, words in self._found if each == label)

    def mistakes(self, wrong, made):
        """The Mistakes of `wrong`; made(value) is the function of the parameters that a value stands for."""
        known = library.WORDS
        missing = [name for name in wrong if name not in self.words and name not in known]
        if missing:
            raise JetlibError(f"{self.id}: no words for {', '.join(missing)}; write a line that begins with the name")
        return tuple(Mistake(name, self.words.get(name) or known[name], made(value)) for name, value in wrong.items())

    def common(self, wrong, made, rest):
        """What every kind of exercise takes from the text. Numbers are the reader's own, also where nothing follows."""
        rest.setdefault("given", lambda p: {})
        return {
            "id": self.id,
            "title": self.title,
            "ask": self.words["ask"],
            "hints": self.hints,
            "mistakes": self.mistakes(wrong, made),
        }


def _step(words):
    arithmetic, arrow, result = words.partition(" -> ")
    if not arrow:
        return words
    name, *kind = result.split()
    return arithmetic, name, kind[0] if kind else None


def formula(words, kinds, kind=None, steps=()):
    """A function of the parameters: what arithmetic such as "{flow} × {gauge} / [1714|600]" gives, SI.

    kinds: name -> kind of the parameters that are quantities; steps: worked steps whose results it may use.
    """

    def value(p):
        known = {name: from_si(p[name], of, "US") if of else p[name] for name, of in _kinds_of(p, kinds)}
        for step in steps:
            if isinstance(step, tuple) and step[0] != words:
                known[step[1]] = evaluated(step[0], known, Show("US"))
        found = evaluated(words, known, Show("US"))
        return float(found if kind is None else to_si(found, kind, "US"))

    return value


def _kinds_of(p, kinds):
    return [(name, kinds.get(name)) for name in p if isinstance(p[name], int | float)]


def numeric(id, text, *, kind, wrong, shown, answer=None, solution=None, **rest):
    """A Numeric from its text. answer: a function of the parameters, in place of what the last solve line gives."""
    said = Text(id, text, wrong)
    sums = [step for step in said.steps if isinstance(step, tuple)]
    if answer is None:
        answer = formula(sums[-1][0], shown, kind, sums[:-1])

    def made(value):
        return formula(value, shown, kind, sums) if isinstance(value, str) else value

    solution = solution or worked(shown, *said.steps, answer=answer)
    return Numeric(**said.common(wrong, made, rest), kind=kind, shown=shown, answer=answer, solution=solution, **rest)


def power_law(id, text, *, value, ratio, power, wrong, labels=("Ratio", "To that power"), **rest):
    """A Numeric whose answer is `value` times (ratio[0] / ratio[1]) to a whole power, or to 0.5.

    value, ratio: names of parameters. wrong: as for `numeric`; a number is that power in place of the right one.
    labels: words for the ratio, and for the ratio to that power. The solution is written from them.
    """
    new, old = ratio
    root = power == 0.5
    raised = "√{times}" if root else " × ".join(["{times}"] * power)
    lines = [f"solve: {labels[0]}: {{{new}}} / {{{old}}} -> times"]
    lines += [] if power == 1 else [f"solve: {labels[1]}: {raised} -> factor"]
    lines += [f"solve: {{{value}}} × {'{times}' if power == 1 else '{factor}'} -> found {rest['kind']}"]

    def told(wrong_value):
        if isinstance(wrong_value, int | float):
            return f"{{{value}}} × ({{{new}}} / {{{old}}}) ** ({wrong_value})"
        return wrong_value

    wrong = {name: told(each) for name, each in wrong.items()}
    return numeric(id, dedent(text).rstrip() + "\n" + "\n".join(lines), wrong=wrong, **rest)


def table(id, text, *, wrong, solution=None, **rest):
    """A FillTable from its text. The solution: `solve` lines, or a function."""
    said = Text(id, text, wrong)
    solution = solution or worked(rest.get("shown", {}), *said.steps)
    return FillTable(**said.common(wrong, lambda value: value, rest), solution=solution, **rest)


def power_table(id, text, *, known, steps, columns, power, wrong, shown, **rest):
    """A FillTable of two columns: known values times each of `steps`, and those times steps to a power.

    known: names of the parameters that the row of step 1 holds. The other rows ask for the second column. wrong: name
    of a mistake -> the power that it leads to.
    """
    first, second = known
    kind = columns[1][1]
    others = tuple(step for step in steps if step != 1.0)

    def cells(of_power):
        return lambda p: tuple(p[second] * step**of_power for step in others)

    raised = " × ".join(["{step:g}"] * power)
    line = "At {first}: {value} × " + (f"{raised}" if power == 1 else f"({raised})")

    def solution(p, show):
        rows = [
            (line.format(first=show(p[first] * step, columns[0][1]), value=f"{{{second}}}", step=step), f"n{at}", kind)
            for at, step in enumerate(others)
        ]
        return worked(shown, *Text(id, text, wrong).steps, *rows)(p, show)

    return table(
        id,
        text,
        wrong={name: cells(each) if isinstance(each, int | float) else each for name, each in wrong.items()},
        columns=columns,
        shown=shown,
        rows=lambda p: tuple((p[first] * step, p[second] * step**power) for step in steps),
        blanks=tuple((at, 1) for at, step in enumerate(steps) if step != 1.0),
        solution=solution,
        **rest,
    )


def _key_made(value):
    return value if callable(value) else lambda p: value


def choice(id, text, *, answer, wrong, many=False, of=None, options=None, solution=None, **rest):
    """A SingleChoice from its text, or with many=True a MultipleChoice. answer and wrong: keys, or functions of p."""
    said = Text(id, text, wrong)
    return (of or (MultipleChoice if many else SingleChoice))(
        **said.common(wrong, _key_made, rest),
        options=said.options if options is None else options,
        answer=_key_made(answer),
        solution=solution or worked(rest.get("shown", {}), *said.steps),
        **rest,
    )


def predicted(made, id, text, **rest):
    """A prediction of the class `made` from its text: title, ask, because, and option KEY where there are choices."""
    said = Text(id, text, ("because",))
    words = {"because": said.words["because"]} if "because" in said.words else {}
    options = {"options": said.options} if said.options else {}
    return made(id=id, title=said.title, ask=said.words["ask"], **words, **options, **rest)


def ranked_by_key(id, text, **rest):
    """An Ordering of the text's options. answer and wrong: all keys in a row, the first first, or functions of p."""
    return choice(id, text, of=Ordering, **rest)


def ranked(id, text, *, by, kind, wrong, shown, item_kinds, apart=1.2, top=None, total=None, reject=None, **rest):
    """An Ordering of four items a to d, the one with the lowest `by` first.

    The text's `item` says one of them, with its own parameters such as {length}, which are drawn as length_a to
    length_d; item_kinds: name -> kind of those (None for words). by(p, key): what they are ordered by, of `kind`;
    total: (arithmetic, kind) for the lines of the solution, where they show more than that number. wrong: name ->
    another measure(p, key), or "reversed". Not offered: two nearer than the factor `apart`, or one above `top`.
    """
    said = Text(id, text, wrong)
    names = tuple(item_kinds)

    def of(words, key):
        return re.sub(rf"\{{({'|'.join(names)})\}}", rf"{{\1_{key}}}", words)

    def order(measure):
        return lambda p: tuple(sorted("abcd", key=lambda key: (measure(p, key), key)))

    def made(value):
        return (lambda p: order(by)(p)[::-1]) if value == "reversed" else order(value)

    def silly(p):
        values = sorted(abs(by(p, key)) for key in "abcd")
        near = any(high < apart * low for low, high in pairwise(values))
        return near or (top is not None and values[-1] > top) or (reject is not None and reject(p))

    all_kinds = shown | {f"{name}_{key}": of_name for name, of_name in item_kinds.items() for key in "abcd" if of_name}

    def rows(p):
        for key in order(by)(p):
            words = of(said.words["item"], key)
            yield (f"{words}: {of(total[0], key)}", f"n{key}", total[1]) if total else f"{words}: {{by_{key}}}"

    def solution(p, show):
        found = {**p, **{f"by_{key}": abs(by(p, key)) for key in "abcd"}}
        return worked(all_kinds | {f"by_{key}": kind for key in "abcd"}, *said.steps, rows)(found, show)

    return Ordering(
        **said.common(wrong, made, rest),
        options=tuple((key, of(said.words["item"], key)) for key in "abcd"),
        answer=order(by),
        reject=silly,
        shown=all_kinds,
        solution=solution,
        **rest,
    )
