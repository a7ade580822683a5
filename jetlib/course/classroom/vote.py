"""Questions that a room can vote on: the banks' own, each with two to five options that a hand can be raised for.

Choices keep their options. A number to work out becomes a choice between the right number and what the bank's own
mistakes lead to. A number to foresee becomes a choice between bands, as nobody can say which wrong number a room has
in mind.
"""

import random
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial
from itertools import pairwise

from jetlib.course.banks import registry as bank
from jetlib.course.exercises.choosing import SingleChoice
from jetlib.course.exercises.numeric import Numeric
from jetlib.course.exercises.prediction import PredictedChoice, PredictedNumber
from jetlib.errors import JetlibError
from jetlib.units import SYSTEMS, from_si, text, to_si
from jetlib.units.number_text import figures
from jetlib.units.refusal import cut

_PREDICTED = PredictedChoice | PredictedNumber
MOST_OPTIONS = 5  # as many as the fingers of a hand
_USUAL_STEP = 1.5  # from one edge of a band to the next, as a ratio
_STEPS = {  # where the wrong ideas lie nearer to the answer
    "02-wider-drill": 1.3,
    "05-flow-with-more-hose": 1.06,
    "06-one-size": 1.1,
    "07-thin-leader": 1.1,
}


@dataclass(frozen=True, eq=False)
class Question:
    """A question with its options, for a whole room.

    name: its id in the bank; seed: which numbers (1 for a prediction). right: place of the right option, from 0.
    ideas: the Mistake behind each option, or None. values: SI, of each option or the edges of the bands, `kind` their
    kind; answer: the right number; empty for words. ask, options, why: text in a unit system; of options a tuple.
    """

    name: str
    seed: int
    title: str
    right: int
    ideas: tuple
    ask: Callable = field(repr=False)
    options: Callable = field(repr=False)
    why: Callable = field(repr=False)
    values: tuple = ()
    kind: str = ""
    answer: float = 0.0

    @property
    def lesson(self):
        """The number of the lesson, as text."""
        return self.name[:2]

    @property
    def count(self):
        """How many options there are."""
        return len(self.ideas)

    @property
    def in_bands(self):
        """Whether the options are bands between `values`."""
        return bool(self.values) and len(self.values) < self.count


def names(lesson=None):
    """Ids of what can be voted on, a tuple: predictions first, then exercises; of one lesson, or of all."""
    lessons = bank.lessons() if lesson is None else (lesson,)
    return tuple(each.id for number in lessons for each in _held(number))


def titles(lesson):
    """(words, id) of what can be voted on in a lesson."""
    kinds = {True: "prediction", False: "exercise"}
    return tuple((f"{each.title} ({kinds[isinstance(each, _PREDICTED)]})", each.id) for each in _held(lesson))


def question(name, seed=1):
    """The Question of that id with the numbers of `seed`. Raises JetlibError for one that no room can vote on."""
    each = _found(name)
    if isinstance(each, PredictedNumber):
        return _predicted_number(each, seed)
    if isinstance(each, PredictedChoice):
        return _of_words(each, 1, each.shown_options, each.right(), {}, each.question, each.reason)
    variant = each.variant(seed)
    if isinstance(each, Numeric):
        return _numeric(variant)
    shown, wrong = partial(each.shown_options, variant), {str(value): mistake for mistake, value in variant.wrong}
    return _of_words(each, seed, shown, variant.answer, wrong, partial(_ask, variant), variant.solution)


def is_prediction(name):
    """Whether the id is that of a prediction, whose numbers do not change with a seed."""
    return isinstance(_found(name), _PREDICTED)


def _held(lesson, name=None):
    """What can be voted on in a lesson, predictions first; or of it what has this id."""
    held = (*bank.predictions(lesson), *bank.exercises(lesson, own=True))
    return [each for each in held if name in (None, each.id) and _fits(each)]


def _found(name):
    lesson = name[:2] if isinstance(name, str) else ""
    found = _held(lesson, name) if lesson in bank.lessons() else ()
    if not found:
        known = ", ".join(names("02")[:3])
        raise JetlibError(f"there is no question {cut(name)} to vote on; write one such as {known}")
    return found[0]


def _fits(asked):
    """Whether a prediction or an exercise comes down to two to five options."""
    if isinstance(asked, Numeric):
        return len(asked.mistakes) >= 2
    if isinstance(asked, SingleChoice):
        return len(asked.keys(asked.variant(1).parameters)) <= MOST_OPTIONS
    return isinstance(asked, _PREDICTED)


