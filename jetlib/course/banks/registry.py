"""Where exercises and predictions are found by name. A lesson's bank is read when it is first asked for.

A bank is a file data/exercises/lesson_NN.toml and the lesson's part of data/predictions.toml. A trainer's own exercises
are in any other file of that folder, which is read anew when it changes.
"""

import os
import re
from difflib import get_close_matches
from functools import cache, partial
from pathlib import Path

from jetlib.course.exercises.from_toml import exercises_in
from jetlib.course.exercises.prediction import prediction_from
from jetlib.course.store.checked_row import sound_files
from jetlib.errors import JetlibError
from jetlib.tables import DATA
from jetlib.tables.toml_file import read_toml
from jetlib.units.refusal import cut

FOLDER = DATA / "exercises"  # of a trainer's own
_NOT_OWN = re.compile(r"(lesson_[0-9]{2}|example_of_your_own)\.toml")
PREDICTIONS = "predictions.toml"


@cache
def lessons():
    """The lessons that have a bank, a tuple such as ("02", "03")."""
    return tuple(sorted(path.stem.removeprefix("lesson_") for path in (DATA / "exercises").glob("lesson_*.toml")))


@cache
def _predictions():
    return read_toml(DATA / PREDICTIONS, what="file of predictions", like='["02-double-flow"]')


@cache
def _bank(lesson):
    exercises, order = exercises_in(DATA / "exercises" / f"lesson_{lesson}.toml")
    strange = next((each.id for each in exercises if each.lesson != lesson), None)
    if strange is not None:
        raise JetlibError(f"{strange} stands in the bank of lesson {lesson}; begin its id with {lesson}-")
    if set(order) != {each.id for each in exercises}:
        raise JetlibError(
            f"lesson_{lesson}.toml: order does not name the exercises of lesson {lesson}; write each once"
        )
    twice = next((each.id for each in exercises if each.id in _predictions()), None)
    if twice is not None:
        raise JetlibError(f"{twice} stands twice in the bank of lesson {lesson}; give each its own id")
    predictions = (
        prediction_from(name, row, PREDICTIONS) for name, row in _predictions().items() if name[:2] == lesson
    )
    return tuple(sorted(exercises, key=lambda each: order.index(each.id))), tuple(predictions)


def exercises(lesson, *, own=False):
    """The exercises of a lesson, such as "02", in their order; then a trainer's own for it, if `own`."""
    found = _bank(_known_lesson(lesson))[0]
    return (*found, *(each for each in own_exercises()[0] if each.lesson == lesson)) if own else found


def predictions(lesson):
    """The predictions of a lesson, in their order."""
    return _bank(_known_lesson(lesson))[1]


def exercise(name):
    """The exercise with this id, such as "02-areas-add": one of the course's, or of a trainer's own."""
    return _find(name, partial(exercises, own=True), "exercise")


def prediction(name):
    """The prediction with this id."""
    return _find(name, predictions, "prediction")


def all_exercises():
    """Every exercise of the course, in order of lessons."""
    return tuple(each for lesson in lessons() for each in exercises(lesson))


def all_predictions():
    """Every prediction of the course, in order of lessons."""
    return tuple(each for lesson in lessons() for each in predictions(lesson))


def own_exercises(folder=None):
    """(exercises, sentences) of a trainer's own files in `folder`: a tuple, and what to fix in files left out."""
    held, refused = sound_files(FOLDER if folder is None else folder, _own_of_file)
    found, twice = {}, []
    for stem, made in held.items():
        both = next((each.id for each in made if each.id in found), None)
        if both is not None:
            twice.append(f"{stem}.toml: {both} is in another file too; give each exercise its own id")
        found |= {each.id: each for each in made if each.id not in found}
    return tuple(found.values()), (*refused, *twice)


def _own_of_file(path):
    return () if _NOT_OWN.fullmatch(path.name) else exercises_of_file(path)


def exercises_of_file(path):
    """The exercises of a trainer's own file, a tuple. Raises JetlibError where one takes the id of the course's."""
    path = Path(path)
    made = exercises_in(path)[0]
    for each in made:
        if each.lesson not in lessons():
            known = f"{lessons()[0]}- to {lessons()[-1]}-"
            raise JetlibError(f"{path.name}: there is no lesson {each.lesson}; begin the id {each.id} with {known}")
        taken = {other.id for group in _bank(each.lesson) for other in group}
        if each.id in taken and path.name != f"lesson_{each.lesson}.toml":
            raise JetlibError(f"{path.name}: the course has an exercise {each.id}; give this one another id")
    return made


def first_seed():
    """The seed that exercises on pages begin with: 1; at a seat of a served room one of its own, such as 7001 at 7."""
    seat = os.environ.get("JETLIB_SEAT", "")
    return 1000 * int(seat) + 1 if re.fullmatch("[0-9]{1,4}", seat) else 1


def _known_lesson(lesson):
    if not isinstance(lesson, str) or lesson not in lessons():
        raise JetlibError(f"lesson is {cut(lesson)}; those with a bank are {', '.join(lessons())}")
    return lesson


def _find(name, of_lesson, what):
    name = name if isinstance(name, str) else cut(name)
    lesson = name[:2]
    held = {each.id: each for each in (of_lesson(lesson) if lesson in lessons() else ())}
    if name in held:
        return held[name]
    known = list(held) or [each.id for number in lessons() for each in of_lesson(number)]
    near = get_close_matches(name, known, n=3, cutoff=0.3) or known[:3]
    left_out = own_exercises()[1] if what == "exercise" else ()
    more = f". Left out until it is fixed: {'; '.join(left_out)}" if left_out else ""
    raise JetlibError(f"there is no {what} {cut(name)}; write one such as {', '.join(near)}{more}")
