"""The trainer's view of a class: reading, refusing, choosing a lesson, writing."""

import pytest

from jetlib.course.exercises.exercise import Verdict
from jetlib.course.progress.progress import Progress
from jetlib.screen.classroom.class_progress import class_picture, class_progress, class_words


@pytest.fixture
def folder(tmp_path):
    for seat in (1, 2):
        progress = Progress(tmp_path / f"home {seat}")
        progress.attempt("02-areas-add", 1, Verdict("mistake", "", "bore instead of <b>area</b>"))
        (tmp_path / "in").mkdir(exist_ok=True)
        progress.export(tmp_path / "in", f"seat <{seat}>")
    return tmp_path / "in"


def test_a_folder_takes_the_place_of_the_invented_class(folder):
    console = class_progress()
    invented = console.words
    assert "An invented class" in console._repr_mimebundle_()["text/plain"]
    console._folder.value = str(folder / "none")
    console.read()
    assert "Not read." in console._said.value
    assert console.words == invented
    console._folder.value = str(folder)
    (folder / "junk <i>.json").write_text("junk")
    console.read()
    assert "2 learners read, 1 file left out." in console._said.value
    assert "junk &lt;i&gt;.json" in console._skipped.value
    assert "Lesson 02: tried by 2; of all its exercises 0 done, 2 to review" in console.words
    assert "bore instead of <b>area</b> (2 people, 2 times)" in console.words
    for part in (console._table, console._picture):
        assert "<b>area" not in part.value
    assert "seat &lt;1&gt;" in console._table.value
    assert console._folder.value == str(folder)


def test_one_lesson_alone(folder):
    console = class_progress()
    console._lesson.value = "03"
    assert "Lesson 03" in console.words
    assert "Lesson 02" not in console.words
    assert ">01<" not in console._table.value
    console._lesson.value = "11"
    assert "Nobody has tried this lesson." in console.words


def test_csv_goes_where_the_files_are_unless_named(folder, tmp_path):
    console = class_progress()
    console.write()
    assert "Not written." in console._said.value
    console._folder.value = str(folder)
    console.read()
    console.write()
    assert (folder / "class_progress.csv").exists()
    console._csv.value = str(tmp_path / "mine.csv")
    console.write()
    assert "seat <2>" in (tmp_path / "mine.csv").read_text(encoding="utf-8-sig")


def test_the_picture_is_as_wide_as_the_counts(folder):
    console = class_progress()
    picture = class_picture(console.held)
    assert picture.words == class_words(console.held) == console.words
    for each in console.held.lessons():
        for count in (each.done, each.not_tried):
            assert f">{count}</text>" in picture.content


def test_a_folder_with_nothing_to_read_has_nothing_to_revisit(tmp_path):
    (tmp_path / "torn.json").write_bytes(b"{")
    console = class_progress()
    console._folder.value = str(tmp_path)
    console.read()
    assert "0 learners read, 1 file left out" in console._said.value
    assert "0 people" not in console._table.value + console.words


def test_marks_from_paper_are_typed_in_and_records_laid_out(folder):
    laid_out = []

    def print_records(held, place, *, system):
        laid_out.append(([each.who for each in held.members], system))
        (folder / "records.html").write_text("paper")
        return [folder / "records.html"]

    console = class_progress(print_records, system="metric")
    console._marks.value = "seat 7: " + 13 * "r "
    console.mark()
    assert "No marks taken" in console._said.value and "name their folder first" in console._said.value
    console._folder.value = str(folder)
    console.mark()
    assert "Seat 7: 13 right" in console._said.value and console._marks.value == ""
    assert "13 of 13 right" in console._table.value and "the class" in console._table.value
    console._marks.value = "seat 7: r"
    console.mark()
    assert "seat 7 has 1 marks" in console._said.value and console._marks.value == "seat 7: r"
    console.print()
    assert laid_out == [(["seat 7", "seat <1>", "seat <2>"], "metric")]
    assert "a page for each person" in console._said.value and "records.html" in console._link.value
