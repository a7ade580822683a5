"""The progress file and what can befall it: killed while writing, disk full, read-only, shared, damaged, newer."""

import errno
import json
import os
import random
import signal
import stat
import subprocess
import sys
import time
from pathlib import Path

import pytest

from jetlib.course.exercises.exercise import Verdict
from jetlib.course.progress import progress as progress_module
from jetlib.course.progress.export import read_export
from jetlib.course.progress.progress import Progress, current
from jetlib.course.progress.record import from_bytes
from jetlib.course.store import locked_folder
from jetlib.course.store.locked_folder import home
from jetlib.errors import JetlibError

RIGHT, WRONG = Verdict("right", ""), Verdict("wrong", "")
MISTAKE = Verdict("mistake", "", "bore instead of area")
ROOT = Path(__file__).resolve().parents[3]


@pytest.fixture
def folder(tmp_path):
    return tmp_path / "learner's é folder"


def saved(folder):
    return from_bytes((folder / "progress.json").read_bytes())


def names(folder):
    return sorted(path.name for path in folder.iterdir())


# --- as it should be --------------------------------------------------------------------------------


def test_what_was_done_is_there_the_next_time(folder):
    first = Progress(folder)
    first.attempt("02-areas-add", 1, WRONG)
    first.attempt("02-areas-add", 2, MISTAKE)
    first.commit("02-double-flow", 1.4e7)
    first.commit("02-double-flow", 1.9e7)
    first.commit("02-gauge-curve", (0.0, 1e6, 2e6, 3e6, 4e6))
    again = Progress(folder)
    assert again.record == first.record
    assert len(again.record.events) == 5
    assert [guess.value for guess in again.record.guesses("02-double-flow")] == [1.4e7, 1.9e7]
    assert again.record.state("02-areas-add") == "to review"
    assert [exercise.id for exercise in again.warm_up()] == ["02-areas-add"]
    assert again.tally("02").to_review == 1
    assert again.saved
    assert again.take_notices() == ()
    assert names(folder) == ["progress.json", "progress.lock", "progress.previous.json"]


def test_only_tries_count(folder):
    progress = Progress(folder)
    for status in ("not attempted", "wrong kind", "unreadable"):
        progress.attempt("02-areas-add", 1, Verdict(status, ""))
    assert progress.record.events == ()
    assert not folder.exists()


def test_opening_writes_nothing(folder):
    Progress(folder)
    assert not folder.exists()


def test_the_file_holds_no_name_of_person_or_machine(folder):
    Progress(folder).attempt("02-areas-add", 1, RIGHT)
    text = (folder / "progress.json").read_text()
    (event,) = json.loads(text)["events"]
    assert set(event) == {"event", "exercise", "seed", "status", "mistake", "time", "key", "n"}
    for word in (os.environ.get("USER") or "learner", os.uname().nodename if hasattr(os, "uname") else "host"):
        assert word not in text.replace("learner", "") or len(word) < 3


@pytest.mark.skipif(os.name == "nt", reason="modes are of POSIX systems")
def test_only_its_owner_can_read_it(folder):
    Progress(folder).attempt("02-areas-add", 1, RIGHT)
    assert stat.S_IMODE((folder / "progress.json").stat().st_mode) == 0o600
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700


def test_where_it_lies(monkeypatch, tmp_path):
    monkeypatch.setenv("JETLIB_HOME", str(tmp_path / "here"))
    assert home() == tmp_path / "here"
    assert current() is current()
    current().attempt("02-areas-add", 1, RIGHT)
    assert (tmp_path / "here" / "progress.json").exists()
    monkeypatch.setenv("JETLIB_HOME", str(tmp_path / "there"))
    assert current().record.events == ()
    for unset in ("", "  "):
        monkeypatch.setenv("JETLIB_HOME", unset)
        assert home().name == "jetlib"
        assert home().is_absolute()
        assert ROOT not in home().parents
    monkeypatch.setenv("JETLIB_HOME", "~/course")
    assert home() == Path.home() / "course"


# --- two notebooks at once --------------------------------------------------------------------------

WRITER = """
import sys
from jetlib.course.exercises.exercise import Verdict
from jetlib.course.progress.progress import Progress
progress = Progress(sys.argv[1])
for seed in range(int(sys.argv[3])):
    progress.attempt("02-" + sys.argv[2], seed, Verdict("right", ""))
sys.exit(0 if progress.saved else 1)
"""


