"""Every exercise of every lesson's bank, over 200 seeds: what is offered, and what is said to each sort of reply.

The right answers come from jetlib, whose physics is checked elsewhere against published values; here it is the
exercises that are checked. A lesson added to the course is covered without a line here.
"""

import re
from itertools import combinations

import pytest

from jetlib.course.banks import registry as bank
from jetlib.course.exercises.choosing import MultipleChoice, Ordering, SingleChoice
from jetlib.course.exercises.exercise import ATTEMPTS, STATUSES, near
from jetlib.course.exercises.numeric import FillTable, Numeric, read_number
from jetlib.errors import JetlibError
from jetlib.units import SYSTEMS, si, text
from jetlib.units.kinds import KINDS

SEEDS = range(200)
JUNK = (
    "", "   ", "abc", "12", "1e999", "-3 gpm", "NaN psi", "nan", "inf bar", "5 furlong", "9" * 10_000, "x" * 10_000,
    "__import__('os').system('true')", "1 gpm; 2 gpm", "{0}", "{bore}", "%s", "\x00", "\u202e", "１２ psi",
    None, 12, 3.5, float("nan"), True, b"12 psi", [], ["a", "b"], ["12 psi"] * 3, {}, {"a": 1}, object(),
    [["12 psi"]], ("",), [None] * 3, "a,b,c", [float("nan")] * 3,
)  # fmt: skip
EXERCISES = bank.all_exercises()
NUMERIC = tuple(each for each in EXERCISES if isinstance(each, Numeric))
each_exercise = pytest.mark.parametrize("exercise", EXERCISES, ids=lambda exercise: exercise.id)


each_numeric = pytest.mark.parametrize("exercise", NUMERIC, ids=lambda exercise: exercise.id)


class Hostile(str):
    """Text that fights back when looked at."""

    def strip(self, *_):
        raise ValueError("no")


@pytest.fixture(scope="module")
def variants():
    """Variants of an exercise for all seeds, made once."""
    made = {}

    def of(exercise):
        if exercise.id not in made:
            made[exercise.id] = [exercise.variant(seed) for seed in SEEDS]
        return made[exercise.id]

    return of


@each_exercise
def test_a_right_reply_is_right_in_both_unit_systems(exercise, variants):
    for variant in variants(exercise):
        for system in SYSTEMS:
            verdict = variant.check(variant.right_reply(system), system)
            assert verdict.status == "right", (variant.seed, variant.right_reply(system), verdict)


@each_numeric
def test_an_answer_to_three_figures_from_the_numbers_shown_is_right(exercise, variants):
    """A reader sees each number rounded to the figures shown, and rounds the answer too: neither may cost the mark."""
    for variant in variants(exercise):
        for system in SYSTEMS:
            seen = dict(variant.in_system(system).parameters)
            for name, kind in exercise.shown.items():
                shown = text(seen[name], kind, system)
                seen[name] = float(si(shown, kind)) if name in seen else seen[name]
            answer = text(exercise.right_answer(seen), exercise.kind, system)
            assert variant.check(answer, system).status == "right", (variant.seed, system, seen, answer)


@each_exercise
def test_every_mistake_is_told_by_its_name_and_gets_its_words(exercise, variants):
    met = set()
    for variant in variants(exercise):
        for system in SYSTEMS:
            for mistake, reply in variant.wrong_replies(system):
                verdict = variant.check(reply, system)
                assert (verdict.status, verdict.mistake) == ("mistake", mistake.name), (variant.seed, reply, verdict)
                said = exercise.say(mistake.words, variant.in_system(system).parameters, system)
                assert verdict.words.endswith(said)
                met.add(mistake.name)
    assert met == {mistake.name for mistake in exercise.mistakes}, "a mistake that no variant has"


@each_exercise
def test_no_two_of_answer_and_mistakes_can_be_taken_for_each_other(exercise, variants):
    for variant in [each.in_system(system) for each in variants(exercise) for system in SYSTEMS]:
        values = [("answer", variant.answer)]
        values += [(mistake.name, value) for mistake, value in exercise.values_of_mistakes(variant.parameters)]
        for (name, one), (other_name, other) in combinations(values, 2):
            assert distinct(exercise, one, other), (variant.seed, name, other_name, one, other)


def distinct(exercise, one, other):
    """No number lies within the tolerance of both; for choices: they differ."""
    if isinstance(exercise, Numeric):
        return not overlap(one, other, exercise.tolerance, exercise.slack)
    if isinstance(exercise, FillTable):
        pairs = [(a, b) for a, b in zip(one, other, strict=True) if a is not None and b is not None]
        return bool(pairs) and not any(overlap(a, b, exercise.tolerance) for a, b in pairs)
    form = {SingleChoice: str, MultipleChoice: frozenset, Ordering: tuple}[type(exercise)]
    return form(one) != form(other)


def overlap(one, other, tolerance, slack=0.0):
    low, high = sorted((one, other))
    return low + max(abs(low) * tolerance, slack) >= high - max(abs(high) * tolerance, slack)


@each_exercise
def test_a_seed_always_gives_the_same_variant_and_seeds_differ(exercise, variants):
    made = variants(exercise)
    for seed in (0, 1, 77):
        again = exercise.variant(seed)
        assert dict(again.parameters) == dict(made[seed].parameters)
        assert again.question("US") == made[seed].question("US")
    assert len({str(sorted(variant.parameters.items())) for variant in made}) >= 10


