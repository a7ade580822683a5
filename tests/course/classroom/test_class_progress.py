"""A folder of exports read as a class: figures counted by hand, and everything that can lie in such a folder."""

import csv
import json
import os

import pytest

from jetlib.course.banks import registry as bank
from jetlib.course.classroom.class_progress import HEADS, MOST_FILES, invented_class, read_class
from jetlib.course.exercises.exercise import Verdict
from jetlib.course.progress.export import Export
from jetlib.course.progress.progress import Progress
from jetlib.course.progress.record import MOST_BYTES
from jetlib.course.store.csv_out import csv_bytes, harmless, write_csv
from jetlib.errors import JetlibError

RIGHT, WRONG = Verdict("right", ""), Verdict("wrong", "")
POSIX = pytest.mark.skipif(os.name == "nt", reason="links and pipes are of POSIX systems")


def slip(name):
    return Verdict("mistake", "", name)


def learner(folder, label, *tries):
    """The export of a learner who made these tries, (exercise, verdict)."""
    progress = Progress(folder / f"home of {label or 'nobody'} {len(list(folder.iterdir()))}")
    for seed, (exercise, verdict) in enumerate(tries, start=1):
        progress.attempt(exercise, seed, verdict)
    return progress


@pytest.fixture
def homes(tmp_path):
    (tmp_path / "homes").mkdir()
    return tmp_path / "homes"


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "collected").mkdir()
    return tmp_path / "collected"


def test_who_did_what(homes, folder):
    first, second = (each.id for each in bank.exercises("02")[:2])
    other = bank.exercises("05")[0].id
    one = [(first, slip("bore instead of area")), (first, slip("bore instead of area")), (first, RIGHT)]
    learner(homes, "seat 1", *one, (second, WRONG)).export(folder, "seat 1")
    two = [(first, slip("bore instead of area")), (second, slip("a factor 2")), (other, RIGHT)]
    learner(homes, "seat 2", *two).export(folder, "seat 2")
    held = read_class(folder)
    assert [member.who for member in held.members] == ["seat 1", "seat 2"]
    assert held.skipped == ()
    total = len(bank.exercises("02"))
    lesson = held.lessons()[0]
    assert (lesson.lesson, lesson.done, lesson.to_review, lesson.tried_by) == ("02", 1, 3, 2)
    assert lesson.not_tried == 2 * total - 4
    assert held.mistakes() == (("bore instead of area", 2, 3), ("a factor 2", 1, 1))
    assert held.mistakes("05") == ()
    assert [(exercise.id, people) for exercise, people in held.to_revisit()] == [(second, 2)]
    rows = held.rows()
    assert [row[:6] for row in rows] == [
        ("seat 1", "02", 4, 1, 1, total - 2),
        ("seat 2", "02", 2, 0, 2, total - 2),
        ("seat 2", "05", 1, 1, 0, len(bank.exercises("05")) - 1),
    ]
    assert rows[0][6] == "bore instead of area (2)"
    assert rows[0][7] == bank.exercise(second).title
    assert held.rows("05") == (rows[2],)


def test_two_exports_into_one_folder_do_not_meet(homes, folder):
    paths = {learner(homes, "", ("02-areas-add", RIGHT)).export(folder) for _ in range(3)}
    assert len(paths) == 3
    assert len(read_class(folder).members) == 3
    named = [learner(homes, "sam", ("02-areas-add", RIGHT)).export(folder, "Sam") for _ in range(2)]
    assert [path.name for path in named] == ["jetting_progress_sam.json", "jetting_progress_sam_2.json"]
    who = [member.who for member in read_class(folder).members]
    assert who[-2:] == ["Sam (jetting_progress_sam)", "Sam (jetting_progress_sam_2)"]


def test_of_one_learner_the_fuller_file_counts(homes, folder):
    progress = learner(homes, "seat 1", ("02-areas-add", RIGHT))
    progress.export(folder / "monday.json", "seat 1")
    progress.attempt("02-areas-add", 2, WRONG)
    progress.export(folder / "friday.json", "seat one")
    held = read_class(folder)
    assert [member.who for member in held.members] == ["seat one"]
    assert held.skipped == (("monday.json", "an older file of the same learner as friday.json"),)
    assert progress.export(folder, "seat 1").name == "jetting_progress_seat_1.json"


def test_the_label_is_the_learners_own_and_checked(homes, folder):
    progress = learner(homes, "x", ("02-areas-add", RIGHT))
    for bad in ("x" * 41, "two\nlines", "tab\there", "\u202eturned"):
        with pytest.raises(JetlibError, match="write up to 40 letters"):
            progress.export(folder, bad)
    assert list(folder.iterdir()) == []
    assert progress.export(folder, "  ../../etc/passwd ").parent == folder
    assert progress.export(folder, "Zoë 3").name == "jetting_progress_zoë_3.json"
    assert progress.export(folder / "mine").name == progress.export(folder / "mine.json").name == "mine.json"


