"""What a page has to do, in the order in which it stands there; what is done stays done; what comes next."""

import json
import re

import pytest

from jetlib.course.banks import registry as bank
from jetlib.course.exercises.exercise import Verdict
from jetlib.course.pages.contents import LESSONS, lessons
from jetlib.course.pages.way import done_of, is_read, next_task, tasks
from jetlib.course.progress.progress import Progress
from jetlib.screen.learning.progress_view import CourseMap, ProgressConsole

WITH_BANK = [each for each in lessons() if each.number in bank.lessons()]


@pytest.fixture
def progress(tmp_path):
    return Progress(tmp_path)


@pytest.mark.parametrize("page", WITH_BANK, ids=lambda page: page.number)
def test_the_tasks_of_a_page_are_those_its_cells_show_in_order(page):
    cells = json.loads((LESSONS / f"{page.stem}.ipynb").read_text("utf-8"))["cells"]
    code = "\n".join("".join(cell["source"]) for cell in cells if cell["cell_type"] == "code")
    shown = re.findall(r"\b(?:practice|prediction)\(\"([^\"]+)\"", code)
    assert [task.id for task in tasks(page.stem)] == shown
    banked = {each.id for each in (*bank.exercises(page.number), *bank.predictions(page.number))}
    assert set(shown) == banked
    for kind in ("exercise", "prediction"):
        assert [task.number for task in tasks(page.stem) if task.kind == kind] == [
            *range(1, 1 + sum(task.kind == kind for task in tasks(page.stem)))
        ]


def test_one_goes_on_where_one_worked_last_and_ends_when_all_is_done(progress):
    first, fifth = WITH_BANK[0].stem, WITH_BANK[4].stem
    assert next_task(progress.record) == tasks(first)[0]
    left = [task for task in tasks(fifth) if task.kind == "exercise"]
    progress.attempt(left[0].id, 1, Verdict("right", ""))
    assert next_task(progress.record) == next(task for task in tasks(fifth) if task.id != left[0].id)
    for page in WITH_BANK:
        for task in tasks(page.stem):
            if task.kind == "exercise":
                progress.attempt(task.id, 1, Verdict("right", ""))
            else:
                progress.commit(task.id, 1.0)
        assert done_of(progress.record, page.stem) == (len(tasks(page.stem)),) * 2
    assert next_task(progress.record) is None


def test_what_was_right_once_stays_done_and_is_due_again_apart(progress):
    task = next(task for task in tasks(WITH_BANK[0].stem) if task.kind == "exercise")
    for status in ("right", "wrong"):
        progress.attempt(task.id, 1, Verdict(status, ""))
    assert done_of(progress.record, task.stem, "exercise")[0] == 1
    assert progress.record.due() == (task.id,)


@pytest.mark.parametrize("page", WITH_BANK, ids=lambda page: page.number)
def test_a_lesson_is_read_to_its_end_when_its_core_was_done_right_or_wrong(page, progress):
    cells = json.loads((LESSONS / f"{page.stem}.ipynb").read_text("utf-8"))["cells"]
    sources = ["".join(cell["source"]) for cell in cells]
    deeper = next(at for at, source in enumerate(sources) if source.startswith("## Go deeper"))
    core = [task for task in tasks(page.stem) if task.core]
    asked = re.findall(r"\b(?:practice|prediction)\(\"([^\"]+)\"", "\n".join(sources[:deeper]))
    assert [task.id for task in core] == asked
    for task in core:
        assert not is_read(progress.record, page.stem)
        if task.kind == "exercise":
            progress.attempt(task.id, 1, Verdict("wrong", ""))
        else:
            progress.commit(task.id, 1.0)
    assert is_read(progress.record, page.stem)
    assert "read to its end" in CourseMap(progress).box.value
    assert "read to its end" not in CourseMap(progress)._repr_mimebundle_()["text/html"]
    assert f"Lesson {page.number}: " in ProgressConsole(progress).words
    assert "Look at again: " in ProgressConsole(progress)._table.value


OF_THE_COURSE = sorted(path.stem for path in LESSONS.glob("[!m]*.ipynb"))  # my_... are a reader's own copies


@pytest.mark.parametrize("stem", OF_THE_COURSE)
def test_what_a_page_only_writes_about_is_no_task_of_it(stem):
    # the Classroom page names a question that somebody has yet to write
    assert all(task.title for task in tasks(stem))