def _of_words(asked, seed, shown, right, wrong, ask, why):
    """The Question with the options that `shown` gives for a system, (key, words); wrong: the Mistakes behind keys."""
    keys = [key for key, _ in shown(SYSTEMS[0])]

    def options(system):
        return tuple(words for _, words in shown(system))

    return Question(asked.id, seed, asked.title, keys.index(right), tuple(map(wrong.get, keys)), ask, options, why)


def _predicted_number(asked, seed):
    right, kind = asked.right(), asked.kind
    place = random.Random(f"{asked.id}/{seed}").randrange(1, MOST_OPTIONS - 1)
    edges = _edges(right, kind, _STEPS.get(asked.id, _USUAL_STEP), place)

    def options(system):
        at = [text(edge, kind, system) for edge in edges]
        between = (f"{low} to {high}" for low, high in pairwise(at))
        return (f"less than {at[0]}", *between, f"more than {at[-1]}")

    def why(system):
        return f"It is {text(right, kind, system)}.\n\n{asked.reason(system)}"

    ideas = (None,) * (len(edges) + 1)
    return Question(asked.id, seed, asked.title, place, ideas, asked.question, options, why, edges, kind, right)


def _edges(right, kind, step, place):
    """The edges between the bands, SI: round US figures, with `right` well inside the band at `place`."""
    wanted = [from_si(right * step ** (k - place + 0.5), kind, "US") for k in range(MOST_OPTIONS - 1)]
    for count in (2, 3):
        found = [float(f"{edge:.{count}g}") for edge in wanted]
        if all(abs(one / other - 1.0) < 0.2 * (step - 1.0) for one, other in zip(found, wanted, strict=True)):
            break
    return tuple(float(to_si(edge, kind, "US")) for edge in found)


def _numeric(variant):
    exercise = variant.exercise
    held = [(variant.answer, None)]
    held += [(float(value), mistake) for mistake, value in variant.wrong[: MOST_OPTIONS - 1]]
    held.sort(key=lambda pair: pair[0])
    values, ideas = zip(*held, strict=True)

    def options(system):
        own = variant.in_system(system)
        there = {None: own.answer, **{mistake: float(value) for mistake, value in own.wrong}}
        shown = (there.get(idea, at) for idea, at in zip(ideas, values, strict=True))
        return _told_apart(tuple(shown), exercise.kind, system)

    return Question(
        exercise.id, variant.seed, exercise.title, ideas.index(None), ideas, partial(_ask, variant), options,
        variant.solution, values, exercise.kind, variant.answer,
    )  # fmt: skip


def _ask(variant, system):
    """The bare question of an exercise, without the options that may follow it."""
    return variant.exercise.say(variant.exercise.ask, variant.in_system(system).parameters, system)


def _told_apart(values, kind, system):
    """Texts of the values with as few figures as tell them apart."""
    for count in (3, 4, 5, 6):
        found = tuple(text(value, kind, system, count) for value in values)
        if len(set(found)) == len(found):
            break
    return found


# --- what a vote says -------------------------------------------------------------------------------

#: Where the three cases come from: Crouch and Mazur, Am. J. Phys. 69 (2001) 970. The two thresholds are from memory;
#: some who use the method say 35 %.
FEW, MANY = 0.30, 0.70


def share_right(tally, right):
    """Share of the votes that are right, 0 to 1; None when nobody has voted."""
    votes = sum(tally)
    return tally[right] / votes if votes else None


def gain(before, after):
    """Normalised gain (after - before)/(1 - before) of two shares, at most 1; negative when it went down.

    None where either vote is missing, or all were right the first time. Source: Hake, Am. J. Phys. 66 (1998) 64.
    """
    if before is None or after is None or before >= 1.0:
        return None
    return (after - before) / (1.0 - before)


def advice(share):
    """What to do next after a first vote, in words, from the share that is right: below FEW, up to MANY, above."""
    if share < FEW:
        return "Few have it. Explain the idea again in another way, with the console, and vote again."
    if share <= MANY:
        return "The room is split. Let them talk in pairs, each with somebody who voted differently, and vote again."
    return "Most have it. Show the answer, say in a minute why, and go on."


def gain_words(before, after):
    """Both shares and the gain in plain words."""
    first, second = (f"{figures(100.0 * share, 2)} %" for share in (before, after))
    words = f"Right before {first}, after {second}."
    value = gain(before, after)
    if value is None:
        return f"{words} All were right the first time: nothing was left to gain."
    if value < 0:
        return f"{words} Fewer are right than before: the talk led some astray. Gain {figures(value, 2)}."
    share = f"{figures(100.0 * value, 2)} %"
    return f"{words} Of what could be gained, {share} was: gain {figures(value, 2)}."
