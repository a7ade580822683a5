"""Exercises answered with numbers and their units: one number, or the empty cells of a table."""

import math
import re
from collections.abc import Callable
from dataclasses import dataclass

from jetlib.course.exercises.exercise import Exercise, Verdict, apart, is_number, near
from jetlib.course.exercises.words import listed, percent, sentence
from jetlib.errors import JetlibError, WrongKind
from jetlib.units import SYSTEMS, example, text
from jetlib.units.entry import amount
from jetlib.units.refusal import page_words

_MOST_TYPED = 64
_FIGURE = re.compile(r"\s*[-+−]?[\d.,]+(?=\s*[^\d\s.,/])")  # before a unit


@dataclass(frozen=True, kw_only=True)
class _Measured(Exercise):
    """tolerance: how near counts as right, as a share of the answer. The reader is told."""

    tolerance: float = 0.03

    def rule(self):
        return f"An answer within {percent(self.tolerance)} counts as right."

    def _judged(self, typed, kind, right, wrong, system):
        """The Verdict on a typed number; wrong: (Mistake, number), None for a number that is not wrong."""
        read = read_number(typed, kind, system)
        if isinstance(read, Verdict):
            return read
        if near(read, right, self.tolerance):
            return Verdict("right", "Right.")
        for mistake, value in wrong:
            if value is not None and near(read, value, self.tolerance):
                return Verdict("mistake", "Not yet.", mistake.name)
        return Verdict("wrong", _wrong_words(read, right))


@dataclass(frozen=True, kw_only=True)
class Numeric(_Measured):
    """One number with a unit. kind: a key of `jetlib.units.kinds.KINDS`. answer(parameters): the number in SI."""

    kind: str
    answer: Callable

    def right_answer(self, parameters):
        return float(self.answer(parameters))

    def _unfit(self, parameters):
        named = [(name, float(value)) for name, value in self.named_values(parameters)]
        return _unfit(named, self.kind, self.tolerance)

    def _check(self, variant, reply, system):
        verdict = self._judged(reply, self.kind, variant.answer, variant.wrong, system)
        if verdict.status == "wrong" and _only_unit_is_wrong(reply, self.kind, variant.answer, self.tolerance):
            return Verdict("wrong", "Right figure, wrong unit. Which unit does your working end in?")
        return verdict

    def reply_words(self, variant, value, system):
        return text(value, self.kind, system, 6)

    def answer_words(self, variant, system):
        return text(variant.answer, self.kind, system, 3)


@dataclass(frozen=True, kw_only=True)
class FillTable(_Measured):
    """A table with empty cells. columns: (heading, kind) each, kind None for words. rows(parameters): the full table,
    rows of SI numbers (words where kind is None); blanks: the (row, column) of the cells to fill, from 0, in columns
    that have a kind.

    A Mistake's `wrong` gives one number for each blank, None where that mistake leaves the cell right.
    """

    columns: tuple
    rows: Callable
    blanks: tuple

    def right_answer(self, parameters):
        table = self.rows(parameters)
        return tuple(float(table[row][column]) for row, column in self.blanks)

    def kinds(self):
        """The kind of each blank."""
        return tuple(self.columns[column][1] for _, column in self.blanks)

    def cells(self, variant, system):
        """Rows of text; None where the reader fills in. The headings are in `columns`."""
        rows = self.rows(variant.in_system(system).parameters)
        return tuple(tuple(self._texts(row, values, system)) for row, values in enumerate(rows))

    def _texts(self, row, values, system):
        for column, value in enumerate(values):
            kind = self.columns[column][1]
            yield None if (row, column) in self.blanks else str(value) if kind is None else text(value, kind, system, 3)

    def blank_name(self, variant, number, system="US"):
        """Words for one blank: the heading of its column, and what its row begins with."""
        row, column = self.blanks[number]
        first = next((cell for cell in self.cells(variant, system)[row] if cell is not None), f"row {row + 1}")
        return f"{self.columns[column][0]} for {first}"

    def _unfit(self, parameters):
        named = self.named_values(parameters)
        for number, kind in enumerate(self.kinds()):
            here = [(name, values[number]) for name, values in named if values[number] is not None]
            if reason := _unfit(here, kind, self.tolerance):
                return reason
        return ""

    def _check(self, variant, reply, system):
        if reply is None or (isinstance(reply, str) and not reply.strip()):
            reply = [""] * len(self.blanks)
        if not isinstance(reply, list | tuple) or len(reply) != len(self.blanks):
            return Verdict("unreadable", f"Fill in the {len(self.blanks)} empty cells, each with its unit.")
        cells = []
        for number, (typed, kind) in enumerate(zip(reply, self.kinds(), strict=True)):
            wrong = [(mistake, values[number]) for mistake, values in variant.wrong]
            cells.append(self._judged(typed, kind, variant.answer[number], wrong, system))
        return self._together(variant, tuple(cells), system)

    def _together(self, variant, cells, system):
        """The Verdict on the whole table."""
        count, statuses = len(cells), [cell.status for cell in cells]
        names = [self.blank_name(variant, number, system) for number in range(count)]
        for status in ("wrong kind", "unreadable"):
            if status in statuses:
                at = statuses.index(status)
                return Verdict(status, f"{sentence(names[at])[:-1]}: {cells[at].words}", "", cells)
        done, filled = statuses.count("right"), count - statuses.count("not attempted")
        if not filled:
            return Verdict("not attempted", f"Nothing filled in yet: {count} cells to go.", "", cells)
        if done == count:
            return Verdict("right", f"Right, all {count} cells.", "", cells)
        if done == filled:
            return Verdict("not attempted", f"Right so far: {done} of {count}. Fill in the rest.", "", cells)
        off = [name for name, status in zip(names, statuses, strict=True) if status in ("wrong", "mistake")]
        mistake = next((cell.mistake for cell in cells if cell.mistake), "")
        words = f"{done} of {count} cells right. Look again at: {listed(off)}."
        return Verdict("mistake" if mistake else "wrong", words, mistake, cells)

    def reply_words(self, variant, value, system):
        right = variant.answer
        return [
            text(right[number] if each is None else each, kind, system, 6)
            for number, (each, kind) in enumerate(zip(value, self.kinds(), strict=True))
        ]

    def answer_words(self, variant, system):
        cells = zip(self.kinds(), variant.answer, strict=True)
        return "; ".join(
            f"{self.blank_name(variant, number, system)}: {text(value, kind, system, 3)}"
            for number, (kind, value) in enumerate(cells)
        )


