"""A document to print: its parts, what its footer says, and how it comes to disk, as HTML and by a Chromium as PDF."""

import os
import re
import shutil
import subprocess
import tempfile
from dataclasses import dataclass
from pathlib import Path

import jetlib
from jetlib.errors import JetlibError
from jetlib.paper.page.style import STYLE, fill, font_faces
from jetlib.units import SYSTEMS
from jetlib.units.refusal import cut

#: What CSS calls a paper size.
PAPERS = {"A4": "A4", "Letter": "letter", "A5": "A5"}
INJECTION = (
    "High-pressure water goes through gloves and skin, and the wound looks like a pinprick. Go to a hospital at "
    "once and say: high-pressure water injection, with dirty drain water. Never put a hand near a jet or feel for a "
    "leak."
)
WHIPS = (
    "A nozzle runs only inside the pipe: in the open it whips. Stop the pump and relieve the pressure before you "
    "touch a nozzle or a coupling. Wear eye and face protection, waterproof gloves and boots."
)
MANUAL = "The machine's manual, local codes and a licensed operator come before anything printed here."
CAUTIONS = (INJECTION, WHIPS, MANUAL)
NO_SEED = "the same for everybody"
_BROWSERS = ("chromium", "chromium-browser", "google-chrome", "chrome", "msedge")
_SECONDS = 120
_FILE = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]*")
_FOREIGN = re.compile(
    r"<\s*(script|iframe|object|embed|link|base|form)\b|\son\w+\s*=\s*[\"']|javascript:"
    r"|(?:src|href|srcset|poster|data)\s*=\s*[\"']?\s*(?:https?:|file:|//)|url\(\s*[\"']?\s*(?:https?:|file:|//)|@import",
    re.IGNORECASE,
)


@dataclass(frozen=True)
class Section:
    """A part that begins on a page of its own and has a footer of its own.

    body: HTML. source: where its numbers come from, in words. seed: of what was drawn; None where nothing was.
    card: set close, with narrow margins. named: somebody writes a name on each of its pages.
    """

    title: str
    body: str
    source: str
    seed: int | None = None
    lead: str = ""
    card: bool = False
    named: bool = False


@dataclass(frozen=True)
class Document:
    """Something to print. name: of its file, without ending. system: "US" or "metric"; paper: a key of PAPERS."""

    name: str
    sections: tuple
    system: str = "US"
    paper: str = "A4"

    def __post_init__(self):
        require(self.system, self.paper)
        if not _FILE.fullmatch(self.name):
            raise JetlibError(f"name is {cut(self.name)}; write letters, digits, dots and dashes: handout-02")
        if not self.sections:
            raise JetlibError("a document needs a section; write Document(name, (Section(title, body, source),))")

    def footer(self, section):
        """What the foot of each page of a section says."""
        seed = NO_SEED if section.seed is None else f"seed {section.seed}"
        return (
            f"{section.title} | {seed} | jetlib {jetlib.__version__} | {self.system} units | Numbers: {section.source}"
        )

    def html(self):
        """The whole page as text. Raises JetlibError if it would run code or fetch anything when opened."""
        size = PAPERS[self.paper]
        page = fill("page", document=self, faces=font_faces(), style=STYLE, size=size, in_css=_in_css)
        if found := _FOREIGN.search(page):
            raise JetlibError(f"{self.name} holds {found[0].strip()!r}; paper holds no code and fetches nothing")
        return page


def require(system, paper):
    """JetlibError unless both are known."""
    if system not in SYSTEMS:
        raise JetlibError(f'system is {cut(system)}; write "US" or "metric"')
    if paper not in PAPERS:
        raise JetlibError(f'paper is {cut(paper)}; write "A4", "Letter" or "A5"')


def write(document, folder=".", *, pdf=True):
    """Paths (a list) of what was written in `folder`: the HTML always, the PDF too where a browser is found.

    pdf: False for HTML only. Raises JetlibError if the folder cannot be written to, or the browser fails.
    """
    folder = Path(folder)
    page = folder / f"{document.name}.html"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        page.write_text(document.html(), encoding="utf-8")
    except OSError as error:
        raise JetlibError(f"{page} cannot be written ({error.strerror}); write --out with a folder of yours") from None
    made = print_pdf(page, page.with_suffix(".pdf")) if pdf else None
    return [page] if made is None else [page, made]


def find_browser():
    """Path of a Chromium, or None."""
    return next((found for name in _BROWSERS if (found := shutil.which(name))), None)


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


def _in_css(words):
    """Text as the inside of a CSS string within a style element: whatever could end either is written as its code."""
    return "".join(each if each.isalnum() or each in " .,:;|()+-'°%" else f"\\{ord(each):06x}" for each in words)
