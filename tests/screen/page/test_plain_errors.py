"""A cell that fails says one plain sentence with what to do; the whole story is one click away."""

import pytest
from IPython.core.interactiveshell import InteractiveShell

from jetlib.screen.page import plain_errors

SAID = {
    "from jetlib import Hose\nHose(bore=12.7, length=1)": 'bore="12.7 mm"',
    "rows[0]": "rows is not known here",
    "for": "Line 1 of this cell is not Python",
    "  x = 1\n y": "is not Python",
    "x = '": "Line 1",
    "import no_such_part": "start the course: python3 lessons/start.py",
    "open('none.txt')": "No such file or directory: none.txt",
    "1 / 0": "ZeroDivisionError: division by zero",
    "raise KeyboardInterrupt": "Stopped",
    "raise MemoryError": "no memory left",
    "raise ValueError('two\\nlines ' * 200)": "ValueError: two lines",
    "raise Exception": "This cell stopped (Exception: )",
}


@pytest.fixture
def shell(monkeypatch, tmp_path):
    """A shell of its own that holds what it shows: [(sentence, …)], [display data]."""
    monkeypatch.setenv("IPYTHONDIR", str(tmp_path))
    shell = InteractiveShell()
    shell.told, shell.folded = [], []
    shell._showtraceback = lambda kind, error, lines: shell.told.append(lines)
    monkeypatch.setattr(plain_errors, "display", lambda data, raw: shell.folded.append(data))
    plain_errors.load_ipython_extension(shell)
    yield shell
    shell.history_manager.end_session()


@pytest.mark.parametrize("code", SAID)
def test_each_error_is_one_sentence_and_a_folded_story(code, shell):
    result = shell.run_cell(code)
    assert not result.success  # a page's own runner must still see that it failed
    assert len(shell.told) == 1 and len(shell.told[0]) == 1, shell.told
    said = shell.told[0][0]
    assert SAID[code] in said and "\n" not in said and "Traceback" not in said and len(said) < 500
    assert shell.folded[0]["text/html"].startswith("<details><summary>")
    assert "<script" not in shell.folded[0]["text/html"]


def test_what_an_error_quotes_is_text_on_the_page(shell):
    shell.run_cell("raise ValueError('<script>alert(1)</script>')")
    assert "<script" not in shell.folded[0]["text/html"] and "&lt;script&gt;" in shell.folded[0]["text/html"]
