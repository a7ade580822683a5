"""Every slider, button, list and entry of every console in every notebook is moved; any callback error fails."""

import json
import os
from pathlib import Path

import nbformat
import pytest
from nbclient import NotebookClient

LESSONS = Path(__file__).parents[2] / "lessons"
NOTEBOOKS = sorted(LESSONS.glob("*.ipynb"))
DRIVER = (Path(__file__).parent / "drive_widgets.py").read_text()


def drive(notebook, folder):
    """The driver's report for `notebook`, run afresh in a kernel of its own."""
    notebook.cells.append(nbformat.v4.new_code_cell(DRIVER))
    client = NotebookClient(notebook, timeout=300, resources={"metadata": {"path": str(folder)}})
    client.execute(env={**os.environ})
    printed = "".join(out.get("text", "") for out in notebook.cells[-1].outputs if out.output_type == "stream")
    line = next(line for line in printed.splitlines() if line.startswith("DRIVEN "))
    return json.loads(line.removeprefix("DRIVEN "))


@pytest.fixture(autouse=True)
def _own_home(tmp_path, monkeypatch):
    monkeypatch.setenv("JETLIB_HOME", str(tmp_path / "home"))


@pytest.mark.filterwarnings("default")
@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_controls_move_without_error(path):
    report = drive(nbformat.read(path, 4), LESSONS)
    assert report["errors"] == []
    assert report["idle"] == []
    has_console = "_console(" in path.read_text()
    assert report["moves"] > 20 or not has_console


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
    report = drive(broken, tmp_path)
    assert any("ZeroDivisionError" in error for error in report["errors"])
    assert any("traceback shown" in error for error in report["errors"])
    assert any("dead" in name for name in report["idle"])
