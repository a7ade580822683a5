r"""Run notebooks afresh and store them in a clean state, or check that they are stored so.

    python3 tests/refresh_notebooks.py                     every notebook under lessons/
    python3 tests/refresh_notebooks.py lessons/bench.ipynb only that one
    python3 tests/refresh_notebooks.py --check             change nothing, say what is not clean
    python3 tests/refresh_notebooks.py --pack              run nothing, only renew the packed copies

A notebook that is clean gets a packed copy in data/pages/, which is what the start script trusts and brings back.

Clean means: every code cell run once, in order, from a fresh kernel; no error and nothing on stderr; no widget view
and no widget state (a reader who has run nothing then sees the stored picture, not "model not found"); metadata
down to what is needed, so that differences between versions are small. They run with nobody's progress, and leave
none behind.
"""

import argparse
import hashlib
import json
import os
import re
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT / "lessons"))

import start_pages  # noqa: E402

WIDGET_VIEW = "application/vnd.jupyter.widget-view+json"
WIDGET_REPR = re.compile(r"(?:[A-Z]\w*\(.*\))?\s*", re.DOTALL)  # "IntSlider(value=0)", or nothing
KERNEL = {"display_name": "Python 3 (ipykernel)", "language": "python", "name": "python3"}
LANGUAGE = {"name": "python"}
SOURCE_MARK = "source_when_run"  # in the notebook's metadata, under "jetlib"
NOTEBOOK_KEYS = ("kernelspec", "language_info", "jetlib", "title")
UNKEPT_CELL_KEYS = ("execution", "ExecuteTime", "collapsed", "scrolled", "trusted")


def code_cells(notebook):
    """Code cells that hold something to run."""
    return [cell for cell in notebook["cells"] if cell["cell_type"] == "code" and cell["source"].strip()]


def source_mark(notebook):
    """Short hash of all code in the notebook: tells whether it was changed since it was run."""
    sources = [cell["source"] for cell in code_cells(notebook)]
    return hashlib.sha256(json.dumps(sources).encode()).hexdigest()[:16]


def strip_views(outputs):
    """Outputs without widget views; one that held nothing else a reader can use is gone."""
    kept = []
    for output in outputs:
        data = output.get("data", {})
        had_view = data.pop(WIDGET_VIEW, None) is not None
        output.get("metadata", {}).pop(WIDGET_VIEW, None)
        if had_view and set(data) <= {"text/plain"} and WIDGET_REPR.fullmatch(data.get("text/plain", "")):
            continue
        kept.append(output)
    return kept


def clean(notebook):
    """Bring a notebook that was just run into the state it is stored in. RigFactors it."""
    for cell in notebook["cells"]:
        for key in UNKEPT_CELL_KEYS:
            cell["metadata"].pop(key, None)
        if cell["cell_type"] == "code":
            cell["outputs"] = strip_views(cell["outputs"])
            if not cell["source"].strip():
                cell["execution_count"] = None
    metadata = {key: value for key, value in notebook["metadata"].items() if key in NOTEBOOK_KEYS}
    metadata.update(kernelspec=dict(KERNEL), language_info=dict(LANGUAGE))
    metadata["jetlib"] = {**metadata.get("jetlib", {}), SOURCE_MARK: source_mark(notebook)}
    notebook["metadata"] = type(notebook["metadata"])(metadata)


def may_raise(cell):
    return "raises-exception" in cell["metadata"].get("tags", [])


def complaints(notebook):
    """What is not clean about a notebook, as a list of sentences."""
    found = []
    cells = code_cells(notebook)
    counts = [cell["execution_count"] for cell in cells]
    if counts != list(range(1, len(cells) + 1)):
        found.append(f"cells were not run once each and in order: {counts}")
    if notebook["metadata"].get("jetlib", {}).get(SOURCE_MARK) != source_mark(notebook):
        found.append("code was changed since it was run")
    if "widgets" in notebook["metadata"]:
        found.append("it holds widget state")
    for number, cell in enumerate(notebook["cells"], start=1):
        for output in cell.get("outputs", []):
            if output["output_type"] == "error" and not may_raise(cell):
                found.append(f"cell {number} ends in {output['ename']}: {output['evalue']}")
            if output["output_type"] == "stream" and output["name"] == "stderr":
                found.append(f"cell {number} writes to stderr: {''.join(output['text'])[:200]}")
            if WIDGET_VIEW in output.get("data", {}):
                found.append(f"cell {number} holds a widget view")
        if any(key in cell["metadata"] for key in UNKEPT_CELL_KEYS):
            found.append(f"cell {number} holds metadata of one run")
    return found


