"""From key press to changed picture in a real browser, and how long the course takes to open.

Run: python tests/benchmarks/latency.py [--start | --only-start | --only-open]

One JupyterLab on a copy of the course, one headless Chromium, as in the browser tests. For each console of each page
its first slider is moved 50 times by key; the page itself takes the time from the key's own time stamp to the first
frame painted after the picture's words changed. Then the slider is dragged through 100 quick moves, and the time from
the last of them to the last change of the picture is taken: a queue of stale pictures would show there. The table holds
the worst console of each page; the sentences after it hold each console.

Floors, in the same run: a bare widget echo (a slider whose value a label repeats) on the same page server, and
`canvas.draw()` of a matplotlib figure like the picture.

--start also sets a copy of the course up by the README's command, twice, and waits for the first console to answer. It
needs the packages on a warm cache or the internet, and some 400 MB of room.
"""

import contextlib
import importlib.util
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import nbformat
from ratios import Ratio, printed
from redraw import CONSOLES, bare_figure, floor

ROOT = Path(__file__).resolve().parents[2]
MOVES = 50
DRAGGED = 100
TURNS = 5
MEDIAN, HIGH, SETTLED = 80.0, 160.0, 320.0  # wanted, ms, on an idle machine with two cores

ECHO = """
import ipywidgets as widgets
slider = widgets.IntSlider(max=400, value=200, readout=False)
label = widgets.HTML()
def repeat(change):
    label.value = f'<div role="status">{change["new"]}</div>'
repeat({"new": slider.value})
slider.observe(repeat, names="value")
widgets.VBox([slider, label])
"""

WATCH = """
(box) => {
    const seen = {key: null, painted: [], changed: [], moves: []};
    const words = () => box.querySelector('svg[role=img]')?.getAttribute('aria-label')
        ?? box.querySelector('[role=status]')?.textContent;
    let before = words();
    box.addEventListener('keydown', event => { seen.key = event.timeStamp; }, true);
    for (const kind of ['mousemove', 'pointermove'])
        document.addEventListener(kind, event => { seen.moves.push(event.timeStamp); }, true);
    new MutationObserver(() => {
        const now = words();
        if (now === undefined || now === before) return;
        before = now;
        seen.changed.push(performance.now());
        const key = seen.key;
        seen.key = null;
        if (key === null) return;
        requestAnimationFrame(() => setTimeout(() => seen.painted.push(performance.now() - key), 0));
    }).observe(box, {subtree: true, childList: true, characterData: true, attributes: true});
    window.jetlibSeen = seen;
}
"""


def borrowed():
    """The browser tests' own JupyterLab, Chromium and notebook."""
    place = ROOT / "tests" / "browser" / "conftest.py"
    spec = importlib.util.spec_from_file_location("browser_conftest", place)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


class Folders:
    """Stands in for pytest's maker of folders."""

    def __init__(self, folder):
        self.folder = Path(folder)

    def mktemp(self, name):
        (self.folder / name).mkdir()
        return self.folder / name


def run_all(book):
    """Run a page that may have no button for it."""
    book.page.evaluate("() => window.jupyterapp.commands.execute('notebook:run-all-cells')")
    book.page.wait_for_function(
        "() => window.jupyterapp.shell.currentWidget.content.widgets"
        ".every(cell => cell.model.type !== 'code' || cell.model.executionCount !== null)",
        timeout=180_000,
    )
    book.course.wait_until_idle(book.stem)
    book.page.wait_for_timeout(500)


def live(book):
    """The consoles that show words and have a slider."""
    return [
        box
        for box in book.consoles().all()
        if box.locator("[role=slider]").count()
        and box.locator("[role=status]").count()
        and box.locator("[role=status]").first.inner_text()
    ]


def by_key(book, box):
    """Milliseconds from key to painted picture, of each of MOVES moves that changed it."""
    page, slider = book.page, box.locator("[role=slider]").first
    box.evaluate(WATCH)
    slider.scroll_into_view_if_needed()
    slider.focus()
    for move in range(-4, MOVES):
        if move == 0:
            page.evaluate("() => { window.jetlibSeen.painted.length = 0; }")
        count = page.evaluate("() => window.jetlibSeen.painted.length")
        page.keyboard.press("ArrowRight" if move % 2 else "ArrowLeft")
        with contextlib.suppress(Exception):  # at the end of its way a slider changes nothing
            page.wait_for_function(
                "count => window.jetlibSeen.painted.length > count", arg=count, timeout=3000, polling=10
            )
    return page.evaluate("() => window.jetlibSeen.painted")


