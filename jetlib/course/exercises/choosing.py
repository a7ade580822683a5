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
    mistake that leads to the answer, or to what one before it leads to, is left out of a variant.
    """

    options: tuple | Callable
    answer: Callable
    drop_alike: bool = False
    between: ClassVar = "; "  # the options of an answer in words

    def values_of_mistakes(self, parameters):
        """(Mistake, value) of each mistake; with drop_alike only of those that lead to something of their own."""
        found = super().values_of_mistakes(parameters)
        if not self.drop_alike:
            return found
        seen, kept = {self.right_answer(parameters)}, []
        for mistake, value in found:
            if self._form(value) not in seen:
                seen.add(self._form(value))
                kept.append((mistake, value))
        return tuple(kept)

    def listed_options(self, parameters):
        """The (key, words) pairs as they were written."""
        return tuple(self.options(parameters)) if callable(self.options) else tuple(self.options)

    def keys(self, parameters):
        return tuple(key for key, _ in self.listed_options(parameters))

    def shown_options(self, variant, system):
        """(key, text) in the order that the reader sees."""
        variant = variant.in_system(system)
        found = [(key, self.say(words, variant.parameters, system)) for key, words in self._mixed(variant)]
        return tuple(found)

    def _mixed(self, variant):
        found = list(self.listed_options(variant.parameters))
        random.Random(f"{variant.mix!r}").shuffle(found)
        return found

    def answer_words(self, variant, system):
        words, reply = dict(self.shown_options(variant, system)), self.reply_words(variant, variant.answer, system)
        return self.between.join(words[key] for key in ([reply] if isinstance(reply, str) else reply))

    def _unfit(self, parameters):
        keys = self.keys(parameters)
        check_keys(keys, self.id)
        seen = {self._held(self.right_answer(parameters), keys): "the answer"}
        for mistake, value in self.values_of_mistakes(parameters):
            held = self._held(value, keys)
            if held in seen:
                return f"{mistake.name} cannot be told from {seen[held]}"
            seen[held] = mistake.name
        texts = {str(self.say(words, parameters, "US")) for _, words in self.listed_options(parameters)}
        return "" if len(texts) == len(keys) else "two options read the same"

    def _held(self, value, keys):
        """The value in its own form; JetlibError if it holds a key that is no option."""
        held = self._form(value)
        strangers = [key for key in ([held] if isinstance(held, str) else held) if key not in keys]
        if strangers:
            raise JetlibError(f"{self.id}: {strangers[0]!r} is no option; options are {', '.join(keys)}")
        return held

    def right_answer(self, parameters):
        return self._form(self.answer(parameters))

    def _matched(self, variant, chosen, wrong_words):
        if chosen == variant.answer:
            return Verdict("right", "Right.")
        for mistake, value in variant.wrong:
            if self._form(value) == chosen:
                return Verdict("mistake", "Not yet. ", mistake.name)
        return Verdict("wrong", wrong_words)


@dataclass(frozen=True, kw_only=True)
class SingleChoice(_Choosing):
    """One option is right: answer(parameters) gives its key."""

    def _form(self, value):
        return str(value)

    def _check(self, variant, reply, system):
        keys = read_keys(reply, self.keys(variant.parameters))
        if keys == ():
            return Verdict("not attempted", "Nothing chosen yet. Choose one.")
        if keys is None or len(keys) != 1:
            return Verdict("unreadable", "That is not one of the choices. Choose one of those shown.")
        return self._matched(variant, keys[0], "Not yet. Think it through again; a hint may help.")

    def reply_words(self, variant, value, system):
        return str(value)


@dataclass(frozen=True, kw_only=True)
class MultipleChoice(_Choosing):
    """Any number of options is right, at least one: answer(parameters) gives the keys.

    cautious(parameters): keys that somebody on the safe side may mark, or leave, as well; neither is wrong.
    """

    cautious: Callable = lambda parameters: ()

    def _form(self, value):
        return frozenset(value)

    def rule(self):
        return "More than one can be right. Mark all that are."

    def _check(self, variant, reply, system):
        keys = read_keys(reply, self.keys(variant.parameters))
        if keys == ():
            return Verdict("not attempted", "Nothing marked yet. Mark all that are right.")
        if keys is None:
            return Verdict("unreadable", "That is not among the choices. Mark some of those shown.")
        chosen = frozenset(keys)
        either = frozenset(self.cautious(variant.parameters))
        if chosen - either == variant.answer - either:
            return Verdict("right", "Right." if chosen == variant.answer else "Right, and on the safe side.")
        missed, extra = len(variant.answer - chosen), len(chosen - variant.answer)
        parts = [f"{extra} marked that should not be"] if extra else []
        parts += [f"{missed} still to find"] if missed else []
        return self._matched(variant, chosen, f"Not yet: {listed(parts or ['none'])}.")

    def reply_words(self, variant, value, system):
        return [key for key in self.keys(variant.parameters) if key in value]


@dataclass(frozen=True, kw_only=True)
class Ordering(_Choosing):
    """The options are put in order: answer(parameters) gives all keys, first to last. `ask` says what comes first.

    The order shown at first is never the right one.
    """

    between: ClassVar = ", then "

    def _form(self, value):
        return tuple(value)

    def _unfit(self, parameters):
        keys = self.keys(parameters)
        for name, value in [("the answer", self.answer(parameters))] + [
            (mistake.name, value) for mistake, value in self.values_of_mistakes(parameters)
        ]:
            if sorted(value) != sorted(keys):
                raise JetlibError(f"{self.id}: {name} is {', '.join(value)}; it must hold each of {', '.join(keys)}")
        return super()._unfit(parameters)

    def _mixed(self, variant):
        found = super()._mixed(variant)
        if tuple(key for key, _ in found) == variant.answer:
            found.reverse()
        return found

    def _check(self, variant, reply, system):
        all_keys = self.keys(variant.parameters)
        keys = read_keys(reply, all_keys)
        if keys == ():
            return Verdict("not attempted", "Nothing put in order yet.")
        if keys is None or len(keys) != len(all_keys):
            return Verdict("unreadable", f"Put all {len(all_keys)} in order, each of them once.")
        placed = sum(one == other for one, other in zip(keys, variant.answer, strict=True))
        words = f"Not yet: {placed} of {len(keys)} are in the right place."
        return self._matched(variant, tuple(keys), words)

    def reply_words(self, variant, value, system):
        return list(value)


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
