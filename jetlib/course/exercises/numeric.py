"""Exercises answered with numbers and their units: one number, or the empty cells of a table."""

import math
import re
from collections.abc import Callable
from dataclasses import dataclass

from jetlib.course.exercises.exercise import Exercise, Verdict, apart, is_number, near, tolerance_rule
from jetlib.course.exercises.words import Show, listed, sentence
from jetlib.errors import JetlibError, WrongKind
from jetlib.units import SYSTEMS, example, text
from jetlib.units.entry import amount
from jetlib.units.kinds import KINDS
from jetlib.units.refusal import page_words

_MOST_TYPED = 64
_FIGURE = re.compile(r"\s*[-+−]?[\d.,]+(?=\s*[^\d\s.,/])")  # before a unit


@dataclass(frozen=True, kw_only=True)
class Numeric(Exercise):
    """One number with a unit. kind: a key of `jetlib.units.kinds.KINDS`. answer(parameters): the number in SI.

    tolerance: how near counts as right, as a share of the answer. The reader is told.
    """

    kind: str
    answer: Callable
    tolerance: float = 0.03

    def __post_init__(self):
        super().__post_init__()
        _known_kind(self.id, self.kind)

    def right_answer(self, parameters):
        return float(self.answer(parameters))

    def rule(self):
        return tolerance_rule(self.tolerance)

    def _unfit(self, parameters):
        values = [("the answer", self.right_answer(parameters))]
        values += [(mistake.name, float(value)) for mistake, value in self.values_of_mistakes(parameters)]
        return _coincidence(values, self.tolerance) or _unsayable(values[0][1], self.kind)

    def _check(self, variant, reply, system):
        read = read_number(reply, self.kind, system)
        if isinstance(read, Verdict):
            return read
        right = variant.answer
        if near(read, right, self.tolerance):
            return Verdict("right", "Right.")
        for mistake, value in variant.wrong:
            if near(read, value, self.tolerance):
                return Verdict("mistake", "Not yet. ", mistake.name)
        if _only_unit_is_wrong(reply, self.kind, right, self.tolerance):
            return Verdict("wrong", "Right figure, wrong unit. Which unit does your working end in?")
        return Verdict("wrong", _wrong_words(read, right))

    def reply_words(self, variant, value, system):
        return text(value, self.kind, system, 6)

    def answer_words(self, variant, system):
        return text(variant.answer, self.kind, system, 3)


