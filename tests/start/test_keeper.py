"""The keeper: what it runs ends with whoever asked for it, and its exit code comes through."""

import os
import signal
import subprocess
import sys
import time

import pytest
import start_keeper
import start_pip

pytestmark = pytest.mark.skipif(os.name == "nt", reason="signals are of POSIX systems")
# Says that it is ready; at a polite request to end it writes a file.
POLITE = """
import signal, sys, time
def end(*_):
    open(sys.argv[1], "w").close()
    raise SystemExit(0)
signal.signal(signal.SIGTERM, end)
print("ready", flush=True)
time.sleep(600)
"""
STUBBORN = (
    "import signal, time; signal.signal(signal.SIGTERM, signal.SIG_IGN); print('ready', flush=True); time.sleep(600)"
)


def ended(process):
    """Close the keeper's input and wait: everything that holds its output has ended when that ends."""
    process.stdin.close()
    process.stdout.read()
    return process.wait(60)


@pytest.mark.parametrize("code", [0, 3, 255])
def test_exit_codes_come_through(code):
    with start_pip.kept([sys.executable, "-c", f"raise SystemExit({code})"]) as process:
        assert process.wait(60) == code


def test_a_death_by_signal_comes_through_as_in_a_shell():
    with start_pip.kept([sys.executable, "-c", "import os; os.kill(os.getpid(), 9)"]) as process:
        assert process.wait(60) == 128 + signal.SIGKILL


@pytest.mark.parametrize("gently", [False, True])
def test_a_request_to_end_is_polite_only_where_asked(tmp_path, gently):
    command = [sys.executable, "-c", POLITE, tmp_path / "put away"]
    with start_pip.kept(command, gently=gently, stdout=subprocess.PIPE) as process:
        process.stdout.readline()
        ended(process)
    assert (tmp_path / "put away").exists() == gently


@pytest.mark.parametrize("gently", [False, True])
def test_a_keeper_that_is_asked_to_end_takes_its_command_along(tmp_path, gently):
    command = [sys.executable, "-c", POLITE, tmp_path / "put away"]
    with start_pip.kept(command, gently=gently, stdout=subprocess.PIPE) as process:
        process.stdout.readline()
        process.send_signal(signal.SIGTERM)
        process.stdout.read()  # ends when nobody holds it any more
        process.wait(60)
    assert (tmp_path / "put away").exists() == gently


def test_what_does_not_listen_ends_all_the_same(monkeypatch, tmp_path):
    keeper = tmp_path / "start_keeper.py"
    keeper.write_text(start_pip.KEEPER.read_text("utf-8").replace("PATIENCE = 10", "PATIENCE = 0.2"))
    monkeypatch.setattr(start_pip, "KEEPER", keeper)
    for gently in (True, False):
        with start_pip.kept([sys.executable, "-c", STUBBORN], gently=gently, stdout=subprocess.PIPE) as process:
            process.stdout.readline()
            assert ended(process) == -signal.SIGKILL


def test_ctrl_c_in_the_window_does_not_reach_it(tmp_path):
    """It is in a group of its own."""
    command = [sys.executable, "-c", "print('ready', flush=True); import time; time.sleep(600)"]
    with start_pip.kept(command, stdout=subprocess.PIPE) as process:
        process.stdout.readline()
        assert os.getpgid(process.pid) == process.pid != os.getpgrp()
        ended(process)


def test_windows_is_asked_to_end_the_whole_tree(monkeypatch):
    asked = []
    monkeypatch.setattr(start_keeper.subprocess, "call", lambda command, **_: asked.append(command))

    class Process:
        pid = 4711

    start_keeper.end(Process(), gently=True, windows=True)
    assert asked == [["taskkill", "/F", "/T", "/PID", "4711"]]


def test_a_run_that_is_given_up_ends_what_it_started(root, monkeypatch):
    (root / ".venv").mkdir()
    started = []
    kept = start_pip.kept
    monkeypatch.setattr(start_pip, "kept", lambda *words, **more: started.append(kept(*words, **more)) or started[0])

    def give_up(line):
        raise KeyboardInterrupt

    command = [sys.executable, "-c", "print('ready', flush=True); import time; time.sleep(600)"]
    with pytest.raises(KeyboardInterrupt):
        start_pip.run_logged(command, root, root / ".venv/log.txt", begin="", end="", news=give_up)
    assert started[0].poll() is not None
    time.sleep(0)
