"""The test command."""

import importlib.util
from pathlib import Path

spec = importlib.util.spec_from_file_location("run", Path(__file__).parents[1] / "run.py")
run = importlib.util.module_from_spec(spec)
spec.loader.exec_module(run)


def test_run_everything_or_what_was_asked():
    names = [name for name, _ in run.steps("python", [])]
    assert names == ["lint", "format", "notebooks as stored", "tests and notebooks"]
    everything = run.steps("python", [])[-1][1]
    assert {"tests", "lessons", "--nbval-lax", "loadfile"} <= set(everything)
    assert "lessons" not in run.steps("python", [], notebooks=False)[-1][1]
    ((name, command),) = run.steps("python", ["tests/rig", "-k", "sweep"])
    assert name == "pytest" and command[-3:] == ["tests/rig", "-k", "sweep"]


def test_any_failing_step_fails_the_run(monkeypatch, capsys):
    monkeypatch.setattr(run, "ready_python", lambda: "python")
    monkeypatch.setattr(run.start, "write_settings", lambda: [])
    monkeypatch.setattr(run.subprocess, "call", lambda command, **_: int("format" in command))
    assert run.main([]) == 1
    out = capsys.readouterr().out
    assert "FAILED  format" in out and "passed  lint" in out
    homes = []
    monkeypatch.setattr(run.subprocess, "call", lambda command, env, **_: homes.append(env["JETLIB_HOME"]) or 0)
    assert run.main([]) == 0
    assert not Path(homes[0]).parent.exists(), "the home of the tests is thrown away"


def test_the_tests_files_are_in_memory_where_that_has_room(tmp_path):
    assert run.in_memory(tmp_path, needed=1) == tmp_path
    assert run.in_memory(tmp_path, needed=2**60) is None
    assert run.in_memory(tmp_path / "not there", needed=1) is None
