"""What every page uses, loaded while the browser still draws the page: the first thing that moves is there sooner.

An IPython extension, which the kernel's settings load; nothing on a page depends on it.
"""

import contextlib
from importlib import import_module

USED = ("jets_console", "practice", "prediction", "units_choice")


def load_ipython_extension(_shell):
    """Load the modules of consoles and questions. What is missing is told by the cell that needs it."""
    with contextlib.suppress(ImportError):
        for name in USED:
            getattr(import_module("jetlib.screen"), name)
