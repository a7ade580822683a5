"""What every page uses is there before its first cell runs, and what is missing is left to the cell that needs it."""

import subprocess
import sys

LOADED = """
import sys
from jetlib.screen.page.made_ready import load_ipython_extension
assert "ipywidgets" not in sys.modules
load_ipython_extension(None)
print(all(name in sys.modules for name in ("numpy", "ipywidgets", "jetlib.screen.consoles.jets_console")))
"""
MISSING = """
import sys
sys.modules["ipywidgets"] = None
from jetlib.screen.page.made_ready import load_ipython_extension
load_ipython_extension(None)
print("went on")
"""


def told(code):
    return subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.strip()


def test_consoles_and_questions_are_loaded():
    assert told(LOADED) == "True"


def test_what_is_missing_does_not_stop_the_kernel():
    assert told(MISSING) == "went on"
