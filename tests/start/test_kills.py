"""Real processes: a start that is killed, in the set-up and later; two starts at once; starts without a network."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
import start_place
import start_swap

pytestmark = pytest.mark.skipif(os.name == "nt", reason="kill -9 is of POSIX systems")
FAKED = Path(__file__).with_name("faked.py")


def begin(course, *arguments, pip="works", **variables):
    return subprocess.Popen(
        [sys.executable, str(FAKED), str(course), "--no-browser", *arguments],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env={**os.environ, "FAKE_PIP": pip, "PYTHONUNBUFFERED": "1", **variables},
    )


def run(course, *arguments, pip="works"):
    with begin(course, *arguments, pip=pip) as process:
        out, _ = process.communicate(timeout=120)
    return process.returncode, out


def wait_for(what, seconds=60):
    until = time.monotonic() + seconds
    while not (found := what()):
        if time.monotonic() > until:
            pytest.fail("waited in vain")
        time.sleep(0.05)
    return found


def alive(pid):
    """Whether a process runs. One that has ended and that nobody has asked about counts as ended."""
    try:
        return Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()[0] != "Z"
    except OSError:
        return False


def needs_proc():
    if not Path("/proc/self/stat").exists():
        pytest.skip("asks /proc whether a process runs")


def pids(course):
    file = course / "pids.txt"
    return wait_for(lambda: file.exists() and [int(word) for word in file.read_text().split()])


def works(course):
    """Whether the environment is whole: its Python sees the packages, a script of its own runs, nothing is beside."""
    venv = start_place.venv_folder(course)
    seen = subprocess.run([start_place.python_in(venv), "-c", "import numpy, jetlib"]).returncode == 0
    said = subprocess.run([venv / "bin" / "jupyterlab"], capture_output=True, text=True).stdout
    return seen and said == "it runs\n" and sorted(course.glob(".venv*")) == [venv]


@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGTERM, signal.SIGINT, signal.SIGHUP])
@pytest.mark.parametrize("before", ["nothing there", "one that works"])
def test_a_start_that_is_ended_in_the_set_up_leaves_no_pip_and_no_damage(course, how, before):
    needs_proc()
    if before != "nothing there":
        assert run(course, "--check")[0] == 0
        assert works(course)
    with begin(course, "--check", "--redo", pip="sleeps") as process:
        running = pids(course)
        assert all(map(alive, running))
        process.send_signal(how)
        process.communicate(timeout=60)
    wait_for(lambda: not any(map(alive, running)))
    if before != "nothing there":
        venv = start_place.venv_folder(course)
        assert subprocess.run([start_place.python_in(venv), "-c", "import numpy, jetlib"]).returncode == 0
    code, out = run(course, "--check")
    assert code == 0 and ("Set-up is complete" in out) == (before == "nothing there"), out
    assert works(course), out


def test_two_starts_in_the_same_second_give_one_server(course):
    first, second = begin(course), begin(course)
    with first, second:
        wait_for(lambda: first.poll() is not None or second.poll() is not None)
        done, serving = (first, second) if first.poll() is not None else (second, first)
        assert "already running in another window" in done.communicate()[0]
        assert serving.poll() is None
        assert len((course / "servers.txt").read_text().split()) == 1
        serving.send_signal(signal.SIGTERM)
        out = serving.communicate(timeout=60)[0]
    assert serving.returncode == 0 and "The course is closed." in out


def test_the_server_ends_with_a_start_that_is_killed(course):
    needs_proc()
    with begin(course) as process:
        server = int(wait_for(lambda: (course / "servers.txt").exists() and (course / "servers.txt").read_text()))
        wait_for(lambda: list((course / ".venv/share/jupyter/runtime").glob("jpserver-*")))
        process.kill()
        process.communicate()
    wait_for(lambda: not alive(server))


def test_without_a_network_what_worked_goes_on_working(course):
    code, out = run(course, "--check", pip="offline")
    assert code == 1 and "No connection to the package index" in out
    assert "NewConnectionError" in (course / ".venv/setup-log.txt").read_text(), "where the README says the story is"
    assert run(course, "--check")[0] == 0
    assert works(course)
    # a comment is nothing new
    (course / "requirements.txt").write_text("# what is needed\nnumpy  # for numbers\n\n-e ./jetlib\n")
    code, out = run(course, "--check", pip="offline")
    assert code == 0 and "Set-up" not in out and "anew" not in out
    # other packages are, and cannot be had
    (course / "requirements.txt").write_text("numpy>2\n-e ./jetlib\n")
    code, out = run(course, "--check", pip="offline")
    assert code == 0 and "The version from before works, and is started" in out and "No connection" in out
    code, out = run(course, "--check", "--redo", pip="offline")
    assert "The version from before works, and is started" in out
    assert works(course)
    # the course is moved, and its name gets a space
    moved = course.rename(course.parent / "another place")
    code, out = run(moved, "--check", "--redo", pip="offline")
    assert "The version from before works" in out
    (moved / "requirements.txt").write_text("numpy\n-e ./jetlib\n")
    code, out = run(moved, "--check", pip="offline")
    assert "its environment with it" in out and works(moved)
    assert start_swap.read_stamp("course", moved / ".venv")["folder"] == str(moved)