def writer(folder, name, count):
    command = [sys.executable, "-c", WRITER, str(folder), name, str(count)]
    return subprocess.Popen(command)


def test_three_processes_writing_at_once_lose_nothing(folder):
    writers = [writer(folder, name, 20) for name in ("a", "b", "c")]
    for process in writers:
        with process:
            process.wait(timeout=120)
        assert process.returncode == 0
    held = saved(folder)
    assert len(held.events) == 60
    for name in ("a", "b", "c"):
        assert [event.seed for event in held.tries(f"02-{name}")] == list(range(20))
    assert [event.n for event in held.events] == list(range(1, 61))


def test_two_notebooks_see_what_the_other_saved(folder):
    one, other = Progress(folder), Progress(folder)
    one.attempt("02-a", 1, RIGHT)
    other.attempt("02-b", 1, WRONG)
    assert other.record.state("02-a") == "done"
    one.refresh()
    assert one.record.state("02-b") == "to review"


def test_a_lock_held_by_another_for_too_long_loses_nothing(folder, monkeypatch):
    monkeypatch.setattr(locked_folder, "_PATIENCE", 0.1)
    progress = Progress(folder)
    progress.attempt("02-a", 1, RIGHT)
    with locked_folder.FileLock(folder / "progress.lock"):
        progress.attempt("02-b", 1, RIGHT)
        assert not progress.saved
        assert "busy" in progress.take_notices()[0]
    progress.attempt("02-c", 1, RIGHT)
    assert progress.saved
    assert [event.exercise for event in saved(folder).events] == ["02-a", "02-b", "02-c"]


# --- killed while writing ---------------------------------------------------------------------------


