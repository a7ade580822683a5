"""One JupyterLab on a copy of the course, one Chromium, shared by every browser test."""

import contextlib
import json
import os
import secrets
import shutil
import socket
import subprocess
import sys
import time
from pathlib import Path
from urllib import request

import pytest

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT / "lessons"))
sys.path.insert(0, str(Path(__file__).parent))
ARTEFACTS = ROOT / ".artifacts"


def chromium_path():
    """Path of a Chromium, or None."""
    return next(
        (found for name in ("chromium", "chromium-browser", "google-chrome") if (found := shutil.which(name))), None
    )


@pytest.fixture(scope="session")
def browser():
    path = chromium_path()
    if path is None:
        if os.environ.get("JETLIB_REQUIRE_BROWSER"):
            pytest.fail("no Chromium on this machine, and JETLIB_REQUIRE_BROWSER asks for one")
        pytest.skip("no Chromium on this machine: install Debian's chromium to run the browser tests")
    from playwright.sync_api import sync_playwright

    quiet = [
        "--no-sandbox",
        "--disable-gpu",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
    ]
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=path, args=[*quiet, "--no-first-run"])
        yield chromium
        chromium.close()


class Course:
    """A running JupyterLab: its address, and pages opened in it."""

    def __init__(self, port, token, folder, home, env):
        self.url, self.token, self.folder, self.home, self.env = f"http://localhost:{port}", token, folder, home, env
        self.port, self.progress, self.server = port, home / "progress", None

    def start(self):
        """Start JupyterLab and wait until it answers."""
        command = [sys.executable, "-m", "jupyterlab", "--no-browser", f"--ServerApp.port={self.port}"]
        with open(self.home / "server.log", "a") as log:
            self.server = subprocess.Popen(
                [*command, "--ServerApp.port_retries=0"],
                cwd=self.folder,
                env=self.env,
                stdout=log,
                stderr=subprocess.STDOUT,
            )
        for _ in range(300):
            if self.server.poll() is not None:
                break
            try:
                return self.ask("api/status")
            except OSError:
                time.sleep(0.2)
        pytest.fail("JupyterLab does not run: " + (self.home / "server.log").read_text()[-2000:])

    def stop(self):
        """End JupyterLab and its kernels, as closing the course's window does."""
        self.server.terminate()
        self.server.wait(30)

    def address(self, stem):
        return f"{self.url}/lab/tree/lessons/{stem}.ipynb?token={self.token}&reset"

    def ask(self, path, method="GET", body=None):
        data = None if body is None else json.dumps(body).encode()
        headers = {"Authorization": f"token {self.token}"}
        asked = request.Request(f"{self.url}/{path}", data=data, headers=headers, method=method)
        with request.build_opener(request.ProxyHandler({})).open(asked, timeout=10) as answer:
            return json.loads(answer.read() or "null")

    def end_kernels(self, but=None):
        """End every kernel but that of one page."""
        for session in self.ask("api/sessions"):
            if but is None or not session["path"].endswith(f"/{but}.ipynb"):
                self.ask(f"api/sessions/{session['id']}", "DELETE")

    def begin_afresh(self):
        """End every kernel, forget what was learned, and put the notebooks back as they are stored."""
        self.end_kernels()
        shutil.rmtree(self.progress, ignore_errors=True)
        for path in (ROOT / "lessons").glob("*.ipynb"):
            shutil.copyfile(path, self.folder / "lessons" / path.name)

    def wait_until_idle(self, stem, seconds=90):
        """Wait for the notebook's kernel, by the server's own word: the page says idle before a kernel exists."""
        until = time.monotonic() + seconds
        while time.monotonic() < until:
            states = [
                s["kernel"]["execution_state"] for s in self.ask("api/sessions") if s["path"].endswith(f"/{stem}.ipynb")
            ]
            if states == ["idle"]:
                return
            time.sleep(0.2)
        raise TimeoutError(f"the kernel of {stem} is {states} after {seconds} s")


