"""Exercises answered by choosing: one of several, some of several, or an order."""

import random
from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar

from jetlib.course.exercises.exercise import Exercise, Verdict
from jetlib.course.exercises.words import listed
from jetlib.errors import JetlibError

_MOST_REPLIES = 50


@dataclass(frozen=True, kw_only=True)
class _Choosing(Exercise):
    """options: (key, words) each, words as in `ask`; or a function of the parameters that gives them.

    Options are shown in an order of the variant's own. answer(parameters): see the kind of exercise. drop_alike: a
    mistake that leads to the answer, or to what one before it leads to, is left out of a variant. What a kind says to
    an empty reply, and to one that is no choice, is in `nothing` and `strange`.
    """

    options: tuple | Callable
    answer: Callable
    drop_alike: bool = False
    between: ClassVar = "; "  # the options of an answer in words

    def values_of_mistakes(self, parameters):
        """(Mistake, value) of each mistake; with drop_alike only of those that lead to something of their own."""
        found = [(mistake, self._form(value)) for mistake, value in super().values_of_mistakes(parameters)]
        if not self.drop_alike:
            return tuple(found)
        right, first = self.right_answer(parameters), {}
        for mistake, value in found:
            first.setdefault(value, mistake)
        return tuple((mistake, value) for value, mistake in first.items() if value != right)

    def listed_options(self, parameters):
        """The (key, words) pairs as they were written."""
        return tuple(self.options(parameters)) if callable(self.options) else tuple(self.options)

    def keys(self, parameters):
        return tuple(key for key, _ in self.listed_options(parameters))

    def shown_options(self, variant, system):
        """(key, text) in the order that the reader sees."""
        variant = variant.in_system(system)
        return tuple((key, self.say(words, variant.parameters, system)) for key, words in self._mixed(variant))

    def _mixed(self, variant):
        found = list(self.listed_options(variant.parameters))
        random.Random(f"{variant.mix!r}").shuffle(found)
        return found

    def answer_words(self, variant, system):
        words, reply = dict(self.shown_options(variant, system)), self.reply_words(variant, variant.answer, system)
        return self.between.join(words[key] for key in ([reply] if isinstance(reply, str) else reply))

    def _unfit(self, parameters):
        keys, seen = self.keys(parameters), {}
        check_keys(keys, self.id)
        for name, value in self.named_values(parameters):
            self._hold_to(keys, name, value)
            if value in seen:
                return f"{name} cannot be told from {seen[value]}"
            seen[value] = name
        texts = {str(self.say(words, parameters, "US")) for _, words in self.listed_options(parameters)}
        return "" if len(texts) == len(keys) else "two options read the same"

    def _hold_to(self, keys, name, value):
        """Nothing; JetlibError if the answer, or what a mistake leads to, holds a key that is no option."""
        strangers = [key for key in ([value] if isinstance(value, str) else value) if key not in keys]
        if strangers:
            raise JetlibError(f"{self.id}: {strangers[0]!r} is no option; options are {', '.join(keys)}")

    def right_answer(self, parameters):
        return self._form(self.answer(parameters))

    def _check(self, variant, reply, system):
        offered = self.keys(variant.parameters)
        keys = read_keys(reply, offered)
        if keys == ():
            return Verdict("not attempted", self.nothing)
        if keys is None or not self._fits(keys, offered):
            return Verdict("unreadable", self.strange.format(len(offered)))
        return self._judged(variant, self._form(keys))

    def _fits(self, keys, offered):
        """Whether as many keys are chosen as can be."""
        return True

    def _judged(self, variant, chosen):
        if chosen == variant.answer:
            return Verdict("right", "Right.")
        for mistake, value in variant.wrong:
            if value == chosen:
                return Verdict("mistake", "Not yet.", mistake.name)
        return Verdict("wrong", self._off(variant.answer, chosen))

    def _off(self, right, chosen):
        """What is said to a wrong reply."""
        return "Not yet. Think it through again; a hint may help."

    def reply_words(self, variant, value, system):
        return value if isinstance(value, str) else list(value)


@dataclass(frozen=True, kw_only=True)
class SingleChoice(_Choosing):
    """One option is right: answer(parameters) gives its key."""

    nothing: ClassVar = "Nothing chosen yet. Choose one."
    strange: ClassVar = "That is not one of the choices. Choose one of those shown."

    def _form(self, value):
        return str(value[0] if isinstance(value, tuple) else value)

    def _fits(self, keys, offered):
        return len(keys) == 1


@dataclass(frozen=True, kw_only=True)
class MultipleChoice(_Choosing):
    """Any number of options is right, at least one: answer(parameters) gives the keys.

    cautious(parameters): keys that somebody on the safe side may mark, or leave, as well; neither is wrong.
    """

    cautious: Callable = lambda parameters: ()
    nothing: ClassVar = "Nothing marked yet. Mark all that are right."
    strange: ClassVar = "That is not among the choices. Mark some of those shown."

    def _form(self, value):
        return frozenset(value)

    def rule(self):
        return "More than one can be right. Mark all that are."

    def _judged(self, variant, chosen):
        either = frozenset(self.cautious(variant.parameters))
        if chosen != variant.answer and chosen - either == variant.answer - either:
            return Verdict("right", "Right, and on the safe side.")
        return super()._judged(variant, chosen)

    def _off(self, right, chosen):
        parts = [f"{len(chosen - right)} marked that should not be"] if chosen - right else []
        parts += [f"{len(right - chosen)} still to find"] if right - chosen else []
        return f"Not yet: {listed(parts)}."

    def reply_words(self, variant, value, system):
        return [key for key in self.keys(variant.parameters) if key in value]


@dataclass(frozen=True, kw_only=True)
class Ordering(_Choosing):
    """The options are put in order: answer(parameters) gives all keys, first to last. `ask` says what comes first.

    The order shown at first is never the right one.
    """

    between: ClassVar = ", then "
    nothing: ClassVar = "Nothing put in order yet."
    strange: ClassVar = "Put all {} in order, each of them once."

    def _form(self, value):
        return tuple(value)

    def _hold_to(self, keys, name, value):
        if sorted(value) != sorted(keys):
            raise JetlibError(f"{self.id}: {name} is {', '.join(value)}; it must hold each of {', '.join(keys)}")

    def _mixed(self, variant):
        found = super()._mixed(variant)
        if tuple(key for key, _ in found) == variant.answer:
            found.reverse()
        return found

    def _fits(self, keys, offered):
        return len(keys) == len(offered)

    def _off(self, right, chosen):
        placed = sum(one == other for one, other in zip(chosen, right, strict=True))
        return f"Not yet: {placed} of {len(right)} are in the right place."


def check_keys(keys, where):
    """Nothing, if options have keys of their own, two or more; else raises JetlibError."""
    if len(set(keys)) != len(keys) or len(keys) < 2:
        raise JetlibError(f"{where}: options need keys of their own, two or more; they are {', '.join(keys) or 'none'}")


def read_keys(reply, keys):
    """The keys in a typed or chosen reply, a tuple: () for an empty reply, None if it is anything else."""
    if reply is None:
        return ()
    if isinstance(reply, str):
        if len(reply) > 1000:
            return None
        reply = [part.strip() for part in reply.split(",") if part.strip()] if reply not in keys else [reply]
    if not isinstance(reply, list | tuple | set | frozenset) or len(reply) > _MOST_REPLIES:
        return None
    found = tuple(reply)
    if not all(isinstance(each, str) and each in keys for each in found) or len(set(found)) != len(found):
        return None
    return found