def read(path):
    """The notebook at `path`. Cells without an id get one that is the same at every reading."""
    import nbformat

    raw = json.loads(path.read_text("utf-8"))
    raw["nbformat"], raw["nbformat_minor"] = 4, 5
    for index, cell in enumerate(raw["cells"]):
        cell.setdefault("id", f"cell-{index:02d}")
    return nbformat.reads(json.dumps(raw), as_version=4)


def refresh(path):
    """Run one notebook afresh and write it back, unless something is wrong with it. Returns the complaints."""
    import nbformat
    from nbclient import NotebookClient
    from nbclient.exceptions import CellExecutionError

    notebook = read(path)
    client = NotebookClient(
        notebook,
        timeout=300,
        iopub_timeout=60,
        kernel_name="python3",
        record_timing=False,
        store_widget_state=False,
        resources={"metadata": {"path": str(path.parent)}},
    )
    with tempfile.TemporaryDirectory(prefix="jetlib-home-", ignore_cleanup_errors=True) as home:
        try:
            client.execute(env={**os.environ, "JETLIB_HOME": home})
        except CellExecutionError as error:
            return [str(error)]
    clean(notebook)
    found = complaints(notebook)
    if not found:
        nbformat.validate(notebook)
        half = path.with_suffix(".half")
        half.write_text(nbformat.writes(notebook, version=nbformat.NO_CONVERT) + "\n", "utf-8", newline="\n")
        half.replace(path)
        if path.parent == ROOT / "lessons":
            start_pages.pack(path)
    return found


def packing_complaints(path):
    """What is wrong with the packed copy of the page at `path`."""
    if path.parent != ROOT / "lessons":
        return []
    try:
        same = start_pages.shipped_bytes(path.stem) == start_pages.plain(path.read_bytes())
    except start_pages.SetupProblem:
        same = False
    return [] if same else ["its packed copy in data/pages/ is not this page: refresh it, or give --pack"]


def drop_packed_without_page():
    """Packed copies of pages that are gone are deleted; returns their names."""
    gone = [stem for stem in start_pages.shipped_pages() if not start_pages.page_file(stem).exists()]
    for stem in gone:
        start_pages.packed_file(stem).unlink()
    return gone


def in_environment(argv):
    """Run this again in the environment of the tests, where nbclient is; returns the exit code."""
    sys.path.insert(0, str(ROOT / "tests"))
    import run

    python = run.ready_python()
    return subprocess.call([python, __file__, *argv], env=run.start.environment())


def main(argv):
    parser = argparse.ArgumentParser(description="Run notebooks afresh and store them in a clean state.")
    parser.add_argument("notebooks", nargs="*", type=Path, help="default: every notebook under lessons/")
    parser.add_argument("--check", action="store_true", help="change nothing; say what is not clean")
    parser.add_argument("--pack", action="store_true", help="run nothing; renew the packed copies in data/pages/")
    chosen = parser.parse_args(argv)
    if chosen.pack:
        pages = [path.resolve() for path in chosen.notebooks] or start_pages.course_notebooks()
        packed = [path.stem for path in pages if start_pages.pack(path)]
        print(
            "packed:",
            ", ".join(packed) or "all were fresh",
            *(f"\ngone: {stem}" for stem in drop_packed_without_page()),
        )
        return 0
    try:
        import nbclient  # noqa: F401
    except ImportError:
        return in_environment(argv)
    failed = 0
    for path in [path.resolve() for path in chosen.notebooks] or start_pages.course_notebooks():
        found = complaints(read(path)) + packing_complaints(path) if chosen.check else refresh(path)
        print(f"{'NOT CLEAN' if found else 'clean':<10} {path.name}", *found, sep="\n    ", flush=True)
        failed += bool(found)
    if not chosen.check:
        subprocess.call([sys.executable, ROOT / "tests" / "consoles_table.py"])
    if failed and chosen.check:
        print("Run afresh and stored clean by:  python3 tests/refresh_notebooks.py")
    return int(bool(failed))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