def by_drag(book, box):
    """(ms from the last of DRAGGED quick moves to the last change of the picture, number of changes)."""
    page, slider = book.page, box.locator("[role=slider]").first
    slider.scroll_into_view_if_needed()
    handle = slider.bounding_box()
    track = box.locator(".noUi-target").first.bounding_box()
    x, y = handle["x"] + handle["width"] / 2, handle["y"] + handle["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.evaluate("() => { window.jetlibSeen.moves.length = 0; window.jetlibSeen.changed.length = 0; }")
    middle = track["x"] + track["width"] / 2
    end = track["x"] + track["width"] * (0.95 if x < middle else 0.05)  # towards the farther end
    for step in range(DRAGGED):  # there and back, so that no two moves are the same
        share = step / DRAGGED * 2.0
        page.mouse.move(x + (end - x) * (share if share <= 1.0 else 2.0 - share) + 0.5, y)
    page.mouse.up()
    page.wait_for_timeout(3000)
    last, changed, count = page.evaluate(
        "() => [Math.max(...jetlibSeen.moves), Math.max(...jetlibSeen.changed), jetlibSeen.changed.length]"
    )
    return max(changed - last, 0.0), count


def high(times):
    return statistics.quantiles(times, n=20)[-1]


def ratios(start=False, moves=True):
    """(Ratios, sentences about them). start: also of the course's start; moves: of the moves in the page."""
    from playwright.sync_api import sync_playwright

    borrow = borrowed()
    path = borrow.chromium_path()
    if path is None:
        return (), ("No Chromium on this machine: latency in the page was not measured.",)
    bare = 1000.0 * floor(bare_figure(*next(iter(CONSOLES.values()))[:2]))
    found, words = [], []
    with tempfile.TemporaryDirectory(prefix="jetlib-latency-", ignore_cleanup_errors=True) as folder:
        serving = borrow.course.__wrapped__(Folders(folder))
        course = next(serving)
        try:
            with sync_playwright() as playwright:
                chromium = playwright.chromium.launch(executable_path=path, args=["--no-sandbox", "--disable-gpu"])
                if moves:
                    found, words = _measured(borrow, course, chromium, bare)
                more = _opened(borrow, course, chromium)
                found, words = [*found, *more[0]], [*words, *more[1]]
                if start:
                    more = _started(borrow, chromium)
                    found += more[0]
                    words += more[1]
                chromium.close()
        finally:
            serving.close()
    return tuple(found), tuple(words)


def _measured(borrow, course, chromium, bare):
    cell = nbformat.v4.new_code_cell(ECHO)
    kernel = {"kernelspec": {"name": "python3", "display_name": "Python 3"}}  # without it the page asks for one
    nbformat.write(nbformat.v4.new_notebook(cells=[cell], metadata=kernel), course.folder / "lessons" / "echo.ipynb")
    found, words = [], []

    def opened(stem):
        context = chromium.new_context(viewport={"width": 1280, "height": 1000})
        began = time.perf_counter()
        page = context.new_page()
        page.goto(course.address(stem))
        with contextlib.suppress(Exception):
            page.wait_for_selector("img[src^='data:image/svg'], svg[role=img]", timeout=10_000)
        shown = time.perf_counter() - began
        page.close()
        course.end_kernels()  # the page had begun to run by itself; what is measured begins afresh
        return context, borrow.Notebook(context.new_page(), course, stem, plain=True), shown

    context, book, _ = opened("echo")
    run_all(book)
    echo = by_key(book, live(book)[0])
    context.close()
    base, base_high = statistics.median(echo), high(echo)
    words.append(
        f"Floors: bare widget echo {base:.0f} ms, 95th {base_high:.0f} ms; bare matplotlib draw {bare:.0f} ms."
    )
    every = []
    for stem in (path.stem for path in sorted((ROOT / "lessons").glob("*.ipynb"))):
        context, book, shown = opened(stem)
        words.append(f"{stem}: from opening the page to its first stored picture {shown:.1f} s.")
        began = time.perf_counter()
        run_all(book)
        words.append(f"{stem}: run from top to bottom in {time.perf_counter() - began - 0.5:.1f} s.")
        measured = []
        for number, box in enumerate(live(book), start=1):
            times = by_key(book, box)
            what = f"{stem}, console {number}"
            if len(times) < MOVES // 2:
                words.append(f"{what}: only {len(times)} moves changed the picture; not measured.")
                continue
            median, top = statistics.median(times), high(times)
            settled, drawn = by_drag(book, box)
            measured.append((median, top, settled))
            words.append(
                f"{what}: median {median:.0f} ms, {median / base:.2f} of the echo, 95th {top:.0f} ms; "
                f"{DRAGGED} quick moves drew {drawn} times, the last picture {settled:.0f} ms after the last move."
            )
        context.close()
        if measured:
            worst = [max(each) for each in zip(*measured, strict=True)]
            found.append(Ratio(f"key to picture, median, ms, worst console: {stem}", worst[0], MEDIAN))
            found.append(Ratio(f"key to picture, 95th percentile, ms, worst console: {stem}", worst[1], HIGH))
            every.append(worst)
    if every:
        median, _, settled = (max(each) for each in zip(*every, strict=True))
        found.append(Ratio("key to picture, median / (echo + bare draw), worst of all", median / (base + bare), 1.0))
        found.append(Ratio(f"{DRAGGED} quick moves: last move to last picture, ms, worst of all", settled, SETTLED))
    return found, words


TO_LIVE = 1.3  # wanted: from address to live console, over a bare notebook with one slider


def _opened(borrow, course, chromium):
    """From the address entered to a console that answers: the course's page against a bare notebook, run alike.

    Both are opened TURNS times by turns, in a fresh window each time; the bare one is run by the same extension, under
    the name of a page of the course, so that the only difference is what is on the page.
    """
    page, bare = "02_orifice_flow", "01_pump_and_gauge"
    kernel = {"kernelspec": {"name": "python3", "display_name": "Python 3"}}
    text = "import ipywidgets\nipywidgets.IntSlider(description='bare')"
    held = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(text)], metadata=kernel)
    nbformat.write(held, course.folder / "lessons" / f"{bare}.ipynb")
    sign = "from nbformat.sign import TrustNotebookApp as app; app.launch_instance()"
    paths = [str(course.folder / "lessons" / f"{stem}.ipynb") for stem in (page, bare)]
    subprocess.run([sys.executable, "-c", sign, *paths], env=course.env, check=True, capture_output=True)
    taken = {page: [], bare: []}
    for _ in range(TURNS):
        for stem, seconds in taken.items():
            for session in course.ask("api/sessions"):
                course.ask(f"api/sessions/{session['id']}", "DELETE")
            context = chromium.new_context(viewport={"width": 1366, "height": 768})
            window = context.new_page()
            window.set_default_timeout(120_000)
            began = time.perf_counter()
            window.goto(course.address(stem))
            window.wait_for_selector(".jp-NotebookPanel:not(.lm-mod-hidden) [role=slider]", state="attached")
            seconds.append(time.perf_counter() - began)
            context.close()
    ours, floor_of_it = (statistics.median(each) for each in taken.values())
    words = [f"From address to first live console: lesson 02 {ours:.1f} s, a bare notebook {floor_of_it:.1f} s."]
    return [Ratio("address to first live console / bare notebook with a slider", ours / floor_of_it, TO_LIVE)], words


