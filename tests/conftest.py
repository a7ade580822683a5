"""How the tests are shared out among the workers, and whether drawn examples are the same each time."""

import os
from pathlib import Path

import pytest
from hypothesis import settings

# Where a change is let in or not, the same change must get the same answer. Elsewhere each run looks at new examples.
settings.register_profile("steady", derandomize=True, database=None)
if os.environ.get("JETLIB_STEADY"):
    settings.load_profile("steady")

#: Files of slow tests that need nothing of one another: any worker may take the next one.
APART = {"test_pages.py"}


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config, log):
    """Keep a file's tests on one worker: they share what is costly to make, and a notebook's cells share a kernel."""
    from xdist.scheduler import LoadScopeScheduling

    class ByFile(LoadScopeScheduling):
        def _split_scope(self, nodeid):
            file = nodeid.split("::", 1)[0]
            return nodeid if Path(file).name in APART else file

    return ByFile(config, log)