def forked(work):
    """Another process that does `work`, given a function that acknowledges: its number, and where that is read."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            work(lambda: os.write(writing, b"."))
        finally:
            os._exit(1)
    os.close(writing)
    return child, open(reading, "rb")


@pytest.mark.skipif(os.name == "nt", reason="kill -9 is of POSIX systems")
def test_killed_at_any_moment_it_is_readable_and_holds_all_that_was_acknowledged(folder):
    rng = random.Random(8)
    acknowledged = 0
    Progress(folder).attempt("02-before", 1, RIGHT)
    for round_number in range(12):

        def write(acknowledge, name=f"02-round-{round_number}"):
            progress = Progress(folder)
            for seed in range(100_000):
                progress.attempt(name, seed, RIGHT)
                acknowledge()

        child, pipe = forked(write)
        with pipe:
            told = pipe.read(1)
            time.sleep(rng.uniform(0.0, 0.06))
            os.kill(child, signal.SIGKILL)
            os.waitpid(child, 0)
            told += pipe.read()
        held = saved(folder)
        tries = held.tries(f"02-round-{round_number}")
        assert [event.seed for event in tries] == list(range(len(tries)))
        assert 1 <= len(told) <= len(tries) <= len(told) + 1
        acknowledged += len(told)
    progress = Progress(folder)
    assert progress.take_notices() == ()
    progress.attempt("02-after", 1, RIGHT)
    assert acknowledged <= len(saved(folder).events) - 2 <= acknowledged + 12
    assert names(folder) == ["progress.json", "progress.lock", "progress.previous.json"]  # no half files left


@pytest.mark.skipif(os.name == "nt", reason="kill -9 is of POSIX systems")
@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_killed_at_the_worst_moment(folder, step):
    Progress(folder).attempt("02-first", 1, RIGHT)
    Progress(folder).attempt("02-second", 1, RIGHT)

    def write(_):
        progress = Progress(folder)
        setattr(os, step, lambda *given, **more: os.kill(os.getpid(), signal.SIGKILL))
        progress.attempt("02-last", 1, RIGHT)

    child, pipe = forked(write)
    pipe.close()
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == -signal.SIGKILL
    assert any(name.startswith(".progress-half-") for name in names(folder))
    progress = Progress(folder)
    assert [event.exercise for event in progress.record.events] == ["02-first", "02-second"]
    progress.attempt("02-third", 1, RIGHT)
    assert names(folder) == ["progress.json", "progress.lock", "progress.previous.json"]


# --- a disk that will not take it -------------------------------------------------------------------


def failing(monkeypatch, name, code, when=lambda path: True):
    real = getattr(os, name)

    def fail(path, *given, **more):
        if when(path):
            raise OSError(code, os.strerror(code))
        return real(path, *given, **more)

    monkeypatch.setattr(os, name, fail)


@pytest.mark.parametrize(
    ("name", "code", "words"),
    [
        ("fsync", errno.ENOSPC, "No space left"),
        ("replace", errno.ENOSPC, "No space left"),
        ("replace", errno.EROFS, "Read-only"),
        ("replace", errno.EACCES, "Permission denied"),
        ("fsync", errno.EIO, "Input/output"),
        ("fsync", errno.EDQUOT, "quota"),
    ],
)
def test_reading_on_works_when_nothing_can_be_written(folder, monkeypatch, name, code, words):
    progress = Progress(folder)
    progress.attempt("02-a", 1, RIGHT)
    before = (folder / "progress.json").read_bytes()
    with monkeypatch.context() as broken:
        failing(broken, name, code)
        progress.attempt("02-b", 1, WRONG)
        progress.attempt("02-c", 1, WRONG)
        assert (folder / "progress.json").read_bytes() == before
        assert [progress.record.state(f"02-{each}") for each in "abc"] == ["done", "to review", "to review"]
        (notice,) = progress.take_notices()
        assert words in notice
        assert "read on" in notice
        assert progress.take_notices() == ()
        assert not progress.saved
        assert not [each for each in names(folder) if each.startswith(".progress-half-")]
    progress.attempt("02-d", 1, RIGHT)  # the disk is well again: nothing was lost
    assert [event.exercise for event in saved(folder).events] == ["02-a", "02-b", "02-c", "02-d"]
    assert progress.saved


def test_a_folder_that_is_read_only(folder, monkeypatch):
    folder.mkdir()
    failing(monkeypatch, "open", errno.EROFS, when=lambda path: str(folder) in str(path))
    progress = Progress(folder)
    progress.attempt("02-a", 1, RIGHT)
    assert progress.record.state("02-a") == "done"
    assert len(progress.take_notices()) == 1
    assert names(folder) == []


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_without_permission(folder):
    folder.mkdir(mode=0o500)
    progress = Progress(folder)
    progress.attempt("02-a", 1, RIGHT)
    assert progress.record.state("02-a") == "done"
    assert len(progress.take_notices()) == 1


@pytest.mark.parametrize("inside", [False, True])
def test_a_file_in_place_of_the_folder(tmp_path, inside):
    (tmp_path / "file").write_text("mine")
    progress = Progress(tmp_path / "file" / "deeper" if inside else tmp_path / "file")
    assert progress.take_notices() == ()
    progress.attempt("02-a", 1, RIGHT)
    progress.attempt("02-b", 1, RIGHT)
    assert progress.record.state("02-a") == "done"
    assert len(progress.take_notices()) == 1
    assert (tmp_path / "file").read_text() == "mine"


def test_a_file_that_cannot_be_read_is_left_alone(folder, monkeypatch):
    Progress(folder).attempt("02-a", 1, RIGHT)
    before = (folder / "progress.json").read_bytes()
    with monkeypatch.context() as broken:
        failing(broken, "open", errno.EIO, when=lambda path: str(path).endswith("progress.json"))
        progress = Progress(folder)
        progress.attempt("02-b", 1, RIGHT)
        assert len(progress.take_notices()) == 1
    assert (folder / "progress.json").read_bytes() == before
    progress.attempt("02-c", 1, RIGHT)
    assert [event.exercise for event in saved(folder).events] == ["02-a", "02-b", "02-c"]


# --- a file that is not what it should be -----------------------------------------------------------

DAMAGE = {
    "empty": lambda data: b"",
    "truncated": lambda data: data[: len(data) // 2],
    "zeros": lambda data: b"\0" * len(data),
    "not text": lambda data: bytes(range(128, 256)),
    "other json": lambda data: b'{"name": "somebody"}',
    "huge": lambda data: b"[" * 5_000_000,
    "code": lambda data: b"__import__('os').system('touch /tmp/owned')",
}


@pytest.mark.parametrize("kind", DAMAGE)
def test_a_damaged_file_is_kept_aside_and_the_copy_before_it_used(folder, kind):
    first = Progress(folder)
    first.attempt("02-a", 1, RIGHT)
    first.attempt("02-b", 1, RIGHT)
    damaged = DAMAGE[kind]((folder / "progress.json").read_bytes())
    (folder / "progress.json").write_bytes(damaged)
    progress = Progress(folder)
    (notice,) = progress.take_notices()
    assert "progress.damaged-1.json" in notice
    assert "the copy from before" in notice
    assert (folder / "progress.damaged-1.json").read_bytes() == damaged
    assert [event.exercise for event in progress.record.events] == ["02-a"]
    progress.attempt("02-c", 1, RIGHT)
    assert [event.exercise for event in Progress(folder).record.events] == ["02-a", "02-c"]


def test_with_no_good_copy_a_fresh_one_is_begun(folder):
    folder.mkdir()
    (folder / "progress.json").write_text("{")
    (folder / "progress.previous.json").write_text("{")
    progress = Progress(folder)
    assert "a new one is started" in progress.take_notices()[0]
    progress.attempt("02-a", 1, RIGHT)
    assert len(saved(folder).events) == 1
    assert (folder / "progress.damaged-1.json").read_text() == "{"


def test_damaged_while_the_notebook_runs(folder):
    progress = Progress(folder)
    progress.attempt("02-a", 1, RIGHT)
    progress.attempt("02-b", 1, RIGHT)
    (folder / "progress.json").write_text("{")
    progress.attempt("02-c", 1, RIGHT)
    assert [event.exercise for event in saved(folder).events] == ["02-a", "02-c"]
    assert "damaged" in progress.take_notices()[0]


def test_what_is_kept_aside_does_not_pile_up(folder):
    folder.mkdir()
    for number in range(15):
        (folder / "progress.json").write_text(f"damage {number}")
        Progress(folder)
    aside = [name for name in names(folder) if name.startswith("progress.damaged-")]
    assert len(aside) == 9


def test_a_newer_file_is_not_touched(folder):
    folder.mkdir()
    newer = b'{"schema": 7, "events": [{"who": "knows"}]}'
    (folder / "progress.json").write_bytes(newer)
    progress = Progress(folder)
    (notice,) = progress.take_notices()
    assert "version 7" in notice
    assert "left as it is" in notice
    progress.attempt("02-a", 1, RIGHT)
    assert progress.record.state("02-a") == "done"
    assert progress.take_notices() == ()
    assert (folder / "progress.json").read_bytes() == newer
    assert "progress.damaged-1.json" not in names(folder)


@pytest.mark.skipif(os.name == "nt", reason="links need rights on Windows")
@pytest.mark.parametrize("dangling", [False, True])
def test_a_link_in_place_of_the_file_is_never_followed(folder, tmp_path, dangling):
    folder.mkdir()
    outside = tmp_path / "outside.json"
    if not dangling:
        outside.write_text("precious")
    for name in ("progress.json", "progress.previous.json", "progress.lock"):
        (folder / name).symlink_to(outside)
    progress = Progress(folder)
    progress.attempt("02-a", 1, RIGHT)
    (folder / "progress.lock").unlink()
    progress.attempt("02-b", 1, RIGHT)
    assert progress.saved
    assert (not outside.exists()) if dangling else outside.read_text() == "precious"
    assert not (folder / "progress.json").is_symlink()
    assert [event.exercise for event in saved(folder).events] == ["02-a", "02-b"]
    assert progress.take_notices()


@pytest.mark.skipif(os.name == "nt", reason="pipes with a name are of POSIX systems")
def test_a_pipe_or_a_folder_in_place_of_the_file_hangs_nothing(folder):
    folder.mkdir()
    os.mkfifo(folder / "progress.json")
    assert "not a plain file" in Progress(folder).take_notices()[0]
    (folder / "progress.json").mkdir()
    (folder / "progress.json" / "mine").write_text("x")
    progress = Progress(folder)
    assert "not a plain file" in progress.take_notices()[0]
    progress.attempt("02-a", 1, RIGHT)
    assert len(saved(folder).events) == 1
    assert (folder / "progress.damaged-2.json" / "mine").read_text() == "x"


def test_a_clock_set_back(folder, monkeypatch):
    progress = Progress(folder)
    monkeypatch.setattr(progress_module, "_now", lambda: "2040-01-01T00:00:00Z")
    progress.attempt("02-a", 1, WRONG)
    monkeypatch.setattr(progress_module, "_now", lambda: "1970-01-01T00:00:00Z")
    progress.attempt("02-a", 2, RIGHT)
    again = Progress(folder)
    assert again.record.state("02-a") == "done"
    assert [event.n for event in again.record.events] == [1, 2]
    assert again.take_notices() == ()


def test_the_file_stays_small_and_the_reader_is_told(folder, monkeypatch):
    monkeypatch.setattr("jetlib.course.progress.record.MOST_EVENTS", 20)
    progress = Progress(folder)
    for seed in range(20):
        progress.attempt("02-a", seed, RIGHT)
    assert progress.take_notices() == ()
    progress.attempt("02-a", 20, RIGHT)
    assert "the oldest tries were dropped" in progress.take_notices()[0]
    held = saved(folder)
    assert (len(held.events), held.dropped) == (20, 1)


# --- out and away -----------------------------------------------------------------------------------


def test_an_export_is_one_file_that_the_trainer_can_read(folder, tmp_path):
    progress = Progress(folder)
    progress.attempt("02-a", 1, MISTAKE)
    path = progress.export(tmp_path)
    assert path == tmp_path / f"jetting_progress_{progress.record.events[0].key[:8]}.json"
    assert read_export(path).record == progress.record
    progress.attempt("02-b", 1, RIGHT)
    assert read_export(progress.export(path)).record == progress.record  # an older export gives way
    assert progress.export(tmp_path / "mine.json").name == "mine.json"


def test_an_export_holds_what_other_pages_saved_since(folder, tmp_path):
    start, lesson = Progress(folder), Progress(folder)  # two kernels
    for seed in range(3):
        lesson.attempt("02-a", seed, RIGHT)
    assert len(read_export(start.export(tmp_path)).record.attempts) == 3
    assert start.record == lesson.record


def test_exports_without_a_label_from_many_machines_go_into_one_folder(tmp_path):
    names = set()
    for number in range(30):
        machine = tmp_path / str(number)
        progress = Progress(machine / "home")
        progress.attempt("02-a", 1, RIGHT)
        names.add(progress.export(machine).name)
        progress.attempt("02-a", 2, RIGHT)
        names.add(progress.export(machine).name)  # the same learner's name stays
    assert len(names) == 30


def test_an_export_overwrites_nothing_of_anybodys(folder, tmp_path):
    progress = Progress(folder)
    progress.attempt("02-a", 1, RIGHT)
    (tmp_path / "letter.json").write_text("Dear all")
    (tmp_path / "link.json").symlink_to(tmp_path / "letter.json")
    for place in ("letter.json", "link.json", "no folder/here.json"):
        with pytest.raises(JetlibError, match="write"):
            progress.export(tmp_path / place)
    assert (tmp_path / "letter.json").read_text() == "Dear all"
    for junk in ("letter.json", "none.json", "."):
        with pytest.raises(JetlibError):
            read_export(tmp_path / junk)


def test_deleting_removes_all_of_it(folder):
    progress = Progress(folder)
    for name in ("a", "b"):
        progress.attempt(f"02-{name}", 1, WRONG)
    (folder / "progress.damaged-1.json").write_text("{")
    (folder / "other.txt").write_text("not ours")
    progress.delete()
    assert names(folder) == ["other.txt", "progress.lock"]
    assert (folder / "progress.lock").read_bytes() == b""
    assert progress.record.events == ()
    assert Progress(folder).record.events == ()
    progress.attempt("02-c", 1, RIGHT)
    assert len(saved(folder).events) == 1


def test_deleting_that_fails_says_so(folder, monkeypatch):
    progress = Progress(folder)
    progress.attempt("02-a", 1, RIGHT)
    failing(monkeypatch, "unlink", errno.EROFS)
    with pytest.raises(JetlibError, match="not deleted"):
        progress.delete()
    assert progress.record.state("02-a") == "done"


def test_what_to_look_at_again_goes_by_skill(folder):
    progress = Progress(folder)
    names = ["02-areas-add", "02-square-law", "02-flow-from-gauge", "05-matched-area"]
    for name in names:
        progress.attempt(name, 1, WRONG)
    assert [each.id for each in progress.due()] == names
    skills = progress.to_revisit()
    for skill, exercises in skills.items():
        assert exercises and all(skill in each.skills for each in exercises)
    counts = [len(each) for each in skills.values()]
    assert counts == sorted(counts, reverse=True)
    assert counts[0] > 1
    first = [each.skills[0] for each in progress.warm_up()]
    assert len(first) == len(set(first)) == 3
    assert all(each.lesson < "05" for each in progress.warm_up("05"))
    for seed in (2, 3):
        for name in names:
            progress.attempt(name, seed, RIGHT)
    assert progress.to_revisit() == {} and progress.warm_up() == ()
