"""How the tests are shared out among the workers."""

import pytest

#: Files of slow tests that need nothing of one another: any worker may take the next one.
APART = {"test_pages.py", "test_every_control.py"}


def pytest_itemcollected(item):
    """Keep a file's tests on one worker: they share what is costly to make, and a notebook's cells share a kernel."""
    if item.path.name not in APART:
        item.add_marker(pytest.mark.xdist_group(item.path.relative_to(item.config.rootpath).as_posix()))
