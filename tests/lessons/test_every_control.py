"""What moves every control and answers every question of a notebook, after nbval, can fail itself."""

import json
import os
from pathlib import Path

import nbformat
import pytest
from nbclient import NotebookClient

HERE = Path(__file__).parent
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


@pytest.fixture(autouse=True)
def _own_home(tmp_path, monkeypatch):
    monkeypatch.setenv("JETLIB_HOME", str(tmp_path / "home"))


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
