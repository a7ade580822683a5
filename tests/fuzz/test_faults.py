"""Files under attack, for real where the machine lets us: kill -9, a full or read-only disk, the folder of another.

The progress file's own faults are in tests/course/test_progress.py; here is everything that is written.
"""

import contextlib
import json
import multiprocessing
import os
import signal
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

from jetlib.course.exercises.exercise import Verdict
from jetlib.course.progress.export import read_export
from jetlib.course.progress.progress import Progress
from jetlib.course.store.bench_store import BenchStore
from jetlib.errors import JetlibError
from jetlib.rig.parts.rig_file import demo_rig, load_rig, save_rig
from jetlib.tables.atomic import Unwritable

posix = pytest.mark.skipif(os.name == "nt", reason="kill -9, links and owners are of POSIX systems")
RIGHT = Verdict("right", "")
RIG = demo_rig("yard_cart")


def usable(bench):
    return "rig" in bench


# --- each thing that is written: how, and whether what is there is whole -----------------------------


def write_progress(folder, mark):
    progress = Progress(folder)
    progress.attempt(f"02-{mark}", 1, RIGHT)
    if not progress.saved:
        raise Unwritable("not saved")


def read_progress(folder):
    progress = Progress(folder)
    assert progress.take_notices() == ()
    return [event.exercise.removeprefix("02-") for event in progress.record.events][-1]


def write_rig(folder, mark):
    save_rig(RIG.replace(name=mark), folder / "rig.toml")


def read_rig(folder):
    return load_rig(folder / "rig.toml").name


def write_bench(folder, mark):
    BenchStore(folder).keep({"rig": mark})


def read_bench(folder):
    held, words = BenchStore(folder).now(usable)
    assert words == []
    return held["rig"]


def write_saved_bench(folder, mark):
    BenchStore(folder).save("bench", "mine", {"rig": mark})


def read_saved_bench(folder):
    return BenchStore(folder).saved("bench")["mine"]["rig"]


def write_export(folder, mark):
    progress = Progress(folder / "own")
    progress.attempt(f"02-{mark}", 1, RIGHT)
    progress.export(folder / "out.json")


def read_exported(folder):
    return read_export(folder / "out.json").record.events[-1].exercise.removeprefix("02-")


WRITTEN = {
    "progress": (write_progress, read_progress),
    "rig": (write_rig, read_rig),
    "bench": (write_bench, read_bench),
    "saved bench": (write_saved_bench, read_saved_bench),
    "export": (write_export, read_exported),
}
each = pytest.mark.parametrize("name", WRITTEN)
#: A process split off this one costs a hundredth of one that is begun anew, and is killed just as dead.
PROCESSES = multiprocessing.get_context("spawn" if os.name == "nt" else "fork")


def started(work, *given):
    """A process of its own that does work(*given)."""
    process = PROCESSES.Process(target=work, args=given, daemon=True)
    process.start()
    return process


# --- killed at each step of a write -----------------------------------------------------------------


def write_and_die(folder, name, step, at):
    """Write, in a process of its own, and be killed when `step` of `os` is called once more than `at` times."""
    real, calls = getattr(os, step), []

    def die(*given, **more):
        calls.append(given)
        if len(calls) > at:
            os.kill(os.getpid(), signal.SIGKILL)
        return real(*given, **more)

    setattr(os, step, die)
    WRITTEN[name][0](folder, "new")


@posix
@each
@pytest.mark.parametrize("step", ["fsync", "replace"])
@pytest.mark.parametrize("at", [0, 1])
def test_killed_in_the_middle_the_old_or_the_new_is_there_whole(name, step, at, tmp_path):
    write, read = WRITTEN[name]
    write(tmp_path, "old")
    killed = started(write_and_die, tmp_path, name, step, at)
    killed.join(60)
    if at == 0:
        assert killed.exitcode == -signal.SIGKILL
    assert read(tmp_path) in ("old", "new")
    if killed.exitcode == 0:
        assert read(tmp_path) == "new"
    write(tmp_path, "after")
    assert read(tmp_path) == "after"


# --- a disk that is full, a disk that turns read-only ------------------------------------------------


@pytest.fixture
def small_disk(tmp_path):
    """A disk of 64 kB of its own, and a way to turn it read-only."""
    place = tmp_path / "disk"
    place.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", str(place)]
    if sys.platform != "linux" or os.geteuid() != 0 or subprocess.run(mount, capture_output=True).returncode:
        pytest.skip("only root on Linux can mount a small disk")

    def turn(how):
        subprocess.run(["mount", "-o", f"remount,{how}", str(place)], check=True)

    try:
        yield place, turn
    finally:
        subprocess.run(["umount", "-l", str(place)], check=True)


def fill(folder):
    with contextlib.suppress(OSError), open(folder / "filler", "wb", buffering=0) as file:
        while file.write(b"x" * 4096):
            pass


@each
def test_a_full_disk(name, small_disk):
    folder, _ = small_disk
    write, read = WRITTEN[name]
    write(folder, "old")
    fill(folder)
    assert os.statvfs(folder).f_bavail == 0
    with pytest.raises((JetlibError, Unwritable)):
        write(folder, "new")
    os.unlink(folder / "filler")
    assert read(folder) == "old"
    assert not [path.name for path in folder.rglob("*") if path.name.startswith(".")], "a half-written file stays"
    write(folder, "after")
    assert read(folder) == "after"


