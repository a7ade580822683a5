"""Every control of every notebook is moved as the page would, and every exercise and prediction answered."""

import json
import os
import re
from pathlib import Path

import nbformat
import pytest
from nbclient import NotebookClient

HERE = Path(__file__).parent
LESSONS = HERE.parents[1] / "lessons"
NOTEBOOKS = sorted(LESSONS.glob("*.ipynb"))
ANSWERER = (HERE / "answer_fields.py").read_text("utf-8")
DRIVER = (HERE / "drive_widgets.py").read_text("utf-8")


def reports(notebook, folder):
    """(What the answerer, what the driver says) of `notebook`, run afresh in a kernel of its own."""
    notebook.cells += [nbformat.v4.new_code_cell(ANSWERER), nbformat.v4.new_code_cell(DRIVER)]
    client = NotebookClient(notebook, timeout=300, iopub_timeout=60, resources={"metadata": {"path": str(folder)}})
    client.execute(env={**os.environ})
    return tuple(_printed(cell, word) for cell, word in zip(notebook.cells[-2:], ("ANSWERED ", "DRIVEN "), strict=True))


def _printed(cell, word):
    printed = "".join(out.get("text", "") for out in cell.outputs if out.output_type == "stream")
    line = next(line for line in printed.splitlines() if line.startswith(word))
    return json.loads(line.removeprefix(word))


def _names_in(folder):
    """The files of a folder, but for the folders that Jupyter and Python keep their own in."""
    return {path.name for path in folder.iterdir() if path.is_file()}


@pytest.fixture(autouse=True)
def _own_home(tmp_path, monkeypatch):
    monkeypatch.setenv("JETLIB_HOME", str(tmp_path / "home"))


@pytest.mark.filterwarnings("default")
@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_controls_move_and_every_question_is_answered(path):
    notebook = nbformat.read(path, 4)
    code = "\n".join(cell.source for cell in notebook.cells if cell.cell_type == "code")
    before = _names_in(LESSONS)
    answers, moves = reports(notebook, LESSONS)
    assert _names_in(LESSONS) - before == set(), "what is typed or pressed leaves no file beside the lessons"
    assert answers["errors"] == []
    assert answers["exercises"] == re.findall(r'practice\("([^"]+)"\)', code)
    assert answers["predictions"] == re.findall(r'prediction\("([^"]+)"\)', code)
    assert moves["errors"] == []
    assert moves["idle"] == []
    assert moves["moves"] > 20 or "_console(" not in code


@pytest.mark.filterwarnings("default")
def test_the_driver_itself_can_fail(tmp_path):
    broken = nbformat.v4.new_notebook()
    source = (
        "import ipywidgets as w\n"
        "slider, button, page = w.IntSlider(), w.Button(description='Go'), w.HTML()\n"
        "slider.observe(lambda change: 1 / 0 if change['new'] > 50 else None, names='value')\n"
        "button.on_click(lambda _: {}['nothing'])\n"
        "dead = w.IntSlider(description='dead')"
    )
    broken.cells.append(nbformat.v4.new_code_cell(source))
    _, report = reports(broken, tmp_path)
    assert any("ZeroDivisionError" in error for error in report["errors"])
    assert any("traceback shown" in error for error in report["errors"])
    assert any("dead" in name for name in report["idle"])


@pytest.mark.filterwarnings("default")
@pytest.mark.parametrize(
    ("maker", "name", "broken", "said"),
    [
        ("practice", "02-square-law", "console.fields.reply = lambda: ''", "is not recognised"),
        ("prediction", "02-double-flow", "console.progress.commit = lambda *_: None", "not locked"),
    ],
)
def test_the_answerer_itself_can_fail(tmp_path, maker, name, broken, said):
    page = nbformat.v4.new_notebook()
    source = f"from jetlib.screen import {maker}\nconsole = {maker}('{name}')\n{broken}\nconsole"
    page.cells.append(nbformat.v4.new_code_cell(source))
    report, _ = reports(page, tmp_path)
    assert any(said in error for error in report["errors"]), report
