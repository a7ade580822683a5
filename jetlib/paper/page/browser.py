"""HTML to PDF by a Chromium that is on the machine already."""

import os
import shutil
import subprocess
import tempfile
from pathlib import Path

from jetlib.errors import JetlibError

_NAMES = ("chromium", "chromium-browser", "google-chrome", "chrome", "msedge")
_SECONDS = 120


def find_browser():
    """Path of a Chromium, or None."""
    return next((found for name in _NAMES if (found := shutil.which(name))), None)


def print_pdf(page, target):
    """Path of the PDF made of an HTML file, or None where there is no browser. JetlibError if the browser fails."""
    browser = find_browser()
    if browser is None:
        return None
    page, target = Path(page).resolve(), Path(target).resolve()
    target.unlink(missing_ok=True)  # an old one must not pass for the new one
    with tempfile.TemporaryDirectory(prefix="jetlib-print-", ignore_cleanup_errors=True) as profile:
        command = [
            browser,
            "--headless",
            "--disable-gpu",
            "--no-first-run",
            "--disable-background-networking",
            f"--user-data-dir={profile}",
            "--no-pdf-header-footer",
            f"--print-to-pdf={target}",
            page.as_uri(),
        ]
        if hasattr(os, "geteuid") and os.geteuid() == 0:
            command.insert(1, "--no-sandbox")  # Chromium will not start for root otherwise
        try:
            done = subprocess.run(command, capture_output=True, text=True, timeout=_SECONDS, check=False)
        except subprocess.TimeoutExpired:
            raise JetlibError(
                f"{browser} took more than {_SECONDS} s over {page.name}; print the HTML by hand"
            ) from None
    if not target.is_file():
        last = (done.stderr.strip().splitlines() or ["no word why"])[-1]
        raise JetlibError(f"{browser} made no PDF of {page.name} ({last[:120]}); print the HTML by hand")
    return target
