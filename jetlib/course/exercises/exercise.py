"""An exercise, its variants and what is said to a reply. The kinds of exercise are in `numeric` and `choosing`.

An exercise is a question with numbers drawn from a seed; jetlib computes the answer, and also the wrong answers that
people get, so that a reply can be told which mistake it shows. Nothing a reader types is ever evaluated.
"""

import math
import random
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from types import MappingProxyType

from jetlib.course.exercises.native import native
from jetlib.course.exercises.words import percent, worded
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
    are quantities. ask, and each of hints: a template such as "{count} holes of {bore}" or a function of
    (parameters, show), where show(value, kind) is text in the reader's unit system; plain text, a blank line between
    paragraphs. solution: a function of (parameters, show), or a template. reject(parameters): True for a silly variant.
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
        reason = ""
        for _ in range(_TRIES):
            try:
                drawn = dict(self.draw(rng))
                own = {}
                for system in SYSTEMS:
                    own[system] = self._own(drawn, system)
                    if reason := self._why_not(own[system], system):
                        break
            except JetlibError as error:
                reason = str(error)
                continue
            if not reason:
                return Variant(self, seed, own["US"], rng.random(), own["metric"])
        raise JetlibError(f"{self.id} makes no variant from seed {seed}: {reason}; draw from wider ranges")

    def _own(self, drawn, system):
        """The parameters of a variant for a reader of `system`."""
        return MappingProxyType(native(drawn, self.given, self.shown, system) if self.given else drawn)

    def _why_not(self, parameters, system):
        """Why a variant is not offered; "" if it is. A solution whose arithmetic does not come out raises."""
        if self.reject(parameters):
            return "every draw was rejected"
        unfit = self._unfit(parameters)
        if not unfit:
            self.say(self.solution, parameters, system)
        return unfit

    def values_of_mistakes(self, parameters):
        """(Mistake, value) of each mistake that this variant has."""
        found = ((mistake, mistake.wrong(parameters)) for mistake in self.mistakes)
        return tuple((mistake, value) for mistake, value in found if value is not None)

    def say(self, words, parameters, system):
        """A template or function of this exercise as text."""
        return worded(words, parameters, self.shown, system)

    def rule(self):
        """How near counts as right, in words; "" where there is nothing to say."""
        return ""


@dataclass(frozen=True)
class Variant:
    """One exercise with its numbers. `mix` (0 to 1) is where the order of its options comes from.

    parameters: those for a reader of US units, who is spoken to where no system is named; metric: those for a reader of
    metric units.
    """

    exercise: Exercise
    seed: int
    parameters: Mapping
    mix: float = 0.0
    metric: Mapping | None = None
    us: "Variant | None" = field(default=None, repr=False, compare=False)

    def in_system(self, system):
        """This variant with the numbers that a reader of `system` has."""
        return self._metric if system == "metric" else self.us or self

    @cached_property
    def _metric(self):
        own = self.parameters if self.metric is None else self.metric
        return self if own is self.parameters else Variant(self.exercise, self.seed, own, self.mix, own, self)

    def question(self, system):
        """The question as text, with how near counts as right."""
        asked = self.exercise.say(self.exercise.ask, self.in_system(system).parameters, system)
        return "\n\n".join(part for part in (asked, self.exercise.rule()) if part)

    def hint(self, number, system):
        """Hint 1 or 2."""
        return self.exercise.say(self.exercise.hints[number - 1], self.in_system(system).parameters, system)

    def solution(self, system):
        """The worked solution with this variant's numbers."""
        return self.exercise.say(self.exercise.solution, self.in_system(system).parameters, system)

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
        said = own.exercise.say(mistake.words, own.parameters, system)
        return Verdict("mistake", f"{verdict.words}{said}", mistake.name, verdict.cells)


def near(value, target, tolerance):
    """Whether `value` is within the relative `tolerance` of `target`."""
    return abs(value - target) <= tolerance * abs(target) * (1.0 + 1e-9)


def apart(one, other, tolerance):
    """Whether no reply can be near both."""
    return abs(one - other) > tolerance * (abs(one) + abs(other)) * (1.0 + 1e-6)


def is_number(value):
    """Whether it is a finite number."""
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


def tolerance_rule(tolerance):
    """The sentence that says how near counts."""
    return f"An answer within {percent(tolerance)} counts as right."