def _started(borrow, chromium):
    """The README's command in a copy of the course, for the first and the second time, to a console that answers."""
    found, words = [], []
    with tempfile.TemporaryDirectory(prefix="jetlib-start-", ignore_cleanup_errors=True) as folder:
        course = Path(folder) / "course"
        course.mkdir()
        for part in ("lessons", "jetlib", "data", "tests/published", "tests/independent"):
            ignored = shutil.ignore_patterns("__pycache__", ".ipynb_checkpoints")
            shutil.copytree(ROOT / part, course / part, ignore=ignored)
        for name in ("requirements.txt", "README.md"):
            shutil.copyfile(ROOT / name, course / name)
        for turn in ("first", "second"):
            began = time.perf_counter()
            command = [sys.executable, "lessons/start.py", "--no-browser", "02"]
            env = {**os.environ, "JETLIB_HOME": str(Path(folder) / "progress"), "PYTHONUNBUFFERED": "1"}
            process = subprocess.Popen(command, cwd=course, env=env, stdout=subprocess.PIPE, text=True)
            try:
                address = next((line.strip() for line in process.stdout if "/lab/tree/" in line), None)
                if address is None:
                    words.append(f"The {turn} start failed: the course did not say that it is open.")
                    break
                served = time.perf_counter() - began
                page = chromium.new_page(viewport={"width": 1280, "height": 1000})
                page.set_default_timeout(120_000)
                page.goto(address)
                page.wait_for_selector("img[src^='data:image/svg'][alt]")
                pictured = time.perf_counter() - began
                clicks = 0
                while not page.locator("svg[role=img]").count() and clicks < 20:
                    # a press before the kernel is there does nothing: pressed again, as a reader would
                    page.locator("button[data-commandlinker-command='notebook:run-all-cells']").first.click()
                    clicks += 1
                    with contextlib.suppress(Exception):
                        page.wait_for_selector("svg[role=img]", timeout=4000)
                page.wait_for_selector("svg[role=img]", timeout=1000)
                used = time.perf_counter() - began
                page.close()
            finally:
                process.terminate()
                process.wait(30)
            words.append(
                f"The {turn} start: page address after {served:.1f} s, first picture after {pictured:.1f} s, "
                f"first live console after {used:.1f} s and {clicks} presses of its button."
            )
            found.append(Ratio(f"{turn} start by the README's command to a live console, s", used))
    return found, words


if __name__ == "__main__":
    begin = {"--start", "--only-start"} & set(sys.argv)
    print(printed(*ratios(start=bool(begin), moves=not {"--only-start", "--only-open"} & set(sys.argv))))
