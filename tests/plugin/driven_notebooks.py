"""Plugin: once nbval has run a notebook's cells, every control is moved and every question answered in that kernel.

A page runs once for both. The test command loads this; without it nbval does what it always does. Each notebook has a
learner's home of its own.
"""

import contextlib
import json
import os
import re
import tempfile
from pathlib import Path

import pytest
from nbval.plugin import IPyNbFile

HERE = Path(__file__).parents[1] / "lessons"
PARTS = {word: (HERE / f"{name}.py").read_text("utf-8") for word, name in {
    "ANSWERED ": "answer_fields",
    "DRIVEN ": "drive_widgets",
}.items()}  # fmt: skip
PATIENCE = 300  # seconds until a kernel must have answered


def said(client, source, word):
    """What a part put down after `word`, run by a kernel's client; errors and lost answers are raised."""
    lines, errors = [], []

    def keep(message):
        content = message["content"]
        if message["msg_type"] == "stream":
            lines.append(content["text"])
        elif message["msg_type"] == "error":
            errors.append("\n".join(content["traceback"]))

    client.execute_interactive(source, output_hook=keep, allow_stdin=False, timeout=PATIENCE)
    assert not errors, errors[0]
    line = next(line for line in "".join(lines).splitlines() if line.startswith(word))
    return json.loads(line.removeprefix(word))


class ControlsMove(pytest.Item):
    """The last test of a notebook."""

    def runtest(self):
        code = "\n".join(cell.source for cell in self.parent.nb.cells if cell.cell_type == "code")
        before = _files_beside(self.path)
        answers, moves = (said(self.parent.kernel.kc, source, word) for word, source in PARTS.items())
        assert _files_beside(self.path) == before, "what is typed or pressed leaves no file beside the lessons"
        assert answers["errors"] == []
        assert answers["exercises"] == re.findall(r'practice\("([^"]+)"\)', code)
        assert answers["predictions"] == re.findall(r'prediction\("([^"]+)"\)', code)
        assert moves["errors"] == []
        assert moves["idle"] == []
        assert moves["moves"] > 20 or "_console(" not in code

    def reportinfo(self):
        return self.path, 0, f"{self.path.name}: controls and answers"


def _files_beside(path):
    """Names of the files of a notebook's folder that the reader would find there."""
    return {each.name for each in path.parent.iterdir() if each.is_file()}


_collect, _setup, _teardown = IPyNbFile.collect, IPyNbFile.setup, IPyNbFile.teardown


def collect(notebook):
    yield from _collect(notebook)
    yield ControlsMove.from_parent(notebook, name="controls and answers")


def setup(notebook):
    notebook.own_home = tempfile.TemporaryDirectory(prefix="jetlib-home-", ignore_cleanup_errors=True)
    before = os.environ.get("JETLIB_HOME")
    os.environ["JETLIB_HOME"] = notebook.own_home.name
    try:
        _setup(notebook)
    finally:
        os.environ.pop("JETLIB_HOME")
        if before is not None:
            os.environ["JETLIB_HOME"] = before
    client = notebook.kernel.kc
    # nbval keeps no history; the consoles that the cells showed are found in it.
    notebook.kernel.execute_cell_input = lambda source, allow_stdin=None: client.execute(
        source, allow_stdin=allow_stdin, stop_on_error=False
    )


def teardown(notebook):
    _teardown(notebook)
    with contextlib.suppress(AttributeError):
        notebook.own_home.cleanup()


IPyNbFile.collect, IPyNbFile.setup, IPyNbFile.teardown = collect, setup, teardown