@pytest.fixture(scope="session")
def course(tmp_path_factory):
    import start_settings

    folder = tmp_path_factory.mktemp("course")
    for part in ("lessons", "data", "tests/published", "tests/independent"):
        shutil.copytree(ROOT / part, folder / part, ignore=shutil.ignore_patterns("__pycache__", ".ipynb_checkpoints"))
    home = tmp_path_factory.mktemp("home")
    settings = {
        "config/jupyter_server_config.json": json.dumps(start_settings.PAGE_SETTINGS),
        "config/jupyter_server_config.py": start_settings.server_config(folder)
        + f"c.LabApp.app_settings_dir = {str(home / 'app')!r}\nc.LabApp.expose_app_in_browser = True\n",
        "app/overrides.json": json.dumps(start_settings.lab_overrides()),
        "ipython/profile_default/ipython_kernel_config.py": start_settings.KERNEL_CONFIG,
    }
    for name, text in settings.items():
        (home / name).parent.mkdir(parents=True, exist_ok=True)
        (home / name).write_text(text)
    start_settings.lay_out_page(ROOT, home / "data")
    token = secrets.token_hex(16)
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    places = {
        "JUPYTER_CONFIG_DIR": "config",
        "JUPYTER_DATA_DIR": "data",
        "JUPYTER_RUNTIME_DIR": "runtime",
        "JUPYTERLAB_SETTINGS_DIR": "settings",
        "JUPYTERLAB_WORKSPACES_DIR": "workspaces",
        "IPYTHONDIR": "ipython",
        "JETLIB_HOME": "progress",
        "JETLIB_VOTES": "votes",
        "JETLIB_VOTE_FILE": "votes/seat01/vote.json",
    }
    for name in ("asked", "seat01"):  # the trainer's machine, and a seat, in one
        (home / "votes" / name).mkdir(parents=True)
    env = {**os.environ, **{name: str(home / part) for name, part in places.items()}, "JUPYTER_TOKEN": token}
    env["JUPYTER_PREFER_ENV_PATH"] = "0"  # the extension as it is now, not the one that the last start laid out
    sign = "from nbformat.sign import TrustNotebookApp as app; app.launch_instance()"
    notebooks = [str(path) for path in (folder / "lessons").glob("*.ipynb")]
    subprocess.run([sys.executable, "-c", sign, *notebooks], env=env, check=True, capture_output=True)
    found = Course(port, token, folder, home, env)
    try:
        found.start()
        yield found
    finally:  # the benchmarks close this without going on
        found.stop()


#: An extension of that name that does nothing: what stays of the course's own where it is not installed.
NO_EXTENSION = """(window._JUPYTERLAB ??= {})["jetlib-page"] = {
  init() {}, get: async () => () => ({__esModule: true, default: []}),
};"""


#: Whether each code cell of the notebook in front has run, JavaScript.
ALL_HAVE_RUN = (
    "window.jupyterapp?.shell.currentWidget?.content?.widgets"
    "?.every(cell => cell.model.type !== 'code' || cell.model.executionCount !== null)"
)
CLOSE_THE_OTHERS = """() => [...window.jupyterapp.shell.widgets('main')]
    .filter(each => each !== window.jupyterapp.shell.currentWidget).forEach(each => each.dispose())"""


#: ms from one look at the page to the next; without it the browser would look, and draw, 60 times a second.
POLLING = 100


#: Until the page has been laid out for its window: what is changed in one frame is drawn in the next.
LAID_OUT = "() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done, 50))))"


