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
on with the entry before. Labels are ask, hint (two), solve, option KEY, and the names in `wrong`. A name that
`mistakes` knows needs no words. "[this|that]" is `this` in US units and `that` in metric ones.

A `solve` line with "-> name kind" is arithmetic whose result gets a name (see `worked`); the last one gives the answer,
unless answer=function is passed: then it must print what that function gives. `wrong` maps the name of a mistake to
what it leads to: a formula in the same notation, which may use the results of the solve lines, or a function of the
parameters; a key for a choice.
"""

import re
from textwrap import dedent

from jetlib.course.exercises import mistakes as library
from jetlib.course.exercises.choosing import MultipleChoice, Ordering, SingleChoice
from jetlib.course.exercises.exercise import Mistake
from jetlib.course.exercises.formulas import formula
from jetlib.course.exercises.numeric import FillTable, Numeric
from jetlib.course.exercises.worked import step, worked
from jetlib.errors import JetlibError

_LABELS = r"ask|hint|solve|option [\w -]+"


class Text:
    """The text of an exercise taken apart: title, ask, hints, solve, options, and words of mistakes."""

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
        self.steps = tuple(step(words) for words in self.all("solve"))

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


def table(id, text, *, wrong, solution=None, **rest):
    """A FillTable from its text. The solution: `solve` lines, or a function."""
    said = Text(id, text, wrong)
    solution = solution or worked(rest.get("shown", {}), *said.steps)
    return FillTable(**said.common(wrong, lambda value: value, rest), solution=solution, **rest)


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