@dataclass(frozen=True, kw_only=True)
class FillTable(Exercise):
    """A table with empty cells. columns: (heading, kind) each, kind None for words. rows(parameters): the full table,
    rows of SI numbers (words where kind is None); blanks: the (row, column) of the cells to fill, from 0.

    A Mistake's `wrong` gives one number for each blank, None where that mistake leaves the cell right.
    """

    columns: tuple
    rows: Callable
    blanks: tuple
    tolerance: float = 0.03

    def __post_init__(self):
        super().__post_init__()
        for _, kind in self.columns:
            if kind is not None:
                _known_kind(self.id, kind)
        for _, column in self.blanks:
            if self.columns[column][1] is None:
                raise JetlibError(f"{self.id}: column {column} holds words; only a column with a kind can be asked for")

    def right_answer(self, parameters):
        table = self.rows(parameters)
        return tuple(float(table[row][column]) for row, column in self.blanks)

    def rule(self):
        return tolerance_rule(self.tolerance)

    def kinds(self):
        """The kind of each blank."""
        return tuple(self.columns[column][1] for _, column in self.blanks)

    def cells(self, variant, system):
        """Rows of text; None where the reader fills in. The headings are in `columns`."""
        rows = self.rows(variant.in_system(system).parameters)
        return tuple(tuple(self._texts(row, values, system)) for row, values in enumerate(rows))

    def _texts(self, row, values, system):
        show = Show(system)
        for column, value in enumerate(values):
            kind = self.columns[column][1]
            yield None if (row, column) in self.blanks else str(value) if kind is None else show(value, kind)

    def blank_name(self, variant, number, system="US"):
        """Words for one blank: the heading of its column, and what its row begins with."""
        row, column = self.blanks[number]
        values = self.rows(variant.in_system(system).parameters)[row]
        first = next((cell for cell in self._texts(row, values, system) if cell is not None), f"row {row + 1}")
        return f"{self.columns[column][0]} for {first}"

    def _unfit(self, parameters):
        right = self.right_answer(parameters)
        wrong = self.values_of_mistakes(parameters)
        for mistake, values in wrong:
            if len(values) != len(right):
                raise JetlibError(f"{self.id}: {mistake.name!r} gives {len(values)} cells; the table has {len(right)}")
        for number, value in enumerate(right):
            here = [("the answer", value)]
            here += [(mistake.name, values[number]) for mistake, values in wrong if values[number] is not None]
            reason = _coincidence(here, self.tolerance) or _unsayable(value, self.kinds()[number])
            if reason:
                return reason
        return ""

    def _check(self, variant, reply, system):
        typed = self._typed(reply)
        if typed is None:
            return Verdict("unreadable", f"Fill in the {len(self.blanks)} empty cells, each with its unit.")
        right, wrong = variant.answer, variant.wrong
        cells = tuple(self._cell(each, number, right, wrong, system) for number, each in enumerate(typed))
        return self._together(variant, cells, system)

    def _typed(self, reply):
        if reply is None or (isinstance(reply, str) and not reply.strip()):
            return [""] * len(self.blanks)
        fits = isinstance(reply, list | tuple) and len(reply) == len(self.blanks)
        return list(reply) if fits else None

    def _cell(self, typed, number, right, wrong, system):
        read = read_number(typed, self.kinds()[number], system)
        if isinstance(read, Verdict):
            return read
        if near(read, right[number], self.tolerance):
            return Verdict("right", "Right.")
        for mistake, values in wrong:
            if values[number] is not None and near(read, values[number], self.tolerance):
                return Verdict("mistake", "Not yet.", mistake.name)
        return Verdict("wrong", _wrong_words(read, right[number]))

    def _together(self, variant, cells, system):
        count = len(cells)
        for status in ("wrong kind", "unreadable"):
            for number, cell in enumerate(cells):
                if cell.status == status:
                    name = sentence(self.blank_name(variant, number, system))[:-1]
                    return Verdict(status, f"{name}: {cell.words}", "", cells)
        filled = [cell for cell in cells if cell.status != "not attempted"]
        done = sum(cell.status == "right" for cell in cells)
        if not filled:
            return Verdict("not attempted", f"Nothing filled in yet: {count} cells to go.", "", cells)
        if done == count:
            return Verdict("right", f"Right, all {count} cells.", "", cells)
        if done == len(filled):
            return Verdict("not attempted", f"Right so far: {done} of {count}. Fill in the rest.", "", cells)
        names = (self.blank_name(variant, number, system) for number in range(count))
        off = [name for name, cell in zip(names, cells, strict=True) if cell.status in ("wrong", "mistake")]
        words = f"{done} of {count} cells right. Look again at: {listed(off)}."
        for cell in cells:
            if cell.mistake:
                return Verdict("mistake", words + " ", cell.mistake, cells)
        return Verdict("wrong", words, "", cells)

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


def _known_kind(owner, kind):
    if kind not in KINDS:
        raise JetlibError(f"{owner}: kind is {kind!r}; write one of {', '.join(KINDS)}")


def _coincidence(values, tolerance):
    """Which of (name, number) are too near to tell apart, in words; "" if none."""
    for at, (name, value) in enumerate(values):
        if not is_number(float(value)):
            return f"{name} is {value}"
        for other, number in values[:at]:
            if not apart(value, number, tolerance):
                return f"{name} ({value:.4g}) cannot be told from {other} ({number:.4g}) within {tolerance:.3g}"
    return ""


def _unsayable(value, kind):
    """Why a right answer could not be typed by a reader in one of the unit systems."""
    for system in SYSTEMS:
        read = read_number(text(value, kind, system, 6), kind)
        if isinstance(read, Verdict) or not math.isclose(read, value, rel_tol=1e-4, abs_tol=1e-12):
            return f"the answer ({value:.4g}) cannot be written as {kind} in {system} units"
    return ""