class Notebook:
    """One notebook open in the browser, run from top to bottom."""

    def __init__(self, page, course, stem, plain):
        self.page, self.course, self.stem, self.plain = page, course, stem, plain
        self.problems = []
        page.on("console", self._said)
        page.on("pageerror", lambda error: self.problems.append(f"{error} {error.stack}"))
        page.set_default_timeout(90_000)  # nobody waits where it is there at once
        if plain:  # somebody's own JupyterLab, which knows nothing of this course
            page.route(
                "**/jetlib-page/**", lambda route: route.fulfill(body=NO_EXTENSION, content_type="text/javascript")
            )
        page.goto(course.address(stem))
        page.wait_for_selector(".jp-NotebookPanel:not(.lm-mod-hidden) .jp-Cell")
        if plain:
            course.wait_until_idle(stem)

    def _said(self, message):
        """Keep what the page complains of."""
        if message.type == "error":
            self.problems.append(message.text)

    def wait_until_ready(self):
        """Wait for the page's own word that all of it is alive."""
        self.page.wait_for_function(
            f"() => document.querySelector('#course-bar .course-line').textContent === 'Ready' && {ALL_HAVE_RUN}",
            timeout=180_000,
            polling=POLLING,
        )
        self.course.wait_until_idle(self.stem)
        self.page.wait_for_timeout(500)

    def wait_until_in_front(self, stem):
        """Wait until this page is the one that is read, and the address says so."""
        self.page.wait_for_function(
            f"() => window.jupyterapp.shell.currentWidget?.context?.path.endsWith('/{stem}.ipynb')"
            f" && location.pathname.endsWith('/{stem}.ipynb') && document.querySelector('#course-page h1')"
        )
        self.stem = stem

    def turn_to(self, stem, deeper=True):
        """Another page of the course in the same tab, by the bar's list. Those behind the one in front are closed.

        deeper: whether to open what is folded on it.
        """
        if stem != self.stem:
            self.page.evaluate(CLOSE_THE_OTHERS)
            self.course.end_kernels(but=self.stem)
            bar = self.page.locator("#course-bar")
            bar.get_by_text("Contents").click()
            bar.locator(f"li [data-stem='{stem}']").click()
            self.wait_until_in_front(stem)
        self.problems.clear()
        self.wait_until_ready()
        if deeper:
            self.unfold()

    def unfold(self):
        """Open what goes deeper, where it is folded, without scrolling to it."""
        self.panel.locator(".course-deeper[aria-expanded=false]").evaluate_all("all => all.forEach(e => e.click())")

    def use_units(self, system):
        """ "US" or "metric", by the one switch that all on the page follows."""
        switch = ".course-follows" if self.plain else ".course-units"
        self.page.locator(f"{switch}:visible").get_by_role("button", name=system).click()

    def run_all(self):
        """Wait until the page has come alive by itself; where nothing does that, press its own button.

        The stored outputs are cleared first, or their numbers would say that all had run already.
        """
        if not self.plain:
            self.wait_until_ready()
            return
        if not self.page.locator(".jp-CodeCell").count():
            return  # a page of words only
        self.page.evaluate("() => window.jupyterapp.commands.execute('notebook:clear-all-cell-outputs')")
        self.page.locator("button[data-commandlinker-command='notebook:run-all-cells']").first.click()
        self.page.wait_for_function(f"() => {ALL_HAVE_RUN}", timeout=180_000, polling=POLLING)
        self.course.wait_until_idle(self.stem)
        self.page.wait_for_timeout(500)

    def use_theme(self, name):
        """ "Light" or "Dark", by JupyterLab's own command."""
        self.page.evaluate(
            "theme => window.jupyterapp.commands.execute('apputils:change-theme', {theme})", f"JupyterLab {name}"
        )
        self.page.wait_for_selector(f"body[data-jp-theme-light='{str(name == 'Light').lower()}']", state="attached")
        self.page.wait_for_timeout(500)

    def theme(self):
        """ "Light" or "Dark"."""
        return "Light" if self.page.locator("body").get_attribute("data-jp-theme-light") == "true" else "Dark"

    def resize(self, width, height):
        """Give the window another size, CSS pixels, and wait until the page is laid out for it."""
        self.page.set_viewport_size({"width": width, "height": height})
        self.page.evaluate(LAID_OUT)

    @contextlib.contextmanager
    def other_windows(self):
        """What gives the page another window: width and height in CSS pixels; touched: that of a phone or tablet.

        At the end it has its usual one again.
        """
        usual, debugger = self.page.viewport_size, self.page.context.new_cdp_session(self.page)

        def look_through(width, height, touched=False):
            fingers = {"enabled": touched, "maxTouchPoints": 5 if touched else 1}
            debugger.send("Emulation.setTouchEmulationEnabled", fingers)
            self.resize(width, height)

        try:
            yield look_through
        finally:
            debugger.send("Emulation.setTouchEmulationEnabled", {"enabled": False})
            debugger.detach()
            self.page.set_viewport_size(usual)

    @property
    def panel(self):
        return self.page.locator(".jp-NotebookPanel:not(.lm-mod-hidden)")

    def consoles(self):
        """The boxes of the live consoles, in order."""
        return self.panel.locator(
            ".jp-OutputArea-output > .widget-vbox, .jp-OutputArea-output .jupyter-widgets-view > .widget-vbox"
        )

    def errors(self):
        """Error and warning text in the outputs."""
        kinds = (f"[data-mime-type='application/vnd.jupyter.{kind}']" for kind in ("stderr", "error"))
        bad = self.panel.locator(", ".join(kinds))
        return bad.all_text_contents()

    def picture(self, name):
        """Store what is on screen for people to look at."""
        ARTEFACTS.mkdir(exist_ok=True)
        self.page.screenshot(path=ARTEFACTS / f"{self.stem}-{name}.png")


@pytest.fixture
def open_notebook(browser, course):
    context = browser.new_context(viewport={"width": 1280, "height": 1000})
    course.begin_afresh()

    def opened(stem, plain=True):
        return Notebook(context.new_page(), course, stem, plain)

    yield opened
    context.close()


@pytest.fixture(scope="session")
def open_afresh(browser, course):
    """Open a page in a window of its own, for a learner who begins; `page.context.close()` ends it."""

    def opened(stem, plain):
        context = browser.new_context(viewport={"width": 1280, "height": 1000}, reduced_motion="reduce")
        course.begin_afresh()
        return Notebook(context.new_page(), course, stem, plain)

    return opened


@pytest.fixture(scope="module")
def tab(open_afresh):
    """The course in one tab, with the units chosen as the first start asks: what `turn_to` goes on from.

    Its system asks for less motion, which spares the tests' machine the drawing of some hundred frames a picture.
    """
    book = open_afresh("00_start_here", plain=False)
    book.page.locator("#course-ask").get_by_role("button", name="US").click()
    book.wait_until_ready()
    yield book
    book.page.context.close()
