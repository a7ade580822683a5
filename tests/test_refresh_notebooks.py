"""The tool that stores notebooks clean: what it takes out, what it complains about, that it runs them."""

import copy
import importlib.util
import json
from pathlib import Path

import nbformat
import pytest
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook, new_output

spec = importlib.util.spec_from_file_location("refresh_notebooks", Path(__file__).parent / "refresh_notebooks.py")
tool = importlib.util.module_from_spec(spec)
spec.loader.exec_module(tool)

VIEW = {tool.WIDGET_VIEW: {"model_id": "abc", "version_major": 2, "version_minor": 0}}


def display(**data):
    return new_output("display_data", data=data)


@pytest.fixture
def notebook():
    """One that was run in order and stored clean."""
    cells = [
        new_markdown_cell("# Bench"),
        new_code_cell("2 + 1", execution_count=1, outputs=[new_output("execute_result", data={"text/plain": "3"})]),
        new_code_cell(""),
        new_code_cell("print(4)", execution_count=2, outputs=[new_output("stream", text="4\n")]),
    ]
    notebook = new_notebook(cells=cells)
    tool.clean(notebook)
    return notebook


def test_clean_notebook_has_no_complaints(notebook):
    assert tool.complaints(notebook) == []


def test_cleaning_twice_changes_nothing(notebook):
    before = nbformat.writes(notebook)
    tool.clean(notebook)
    assert nbformat.writes(notebook) == before


def test_views_go_and_what_a_reader_can_use_stays():
    outputs = [
        display(**VIEW),
        display(**VIEW, **{"text/plain": "IntSlider(value=0, description='throttle')"}),
        display(**VIEW, **{"text/plain": "Gauge 3000 psi, nozzle 8.1 gpm (bypass closed)"}),
        display(**VIEW, **{"text/plain": "VBox()", "text/html": "<img alt='gauge'>"}),
        display(**{"text/plain": "Pump(rated_flow=0.0005)"}),
        new_output("stream", text="x"),
    ]
    kept = tool.strip_views(outputs)
    assert [sorted(output.get("data", {})) for output in kept] == [
        ["text/plain"],
        ["text/html", "text/plain"],
        ["text/plain"],
        [],
    ]
    assert "Gauge" in kept[0]["data"]["text/plain"] and "Pump" in kept[2]["data"]["text/plain"]


def test_metadata_of_one_run_goes(notebook):
    cell = notebook["cells"][1]
    cell["metadata"].update(execution={"iopub.status.busy": "2020"}, jupyter={"source_hidden": True}, tags=["x"])
    notebook["metadata"]["widgets"] = {"state": {}}
    notebook["metadata"]["language_info"]["version"] = "3.11.7"
    identity = [cell["id"] for cell in notebook["cells"]]
    assert len(tool.complaints(notebook)) == 2
    tool.clean(notebook)
    assert tool.complaints(notebook) == []
    assert cell["metadata"] == {"jupyter": {"source_hidden": True}, "tags": ["x"]}
    assert notebook["metadata"]["language_info"] == {"name": "python"}
    assert [cell["id"] for cell in notebook["cells"]] == identity


def test_complaints(notebook):
    def after(change):
        changed = copy.deepcopy(notebook)
        change(changed["cells"], changed)
        return " / ".join(tool.complaints(changed))

    error = new_output("error", ename="ValueError", evalue="bore is 12.7 (m)", traceback=[])
    assert "in order" in after(lambda cells, _: cells[1].update(execution_count=7))
    assert "in order" in after(lambda cells, _: cells[3].update(execution_count=None))
    assert "code was changed" in after(lambda cells, _: cells[3].update(source="print(5)"))
    assert after(lambda cells, _: cells[0].update(source="# Other words")) == ""
    assert "widget state" in after(lambda _, book: book["metadata"].update(widgets={}))
    assert "cell 2 holds a widget view" in after(lambda cells, _: cells[1].update(outputs=[display(**VIEW)]))
    assert "cell 2 ends in ValueError: bore" in after(lambda cells, _: cells[1].update(outputs=[error]))
    stderr = new_output("stream", name="stderr", text="DeprecationWarning")
    assert "cell 2 writes to stderr: Dep" in after(lambda cells, _: cells[1].update(outputs=[stderr]))

    def meant(cells, _):
        cells[1].update(outputs=[error])
        cells[1]["metadata"]["tags"] = ["raises-exception"]

    assert after(meant) == ""


def test_cells_without_id_get_a_lasting_one(tmp_path):
    path = tmp_path / "old.ipynb"
    cell = {"cell_type": "markdown", "metadata": {}, "source": ["# Old\n", "words"]}
    path.write_text(json.dumps({"cells": [cell], "metadata": {}, "nbformat": 4, "nbformat_minor": 4}))
    first, second = tool.read(path), tool.read(path)
    assert first["cells"][0]["id"] == second["cells"][0]["id"]
    assert first["cells"][0]["source"] == "# Old\nwords"


SLIDER = "import ipywidgets\nipywidgets.IntSlider()"


@pytest.mark.filterwarnings("default")  # warnings of the kernel's client are not ours
def test_a_notebook_is_run_beside_its_files_and_stored_clean(tmp_path):
    path = tmp_path / "lesson.ipynb"
    (tmp_path / "beside.txt").write_text("found")
    cells = [new_code_cell("print(open('beside.txt').read())"), new_code_cell(SLIDER), new_code_cell("len('four')")]
    nbformat.write(new_notebook(cells=cells), path)
    assert tool.main([str(path), "--check"]) == 1
    assert tool.main([str(path)]) == 0
    assert tool.main([str(path), "--check"]) == 0
    stored = nbformat.read(path, as_version=4)
    assert [len(cell["outputs"]) for cell in stored["cells"]] == [1, 0, 1]
    assert stored["cells"][0]["outputs"][0]["text"] == "found\n"
    assert "widgets" not in stored["metadata"]
    assert [item.name for item in tmp_path.iterdir() if item.suffix == ".half"] == []


@pytest.mark.filterwarnings("default")
def test_notebooks_run_with_nobodys_progress(tmp_path, monkeypatch):
    monkeypatch.setenv("JETLIB_HOME", str(tmp_path / "mine"))
    path = tmp_path / "lesson.ipynb"
    nbformat.write(new_notebook(cells=[new_code_cell("import os\nprint(os.environ['JETLIB_HOME'])")]), path)
    assert tool.main([str(path)]) == 0
    used = Path(nbformat.read(path, as_version=4)["cells"][0]["outputs"][0]["text"].strip())
    assert used != tmp_path / "mine"
    assert not used.exists(), "thrown away afterwards"


@pytest.mark.filterwarnings("default")
@pytest.mark.parametrize("code", ["1 / 0", "import sys\nprint('late', file=sys.stderr)"])
def test_a_notebook_that_fails_is_left_alone(tmp_path, code, capsys):
    path = tmp_path / "lesson.ipynb"
    nbformat.write(new_notebook(cells=[new_code_cell(code)]), path)
    before = path.read_bytes()
    assert tool.main([str(path)]) == 1
    assert path.read_bytes() == before
    assert "NOT CLEAN" in capsys.readouterr().out
