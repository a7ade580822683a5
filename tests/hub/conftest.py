"""One room for all tests that ask for one, because it is costly, and one Chromium to look at it."""

import os
import secrets
import shutil
import sys
import tempfile
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))


@pytest.fixture(scope="session")
def room():
    if not os.environ.get("JETLIB_REQUIRE_HUB"):
        pytest.skip("makes twelve accounts on this machine for a while: set JETLIB_REQUIRE_HUB=1, as root, to run it")
    from served import SEATS, Room, what_is_missing

    if problem := what_is_missing():
        pytest.fail(f"{problem} (JETLIB_REQUIRE_HUB asks for it)")
    name = "t" + "".join(secrets.choice("abcdefghijklmnopqrstuvwxyz") for _ in "1234")
    ready = os.environ.get("JETLIB_ROOM")  # a folder that is set up already saves a minute or two
    made = Room(Path(ready or tempfile.mkdtemp(prefix="jetroom-", dir="/opt")), name)
    try:
        if not ready:
            made.script("setup")
        made.script("seats", str(SEATS), "--name", made.name, "--yes")
        made.serve()
        yield made
    finally:
        for learner in made.learners:
            learner.close()
        made.stop()
        if (made.folder / "private/ledger.json").exists():
            made.script("remove", "--yes")
        if not ready:
            shutil.rmtree(made.folder)


@pytest.fixture(scope="session")
def chromium():
    path = next((found for name in ("chromium", "chromium-browser") if (found := shutil.which(name))), None)
    if path is None and os.environ.get("JETLIB_REQUIRE_BROWSER"):
        pytest.fail("no Chromium on this machine, and JETLIB_REQUIRE_BROWSER asks for one")
    if path is None:
        pytest.skip("no Chromium on this machine: install Debian's chromium to look at the room")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        quiet = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--no-proxy-server"]
        browser = playwright.chromium.launch(executable_path=path, args=quiet)
        yield browser
        browser.close()
