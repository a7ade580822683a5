import contextlib
import io
import pathlib
import time
import traceback

import pytest

pytestmark = [pytest.mark.browser, pytest.mark.filterwarnings("default")]


def test_repl(open_notebook, course, browser):
    cmd, out = pathlib.Path("/tmp/d_cmd.py"), pathlib.Path("/tmp/d_out.txt")
    space = {"open_notebook": open_notebook, "course": course, "browser": browser}
    while True:
        if cmd.exists():
            text = cmd.read_text()
            cmd.unlink()
            if text.strip() == "quit":
                return
            buf = io.StringIO()
            with contextlib.redirect_stdout(buf):
                try:
                    exec(text, space)
                except BaseException:
                    traceback.print_exc(file=buf)
            out.write_text(buf.getvalue() + "\nDONE")
        time.sleep(0.1)
