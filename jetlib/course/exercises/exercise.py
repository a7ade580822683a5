"""An exercise, its variants and what is said to a reply. The kinds of exercise are in `numeric` and `choosing`.

An exercise is a question with numbers drawn from a seed; jetlib computes the answer, and also the wrong answers that
people get, so that a reply can be told which mistake it shows. Nothing a reader types is ever evaluated.
"""

import math
import random
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from types import MappingProxyType

from jetlib.course.exercises.words import native, worded
from jetlib.errors import JetlibError
from jetlib.units import SYSTEMS

#: What a verdict can say. Only the last three are attempts: the others are no mark against anybody.
STATUSES = ("not attempted", "wrong kind", "unreadable", "right", "wrong", "mistake")
ATTEMPTS = ("right", "wrong", "mistake")

ID = re.compile(r"[0-9]{2}-[a-z0-9]+(-[a-z0-9]+)*")
_TRIES = 1000  # draws from one seed before the exercise is called broken
_LARGEST_SEED = 2**53


@dataclass(frozen=True)
class Mistake:
    """A way to go wrong: its `name`, the `words` said to whoever did, and `wrong(parameters)`, what it leads to.

    `wrong` gives the same sort of thing as the answer (an SI number, a key, a set or row of keys, a row of cells), or
    None where this variant has no such mistake. The words help without telling the answer; they may be a template or
    a function as in an exercise.
    """

    name: str
    words: str | Callable
    wrong: Callable


@dataclass(frozen=True)
class Verdict:
    """What a reply is worth: `status`, one of STATUSES; `words` to the reader; the name of the `mistake` if one.

    `cells` holds a verdict for each cell of a table, else nothing.
    """

    status: str
    words: str
    mistake: str = ""
    cells: tuple = ()

    @property
    def attempted(self):
        """Whether this counts as a try: an empty, unreadable or unit-less reply does not."""
        return self.status in ATTEMPTS


@dataclass(frozen=True, kw_only=True)
class Exercise:
    """What all exercises have.

    id: lesson and a short name, "02-areas-add". skills: what it trains. draw(rng): the parameters of a variant, a
    dict of SI floats, whole numbers and texts, from a `random.Random`. shown: name -> kind of those parameters that
    are quantities. ask, each of hints, solution: a template such as "{count} holes of {bore}" or a function of
    (parameters, system), plain text with a blank line between paragraphs. reject(parameters): True for a silly variant.
    given(parameters): what follows from what was drawn, by the engine, as more parameters. It is worked out for each
    unit system, from what was drawn as one would choose it there (`native`).

    Each kind of exercise has in its own way: right_answer(parameters), an SI number, a key, a frozenset or tuple of
    keys, a tuple of cells; _unfit(parameters), why a variant is not offered, "" if it is; _check(variant, reply,
    system), the Verdict; reply_words(variant, value, system), a right or wrong answer as a reader would give it, text
    or keys; answer_words(variant, system), the right answer for the worked solution and the trainer's key.
    """

    id: str
    title: str
    skills: tuple
    draw: Callable
    ask: str | Callable
    hints: tuple
    solution: str | Callable
    mistakes: tuple = ()
    shown: Mapping = field(default_factory=dict)
    reject: Callable = lambda parameters: False
    given: Callable | None = None

    def __post_init__(self):
        if len(self.hints) != 2:
            raise JetlibError(f"{self.id}: {len(self.hints)} hints; write two")
        names = [mistake.name for mistake in self.mistakes]
        if len(set(names)) != len(names):
            raise JetlibError(f"{self.id}: two mistakes of one name; give each its own: {', '.join(names)}")

    @property
    def lesson(self):
        """The number of the lesson, as text: "02"."""
        return self.id[:2]

    def variant(self, seed=1):
        """The Variant that belongs to `seed`, a whole number: always the same one.

        Draws until nothing is silly and no two of the answer and the mistakes can be taken for each other. Raises
        JetlibError if the exercise cannot make one.
        """
        if isinstance(seed, bool) or not isinstance(seed, int) or not 0 <= seed <= _LARGEST_SEED:
            raise JetlibError(f"seed is {str(seed)[:40]!r}; write a whole number from 0 up")
        rng = random.Random(f"{self.id}/{seed}")
        for _ in range(_TRIES):
            try:
                drawn = dict(self.draw(rng))
                own = {system: self._own(drawn, system) for system in SYSTEMS}
            except JetlibError as error:
                reason = str(error)
                continue
            mix, sets = rng.random(), {}
            sets |= {system: Variant(self, seed, parameters, mix, sets) for system, parameters in own.items()}
            return sets["US"]
        raise JetlibError(f"{self.id} makes no variant from seed {seed}: {reason}; draw from wider ranges")

    def _own(self, drawn, system):
        """The parameters of a variant for a reader of `system`. Raises JetlibError that says why it is not offered."""
        own = MappingProxyType(native(drawn, self.given, self.shown, system) if self.given else drawn)
        reason = "every draw was rejected" if self.reject(own) else self._unfit(own)
        if reason:
            raise JetlibError(reason)
        self.say(self.solution, own, system)  # raises where its arithmetic does not come out
        return own

    def values_of_mistakes(self, parameters):
        """(Mistake, value) of each mistake that this variant has."""
        found = ((mistake, mistake.wrong(parameters)) for mistake in self.mistakes)
        return tuple((mistake, value) for mistake, value in found if value is not None)

    def named_values(self, parameters):
        """(name, value) of the answer and of each mistake."""
        wrong = ((mistake.name, value) for mistake, value in self.values_of_mistakes(parameters))
        return ("the answer", self.right_answer(parameters)), *wrong

    def say(self, words, parameters, system):
        """A template or function of this exercise as text."""
        return worded(words, parameters, self.shown, system)

    def rule(self):
        """How near counts as right, in words; "" where there is nothing to say."""
        return ""