@POSIX
def test_what_is_no_progress_is_named_and_left_out(homes, folder, tmp_path):
    good = learner(homes, "good", ("02-areas-add", RIGHT)).export(folder, "good")
    data = json.loads(good.read_text())
    (folder / "letter.json").write_text("Dear all")
    (folder / "empty.json").write_bytes(b"")
    (folder / "newer.json").write_text(json.dumps({**data, "schema": 99}))
    (folder / "deep.json").write_text("[" * 100_000)
    (folder / "huge.json").write_bytes(b" " * (MOST_BYTES + 10))
    (folder / "code.json").write_text('__import__("os").system("touch ran")')
    event = dict(data["events"][0], exercise="02-x; rm -rf")
    (folder / "strange.json").write_text(json.dumps({**data, "events": [event]}))
    (folder / "folder.json").mkdir()
    (folder / "link.json").symlink_to(good)
    os.mkfifo(folder / "pipe.json")
    (folder / "notes.txt").write_text("not read")
    (folder / ".hidden.json").write_text("not read")
    (folder / "bad\nname\x1b[31m.json").write_text("{}")
    held = read_class(folder)
    assert [member.who for member in held.members] == ["good"]
    why = dict(held.skipped)
    names = ["letter", "empty", "newer", "deep", "huge", "code", "strange", "folder", "link", "pipe"]
    assert {f"{name}.json" for name in names} < set(why)
    assert why["newer.json"].endswith("of version 99; this course reads 1")
    assert why["link.json"] == why["pipe.json"] == why["folder.json"] == "not a plain file"
    assert all(name.isprintable() and reason for name, reason in held.skipped)
    assert len(held.skipped) == len(names) + 1


def test_a_strange_head_does_no_harm(homes, folder):
    good = learner(homes, "x", ("02-areas-add", RIGHT)).export(folder)
    data = json.loads(good.read_text())
    for number, label in enumerate(("<script>alert(1)</script>", "=1+1", 7, None, ["x"], "x" * 999, "a\u202eb")):
        events = [dict(data["events"][0], key=f"{number:012x}")]
        (folder / f"f{number}.json").write_text(
            json.dumps({**data, "events": events, "label": label, "exported": label})
        )
    held = read_class(folder)
    assert len(held.members) == 8
    assert all(member.who.isprintable() and 0 < len(member.who) <= 60 for member in held.members)
    with open(held.write(folder), newline="", encoding="utf-8-sig") as file:
        rows = list(csv.reader(file))
    assert tuple(rows[0]) == HEADS
    assert len(rows) == 9
    assert not any(cell.startswith(("=", "+", "-", "@")) for row in rows for cell in row)
    assert "'=1+1" in {row[0] for row in rows}


def test_a_folder_that_is_none(folder):
    for place in (folder / "none", "\0", folder / "none\ud800"):
        with pytest.raises(JetlibError, match="write the folder"):
            read_class(place)
    assert read_class(folder).rows() == ()


def test_too_many_files_are_not_all_read(folder):
    for number in range(MOST_FILES + 2):
        (folder / f"{number:04}.json").write_text("{}")
    held = read_class(folder)
    assert ("2 more files", f"only the first {MOST_FILES} are read") in held.skipped


def test_tries_at_exercises_that_this_course_does_not_have_are_counted_apart(homes, folder):
    learner(homes, "x", ("02-of-another-year", WRONG), ("77-x", RIGHT), ("02-areas-add", RIGHT)).export(folder)
    held = read_class(folder)
    assert held.unknown() == 2
    assert held.lessons()[0].done == 1
    assert held.to_revisit() == ()


def test_csv_leaves_other_files_alone(homes, folder):
    held = invented_class()
    path = held.write(folder)
    assert held.write(folder) == path
    (folder / "mine.csv").write_text("my own")
    for name in ("mine.csv", "mine"):
        with pytest.raises(JetlibError, match="write another name"):
            held.write(folder / name)
    with pytest.raises(JetlibError, match="write the path"):
        held.write(folder / "none" / "x.csv")
    with pytest.raises(JetlibError, match="write"):
        write_csv("\0.csv", HEADS, [], name="x.csv")
    assert (folder / "mine.csv").read_text() == "my own"
    assert sorted(each.name for each in folder.iterdir()) == ["class_people.csv", "class_progress.csv", "mine.csv"]


@pytest.mark.parametrize("cell", ["=1", "+1", "-1", "@x", "\tx", " =1"])
def test_no_cell_starts_a_formula(cell):
    assert harmless(cell) == f"'{cell}"
    assert harmless(-1.5) == "-1.5"
    assert harmless("seat 1") == "seat 1"
    assert csv_bytes(("a",), [(cell,)]).decode("utf-8-sig").splitlines()[1].lstrip('"').startswith("'")


def test_the_invented_class_is_always_the_same_and_says_so():
    assert invented_class() == invented_class()
    assert invented_class(seed=2) != invented_class()
    known = {each.id for each in bank.all_exercises()}
    for member in invented_class().members:
        assert member.record.attempts
        assert {each.exercise for each in member.record.attempts} <= known
        assert all(event.fits() for event in member.record.events)


def test_each_file_is_parsed_once_and_not_compared_with_every_other(homes, folder, monkeypatch):
    for seat in range(1, 9):
        learner(homes, f"seat {seat}", ("02-areas-add", RIGHT), ("02-areas-add", WRONG)).export(folder, f"seat {seat}")
    parsed, loads = [], json.loads

    def counted(text, **options):
        parsed.append(1)
        return loads(text, **options)

    monkeypatch.setattr(json, "loads", counted)
    monkeypatch.setattr(Export, "same_learner", lambda *_: pytest.fail("a class of thirty makes 435 pairs"))
    assert len(read_class(folder).members) == 8
    assert len(parsed) == 8
