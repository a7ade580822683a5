"""The doors: an old Python, the standard library alone, what can be typed, and that no error comes as a traceback."""

import ast
import sys
from pathlib import Path

import pytest
import start

ROOT = Path(__file__).parents[2]
SCRIPTS = sorted(str(path.relative_to(ROOT)) for path in (ROOT / "lessons").glob("start*.py"))


@pytest.mark.parametrize("name", ["lessons/start.py", "tests/run.py"])
def test_old_python_can_read_the_doors(name):
    ast.parse((ROOT / name).read_text("utf-8"), feature_version=(3, 6))


@pytest.mark.parametrize("name", [*SCRIPTS, "tests/run.py"])
def test_doors_need_only_the_standard_library(name):
    own = {Path(script).stem for script in SCRIPTS} | {"msvcrt", "fcntl"}
    if name == "lessons/start_pages.py":
        own.add("nbformat")  # where it runs as a program of the environment
    for node in ast.walk(ast.parse((ROOT / name).read_text("utf-8"))):
        names = [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
        names += [node.module] if isinstance(node, ast.ImportFrom) else []
        for module in names:
            assert module.split(".")[0] in sys.stdlib_module_names | own


@pytest.mark.parametrize("version", [(3, 11, 0), (3, 12, 4), (3, 14, 0), (4, 0, 0)])
def test_new_python_will_do(version):
    assert start.version_problem(version) is None


@pytest.mark.parametrize("version", [(2, 7, 18), (3, 6, 15), (3, 10, 13)])
def test_old_python_is_told_what_to_do(version):
    text = start.version_problem(version, runs=lambda name: False, windows=False)
    assert "3.11 or newer" in text and f"{version[0]}.{version[1]}" in text
    assert text.endswith("python3 lessons/start.py")
    assert start.version_problem(version, windows=True).endswith(r"py lessons\start.py")
    found = start.version_problem(version, runs=lambda name: name == "python3.12", windows=False)
    assert found.endswith("python3.12 lessons/start.py")


def test_arguments(capsys):
    chosen = start.arguments([])
    assert (chosen.page, chosen.check, chosen.no_browser, chosen.port) == (None, False, False, None)
    assert start.arguments(["03", "--port", "8899"]).port == 8899
    for asked in (["--restore"], ["--restore", "03"], ["03", "--restore"]):
        assert start.arguments(asked).restore and start.arguments(asked).page in (None, "03")
    for wrong in (["--port", "80"], ["--port", "x"], ["--ip=0.0.0.0"], ["--prot", "8899"]):
        with pytest.raises(SystemExit):
            start.arguments(wrong)
    assert "8899" in capsys.readouterr().err


@pytest.fixture
def quiet(monkeypatch, tmp_path):
    """`main` without its signals, which pytest needs, and with a folder of its own for what went wrong."""
    monkeypatch.setattr(start, "stop_like_ctrl_c", lambda: None)
    monkeypatch.setattr(start, "running_server", lambda: None)
    monkeypatch.setattr(start, "keep_traceback", lambda: (tmp_path / "kept").touch())
    return tmp_path


@pytest.mark.parametrize(
    ("error", "said"),
    [
        (start.SetupProblem("The disk is full."), "did not start.\nThe disk is full."),
        (PermissionError(13, "Permission denied", "x"), "could not be written. Close other windows"),
        (ZeroDivisionError("division by zero"), "does not know why:\n  ZeroDivisionError: division by zero"),
    ],
)
def test_main_says_what_went_wrong_and_what_to_send(monkeypatch, capsys, quiet, error, said):
    def fail(redo):
        raise error

    monkeypatch.setattr(start, "settle", fail)
    assert start.main(["--check"]) == 1
    out = capsys.readouterr().out
    assert said in out and "--report" in out and "Traceback" not in out
    assert (quiet / "kept").exists() == (not isinstance(error, start.SetupProblem))


def test_the_report_is_written_whatever_is_wrong(monkeypatch, capsys, quiet):
    monkeypatch.setattr(start, "settle", lambda redo: pytest.fail("it must not need the environment"))
    monkeypatch.setattr(start, "write_report", lambda: "course-report-1.txt")
    assert start.main(["--report"]) == 0
    assert "course-report-1.txt" in capsys.readouterr().out