@dataclass(frozen=True)
class Variant:
    """One exercise with its numbers. `mix` (0 to 1) is where the order of its options comes from.

    parameters: those for a reader of US units, who is spoken to where no system is named; sets: {system: the Variant
    with the numbers that a reader of it has}.
    """

    exercise: Exercise
    seed: int
    parameters: Mapping
    mix: float
    sets: Mapping = field(repr=False, compare=False)

    def in_system(self, system):
        """This variant with the numbers that a reader of `system` has."""
        return self.sets[system]

    def question(self, system):
        """The question as text, with how near counts as right."""
        rule = self.exercise.rule()
        return self._said(self.exercise.ask, system) + (f"\n\n{rule}" if rule else "")

    def hint(self, number, system):
        """Hint 1 or 2."""
        return self._said(self.exercise.hints[number - 1], system)

    def solution(self, system):
        """The worked solution with this variant's numbers."""
        return self._said(self.exercise.solution, system)

    def _said(self, words, system):
        return self.exercise.say(words, self.in_system(system).parameters, system)

    @cached_property
    def answer(self):
        """The right answer."""
        return self.exercise.right_answer(self.parameters)

    @cached_property
    def wrong(self):
        """(Mistake, what it leads to) of each mistake that this variant has."""
        return self.exercise.values_of_mistakes(self.parameters)

    def answer_words(self, system):
        """The right answer in words."""
        return self.exercise.answer_words(self.in_system(system), system)

    def right_reply(self, system):
        """The right answer as a reader would give it: what `check` calls right."""
        own = self.in_system(system)
        return self.exercise.reply_words(own, own.answer, system)

    def wrong_replies(self, system):
        """(Mistake, reply) of each mistake of this variant: what `check` recognises."""
        own = self.in_system(system)
        return tuple((mistake, self.exercise.reply_words(own, value, system)) for mistake, value in own.wrong)

    def check(self, reply, system="US"):
        """The Verdict on a reply; never an exception, whatever the reply is: what cannot be read is said to be so.

        A reply is text with a unit for a number; a key for a single choice; keys for a multiple choice or an order; a
        row of texts for a table. `system`: the units of the question that was read, and of the feedback.
        """
        own = self.in_system(system)
        try:
            verdict = own.exercise._check(own, reply, system)
        except (ValueError, TypeError, OverflowError, RecursionError, AttributeError, KeyError):
            # The last fence before the reader: whatever a stranger's object does when it is looked at.
            return Verdict("unreadable", "That could not be read as an answer. Type it again.")
        if verdict.status != "mistake":
            return verdict
        mistake = next(each for each in own.exercise.mistakes if each.name == verdict.mistake)
        return replace(verdict, words=f"{verdict.words} {self._said(mistake.words, system)}")


def near(value, target, tolerance):
    """Whether `value` is within the relative `tolerance` of `target`."""
    return abs(value - target) <= tolerance * abs(target) * (1.0 + 1e-9)


def apart(one, other, tolerance):
    """Whether no reply can be near both."""
    return abs(one - other) > tolerance * (abs(one) + abs(other)) * (1.0 + 1e-6)


def is_number(value):
    """Whether it is a finite number."""
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)
