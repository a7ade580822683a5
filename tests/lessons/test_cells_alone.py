"""Every code cell of every page runs by itself: a reader may press any one first, and begin with none but it."""

import ast
import json
import os
from pathlib import Path

import pytest
from IPython.core.interactiveshell import InteractiveShell

LESSONS = Path(__file__).parents[2] / "lessons"


def cells(stem):
    """(first line, source) of each code cell of a page."""
    notebook = json.loads((LESSONS / f"{stem}.ipynb").read_text("utf-8"))
    sources = ["".join(cell["source"]) for cell in notebook["cells"] if cell["cell_type"] == "code"]
    return [(source.splitlines()[0], source) for source in sources if source.strip()]


def run_alone(source, formatter):
    """Run a cell in a namespace of its own, and show its last line as a notebook does."""
    tree = ast.parse(source)
    last = tree.body.pop() if isinstance(tree.body[-1], ast.Expr) else None
    names = {"__name__": "__main__"}
    exec(compile(tree, "a cell", "exec"), names)
    if last is not None:
        value = eval(compile(ast.Expression(last.value), "a cell", "eval"), names)
        assert value is None or formatter.format(value)[0]


@pytest.mark.parametrize("stem", sorted(path.stem for path in LESSONS.glob("*.ipynb")))
def test_each_cell_runs_alone(stem, tmp_path, monkeypatch):
    monkeypatch.setenv("JETLIB_HOME", str(tmp_path))
    monkeypatch.chdir(LESSONS)
    formatter, failed = InteractiveShell.instance().display_formatter, []
    for head, source in cells(stem):
        try:
            run_alone(source, formatter)
        except Exception as error:
            failed.append(f"{head}: {type(error).__name__}: {error}")
    assert not failed, "\n".join(failed)
    assert os.getcwd() == str(LESSONS)