@each_exercise
def test_junk_gets_a_friendly_verdict(exercise):
    variant = exercise.variant(3)
    for reply in (*JUNK, Hostile("12 psi"), [Hostile("12 psi")]):
        for system in SYSTEMS:
            verdict = variant.check(reply, system)
            assert verdict.status in STATUSES
            assert verdict.status != "right" or acceptable(exercise, reply, variant, system)
            assert 0 < len(verdict.words) < 700
            assert "Traceback" not in verdict.words
            assert "x" * 100 not in verdict.words
            assert "9" * 100 not in verdict.words
    for empty in ("", "   ", None):
        assert variant.check(empty).status == "not attempted"


def acceptable(exercise, reply, variant, system):
    """Whether junk happens to be the right answer: a bare 12 in the units of the page, a and b of a to d."""
    if not isinstance(exercise, Numeric):
        return reply == variant.right_reply(system)
    value = read_number(reply, exercise.kind, system)
    return isinstance(value, float) and near(
        value, variant.in_system(system).answer, exercise.tolerance, exercise.slack
    )


@each_numeric
def test_a_number_without_unit_is_in_the_units_of_the_page(exercise):
    variant = exercise.variant(5)
    if KINDS[exercise.kind].plain_text:
        assert variant.check("12").status in (*ATTEMPTS, "unreadable")
        return
    for system in SYSTEMS:
        bare = variant.right_reply(system).split()[0]
        assert variant.check(bare, system).status in ("right", "unreadable")  # 1-1/4, #54 and the like


@each_numeric
def test_a_unit_of_another_kind_is_named(exercise):
    if exercise.kind in ("length", "lift", "altitude", "bore", "jet_bore", "pipe_bore", "coil_diameter"):
        reply, noun = "5 kg", "mass"
    else:
        reply, noun = "5 furlong", "length"
    verdict = exercise.variant(5).check(reply)
    assert verdict.status == "wrong kind"
    assert noun in verdict.words


@each_exercise
def test_nothing_said_before_the_solution_gives_the_answer_away(exercise, variants):
    for variant in variants(exercise)[:60]:
        for system in SYSTEMS:
            said = [variant.hint(1, system), variant.hint(2, system)]
            said += [variant.check(reply, system).words for _, reply in variant.wrong_replies(system)]
            said += [
                str(variant.check(reply, system).words) for reply in ("0.123 gpm", "7 psi", "1e5 psi", "-3.07 gpm")
            ]
            said = " ".join(said)
            for secret in secrets(exercise, variant, system):
                assert not re.search(rf"(?<![\d.,]){re.escape(secret)}(?!\w)", said), (variant.seed, secret, said)


def secrets(exercise, variant, system):
    if isinstance(exercise, Numeric):
        return [variant.answer_words(system)] if KINDS[exercise.kind].us[0] else []
    if isinstance(exercise, FillTable):
        cells = zip(variant.answer, exercise.kinds(), strict=True)
        return [text(value, kind, system) for value, kind in cells if KINDS[kind].us[0]]
    return [variant.answer_words(system)]


@each_exercise
def test_question_and_solution_hold_their_numbers(exercise, variants):
    for variant in variants(exercise)[:60]:
        for system in SYSTEMS:
            question, solution = variant.question(system), variant.solution(system)
            for words in (question, solution, *(variant.hint(number, system) for number in (1, 2))):
                assert words.strip()
                assert not set("{}") & set(words), words
                assert "nan" not in words.split()
                assert "inf" not in words.split()
            if isinstance(exercise, Numeric):
                assert variant.answer_words(system).split()[0] in solution, (variant.seed, system, solution)


@each_exercise
def test_both_systems_show_different_words_where_units_are_shown(exercise):
    variant = exercise.variant(1)
    kinds = [kind for kind in exercise.shown.values() if KINDS[kind].us[0] != KINDS[kind].metric[0]]
    if kinds:
        assert variant.question("US") + variant.solution("US") != variant.question("metric") + variant.solution(
            "metric"
        )


def test_a_tolerance_is_wide_enough_for_rounding_and_told():
    for exercise in EXERCISES:
        if isinstance(exercise, Numeric):
            assert "counts as right" in exercise.variant(1).question("US") or not exercise.tolerance


def test_each_lesson_has_enough_to_do():
    for lesson in bank.lessons():
        held = bank.exercises(lesson)
        assert len(held) >= 6, lesson
        assert len({type(exercise) for exercise in held}) >= 3, lesson
        assert len(bank.predictions(lesson)) >= 2, lesson
        for exercise in held:
            if isinstance(exercise, Numeric):
                assert len(exercise.mistakes) >= 3, exercise.id
            else:
                assert exercise.mistakes, exercise.id


@pytest.mark.parametrize("seed", [-1, 1.5, "1", None, True, 2**60])
def test_a_seed_that_is_none_is_refused(seed):
    with pytest.raises(JetlibError, match="seed"):
        EXERCISES[0].variant(seed)


def test_an_unknown_name_is_answered_with_near_ones():
    with pytest.raises(JetlibError, match="02-areas-add"):
        bank.exercise("02-areas-ad")
    for junk in ("", "x" * 10_000, None, "99-none", "../etc", 5):
        with pytest.raises(JetlibError, match="write one such as"):
            bank.exercise(junk)
        with pytest.raises(JetlibError):
            bank.exercises(junk)