def read_number(reply, kind, system="US"):
    """The SI value of a typed reply (a bare number in the units of the page), or the Verdict that says why not."""
    if reply is None or (isinstance(reply, str) and not reply.strip()):
        return Verdict("not attempted", "Nothing typed yet. Type a number and its unit.")
    if not isinstance(reply, str):
        reply = str(reply) if is_number(reply) else ""
    if not reply or len(reply) > _MOST_TYPED:
        return Verdict("unreadable", f"That cannot be read as a number. Write such as {example(kind, system)}.")
    try:
        return float(amount(reply, kind, system))
    except JetlibError as error:
        # The line to write instead is left out: it could be the answer.
        words = page_words(error, system).split("; write such as ")[0]
        return Verdict("wrong kind" if isinstance(error, WrongKind) else "unreadable", sentence(words))


def _only_unit_is_wrong(reply, kind, right, tolerance):
    """Whether the number alone is right in the units of one system or the other."""
    figure = _FIGURE.match(str(reply))
    if figure is None:
        return False
    found = (read_number(figure[0].strip(), kind, system) for system in SYSTEMS)
    return any(not isinstance(each, Verdict) and near(each, right, tolerance) for each in found)


def _wrong_words(value, right):
    """Which way a number is off, and no more."""
    if value and right and (value > 0) != (right > 0):
        return "Not yet. Check the sign: which way does it act?"
    if value and right:
        tens = math.log10(abs(value / right))
        if abs(tens) > 0.9 and abs(tens - round(tens)) < 0.01:
            return "Not yet. The digits are right. Check the decimal point and each unit you converted."
    return f"Not yet. That is too {'high' if value > right else 'low'}."


def _unfit(named, kind, tolerance):
    """Why numbers, (name, SI value), the answer first, are not offered; "" if they are: two cannot be told apart, or
    a reader of one of the unit systems could not type the answer."""
    for at, (name, value) in enumerate(named):
        if not is_number(float(value)):
            return f"{name} is {value}"
        for other, number in named[:at]:
            if not apart(value, number, tolerance):
                return f"{name} ({value:.4g}) cannot be told from {other} ({number:.4g}) within {tolerance:.3g}"
    answer = named[0][1]
    for system in SYSTEMS:
        read = read_number(text(answer, kind, system, 6), kind)
        if isinstance(read, Verdict) or not math.isclose(read, answer, rel_tol=1e-4, abs_tol=1e-12):
            return f"the answer ({answer:.4g}) cannot be written as {kind} in {system} units"
    return ""