@each
def test_a_disk_that_turns_read_only(name, small_disk):
    folder, turn = small_disk
    write, read = WRITTEN[name]
    write(folder, "old")
    turn("ro")
    with pytest.raises((JetlibError, Unwritable)):
        write(folder, "new")
    assert read(folder) == "old"
    turn("rw")
    write(folder, "after")
    assert read(folder) == "after"


def test_a_learner_on_a_full_disk_goes_on_and_loses_nothing(small_disk):
    folder, _ = small_disk
    progress = Progress(folder)
    progress.attempt("02-a", 1, RIGHT)
    fill(folder)
    progress.attempt("02-b", 1, RIGHT)
    assert progress.record.state("02-b") == "done" and not progress.saved
    assert len(progress.take_notices()) == 1
    os.unlink(folder / "filler")
    progress.attempt("02-c", 1, RIGHT)
    assert [event.exercise for event in Progress(folder).record.events] == ["02-a", "02-b", "02-c"]


# --- two writers ------------------------------------------------------------------------------------


def write_again_and_again(folder, name, who):
    for number in range(30):
        WRITTEN[name][0](folder, f"{who}-{number}")


@pytest.mark.parametrize("name", ["rig", "bench", "saved bench"])
def test_two_writers_and_a_reader_meet_whole_files_only(name, tmp_path):
    write, read = WRITTEN[name]
    write(tmp_path, "x-0")
    writers = [started(write_again_and_again, tmp_path, name, who) for who in ("a", "b")]
    seen = set()
    while any(process.is_alive() for process in writers):
        seen.add(read(tmp_path))
    assert [process.exitcode for process in writers] == [0, 0]
    assert read(tmp_path) in ("a-29", "b-29")
    assert len(seen) > 2, "nothing was seen in between: the test shows nothing"


# --- links, other owners, files of the future --------------------------------------------------------


@posix
@pytest.mark.parametrize("dangling", [False, True])
def test_a_link_in_place_of_the_bench_is_never_written_through(dangling, tmp_path):
    outside, folder = tmp_path / "outside.json", tmp_path / "home"
    folder.mkdir()
    if not dangling:
        outside.write_text("precious")
    for name in ("bench.json", "bench.previous.json", "bench_saved.json", "bench_saved.previous.json"):
        (folder / name).symlink_to(outside)
    for write, read in (WRITTEN["bench"], WRITTEN["saved bench"]):
        write(folder, "new")
        assert read(folder) == "new"
    assert (not outside.exists()) if dangling else outside.read_text() == "precious"


@posix
def test_a_link_in_place_of_a_rig_file_is_replaced_not_written_through(tmp_path):
    (tmp_path / "letter.txt").write_text("precious")
    (tmp_path / "rig.toml").symlink_to(tmp_path / "letter.txt")
    write_rig(tmp_path, "new")
    assert read_rig(tmp_path) == "new"
    assert (tmp_path / "letter.txt").read_text() == "precious"


def test_what_a_later_version_saved_on_the_bench_is_not_lost(tmp_path):
    later = json.dumps({"schema": 9, "held": {"who": "knows"}})
    for name in ("bench.json", "bench_saved.json"):
        (tmp_path / name).write_text(later)
    BenchStore(tmp_path).now(usable)
    for write in (write_bench, write_saved_bench):
        with contextlib.suppress(Unwritable):
            write(tmp_path, "new")
    assert [path.read_text() for path in tmp_path.iterdir()].count(later) == 2


def work_as_another(folder, told):
    """Do an exercise as somebody else, and put what comes of it into the queue `told`."""
    os.setgroups([])
    os.setegid(65534)
    os.seteuid(65534)
    progress = Progress(folder)
    progress.attempt("02-second", 1, RIGHT)
    states = [progress.record.state(name) for name in ("02-first", "02-second")]
    told.put((states, progress.saved, progress.take_notices()))


@pytest.mark.skipif(os.name == "nt" or os.geteuid() != 0, reason="only root can be two people")
@pytest.mark.parametrize("mode", [0o700, 0o755, 0o1777])
def test_a_folder_shared_by_a_class_shows_nobody_the_file_of_another(mode):
    with tempfile.TemporaryDirectory() as place:  # pytest's own folder lets no other user in
        os.chmod(place, 0o755)
        folder = Path(place) / "shared"
        Progress(folder).attempt("02-first", 1, RIGHT)
        os.chmod(folder, mode)
        before = (folder / "progress.json").read_bytes()
        told = PROCESSES.SimpleQueue()
        another = started(work_as_another, folder, told)
        another.join(60)
        assert another.exitcode == 0
        states, saved, notices = told.get()
        assert states == ["not attempted", "done"] and not saved
        assert len(notices) == 1 and "Permission denied" in notices[0]
        assert (folder / "progress.json").read_bytes() == before
        assert Progress(folder).record.state("02-first") == "done"
